"""The outline layer as it can be sewn: which of its holes are filled, row by row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from applique.design import Design
from applique.fabrics import Fabrics
from applique.outline_layer import PlacedOutline, lay_outlines
from applique.panel import PlacedRow
from applique.sewing.limits import Limit, Limits

__all__ = ["FilledHoles", "filled_holes", "lay_sewn_outlines"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledHoles:
    """How many holes of a row's outline are filled, being narrower than `limit`."""

    row: int
    count: int
    limit: Limit


def lay_sewn_outlines(
    design: Design, rows: Sequence[PlacedRow], fabrics: Fabrics, limits: Sequence[Limits]
) -> tuple[PlacedOutline, ...]:
    """The outline layer with no hole in it that its row's method cannot cut or its stitch cannot hold."""
    return lay_outlines(design, rows, fabrics, least_holes=[one.hole.least for one in limits])


def filled_holes(outlines: Sequence[PlacedOutline], limits: Sequence[Limits]) -> Iterator[FilledHoles]:
    """For each row that has any how many holes of its outline were filled, and what asked for it."""
    for number, limit in enumerate(limits, 1):
        count = sum(piece.filled for piece in outlines if piece.row == number)
        if count:
            yield FilledHoles(row=number, count=count, limit=limit.hole)
