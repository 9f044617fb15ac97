"""Panels hung from a tape, in words."""

from __future__ import annotations

from typing import Final

from applique.language import Message, message, messages
from applique.quilt.bunting import TapePlan
from applique.units import Units, as_size

__all__ = ["HUNG", "TAPE_SEWN", "hung_said"]

HUNG: Final = message("Hang them from the tape")
TAPE_SEWN: Final = message("Tape sewn on")


def hung_said(tape: TapePlan, units: Units) -> tuple[Message, ...]:
    """How panels are sewn to their tape: where each lies, and the seam.

    Source:
        The top edges caught in a tape that is folded in half along its length: common practice, no source.
    """
    return (
        messages(
            "Cut the tape {length} long: the panel, and {tail} free at either end.",
            "Cut the tape {length} long: {count} panels, {spacing} from each to the next, and {tail} free at either "
            "end.",
            tape.count,
            length=as_size(tape.length, units),
            spacing=as_size(tape.spacing, units),
            tail=as_size(tape.tail, units),
        ),
        message(
            "Fold it in half along its length and press the fold. Lay the panels in their order and slip the top of "
            "each into the fold, as deep as its seam allowance; pin or clip them."
        ),
        message(
            "Stitch along the open edge of the tape from end to end, through both halves and every panel between them."
        ),
    )
