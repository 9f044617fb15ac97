"""How the letters are placed, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from applique.language import Field, Message, message
from applique.panel import PanelPlan
from applique.units import Units, as_length, as_size
from applique.words.sheets import PEN_CAUTION

__all__ = ["PLACING", "ROWS_HEAD", "baseline_said", "placing_said"]

PLACING: Final = message("Placing")
ROWS_HEAD: Final = (
    message("row"),
    message("words"),
    message("baseline below cut top"),
    message("left end from center"),
    message("right end from center"),
)


def placing_said(panel: PanelPlan, units: Units) -> tuple[Message, ...]:
    """The steps of placing the letters."""
    return (
        message(
            "Fold the panel in half from side to side and mark the center line along the fold with a removable pen; it "
            "is {distance} from either cut side edge. {caution}",
            distance=as_size(panel.center_from_edge, units),
            caution=PEN_CAUTION,
        ),
        message(
            "Mark each baseline, measured down from the cut top edge. The finished edge lies {beyond} inside the cut "
            "edge; do not trim the panel before the letters are stitched.",
            beyond=as_size(panel.beyond, units),
        )
        if panel.trim
        else message("Mark each baseline, measured down from the cut top edge."),
        message(
            "Lay the letters on their baselines from the center line outward; placement-guide.pdf has the distance of "
            "each one."
        ),
        message("Look at the whole from across the room before you fuse or baste."),
    )


def baseline_said(downs: Sequence[float], units: Units) -> Field:
    """How far down a baseline is: one distance, or those of its two ends."""
    first, *others = (as_length(down, units, denominator=16) for down in downs)
    return message("{first} to {last}", first=first, last=others[0]) if others else first
