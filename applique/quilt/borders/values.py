"""A border worked out, as values: its strips and pieces, the rounds of sewing, and where each piece lies."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from applique.design import BorderKind, Corners
from applique.quilt.edge import Edge
from applique.quilt.strips import ClothCut, CutKind, CutPieces, Extent

__all__ = [
    "BorderPlan",
    "BorderStep",
    "Corner",
    "EvenOffer",
    "OddPiece",
    "Patch",
    "Side",
    "SideStrip",
    "Uneven",
]


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


class Corner(StrEnum):
    """A corner of the top."""

    TOP_LEFT = "top left"
    TOP_RIGHT = "top right"
    BOTTOM_RIGHT = "bottom right"
    BOTTOM_LEFT = "bottom left"


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
class OddPiece:
    """A piece that is not as long as the others: `place` (from 1) among the `count` of its side, top to bottom or
    left to right, its finished `length`, and what it is cut to."""

    side: Side
    place: int
    count: int
    length: Fraction
    cut_length: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenOffer:
    """A border near the maker's that comes out even: finished sizes, and how many pieces lie along the top and along
    a side."""

    kind: BorderKind
    width: Fraction
    length: Fraction
    across: int
    down: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Uneven:
    """Pieces of the finished `length` that do not fill the sides: which are shorter or longer, and what would fill
    them."""

    length: Fraction
    pieces: tuple[OddPiece, ...]
    offers: tuple[EvenOffer, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderPlan:
    """A border worked out. `before` is the finished size of the top without it, `edge` where the top ends with it.

    `uneven` is there where not all pieces are of one length. `alike` are the corners where two pieces of one fabric
    touch.
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
    alike: tuple[Corner, ...]

    @property
    def finished(self) -> Extent:
        """The finished size of the top with it."""
        return self.edge.size

    def overhang(self, strip: SideStrip, seam_allowance: Fraction) -> Fraction:
        """How far a mitered strip reaches past either end of the side that it is centered on, as cut."""
        return (strip.cut_length - self.before[strip.side.upright] - 2 * seam_allowance) / 2

    @property
    def strips_to_cut(self) -> tuple[CutPieces, ...]:
        """The plain strips of its sides as they are cut, without what is sewn to their ends."""
        return tuple(
            pieces for cut in self.cuts if cut.kind is CutKind.BORDER_STRIPS for pieces in cut.pieces
        )
