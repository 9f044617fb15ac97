"""`pattern.pdf`: the pattern that a stranger can sew from.

The words are the trade's; every number comes from the `Pattern`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.cautions import ALL_CAUTIONS, RIGHTS
from applique.design import BackingKind, BorderKind, Corners
from applique.pattern import Pattern
from applique.pieces import Layer, rows_said
from applique.quilt.borders import BorderPlan, BorderStep
from applique.quilt.strips import ClothCut, CutKind
from applique.sheets.flow import Flow
from applique.sheets.frame import Sheet
from applique.sheets.quilt_drawing import draw_quilt, draw_scene, draw_step
from applique.sheets.sewing_pages import write_quilting, write_stitching
from applique.sheets.words import ring_words, rough_cut_words, turned_words
from applique.shopping import ShelfKind, UseKind
from applique.units import as_both, as_length, as_yardage
from applique.words.sheets import PEN_CAUTION, from_center, notice_said

__all__ = ["pattern_pdf"]

_METHOD: Final = "Pattern"
_CARE_KEPT: Final = 200.0
"""The cautions and the rights stand on one page."""


def pattern_pdf(pattern: Pattern) -> bytes:
    """The whole pattern as PDF: cover, what to buy, cutting, lettering, placing, borders, finishing, cautions."""
    pages = _written(pattern, 0).page
    return _written(pattern, pages).finish()


def _written(pattern: Pattern, pages: int) -> Sheet:
    """The booklet with `pages` in its headers; it is laid out once to count them and once to be kept."""
    sheet = Sheet(
        pattern,
        subject="pattern",
        method=_publisher_line(pattern) or _METHOD,
        page_count=pages,
        texts=_texts(pattern),
        mirrored=False,
        rules=False,
    )
    flow = Flow(sheet, "Cover")
    _cover(flow, pattern)
    flow.new_page("What to buy")
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
    yield from (str(notice) for notice in pattern.notices)


def _publisher_line(pattern: Pattern) -> str:
    publisher = pattern.design.publisher
    return " · ".join(part for part in (publisher.mark, publisher.name or pattern.design.designer) if part)


def _said(pattern: Pattern, length: Fraction | float) -> str:
    return str(as_length(length, pattern.design.units, denominator=16))


def _by(pattern: Pattern, size: tuple[Fraction, Fraction]) -> str:
    return f"{_said(pattern, size[0])} by {_said(pattern, size[1])}"


# Cover


def _cover(flow: Flow, pattern: Pattern) -> None:
    design, sheet = pattern.design, flow.sheet
    flow.gap(8)
    for line in sheet.letters.wrapped(pattern.title, 24, flow.width, bold=True)[:3]:
        flow.y -= 28
        sheet.letters.draw(line, flow.left, flow.y, 24, bold=True)
    flow.gap(6)
    by = design.publisher.name or design.designer
    about = [f"by {by}" if by else "", design.publisher.skill]
    if any(about):
        flow.paragraph(" · ".join(part for part in about if part), quiet=True)
    flow.gap(10)
    flow.picture(330, lambda x, y, w, h: draw_quilt(sheet.canvas, pattern, (x, y, w, h)))
    across, down = (as_both(side, design.units) for side in pattern.quilt.finished)
    flow.gap(6)
    flow.paragraph(
        f"Finished size {across} wide and {down} high, {pattern.quilt.size_class.words(design.units)}."
    )
    if pattern.quilt.bed is not None:
        flow.paragraph(str(pattern.quilt.bed.words(design.units)))
    flow.picture(118, lambda x, y, w, h: draw_scene(sheet.canvas, pattern, (x, y, w, h)))
    flow.paragraph("To scale beside a door, a person of 5 ft 6 in and a sofa.", quiet=True)
    foot = [design.publisher.contact, design.publisher.license]
    for text in foot:
        if text:
            flow.paragraph(text, quiet=True)


# What to buy


def _buying(flow: Flow, pattern: Pattern) -> None:
    units = pattern.design.units
    flow.heading("What to buy")
    rows = []
    for buy in pattern.shopping.cloth:
        uses = ", ".join(dict.fromkeys(str(use.what) for use in buy.uses))
        rule = f"{buy.rule}; {buy.precut}" if buy.precut else str(buy.rule)
        width = str(as_length(buy.fabric.usable_width, units))
        rows.append((buy.fabric.name, uses, width, str(as_yardage(buy.buy, units)), rule))
    flow.table(
        ("fabric", "for", "usable width", "buy", "how that was reckoned"), rows, (2.2, 2.6, 1.3, 1.1, 4.2)
    )
    one = pattern.shopping.one_fabric
    if one is not None:
        flow.paragraph(
            f"If all letters came from {one.material}: {as_yardage(one.buy, units)} for the letters ({one.rule}).",
            quiet=True,
        )
    for shelf in pattern.shopping.shelves:
        if shelf.kind is not ShelfKind.CLOTH:
            flow.paragraph("; ".join(map(str, shelf.items)), indent=70, lead=str(shelf.name))
    for buy in pattern.shopping.cloth:
        for piece in buy.leftovers:
            words = (
                f"Left of {piece.fabric}: {_said(pattern, piece.length)} by {_said(pattern, piece.width)}."
            )
            flow.paragraph(words, quiet=True)
    if pattern.notices:
        flow.heading("Look at these first", 2)
        flow.listed([pattern.speech.tell(notice_said(notice)) for notice in pattern.notices])


# Cutting


def _cutting(flow: Flow, pattern: Pattern) -> None:
    flow.heading("Cutting, fabric by fabric", kept=110)
    flow.paragraph(
        "Wash and press the cloth first if you mean to wash the quilt. Cut the large pieces before the small ones."
    )
    for buy in pattern.shopping.cloth:
        flow.heading(buy.fabric.name, 2)
        if any(use.kind is UseKind.PANEL for use in buy.uses):
            _cut_panel(flow, pattern)
        for use in buy.uses:
            if use.kind is UseKind.LETTERS:
                flow.paragraph(f"Letters: keep {_said(pattern, use.length)} of the length; see “Lettering”.")
            elif use.kind is not UseKind.PANEL:
                how = use.how if use.cut is None else _strip_words(pattern, use.cut)
                flow.paragraph(_capital(f"{use.what}: {how}."))


def _strip_words(pattern: Pattern, cut: ClothCut) -> str:
    if cut.kind is CutKind.BIAS_SQUARE:
        return str(cut.how)
    strips = "1 strip" if cut.strips == 1 else f"{cut.strips} strips"
    return f"{strips} of {_said(pattern, cut.strip_width)} across the fabric; {cut.how}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _cut_panel(flow: Flow, pattern: Pattern) -> None:
    panel, plan = pattern.panel, pattern.quilt.panel
    flow.paragraph(
        f"Panel: cut one, {_said(pattern, panel.cut_width)} wide and {_said(pattern, panel.cut_height)} high "
        f"(finished {_by(pattern, (panel.width, panel.height))}); {plan.how}."
    )
    if plan.seam is not None:
        places = " and ".join(_said(pattern, place) for place in plan.seam.places)
        edge = "left" if plan.seam.upright else "top"
        flow.paragraph(f"Join the lengths so that the seam lies {places} from the {edge} cut edge.")
    if plan.fold is not None:
        flow.paragraph("Larger than a cutting mat, it is cut folded:")
        flow.numbered(
            (
                "Fold the cloth in half from top to bottom, edges and fold lying flat and square.",
                f"Measure {_said(pattern, plan.fold.half_length)} from the fold, half the cut height, and trim.",
                "Open it, turn it, and fold it in half from side to side.",
                f"Measure {_said(pattern, plan.fold.half_width)} from the fold, half the cut width, and trim.",
            )
        )


# Lettering and placing


def _lettering(flow: Flow, pattern: Pattern) -> None:
    pages = pattern.sheets.page_count + 1
    flow.heading("Lettering", kept=120)
    flow.paragraph(
        f"There are {pattern.letter_count} letters to cut from {len(pattern.templates)} templates. Print one of the "
        f"two template files at 100 %, {pages} pages of {pattern.design.paper.size.value} paper, and measure the rules "
        "before you cut."
    )
    flow.listed(
        (
            f"templates-mirrored.pdf for fusible web: trace on the paper side, cut out {rough_cut_words(pattern)}, "
            "fuse to the wrong side of the fabric, then cut on the line.",
            "templates-right-reading.pdf for freezer paper on the right side of the fabric, shiny side down.",
        )
    )
    for words in (*turned_words(pattern), *ring_words(pattern)):
        flow.paragraph(words)
    rows = [
        (
            str(template.number),
            f"behind {template.text}" if template.layer is Layer.OUTLINE else template.text,
            ", ".join(f"{use.count} from {use.fabric.name}" for use in template.uses),
            str(rows_said(template)),
        )
        for template in pattern.templates
    ]
    flow.table(("template", "letter", "cut", "row"), rows, (1.2, 1.6, 5, 2))


def _placing(flow: Flow, pattern: Pattern) -> None:
    flow.heading("Placing", kept=120)
    flow.numbered(
        (
            "Fold the panel in half from side to side and mark the center line along the fold with a removable pen; it "
            f"is {_said(pattern, pattern.panel.center_from_edge)} from either cut side edge. {PEN_CAUTION}",
            "Mark each baseline, measured down from the cut top edge.",
            "Lay the letters on their baselines from the center line outward; placement-guide.pdf has the distance of "
            "each one.",
            "Look at the whole from across the room before you fuse or baste.",
        )
    )
    rows = [
        (
            str(m.row),
            m.text,
            " to ".join(_said(pattern, down) for down in m.downs),
            pattern.speech.tell(from_center(m.left, pattern.design.units)),
            pattern.speech.tell(from_center(m.right, pattern.design.units)),
        )
        for m in pattern.marks
    ]
    flow.table(
        ("row", "words", "baseline below cut top", "left end from center", "right end from center"),
        rows,
        (0.7, 3.6, 2.4, 2.2, 2.2),
    )


# Borders


def _borders(flow: Flow, pattern: Pattern) -> None:
    if not pattern.quilt.borders:
        return
    flow.heading("Borders", kept=180)
    for border in pattern.quilt.borders:
        flow.heading(f"Border {border.number}: {_border_name(pattern, border)}", 2, kept=150)
        for number, step in enumerate(border.steps, 1):
            _border_step(flow, pattern, border, step, number)


def _border_name(pattern: Pattern, border: BorderPlan) -> str:
    width = _said(pattern, border.width)
    match border.kind:
        case BorderKind.SQUARES:
            return f"squares of {width}"
        case BorderKind.RECTANGLES:
            return f"rectangles, {width} deep"
        case _:
            corners = {
                Corners.BUTTED: "",
                Corners.CORNERSTONES: " with cornerstones",
                Corners.MITERED: " with mitered corners",
            }
            return f"a strip {width} wide{corners[border.corners]}"


def _border_step(flow: Flow, pattern: Pattern, border: BorderPlan, step: BorderStep, number: int) -> None:
    height = 108.0
    flow.room(height + 8)
    top = flow.y
    draw_step(flow.sheet.canvas, pattern, border, step, (flow.left, top - height, 104, height - 6))
    left, flow.left = flow.left, flow.left + 124
    for text in _step_words(pattern, border, step):
        flow.paragraph(text)
    flow.left = left
    flow.y = min(flow.y, top - height) - 4


def _step_words(pattern: Pattern, border: BorderPlan, step: BorderStep) -> Iterator[str]:
    sides = " and ".join(strip.side for strip in step.strips)
    for strip in step.strips:
        if len(strip.pieces) > 1:
            order = "top to bottom" if strip.side.upright else "left to right"
            yield f"{strip.side.capitalize()}, {order}: {_in_order(strip.pieces)}."
    lengths = " and ".join(dict.fromkeys(_said(pattern, strip.cut_length) for strip in step.strips))
    if border.corners is Corners.MITERED:
        seam = as_length(pattern.panel.seam_allowance, pattern.design.units, denominator=16)
        yield f"Center a strip of {lengths} on each side, stop the seams {seam} from the corners, and miter them."
    else:
        yield f"Sew to the {sides}: {lengths} long. Press towards the border."
    yield f"The top is now {_by(pattern, step.cut)}, and {_by(pattern, step.finished)} when it is finished."


def _in_order(pieces: Sequence[tuple[str, Fraction]]) -> str:
    """A sequence of fabrics in words, a cycle that repeats said once."""
    names = [fabric for fabric, _ in pieces]
    for cycle in range(1, len(names) // 2 + 1):
        if all(name == names[index % cycle] for index, name in enumerate(names)):
            return f"{len(names)} pieces, {', '.join(names[:cycle])} and so on, ending with {names[-1]}"
    return f"{len(names)} pieces: {', '.join(names)}"


# Finishing


def _finishing(flow: Flow, pattern: Pattern) -> None:
    quilt, units = pattern.quilt, pattern.design.units
    flow.heading("Layering and quilting", kept=80)
    backing = quilt.backing
    flow.paragraph(f"Backing {_by(pattern, (backing.width, backing.height))}: {backing.how}.")
    if pattern.design.backing.kind is BackingKind.LEFTOVERS and pattern.shopping.leftover_backing is not None:
        flow.paragraph(f"From what is left over: {pattern.shopping.leftover_backing.words}.")
        for number, row in enumerate(pattern.shopping.leftover_backing.rows, 1):
            pieces = ", ".join(
                f"{p.fabric} {_by(pattern, (max(p.length, p.width), min(p.length, p.width)))}" for p in row
            )
            flow.paragraph(f"Row {number}: {pieces}.", indent=12)
    batting = quilt.batting
    flow.paragraph(f"Batting at least {_by(pattern, (batting.width, batting.height))}: {batting.name}.")
    flow.paragraph(
        "Lay the backing wrong side up, the batting and the top on it, smooth them and baste; quilt as you like."
    )
    flow.heading("Binding", 2)
    binding = quilt.binding
    flow.paragraph(
        f"{_strip_words(pattern, binding.cut)[:1].upper()}{_strip_words(pattern, binding.cut)[1:]}."
    )
    if binding.why:
        flow.paragraph(f"Why {binding.cut.strips}: {binding.why}.", quiet=True)
    flow.paragraph(
        "Press it in half lengthwise, sew it to the front with its raw edges on the edge of the quilt, miter the "
        "corners, turn it and sew it down behind."
    )
    if quilt.sleeve is not None:
        flow.heading("Hanging sleeve", 2)
        size = f"{as_length(quilt.sleeve.cut_length, units)} by {as_length(quilt.sleeve.cut_depth, units)}"
        flow.paragraph(
            f"Cut {size}, hem the short ends 1/2 in, fold it in half lengthwise and sew it into the top binding seam."
        )
    flow.heading("Label", 2)
    flow.paragraph(
        "quilt-label.pdf has the label, to trace or to print on cloth. Sew it to the back before you give the quilt "
        "away."
    )


def _care(flow: Flow, pattern: Pattern) -> None:
    flow.heading("Take care", kept=_CARE_KEPT)
    flow.listed(ALL_CAUTIONS)
    flow.paragraph(RIGHTS, quiet=True)
