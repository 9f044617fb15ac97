"""The template files: every shape at true size, right way round or mirrored."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.geometry.outline import Contour, Outline
from applique.geometry.place import Place
from applique.geometry.points import Matrix, point_under
from applique.paging import TICK, TICK_GAP, LabelSpot, SheetItem, TiledTemplate, Tiling, label_size
from applique.pattern import Pattern
from applique.pieces import Template, TurnedEdge
from applique.sheets.first_page import draw_tile_map, first_page, join_mark
from applique.sheets.frame import POINTS, Sheet
from applique.sheets.strokes import CUT, DASHES, INK, QUIET, THIN, arrow_on, dashed_line, outline_on
from applique.words.sheets import notice_said
from applique.words.templates import (
    FREEZER_PAPER,
    TemplateFile,
    fusible_web,
    page_bookmark,
    tile_name,
    tile_note,
    uses_said,
)

__all__ = ["draw_seams", "draw_templates", "template_texts", "templates_pdf"]

_LEADING: Final = 1.3
_TILE_NAME: Final = 13.0
_TILE_USES: Final = 8.5
_BASELINE_SHARE: Final = 0.78
"""Where the baseline of a label's line stands below its top, as a share of its size."""


def templates_pdf(pattern: Pattern, *, mirrored: bool) -> bytes:
    """The template file as PDF: mirror image for fusible web, or the right way round for freezer paper."""
    design, tell = pattern.design, pattern.speech.tell
    file = fusible_web(design.fusible.rough_cut, design.units) if mirrored else FREEZER_PAPER
    sheet = Sheet(
        pattern,
        subject=tell(file.subject),
        method=tell(file.line),
        page_count=pattern.sheets.page_count + 1,
        texts=template_texts(pattern, file),
        mirrored=mirrored,
    )
    first_page(sheet, pattern, file)
    draw_templates(sheet, pattern)
    return sheet.finish()


def draw_templates(sheet: Sheet, pattern: Pattern) -> None:
    """Every page of templates, next on `sheet`."""
    for page in pattern.sheets.pages:
        names = [pattern.template(item.template).name for item in page.items]
        sheet.begin(sheet.tell(page_bookmark(sheet.page + 1, names)))
        for item in page.items:
            _draw_item(sheet, pattern.template(item.template), item)
    for tiled in pattern.sheets.tiled:
        _draw_tiles(sheet, pattern, tiled)


def template_texts(pattern: Pattern, file: TemplateFile) -> tuple[str, ...]:
    """The texts of the file that the maker or a translator wrote, so that their characters are embedded."""
    tell = pattern.speech.tell
    fabrics = [use.fabric.name for template in pattern.templates for use in template.uses]
    letters = [template.text for template in pattern.templates]
    notices = [tell(notice_said(notice)) for notice in pattern.notices]
    return (*letters, *fabrics, *notices, *map(tell, file.steps))


def _placed(place: Place, sheet: Sheet) -> Matrix:
    """From a template's own frame to points: turned, moved to its place, mirrored if the sheet is."""
    a, _, _, d, e, f = sheet.to_paper()
    across, up, along, high, x, y = place.matrix
    return (a * across, d * up, a * along, d * high, a * x + e, d * y + f)


def _draw_item(sheet: Sheet, template: Template, item: SheetItem) -> None:
    canvas, matrix = sheet.canvas, _placed(item.place, sheet)
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(CUT)
    outline_on(canvas, template.outline.transformed(matrix), stroke=True)
    _other_lines(sheet, template, matrix)
    if template.letter:
        _baseline_ticks(sheet, template, matrix)
    _draw_label(sheet, item.label, matrix, item.place.turn_deg)


def _other_lines(sheet: Sheet, template: Template, matrix: Matrix) -> None:
    """The cut line of a turned edge with its clips and notches, and the inner line of a ring of fusible."""
    canvas = sheet.canvas
    canvas.setStrokeGray(QUIET)
    canvas.setLineWidth(THIN)
    for outline, dashes in _quiet_outlines(template):
        canvas.setDash(*dashes)
        outline_on(canvas, outline.transformed(matrix), stroke=True)
    canvas.setDash()
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(CUT)


def _quiet_outlines(template: Template) -> Iterator[tuple[Outline, tuple[float, ...]]]:
    """Every line of a template beside its finished edge, and its dashes: solid where scissors go."""
    if template.turned is not None:
        yield template.turned.outline, ()
        yield _mark_outline(template.turned), ()
    if template.ring:
        yield template.ring, DASHES


def _mark_outline(turned: TurnedEdge) -> Outline:
    marks = [(mark[0], tuple((point,) for point in mark[1:])) for mark in turned.marks]
    return Outline(contours=tuple(Contour(start=start, segments=segments) for start, segments in marks))


def _baseline_ticks(sheet: Sheet, template: Template, matrix: Matrix) -> None:
    x0, _, x1, _ = template.outermost.bounds
    for near, far in ((x0 - TICK_GAP, x0 - TICK_GAP - TICK), (x1 + TICK_GAP, x1 + TICK_GAP + TICK)):
        dashed_line(sheet.canvas, point_under(matrix, (near, 0.0)), point_under(matrix, (far, 0.0)))


def _draw_label(sheet: Sheet, label: LabelSpot, matrix: Matrix, turn_deg: float) -> None:
    """The label in its box, never mirrored and never upside down; the grain arrow as the shape lies."""
    x, low, high = label.arrow
    arrow_on(sheet.canvas, point_under(matrix, (x, low)), point_under(matrix, (x, high)))
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


# Letters larger than a page


def _draw_tiles(sheet: Sheet, pattern: Pattern, tiled: TiledTemplate) -> None:
    template = pattern.template(tiled.template)
    uses = sheet.speech.listing(uses_said(template.uses))
    turned = tiled.place.outline(template.outline)
    quiet = [(tiled.place.outline(outline), dashes) for outline, dashes in _quiet_outlines(template)]
    for tile in tiled.tiling.tiles:
        name = sheet.tell(tile_name(template.name, tile.name))
        note = tile_note(template.name, tile.name, tiled.tiling.rows, tiled.tiling.columns)
        sheet.begin(name, level=0, note=sheet.tell(note))
        a, _, _, d, e, f = sheet.to_paper()
        onto = (a, 0.0, 0.0, d, e - a * tile.window[0], f - d * tile.window[1])
        for outline, dashes in quiet:
            _clipped(sheet, outline.transformed(onto), gray=QUIET, width=THIN, dashes=dashes)
        _clipped(sheet, turned.transformed(onto))
        draw_seams(sheet, tiled.tiling, tile.name, onto)
        _tile_grain(sheet, tiled)
        at, size = sheet.map_box(tiled.tiling)
        draw_tile_map(sheet, pattern, tiled, at, size, shaded=tile.name)
        sheet.canvas.setFillGray(INK)
        left = sheet.left + 30
        sheet.letters.draw(name, left, sheet.bottom + 10, _TILE_NAME, bold=True)
        left += sheet.letters.width(name, _TILE_NAME, bold=True) + 8
        said = sheet.letters.shortened(uses, _TILE_USES, sheet.right - left)
        sheet.letters.draw(said, left, sheet.bottom + 10, _TILE_USES)


def _clipped(
    sheet: Sheet,
    outline: Outline,
    *,
    gray: float = INK,
    width: float = CUT,
    dashes: tuple[float, ...] = (),
) -> None:
    canvas = sheet.canvas
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(sheet.left, sheet.bottom, sheet.right - sheet.left, sheet.top - sheet.bottom)
    canvas.clipPath(window, stroke=0, fill=0)
    canvas.setStrokeGray(gray)
    canvas.setLineWidth(width)
    canvas.setDash(*dashes)
    outline_on(canvas, outline, stroke=True)
    canvas.restoreState()


def draw_seams(sheet: Sheet, tiling: Tiling, name: str, onto: Matrix) -> None:
    """The trim lines and join marks that fall on a tile; its neighbors draw the same ones."""
    tile = next(tile for tile in tiling.tiles if tile.name == name)
    x0, y0, x1, y1 = tile.window
    for x in tiling.seams_x:
        if x0 < x < x1:
            dashed_line(sheet.canvas, point_under(onto, (x, y0)), point_under(onto, (x, y1)), gray=QUIET)
    for y in tiling.seams_y:
        if y0 < y < y1:
            dashed_line(sheet.canvas, point_under(onto, (x0, y)), point_under(onto, (x1, y)), gray=QUIET)
    for mark in tiling.marks:
        if x0 < mark[0] < x1 and y0 < mark[1] < y1:
            join_mark(sheet, *point_under(onto, mark))


def _tile_grain(sheet: Sheet, tiled: TiledTemplate) -> None:
    """The grain arrow of a tile, in its lower left corner, along the height of the letter as it lies."""
    x, y = sheet.left + 14, sheet.bottom + 8
    sideways = round(tiled.place.turn_deg) % 180 == 90
    arrow_on(
        sheet.canvas, (x - 8, y + 14) if sideways else (x, y), (x + 12, y + 14) if sideways else (x, y + 30)
    )
