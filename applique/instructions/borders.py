"""Borders, round by round: strips joined, rows pieced, sewn on, corners closed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from applique.cautions import IRON, NEEDLE
from applique.design import Corners
from applique.drawings.borders import Named, draw_join, draw_miter, draw_rows
from applique.drawings.quilt import draw_round
from applique.instructions.book import Book
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Heading, Paragraph, Step, Tick
from applique.language import Message
from applique.quilt.borders import BorderPlan, BorderStep, Corner
from applique.units import as_size
from applique.words.instructions import borders as said

__all__ = ["borders"]

_PLAIN: Final = (214.0, 190.0)
"""Points for a round of plain strips."""
_PIECED: Final = (250.0, 268.0)
"""Points for a round of many pieces, large enough to count them."""
_MARGIN: Final = 26.0
"""Points beside a drawing across the line."""
_WIDEST: Final = 500.0


def borders(book: Book) -> Chapter | None:
    """Every border in its rounds of sewing; nothing where there is none."""
    if not book.pattern.quilt.borders:
        return None
    return Chapter(kind=ChapterKind.BORDERS, title=said.BORDERS, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    yield Paragraph(said=said.before_said(book.pattern.panel.seam_allowance, book.units))
    for border in book.pattern.quilt.borders:
        yield Heading(said=said.border_said(border, book.units))
        yield Cautions(items=(NEEDLE, IRON))
        yield from _joined(book, border)
        for step in border.steps:
            yield from _pieced(book, border, step)
            yield _sewn_on(book, border, step)
        if border.corners is Corners.MITERED:
            yield _mitered(book, border)


def _joined(book: Book, border: BorderPlan) -> Iterator[Step]:
    """How the strips of a border are joined, where some of them are."""
    joins = dict.fromkeys(
        run.join
        for buy in book.pattern.shopping.cloth
        for use in buy.uses
        if use.border == border.number
        for run in use.joined
    )
    width, seam = border.steps[0].strips[0].cut_width, book.pattern.panel.seam_allowance
    for join in joins:
        yield book.step(
            said.join_said(join, width, seam, book.units),
            said.cut_from_run_said(border, book.units),
            drawing=draw_join(join, width, seam, book.units, book.speech),
            ticks=(Tick(key=f"border-{border.number}-join", said=said.join_tick(border)),),
        )


def _pieced(book: Book, border: BorderPlan, step: BorderStep) -> Iterator[Step]:
    """How the rows of a round are pieced, where they are."""
    if not _is_pieced(step):
        return
    width = min(_WIDEST, book.width - _MARGIN)
    yield book.step(
        *said.rows_said(border, step, _said(book), book.units),
        drawing=draw_rows(border, step, _named(book), width, book.speech),
        ticks=[
            Tick(key=f"border-{border.number}-{strip.side}-row", said=said.row_tick(strip.side))
            for strip in step.strips
        ],
    )


def _is_pieced(step: BorderStep) -> bool:
    return any(len(strip.pieces) > 1 for strip in step.strips)


def _said(book: Book) -> Mapping[str, Message]:
    """Each fabric as it is said."""
    return {name: said.fabric_said(chip.letter, name) for name, chip in book.chips.items()}


def _named(book: Book) -> Mapping[str, Named]:
    return {name: Named(letter=chip.letter, color=chip.color) for name, chip in book.chips.items()}


def _sewn_on(book: Book, border: BorderPlan, step: BorderStep) -> Step:
    pattern, units = book.pattern, book.units
    across, down = (book.speech.measure(as_size(side, units)) for side in step.cut)
    many = _is_pieced(step) and border.corners is not Corners.CORNERSTONES
    drawing = draw_round(
        book.picture,
        border,
        step,
        _PIECED if many else _PLAIN,
        said.round_drawn_said(border, step, units),
        letters={name: chip.letter for name, chip in book.chips.items()},
        measures=(across, down),
    )
    return book.step(
        *said.step_said(border, step, _said(book), pattern.panel.seam_allowance, units),
        drawing=drawing,
        ticks=[
            Tick(key=f"border-{border.number}-{strip.side}", said=said.seam_tick(strip.side))
            for strip in step.strips
        ],
    )


def _mitered(book: Book, border: BorderPlan) -> Step:
    seam = book.pattern.panel.seam_allowance
    (step,) = border.steps
    return book.step(
        *said.miter_said(seam, book.units),
        drawing=draw_miter(border, step, seam, book.units, book.speech),
        ticks=[
            Tick(key=f"border-{border.number}-{corner.replace(' ', '-')}", said=said.corner_tick(corner))
            for corner in Corner
        ],
    )
