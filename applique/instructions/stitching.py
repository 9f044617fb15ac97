"""Stitching: the stitch of each row, its numbers, the order of work, and where to start on each letter."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.drawings.letters import draw_starts
from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Heading, Paragraph, Picture, Table
from applique.units import as_distance
from applique.words.instructions import stitching as said
from applique.words.instructions.sizes import percent_said

__all__ = ["stitching"]

_STARTS_HIGH: Final = 150.0
_STITCHING: Final = tuple(zip(said.STITCHING_HEAD, (0.6, 1.3, 1.8, 1.5, 1.3, 2.2, 2.0), strict=True))
_READING: Final = tuple(zip(said.READING_HEAD, (0.7, 2.0, 2.0, 2.0, 2.0), strict=True))


def stitching(book: Book) -> Chapter:
    """How the letters are stitched down."""
    return Chapter(kind=ChapterKind.STITCHING, title=said.STITCHING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    pattern, plan, units = book.pattern, book.pattern.stitching, book.units
    yield Table(columns=_STITCHING, rows=tuple(said.row_cells(row, units) for row in plan.rows))
    yield Paragraph(said=said.why_stitches_said(plan.rows), quiet=True)
    yield Paragraph(said=said.time_said(plan))
    bordered = bool(pattern.quilt.borders)
    yield Paragraph(said=said.when_said(plan, pattern.design.stitching.throat, units, bordered=bordered))
    yield Heading(said=said.ORDER)
    for words in said.order_said(plan, pattern.outlines, units):
        yield book.step(words)
    yield Heading(said=said.START)
    yield Paragraph(said=said.START_STRAIGHT)
    starts = [letter.starts for letter in plan.letters]
    drawing = draw_starts(pattern.templates, starts, (book.width, _STARTS_HIGH), said.START_STRAIGHT)
    yield Picture(drawing=drawing)
    yield from _reading(book)


def _reading(book: Book) -> Iterator[Block]:
    units = book.units
    yield Heading(said=said.READING)
    yield Table(
        columns=_READING,
        rows=tuple(
            (
                str(reading.row),
                as_distance(reading.comfortable, units),
                as_distance(reading.farthest, units),
                "" if reading.stroke is None else percent_said(reading.stroke),
                "" if reading.gap is None else percent_said(reading.gap),
            )
            for reading in book.pattern.checks.readings
        ),
    )
    yield Paragraph(said=said.signs_said(), quiet=True)
