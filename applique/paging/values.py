"""Template sheets laid out, as values: whole templates on pages, tiles of large ones, and where labels stand."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from applique.design import Copies
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point
from applique.paging.frame import SheetFrame

__all__ = [
    "Join",
    "Joining",
    "LabelSpot",
    "MarkWord",
    "PartTag",
    "SheetItem",
    "TemplatePage",
    "TemplateSheets",
    "Tile",
    "TileMarks",
    "TiledTemplate",
    "Tiling",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartTag:
    """The name of one part of a letter, on the part or right beside it: `box` holds it, about the template's own
    origin; `turn_deg` is 0 for text along x, 90 for text up y.
    """

    name: str
    box: Bounds
    turn_deg: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSpot:
    """Where a template's label stands, about the template's own origin.

    `box` holds the lines of text; `turn_deg` is 0 for text along x, 90 for text up y. `arrow` is the grain
    arrow as (x, low y, high y), always along the letter's height; `up` is the arrow to the letter's top, as long.
    `inside` says that it lies on the letter; `leader` leads into the letter, to
    where a dot is, from a label that lies beside it. `parts` are the labels of
    the other parts of a letter that is cut in several, `tags` the names of those that have no room for one.
    """

    lines: tuple[str, ...]
    box: Bounds
    turn_deg: int
    arrow: tuple[float, float, float]
    up: tuple[float, float, float]
    inside: bool
    leader: tuple[Point, Point] | None
    parts: tuple[LabelSpot, ...] = ()
    tags: tuple[PartTag, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkWord:
    """What a mark is called, and the box that holds it, level in the drawing area of its page."""

    text: str
    box: Bounds


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetItem:
    """A template on a page and its place in the drawing area; `words` name the marks of a letter that have room."""

    template: int
    place: Place
    label: LabelSpot
    words: tuple[MarkWord, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplatePage:
    """A page of whole templates, in the order of their numbers."""

    items: tuple[SheetItem, ...]

    @property
    def first(self) -> int:
        """The lowest number on the page."""
        return self.items[0].template


class Joining(StrEnum):
    """What is done at a side of a tile where another one joins it."""

    TRIM = "trim"
    TAPE = "tape"


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """A side of a tile where the tile `other` joins it, on the seam between the points of `seam`.

    One of the two is trimmed on the seam, and is taped onto the strip of the other. `at` is the middle of the words
    that say so, along the seam, where they hide no line of the drawing that could be helped.
    """

    joining: Joining
    other: str
    seam: tuple[Point, Point]
    at: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One page of a drawing larger than a page: the `window` of it that the page shows, in its frame.

    `name` is its row letter from the top and its column number from the left, such as B-2. `kept` is what is left of
    the window when every side that joins another has been trimmed on its seam or taped over.
    """

    name: str
    row: int
    column: int
    window: Bounds
    kept: Bounds
    joins: tuple[Join, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """A drawing cut into tiles that share an overlap.

    `area` is what the tiles cover. Neighbors are trimmed and joined on `seams_x` and `seams_y`, lines in the
    middle of their overlap that both pages print; `marks` are points on the seams that both print too, to be
    laid one on the other. Tiles that keep nothing of the drawing are not in `tiles`.
    """

    area: Bounds
    rows: int
    columns: int
    seams_x: tuple[float, ...]
    seams_y: tuple[float, ...]
    marks: tuple[Point, ...]
    tiles: tuple[Tile, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TileMarks:
    """What a tile shows of a letter's middle and of its baseline, in the frame of its tiling.

    `middle` is the mark of the middle, None on a tile that has none of it; near a seam it is `bold`, and `word_box`
    holds the `word` that names it. `number_box` holds the number of the letter beside its baseline.
    """

    middle: tuple[Point, Point] | None = None
    bold: bool = False
    word: str = ""
    word_box: Bounds | None = None
    number_box: Bounds | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TiledTemplate:
    """A template larger than a page, turned about its origin, and its tiling in that frame.

    `labels` are those of its tiles, in their order, about the template's own origin, `marks` those of its middle and
    baseline. `copy` counts, from 1, the `copies` that are printed of it.
    """

    template: int
    place: Place
    tiling: Tiling
    labels: tuple[LabelSpot, ...]
    marks: tuple[TileMarks, ...]
    copy: int
    copies: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateSheets:
    """All template pages: the whole ones, and the tiled templates, which take a page for each tile.

    Pages are in the order of the lowest number on each, and so are the tiled templates.
    """

    frame: SheetFrame
    copies: Copies
    pages: tuple[TemplatePage, ...]
    tiled: tuple[TiledTemplate, ...]

    @property
    def joined(self) -> tuple[TiledTemplate, ...]:
        """The templates whose pages are taped together: what fits one page by itself is a page like any other."""
        return tuple(tiled for tiled in self.tiled if len(tiled.tiling.tiles) > 1)

    @property
    def has_neighbors(self) -> bool:
        """Whether a page has more than one template."""
        return any(len(page.items) > 1 for page in self.pages)

    @property
    def in_order(self) -> tuple[TemplatePage | TiledTemplate, ...]:
        """Pages and tiled templates as they are printed: by the lowest number on each."""
        return tuple(
            sorted(
                (*self.pages, *self.tiled),
                key=lambda one: one.template if isinstance(one, TiledTemplate) else one.first,
            )
        )

    @property
    def page_count(self) -> int:
        """Pages with templates, the first page with its explanations not counted."""
        return len(self.pages) + sum(len(tiled.tiling.tiles) for tiled in self.tiled)
