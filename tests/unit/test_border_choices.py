"""Borders to choose from: each comes out even around any panel, with the least change where no size does by itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from applique.design import BorderKind, Design, Fabric, design_data, design_from_mapping
from applique.fabrics import resolve_fabrics
from applique.language import american
from applique.quilt.borders import BorderChoice, BorderLook, Side, border_choices
from applique.quilt.borders.values import BorderPlan
from applique.words.borders import choice_does, choice_named, choice_sized

ALWAYS = {
    BorderLook.PLAIN,
    BorderLook.CORNERSTONES,
    BorderLook.MITERED,
    BorderLook.TWO_IN_TURN,
    BorderLook.RECTANGLES,
}
SPARE = (Fabric(name="New", color="#111111"), Fabric(name="Newer", color="#222222"))


def quilt(width: str, height: str, *, fabrics: str = "ABC", **more: object) -> Design:
    panel = more.pop("panel", {})
    assert isinstance(panel, Mapping)
    return design_from_mapping(
        {
            "row": [{"text": "I"}],
            "panel": {"width": width, "height": height, **panel},
            "fabric": [{"name": name, "color": "#203040"} for name in fabrics],
            **more,
        }
    )


def choices(design: Design) -> dict[BorderLook, BorderChoice]:
    found = border_choices(design, resolve_fabrics(design).by_name, SPARE)
    return {choice.look: choice for choice in found}


def sides(plan: BorderPlan) -> dict[Side, tuple[tuple[str, Fraction], ...]]:
    return {strip.side: strip.pieces for step in plan.steps for strip in step.strips}


def check_even(choice: BorderChoice) -> None:
    """By hand, from the pieces as they are sewn: of one size, no two neighbors alike, and as long as their sides."""
    plan = choice.plans[-1]
    (width, height), border = plan.finished, choice.border
    pieces = sides(plan)
    if border.kind is BorderKind.STRIP:
        return
    assert {length for row in pieces.values() for _, length in row} == {border.size}
    for row in pieces.values():
        assert all(one != other for (one, _), (other, _) in pairwise(row))
    runs = {side: sum(length for _, length in row) for side, row in pieces.items()}
    assert runs[Side.LEFT] == runs[Side.RIGHT] == height - 2 * plan.width
    assert runs[Side.TOP] == runs[Side.BOTTOM] == width


SIZES = ("30in", "41in", "63 7/8in", "13 1/16in", "30.3in", "77.7cm", "3in", "1mm", "119cm")


@pytest.mark.parametrize("units", ["in", "cm"])
def test_every_look_can_be_added_around_any_panel_and_comes_out_even(units: str) -> None:
    for width, height in (*pairwise(SIZES), *zip(SIZES, SIZES[::-1], strict=True)):
        design = quilt(width, height, units=units)
        found = choices(design)
        assert found.keys() >= ALWAYS, (width, height)
        for choice in found.values():
            check_even(choice)
            assert choice.wider >= 0 <= choice.higher
            before = design.panel_size
            assert choice.design.panel_size == (before[0] + choice.wider, before[1] + choice.higher)
            again = design_from_mapping(design_data(choice.design))
            assert again == choice.design, "it can be written and read"


@pytest.mark.parametrize("units", ["in", "cm"])
def test_a_border_can_be_added_to_every_other(units: str) -> None:
    """Two rounds: those of pieces that are there still come out even although the panel has grown."""
    for first in choices(quilt("31 1/8in", "40in", units=units)).values():
        for second in choices(first.design).values():
            check_even(second)
            assert not any(plan.uneven for plan in second.plans)
        assert choices(first.design).keys() >= ALWAYS


def test_squares_that_divide_the_panel_leave_it_as_it_is() -> None:
    """30 by 40 in: what goes into both divides 10 in, and 10 in over 4 is the usual 2 1/2 in."""
    squares = choices(quilt("30in", "40in"))[BorderLook.TWO_IN_TURN]
    assert squares.border.size == Fraction(5, 2)
    assert not any((squares.wider, squares.higher, squares.spacer))


@pytest.mark.parametrize(("width", "height"), [("41in", "47in"), ("63 7/8in", "41in"), ("31 1/16in", "29in")])
def test_the_panel_grows_by_no_more_than_it_must(width: str, height: str) -> None:
    """Against every size in eighths from 1 1/2 to 4 in, tried one by one."""
    squares = choices(quilt(width, height))[BorderLook.TWO_IN_TURN]
    panel = quilt(width, height).panel_size
    least = min(sum(-side % Fraction(eighths, 8) for side in panel) for eighths in range(12, 33))
    assert 0 < squares.wider + squares.higher == least


def test_a_panel_inside_squares_grows_by_whole_squares_or_gets_a_plain_strip() -> None:
    """Squares of 2 1/2 in around 30 by 40 in, a strip of 2 in around them: 39 by 49 in, whose difference is 10 in."""
    squares = choices(quilt("30in", "40in"))[BorderLook.TWO_IN_TURN].design
    found = choices(choices(squares)[BorderLook.PLAIN].design)[BorderLook.TWO_IN_TURN]
    assert found.wider % Fraction(5, 2) == 0 == found.higher % Fraction(5, 2)
    assert found.spacer > 0
    across, down = 39 + 2 * found.spacer + found.wider, 49 + 2 * found.spacer + found.higher
    assert across % (found.border.size or 1) == 0 == down % (found.border.size or 1)


def test_a_seam_allowance_that_cannot_be_cut_is_changed_for_pieces_alone() -> None:
    """Two of 6 mm are 0.4724 in; the nearest sixteenths are 7/16 and 8/16 in, and the second is nearer."""
    found = choices(quilt("30in", "40in", panel={"seam_allowance": "6mm"}))
    squares = found[BorderLook.TWO_IN_TURN]
    assert squares.seam_allowance == squares.design.seam_allowance == Fraction(1, 4)
    assert found[BorderLook.PLAIN].seam_allowance is None
    assert choices(quilt("30in", "40in"))[BorderLook.TWO_IN_TURN].seam_allowance is None


def test_fabrics_that_are_lacking_are_added_and_those_that_touch_come_last() -> None:
    found = choices(quilt("30in", "40in", fabrics="A"))
    assert [fabric.name for fabric in found[BorderLook.TWO_IN_TURN].added] == ["New"]
    assert found[BorderLook.TWO_IN_TURN].border.fabrics == ("A", "New")
    assert found[BorderLook.PLAIN].added == ()
    assert BorderLook.THREE_IN_TURN not in found
    none = choices(quilt("30in", "40in", fabrics=""))
    assert [fabric.name for fabric in none[BorderLook.CORNERSTONES].added] == ["New", "Newer"]
    on_a = choices(quilt("30in", "40in", fabrics="ABCD", panel={"fabric": "A"}))
    assert on_a[BorderLook.PLAIN].border.fabrics == ("B",)
    assert on_a[BorderLook.ALL_IN_TURN].border.fabrics == ("B", "C", "D", "A")
    after = choices(on_a[BorderLook.PLAIN].design)
    assert after[BorderLook.PLAIN].border.fabrics == ("A",)


def test_it_is_said_what_each_is_and_what_else_it_changes() -> None:
    tell = american().tell
    design = quilt("41in", "47in", fabrics="A")
    squares = choices(design)[BorderLook.TWO_IN_TURN]
    assert tell(choice_named(squares)) == "Squares of 2 fabrics"
    assert tell(choice_sized(squares, design.units)) == "2 5/8 in square"
    assert [tell(said) for said in choice_does(squares, design.units)] == [
        "The panel becomes 1 in wider and 1/4 in higher.",
        "1 fabric is added.",
    ]
    spaced = replace(squares, wider=Fraction(0), higher=Fraction(1, 8), spacer=Fraction(3, 4), added=())
    assert [tell(said) for said in choice_does(spaced, design.units)] == [
        "The panel becomes 1/8 in higher.",
        "A plain strip of 3/4 in goes on before it.",
    ]
