"""What a design of several panels cannot have, or not yet: every problem of its blocks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from applique.design.model import Design, Finish
from applique.design.setting import setting_problems
from applique.errors import Problem, Refusal, Where
from applique.language import message

__all__ = ["block_problems", "refuse_blocks"]

_SET_TOGETHER: Final = (Finish.QUILT, Finish.TOP)
"""What blocks that are set together may be finished as."""


def block_problems(design: Design) -> Iterator[Problem]:
    """Rows that are in no block, blocks without words or of one name, and what is made of one panel alone so far."""
    yield from setting_problems(
        design.setting,
        [(block.name, block.count) for block in design.block],
        [alone.panel_size for alone in design.blocks_alone],
        design.units,
    )
    if not design.block:
        return
    if design.row:
        yield Problem(
            kind="rows-beside-blocks",
            what=message(
                "these rows are in no block: where there are blocks, every row is a row of one of them"
            ),
            where=Where.key("row"),
            fix=message("put them into a block, as [[block.row]], or make the panel a block of its own"),
        )
    seen: set[str] = set()
    for number, block in enumerate(design.block, 1):
        where = Where.key("block", number)
        if not block.row:
            yield Problem(
                kind="block-without-words",
                what=message("the block “{name}” has no words", name=block.name),
                where=where,
                fix=message('a row of words below it: [[block.row]] then text = "HOME"'),
            )
        if block.name.casefold() in seen:
            yield Problem(
                kind="two-blocks-of-one-name",
                what=message("two blocks are named “{name}”", name=block.name),
                where=where,
                fix=message("a name of its own for each, or one block with a count"),
            )
        seen.add(block.name.casefold())
        for place, row in enumerate(block.row, 1):
            if row.fussy:
                yield Problem(
                    kind="fussy-cut-in-a-block",
                    what=message("letters of blocks are not yet cut from one spot of their fabric"),
                    where=Where.in_row(place, "fussy").within(where),
                    fix=message("leave the spots out, or a design file of its own for that panel"),
                )
    if design.setting.sets_together and design.finish not in _SET_TOGETHER:
        yield Problem(
            kind="blocks-set-into-a-quilt-alone",
            what=message("blocks that are set together make a quilt, or its top alone"),
            where=Where.key("finish"),
            fix=message('finish = "quilt" or "top only"'),
        )
    elif not design.setting.sets_together and design.finish is not Finish.TOP:
        yield Problem(
            kind="blocks-not-set-together",
            what=message("the design does not say how its blocks are set together"),
            where=Where.key("finish"),
            fix=message(
                '[setting] with columns = 3 for a quilt, or finish = "top only" to finish each block by itself'
            ),
        )
    for key, what in _of_one_panel(design):
        yield Problem(
            kind="not-of-blocks-yet",
            what=message("{key} is not yet worked out for several blocks", key=what),
            where=Where.key(*key),
            fix=message("leave it out, or a design file of its own for each panel"),
        )


def _of_one_panel(design: Design) -> Iterable[tuple[tuple[str, ...], str]]:
    """The keys of what is worked out for one panel alone so far, where the design has it, each with its name."""
    apart = not design.setting.sets_together
    found = (
        (apart and design.border, ("border",), "[[border]]"),
        (apart and design.quilting, ("quilting",), "[[quilting]]"),
        (design.stated, ("stated",), "[[stated]]"),
        (design.sewing.also, ("sewing", "also"), "also"),
        (design.stitching.offers, ("stitching", "offers"), "offers"),
        (design.paper.full_size_guide, ("paper", "full_size_guide"), "full_size_guide"),
        (design.paper.copy_shop, ("paper", "copy_shop"), "copy_shop"),
        (design.paper.projector, ("paper", "projector"), "projector"),
    )
    return [(key, name) for there, key, name in found if there]


def refuse_blocks(design: Design) -> Design:
    """`design`, if it is of one panel.

    Raises:
        Refusal: it has blocks, where only one panel can be shown.
    """
    if design.block:
        raise Refusal(
            Problem(
                kind="blocks-on-the-page",
                what=message("this design is of several blocks, and the page shows only one panel so far"),
                where=Where.key("block"),
                fix=message("change its file by hand, and make it with `applique make`"),
            )
        )
    return design
