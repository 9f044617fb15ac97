"""Cures in words: what to write in the design, or what a button of the page does."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from applique.language import Measure, Message, Unit, message
from applique.language.messages import Field
from applique.sewing.cures import Cure, CureKind
from applique.units import MM_PER_INCH, as_length

__all__ = ["cure_said", "no_cure_said"]

_IN_NO_FABRIC: Final = {
    CureKind.DARKER_THREAD: message("a satin stitch in a darker thread in row {row}"),
    CureKind.LIGHTER_THREAD: message("a satin stitch in a lighter thread in row {row}"),
}
"""Where no fabric of the design has the color of the thread."""
_SAID: Final = {
    CureKind.HEIGHT: message("cap height “{length}” in row {row}, the least at which it passes"),
    CureKind.EVERY_HEIGHT: message("cap height “{length}” for every row"),
    CureKind.HEIGHT_AND_PANEL: message(
        "cap height “{length}” in row {row} on a panel of {width} by {height}"
    ),
    CureKind.WEIGHT: message("weight {weight} of “{name}” in row {row}"),
    CureKind.FONT: message("the font “{name}” in row {row}"),
    CureKind.GAP: message("least gap “{length}” in row {row}"),
    CureKind.GAP_AND_NUDGES: message("least gap “{length}” in row {row}, its letters where they fall"),
    CureKind.GAP_AND_HEIGHT: message("least gap “{length}” and cap height “{cap_height}” in row {row}"),
    CureKind.WORDS_AS_ONE: message("one outline behind each whole word"),
    CureKind.HOLES_CLOSED: message("every hole of the outlines closed"),
    CureKind.ROW_GAP: message("row gap “{length}”, and rows where they fall"),
    CureKind.ROW_GAP_AND_PANEL: message("row gap “{length}” on a panel {height} high"),
    CureKind.NUDGES: message("row {row} without its nudges"),
    CureKind.MARGIN: message("margin “{length}”"),
    CureKind.MARGIN_AND_PANEL: message("margin “{length}” on a panel of {width} by {height}"),
    CureKind.MARGIN_AND_BASELINES: message("margin “{length}”, and rows where they fall"),
    CureKind.MOVED_SIDEWAYS: message("row {row} moved in by “{length}”, to right = “{right}”"),
    CureKind.MOVED_UPRIGHT: message("row {row} moved in by “{length}”, to up = “{up}”"),
    CureKind.STITCH_WIDTH: message("stitch width “{length}” in row {row}"),
    CureKind.DARKER_THREAD: message("a satin stitch in a darker thread (“{name}”) in row {row}"),
    CureKind.LIGHTER_THREAD: message("a satin stitch in a lighter thread (“{name}”) in row {row}"),
    CureKind.OUTLINE: message("outline “{length}” of “{name}” behind row {row}"),
    CureKind.FABRIC: message("letters of “{name}” in row {row}"),
    CureKind.LARGEST: message("Let row {row} be as large as fits"),
    CureKind.STAYS: message("Keep row {row} at {length} and let the others be as large as fits"),
    CureKind.PUT_BACK: message("Put row {row} back where it was"),
    CureKind.RUNS_OFF: message("Let row {row} run off the panel's edge"),
    CureKind.CENTERED: message("Center row {row}"),
    CureKind.OTHER_FONT: message("Set row {row} in “{name}”"),
    CureKind.EVEN_SQUARES: message("Make the squares of border {border} {length}"),
    CureKind.EVEN_PANEL: message("Make the panel {width} by {height}"),
    CureKind.EVEN_PANEL_AND_SQUARES: message(
        "Make the panel {width} by {height}, and the squares of border {border} {length}"
    ),
    CureKind.EVEN_RECTANGLES: message("Make the rectangles of border {border} {wide} by {length}"),
    CureKind.EVERY_LARGEST: message("Let all letters be as large as fits"),
    CureKind.EVERY_LARGEST_PUT_BACK: message("Let all letters be as large as fits, with no moves by hand"),
}


def cure_said(cure: Cure) -> Message:
    """What is done, lengths in the units of the design."""
    said = _SAID[cure.kind] if cure.name else _IN_NO_FABRIC.get(cure.kind, _SAID[cure.kind])
    return said.filled(**dict(_fields(cure)))


def no_cure_said() -> Message:
    """What is said of a finding for which no cure was found."""
    return message("no single change was found that cures it; other words or another font")


def _fields(cure: Cure) -> Iterator[tuple[str, Field]]:
    """Whatever the cure sets: its own values, and what else of the design it may have changed."""
    design = cure.design
    yield "width", as_length(design.panel.width, design.units)
    yield "height", as_length(design.panel.height, design.units)
    yield "name", cure.name
    if cure.kind is CureKind.STITCH_WIDTH and cure.length is not None:
        # In millimeters whatever the units, as on the dial of a machine.
        yield "length", Measure(number=cure.length * MM_PER_INCH, unit=Unit.MILLIMETER, as_fraction=False)
    elif cure.length is not None:
        yield "length", as_length(cure.length, design.units, denominator=16)
    if cure.border is not None:
        yield "border", cure.border
        yield "wide", as_length(design.border[cure.border - 1].width, design.units)
    if cure.row is None:
        return
    yield "row", cure.row
    row = design.row[cure.row - 1]
    yield "right", as_length(row.right, design.units, denominator=16)
    yield "up", as_length(row.up, design.units, denominator=16)
    if cure.kind is CureKind.GAP_AND_HEIGHT and isinstance(row.cap_height, Fraction):
        yield "cap_height", as_length(row.cap_height, design.units, denominator=16)
    if cure.kind is CureKind.WEIGHT and row.axes is not None:
        yield "weight", f"{row.axes['wght']:.0f}"
