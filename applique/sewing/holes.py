"""The outline layer as it can be sewn: which of its holes are filled, row by row, and the words that say so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from applique.design import Design
from applique.errors import Notice, Where
from applique.fabrics import Fabrics
from applique.outline_layer import PlacedOutline, lay_outlines
from applique.panel import PanelPlan
from applique.sewing.limits import Limits, limits_for
from applique.sewing.stitches import row_stitches
from applique.units import as_length

__all__ = ["hole_notices", "lay_sewn_outlines"]


def lay_sewn_outlines(design: Design, panel: PanelPlan, fabrics: Fabrics) -> tuple[PlacedOutline, ...]:
    """The outline layer with no hole in it that its row's method cannot cut or its stitch cannot hold."""
    least = [limits.hole.least for limits in _row_limits(design, panel, fabrics)]
    return lay_outlines(design, panel.rows, fabrics, least_holes=least)


def hole_notices(
    design: Design, panel: PanelPlan, fabrics: Fabrics, outlines: Sequence[PlacedOutline]
) -> Iterator[Notice]:
    """For each row how many holes of its outline were filled, and why."""
    for number, limits in enumerate(_row_limits(design, panel, fabrics), 1):
        count = sum(piece.filled for piece in outlines if piece.row == number)
        if not count:
            continue
        holes = "1 small hole" if count == 1 else f"{count} small holes"
        are = "is" if count == 1 else "are"
        yield Notice(
            what=f"{holes} in the outline {are} closed: a hole has to be "
            f"{as_length(limits.hole.least, design.units, denominator=32)} across {limits.hole.why}",
            where=Where.in_row(number),
            fix="larger letters or a narrower outline, where they should stay open",
        )


def _row_limits(design: Design, panel: PanelPlan, fabrics: Fabrics) -> list[Limits]:
    return [limits_for(design.sewing, stitch) for stitch in row_stitches(design, panel.rows, fabrics)]
