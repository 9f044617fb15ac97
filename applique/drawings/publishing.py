"""A publisher's mark, and her contact as a code to scan."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from applique.drawings.values import INK, PAPER, Drawing, Raster, Shape, box
from applique.geometry.points import Point
from applique.language import Message
from applique.publishing import Mark
from applique.scan_code import ScanCode

__all__ = ["draw_code", "draw_mark"]

_POINTS: Final = 72.0


def draw_mark(mark: Mark, size: Point, said: str | Message) -> Drawing:
    """The mark as large as fits into `size` points."""
    across, up = mark.fitted(*size)
    raster = Raster(png=mark.png, at=(0.0, 0.0), width=across, height=up)
    return Drawing(width=across, height=up, marks=(raster,), said=said)


def draw_code(code: ScanCode, said: str | Message) -> Drawing:
    """The code at its own size, its quiet zone in it: black on white, each run of modules one bar."""
    side = code.side * _POINTS
    marks = (box(0.0, 0.0, side, side, fill=PAPER), *_bars(code, side))
    return Drawing(width=side, height=side, marks=marks, said=said, is_to_scale=True)


def _bars(code: ScanCode, side: float) -> Iterator[Shape]:
    module = side / code.count
    for down, row in enumerate(code.modules, 1):
        start = 0
        for dark, run in groupby(row):
            long = len(list(run))
            if dark:
                yield box(start * module, (code.count - down) * module, long * module, module, fill=INK)
            start += long
