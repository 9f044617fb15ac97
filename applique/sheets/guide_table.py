"""The table of the placement guide: each letter's three distances, and after it what to check before cutting.

It runs down two columns, below the drawing where it is short and else on pages of its own; a row that goes on in the
next column has its heading there again, and goes on with a whole word. Of small letters only the ends of their words
are listed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum, auto
from typing import Final

from applique.instructions.places import places_of
from applique.instructions.values import Place, RowPlaces
from applique.language import Message
from applique.marks import LetterMark, OutlineMark, PartMark
from applique.pattern import Pattern
from applique.sheets.first_page import heading
from applique.sheets.frame import Drawn, Sheet
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, line_on
from applique.words import guide as said
from applique.words.sheets import CHECK_FIRST

__all__ = ["Table", "guide_table", "listed_parts"]

_BODY: Final = 8.5
_CELL: Final = 7.5
_COLUMN_HEAD: Final = 7.0
_ROW: Final = 12.5
_MOST_AIR: Final = 9.0
"""Points of white that a line of distances takes more, at the most, where its page has room for that."""
_GAP: Final = 26.0
"""Points between the two columns."""
_HEAD: Final = 34.0
"""Points from the top of the page to the first line."""
_NAME: Final = 32.0
"""Points for the letter."""
_NUMBER: Final = 52.0
"""Points to the right end of the template's number."""
_EDGES: Final = (0.33, 0.69, 1.0)
"""Where left edge, middle and right edge end, of the width that they share: the head of the middle is the longest."""
_LOWEST: Final = 52.0
"""Points for how far a lowest point is from the baseline, with the white before it."""
_WHOLE: Final = 19
"""A row of so many lines is not taken apart, and none that a column holds where that takes no more pages."""
_BEFORE_BREAK: Final = 4
"""Lines of a longer row that stand before it is."""
_WORD: Final = 14
"""A word of more lines may be taken apart."""


class _Kind(Enum):
    """What a line of the table is."""

    TITLE = auto()
    HEADING = auto()
    CELLS = auto()
    HEADS = auto()
    NOTE = auto()
    TEXT = auto()
    BLANK = auto()


class _Rule(Enum):
    """The line below a line: pale after all that is said of a letter, darker after a word, black after a row."""

    NONE = auto()
    PALE = auto()
    WORD = auto()
    DARK = auto()


@dataclass(frozen=True, slots=True)
class _Line:
    """One line of the table, its words, and the rule below it."""

    kind: _Kind
    words: tuple[str, ...] = ()
    rule: _Rule = _Rule.NONE


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
    even: tuple[tuple[_Line, ...], ...]
    """Two columns as short as they can be; none where the table is longer than a page."""

    @property
    def page_count(self) -> int:
        """How many pages of its own it takes."""
        return -(-len(self.columns) // 2)

    @property
    def height_below(self) -> float | None:
        """Points that it takes below the drawing; None where it is longer than a page."""
        return _HEAD - 8 + _ROW * max(map(len, self.even)) if self.even else None

    def ends(self, sheet: Sheet) -> float:
        """Where the last of its own pages ends, as a share of the page."""
        top, longest = sheet.top - 8, max(self._pages[-1], key=len)
        air = _air(sheet, [column for columns in self._pages for column in columns], top)
        high = _HEAD + _ROW * len(longest) + air * sum(line.kind is _Kind.CELLS for line in longest)
        return high / (sheet.top - sheet.bottom)

    @property
    def _pages(self) -> list[tuple[tuple[_Line, ...], ...]]:
        if self.even:
            return [self.even]
        return [self.columns[at : at + 2] for at in range(0, len(self.columns), 2)]

    def draw(self, sheet: Sheet) -> None:
        """Its pages, next on `sheet`."""
        air = _air(sheet, [column for columns in self._pages for column in columns], sheet.top - 8)
        for columns in self._pages:
            sheet.begin(sheet.tell(said.TABLE), drawn=Drawn.NOTHING)
            self._columns(sheet, columns, sheet.top - 8, air)

    def draw_below(self, sheet: Sheet, top: float) -> None:
        """All of it on the page in hand, from `top` down."""
        sheet.anchor(sheet.tell(said.TABLE))
        self._columns(sheet, self.even, top, _air(sheet, self.even, top))

    def _columns(self, sheet: Sheet, columns: Sequence[Sequence[_Line]], top: float, air: float) -> None:
        width = _width(sheet)
        heading(sheet, sheet.tell(said.TABLE_TITLE), sheet.left, top)
        for count, column in enumerate(columns):
            x, y = sheet.left + count * (width + _GAP), top - _HEAD + 8
            for line in column:
                more = air if line.kind is _Kind.CELLS else 0.0
                y -= _ROW + more
                _draw_line(sheet, line, x, y, width, more / 2)


def _air(sheet: Sheet, columns: Sequence[Sequence[_Line]], top: float) -> float:
    """Points of white that each line of distances takes more, the same on every page, so that the longest of the
    `columns` still ends on its page."""
    room = top - _HEAD + 8 - sheet.bottom
    fitting = (
        (room - _ROW * len(column)) / sum(line.kind is _Kind.CELLS for line in column)
        for column in columns
        if any(line.kind is _Kind.CELLS for line in column)
    )
    return max(0.0, min([_MOST_AIR, *fitting]))


def guide_table(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> Table:
    """The table of a pattern's marks, and after it `notices`, each in full."""
    sections = [_section(sheet, pattern.speech.field(row.title), row) for row in places_of(pattern)]
    if notices:
        head = (_Line(_Kind.HEADING, (sheet.tell(CHECK_FIRST), "")),)
        blocks = tuple(_wrapped(sheet, sheet.tell(notice), _Kind.TEXT) for notice in notices)
        again = (_Line(_Kind.HEADING, (sheet.tell(CHECK_FIRST), sheet.tell(said.CONTINUED))),)
        sections.append(_Section(head, again, blocks))
    fitting = int((sheet.top - sheet.bottom - _HEAD) // _ROW)
    columns = _fewest_pages(sections, fitting)
    even: list[list[_Line]] = []
    if len(columns) <= 2:
        sizes = (len(section.head) + sum(map(len, section.blocks)) for section in sections)
        least = max((size for size in sizes if size <= _WHOLE), default=_WHOLE + 1)
        tries = ((lines, _columns(sections, lines)) for lines in range(least, fitting + 1))
        even = next(
            (found for lines, found in tries if len(found) <= 2 and max(map(len, found)) <= lines), []
        )
    return Table(tuple(map(tuple, columns)), tuple(map(tuple, even)))


def _width(sheet: Sheet) -> float:
    return (sheet.right - sheet.left - _GAP) / 2


def listed_parts(pattern: Pattern) -> tuple[PartMark, ...]:
    """The parts of letters that have a line of their own."""
    listed: list[LetterMark | OutlineMark] = []
    for mark in pattern.marks:
        listed += mark.outlines
        listed += () if mark.by_word else mark.letters
    return tuple(part for one in listed for part in one.parts)


def _section(sheet: Sheet, name: str, places: RowPlaces) -> _Section:
    """What lies behind a row, or its letters, under its `name`."""
    tell = sheet.tell
    heads = _Line(
        _Kind.HEADS, ("", *map(sheet.speech.field, (places.template, *places.distances))), _Rule.PALE
    )
    return _Section(
        head=(
            *_heading(sheet, name, places.fabric),
            *(_wrapped(sheet, tell(places.note), _Kind.NOTE) if places.note is not None else ()),
            heads,
        ),
        again=(*_heading(sheet, name, tell(said.CONTINUED)), heads),
        blocks=tuple(_blocks(sheet, places)),
    )


def _heading(sheet: Sheet, name: str, beside: str) -> Iterator[_Line]:
    """The name of a row in as many lines as it takes, and what stands at the end of the last."""
    room = _width(sheet) - sheet.letters.width(beside, _BODY) - 10
    *lines, last = sheet.letters.wrapped(name, _BODY, room, bold=True) or [""]
    yield from (_Line(_Kind.TITLE, (line,)) for line in lines)
    yield _Line(_Kind.HEADING, (last, beside))


def _blocks(sheet: Sheet, places: RowPlaces) -> Iterator[tuple[_Line, ...]]:
    """The lines of each outline or word, or of each letter; letters of a word stay together unless they are many."""
    for group in places.groups:
        found = [_closed(tuple(_lines(sheet, place))) for place in group]
        if places.behind or not places.template:
            yield from found
            continue
        *before, last = found
        ended = _closed(last, _Rule.DARK if group is places.groups[-1] else _Rule.WORD)
        if sum(map(len, found)) > _WORD:
            yield from (*before, ended)
        else:
            yield tuple(line for block in (*before, ended) for line in block)


def _lines(sheet: Sheet, place: Place) -> Iterator[_Line]:
    """The line of a letter, what else is said of it, and a line for each of its parts."""
    yield _Line(_Kind.CELLS, (place.text, place.template, *map(sheet.tell, place.distances)))
    for note in place.notes:
        yield from _wrapped(sheet, sheet.tell(note), _Kind.NOTE)
    for part in place.parts:
        yield from _lines(sheet, part)


def _closed(lines: tuple[_Line, ...], rule: _Rule = _Rule.PALE) -> tuple[_Line, ...]:
    """The lines of one letter, or of several, with a `rule` below the last."""
    return (*lines[:-1], replace(lines[-1], rule=rule))


def _wrapped(sheet: Sheet, text: str, kind: _Kind) -> tuple[_Line, ...]:
    return tuple(
        _Line(kind, (line,))
        for part in text.split("\n")
        for line in sheet.letters.wrapped(part, _CELL, _width(sheet))
    )


def _fewest_pages(sections: Sequence[_Section], fitting: int) -> list[list[_Line]]:
    """The sections in columns of `fitting` lines, each whole in one of them where that takes no more pages."""
    tries = (_columns(sections, fitting, kept=kept) for kept in (fitting, _WHOLE))
    return min(tries, key=lambda found: math.ceil(len(found) / 2))


def _columns(sections: Sequence[_Section], fitting: int, *, kept: int = _WHOLE) -> list[list[_Line]]:
    """The sections one after the other in columns of `fitting` lines, two on a page; one of up to `kept` lines stays
    whole, of a longer one some lines stand before it goes on, and it stays on its page where that holds it.
    """
    columns: list[list[_Line]] = [[]]
    for section in sections:
        lines = sum(map(len, section.blocks))
        whole = len(section.head) + lines <= kept
        first = lines if whole else max(len(section.blocks[0]), min(_BEFORE_BREAK, lines))
        if columns[-1]:
            used = len(columns[-1]) + 1 + len(section.head)
            is_last = len(columns) % 2 == 0
            crumb = 0 < used + lines - fitting <= _BEFORE_BREAK and len(section.head) + lines <= fitting
            holds = len(section.head) + lines + _WORD <= 2 * fitting
            if used + first > fitting or crumb or (is_last and holds and used + lines > fitting):
                columns.append([])
            else:
                columns[-1].append(_BLANK)
        columns[-1] += section.head
        for block in section.blocks:
            if len(columns[-1]) + len(block) > fitting:
                columns.append(list(section.again))
            columns[-1] += block
    return columns


def _ends(count: int, width: float) -> Iterator[float]:
    """Where the cells after the number end: the edges and the middle, and of a fourth one the lowest point."""
    lowest = _LOWEST if count > len(_EDGES) else 0.0
    for share in _EDGES:
        yield _NUMBER + (width - _NUMBER - lowest) * share
    if lowest:
        yield width


def _draw_line(sheet: Sheet, line: _Line, x: float, y: float, width: float, air: float) -> None:
    """A line whose rule is at `y`, its words `air` points higher than they need stand above that."""
    letters, canvas = sheet.letters, sheet.canvas
    canvas.setFillGray(INK)
    match line.kind:
        case _Kind.TITLE:
            letters.draw(
                letters.shortened(line.words[0], _BODY, width, bold=True), x, y + 3, _BODY, bold=True
            )
        case _Kind.HEADING:
            name, fabric = line.words
            room = width - letters.width(fabric, _BODY) - 10
            letters.draw(letters.shortened(name, _BODY, room, bold=True), x, y + 3, _BODY, bold=True)
            letters.draw(fabric, x + width, y + 3, _BODY, anchor="end")
            line_on(canvas, (x, y), (x + width, y), width=THIN)
        case _Kind.CELLS | _Kind.HEADS:
            name, number, *places = line.words
            size = _CELL if line.kind is _Kind.CELLS else _COLUMN_HEAD
            room = _NAME if number else _NUMBER
            letters.draw(letters.shortened(name, _BODY, room, bold=True), x, y + 3 + air, _BODY, bold=True)
            letters.draw(number, x + _NUMBER, y + 3 + air, size, anchor="end")
            for words, end in zip(places, _ends(len(places), width), strict=True):
                letters.draw(words, x + end, y + 3 + air, size, anchor="end")
        case _Kind.NOTE:
            canvas.setFillGray(QUIET)
            letters.draw(line.words[0], x, y + 3, _CELL)
            canvas.setFillGray(INK)
        case _Kind.TEXT:
            letters.draw(line.words[0], x, y + 3, _CELL)
        case _Kind.BLANK:
            pass
    match line.rule:
        case _Rule.PALE:
            line_on(canvas, (x, y), (x + width, y), width=HAIR, gray=0.75)
        case _Rule.WORD:
            line_on(canvas, (x, y), (x + width, y), width=HAIR, gray=QUIET)
        case _Rule.DARK:
            line_on(canvas, (x, y), (x + width, y), width=THIN)
        case _Rule.NONE:
            pass
