"""Trimming a panel that was cut larger, and squaring up one that was not."""

from __future__ import annotations

from typing import Final

from applique.cautions import BLADE
from applique.design import WhenStitched
from applique.drawings.trimming import draw_trim
from applique.instructions.book import Book
from applique.instructions.values import Cautions, Chapter, ChapterKind
from applique.picture import Part
from applique.words.instructions import trimming as said

__all__ = ["trimming"]

_DRAWN: Final = (236.0, 250.0)


def trimming(book: Book) -> Chapter | None:
    """The panel to its size once its letters are stitched; nothing where there is no panel by itself any more."""
    panel, units = book.pattern.panel, book.units
    if not panel.is_cut:
        return None
    if not panel.trim:
        if book.pattern.stitching.when is not WhenStitched.PANEL and not book.pattern.quilt.borders:
            return None
        bordered = bool(book.pattern.quilt.borders)
        check = book.step(*said.square_up_said(panel, units, bordered=bordered))
        return Chapter(
            kind=ChapterKind.TRIMMING, title=said.SQUARE_UP, blocks=(Cautions(items=(BLADE,)), check)
        )
    behind = tuple(item.laid for item in book.picture.on_panel(Part.OUTLINE))
    drawing = draw_trim(panel, behind, _DRAWN, units, book.speech)
    mark, trim = said.trim_said(panel, units, outlined=bool(behind))
    return Chapter(
        kind=ChapterKind.TRIMMING,
        title=said.TRIMMING,
        blocks=(book.step(*mark, drawing=drawing), Cautions(items=(BLADE,)), book.step(*trim)),
    )
