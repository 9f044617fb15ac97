"""What a maker has, in her own words, and what washing and squaring up leave of it and of what she buys."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdfium2 import PdfDocument

from applique.cutting import Preference, Supply
from applique.design import (
    Fabric,
    Held,
    HeldKind,
    Yardage,
    design_data,
    design_from_mapping,
    read_stash,
    stash_text,
)
from applique.errors import Refusal, Where
from applique.fabrics import resolve_fabrics
from applique.pattern import Pattern, draft
from applique.reports import pattern_json
from applique.sheets import pattern_pdf
from applique.supplies import bolt_of, plan_of, supplies_of
from applique.units import Units
from tests.there import there

LENGTH, PIECE, STRIPS, SQUARES = HeldKind
CM = Fraction(100, 254)
ROSE = {"name": "Rose", "color": "#c9828a"}


def _design(fabric: dict[str, Any], **more: Any) -> Any:
    return {"row": [{"text": "A"}], "fabric": [{**ROSE, **fabric}], **more}


def _problems(data: dict[str, Any]) -> list[str]:
    with pytest.raises(Refusal) as refused:
        design_from_mapping(data)
    return [str(problem) for problem in refused.value.problems]


# What is in the stash

READ: dict[str, list[tuple[HeldKind, int, Fraction | int, Fraction | int | None]]] = {
    "": [],
    "1 1/2yd": [(LENGTH, 1, 54, None)],
    "1/2yd": [(LENGTH, 1, 18, None)],
    "1½ yards": [(LENGTH, 1, 54, None)],
    "60cm": [(LENGTH, 1, 60 * CM, None)],
    "0,5 m": [(LENGTH, 1, 50 * CM, None)],
    "two yards": [(LENGTH, 1, 72, None)],
    "Half a yard": [(LENGTH, 1, 18, None)],
    "a quarter of a yard left": [(LENGTH, 1, 9, None)],
    "three quarters of a yard": [(LENGTH, 1, 27, None)],
    "one and a half yards of fabric": [(LENGTH, 1, 54, None)],
    "a yard and a half": [(LENGTH, 1, 54, None)],
    "a yard and half a yard": [(LENGTH, 1, 36, None), (LENGTH, 1, 18, None)],
    "2 half yards": [(LENGTH, 2, 18, None)],
    "2 pieces of 1 yd": [(LENGTH, 2, 36, None)],
    "a fat quarter": [(PIECE, 1, 18, 21)],
    "2 FQs": [(PIECE, 2, 18, 21)],
    "a dozen fat eighths": [(PIECE, 12, 9, 21)],
    "a bundle of 10 fat quarters": [(PIECE, 10, 18, 21)],
    "18in x 21in": [(PIECE, 1, 18, 21)],
    "3 pieces 18 x 21in": [(PIECE, 3, 18, 21)],
    "2 scraps of 50cm by 30cm": [(PIECE, 2, 50 * CM, 30 * CM)],
    "a roll of 2 1/2in strips": [(STRIPS, 40, Fraction(5, 2), None)],
    "2 strip rolls": [(STRIPS, 80, Fraction(5, 2), None)],
    "a roll of 30 1 1/2in strips": [(STRIPS, 30, Fraction(3, 2), None)],
    "20 strips 2 1/2in wide": [(STRIPS, 20, Fraction(5, 2), None)],
    "20 2 1/2in strips": [(STRIPS, 20, Fraction(5, 2), None)],
    "6 strips 2 1/2in x 21in": [(STRIPS, 6, Fraction(5, 2), 21)],
    "2 packs of 10in squares": [(SQUARES, 84, 10, 10)],
    "1 pack of 5in squares": [(SQUARES, 42, 5, 5)],
    "30 squares 5in": [(SQUARES, 30, 5, 5)],
    "1 yd, 2 fat quarters; and a strip roll": [
        (LENGTH, 1, 36, None),
        (PIECE, 2, 18, 21),
        (STRIPS, 40, Fraction(5, 2), None),
    ],
}
"""Fat quarters of 18 by 21 in, rolls of 40 and packs of 42: common practice, docs/sources.md, precuts."""


@pytest.mark.parametrize("text", READ)
def test_what_is_in_the_stash_is_read_as_makers_say_it(text: str) -> None:
    assert [(one.kind, one.count, one.length, one.width) for one in read_stash(text)] == READ[text]


def test_what_was_washed_before_is_known_by_its_word() -> None:
    held = read_stash("1 yd, washed and 2 fat quarters and prewashed 60cm + 1 half yard (pre-washed)")
    assert [one.washed for one in held] == [True, False, True, True]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("some scraps", "isn't fabric I can read"),
        ("3 jars of buttons", "isn't fabric I can read"),
        ("1 yd and", "isn't fabric I can read"),
        ("1 yd 2 fat quarters", "isn't fabric I can read"),
        ("0 fat quarters", "isn't fabric I can read"),
        ("-1yd", "isn't fabric I can read"),
        ("2 x 60cm", "isn't fabric I can read"),  # two of 60 cm, or 2 by 60 cm?
        ("5in x 6in squares", "isn't fabric I can read"),
        ("two fat quarters and a half", "isn't fabric I can read"),
        ("1 1/0yd", "isn't fabric I can read"),
        ("washed", "isn't fabric I can read"),
        ("yd" * 300, "isn't fabric I can read"),
        ("12 1/2in strips", "doesn't say how many"),  # 12 of 1/2 in, or some of 12 1/2 in?
        ("a roll of 3in strips", "doesn't say how many"),
        ("a pack of 4in squares", "doesn't say how many"),
        ("fat quarters", "doesn't say how many"),
        ("1000 fat quarters", "more fabric than I can plan with"),
        ("20 packs of 5in squares and 20 packs of 10in squares", "more fabric than I can plan with"),
        ("101m", "more fabric than I can plan with"),
        ("1yd x 11m", "more fabric than I can plan with"),
    ],
)
def test_a_stash_that_could_mean_anything_is_refused(text: str, said: str) -> None:
    (problem,) = _problems(_design({"have": text}))
    assert problem.startswith("fabric 1, have: ")
    assert said in problem
    assert "try:" in problem
    assert len(problem) < 400


@pytest.mark.parametrize("value", [5, True, ["1yd", 5], {"yards": 1}])
def test_a_stash_that_is_no_text_is_refused(value: object) -> None:
    assert "isn't fabric I can read" in _problems(_design({"have": value}))[0]


def test_a_list_is_the_same_as_one_text() -> None:
    listed, said = (
        design_from_mapping(_design({"have": have}))
        for have in (["1 yd and a fat quarter", "2 strip rolls"], "1 yd, a fat quarter; 2 strip rolls")
    )
    assert listed == said
    assert [one.words for one in said.fabric[0].have] == ["1 yd", "a fat quarter", "2 strip rolls"]


_WORDS = st.lists(
    st.tuples(
        st.sampled_from([*(text for text, read in READ.items() if len(read) == 1)]),
        st.sampled_from(["", " washed", ", washed", " (prewashed)"]),
    ).map("".join),
    min_size=1,
    max_size=4,
)


@settings(max_examples=150, deadline=None)
@given(_WORDS, st.sampled_from([" and ", ", ", "; ", " + ", ", and ", " plus "]))
def test_what_is_written_of_a_stash_reads_back(words: list[str], between: str) -> None:
    text = between.join(words)
    try:
        held = read_stash(text)
    except Refusal as refusal:
        assert "more fabric" in str(refusal) or len(text) > 400
        return
    assert len(held) == len(words)
    assert read_stash(stash_text(held)) == held
    design = design_from_mapping(_design({"have": text}))
    again = design_from_mapping(design_data(design))
    assert again == design
    assert again.fabric[0].have == held


_TOKENS = [
    *("2", "3", "1/2", "yd", "in", "cm", "strips", "squares", "roll", "pack", "of", "fat", "quarter", "and"),
    *("half", "a", "x", "wide", "washed", ","),
]


@settings(max_examples=300, deadline=None)
@given(
    st.text(st.sampled_from("0123456789/ .,x\"'½&+;-abdefhilnopqrstuwy×"), max_size=40)
    | st.lists(st.sampled_from(_TOKENS), max_size=8).map(" ".join)
)
def test_any_words_are_read_and_written_back_or_refused(text: str) -> None:
    try:
        held = read_stash(text)
    except Refusal:
        return
    assert read_stash(stash_text(held)) == held
    assert all(one.count >= 1 and one.length > 0 for one in held)


# Washing and squaring up


@pytest.mark.parametrize(
    ("yardage", "used", "bought"),
    [
        (Yardage(squaring=Fraction(0)), 100, Fraction(100)),
        (Yardage(), 135, Fraction(137)),  # it was bought with nothing to spare
        (Yardage(squaring=Fraction(0), shrinkage_percent=8), 100, Fraction(10000, 92)),
        (Yardage(washed=True), 95, Fraction(100)),
        (Yardage(washed=True, shrinkage_percent=5, squaring=Fraction(1, 2)), 94, Fraction(100)),
        (Yardage(shrinkage_percent=0), 34, Fraction(36)),
        (Yardage(washed=True), 0, Fraction(0)),
    ],
)
def test_what_shrinks_is_divided_and_not_multiplied(yardage: Yardage, used: int, bought: Fraction) -> None:
    """100 in at 8 % take 108.70 in, not 108: length / (1 - s), algebra; 3 % is common practice, no source."""
    assert yardage.loss(Units.INCHES).added_to(Fraction(used)) == bought
    assert yardage.loss(Units.INCHES).left_of(bought, Fraction(used)) == 0


def test_squaring_is_as_stated_or_by_the_units() -> None:
    """1 in, or 2.5 cm: common practice, no source; an inch of 2.54 cm is exact."""
    metric = Fraction(25, 10) / Fraction(254, 100)
    assert Yardage().squared_off(Units.INCHES) == 1
    assert Yardage().squared_off(Units.CENTIMETERS) == metric
    assert {Yardage(squaring=Fraction(2)).squared_off(units) for units in Units} == {2}
    design = design_from_mapping({**_design({"have": "3yd"}), "units": "cm"})
    fabric = resolve_fabrics(design).letters
    cut = (*supplies_of(fabric, design.yardage, design.units), bolt_of(fabric, design.yardage, design.units))
    assert {one.squaring for one in cut} == {design.yardage.loss(design.units).squaring} == {metric}


def test_nothing_is_left_of_less_than_the_squaring() -> None:
    assert Yardage().loss(Units.INCHES).left_of(Fraction(3, 2)) < 0


def test_a_sold_width_shrinks_and_a_usable_width_never_does() -> None:
    fabrics = [{**ROSE, "sold_width": "43in"}, {"name": "Oat", "color": "#f2eadb", "usable_width": "42in"}]
    for washed, width in ((False, 43), (True, Fraction(4171, 100))):
        design = design_from_mapping(
            {
                "row": [{"text": "A"}],
                "fabric": fabrics,
                "yardage": {"washed": washed},
                "panel": {"fabric": "Oat"},
            }
        )
        found = resolve_fabrics(design)
        assert (found.letters.name, found.letters.usable_width) == ("Rose", width)
        assert found.by_name["Rose"].usable_width == width
        assert bolt_of(found.letters, design.yardage, design.units).width == width
        assert found.panel.usable_width == 42


def test_a_stash_is_washed_and_squared_up_but_not_what_was_cut_ready() -> None:
    fabric = Fabric(
        name="Rose",
        color="#c9828a",
        usable_width=Fraction(41),
        have=read_stash(
            "1 yd, 1 yd washed, 2 fat quarters, a strip roll, 30 squares 5in, 6 strips 2in x 21in"
        ),
    )
    yardage = Yardage(shrinkage_percent=5)
    found = supplies_of(fabric, yardage, Units.INCHES)
    wanted: list[tuple[Fraction | int, Fraction | int, int, int]] = [
        (41, Fraction(342, 10), 1, 1),
        (41, 36, 1, 1),
        (Fraction(1995, 100), Fraction(171, 10), 2, 1),
        (41, Fraction(5, 2), 40, 0),
        (5, 5, 30, 0),
        (21, 2, 6, 0),
    ]
    for one, (width, length, count, squaring) in zip(found, wanted, strict=True):
        assert (one.width, one.length) == (width, length)
        assert one.count == count
        assert one.squaring == squaring
    every = [*found, bolt_of(fabric, yardage, Units.INCHES)]
    assert len({one.key for one in every}) == len(every)
    assert every[-1] == Supply(key="bought", width=Fraction(41), length=None, count=1, squaring=Fraction(1))


def test_a_fabric_has_a_plan_of_its_own_or_that_of_all() -> None:
    fabric = Fabric(name="Rose", color="#c9828a")
    for yardage in (Yardage(), Yardage(plan=Preference.LEAST_FABRIC)):
        assert plan_of(fabric, yardage) is yardage.plan
    own = replace(fabric, plan=Preference.FEWEST_KINDS_OF_CUTS)
    assert plan_of(own, Yardage(plan=Preference.LEAST_FABRIC)) is Preference.FEWEST_KINDS_OF_CUTS


def test_settings_that_gainsay_each_other_are_refused_with_everything_else() -> None:
    problems = _problems(
        {
            "row": [{"text": "A"}],
            "fabric": [{**ROSE, "sold_width": "44in", "usable_width": "40in", "have": "buttons"}],
            "yardage": {"washed": False, "shrinkage_percent": 3, "plan": "least cloth"},
        }
    )
    text = "\n".join(problems)
    assert len(problems) == 4
    assert "fabric 1, sold_width: both usable_width and sold_width" in text
    assert "[yardage], shrinkage_percent: fabric that is not washed does not shrink" in text
    assert "did you mean “least fabric”?" in text


def test_what_squaring_up_leaves_nothing_of_is_refused() -> None:
    held = "2in, 2 1/4in and 20 strips 1in wide"
    with pytest.raises(Refusal) as refused:
        design_from_mapping(_design({"have": held}))
    (problem,) = refused.value.problems
    assert problem.where == Where.key("fabric", 1, "have")
    assert str(problem.what) == "nothing is left of “2in” when 1 in is squared off at each end"
    design_from_mapping(_design({"have": held}, yardage={"squaring": "7/8in"}))


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ({"cloth": {"shrinkage_percent": 3}}, "there is no setting called “cloth”"),
        ({"yardage": {"shrinkage": 3}}, "did you mean “shrinkage_percent”?"),
        ({"yardage": {"cutting_allowance": "2in"}}, "one of washed, shrinkage_percent, squaring, or plan"),
        ({"yardage": {"squaring": "5in"}}, "[yardage], squaring"),
        ({"yardage": {"shrinkage_percent": 21}}, "is more than 20"),
    ],
)
def test_what_the_table_does_not_know_is_said_with_what_it_does(table: dict[str, Any], said: str) -> None:
    (problem,) = _problems({"row": [{"text": "A"}], **table})
    assert said in problem


def test_the_values_are_those_that_the_words_say() -> None:
    assert read_stash("a fat quarter, washed") == (
        Held(
            words="a fat quarter washed",
            kind=PIECE,
            count=1,
            length=Fraction(18),
            width=Fraction(21),
            washed=True,
        ),
    )


def _quilt_from(width: dict[str, str]) -> Pattern:
    rose, oat = {**ROSE, **width}, {"name": "Oat", "color": "#f2eadb", **width}
    return draft(
        design_from_mapping(
            {
                "row": [{"text": "I", "cap_height": "6in"}],
                "lettering": {"font": "Fredoka", "fabric": "Rose"},
                "panel": {"width": "50in", "height": "42in", "fabric": "Oat"},
                "fabric": [rose, oat],
                "border": [{"kind": "strip", "width": "3in", "fabrics": ["Rose"]}],
                "binding": {"fabric": "Rose"},
                "backing": {"fabric": "Oat"},
                "hanging": {"sleeve": True, "fabric": "Oat"},
                "yardage": {"shrinkage_percent": 5},
            }
        )
    )


def test_everything_is_cut_from_a_sold_width_as_from_what_washing_leaves_of_it() -> None:
    """44 in sold and 5 % lost are 41 4/5 in, algebra: so panel, border, binding, backing, sleeve and letters."""
    sold, usable = (_quilt_from(width) for width in ({"sold_width": "44in"}, {"usable_width": "41.8in"}))
    assert {buy.fabric.usable_width for buy in sold.shopping.cloth} == {Fraction(209, 5)}
    assert there(sold.quilt.binding).usable_width == Fraction(209, 5)
    assert sold.quilt.panel.seam is not None  # 43 1/2 in at most, which the cloth is as it is sold
    assert max(sold.quilt.backing.ways[0].widths) == Fraction(167, 4)
    numbers, wanted = (json.loads(pattern_json(one)) for one in (sold, usable))
    assert numbers.pop("design") != wanted.pop("design")
    assert numbers == wanted
    texts = [
        [page.get_textpage().get_text_range() for page in PdfDocument(pattern_pdf(one))]
        for one in (sold, usable)
    ]
    assert texts[0] == texts[1]
