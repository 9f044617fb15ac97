"""How a panel is trimmed or squared up once its letters are stitched, in words."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, NamedTuple

from applique.language import Field, Message, message
from applique.panel import PanelPlan
from applique.units import Units, as_length, as_size
from applique.words.instructions.borders import BORDERS

__all__ = [
    "CENTER_LINE",
    "CUT_OFF",
    "SQUARE_UP",
    "SQUARE_UP_BLOCKS",
    "TRIMMING",
    "TRIM_BLOCKS",
    "Trimmed",
    "finished_drawn_said",
    "square_up_said",
    "trim_drawn_said",
    "trim_said",
    "trimmed_from",
]

TRIMMING: Final = message("Trim the panel to size")
TRIM_BLOCKS: Final = message("Trim the blocks to size")
SQUARE_UP: Final = message("Square up the panel")
SQUARE_UP_BLOCKS: Final = message("Square up the blocks")
CENTER_LINE: Final = message("center line")
CUT_OFF: Final = message("cut off")


class Trimmed(NamedTuple):
    """Where the edges of a trimmed panel lie: the sides from the center line, the top above the highest point of the
    words, the bottom below their lowest. Inches."""

    half: Fraction
    above: float
    below: float


def trimmed_from(panel: PanelPlan) -> Trimmed:
    """Where a panel is trimmed."""
    allowance = float(panel.seam_allowance)
    return Trimmed(
        half=panel.trimmed[0] / 2,
        above=float(panel.height) + allowance - max(laid.ink[3] for laid in panel.laid),
        below=min(laid.ink[1] for laid in panel.laid) + allowance,
    )


def trim_said(
    panel: PanelPlan, units: Units, *, outlined: bool, of_blocks: bool
) -> tuple[tuple[Message, ...], ...]:
    """The steps of trimming the panel, or blocks, to size once the letters are stitched, by the center line and by the
    words; of words that are `outlined` by the letters themselves."""
    width, height = panel.trimmed
    half, above, below = trimmed_from(panel)
    fields: dict[str, Field] = {
        "half": as_size(half, units),
        "above": as_length(above, units, denominator=16),
        "below": as_length(below, units, denominator=16),
    }
    sizes: dict[str, Field] = {
        "width": as_size(width, units),
        "height": as_size(height, units),
        "off": as_size(panel.trim / 2, units),
    }
    if of_blocks:
        return _trim_blocks_said(fields, sizes, outlined=outlined)
    return (
        (
            message(
                "Lay the panel flat, right side up, with a ruler along the center line, from its basting at the top to "
                "that at the bottom. Mark the side edges {half} to the left and to the right of it, the top edge "
                "{above} above the highest point of the letters themselves, not of their outlines, and the bottom "
                "edge {below} below the lowest point of the letters themselves.",
                **fields,
            )
            if outlined
            else message(
                "Lay the panel flat, right side up, with a ruler along the center line, from its basting at the top to "
                "that at the bottom. Mark the side edges {half} to the left and to the right of it, the top edge "
                "{above} above the highest point of the words, and the bottom edge {below} below their lowest point.",
                **fields,
            ),
            message("Check with a square ruler that the corners are right angles, before you cut."),
        ),
        (
            message(
                "Trim the panel to {width} by {height} on these lines, seam allowance included: the same off every "
                "side, {off}, less what the stitching drew in.",
                **sizes,
            ),
            message("Now pull the basting of the center line out, before you press the panel again."),
        ),
    )


def _trim_blocks_said(
    fields: dict[str, Field], sizes: dict[str, Field], *, outlined: bool
) -> tuple[tuple[Message, ...], ...]:
    return (
        (
            message(
                "Lay each block flat, right side up, with a ruler along the center line, from its basting at the top "
                "to that at the bottom. Mark the side edges {half} to the left and to the right of it, the top edge "
                "{above} above the highest point of the letters themselves, not of their outlines, and the bottom "
                "edge {below} below the lowest point of the letters themselves.",
                **fields,
            )
            if outlined
            else message(
                "Lay each block flat, right side up, with a ruler along the center line, from its basting at the top "
                "to that at the bottom. Mark the side edges {half} to the left and to the right of it, the top edge "
                "{above} above the highest point of the words, and the bottom edge {below} below their lowest point.",
                **fields,
            ),
            message(
                "If these edges come out farther apart or closer together than {width} by {height}, move opposite ones "
                "by the same. Check with a square ruler that the corners are right angles, before you cut.",
                width=sizes["width"],
                height=sizes["height"],
            ),
        ),
        (
            message(
                "Trim each block to {width} by {height} on these lines, seam allowance included: the same off every "
                "side, {off}, less what the stitching drew in.",
                **sizes,
            ),
            message("Now pull the basting of the center line out, before you press the block again."),
        ),
    )


def square_up_said(
    panel: PanelPlan, units: Units, *, bordered: bool, of_blocks: bool, set_together: bool
) -> tuple[Message, ...]:
    """What is checked of a panel that was cut to size, with borders to follow or without, or of blocks, that are
    `set_together` or not."""
    width, height = (as_size(side, units) for side in panel.trimmed)
    smaller = message("If it came out smaller, use it as it is: the whole is that much smaller.")
    if bordered:
        smaller = message(
            "If it came out smaller, sew with it as it is: “{chapter}” says how to fit the borders to it.",
            chapter=BORDERS,
        )
    elif set_together:
        smaller = message(
            "A block that came out smaller does not fit the others: make it again, or trim all blocks to its size, and "
            "what lies between them to match."
        )
    return (
        message(
            "Square up each block and measure it: {width} by {height}, seam allowance included. Trim only what stands "
            "over.",
            width=width,
            height=height,
        )
        if of_blocks
        else message(
            "Square up the panel and measure it: {width} by {height}, seam allowance included. Trim only what stands "
            "over.",
            width=width,
            height=height,
        ),
        message(
            "If it is crooked, pull it into shape while it is warm from the iron, and measure again. What stays "
            "crooked, trim to the largest rectangle with square corners that it holds, its top and bottom level with "
            "the words, as much off opposite sides."
        ),
        smaller,
    )


def trim_drawn_said() -> Message:
    """What the drawing shows."""
    return message(
        "The panel as it was cut, its center line and its words, and the lines to trim it on; what is cut off is "
        "gray, the finished size a row of short dashes."
    )


def finished_drawn_said(panel: PanelPlan, units: Units) -> Message:
    """The finished size of the panel, beside the drawing."""
    return message(
        "finished size: {width} by {height}",
        width=as_size(panel.width, units),
        height=as_size(panel.height, units),
    )
