"""Problems and notices: what they say of where, and that a place is data."""

from __future__ import annotations

import pytest

from applique.errors import NOWHERE, Notice, Problem, Where
from applique.language import NOTHING, message, speech_in


@pytest.mark.parametrize(
    ("where", "said"),
    [
        (NOWHERE, ""),
        (Where.in_row(2), "row 2"),
        (Where.in_row(2, "cap_height"), "row 2, cap_height"),
        (Where.in_row(2, letter=3), "row 2, letter 3"),
        (Where.in_row(2, "nudge", 1, "letter"), "row 2, nudge 1, letter"),
        (Where.key("panel"), "[panel]"),
        (Where.key("paper", "margin"), "[paper], margin"),
        (Where.key("fabric"), "[[fabric]]"),
        (Where.key("border", 1, "fabrics"), "border 1, fabrics"),
        (Where.key("title"), "title"),
        (Where(file="row 9.ttf"), "row 9.ttf"),
        (Where(letter=4).within(Where.in_row(2)).within(Where(list_row=7)), "list row 7, row 2, letter 4"),
    ],
)
def test_a_place_is_said_as_the_design_file_counts_it(where: Where, said: str) -> None:
    assert str(where) == said
    assert bool(where) == bool(said)


def test_a_place_knows_its_row_and_border_whatever_a_file_is_called() -> None:
    assert (Where.in_row(2, "font").row, Where(file="row 9.ttf").row, Where.key("row").row) == (2, None, None)
    assert (Where.key("border", 3, "width").border, Where.in_row(2).border) == (3, None)
    assert Where.in_row(2, letter=3).as_data() == {"path": ["row", 2], "letter": 3}


@pytest.mark.parametrize("kind", [Problem, Notice])
def test_what_is_said_within_a_row_keeps_its_words(kind: type[Problem] | type[Notice]) -> None:
    said = kind(
        kind="too-wide",
        what=message("“{word}” is too wide", word="OAR"),
        fix=message("a lower cap height"),
    )
    assert str(said.within(Where.in_row(1))) == "row 1: “OAR” is too wide\n  try: a lower cap height"


def test_a_notice_with_nothing_to_try_says_what_and_where_alone() -> None:
    """An empty text of gettext is the head of its catalogue."""
    notice = Notice(kind="too-wide", what=message("is too wide"), where=Where.in_row(1))
    assert (str(notice), str(notice.fix), bool(notice.fix)) == ("row 1: is too wide", "", False)


def test_nothing_to_say_is_not_the_head_of_the_catalogue() -> None:
    british = speech_in("en-GB")
    assert british is not None
    assert british.tell(NOTHING) == ""
