"""Rows of equal pieces with something to spare: as many in each, where one row would take the whole width of the cloth.

Twelve squares that fill a row to the last thread are spoiled by one crooked cut, or by cloth a little narrower than it
was said to be; eleven are not, if another row has room for the twelfth, or what is left over beside something else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from applique.cutting.values import NO_SPARE, CutCloth, CuttingPlan, Lie, Piece, Region, Split

__all__ = ["even_out_rows"]

_Row = tuple[Fraction, str, Lie, Fraction]
"""What tells rows apart: how long they are, the demand of their pieces, how these lie, and what one takes across."""


def even_out_rows(
    plan: CuttingPlan,
    *,
    spare: Fraction = Fraction(0),
    room: Mapping[tuple[str, int], Fraction] | None = None,
    moves: bool = True,
) -> CuttingPlan:
    """The same plan, with the pieces of equal rows spread evenly where one of them is full and all would have spare.

    A row is a band from selvage to selvage with pieces of one kind side by side and nothing else but what is left over;
    it is full where less than `spare` of the width is left, at least `NO_SPARE`. Rows are added, no more than it takes,
    as far as a cloth has `room`: inches beyond its bands, by its supply and number. None is left empty. Where rows
    cannot be spread so, what is too many in them is cut from what is left over elsewhere in the cloth (`moves`).
    """
    found = []
    used = plan.used
    for cloth in plan.cloths:
        rows = _Rows(cloth, max(spare, NO_SPARE), (room or {}).get((cloth.supply, cloth.number), Fraction(0)))
        root = rows.evened()
        if moves:
            root = _moved_out(root, rows.spare)
        used += root.length - cloth.root.length
        found.append(replace(cloth, root=root))
    return replace(plan, cloths=tuple(found), used=used)


class _Rows:
    """The rows of one cloth, and the length there is for more of them."""

    def __init__(self, cloth: CutCloth, spare: Fraction, room: Fraction) -> None:
        self.root, self.spare, self.room = cloth.root, spare, room

    def evened(self) -> Region:
        """All of the cloth; longer by the rows that were added unless its end was left over."""
        root = self.root
        across = root.fill if isinstance(root.fill, Split) and root.fill.cut is Lie.ACROSS else None
        bands = [root] if across is None else across.parts
        rows: dict[_Row, list[int]] = {}
        for place, band in enumerate(bands):
            row = _row(band)
            if row is not None:
                rows.setdefault(row, []).append(place)
        laid: dict[int, list[Region]] = {}
        for (length, _, _, size), places in rows.items():
            counts = [sum(1 for _ in bands[place].pieces()) for place in places]
            now = self._spread(counts, length, size)
            for place, count in zip(places, now, strict=False):
                laid[place] = [_laid(bands[place], count)]
            laid[places[-1]] += [_laid(bands[places[-1]], count) for count in now[len(places) :]]
        parts = [part for place, band in enumerate(bands) for part in laid.get(place, [band])]
        return _end_to_end(root, parts)

    def _spread(self, counts: Sequence[int], length: Fraction, size: Fraction) -> Sequence[int]:
        """As many in each row, in as few more rows as leave spare in all of them, if one had none."""
        if self._is_left(max(counts), size):
            return counts
        for more in range(sum(counts) - len(counts) + 1):
            if more * length > self.room:
                break
            least, over = divmod(sum(counts), len(counts) + more)
            even = [least + (index < over) for index in range(len(counts) + more)]
            if self._is_left(even[0], size):
                self.room -= more * length
                return even
        return counts

    def _is_left(self, count: int, size: Fraction) -> bool:
        """Whether there is spare beside so many pieces."""
        return self.root.width - count * size >= self.spare


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


def _end_to_end(root: Region, parts: Sequence[Region]) -> Region:
    """`root` with `parts` one after the other along the selvage; what is left at its end gives way to them."""
    if len(parts) == 1:
        return parts[0]
    *bands, last = parts
    if last.fill is None:
        rest = root.length - sum((band.length for band in bands), Fraction(0))
        parts = [*bands, replace(last, length=rest)] if rest else bands
    placed = []
    x = root.x
    for part in parts:
        placed.append(part.moved(x - part.x))
        x += part.length
    return replace(root, length=x - root.x, fill=Split(cut=Lie.ACROSS, parts=tuple(placed)))


def _laid(band: Region, count: int) -> Region:
    """A row with `count` of its pieces, the rest of it left over."""
    assert isinstance(band.fill, Split)
    if count == len(list(band.pieces())):
        return band
    parts = tuple(_side_by_side(band, band.fill.parts[0], count))
    return replace(band, fill=replace(band.fill, parts=parts))


def _side_by_side(band: Region, first: Region, count: int) -> Iterator[Region]:
    for index in range(count):
        yield replace(first, y=band.y + index * first.width)
    left = band.width - count * first.width
    if left:
        yield replace(band, y=band.y + count * first.width, width=left, fill=None)


def _moved_out(root: Region, spare: Fraction) -> Region:
    """`root` with the pieces that are too many in full rows cut from what is left over beside something else, if all
    of them have room there and leave `spare` too."""
    bands = root.fill.parts if isinstance(root.fill, Split) and root.fill.cut is Lie.ACROSS else (root,)
    full: dict[_Row, list[Region]] = {}
    for band in bands:
        row = _row(band)
        if row is not None and root.width - len(list(band.pieces())) * row[3] < spare:
            full.setdefault(row, []).append(band)
    for row, rows in full.items():
        length, _, _, size = row
        fitting = (root.width - spare) // size
        over = [len(list(band.pieces())) - fitting for band in rows]
        if fitting < 1 or not isinstance(rows[0].fill, Split):
            continue
        piece = rows[0].fill.parts[0]
        now, left = root, sum(over)
        for scrap in root.leftovers():
            beside = next(band for band in bands if band.x <= scrap.x < band.x + band.length)
            if left and beside not in rows:
                count = min(left, _room_for(scrap, root, length, size, spare))
                now = _replaced(now, scrap, _column(scrap, piece, count, size)) if count else now
                left -= count
        if not left:
            for band, many in zip(rows, over, strict=True):
                now = _replaced(now, band, _laid(band, len(list(band.pieces())) - int(many)))
            root = now
    return root


def _room_for(scrap: Region, root: Region, length: Fraction, size: Fraction, spare: Fraction) -> int:
    """How many pieces lie one after the other in what is left over, `spare` between them and the selvage."""
    is_outer = scrap.y + scrap.width == root.y + root.width
    return int(scrap.length // length) if scrap.width - (spare if is_outer else 0) >= size else 0


def _column(scrap: Region, piece: Region, count: int, size: Fraction) -> Region:
    """What was left over, with so many pieces cut from a strip along its edge."""
    parts = [replace(piece, x=scrap.x + index * piece.length, y=scrap.y) for index in range(count)]
    rest = scrap.length - count * piece.length
    if rest:
        end = replace(scrap, x=scrap.x + count * piece.length, length=rest, width=size)
        parts.append(end)
    strip = parts[0]
    if len(parts) > 1:
        strip = replace(scrap, width=size, fill=Split(cut=Lie.ACROSS, parts=tuple(parts)))
    if scrap.width == size:
        return strip
    beyond = replace(scrap, y=scrap.y + size, width=scrap.width - size)
    return replace(scrap, fill=Split(cut=Lie.ALONG, parts=(strip, beyond)))


def _replaced(region: Region, old: Region, new: Region) -> Region:
    """The same with one region in it replaced; a part cut the same way is joined to what it is a part of."""
    if region == old:
        return new
    if not isinstance(region.fill, Split):
        return region
    parts: list[Region] = []
    for part in region.fill.parts:
        now = _replaced(part, old, new)
        same = isinstance(now.fill, Split) and now.fill.cut is region.fill.cut
        parts += now.fill.parts if same and isinstance(now.fill, Split) else (now,)
    return replace(region, fill=replace(region.fill, parts=tuple(parts)))
