"""Plain borders: one strip to a side, with butted or mitered corners or cornerstones."""

from __future__ import annotations

from fractions import Fraction
from types import MappingProxyType
from typing import Final

from applique.design import Corners, First
from applique.quilt.borders.cuts import joined_cut, squares_cut
from applique.quilt.borders.edges import grown
from applique.quilt.borders.steps import ENDS, SIDES, border_plan, one_round, side_lengths, two_rounds
from applique.quilt.borders.values import BorderPlan, BorderStep, Side, SideStrip
from applique.quilt.borders.work import BorderWork
from applique.quilt.strips import CutKind
from applique.units import MM_PER_INCH, Units, round_up

__all__ = ["strip_border"]

_MITER_EXTRA: Final = MappingProxyType(
    {Units.INCHES: Fraction(4), Units.CENTIMETERS: 100 / MM_PER_INCH},
)
"""What a mitered strip has beyond side + 2 × border, both ends together: common practice, no source (2 to 4 in)."""
_MITER_SEAMS: Final = 5
"""And at the least, in seam allowances: the outer edge lies one of them beyond the finished corner, and beside a seam
at 45° the allowance takes √2 of one along it; 2 · (1 + √2) for both ends (geometry)."""
_MITER_HELD: Final = Fraction(1)
"""Beyond those, both ends together, to hold and to sew on from: common practice, no source."""


def strip_border(work: BorderWork) -> BorderPlan:
    """A border of one strip to a side: cut whole, or joined and then cut."""
    width = work.sewn(work.border.width)
    fabric = work.border.fabrics[0]
    lengths = side_lengths(work, width)
    strips = {side: _plain_strip(work, side, fabric, length, width) for side, length in lengths.items()}
    if work.border.corners is Corners.MITERED:
        outer = grown(work.before, width)
        mitered = tuple(strips[side] for side in (*SIDES, *ENDS))
        steps: tuple[BorderStep, ...] = (one_round(work, mitered, outer),)
    else:
        steps = two_rounds(work, width, strips)
    plain = [(strip.cut_length, side.upright) for side, strip in strips.items()]
    if work.border.corners is Corners.CORNERSTONES:
        plain = [(work.cut(work.before[side.upright]), side.upright) for side in strips]
    cuts = [joined_cut(work, fabric, plain, work.cut(width))]
    if work.border.corners is Corners.CORNERSTONES:
        cuts.append(
            squares_cut(work.border.corner_fabric or fabric, 4, work.cut(width), CutKind.CORNERSTONES)
        )
    return border_plan(work, width, steps, cuts)


def _plain_strip(work: BorderWork, side: Side, fabric: str, length: Fraction, width: Fraction) -> SideStrip:
    pieces: tuple[tuple[str, Fraction], ...] = ((fabric, length),)
    cut_length = work.cut(length)
    corners = work.border.corners
    if corners is Corners.MITERED:
        extra = max(_MITER_EXTRA[work.units], _MITER_SEAMS * work.seam_allowance + _MITER_HELD)
        cut_length = round_up(length + extra, work.step)
    second = ENDS if work.border.first is First.SIDES else SIDES
    if corners is Corners.CORNERSTONES and side in second:
        stone = work.border.corner_fabric or fabric
        pieces = ((stone, width), (fabric, length - 2 * width), (stone, width))
    return SideStrip(side=side, pieces=pieces, cut_length=cut_length, cut_width=work.cut(width))
