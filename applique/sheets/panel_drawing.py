"""The panel at full size as lines: what is laid on it, its edges, its center line and its baselines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from reportlab.pdfgen.canvas import Canvas

from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Matrix, Point, meet, point_under
from applique.marks import guide_items, panel_lines
from applique.paging import Tile, Tiling
from applique.pattern import Pattern
from applique.picture import Item, Part
from applique.sheets.frame import Sheet
from applique.sheets.strokes import CUT, FINISHED, HAIR, INK, QUIET, THIN, dashed_path, line_on, outline_on

__all__ = [
    "LaidItem",
    "draw_panel",
    "draw_panel_lines",
    "draw_tile_name",
    "laid_items",
    "outline_of_all",
    "taken_on_panel",
]

_AT_ORIGIN: Final = Place(x=0.0, y=0.0)
_NAME: Final = 13.0
_NAME_GAP: Final = 10.0
"""Points between the name of a tile and the lines that the tile ends at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidItem:
    """An item of the picture where it lies on the panel, with its extent there."""

    item: Item
    outline: Outline
    extent: Bounds


def laid_items(pattern: Pattern) -> tuple[LaidItem, ...]:
    """What the guide shows of a pattern, in the frame of the panel."""
    laid = ((item, item.laid) for item in guide_items(pattern.picture, pattern.quilting))
    return tuple(LaidItem(item=item, outline=outline, extent=outline.bounds()) for item, outline in laid)


def outline_of_all(items: Iterable[LaidItem]) -> Outline:
    """Every piece among `items` as one outline."""
    pieces = [one.outline for one in items if not one.item.open]
    return Outline(contours=tuple(contour for outline in pieces for contour in outline.contours))


def draw_panel(
    canvas: Canvas,
    pattern: Pattern,
    items: Sequence[LaidItem],
    onto: Matrix,
    *,
    window: Bounds | None = None,
    heavier: float = 1.0,
) -> None:
    """The panel with `items` on it under `onto`, only those that meet `window` of its frame if one is given.

    Lines are `heavier` times as thick as on a page to lay under fabric.
    """
    behind = {one.item.row for one in items if one.item.part is Part.OUTLINE}
    for one in items:
        if window is None or meet(one.extent, window):
            thin = one.item.part is Part.LETTER and one.item.row in behind
            _draw_item(canvas, one, onto, thin=thin, heavier=heavier)
    draw_panel_lines(canvas, pattern, onto, heavier=heavier)
    for mark in pattern.marks:
        path = [point_under(onto, point) for point in mark.baseline]
        dashed_path(canvas, path, gray=QUIET, width=THIN * heavier)


def taken_on_panel(
    pattern: Pattern, items: Iterable[LaidItem], place: Place = _AT_ORIGIN
) -> tuple[Bounds, ...]:
    """Boxes around all that `draw_panel` draws, once the panel lies at `place`."""
    lines = panel_lines(pattern.panel)
    paths: list[Sequence[Point]] = [
        lines.center_line,
        *(mark.baseline for mark in pattern.marks),
        *lines.edge_paths,
    ]
    pieces = [place.outline(one.outline).bounds() for one in items]
    steps = ((place.point(start), place.point(end)) for path in paths for start, end in pairwise(path))
    drawn = ((min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])) for a, b in steps)
    return (*pieces, *drawn)


def draw_tile_name(sheet: Sheet, tiling: Tiling, tile: Tile, taken: Sequence[Bounds], onto: Matrix) -> None:
    """The name of a tile in a corner of what stays of it once it is trimmed, clear of what is `taken` where one is.

    `taken` and `tiling` are in the frame that `onto` leads from.
    """
    x0, y0, x1, y1 = tile.window
    left = max((x for x in tiling.seams_x if x0 < x < (x0 + x1) / 2), default=x0)
    right = min((x for x in tiling.seams_x if (x0 + x1) / 2 < x < x1), default=x1)
    low = max((y for y in tiling.seams_y if y0 < y < (y0 + y1) / 2), default=y0)
    top = min((y for y in tiling.seams_y if (y0 + y1) / 2 < y < y1), default=y1)
    width, high = sheet.letters.width(tile.name, _NAME, bold=True) / onto[0], _NAME / onto[3]
    gap = _NAME_GAP / onto[0]
    corners = [
        (x, y, x + width, y + high)
        for y in (low + gap, top - gap - high)
        for x in (left + gap, right - gap - width)
    ]
    clear = [box for box in corners if not any(meet(box, other) for other in taken)]
    x, y = point_under(onto, (clear or corners)[0][:2])
    sheet.canvas.setFillGray(INK)
    sheet.letters.draw(tile.name, x, y + _NAME * 0.15, _NAME, bold=True)


def _draw_item(canvas: Canvas, one: LaidItem, onto: Matrix, *, thin: bool, heavier: float) -> None:
    """A piece hides what lies below it: of one over another the edge that shows. A letter on an outline is thin."""
    quilted = one.item.part is Part.QUILTING
    canvas.setStrokeGray(QUIET if quilted else INK)
    canvas.setFillGray(1.0)
    canvas.setLineWidth((HAIR if quilted else THIN if thin else CUT) * heavier)
    outline_on(canvas, one.outline.transformed(onto), fill=not quilted, stroke=True, closed=not one.item.open)


def draw_panel_lines(
    canvas: Canvas, pattern: Pattern, onto: Matrix, *, beyond: float = 0.0, heavier: float = 1.0
) -> None:
    """The cut edge of the panel, where it is trimmed to after stitching, its finished edge, its center line, which goes
    on for `beyond` points, and the first line of letters alone.
    """
    lines = panel_lines(pattern.panel)
    canvas.setLineWidth(THIN * heavier)
    edges: list[tuple[Bounds, float, tuple[float, ...]]] = []
    if not pattern.panel.loose:
        edges.append((lines.cut_edge, INK, ()))
    if pattern.panel.is_cut:
        edges.append((lines.finished_edge, QUIET, FINISHED))
    if lines.trimmed_edge is not None:
        edges.insert(1, (lines.trimmed_edge, QUIET, (7, 3)))
    if lines.outlines is not None:
        del edges[1:]
        for outline, pattern_of_line in zip(lines.outlines, ((7, 3), FINISHED), strict=True):
            canvas.setStrokeGray(QUIET)
            canvas.setDash(*pattern_of_line)
            outline_on(canvas, outline.transformed(onto), stroke=True)
    for edge, gray, dashes in edges:
        (x0, y0), (x1, y1) = point_under(onto, edge[:2]), point_under(onto, edge[2:])
        canvas.setStrokeGray(gray)
        canvas.setDash(*dashes)
        canvas.rect(x0, y0, x1 - x0, y1 - y0, fill=0, stroke=1)
    (x, low), (_, top) = (point_under(onto, point) for point in lines.center_line)
    canvas.setDash([9, 3, 2, 3])
    line_on(canvas, (x, low - beyond), (x, top + beyond), width=THIN * heavier)
    canvas.setDash()
    if lines.first_line is not None:
        start, end = (point_under(onto, point) for point in lines.first_line)
        line_on(canvas, start, end, width=THIN * heavier)
