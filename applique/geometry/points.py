"""Points, boxes and matrices of the plane."""

from __future__ import annotations

import math
from collections.abc import Sequence

__all__ = ["Bounds", "Matrix", "Point", "apart", "around", "extent", "meet", "middle_of", "point_under"]

Point = tuple[float, float]
Bounds = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""
Matrix = tuple[float, float, float, float, float, float]
"""a, b, c, d, e, f of x' = a·x + c·y + e, y' = b·x + d·y + f."""


def point_under(matrix: Matrix, point: Point) -> Point:
    """`point` under `matrix`."""
    a, b, c, d, e, f = matrix
    return (a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f)


def middle_of(box: Bounds) -> Point:
    """The middle of a box."""
    return ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


def around(boxes: Sequence[Bounds]) -> Bounds:
    """The least box around all of `boxes`, of which there is one or more."""
    lows_x, lows_y, highs_x, highs_y = zip(*boxes, strict=True)
    return (min(lows_x), min(lows_y), max(highs_x), max(highs_y))


def extent(box: Bounds) -> tuple[float, float]:
    """The width and height of a box."""
    return box[2] - box[0], box[3] - box[1]


def apart(first: Bounds, second: Bounds) -> float:
    """How far two boxes are from each other; 0 where they meet."""
    across = max(first[0] - second[2], second[0] - first[2], 0.0)
    up = max(first[1] - second[3], second[1] - first[3], 0.0)
    return math.hypot(across, up)


def meet(first: Bounds, second: Bounds) -> bool:
    """Whether two boxes share a point."""
    return first[0] <= second[2] and second[0] <= first[2] and first[1] <= second[3] and second[1] <= first[3]
