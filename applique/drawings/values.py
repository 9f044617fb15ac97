"""A drawing as a value, on no paper and no screen yet.

Frame: points from its lower left corner, y up. Four weights of line serve all drawings; the lightest, in a lighter
gray, is also that of what is gone; every drawing reads in gray.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from applique.geometry.outline import Contour, Outline
from applique.geometry.points import Matrix, Point
from applique.language import Message
from applique.typeset.labels import label_width

__all__ = [
    "BOLD",
    "CUT",
    "FINE",
    "GONE",
    "HAIR",
    "HOLLOW",
    "INK",
    "MOUTH",
    "NARROW",
    "PAGES_MEET",
    "PAPER",
    "QUIET",
    "Anchor",
    "Drawing",
    "Ink",
    "Mark",
    "Raster",
    "Shape",
    "Tile",
    "Words",
    "box",
    "line",
    "path",
    "text_width",
]

INK: Final = "#000000"
QUIET: Final = "#6b6b6b"
PAPER: Final = "#ffffff"
NARROW: Final = 216.0
"""Points across a drawing for a narrow page, where its words of 7 points can still be read."""


class Anchor(StrEnum):
    """Which part of words stands at their place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ink:
    """A line: its color, its width in points, how much it covers, from 0 to 1, and its dashes and gaps.

    One that `is_to_scale`, a thread or a seam as wide as it is, grows and shrinks with its drawing; all others are as
    wide as they say on every page.
    """

    color: str = INK
    width: float = 0.5
    opacity: float = 1.0
    dashes: tuple[float, ...] = ()
    is_to_scale: bool = False


BOLD: Final = Ink(width=1.6)
"""What is done now: the first cut, the needle's way."""
CUT: Final = Ink(width=1.0)
"""Edges of cloth and paper."""
FINE: Final = Ink(width=0.5)
"""What is inside: seams, folds (dashed), tools."""
MOUTH: Final = Ink(width=1.6, color=QUIET)
"""The cut along the middle of a mouth that the turn-unders close: the same in the picture of the step and on
templates."""
HAIR: Final = Ink(width=0.3, color=QUIET)
"""Ticks, leaders, dimension lines."""
HOLLOW: Final = Ink(width=0.8, color=QUIET, dashes=(1.6, 1.6))
"""Where the middle of the web comes away: short dashes, the same in the pictures of steps and on templates."""
PAGES_MEET: Final = Ink(width=0.5, color=QUIET, dashes=(12.0, 2.0, 1.5, 2.0, 1.5, 2.0))
"""Where two pages of a large letter meet: dashes and dots, the same in the picture of the step and on templates."""
GONE: Final = Ink(width=0.3, color="#a3a3a3", dashes=(2.0, 2.0))
"""Where something was before: cut off now, or folded away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """A picture made of pixels, as JPEG or PNG, `width` by `height`, laid edge to edge in a frame of its own.

    In that frame y is up and the upper left corner of one lies at the origin; `onto` brings it onto the drawing.
    """

    data: bytes
    width: float
    height: float
    onto: Matrix


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """An outline filled and then drawn along; an `open` one is a line whose ends do not meet.

    `tile` covers the fill, for whoever can show it.
    """

    outline: Outline
    fill: str | None = None
    ink: Ink | None = None
    open: bool = False
    tile: Tile | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Words with their baseline at `at`, turned `turn_deg` to the left about it; `ground` is painted behind them."""

    said: str | Message
    at: Point
    size: float = 8.0
    bold: bool = False
    color: str = INK
    anchor: Anchor = Anchor.START
    turn_deg: float = 0.0
    ground: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Raster:
    """A picture made of pixels, as PNG, its lower left corner at `at`."""

    png: bytes
    at: Point
    width: float
    height: float


Mark = Shape | Words | Raster


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """`marks` in the order of painting, on `width` by `height` points; `said` tells what it shows.

    One that says its scale, or has a size of its own, `is_to_scale`: it is drawn neither smaller nor larger to fill a
    page. The last `in_key` marks are its key, `foot` points high below all else: for each entry a swatch, then words.
    `narrow` is the same laid out anew for `NARROW` points, where that is more than its words set larger.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    said: str | Message
    is_to_scale: bool = False
    in_key: int = 0
    foot: float = 0.0
    narrow: Drawing | None = None


def path(points: Iterable[Point]) -> Outline:
    """Straight lines through `points`."""
    start, *rest = points
    return Outline(contours=(Contour(start=start, segments=tuple((point,) for point in rest)),))


def line(points: Iterable[Point], ink: Ink = FINE) -> Shape:
    """A line through `points` whose ends do not meet."""
    return Shape(outline=path(points), ink=ink, open=True)


def box(
    left: float, low: float, width: float, height: float, *, fill: str | None = None, ink: Ink | None = None
) -> Shape:
    """A rectangle."""
    right, top = left + width, low + height
    return Shape(outline=path(((left, low), (right, low), (right, top), (left, top))), fill=fill, ink=ink)


_BOLDER: Final = 1.07
"""Bold labels are about so much wider than the others."""


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Points that `text` takes, to lay out a drawing by; bold is an estimate on the safe side."""
    return label_width(text, size) * (_BOLDER if bold else 1.0)
