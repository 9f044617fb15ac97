"""`pattern.pdf`: the instructions on pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from applique.instructions import Chapter, Instructions, Step, instructions_of
from applique.pattern import Pattern
from applique.sheets.flow import Flow, stands_beside
from applique.sheets.frame import Sheet
from applique.words.instructions import cover as said
from applique.words.sheets import notice_said

__all__ = ["booklet_texts", "draw_chapters", "pattern_pdf", "publisher_line"]


def pattern_pdf(pattern: Pattern, instructions: Instructions | None = None) -> bytes:
    """The instructions of `pattern` as PDF, chapter by chapter; those for its maker unless others are given."""
    instructions = instructions_of(pattern) if instructions is None else instructions
    pages = _written(pattern, instructions, 0).page
    return _written(pattern, instructions, pages).finish()


def _written(pattern: Pattern, instructions: Instructions, pages: int) -> Sheet:
    """The booklet with `pages` in its headers; it is laid out once to count them and once to be kept."""
    speech = pattern.speech
    sheet = Sheet(
        pattern,
        subject=speech.tell(said.SUBJECT),
        method=publisher_line(pattern),
        page_count=pages,
        texts=booklet_texts(pattern),
        mirrored=False,
        rules=False,
    )
    draw_chapters(sheet, instructions.chapters)
    return sheet


def draw_chapters(sheet: Sheet, chapters: Sequence[Chapter]) -> None:
    """Chapters, at least one, next on `sheet`."""
    width = sheet.right - sheet.left
    drawings = [
        block.drawing.width
        for chapter in chapters
        for block in chapter.blocks
        if isinstance(block, Step) and block.drawing is not None and stands_beside(block.drawing, width)
    ]
    flow = Flow(sheet, sheet.speech, said.COVER, beside=max(drawings, default=0.0))
    for chapter in chapters:
        flow.chapter(chapter)


def booklet_texts(pattern: Pattern) -> Iterator[str]:
    """What the booklet spells of a maker's own words."""
    design = pattern.design
    publisher, label = design.publisher, design.label
    yield from (row.text for row in pattern.panel.rows)
    yield from pattern.quilt.fabrics.by_name
    yield from (
        design.designer,
        publisher.name,
        publisher.mark,
        publisher.contact,
        publisher.license,
        publisher.edition,
        publisher.skill,
    )
    yield from (label.maker, label.date, label.place, *label.care)
    yield from (pattern.speech.tell(notice_said(notice)) for notice in pattern.notices)


def publisher_line(pattern: Pattern) -> str:
    """Whose pattern it is, or that it is one."""
    publisher = pattern.design.publisher
    line = " · ".join(part for part in (publisher.mark, publisher.name or pattern.design.designer) if part)
    return line or pattern.speech.tell(said.METHOD)
