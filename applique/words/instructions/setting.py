"""Setting blocks together, in words: their order, what lies between them, and what the top measures after each step."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from applique.language import Field, Message, listed, message, messages
from applique.quilt.setting import SetPart, SettingPlan
from applique.quilt.strips import Extent
from applique.units import Units, as_seam, as_size
from applique.words.blocks import how_many_said
from applique.words.instructions.sizes import by_said

__all__ = [
    "BLOCK_PLACED",
    "JOINED_HEAD",
    "LAID_OUT",
    "SETTING",
    "SET_DRAWN",
    "STRIPS_CUT",
    "TOP_SET",
    "before_said",
    "blocks_measure_said",
    "finished_said",
    "grid_said",
    "joined_cells",
    "laid_out_said",
    "lengths_said",
    "pieces_said",
    "row_drawn_said",
    "row_tick",
    "rows_joined_said",
    "rows_said",
    "sashing_rows_said",
    "sashing_tick",
    "set_said",
]

SETTING: Final = message("Setting the blocks together")
SET_DRAWN: Final = message("The blocks as they are set together, each at its place")
JOINED_HEAD: Final = (message("joined so far"), message("measures from raw edge to raw edge"))
BLOCK_PLACED: Final = message("Lay everything out as in the drawing, right side up: {parts}.")
LAID_OUT: Final = message("everything laid out and looked at")
STRIPS_CUT: Final = message("long strips of sashing joined and cut")
TOP_SET: Final = message("set top measured")
_PARTS: Final = {
    SetPart.PLAIN: message("the plain blocks ({pieces})"),
    SetPart.SASHING: message("the sashing ({pieces})"),
    SetPart.CORNERSTONES: message("the cornerstones ({pieces})"),
}


def pieces_said(part: SetPart, pieces: Sequence[Field]) -> Message:
    """What lies between blocks, with the names of its pieces."""
    return _PARTS[part].filled(pieces=listed(pieces))


def finished_said(side: Field) -> Message:
    """A side of the set top in its drawing."""
    return message("finished {side}", side=side)


def grid_said(setting: SettingPlan, units: Units) -> Message:
    """How many rows and columns there are, and how large the set top is, finished."""
    fields: dict[str, Field] = {
        "blocks": how_many_said(len(setting.columns)),
        "size": by_said(setting.finished, units),
    }
    rows = len(setting.rows)
    if not setting.sashing:
        return messages(
            "{count} row of {blocks}, sewn to one another: finished {size}.",
            "{count} rows of {blocks}, sewn to one another: finished {size}.",
            rows,
            **fields,
        )
    fields["sashing"] = as_size(setting.sashing, units)
    if setting.around:
        return messages(
            "{count} row of {blocks}, sashing {sashing} wide between them and around them: finished {size}.",
            "{count} rows of {blocks}, sashing {sashing} wide between them and around them: finished {size}.",
            rows,
            **fields,
        )
    return messages(
        "{count} row of {blocks}, sashing {sashing} wide between them: finished {size}.",
        "{count} rows of {blocks}, sashing {sashing} wide between them: finished {size}.",
        rows,
        **fields,
    )


def set_said(setting: SettingPlan, units: Units) -> Message:
    """The same with its plain blocks counted, where it has any."""
    grid = grid_said(setting, units)
    if not setting.plain:
        return grid
    return messages(
        "{grid} {count} of the blocks is plain.",
        "{grid} {count} of the blocks are plain.",
        setting.plain,
        grid=grid,
    )


def blocks_measure_said(sizes: Sequence[Extent], units: Units) -> Message:
    """What blocks measure before they are sewn together."""
    return message(
        "Each block measures {sizes} from raw edge to raw edge before it is sewn to another. Measure them all first, "
        "and trim what is larger with a square ruler.",
        sizes=listed(by_said(size, units) for size in sizes),
    )


def before_said(seam_allowance: Fraction, units: Units) -> Message:
    """What holds for all seams between blocks."""
    return message(
        "Sew every seam right sides together with a seam allowance of {seam}. Where seams meet, pin them at that point "
        "first.",
        seam=as_seam(seam_allowance, units),
    )


def laid_out_said(parts: Sequence[Field]) -> tuple[Message, ...]:
    """Everything laid out before the first seam."""
    return (
        BLOCK_PLACED.filled(parts=listed((message("the blocks"), *parts))),
        message(
            "Look at it from across the room and read every word. Pin a slip of paper with its number to the first "
            "block of each block row."
        ),
    )


def rows_said(setting: SettingPlan, units: Units) -> tuple[Message, ...]:
    """How each row of blocks is sewn, pressed and measured."""
    if setting.upright and setting.around:
        sewn = message(
            "Sew each block row from left to right: sashing, a block, sashing, and so on, with sashing at both ends."
        )
    elif setting.upright:
        sewn = message("Sew each block row from left to right: a block, sashing, a block, and so on.")
    else:
        sewn = message("Sew the blocks of each block row to one another, from left to right.")
    pressed = (
        message("Press the seams toward the sashing.")
        if setting.upright
        else message(
            "Press the seams of the first block row to the right, those of the next to the left, and so on, so that "
            "they lie against one another where block rows meet."
        )
    )
    return sewn, pressed, *_measured(setting, units)


def _measured(setting: SettingPlan, units: Units) -> tuple[Message, ...]:
    sizes = list(dict.fromkeys(setting.row_sizes))
    if len(sizes) == 1:
        return (
            message(
                "Each block row measures {size} from raw edge to raw edge.", size=by_said(sizes[0], units)
            ),
        )
    return tuple(
        message(
            "Block row {number} measures {size} from raw edge to raw edge.",
            number=number,
            size=by_said(size, units),
        )
        for number, size in enumerate(setting.row_sizes, 1)
    )


def sashing_rows_said(setting: SettingPlan, units: Units) -> tuple[Message, ...]:
    """How rows of sashing and cornerstones are sewn."""
    fields: dict[str, Field] = {"size": by_said(setting.level_size, units)}
    if setting.around:
        sewn = messages(
            "Sew {count} row of sashing: a cornerstone, sashing, a cornerstone, and so on, with cornerstones at both "
            "ends.",
            "Sew {count} rows of sashing: a cornerstone, sashing, a cornerstone, and so on, with cornerstones at both "
            "ends.",
            setting.level,
        )
    else:
        sewn = messages(
            "Sew {count} row of sashing: sashing, a cornerstone, sashing, and so on.",
            "Sew {count} rows of sashing: sashing, a cornerstone, sashing, and so on.",
            setting.level,
        )
    return (
        sewn,
        message("Press the seams toward the sashing, so that they lie against those of the blocks."),
        message("Each row of sashing measures {size} from raw edge to raw edge.", **fields),
    )


def lengths_said(setting: SettingPlan, units: Units) -> Message:
    """What is cut from the joined strips of sashing."""
    return messages(
        "Cut from the long strip {count} piece of {length}, or as long as your block rows measure.",
        "Cut from the long strip {count} pieces of {length}, or as long as your block rows measure.",
        setting.level,
        length=as_size(setting.level_size[0], units),
    )


def rows_joined_said(setting: SettingPlan, units: Units) -> tuple[Message, ...]:
    """How rows are joined into the top, pressed and measured."""
    if setting.level and setting.around:
        sewn = message(
            "Join the block rows from the top: sashing above the first, between every two, and below the last."
        )
    elif setting.level:
        sewn = message("Join the block rows from the top, with sashing between every two.")
    else:
        sewn = message("Join the block rows from the top.")
    pressed = (
        message("Press the seams toward the sashing.")
        if setting.level
        else message("Press these seams down.")
    )
    return (
        sewn,
        pressed,
        message(
            "Measure the set top through its middle, across and down: {size} from raw edge to raw edge.",
            size=by_said(setting.set_size, units),
        ),
    )


def joined_cells(setting: SettingPlan, units: Units) -> tuple[tuple[Field, ...], ...]:
    """What the top measures as row after row is joined, and once the last sashing is on."""
    cells: list[tuple[Field, ...]] = [
        (messages("{count} block row", "{count} block rows", number), by_said(size, units))
        for number, size in enumerate(setting.joined_sizes, 1)
    ]
    if setting.around:
        cells.append((message("with the last sashing"), by_said(setting.set_size, units)))
    return tuple(cells)


def row_tick(number: int) -> Message:
    """A row of blocks to tick off."""
    return message("block row {number} sewn and pressed", number=number)


def sashing_tick(number: int) -> Message:
    """A row of sashing to tick off."""
    return message("row {number} of sashing sewn and pressed", number=number)


def row_drawn_said(number: int) -> Message:
    """A row in the drawing."""
    return message("block row {number}", number=number)
