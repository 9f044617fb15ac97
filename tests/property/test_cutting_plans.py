"""Whatever is to be cut, from whatever there is: a maker who knows only the plan gets all of it, to a thread."""

from __future__ import annotations

import math
import os
import pickle
import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from applique.cutting import (
    Block,
    Choice,
    CuttingPlan,
    Demand,
    Lie,
    Preference,
    Rectangle,
    Run,
    Supply,
    plan_cutting,
)
from applique.errors import Refusal
from tests.cutter import MM, SIXTEENTH, Cloth, cut_plan, has_place, wash

F = Fraction
PLANS = int(os.environ.get("APPLIQUE_CUTTING_PLANS", "1000"))
ALONG, ACROSS = Lie.ALONG, Lie.ACROSS
LIES = ((ALONG,), (ACROSS,), (ALONG, ACROSS), (ACROSS, ALONG))


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What one maker wants from one fabric; `grid` is the finest length on her ruler, `step` what her shop cuts by."""

    demands: tuple[Demand, ...]
    supplies: tuple[Supply, ...]
    grid: Fraction
    step: Fraction
    shrinkage: Fraction
    preference: Preference

    def plan(self, *, adds_rows: bool = True) -> CuttingPlan:
        return plan_cutting(
            self.demands,
            self.supplies,
            preference=self.preference,
            step=self.step,
            grid=self.grid,
            adds_rows=adds_rows,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawing:
    """Draws lengths on one ruler, and demands that fit cloth of `room` across."""

    draw: st.DrawFn
    rule: Fraction
    room: Fraction
    numbers: Iterator[int]

    def length(self, least: float | Fraction, most: float | Fraction) -> Fraction:
        return self.rule * self.draw(
            st.integers(math.ceil(F(least) / self.rule), math.floor(F(most) / self.rule))
        )

    def one(self) -> Rectangle | Run | Block:
        kinds: tuple[Callable[[str], Rectangle | Run | Block], ...] = (
            self._large, self._small, self._run, self._run, self._block
        )  # fmt: skip
        return self.draw(st.sampled_from(kinds))(f"piece {next(self.numbers)}")

    def demand(self) -> Demand:
        if self.draw(st.integers(0, 3)):
            return self.one()
        ways = tuple(
            tuple(self.one() for _ in range(self.draw(st.integers(1, 2))))
            for _ in range(self.draw(st.integers(2, 3)))
        )
        return Choice(key=f"choice {next(self.numbers)}", ways=ways)

    def _large(self, key: str) -> Rectangle:
        """Up to 100 in; it fits in each of its lies, or in one of two."""
        lies = self.draw(st.sampled_from(LIES))
        short, long = self.length(0.5, self.room), self.length(0.5, 100)
        sizes = (long, short) if lies[0] is ALONG else (short, long)
        return Rectangle(key=key, length=sizes[0], width=sizes[1], count=self._count(4), lies=lies)

    def _small(self, key: str) -> Rectangle:
        side = self.length(0.5, 10)
        other = side if self.draw(st.booleans()) else self.length(0.5, 10)
        return Rectangle(
            key=key, length=side, width=other, count=self._count(24), lies=self.draw(st.sampled_from(LIES))
        )

    def _run(self, key: str) -> Run:
        width = self.length(1, 9)
        loss = self.draw(st.sampled_from([width, F(1, 2), 15 * MM]))
        return Run(
            key=key,
            width=width,
            length=self.length(2, 200),
            loss=loss,
            least=min(self.room, loss + self.length(0.5, 20)),
            lies=self.draw(st.sampled_from(LIES)),
        )

    def _block(self, key: str) -> Block:
        return Block(key=key, length=self.length(1, 60), width=self.length(1, self.room))

    def _count(self, most: int) -> int:
        return self.draw(st.integers(1, most))

    def held(self, number: int) -> Supply:
        """A fat quarter, a length that was kept, strips of a roll, squares of a pack, or whatever is in the basket."""
        kinds: list[tuple[tuple[float | Fraction, float | Fraction], tuple[float, float], int]] = [
            ((18, 22), (17, 22), 4),
            ((self.room, self.room), (4, 60), 2),
            ((40, 44), (2.4, 2.6), 8),
            ((4.9, 5.1), (4.9, 5.1), 12),
            ((9.9, 10.1), (9.9, 10.1), 12),
            ((1, 60), (1, 60), 3),
        ]
        wide, long, most = self.draw(st.sampled_from(kinds))
        return Supply(
            key=f"held {number}",
            width=self.length(*wide),
            length=self.length(*long),
            count=self._count(most),
            squaring=self.draw(st.sampled_from([F(0), F(1, 2), F(1)])),
        )


@st.composite
def jobs(draw: st.DrawFn, *, buying: bool = True) -> Job:
    """A few demands of sensible sizes, inch or metric, and what she has; what is bought holds each of them.

    Mostly one or two of few pieces, so that many plans are quick to make.
    """
    metric = draw(st.booleans())
    rule = MM if metric else draw(st.sampled_from([F(1, 8), SIXTEENTH]))
    least, most = draw(st.sampled_from([(39, 44), (39, 44), (14, 60), (100, 112)]))
    room = rule * draw(st.integers(math.ceil(least / rule), math.floor(most / rule)))
    drawing = _Drawing(draw=draw, rule=rule, room=room, numbers=count())
    has = draw(st.integers(0, 2)) if buying else draw(st.integers(1, 3))
    held = tuple(drawing.held(number) for number in range(has))
    bolt = Supply(key="bolt", width=room, length=None, count=1, squaring=drawing.length(0, 1.5))
    return Job(
        demands=tuple(drawing.demand() for _ in range(draw(st.sampled_from([*[1] * 8, 2, 2, 2, 3, 4])))),
        supplies=(*held, bolt) if buying else held,
        grid=rule,
        step=100 * MM if metric else F(9, 2),
        shrinkage=F(draw(st.sampled_from([0, 3, 8])), 100),
        preference=draw(st.sampled_from(Preference)),
    )


def _bought(job: Job, plan: CuttingPlan) -> Cloth | None:
    """Just what the plan uses, with both squared ends and what shrinks, as it comes out of the wash."""
    bolt = job.supplies[-1]
    if not plan.used:
        return None
    length = (plan.used + 2 * bolt.squaring) / (1 - job.shrinkage)
    return wash(bolt.key, length, usable=bolt.width, sold=None, shrinkage=job.shrinkage)


def _paid(job: Job, used: Fraction) -> Fraction:
    """What the shop cuts for so much used, where nothing shrinks."""
    return math.ceil((used + 2 * job.supplies[-1].squaring) / job.step) * job.step if used else F(0)


@pytest.mark.long
@settings(max_examples=PLANS, derandomize=True)
@given(jobs())
def test_every_plan_is_cut_to_a_thread(job: Job) -> None:
    plan = job.plan()
    cut_plan(plan, job.demands, job.supplies, bought=_bought(job, plan))
    assert not plan.missing
    apart = plan if plan.used == plan.plain else job.plan(adds_rows=False)  # equal bands are not joined
    assert _paid(job, plan.used) <= _paid(job, apart.used)
    saved = _paid(job, apart.plain) - _paid(job, apart.used)
    assert saved >= 0
    if job.preference is Preference.SIMPLE_UNLESS_IT_PAYS:
        assert apart.used == apart.plain or saved >= F(9)  # 1/4 yd is worth it


@pytest.mark.long
@settings(max_examples=PLANS // 4, derandomize=True)
@given(jobs(buying=False))
def test_only_what_has_no_place_is_missing_where_nothing_may_be_bought(job: Job) -> None:
    squared = [(has.length - 2 * has.squaring, has.width) for has in job.supplies if has.length is not None]

    def is_hopeless(way: Sequence[Rectangle | Run | Block]) -> bool:
        return any(not any(has_place(one, *room) for room in squared) for one in way)

    ways = [demand.ways if isinstance(demand, Choice) else ((demand,),) for demand in job.demands]
    try:
        plan = job.plan()
    except Refusal:
        assert any(all(map(is_hopeless, way)) for way in ways)
        return
    assert not any(all(map(is_hopeless, way)) for way in ways)
    made = cut_plan(plan, job.demands, job.supplies)
    assert plan.used == 0
    cut = Counter(cloth.supply for cloth in plan.cloths)
    rooms = [(left.length, left.width) for left in made.leftovers]
    rooms += [room for room, has in zip(squared, job.supplies, strict=True) if cut[has.key] < has.count]
    singles = {one.key: one for some in ways for way in some for one in way}
    for key in plan.missing:
        one = singles[key]
        assert isinstance(one, Run) or not any(has_place(one, *room) for room in rooms)


KITCHEN_TABLE = (
    Rectangle(key="panel", length=F(83, 2), width=F(95, 2), count=1, lies=(ACROSS, ALONG)),
    Rectangle(key="squares", length=F(7, 2), width=F(7, 2), count=46, lies=(ACROSS,)),
    Rectangle(key="bricks", length=F(13, 2), width=F(7, 2), count=15, lies=(ACROSS, ALONG)),
    Run(key="border", width=F(5, 2), length=F(186), loss=F(5, 2), least=F(10), lies=(ACROSS, ALONG)),
    Run(key="binding", width=F(5, 2), length=F(226), loss=F(5, 2), least=F(10), lies=(ACROSS, ALONG)),
    Block(key="letters", length=F(14), width=F(39)),
    Choice(
        key="sleeve",
        ways=(
            (
                Run(
                    key="sleeve joined",
                    width=F(17, 2),
                    length=F(50),
                    loss=F(1, 2),
                    least=F(8),
                    lies=(ACROSS,),
                ),
            ),
            (Rectangle(key="sleeve whole", length=F(50), width=F(17, 2), count=1, lies=(ALONG,)),),
        ),
    ),
)
BASKET = (
    Supply(key="fat quarters", width=F(21), length=F(18), count=2, squaring=F(1, 2)),
    Supply(key="bolt", width=F(42), length=None, count=1, squaring=F(1)),
)
PLAN_OF_WHAT_IS_READ = """
import pickle, sys
from applique.cutting import Preference, plan_cutting
demands, supplies = pickle.load(sys.stdin.buffer)
print(plan_cutting(demands, supplies, preference=Preference.LEAST_FABRIC))
"""


def test_the_same_demands_give_the_same_plan_in_every_process() -> None:
    """What a set or a dictionary has first differs from process to process; what is planned does not."""
    path = os.pathsep.join(sys.path)
    said = {
        subprocess.run(
            [sys.executable, "-c", PLAN_OF_WHAT_IS_READ],
            input=pickle.dumps((KITCHEN_TABLE, BASKET)),
            env={**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": seed},
            stdout=subprocess.PIPE,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(said) == 1
    here = plan_cutting(KITCHEN_TABLE, BASKET, preference=Preference.LEAST_FABRIC)
    assert said == {f"{here}\n".encode()}
