"""What is cut from cloth for a border: long strips, squares, rectangles."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction

from applique.quilt.borders.values import SideStrip
from applique.quilt.borders.work import BorderWork
from applique.quilt.strips import ClothCut, CutKind, CutPieces, Join

__all__ = ["joined_cut", "rectangle_cuts", "squares_cut"]


def joined_cut(
    work: BorderWork, fabric: str, lengths: Iterable[tuple[Fraction, bool]], strip_width: Fraction
) -> ClothCut:
    """Strips for all four sides, each with whether it stands up: whole, or joined into one run first."""
    return ClothCut(
        fabric=fabric,
        kind=CutKind.BORDER_STRIPS,
        strip_width=strip_width,
        pieces=_counted(lengths),
        join=Join(work.border.joins),
    )


def squares_cut(fabric: str, count: int, size: Fraction, kind: CutKind) -> ClothCut:
    """`count` squares of the cut `size`."""
    return ClothCut(
        fabric=fabric,
        kind=kind,
        strip_width=size,
        pieces=(CutPieces(length=size, count=count, upright=True),),
    )


def rectangle_cuts(work: BorderWork, strips: Iterable[SideStrip], width: Fraction) -> Iterator[ClothCut]:
    """The pieces of all four sides, a cut for each fabric; `width` is the finished one of the border."""
    found: dict[str, list[tuple[Fraction, bool]]] = {}
    for strip in strips:
        for fabric, piece in strip.pieces:
            found.setdefault(fabric, []).append((work.cut(piece), strip.side.upright))
    for fabric, lengths in found.items():
        yield ClothCut(
            fabric=fabric,
            kind=CutKind.RECTANGLES,
            strip_width=work.cut(width),
            pieces=_counted(sorted(lengths, reverse=True)),
        )


def _counted(lengths: Iterable[tuple[Fraction, bool]]) -> tuple[CutPieces, ...]:
    return tuple(
        CutPieces(length=length, count=count, upright=upright)
        for (length, upright), count in Counter(lengths).items()
    )
