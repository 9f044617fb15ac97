"""Sizes and parts as several chapters say them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from applique.language import Measure, Message, message
from applique.quilt.strips import Extent
from applique.units import Units, as_size

__all__ = ["by_said", "percent_said"]


def percent_said(part: float) -> Message:
    """A part of 1 in whole percent."""
    return message("{percent}%", percent=round(part * 100))


def by_said(size: Extent, units: Units, said: Callable[[Fraction, Units], Measure] = as_size) -> Message:
    """A width and a height, each said by `said`."""
    across, down = (said(side, units) for side in size)
    return message("{width} by {height}", width=across, height=down)
