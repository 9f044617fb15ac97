"""The quilt label, to trace or to print on fabric made for printing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from applique.language import Message
from applique.pattern import Pattern
from applique.sheets.frame import Sheet
from applique.sheets.strokes import CUT, INK, QUIET, THIN, line_on
from applique.words import label as said

__all__ = ["draw_label", "label_pdf", "label_texts"]

_WIDTH: Final = 5.0 * 72
_HEIGHT: Final = 3.5 * 72
_ABOVE: Final = 12.0
"""Points from what is said at the top of the page to the label."""
_EACH: Final = _HEIGHT + 44.0
"""Points from the top of a label to that of the next, with the words below it."""
_SPACED: Final = 1.45
_WRITTEN: Final = 2.1
"""Heights of a line and of one to write on, in sizes of its letters: room for a pen that writes on fabric."""
_BLANK: Final = 0.8
"""How much of the width the lines to write on take."""


def label_pdf(pattern: Pattern) -> bytes:
    """The quilt label as PDF, at its own size with a line to cut on."""
    speech = pattern.speech
    sheet = Sheet(
        pattern, subject=speech.tell(said.SUBJECT), method=speech.tell(said.METHOD), page_count=1,
        texts=label_texts(pattern), mirrored=False,
    )  # fmt: skip
    draw_label(sheet, pattern)
    return sheet.finish()


def label_texts(pattern: Pattern) -> tuple[str, ...]:
    """What the label spells of a maker's own words."""
    label = pattern.design.label
    return (pattern.design.designer, label.maker, label.date, label.place, *label.care)


def draw_label(sheet: Sheet, pattern: Pattern) -> None:
    """The page of the label, next on `sheet`: it and a spare one below, where the paper is high enough."""
    sheet.begin(pattern.speech.tell(said.LABEL))
    tell = pattern.speech.tell
    top = sheet.top - sheet.title(tell(said.LABEL), tell(said.HOW)) - _ABOVE
    _one_label(sheet, pattern, top, said.CUT_IT)
    if top - 2 * _EACH > sheet.bottom:
        _one_label(sheet, pattern, top - _EACH, said.SPARE)


def _one_label(sheet: Sheet, pattern: Pattern, top: float, caption: Message) -> None:
    """A label whose upper edge is at `top`, with `caption` below it."""
    design, label, speech = pattern.design, pattern.design.label, pattern.speech
    width, height = _WIDTH, _HEIGHT
    left, low = (sheet.left + sheet.right - width) / 2, top - height
    canvas = sheet.canvas
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(CUT)
    canvas.rect(left, low, width, height)
    canvas.setDash(3, 2)
    canvas.setLineWidth(THIN)
    canvas.rect(left + 18, low + 18, width - 36, height - 36)
    canvas.setDash()
    lines = [_Line(text=pattern.title, size=20.0, bold=True)]
    lines += [_Line(text=text, size=12.0) for text in said.made_said(design)]
    lines += [_Line(text=speech.tell(words), size=12.0, blank=True) for words in said.blanks_said(design)]
    lines += [_Line(text=text, size=9.0) for text in label.care]
    _centered(sheet, lines, (left + width / 2, low + height / 2), width - 60)
    canvas.setFillGray(QUIET)
    sheet.letters.draw(
        speech.tell(caption),
        left + width / 2,
        low - 18,
        8.5,
        anchor="middle",
    )
    canvas.setFillGray(INK)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """A line of the label; a `blank` one ends in a line to write on."""

    text: str
    size: float
    bold: bool = False
    blank: bool = False

    @property
    def height(self) -> float:
        """What it takes on the label, in points; room to write in where it is blank."""
        return self.size * (_WRITTEN if self.blank else _SPACED)


def _centered(sheet: Sheet, lines: Sequence[_Line], middle: tuple[float, float], width: float) -> None:
    wrapped = [
        replace(line, text=part)
        for line in lines
        for part in sheet.letters.wrapped(line.text, line.size, width, bold=line.bold)
    ]
    y = middle[1] + sum(line.height for line in wrapped) / 2
    for line in wrapped:
        y -= line.height
        if line.blank:
            _to_fill_in(sheet, line, (middle[0] - width * _BLANK / 2, y + line.size * 0.75), width * _BLANK)
        else:
            sheet.letters.draw(
                line.text, middle[0], y + line.size * 0.35, line.size, bold=line.bold, anchor="middle"
            )


def _to_fill_in(sheet: Sheet, line: _Line, start: tuple[float, float], width: float) -> None:
    """What to write, and a line to write it on up to the end of `width`."""
    x, y = start
    sheet.letters.draw(line.text, x, y, line.size)
    taken = sheet.letters.width(line.text, line.size)
    line_on(sheet.canvas, (x + taken + line.size / 2, y - 2), (x + width, y - 2), width=THIN)
