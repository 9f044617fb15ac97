"""Corners and curves under a stitch, and where the needle is down while the work is turned.

Frame: points, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from applique.design import Stitch
from applique.drawings.values import (
    BOLD,
    CUT,
    FINE,
    NARROW,
    PAPER,
    Anchor,
    Drawing,
    Mark,
    Shape,
    Words,
    box,
    line,
    path,
)
from applique.drawings.vocabulary import (
    RIGHT_SIDE,
    SECOND_SIDE,
    disc,
)
from applique.geometry.points import Matrix, Point
from applique.words.instructions import starting_and_turning as turns

__all__ = ["draw_corners"]

_SMALL: Final = 7.5
_THREAD: Final = CUT


_FIELD: Final = (92.0, 78.0)
"""Points of each picture of a corner."""
_PITCHES: Final = {Stitch.SATIN: 2.6, Stitch.ZIGZAG: 5.5, Stitch.BLANKET: 9.0, Stitch.STRAIGHT: 7.0}
_BITES: Final = {Stitch.SATIN: 7.0, Stitch.ZIGZAG: 6.0, Stitch.BLANKET: 8.0, Stitch.STRAIGHT: 5.0}
_OUT: Final = {Stitch.SATIN: 4.5, Stitch.ZIGZAG: 4.0, Stitch.BLANKET: 1.0, Stitch.STRAIGHT: -5.0}
"""Points that each stitch bites in and falls outside; it is drawn about three times as large as it is sewn."""
_CLEAR: Final = 8.0
"""Points of an edge that are left bare at the ends of a picture."""
Leg = tuple[Point, ...]
"""Points along an edge, the letter on their left."""


def draw_corners(stitch: Stitch, *, across: int = len(turns.Corner), width: float | None = None) -> Drawing:
    """Five edges under one stitch, so many side by side, a ring at each place where the needle is down while turning.

    They are drawn as large as `width` points allow, if those are given.
    """
    gap = 8.0
    scale = 1.0 if width is None else min(1.0, ((width + gap) / across - gap) / _FIELD[0])
    wide, high = _FIELD[0] * scale, _FIELD[1] * scale
    rows = math.ceil(len(turns.Corner) / across)
    marks: list[Mark] = []
    for index, corner in enumerate(turns.Corner):
        row, column = divmod(index, across)
        left, low = column * (wide + gap), (rows - 1 - row) * (high + 14.0 + gap) + 14.0
        onto: Matrix = (scale, 0.0, 0.0, scale, left, low)
        for mark in _corner(corner, stitch):
            marks.append(
                Shape(outline=mark.outline.transformed(onto), fill=mark.fill, ink=mark.ink, open=mark.open)
            )
        at = (left + wide / 2, low - 11.0)
        marks.append(Words(said=turns.SHAPES[corner], at=at, size=_SMALL, anchor=Anchor.MIDDLE))
    return Drawing(
        width=across * (wide + gap) - gap,
        height=rows * (high + 14.0 + gap) - gap,
        marks=tuple(marks),
        said=turns.corners_drawn_said(stitch),
        narrow=draw_corners(stitch, across=2, width=NARROW) if across > 2 else None,
    )


def _corner(corner: turns.Corner, stitch: Stitch) -> Iterator[Shape]:
    legs, letter, closed = _edges(corner)
    yield box(0.0, 0.0, *_FIELD, fill=SECOND_SIDE)
    if closed:
        yield box(0.0, 0.0, *_FIELD, fill=RIGHT_SIDE)
        yield Shape(outline=path(letter), fill=SECOND_SIDE)
    else:
        yield Shape(outline=path(letter), fill=RIGHT_SIDE)
    for leg in legs:
        yield line(leg, FINE)
    for leg in legs:
        yield line(_sewn(leg, stitch, corner, legs), _THREAD)
    for pivot in _pivots(corner, stitch, legs):
        yield disc(pivot, 3.0, fill=PAPER, ink=BOLD)


def _edges(corner: turns.Corner) -> tuple[tuple[Leg, ...], Leg, bool]:
    """The edges of a corner, what is filled, and whether that is the hole of a letter."""
    wide, high = _FIELD
    match corner:
        case turns.Corner.OUTSIDE:
            legs = (((0.0, 24.0), (64.0, 24.0)), ((64.0, 24.0), (64.0, high)))
            return legs, ((0.0, 24.0), (64.0, 24.0), (64.0, high), (0.0, high)), False
        case turns.Corner.INSIDE:
            legs = (((0.0, 42.0), (40.0, 42.0)), ((40.0, 42.0), (40.0, 0.0)))
            return (
                legs,
                ((0.0, 42.0), (40.0, 42.0), (40.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)),
                False,
            )
        case turns.Corner.OUTSIDE_CURVE:
            arc = _arc((wide / 2, high), 54.0, (180.0, 360.0))
            return (arc,), ((0.0, high), (0.0, arc[0][1]), *arc, (wide, arc[-1][1]), (wide, high)), False
        case turns.Corner.INSIDE_CURVE:
            arc = _arc((wide / 2, 0.0), 54.0, (180.0, 0.0))
            return (arc,), ((0.0, 0.0), (0.0, arc[0][1]), *arc, (wide, arc[-1][1]), (wide, 0.0)), True
        case turns.Corner.POINT:
            legs = (((20.0, high), (46.0, 16.0)), ((46.0, 16.0), (72.0, high)))
            return legs, ((20.0, high), (46.0, 16.0), (72.0, high)), False


def _arc(middle: Point, radius: float, ends_deg: tuple[float, float]) -> Leg:
    """Points of an arc, from the first to the second angle, that lie in a field."""
    start, end = ends_deg
    turned = [math.radians(start + (end - start) * step / 60) for step in range(61)]
    points = ((middle[0] + radius * math.cos(turn), middle[1] + radius * math.sin(turn)) for turn in turned)
    return tuple((x, y) for x, y in points if 0 <= x <= _FIELD[0] and 0 <= y <= _FIELD[1])


def _along(leg: Leg, far: float) -> tuple[Point, Point]:
    """The point `far` along a leg, beyond its ends in its direction, and the direction to its left there."""
    for start, end in pairwise(leg):
        side = math.dist(start, end)
        if far <= side or end == leg[-1]:
            ahead = ((end[0] - start[0]) / side, (end[1] - start[1]) / side)
            return (start[0] + ahead[0] * far, start[1] + ahead[1] * far), (-ahead[1], ahead[0])
        far -= side
    raise ValueError(leg)


def _length(leg: Leg) -> float:
    return sum(math.dist(start, end) for start, end in pairwise(leg))


def _at(leg: Leg, far: float, inward: float) -> Point:
    """The point `far` along a leg and `inward` of it."""
    (x, y), (left_x, left_y) = _along(leg, far)
    return x + left_x * inward, y + left_y * inward


def _sewn(leg: Leg, stitch: Stitch, corner: turns.Corner, legs: Sequence[Leg]) -> list[Point]:
    """The way of the thread along a leg."""
    first, bite, out = leg is legs[0], _BITES[stitch], _OUT[stitch]
    start, end = 0.0, _length(leg)
    covers = stitch in (Stitch.SATIN, Stitch.ZIGZAG)
    if len(legs) == 2:
        beyond = {turns.Corner.OUTSIDE: out, turns.Corner.INSIDE: bite, turns.Corner.POINT: out}[corner]
        if stitch is Stitch.STRAIGHT:
            beyond = -bite if corner is not turns.Corner.INSIDE else bite
            beyond *= 2.6 if corner is turns.Corner.POINT else 1.0
        if stitch is Stitch.BLANKET:
            beyond = 0.0
        start, end = (start, end + beyond) if first else (start - beyond, end)
        start, end = (start + _CLEAR, end) if first else (start, end - _CLEAR)
    else:
        start, end = start + _CLEAR, end - _CLEAR
    steps = max(2, round((end - start) / _PITCHES[stitch]))
    way: list[Point] = []
    for step in range(steps + 1):
        far = start + (end - start) * step / steps
        tip = _length(leg) - far if first else far
        share = _narrowed(corner, tip) if covers else 1.0
        if covers:
            way.append(_at(leg, far, bite * share if step % 2 else -out))
        elif stitch is Stitch.STRAIGHT:
            way.append(_at(leg, far, bite))
        else:
            way += [_at(leg, far, -out), *_bite(leg, far, corner, tip), _at(leg, far, -out)]
    return way


def _bite(leg: Leg, far: float, corner: turns.Corner, tip: float) -> Iterator[Point]:
    """Where a blanket stitch bites in: at a corner toward its middle, elsewhere straight, and never across another."""
    bite = _BITES[Stitch.BLANKET]
    if corner is turns.Corner.POINT and tip < 1.0:
        yield (46.0, 16.0 + bite)
    elif corner in (turns.Corner.OUTSIDE, turns.Corner.INSIDE) and tip < 1.0:
        x, y = leg[0] if far < 1.0 else leg[-1]
        yield (
            (x - 0.7 * bite, y + 0.7 * bite)
            if corner is turns.Corner.OUTSIDE
            else (x + 0.7 * bite, y + 0.7 * bite)
        )
    else:
        yield _at(leg, far, min(bite, 0.55 * tip) if corner is turns.Corner.POINT else bite)


def _narrowed(corner: turns.Corner, tip: float) -> float:
    """How much of its bite a stitch keeps so far from the tip of a point."""
    return min(1.0, max(0.12, tip / 30)) if corner is turns.Corner.POINT else 1.0


def _pivots(corner: turns.Corner, stitch: Stitch, legs: Sequence[Leg]) -> Iterator[Point]:
    """Where the needle is down while the work is turned."""
    bite, out = _BITES[stitch], _OUT[stitch]
    inside = corner in (turns.Corner.INSIDE, turns.Corner.INSIDE_CURVE)
    inward = bite if stitch is Stitch.STRAIGHT or (inside and stitch is not Stitch.BLANKET) else -out
    if len(legs) == 1:
        length = _length(legs[0])
        for part in (0.2, 0.5, 0.8):
            yield _at(legs[0], length * part, inward)
        return
    x, y = legs[1][0]
    match corner:
        case turns.Corner.OUTSIDE:
            yield (x - inward, y + inward)
        case turns.Corner.INSIDE:
            yield (x + inward, y + inward)
        case _:
            yield (x, y + (2.6 * bite if stitch is Stitch.STRAIGHT else -out - 1.5))
