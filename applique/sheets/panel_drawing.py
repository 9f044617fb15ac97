"""The panel at full size as lines: what is laid on it, its edges, its center line and its baselines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from applique.geometry.outline import Outline
from applique.geometry.points import Bounds, Matrix, meet, point_under
from applique.marks import guide_items, panel_lines
from applique.pattern import Pattern
from applique.picture import Item, Part
from applique.sheets.strokes import CUT, HAIR, INK, QUIET, THIN, dashed_path, line_on, outline_on

__all__ = ["LaidItem", "draw_panel", "draw_panel_lines", "laid_items", "outline_of_all"]


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
    """The cut edge of the panel, where it is trimmed to after stitching, its finished edge, and its center line, which
    goes on for `beyond` points.
    """
    lines = panel_lines(pattern.panel)
    canvas.setLineWidth(THIN * heavier)
    edges = [(lines.cut_edge, INK, ()), (lines.finished_edge, QUIET, (2, 2))]
    if lines.trimmed_edge is not None:
        edges.insert(1, (lines.trimmed_edge, QUIET, (7, 3)))
    for edge, gray, dashes in edges:
        (x0, y0), (x1, y1) = point_under(onto, edge[:2]), point_under(onto, edge[2:])
        canvas.setStrokeGray(gray)
        canvas.setDash(*dashes)
        canvas.rect(x0, y0, x1 - x0, y1 - y0, fill=0, stroke=1)
    (x, low), (_, top) = (point_under(onto, point) for point in lines.center_line)
    canvas.setDash([9, 3, 2, 3])
    line_on(canvas, (x, low - beyond), (x, top + beyond), width=THIN * heavier)
    canvas.setDash()
