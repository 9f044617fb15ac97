"""Words on a ready garment: where they are measured from, and what is different from a panel that is cut."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from applique.language import Measure, Message, Unit, message
from applique.panel import PanelPlan, Worn
from applique.sewing.stabilizer import TRIMMED_TO, StabilizerKind, StabilizerNeed
from applique.units import Units, as_length, as_size, as_size_both
from applique.words.below import garment_point

__all__ = [
    "DONE",
    "FINISHING",
    "FROM_POINT",
    "GARMENT",
    "PANEL",
    "SHIELD",
    "STEPS",
    "care_said",
    "center_line_said",
    "drawn_said",
    "finished_said",
    "finishing_said",
    "guide_lines_said",
    "guide_scale_said",
    "kept_single_said",
    "needed_said",
    "panel_said",
    "set_up_said",
    "sizes_said",
    "test_on_said",
    "washing_said",
]

GARMENT: Final = message("The garment")
PANEL: Final = message("The panel")
FROM_POINT: Final = message("below the point")
FINISHING: Final = message("Finishing the garment")
DONE: Final = message("Garment pressed and looked over")
SHIELD: Final = message(
    "Slip a board or a folded towel between front and back, so that no pin goes through both and no heat "
    "reaches the back."
)
STEPS: Final = message(
    "Press the garment, then mark its center line and the baselines from {file}.",
    file="`placement-guide.pdf`",
)


def finished_said(panel: PanelPlan, units: Units) -> Message:
    """How large the part of the garment is that the words lie on."""
    return message(
        "The words lie on a part of your garment {width} wide and {height} high.",
        width=as_size_both(panel.width, units),
        height=as_size_both(panel.height, units),
    )


def panel_said(panel: PanelPlan, worn: Worn, units: Units) -> Message:
    """What the panel is, and where it lies."""
    return message(
        "Here the panel is the part of the garment that the words lie on, {width} wide and {height} high. It has the "
        "center line in its middle, and its top edge is {drop} below {point}. Nothing is cut or sewn in for it.",
        width=as_size(panel.width, units),
        height=as_size(panel.height, units),
        drop=as_length(worn.drop, units, denominator=16),
        point=garment_point(worn),
    )


def care_said(*, fused: bool) -> Message:
    """How a garment is washed and ironed, with letters that are `fused` or not."""
    if fused:
        return message(
            "Wash the garment inside out, as its own label and the maker of the web say, whichever is gentler, and "
            "iron it from the inside."
        )
    return message("Wash the garment inside out, as its own label says, and iron it from the inside.")


def needed_said(
    panel: PanelPlan, stabilizers: tuple[StabilizerNeed, ...], units: Units, *, fused: bool
) -> Iterator[Message]:
    """What the garment has to be, and what knit fabric takes instead of what is counted.

    Source:
        Needles with a round point and cut-away behind knits: common practice, no source.
    """
    yield message(
        "The garment: one with a flat place of {width} by {height} for the words, clear of seams, pockets, fastenings "
        "and prints.",
        width=as_size(panel.width, units),
        height=as_size(panel.height, units),
    )
    if fused:
        yield message(
            "The fusible web has to suit its fabric: see what the maker of the web says, and try it inside a hem."
        )
    torn = any(need.kind is StabilizerKind.TEAR_AWAY for need in stabilizers)
    if torn:
        yield message(
            "Knit fabric, such as that of sweatshirts, stretches: take a ballpoint or stretch needle for it, and "
            "cut-away stabilizer in place of tear-away, of the same size."
        )
    else:
        yield message(
            "Knit fabric, such as that of sweatshirts, stretches: take a ballpoint or stretch needle for it, and "
            "cut-away stabilizer behind the words."
        )


def washing_said() -> Message:
    """That the garment is washed before anything lies on it.

    Source:
        Garments shrink more than quilting cotton: common practice, no source.
    """
    return message(
        "Wash and dry the garment once as its label says, without fabric softener, before you mark it: it may shrink, "
        "and then the letters on it would pucker."
    )


def center_line_said(worn: Worn) -> Iterator[Message]:
    """How the center line of a garment is found and marked."""
    yield message(
        "Lay the garment flat and fold it in half from side to side, right side out: side seam on side seam, shoulder "
        "on shoulder. Press the fold of the front lightly, without stretching it, and open the garment again."
    )
    yield message(
        "Draw the center line along the fold with the chalk pencil, from {point} down. Where it meets {point} is the "
        "point that everything is measured from.",
        point=garment_point(worn),
    )


def drawn_said(worn: Worn) -> Message:
    """What the placement drawing shows."""
    return message(
        "The panel on the garment with its center line, and its baselines with their distance below {point}.",
        point=garment_point(worn),
    )


def kept_single_said() -> Message:
    """How one layer of a garment is stitched, and nothing with it.

    Source:
        Common practice, no source.
    """
    return message(
        "Stitch through the front alone: slip the garment over the free arm of the machine, or turn it inside out and "
        "roll the back and the sleeves away from the needle, and look under the front before every start. Do not pull "
        "the fabric; lower the pressure of the foot if your machine can."
    )


def test_on_said() -> Message:
    """What a stitch is tried on where nothing of the background is left over."""
    return message(
        "There is no scrap of the garment: take the same kind of fabric, such as a worn-out one, and test on its right "
        "side."
    )


def finishing_said(units: Units, *, cut_away: bool) -> Iterator[Message]:
    """What is done last; `cut_away` where that is the stabilizer of the plan, and not only that of knit fabric."""
    yield message(
        "Turn the garment inside out, clip the threads, and see that nothing but the front is caught in the stitching."
    )
    if cut_away:
        yield message(
            "What is left of the stabilizer has round corners; a piece of soft fusible lining over it keeps it from "
            "rubbing."
        )
    else:
        yield message(
            "On knit fabric, where you took cut-away stabilizer instead, cut that back to {left} around the letters, "
            "its corners round; a piece of soft fusible lining over it keeps it from rubbing.",
            left=as_length(TRIMMED_TO, units),
        )
    yield message(
        "Brush off the chalk that is left, and press the words from the inside, on a soft towel, no warmer "
        "than the label of the garment allows."
    )


def sizes_said(panel: PanelPlan, worn: Worn, units: Units) -> Message:
    """The whole in a line, for the summary."""
    return message(
        "Words on a garment, on a part of it {width} wide and {height} high, its top edge {drop} below {point}.",
        width=as_size_both(panel.width, units),
        height=as_size_both(panel.height, units),
        drop=as_length(worn.drop, units, denominator=16),
        point=garment_point(worn),
    )


def guide_scale_said(quilt_per_paper: Fraction, worn: Worn, panel: PanelPlan, units: Units) -> Message:
    """How small the panel is drawn, and where it lies."""
    unit = Unit(units.value)
    return message(
        "Drawn small: {one} of paper is {many} of fabric. The line around is the panel, the part of the garment that "
        "the words lie on: {width} wide and {height} high, its top edge {drop} below {point}.",
        one=Measure(number=Fraction(1), unit=unit, as_fraction=False),
        many=Measure(number=quilt_per_paper, unit=unit, as_fraction=units is Units.INCHES),
        width=as_size(panel.width, units),
        height=as_size(panel.height, units),
        drop=as_length(worn.drop, units, denominator=16),
        point=garment_point(worn),
    )


def guide_lines_said(worn: Worn, *, level: bool) -> Message:
    """How the lines are drawn on the garment."""
    if not level:
        return message(
            "Fold the garment in half, side seam on side seam, and draw the center line along the fold with the chalk "
            "pencil, from {point} down. Then draw each baseline.",
            point=garment_point(worn),
        )
    return message(
        "Fold the garment in half, side seam on side seam, and draw the center line along the fold with the chalk "
        "pencil, from {point} down. Then draw each baseline square to it: the bold numbers on the left say how far "
        "below {point} it is.",
        point=garment_point(worn),
    )


def set_up_said(square: Measure, worn: Worn, units: Units) -> Message:
    """How to set up a projector over a garment."""
    return message(
        "Show the page at 100%. Each square of the grid is {square}: move the projector, or zoom, until the squares "
        "measure that on the table in the middle and in every corner. Then lay the garment under it, its center line "
        "on the one shown and {point} {drop} above the line around.",
        square=square,
        point=garment_point(worn),
        drop=as_length(worn.drop, units, denominator=16),
    )
