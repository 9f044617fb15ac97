"""The quilt drawn on a page: in its colors, step by step as its borders grow, and to scale in a room."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from typing import Final

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from applique.geometry.points import Matrix
from applique.pattern import Pattern
from applique.picture import Item, Part, Picture
from applique.pieces import Template
from applique.quilt.borders import BorderPlan, BorderStep
from applique.sewing.quilting import QuiltingPlan
from applique.sheets.frame import Sheet
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, outline_on

__all__ = ["draw_quilt", "draw_quilting", "draw_scene", "draw_starts", "draw_step"]

Box = tuple[float, float, float, float]
"""Left, bottom, width and height in points."""
_GRAY: Final = "#ededed"


def draw_quilt(canvas: Canvas, pattern: Pattern, box: Box) -> None:
    """The whole quilt in color, as large as `box` allows and in its middle."""
    picture = pattern.picture
    _paint(canvas, picture.items, _centered(picture, (picture.width, picture.height), box))


def draw_scene(canvas: Canvas, pattern: Pattern, box: Box) -> None:
    """The quilt on a wall beside a door, a person and a sofa, all to one scale."""
    picture = pattern.picture
    wall = picture.wall
    scale = min(box[2] / wall.width, box[3] / wall.height)
    left, low = box[0] + (box[2] - wall.width * scale) / 2, box[1]
    _paint(canvas, wall.items, (scale, 0.0, 0.0, scale, left, low))
    x, y = wall.quilt
    _paint(canvas, picture.items, (scale, 0.0, 0.0, scale, left + x * scale, low + y * scale))


def draw_step(canvas: Canvas, pattern: Pattern, border: BorderPlan, step: BorderStep, box: Box) -> None:
    """The top after one round of sewing: what was there in gray, the strips just sewn on in color."""
    picture = pattern.picture
    onto = _centered(picture, step.finished, box)
    rounds = border.steps[: border.steps.index(step) + 1]
    sewn = {strip.side for round_ in rounds for strip in round_.strips}
    new = {strip.side for strip in step.strips}
    for item in picture.top:
        inside = item.border is None or item.border < border.number
        if inside or (item.border == border.number and item.side in sewn):
            fresh = item.border == border.number and item.side in new
            _paint(canvas, (item if fresh else replace(item, fill=_GRAY),), onto)


def draw_quilting(canvas: Canvas, pattern: Pattern, plan: QuiltingPlan, box: Box) -> None:
    """The quilt in pale gray with the lines of one kind of quilting over it."""
    picture = pattern.picture
    onto = _centered(picture, (picture.width, picture.height), box)
    canvas.setStrokeGray(QUIET)
    canvas.setFillGray(0.86)
    canvas.setLineWidth(HAIR)
    for item in picture.of(Part.PANEL, Part.OUTLINE, Part.LETTER, Part.SHAPE, Part.EDGE):
        letter = item.part in (Part.LETTER, Part.SHAPE)
        outline_on(canvas, item.laid.transformed(onto), fill=letter, stroke=not letter)
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(THIN)
    for item in picture.of(Part.QUILTING):
        if item.quilting == plan.number:
            outline_on(canvas, item.laid.transformed(onto), stroke=True, closed=False)
    canvas.setFillGray(INK)


def _centered(picture: Picture, size: tuple[float | Fraction, float | Fraction], box: Box) -> Matrix:
    """The matrix from `picture` to points that brings `size` inches about its middle into the middle of `box`."""
    scale = min(box[2] / float(size[0]), box[3] / float(size[1]))
    left = box[0] + (box[2] - picture.width * scale) / 2
    low = box[1] + (box[3] - picture.height * scale) / 2
    return (scale, 0.0, 0.0, scale, left, low)


def _paint(canvas: Canvas, items: Iterable[Item], onto: Matrix) -> None:
    """The items of a picture, whose frame comes under `onto`, in points."""
    canvas.saveState()
    canvas.setLineJoin(1)
    for item in items:
        if item.fill is not None:
            canvas.setFillColor(HexColor(item.fill))
        if item.pen is not None:
            canvas.setStrokeColor(HexColor(item.pen.color))
            canvas.setStrokeAlpha(item.pen.opacity)
            canvas.setLineWidth(item.pen.width * onto[0])
        outline_on(
            canvas,
            item.laid.transformed(onto),
            fill=item.fill is not None,
            stroke=item.pen is not None,
            closed=not item.open,
        )
    canvas.restoreState()


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
