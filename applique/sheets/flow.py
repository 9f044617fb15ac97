"""Running text on sheets: headings that stay with what follows them, paragraphs, tables and drawings.

Sizes and places are points. What is said is said in the language of the flow; strings are a maker's own words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from applique.language import Field, Message, Speech
from applique.sheets.frame import Sheet
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, line_on

__all__ = ["Flow"]

BODY: Final = 9.5
LEADING: Final = 13.5
_HEADS: Final = {1: 15.0, 2: 11.0}
_KEPT: Final = 62.0
"""A heading stands only where this much can follow it on the page."""
_CELL: Final = 8.5
_CELL_LEADING: Final = 11.5
_APART: Final = 4.0
"""White between a head of a table, or a lead, and what stands on its right."""


class Flow:
    """A cursor that runs down the pages of a sheet and starts a new one when it must."""

    def __init__(self, sheet: Sheet, speech: Speech, first_bookmark: Message) -> None:
        self.sheet = sheet
        self.left, self.right = sheet.left, sheet.right
        self._speech = speech
        self._section = speech.tell(first_bookmark)
        self._start()

    def _start(self) -> None:
        self.sheet.begin(self._section, level=0)
        self.y = self.sheet.top - 6

    @property
    def width(self) -> float:
        """How wide a line may be."""
        return self.right - self.left

    def room(self, height: float) -> None:
        """Start a new page unless `height` is left on this one."""
        if self.y - height < self.sheet.bottom:
            self._start()

    def new_page(self, bookmark: Message) -> None:
        """Start a page for a new section."""
        self._section = self._speech.tell(bookmark)
        self._start()

    def gap(self, height: float) -> None:
        """Leave some white."""
        self.y -= height

    def heading(self, said: str | Message, level: int = 1, *, kept: float = _KEPT) -> None:
        """A heading, on the same page as the first `kept` points that follow it."""
        size, text = _HEADS[level], self._speech.field(said)
        if level == 1:
            self._section = text
        self.y -= 16 if level == 1 else 9
        self.room(size + kept)
        self.y -= size
        self.sheet.canvas.setFillGray(INK)
        self.sheet.letters.draw(text, self.left, self.y, size, bold=True)
        self.y -= 8 if level == 1 else 4

    def paragraph(
        self, said: str | Message, *, indent: float = 0.0, lead: str | Message = "", quiet: bool = False
    ) -> None:
        """A paragraph; `lead` stands before its first line, in the indent."""
        self.sheet.canvas.setFillGray(QUIET if quiet else INK)
        lines = self.sheet.letters.wrapped(self._speech.field(said), BODY, self.width - indent)
        self.room(LEADING * min(len(lines), 2))
        for index, line in enumerate(lines):
            self.room(LEADING)
            self.y -= LEADING
            self.sheet.canvas.setFillGray(QUIET if quiet else INK)
            if not index and lead:
                self.sheet.letters.draw(self._speech.field(lead), self.left, self.y + 3, BODY, bold=True)
            self.sheet.letters.draw(line, self.left + indent, self.y + 3, BODY)
        self.y -= 4
        self.sheet.canvas.setFillGray(INK)

    def led(self, items: Sequence[tuple[Message, Message]], *, indent: float) -> None:
        """Paragraphs, each behind its lead, all indented by `indent` or as far as the widest lead reaches."""
        leads = [self._speech.tell(lead) for lead, _ in items]
        reach = max(self.sheet.letters.width(lead, BODY, bold=True) for lead in leads) + _APART
        for lead, (_, said) in zip(leads, items, strict=True):
            self.paragraph(said, indent=max(indent, reach), lead=lead)

    def numbered(self, steps: Iterable[Message]) -> None:
        """Paragraphs with numbers before them."""
        for number, step in enumerate(steps, 1):
            self.paragraph(step, indent=18, lead=str(number))

    def listed(self, items: Iterable[Message]) -> None:
        """Paragraphs with a dash before them."""
        for item in items:
            self.paragraph(item, indent=12, lead="–")

    def table(self, columns: Sequence[tuple[Message, float]], rows: Iterable[Sequence[Field]]) -> None:
        """A table of `columns`, each with its head and its width as a part of the line. Its head comes again on a new
        page.
        """
        heads = [self._speech.tell(head) for head, _ in columns]
        shares = [share for _, share in columns]
        widths = [share / sum(shares) * self.width for share in shares]
        self.room(4 * _CELL_LEADING)
        self._heads(heads, widths)
        for row in rows:
            cells = [
                self.sheet.letters.wrapped(self._speech.field(said), _CELL, width - 8)
                for said, width in zip(row, widths, strict=True)
            ]
            height = max(1, *(len(cell) for cell in cells)) * _CELL_LEADING + 5
            if self.y - height < self.sheet.bottom:
                self._start()
                self._heads(heads, widths)
            self._cells(cells, widths, height)
        self.y -= 6

    def _heads(self, heads: Sequence[str], widths: Sequence[float]) -> None:
        cells = [
            self.sheet.letters.wrapped(head, _CELL, width - _APART, bold=True)
            for head, width in zip(heads, widths, strict=True)
        ]
        most = max(len(cell) for cell in cells)
        self.y -= most * _CELL_LEADING + 3
        x = self.left
        for cell, width in zip(cells, widths, strict=True):
            for index, line in enumerate(cell, 1):
                y = self.y + 4 + (most - index) * _CELL_LEADING
                self.sheet.letters.draw(line, x, y, _CELL, bold=True)
            x += width
        line_on(self.sheet.canvas, (self.left, self.y), (self.right, self.y), width=THIN)

    def _cells(self, cells: Sequence[Sequence[str]], widths: Sequence[float], height: float) -> None:
        x = self.left
        for cell, width in zip(cells, widths, strict=True):
            for index, line in enumerate(cell):
                self.sheet.letters.draw(line, x, self.y - (index + 1) * _CELL_LEADING + 1, _CELL)
            x += width
        self.y -= height
        line_on(self.sheet.canvas, (self.left, self.y), (self.right, self.y), width=HAIR, gray=0.75)

    def picture(self, height: float, draw: Callable[[float, float, float, float], None]) -> None:
        """A drawing across the line, `height` high; `draw` is given its left, bottom, width and height."""
        self.room(height + 6)
        draw(self.left, self.y - height, self.width, height)
        self.y -= height + 6
