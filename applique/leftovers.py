"""What is left of every fabric, and a back pieced from it in rows. Exact inches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from applique.quilt.finishing import BackingPlan

__all__ = ["Leftover", "LeftoverBacking", "back_from"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover:
    """A rectangle that is left of a fabric: `length` along the selvage, `width` across."""

    fabric: str
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftoverBacking:
    """Whether the back can be pieced from what is left: the leftovers row by row.

    The rows lie across the quilt where it `lies`, else they stand upright. `reached` is how far they come, `goal` how
    far they should.
    """

    rows: tuple[tuple[Leftover, ...], ...]
    lies: bool
    reached: Fraction
    goal: Fraction

    @property
    def enough(self) -> bool:
        """Whether the rows come far enough."""
        return self.reached >= self.goal


def back_from(backing: BackingPlan, pieces: Sequence[Leftover], seam: Fraction) -> LeftoverBacking:
    """The back pieced in rows from leftovers, the rows lying across or standing up, whichever reaches further."""
    width, height = backing.width, backing.height
    lying, standing = (
        _rows_from(pieces, width, height, seam),
        _rows_from(pieces, height, width, seam),
    )
    (rows, reached), goal, lies = max(
        ((lying, height, True), (standing, width, False)), key=lambda tried: tried[0][1] / tried[1]
    )
    return LeftoverBacking(rows=rows, lies=lies, reached=reached, goal=goal)


def _rows_from(
    pieces: Sequence[Leftover], across: Fraction, down: Fraction, seam: Fraction
) -> tuple[tuple[tuple[Leftover, ...], ...], Fraction]:
    """Rows at least `across` long, until they are `down` high, and how high they come; seams are taken off.

    A simple layout, not the best one: the deepest pieces first, their long sides along the row, each row as high
    as its lowest piece.
    """
    left = sorted(pieces, key=lambda piece: (-min(piece.length, piece.width), -piece.length * piece.width))
    rows: list[tuple[Leftover, ...]] = []
    reached = Fraction(0)
    while left and reached < down:
        row: list[Leftover] = []
        long = Fraction(0)
        while left and long < across:
            piece = left.pop(0)
            long += max(piece.length, piece.width) - (seam if row else 0)
            row.append(piece)
        if long < across:
            break
        rows.append(tuple(row))
        reached += min(min(piece.length, piece.width) for piece in row) - (seam if len(rows) > 1 else 0)
    return tuple(rows), reached
