"""What is printed at full size besides the templates: tiles of the placement guide and of the nest to trace."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import shapely
from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry

from applique.design import Paper
from applique.geometry.polygons import CHORD_ERROR
from applique.marks import panel_lines
from applique.paging import SheetFrame, Tiling, tile_area
from applique.panel import PanelPlan
from applique.picture import Item
from applique.yardage import StripNeed

__all__ = ["guide_tiles", "trace_tiles"]

_BORDER: Final = 0.1
"""Inches around the drawing that the tiles cover too."""


def trace_tiles(web: StripNeed, paper: Paper, frame: SheetFrame) -> Tiling | None:
    """Tiles of the nested letters at full size, in the frame of the nest, to lay under the web, if any were nested."""
    if web.nest is None:
        return None
    shapes = {piece.key: piece.shape for piece in web.pieces}
    spots = web.nest.placements
    laid = [spot.place.shape(shapes[spot.key]) for spot in spots]
    traced = [spot.place.shape(web.templates[spot.key].shape) for spot in spots]
    return tile_area(
        shapely.GeometryCollection(laid),
        frame=frame,
        overlap=float(paper.overlap),
        border=_BORDER,
        lines=shapely.union_all([shape.boundary for shape in (*laid, *traced)]),
    )


def guide_tiles(items: Iterable[Item], panel: PanelPlan, paper: Paper, frame: SheetFrame) -> Tiling:
    """Tiles of the whole cut panel that show a line of one of the `items`, in its frame, or the panel's edge."""
    edge = box(*panel_lines(panel).cut_edge).exterior
    return tile_area(
        shapely.GeometryCollection([*map(_drawn, items), edge]),
        frame=frame,
        overlap=float(paper.overlap),
        border=_BORDER,
    )


def _drawn(item: Item) -> BaseGeometry:
    """The lines of an item where it lies."""
    ends = [(one, one.segments[-1][-1] if item.open else one.start) for one in item.outline.contours]
    lines = [LineString([*contour.points(CHORD_ERROR), end]) for contour, end in ends]
    return item.place.shape(shapely.GeometryCollection(lines))
