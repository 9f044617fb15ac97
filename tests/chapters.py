"""Chapters of the instructions as a reader gets them: their words, their steps, and the words in a drawing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations
from typing import Any

from applique.design import Method, design_from_mapping
from applique.drawings import Drawing, Words, text_width
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

__all__ = ["boxes_in", "chapter_of", "drafted", "drawings_of", "run_over", "said_in", "steps_of", "words_in"]


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


Box = tuple[float, float, float, float]


def boxes_in(drawing: Drawing) -> list[tuple[str, Box]]:
    """What is written in a drawing and the room it takes: left, low, right, top."""
    shares = {"start": 0.0, "middle": 0.5, "end": 1.0}
    found = []
    for mark in drawing.marks:
        if isinstance(mark, Words):
            text = str(mark.said)
            wide = text_width(text, mark.size, bold=mark.bold)
            left, turn = -wide * shares[mark.anchor.value], math.radians(mark.turn_deg)
            corners = [
                (
                    mark.at[0] + x * math.cos(turn) - y * math.sin(turn),
                    mark.at[1] + x * math.sin(turn) + y * math.cos(turn),
                )
                for x in (left, left + wide)
                for y in (0.0, mark.size * 0.7)
            ]
            xs, ys = zip(*corners, strict=True)
            found.append((text, (min(xs), min(ys), max(xs), max(ys))))
    return found


def run_over(drawing: Drawing) -> list[str]:
    """Words of a drawing that stand on other words, or out of it."""
    boxes = boxes_in(drawing)
    out = [
        text
        for text, (left, low, right, top) in boxes
        if min(left, low) < -1.5 or right > drawing.width + 1.5 or top > drawing.height + 1.5
    ]
    over = [
        f"{one} / {other}"
        for (one, a), (other, b) in combinations(boxes, 2)
        if min(a[2], b[2]) - max(a[0], b[0]) > 0.8 and min(a[3], b[3]) - max(a[1], b[1]) > 0.8
    ]
    return out + over
