"""How the letters are placed, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from applique.design import Method
from applique.language import Field, Message, message
from applique.marks import RowMark
from applique.panel import PanelPlan
from applique.units import Units, as_length, as_size
from applique.words.sheets import PEN_CAUTION, table_said

__all__ = [
    "CENTERED",
    "CENTER_LINE",
    "CUT_TOP_EDGE",
    "HELD",
    "PLACED",
    "PLACING",
    "ROWS_HEAD",
    "baseline_said",
    "center_said",
    "down_said",
    "hold_said",
    "laid_out_said",
    "look_said",
    "mark_rows_said",
    "marks_off_said",
    "outlines_said",
    "pen_tested_said",
    "row_named",
    "row_tick_said",
    "side_said",
]

PLACING: Final = message("Placing")
ROWS_HEAD: Final = (
    message("row"),
    message("words"),
    message("baseline below cut top"),
    message("left end from center"),
    message("right end from center"),
)
CENTER_LINE: Final = message("center line")
CUT_TOP_EDGE: Final = message("cut top edge")
PLACED: Final = message(
    "The panel with its center line, its baselines with their distance from the cut top edge, a tick below the "
    "middle of each letter, and the distance of both ends of a row from the center line."
)
CENTERED: Final = message(
    "The panel open, then folded from side to side, with the center line along the fold."
)
HELD: Final = {
    True: message("The letters in their places on the panel, under an iron."),
    False: message("The letters in their places on the panel, held with pins."),
}


def center_said(panel: PanelPlan, units: Units) -> Message:
    """How the center line is marked."""
    return message(
        "Fold the panel in half from side to side and mark the center line along the fold with a removable pen; it "
        "is {distance} from either cut side edge. {caution}",
        distance=as_size(panel.center_from_edge, units),
        caution=PEN_CAUTION,
    )


def pen_tested_said(method: Method) -> Message:
    """How the pen is tested under the iron before it marks the panel."""
    if method is Method.TURNED_EDGE:
        return message(
            "A hot iron can set the lines of a pen for good: draw a line on a scrap of the panel's fabric, iron it as "
            "hot as you will press, and see that it comes out; otherwise use chalk."
        )
    return message(
        "A hot iron can set the lines of a pen for good: draw a line on a scrap of the panel's fabric, iron it as hot "
        "as for fusing, and see that it comes out; otherwise use chalk."
    )


def marks_off_said(*, trimmed: bool) -> Message:
    """When the marks come off the panel; the center line stays where the panel is `trimmed` by it."""
    if trimmed:
        return message(
            "Remove the baselines and ticks, brushed or washed off as the maker of the pen says, before you press "
            "again. Leave the center line until the panel is trimmed by it."
        )
    return message(
        "Remove the marks, brushed or washed off as the maker of the pen says, before you press again."
    )


def mark_rows_said(panel: PanelPlan, units: Units) -> Message:
    """How baselines are marked."""
    if panel.trim:
        return message(
            "Mark each baseline, measured down from the cut top edge, and a tick for each letter. The finished edge "
            "lies {beyond} inside the cut edge; do not trim the panel before the letters are stitched.",
            beyond=as_size(panel.beyond, units),
        )
    return message("Mark each baseline, measured down from the cut top edge, and a tick for each letter.")


def laid_out_said(method: Method) -> tuple[Message, Message]:
    """How letters are laid out."""
    first = (
        message("Lay the letters out with their turned edges down, row by row, from the center line outward.")
        if method is Method.TURNED_EDGE
        else message("Lay the letters out, web side down, row by row, from the center line outward.")
    )
    return (
        first,
        message(
            "Each letter stands on its baseline with its middle over its tick; the placement guide has the "
            "distance of each one from the center line."
        ),
    )


def outlines_said() -> Message:
    """Which layer is laid first."""
    return message(
        "Lay the shapes that go behind the letters first, and each letter in the middle of its own."
    )


def look_said() -> Message:
    """What to look at before anything is fixed."""
    return message(
        "Look at the whole from across the room: are the rows level, is each letter the right way up and spelled "
        "as it should be? Move what is off."
    )


def hold_said(method: Method) -> Message:
    """How letters are held until they are stitched."""
    if method is Method.TURNED_EDGE:
        return message(
            "Pin each letter to the panel, then hold it with dots of wash-away glue or basting by hand inside its "
            "edge: pins alone will not hold a large letter. Take every pin out, then press under a cloth."
        )
    return message(
        "Fuse the letters to the panel, from the middle outward, with the heat and for the time that the maker of "
        "the web gives: set the iron down and lift it, do not slide it. Cover it with a press cloth; let it cool "
        "flat."
    )


def row_tick_said(mark: RowMark) -> Message:
    """A row to tick off."""
    if mark.where.row is None:
        return message("{words}", words=mark.text)
    return message("row {number}: {words}", number=mark.where.row, words=mark.text)


def row_named(mark: RowMark) -> str | Message:
    """What stands beside a row."""
    if mark.where.row is None:
        return table_said(mark.where)
    return message("row {number}", number=mark.where.row)


def down_said(down: float, units: Units) -> Message:
    """How far down a baseline is."""
    return message("{length}", length=as_length(down, units, denominator=16))


def side_said(place: float, units: Units) -> Message:
    """How far an end is from the center line, and on which side of it, in few letters."""
    length = as_length(abs(place), units, denominator=16)
    if place < 0:
        return message("{length} L", length=length)
    return message("{length} R", length=length)


def baseline_said(downs: Sequence[float], units: Units) -> Field:
    """How far down a baseline is: one distance, or those of its two ends."""
    first, *others = (as_length(down, units, denominator=16) for down in downs)
    return message("{first} to {last}", first=first, last=others[0]) if others else first
