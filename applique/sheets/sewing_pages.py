"""The booklet's pages on sewing: the stitching plan, how the words read, and the lines of quilting."""

from __future__ import annotations

from typing import Final

from applique.language import message
from applique.pattern import Pattern
from applique.sewing.quilting import QuiltingPlan
from applique.sheets.flow import Flow
from applique.sheets.quilt_drawing import draw_quilting, draw_starts
from applique.units import as_distance
from applique.words.booklet import percent_said
from applique.words.sewing_pages import (
    order_said,
    quilting_said,
    quilting_title,
    row_cells,
    signs_said,
    time_said,
    when_said,
    why_stitches_said,
)

__all__ = ["write_quilting", "write_stitching"]

_DRAWN: Final = 150.0
_QUILTING_DRAWN: Final = 190.0
_STITCHING: Final = (
    (message("row"), 0.6),
    (message("stitch"), 1.3),
    (message("width, length"), 1.8),
    (message("edge to sew"), 1.5),
    (message("stitches"), 1.3),
    (message("thread top + bobbin"), 2.2),
    (message("time"), 2.0),
)
_READING: Final = (
    (message("row"), 0.7),
    (message("comfortable to"), 2.0),
    (message("readable to"), 2.0),
    (message("stroke of the height"), 2.0),
    (message("gaps of the height"), 2.0),
)


def write_stitching(flow: Flow, pattern: Pattern) -> None:
    """The stitch of each row, its numbers, the order of work, and where to start on each letter."""
    plan, units = pattern.stitching, pattern.design.units
    flow.heading(message("Stitching"), kept=150)
    flow.table(_STITCHING, [row_cells(row, units) for row in plan.rows])
    flow.paragraph(why_stitches_said(plan.rows), quiet=True)
    flow.paragraph(time_said(plan))
    flow.paragraph(when_said(plan, pattern.design.stitching.throat, units))
    flow.heading(message("Order of work"), 2)
    flow.numbered(order_said(plan, pattern.outlines, units))
    flow.heading(message("Where to start"), 2, kept=_DRAWN)
    flow.paragraph(
        message("The dot is on a straight stretch. Start and stop there, never at a point or in a curve.")
    )
    flow.picture(_DRAWN, lambda x, y, w, h: draw_starts(flow.sheet, pattern, (x, y, w, h)))
    _reading(flow, pattern)


def _reading(flow: Flow, pattern: Pattern) -> None:
    units = pattern.design.units
    flow.heading(message("Reading distance"), 2, kept=80)
    flow.table(
        _READING,
        [
            (
                str(reading.row),
                as_distance(reading.comfortable, units),
                as_distance(reading.farthest, units),
                "" if reading.stroke is None else percent_said(reading.stroke),
                "" if reading.gap is None else percent_said(reading.gap),
            )
            for reading in pattern.checks.readings
        ],
    )
    flow.paragraph(signs_said(), quiet=True)


def write_quilting(flow: Flow, pattern: Pattern) -> None:
    """Each kind of quilting with its drawing, length and thread; nothing if the design has none."""
    if not pattern.quilting:
        return
    flow.heading(message("Quilting"), kept=_QUILTING_DRAWN + 100)
    for plan in pattern.quilting:
        _one_quilting(flow, pattern, plan)


def _one_quilting(flow: Flow, pattern: Pattern, plan: QuiltingPlan) -> None:
    flow.heading(quilting_title(plan), 2, kept=_QUILTING_DRAWN + 40)
    flow.paragraph(quilting_said(plan, pattern.design.units))
    flow.picture(
        _QUILTING_DRAWN, lambda x, y, w, h: draw_quilting(flow.sheet.canvas, pattern, plan, (x, y, w, h))
    )
