"""Instructions as values: the booklet and the page for the tablet show the same ones.

What is said is a `Message`, or a maker's own words as a string. Sizes of drawings are points.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Union

from applique.design import Method
from applique.drawings import Drawing
from applique.language import Field, Message
from applique.words.sew_along import Done

__all__ = [
    "Block",
    "Cautions",
    "Cell",
    "Chapter",
    "ChapterKind",
    "Chip",
    "Choices",
    "Edition",
    "Heading",
    "Instructions",
    "Led",
    "LetterTicks",
    "Listed",
    "OnScreen",
    "Option",
    "Paragraph",
    "Picture",
    "Place",
    "RowPlaces",
    "RowTicks",
    "Said",
    "Step",
    "Table",
    "Tick",
]

Said = str | Message


class Edition(StrEnum):
    """For whom it is written: the maker of the pattern with all that she should know, or whoever she gives it to."""

    MAKER = "maker"
    CUSTOMER = "customer"


class ChapterKind(StrEnum):
    """The chapters, in their order where letters are stitched on the panel."""

    COVER = "cover"
    SCALE = "scale"
    NEEDED = "needed"
    BEFORE = "before"
    CUTTING = "cutting"
    LETTERS = "letters"
    PLACING = "placing"
    STITCHING = "stitching"
    TRIMMING = "trimming"
    SETTING = "setting"
    BORDERS = "borders"
    LAYERING = "layering"
    QUILTING = "quilting"
    FINISHING = "finishing"
    COLORING = "coloring"
    CARE = "care"


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading inside a chapter."""

    said: Said


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """Running text; `quiet` is what may be passed over."""

    said: Said
    quiet: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """Things in no order, a dash before each."""

    items: tuple[Said, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Led:
    """Paragraphs, each behind the words that lead it, indented by `depth` more steps. `chips` are the colors of those
    that have one, by their place among the items."""

    items: tuple[tuple[Said, Said], ...]
    depth: int = 0
    chips: Mapping[int, Chip] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chip:
    """The letter of a fabric on its color, and its name."""

    letter: str
    color: str
    name: str


Cell = Union["Field", Chip]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table: the head of each column with its width as a part of the line, and the cells of each row."""

    columns: tuple[tuple[Message, float], ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing across the line, with words beneath it; or a small one with paragraphs on its right. `on_screen` is
    what is shown where it is not printed, if that is another one."""

    drawing: Drawing
    caption: Said | None = None
    beside: tuple[Said, ...] = ()
    on_screen: Drawing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """Something to tick off when it is done; `key` names it and stays the same as long as it is the same thing."""

    key: str
    said: Said


@dataclass(frozen=True, slots=True, kw_only=True)
class RowTicks:
    """A tick for every piece of one row, in reading order; each stretch of `words` holds the ticks of one word."""

    said: Said
    words: tuple[tuple[Tick, ...], ...]
    leftward: bool

    @property
    def ticks(self) -> tuple[Tick, ...]:
        """All of them."""
        return tuple(tick for word in self.words for tick in word)


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterTicks:
    """One thing that is `done` to letters, or to what lies behind them, row by row in the order of work."""

    done: Done
    rows: tuple[RowTicks, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where one letter, outline or word goes: its template, nothing for words, and its distances under their heads.

    `notes` are what else is said of it, and `parts` a line for each part of one in several.
    """

    text: str
    template: str
    distances: tuple[Message, ...]
    notes: tuple[Message, ...] = ()
    parts: tuple[Place, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RowPlaces:
    """Where all pieces of a row go, or all that lies `behind` it; each of the `groups` is a word.

    `note` says where its baseline is. The heads of the columns are `first`, `template`, which is empty for words, and
    one for each of the `distances`.
    """

    title: Said
    behind: bool
    fabric: str
    note: Message | None
    first: Message
    template: Said
    distances: tuple[Message, ...]
    groups: tuple[tuple[Place, ...], ...]

    @property
    def places(self) -> tuple[Place, ...]:
        """All of them."""
        return tuple(place for group in self.groups for place in group)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnScreen:
    """What the page for the tablet has of a step besides its number and its drawing, where paper has something else.

    `said` takes the place of the step's own words where there is any. `places` are on paper the table of the placement
    guide. `letters` are ticked off one by one, where paper has a box for each template or row.
    """

    said: tuple[Said, ...] = ()
    places: tuple[RowPlaces, ...] = ()
    letters: tuple[LetterTicks, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """Something to do. Steps are numbered through all chapters, from 1. The drawing stands beside the words, or
    across the line beneath them where it is wider than half of it. `on_screen` is what differs where it is not printed.
    """

    number: int
    said: tuple[Said, ...]
    drawing: Drawing | None = None
    ticks: tuple[Tick, ...] = ()
    on_screen: OnScreen = OnScreen()


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One of several ways to go on."""

    title: Said
    said: tuple[Said, ...]
    drawing: Drawing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """Ways to go on side by side, one of which is taken."""

    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cautions:
    """What can hurt somebody or spoil the work, where it can happen."""

    items: tuple[Said, ...]


Block = Heading | Paragraph | Listed | Led | Table | Picture | Step | Choices | Cautions


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """A chapter; `apart` starts a page of its own."""

    kind: ChapterKind
    title: Said
    blocks: tuple[Block, ...]
    apart: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Instructions:
    """Everything that is to be done for one quilt in one method."""

    method: Method
    edition: Edition
    chapters: tuple[Chapter, ...]

    def steps(self) -> Iterator[Step]:
        """All steps in their order."""
        for chapter in self.chapters:
            for block in chapter.blocks:
                if isinstance(block, Step):
                    yield block

    def drawings(self) -> Iterator[Drawing]:
        """All drawings in their order, as they are shown on a screen."""
        for chapter in self.chapters:
            for block in chapter.blocks:
                match block:
                    case Picture(drawing=drawing, on_screen=on_screen):
                        yield drawing if on_screen is None else on_screen
                    case Step(drawing=Drawing() as drawing):
                        yield drawing
                    case Choices(options=options):
                        yield from (option.drawing for option in options if option.drawing is not None)
