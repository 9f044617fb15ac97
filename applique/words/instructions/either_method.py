"""Two methods to choose from, side by side, in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from applique.design import Method, Stitch
from applique.language import Field, Message, message
from applique.sewing.stabilizer import StabilizerNeed
from applique.sewing.threads import ThreadNeed
from applique.units import Units, as_available, as_yardage
from applique.words.buying import item_said, material_said
from applique.words.methods import METHODS
from applique.words.sheets import set_apart
from applique.yardage import StripNeed

__all__ = [
    "DIFFERS",
    "EITHER",
    "STABILIZER",
    "THREAD",
    "TIME",
    "TOOLS",
    "WEB",
    "either_said",
    "length_said",
    "shelf_said",
    "tools_said",
    "web_said",
]

EITHER: Final = message("Two methods to choose from")
DIFFERS: Final = message("what differs")
WEB: Final = message("web or paper")
STABILIZER: Final = message("stabilizer")
THREAD: Final = message("thread")
TOOLS: Final = message("tools")
TIME: Final = message("stitching")
_TOOLS: Final = {
    Method.RAW_EDGE: (),
    Method.MACHINE_CUT: (
        message("cutting machine with a fabric blade and a mat"),
        message("flat tool to lift letters off it"),
    ),
    Method.TURNED_EDGE: (message("wash-away glue"),),
}


def either_said(method: Method, other: Method, file: Field) -> Message:
    """Which method these instructions are for, and in which file the `other` is."""
    return message(
        "All of this is for {method}. The same design can be made with {other}, with instructions and templates of its "
        "own: {file}. What differs stands side by side at the end of this list; choose one before you buy.",
        method=METHODS[method],
        other=METHODS[other],
        file=file,
    )


def web_said(need: StripNeed, units: Units) -> Message:
    """The web or the freezer paper of one method."""
    return message(
        "{material}, {width} wide: {length}",
        material=material_said(need),
        width=as_available(need.usable_width, units),
        length=as_yardage(need.buy, units),
    )


def length_said(length: Fraction, units: Units) -> Message:
    """How much of a fabric is bought for one method."""
    return message("{length}", length=as_yardage(length, units))


def shelf_said(needs: Sequence[StabilizerNeed | ThreadNeed], units: Units) -> Field:
    """The stabilizer or the thread of one method."""
    if not needs:
        return message("none")
    return set_apart(item_said(need, units, figured=False) for need in needs)


def tools_said(method: Method, stitches: Sequence[Stitch]) -> Message:
    """The tools that only this method takes, or takes for other work, with a machine for its `stitches`."""
    machine = (
        message("sewing machine with a blanket stitch")
        if Stitch.BLANKET in stitches
        else message("sewing machine")
    )
    return set_apart((*_TOOLS[method], machine))
