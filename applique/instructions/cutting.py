"""Cutting: for each fabric its cutting plan, drawn and in words, then what each piece is for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby

from applique.cloth import ClothUse, UseKind
from applique.cutting.diagram import Diagram, letters_of
from applique.drawings.cloth import PieceNames, draw_stretches
from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Heading, Led, Paragraph, Picture
from applique.shopping import FabricBuy
from applique.supplies import BOUGHT
from applique.words.cloth import use_said
from applique.words.cutting import cloth_said, cuts_said, numbers_said
from applique.words.instructions import cutting as said

__all__ = ["cutting"]


def cutting(book: Book) -> Chapter:
    """Every fabric, in the order of the shopping list."""
    return Chapter(kind=ChapterKind.CUTTING, title=said.CUTTING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    pattern = book.pattern
    yield Paragraph(said=said.WASH_FIRST if pattern.design.yardage.is_washed else said.UNWASHED)
    yield Paragraph(said=said.seam_allowance_said(pattern.panel.seam_allowance, book.units))
    for buy in pattern.shopping.cloth:
        yield from _fabric(book, buy)


def _fabric(book: Book, buy: FabricBuy) -> Iterator[Block]:
    units, cut = book.units, buy.cutting
    letters = letters_of(cut.diagrams)
    uses = {key: use_said(use) for use in cut.uses for key in use.keys}
    names = PieceNames(letters, uses, units, book.speech)
    yield Heading(said=buy.fabric.name)
    for _, alike in groupby(cut.diagrams, key=lambda one: (one.cloth.supply, one.cloth.root)):
        diagrams = list(alike)
        first = diagrams[0]
        which = cloth_said(cut, first.cloth.supply, [one.cloth.number for one in diagrams], units)
        yield Paragraph(said=which)
        for drawing in draw_stretches(first, names, book.width, which):
            yield Picture(drawing=drawing)
        yield from _cuts(book, first, letters)
    for use in buy.uses:
        if use.kind is UseKind.PANEL:
            yield from _panel(book, use, letters)
        else:
            yield Paragraph(said=said.cut_said(use, letters, units))
    if cut.leftovers:
        yield Paragraph(said=said.leftovers_of_said(cut.leftovers, units), quiet=True)


def _cuts(book: Book, diagram: Diagram, letters: Mapping[str, str]) -> Iterator[Block]:
    """Every cut in its order, in words, behind the numbers of its bands."""
    for band in diagram.bands:
        is_whole = diagram.cloth.supply != BOUGHT and band.course.size == diagram.length
        for depth, words in cuts_said(band, letters, book.units, is_whole=is_whole):
            yield Led(items=(("" if depth else numbers_said(band), words),), depth=depth)


def _panel(book: Book, use: ClothUse, letters: Mapping[str, str]) -> Iterator[Block]:
    plan, panel, units = book.pattern.quilt.panel, book.pattern.panel, book.units
    yield Paragraph(said=said.panel_said(panel, use, letters, units))
    if plan.seam is not None:
        yield Paragraph(said=said.seam_said(plan.seam, panel, units))
    if plan.fold is not None:
        yield Paragraph(said=said.CHECK_FOLDED)
        for words in said.fold_said(plan.fold, units):
            yield book.step(words)
