"""The back of a pillow in words: hemmed halves or a zipper, sewn to the front, turned and filled."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from applique.language import Field, Message, listed, message
from applique.quilt.pillow import PillowPlan
from applique.quilt.strips import Extent
from applique.units import Units, as_seam, as_size
from applique.words.cutting import size_said
from applique.words.instructions.sizes import by_said

__all__ = [
    "BACK",
    "FILL",
    "FRONT",
    "FRONT_PRESSED",
    "HALVES_DONE",
    "HALVES_SEEN",
    "HEM",
    "LAID_SEEN",
    "OPENING",
    "PILLOW",
    "SEWN_AROUND",
    "TOGETHER",
    "TURNED",
    "TURNED_SEEN",
    "ZIPPER_IN",
    "ZIPPER_LAID",
    "ZIPPER_SEEN",
    "closed_said",
    "front_said",
    "halves_said",
    "laid_said",
    "sewn_said",
    "turn_said",
    "zipper_laid_said",
    "zipper_said",
]

PILLOW: Final = message("The pillow")
FRONT: Final = message("The front")
BACK: Final = message("The back")
TOGETHER: Final = message("Front and back")
FRONT_PRESSED: Final = message("Front pressed and measured")
HALVES_DONE: Final = message("Both halves hemmed")
ZIPPER_IN: Final = message("Zipper sewn in")
SEWN_AROUND: Final = message("Sewn all around")
TURNED: Final = message("Turned and filled")
HEM: Final = message("hem")
OPENING: Final = message("opening")
HALVES_SEEN: Final = message(
    "A half from its wrong side: cut, and with its long edge turned under twice and sewn"
)
LAID_SEEN: Final = message(
    "The halves on the front, wrong sides up: raw edges even with it, hems over each other in the middle"
)
ZIPPER_SEEN: Final = message(
    "The back from its wrong side: the zipper over the seam, sewn down on both sides"
)
ZIPPER_LAID: Final = message("The back on the front, wrong side up, its zipper open by a hand's width")
TURNED_SEEN: Final = message("The pillow from its back, turned right side out")


def closed_said(pillow: PillowPlan, units: Units) -> Message:
    """What is sewn shut at either end of a zipper."""
    return message("sewn shut, {end}", end=as_size(pillow.zipper_end, units))


def front_said(finished: Extent, raw: Extent, units: Units) -> tuple[Message, ...]:
    """What the front measures before anything is sewn to it."""
    return (
        message("Press the front from its wrong side and clip its threads."),
        message(
            "It measures {raw} from raw edge to raw edge, and {finished} when it is finished. If it came out smaller, "
            "trim both halves of the back to match it.",
            raw=by_said(raw, units),
            finished=by_said(finished, units),
        ),
    )


def halves_said(pillow: PillowPlan, pieces: Sequence[Message], units: Units) -> tuple[Message, ...]:
    """How the halves are hemmed along the opening."""
    return (
        message(
            "Take both {pieces}, {size}. On one long edge of each, the one of {long}, turn {hem} to the "
            "wrong side and press, then {hem} again and press; sew along the inner fold.",
            pieces=listed(pieces),
            long=as_size(pillow.long, units),
            size=size_said(pillow.long, pillow.deep, units, as_size),
            hem=as_seam(pillow.hem, units),
        ),
        message("Each half is now {size}.", size=size_said(pillow.long, pillow.hemmed, units, as_size)),
    )


def zipper_said(
    pillow: PillowPlan, zipper: Fraction, pieces: Sequence[Message], units: Units
) -> tuple[Message, ...]:
    """How a zipper is sewn in between the halves."""
    fields: dict[str, Field] = {
        "pieces": listed(pieces),
        "long": as_size(pillow.long, units),
        "size": size_said(pillow.long, pillow.deep, units, as_size),
        "seam": as_seam(pillow.hem, units),
        "end": as_size(pillow.zipper_end, units),
    }
    return (
        message(
            "Take both {pieces}, {size}. Overcast one edge of {long} of each with a zigzag. Lay the halves "
            "right sides together, these edges even, and sew {seam} from them: {end} at either end with short "
            "stitches, backstitched, the middle with the longest stitch, to be pulled out later.",
            **fields,
        ),
        message(
            "Press the seam open. Lay the {zipper} zipper over it on the wrong side, face down, its teeth on the seam "
            "and its ends where the long stitches end, and hold it with wash-away tape or basting.",
            zipper=as_size(zipper, units),
        ),
        message(
            "With a zipper foot sew down both sides and across both ends from the right side, clear of the teeth and "
            "of the metal stops: a needle that meets them breaks. Pull out the long stitches."
        ),
    )


def laid_said(pillow: PillowPlan, units: Units) -> Message:
    """How two hemmed halves are laid on the front."""
    fields: dict[str, Field] = {"overlap": as_size(pillow.overlap, units)}
    if pillow.upright:
        return message(
            "Lay the front right side up. Lay the halves on it right side down, one at its left and one at its right, "
            "raw edges even with it, so that their hems lie over each other by {overlap} in the middle. Pin.",
            **fields,
        )
    return message(
        "Lay the front right side up. Lay the halves on it right side down, one at its top and one at its bottom, raw "
        "edges even with it, so that their hems lie over each other by {overlap} in the middle. Pin.",
        **fields,
    )


def zipper_laid_said(front: Extent, units: Units) -> Message:
    """How a back with a zipper is laid on the front."""
    return message(
        "Open the zipper by a hand's width, or the pillow cannot be turned. Trim the back to {front}, the zipper in "
        "its middle. Lay it on the front, right sides together, edges even, and pin.",
        front=by_said(front, units),
    )


def sewn_said(seam: Fraction, units: Units) -> tuple[Message, ...]:
    """The seam all around."""
    return (
        message(
            "Sew all around with a seam allowance of {seam}; backstitch where you start, where you end, and over both "
            "ends of the opening.",
            seam=as_seam(seam, units),
        ),
        message("Overcast the edges together with a zigzag, so that they do not fray in the wash."),
    )


def turn_said() -> Message:
    """Turned right side out."""
    return message(
        "Cut each corner off on the slant, a few threads clear of the stitching. Turn the cover right side out through "
        "the opening, ease the corners out from inside with something blunt, and press the edge."
    )


FILL: Final = message("Put the insert in.")
