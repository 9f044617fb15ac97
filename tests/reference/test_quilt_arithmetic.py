"""Quilt arithmetic against what is published, each value with its source, and closed forms at sizes of our own.

What comes out of a given piece of fabric is in `test_cutting`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from applique.cloth import ClothPlan, ClothUse, FabricPlan, Joined, Strips, UseKind, plan_cloth
from applique.cutting import Lie
from applique.design import Backing, Batting, Fabric, design_from_mapping
from applique.fabrics import resolve_fabrics
from applique.panel import PanelPlan, place_rows
from applique.pattern import sketch
from applique.quilt.borders import BorderPlan, plan_borders
from applique.quilt.finishing import BackingPlan, BindingPlan, bias_length, plan_backing, plan_batting
from applique.quilt.panel_cut import PanelCut, cut_panel
from applique.quilt.sizes import Against, bed_cover, quilt_class
from applique.quilt.strips import CutPieces, Join
from applique.quilt.whole import QuiltPlan
from applique.units import Units, cutting_step, parse_length
from applique.words.cloth import strips_how
from applique.words.instructions.finishing import why_strips_said
from applique.words.quilt import class_said
from tests.there import there

QUARTER = Fraction(1, 4)
F = Fraction

# quilterscache.com, 2002: squares from one yard at 44 in; all of its values are in `test_cutting`.
SQUARES_A_YARD = {"3 1/2in": 120, "4 1/2in": 72, "5 1/2in": 48, "6 1/2in": 30}


# scissortailquilting.com; catbirdquilts 2014.
YARD_FRACTIONS = {
    "1/8yd": "4.5in", "1/4yd": "9in", "1/3yd": "12in", "3/8yd": "13.5in", "1/2yd": "18in", "5/8yd": "22.5in",
    "2/3yd": "24in", "3/4yd": "27in", "7/8yd": "31.5in",
}  # fmt: skip


@pytest.mark.parametrize(("yards", "inches"), YARD_FRACTIONS.items())
def test_yard_fractions(yards: str, inches: str) -> None:
    assert parse_length(yards) == parse_length(inches)


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


def _cloth(panel: tuple[Fraction, Fraction], usable: str, **tables: Any) -> tuple[QuiltPlan, ClothPlan]:
    """A quilt around a panel, and how its fabrics are cut: one for each use, none for letters; not squared up."""
    names = ["panel", "back", "binding", "a", "b"]
    data = {
        "row": [{"text": "I", "cap_height": "3in"}],
        "panel": {"width": f"{panel[0]}in", "height": f"{panel[1]}in", "fabric": "panel"},
        "fabric": [{"name": name, "color": "#888888", "usable_width": usable} for name in names],
        "backing": {"fabric": "back"},
        "yardage": {"squaring": "0in"},
    }
    tables["binding"] = {"fabric": "binding", **tables.get("binding", {})}
    drawn = sketch(design_from_mapping(data | tables))
    return drawn.quilt, plan_cloth(drawn.design, drawn.quilt, ())


def _bought_for(cloth: ClothPlan, kind: UseKind) -> list[tuple[FabricPlan, ClothUse]]:
    return [(plan, use) for plan in cloth.fabrics for use in plan.uses if use.kind is kind]


def _binding(
    finished: tuple[int, int], *, usable: int, allowance: int
) -> tuple[BindingPlan, FabricPlan, ClothUse]:
    quilt, cloth = _cloth(
        (F(finished[0]), F(finished[1])), f"{usable}in", binding={"allowance": f"{allowance}in"}
    )
    ((plan, use),) = _bought_for(cloth, UseKind.BINDING)
    return there(quilt.binding), plan, use


def test_binding_both_answers() -> None:
    """Missouri Star blog: 66 × 58, 248 + 20 = 268, ÷ 40 is 7 strips. Computed: with diagonal joins 7 give 265, so 8."""
    binding, plan, use = _binding((66, 58), usable=40, allowance=20)
    assert binding.needed == 268
    assert binding.quick_strips == 7
    assert [(found.count, found.length, found.width) for found in use.strips] == [(8, F(40), F(5, 2))]
    assert plan.rule.used == 8 * F(5, 2)
    assert 7 * 40 - 6 * F(5, 2) == 265
    (joined,) = use.joined
    assert joined == Joined(
        key="binding", join=Join.DIAGONAL, strips=8, reach=8 * F(40) - 7 * F(5, 2), needed=F(268)
    )
    assert "8 strips are needed" in str(why_strips_said(binding, use, Units.INCHES))


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
    """quiltingboard (one forum): side + 2 × border + a little; the little is 4 in (common practice, no source) and the
    sizes are ours: computed."""
    (plan,) = _borders(
        [{"kind": "strip", "width": "3in", "fabrics": ["a"], "corners": "mitered"}], (F(30), F(40))
    )
    (step,) = plan.steps
    assert {strip.side: strip.cut_length for strip in step.strips} == {
        "left": 50,
        "right": 50,
        "top": 40,
        "bottom": 40,
    }


def _backing(width: int, height: int, usable: int, overage: int) -> BackingPlan:
    return plan_backing(
        Backing(overage=F(overage)),
        (F(width), F(height)),
        Fabric(name="back", color="#888888", usable_width=F(usable)),
        seam_allowance=QUARTER,
        units=Units.INCHES,
    )


def test_backing_panels() -> None:
    """bellaonline.com: 72 × 90 at usable 42: 2 lengths of 94 are 188 in, 5¼ yd. Lying takes 3 of 76 in, and what the
    second of the two upright is cut down to is what the seam leaves: computed."""
    upright, lying = _backing(72, 90, 42, 2).ways
    assert (upright.along, upright.widths, upright.upright) == (F(94), (F(42), F(69, 2)), True)
    assert (upright.length, lying.length) == (F(188), F(3 * 76))
    ((plan, use),) = _bought_for(_cloth((F(72), F(90)), "42in", backing={"fabric": "back", "overage": "2in"})[1],
                                 UseKind.BACKING)  # fmt: skip
    assert use.way == upright
    assert (plan.rule.used, plan.rule.buy) == (F(188), parse_length("5 1/4yd"))


def test_backing_at_the_seam_boundary() -> None:
    """Computed: a 68 × 80 backing at 40 usable: 2 × 80 upright; lying needs 3 × 68, because 2 panels give only 79½."""
    upright, lying = _backing(68, 80, 40, 0).ways
    assert (upright.upright, upright.along, len(upright.widths)) == (True, F(80), 2)
    assert (lying.upright, lying.along, len(lying.widths)) == (False, F(68), 3)
    assert (upright.length, lying.length) == (F(160), F(204))
    assert _backing(68, 79, 40, 0).ways[0].length == 2 * 68
    ((plan, _),) = _bought_for(_cloth((F(68), F(80)), "40in", backing={"fabric": "back", "overage": "0in"})[1],
                               UseKind.BACKING)  # fmt: skip
    assert plan.rule.buy == parse_length("4 1/2yd")


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
    [("30in", "50in", "51 1/2in"), ("40in", "26in", "27 1/2in"), ("20in", "40in", "21 1/2in")],
)
def test_a_panel_larger_than_a_mat_is_folded_to_half_its_cut_size(
    width: str, height: str, length: str
) -> None:
    """Cut: finished, two seams of 1/4 in, and the inch trimmed off after satin stitch. Fold and measure half: common
    practice, no source. The cloth it takes: the shorter cut side that leaves the other within the 42 in of the fabric,
    computed."""
    sides = (parse_length(width) + F(3, 2), parse_length(height) + F(3, 2))
    quilt, cloth = _cloth((parse_length(width), parse_length(height)), "42in")
    cut = quilt.panel
    assert (cut.width, cut.height) == sides
    assert cut.trimmed == (sides[0] - 1, sides[1] - 1)
    assert cut.fold is not None
    assert (cut.fold.half_width, cut.fold.half_length) == (sides[0] / 2, sides[1] / 2)
    ((plan, _),) = _bought_for(cloth, UseKind.PANEL)
    assert plan.rule.used == parse_length(length)


def test_a_panel_as_large_as_a_mat_is_cut_flat() -> None:
    """A large mat is 24 by 36 in: common practice, no source."""
    assert _cut(_panel("35 1/2in", "23 1/2in")).fold is None
    assert _cut(_panel("35 3/4in", "23 1/2in")).fold is not None
    assert _cut(_panel("35 1/2in", "23 3/4in")).fold is not None


def _cut(panel: PanelPlan) -> PanelCut:
    return cut_panel(panel, Units.INCHES, cutting_step(Units.INCHES))


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
    assert [cut.count for cut in plan.cuts] == [19, 19]
    cloth = _cloth((F(35), F(50)), "42in", border=[squares])[1]
    for fabric, use in _bought_for(cloth, UseKind.BORDER):
        assert use.strips == (
            Strips(key=use.keys[0], length=F(11, 2), width=F(11, 2), count=19, lie=Lie.ALONG),
        )
        assert fabric.rule.used == 3 * F(11, 2)  # seven from each of three strips
    assert plan.finished == (F(45), F(60))


@pytest.mark.parametrize("square", ["3 1/2in", "4 1/2in", "5 1/2in", "6 1/2in"])
def test_squares_of_a_border_take_the_yard_that_is_published(square: str) -> None:
    """As many squares of each of two fabrics as SQUARES_A_YARD gives: its strips just fit a yard, one more does not."""
    cut, each = parse_length(square), SQUARES_A_YARD[square]
    across, down = each // 2, each - 2 - each // 2
    size = cut - F(1, 2)
    border = {"kind": "squares", "size": f"{size}in", "fabrics": ["a", "b"]}
    quilt, cloth = _cloth((across * size, down * size), "44in", border=[border])
    assert [found.count for found in quilt.borders[0].cuts] == [each, each]
    for plan, use in _bought_for(cloth, UseKind.BORDER):
        assert {(found.length, found.width) for found in use.strips} == {(cut, cut)}
        assert plan.rule.used <= 36 < plan.rule.used + cut


@pytest.mark.parametrize(
    ("joins", "usable", "strips"),
    [("straight", "42in", 6), ("diagonal", "42in", 7), ("straight", "45in", 6), ("diagonal", "45in", 6)],
)
def test_border_strips_are_counted_with_their_joins(joins: str, usable: str, strips: int) -> None:
    """48 by 65 in and a 3 in border, sides first: 2 × 65½ and 2 × 54½ are 240 in, by n·usable − (n−1)·loss ≥ 240 with
    a loss of 3½ in on the diagonal and ½ in straight: computed."""
    border = {"kind": "strip", "width": "3in", "fabrics": ["a"], "first": "sides", "joins": joins}
    quilt, cloth = _cloth((F(48), F(65)), usable, border=[border])
    (plan,) = quilt.borders
    (cut,) = plan.cuts
    ((bought, use),) = _bought_for(cloth, UseKind.BORDER)
    wide = parse_length(usable)
    assert {(found.width, found.lie) for found in use.strips} == {(F(7, 2), Lie.ACROSS)}
    *full, last = (found.length for found in use.strips for _ in range(found.count))
    assert full == [wide] * (strips - 1)
    assert bought.rule.used == bought.plan.plain == strips * F(7, 2)
    assert [(pieces.length, pieces.count) for pieces in cut.pieces] == [(F(131, 2), 2), (F(109, 2), 2)]
    loss = F(7, 2) if joins == "diagonal" else F(1, 2)
    (joined,) = use.joined
    assert (joined.join, joined.strips, joined.needed) == (Join(joins), strips, F(240))
    assert (
        joined.reach == (strips - 1) * (wide - loss) + last >= 240 > (strips - 1) * wide - (strips - 2) * loss
    )
    said = str(strips_how(cut, use, Units.INCHES))
    assert f"{joins} seams into" in said
    assert "then cut 2 × 65 1/2 in and 2 × 54 1/2 in" in said
    assert {strip.side for strip in plan.steps[0].strips} == {"left", "right"}
    assert plan.finished == (F(54), F(71))


def test_border_strips_shorter_than_the_cloth_is_wide_have_no_joins() -> None:
    """30 by 36 in and a 2 in border: 36½ and 34½ in twice each are four strips of 42 in, one for each side."""
    border = {"kind": "strip", "width": "2in", "fabrics": ["a"]}
    quilt, cloth = _cloth((F(30), F(36)), "42in", border=[border])
    (cut,) = quilt.borders[0].cuts
    assert cut.pieces == (
        CutPieces(length=F(73, 2), count=2, upright=True),
        CutPieces(length=F(69, 2), count=2),
    )
    ((plan, use),) = _bought_for(cloth, UseKind.BORDER)
    assert [(found.length, found.width, found.count) for found in use.strips] == [
        (F(73, 2), F(5, 2), 2),
        (F(69, 2), F(5, 2), 2),
    ]
    assert plan.rule.used == 10
    assert not use.joined
    assert "no joins" in str(strips_how(cut, use, Units.INCHES))


def test_binding_that_needs_no_more_strips_than_the_quick_rule_says_says_no_reason() -> None:
    """48 by 62 in and 10 in more: 230 in; 6 × 42 − 5 × 2½ = 239½ reach it, 5 strips give 200: computed."""
    binding, plan, use = _binding((48, 62), usable=42, allowance=10)
    assert (binding.needed, use.joined[0].strips, binding.quick_strips) == (F(230), 6, 6)
    assert why_strips_said(binding, use, Units.INCHES) is None
    assert plan.rule.used == 15
