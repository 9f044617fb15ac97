"""Drawings that say sizes: as large as what they show, words included.

Frame of a drawing: points, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from applique.drawings.values import HAIR, Anchor, Drawing, Mark, Raster, Shape, line, text_width
from applique.geometry.outline import Outline
from applique.geometry.points import Bounds, Point, around, point_under
from applique.language import Message, Speech
from applique.quilt.strips import Extent
from applique.units import Units, as_length, as_seam, as_size

__all__ = ["MARGIN", "SMALL", "Measured", "corners_at", "span", "whole_scale"]

SMALL: Final = 7.5
MARGIN: Final = 30.0
"""Points beside a drawing for the numbers of its height."""
_WHOLE: Final = (150.0, 120.0)
"""Points for a whole quilt."""
_EDGE: Final = 1.0
"""Points of white around a drawing, for the width of its lines."""


class Measured:
    """Draws for one set of instructions: its units, its language."""

    def __init__(self, units: Units, speech: Speech) -> None:
        self.units, self.speech = units, speech

    def _size(self, length: Fraction) -> str:
        return self.speech.measure(as_size(length, self.units))

    def _seam(self, length: Fraction) -> str:
        return self.speech.measure(as_seam(length, self.units))

    def _about(self, length: Fraction) -> str:
        return self.speech.measure(as_length(length, self.units))

    def _fitted(self, marks: Sequence[Mark], words: Message) -> Drawing:
        """A drawing as large as its `marks`, what they say included."""
        left, low, right, top = around([self._bounds(mark) for mark in marks])
        onto = (1.0, 0.0, 0.0, 1.0, _EDGE - left, _EDGE - low)
        moved = tuple(
            replace(mark, outline=mark.outline.transformed(onto))
            if isinstance(mark, Shape)
            else replace(mark, at=point_under(onto, mark.at))
            for mark in marks
        )
        return Drawing(width=right - left + 2 * _EDGE, height=top - low + 2 * _EDGE, marks=moved, said=words)

    def _bounds(self, mark: Mark) -> Bounds:
        if isinstance(mark, Shape):
            xs, ys = zip(*_points(mark.outline), strict=True)
            return (min(xs), min(ys), max(xs), max(ys))
        if isinstance(mark, Raster):
            return (*mark.at, mark.at[0] + mark.width, mark.at[1] + mark.height)
        wide = self._wide(mark.said, mark.size, bold=mark.bold)
        start = {Anchor.START: 0.0, Anchor.MIDDLE: -wide / 2, Anchor.END: -wide}[mark.anchor]
        turn = math.radians(mark.turn_deg)
        onto = (math.cos(turn), math.sin(turn), -math.sin(turn), math.cos(turn), *mark.at)
        low, top = -mark.size / 4, mark.size
        xs, ys = zip(
            *(point_under(onto, (start + x, y)) for x in (0.0, wide) for y in (low, top)), strict=True
        )
        return (min(xs), min(ys), max(xs), max(ys))

    def _wide(self, words: str | Message, size: float, *, bold: bool = False) -> float:
        return text_width(words if isinstance(words, str) else self.speech.tell(words), size, bold=bold)


def span(start: Point, end: Point) -> Iterator[Mark]:
    """An upright line with a tick at each end, for a number beside it."""
    yield line((start, end), HAIR)
    for x, y in (start, end):
        yield line(((x - 3, y), (x + 3, y)), HAIR)


def whole_scale(size: Extent) -> float:
    """Points for an inch of a whole quilt."""
    return min(_WHOLE[0] / float(size[0]), _WHOLE[1] / float(size[1]))


def corners_at(corner: Point, wide: float, high: float) -> tuple[Point, ...]:
    """The corners of a rectangle with its lower left one at `corner`."""
    x, y = corner
    return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


def _points(outline: Outline) -> Iterator[Point]:
    """All points of an outline, those that curves bend toward too."""
    for contour in outline.contours:
        yield contour.start
        for segment in contour.segments:
            yield from segment
