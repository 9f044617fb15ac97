"""What you need, in words."""

from __future__ import annotations

from typing import Final

from applique.design import Method
from applique.language import Message, message
from applique.units import Units, as_yardage
from applique.words.buying import material_said, rule_said
from applique.yardage import StripNeed

__all__ = [
    "BUYING",
    "FABRICS_HEAD",
    "FABRICS_TO_BUY_HEAD",
    "MEASURE_UNWASHED",
    "MEASURE_WASHED",
    "TOOLS",
    "one_fabric_said",
    "tools_said",
]

BUYING: Final = message("What you need")
FABRICS_TO_BUY_HEAD: Final = (
    message("fabric"),
    message("for"),
    message("usable width"),
    message("buy"),
    message("or"),
)
TOOLS: Final = message("Tools")
_TOOLS: Final = {
    Method.RAW_EDGE: message(
        "printer, rotary cutter, mat and ruler, sharp scissors with fine points, iron, sewing machine, pencil"
    ),
    Method.MACHINE_CUT: message(
        "cutting machine with a fabric blade and a mat, rotary cutter, mat and ruler, iron, sewing machine"
    ),
    Method.TURNED_EDGE: message(
        "printer, rotary cutter, mat and ruler, scissors with fine points, iron, glue stick or starch and brush, "
        "needles, sewing machine, pencil"
    ),
}
FABRICS_HEAD: Final = (
    message("fabric"),
    message("for"),
    message("usable width"),
    message("buy"),
    message("how we figured it"),
)
MEASURE_WASHED: Final = message(
    "Usable width is measured between the selvages, after washing. Measure yours first: if it is narrower, the plan "
    "does not hold, and you need more fabric."
)
MEASURE_UNWASHED: Final = message(
    "Usable width is measured between the selvages. Measure yours first: if it is narrower, the plan does not hold, "
    "and you need more fabric."
)


def one_fabric_said(need: StripNeed, units: Units) -> Message:
    """What the letters would take from one fabric."""
    return message(
        "If all letters came from {fabric}: {length} for the letters ({rule}).",
        fabric=material_said(need),
        length=as_yardage(need.buy, units),
        rule=rule_said(need.rule, units),
    )


def tools_said(method: Method) -> Message:
    """The tools that the method takes, beside what is bought."""
    return _TOOLS[method]
