"""Proof that a nest is sound, found with shapely from its placements alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

import shapely

from applique.geometry.polygons import solid
from applique.nesting.values import BinNest, NestPiece, Placement, StripNest

__all__ = ["is_sound", "nest_faults"]

_AT_A_TIME: Final = 200
"""Pieces whose neighbors are looked for together: of thousands piled on one spot the first few prove the pile."""


def nest_faults(
    nest: StripNest | BinNest, pieces: Sequence[NestPiece], *, tolerance: float = 1e-6
) -> tuple[str, ...]:
    """What is wrong with a nest, found with shapely from its placements alone; empty when nothing is.

    Nothing overlaps, the spacing is kept, nothing lies outside, nothing is lost, added or turned otherwise.
    """
    return tuple(_faults(nest, pieces, tolerance))


def is_sound(nest: StripNest | BinNest, pieces: Sequence[NestPiece]) -> bool:
    """Whether a nest has none of the faults of `nest_faults`; told by the first of them."""
    return next(_faults(nest, pieces, 1e-6), None) is None


def _faults(nest: StripNest | BinNest, pieces: Sequence[NestPiece], tolerance: float) -> Iterator[str]:
    by_key = {piece.key: piece for piece in pieces}
    sheets: tuple[tuple[Placement, ...], ...]
    if isinstance(nest, StripNest):
        sheets, size = (nest.placements,), (nest.length, nest.width)
    else:
        sheets, size = nest.bins, (nest.width, nest.height)
    for sheet in sheets:
        yield from _sheet_faults(sheet, by_key, size, nest.spacing, tolerance)
    laid = Counter(spot.key for sheet in sheets for spot in sheet)
    for key in sorted({*laid, *by_key}):
        wanted = by_key[key].count if key in by_key else 0
        if laid[key] != wanted:
            yield f"{key} is laid {laid[key]} times instead of {wanted}"


def _sheet_faults(
    sheet: Sequence[Placement],
    by_key: dict[str, NestPiece],
    size: tuple[float, float],
    spacing: float,
    tolerance: float,
) -> Iterator[str]:
    known = [spot for spot in sheet if spot.key in by_key]
    shapes = [spot.place.shape(solid(by_key[spot.key].shape)) for spot in known]
    for spot, shape in zip(known, shapes, strict=True):
        x0, y0, x1, y1 = shape.bounds
        if min(x0, y0) < -tolerance or x1 > size[0] + tolerance or y1 > size[1] + tolerance:
            yield f"{spot.key} lies outside"
        if spot.place.turn_deg not in by_key[spot.key].turns_deg:
            yield f"{spot.key} is turned by {spot.place.turn_deg:g}°"
    tree = shapely.STRtree(shapes)
    for start in range(0, len(shapes), _AT_A_TIME):
        near = tree.query(
            shapes[start : start + _AT_A_TIME],
            predicate="dwithin",
            distance=max(spacing - tolerance, tolerance),
        )
        for first, second in zip(near[0] + start, near[1], strict=True):
            if first < second and shapes[first].distance(shapes[second]) < spacing - tolerance:
                yield f"{known[first].key} and {known[second].key} are closer than the spacing"
            elif first < second and shapes[first].intersection(shapes[second]).area > tolerance:
                yield f"{known[first].key} and {known[second].key} overlap"
