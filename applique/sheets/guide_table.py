"""The table of the placement guide: each letter's three distances, and after it what to check before cutting.

It runs down two columns a page; a row that goes on in the next column has its heading there again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from applique.language import Message
from applique.marks import LetterMark, RowMark
from applique.pattern import Pattern
from applique.sheets.first_page import heading
from applique.sheets.frame import Sheet
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, line_on
from applique.words import guide as said
from applique.words.sheets import CHECK_FIRST

__all__ = ["Table", "guide_table"]

_BODY: Final = 8.5
_CELL: Final = 7.5
_ROW: Final = 12.5
_GAP: Final = 26.0
"""Points between the two columns."""
_HEAD: Final = 34.0
"""Points from the top of the page to the first line."""
_NAME: Final = 42.0
"""Points for the letter."""
_NUMBER: Final = 80.0
"""Points to the right end of the template's number."""


class _Kind(Enum):
    """What a line of the table is."""

    HEADING = auto()
    CELLS = auto()
    HEADS = auto()
    NOTE = auto()
    TEXT = auto()
    BLANK = auto()


@dataclass(frozen=True, slots=True)
class _Line:
    """One line of the table and its words."""

    kind: _Kind
    words: tuple[str, ...] = ()


_BLANK: Final = _Line(_Kind.BLANK)


@dataclass(frozen=True, slots=True)
class _Section:
    """Lines under a heading; `again` stands in its place where they go on, no block is taken apart."""

    head: tuple[_Line, ...]
    again: tuple[_Line, ...]
    blocks: tuple[tuple[_Line, ...], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """The table cut into columns of a page's height."""

    columns: tuple[tuple[_Line, ...], ...]

    @property
    def page_count(self) -> int:
        """How many pages it takes."""
        return -(-len(self.columns) // 2)

    def draw(self, sheet: Sheet) -> None:
        """Its pages, next on `sheet`."""
        width = _width(sheet)
        for index in range(0, len(self.columns), 2):
            sheet.begin(sheet.tell(said.TABLE))
            heading(sheet, sheet.tell(said.TABLE_TITLE), sheet.left, sheet.top - 8)
            for count, column in enumerate(self.columns[index : index + 2]):
                x, y = sheet.left + count * (width + _GAP), sheet.top - _HEAD
                for line in column:
                    y -= _ROW
                    _draw_line(sheet, line, x, y, width)


def guide_table(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> Table:
    """The table of a pattern's marks, and after it `notices`, each in full."""
    sections = [_row(sheet, pattern, mark) for mark in pattern.marks]
    if notices:
        head = (_Line(_Kind.HEADING, (sheet.tell(CHECK_FIRST), "")),)
        blocks = tuple(_wrapped(sheet, sheet.tell(notice), _Kind.TEXT) for notice in notices)
        again = (_Line(_Kind.HEADING, (sheet.tell(CHECK_FIRST), sheet.tell(said.CONTINUED))),)
        sections.append(_Section(head, again, blocks))
    return Table(tuple(map(tuple, _columns(sections, int((sheet.top - sheet.bottom - _HEAD) // _ROW)))))


def _width(sheet: Sheet) -> float:
    return (sheet.right - sheet.left - _GAP) / 2


def _row(sheet: Sheet, pattern: Pattern, mark: RowMark) -> _Section:
    units, tell = pattern.design.units, sheet.tell
    notes = tell(said.baseline_said(mark, units, trimmed=bool(pattern.panel.trim)))
    named = said.row_heading(mark)
    heads = _Line(_Kind.HEADS, ("", *map(tell, said.COLUMNS)))
    return _Section(
        head=(
            _Line(_Kind.HEADING, (pattern.speech.field(named), mark.fabric)),
            *_wrapped(sheet, notes, _Kind.NOTE),
            heads,
        ),
        again=(_Line(_Kind.HEADING, (pattern.speech.field(named), tell(said.CONTINUED))), heads),
        blocks=tuple(tuple(_letter(sheet, pattern, mark, letter)) for letter in mark.letters),
    )


def _letter(sheet: Sheet, pattern: Pattern, mark: RowMark, letter: LetterMark) -> Iterator[_Line]:
    units, tell = pattern.design.units, sheet.tell
    places = (letter.left, letter.middle, letter.right)
    beside = (tell(said.beside_center(place, units)) for place in places)
    yield _Line(_Kind.CELLS, (letter.text, str(letter.template), *beside))
    if not mark.level:
        yield from _wrapped(sheet, tell(said.tick_said(letter, units)), _Kind.NOTE)
    if letter.turn_deg:
        yield from _wrapped(sheet, tell(said.turned_letter_said(letter, units)), _Kind.NOTE)


def _wrapped(sheet: Sheet, text: str, kind: _Kind) -> tuple[_Line, ...]:
    return tuple(
        _Line(kind, (line,))
        for part in text.split("\n")
        for line in sheet.letters.wrapped(part, _CELL, _width(sheet))
    )


def _columns(sections: Sequence[_Section], fitting: int) -> list[list[_Line]]:
    """The sections one after the other in columns of `fitting` lines; a heading never stands last in one."""
    columns: list[list[_Line]] = [[]]
    for section in sections:
        first = len(section.blocks[0])
        if columns[-1]:
            if len(columns[-1]) + 1 + len(section.head) + first > fitting:
                columns.append([])
            else:
                columns[-1].append(_BLANK)
        columns[-1] += section.head
        for block in section.blocks:
            if len(columns[-1]) + len(block) > fitting:
                columns.append(list(section.again))
            columns[-1] += block
    return columns


def _draw_line(sheet: Sheet, line: _Line, x: float, y: float, width: float) -> None:
    letters, canvas = sheet.letters, sheet.canvas
    canvas.setFillGray(INK)
    match line.kind:
        case _Kind.HEADING:
            name, fabric = line.words
            room = width - letters.width(fabric, _BODY) - 10
            letters.draw(letters.shortened(name, _BODY, room, bold=True), x, y + 3, _BODY, bold=True)
            letters.draw(fabric, x + width, y + 3, _BODY, anchor="end")
            line_on(canvas, (x, y), (x + width, y), width=THIN)
        case _Kind.CELLS | _Kind.HEADS:
            name, number, *places = line.words
            letters.draw(letters.shortened(name, _BODY, _NAME, bold=True), x, y + 3, _BODY, bold=True)
            letters.draw(number, x + _NUMBER, y + 3, _CELL, anchor="end")
            for count, words in enumerate(places, 1):
                end = x + _NUMBER + (width - _NUMBER) * count / len(places)
                letters.draw(words, end, y + 3, _CELL, anchor="end")
            line_on(canvas, (x, y), (x + width, y), width=HAIR, gray=0.75)
        case _Kind.NOTE:
            canvas.setFillGray(QUIET)
            letters.draw(line.words[0], x, y + 3, _CELL)
            canvas.setFillGray(INK)
        case _Kind.TEXT:
            letters.draw(line.words[0], x, y + 3, _CELL)
        case _Kind.BLANK:
            pass
