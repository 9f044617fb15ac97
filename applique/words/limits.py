"""Why so much is asked for, in words."""

from __future__ import annotations

from typing import Final

from applique.design import Stitch
from applique.language import Message, message
from applique.sewing.limits import Limit, LimitReason

__all__ = ["limit_reason_said"]

_REASONS: Final = {
    LimitReason.STATED: message("your design asks for that much"),
    LimitReason.SCISSORS: message("scissors cut no finer (common practice)"),
    LimitReason.BLADE: message("a machine's blade cuts no finer (common practice)"),
    LimitReason.STITCH: message("the stitch on both sides takes that much"),
    LimitReason.FOOT: message("the presser foot takes that much room"),
    LimitReason.SEAM: message("that keeps letters clear of the seam (common practice)"),
    LimitReason.TURN_UNDER: message("turning under from both sides takes that much"),
    LimitReason.FOLDS: message("folded edges need that much room (common practice)"),
    LimitReason.FOLDING: message(
        "a sharper point leaves no room to fold the turn-under away (common practice)"
    ),
    LimitReason.RAW_EDGES: message("raw edges need that much room (common practice)"),
    LimitReason.FRAYING: message("a sharper tip frays away (common practice)"),
}
_STITCHES: Final = {
    Stitch.SATIN: message("a satin stitch on both sides takes that much"),
    Stitch.BLANKET: message("a blanket stitch on both sides takes that much"),
    Stitch.ZIGZAG: message("a zigzag stitch on both sides takes that much"),
    Stitch.STRAIGHT: message("a straight stitch on both sides takes that much"),
}


def limit_reason_said(limit: Limit) -> Message:
    """What asks for `limit`, as a clause of its own to follow the one that names it."""
    if limit.reason is LimitReason.STITCH and limit.stitch is not None:
        return _STITCHES[limit.stitch]
    return _REASONS[limit.reason]
