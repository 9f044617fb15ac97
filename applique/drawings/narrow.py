"""A drawing as a narrow screen shows it: its words as large as they are read there, and what has no room told below.

Frame: points of the drawing, y up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count as counted
from typing import Final

import shapely
from shapely import affinity
from shapely.geometry import Polygon, box

from applique.drawings.values import PAPER, Anchor, Drawing, Mark, Shape, Words, text_width
from applique.geometry.points import Point
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
"""Of its size, what a letter that stands for words takes to either side of its middle."""
_AROUND: Final = tuple(
    (across * 0.8, up * 0.8)
    for across, up in sorted(
        ((x, y) for x in range(-6, 7) for y in range(-6, 7)), key=lambda at: at[0] ** 2 + at[1] ** 2
    )
)
"""Places about its own, in sizes, that such a letter may take, the nearest first."""
_RING: Final = 3.0
"""A ring around words is at most so many of their sizes wide."""
_NAME: Final = 2
"""Words of so many signs are names or numbers of what they stand on, and stay there."""
_GROWN: Final = 1.1
"""Words that are so much larger than they were have a ground of paper, for they may come over lines."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrow:
    """A drawing with all its words large enough, and for each letter in it the words that it stands for."""

    drawing: Drawing
    told: tuple[tuple[str, str | Message], ...]


@dataclass(frozen=True, slots=True)
class _Seated:
    """Words as they are set: in lines, and the room that they take."""

    lines: tuple[Words, ...]
    room: Polygon


def narrowed(drawing: Drawing, plain: Plain, *, least: float) -> Narrow:
    """`drawing` with no word smaller than `least` points, every word told in `plain` text.

    Words that then have no room are a small letter in the drawing. Names and numbers keep their places, and rings about
    them grow with them; the key takes as many rows as it needs.
    """
    key, foot = _key(drawing, plain, least)
    drawing = _without_key(drawing, foot)
    words = [mark for mark in drawing.marks if isinstance(mark, Words) and plain(mark.said).strip()]
    shapes = [mark for mark in drawing.marks if not isinstance(mark, Words)]
    frame = box(0, foot, drawing.width, drawing.height)
    names = {index for index, one in enumerate(words) if len(plain(one.said)) <= _NAME}
    rings = {
        index: ring for index, one in enumerate(words) if (ring := _ring_of(one, shapes, plain)) is not None
    }
    seats = {index: _seat(_middle(one, plain), max(one.size, least)) for index, one in enumerate(words)}
    seated: dict[int, _Seated] = {}
    kept = names | set(rings)
    order = sorted(seats, key=lambda index: (index not in kept, len(plain(words[index].said)), index))
    for index in order:
        tried = _ways(words[index], plain, max(words[index].size, least), frame, fixed=index in kept)
        if index in kept:
            found = next(tried, None)
        else:
            full = [seats[one] for one in seats if one != index and one not in seated]
            full += [one.room for one in seated.values()]
            found = next((one for one in tried if not _meets(one.room, full)), None)
        if found is not None:
            seated[index] = found
    told: dict[str, tuple[str, str | Message]] = {}
    letters = _letters({plain(one.said) for one in words})
    for index in (one for one in range(len(words)) if one not in seated):
        text = plain(words[index].said)
        if text not in told:
            told[text] = (next(letters), words[index].said)
        full = [one.room for one in seated.values()]
        seated[index] = _lettered(words[index], told[text][0], plain, least, frame, full)
    grown = {ring: max(1.0, least / words[index].size) for index, ring in rings.items()}
    marks: list[Mark] = [_grown(mark, grown.get(place, 1.0)) for place, mark in enumerate(shapes)]
    marks += [line for index in range(len(words)) for line in seated[index].lines]
    return Narrow(drawing=replace(drawing, marks=(*marks, *key)), told=tuple(told.values()))


def _key(drawing: Drawing, plain: Plain, size: float) -> tuple[list[Mark], float]:
    """The key of `drawing` with words of `size` at least, in as many rows as it takes, and how high it then is."""
    entries: list[tuple[list[Mark], Words]] = []
    swatch: list[Mark] = []
    for mark in drawing.marks[len(drawing.marks) - drawing.in_key :]:
        if isinstance(mark, Words):
            entries.append((swatch, replace(mark, size=max(mark.size, size))))
            swatch = []
        else:
            swatch.append(mark)
    rows: list[list[tuple[list[Mark], Words, float]]] = []
    x = 0.0
    for shapes, words in entries:
        left = min(mark.outline.bounds()[0] for mark in shapes if isinstance(mark, Shape))
        wide = words.at[0] - left + text_width(plain(words.said), words.size)
        if not rows or x + wide > drawing.width:
            rows.append([])
            x = 0.0
        rows[-1].append((shapes, words, x - left))
        x += wide + size
    marks: list[Mark] = []
    for index, row in enumerate(reversed(rows)):
        for shapes, words, across in row:
            up = (index + _BELOW) * _LEADING * size - words.at[1]
            onto = (1.0, 0.0, 0.0, 1.0, across, up)
            marks += [
                replace(mark, outline=mark.outline.transformed(onto))
                for mark in shapes
                if isinstance(mark, Shape)
            ]
            marks.append(replace(words, at=(words.at[0] + across, words.at[1] + up)))
    return marks, (len(rows) + _BELOW) * _LEADING * size if rows else 0.0


def _without_key(drawing: Drawing, foot: float) -> Drawing:
    """`drawing` with `foot` points for a key, and none in it."""
    up = foot - drawing.foot
    onto = (1.0, 0.0, 0.0, 1.0, 0.0, up)
    return replace(
        drawing,
        height=drawing.height + up,
        marks=tuple(
            replace(mark, outline=mark.outline.transformed(onto))
            if isinstance(mark, Shape)
            else replace(mark, at=(mark.at[0], mark.at[1] + up))
            for mark in drawing.marks[: len(drawing.marks) - drawing.in_key]
        ),
    )


def _letters(taken: set[str]) -> Iterator[str]:
    """Small letters that the drawing does not use itself: a to z, then aa and so on."""
    for number in counted():
        name = chr(ord("a") + number % 26) * (1 + number // 26)
        if name not in taken:
            yield name


def _middle(words: Words, plain: Plain) -> Point:
    found = _room(words, plain(words.said)).centroid
    return float(found.x), float(found.y)


def _seat(middle: Point, size: float) -> Polygon:
    x, y = middle
    return box(x - _SEAT * size, y - _SEAT * size, x + _SEAT * size, y + _SEAT * size)


def _room(words: Words, text: str) -> Polygon:
    """The room that a line of words takes, turned as it is."""
    (x, y), wide = words.at, text_width(text, words.size, bold=words.bold)
    left = x - {Anchor.START: 0.0, Anchor.MIDDLE: wide / 2, Anchor.END: wide}[words.anchor]
    level = box(left, y - _BELOW * words.size, left + wide, y + _ABOVE * words.size)
    return affinity.rotate(level, words.turn_deg, origin=(x, y)) if words.turn_deg else level


def _ring_of(words: Words, shapes: Sequence[Mark], plain: Plain) -> int | None:
    """Which of the shapes is a ring about these words."""
    room = _room(words, plain(words.said))
    x, y = room.centroid.x, room.centroid.y
    for place, shape in enumerate(shapes):
        if not isinstance(shape, Shape) or shape.open or not _is_round(shape):
            continue
        x0, y0, x1, y1 = shape.outline.bounds()
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
        across, along = _within(room.bounds, frame.bounds)
        if fixed:
            across = along = 0.0
        elif max(abs(across), abs(along)) > _MOVED * size:
            continue
        yield _Seated(
            tuple(replace(one, at=(one.at[0] + across, one.at[1] + along)) for one in lines),
            affinity.translate(room, across, along),
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


def _lettered(
    words: Words, letter: str, plain: Plain, size: float, frame: Polygon, full: Sequence[Polygon]
) -> _Seated:
    """A letter in place of words, as near to where they stood as there is room."""
    x, y = _middle(words, plain)

    def at(off: Point) -> Polygon:
        seat = _seat((x + off[0] * size, y + off[1] * size), size)
        across, along = _within(seat.bounds, frame.bounds)
        return affinity.translate(seat, across, along)

    room = next((seat for seat in map(at, _AROUND) if not _meets(seat, full)), at((0.0, 0.0)))
    middle = room.centroid
    spot = (float(middle.x), float(middle.y) - size * (_ABOVE - _BELOW) / 2)
    one = Words(said=letter, at=spot, size=size, bold=True, anchor=Anchor.MIDDLE, ground=PAPER)
    return _Seated((one,), room)
