"""What is said, as text of HTML: escaped, measures on one line, a maker's own words in their own direction."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import replace
from html import escape
from typing import Final

from applique.language import Field, Listing, Message, Speech
from applique.typeset.breaks import UNBROKEN, tied

__all__ = ["Wording"]

_NAME: Final = re.compile(r"\{(\w+)\}")
_OTHER_WAY: Final = frozenset(
    ["R", "AL", "AN", "LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"]
)
"""Kinds of characters that turn the text around them, by the Unicode bidirectional algorithm (UAX #9)."""


class Wording:
    """How one language says it on the page."""

    def __init__(self, speech: Speech) -> None:
        self._speech = replace(speech, space=UNBROKEN)

    @property
    def tag(self) -> str:
        """The language, as HTML names it."""
        return self._speech.tag

    @property
    def direction(self) -> str:
        """Which way its lines run: `ltr` or `rtl`."""
        return "rtl" if self._speech.locale.text_direction == "right-to-left" else "ltr"

    def plain(self, said: Field) -> str:
        """The words as they are, for measuring and comparing."""
        return self._speech.field(said)

    def attribute(self, said: Field) -> str:
        """The words for an attribute, or for text that can hold no markup."""
        return escape(self.plain(said), quote=True)

    def html(self, said: Field) -> str:
        """The words for the text of an element; what a maker wrote in letters that run to the left is set apart."""
        match said:
            case Message():
                return self._told(said)
            case Listing():
                items = tuple(self.html(item) for item in said.items)
                return tied(self._speech.listing(replace(said, items=items)))
            case str():
                return self._own(said)
            case _:
                return self.attribute(said)

    def _told(self, said: Message) -> str:
        if not said:
            return ""
        fields = dict(said.fields)
        text = escape(self._speech.template(said), quote=True)
        return tied(_NAME.sub(lambda found: self.html(fields[found[1]]), text))

    @staticmethod
    def _own(text: str) -> str:
        safe = escape(text, quote=True)
        turns = any(unicodedata.bidirectional(character) in _OTHER_WAY for character in text)
        return f"<bdi>{safe}</bdi>" if turns else safe
