"""How large a quilt is, in words a maker can feel: its class, and the things it hangs or lies beside."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.units import Units, format_length

__all__ = [
    "DOOR",
    "MATTRESSES",
    "PERSON_HEIGHT",
    "QUILT_CLASSES",
    "SOFA",
    "BedCover",
    "QuiltClass",
    "bed_cover",
    "quilt_class",
]

QUILT_CLASSES: Final = (
    ("baby", 36, 54),
    ("lap", 54, 72),
    ("twin", 68, 86),
    ("double", 86, 86),
    ("queen", 96, 98),
    ("king", 95, 105),
)
"""Inches. Source: thequiltermag.com; no standard exists."""
MATTRESSES: Final = (
    ("crib", 28, 52),
    ("twin", 39, 75),
    ("full", 54, 75),
    ("queen", 60, 80),
    ("king", 76, 80),
)
"""US mattresses in inches. Source: honeybegood.com."""
DOOR: Final = (32, 80)
"""Inches, a common inner door: common practice, no source."""
PERSON_HEIGHT: Final = 66
"""Inches, 5 ft 6 in: common practice, no source."""
SOFA: Final = (84, 34)
"""Inches wide and high, a sofa for three: common practice, no source."""
_WALL: Final = 36 * 54 * Fraction(2, 3)
"""Square inches under which a quilt is called a wall quilt: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuiltClass:
    """The class nearest in size, and its usual size in inches; a wall quilt has none."""

    name: str
    usual: tuple[int, int] | None

    def words(self, units: Units) -> str:
        """The class as a maker would say it."""
        if self.usual is None:
            return f"a {self.name}"
        across, down = (format_length(Fraction(side), units) for side in self.usual)
        return f"about a {self.name} quilt ({across} by {down})"


@dataclass(frozen=True, slots=True, kw_only=True)
class BedCover:
    """The largest bed whose top a quilt covers, and how far it hangs over at each side; exact inches."""

    name: str
    mattress: tuple[int, int]
    over_each_side: Fraction

    def words(self, units: Units) -> str:
        """The bed as a maker would say it. No word of it for a crib: loose quilts do not belong in one."""
        across, down = (format_length(Fraction(side), units) for side in self.mattress)
        over = format_length(self.over_each_side, units)
        return f"covers a {self.name} bed ({across} by {down}) with {over} over each side"


def bed_cover(width: Fraction, height: Fraction) -> BedCover | None:
    """The largest mattress, cribs left out, that lies whole under `width` by `height`; None if there is none."""
    covered = [bed for bed in MATTRESSES[1:] if width >= bed[1] and height >= bed[2]]
    if not covered:
        return None
    name, across, down = covered[-1]
    return BedCover(name=name, mattress=(across, down), over_each_side=(width - across) / 2)


def quilt_class(width: Fraction, height: Fraction) -> QuiltClass:
    """The class whose usual size is nearest to `width` by `height`, either way round."""
    if width * height < _WALL:
        return QuiltClass(name="wall quilt", usual=None)
    short, long = sorted((width, height))
    name, across, down = min(
        QUILT_CLASSES, key=lambda size: abs(short - min(size[1:])) + abs(long - max(size[1:]))
    )
    return QuiltClass(name=name, usual=(across, down))
