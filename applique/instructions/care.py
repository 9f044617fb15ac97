"""Care, and what to know before the pattern is passed on."""

from __future__ import annotations

from applique.cautions import ALL_CAUTIONS, RIGHTS
from applique.instructions.book import Book
from applique.instructions.values import Cautions, Chapter, ChapterKind, Paragraph
from applique.words.sheets import TAKE_CARE

__all__ = ["care"]


def care(_: Book) -> Chapter:
    """The cautions of the sewing room, and whose the words are."""
    return Chapter(
        kind=ChapterKind.CARE,
        title=TAKE_CARE,
        blocks=(Cautions(items=ALL_CAUTIONS), Paragraph(said=RIGHTS, quiet=True)),
    )
