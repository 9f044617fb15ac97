"""A page for each nest: the letters as they lie on the web or the cloth, so that the length can be seen."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import takewhile
from math import hypot
from typing import Final

import shapely
from shapely.affinity import translate
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from applique.cutting.diagram import letters_of
from applique.design import Held, Method, Turns
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Matrix, Point, meet, point_under
from applique.geometry.polygons import as_shape, parts_of
from applique.letter_blocks import LetterBlock
from applique.nesting import StripNest
from applique.paging import Tile, Tiling
from applique.pattern import Pattern
from applique.pieces import Template
from applique.sheets.first_page import heading, paragraphs, tile_map
from applique.sheets.frame import POINTS, Drawn, Sheet
from applique.sheets.strokes import CUT, DASHES, HAIR, INK, QUIET, THIN, arrow_up, outline_on, polyline_on
from applique.sheets.templates import draw_seams
from applique.units import as_length
from applique.words import nests as said
from applique.words.cutting import piece_said
from applique.yardage import Carried, StripNeed

__all__ = ["draw_nests", "nest_texts", "nesting_pdf"]

_SMALL: Final = 7.0
_NAME: Final = 8.0
_TRACE_NAME: Final = 14.0
_DESCENDER: Final = 0.22
"""How far a q reaches below its line, as a share of its size, in the font of the sheets; seen, not measured."""
_CAPITAL: Final = 0.8
"""Height of a line of names, as a share of its size."""
_BAND_GAP: Final = 24.0
_COLUMN_GAP: Final = 24.0
_FACTS: Final = 130.0
"""Points that the title of a page and the heading of a nest take at the most, in half of a page."""
_TITLE: Final = 50.0
"""Of these, what only the first nest of a page takes."""
_LEAST_STACKED: Final = 48.0
"""Points of blocks that stand with others: more than the lines by which what is said of one may be longer than that."""
_BELOW_TITLE: Final = 14.0
_MOST_BANDS: Final = 40
_LEAST_BAND: Final = 80.0
"""Points of a band that its two numbers take side by side."""
_AT_END: Final = 1e-6
"""Inches that a nest may go on and yet be at its end."""
_MOST_SCALE: Final = 36.0
"""Points for an inch, half size."""
_SMALLER: Final = 0.97
_MOST_SPOTS: Final = 6
"""So many letters with spots of their own are listed above their nest."""
_SPOT: Final = 12.0
"""Points from one of their lines to the next."""
_LEAST_BLOCK: Final = 90.0
"""Points of the page that a block takes with its words."""
_BLOCK_GAP: Final = 14.0
_SIDE: Final = 12.0
"""Points on the right of a block for its width."""
_CAPTION_LINES: Final = 3
_CAPTION: Final = 46.0
_ARROW_LINE: Final = 9.5
"""Points that the arrow to the top of a print takes below the words of a block."""
_ARROW: Final = 20.0
_AS_GOOD: Final = 0.9
"""Blocks that half a page shows so large, of their size on a whole one, stand beside others."""
_SHARES: Final = 50
"""Parts in which the width of a page is shared by two nests."""
_STILL_GOOD: Final = 0.7
"""Two nests share a page that shows each at least so large, of its size on a page of its own."""
_RING_ERROR: Final = 0.01
"""Inches by which the drawn rough cut may be coarser than the one that was nested."""


def nesting_pdf(pattern: Pattern) -> bytes:
    """How the letters lie on web and cloth, a page for each, and on request the web at full size to trace from."""
    speech = pattern.speech
    needs = _needs(pattern)
    sheet = Sheet(
        pattern,
        subject=speech.tell(said.SUBJECT),
        method=speech.tell(said.lying_said(pattern.fusible)),
        page_count=len(_pages(pattern, needs)) + (len(pattern.trace.tiles) if pattern.trace else 0),
        texts=nest_texts(pattern),
        mirrored=pattern.design.sewing.traced_mirrored,
    )
    sheet.page_count += sum(len(_spot_pages(sheet, pattern, need)) for need in needs)
    draw_nests(sheet, pattern, for_customers=False)
    return sheet.finish()


def draw_nests(sheet: Sheet, pattern: Pattern, *, for_customers: bool) -> None:
    """Every page of nests, next on `sheet`, which is mirrored as the letters are traced; spots on the maker's own print
    are no use to customers."""
    for page in _pages(pattern, _needs(pattern)):
        _nest_page(sheet, pattern, page, for_customers=for_customers)
        for need in () if for_customers else page.needs:
            for columns in _spot_pages(sheet, pattern, need):
                _spot_page(sheet, need, columns)
    if pattern.trace is not None and pattern.fusible.nest is not None:
        laid = _laid(sheet, pattern.fusible, pattern.fusible.nest, at_size=True)
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


def _trace_page(sheet: Sheet, trace: Tiling, laid: Sequence[_Laid], tile: Tile, *, by_machine: bool) -> None:
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
        _rough_line(sheet, piece, onto, bold=by_machine)
        canvas.setDash()
        canvas.setStrokeGray(QUIET if by_machine else INK)
        canvas.setLineWidth(HAIR if by_machine else CUT)
        outline_on(canvas, piece.traced.transformed(piece.moved(onto)), stroke=True)
    for piece in laid:
        if meet(piece.bounds, tile.kept):
            _name_piece(sheet, piece, tile.kept, onto, _TRACE_NAME)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """One letter of a nest, turned as it lies about its own origin, which stands at `x`, `y` in the nest.

    `names` are the number of its template, its letter, and what layer it is if that is not the letter. `rough` are the
    rings of its rough cut, drawn no finer than `_RING_ERROR`; `bounds` are its own, in the nest. Its name goes to the
    `middle` of the widest place in `room`, a circle of `radius`.
    """

    names: tuple[str, ...]
    traced: Outline
    rough: tuple[tuple[Point, ...], ...]
    bounds: Bounds
    room: BaseGeometry
    middle: Point
    radius: float
    x: float
    y: float

    def moved(self, onto: Matrix) -> Matrix:
        """The matrix from the letter's own origin through the nest to the page."""
        return (onto[0], 0.0, 0.0, onto[3], onto[4] + onto[0] * self.x, onto[5] + onto[3] * self.y)


def _laid(sheet: Sheet, need: StripNeed, nest: StripNest, *, at_size: bool) -> tuple[_Laid, ...]:
    """Every letter of a nest as it lies; each shape is turned and simplified once for each of its turns.

    `at_size`, names keep to the letter itself, whose line is traced; else to its rough cut.
    """
    names = {key: tuple(map(sheet.speech.field, said.names_of(one))) for key, one in need.carried.items()}
    rough = {piece.key: piece.shape for piece in need.pieces}
    turned: dict[tuple[str, float], _Turned] = {}
    laid: list[_Laid] = []
    for spot in nest.placements:
        x, y, known = spot.place.x, spot.place.y, (spot.key, spot.place.turn_deg)
        if known not in turned:
            way = Place(x=0.0, y=0.0, turn_deg=spot.place.turn_deg)
            shape = way.shape(rough[spot.key])
            rings = tuple(
                tuple((float(x), float(y)) for x, y in part.exterior.simplify(_RING_ERROR).coords)
                for part in parts_of(shape)
            )
            room = way.shape(need.carried[spot.key].shape) if at_size else shape
            turned[known] = _Turned(
                traced=way.outline(_traced(need.carried[spot.key], need)),
                rough=rings,
                bounds=shape.bounds,
                room=room,
                widest=_widest(room) or ((0.0, 0.0), 0.0),
            )
        one = turned[known]
        x0, y0, x1, y1 = one.bounds
        laid.append(
            _Laid(
                names=names[spot.key],
                room=one.room,
                middle=one.widest[0],
                radius=one.widest[1],
                traced=one.traced,
                rough=one.rough,
                bounds=(x0 + x, y0 + y, x1 + x, y1 + y),
                x=x,
                y=y,
            )
        )
    return tuple(laid)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Turned:
    """One shape of a nest in one of its turns, about its own origin; as in `_Laid`."""

    traced: Outline
    rough: tuple[tuple[Point, ...], ...]
    bounds: Bounds
    room: BaseGeometry
    widest: tuple[Point, float]


def _traced(carried: Carried, need: StripNeed) -> Outline:
    """What is traced on this material: on cloth the cut line of a turned edge, otherwise the finished edge."""
    return carried.cut_line if need.color and isinstance(carried, Template) else carried.outline


@dataclass(frozen=True, slots=True)
class _Page:
    """What goes on one page, side by side or `stacked` one below the other, and the points that are then `left`.

    Where two share the width of the page as they need it, `parted` is what the first of them takes of it, below all
    that is said of both.
    """

    needs: tuple[StripNeed, ...]
    stacked: bool
    left: float
    parted: float = 0.0


def _pages(pattern: Pattern, needs: Sequence[StripNeed]) -> tuple[_Page, ...]:
    """What goes on each page: two that leave half of their page empty stand side by side, and what is low stands below
    what leaves it room; so do two of different widths that are drawn nearly as large on one page as on two, unless the
    second of them has another to stand with.
    """
    pages: list[_Page] = []
    x0, y0, x1, y1 = (side * POINTS for side in pattern.sheets.frame.drawing)
    found = [_room_of(pattern, need) for need in needs]
    waiting = False
    for index, (need, (slim, high)) in enumerate(zip(needs, found, strict=True)):
        left = -1.0 if slim else y1 - y0 - high
        before = pages[-1] if pages else None
        even = len(list(takewhile(lambda one: one[0], found[index:]))) % 2 == 0
        if slim and waiting and before:
            pages[-1] = _Page((*before.needs, need), stacked=False, left=left)
            waiting = False
        elif not slim and before and before.left >= high - _TITLE:
            pages[-1] = _Page((*before.needs, need), stacked=True, left=before.left - high + _TITLE)
            waiting = False
        elif (
            before
            and len(before.needs) == 1
            and not (slim and even)
            and (parted := _parted(pattern, (before.needs[0], need), (x1 - x0, y1 - y0)))
        ):
            pages[-1] = _Page((*before.needs, need), stacked=False, left=-1.0, parted=parted)
            waiting = False
        else:
            pages.append(_Page((need,), stacked=False, left=left))
            waiting = slim
    return tuple(pages)


def _room_of(pattern: Pattern, need: StripNeed) -> tuple[bool, float]:
    """Whether a nest leaves half of its page empty beside it, and how many points high one is that may stand with
    others one below the other; infinitely many where it may not."""
    x0, y0, x1, y1 = (side * POINTS for side in pattern.sheets.frame.drawing)
    half = (x1 - x0 - _COLUMN_GAP) / 2
    blocks = _blocks_of(pattern, need)
    if not blocks:
        nest = need.nest
        scale = _band_scale(nest, x1 - x0, y1 - y0 - _FACTS, 1) if nest else 0.0
        return nest is None or nest.length * scale <= half, math.inf
    whole, spots = _rows_of(blocks, (0.0, y0, x1 - x0, y1 - _FACTS), _CAPTION)
    part, _ = _rows_of(blocks, (0.0, y0, half, y1 - _FACTS), _CAPTION)
    drawn = y1 - _FACTS - min(low for _, low in spots)
    plain = not need.fixed and drawn >= _LEAST_STACKED and not _has_way_up(pattern, need)
    return part >= _AS_GOOD * whole, _FACTS + drawn + _CAPTION if plain else math.inf


def _parted(pattern: Pattern, needs: tuple[StripNeed, StripNeed], room: Point) -> float:
    """What the first of two nests takes of the width of a page that shows both nearly as large as a page each would;
    nothing where none does, or where one of them has nothing to draw: all its letters are joined from widths."""
    told = (
        2 * _FACTS - _TITLE + _BELOW_TITLE + _SPOT * sum(min(len(need.fixed), _MOST_SPOTS) for need in needs)
    )
    wide, high = room[0] - _COLUMN_GAP, room[1] - told
    alone = [_drawn_at(pattern, need, room[0], room[1] - _FACTS) for need in needs]
    if not all(alone):
        return 0.0

    def kept(share: float) -> float:
        """Of the size that each would have alone, what both keep."""
        parts = zip(needs, (share, 1 - share), alone, strict=True)
        return min(_drawn_at(pattern, need, part * wide, high) / own for need, part, own in parts)

    best = max((step / _SHARES for step in range(1, _SHARES)), key=kept)
    return best if kept(best) >= _STILL_GOOD else 0.0


def _drawn_at(pattern: Pattern, need: StripNeed, wide: float, high: float) -> float:
    """Points for an inch at which a nest is drawn in a column so `wide` and so `high`."""
    blocks = _blocks_of(pattern, need)
    if blocks:
        below = _CAPTION + _ARROW_LINE * _has_way_up(pattern, need)
        return _rows_of(blocks, (0.0, 0.0, wide, high), below)[0] if wide >= _LEAST_BLOCK else 0.0
    nest = need.nest
    if nest is None or wide < _LEAST_BAND:
        return 0.0
    return max(_band_scale(nest, wide, high, bands) for bands in range(1, _MOST_BANDS))


def _nest_page(sheet: Sheet, pattern: Pattern, page: _Page, *, for_customers: bool) -> None:
    """Draw nests on a page of their own: one in as many bands as make it largest, or several,
    slim ones side by side or low ones one below the other.
    """
    needs = page.needs
    bookmark = sheet.tell(said.nest_bookmark(needs[0]))
    sheet.begin(bookmark, drawn=Drawn.SMALL)
    for need in needs[1:]:
        sheet.mark(sheet.tell(said.nest_bookmark(need)))
    top = (
        sheet.top
        - sheet.title(sheet.tell(said.lying_said(pattern.fusible)), sheet.tell(said.HOW))
        - _BELOW_TITLE
    )
    if page.parted:
        _parted_page(sheet, pattern, page, top, for_customers=for_customers)
        return
    columns = 1 if page.stacked else len(needs)
    wide = (sheet.right - sheet.left - _COLUMN_GAP * (columns - 1)) / columns
    for index, need in enumerate(needs):
        left = sheet.left + (0.0 if page.stacked else index * (wide + _COLUMN_GAP))
        foot = _nest(sheet, pattern, need, (left, left + wide), top, for_customers=for_customers)
        if page.stacked:
            top = foot - _BELOW_TITLE


def _parted_page(sheet: Sheet, pattern: Pattern, page: _Page, top: float, *, for_customers: bool) -> None:
    """Two nests below all that is said of them, each under its name, in columns as wide as they need."""
    edge = sheet.left + page.parted * (sheet.right - sheet.left - _COLUMN_GAP)
    columns = ((sheet.left, edge), (edge + _COLUMN_GAP, sheet.right))
    for need in page.needs:
        top = _told(sheet, pattern, need, (sheet.left, sheet.right), top, for_customers=for_customers)
        top -= _BELOW_TITLE
    for need, column in zip(page.needs, columns, strict=True):
        name = sheet.letters.shortened(
            sheet.speech.field(said.nest_title(need)), _NAME, column[1] - column[0], bold=True
        )
        sheet.letters.draw(name, column[0], top - _NAME, _NAME, bold=True)
        _drawn(sheet, pattern, need, column, top - _NAME - 8)


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
    blocks = _blocks_of(pattern, need)
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
    blocks = _blocks_of(pattern, need)
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
    if len(told) <= _MOST_SPOTS:
        return []
    widest = max(sheet.letters.width(words, _NAME) for words in told) + _COLUMN_GAP
    most = int((sheet.top - sheet.bottom - 2 * _SPOT) // _SPOT)
    count = max(1, int((sheet.right - sheet.left + _COLUMN_GAP) // widest))
    columns = [told[start : start + most] for start in range(0, len(told), most)]
    return [columns[start : start + count] for start in range(0, len(columns), count)]


def _spot_page(sheet: Sheet, need: StripNeed, columns: Sequence[Sequence[str]]) -> None:
    sheet.begin(sheet.tell(said.nest_bookmark(need)), drawn=Drawn.NOTHING)
    top = heading(sheet, sheet.tell(said.spots_title(need)), sheet.left, sheet.top - 8)
    x = sheet.left
    for column in columns:
        for index, words in enumerate(column, 1):
            sheet.letters.draw(words, x, top - index * _SPOT + 3, _NAME)
        x += max(sheet.letters.width(words, _NAME) for words in column) + _COLUMN_GAP


def _blocks_of(pattern: Pattern, need: StripNeed) -> tuple[LetterBlock, ...]:
    """The blocks that letters on fabric are cut from, in the order of the cutting plan."""
    plan = pattern.shopping.letters_of(need)
    if plan is None or plan.letters is None:
        return ()
    order = {key: place for place, key in enumerate(letters_of(plan.diagrams))}
    return tuple(sorted(plan.letters.blocks, key=lambda one: order[one.key]))


def _has_way_up(pattern: Pattern, need: StripNeed) -> bool:
    """Whether the print of a fabric that letters are cut from has a top."""
    plan = pattern.shopping.letters_of(need)
    return plan is not None and plan.fabric.turns is Turns.UPRIGHT


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
    way_up = _has_way_up(pattern, need)
    below = _CAPTION + _ARROW_LINE * way_up
    scale, spots = _rows_of(blocks, room, below)
    canvas = sheet.canvas
    for one, (x, low) in zip(blocks, spots, strict=True):
        length, height = (float(side) * scale for side in (one.block.length, one.block.width))
        onto: Matrix = (scale, 0.0, 0.0, scale, x, low)
        if said.seen_from_back(pattern.design.sewing):
            onto = (scale, 0.0, 0.0, -scale, x, low + height)
        _pieces(sheet, _laid(sheet, need, one.nest, at_size=False), (0.0, float(one.block.length)), onto)
        canvas.setStrokeGray(INK)
        canvas.setLineWidth(THIN)
        canvas.rect(x, low, length, height, fill=0, stroke=1)
        canvas.saveState()
        canvas.translate(x + length + _SIDE - 3, low + height / 2)
        canvas.rotate(90)
        sheet.letters.draw(sheet.tell(said.across_said(one, units)), 0.0, 0.0, _SMALL, anchor="middle")
        canvas.restoreState()
        wide = max(length + _SIDE, _LEAST_BLOCK)
        name = said.block_said(
            piece_said(fabric, letters[one.key]),
            one,
            plan.source(one.key),
            units,
            has_stash=bool(plan.fabric.have),
        )
        lines = [sheet.tell(said.along_said(one, plan.source(one.key), units))]
        lines += sheet.letters.wrapped(sheet.tell(name), _NAME, wide)[:_CAPTION_LINES]
        for line, text in enumerate(lines):
            sheet.letters.draw(text, x, low - 9 - line * 9.5, _NAME if line else _SMALL, bold=bool(line))
        if way_up:
            y = low - 9 - len(lines) * 9.5
            arrow_up(canvas, (x + _ARROW, y + 2.5), (x, y + 2.5))
            sheet.letters.draw(sheet.tell(said.PRINT_TOP), x + _ARROW + 4, y, _SMALL)
    return min(low for _, low in spots) - below


def _rows_of(blocks: Sequence[LetterBlock], room: Bounds, below: float) -> tuple[float, tuple[Point, ...]]:
    """The largest scale at which `room` on the page holds the blocks, each with its words `below` it, and the lower
    left corner of each; points."""
    scale = _MOST_SCALE
    while (spots := _in_rows(blocks, scale, room, below)) is None:
        scale *= _SMALLER
    return scale, spots


def _in_rows(
    blocks: Sequence[LetterBlock], scale: float, room: Bounds, below: float
) -> tuple[Point, ...] | None:
    """The lower left corner of each block in `room`, in points; None where it does not hold them."""
    left, bottom, right, top = room
    spots: list[Point] = []
    x, low, deep = left, top, 0.0
    row: list[Point] = []
    for one in blocks:
        length, height = (float(side) * scale for side in (one.block.length, one.block.width))
        wide = max(length + _SIDE, _LEAST_BLOCK)
        if row and x + wide > right:
            spots += [(at, low - tall) for at, tall in row]
            x, low, deep, row = left, low - deep - below, 0.0, []
        if x + wide > right:
            return None
        row.append((x, height))
        x, deep = x + wide + _BLOCK_GAP, max(deep, height)
    spots += [(at, low - tall) for at, tall in row]
    return tuple(spots) if low - deep - below >= bottom else None


def _bands(
    sheet: Sheet,
    pattern: Pattern,
    need: StripNeed,
    nest: StripNest,
    top: float,
    column: tuple[float, float],
) -> None:
    laid = _laid(sheet, need, nest, at_size=False)
    across, room = column[1] - column[0], top - sheet.bottom
    count = max(range(1, _MOST_BANDS), key=lambda bands: _band_scale(nest, across, room, bands))
    scale = _without_sliver(_band_scale(nest, across, room, count), nest, across)
    for band in range(count):
        start = band * across / scale
        if start < nest.length - _AT_END:
            low = top - band * (nest.width * scale + _BAND_GAP) - nest.width * scale
            end = min(nest.length, start + across / scale)
            _band(sheet, pattern, need, laid, (start, end), (column[0], low), scale)


def _band_scale(nest: StripNest, across: float, room: float, bands: int) -> float:
    """Points for an inch at which `bands` bands hold the nest within the page."""
    return min(across * bands / nest.length, (room - bands * _BAND_GAP) / bands / nest.width, _MOST_SCALE)


def _without_sliver(scale: float, nest: StripNest, across: float) -> float:
    """`scale`, or the next smaller one at which no last band is too short for the two numbers below it."""
    whole, last = divmod(nest.length * scale, across)
    return across * whole / nest.length if whole and last < _LEAST_BAND else scale


def _band(
    sheet: Sheet,
    pattern: Pattern,
    need: StripNeed,
    laid: Sequence[_Laid],
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
    _pieces(sheet, laid, span, onto)
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
        sheet.letters.draw(sheet.tell(said.GOES_ON), left + length, low - 17.5, _SMALL, anchor="end")
    sheet.letters.draw(ends[0], left, low - 9, _SMALL)
    # The second number goes below the first where the band is too short for both.
    if sum(sheet.letters.width(words, _SMALL) for words in ends) + _SMALL <= length:
        sheet.letters.draw(ends[1], left + length, low - 9, _SMALL, anchor="end")
    else:
        sheet.letters.draw(ends[1], left, low - 17.5, _SMALL)


def _pieces(sheet: Sheet, laid: Sequence[_Laid], span: tuple[float, float], onto: Matrix) -> None:
    canvas = sheet.canvas
    for piece in laid:
        x0, y0, x1, y1 = piece.bounds
        if x1 < span[0] or x0 > span[1]:
            continue
        canvas.setFillGray(0.88)
        outline_on(canvas, piece.traced.transformed(piece.moved(onto)), fill=True)
        _rough_line(sheet, piece, onto)
    canvas.setFillGray(INK)
    for piece in laid:
        x0, y0, x1, y1 = piece.bounds
        # One that is drawn in two stretches is named in the one that shows more of it.
        if span[0] <= (x0 + x1) / 2 < span[1]:
            _name_piece(sheet, piece, (span[0], y0, span[1], y1), onto, _NAME)


def _name_piece(sheet: Sheet, piece: _Laid, shown: Bounds, onto: Matrix, size: float) -> None:
    """The number and the name of a piece, at the widest place of what is shown of it, as large as it has room.

    Where the name finds none, the number alone; nothing where so little is shown that it has none either.
    """
    x0, y0, x1, y1 = piece.bounds
    whole = x0 >= shown[0] and y0 >= shown[1] and x1 <= shown[2] and y1 <= shown[3]
    if whole:
        (x, y), radius = (piece.middle[0] + piece.x, piece.middle[1] + piece.y), piece.radius
    else:
        found = _widest(box(*shown).intersection(translate(piece.room, piece.x, piece.y)))
        if found is None:
            return
        (x, y), radius = found
    room = 2 * radius * abs(onto[0])
    center = point_under(onto, (x, y))
    for lines in (piece.names, piece.names[:1]):
        for one in (size, (size + _SMALL) / 2, _SMALL):
            wide = max(sheet.letters.width(line, one, bold=True) for line in lines)
            below = 0.0 if lines[-1].isdecimal() else 2 * one * _DESCENDER
            if hypot(wide, len(lines) * one * _CAPITAL + below) <= room:
                _name_lines(sheet, lines, center, one)
                return


def _name_lines(sheet: Sheet, lines: Sequence[str], center: Point, size: float) -> None:
    for index, line in enumerate(lines):
        y = center[1] + size * ((len(lines) - 1) / 2 - index) - size * 0.36
        sheet.letters.draw(line, center[0], y, size, bold=True, anchor="middle")


def _widest(shape: BaseGeometry) -> tuple[Point, float] | None:
    """The middle and the radius of the widest round place in `shape`; None where it has no area."""
    if not shape.area:
        return None
    found = shapely.maximum_inscribed_circle(as_shape(shape), _RING_ERROR)
    (x, y), edge = found.coords
    return (x, y), hypot(edge[0] - x, edge[1] - y)


def _rough_line(sheet: Sheet, piece: _Laid, onto: Matrix, *, bold: bool = False) -> None:
    canvas, moved = sheet.canvas, piece.moved(onto)
    canvas.setLineWidth(CUT if bold else HAIR)
    canvas.setStrokeGray(INK if bold else QUIET)
    for ring in piece.rough:
        polyline_on(canvas, ring, moved, closed=True)
