"""How large a quilt is, in words a maker can feel: its class, the bed it covers, and what it is drawn beside."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, assert_never

from applique.language import Message, message
from applique.quilt.scene import ThingKind
from applique.quilt.sizes import Against, BedCover, Mattress, QuiltClass, QuiltSize
from applique.units import Units, as_length

__all__ = ["THINGS", "bed_said", "class_label", "class_said"]

THINGS: Final = {
    ThingKind.DOOR: message("door"),
    ThingKind.PERSON: message("person of 5 ft 6 in"),
    ThingKind.SOFA: message("sofa"),
}
_QUILTS: Final = {
    QuiltSize.WALL: message("wall quilt"),
    QuiltSize.THROW: message("throw or wall quilt"),
    QuiltSize.LAP: message("lap"),
    QuiltSize.TWIN: message("twin"),
    QuiltSize.DOUBLE: message("double"),
    QuiltSize.QUEEN: message("queen"),
    QuiltSize.KING: message("king"),
}
_BEDS: Final = {
    Mattress.CRIB: message("crib"),
    Mattress.TWIN: message("twin"),
    Mattress.FULL: message("full"),
    Mattress.QUEEN: message("queen"),
    Mattress.KING: message("king"),
}


def class_label(found: QuiltClass) -> Message:
    """The class in few words, as `lap` or `larger than king`."""
    size = _QUILTS[found.name]
    match found.against:
        case Against.ABOUT:
            return size
        case Against.LONGER:
            return message("longer than {size}", size=size)
        case Against.LARGER:
            return message("larger than {size}", size=size)
    assert_never(found.against)


def class_said(found: QuiltClass, units: Units) -> Message:
    """The class as a maker would say it."""
    size = _QUILTS[found.name]
    if found.usual is None:
        return message("a {size}", size=size)
    across, down = (as_length(Fraction(side), units) for side in found.usual)
    match found.against:
        case Against.ABOUT:
            return message("about a {size} quilt ({width} by {height})", size=size, width=across, height=down)
        case Against.LONGER:
            return message(
                "longer than a {size} quilt ({width} by {height})", size=size, width=across, height=down
            )
        case Against.LARGER:
            return message(
                "larger than a {size} quilt ({width} by {height})", size=size, width=across, height=down
            )
    assert_never(found.against)


def bed_said(bed: BedCover, units: Units) -> Message:
    """The bed that a quilt covers, as a sentence."""
    across, down = (as_length(Fraction(side), units) for side in bed.mattress)
    return message(
        "It covers a {bed} bed ({width} by {height}) with {over} over each side.",
        bed=_BEDS[bed.name],
        width=across,
        height=down,
        over=as_length(bed.over_each_side, units),
    )
