"""The numbers on the placement guide's small drawing: under ticks, at ends of rows, at points of slanting baselines.

They keep clear of all that is drawn and of each other; what has no room is said by the table. Places are points.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Final

from shapely.affinity import affine_transform

from applique.geometry.points import Bounds, Matrix, Point, meet, point_under
from applique.language import Message
from applique.marks import PanelLines, RowMark
from applique.panel import on_panel
from applique.pattern import Pattern
from applique.sheets.frame import Sheet
from applique.sheets.guide_lines import (
    CROSS,
    TICK,
    baseline_path,
    cross_on,
    crossed,
    lean_lines,
    tick_under,
)
from applique.sheets.spots import Taken
from applique.sheets.strokes import HAIR, INK, line_on
from applique.units import Units
from applique.words import guide as said
from applique.words.sheets import angle_said

__all__ = ["SMALL", "draw_numbers"]

SMALL: Final = 7.0
"""Size of the numbers."""
_SMALL_LEADING: Final = 8.0
_OFF_INK: Final = 0.8
"""Points from the end of a row to the short line beside it."""
_TIER: Final = _SMALL_LEADING + 2.0
_MOST_TIERS: Final = 4
_MOST_TRIED: Final = 1500
"""Places that are tried for the numbers of one row."""
_NEAR: Final = 8
"""So many numbers before one may stand in its way."""
_SHIFT: Final = 3.0
"""Points by which a number is moved to find room."""
_PAST_TICK: Final = 0.4
"""Points by which a number stands beside its tick, where a line such as the center line runs right beside that."""
_CLEAR: Final = 1.25
"""Points of white around a number, and on either side of one in a row of numbers."""
_APART_BESIDE: Final = 2.5


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
            y = top - _CLEAR - SMALL * 0.75 - count * _SMALL_LEADING
            sheet.letters.draw(words, at, y, SMALL, anchor=self.anchor)


def draw_numbers(
    sheet: Sheet, pattern: Pattern, onto: Matrix, lines: PanelLines, tick: float, could: said.Drawn
) -> said.Drawn:
    """Under every tick how far it is from the center line, where all those of its row have room; else the two ends of
    the row. At both points of a slanting baseline where they are; by a letter that is turned, how far.

    Numbers keep clear of all that is drawn, and of each other. Returns what the drawing shows of all that
    it `could` show.
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
    return replace(could, points=could.points and points, middles=middles, ends=ends, short=short, bare=bare)


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
        width = max(sheet.letters.width(line, SMALL) for line in words) + 2 * _CLEAR
        high = len(words) * _SMALL_LEADING + _CLEAR
        x, y = point_under(onto, at_panel)
        away = CROSS + 1.5
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
        (_, own), (_, square) = lean_lines(letter.lean, onto)
        words = sheet.tell(angle_said(letter.turn_deg))
        width, high = sheet.letters.width(words, SMALL) + 2 * _CLEAR, _SMALL_LEADING + _CLEAR
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
    taken = Taken((*point_under(onto, lines.cut_edge[:2]), *point_under(onto, lines.cut_edge[2:])), small)
    for mark in pattern.marks:
        taken.take_line(baseline_path(mark, onto))
        for letter in mark.ticked:
            taken.take_line(tick_under(letter, onto, tick, across=mark.runs_down))
        for letter in () if mark.by_word else mark.letters:
            for line in lean_lines(letter.lean, onto) if letter.lean else ():
                taken.take_line(line)
            if letter.own:
                taken.take_line([point_under(onto, point) for point in letter.own.ends])
        for point in crossed(mark):
            for stroke in cross_on(point, onto):
                taken.take_line(stroke)
    for path in lines.edge_paths:
        taken.take_line([point_under(onto, point) for point in path])
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
    wide = [sheet.letters.width(number, SMALL) + 2 * _APART_BESIDE for number in words]
    lower = (other.height for other in pattern.marks if other.height < mark.height and not other.runs_down)
    next_row = max(lower, default=-math.inf)
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
        top = y - TICK - 1.5 - tier * _TIER
        leader = ((x, y - tick), (x, top)) if tier else None
        if leader is not None:
            along = (x - 0.25, top, x + 0.25, y - tick - 1.0)
            if not taken.free(along, over_shapes=True) or any(meet(along, other) for other in boxes):
                continue
        # Beside a tick that the center line runs along, a number keeps as near to it as it can.
        slim = half - _APART_BESIDE + _CLEAR
        spots = [(step * _SHIFT, half, _APART_BESIDE) for step in range(int(half // _SHIFT) + 1)]
        for far, reach, clear in (*spots, (slim + _PAST_TICK, slim, _CLEAR)):
            for shift in (far, -far):
                low = x + shift - reach
                box = (low, top - _SMALL_LEADING - _CLEAR, low + 2 * reach, top)
                if x + shift >= least and taken.free(box, beside=(*boxes, *lines)):
                    anchor = "start" if shift > 0 else "end" if shift < 0 else "middle"
                    yield _Number(words=(wanted.words,), box=box, anchor=anchor, leader=leader, clear=clear)


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
    lower = (other.height for other in pattern.marks if other.height < mark.height and not other.runs_down)
    next_row = max(lower, default=-math.inf)
    floor = onto[3] * next_row + onto[5]
    found: list[_Number] = []
    for place, outward in ((mark.left, -1.0), (mark.right, 1.0)):
        words = sheet.tell(said.beside_center(place, pattern.design.units))
        width, high = sheet.letters.width(words, SMALL) + 2 * _CLEAR, _SMALL_LEADING + _CLEAR
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
