"""The line that a row stands on, as it is set and before the whole row is turned.

Inches, y up, from the origin of the row or of the panel; x runs along a level row.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Protocol

from applique.geometry.place import Place
from applique.geometry.points import Point

__all__ = ["Baseline", "Level"]

_STEEP_DEG: Final = 60
"""From here on a row is turned too far for a line straight down from a letter to meet its baseline near it."""


class Baseline(Protocol):
    """What a row stands on: letters are set on a level line first and then carried onto this one."""

    @property
    def is_level(self) -> bool:
        """Whether it runs straight and level."""

    def moved(self, right: float, up: float) -> Baseline:
        """The same line so far to the right and up."""

    def carried(self, flat: Place, middle: float) -> Place:
        """Where a letter lies that lay at `flat` on the level line, its middle at x = `middle`."""

    def under(self, point: Point) -> Place:
        """The point of the line nearest to `point`, turned as the line runs there."""

    def below(self, point: Point, turn_deg: float) -> Point:
        """Where a plumb line from `point` meets the line once both are turned by `turn_deg`.

        Turned by 60 degrees or more, the point of the line nearest to `point`.
        """

    def points(self, left: float, right: float) -> tuple[Point, ...]:
        """The line below ink from `left` to `right`, as points within `polygons.CHORD_ERROR` of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A straight line at the height `y`."""

    y: float

    @property
    def is_level(self) -> bool:
        """It is."""
        return True

    def moved(self, right: float, up: float) -> Level:
        """The same line so far up; it runs on for ever to either side."""
        return Level(y=self.y + up)

    def carried(self, flat: Place, middle: float) -> Place:
        """Where it lay."""
        return flat

    def under(self, point: Point) -> Place:
        """The point below or above."""
        return Place(x=point[0], y=self.y)

    def below(self, point: Point, turn_deg: float) -> Point:
        """The point that a plumb line meets, or the nearest one."""
        x, y = point
        steep = abs(math.remainder(turn_deg, 180)) >= _STEEP_DEG
        return (x if steep else x - (y - self.y) * math.tan(math.radians(turn_deg)), self.y)

    def points(self, left: float, right: float) -> tuple[Point, ...]:
        """Its two ends."""
        return ((left, self.y), (right, self.y))
