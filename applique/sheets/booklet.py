"""`pattern.pdf`: the pattern that a stranger can sew from.

The words are those of `words.booklet`; every number comes from the `Pattern`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from applique.cautions import ALL_CAUTIONS, RIGHTS
from applique.cloth import ClothUse, UseKind
from applique.cutting.diagram import letters_of
from applique.pattern import Pattern
from applique.pieces import rows_said
from applique.quilt.borders import BorderPlan, BorderStep
from applique.sheets.back import draw_back
from applique.sheets.cutting import diagram_height, draw_cutting
from applique.sheets.flow import Flow
from applique.sheets.frame import Sheet
from applique.sheets.publishing import code_side, draw_code, draw_mark
from applique.sheets.quilt_drawing import draw_quilt, draw_scene, draw_step
from applique.sheets.sewing_pages import write_quilting, write_stitching
from applique.shopping import FabricBuy, ShelfKind
from applique.units import as_available
from applique.words import booklet as said
from applique.words.buying import amount_said, figured_said, item_said, shelf_name, uses_said, wide_said
from applique.words.picture import beside_said
from applique.words.publishing import edition_said, license_said
from applique.words.quilt import bed_said
from applique.words.sheets import (
    CHECK_FIRST,
    TAKE_CARE,
    from_center,
    notice_said,
    set_apart,
    table_said,
)

__all__ = ["pattern_pdf"]

_ABOVE_FIRST: Final = 88.0
"""Points between the heading of the cutting and its first drawing."""
_NAMED: Final = 40.0
_CARE_KEPT: Final = 200.0
"""The cautions and the rights stand on one page."""
_MARK: Final = 58.0
"""A mark stands beside title and byline, in a square of so many points."""
_CODE_CLEAR: Final = 12.0
_FABRICS: Final = tuple(zip(said.FABRICS_HEAD, (2.2, 2.6, 1.3, 1.1, 4.2), strict=True))
_TEMPLATES: Final = tuple(zip(said.TEMPLATES_HEAD, (1.2, 1.6, 5.0, 2.0), strict=True))
_ROWS: Final = tuple(zip(said.ROWS_HEAD, (0.7, 3.6, 2.4, 2.2, 2.2), strict=True))
"""The heads of a table, each with the width of its column."""


def pattern_pdf(pattern: Pattern) -> bytes:
    """The whole pattern as PDF: cover, what to buy, cutting, lettering, placing, borders, finishing, cautions."""
    pages = _written(pattern, 0).page
    return _written(pattern, pages).finish()


def _written(pattern: Pattern, pages: int) -> Sheet:
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
    _cover(flow, pattern)
    flow.new_page(said.BUYING)
    _buying(flow, pattern)
    _cutting(flow, pattern)
    _lettering(flow, pattern)
    _placing(flow, pattern)
    write_stitching(flow, pattern)
    _trimming(flow, pattern)
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
        publisher.edition,
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
    beside = 0.0
    if pattern.mark is not None:
        beside = pattern.mark.fitted(_MARK, _MARK)[0]
        draw_mark(sheet.canvas, pattern.mark, (flow.right - beside, flow.y - _MARK, beside, _MARK))
    flow.gap(8)
    for line in sheet.letters.wrapped(pattern.title, 24, flow.width - beside, bold=True)[:3]:
        flow.y -= 28
        sheet.letters.draw(line, flow.left, flow.y, 24, bold=True)
    flow.gap(6)
    byline = said.byline_said(design.publisher.name or design.designer, design.publisher.skill)
    if byline:
        flow.paragraph(byline, quiet=True)
    flow.gap(10)
    flow.picture(330, lambda x, y, w, h: draw_quilt(sheet.canvas, pattern, (x, y, w, h)))
    flow.gap(6)
    flow.paragraph(said.finished_said(pattern.quilt, design.units))
    if pattern.quilt.bed is not None:
        flow.paragraph(bed_said(pattern.quilt.bed, design.units))
    flow.picture(118, lambda x, y, w, h: draw_scene(sheet.canvas, pattern, (x, y, w, h)))
    flow.paragraph(beside_said(pattern.quilt.scene, design.units), quiet=True)
    _published(flow, pattern)


def _published(flow: Flow, pattern: Pattern) -> None:
    """How to reach whoever publishes it, beside it as a code to scan, which edition it is, and what others may do."""
    publisher, code, right = pattern.design.publisher, pattern.contact_code, flow.right
    side = 0.0 if code is None else code_side(code)
    flow.room(side)
    top, page = flow.y, flow.sheet.page
    if code is not None:
        draw_code(flow.sheet.canvas, code, right - side, top - side)
        flow.right -= side + _CODE_CLEAR
    for text in (publisher.contact, edition_said(publisher), license_said(publisher)):
        if text:
            flow.paragraph(text, quiet=True)
    flow.right = right
    if flow.sheet.page == page:
        flow.y = min(flow.y, top - side)


# What to buy


def _buying(flow: Flow, pattern: Pattern) -> None:
    units, shopping = pattern.design.units, pattern.shopping
    flow.heading(said.BUYING)
    flow.table(
        _FABRICS,
        [
            (
                buy.fabric.name,
                uses_said(buy),
                as_available(buy.fabric.usable_width, units),
                amount_said(buy, units),
                figured_said(buy, units),
            )
            for buy in shopping.cloth
        ],
    )
    flow.paragraph(
        said.MEASURE_WASHED if pattern.design.yardage.is_washed else said.MEASURE_UNWASHED, quiet=True
    )
    if shopping.one_fabric is not None:
        flow.paragraph(said.one_fabric_said(shopping.one_fabric, units), quiet=True)
    shelves = [shelf for shelf in shopping.shelves if shelf.kind is not ShelfKind.CLOTH]
    flow.led(
        [(shelf_name(shelf), set_apart(item_said(item, units) for item in shelf.items)) for shelf in shelves],
        indent=70,
    )
    if pattern.notices:
        flow.heading(CHECK_FIRST, 2)
        flow.listed(notice_said(notice) for notice in pattern.notices)


# Cutting


def _cutting(flow: Flow, pattern: Pattern) -> None:
    flow.heading(said.CUTTING, kept=_ABOVE_FIRST + _drawn(flow, pattern.shopping.cloth[0]))
    flow.paragraph(said.WASH_FIRST if pattern.design.yardage.is_washed else said.UNWASHED)
    flow.paragraph(said.seam_allowance_said(pattern.panel.seam_allowance, pattern.design.units))
    for buy in pattern.shopping.cloth:
        _fabric(flow, pattern, buy)


def _fabric(flow: Flow, pattern: Pattern, buy: FabricBuy) -> None:
    units, diagrams = pattern.design.units, buy.cutting.diagrams
    letters = letters_of(diagrams)
    flow.heading(buy.fabric.name, 2, kept=_drawn(flow, buy))
    draw_cutting(flow, buy.cutting, letters, units)
    for use in buy.uses:
        if use.kind is UseKind.PANEL:
            _cut_panel(flow, pattern, use, letters)
        else:
            flow.paragraph(said.cut_said(use, letters, units))
    if buy.cutting.leftovers:
        flow.paragraph(said.leftovers_of_said(buy.cutting.leftovers, units), quiet=True)


def _drawn(flow: Flow, buy: FabricBuy) -> float:
    """How much below its name a fabric keeps on the same page: its first drawing."""
    diagrams = buy.cutting.diagrams
    return diagram_height(flow, diagrams[0]) if diagrams else _NAMED


def _cut_panel(flow: Flow, pattern: Pattern, use: ClothUse, letters: Mapping[str, str]) -> None:
    plan, units = pattern.quilt.panel, pattern.design.units
    flow.paragraph(said.panel_said(pattern.panel, use, letters, units))
    if plan.seam is not None:
        flow.paragraph(said.seam_said(plan.seam, pattern.panel, units))
    if plan.fold is not None:
        flow.paragraph(said.CHECK_FOLDED)
        flow.numbered(said.fold_said(plan.fold, units))


# Lettering and placing


def _lettering(flow: Flow, pattern: Pattern) -> None:
    design, templates = pattern.design, pattern.templates
    pages = pattern.sheets.page_count + 1
    flow.heading(said.LETTERING, kept=120)
    count, joined = pattern.letter_count, pattern.joins_letters
    for words in said.lettering_said(count, len(templates), pages, design.paper.size, joined=joined):
        flow.paragraph(words)
    flow.listed(said.files_said(design.fusible.rough_cut, design.units))
    for words in said.turned_said(templates, design.sewing.turn_under, design.units):
        flow.paragraph(words)
    for words in said.ring_said(templates, design.fusible.ring, design.units):
        flow.paragraph(words)
    flow.table(
        _TEMPLATES,
        [
            (
                str(template.number),
                said.template_said(template),
                said.template_uses_said(template),
                rows_said(template),
            )
            for template in templates
        ],
    )


def _placing(flow: Flow, pattern: Pattern) -> None:
    units = pattern.design.units
    flow.heading(said.PLACING, kept=120)
    flow.numbered(said.placing_said(pattern.panel, units))
    flow.table(
        _ROWS,
        [
            (
                table_said(mark.where),
                mark.text,
                said.baseline_said(mark.downs, units),
                from_center(mark.left, units),
                from_center(mark.right, units),
            )
            for mark in pattern.marks
        ],
    )


# Trimming and borders


def _trimming(flow: Flow, pattern: Pattern) -> None:
    if pattern.panel.trim:
        flow.heading(said.TRIMMING, kept=90)
        flow.numbered(said.trim_said(pattern.panel, pattern.design.units))


def _borders(flow: Flow, pattern: Pattern) -> None:
    if not pattern.quilt.borders:
        return
    flow.heading(said.BORDERS, kept=180)
    for border in pattern.quilt.borders:
        flow.heading(said.border_said(border, pattern.design.units), 2, kept=150)
        for step in border.steps:
            _border_step(flow, pattern, border, step)


def _border_step(flow: Flow, pattern: Pattern, border: BorderPlan, step: BorderStep) -> None:
    height = 108.0
    flow.room(height + 8)
    top = flow.y
    draw_step(flow.sheet.canvas, pattern, border, step, (flow.left, top - height, 104, height - 6))
    left, flow.left = flow.left, flow.left + 124
    for words in said.step_said(border, step, pattern.panel.seam_allowance, pattern.design.units):
        flow.paragraph(words)
    flow.left = left
    flow.y = min(flow.y, top - height) - 4


# Finishing


def _finishing(flow: Flow, pattern: Pattern) -> None:
    quilt, units = pattern.quilt, pattern.design.units
    flow.heading(said.LAYERING, kept=80)
    flow.paragraph(said.backing_said(quilt.backing, pattern.shopping.use(UseKind.BACKING), units))
    _pieced_back(flow, pattern)
    flow.paragraph(said.batting_said(quilt.batting, units))
    flow.paragraph(said.LAYER_IT)
    flow.heading(said.BINDING, 2)
    binding = pattern.shopping.use(UseKind.BINDING)
    if binding is not None:
        flow.paragraph(said.binding_said(quilt.binding, binding, units))
        why = said.why_strips_said(quilt.binding, binding, units)
        if why is not None:
            flow.paragraph(why, quiet=True)
    flow.paragraph(said.BIND_IT)
    if quilt.sleeve is not None:
        flow.heading(said.SLEEVE, 2)
        flow.paragraph(said.sleeve_said(quilt.sleeve, units))
    flow.heading(said.LABEL, 2)
    flow.paragraph(said.SEW_LABEL)


def _pieced_back(flow: Flow, pattern: Pattern) -> None:
    """How the back is pieced from leftovers, drawn with its seams where it has any, and what wide backing takes."""
    shopping, units = pattern.shopping, pattern.design.units
    leftovers, mixed = shopping.leftover_backing, shopping.mixed_backing
    if mixed is not None:
        flow.paragraph(said.mixed_said(mixed, units))
    elif leftovers is not None:
        flow.paragraph(said.from_leftovers_said(leftovers, units))
        for number, row in enumerate(leftovers.rows if leftovers.enough else (), 1):
            flow.paragraph(said.backing_row_said(number, row, units), indent=12)
    if len(shopping.back) > 1:
        draw_back(flow, shopping.back)
    if shopping.wide_backing is not None:
        flow.paragraph(wide_said(shopping.wide_backing, units), quiet=True)


def _care(flow: Flow, pattern: Pattern) -> None:
    flow.heading(TAKE_CARE, kept=_CARE_KEPT)
    flow.listed(ALL_CAUTIONS)
    flow.paragraph(RIGHTS, quiet=True)
