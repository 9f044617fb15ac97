"""What the checks have found, as values: every finding with its place on the panel, and what it was judged by.

Lengths are inches; places are in the frame of the panel.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from applique.errors import Notice, Where
from applique.geometry.points import Point
from applique.sewing.placed import Placed
from applique.sewing.reading import Reading

__all__ = ["Checks", "Finding", "FindingKind", "Spot"]


class FindingKind(StrEnum):
    """What a finding is about."""

    STROKE = "thin stroke"
    COUNTER = "small counter"
    SLOT = "narrow slot"
    HOLE = "small hole in the outline"
    NECK = "narrow neck in the outline"
    POINT = "sharp point"
    CLEAR = "letters close together"
    OUTLINES = "outlines that meet"
    ROWS = "rows close together"
    SEAM = "close to the seam"
    STITCH = "stitch width"
    READING = "hard to read"
    CONTRAST = "low contrast"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One letter of a finding: its text, what it measures, and where on the panel."""

    text: str
    measure: float
    at: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that will go wrong in one row, at its worst place first.

    `measure` and `limit` are inches, degrees for a sharp point, and a ratio for contrast. `spots` are all the
    letters it is true of.
    """

    kind: FindingKind
    row: int
    measure: float
    limit: float
    spots: tuple[Spot, ...]
    what: str

    @property
    def where(self) -> Where:
        """The row, as the design file counts it."""
        return Where.in_row(self.row)

    @property
    def at(self) -> Point | None:
        """The worst place on the panel; None where the whole row is meant."""
        return self.spots[0].at if self.spots else None

    def notice(self) -> Notice:
        """The finding as a notice of the pattern."""
        return Notice(what=self.what, where=self.where)


@dataclass(frozen=True, slots=True, kw_only=True)
class Checks:
    """What was judged, the findings, and how each row reads."""

    placed: Placed
    findings: tuple[Finding, ...]
    readings: tuple[Reading, ...]
