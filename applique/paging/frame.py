"""The printed page: its paper, the room that it has for drawing, and the printer's correction.

Two frames. *Paper*: inches on the printed page, origin at its lower left corner, y up. *Drawing area*: true
inches on cloth, origin at the lower left corner of the area that a page has for drawing. They differ by the
printer's correction: a printer that prints 6 in as 5.64 in is sent everything 6/5.64 larger.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import Paper, PaperSize, PrintCorrection
from applique.errors import Problem, Refusal, Where
from applique.geometry.points import Bounds
from applique.language import message
from applique.units import MM_PER_INCH

__all__ = ["MOST_PAGES", "PAPER_INCHES", "RULE_STRIP", "SheetFrame", "sheet_frame"]

_MM: Final = 1 / MM_PER_INCH
PAPER_INCHES: Final[dict[PaperSize, tuple[Fraction, Fraction]]] = {
    PaperSize.LETTER: (Fraction(17, 2), Fraction(11)),
    PaperSize.LEGAL: (Fraction(17, 2), Fraction(14)),
    PaperSize.TABLOID: (Fraction(11), Fraction(17)),
    PaperSize.A4: (210 * _MM, 297 * _MM),
    PaperSize.A3: (297 * _MM, 420 * _MM),
}
"""Width and height of each paper, upright. Sources: ISO 216 for A4 and A3; ANSI/ASME Y14.1 for letter and
tabloid; legal is a US stationery size (from memory)."""
HEADER: Final = 0.62
"""Inches of paper for the title, the method and the page number."""
RULE_STRIP: Final = 0.44
"""Inches of paper for the rule along the bottom and the one up the side."""
MOST_PAGES: Final = 2_000


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFrame:
    """A printed page: its size and drawing area in inches of paper, and the printer's correction.

    `paper_per_true_x` and `_y` are paper inches for one true inch, 1 for a true printer. `rule_inches` and
    `rule_mm` are what the two rules can measure here, as (along the bottom, up the side).
    """

    width: float
    height: float
    margin: float
    drawing: Bounds
    paper_per_true_x: float
    paper_per_true_y: float
    rule_inches: tuple[int, int]
    rule_mm: tuple[int, int]

    @property
    def room(self) -> tuple[float, float]:
        """Width and height of the drawing area in true inches."""
        x0, y0, x1, y1 = self.drawing
        return (x1 - x0) / self.paper_per_true_x, (y1 - y0) / self.paper_per_true_y


def sheet_frame(paper: Paper, correction: PrintCorrection) -> SheetFrame:
    """The page that `paper` and the printer's `correction` leave to draw on.

    Raises:
        Refusal: margins that leave no room, or an overlap as large as the drawing area.
    """
    width, height = (float(side) for side in PAPER_INCHES[paper.size])
    margin = float(paper.margin)
    drawing = (margin + RULE_STRIP, margin + RULE_STRIP, width - margin, height - margin - HEADER)
    if drawing[2] - drawing[0] < 3 or drawing[3] - drawing[1] < 3:
        raise Refusal(
            Problem(
                kind="paper-margins-too-wide",
                what=message("the margins leave too little of the paper"),
                where=Where.key("paper", "margin"),
                fix=message('margin = "3/8in"'),
            )
        )
    across, up = 1 / float(correction.scale_x), 1 / float(correction.scale_y)
    room = ((drawing[2] - drawing[0]) / across, (drawing[3] - drawing[1]) / up)
    if float(paper.overlap) > min(room) / 2:
        raise Refusal(
            Problem(
                kind="paper-overlap-too-wide",
                what=message("tiles would share more than half of each page"),
                where=Where.key("paper", "overlap"),
                fix=message('overlap = "3/4in"'),
            )
        )
    return SheetFrame(
        width=width,
        height=height,
        margin=margin,
        drawing=drawing,
        paper_per_true_x=across,
        paper_per_true_y=up,
        rule_inches=(min(6, math.floor(room[0])), min(6, math.floor(room[1]))),
        rule_mm=(min(150, math.floor(room[0] * 2.54) * 10), min(150, math.floor(room[1] * 2.54) * 10)),
    )
