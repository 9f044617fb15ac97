"""Trimming a panel that was cut larger, and squaring up one that was not."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from applique.cautions import BLADE, SCISSORS
from applique.design import PanelShape, WhenStitched
from applique.drawings.trimming import draw_cut_out, draw_trim
from applique.instructions.book import Book
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Heading
from applique.picture import Part
from applique.words import panel_shapes
from applique.words.instructions import trimming as said

__all__ = ["trimming"]

_DRAWN: Final = (236.0, 250.0)
_SHAPED: Final = (150.0, 170.0)


def trimming(book: Book) -> Chapter | None:
    """The panel to its size once its letters are stitched; nothing where there is no panel by itself any more."""
    panel = book.pattern.panel
    if not panel.is_cut:
        return None
    squared = book.pattern.stitching.when is WhenStitched.PANEL or book.pattern.quilt.borders
    shaped = bool(book.pattern.quilt.shapes)
    if not panel.trim and not squared and not shaped:
        return None
    return Chapter(
        kind=ChapterKind.TRIMMING,
        title=panel_shapes.CUT_TO_SHAPE if shaped else said.TRIMMING if panel.trim else said.SQUARE_UP,
        blocks=tuple(_blocks(book)),
    )


def _blocks(book: Book) -> Iterator[Block]:
    """Every panel that is trimmed, and one of each size that is squared up."""
    squared: set[tuple[Fraction, Fraction]] = set()
    drawn: set[PanelShape] = set()
    if book.pattern.quilt.shapes:
        yield Cautions(items=(SCISSORS, BLADE))
        yield book.step(*panel_shapes.template_made_said(book.pattern.panel_templates))
    for heading, one in book.panels():
        panel = one.pattern.panel
        if panel.outline is not None:
            yield from () if heading is None else (Heading(said=heading),)
            yield _cut_out(one, with_drawing=panel.shape not in drawn)
            drawn.add(panel.shape)
        elif panel.trim:
            yield from () if heading is None else (Heading(said=heading),)
            yield from _trimmed(one)
        elif panel.trimmed not in squared:
            squared.add(panel.trimmed)
            bordered = bool(one.pattern.quilt.borders)
            yield Cautions(items=(BLADE,))
            yield one.step(
                *said.square_up_said(
                    panel, one.units, bordered=bordered, set_together=book.pattern.quilt.setting is not None
                )
            )


def _cut_out(book: Book, *, with_drawing: bool) -> Block:
    """A panel cut to its outline."""
    panel, units = book.pattern.panel, book.units
    above = said.trimmed_from(panel).above
    drawing = draw_cut_out(panel, _SHAPED) if with_drawing else None
    return book.step(*panel_shapes.cut_out_said(above, units), drawing=drawing)


def _trimmed(book: Book) -> Iterator[Block]:
    panel, units = book.pattern.panel, book.units
    behind = tuple(item.laid for item in book.picture.on_panel(Part.OUTLINE))
    drawing = draw_trim(panel, behind, _DRAWN, units, book.speech)
    mark, trim = said.trim_said(panel, units, outlined=bool(behind))
    yield book.step(*mark, drawing=drawing)
    yield Cautions(items=(BLADE,))
    yield book.step(*trim)
