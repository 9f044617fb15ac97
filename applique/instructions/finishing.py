"""Layers, binding, sleeve and label."""

from __future__ import annotations

from collections.abc import Iterator

from applique.cloth import UseKind
from applique.drawings.cloth import draw_back
from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Heading, Paragraph, Picture
from applique.words.buying import wide_said
from applique.words.instructions import finishing as said

__all__ = ["finishing"]


def finishing(book: Book) -> Chapter:
    """From the pieced top to the labeled quilt."""
    return Chapter(kind=ChapterKind.FINISHING, title=said.LAYERING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    quilt, shopping, units = book.pattern.quilt, book.pattern.shopping, book.units
    yield Paragraph(said=said.backing_said(quilt.backing, shopping.use(UseKind.BACKING), units))
    yield from _pieced_back(book)
    yield Paragraph(said=said.batting_said(quilt.batting, units))
    yield book.step(said.LAYER_IT)
    yield Heading(said=said.BINDING)
    binding = shopping.use(UseKind.BINDING)
    if binding is not None:
        yield Paragraph(said=said.binding_said(quilt.binding, binding, units))
        why = said.why_strips_said(quilt.binding, binding, units)
        if why is not None:
            yield Paragraph(said=why, quiet=True)
    yield book.step(said.BIND_IT)
    if quilt.sleeve is not None:
        yield Heading(said=said.SLEEVE)
        yield book.step(said.sleeve_said(quilt.sleeve, units))
    yield Heading(said=said.LABEL)
    yield book.step(said.SEW_LABEL)


def _pieced_back(book: Book) -> Iterator[Block]:
    """How the back is pieced from leftovers, drawn with its seams where it has any, and what wide backing takes."""
    shopping, units = book.pattern.shopping, book.units
    leftovers, mixed = shopping.leftover_backing, shopping.mixed_backing
    if mixed is not None:
        yield Paragraph(said=said.mixed_said(mixed, units))
    elif leftovers is not None:
        yield Paragraph(said=said.from_leftovers_said(leftovers, units))
        for number, row in enumerate(leftovers.rows if leftovers.enough else (), 1):
            yield Paragraph(said=said.backing_row_said(number, row, units))
    if len(shopping.back) > 1:
        whole = said.backing_said(book.pattern.quilt.backing, shopping.use(UseKind.BACKING), units)
        yield Picture(drawing=draw_back(shopping.back, book.speech, whole))
    if shopping.wide_backing is not None:
        yield Paragraph(said=wide_said(shopping.wide_backing, units), quiet=True)
