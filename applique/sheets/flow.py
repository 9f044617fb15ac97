"""Blocks of instructions on pages: headings that stay with what follows them, steps with their drawings, tables,
and where pages end.

Sizes and places are points. What is said is said in the language of the flow; strings are a maker's own words.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from typing import Final

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
from applique.sheets.blocks import Blocks
from applique.sheets.breaking import KEPT, Piece, fill_pages
from applique.sheets.frame import CHAPTER, Sheet
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
from applique.sheets.measure import (
    AFTER,
    BODY,
    DASH,
    GUTTER,
    HEAD,
    LEADING,
    MOST_TICKS,
    NUMBER,
    SETTINGS,
    UNDER_TICKS,
    Entry,
    Layout,
    Setting,
)
from applique.sheets.strokes import HAIR, INK, line_on
from applique.words.instructions.cover import CONTENTS, chapter_said, contents_said, on_pages_said
from applique.words.sheets import continued_said

__all__ = ["Flow"]

_COVER: Final = 26.0
_PALE: Final = 0.75
"""The gray of a line below an entry of the contents, as below those of a table."""
_APART: Final = 4.0
"""White between a lead and what stands on its right."""
_LEAD: Final = 46.0
_WHOLE: Final = 6
"""A table of so few rows is parted only where a page would be left white."""
_TOGETHER: Final = 3
_PAIR: Final = 2
"""So many rows of a table at least stand together, and of one that is seldom parted."""
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
_CENTERED: Final = (ChapterKind.COVER, ChapterKind.COLORING)
"""Chapters whose pictures stand in the middle of the page."""
_ABOVE_QUILT: Final = 0.4
"""Of the white of a cover, the share between its title and the quilt."""


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


class Flow(Blocks):
    """Runs down the pages of a sheet; they end where that leaves the least of them white."""

    def __init__(self, sheet: Sheet, layout: Layout, *, beside: float) -> None:
        super().__init__(sheet, layout, beside=beside)
        self.entries: list[Entry] = []
        self._bottom = self.left
        self._here: list[_Entered] = []

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
        prices = [setting.price for setting in SETTINGS]
        for page in fill_pages(pieces, self._page, prices):
            self._setting = SETTINGS[page.setting]
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
        self._setting = SETTINGS[0]

    def _heights(self, part: _Part) -> tuple[float, ...]:
        """How high a part is in each setting; one without a drawing is so by the white alone."""
        known: dict[float | Setting, float] = {}
        for setting in SETTINGS:
            key = setting if part.has_drawing else setting.white
            if key not in known:
                self._setting = setting
                known[key] = part.above + part.height()
        return tuple(known[setting if part.has_drawing else setting.white] for setting in SETTINGS)

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
        lines = self._lines(continued_said(section), self.width, HEAD, bold=True)

        def again() -> None:
            for text in lines:
                self.y -= HEAD
                self.sheet.letters.draw(text, self.left, self.y, HEAD, bold=True)
                self.y -= 4
            self.y -= 4
            if part.again is not None:
                part.again()

        return replace(part, again=again, again_high=part.again_high + len(lines) * (HEAD + 4) + 4)

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
                    yield self._item(chapter, item, DASH, "–", price if not index else _NEAR)
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
                    draw=lambda: self._numbered(block),
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

    def _numbered(self, step: Step) -> None:
        """A step, noted for the head of its page."""
        if self._here:
            self._here[-1].add(step.number)
        self._step(step)

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
        indent = (max(_LEAD, reach) if any(leads) else NUMBER) + led.depth * DASH
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
        for index, row in enumerate(rows[MOST_TICKS:], MOST_TICKS + 1):
            under = UNDER_TICKS if index == len(rows) else 0.0

            def draw(row: Sequence[str] = row, under: float = under) -> None:
                self._ticks([row], column, width)
                self.y -= under

            def height(row: Sequence[str] = row, under: float = under) -> float:
                return self._tick_row(row, width) + under

            yield _Part(chapter=chapter, height=height, draw=draw)

    def _table_parts(self, chapter: Chapter, table: LinedTable, price: float) -> Iterator[_Part]:
        """A table; its head comes again on a new page, and no fewer than three rows stand before or after one, or two
        of a short table."""
        rows, count = table.rows, len(table.rows)
        least, parted = (_PAIR, _SHOWN) if count <= _WHOLE else (_TOGETHER, _ROW)
        for start, end in pairwise([0, *range(least, count - least + 1), count]):
            yield self._rows_part(chapter, table, rows[start:end], price if not start else parted, start, end)

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

    def _contents_lines(self) -> tuple[list[tuple[Entry, str, list[str]]], int, float]:
        """Every entry with its pages and in its lines, how many entries stand in the first column, and how wide that
        is."""
        width, letters = (self.width - GUTTER) / 2, self.sheet.letters
        pages = [self._speech.field(on_pages_said(*entry.pages)) for entry in self._layout.entries]
        room = width - max((letters.width(text, BODY) for text in pages), default=0.0) - 3 * _APART
        lines = [
            (entry, page, self._lines(contents_said(entry.title, entry.steps, entry.note), room))
            for entry, page in zip(self._layout.entries, pages, strict=True)
        ]
        return lines, math.ceil(len(lines) / 2), width

    def _contents_height(self) -> float:
        lines, half, _ = self._contents_lines()
        columns = (lines[:half], lines[half:])
        most = max(sum(len(texts) for *_, texts in column) for column in columns)
        return self._gap(9) + HEAD + 4 + LEADING * most + self._gap(AFTER)

    def _contents(self) -> None:
        """Where everything is, as the layout before this one found it, its pages below one another at the end of its
        line; each line leads to its page."""
        lines, half, width = self._contents_lines()
        self._heading(CONTENTS)
        top = low = self.y
        for start in (0, half):
            self.y, x = top, self.left + (width + GUTTER if start else 0.0)
            for entry, page, texts in lines[start : start + half]:
                high = self.y
                for text in texts:
                    self.y -= LEADING
                    self.sheet.letters.draw(text, x, self.y + 3, BODY)
                self.sheet.letters.draw(page, x + width, self.y + 3, BODY, anchor="end")
                line_on(self.sheet.canvas, (x, self.y), (x + width, self.y), width=HAIR, gray=_PALE)
                area = (x, self.y, x + width, high)
                self.sheet.canvas.linkRect("", f"page-{entry.pages[0]}", area, thickness=0)
            low = min(low, self.y)
        self.y = low - self._gap(AFTER)
