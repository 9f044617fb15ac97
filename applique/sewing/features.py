"""The smallest features of a shape: thinnest stroke, smallest counter, narrowest slot, sharpest points.

Shapes and places are inches in the caller's frame. What is measured here does not depend on any limit.

A *stroke* is as thin as the widest brush that paints the letter without its falling apart: half the brush is taken
off every edge, and the letter splits, loses a part, or is nowhere near one of its ends. A *slot* is the same for the
white around and inside the letter. Tapering tips shorter than `_TIP` of the cap height do not count as strokes;
they are points, and measured by their angle.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LinearRing, Polygon, box
from shapely.geometry.base import BaseGeometry

from applique.geometry.points import Point
from applique.geometry.polygons import Shape, as_shape, parts_of

__all__ = ["ERROR_OF_CAP", "Corner", "Feature", "Features", "features_of", "narrowest_neck"]

ERROR_OF_CAP: Final = 0.002
"""Widths are right to this share of the cap height, or better."""
_TIP: Final = 0.15
"""Share of the cap height that may be lost at the end of a stroke: serifs and tapers, but no arm of an E."""
_THINNEST: Final = 0.05
_STEP: Final = 1.5
_WIDEST_SLOT: Final = 0.35
_SIMPLER: Final = 0.0008
_ARC_SEGMENTS: Final = 6
_SAMPLES: Final = 0.1
_ARM: Final = 0.06
"""How far from a corner, as a share of the cap height, its two sides are looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """A width in inches, and the middle of the place where it is."""

    width: float
    at: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """An angle of cloth in degrees, and where its corner is."""

    degrees: float
    at: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Features:
    """What is smallest in one shape; None where a shape has no counter, slot or tip."""

    stroke: Feature
    counter: Feature | None
    slot: Feature | None
    tip: Corner | None


def features_of(shape: Shape, *, cap_height: float) -> Features:
    """The smallest features of `shape`, widths within `ERROR_OF_CAP` of the cap height.

    Source:
        Agrees with the widths measured for the bundled fonts, see tests/reference/test_features.py.
    """
    plain = as_shape(shape.simplify(_SIMPLER * cap_height))
    sample = np.asarray(shapely.points(shapely.get_coordinates(plain.segmentize(_SAMPLES * cap_height))))
    return Features(
        stroke=_thinnest_stroke(plain, sample, cap_height),
        counter=_smallest_counter(plain, cap_height),
        slot=_narrowest_slot(plain, cap_height),
        tip=_sharpest_tip(plain, _ARM * cap_height),
    )


def _thinnest_stroke(shape: Shape, sample: NDArray[np.object_], cap: float) -> Feature:
    whole = len(parts_of(shape))

    def lost(width: float) -> Point | None:
        left = shape.buffer(-width / 2, quad_segs=_ARC_SEGMENTS)
        parts = _solid_parts(left)
        if len(parts) > whole:
            return _between(parts)
        if len(parts) < whole:
            return _middle_of_lost(shape, left)
        away = shapely.distance(sample, left)
        farthest = int(away.argmax())
        if away[farthest] > width / 2 + _TIP * cap:
            return (float(sample[farthest].x), float(sample[farthest].y))
        return None

    x0, y0, x1, y1 = shape.bounds
    found = _first_width(lost, cap, most=max(x1 - x0, y1 - y0, cap) * 1.01)
    return found or Feature(width=min(x1 - x0, y1 - y0), at=_xy(shape.representative_point()))


def _narrowest_slot(shape: Shape, cap: float) -> Feature | None:
    around = 2 * _WIDEST_SLOT * cap
    x0, y0, x1, y1 = shape.bounds
    white = box(x0 - around, y0 - around, x1 + around, y1 + around).difference(shape)
    whites = shapely.get_parts(white)

    def closed(width: float) -> Point | None:
        parts = _solid_parts(white.buffer(-width / 2, quad_segs=_ARC_SEGMENTS))
        if len(whites) == 1:
            return _between(parts) if len(parts) > 1 else None
        inside = shapely.point_on_surface(parts)
        for one in whites:
            mine = parts[shapely.intersects(one, inside)]
            if len(mine) > 1:
                return _between(mine)
        return None

    slot = _first_width(closed, cap, most=_WIDEST_SLOT * cap)
    pieces = parts_of(shape)
    gaps = [shapely.shortest_line(a, b) for index, a in enumerate(pieces) for b in pieces[:index]]
    if gaps:
        gap = min(gaps, key=lambda line: float(line.length))
        if slot is None or gap.length < slot.width:
            return Feature(width=float(gap.length), at=_xy(gap.centroid))
    return slot


def narrowest_neck(hole: Shape, *, under: float) -> Feature | None:
    """The narrowest place between two wider parts of a hole, if it is narrower than `under` inches."""

    def parted(width: float) -> Point | None:
        parts = _solid_parts(hole.buffer(-width / 2, quad_segs=_ARC_SEGMENTS))
        return _between(parts) if len(parts) > 1 else None

    return _first_width(parted, under, most=under) if under > 0 else None


def _solid_parts(geometry: BaseGeometry) -> NDArray[np.object_]:
    parts = np.asarray(shapely.get_parts(geometry))
    return parts[~shapely.is_empty(parts)]


def _first_width(event: Callable[[float], Point | None], cap: float, *, most: float) -> Feature | None:
    """The least width at which `event` names a place, found by growing steps and then by halving."""
    low, high = 0.0, _THINNEST * cap
    place = event(high)
    while place is None:
        if high >= most:
            return None
        low, high = high, min(high * _STEP, most)
        place = event(high)
    while high - low > ERROR_OF_CAP * cap:
        middle = (low + high) / 2
        there = event(middle)
        if there is None:
            low = middle
        else:
            high, place = middle, there
    return Feature(width=(low + high) / 2, at=place)


def _between(parts: NDArray[np.object_]) -> Point:
    """The middle of the shortest way from the smallest part to the rest."""
    order = np.argsort(shapely.area(parts))
    rest = shapely.GeometryCollection(list(parts[order[1:]]))
    return _xy(shapely.shortest_line(parts[order[0]], rest).centroid)


def _middle_of_lost(shape: Shape, left: BaseGeometry) -> Point:
    gone = next((part for part in parts_of(shape) if not part.intersects(left)), None)
    return _xy((gone or shape).representative_point())


def _smallest_counter(shape: Shape, cap: float) -> Feature | None:
    holes = [Polygon(ring) for part in parts_of(shape) for ring in part.interiors]
    if not holes:
        return None
    radii = [shapely.maximum_inscribed_circle(hole, tolerance=ERROR_OF_CAP * cap / 2) for hole in holes]
    least = min(radii, key=lambda line: float(line.length))
    return Feature(width=2 * float(least.length), at=_xy(shapely.get_point(least, 0)))


def _sharpest_tip(shape: Shape, arm: float) -> Corner | None:
    """The sharpest tip, by the directions to the edge `arm` before and after each vertex."""
    tips: list[Corner] = []
    for part in parts_of(shapely.orient_polygons(shape)):
        for ring in (part.exterior, *part.interiors):
            if ring.length < 6 * arm:
                continue
            corners = np.asarray(ring.coords)[:-1]
            along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(corners, axis=0).T))])
            before = _points_at(ring, along - arm) - corners
            after = _points_at(ring, along + arm) - corners
            cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
            turn = np.degrees(np.arctan2(np.abs(cross), (before * after).sum(axis=1)))
            if (cross < 0).any():
                index = int(np.where(cross < 0, turn, math.inf).argmin())
                x, y = corners[index]
                tips.append(Corner(degrees=float(turn[index]), at=(float(x), float(y))))
    return min(tips, key=lambda corner: corner.degrees, default=None)


def _points_at(ring: LinearRing, along: NDArray[np.float64]) -> NDArray[np.float64]:
    points = shapely.line_interpolate_point(ring, along % ring.length)
    return np.asarray(shapely.get_coordinates(points))


def _xy(point: BaseGeometry) -> Point:
    x, y = shapely.get_coordinates(point)[0]
    return (float(x), float(y))
