"""Distances that are measured down from another place than the cut top edge: a point of a garment, or the first line of
letters alone."""

from __future__ import annotations

from collections.abc import Iterator

from applique.language import Field, Message, message
from applique.marks import RowMark
from applique.panel import PanelPlan, Worn
from applique.units import Units, as_length

__all__ = ["baseline_head", "garment_point", "place_said", "point_of", "rows_marked_said", "slanting_said"]


def garment_point(worn: Worn) -> Field:
    """The point of a garment that baselines are measured down from, as it is called."""
    return worn.point or message("the front neckline")


def point_of(panel: PanelPlan) -> Field | None:
    """What baselines are measured down from, as it is called; None where it is the cut top edge."""
    if panel.worn is not None:
        return garment_point(panel.worn)
    return message("the first line") if panel.loose else None


def rows_marked_said(point: Field, *, slanting: bool, ticked: bool) -> Iterator[Message]:
    """How baselines are marked, `slanting` ones too, and ticks or the ends of words on them."""
    if ticked:
        yield message(
            "Mark each baseline, measured down from {point} along the center line and square to it, and a tick for "
            "each letter.",
            point=point,
        )
    else:
        yield message(
            "Mark each baseline, measured down from {point} along the center line and square to it, and on it where "
            "each word starts and ends.",
            point=point,
        )
    if slanting:
        yield message(
            "A row that slants has two points in the table, small crosses on the drawing: measure each down from "
            "{point} along the center line and out from it, mark both, and join them with a ruler.",
            point=point,
        )


def baseline_head(point: Field) -> Message:
    """The head of the column of baselines."""
    return message("baseline below {point}", point=point)


def slanting_said(point: Field, *, numbered: bool) -> Message:
    """How a row that slants is drawn; its points are `numbered` in the drawing, or only in the table."""
    if numbered:
        return message(
            "A row that slants has two small crosses. The numbers at each say how far it is from the center line, and "
            "how far down from {point}: mark both points and join them with a ruler. The table has them too.",
            point=point,
        )
    return message(
        "A row that slants has two small crosses. The table says how far each is from the center line, and how far "
        "down from {point}: mark both points and join them with a ruler.",
        point=point,
    )


def place_said(mark: RowMark, point: Field, units: Units) -> Message:
    """Where a level row is, or the lowest point of what is no row."""
    length = as_length(mark.baseline_from_top, units, denominator=16)
    if mark.where.row is None:
        return message("its lowest point {length} below {point}", length=length, point=point)
    return message("baseline {length} below {point}", length=length, point=point)
