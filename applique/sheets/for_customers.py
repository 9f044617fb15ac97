"""What a customer prints: everything from cover to care in one file, the templates alone, a page to color in."""

from __future__ import annotations

from collections.abc import Callable

from applique.instructions import ChapterKind, Instructions, coloring_alone
from applique.language import Message
from applique.pattern import Pattern
from applique.sheets.booklet import booklet_texts, draw_chapters, laid_out
from applique.sheets.first_page import first_page
from applique.sheets.frame import Drawn, Sheet
from applique.sheets.guide import draw_guide, guide_texts
from applique.sheets.label import draw_label, label_texts
from applique.sheets.measure import Entry, Layout
from applique.sheets.nests import draw_nests, nest_texts
from applique.sheets.templates import draw_templates, template_texts
from applique.words import guide, label, nests
from applique.words.instructions import care, cover
from applique.words.templates import template_file

__all__ = ["coloring_pdf", "template_pages_pdf", "whole_pattern_pdf"]

_LAST = (ChapterKind.COLORING, ChapterKind.CARE)
"""Chapters that come after the templates."""


def whole_pattern_pdf(pattern: Pattern, instructions: Instructions) -> bytes:
    """`instructions`, then placement guide, nests, label and templates, then what comes last, as one file."""
    return laid_out(lambda layout, trial: _whole(pattern, instructions, layout, trial=trial))


def _whole(
    pattern: Pattern, instructions: Instructions, layout: Layout, *, trial: bool
) -> tuple[Sheet, Layout]:
    """The file as `layout` says it turns out, and how it did."""
    tell, mirrored = pattern.speech.tell, pattern.design.sewing.traced_mirrored
    file = template_file(
        pattern.design, mirrored=mirrored, neighbors=pattern.sheets.has_neighbors, for_customers=True
    )
    sheet = Sheet(
        pattern,
        subject=tell(cover.SUBJECT),
        page_count=layout.pages,
        texts=(
            *booklet_texts(pattern),
            *guide_texts(pattern, ()),
            *nest_texts(pattern),
            *label_texts(pattern),
            *template_texts(pattern, file),
        ),
        mirrored=False,
        drawn=Drawn.NOTHING,
        trial=trial,
    )
    first = draw_chapters(sheet, [one for one in instructions.chapters if one.kind not in _LAST], layout)
    parts: list[Entry] = []

    def part(title: Message, line: Message, note: str, *draw: Callable[[], None], mirrored: bool) -> None:
        before = sheet.page
        sheet.turn_to(method=tell(line), mirrored=mirrored)
        for one in draw:
            one()
        parts.append(Entry(tell(title), None, (before + 1, sheet.page), note))

    part(cover.GUIDE, guide.METHOD, "", lambda: draw_guide(sheet, pattern, ()), mirrored=False)
    lying = nests.lying_said(pattern.fusible)
    part(lying, lying, "", lambda: draw_nests(sheet, pattern, for_customers=True), mirrored=mirrored)
    if pattern.quilt.layered:
        part(cover.LABEL, label.METHOD, "", lambda: draw_label(sheet, pattern), mirrored=False)
    part(
        cover.TEMPLATES,
        file.line,
        tell(cover.TRUE_PAGES),
        lambda: first_page(sheet, pattern, file, ()),
        lambda: draw_templates(sheet, pattern),
        mirrored=mirrored,
    )
    anchors = tuple(sheet.anchors.items())
    sheet.turn_to(drawn=Drawn.NOTHING)
    last = draw_chapters(sheet, [one for one in instructions.chapters if one.kind in _LAST], layout)
    return sheet, Layout(sheet.page, (*first.entries, *parts, *last.entries), anchors, layout.measured)


def template_pages_pdf(pattern: Pattern) -> bytes:
    """The template pages alone, as the method needs them: mirrored or the right way round."""
    tell, mirrored = pattern.speech.tell, pattern.design.sewing.traced_mirrored
    file = template_file(
        pattern.design, mirrored=mirrored, neighbors=pattern.sheets.has_neighbors, for_customers=True
    )
    sheet = Sheet(
        pattern,
        subject=tell(file.subject),
        method=tell(file.line),
        page_count=pattern.sheets.page_count + 1,
        texts=template_texts(pattern, file),
        mirrored=mirrored,
    )
    first_page(sheet, pattern, file, ())
    draw_templates(sheet, pattern)
    return sheet.finish()


def coloring_pdf(pattern: Pattern) -> bytes:
    """The page to color in, alone."""
    sheet = Sheet(
        pattern,
        subject=pattern.speech.tell(care.COLORING),
        page_count=1,
        texts=booklet_texts(pattern),
        mirrored=False,
        drawn=Drawn.NOTHING,
    )
    draw_chapters(sheet, [coloring_alone(pattern)], Layout(pages=1))
    return sheet.finish()
