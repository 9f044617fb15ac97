"""What the program says, in a language that nobody speaks: nothing of it is said past the catalogue."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest

from applique.design import design_from_mapping
from applique.errors import Notice, Problem, Refusal
from applique.language import Message, any_of, listed, message, messages
from applique.pattern import draft
from applique.units import Units, as_both, as_yardage
from tests.made_up import in_made_up, made_up, plain_words, without_own_words

WRONG: tuple[dict[str, Any], ...] = (
    {"row": [{"text": "OAR", "cap_height": "seven"}], "panel": {"width": 7}},
    {"row": [{"text": "OAR", "fabric": "Sky"}], "fabrik": []},
    {"row": [{"text": ""}], "lettering": {"align": "middle"}},
    {"row": [{"text": "OAR", "cap_height": "90in"}]},
)


def test_the_made_up_language_leaves_no_letter_plain_and_is_a_third_longer() -> None:
    said = in_made_up("{count} letters of “{name}”: trace them once")
    assert said == "{count} ĺéťťťéŕŕš óḟḟ “{name}”: ťŕááçé ťťħéṁṁ óñççé"
    assert plain_words(said) == []
    assert plain_words("{count} ĺéťť mirrored") == ["mirrored"]


@pytest.mark.parametrize(
    "said",
    [
        message("“{name}” is not here", name="Sky"),
        messages("{count} letter", "{count} letters", 2),
        messages("{count} letter", "{count} letters", 1),
        message(
            "{length} by {width}",
            length=as_both(7, Units.INCHES),
            width=as_yardage(Fraction(9), Units.INCHES),
        ),
        message("one of {names}, or {others}", names=any_of(["Sky", "Oat"]), others=listed(["Rust", "Fog"])),
    ],
    ids=str,
)
def test_every_part_of_a_message_is_said_in_its_language(said: Message) -> None:
    assert plain_words(made_up().tell(without_own_words(said))) == []


def _said(parts: tuple[Problem | Notice, ...]) -> Iterator[Message]:
    for part in parts:
        yield from (words for words in (part.what, part.fix) if isinstance(words, Message))


def _refused(data: dict[str, Any]) -> tuple[Problem, ...]:
    with pytest.raises(Refusal) as caught:
        draft(design_from_mapping(data))
    return caught.value.problems


def test_refusals_and_notices_are_said_in_the_language_of_whoever_reads() -> None:
    """Of a design that nobody has a translation for, and of designs that cannot be made."""
    pattern = draft(design_from_mapping({"language": "fr", "row": [{"text": "OAR"}]}))
    told = [*_said(pattern.notices), *(words for data in WRONG for words in _said(_refused(data)))]
    assert told
    for words in told:
        assert plain_words(made_up().tell(without_own_words(words))) == [], str(words)
