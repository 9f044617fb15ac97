"""Letters: how they are cut."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Listed, Paragraph, Table
from applique.pieces import rows_said
from applique.words.instructions import letters as said

__all__ = ["letters"]

_TEMPLATES: Final = tuple(zip(said.TEMPLATES_HEAD, (1.2, 1.6, 5.0, 2.0), strict=True))


def letters(book: Book) -> Chapter:
    """From the printed templates to letters ready to place."""
    return Chapter(kind=ChapterKind.LETTERS, title=said.LETTERING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    design, templates = pattern.design, pattern.templates
    pages, count, joined = pattern.sheets.page_count + 1, pattern.letter_count, pattern.joins_letters
    for words in said.lettering_said(count, len(templates), pages, design.paper.size, joined=joined):
        yield Paragraph(said=words)
    yield Listed(items=said.files_said(design.fusible.rough_cut, units))
    for words in said.turned_said(templates, design.sewing.turn_under, units):
        yield Paragraph(said=words)
    for words in said.ring_said(templates, design.fusible.ring, units):
        yield Paragraph(said=words)
    yield Table(
        columns=_TEMPLATES,
        rows=tuple(
            (
                str(template.number),
                said.template_said(template),
                said.template_uses_said(template),
                rows_said(template),
            )
            for template in templates
        ),
    )
