"""Where the turn-under of a turned edge is clipped and notched.

Inner curves and inner corners are clipped, so that the cloth can spread; tight outer curves are notched, so that it
does not bunch. Frame and unit are the shape's own inches.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import shapely
from shapely.geometry.polygon import LinearRing

from applique.geometry.points import Point
from applique.geometry.polygons import Shape, parts_of

__all__ = ["TurnMark", "turn_marks"]

TurnMark = tuple[Point, ...]
"""Two points are a clip, from the cut line toward the edge; three are a notch, its tip nearest the edge."""

_CLIPPED_DEG: Final = 8.0
_NOTCHED_DEG: Final = 22.0
"""How much an edge turns within a turn-under before it is clipped or notched: common practice, no source."""
_CORNER_DEG: Final = 60.0
"""An outer corner that turns more than this is folded, not notched."""
_SPARED: Final = 0.2
"""Share of the turn-under that stays whole next to the edge: about two threads (common practice, no source)."""
_NOTCH_WIDE: Final = 0.5


def turn_marks(shape: Shape, turn_under: float) -> tuple[TurnMark, ...]:
    """Clips at the inner curves and notches at the outer ones of `shape`, about a turn-under apart.

    Source:
        Clip inner curves, notch outer ones: common practice, no source.
    """
    marks: list[TurnMark] = []
    for part in parts_of(shapely.orient_polygons(shape)):
        for ring in (part.exterior, *part.interiors):
            marks += _ring_marks(ring, turn_under)
    return tuple(marks)


def _ring_marks(ring: LinearRing, turn_under: float) -> list[TurnMark]:
    """Marks along one ring that has the cloth on its left."""
    places = _places(ring, turn_under)
    here = _along(ring, places)
    before, after = _along(ring, places - turn_under), _along(ring, places + turn_under)
    way_in, way_out = here - before, after - here
    cross = way_in[:, 0] * way_out[:, 1] - way_in[:, 1] * way_out[:, 0]
    turn = np.degrees(np.arctan2(cross, (way_in * way_out).sum(axis=1)))
    chord = after - before
    length = np.maximum(np.hypot(chord[:, 0], chord[:, 1]), 1e-12)
    outward = np.stack([chord[:, 1], -chord[:, 0]], axis=1) / length[:, None]
    along = chord / length[:, None]
    marks: list[TurnMark] = []
    for point, bend, normal, way in zip(here, turn, outward, along, strict=True):
        near, far = point + normal * turn_under * _SPARED, point + normal * turn_under
        if bend < -_CLIPPED_DEG:
            marks.append((_xy(far), _xy(near)))
        elif _NOTCHED_DEG < bend < _CORNER_DEG:
            half = way * turn_under * _NOTCH_WIDE / 2
            marks.append((_xy(far - half), _xy(near), _xy(far + half)))
    return marks


def _places(ring: LinearRing, turn_under: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Where along the ring to look: even steps, and every sharp vertex instead of the step nearest to it."""
    count = max(3, round(ring.length / turn_under))
    places = np.arange(count) * ring.length / count
    corners = np.asarray(ring.coords)[:-1]
    sides = np.diff(np.asarray(ring.coords), axis=0)
    before = np.roll(sides, 1, axis=0)
    cross = before[:, 0] * sides[:, 1] - before[:, 1] * sides[:, 0]
    turn = np.degrees(np.arctan2(cross, (before * sides).sum(axis=1)))
    at = np.concatenate([[0.0], np.cumsum(np.hypot(sides[:-1, 0], sides[:-1, 1]))])
    sharp = at[np.abs(turn) > _NOTCHED_DEG]
    if len(sharp) == 0 or len(corners) < 3:
        return places
    away = np.abs(places[:, None] - sharp[None, :])
    away = np.minimum(away, ring.length - away).min(axis=1)
    return np.sort(np.concatenate([sharp, places[away > turn_under * 0.6]]))


def _along(
    ring: LinearRing, at: np.ndarray[tuple[int], np.dtype[np.float64]]
) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    points = shapely.line_interpolate_point(ring, at % ring.length)
    return np.asarray(shapely.get_coordinates(points))


def _xy(point: np.ndarray[tuple[int], np.dtype[np.float64]]) -> Point:
    return (float(point[0]), float(point[1]))
