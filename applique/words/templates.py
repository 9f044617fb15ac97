"""The words of the template files: which method a file is for, how to use it, what its lines and pages are."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from typing import Final

from applique.language import Field, Listing, Message, listed, message
from applique.pieces import TemplateUse
from applique.units import Units, as_length

__all__ = [
    "BASELINE",
    "CUT_HERE",
    "CUT_OF_FABRIC",
    "FREEZER_PAPER",
    "GRAIN",
    "HOW_TO_USE",
    "JOIN",
    "LINES",
    "PAGES",
    "WEB_OFF",
    "TemplateFile",
    "and_so_on",
    "fusible_web",
    "page_bookmark",
    "tile_name",
    "tile_note",
    "tile_pages",
    "uses_said",
]

HOW_TO_USE: Final = message("How to use these sheets")
PAGES: Final = message("What's on each page")
LINES: Final = message("Lines")
CUT_HERE: Final = message("cut on this line")
BASELINE: Final = message("do not cut: baseline, trim line")
GRAIN: Final = message("grain: along the selvage")
JOIN: Final = message("lay one mark on the other")
CUT_OF_FABRIC: Final = message("cut line of the fabric")
WEB_OFF: Final = message("inside it, web comes away")

_PRINT: Final = message(
    "Print at 100 %. Measure both rules on this page; if one is off, see “{setting}” in the design file.",
    setting="print",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateFile:
    """What a template file says of the way of working that it serves: its name, a line on every page, its steps."""

    subject: Message
    line: Message
    steps: tuple[Message, ...]


FREEZER_PAPER: Final = TemplateFile(
    subject=message("templates, right way round"),
    line=message("Right way round: for freezer paper on the right side of the fabric, shiny side down"),
    steps=(
        _PRINT,
        message("Trace the letters onto the dull side of freezer paper and cut them out on the line."),
        message("Iron them, shiny side down, to the right side of the fabric, the arrow along the grain."),
        message(
            "Cut the fabric around them as your method asks: on the line, or with the turn-under you allow."
        ),
        message(
            "The same sheets serve freezer paper on the wrong side, shiny side up. For the wrong side, "
            "shiny side down, print the mirror-image file instead."
        ),
    ),
)


def fusible_web(rough_cut: Fraction, units: Units) -> TemplateFile:
    """Tracing onto fusible web, cut out `rough_cut` inches outside the line, as it was nested."""
    return TemplateFile(
        subject=message("templates, mirror image"),
        line=message("Mirror image: to trace onto the paper side of fusible web"),
        steps=(
            _PRINT,
            message(
                "Lay the fusible web over a sheet, paper side up, and trace each letter as often as it says."
            ),
            _cut_out(rough_cut, units),
            message(
                "Fuse them to the wrong side of the fabric, the arrow along the grain, as the maker of the web says."
            ),
            message(
                "Cut on the line. Seen from the right side of the fabric, the letters now read the right way round."
            ),
        ),
    )


def _cut_out(rough_cut: Fraction, units: Units) -> Message:
    if not rough_cut:
        return message("Cut the traced letters out on the line.")
    return message(
        "Cut the traced letters out roughly, about {room} outside the line.",
        room=as_length(rough_cut, units, denominator=16),
    )


def page_bookmark(page: int, letters: Iterable[Field]) -> Message:
    """What the list of pages calls a page with `letters` on it."""
    return message("Page {page}: {letters}", page=str(page), letters=reduce(_beside, letters))


def _beside(letters: Field, letter: Field) -> Message:
    return message("{letters} {letter}", letters=letters, letter=letter)


def and_so_on(page: int) -> Message:
    """That there are more pages than are shown, to `page`."""
    return message("and so on, to page {page}", page=str(page))


def tile_pages(letters: str | Message, first: int, last: int) -> Message:
    """The pages on which a large template stands."""
    return message("{letters}: {first} to {last}", letters=letters, first=str(first), last=str(last))


def tile_name(letters: str | Message, tile: str) -> Message:
    """One page of a large template."""
    return message("{letters} {tile}", letters=letters, tile=tile)


def tile_note(letters: str | Message, tile: str, rows: int, columns: int) -> Message:
    """The header of one page of a large template."""
    return message(
        "{letters}, tile {tile} of {rows} by {columns} · print at 100 %",
        letters=letters,
        tile=tile,
        rows=rows,
        columns=columns,
    )


def uses_said(uses: Iterable[TemplateUse]) -> Listing:
    """How often a template is cut, and from which fabrics."""
    return listed(message("cut {count} · {fabric}", count=use.count, fabric=use.fabric.name) for use in uses)
