"""The cover: the quilt, its name, its size."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.drawings.quilt import draw_quilt, draw_scene
from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Paragraph, Picture
from applique.words.instructions import cover as said
from applique.words.picture import beside_said
from applique.words.quilt import bed_said

__all__ = ["cover"]

_QUILT_HIGH: Final = 330.0
_SCENE_HIGH: Final = 118.0


def cover(book: Book) -> Chapter:
    """The quilt large, and to scale in a room."""
    return Chapter(kind=ChapterKind.COVER, title=book.pattern.title, blocks=tuple(_blocks(book)), apart=True)


def _blocks(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    publisher = pattern.design.publisher
    byline = said.byline_said(publisher.name or pattern.design.designer, publisher.skill)
    if byline:
        yield Paragraph(said=byline, quiet=True)
    finished = said.finished_said(pattern.quilt, units)
    yield Picture(drawing=draw_quilt(pattern.picture, (book.width, _QUILT_HIGH), finished))
    yield Paragraph(said=finished)
    if pattern.quilt.bed is not None:
        yield Paragraph(said=bed_said(pattern.quilt.bed, units))
    beside = beside_said(pattern.quilt.scene, units)
    yield Picture(drawing=draw_scene(pattern.picture, (book.width, _SCENE_HIGH), beside), caption=beside)
    for text in (publisher.contact, publisher.license):
        if text:
            yield Paragraph(said=text, quiet=True)
