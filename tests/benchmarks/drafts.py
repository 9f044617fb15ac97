"""What the cutting plan saves over whole designs: run `python -m tests.benchmarks.drafts` in the root of the project.

Two hundred designs drawn with a seed, each drafted once at quick effort and planned in three ways, sold as shops sell
it; and once more with the least fabric as if a shop sold it by 1/16 in or 1 mm, for the economy of the search: within
a shop's step it takes the plan with the fewest kinds of cuts, which is what a maker wants, and not the shortest. Then
the part that planning takes of a draft at normal effort, for designs of twelve fabrics. Times are of the processor, of
this process and its children. With `--write` the tables go into docs/performance.md. Nothing here gates a test run.
"""

from __future__ import annotations

import argparse
import math
import os
import random
import statistics
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path
from typing import Any, TypeVar

from applique.buying import Rule
from applique.cloth import FabricPlan, UseKind, plan_cloth, planning
from applique.cutting import (
    Block,
    Choice,
    CuttingPlan,
    Demand,
    Preference,
    Rectangle,
    Run,
    forget_plans,
    holds,
    lower_bound,
    plan_cutting,
)
from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.nesting import Effort, Nester, forget_nests
from applique.pattern import Pattern, draft
from applique.units import buying_step, cutting_step
from tests.whole_designs import whole_design

ROOT = Path(__file__).parents[2]
START, END = "<!-- tables of whole designs -->", "<!-- end of whole designs -->"
DESIGNS = 200


T = TypeVar("T")


@dataclass(slots=True)
class Watch:
    """How often something was asked, and the time that it took."""

    asked: int = 0
    seconds: float = 0.0

    def on(self, work: Callable[..., T]) -> Callable[..., T]:
        """`work`, watched."""

        def watched(*asked: Any, **wishes: Any) -> T:
            start = time.process_time()
            try:
                return work(*asked, **wishes)
            finally:
                self.seconds += time.process_time() - start
                self.asked += 1

        return watched


def patterns(count: int) -> Iterator[Pattern]:
    """Designs that buy all their fabric, the back among it."""
    seed = 0
    while count:
        data = whole_design(random.Random(seed))
        seed += 1
        data["backing"]["kind"] = data["backing"]["kind"].replace("leftovers", "cloth")
        for fabric in data["fabric"]:
            fabric.pop("have", None)
        try:
            yield draft(design_from_mapping(data))
        except Refusal:
            continue
        count -= 1


# The former way: one use after the other, strips across


def one_after_the_other(demands: Sequence[Demand], width: Fraction) -> Fraction:
    """The length that uses take which are cut one after the other from cloth of `width`, strips across."""
    return sum((_alone(demand, width) for demand in demands), Fraction(0))


def _alone(demand: Demand, width: Fraction) -> Fraction:
    match demand:
        case Choice(ways=ways):
            runs = [way for way in ways if any(isinstance(one, Run) for one in way)]
            return min(one_after_the_other(way, width) for way in runs or ways)
        case Rectangle():
            return min(
                -(-demand.count // (width // across)) * along
                for along, across in ((demand.length, demand.width), (demand.width, demand.length))
                if across <= width
            )
        case Run():
            return _strips(demand, width) * demand.width
        case Block():
            return demand.length


def _strips(run: Run, width: Fraction) -> int:
    return 1 if run.length <= width else math.ceil((run.length - run.loss) / (width - run.loss))


# Measures


@dataclass(slots=True)
class Tally:
    """What all fabrics came to under one preference; lengths in inches."""

    over_bound: list[float] = field(default_factory=list)
    over_area: list[float] = field(default_factory=list)
    bought: Fraction = Fraction(0)
    former: Fraction = Fraction(0)
    plain: Fraction = Fraction(0)
    dearer: int = 0

    def add(self, fabric: FabricPlan, plan: CuttingPlan, bound: Fraction, bought: Sequence[Fraction]) -> None:
        """Take in `plan` of one fabric, and what is `bought` by it, formerly and in plain strips."""
        if len(fabric.uses) > 1:
            self.over_bound.append(float(plan.used / bound))
            if any(use.kind is UseKind.PANEL for use in fabric.uses):
                self.over_area.append(float(plan.used * fabric.supplies[-1].width / _area(plan)))
        now, former, plain = bought
        self.bought += now
        self.former += former
        self.plain += plain
        self.dearer += now > plain

    def row(self, name: str) -> str:
        """A row of the table."""
        return (
            f"| {name} | {_middle(self.over_bound)} | {_most(self.over_bound)} "
            f"| {_middle(self.over_area)} | {float(self.bought / 36):,.0f} "
            f"| {float(self.bought / self.former) - 1:+.1%} | {float(self.bought / self.plain) - 1:+.1%} "
            f"| {self.dearer} |"
        )


def _middle(ratios: Sequence[float]) -> str:
    return f"{statistics.median(ratios):.3f}"


def _most(ratios: Sequence[float]) -> str:
    """What 95 of 100 do not pass."""
    return f"{statistics.quantiles(ratios, n=20)[-1]:.3f}"


def _area(plan: CuttingPlan) -> Fraction:
    """What of the cloth ends up in pieces."""
    pieces = [at for cloth in plan.cloths for at, _ in cloth.root.pieces()]
    return sum((at.length * at.width for at in pieces), Fraction(0))


def economy(count: int) -> list[str]:
    """The first table: what is used and bought under each preference."""
    tallies = {preference: Tally() for preference in Preference}
    shortest = Tally()
    bound_over_area, proven = [], 0
    for pattern in patterns(count):
        bounds: Mapping[str, Fraction] = {}
        extra, step = pattern.design.yardage.loss(pattern.design.units), buying_step(pattern.design.units)
        for preference, tally in tallies.items():
            design = replace(pattern.design, yardage=replace(pattern.design.yardage, plan=preference))
            fabrics = plan_cloth(design, pattern.quilt, pattern.cloth).fabrics
            bounds = bounds or {
                one.fabric.name: lower_bound(one.demands, one.supplies[-1]) for one in fabrics
            }
            for fabric in fabrics:
                bound = bounds[fabric.fabric.name]
                tally.add(fabric, fabric.plan, bound, _bought(fabric, fabric.plan, extra, step))
                if preference is not Preference.LEAST_FABRIC:
                    continue
                finest = cutting_step(design.units)
                plan = plan_cutting(
                    fabric.demands, fabric.supplies, preference=preference, step=finest, grid=finest
                )
                shortest.add(fabric, plan, bound, _bought(fabric, plan, extra, step))
                if len(fabric.uses) > 1:
                    proven += plan.used == bound
                    if any(use.kind is UseKind.PANEL for use in fabric.uses):
                        bound_over_area.append(float(bound * fabric.supplies[-1].width / _area(plan)))
    return [
        *(tally.row(preference.value) for preference, tally in tallies.items()),
        shortest.row("least fabric, sold by 1/16 in or 1 mm"),
        f"| the bound itself | 1 | 1 | {_middle(bound_over_area)} | | | | |",
        f"| fabrics, and proven shortest | {len(shortest.over_bound)} | {proven} | {len(bound_over_area)} | | | | |",
    ]


def _bought(fabric: FabricPlan, plan: CuttingPlan, extra: Any, step: Fraction) -> list[Fraction]:
    """What a shop cuts by `plan`, formerly and in plain strips."""
    former = one_after_the_other(fabric.demands, fabric.supplies[-1].width)
    return [Rule(used=used, extra=extra, step=step).buy for used in (plan.used, former, plan.plain)]


def twelve_fabrics(seed: int) -> dict[str, Any]:
    """A design of twelve fabrics, each with something in a border, and letters of most of them."""
    draw = random.Random(seed)
    names = [f"cloth {number}" for number in range(1, 13)]
    return {
        "row": [{"text": draw.choice(("HOME", "REST", "LOVE")), "fabric": name} for name in names[:8]],
        "panel": {"width": "60in", "height": "72in", "fabric": names[0]},
        "lettering": {"cap_height": "5in"},
        "border": [
            {"kind": "strip", "width": "2in", "fabrics": [names[1]]},
            {"kind": "squares", "size": "2in", "fabrics": names},
            {"kind": "strip", "width": "4in", "fabrics": [names[2]]},
        ],
        "fabric": [{"name": name, "color": f"#{draw.randrange(16**6):06x}"} for name in names],
        "backing": {"fabric": names[3]},
        "binding": {"fabric": names[4]},
        "hanging": {"sleeve": True},
        "yardage": {"plan": "least fabric"},
    }


def parts_of_a_draft(count: int = 3) -> list[str]:
    """The second table: what planning takes of a draft at normal effort."""
    rows = []
    for seed in range(count):
        design = design_from_mapping(twelve_fabrics(seed))
        watch = Watch()
        vars(planning)["plan_cutting"] = watch.on(plan_cutting)
        vars(planning)["holds"] = watch.on(holds)
        start = os.times()
        forget_nests()
        forget_plans()
        draft(design, nester=Nester(effort=Effort.NORMAL))
        whole = sum(os.times()[:4]) - sum(start[:4])
        rows.append(f"| {watch.asked} | {whole:.1f} | {watch.seconds:.2f} | {watch.seconds / whole:.1%} |")
    return rows


def main() -> None:
    """Print both tables, or put them into docs/performance.md."""
    parser = argparse.ArgumentParser(description="What the cutting plan saves over whole designs.")
    parser.add_argument("--designs", type=int, default=DESIGNS, help="how many designs")
    parser.add_argument("--write", action="store_true", help="put the tables into docs/performance.md")
    asked = parser.parse_args()
    text = "\n".join(
        [
            "| whole designs | over the bound, median | 95 of 100 | over the area, median | yards "
            "| to one after the other | to plain strips | dearer |",
            "|---|---:|---:|---:|---:|---:|---:|---:|",
            *economy(asked.designs),
            "",
            "| plans and questions | draft, s | planning, s | part |",
            "|---:|---:|---:|---:|",
            *parts_of_a_draft(),
        ]
    )
    print(text)
    if asked.write:
        page = ROOT / "docs" / "performance.md"
        before, rest = page.read_text(encoding="utf-8").split(START, 1)
        _, after = rest.split(END, 1)
        page.write_text(f"{before}{START}\n{text}\n{END}{after}", encoding="utf-8")


if __name__ == "__main__":
    main()
