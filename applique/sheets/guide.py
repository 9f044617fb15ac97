"""The placement guide: where each letter goes, first in a small drawing, then in a table.

The small drawing is to scale and says its scale; the optional last pages are the panel at full size.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from reportlab.pdfgen.canvas import Canvas

from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Matrix, meet, point_under
from applique.language import Message
from applique.marks import LetterMark, PanelLines, RowMark, drawing_scale, guide_items, panel_lines
from applique.pattern import Pattern
from applique.picture import Item, Part
from applique.sheets.first_page import heading, paragraphs, tile_map
from applique.sheets.frame import POINTS, Sheet
from applique.sheets.strokes import CUT, HAIR, INK, QUIET, THIN, dashed_path, line_on, outline_on
from applique.sheets.templates import draw_seams
from applique.units import as_length
from applique.words import guide as said
from applique.words.sheets import PEN_CAUTION, from_center, notice_said

__all__ = ["placement_guide_pdf"]

_BODY: Final = 8.5
_SMALL: Final = 7.0
_TINY: Final = 5.6
_NOTE: Final = 7.5
_ROW: Final = 12.5
_SIDE: Final = 62.0
"""Points beside the small drawing for the distances of the baselines."""
_NOTES: Final = 132.0
"""Points below the small drawing for what to mark."""
_TURNED_NOTE: Final = 26.0
"""Points more where something is turned."""
_TRIM_NOTE: Final = 24.0
"""Points more where the panel is trimmed after stitching."""
_MOST_NOTICES: Final = 4
"""Notices that have room below the drawing."""
_NOTICE: Final = 15.0
"""Points that a notice takes."""
_ABOVE: Final = 26.0
"""Points kept above the small drawing and between it and its notes."""
_BELOW_HEAD: Final = 24.0
"""Points from the head of the page to the small drawing."""
_PAST: Final = 6.0
"""Points that the center line goes on past the cut edge."""
_TABLE_GAP: Final = 26.0


def placement_guide_pdf(pattern: Pattern) -> bytes:
    """The placement guide as PDF: the panel to scale, the table, the full-size guide."""
    sheet = Sheet(
        pattern,
        subject=pattern.speech.tell(said.SUBJECT),
        method=pattern.speech.tell(said.METHOD),
        page_count=0,
        texts=_texts(pattern),
        mirrored=False,
    )
    columns = _columns(tuple(_entries(pattern, sheet)), sheet)
    tiles = pattern.guide.tiles if pattern.guide else ()
    sheet.page_count = 1 + math.ceil(len(columns) / 2) + len(tiles)
    _drawing_page(sheet, pattern)
    for index in range(0, len(columns), 2):
        _table_page(sheet, columns[index : index + 2])
    drawn = tuple(_drawn(pattern)) if tiles else ()
    for tile in tiles:
        _full_size_page(sheet, pattern, drawn, tile.name)
    return sheet.finish()


def _texts(pattern: Pattern) -> tuple[str, ...]:
    speech = pattern.speech
    names = [need.fabric for need in pattern.cloth]
    notices = [speech.tell(notice_said(notice)) for notice in pattern.notices]
    return (*(row.text for row in pattern.marks), *names, *notices, speech.tell(PEN_CAUTION))


# The small drawing


def _drawing_page(sheet: Sheet, pattern: Pattern) -> None:
    sheet.begin(sheet.tell(said.PANEL))
    notes = _NOTES + (_TURNED_NOTE if _is_turned(pattern) else 0.0)
    notes += _TRIM_NOTE if pattern.panel.trim else 0.0
    notices = _NOTICE * min(len(pattern.notices), _MOST_NOTICES)
    room = (sheet.right - sheet.left - 2 * _SIDE, sheet.top - sheet.bottom - notes - _ABOVE - notices)
    panel, lines = pattern.panel, panel_lines(pattern.panel)
    quilt_per_paper = drawing_scale(panel, (room[0] / POINTS, room[1] / POINTS))
    scale = POINTS / float(quilt_per_paper)
    x0, _, x1, y1 = lines.cut_edge
    onto: Matrix = (
        *(scale, 0.0, 0.0, scale),
        (sheet.left + sheet.right - scale * (x0 + x1)) / 2,
        sheet.top - _BELOW_HEAD - scale * y1,
    )
    _letters(sheet, pattern, onto)
    _panel_lines(sheet, pattern, onto, beyond=_PAST)
    for mark in pattern.marks:
        _row_marks(sheet, pattern, mark, onto, lines)
    words = said.scale_said(quilt_per_paper, panel, pattern.design.units)
    _what_to_mark(sheet, pattern, words, point_under(onto, lines.cut_edge[:2])[1] - 20)


def _letters(sheet: Sheet, pattern: Pattern, onto: Matrix) -> None:
    """The outline layer dashed, and on it the letters and other pieces in gray."""
    canvas = sheet.canvas
    canvas.setFillGray(0.86)
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(HAIR)
    for item in pattern.picture.on_panel(Part.OUTLINE, Part.LETTER):
        letter = item.part is Part.LETTER
        canvas.setDash(*(() if letter else (1.5, 1.5)))
        outline_on(canvas, item.laid.transformed(onto), fill=letter, stroke=True)
    canvas.setDash()
    canvas.setFillGray(INK)


def _panel_lines(sheet: Sheet, pattern: Pattern, onto: Matrix, *, beyond: float = 0.0) -> None:
    """The cut edge of the panel, where it is trimmed to after stitching, its finished edge, and its center line, which
    goes on for `beyond` points and, if it does, is named above them.
    """
    canvas, lines = sheet.canvas, panel_lines(pattern.panel)
    canvas.setLineWidth(THIN)
    edges = [(lines.cut_edge, INK, ()), (lines.finished_edge, QUIET, (2, 2))]
    if lines.trimmed_edge is not None:
        edges.insert(1, (lines.trimmed_edge, QUIET, (7, 3)))
    for edge, gray, dashes in edges:
        (x0, y0), (x1, y1) = point_under(onto, edge[:2]), point_under(onto, edge[2:])
        canvas.setStrokeGray(gray)
        canvas.setDash(*dashes)
        canvas.rect(x0, y0, x1 - x0, y1 - y0, fill=0, stroke=1)
    (x, low), (_, top) = (point_under(onto, point) for point in lines.center_line)
    canvas.setDash([9, 3, 2, 3])
    line_on(canvas, (x, low - beyond), (x, top + beyond), width=THIN)
    canvas.setDash()
    if beyond:
        sheet.letters.draw(sheet.tell(said.CENTER_LINE), x, top + beyond + 3, _SMALL, anchor="middle")


def _row_marks(sheet: Sheet, pattern: Pattern, mark: RowMark, onto: Matrix, lines: PanelLines) -> None:
    """A row's baseline with its distance from the cut top edge, and of a panel that is trimmed later from the finished
    one, ticks under its letters, and its two ends.

    Of one that does not stand level the numbers are in the table.
    """
    canvas = sheet.canvas
    left, right = (point_under(onto, (side, mark.height)) for side in (lines.cut_edge[0], lines.cut_edge[2]))
    path = [point_under(onto, point) for point in mark.baseline]
    beyond = _PAST - 1 if mark.level else 0.0
    first, last = (path[0][0] - beyond, path[0][1]), (path[-1][0] + beyond, path[-1][1])
    dashed_path(canvas, [first, *path[1:-1], last], gray=QUIET)
    sheet.letters.draw(sheet.speech.field(said.row_number(mark)), right[0] + 8, right[1] - 2.5, _BODY)
    for letter in mark.letters:
        x, y = point_under(onto, (letter.tick.x, letter.tick.y))
        tick = Place(x=x, y=y, turn_deg=letter.tick.turn_deg)
        line_on(canvas, tick.point((0.0, -1.0)), tick.point((0.0, -6.0)), width=THIN)
    if mark.level:
        words = _said(pattern, mark.baseline_from_top)
        sheet.letters.draw(words, left[0] - 8, left[1] - 2.5, _BODY, bold=True, anchor="end")
        if pattern.panel.trim:
            finished = sheet.tell(said.from_finished_said(mark, pattern.design.units))
            sheet.letters.draw(finished, left[0] - 8, left[1] - 2.5 - _BODY - 1.5, _SMALL, anchor="end")
        _edge_numbers(sheet, pattern, mark, (left[0] + right[0]) / 2, onto[0], left[1])


def _edge_numbers(
    sheet: Sheet, pattern: Pattern, mark: RowMark, center: float, scale: float, y: float
) -> None:
    """Each letter's left and right edge from the center line, where they fit under it; else the row's two ends.

    Letters too narrow for two numbers side by side, or too near for those of both, have them one above the other.
    """
    letters = [
        (m.left, m.right, _said(pattern, abs(m.left)), _said(pattern, abs(m.right))) for m in mark.letters
    ]
    widths = [
        (scale * (m[1] - m[0]), *(sheet.letters.width(words, _TINY) for words in m[2:])) for m in letters
    ]
    if mark.reaches_over:
        # The numbers of tilted letters would stand on each other.
        widths = [(0.0, low, high) for _, low, high in widths]
    apart = all(scale * (after[0] - before[1]) >= 2 for before, after in pairwise(letters))
    if apart and all(low + high + 4 <= room for room, low, high in widths):
        drops = (-12.0, -12.0)
    elif all(max(low, high) <= room for room, low, high in widths):
        drops = (-12.0, -19.0)
    elif widths and scale * (mark.right - mark.left) > 90:
        letters = [(mark.left, mark.right, _said(pattern, abs(mark.left)), _said(pattern, abs(mark.right)))]
        drops = (-12.0, -12.0)
    else:
        return
    for left, right, left_words, right_words in letters:
        _over_lines(sheet, left_words, center + scale * left, y + drops[0])
        wide = sheet.letters.width(right_words, _TINY)
        _over_lines(sheet, right_words, center + scale * right - wide, y + drops[1])


def _over_lines(sheet: Sheet, words: str, x: float, y: float) -> None:
    """A number on white, so that the center line does not run through it."""
    sheet.canvas.setFillGray(1.0)
    sheet.canvas.rect(x, y - 1.0, sheet.letters.width(words, _TINY), _TINY, fill=1, stroke=0)
    sheet.canvas.setFillGray(INK)
    sheet.letters.draw(words, x, y, _TINY)


def _what_to_mark(sheet: Sheet, pattern: Pattern, scale: Message, y: float) -> None:
    marks = said.what_to_mark(
        pattern.panel,
        pattern.design.units,
        on_outlines=pattern.guide is not None and bool(pattern.outlines),
        turned=_is_turned(pattern),
    )
    texts = [scale, *marks, *(notice_said(notice) for notice in pattern.notices[:_MOST_NOTICES])]
    if len(pattern.notices) > _MOST_NOTICES:
        texts.append(said.more_notices(len(pattern.notices) - _MOST_NOTICES))
    title, width = sheet.tell(said.WHAT_TO_MARK), sheet.right - sheet.left
    paragraphs(sheet, title, [sheet.tell(text) for text in texts], sheet.left, y, width)


def _is_turned(pattern: Pattern) -> bool:
    return any(mark.is_turned for mark in pattern.marks)


# The table


@dataclass(frozen=True, slots=True)
class _Entry:
    """One line of the table: a row's heading, or a letter's three distances."""

    words: tuple[str, ...]
    heading: bool


def _entries(pattern: Pattern, sheet: Sheet) -> Iterator[_Entry]:
    units, tell = pattern.design.units, sheet.tell

    def notes(text: Message) -> Iterator[_Entry]:
        for part in tell(text).split("\n"):
            for line in sheet.letters.wrapped(part, _NOTE, _column_width(sheet)):
                yield _Entry((line,), False)

    for mark in pattern.marks:
        yield _Entry((pattern.speech.field(said.row_heading(mark)), mark.fabric), True)
        yield from notes(said.baseline_said(mark, units, trimmed=bool(pattern.panel.trim)))
        yield _Entry(("", *map(tell, said.COLUMNS)), False)
        for letter in mark.letters:
            yield _Entry(_letter_words(pattern, letter), False)
            if not mark.level:
                yield from notes(said.tick_said(letter, units))
            if letter.turn_deg:
                yield from notes(said.turned_letter_said(letter, units))


def _column_width(sheet: Sheet) -> float:
    return (sheet.right - sheet.left - _TABLE_GAP) / 2


def _letter_words(pattern: Pattern, letter: LetterMark) -> tuple[str, ...]:
    places = (letter.left, letter.middle, letter.right)
    return (letter.text, *(pattern.speech.tell(from_center(x, pattern.design.units)) for x in places))


def _columns(entries: tuple[_Entry, ...], sheet: Sheet) -> list[list[_Entry]]:
    """The table cut into columns of a page's height; a heading never stands last in a column."""
    fitting = int((sheet.top - sheet.bottom - 34) // _ROW)
    columns: list[list[_Entry]] = [[]]
    for index, entry in enumerate(entries):
        needed = 4 if entry.heading else 1
        if len(columns[-1]) + min(needed, len(entries) - index) > fitting:
            columns.append([])
        if entry.heading and columns[-1]:
            columns[-1].append(_Entry((), False))
        columns[-1].append(entry)
    return columns


def _table_page(sheet: Sheet, columns: list[list[_Entry]]) -> None:
    sheet.begin(sheet.tell(said.TABLE))
    heading(sheet, sheet.tell(said.TABLE_TITLE), sheet.left, sheet.top - 8)
    width = _column_width(sheet)
    for index, column in enumerate(columns):
        x, y = sheet.left + index * (width + _TABLE_GAP), sheet.top - 34
        for entry in column:
            y -= _ROW
            _table_row(sheet, entry, x, y, width)


def _table_row(sheet: Sheet, entry: _Entry, x: float, y: float, width: float) -> None:
    letters, canvas = sheet.letters, sheet.canvas
    canvas.setFillGray(INK)
    if entry.heading:
        name, fabric = entry.words
        room = width - letters.width(fabric, _BODY) - 10
        letters.draw(letters.shortened(name, _BODY, room, bold=True), x, y + 3, _BODY, bold=True)
        letters.draw(fabric, x + width, y + 3, _BODY, anchor="end")
        line_on(canvas, (x, y), (x + width, y), width=THIN)
    elif len(entry.words) == 4:
        letters.draw(letters.shortened(entry.words[0], _BODY, 60, bold=True), x, y + 3, _BODY, bold=True)
        spread = ((x + 58 + (width - 58) / 3), (x + 58 + (width - 58) * 2 / 3), x + width)
        for words, end in zip(entry.words[1:], spread, strict=True):
            letters.draw(words, end, y + 3, _SMALL + 0.5, anchor="end")
        line_on(canvas, (x, y), (x + width, y), width=HAIR, gray=0.75)
    elif entry.words:
        canvas.setFillGray(QUIET)
        letters.draw(entry.words[0], x, y + 3, _NOTE)
        canvas.setFillGray(INK)


def _said(pattern: Pattern, length: float) -> str:
    return pattern.speech.measure(as_length(length, pattern.design.units, denominator=16))


# The panel at full size


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """An item of the picture where it lies on the panel, with its extent there."""

    item: Item
    outline: Outline
    extent: Bounds


def _drawn(pattern: Pattern) -> Iterator[_Drawn]:
    for item in guide_items(pattern.picture, pattern.quilting):
        yield _Drawn(item=item, outline=item.laid, extent=item.laid.bounds())


def _full_size_page(sheet: Sheet, pattern: Pattern, drawn: Sequence[_Drawn], name: str) -> None:
    guide = pattern.guide
    if guide is None:
        return
    tile = next(tile for tile in guide.tiles if tile.name == name)
    sheet.begin(sheet.tell(said.full_size_bookmark(name)), note=sheet.tell(said.full_size_note(name)))
    a, _, _, d, e, f = sheet.to_paper()
    onto: Matrix = (a, 0.0, 0.0, d, e - a * tile.window[0], f - d * tile.window[1])
    canvas = sheet.canvas
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(sheet.left, sheet.bottom, sheet.right - sheet.left, sheet.top - sheet.bottom)
    canvas.clipPath(window, stroke=0, fill=0)
    behind = {one.item.row for one in drawn if one.item.part is Part.OUTLINE}
    for one in drawn:
        if meet(one.extent, tile.window):
            _full_size_item(canvas, one, onto, thin=one.item.part is Part.LETTER and one.item.row in behind)
    _panel_lines(sheet, pattern, onto)
    for mark in pattern.marks:
        dashed_path(canvas, [point_under(onto, point) for point in mark.baseline], gray=QUIET)
    canvas.restoreState()
    draw_seams(sheet, guide, name, onto)
    pieces = [one.outline for one in drawn if not one.item.open]
    whole = Outline(contours=tuple(contour for outline in pieces for contour in outline.contours))
    at, size = sheet.map_box(guide)
    tile_map(sheet, guide, whole, at, size, first_page=None, shaded=name, stamp="map-of-panel")
    canvas.setFillGray(INK)
    sheet.letters.draw(name, sheet.left + 8, sheet.bottom + 10, 13, bold=True)
    if pattern.outlines:
        sheet.remark(sheet.tell(said.LETTER_ON_OUTLINE))


def _full_size_item(canvas: Canvas, one: _Drawn, onto: Matrix, *, thin: bool) -> None:
    """A piece hides what lies below it: of one over another the edge that shows. A letter on an outline is thin."""
    quilted = one.item.part is Part.QUILTING
    canvas.setStrokeGray(QUIET if quilted else INK)
    canvas.setFillGray(1.0)
    canvas.setLineWidth(HAIR if quilted else THIN if thin else CUT)
    outline_on(canvas, one.outline.transformed(onto), fill=not quilted, stroke=True, closed=not one.item.open)
