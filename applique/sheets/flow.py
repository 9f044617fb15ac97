"""Blocks of instructions on pages: headings that stay with what follows them, steps with their drawings, tables.

Sizes and places are points. What is said is said in the language of the flow; strings are a maker's own words.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from reportlab.lib.colors import HexColor

from applique.colors import reads_on
from applique.drawings import Drawing
from applique.instructions import (
    Block,
    Cautions,
    Chapter,
    ChapterKind,
    Chip,
    Choices,
    Heading,
    Led,
    Listed,
    Option,
    Paragraph,
    Picture,
    Step,
    Table,
    Tick,
)
from applique.instructions.values import Cell, Said
from applique.sheets.drawing import ink_top, paint_drawing
from applique.sheets.frame import POINTS, Sheet
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, line_on
from applique.words.instructions.cover import CONTENTS, chapter_said, contents_said
from applique.words.sheets import TAKE_CARE

__all__ = ["Entry", "Flow", "Layout"]

BODY: Final = 9.5
LEADING: Final = 13.5
_AFTER: Final = 4.0
"""White after a paragraph."""
_COVER: Final = 26.0
_TITLE: Final = 15.0
_HEAD: Final = 11.0
_CELL: Final = 8.5
_CELL_LEADING: Final = 11.5
_APART: Final = 4.0
"""White between a head of a table, or a lead, and what stands on its right."""
_GUTTER: Final = 16.0
"""White between words and the drawing beside them, and between choices."""
_NUMBER: Final = 24.0
"""What stands before the words of a step."""
_LEAD: Final = 46.0
_DASH: Final = 12.0
_CHIP: Final = 11.0
_TICK: Final = 8.0
_WIDE: Final = 0.5
"""A drawing wider than this share of the line stands beneath the words of its step."""
_MOST_BESIDE: Final = 3
"""So many choices stand side by side."""
_SMALL: Final = 8.0
_WHOLE: Final = 6
"""A table of so few rows is not parted."""
_TOGETHER: Final = 3
"""So many rows of a table at least stand together."""
_MOST_WHITE: Final = 0.25
"""Rather than leave more than this share of a page white, drawings are made smaller."""
_SHRUNK: Final = (1.0, 0.95, 0.9, 0.85, 0.8)
_MOST_TICKS: Final = 12
"""So many rows of ticks stay with their step; more may go on on the next page."""
_LITTLE: Final = 1 / 3
"""A last page that holds less than this share of a page is worth saving."""
_TIGHT: Final = 0.85
"""The share of the white between blocks that is left where lines are set tight."""
_CENTERED: Final = (ChapterKind.COVER, ChapterKind.COLORING)
"""Chapters whose pictures stand in the middle of the page."""
_CAPITALS: Final = 0.7
"""Height of capitals in ems."""
_HANGS: Final = LEADING - 3.0 - _CAPITALS * BODY
"""From the top of a step to the capitals of its first line, where its drawing begins too."""
_BELOW: Final = 8.0
"""White below a drawing beside words; with `_HANGS`, more than 10 points to the next one."""


@dataclass(frozen=True, slots=True)
class _Row:
    """The lines of each cell of a table's row, the chips before some, and how high it is."""

    cells: tuple[tuple[str, ...], ...]
    chips: tuple[Chip | None, ...]
    height: float


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the contents: its title, the first and last of its steps if it has any, the first and last of its
    pages, and what else is to be said of them.
    """

    title: str
    steps: tuple[int, int] | None
    pages: tuple[int, int]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """What laying out a booklet finds and laying it out again needs: its pages, its contents, and the chapters from
    which on its lines are set tight.
    """

    pages: int = 0
    entries: tuple[Entry, ...] = ()
    tight: frozenset[ChapterKind] = frozenset()


@dataclass(slots=True)
class _Entered:
    """A chapter on a page, with the first and last of its steps there."""

    title: str
    steps: tuple[int, int] | None = None

    def add(self, number: int) -> None:
        self.steps = (self.steps[0] if self.steps else number, number)


@dataclass(frozen=True, slots=True)
class _Laid:
    """A table in lines: its heads, the width of each column, its rows, and how high its head is."""

    heads: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    rows: tuple[_Row, ...]
    head: float


class Flow:
    """A cursor that runs down the pages of a sheet and starts a new one when it must."""

    def __init__(self, sheet: Sheet, layout: Layout, first_bookmark: Said, *, beside: float) -> None:
        self.sheet = sheet
        self.entries: list[Entry] = []
        self.tight: set[ChapterKind] = set()
        margin = sheet.frame.margin * POINTS
        self.left, self.right, self._bottom = margin, sheet.right, margin
        self._layout = layout
        self._speech = sheet.speech
        self._section = self._speech.field(first_bookmark)
        self._beside_width = beside
        self._drawn = 1.0
        self._white = 1.0
        self._titled = False
        self._centers = False
        self._here: list[_Entered] = []
        self._tops: dict[int, tuple[Drawing, float]] = {}
        self._run: tuple[ChapterKind, int] | None = None
        self._start()

    def _start(self) -> None:
        self._run_head()
        self.sheet.begin(self._section, level=0)
        self._here = [_Entered(self._here[-1].title)] if self._here else []
        self.y = self.sheet.top - 6

    def end(self) -> None:
        """What can only be said when all is laid out: the head of the last page, and whether it is too empty."""
        self._run_head()
        self._end_run()

    def _run_head(self) -> None:
        """Which chapters and steps are on the page."""
        self.sheet.run_head(
            " · ".join(self._speech.field(chapter_said(one.title, one.steps)) for one in self._here)
        )

    def _end_run(self) -> None:
        """Remember a run of pages whose last one holds so little that tighter lines may save it."""
        if self._run is not None:
            kind, page = self._run
            if self.sheet.page > page and self.sheet.top - self.y < _LITTLE * self._page:
                self.tight.add(kind)

    def _gap(self, points: float) -> float:
        """So much white, or less where lines are set tight."""
        return points * self._white

    @property
    def width(self) -> float:
        """How wide a line may be."""
        return self.right - self.left

    @property
    def _page(self) -> float:
        return self.sheet.top - 6 - self._bottom

    def room(self, height: float) -> None:
        """Start a new page unless `height` is left on this one, or no page has so much."""
        if self.y - min(height, self._page) < self._bottom:
            self._start()

    def chapter(self, chapter: Chapter) -> None:
        """A chapter with its title, on a page of its own where it stands apart."""
        blocks = chapter.blocks
        size = _COVER if chapter.kind is ChapterKind.COVER else _TITLE
        self._section = self._speech.field(chapter.title)
        following = self._kept(self._groups(blocks)[0]) if blocks else 0.0
        fresh = self.y == self.sheet.top - 6
        if chapter.apart or self._run is None:
            self._end_run()
            self._white = _TIGHT if chapter.kind in self._layout.tight else 1.0
        if chapter.apart and not fresh:
            self._start()
        elif not fresh:
            self.y -= self._gap(18)
            self.room(size + 10 + following)
        if chapter.apart or self._run is None:
            self._run = (chapter.kind, self.sheet.page)
        self._enter(chapter)
        self._centers = chapter.kind in _CENTERED
        for text in self._lines(chapter.title, self.width, size, bold=True)[:3]:
            self.y -= size
            self.sheet.canvas.setFillGray(INK)
            self.sheet.letters.draw(text, self.left, self.y, size, bold=True)
            self.y -= 4
        self.y -= 6
        self._titled = True
        self.blocks(blocks)
        if chapter.kind is ChapterKind.SCALE:
            self._contents()

    def _enter(self, chapter: Chapter) -> None:
        """Note that a chapter begins here, for the head of the page and for the contents."""
        if self.y == self.sheet.top - 6:
            self._here = []
        if chapter.kind is ChapterKind.COVER:
            return
        title = self._speech.field(chapter.title)
        self._here.append(_Entered(title))
        if chapter.kind is not ChapterKind.SCALE:
            numbers = [block.number for block in chapter.blocks if isinstance(block, Step)]
            steps = (numbers[0], numbers[-1]) if numbers else None
            self.entries.append(Entry(title, steps, (self.sheet.page, self.sheet.page)))

    def _contents(self) -> None:
        """Where everything is, as the layout before this one found it; each line leads to its page."""
        if not self._layout.entries:
            return
        width = (self.width - _GUTTER) / 2
        lines = [
            (entry, self._lines(contents_said(entry.title, entry.steps, entry.pages, entry.note), width))
            for entry in self._layout.entries
        ]
        half = math.ceil(len(lines) / 2)
        self.room(self._gap(9) + _HEAD + 4 + LEADING * half)
        self._heading(CONTENTS)
        top = low = self.y
        for start in (0, half):
            self.y, x = top, self.left + (width + _GUTTER if start else 0.0)
            for entry, texts in lines[start : start + half]:
                high = self.y
                for text in texts:
                    self.y -= LEADING
                    self.sheet.letters.draw(text, x, self.y + 3, BODY)
                area = (x, self.y, x + width, high)
                self.sheet.canvas.linkRect("", f"page-{entry.pages[0]}", area, thickness=0)
            low = min(low, self.y)
        self.y = low - self._gap(_AFTER)

    def blocks(self, blocks: Sequence[Block]) -> None:
        """Blocks one below the other; those that belong together stay on one page where a page has room for them."""
        for group in self._groups(blocks):
            self._group(group)

    @classmethod
    def _groups(cls, blocks: Sequence[Block]) -> list[Sequence[Block]]:
        """Blocks in their order, those together that no page may part."""
        groups, start = [], 0
        for index in range(1, len(blocks) + 1):
            if index == len(blocks) or not cls._leads(blocks[index - 1], blocks[index]):
                groups.append(blocks[start:index])
                start = index
        return groups

    @staticmethod
    def _leads(block: Block, following: Block) -> bool:
        """Whether `following` belongs to `block`, which would make no sense without it."""
        match block:
            case Heading():
                return True
            case Cautions():
                return isinstance(following, Step | Heading | Choices)
            case Paragraph():
                return isinstance(following, Picture | Choices | Table)
            case Step():
                return isinstance(following, Picture | Table)
        return False

    def _group(self, group: Sequence[Block]) -> None:
        """A group on this page, its drawings a little smaller where that saves much white, or else on the next one.

        What is too long for any page is parted as late as can be.
        """
        left = self.y - self._bottom
        if self._kept(group) > left and (self._titled or left > _MOST_WHITE * self._page):
            self._shrink_into(group, left)
        if self._kept(group) > left and not self._titled:
            if left < self._page:
                self._start()
            self._shrink_into(group, self._page)
        count = len(group)
        while count > 1 and self._kept(group[:count]) > self.y - self._bottom:
            count -= 1
        self._titled = False
        for block in group[:count]:
            self._block(block)
        self._drawn = 1.0
        if group[count:]:
            self._group(group[count:])

    def _shrink_into(self, group: Sequence[Block], room: float) -> None:
        """Make drawings as little smaller as lets `group` into `room`; leave them if none is small enough."""
        for self._drawn in _SHRUNK:
            if self._kept(group) <= room:
                return
        self._drawn = 1.0

    def _kept(self, group: Sequence[Block]) -> float:
        """How much room a group needs on one page: all of it, but of a list or a long table at its end the start."""
        return sum(map(self._height, group))

    # How high a block is

    def _lines(self, said: Said, width: float, size: float = BODY, *, bold: bool = False) -> list[str]:
        return self.sheet.letters.wrapped(self._speech.field(said), size, width, bold=bold)

    def _text(self, said: Said, width: float) -> float:
        return len(self._lines(said, width)) * LEADING + self._gap(_AFTER)

    def _height(self, block: Block) -> float:
        match block:
            case Heading():
                return self._gap(9) + _HEAD + 4
            case Paragraph(said=said):
                return self._text(said, self.width)
            case Listed(items=items):
                return sum(self._text(item, self.width - _DASH) for item in items[:2])
            case Led(items=items):
                return sum(self._text(said, self.width - _LEAD) for _, said in items[:2])
            case Picture(drawing=drawing, beside=beside):
                high = drawing.height * self._scale(drawing, self.width)
                room = self._room_beside(drawing)
                return max(high, sum(self._text(said, room) for said in beside)) + 6 + self._caption(block)
            case Table():
                return self._table_start(self._laid(block))
            case Step():
                return self._step_height(block)
            case Choices(options=options):
                first = options[: self._beside(options)]
                return max(self._option(one, self._option_width(options)) for one in first) + 8
            case Cautions(items=items):
                return 10 + LEADING + sum(self._text(item, self.width - 2 * _DASH) for item in items)

    def _room_beside(self, drawing: Drawing) -> float:
        return self.width - drawing.width * self._scale(drawing, self.width) - _GUTTER

    def _caption(self, picture: Picture) -> float:
        return 0.0 if picture.caption is None else self._text(picture.caption, self.width)

    def _scale(self, drawing: Drawing, width: float) -> float:
        return min(1.0, width / drawing.width) * self._drawn

    @staticmethod
    def stands_beside(sheet: Sheet, drawing: Drawing) -> bool:
        """Whether a step's drawing stands beside its words, in the column that all such drawings share."""
        return drawing.width <= _WIDE * (sheet.right - sheet.frame.margin * POINTS)

    def _is_beside(self, step: Step) -> bool:
        return step.drawing is not None and self.stands_beside(self.sheet, step.drawing)

    def _words_width(self, step: Step) -> float:
        width = self.width - _NUMBER
        if step.drawing is not None and self._is_beside(step):
            width -= self._beside_width + _GUTTER
        return width

    def _step_height(self, step: Step) -> float:
        width = self._words_width(step)
        words = sum(self._text(said, width) for said in step.said)
        words += self._ticks_height(step.ticks, width)
        if step.drawing is None:
            return words
        drawn = step.drawing.height * self._scale(step.drawing, self.width - _NUMBER)
        if self._is_beside(step):
            return max(words, drawn - self._raised(step.drawing) + _HANGS + self._gap(_BELOW))
        return words + drawn + 2 + self._gap(8)

    def _raised(self, drawing: Drawing) -> float:
        """How far above its ink the drawing's box begins."""
        known = self._tops.get(id(drawing))
        if known is None:  # asked for again and again while a page is fitted
            known = self._tops[id(drawing)] = (drawing, ink_top(drawing))
        return (drawing.height - known[1]) * self._drawn

    @staticmethod
    def _beside(options: Sequence[Option]) -> int:
        """How many stand side by side: as many in the last row as in the first, or nearly."""
        return math.ceil(len(options) / math.ceil(len(options) / _MOST_BESIDE))

    def _option_width(self, options: Sequence[Option]) -> float:
        count = self._beside(options)
        return (self.width - (count - 1) * _GUTTER) / count

    def _option(self, option: Option, width: float) -> float:
        drawing = option.drawing
        high = 0.0 if drawing is None else drawing.height * self._scale(drawing, width) + 6
        high += len(self._lines(option.title, width, bold=True)) * LEADING + 2
        return high + sum(self._text(said, width) for said in option.said)

    # Blocks drawn

    def _block(self, block: Block) -> None:
        match block:
            case Heading(said=said):
                self._heading(said)
            case Paragraph(said=said, quiet=quiet):
                self.paragraph(said, quiet=quiet)
            case Listed(items=items):
                for item in items:
                    self.paragraph(item, indent=_DASH, lead="–")
            case Led(items=items, depth=depth):
                self._led(items, depth)
            case Picture():
                self._picture(block)
            case Table():
                self._table(block)
            case Step():
                self._step(block)
            case Choices(options=options):
                self._choices(options)
            case Cautions(items=items):
                self._cautions(items)

    def _heading(self, said: Said) -> None:
        self.y -= self._gap(9) + _HEAD
        self.sheet.canvas.setFillGray(INK)
        self.sheet.letters.draw(self._speech.field(said), self.left, self.y, _HEAD, bold=True)
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
        self.room(LEADING * min(len(lines), 2))
        for index, text in enumerate(lines):
            self.room(LEADING)
            self.y -= LEADING
            self.sheet.canvas.setFillGray(QUIET if quiet else INK)
            if not index and lead:
                self.sheet.letters.draw(self._speech.field(lead), self.left, self.y + 3, BODY, bold=True)
            self.sheet.letters.draw(text, self.left + indent, self.y + 3, BODY)
        self.y -= self._gap(_AFTER)
        self.sheet.canvas.setFillGray(INK)

    def _led(self, items: Sequence[tuple[Said, Said]], depth: int) -> None:
        """Paragraphs, each behind its lead, all indented as far as the widest lead reaches."""
        leads = [self._speech.field(lead) for lead, _ in items]
        reach = max(self.sheet.letters.width(lead, BODY, bold=True) for lead in leads) + 2 * _APART
        for lead, (_, said) in zip(leads, items, strict=True):
            self.paragraph(said, indent=max(_LEAD, reach) + depth * _DASH, lead=lead)

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
            self._column(picture.beside, self.left + wide + _GUTTER, room)
        self.y = min(self.y, top - high) - 6
        if picture.caption is not None:
            self.paragraph(picture.caption, quiet=True)

    def _column(self, said: Iterable[Said], x: float, width: float) -> None:
        for one in said:
            for text in self._lines(one, width):
                self.y -= LEADING
                self.sheet.letters.draw(text, x, self.y + 3, BODY)
            self.y -= self._gap(_AFTER)

    def _step(self, step: Step) -> None:
        top, page, width = self.y, self.sheet.page, self._words_width(step)
        drawing, low = step.drawing, self.y
        if self._here:
            self._here[-1].add(step.number)
        if drawing is not None and self._is_beside(step):
            low = top - _HANGS - drawing.height * self._drawn + self._raised(drawing)
            paint_drawing(self.sheet, drawing, (self.right - self._beside_width, low), self._drawn)
            low -= self._gap(_BELOW)
        self.sheet.canvas.setFillGray(INK)
        self.sheet.letters.draw(str(step.number), self.left, top - LEADING + 3, BODY, bold=True)
        self._column(step.said, self.left + _NUMBER, width)
        if step.ticks:
            self._ticks(step.ticks, width)
        if drawing is None or self._is_beside(step):
            self.y = min(self.y, low) if page == self.sheet.page else self.y
            return
        scale = self._scale(drawing, self.width - _NUMBER)
        self.room(drawing.height * scale + 2)
        self.y -= drawing.height * scale + 2
        paint_drawing(self.sheet, drawing, (self.left + _NUMBER, self.y), scale)
        self.y -= self._gap(8)

    def _tick_columns(self, texts: Sequence[str], width: float) -> tuple[int, float]:
        """How many ticks stand in a row, and points from one to the next: a grid with no tick alone in its last row
        where that can be.
        """
        column = max(self.sheet.letters.width(text, BODY) for text in texts) + _TICK + 6 + _DASH
        most = max(1, min(len(texts), int((width + _DASH) // column)))
        even = math.ceil(len(texts) / math.ceil(len(texts) / most))
        whole = (count for count in range(even, 1, -1) if len(texts) % count != 1)
        return next(whole, even), column

    def _ticks_height(self, ticks: Sequence[Tick], width: float) -> float:
        """How high ticks are, as far as they stay with their step."""
        if not ticks:
            return 0.0
        texts = [self._speech.field(tick.said) for tick in ticks]
        count, _ = self._tick_columns(texts, width)
        return sum(
            self._tick_row(texts[start : start + count], width)
            for start in range(0, min(len(texts), _MOST_TICKS * count), count)
        )

    def _tick_row(self, texts: Sequence[str], width: float) -> float:
        return max(self._text(text, width - _TICK - 6) for text in texts)

    def _ticks(self, ticks: Sequence[Tick], width: float) -> None:
        texts = [self._speech.field(tick.said) for tick in ticks]
        count, column = self._tick_columns(texts, width)
        for start in range(0, len(texts), count):
            row = texts[start : start + count]
            if start >= _MOST_TICKS * count:
                self.room(self._tick_row(row, width))
            top = low = self.y
            for index, text in enumerate(row):
                x = self.left + _NUMBER + index * column
                self.sheet.canvas.setStrokeGray(INK)
                self.sheet.canvas.setLineWidth(THIN)
                self.y = top
                self.sheet.canvas.rect(x, top - LEADING + 2, _TICK, _TICK, stroke=1, fill=0)
                self._column((text,), x + _TICK + 6, width - _TICK - 6)
                low = min(low, self.y)
            self.y = low

    def _choices(self, options: Sequence[Option]) -> None:
        width, count = self._option_width(options), self._beside(options)
        for start in range(0, len(options), count):
            beside = options[start : start + count]
            self.room(max(self._option(one, width) for one in beside))
            top = low = self.y
            for index, option in enumerate(beside):
                self.y = top
                self._one_option(option, self.left + index * (width + _GUTTER), width)
                low = min(low, self.y)
            self.y = low - 8

    def _one_option(self, option: Option, x: float, width: float) -> None:
        if option.drawing is not None:
            scale = self._scale(option.drawing, width)
            self.y -= option.drawing.height * scale
            paint_drawing(self.sheet, option.drawing, (x, self.y), scale)
            self.y -= 6
        self.sheet.canvas.setFillGray(INK)
        for text in self._lines(option.title, width, bold=True):
            self.y -= LEADING
            self.sheet.letters.draw(text, x, self.y + 3, BODY, bold=True)
        self.y -= 2
        self._column(option.said, x, width)

    def _cautions(self, items: Sequence[Said]) -> None:
        """A bar beside what to take care of."""
        self.y -= 6
        top, page = self.y, self.sheet.page
        self.y -= LEADING
        self.sheet.canvas.setFillGray(INK)
        self.sheet.letters.draw(self._speech.tell(TAKE_CARE), self.left + _DASH, self.y + 3, BODY, bold=True)
        for item in items:
            left, self.left = self.left, self.left + _DASH
            self.paragraph(item, indent=_DASH, lead="–")
            self.left = left
        if page == self.sheet.page:
            line_on(
                self.sheet.canvas,
                (self.left + 2, top),
                (self.left + 2, self.y + self._gap(_AFTER)),
                width=1.6,
            )
        self.y -= 4

    # Tables

    def _laid(self, table: Table) -> _Laid:
        """The table in lines, without the columns in which no row has anything."""
        kept = [
            index for index in range(len(table.columns)) if any(self._cell(row[index]) for row in table.rows)
        ]
        heads = [self._speech.tell(table.columns[index][0]) for index in kept]
        shares = [table.columns[index][1] for index in kept]
        widths = tuple(share / sum(shares) * self.width for share in shares)
        lines = tuple(
            tuple(self.sheet.letters.wrapped(head, _CELL, width - _APART, bold=True))
            for head, width in zip(heads, widths, strict=True)
        )
        rows = tuple(self._row([cells[index] for index in kept], widths) for cells in table.rows)
        high = max((len(head) for head in lines), default=0) * _CELL_LEADING + 3
        return _Laid(lines, widths, rows, high)

    @staticmethod
    def _table_start(laid: _Laid) -> float:
        """How high the part of a table is that stays together: its head and some rows, or all of it."""
        rows = laid.rows if len(laid.rows) <= _WHOLE else laid.rows[:_TOGETHER]
        return laid.head + sum(row.height for row in rows) + (6 if rows == laid.rows else 0)

    def _table(self, table: Table) -> None:
        """A table; its head comes again on a new page, and no fewer than three rows stand before or after one."""
        laid = self._laid(table)
        self.room(self._table_start(laid))
        self._heads(laid)
        last = len(laid.rows) - _TOGETHER
        for index, row in enumerate(laid.rows):
            together = laid.rows[index:] if index == last else (row,)
            if self.y - sum(one.height for one in together) < self._bottom:
                self._start()
                self._heads(laid)
            self._cells(row, laid.widths)
        self.y -= 6

    def _cell(self, cell: Cell) -> str:
        return cell.name if isinstance(cell, Chip) else self._speech.field(cell)

    def _row(self, cells: Sequence[Cell], widths: Sequence[float]) -> _Row:
        lines, chips = [], []
        for cell, width in zip(cells, widths, strict=True):
            chip = cell if isinstance(cell, Chip) else None
            text = self._cell(cell)
            room = width - 8 - (_CHIP + 4 if chip else 0)
            lines.append(tuple(self.sheet.letters.wrapped(text, _CELL, room)))
            chips.append(chip)
        most = max((len(cell) for cell in lines), default=1) or 1
        return _Row(tuple(lines), tuple(chips), most * _CELL_LEADING + 5)

    def _heads(self, laid: _Laid) -> None:
        most = max((len(head) for head in laid.heads), default=0)
        self.y -= laid.head
        x = self.left
        self.sheet.canvas.setFillGray(INK)
        for head, width in zip(laid.heads, laid.widths, strict=True):
            for index, text in enumerate(head, 1):
                y = self.y + 4 + (most - index) * _CELL_LEADING
                self.sheet.letters.draw(text, x, y, _CELL, bold=True)
            x += width
        line_on(self.sheet.canvas, (self.left, self.y), (self.right, self.y), width=THIN)

    def _cells(self, row: _Row, widths: Sequence[float]) -> None:
        """A row with as much white above the capitals of its first line as below the foot of its last."""
        x = self.left
        capitals = _CAPITALS * _CELL
        most = max((len(cell) for cell in row.cells), default=1) or 1
        baseline = self.y - (row.height - (most - 1) * _CELL_LEADING + capitals) / 2
        for cell, chip, width in zip(row.cells, row.chips, widths, strict=True):
            at = x
            if chip is not None:
                self._chip(chip, x, baseline + (capitals - _CHIP) / 2)
                at += _CHIP + 4
            for index, text in enumerate(cell):
                self.sheet.letters.draw(text, at, baseline - index * _CELL_LEADING, _CELL)
            x += width
        self.y -= row.height
        line_on(self.sheet.canvas, (self.left, self.y), (self.right, self.y), width=HAIR, gray=0.75)

    def _chip(self, chip: Chip, x: float, y: float) -> None:
        """The letter of a fabric on its color; the letter tells it from others in gray."""
        canvas = self.sheet.canvas
        canvas.setFillColor(HexColor(chip.color))
        canvas.setStrokeGray(INK)
        canvas.setLineWidth(HAIR)
        canvas.rect(x, y, _CHIP, _CHIP, stroke=1, fill=1)
        canvas.setFillColor(HexColor(reads_on(chip.color)))
        self.sheet.letters.draw(chip.letter, x + _CHIP / 2, y + 2.8, _SMALL, bold=True, anchor="middle")
        canvas.setFillGray(INK)
