"""What a panel that is no rectangle cannot have, or not yet: every problem of its shape."""

from __future__ import annotations

from collections.abc import Iterator

from applique.design.model import Align, Design, Finish, PanelShape, Row
from applique.errors import Problem, Where
from applique.language import Message, message

__all__ = ["shape_problems", "tape_problems"]


def shape_problems(design: Design) -> Iterator[Problem]:
    """Sizes that a shape cannot have, and what is worked out for rectangles alone so far."""
    alone = design.blocks_alone
    if all(one.panel.shape is PanelShape.RECTANGLE for one in alone):
        return
    for number, one in enumerate(alone, 1):
        table = Where.key("block", number) if design.block else Where.key("panel")
        yield from _size_problems(one, table)
        if one.panel.shape is not PanelShape.RECTANGLE:
            for place, row in enumerate(one.row, 1):
                where = Where.in_row(place)
                yield from _row_problems(one, row, where.within(table) if design.block else where)
    if design.finish is not Finish.TOP:
        yield Problem(
            kind="shape-of-that-finish",
            what=message("a panel that is no rectangle is so far made as a top alone, and nothing around it"),
            where=Where.key("finish"),
            fix=message('finish = "top only", or shape = "rectangle"'),
        )
    found = (
        (design.border, ("border",), "[[border]]"),
        (design.quilting, ("quilting",), "[[quilting]]"),
        (design.setting.sets_together, ("setting",), "[setting]"),
        (design.lettering.baseline_step, ("lettering", "baseline_step"), "baseline_step"),
    )
    for key, name in ((key, name) for there, key, name in found if there):
        yield Problem(
            kind="not-of-that-shape-yet",
            what=message("{key} is not yet worked out for a panel that is no rectangle", key=name),
            where=Where.key(*key),
            fix=message('leave it out, or shape = "rectangle"'),
        )


def tape_problems(design: Design) -> Iterator[Problem]:
    """A tape where nothing hangs from one."""
    if design.bunting.tape and (
        design.finish is not Finish.TOP or design.border or design.setting.sets_together
    ):
        yield Problem(
            kind="tape-without-panels",
            what=message("only panels that are each made by themselves, as a top alone, hang from a tape"),
            where=Where.key("bunting", "tape"),
            fix=message('finish = "top only" without borders or [setting], or tape = false'),
        )
    if design.bunting.tape and any(one.panel.shape is PanelShape.CIRCLE for one in design.blocks_alone):
        yield Problem(
            kind="circle-on-a-tape",
            what=message("a circle has no straight top to hang from a tape"),
            where=Where.key("bunting", "tape"),
            fix=message('another shape, such as "half round", or tape = false'),
        )


def _size_problems(design: Design, where: Where) -> Iterator[Problem]:
    width, height = design.panel_size
    match design.panel.shape:
        case PanelShape.CIRCLE if width != height:
            yield Problem(
                kind="circle-of-unequal-sides",
                what=message("a circle is as wide as it is high, and this one is not"),
                where=where,
                fix=message("the same width and height"),
            )
        case PanelShape.HALF_ROUND if height < width / 2:
            yield Problem(
                kind="half-round-too-low",
                what=message("a half-round flag is at least half as high as it is wide, and this one is not"),
                where=where,
                fix=message("a height of half the width or more"),
            )
        case _:
            pass


def _row_problems(design: Design, row: Row, where: Where) -> Iterator[Problem]:
    align = design.lettering.align if row.align is None else row.align
    if align is not Align.CENTER:
        yield Problem(
            kind="row-beside-the-middle-of-that-shape",
            what=message("rows are in the middle of a panel that is no rectangle"),
            where=Where(path=("align",)).within(where),
            fix=_without("align"),
        )
    if row.runs_off:
        yield Problem(
            kind="row-off-that-shape",
            what=message("a row cannot yet run off a panel that is no rectangle"),
            where=Where(path=("runs_off",)).within(where),
            fix=_without("runs_off"),
        )
    if row.runs_down:
        yield Problem(
            kind="row-down-that-shape",
            what=message("a row cannot yet run down a panel that is no rectangle"),
            where=Where(path=("direction",)).within(where),
            fix=_without("direction"),
        )


def _without(key: str) -> Message:
    return message('leave “{key}” out, or shape = "rectangle"', key=key)
