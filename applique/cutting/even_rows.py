"""Rows of equal pieces with something to spare: as many in each, where one row would take the whole width of the cloth.

Twelve squares that fill a row to the last thread are spoiled by one crooked cut; eleven are not, if another row has
room for the twelfth.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from applique.cutting.values import NO_SPARE, CuttingPlan, Lie, Piece, Region, Split

__all__ = ["even_out_rows"]

_Row = tuple[Fraction, str, Lie, Fraction]
"""What tells rows apart: how long they are, the demand of their pieces, how these lie, and what one takes across."""


def even_out_rows(plan: CuttingPlan) -> CuttingPlan:
    """The same plan, with the pieces of equal rows spread evenly where one of them is full and all would have spare.

    A row is a band from selvage to selvage with pieces of one kind side by side and nothing else but what is left over.
    No row is added, and none is left empty, so as much is used as before.
    """
    return replace(plan, cloths=tuple(replace(cloth, root=_evened(cloth.root)) for cloth in plan.cloths))


def _evened(root: Region) -> Region:
    if not isinstance(root.fill, Split) or root.fill.cut is not Lie.ACROSS:
        return root
    bands = list(root.fill.parts)
    rows: dict[_Row, list[int]] = {}
    for place, band in enumerate(bands):
        row = _row(band)
        if row is not None:
            rows.setdefault(row, []).append(place)
    for (*_, size), places in rows.items():
        counts = [sum(1 for _ in bands[place].pieces()) for place in places]
        for place, count in zip(places, _spread(counts, size, root.width), strict=True):
            bands[place] = _laid(bands[place], count)
    return replace(root, fill=replace(root.fill, parts=tuple(bands)))


def _row(band: Region) -> _Row | None:
    """Which row a band is; None if it is none."""
    if not isinstance(band.fill, Split) or band.fill.cut is not Lie.ALONG:
        return None
    *parts, last = band.fill.parts
    kinds = {
        (part.fill.key, part.fill.lie, part.width) if isinstance(part.fill, Piece) else None
        for part in (parts if last.fill is None else band.fill.parts)
    }
    kind = kinds.pop()
    return None if kinds or kind is None else (band.length, *kind)


def _spread(counts: Sequence[int], size: Fraction, width: Fraction) -> Sequence[int]:
    """As many in each row, if that leaves spare in all of them and one had none."""
    least, more = divmod(sum(counts), len(counts))
    even = [least + (index < more) for index in range(len(counts))]
    had_none = width - max(counts) * size < NO_SPARE
    return even if had_none and width - even[0] * size >= NO_SPARE else counts


def _laid(band: Region, count: int) -> Region:
    """A row with `count` of its pieces, the rest of it left over."""
    assert isinstance(band.fill, Split)
    parts = tuple(_side_by_side(band, band.fill.parts[0], count))
    return replace(band, fill=replace(band.fill, parts=parts))


def _side_by_side(band: Region, first: Region, count: int) -> Iterator[Region]:
    for index in range(count):
        yield replace(first, y=band.y + index * first.width)
    left = band.width - count * first.width
    if left:
        yield replace(band, y=band.y + count * first.width, width=left, fill=None)
