"""Whether a cutting plan keeps every rule, found without any of the arithmetic that made it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from applique.cutting.values import (
    Block,
    Choice,
    CutCloth,
    CuttingPlan,
    Demand,
    Lie,
    Piece,
    Rectangle,
    Region,
    Run,
    Split,
    Supply,
)

__all__ = ["plan_faults"]

_Single = Rectangle | Run | Block


def plan_faults(plan: CuttingPlan, demands: Sequence[Demand], supplies: Sequence[Supply]) -> tuple[str, ...]:
    """What is wrong with `plan`, in words for whoever looks for the bug; empty if nothing is.

    Each cloth is one that there is, between its squared ends; cuts run from edge to edge and their parts fill what is
    cut exactly, cut no oftener than they must be; each piece has its size and lies as it may; of each demand there are
    as many as asked or what lacks is named, of each choice only the way that was taken; each run reaches, from strips
    of one lie, none too short and none too many.
    """
    faults = list(_faults_of_cloths(plan, supplies))
    for cloth in plan.cloths:
        faults += _faults_of_region(cloth.root)
    pieces = [found for cloth in plan.cloths for found in cloth.root.pieces()]
    wanted = {one.key: one for one in _taken(plan, demands)}
    faults += [f"nobody asked for {key}" for key in {piece.key for _, piece in pieces} - set(wanted)]
    faults += [f"{key} cannot be missing" for key in set(plan.missing) - set(wanted)]
    if set(plan.ways) != {demand.key for demand in demands if isinstance(demand, Choice)}:
        faults.append("not every choice has a way")
    missing = Counter(plan.missing)
    bought = next((supply for supply in supplies if supply.length is None), None)
    for key, one in wanted.items():
        own = [(region, piece) for region, piece in pieces if piece.key == key]
        if missing[key] and bought and _fits(one, bought):
            faults.append(f"{key} is missing and could be bought")
        if isinstance(one, Run):
            faults += _faults_of_run(one, own, missing[key])
        else:
            faults += _faults_of_pieces(one, own, missing[key])
    return tuple(faults)


def _faults_of_cloths(plan: CuttingPlan, supplies: Sequence[Supply]) -> Iterator[str]:
    known = {supply.key: supply for supply in supplies}
    used = Fraction(0)
    for cloth in plan.cloths:
        supply = known.get(cloth.supply)
        if supply is None:
            yield f"there is no {cloth.supply}"
            continue
        root = cloth.root
        if root.x or root.y or root.width != supply.width:
            yield f"{cloth.supply} is not as wide as it is"
        if supply.length is None:
            used += root.length
        elif root.length != supply.length - 2 * supply.squaring:
            yield f"{cloth.supply} is not as long as it is"
        if not 1 <= cloth.number <= (1 if supply.length is None else supply.count):
            yield f"there is no {cloth.number}. {cloth.supply}"
        if not any(True for _ in root.pieces()):
            yield f"nothing is cut from {cloth.supply} {cloth.number}"
    if len({(cloth.supply, cloth.number) for cloth in plan.cloths}) < len(plan.cloths):
        yield "one cloth is cut twice"
    if used != plan.used:
        yield f"{plan.used} is said to be used and {used} is"
    order = [list(known).index(cloth.supply) for cloth in plan.cloths if _held(known, cloth)]
    if order != sorted(order) or any(not _held(known, cloth) for cloth in plan.cloths[:-1]):
        yield "cloth is not cut in the order given"


def _held(known: dict[str, Supply], cloth: CutCloth) -> bool:
    return cloth.supply in known and known[cloth.supply].length is not None


def _faults_of_region(region: Region) -> Iterator[str]:
    if region.length <= 0 or region.width <= 0:
        yield f"a part at {region.x}, {region.y} has no size"
    if not isinstance(region.fill, Split):
        return
    split, x, y = region.fill, region.x, region.y
    if len(split.parts) < 2:
        yield f"a cut at {x}, {y} cuts nothing"
    fills = [part.fill for part in split.parts]
    if any(isinstance(fill, Split) and fill.cut is split.cut for fill in fills):
        yield f"cuts at {x}, {y} lie within others of the same direction"
    if any(one is None and other is None for one, other in pairwise(fills)):
        yield f"leftovers at {x}, {y} touch and are two"
    for part in split.parts:
        if (part.x, part.y) != (x, y):
            yield f"a part stands at {part.x}, {part.y} and not at {x}, {y}"
        if split.cut is Lie.ACROSS:
            edge, whole, x = part.width, region.width, x + part.length
        else:
            edge, whole, y = part.length, region.length, y + part.width
        if edge != whole:
            yield f"a cut at {part.x}, {part.y} does not go from edge to edge"
        yield from _faults_of_region(part)
    end = (x, region.x + region.length) if split.cut is Lie.ACROSS else (y, region.y + region.width)
    if end[0] != end[1]:
        yield f"the parts at {region.x}, {region.y} end at {end[0]} and not at {end[1]}"


def _taken(plan: CuttingPlan, demands: Sequence[Demand]) -> Iterator[_Single]:
    for demand in demands:
        if isinstance(demand, Choice):
            way = plan.ways.get(demand.key, -1)
            yield from demand.ways[way] if 0 <= way < len(demand.ways) else ()
        else:
            yield demand


def _fits(one: _Single, supply: Supply) -> bool:
    """Whether it can be cut from endless cloth: by its width alone."""
    lies = (Lie.ALONG,) if isinstance(one, Block) else one.lies
    if isinstance(one, Run):
        strip = supply.width
        able = strip >= one.least and (strip > one.loss or strip >= one.length)
        return any(able if lie is Lie.ACROSS else one.width <= supply.width for lie in lies)
    return any((one.width if lie is Lie.ALONG else one.length) <= supply.width for lie in lies)


def _faults_of_pieces(
    one: Rectangle | Block, own: Sequence[tuple[Region, Piece]], missing: int
) -> Iterator[str]:
    count, lies = (1, (Lie.ALONG,)) if isinstance(one, Block) else (one.count, one.lies)
    if len(own) + missing != count:
        yield f"{len(own)} of {count} {one.key} are cut, and {missing} are said to be missing"
    for region, piece in own:
        size = (one.length, one.width) if piece.lie is Lie.ALONG else (one.width, one.length)
        if piece.lie not in lies:
            yield f"{one.key} may not lie {piece.lie}"
        if (region.length, region.width) != size:
            yield f"{one.key} is {region.length} by {region.width} and not {size[0]} by {size[1]}"


def _faults_of_run(run: Run, own: Sequence[tuple[Region, Piece]], missing: int) -> Iterator[str]:
    lies = {piece.lie for _, piece in own}
    if len(lies) > 1 or not lies <= set(run.lies):
        yield f"strips of {run.key} lie {sorted(lies)}"
    strips = []
    for region, piece in own:
        along = piece.lie is Lie.ALONG
        strips.append(region.length if along else region.width)
        if (region.width if along else region.length) != run.width:
            yield f"a strip of {run.key} is not {run.width} wide"
    if any(strip < run.least for strip in strips):
        yield f"a strip of {run.key} is {min(strips)} long, and {run.least} is the least"
    reach = sum(strips, Fraction(0)) - max(0, len(strips) - 1) * run.loss
    if (reach < run.length) != (missing == 1) or missing > 1:
        yield f"{run.key} reaches {reach} of {run.length}, and {missing} is said to be missing"
    if strips and any(reach - strip + run.loss >= run.length for strip in strips if len(strips) > 1):
        yield f"{run.key} has a strip too many"
