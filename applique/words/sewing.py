"""The stitching and the quilting in words: why this stitch, this stabilizer, this time, and how the lines run."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from applique.design import OverLetters
from applique.language import Field, Listing, Measure, Message, Unit, any_of, listed, message, messages
from applique.sewing.plan import StitchPlan, WhenReason
from applique.sewing.quilting import Course, Echoes, InTheDitch, Repeats, Ruled, Waves
from applique.sewing.stabilizer import StabilizerReason
from applique.sewing.stitches import StitchReason
from applique.units import Units, as_length, as_run, as_time

__all__ = [
    "course_said",
    "minutes_said",
    "paces_said",
    "stabilizer_reason_said",
    "stitch_reason_said",
    "when_reason_said",
]

_STITCH: Final = {
    StitchReason.STATED: message("your design asks for it"),
    StitchReason.TURNED_EDGE: message(
        "a turned edge has nothing to cover; sew close to the fold, or by hand"
    ),
    StitchReason.LOOSE: message("loosely woven fabric frays, so cover the raw edge"),
    StitchReason.SLIPPERY: message("slippery fabric frays and shifts, so cover the raw edge"),
    StitchReason.STRETCHY: message("stretchy fabric shifts, so cover the raw edge"),
    StitchReason.CLOSE_IN_VALUE: message(
        "letters and background are close in value, so a satin stitch makes the letters stand out"
    ),
    StitchReason.CLEAR_CONTRAST: message(
        "firm fabric and a clear contrast: a blanket stitch secures the edge without hiding the fabric"
    ),
}
_STABILIZER: Final = {
    StabilizerReason.FIRM: message("firm fabric"),
    StabilizerReason.STRAIGHT: message("a straight stitch does not draw firm fabric in"),
    StabilizerReason.BATTING: message("the batting keeps the fabric flat under a straight stitch"),
    StabilizerReason.LOOSE: message("loosely woven fabric; it stays in"),
    StabilizerReason.SLIPPERY: message("slippery fabric; it stays in"),
    StabilizerReason.STRETCHY: message("stretchy fabric; it stays in"),
}
_WHEN: Final = {
    WhenReason.STATED: message("your design asks for it"),
    WhenReason.ONE_STITCH: message(
        "a straight stitch can hold letters and layers at once, and the rolled quilt fits in your machine's throat"
    ),
    WhenReason.DENSE: message(
        "dense stitching draws the panel in; stitch first, press, and square the panel up before you cut borders"
    ),
    WhenReason.TRIMMED: message("the panel is trimmed to size before the borders are on"),
    WhenReason.LEAST_ROLL: message("the panel by itself is easiest to turn in the machine's throat"),
}
_WHEN_PLAIN: Final = {
    WhenReason.DENSE: message(
        "dense stitching draws the panel in; stitch first, press, and square the panel up before you layer it"
    ),
    WhenReason.TRIMMED: message("the panel is trimmed to size before it is layered"),
}
"""Where there are no borders."""
_WHEN_SET: Final = {
    WhenReason.DENSE: message(
        "dense stitching draws a block in; stitch first, press, and trim each block to size before you sew it to others"
    ),
    WhenReason.TRIMMED: message("each block is trimmed to size before it is sewn to others"),
    WhenReason.LEAST_ROLL: message("a block by itself is easiest to turn in the machine's throat"),
}
"""Where the panels are blocks to be set together."""
_PLACES: Final = 4
"""Decimals of an angle, more than anybody draws."""


def stitch_reason_said(reason: StitchReason) -> Message:
    """Why this stitch."""
    return _STITCH[reason]


def stabilizer_reason_said(reason: StabilizerReason) -> Message:
    """Why this stabilizer, or none."""
    return _STABILIZER[reason]


def minutes_said(minutes: tuple[float, float]) -> Message:
    """How long work takes, at the least and at the most; one time where both are said the same."""
    least, most = map(as_time, minutes)
    if least == most:
        return message("about {time}", time=least)
    return message("{least} to {most}", least=least, most=most)


def paces_said(plan: StitchPlan) -> Listing:
    """The paces that times are figured with, from a careful hand to a quick one."""
    ranges = sorted({row.stitch.paces for row in plan.rows})
    return any_of(message("{slow} to {quick}", slow=slow, quick=quick) for slow, quick in ranges)


def when_reason_said(reason: WhenReason, *, bordered: bool, set_together: bool) -> Message:
    """Why the letters are stitched when they are, on a panel that is `bordered` or is the whole top, or on blocks to be
    `set_together`."""
    if set_together and reason in _WHEN_SET:
        return _WHEN_SET[reason]
    return _WHEN[reason] if bordered else _WHEN_PLAIN.get(reason, _WHEN[reason])


def course_said(course: Course, units: Units) -> Message:
    """How the lines of one kind of quilting run, lengths in `units`."""
    match course:
        case Echoes(count=count, spacing=spacing):
            return messages(
                "{count} line around the words, {spacing} away",
                "{count} lines around the words, {spacing} apart",
                count,
                spacing=as_length(spacing, units),
            )
        case Ruled() as ruled:
            return _ruled(ruled, units)
        case Waves() as waves:
            return _waves(waves, units)
        case InTheDitch(seams=0):
            return message("no borders, no seams")
        case InTheDitch(between=None):
            return message("in the seams around the panel and between the borders")
        case InTheDitch():
            return message("in the seams between the blocks, and around the borders")


def _waves(waves: Waves, units: Units) -> Message:
    fields: dict[str, Field] = {
        "height": as_length(waves.row_height, units),
        "overlap": as_length(waves.overlap, units),
    }
    match waves.basis:
        case Repeats() as repeats:
            return messages(
                "{count} row {height} high of {repeats}, {thread} of needle thread in each; drawn as a plain wave",
                "{count} rows {height} high that overlap by {overlap}, each of {repeats}, {thread} of needle thread in "
                "each repeat; drawn as plain waves",
                waves.rows,
                repeats=messages(
                    "{count} repeat {width} wide",
                    "{count} repeats {width} wide",
                    repeats.across,
                    width=as_length(repeats.width, units),
                ),
                thread=as_run(repeats.thread, units),
                **fields,
            )
        case spread:
            return messages(
                "{count} row {height} high, drawn as a plain wave and figured as lines about {spacing} apart; for your "
                "own design give the width of a repeat and its thread",
                "{count} rows {height} high that overlap by {overlap}, drawn as plain waves and figured as lines about "
                "{spacing} apart; for your own design give the width of a repeat and its thread",
                waves.rows,
                spacing=as_length(spread.spacing, units),
                **fields,
            )


def _ruled(ruled: Ruled, units: Units) -> Message:
    spacing, angles = as_length(ruled.spacing, units), _angles(ruled.angles_deg)
    if ruled.letters is OverLetters.MISS:
        return message(
            "lines {spacing} apart at {angles}, stopping short of the letters", spacing=spacing, angles=angles
        )
    return message(
        "lines {spacing} apart at {angles}, straight over the letters", spacing=spacing, angles=angles
    )


def _angles(angles: tuple[float, ...]) -> Listing:
    numbers = [round(Fraction(angle), _PLACES) for angle in angles]
    return listed(Measure(number=number, unit=Unit.DEGREE, as_fraction=False) for number in numbers)
