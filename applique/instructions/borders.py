"""Borders, round by round: strips joined, rows pieced, sewn on, corners closed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from applique.cautions import IRON, NEEDLE
from applique.cloth import Strips
from applique.cutting import Lie
from applique.design import Corners
from applique.drawings.borders import Named, draw_join, draw_miter, draw_rows
from applique.drawings.key import MITER
from applique.drawings.quilt import draw_round
from applique.instructions.book import Book
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Heading, Paragraph, Step, Tick
from applique.language import Message
from applique.quilt.borders import BorderPlan, BorderStep, Corner, Side, SideStrip
from applique.quilt.strips import Join
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
        fitted = said.fitted_said(border, book.pattern.panel.seam_allowance, book.units)
        if fitted is not None:
            yield Paragraph(said=fitted)
        yield Cautions(items=(NEEDLE, IRON))
        yield from _joined(book, border)
        for step in border.steps:
            yield from _pieced(book, border, step)
            yield _sewn_on(book, border, step)
        if border.corners is Corners.MITERED:
            yield _mitered(book, border)


def _joined(book: Book, border: BorderPlan) -> Iterator[Step]:
    """How the strips of a border are joined, where some of them are."""
    joins: dict[Join, list[Message]] = {}
    for buy in book.pattern.shopping.cloth:
        for use in buy.uses:
            if use.border == border.number:
                for run in use.joined:
                    joins.setdefault(run.join, []).append(book.piece(buy.fabric.name, run.key))
    width, seam = border.steps[0].strips[0].cut_width, book.pattern.panel.seam_allowance
    for join, pieces in joins.items():
        yield book.step(
            said.join_said(join, pieces, width, seam, book.units),
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
        *said.rows_said(border, step, _said(book), _pieces(book, border, step), book.units),
        drawing=draw_rows(border, step, _named(book, border, step), width, book.speech),
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


def _pieces(book: Book, border: BorderPlan, step: BorderStep) -> Mapping[Side, Sequence[Message]]:
    """What each side is sewn from, in its order: every piece by its name and its fabric."""
    return {
        strip.side: [
            said.piece_of_said(_piece(book, border, strip, index), fabric)
            for index, (fabric, _) in enumerate(strip.pieces)
        ]
        for strip in step.strips
    }


def _piece(book: Book, border: BorderPlan, strip: SideStrip, index: int) -> Message:
    """The name of one piece: as it was cut, or the strips that it is cut from."""
    fabric, _ = strip.pieces[index]
    return book.piece(fabric, _cut_as(book, border, strip, index).key)


def _cut_as(book: Book, border: BorderPlan, strip: SideStrip, index: int) -> Strips:
    """One piece as the plan cuts it, or the strips that it is cut from."""
    fabric, length = strip.pieces[index]
    cut = strip.cut_length if len(strip.pieces) == 1 else length + 2 * book.pattern.panel.seam_allowance
    of_border = [
        one
        for buy in book.pattern.shopping.cloth
        if buy.fabric.name == fabric
        for use in buy.uses
        if use.border == border.number
        for one in use.strips
        if one.width == strip.cut_width
    ]
    lie = Lie.ALONG if strip.side.upright else Lie.ACROSS
    return max(of_border, key=lambda one: (one.length == cut, one.lie is lie))


def _is_from_run(book: Book, border: BorderPlan, step: BorderStep) -> bool:
    """Whether the strips of a round are cut from a longer one."""
    return any(_cut_as(book, border, strip, 0).length != strip.cut_length for strip in step.strips)


def _named(book: Book, border: BorderPlan, step: BorderStep) -> Mapping[str, Named]:
    """Each fabric of a round, with the names of its pieces."""
    pieces: dict[str, dict[Message, None]] = {}
    for strip in step.strips:
        for index, (fabric, _) in enumerate(strip.pieces):
            pieces.setdefault(fabric, {})[_piece(book, border, strip, index)] = None
    return {
        name: Named(letter=book.chips[name].letter, color=book.chips[name].color, pieces=tuple(found))
        for name, found in pieces.items()
    }


def _names(book: Book, border: BorderPlan, step: BorderStep) -> Mapping[Side, str]:
    """The name of each strip that is one piece, as it was cut."""
    return {
        strip.side: book.speech.tell(_piece(book, border, strip, 0))
        for strip in step.strips
        if len(strip.pieces) == 1
    }


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
        names=_names(book, border, step),
        measures=(across, down),
    )
    return book.step(
        *said.step_said(
            border,
            step,
            _pieces(book, border, step),
            pattern.panel.seam_allowance,
            units,
            from_run=_is_from_run(book, border, step),
        ),
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
        drawing=draw_miter(border, step, seam, _names(book, border, step), book.units, book.speech),
        tints=MITER,
        ticks=[
            Tick(key=f"border-{border.number}-{corner.replace(' ', '-')}", said=said.corner_tick(corner))
            for corner in Corner
        ],
    )
