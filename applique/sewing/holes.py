"""The outline layer as it can be sewn: which of its holes are filled, row by row, and the words that say so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from applique.design import Design
from applique.errors import Notice, Where
from applique.fabrics import Fabrics
from applique.outline_layer import PlacedOutline, lay_outlines
from applique.panel import PlacedRow
from applique.sewing.limits import Limits
from applique.units import Units, as_length

__all__ = ["hole_notices", "lay_sewn_outlines"]


def lay_sewn_outlines(
    design: Design, rows: Sequence[PlacedRow], fabrics: Fabrics, limits: Sequence[Limits]
) -> tuple[PlacedOutline, ...]:
    """The outline layer with no hole in it that its row's method cannot cut or its stitch cannot hold."""
    return lay_outlines(design, rows, fabrics, least_holes=[one.hole.least for one in limits])


def hole_notices(
    outlines: Sequence[PlacedOutline], limits: Sequence[Limits], units: Units
) -> Iterator[Notice]:
    """For each row how many holes of its outline were filled, and why."""
    for number, limit in enumerate(limits, 1):
        count = sum(piece.filled for piece in outlines if piece.row == number)
        if not count:
            continue
        holes = "1 small hole" if count == 1 else f"{count} small holes"
        are = "is" if count == 1 else "are"
        yield Notice(
            what=f"{holes} in the outline {are} closed: a hole has to be "
            f"{as_length(limit.hole.least, units, denominator=32)} across {limit.hole.why}",
            where=Where.in_row(number),
            fix="larger letters or a narrower outline, where they should stay open",
        )
