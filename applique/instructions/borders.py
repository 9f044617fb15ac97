"""Borders, round by round."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.drawings.quilt import draw_round
from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Heading
from applique.words.instructions import borders as said

__all__ = ["borders"]

_DRAWN: Final = (104.0, 102.0)


def borders(book: Book) -> Chapter | None:
    """Every border in its rounds of sewing; nothing where there is none."""
    if not book.pattern.quilt.borders:
        return None
    return Chapter(kind=ChapterKind.BORDERS, title=said.BORDERS, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    for border in pattern.quilt.borders:
        title = said.border_said(border, units)
        yield Heading(said=title)
        for step in border.steps:
            drawing = draw_round(pattern.picture, border, step, _DRAWN, title)
            yield book.step(
                *said.step_said(border, step, pattern.panel.seam_allowance, units), drawing=drawing
            )
