"""Borders of rectangles, their fabrics in sequence around the top."""

from __future__ import annotations

from fractions import Fraction

from applique.quilt.borders.cuts import rectangle_cuts
from applique.quilt.borders.steps import border_plan, side_lengths, two_rounds
from applique.quilt.borders.values import BorderPlan, Side, SideStrip, Uneven
from applique.quilt.borders.work import BorderWork, refuse_too_many

__all__ = ["rectangles_border"]


def rectangles_border(work: BorderWork) -> BorderPlan:
    """A border of rectangles, the fabrics going on from side to side; a side's last may be shorter.

    Raises:
        Refusal: more pieces than anybody would sew.
    """
    width = work.sewn(work.border.width)
    length = work.sewn(work.border.size or work.border.width * 2)
    fabrics = work.border.fabrics
    lengths = side_lengths(work, width)
    refuse_too_many(work, sum(lengths.values(), Fraction(0)) / length, length)
    strips: dict[Side, SideStrip] = {}
    turn = 0
    for side in (Side.TOP, Side.RIGHT, Side.BOTTOM, Side.LEFT):
        pieces = []
        left = lengths[side]
        while left > 0:
            pieces.append((fabrics[turn % len(fabrics)], min(length, left)))
            left -= length
            turn += 1
        strips[side] = SideStrip(
            side=side, pieces=tuple(pieces), cut_length=work.cut(lengths[side]), cut_width=work.cut(width)
        )
    short = sorted({piece for strip in strips.values() for _, piece in strip.pieces if piece < length})
    uneven = Uneven(length=length, last=tuple(short)) if short else None
    return border_plan(
        work, width, two_rounds(work, width, strips), rectangle_cuts(work, strips.values(), width), uneven
    )
