"""At the end: a page to color, care, thanks, what may be done with the pattern, and whom to ask."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.cautions import CRIB, RIGHTS, SELLING
from applique.drawings.publishing import draw_code
from applique.drawings.quilt import draw_coloring
from applique.instructions.book import Book
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Listed, Paragraph, Picture
from applique.words.instructions import care as said
from applique.words.publishing import license_said

__all__ = ["care", "coloring"]

_COLORED: Final = 340.0
"""Points that leave room for what comes last on the same page."""


def coloring(book: Book) -> Chapter:
    """The quilt in lines alone, to try fabrics on with crayons."""
    drawing = draw_coloring(book.picture, (book.width, _COLORED), said.TO_COLOR)
    return Chapter(
        kind=ChapterKind.COLORING,
        title=said.COLORING,
        blocks=(Paragraph(said=said.TO_COLOR, quiet=True), Picture(drawing=drawing)),
        apart=True,
    )


def care(book: Book) -> Chapter:
    """How the quilt is cared for, with the cautions of a finished quilt, and the rights."""
    return Chapter(kind=ChapterKind.CARE, title=said.CARE, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    design = book.pattern.design
    if design.label.care:
        yield Listed(items=design.label.care)
    yield Cautions(items=(CRIB, SELLING))
    thanks = (said.THANKS, license_said(design.publisher), design.publisher.contact)
    if book.pattern.contact_code is not None:
        code = draw_code(book.pattern.contact_code, design.publisher.contact)
        yield Picture(drawing=code, beside=tuple(text for text in thanks if text))
    else:
        for text in thanks:
            if text:
                yield Paragraph(said=text)
    if not book.is_customers:
        yield Paragraph(said=RIGHTS, quiet=True)
