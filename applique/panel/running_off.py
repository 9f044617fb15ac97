"""Rows that run off the panel, cut off at its cut edge.

Frame of the panel, as in `values`.
"""

from __future__ import annotations

from dataclasses import replace

from applique.geometry.clipping import clipped
from applique.geometry.points import around
from applique.geometry.polygons import CHORD_ERROR, polygon_of
from applique.panel.edges import PanelEdges
from applique.panel.values import PanelPlan, PlacedCut, PlacedRow

__all__ = ["cut_off_at_edge"]


def cut_off_at_edge(panel: PanelPlan) -> PanelPlan:
    """`panel` with what runs off it cut off at its cut edge, so that what is left is caught in the seam there."""
    return replace(
        panel,
        laid=tuple(
            _cut_off(one, panel.edges) if isinstance(one, PlacedRow) and one.runs_off else one
            for one in panel.laid
        ),
    )


def _cut_off(row: PlacedRow, edges: PanelEdges) -> PlacedRow:
    cuts = tuple(_left(cut, edges) for cut in row.cuts)
    if cuts == row.cuts:
        return row
    return replace(
        row,
        cuts=cuts,
        upright_ink=around([cut.upright_ink for cut in cuts]),
        ink=around([cut.ink for cut in cuts]),
        outline=clipped(row.outline, edges.cut),
    )


def _left(cut: PlacedCut, edges: PanelEdges) -> PlacedCut:
    """What is left of a piece; the piece itself where it does not reach the cut edge."""
    found = edges.left_of(cut.outline, cut.place)
    if found is None:
        return cut
    outline, off = found
    return replace(
        cut,
        key=f"{cut.key}-off-{off.mark}",
        outline=outline,
        shape=polygon_of(outline, chord_error=CHORD_ERROR),
        upright_ink=cut.upright.outline(outline).bounds(),
        ink=cut.place.outline(outline).bounds(),
        off=off,
    )
