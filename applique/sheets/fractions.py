"""Fractions as they are set on a sheet: figures over and under a slanting line, close behind their whole number.

Frame: ems, the baseline at 0. Figures are never set so small that they cannot be read, so that those of small words
are larger beside their words than those of large ones.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from applique.geometry.outline import Contour, Outline
from applique.geometry.points import Point
from applique.typeset.labels import label_width

__all__ = ["Fraction", "fractions_in"]

_WRITTEN: Final = re.compile(r"(?<![\d/.,])(\d{1,2})/(\d{1,2})(?![\d/])")
_GAP: Final = 0.2
"""Ems between a whole number and its fraction."""
_AFTER_ONE: Final = 0.12
"""Ems that are added to it behind a 1, which else seems to belong to the figures above the line."""
_SHARE: Final = (0.7, 1.0)
"""Size of the figures beside that of the words, least and most."""
_READABLE: Final = 7.0
"""Points that figures are set in at the least: those of words of 7 points are as large as their words."""
_CAP: Final = 0.7
"""Height of the figures of the words."""
_SPREAD: Final = 0.6
"""How far figures that are larger stand out above and below, as a share of what they are larger by."""
_SLANT: Final = 0.28
"""Ems that the line goes to the right from the baseline to the top of the words."""
_LINE: Final = 0.07
_UNDER_LINE: Final = 0.08
"""Ems by which each number runs in under the line, or over it."""
_AFTER: Final = 0.03


@dataclass(frozen=True, slots=True)
class Fraction:
    """A fraction, with the figures above and below its line; `whole` is the last figure of the whole number before it,
    empty where none is.
    """

    over: str
    under: str
    whole: str

    @property
    def text(self) -> str:
        """What is copied: with the space behind its whole number."""
        return f"{' ' if self.whole else ''}{self.over}/{self.under}"

    def width(self, size: float) -> float:
        """How wide it is among words of `size`, the gap before it included, in the unit of `size`."""
        return size * self._places(self.share(size))[-1]

    def figures(self, size: float) -> Iterator[tuple[str, float, Point]]:
        """Each of its figures among words of `size`: how large, and where it stands, in ems of the words."""
        share = self.share(size)
        over_at, _, under_at, _ = self._places(share)
        out = _out(share)
        for figures, x, y in (
            (self.over, over_at, _CAP + out - share * _CAP),
            (self.under, under_at, -out),
        ):
            for index, figure in enumerate(figures):
                yield figure, share, (x + share * _wide(figures[:index]), y)

    def line(self, size: float) -> tuple[Outline, float]:
        """The line between them, in ems of words of `size`, and where it starts."""
        share = self.share(size)
        low, top = -_out(share), _CAP + _out(share)
        corners = ((_LINE, low), (_SLANT + _LINE, top), (_SLANT, top))
        drawn = Contour(start=(0.0, low), segments=tuple((at,) for at in corners))
        return Outline(contours=(drawn,)), self._places(share)[1]

    @staticmethod
    def share(size: float) -> float:
        """Size of the figures beside that of the words, in whole hundredths."""
        return round(min(_SHARE[1], max(_SHARE[0], _READABLE / size)), 2) if size else _SHARE[0]

    def _places(self, share: float) -> tuple[float, float, float, float]:
        """Where the upper number, the line and the lower number start, and where it ends."""
        start = (_GAP + _AFTER_ONE * (self.whole == "1")) if self.whole else 0.0
        line = start + _wide(self.over) * share - _UNDER_LINE
        under = line + _SLANT + _LINE - _UNDER_LINE
        return start, line, under, under + _wide(self.under) * share + _AFTER


def fractions_in(text: str) -> tuple[str | Fraction, ...]:
    """`text` in parts: words, and the fractions among them with the space behind their whole number."""
    return _parted(text)


@lru_cache(maxsize=8192)
def _parted(text: str) -> tuple[str | Fraction, ...]:
    return tuple(_parts(text))


def _parts(text: str) -> Iterator[str | Fraction]:
    start = 0
    for found in _WRITTEN.finditer(text):
        over, under = found.groups()
        if int(over) >= int(under):
            continue
        before = text[start : found.start()]
        whole = before[-2] if len(before) > 1 and before[-1] == " " and before[-2].isdecimal() else ""
        before = before[:-1] if whole else before
        if before:
            yield before
        yield Fraction(over, under, whole)
        start = found.end()
    if start < len(text):
        yield text[start:]


def _out(share: float) -> float:
    """Ems that figures so large stand out above and below the words."""
    return _SPREAD * (share - _SHARE[0])


@lru_cache(maxsize=256)
def _wide(figures: str) -> float:
    """A little more than they take, for bold ones are wider."""
    return 1.03 * label_width(figures, 1.0)
