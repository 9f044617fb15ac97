"""A stitch along an edge, enlarged.

Frame: points, y up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from applique.design import Stitch
from applique.drawings.values import (
    CUT,
    FINE,
    HAIR,
    PAPER,
    QUIET,
    Anchor,
    Drawing,
    Mark,
    Words,
    box,
    line,
    text_width,
)
from applique.drawings.vocabulary import (
    RIGHT_SIDE,
    SECOND_SIDE,
    dimension,
    disc,
)
from applique.geometry.points import Point
from applique.language import Speech
from applique.sewing.stitches import EdgeStitch
from applique.units import as_stitch
from applique.words.instructions import starting_and_turning as turns
from applique.words.instructions import stitching as said

__all__ = ["draw_stitch", "enlarged"]

_TIMES: Final = (12, 10, 8, 6, 5, 4, 3, 2, 1)
"""How much larger than it is sewn a stitch is drawn: the first at which it fits."""
_SMALL: Final = 7.5
_LEAST: Final = 7.0
_BETWEEN: Final = 5.0
"""Points between the two measures on either side of an edge."""
_THREAD: Final = CUT
_FALL: Final = 1.7
_BESIDE: Final = 1.5
"""Points from the edge to a needle that falls right beside it."""


def enlarged(stitch: EdgeStitch, room: Point) -> int:
    """How much larger than it is sewn a stitch is drawn on cloth of `room` points: so that two of it fit."""
    across = float(stitch.bite + stitch.outside) * 72
    along = float(stitch.length) * 72
    return next(
        (times for times in _TIMES if across * times <= 0.72 * room[0] and 2.1 * along * times <= room[1]), 1
    )


def draw_stitch(
    stitch: EdgeStitch, size: Point, speech: Speech, others: Sequence[EdgeStitch] = ()
) -> Drawing:
    """A stitch along the edge of a letter, enlarged: where the needle falls, how wide and how long it is; to the scale
    of the drawings of `others`, and in line with them.
    """
    alike = (stitch, *others)
    right, low = 46.0, 17.0
    top = 27.0 if any(one.outside or not one.width for one in alike) else 13.0
    room = (size[0] - right, size[1] - low - top)
    times = min(enlarged(one, room) for one in alike)
    points = times * 72.0
    across = float(stitch.bite + stitch.outside) * points
    edge = (room[0] - across) / 2 + float(stitch.bite) * points
    marks: list[Mark] = [
        box(edge, low, room[0] - edge, room[1], fill=SECOND_SIDE),
        box(0.0, low, edge, room[1], fill=RIGHT_SIDE),
        line(((edge, low), (edge, low + room[1])), CUT),
    ]
    marks += _sides(edge, room[0], low + room[1] + top - 10.0, speech)
    falls = _falls(stitch, edge, points, (low, low + room[1]))
    marks.append(line(falls, _THREAD))
    marks += [disc(fall, _FALL, fill=PAPER, ink=FINE) for fall in dict.fromkeys(falls)]
    marks += _measured(stitch, falls, edge, points, (room[0], low, low + room[1]), speech)
    marks.append(
        Words(said=said.times_as_large(times), at=(size[0], 3.0), size=_LEAST, color=QUIET, anchor=Anchor.END)
    )
    return Drawing(
        width=size[0],
        height=size[1],
        marks=tuple(marks),
        said=said.stitch_drawn_said(stitch),
        is_to_scale=True,
    )


def _sides(edge: float, wide: float, level: float, speech: Speech) -> Iterator[Mark]:
    """Which side of the edge is which, above the cloth."""
    for words, middle, low, high in (
        (turns.LETTER, edge / 2, 0.0, edge),
        (turns.BACKGROUND, (edge + wide) / 2, edge, wide),
    ):
        half = text_width(speech.tell(words), _SMALL) / 2
        at = min(max(middle, low + half), max(high - half, low + half))
        yield Words(said=words, at=(at, level), size=_SMALL, anchor=Anchor.MIDDLE)


def _falls(stitch: EdgeStitch, edge: float, points: float, ends: tuple[float, float]) -> list[Point]:
    """Where the needle falls along an upright edge, one after the other."""
    pitch = float(stitch.length) * points
    inner = edge - float(stitch.bite) * points
    outer = edge + (float(stitch.outside) * points or _BESIDE)
    count = max(2, int((ends[1] - ends[0] - 0.08 * pitch) / pitch))
    start = ends[0] + (ends[1] - ends[0] - count * pitch) / 2
    found: list[Point] = []
    for index in range(count + 1):
        y = start + index * pitch
        match stitch.stitch:
            case Stitch.STRAIGHT:
                found.append((inner, y))
            case Stitch.BLANKET:
                found += [(outer, y), (inner, y), (outer, y)]
            case Stitch.SATIN | Stitch.ZIGZAG:
                found.append((outer if index % 2 else inner, y))
    return found


def _measured(
    stitch: EdgeStitch,
    falls: Sequence[Point],
    edge: float,
    points: float,
    cloth: tuple[float, float, float],
    speech: Speech,
) -> Iterator[Mark]:
    """The width below, how far it reaches to either side of the edge above, and the length to the right."""
    wide, low, top = cloth
    inner, outer = edge - float(stitch.bite) * points, edge + float(stitch.outside) * points
    reaches = [(inner, edge, stitch.bite)] if stitch.outside or not stitch.width else []
    reaches += [(edge, outer, stitch.outside)] if stitch.outside else []
    words = [speech.measure(as_stitch(reach)) for *_, reach in reaches]
    if all(b - a > text_width(text, _SMALL) for (a, b, _), text in zip(reaches, words, strict=True)):
        for (a, b, _), text in zip(reaches, words, strict=True):
            yield from dimension((a, top + 4), (b, top + 4), "")
            half = text_width(text, _SMALL) / 2
            aside = 0.0 if len(reaches) == 1 else _BETWEEN / 2 + half
            middle = min((a + b) / 2, edge - aside) if b == edge else max((a + b) / 2, edge + aside)
            yield Words(said=text, at=(middle, top + 8), size=_SMALL, anchor=Anchor.MIDDLE)
    if stitch.width:
        yield from dimension(
            (inner, low - 4), (outer, low - 4), speech.measure(as_stitch(stitch.width)), off=-10.5
        )
    levels = sorted({y for _, y in falls})
    first, second = levels[len(levels) // 2 - 1], levels[len(levels) // 2]
    x = wide + 7
    for y in (first, second):
        at = max(across for across, level in falls if level == y)
        yield line(((at + _FALL + 1, y), (x + 3, y)), HAIR)
    yield line(((x, first), (x, second)), HAIR)
    yield Words(
        said=speech.measure(as_stitch(stitch.length)), at=(x + 5, (first + second) / 2 - 2.5), size=_SMALL
    )
