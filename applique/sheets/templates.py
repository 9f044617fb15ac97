"""The template files: every shape at true size, right way round or mirrored."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from applique.geometry.outline import Contour, Outline
from applique.geometry.place import Place
from applique.geometry.points import Matrix, Point, meet, middle_of, point_under
from applique.paging import (
    LEAN_ROOM,
    TICK,
    TICK_GAP,
    TICK_NUMBER,
    LabelSpot,
    PartTag,
    SheetItem,
    TiledTemplate,
    TileMarks,
    Tiling,
    label_size,
    lean_boxes,
    middle_tick,
)
from applique.pattern import Pattern
from applique.pieces import Template
from applique.sheets.first_page import first_page, join_mark, tile_map
from applique.sheets.frame import POINTS, Sheet
from applique.sheets.strokes import (
    BASELINE,
    BOLD,
    CUT,
    FINISHED,
    HEAVY,
    HOLLOW,
    INK,
    MOUTH,
    QUIET,
    SEAM,
    THIN,
    arrow_on,
    arrow_up,
    dashed_line,
    dotted_to,
    line_on,
    outline_on,
)
from applique.units import Units
from applique.words.sheets import grouped_said
from applique.words.templates import (
    TURNED_SEVERAL,
    TemplateFile,
    end_off_said,
    join_said,
    numbered,
    page_bookmark,
    template_file,
    tile_bookmark,
    tile_note,
)

__all__ = ["draw_seams", "draw_templates", "template_texts", "templates_pdf"]

_LEADING: Final = 1.3
_SEAM_WORDS: Final = 7.0
_BASELINE_SHARE: Final = 0.78
"""Where the baseline of a label's line stands below its top, as a share of its size."""


def templates_pdf(pattern: Pattern, *, mirrored: bool) -> bytes:
    """A template file as PDF, mirror image or the right way round; what it is for goes by the method."""
    tell = pattern.speech.tell
    file = template_file(pattern.design, mirrored=mirrored, neighbors=pattern.sheets.has_neighbors)
    sheet = Sheet(
        pattern,
        subject=tell(file.subject),
        method=tell(file.line),
        page_count=pattern.sheets.page_count + 1,
        texts=template_texts(pattern, file),
        mirrored=mirrored,
    )
    first_page(sheet, pattern, file, pattern.notices)
    draw_templates(sheet, pattern)
    return sheet.finish()


def draw_templates(sheet: Sheet, pattern: Pattern) -> None:
    """Every page of templates, next on `sheet`."""
    for one in pattern.sheets.in_order:
        if isinstance(one, TiledTemplate):
            _draw_tiles(sheet, pattern, one)
            continue
        names = [numbered(pattern.template(item.template)) for item in one.items]
        sheet.begin(sheet.tell(page_bookmark(sheet.page + 1, names)))
        for item in one.items:
            _draw_item(sheet, pattern.template(item.template), item, pattern.design.units)


def template_texts(pattern: Pattern, file: TemplateFile) -> tuple[str, ...]:
    """The texts of the file that the maker or a translator wrote, so that their characters are embedded."""
    tell = pattern.speech.tell
    fabrics = [use.fabric.name for template in pattern.templates for use in template.uses]
    letters = [template.text for template in pattern.templates]
    notices = map(tell, grouped_said(pattern.notices))
    labels = [line for one in pattern.sheets.tiled for label in one.labels for line in label.lines]
    on_pages = [item.label for page in pattern.sheets.pages for item in page.items]
    labels += [marks.word for one in pattern.sheets.tiled for marks in one.marks]
    labels += [word.text for page in pattern.sheets.pages for item in page.items for word in item.words]
    labels += [line for label in on_pages for one in (label, *label.parts) for line in one.lines]
    return (*letters, *fabrics, *notices, *labels, *map(tell, (*file.steps, file.cautions)))


def _placed(place: Place, sheet: Sheet) -> Matrix:
    """From a template's own frame to points: turned, moved to its place, mirrored if the sheet is."""
    a, _, _, d, e, f = sheet.to_paper()
    across, up, along, high, x, y = place.matrix
    return (a * across, d * up, a * along, d * high, a * x + e, d * y + f)


def _draw_item(sheet: Sheet, template: Template, item: SheetItem, units: Units) -> None:
    canvas, matrix = sheet.canvas, _placed(item.place, sheet)
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(CUT)
    outline_on(canvas, template.outline.transformed(matrix), stroke=True)
    _other_lines(sheet, template, matrix)
    if template.letter:
        _baseline_ticks(sheet, template, matrix, units)
    for label in (item.label, *item.label.parts):
        _draw_label(sheet, label, matrix, item.place.turn_deg)
    for tag in item.label.tags:
        _draw_tag(sheet, tag, matrix, item.place.turn_deg)
    for word in item.words:
        x, y = point_under(sheet.to_paper(), middle_of(word.box))
        sheet.letters.draw(word.text, x, y - _SEAM_WORDS * 0.34, _SEAM_WORDS, anchor="middle")


def _other_lines(sheet: Sheet, template: Template, matrix: Matrix) -> None:
    """The cut line of a turned edge with its clips, notches and mouths, the inner line of a ring of fusible, and the
    finished edge of the panel where a letter runs off it."""
    canvas = sheet.canvas
    canvas.setStrokeGray(QUIET)
    for line in _quiet_lines(template):
        canvas.setLineWidth(line.width)
        canvas.setDash(list(line.dashes))
        outline_on(canvas, line.outline.transformed(matrix), stroke=True, closed=line.closed)
    canvas.setDash()
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(CUT)


@dataclass(frozen=True, slots=True, kw_only=True)
class _QuietLine:
    """A line of a template in gray: solid where scissors go."""

    outline: Outline
    width: float = THIN
    dashes: tuple[float, ...] = ()
    closed: bool = True


def _quiet_lines(template: Template) -> Iterator[_QuietLine]:
    """Every line of a template beside its finished edge."""
    if template.turned is not None:
        yield _QuietLine(outline=template.turned.outline)
        yield _QuietLine(outline=_through(template.turned.marks))
        yield _QuietLine(outline=_through(template.turned.mouths), width=MOUTH, closed=False)
    if template.ring:
        yield _QuietLine(outline=template.ring, width=HEAVY, dashes=HOLLOW)
    if template.off is not None:
        yield _QuietLine(outline=_through(template.off.seams), dashes=FINISHED, closed=False)


def _through(lines: Sequence[Sequence[Point]]) -> Outline:
    """Lines through points as something that can be drawn."""
    contours = [Contour(start=line[0], segments=tuple((point,) for point in line[1:])) for line in lines]
    return Outline(contours=tuple(contours))


def _baseline_ticks(sheet: Sheet, template: Template, matrix: Matrix, units: Units) -> None:
    x0, _, x1, _ = template.outermost.bounds
    for near, far in ((x0 - TICK_GAP, x0 - TICK_GAP - TICK), (x1 + TICK_GAP, x1 + TICK_GAP + TICK)):
        start, end = point_under(matrix, (near, 0.0)), point_under(matrix, (far, 0.0))
        dashed_line(sheet.canvas, start, end, dashes=BASELINE)
        x, y = point_under(matrix, ((near + far) / 2, TICK_NUMBER))
        sheet.canvas.setFillGray(INK)
        sheet.letters.draw(str(template.number), x, y - _SEAM_WORDS * 0.34, _SEAM_WORDS, anchor="middle")
    if template.leans:
        start, end = point_under(matrix, (x0 - TICK_GAP, 0.0)), point_under(matrix, (x1 + TICK_GAP, 0.0))
        dashed_line(sheet.canvas, start, end, dashes=BASELINE)
        _ends_said(sheet, template, matrix, units)
    low, high = (point_under(matrix, point) for point in middle_tick(template))
    line_on(sheet.canvas, low, high, width=THIN)


def _ends_said(sheet: Sheet, template: Template, matrix: Matrix, units: Units) -> None:
    """Below each end of the own baseline of a letter that is turned in its row, how far that lies off the baseline of
    the row; of a template that is cut more than once, where that stands."""
    half = LEAN_ROOM * POINTS / 2
    for index, room in enumerate(lean_boxes(template)):
        x, y = point_under(matrix, middle_of(room))
        if not (sheet.left + half - 1 < x < sheet.right - half + 1 and sheet.bottom < y < sheet.top):
            continue  # of a large letter: it is on the page that has this end
        alone = template.count == 1
        words = end_off_said(template.leans[0].above[index], units) if alone else TURNED_SEVERAL
        for count, line in enumerate(words):
            level = y + _SEAM_WORDS * (len(words) / 2 - count - 0.84)
            sheet.letters.draw(sheet.tell(line), x, level, _SEAM_WORDS, anchor="middle")


def _draw_label(sheet: Sheet, label: LabelSpot, matrix: Matrix, turn_deg: float) -> None:
    """The label in its box, never mirrored and never upside down; the grain arrow as the shape lies."""
    x, low, high = label.arrow
    arrow_on(sheet.canvas, point_under(matrix, (x, low)), point_under(matrix, (x, high)))
    x, low, high = label.up
    arrow_up(sheet.canvas, point_under(matrix, (x, low)), point_under(matrix, (x, high)))
    if label.leader is not None:
        start, end = (point_under(matrix, point) for point in label.leader)
        dotted_to(sheet.canvas, start, end)
    x0, y0, x1, y1 = label.box
    center = point_under(matrix, ((x0 + x1) / 2, (y0 + y1) / 2))
    canvas = sheet.canvas
    canvas.saveState()
    canvas.translate(*center)
    if round(turn_deg + label.turn_deg) % 180:
        canvas.rotate(90)
    canvas.setFillGray(INK)
    sizes = [label_size(index) * POINTS for index in range(len(label.lines))]
    y = sum(sizes) * _LEADING / 2
    for index, (line, size) in enumerate(zip(label.lines, sizes, strict=True)):
        sheet.letters.draw(
            line,
            0.0,
            y - size * _BASELINE_SHARE - size * (_LEADING - 1) / 2,
            size,
            bold=index == 0,
            anchor="middle",
        )
        y -= size * _LEADING
    canvas.restoreState()


def _draw_tag(sheet: Sheet, tag: PartTag, matrix: Matrix, turn_deg: float) -> None:
    """The name of a part in its box, never mirrored and never upside down."""
    canvas, size = sheet.canvas, label_size(1) * POINTS
    canvas.saveState()
    canvas.translate(*point_under(matrix, middle_of(tag.box)))
    if round(turn_deg + tag.turn_deg) % 180:
        canvas.rotate(90)
    canvas.setFillGray(INK)
    sheet.letters.draw(tag.name, 0.0, -size * 0.36, size, anchor="middle")
    canvas.restoreState()


# Letters larger than a page


def _draw_tiles(sheet: Sheet, pattern: Pattern, tiled: TiledTemplate) -> None:
    template, tiling = pattern.template(tiled.template), tiled.tiling
    name, copies = numbered(template), (tiled.copy, tiled.copies)
    turned = tiled.place.outline(template.outline)
    quiet = [replace(line, outline=tiled.place.outline(line.outline)) for line in _quiet_lines(template)]
    baseline = _baseline(template, tiled.place)
    alone = len(tiling.tiles) == 1
    tiles = zip(tiling.tiles, tiled.labels, tiled.marks, strict=True)
    for number, (tile, label, marks) in enumerate(tiles, 1):
        if alone:
            sheet.begin(sheet.tell(page_bookmark(sheet.page + 1, [name])))
        else:
            note = tile_note(name, tile.name, number, len(tiling.tiles), *copies)
            sheet.begin(sheet.tell(tile_bookmark(name, tile.name, *copies)), note=sheet.tell(note))
        a, _, _, d, e, f = sheet.to_paper()
        onto = (a, 0.0, 0.0, d, e - a * tile.window[0], f - d * tile.window[1])
        for line in quiet:
            _clipped(
                sheet,
                line.outline.transformed(onto),
                gray=QUIET,
                width=line.width,
                dashes=line.dashes,
                closed=line.closed,
            )
        _clipped(sheet, turned.transformed(onto))
        if template.letter and meet(baseline.bounds(), tile.window):
            _clipped(sheet, baseline.transformed(onto), width=THIN, dashes=BASELINE, closed=False)
        moved = Place(x=-tile.window[0], y=-tile.window[1], turn_deg=tiled.place.turn_deg)
        _draw_label(sheet, label, _placed(moved, sheet), tiled.place.turn_deg)
        for tag in label.tags:
            _draw_tag(sheet, tag, _placed(moved, sheet), tiled.place.turn_deg)
        if template.leans:
            _ends_said(sheet, template, _placed(moved, sheet), pattern.design.units)
        if not alone:
            draw_seams(sheet, tiling, tile.name, onto)
            at, size = sheet.map_box(tiling)
            stamp = f"map-of-template-{tiled.template}"
            tile_map(sheet, tiling, turned, at, size, first_page=None, shaded=tile.name, stamp=stamp)
            sheet.canvas.setFillGray(INK)
        _draw_marks(sheet, template, marks, onto)


def _draw_marks(sheet: Sheet, template: Template, marks: TileMarks, onto: Matrix) -> None:
    """The mark of a letter's middle, over the seam that it may lie on, and its word; the number of the baseline."""
    if marks.middle is not None:
        start, end = marks.middle
        line = Outline(contours=(Contour(start=start, segments=((end,),)),))
        width = BOLD if marks.bold else THIN
        _clipped(sheet, line.transformed(onto), width=width, closed=False)
    for words, room in ((marks.word, marks.word_box), (str(template.number), marks.number_box)):
        if room is not None:
            x, y = point_under(onto, middle_of(room))
            sheet.canvas.setFillGray(INK)
            sheet.letters.draw(words, x, y - _SEAM_WORDS * 0.34, _SEAM_WORDS, anchor="middle")


def _baseline(template: Template, place: Place) -> Outline:
    """The baseline of a large letter, from tick to tick, where the letter lies."""
    x0, _, x1, _ = template.outermost.bounds
    reach = TICK_GAP + TICK
    line = Contour(start=(x0 - reach, 0.0), segments=(((x1 + reach, 0.0),),))
    return place.outline(Outline(contours=(line,)))


def _clipped(
    sheet: Sheet,
    outline: Outline,
    *,
    gray: float = INK,
    width: float = CUT,
    dashes: tuple[float, ...] = (),
    closed: bool = True,
) -> None:
    canvas = sheet.canvas
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(sheet.left, sheet.bottom, sheet.right - sheet.left, sheet.top - sheet.bottom)
    canvas.clipPath(window, stroke=0, fill=0)
    canvas.setStrokeGray(gray)
    canvas.setLineWidth(width)
    canvas.setDash(list(dashes))
    outline_on(canvas, outline, stroke=True, closed=closed)
    canvas.restoreState()


def draw_seams(sheet: Sheet, tiling: Tiling, name: str, onto: Matrix) -> None:
    """The seams of a tile with those that join it, what is done at each, and the marks on them that both tiles have."""
    tile = next(tile for tile in tiling.tiles if tile.name == name)
    x0, y0, x1, y1 = tile.kept
    for join in tile.joins:
        start, end = (point_under(onto, point) for point in join.seam)
        dashed_line(sheet.canvas, start, end, width=HEAVY, gray=QUIET, dashes=SEAM)
        _seam_words(
            sheet, sheet.tell(join_said(join)), point_under(onto, join.at), upright=start[0] == end[0]
        )
        for mark in tiling.marks:
            if _on(mark, join.seam) and x0 <= mark[0] <= x1 and y0 <= mark[1] <= y1:
                join_mark(sheet, *point_under(onto, mark))


def _on(mark: Point, seam: tuple[Point, Point]) -> bool:
    """Whether a mark of a tiling is one of those on this seam."""
    (x0, y0), (x1, y1) = seam
    return abs(mark[0] - x0) < 1e-6 if x0 == x1 else y0 == y1 and abs(mark[1] - y0) < 1e-6


def _seam_words(sheet: Sheet, words: str, at: Point, *, upright: bool) -> None:
    """Words along a seam, in the middle of their line of 7 points at `at`."""
    canvas = sheet.canvas
    canvas.saveState()
    canvas.translate(*at)
    if upright:
        canvas.rotate(90)
    canvas.setFillGray(INK)
    sheet.letters.draw(words, 0.0, -_SEAM_WORDS * 0.34, _SEAM_WORDS, anchor="middle")
    canvas.restoreState()
