"""Rows on the panel: ink across, baselines down, what does not fit, and nudges by hand."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.panel import PanelPlan, PlacedRow, place_rows
from applique.units import Units, as_length


def _plan(*texts: str, lines: dict[str, Any] | None = None, **tables: Any) -> PanelPlan:
    rows = [{"text": text, **(lines or {})} for text in texts]
    lettering = {"font": "Fredoka", **tables.pop("lettering", {})}
    return place_rows(design_from_mapping({"row": rows, "lettering": lettering, **tables}))


def test_cut_size_is_finished_and_two_seam_allowances() -> None:
    plan = _plan("A", panel={"width": "22in", "height": "31in", "seam_allowance": "3/8in"})
    assert (plan.cut_width, plan.cut_height) == (Fraction(91, 4), Fraction(127, 4))


def test_centered_rows_are_centered_by_their_ink() -> None:
    for row in _plan("JOY", "LILY").rows:
        assert (row.ink[0] + row.ink[2]) / 2 == pytest.approx(15)


@pytest.mark.parametrize("align", ["left", "right", "spread"])
def test_rows_align_to_the_margins(align: str) -> None:
    (row,) = _plan("JOY", lettering={"align": align, "cap_height": "4in"}, panel={"margin": "2in"}).rows
    if align != "right":
        assert row.ink[0] == pytest.approx(2)
    if align != "left":
        assert row.ink[2] == pytest.approx(28)


def test_spread_rows_open_every_gap_alike() -> None:
    settings_ = {"cap_height": "4in", "least_gap": "0in"}
    (plain,) = _plan("STEM", lettering=settings_).rows
    (spread,) = _plan("STEM", lettering={**settings_, "align": "spread"}).rows
    opened = [b.place.x - a.place.x for a, b in zip(plain.cuts, spread.cuts, strict=True)]
    steps = [after - before for before, after in pairwise(opened)]
    assert steps == pytest.approx([steps[0]] * 3)


def test_white_above_between_and_below_is_equal() -> None:
    plan = _plan("ROW", "happy", "HOME", lettering={"cap_height": "5in"})
    edges = [40.0]
    for row in plan.rows:
        edges += [row.ink[3], row.ink[1]]
    whites = [above - below for above, below in zip(edges[::2], [*edges[1::2]], strict=False)]
    whites.append(edges[-1])
    assert whites == pytest.approx([whites[0]] * 4)


def test_even_baselines_have_one_pitch_and_stated_pitch_is_kept() -> None:
    for lettering in ({"rows": "even baselines"}, {"row_spacing": "9in"}):
        plan = _plan("ROW", "jog", "HOME", lettering={"cap_height": "5in", **lettering})
        first, second, third = (row.baseline for row in plan.rows)
        assert first - second == pytest.approx(second - third)
    assert first - second == pytest.approx(9)


def test_a_stated_baseline_is_measured_from_the_finished_top() -> None:
    (row,) = _plan("HOME", lines={"baseline": "12in", "cap_height": "5in"}).rows
    assert row.baseline == pytest.approx(28)


def test_the_h_is_as_high_as_asked() -> None:
    """Montserrat's H stands on the baseline: its ink is its cap height."""
    (row,) = _plan("H", lettering={"font": "Montserrat", "cap_height": "7 1/4in"}).rows
    assert row.ink[3] - row.ink[1] == pytest.approx(7.25)


def test_fit_is_the_largest_step_at_which_everything_fits() -> None:
    plan = _plan("ROW", "STEADY", "HOME")
    height = plan.rows[0].cap_height
    assert (height * 16).denominator == 1
    _plan("ROW", "STEADY", "HOME", lettering={"cap_height": f"{height}in"})
    with pytest.raises(Refusal):
        _plan("ROW", "STEADY", "HOME", lettering={"cap_height": f"{height + Fraction(1, 16)}in"})


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.sampled_from(["ROW", "Joy", "a", "QUILTING", "jog"]), min_size=1, max_size=4),
    st.integers(12, 90),
    st.integers(12, 90),
    st.sampled_from(["equal white", "even baselines"]),
    st.sampled_from(["in", "cm"]),
)
def test_what_fit_finds_lies_inside_the_margins(
    texts: list[str], width: int, height: int, rows: str, units: str
) -> None:
    try:
        plan = _plan(
            *texts,
            units=units,
            panel={"width": f"{width}in", "height": f"{height}in"},
            lettering={"rows": rows},
        )
    except Refusal as refusal:
        assert "too small" in str(refusal)
        return
    for row in plan.rows:
        assert row.ink[0] >= 1.5 - 1e-6
        assert row.ink[2] <= plan.width - 1.5 + 1e-6
        assert row.ink[1] >= 1.5 - 1e-6
        assert row.ink[3] <= plan.height - 1.5 + 1e-6
    assert not plan.notices


def test_what_does_not_fit_is_refused_with_a_height_that_does() -> None:
    with pytest.raises(Refusal) as refused:
        _plan("STEADY", "ROWING", lettering={"cap_height": "9in"})
    advised = [str(problem.fix).split("“")[1].split("”")[0] for problem in refused.value.problems]
    assert len(advised) == 2
    for text, height in zip(("STEADY", "ROWING"), advised, strict=True):
        assert _plan(text, lettering={"cap_height": height})


def test_too_many_rows_are_refused_with_a_height_that_fits() -> None:
    with pytest.raises(Refusal) as refused:
        _plan(*"ABCDE", lettering={"cap_height": "9in"})
    height = str(refused.value.problems[0].fix).split("“")[1].split("”")[0]
    assert _plan(*"ABCDE", lettering={"cap_height": height})


def test_nudges_move_rows_and_letters_by_what_they_say() -> None:
    (plain,) = _plan("ROW", lettering={"cap_height": "5in"}).rows
    lines = {"right": "1in", "up": "-1/2in", "nudge": [{"letter": 2, "right": "1/8in", "up": "1/4in"}]}
    (moved,) = _plan("ROW", lines=lines, lettering={"cap_height": "5in"}).rows
    shifts = [
        (b.place.x - a.place.x, b.place.y - a.place.y) for a, b in zip(plain.cuts, moved.cuts, strict=True)
    ]
    assert shifts == [pytest.approx((1, -0.5)), pytest.approx((1.125, -0.25)), pytest.approx((1, -0.5))]


def test_a_nudge_of_no_letter_and_one_off_the_panel_are_refused() -> None:
    with pytest.raises(Refusal, match="a letter from 1 to 3"):
        _plan("ROW", lines={"nudge": [{"letter": 4}]})
    with pytest.raises(Refusal, match="beyond the finished panel"):
        _plan("ROW", lines={"right": "20in"})


def test_letters_nudged_too_close_and_rows_too_near_are_noticed() -> None:
    close = _plan("ROW", lines={"nudge": [{"letter": 2, "right": "-1in"}]}, lettering={"cap_height": "5in"})
    assert any("“R” and “O” overlap" in str(notice.what) for notice in close.notices)
    near = place_rows(
        design_from_mapping(
            {
                "lettering": {"font": "Fredoka", "cap_height": "5in"},
                "row": [{"text": "ROW", "baseline": "10in"}, {"text": "HOME", "baseline": "15 1/2in"}],
            }
        )
    )
    assert any("less than the row gap" in str(notice.what) for notice in near.notices)


def test_equal_letters_are_one_shape() -> None:
    plan = _plan("OTTO", "TO", lettering={"cap_height": "5in"})
    assert len({cut.key for row in plan.rows for cut in row.cuts}) == 2


def test_stated_baselines_are_all_or_none() -> None:
    with pytest.raises(Refusal, match="for every row, or for none"):
        place_rows(
            design_from_mapping(
                {
                    "lettering": {"cap_height": "3in"},
                    "row": [{"text": "A", "baseline": "9in"}, {"text": "B"}],
                }
            )
        )


def test_problems_of_every_row_are_said_at_once() -> None:
    with pytest.raises(Refusal) as refused:
        place_rows(
            design_from_mapping(
                {"row": [{"text": "日"}, {"text": "本", "font": "Lilita One"}, {"text": "ok"}]}
            )
        )
    assert [str(problem.where) for problem in refused.value.problems] == [
        "row 1, letter 1",
        "row 2, letter 1",
    ]


def _row_width(row: PlacedRow) -> float:
    return row.upright_ink[2] - row.upright_ink[0]


@pytest.mark.parametrize("words", ["PIE", "for everyone", "I", "Ægir’s boat"])
@pytest.mark.parametrize(
    "spacing", [{}, {"spacing": "even"}, {"letter_spacing": "1/2in", "least_gap": "1in"}]
)
def test_a_row_is_as_wide_as_it_says(words: str, spacing: dict[str, Any]) -> None:
    room = {"width": "300in", "height": "300in"}
    plan = _plan(words, lines={"width": "24 1/8in", **spacing}, panel=room)
    assert _row_width(plan.rows[0]) == pytest.approx(24.125, abs=2e-6)


def test_a_row_twice_as_wide_without_gaps_of_its_own_is_twice_as_high() -> None:
    """Similar shapes: where nothing between letters is a fixed length, height and width grow as one."""
    one, two = (
        _plan("BOAT", lines={"width": width, "least_gap": "0in"}).rows[0] for width in ("10in", "20in")
    )
    assert float(two.cap_height) == pytest.approx(2 * float(one.cap_height), abs=1e-6)


def test_rows_that_fit_leave_room_for_a_row_with_a_width() -> None:
    design = design_from_mapping(
        {
            "panel": {"width": "40in", "height": "30in", "margin": "2in"},
            "row": [{"text": "PIE", "width": "30in"}, {"text": "now"}],
        }
    )
    wide, fitted = place_rows(design).rows
    assert _row_width(wide) == pytest.approx(30, abs=2e-6)
    assert fitted.cap_height % Fraction(1, 16) == 0
    white = 30 - sum(row.ink[3] - row.ink[1] for row in (wide, fitted))
    assert white / 3 >= 2
    assert not design.fits(wide.asked) and design.fits(fitted.asked)


@pytest.mark.parametrize(
    ("row", "kind", "fix"),
    [
        (
            {"width": "50in"},
            "row-too-wide",
            "a width of “27 in” at the most, or a larger panel; "
            "or runs_off = true, if it should run off the edge",
        ),
        (
            {"width": "1in", "least_gap": "1in"},
            "row-cannot-be-so-narrow",
            "a larger width, or less space between the letters",
        ),
        ({"width": "3in", "cap_height": "3in"}, "width-and-height", "leave out one of them"),
        (
            {"width": "3in", "align": "spread"},
            "width-of-a-spread-row",
            "a letter height instead of the width, or another align",
        ),
        ({"width": "26in", "text": "Ij"}, "rows-too-high", None),
    ],
)
def test_a_width_that_cannot_be_is_refused_with_what_to_do(
    row: dict[str, Any], kind: str, fix: str | None
) -> None:
    with pytest.raises(Refusal) as refused:
        place_rows(design_from_mapping({"row": [{"text": "boat", **row}]}))
    (problem,) = refused.value.problems
    assert problem.kind == kind
    assert fix is None or str(problem.fix) == fix


LONG = "a long line of words that goes on"


def test_a_long_row_that_makes_all_others_small_is_said_with_the_height_that_they_could_have() -> None:
    """That height is what they do have once the long row states its own."""
    panel = {"width": "40in", "height": "50in"}
    plan = _plan("SHORT", LONG, "WORDS", panel=panel)
    (notice,) = [one for one in plan.notices if one.kind == "row-holds-all-down"]
    long = plan.rows[1]
    design = design_from_mapping(
        {
            "row": [
                {"text": "SHORT"},
                {"text": LONG, "cap_height": f"{long.cap_height}in"},
                {"text": "WORDS"},
            ],
            "lettering": {"font": "Fredoka"},
            "panel": panel,
        }
    )
    short, same, _ = place_rows(design).rows
    assert (notice.where.row, same.cap_height) == (2, long.cap_height)
    assert as_length(long.cap_height, Units.INCHES, denominator=16) in dict(notice.what.fields).values()
    assert as_length(short.cap_height, Units.INCHES, denominator=16) in dict(notice.what.fields).values()
    assert short.cap_height >= 2 * same.cap_height
    assert not [one for one in place_rows(design).notices if one.kind == "row-holds-all-down"]


@pytest.mark.parametrize("rows", [("A", "CONGRATULATIONS"), (LONG,), (LONG, LONG)])
def test_no_row_holds_others_down_that_are_as_long_or_one_long_word(rows: tuple[str, ...]) -> None:
    assert "row-holds-all-down" not in {one.kind for one in _plan(*rows).notices}


def test_a_long_row_is_not_blamed_where_the_height_of_the_panel_decides() -> None:
    plan = _plan(LONG, "I", panel={"width": "60in", "height": "8in"}, lettering={"row_gap": "2in"})
    assert "row-holds-all-down" not in {one.kind for one in plan.notices}
