"""How large a quilt is: its class, the bed it covers, and the things it hangs or lies beside."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

__all__ = [
    "DOOR",
    "FRONT",
    "MATTRESSES",
    "PERSON_HEIGHT",
    "QUILT_CLASSES",
    "SEAT",
    "SOFA",
    "Against",
    "BedCover",
    "Mattress",
    "QuiltClass",
    "QuiltSize",
    "bed_cover",
    "quilt_class",
]


class QuiltSize(StrEnum):
    """What quilts are called by their size."""

    WALL = "wall quilt"
    THROW = "throw or wall quilt"
    LAP = "lap"
    TWIN = "twin"
    DOUBLE = "double"
    QUEEN = "queen"
    KING = "king"
    PILLOW = "pillow"
    BANNER = "banner"
    GARMENT = "garment"
    LETTERS = "letters"


class Mattress(StrEnum):
    """What beds are called by their mattress."""

    CRIB = "crib"
    TWIN = "twin"
    FULL = "full"
    QUEEN = "queen"
    KING = "king"


QUILT_CLASSES: Final = (
    (QuiltSize.THROW, 36, 54),
    (QuiltSize.LAP, 54, 72),
    (QuiltSize.TWIN, 68, 86),
    (QuiltSize.DOUBLE, 86, 86),
    (QuiltSize.QUEEN, 96, 98),
    (QuiltSize.KING, 95, 105),
)
"""Inches: published, docs/sources.md, quilt classes; no standard exists. The first has our name: we call no quilt a
baby quilt."""
MATTRESSES: Final = (
    (Mattress.CRIB, 28, 52),
    (Mattress.TWIN, 39, 75),
    (Mattress.FULL, 54, 75),
    (Mattress.QUEEN, 60, 80),
    (Mattress.KING, 76, 80),
)
"""US mattresses in inches: published, docs/sources.md, batting sizes."""
DOOR: Final = (32, 80)
"""Inches, a common inner door: common practice, no source."""
PERSON_HEIGHT: Final = 66
"""Inches, 5 ft 6 in: common practice, no source."""
SOFA: Final = (84, 34)
"""Inches wide and high, a sofa for three: common practice, no source."""
FRONT: Final = (22, 28)
"""Inches wide and long, the front of a plain garment for somebody grown up: common practice, no source."""
SEAT: Final = 18
"""Inches from the floor to the seat of a sofa: common practice, no source."""
_WALL: Final = 36 * 54 * Fraction(2, 3)
"""Square inches under which a quilt is called a wall quilt: common practice, no source."""
_LONG: Final = 2
"""As many times as long as wide, a quilt is called a wall quilt whatever its size: common practice, no source."""
_BEYOND: Final = 12
"""Inches that both sides together may be off the largest class and still be about it: common practice, no source."""


class Against(StrEnum):
    """How a quilt stands against the usual size of its class: near it, longer than it, or larger both ways."""

    ABOUT = "about"
    LONGER = "longer than"
    LARGER = "larger than"


@dataclass(frozen=True, slots=True, kw_only=True)
class QuiltClass:
    """The class nearest in size, its usual size in inches (none for what may hang on a wall), and how the quilt
    stands against that size.
    """

    name: QuiltSize
    usual: tuple[int, int] | None
    against: Against = Against.ABOUT


@dataclass(frozen=True, slots=True, kw_only=True)
class BedCover:
    """The largest bed whose top a quilt covers, and how far it hangs over at each side; exact inches."""

    name: Mattress
    mattress: tuple[int, int]
    over_each_side: Fraction


def bed_cover(width: Fraction, height: Fraction) -> BedCover | None:
    """The largest mattress, cribs left out, that lies whole under `width` by `height`; None if there is none."""
    covered = [bed for bed in MATTRESSES[1:] if width >= bed[1] and height >= bed[2]]
    if not covered:
        return None
    name, across, down = covered[-1]
    return BedCover(name=name, mattress=(across, down), over_each_side=(width - across) / 2)


def quilt_class(width: Fraction, height: Fraction) -> QuiltClass:
    """The class whose usual size is nearest to `width` by `height`, either way round; the largest one beyond it.

    What is small, or twice as long as wide, is a wall quilt.
    """
    short, long = sorted((width, height))
    if width * height < _WALL or long >= _LONG * short:
        return QuiltClass(name=QuiltSize.WALL, usual=None)

    def off(size: tuple[QuiltSize, int, int]) -> Fraction:
        return abs(short - min(size[1:])) + abs(long - max(size[1:]))

    largest = QUILT_CLASSES[-1]
    name, across, down = largest
    if long > down and off(largest) > _BEYOND:
        against = Against.LARGER if short >= across else Against.LONGER
        return QuiltClass(name=name, usual=(across, down), against=against)
    nearest = min(QUILT_CLASSES, key=off)
    name, across, down = nearest
    return QuiltClass(name=name, usual=None if nearest is QUILT_CLASSES[0] else (across, down))
