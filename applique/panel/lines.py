"""The line that a row stands on, as it is set and before the whole row is turned.

Inches, y up, from the origin of the row or of the panel; x runs along a level row.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Protocol

from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point, middle_of

__all__ = ["Baseline", "Level", "Plumb", "foot_on"]

_STEEP_DEG: Final = 60
"""From here on a row is turned too far for a line straight down from a letter to meet its baseline near it."""


class Baseline(Protocol):
    """What a row stands on: letters are set on a level line first and then carried onto this one."""

    @property
    def is_level(self) -> bool:
        """Whether it runs straight and level."""

    @property
    def runs_down(self) -> bool:
        """Whether letters stand below one another along it, each across it."""

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

    def points(self, ink: Bounds) -> tuple[Point, ...]:
        """The line along ink of that extent, as points within `polygons.CHORD_ERROR` of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A straight line at the height `y`."""

    y: float

    @property
    def is_level(self) -> bool:
        """It is."""
        return True

    @property
    def runs_down(self) -> bool:
        """It does not."""
        return False

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

    def points(self, ink: Bounds) -> tuple[Point, ...]:
        """Its two ends."""
        return ((ink[0], self.y), (ink[2], self.y))


@dataclass(frozen=True, slots=True, kw_only=True)
class Plumb:
    """The line down the middle of a row that runs down, straight and upright at `x`. Each letter stands across it."""

    x: float

    @property
    def is_level(self) -> bool:
        """It is not."""
        return False

    @property
    def runs_down(self) -> bool:
        """It does."""
        return True

    def moved(self, right: float, up: float) -> Plumb:
        """The same line so far to the right; it runs on for ever up and down."""
        return Plumb(x=self.x + right)

    def carried(self, flat: Place, middle: float) -> Place:
        """Where it lay: the letters of a row that runs down are set along it."""
        return flat

    def under(self, point: Point) -> Place:
        """The point of the line on the same height."""
        return Place(x=self.x, y=point[1])

    def below(self, point: Point, turn_deg: float) -> Point:
        """The point itself: a letter is marked where it stands."""
        return point

    def points(self, ink: Bounds) -> tuple[Point, ...]:
        """Its two ends, from the top down."""
        return ((self.x, ink[3]), (self.x, ink[1]))


def foot_on(line: Baseline, place: Place, box: Bounds) -> Place:
    """Where on `line` a letter stands that lies at `place`, its outline in `box` about its own origin: below the middle
    of that. In a row that runs down, beside the lowest point of the letter."""
    middle = middle_of(box)
    return line.under(place.point((middle[0], box[1]) if line.runs_down else middle))
