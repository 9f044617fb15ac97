"""Rows that run down the panel, in words: the line down their middle, and the tick that each letter stands on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.language import Field, Message, message
from applique.marks import LetterMark, RowMark
from applique.panel import PanelPlan
from applique.units import Units, as_length, as_size
from applique.words.below import garment_point
from applique.words.sheets import from_center, turn_said

__all__ = [
    "ACROSS_FIRST",
    "ACROSS_MARKED",
    "BASELINE_OR_LINE_HEAD",
    "DRAWN_ACROSS",
    "LINE_HEAD",
    "center_drawn_said",
    "drawn_said",
    "ends_said",
    "laid_said",
    "letter_note",
    "line_said",
    "lines_drawn_said",
    "look_said",
    "lowest_said",
    "marked_said",
    "order_said",
    "outlines_laid_said",
    "outlines_marked_said",
    "place_said",
    "ticks_said",
]


ACROSS_FIRST: Final = message("First the rows that run across.")
ACROSS_MARKED: Final = message(
    "First the rows that run across: draw each baseline only as far as its row reaches."
)
DRAWN_ACROSS: Final = message("Rows that run down the panel are drawn across here.")
LINE_HEAD: Final = message("line below cut top")
BASELINE_OR_LINE_HEAD: Final = message("baseline, or line, below cut top")
"""The heads of the column of baselines where all rows, or some, run down."""


def center_drawn_said(panel: PanelPlan, units: Units) -> Message:
    """How the center line is drawn where no row has a baseline."""
    if panel.worn is not None:
        return message(
            "Fold the garment in half, side seam on side seam, and draw the center line along the fold with the chalk "
            "pencil, from {point} down.",
            point=garment_point(panel.worn),
        )
    if panel.loose:
        return message(
            "Draw the center line where the words go, with the chalk pencil, and the first line square to it, across "
            "all words: it is level with the top of the highest row."
        )
    length = as_size(panel.center_from_edge, units)
    if panel.trim:
        return message(
            "With the chalk pencil draw the center line, {length} from either cut side edge ({finished} from either "
            "finished edge), and baste its two ends, by which the panel is trimmed.",
            length=length,
            finished=as_size(panel.width / 2, units),
        )
    return message(
        "With the chalk pencil draw the center line, {length} from either cut side edge.", length=length
    )


def line_said(point: Field | None, *, numbered: bool) -> Message:
    """How the line of a row that runs down is drawn on the panel; its ends are `numbered` in the drawing, or only in
    the table. They are measured down from `point`, or else from the cut top edge."""
    if point is None:
        if numbered:
            return message(
                "A row that runs down is laid by a line down its middle, with two small crosses, at its top "
                "and at its foot. The numbers at each say how far it is from the center line, and how far down from "
                "the cut top edge: mark both points and join them with a ruler. The table has them too."
            )
        return message(
            "A row that runs down is laid by a line down its middle, with two small crosses, at its top and "
            "at its foot. The table says how far each is from the center line, and how far down from the cut top edge: "
            "mark both points and join them with a ruler."
        )
    if numbered:
        return message(
            "A row that runs down is laid by a line down its middle, with two small crosses, at its top and "
            "at its foot. The numbers at each say how far it is from the center line, and how far down from {point}: "
            "mark both points and join them with a ruler. The table has them too.",
            point=point,
        )
    return message(
        "A row that runs down is laid by a line down its middle, with two small crosses, at its top and at "
        "its foot. The table says how far each is from the center line, and how far down from {point}: mark both "
        "points and join them with a ruler.",
        point=point,
    )


def ticks_said(*, beside: bool, outlined: bool) -> Iterator[Message]:
    """What is marked on such a line, and how letters lie by it; some have their middle `beside` it, some are `outlined`
    and hide a short tick."""
    yield message(
        "For each letter of the row draw a tick square across that line, as far down as the table says, so long that "
        "it shows on both sides of the letter. A tick is no middle here: lay the letter with its lowest point level "
        "with the tick, its middle on the line and its left and right edges as far out as the table says."
    )
    if beside:
        yield message(
            "Some letters of such a row have their middle beside the line: draw their tick there, where the table says."
        )
    if outlined:
        yield outlines_marked_said()


def outlines_marked_said() -> Message:
    """How long ticks are drawn that an outline would hide."""
    return message(
        "In a row that runs down an outline hides a short tick, and the line: draw each tick so long that it shows on "
        "both sides of its outline, and let the line show above and below the row."
    )


def outlines_laid_said() -> Message:
    """How outlines behind letters of such a row are laid, before any letter."""
    return message(
        "In a row that runs down, lay each outline with its lowest point as far below the tick as the table of the "
        "placement guide says, and its middle on the line."
    )


def drawn_said() -> Message:
    """What the placement drawing shows where all rows run down."""
    return message(
        "The panel with its center line, and the line down the middle of each row, with a small cross at either end, "
        "their distances from the center line and from the cut top edge, and a tick for each letter."
    )


def lines_drawn_said(*, ticked: bool) -> Message:
    """What the placement drawing shows of rows that run down."""
    if ticked:
        return message(
            "The line down the middle of a row that runs down has a small cross at either end and a tick for each "
            "letter."
        )
    return message("The line down the middle of a row that runs down has a small cross at either end.")


def marked_said(point: Field | None, where: Message) -> Iterator[Message]:
    """How rows that run down are marked; the table of the placement guide is `where`."""
    if point is None:
        yield message(
            "A row that runs down is laid by a line down its middle, with two points in the table, small "
            "crosses on the drawing: measure each from the center line and down from the cut top edge, mark both, and "
            "join them with a ruler. Draw it lightly, and on a little beyond both points."
        )
    else:
        yield message(
            "A row that runs down is laid by a line down its middle, with two points in the table, small "
            "crosses on the drawing: measure each down from {point} along the center line and out from it, mark both, "
            "and join them with a ruler. Draw it lightly, and on a little beyond both points.",
            point=point,
        )
    yield message(
        "For each of its letters draw a tick square across that line, so long that it shows on both sides of the "
        "letter, where its lowest point comes. How far down each tick is stands in the table of the placement guide, "
        "{where}.",
        where=where,
    )


def laid_said(*, beside: bool) -> Message:
    """How the letters of such a row are laid, some of which may have their middle `beside` the line."""
    if beside:
        return message(
            "In a row that runs down, place the letters down the line from the top, the dash of the middle toward the "
            "bottom edge of the panel: each with its lowest point level with its tick, its middle on the line or where "
            "the placement guide says, and its left and right edges as far out as the guide says."
        )
    return message(
        "In a row that runs down, place the letters down the line from the top, the dash of the middle toward the "
        "bottom edge of the panel: each with its lowest point level with its tick, its middle on the line, and its "
        "left and right edges as far out as the placement guide says."
    )


def lowest_said(above: float, units: Units) -> Message:
    """How far the lowest point of a part of a letter is above the tick that the letter stands on; inches."""
    return message("{length} above its tick", length=as_length(above, units, denominator=16))


def look_said(*, by_row: bool, across: bool) -> Message:
    """What to look at before anything is fixed, where all rows run down, or some and others `across`."""
    if across and by_row:
        return message(
            "Look at the row from across the room: does it lie on its baseline, or run straight down its line, is each "
            "letter the right way up and spelled as it should be? Move what is off."
        )
    if across:
        return message(
            "Look at the whole from across the room: do the rows lie on their baselines, or run straight down their "
            "lines, is each letter the right way up and spelled as it should be? Move what is off."
        )
    if by_row:
        return message(
            "Look at the row from across the room: does it run straight down its line, is each letter the right way up "
            "and spelled as it should be? Move what is off."
        )
    return message(
        "Look at the whole from across the room: do the rows run straight down their lines, is each letter the right "
        "way up and spelled as it should be? Move what is off."
    )


def order_said() -> Message:
    """Which letter of such a row lies on top where some overlap."""
    return message("In a row that runs down, each letter lies on top of the one above it.")


def ends_said(mark: RowMark, units: Units) -> Message:
    """Where the line of a level row that runs down is, as the cell of a table."""
    (across, top), (_, foot) = mark.ends
    return message(
        "line {across}, {top} to {foot} down",
        across=from_center(across, units),
        top=as_length(top, units, denominator=16),
        foot=as_length(foot, units, denominator=16),
    )


def place_said(mark: RowMark, point: Field | None, units: Units) -> Message:
    """Where the line of such a row is, measured down from `point` or else from the cut top edge.

    A line break in it is one in the table.
    """
    (across, top), (end, foot) = mark.ends
    fields: dict[str, Field] = {
        "across": from_center(across, units),
        "top": as_length(top, units, denominator=16),
        "foot": as_length(foot, units, denominator=16),
    }
    if mark.turn_deg:
        return message(
            "runs down, turned {turn}: its line from\n{across}, {top} down\nto {end}, {foot} down",
            turn=turn_said(mark.turn_deg),
            end=from_center(end, units),
            **fields,
        )
    if point is None:
        return message(
            "runs down: its line {across},\nfrom {top} to {foot} below the cut top edge",
            **fields,
        )
    return message("runs down: its line {across},\nfrom {top} to {foot} below {point}", point=point, **fields)


def letter_note(letter: LetterMark, units: Units) -> Message:
    """Where the tick of a letter is, or how it is turned."""
    if letter.own is not None:
        return message("turned {turn}", turn=turn_said(letter.turn_deg))
    return message(
        "lowest point and tick {length} down", length=as_length(letter.tick_down, units, denominator=16)
    )
