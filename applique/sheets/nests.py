"""A page for each nest: the letters as they lie on the web or the cloth, so that the length can be seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from applique.cloth import FabricPlan
from applique.cutting.diagram import letters_of
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Matrix, Point, meet, point_under
from applique.geometry.polygons import parts_of
from applique.letter_blocks import LetterBlock
from applique.nesting import StripNest
from applique.paging import Tile, Tiling
from applique.pattern import Pattern
from applique.pieces import Layer, Template
from applique.sheets.first_page import paragraphs, tile_map
from applique.sheets.frame import Sheet
from applique.sheets.strokes import CUT, DASHES, HAIR, INK, QUIET, THIN, outline_on, polyline_on
from applique.sheets.templates import draw_seams
from applique.units import as_length
from applique.words import nests as said
from applique.yardage import StripNeed

__all__ = ["nesting_pdf"]

_SMALL: Final = 7.0
_BAND_GAP: Final = 24.0
_MOST_BANDS: Final = 40
_LEAST_BAND: Final = 80.0
"""Points of a band that its two numbers take side by side."""
_MOST_SCALE: Final = 36.0
"""Points for an inch, half size."""
_SMALLER: Final = 0.97
_LEAST_BLOCK: Final = 90.0
"""Points of the page that a block takes with its words."""
_BLOCK_GAP: Final = 14.0
_CAPTION_LINES: Final = 3
_CAPTION: Final = 34.0
_RING_ERROR: Final = 0.01
"""Inches by which the drawn rough cut may be coarser than the one that was nested."""


def nesting_pdf(pattern: Pattern) -> bytes:
    """How the letters lie on web and cloth, a page for each, and on request the web at full size to trace from."""
    speech = pattern.speech
    needs = [need for need in (pattern.fusible, *pattern.cloth) if need.nest is not None or need.joined]
    tiles = pattern.trace.tiles if pattern.trace else ()
    sheet = Sheet(
        pattern,
        subject=speech.tell(said.SUBJECT),
        method=speech.tell(said.METHOD),
        page_count=len(needs) + len(tiles),
        texts=(
            *(speech.field(said.nest_title(need)) for need in needs),
            *(template.text for template in pattern.templates),
        ),
        mirrored=True,
    )
    for need in needs:
        _nest_page(sheet, pattern, need)
    if pattern.trace is not None and pattern.fusible.nest is not None:
        laid = _laid(pattern, pattern.fusible, pattern.fusible.nest)
        for tile in tiles:
            _trace_page(sheet, pattern.trace, laid, tile)
    return sheet.finish()


def _trace_page(sheet: Sheet, trace: Tiling, laid: Sequence[_Laid], tile: Tile) -> None:
    """One tile of the nested letters at full size, mirrored, to lay under the web."""
    sheet.begin(sheet.tell(said.trace_bookmark(tile.name)), note=sheet.tell(said.trace_note(tile.name)))
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
        canvas.setDash(*DASHES)
        _rough_line(sheet, piece, onto)
        canvas.setDash()
        canvas.setStrokeGray(INK)
        canvas.setLineWidth(CUT)
        outline_on(canvas, piece.traced.transformed(piece.moved(onto)), stroke=True)
        x0, y0, x1, y1 = piece.bounds
        _name_piece(sheet, piece, point_under(onto, ((x0 + x1) / 2, (y0 + y1) / 2)), 14.0)
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

    `rough` are the rings of its rough cut, drawn no finer than `_RING_ERROR`; `bounds` are its own, in the nest.
    """

    letter: str
    layer: Layer
    traced: Outline
    rough: tuple[tuple[Point, ...], ...]
    bounds: Bounds
    x: float
    y: float

    def moved(self, onto: Matrix) -> Matrix:
        """The matrix from the letter's own origin through the nest to the page."""
        return (onto[0], 0.0, 0.0, onto[3], onto[4] + onto[0] * self.x, onto[5] + onto[3] * self.y)


def _laid(pattern: Pattern, need: StripNeed, nest: StripNest) -> tuple[_Laid, ...]:
    """Every letter of a nest as it lies; each shape is turned and simplified once for each of its turns."""
    by_key = {template.key: template for template in pattern.templates}
    rough = {piece.key: piece.shape for piece in need.pieces}
    turned: dict[tuple[str, float], tuple[Outline, tuple[tuple[Point, ...], ...], Bounds]] = {}
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
            outline = way.outline(_traced(by_key[spot.key], need))
            turned[known] = (outline, rings, shape.bounds)
        traced, rings, (x0, y0, x1, y1) = turned[known]
        laid.append(
            _Laid(
                letter=by_key[spot.key].text,
                layer=by_key[spot.key].layer,
                traced=traced,
                rough=rings,
                bounds=(x0 + x, y0 + y, x1 + x, y1 + y),
                x=x,
                y=y,
            )
        )
    return tuple(laid)


def _traced(template: Template, need: StripNeed) -> Outline:
    """What is traced on this material: on cloth the cut line of a turned edge, otherwise the finished edge."""
    return template.turned.outline if need.color and template.turned else template.outline


def _nest_page(sheet: Sheet, pattern: Pattern, need: StripNeed) -> None:
    """Draw one nest on a page of its own, in as many bands as make it largest."""
    sheet.begin(sheet.tell(said.nest_bookmark(need)))
    title = sheet.speech.field(said.nest_title(need))
    plan = pattern.shopping.letters_of(need)
    facts = [
        sheet.tell(fact) for fact in said.nest_facts(need, pattern.design.units, in_blocks=plan is not None)
    ]
    y = paragraphs(sheet, title, facts, sheet.left, sheet.top - 8, sheet.right - sheet.left)
    if plan is not None:
        _blocks(sheet, pattern, need, plan, y - 16)
    elif need.nest is not None:
        _bands(sheet, pattern, need, need.nest, y - 16)


def _blocks(sheet: Sheet, pattern: Pattern, need: StripNeed, plan: FabricPlan, top: float) -> None:
    """Each block with its letters, side by side in rows, all to the largest scale at which the page holds them."""
    letters = letters_of(plan.diagrams)
    order = {key: place for place, key in enumerate(letters)}
    blocks = sorted(plan.letters.blocks if plan.letters else (), key=lambda one: order[one.key])
    scale = _MOST_SCALE
    while (spots := _in_rows(sheet, blocks, scale, top)) is None:
        scale *= _SMALLER
    for one, (x, low) in zip(blocks, spots, strict=True):
        length, height = (float(side) * scale for side in (one.block.length, one.block.width))
        onto: Matrix = (scale, 0.0, 0.0, scale, x, low)
        _pieces(sheet, _laid(pattern, need, one.nest), (0.0, float(one.block.length)), onto)
        sheet.canvas.setStrokeGray(INK)
        sheet.canvas.setLineWidth(THIN)
        sheet.canvas.rect(x, low, length, height, fill=0, stroke=1)
        words = said.block_said(letters[one.key], one, plan.source(one.key), pattern.design.units)
        for line, text in enumerate(
            sheet.letters.wrapped(sheet.tell(words), _SMALL, max(length, _LEAST_BLOCK))[:_CAPTION_LINES]
        ):
            sheet.letters.draw(text, x, low - 9 - line * 8.5, _SMALL)


def _in_rows(
    sheet: Sheet, blocks: Sequence[LetterBlock], scale: float, top: float
) -> tuple[tuple[float, float], ...] | None:
    """The lower left corner of each block on the page, in points; None where the page does not hold them."""
    spots: list[tuple[float, float]] = []
    x, low, deep = sheet.left, top, 0.0
    row: list[tuple[float, float]] = []
    for one in blocks:
        length, height = (float(side) * scale for side in (one.block.length, one.block.width))
        wide = max(length, _LEAST_BLOCK)
        if row and x + wide > sheet.right:
            spots += [(at, low - tall) for at, tall in row]
            x, low, deep, row = sheet.left, low - deep - _CAPTION, 0.0, []
        if x + wide > sheet.right:
            return None
        row.append((x, height))
        x, deep = x + wide + _BLOCK_GAP, max(deep, height)
    spots += [(at, low - tall) for at, tall in row]
    return tuple(spots) if low - deep - _CAPTION >= sheet.bottom else None


def _bands(sheet: Sheet, pattern: Pattern, need: StripNeed, nest: StripNest, top: float) -> None:
    laid = _laid(pattern, need, nest)
    across, room = sheet.right - sheet.left, top - sheet.bottom
    count = max(range(1, _MOST_BANDS), key=lambda bands: _band_scale(nest, across, room, bands))
    scale = _without_sliver(_band_scale(nest, across, room, count), nest, across)
    for band in range(count):
        start = band * across / scale
        if start < nest.length - 1e-6:
            low = top - band * (nest.width * scale + _BAND_GAP) - nest.width * scale
            end = min(nest.length, start + across / scale)
            _band(sheet, pattern, need, laid, (start, end), low, scale)


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
    low: float,
    scale: float,
) -> None:
    """The stretch of the strip from `span[0]` to `span[1]` inches, its lower edge at `low` points."""
    canvas, left = sheet.canvas, sheet.left
    length, height = (span[1] - span[0]) * scale, float(need.usable_width) * scale
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(left, low, length, height)
    canvas.clipPath(window, stroke=0, fill=0)
    if need.color:
        onto: Matrix = (scale, 0.0, 0.0, scale, left - span[0] * scale, low)
    else:
        onto = (scale, 0.0, 0.0, -scale, left - span[0] * scale, low + height)
    _pieces(sheet, laid, span, onto)
    canvas.restoreState()
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(THIN)
    canvas.rect(left, low, length, height, fill=0, stroke=1)
    for place, anchor in ((span[0], "start"), (span[1], "end")):
        is_end = need.nest is not None and place == need.nest.length
        units = pattern.design.units
        words = sheet.speech.measure(
            said.nest_length_said(need, units) if is_end else as_length(place, units)
        )
        sheet.letters.draw(words, left + (place - span[0]) * scale, low - 9, _SMALL, anchor=anchor)


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
        _name_piece(sheet, piece, point_under(onto, ((x0 + x1) / 2, (y0 + y1) / 2)), 8.0)


def _name_piece(sheet: Sheet, piece: _Laid, center: Point, size: float) -> None:
    """The letter in the middle of its piece, and below it that it is the outline behind that letter."""
    sheet.letters.draw(piece.letter, center[0], center[1] - size * 0.36, size, bold=True, anchor="middle")
    if piece.layer is Layer.OUTLINE:
        sheet.letters.draw(sheet.tell(said.OUTLINE), center[0], center[1] - size, size * 0.6, anchor="middle")


def _rough_line(sheet: Sheet, piece: _Laid, onto: Matrix) -> None:
    canvas, moved = sheet.canvas, piece.moved(onto)
    canvas.setLineWidth(HAIR)
    canvas.setStrokeGray(QUIET)
    for ring in piece.rough:
        polyline_on(canvas, ring, moved, closed=True)
