"""`pattern.pdf`: the pattern that a stranger can sew from.

The words are those of `words.booklet`; every number comes from the `Pattern`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.cautions import ALL_CAUTIONS, RIGHTS
from applique.design import BackingKind
from applique.language import message
from applique.pattern import Pattern
from applique.pieces import rows_said
from applique.quilt.borders import BorderPlan, BorderStep
from applique.sheets.flow import Flow
from applique.sheets.frame import Sheet
from applique.sheets.quilt_drawing import draw_quilt, draw_scene, draw_step
from applique.sheets.sewing_pages import write_quilting, write_stitching
from applique.shopping import ShelfKind, UseKind
from applique.units import as_length, as_yardage
from applique.words.booklet import (
    backing_row_said,
    backing_said,
    baseline_said,
    batting_said,
    binding_said,
    border_said,
    byline_said,
    cut_said,
    files_said,
    finished_said,
    fold_said,
    from_leftovers_said,
    leftover_said,
    lettering_said,
    one_fabric_said,
    panel_said,
    placing_said,
    ring_said,
    seam_said,
    set_apart,
    sleeve_said,
    step_said,
    template_said,
    template_uses_said,
    turned_said,
    why_strips_said,
)
from applique.words.buying import figured_said, item_said, shelf_name, uses_said
from applique.words.quilt import bed_said
from applique.words.sheets import from_center, notice_said, table_said

__all__ = ["pattern_pdf"]

_METHOD: Final = message("Pattern")
_BUYING: Final = message("What to buy")
_CARE_KEPT: Final = 200.0
"""The cautions and the rights stand on one page."""
_FABRICS: Final = (
    (message("fabric"), 2.2),
    (message("for"), 2.6),
    (message("usable width"), 1.3),
    (message("buy"), 1.1),
    (message("how we figured it"), 4.2),
)
_TEMPLATES: Final = (
    (message("template"), 1.2),
    (message("letter"), 1.6),
    (message("cut"), 5.0),
    (message("row"), 2.0),
)
_ROWS: Final = (
    (message("row"), 0.7),
    (message("words"), 3.6),
    (message("baseline below cut top"), 2.4),
    (message("left end from center"), 2.2),
    (message("right end from center"), 2.2),
)


def pattern_pdf(pattern: Pattern) -> bytes:
    """The whole pattern as PDF: cover, what to buy, cutting, lettering, placing, borders, finishing, cautions."""
    pages = _written(pattern, 0).page
    return _written(pattern, pages).finish()


def _written(pattern: Pattern, pages: int) -> Sheet:
    """The booklet with `pages` in its headers; it is laid out once to count them and once to be kept."""
    speech = pattern.speech
    sheet = Sheet(
        pattern,
        subject=speech.say("pattern"),
        method=_publisher_line(pattern) or speech.tell(_METHOD),
        page_count=pages,
        texts=_texts(pattern),
        mirrored=False,
        rules=False,
    )
    flow = Flow(sheet, speech, message("Cover"))
    _cover(flow, pattern)
    flow.new_page(_BUYING)
    _buying(flow, pattern)
    _cutting(flow, pattern)
    _lettering(flow, pattern)
    _placing(flow, pattern)
    write_stitching(flow, pattern)
    _borders(flow, pattern)
    write_quilting(flow, pattern)
    _finishing(flow, pattern)
    _care(flow, pattern)
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
        publisher.skill,
    )
    yield from (label.maker, label.date, label.place, *label.care)
    yield from (pattern.speech.tell(notice_said(notice)) for notice in pattern.notices)


def _publisher_line(pattern: Pattern) -> str:
    publisher = pattern.design.publisher
    return " · ".join(part for part in (publisher.mark, publisher.name or pattern.design.designer) if part)


# Cover


def _cover(flow: Flow, pattern: Pattern) -> None:
    design, sheet = pattern.design, flow.sheet
    flow.gap(8)
    for line in sheet.letters.wrapped(pattern.title, 24, flow.width, bold=True)[:3]:
        flow.y -= 28
        sheet.letters.draw(line, flow.left, flow.y, 24, bold=True)
    flow.gap(6)
    byline = byline_said(design.publisher.name or design.designer, design.publisher.skill)
    if byline:
        flow.paragraph(byline, quiet=True)
    flow.gap(10)
    flow.picture(330, lambda x, y, w, h: draw_quilt(sheet.canvas, pattern, (x, y, w, h)))
    flow.gap(6)
    flow.paragraph(finished_said(pattern.quilt, design.units))
    if pattern.quilt.bed is not None:
        flow.paragraph(bed_said(pattern.quilt.bed, design.units))
    flow.picture(118, lambda x, y, w, h: draw_scene(sheet.canvas, pattern, (x, y, w, h)))
    flow.paragraph(message("To scale beside a door, a person of 5 ft 6 in and a sofa."), quiet=True)
    for text in (design.publisher.contact, design.publisher.license):
        if text:
            flow.paragraph(text, quiet=True)


# What to buy


def _buying(flow: Flow, pattern: Pattern) -> None:
    units, shopping = pattern.design.units, pattern.shopping
    flow.heading(_BUYING)
    flow.table(
        _FABRICS,
        [
            (
                buy.fabric.name,
                uses_said(buy),
                as_length(buy.fabric.usable_width, units),
                as_yardage(buy.buy, units),
                figured_said(buy, units),
            )
            for buy in shopping.cloth
        ],
    )
    if shopping.one_fabric is not None:
        flow.paragraph(one_fabric_said(shopping.one_fabric, units), quiet=True)
    shelves = [shelf for shelf in shopping.shelves if shelf.kind is not ShelfKind.CLOTH]
    flow.led(
        [(shelf_name(shelf), set_apart(item_said(item, units) for item in shelf.items)) for shelf in shelves],
        indent=70,
    )
    for buy in shopping.cloth:
        for piece in buy.leftovers:
            flow.paragraph(leftover_said(piece, units), quiet=True)
    if pattern.notices:
        flow.heading(message("Check before you cut"), 2)
        flow.listed(notice_said(notice) for notice in pattern.notices)


# Cutting


def _cutting(flow: Flow, pattern: Pattern) -> None:
    flow.heading(message("Cutting, fabric by fabric"), kept=110)
    flow.paragraph(
        message(
            "Wash and press the fabric first if you mean to wash the quilt. Cut the large pieces before the small ones."
        )
    )
    for buy in pattern.shopping.cloth:
        flow.heading(buy.fabric.name, 2)
        if any(use.kind is UseKind.PANEL for use in buy.uses):
            _cut_panel(flow, pattern)
        for use in buy.uses:
            if use.kind is not UseKind.PANEL:
                flow.paragraph(cut_said(use, pattern.design.units))


def _cut_panel(flow: Flow, pattern: Pattern) -> None:
    plan, units = pattern.quilt.panel, pattern.design.units
    flow.paragraph(panel_said(pattern.panel, plan, units))
    if plan.seam is not None:
        flow.paragraph(seam_said(plan.seam, units))
    if plan.fold is not None:
        flow.paragraph(message("If the panel is larger than your mat, cut it folded:"))
        flow.numbered(fold_said(plan.fold, units))


# Lettering and placing


def _lettering(flow: Flow, pattern: Pattern) -> None:
    design, templates = pattern.design, pattern.templates
    pages = pattern.sheets.page_count + 1
    flow.heading(message("Lettering"), kept=120)
    flow.paragraph(
        lettering_said(
            pattern.letter_count, len(templates), pages, design.paper.size, joined=pattern.joins_letters
        )
    )
    flow.listed(files_said(design.fusible.rough_cut, design.units))
    for words in turned_said(templates, design.sewing.turn_under, design.units):
        flow.paragraph(words)
    for words in ring_said(templates, design.fusible.ring, design.units):
        flow.paragraph(words)
    flow.table(
        _TEMPLATES,
        [
            (
                str(template.number),
                template_said(template),
                template_uses_said(template),
                rows_said(template),
            )
            for template in templates
        ],
    )


def _placing(flow: Flow, pattern: Pattern) -> None:
    units = pattern.design.units
    flow.heading(message("Placing"), kept=120)
    flow.numbered(placing_said(pattern.panel, units))
    flow.table(
        _ROWS,
        [
            (
                table_said(mark.where),
                mark.text,
                baseline_said(mark.downs, units),
                from_center(mark.left, units),
                from_center(mark.right, units),
            )
            for mark in pattern.marks
        ],
    )


# Borders


def _borders(flow: Flow, pattern: Pattern) -> None:
    if not pattern.quilt.borders:
        return
    flow.heading(message("Borders"), kept=180)
    for border in pattern.quilt.borders:
        flow.heading(border_said(border, pattern.design.units), 2, kept=150)
        for step in border.steps:
            _border_step(flow, pattern, border, step)


def _border_step(flow: Flow, pattern: Pattern, border: BorderPlan, step: BorderStep) -> None:
    height = 108.0
    flow.room(height + 8)
    top = flow.y
    draw_step(flow.sheet.canvas, pattern, border, step, (flow.left, top - height, 104, height - 6))
    left, flow.left = flow.left, flow.left + 124
    for words in step_said(border, step, pattern.panel.seam_allowance, pattern.design.units):
        flow.paragraph(words)
    flow.left = left
    flow.y = min(flow.y, top - height) - 4


# Finishing


def _finishing(flow: Flow, pattern: Pattern) -> None:
    quilt, units = pattern.quilt, pattern.design.units
    flow.heading(message("Layering and quilting"), kept=80)
    flow.paragraph(backing_said(quilt.backing, units))
    leftovers = pattern.shopping.leftover_backing
    if pattern.design.backing.kind is BackingKind.LEFTOVERS and leftovers is not None:
        flow.paragraph(from_leftovers_said(leftovers, units))
        for number, row in enumerate(leftovers.rows, 1):
            flow.paragraph(backing_row_said(number, row, units), indent=12)
    flow.paragraph(batting_said(quilt.batting, units))
    flow.paragraph(
        message(
            "Lay the backing wrong side up, the batting and the top on it, smooth them and baste; quilt as you like."
        )
    )
    flow.heading(message("Binding"), 2)
    flow.paragraph(binding_said(quilt.binding, units))
    why = why_strips_said(quilt.binding, units)
    if why is not None:
        flow.paragraph(why, quiet=True)
    flow.paragraph(
        message(
            "Press it in half lengthwise, sew it to the front with its raw edges on the edge of the quilt, miter the "
            "corners, fold it to the back and stitch it down."
        )
    )
    if quilt.sleeve is not None:
        flow.heading(message("Hanging sleeve"), 2)
        flow.paragraph(sleeve_said(quilt.sleeve, units))
    flow.heading(message("Label"), 2)
    flow.paragraph(
        message(
            "quilt-label.pdf has the label, to trace or to print on fabric. Sew it to the back before you give the "
            "quilt away."
        )
    )


def _care(flow: Flow, pattern: Pattern) -> None:
    flow.heading(message("Take care"), kept=_CARE_KEPT)
    flow.listed(ALL_CAUTIONS)
    flow.paragraph(RIGHTS, quiet=True)
