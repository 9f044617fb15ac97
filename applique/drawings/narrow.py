"""A drawing as a narrow screen shows it: its words as large as they are read there, and what has no room told below.

Frame: points of the drawing, y up.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from heapq import heapify, heappop, heappush
from itertools import count as counted
from itertools import pairwise, product
from typing import Final

import shapely
from shapely import STRtree, affinity
from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from applique.drawings.values import (
    HAIR,
    INK,
    PAPER,
    QUIET,
    Anchor,
    Drawing,
    Mark,
    Shape,
    Words,
    line,
    text_width,
)
from applique.drawings.vocabulary import disc
from applique.geometry.points import Bounds, Point, point_under
from applique.language import Message

__all__ = ["Narrow", "narrowed"]

Plain = Callable[[str | Message], str]

_ABOVE: Final = 0.95
_BELOW: Final = 0.25
"""Of their size, what words take above and below their baseline."""
_LEADING: Final = 1.15
_MOST_LINES: Final = 3
_MOVED: Final = 1.0
"""Sizes by which words may move to stay within the drawing."""
_SEAT: Final = 0.75
"""Of its size, what a number that stands for words takes to either side of its middle: the radius of its disc."""
_BESIDE: Final = 1.6
"""Sizes from where its words stood that such a number may lie off without a line that leads there."""
_STEP: Final = 0.4
"""Sizes from one place that is tried for it to the next."""
_APART: Final = 0.12
"""Sizes from words to others, and from a number to all that is drawn."""
_ACROSS_LINE: Final = 6.0
"""Sizes by which a place on the other side of a line counts as farther off."""
_TOUCHES: Final = 0.01
_SPECK: Final = 3.0
"""Points across of dots on a wrong side and ends of leaders, which words may cover."""
_CURVED: Final = 4
"""Straight parts that a curve counts as."""
_SHIFTS: Final = (0.0, -0.5, 0.5, -1.0, 1.0, -1.5, 1.5)
"""Sizes by which words may go up or down where they would meet others."""
_RING: Final = 3.0
"""A ring around words is at most so many of their sizes wide."""
_NAME: Final = 2
"""Words of so many signs are names or numbers of what they stand on, and stay there."""
_GROWN: Final = 1.1
"""Words that are so much larger than they were have a ground of paper, for they may come over lines."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrow:
    """A drawing with all its words large enough, and for each number on a disc in it the words that it stands for."""

    drawing: Drawing
    told: tuple[tuple[str, str | Message], ...]


@dataclass(frozen=True, slots=True)
class _Seated:
    """Words as they are set, in lines, or the number that stands for them; and the room that they take."""

    marks: tuple[Mark, ...]
    room: Polygon


class _Drawn:
    """The lines and edges of a drawing, which words that have moved or grown must not cover."""

    def __init__(self, shapes: Sequence[Mark]) -> None:
        self._edges = [edge for shape in shapes if isinstance(shape, Shape) for edge in _edges(shape)]
        self._tree = STRtree(self._edges)

    def met(self, room: BaseGeometry) -> frozenset[int]:
        """Which of them `room` touches."""
        return frozenset(int(index) for index in self._tree.query(room, predicate="intersects"))

    def clear(self, spots: Sequence[Point], far: float, full: Sequence[Polygon]) -> list[Point]:
        """Those of the spots with nothing of the drawing nor of the rooms that are `full` as near as `far`."""
        points = shapely.points(spots)
        near = {int(index) for index in self._tree.query(points, predicate="dwithin", distance=far)[0]}
        near |= {int(index) for index in STRtree(full).query(points, predicate="dwithin", distance=far)[0]}
        return [spot for index, spot in enumerate(spots) if index not in near]


def _edges(shape: Shape) -> Iterator[LineString]:
    """The outline of a shape in straight parts; nothing of a speck."""
    if not shape.outline:
        return
    x0, y0, x1, y1 = shape.outline.bounds()
    if max(x1 - x0, y1 - y0) < _SPECK:
        return
    for contour in shape.outline.contours:
        points = [contour.start]
        for segment in contour.segments:
            points += _along(points[-1], segment)
        if not shape.open:
            points.append(contour.start)
        if len(points) > 1:
            yield LineString(points)


def _along(start: Point, segment: Sequence[Point]) -> Iterator[Point]:
    """Points of a segment, a curve in a few straight parts."""
    if len(segment) == 1:
        yield segment[0]
        return
    for part in range(1, _CURVED + 1):
        points, share = [start, *segment], part / _CURVED
        while len(points) > 1:
            points = [
                (ax + (bx - ax) * share, ay + (by - ay) * share) for (ax, ay), (bx, by) in pairwise(points)
            ]
        yield points[0]


def narrowed(drawing: Drawing, plain: Plain, *, least: float) -> Narrow:
    """`drawing` with no word smaller than `least` points, every word told in `plain` text.

    Words that then have no room are a number on a disc, clear of all lines. Names and numbers keep their places, and
    rings about them grow with them; the key takes as many rows as it needs.
    """
    key, foot = _key(drawing, plain, least)
    drawing = _without_key(drawing, foot)
    words = [mark for mark in drawing.marks if isinstance(mark, Words) and plain(mark.said).strip()]
    shapes = [mark for mark in drawing.marks if not isinstance(mark, Words)]
    frame = box(0, foot, drawing.width, drawing.height)
    round_ones = _round_ones(shapes)
    rings = {
        index: ring
        for index, one in enumerate(words)
        if (ring := _ring_of(one, round_ones, plain)) is not None
    }
    grown = {ring: max(1.0, least / words[index].size) for index, ring in rings.items()}
    around: list[Mark] = [_grown(mark, grown.get(place, 1.0)) for place, mark in enumerate(shapes)]
    drawn = _Drawn(around)
    kept = {index for index, one in enumerate(words) if len(plain(one.said)) <= _NAME} | set(rings)
    order = sorted(
        range(len(words)), key=lambda index: (index not in kept, -words[index].at[1], words[index].at[0])
    )
    seated: dict[int, _Seated] = {}
    for index in order:
        full = [one.room for one in seated.values()]
        tried = _ways(words[index], plain, max(words[index].size, least), frame, fixed=index in kept)
        if index not in kept:
            tried = _clear(tried, _room(words[index], plain(words[index].said)), drawn, full, _APART * least)
        found = next(tried, None)
        if found is not None:
            seated[index] = found
    told: dict[str, tuple[str, str | Message]] = {}
    numbers = _numbers({plain(one.said) for one in words})
    for index in (one for one in order if one not in seated):
        text = plain(words[index].said)
        if text not in told:
            told[text] = (next(numbers), words[index].said)
        full = [one.room for one in seated.values()]
        seated[index] = _numbered(words[index], told[text][0], plain, least, frame, drawn, full)
    top = max((one.room.bounds[3] for one in seated.values()), default=0.0)
    marks = (*around, *(mark for index in range(len(words)) for mark in seated[index].marks), *key)
    return Narrow(
        drawing=replace(drawing, height=max(drawing.height, top), marks=marks, in_key=len(key), foot=foot),
        told=tuple(told.values()),
    )


def _clear(
    tried: Iterator[_Seated], stood: Polygon, drawn: _Drawn, full: Sequence[Polygon], apart: float
) -> Iterator[_Seated]:
    """Those of the ways on which words meet no others, and no line but what they stood on."""
    allowed = drawn.met(stood)
    for one in tried:
        if (
            not _meets(one.room.buffer(apart), full)
            and drawn.met(one.room.union(stood).convex_hull) <= allowed
        ):
            yield one


def _key(drawing: Drawing, plain: Plain, size: float) -> tuple[list[Mark], float]:
    """The key of `drawing` with words of `size` at least, in as many rows as it takes, and how high it then is.

    Each of its entries is as much larger as its words are; the next one begins with the first shape behind words.
    """
    entries: list[list[Mark]] = []
    for mark in drawing.marks[len(drawing.marks) - drawing.in_key :]:
        if not entries or (isinstance(mark, Shape) and isinstance(entries[-1][-1], Words)):
            entries.append([])
        entries[-1].append(mark)
    rows: list[list[tuple[list[Mark], float, float]]] = []
    x = high = 0.0
    for entry in entries:
        said = next(mark for mark in reversed(entry) if isinstance(mark, Words))
        shapes = [mark for mark in entry if isinstance(mark, Shape)]
        left = min(mark.outline.bounds()[0] for mark in shapes)
        factor = max(1.0, size / said.size)
        wide = (said.at[0] - left + text_width(plain(said.said), said.size)) * factor
        high = max(high, max(mark.outline.bounds()[3] for mark in shapes) - said.at[1], said.size)
        if not rows or x + wide > drawing.width:
            rows.append([])
            x = 0.0
        rows[-1].append((entry, x - left * factor, factor))
        x += wide + size
    apart = max((factor for row in rows for _, _, factor in row), default=1.0) * high + _BELOW * size
    marks: list[Mark] = []
    for index, row in enumerate(reversed(rows)):
        for entry, across, factor in row:
            said = next(mark for mark in reversed(entry) if isinstance(mark, Words))
            onto = (factor, 0.0, 0.0, factor, across, index * apart + _BELOW * size - said.at[1] * factor)
            for mark in entry:
                if isinstance(mark, Shape):
                    marks.append(replace(mark, outline=mark.outline.transformed(onto)))
                elif isinstance(mark, Words):
                    marks.append(replace(mark, at=point_under(onto, mark.at), size=mark.size * factor))
    return marks, len(rows) * apart + _BELOW * size if rows else 0.0


def _without_key(drawing: Drawing, foot: float) -> Drawing:
    """`drawing` with `foot` points for a key, and none in it."""
    up = foot - drawing.foot
    onto = (1.0, 0.0, 0.0, 1.0, 0.0, up)
    return replace(
        drawing,
        height=drawing.height + up,
        in_key=0,
        marks=tuple(
            replace(mark, outline=mark.outline.transformed(onto))
            if isinstance(mark, Shape)
            else replace(mark, at=(mark.at[0], mark.at[1] + up))
            for mark in drawing.marks[: len(drawing.marks) - drawing.in_key]
        ),
    )


def _numbers(taken: set[str]) -> Iterator[str]:
    """Numbers that the drawing does not use itself, from 1."""
    return (str(number) for number in counted(1) if str(number) not in taken)


def _middle(words: Words, plain: Plain) -> Point:
    found = _room(words, plain(words.said)).centroid
    return float(found.x), float(found.y)


def _room(words: Words, text: str) -> Polygon:
    """The room that a line of words takes, turned as it is."""
    (x, y), wide = words.at, text_width(text, words.size, bold=words.bold)
    left = x - {Anchor.START: 0.0, Anchor.MIDDLE: wide / 2, Anchor.END: wide}[words.anchor]
    level = box(left, y - _BELOW * words.size, left + wide, y + _ABOVE * words.size)
    return affinity.rotate(level, words.turn_deg, origin=(x, y)) if words.turn_deg else level


def _round_ones(shapes: Sequence[Mark]) -> list[tuple[int, Bounds]]:
    """Which of the shapes may be rings about words, and where each lies."""
    return [
        (place, shape.outline.bounds())
        for place, shape in enumerate(shapes)
        if isinstance(shape, Shape) and not shape.open and _is_round(shape)
    ]


def _ring_of(words: Words, round_ones: Sequence[tuple[int, Bounds]], plain: Plain) -> int | None:
    """Which of the round shapes is a ring about these words."""
    room = _room(words, plain(words.said))
    x, y = room.centroid.x, room.centroid.y
    for place, (x0, y0, x1, y1) in round_ones:
        near = abs((x0 + x1) / 2 - x) < words.size * 0.4 and abs((y0 + y1) / 2 - y) < words.size * 0.4
        x2, _, x3, _ = room.bounds
        around = x0 <= x2 and x3 <= x1 and max(x1 - x0, y1 - y0) <= _RING * words.size
        if near and around:
            return place
    return None


def _is_round(shape: Shape) -> bool:
    return any(len(segment) > 1 for contour in shape.outline.contours for segment in contour.segments)


def _grown(mark: Mark, factor: float) -> Mark:
    """A ring larger about its middle."""
    if factor == 1.0 or not isinstance(mark, Shape):
        return mark
    x0, y0, x1, y1 = mark.outline.bounds()
    off = ((x0 + x1) / 2 * (1 - factor), (y0 + y1) / 2 * (1 - factor))
    return replace(mark, outline=mark.outline.transformed((factor, 0.0, 0.0, factor, *off)))


def _ways(words: Words, plain: Plain, size: float, frame: Polygon, *, fixed: bool) -> Iterator[_Seated]:
    """The words at `size` within the frame, in as few lines as there is room for."""
    text = plain(words.said)
    up = (words.size - size) * (_ABOVE - _BELOW) / 2
    ground = words.ground
    if ground is None and not fixed and size > _GROWN * words.size and words.color != PAPER:
        ground = PAPER
    at = words.at if words.turn_deg else (words.at[0], words.at[1] + up)
    large = replace(words, size=size, ground=ground, at=at)
    for count in range(1, 2 if words.turn_deg else _MOST_LINES + 1):
        parts = _parted(text, count)
        if len(parts) != count:
            return
        lines = [
            replace(
                large,
                said=words.said if count == 1 else part,
                at=(at[0], at[1] + size * _LEADING * ((count - 1) / 2 - index)),
            )
            for index, part in enumerate(parts)
        ]
        room = box(
            *shapely.union_all([_room(one, part) for one, part in zip(lines, parts, strict=True)]).bounds
        )
        for shift in (0.0,) if fixed else _SHIFTS:
            shifted = affinity.translate(room, 0.0, shift * size)
            across, along = (0.0, 0.0) if fixed else _within(shifted.bounds, frame.bounds)
            moved = affinity.translate(shifted, across, along)
            near = max(abs(across), abs(along)) <= _MOVED * size and frame.buffer(_TOUCHES).contains(moved)
            if fixed or near:
                up = along + shift * size
                yield _Seated(
                    tuple(replace(one, at=(one.at[0] + across, one.at[1] + up)) for one in lines), moved
                )


def _parted(text: str, count: int) -> list[str]:
    """`text` in so many lines, the longest of them as short as it can be."""
    words = text.split(" ")
    if count == 1:
        return [text]
    ways = [
        [" ".join(words[:cut]), *_parted(" ".join(words[cut:]), count - 1)]
        for cut in range(1, len(words) - count + 2)
    ]
    return min(ways, key=lambda lines: max(map(len, lines)), default=[])


def _meets(room: Polygon, others: Sequence[Polygon]) -> bool:
    """Whether a room touches any of `others`: hundreds of them, so they are not united first."""
    return bool(shapely.intersects(room, others).any())


def _within(room: tuple[float, ...], frame: tuple[float, ...]) -> Point:
    """How far a room has to move to lie within a frame."""
    across = max(frame[0] - room[0], 0.0) - max(room[2] - frame[2], 0.0)
    return across, max(frame[1] - room[1], 0.0) - max(room[3] - frame[3], 0.0)


def _numbered(
    words: Words,
    number: str,
    plain: Plain,
    size: float,
    frame: Polygon,
    drawn: _Drawn,
    full: Sequence[Polygon],
) -> _Seated:
    """A number on a disc in place of words, as near to where they stood as it is clear of all lines and of all other
    words, on the same side of lines if there is room; a thin line leads to where they stood if it lies farther off."""
    middle = _middle(words, plain)
    held = drawn.met(_room(words, plain(words.said)))

    def way(spot: Point) -> LineString:
        return LineString((middle, spot))

    radius = _SEAT * size
    far = radius + _APART * size
    grids = _grids(frame, size)
    inside = drawn.clear(next(grids), far, full)
    spot = _nearest(middle, inside, size, lambda spot: drawn.met(way(spot)) <= held) or next(
        found for row in grids if (found := _nearest(middle, drawn.clear(row, far, full), size))
    )
    led = way(spot).length > _BESIDE * size or not drawn.met(way(spot)) <= held
    marks: list[Mark] = [line((middle, spot), HAIR), disc(middle, 1.0, fill=QUIET)] if led else []
    marks.append(disc(spot, radius, fill=INK))
    at = (spot[0], spot[1] - size * (_ABOVE - _BELOW) / 2)
    marks.append(Words(said=number, at=at, size=size, bold=True, color=PAPER, anchor=Anchor.MIDDLE))
    return _Seated(tuple(marks), Spot(spot).buffer(far))


def _grids(frame: Polygon, size: float) -> Iterator[list[Point]]:
    """Places for such numbers: all over the frame, then rows above it, one after the other."""
    x0, y0, x1, y1 = frame.bounds
    edge, step = _SEAT * size, _STEP * size
    columns, lines = (max(1, int((b - a - 2 * edge) / step)) for a, b in ((x0, x1), (y0, y1)))
    xs = [x0 + edge + (x1 - x0 - 2 * edge) * part / columns for part in range(columns + 1)]
    ys = [y0 + edge + (y1 - y0 - 2 * edge) * part / lines for part in range(lines + 1)]
    yield list(product(xs, ys))
    for row in counted(1):
        yield [(x, y1 + (2 * row - 1) * 1.1 * edge) for x in xs]


def _nearest(
    middle: Point, spots: Sequence[Point], size: float, is_beside: Callable[[Point], bool] | None = None
) -> Point | None:
    """The spot nearest to `middle`, one that lies beside it before others that are not much farther off."""
    # The nearest is asked first what lies between: of thousands of places few are ever looked at.
    waiting = [(math.dist(spot, middle), index, is_beside is None) for index, spot in enumerate(spots)]
    heapify(waiting)
    while waiting:
        far, index, looked_at = heappop(waiting)
        if looked_at or is_beside is None or is_beside(spots[index]):
            return spots[index]
        heappush(waiting, (far + _ACROSS_LINE * size, index, True))
    return None
