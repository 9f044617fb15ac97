"""What is printed at full size besides the templates: tiles of the placement guide and of the nest to trace."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import shapely
from shapely import affinity
from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry

from applique.design import Paper, QuiltingKind
from applique.outline_layer import PlacedOutline
from applique.paging import SheetFrame, Tiling, tile_area
from applique.panel import PanelPlan, on_panel
from applique.sewing.quilting import QuiltingPlan
from applique.yardage import StripNeed

__all__ = ["guide_tiles", "trace_tiles"]

_BORDER: Final = 0.1
"""Inches around the drawing that the tiles cover too."""


def trace_tiles(web: StripNeed, paper: Paper, frame: SheetFrame) -> Tiling | None:
    """Tiles of the nested letters at full size, in the frame of the nest, to lay under the web, if any were nested."""
    if web.nest is None:
        return None
    shapes = {piece.key: piece.shape for piece in web.pieces}
    laid = [spot.place.shape(shapes[spot.key]) for spot in web.nest.placements]
    return tile_area(
        shapely.GeometryCollection(laid), frame=frame, overlap=float(paper.overlap), border=_BORDER
    )


def guide_tiles(
    panel: PanelPlan,
    outlines: Sequence[PlacedOutline],
    quilting: Sequence[QuiltingPlan],
    paper: Paper,
    frame: SheetFrame,
) -> Tiling:
    """Tiles of the whole cut panel that show a letter, a shape behind one, an echo line or the panel's edge."""
    allowance, width, height = (float(panel.seam_allowance), float(panel.width), float(panel.height))
    drawn: list[BaseGeometry] = [on_panel(cut) for cut in panel.cuts]
    drawn += [piece.place.shape(piece.shape) for piece in outlines]
    drawn += [
        affinity.translate(LineString(line), width / 2, height / 2)
        for plan in quilting
        if plan.kind is QuiltingKind.ECHO
        for line in plan.lines
    ]
    edge = box(-allowance, -allowance, width + allowance, height + allowance).exterior
    return tile_area(
        shapely.GeometryCollection([*drawn, edge]),
        frame=frame,
        overlap=float(paper.overlap),
        border=_BORDER,
    )
