"""The lettering of the sheets themselves: which bundled font spells which part of a label, how wide."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from applique.geometry.outline import Contour, Outline
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import shape_text
from applique.typeset.signs import is_unseen
from applique.typeset.typeface import Typeface

__all__ = ["LABEL_FONTS", "LabelRun", "label_outline", "label_runs", "label_typeface", "label_width"]

LABEL_FONTS: Final = ("Rubik", "Geologica", "Baloo 2", "Cairo", "Montserrat")
"""In this order: Latin, Cyrillic, Hebrew and Arabic; Greek; Devanagari; the rest."""
LABEL_WEIGHT: Final = 450.0
BOLD_WEIGHT: Final = 650.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelRun:
    """A stretch of a label that one font spells."""

    font: str
    text: str

    @property
    def width_em(self) -> float:
        """Its advance in ems of the label size, shaped when it is asked for: plain text never asks."""
        return self.wide_em()

    def wide_em(self, *, bold: bool = False) -> float:
        """The same of a bold one too."""
        return _width_em(self.font, self.text, bold)


@lru_cache(maxsize=32)
def label_typeface(font: str, *, bold: bool = False) -> Typeface:
    """The typeface that labels use for `font`, a name of `LABEL_FONTS` or the path of a maker's own font, which has no
    bold."""
    weight = BOLD_WEIGHT if bold else LABEL_WEIGHT
    return open_typeface(font, {"wght": weight} if font in LABEL_FONTS else None)


@lru_cache(maxsize=4096)
def label_runs(text: str, *, own_fonts: tuple[str, ...] = ()) -> tuple[LabelRun, ...]:
    """`text` cut into runs, each spelled by the first font that has its characters.

    `own_fonts` are fonts of the design (names or paths) to turn to when no label font has a character.
    A character that none has is shown as its code point, `U+0000`, and never as an empty box.
    """
    runs: list[tuple[str, str]] = []
    for font, part in _spelled(text, (*LABEL_FONTS, *own_fonts)):
        if runs and runs[-1][0] == font:
            runs[-1] = (font, runs[-1][1] + part)
        else:
            runs.append((font, part))
    return tuple(LabelRun(font=font, text=part) for font, part in runs)


def _spelled(text: str, fonts: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """Each character with its font; spaces and signs that nobody sees stay with the font before them."""
    current = fonts[0]
    for character in text:
        if is_unseen(character):
            yield current, character
            continue
        if character.isspace() or (label_typeface(current).has(character) and current == fonts[0]):
            yield current, " " if character.isspace() else character
            continue
        able = next((font for font in fonts if label_typeface(font).has(character)), None)
        current = able or fonts[0]
        yield current, character if able else f"U+{ord(character):04X}"


def _rightward(text: str) -> bool | None:
    """Our own sentences run to the right, whichever word of the maker they begin with; her words alone as they do."""
    return True if any(unicodedata.bidirectional(character) == "L" for character in text) else None


@lru_cache(maxsize=4096)
def _width_em(font: str, text: str, bold: bool) -> float:
    typeface = label_typeface(font, bold=bold) if font in LABEL_FONTS else open_typeface(font, words=(text,))
    return (
        sum(letter.advance_fu for letter in shape_text(text, typeface, rightward=_rightward(text)))
        / typeface.units_per_em
    )


def label_width(text: str, size: float, *, own_fonts: tuple[str, ...] = (), bold: bool = False) -> float:
    """The width of `text` set at `size`, in the unit of `size`."""
    return size * sum(run.wide_em(bold=bold) for run in label_runs(text, own_fonts=own_fonts))


def label_outline(text: str, size: float, *, own_fonts: tuple[str, ...] = (), bold: bool = False) -> Outline:
    """`text` set at `size` as an outline, its first letter's origin at (0, 0); in the unit of `size`."""
    contours: list[Contour] = []
    pen = 0.0
    for run in label_runs(text, own_fonts=own_fonts):
        typeface = label_typeface(run.font, bold=bold)
        scale = size / typeface.units_per_em
        for letter in shape_text(run.text, typeface, rightward=_rightward(run.text)):
            drawn = typeface.outline(letter.glyphs) if letter.glyphs else Outline(contours=())
            matrix = (scale, 0.0, 0.0, scale, pen + letter.x_fu * scale, 0.0)
            contours += drawn.transformed(matrix).contours
        pen += run.wide_em(bold=bold) * size
    return Outline(contours=tuple(contours))
