"""Rows of equal pieces: spread evenly where one would take the whole width, else left as they are."""

from __future__ import annotations

from fractions import Fraction

import pytest

from applique.cutting import (
    Block,
    CuttingPlan,
    Demand,
    Lie,
    Preference,
    Rectangle,
    Supply,
    plan_cutting,
    plan_faults,
)
from tests.cutter import Cloth, cut_plan

F = Fraction


def _squares(key: str, side: str, count: int) -> Rectangle:
    return Rectangle(key=key, length=F(side), width=F(side), count=count, lies=(Lie.ACROSS,))


def _plan(
    width: int,
    *demands: Demand,
    preference: Preference = Preference.SIMPLE_UNLESS_IT_PAYS,
    step: Fraction | int = 1,
    adds_rows: bool = False,
) -> CuttingPlan:
    """A plan that the maker of the tests has cut from what a shop sells, and found nothing short."""
    bolt = Supply(key="bolt", width=F(width), length=None, count=1, squaring=F(0))
    plan = plan_cutting(demands, [bolt], preference=preference, step=F(step), adds_rows=adds_rows)
    assert plan_faults(plan, demands, [bolt]) == ()
    cut_plan(plan, demands, [bolt], bought=Cloth(name="bolt", length=plan.used, width=F(width)))
    return plan


def _rows(plan: CuttingPlan) -> list[tuple[int, Fraction]]:
    """How many pieces each row has, and what is to spare beside them."""
    found: dict[Fraction, list[Fraction]] = {}
    (cloth,) = plan.cloths
    for region, _ in cloth.root.pieces():
        found.setdefault(region.x, []).append(region.width)
    return [(len(widths), cloth.root.width - sum(widths)) for widths in found.values()]


@pytest.mark.parametrize(
    ("count", "rows"),
    [
        (22, [(11, F(7, 2)), (11, F(7, 2))]),  # twelve and ten, as long as one was filled before the next
        (21, [(11, F(7, 2)), (10, F(7))]),
        (13, [(7, F(35, 2)), (6, F(21))]),
        (24, [(12, F(0)), (12, F(0))]),  # there is no room for spare
        (23, [(12, F(0)), (11, F(7, 2))]),
        (12, [(12, F(0))]),  # a row more would buy more
    ],
)
def test_equal_rows_of_squares_have_spare_where_no_row_more_is_needed(
    count: int, rows: list[tuple[int, Fraction]]
) -> None:
    """3 1/2 in squares from 42 in: twelve take all of it."""
    plan = _plan(42, _squares("squares", "7/2", count))
    assert _rows(plan) == rows
    assert plan.used == len(rows) * F(7, 2)


def test_a_row_more_is_cut_where_the_length_that_is_bought_has_room_for_it() -> None:
    """23 squares of 3 1/2 in from 42 in: three rows of 10 1/2 in are bought as 13 1/2 in, as two of 7 in are not."""
    squares = _squares("squares", "7/2", 23)
    three = _plan(42, squares, step=F(27, 2), adds_rows=True)
    assert _rows(three) == [(8, F(14)), (8, F(14)), (7, F(35, 2))]
    assert three.used == F(21, 2)
    assert _rows(_plan(42, squares, step=F(9), adds_rows=True)) == [(12, F(0)), (11, F(7, 2))]


def test_a_row_more_comes_out_of_the_end_of_what_is_held() -> None:
    """Of 12 in, two rows leave 5 in, three 1 1/2 in; of 10 in there is none for a third."""
    squares = _squares("squares", "7/2", 23)
    for length, rows in ((12, 3), (10, 2)):
        held = Supply(key="held", width=F(42), length=F(length), count=1, squaring=F(0))
        plan = plan_cutting([squares], [held])
        assert plan_faults(plan, [squares], [held]) == ()
        assert len(_rows(plan)) == rows
        (cloth,) = plan.cloths
        assert max(left.length for left in cloth.root.leftovers()) == max(length - rows * F(7, 2), F(7, 2))


def test_of_plans_as_dear_as_each_other_the_one_with_spare_is_cut() -> None:
    """Beside the 20 in square there is room for some of the small ones, and the width is gone; two rows of their own
    take no more of the 31 1/2 in that are bought, and leave 5 in of the width."""
    pieces = (_squares("large", "20", 1), _squares("small", "5/2", 28), _squares("corner", "3/2", 4))
    plan = _plan(40, *pieces, preference=Preference.FEWEST_KINDS_OF_CUTS, step=F(63, 2), adds_rows=True)
    assert sorted(_rows(plan)) == [(1, F(20)), (4, F(34)), (14, F(5)), (14, F(5))]
    assert plan.used == F(53, 2)


def test_rows_with_spare_stay_as_they_are() -> None:
    """Eleven of 3 1/2 in leave 1 1/2 in of 40: the second row keeps its long rest."""
    assert _rows(_plan(40, _squares("squares", "7/2", 16))) == [(11, F(3, 2)), (5, F(45, 2))]


def test_rows_of_several_kinds_are_left_alone() -> None:
    """Two kinds of squares of one size: a row of both has no room for more of the first."""
    plan = _plan(42, _squares("a", "7/2", 22), _squares("b", "7/2", 2), preference=Preference.LEAST_FABRIC)
    assert sorted(_rows(plan)) == [(12, F(0)), (12, F(0))]


def _letters(length: str, width: str) -> Block:
    return Block(key="letters", length=F(length), width=F(width))


@pytest.mark.parametrize(
    ("letters", "rows"),
    [
        # 42 - 37 3/8 is 4 5/8 in: a square of 3 1/2 in and 1 1/8 in to spare.
        ("299/8", [(2, F(9, 8)), (11, F(7, 2)), (11, F(7, 2))]),
        # A square beside 38 1/4 in would leave 1/4 in: less than the spare that is asked for.
        ("153/4", [(1, F(15, 4)), (12, F(0)), (11, F(7, 2))]),
    ],
)
def test_one_square_too_many_is_cut_beside_something_else(
    letters: str, rows: list[tuple[int, Fraction]]
) -> None:
    """23 squares of 3 1/2 in: twelve took all of 42 in, with room for one beside the letters."""
    demands = (_letters("31/2", letters), _squares("squares", "7/2", 23))
    bolt = Supply(key="bolt", width=F(42), length=None, count=1, squaring=F(0))
    plan = plan_cutting(demands, [bolt], step=F(23), spare=F(1, 2))
    assert plan_faults(plan, demands, [bolt]) == ()
    cut_plan(plan, demands, [bolt], bought=Cloth(name="bolt", length=plan.used, width=F(42)))
    assert _rows(plan) == rows
    assert plan.used == F(45, 2)


def test_several_squares_too_many_are_cut_one_after_the_other_from_one_strip() -> None:
    """Three rows of twelve: one of each goes beside letters 15 1/2 in long, four would not."""
    for count, least in ((36, F(7, 2)), (60, F(0))):
        demands = (_letters("31/2", "299/8"), _squares("squares", "7/2", count))
        bolt = Supply(key="bolt", width=F(42), length=None, count=1, squaring=F(0))
        used = F(31, 2) + count // 12 * F(7, 2)
        plan = plan_cutting(demands, [bolt], step=used + F(1, 2), spare=F(1, 2))
        assert plan_faults(plan, demands, [bolt]) == ()
        cut_plan(plan, demands, [bolt], bought=Cloth(name="bolt", length=plan.used, width=F(42)))
        assert plan.used == used
        assert min(spare for many, spare in _rows(plan) if many > 6) == least


def test_bands_of_equal_depth_are_one_where_both_fit() -> None:
    """Five of 4 by 2 in and six of 3 by 2 in, 38 in of 42 together: one band and 4 in to spare, instead of two. Where
    cloth 4 1/2 in long is held, what is left at its end is 2 in longer."""
    large = Rectangle(key="large", length=F(2), width=F(4), count=5, lies=(Lie.ALONG,))
    small = Rectangle(key="small", length=F(2), width=F(3), count=6, lies=(Lie.ALONG,))
    plan = _plan(42, large, small, adds_rows=True)
    assert _rows(plan) == [(11, F(4))]
    assert plan.used == 2
    assert _plan(42, large, small).used == 4  # where the back hangs on what is left over
    held = Supply(key="held", width=F(42), length=F(9, 2), count=1, squaring=F(0))
    plan = plan_cutting([large, small], [held])
    assert plan_faults(plan, [large, small], [held]) == ()
    (cloth,) = plan.cloths
    assert cloth.root.length == F(9, 2)
    left = sorted((one.length, one.width) for one in cloth.root.leftovers())
    assert left == [(F(2), F(4)), (F(5, 2), F(42))]


@pytest.mark.parametrize(
    ("width", "depth", "rows"),
    [
        (38, "2", [(5, F(18)), (6, F(20))]),  # both would take all of the width
        (42, "5/2", [(5, F(22)), (6, F(24))]),  # not equally deep
    ],
)
def test_bands_stay_apart_without_spare_or_of_another_depth(
    width: int, depth: str, rows: list[tuple[int, Fraction]]
) -> None:
    large = Rectangle(key="large", length=F(2), width=F(4), count=5, lies=(Lie.ALONG,))
    small = Rectangle(key="small", length=F(depth), width=F(3), count=6, lies=(Lie.ALONG,))
    assert _rows(_plan(width, large, small, adds_rows=True)) == rows
