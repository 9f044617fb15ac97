"""Template sheets laid out, as values: whole templates on pages, tiles of large ones, and where labels stand."""

from __future__ import annotations

from dataclasses import dataclass

from applique.design import Copies
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point
from applique.paging.frame import SheetFrame

__all__ = ["LabelSpot", "SheetItem", "TemplatePage", "TemplateSheets", "Tile", "TiledTemplate", "Tiling"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSpot:
    """Where a template's label stands, about the template's own origin.

    `box` holds the lines of text; `turn_deg` is 0 for text along x, 90 for text up y. `arrow` is the grain
    arrow as (x, low y, high y), always along the letter's height. `inside` says that it lies on the letter.
    """

    lines: tuple[str, ...]
    box: Bounds
    turn_deg: int
    arrow: tuple[float, float, float]
    inside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetItem:
    """A template on a page and its place in the drawing area."""

    template: int
    place: Place
    label: LabelSpot


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplatePage:
    """A page of whole templates."""

    items: tuple[SheetItem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One page of a drawing larger than a page: the `window` of it that the page shows, in its frame.

    `name` is its row letter from the top and its column number from the left, such as B2.
    """

    name: str
    row: int
    column: int
    window: Bounds


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """A drawing cut into tiles that share an overlap.

    `area` is what the tiles cover. Neighbors are trimmed and joined on `seams_x` and `seams_y`, lines in the
    middle of their overlap that both pages print; `marks` are points on the seams that both print too, to be
    laid one on the other. Tiles without ink are not in `tiles`.
    """

    area: Bounds
    rows: int
    columns: int
    seams_x: tuple[float, ...]
    seams_y: tuple[float, ...]
    marks: tuple[Point, ...]
    tiles: tuple[Tile, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TiledTemplate:
    """A template larger than a page, turned about its origin, and its tiling in that frame."""

    template: int
    place: Place
    tiling: Tiling


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateSheets:
    """All template pages: first the whole ones, then the tiled templates, tile by tile."""

    frame: SheetFrame
    copies: Copies
    pages: tuple[TemplatePage, ...]
    tiled: tuple[TiledTemplate, ...]

    @property
    def page_count(self) -> int:
        """Pages with templates, the first page with its explanations not counted."""
        return len(self.pages) + sum(len(tiled.tiling.tiles) for tiled in self.tiled)
