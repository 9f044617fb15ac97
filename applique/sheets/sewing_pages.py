"""The booklet's pages on sewing: the stitching plan, how the words read, and the lines of quilting."""

from __future__ import annotations

from typing import Final

from applique.pattern import Pattern
from applique.sewing.quilting import QuiltingPlan
from applique.sheets.flow import Flow
from applique.sheets.quilt_drawing import draw_quilting, draw_starts
from applique.units import as_distance
from applique.words import sewing_pages as said
from applique.words.booklet import percent_said

__all__ = ["write_quilting", "write_stitching"]

_DRAWN: Final = 150.0
_START_SAID: Final = 48.0
"""Points of two lines above the drawing, and of the white around it."""
_QUILTING_DRAWN: Final = 190.0
_STITCHING: Final = tuple(zip(said.STITCHING_HEAD, (0.6, 1.3, 1.8, 1.5, 1.3, 2.2, 2.0), strict=True))
_READING: Final = tuple(zip(said.READING_HEAD, (0.7, 2.0, 2.0, 2.0, 2.0), strict=True))
"""The heads of a table, each with the width of its column."""


def write_stitching(flow: Flow, pattern: Pattern) -> None:
    """The stitch of each row, its numbers, the order of work, and where to start on each letter."""
    plan, units = pattern.stitching, pattern.design.units
    flow.heading(said.STITCHING, kept=150)
    flow.table(_STITCHING, [said.row_cells(row, units) for row in plan.rows])
    flow.paragraph(said.why_stitches_said(plan.rows), quiet=True)
    flow.paragraph(said.time_said(plan))
    flow.paragraph(
        said.when_said(plan, pattern.design.stitching.throat, units, bordered=bool(pattern.quilt.borders))
    )
    flow.heading(said.ORDER, 2)
    flow.numbered(said.order_said(plan, pattern.outlines, units))
    flow.heading(said.START, 2, kept=_DRAWN + _START_SAID)
    flow.paragraph(said.START_STRAIGHT)
    flow.picture(_DRAWN, lambda x, y, w, h: draw_starts(flow.sheet, pattern, (x, y, w, h)))
    _reading(flow, pattern)


def _reading(flow: Flow, pattern: Pattern) -> None:
    units = pattern.design.units
    flow.heading(said.READING, 2, kept=80)
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
    flow.paragraph(said.signs_said(), quiet=True)


def write_quilting(flow: Flow, pattern: Pattern) -> None:
    """Each kind of quilting with its drawing, length and thread; nothing if the design has none."""
    if not pattern.quilting:
        return
    flow.heading(said.QUILTING, kept=_QUILTING_DRAWN + 100)
    for plan in pattern.quilting:
        _one_quilting(flow, pattern, plan)


def _one_quilting(flow: Flow, pattern: Pattern, plan: QuiltingPlan) -> None:
    flow.heading(said.quilting_title(plan), 2, kept=_QUILTING_DRAWN + 40)
    flow.paragraph(said.quilting_said(plan, pattern.design.units))
    flow.picture(
        _QUILTING_DRAWN, lambda x, y, w, h: draw_quilting(flow.sheet.canvas, pattern, plan, (x, y, w, h))
    )
