"""At the end: a page to color, care, thanks, what may be done with the pattern, and whom to ask."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.cautions import CRIB, RIGHTS, SELLING, SLEEPWEAR
from applique.design import Method
from applique.drawings.publishing import draw_code
from applique.drawings.quilt import below_one_another, draw_coloring, turned
from applique.instructions.book import Book
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Listed, Paragraph, Picture
from applique.pattern import Pattern
from applique.words import garment, loose
from applique.words.instructions import care as said
from applique.words.publishing import license_said

__all__ = ["care", "coloring", "coloring_alone"]

_COLORED: Final = 430.0
"""Points that leave room for what comes last on the same page."""
_MOST_TIMES: Final = 3
_STILL_GOOD: Final = 0.7
_BETWEEN: Final = 16.0
"""So often the quilt stands on that page if each is so large, of its size alone, with so many points between them."""
_ABOVE: Final = 120.0
"""Points above the drawing where it has a page to itself, and of white around it."""
_POINTS: Final = 72.0


def coloring(book: Book) -> Chapter:
    """The quilt in lines alone, to try fabrics on with crayons; a wide one several times on paper."""
    one = draw_coloring(book.picture, (book.width, _COLORED), said.TO_COLOR)
    drawing = one
    for times in range(2, _MOST_TIMES + 1):
        high = (_COLORED - (times - 1) * _BETWEEN) / times
        if high >= _STILL_GOOD * one.height:
            again = draw_coloring(book.picture, (book.width, high), said.TO_COLOR)
            drawing = below_one_another(again, times, _BETWEEN)
    return Chapter(
        kind=ChapterKind.COLORING,
        title=said.COLORING,
        blocks=(Paragraph(said=said.TO_COLOR, quiet=True), Picture(drawing=drawing, on_screen=one)),
        apart=True,
    )


def coloring_alone(pattern: Pattern) -> Chapter:
    """The same on a page of its own, as large as that holds it: a wide quilt lies on its side."""
    frame = pattern.sheets.frame
    wide, high = (
        (side - 2 * frame.margin) * _POINTS - taken
        for side, taken in ((frame.width, 0.0), (frame.height, _ABOVE))
    )
    upright = draw_coloring(pattern.picture, (wide, high), said.TO_COLOR)
    lying = turned(draw_coloring(pattern.picture, (high, wide), said.TO_COLOR))
    drawing = max(upright, lying, key=lambda one: one.width * one.height)
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
    panel, fused = book.pattern.panel, book.method is not Method.TURNED_EDGE
    if not panel.is_cut:
        yield Paragraph(said=(loose if panel.loose else garment).care_said(fused=fused))
    elif design.label.care:
        yield Listed(items=design.label.care)
    yield Cautions(items=(CRIB if panel.is_cut else SLEEPWEAR, SELLING))
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
