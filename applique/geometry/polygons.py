"""Polygons: those that stand for outlines, and the parts of any.

Frame: y up, shells counter-clockwise. The unit is the caller's: font units in `typeset`, inches everywhere else.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

import shapely
from shapely.geometry import MultiPolygon, Polygon

from applique.geometry.outline import Outline

__all__ = ["CHORD_ERROR", "Shape", "as_shape", "parts_in_order", "parts_of", "polygon_of", "solid"]

Shape = Polygon | MultiPolygon

CHORD_ERROR: Final = 0.0005
"""Inches between a curve and the polygon that stands for it, at the most."""
_SAME_AREA: Final = 1e-4
_ALIKE: Final = 0.9
"""Of the area of a part, what another as large has at the least."""


def polygon_of(outline: Outline, *, chord_error: float) -> Shape:
    """The area inside `outline` as a valid polygon, no point further than `chord_error` from the curves.

    Raises:
        ValueError: the flattened contours do not bound the area that the curves bound.
    """
    rings = [shapely.linearrings(ring) for c in outline.contours if len(ring := c.points(chord_error)) >= 3]
    if not rings:
        return Polygon()
    shape = _shells_with_holes(rings)
    if not shape.is_valid:
        shape = as_shape(shapely.make_valid(shape))
    strayed = abs(shape.area - outline.area())
    if strayed > max(2 * shape.length * chord_error, shape.area * _SAME_AREA):
        raise ValueError(f"polygon and outline differ in area by {strayed}")
    return shape


def parts_of(shape: Shape) -> tuple[Polygon, ...]:
    """The separate polygons of `shape`, one or more."""
    return (shape,) if isinstance(shape, Polygon) else tuple(shape.geoms)


def parts_in_order(shape: Shape) -> tuple[Polygon, ...]:
    """The separate polygons of `shape`, the largest first; of those about as large as each other, such as two dots, the
    left one, then the upper one.
    """
    found: list[list[Polygon]] = []
    for part in sorted(parts_of(shape), key=lambda part: -part.area):
        if found and part.area > _ALIKE * found[-1][0].area:
            found[-1].append(part)
        else:
            found.append([part])
    return tuple(
        part for alike in found for part in sorted(alike, key=lambda part: (part.bounds[0], -part.bounds[3]))
    )


def solid(shape: Shape) -> MultiPolygon:
    """`shape` with its holes filled."""
    return MultiPolygon([Polygon(part.exterior) for part in parts_of(shape)])


def _shells_with_holes(rings: Sequence[Any]) -> Shape:
    """Polygons from rings told apart by their direction; a hole goes to the smallest shell around it."""
    shells = [Polygon(ring) for ring in rings if ring.is_ccw]
    holes = [ring for ring in rings if not ring.is_ccw]
    if not holes:
        return shells[0] if len(shells) == 1 else MultiPolygon(shells)
    owned: dict[int, list[Any]] = {}
    by_size = sorted(range(len(shells)), key=lambda index: shells[index].area)
    for hole in holes:
        inside = Polygon(hole).representative_point()
        owner = next((index for index in by_size if shells[index].contains(inside)), None)
        if owner is not None:
            owned.setdefault(owner, []).append(hole)
    parts = [Polygon(shell.exterior, owned.get(index, [])) for index, shell in enumerate(shells)]
    return parts[0] if len(parts) == 1 else MultiPolygon(parts)


def as_shape(geometry: Any) -> Shape:
    """The areas of a geometry: what a union, a difference or a repair left, without its stray points and lines."""
    if isinstance(geometry, Polygon | MultiPolygon):
        return geometry
    parts = [part for part in getattr(geometry, "geoms", ()) if isinstance(part, Polygon)]
    return MultiPolygon(parts)
