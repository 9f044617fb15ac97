"""Every border in order, from the panel outward, each planned by its kind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from applique.design import Border, BorderKind, Corners, Fabric
from applique.quilt.borders.plain import strip_border
from applique.quilt.borders.rectangles import rectangles_border
from applique.quilt.borders.squares import squares_border
from applique.quilt.borders.values import BorderPlan
from applique.quilt.borders.work import BorderWork
from applique.quilt.edge import straight_edge
from applique.quilt.strips import Extent
from applique.units import Units

__all__ = ["plan_borders"]

_PLANNERS: Final = {
    BorderKind.STRIP: strip_border,
    BorderKind.SQUARES: squares_border,
    BorderKind.RECTANGLES: rectangles_border,
}


def plan_borders(
    borders: Sequence[Border],
    panel: Extent,
    fabrics: Mapping[str, Fabric],
    *,
    seam_allowance: Fraction,
    units: Units,
) -> tuple[BorderPlan, ...]:
    """Every border in order, each around the top that the ones before it made.

    Raises:
        Refusal: squares that do not come out even (with sizes that do), one fabric where two are needed,
            pieces longer than the fabric is wide, more of them than anybody would sew.
    """
    plans: list[BorderPlan] = []
    inside = straight_edge(panel)
    for number, border in enumerate(borders, 1):
        work = BorderWork(
            number=number,
            border=border if border.kind is BorderKind.STRIP else replace(border, corners=Corners.BUTTED),
            inside=inside,
            fabrics=fabrics,
            seam_allowance=seam_allowance,
            units=units,
        )
        plan = _PLANNERS[border.kind](work)
        plans.append(plan)
        inside = plan.edge
    return tuple(plans)
