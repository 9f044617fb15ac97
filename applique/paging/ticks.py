"""Marks of a letter on its template: its baseline, its middle, and how it leans. Inches about its own origin."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from applique.geometry.points import Bounds, Point
from applique.geometry.polygons import CHORD_ERROR
from applique.pieces import Template

__all__ = [
    "LEAN_ROOM",
    "TICK",
    "TICK_GAP",
    "TICK_HALF",
    "TICK_NUMBER",
    "lean_boxes",
    "lines_of",
    "longer_tick",
    "middle_tick",
    "tick_boxes",
]

TICK: Final = 0.22
"""Length of a baseline tick, and its distance from the ink `TICK_GAP`."""
TICK_GAP: Final = 0.06
LEAN_ROOM: Final = 0.52
"""Width and height of what is said below a tick of a letter that is turned in its row."""
MIDDLE_TICK: Final = 0.12
"""Length of the mark of a letter's middle."""
_LONGER: Final = (0.5, 0.4, 0.3, 0.2)
"""Lengths of that mark near a seam, in the order tried."""
_LIFTED: Final = 0.1
"""Inches above the baseline at which it starts in a stem that stands on it."""
TICK_NUMBER: Final = 0.09
"""From a tick up to the middle of the number that stands above it."""
TICK_HALF: Final = 0.03


def tick_boxes(template: Template) -> tuple[Polygon, ...]:
    """What the baseline ticks of a letter and its number above each take, and the mark of its middle, about its own
    origin; nothing of a piece that has no baseline.
    """
    if not template.letter:
        return ()
    x0, _, x1, _ = template.outermost.bounds
    (x, low), (_, high) = middle_tick(template)
    leaning = [box(*room) for room in lean_boxes(template)]
    if leaning:
        leaning.append(box(x0 - TICK_GAP, -TICK_HALF, x1 + TICK_GAP, TICK_HALF))
    return (
        *leaning,
        box(x0 - TICK_GAP - TICK, -TICK_HALF, x0 - TICK_GAP, TICK_NUMBER * 2 - TICK_HALF),
        box(x1 + TICK_GAP, -TICK_HALF, x1 + TICK_GAP + TICK, TICK_NUMBER * 2 - TICK_HALF),
        box(x - TICK_HALF, low, x + TICK_HALF, high),
    )


def lean_boxes(template: Template) -> tuple[Bounds, ...]:
    """Where it stands, below the left and the right tick of a baseline, how far that end lies off the baseline of the
    row; nothing of a letter that is turned in none. About its own origin.
    """
    if not template.leans:
        return ()
    x0, _, x1, _ = template.outermost.bounds
    left, right, low, high = x0 - TICK_GAP, x1 + TICK_GAP, -TICK_HALF - LEAN_ROOM, -TICK_HALF
    return (left - LEAN_ROOM, low, left, high), (right, low, right + LEAN_ROOM, high)


def middle_tick(template: Template) -> tuple[Point, Point]:
    """The mark of the middle of a letter, from its lower to its upper end, about its own origin: up from its baseline
    or a little above it where that is clear of every line, else right below all that is drawn.
    """
    x = (template.ink[0] + template.ink[2]) / 2
    lines = lines_of(template)
    for low in (0.0, _LIFTED):
        tick = ((x, low), (x, low + MIDDLE_TICK))
        if _is_clear(tick, lines):
            return tick
    top = min(template.outermost.bounds[1], 0.0) - TICK_GAP
    return ((x, top - MIDDLE_TICK), (x, top))


def longer_tick(template: Template) -> tuple[Point, Point]:
    """The same mark as it is drawn near a seam, as much longer as the lines around it let it be."""
    (x, low), (_, high) = middle_tick(template)
    lines = lines_of(template)
    grown = (
        ((x, high - length), (x, high)) if high < 0 else ((x, low), (x, low + length)) for length in _LONGER
    )
    return next((tick for tick in grown if _is_clear(tick, lines)), ((x, low), (x, high)))


def lines_of(template: Template) -> list[BaseGeometry]:
    """What is drawn of a letter beside its baseline."""
    lines: list[BaseGeometry] = [template.shape.boundary, template.outermost.boundary]
    lines += [LineString(line.points(CHORD_ERROR)) for line in template.ring.contours]
    if template.turned:
        lines += [LineString(line) for line in (*template.turned.marks, *template.turned.mouths)]
    if template.off:
        lines += [LineString(seam) for seam in template.off.seams]
    return lines


def _is_clear(tick: tuple[Point, Point], lines: Sequence[BaseGeometry]) -> bool:
    around = LineString(tick).buffer(TICK_GAP * 0.99)
    return not any(around.intersects(line) for line in lines)
