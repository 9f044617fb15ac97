"""What a color is called across the counter of a shop."""

from __future__ import annotations

from typing import Final

from applique.colors import color_difference
from applique.language import Message, message

__all__ = ["color_said"]

_NAMES: Final = (
    ("#ffffff", message("white")),
    ("#fff8dc", message("cream")),
    ("#f5f5dc", message("off-white")),
    ("#d2b48c", message("tan")),
    ("#a0522d", message("light brown")),
    ("#6f4320", message("brown")),
    ("#3b2414", message("dark brown")),
    ("#b7410e", message("rust")),
    ("#ffa500", message("orange")),
    ("#ffdab9", message("peach")),
    ("#ff7f50", message("coral")),
    ("#ffd700", message("golden yellow")),
    ("#ffff66", message("yellow")),
    ("#c8102e", message("red")),
    ("#ff0000", message("bright red")),
    ("#8b0000", message("dark red")),
    ("#800020", message("burgundy")),
    ("#ffc0cb", message("pink")),
    ("#ff69b4", message("bright pink")),
    ("#bc8f8f", message("dusty rose")),
    ("#e6e6fa", message("lavender")),
    ("#9370db", message("light purple")),
    ("#800080", message("purple")),
    ("#3d1f4f", message("dark purple")),
    ("#add8e6", message("light blue")),
    ("#4682b4", message("medium blue")),
    ("#0000ff", message("bright blue")),
    ("#1d4f91", message("blue")),
    ("#000080", message("navy blue")),
    ("#1d3f58", message("dark blue")),
    ("#708090", message("blue-gray")),
    ("#40e0d0", message("turquoise")),
    ("#008080", message("teal")),
    ("#2f5a66", message("dark teal")),
    ("#98fb98", message("light green")),
    ("#32cd32", message("bright green")),
    ("#2e8b57", message("green")),
    ("#006400", message("dark green")),
    ("#8fa58a", message("gray-green")),
    ("#808000", message("olive green")),
    ("#4b5320", message("dark olive green")),
    ("#d3d3d3", message("light gray")),
    ("#808080", message("gray")),
    ("#4a4a4a", message("dark gray")),
    ("#000000", message("black")),
)
"""Where a name of W3C CSS Color 4 means the same in a shop, its value there; the others: common practice, no source."""


def color_said(color: str) -> Message:
    """The name of the color that looks most like `color` (six hexadecimal digits, as `#1d3f58`)."""
    return min(_NAMES, key=lambda named: color_difference(color, named[0]))[1]
