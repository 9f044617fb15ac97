"""Where a shape lies: turned about its own origin, then moved."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, TypeVar

from shapely import affinity
from shapely.geometry.base import BaseGeometry

from applique.geometry.outline import Outline
from applique.geometry.points import Matrix, Point, point_under

__all__ = ["Place", "turn_about"]

Geometry = TypeVar("Geometry", bound=BaseGeometry)
_QUARTERS: Final = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
"""Cosine and sine of the turns that are exact."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place in a frame: turned by `turn_deg` counter-clockwise about the shape's own origin, which comes to (x, y).

    The unit of x and y is that of the frame. No place mirrors. Quarter turns are exact.
    """

    x: float
    y: float
    turn_deg: float = 0.0

    @property
    def matrix(self) -> Matrix:
        """The place as a matrix."""
        angle = math.radians(self.turn_deg)
        cos, sin = _QUARTERS.get(self.turn_deg % 360, (math.cos(angle), math.sin(angle)))
        return (cos, sin, -sin, cos, self.x, self.y)

    def point(self, point: Point) -> Point:
        """Where `point` of the shape comes to lie."""
        return point_under(self.matrix, point)

    def outline(self, outline: Outline) -> Outline:
        """`outline` where it comes to lie, its curves still curves."""
        return outline.transformed(self.matrix)

    def shape(self, shape: Geometry) -> Geometry:
        """`shape` where it comes to lie."""
        if self.turn_deg % 360 == 0:
            return affinity.translate(shape, self.x, self.y)
        a, b, c, d, e, f = self.matrix
        return affinity.affine_transform(shape, (a, c, b, d, e, f))

    def within(self, outer: Place) -> Place:
        """This place in the frame that holds `outer`, where this one's frame lies at `outer`."""
        x, y = outer.point((self.x, self.y))
        return Place(x=x, y=y, turn_deg=self.turn_deg + outer.turn_deg)

    def seen_from(self, other: Place) -> Place:
        """This place in the frame of a shape that lies at `other`: what `within(other)` undoes."""
        turned = Place(x=0.0, y=0.0, turn_deg=-other.turn_deg)
        x, y = turned.point((self.x - other.x, self.y - other.y))
        return Place(x=x, y=y, turn_deg=self.turn_deg - other.turn_deg)


def turn_about(middle: Point, turn_deg: float) -> Place:
    """The place to which a frame comes that is turned about its point `middle`, which stays where it is."""
    x, y = Place(x=0.0, y=0.0, turn_deg=turn_deg).point(middle)
    return Place(x=middle[0] - x, y=middle[1] - y, turn_deg=turn_deg)
