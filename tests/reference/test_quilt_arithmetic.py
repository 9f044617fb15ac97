"""Quilt arithmetic against what is published, each value with its source, and closed forms at sizes of our own."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from applique.design import Backing, Batting, Binding, Fabric, design_from_mapping
from applique.fabrics import resolve_fabrics
from applique.panel import PanelPlan, place_rows
from applique.quilt.borders import BorderPlan, plan_borders
from applique.quilt.edge import straight_edge
from applique.quilt.finishing import bias_length, plan_backing, plan_batting, plan_binding
from applique.quilt.panel_cut import cut_panel
from applique.quilt.sizes import Against, bed_cover, quilt_class
from applique.quilt.strips import Join, Run, pieces_across, squares_from, strips_needed
from applique.units import Units, parse_length
from applique.words.booklet import why_strips_said
from applique.words.cloth import strips_how
from applique.words.quilt import class_said

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
    a_row = pieces_across(F(3), F(40))
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
    fabrics = [{"name": name, "color": "#888888", "usable_width": usable} for name in names]
    design = design_from_mapping({"row": [{"text": "A"}], "border": borders, "fabric": fabrics})
    return plan_borders(
        design.border, panel, resolve_fabrics(design).by_name, seam_allowance=QUARTER, units=Units.INCHES
    )


def _binding(finished: tuple[int, int], *, usable: int, allowance: int) -> Any:
    fabric = Fabric(name="b", color="#888888", usable_width=F(usable))
    return plan_binding(
        Binding(allowance=F(allowance)),
        straight_edge((F(finished[0]), F(finished[1]))),
        fabric,
        seam_allowance=QUARTER,
        units=Units.INCHES,
    )


def test_binding_both_answers() -> None:
    """Missouri Star blog: 66 × 58, 248 + 20 = 268, ÷ 40 is 7 strips. Computed: with diagonal joins 7 give 265, so 8."""
    plan = _binding((66, 58), usable=40, allowance=20)
    assert plan.needed == 268
    assert plan.quick_strips == 7
    assert plan.cut.strips == 8
    assert 7 * 40 - 6 * F(5, 2) == 265
    assert plan.cut.run == Run(join=Join.DIAGONAL, reach=F(8 * 40) - 7 * F(5, 2), needed=F(268))
    assert "8 strips are needed" in str(why_strips_said(plan, Units.INCHES))


@pytest.mark.parametrize(("square", "width", "length"), [("10.5in", 1, 98.99), ("20in", 2, 165.46)])
def test_bias_binding_from_one_square(square: str, width: int, length: float) -> None:
    """The formula re-derived from thebuttonship 2014: n = ⌊(s−½)/(w√2)⌋, L = n√2(s−½); both values computed."""
    assert bias_length(parse_length(square), F(width), seam_allowance=QUARTER) == pytest.approx(
        length, abs=0.005
    )


@pytest.mark.parametrize(
    ("width", "sides", "ends", "size"),
    [("1in", "44in", "34.5in", ("34.5in", "46in")), ("2in", "44in", "36.5in", ("36.5in", "48in"))],
)
def test_butted_borders(width: str, sides: str, ends: str, size: tuple[str, str]) -> None:
    """oldmvc.villageserver.com: a top cut 32½ × 44 with a 1 in border: sides 1½ × 44, then 1½ × 34½, top 34½ × 46.
    The 2 in border around the same top: computed."""
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


def test_a_mitered_strip_is_longer_by_two_borders_and_a_little() -> None:
    """quiltingboard (one forum): side + 2 × border + a little; the little is 1 in and the sizes are ours: computed."""
    (plan,) = _borders(
        [{"kind": "strip", "width": "3in", "fabrics": ["a"], "corners": "mitered"}], (F(30), F(40))
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
    assert plan.other_way == 204
    assert -(-plan.length // F(9, 2)) * F(9, 2) == parse_length("4 1/2yd")


# honeybegood.com 2012: batting as sold; the throw is common practice, no source.
BATTING = (("crib", 45, 60), ("throw", 60, 60), ("twin", 72, 90), ("full", 81, 96), ("queen", 90, 108),
           ("king", 120, 120))  # fmt: skip


@pytest.mark.parametrize(("name", "across", "down"), BATTING)
def test_a_quilt_as_large_as_batting_is_sold_takes_it_either_way_round(
    name: str, across: int, down: int
) -> None:
    for size in ((F(across), F(down)), (F(down), F(across))):
        plan = plan_batting(Batting(overage=F(0)), size)
        assert (plan.name, plan.sold) == (name, (across, down))


@pytest.mark.parametrize(
    ("size", "name"),
    [((46, 60), "throw"), ((60, 61), "twin"), ((73, 90), "full"), ((81, 97), "queen"), ((109, 90), "king"),
     ((121, 90), "by the length")],
)  # fmt: skip
def test_a_quilt_an_inch_larger_takes_the_next_batting(size: tuple[int, int], name: str) -> None:
    """One inch beyond the sizes above: computed."""
    assert plan_batting(Batting(overage=F(0)), (F(size[0]), F(size[1]))).name == name


# thequiltermag.com: quilt classes; no standard exists. It calls the first of them a baby quilt; we do not, because no
# loose quilt belongs in a baby's sleep space.
CLASSES = {(36, 54): "throw or wall quilt", (54, 72): "lap", (68, 86): "twin", (86, 86): "double", (96, 98): "queen",
           (95, 105): "king"}  # fmt: skip


@pytest.mark.parametrize(("size", "name"), CLASSES.items())
def test_quilt_classes(size: tuple[int, int], name: str) -> None:
    for width, height in (size, size[::-1]):
        found = quilt_class(F(width), F(height))
        assert (found.name, found.against) == (name, Against.ABOUT)
        if name == "throw or wall quilt":
            assert str(class_said(found, Units.INCHES)) == "a throw or wall quilt"
        else:
            assert (
                str(class_said(found, Units.INCHES)) == f"about a {name} quilt ({size[0]} in by {size[1]} in)"
            )


@pytest.mark.parametrize(
    ("size", "said"),
    [
        ((51, 57), "a throw or wall quilt"),
        ((20, 24), "a wall quilt"),
        ((120, 24), "a wall quilt"),
        ((60, 130), "a wall quilt"),
        ((97, 108), "about a king quilt (95 in by 105 in)"),
        ((123, 100), "larger than a king quilt (95 in by 105 in)"),
        ((140, 140), "larger than a king quilt (95 in by 105 in)"),
        ((80, 125), "longer than a king quilt (95 in by 105 in)"),
    ],
)
def test_a_quilt_of_no_class_is_not_said_to_be_about_one(size: tuple[int, int], said: str) -> None:
    """Sizes of our own. A wall quilt, and what is well beyond the classes: common practice, no source."""
    assert str(class_said(quilt_class(F(size[0]), F(size[1])), Units.INCHES)) == said


@pytest.mark.parametrize("width", range(4, 160, 4))
def test_no_quilt_is_called_a_baby_quilt(width: int) -> None:
    """Never a loose quilt in a baby's crib or other sleep space: common practice, no source."""
    for height in range(4, 160, 5):
        words = str(class_said(quilt_class(F(width), F(height)), Units.INCHES))
        assert not {"baby", "crib"} & set(words.split())


# Mattresses: honeybegood.com. What hangs over is half of what the quilt is wider: computed. The quilts are two of the
# mattresses themselves, two of the classes above, and one of our own.
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
    """Never a loose quilt in a baby's crib or other sleep space: common practice, no source. A crib mattress is 28 × 52
    (honeybegood.com)."""
    assert bed_cover(F(36), F(54)) is None


# Closed forms at sizes of our own.


@pytest.mark.parametrize(
    ("width", "height", "length"),
    [("30in", "50in", "50 1/2in"), ("40in", "26in", "26 1/2in"), ("20in", "41in", "20 1/2in")],
)
def test_a_panel_larger_than_a_mat_is_folded_to_half_its_cut_size(
    width: str, height: str, length: str
) -> None:
    """Cut: finished and two seams of 1/4 in. Fold and measure half: common practice, no source. The cloth it takes: the
    shorter cut side that leaves the other within the 42 in of the fabric, computed."""
    panel = _panel(width, height)
    cut = cut_panel(panel, Units.INCHES)
    sides = (parse_length(width) + F(1, 2), parse_length(height) + F(1, 2))
    assert (panel.cut_width, panel.cut_height) == sides
    assert cut.fold is not None
    assert (cut.fold.half_width, cut.fold.half_length) == (sides[0] / 2, sides[1] / 2)
    assert cut.length == parse_length(length)


def test_a_panel_as_large_as_a_mat_is_cut_flat() -> None:
    """A large mat is 24 by 36 in: common practice, no source."""
    assert cut_panel(_panel("35 1/2in", "23 1/2in"), Units.INCHES).fold is None
    assert cut_panel(_panel("35 3/4in", "23 1/2in"), Units.INCHES).fold is not None
    assert cut_panel(_panel("35 1/2in", "23 3/4in"), Units.INCHES).fold is not None


def _panel(width: str, height: str) -> PanelPlan:
    return place_rows(
        design_from_mapping(
            {
                "row": [{"text": "I"}],
                "panel": {"width": width, "height": height, "fabric": "a"},
                "fabric": [{"name": "a", "color": "#888888", "usable_width": "42in"}],
            }
        )
    )


@pytest.mark.parametrize(
    ("first", "top", "side"), [("top and bottom", 7, 10 + 2), ("sides", 7 + 2, 10)], ids=["ends", "sides"]
)
def test_squares_go_once_around(first: str, top: int, side: int) -> None:
    """35 by 50 in takes 7 by 10 squares of 5 in, and whichever sides are sewn second take the corners: computed."""
    squares = {"kind": "squares", "size": "5in", "fabrics": ["a", "b"], "first": first}
    (plan,) = _borders([squares], (F(35), F(50)))
    pieces = {strip.side: len(strip.pieces) for step in plan.steps for strip in step.strips}
    assert pieces == {"top": top, "bottom": top, "left": side, "right": side}
    assert [strip.side for strip in plan.steps[0].strips] == (
        ["left", "right"] if first == "sides" else ["top", "bottom"]
    )
    assert {strip.cut_width for step in plan.steps for strip in step.strips} == {F(11, 2)}
    assert [(cut.count, cut.across, cut.strips) for cut in plan.cuts] == [(19, 7, 3)] * 2
    assert plan.finished == (F(45), F(60))


@pytest.mark.parametrize("square", ["3 1/2in", "4 1/2in", "5 1/2in", "6 1/2in"])
def test_squares_of_a_border_take_the_yard_that_is_published(square: str) -> None:
    """As many squares of each of two fabrics as SQUARES_A_YARD gives: its strips just fit a yard, one more does not."""
    cut, each = parse_length(square), SQUARES_A_YARD[square]
    across, down = each // 2, each - 2 - each // 2
    size = cut - F(1, 2)
    border = {"kind": "squares", "size": f"{size}in", "fabrics": ["a", "b"]}
    (plan,) = _borders([border], (across * size, down * size), usable="44in")
    assert [found.count for found in plan.cuts] == [each, each]
    for found in plan.cuts:
        assert found.strip_width == cut
        assert found.length <= 36 < found.length + cut


@pytest.mark.parametrize(
    ("joins", "usable", "strips"),
    [("straight", "42in", 6), ("diagonal", "42in", 7), ("straight", "45in", 6), ("diagonal", "45in", 6)],
)
def test_border_strips_are_counted_with_their_joins(joins: str, usable: str, strips: int) -> None:
    """48 by 65 in and a 3 in border, sides first: 2 × 65½ and 2 × 54½ are 240 in, by n·usable − (n−1)·loss ≥ 240 with
    a loss of 3½ in on the diagonal and ½ in straight: computed."""
    border = {"kind": "strip", "width": "3in", "fabrics": ["a"], "first": "sides", "joins": joins}
    (plan,) = _borders([border], (F(48), F(65)), usable=usable)
    (cut,) = plan.cuts
    assert (cut.strips, cut.strip_width, cut.length) == (strips, F(7, 2), strips * F(7, 2))
    assert dict(cut.pieces) == {F(131, 2): 2, F(109, 2): 2}
    loss = F(7, 2) if joins == "diagonal" else F(1, 2)
    reach = strips * parse_length(usable) - (strips - 1) * loss
    assert cut.run == Run(join=Join(joins), reach=reach, needed=F(240))
    assert f"{joins} seams, then cut 2 × 65 1/2 in and 2 × 54 1/2 in" in str(strips_how(cut, Units.INCHES))
    assert {strip.side for strip in plan.steps[0].strips} == {"left", "right"}
    assert plan.finished == (F(54), F(71))


def test_border_strips_shorter_than_the_cloth_is_wide_have_no_joins() -> None:
    """30 by 36 in and a 2 in border: 36½ and 34½ in twice each are four strips of 42 in, one for each side."""
    (plan,) = _borders([{"kind": "strip", "width": "2in", "fabrics": ["a"]}], (F(30), F(36)))
    assert (plan.cuts[0].strips, plan.cuts[0].length) == (4, F(10))
    assert plan.cuts[0].run is None
    assert "no joins" in str(strips_how(plan.cuts[0], Units.INCHES))


def test_binding_that_needs_no_more_strips_than_the_quick_rule_says_says_no_reason() -> None:
    """48 by 62 in and 10 in more: 230 in; 6 × 42 − 5 × 2½ = 239½ reach it, 5 strips give 200: computed."""
    plan = _binding((48, 62), usable=42, allowance=10)
    assert (plan.needed, plan.cut.strips, plan.quick_strips) == (230, 6, 6)
    assert why_strips_said(plan, Units.INCHES) is None
    assert plan.cut.length == 15


def test_strips_reach_what_they_are_asked_to() -> None:
    for run in range(1, 700, 13):
        for join in Join:
            count = strips_needed(
                F(run), usable_width=F(40), strip_width=F(5, 2), join=join, seam_allowance=QUARTER
            )
            loss = F(5, 2) if join is Join.DIAGONAL else F(1, 2)
            assert count * 40 - (count - 1) * loss >= run
            assert count == 1 or (count - 1) * 40 - (count - 2) * loss < run
