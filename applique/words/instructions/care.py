"""The end of the instructions in words."""

from __future__ import annotations

from typing import Final

from applique.language import message

__all__ = ["CARE", "COLORING", "THANKS", "TO_COLOR"]

COLORING: Final = message("To color in")
TO_COLOR: Final = message(
    "The design in lines: print it more than once, and try your own fabrics on it with crayons."
)
CARE: Final = message("Care, and thanks")
THANKS: Final = message(
    "Thank you for sewing from this pattern. Sign your work: what has no name on it forgets its maker."
)
