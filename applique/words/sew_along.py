"""The words of the page to sew by: what can be ticked off, and everything around the chapters."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from applique.design import Method
from applique.language import Field, Listing, Message, listed, message
from applique.paging import among_numbers
from applique.panel import Laid
from applique.pieces import outline_named
from applique.words.instructions.needed import BUYING

__all__ = [
    "CLEAR",
    "CLEAR_ALL",
    "CLEAR_ASKED",
    "CLOSE",
    "CONTENTS",
    "DARK",
    "ENLARGE",
    "KEEP",
    "KEPT",
    "NEXT",
    "NOT_KEPT",
    "NO_SCRIPT",
    "SUBJECT",
    "TO_CONTENTS",
    "WHERE",
    "WHOLE_ROW",
    "ZOOM_IN",
    "ZOOM_OUT",
    "Done",
    "behind_said",
    "besides_said",
    "besides_said_to_customers",
    "done_of",
    "done_so_far",
    "done_with",
    "part_said",
    "piece_of",
    "row_said",
    "step_said",
    "steps_said",
    "words_in_it",
]


class Done(StrEnum):
    """What is done to a letter, and ticked off when it is."""

    TRACED = "traced"
    FUSED = "fused"
    CUT = "cut"
    PAPER_CUT = "paper-cut"
    PRESSED_ON = "pressed-on"
    TURNED = "turned"
    PLACED = "placed"
    FUSED_DOWN = "fused-down"
    STITCHED = "stitched"


_DONE: Final = {
    Done.TRACED: message("Traced"),
    Done.FUSED: message("Fused to its fabric"),
    Done.CUT: message("Cut out"),
    Done.PAPER_CUT: message("Freezer paper cut"),
    Done.PRESSED_ON: message("Pressed onto its fabric"),
    Done.TURNED: message("Edge turned"),
    Done.PLACED: message("Placed and basted"),
    Done.FUSED_DOWN: message("Fused to the panel"),
    Done.STITCHED: message("Stitched down"),
}

SUBJECT: Final = message("to sew by")
CONTENTS: Final = message("Contents")
TO_CONTENTS: Final = message("Go to the contents")
WHERE: Final = message("Where you are")
NEXT: Final = message("Go to the next tick")
DARK: Final = message("Dark colors for the evening")
ENLARGE: Final = message("Enlarge")
ZOOM_IN: Final = message("Zoom in")
ZOOM_OUT: Final = message("Zoom out")
CLOSE: Final = message("Close")
CLEAR: Final = message("Clear all ticks")
CLEAR_ASKED: Final = message("Clear every tick of this pattern? They can't be brought back.")
CLEAR_ALL: Final = message("Yes, clear them")
KEEP: Final = message("No, keep them")
KEPT: Final = message("Your ticks stay in this browser, on this device. Nothing is sent anywhere.")
NOT_KEPT: Final = message(
    "This browser won't keep your ticks: they last until you close the page. Print the page if you need to stop."
)
NO_SCRIPT: Final = message("Scripts are off, so ticks last only until you close the page.")
WHOLE_ROW: Final = message("Whole row")


def besides_said(method: Method, *, mirrored: bool) -> Message:
    """What else its maker needs, in the files of her folder."""
    fields: dict[str, Field] = {
        "templates": "templates-mirrored.pdf" if mirrored else "templates-right-reading.pdf",
        "guide": "placement-guide.pdf",
        "chapter": BUYING,
    }
    if method is Method.MACHINE_CUT:
        return message(
            "Besides this page you need {templates}, printed at 100%, {guide}, the folder {folder} for the cutting "
            "machine, and the fabrics and supplies listed under “{chapter}”.",
            folder="cut-files",
            **fields,
        )
    return message(
        "Besides this page you need {templates}, printed at 100%, {guide}, and the fabrics and supplies listed under "
        "“{chapter}”.",
        **fields,
    )


def besides_said_to_customers(method: Method, *, letter: str, a4: str, cut_files: str) -> Message:
    """The same for customers: the whole pattern as a file on either paper, and the cut files."""
    fields: dict[str, Field] = {"letter": letter, "a4": a4, "chapter": BUYING}
    if method is Method.MACHINE_CUT:
        return message(
            "Besides this page you need the placement guide and the templates, printed at 100% from {letter} or, on A4 "
            "paper, from {a4}, the cut files in {archive}, and the fabrics and supplies listed under “{chapter}”.",
            archive=cut_files,
            **fields,
        )
    return message(
        "Besides this page you need the placement guide and the templates, printed at 100% from {letter} or, on A4 "
        "paper, from {a4}, and the fabrics and supplies listed under “{chapter}”.",
        **fields,
    )


def done_with(done: Done) -> Message:
    """The heading over the letters that are ticked off when that is done."""
    return _DONE[done]


def row_said(laid: Laid) -> Message | str:
    """What a row of letters is called, or a piece that is no letter."""
    if laid.where.row is None:
        return laid.text
    return message("Row {number}: {words}", number=laid.where.row, words=laid.text)


def behind_said(row: int | None, text: str) -> Message:
    """What lies behind a row of letters, or behind another piece."""
    if row is None:
        return outline_named(text)
    return message("Row {number}: {words}", number=row, words=outline_named(text))


def part_said(letter: str, name: str) -> Message:
    """One part of a letter, with the name that is on its template."""
    return message("{letter} · {part}", letter=among_numbers(letter), part=name)


def piece_of(place: int, count: int) -> Message:
    """Which one of a row's pieces."""
    return message("{place} of {count}", place=place, count=count)


def step_said(number: int) -> Message:
    """A step by its number."""
    return message("Step {number}", number=number)


def steps_said(first: int, last: int) -> Message:
    """The steps of a chapter."""
    if first == last:
        return step_said(first)
    return message("Steps {first} to {last}", first=first, last=last)


def done_so_far() -> Message:
    """How much is done, with names for the page to fill in."""
    return message("{done} of {total} done", done="{done}", total="{total}")


def done_of(total: int) -> Message:
    """The same before anything is done."""
    return message("{done} of {total} done", done=0, total=total)


def words_in_it(words: Sequence[str]) -> Message:
    """The words that stand in a picture, for somebody who cannot see it."""
    items: Listing = listed(words)
    return message("In the picture: {words}.", words=items)
