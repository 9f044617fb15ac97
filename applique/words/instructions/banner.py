"""A banner in words: its back, what it hangs by, both sewn together, turned and edged."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from applique.language import Field, Message, listed, message, messages
from applique.quilt.banner import Ties
from applique.quilt.strips import Extent
from applique.units import Units, as_length, as_needed, as_seam, as_size
from applique.words.cutting import size_said
from applique.words.instructions.sizes import by_said

__all__ = [
    "AROUND_SEEN",
    "BACK",
    "BANNER",
    "BATTED",
    "BATTING",
    "EDGED",
    "FRONT",
    "FRONT_PRESSED",
    "HANGS",
    "OPENING",
    "SLEEVE_ON",
    "TIES_ON",
    "TOGETHER",
    "TURNED",
    "back_said",
    "batting_said",
    "front_said",
    "hang_said",
    "sewn_said",
    "sleeve_low_said",
    "sleeve_on_said",
    "ties_made_said",
    "ties_on_said",
    "turned_said",
]

BANNER: Final = message("The banner")
FRONT: Final = message("The front")
FRONT_PRESSED: Final = message("Front pressed and measured")
BACK: Final = message("The back")
BATTING: Final = message("Batting")
BATTED: Final = message("Batting basted under the front")
HANGS: Final = message("What it hangs by")
TIES_ON: Final = message("Ties basted on")
SLEEVE_ON: Final = message("Sleeve made and basted on")
TOGETHER: Final = message("Front and back")
TURNED: Final = message("Sewn and turned")
EDGED: Final = message("Edge sewn")
OPENING: Final = message("opening")
AROUND_SEEN: Final = message(
    "The front from its right side, to scale: what it hangs by along the top, and the seam around, open at the bottom"
)


def front_said(finished: Extent, raw: Extent, units: Units) -> tuple[Message, ...]:
    """What the front measures before anything is sewn to it."""
    return (
        message("Press the front from its wrong side and clip its threads."),
        message(
            "It measures {raw} from raw edge to raw edge, and {finished} when it is finished. If it came out smaller, "
            "trim the back to match it.",
            raw=by_said(raw, units),
            finished=by_said(finished, units),
        ),
    )


def batting_said(size: Extent, off: Fraction, units: Units) -> Message:
    """Light batting, laid under the front."""
    return message(
        "Cut the batting {size}, the size of the front. Lay it on the wrong side of the front and baste all around, "
        "{off} from the edge.",
        size=by_said(size, units, as_needed),
        off=as_seam(off, units),
    )


def back_said(pieces: Sequence[Field], raw: Extent, units: Units) -> Message:
    """A back in one piece."""
    return message(
        "Take {pieces} and press it. It measures {raw}, as the front does.",
        pieces=listed(pieces),
        raw=by_said(raw, units),
    )


def ties_made_said(ties: Ties, pieces: Sequence[Field], units: Units) -> Message:
    """How ties are folded and sewn."""
    return messages(
        "Take {pieces}, {count} tie of {size}. Press it in half lengthwise, wrong sides together; open "
        "it, press both long edges in to the crease, and fold it again: it is {narrow} wide now. Turn the ends in and "
        "sew along the open edge.",
        "Take {pieces}, {count} ties of {size}. Press each in half lengthwise, wrong sides together; open "
        "it, press both long edges in to the crease, and fold it again: it is {narrow} wide now. Turn the ends in and "
        "sew along the open edge.",
        ties.count,
        pieces=listed(pieces),
        size=size_said(ties.width, ties.length, units, as_size),
        narrow=as_size(ties.finished_width, units),
    )


def ties_on_said(ties: Ties, raw: Fraction, off: Fraction, units: Units) -> Message:
    """Where ties are basted on."""
    return message(
        "Fold each tie in half, end to end. Lay it on the right side of the front, its fold at the top raw edge and "
        "its ends hanging down: the middle of the outer ones {side} from the raw edges of the sides, and from middle "
        "to middle about {apart}. Baste {off} from the edge, and pin the ends to the front, clear of every seam.",
        side=as_size(ties.from_side + raw, units),
        apart=as_length(ties.apart, units),
        off=as_seam(off, units),
    )


def sleeve_on_said(inset: Fraction, off: Fraction, units: Units) -> Message:
    """Where a sleeve is basted on."""
    return message(
        "Lay the sleeve on the right side of the back, its raw edges along the top raw edge, centered: about {inset} "
        "from either raw side edge. Baste {off} from the edge; the seam around catches it.",
        inset=as_length(inset, units),
        off=as_seam(off, units),
    )


def sewn_said(seam: Fraction, opening: Fraction, units: Units) -> tuple[Message, ...]:
    """The seam around, and what is left open."""
    return (
        message("Lay front and back right sides together, what the banner hangs by between them, and pin."),
        message(
            "Sew all around with a seam allowance of {seam}, but leave {opening} open in the middle of the bottom "
            "edge; backstitch at both ends of the opening.",
            seam=as_seam(seam, units),
            opening=as_size(opening, units),
        ),
    )


def turned_said(*, batted: bool) -> tuple[Message, ...]:
    """Turned right side out."""
    trim = message("Trim the batting close to the stitching.")
    return (
        *((trim,) if batted else ()),
        message(
            "Cut each corner off on the slant, a few threads clear of the stitching. Turn the banner right side out "
            "through the opening, ease the corners out with something blunt, turn the edges of the opening in along "
            "the seam, and press."
        ),
    )


def sleeve_low_said(slack: Fraction, units: Units) -> Message:
    """The lower edge of a sleeve, by hand."""
    return message(
        "Bend the lower fold of the sleeve up toward you, and sew the layer next to the back to it by hand, along a "
        "line {slack} above that fold and at both ends. The other layer stays loose, with room for the rod. Leave the "
        "ends of the tube open, and let no stitch show on the front.",
        slack=as_size(slack, units),
    )


def hang_said(off: Fraction, units: Units, *, ties: bool) -> tuple[Message, ...]:
    """Its edge, and how it hangs."""
    edge = message(
        "Sew once around, {off} from the edge, from the front: that closes the opening too.",
        off=as_seam(off, units),
    )
    if ties:
        return (edge, message("Tie each tie over a rod, all at one height, so that the banner hangs level."))
    return (edge, message("Sew beneath the sleeve, not through it. Its rod is held at both ends."))
