"""Letters that can be taken for one another on a label: how they are spelled out.

What is here was measured in the bundled fonts: two shapes that overlap by more than 82 % of their union when both are
as large. `tests/unit/test_lookalikes.py` measures it again.
"""

from __future__ import annotations

from collections.abc import Container
from typing import Final

from fontTools.unicodedata import script

from applique.language import Message, message

__all__ = ["spelled_out", "told_apart"]

_SAME_IN_BOTH_CASES: Final = frozenset("CcIiKkLlOoPpSsUuVvWwXxZz")
_LIKE_ONE: Final = frozenset("Il")
_LIKE_ZERO: Final = frozenset("Oo0")
_CASES_ALIKE: Final = frozenset(("Cyrl", "Grek"))
"""Scripts whose small letters are mostly their capitals, made smaller."""
_NAMES: Final = {
    "0": message("zero"),
    "1": message("one"),
    "2": message("two"),
    "5": message("five"),
    "6": message("six"),
    "8": message("eight"),
    "9": message("nine"),
    "!": message("exclamation mark"),
    "|": message("upright bar"),
    "-": message("hyphen"),
    "\u2010": message("hyphen"),
    "–": message("short dash"),
    "—": message("long dash"),
    "−": message("minus"),  # the sign that is spelled out
    "_": message("underscore"),
    ".": message("period"),
    "·": message("middle dot"),
    "•": message("bullet"),
    ",": message("comma"),
    ":": message("colon"),
    ";": message("semicolon"),
    "'": message("straight apostrophe"),
    '"': message("straight quote"),
    "‘": message("opening single quote"),
    "’": message("apostrophe"),
    "“": message("opening quote"),
    "”": message("closing quote"),
    "„": message("low opening quote"),
    "‚": message("low single quote"),
}


def spelled_out(text: str) -> Message | None:
    """The name of a letter that another can be taken for, such as `capital I`; None for any other text."""
    if text in _NAMES:
        return _NAMES[text]
    if len(text) != 1 or text.upper() == text.lower():
        return None
    if text in _SAME_IN_BOTH_CASES or script(text) in _CASES_ALIKE:
        capital = text == text.upper()
        return message("capital {letter}", letter=text) if capital else message("small {letter}", letter=text)
    return None


def told_apart(text: str, others: Container[str]) -> Message | None:
    """The name of a letter in a list of `others`, which stands beside their numbers: of a sign, a digit, an I or an l
    always, of any other only where one that it can be taken for is among them; None where it needs no name."""
    name = spelled_out(text)
    if name is None or text in _NAMES or text in _LIKE_ONE:
        return name
    rivals = {text.swapcase(), *(_LIKE_ZERO if text in _LIKE_ZERO else ())} - {text}
    return name if any(rival in others for rival in rivals) else None
