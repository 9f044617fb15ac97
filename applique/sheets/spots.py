"""Where words have room beside a drawing: boxes that are taken, and labels moved apart. Points, y up."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

import shapely
from shapely import STRtree
from shapely.geometry.base import BaseGeometry

from applique.geometry.points import Bounds, Point, meet

__all__ = ["Taken", "spread"]

_BAND: Final = 24.0
"""Points of height that boxes are looked up by."""
_PIECE: Final = 8.0
"""Points of a slanting line that one box stands for."""


class Taken:
    """The shapes and boxes of a drawing that nothing else may cover; all else has to stay in its `room`."""

    def __init__(self, room: Bounds, shapes: Iterable[BaseGeometry]) -> None:
        self._room = room
        self._shapes = STRtree(list(shapes))
        self._bands: dict[int, list[Bounds]] = defaultdict(list)

    def take(self, box: Bounds) -> None:
        """Mark `box` as taken."""
        for band in range(math.floor(box[1] / _BAND), math.floor(box[3] / _BAND) + 1):
            self._bands[band].append(box)

    def take_line(self, points: Sequence[Point], *, width: float = 1.0) -> None:
        """Mark a line of that width through `points` as taken."""
        for (x0, y0), (x1, y1) in pairwise(points):
            level = x0 == x1 or y0 == y1
            count = 1 if level else math.ceil(math.hypot(x1 - x0, y1 - y0) / _PIECE)
            for step in range(count):
                xs = [x0 + (x1 - x0) * part / count for part in (step, step + 1)]
                ys = [y0 + (y1 - y0) * part / count for part in (step, step + 1)]
                half = width / 2
                self.take((min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half))

    def free(self, box: Bounds, *, beside: Iterable[Bounds] = (), over_shapes: bool = False) -> bool:
        """Whether `box` lies in the room and covers nothing that is taken, and none of the boxes `beside` it; shapes
        may lie below it if it may lie `over_shapes`."""
        x0, y0, x1, y1 = self._room
        if box[0] < x0 or box[1] < y0 or box[2] > x1 or box[3] > y1:
            return False
        if any(meet(box, other) for other in beside):
            return False
        if not over_shapes and self._shapes.query(shapely.box(*box), predicate="intersects").size:
            return False
        return not any(
            meet(box, other)
            for band in range(math.floor(box[1] / _BAND), math.floor(box[3] / _BAND) + 1)
            for other in self._bands.get(band, ())
        )


def spread(wanted: Sequence[float], *, pitch: float, low: float, high: float) -> list[float] | None:
    """Heights near those `wanted`, highest first, at least `pitch` apart and between `low` and `high`.

    None where there are too many.
    """
    if not wanted:
        return []
    if (len(wanted) - 1) * pitch > high - low:
        return None
    found: list[float] = []
    for height in wanted:
        found.append(min(height, high if not found else found[-1] - pitch))
    floor = low
    for index in range(len(found) - 1, -1, -1):
        found[index] = max(found[index], floor)
        floor = found[index] + pitch
    return found
