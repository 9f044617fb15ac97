"""The words of the sheets: which method a sheet is for, how to use it, and the cautions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from applique.pattern import Pattern
from applique.units import as_length, format_number

__all__ = [
    "FREEZER_PAPER",
    "Method",
    "fusible_web",
    "rough_cut_words",
    "turn_words",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A way of working that a template file serves: its name, its one line on every page, and its steps."""

    subject: str
    line: str
    steps: tuple[str, ...]


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


def fusible_web(pattern: Pattern) -> Method:
    """Tracing onto fusible web, cut out as roughly as the web was nested for."""
    return Method(
        subject="templates, mirror image",
        line="Mirror image: to trace onto the paper side of fusible web",
        steps=(
            "Print at 100 %. Measure both rules on this page; if one is off, see “print” in the design file.",
            "Lay the fusible web over a sheet, paper side up, and trace each letter as often as it says.",
            f"Cut the traced letters out {rough_cut_words(pattern)}.",
            "Fuse them to the wrong side of the fabric, the arrow along the grain, as the maker of the web says.",
            "Cut on the line. Seen from the right side of the fabric, the letters now read the right way round.",
        ),
    )


def rough_cut_words(pattern: Pattern) -> str:
    """How far outside its line a letter is cut out before it is fused."""
    room = pattern.design.fusible.rough_cut
    if not room:
        return "on the line"
    return f"roughly, about {as_length(room, pattern.design.units, denominator=16)} outside the line"


def turn_words(turn_deg: float) -> str:
    """How far something is turned, and which way."""
    return f"{format_number(abs(turn_deg), places=1)}° to the {'left' if turn_deg > 0 else 'right'}"
