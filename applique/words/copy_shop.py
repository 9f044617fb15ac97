"""The words of what a copy shop prints and a projector shows."""

from __future__ import annotations

from typing import Final

from applique.language import Measure, Message, message
from applique.panel import PanelPlan
from applique.units import Units
from applique.words import garment, loose
from applique.words.guide import METHOD
from applique.words.templates import TemplateFile

__all__ = [
    "GUIDE_LINE",
    "GUIDE_SUBJECT",
    "JOINED_LINE",
    "PANEL",
    "PROJECTOR_LINE",
    "PROJECTOR_SUBJECT",
    "set_up",
    "template_line",
    "template_subject",
]

_ASK: Final = message("Ask the shop to print at 100%, and measure both rules before you pay.")
GUIDE_SUBJECT: Final = message("placement guide for a copy shop")
GUIDE_LINE: Final = message("{what}. {ask}", what=METHOD, ask=_ASK)
PANEL: Final = message("The panel at full size")
JOINED_LINE: Final = message(
    "{line} Cut off each strip that says “trim here”, lay that edge on the line that says “tape”, mark on mark, and "
    "tape.",
    line=GUIDE_LINE,
)
"""Where the panel is wider than the roll."""
PROJECTOR_SUBJECT: Final = message("placed words for a projector")
PROJECTOR_LINE: Final = message("For a projector: right way round, at full size")


def template_subject(file: TemplateFile) -> Message:
    """What the file of templates is called."""
    return message("{templates}, for a copy shop", templates=file.subject)


def template_line(file: TemplateFile) -> Message:
    """What stands in the header of the templates."""
    return message("{what}. {ask}", what=file.line, ask=_ASK)


def set_up(square: Measure, panel: PanelPlan, units: Units) -> Message:
    """How to set up the projector by the grid."""
    if panel.worn is not None:
        return garment.set_up_said(square, panel.worn, units)
    if panel.loose:
        return loose.set_up_said(square)
    return message(
        "Show the page at 100%. Each square of the grid is {square}: move the projector, or zoom, until the squares "
        "measure that on the table in the middle and in every corner. Then lay the panel under it, its center line and "
        "cut edge on those shown.",
        square=square,
    )
