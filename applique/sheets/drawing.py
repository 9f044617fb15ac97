"""A drawing put onto a page, as it is: nothing is worked out here."""

from __future__ import annotations

import hashlib
import math
from io import BytesIO
from typing import Final

from reportlab.lib.colors import HexColor
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from applique.drawings import Drawing, Ink, Raster, Shape, Tile, Words
from applique.geometry.outline import Outline
from applique.geometry.points import Matrix, Point, point_under
from applique.sheets.frame import Sheet
from applique.sheets.strokes import outline_on, path_on

__all__ = ["ink_top", "paint_drawing"]

_GROUND: Final = 1.5
"""Points of ground around words."""
_CAPITALS: Final = 0.7
"""Height of capitals in ems."""
_READABLE: Final = 7.0
"""Points below which words do not shrink with their drawing."""


def ink_top(drawing: Drawing) -> float:
    """How far up in `drawing` its ink reaches; its whole height where it has none."""
    tops: list[float] = []
    for mark in drawing.marks:
        match mark:
            case Shape():
                tops.append(mark.outline.bounds()[3] + (mark.ink.width / 2 if mark.ink else 0.0))
            case Words(turn_deg=turn):
                tops.append(drawing.height if turn else mark.at[1] + _CAPITALS * mark.size)
            case Raster():
                tops.append(mark.at[1] + mark.height)
    return min(max(tops, default=drawing.height), drawing.height)


def paint_drawing(sheet: Sheet, drawing: Drawing, at: Point, scale: float = 1.0) -> None:
    """`drawing` with its lower left corner at `at`, in points, `scale` points for each of its own."""
    if sheet.is_trial:
        return
    canvas, onto = sheet.canvas, (scale, 0.0, 0.0, scale, *at)
    canvas.saveState()
    canvas.setLineJoin(1)
    for mark in drawing.marks:
        match mark:
            case Shape():
                _shape(canvas, mark, onto, scale)
            case Words():
                _words(sheet, mark, point_under(onto, mark.at), scale)
            case Raster():
                size = (mark.width * scale, mark.height * scale)
                canvas.drawImage(
                    ImageReader(BytesIO(mark.png)), *point_under(onto, mark.at), *size, mask="auto"
                )
    canvas.restoreState()


def _shape(canvas: Canvas, shape: Shape, onto: Matrix, scale: float) -> None:
    if shape.fill is not None:
        canvas.setFillColor(HexColor(shape.fill))
    outline = shape.outline.transformed(onto)
    if shape.tile is not None:
        outline_on(canvas, outline, fill=True)
        _tiled(canvas, outline, shape.tile, onto)
    if shape.ink is not None:
        _pick_up(canvas, shape.ink, scale)
    outline_on(
        canvas,
        outline,
        fill=shape.fill is not None and shape.tile is None,
        stroke=shape.ink is not None,
        closed=not shape.open,
    )


def _tiled(canvas: Canvas, outline: Outline, tile: Tile, onto: Matrix) -> None:
    """`tile` over all of `outline`, which is on the page already, and nowhere else."""
    canvas.saveState()
    canvas.clipPath(path_on(canvas, outline), stroke=0, fill=0, fillMode=1)
    for matrix in (onto, tile.onto):
        canvas.transform(*matrix)
    x0, y0, x1, y1 = outline.transformed(_undone(onto)).transformed(_undone(tile.onto)).bounds()
    name = _as_form(canvas, tile.data)
    for row in range(math.floor(y0 / tile.height), math.ceil(y1 / tile.height)):
        for column in range(math.floor(x0 / tile.width), math.ceil(x1 / tile.width)):
            canvas.saveState()
            canvas.transform(tile.width, 0.0, 0.0, tile.height, column * tile.width, row * tile.height)
            canvas.doForm(name)
            canvas.restoreState()
    canvas.restoreState()


def _as_form(canvas: Canvas, picture: bytes) -> str:
    """The name of the form that draws `picture` into the unit square; made once, for an image is read each time."""
    name = f"tile-{hashlib.sha256(picture).hexdigest()[:16]}"
    if not canvas.hasForm(name):
        canvas.beginForm(name, 0, 0, 1, 1)
        canvas.drawImage(ImageReader(BytesIO(picture)), 0, 0, 1, 1)
        canvas.endForm()
    return name


def _undone(matrix: Matrix) -> Matrix:
    """The matrix that leads back."""
    a, b, c, d, x, y = matrix
    size = a * d - b * c
    return (d / size, -b / size, -c / size, a / size, (c * y - d * x) / size, (b * x - a * y) / size)


def _pick_up(canvas: Canvas, ink: Ink, scale: float) -> None:
    canvas.setStrokeColor(HexColor(ink.color))
    canvas.setStrokeAlpha(ink.opacity)
    canvas.setLineWidth(ink.width * scale if ink.is_to_scale else ink.width)
    canvas.setDash([dash * scale for dash in ink.dashes])


def _words(sheet: Sheet, words: Words, at: Point, scale: float) -> None:
    canvas, letters = sheet.canvas, sheet.letters
    text = words.said if isinstance(words.said, str) else sheet.tell(words.said)
    size = max(words.size * min(scale, 1.0), min(words.size, _READABLE))
    canvas.saveState()
    canvas.translate(*at)
    if words.turn_deg:
        canvas.rotate(words.turn_deg)
    if words.ground is not None:
        wide = letters.width(text, size, bold=words.bold)
        left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[words.anchor]
        canvas.setFillColor(HexColor(words.ground))
        canvas.rect(left - _GROUND, -0.25 * size, wide + 2 * _GROUND, 1.15 * size, stroke=0, fill=1)
    canvas.setFillColor(HexColor(words.color))
    letters.draw(text, 0.0, 0.0, size, bold=words.bold, anchor=words.anchor)
    canvas.restoreState()
