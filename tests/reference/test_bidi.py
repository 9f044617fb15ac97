"""The order of a text from left to right, against the conformance test of Unicode.

Source: BidiCharacterTest.txt of the Unicode Character Database 15.0.0; the excerpt beside this file
says how it was cut.
All 91,707 cases of the whole file passed when the way was chosen (decision 6).
"""

from __future__ import annotations

from pathlib import Path

from applique.typeset.runs import visual_runs
from applique.typeset.signs import letter_numbers

EXCERPT = Path(__file__).parent / "bidi_character_test.txt"
RIGHTWARD = {"0": True, "1": False, "2": None}


def test_texts_of_two_directions_are_ordered_as_unicode_says() -> None:
    cases = [line.split(";") for line in EXCERPT.read_text("utf-8").splitlines() if line[0] != "#"]
    assert len(cases) > 300
    for points, direction, _, levels, order in cases:
        text = "".join(chr(int(point, 16)) for point in points.split())
        told = [None if level == "x" else int(level) % 2 == 0 for level in levels.split()]
        ours: list[tuple[int, bool]] = []
        for run in visual_runs(text, letter_numbers(text), RIGHTWARD[direction]):
            places = range(run.start, run.end)
            ours += [(place, run.rightward) for place in (places if run.rightward else reversed(places))]
        assert sorted(place for place, _ in ours) == list(range(len(text)))
        theirs = [(int(place), told[int(place)]) for place in order.split()]
        assert [found for found in ours if told[found[0]] is not None] == theirs, points


def test_a_long_text_is_ordered_in_more_passes() -> None:
    """Closed form: letters of one direction come out reversed, a number among them does not (UAX 9, L2)."""
    text = "אב" * 5_000 + "12345" + "גד" * 50
    (first, digits, last) = visual_runs(text, letter_numbers(text), None)
    assert (first.start, first.end, first.rightward) == (10_005, len(text), False)
    assert (digits.start, digits.end, digits.rightward) == (10_000, 10_005, True)
    assert (last.start, last.end, last.rightward) == (0, 10_000, False)


def test_signs_that_mark_our_places_may_stand_in_a_text() -> None:
    """Tags and variation selectors are as unseen in a right-to-left word as elsewhere."""
    text = "א\U000e0041ב\U000e0100 2"
    runs = visual_runs(text, letter_numbers(text), None)
    assert [(run.start, run.end, run.rightward) for run in runs] == [(5, 6, True), (0, 5, False)]
