"""The cover: the quilt, its name, its size; and on the next page how big it turns out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.drawings.publishing import draw_mark, draw_monogram
from applique.drawings.quilt import draw_quilt, draw_scene
from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Paragraph, Picture
from applique.words import garment, loose
from applique.words.instructions import cover as said
from applique.words.picture import beside_said
from applique.words.publishing import edition_said
from applique.words.quilt import bed_said

__all__ = ["cover", "scale"]

_QUILT_HIGH: Final = 500.0
_MARK: Final = (160.0, 44.0)
_LETTERED: Final = 30.0
"""Points that a mark of letters is high."""
_SCENE_HIGH: Final = 210.0


def cover(book: Book) -> Chapter:
    """The quilt large, with its title, its size, and who it is by and for."""
    return Chapter(kind=ChapterKind.COVER, title=book.pattern.title, blocks=tuple(_cover(book)), apart=True)


def _cover(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    publisher = pattern.design.publisher
    byline = said.byline_said(publisher.name or pattern.design.designer, publisher.skill)
    if pattern.mark is not None or publisher.mark:
        drawing = (
            draw_monogram(publisher.mark, _LETTERED)
            if pattern.mark is None
            else draw_mark(pattern.mark, _MARK, publisher.name)
        )
        yield Picture(drawing=drawing, beside=(byline,) if byline else ())
    elif byline:
        yield Paragraph(said=byline, quiet=True)
    finished = said.finished_said(pattern.quilt, units)
    if pattern.panel.worn is not None:
        finished = garment.finished_said(pattern.panel, units)
    elif pattern.panel.loose:
        finished = loose.finished_said(pattern.reach, units)
    yield Picture(drawing=draw_quilt(book.picture, (book.width, _QUILT_HIGH), finished))
    yield Paragraph(said=finished)
    yield Paragraph(
        said=said.techniques_said(
            book.method,
            dict.fromkeys(row.stitch.stitch for row in pattern.stitching.rows),
            pattern.quilt.borders,
            pattern.quilt.binding,
        )
    )
    if edition_said(publisher):
        yield Paragraph(said=edition_said(publisher), quiet=True)


def scale(book: Book) -> Chapter | None:
    """The quilt to scale in a room; nothing of blocks that are each finished by itself."""
    if book.pattern.quilt.apart:
        return None
    return Chapter(kind=ChapterKind.SCALE, title=said.SCALE, blocks=tuple(_scale(book)), apart=True)


def _scale(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    beside = beside_said(pattern.quilt.scene, units)
    yield Picture(drawing=draw_scene(book.picture, (book.width, _SCENE_HIGH), beside), caption=beside)
    if pattern.quilt.bed is not None:
        yield Paragraph(said=bed_said(pattern.quilt.bed, units))
