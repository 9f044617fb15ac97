"""Outlines grown or shrunk by an even distance, their curves kept.

The unit is the caller's, inches everywhere outside `typeset`. Frame as in `outline`.
"""

from __future__ import annotations

from typing import Final

import pathops
import shapely

from applique.geometry.outline import Contour, Outline, contours_of_path
from applique.geometry.polygons import CHORD_ERROR, Shape, parts_of, polygon_of

__all__ = ["offset_outline", "outline_of"]

_FINE: Final = 1000.0
"""The path library bends curves to a fraction of a unit, so an inch is drawn as this many units."""
_STRAYED: Final = 0.004
"""Inches between the offset with curves and the one of polygons, at the most; more is a fault of the path library."""
_SPECK: Final = 1e-5
"""Square inches; what is smaller is left over from curves that touch."""
_QUADRANT_SEGMENTS: Final = 32


def offset_outline(outline: Outline, distance: float, *, miter_limit: float | None = None) -> Outline:
    """`outline` with its edge moved outward by `distance` (inward if negative); may be empty.

    Every point of the edge is within 0.004 in of the true offset; counters that close are gone. Where the curves
    cannot be proved against the offset of the polygon, that polygon is the answer. Outer corners are round, or with
    a `miter_limit` mitered, those longer than it times the distance cut off.
    """
    if not distance or not outline:
        return outline
    proof = _offset_shape(polygon_of(outline, chord_error=CHORD_ERROR), distance, miter_limit)
    if proof.is_empty:
        return Outline(contours=())
    curved = _offset_curves(outline, distance, miter_limit)
    if curved is not None and _agree(curved, proof):
        return curved
    return outline_of(proof)


def outline_of(shape: Shape) -> Outline:
    """The edge of a polygon as an outline of straight lines, shells before their counters."""
    shells, holes = [], []
    for part in parts_of(shapely.orient_polygons(shape)):
        shells.append(_ring(part.exterior.coords))
        holes += [_ring(ring.coords) for ring in part.interiors]
    return Outline(contours=(*shells, *holes))


def _ring(points: shapely.coords.CoordinateSequence) -> Contour:
    start, *rest = ((float(point[0]), float(point[1])) for point in points)
    return Contour(start=start, segments=tuple((point,) for point in rest[:-1]))


def _offset_shape(shape: Shape, distance: float, miter_limit: float | None) -> Shape:
    moved = shape.buffer(
        distance,
        quad_segs=_QUADRANT_SEGMENTS,
        join_style="round" if miter_limit is None else "mitre",
        mitre_limit=miter_limit or 5.0,
    )
    return shapely.remove_repeated_points(moved)


def _offset_curves(outline: Outline, distance: float, miter_limit: float | None) -> Outline | None:
    """The union with a stroke along the edge, or what the stroke leaves; None where the path library gives up."""
    path = pathops.Path(fillType=pathops.FillType.WINDING)
    outline.transformed((_FINE, 0.0, 0.0, _FINE, 0.0, 0.0)).draw(path.getPen())
    edge = pathops.Path(path)
    join = pathops.LineJoin.ROUND_JOIN if miter_limit is None else pathops.LineJoin.MITER_JOIN
    edge.stroke(2 * abs(distance) * _FINE, pathops.LineCap.ROUND_CAP, join, miter_limit or 5.0)
    edge.convertConicsToQuads()
    operation = pathops.PathOp.UNION if distance > 0 else pathops.PathOp.DIFFERENCE
    try:
        moved = pathops.op(path, edge, operation, fix_winding=True, clockwise=False)
    except pathops.PathOpsError:
        return None
    kept = [c for c in contours_of_path(moved) if abs(c.signed_area()) > _SPECK * _FINE**2]
    shells_first = sorted(kept, key=lambda contour: contour.signed_area() < 0)
    return Outline(contours=tuple(shells_first)).transformed((1 / _FINE, 0.0, 0.0, 1 / _FINE, 0.0, 0.0))


def _agree(curved: Outline, proof: Shape) -> bool:
    try:
        shape = polygon_of(curved, chord_error=CHORD_ERROR)
    except ValueError:
        return False
    if shape.is_empty:
        return False
    return float(shapely.hausdorff_distance(shape.boundary, proof.boundary)) <= _STRAYED
