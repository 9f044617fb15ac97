"""Borders of rectangles, their fabrics in sequence around the top."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Final

from applique.design import First
from applique.quilt.borders.around import fabrics_around
from applique.quilt.borders.cuts import rectangle_cuts
from applique.quilt.borders.offers import even_rectangles
from applique.quilt.borders.steps import ENDS, SIDES, border_plan, side_lengths, two_rounds
from applique.quilt.borders.values import BorderPlan, OddPiece, SideStrip, Uneven
from applique.quilt.borders.work import BorderWork, refuse_too_many
from applique.units import MM_PER_INCH, Units

__all__ = ["rectangles_border"]

_SLIVER: Final = Fraction(1, 2)
"""A piece shorter than this, finished, is not made: common practice, no source."""
_STEPS: Final = {Units.INCHES: Fraction(1, 16), Units.CENTIMETERS: 1 / Fraction(MM_PER_INCH)}
"""What is shared between two pieces is shared in these, so that both can be cut."""


def rectangles_border(work: BorderWork) -> BorderPlan:
    """A border of rectangles, the fabrics going on clockwise, no two alike side by side where that can be had.

    Where they do not fill a side, one of its pieces is shorter, but never under 1/2 in: then its two end pieces are
    a little longer instead.

    Raises:
        Refusal: more pieces than anybody would sew.
    """
    width = work.sewn(work.border.width)
    length = work.sewn(work.border.size or work.border.width * 2)
    runs = side_lengths(work, width)
    refuse_too_many(work, sum(runs.values(), Fraction(0)) / length, length)
    first = SIDES if work.border.first is First.SIDES else ENDS
    lengths = {
        side: _pieces(run, length, end=Fraction(0) if side in first else width, step=_STEPS[work.units])
        for side, run in runs.items()
    }
    around = fabrics_around(lengths, work.border.fabrics, width=width, first=first)
    strips = {
        side: SideStrip(
            side=side,
            pieces=tuple(zip(around.sides[side], pieces, strict=True)),
            cut_length=work.cut(runs[side]),
            cut_width=work.cut(width),
        )
        for side, pieces in lengths.items()
    }
    odd = tuple(
        OddPiece(side=side, place=place, count=len(pieces), length=piece, cut_length=work.cut(piece))
        for side, pieces in lengths.items()
        for place, piece in enumerate(pieces, 1)
        if piece != length
    )
    return border_plan(
        work,
        width,
        two_rounds(work, width, strips),
        rectangle_cuts(work, strips.values(), width),
        Uneven(length=length, pieces=odd, offers=even_rectangles(work, width, length)) if odd else None,
        around.alike,
    )


def _pieces(run: Fraction, length: Fraction, *, end: Fraction, step: Fraction) -> tuple[Fraction, ...]:
    """Pieces of `length` that fill `run`, top to bottom or left to right, with what is left of it made good.

    It is the last piece; the one in the middle if it is shorter than `end`, so that one whole piece lies over each
    corner; and where it would be a sliver, the two end pieces take half of it each, in multiples of `step`.
    """
    whole, left = divmod(run, length)
    if not whole:
        return (run,)
    pieces = [length] * whole
    if left >= _SLIVER:
        pieces.insert(whole if left >= end else (whole + 1) // 2, left)
    elif left:
        shared = math.floor(left / 2 / step) * step if whole > 1 else Fraction(0)
        pieces[0] += shared
        pieces[-1] += left - shared
    return tuple(pieces)
