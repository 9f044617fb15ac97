"""The cutting plan of every fabric, which has all that is cut from it; and the precuts that would hold it.

Exact inches after washing; the frame of a plan is that of `cutting`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, assert_never

from applique.buying import Rule
from applique.cloth.values import (
    LETTERS,
    ClothPlan,
    ClothUse,
    FabricPlan,
    Joined,
    PrecutPlan,
    Strips,
    UseKind,
    WideBacking,
)
from applique.cloth.wanted import Wanted, wanted_on, wanted_uses
from applique.cutting import (
    Block,
    Choice,
    CutCloth,
    CuttingPlan,
    Demand,
    Lie,
    Preference,
    Rectangle,
    Region,
    Run,
    Split,
    Supply,
    holds,
    plan_cutting,
)
from applique.design import BackingKind, Design, Fabric
from applique.errors import Where
from applique.language import Message, message
from applique.leftovers import (
    Leftover,
    LeftoverBacking,
    MixedBacking,
    back_from,
    mixed_ways,
    patches_from_cloth,
    patches_from_rows,
    widened_by,
)
from applique.nesting import fits
from applique.precuts import precuts_near
from applique.quilt.finishing import BackingPlan, BackingWay, plan_backing
from applique.quilt.strips import Join
from applique.quilt.whole import QuiltPlan
from applique.supplies import bolt_of, plan_of, supplies_of
from applique.units import buying_step, cutting_step
from applique.yardage import StripNeed

__all__ = ["plan_cloth", "plan_part"]

_QUARTER_YARD: Final = Fraction(9)


def plan_cloth(design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed]) -> ClothPlan:
    """How every fabric of the quilt is cut, and whether the back comes from leftovers where it should.

    Where the leftovers are not enough, they widen bought lengths if that saves one, else all of the back is bought.

    Raises:
        Refusal: what is larger than any cloth it should come from, strips that their joins eat up, every one at once.
    """
    backing, seam = quilt.backing, 2 * design.seam_allowance
    if design.backing.kind is not BackingKind.LEFTOVERS:
        return _cloth_plan(design, quilt, _fabrics(design, quilt, letters, backing), None, None)
    fabrics = _fabrics(design, quilt, letters, None)
    back = back_from(backing, _left_of(fabrics), seam)
    if back.enough:
        return _cloth_plan(design, quilt, fabrics, back, None)
    for way in mixed_ways(backing):
        fabrics = _fabrics(design, quilt, letters, replace(backing, ways=(way,)))
        mixed = widened_by(way, backing, _left_of(fabrics), seam)
        if mixed is not None:
            return _cloth_plan(design, quilt, fabrics, back, mixed)
    return _cloth_plan(design, quilt, _fabrics(design, quilt, letters, backing), back, None)


def _left_of(fabrics: Sequence[FabricPlan]) -> tuple[Leftover, ...]:
    return tuple(piece for plan in fabrics for piece in plan.leftovers)


def _cloth_plan(
    design: Design,
    quilt: QuiltPlan,
    fabrics: tuple[FabricPlan, ...],
    back: LeftoverBacking | None,
    mixed: MixedBacking | None,
) -> ClothPlan:
    seam = 2 * design.seam_allowance
    way = next((use.way for plan in fabrics for use in plan.uses if use.way is not None), None)
    if way is not None:
        patches = patches_from_cloth(quilt.backing, way, quilt.fabrics.backing.name, mixed, seam)
    else:
        patches = patches_from_rows(quilt.backing, back, seam) if back is not None else ()
    return ClothPlan(
        fabrics=fabrics,
        leftover_backing=back,
        mixed_backing=mixed,
        back=patches,
        wide_backing=_wide_instead(design, quilt, way),
    )


def _wide_instead(design: Design, quilt: QuiltPlan, way: BackingWay | None) -> WideBacking | None:
    """What wide backing would take instead of lengths; None where it spares no seam."""
    if way is None or design.backing.kind is BackingKind.WIDE:
        return None
    width = design.backing.wide_width
    wide = plan_backing(
        design.backing,
        quilt.finished,
        replace(quilt.fabrics.backing, usable_width=width, sold_width=None),
        seam_allowance=design.seam_allowance,
        units=design.units,
    ).ways[0]
    if len(wide.widths) >= len(way.widths) + (1 if way.widened else 0):
        return None
    rule = Rule(used=wide.length, extra=design.yardage.loss(design.units), step=buying_step(design.units))
    return WideBacking(usable_width=width, way=wide, rule=rule)


def plan_part(
    design: Design,
    quilt: QuiltPlan,
    letters: Sequence[StripNeed],
    *,
    kind: UseKind | None,
    border: int | None,
    fabric: str,
    backing: bool,
) -> tuple[FabricPlan, ...]:
    """How one part alone is cut from new fabric, nothing of a stash: what is of that `kind`, of that `border` and from
    that `fabric`, each if it is named; `backing` says whether cloth is cut for the back.

    Raises:
        Refusal: what is larger than new fabric, strips that their joins eat up.
    """
    wanted: dict[str, tuple[Fabric, list[Wanted]]] = {}
    back = quilt.backing if backing else None
    for cloth, use in wanted_uses(design, quilt, letters, back):
        if kind in (None, use.kind) and border in (None, use.border) and fabric in ("", cloth.name):
            wanted.setdefault(cloth.name, (replace(cloth, have=()), []))[1].append(use)
    return tuple(_planned(design, cloth, uses) for cloth, uses in wanted.values())


def _fabrics(
    design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed], backing: BackingPlan | None
) -> tuple[FabricPlan, ...]:
    """How every fabric is cut, with that of the back unless there is no `backing`."""
    wanted: dict[str, list[Wanted]] = {}
    for fabric, use in wanted_uses(design, quilt, letters, backing):
        wanted.setdefault(fabric.name, []).append(use)
    return tuple(_planned(design, quilt.fabrics.by_name[name], uses) for name, uses in wanted.items())


def _planned(design: Design, fabric: Fabric, wanted: Sequence[Wanted]) -> FabricPlan:
    supplies = (
        *supplies_of(fabric, design.yardage, design.units),
        bolt_of(fabric, design.yardage, design.units),
    )
    demands = tuple(demand for use in wanted for demand in use.demands)
    step = buying_step(design.units)
    names = {key: (_name(use), _where(use)) for use in wanted for key in _all_keys(use.demands)}
    plan = _plan(demands, supplies, design, plan_of(fabric, design.yardage), names)
    if plan.used and len(supplies) > 1:
        # What would save her the whole purchase is worth its extra cuts, however short the length is.
        least = _plan(demands, supplies, design, Preference.LEAST_FABRIC, names)
        plan = plan if least.used else least
    if any(isinstance(use.cut, StripNeed) and use.cut.fixed for use in wanted):
        plan = replace(plan, cloths=tuple(_letters_first(cloth) for cloth in plan.cloths))
    rule = Rule(used=plan.used, extra=design.yardage.loss(design.units), step=step)
    return FabricPlan(
        fabric=fabric,
        uses=tuple(_use(use, plan) for use in wanted),
        demands=demands,
        supplies=supplies,
        plan=plan,
        rule=rule,
        precut=None if fabric.have else _precut(design, fabric, wanted, rule.buy),
    )


def _precut(design: Design, fabric: Fabric, wanted: Sequence[Wanted], buy: Fraction) -> PrecutPlan | None:
    """All of it cut from the smallest precut that is not dearer than the yardage and holds it by a plan of its own."""
    near = precuts_near(
        fabric,
        design.yardage,
        design.units,
        needed=math.fsum(_area(use) for use in wanted),
        bought=buy * fabric.usable_width,
    )
    for precut, supply in near:
        if all(_has_room(use, supply) for use in wanted):
            grid = cutting_step(design.units)
            laid = [wanted_on(use, supply, grid) for use in wanted]
            demands = tuple(demand for use in laid for demand in use.demands)
            if not holds(demands, supply, grid=grid):
                continue
            plan = _plan(demands, [supply], design, plan_of(fabric, design.yardage), {})
            if not plan.missing:
                return PrecutPlan(
                    precut=precut,
                    uses=tuple(_use(use, plan) for use in laid),
                    demands=demands,
                    supplies=(supply,),
                    plan=plan,
                )
    return None


def _has_room(wanted: Wanted, supply: Supply) -> bool:
    """Whether each piece alone has room in a piece of `supply`."""
    room = (supply.length or Fraction(0)) - 2 * supply.squaring
    if isinstance(wanted.cut, StripNeed):
        return all(fits(piece, width=float(room), height=float(supply.width)) for piece in wanted.cut.pieces)
    return all(
        min(one.length, one.width) <= min(room, supply.width)
        and max(one.length, one.width) <= max(room, supply.width)
        for one in wanted.demands
        if isinstance(one, Rectangle | Block)
    )


def _area(wanted: Wanted) -> float:
    """The square inches of cloth below which no plan is worth a look: what is cut, and nine tenths of a nest, for
    several small nests hardly ever take less than one."""
    if isinstance(wanted.cut, StripNeed):
        return 0.9 * math.fsum(_covered(one.block) for one in wanted.blocks[:1])
    return math.fsum(
        min(math.fsum(_covered(one) for one in way) for way in demand.ways)
        if isinstance(demand, Choice)
        else _covered(demand)
        for demand in wanted.demands
    )


def _covered(one: Rectangle | Run | Block) -> float:
    return float(one.length * one.width * (one.count if isinstance(one, Rectangle) else 1))


def _plan(
    demands: Sequence[Demand],
    supplies: Sequence[Supply],
    design: Design,
    preference: Preference,
    names: Mapping[str, tuple[Message, Where]],
) -> CuttingPlan:
    return plan_cutting(
        demands,
        supplies,
        preference=preference,
        worth=_QUARTER_YARD,
        step=buying_step(design.units),
        grid=cutting_step(design.units),
        names=names,
        units=design.units,
    )


def _name(use: Wanted) -> Message:
    """What a refusal calls the pieces of a use."""
    match use.kind:
        case UseKind.PANEL:
            return message("the panel")
        case UseKind.BACKING:
            return message("a length of the backing")
        case UseKind.BORDER:
            return message("a piece of border {number}", number=use.border or 0)
        case UseKind.BINDING:
            return message("the binding")
        case UseKind.SLEEVE:
            return message("the hanging sleeve")
        case UseKind.LETTERS:
            return message("the layout of the letters")
    assert_never(use.kind)


def _where(use: Wanted) -> Where:
    match use.kind:
        case UseKind.BORDER:
            return Where.key("border", use.border or 0)
        case UseKind.SLEEVE:
            return Where.key("hanging")
        case UseKind.LETTERS:
            return Where.key("lettering")
        case _:
            return Where.key(use.kind.value)


def _all_keys(demands: Sequence[Demand]) -> Iterator[str]:
    for demand in demands:
        match demand:
            case Choice(ways=ways):
                yield from (one.key for way in ways for one in way)
            case Rectangle() | Run() | Block():
                yield demand.key
            case _:
                assert_never(demand)


def _use(wanted: Wanted, plan: CuttingPlan) -> ClothUse:
    keys = set(_keys(wanted.demands, plan))
    found = Counter(
        (piece.key, piece.lie, *_sides(at, piece.lie))
        for cloth in plan.cloths
        for at, piece in cloth.root.pieces()
        if piece.key in keys
    )
    strips = tuple(
        Strips(key=key, length=length, width=width, count=count, lie=lie)
        for (key, lie, length, width), count in found.items()
    )
    runs = [demand for demand in _chosen(wanted.demands, plan) if isinstance(demand, Run)]
    joined = tuple(_joined(run, [one for one in strips if one.key == run.key], wanted.join) for run in runs)
    way = wanted.cut.ways[plan.ways["backing"]] if isinstance(wanted.cut, BackingPlan) else None
    return ClothUse(
        kind=wanted.kind,
        cut=wanted.cut,
        strips=strips,
        joined=tuple(run for run in joined if run is not None),
        border=wanted.border,
        way=way,
        blocks=tuple(one for one in wanted.blocks if one.key in keys),
    )


def _sides(at: Region, lie: Lie) -> tuple[Fraction, Fraction]:
    """Length and width of a piece where it lies."""
    return (at.length, at.width) if lie is Lie.ALONG else (at.width, at.length)


def _chosen(demands: Sequence[Demand], plan: CuttingPlan) -> Iterator[Rectangle | Run | Block]:
    """What is cut, of each choice the way that the plan takes."""
    for demand in demands:
        match demand:
            case Choice(key=key, ways=ways):
                yield from ways[plan.ways[key]]
            case Rectangle() | Run() | Block():
                yield demand
            case _:
                assert_never(demand)


def _keys(demands: Sequence[Demand], plan: CuttingPlan) -> Iterator[str]:
    return (demand.key for demand in _chosen(demands, plan))


def _joined(run: Run, strips: Sequence[Strips], join: Join | None) -> Joined | None:
    """How far the strips of a run reach; None where one strip is enough."""
    count = sum(one.count for one in strips)
    if count < 2 or join is None:
        return None
    reach = sum((one.length * one.count for one in strips), Fraction(0)) - (count - 1) * run.loss
    return Joined(key=run.key, join=join, strips=count, reach=reach, needed=run.length)


def _letters_first(cloth: CutCloth) -> CutCloth:
    """The same cuts, with the band of the letters at the first end: fussy cuts are measured from there."""
    root = cloth.root
    if not isinstance(root.fill, Split) or root.fill.cut is Lie.ALONG:
        return cloth
    parts = sorted(
        root.fill.parts, key=lambda part: not any(piece.key == LETTERS for _, piece in part.pieces())
    )
    moved, x = [], root.x
    for part in parts:
        moved.append(_moved(part, x - part.x))
        x += part.length
    return replace(cloth, root=replace(root, fill=replace(root.fill, parts=tuple(moved))))


def _moved(region: Region, by: Fraction) -> Region:
    fill = region.fill
    if isinstance(fill, Split):
        fill = replace(fill, parts=tuple(_moved(part, by) for part in fill.parts))
    return replace(region, x=region.x + by, fill=fill)
