"""How large a quilt is, in words a maker can feel: its class, and the things it hangs or lies beside."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.units import Units, format_length

__all__ = ["DOOR", "PERSON_HEIGHT", "QUILT_CLASSES", "SOFA", "QuiltClass", "quilt_class"]

QUILT_CLASSES: Final = (
    ("baby", 36, 54),
    ("lap", 54, 72),
    ("twin", 68, 86),
    ("double", 86, 86),
    ("queen", 96, 98),
    ("king", 95, 105),
)
"""Inches. Source: thequiltermag.com; no standard exists."""
DOOR: Final = (32, 80)
"""Inches, a common inner door: common practice, no source."""
PERSON_HEIGHT: Final = 66
"""Inches: 5 ft 6 in."""
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


def quilt_class(width: Fraction, height: Fraction) -> QuiltClass:
    """The class whose usual size is nearest to `width` by `height`, either way round."""
    if width * height < _WALL:
        return QuiltClass(name="wall quilt", usual=None)
    short, long = sorted((width, height))
    name, across, down = min(
        QUILT_CLASSES, key=lambda size: abs(short - min(size[1:])) + abs(long - max(size[1:]))
    )
    return QuiltClass(name=name, usual=(across, down))
