"""Lays items out by guillotine cuts: bands from selvage to selvage, each filled from one item on, in a given order.

Whole units of a `Job`. Everything here is said for one set of genes; which genes are good is what the search finds.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Final, NamedTuple

from applique.cutting.scaled import Cloth, Item, Job, Shape
from applique.cutting.values import Lie

__all__ = ["Cut", "Fill", "Genes", "Grid", "Layout", "Node", "lay_out"]


class Fill(Enum):
    """Which item goes into a region: the first in the order; the first that fills a side of it, else the first; or the
    one that leaves the least beside one of its sides."""

    FIRST = 0
    SNUG = 1
    TIGHT = 2


_WAYS_TO_FILL: Final = tuple(
    (fill, split) for fill in (Fill.SNUG, Fill.FIRST, Fill.TIGHT) for split in (0, 1, 2)
)


class Grid(NamedTuple):
    """`rows` by `columns` pieces of one item, rows along the selvage: each `along` by `across`."""

    item: int
    lie: Lie
    along: int
    across: int
    rows: int
    columns: int


class Cut(NamedTuple):
    """Cuts from edge to edge: the size of each part, and what is in it. Parts of no size are left in."""

    cut: Lie
    parts: tuple[tuple[int, Node], ...]


Node = Grid | Cut | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Genes:
    """One way to cut: what a search changes.

    `order` is which item is tried first, `ways` what each choice takes. For each item: `shapes` are its lies in the
    order in which they are tried (a run has one), `rows` how many rows of it open a band, or how many strips of a run
    along the selvage lie side by side in a band of their own, `splits` which cut comes first beside it: 0 leaves the
    larger rest whole, 1 cuts across first, 2 along. `lengths` are how long the first bands are at the most, each 0
    where it is as long as what opens it. `fill` says what goes into each region. `alone`: each band holds one item and
    nothing beside it. `careful`: each band is filled in all ways of `fill` and of the splits that are 0, and the one
    with the least waste is kept.
    """

    order: tuple[int, ...]
    ways: tuple[int, ...]
    shapes: tuple[tuple[Shape, ...], ...]
    rows: tuple[int, ...]
    splits: tuple[int, ...]
    lengths: tuple[int, ...]
    fill: Fill
    alone: bool
    careful: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """What came of it: the bands of each cloth that was cut (its number in the job, length and parts), the length used
    of what is bought, and what is left to cut of each item.

    `spread` is the area of what is used without the waste of the worst band: of two layouts as long as each other, the
    one that has its waste together in one band is nearer to a shorter one.
    """

    cloths: tuple[tuple[int, int, Cut], ...]
    used: int
    spread: int
    left: tuple[int, ...]


def lay_out(job: Job, genes: Genes, limit: int | None = None) -> Layout | None:
    """All cloths of `job` in their order, each band opened by the first item in the order that has a place there.

    None once it is certain that more than `limit` is used of what is bought, or that something is left to cut.
    """
    laying = _Laying(job, genes)
    cloths = []
    used = spread = 0
    for number, cloth in enumerate(job.cloths):
        if not laying.order:
            break
        parts = laying.bands(cloth, limit if cloth.length is None else None)
        if parts is None:
            return None
        if parts:
            length = sum(size for size, _ in parts)
            if cloth.length is None:
                used = length
                spread = used * cloth.width - laying.most_waste
            elif length < cloth.length:
                parts.append((cloth.length - length, None))
                length = cloth.length
            cloths.append((number, length, Cut(Lie.ACROSS, tuple(parts))))
    return Layout(cloths=tuple(cloths), used=used, spread=spread, left=tuple(laying.left))


class _Laying:
    """What is still to be cut while cloth after cloth is filled."""

    __slots__ = (
        "alone",
        "careful",
        "fill",
        "grid",
        "items",
        "least",
        "left",
        "lengths",
        "most",
        "most_waste",
        "order",
        "rooms",
        "rows",
        "shapes",
        "split",
        "splits",
        "waste",
    )

    def __init__(self, job: Job, genes: Genes) -> None:
        self.items = job.items
        self.grid = job.grid
        self.left = job.active(genes.ways)
        self.order = [item for item in genes.order if self.left[item]]
        self.shapes, self.rows, self.splits = genes.shapes, genes.rows, genes.splits
        self.lengths = genes.lengths
        self.fill, self.alone = genes.fill, genes.alone
        self.careful = genes.careful and not genes.alone
        self.rooms = [
            [_room_for(one, shape) for shape in shapes] if amount else []
            for one, shapes, amount in zip(job.items, genes.shapes, self.left, strict=True)
        ]
        rooms = [room for rooms in self.rooms for room in rooms]
        self.least = min((room[0] for room in rooms), default=0), min((room[1] for room in rooms), default=0)
        """No item has a place in a region that is shorter or narrower than these."""
        self.split = 0
        self.waste = 0
        self.most: int | None = None
        """The waste from which on a way to fill a band is given up, since another wastes less."""

    def bands(self, cloth: Cloth, limit: int | None) -> list[tuple[int, Node]] | None:
        """Bands until nothing more is to be cut or has a place; None once they must come to more than `limit`."""
        parts: list[tuple[int, Node]] = []
        self.most_waste = 0
        rest = cloth.length
        used = 0
        while self.order:
            if limit is not None and used * cloth.width + self._area_left() > limit * cloth.width:
                return None
            opened = self._opened(rest, cloth.width)
            if opened is None:
                break
            size, item, shape = opened
            wanted = self.lengths[len(parts)] if len(parts) < len(self.lengths) else 0
            if self._has_least(item, shape, wanted) and (rest is None or wanted <= rest):
                size = wanted
            band = self._band(item, shape, size, cloth.width)
            needed = _needed(band)
            parts.append((needed, band if needed == size else _cut_off(band, needed)))
            size = needed
            used += size
            if rest is not None:
                rest -= size
        return None if limit is not None and used > limit else parts

    def _area_left(self) -> int:
        """The least that what is still to be cut can cover."""
        return sum(self.items[item].covers(self.left[item]) for item in self.order)

    def _band(self, item: int, shape: Shape, size: int, width: int) -> Node:
        """The band that `item` opens, filled the one way that the genes say or, with care, the best of all."""
        if not self.careful:
            self.waste = 0
            node = self._placed(item, shape, size, width)
            self.most_waste = max(self.most_waste, self.waste)
            return node
        left, order = self.left, self.order
        best: tuple[int, Node, list[int], list[int]] | None = None
        for self.fill, self.split in _WAYS_TO_FILL:
            self.left, self.order, self.waste = list(left), list(order), 0
            self.most = None if best is None else best[0]
            node = self._placed(item, shape, size, width)
            if best is None or self.waste < best[0]:
                best = self.waste, node, self.left, self.order
                if not self.waste:
                    break
        assert best is not None
        waste, node, self.left, self.order = best
        self.most_waste = max(self.most_waste, waste)
        return node

    def _opened(self, rest: int | None, width: int) -> tuple[int, int, Shape] | None:
        for item in self.order:
            if self.items[item].is_run:
                shape = self.shapes[item][0]
                size = self._run_band(item, shape, rest, width)
                if size:
                    return size, item, shape
                continue
            for shape in self.shapes[item]:
                if self._has_room(shape, rest, width):
                    return self._piece_band(item, shape, rest), item, shape
        return None

    def _has_least(self, item: int, shape: Shape, length: int) -> bool:
        """Whether a band of `length` has room for one piece of the item, or one strip."""
        one = self.items[item]
        along = one.is_run and shape[2] is Lie.ALONG
        return length >= (max(one.least, one.loss + 1) if along else shape[0])

    def _has_room(self, shape: Shape, rest: int | None, width: int) -> bool:
        return shape[1] <= width and (rest is None or shape[0] <= rest)

    def _piece_band(self, item: int, shape: Shape, rest: int | None) -> int:
        along = shape[0]
        rows = min(self.rows[item], self.left[item])
        return along * (rows if rest is None else min(rows, rest // along))

    def _run_band(self, item: int, shape: Shape, rest: int | None, width: int) -> int:
        run = self.items[item]
        along, across, lie = shape
        if lie is Lie.ACROSS:
            if width < run.least or width <= run.loss:
                return 0
            strips = max(
                1, self.left[item] // (width - run.loss)
            )  # what is less than a strip has its own band
            return along * (strips if rest is None else min(strips, rest // along))
        if across > width:
            return 0
        strips = min(self.rows[item], width // across)
        size = max(run.least, self._on_grid(-(-self.left[item] // strips) + run.loss))
        if rest is not None and size > rest:
            size = rest
        return size if size >= run.least and size > run.loss else 0

    def _on_grid(self, length: int) -> int:
        return -(-length // self.grid) * self.grid

    def _fill(self, length: int, width: int) -> Node:
        """A region filled: with an item that fits it, found as `fill` says, and its rests likewise."""
        if self.alone or not length or not width:
            self.waste += length * width
            return None
        if self.most is not None and self.waste >= self.most:
            return None
        if length < self.least[0] or width < self.least[1]:
            self.waste += length * width
            return None
        found: tuple[int, Shape] | None = None
        fill, rooms = self.fill, self.rooms
        least = length + width
        for item in self.order:
            for long, wide, shape in rooms[item]:
                if long > length or wide > width:
                    continue
                if fill is Fill.TIGHT:
                    beside = min(length - shape[0], width - shape[1])
                    if beside < least:
                        least, found = beside, (item, shape)
                    continue
                if fill is Fill.SNUG and (shape[0] == length or shape[1] == width):
                    return self._placed(item, shape, length, width)
                if found is None:
                    found = item, shape
            if found is not None and fill is Fill.FIRST:
                break
        if found is None:
            self.waste += length * width
            return None
        return self._placed(*found, length, width)

    def _placed(self, item: int, shape: Shape, length: int, width: int) -> Node:
        if not self.items[item].is_run:
            return self._pieces(item, shape, length, width)
        if shape[2] is Lie.ACROSS:
            return self._strips_across(item, shape[0], length, width)
        return self._strips_along(item, shape[1], length, width)

    def _took(self, item: int, amount: int) -> None:
        self.left[item] -= amount
        if self.left[item] <= 0:
            self.left[item] = 0
            self.order.remove(item)

    def _pieces(self, item: int, shape: Shape, length: int, width: int) -> Node:
        along, across, lie = shape
        count = self.left[item]
        most_rows, most_columns = length // along, width // across
        # In rows: as many as fit across, then whole rows of them. In columns: as many as fit along, then whole columns.
        columns = min(most_columns, count)
        rows = min(most_rows, count // columns)
        split = self.splits[item] or self.split
        if split != 1:
            stacked = min(most_rows, count)
            stacks = min(most_columns, count // stacked)
            if split == 2 or length * (width - stacks * across) > (length - rows * along) * width:
                split, rows, columns = 2, stacked, stacks
        self._took(item, rows * columns)
        grid = Grid(item, lie, along, across, rows, columns)
        high, wide = rows * along, columns * across
        if split != 2:
            beside = self._fill(high, width - wide)
            row = Cut(Lie.ALONG, ((wide, grid), (width - wide, beside)))
            return Cut(Lie.ACROSS, ((high, row), (length - high, self._fill(length - high, width))))
        beyond = self._fill(length - high, wide)
        column = Cut(Lie.ACROSS, ((high, grid), (length - high, beyond)))
        return Cut(Lie.ALONG, ((wide, column), (width - wide, self._fill(length, width - wide))))

    def _strips_across(self, item: int, thick: int, length: int, width: int) -> Node:
        run = self.items[item]
        gives = width - run.loss
        strips = min(length // thick, -(-self.left[item] // gives))
        last = self._last(run, self.left[item] - (strips - 1) * gives, width)
        full = strips - 1 if last < width else strips
        self._took(item, strips * gives)
        parts: list[tuple[int, Node]] = []
        if full:
            parts.append((full * thick, Grid(item, Lie.ACROSS, thick, width, full, 1)))
        if last < width:
            strip = Grid(item, Lie.ACROSS, thick, last, 1, 1)
            rest = self._fill(thick, width - last)
            parts.append((thick, Cut(Lie.ALONG, ((last, strip), (width - last, rest)))))
        beyond = length - strips * thick
        parts.append((beyond, self._fill(beyond, width)))
        return Cut(Lie.ACROSS, tuple(parts))

    def _strips_along(self, item: int, thick: int, length: int, width: int) -> Node:
        run = self.items[item]
        gives = length - run.loss
        strips = min(width // thick, -(-self.left[item] // gives))
        last = self._last(run, self.left[item] - (strips - 1) * gives, length)
        full = strips - 1 if last < length else strips
        self._took(item, strips * gives)
        parts: list[tuple[int, Node]] = []
        if full:
            parts.append((full * thick, Grid(item, Lie.ALONG, length, thick, 1, full)))
        if last < length:
            strip = Grid(item, Lie.ALONG, last, thick, 1, 1)
            rest = self._fill(length - last, thick)
            parts.append((thick, Cut(Lie.ACROSS, ((last, strip), (length - last, rest)))))
        beyond = width - strips * thick
        parts.append((beyond, self._fill(length, beyond)))
        return Cut(Lie.ALONG, tuple(parts))

    def _last(self, run: Item, amount: int, longest: int) -> int:
        """How long the last strip is cut: no longer than its region."""
        return min(longest, max(run.least, self._on_grid(amount + run.loss)))


def _room_for(item: Item, shape: Shape) -> tuple[int, int, Shape]:
    """How long and wide a region is at the least that holds a piece of this shape, or a strip that gives something."""
    along, across, lie = shape
    if not item.is_run:
        return along, across, shape
    free = max(item.least, item.loss + 1)
    return (along, free, shape) if lie is Lie.ACROSS else (free, across, shape)


def _needed(node: Node) -> int:
    """How far along the selvage something lies in it."""
    if node is None:
        return 0
    if isinstance(node, Grid):
        return node.rows * node.along
    end = needed = 0
    if node.cut is Lie.ALONG:
        for size, part in node.parts:
            if size and part is not None:
                needed = max(needed, _needed(part))
        return needed
    for size, part in node.parts:
        if size and part is not None:
            needed = end + _needed(part)
        end += size
    return needed


def _cut_off(node: Node, length: int) -> Node:
    """The same without what lies beyond `length`, where nothing is."""
    if not isinstance(node, Cut):
        return node
    if node.cut is Lie.ALONG:
        return Cut(node.cut, tuple((size, _cut_off(part, length)) for size, part in node.parts))
    parts = []
    for size, part in node.parts:
        size = min(size, length)
        parts.append((size, _cut_off(part, size)))
        length -= size
    return Cut(node.cut, tuple(parts))
