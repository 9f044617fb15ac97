"""Chapters of the instructions as a reader gets them: their words, their steps, and the words in a drawing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from applique.design import Method, design_from_mapping
from applique.drawings import Drawing, Words
from applique.instructions import Edition, instructions_of
from applique.instructions.values import (
    Block,
    Cautions,
    Chapter,
    ChapterKind,
    Chip,
    Choices,
    Heading,
    Led,
    Listed,
    Paragraph,
    Picture,
    Step,
    Table,
)
from applique.pattern import Pattern, draft

__all__ = ["chapter_of", "drafted", "drawings_of", "said_in", "steps_of", "words_in"]


def drafted(**data: Any) -> Pattern:
    """The pattern of a small design."""
    return draft(design_from_mapping({"row": [{"text": "LO"}], **data}))


def chapter_of(
    pattern: Pattern, kind: ChapterKind, method: Method | None = None, edition: Edition = Edition.CUSTOMER
) -> Chapter:
    """One chapter of the instructions."""
    book = instructions_of(pattern, edition=edition, method=method)
    return next(chapter for chapter in book.chapters if chapter.kind is kind)


def steps_of(chapter: Chapter) -> list[Step]:
    """Its steps."""
    return [block for block in chapter.blocks if isinstance(block, Step)]


def drawings_of(chapter: Chapter) -> list[Drawing]:
    """Its drawings, beside steps or across the line."""
    steps = [block.drawing for block in chapter.blocks if isinstance(block, Step | Picture)]
    return [drawing for drawing in steps if drawing is not None]


def said_in(chapter: Chapter) -> str:
    """Everything that is said in it, its drawings not counted."""
    return "\n".join(" ".join(_said(block)) for block in chapter.blocks)


def _said(block: Block) -> Iterator[str]:
    match block:
        case Heading(said=said) | Paragraph(said=said):
            yield str(said)
        case Listed(items=items) | Cautions(items=items):
            yield from map(str, items)
        case Led(items=leads):
            yield from (str(said) for lead in leads for said in lead)
        case Step(said=words, ticks=ticks):
            yield from (*map(str, words), *(str(tick.said) for tick in ticks))
        case Table(rows=rows):
            yield from (cell.name if isinstance(cell, Chip) else str(cell) for row in rows for cell in row)
        case Picture(caption=caption):
            yield str(caption or "")
        case Choices(options=options):
            yield from (str(said) for option in options for said in (option.title, *option.said))


def words_in(drawing: Drawing) -> list[str]:
    """What is written in a drawing."""
    return [str(mark.said) for mark in drawing.marks if isinstance(mark, Words)]
