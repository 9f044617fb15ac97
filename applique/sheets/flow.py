"""Blocks of instructions on pages: headings that stay with what follows them, steps with their drawings, tables.

Sizes and places are points. What is said is said in the language of the flow; strings are a maker's own words.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise
from typing import Final

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
)
from applique.instructions.values import Said
from applique.sheets.breaking import KEPT, Piece, fill_pages
from applique.sheets.drawing import ink_top, paint_drawing
from applique.sheets.frame import CHAPTER, POINTS, Sheet
from applique.sheets.lined_table import (
    CAPITALS,
    CHIP,
    LinedTable,
    Row,
    draw_chip,
    draw_heads,
    draw_row,
    lined,
)
from applique.sheets.strokes import BOLD, INK, QUIET, THIN, line_on
from applique.words.instructions.cover import CONTENTS, chapter_said, contents_said
from applique.words.sheets import TAKE_CARE, continued_said

__all__ = ["Entry", "Flow", "Layout"]

BODY: Final = 9.5
LEADING: Final = 13.5
_AFTER: Final = 4.0
"""White after a paragraph."""
_COVER: Final = 26.0
_HEAD: Final = 11.0
_APART: Final = 4.0
"""White between a lead and what stands on its right."""
_GUTTER: Final = 16.0
"""White between words and the drawing beside them, and between choices."""
_NUMBER: Final = 24.0
"""What stands before the words of a step."""
_LEAD: Final = 46.0
_DASH: Final = 12.0
_TICK: Final = 8.0
_WIDE: Final = 0.5
"""A drawing wider than this share of the line stands beneath the words of its step."""
_MOST_BESIDE: Final = 3
"""So many choices stand side by side."""
_WHOLE: Final = 6
"""A table of so few rows is not parted."""
_TOGETHER: Final = 3
"""So many rows of a table at least stand together."""
_MOST_MORE: Final = 14.0
"""Points of white added before steps and headings of a page that is not full, at the most."""
_SHOWN: Final = 0.8
_CLOSE: Final = 0.4
"""Price of parting the pictures of one step; of what is better together; of what is a little better together; of the
rows of a table; and what a chapter is worth that begins a page.
"""
_NEAR: Final = 0.12
_ROW: Final = 0.08
_CHAPTER: Final = 0.02
_MOST_TICKS: Final = 12
"""So many rows of ticks stay with their step; more may go on on the next page."""
_UNDER_TICKS: Final = 5.0
"""White below ticks."""
_CENTERED: Final = (ChapterKind.COVER, ChapterKind.COLORING)
"""Chapters whose pictures stand in the middle of the page."""
_ABOVE_QUILT: Final = 0.4
"""Of the white of a cover, the share between its title and the quilt."""
_HANGS: Final = LEADING - 3.0 - CAPITALS * BODY
"""From the top of a step to the capitals of its first line, where its drawing begins too."""
_BELOW: Final = 8.0
"""White below a drawing beside words; with `_HANGS`, more than 10 points to the next one."""


@dataclass(frozen=True, slots=True)
class _Setting:
    """How large drawings are on a page, how much white is left between blocks, and its price."""

    drawn: float
    white: float
    price: float


_SETTINGS: Final = tuple(
    _Setting(drawn, white, 0.2 * abs(1 - drawn) * (0.25 if drawn > 1 else 1.0) + 0.2 * (1 - white))
    for white, sizes in (
        (1.0, (1.0, 1.1, 1.2, 1.3, 1.4, 0.95, 0.9, 0.85, 0.8)),
        (0.85, (1.0, 0.95, 0.9, 0.85, 0.8)),
    )
    for drawn in sizes
)
"""Rather than leave much of a page white, drawings are made a little smaller and lines set tighter, or drawings as much
larger as the page and the line have room.
"""


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the contents: its title, the first and last of its steps if it has any, the first and last of its
    pages, and what else is to be said of them.
    """

    title: str
    steps: tuple[int, int] | None
    pages: tuple[int, int]
    note: str = ""


@dataclass(slots=True)
class Measured:
    """What stays the same however a booklet is laid out: words in lines, and how far up drawings have ink."""

    lines: dict[tuple[str, float, float, bool], list[str]] = field(default_factory=dict)
    tops: dict[int, tuple[Drawing, float]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Layout:
    """What laying out a booklet finds and laying it out again needs: its pages and its contents."""

    pages: int = 0
    entries: tuple[Entry, ...] = ()
    measured: Measured = field(default_factory=Measured, compare=False, repr=False)


@dataclass(slots=True)
class _Entered:
    """A chapter on a page, with the first and last of its steps there."""

    title: str
    steps: tuple[int, int] | None = None

    def add(self, number: int) -> None:
        self.steps = (self.steps[0] if self.steps else number, number)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """What stands on one page: how high it is, how it is drawn, and what `Piece` asks for; white may be added before
    what is `airy`, and so much as its `share` of what the page has left.
    """

    chapter: Chapter
    height: Callable[[], float]
    draw: Callable[[], None]
    above: float = 0.0
    again: Callable[[], None] | None = None
    again_high: float = 0.0
    price: float = 0.0
    airy: bool = False
    share: float = 0.0
    has_drawing: bool = False


def _cover_share(before: Block | None, block: Block) -> float:
    """Of the white of a cover, what stands before a block: the quilt stands above the middle, its facts at the foot."""
    if isinstance(before, Picture) and not before.beside:
        return 1.0 - _ABOVE_QUILT
    return _ABOVE_QUILT if isinstance(block, Picture) and not block.beside else 0.0


class Flow:
    """A cursor that runs down the pages of a sheet; pages end where that leaves the least of them white."""

    def __init__(self, sheet: Sheet, layout: Layout, *, beside: float) -> None:
        self.sheet = sheet
        self.entries: list[Entry] = []
        margin = sheet.frame.margin * POINTS
        self.left, self.right, self._bottom = margin, sheet.right, margin
        self._layout = layout
        pages = tuple((entry.title, entry.pages) for entry in layout.entries)
        self._speech = replace(sheet.speech, pages=pages)
        self._beside_width = beside
        self._setting = _SETTINGS[0]
        self._centers = False
        self._here: list[_Entered] = []
        self.y = 0.0
        self._told: dict[int, tuple[Said, str]] = {}

    def _start(self, section: str) -> None:
        self._run_head()
        self.sheet.begin(section, level=0)
        self._here = [_Entered(self._here[-1].title)] if self._here else []
        self.y = self.sheet.top - 6

    def _run_head(self) -> None:
        """Which chapters and steps are on the page."""
        self.sheet.run_head(
            " · ".join(self._speech.field(chapter_said(one.title, one.steps)) for one in self._here)
        )

    def _gap(self, points: float) -> float:
        """So much white, or less where lines are set tight."""
        return points * self._setting.white

    @property
    def width(self) -> float:
        """How wide a line may be."""
        return self.right - self.left

    @property
    def _page(self) -> float:
        return self.sheet.top - 6 - self._bottom

    def chapters(self, chapters: Sequence[Chapter], first_bookmark: Said) -> None:
        """Chapters one after the other, those apart on pages of their own."""
        bookmark = self._speech.field(first_bookmark)
        runs: list[list[Chapter]] = []
        for chapter in chapters:
            if chapter.apart or not runs:
                runs.append([])
            runs[-1].append(chapter)
        for run in runs:
            self._fill([part for chapter in run for part in self._parts(chapter)], bookmark)
            bookmark = ""
        self._run_head()

    def _fill(self, parts: Sequence[_Part], bookmark: str) -> None:
        """Parts on as many pages as they take, the first of which has its `bookmark`."""
        pieces = [
            Piece(
                heights=self._heights(part),
                above=part.above,
                again=part.again_high,
                price=part.price,
            )
            for part in parts
        ]
        prices = [setting.price for setting in _SETTINGS]
        for page in fill_pages(pieces, self._page, prices):
            self._setting = _SETTINGS[page.setting]
            first, *others = parts[page.start : page.end]
            self._start(bookmark or self._speech.field(first.chapter.title))
            bookmark = ""
            if first.again is not None:
                first.again()
            first.draw()
            airy = sum(part.airy for part in others)
            more = min(_MOST_MORE, page.left / airy) if airy else 0.0
            for part in others:
                self.y -= part.above + (more if part.airy else 0.0) + part.share * page.left
                part.draw()
        self._setting = _SETTINGS[0]

    def _heights(self, part: _Part) -> tuple[float, ...]:
        """How high a part is in each setting; one without a drawing is so by the white alone."""
        known: dict[float | _Setting, float] = {}
        for setting in _SETTINGS:
            key = setting if part.has_drawing else setting.white
            if key not in known:
                self._setting = setting
                known[key] = part.above + part.height()
        return tuple(known[setting if part.has_drawing else setting.white] for setting in _SETTINGS)

    # What may be parted, and at what price

    def _parts(self, chapter: Chapter) -> Iterator[_Part]:
        """A chapter in parts, its title first."""

        def title() -> None:
            self._title(chapter)

        fresh = chapter.apart
        yield _Part(
            chapter=chapter,
            height=lambda: self._title_height(chapter),
            draw=title,
            above=0.0 if fresh else 18.0,
            price=-_CHAPTER,
            airy=True,
        )
        before: Block | None = None
        opens = True
        section = chapter.title
        for block in chapter.blocks:
            price = KEPT if opens else self._price(before, block)
            parts = self._block_parts(chapter, block, price)
            if isinstance(block, Heading):
                section = block.said
                yield from parts
            elif chapter.kind is ChapterKind.COVER:
                share = _cover_share(before, block)
                yield from (replace(part, airy=False, share=share) for part in parts)
            else:
                yield from (self._continued(part, section) for part in parts)
            opens = isinstance(block, Heading | Cautions) or (opens and isinstance(block, Paragraph))
            before = block
        if chapter.kind is ChapterKind.SCALE and self._layout.entries:
            yield _Part(chapter=chapter, height=self._contents_height, draw=self._contents)

    def _continued(self, part: _Part, section: Said) -> _Part:
        """A part that says at the top of a page which section goes on with it, before its own head."""
        lines = self._lines(continued_said(section), self.width, _HEAD, bold=True)

        def again() -> None:
            for text in lines:
                self.y -= _HEAD
                self.sheet.letters.draw(text, self.left, self.y, _HEAD, bold=True)
                self.y -= 4
            self.y -= 4
            if part.again is not None:
                part.again()

        return replace(part, again=again, again_high=part.again_high + len(lines) * (_HEAD + 4) + 4)

    @staticmethod
    def _price(before: Block | None, block: Block) -> float:
        """What a page costs that begins with `block` and leaves `before` behind: much where one makes no sense
        without the other, a little where they are better together.
        """
        match before, block:
            case (Paragraph(), Picture() | Choices() | Table() | Listed()) | (
                Step(),
                Picture() | Choices() | Table() | Led(),
            ):
                return KEPT
            case (Picture(), Picture()):
                return _SHOWN
            case (Picture() | Led(), Table() | Led()) | (Picture(), Paragraph()) | (_, Paragraph(quiet=True)):
                return _CLOSE
            case Paragraph(quiet=True), Step() | Led():
                return 0.0
            case (Paragraph(), Step() | Led()) | (Table() | Step() | Paragraph(), Paragraph()):
                return _NEAR
        return 0.0

    def _block_parts(self, chapter: Chapter, block: Block, price: float) -> Iterator[_Part]:
        """A block in parts: a long table, a list and many ticks go on on the next page."""
        match block:
            case Table():
                yield from self._table_parts(
                    chapter, lined(self.sheet, block, self._speech, self.width), price
                )
            case Listed(items=items):
                for index, item in enumerate(items):
                    yield self._item(chapter, item, _DASH, "–", price if not index else _NEAR)
            case Led():
                yield from self._led_parts(chapter, block, price)
            case Choices(options=options):
                count = self._beside(options)
                for start in range(0, len(options), count):
                    yield self._choices_part(chapter, options, start, price if not start else 0.0)
            case Step():
                yield _Part(
                    chapter=chapter,
                    height=lambda: self._step_height(block),
                    draw=lambda: self._step(block),
                    price=price,
                    airy=price < KEPT,
                    has_drawing=block.drawing is not None,
                )
                yield from self._more_ticks(chapter, block)
            case _:
                yield _Part(
                    chapter=chapter,
                    height=lambda: self._height(block),
                    draw=lambda: self._block(block),
                    price=price,
                    airy=price < KEPT and isinstance(block, Heading | Cautions),
                    has_drawing=isinstance(block, Picture),
                )

    def _item(
        self, chapter: Chapter, said: Said, indent: float, lead: Said, price: float, chip: Chip | None = None
    ) -> _Part:
        def draw() -> None:
            if chip is not None:
                x = self.left + indent - CHIP - 4
                draw_chip(self.sheet, chip, x, self.y - LEADING + 3 + (CAPITALS * BODY - CHIP) / 2)
            self.paragraph(said, indent=indent, lead=lead)

        return _Part(
            chapter=chapter, height=lambda: self._text(said, self.width - indent), draw=draw, price=price
        )

    def _led_parts(self, chapter: Chapter, led: Led, price: float) -> Iterator[_Part]:
        """Paragraphs, each behind its lead, all indented as far as the widest lead reaches, and by a chip
        more where what it leads has chips; those of one lead stay together."""
        leads = [self._speech.field(lead) for lead, _ in led.items]
        reach = max(self.sheet.letters.width(lead, BODY, bold=True) for lead in leads) + 2 * _APART
        indent = (max(_LEAD, reach) if any(leads) else _NUMBER) + led.depth * _DASH
        group = list(accumulate(map(bool, leads)))
        chipped = {group[index] for index in led.chips}
        for index, (lead, (_, said)) in enumerate(zip(leads, led.items, strict=True)):
            by = indent + (CHIP + 4 if group[index] in chipped else 0)
            goes_on = index > 0 and group[index] == group[index - 1]
            cost = price if not index else KEPT if goes_on else _NEAR
            yield self._item(chapter, said, by, lead, cost, led.chips.get(index))

    def _choices_part(self, chapter: Chapter, options: tuple[Option, ...], start: int, price: float) -> _Part:
        width, count = self._option_width(options), self._beside(options)
        beside = options[start : start + count]
        return _Part(
            chapter=chapter,
            height=lambda: self._options_height(beside, width),
            draw=lambda: self._options(beside, width),
            price=price,
            has_drawing=True,
        )

    def _more_ticks(self, chapter: Chapter, step: Step) -> Iterator[_Part]:
        """The rows of ticks that need not stay with their step."""
        rows, column = self._tick_rows(step)
        width = self._words_width(step)
        for row in rows[_MOST_TICKS:]:
            yield _Part(
                chapter=chapter,
                height=lambda row=row: self._tick_row(row, width),  # type: ignore[misc]
                draw=lambda row=row: self._ticks([row], column, width),  # type: ignore[misc]
            )

    def _table_parts(self, chapter: Chapter, table: LinedTable, price: float) -> Iterator[_Part]:
        """A table; its head comes again on a new page, and no fewer than three rows stand before or after one."""
        rows, count = table.rows, len(table.rows)
        cuts = [0, count] if count <= _WHOLE else [0, *range(_TOGETHER, count - _TOGETHER + 1), count]
        for start, end in pairwise(cuts):
            yield self._rows_part(chapter, table, rows[start:end], price if not start else _ROW, start, end)

    def _rows_part(
        self, chapter: Chapter, table: LinedTable, rows: Sequence[Row], price: float, start: int, end: int
    ) -> _Part:
        high = sum(row.height for row in rows) + (6 if end == len(table.rows) else 0)

        def heads() -> None:
            self.y = draw_heads(self.sheet, table, self.left, self.y)

        def draw() -> None:
            if not start:
                heads()
            for row in rows:
                self.y = draw_row(self.sheet, row, table.widths, self.left, self.y)
            if end == len(table.rows):
                self.y -= 6

        return _Part(
            chapter=chapter,
            height=lambda: high + (0 if start else table.head),
            draw=draw,
            again=heads if start else None,
            again_high=table.head if start else 0.0,
            price=price,
        )

    # Chapters

    def _title_lines(self, chapter: Chapter) -> tuple[list[str], float]:
        size = _COVER if chapter.kind is ChapterKind.COVER else CHAPTER
        return self._lines(chapter.title, self.width, size, bold=True)[:3], size

    def _title_height(self, chapter: Chapter) -> float:
        lines, size = self._title_lines(chapter)
        return len(lines) * (size + 4) + 6

    def _title(self, chapter: Chapter) -> None:
        """Its title, where the chapter begins."""
        self._enter(chapter)
        self._centers = chapter.kind in _CENTERED
        lines, size = self._title_lines(chapter)
        for text in lines:
            self.y -= size
            self.sheet.canvas.setFillGray(INK)
            self.sheet.letters.draw(text, self.left, self.y, size, bold=True)
            self.y -= 4
        self.y -= 6

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

    def _contents_lines(self) -> tuple[list[tuple[Entry, list[str]]], int, float]:
        """Every entry in its lines, how many entries stand in the first column, and how wide that is."""
        width = (self.width - _GUTTER) / 2
        lines = [
            (entry, self._lines(contents_said(entry.title, entry.steps, entry.pages, entry.note), width))
            for entry in self._layout.entries
        ]
        return lines, math.ceil(len(lines) / 2), width

    def _contents_height(self) -> float:
        lines, half, _ = self._contents_lines()
        columns = (lines[:half], lines[half:])
        most = max(sum(len(texts) for _, texts in column) for column in columns)
        return self._gap(9) + _HEAD + 4 + LEADING * most + self._gap(_AFTER)

    def _contents(self) -> None:
        """Where everything is, as the layout before this one found it; each line leads to its page."""
        lines, half, width = self._contents_lines()
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

    # How high a block is

    def _lines(self, said: Said, width: float, size: float = BODY, *, bold: bool = False) -> list[str]:
        told = self._told.get(id(said))
        if told is None:  # asked for again and again while a page is fitted
            told = self._told[id(said)] = (said, self._speech.field(said))
        key = (told[1], width, size, bold)
        lines = self._layout.measured.lines
        if key not in lines:
            lines[key] = self.sheet.letters.wrapped(key[0], size, width, bold=bold)
        return lines[key]

    def _text(self, said: Said, width: float) -> float:
        return len(self._lines(said, width)) * LEADING + self._gap(_AFTER)

    def _height(self, block: Block) -> float:
        """How high a block is that stays in one part and has no number."""
        match block:
            case Heading():
                return self._gap(9) + _HEAD + 4
            case Paragraph(said=said):
                return self._text(said, self.width)
            case Picture(drawing=drawing, beside=beside):
                high = drawing.height * self._scale(drawing, self.width)
                room = self._room_beside(drawing)
                return max(high, sum(self._text(said, room) for said in beside)) + 6 + self._caption(block)
            case Cautions(items=items):
                return 10 + LEADING + sum(self._text(item, self.width - 2 * _DASH) for item in items)
        return 0.0

    def _room_beside(self, drawing: Drawing) -> float:
        return self.width - drawing.width * self._scale(drawing, self.width) - _GUTTER

    def _caption(self, picture: Picture) -> float:
        return 0.0 if picture.caption is None else self._text(picture.caption, self.width)

    def _scale(self, drawing: Drawing, width: float) -> float:
        fit, drawn = width / drawing.width, self._drawn(drawing)
        return min(fit, drawn) if drawn > 1.0 else min(fit, 1.0) * drawn

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
        rows, _ = self._tick_rows(step)
        words += sum(self._tick_row(row, width) for row in rows[:_MOST_TICKS])
        words += _UNDER_TICKS if rows else 0.0
        if step.drawing is None:
            return words
        if self._is_beside(step):
            drawn = step.drawing.height * self._beside_drawn(step.drawing)
            return max(words, drawn - self._raised(step.drawing) + _HANGS + self._gap(_BELOW))
        drawn = step.drawing.height * self._scale(step.drawing, self.width - _NUMBER)
        return words + drawn + 2 + self._gap(8)

    def _drawn(self, drawing: Drawing) -> float:
        """How many times as large as it is a drawing is drawn."""
        return 1.0 if drawing.is_to_scale else self._setting.drawn

    def _beside_drawn(self, drawing: Drawing) -> float:
        """The same of one beside the words of its step: no larger than the column that such drawings share."""
        return self._scale(drawing, max(self._beside_width, drawing.width))

    def _raised(self, drawing: Drawing) -> float:
        """How far above its ink the box of a drawing beside words begins."""
        tops = self._layout.measured.tops
        known = tops.get(id(drawing))
        if known is None:  # asked for again and again while a page is fitted
            known = tops[id(drawing)] = (drawing, ink_top(drawing))
        return (drawing.height - known[1]) * self._beside_drawn(drawing)

    @staticmethod
    def _beside(options: Sequence[Option]) -> int:
        """How many stand side by side: as many in the last row as in the first, or nearly."""
        return math.ceil(len(options) / math.ceil(len(options) / _MOST_BESIDE))

    def _option_width(self, options: Sequence[Option]) -> float:
        count = self._beside(options)
        return (self.width - (count - 1) * _GUTTER) / count

    def _option(self, option: Option, width: float) -> float:
        """How high the words of an option are."""
        high = len(self._lines(option.title, width, bold=True)) * LEADING + 2
        return high + sum(self._text(said, width) for said in option.said)

    # Blocks drawn

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
        for index, text in enumerate(lines):
            self.y -= LEADING
            self.sheet.canvas.setFillGray(QUIET if quiet else INK)
            if not index and lead:
                self.sheet.letters.draw(self._speech.field(lead), self.left, self.y + 3, BODY, bold=True)
            self.sheet.letters.draw(text, self.left + indent, self.y + 3, BODY)
        self.y -= self._gap(_AFTER)
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
        top, width = self.y, self._words_width(step)
        drawing, low = step.drawing, self.y
        if self._here:
            self._here[-1].add(step.number)
        if drawing is not None and self._is_beside(step):
            drawn = self._beside_drawn(drawing)
            low = top - _HANGS - drawing.height * drawn + self._raised(drawing)
            paint_drawing(self.sheet, drawing, (self.right - self._beside_width, low), drawn)
            low -= self._gap(_BELOW)
        self.sheet.canvas.setFillGray(INK)
        self.sheet.letters.draw(str(step.number), self.left, top - LEADING + 3, BODY, bold=True)
        self._column(step.said, self.left + _NUMBER, width)
        rows, column = self._tick_rows(step)
        if rows:
            self._ticks(rows[:_MOST_TICKS], column, width)
            self.y -= _UNDER_TICKS
        if drawing is None or self._is_beside(step):
            self.y = min(self.y, low)
            return
        scale = self._scale(drawing, self.width - _NUMBER)
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

    def _tick_rows(self, step: Step) -> tuple[list[list[str]], float]:
        """Ticks in rows, and points from one to the next."""
        if not step.ticks:
            return [], 0.0
        texts = [self._speech.field(tick.said) for tick in step.ticks]
        count, column = self._tick_columns(texts, self._words_width(step))
        return [texts[start : start + count] for start in range(0, len(texts), count)], column

    def _tick_row(self, texts: Sequence[str], width: float) -> float:
        return max(self._text(text, width - _TICK - 6) for text in texts)

    def _ticks(self, rows: Sequence[Sequence[str]], column: float, width: float) -> None:
        for row in rows:
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

    def _option_drawn(self, options: Sequence[Option], width: float) -> float:
        """How high the drawings of options side by side are, the highest of them."""
        drawings = [option.drawing for option in options if option.drawing is not None]
        return max((one.height * self._scale(one, width) for one in drawings), default=0.0)

    def _options_height(self, options: Sequence[Option], width: float) -> float:
        drawn = self._option_drawn(options, width)
        return (drawn + 6 if drawn else 0.0) + max(self._option(one, width) for one in options) + 8

    def _options(self, options: Sequence[Option], width: float) -> None:
        """Options side by side, their titles in one line."""
        drawn, top = self._option_drawn(options, width), self.y
        low = top
        for index, option in enumerate(options):
            self.y = top
            self._one_option(option, self.left + index * (width + _GUTTER), width, drawn)
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
        self.sheet.letters.draw(self._speech.tell(TAKE_CARE), self.left + _DASH, self.y + 3, BODY, bold=True)
        for item in items:
            left, self.left = self.left, self.left + _DASH
            self.paragraph(item, indent=_DASH, lead="–")
            self.left = left
        line_on(
            self.sheet.canvas, (self.left + 2, top), (self.left + 2, self.y + self._gap(_AFTER)), width=BOLD
        )
        self.y -= 4
