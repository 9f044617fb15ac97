"""The cover in words."""

from __future__ import annotations

from typing import Final

from applique.language import Message, message
from applique.quilt.whole import QuiltPlan
from applique.units import Units, as_size_both
from applique.words.quilt import class_said

__all__ = ["COVER", "METHOD", "SUBJECT", "byline_said", "finished_said"]

SUBJECT: Final = message("pattern")
METHOD: Final = message("Pattern")
COVER: Final = message("Cover")


def byline_said(name: str, skill: str) -> str | Message:
    """Who the pattern is by and for whom; empty where neither is known."""
    if name and skill:
        return message("by {name} · {skill}", name=name, skill=skill)
    return message("by {name}", name=name) if name else skill


def finished_said(quilt: QuiltPlan, units: Units) -> Message:
    """How large the quilt is."""
    across, down = (as_size_both(side, units) for side in quilt.finished)
    return message(
        "Finished size {width} wide and {height} high, {size}.",
        width=across,
        height=down,
        size=class_said(quilt.size_class, units),
    )
