"""Rows that run down on a panel: where they lie beside the others, how they are marked, and what is refused."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from applique.design import Design, design_from_mapping
from applique.errors import Refusal
from applique.instructions.values import ChapterKind
from applique.language import american
from applique.panel import PanelPlan, place_rows
from applique.pattern import Pattern, draft
from applique.sewing.cures import CureKind, check_design, cures
from applique.sheets import placement_guide_pdf
from applique.typeset.downward import PITCH
from applique.web.findings import problem_views
from tests.chapters import chapter_of, said_in
from tests.unit.down_font import build

MARIE: Mapping[str, Any] = {"text": "MARIE", "direction": "down"}
ANN: Mapping[str, Any] = {"text": "ANN", "direction": "down"}
SEWS: Mapping[str, Any] = {"text": "sews"}


def _design(*rows: Mapping[str, Any], cap_height: str = "fit", **more: Any) -> Design:
    lettering = {"font": "Fredoka", "cap_height": cap_height, **more.pop("lettering", {})}
    return design_from_mapping(
        {
            "panel": {"width": "30in", "height": "40in", **more.pop("panel", {})},
            "lettering": lettering,
            "row": [dict(row) for row in rows],
            **more,
        }
    )


def _panel(*rows: Mapping[str, Any], **more: Any) -> PanelPlan:
    return place_rows(_design(*rows, **more))


@pytest.fixture(scope="module")
def both() -> Pattern:
    return draft(_design(MARIE, SEWS, {"text": "kind"}, cap_height="4in"))


def test_letters_stand_below_one_another_on_one_line_and_share_templates_with_rows_across() -> None:
    down, across = _panel(MARIE, {"text": "MARIE"}, cap_height="3in").rows
    middles = [(cut.ink[0] + cut.ink[2]) / 2 for cut in down.cuts]
    assert middles == pytest.approx([down.line.points(down.ink)[0][0]] * 5)
    steps = [upper.place.y - lower.place.y for upper, lower in pairwise(down.cuts)]
    assert steps == pytest.approx([PITCH * 3.0] * 4)
    assert [cut.key for cut in down.cuts] == [cut.key for cut in across.cuts]
    assert [cut.text for cut in down.cuts] == list("MARIE")


def test_columns_and_block_have_equal_white_beside_and_between_them() -> None:
    """By hand: 30 in less the three widths, in four equal parts."""
    left, right, block = _panel(MARIE, ANN, SEWS, cap_height="3in").rows
    widths = [row.ink[2] - row.ink[0] for row in (left, right, block)]
    white = (30 - sum(widths)) / 4
    x = 0.0
    for row, wide in zip((left, right, block), widths, strict=True):
        assert row.ink[0] == pytest.approx(x + white)
        x += white + wide
    for row in (left, right):  # and each in the middle of the height
        assert row.ink[1] == pytest.approx(40 - row.ink[3])


def test_rows_across_share_one_block_which_stands_where_the_first_of_them_does() -> None:
    first, down, last = _panel({"text": "Ida"}, MARIE, {"text": "sews"}, cap_height="2in").rows
    assert first.ink[2] < down.ink[0]
    assert last.ink[2] < down.ink[0]
    assert first.ink[0] + first.ink[2] == pytest.approx(last.ink[0] + last.ink[2])
    alone = _panel({"text": "Ida"}, {"text": "sews"}, cap_height="2in").rows
    assert [row.baseline for row in (first, last)] == [row.baseline for row in alone]


@pytest.mark.parametrize(
    ("columns", "right_first"), [("from the right", True), ("from the left", False), (None, False)]
)
def test_columns_follow_one_another_from_the_side_that_the_design_says(
    columns: str | None, right_first: bool
) -> None:
    lettering = {} if columns is None else {"columns": columns}
    one, two, three = _panel(MARIE, ANN, SEWS, cap_height="3in", lettering=lettering).rows
    order = [row.ink[0] for row in (one, two, three)]
    assert order == sorted(order, reverse=right_first)


def test_columns_of_japanese_follow_one_another_from_the_right(tmp_path: Path) -> None:
    """W3C, Requirements for Japanese Text Layout: lines of vertical writing from right to left (from memory)."""
    font = str(build(tmp_path / "square.otf"))
    one, two = _panel(
        {"text": "手花", "direction": "down"},
        {"text": "花手", "direction": "down"},
        cap_height="2in",
        lettering={"font": font},
    ).rows
    assert one.ink[0] > two.ink[2]


@pytest.mark.parametrize(
    ("align", "top", "foot"), [("left", 38.5, None), ("right", None, 1.5), ("spread", 38.5, 1.5)]
)
def test_align_moves_a_row_that_runs_down_along_the_height(
    align: str, top: float | None, foot: float | None
) -> None:
    row = _panel({**ANN, "align": align}, cap_height="3in").rows[0]
    if top is not None:
        assert row.ink[3] == pytest.approx(top)
    if foot is not None:
        assert row.ink[1] == pytest.approx(foot)
    if align == "spread":
        first, second, third = (cut.place.y for cut in row.cuts)
        assert first - second == pytest.approx(second - third)


def test_fit_is_the_largest_height_at_which_columns_and_block_fit_beside_one_another() -> None:
    """The largest sixteenth: there is room at it, and a sixteenth more is refused."""
    panel = _panel(MARIE, SEWS, {"text": "kind"})
    high = panel.rows[0].cap_height
    assert {row.cap_height for row in panel.rows} == {high}
    assert all(row.ink[1] >= 1.5 - 1e-9 and row.ink[3] <= 38.5 + 1e-9 for row in panel.rows)
    inks = sorted((row.ink[0], row.ink[2]) for row in panel.rows if row.text != "kind")
    assert inks[1][0] - inks[0][1] >= 1.0
    with pytest.raises(Refusal):
        _panel(MARIE, SEWS, {"text": "kind"}, cap_height=f"{float(high) + 1 / 16}in")


def test_what_does_not_fit_is_refused_with_the_height_that_would() -> None:
    with pytest.raises(Refusal) as long:
        _panel(MARIE, cap_height="8in")
    (problem,) = long.value.problems
    assert problem.kind == "row-too-long-down"
    assert "“MARIE” is" in str(problem.what)
    with pytest.raises(Refusal) as wide:
        _panel(ANN, SEWS, cap_height="8in")
    (problem,) = wide.value.problems
    assert problem.kind == "rows-too-wide-beside"
    fits = str(problem.fix).split("“")[1].split("”")[0].replace(" in", "in")
    assert _panel(ANN, SEWS, cap_height=fits).rows


@pytest.mark.parametrize(
    ("row", "more", "kind"),
    [
        ({**MARIE, "width": "4in"}, {}, "width-of-a-row-down"),
        ({**MARIE, "baseline": "9in", "cap_height": "3in"}, {}, "baseline-of-a-row-down"),
        ({**MARIE, "runs_off": True, "cap_height": "3in"}, {}, "row-down-runs-off"),
        ({**MARIE, "outline": "1/4in"}, {"outline": {"around": "words"}}, "words-down-outlined"),
        ({"text": "Ann", "letters_down": "turned"}, {}, "letters-down-across"),
        (
            MARIE,
            {"finish": "letters only", "lettering": {"baseline_step": "1/4in"}},
            "step-beside-a-row-down",
        ),
    ],
)
def test_what_a_row_that_runs_down_cannot_be_is_refused(
    row: Mapping[str, Any], more: Mapping[str, Any], kind: str
) -> None:
    with pytest.raises(Refusal) as refused:
        _design(row, **more)
    assert kind in [problem.kind for problem in refused.value.problems]


def test_a_letter_is_nudged_and_the_row_turned_as_in_a_row_across() -> None:
    plain = _panel(MARIE, cap_height="3in").rows[0]
    moved = _panel({**MARIE, "nudge": [{"letter": 2, "right": "1in", "up": "1/2in"}]}, cap_height="3in").rows[
        0
    ]
    assert moved.cuts[1].place.x == pytest.approx(plain.cuts[1].place.x + 1)
    assert moved.cuts[1].place.y == pytest.approx(plain.cuts[1].place.y + 0.5)
    assert moved.cuts[0] == plain.cuts[0]
    over = _panel({**MARIE, "turn": 90}, cap_height="3in").rows[0]
    (first, y), (last, other) = over.baseline_path
    assert y == pytest.approx(other)
    assert first < last  # turned to the left its top comes to the left


def test_each_letter_has_a_tick_on_the_line_level_with_its_lowest_point(both: Pattern) -> None:
    mark, row = both.marks[0], both.panel.rows[0]
    assert (mark.runs_down, mark.level, mark.slants, mark.by_word) == (True, False, False, False)
    x = row.baseline_path[0][0]
    for cut, letter in zip(row.cuts, mark.letters, strict=True):
        assert letter.tick.x == pytest.approx(x)
        assert letter.tick.y == pytest.approx(cut.ink[1])
        assert letter.tick_down == pytest.approx(40.25 - cut.ink[1])
        assert letter.above_baseline == pytest.approx(0.0)
        assert letter.tick.turn_deg == 90.0
        assert letter.own is None
    (across, top), (_, foot) = mark.ends
    assert (across, top, foot) == pytest.approx((x - 15, 40.25 - row.ink[3], 40.25 - row.ink[1]))
    assert mark.ticked == mark.letters


def test_words_that_are_turned_lie_by_their_own_baselines(tmp_path: Path) -> None:
    font = str(build(tmp_path / "square.otf"))
    pattern = draft(
        _design({"text": "手Ha", "direction": "down"}, cap_height="3in", lettering={"font": font})
    )
    (mark,) = pattern.marks
    hand, h, _ = mark.letters
    assert hand.own is None
    assert h.own is not None
    assert h.own.ends[0][0] == pytest.approx(h.own.ends[1][0])  # upright
    assert h.own.ends[0][1] > h.own.ends[1][1]  # and from the top down
    assert h.own.ends[0][0] == pytest.approx(
        pattern.panel.rows[0].baseline_path[0][0] - 1.5
    )  # half an H aside
    assert mark.ticked == (hand,)


def test_the_guide_says_how_a_row_that_runs_down_is_marked(both: Pattern) -> None:
    pages = pypdfium2.PdfDocument(placement_guide_pdf(both))
    words = " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())
    assert "A row that runs down is laid by a line down its middle, with two small crosses" in words
    assert "runs down: its line" in words
    assert words.count("lowest point and tick") == 5
    assert "A row that slants" not in words
    assert "turned" not in words
    assert (
        words.count("on its tick") == 5
    )  # the last column is there for the i of “kind”, which is in two parts


def test_the_booklet_places_letters_down_the_line(both: Pattern) -> None:
    said = _words(both)
    assert "In a row that runs down, place the letters down the line from the top" in said
    across = said.index("First the rows that run across: draw each baseline only as far as its row reaches.")
    assert across < said.index("Mark each baseline") < said.index("A row that runs down is laid by a line")
    assert "do the rows lie on their baselines, or run straight down their lines" in said
    stitching = said_in(chapter_of(both, ChapterKind.STITCHING))
    assert "Rows that run down the panel are drawn across here." in stitching


def test_letters_whose_middle_meets_them_high_are_named_in_rows_down_too() -> None:
    """The foot of P stands beside its middle: a dash there would set it off its line."""
    pattern = draft(_design({"text": "PO", "direction": "down"}, cap_height="5in"))
    letters = said_in(chapter_of(pattern, ChapterKind.LETTERS))
    assert "On P that edge is well above the baseline" in letters
    assert "hold a ruler square to the baseline" not in _words(pattern)


def test_where_all_rows_run_down_nothing_is_said_of_baselines() -> None:
    pattern = draft(_design(MARIE, ANN, cap_height="3in"))
    said = _words(pattern)
    assert "Mark each baseline" not in said
    assert "stands on its baseline" not in said
    assert "do the rows run straight down their lines" in said
    pages = pypdfium2.PdfDocument(placement_guide_pdf(pattern))
    words = " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())
    assert "baseline" not in words


@pytest.mark.parametrize("finish", ["garment", "letters only", "pillow", "banner", "top only"])
def test_rows_down_go_with_every_finish(finish: str) -> None:
    pattern = draft(_design(MARIE, SEWS, cap_height="3in", finish=finish))
    assert pattern.marks[0].runs_down
    only = draft(_design(MARIE, cap_height="3in", finish=finish))
    top = only.panel.rows[0].ink[3]
    assert only.marks[0].ends[0][1] == pytest.approx(float(only.panel.measured_from) - top)


def _words(pattern: Pattern) -> str:
    return said_in(chapter_of(pattern, ChapterKind.PLACING))


def test_where_equal_white_is_less_than_the_row_gap_the_gap_is_kept_between_and_the_rest_at_the_sides() -> (
    None
):
    one, two, block = _panel(
        MARIE, ANN, SEWS, cap_height="3in", panel={"margin": "1/4in"}, lettering={"row_gap": "5in"}
    ).rows
    widths = [row.ink[2] - row.ink[0] for row in (one, two, block)]
    assert (30 - sum(widths)) / 4 < 5
    side = (30 - sum(widths) - 2 * 5) / 2
    assert one.ink[0] == pytest.approx(side)
    assert two.ink[0] - one.ink[2] == pytest.approx(5)
    assert block.ink[0] - two.ink[2] == pytest.approx(5)
    assert 30 - block.ink[2] == pytest.approx(side)


def test_a_row_down_that_is_off_the_panel_is_not_told_to_run_off_it() -> None:
    design = _design({**MARIE, "right": "14in"}, cap_height="3in")
    with pytest.raises(Refusal) as refused:
        place_rows(design)
    (problem,) = refused.value.problems
    assert "runs_off" not in str(problem.fix)
    assert "baseline" not in str(problem.fix)
    (view,) = problem_views([problem], design, american())
    assert "run off" not in str(view["cures"])
    across = _design({"text": "MARIE", "right": "10in"}, cap_height="3in")
    with pytest.raises(Refusal) as other:
        place_rows(across)
    (view,) = problem_views(other.value.problems, across, american())
    assert "run off" in str(view["cures"])


@pytest.mark.parametrize(("direction", "spacing"), [("down", "-1/8in"), ("across", "1/4in")])
def test_one_outline_around_words_is_no_cure_where_a_row_runs_down(direction: str, spacing: str) -> None:
    row = {"text": "MARIE", "direction": direction, "letter_spacing": spacing}
    design = _design(row, cap_height="3in", lettering={"outline": "1/4in"})
    checks = check_design(design)
    offered = {cure.kind for finding in checks.findings for cure in cures(checks, finding, most=20)}
    assert CureKind.GAP in offered
    assert (CureKind.WORDS_AS_ONE in offered) == (direction == "across")


def test_rows_run_down_in_blocks_too() -> None:
    pattern = draft(
        design_from_mapping(
            {
                "finish": "top only",
                "lettering": {"font": "Fredoka", "cap_height": "2in"},
                "block": [
                    {"name": "Name", "width": "12in", "height": "20in", "row": [dict(MARIE)]},
                    {"name": "Verb", "width": "12in", "height": "20in", "row": [dict(SEWS)]},
                ],
            }
        )
    )
    assert [mark.runs_down for mark in pattern.marks] == [True, False]
    with pytest.raises(Refusal) as refused:
        design_from_mapping(
            {
                "finish": "top only",
                "block": [
                    {"name": "Name", "width": "12in", "height": "20in", "row": [{**MARIE, "width": "3in"}]}
                ],
            }
        )
    assert refused.value.problems[0].where.path == ("block", 1, "row", 1, "width")


def test_letters_of_a_small_row_keep_their_ticks() -> None:
    """Words laid by their ends would not say how far down each letter stands."""
    (mark,) = draft(_design(ANN, cap_height="3/4in")).marks
    assert mark.small
    assert not mark.by_word
    assert len(mark.ticked) == 3


def test_an_outline_behind_letters_follows_them_down() -> None:
    pattern = draft(_design({**ANN, "outline": "1/4in"}, cap_height="3in"))
    (mark,) = pattern.marks
    assert len(mark.outlines) == 3
    for letter, behind in zip(mark.letters, mark.outlines, strict=True):
        assert behind.left == pytest.approx(letter.left - 0.25, abs=1e-3)
        assert behind.right == pytest.approx(letter.right + 0.25, abs=1e-3)
        assert behind.above_baseline == pytest.approx(-0.25, abs=1e-3)  # below the tick of its letter
    said = _words(pattern)
    assert "draw each tick so long that it shows on both sides of its outline" in said
    assert "with its lowest point as far below the tick" in said
    assert "on the baseline of its row" not in said
    assert "hangs below the baseline" not in said
