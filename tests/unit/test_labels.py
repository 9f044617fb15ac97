"""Labels are spelled by a bundled font, whatever the maker writes."""

from __future__ import annotations

import pytest

from applique.typeset.labels import label_outline, label_runs, label_width


@pytest.mark.parametrize(
    ("text", "fonts"),
    [
        ("Navy", ["Rubik"]),
        ("Αγάπη", ["Geologica"]),
        ("प्रेम", ["Baloo 2"]),
        ("Любовь שלום", ["Rubik"]),
        ("cut 2 · Θάλασσα", ["Rubik", "Geologica"]),
    ],
)
def test_each_script_has_its_font(text: str, fonts: list[str]) -> None:
    runs = label_runs(text)
    assert [run.font for run in runs] == fonts
    assert "".join(run.text for run in runs) == text


def test_what_no_font_has_is_shown_as_its_code_point_and_never_as_a_box() -> None:
    assert "".join(run.text for run in label_runs("日")) == "U+65E5"


def test_signs_that_nobody_sees_are_neither_shown_as_code_points_nor_drawn() -> None:
    """A name pasted from a phone, with isolates around it and a soft hyphen in it."""
    pasted = label_outline("for \u2068An\u00adna\u2069", 1.0)
    assert pasted == label_outline("for Anna", 1.0)
    assert label_width("\u2067שלום\u2069", 1.0) == label_width("שלום", 1.0)


def test_width_grows_with_size() -> None:
    assert label_width("Navy", 2.0) == pytest.approx(2 * label_width("Navy", 1.0))


def test_outlines_lie_within_the_width() -> None:
    x0, _, x1, _ = label_outline("Deep water", 1.0).bounds()
    assert x0 > -0.1
    assert x1 < label_width("Deep water", 1.0) + 0.1


def test_a_sentence_that_begins_with_an_arabic_word_still_runs_to_the_right() -> None:
    """The word is drawn first, at the left; alone or among its own it runs as Arabic does."""
    word = label_outline("سهلا", 10.0).bounds()
    sentence = label_outline("سهلا, tile A3 of 4", 10.0)
    begun = [contour.bounds() for contour in sentence.contours]
    width = label_width("سهلا", 10.0)
    assert min(box[0] for box in begun) == pytest.approx(word[0], abs=0.3)
    first = [box for box in begun if box[2] <= width + 0.1]
    assert max(box[3] for box in first) == pytest.approx(word[3], abs=0.05)
    assert min(box[1] for box in first) == pytest.approx(word[1], abs=0.05)
