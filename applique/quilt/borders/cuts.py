"""What is cut from cloth for a border: long strips, squares, rectangles."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from applique.quilt.borders.values import Side, SideStrip
from applique.quilt.borders.work import BorderWork
from applique.quilt.strips import (
    ClothCut,
    CutKind,
    Join,
    join_strips,
    packed_strips,
    pieces_across,
)

__all__ = ["joined_cut", "rectangle_cuts", "squares_cut"]


def joined_cut(work: BorderWork, fabric: str, lengths: Sequence[Fraction], strip_width: Fraction) -> ClothCut:
    """Strips for all four sides: cut whole where that takes no more strips, else joined into one run."""
    usable = work.usable_width(fabric)
    strips, run = join_strips(
        sum(lengths, Fraction(0)),
        usable_width=usable,
        strip_width=strip_width,
        join=Join(work.border.joins),
        seam_allowance=work.seam_allowance,
    )
    whole = packed_strips(lengths, usable) if max(lengths) <= usable else None
    is_whole = whole is not None and whole <= strips
    return ClothCut(
        fabric=fabric,
        kind=CutKind.BORDER_STRIPS,
        strips=strips if whole is None else min(whole, strips),
        strip_width=strip_width,
        pieces=tuple(Counter(lengths).items()),
        run=None if is_whole else run,
    )


def squares_cut(work: BorderWork, fabric: str, count: int, size: Fraction, kind: CutKind) -> ClothCut:
    """`count` squares of the cut `size`, in strips as wide as they are."""
    across = pieces_across(size, work.usable_width(fabric))
    return ClothCut(
        fabric=fabric,
        kind=kind,
        strips=math.ceil(Fraction(count, across)),
        strip_width=size,
        pieces=((size, count),),
        across=across,
    )


def rectangle_cuts(work: BorderWork, strips: Mapping[Side, SideStrip], width: Fraction) -> Iterator[ClothCut]:
    """The pieces of all four sides, a cut for each fabric; `width` is the finished one of the border."""
    counts: dict[str, Counter[Fraction]] = {}
    for strip in strips.values():
        for fabric, piece in strip.pieces:
            counts.setdefault(fabric, Counter())[work.cut(piece)] += 1
    for fabric, lengths in counts.items():
        yield ClothCut(
            fabric=fabric,
            kind=CutKind.RECTANGLES,
            strips=packed_strips(list(lengths.elements()), work.usable_width(fabric)),
            strip_width=work.cut(width),
            pieces=tuple(sorted(lengths.items(), reverse=True)),
        )
