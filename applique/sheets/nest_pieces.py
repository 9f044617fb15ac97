"""Letters of a nest drawn as they lie, each with its name where it is widest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from typing import Final

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
_RING_ERROR: Final = 0.01
"""Inches by which the drawn rough cut may be coarser than the one that was nested."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """One letter of a nest, turned as it lies about its own origin, which stands at `x`, `y` in the nest.

    `names` are the number of its template, its letter, and what layer it is if that is not the letter. `rough` are the
    rings of its rough cut, drawn no finer than `_RING_ERROR`; `bounds` are its own, in the nest. Its name goes to the
    `middle` of the widest place in `room`, a circle of `radius`.
    """

    names: tuple[str, ...]
    traced: Outline
    rough: tuple[tuple[Point, ...], ...]
    bounds: Bounds
    room: BaseGeometry
    middle: Point
    radius: float
    x: float
    y: float

    def moved(self, onto: Matrix) -> Matrix:
        """The matrix from the letter's own origin through the nest to the page."""
        return (onto[0], 0.0, 0.0, onto[3], onto[4] + onto[0] * self.x, onto[5] + onto[3] * self.y)


def laid_in(sheet: Sheet, need: StripNeed, nest: StripNest, *, at_size: bool) -> tuple[Laid, ...]:
    """Every letter of a nest as it lies; each shape is turned and simplified once for each of its turns.

    `at_size`, names keep to the letter itself, whose line is traced; else to its rough cut.
    """
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
            room = way.shape(need.carried[spot.key].shape) if at_size else shape
            turned[known] = _Turned(
                traced=way.outline(_traced(need.carried[spot.key], need)),
                rough=rings,
                bounds=shape.bounds,
                room=room,
                widest=_widest(room) or ((0.0, 0.0), 0.0),
            )
        one = turned[known]
        x0, y0, x1, y1 = one.bounds
        laid.append(
            Laid(
                names=names[spot.key],
                room=one.room,
                middle=one.widest[0],
                radius=one.widest[1],
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
    room: BaseGeometry
    widest: tuple[Point, float]


def _traced(carried: Carried, need: StripNeed) -> Outline:
    """What is traced on this material: on cloth the cut line of a turned edge, otherwise the finished edge."""
    return carried.cut_line if need.color and isinstance(carried, Template) else carried.outline


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
    for piece in laid:
        x0, y0, x1, y1 = piece.bounds
        # One that is drawn in two stretches is named in the one that shows more of it.
        if span[0] <= (x0 + x1) / 2 < span[1]:
            name_piece(sheet, piece, (span[0], y0, span[1], y1), onto, NAME)


def name_piece(sheet: Sheet, piece: Laid, shown: Bounds, onto: Matrix, size: float) -> None:
    """The number and the name of a piece, at the widest place of what is shown of it, as large as it has room.

    Where the name finds none, the number alone; nothing where so little is shown that it has none either.
    """
    x0, y0, x1, y1 = piece.bounds
    whole = x0 >= shown[0] and y0 >= shown[1] and x1 <= shown[2] and y1 <= shown[3]
    if whole:
        (x, y), radius = (piece.middle[0] + piece.x, piece.middle[1] + piece.y), piece.radius
    else:
        found = _widest(box(*shown).intersection(translate(piece.room, piece.x, piece.y)))
        if found is None:
            return
        (x, y), radius = found
    room = 2 * radius * abs(onto[0])
    center = point_under(onto, (x, y))
    for lines in (piece.names, piece.names[:1]):
        for one in (size, (size + SMALL) / 2, SMALL):
            wide = max(sheet.letters.width(line, one, bold=True) for line in lines)
            below = 0.0 if lines[-1].isdecimal() else 2 * one * _DESCENDER
            if hypot(wide, len(lines) * one * _CAPITAL + below) <= room:
                _name_lines(sheet, lines, center, one)
                return


def _name_lines(sheet: Sheet, lines: Sequence[str], center: Point, size: float) -> None:
    for index, line in enumerate(lines):
        y = center[1] + size * ((len(lines) - 1) / 2 - index) - size * 0.36
        sheet.letters.draw(line, center[0], y, size, bold=True, anchor="middle")


def _widest(shape: BaseGeometry) -> tuple[Point, float] | None:
    """The middle and the radius of the widest round place in `shape`; None where it has no area."""
    if not shape.area:
        return None
    found = shapely.maximum_inscribed_circle(as_shape(shape), _RING_ERROR)
    (x, y), edge = found.coords
    return (x, y), hypot(edge[0] - x, edge[1] - y)


def rough_line(sheet: Sheet, piece: Laid, onto: Matrix, *, bold: bool = False) -> None:
    """The line on which web or fabric is cut apart around a piece."""
    canvas, moved = sheet.canvas, piece.moved(onto)
    canvas.setLineWidth(CUT if bold else HAIR)
    canvas.setStrokeGray(INK if bold else QUIET)
    for ring in piece.rough:
        polyline_on(canvas, ring, moved, closed=True)
