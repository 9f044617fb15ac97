"""What you need, in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from applique.design import Method
from applique.language import Message, message
from applique.pieces import Template
from applique.units import Units, as_available, as_needed, as_size, cutting_step, round_up
from applique.words.instructions.sizes import by_said, largest_piece

__all__ = [
    "BUYING",
    "FABRICS_HEAD",
    "FABRICS_TO_BUY_HEAD",
    "FIRM_COTTON",
    "LIGHT_WEB",
    "MARKING",
    "MARKING_SAID",
    "MAT",
    "MEASURE_UNWASHED",
    "MEASURE_WASHED",
    "TOOLS",
    "mat_said",
    "tools_said",
    "width_said",
]

BUYING: Final = message("What you need")
FABRICS_TO_BUY_HEAD: Final = (
    message("fabric"),
    message("for"),
    message("usable width"),
    message("buy"),
)
TOOLS: Final = message("Tools")
MARKING: Final = message("Marking")
MARKING_SAID: Final = message(
    "all marks are made with a chalk pencil: they are pressed, and heat can set the ink of a pen or make it vanish, "
    "while chalk stays until you brush it off"
)
"""Why that and no pen: common practice, no source."""
MAT: Final = message("Mat of the cutting machine")
_TOOLS: Final = {
    Method.RAW_EDGE: message(
        "printer, pencil, sharp scissors with fine points, rotary cutter, mat and ruler, large square ruler, iron, "
        "sewing machine with a walking foot, pins, hand needle, tape measure"
    ),
    Method.MACHINE_CUT: message(
        "cutting machine with a fabric blade and a mat, printer, pencil, sharp scissors, rotary cutter, mat and ruler, "
        "large square ruler, iron, sewing machine with a walking foot, pins, hand needle, tape measure"
    ),
    Method.TURNED_EDGE: message(
        "printer, pencil, scissors with fine points, rotary cutter, mat and ruler, large square ruler, iron, wash-away "
        "glue or basting thread, pins, hand needle, sewing machine with a walking foot, tape measure"
    ),
}
FIRM_COTTON: Final = message("All of it firm woven cotton, such as quilting cotton.")
LIGHT_WEB: Final = message("paper-backed, light, made to be sewn through")
FABRICS_HEAD: Final = (
    message("fabric"),
    message("for"),
    message("usable width"),
    message("buy"),
    message("how we figured it"),
)
MEASURE_WASHED: Final = message(
    "Usable width is measured between the selvages, after washing. Measure yours first: the cutting plan holds down to "
    "the least width in the table, and narrower fabric needs a plan of its own."
)
MEASURE_UNWASHED: Final = message(
    "Usable width is measured between the selvages. Measure yours first: the cutting plan holds down to the least "
    "width in the table, and narrower fabric needs a plan of its own."
)


def width_said(width: Fraction, least: Fraction, units: Units) -> Message:
    """How wide a fabric is between its selvages, and down to which width its plan holds."""
    narrowest = round_up(least, cutting_step(units))
    if narrowest >= width:
        return message("{width}, no less", width=as_available(width, units))
    return message(
        "{width}, at least {least}", width=as_available(width, units), least=as_size(narrowest, units)
    )


def tools_said(method: Method, *, taped: bool, basted: bool) -> Message:
    """The tools that the method takes, beside what is bought; tape where templates are `taped` together, thread where
    the center line is `basted`."""
    tools = _TOOLS[method]
    if basted:
        tools = message("{tools}, light thread to baste the ends of the center line with", tools=tools)
    return message("{tools}, tape for the pages of large letters", tools=tools) if taped else tools


def mat_said(templates: Sequence[Template], units: Units) -> Message:
    """The largest piece that a mat has to hold."""
    return message(
        "the largest piece is {size}; on a smaller mat cut it by hand",
        size=by_said(largest_piece(templates), units, as_needed),
    )
