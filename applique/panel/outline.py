"""Panels that are not rectangles: their finished edge, the edge to cut at, and how far what lies on one is inside it.

Frame of the panel: inches, origin at the lower left corner of the rectangle that the *finished* panel just fits, y up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import Any, Final

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from applique.design import PanelShape
from applique.geometry.outline import Contour, Outline, Segment
from applique.geometry.points import Point
from applique.geometry.polygons import CHORD_ERROR
from applique.units import round_up

__all__ = ["NOTCH", "PanelOutline", "reach_over", "where_it_fits"]

NOTCH: Final = 1 / 3
"""Of the height of a swallowtail, how deep its notch is: our own."""
_ARCS: Final = 8
"""Cubic curves in a whole circle; each strays by less than 5 millionths of its radius."""
_SAMPLES: Final = 48
_HALVINGS: Final = 40
_SAME: Final = 1e-5
"""Inches of clearance that nobody sees: places that differ by less fit alike."""
_BELOW: Final = 100
"""Heights of a flag: what lies below it is looked for no deeper."""
_UNDER: Final = 1e-3
"""Inches that what lies over the point of a notch counts as beyond it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelOutline:
    """A panel of a `shape` that just fits a rectangle of finished `width` by `height`."""

    shape: PanelShape
    width: float
    height: float

    def at(self, beyond: float = 0.0) -> Outline:
        """The edge so far outside the finished edge, counter-clockwise; corners are mitered, a round edge stays round.

        Source:
            The parallel of a line at a distance, two of which meet in a corner; a circle of the radius and the
            distance: geometry.
        """
        return _edge(self.shape, self.width, self.height, beyond)

    def polygon(self, beyond: float = 0.0) -> Polygon:
        """What lies inside that edge."""
        (contour,) = self.at(beyond).contours
        return Polygon(contour.points(CHORD_ERROR))

    def clearance(self, ink: BaseGeometry, up: float = 0.0) -> float:
        """How far `ink`, moved up, is inside the finished edge at the nearest; negative where it is beyond it."""
        points = shapely.get_coordinates(ink) + np.array((0.0, up))
        return min(float(self._inside(points).min()), self._from_notch(ink, points, up))

    def nearest(self, ink: BaseGeometry) -> tuple[float, Point]:
        """The clearance of `ink`, and its point that is nearest to the edge."""
        points = shapely.get_coordinates(ink)
        inside = self._inside(points)
        index = int(inside.argmin())
        away, at = float(inside[index]), (float(points[index][0]), float(points[index][1]))
        notch = self._from_notch(ink, points, 0.0)
        if notch >= away:
            return away, at
        (x, y), _ = shapely.shortest_line(ink, _notch(self.width, self.height)).coords
        return notch, (float(x), float(y))

    def _inside(self, points: Any) -> Any:
        """How far points are inside the edge, that of a notch left out."""
        x, y = points[:, 0], points[:, 1]
        half = self.width / 2
        match self.shape:
            case PanelShape.CIRCLE:
                return half - np.hypot(x - half, y - half)
            case PanelShape.HALF_ROUND:
                flat = np.minimum.reduce([x, self.width - x, self.height - y])
                return np.where(y < half, np.minimum(flat, half - np.hypot(x - half, y - half)), flat)
            case PanelShape.SWALLOWTAIL:
                return np.minimum.reduce([x, self.width - x, self.height - y])
            case _:
                corners = _corners(self.shape, self.width, self.height)
                return np.minimum.reduce(
                    [
                        ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / math.dist((x0, y0), (x1, y1))
                        for (x0, y0), (x1, y1) in pairwise([*corners, corners[0]])
                    ]
                )

    def _from_notch(self, ink: BaseGeometry, points: Any, up: float) -> float:
        """How far `ink`, moved up, is from the notch of a swallowtail."""
        if self.shape is not PanelShape.SWALLOWTAIL:
            return math.inf
        notch = affinity.translate(_notch(self.width, self.height), 0.0, -up)
        away = float(shapely.distance(notch, ink))
        if away:
            return away
        slope = 2 * NOTCH * self.height / self.width
        below = NOTCH * self.height - slope * np.abs(points[:, 0] - self.width / 2) - points[:, 1]
        return -max(float(below.max()) / math.hypot(1.0, slope), _UNDER)


def where_it_fits(outline: PanelOutline, ink: BaseGeometry) -> float:
    """How far up `ink`, which is level about y = 0, is moved to lie where it is farthest from the edge all around.

    Where it is as far at several heights, the middle of them.

    Source:
        Our own, docs/decisions/0442.
    """
    low, top = ink.bounds[1], ink.bounds[3]
    first, last = min(-low, outline.height - top), max(-low, outline.height - top)
    step = (last - first) / _SAMPLES
    best = max(
        (first + step * number for number in range(_SAMPLES + 1)), key=lambda up: outline.clearance(ink, up)
    )
    start, end = best - step, best + step
    for _ in range(_HALVINGS):
        left, right = start + (end - start) / 3, end - (end - start) / 3
        if outline.clearance(ink, left) < outline.clearance(ink, right):
            start = left
        else:
            end = right
    best = (start + end) / 2
    enough = outline.clearance(ink, best) - _SAME
    reach = [_reach(outline, ink, best, way * (last - first + step), enough) for way in (-1, 1)]
    return sum(reach) / 2


def _reach(outline: PanelOutline, ink: BaseGeometry, start: float, by: float, enough: float) -> float:
    """How far from `start` towards `by` away `ink` stays clear of the edge by `enough`."""
    near, far = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (near + far) / 2
        if outline.clearance(ink, start + by * middle) >= enough:
            near = middle
        else:
            far = middle
    return start + by * near


def reach_over(outline: PanelOutline, allowance: Fraction, grid: Fraction) -> tuple[Fraction, Fraction]:
    """How much further than the `allowance` the edge to cut at reaches, at either side and at the bottom, as its points
    do: exact, so that the rectangle around it is a multiple of `grid` (inches) wider and higher."""
    x0, y0, _, _ = outline.at(float(allowance)).bounds()
    wider, lower = (max(Fraction(-end) - allowance - Fraction(1, 10**9), Fraction(0)) for end in (x0, y0))
    return round_up(2 * wider, grid) / 2, round_up(lower, grid)


def _notch(width: float, height: float) -> Polygon:
    """What is cut out of a swallowtail, and all below it."""
    deep = -_BELOW * height
    return Polygon(((0.0, 0.0), (0.0, deep), (width, deep), (width, 0.0), (width / 2, NOTCH * height)))


def _corners(shape: PanelShape, width: float, height: float) -> tuple[Point, ...]:
    """The corners of a panel with straight sides, counter-clockwise."""
    match shape:
        case PanelShape.TRIANGLE:
            return ((width / 2, 0.0), (width, height), (0.0, height))
        case PanelShape.SWALLOWTAIL:
            notch = (width / 2, NOTCH * height)
            return ((0.0, 0.0), notch, (width, 0.0), (width, height), (0.0, height))
        case _:
            return (
                (width / 4, 0.0),
                (3 * width / 4, 0.0),
                (width, height / 2),
                (3 * width / 4, height),
                (width / 4, height),
                (0.0, height / 2),
            )


@lru_cache(maxsize=256)
def _edge(shape: PanelShape, width: float, height: float, beyond: float) -> Outline:
    half = width / 2
    if shape is PanelShape.CIRCLE:
        around = _arc((half, half), half + beyond, 0, _ARCS)
        return Outline(contours=(Contour(start=(width + beyond, half), segments=around),))
    if shape is PanelShape.HALF_ROUND:
        top, start = height + beyond, (-beyond, half)
        around = _arc((half, half), half + beyond, _ARCS // 2, _ARCS)
        straight: tuple[Segment, ...] = (((width + beyond, top),), ((-beyond, top),))
        return Outline(contours=(Contour(start=start, segments=(*around, *straight)),))
    corners = _corners(shape, width, height)
    lines = [_parallel(start, end, beyond) for start, end in pairwise([corners[-1], *corners])]
    start, *rest = (_meeting(before, after) for before, after in pairwise([*lines, lines[0]]))
    return Outline(contours=(Contour(start=start, segments=tuple((point,) for point in rest)),))


def _arc(middle: Point, radius: float, first: int, last: int) -> tuple[Segment, ...]:
    """An arc counter-clockwise from one eighth of the circle to another, from the right; its start is left out.

    Source:
        A cubic curve of an angle a has its control points 4/3 tan(a/4) of the radius along the tangents: the usual
        approximation, from memory.
    """
    turn = 2 * math.pi / _ARCS
    along = 4 / 3 * math.tan(turn / 4)
    found = []
    for number in range(first, last):
        (a, b), (c, d) = ((math.cos(turn * at), math.sin(turn * at)) for at in (number, number + 1))
        points = ((a - along * b, b + along * a), (c + along * d, d - along * c), (c, d))
        found.append(tuple((middle[0] + radius * x, middle[1] + radius * y) for x, y in points))
    return tuple(found)


def _parallel(start: Point, end: Point, beyond: float) -> tuple[Point, Point]:
    """The line to the right of one from `start` to `end`."""
    x, y = ((end[side] - start[side]) / math.dist(start, end) for side in (0, 1))
    return (start[0] + y * beyond, start[1] - x * beyond), (end[0] + y * beyond, end[1] - x * beyond)


def _meeting(first: tuple[Point, Point], second: tuple[Point, Point]) -> Point:
    """Where two lines meet."""
    ((ax, ay), (bx, by)), ((cx, cy), (dx, dy)) = first, second
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    along = ((cx - ax) * vy - (cy - ay) * vx) / (ux * vy - uy * vx)
    return ax + along * ux, ay + along * uy
