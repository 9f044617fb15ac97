"""The small vocabulary of step pictures: cloth, paper, web, seams, folds and tools, each drawn one way everywhere.

Right sides of fabric are tinted, wrong sides white with dots, paper is cream, batting gray with tufts, fusible web
light gray, freezer paper's shiny side hatched: they stay apart in gray print. Frame: points, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from applique.drawings.values import (
    BOLD,
    CUT,
    FINE,
    HAIR,
    INK,
    PAPER,
    QUIET,
    Anchor,
    Ink,
    Mark,
    Shape,
    Words,
    line,
    path,
)
from applique.geometry.outline import Contour, Outline
from applique.geometry.points import Point
from applique.language import Message

__all__ = [
    "BATTING",
    "DOT",
    "DOTS",
    "DOTTED",
    "IRON",
    "LEFT_OVER",
    "ON_LEFT_OVER",
    "PAPER_SIDE",
    "RIGHT_SIDE",
    "SAFETY_PIN",
    "SECOND_SIDE",
    "WEB",
    "arrow",
    "batting",
    "blade",
    "dimension",
    "disc",
    "fold",
    "fusible_web",
    "iron",
    "leader",
    "needle",
    "pin",
    "right_side",
    "ring",
    "safety_pin",
    "seam",
    "shiny_side",
    "spread",
    "stitches",
    "wrong_side",
]

RIGHT_SIDE: Final = "#b3c2cd"
"""The right side of the first fabric of a picture."""
SECOND_SIDE: Final = "#f3e8d6"
"""The right side of another, lighter in gray."""
LEFT_OVER: Final = "#e2e2e2"
"""What is left over of what is cut, in every picture of cutting."""
ON_LEFT_OVER: Final = "#555555"
"""Of words on what is left over: a contrast of 4.5 or more in the dark too (W3C, WCAG 2.1, 1.4.3)."""
PAPER_SIDE: Final = "#e6dfc8"
"""Paper that lies on fabric."""
WEB: Final = "#e4e4e4"
BATTING: Final = "#cdcbc4"
_TUFT: Final = 3.0
_FOLD: Final = replace(FINE, dashes=(5.0, 2.5))
_SEAM: Final = replace(FINE, dashes=(2.0, 1.6))
DOTS: Final = 5.5
"""Points from one dot of a wrong side to the next; what each of them is."""
DOT: Final = 0.65
DOTTED: Final = "#7a7a7a"
_HATCH: Final = 5.0
_HEAD: Final = 4.5
_STANDS_OUT: Final = 1.2
"""Points that the figures of a fraction stand out below the words around it: they keep 1 mm from the line below."""
_HANGS: Final = 9.0
"""Points from a line to the foot of the words below it: their figures keep 1 mm from it."""
_SMALL: Final = 7.5


def right_side(corners: Sequence[Point], *, fill: str = RIGHT_SIDE) -> Iterator[Mark]:
    """Fabric seen from its right side."""
    yield Shape(outline=path(corners), fill=fill, ink=CUT)


def wrong_side(corners: Sequence[Point]) -> Iterator[Mark]:
    """Fabric seen from its wrong side: white with dots, in narrow strips too."""
    yield Shape(outline=path(corners), fill=PAPER, ink=CUT)
    for x, y in _grid_in(corners, DOTS):
        yield disc((x, y), DOT, fill=DOTTED)


def batting(corners: Sequence[Point], ink: Ink = FINE) -> Iterator[Mark]:
    """Batting: gray with light tufts."""
    yield Shape(outline=path(corners), fill=BATTING, ink=ink)
    for x, y in _grid_in(corners, 1.6 * DOTS):
        tuft = ((x - _TUFT / 2, y - 0.6), (x, y + 0.6), (x + _TUFT / 2, y - 0.6))
        yield line(tuft, replace(FINE, color=PAPER))


def shiny_side(corners: Sequence[Point]) -> Iterator[Mark]:
    """The shiny side of freezer paper: hatched."""
    yield Shape(outline=path(corners), fill=PAPER, ink=FINE)
    x0, y0, x1, y1 = _bounds(corners)
    high = y1 - y0
    start = x0 - high
    while start < x1:
        clipped = _clipped(((start, y0), (start + high, y1)), (x0, x1))
        if clipped is not None:
            yield line(clipped, HAIR)
        start += _HATCH


def fusible_web(corners: Sequence[Point]) -> Iterator[Mark]:
    """Fusible web: light gray with a thin edge."""
    yield Shape(outline=path(corners), fill=WEB, ink=FINE)


def seam(points: Sequence[Point]) -> Mark:
    """A line of stitching that joins: short dashes."""
    return line(points, _SEAM)


def fold(points: Sequence[Point]) -> Mark:
    """A fold: long dashes."""
    return line(points, _FOLD)


def stitches(points: Sequence[Point], *, width: float, length: float) -> Mark:
    """Zigzag along a straight line from the first to the last of `points`: `width` across, a point every `length`."""
    (x0, y0), (x1, y1) = points[0], points[-1]
    far = math.dist((x0, y0), (x1, y1))
    along = ((x1 - x0) / far, (y1 - y0) / far)
    count = max(2, round(far / length))
    zigzag = []
    for index in range(count + 1):
        at, side = far * index / count, width / 2 * (1 if index % 2 else -1)
        zigzag.append((x0 + along[0] * at - along[1] * side, y0 + along[1] * at + along[0] * side))
    return line(zigzag, FINE)


def arrow(start: Point, end: Point, ink: Ink = FINE) -> Iterator[Mark]:
    """A line with a head at its end."""
    yield line((start, end), ink)
    far = math.dist(start, end)
    along = ((end[0] - start[0]) / far, (end[1] - start[1]) / far)
    corners = [end]
    for side in (0.4, -0.4):
        corners.append(
            (
                end[0] - _HEAD * (along[0] - side * along[1]),
                end[1] - _HEAD * (along[1] + side * along[0]),
            )
        )
    yield Shape(outline=path(corners), fill=ink.color)


def dimension(start: Point, end: Point, said: str | Message, *, off: float = 4.0) -> Iterator[Mark]:
    """A thin line with a tick at each end and what it measures beside its middle, `off` to its left, or where
    that is less than nothing as far to its right, and there at least 1 mm from it."""
    far = math.dist(start, end)
    along = ((end[0] - start[0]) / far, (end[1] - start[1]) / far)
    yield line((start, end), HAIR)
    for x, y in (start, end):
        yield line(((x - 3 * along[1], y + 3 * along[0]), (x + 3 * along[1], y - 3 * along[0])), HAIR)
    off = off + _STANDS_OUT if off > 0 else min(off, -_HANGS)
    middle = ((start[0] + end[0]) / 2 - off * along[1], (start[1] + end[1]) / 2 + off * along[0])
    turn = math.degrees(math.atan2(along[1], along[0]))
    yield Words(said=said, at=middle, size=_SMALL, anchor=Anchor.MIDDLE, turn_deg=turn)


def leader(
    words_at: Point, to: Point, said: str | Message, *, anchor: Anchor = Anchor.START
) -> Iterator[Mark]:
    """Words with a thin line from them to what they name."""
    yield line((words_at, to), HAIR)
    yield disc(to, 1.0, fill=QUIET)
    gap = {Anchor.START: 2.0, Anchor.MIDDLE: 0.0, Anchor.END: -2.0}[anchor]
    yield Words(
        said=said, at=(words_at[0] + gap, words_at[1] - 2.5), size=_SMALL, anchor=anchor, ground=PAPER
    )


def spread(heights: Sequence[float], reach: tuple[float, float], line_high: float = 9.5) -> list[float]:
    """Heights moved apart so that words beside them do not meet, as little as that takes, in their order."""
    order = sorted(range(len(heights)), key=lambda index: -heights[index])
    step = min(line_high, (reach[1] - reach[0]) / max(1, len(heights)))
    placed = dict.fromkeys(order, 0.0)
    above = reach[1] + step
    for index in order:
        placed[index] = above = min(heights[index], above - step)
    below = reach[0] - step
    for index in reversed(order):
        placed[index] = below = max(placed[index], below + step)
    return [placed[index] for index in range(len(heights))]


def disc(middle: Point, radius: float, *, fill: str | None = INK, ink: Ink | None = None) -> Shape:
    """A round spot."""
    (x, y), r, k = middle, radius, 0.5523 * radius
    start = (x + r, y)
    segments = (
        ((x + r, y + k), (x + k, y + r), (x, y + r)),
        ((x - k, y + r), (x - r, y + k), (x - r, y)),
        ((x - r, y - k), (x - k, y - r), (x, y - r)),
        ((x + k, y - r), (x + r, y - k), start),
    )
    return Shape(outline=Outline(contours=(Contour(start=start, segments=segments),)), fill=fill, ink=ink)


def ring(left: float, low: float, wide: float, high: float) -> Shape:
    """A ring around words, as round at its ends as it is high."""
    right, top, r = left + wide, low + high, high / 2
    k = 0.5523 * r
    start = (left + r, low)
    segments = (
        ((right - r, low),),
        ((right - r + k, low), (right, low + r - k), (right, low + r)),
        ((right, low + r + k), (right - r + k, top), (right - r, top)),
        ((left + r, top),),
        ((left + r - k, top), (left, low + r + k), (left, low + r)),
        ((left, low + r - k), (left + r - k, low), start),
    )
    return Shape(outline=Outline(contours=(Contour(start=start, segments=segments),)), ink=FINE)


# Tools, each about an inch long, their working point at `at`


IRON: Final = (46.0, 28.0)


def iron(at: Point) -> Iterator[Mark]:
    """An iron from the side, its sole from `at` to the right, `IRON` points long and high."""
    x, y = at
    start = (x, y)
    body = (
        ((x + 42, y),),
        ((x + 46, y + 4), (x + 46, y + 16), (x + 40, y + 20)),
        ((x + 28, y + 20), (x + 8, y + 18), start),
    )
    yield Shape(outline=Outline(contours=(Contour(start=start, segments=body),)), fill=PAPER, ink=CUT)
    yield line(((x + 18, y + 18), (x + 20, y + 27), (x + 38, y + 27), (x + 40, y + 20)), CUT)
    yield line(((x + 3, y + 4), (x + 44, y + 4)), FINE)


def needle(at: Point) -> Iterator[Mark]:
    """A machine needle from above its point, with its thread."""
    x, y = at
    yield Shape(
        outline=path(((x, y), (x + 1.4, y + 8), (x + 1.4, y + 26), (x - 1.4, y + 26), (x - 1.4, y + 8))),
        fill=PAPER,
        ink=FINE,
    )
    yield disc((x, y + 6), 0.7)
    yield line(((x, y + 6), (x + 6, y + 14), (x + 6, y + 26)), HAIR)


def blade(at: Point) -> Iterator[Mark]:
    """A rotary cutter, its blade touching at `at`."""
    x, y = at
    yield disc((x, y + 8), 8, fill=PAPER, ink=CUT)
    yield disc((x, y + 8), 1.6)
    yield line(((x + 3, y + 11), (x + 26, y + 30)), BOLD)


def pin(start: Point, end: Point, *, head: float = 1.6) -> Iterator[Mark]:
    """A pin with its head at `start`."""
    yield line((start, end), FINE)
    yield disc(start, head)


SAFETY_PIN: Final = 15.0
"""Points from end to end of a safety pin."""


def safety_pin(at: Point) -> Iterator[Mark]:
    """A closed safety pin from above, its coil at `at`, pointing right: of the arm below, what the fabric hides is
    left out."""
    x, y = at
    right = x + SAFETY_PIN
    bow = ((x + 4, y + 5.5), (right - 4, y + 5.5), (right, y + 0.5))
    yield Shape(outline=Outline(contours=(Contour(start=(x, y + 1), segments=(bow,)),)), ink=CUT, open=True)
    yield line(((x, y - 1), (x + 4.5, y - 1.8)), CUT)
    yield line(((right - 4.5, y - 1.8), (right, y - 0.5)), CUT)
    yield disc((x, y), 1.7, fill=PAPER, ink=FINE)
    yield disc((right, y), 2.0)


def _bounds(corners: Sequence[Point]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def _grid_in(corners: Sequence[Point], step: float) -> Iterator[Point]:
    """Points of a staggered grid inside a polygon, clear of its edge."""
    x0, y0, x1, y1 = _bounds(corners)
    rows = max(1, round((y1 - y0) / step))
    columns = max(1, round((x1 - x0) / step))
    up, across = (y1 - y0) / rows, (x1 - x0) / columns
    for row in range(rows):
        shift = 0.75 if row % 2 else 0.25
        for column in range(columns):
            point = (x0 + (column + (shift if columns > 1 else 0.5)) * across, y0 + (row + 0.5) * up)
            if _inside(point, corners):
                yield point


def _inside(point: Point, corners: Sequence[Point]) -> bool:
    x, y = point
    found = False
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (ay > y) != (by > y) and x < (bx - ax) * (y - ay) / (by - ay) + ax:
            found = not found
    return found


def _clipped(points: tuple[Point, Point], limits: tuple[float, float]) -> tuple[Point, Point] | None:
    """A rising line cut to what lies between two upright limits."""
    (ax, ay), (bx, by) = points
    low, high = max(ax, limits[0]), min(bx, limits[1])
    if low >= high:
        return None
    slope = (by - ay) / (bx - ax)
    return (low, ay + (low - ax) * slope), (high, ay + (high - ax) * slope)
