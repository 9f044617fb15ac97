"""Down to which usable width a plan gives every piece."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Any

import pytest

from applique.cloth import FabricPlan
from applique.design import design_from_mapping
from applique.instructions import ChapterKind
from applique.instructions.values import Table
from applique.language import Message
from applique.pattern import Pattern, draft
from applique.units import Units
from applique.words.instructions.needed import width_said
from tests.chapters import chapter_of, said_in
from tests.cutter import Strip, join

F = Fraction


def _pattern(**tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": "HI", "cap_height": "3in"}],
        "panel": {"width": "36in", "height": "30in", "fabric": "Fog"},
        "lettering": {"fabric": "Rust"},
        "binding": {"fabric": "Ink"},
        "fabric": [
            {"name": "Ink", "color": "#203040"},
            {"name": "Fog", "color": "#e0e0d8"},
            {"name": "Rust", "color": "#a05030"},
        ],
    }
    return draft(design_from_mapping(data | tables))


def _plans(pattern: Pattern) -> dict[str, FabricPlan]:
    return {buy.fabric.name: buy.cutting for buy in pattern.shopping.cloth}


def test_a_panel_or_a_row_of_squares_needs_what_it_takes() -> None:
    """36 1/2 in of panel; fourteen squares of 2 1/2 in are 35 in."""
    squares = [{"kind": "squares", "size": "2in", "fabrics": ["Rust", "Moss"]}]
    moss = {"name": "Moss", "color": "#506040"}
    pattern = _pattern(border=squares, fabric=[*_colors(), moss])
    assert _plans(pattern)["Fog"].least_width == F(73, 2)
    cloths = _plans(pattern)["Moss"].plan.cloths
    rows = Counter(region.x for cloth in cloths for region, _ in cloth.root.pieces())
    widest = max(rows.values())
    assert _plans(pattern)["Moss"].least_width == widest * F(5, 2)


def _colors() -> list[dict[str, str]]:
    return [
        {"name": "Ink", "color": "#203040"},
        {"name": "Fog", "color": "#e0e0d8"},
        {"name": "Rust", "color": "#a05030"},
    ]


def test_joined_strips_may_be_shorter_as_long_as_they_reach() -> None:
    """Binding around 36 by 30 in: 132 + 10 in from 4 strips of 40 in with three diagonal joins of 2 1/2 in, so
    (142 + 7 1/2) / 4 = 37 3/8 in: docs/sources.md, strips joined on the diagonal."""
    pattern = _pattern(yardage={"plan": "fewest kinds of cuts"})
    ink = _plans(pattern)["Ink"]
    (run,) = (run for use in ink.uses for run in use.joined)
    assert (run.strips, run.needed) == (4, F(142))
    assert ink.least_width == F(299, 8)
    assert join([Strip(length=ink.least_width, width=F(5, 2))] * 4, F(5, 2)).length == run.needed


@pytest.mark.parametrize(
    ("width", "least", "said"),
    [
        (F(40), F(299, 8), "40 in, at least 37 3/8 in"),
        (F(40), F(1199, 30), "40 in, no less"),
        (F(42), F(42), "42 in, no less"),
    ],
)
def test_the_least_width_is_rounded_up_and_never_more_than_there_is(
    width: Fraction, least: Fraction, said: str
) -> None:
    assert str(width_said(width, least, Units.INCHES)) == said


def test_fabric_of_the_stash_says_from_which_width_on_it_holds() -> None:
    """A panel of 36 1/2 in from 2 yd of 40 in."""
    pattern = _pattern(fabric=[{**one, "have": "2yd"} if one["name"] == "Fog" else one for one in _colors()])
    fog = _plans(pattern)["Fog"]
    assert fog.rule.buy == 0
    assert fog.least_width == fog.least_width_of("have 1") == F(73, 2)
    chapter = chapter_of(pattern, ChapterKind.CUTTING)
    assert "36 1/2 in is enough for these cuts, and 40 in leaves 3 1/2 in to spare" in said_in(chapter)
    (table,) = (one for one in chapter_of(pattern, ChapterKind.NEEDED).blocks if isinstance(one, Table))
    assert "40 in, at least 36 1/2 in" in [
        pattern.speech.field(cell) for row in table.rows for cell in row if isinstance(cell, Message)
    ]


def test_the_slack_of_a_run_is_shared_by_all_its_strips_from_selvage_to_selvage() -> None:
    """Binding of 142 in: two strips from a piece of the stash, two that are bought, 37 3/8 in each at the least."""
    colors = [{**one, "have": "7in"} if one["name"] == "Ink" else one for one in _colors()]
    ink = _plans(_pattern(fabric=colors, yardage={"plan": "fewest kinds of cuts", "squaring": "1/2in"}))[
        "Ink"
    ]
    strips = Counter(cloth.supply for cloth in ink.plan.cloths for _ in cloth.root.pieces())
    assert strips == {"have 1": 2, "bought": 2}
    assert ink.least_width_of("have 1") == ink.least_width_of("bought") == F(299, 8)
