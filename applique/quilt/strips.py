"""What is cut from fabric around the panel, as it is wanted: sizes and counts. Where it is cut, a cutting plan says.

Exact inches throughout.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

__all__ = ["ClothCut", "CutKind", "CutPieces", "Extent", "Join", "join_loss"]


Extent = tuple[Fraction, Fraction]
"""Width and height in exact inches."""


class Join(StrEnum):
    """How strips are joined end to end."""

    DIAGONAL = "diagonal"
    STRAIGHT = "straight"


class CutKind(StrEnum):
    """What is cut from fabric around the panel."""

    BORDER_STRIPS = "border strips"
    CORNERSTONES = "cornerstones"
    SQUARES = "squares"
    RECTANGLES = "rectangles"
    BINDING_STRIPS = "binding strips"
    BIAS_SQUARE = "bias square"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPieces:
    """`count` pieces of one `length`; in the quilt their length stands up where they are `upright`."""

    length: Fraction
    count: int
    upright: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothCut:
    """What is cut from one fabric: `pieces`, all of them `strip_width` wide.

    Where there is a `join`, strips may be joined end to end first; `needed` is how far they have to reach if that
    is not the sum of pieces.
    """

    fabric: str
    kind: CutKind
    strip_width: Fraction
    pieces: tuple[CutPieces, ...] = ()
    join: Join | None = None
    needed: Fraction | None = None

    @property
    def count(self) -> int:
        """How many pieces there are."""
        return sum(pieces.count for pieces in self.pieces)


def join_loss(join: Join, strip_width: Fraction, *, seam_allowance: Fraction) -> Fraction:
    """The length that one join uses up: a strip width on the diagonal, two seam allowances straight across."""
    return strip_width if join is Join.DIAGONAL else 2 * seam_allowance
