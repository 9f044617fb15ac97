"""What a fabric takes that is narrower than its cutting plan needs, as it comes or once it is washed.

Exact inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from applique.buying import Rule
from applique.cloth.laying import demands_of, plan_demands
from applique.cloth.values import FabricPlan, NarrowCloth, NarrowPlan
from applique.cloth.wanted import wanted_uses
from applique.cutting import Block, Choice, CuttingPlan, Demand, Rectangle, Run, Supply
from applique.design import BackingKind, Design
from applique.errors import Refusal
from applique.letter_blocks import nested_on
from applique.quilt.finishing import MOST_SHRUNK, BackingPlan, plan_backing
from applique.quilt.whole import QuiltPlan
from applique.supplies import BOUGHT, SOLD_WIDE, USUAL_WIDTH, plan_of
from applique.units import buying_step
from applique.yardage import StripNeed

__all__ = ["narrow_cloth"]


def narrow_cloth(
    design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed], planned: FabricPlan
) -> NarrowCloth | None:
    """What to buy of a fabric of `USUAL_WIDTH`, and of the planned one to wash it first where the amounts are for
    unwashed fabric.

    None where the plan holds down to that width, where some comes out of a stash, of fabric sold wide, and where what
    is left over is sewn into the back, whose size hangs on the plan.
    """
    width = planned.fabric.usable_width
    if design.backing.kind is BackingKind.LEFTOVERS or planned.fabric.have or width > SOLD_WIDE:
        return None
    if planned.widths_of(BOUGHT).least <= USUAL_WIDTH:
        return None
    yardage = design.yardage
    return NarrowCloth(
        usual=_plan_on(USUAL_WIDTH, yardage.shrinkage, design, quilt, letters, planned),
        is_washed=yardage.is_washed,
        washed=None
        if yardage.is_washed
        else _plan_on(width * (1 - MOST_SHRUNK), MOST_SHRUNK, design, quilt, letters, planned),
    )


def _plan_on(
    width: Fraction,
    shrinkage: Fraction,
    design: Design,
    quilt: QuiltPlan,
    letters: Sequence[StripNeed],
    planned: FabricPlan,
) -> NarrowPlan | None:
    """All that is cut from a fabric, planned for one of usable `width` that loses `shrinkage` of its length; None
    where a piece has no room in it."""
    units, yardage = design.units, design.yardage
    fabric = replace(planned.fabric, usable_width=width, sold_width=None)
    extra = replace(yardage.loss(units), shrinkage_percent=int(shrinkage * 100))
    supply = Supply(key=BOUGHT, width=width, length=None, count=1, squaring=extra.squaring)
    backing = quilt.backing
    try:
        if fabric.name == quilt.fabrics.backing.name and backing.ways:
            backing = plan_backing(
                design.backing, quilt.finished, fabric, seam_allowance=design.seam_allowance, units=units
            )
        needs = [nested_on(need, width, units) for need in letters if need.fabric == fabric.name]
        wanted = [use for one, use in wanted_uses(design, quilt, needs, backing) if one.name == fabric.name]
        demands = demands_of(wanted)
        plan = plan_demands(demands, [supply], design, plan_of(fabric, yardage), shrinkage=shrinkage)
    except Refusal:
        return None
    return NarrowPlan(
        width=width,
        rule=Rule(used=plan.used, extra=extra, step=buying_step(units)),
        plan=plan,
        is_alike=_cut(demands, plan) == _cut(planned.demands, planned.plan),
        lengths=_lengths(planned, backing, plan),
    )


def _cut(demands: Sequence[Demand], plan: CuttingPlan) -> list[Rectangle | Run]:
    """The pieces that a plan cuts, but for blocks of letters."""
    chosen = (
        each
        for one in demands
        for each in (one.ways[plan.ways[one.key]] if isinstance(one, Choice) else (one,))
    )
    return [one for one in chosen if not isinstance(one, Block)]


def _lengths(planned: FabricPlan, backing: BackingPlan, plan: CuttingPlan) -> int | None:
    """Of how many lengths a back is sewn by a plan; None if it is none, or as many as planned."""
    before = next((use.way for use in planned.uses if use.way is not None), None)
    if before is None:
        return None
    count = len(backing.ways[plan.ways["backing"]].widths)
    return count if count != len(before.widths) else None
