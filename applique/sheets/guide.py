"""The placement guide: where each letter goes, first in a small drawing, then in a table.

The small drawing is to scale and says its scale; the optional last pages are the panel at full size.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from reportlab.pdfgen.canvas import Canvas

from applique.design import QuiltingKind
from applique.geometry.outline import Contour, Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Matrix, Point, meet, point_under
from applique.language import Message
from applique.marks import LetterMark, RowMark
from applique.panel import PlacedRow
from applique.pattern import Pattern
from applique.sheets.first_page import heading, paragraphs, tile_map
from applique.sheets.frame import POINTS, Sheet
from applique.sheets.strokes import CUT, HAIR, INK, QUIET, THIN, dashed_line, line_on, outline_on, polyline_on
from applique.sheets.templates import draw_seams
from applique.units import as_length
from applique.words import guide as said
from applique.words.sheets import PEN_CAUTION, from_center, notice_said

__all__ = ["placement_guide_pdf"]

_BODY: Final = 8.5
_SMALL: Final = 7.0
_TINY: Final = 5.6
_ROW: Final = 12.5
_SIDE: Final = 62.0
"""Points beside the small drawing for the distances of the baselines."""
_NOTES: Final = 132.0
"""Points below the small drawing for what to mark."""
_TURNED_NOTE: Final = 26.0
"""Points more where something is turned."""
_MOST_NOTICES: Final = 4
"""Notices that have room below the drawing."""
_TABLE_GAP: Final = 26.0
_STEP: Final = 0.25
"""The scale of the small drawing is a whole multiple of this: inches of quilt for an inch of paper."""


def placement_guide_pdf(pattern: Pattern) -> bytes:
    """The placement guide as PDF: the panel to scale, the table, the full-size guide."""
    entries = tuple(_entries(pattern))
    sheet = Sheet(
        pattern,
        subject=pattern.speech.tell(said.SUBJECT),
        method=pattern.speech.tell(said.METHOD),
        page_count=0,
        texts=_texts(pattern),
        mirrored=False,
    )
    columns = _columns(entries, sheet)
    tiles = pattern.guide.tiles if pattern.guide else ()
    sheet.page_count = 1 + math.ceil(len(columns) / 2) + len(tiles)
    _drawing_page(sheet, pattern)
    for index in range(0, len(columns), 2):
        _table_page(sheet, columns[index : index + 2])
    shapes = tuple(_shapes(pattern)) if tiles else ()
    for tile in tiles:
        _full_size_page(sheet, pattern, shapes, tile.name)
    return sheet.finish()


def _texts(pattern: Pattern) -> tuple[str, ...]:
    speech = pattern.speech
    names = [need.fabric for need in pattern.cloth]
    notices = [speech.tell(notice_said(notice)) for notice in pattern.notices]
    return (*(row.text for row in pattern.marks), *names, *notices, speech.tell(PEN_CAUTION))


# The small drawing


def _drawing_page(sheet: Sheet, pattern: Pattern) -> None:
    sheet.begin(sheet.tell(said.PANEL))
    panel = pattern.panel
    width, height = float(panel.cut_width), float(panel.cut_height)
    room_x = sheet.right - sheet.left - 2 * _SIDE
    notes = _NOTES + (_TURNED_NOTE if _is_turned(pattern) else 0.0)
    room_y = sheet.top - sheet.bottom - notes - 26 - 15 * min(len(pattern.notices), 4)
    quilt_per_paper = math.ceil(max(width / room_x, height / room_y) * POINTS / _STEP) * _STEP
    scale = POINTS / quilt_per_paper
    left = (sheet.left + sheet.right - scale * width) / 2
    top = sheet.top - 24
    low = top - scale * height
    allowance = float(panel.seam_allowance) * scale
    onto: Matrix = (scale, 0.0, 0.0, scale, left + allowance, low + allowance)
    _edges(sheet.canvas, (left, low, scale * width, scale * height), allowance)
    _letters(sheet, pattern, onto)
    _center_line(sheet, left + scale * width / 2, low, top)
    for mark, row in zip(pattern.marks, pattern.panel.rows, strict=True):
        if mark.turn_deg:
            _turned_row_marks(sheet, mark, row, onto, left + scale * width)
        else:
            _row_marks(
                sheet, pattern, mark, onto[3] * row.baseline + onto[5], onto, (left, left + scale * width)
            )
    words = said.scale_said(
        Fraction(quilt_per_paper),
        (panel.cut_width, panel.cut_height),
        panel.seam_allowance,
        pattern.design.units,
    )
    _what_to_mark(sheet, pattern, words, low - 20)


def _edges(canvas: Canvas, cut: tuple[float, float, float, float], allowance: float) -> None:
    x, y, width, height = cut
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(THIN)
    canvas.rect(x, y, width, height, fill=0, stroke=1)
    canvas.setDash(2, 2)
    canvas.setStrokeGray(QUIET)
    canvas.rect(x + allowance, y + allowance, width - 2 * allowance, height - 2 * allowance, fill=0, stroke=1)
    canvas.setDash()


def _letters(sheet: Sheet, pattern: Pattern, onto: Matrix) -> None:
    sheet.canvas.setFillGray(0.86)
    sheet.canvas.setStrokeGray(INK)
    sheet.canvas.setLineWidth(HAIR)
    sheet.canvas.setDash(1.5, 1.5)
    for outline in _outlines(pattern):
        outline_on(sheet.canvas, outline.transformed(onto), stroke=True)
    sheet.canvas.setDash()
    for row in pattern.panel.rows:
        outline_on(sheet.canvas, row.outline.transformed(onto), fill=True, stroke=True)
    sheet.canvas.setFillGray(INK)


def _outlines(pattern: Pattern) -> Iterator[Outline]:
    """The pieces of the outline layer in the frame of the panel, in the order they are laid."""
    for piece in pattern.outlines:
        yield piece.place.outline(piece.outline)


def _center_line(sheet: Sheet, x: float, low: float, top: float) -> None:
    canvas = sheet.canvas
    canvas.setDash([9, 3, 2, 3])
    line_on(canvas, (x, low - 6), (x, top + 6), width=THIN)
    canvas.setDash()
    sheet.letters.draw(sheet.tell(said.CENTER_LINE), x, top + 9, _SMALL, anchor="middle")


def _row_marks(
    sheet: Sheet, pattern: Pattern, mark: RowMark, y: float, onto: Matrix, edges: tuple[float, float]
) -> None:
    """A row's baseline with its distance from the cut top edge, ticks under its letters, and its two ends."""
    canvas = sheet.canvas
    dashed_line(canvas, (edges[0] - 5, y), (edges[1] + 5, y), gray=QUIET)
    sheet.letters.draw(
        _said(pattern, mark.baseline_from_top), edges[0] - 8, y - 2.5, _BODY, bold=True, anchor="end"
    )
    sheet.letters.draw(sheet.tell(said.row_number(mark.row)), edges[1] + 8, y - 2.5, _BODY)
    center = (edges[0] + edges[1]) / 2
    for letter in mark.letters:
        x = center + onto[0] * letter.middle
        line_on(canvas, (x, y - 1), (x, y - 6), width=THIN)
    _edge_numbers(sheet, pattern, mark, center, onto[0], y)


def _turned_row_marks(sheet: Sheet, mark: RowMark, row: PlacedRow, onto: Matrix, edge: float) -> None:
    """The baseline of a turned row from end to end with ticks under its letters; its numbers are in the table."""
    start, end = (point_under(onto, point) for point in row.baseline_ends)
    dashed_line(sheet.canvas, start, end, gray=QUIET)
    name = sheet.tell(said.row_number(mark.row))
    sheet.letters.draw(name, edge + 8, point_under(onto, (0.0, row.baseline))[1] - 2.5, _BODY)
    for letter in mark.letters:
        x, y = point_under(onto, letter.tick)
        tick = Place(x=x, y=y, turn_deg=mark.turn_deg)
        line_on(sheet.canvas, tick.point((0.0, -1.0)), tick.point((0.0, -6.0)), width=THIN)


def _edge_numbers(
    sheet: Sheet, pattern: Pattern, mark: RowMark, center: float, scale: float, y: float
) -> None:
    """Each letter's left and right edge from the center line, where they fit under it; else the row's two ends.

    Letters too narrow for two numbers side by side have them one above the other.
    """
    letters = [
        (m.left, m.right, _said(pattern, abs(m.left)), _said(pattern, abs(m.right))) for m in mark.letters
    ]
    widths = [
        (scale * (m[1] - m[0]), *(sheet.letters.width(words, _TINY) for words in m[2:])) for m in letters
    ]
    tilted = any(letter.turn_deg for letter in mark.letters)
    if tilted and any(before[1] > after[0] for before, after in pairwise(letters)):
        # Tilted letters reach over their neighbors; their numbers would stand on each other.
        widths = [(0.0, low, high) for _, low, high in widths]
    if all(low + high + 4 <= room for room, low, high in widths):
        drops = (-12.0, -12.0)
    elif all(max(low, high) <= room for room, low, high in widths):
        drops = (-12.0, -19.0)
    elif widths and scale * (mark.right - mark.left) > 90:
        letters = [(mark.left, mark.right, _said(pattern, abs(mark.left)), _said(pattern, abs(mark.right)))]
        drops = (-12.0, -12.0)
    else:
        return
    for left, right, left_words, right_words in letters:
        sheet.letters.draw(left_words, center + scale * left, y + drops[0], _TINY)
        sheet.letters.draw(right_words, center + scale * right, y + drops[1], _TINY, anchor="end")


def _what_to_mark(sheet: Sheet, pattern: Pattern, scale: Message, y: float) -> None:
    marks = said.what_to_mark(
        pattern.panel.center_from_edge,
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
    return any(mark.turn_deg or any(letter.turn_deg for letter in mark.letters) for mark in pattern.marks)


# The table


@dataclass(frozen=True, slots=True)
class _Entry:
    """One line of the table: a row's heading, or a letter's three distances."""

    words: tuple[str, ...]
    heading: bool


def _entries(pattern: Pattern) -> Iterator[_Entry]:
    units, tell = pattern.design.units, pattern.speech.tell
    for mark in pattern.marks:
        yield _Entry((tell(said.row_heading(mark)), mark.fabric), True)
        yield from (_Entry((line,), False) for line in tell(said.baseline_said(mark, units)).splitlines())
        yield _Entry(("", *map(tell, said.COLUMNS)), False)
        for letter in mark.letters:
            yield _Entry(_letter_words(pattern, letter), False)
            if mark.turn_deg:
                yield _Entry((tell(said.tick_said(letter, units)),), False)
            if letter.turn_deg:
                yield _Entry((tell(said.turned_letter_said(letter, units)),), False)


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
    width = (sheet.right - sheet.left - _TABLE_GAP) / 2
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
        letters.draw(entry.words[0], x, y + 3, _SMALL + 0.5)
        canvas.setFillGray(INK)


def _said(pattern: Pattern, length: float) -> str:
    return pattern.speech.measure(as_length(length, pattern.design.units, denominator=16))


# The panel at full size


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shape:
    """A piece of the outline layer or a row of letters on the panel, each contour with its extent.

    `width` is that of its line in points; what is `solid` hides what lies below it.
    """

    parts: tuple[tuple[Bounds, Contour], ...]
    width: float
    solid: bool

    def within(self, window: Bounds) -> Outline:
        """The contours that show in `window`."""
        return Outline(contours=tuple(contour for box, contour in self.parts if meet(box, window)))


def _shapes(pattern: Pattern) -> Iterator[_Shape]:
    """Outlines and letters as they lie: of one outline over another the edge that shows, letters on outlines thin."""

    def shape(outline: Outline, *, width: float, solid: bool) -> _Shape:
        parts = tuple((contour.bounds(), contour) for contour in outline.contours)
        return _Shape(parts=parts, width=width, solid=solid)

    for outline in _outlines(pattern):
        yield shape(outline, width=CUT, solid=True)
    behind = {piece.row for piece in pattern.outlines}
    for row in pattern.panel.rows:
        yield shape(row.outline, width=THIN if row.number in behind else CUT, solid=False)


def _full_size_page(sheet: Sheet, pattern: Pattern, shapes: Sequence[_Shape], name: str) -> None:
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
    canvas.setStrokeGray(INK)
    canvas.setFillGray(1.0)
    for shape in shapes:
        canvas.setLineWidth(shape.width)
        if seen := shape.within(tile.window):
            outline_on(canvas, seen.transformed(onto), fill=shape.solid, stroke=True)
    canvas.setFillGray(INK)
    _full_size_lines(sheet, pattern, onto, tile.window)
    canvas.restoreState()
    draw_seams(sheet, guide, name, onto)
    whole = Outline(contours=tuple(contour for shape in shapes for _, contour in shape.parts))
    at, size = sheet.map_box(guide)
    tile_map(sheet, guide, whole, at, size, first_page=None, shaded=name, stamp="map-of-panel")
    canvas.setFillGray(INK)
    sheet.letters.draw(name, sheet.left + 8, sheet.bottom + 10, 13, bold=True)
    if pattern.outlines:
        sheet.remark(sheet.tell(said.LETTER_ON_OUTLINE))


def _full_size_lines(sheet: Sheet, pattern: Pattern, onto: Matrix, window: Bounds) -> None:
    panel, canvas = pattern.panel, sheet.canvas
    width, height, allowance = float(panel.width), float(panel.height), float(panel.seam_allowance)

    def at(x: float, y: float) -> tuple[float, float]:
        return (onto[0] * x + onto[4], onto[3] * y + onto[5])

    canvas.setStrokeGray(QUIET)
    canvas.setLineWidth(HAIR)
    from_middle = (onto[0], 0.0, 0.0, onto[3], *at(width / 2, height / 2))
    for plan in pattern.quilting:
        for line in plan.lines if plan.kind is QuiltingKind.ECHO else ():
            if meet(_extent(line, width / 2, height / 2), window):
                polyline_on(canvas, line, from_middle)
    for grow, draw in ((allowance, line_on), (0.0, dashed_line)):
        corners = [
            at(-grow, -grow),
            at(width + grow, -grow),
            at(width + grow, height + grow),
            at(-grow, height + grow),
        ]
        for start, end in zip(corners, [*corners[1:], corners[0]], strict=True):
            draw(canvas, start, end, width=THIN)
    dashed_line(canvas, at(width / 2, -allowance), at(width / 2, height + allowance))
    for row in panel.rows:
        ends = ((-allowance, row.baseline), (width + allowance, row.baseline))
        start, end = row.baseline_ends if row.turned.turn_deg else ends
        dashed_line(canvas, at(*start), at(*end), gray=QUIET)


def _extent(line: Sequence[Point], right: float, up: float) -> Bounds:
    """The extent of `line` moved by `right` and `up`."""
    xs, ys = zip(*line, strict=True)
    return (min(xs) + right, min(ys) + up, max(xs) + right, max(ys) + up)
