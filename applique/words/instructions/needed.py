"""What you need, in words."""

from __future__ import annotations

from typing import Final

from applique.language import Message, message
from applique.units import Units, as_yardage
from applique.words.buying import material_said, rule_said
from applique.yardage import StripNeed

__all__ = ["BUYING", "FABRICS_HEAD", "MEASURE_UNWASHED", "MEASURE_WASHED", "one_fabric_said"]

BUYING: Final = message("What to buy")
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
