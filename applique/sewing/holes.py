"""The outline layer as it can be sewn: which of its holes are filled, row by row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from applique.design import Design
from applique.fabrics import Fabrics
from applique.outline_layer import PlacedOutline, lay_outlines
from applique.panel import PanelPlan
from applique.sewing.limits import Limit, Limits, limits_for
from applique.sewing.stitches import row_stitches

__all__ = ["FilledHoles", "filled_holes", "lay_sewn_outlines"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledHoles:
    """How many holes of a row's outline are filled, being narrower than `limit`."""

    row: int
    count: int
    limit: Limit


def lay_sewn_outlines(design: Design, panel: PanelPlan, fabrics: Fabrics) -> tuple[PlacedOutline, ...]:
    """The outline layer with no hole in it that its row's method cannot cut or its stitch cannot hold."""
    least = [limits.hole.least for limits in _row_limits(design, panel, fabrics)]
    return lay_outlines(design, panel.rows, fabrics, least_holes=least)


def filled_holes(
    design: Design, panel: PanelPlan, fabrics: Fabrics, outlines: Sequence[PlacedOutline]
) -> Iterator[FilledHoles]:
    """For each row that has any how many holes of its outline were filled, and what asked for it."""
    for number, limits in enumerate(_row_limits(design, panel, fabrics), 1):
        count = sum(piece.filled for piece in outlines if piece.row == number)
        if count:
            yield FilledHoles(row=number, count=count, limit=limits.hole)


def _row_limits(design: Design, panel: PanelPlan, fabrics: Fabrics) -> list[Limits]:
    return [limits_for(design.sewing, stitch) for stitch in row_stitches(design, panel.rows, fabrics)]
