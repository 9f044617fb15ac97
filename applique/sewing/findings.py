"""What the checks have found, as values: every finding with its place on the panel, and what it was judged by.

Lengths are inches; places are in the frame of the panel. What is said of them is in `words`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TypeAlias

from applique.design import Around, RiskKind, Stitch
from applique.errors import Where
from applique.geometry.points import Point
from applique.sewing.limits import Limit
from applique.sewing.placed import Placed
from applique.sewing.reading import Reading

__all__ = [
    "Checks",
    "Detail",
    "Faded",
    "Finding",
    "FindingKind",
    "Meeting",
    "Nearness",
    "OutOfRange",
    "Shortfall",
    "Spot",
    "TooFar",
]


class FindingKind(StrEnum):
    """What a finding of the checks is about, by the names that all risks have."""

    STROKE = RiskKind.STROKE.value
    COUNTER = RiskKind.COUNTER.value
    SLOT = RiskKind.SLOT.value
    HOLE = RiskKind.HOLE.value
    NECK = RiskKind.NECK.value
    POINT = RiskKind.POINT.value
    CLEAR = RiskKind.CLEAR.value
    OUTLINES = RiskKind.OUTLINES.value
    ROWS = RiskKind.ROWS.value
    SEAM = RiskKind.SEAM.value
    SLIVER = RiskKind.SLIVER.value
    STITCH = RiskKind.STITCH.value
    READING = RiskKind.READING.value
    CONTRAST = RiskKind.CONTRAST.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One letter of a finding: its text, what it measures, and where on the panel."""

    text: str
    measure: float
    at: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortfall:
    """Less than a limit asks for: strokes, counters, slots, points, holes, necks, gaps, distances from the seam."""

    limit: Limit


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearness:
    """What is nearer to the row `above` it, or to another piece, than a limit asks for.

    `names` are those of the one above and of the one that it is about.
    """

    limit: Limit
    above: Where
    names: tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Outlines, `reach` wide, that lie over one another; they are `around` letters or words."""

    around: Around
    reach: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OutOfRange:
    """A stitch whose width is beyond the least or the greatest it should have, the `bound`."""

    stitch: Stitch
    width: Fraction
    bound: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Faded:
    """Letters of `fabric` that hardly show on the `background`; `difference` is that of their colors (CIEDE2000)."""

    fabric: str
    background: str
    difference: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TooFar:
    """Letters `cap_height` high, to be read from `distance`; they are readable to `farthest`.

    `least` is the height that can just be read from there, `comfortable` the one that reads easily.
    """

    cap_height: Fraction
    distance: Fraction
    farthest: Fraction
    least: Fraction
    comfortable: Fraction


Detail: TypeAlias = Shortfall | Nearness | Meeting | OutOfRange | Faded | TooFar
"""What is known of a finding beside its measure and its limit, by its kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that will go wrong in one row, or other piece, at its worst place first.

    `where` is the table of the design that asks for it.

    `measure` and `limit` are inches, degrees for a sharp point, and a ratio for contrast. `spots` are all the
    letters it is true of.
    """

    kind: FindingKind
    where: Where
    measure: float
    limit: float
    spots: tuple[Spot, ...]
    detail: Detail

    @property
    def row(self) -> int | None:
        """The row, from 1, if it is about one."""
        return self.where.row

    @property
    def at(self) -> Point | None:
        """The worst place on the panel; None where the whole row is meant."""
        return self.spots[0].at if self.spots else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Checks:
    """What was judged, the findings, and how each row reads."""

    placed: Placed
    findings: tuple[Finding, ...]
    readings: tuple[Reading, ...]
