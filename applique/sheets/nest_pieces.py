"""Letters of a nest drawn as they lie, each with its name on the letter itself, clear of its holes and edges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import shapely
from shapely.affinity import translate
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Matrix, Point, point_under
from applique.geometry.polygons import as_shape, parts_of
from applique.nesting import StripNest
from applique.pieces import Template
from applique.sheets.frame import Sheet
from applique.sheets.strokes import CUT, HAIR, INK, QUIET, outline_on, polyline_on
from applique.words import nests as said
from applique.yardage import Carried, StripNeed

__all__ = ["NAME", "SMALL", "Laid", "draw_pieces", "laid_in", "name_piece", "rough_line"]

SMALL: Final = 7.0
NAME: Final = 8.0
_DESCENDER: Final = 0.22
"""How far a q reaches below its line, as a share of its size, in the font of the sheets; seen, not measured."""
_CAPITAL: Final = 0.8
"""Height of a line of names, as a share of its size."""
_AROUND: Final = 0.8
"""Points of letter around its name."""
_TRIED: Final = 25
"""So many places are tried each way for a name."""
_NEAR: Final = 36.0
"""Points that a number stands from its piece at the most, where it has no room on it."""
_RING_ERROR: Final = 0.01
"""Inches by which the drawn rough cut may be coarser than the one that was nested."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """One letter of a nest, turned as it lies about its own origin, which stands at `x`, `y` in the nest.

    `names` are the number of its template, its letter, and what layer it is if that is not the letter. `rough` are the
    rings of its rough cut, drawn no finer than `_RING_ERROR`; `bounds` are its own, in the nest. Its name
    goes onto `solid`, what is cut without its holes, best at the `middle` of its widest place.
    """

    names: tuple[str, ...]
    traced: Outline
    rough: tuple[tuple[Point, ...], ...]
    bounds: Bounds
    solid: BaseGeometry
    middle: Point
    x: float
    y: float

    def moved(self, onto: Matrix) -> Matrix:
        """The matrix from the letter's own origin through the nest to the page."""
        return (onto[0], 0.0, 0.0, onto[3], onto[4] + onto[0] * self.x, onto[5] + onto[3] * self.y)


def laid_in(sheet: Sheet, need: StripNeed, nest: StripNest) -> tuple[Laid, ...]:
    """Every letter of a nest as it lies; each shape is turned and simplified once for each of its turns."""
    names = {key: tuple(map(sheet.speech.field, said.names_of(one))) for key, one in need.carried.items()}
    rough = {piece.key: piece.shape for piece in need.pieces}
    turned: dict[tuple[str, float], _Turned] = {}
    laid: list[Laid] = []
    for spot in nest.placements:
        x, y, known = spot.place.x, spot.place.y, (spot.key, spot.place.turn_deg)
        if known not in turned:
            way = Place(x=0.0, y=0.0, turn_deg=spot.place.turn_deg)
            shape = way.shape(rough[spot.key])
            rings = tuple(
                tuple((float(x), float(y)) for x, y in part.exterior.simplify(_RING_ERROR).coords)
                for part in parts_of(shape)
            )
            solid = way.shape(_solid(need.carried[spot.key], need))
            turned[known] = _Turned(
                traced=way.outline(_traced(need.carried[spot.key], need)),
                rough=rings,
                bounds=shape.bounds,
                solid=solid,
                middle=_widest(solid) or (0.0, 0.0),
            )
        one = turned[known]
        x0, y0, x1, y1 = one.bounds
        laid.append(
            Laid(
                names=names[spot.key],
                solid=one.solid,
                middle=one.middle,
                traced=one.traced,
                rough=one.rough,
                bounds=(x0 + x, y0 + y, x1 + x, y1 + y),
                x=x,
                y=y,
            )
        )
    return tuple(laid)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Turned:
    """One shape of a nest in one of its turns, about its own origin; as in `Laid`."""

    traced: Outline
    rough: tuple[tuple[Point, ...], ...]
    bounds: Bounds
    solid: BaseGeometry
    middle: Point


def _traced(carried: Carried, need: StripNeed) -> Outline:
    """What is traced on this material: on cloth the cut line of a turned edge, otherwise the finished edge."""
    return carried.cut_line if need.color and isinstance(carried, Template) else carried.outline


def _solid(carried: Carried, need: StripNeed) -> BaseGeometry:
    """The area inside of what is traced."""
    return carried.outermost if need.color and isinstance(carried, Template) else carried.shape


def draw_pieces(sheet: Sheet, laid: Sequence[Laid], span: tuple[float, float], onto: Matrix) -> None:
    """The pieces of a stretch of a nest, from `span[0]` to `span[1]` inches, with their names."""
    canvas = sheet.canvas
    for piece in laid:
        x0, y0, x1, y1 = piece.bounds
        if x1 < span[0] or x0 > span[1]:
            continue
        canvas.setFillGray(0.88)
        outline_on(canvas, piece.traced.transformed(piece.moved(onto)), fill=True)
        rough_line(sheet, piece, onto)
    canvas.setFillGray(INK)
    small: list[Laid] = []
    for piece in laid:
        x0, y0, x1, y1 = piece.bounds
        # One that is drawn in two stretches is named in the one that shows more of it.
        if span[0] <= (x0 + x1) / 2 < span[1] and not name_piece(
            sheet, piece, (span[0], y0, span[1], y1), onto, NAME
        ):
            small.append(piece)
    if small:
        _name_beside(sheet, small, laid, span, onto)


def name_piece(sheet: Sheet, piece: Laid, shown: Bounds, onto: Matrix, size: float) -> bool:
    """The number and the name of a piece on what is shown of it, over no hole and no edge, as large as it has room.

    Where the name finds none, the number alone; returns whether either did.
    """
    x0, y0, x1, y1 = piece.bounds
    whole = x0 >= shown[0] and y0 >= shown[1] and x1 <= shown[2] and y1 <= shown[3]
    solid = translate(piece.solid, piece.x, piece.y)
    middle: Point | None = (piece.middle[0] + piece.x, piece.middle[1] + piece.y)
    if not whole:
        solid = box(*shown).intersection(solid)
        middle = _widest(solid)
    if middle is None:
        return False
    shapely.prepare(solid)
    for lines in (piece.names, piece.names[:1]):
        for one in (size, (size + SMALL) / 2, SMALL):
            spot = _spot_for(solid, middle, _half_of(sheet, lines, one, onto))
            if spot is not None:
                _name_lines(sheet, lines, point_under(onto, spot), one)
                return True
    return False


def _half_of(sheet: Sheet, lines: Sequence[str], size: float, onto: Matrix) -> tuple[float, float]:
    """Half of how wide and how high lines of a name are, in inches of the nest, with a little white around them."""
    wide = max(sheet.letters.width(line, size, bold=True) for line in lines)
    below = 0.0 if lines[-1].isdecimal() else 2 * size * _DESCENDER
    high = len(lines) * size * _CAPITAL + below
    return (wide / 2 + _AROUND) / abs(onto[0]), (high / 2 + _AROUND) / abs(onto[3])


def _spot_for(solid: BaseGeometry, middle: Point | None, half: tuple[float, float]) -> Point | None:
    """The middle of a rectangle inside `solid`: its own `middle` where that will do, else the one of many tried that
    is farthest from its edges; None where none is inside."""
    (wide, high), (x0, y0, x1, y1) = half, solid.bounds
    if middle is not None and solid.contains(
        box(middle[0] - wide, middle[1] - high, middle[0] + wide, middle[1] + high)
    ):
        return middle
    if x1 - x0 <= 2 * wide or y1 - y0 <= 2 * high:
        return None
    xs, ys = _tried((x0 + wide, y0 + high, x1 - wide, y1 - high))
    boxes = shapely.box(xs - wide, ys - high, xs + wide, ys + high)
    inside = shapely.contains(solid, boxes)
    if not inside.any():
        return None
    room = shapely.distance(solid.boundary, boxes[inside])
    best = int(np.argmax(room))
    return float(xs[inside][best]), float(ys[inside][best])


def _name_beside(
    sheet: Sheet, small: Sequence[Laid], laid: Sequence[Laid], span: tuple[float, float], onto: Matrix
) -> None:
    """The numbers of pieces that have no room for them, each at the nearest place that is free of all pieces, with a
    line to its own that crosses no other and no number; where no place is, on its rough cut if that has room."""
    y0, y1 = min(one.bounds[1] for one in laid), max(one.bounds[3] for one in laid)
    rough = {id(one): _rough_of(one) for one in laid}
    taken = list(rough.values())
    for piece in small:
        lines, own = piece.names[:1], translate(piece.solid, piece.x, piece.y)
        half = _half_of(sheet, lines, SMALL, onto)
        middle, reach = own.centroid, _NEAR / abs(onto[0])
        near = [one for one in taken if one.distance(middle) < 2 * reach]
        xs, ys = _tried(middle.buffer(reach).bounds)
        boxes = shapely.box(xs - half[0], ys - half[1], xs + half[0], ys + half[1])
        around = shapely.union_all(near)
        shapely.prepare(around)
        free = ~shapely.intersects(around, boxes)
        free &= (
            (xs - half[0] >= span[0])
            & (xs + half[0] <= span[1])
            & (ys - half[1] >= y0)
            & (ys + half[1] <= y1)
        )
        others = shapely.union_all([one for one in near if one is not rough[id(piece)]])
        for index in sorted(np.flatnonzero(free), key=lambda one: boxes[one].distance(own)):
            led = shapely.shortest_line(boxes[index], own)
            if not led.intersects(others):
                taken += [boxes[index], led]
                sheet.canvas.setLineWidth(HAIR)
                sheet.canvas.setStrokeGray(QUIET)
                polyline_on(sheet.canvas, [(float(x), float(y)) for x, y in led.coords], onto)
                _name_lines(sheet, lines, point_under(onto, (float(xs[index]), float(ys[index]))), SMALL)
                break
        else:
            spot = _spot_for(rough[id(piece)], _widest(rough[id(piece)]), half)
            if spot is not None:
                _name_lines(sheet, lines, point_under(onto, spot), SMALL)


def _rough_of(piece: Laid) -> BaseGeometry:
    """The area of a rough cut, in the nest."""
    return translate(shapely.union_all([shapely.Polygon(ring) for ring in piece.rough]), piece.x, piece.y)


def _tried(within: Bounds) -> tuple[Any, Any]:
    """The places of a grid, across and up."""
    x0, y0, x1, y1 = within
    across, up = np.meshgrid(np.linspace(x0, x1, _TRIED), np.linspace(y0, y1, _TRIED))
    return across.ravel(), up.ravel()


def _name_lines(sheet: Sheet, lines: Sequence[str], center: Point, size: float) -> None:
    for index, line in enumerate(lines):
        y = center[1] + size * ((len(lines) - 1) / 2 - index) - size * 0.36
        sheet.letters.draw(line, center[0], y, size, bold=True, anchor="middle")


def _widest(shape: BaseGeometry) -> Point | None:
    """The middle of the widest round place in `shape`; None where it has no area."""
    if not shape.area:
        return None
    found = shapely.maximum_inscribed_circle(as_shape(shape), _RING_ERROR)
    x, y = found.coords[0]
    return x, y


def rough_line(sheet: Sheet, piece: Laid, onto: Matrix, *, bold: bool = False) -> None:
    """The line on which web or fabric is cut apart around a piece."""
    canvas, moved = sheet.canvas, piece.moved(onto)
    canvas.setLineWidth(CUT if bold else HAIR)
    canvas.setStrokeGray(INK if bold else QUIET)
    for ring in piece.rough:
        polyline_on(canvas, ring, moved, closed=True)
