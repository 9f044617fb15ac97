"""A page for each nest: the letters as they lie on the web or the cloth, so that the length can be seen."""

from __future__ import annotations

from typing import Final

from shapely import affinity

from applique.nesting import StripNest
from applique.pattern import Pattern
from applique.sheets.first_page import paragraphs
from applique.sheets.frame import Sheet
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, outline_on
from applique.typeset.outline import Matrix, Point, Shape, parts_of
from applique.units import format_length, format_yards
from applique.yardage import StripNeed

__all__ = ["nest_page"]

_SMALL: Final = 7.0
_BAND_GAP: Final = 24.0
_MOST_BANDS: Final = 40
_RING_ERROR: Final = 0.01
"""Inches by which the drawn rough cut may be coarser than the one that was nested."""


def nest_page(sheet: Sheet, pattern: Pattern, need: StripNeed) -> None:
    """Draw one nest on a page of its own, in as many bands as make it largest."""
    web = not need.colour
    units = pattern.design.units
    sheet.begin(f"Nest: {need.material}")
    width_words = format_length(need.usable_width, units)
    facts = [
        f"Buy {format_yards(need.buy, units)} of {need.material}, {width_words} wide: {need.rule}.",
        "Each letter is drawn with its rough cut. "
        + (
            "Drawn as you trace it on the paper side: mirror image."
            if web
            else "Seen from the right side of the fabric; the selvages run along the two long sides."
        ),
        *(f"Larger than the width, made from pieces laid side by side: {words}." for words in need.joined),
    ]
    y = paragraphs(sheet, f"{need.material[:1].upper()}{need.material[1:]}", facts, sheet.left, sheet.top - 8,
                   sheet.right - sheet.left)  # fmt: skip
    if need.nest is not None:
        _bands(sheet, pattern, need, need.nest, y - 16)


def _bands(sheet: Sheet, pattern: Pattern, need: StripNeed, nest: StripNest, top: float) -> None:
    across, room = sheet.right - sheet.left, top - sheet.bottom
    count = max(range(1, _MOST_BANDS), key=lambda bands: _band_scale(nest, across, room, bands))
    scale = _band_scale(nest, across, room, count)
    for band in range(count):
        start = band * across / scale
        if start < nest.length - 1e-6:
            low = top - band * (nest.width * scale + _BAND_GAP) - nest.width * scale
            end = min(nest.length, start + across / scale)
            _band(sheet, pattern, need, nest, (start, end), low, scale)


def _band_scale(nest: StripNest, across: float, room: float, bands: int) -> float:
    """Points for an inch at which `bands` bands hold the nest within the page."""
    return min(across * bands / nest.length, (room - bands * _BAND_GAP) / bands / nest.width, 36.0)


def _band(
    sheet: Sheet,
    pattern: Pattern,
    need: StripNeed,
    nest: StripNest,
    span: tuple[float, float],
    low: float,
    scale: float,
) -> None:
    """The stretch of the strip from `span[0]` to `span[1]` inches, its lower edge at `low` points."""
    canvas, left = sheet.canvas, sheet.left
    length, height = (span[1] - span[0]) * scale, nest.width * scale
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(left, low, length, height)
    canvas.clipPath(window, stroke=0, fill=0)
    if need.colour:
        onto: Matrix = (scale, 0.0, 0.0, scale, left - span[0] * scale, low)
    else:
        onto = (scale, 0.0, 0.0, -scale, left - span[0] * scale, low + height)
    _pieces(sheet, pattern, need, nest, span, onto)
    canvas.restoreState()
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(THIN)
    canvas.rect(left, low, length, height, fill=0, stroke=1)
    for place, anchor in ((span[0], "start"), (span[1], "end")):
        words = format_length(place, pattern.design.units)
        sheet.letters.draw(words, left + (place - span[0]) * scale, low - 9, _SMALL, anchor=anchor)


def _pieces(
    sheet: Sheet, pattern: Pattern, need: StripNeed, nest: StripNest, span: tuple[float, float], onto: Matrix
) -> None:
    canvas = sheet.canvas
    by_key = {template.key: template for template in pattern.templates}
    rough = {piece.key: piece.shape for piece in need.pieces}
    for spot in nest.placements:
        shape = affinity.translate(
            affinity.rotate(rough[spot.key], spot.turn_deg, origin=(0, 0)), spot.x, spot.y
        )
        if shape.bounds[2] < span[0] or shape.bounds[0] > span[1]:
            continue
        turn = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}[round(spot.turn_deg) % 360]
        placed = by_key[spot.key].outline.transformed((turn[0], turn[1], -turn[1], turn[0], spot.x, spot.y))
        canvas.setFillGray(0.88)
        outline_on(canvas, placed.transformed(onto), fill=True)
        _rough_line(sheet, shape, onto)
        x0, y0, x1, y1 = shape.bounds
        centre = _at(onto, ((x0 + x1) / 2, (y0 + y1) / 2))
        canvas.setFillGray(INK)
        sheet.letters.draw(by_key[spot.key].text, centre[0], centre[1] - 3, 8.0, bold=True, anchor="middle")


def _rough_line(sheet: Sheet, shape: Shape, onto: Matrix) -> None:
    canvas = sheet.canvas
    canvas.setLineWidth(HAIR)
    canvas.setStrokeGray(QUIET)
    path = canvas.beginPath()
    for part in parts_of(shape):
        first, *rest = [_at(onto, point) for point in part.exterior.simplify(_RING_ERROR).coords]
        path.moveTo(*first)
        for point in rest:
            path.lineTo(*point)
        path.close()
    canvas.drawPath(path, fill=0, stroke=1)


def _at(onto: Matrix, point: tuple[float, ...]) -> Point:
    return (onto[0] * point[0] + onto[4], onto[3] * point[1] + onto[5])
