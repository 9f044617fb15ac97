"""The outline layer as it can be sewn: which of its holes are filled, row by row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from applique.design import Design
from applique.errors import Where
from applique.fabrics import Fabrics
from applique.outline_layer import PlacedOutline, lay_outlines
from applique.panel import Laid
from applique.sewing.limits import Limit, Limits

__all__ = ["FilledHoles", "filled_holes", "lay_sewn_outlines"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledHoles:
    """How many holes of the outline behind a row, or another piece, are filled, being narrower than `limit`."""

    where: Where
    count: int
    limit: Limit


def lay_sewn_outlines(
    design: Design, laid: Sequence[Laid], fabrics: Fabrics, limits: Sequence[Limits]
) -> tuple[PlacedOutline, ...]:
    """The outline layer with no hole in it that its row's method cannot cut or its stitch cannot hold."""
    return lay_outlines(design, laid, fabrics, least_holes=[one.hole.least for one in limits])


def filled_holes(
    laid: Sequence[Laid], outlines: Sequence[PlacedOutline], limits: Sequence[Limits]
) -> Iterator[FilledHoles]:
    """For each row, or other piece, that has any how many holes of its outline were filled, and what asked for it."""
    for one, limit in zip(laid, limits, strict=True):
        count = sum(piece.filled for piece in outlines if piece.where == one.where)
        if count:
            yield FilledHoles(where=one.where, count=count, limit=limit.hole)
