"""Blocks set together: laid out, sewn into rows, and the rows into the top."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.cautions import IRON, NEEDLE, PINS
from applique.cloth import Strips, UseKind
from applique.drawings.borders import draw_join
from applique.drawings.key import LABELED
from applique.drawings.setting import SetNames, draw_setting
from applique.instructions.book import Book
from applique.instructions.values import (
    Block,
    Cautions,
    Chapter,
    ChapterKind,
    Paragraph,
    Step,
    Table,
    Tick,
)
from applique.language import Message
from applique.quilt.setting import SetPart, SetPatch, SettingPlan
from applique.units import as_size
from applique.words.instructions import setting as said
from applique.words.instructions.borders import join_said

__all__ = ["setting"]

_DRAWN: Final = 330.0
"""Points that the drawing is high at the most."""
_WIDEST: Final = 500.0
_MARGIN: Final = 26.0
_USES: Final = {
    SetPart.PLAIN: UseKind.PLAIN_BLOCKS,
    SetPart.SASHING: UseKind.SASHING,
    SetPart.CORNERSTONES: UseKind.CORNERSTONES,
}
_JOINED: Final = tuple(zip(said.JOINED_HEAD, (1.0, 2.4), strict=True))


def setting(book: Book) -> Chapter | None:
    """How blocks are set together; nothing where they are not."""
    plan = book.pattern.quilt.setting
    if plan is None:
        return None
    return Chapter(kind=ChapterKind.SETTING, title=said.SETTING, blocks=tuple(_blocks(book, plan)))


def _blocks(book: Book, plan: SettingPlan) -> Iterator[Block]:
    units = book.units
    yield Paragraph(said=said.set_said(plan, units))
    sizes = dict.fromkeys(
        (plan.cut(place.size[0]), plan.cut(place.size[1])) for place in plan.places if place.block is not None
    )
    yield Paragraph(said=said.blocks_measure_said(list(sizes), units))
    yield Paragraph(said=said.before_said(plan.seam_allowance, units))
    yield Cautions(items=(NEEDLE, PINS, IRON))
    yield _laid_out(book, plan)
    if len(plan.columns) + plan.upright > 1:
        ticks = [
            Tick(key=f"set-row-{number}", said=said.row_tick(number)) for number, _ in enumerate(plan.rows, 1)
        ]
        yield book.step(*said.rows_said(plan, units), ticks=ticks)
    yield from _long_strips(book, plan)
    if plan.cornerstones and plan.level and plan.upright:
        ticks = [
            Tick(key=f"set-sashing-{number}", said=said.sashing_tick(number))
            for number in range(1, plan.level + 1)
        ]
        yield book.step(*said.sashing_rows_said(plan, units), ticks=ticks)
    if len(plan.rows) + plan.level > 1:
        yield book.step(*said.rows_joined_said(plan, units), ticks=(Tick(key="set-top", said=said.TOP_SET),))
    if len(plan.rows) > 1:
        yield Table(columns=_JOINED, rows=said.joined_cells(plan, units))


def _long_strips(book: Book, plan: SettingPlan) -> Iterator[Step]:
    """Long strips of sashing that are joined before they are cut."""
    for buy in book.pattern.shopping.cloth:
        for use in buy.uses:
            if use.kind is not UseKind.SASHING:
                continue
            for run in use.joined:
                width = plan.cut(plan.sashing)
                pieces = [book.piece(buy.fabric.name, run.key)]
                yield book.step(
                    join_said(run.join, pieces, width, plan.seam_allowance, book.units),
                    said.lengths_said(plan, book.units),
                    drawing=draw_join(run.join, width, plan.seam_allowance, book.units, book.speech),
                    ticks=(Tick(key="set-strips", said=said.STRIPS_CUT),),
                )


def _laid_out(book: Book, plan: SettingPlan) -> Step:
    units, tell = book.units, book.speech.tell
    parts = [
        said.pieces_said(part, pieces)
        for part, kind in _USES.items()
        if (pieces := _whole_pieces(book, kind))
    ]
    across, down = (tell(said.finished_said(as_size(side, units))) for side in plan.finished)
    names = SetNames(
        blocks=book.pattern.block_names,
        piece=lambda patch: _piece_name(book, plan, patch),
        colors={name: fabric.color for name, fabric in book.pattern.quilt.fabrics.by_name.items()},
        rows=[
            (tell(said.row_drawn_said(number)), book.speech.measure(as_size(high, units)))
            for number, high in enumerate(plan.rows, 1)
        ],
        columns=[book.speech.measure(as_size(wide, units)) for wide in plan.columns],
        measures=(across, down),
    )
    drawing = draw_setting(plan, names, (min(_WIDEST, book.width - _MARGIN), _DRAWN), said.SET_DRAWN)
    return book.step(
        *said.laid_out_said(parts),
        drawing=drawing,
        tints=LABELED,
        ticks=(Tick(key="set-laid-out", said=said.LAID_OUT),),
    )


def _whole_pieces(book: Book, kind: UseKind) -> list[Message]:
    """The names of the pieces that are cut for a use as they are sewn: not those of strips that are joined first."""
    return [
        book.piece(buy.fabric.name, key)
        for buy in book.pattern.shopping.cloth
        for use in buy.uses
        if use.kind is kind
        for key in use.keys
        if all(run.key != key for run in use.joined)
    ]


def _piece_name(book: Book, plan: SettingPlan, patch: SetPatch) -> str:
    """The name of the piece that a patch is cut as; the letter of its fabric where it comes from joined strips."""
    wanted = sorted(plan.cut(side) for side in patch.size)
    for strips in _strips(book, patch):
        if sorted((strips.length, strips.width)) == wanted:
            return book.speech.tell(book.piece(patch.fabric, strips.key))
    return book.chips[patch.fabric].letter


def _strips(book: Book, patch: SetPatch) -> Iterator[Strips]:
    for buy in book.pattern.shopping.cloth:
        for use in buy.uses:
            if use.kind is _USES[patch.part]:
                yield from use.strips
