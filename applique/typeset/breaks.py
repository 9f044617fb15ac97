"""Where a line of text may end: never between a number and what it counts, on paper or on a page."""

from __future__ import annotations

import re
from typing import Final

__all__ = ["UNBROKEN", "line_words", "loose_words", "tied"]

UNBROKEN: Final = "\u00a0"
"""A space at which no line ends; like every space it is drawn as a plain one, for whoever searches the sheet."""
_SPACE: Final = rf"[^\S{UNBROKEN}]+"
_COUNTS: Final = r"(?<=\d)\s(?=[^\W_]|%)"
"""After a number that counts or measures what follows it: `17 B`, `1 spool`, `13 1/8 in`, `100 %`."""
_TIMES: Final = r"\s(?=[×÷])|(?<=[×÷])\s|(?<=\d)\s(?=\S\s[×÷])"
"""Around a sign of arithmetic, and before any sign, a mark too, that is counted by one: `24 ’ × 2`."""
_NUMBERED: Final = r"(?<=[^\W\d_])\s(?=\d+(?:[–-]\d+)?(?:[.,;:)]?(?:\s[·•]|$)|[.,;:)](?!\d)))"
"""Before a number that a word leads to: `page 5`, `steps 18–19`, `row 2.`"""
_LETTERED: Final = r"(?<=\w)\s(?=[^\W\d_][.,;:](?:\s|$))|(?<=\b[A-Z])\s(?=[a-z]\b)"
"""Before one letter that ends a sentence, and between those of a piece: `piece a.`, `B a`."""
_DOTTED: Final = "|".join(
    rf"(?<={name})\s(?=·\s\S{{1,2}}(?!\S))|(?<={name}\s·)\s(?=\S{{1,2}}(?!\S))"
    for name in (r"\d", r"\d[a-z]")
)
"""Around the dot between the number of a template, or of a part of it, and its letter: `12 · I`, `2a · i,`."""
_TIED: Final = re.compile(f"{_COUNTS}|{_TIMES}|{_NUMBERED}|{_LETTERED}|{_DOTTED}")
_LOOSE: Final = re.compile(rf"(?!(?<=\d)\s(?:%|in|ft|yd|mm|cm|m)(?!\w))(?!(?<=\d)\s\d+/\d){_SPACE}")
"""Where a line too narrow for that may end: still not before a percent sign, a unit or the fraction of a number."""


def tied(text: str) -> str:
    """`text` with spaces at which no line ends wherever a number would be torn from what it counts."""
    return _TIED.sub(UNBROKEN, text)


def line_words(text: str) -> list[str]:
    """What a line may not be broken in, in its order; words with `UNBROKEN` between them are one."""
    return [word.replace("\0", " ") for word in re.split(_SPACE, _TIED.sub("\0", text)) if word]


def loose_words(text: str) -> list[str]:
    """The same for a line that is too narrow for some of them."""
    return [word for word in _LOOSE.split(text) if word]
