"""The booklet's pages on sewing: the stitching plan, how the words read, and the lines of quilting."""

from __future__ import annotations

from typing import Final

from applique.design import WhenStitched
from applique.pattern import Pattern
from applique.sewing.plan import RowPlan, StabilizerKind
from applique.sewing.quilting import QuiltingPlan
from applique.sewing.reading import SIGN_GAP, SIGN_STROKE
from applique.sheets.flow import Flow
from applique.sheets.quilt_drawing import draw_quilting, draw_starts
from applique.units import as_distance, as_length, as_run, as_stitch, as_time
from applique.words.sewing import (
    course_said,
    stabilizer_reason_said,
    stitch_reason_said,
    when_reason_said,
)

__all__ = ["write_quilting", "write_stitching"]

_DRAWN: Final = 150.0
_QUILTING_DRAWN: Final = 190.0


def write_stitching(flow: Flow, pattern: Pattern) -> None:
    """The stitch of each row, its numbers, the order of work, and where to start on each letter."""
    plan = pattern.stitching
    flow.heading("Stitching", kept=150)
    flow.table(
        ("row", "stitch", "width, length", "edge to sew", "stitches", "thread top + bobbin", "time"),
        [_row(pattern, row) for row in plan.rows],
        (0.6, 1.3, 1.8, 1.5, 1.3, 2.2, 2.0),
    )
    whys = dict.fromkeys(f"{row.stitch.stitch}: {stitch_reason_said(row.stitch.reason)}" for row in plan.rows)
    flow.paragraph("Why: " + "; ".join(whys) + ".", quiet=True)
    low, high = plan.minutes
    flow.paragraph(
        f"All in all {as_time(low)} to {as_time(high)} at the machine, reckoned with {_paces(pattern)} stitches "
        "a minute while "
        "guiding, a minute for every start and stop, and six seconds for every corner; a practised hand takes a fifth "
        "less, a careful one two fifths more."
    )
    flow.paragraph(_when(pattern))
    flow.heading("Order of work", 2)
    flow.numbered(_order(pattern))
    flow.heading("Where to start", 2, kept=_DRAWN)
    flow.paragraph("The dot is on a straight stretch. Start and stop there, never at a point or in a curve.")
    flow.picture(_DRAWN, lambda x, y, w, h: draw_starts(flow.sheet, pattern, (x, y, w, h)))
    _reading(flow, pattern)


def _row(pattern: Pattern, row: RowPlan) -> tuple[str, ...]:
    stitch = row.stitch
    size = str(as_stitch(stitch.length))
    if stitch.width:
        size = f"{as_stitch(stitch.width)}, {size}"
    return (
        str(row.row),
        str(stitch.stitch),
        size,
        str(as_run(row.edge, pattern.design.units)),
        f"{row.stitches:,}",
        f"{as_run(row.top, pattern.design.units)} + {as_run(row.bobbin, pattern.design.units)}",
        f"{as_time(row.minutes[0])} to {as_time(row.minutes[1])}",
    )


def _paces(pattern: Pattern) -> str:
    paces = sorted({row.stitch.pace for row in pattern.stitching.rows})
    return " or ".join(str(pace) for pace in paces)


def _when(pattern: Pattern) -> str:
    plan, units = pattern.stitching, pattern.design.units
    throat = as_length(pattern.design.stitching.throat, units)
    panel, top, quilt = (as_length(width, units) for width in plan.rolls)
    when = {
        WhenStitched.PANEL: "Stitch the letters before the borders are sewn on",
        WhenStitched.TOP: "Stitch the letters when the top is pieced",
        WhenStitched.QUILTING: "Stitch the letters as part of the quilting, through all layers",
    }[plan.when]
    return (
        f"{when}: {when_reason_said(plan.when_reason)}. Rolled from its longer side, half of the panel is about "
        f"{panel} thick, of "
        f"the top {top}, "
        f"of the quilt {quilt}; your machine has {throat} under its arm."
    )


def _order(pattern: Pattern) -> list[str]:
    plan, units = pattern.stitching, pattern.design.units
    steps: list[str] = []
    for row in plan.rows:
        if row.stabilizer.kind is not StabilizerKind.NONE:
            size = f"{as_length(row.stabilizer.width, units)} by {as_length(row.stabilizer.height, units)}"
            steps.append(
                f"{str(row.stabilizer.kind).capitalize()} stabilizer under row {row.row}, {size}: "
                f"{stabilizer_reason_said(row.stabilizer.reason)}."
            )
    if pattern.outlines:
        rows = ", ".join(f"row {row}" for row in dict.fromkeys(piece.row for piece in pattern.outlines))
        reach = " or ".join(
            str(as_length(reach, units, denominator=16))
            for reach in sorted({piece.reach for piece in pattern.outlines})
        )
        steps.append(
            f"The outline layer first: lay and stitch the shapes behind {rows}, then the letters on them, "
            f"with {reach} showing all around."
        )
    order = ", then ".join(f"row {number}" for number in plan.order)
    steps.append(f"From the center row outward: {order}; in each row from the center line outward.")
    steps.append(
        "Try the stitch on a scrap of the same cloth, web and stabilizer. Turn with the needle down: in the "
        "background on "
        "an outer curve, in the letter on an inner one."
    )
    return steps


def _reading(flow: Flow, pattern: Pattern) -> None:
    rows = []
    for reading in pattern.checks.readings:
        rows.append(
            (
                str(reading.row),
                str(as_distance(float(reading.comfortable), pattern.design.units)),
                str(as_distance(float(reading.farthest), pattern.design.units)),
                "" if reading.stroke is None else f"{reading.stroke:.0%}",
                "" if reading.gap is None else f"{reading.gap:.0%}",
            )
        )
    flow.heading("From how far it reads", 2, kept=80)
    flow.table(
        ("row", "with ease up to", "at the most", "stroke of the height", "gaps of the height"),
        rows,
        (0.7, 2, 2, 2, 2),
    )
    flow.paragraph(
        f"On a sign strokes are {SIGN_STROKE[0]:.0%} to {SIGN_STROKE[1]:.0%} of the height and gaps "
        f"{SIGN_GAP[0]:.0%} to "
        f"{SIGN_GAP[1]:.0%} (ADA Standards 703.5, as a guide).",
        quiet=True,
    )


def write_quilting(flow: Flow, pattern: Pattern) -> None:
    """Each kind of quilting with its drawing, length and thread; nothing if the design has none."""
    if not pattern.quilting:
        return
    flow.heading("Quilting", kept=_QUILTING_DRAWN + 100)
    for plan in pattern.quilting:
        _one_quilting(flow, pattern, plan)


def _one_quilting(flow: Flow, pattern: Pattern, plan: QuiltingPlan) -> None:
    units = pattern.design.units
    flow.heading(f"{plan.number}. {str(plan.kind).capitalize()}", 2, kept=_QUILTING_DRAWN + 40)
    said = str(course_said(plan.course, units))
    flow.paragraph(
        f"{said[:1].upper()}{said[1:]}. {as_run(plan.length, units)} to sew, {plan.stitches:,} stitches, "
        f"{as_run(plan.thread, units)} of thread, top and bobbin together."
    )
    flow.picture(
        _QUILTING_DRAWN, lambda x, y, w, h: draw_quilting(flow.sheet.canvas, pattern, plan, (x, y, w, h))
    )
