"""What is cut from fabric around the panel, as it is wanted: sizes and counts. Where it is cut, a cutting plan says.

Exact inches throughout.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

__all__ = [
    "ClothCut",
    "CutKind",
    "CutPieces",
    "Extent",
    "Join",
    "join_loss",
    "strips_reach",
    "width_that_holds",
]


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
    SASHING = "sashing"
    PLAIN_BLOCKS = "plain blocks"


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


def strips_reach(
    strips: int, *, usable_width: Fraction, strip_width: Fraction, join: Join, seam_allowance: Fraction
) -> Fraction:
    """How long `strips` strips across the fabric are, joined end to end.

    Source:
        n·usable − (n−1)·loss: geometry, docs/sources.md, a diagonal join.
    """
    return strips * usable_width - (strips - 1) * join_loss(join, strip_width, seam_allowance=seam_allowance)


def width_that_holds(
    run: Fraction, *, strips: int, strip_width: Fraction, join: Join, seam_allowance: Fraction
) -> Fraction:
    """The least usable width from which so many strips, joined end to end, reach `run`; exact, to be rounded up.

    A run no longer than what a join uses up is cut from one strip.

    Source:
        n·usable − (n−1)·loss ≥ run, solved for the usable width. 300 in from 7 strips joined straight with seams of
        1/4 in: (300 + 6 · 1/2) / 7 = 43 2/7 in.
    """
    loss = join_loss(join, strip_width, seam_allowance=seam_allowance)
    return (run + (strips - 1) * loss) / strips if run > loss else run
