"""What a customer prints: everything from cover to care in one file, the templates alone, a page to color in."""

from __future__ import annotations

from applique.instructions import ChapterKind, Instructions
from applique.pattern import Pattern
from applique.sheets.booklet import booklet_texts, draw_chapters, publisher_line
from applique.sheets.first_page import first_page
from applique.sheets.frame import Sheet
from applique.sheets.guide import draw_guide, guide_texts
from applique.sheets.label import draw_label, label_texts
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
    pages = _whole(pattern, instructions, 0).page
    return _whole(pattern, instructions, pages).finish()


def _whole(pattern: Pattern, instructions: Instructions, pages: int) -> Sheet:
    """The file with `pages` in its headers; it is laid out once to count them and once to be kept."""
    tell, mirrored = pattern.speech.tell, pattern.design.sewing.traced_mirrored
    file, line = (
        template_file(
            pattern.design, mirrored=mirrored, neighbors=pattern.sheets.has_neighbors, for_customers=True
        ),
        publisher_line(pattern),
    )
    sheet = Sheet(
        pattern,
        subject=tell(cover.SUBJECT),
        method=line,
        page_count=pages,
        texts=(
            *booklet_texts(pattern),
            *guide_texts(pattern, ()),
            *nest_texts(pattern),
            *label_texts(pattern),
            *template_texts(pattern, file),
        ),
        mirrored=False,
        rules=False,
    )
    draw_chapters(sheet, [one for one in instructions.chapters if one.kind not in _LAST])
    sheet.turn_to(method=tell(guide.METHOD))
    draw_guide(sheet, pattern, ())
    sheet.turn_to(method=tell(nests.lying_said(pattern.fusible)), mirrored=mirrored)
    draw_nests(sheet, pattern)
    sheet.turn_to(method=tell(label.METHOD))
    draw_label(sheet, pattern)
    sheet.turn_to(method=tell(file.line), mirrored=mirrored)
    first_page(sheet, pattern, file, ())
    draw_templates(sheet, pattern)
    sheet.turn_to(method=line, rules=False)
    draw_chapters(sheet, [one for one in instructions.chapters if one.kind in _LAST])
    return sheet


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


def coloring_pdf(pattern: Pattern, instructions: Instructions) -> bytes:
    """The page to color in, alone."""
    chapters = [one for one in instructions.chapters if one.kind is ChapterKind.COLORING]
    sheet = Sheet(
        pattern,
        subject=pattern.speech.tell(care.COLORING),
        method=publisher_line(pattern),
        page_count=1,
        texts=booklet_texts(pattern),
        mirrored=False,
        rules=False,
    )
    draw_chapters(sheet, chapters)
    return sheet.finish()
