"""The key at the foot of a step picture: every tint that it shows and none that it does not."""

from __future__ import annotations

from typing import Any

import pytest

from applique.design import design_from_mapping
from applique.drawings import Drawing, Shape, Words, box
from applique.drawings.key import BINDING, CORNERS, LABELED, MITER, USUAL, keyed
from applique.drawings.vocabulary import DOTTED, PAPER_SIDE, RIGHT_SIDE, SECOND_SIDE, WEB
from applique.instructions import Step, instructions_of
from applique.pattern import Pattern, draft

DESIGN: dict[str, Any] = {
    "row": [{"text": "RAIN"}],
    "lettering": {"fabric": "Ink", "cap_height": "5in"},
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
    "fabric": [{"name": "Oat", "color": "#e8dfc8"}, {"name": "Ink", "color": "#203040"}],
    "panel": {"fabric": "Oat"},
    "hanging": {"sleeve": True},
}


@pytest.fixture(scope="module", params=["raw edge", "machine cut", "turned edge"])
def pattern(request: pytest.FixtureRequest) -> Pattern:
    return draft(design_from_mapping({**DESIGN, "sewing": {"method": request.param}}))


def said_in(pattern: Pattern, drawing: Drawing) -> list[str]:
    return [pattern.speech.field(mark.said) for mark in drawing.marks if isinstance(mark, Words)]


def test_every_picture_with_a_wrong_side_says_what_its_dots_are(pattern: Pattern) -> None:
    """Dots, a tint and cream stood in drawings that nobody had told apart."""
    looked_at = 0
    for chapter in instructions_of(pattern).chapters:
        for block in chapter.blocks:
            if not isinstance(block, Step) or block.drawing is None:
                continue
            fills = {mark.fill for mark in block.drawing.marks if isinstance(mark, Shape)}
            said = " ".join(said_in(pattern, block.drawing))
            if DOTTED in fills:
                looked_at += 1
                assert "wrong side" in said or "inside of the sleeve" in said, block.said
            if PAPER_SIDE in fills:
                assert "paper" in said, block.said
    assert looked_at > 5


def test_a_key_has_what_the_picture_shows_and_nothing_else(pattern: Pattern) -> None:
    """A picture that shows right sides alone, or says itself what it shows, stays as it is; a key stands below it."""
    pieces = {fill: box(0, 0, 40, 30, fill=fill) for fill in (RIGHT_SIDE, SECOND_SIDE, WEB, DOTTED)}

    def key(tints: Any, *fills: str) -> list[str]:
        drawn = Drawing(width=40, height=30, marks=tuple(pieces[fill] for fill in fills), said="")
        made = keyed(drawn, tints, pattern.speech)
        words = [mark for mark in made.marks if isinstance(mark, Words)]
        low = min(mark.outline.bounds()[1] for mark in made.marks[: len(fills)] if isinstance(mark, Shape))
        assert made.height - drawn.height == pytest.approx(low)
        assert all(mark.at[1] + mark.size < low for mark in words)
        assert all(mark.size >= 7 for mark in words)
        return said_in(pattern, made)

    assert key(USUAL, RIGHT_SIDE) == key(LABELED, DOTTED, RIGHT_SIDE) == []
    assert key(USUAL, RIGHT_SIDE, DOTTED) == ["right side", "wrong side"]
    assert key(USUAL, WEB) == ["web"]
    assert key(MITER, SECOND_SIDE, RIGHT_SIDE, DOTTED) == [
        "strip, right side",
        "top, right side",
        "wrong side",
    ]
    assert key(CORNERS, SECOND_SIDE, RIGHT_SIDE) == ["letter", "background"]
    assert key(BINDING, SECOND_SIDE, DOTTED) == ["binding, right side", "binding, wrong side"]
