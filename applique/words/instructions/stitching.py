"""The stitching plan in words, and how the words read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import reduce
from typing import Final

from applique.design import WhenStitched
from applique.language import Field, Message, any_of, listed, message
from applique.outline_layer import PlacedOutline
from applique.sewing.plan import BEND_SHARE, RowPlan, StitchPlan
from applique.sewing.reading import SIGN_GAP, SIGN_STROKE
from applique.sewing.stabilizer import OVERLAP, Band, StabilizerKind, StabilizerNeed
from applique.units import Units, as_length, as_run, as_stitch
from applique.words.instructions.sizes import percent_said
from applique.words.sewing import (
    minutes_said,
    paces_said,
    stabilizer_reason_said,
    stitch_reason_said,
    when_reason_said,
)
from applique.words.sheets import STITCHES, set_apart, table_said

__all__ = [
    "ORDER",
    "READING",
    "READING_HEAD",
    "START",
    "START_STRAIGHT",
    "STITCHING",
    "STITCHING_HEAD",
    "order_said",
    "row_cells",
    "signs_said",
    "time_said",
    "when_said",
    "why_stitches_said",
]

STITCHING: Final = message("Stitching")
STITCHING_HEAD: Final = (
    message("row"),
    message("stitch"),
    message("width, length"),
    message("edge to sew"),
    message("stitches"),
    message("thread top + bobbin"),
    message("time"),
)
ORDER: Final = message("Order of work")
START: Final = message("Where to start")
START_STRAIGHT: Final = message(
    "The dot is on a straight stretch. Start and stop there, never at a point or in a curve."
)
READING: Final = message("Reading distance")
READING_HEAD: Final = (
    message("row"),
    message("comfortable to"),
    message("readable to"),
    message("stroke of the height"),
    message("gaps of the height"),
)
_WHEN: Final = {
    WhenStitched.PANEL: message("Stitch the letters before the borders are sewn on: {reason}. {rolls}"),
    WhenStitched.TOP: message("Stitch the letters when the top is pieced: {reason}. {rolls}"),
    WhenStitched.QUILTING: message(
        "Stitch the letters as part of the quilting, through all layers: {reason}. {rolls}"
    ),
}
_BEFORE_LAYERING: Final = message("Stitch the letters before you layer the quilt: {reason}. {rolls}")


def row_cells(row: RowPlan, units: Units) -> tuple[Field, ...]:
    """One row's stitch, its width and length, edge, stitches, thread and time, as the cells of a table."""
    stitch = row.stitch
    size: Field = as_stitch(stitch.length)
    if stitch.width:
        size = message("{width}, {length}", width=as_stitch(stitch.width), length=size)
    return (
        table_said(row.where),
        STITCHES[stitch.stitch],
        size,
        as_run(row.edge, units),
        row.stitches,
        message("{top} + {bobbin}", top=as_run(row.top, units), bobbin=as_run(row.bobbin, units)),
        minutes_said(row.minutes),
    )


def why_stitches_said(rows: Sequence[RowPlan]) -> Message:
    """Why each stitch was chosen."""
    whys = dict.fromkeys(
        message(
            "{stitch}: {reason}",
            stitch=STITCHES[row.stitch.stitch],
            reason=stitch_reason_said(row.stitch.reason),
        )
        for row in rows
    )
    return message("Why: {reasons}.", reasons=set_apart(whys))


def time_said(plan: StitchPlan) -> Message:
    """How long the stitching takes, and how that was figured."""
    return message(
        "All in all {time} at the machine, figured with {paces} stitches a minute while guiding, {share} less time for "
        "straight runs and {share} more for tight curves, about a minute for every start and stop, and six seconds for "
        "every corner. Time yourself on one letter and set your own pace.",
        time=minutes_said(plan.minutes),
        paces=paces_said(plan),
        share=percent_said(BEND_SHARE),
    )


def when_said(plan: StitchPlan, throat: Fraction, units: Units, *, bordered: bool) -> Message:
    """When the letters are stitched and why, and how thick the rolled quilt is beside the machine's throat.

    A top that is not `bordered` is its panel: there is one time before it is quilted.
    """
    panel, top, quilt = (as_length(width, units) for width in plan.rolls)
    rolls = message(
        "Rolled up to fit your machine's throat, half the panel makes a roll about {panel} thick, half the top {top}, "
        "half the quilt {quilt}; the throat is {throat}.",
        panel=panel,
        top=top,
        quilt=quilt,
        throat=as_length(throat, units),
    )
    template = _WHEN[plan.when] if bordered or plan.when is WhenStitched.QUILTING else _BEFORE_LAYERING
    return template.filled(reason=when_reason_said(plan.when_reason, bordered=bordered), rolls=rolls)


def order_said(plan: StitchPlan, outlines: Sequence[PlacedOutline], units: Units) -> Iterator[Message]:
    """The order of work, step by step."""
    for row in plan.rows:
        if row.stabilizer.kind is not StabilizerKind.NONE:
            yield _stabilizer(row, units)
    for need in plan.stabilizers:
        yield _off_the_roll(need, units)
    if outlines:
        yield message(
            "The outline layer first: lay and stitch the shapes behind {rows}, then the letters on them, with {reach} "
            "showing all around.",
            rows=listed(dict.fromkeys(piece.where.as_field() for piece in outlines)),
            reach=any_of(
                as_length(reach, units, denominator=16)
                for reach in sorted({piece.reach for piece in outlines})
            ),
        )
    yield message(
        "From the center row outward: {order}; in each row from the center line outward.",
        order=reduce(_then, (where.as_field() for where in plan.order)),
    )
    yield message(
        "Try the stitch on a scrap of the same fabric, web and stabilizer. To pivot, stop with the needle down: in the "
        "background on outside curves, in the letter on inside curves."
    )


def _then(said: str | Message, row: str | Message) -> Message:
    return message("{rows}, then {row}", rows=said, row=row)


def _stabilizer(row: RowPlan, units: Units) -> Message:
    under = row.stabilizer
    fields: dict[str, Field] = {
        "row": row.where.as_field(),
        "width": as_length(under.width, units),
        "height": as_length(under.height, units),
        "reason": stabilizer_reason_said(under.reason),
    }
    if under.widths > 1:
        fields |= {
            "widths": under.widths,
            "each": as_length(under.each, units),
            "overlap": as_length(OVERLAP, units),
        }
        if under.kind is StabilizerKind.CUT_AWAY:
            return message(
                "Cut-away stabilizer under {row}, {width} by {height}, from {widths} pieces {each} wide, side by "
                "side and overlapping by {overlap}: {reason}.",
                **fields,
            )
        return message(
            "Tear-away stabilizer under {row}, {width} by {height}, from {widths} pieces {each} wide, side by "
            "side and overlapping by {overlap}: {reason}.",
            **fields,
        )
    if under.kind is StabilizerKind.CUT_AWAY:
        return message("Cut-away stabilizer under {row}, {width} by {height}: {reason}.", **fields)
    return message("Tear-away stabilizer under {row}, {width} by {height}: {reason}.", **fields)


def _off_the_roll(need: StabilizerNeed, units: Units) -> Message:
    """How the pieces of one kind are cut from the roll, band by band."""
    fields: dict[str, Field] = {
        "width": as_length(need.roll_width, units),
        "bands": set_apart(_band(band, units) for band in need.bands),
    }
    if need.kind is StabilizerKind.CUT_AWAY:
        return message(
            "Cut these lengths off the roll of cut-away, {width} wide, then cut the pieces from them: {bands}.",
            **fields,
        )
    return message(
        "Cut these lengths off the roll of tear-away, {width} wide, then cut the pieces from them: {bands}.",
        **fields,
    )


def _band(band: Band, units: Units) -> Message:
    return message(
        "{length} for {rows}",
        length=as_length(band.length, units),
        rows=listed(where.as_field() for where in dict.fromkeys(band.tables)),
    )


def signs_said() -> Message:
    """The strokes and gaps of letters on signs, to hold those of the words against."""
    stroke, gap = (
        message("{least} to {most}", least=percent_said(least), most=percent_said(most))
        for least, most in (SIGN_STROKE, SIGN_GAP)
    )
    return message(
        "On a sign strokes are {stroke} of the height and gaps {gap} (ADA Standards 703.5, as a guide).",
        stroke=stroke,
        gap=gap,
    )
