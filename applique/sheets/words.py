"""The words of the sheets: which method a sheet is for, how to use it, and the cautions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

__all__ = ["FREEZER_PAPER", "FUSIBLE", "PEN_CAUTION", "Method"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A way of working that a template file serves: its name, its one line on every page, and its steps."""

    subject: str
    line: str
    steps: tuple[str, ...]


FUSIBLE: Final = Method(
    subject="templates, mirror image",
    line="Mirror image: to trace onto the paper side of fusible web",
    steps=(
        "Print at 100 %. Measure both rules on this page; if one is off, see “print” in the design file.",
        "Lay the fusible web over a sheet, paper side up, and trace each letter as often as it says.",
        "Cut the traced letters out roughly, about 1/4 in outside the line.",
        "Fuse them to the wrong side of the fabric, the arrow along the grain, as the maker of the web says.",
        "Cut on the line. Seen from the right side of the fabric, the letters now read the right way round.",
    ),
)
FREEZER_PAPER: Final = Method(
    subject="templates, right way round",
    line="Right way round: for freezer paper on the right side of the fabric, shiny side down",
    steps=(
        "Print at 100 %. Measure both rules on this page; if one is off, see “print” in the design file.",
        "Trace the letters onto the dull side of freezer paper and cut them out on the line.",
        "Iron them, shiny side down, to the right side of the fabric, the arrow along the grain.",
        "Cut the fabric around them as your method asks: on the line, or with the turn-under you allow.",
        "The same sheets serve freezer paper on the wrong side, shiny side up. For the wrong side, "
        "shiny side down, print the mirror-image file instead.",
    ),
)

PEN_CAUTION: Final = (
    "Heat-erasable ink can come back in the cold: test it on a scrap of this fabric, and follow the pen "
    "maker's instructions."
)
