"""A border worked out, as values: its strips and pieces, the rounds of sewing, and where each piece lies."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from applique.design import BorderKind, Corners
from applique.quilt.edge import Edge
from applique.quilt.strips import ClothCut, Extent

__all__ = ["BorderPlan", "BorderStep", "Patch", "Side", "SideStrip", "Uneven"]


class Side(StrEnum):
    """A side of the top."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"

    @property
    def upright(self) -> bool:
        """Whether its strips stand up."""
        return self in (Side.LEFT, Side.RIGHT)


@dataclass(frozen=True, slots=True, kw_only=True)
class SideStrip:
    """What is sewn to one side of the top: its pieces in order, top to bottom or left to right.

    `pieces` are (fabric, finished length); a plain strip is one piece. `cut_length` and `cut_width` hold the
    seam allowance.
    """

    side: Side
    pieces: tuple[tuple[str, Fraction], ...]
    cut_length: Fraction
    cut_width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderStep:
    """One round of sewing: the strips of two sides (four with mitered corners), and the top afterwards."""

    strips: tuple[SideStrip, ...]
    finished: Extent
    cut: Extent


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """One piece as it shows in the finished quilt: its corners from the middle of the quilt, y up."""

    fabric: str
    side: Side
    corners: tuple[Extent, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Uneven:
    """Pieces of `length` that do not fill the sides: how long the `last` of a side are instead; both finished."""

    length: Fraction
    last: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderPlan:
    """A border worked out. `before` is the finished size of the top without it, `edge` where the top ends with it.

    `uneven` is there where the last piece of a side is shorter than the others.
    """

    number: int
    kind: BorderKind
    width: Fraction
    corners: Corners
    before: Extent
    edge: Edge
    steps: tuple[BorderStep, ...]
    cuts: tuple[ClothCut, ...]
    patches: tuple[Patch, ...]
    uneven: Uneven | None

    @property
    def finished(self) -> Extent:
        """The finished size of the top with it."""
        return self.edge.size
