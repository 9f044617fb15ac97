"""Letters and rows turned by hand: what may be written, where it is said, and what the page does with it."""

from __future__ import annotations

import math
from typing import Any

import pypdfium2
import pytest
import shapely

from applique.design import Design, design_from_mapping
from applique.errors import Refusal
from applique.language import american
from applique.panel import PanelPlan, place_rows
from applique.pattern import draft, sketch
from applique.sewing.findings import FindingKind
from applique.sheets import templates_pdf
from applique.sheets.guide import placement_guide_pdf
from applique.web.findings import finding_views
from applique.web.moves import moved, put_back
from applique.web.views import drawing_view


def _design(*rows: dict[str, Any], **tables: Any) -> Design:
    lettering = {"font": "Montserrat", "cap_height": "4in", **tables.pop("lettering", {})}
    return design_from_mapping({"row": list(rows), "lettering": lettering, **tables})


def _plan(*rows: dict[str, Any], **tables: Any) -> PanelPlan:
    return place_rows(_design(*rows, **tables))


@pytest.mark.parametrize("turn", [361, -360.5, math.inf, "15"])
def test_a_turn_of_more_than_once_round_is_refused(turn: Any) -> None:
    for row in ({"text": "A", "turn": turn}, {"text": "A", "nudge": [{"letter": 1, "turn": turn}]}):
        with pytest.raises(Refusal, match="turn"):
            _design(row)


def test_an_l_turned_left_by_a_quarter_lies_on_its_back() -> None:
    """Its foot, at the lower right, comes up on the right: counter-clockwise."""
    (cut,) = _plan({"text": "L", "nudge": [{"letter": 1, "turn": 90}]}).rows[0].cuts
    (upright,) = _plan({"text": "L"}).rows[0].cuts
    wide, high = (upright.ink[side + 2] - upright.ink[side] for side in (0, 1))
    assert [cut.ink[2] - cut.ink[0], cut.ink[3] - cut.ink[1]] == pytest.approx([high, wide])
    shape = cut.place.shape(cut.shape)
    right, left = (shapely.box(x, cut.ink[1], x + 0.3, cut.ink[3]) for x in (cut.ink[2] - 0.3, cut.ink[0]))
    assert shape.intersection(right).area > 2 * shape.intersection(left).area


def test_moving_a_letter_of_a_turned_row_moves_it_along_the_row_and_no_other() -> None:
    still, shifted = (
        _plan({"text": "HI", "turn": 90, "nudge": [{"letter": 2, "right": f"{right}in", "up": "1in"}]}).rows[
            0
        ]
        for right in (0, 2)
    )
    assert shifted.cuts[0].place == still.cuts[0].place
    first, second = still.cuts[1].place, shifted.cuts[1].place
    assert (second.x - first.x, second.y - first.y) == pytest.approx((0, 2))


def test_words_up_the_side_may_be_longer_than_the_panel_is_wide() -> None:
    panel = {"width": "10in", "height": "40in", "margin": "1in"}
    with pytest.raises(Refusal, match="wide"):
        _plan({"text": "HARBOR"}, panel=panel)
    plan = _plan({"text": "HARBOR", "turn": 90}, panel=panel)
    assert plan.notices == ()
    assert plan.rows[0].ink[3] - plan.rows[0].ink[1] > 10
    with pytest.raises(Refusal, match="beyond the finished panel"):
        _plan({"text": "HARBOR", "turn": 45}, panel=panel)


def test_a_tilted_letter_that_reaches_the_next_but_one_is_found() -> None:
    """A long dash turned over the dot between lies within a gap of the letter behind it."""
    row = {"text": "—.I", "least_gap": "0in"}
    for turn, expected in ((90, set()), (-30, {"—I"})):
        nudge = [{"letter": 1, "right": "9/4in", "up": "3/2in", "turn": turn}]
        pattern = draft(_design({**row, "nudge": nudge}))
        found = [f for f in pattern.findings if f.kind is FindingKind.CLEAR]
        assert {spot.text for finding in found for spot in finding.spots} & {"—I"} == expected


def test_rows_that_are_not_neighbors_and_are_turned_into_each_other_are_found() -> None:
    rows: list[dict[str, Any]] = [
        {"text": "HH", "baseline": f"{down}in", "right": "-8in"} for down in (8, 18, 28)
    ]
    rows[1]["right"] = "8in"
    assert [f for f in draft(_design(*rows)).findings if f.kind is FindingKind.ROWS] == []
    rows[2] = {**rows[2], "text": "HHHHH", "right": "-9in", "up": "7in", "turn": 90}
    (found,) = (f for f in draft(_design(*rows)).findings if f.kind is FindingKind.ROWS)
    assert (found.row, found.measure) == (3, 0.0)


def test_the_shape_behind_a_word_is_drawn_upright_however_its_first_letter_is_turned() -> None:
    word = {"outline": {"around": "words"}, "lettering": {"outline": "1/4in"}}
    pattern = draft(_design({"text": "LO", "turn": 10, "nudge": [{"letter": 1, "turn": 40}]}, **word))
    assert {piece.place.turn_deg for piece in pattern.outlines} == {10}
    letters = shapely.union_all([cut.place.shape(cut.shape) for cut in pattern.panel.rows[0].cuts])
    behind = shapely.union_all([piece.place.shape(piece.shape) for piece in pattern.outlines])
    assert behind.buffer(1e-3).covers(letters.buffer(0.249))


def test_the_guide_says_how_far_letters_and_rows_are_turned() -> None:
    """The distances are worked out here from the corners of the letters, which are straight."""
    rows = (
        {"text": "HI", "baseline": "10in", "nudge": [{"letter": 2, "turn": -30}]},
        {"text": "HH", "baseline": "25in", "turn": 45},
    )
    pattern = draft(_design(*rows))
    pages = pypdfium2.PdfDocument(placement_guide_pdf(pattern))
    text = " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())
    one = pattern.panel.rows[0].cuts[1]
    corners = [one.place.point(point) for point in shapely.get_coordinates(one.shape)]
    low = min(y for _, y in corners) - pattern.panel.rows[0].baseline
    assert "turned 30° to the right from upright, its lowest point" in text
    assert pattern.marks[0].letters[1].above_baseline == pytest.approx(low, abs=1e-3)
    (left, top), (right, bottom) = pattern.marks[1].ends
    plain = draft(_design(rows[0], {"text": "HH", "baseline": "25in"})).marks[1]
    half = (plain.right - plain.left) / 2 * math.sqrt(0.5)
    rise = 2 * math.sqrt(0.5)
    assert (left, right) == pytest.approx((rise - half, rise + half))
    assert (top, bottom) == pytest.approx((23.25 + rise + half, 23.25 + rise - half))
    assert "turned 45° to the left from level: baseline from" in text
    run = math.sqrt(0.5) * 2
    for letter, cut in zip(pattern.marks[1].letters, pattern.panel.rows[1].cuts, strict=True):
        # Plumb with the middle that its template shows, however the letter lies.
        x0, _, x1, _ = cut.shape.bounds
        assert letter.tick.x == pytest.approx(cut.place.point(((x0 + x1) / 2, 0.0))[0], abs=1e-6)
        assert letter.middle == pytest.approx(letter.tick.x - 15, abs=1e-6)
        assert letter.tick_down == pytest.approx(23.25 + rise - (letter.tick.x - 15 - run), abs=1e-6)


def test_the_page_draws_turned_letters_and_keeps_their_turn_when_they_are_moved() -> None:
    design = _design({"text": "HI", "turn": 90, "nudge": [{"letter": 2, "turn": -20}]})
    drawing = drawing_view(sketch(design), design, american())
    assert [cut["turn"] for cut in drawing["rows"][0]["cuts"]] == [90, 70]
    (start_x, start_y), (end_x, end_y) = drawing["rows"][0]["line"]
    assert start_x == pytest.approx(end_x)
    assert start_y > end_y
    before, after = (
        place_rows(one).rows[0].cuts[1].place
        for one in (design, moved(design, row=1, letter=2, right="1in", up="0.5in"))
    )
    assert (after.x - before.x, after.y - before.y) == pytest.approx((1, 0.5))
    assert after.turn_deg == 70
    assert put_back(design, row=1, letter=2).row[0].nudge == ()
    assert put_back(design, row=1, letter=2).row[0].turn == 90
    assert put_back(design, row=1, letter=None) == _design({"text": "HI"})


def test_a_row_turned_off_its_margin_can_be_put_back_by_the_cure_of_the_page() -> None:
    design = _design({"text": "HARBOR", "turn": 30}, panel={"width": "30in", "height": "18in"})
    pattern = draft(design)
    assert [notice.what for notice in pattern.notices if "inside the margin" in str(notice.what)]
    cures = [
        cure["design"]["row"][0]
        for view in finding_views(pattern, american(), cured=False)
        for cure in view["cures"]
    ]
    assert cures
    assert all("turn" not in row for row in cures)


def test_a_heap_of_turned_rows_is_not_measured_row_by_row_against_all() -> None:
    """Thirty rows on one spot are 435 pairs."""
    heap = [{"text": "I", "baseline": "20in", "turn": 3, "cap_height": "1in"}] * 30
    told = [notice for notice in _plan(*heap).notices if "overlap" in str(notice.what)]
    assert 30 < len(told) < 30 * 13 - 1


def test_each_of_several_letters_of_a_template_says_how_it_is_turned() -> None:
    """Two of three O's lean either way; seven I's, six of them turned, are more than a label has room for."""
    turns = [{"letter": letter, "turn": turn} for letter, turn in ((2, 10), (3, -8.5))]
    tipped = [{"letter": letter, "turn": 5 * letter} for letter in range(2, 8)]
    pattern = draft(_design({"text": "HOO", "nudge": turns}, {"text": "OIIIIIII", "nudge": tipped[:6]}))
    lines = {
        template.text: [
            line
            for page in pattern.sheets.pages
            for item in page.items
            if item.template == template.number
            for line in item.label.lines
        ]
        for template in pattern.templates
    }
    assert lines["O"][-2:] == ["row 1, letter 2: 10° to the left", "row 1, letter 3: 8.5° to the right"]
    assert [line for line in lines["I"] if "°" in line] == [
        f"row 2, letter {letter}: {5 * letter}° to the left" for letter in (2, 3, 4)
    ]
    assert lines["I"][-1] == "3 more turned: see guide"
    assert not any("°" in line for line in lines["H"])
    pages = pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=False))
    text = " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())
    assert "row 1, letter 3: 8.5° to the right" in text
    assert text.count("turned: see label") == 4
