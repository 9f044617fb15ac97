"""Languages that nobody speaks.

The made-up one has every letter accented and every sentence a third longer: what is shown without accents did not
come from a catalogue; what overflows leaves no room for a translation. The loud one is written in capitals alone, for
designs whose own words are capitals: every small letter then escaped the catalogue.
"""

from __future__ import annotations

import gettext
import re
from collections.abc import Callable
from dataclasses import replace

from babel import Locale

from applique.language import Listing, Message, Speech
from applique.language import speech as speaking
from applique.language.messages import Field

__all__ = ["in_made_up", "loud", "made_up", "plain_words", "speak", "without_own_words"]

_FIELD = re.compile(r"(\{\w+\})")
_PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
_ACCENTED = "áḃçďéḟğħíĵķĺṁñóṗɋŕšťúṽŵẋýžÁḂÇĎÉḞĞĦÍĴĶĹṀÑÓṖǪŔŠŤÚṼŴẊÝŽ"
_ACCENTS = str.maketrans(_PLAIN, _ACCENTED)


def in_made_up(template: str) -> str:
    """`template` as the made-up language has it: its fields untouched, every third letter said twice."""
    letters = 0

    def said(found: re.Match[str]) -> str:
        nonlocal letters
        letters += 1
        letter = found[0].translate(_ACCENTS)
        return letter if letters % 3 else letter + letter.lower()

    parts = _FIELD.split(template)
    return "".join(part if _FIELD.fullmatch(part) else re.sub("[A-Za-z]", said, part) for part in parts)


class _Texts(gettext.NullTranslations):
    def gettext(self, message: str) -> str:
        return in_made_up(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return in_made_up(msgid1 if n == 1 else msgid2)


def made_up() -> Speech:
    """The made-up language; its numbers and lists are American."""
    return Speech(
        tag="en-x-madeup", locale=Locale.parse("en_US"), texts=_Texts(), signs=frozenset(_PLAIN + _ACCENTED)
    )


class _Loud(gettext.NullTranslations):
    def gettext(self, message: str) -> str:
        return "".join(part if _FIELD.fullmatch(part) else part.upper() for part in _FIELD.split(message))

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


def loud() -> Speech:
    """The language of capitals; its numbers and lists are American."""
    return Speech(tag="en-x-loud", locale=Locale.parse("en_US"), texts=_Loud())


def speak(speech: Callable[[str], Speech | None]) -> None:
    """Have every room of this process ask `speech`, instead of the catalogues, how a language is spoken."""
    vars(speaking)["_spoken"] = speech


def plain_words(text: str) -> list[str]:
    """What of `text`, its unfilled fields aside, is in no made-up language."""
    return re.findall(r"[A-Za-z]+", _FIELD.sub("", text))


def without_own_words(said: Message) -> Message:
    """`said` with a dash for everything that a maker or her files have named, and of each list its first item: the
    words between items are those of CLDR."""
    return replace(said, fields=tuple((name, _without(value)) for name, value in said.fields))


def _without(value: Field) -> Field:
    match value:
        case str():
            return "–"
        case Message():
            return without_own_words(value)
        case Listing():
            return replace(value, items=(_without(value.items[0]),))
        case _:
            return value
