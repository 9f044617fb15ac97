"""Around the edge and behind: bias from a square, panels of a backing, leftovers sewn into rows."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from applique.cloth import UseKind, plan_cloth
from applique.design import Backing, Batting, Binding, BindingGrain, Design, Fabric, design_from_mapping
from applique.errors import Refusal
from applique.fabrics import resolve_fabrics
from applique.leftovers import Leftover, back_from, mixed_ways
from applique.pattern import Pattern, draft
from applique.quilt.edge import straight_edge
from applique.quilt.finishing import (
    BackingPlan,
    BackingWay,
    BattingSize,
    BindingPlan,
    bias_length,
    plan_backing,
    plan_batting,
    plan_binding,
    plan_sleeve,
)
from applique.quilt.strips import CutKind, CutPieces
from applique.quilt.whole import plan_quilt
from applique.units import Units
from applique.words.buying import leftovers_said
from applique.words.cloth import backing_how
from applique.words.instructions.finishing import why_strips_said
from tests.there import there

SEAM = Fraction(1, 2)


def test_bias_comes_from_the_smallest_square_that_yields_it_and_is_no_wider_than_its_fabric() -> None:
    """120 in around and 10 more make 130: 5 rounds of √2 · 18 1/2 from a square of 19 in are 130.8.

    Of 18 in there are 4 rounds, 99 in (thebuttonship 2014), so fabric of 18 in is refused.
    """
    binding = Binding(grain=BindingGrain.BIAS)

    def planned(usable_width: int) -> BindingPlan:
        fabric = Fabric(name="Ink", color="#203040", usable_width=Fraction(usable_width))
        edge = straight_edge((Fraction(20), Fraction(40)))
        return plan_binding(binding, edge, fabric, seam_allowance=SEAM / 2, units=Units.INCHES)

    plan = planned(19)
    assert (plan.needed, plan.cut.kind) == (Fraction(130), CutKind.BIAS_SQUARE)
    assert plan.cut.pieces == (CutPieces(length=Fraction(19), count=1, upright=True),)
    yields = bias_length(plan.cut.strip_width, plan.width, seam_allowance=SEAM / 2)
    assert yields == pytest.approx(5 * math.sqrt(2) * 18.5)
    with pytest.raises(Refusal, match="bias"):
        planned(18)


def test_bias_has_no_strips_to_account_for() -> None:
    """It is cut from one square, whatever the quick rule says of strips."""
    pattern = draft(
        design_from_mapping(
            {
                "row": [{"text": "A", "cap_height": "4in"}],
                "panel": {"width": "40in", "height": "20in"},
                "binding": {"grain": "bias"},
            }
        )
    )
    binding, use = there(pattern.quilt.binding), pattern.shopping.use(UseKind.BINDING)
    assert use is not None
    assert binding.quick_strips == 4
    (square,) = use.strips
    assert (square.length, square.width) == (Fraction(19), Fraction(19))
    assert square.count == 1
    assert why_strips_said(binding, use, Units.INCHES) is None


def _cloth(usable_width: int) -> Fabric:
    return Fabric(name="Fog", color="#e0e0d8", usable_width=Fraction(usable_width))


def test_a_square_back_has_upright_panels() -> None:
    """Both ways take the same cloth; upright panels hang straight. Of 40 and of 31 in, sewn to 70 with a seam."""
    plan = plan_backing(
        Backing(), (Fraction(62), Fraction(62)), _cloth(40), seam_allowance=SEAM / 2, units=Units.INCHES
    )
    assert [way.upright for way in plan.ways] == [True, False]
    for way in plan.ways:
        assert (way.along, way.widths, way.length) == (
            Fraction(70),
            (Fraction(40), 70 + SEAM - 40),
            Fraction(140),
        )
    quilt = {"row": [{"text": "A", "cap_height": "4in"}], "panel": {"width": "62in", "height": "62in"}}
    backing = {"kind": "cloth", "fabric": "Fog"}
    fabric = [
        {"name": "Ink", "color": "#203040"},
        {"name": "Fog", "color": "#e0e0d8", "usable_width": "40in"},
    ]
    use = draft(design_from_mapping({**quilt, "backing": backing, "fabric": fabric})).shopping.use(
        UseKind.BACKING
    )
    assert use is not None
    assert use.way == plan.ways[0]
    said = "2 lengths of 70 in, lengthwise, 1 seam (crosswise would take 140 in)"
    assert str(backing_how(plan, use, Units.INCHES)) == said


@pytest.mark.parametrize(
    ("width", "height", "upright", "length"),
    [(60, 70, False, 2 * 68), (70, 60, True, 2 * 68), (31, 90, True, 98), (72, 90, False, 3 * 80)],
)
def test_panels_lie_the_way_that_takes_less_cloth(
    width: int, height: int, upright: bool, length: int
) -> None:
    """8 in larger than the quilt, from 40 in: the seam of two panels is what makes 80 in take three."""
    finished = (Fraction(width), Fraction(height))
    plan = plan_backing(Backing(), finished, _cloth(40), seam_allowance=SEAM / 2, units=Units.INCHES)
    liked, other = plan.ways
    assert (liked.upright, liked.length) == (upright, Fraction(length))
    assert other.length > length
    for way in plan.ways:
        across, along = (width + 8, height + 8) if way.upright else (height + 8, width + 8)
        assert way.along == along
        assert sum(way.widths) - (len(way.widths) - 1) * SEAM == across
        assert max(way.widths) <= 40


def test_nobody_joins_nine_panels() -> None:
    """Eight widths of 10 in, seven seams off, are 76 1/2 in."""
    for side, joined in ((76, True), (77, False)):
        backing, size = Backing(overage=Fraction(0)), (Fraction(side), Fraction(side))
        if joined:
            plan = plan_backing(backing, size, _cloth(10), seam_allowance=SEAM / 2, units=Units.INCHES)
            assert len(plan.ways[0].widths) == 8
        else:
            with pytest.raises(Refusal, match="9 panels"):
                plan_backing(backing, size, _cloth(10), seam_allowance=SEAM / 2, units=Units.INCHES)


def test_leftovers_sewn_into_rows_are_as_long_and_as_high_as_they_are_said_to_be() -> None:
    """Whatever the overage: each row with its seams taken off reaches across, and none has a piece too many.

    A simulated sewer joins the pieces of a row along their long sides, and the rows below one another. What is left
    does not depend on the overage, as the plans at every 33rd of them say.
    """
    found = set()
    for panel, eighths in (*(((24, 22), n) for n in range(264)), *(((22, 26), n) for n in range(8))):
        design, pattern = _from_leftovers(*panel)
        larger = replace(design, backing=replace(design.backing, overage=Fraction(eighths, 8)))
        quilt = plan_quilt(larger, pattern.panel, resolve_fabrics(larger))
        back = back_from(quilt.backing, _left_of(*panel), SEAM)
        if eighths % 33 == 0:
            assert plan_cloth(larger, quilt, pattern.cloth).leftover_backing == back
        width, height = quilt.backing.width, quilt.backing.height
        words, lying = str(leftovers_said(back, Units.INCHES)), back.lies
        across, down = (width, height) if lying else (height, width)
        assert f" {len(back.rows)} row" in words if back.enough else f" of {_said(down)};" in words
        assert ("lying" in words, "upright" in words) == (back.enough and lying, back.enough and not lying)
        for row in back.rows:
            long = [max(piece.length, piece.width) for piece in row]
            assert sum(long) - (len(row) - 1) * SEAM >= across
            assert sum(long[:-1]) - (len(row) - 2) * SEAM < across
        deep = [min(min(piece.length, piece.width) for piece in row) for row in back.rows]
        high = sum(deep) - (len(deep) - 1) * SEAM if deep else Fraction(0)
        assert back.enough == (high >= down)
        assert back.enough or f"reach {_said(high)} of" in words
        found.add((back.enough, lying, max((len(row) for row in back.rows), default=0)))
    assert {(True, True, 1), (True, False, 1), (False, True, 3), (False, False, 2)} <= found


@cache
def _from_leftovers(width: int, height: int) -> tuple[Design, Pattern]:
    design = design_from_mapping(
        {
            "row": [{"text": "A", "cap_height": "4in"}],
            "panel": {"width": f"{width}in", "height": f"{height}in", "fabric": "Fog", "margin": "1in"},
            "fabric": [
                {"name": "Ink", "color": "#203040"},
                {"name": "Fog", "color": "#e0e0d8", "usable_width": "58in"},
            ],
            "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
            "yardage": {"squaring": "1/4in"},
            "backing": {"kind": "leftovers", "overage": "0in"},
        }
    )
    return design, draft(design)


@cache
def _left_of(width: int, height: int) -> tuple[Leftover, ...]:
    """What is left of every fabric of that quilt, nothing cut for the back."""
    design, pattern = _from_leftovers(width, height)
    plan = plan_cloth(design, pattern.quilt, pattern.cloth)
    assert plan.leftover_backing is not None
    assert plan.leftover_backing.enough
    return tuple(piece for fabric in plan.fabrics for piece in fabric.leftovers)


def _said(length: Fraction) -> str:
    """Eighths of an inch as a maker writes them."""
    whole, part = divmod(Fraction(round(length * 8), 8), 1)
    return " ".join(str(one) for one in (whole, part) if one) + " in" if length else "0 in"


def test_a_sleeve_ends_inside_both_sides_once_its_ends_are_hemmed() -> None:
    """60 in less 1 in at either side are 58, and 59 with two hems of 1/2 in. In centimeters: 152.4 less twice 2.5 are
    147.4, and 149.8 with two hems of 1.2; 8 1/2 in are 21.59, cut up to 21.6."""
    inch, metric = (plan_sleeve((Fraction(60), Fraction(40)), units) for units in Units)
    assert [inch.cut_length, inch.length, inch.cut_depth] == [59, 58, Fraction(17, 2)]
    centimeters = [side * Fraction(254, 100) for side in (metric.cut_length, metric.length, metric.cut_depth)]
    assert centimeters == [Fraction(1498, 10), Fraction(1474, 10), Fraction(216, 10)]


@pytest.mark.parametrize(
    ("width", "height", "overage", "name"),
    [
        ("41", "56", 2, BattingSize.CRIB),
        ("56", "41", 2, BattingSize.CRIB),
        ("83/2", "56", 2, BattingSize.THROW),
        ("41", "56", 3, BattingSize.TWIN),
        ("116", "116", 2, BattingSize.KING),
        ("116", "116", 3, BattingSize.BY_THE_LENGTH),
    ],
)
def test_batting_is_larger_than_the_quilt_on_every_side(
    width: str, height: str, overage: int, name: BattingSize
) -> None:
    """45 by 60 in is 41 by 56 with 2 in on each of four sides; 41 by 56 with 3 in is 47 by 62, longer than a throw."""
    plan = plan_batting(Batting(overage=Fraction(overage)), (Fraction(width), Fraction(height)))
    assert plan.name is name
    assert (plan.width, plan.height) == (Fraction(width) + 2 * overage, Fraction(height) + 2 * overage)


@pytest.mark.parametrize(("along", "taken"), [(79, 1), (80, 0), (81, 0)])
def test_a_length_is_replaced_by_leftovers_only_where_that_takes_less_cloth(along: int, taken: int) -> None:
    """One length of 80 in does for the whole back; two of `along` with one of them left out take `along`."""
    whole, pieced = (
        BackingWay(upright=upright, along=Fraction(length), widths=(Fraction(40), *last))
        for upright, length, last in ((True, 80, ()), (False, along, (Fraction(20),)))
    )
    plan = BackingPlan(
        width=Fraction(40), height=Fraction(80), usable_width=Fraction(42), ways=(whole, pieced)
    )
    found = mixed_ways(plan)
    assert len(found) == taken
    assert all(not way.upright and way.length == along and way.widened == 20 for way in found)
