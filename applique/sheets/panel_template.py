"""The template of a panel that is no rectangle, at full size in tiles; the last pages of the placement guide."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import shapely
from shapely.geometry import LineString, box

from applique.full_size import PanelTemplate
from applique.geometry.points import Bounds, Matrix, Point, point_under
from applique.geometry.polygons import CHORD_ERROR, as_shape, polygon_of
from applique.paging import Tile
from applique.pattern import Pattern
from applique.sheets.first_page import tile_map
from applique.sheets.frame import Drawn, Sheet
from applique.sheets.panel_drawing import draw_tile_name
from applique.sheets.strokes import BOLD, FINISHED, INK, QUIET, THIN, dashed_line, outline_on
from applique.sheets.templates import draw_seams
from applique.units import Units
from applique.words import panel_shapes as said

__all__ = ["draw_panel_templates", "panel_template_pages"]

_TEXT: Final = 9.0
_LEADING: Final = 12.0
_CLEAR: Final = 0.15
"""Inches from the words to the lines around them."""
_LEAST: Final = 0.5
"""Inches from the middle of the words to the nearest line from which on a page has them."""
_SHARE: Final = 0.85
"""Of the width of the circle that the words stand in, how wide their lines are."""
_PIECE: Final = 0.25
_CENTER: Final = (9.0, 3.0, 2.0, 3.0)


def panel_template_pages(pattern: Pattern) -> int:
    """How many pages `draw_panel_templates` draws."""
    return sum(len(template.tiling.tiles) for template in pattern.panel_templates)


def draw_panel_templates(sheet: Sheet, pattern: Pattern) -> None:
    """Every page of the templates of panels, next on `sheet`."""
    for number, template in enumerate(pattern.panel_templates, 1):
        for tile in template.tiling.tiles:
            _draw_tile(sheet, pattern, template, tile, number)


def _draw_tile(sheet: Sheet, pattern: Pattern, template: PanelTemplate, tile: Tile, number: int) -> None:
    name = tile.name
    sheet.begin(
        sheet.tell(said.template_bookmark(name)),
        note=sheet.tell(said.template_note(name)),
        drawn=Drawn.AT_TRUE_SIZE,
    )
    canvas = sheet.canvas
    a, _, _, d, e, f = sheet.to_paper()
    onto: Matrix = (a, 0.0, 0.0, d, e - a * tile.window[0], f - d * tile.window[1])
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(sheet.left, sheet.bottom, sheet.right - sheet.left, sheet.top - sheet.bottom)
    canvas.clipPath(window, stroke=0, fill=0)
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(BOLD)
    outline_on(canvas, template.cut.transformed(onto), stroke=True)
    canvas.setStrokeGray(QUIET)
    canvas.setLineWidth(THIN)
    canvas.setDash(*FINISHED)
    outline_on(canvas, template.finished.transformed(onto), stroke=True)
    canvas.setDash()
    start, end = (point_under(onto, point) for point in template.center_line)
    dashed_line(canvas, start, end, width=THIN, gray=INK, dashes=_CENTER)
    canvas.restoreState()
    draw_seams(sheet, template.tiling, name, onto)
    if len(template.tiling.tiles) > 1:
        at, size = sheet.map_box(template.tiling)
        stamp = f"map-of-template-{number}"
        tile_map(sheet, template.tiling, template.cut, at, size, first_page=None, shaded=name, stamp=stamp)
        draw_tile_name(sheet, template.tiling, tile, _taken(template), onto)
    _draw_words(sheet, template, tile, onto, pattern.design.units)


def _taken(template: PanelTemplate) -> list[Bounds]:
    """Boxes around short pieces of its lines."""
    rings = [outline.contours[0] for outline in (template.cut, template.finished)]
    paths = [[*ring.points(CHORD_ERROR), ring.start] for ring in rings]
    return [
        (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
        for path in (*paths, template.center_line)
        for (x0, y0), (x1, y1) in pairwise(shapely.segmentize(LineString(path), _PIECE).coords)
    ]


def _draw_words(sheet: Sheet, template: PanelTemplate, tile: Tile, onto: Matrix, units: Units) -> None:
    """What it is and what its lines are, where this page has room for that between them."""
    (x, y), half = _room(template, tile)
    if half < _LEAST:
        return
    texts = [
        (said.template_said(template.shape, template.size, units), True),
        *([(said.for_blocks_said(template.blocks), True)] if template.blocks else []),
        (said.template_line_said(template.seam_allowance, units), False),
    ]
    wide = 2 * half * _SHARE * onto[0]
    lines = [
        (line, bold) for text, bold in texts for line in sheet.letters.wrapped(sheet.tell(text), _TEXT, wide)
    ]
    middle, top = point_under(onto, (x, y))
    top += len(lines) * _LEADING / 2
    sheet.canvas.setFillGray(INK)
    for number, (line, bold) in enumerate(lines, 1):
        sheet.letters.draw(line, middle, top - number * _LEADING + 3, _TEXT, anchor="middle", bold=bold)


def _room(template: PanelTemplate, tile: Tile) -> tuple[Point, float]:
    """The middle of the widest circle between the lines on what stays of a tile, and half its width."""
    inside = shapely.intersection(box(*tile.kept), polygon_of(template.finished, chord_error=CHORD_ERROR))
    free = as_shape(shapely.difference(inside, LineString(template.center_line).buffer(_CLEAR)))
    if free.is_empty:
        return (0.0, 0.0), 0.0
    radius = shapely.maximum_inscribed_circle(free, tolerance=0.01)
    (x, y), _ = radius.coords
    return (float(x), float(y)), float(radius.length) - _CLEAR
