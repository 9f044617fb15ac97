"""The placement drawing: the panel with its center line, its baselines, its ticks and their distances.

Distances are in the frame of the panel, inches; drawings are points, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from shapely import maximum_inscribed_circle
from shapely.geometry import LineString

from applique.drawings.values import (
    CUT,
    FINE,
    HAIR,
    PAPER,
    QUIET,
    Anchor,
    Drawing,
    Mark,
    Shape,
    Words,
    box,
    line,
    path,
    text_width,
)
from applique.drawings.vocabulary import RIGHT_SIDE, disc, iron, leader, pin, spread
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Matrix, Point, meet, middle_of, point_under
from applique.geometry.polygons import Shape as Area
from applique.geometry.polygons import polygon_of
from applique.language import Message, Speech
from applique.marks import PanelLines, RowMark
from applique.picture import Item, Part
from applique.units import Units
from applique.words.instructions.placing import (
    CENTER_LINE,
    CUT_TOP_EDGE,
    EDGE_TO_TRIM_TO,
    FINISHED_EDGE,
    PRESS_CLOTH,
    down_said,
    point_lines_said,
    row_named,
    side_said,
)

__all__ = ["draw_fused_down", "draw_placing", "has_ends_beside", "has_ends_within"]

_SIDE: Final = 70.0
"""Points beside the panel for the distances of the baselines on its left, the names of the rows on its right."""
_ABOVE: Final = 24.0
_BELOW: Final = 4.0
_SMALL: Final = 9.0
_BEYOND: Final = 20.0
"""Points by which the name of an edge may stand out on the right of the panel."""
_LETTER: Final = "#dedede"
_TRIMMED: Final = replace(FINE, color=QUIET, dashes=(6.0, 2.5))
_FINISHED: Final = replace(FINE, color=QUIET, dashes=(2.0, 2.0))
_CENTER: Final = replace(FINE, dashes=(8.0, 2.5, 2.0, 2.5))
_BASELINE: Final = replace(FINE, dashes=(4.0, 2.0))
_CROSS: Final = 2.5
_TICK: Final = (1.0, 6.0)
_FUSED: Final = (210.0, 120.0)
_BOTH: Final = 2
_END_LOW: Final = 11.0
"""Points from the distance of a baseline down to the end of its row."""
_PIECE: Final = 6.0
"""Points of a slanting line that one box stands for."""
_POINT_LINE: Final = 10.0
"""Points from one line of words at a point to the next."""
_FROM_POINT: Final = 6.0
"""Points from a point to words beside it."""
_ACROSS: Final = (440.0, 240.0)
"""Points where letters would otherwise be lower than `_LOW`; they are drawn without an edge, in one gray."""
_LOW: Final = 9.0
_SOLID: Final = "#8a8a8a"
_CLOTH: Final = 32.0
"""Points from the middle of a press cloth to the edge of the panel, at the least."""
_HEM: Final = replace(HAIR, dashes=(2.5, 1.5))
_PINNED: Final = 24
"""Letters that are shown with a pin."""
_PIN_LONG: Final = (13.0, 11.0, 9.0, 7.0, 5.5, 4.0, 3.0, 2.0)
_PIN_TURN: Final = 15
"""Points that such a pin may be long, the longest first, and degrees from one way it may lie to the next."""
_HEAD: Final = 1.6
_IN_STROKE: Final = 0.6
"""Points from the middle of its head to the edge, and of half the width of the letter there, at the most."""


def draw_placing(
    lines: PanelLines,
    marks: Sequence[RowMark],
    items: Iterable[Item],
    inked: Iterable[Bounds],
    size: Point,
    units: Units,
    speech: Speech,
    said: Message,
    *,
    edge: Message = CUT_TOP_EDGE,
    framed: bool = True,
    finished: bool = True,
) -> Drawing:
    """The panel, `framed` by its edge, a cut one with its `finished` edge too, as large as `size` points allow, with
    all its marks.

    `items` are letters, and what lies behind them, at their places on the panel, and `inked` their extents. Left of it
    stands how far each level baseline is below what `edge` says, right of it which row that is, and beside each row how
    far its ends are from the center line, where nothing else is.
    """
    x0, y0, x1, y1 = lines.cut_edge
    scale = min((size[0] - 2 * _SIDE) / (x1 - x0), (size[1] - _ABOVE - _BELOW) / (y1 - y0))
    onto: Matrix = (scale, 0.0, 0.0, scale, _SIDE - x0 * scale, _BELOW - y0 * scale)
    width, height = (x1 - x0) * scale, (y1 - y0) * scale
    drawn: list[Mark] = [box(_SIDE, _BELOW, width, height, fill=PAPER, ink=CUT if framed else None)]
    for item in items:
        fill = PAPER if item.part is Part.OUTLINE else _LETTER
        drawn.append(Shape(outline=_laid(item, onto), fill=fill, ink=HAIR))
    taken = [(*point_under(onto, one[:2]), *point_under(onto, one[2:])) for one in inked]
    drawn += _edges(lines, onto, speech, edge, finished=finished)
    for mark in marks:
        drawn += _row(mark, onto)
    inside = tuple(point_under(onto, (x, 0.0))[0] for x in (lines.finished_edge[0], lines.finished_edge[2]))
    reach = (_BELOW, _BELOW + height)
    ends = list(
        _ends(marks, onto, taken, _crossed(lines, marks, onto), (inside[0], inside[1]), units, speech)
    )
    drawn += ends
    drawn += _beside(marks, onto, (_SIDE, _SIDE + width), reach, units, ends=not ends)
    return Drawing(width=width + 2 * _SIDE, height=height + _BELOW + _ABOVE, marks=tuple(drawn), said=said)


def _edges(
    lines: PanelLines, onto: Matrix, speech: Speech, top_edge: Message, *, finished: bool
) -> Iterator[Mark]:
    """Where the panel is trimmed and finished, its center line, each with what it is above it, and the first line of
    letters alone."""
    if lines.first_line is not None:
        yield line([point_under(onto, point) for point in lines.first_line], FINE)
    for outline, ink in zip(lines.outlines or (), (_TRIMMED, _FINISHED), strict=False):
        yield Shape(outline=outline.transformed(onto), ink=ink)
    for edge, ink in ((lines.trimmed_edge, _TRIMMED), (lines.finished_edge if finished else None, _FINISHED)):
        if edge is not None and lines.outlines is None:
            (left, low), (right, top) = point_under(onto, edge[:2]), point_under(onto, edge[2:])
            yield box(left, low, right - left, top - low, ink=ink)
    (x, low), (_, top) = (point_under(onto, point) for point in lines.center_line)
    yield line(((x, low - 3), (x, top + 10)), _CENTER)
    yield Words(said=CENTER_LINE, at=(x, top + 13), size=_SMALL, anchor=Anchor.MIDDLE)
    left = point_under(onto, lines.cut_edge[:2])[0]
    yield Words(said=top_edge, at=(left, top + 3), size=_SMALL, color=QUIET, anchor=Anchor.END)
    half = (text_width(speech.tell(CENTER_LINE), _SMALL) / 2) + _FROM_POINT
    for edge, words, way in (
        (lines.trimmed_edge, EDGE_TO_TRIM_TO, -1),
        (lines.finished_edge if finished else None, FINISHED_EDGE, 1),
    ):
        wide = text_width(speech.tell(words), _SMALL)
        beyond = _BEYOND if way > 0 else 0.0
        if edge is None or half + wide > x - left + beyond:
            continue
        at = x + way * max(half + wide / 2, min((x - left + half) / 2, half + wide))
        yield Words(said=words, at=(at, top + 13), size=_SMALL, color=QUIET, anchor=Anchor.MIDDLE)
        reached = point_under(onto, (0.0, lines.top_at((at - onto[4]) / onto[0], edge)))[1]
        yield line(((at, top + 11), (at, reached)), HAIR)
        yield disc((at, reached), 1.2, fill=QUIET)


def _crossed(lines: PanelLines, marks: Sequence[RowMark], onto: Matrix) -> list[Bounds]:
    """The room of all lines on the panel, those that slant in short pieces."""
    paths: list[Sequence[Point]] = [
        lines.center_line,
        *(mark.baseline for mark in marks),
        *lines.edge_paths,
    ]
    found: list[Bounds] = []
    for path_of in paths:
        for start, end in pairwise(point_under(onto, point) for point in path_of):
            count = max(1, math.ceil(math.dist(start, end) / _PIECE))
            stops = [
                (start[0] + (end[0] - start[0]) * part / count, start[1] + (end[1] - start[1]) * part / count)
                for part in range(count + 1)
            ]
            found += (
                (min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
                for a, b in pairwise(stops)
            )
    return found


def _row(mark: RowMark, onto: Matrix) -> Iterator[Mark]:
    """A baseline with a tick under the middle of each letter, unless those are laid word by word, or the line of a row
    that runs down with one across it for each letter that is not turned, and a cross at each
    end of one that slants, and of the own baseline of a letter that is turned."""
    yield line([point_under(onto, point) for point in mark.baseline], _BASELINE)
    crossed = [] if mark.level else [mark.baseline[0], mark.baseline[-1]]
    for letter in mark.letters:
        if letter.own is not None:
            yield line([point_under(onto, point) for point in letter.own.ends], FINE)
            crossed += letter.own.ends
    for point in crossed:
        x, y = point_under(onto, point)
        yield line(((x - _CROSS, y - _CROSS), (x + _CROSS, y + _CROSS)), FINE)
        yield line(((x - _CROSS, y + _CROSS), (x + _CROSS, y - _CROSS)), FINE)
    start = _TICK[1] if mark.runs_down else -_TICK[0]
    for letter in mark.ticked:
        x, y = point_under(onto, (letter.tick.x, letter.tick.y))
        tick = Place(x=x, y=y, turn_deg=letter.tick.turn_deg)
        yield line((tick.point((0.0, start)), tick.point((0.0, -_TICK[1]))), FINE)


def _ends(
    marks: Sequence[RowMark],
    onto: Matrix,
    inked: Sequence[Bounds],
    crossed: Sequence[Bounds],
    panel: tuple[float, float],
    units: Units,
    speech: Speech,
) -> Iterator[Mark]:
    """How far both ends of level rows are from the center line, beside them, each with a short line up the edge that it
    is of, where all of them have room; and where the two points of slanting ones are, with no line of those `crossed`
    through them. No number stands over ink or another number, and all between the sides of `panel`."""
    center = (panel[0] + panel[1]) / 2
    taken = list(inked)
    level: list[Mark] = []
    bare = False
    for mark in marks:
        if not mark.level:
            points = _points(mark, onto, (*taken, *crossed), panel, units, speech)
            taken += [room for room, _ in points]
            yield from (words for _, both in points for words in both)
            continue
        y = point_under(onto, (0.0, mark.height))[1] + 3
        found: list[tuple[Bounds, Words, Shape]] = []
        for place, anchor in ((mark.left, Anchor.END), (mark.right, Anchor.START)):
            words = speech.tell(side_said(place, units))
            wide = text_width(words, _SMALL)
            end = center + onto[0] * place + (-1 if anchor is Anchor.END else 1)
            x = end + (-3 if anchor is Anchor.END else 3)
            left = x - wide if anchor is Anchor.END else x
            room = (left - 1, y - 2, left + wide + 1, y + _SMALL)
            on_center = room[0] < center < room[2]
            inside = panel[0] + 2 <= room[0] and room[2] <= panel[1] - 2
            if inside and not on_center and not any(meet(room, other) for other in taken):
                edge = line(((end, y - 2), (end, y + _SMALL)), FINE)
                found.append((room, Words(said=words, at=(x, y), size=_SMALL, anchor=anchor), edge))
        bare = bare or len(found) < _BOTH
        for room, number, edge in found:
            taken.append(room)
            level += (number, edge)
    if not bare:  # some rows or one end alone would read as a mistake; the table has all
        yield from level


def _points(
    mark: RowMark,
    onto: Matrix,
    taken: Sequence[Bounds],
    panel: tuple[float, float],
    units: Units,
    speech: Speech,
) -> list[tuple[Bounds, tuple[Words, ...]]]:
    """Where the two points of a slanting baseline are, in two lines around each, with the room that they take; nothing
    where only one of the points has room."""
    found: list[tuple[Bounds, tuple[Words, ...]]] = []
    for point, at in zip(mark.ends, (mark.baseline[0], mark.baseline[-1]), strict=True):
        lines = tuple(speech.tell(line) for line in point_lines_said(point, units))
        wide = max(text_width(words, _SMALL) for words in lines)
        full = (*taken, *(one for one, _ in found))
        for wanted, low in _around_point(point_under(onto, at), wide):
            left = min(max(wanted, panel[0] + 3), panel[1] - 3 - wide)
            room = (left - 1, low, left + wide + 1, low + 2 * _POINT_LINE + 1)
            if not any(meet(room, other) for other in full):
                across, down = lines
                words = (
                    Words(said=across, at=(left, low + _POINT_LINE + 2), size=_SMALL, anchor=Anchor.START),
                    Words(said=down, at=(left, low + 2), size=_SMALL, anchor=Anchor.START),
                )
                found.append((room, words))
                break
    return found if len(found) == _BOTH else []


def _around_point(at: Point, wide: float) -> Iterator[Point]:
    """The lower left corners of words so `wide` that are tried around a point, the nearest below it first."""
    x, y = at
    sides = (x - wide / 2, x + _FROM_POINT, x - _FROM_POINT - wide)
    for off in (9.0, 14.0, 19.0, 24.0, 29.0):
        for left in sides:
            yield left, y - off - 2 * _POINT_LINE
        for left in sides:
            yield left, y + off


def _beside(
    marks: Sequence[RowMark],
    onto: Matrix,
    panel: tuple[float, float],
    reach: tuple[float, float],
    units: Units,
    *,
    ends: bool,
) -> Iterator[Mark]:
    """Distances of level baselines on the left of the panel, names of all rows on its right, none over another.

    Below them stand the `ends` of rows, if they are to stand there and rows are far enough apart.
    """
    heights = [point_under(onto, (0.0, mark.height))[1] for mark in marks]
    level = [(y, mark) for y, mark in zip(heights, marks, strict=True) if mark.level]
    for (y, mark), at in zip(level, spread([y for y, _ in level], reach, _POINT_LINE), strict=True):
        yield line(((panel[0] - 1, y), (panel[0] - 5, at)), HAIR)
        yield Words(
            said=down_said(mark.baseline_from_top, units),
            at=(panel[0] - 7, at - 2.5),
            size=_SMALL,
            bold=True,
            anchor=Anchor.END,
        )
    for (y, mark), at in zip(
        zip(heights, marks, strict=True), spread(heights, reach, _POINT_LINE), strict=True
    ):
        yield line(((panel[1] + 1, y), (panel[1] + 5, at)), HAIR)
        yield Words(said=row_named(mark), at=(panel[1] + 7, at - 2.5), size=_SMALL)
    apart = min((upper - lower for upper, lower in pairwise(sorted(heights, reverse=True))), default=math.inf)
    low = min(heights, default=0.0) - _END_LOW - 2.5
    if not ends or apart < 2 * _END_LOW or low < reach[0] or len(level) < len(marks):
        return
    for y, mark in level:
        for place, x, anchor in (
            (mark.left, panel[0] - 7, Anchor.END),
            (mark.right, panel[1] + 7, Anchor.START),
        ):
            low_at = (x, y - 2.5 - _END_LOW)
            yield Words(said=side_said(place, units), at=low_at, size=_SMALL, color=QUIET, anchor=anchor)


def has_ends_beside(drawing: Drawing, marks: Sequence[RowMark], units: Units) -> bool:
    """Whether a placement drawing has the ends of rows beside the panel, in gray."""
    ends = {side_said(place, units) for mark in marks for place in (mark.left, mark.right)}
    return any(isinstance(one, Words) and one.color == QUIET and one.said in ends for one in drawing.marks)


def has_ends_within(drawing: Drawing, marks: Sequence[RowMark], units: Units, speech: Speech) -> bool:
    """Whether a placement drawing has the ends of rows beside their letters, each with a line up the edge it is of."""
    ends = {speech.tell(side_said(place, units)) for mark in marks for place in (mark.left, mark.right)}
    return any(isinstance(one, Words) and one.said in ends for one in drawing.marks)


def draw_fused_down(
    lines: PanelLines,
    items: Iterable[Item],
    inked: Sequence[Bounds],
    said: Message,
    speech: Speech,
    *,
    fused: bool,
    framed: bool,
) -> Drawing:
    """The letters on the panel, `framed` by its edge, under press cloth and iron, or held with pins; `inked` are the
    the extents of letters."""
    x0, y0, x1, y1 = lines.cut_edge
    scale = min(_FUSED[0] / (x1 - x0), _FUSED[1] / (y1 - y0))
    low = max((top - foot for _, foot, _, top in inked), default=0.0) * scale < _LOW
    if low:
        scale = min(_ACROSS[0] / (x1 - x0), _ACROSS[1] / (y1 - y0))
    onto: Matrix = (scale, 0.0, 0.0, scale, -x0 * scale, -y0 * scale)
    wide, high = (x1 - x0) * scale, (y1 - y0) * scale
    marks: list[Mark] = [box(0, 0, wide, high, fill=PAPER, ink=CUT if framed else None)]
    ink = None if low else FINE
    items = list(items)
    marks += (Shape(outline=_laid(item, onto), fill=_SOLID if low else RIGHT_SIDE, ink=ink) for item in items)
    middles = [point_under(onto, middle_of(one)) for one in inked]
    if fused:
        x, y = min(middles, key=lambda at: math.dist(at, (wide / 2, high / 2)))
        x, y = max(_CLOTH, min(x, wide - _CLOTH)), max(_CLOTH, min(y, high - _CLOTH))
        corners = ((-26, -22), (27, -25), (26, 21), (-27, 24))
        marks.append(Shape(outline=path((x + over, y + up) for over, up in corners), fill=PAPER, ink=FINE))
        hem = ((-22, -18), (23, -21), (22, 17), (-23, 20), (-22, -18))
        marks.append(line([(x + over, y + up) for over, up in hem], _HEM))
        marks += iron((x - 20, y - 8))
        marks += leader((wide + 10, y - 16), (x + 22, y - 16), PRESS_CLOTH)
        wide += 12 + text_width(speech.tell(PRESS_CLOTH), _SMALL)
    else:
        letters = [item for item in items if item.part is not Part.OUTLINE]
        for item in letters[:_PINNED]:
            marks += _pinned(polygon_of(_laid(item, onto), chord_error=0.1))
    return Drawing(width=wide + 1, height=high + 1, marks=tuple(marks), said=said)


def _pinned(letter: Area) -> Iterator[Mark]:
    """A pin wholly within a letter: through its widest place, the way in which it can be longest."""
    widest = maximum_inscribed_circle(letter)
    (x, y), head = widest.coords[0], min(_HEAD, _IN_STROKE * widest.length)
    room = letter.buffer(-head)
    for long in _PIN_LONG:
        for turn in range(0, 180, _PIN_TURN):
            across, up = (long / 2 * part(math.radians(turn)) for part in (math.cos, math.sin))
            start, end = (x - across, y + up), (x + across, y - up)
            if room.contains(LineString((start, end))):
                yield from pin(start, end, head=head)
                return


def _laid(item: Item, onto: Matrix) -> Outline:
    """An item at its place, under a matrix that only scales and moves."""
    a, b, c, d, e, f = item.place.matrix
    scale, _, _, _, x, y = onto
    return item.outline.transformed(
        (a * scale, b * scale, c * scale, d * scale, e * scale + x, f * scale + y)
    )
