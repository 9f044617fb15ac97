"""A drawing put onto a page, as it is: nothing is worked out here."""

from __future__ import annotations

from io import BytesIO
from typing import Final

from reportlab.lib.colors import HexColor
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from applique.drawings import Drawing, Ink, Raster, Shape, Words
from applique.geometry.points import Matrix, Point, point_under
from applique.sheets.frame import Sheet
from applique.sheets.strokes import outline_on

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
    if shape.ink is not None:
        _pick_up(canvas, shape.ink, scale)
    outline_on(
        canvas,
        shape.outline.transformed(onto),
        fill=shape.fill is not None,
        stroke=shape.ink is not None,
        closed=not shape.open,
    )


def _pick_up(canvas: Canvas, ink: Ink, scale: float) -> None:
    canvas.setStrokeColor(HexColor(ink.color))
    canvas.setStrokeAlpha(ink.opacity)
    canvas.setLineWidth(ink.width * scale)
    canvas.setDash([dash * scale for dash in ink.dashes])


def _words(sheet: Sheet, words: Words, at: Point, scale: float) -> None:
    canvas, letters = sheet.canvas, sheet.letters
    text = words.said if isinstance(words.said, str) else sheet.tell(words.said)
    size = max(words.size * scale, min(words.size, _READABLE))
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
