"""Placing: center line, baselines, every letter's place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Table
from applique.words.instructions import placing as said
from applique.words.sheets import from_center, table_said

__all__ = ["placing"]

_ROWS: Final = tuple(zip(said.ROWS_HEAD, (0.7, 3.6, 2.4, 2.2, 2.2), strict=True))


def placing(book: Book) -> Chapter:
    """How the letters come onto the panel."""
    return Chapter(kind=ChapterKind.PLACING, title=said.PLACING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    units = book.units
    for words in said.placing_said(book.pattern.panel, units):
        yield book.step(words)
    yield Table(
        columns=_ROWS,
        rows=tuple(
            (
                table_said(mark.where),
                mark.text,
                said.baseline_said(mark.downs, units),
                from_center(mark.left, units),
                from_center(mark.right, units),
            )
            for mark in book.pattern.marks
        ),
    )
