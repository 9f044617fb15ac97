"""Drawings larger than a page, cut into tiles that share an overlap."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from applique.design import Paper
from applique.errors import Problem, Refusal, Where
from applique.geometry.place import Place
from applique.language import message
from applique.paging.frame import MOST_PAGES, SheetFrame
from applique.paging.values import Tile, TiledTemplate, Tiling
from applique.pieces import Template
from applique.units import as_inches

__all__ = ["tile_area", "tiled_template"]

_MARKS_AT: Final = (0.25, 0.75)
"""Where along a page's side its join marks stand."""


def tiled_template(template: Template, frame: SheetFrame, paper: Paper) -> TiledTemplate:
    """The tiling of a large template, upright or on its side, whichever takes fewer pages."""

    def tried(turn_deg: float) -> TiledTemplate:
        place = Place(x=0.0, y=0.0, turn_deg=turn_deg)
        return TiledTemplate(
            template=template.number,
            place=place,
            tiling=tile_area(
                place.shape(template.outermost), frame=frame, overlap=float(paper.overlap), border=0.15
            ),
        )

    return min((tried(0.0), tried(90.0)), key=lambda tiled: len(tiled.tiling.tiles))


def tile_area(shape: BaseGeometry, *, frame: SheetFrame, overlap: float, border: float) -> Tiling:
    """`shape` with `border` around it cut into tiles of the frame's drawing area that share `overlap`.

    The drawing is centered in the tiles. Tiles that `shape` does not touch are left out.

    Raises:
        Refusal: more tiles than anybody would print.
    """
    width, height = frame.room
    x0, y0, x1, y1 = shape.bounds
    need_x, need_y = x1 - x0 + 2 * border, y1 - y0 + 2 * border
    columns = max(1, math.ceil((need_x - overlap) / (width - overlap) - 1e-9))
    rows = max(1, math.ceil((need_y - overlap) / (height - overlap) - 1e-9))
    if columns * rows > MOST_PAGES:
        raise Refusal(
            Problem(
                kind="drawing-of-too-many-pages",
                what=message(
                    "a drawing of {width} by {height} takes {pages} pages",
                    width=as_inches(x1 - x0, denominator=1),
                    height=as_inches(y1 - y0, denominator=1),
                    pages=columns * rows,
                ),
                where=Where.key("paper"),
                fix=message("smaller letters or larger paper"),
            )
        )
    full_x, full_y = columns * (width - overlap) + overlap, rows * (height - overlap) + overlap
    left, top = (x0 + x1 - full_x) / 2, (y0 + y1 + full_y) / 2
    seams_x = tuple(left + column * (width - overlap) + overlap / 2 for column in range(1, columns))
    seams_y = tuple(top - row * (height - overlap) - overlap / 2 for row in range(1, rows))
    along_x = [
        left + column * (width - overlap) + width * part for column in range(columns) for part in _MARKS_AT
    ]
    along_y = [top - row * (height - overlap) - height * part for row in range(rows) for part in _MARKS_AT]
    return Tiling(
        area=(left, top - full_y, left + full_x, top),
        rows=rows,
        columns=columns,
        seams_x=seams_x,
        seams_y=seams_y,
        marks=(*((x, y) for x in seams_x for y in along_y), *((x, y) for y in seams_y for x in along_x)),
        tiles=tuple(_tiles(shape, (left, top), (width, height), overlap, (rows, columns))),
    )


def _tiles(
    shape: BaseGeometry,
    corner: tuple[float, float],
    room: tuple[float, float],
    overlap: float,
    grid: tuple[int, int],
) -> Iterator[Tile]:
    left, top = corner
    width, height = room
    shapely.prepare(shape)
    for row in range(grid[0]):
        for column in range(grid[1]):
            x, y = left + column * (width - overlap), top - row * (height - overlap)
            window = (x, y - height, x + width, y)
            if shapely.intersects(shape, box(*window)):
                yield Tile(name=f"{_row_letters(row)}{column + 1}", row=row, column=column, window=window)


def _row_letters(row: int) -> str:
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
