"""Sizes and parts as several chapters say them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from applique.language import Measure, Message, message
from applique.pieces import Template
from applique.quilt.strips import Extent
from applique.units import Units, as_length, as_size, as_stitch

__all__ = ["by_said", "extent_of", "largest_said", "near_said", "percent_said", "wide_and_high_said"]


def largest_said(templates: Sequence[Template], units: Units) -> Message:
    """The piece that is widest and the one that is highest, by which a mat or a page is chosen."""
    widest = max(templates, key=extent_of)
    highest = max(templates, key=lambda template: extent_of(template)[::-1])
    if widest is highest:
        return message("the largest piece is {piece}", piece=_piece_said(widest, units))
    return message(
        "the widest piece is {widest}, the highest {highest}",
        widest=_piece_said(widest, units),
        highest=_piece_said(highest, units),
    )


def _piece_said(template: Template, units: Units) -> Message:
    return message(
        "template {number}, {letter}, {size}",
        number=template.number,
        letter=template.name,
        size=wide_and_high_said(template, units),
    )


def extent_of(template: Template) -> Extent:
    """The width and height (inches) of a piece."""
    x0, y0, x1, y1 = template.ink
    return Fraction(x1 - x0), Fraction(y1 - y0)


def wide_and_high_said(template: Template, units: Units) -> Message:
    """Both measures of one piece, as they are measured on it."""
    width, height = (as_length(side, units, denominator=16) for side in extent_of(template))
    return message("{width} wide and {height} high", width=width, height=height)


def near_said(length: Fraction | float, units: Units) -> Message:
    """How near to an edge is sewn, or how far apart by hand: as machines say it, and about in inches beside that."""
    if units is Units.CENTIMETERS:
        return message("{stitch}", stitch=as_stitch(length))
    return message(
        "{stitch} (about {length})", stitch=as_stitch(length), length=as_length(length, units, denominator=16)
    )


def percent_said(part: float) -> Message:
    """A part of 1 in whole percent."""
    return message("{percent}%", percent=round(part * 100))


def by_said(size: Extent, units: Units, said: Callable[[Fraction, Units], Measure] = as_size) -> Message:
    """A width and a height, each said by `said`."""
    across, down = (said(side, units) for side in size)
    return message("{width} by {height}", width=across, height=down)
