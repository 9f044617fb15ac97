"""Points, boxes and matrices of the plane."""

from __future__ import annotations

__all__ = ["Bounds", "Matrix", "Point", "meet", "point_under"]

Point = tuple[float, float]
Bounds = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""
Matrix = tuple[float, float, float, float, float, float]
"""a, b, c, d, e, f of x' = a·x + c·y + e, y' = b·x + d·y + f."""


def point_under(matrix: Matrix, point: Point) -> Point:
    """`point` under `matrix`."""
    a, b, c, d, e, f = matrix
    return (a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f)


def meet(first: Bounds, second: Bounds) -> bool:
    """Whether two boxes share a point."""
    return first[0] <= second[2] and second[0] <= first[2] and first[1] <= second[3] and second[1] <= first[3]
