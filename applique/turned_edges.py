"""Where the turn-under of a turned edge is clipped and notched.

Inner curves and inner corners are clipped, so that the fabric can spread; tight outer curves are notched, so that it
does not bunch. Frame and unit are the shape's own inches.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely
from shapely.geometry.polygon import LinearRing

from applique.geometry.points import Point
from applique.geometry.polygons import Shape, parts_of

__all__ = ["TurnMark", "turn_marks"]

TurnMark = tuple[Point, ...]
"""Two points are a clip, from the cut line toward the finished edge; three are a notch, its tip nearest that edge."""

_CLIPPED_DEG: Final = 8.0
_NOTCHED_DEG: Final = 22.0
"""How much an edge turns within a turn-under before it is clipped or notched: common practice, no source."""
_CORNER_DEG: Final = 60.0
"""An outer corner that turns more than this is folded, not notched."""
_TIGHT_DEG: Final = 30.0
"""An edge that turns more than this within half a turn-under is a corner, and gets one mark."""
_SPARED: Final = 0.2
"""Share of the turn-under that stays whole next to the edge: about two threads (common practice, no source)."""
_NOTCH_WIDE: Final = 0.5
_APART: Final = 0.15
"""Share of the turn-under that two marks are apart at the least."""
_FARTHEST: Final = 20.0
"""So many turn-unders from its edge a clip is followed outward: a corner as sharp as 6 degrees."""
_STEPS: Final = 8
"""Places in a turn-under that are looked at for corners."""

_Floats = np.ndarray[tuple[int], np.dtype[np.float64]]
_Points = np.ndarray[tuple[int, int], np.dtype[np.float64]]


def turn_marks(shape: Shape, cut: Shape, turn_under: float) -> tuple[TurnMark, ...]:
    """Clips at the inner curves and notches at the outer ones of `shape`, about a turn-under apart.

    Every mark starts on the cut line, the edge of `cut`, and ends short of the finished edge, the edge of `shape`; a
    corner has one, and none is over another. Where the turn-under has no edge, as in a gap that it fills, there is no
    mark.

    Source:
        Clip inner curves, notch outer ones: common practice, no source.
    """
    edge = cut.boundary
    shapely.prepare(edge)
    shapely.prepare(shape)
    found: list[tuple[float, TurnMark]] = []
    for part in parts_of(shapely.orient_polygons(shape)):
        for ring in (part.exterior, *part.interiors):
            found += _ring_marks(ring, shape, edge, turn_under)
    marks: list[TurnMark] = []
    taken: list[shapely.Geometry] = []
    for _, mark in sorted(found, key=lambda one: -one[0]):
        drawn = shapely.LineString(mark)
        if not any(drawn.distance(other) < turn_under * _APART for other in taken):
            marks.append(mark)
            taken.append(drawn)
    return tuple(marks)


def _ring_marks(
    ring: LinearRing, shape: Shape, edge: shapely.Geometry, turn_under: float
) -> Iterator[tuple[float, TurnMark]]:
    """Marks along one ring that has the fabric on its left, each with how much the ring turns there."""
    places, reach = _places(ring, turn_under)
    here = _along(ring, places)
    before, after = _along(ring, places - reach), _along(ring, places + reach)
    turn = _turned_deg(here - before, after - here)
    chord = after - before
    length = np.maximum(np.hypot(chord[:, 0], chord[:, 1]), 1e-12)
    outward = np.stack([chord[:, 1], -chord[:, 0]], axis=1) / length[:, None]
    along = chord / length[:, None]
    for point, bend, normal, way, wide in zip(here, turn, outward, along, reach > turn_under, strict=True):
        near = point + normal * turn_under * _SPARED
        if bend < -_CLIPPED_DEG:
            far = _edge_from(near, normal, shape, edge, turn_under)
            if far is not None:
                far = _valley(far, normal, edge, turn_under) if wide else far
                yield -float(bend), (far, _xy(near))
        elif _NOTCHED_DEG < bend < _CORNER_DEG:
            half = way * _NOTCH_WIDE / (1 - _SPARED) / 2
            legs = [_edge_from(near, normal + side * half, shape, edge, turn_under) for side in (-1, 1)]
            if legs[0] is not None and legs[1] is not None:
                yield float(bend), (legs[0], _xy(near), legs[1])


def _edge_from(
    near: _Floats, way: _Floats, shape: Shape, edge: shapely.Geometry, turn_under: float
) -> Point | None:
    """Where the cut line is from `near` that way; None where it is too far, or the finished edge comes first."""
    ray = shapely.LineString([near, near + way * turn_under * _FARTHEST])
    crossings = shapely.get_coordinates(ray.intersection(edge))
    if not len(crossings):
        return None
    far = crossings[np.argmin(np.hypot(*(crossings - near).T))]
    return None if shape.intersects(shapely.LineString([near, far])) else _xy(far)


def _valley(far: Point, way: _Floats, edge: shapely.Geometry, turn_under: float) -> Point:
    """Where the cut line near `far` comes nearest to a corner with a flat end, seen along the `way` out of it: the
    middle of the flat end need not lie below it."""
    corners = shapely.get_coordinates(edge)
    beside = corners[np.hypot(*(corners - far).T) < turn_under]
    return _xy(beside[np.argmin((beside - far) @ way)]) if len(beside) else far


def _places(ring: LinearRing, turn_under: float) -> tuple[_Floats, _Floats]:
    """Where along the ring to look, and how far to either side: every corner, and even steps between them."""
    count = max(3, round(ring.length / turn_under))
    places = np.arange(count) * ring.length / count
    corners = _corners(ring, turn_under)
    for at, half in corners:
        away = np.abs(places - at) % ring.length
        places = places[np.minimum(away, ring.length - away) >= half + turn_under]
    reach = np.concatenate([[half + turn_under for _, half in corners], np.full(len(places), turn_under)])
    return np.concatenate([[at for at, _ in corners], places]), reach


def _corners(ring: LinearRing, turn_under: float) -> list[tuple[float, float]]:
    """The middle of each corner along the ring, and half its length: spots near one another that turn the same way."""
    points = np.asarray(ring.coords)
    sides = np.diff(points, axis=0)
    at = np.concatenate([[0.0], np.cumsum(np.hypot(sides[:-1, 0], sides[:-1, 1]))])
    sharp = _turned_deg(np.roll(sides, 1, axis=0), sides)
    steps = max(3 * _STEPS, round(ring.length / turn_under * _STEPS))
    even = np.arange(steps) * ring.length / steps
    near, here, past = (_along(ring, even + side * turn_under / 4) for side in (-1, 0, 1))
    tight = _turned_deg(here - near, past - here)
    spots = sorted(
        (float(place), bool(turn > 0), exact)
        for places, turns, least, exact in ((at, sharp, _NOTCHED_DEG, True), (even, tight, _TIGHT_DEG, False))
        for place, turn in zip(places, turns, strict=True)
        if abs(turn) > least
    )
    found: list[tuple[float, float]] = []
    for outer in (False, True):
        for group in _grouped([spot for spot in spots if spot[1] is outer], ring.length, turn_under):
            exact = [place for place, _, is_exact in group if is_exact] or [place for place, _, _ in group]
            found.append(((exact[0] + exact[-1]) / 2 % ring.length, (exact[-1] - exact[0]) / 2))
    return found


def _grouped(
    spots: list[tuple[float, bool, bool]], length: float, apart: float
) -> Iterator[list[tuple[float, bool, bool]]]:
    """Spots of a ring that long, those nearer than `apart` together; a group over its start goes on past its end."""
    groups: list[list[tuple[float, bool, bool]]] = []
    for spot in spots:
        if groups and spot[0] - groups[-1][-1][0] <= apart:
            groups[-1].append(spot)
        else:
            groups.append([spot])
    if len(groups) > 1 and groups[0][0][0] + length - groups[-1][-1][0] <= apart:
        groups[-1] += [(place + length, outer, exact) for place, outer, exact in groups.pop(0)]
    yield from groups


def _turned_deg(way_in: _Points, way_out: _Points) -> _Floats:
    """How far each way turns into the other, to the left."""
    cross = way_in[:, 0] * way_out[:, 1] - way_in[:, 1] * way_out[:, 0]
    return np.asarray(np.degrees(np.arctan2(cross, (way_in * way_out).sum(axis=1))))


def _along(ring: LinearRing, at: _Floats) -> _Points:
    points = shapely.line_interpolate_point(ring, at % ring.length)
    return np.asarray(shapely.get_coordinates(points))


def _xy(point: _Floats) -> Point:
    return (float(point[0]), float(point[1]))
