"""The cutting plan of every fabric, which has all that is cut from it; and the precuts that would hold it.

Exact inches after washing; the frame of a plan is that of `cutting`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import replace
from fractions import Fraction
from typing import assert_never

from applique.buying import Rule
from applique.cloth.laying import demands_of, plan_demands
from applique.cloth.narrower import narrow_cloth
from applique.cloth.values import (
    ClothPlan,
    ClothUse,
    FabricPlan,
    Joined,
    PrecutPlan,
    Strips,
    UseKind,
    WideBacking,
)
from applique.cloth.wanted import NESTED, Wanted, wanted_on, wanted_uses
from applique.cutting import (
    Block,
    Choice,
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
from applique.supplies import BOUGHT, bolt_of, plan_of, supplies_of
from applique.units import buying_step, cutting_step
from applique.yardage import StripNeed

__all__ = ["plan_cloth", "plan_part"]


def plan_cloth(design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed]) -> ClothPlan:
    """How every fabric of the quilt is cut, and whether the back comes from leftovers where it should.

    Where the leftovers are not enough, they widen bought lengths if that saves one, else all of the back is bought.

    Raises:
        Refusal: what is larger than any cloth it should come from, strips that their joins eat up, every one at once.
    """
    backing, seam = quilt.backing, 2 * design.seam_allowance
    if not backing.ways or design.backing.kind is not BackingKind.LEFTOVERS:
        return _cloth_plan(design, quilt, letters, _fabrics(design, quilt, letters, backing), None, None)
    fabrics = _fabrics(design, quilt, letters, None)
    back = back_from(backing, _left_of(fabrics), seam)
    if back.enough:
        return _cloth_plan(design, quilt, letters, fabrics, back, None)
    for way in mixed_ways(backing):
        fabrics = _fabrics(design, quilt, letters, replace(backing, ways=(way,)))
        mixed = widened_by(way, backing, _left_of(fabrics), seam)
        if mixed is not None:
            return _cloth_plan(design, quilt, letters, fabrics, back, mixed)
    return _cloth_plan(design, quilt, letters, _fabrics(design, quilt, letters, backing), back, None)


def _left_of(fabrics: Sequence[FabricPlan]) -> tuple[Leftover, ...]:
    return tuple(piece for plan in fabrics for piece in plan.leftovers)


def _cloth_plan(
    design: Design,
    quilt: QuiltPlan,
    letters: Sequence[StripNeed],
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
        fabrics=tuple(replace(plan, narrow=narrow_cloth(design, quilt, letters, plan)) for plan in fabrics),
        leftover_backing=back,
        mixed_backing=mixed,
        back=patches,
        wide_backing=_wide_instead(design, quilt, letters, way),
    )


def _wide_instead(
    design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed], way: BackingWay | None
) -> WideBacking | None:
    """What wide backing would take instead of lengths; None where it spares no seam."""
    if way is None or design.backing.kind is BackingKind.WIDE:
        return None
    own, width = quilt.fabrics.backing, design.backing.wide_width
    cloth = replace(own, usable_width=width, sold_width=None, have=())
    back = plan_backing(
        design.backing, quilt.finished, cloth, seam_allowance=design.seam_allowance, units=design.units
    )
    wide = back.ways[0]
    if len(wide.widths) >= len(way.widths) + (1 if way.widened else 0):
        return None
    wanted = [use for fabric, use in wanted_uses(design, quilt, letters, back) if fabric.name == own.name]
    others = [use for use in wanted if use.kind is not UseKind.BACKING]
    if all(use.kind is UseKind.SLEEVE for use in others):
        others = []
    plan = _planned(design, cloth, [use for use in wanted if use not in others])
    rest = _planned(design, own, others) if others else None
    return WideBacking(usable_width=width, way=wide, rule=plan.rule, uses=plan.uses, rest=rest)


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
    demands = demands_of(wanted)
    step = buying_step(design.units)
    names = {key: (_name(use), _where(use)) for use in wanted for key in _all_keys(use.demands)}
    plan = plan_demands(demands, supplies, design, plan_of(fabric, design.yardage), names)
    if plan.used and len(supplies) > 1:
        # What would save her the whole purchase is worth its extra cuts, however short the length is.
        least = plan_demands(demands, supplies, design, Preference.LEAST_FABRIC, names)
        plan = plan if least.used else least
    if fabric.have:
        wanted, plan = _with_least_block(
            design, supplies, wanted, plan, plan_of(fabric, design.yardage), names
        )
    fixed = {
        one.key for use in wanted if isinstance(use.cut, StripNeed) and use.cut.fixed for one in use.blocks
    }
    if fixed:
        plan = replace(
            plan,
            cloths=tuple(
                replace(one, root=_first(one.root, one.root.x, one.root.y, fixed)) for one in plan.cloths
            ),
        )
    rule = Rule(used=plan.used, extra=design.yardage.loss(design.units), step=step)
    return FabricPlan(
        fabric=fabric,
        uses=tuple(_use(use, plan) for use in wanted),
        demands=demands_of(wanted),
        supplies=supplies,
        plan=plan,
        rule=rule,
        precut=None if fabric.have else _precut(design, fabric, wanted, rule.buy),
    )


def _with_least_block(
    design: Design,
    supplies: Sequence[Supply],
    wanted: Sequence[Wanted],
    plan: CuttingPlan,
    preference: Preference,
    names: Mapping[str, tuple[Message, Where]],
) -> tuple[Sequence[Wanted], CuttingPlan]:
    """What is wanted and `plan`, its letters out of the stash on as little of it as will do.

    Another way to nest them is taken if the plan with it buys no more, lacks no more, and buys nothing for them.
    """
    choice = next((one for one in demands_of(wanted) if isinstance(one, Choice) and one.key == NESTED), None)
    if choice is None:
        return wanted, plan
    taken = choice.ways[plan.ways[NESTED]]
    if not _is_held(taken, plan):
        return wanted, plan
    for way in sorted(choice.ways, key=_cover):
        if _cover(way) >= _cover(taken):
            break
        alone = replace(choice, ways=(way,))
        now = [
            replace(use, demands=tuple(alone if one is choice else one for one in use.demands))
            for use in wanted
        ]
        found = plan_demands(demands_of(now), supplies, design, preference, names)
        is_dearer = (len(found.missing), found.used) > (len(plan.missing), plan.used)
        if not is_dearer and _is_held(way, found):
            return now, found
    return wanted, plan


def _cover(way: Sequence[Rectangle | Run | Block]) -> float:
    return math.fsum(map(_covered, way))


def _is_held(way: Sequence[Rectangle | Run | Block], plan: CuttingPlan) -> bool:
    """Whether everything of a way is cut, and nothing of it from what is bought."""
    wanted = {one.key for one in way}
    sources = {piece.key: cloth.supply for cloth in plan.cloths for _, piece in cloth.root.pieces()}
    return wanted <= sources.keys() and BOUGHT not in {sources[key] for key in wanted}


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
            laid = [wanted_on(use, supply, design.units) for use in wanted]
            demands = demands_of(laid)
            if not holds(demands, supply, grid=cutting_step(design.units)):
                continue
            plan = plan_demands(demands, [supply], design, plan_of(fabric, design.yardage), {})
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
        length, width = (float(side - wanted.cut.room) for side in (room, supply.width))
        return all(fits(piece, width=length, height=width) for piece in wanted.cut.pieces)
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
        case UseKind.PILLOW:
            return message("a half of the pillow back")
        case UseKind.TIES:
            return message("a tie")
        case UseKind.PLAIN_BLOCKS:
            return message("a plain block")
        case UseKind.SASHING:
            return message("a piece of the sashing")
        case UseKind.CORNERSTONES:
            return message("a cornerstone")
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
        case UseKind.PILLOW:
            return Where.key("pillow")
        case UseKind.TIES:
            return Where.key("banner")
        case UseKind.PLAIN_BLOCKS | UseKind.SASHING | UseKind.CORNERSTONES:
            return Where.key("setting")
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
        panels=wanted.panels,
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


def _first(region: Region, x: Fraction, y: Fraction, keys: Set[str]) -> Region:
    """The same region at `x`, `y`, with what holds `keys` first at every cut: fussy cuts are measured from there."""
    fill = region.fill
    if isinstance(fill, Split):
        parts, at_x, at_y = [], x, y
        for part in sorted(
            fill.parts, key=lambda one: not any(piece.key in keys for _, piece in one.pieces())
        ):
            parts.append(_first(part, at_x, at_y, keys))
            if fill.cut is Lie.ACROSS:
                at_x += part.length
            else:
                at_y += part.width
        fill = replace(fill, parts=tuple(parts))
    return replace(region, x=x, y=y, fill=fill)
