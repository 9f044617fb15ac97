"""Where letters are started, and how the work is turned at corners and along curves, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from applique.design import Stitch
from applique.errors import Where
from applique.language import Message, message
from applique.words.sheets import STITCHES

__all__ = [
    "BACKGROUND",
    "CORNERS",
    "LETTER",
    "PIVOT",
    "SHAPES",
    "START",
    "Corner",
    "behind_drawn_said",
    "behind_named_said",
    "corners_drawn_said",
    "corners_said",
    "shown_once_said",
    "starts_drawn_said",
    "starts_said",
]

START: Final = message("Where to start")
CORNERS: Final = message("Corners and curves")
PIVOT: Final = message(
    "At every corner and along every curve, pivot as it is drawn below for the stitch that you sew. A ring shows where "
    "the needle is down while you turn the work."
)
LETTER: Final = message("letter")
BACKGROUND: Final = message("background")


class Corner(StrEnum):
    """What the needle goes around, in the order in which it is drawn."""

    OUTSIDE = "outside corner"
    INSIDE = "inside corner"
    OUTSIDE_CURVE = "outside curve"
    INSIDE_CURVE = "inside curve"
    POINT = "sharp point"


SHAPES: Final[Mapping[Corner, Message]] = MappingProxyType(
    {
        Corner.OUTSIDE: message("outside corner"),
        Corner.INSIDE: message("inside corner"),
        Corner.OUTSIDE_CURVE: message("outside curve"),
        Corner.INSIDE_CURVE: message("inside curve"),
        Corner.POINT: message("sharp point"),
    }
)
_PIVOTS: Final = {
    Stitch.SATIN: message(
        "To pivot, stop with the needle down: in the background on outside curves and corners, in the letter on "
        "inside ones. At an outside corner sew one stitch past the edge before you pivot, at an inside corner as far "
        "past it as the stitch reaches into the letter, so that the stitches overlap. Toward a sharp point make the "
        "stitch narrower little by little, pivot at the tip, and widen it again."
    ),
    Stitch.ZIGZAG: message(
        "To pivot, stop with the needle down: in the background on outside curves and corners, in the letter "
        "on inside ones. Toward a sharp point make the stitch narrower little by little, pivot at the tip, and widen "
        "it again."
    ),
    Stitch.BLANKET: message(
        "To pivot, stop with the needle down in the background, right beside the edge, before a bite. Turn "
        "a little at a time so that every bite stands square to the edge; at a corner or a point take one bite "
        "toward the middle of it, and pivot before and after."
    ),
    Stitch.STRAIGHT: message(
        "To pivot, stop with the needle down on the line of stitching. On curves turn a little every few "
        "stitches; at a corner or a point stop as far from the next edge as you sew from this one."
    ),
}


_ON_THE_SPOT: Final = {
    Stitch.SATIN: message(
        "For the stitches on the spot set a satin stitch to a width of 0, needle over the edge, and then back."
    ),
    Stitch.ZIGZAG: message(
        "For the stitches on the spot set a zigzag to a width of 0, needle over the edge, and then back."
    ),
    Stitch.BLANKET: message(
        "A blanket stitch does not sew on the spot: set the machine to a straight stitch for those stitches, right "
        "beside the edge in the background, and then back to the blanket stitch."
    ),
}
"""How stitches are sewn on the spot where a stitch swings: common practice, no source."""


def starts_said(stitches: Sequence[Stitch], *, numbered: bool) -> Iterator[Message]:
    """Where to start on a letter, and how, in each of the `stitches`; `numbered` is whether the drawing shows whole
    rows."""
    if numbered:
        yield message(
            "Start and stop at the dot: it is on a straight stretch, or where there is none on the gentlest curve. "
            "Never start at a point or in a tight curve. The number of the row stands before its letters."
        )
    else:
        yield message(
            "Start and stop at the dot: it is on a straight stretch, or where there is none on the gentlest curve. "
            "Never start at a point or in a tight curve."
        )
    yield message(
        "Bring the bobbin thread up, hold both threads behind the needle, and take three or four stitches on the spot, "
        "or pull the ends to the wrong side and knot them. Sew once around, over your first stitches, and end the same "
        "way. Each hole of a letter has its own dot."
    )
    yield message(
        "Keep the letter on the same side of the needle all the way around, and in its holes too: on its left, as a "
        "rule."
    )
    if Stitch.BLANKET in stitches:
        yield message(
            "The bite of a blanket stitch has to fall into the letter. See on your scrap to which side of the needle "
            "it falls, and keep the letter on that side, or mirror the stitch if your machine can."
        )
    yield from (_ON_THE_SPOT[stitch] for stitch in Stitch if stitch in stitches and stitch in _ON_THE_SPOT)


def shown_once_said() -> Message:
    """That of many letters each one is drawn once."""
    return message(
        "Each letter is shown once, with the number of its template below it, in the order in which you read them; it "
        "starts at the same place in every row."
    )


def starts_drawn_said(where: Where) -> Message:
    """What one drawing of starts shows."""
    return message(
        "The letters of {row} on their baseline, each with a dot where its stitching starts.",
        row=where.as_field(),
    )


def behind_named_said(numbers: Sequence[int]) -> Message:
    """Which shapes the last drawing of starts shows: the numbers of their templates, all in a row."""
    first, last = min(numbers), max(numbers)
    if first == last:
        return message("The outline, with the number of its template below it: {number}.", number=first)
    return message(
        "The outlines, each with the number of its template below it: {first} to {last}.",
        first=first,
        last=last,
    )


def behind_drawn_said() -> Message:
    """What the drawing of starts on the outline layer shows."""
    return message("The outlines behind the letters, each with a dot where its stitching starts.")


def corners_said(stitch: Stitch) -> Message:
    """How a stitch turns corners and curves."""
    return _PIVOTS[stitch]


def corners_drawn_said(stitch: Stitch) -> Message:
    """What the drawing of corners and curves shows."""
    return message(
        "A {stitch} stitch around an outside corner, an inside corner, an outside curve, an inside curve and a sharp "
        "point; a ring where the needle is down while you pivot.",
        stitch=STITCHES[stitch],
    )
