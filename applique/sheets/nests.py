"""A page for each nest: the letters as they lie on the web or the cloth, so that the length can be seen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from applique.cutting.diagram import letters_of
from applique.design import Held, Method
from applique.geometry.outline import Outline
from applique.geometry.points import Bounds, Matrix, Point, meet
from applique.letter_blocks import LetterBlock
from applique.nesting import StripNest
from applique.paging import Tile, Tiling
from applique.pattern import Pattern
from applique.pieces import Template
from applique.sheets.first_page import heading, paragraphs, tile_map
from applique.sheets.frame import Drawn, Sheet
from applique.sheets.nest_pages import (
    ARROW_LINE,
    BAND_GAP,
    BELOW_TITLE,
    CAPTION,
    COLUMN_GAP,
    LEAST_BLOCK,
    MOST_BANDS,
    MOST_SPOTS,
    SIDE,
    SPOT,
    NestPage,
    band_scale,
    blocks_of,
    has_way_up,
    pages_of,
    rows_of,
    without_sliver,
)
from applique.sheets.nest_pieces import NAME, SMALL, Laid, draw_pieces, laid_in, name_piece, rough_line
from applique.sheets.strokes import CUT, DASHES, HAIR, INK, QUIET, THIN, arrow_up, outline_on
from applique.sheets.templates import draw_seams
from applique.units import as_length
from applique.words import nests as said
from applique.words.cutting import piece_said
from applique.yardage import StripNeed

__all__ = ["draw_nests", "nest_texts", "nesting_pdf"]

_TRACE_NAME: Final = 14.0
_AT_END: Final = 1e-6
"""Inches that a nest may go on and yet be at its end."""
_CAPTION_LINES: Final = 3
_ARROW: Final = 20.0


def nesting_pdf(pattern: Pattern) -> bytes:
    """How the letters lie on web and cloth, a page for each, and on request the web at full size to trace from."""
    speech = pattern.speech
    needs = _needs(pattern)
    sheet = Sheet(
        pattern,
        subject=speech.tell(said.SUBJECT),
        method=speech.tell(said.lying_said(pattern.fusible)),
        page_count=len(pages_of(pattern, needs)) + (len(pattern.trace.tiles) if pattern.trace else 0),
        texts=nest_texts(pattern),
        mirrored=pattern.design.sewing.traced_mirrored,
    )
    sheet.page_count += sum(len(_spot_pages(sheet, pattern, need)) for need in needs)
    draw_nests(sheet, pattern, for_customers=False)
    return sheet.finish()


def draw_nests(sheet: Sheet, pattern: Pattern, *, for_customers: bool) -> None:
    """Every page of nests, next on `sheet`, which is mirrored as the letters are traced; spots on the maker's own print
    are no use to customers."""
    for page in pages_of(pattern, _needs(pattern)):
        _nest_page(sheet, pattern, page, for_customers=for_customers)
        for need in () if for_customers else page.needs:
            for columns in _spot_pages(sheet, pattern, need):
                _spot_page(sheet, need, columns)
    if pattern.trace is not None and pattern.fusible.nest is not None:
        laid = laid_in(sheet, pattern.fusible, pattern.fusible.nest)
        by_machine = pattern.design.sewing.method is Method.MACHINE_CUT
        for tile in pattern.trace.tiles:
            _trace_page(sheet, pattern.trace, laid, tile, by_machine=by_machine)


def nest_texts(pattern: Pattern) -> tuple[str, ...]:
    """What the nests spell of a maker's own words."""
    return (
        *(pattern.speech.field(said.nest_title(need)) for need in _needs(pattern)),
        *(template.text for template in pattern.templates),
    )


def _needs(pattern: Pattern) -> list[StripNeed]:
    return [need for need in (pattern.fusible, *pattern.cloth) if need.nest is not None or need.joined]


def _trace_page(sheet: Sheet, trace: Tiling, laid: Sequence[Laid], tile: Tile, *, by_machine: bool) -> None:
    """One tile of the nested letters at full size, to lay under the web or the freezer paper as it is traced.

    For a machine the bold lines are those of the rectangles that web is cut to, and nothing is traced.
    """
    note = said.trace_note(tile.name, by_machine=by_machine, mirrored=sheet.mirrored)
    bookmark = said.trace_bookmark(tile.name, by_machine=by_machine)
    sheet.begin(sheet.tell(bookmark), note=sheet.tell(note))
    a, _, _, d, e, f = sheet.to_paper()
    onto: Matrix = (a, 0.0, 0.0, d, e - a * tile.window[0], f - d * tile.window[1])
    canvas = sheet.canvas
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(sheet.left, sheet.bottom, sheet.right - sheet.left, sheet.top - sheet.bottom)
    canvas.clipPath(window, stroke=0, fill=0)
    for piece in laid:
        if not meet(piece.bounds, tile.window):
            continue
        canvas.setDash(*(() if by_machine else DASHES))
        rough_line(sheet, piece, onto, bold=by_machine)
        canvas.setDash()
        canvas.setStrokeGray(QUIET if by_machine else INK)
        canvas.setLineWidth(HAIR if by_machine else CUT)
        outline_on(canvas, piece.traced.transformed(piece.moved(onto)), stroke=True)
    for piece in laid:
        if meet(piece.bounds, tile.kept):
            name_piece(sheet, piece, tile.kept, onto, _TRACE_NAME)
    canvas.restoreState()
    draw_seams(sheet, trace, tile.name, onto)
    at, size = sheet.map_box(trace)
    whole = Outline(
        contours=tuple(
            c
            for piece in laid
            for c in piece.traced.transformed((1.0, 0.0, 0.0, 1.0, piece.x, piece.y)).contours
        )
    )
    tile_map(sheet, trace, whole, at, size, first_page=None, shaded=tile.name, stamp="map-of-nest")
    canvas.setFillGray(INK)


def _nest_page(sheet: Sheet, pattern: Pattern, page: NestPage, *, for_customers: bool) -> None:
    """Draw nests on a page of their own: one in as many bands as make it largest, or several,
    slim ones side by side or low ones one below the other.
    """
    needs = page.needs
    first, *others = (sheet.tell(said.nest_bookmark(need)) for need in (*page.undrawn, *needs))
    sheet.begin(first, drawn=Drawn.SMALL)
    for bookmark in others:
        sheet.mark(bookmark)
    top = (
        sheet.top
        - sheet.title(sheet.tell(said.lying_said(pattern.fusible)), sheet.tell(said.HOW))
        - BELOW_TITLE
    )
    for need in page.undrawn:
        top = _told(sheet, pattern, need, (sheet.left, sheet.right), top, for_customers=for_customers)
        top -= BELOW_TITLE
    if page.parted:
        _parted_page(sheet, pattern, page, top, for_customers=for_customers)
        return
    columns = 1 if page.stacked else len(needs)
    wide = (sheet.right - sheet.left - COLUMN_GAP * (columns - 1)) / columns
    for index, need in enumerate(needs):
        left = sheet.left + (0.0 if page.stacked else index * (wide + COLUMN_GAP))
        foot = _nest(sheet, pattern, need, (left, left + wide), top, for_customers=for_customers)
        if page.stacked:
            top = foot - BELOW_TITLE


def _parted_page(sheet: Sheet, pattern: Pattern, page: NestPage, top: float, *, for_customers: bool) -> None:
    """Two nests below all that is said of them, each under its name, in columns as wide as they need."""
    edge = sheet.left + page.parted * (sheet.right - sheet.left - COLUMN_GAP)
    columns = ((sheet.left, edge), (edge + COLUMN_GAP, sheet.right))
    for need in page.needs:
        top = _told(sheet, pattern, need, (sheet.left, sheet.right), top, for_customers=for_customers)
        top -= BELOW_TITLE
    for need, column in zip(page.needs, columns, strict=True):
        name = sheet.letters.shortened(
            sheet.speech.field(said.nest_title(need)), NAME, column[1] - column[0], bold=True
        )
        sheet.letters.draw(name, column[0], top - NAME, NAME, bold=True)
        _drawn(sheet, pattern, need, column, top - NAME - 8)


def _nest(
    sheet: Sheet,
    pattern: Pattern,
    need: StripNeed,
    column: tuple[float, float],
    top: float,
    *,
    for_customers: bool,
) -> float:
    """One nest with what is said of it, between the `column`'s left and right edges, below `top`, in points;
    returns the foot of its blocks.
    """
    y = _told(sheet, pattern, need, column, top, for_customers=for_customers)
    return _drawn(sheet, pattern, need, column, y - 16)


def _told(
    sheet: Sheet,
    pattern: Pattern,
    need: StripNeed,
    column: tuple[float, float],
    top: float,
    *,
    for_customers: bool,
) -> float:
    """What is said of a nest, in its `column` below `top`; returns where that ends."""
    title = sheet.speech.field(said.nest_title(need))
    blocks = blocks_of(pattern, need)
    told = said.nest_facts(
        need,
        pattern.design.units,
        sewing=pattern.design.sewing,
        blocks=_held(pattern, need, blocks),
        mirrored=sheet.mirrored,
        rough_cut=pattern.design.fusible.rough_cut,
        neighbors=pattern.sheets.has_neighbors,
        for_customers=for_customers,
    )
    words = list(map(sheet.tell, told))
    if not for_customers and _spot_pages(sheet, pattern, need):
        words.append(sheet.tell(said.SPOTS_NEXT))
    elif not for_customers:
        words += _spots(sheet, pattern, need)
    return paragraphs(sheet, title, words, column[0], top, column[1] - column[0])


def _drawn(sheet: Sheet, pattern: Pattern, need: StripNeed, column: tuple[float, float], top: float) -> float:
    """A nest drawn in its `column` below `top`; returns the foot of its blocks."""
    blocks = blocks_of(pattern, need)
    if blocks:
        return _blocks(sheet, pattern, need, blocks, (column[0], sheet.bottom, column[1], top))
    if need.nest is not None:
        _bands(sheet, pattern, need, need.nest, top, column)
    return sheet.bottom


def _spots(sheet: Sheet, pattern: Pattern, need: StripNeed) -> list[str]:
    """Where each letter with a spot of its own lies, in reading order."""
    shapes = {piece.key: piece.shape for piece in need.pieces}
    told = []
    for spot in need.fixed:
        carried = need.carried[spot.key]
        if isinstance(carried, Template):
            along, across, _, _ = spot.place.shape(shapes[spot.key]).bounds
            told.append(sheet.tell(said.spot_said(carried, along, across, pattern.design.units)))
    return told


def _spot_pages(sheet: Sheet, pattern: Pattern, need: StripNeed) -> list[list[list[str]]]:
    """The distances of spots on pages of their own, each in columns; nothing where they stand above the nest."""
    told = _spots(sheet, pattern, need)
    if len(told) <= MOST_SPOTS:
        return []
    widest = max(sheet.letters.width(words, NAME) for words in told) + COLUMN_GAP
    most = int((sheet.top - sheet.bottom - 2 * SPOT) // SPOT)
    count = max(1, int((sheet.right - sheet.left + COLUMN_GAP) // widest))
    columns = [told[start : start + most] for start in range(0, len(told), most)]
    return [columns[start : start + count] for start in range(0, len(columns), count)]


def _spot_page(sheet: Sheet, need: StripNeed, columns: Sequence[Sequence[str]]) -> None:
    sheet.begin(sheet.tell(said.nest_bookmark(need)), drawn=Drawn.NOTHING)
    top = heading(sheet, sheet.tell(said.spots_title(need)), sheet.left, sheet.top - 8)
    x = sheet.left
    for column in columns:
        for index, words in enumerate(column, 1):
            sheet.letters.draw(words, x, top - index * SPOT + 3, NAME)
        x += max(sheet.letters.width(words, NAME) for words in column) + COLUMN_GAP


def _held(pattern: Pattern, need: StripNeed, blocks: Sequence[LetterBlock]) -> list[Held | None]:
    """What of the stash each block is cut from; None where it is bought."""
    plan = pattern.shopping.letters_of(need)
    return [plan.source(one.key) for one in blocks] if plan else []


def _blocks(
    sheet: Sheet, pattern: Pattern, need: StripNeed, blocks: Sequence[LetterBlock], room: Bounds
) -> float:
    """Each block with its letters, side by side in rows, all to the largest scale at which `room` holds them; returns
    where the words below them end.
    """
    plan, units = pattern.shopping.letters_of(need), pattern.design.units
    if plan is None:
        return room[3]
    letters, fabric = letters_of(plan.diagrams), pattern.shopping.fabric_letters[need.fabric]
    way_up = has_way_up(pattern, need)
    below = CAPTION + ARROW_LINE * way_up
    scale, spots = rows_of(blocks, room, below)
    canvas = sheet.canvas
    for one, (x, low) in zip(blocks, spots, strict=True):
        length, height = (float(side) * scale for side in (one.block.length, one.block.width))
        onto: Matrix = (scale, 0.0, 0.0, scale, x, low)
        if said.seen_from_back(pattern.design.sewing):
            onto = (scale, 0.0, 0.0, -scale, x, low + height)
        draw_pieces(sheet, laid_in(sheet, need, one.nest), (0.0, float(one.block.length)), onto)
        canvas.setStrokeGray(INK)
        canvas.setLineWidth(THIN)
        canvas.rect(x, low, length, height, fill=0, stroke=1)
        canvas.saveState()
        canvas.translate(x + length + SIDE - 3, low + height / 2)
        canvas.rotate(90)
        sheet.letters.draw(sheet.tell(said.across_said(one, units)), 0.0, 0.0, SMALL, anchor="middle")
        canvas.restoreState()
        wide = max(length + SIDE, LEAST_BLOCK)
        name = said.block_said(
            piece_said(fabric, letters[one.key]),
            one,
            plan.source(one.key),
            units,
            has_stash=bool(plan.fabric.have),
        )
        lines = [sheet.tell(said.along_said(one, plan.source(one.key), units))]
        lines += sheet.letters.wrapped(sheet.tell(name), NAME, wide)[:_CAPTION_LINES]
        for line, text in enumerate(lines):
            sheet.letters.draw(text, x, low - 9 - line * 9.5, NAME if line else SMALL, bold=bool(line))
        if way_up:
            y = low - 9 - len(lines) * 9.5
            arrow_up(canvas, (x + _ARROW, y + 2.5), (x, y + 2.5))
            sheet.letters.draw(sheet.tell(said.PRINT_TOP), x + _ARROW + 4, y, SMALL)
    return min(low for _, low in spots) - below


def _bands(
    sheet: Sheet,
    pattern: Pattern,
    need: StripNeed,
    nest: StripNest,
    top: float,
    column: tuple[float, float],
) -> None:
    laid = laid_in(sheet, need, nest)
    across, room = column[1] - column[0], top - sheet.bottom
    count = max(range(1, MOST_BANDS), key=lambda bands: band_scale(nest, across, room, bands))
    scale = without_sliver(band_scale(nest, across, room, count), nest, across)
    for band in range(count):
        start = band * across / scale
        if start < nest.length - _AT_END:
            low = top - band * (nest.width * scale + BAND_GAP) - nest.width * scale
            end = min(nest.length, start + across / scale)
            _band(sheet, pattern, need, laid, (start, end), (column[0], low), scale)


def _band(
    sheet: Sheet,
    pattern: Pattern,
    need: StripNeed,
    laid: Sequence[Laid],
    span: tuple[float, float],
    corner: Point,
    scale: float,
) -> None:
    """The stretch of the strip from `span[0]` to `span[1]` inches, its lower left corner at `corner`, in points."""
    canvas, (left, low) = sheet.canvas, corner
    length, height = (span[1] - span[0]) * scale, float(need.usable_width) * scale
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(left, low, length, height)
    canvas.clipPath(window, stroke=0, fill=0)
    if not sheet.mirrored:
        onto: Matrix = (scale, 0.0, 0.0, scale, left - span[0] * scale, low)
    else:
        onto = (scale, 0.0, 0.0, -scale, left - span[0] * scale, low + height)
    draw_pieces(sheet, laid, span, onto)
    canvas.restoreState()
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(THIN)
    canvas.rect(left, low, length, height, fill=0, stroke=1)
    units = pattern.design.units
    ends = []
    for place in span:
        is_end = need.nest is not None and place == need.nest.length
        length_said = said.nest_length_said(need, units) if is_end else as_length(place, units)
        ends.append(sheet.speech.measure(length_said))
    if need.nest is not None and span[1] < need.nest.length - _AT_END:
        sheet.letters.draw(sheet.tell(said.GOES_ON), left + length, low - 17.5, SMALL, anchor="end")
    sheet.letters.draw(ends[0], left, low - 9, SMALL)
    # The second number goes below the first where the band is too short for both.
    if sum(sheet.letters.width(words, SMALL) for words in ends) + SMALL <= length:
        sheet.letters.draw(ends[1], left + length, low - 9, SMALL, anchor="end")
    else:
        sheet.letters.draw(ends[1], left, low - 17.5, SMALL)
