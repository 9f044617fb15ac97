"""Looks for the genes that cut well: several ways to begin, then hill-climbing, with a fixed seed and a count of tries.

No clock: the same job always gives the same layout.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Generator, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, NamedTuple, TypeVar

from applique.cutting.bands import Cut, Fill, Genes, Grid, Layout, Node, lay_out
from applique.cutting.bounds import area_of, bound_of, proves
from applique.cutting.scaled import Cloth, Item, Job, Shape
from applique.cutting.values import NO_SPARE, Lie, Preference

__all__ = ["Found", "holds_all", "search"]

_SEED: Final = 20
_TRIES: Final = 700
_FEW_TRIES: Final = 150
_CLIMBS: Final = 6
_MOST_ROWS: Final = 12
_FILLS: Final = tuple(Fill)
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A layout, the genes that gave it, and how many pieces it leaves to cut and steps of a shop it takes."""

    genes: Genes
    layout: Layout
    missing: int
    bought: int

    def kinds(self) -> int:
        """How many settings of the ruler it takes: distances, each along or across, at which something is cut."""
        kinds: set[tuple[Lie, int]] = set()
        for _, _, bands in self.layout.cloths:
            _look(bands, kinds, cuts=True)
        return len(kinds)

    def strips(self, job: Job) -> int:
        """Of how many strips all its runs are made: one more is one join more."""
        return sum(_strips(job, bands) for _, _, bands in self.layout.cloths)

    def full(self, job: Job) -> int:
        """How many bands pieces side by side fill to the last thread, or all but `NO_SPARE`, once rows of equal pieces
        are spread evenly over as many of them as there is length for."""
        room = self.bought * job.step - job.beyond - self.layout.used
        count = 0
        rows: dict[tuple[int, Grid], _RowsOf] = {}
        for number, _, bands in self.layout.cloths:
            width = job.cloths[number].width
            for _, band in bands.parts:
                grid, is_full = _only(band), _is_full(job, band, width)
                if grid is None:
                    count += is_full
                    continue
                key = width, grid._replace(rows=1, columns=1)
                there, pieces, full = rows.get(key, _RowsOf(0, 0, 0))
                rows[key] = _RowsOf(
                    there + grid.rows, pieces + grid.rows * grid.columns, full + is_full * grid.rows
                )
        for (width, one), found in rows.items():
            if found.full:
                beside = int(width - NO_SPARE * job.unit) // one.across
                more = -(-found.pieces // beside) - found.rows if beside else found.pieces
                if more * one.along <= room and found.rows + more <= found.pieces:
                    room -= max(0, more) * one.along
                else:
                    count += found.full
        return count

    def levels(self) -> int:
        """How often what is cut is turned and cut again, at the most."""
        return max((_levels(bands) for _, _, bands in self.layout.cloths), default=0)


class _RowsOf(NamedTuple):
    """Rows that hold equal pieces and nothing else, how many pieces these are, and how many of the rows are full."""

    rows: int
    pieces: int
    full: int


def search(job: Job, preference: Preference, worth: int) -> tuple[Found, Found]:
    """The layout to cut by, and the plain one: crosswise strips, each item its own, large pieces first.

    The first is never dearer than the plain one, and is the plain one unless it is worth its extra cuts: less is
    missing, or a shop would cut `worth` less (`SIMPLE_UNLESS_IT_PAYS`), or a step less (`LEAST_FABRIC`), or it has
    fewer kinds of cuts (`FEWEST_KINDS_OF_CUTS`).
    """
    plain = _tried(job, _plain(job))
    if preference is Preference.FEWEST_KINDS_OF_CUTS:
        return _simplest(job, plain), plain
    goal = _goal(job, plain)
    saving = worth if preference is Preference.SIMPLE_UNLESS_IT_PAYS else 1
    if not plain.missing and job.step * (plain.bought - goal) < saving:
        return plain, plain
    best, simple = plain, _simplicity(job, plain)
    for found in _climbed(job, _length, careful=preference is Preference.LEAST_FABRIC, shortest=True):
        if (found.missing, found.bought) > (best.missing, best.bought):
            continue
        now = _simplicity(job, found)
        if (found.missing, found.bought, now) < (best.missing, best.bought, simple):
            best, simple = found, now
        if not best.missing and best.bought <= goal and best.strips(job) <= plain.strips(job):
            break
    if best.missing == plain.missing and job.step * (plain.bought - best.bought) < saving:
        return plain, plain
    return best, plain


def holds_all(job: Job) -> bool:
    """Whether a few tries find a layout of what is held, nothing bought, that leaves nothing missing."""
    widest = max(cloth.width for cloth in job.cloths)
    if proves(job, widest, sum(cloth.length or 0 for cloth in job.cloths)):
        return False
    plain = _tried(job, _plain(job))
    if not plain.missing:
        return True
    return any(not found.missing for found in _climbed(job, _length, careful=False, tries=_FEW_TRIES))


def _simplest(job: Job, plain: Found) -> Found:
    """The layout with the fewest kinds of cuts, of those that are not dearer than `plain`."""

    def cost(found: Found) -> tuple[int, ...]:
        return found.missing, found.kinds(), found.bought, found.full(job), found.layout.used

    tried = (found for found in _climbed(job, cost, careful=False) if found.bought <= plain.bought)
    return min((plain, *tried), key=cost)


def _simplicity(job: Job, found: Found) -> tuple[int, ...]:
    """The less the simpler: a join is as much work as a setting of the ruler."""
    return found.kinds() + found.strips(job), found.full(job), found.layout.used, found.levels()


def _length(found: Found) -> tuple[int, ...]:
    return found.missing, found.layout.used, found.layout.spread


def _look(node: Node, kinds: set[tuple[Lie, int]], *, cuts: bool) -> None:
    if isinstance(node, Cut):
        cut, parts = node
        cuts = cuts or len([size for size, _ in parts if size]) > 1
        for size, part in parts:
            if not size or part is None:
                continue
            if isinstance(part, Grid):
                if cuts:
                    kinds.add((cut, part.along if cut is Lie.ACROSS else part.across))
                _look(part, kinds, cuts=False)
            elif part.cut is cut:
                _look(part, kinds, cuts=cuts)
            else:
                if cuts:
                    kinds.add((cut, size))
                _look(part, kinds, cuts=False)
    elif node is not None:
        if node.rows > 1:
            kinds.add((Lie.ACROSS, node.along))
        if node.columns > 1:
            kinds.add((Lie.ALONG, node.across))


def _strips(job: Job, node: Node) -> int:
    if isinstance(node, Cut):
        return sum(_strips(job, part) for size, part in node.parts if size)
    return node.rows * node.columns if node is not None and job.items[node.item].is_run else 0


def _only(node: Node) -> Grid | None:
    """The grid that a band holds and nothing else; None if it holds more."""
    while isinstance(node, Cut):
        parts = [part for size, part in node.parts if size and part is not None]
        if len(parts) != 1:
            return None
        (node,) = parts
    return node


def _is_full(job: Job, band: Node, width: int) -> bool:
    """Whether pieces side by side leave no spare; strips of a run take what there is, so they do not count."""
    if _strips(job, band):
        return False
    return _beside_each_other(band) > 1 and width - _reach(band) < NO_SPARE * job.unit


def _beside_each_other(node: Node) -> int:
    """How many pieces or further parts lie side by side across."""
    if isinstance(node, Cut):
        counts = [_beside_each_other(part) for size, part in node.parts if size]
        return sum(counts) if node.cut is Lie.ALONG else max(counts, default=0)
    return 0 if node is None else node.columns


def _reach(node: Node) -> int:
    """How far across what is cut lies, from the side at which cutting begins."""
    if isinstance(node, Grid):
        return node.columns * node.across
    if node is None:
        return 0
    if node.cut is Lie.ACROSS:
        return max((_reach(part) for size, part in node.parts if size), default=0)
    reach = at = 0
    for size, part in node.parts:
        inner = _reach(part) if size else 0
        reach = at + inner if inner else reach
        at += size
    return reach


def _levels(node: Node) -> int:
    if isinstance(node, Cut):
        parts = [part for size, part in node.parts if size and part is not None]
        inner = [_levels(part) - (isinstance(part, Cut) and part.cut is node.cut) for part in parts]
        return 1 + max(inner, default=0)
    return 0 if node is None else (node.rows > 1) + (node.columns > 1)


def _goal(job: Job, plain: Found) -> int:
    """The fewest steps of a shop that any plan can need that leaves nothing missing."""
    bought = job.cloths[-1]
    if bought.length is not None:
        return 0
    if len(job.cloths) == 1:
        return job.bought(bound_of(job, bought.width, None if plain.missing else plain.layout.used))
    held = sum(cloth.length * cloth.width for cloth in job.cloths if cloth.length is not None)
    return job.bought(max(0, -(-(area_of(job) - held) // bought.width)))


def _tried(job: Job, genes: Genes) -> Found:
    found = _tried_within(job, genes, None)
    assert found is not None
    return found


def _tried_within(job: Job, genes: Genes, limit: int | None) -> Found | None:
    """What comes of `genes`; None where it would use more than `limit` or leave something missing."""
    layout = lay_out(job, genes, limit)
    if layout is None:
        return None
    return Found(genes=genes, layout=layout, missing=_missing(job, layout), bought=job.bought(layout.used))


def _missing(job: Job, layout: Layout) -> int:
    return sum(1 if item.is_run else left for item, left in zip(job.items, layout.left, strict=True) if left)


def _plain(job: Job) -> Genes:
    """Crosswise strips and liked ways: each item in bands of its own, one row in each, large pieces first."""
    bought = job.cloths[-1:]
    ways = tuple(
        next(
            (
                way
                for cloths in (bought, job.cloths)
                for way in range(count)
                if _holds(job, choice, way, cloths)
            ),
            0,
        )
        for choice, count in enumerate(job.ways)
    )
    return Genes(
        order=_sorted_by(job, Item.area),
        ways=ways,
        shapes=tuple(_plain_shapes(job, item) for item in job.items),
        rows=tuple(_beside(job, item) if item.is_run else 1 for item in job.items),
        splits=(1,) * len(job.items),
        lengths=(),
        fill=Fill.FIRST,
        alone=True,
        careful=False,
    )


def _holds(job: Job, choice: int, way: int, cloths: Sequence[Cloth]) -> bool:
    """Whether each piece of this way has room on some of these."""
    items = [item for item in job.items if item.way == (choice, way)]
    return all(any(item.fits(cloth.length, cloth.width) for cloth in cloths) for item in items)


def _plain_shapes(job: Job, item: Item) -> tuple[Shape, ...]:
    """The liked lie of those that it has room in, on what is bought if it can be; a run lies across if it may."""
    shapes = sorted(item.shapes, key=lambda shape: shape[2] is not Lie.ACROSS) if item.is_run else item.shapes
    for cloths in (job.cloths[-1:], job.cloths):
        for shape in shapes:
            if any(replace(item, shapes=(shape,)).fits(cloth.length, cloth.width) for cloth in cloths):
                return (shape,)
    return item.shapes[:1]


def _beside(job: Job, item: Item) -> int:
    """So many strips of a run along the selvage lie side by side that it has no more joins than from crosswise ones."""
    across = max((shape[1] for shape in item.shapes if shape[2] is Lie.ALONG), default=0)
    if not across:
        return 1
    width = max(cloth.width for cloth in job.cloths)
    joined = item.amount // max(1, max(width, item.least) - item.loss)
    return max(1, min(width // across, joined))


def _sorted_by(job: Job, size: Callable[[Item], int]) -> tuple[int, ...]:
    return tuple(sorted(range(len(job.items)), key=lambda item: (-size(job.items[item]), item)))


def _climbed(
    job: Job,
    cost: Callable[[Found], tuple[int, ...]],
    *,
    careful: bool,
    tries: int = _TRIES,
    shortest: bool = False,
) -> Iterator[Found]:
    """Every layout that is tried, in order, each once: the starts, a climb from each of the best of them, and more from
    the top.

    Each step changes the layout that is best by `cost` on its climb. Where only the `shortest` counts, what is dearer
    than another and worse than the top of its climb is given up half way and left out.
    """
    draw = random.Random(_SEED).random  # the one sequence that Python keeps the same from version to version
    known: dict[tuple[object, ...], _Costing | int] = {}
    """What came of the genes that count, or the limit that it goes beyond."""
    cheapest: int | None = None

    def tried(genes: Genes, top: Found | None) -> tuple[_Costing | None, bool]:
        """What comes of it and what that costs, and whether it is new."""
        nonlocal cheapest
        key = _that_count(job, genes)
        before = known.get(key)
        if isinstance(before, _Costing):
            return _Costing(replace(before.found, genes=genes), before.cost), False
        limit = None
        if shortest and cheapest is not None and top is not None and not top.missing:
            limit = max(top.layout.used, job.most_used(cheapest))
            if before is not None and limit <= before:
                return None, False
        found = _tried_within(job, genes, limit)
        if found is None:
            assert limit is not None
            known[key] = limit
            return None, False
        known[key] = costing = _Costing(found, cost(found))
        if not found.missing and (cheapest is None or found.bought < cheapest):
            cheapest = found.bought
        return costing, True

    starts: list[_Costing] = []
    for genes in _starts(job, careful):
        start, is_new = tried(genes, None)
        assert start is not None
        starts.append(start)
        if is_new:
            yield start.found
    lengths = _lengths(job)

    def climb(top: _Costing, steps: int) -> Generator[Found, None, _Costing]:
        for _ in range(steps):
            one, is_new = tried(_changed(job, top.found, lengths, draw), top.found)
            if one is None:
                continue
            if is_new:
                yield one.found
            if one.cost <= top.cost:
                top = one
        return top

    tops = sorted(starts, key=_Costing.of)[:_CLIMBS]
    first = tries // (2 * len(tops))
    for number, top in enumerate(tops):
        tops[number] = yield from climb(top, first)
    yield from climb(min(tops, key=_Costing.of), tries - len(starts) - first * len(tops))


class _Costing(NamedTuple):
    """A layout and what it costs."""

    found: Found
    cost: tuple[int, ...]

    def of(self) -> tuple[int, ...]:
        """The cost alone, to sort by."""
        return self.cost


def _that_count(job: Job, genes: Genes) -> tuple[object, ...]:
    """The genes without those of items that their ways leave out: what is equal in these is laid out the same."""
    amounts = job.active(genes.ways)
    active = tuple(item for item in genes.order if amounts[item])
    each = tuple((genes.shapes[item], genes.rows[item], genes.splits[item]) for item in active)
    return active, each, genes.ways, genes.lengths, genes.fill, genes.alone, genes.careful


def _starts(job: Job, careful: bool) -> Iterator[Genes]:
    """Large, long and wide items first, runs across or along, filled in each way."""
    plain = _plain(job)
    either = tuple(
        shapes if item.is_run else _short_first(job, item)
        for item, shapes in zip(job.items, plain.shapes, strict=True)
    )
    along = tuple((item.shapes[-1],) if item.is_run else _short_first(job, item) for item in job.items)
    sizes: tuple[Callable[[Item], int], ...] = (
        Item.area,
        lambda item: max(shape[0] for shape in item.shapes),
        lambda item: max(shape[1] for shape in item.shapes),
    )
    for size in sizes:
        for shapes in dict.fromkeys((either, along)):
            for fill in _FILLS:
                yield replace(
                    plain,
                    order=_sorted_by(job, size),
                    shapes=shapes,
                    splits=(0,) * len(job.items),
                    lengths=(0, 0),
                    fill=fill,
                    alone=False,
                    careful=careful,
                )


def _lengths(job: Job) -> tuple[int, ...]:
    """Lengths of bands in which some item comes out even: rows of it, or a run in so many strips along the selvage."""
    width = max(cloth.width for cloth in job.cloths)
    found: set[int] = set()
    for item in job.items:
        for along, across, lie in item.shapes:
            if item.is_run and lie is Lie.ALONG:
                for strips in range(1, min(_MOST_ROWS, width // max(1, across)) + 1):
                    each = -(-item.amount // strips) + item.loss
                    found.add(max(item.least, -(-each // job.grid) * job.grid))
            else:
                found.update(along * rows for rows in range(1, min(_MOST_ROWS, item.amount) + 1))
    return tuple(sorted(found))


def _short_first(job: Job, item: Item) -> tuple[Shape, ...]:
    """Its lies, that first in which all its bands are shortest in all."""
    width = max(cloth.width for cloth in job.cloths)
    return tuple(
        sorted(item.shapes, key=lambda shape: -(-item.amount // max(1, width // max(1, shape[1]))) * shape[0])
    )


def _changed(job: Job, top: Found, lengths: Sequence[int], draw: Callable[[], float]) -> Genes:
    """One gene of `top`, sometimes two, changed."""
    shorter = top.layout.used - job.grid
    genes = _changed_once(job, top.genes, lengths, shorter, draw)
    while draw() < 0.3:
        genes = _changed_once(job, genes, lengths, shorter, draw)
    return genes


def _changed_once(
    job: Job, genes: Genes, lengths: Sequence[int], shorter: int, draw: Callable[[], float]
) -> Genes:
    """One gene changed; a band becomes as long as one of `lengths` or, one time in five, holds what it can of all
    that is cut within `shorter`."""

    def below(count: int) -> int:
        return int(draw() * count)

    amounts = job.active(genes.ways)
    active = [item for item in genes.order if amounts[item]]
    item = active[below(len(active))]
    kind = draw()
    if kind < 0.45 and len(active) > 1:
        order = [other for other in genes.order if other != item]
        order.insert(below(len(order) + 1), item)
        return replace(genes, order=tuple(order))
    if kind < 0.6 and len(job.items[item].shapes) > 1:
        return replace(genes, shapes=_with(genes.shapes, item, _other_shapes(job.items[item], below)))
    if kind < 0.7 and job.ways:
        choice = below(len(job.ways))
        return replace(genes, ways=_with(genes.ways, choice, below(job.ways[choice])))
    if kind < 0.8:
        return replace(genes, rows=_with(genes.rows, item, 1 + below(1 + below(_MOST_ROWS))))
    if kind < 0.88:
        part = draw()
        wanted = 0 if part < 1 / 3 else shorter if part < 7 / 15 else lengths[below(len(lengths))]
        return replace(genes, lengths=_with(genes.lengths, below(len(genes.lengths)), wanted))
    if kind < 0.96:
        return replace(genes, splits=_with(genes.splits, item, below(3)))
    return replace(genes, fill=_FILLS[below(len(_FILLS))])


def _other_shapes(item: Item, below: Callable[[int], int]) -> tuple[Shape, ...]:
    """Another lie first, or alone; a run has one."""
    first = below(len(item.shapes))
    if item.is_run or below(2):
        return (item.shapes[first],)
    return (item.shapes[first], *item.shapes[:first], *item.shapes[first + 1 :])


def _with(values: tuple[_T, ...], index: int, value: _T) -> tuple[_T, ...]:
    return (*values[:index], value, *values[index + 1 :])
