"""Long pages at full size: placement guide and templates for a copy shop's roll, and one page for a projector."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from typing import Final

from applique.full_size import CopyShopSheets
from applique.geometry.place import Place
from applique.geometry.points import Matrix
from applique.language import Measure, Message, Unit
from applique.marks import panel_lines
from applique.paging import SheetFrame
from applique.pattern import Pattern
from applique.sheets.first_page import tile_map
from applique.sheets.frame import POINTS, Drawn, Sheet
from applique.sheets.panel_drawing import (
    draw_panel,
    draw_tile_name,
    laid_items,
    outline_of_all,
    taken_on_panel,
)
from applique.sheets.strokes import CUT, line_on
from applique.sheets.templates import draw_seams, draw_templates, template_texts
from applique.units import MM_PER_INCH, Units
from applique.words import copy_shop as said
from applique.words import guide
from applique.words.templates import template_file

__all__ = ["copy_shop_guide_pdf", "copy_shop_templates_pdf", "projector_pdf"]

_SQUARE: Final = {
    Units.INCHES: Measure(number=Fraction(1), unit=Unit.INCH, as_fraction=True),
    Units.CENTIMETERS: Measure(number=Fraction(5), unit=Unit.CENTIMETER, as_fraction=False),
}
_SQUARE_SIDE: Final = {Units.INCHES: 1.0, Units.CENTIMETERS: float(50 / MM_PER_INCH)}
_GRID_GRAY: Final = 0.5
_SEEN: Final = 4.0
"""How much thicker lines are for a projector."""
_HEAD: Final = 32.0
"""Points of the head of a page."""
_BODIES: Final = (18.0, 14.0, 11.0, 7.0)
_LEADING: Final = 1.3


def copy_shop_guide_pdf(pattern: Pattern, shop: CopyShopSheets) -> bytes:
    """The panel at full size on a roll, one long page where it fits."""
    place, tiling = shop.guide.place, shop.guide.tiling
    several = len(tiling.tiles) > 1
    line = said.JOINED_LINE if several else said.GUIDE_LINE
    sheet = _sheet(pattern, shop.guide.frame, said.GUIDE_SUBJECT, line, len(tiling.tiles))
    items = laid_items(pattern)
    taken = taken_on_panel(pattern, items, place)
    for tile in tiling.tiles:
        bookmark = guide.full_size_bookmark(tile.name) if several else said.PANEL
        sheet.begin(sheet.tell(bookmark))
        a, _, _, d, e, f = sheet.to_paper()
        onto: Matrix = (a, 0.0, 0.0, d, e - a * tile.window[0], f - d * tile.window[1])
        canvas = sheet.canvas
        canvas.saveState()
        window = canvas.beginPath()
        window.rect(sheet.left, sheet.bottom, sheet.right - sheet.left, sheet.top - sheet.bottom)
        canvas.clipPath(window, stroke=0, fill=0)
        draw_panel(canvas, pattern, items, _turned(place, onto))
        canvas.restoreState()
        if several:
            draw_seams(sheet, tiling, tile.name, onto)
            at, size = sheet.map_box(tiling)
            whole = outline_of_all(items).transformed(place.matrix)
            tile_map(sheet, tiling, whole, at, size, first_page=None, shaded=tile.name, stamp="map-of-panel")
            draw_tile_name(sheet, tiling, tile, taken, onto)
    return sheet.finish()


def copy_shop_templates_pdf(pattern: Pattern, shop: CopyShopSheets) -> bytes:
    """Every template at full size on a roll, mirrored where the method needs it."""
    file = template_file(pattern.design, mirrored=shop.mirrored, neighbors=shop.templates.has_neighbors)
    on_roll = replace(pattern, sheets=shop.templates)
    sheet = Sheet(
        on_roll,
        subject=pattern.speech.tell(said.template_subject(file)),
        method=pattern.speech.tell(said.template_line(file)),
        page_count=shop.templates.page_count,
        texts=template_texts(pattern, file),
        mirrored=shop.mirrored,
    )
    draw_templates(sheet, on_roll)
    return sheet.finish()


def projector_pdf(pattern: Pattern, frame: SheetFrame) -> bytes:
    """The panel at full size on one page, in thick lines over a grid of whole inches, or of 5 cm."""
    sheet = _sheet(pattern, frame, said.PROJECTOR_SUBJECT, said.PROJECTOR_LINE, 1, drawn=Drawn.NOTHING)
    units = pattern.design.units
    sheet.begin(sheet.tell(said.PANEL))
    y = (frame.height - frame.margin) * POINTS - _HEAD
    width = (frame.width - 2 * frame.margin) * POINTS
    for size in _BODIES:
        lines = sheet.letters.wrapped(
            sheet.tell(said.set_up(_SQUARE[units], pattern.panel, units)), size, width
        )
        if (len(lines) + 0.5) * size * _LEADING <= y - sheet.top:
            break
    for line in lines:
        y -= size * _LEADING
        sheet.letters.draw(line, frame.margin * POINTS, y, size)
    a, _, _, d, e, f = sheet.to_paper()
    x0, low, x1, top = panel_lines(pattern.panel).cut_edge
    onto: Matrix = (a, 0.0, 0.0, d, e - a * x0, f - d * low)
    _grid(sheet, (x0, low, x1, top), pattern.panel.center, onto, _SQUARE_SIDE[units])
    draw_panel(sheet.canvas, pattern, laid_items(pattern), onto, heavier=_SEEN)
    return sheet.finish()


def _turned(place: Place, onto: Matrix) -> Matrix:
    """First to `place`, then onto paper."""
    a, _, _, d, e, f = onto
    across, up, along, high, x, y = place.matrix
    return (a * across, d * up, a * along, d * high, a * x + e, d * y + f)


def _grid(
    sheet: Sheet, area: tuple[float, float, float, float], middle: float, onto: Matrix, side: float
) -> None:
    """Squares over the cut panel, from its center line, at `middle`, outward and from its top edge down."""
    x0, low, x1, top = area
    a, _, _, d, e, f = onto
    left, right = (math.floor(abs(edge - middle) / side + 1e-9) for edge in (x0, x1))
    for count in range(-left, right + 1):
        x = a * (middle + count * side) + e
        line_on(sheet.canvas, (x, d * low + f), (x, d * top + f), width=CUT, gray=_GRID_GRAY)
    for count in range(math.floor((top - low) / side + 1e-9) + 1):
        y = d * (top - count * side) + f
        line_on(sheet.canvas, (a * x0 + e, y), (a * x1 + e, y), width=CUT, gray=_GRID_GRAY)


def _sheet(
    pattern: Pattern,
    frame: SheetFrame,
    subject: Message,
    line: Message,
    pages: int,
    *,
    drawn: Drawn = Drawn.AT_TRUE_SIZE,
) -> Sheet:
    return Sheet(
        replace(pattern, sheets=replace(pattern.sheets, frame=frame)),
        subject=pattern.speech.tell(subject),
        method=pattern.speech.tell(line),
        page_count=pages,
        texts=(),
        mirrored=False,
        drawn=drawn,
    )
