"""Letters that are fused and cut out by hand, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.language import Message, message
from applique.pieces import Template
from applique.units import Units, as_area, as_length
from applique.words.cloth import side_by_side_said
from applique.words.instructions.sizes import percent_said
from applique.words.sheets import set_apart
from applique.yardage import SideBySide

__all__ = [
    "CUT_LINE",
    "CUT_OUT",
    "FUSED",
    "PAPER_BENT",
    "PEELED",
    "RINGED",
    "ROUGH",
    "ROUGH_CUT",
    "WEB_AWAY",
    "WEB_STAYS",
    "cut_on_line_said",
    "fuse_said",
    "join_web_said",
    "peel_said",
    "ring_said",
    "rough_cut_said",
    "trace_web_said",
]

ROUGH: Final = message("cut here, roughly")
CUT_LINE: Final = message("cut on the line")
WEB_AWAY: Final = message("web comes away")
WEB_STAYS: Final = message("web stays on the wrong side")
PAPER_BENT: Final = message("paper, bent away and off")
ROUGH_CUT: Final = message(
    "A letter in mirror image on the paper of the web, cut out roughly around its line."
)
RINGED: Final = message("A letter in mirror image with the middle of its web cut away.")
FUSED: Final = message("The web with its letter on the wrong side of the fabric, paper up, under an iron.")
CUT_OUT: Final = message("The fused letter with its cut line, seen from the wrong side of the fabric.")
PEELED: Final = message(
    "The letter from its wrong side: its paper is bent down from the top, and the web stays on the fabric."
)


def trace_web_said() -> tuple[Message, Message]:
    """How letters are traced onto web."""
    return (
        message(
            "Lay the fusible web over a template page, paper side up, and trace each template as many times as "
            "the table says. Write its number on every tracing, and copy its arrows: the one with two heads goes "
            "along the grain, the one with one head points to the top of the letter. If the lines do not show "
            "through, hold both against a window in daylight."
        ),
        message("On the paper the letters are in mirror image; on the panel they read the right way round."),
    )


def join_web_said(joined: Sequence[SideBySide], units: Units) -> tuple[Message, Message, Message]:
    """How web is laid for letters too large for one width: edge to edge, for where it overlaps the letter is stiff."""
    return (
        message(
            "The web is too narrow for some letters: {pieces}.",
            pieces=set_apart(side_by_side_said(one, units) for one in joined),
        ),
        message(
            "Trace such a letter across the join: lay the widths over its template, paper side up, so that their "
            "straight edges touch and neither lies on the other, and hold them with bits of tape outside the letter. "
            "Draw two short marks across the join."
        ),
        message(
            "Take the tape off before you fuse: it melts under the iron. Leave the joined edges as they are when you "
            "cut the tracing out roughly, and lay them on the fabric touching again, mark to mark."
        ),
    )


def rough_cut_said(rough_cut: Fraction, units: Units) -> Message:
    """How traced letters are cut apart."""
    if not rough_cut:
        return message("Cut the tracings out on the line.")
    return message(
        "Rough-cut the web: cut each tracing out roughly, no more than about {room} outside the line: larger ones may "
        "not all fit on the fabric. Do not cut on the line yet.",
        room=as_length(rough_cut, units, denominator=16),
    )


def ring_said(templates: Sequence[Template], ring: Fraction | None, units: Units) -> Iterator[Message]:
    """What a ring of fusible is and what it saves; nothing without one."""
    saved = sum(template.ring_saves * template.count for template in templates)
    if ring is None or not saved:
        return
    whole = sum(template.area * template.count for template in templates)
    yield message(
        "Large letters stay soft with the middle of the web cut away: before you fuse, cut along the dashed line "
        "{wide} inside the edge and take the middle out. Of the web under the letters {share} comes away ({saved}); "
        "it can serve small letters, and is not taken off what to buy.",
        wide=as_length(ring, units, denominator=16),
        share=percent_said(saved / whole),
        saved=as_area(saved, units),
    )


def fuse_said() -> tuple[Message, Message, Message]:
    """How web comes onto fabric."""
    return (
        message(
            "Try the web on a scrap of each fabric first: with that heat and time it has to hold, and its paper to "
            "come off."
        ),
        message(
            "Fuse each piece to the wrong side of its fabric, paper up, its arrow along the grain, with the heat "
            "and for the time that the maker of the web gives. Press, do not slide the iron."
        ),
        message("Let it cool flat."),
    )


def cut_on_line_said() -> Message:
    """How fused letters are cut out."""
    return message("Cut the letters out of the fabric on the line, through paper and fabric together.")


def peel_said(*, picked: bool) -> Message:
    """How the paper comes off; where letters are `picked` row by row afterward, they need not be kept by rows yet."""
    if picked:
        return message(
            "Peel the paper off each letter; if it sticks, score it with a pin and start from there. The web stays on "
            "the fabric. Keep the letters of each template together, in an envelope with its number."
        )
    return message(
        "Peel the paper off each letter; if it sticks, score it with a pin and start from there. The web stays on "
        "the fabric. Keep the letters of each row together."
    )
