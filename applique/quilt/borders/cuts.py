"""What is cut from cloth for a border: long strips, squares, rectangles."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from applique.language import Listing, listed, message, messages
from applique.quilt.borders.values import Side, SideStrip
from applique.quilt.borders.work import BorderWork
from applique.quilt.strips import ClothCut, CutKind, Join, packed_strips, pieces_across, strips_needed

__all__ = ["joined_cut", "rectangle_cuts", "squares_cut"]


def joined_cut(work: BorderWork, fabric: str, lengths: Sequence[Fraction], strip_width: Fraction) -> ClothCut:
    """Strips for all four sides: cut whole where that takes no more strips, else joined into one run."""
    usable = work.usable_width(fabric)
    join = Join(work.border.joins)
    run = sum(lengths, Fraction(0))
    joined = strips_needed(
        run, usable_width=usable, strip_width=strip_width, join=join, seam_allowance=work.seam_allowance
    )
    each = _each(work, Counter(lengths).items())
    whole = packed_strips(lengths, usable) if max(lengths) <= usable else None
    if whole is not None and whole <= joined:
        strips, how = whole, message("cut {lengths}, no joins", lengths=each)
    else:
        strips = joined
        how = (
            message("join end to end with diagonal seams, then cut {lengths}", lengths=each)
            if join is Join.DIAGONAL
            else message("join end to end with straight seams, then cut {lengths}", lengths=each)
        )
    return ClothCut(
        fabric=fabric,
        kind=CutKind.BORDER_STRIPS,
        count=len(lengths),
        strips=strips,
        strip_width=strip_width,
        across=0,
        how=how,
    )


def _each(work: BorderWork, lengths: Iterable[tuple[Fraction, int]]) -> Listing:
    """Lengths with how often they come, as a list."""
    return listed([message("{count} × {length}", count=n, length=work.said(length)) for length, n in lengths])


def squares_cut(work: BorderWork, fabric: str, count: int, size: Fraction, kind: CutKind) -> ClothCut:
    """`count` squares of the cut `size`, in strips as wide as they are."""
    across = pieces_across(size, work.usable_width(fabric))
    return ClothCut(
        fabric=fabric,
        kind=kind,
        count=count,
        strips=math.ceil(Fraction(count, across)),
        strip_width=size,
        across=across,
        how=messages(
            "cut the strips into {count} square of {size}, {across} from a strip",
            "cut the strips into {count} squares of {size}, {across} from a strip",
            count,
            size=work.said(size),
            across=across,
        ),
    )


def rectangle_cuts(work: BorderWork, strips: Mapping[Side, SideStrip], width: Fraction) -> Iterator[ClothCut]:
    """The pieces of all four sides, a cut for each fabric; `width` is the finished one of the border."""
    counts: dict[str, Counter[Fraction]] = {}
    for strip in strips.values():
        for fabric, piece in strip.pieces:
            counts.setdefault(fabric, Counter())[work.cut(piece)] += 1
    for fabric, lengths in counts.items():
        every = list(lengths.elements())
        yield ClothCut(
            fabric=fabric,
            kind=CutKind.RECTANGLES,
            count=len(every),
            strips=packed_strips(every, work.usable_width(fabric)),
            strip_width=work.cut(width),
            across=0,
            how=message(
                "cut the strips into {lengths}", lengths=_each(work, sorted(lengths.items(), reverse=True))
            ),
        )
