"""The embedded fonts of the sheets, and text drawn with them.

The bundled fonts are variable and reportlab embeds a font's default instance only, so each is made static in
memory at the label weight, cut down to the characters the pattern needs. Only what the PDF embeds is written.
Right-to-left and joining text is drawn as outlines, with the same words laid invisibly over it so that it can
be found and copied; so are fractions, whose figures are small.
"""

from __future__ import annotations

import hashlib
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache, partial
from io import BytesIO
from typing import Any, Final

from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.unicodedata import script, script_horizontal_direction
from fontTools.varLib import instancer
from reportlab.pdfbase import pdfmetrics, ttfonts
from reportlab.pdfgen.canvas import Canvas

from applique.geometry.outline import Outline
from applique.geometry.points import Point
from applique.sheets.fractions import Fraction, fractions_in
from applique.sheets.strokes import outline_on
from applique.typeset.breaks import line_words, loose_words
from applique.typeset.fonts import resolve_font
from applique.typeset.labels import (
    BOLD_WEIGHT,
    LABEL_FONTS,
    LABEL_WEIGHT,
    LabelRun,
    label_outline,
    label_runs,
    label_typeface,
)
from applique.typeset.shaping import JOINING_SCRIPTS
from applique.typeset.signs import is_unseen

__all__ = ["Lettering", "first_font"]

_ALWAYS: Final = "".join(map(chr, range(0x20, 0x7F))) + "·–—“”‘’×÷½¼¾″′°²…→%−"
_NOT_EMBEDDED: Final = ("GSUB", "GPOS", "GDEF", "STAT", "MVAR")
"""Tables that a PDF has no use for; the fonts are shaped with the whole file, elsewhere."""
_SEEN: Final = 0
_INVISIBLE: Final = 3
_LONGEST_LABEL: Final = 200
"""No line of a sheet holds more characters than this."""


@lru_cache(maxsize=32)
def _static(font: str, weight: float, characters: str) -> bytes:
    """`font` at `weight` as static TrueType with the glyphs of `characters` only."""
    path, _ = resolve_font(font)
    opened = TTFont(path, recalcTimestamp=False)
    for table in _NOT_EMBEDDED:
        if table in opened:
            del opened[table]
    options = subset.Options(layout_features=[], notdef_outline=True, name_IDs=["*"], hinting=False)
    subsetter = subset.Subsetter(options)
    subsetter.populate(text=characters)
    subsetter.subset(opened)
    if "fvar" in opened:
        axes = {axis.axisTag: axis.defaultValue for axis in opened["fvar"].axes}
        opened = instancer.instantiateVariableFont(opened, {**axes, "wght": weight})
    # PDF readers, and reportlab's own store, tell fonts apart by their PostScript names, so no two may share one.
    for record in opened["name"].names:
        if record.nameID in (4, 6):
            record.string = f"{font.replace(' ', '')}-{weight:g}-{_digest(characters)}"
    saved = BytesIO()
    opened.save(saved)
    return saved.getvalue()


def _digest(characters: str) -> str:
    return hashlib.sha256(characters.encode("utf-8")).hexdigest()[:12]


@lru_cache(maxsize=8192)
def _is_plain(font: str, text: str) -> bool:
    """Whether the PDF's own text drawing sets it right: left to right, unjoined, all to be seen, a font to embed."""
    return (
        font in LABEL_FONTS
        and not any(is_unseen(character) for character in set(text))
        and not any(
            script_horizontal_direction(code) == "RTL" or code in JOINING_SCRIPTS
            for code in {script(character) for character in set(text)}
        )
    )


def first_font(texts: Iterable[str]) -> str:
    """The name of the embedded font that a canvas which will carry `texts` starts in.

    A canvas that is given none starts every page in one of the standard fonts, which is never embedded: print shops
    refuse such a file though nothing is drawn with it.
    """
    return _registered(LABEL_FONTS[0], LABEL_WEIGHT, _spellable(texts))


def _spellable(texts: Iterable[str]) -> frozenset[str]:
    return frozenset(_ALWAYS).union(*texts)


def _registered(font: str, weight: float, characters: frozenset[str]) -> str:
    """The name that reportlab knows `font` by, at `weight` and with those of `characters` that it has."""
    known = "".join(ch for ch in sorted(characters) if label_typeface(font).has(ch))
    name = f"{font} {weight:g} {_digest(known)}"
    if name not in pdfmetrics.getRegisteredFontNames():
        file = BytesIO(_static(font, weight, known))
        pdfmetrics.registerFont(ttfonts.TTFont(name, file, shapable=False))
    return name


@lru_cache(maxsize=8)
def _measured(characters: frozenset[str], own_fonts: tuple[str, ...]) -> dict[tuple[str, float, bool], float]:
    """The widths in points that were measured before with these fonts: a booklet is laid out several times."""
    return {}


class Lettering:
    """Text on one PDF: its fonts embedded once, whatever words it has to spell.

    Sizes and places are points. `own_fonts` are the maker's own fonts, for characters no bundled font has. What is not
    `seen` is measured only.
    """

    def __init__(
        self, canvas: Canvas, texts: Iterable[str], *, own_fonts: tuple[str, ...], seen: bool = True
    ) -> None:
        self._canvas, self._seen = canvas, seen
        self._own_fonts = own_fonts
        self._characters = _spellable(texts)
        self._names: dict[tuple[str, bool], str] = {}
        self._widths = _measured(self._characters, own_fonts)

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """The width of `text` in points."""
        key = (text, size, bold)
        if key not in self._widths:  # the same words come again and again while a page is fitted
            self._widths[key] = sum(self._run_width(run, size, bold) for run in self._runs(text))
        return self._widths[key]

    def draw(
        self, text: str, x: float, y: float, size: float, *, bold: bool = False, anchor: str = "start"
    ) -> None:
        """`text` with its baseline at `y`, starting, centered or ending at `x` by `anchor`."""
        if not self._seen:
            return
        if anchor != "start":
            x -= self.width(text, size, bold=bold) / (2 if anchor == "middle" else 1)
        for run in self._runs(text):
            if self._is_plain(run):
                self._draw_plain(run, x, y, size, bold)
            else:
                self._draw_outlines(run, x, y, size, bold)
            x += self._run_width(run, size, bold)

    def wrapped(self, text: str, size: float, width: float, *, bold: bool = False) -> list[str]:
        """`text` in lines no wider than `width` points; a word wider than that stands alone.

        Words with `UNBROKEN` between them are one word, and so are a number and what it counts, where the line is wide
        enough for both.
        """
        lines: list[str] = []
        used = 0.0
        for word in self._parts(text, size, width, bold=bold):
            wide = self.width(word, size, bold=bold)
            longer = used + self.width(" ", size, bold=bold) + wide
            if lines and longer <= width:
                lines[-1] += f" {word}"
                used = longer
            else:
                lines.append(word)
                used = wide
        return lines

    def _parts(self, text: str, size: float, width: float, *, bold: bool) -> Iterator[str]:
        for word in line_words(text):
            if self.width(word, size, bold=bold) <= width:
                yield word
            else:
                yield from loose_words(word)

    def shortened(self, text: str, size: float, width: float, *, bold: bool = False) -> str:
        """`text`, cut with an ellipsis where it is wider than `width` points."""
        if len(text) <= _LONGEST_LABEL and self.width(text, size, bold=bold) <= width:
            return text
        fitting = bisect_right(
            range(min(len(text), _LONGEST_LABEL)),
            width,
            key=lambda count: self.width(text[:count] + "…", size, bold=bold),
        )
        return text[: max(fitting - 1, 0)].rstrip() + "…"

    def _is_plain(self, run: LabelRun) -> bool:
        """Whether the PDF's own text drawing sets it; a sign that was not announced is drawn as an outline."""
        return _is_plain(run.font, run.text) and self._characters.issuperset(run.text)

    def _runs(self, text: str) -> Any:
        return label_runs(text, own_fonts=self._own_fonts)

    def _run_width(self, run: LabelRun, size: float, bold: bool) -> float:
        if self._is_plain(run):
            name = self._name(run.font, bold)
            return sum(self._part_width(part, name, size) for part in fractions_in(run.text))
        return run.wide_em(bold=bold) * size

    @staticmethod
    def _part_width(part: str | Fraction, name: str, size: float) -> float:
        if isinstance(part, str):
            return float(pdfmetrics.stringWidth(part, name, size))
        return part.width(size)

    def _draw_plain(self, run: LabelRun, x: float, y: float, size: float, bold: bool) -> None:
        """The run with its fractions set small, over each of which lies what it is to whoever copies it."""
        name = self._name(run.font, bold)
        for part in fractions_in(run.text):
            if isinstance(part, str):
                self._canvas.setFont(name, size)
                self._canvas.drawString(x, y, part)
            else:
                self._draw_fraction(part, x, y, size, bold)
                self._lay_over(part.text, name, x, y, size, part.width(size))
            x += self._part_width(part, name, size)

    def _draw_fraction(self, fraction: Fraction, x: float, y: float, size: float, bold: bool) -> None:
        """A fraction as outlines, each of the ten figures kept in the file once."""
        for figure, share, (across, up) in fraction.figures(size):
            name = f"figure-{figure}{'-bold' if bold else ''}"
            outline = partial(label_outline, figure, 1.0, bold=bold)
            self._stamp(name, outline, (x + across * size, y + up * size), share * size)
        slant, at = fraction.line(size)
        self._stamp(f"slant-{fraction.share(size)}", lambda: slant, (x + at * size, y), size)

    def _stamp(self, name: str, outline: Callable[[], Outline], at: Point, size: float) -> None:
        """An outline in ems, called `name` in the file and worked out once for it, `size` points large."""
        canvas = self._canvas
        if not canvas.hasForm(name):
            canvas.beginForm(name, 0, -1, 1, 1)
            outline_on(canvas, outline(), fill=True)
            canvas.endForm()
        canvas.saveState()
        canvas.transform(size, 0.0, 0.0, size, *at)
        canvas.doForm(name)
        canvas.restoreState()

    def _draw_outlines(self, run: LabelRun, x: float, y: float, size: float, bold: bool) -> None:
        own = () if run.font in LABEL_FONTS else (run.font,)
        outline = label_outline(run.text, size, own_fonts=own, bold=bold)
        outline_on(self._canvas, outline.transformed((1.0, 0.0, 0.0, 1.0, x, y)), fill=True)
        if run.font in LABEL_FONTS:
            seen = "".join(character for character in run.text if not is_unseen(character))
            self._lay_over(seen, self._name(run.font, False), x, y, size, run.wide_em(bold=bold) * size)

    def _lay_over(self, seen: str, name: str, x: float, y: float, size: float, wide: float) -> None:
        """Words to be found and copied, unseen, as wide as the outlines that they lie over."""
        natural = float(pdfmetrics.stringWidth(seen, name, size))
        over = self._canvas.beginText(x, y)
        over.setFont(name, size)
        over.setTextRenderMode(_INVISIBLE)
        if natural:
            over.setHorizScale(100 * wide / natural)
        over.textOut(seen)
        over.setHorizScale(100)
        over.setTextRenderMode(_SEEN)
        self._canvas.drawText(over)

    def _name(self, font: str, bold: bool) -> str:
        if (font, bold) not in self._names:
            weight = BOLD_WEIGHT if bold else LABEL_WEIGHT
            self._names[font, bold] = _registered(font, weight, self._characters)
        return self._names[font, bold]
