"""Where the white of a shape is too narrow for its edge to be moved out from both sides, and no line is left to cut.

Frame and unit are the shape's own, inches; y up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from applique.geometry.points import Point
from applique.geometry.polygons import Shape, parts_of

__all__ = ["NarrowWhite", "narrow_white"]

_DEEP: Final = 2.0
"""A corner is close if it lies more than so many reaches below the line around it, as one sharper than 60 degrees does;
one clip, as at any inner corner, frees a wider one. Common practice, no source."""
_STEPS: Final = 8
"""Places in a reach where the edge is looked at."""
_SLACK: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class NarrowWhite:
    """Which kinds of narrow white a shape has: edges that run close together into a `corner`, or to the end of a slit;
    a `gap` between two of its parts that one line goes around; a `hole` of which no line is left."""

    corner: bool
    gap: bool
    hole: bool


def narrow_white(
    shape: Shape, grown: Shape, reach: float, mouths: Sequence[Sequence[Point]] = ()
) -> NarrowWhite:
    """What of the white of `shape` is covered by `grown`, the edge moved out by `reach`, but for what `mouths` cut.

    Source:
        A corner of the angle a is reach / sin(a / 2) below the line around it: closed form.
    """
    parts = parts_of(shape)
    holes = [shapely.Polygon(ring) for part in parts for ring in part.interiors]
    closed = [hole for hole in holes if hole.difference(shape).difference(grown).area < _SLACK]
    lines = shapely.MultiLineString([shapely.LineString(line) for line in mouths])
    pieces = shapely.get_parts(grown.difference(lines.buffer(_SLACK)))
    holding = [sum(piece.intersects(part) for part in parts) for piece in pieces]
    return NarrowWhite(
        corner=any(_is_deep(part, parts, closed, lines, grown, reach) for part in parts),
        gap=max(holding, default=0) > 1,
        hole=bool(closed),
    )


def _is_deep(
    part: shapely.Polygon,
    parts: Sequence[shapely.Polygon],
    closed: Sequence[shapely.Polygon],
    mouths: shapely.MultiLineString,
    grown: Shape,
    reach: float,
) -> bool:
    """Whether the edge of one part of a shape runs into a corner, and not into a gap, a closed hole or a mouth."""
    spots = np.asarray(shapely.points(shapely.get_coordinates(part.boundary.segmentize(reach / _STEPS))))
    spots = spots[shapely.distance(spots, grown.boundary) > _DEEP * reach + _SLACK]
    beside = [*(one for one in parts if one is not part), *closed]
    aside = [*((one, 2 * reach) for one in beside), *([(mouths, reach)] if not mouths.is_empty else [])]
    for other, near in aside:
        spots = spots[shapely.distance(spots, other) > near]
    return bool(len(spots))
