"""Any plan of cutting keeps every rule, is never dearer than plain strips or below its bound, and comes again."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from applique.cutting import (
    Block,
    Choice,
    Demand,
    Lie,
    Preference,
    Rectangle,
    Run,
    Supply,
    forget_plans,
    lower_bound,
    plan_cutting,
    plan_faults,
)
from applique.errors import Refusal

LIES = st.sampled_from([(Lie.ALONG,), (Lie.ACROSS,), (Lie.ALONG, Lie.ACROSS), (Lie.ACROSS, Lie.ALONG)])
STEP = Fraction(9, 2)


def lengths(least: int, most: int) -> st.SearchStrategy[Fraction]:
    """Eighths of an inch, thirds, or millimeters."""
    return st.one_of(
        st.integers(8 * least, 8 * most).map(lambda eighths: Fraction(eighths, 8)),
        st.integers(3 * least, 3 * most).map(lambda thirds: Fraction(thirds, 3)),
        st.integers(26 * least, 25 * most).map(lambda mm: Fraction(mm * 5, 127)),
    )


@st.composite
def single(draw: st.DrawFn, key: str) -> Rectangle | Run | Block:
    kind = draw(st.sampled_from(["rectangle", "rectangle", "run", "block"]))
    if kind == "block":
        return Block(key=key, length=draw(lengths(2, 50)), width=draw(lengths(2, 40)))
    if kind == "run":
        return Run(
            key=key,
            width=draw(lengths(1, 8)),
            length=draw(lengths(1, 400)),
            loss=draw(lengths(1, 8)) - 1,
            least=draw(lengths(1, 41)) - 1,
            lies=draw(LIES),
        )
    return Rectangle(
        key=key,
        length=draw(lengths(1, 60)),
        width=draw(lengths(1, 40)),
        count=draw(st.sampled_from([1, 2, 3, 7, 40, 400])),
        lies=draw(LIES),
    )


@st.composite
def demands(draw: st.DrawFn) -> list[Demand]:
    made: list[Demand] = [draw(single(f"d{index}")) for index in range(draw(st.integers(1, 5)))]
    for index in range(draw(st.integers(0, 2))):
        count = draw(st.integers(1, 3))
        ways = tuple(
            tuple(draw(single(f"c{index}.{way}.{one}")) for one in range(draw(st.integers(1, 2))))
            for way in range(count)
        )
        made.append(Choice(key=f"c{index}", ways=ways))
    return made


@st.composite
def supplies(draw: st.DrawFn) -> list[Supply]:
    made = [
        Supply(
            key=f"held {index}",
            width=draw(lengths(3, 60)),
            length=draw(lengths(2, 40)),
            count=draw(st.integers(1, 4)),
            squaring=draw(st.sampled_from([Fraction(0), Fraction(1, 2), Fraction(1)])),
        )
        for index in range(draw(st.integers(0, 3)))
    ]
    if draw(st.booleans()) or not made:
        made.insert(
            draw(st.integers(0, len(made))),
            Supply(key="bolt", width=draw(lengths(30, 60)), length=None, count=1, squaring=Fraction(1)),
        )
    return made


def bought(used: Fraction) -> int:
    return -(-(used + 2) // STEP) if used else 0


@pytest.mark.long
@settings(max_examples=25, deadline=None)
@given(demands(), supplies(), st.sampled_from(list(Preference)))
def test_a_plan_keeps_every_rule(made: list[Demand], held: list[Supply], preference: Preference) -> None:
    try:
        plan = plan_cutting(made, held, preference=preference)
    except Refusal as refusal:
        assert all(problem.fix for problem in refusal.problems)
        return
    assert plan_faults(plan, made, held) == ()
    if len(held) == 1 and held[0].length is None:
        forget_plans()
        assert plan == plan_cutting(made, held, preference=preference)
        apart = plan  # without joined bands
        if plan.used != plan.plain:
            apart = plan_cutting(made, held, preference=preference, adds_rows=False)
        if preference is Preference.SIMPLE_UNLESS_IT_PAYS:
            assert apart.used == apart.plain or bought(apart.used) <= bought(apart.plain) - 2
        assert bought(plan.used) <= bought(apart.used) <= bought(plan.plain)
        assert lower_bound(made, held[0]) <= plan.used


@pytest.mark.long
@settings(max_examples=25, deadline=None)
@given(demands(), lengths(30, 60))
def test_no_plan_is_shorter_than_the_bound(made: list[Demand], width: Fraction) -> None:
    """As fine as it can be cut, so that the plan comes near."""
    bolt = Supply(key="bolt", width=width, length=None, count=1, squaring=Fraction(0))
    try:
        plan = plan_cutting(
            made, [bolt], preference=Preference.LEAST_FABRIC, step=Fraction(1, 16), worth=Fraction(1, 16)
        )
    except Refusal:
        return
    if not plan.missing:
        assert lower_bound(made, bolt) <= plan.used


@pytest.mark.long
@settings(max_examples=10, deadline=None)
@given(demands(), st.integers(2, 3))
def test_twice_the_size_takes_twice_the_length(made: list[Demand], factor: int) -> None:
    """Nothing hangs on the size of an inch, as long as the step and the grid of lengths grow with it."""

    def larger(one: Demand) -> Demand:
        match one:
            case Choice():
                ways = tuple(tuple(grown(part) for part in way) for way in one.ways)
                return Choice(key=one.key, ways=ways)
            case _:
                return grown(one)

    def grown(one: Rectangle | Run | Block) -> Rectangle | Run | Block:
        length, width = one.length * factor, one.width * factor
        match one:
            case Rectangle():
                return Rectangle(key=one.key, length=length, width=width, count=one.count, lies=one.lies)
            case Run():
                loss, least = one.loss * factor, one.least * factor
                return Run(key=one.key, length=length, width=width, loss=loss, least=least, lies=one.lies)
            case Block():
                return Block(key=one.key, length=length, width=width)

    def used(made: list[Demand], factor: int) -> Fraction:
        bolt = Supply(key="bolt", width=Fraction(60 * factor), length=None, count=1, squaring=Fraction(0))
        return plan_cutting(
            made,
            [bolt],
            preference=Preference.LEAST_FABRIC,
            worth=Fraction(9 * factor),
            step=STEP * factor,
            grid=Fraction(factor, 16),
        ).used

    try:
        small = used(made, 1)
    except Refusal:
        return
    assert used([larger(one) for one in made], factor) == small * factor
