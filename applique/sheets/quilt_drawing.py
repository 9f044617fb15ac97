"""The quilt drawn on a page: in its colors, step by step as its borders grow, and to scale in a room."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from applique.geometry.points import Matrix
from applique.pattern import Pattern
from applique.pieces import Template
from applique.quilt.borders import BorderPlan, BorderStep, Patch
from applique.sewing.quilting import QuiltingPlan
from applique.sheets.frame import Sheet
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, outline_on, polyline_on

__all__ = ["draw_quilt", "draw_quilting", "draw_scene", "draw_starts", "draw_step"]

Box = tuple[float, float, float, float]
"""Left, bottom, width and height in points."""


def draw_quilt(
    canvas: Canvas, pattern: Pattern, box: Box, *, size: tuple[Fraction, Fraction] | None = None
) -> Box:
    """The whole quilt in color, as large as `box` allows and in its middle; returns where it lies."""
    width, height = (float(side) for side in size or pattern.quilt.finished)
    scale = min(box[2] / width, box[3] / height)
    middle = (box[0] + box[2] / 2, box[1] + box[3] / 2)
    _quilt_at(canvas, pattern, middle, scale, pattern.quilt.borders)
    return (middle[0] - width * scale / 2, middle[1] - height * scale / 2, width * scale, height * scale)


def _quilt_at(
    canvas: Canvas, pattern: Pattern, middle: tuple[float, float], scale: float, borders: Sequence[BorderPlan]
) -> None:
    panel = pattern.panel
    half_w, half_h = float(panel.width) / 2, float(panel.height) / 2
    canvas.setFillColor(HexColor(panel.fabric.color))
    canvas.setStrokeGray(QUIET)
    canvas.setLineWidth(HAIR)
    canvas.rect(
        middle[0] - half_w * scale,
        middle[1] - half_h * scale,
        2 * half_w * scale,
        2 * half_h * scale,
        fill=1,
        stroke=1,
    )
    for border in borders:
        for patch in border.patches:
            _patch(canvas, pattern, patch, middle, scale)
    onto: Matrix = (scale, 0.0, 0.0, scale, middle[0] - half_w * scale, middle[1] - half_h * scale)
    for piece in pattern.outlines:
        canvas.setFillColor(HexColor(piece.fabric.color))
        placed = piece.place.outline(piece.outline)
        outline_on(canvas, placed.transformed(onto), fill=True)
    for row in panel.rows:
        canvas.setFillColor(HexColor(row.fabric.color))
        outline_on(canvas, row.outline.transformed(onto), fill=True)
    canvas.setFillGray(INK)


def _patch(canvas: Canvas, pattern: Pattern, patch: Patch, middle: tuple[float, float], scale: float) -> None:
    canvas.setFillColor(HexColor(pattern.quilt.fabrics.by_name[patch.fabric].color))
    path = canvas.beginPath()
    for index, (x, y) in enumerate(patch.corners):
        move = path.lineTo if index else path.moveTo
        move(middle[0] + float(x) * scale, middle[1] + float(y) * scale)
    path.close()
    canvas.drawPath(path, fill=1, stroke=1)


def draw_scene(canvas: Canvas, pattern: Pattern, box: Box) -> None:
    """The quilt on a wall beside a door, a person and a sofa, all to one scale."""
    scene = pattern.quilt.scene
    scale = min(box[2] / scene.width, box[3] / scene.height)
    left = box[0] + (box[2] - scene.width * scale) / 2
    canvas.setStrokeGray(QUIET)
    canvas.setLineWidth(0.6)
    canvas.line(left - 6, box[1], left + scene.width * scale + 6, box[1])
    for thing in scene.things:
        for part in thing.parts:
            path = canvas.beginPath()
            for index, (x, y) in enumerate(part.exterior.coords[:-1]):
                move = path.lineTo if index else path.moveTo
                move(left + x * scale, box[1] + y * scale)
            path.close()
            canvas.drawPath(path, fill=0, stroke=1)
    x0, y0, x1, y1 = scene.quilt
    middle = (left + (x0 + x1) / 2 * scale, box[1] + (y0 + y1) / 2 * scale)
    _quilt_at(canvas, pattern, middle, scale, pattern.quilt.borders)


def draw_step(canvas: Canvas, pattern: Pattern, border: BorderPlan, step: BorderStep, box: Box) -> None:
    """The top after one round of sewing: what was there in gray lines, the strips just sewn on in color."""
    width, height = (float(side) for side in step.finished)
    scale = min(box[2] / width, box[3] / height)
    middle = (box[0] + box[2] / 2, box[1] + box[3] / 2)
    before_w, before_h = (float(side) for side in border.before)
    canvas.setStrokeGray(QUIET)
    canvas.setLineWidth(HAIR)
    canvas.setFillGray(0.93)
    canvas.rect(
        middle[0] - before_w * scale / 2,
        middle[1] - before_h * scale / 2,
        before_w * scale,
        before_h * scale,
        fill=1,
    )
    for other in border.steps[: border.steps.index(step) + 1]:
        sides = {strip.side for strip in other.strips}
        for patch in border.patches:
            if patch.side in sides:
                if other is step:
                    _patch(canvas, pattern, patch, middle, scale)
                else:
                    _gray_patch(canvas, patch, middle, scale)
    canvas.setFillGray(INK)


def _gray_patch(canvas: Canvas, patch: Patch, middle: tuple[float, float], scale: float) -> None:
    canvas.setFillGray(0.93)
    path = canvas.beginPath()
    for index, (x, y) in enumerate(patch.corners):
        move = path.lineTo if index else path.moveTo
        move(middle[0] + float(x) * scale, middle[1] + float(y) * scale)
    path.close()
    canvas.drawPath(path, fill=1, stroke=1)


def draw_quilting(canvas: Canvas, pattern: Pattern, plan: QuiltingPlan, box: Box) -> None:
    """The quilt in pale gray with the lines of one kind of quilting over it."""
    width, height = (float(side) for side in pattern.quilt.finished)
    scale = min(box[2] / width, box[3] / height)
    x, y = box[0] + box[2] / 2, box[1] + box[3] / 2
    canvas.setStrokeGray(QUIET)
    canvas.setLineWidth(HAIR)
    for size in ((width, height), (float(pattern.panel.width), float(pattern.panel.height))):
        canvas.rect(x - size[0] * scale / 2, y - size[1] * scale / 2, size[0] * scale, size[1] * scale)
    half_w, half_h = float(pattern.panel.width) / 2, float(pattern.panel.height) / 2
    onto: Matrix = (scale, 0.0, 0.0, scale, x - half_w * scale, y - half_h * scale)
    canvas.setFillGray(0.86)
    for row in pattern.panel.rows:
        outline_on(canvas, row.outline.transformed(onto), fill=True)
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(THIN)
    for line in plan.lines:
        polyline_on(canvas, line, (scale, 0.0, 0.0, scale, x, y))
    canvas.setFillGray(INK)


def draw_starts(sheet: Sheet, pattern: Pattern, box: Box) -> None:
    """Every template small, side by side, with a dot where its stitching starts and stops."""
    canvas = sheet.canvas
    rows, scale, gap = _fitted(pattern, box)
    y = box[1] + box[3]
    for row in rows:
        high = max(template.ink[3] - template.ink[1] for template in row)
        y -= high * scale
        x = box[0]
        for template in row:
            at = (x - template.ink[0] * scale, y - template.ink[1] * scale)
            canvas.setStrokeGray(INK)
            canvas.setLineWidth(THIN)
            outline_on(canvas, template.outline.transformed((scale, 0.0, 0.0, scale, *at)), stroke=True)
            canvas.setFillGray(INK)
            for start in pattern.stitching.letters[template.number - 1].starts:
                canvas.circle(at[0] + start[0] * scale, at[1] + start[1] * scale, 2.2, stroke=0, fill=1)
            x += (template.ink[2] - template.ink[0]) * scale + gap
        y -= gap


def _fitted(pattern: Pattern, box: Box) -> tuple[list[list[Template]], float, float]:
    """The templates in rows, at the largest scale at which all of them fit into `box`; points for an inch."""
    gap, scale = 12.0, 40.0
    while True:
        rows: list[list[Template]] = [[]]
        x = 0.0
        for template in pattern.templates:
            width = (template.ink[2] - template.ink[0]) * scale
            if x and x + width > box[2]:
                rows.append([])
                x = 0.0
            rows[-1].append(template)
            x += width + gap
        high = sum(max(t.ink[3] - t.ink[1] for t in row) * scale + gap for row in rows)
        widest = max((t.ink[2] - t.ink[0]) * scale for t in pattern.templates)
        if (high <= box[3] and widest <= box[2]) or scale < 0.5:
            return rows, scale, gap
        scale *= 0.93
        gap = max(3.0, gap * 0.96)
