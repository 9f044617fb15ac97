"""The cutting plan of one fabric: refuses what cannot be cut, searches, and says in inches what was found."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Final

from applique.cutting.bands import Cut, Grid, Layout, Node
from applique.cutting.even_rows import even_out_rows
from applique.cutting.joined_bands import join_equal_bands
from applique.cutting.refusing import Naming, refuse_what_fits_nowhere
from applique.cutting.scaled import Job, job_of
from applique.cutting.search import Found, holds_all, search
from applique.cutting.values import (
    Choice,
    CutCloth,
    CuttingPlan,
    Demand,
    Lie,
    Piece,
    Preference,
    Region,
    Split,
    Supply,
)
from applique.cutting.whole_strips import keep_strips_whole
from applique.errors import Where
from applique.language import Message
from applique.units import Units

__all__ = ["forget_plans", "holds", "plan_cutting"]

_QUARTER_YARD: Final = Fraction(9)
_EIGHTH_YARD: Final = Fraction(9, 2)
_FINE: Final = Fraction(1, 16)


def plan_cutting(
    demands: Sequence[Demand],
    supplies: Sequence[Supply],
    *,
    preference: Preference = Preference.SIMPLE_UNLESS_IT_PAYS,
    worth: Fraction = _QUARTER_YARD,
    step: Fraction = _EIGHTH_YARD,
    spare: Fraction = Fraction(0),
    grid: Fraction = _FINE,
    adds_rows: bool = True,
    names: Mapping[str, tuple[Message, Where]] | None = None,
    units: Units = Units.INCHES,
) -> CuttingPlan:
    """How `demands` are cut from `supplies`, and how much is bought: in inches after washing, cut from edge to edge.

    What has a length is cut first, in the order given, then what is bought. A shop sells in steps of `step` (1/8 yd),
    squaring and what must be to `spare` included, so a saving within a step counts for nothing. `preference` says which
    plan is taken:

    - simple unless it pays: plain crosswise strips, each demand its own, unless another plan buys at least `worth`
      (1/4 yd) less or leaves less missing;
    - least fabric: the plan that buys the fewest steps, and of those the one with the fewest kinds of cuts;
    - fewest kinds of cuts: the plan with the fewest settings of the ruler.

    None uses more steps than plain strips, unless less is missing. `missing` are pieces for which what is held is not
    enough where nothing may be bought, or what is bought is too narrow. The length of a strip that the plan itself
    chooses is a multiple of `grid` (1/16 in; give 1 mm for a metric design), unless it is all the cloth there gives: it
    is kept whole where only scraps would be left beside it. Rows of equal pieces have something to spare across,
    `spare` or at least `NO_SPARE`, where no step more is bought for it: in as many rows, or if it `adds_rows` in more
    of them, or with what is too many cut from what is left over; and bands of equal depth become one, which may use
    less than plain strips where those are taken. The same input always gives the same plan: the search counts its
    tries.

    A refusal calls demands by their `names`, with the place that asks for each, else by their keys, and says lengths
    in `units`.

    Raises:
        Refusal: a piece that fits no supply in any of its lies, or strips so short that their joins eat them, every
            one at once, each named by its key. `where` is left for the caller, who knows the fabric.
    """
    refuse_what_fits_nowhere(demands, supplies, Naming(names=names or {}, units=units))
    return _planned(tuple(demands), tuple(supplies), preference, worth, (step, spare, grid), adds_rows)


def forget_plans() -> None:
    """Every plan is sought afresh: for who measures how long that takes."""
    _planned.cache_clear()


@lru_cache(maxsize=512)
def _planned(
    demands: tuple[Demand, ...],
    supplies: tuple[Supply, ...],
    preference: Preference,
    worth: Fraction,
    lengths: tuple[Fraction, Fraction, Fraction],
    adds_rows: bool,
) -> CuttingPlan:
    """Remembered: most that a maker changes leaves most fabrics as they are. `lengths` are step, spare and grid."""
    step, spare, grid = lengths
    job = job_of(demands, supplies, step=step, grid=grid, spare=spare)
    if not job.items:
        return CuttingPlan(cloths=(), used=Fraction(0), plain=Fraction(0), ways={}, missing=())
    best, plain = search(job, preference, int(worth * job.unit))
    choices = [demand.key for demand in demands if isinstance(demand, Choice)]
    plan = CuttingPlan(
        cloths=_cloths(job, supplies, best.layout),
        used=Fraction(best.layout.used, job.unit),
        plain=Fraction(plain.layout.used, job.unit),
        ways=dict(zip(choices, best.genes.ways, strict=True)),
        missing=tuple(_missing(job, best)),
    )
    plan = keep_strips_whole(plan, demands)
    if adds_rows:
        held = {supply.key for supply in supplies if supply.length is not None}
        plan = join_equal_bands(plan, held=held, spare=spare)
    room = _room(job, supplies, best) if adds_rows else {}
    return even_out_rows(plan, spare=spare, room=room, moves=adds_rows)


def holds(demands: Sequence[Demand], supply: Supply, *, grid: Fraction = _FINE) -> bool:
    """Whether a quick look finds a way to cut all `demands` from `supply`, which has a length. `grid` as for a plan.

    A plan that exists is sometimes missed; what a piece has no room in never holds it.
    """
    job = job_of(demands, [supply], step=Fraction(1), grid=grid)
    if not job.cloths:
        return False
    return all(
        any(item.fits(cloth.length, cloth.width) for cloth in job.cloths)
        for item in job.items
        if item.way is None
    ) and holds_all(job)


def _room(job: Job, supplies: Sequence[Supply], best: Found) -> dict[tuple[str, int], Fraction]:
    """How many inches of each cloth are left beyond its bands, of what is bought up to the next step of the shop: by
    supply and number."""
    room = {}
    for cloth in _cloths(job, supplies, best.layout):
        root = cloth.root
        last = root.fill.parts[-1] if isinstance(root.fill, Split) and root.fill.cut is Lie.ACROSS else root
        room[cloth.supply, cloth.number] = last.length if last.fill is None else Fraction(0)
    for supply in supplies:
        if supply.length is None and best.layout.used:
            left = best.bought * job.step - job.beyond - best.layout.used
            room[supply.key, 1] = Fraction(left, job.unit)
    return room


def _missing(job: Job, found: Found) -> Iterator[str]:
    for item, left in zip(job.items, found.layout.left, strict=True):
        if left:
            yield from [item.key] * (1 if item.is_run else left)


def _cloths(job: Job, supplies: Sequence[Supply], layout: Layout) -> tuple[CutCloth, ...]:
    numbers = [0] * len(supplies)
    cloths = []
    for number, length, bands in layout.cloths:
        cloth = job.cloths[number]
        numbers[cloth.supply] += 1
        region = _region(job, 0, 0, length, cloth.width, _joined(bands))
        cloths.append(CutCloth(supply=supplies[cloth.supply].key, number=numbers[cloth.supply], root=region))
    return tuple(cloths)


def _joined(node: Node) -> Node:
    """The same with each piece on its own, no part of no size, no cut that cuts nothing, and no cuts within others
    of the same direction."""
    if node is None or (isinstance(node, Grid) and node.rows == node.columns == 1):
        return node
    if isinstance(node, Grid):
        if node.rows > 1:
            cut, parts = Lie.ACROSS, ((node.along, node._replace(rows=1)),) * node.rows
        else:
            cut, parts = Lie.ALONG, ((node.across, node._replace(columns=1)),) * node.columns
        return _joined(Cut(cut, parts))
    parts_now: list[tuple[int, Node]] = []
    for size, part in node.parts:
        inner = _joined(part) if size else None
        same = inner.parts if isinstance(inner, Cut) and inner.cut is node.cut else ((size, inner),)
        parts_now += [(one_size, one) for one_size, one in same if one_size]
    return parts_now[0][1] if len(parts_now) == 1 else Cut(node.cut, tuple(parts_now))


def _region(job: Job, x: int, y: int, length: int, width: int, node: Node) -> Region:
    """The region of `length` by `width` whose corner is at `x`, `y`, in inches, with all that is in it."""
    fill: Piece | Split | None = None
    if isinstance(node, Grid):
        fill = Piece(key=job.items[node.item].key, lie=node.lie)
    elif node is not None:
        parts = []
        at_x, at_y = x, y
        for size, part in node.parts:
            if node.cut is Lie.ACROSS:
                parts.append(_region(job, at_x, at_y, size, width, part))
                at_x += size
            else:
                parts.append(_region(job, at_x, at_y, length, size, part))
                at_y += size
        fill = Split(cut=node.cut, parts=tuple(parts))
    return Region(
        x=Fraction(x, job.unit),
        y=Fraction(y, job.unit),
        length=Fraction(length, job.unit),
        width=Fraction(width, job.unit),
        fill=fill,
    )
