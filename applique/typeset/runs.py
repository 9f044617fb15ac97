"""The order in which a text is drawn: runs of one direction and one script, from left to right."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from bidi import get_base_level, get_display
from fontTools.unicodedata import script

from applique.typeset.signs import is_unseen

__all__ = ["Run", "scripts_of", "visual_runs"]

_TURNING: Final = frozenset({"R", "AL", "AN", "RLE", "RLO", "RLI"})
"""Bidirectional classes without which a text that runs to the right is drawn as typed."""
_FIRST_MARK: Final = 0xE0020
_MARKS: Final = 96
"""Tag characters U+E0020 to U+E007F: class BN, which never changes where other characters go (UAX 9, 5.2)."""
_ANCHOR: Final = 0xE0100
_ANCHOR_SIGN: Final = chr(_ANCHOR)
"""A variation selector: class NSM, which goes where the character before it goes (rules W1 and N0)."""
_OURS: Final = {ord(sign): " " for sign in "\n\r\x1c\x1d\x1e\x85\u2029"} | {
    **dict.fromkeys(range(_FIRST_MARK, _FIRST_MARK + _MARKS), "\u200b"),
    _ANCHOR: "\u0300",
}
"""What stands for a paragraph's end, and for our own signs where the text has them: signs of the same class."""
_TRAILING: Final = frozenset(
    {"WS", "S", "B", "BN", "LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
)
"""Classes that rule L1 sends to the end of the line, with what stands between them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """The characters of a text from `start` up to `end`, which are drawn together in one direction."""

    start: int
    end: int
    rightward: bool


def visual_runs(text: str, numbers: Sequence[int], rightward: bool | None) -> tuple[Run, ...]:
    """The runs of `text` from left to right; characters of one letter, by `numbers`, are of one script.

    `rightward` is the direction of the whole; left out, it is that of the first letter that has one.

    Source:
        Unicode Bidirectional Algorithm (UAX 9).
    """
    order, scripts = _visual_order(text, rightward), scripts_of(text, numbers)
    runs: list[Run] = []
    for place, forward in order:
        last = runs[-1] if runs else None
        if last and last.rightward == forward and scripts[place] == scripts[last.start]:
            if forward and place == last.end:
                runs[-1] = Run(start=last.start, end=place + 1, rightward=True)
                continue
            if not forward and place == last.start - 1:
                runs[-1] = Run(start=place, end=last.end, rightward=False)
                continue
        runs.append(Run(start=place, end=place + 1, rightward=forward))
    return tuple(runs)


def _visual_order(text: str, rightward: bool | None) -> list[tuple[int, bool]]:
    """The places of the characters from left to right, each with whether it runs to the right.

    The library gives a text in the order it is drawn, not the places. So each character gets a mark behind it that
    tells its place, in as many passes as the number has digits; the mark is drawn behind a character that runs to the
    right and before one that runs to the left. Only the mark behind the last visible character would be taken for the
    end of the line (rule L1), so an anchor stands behind that.
    """
    text = text.translate(_OURS)
    classes = [unicodedata.bidirectional(character) for character in text]
    if rightward is not False and not _TURNING.intersection(classes):
        return [(place, True) for place in range(len(text))]
    base = {True: "L", False: "R", None: "LR"[get_base_level(text)]}[rightward]
    visible = (place for place in reversed(range(len(text))) if classes[place] not in _TRAILING)
    last, unit = next(visible, None), 1
    places, forwards = [0] * len(text), [True] * len(text)
    while True:
        marks = [chr(_FIRST_MARK + place // unit % _MARKS) for place in range(len(text))]
        if last is not None:
            marks[last] += _ANCHOR_SIGN
        marked = "".join(sign + mark for sign, mark in zip(text, marks, strict=True))
        drawn = str(get_display(marked, base_dir=base)).replace(_ANCHOR_SIGN, "")
        for index in range(len(text)):
            digits = [ord(sign) - _FIRST_MARK for sign in drawn[2 * index : 2 * index + 2]]
            forwards[index] = 0 <= digits[1] < _MARKS
            places[index] += unit * digits[forwards[index]]
        unit *= _MARKS
        if unit >= len(text):
            return list(zip(places, forwards, strict=True))


def scripts_of(text: str, numbers: Sequence[int]) -> list[str]:
    """The script of each character; common ones take that of their neighbor, marks that of their letter."""
    scripts = ["Zyyy" if is_unseen(character) else str(script(character)) for character in text]
    real = [code for code in scripts if code not in ("Zyyy", "Zinh")]
    current = real[0] if real else "Latn"
    for place, code in enumerate(scripts):
        if code in ("Zyyy", "Zinh") or (place and numbers[place] and numbers[place] == numbers[place - 1]):
            scripts[place] = current
        else:
            current = code
    return scripts
