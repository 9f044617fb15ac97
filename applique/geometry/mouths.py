"""Where an even distance outside a shape closes the white between two of its edges: the line to cut there.

Frame and unit are the shape's own, inches; y up.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import shapely

from applique.geometry.points import Point
from applique.geometry.polygons import Shape

__all__ = ["lines_through_mouths"]

_STEPS: Final = 16
"""Points of an edge in one reach: a line halfway between points strays by less than 0.1 % of the reach."""
_FEW_STEPS: Final = 4
"""The same where nothing is narrow."""
_QUARTER: Final = 8
_FLAT: Final = 0.005
"""Share of the reach by which the line may be evened out."""
_SPECK: Final = 0.02
"""Share of the square of the reach: white that is smaller is no part of its own."""
_ROOM: Final = 4.0
"""So many reaches around all of it lies the frame within which the white is looked at."""
_SAME: Final = 9
"""Decimals to which two ends are the same point."""

_Ways = dict[Point, list[tuple[float, Point]]]


def lines_through_mouths(shape: Shape, grown: Shape, reach: float) -> tuple[tuple[Point, ...], ...]:
    """Lines through the white that `grown`, the edge of `shape` moved out by `reach`, covers, each halfway between two
    edges of `shape` and from white to white that is left; together they join all white that `grown` has parted.

    A line ends where both edges are `reach` away, on the edge of `grown`. White of its own, as in a counter, is joined
    to no other.

    Source:
        What is as far from one edge as from the other is the Voronoi diagram of points on both: closed form.
    """
    x0, y0, x1, y1 = grown.bounds
    room = _ROOM * reach
    around = shapely.box(x0 - room, y0 - room, x1 + room, y1 + room)
    found: list[tuple[Point, ...]] = []
    ways: _Ways = {}
    for white in shapely.get_parts(around.difference(shape)):
        left = [
            part
            for part in shapely.get_parts(white.difference(grown))
            if part.geom_type == "Polygon" and part.area > _SPECK * reach**2
        ]
        if len(left) > 1:
            ways = ways or _halfway(shape, around, reach)
            found += _joining(left, white, ways, grown, reach)
    return tuple(found)


def _halfway(shape: Shape, around: shapely.Polygon, reach: float) -> _Ways:
    """Every point that is as far from three points on the edge of `shape`, or on the frame `around` it, and those that
    it is joined to, each with how far."""
    closed = shape.buffer(reach, quad_segs=_QUARTER).buffer(-reach, quad_segs=_QUARTER).difference(shape)
    narrow = [part for part in shapely.get_parts(closed) if part.area > _SPECK * reach**2]
    near = shapely.union_all(narrow).buffer(reach)
    edge = shape.boundary
    lines = [
        edge.intersection(near).segmentize(reach / _STEPS),
        edge.difference(near).segmentize(reach / _FEW_STEPS),
        around.exterior.segmentize(reach),
    ]
    points = shapely.MultiPoint(shapely.get_coordinates(shapely.GeometryCollection(lines)))
    ways: _Ways = {}
    for line in shapely.get_parts(shapely.voronoi_polygons(points, only_edges=True)):
        ends = [(round(float(x), _SAME), round(float(y), _SAME)) for x, y in shapely.get_coordinates(line)]
        for start, end in pairwise(ends):
            length = float(((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5)
            ways.setdefault(start, []).append((length, end))
            ways.setdefault(end, []).append((length, start))
    return ways


def _joining(
    left: list[shapely.Polygon], white: shapely.Geometry, ways: _Ways, grown: Shape, reach: float
) -> Iterator[tuple[Point, ...]]:
    """The shortest lines that join all of `left`, one after the other, within one part of the white."""
    nodes = list(ways)
    shapely.prepare([white, *left])
    xs, ys = [x for x, _ in nodes], [y for _, y in nodes]
    open_nodes = {
        node for node, inside in zip(nodes, shapely.contains_xy(white, xs, ys), strict=True) if inside
    }
    part_of = {
        node: index
        for index, part in enumerate(left)
        for node, inside in zip(nodes, shapely.contains_xy(part, xs, ys), strict=True)
        if inside
    }
    joined = {0}
    while len(joined) < len(left):
        path = _shortest(joined, part_of, open_nodes, ways)
        if not path:
            return
        joined.add(part_of[path[-1]])
        for line in _lines_of(shapely.LineString(path).intersection(grown)):
            yield tuple((float(x), float(y)) for x, y in line.simplify(reach * _FLAT).coords)


def _lines_of(geometry: shapely.Geometry) -> list[shapely.LineString]:
    """The lines of a geometry, without its stray points."""
    return [part for part in shapely.get_parts(geometry) if isinstance(part, shapely.LineString)]


def _shortest(joined: set[int], part_of: dict[Point, int], inside: set[Point], ways: _Ways) -> list[Point]:
    """The shortest way from a part that is joined to one that is not; empty where there is none."""
    queue = [(0.0, node) for node, part in sorted(part_of.items()) if part in joined]
    came: dict[Point, Point | None] = {node: None for _, node in queue}
    least = dict.fromkeys(came, 0.0)
    heapq.heapify(queue)
    while queue:
        length, node = heapq.heappop(queue)
        if length > least[node]:
            continue
        if part_of.get(node, -1) not in {-1, *joined}:
            path, back = [node], came[node]
            while back is not None:
                path.append(back)
                back = came[back]
            return path[::-1]
        for step, other in ways[node]:
            if other in inside and length + step < least.get(other, float("inf")):
                least[other] = length + step
                came[other] = node
                heapq.heappush(queue, (length + step, other))
    return []
