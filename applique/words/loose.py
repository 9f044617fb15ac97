"""Letters alone, to sew onto something whose size is not known here: where they are measured from, and what is
different from letters on a panel that is cut."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from applique.language import Measure, Message, Unit, message
from applique.marks import WordsReach
from applique.sewing.stabilizer import StabilizerKind, StabilizerNeed
from applique.units import Units, as_size, as_size_both

__all__ = [
    "DONE",
    "FINISHING",
    "FROM_LINE",
    "KEEPING",
    "LAST",
    "ONTO",
    "PANEL_SAID",
    "SHIELD",
    "STEPS",
    "care_said",
    "center_line_said",
    "drawn_said",
    "finished_said",
    "finishing_said",
    "guide_lines_said",
    "guide_scale_said",
    "keeping_said",
    "kept_single_said",
    "needed_said",
    "set_up_said",
    "sizes_said",
    "test_on_said",
    "washing_said",
]

ONTO: Final = message("What they go onto")
PANEL_SAID: Final = message(
    "Where these pages say panel, they mean the place that you sew the letters onto, whatever it is. Nothing is cut or "
    "bought for it."
)
FROM_LINE: Final = message("below the first line")
FINISHING: Final = message("Finishing the letters")
DONE: Final = message("Letters pressed and looked over")
KEEPING: Final = message("Letters that are sewn on later, or by somebody else")
SHIELD: Final = message(
    "Where there is another layer below, such as the back of a bag, slip a board or a folded towel between, so that no "
    "pin goes through both and no heat reaches it."
)
STEPS: Final = message(
    "Draw a center line and the first line where the words go, then mark the baselines from {file}.",
    file="`placement-guide.pdf`",
)
LAST: Final = message("Fuse or baste, then stitch, and finish the letters as {file} says.")


def finished_said(reach: WordsReach, units: Units) -> Message:
    """How large the words are."""
    return message(
        "Letters for words {width} wide and {height} high, all rows together.",
        width=as_size_both(reach.width, units),
        height=as_size_both(reach.height, units),
    )


def sizes_said(reach: WordsReach, units: Units) -> Message:
    """The whole in a line, for the summary."""
    return message(
        "Letters alone, for words {width} wide and {height} high, all rows together, to sew onto anything that holds "
        "them.",
        width=as_size_both(reach.width, units),
        height=as_size_both(reach.height, units),
    )


def needed_said(
    reach: WordsReach, stabilizers: tuple[StabilizerNeed, ...], units: Units, *, fused: bool
) -> Iterator[Message]:
    """What the letters are sewn onto has to be, and what knit fabric takes instead of what is counted.

    Source:
        Needles with a round point and cut-away behind knits: common practice, no source.
    """
    yield message(
        "What you sew the letters onto: it needs a flat place larger than {width} by {height}, which is what the words "
        "take, clear of seams, pockets and fastenings, and such that you can reach under it with the machine.",
        width=as_size(reach.width, units),
        height=as_size(reach.height, units),
    )
    if fused:
        yield message(
            "The fusible web has to suit it too: see what the maker of the web says, and try it where it does not show."
        )
    if any(need.kind is StabilizerKind.TEAR_AWAY for need in stabilizers):
        yield message(
            "Is it of knit fabric, which stretches, take a ballpoint or stretch needle, and cut-away stabilizer in "
            "place of tear-away, of the same size."
        )
    else:
        yield message(
            "Is it of knit fabric, which stretches, take a ballpoint or stretch needle, and cut-away stabilizer behind "
            "the words."
        )


def washing_said() -> Message:
    """That what letters go onto is washed first.

    Source:
        Common practice, no source.
    """
    return message(
        "If it will be washed later, wash and dry it once as its label says before you mark it: it may shrink, and "
        "then the letters on it would pucker."
    )


def center_line_said(reach: WordsReach, units: Units) -> Iterator[Message]:
    """How the two lines are drawn that all is measured from, and how much room the words take around them."""
    left, right, above, below = (
        as_size(side, units) for side in (reach.left, reach.right, reach.above, reach.below)
    )
    yield message(
        "Choose the place for the words. They reach {left} to the left of their center line and {right} to the right "
        "of it, {above} above their first line and {below} below it.",
        left=left,
        right=right,
        above=above,
        below=below,
    )
    yield message(
        "Draw the center line there with the chalk pencil, from top to bottom; the middle of a bag or a hanging is "
        "found by folding it in half. Draw the first line across, square to it. Everything is measured from these two; "
        "no edge comes into it."
    )


def drawn_said() -> Message:
    """What the placement drawing shows."""
    return message(
        "The words with their center line and their first line, and the baselines with their distance below that."
    )


def kept_single_said() -> Message:
    """How one layer is stitched, and nothing with it.

    Source:
        Common practice, no source.
    """
    return message(
        "Stitch through one layer alone: keep a lining, a pocket or a back away from the needle, and look under it "
        "before every start. Where the machine cannot reach, open a seam and close it afterwards, or sew the letters "
        "on by hand."
    )


def test_on_said() -> Message:
    """What a stitch is tried on where there is no scrap of the background."""
    return message(
        "Of what you sew the letters onto there may be no scrap: take the same kind of fabric, and test on its right "
        "side."
    )


def finishing_said() -> Message:
    """What is done last."""
    return message(
        "Clip the threads, and see that nothing but the one layer is caught in the stitching. Brush off the chalk that "
        "is left. Press the words from the wrong side, on a soft towel, no warmer than what they are sewn onto allows."
    )


def keeping_said(*, fused: bool) -> Message:
    """How letters are kept and handed on that are not sewn on yet."""
    if fused:
        return message(
            "Leave the paper on the web until the letters are fused. Keep them flat in an envelope, the letters of "
            "each row together, and hand on with them the placement guide, the chapters “Placing” and “Stitching”, "
            "and what the maker of the web says about heat and washing."
        )
    return message(
        "Keep the letters flat in an envelope, those of each row together, and hand on with them the placement guide "
        "and the chapters “Placing” and “Stitching”."
    )


def care_said(*, fused: bool) -> Message:
    """How the letters are washed and ironed with what they are sewn onto."""
    if fused:
        return message(
            "Wash and iron the letters with what they are sewn onto, as its label and the maker of the web say, "
            "whichever is gentler."
        )
    return message("Wash and iron the letters with what they are sewn onto, as its label says.")


def guide_scale_said(quilt_per_paper: Fraction, reach: WordsReach, units: Units) -> Message:
    """How small the words are drawn, and how far they reach from their two lines."""
    unit = Unit(units.value)
    left, right, above, below = (
        as_size(side, units) for side in (reach.left, reach.right, reach.above, reach.below)
    )
    return message(
        "Drawn small: {one} of paper is {many} of fabric. The words reach {left} to the left of the center line, "
        "{right} to the right of it, {above} above the first line and {below} below it.",
        one=Measure(number=Fraction(1), unit=unit, as_fraction=False),
        many=Measure(number=quilt_per_paper, unit=unit, as_fraction=units is Units.INCHES),
        left=left,
        right=right,
        above=above,
        below=below,
    )


def guide_lines_said(*, level: bool) -> Message:
    """How the lines are drawn."""
    if not level:
        return message(
            "Draw the center line where the words go, with the chalk pencil, and the first line square to it, across "
            "all words. Then draw each baseline."
        )
    return message(
        "Draw the center line where the words go, with the chalk pencil, and the first line square to it, across all "
        "words. Then draw each baseline square to the center line: the bold numbers on the left say how far below the "
        "first line it is."
    )


def set_up_said(square: Measure) -> Message:
    """How to set up a projector."""
    return message(
        "Show the page at 100%. Each square of the grid is {square}: move the projector, or zoom, until the squares "
        "measure that on the table in the middle and in every corner. Then lay what you sew the letters onto under it, "
        "its center line and first line on those shown.",
        square=square,
    )
