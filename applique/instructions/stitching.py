"""Stitching: stabilizer, the stitch, the order of work, where to start, corners, and what comes off again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from applique.cautions import IRON, NEEDLE, PINS, SCISSORS, STEAM
from applique.design import Method, Stitch, WhenStitched
from applique.drawings import Drawing
from applique.drawings.corners import draw_corners
from applique.drawings.key import CORNERS, keyed
from applique.drawings.letters import Standing, draw_starts, starts_scale
from applique.drawings.order import draw_order
from applique.drawings.outline_edges import draw_open_edges
from applique.drawings.stabilizer import draw_roll, draw_stabilizer, roomy
from applique.drawings.stitch import draw_stitch
from applique.errors import Where
from applique.geometry.polygons import Shape, parts_of
from applique.instructions.book import MANY_LETTERS, Book
from applique.instructions.ticks import letter_ticks, runs_leftward
from applique.instructions.values import (
    Block,
    Cautions,
    Chapter,
    ChapterKind,
    Choices,
    Heading,
    Option,
    Paragraph,
    Picture,
    Step,
    Table,
    Tick,
)
from applique.language import Message
from applique.marks import how_outlined
from applique.outline_layer import lie_over
from applique.panel import Laid
from applique.pattern import Pattern
from applique.picture import Part
from applique.pieces import Layer, Template, template_key
from applique.sewing.plan import EdgeSewing, RowPlan
from applique.sewing.stabilizer import StabilizerKind
from applique.sewing.stitches import EdgeStitch
from applique.units import as_distance
from applique.words import downward, garment, loose
from applique.words.blocks import on_each_said, together_said
from applique.words.blocks import order_said as order_of_blocks_said
from applique.words.instructions import outlines, stabilizing
from applique.words.instructions import starting_and_turning as turns
from applique.words.instructions import stitch_choices as choosing
from applique.words.instructions import stitching as said
from applique.words.instructions.marking import marks_off_said
from applique.words.instructions.sizes import percent_said
from applique.words.sew_along import Done
from applique.words.sheets import table_said

__all__ = ["before_layering", "stitch_kinds", "stitching"]

_TICKED: Final = 60
"""Rows in one step at the most."""
_NAMED: Final = 40.0
"""Points kept for what stands before a line of letters."""
_WIDEST: Final = 480.0
"""Points for a drawing across the line."""
_BESIDE: Final = (256.0, 190.0)
"""Points for a drawing beside words."""
_ORDER: Final = (200.0, 165.0)
_ACROSS: Final = (380.0, 300.0)
"""Points for a drawing of all rows where their letters are low."""
_ENLARGED: Final = (232.0, 178.0)
_OPTION: Final = (156.0, 128.0)
_STITCHING: Final = tuple(zip(said.STITCHING_HEAD, (0.6, 1.3, 1.8, 1.5, 1.3, 2.2, 2.0), strict=True))
_STABILIZER: Final = tuple(zip(stabilizing.STABILIZER_HEAD, (0.8, 1.6, 2.6, 3.6), strict=True))
_READING: Final = tuple(zip(said.READING_HEAD, (0.7, 2.0, 2.0, 2.0, 2.0), strict=True))


def stitching(book: Book) -> Chapter:
    """How the letters are stitched down."""
    return Chapter(kind=ChapterKind.STITCHING, title=said.STITCHING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    pattern, plan, units = book.pattern, book.pattern.stitching, book.units
    bordered, layered = bool(pattern.quilt.borders), pattern.quilt.layered
    together = pattern.quilt.setting is not None
    when = said.when_said(plan, bordered=bordered, layered=layered, set_together=together)
    yield Paragraph(said=when)
    if pattern.panel.worn is not None:
        yield Paragraph(said=garment.kept_single_said())
    elif pattern.panel.loose:
        yield Paragraph(said=loose.kept_single_said())
    elif not book.is_customers:
        throat = pattern.design.stitching.throat
        why = said.rolls_said(plan, throat, units, bordered=bordered, layered=layered, set_together=together)
        yield Paragraph(said=why, quiet=True)
    if (several := together_said(pattern.quilt)) is not None:
        yield Paragraph(said=several)
    yield Table(columns=_STITCHING, rows=tuple(said.row_cells(row, units) for row in plan.rows))
    if not book.is_customers:
        yield Paragraph(said=said.why_stitches_said(plan.rows), quiet=True)
    yield Paragraph(said=said.time_said(plan))
    thickness, waste = pattern.design.stitching.thickness, pattern.design.stitching.waste_percent
    for words in said.thread_figured_said(plan, thickness, waste, units):
        yield Paragraph(said=words, quiet=True)
    yield from _choices(book)
    if not _stays_in(book):
        yield from _stabilizer(book)
    yield Heading(said=said.SET_UP)
    yield Cautions(items=(NEEDLE, IRON))
    yield from _machine(book)
    tested = tuple(said.test_said(book.method, book.pattern.stitching))
    if not pattern.panel.is_cut:
        tested = (*tested, loose.test_on_said() if pattern.panel.loose else garment.test_on_said())
    yield book.step(*tested)
    yield Heading(said=said.ORDER)
    yield from _order(book)
    yield Heading(said=turns.START)
    once = (turns.shown_once_said(),) if _has_many(book) else ()
    yield book.step(*turns.starts_said(stitch_kinds(book.pattern), numbered=not once), *once)
    yield from _starts(book)
    yield Heading(said=turns.CORNERS)
    yield from _corners(book)
    yield Heading(said=said.STITCH_THEM)
    if book.pattern.quilt.blocks:
        yield Paragraph(said=on_each_said(book.pattern.quilt))
    yield from _rows(book)
    yield from _afterwards(book)
    if not book.is_customers:
        yield from _reading(book)


def _choices(book: Book) -> Iterator[Block]:
    offers, units = book.pattern.offers, book.units
    if len(offers) < 2:
        return
    stitches = [offer.rows[0].stitch for offer in offers]
    yield Heading(said=choosing.CHOOSE)
    planned = list(dict.fromkeys(row.stitch.stitch for row in book.pattern.stitching.rows))
    yield Paragraph(said=choosing.choices_said(planned))
    yield Choices(
        options=tuple(
            Option(
                title=choosing.stitch_title(offer.stitch),
                said=tuple(choosing.offer_said(offer, units)),
                drawing=draw_stitch(offer.rows[0].stitch, _OPTION, book.speech, stitches),
            )
            for offer in offers
        )
    )


def _corners(book: Book) -> Iterator[Block]:
    """How corners and curves are turned; where there are several stitches, side by side under one step."""
    stitches = stitch_kinds(book.pattern)
    if len(stitches) == 1:
        yield book.step(turns.corners_said(stitches[0]), drawing=draw_corners(stitches[0]), tints=CORNERS)
        return
    yield book.step(turns.PIVOT)
    yield Choices(
        options=tuple(
            Option(
                title=choosing.stitch_title(stitch),
                said=(turns.corners_said(stitch),),
                drawing=keyed(draw_corners(stitch, across=2, width=_OPTION[0]), CORNERS, book.speech),
            )
            for stitch in stitches
        )
    )


def before_layering(book: Book) -> Iterator[Block]:
    """What belongs between the top and its batting where the letters are stitched with the quilting."""
    if _stays_in(book):
        yield from _stabilizer(book)


def _stays_in(book: Book) -> bool:
    """Whether stabilizer is laid before the quilt is layered, to stay inside it."""
    plan = book.pattern.stitching
    return plan.when is WhenStitched.QUILTING and any(
        need.kind is StabilizerKind.CUT_AWAY for need in plan.stabilizers
    )


def _stabilizer(book: Book) -> Iterator[Block]:
    plan, units = book.pattern.stitching, book.units
    held = [row for row in plan.rows if row.stabilizer.kind is not StabilizerKind.NONE]
    if not held:
        return
    yield Heading(said=stabilizing.STABILIZER)
    for need in plan.stabilizers:
        drawn = draw_roll(need, min(_WIDEST, book.width - _NAMED), units, book.speech)
        off_roll = (
            stabilizing.off_the_roll_said(need, units),
            *(() if drawn is None else (stabilizing.ROLL_LEFT,)),
        )
        yield book.step(*off_roll, drawing=drawn)
    yield Table(columns=_STABILIZER, rows=tuple(stabilizing.stabilizer_cells(row, units) for row in held))
    if not book.is_customers:
        yield Paragraph(said=stabilizing.why_stabilizers_said(held), quiet=True)
    layered = plan.when is WhenStitched.QUILTING
    if book.pattern.outlines:
        yield Cautions(items=(IRON,))
    places = {row.where for row in held}
    blocks = book.pattern.sketch.placed.blocks
    (_, drawn_on), block = max(
        zip(book.panels(), blocks, strict=True),
        key=lambda one: sum(laid.where in places for laid in one[0][1].pattern.panel.laid),
    )
    alike = () if layered or len(blocks) == 1 else (stabilizing.shown_said(block.name),)
    yield book.step(
        *stabilizing.lay_said(
            plan, units, outlined=_outlined(book), of_blocks=bool(book.pattern.quilt.blocks)
        ),
        *alike,
        drawing=None if layered else _held_on(drawn_on),
    )


def _held_on(book: Book) -> Drawing:
    """One panel from its wrong side, with its stabilizer."""
    panel = book.pattern.panel
    on_it = {laid.where for laid in panel.laid}
    rows = [row for row in book.pattern.stitching.rows if row.where in on_it]
    behind = tuple(item.laid for item in book.picture.on_panel(Part.OUTLINE))
    return draw_stabilizer(panel, behind, rows, _roomy(book, _BESIDE), book.units, book.speech)


def _machine(book: Book) -> Iterator[Step]:
    """A step for each stitch of one size, with the rows that have it."""
    alike: dict[tuple[object, ...], list[RowPlan]] = {}
    for row in book.pattern.stitching.rows:
        alike.setdefault(_size(row.stitch), []).append(row)
    pattern = book.pattern
    outlined = how_outlined(pattern.marks, pattern.design.outline.around)
    background = said.background_said(
        outlined, worn=pattern.panel.worn is not None, loose=pattern.panel.loose
    )
    first = next(iter(alike.values()))
    for rows in alike.values():
        stitch = rows[0].stitch
        yield book.step(
            *said.machine_said(stitch, rows, book.method, book.units, whole=len(alike) == 1),
            *((background,) if rows is first else ()),
            *((said.OTHER_STITCH,) if len(book.pattern.offers) > 1 else ()),
            drawing=draw_stitch(stitch, _ENLARGED, book.speech, [one[0].stitch for one in alike.values()]),
        )


def _size(stitch: EdgeStitch) -> tuple[object, ...]:
    return stitch.stitch, stitch.width, stitch.length, stitch.bite


def stitch_kinds(pattern: Pattern) -> tuple[Stitch, ...]:
    """Every kind of stitch that may be sewn."""
    planned = [row.stitch.stitch for row in pattern.stitching.rows]
    return tuple(dict.fromkeys([*planned, *(offer.stitch for offer in pattern.offers)]))


def _order(book: Book) -> Iterator[Block]:
    pattern, plan = book.pattern, book.pattern.stitching
    if pattern.outlines:
        edges, outlined = book.outline_edges, {piece.where for piece in pattern.outlines}
        letters = [laid.outline for laid in pattern.panel.laid if laid.where in outlined]
        parted = any(one.left_out for one in edges)
        yield book.step(
            outlines.stitched_first_said(pattern.outlines),
            *outlines.stretches_said(pattern.outlines, edges, book.units),
        )
        if parted:
            yield Picture(drawing=draw_open_edges(pattern.outlines, letters, edges, book.speech))
    if pattern.quilt.blocks:
        yield book.step(order_of_blocks_said(one_row=all(len(one.panel.laid) == 1 for one in pattern.blocks)))
        return
    bordered = plan.when is not WhenStitched.PANEL
    size = _roomy(book, _ORDER)
    drawing = draw_order(book.picture, pattern.panel.laid, plan.order, size, book.speech, bordered=bordered)
    yield book.step(said.order_said(plan), drawing=drawing)


def _roomy(book: Book, beside: tuple[float, float]) -> tuple[float, float]:
    """Points for a drawing of all rows."""
    panel = book.pattern.panel
    return roomy(panel.laid, (float(panel.cut_width), float(panel.cut_height)), beside, _ACROSS)


def _has_many(book: Book) -> bool:
    """Whether there are too many letters to show and to tick off every one."""
    return len(book.pattern.panel.cuts) > MANY_LETTERS


Line = tuple[str | Message, Message, tuple[Standing, ...], bool]
"""What stands before a line of letters, what is said of its drawing, its letters, and whether it is read leftward."""


def _starts(book: Book) -> Iterator[Paragraph | Picture]:
    """Where every letter is started, as she reads them, and then the shapes of the outline layer."""
    pattern = book.pattern
    shown = list(_each_once(book) if _has_many(book) else _row_by_row(book))
    lines = [*shown, *_behind(book)]
    high = max(float(laid.size) for laid in pattern.panel.laid)
    widest = max(template.ink[2] - template.ink[0] for template in pattern.templates)
    scale = starts_scale(high, sum(len(pieces) for _, _, pieces, _ in lines))
    scale = min(scale, (book.width - _NAMED) / widest)
    if any(mark.runs_down for mark in pattern.marks):
        yield Paragraph(said=downward.DRAWN_ACROSS)
    for index, (name, words, pieces, leftward) in enumerate(lines):
        if index == len(shown):
            numbers = [one.number for one in pattern.templates if one.layer is Layer.OUTLINE]
            yield Paragraph(said=turns.behind_named_said(numbers))
        for drawing in draw_starts(name, pieces, scale, book.width, words, leftward=leftward):
            yield Picture(drawing=drawing)


def _row_by_row(book: Book) -> Iterator[Line]:
    """Every row."""
    for laid in book.pattern.panel.laid:
        pieces = tuple(piece for _, piece in _standing(book, laid))
        yield table_said(laid.where), turns.starts_drawn_said(laid.where), pieces, runs_leftward(laid)


def _each_once(book: Book) -> Iterator[Line]:
    """Each letter where it comes first."""
    found: dict[int, Standing] = {}
    for laid in book.pattern.panel.laid:
        for number, piece in _standing(book, laid):
            found.setdefault(number, replace(piece, begins=False, number=str(number)))
    yield "", turns.shown_once_said(), tuple(found.values()), False


def _outlined(book: Book) -> stabilizing.Outlined:
    """Which rows have an outline behind their letters: all of them, some, or none."""
    rows = {row.where for row in book.pattern.stitching.rows}
    outlined = {outline.where for outline in book.pattern.outlines}
    if not outlined:
        return stabilizing.Outlined.NONE
    return stabilizing.Outlined.ALL if rows <= outlined else stabilizing.Outlined.SOME


def _behind(book: Book) -> Iterator[Line]:
    """The shapes of the outline layer, if there are any."""
    behind = [template for template in book.pattern.templates if template.layer is Layer.OUTLINE]
    pieces = tuple(
        replace(_piece(book, template, up=0.0, begins=False), number=str(template.number))
        for template in behind
    )
    if pieces:
        yield "", turns.behind_drawn_said(), pieces, False


def _standing(book: Book, laid: Laid) -> Iterator[tuple[int, Standing]]:
    """Each piece of a row, above its baseline, with the number of its template."""
    by_key = {template.key: template for template in book.pattern.templates}
    turned = book.pattern.design.sewing.method is Method.TURNED_EDGE
    before: int | None = None
    for index, cut in enumerate(laid.cuts):
        template = by_key[template_key(laid, index) if turned else cut.key]
        foot = laid.line.under((cut.upright.x, cut.upright.y))
        begins = before is not None and cut.word != before
        yield template.number, _piece(book, template, up=cut.upright.seen_from(foot).y, begins=begins)
        before = cut.word


def _piece(book: Book, template: Template, *, up: float, begins: bool) -> Standing:
    starts = book.pattern.stitching.letters[template.number - 1].starts
    return Standing(
        outline=template.outline, up=up, ink=template.ink, starts=starts, begins=begins, number=""
    )


def _rows(book: Book) -> Iterator[Block]:
    """A step for each row, in the order in which they are sewn, with a tick for each letter or for a row of many.

    All that lies behind letters is sewn before any letter is laid on it. Letters go from left to right, as they are
    drawn and lie on the quilt, whichever way they are read.
    """
    pattern = book.pattern
    if pattern.outlines:
        yield from _outline_rows(book)
        yield from _onto_outlines(book)
    laid_at = {laid.where: laid for laid in pattern.panel.laid}
    holed = {where for where, laid in laid_at.items() if any(_has_hole(cut.shape) for cut in laid.cuts)}
    hidden = pattern.stitching.hidden
    if _has_many(book):
        words = [said.stitch_rows_said(holes=bool(holed)), *((said.hidden_said(),) if hidden else ())]
        yield from _whole_rows(book, words, pattern.stitching.order)
        return
    by_table = {row.where: row for row in pattern.stitching.rows}
    for where in pattern.stitching.order:
        row = by_table[where]
        threads = _threads(book, [layer for layer in row.layers if layer.layer is not Layer.OUTLINE])
        ticks = [
            Tick(key=f"stitched-{_key(where)}-{number}", said=cut.text)
            for number, cut in enumerate(laid_at[where].cuts, 1)
        ]
        leftward = (said.as_they_lie_said(),) if runs_leftward(laid_at[where]) and len(ticks) > 1 else ()
        under = (said.hidden_said(),) if where in hidden else ()
        sewn = said.stitch_row_said(row, threads, holes=where in holed)
        done = letter_ticks(pattern, Done.STITCHED, behind=(), letters=(where,))
        yield book.step(sewn, *under, *leftward, ticks=ticks, on_screen=done)


def _has_hole(shape: Shape) -> bool:
    return any(len(part.interiors) for part in parts_of(shape))


def _outline_rows(book: Book) -> Iterator[Step]:
    """A step for the shapes behind each row, with a tick for each of them or for a row of many."""
    pattern = book.pattern
    behind = {
        where: [one for one in pattern.outlines if one.where == where] for where in pattern.stitching.order
    }
    if _has_many(book):
        wheres = [where for where, pieces in behind.items() if pieces]
        parted = any(one.left_out for one in book.outline_edges)
        words = outlines.stitched_rows_said(holes=any(one.holes for one in pattern.outlines), parted=parted)
        yield from _whole_rows(book, (words,), wheres, behind=True)
        return
    by_table = {row.where: row for row in pattern.stitching.rows}
    pairs = zip(pattern.outlines, book.outline_edges, strict=True)
    parted_rows = {piece.where for piece, one in pairs if one.left_out}
    for where, pieces in behind.items():
        if pieces:
            row = by_table[where]
            threads = _threads(book, [layer for layer in row.layers if layer.layer is Layer.OUTLINE])
            ticks = [
                Tick(key=f"outlined-{_key(where)}-{number}", said=piece.text)
                for number, piece in enumerate(pieces, 1)
            ]
            holed = any(one.holes for one in pieces)
            words = outlines.stitched_row_said(
                where.as_field(), threads, holes=holed, parted=where in parted_rows
            )
            done = letter_ticks(pattern, Done.STITCHED, behind=(where,), letters=())
            yield book.step(words, ticks=ticks, on_screen=done)


def _onto_outlines(book: Book) -> Iterator[Block]:
    """The letters onto their stitched outlines."""
    pattern = book.pattern
    fused = book.method is not Method.TURNED_EDGE
    yield Cautions(items=(IRON, STEAM, book.makers) if fused else (PINS, IRON))
    outlined = {piece.where for piece in pattern.outlines}
    layered = pattern.stitching.when is WhenStitched.QUILTING
    if off := tuple(outlines.off_before_letters_said(book.method, layered=layered)):
        yield book.step(*off)
    yield book.step(
        *outlines.onto_outlines_said(
            pattern.outlines,
            pattern.design.outline.around,
            book.method,
            book.units,
            over=lie_over(pattern.outlines),
            layered=layered,
        ),
        ticks=[
            Tick(key=f"onto-{_key(mark.where)}", said=said.onto_tick_said(mark.where, mark.text))
            for mark in pattern.marks
            if mark.where in outlined
        ],
        on_screen=letter_ticks(
            pattern,
            Done.FUSED_DOWN if fused else Done.PLACED,
            behind=(),
            letters=[mark.where for mark in pattern.marks if mark.where in outlined],
        ),
    )


def _whole_rows(
    book: Book, words: Sequence[Message], wheres: Sequence[Where], *, behind: bool = False
) -> Iterator[Step]:
    """Rows, or what lies `behind` them, ticked off whole, not too many in a step."""
    named = "outlined" if behind else "stitched"
    for start in range(0, len(wheres), _TICKED):
        some = wheres[start : start + _TICKED]
        ticks = [Tick(key=f"{named}-{_key(where)}", said=where.as_field()) for where in some]
        done = letter_ticks(
            book.pattern, Done.STITCHED, behind=some if behind else (), letters=() if behind else some
        )
        yield book.step(*words, ticks=ticks, on_screen=done)


def _threads(book: Book, layers: Sequence[EdgeSewing]) -> list[Message]:
    """The threads that `layers` are sewn in."""
    names = {need.color: need.name for need in book.pattern.threads}
    return list(dict.fromkeys(said.thread_said(layer.thread, names[layer.thread]) for layer in layers))


def _key(where: Where) -> str:
    return "-".join(map(str, where.path))


def _afterwards(book: Book) -> Iterator[Block]:
    """What comes off again, and pressing; what is quilted as it is stitched is pressed no more."""
    plan = book.pattern.stitching
    layered = plan.when is WhenStitched.QUILTING
    kinds = [need.kind for need in plan.stabilizers]
    kinds += [need.kind for offer in book.pattern.offers for need in offer.stabilizers]
    if plan.stabilizers and (book.pattern.outlines or _stays_in(book)):
        yield book.step(stabilizing.basting_out_said())
    if StabilizerKind.CUT_AWAY in kinds and not layered:
        yield Cautions(items=(SCISSORS,))
    for words in stabilizing.remove_said(kinds, layered=layered, units=book.units):
        yield book.step(words)
    if book.pattern.outlines:
        glued, trimmed = (
            book.method is Method.TURNED_EDGE,
            book.pattern.quilt.is_cut_again(book.pattern.panel),
        )
        yield book.step(*marks_off_said(glued=glued, trimmed=trimmed))
    if (held := said.held_said(book.method, layered=layered)) is not None:
        yield book.step(held)
    if not layered:
        yield Cautions(items=(PINS, IRON))
        yield book.step(said.PRESS_BLOCKS if book.pattern.quilt.blocks else said.PRESS)


def _reading(book: Book) -> Iterator[Block]:
    units = book.units
    yield Heading(said=said.READING)
    yield Table(
        columns=_READING,
        rows=tuple(
            (
                str(reading.row),
                as_distance(reading.comfortable, units),
                as_distance(reading.farthest, units),
                "" if reading.stroke is None else percent_said(reading.stroke),
                "" if reading.gap is None else percent_said(reading.gap),
            )
            for reading in book.pattern.checks.readings
        ),
    )
    yield Paragraph(said=said.signs_said(), quiet=True)
