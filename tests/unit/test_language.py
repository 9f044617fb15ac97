"""Messages, measures and lists, as a language says them."""

from __future__ import annotations

import gettext
from fractions import Fraction
from typing import Any

import pytest
from babel import Locale

from applique.language import Measure, Speech, Unit, american, any_of, listed, message, messages, speech_in

GERMAN = {"{number} in": "{number} Zoll", "{length} by {width}": "{width} mal {length}"}


class _Texts(gettext.NullTranslations):
    def gettext(self, message: str) -> str:
        return GERMAN.get(message, message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return f"{{count}} Buchstabe{'' if n == 1 else 'n'}"


def _german() -> Speech:
    return Speech(tag="de", locale=Locale.parse("de"), texts=_Texts())


def _inches(number: Any) -> Measure:
    return Measure(number=Fraction(number), unit=Unit.INCH, as_fraction=True)


@pytest.mark.parametrize(
    ("number", "said"),
    [("29/4", "7 1/4 in"), ("3/8", "3/8 in"), ("-1/8", "−1/8 in"), ("0", "0 in"), ("-2", "−2 in")],
)
def test_inches_are_said_in_fractions(number: str, said: str) -> None:
    assert str(_inches(number)) == said


def test_a_language_has_its_own_words_order_and_decimals() -> None:
    half = Measure(number=Fraction(37, 2), unit=Unit.CENTIMETER, as_fraction=False)
    said = message("{length} by {width}", length=_inches("3/2"), width=half)
    assert (str(said), _german().tell(said)) == ("1 1/2 in by 18.5 cm", "18,5 cm mal 1 1/2 Zoll")


@pytest.mark.parametrize(
    ("count", "said", "german"),
    [
        (1, "1 letter", "1 Buchstabe"),
        (2, "2 letters", "2 Buchstaben"),
        (1234, "1,234 letters", "1.234 Buchstaben"),
    ],
)
def test_plurals_are_those_of_the_language(count: int, said: str, german: str) -> None:
    told = messages("{count} letter", "{count} letters", count)
    assert (str(told), _german().tell(told)) == (said, german)


def test_lists_end_as_the_language_ends_them() -> None:
    """Serial comma of American English and none in German: CLDR, list patterns."""
    names = ("Oat", "Sky", "Rust")
    assert american().field(listed(names)) == "Oat, Sky, and Rust"
    assert american().field(any_of(names)) == "Oat, Sky, or Rust"
    assert _german().field(listed(names)) == "Oat, Sky und Rust"


def test_words_of_a_maker_are_never_read_as_a_template() -> None:
    assert str(message("“{name}” is not here", name="{count} a}{b")) == "“{count} a}{b” is not here"


def test_a_template_that_names_what_is_not_there_is_a_fault() -> None:
    with pytest.raises(KeyError):
        str(message("{width} wide"))


def test_english_is_american_and_what_nobody_translated_is_not_there() -> None:
    assert speech_in("en") is american() is speech_in("en-US")
    assert [speech_in(tag) for tag in ("fr", "tlh", "x", "")] == [None] * 4


def test_a_language_tells_the_characters_that_its_sheets_have_to_spell() -> None:
    british = speech_in("en-GB")
    assert british is not None
    assert {*"“colour”", ",", "."} <= british.signs
    assert not american().signs
