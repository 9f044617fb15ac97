"""The pattern: the numbers of the placement guide, and the same value on every run."""

from __future__ import annotations

import pytest

from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.pattern import draft

DATA = {
    "title": "Row",
    "line": [{"text": "ROW"}, {"text": "HOME"}],
    "lettering": {"font": "Fredoka", "cap_height": "5in"},
    "panel": {"width": "30in", "height": "40in"},
}


def test_marks_are_measured_from_the_cut_top_edge_and_the_centre_line() -> None:
    pattern = draft(design_from_mapping(DATA))
    for mark, row in zip(pattern.marks, pattern.panel.rows, strict=True):
        assert mark.baseline_from_top == pytest.approx(40.25 - row.baseline)
        assert mark.left == pytest.approx(-mark.right)
        assert mark.left == mark.letters[0].left
        assert [letter.text for letter in mark.letters] == list(row.text)
        for letter, cut in zip(mark.letters, row.cuts, strict=True):
            assert letter.left + 15 == pytest.approx(cut.ink[0])


def test_repeated_letters_are_counted_not_repeated() -> None:
    pattern = draft(design_from_mapping(DATA))
    assert "".join(template.text for template in pattern.templates) == "ROWHME"
    assert {template.text: template.count for template in pattern.templates}["O"] == 2
    assert pattern.letter_count == 7


def test_the_same_design_gives_the_same_pattern() -> None:
    first, second = (draft(design_from_mapping(DATA)) for _ in range(2))
    assert first.fusible == second.fusible
    assert first.sheets == second.sheets
    assert first.marks == second.marks


def test_a_poem_without_a_title_gets_a_short_one() -> None:
    """Its whole text as a title made the headers of its pages slower than all the rest."""
    lines = [{"text": "the river has time and so have we", "cap_height": "1/2in"}] * 20
    tables = {"line": lines, "lettering": {"row_gap": "0in"}, "panel": {"width": "40in", "height": "60in"}}
    title = draft(design_from_mapping(tables)).title
    assert title == "the river has time and so have we the river has time and so …"


def test_a_title_is_made_of_the_words_where_none_is_given() -> None:
    assert draft(design_from_mapping({**DATA, "title": ""})).title == "ROW HOME"


def test_a_notebook_shows_the_drawing() -> None:
    pattern = draft(design_from_mapping({"line": [{"text": "A"}]}))
    assert pattern._repr_svg_().startswith("<?xml")
    assert "<svg" in pattern._repr_svg_()


def test_a_million_letters_are_refused_before_any_work() -> None:
    with pytest.raises(Refusal, match="1,000,000 letters; 10,000 are the most"):
        design_from_mapping({"line": [{"text": "A" * 2_000}] * 500})
