"""Numbers that a maker states herself: read, refused where they are of nothing, and from which width on strips hold."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from applique.design import (
    CAN_STATE,
    Part,
    Stated,
    StatedKind,
    border_of,
    design_from_mapping,
    design_text,
    read_design,
)
from applique.errors import Refusal
from applique.quilt.strips import Join, join_loss, strips_reach, width_that_holds
from applique.units import round_up

ROSE = {"name": "Rose", "color": "#c9828a"}
BORDER = {"kind": "strip", "fabrics": ["Rose"]}
GOOD: dict[StatedKind, object] = {
    StatedKind.STRIPS: 7,
    StatedKind.PIECES: 28,
    StatedKind.LENGTH: "300in",
    StatedKind.BUY: "1 1/2yd",
    StatedKind.HOURS: 12.5,
}


def _data(*stated: dict[str, Any], borders: int = 1, **more: Any) -> dict[str, Any]:
    return {
        "row": [{"text": "A"}],
        "fabric": [ROSE],
        "border": [BORDER] * borders,
        "hanging": {"sleeve": True},
        "stated": list(stated),
        **more,
    }


def _problems(*stated: dict[str, Any], **more: Any) -> list[str]:
    with pytest.raises(Refusal) as refused:
        design_from_mapping(_data(*stated, **more))
    return [str(problem) for problem in refused.value.problems]


def test_every_number_of_every_part_is_read_and_written_back(tmp_path: Any) -> None:
    tables = [
        {
            "part": part.value,
            **({"fabric": "Rose"} if part is Part.FABRIC else {}),
            **{k.value: GOOD[k] for k in kinds},
        }
        for part, kinds in CAN_STATE.items()
    ]
    design = design_from_mapping(_data(*tables))
    for stated, kinds in zip(design.stated, CAN_STATE.values(), strict=True):
        assert tuple(stated.numbers) == kinds
    border = design.stated[1]
    assert border.numbers[StatedKind.LENGTH] == 300
    assert border.numbers[StatedKind.BUY] == 54
    file = tmp_path / "stated.toml"
    file.write_text(design_text(design), encoding="utf-8")
    assert read_design(file) == design


@pytest.mark.parametrize("part", Part)
def test_a_number_that_a_part_has_not_is_refused_with_those_it_has(part: Part) -> None:
    table = {"part": part.value, **({"fabric": "Rose"} if part is Part.FABRIC else {})}
    for kind in set(StatedKind) - set(CAN_STATE[part]):
        (problem,) = _problems(
            {**table, CAN_STATE[part][0].value: GOOD[CAN_STATE[part][0]], kind.value: GOOD[kind]}
        )
        assert problem.startswith(f"stated 1, {kind.value}: {part.value} has no number called {kind.value}")
        assert all(one.value in problem for one in CAN_STATE[part])


def test_the_only_border_need_not_be_named() -> None:
    stated = Stated(part=Part.BORDER, strips=7)
    assert border_of(stated, design_from_mapping(_data())) == 1
    (problem,) = _problems({"part": "border", "strips": 7}, borders=2)
    assert problem.startswith("stated 1, border: it doesn't say which border")
    second = design_from_mapping(_data({"part": "border", "border": 2, "strips": 7}, borders=2))
    assert border_of(second.stated[0], second) == 2
    assert border_of(Stated(part=Part.BINDING, strips=7), second) is None


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ({"part": "binding"}, "stated 1: no number is stated of binding"),
        ({"part": "border", "border": 2, "strips": 7}, "border: there is no border 2: the design has 1"),
        ({"part": "binding", "border": 1, "strips": 7}, "border: binding is no border"),
        ({"part": "fabric", "buy": "1yd"}, "fabric: it doesn't say which fabric"),
        ({"part": "fabric", "fabric": "Rosa", "buy": "1yd"}, "did you mean “Rose”?"),
        ({"part": "backing", "fabric": "Rose", "buy": "1yd"}, "fabric: backing is not of several fabrics"),
        ({"part": "bindings", "strips": 7}, "did you mean “binding”?"),
        ({"part": "binding", "strips": 0}, "strips: is less than 1"),
        ({"part": "binding", "strips": 7.5}, "strips: “7.5” is no whole number"),
        ({"part": "binding", "buy": 2}, "buy: “2” has no unit"),
        ({"part": "letters", "hours": 0}, "hours: is not more than 0"),
        ({"strips": 7}, "part is missing"),
        ({"part": "binding", "stripes": 7}, "did you mean “strips”?"),
    ],
)
def test_what_is_stated_of_nothing_is_refused(table: dict[str, Any], said: str) -> None:
    (problem,) = _problems(table)
    assert said in problem
    assert "try:" in problem


def test_a_sleeve_that_there_is_not_has_no_numbers() -> None:
    (problem,) = _problems({"part": "hanging sleeve", "strips": 2}, hanging={"sleeve": False})
    assert "the quilt has no hanging sleeve" in problem


def test_a_number_that_is_stated_twice_is_refused_and_another_of_the_same_part_is_not() -> None:
    (problem,) = _problems(
        {"part": "border", "strips": 7}, {"part": "border", "border": 1, "strips": 8, "buy": "1yd"}
    )
    assert problem.startswith("stated 2, strips: strips of border is stated before")
    design_from_mapping(
        _data(
            {"part": "border", "border": 1, "strips": 7},
            {"part": "border", "border": 2, "strips": 7},
            {"part": "border", "border": 2, "fabric": "Rose", "strips": 6},
            {"part": "border", "border": 2, "buy": "1yd"},
            borders=2,
        )
    )


# From which width on strips hold


def test_seven_strips_reach_300_in_from_43_3_8_in_on() -> None:
    """300 in of border 3 1/2 in wide, joined straight with seams of 1/4 in: (300 + 6 · 1/2) / 7, by arithmetic."""
    how = {"strip_width": Fraction(7, 2), "join": Join.STRAIGHT, "seam_allowance": Fraction(1, 4)}
    width = width_that_holds(Fraction(300), strips=7, **how)  # type: ignore[arg-type]
    assert width == Fraction(303, 7)
    assert round_up(width, Fraction(1, 8)) == Fraction(347, 8)
    assert strips_reach(7, usable_width=Fraction(43), **how) - 300 == -2  # type: ignore[arg-type]


def test_seven_strips_of_binding_fall_short_as_published_strips_do() -> None:
    """268 in of 2 1/2 in binding at 40 in: published as 7 strips, 265 in when the joins are counted
    (docs/sources.md, binding); 7 would hold from 40 3/7 in on."""
    how = {"strip_width": Fraction(5, 2), "join": Join.DIAGONAL, "seam_allowance": Fraction(1, 4)}
    assert strips_reach(7, usable_width=Fraction(40), **how) == 265  # type: ignore[arg-type]
    assert width_that_holds(Fraction(268), strips=7, **how) == Fraction(283, 7)  # type: ignore[arg-type]


@given(
    st.fractions(1, 600, max_denominator=16),
    st.integers(1, 30),
    st.fractions(1, 12, max_denominator=8),
    st.sampled_from(Join),
)
def test_so_many_strips_hold_from_that_width_on_and_not_below(
    run: Fraction, strips: int, strip_width: Fraction, join: Join
) -> None:
    how: dict[str, Any] = {"strip_width": strip_width, "join": join, "seam_allowance": Fraction(1, 4)}
    width = width_that_holds(run, strips=strips, **how)
    narrower = width * Fraction(999_999, 1_000_000)
    is_joined = run > join_loss(join, strip_width, seam_allowance=Fraction(1, 4))
    assert strips_reach(strips if is_joined else 1, usable_width=width, **how) == run
    assert all(strips_reach(count, usable_width=narrower, **how) < run for count in range(1, strips + 1))
