"""Letters whose edges are turned over freezer paper, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import FreezerPaper
from applique.language import Message, listed, message, messages
from applique.pieces import Template
from applique.units import MM_PER_INCH, Units, as_length
from applique.words.cloth import side_by_side_said
from applique.words.sheets import set_apart
from applique.yardage import SideBySide

__all__ = [
    "ALLOWANCE",
    "BOTH_SIDES",
    "CLIPPED",
    "CLIP_IN",
    "FABRIC_TURNED",
    "LAID",
    "ONE_SIDE",
    "OTHER_SIDE",
    "PAPER_LETTER",
    "POINT",
    "TIP_FIRST",
    "TURNED",
    "VEE",
    "clip_said",
    "cut_allowance_said",
    "is_mirrored",
    "join_paper_said",
    "lay_paper_said",
    "meeting_said",
    "remove_paper_said",
    "trace_paper_said",
    "tucked_said",
    "turn_point_said",
    "turn_vee_said",
    "turned_said",
    "turning_said",
    "with_close_corners",
]

FABRIC_TURNED: Final = message("turn-under")
PAPER_LETTER: Final = message(
    "The paper letter in mirror image on the wrong side of the cut letter, with the mark of its middle, and the letter "
    "from its right side with the mark carried over."
)
LAID: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "A paper letter that reads right on the right side of the fabric, and an iron."
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "A paper letter in mirror image on the wrong side of the fabric, and an iron."
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "A paper letter in mirror image, shiny side up, pinned to the wrong side of the fabric."
    ),
}
ALLOWANCE: Final = message("The fabric cut out around the paper letter, with its turn-under all around.")
CLIPPED: Final = message("The turn-under with its clips and notches.")
TIP_FIRST: Final = message("the tip first")
ONE_SIDE: Final = message("then one side")
OTHER_SIDE: Final = message("then the other")
CLIP_IN: Final = message("clip into the corner")
BOTH_SIDES: Final = message("turn both sides")
POINT: Final = message(
    "A point from the back: its tip folded in, then one side over it, then the other side."
)
VEE: Final = message(
    "An inside corner from the back: clipped, then with both sides turned away from the clip."
)
TURNED: Final = message("The letter from its back with its turn-under folded in all around.")


def turn_point_said() -> Message:
    """How a corner or a point that stands out is turned."""
    return message(
        "At outside corners and points, trim the tip of the turn-under to half, fold it straight in over the point "
        "first, then one side, then the other. Tuck in what still shows from the front."
    )


def turn_vee_said() -> Message:
    """How a corner that goes in is turned."""
    return message(
        "At corners that go in, clip once, straight into the corner, to within two threads of the finished edge. Turn "
        "both sides away from the clip, and hold the corner with a few close stitches or a dot of wash-away glue."
    )


def is_mirrored(way: FreezerPaper) -> bool:
    """Whether letters are traced onto freezer paper in mirror image.

    Source:
        Geometry: with its shiny side down, what is drawn on the dull side faces you, and on the wrong side of the
        fabric it is seen from the back.
    """
    return way is FreezerPaper.WRONG_SIDE_DOWN


def trace_paper_said(way: FreezerPaper, *, holes: bool) -> Iterator[Message]:
    """How letters are traced onto freezer paper and cut out, with their `holes` where one has any."""
    yield message(
        "Trace each template onto the dull side of freezer paper, laid over its page, as many times as the table says, "
        "with its number, and copy its arrows: the one with two heads goes along the grain, the one with one head "
        "points to the top of the letter. If the lines do not show through, hold both against a window in daylight."
    )
    if holes:
        yield message("Cut the paper out on the bold line, and its holes too: the line is the finished edge.")
    else:
        yield message("Cut the paper out on the bold line: it is the finished edge.")
    yield (
        message("On the paper the letters are in mirror image; on the panel they read the right way round.")
        if way is FreezerPaper.WRONG_SIDE_DOWN
        else message("On the paper the letters read the right way round.")
    )


_LAY_PAPER: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "Iron each paper letter, shiny side down, to the right side of its fabric, its arrow along the grain."
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "Iron each paper letter, shiny side down, to the wrong side of its fabric, its arrow along the grain."
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "Lay each paper letter, shiny side up, on the wrong side of its fabric, its arrow along the grain, and "
        "hold it with pins or a dab of glue."
    ),
}


_STRIP: Final = {Units.INCHES: Fraction(2), Units.CENTIMETERS: 50 / MM_PER_INCH}
"""Inches of the strip of paper that holds a join, half of it on either side: common practice, no source."""


def join_paper_said(joined: Sequence[SideBySide], units: Units) -> tuple[Message, Message, Message]:
    """How widths of paper are joined for letters too large for one: none lies on another, so that the paper stays one
    layer and takes no more than was figured."""
    return (
        message(
            "The paper is too narrow for some letters, so join it first: {pieces}.",
            pieces=set_apart(side_by_side_said(one, units) for one in joined),
        ),
        message(
            "Lay the widths on the ironing board, dull side up, so that their straight edges touch and neither lies on "
            "the other. Iron strips about {strip} wide of the paper that is left, shiny side down, over the whole "
            "length of the join, its middle under theirs.",
            strip=as_length(_STRIP[units], units),
        ),
        message(
            "Let it cool, lift it off the board, and trace across the join as on one sheet. Use no tape: it melts "
            "under the iron."
        ),
    )


_TRY_HEAT: Final = message(
    "Unless the maker of the paper directs otherwise, use a dry iron at medium heat, for a few seconds at a time. Try "
    "it on a scrap first: the paper has to hold, and to peel off clean."
)
"""Common practice, no source."""


def lay_paper_said(way: FreezerPaper, letters: int) -> Iterator[Message]:
    """How the paper of so many letters comes onto fabric."""
    yield _LAY_PAPER[way]
    if way is not FreezerPaper.WRONG_SIDE_UP:
        yield _TRY_HEAT
    if letters > 1:
        yield message("Leave twice the turn-under between letters.")


def cut_allowance_said(turn_under: Fraction, units: Units) -> Message:
    """How fabric is cut out around the paper."""
    return message(
        "Cut the fabric out {turn} outside the paper, all around and in the holes: this is the turn-under.",
        turn=as_length(turn_under, units, denominator=16),
    )


def meeting_said(templates: Sequence[Template]) -> Iterator[Message]:
    """In which letters two edges are nearer to one another than two turn-unders, and how the fabric is cut there.

    Source:
        Cut along the middle, so that each edge has half of what lies there: common practice, no source.
    """
    turned = [(template.name, template.turned) for template in templates if template.turned]
    meeting = dict.fromkeys(name for name, edge in turned if edge.mouths)
    gaps = dict.fromkeys(name for name, edge in turned if edge.narrow.gap)
    holes = dict.fromkeys(name for name, edge in turned if edge.narrow.hole)
    if meeting:
        yield message(
            "In {letters} two edges lie so near to one another that the cut lines meet in the mouth between them: cut "
            "along the middle of it, up to where it widens. The turn-under is narrower there.",
            letters=listed(meeting),
        )
    if gaps:
        yield message(
            "In {letters} parts lie so near to one another that one cut line goes around them: cut them apart along "
            "the middle between them. The turn-under is narrower there.",
            letters=listed(gaps),
        )
    if holes:
        yield message(
            "In {letters} a hole is narrower than two turn-unders, and has no cut line: slit the fabric along the "
            "middle of the hole, to within two or three threads of its ends. The turn-under is narrower there.",
            letters=listed(holes),
        )


def clip_said(templates: Sequence[Template]) -> Iterator[Message]:
    """Where the turn-under is clipped and notched, and in which letters it is cut where edges run into a corner.

    Source:
        Clip to two threads of a corner, and stop it from fraying: common practice, no source.
    """
    yield message(
        "Clip inside curves and corners, and cut little wedges (notches) out of tight outside curves: clip to "
        "within two or three threads of the finished edge. The templates show where."
    )
    if close := with_close_corners(templates):
        yield message(
            "In {letters} two edges run close together into a corner, or to the end of a slit: cut along the middle "
            "between them to within two or three threads of its end, and put a dot of seam sealant there against "
            "fraying. Each side turns under half of what lies between them.",
            letters=listed(close),
        )


def with_close_corners(templates: Sequence[Template]) -> tuple[str | Message, ...]:
    """What has edges that run close together into a corner, each name once."""
    found = (template.name for template in templates if template.turned and template.turned.narrow.corner)
    return tuple(dict.fromkeys(found))


def tucked_said(templates: Sequence[Template]) -> Iterator[Message]:
    """Which letters have an edge that lies flat under the next."""
    tucked = [template.text for template in templates if template.turned and template.turned.tucked]
    if tucked:
        yield messages(
            "Where {letters} tucks under the next letter, the edge lies flat and is not turned.",
            "Where {letters} tuck under the next letter, the edge lies flat and is not turned.",
            len(tucked),
            letters=listed(tucked),
        )


_TURN: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "Turn the turn-under to the back along the edge of the paper, and hold it there with wash-away glue or with "
        "basting stitches through the fabric alone: the paper must come off without them."
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "Turn the turn-under over the edge of the paper, and hold it there with basting stitches or wash-away glue."
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "With the tip of the iron, press the turn-under over the edge onto the shiny side of the paper, where it "
        "sticks; take pins out as you reach them."
    ),
}
_TURNED: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "Once a letter is turned all around and in its holes, press it from the back until its edge is sharp."
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "Once a letter is turned all around and in its holes, press it until its edge is sharp."
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "Once a letter is turned all around and in its holes, press its edge once more until it is sharp."
    ),
}


def turning_said(way: FreezerPaper) -> Iterator[Message]:
    """How the edge is turned."""
    yield _TURN[way]
    if way is FreezerPaper.WRONG_SIDE_UP:
        yield _TRY_HEAT
    yield message(
        "Go around the letter a stretch at a time. Corners and points are turned as you come to them: read the next "
        "two steps before you begin."
    )


def turned_said(way: FreezerPaper) -> Message:
    """What is done once all of the edge is turned."""
    return _TURNED[way]


_REMOVE: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "Remove the paper: peel it off the front of each letter. The turned edge holds by itself until it is "
        "stitched."
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "Remove the paper once the edge is cool and dry: a hand's length at a time, pull out the basting or dampen the "
        "glue, ease the paper out, fold the turn-under back along its crease, baste or glue it down, and press."
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "Remove the paper once the edge is cool: a hand's length at a time, loosen the turn-under, ease the paper out, "
        "fold the turn-under back along its crease, baste or glue it down, and press."
    ),
}


def remove_paper_said(way: FreezerPaper) -> Message:
    """How the paper comes out again."""
    return _REMOVE[way]
