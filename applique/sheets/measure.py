"""How high blocks of instructions are, and how large what they show is drawn.

Sizes and places are points. What is said is said in the language of the pages; strings are a maker's own words.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from applique.drawings import Drawing
from applique.instructions import Block, Cautions, Heading, Option, Paragraph, Picture, Step
from applique.instructions.values import Said
from applique.sheets.drawing import ink_top
from applique.sheets.frame import POINTS, Sheet
from applique.sheets.lined_table import CAPITALS

__all__ = [
    "AFTER",
    "BELOW",
    "BODY",
    "DASH",
    "GUTTER",
    "HANGS",
    "HEAD",
    "LEADING",
    "MOST_TICKS",
    "NUMBER",
    "SETTINGS",
    "TICK",
    "UNDER_TICKS",
    "Entry",
    "Layout",
    "Measure",
    "Measured",
    "Setting",
]

BODY: Final = 9.5
LEADING: Final = 13.5
AFTER: Final = 4.0
"""White after a paragraph."""
HEAD: Final = 11.0
GUTTER: Final = 16.0
"""White between words and the drawing beside them, and between choices."""
NUMBER: Final = 24.0
"""What stands before the words of a step."""
DASH: Final = 12.0
TICK: Final = 8.0
_WIDE: Final = 0.5
"""A drawing wider than this share of the line stands beneath the words of its step."""
_MOST_BESIDE: Final = 3
"""So many choices stand side by side."""
MOST_TICKS: Final = 12
"""So many rows of ticks stay with their step; more may go on on the next page."""
UNDER_TICKS: Final = 5.0
"""White below ticks."""
HANGS: Final = LEADING - 3.0 - CAPITALS * BODY
"""From the top of a step to the capitals of its first line, where its drawing begins too."""
BELOW: Final = 8.0
"""White below a drawing beside words; with `HANGS`, more than 10 points to the next one."""


@dataclass(frozen=True, slots=True)
class Setting:
    """How large drawings are on a page, how much white is left between blocks, and its price."""

    drawn: float
    white: float
    price: float


SETTINGS: Final = tuple(
    Setting(drawn, white, 0.2 * abs(1 - drawn) * (0.25 if drawn > 1 else 1.0) + 0.2 * (1 - white))
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
    """What laying out a booklet finds and laying it out again needs: its pages, its contents, and the pages of
    what else is referred to by its words."""

    pages: int = 0
    entries: tuple[Entry, ...] = ()
    anchors: tuple[tuple[str, tuple[int, ...]], ...] = ()
    measured: Measured = field(default_factory=Measured, compare=False, repr=False)


class Measure:
    """Measures blocks for the lines of a sheet, in the setting of the page that is tried."""

    def __init__(self, sheet: Sheet, layout: Layout, *, beside: float) -> None:
        self.sheet = sheet
        self.left, self.right = sheet.frame.margin * POINTS, sheet.right
        self._layout = layout
        titles = ((entry.title, tuple(range(entry.pages[0], entry.pages[1] + 1))) for entry in layout.entries)
        self._speech = replace(sheet.speech, pages=(*layout.anchors, *titles))
        self._beside_width = beside
        self._setting = SETTINGS[0]
        self._told: dict[int, tuple[Said, str]] = {}
        self._ticked: dict[int, tuple[Step, list[list[str]], float]] = {}

    def _gap(self, points: float) -> float:
        """So much white, or less where lines are set tight."""
        return points * self._setting.white

    @property
    def width(self) -> float:
        """How wide a line may be."""
        return self.right - self.left

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
        return len(self._lines(said, width)) * LEADING + self._gap(AFTER)

    def _height(self, block: Block) -> float:
        """How high a block is that stays in one part and has no number."""
        match block:
            case Heading():
                return self._gap(9) + HEAD + 4
            case Paragraph(said=said):
                return self._text(said, self.width)
            case Picture(drawing=drawing, beside=beside):
                high = drawing.height * self._scale(drawing, self.width)
                room = self._room_beside(drawing)
                return max(high, sum(self._text(said, room) for said in beside)) + 6 + self._caption(block)
            case Cautions(items=items):
                return 10 + LEADING + sum(self._text(item, self.width - 2 * DASH) for item in items)
        return 0.0

    def _room_beside(self, drawing: Drawing) -> float:
        return self.width - drawing.width * self._scale(drawing, self.width) - GUTTER

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
        width = self.width - NUMBER
        if step.drawing is not None and self._is_beside(step):
            width -= self._beside_width + GUTTER
        return width

    def _step_height(self, step: Step) -> float:
        width = self._words_width(step)
        words = sum(self._text(said, width) for said in step.said)
        rows, _ = self._tick_rows(step)
        words += sum(self._tick_row(row, width) for row in rows[:MOST_TICKS])
        words += UNDER_TICKS if 0 < len(rows) <= MOST_TICKS else 0.0
        if step.drawing is None:
            return words
        if self._is_beside(step):
            drawn = step.drawing.height * self._beside_drawn(step.drawing)
            return max(words, drawn - self._raised(step.drawing) + HANGS + self._gap(BELOW))
        drawn = step.drawing.height * self._scale(step.drawing, self.width - NUMBER)
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
        return (self.width - (count - 1) * GUTTER) / count

    def _option(self, option: Option, width: float) -> float:
        """How high the words of an option are."""
        high = len(self._lines(option.title, width, bold=True)) * LEADING + 2
        return high + sum(self._text(said, width) for said in option.said)

    def _tick_columns(self, wide: Sequence[float], width: float) -> tuple[int, float]:
        """How many ticks stand in a row, and points from one to the next: a grid with no tick alone in its last row
        where that can be.
        """
        column = max(wide)
        most = max(1, min(len(wide), int((width + DASH) // column)))
        even = math.ceil(len(wide) / math.ceil(len(wide) / most))
        whole = (count for count in range(even, 1, -1) if len(wide) % count != 1)
        return next(whole, even), column

    def _tick_rows(self, step: Step) -> tuple[list[list[str]], float]:
        """Ticks in rows, and points from one place to the next; where that takes fewer rows a wide tick has several
        places, those after its first empty."""
        if not step.ticks:
            return [], 0.0
        known = self._ticked.get(id(step))
        if known is None:  # asked for again and again while a page is fitted, and the same in every setting
            known = self._ticked[id(step)] = (step, *self._ticks_in_rows(step))
        return known[1], known[2]

    def _ticks_in_rows(self, step: Step) -> tuple[list[list[str]], float]:
        texts = [self._speech.field(tick.said) for tick in step.ticks]
        wide = [self.sheet.letters.width(text, BODY) + TICK + 6 + DASH for text in texts]
        room = self._words_width(step)
        count, column = self._tick_columns(wide, room)
        rows = [texts[start : start + count] for start in range(0, len(texts), count)]
        for narrow in sorted(set(wide), reverse=True)[1:]:
            packed = _packed(texts, [math.ceil(one / narrow) for one in wide], int((room + DASH) // narrow))
            if packed and len(packed) < len(rows):
                rows, column = packed, narrow
        return rows, column

    def _tick_row(self, texts: Sequence[str], width: float) -> float:
        return max(self._text(text, width - TICK - 6) for text in texts)

    def _option_drawn(self, options: Sequence[Option], width: float) -> float:
        """How high the drawings of options side by side are, the highest of them."""
        drawings = [option.drawing for option in options if option.drawing is not None]
        return max((one.height * self._scale(one, width) for one in drawings), default=0.0)

    def _options_height(self, options: Sequence[Option], width: float) -> float:
        drawn = self._option_drawn(options, width)
        return (drawn + 6 if drawn else 0.0) + max(self._option(one, width) for one in options) + 8


def _packed(texts: Sequence[str], places: Sequence[int], count: int) -> list[list[str]]:
    """Texts in rows of `count` places, each followed by as many empty ones as it takes; nothing where one has no
    room."""
    if max(places) > count:
        return []
    rows: list[list[str]] = [[]]
    for text, takes in zip(texts, places, strict=True):
        if len(rows[-1]) + takes > count:
            rows.append([])
        rows[-1] += [text, *[""] * (takes - 1)]
    return rows
