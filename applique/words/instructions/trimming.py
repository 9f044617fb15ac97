"""How a panel is trimmed once its letters are stitched, in words."""

from __future__ import annotations

from typing import Final

from applique.language import Message, message
from applique.panel import PanelPlan
from applique.units import Units, as_length, as_size

__all__ = ["TRIMMING", "trim_said"]

TRIMMING: Final = message("Trim the panel to size")


def trim_said(panel: PanelPlan, units: Units) -> tuple[Message, ...]:
    """The steps of trimming the panel to size once its letters are stitched, by the center line and by the words."""
    width, height = panel.trimmed
    allowance = float(panel.seam_allowance)
    top = float(panel.height) + allowance - max(laid.ink[3] for laid in panel.laid)
    bottom = min(laid.ink[1] for laid in panel.laid) + allowance
    return (
        message("Press the panel from the wrong side, and let it cool."),
        message(
            "Mark the side edges {half} to the left and to the right of the center line, the top edge {top} above the "
            "highest point of the words, and the bottom edge {bottom} below their lowest point.",
            half=as_size(width / 2, units),
            top=as_length(top, units, denominator=16),
            bottom=as_length(bottom, units, denominator=16),
        ),
        message(
            "Trim the panel to {width} by {height} on these lines, seam allowance included: the same off every side, "
            "{off}, less what the stitching drew in.",
            width=as_size(width, units),
            height=as_size(height, units),
            off=as_size(panel.trim / 2, units),
        ),
    )
