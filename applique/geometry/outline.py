"""Outlines whose curves stay curves.

Frame: y up, baseline at 0, shells counter-clockwise, counters clockwise. The unit is the caller's:
font units in `typeset`, inches everywhere else.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Final

import pathops
from fontTools.misc.bezierTools import (
    calcCubicArcLength,
    calcCubicBounds,
    calcQuadraticArcLength,
    calcQuadraticBounds,
)
from shapely.geometry import Polygon

from applique.geometry.points import Bounds, Matrix, Point, around

__all__ = ["Contour", "Outline", "common", "contours_of_path", "pieces_of", "united"]

Segment = tuple[Point, ...]
"""One point ends a line, two a quadratic curve, three a cubic one; the last is the end."""

_FINE: Final = 1000.0
"""The path library bends curves to a fraction of a unit, so an inch is drawn as this many units."""
_SPECK: Final = 1e-5
"""Square inches; what is smaller is left over from curves that touch."""
_ROUGH_SHARE: Final = 1e-3
"""Chord error, as a share of the size, that is enough to tell which shell holds a counter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Contour:
    """One closed path: its start and the segments that lead back to it."""

    start: Point
    segments: tuple[Segment, ...]

    def transformed(self, matrix: Matrix) -> Contour:
        """This contour under `matrix`, reversed where that mirrors, so that shells stay counter-clockwise."""
        a, b, c, d, e, f = matrix
        x, y = self.start
        contour = Contour(
            start=(a * x + c * y + e, b * x + d * y + f),
            segments=tuple(
                [tuple([(a * x + c * y + e, b * x + d * y + f) for x, y in part]) for part in self.segments]
            ),
        )
        return contour.reversed() if a * d - b * c < 0 else contour

    def reversed(self) -> Contour:
        """The same path walked the other way round."""
        ends = [self.start, *(segment[-1] for segment in self.segments)]
        backward = tuple(
            (*segment[-2::-1], ends[index]) for index, segment in reversed(tuple(enumerate(self.segments)))
        )
        return Contour(start=ends[-1], segments=backward)

    def points(self, chord_error: float) -> list[Point]:
        """The path as points no further than `chord_error` from it, the start not repeated."""
        walked = [self.start]
        for segment in self.segments:
            _flatten(walked, segment, chord_error)
        if walked[-1] == walked[0]:
            walked.pop()
        return walked

    def signed_area(self) -> float:
        """The exact area by Green's theorem; negative where the path runs clockwise."""
        total, here = 0.0, self.start
        for segment in self.segments:
            total += _area_below(here, segment)
            here = segment[-1]
        return total + _cross(here, self.start) / 2

    def length(self) -> float:
        """The length of the path, exact for lines and quadratics, within 1e-6 of its size for cubics."""
        total, here = 0.0, self.start
        for segment in self.segments:
            total += _segment_length(here, segment)
            here = segment[-1]
        return total + math.dist(here, self.start)

    def size(self) -> float:
        """The longer side of the extent."""
        x0, y0, x1, y1 = self.bounds()
        return max(x1 - x0, y1 - y0)

    def bounds(self) -> Bounds:
        """The exact extent of the path, its control points not counted."""
        here = self.start
        xs, ys = [here[0]], [here[1]]
        for segment in self.segments:
            if len(segment) > 1:
                x0, y0, x1, y1 = _curve_bounds(here, segment)
                xs += (x0, x1)
                ys += (y0, y1)
            here = segment[-1]
            xs.append(here[0])
            ys.append(here[1])
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A letter's edge: closed contours that neither overlap nor cross; shells before their counters."""

    contours: tuple[Contour, ...]

    def transformed(self, matrix: Matrix) -> Outline:
        """This outline under `matrix`."""
        return Outline(contours=tuple(contour.transformed(matrix) for contour in self.contours))

    def rounded(self) -> Outline:
        """This outline with every point at whole units."""

        def whole(point: Point) -> Point:
            return (float(round(point[0])), float(round(point[1])))

        return Outline(
            contours=tuple(
                Contour(
                    start=whole(contour.start),
                    segments=tuple(tuple(whole(point) for point in part) for part in contour.segments),
                )
                for contour in self.contours
            )
        )

    def area(self) -> float:
        """The exact area, counters taken off."""
        return math.fsum(contour.signed_area() for contour in self.contours)

    def length(self) -> float:
        """The length of the whole edge, counters included."""
        return math.fsum(contour.length() for contour in self.contours)

    def bounds(self) -> Bounds:
        """The exact extent of the ink.

        Raises:
            ValueError: an outline without contours has no extent.
        """
        return around([contour.bounds() for contour in self.contours])

    def draw(self, pen: Any) -> None:
        """Draw on a fontTools segment pen."""
        for contour in self.contours:
            pen.moveTo(contour.start)
            for segment in contour.segments:
                draw = (pen.lineTo, pen.qCurveTo, pen.curveTo)[len(segment) - 1]
                draw(*segment)
            pen.closePath()

    def __bool__(self) -> bool:
        return bool(self.contours)


def _curve_bounds(here: Point, segment: Segment) -> Bounds:
    box = calcQuadraticBounds(here, *segment) if len(segment) == 2 else calcCubicBounds(here, *segment)
    return (float(box[0]), float(box[1]), float(box[2]), float(box[3]))


def _segment_length(here: Point, segment: Segment) -> float:
    if len(segment) == 1:
        return math.dist(here, segment[0])
    if len(segment) == 2:
        return float(calcQuadraticArcLength(here, *segment))
    size = max(math.dist(here, point) for point in segment)
    return float(calcCubicArcLength(here, *segment, tolerance=max(size, 1e-9) * 1e-6))


def _cross(first: Point, second: Point) -> float:
    return first[0] * second[1] - second[0] * first[1]


def _area_below(here: Point, segment: Segment) -> float:
    """Half the integral of x·dy − y·dx along the segment, closed to the origin."""
    if len(segment) == 1:
        return _cross(here, segment[0]) / 2
    if len(segment) == 2:
        control, end = segment
        return (2 * _cross(here, control) + _cross(here, end) + 2 * _cross(control, end)) / 6
    first, second, end = segment
    return (
        6 * _cross(here, first) + 3 * _cross(here, second) + _cross(here, end)
        + 3 * _cross(first, second) + 3 * _cross(first, end) + 6 * _cross(second, end)
    ) / 20  # fmt: skip


def _flatten(walked: list[Point], segment: Segment, chord_error: float) -> None:
    """Append points along `segment`: the chord of a piece 1/n long strays by |B″|/(8·n²) at the most."""
    x0, y0 = walked[-1]
    if len(segment) == 1:
        if segment[0] != walked[-1]:
            walked.append(segment[0])
        return
    if len(segment) == 2:
        (x1, y1), (x2, y2) = segment
        bend = 2 * math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2)
        count = max(1, math.ceil(math.sqrt(bend / (8 * chord_error))))
        for step in range(1, count):
            t = step / count
            u = 1 - t
            walked.append(
                (u * u * x0 + 2 * u * t * x1 + t * t * x2, u * u * y0 + 2 * u * t * y1 + t * t * y2)
            )
        walked.append((x2, y2))
        return
    (x1, y1), (x2, y2), (x3, y3) = segment
    bend = 6 * max(
        math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3)
    )
    count = max(1, math.ceil(math.sqrt(bend / (8 * chord_error))))
    for step in range(1, count):
        t = step / count
        u = 1 - t
        w0, w1, w2, w3 = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
        walked.append((w0 * x0 + w1 * x1 + w2 * x2 + w3 * x3, w0 * y0 + w1 * y1 + w2 * y2 + w3 * y3))
    walked.append((x3, y3))


def united(draw: Iterable[Callable[[Any], None]], *, least_area: float) -> Outline:
    """The union, by the nonzero rule, of everything that the functions in `draw` draw on a segment pen.

    Curves stay curves. Parts and counters smaller than `least_area`, which self-crossing contours
    leave behind as specks, are dropped.
    """
    path = pathops.Path(fillType=pathops.FillType.WINDING)
    for function in draw:
        function(path.getPen(allow_open_paths=False))
    path.convertConicsToQuads()
    path.simplify(fix_winding=True, keep_starting_points=True, clockwise=False)
    contours = [contour for contour in contours_of_path(path) if abs(contour.signed_area()) >= least_area]
    return Outline(contours=tuple(sorted(contours, key=_reading_order)))


def common(first: Outline, second: Outline) -> Outline:
    """What lies inside of both outlines, in inches; curves stay curves."""
    paths = []
    for outline in (first, second):
        path = pathops.Path(fillType=pathops.FillType.WINDING)
        outline.transformed((_FINE, 0.0, 0.0, _FINE, 0.0, 0.0)).draw(path.getPen())
        paths.append(path)
    both = pathops.op(*paths, pathops.PathOp.INTERSECTION, fix_winding=True, clockwise=False)
    both.convertConicsToQuads()
    kept = [one for one in contours_of_path(both) if abs(one.signed_area()) > _SPECK * _FINE**2]
    shells_first = sorted(kept, key=lambda contour: contour.signed_area() < 0)
    return Outline(contours=tuple(shells_first)).transformed((1 / _FINE, 0.0, 0.0, 1 / _FINE, 0.0, 0.0))


def _reading_order(contour: Contour) -> tuple[bool, float, float]:
    x0, y0, _, _ = contour.bounds()
    return (contour.signed_area() < 0, round(x0, 3), round(y0, 3))


def contours_of_path(path: Any) -> Iterator[Contour]:
    """The closed contours of a path of the path library, specks and all."""
    start: Point | None = None
    segments: list[Segment] = []
    for verb, points in path:
        if verb is pathops.PathVerb.MOVE:
            start, segments = points[0], []
        elif verb is pathops.PathVerb.CLOSE:
            if start is not None and segments:
                yield Contour(start=start, segments=tuple(segments))
        else:
            segments.append(tuple(points))


def pieces_of(outline: Outline) -> tuple[Outline, ...]:
    """The connected pieces of `outline`: each shell with the counters that lie in it."""
    shells = [contour for contour in outline.contours if contour.signed_area() > 0]
    if len(shells) == 1:
        return (outline,)
    owned: dict[int, list[Contour]] = {index: [shell] for index, shell in enumerate(shells)}
    solids = [Polygon(shell.points(_ROUGH_SHARE * shell.size())) for shell in shells]
    by_size = sorted(owned, key=lambda index: solids[index].area)
    for contour in outline.contours:
        if contour.signed_area() < 0:
            inside = Polygon(contour.points(_ROUGH_SHARE * contour.size())).representative_point()
            owned[next(index for index in by_size if solids[index].contains(inside))].append(contour)
    return tuple(Outline(contours=tuple(contours)) for contours in owned.values())
