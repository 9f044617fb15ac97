"""Several panels in one pattern, in words: what each is called, how many are made, how large they are."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from applique.language import Field, Message, listed, message, messages
from applique.quilt.strips import Extent
from applique.quilt.whole import PanelToCut, QuiltPlan
from applique.units import Units, as_seam, as_size

__all__ = [
    "BLOCKS",
    "BLOCKS_DONE",
    "BLOCKS_HEAD",
    "BLOCK_IS_PANEL",
    "BLOCK_PRESSED",
    "BLOCK_STEPS",
    "block_cells",
    "block_named",
    "blocks_named",
    "counted",
    "done_said",
    "how_many_said",
    "made_said",
    "measured_said",
    "of_block_said",
    "on_each_said",
    "order_said",
    "panels_said",
    "size_said",
    "together_said",
    "use_named",
]

BLOCKS: Final = message("Blocks")
BLOCKS_HEAD: Final = (
    message("block"),
    message("make"),
    message("finished"),
    message("cut"),
    message("sewn in"),
    message("rows"),
)
BLOCK_IS_PANEL: Final = message(
    "Until its letters are stitched each block is a panel of its own: where “the panel” is said, the block before you "
    "is meant."
)
BLOCKS_DONE: Final = message("The finished blocks")
BLOCK_PRESSED: Final = message("Blocks pressed and measured")
BLOCK_STEPS: Final = (
    message("Cut the panels, then mark the center line and baselines of each block from its page of {file}."),
    message("Fuse or baste, then stitch, and finish every block as {file} says."),
)
_NAMED: Final = 3
"""More blocks than these are counted in a table, not named."""


def size_said(size: Extent, units: Units) -> Message:
    """A finished size, or one to cut."""
    width, height = (as_size(side, units) for side in size)
    return message("{width} by {height}", width=width, height=height)


def counted(name: str, count: int) -> str | Message:
    """A block by its name, with how many of it are made where that is more than one."""
    return name if count == 1 else message("{count} × {name}", count=count, name=name)


def how_many_said(count: int) -> Message:
    """How many blocks there are."""
    return messages("{count} block", "{count} blocks", count)


def block_named(name: str, count: int) -> Message:
    """A block as a heading."""
    if count == 1:
        return message("Block “{name}”", name=name)
    return messages("Block “{name}”: make {count}", "Block “{name}”: make {count}", count, name=name)


def blocks_named(blocks: Sequence[tuple[str, int]]) -> Message:
    """Blocks of which the same is said, each a name and how many are made, as a heading."""
    if len(blocks) == 1:
        return block_named(*blocks[0])
    return message("Blocks {names}", names=listed(counted(*block) for block in blocks))


def of_block_said(words: str, block: str) -> Message:
    """What a page is, with the block that it is about."""
    return message("{words} · {block}", words=words, block=block)


def use_named(panels: Sequence[PanelToCut]) -> Message:
    """What panels that are cut alike are for, as a table has room for it."""
    if len(panels) > _NAMED:
        return how_many_said(sum(panel.count for panel in panels))
    return message("block {names}", names=listed(panel.name for panel in panels))


def _sizes(quilt: QuiltPlan) -> dict[Extent, int]:
    sizes: dict[Extent, int] = {}
    for block in quilt.blocks:
        sizes[block.finished] = sizes.get(block.finished, 0) + block.count
    return sizes


def made_said(quilt: QuiltPlan, units: Units) -> Message:
    """How many blocks there are and how large they are, finished."""
    sizes = _sizes(quilt)
    blocks = how_many_said(sum(sizes.values()))
    if len(sizes) == 1:
        (size,) = sizes
        return message(
            "{blocks}, finished {size}, each made by itself.", blocks=blocks, size=size_said(size, units)
        )
    each = listed(
        message("{count} finished {size}", count=count, size=size_said(size, units))
        for size, count in sizes.items()
    )
    return message("{blocks}, each made by itself: {sizes}.", blocks=blocks, sizes=each)


def together_said(quilt: QuiltPlan) -> Message | None:
    """That the numbers of a row are those of all blocks that have it; None where every block is made once."""
    several = [block for block in quilt.blocks if block.count > 1]
    if not several:
        return None
    return message(
        "Make {blocks}: edge, stitches, thread and time of their rows are for all of them together, and each takes "
        "stabilizer of its own.",
        blocks=listed(counted(block.name, block.count) for block in several),
    )


def on_each_said(quilt: QuiltPlan) -> Message:
    """That what follows is done on every block, as often as it is made."""
    several = [block for block in quilt.blocks if block.count > 1]
    if not several:
        return messages(
            "Do this on the {count} block.",
            "Do this on each of the {count} blocks, one after the other.",
            len(quilt.blocks),
        )
    return message(
        "Do this on each block, one after the other, and on {blocks} as often as they are made.",
        blocks=listed(counted(block.name, block.count) for block in several),
    )


def measured_said(quilt: QuiltPlan, units: Units) -> Message:
    """Where the finished size of a block is measured."""
    return message(
        "The finished size of a block is what it shows once it is sewn to something else. From raw edge to raw edge it "
        "is {seam} larger on every side.",
        seam=as_seam(quilt.raw, units),
    )


def panels_said(panels: Sequence[PanelToCut], pieces: Sequence[Field], how: Message, units: Units) -> Message:
    """Panels that are cut alike: their pieces by name, which blocks they are, their size, and how they lie."""
    first = panels[0]
    fields: dict[str, Field] = {
        "pieces": listed(pieces),
        "blocks": listed(counted(panel.name, panel.count) for panel in panels),
        "width": as_size(first.cut.width, units),
        "height": as_size(first.cut.height, units),
        "finished": size_said(first.finished, units),
        "how": how,
    }
    if first.cut.trimmed != (first.cut.width, first.cut.height):
        return message(
            "{pieces} is for {blocks}: each {width} wide and {height} high, to trim to {trimmed} after stitching "
            "(finished {finished}); {how}. Write the name of its block on the wrong side of each.",
            trimmed=size_said(first.cut.trimmed, units),
            **fields,
        )
    return message(
        "{pieces} is for {blocks}: each {width} wide and {height} high (finished {finished}); {how}. Write the name of "
        "its block on the wrong side of each.",
        **fields,
    )


def order_said(*, one_row: bool) -> Message:
    """In which order blocks are stitched, all of `one_row`, or some of several."""
    if one_row:
        return message("One block after the other, in each from the middle of its row outward.")
    return message(
        "One block after the other: in each from its center row outward, and in each row from its middle outward."
    )


def done_said(quilt: QuiltPlan, off: Fraction, units: Units) -> tuple[Message, ...]:
    """What is done last to every block."""
    sizes = listed(
        size_said((size[0] + 2 * quilt.raw, size[1] + 2 * quilt.raw), units) for size in _sizes(quilt)
    )
    return (
        message(
            "Press each block, clip the threads on its wrong side, and stitch once around it, {off} from its edge.",
            off=as_seam(off, units),
        ),
        message(
            "Blocks measure {raw} from raw edge to raw edge. How they are sewn together, lined or hung is not part of "
            "this pattern.",
            raw=sizes,
        )
        if quilt.tape is None
        else message(
            "Blocks measure {raw} from raw edge to raw edge. How they are lined is not part of this pattern.",
            raw=sizes,
        ),
    )


def block_cells(block: PanelToCut, rows: Sequence[int], units: Units) -> tuple[Field, ...]:
    """A line of the table of blocks; `rows` are the numbers of its rows."""
    return (
        block.name,
        str(block.count),
        size_said(block.finished, units),
        size_said((block.cut.width, block.cut.height), units),
        size_said(block.cut.trimmed, units),
        ", ".join(map(str, rows)),
    )
