"""Sizes and parts as several chapters say them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from applique.language import Measure, Message, message
from applique.pieces import Template
from applique.quilt.strips import Extent
from applique.units import Units, as_size

__all__ = ["by_said", "largest_piece", "percent_said"]


def largest_piece(templates: Sequence[Template]) -> Extent:
    """The width and height (inches) of the piece whose longer side is longest."""
    boxes = ((x1 - x0, y1 - y0) for x0, y0, x1, y1 in (template.ink for template in templates))
    width, height = max(boxes, key=lambda box: (max(box), min(box)))
    return Fraction(width), Fraction(height)


def percent_said(part: float) -> Message:
    """A part of 1 in whole percent."""
    return message("{percent}%", percent=round(part * 100))


def by_said(size: Extent, units: Units, said: Callable[[Fraction, Units], Measure] = as_size) -> Message:
    """A width and a height, each said by `said`."""
    across, down = (said(side, units) for side in size)
    return message("{width} by {height}", width=across, height=down)
