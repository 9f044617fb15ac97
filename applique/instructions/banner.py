"""From the front of a banner to the hanging one: its back, its ties or sleeve, the seam around, its edge."""

from __future__ import annotations

from collections.abc import Iterator

from applique.cautions import IRON, NEEDLE, PINS, SCISSORS
from applique.cloth import UseKind
from applique.drawings.banner import BannerFront
from applique.drawings.key import BANNER
from applique.instructions.book import Book
from applique.instructions.layering import seamed_back
from applique.instructions.sleeve import sleeve_made
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Heading, Tick
from applique.quilt.banner import OPENING
from applique.quilt.finishing import SLEEVE_BASTING, SLEEVE_SLACK
from applique.words.instructions import banner as said

__all__ = ["banner"]


def banner(book: Book) -> Chapter:
    """The banner sewn together."""
    return Chapter(kind=ChapterKind.FINISHING, title=said.BANNER, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    quilt, units = book.pattern.quilt, book.units
    off = SLEEVE_BASTING[units]
    yield Heading(said=said.FRONT)
    yield Cautions(items=(IRON,))
    tick = Tick(key="front", said=said.FRONT_PRESSED)
    yield book.step(*said.front_said(quilt.finished, quilt.trimmed, units), ticks=(tick,))
    if quilt.batting.bought:
        yield Heading(said=said.BATTING)
        tick = Tick(key="batted", said=said.BATTED)
        yield book.step(said.batting_said(quilt.trimmed, off, units), ticks=(tick,))
    yield Heading(said=said.BACK)
    seamed = tuple(seamed_back(book))
    yield from seamed
    if not seamed:
        yield book.step(said.back_said(book.pieces_of(UseKind.BACKING), quilt.trimmed, units))
    yield Heading(said=said.HANGS)
    yield Cautions(items=(NEEDLE, IRON))
    yield from _hung(book)
    yield Heading(said=said.TOGETHER)
    yield Cautions(items=(PINS, SCISSORS))
    opening = min(OPENING[units], quilt.finished[0] / 2)
    tick = Tick(key="turned", said=said.TURNED)
    yield book.step(
        *said.sewn_said(quilt.raw, opening, units),
        *said.turned_said(batted=quilt.batting.bought),
        drawing=BannerFront(units, book.speech).around(quilt, opening),
        tints=BANNER,
        ticks=(tick,),
    )
    tick = Tick(key="edged", said=said.EDGED)
    low = () if quilt.sleeve is None else (said.sleeve_low_said(SLEEVE_SLACK[units], units),)
    yield book.step(*said.hang_said(off, units, ties=quilt.ties is not None), *low, ticks=(tick,))


def _hung(book: Book) -> Iterator[Block]:
    """Ties, or a sleeve, basted on before front and back are sewn together."""
    quilt, units = book.pattern.quilt, book.units
    off = SLEEVE_BASTING[units]
    if quilt.ties is not None:
        pieces = book.pieces_of(UseKind.TIES)
        tick = Tick(key="ties", said=said.TIES_ON)
        yield book.step(said.ties_made_said(quilt.ties, pieces, units))
        yield book.step(said.ties_on_said(quilt.ties, quilt.raw, off, units), ticks=(tick,))
    elif quilt.sleeve is not None:
        inset = (quilt.trimmed[0] - quilt.sleeve.length) / 2
        yield sleeve_made(book, quilt.sleeve)
        tick = Tick(key="sleeve", said=said.SLEEVE_ON)
        yield book.step(said.sleeve_on_said(inset, off, units), ticks=(tick,))
