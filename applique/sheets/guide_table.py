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
from itertools import groupby
from typing import Final

from applique.language import Message
from applique.marks import LetterMark, OutlineMark, PartMark, RowMark, lists_lowest
from applique.pattern import Pattern
from applique.sheets.first_page import heading
from applique.sheets.frame import Drawn, Sheet
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, line_on
from applique.words import below
from applique.words import guide as said
from applique.words.sheets import CHECK_FIRST

__all__ = ["Table", "guide_table", "listed_parts", "says_lowest"]

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
    sections = [section for mark in pattern.marks for section in _sections(sheet, pattern, mark)]
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


def says_lowest(pattern: Pattern) -> bool:
    """Whether the table says how far lowest points are from the baseline: of letters off it, of parts of letters, and
    of outlines."""
    return lists_lowest(pattern.marks, pattern.design.units) or bool(pattern.outlines)


def listed_parts(pattern: Pattern) -> tuple[PartMark, ...]:
    """The parts of letters that have a line of their own."""
    listed: list[LetterMark | OutlineMark] = []
    for mark in pattern.marks:
        listed += mark.outlines
        listed += () if mark.by_word else mark.letters
    return tuple(part for one in listed for part in one.parts)


def _sections(sheet: Sheet, pattern: Pattern, mark: RowMark) -> Iterator[_Section]:
    """What lies behind a row, if anything does, and then its letters."""
    if mark.outlines:
        yield _behind(sheet, pattern, mark)
    yield _row(sheet, pattern, mark)


def _behind(sheet: Sheet, pattern: Pattern, mark: RowMark) -> _Section:
    heads = _heads(sheet, pattern, template=True)
    named = pattern.speech.tell(said.outlines_heading(mark))
    return _Section(
        head=(_Line(_Kind.HEADING, (named, mark.outline_fabric)), heads),
        again=(_Line(_Kind.HEADING, (named, sheet.tell(said.CONTINUED))), heads),
        blocks=tuple(
            _closed(
                (
                    _Line(_Kind.CELLS, (one.text, str(one.template), *_places(sheet, pattern, one))),
                    *_part_lines(sheet, pattern, one.parts),
                )
            )
            for one in mark.outlines
        ),
    )


def _heads(sheet: Sheet, pattern: Pattern, *, template: bool) -> _Line:
    """The heads of the columns; no number of a `template` stands in the lines of words."""
    first, *edges = map(sheet.tell, said.columns_said(pattern.design.units, lowest=says_lowest(pattern)))
    return _Line(_Kind.HEADS, ("", first if template else "", *edges), _Rule.PALE)


def _closed(lines: tuple[_Line, ...], rule: _Rule = _Rule.PALE) -> tuple[_Line, ...]:
    """The lines of one letter, or of several, with a `rule` below the last."""
    return (*lines[:-1], replace(lines[-1], rule=rule))


def _part_lines(sheet: Sheet, pattern: Pattern, parts: Sequence[PartMark]) -> Iterator[_Line]:
    """A line for each part of a letter, below the line of the letter."""
    for part in parts:
        yield _Line(_Kind.CELLS, ("", part.name, *_places(sheet, pattern, part)))


def _places(sheet: Sheet, pattern: Pattern, piece: LetterMark | OutlineMark | PartMark) -> Iterator[str]:
    """The cells of a piece after its number: how far it is from the center line and off the baseline."""
    units = pattern.design.units
    for place in (piece.left, piece.middle, piece.right):
        yield sheet.tell(said.in_column(place, units))
    if says_lowest(pattern):
        yield sheet.tell(said.lowest_in_column(piece.above_baseline, units))


def _row(sheet: Sheet, pattern: Pattern, mark: RowMark) -> _Section:
    units, tell = pattern.design.units, sheet.tell
    notes = tell(
        said.baseline_said(mark, units, trimmed=bool(pattern.panel.trim), point=below.point_of(pattern.panel))
    )
    named = said.row_heading(mark)
    small = mark.by_word
    heads = _heads(sheet, pattern, template=not small)
    return _Section(
        head=(
            *_heading(sheet, pattern.speech.field(named), mark.fabric),
            *_wrapped(sheet, notes, _Kind.NOTE),
            heads,
        ),
        again=(*_heading(sheet, pattern.speech.field(named), tell(said.CONTINUED)), heads),
        blocks=tuple(_words(sheet, pattern, mark)) if small else tuple(_letters(sheet, pattern, mark)),
    )


def _heading(sheet: Sheet, name: str, beside: str) -> Iterator[_Line]:
    """The name of a row in as many lines as it takes, and what stands at the end of the last."""
    room = _width(sheet) - sheet.letters.width(beside, _BODY) - 10
    *lines, last = sheet.letters.wrapped(name, _BODY, room, bold=True) or [""]
    yield from (_Line(_Kind.TITLE, (line,)) for line in lines)
    yield _Line(_Kind.HEADING, (last, beside))


def _words(sheet: Sheet, pattern: Pattern, mark: RowMark) -> Iterator[tuple[_Line, ...]]:
    """A line for each word: where it starts, its middle and where it ends."""
    units = pattern.design.units
    for letters in _by_word(pattern, mark):
        left, right = min(one.left for one in letters), max(one.right for one in letters)
        places = (left, (left + right) / 2, right)
        text = "".join(one.text for one in letters)
        cells = [sheet.tell(said.in_column(place, units)) for place in places]
        if says_lowest(pattern):
            lowest = min(one.above_baseline for one in letters)
            cells.append(sheet.tell(said.lowest_in_column(lowest, units)))
        yield _closed((_Line(_Kind.CELLS, (text, "", *cells)),))


def _by_word(pattern: Pattern, mark: RowMark) -> Iterator[list[LetterMark]]:
    """The letters of each word."""
    laid = next(laid for laid in pattern.panel.laid if laid.where == mark.where)
    pairs = zip(laid.cuts, mark.letters, strict=True)
    for _, found in groupby(pairs, key=lambda pair: pair[0].word):
        yield [letter for _, letter in found]


def _letters(sheet: Sheet, pattern: Pattern, mark: RowMark) -> Iterator[tuple[_Line, ...]]:
    """The lines of each letter, those of a word together unless they are many."""
    words = list(_by_word(pattern, mark))
    for letters in words:
        found = [_closed(tuple(_letter(sheet, pattern, mark, letter))) for letter in letters]
        *before, last = found
        ended = _closed(last, _Rule.DARK if letters is words[-1] else _Rule.WORD)
        if sum(map(len, found)) > _WORD:
            yield from (*before, ended)
        else:
            yield tuple(line for block in (*before, ended) for line in block)


def _letter(sheet: Sheet, pattern: Pattern, mark: RowMark, letter: LetterMark) -> Iterator[_Line]:
    units, tell = pattern.design.units, sheet.tell
    yield _Line(_Kind.CELLS, (letter.text, str(letter.template), *_places(sheet, pattern, letter)))
    if not mark.level:
        yield from _wrapped(sheet, tell(said.tick_said(letter, units)), _Kind.NOTE)
    if letter.turn_deg:
        yield from _wrapped(
            sheet, tell(said.turned_letter_said(letter, units, row_deg=mark.turn_deg)), _Kind.NOTE
        )
    if letter.own is not None:
        yield from _wrapped(
            sheet, tell(said.own_baseline_said(letter.own, units, level=mark.level)), _Kind.NOTE
        )
    yield from _part_lines(sheet, pattern, letter.parts)


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
