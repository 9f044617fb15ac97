"""The placement guide: where each letter goes, first in a small drawing, then in a table.

The small drawing is to scale and says its scale; the optional last pages are the panel at full size.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice, pairwise
from typing import Final

from shapely.affinity import affine_transform

from applique.geometry.place import Place
from applique.geometry.points import Bounds, Matrix, Point, meet, point_under
from applique.language import Message
from applique.marks import Lean, LetterMark, PanelLines, RowMark, drawing_scale, panel_lines
from applique.paging import Tile, Tiling
from applique.panel import on_panel
from applique.pattern import Pattern
from applique.picture import Part
from applique.sheets.first_page import heading, tile_map
from applique.sheets.frame import POINTS, Drawn, Sheet
from applique.sheets.guide_table import Table, guide_table, listed_parts, says_lowest
from applique.sheets.panel_drawing import (
    LaidItem,
    draw_panel,
    draw_panel_lines,
    draw_tile_name,
    laid_items,
    outline_of_all,
    taken_on_panel,
)
from applique.sheets.spots import Taken, spread
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, dashed_path, line_on, outline_on
from applique.sheets.templates import draw_seams
from applique.units import Units, as_length
from applique.words import guide as said
from applique.words.sheets import CHECK_FIRST, angle_said

__all__ = ["draw_guide", "guide_texts", "placement_guide_pdf"]

_BODY: Final = 8.5
_LEADING: Final = 12.0
_SMALL: Final = 7.0
_SMALL_LEADING: Final = 8.0
_HEAD: Final = 24.0
"""Points that the heading of the notes takes, and the white above it."""
_MOST_NOTICE_LINES: Final = 8
"""Lines of notices that stand below the drawing; more follow the table."""
_BELOW_HEAD: Final = 35.0
"""Points from the head of the page to the small drawing, with the title between them."""
_BELOW_PANEL: Final = 20.0
_ABOVE_TABLE: Final = 10.0
_MOST_BELOW: Final = 0.7
"""Of the page, what may stand below the drawing."""
_LEAST_SHARE: Final = 0.45
"""Of the size that the drawing would have alone, what it keeps beside a table on its page."""
_PAST: Final = 6.0
"""Points that the center line goes on past the cut edge."""
_BESIDE: Final = 8.0
"""Points between the cut edge and the numbers beside it."""
_PITCH: Final = 20.0
"""Points that the two numbers of a baseline take, one below the other."""
_TIGHT: Final = 10.5
"""Points that they take side by side."""
_OFF_INK: Final = 0.8
"""Points from the end of a row to the short line beside it."""
_CROSS: Final = 2.5
"""Points from the middle of a cross to the ends of its strokes."""
_PAST_TOP: Final = 14.0
"""Points that the upright of a turned letter goes on past its top."""
_TICK_GAP: Final = 1.0
"""Points below a baseline at which a tick starts."""
_TICK: Final = 6.0
"""Points below it at which it ends; shorter where the next row is near."""
_SHORT_TICK: Final = 3.0
_TICK_SHARE: Final = 0.25
"""How much of the way to the next row a tick takes at the most."""
_TIER: Final = _SMALL_LEADING + 2.0
_MOST_TIERS: Final = 4
_MOST_TRIED: Final = 1500
"""Places that are tried for the numbers of one row."""
_NEAR: Final = 8
"""So many numbers before one may stand in its way."""
_SHIFT: Final = 3.0
"""Points by which a number is moved to find room."""
_CLEAR: Final = 1.25
"""Points of white around a number, and on either side of one in a row of numbers."""
_APART_BESIDE: Final = 2.5


def placement_guide_pdf(pattern: Pattern) -> bytes:
    """The placement guide as PDF: the panel to scale, the table, the full-size guide."""
    notices = tuple(said.grouped(pattern.notices))
    sheet = Sheet(
        pattern,
        subject=pattern.speech.tell(said.SUBJECT),
        method=pattern.speech.tell(said.METHOD),
        page_count=0,
        texts=guide_texts(pattern, notices),
        mirrored=False,
    )
    sheet.page_count = guide_pages(sheet, pattern, notices)
    draw_guide(sheet, pattern, notices)
    return sheet.finish()


def guide_pages(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> int:
    """How many pages `draw_guide` draws."""
    first = _first_page(sheet, pattern, notices)
    pages = 0 if first.has_table else first.table.page_count
    return 1 + pages + (len(pattern.guide.tiles) if pattern.guide else 0)


def draw_guide(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> None:
    """Every page of the guide, next on `sheet`, with `notices` of what to look at."""
    guide = pattern.guide
    first = _first_page(sheet, pattern, notices)
    _drawing_page(sheet, pattern, first)
    if not first.has_table:
        first.table.draw(sheet)
    if guide is not None:
        items = laid_items(pattern)
        taken = taken_on_panel(pattern, items)
        for tile in guide.tiles:
            _full_size_page(sheet, pattern, guide, items, tile, taken)


def guide_texts(pattern: Pattern, notices: Sequence[Message]) -> tuple[str, ...]:
    """What the guide spells of a maker's own words."""
    speech = pattern.speech
    names = [need.fabric for need in pattern.cloth]
    return (
        *(row.text for row in pattern.marks),
        *names,
        *map(speech.tell, notices),
    )


def _wrapped(sheet: Sheet, texts: Sequence[Message]) -> list[str]:
    width = sheet.right - sheet.left
    return [line for text in texts for line in sheet.letters.wrapped(sheet.tell(text), _BODY, width)]


# The small drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class _Beside:
    """What stands beside the small drawing on the level of a row: its numbers on the left, its name on the right."""

    height: float
    down: str
    finished: str
    name: str

    def width(self, sheet: Sheet, *, tight: bool) -> float:
        """Points that its numbers take."""
        down = sheet.letters.width(self.down, _BODY, bold=True)
        finished = sheet.letters.width(self.finished, _SMALL)
        return down + finished + 4 if tight and self.finished else max(down, finished)


@dataclass(frozen=True, slots=True, kw_only=True)
class _First:
    """The first page as it is laid out: notices below the drawing, its scale, and whether the table is there too.

    `tight` is whether the numbers beside the drawing stand side by side.
    """

    notices: Sequence[str]
    beside: Sequence[_Beside]
    table: Table
    has_table: bool
    quilt_per_paper: Fraction
    tight: bool


def _first_page(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> _First:
    """The first page, with the table on it where that leaves the drawing most of its size."""
    lines = _wrapped(sheet, notices)
    below = len(lines) <= _MOST_NOTICE_LINES
    table = guide_table(sheet, pattern, () if below else notices)
    if not below:
        lines = _wrapped(sheet, [said.notices_after_table(len(pattern.notices))])
    texts = _marks_said(sheet, pattern, _drawable(pattern))
    beside = _beside(sheet, pattern)
    # The scale is said in at most three lines more; it is known once the room is. Of what could be drawn all is said
    # here, of what has no room then nothing is.
    notes = _HEAD + _LEADING * (len(texts) + len(lines) + 3) + (_HEAD if lines else 0.0)
    scale, tight = _fitted(sheet, pattern, beside, notes)
    has_table = False
    taken = table.height_below
    if taken is not None and notes + taken < _MOST_BELOW * (sheet.top - sheet.bottom):
        small, close = _fitted(sheet, pattern, beside, notes + taken + _ABOVE_TABLE)
        if small * _LEAST_SHARE <= scale and close <= tight:
            has_table, scale, tight = True, small, close
    return _First(
        notices=lines,
        beside=beside,
        table=table,
        has_table=has_table,
        quilt_per_paper=scale,
        tight=tight,
    )


def _marks_said(sheet: Sheet, pattern: Pattern, drawn: said.Drawn) -> list[str]:
    """What to mark, in lines, for a drawing that shows what is `drawn`."""
    told = said.what_to_mark(
        pattern.panel,
        pattern.design.units,
        drawn,
        full_size=pattern.guide is not None and len(pattern.guide.tiles) > 1,
        on_outlines=pattern.guide is not None and bool(pattern.outlines),
        turned=any(mark.is_turned for mark in pattern.marks),
        by_word=any(mark.by_word for mark in pattern.marks),
        ticked=any(mark.letters and not mark.by_word for mark in pattern.marks),
        lowest=says_lowest(pattern),
        parts=[part.name for part in listed_parts(pattern)],
    )
    return _wrapped(sheet, list(told))


def _drawable(pattern: Pattern) -> said.Drawn:
    """All that a drawing with room for everything would show."""
    level, slanting = (any(mark.level is way for mark in pattern.marks) for way in (True, False))
    leaning = any(letter.lean for mark in pattern.marks for letter in mark.letters)
    return said.Drawn(
        level=level,
        slanting=slanting,
        points=slanting,
        middles=level,
        ends=level,
        short=level,
        bare=len(pattern.marks) > 1,
        lean=leaning,
    )


def _fitted(sheet: Sheet, pattern: Pattern, beside: Sequence[_Beside], notes: float) -> tuple[Fraction, bool]:
    """The scale at which the drawing leaves `notes` points below it, and whether the numbers beside it are tight."""
    for tight in (False, True):
        numbers = (max(one.width(sheet, tight=tight), sheet.letters.width(one.name, _BODY)) for one in beside)
        side = _BESIDE + _PAST + max(numbers, default=0.0)
        room = (
            sheet.right - sheet.left - 2 * side,
            sheet.top - sheet.bottom - _BELOW_HEAD - _BELOW_PANEL - notes,
        )
        quilt_per_paper = drawing_scale(pattern.panel, (room[0] / POINTS, room[1] / POINTS))
        scale = POINTS / float(quilt_per_paper)
        if all(scale * (above.height - below.height) >= _PITCH for above, below in pairwise(beside)):
            break
    return quilt_per_paper, tight


def _drawing_page(sheet: Sheet, pattern: Pattern, first: _First) -> None:
    sheet.begin(sheet.tell(said.PANEL), drawn=Drawn.SMALL)
    sheet.title(sheet.tell(said.TITLE))
    panel, lines, beside = pattern.panel, panel_lines(pattern.panel), first.beside
    scale = POINTS / float(first.quilt_per_paper)
    x0, y0, x1, y1 = lines.cut_edge
    onto: Matrix = (
        *(scale, 0.0, 0.0, scale),
        (sheet.left + sheet.right - scale * (x0 + x1)) / 2,
        sheet.top - _BELOW_HEAD - scale * y1,
    )
    _letters(sheet, pattern, onto)
    draw_panel_lines(sheet.canvas, pattern, onto, beyond=_PAST)
    x, top = point_under(onto, lines.center_line[1])
    sheet.letters.draw(sheet.tell(said.CENTER_LINE), x, top + _PAST + 3, _SMALL, anchor="middle")
    tick = _tick_length(beside, scale)
    for mark in pattern.marks:
        _baseline(sheet, mark, onto, tick)
    shown = _numbers(sheet, pattern, onto, lines, tick)
    unsaid = _draw_beside(sheet, beside, onto, lines, tight=first.tight)
    y = heading(
        sheet, sheet.tell(said.WHAT_TO_MARK), sheet.left, point_under(onto, (x0, y0))[1] - _BELOW_PANEL
    )
    drawn = _wrapped(sheet, [said.scale_said(first.quilt_per_paper, panel, pattern.design.units)])
    last = _wrapped(sheet, [said.only_in_table(unsaid)]) if unsaid else []
    for line in (*drawn, *_marks_said(sheet, pattern, shown), *last):
        y -= _LEADING
        sheet.letters.draw(line, sheet.left, y + 3, _BODY)
    if first.notices:
        y = heading(sheet, sheet.tell(CHECK_FIRST), sheet.left, y - _ABOVE_TABLE)
    for line in first.notices:
        y -= _LEADING
        sheet.letters.draw(line, sheet.left, y + 3, _BODY)
    if first.has_table:
        first.table.draw_below(sheet, y - _ABOVE_TABLE)


def _letters(sheet: Sheet, pattern: Pattern, onto: Matrix) -> None:
    """The outline layer dashed, each shape over those before it as it is laid, and on it the letters and other pieces
    in gray."""
    canvas = sheet.canvas
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(HAIR)
    for item in pattern.picture.on_panel(Part.OUTLINE, Part.LETTER):
        letter = item.part is Part.LETTER
        canvas.setDash(*(() if letter else (1.5, 1.5)))
        canvas.setFillGray(0.86 if letter else 1.0)
        outline_on(canvas, item.laid.transformed(onto), fill=True, stroke=True)
    canvas.setDash()
    canvas.setFillGray(INK)


def _baseline(sheet: Sheet, mark: RowMark, onto: Matrix, tick: float) -> None:
    """A row's baseline, of a level one from edge to edge, and the ticks under its letters unless those are laid word by
    word."""
    dashed_path(sheet.canvas, _baseline_path(mark, onto), gray=QUIET)
    for letter in () if mark.by_word else mark.letters:
        line_on(sheet.canvas, *_tick(letter, onto, tick), width=THIN)
        if letter.lean:
            own, square = _lean_lines(letter.lean, onto)
            line_on(sheet.canvas, *own, width=THIN)
            dashed_path(sheet.canvas, square, gray=INK)
        if letter.own:
            first, last = (point_under(onto, point) for point in letter.own.ends)
            line_on(sheet.canvas, first, last, width=THIN)
    for point in _crossed(mark):
        for start, end in _cross(point, onto):
            line_on(sheet.canvas, start, end, width=THIN)


def _crossed(mark: RowMark) -> Iterator[Point]:
    """The points of a row that a line is drawn through: the ends of a baseline that slants, and of that of each letter
    that is turned."""
    if not mark.level:
        yield from (mark.baseline[0], mark.baseline[-1])
    for letter in mark.letters:
        if letter.own is not None:
            yield from letter.own.ends


def _cross(point: Point, onto: Matrix) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """The two strokes of the cross on a point of a slanting baseline."""
    x, y = point_under(onto, point)
    arm = _CROSS
    return ((x - arm, y - arm), (x + arm, y + arm)), ((x - arm, y + arm), (x + arm, y - arm))


def _lean_lines(lean: Lean, onto: Matrix) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """The upright of a letter that is turned and the line square to its baseline, both a little longer than it is
    high."""
    foot, top, square = (point_under(onto, point) for point in (lean.foot, lean.top, lean.square))
    past = 1.0 + _PAST_TOP / math.dist(foot, top)

    def drawn(end: Point) -> tuple[Point, Point]:
        return foot, (foot[0] + past * (end[0] - foot[0]), foot[1] + past * (end[1] - foot[1]))

    return drawn(top), drawn(square)


def _baseline_path(mark: RowMark, onto: Matrix) -> list[Point]:
    path = [point_under(onto, point) for point in mark.baseline]
    beyond = _PAST - 1 if mark.level else 0.0
    return [(path[0][0] - beyond, path[0][1]), *path[1:-1], (path[-1][0] + beyond, path[-1][1])]


def _tick(letter: LetterMark, onto: Matrix, tick: float) -> tuple[Point, Point]:
    x, y = point_under(onto, (letter.tick.x, letter.tick.y))
    at = Place(x=x, y=y, turn_deg=letter.tick.turn_deg)
    return at.point((0.0, -_TICK_GAP)), at.point((0.0, -tick))


def _tick_length(beside: Sequence[_Beside], scale: float) -> float:
    """How far below its baseline a tick reaches, so that ticks stay clear of the next row."""
    apart = [scale * (above.height - below.height) for above, below in pairwise(beside)]
    nearest = min((gap for gap in apart if gap > 1), default=_TICK / _TICK_SHARE)
    return min(_TICK, max(_SHORT_TICK, _TICK_SHARE * nearest))


# The numbers beside it


def _beside(sheet: Sheet, pattern: Pattern) -> list[_Beside]:
    """The numbers and names beside the drawing, from the top down.

    A level row has the distance of its baseline from the cut top edge, and of a panel that is trimmed later from the
    finished one. Of a row that does not stand level the numbers are in the table.
    """
    units = pattern.design.units
    return [
        _Beside(
            height=mark.height,
            down=_said(pattern, mark.baseline_from_top) if mark.level else "",
            finished=sheet.tell(said.from_finished_said(mark, units))
            if mark.level and pattern.panel.trim
            else "",
            name=sheet.speech.field(said.row_number(mark)),
        )
        for mark in sorted(pattern.marks, key=lambda mark: -mark.height)
    ]


def _draw_beside(
    sheet: Sheet, beside: Sequence[_Beside], onto: Matrix, lines: PanelLines, *, tight: bool
) -> int:
    """Draw them level with their rows, or where rows are too near as close to that as they have room, with a thin line
    to the row; returns how many there is no room for.
    """
    (left, low), (right, top) = point_under(onto, lines.cut_edge[:2]), point_under(onto, lines.cut_edge[2:])
    wanted = [point_under(onto, (0.0, one.height))[1] for one in beside]
    found = spread(wanted, pitch=_TIGHT if tight else _PITCH, low=low + 2, high=top - 2)
    if found is None:
        chosen = _apart(wanted, _TIGHT)
        beside, found = [beside[index] for index in chosen], [wanted[index] for index in chosen]
        unsaid, wanted = len(wanted) - len(chosen), found
    else:
        unsaid = 0
    for one, level, y in zip(beside, wanted, found, strict=True):
        at = left - _BESIDE
        name_at = right + _BESIDE
        if abs(y - level) > 0.5:
            if one.down:
                line_on(sheet.canvas, (left - _PAST + 1, level), (at + 0.5, y), width=HAIR)
            line_on(sheet.canvas, (right + _PAST - 1, level), (name_at - 0.5, y), width=HAIR)
        sheet.letters.draw(one.name, name_at, y - 2.5, _BODY)
        if not one.down:
            continue
        if one.finished and tight:
            sheet.letters.draw(one.finished, at, y - 2.5, _SMALL, anchor="end")
            at -= sheet.letters.width(one.finished, _SMALL) + 4
        elif one.finished:
            sheet.letters.draw(one.finished, at, y - _BODY - 4.0, _SMALL, anchor="end")
        sheet.letters.draw(one.down, at, y - 2.5, _BODY, bold=True, anchor="end")
    return unsaid


def _apart(heights: Sequence[float], pitch: float) -> list[int]:
    """Which of `heights`, highest first, are at least `pitch` below the one chosen before."""
    chosen: list[int] = []
    for index, height in enumerate(heights):
        if not chosen or heights[chosen[-1]] - height >= pitch:
            chosen.append(index)
    return chosen


def _said(pattern: Pattern, length: float) -> str:
    return pattern.speech.measure(as_length(length, pattern.design.units, denominator=16))


# The numbers under the letters


@dataclass(frozen=True, slots=True, kw_only=True)
class _Number:
    """Words that stand one below the other in `box`, aligned to their `anchor` with white at either end; `leader` is a
    line from them to what they belong to, or along it.
    """

    words: tuple[str, ...]
    box: Bounds
    anchor: str = "start"
    leader: tuple[Point, Point] | None = None
    clear: float = _CLEAR

    def draw(self, sheet: Sheet) -> None:
        """Draw them."""
        left, _, right, top = self.box
        at = {"start": left + self.clear, "middle": (left + right) / 2, "end": right - self.clear}[
            self.anchor
        ]
        if self.leader is not None:
            line_on(sheet.canvas, *self.leader, width=HAIR)
        sheet.canvas.setFillGray(INK)
        for count, words in enumerate(self.words):
            y = top - _CLEAR - _SMALL * 0.75 - count * _SMALL_LEADING
            sheet.letters.draw(words, at, y, _SMALL, anchor=self.anchor)


def _numbers(sheet: Sheet, pattern: Pattern, onto: Matrix, lines: PanelLines, tick: float) -> said.Drawn:
    """Under every tick how far it is from the center line, where all those of its row have room; else the two ends of
    the row. At both points of a slanting baseline where they are; by a letter that is turned, how far.

    Numbers keep clear of all that is drawn, and of each other. Returns what the drawing shows.
    """
    taken = _taken(pattern, onto, lines, tick)
    center = point_under(onto, lines.center_line[0])[0]
    middles = ends = bare = short = False
    points = True
    for mark in pattern.marks:
        if not mark.letters:
            continue
        ticked = not mark.by_word
        found: list[_Number] = []
        for say in (said.beside_center, said.in_column) if mark.level and ticked else ():
            found = _letter_numbers(sheet, pattern, mark, onto, taken, tick, say)
            if found:
                short = short or say is said.in_column
                break
        middles = middles or bool(found)
        bare = bare or (ticked and not found)
        if mark.level and not found:
            found = _end_numbers(sheet, pattern, mark, center, onto, taken)
            ends = ends or bool(found)
        elif not mark.level:
            found = _point_numbers(sheet, pattern, mark, onto, taken)
            points = points and bool(found)
        for number in (*found, *_angles(sheet, mark, onto, taken, found)):
            taken.take(number.box)
            if number.leader is not None:
                taken.take_line(number.leader)
            number.draw(sheet)
    could = _drawable(pattern)
    return replace(
        could, points=could.slanting and points, middles=middles, ends=ends, short=short, bare=bare
    )


def _point_numbers(
    sheet: Sheet, pattern: Pattern, mark: RowMark, onto: Matrix, taken: Taken
) -> list[_Number]:
    """Where the two points of a slanting baseline are, near each; nothing where only one of them has room."""
    found: list[_Number] = []
    for point, at_panel, outward in (
        (mark.ends[0], mark.baseline[0], -1.0),
        (mark.ends[1], mark.baseline[-1], 1.0),
    ):
        words = tuple(sheet.tell(line) for line in said.point_said(point, pattern.design.units))
        width = max(sheet.letters.width(line, _SMALL) for line in words) + 2 * _CLEAR
        high = len(words) * _SMALL_LEADING + _CLEAR
        x, y = point_under(onto, at_panel)
        away = _CROSS + 1.5
        out = x + away if outward > 0 else x - away - width
        spots = [(out, y - high / 2), (out, y - high), (out, y)]
        spots += [
            (at, y - away - high - down)
            for down in (0.0, 4.0, 8.0)
            for at in (x - width / 2, out, x - width if outward > 0 else x)
        ]
        spots += [(x - width / 2, y + away)]
        boxes = ((left, low, left + width, low + high) for left, low in spots)
        free = (box for box in boxes if taken.free(box, beside=[one.box for one in found]))
        anchor = "start" if outward > 0 else "end"
        found += [_Number(words=words, box=box, anchor=anchor) for box in islice(free, 1)]
    return found if len(found) == 2 else []


def _angles(
    sheet: Sheet, mark: RowMark, onto: Matrix, taken: Taken, others: Sequence[_Number]
) -> Iterator[_Number]:
    """How far each letter is turned, between the ends of its two lines, or beside them; nothing where that has no
    room."""
    for letter in mark.letters:
        if letter.lean is None:
            continue
        (_, own), (_, square) = _lean_lines(letter.lean, onto)
        words = sheet.tell(angle_said(letter.turn_deg))
        width, high = sheet.letters.width(words, _SMALL) + 2 * _CLEAR, _SMALL_LEADING + _CLEAR
        middle, top = (own[0] + square[0]) / 2, max(own[1], square[1])
        right, left = max(own[0], square[0]) + 1.5, min(own[0], square[0]) - 1.5 - width
        spots = [(middle - width / 2, top + 1.0), (right, top - high), (left, top - high)]
        boxes = ((x, y, x + width, y + high) for x, y in spots)
        free = (box for box in boxes if taken.free(box, beside=[one.box for one in others]))
        yield from (_Number(words=(words,), box=box, anchor="middle") for box in islice(free, 1))


def _taken(pattern: Pattern, onto: Matrix, lines: PanelLines, tick: float) -> Taken:
    """All that is drawn small."""
    shapes = [on_panel(cut) for cut in pattern.panel.cuts]
    shapes += [piece.place.shape(piece.shape) for piece in pattern.outlines]
    small = [affine_transform(shape, [onto[0], 0.0, 0.0, onto[3], onto[4], onto[5]]) for shape in shapes]
    edges = [
        (*point_under(onto, edge[:2]), *point_under(onto, edge[2:]))
        for edge in (lines.cut_edge, lines.trimmed_edge, lines.finished_edge)
        if edge is not None
    ]
    taken = Taken(edges[0], small)
    for mark in pattern.marks:
        taken.take_line(_baseline_path(mark, onto))
        for letter in () if mark.by_word else mark.letters:
            taken.take_line(_tick(letter, onto, tick))
            for line in _lean_lines(letter.lean, onto) if letter.lean else ():
                taken.take_line(line)
            if letter.own:
                taken.take_line([point_under(onto, point) for point in letter.own.ends])
        for point in _crossed(mark):
            for stroke in _cross(point, onto):
                taken.take_line(stroke)
    for x0, y0, x1, y1 in edges:
        taken.take_line([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)])
    taken.take_line([point_under(onto, point) for point in lines.center_line])
    return taken


def _letter_numbers(
    sheet: Sheet,
    pattern: Pattern,
    mark: RowMark,
    onto: Matrix,
    taken: Taken,
    tick: float,
    measured: Callable[[float, Units], Message],
) -> list[_Number]:
    """The middle of every letter under its tick, in as few tiers as hold them all; nothing where none do."""
    units = pattern.design.units
    letters = sorted(mark.letters, key=lambda letter: letter.tick.x)
    spots = [point_under(onto, (letter.tick.x, letter.tick.y)) for letter in letters]
    words = [sheet.tell(measured(letter.middle, units)) for letter in letters]
    wide = [sheet.letters.width(number, _SMALL) + 2 * _APART_BESIDE for number in words]
    next_row = max((other.height for other in pattern.marks if other.height < mark.height), default=-math.inf)
    floor = onto[3] * next_row + onto[5]
    wanted = [_Wanted(x, y, width, text) for (x, y), width, text in zip(spots, wide, words, strict=True)]
    for tiers in range(1, _MOST_TIERS + 1):
        if sum(wide) <= tiers * (spots[-1][0] - spots[0][0] + wide[0] + wide[-1]):
            found = _in_tiers(wanted, tiers, taken, tick, floor)
            if found:
                return found
    return []


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A number to stand under the tick at (x, y), with its white around it `width` wide."""

    x: float
    y: float
    width: float
    words: str


def _in_tiers(
    wanted: Sequence[_Wanted], tiers: int, taken: Taken, tick: float, floor: float
) -> list[_Number]:
    """Each number in the first tier and the nearest place that lead to room for those after it, never to the left of
    the one before and above `floor`; nothing where there is none, or none soon.

    Source:
        Backtracking: a number without room has the one before it moved on.
    """
    tried: list[Iterator[_Number]] = []
    found: list[_Number] = []
    for _ in range(_MOST_TRIED):
        if len(tried) == len(found):
            if len(found) == len(wanted):
                return found
            first = len(found) % tiers
            places = _places(wanted[len(found)], first, tiers, taken, tick, found[-_NEAR:])
            tried.append(one for one in places if one.box[1] > floor)
        number = next(tried[-1], None)
        if number is not None:
            found.append(number)
        else:
            tried.pop()
            if not tried:
                return []
            found.pop()
    return []


def _places(
    wanted: _Wanted, first: int, tiers: int, taken: Taken, tick: float, before: Sequence[_Number]
) -> Iterator[_Number]:
    """Where a number may stand below its tick, over or beside the tick's place, tier `first` first; in a lower tier it
    has a line to its tick, which keeps clear of all numbers but may run over the tail of its letter."""
    x, y, half = wanted.x, wanted.y, wanted.width / 2
    boxes = [number.box for number in before]
    lines = [_around(*number.leader) for number in before if number.leader is not None]
    least = (boxes[-1][0] + boxes[-1][2]) / 2 if boxes else -math.inf
    for tier in (*range(first, tiers), *range(first)):
        top = y - _TICK - 1.5 - tier * _TIER
        leader = ((x, y - tick), (x, top)) if tier else None
        if leader is not None:
            along = (x - 0.25, top, x + 0.25, y - tick - 1.0)
            if not taken.free(along, over_shapes=True) or any(meet(along, other) for other in boxes):
                continue
        shifts = (sign * step * _SHIFT for step in range(int(half // _SHIFT) + 1) for sign in (1, -1))
        for shift in shifts:
            low = x + shift - half
            box = (low, top - _SMALL_LEADING - _CLEAR, low + wanted.width, top)
            if x + shift >= least and taken.free(box, beside=(*boxes, *lines)):
                anchor = "start" if shift > 0 else "end" if shift < 0 else "middle"
                yield _Number(
                    words=(wanted.words,), box=box, anchor=anchor, leader=leader, clear=_APART_BESIDE
                )


def _around(start: Point, end: Point) -> Bounds:
    """The box of an upright line, with white around it."""
    return (start[0] - _CLEAR, end[1], start[0] + _CLEAR, start[1])


def _end_numbers(
    sheet: Sheet, pattern: Pattern, mark: RowMark, center: float, onto: Matrix, taken: Taken
) -> list[_Number]:
    """How far the two ends of a row are from the center line, beyond them, each with a short line up from the edge that
    it is of; nothing where only one of them has room.
    """
    y = point_under(onto, (0.0, mark.height))[1]
    next_row = max((other.height for other in pattern.marks if other.height < mark.height), default=-math.inf)
    floor = onto[3] * next_row + onto[5]
    found: list[_Number] = []
    for place, outward in ((mark.left, -1.0), (mark.right, 1.0)):
        words = sheet.tell(said.beside_center(place, pattern.design.units))
        width, high = sheet.letters.width(words, _SMALL) + 2 * _CLEAR, _SMALL_LEADING + _CLEAR
        end = center + onto[0] * place + outward * _OFF_INK
        at = end + outward * 1.0 - (width if outward < 0 else 0.0)
        for low in (y + 1.0, y - 1.0 - high):
            box, edge = (at, low, at + width, low + high), ((end, low), (end, low + high))
            along = (end - 0.25, low, end + 0.25, low + high)
            clear = taken.free(along) and taken.free(box, beside=[one.box for one in found])
            if clear and low > floor:
                found.append(_Number(words=(words,), box=box, leader=edge))
                break
    return found if len(found) == 2 else []


# The panel at full size


def _full_size_page(
    sheet: Sheet,
    pattern: Pattern,
    guide: Tiling,
    items: Sequence[LaidItem],
    tile: Tile,
    taken: Sequence[Bounds],
) -> None:
    name = tile.name
    sheet.begin(sheet.tell(said.full_size_bookmark(name)), note=sheet.tell(said.full_size_note(name)))
    a, _, _, d, e, f = sheet.to_paper()
    onto: Matrix = (a, 0.0, 0.0, d, e - a * tile.window[0], f - d * tile.window[1])
    canvas = sheet.canvas
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(sheet.left, sheet.bottom, sheet.right - sheet.left, sheet.top - sheet.bottom)
    canvas.clipPath(window, stroke=0, fill=0)
    draw_panel(canvas, pattern, items, onto, window=tile.window)
    canvas.restoreState()
    draw_seams(sheet, guide, name, onto)
    at, size = sheet.map_box(guide)
    tile_map(
        sheet, guide, outline_of_all(items), at, size, first_page=None, shaded=name, stamp="map-of-panel"
    )
    draw_tile_name(sheet, guide, tile, taken, onto)
    if pattern.outlines:
        sheet.remark(sheet.tell(said.LETTER_ON_OUTLINE))
