"""Trimming a panel that was cut larger."""

from __future__ import annotations

from applique.instructions.book import Book
from applique.instructions.values import Chapter, ChapterKind
from applique.words.instructions import trimming as said

__all__ = ["trimming"]


def trimming(book: Book) -> Chapter | None:
    """The panel to its size once its letters are stitched; nothing where it was cut to size."""
    panel = book.pattern.panel
    if not panel.trim:
        return None
    steps = tuple(book.step(words) for words in said.trim_said(panel, book.units))
    return Chapter(kind=ChapterKind.TRIMMING, title=said.TRIMMING, blocks=steps)
