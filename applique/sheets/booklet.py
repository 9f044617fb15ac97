"""`pattern.pdf`: the instructions on pages."""

from __future__ import annotations

from collections.abc import Iterator

from applique.instructions import Instructions, instructions_of
from applique.pattern import Pattern
from applique.sheets.flow import Flow
from applique.sheets.frame import Sheet
from applique.words.instructions import cover as said
from applique.words.sheets import notice_said

__all__ = ["pattern_pdf"]


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
        method=_publisher_line(pattern) or speech.tell(said.METHOD),
        page_count=pages,
        texts=_texts(pattern),
        mirrored=False,
        rules=False,
    )
    flow = Flow(sheet, sheet.speech, said.COVER)
    for chapter in instructions.chapters:
        flow.chapter(chapter)
    return sheet


def _texts(pattern: Pattern) -> Iterator[str]:
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


def _publisher_line(pattern: Pattern) -> str:
    publisher = pattern.design.publisher
    return " · ".join(part for part in (publisher.mark, publisher.name or pattern.design.designer) if part)
