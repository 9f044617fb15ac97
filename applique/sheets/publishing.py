"""A publisher's mark and the code of her contact, drawn. Places and sizes are points."""

from __future__ import annotations

from io import BytesIO
from itertools import groupby
from typing import Final

from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from applique.publishing import Mark
from applique.scan_code import ScanCode

__all__ = ["code_side", "draw_code", "draw_mark"]

_POINTS: Final = 72.0


def draw_mark(canvas: Canvas, mark: Mark, box: tuple[float, float, float, float]) -> None:
    """The mark as large as fits into `box` (left, low, width, height), in its middle."""
    left, low, width, height = box
    across, up = mark.fitted(width, height)
    canvas.drawImage(
        ImageReader(BytesIO(mark.png)),
        left + (width - across) / 2,
        low + (height - up) / 2,
        across,
        up,
        mask="auto",
    )


def code_side(code: ScanCode) -> float:
    """How wide and how high the code is drawn, its quiet zone in it."""
    return code.side * _POINTS


def draw_code(canvas: Canvas, code: ScanCode, left: float, low: float) -> None:
    """The code at its own size with its lower left corner there: black on white, each run of modules one bar."""
    module = code_side(code) / code.count
    canvas.saveState()
    canvas.setFillGray(1)
    canvas.rect(left, low, code_side(code), code_side(code), stroke=0, fill=1)
    canvas.setFillGray(0)
    bars = canvas.beginPath()
    for down, row in enumerate(code.modules, 1):
        start = 0
        for dark, run in groupby(row):
            long = len(list(run))
            if dark:
                bars.rect(left + start * module, low + (code.count - down) * module, long * module, module)
            start += long
    canvas.drawPath(bars, stroke=0, fill=1)
    canvas.restoreState()
