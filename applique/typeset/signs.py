"""What the characters of a text are: letters as a reader counts them, spaces, and signs that nobody ever sees."""

from __future__ import annotations

import unicodedata
from typing import Final

import regex

__all__ = ["is_unseen", "letter_numbers", "plain_text", "without_idle_signs"]

_GRAPHEME: Final = regex.compile(r"\X")
_UNSEEN: Final = regex.compile(r"[\p{Default_Ignorable_Code_Point}\ufff9-\ufffb]")
_BETWEEN: Final = regex.compile(
    r"(?V1)[\p{Default_Ignorable_Code_Point}&&\p{Grapheme_Cluster_Break=Control}]"
)
"""Unseen signs that stand by themselves (direction marks, soft hyphen, BOM); joiners belong to a letter."""
_IDLE: Final = regex.compile(
    r"(?V1)[\p{Default_Ignorable_Code_Point}&&\p{Joining_Type=Transparent}]"
    r"(?<![\u034f\u17b4\u17b5\u180b-\u180f])|[\u3164\uffa0]"
)
"""Unseen signs that change no letter: not joiners, isolates, nor those of Khmer and Mongolian, which change some."""
_OGHAM_SPACE: Final = "\u1680"
"""The one space that some fonts draw, as a line; a space is never cut."""
_ANNOTATIONS: Final = frozenset("\ufff9\ufffa\ufffb")
"""Signs for programs only that HarfBuzz would draw as letters that the font lacks."""


def plain_text(text: str) -> str:
    """`text` composed (Unicode normalization form C); tabs, line ends and the Ogham space become plain spaces."""
    return "".join(
        " " if _is_break(character) else character
        for character in unicodedata.normalize("NFC", text)
        if character not in _ANNOTATIONS
    )


def _is_break(character: str) -> bool:
    return character == _OGHAM_SPACE or (character.isspace() and unicodedata.category(character) != "Zs")


def is_unseen(character: str) -> bool:
    """Whether `character` steers other characters and is never drawn: direction marks, joiners, soft hyphens.

    Source:
        Unicode property Default_Ignorable_Code_Point (UAX 44), and the interlinear annotations U+FFF9 to U+FFFB.
    """
    return bool(_UNSEEN.match(character))


def letter_numbers(text: str) -> tuple[int, ...]:
    """For each character of `text` the number of the letter it belongs to, from 1; 0 for spaces and unseen signs.

    A letter is what a reader takes for one: a base with its accents and vowel signs, or a whole conjunct.

    Source:
        Extended grapheme clusters (UAX 29), formed as if direction marks and soft hyphens were not there.
    """
    places = [place for place, character in enumerate(text) if not _BETWEEN.match(character)]
    numbers, count = [0] * len(text), 0
    for cluster in _GRAPHEME.finditer("".join(text[place] for place in places)):
        if all(character.isspace() or is_unseen(character) for character in cluster[0]):
            continue
        count += 1
        first, last = places[cluster.start()], places[cluster.end() - 1]
        numbers[first : last + 1] = [count] * (last + 1 - first)
    return tuple(numbers)


def without_idle_signs(text: str, at_work: frozenset[str]) -> tuple[int, ...]:
    """The places of `text` that are left without unseen signs that change no letter, but for those `at_work` in a font.

    Fonts match the letters around a letter, and a soft hyphen or a mark of direction would stand between.
    """
    return tuple(
        place for place, character in enumerate(text) if character in at_work or not _IDLE.match(character)
    )
