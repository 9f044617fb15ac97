"""A drawing that follows somebody who types: what the last key left as it was is not worked out again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from applique.design import Design, design_from_mapping
from applique.language import american
from applique.pattern import sketch
from applique.typeset.fonts import open_typeface
from applique.typeset.remembered import Remembered
from applique.typeset.shaping import Letter
from applique.typeset.spacing import set_row
from applique.web.views import drawing_view

ROWS = ("OARS OUT", "HEAVE", "HOLD HER STEADY")


def design(*rows: str, **lettering: str) -> Design:
    return design_from_mapping(
        {
            "row": [{"text": row} for row in rows],
            "panel": {"width": "60in", "height": "48in"},
            "lettering": {"font": "Fredoka", **lettering},
        }
    )


@pytest.mark.parametrize("lettering", [{}, {"cap_height": "3 3/8in"}])
def test_a_key_sets_no_row_but_its_own(monkeypatch: pytest.MonkeyPatch, lettering: dict[str, str]) -> None:
    """The widest row decides how high the letters are, so that a letter more of another changes nothing else."""
    before = sketch(design(*ROWS, **lettering))
    asked: list[str] = []

    def noted(letters: Sequence[Letter], *rest: Any) -> Any:
        asked.append("".join(letter.text for letter in letters))
        return set_row(letters, *rest)

    monkeypatch.setattr("applique.panel.requests.set_row", noted)
    after = sketch(design("OARS OUT", "HEAVED", "HOLD HER STEADY", **lettering), after=before)
    assert set(asked) == {"HEAVED"}
    assert len(asked) == 2 - bool(lettering)
    assert after.panel.rows[0] == before.panel.rows[0]


WORDS = st.lists(st.text("AIMWOR ", min_size=1, max_size=14).filter(str.strip), min_size=1, max_size=4)


@settings(max_examples=25, deadline=None)
@given(first=WORDS, then=WORDS, even=st.booleans())
def test_what_was_drawn_before_has_no_part_in_what_is_drawn(
    first: list[str], then: list[str], even: bool
) -> None:
    """The same words fit at the same height, whatever stood there before them."""
    spacing = {"spacing": "even" if even else "font"}
    before = sketch(design(*first, **spacing))
    asked = design(*then, **spacing)
    at_once, followed = sketch(asked), sketch(asked, after=before)
    assert drawing_view(followed, asked, american()) == drawing_view(at_once, asked, american())


def test_what_is_remembered_is_begun_anew_when_there_is_too_much(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("applique.typeset.remembered._MOST", 2)
    kept: Remembered[int, int] = Remembered()
    face, worked = open_typeface("Fredoka"), []

    def squared(number: int) -> int:
        return kept.of(face, number, lambda: worked.append(number) or number * number)  # type: ignore[func-returns-value]

    assert [squared(number) for number in (1, 2, 1, 2, 3, 3, 1)] == [1, 4, 1, 4, 9, 9, 1]
    assert worked == [1, 2, 3, 1]
