"""Outlines clipped by a window with straight sides, their curves kept.

The unit is inches. Frame as in `outline`; the window is convex, such as a rectangle in any turn.
"""

from __future__ import annotations

import itertools
import math
from typing import Final

import pathops
import shapely
from shapely.geometry import LineString, Polygon

from applique.geometry.offset import outline_of
from applique.geometry.outline import Outline, common
from applique.geometry.points import Point
from applique.geometry.polygons import CHORD_ERROR, Shape, as_shape, polygon_of

__all__ = ["along_window", "clipped", "free_edges"]

_STRAYED: Final = 0.002
"""Inches between what the path library leaves and what is left of the polygon, at the most."""
_NEAR: Final = 1e-4
"""Inches from a side of the window at which an edge lies on it: the path library figures in single precision."""
_ROOM: Final = 1.0
"""Inches of the window that are kept around an outline: small numbers are figured more exactly."""


def clipped(outline: Outline, window: Polygon) -> Outline:
    """What of `outline` lies inside the `window`; the same outline where all of it does, and empty where nothing does.

    Curves are split where the window cuts them and stay curves. Where that cannot be proved against the polygon, which
    is within `CHORD_ERROR` of the curves, what is left of the polygon is the answer.
    """
    if not outline:
        return outline
    whole = polygon_of(outline, chord_error=CHORD_ERROR)
    if window.covers(whole):
        return outline
    proof = as_shape(whole.intersection(window))
    if proof.is_empty:
        return Outline(contours=())
    near = as_shape(window.intersection(shapely.box(*whole.bounds).buffer(_ROOM, join_style="mitre")))
    try:
        left = common(outline, outline_of(near))
    except pathops.PathOpsError:
        return outline_of(proof)
    return left if _agree(left, proof) else outline_of(proof)


def along_window(outline: Outline, window: Polygon) -> float:
    """How much of the edge of a clipped `outline` lies along the sides of the `window`, in inches: where it was cut."""
    sides = _sides(window)
    lengths = []
    for contour in outline.contours:
        here = contour.start
        for segment in (*contour.segments, (contour.start,)):
            if len(segment) == 1 and any(_on(side, here) and _on(side, segment[0]) for side in sides):
                lengths.append(math.dist(here, segment[0]))
            here = segment[-1]
    return math.fsum(lengths)


def free_edges(shape: Shape, window: Polygon) -> tuple[LineString, ...]:
    """The edges of a clipped `shape` that do not lie along the sides of the `window`: closed lines, and from cut to cut
    open ones."""
    rest = shape.boundary.difference(window.boundary.buffer(_NEAR, cap_style="flat"))
    lines = [part for part in shapely.get_parts(rest) if part.length > _NEAR]
    if not lines:
        return ()
    merged = shapely.get_parts(shapely.line_merge(shapely.MultiLineString(lines)))
    return tuple(LineString(line.coords) for line in merged)


def _agree(left: Outline, proof: Shape) -> bool:
    if not left:
        return False
    try:
        shape = polygon_of(left, chord_error=CHORD_ERROR)
    except ValueError:
        return False
    return float(shapely.hausdorff_distance(shape.boundary, proof.boundary)) <= _STRAYED


def _sides(window: Polygon) -> list[tuple[Point, Point]]:
    corners = [(float(x), float(y)) for x, y in window.exterior.coords]
    return list(itertools.pairwise(corners))


def _on(side: tuple[Point, Point], point: Point) -> bool:
    """Whether a point lies on the line of a side."""
    (x0, y0), (x1, y1) = side
    across = (x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)
    return abs(across) <= _NEAR * math.dist(*side)
