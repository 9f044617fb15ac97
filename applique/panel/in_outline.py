"""Rows within a panel that is no rectangle: where they stand, and how much room is left around them.

Frame of the panel, as in `outline`.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from shapely import affinity
from shapely.geometry import GeometryCollection
from shapely.geometry.base import BaseGeometry

from applique.design import Design, PanelShape, Rows
from applique.geometry.place import Place
from applique.geometry.points import middle_of
from applique.geometry.polygons import CHORD_ERROR
from applique.panel.outline import PanelOutline, where_it_fits
from applique.panel.requests import RowRequest, RowSet, box_at
from applique.panel.values import Laid, on_panel

__all__ = ["baselines_inside", "is_too_large_inside", "laid_ink", "outline_of_panel", "room_inside"]

_ROUNDING: Final = 1e-9


def outline_of_panel(design: Design) -> PanelOutline | None:
    """The outline of the panel of a design, where it is no rectangle."""
    if design.panel.shape is PanelShape.RECTANGLE:
        return None
    width, height = design.panel_size
    return PanelOutline(shape=design.panel.shape, width=float(width), height=float(height))


def baselines_inside(
    outline: PanelOutline, design: Design, requests: Sequence[RowRequest], rows: Sequence[RowSet]
) -> list[float]:
    """The y of each baseline, the first row on top: as stated, or one row gap of white apart and all together where
    they are farthest from the outline.

    Source:
        Our own, docs/decisions/0442.
    """
    stated = [row.baseline for row in design.row]
    if any(baseline is not None for baseline in stated):
        return [outline.height - float(baseline or 0) for baseline in stated]
    together = _together(design, rows)
    up = where_it_fits(outline, _ink(outline, requests, rows, together))
    return [y + up for y in together]


def room_inside(
    outline: PanelOutline, design: Design, requests: Sequence[RowRequest], rows: Sequence[RowSet]
) -> float:
    """How much farther than the margin the rows are from the outline where they stand; negative: too large."""
    at = baselines_inside(outline, design, requests, rows)
    return outline.clearance(_ink(outline, requests, rows, at)) - float(design.panel.margin)


def is_too_large_inside(
    outline: PanelOutline, design: Design, requests: Sequence[RowRequest], rows: Sequence[RowSet]
) -> bool:
    """Whether rows of stated sizes do not fit into the outline with its margin; those with stated baselines are judged
    where they lie."""
    if any(row.baseline is not None for row in design.row):
        return False
    return room_inside(outline, design, requests, rows) < -_ROUNDING


def laid_ink(row: Laid) -> GeometryCollection:
    """All pieces of a row where they lie on the panel."""
    return GeometryCollection([on_panel(cut) for cut in row.cuts])


def _together(design: Design, rows: Sequence[RowSet]) -> list[float]:
    """Baselines of the rows in relation to the first."""
    gap = float(design.lettering.row_gap)
    apart = [below.ink[3] - above.ink[1] + gap for above, below in pairwise(rows)]
    if design.lettering.row_spacing is not None:
        apart = [float(design.lettering.row_spacing)] * len(apart)
    elif design.lettering.rows is Rows.EVEN_BASELINES:
        apart = [max(apart)] * len(apart) if apart else []
    found = [0.0]
    for down in apart:
        found.append(found[-1] - down)
    return found


def _ink(
    outline: PanelOutline, requests: Sequence[RowRequest], rows: Sequence[RowSet], at: Sequence[float]
) -> GeometryCollection:
    """The letters of rows, each in the middle of the panel, with their baselines at those heights."""
    found: list[BaseGeometry] = []
    for request, row, y in zip(requests, rows, at, strict=True):
        start = Place(x=(outline.width - row.ink[0] - row.ink[2]) / 2, y=y)
        for cut in row.row.cuts:
            flat, box = Place(x=cut.x_fu * row.scale, y=0.0), box_at(request.typeface, cut, row.scale)
            in_units = request.typeface.shape(cut.glyphs, chord_error_fu=CHORD_ERROR / row.scale)
            shape = affinity.scale(in_units, row.scale, row.scale, origin=(0.0, 0.0))
            found.append(row.line.carried(flat, flat.x + middle_of(box)[0]).within(start).shape(shape))
    return GeometryCollection(found)
