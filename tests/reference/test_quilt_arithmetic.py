"""Quilt arithmetic against what is published, each value with its source, and one quilt of common practice."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from applique.design import Backing, Batting, Binding, Fabric, design_from_mapping
from applique.fabrics import resolve_fabrics
from applique.panel import place_rows
from applique.quilt.borders import BorderPlan, plan_borders
from applique.quilt.finishing import bias_length, plan_backing, plan_batting, plan_binding
from applique.quilt.panel_cut import cut_panel
from applique.quilt.sizes import bed_cover, quilt_class
from applique.quilt.strips import Join, squares_from, strips_needed
from applique.units import Units, parse_length

QUARTER = Fraction(1, 4)
F = Fraction

# quilterscache.com, 2002: squares from one yard at 44 in. Its 7 in entry (35 for 30) is a misprint and left out.
SQUARES_A_YARD = {
    "2in": 396, "2 1/2in": 238, "3in": 168, "3 1/2in": 120, "4in": 99, "4 1/2in": 72, "5in": 56, "5 1/2in": 48,
    "6in": 42, "6 1/2in": 30, "8 1/2in": 20, "9in": 16, "10in": 12, "12in": 9,
}  # fmt: skip
# The same source: squares from a fat quarter of 18 by 22 in.
SQUARES_A_FAT_QUARTER = {
    "2in": 99, "2 1/2in": 56, "3in": 42, "3 1/2in": 30, "4in": 20, "4 1/2in": 16, "5in": 12, "6in": 9,
}  # fmt: skip


@pytest.mark.parametrize(("square", "count"), SQUARES_A_YARD.items())
def test_squares_from_a_yard(square: str, count: int) -> None:
    assert squares_from(F(36), F(44), parse_length(square)) == count


@pytest.mark.parametrize(("square", "count"), SQUARES_A_FAT_QUARTER.items())
def test_squares_from_a_fat_quarter(square: str, count: int) -> None:
    assert squares_from(F(18), F(22), parse_length(square)) == count


# scissortailquilting.com; catbirdquilts 2014.
YARD_FRACTIONS = {
    "1/8yd": "4.5in", "1/4yd": "9in", "1/3yd": "12in", "3/8yd": "13.5in", "1/2yd": "18in", "5/8yd": "22.5in",
    "2/3yd": "24in", "3/4yd": "27in", "7/8yd": "31.5in",
}  # fmt: skip


@pytest.mark.parametrize(("yards", "inches"), YARD_FRACTIONS.items())
def test_yard_fractions(yards: str, inches: str) -> None:
    assert parse_length(yards) == parse_length(inches)


def test_three_hundred_rectangles() -> None:
    """bobbininquilts.com: 300 rectangles 3 × 2, WOF 40: 13 a row, 24 rows, 48 in, 1⅓ yd."""
    a_row = F(40) // 3
    rows = -(-300 // a_row)
    assert (a_row, rows, rows * 2, F(rows * 2, 36)) == (13, 24, 48, F(4, 3))


def test_a_quarter_inch_seam() -> None:
    """harriger.com: 3 in finished is cut 3½."""
    (plan,) = _borders([{"kind": "squares", "size": "3in", "fabrics": ["a", "b"]}], (F(30), F(30)))
    assert {cut.strip_width for cut in plan.cuts} == {F(7, 2)}


def _borders(
    borders: list[dict[str, Any]], panel: tuple[Fraction, Fraction], usable: str = "42in"
) -> tuple[BorderPlan, ...]:
    names = sorted(
        {name for border in borders for name in [*border["fabrics"], border.get("corner_fabric", "a")]}
    )
    fabrics = [{"name": name, "colour": "#888888", "usable_width": usable} for name in names]
    design = design_from_mapping({"line": [{"text": "A"}], "border": borders, "fabric": fabrics})
    return plan_borders(
        design.border, panel, resolve_fabrics(design).by_name, seam_allowance=QUARTER, units=Units.INCHES
    )


def _binding(finished: tuple[int, int], *, usable: int, allowance: int) -> Any:
    fabric = Fabric(name="b", colour="#888888", usable_width=F(usable))
    return plan_binding(
        Binding(allowance=F(allowance)),
        (F(finished[0]), F(finished[1])),
        fabric,
        seam_allowance=QUARTER,
        units=Units.INCHES,
    )


def test_binding_both_answers() -> None:
    """Missouri Star blog: 66 × 58, 248 + 20 = 268, ÷ 40 is 7 strips. With diagonal joins 7 give 265; 8 are needed."""
    plan = _binding((66, 58), usable=40, allowance=20)
    assert plan.run == 268
    assert plan.simple_strips == 7
    assert plan.cut.strips == 8
    assert 7 * 40 - 6 * F(5, 2) == 265
    assert "8 strips are needed" in plan.why


@pytest.mark.parametrize(("square", "width", "length"), [("10.5in", 1, 98.99), ("20in", 2, 165.46)])
def test_bias_binding_from_one_square(square: str, width: int, length: float) -> None:
    """Re-derived from thebuttonship 2014: n = ⌊(s−½)/(w√2)⌋, L = n√2(s−½)."""
    assert bias_length(parse_length(square), F(width), seam_allowance=QUARTER) == pytest.approx(
        length, abs=0.005
    )


@pytest.mark.parametrize(
    ("width", "sides", "ends", "size"),
    [("1in", "44in", "34.5in", ("34.5in", "46in")), ("2in", "44in", "36.5in", ("36.5in", "48in"))],
)
def test_butted_borders(width: str, sides: str, ends: str, size: tuple[str, str]) -> None:
    """oldmvc.villageserver.com: a top cut 32½ × 44 with a 1 in border: sides 1½ × 44, then 1½ × 34½, top 34½ × 46."""
    (plan,) = _borders([{"kind": "strip", "width": width, "fabrics": ["a"]}], (F(32), F(87, 2)))
    first, second = plan.steps
    assert {strip.side for strip in first.strips} == {"left", "right"}
    assert first.strips[0].cut_length == parse_length(sides)
    assert second.strips[0].cut_length == parse_length(ends)
    assert second.cut == tuple(map(parse_length, size))


def test_two_butted_borders_of_one_inch_and_two() -> None:
    """The same source carries on: 34½ × 46, then a 2 in border: 38½ × 50."""
    borders = [{"kind": "strip", "width": width, "fabrics": ["a"]} for width in ("1in", "2in")]
    assert _borders(borders, (F(32), F(87, 2)))[-1].steps[-1].cut == (F(77, 2), F(50))


def test_a_mitred_strip_is_longer_by_two_borders_and_a_little() -> None:
    """quiltingboard (one forum): side + 2 × border + 1 in."""
    (plan,) = _borders(
        [{"kind": "strip", "width": "3in", "fabrics": ["a"], "corners": "mitred"}], (F(30), F(40))
    )
    (step,) = plan.steps
    assert {strip.side: strip.cut_length for strip in step.strips} == {
        "left": 47,
        "right": 47,
        "top": 37,
        "bottom": 37,
    }


def _backing(width: int, height: int, usable: int, overage: int) -> Any:
    return plan_backing(
        Backing(overage=F(overage)),
        (F(width), F(height)),
        F(usable),
        seam_allowance=QUARTER,
        units=Units.INCHES,
    )


def test_backing_panels() -> None:
    """bellaonline.com: 72 × 90 at usable 42: 2 lengths of 94 are 188 in, 5¼ yd."""
    plan = _backing(72, 90, 42, 2)
    assert (plan.panels, plan.panel_length, plan.upright) == (2, 94, True)
    assert plan.length == 188
    assert -(-plan.length // F(9, 2)) * F(9, 2) == parse_length("5 1/4yd")


def test_backing_at_the_seam_boundary() -> None:
    """Computed: a 68 × 80 backing at 40 usable: 2 × 80 upright; lying needs 3 × 68, because 2 panels give only 79½."""
    plan = _backing(68, 80, 40, 0)
    assert (plan.panels, plan.length, plan.upright) == (2, 160, True)
    assert "204 in" in plan.how
    assert -(-plan.length // F(9, 2)) * F(9, 2) == parse_length("4 1/2yd")


# honeybegood.com 2012: batting as sold; the throw is common practice.
@pytest.mark.parametrize(
    ("size", "name"),
    [((45, 60), "crib"), ((46, 60), "throw"), ((60, 61), "twin"), ((72, 90), "twin"), ((73, 90), "full"),
     ((81, 97), "queen"), ((90, 108), "queen"), ((108, 90), "queen"), ((109, 90), "king"),
     ((121, 90), "by the length")],
)  # fmt: skip
def test_batting_sizes(size: tuple[int, int], name: str) -> None:
    assert plan_batting(Batting(overage=F(0)), (F(size[0]), F(size[1]))).name == name


# thequiltermag.com: quilt classes; no standard exists.
@pytest.mark.parametrize(
    ("size", "name"),
    [((36, 54), "baby"), ((54, 72), "lap"), ((68, 86), "twin"), ((86, 86), "double"), ((96, 98), "queen"),
     ((95, 105), "king"), ((20, 24), "wall quilt")],
)  # fmt: skip
def test_quilt_classes(size: tuple[int, int], name: str) -> None:
    assert quilt_class(F(size[0]), F(size[1])).name == name


# honeybegood.com: US mattresses.
@pytest.mark.parametrize(
    ("size", "bed", "over"),
    [
        ((39, 75), "twin", "0in"),
        ((68, 86), "queen", "4in"),
        ((58, 79), "full", "2in"),
        ((96, 98), "king", "10in"),
        ((60, 80), "queen", "0in"),
    ],
)
def test_mattresses_under_quilts(size: tuple[int, int], bed: str, over: str) -> None:
    found = bed_cover(F(size[0]), F(size[1]))
    assert found is not None
    assert (found.name, found.over_each_side) == (bed, parse_length(over))


def test_no_quilt_is_said_to_cover_a_crib() -> None:
    """A loose quilt does not belong in an infant's cot: common practice, no source."""
    assert bed_cover(F(36), F(54)) is None


# One quilt of common practice, no source: a 36 × 56 in panel and three borders around it.


def test_panel_of_common_practice() -> None:
    design = design_from_mapping(
        {
            "line": [{"text": "ROW"}],
            "panel": {"width": "36in", "height": "56in", "fabric": "a"},
            "fabric": [{"name": "a", "colour": "#888888", "usable_width": "42in"}],
        }
    )
    cut = cut_panel(place_rows(design), Units.INCHES)
    assert (place_rows(design).cut_width, place_rows(design).cut_height) == (F(73, 2), F(113, 2))
    assert cut.fold is not None
    assert (cut.fold.half_width, cut.fold.half_length) == (F(73, 4), F(113, 4))
    assert cut.length <= parse_length("2yd")


BORDERS = [
    {"kind": "squares", "size": "4in", "fabrics": list("abcde"), "first": "top and bottom"},
    {"kind": "strip", "width": "2in", "fabrics": ["f"], "first": "sides"},
    {"kind": "strip", "width": "4in", "fabrics": ["g"], "first": "sides", "joins": "straight"},
]


def test_squares_of_common_practice() -> None:
    squares = _borders(BORDERS, (F(36), F(56)))[0]
    assert [len(strip.pieces) for step in squares.steps for strip in step.strips] == [9, 9, 16, 16]
    assert [cut.count for cut in squares.cuts] == [10] * 5
    assert {cut.strip_width for cut in squares.cuts} == {F(9, 2)}
    assert all(cut.length <= parse_length("1/4yd") for cut in squares.cuts)
    assert squares.finished == (44, 64)


def test_strips_of_common_practice() -> None:
    _, inner, outer = _borders(BORDERS, (F(36), F(56)))
    assert inner.cuts[0].strips == 6
    assert inner.cuts[0].strip_width == F(5, 2)
    assert inner.cuts[0].length <= parse_length("1/2yd")
    assert {strip.side for strip in inner.steps[0].strips} == {"left", "right"}
    assert outer.cuts[0].strips == 7
    assert _borders(BORDERS, (F(36), F(56)), usable="43in")[2].cuts[0].strips == 6
    assert outer.cuts[0].length <= 36
    assert outer.finished == (56, 76)


def test_binding_of_common_practice() -> None:
    plan = _binding((56, 76), usable=42, allowance=10)
    assert plan.cut.strips == 7
    assert plan.cut.length <= parse_length("1/2yd")


def test_strips_reach_what_they_are_asked_to() -> None:
    for run in range(1, 700, 13):
        for join in Join:
            count = strips_needed(
                F(run), usable_width=F(40), strip_width=F(5, 2), join=join, seam_allowance=QUARTER
            )
            loss = F(5, 2) if join is Join.DIAGONAL else F(1, 2)
            assert count * 40 - (count - 1) * loss >= run
            assert count == 1 or (count - 1) * 40 - (count - 2) * loss < run
