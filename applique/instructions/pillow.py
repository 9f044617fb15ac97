"""From the front of a pillow to the filled one: its back, the seam around both, the insert."""

from __future__ import annotations

from collections.abc import Iterator

from applique.cautions import IRON, NEEDLE, PINS, SCISSORS
from applique.cloth import UseKind
from applique.drawings.key import PILLOW
from applique.drawings.pillow import PillowBacks
from applique.instructions.book import Book
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Heading, Tick
from applique.quilt.pillow import PillowPlan
from applique.words.instructions import pillow as said

__all__ = ["pillow"]


def pillow(book: Book, plan: PillowPlan) -> Chapter:
    """The pillow sewn together."""
    return Chapter(kind=ChapterKind.FINISHING, title=said.PILLOW, blocks=tuple(_blocks(book, plan)))


def _blocks(book: Book, plan: PillowPlan) -> Iterator[Block]:
    quilt, units = book.pattern.quilt, book.units
    draw, pieces = PillowBacks(units, book.speech), book.pieces_of(UseKind.PILLOW)
    yield Heading(said=said.FRONT)
    yield Cautions(items=(IRON,))
    tick = Tick(key="front", said=said.FRONT_PRESSED)
    yield book.step(*said.front_said(quilt.finished, quilt.trimmed, units), ticks=(tick,))
    yield Heading(said=said.BACK)
    yield Cautions(items=(NEEDLE, IRON))
    if plan.zipper is None:
        tick = Tick(key="halves", said=said.HALVES_DONE)
        yield book.step(*said.halves_said(plan, pieces, units), drawing=draw.hemmed(plan), ticks=(tick,))
    else:
        tick = Tick(key="zipper", said=said.ZIPPER_IN)
        steps = said.zipper_said(plan, plan.zipper, pieces, units)
        yield book.step(*steps, drawing=draw.zipped(plan, plan.zipper), tints=PILLOW, ticks=(tick,))
    yield Heading(said=said.TOGETHER)
    yield Cautions(items=(PINS,))
    laid = said.laid_said(plan, units) if plan.zipper is None else said.zipper_laid_said(quilt.trimmed, units)
    tick = Tick(key="around", said=said.SEWN_AROUND)
    yield book.step(
        laid,
        *said.sewn_said(quilt.raw, units),
        drawing=draw.laid(plan, quilt.trimmed, quilt.raw),
        tints=PILLOW,
        ticks=(tick,),
    )
    yield Cautions(items=(SCISSORS,))
    tick = Tick(key="filled", said=said.TURNED)
    yield book.step(
        said.turn_said(), said.FILL, drawing=draw.turned(plan, quilt.finished), tints=PILLOW, ticks=(tick,)
    )
