"""Layering: backing, batting, what is done to the top before it is layered, basting."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from applique.cautions import IRON, NEEDLE, PINS, SPRAY
from applique.cloth import UseKind
from applique.drawings.finishing import Finish
from applique.drawings.key import LABELED
from applique.instructions.book import Book
from applique.instructions.stitching import before_layering
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Heading, Paragraph, Tick
from applique.units import Units
from applique.words.instructions import quilting as said

__all__ = ["layering", "seamed_back"]

_PINS: Final = {Units.INCHES: Fraction(4), Units.CENTIMETERS: Fraction(1000, 254)}
"""Inches between basting pins: common practice, no source."""


def layering(book: Book) -> Chapter:
    """From the finished top to the basted quilt."""
    return Chapter(
        kind=ChapterKind.LAYERING,
        title=said.LAYERING,
        blocks=(*_backing(book), *_batting(book), *before_layering(book), *_basting(book)),
    )


def _backing(book: Book) -> Iterator[Block]:
    """The back: its size, how it is pieced, drawn with its seams, and what wide backing takes."""
    quilt, shopping, units = book.pattern.quilt, book.pattern.shopping, book.units
    use, names = shopping.use(UseKind.BACKING), book.pieces_of(UseKind.BACKING)
    yield Heading(said=said.BACKING)
    if not quilt.backing.ways:
        yield book.step(said.own_back_said(quilt.backing, units))
        return
    yield Paragraph(said=said.backing_said(quilt.backing, use, units, compared=not book.is_customers))
    leftovers, mixed = shopping.leftover_backing, shopping.mixed_backing
    if mixed is not None:
        yield Paragraph(said=said.mixed_said(mixed, units))
    elif leftovers is not None:
        yield Paragraph(said=said.from_leftovers_said(leftovers, units))
        for number, row in enumerate(leftovers.rows if leftovers.enough else (), 1):
            yield Paragraph(said=said.backing_row_said(number, row, units))
    if shopping.wide_backing is not None:
        yield Paragraph(said=said.wide_back_said(quilt.backing, shopping.wide_backing, units))
    seams = len(shopping.back) - 1
    if seams > 0:
        yield from seamed_back(book)
        return
    yield Cautions(items=(IRON,))
    if seams < 0:
        yield book.step(said.cut_back_said(quilt.backing, units))
    else:
        drawing = Finish(units, book.speech).backing(shopping.back, _on_back(book))
        yield book.step(said.plain_back_said(names), drawing=drawing)


def seamed_back(book: Book) -> Iterator[Block]:
    """The seams of a back that is sewn of several pieces; nothing of one in one piece."""
    shopping, units = book.pattern.shopping, book.units
    seams = len(shopping.back) - 1
    if seams < 1:
        return
    use, names = shopping.use(UseKind.BACKING), book.pieces_of(UseKind.BACKING)
    drawing = Finish(units, book.speech).backing(shopping.back, _on_back(book))
    allowance = book.pattern.panel.seam_allowance
    ticks = [Tick(key=f"backing-{seam}", said=said.backing_seam_said(seam)) for seam in range(1, seams + 1)]
    yield Cautions(items=(NEEDLE, IRON))
    pieces = names if shopping.mixed_backing is None else (*names, said.BACK_STRIP)
    along = use.way.along if use is not None and use.way is not None else None
    words = said.sew_back_said(allowance, pieces, seams, along, units)
    yield book.step(words, said.seams_open_said(seams), drawing=drawing, ticks=ticks)


def _on_back(book: Book) -> list[str]:
    """What stands on each patch of the back: the name of what was cut for it, or of leftovers the letter of the
    fabric."""
    names = {
        one.width: book.speech.tell(book.piece(buy.fabric.name, one.key))
        for buy in book.pattern.shopping.cloth
        for use in buy.uses
        if use.kind is UseKind.BACKING
        for one in use.strips
    }
    use = book.pattern.shopping.use(UseKind.BACKING)
    cut = [names[width] for width in use.way.widths] if use is not None and use.way is not None else []
    return [*cut, *(book.chips[patch.fabric].letter for patch in book.pattern.shopping.back[len(cut) :])]


def _batting(book: Book) -> Iterator[Block]:
    yield Heading(said=said.BATTING)
    batting, units = book.pattern.quilt.batting, book.units
    yield Paragraph(
        said=said.batting_said(batting, book.pattern.quilt.finished, units)
        if batting.bought
        else said.own_batting_said(batting, units)
    )
    yield book.step(*said.rest_batting_said(batting, units))


def _basting(book: Book) -> Iterator[Block]:
    quilt, units = book.pattern.quilt, book.units
    draw = Finish(units, book.speech)
    seams = 2 * book.pattern.panel.seam_allowance
    top = (quilt.finished[0] + seams, quilt.finished[1] + seams)
    batting, backing = ((one.width, one.height) for one in (quilt.batting, quilt.backing))
    over = ((batting[0] - top[0]) / 2, (backing[0] - top[0]) / 2)
    yield Heading(said=said.BASTING)
    yield book.step(said.PRESS_TOP)
    yield book.step(said.mark_middle_said())
    yield book.step(said.layer_said(over, units), drawing=draw.layers(top, batting, backing), tints=LABELED)
    ticks = (Tick(key="basted", said=said.BASTED),)
    yield Cautions(items=(SPRAY, PINS))
    words = said.baste_said(_PINS[units], book.pattern.quilting, units)
    yield book.step(*words, drawing=draw.pins(_PINS[units]), ticks=ticks)
