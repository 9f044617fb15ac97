"""`pattern.pdf`: the instructions on pages."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from applique.instructions import Chapter, ChapterKind, Instructions, Step, instructions_of
from applique.pattern import Pattern
from applique.sheets.flow import Flow
from applique.sheets.frame import Drawn, Sheet
from applique.sheets.measure import Layout
from applique.words.instructions import cover as said
from applique.words.sheets import notice_said

__all__ = ["booklet_texts", "draw_chapters", "laid_out", "pattern_pdf"]


def pattern_pdf(pattern: Pattern, instructions: Instructions | None = None) -> bytes:
    """The instructions of `pattern` as PDF, chapter by chapter; those for its maker unless others are given."""
    chapters = (instructions_of(pattern) if instructions is None else instructions).chapters
    return laid_out(lambda layout, trial: _written(pattern, chapters, layout, trial=trial))


def laid_out(write: Callable[[Layout, bool], tuple[Sheet, Layout]]) -> bytes:
    """What `write` writes: on trial without and with contents, and then drawn until what it says of its pages is how
    they turn out."""
    _, layout = write(Layout(), True)
    _, layout = write(layout, True)
    while True:
        sheet, found = write(layout, False)
        if found == layout:
            return sheet.finish()
        layout = found


def _written(
    pattern: Pattern, chapters: Sequence[Chapter], layout: Layout, *, trial: bool
) -> tuple[Sheet, Layout]:
    """The booklet as `layout` says it turns out, and how it did."""
    sheet = Sheet(
        pattern,
        subject=pattern.speech.tell(said.SUBJECT),
        page_count=layout.pages,
        texts=booklet_texts(pattern),
        mirrored=False,
        drawn=Drawn.NOTHING,
        trial=trial,
    )
    found = draw_chapters(sheet, chapters, layout)
    return sheet, found


def draw_chapters(sheet: Sheet, chapters: Sequence[Chapter], layout: Layout) -> Layout:
    """Chapters, at least one, next on `sheet` as `layout` says they turn out, and how they did."""
    drawings = [
        block.drawing.width
        for chapter in chapters
        for block in chapter.blocks
        if isinstance(block, Step) and block.drawing is not None and Flow.stands_beside(sheet, block.drawing)
    ]
    first = said.COVER if chapters[0].kind is ChapterKind.COVER else chapters[0].title
    flow = Flow(sheet, layout, beside=max(drawings, default=0.0))
    flow.chapters(chapters, first)
    return Layout(pages=sheet.page, entries=tuple(flow.entries), measured=layout.measured)


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
