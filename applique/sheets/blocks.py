"""Blocks of instructions drawn: headings, paragraphs, steps with their drawings and ticks, choices, cautions.

Sizes and places are points. What is said is said in the language of the pages; strings are a maker's own words.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from applique.instructions import Block, Cautions, Heading, Option, Paragraph, Picture, Step
from applique.instructions.values import Said
from applique.sheets.drawing import paint_drawing
from applique.sheets.frame import Sheet
from applique.sheets.measure import (
    AFTER,
    BELOW,
    BODY,
    DASH,
    GUTTER,
    HANGS,
    HEAD,
    LEADING,
    MOST_TICKS,
    NUMBER,
    TICK,
    UNDER_TICKS,
    Layout,
    Measure,
)
from applique.sheets.strokes import BOLD, INK, QUIET, THIN, line_on
from applique.words.sheets import TAKE_CARE

__all__ = ["Blocks"]


class Blocks(Measure):
    """A cursor that goes down a page, block by block."""

    def __init__(self, sheet: Sheet, layout: Layout, *, beside: float) -> None:
        super().__init__(sheet, layout, beside=beside)
        self._centers = False
        self.y = 0.0

    def _block(self, block: Block) -> None:
        match block:
            case Heading(said=said):
                self._heading(said)
            case Paragraph(said=said, quiet=quiet):
                self.paragraph(said, quiet=quiet)
            case Picture():
                self._picture(block)
            case Cautions(items=items):
                self._cautions(items)

    def _heading(self, said: Said) -> None:
        self.y -= self._gap(9) + HEAD
        self.sheet.canvas.setFillGray(INK)
        self.sheet.letters.draw(self._speech.field(said), self.left, self.y, HEAD, bold=True)
        self.y -= 4

    def paragraph(
        self,
        said: Said,
        *,
        indent: float = 0.0,
        lead: Said = "",
        quiet: bool = False,
    ) -> None:
        """A paragraph; `lead` stands before its first line, in the indent."""
        lines = self._lines(said, self.width - indent)
        for index, text in enumerate(lines):
            self.y -= LEADING
            self.sheet.canvas.setFillGray(QUIET if quiet else INK)
            if not index and lead:
                self.sheet.letters.draw(self._speech.field(lead), self.left, self.y + 3, BODY, bold=True)
            self.sheet.letters.draw(text, self.left + indent, self.y + 3, BODY)
        self.y -= self._gap(AFTER)
        self.sheet.canvas.setFillGray(INK)

    def _picture(self, picture: Picture) -> None:
        drawing = picture.drawing
        scale = self._scale(drawing, self.width)
        wide, high = drawing.width * scale, drawing.height * scale
        x = self.left + (self.width - wide) / 2 if self._centers and not picture.beside else self.left
        top = self.y
        paint_drawing(self.sheet, drawing, (x, top - high), scale)
        if picture.beside:
            room = self._room_beside(drawing)
            words = sum(self._text(said, room) for said in picture.beside)
            self.y -= max(0.0, (high - words) / 2)
            self._column(picture.beside, self.left + wide + GUTTER, room)
        self.y = min(self.y, top - high) - 6
        if picture.caption is not None:
            self.paragraph(picture.caption, quiet=True)

    def _column(self, said: Iterable[Said], x: float, width: float) -> None:
        for one in said:
            for text in self._lines(one, width):
                self.y -= LEADING
                self.sheet.letters.draw(text, x, self.y + 3, BODY)
            self.y -= self._gap(AFTER)

    def _step(self, step: Step) -> None:
        top, width = self.y, self._words_width(step)
        drawing, low = step.drawing, self.y
        if drawing is not None and self._is_beside(step):
            drawn = self._beside_drawn(drawing)
            low = top - HANGS - drawing.height * drawn + self._raised(drawing)
            paint_drawing(self.sheet, drawing, (self.right - self._beside_width, low), drawn)
            low -= self._gap(BELOW)
        self.sheet.canvas.setFillGray(INK)
        self.sheet.letters.draw(str(step.number), self.left, top - LEADING + 3, BODY, bold=True)
        self._column(step.said, self.left + NUMBER, width)
        rows, column = self._tick_rows(step)
        if rows:
            self._ticks(rows[:MOST_TICKS], column, width)
            self.y -= UNDER_TICKS if len(rows) <= MOST_TICKS else 0.0
        if drawing is None or self._is_beside(step):
            self.y = min(self.y, low)
            return
        scale = self._scale(drawing, self.width - NUMBER)
        self.y -= drawing.height * scale + 2
        paint_drawing(self.sheet, drawing, (self.left + NUMBER, self.y), scale)
        self.y -= self._gap(8)

    def _ticks(self, rows: Sequence[Sequence[str]], column: float, width: float) -> None:
        for row in rows:
            top = low = self.y
            for index, text in enumerate(row):
                if not text:
                    continue
                x = self.left + NUMBER + index * column
                self.sheet.canvas.setStrokeGray(INK)
                self.sheet.canvas.setLineWidth(THIN)
                self.y = top
                self.sheet.canvas.rect(x, top - LEADING + 2, TICK, TICK, stroke=1, fill=0)
                self._column((text,), x + TICK + 6, width - TICK - 6)
                low = min(low, self.y)
            self.y = low

    def _options(self, options: Sequence[Option], width: float) -> None:
        """Options side by side, their titles in one line."""
        drawn, top = self._option_drawn(options, width), self.y
        low = top
        for index, option in enumerate(options):
            self.y = top
            self._one_option(option, self.left + index * (width + GUTTER), width, drawn)
            low = min(low, self.y)
        self.y = low - 8

    def _one_option(self, option: Option, x: float, width: float, drawn: float) -> None:
        """An option whose drawing stands at the foot of `drawn` points."""
        self.y -= drawn
        if option.drawing is not None:
            paint_drawing(self.sheet, option.drawing, (x, self.y), self._scale(option.drawing, width))
        self.y -= 6 if drawn else 0
        self.sheet.canvas.setFillGray(INK)
        for text in self._lines(option.title, width, bold=True):
            self.y -= LEADING
            self.sheet.letters.draw(text, x, self.y + 3, BODY, bold=True)
        self.y -= 2
        self._column(option.said, x, width)

    def _cautions(self, items: Sequence[Said]) -> None:
        """A bar beside what to take care of."""
        self.y -= 6
        top = self.y
        self.y -= LEADING
        self.sheet.canvas.setFillGray(INK)
        self.sheet.letters.draw(self._speech.tell(TAKE_CARE), self.left + DASH, self.y + 3, BODY, bold=True)
        for item in items:
            left, self.left = self.left, self.left + DASH
            self.paragraph(item, indent=DASH, lead="–")
            self.left = left
        line_on(
            self.sheet.canvas, (self.left + 2, top), (self.left + 2, self.y + self._gap(AFTER)), width=BOLD
        )
        self.y -= 4
