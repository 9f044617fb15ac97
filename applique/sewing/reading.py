"""From how far words can be read. Lengths are inches."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

__all__ = [
    "COMFORTABLE",
    "FARTHEST",
    "SIGN_GAP",
    "SIGN_LINES",
    "SIGN_STROKE",
    "Mounting",
    "Reading",
    "comfortable_height",
    "least_height",
    "sign_height",
]

COMFORTABLE: Final = 120
"""Times the cap height: 1 in of letter for 10 ft (common practice)."""
FARTHEST: Final = 300
"""Times the cap height: 1 in for 25 ft: published, docs/sources.md, height of a letter. An older edition of MUTCD
2A.14 said 40 ft."""
SIGN_STROKE: Final = (0.10, 0.30)
"""The stroke of an I as a share of its height, on a sign (ADA Standards 703.5.7)."""
SIGN_GAP: Final = (0.10, 0.35)
"""The gaps between letters as a share of their height, on a sign (ADA Standards 703.5.8)."""
SIGN_LINES: Final = (1.35, 1.70)
"""From baseline to baseline as a share of the height, on a sign (ADA Standards 703.5.9)."""
_FOOT: Final = 12
_EIGHTH: Final = Fraction(1, 8)


class Mounting(StrEnum):
    """How high a sign hangs, as the ADA Standards sort them: its baseline above the floor."""

    LOW = "40 to 70 in"
    MIDDLE = "70 to 120 in"
    HIGH = "over 120 in"


_LADDER: Final = {
    Mounting.LOW: (Fraction(5, 8), 6),
    Mounting.MIDDLE: (Fraction(2), 15),
    Mounting.HIGH: (Fraction(3), 21),
}
"""Height up to a distance in feet, then 1/8 in more for each foot (ADA Standards, table 703.5.5; the middle row from
memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """How one row reads: comfortably up to one distance, and at the limit up to another; and its proportions.

    `stroke` is the stroke of the I (or of the thinnest letter) and `gap` the middle of the gaps between letters,
    both as shares of the cap height; None where there is nothing to measure.
    """

    row: int
    comfortable: Fraction
    farthest: Fraction
    stroke: float | None
    gap: float | None


def comfortable_height(distance: Fraction) -> Fraction:
    """The cap height that reads easily from `distance`."""
    return distance / COMFORTABLE


def least_height(distance: Fraction) -> Fraction:
    """The cap height that can just be read from `distance`."""
    return distance / FARTHEST


def sign_height(distance: Fraction, mounting: Mounting) -> Fraction:
    """The least cap height of a sign read from `distance`, for comparison with a wall quilt.

    Source:
        ADA Standards for Accessible Design, table 703.5.5.
    """
    height, feet = _LADDER[mounting]
    beyond = max(0, math.ceil(distance / _FOOT) - feet)
    return height + beyond * _EIGHTH
