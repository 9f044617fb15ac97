"""The one letter that the pictures of letters are drawn with, and how fabric and paper of its shape look.

A letter is as large as a picture has room for; margins that would be too fine to see at that size are drawn wider.
Frame: points, y up. Letters seen from the back are in mirror image.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import shapely
from shapely import affinity
from shapely.geometry import LineString

from applique.drawings.values import (
    CUT,
    FINE,
    HAIR,
    PAPER,
    Anchor,
    Ink,
    Mark,
    Shape,
    Words,
    line,
    path,
)
from applique.drawings.vocabulary import DOT, DOTS, DOTTED, disc
from applique.geometry.offset import outline_of
from applique.geometry.points import Point
from applique.geometry.polygons import Shape as Area
from applique.geometry.polygons import as_shape, parts_of
from applique.language import Message
from applique.pieces import Layer, Template

__all__ = [
    "DASHED",
    "EDGE",
    "LETTER",
    "NAME",
    "NAMES",
    "Model",
    "area_of",
    "corners_of",
    "dotted",
    "folded_over",
    "hatched",
    "model_letter",
    "moved",
    "named_below",
    "rightmost",
    "sheet_of_paper",
]

LETTER: Final = (74.0, 74.0)
"""Points that the letter of a picture may take."""
EDGE: Final = 14.0
"""Points of paper or fabric around it."""
_LEAST: Final = 6.0
"""Points that a margin is drawn wide at the least."""
NAME: Final = 7.5
NAMES: Final = 12.0
"""Points below a picture for what its halves are."""
_HATCH: Final = 4.5
DASHED: Final = replace(CUT, dashes=(3.0, 2.0))
_FLAT: Final = 0.01
"""Inches that a drawn curve may stray."""


class Model:
    """A letter in points: `area` in mirror image where it is `mirrored`, its lower left corner at the origin."""

    def __init__(self, template: Template, *, mirrored: bool, size: Point = LETTER) -> None:
        x0, y0, x1, y1 = template.ink
        self.scale = min(size[0] / (x1 - x0), size[1] / (y1 - y0))
        self.width, self.height = (x1 - x0) * self.scale, (y1 - y0) * self.scale
        across = (-self.scale, x1 * self.scale) if mirrored else (self.scale, -x0 * self.scale)
        self.onto = (across[0], 0.0, 0.0, self.scale, across[1], -y0 * self.scale)
        a, _, _, d, e, f = self.onto
        self.area = as_shape(
            shapely.make_valid(affinity.affine_transform(template.shape.simplify(_FLAT), (a, 0, 0, d, e, f)))
        )

    def margin(self, inches: float) -> float:
        """A margin in points, never too fine to see."""
        return max(inches * self.scale, _LEAST)

    def at(self, x: float, y: float) -> Area:
        """The letter with its lower left corner there."""
        return moved(self.area, x, y)


def moved(area: Area, x: float, y: float) -> Area:
    """An area moved by so much."""
    return as_shape(affinity.translate(area, x, y))


def model_letter(templates: Sequence[Template]) -> Template:
    """The letter that pictures are drawn with: the one that differs most from its mirror image, so that both ways
    round can be told apart; of templates that are no letters the first."""
    letters = [one for one in templates if one.layer is Layer.LETTER] or list(templates)
    return max(letters, key=_lopsided)


def _lopsided(template: Template) -> float:
    """The share of a letter that its mirror image does not cover, of one that is not far wider than high."""
    x0, y0, x1, y1 = template.ink
    shape = template.shape.simplify(_FLAT)
    mirrored = affinity.affine_transform(shape, (-1, 0, 0, 1, x0 + x1, 0))
    share = float(shape.difference(mirrored).area / shape.area)
    return share if x1 - x0 < 2 * (y1 - y0) else share - 1


def area_of(area: Area, *, fill: str | None = None, ink: Ink | None = CUT) -> Iterator[Mark]:
    """An area filled and drawn around; nothing of an empty one."""
    if not area.is_empty:
        yield Shape(outline=outline_of(area), fill=fill, ink=ink)


def dotted(area: Area) -> Iterator[Mark]:
    """The wrong side of fabric."""
    yield from area_of(area, fill=PAPER)
    x0, y0, x1, y1 = area.bounds
    inner = area.buffer(-1.0)
    row, y = 0, y0 + DOTS / 2
    while y < y1:
        x = x0 + DOTS / 2 * (1 + row % 2)
        while x < x1:
            if inner.contains(shapely.Point(x, y)):
                yield disc((x, y), DOT, fill=DOTTED)
            x += DOTS
        y, row = y + DOTS, row + 1


def hatched(area: Area) -> Iterator[Mark]:
    """The shiny side of freezer paper."""
    yield from area_of(area, fill=PAPER, ink=None)
    x0, y0, x1, y1 = area.bounds
    start = x0 - (y1 - y0)
    while start < x1:
        lines = area.intersection(LineString(((start, y0), (start + y1 - y0, y1))))
        for one in getattr(lines, "geoms", (lines,)):
            if isinstance(one, LineString) and not one.is_empty:
                yield line([(float(x), float(y)) for x, y in one.coords], HAIR)
        start += _HATCH
    yield from area_of(area, ink=FINE)


def sheet_of_paper(x: float, y: float, wide: float, high: float) -> Iterator[Mark]:
    """A sheet of paper with a corner folded down."""
    ear = 8.0
    yield Shape(
        outline=path(
            ((x, y), (x + wide, y), (x + wide, y + high - ear), (x + wide - ear, y + high), (x, y + high))
        ),
        fill=PAPER,
        ink=FINE,
    )
    yield line(
        ((x + wide, y + high - ear), (x + wide - ear, y + high - ear), (x + wide - ear, y + high)), FINE
    )


def corners_of(x: float, y: float, wide: float, high: float) -> tuple[Point, Point, Point, Point]:
    """The corners of a rectangle whose lower left one is at x, y."""
    return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


def named_below(x: float, said: Message) -> Mark:
    """What a picture is, at its foot about x."""
    return Words(said=said, at=(x, 2.5), size=NAME, anchor=Anchor.MIDDLE)


def folded_over(area: Area, fold: tuple[Point, Point]) -> Area:
    """An area folded over a line."""
    (x0, y0), (x1, y1) = fold
    far = math.dist(*fold)
    dx, dy = (x1 - x0) / far, (y1 - y0) / far
    a, b, d = 2 * dx * dx - 1, 2 * dx * dy, 2 * dy * dy - 1
    return as_shape(affinity.affine_transform(area, (a, b, b, d, x0 - a * x0 - b * y0, y0 - b * x0 - d * y0)))


def rightmost(area: Area) -> Point:
    """The point of an edge that lies furthest to the right."""
    points = [point for part in parts_of(area) for point in part.exterior.coords]
    x, y = max(points)[:2]
    return float(x), float(y)
