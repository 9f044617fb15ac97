"""A publisher's mark, and her contact as a code to scan."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from applique.drawings.values import (
    CUT,
    INK,
    PAPER,
    Anchor,
    Drawing,
    Raster,
    Shape,
    Words,
    box,
    text_width,
)
from applique.geometry.points import Point
from applique.language import Message
from applique.publishing import Mark
from applique.scan_code import ScanCode

__all__ = ["draw_code", "draw_mark", "draw_monogram"]

_POINTS: Final = 72.0
_CAPITALS: Final = 0.7
"""Height of capitals in ems."""


def draw_mark(mark: Mark, size: Point, said: str | Message) -> Drawing:
    """The mark as large as fits into `size` points."""
    across, up = mark.fitted(*size)
    raster = Raster(png=mark.png, at=(0.0, 0.0), width=across, height=up)
    return Drawing(width=across, height=up, marks=(raster,), said=said)


def draw_monogram(letters: str, high: float) -> Drawing:
    """A mark of a few letters, bold in a frame `high` points high."""
    size = 0.5 * high
    wide = max(high, text_width(letters, size, bold=True) + high / 2)
    words = Words(
        said=letters, at=(wide / 2, (high - _CAPITALS * size) / 2), size=size, bold=True, anchor=Anchor.MIDDLE
    )
    frame = box(0.5, 0.5, wide - 1, high - 1, ink=CUT)
    return Drawing(width=wide, height=high, marks=(frame, words), said=letters, is_to_scale=True)


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
