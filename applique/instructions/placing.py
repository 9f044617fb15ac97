"""Placing: center line, baselines, every letter's place, and how they are held there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.cautions import IRON, MAKERS, PINS, STEAM
from applique.design import Method
from applique.drawings.folding import draw_center_fold
from applique.drawings.placing import draw_fused_down, draw_placing
from applique.instructions.book import Book
from applique.instructions.letters import leftward_rows
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Picture, Table, Tick
from applique.marks import panel_lines
from applique.picture import Part
from applique.words.instructions import placing as said
from applique.words.sheets import from_center, table_said

__all__ = ["placing"]

_ROWS: Final = tuple(zip(said.ROWS_HEAD, (0.7, 3.6, 2.4, 2.2, 2.2), strict=True))
_HIGH: Final = 290.0
"""Points that the placement drawing may be high, and that of many rows."""
_HIGHER: Final = 520.0
_MANY: Final = 12


def placing(book: Book) -> Chapter:
    """How the letters come onto the panel."""
    return Chapter(kind=ChapterKind.PLACING, title=said.PLACING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    panel, marks, lines = pattern.panel, pattern.marks, panel_lines(pattern.panel)
    items = tuple(book.picture.on_panel(Part.OUTLINE, Part.LETTER, Part.SHAPE))
    inked = [
        *(cut.ink for cut in panel.cuts),
        *(item.laid.bounds() for item in items if item.part is Part.OUTLINE),
    ]
    fused = book.method is not Method.TURNED_EDGE
    size = (panel.cut_width, panel.cut_height)
    yield book.step(
        said.pen_tested_said(book.method),
        said.center_said(panel, units),
        drawing=draw_center_fold(size, panel.center_from_edge, units, said.CENTERED),
    )
    yield book.step(said.mark_rows_said(panel, units))
    yield Picture(
        drawing=draw_placing(
            lines,
            marks,
            items,
            inked,
            (book.width, _HIGH if len(marks) <= _MANY else _HIGHER),
            units,
            book.speech,
            said.PLACED,
        )
    )
    yield from leftward_rows(book)
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
            for mark in marks
        ),
    )
    behind = (said.outlines_said(),) if pattern.outlines else ()
    yield book.step(*said.laid_out_said(book.method), *behind)
    yield book.step(said.look_said())
    yield Cautions(items=(IRON, STEAM, MAKERS) if fused else (PINS, IRON))
    yield book.step(
        said.hold_said(book.method),
        drawing=draw_fused_down(lines, items, inked, said.HELD[fused], fused=fused),
        ticks=tuple(
            Tick(key=f"hold-{number}", said=said.row_tick_said(mark)) for number, mark in enumerate(marks, 1)
        ),
    )
    yield book.step(said.marks_off_said(trimmed=bool(panel.trim)))
