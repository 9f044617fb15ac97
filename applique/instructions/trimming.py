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
from applique.language import Message
from applique.picture import Part
from applique.words import panel_shapes
from applique.words.blocks import blocks_named
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
        title=panel_shapes.CUT_TO_SHAPE if shaped else _title(book),
        blocks=tuple(_blocks(book)),
    )


def _title(book: Book) -> Message:
    of_blocks, trimmed = bool(book.pattern.quilt.blocks), bool(book.pattern.panel.trim)
    if of_blocks:
        return said.TRIM_BLOCKS if trimmed else said.SQUARE_UP_BLOCKS
    return said.TRIMMING if trimmed else said.SQUARE_UP


def _blocks(book: Book) -> Iterator[Block]:
    """Every panel that is trimmed, blocks of which the same is said together, and one of each size that is squared
    up."""
    alike: dict[tuple[tuple[Message, ...], ...], list[tuple[str, int]]] = {}
    for placed, (_, one) in zip(book.pattern.sketch.placed.blocks, book.panels(), strict=True):
        if one.pattern.panel.outline is None and one.pattern.panel.trim:
            alike.setdefault(_trim_said(book, one), []).append((placed.name, placed.count))
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
            steps = _trim_said(book, one)
            if steps in alike:
                names = alike.pop(steps)
                yield from () if heading is None else (Heading(said=blocks_named(names)),)
                yield from _trimmed(one, steps)
        elif panel.trimmed not in squared:
            squared.add(panel.trimmed)
            bordered = bool(one.pattern.quilt.borders)
            yield Cautions(items=(BLADE,))
            yield one.step(
                *said.square_up_said(
                    panel,
                    one.units,
                    bordered=bordered,
                    of_blocks=bool(book.pattern.quilt.blocks),
                    set_together=book.pattern.quilt.setting is not None,
                )
            )


def _cut_out(book: Book, *, with_drawing: bool) -> Block:
    """A panel cut to its outline."""
    panel, units = book.pattern.panel, book.units
    above = said.trimmed_from(panel).above
    drawing = draw_cut_out(panel, _SHAPED) if with_drawing else None
    return book.step(*panel_shapes.cut_out_said(above, units), drawing=drawing)


def _trim_said(book: Book, one: Book) -> tuple[tuple[Message, ...], ...]:
    """The steps of trimming `one` panel of a book."""
    outlined = any(one.picture.on_panel(Part.OUTLINE))
    of_blocks = bool(book.pattern.quilt.blocks)
    return said.trim_said(one.pattern.panel, one.units, outlined=outlined, of_blocks=of_blocks)


def _trimmed(book: Book, steps: tuple[tuple[Message, ...], ...]) -> Iterator[Block]:
    panel, units = book.pattern.panel, book.units
    behind = tuple(item.laid for item in book.picture.on_panel(Part.OUTLINE))
    drawing = draw_trim(panel, behind, _DRAWN, units, book.speech)
    mark, trim = steps
    yield book.step(*mark, drawing=drawing)
    yield Cautions(items=(BLADE,))
    yield book.step(*trim)
