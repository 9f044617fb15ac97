"""The lines of quilting."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.drawings.quilt import draw_quilting
from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Heading, Paragraph, Picture
from applique.words.instructions import quilting as said

__all__ = ["quilting"]

_HIGH: Final = 190.0


def quilting(book: Book) -> Chapter | None:
    """Each kind of quilting with its drawing, length and thread; nothing where the design has none."""
    if not book.pattern.quilting:
        return None
    return Chapter(kind=ChapterKind.QUILTING, title=said.QUILTING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    for plan in book.pattern.quilting:
        title = said.quilting_title(plan)
        yield Heading(said=title)
        yield Paragraph(said=said.quilting_said(plan, book.units))
        yield Picture(drawing=draw_quilting(book.pattern.picture, plan.number, (book.width, _HIGH), title))
