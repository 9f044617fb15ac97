"""Outlines as SVG path data.

y flips here and nowhere else: SVG's y points down.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from applique.geometry.outline import Contour
from applique.geometry.points import Bounds, Matrix, Point
from applique.units import format_number

__all__ = ["flipped", "line_path", "outline_path"]

_PLACES: Final = 5
"""Decimals of a coordinate: 0.00001 in, so that the area read back agrees within 0.01 %."""
_LETTERS: Final = ("L", "Q", "C")


def flipped(window: Bounds, *, mirrored: bool, scale: float = 1.0) -> Matrix:
    """The matrix from inches, y up, to a drawing of `window` with its origin at the top left, y down.

    `scale` is the drawing's units in an inch; `mirrored` mirrors about the middle of the window.
    """
    x0, _, x1, y1 = window
    if mirrored:
        return (-scale, 0.0, 0.0, -scale, x1 * scale, y1 * scale)
    return (scale, 0.0, 0.0, -scale, -x0 * scale, y1 * scale)


def outline_path(contours: Sequence[Contour], matrix: Matrix, *, closed: bool = True) -> str:
    """Path data of `contours` under `matrix`: lines, quadratics and cubics as they are, every one closed or none."""
    return " ".join(_contour_path(contour.transformed(matrix), closed) for contour in contours)


def line_path(points: Sequence[Point], matrix: Matrix) -> str:
    """Path data of an open line under `matrix`."""
    a, b, c, d, e, f = matrix
    return "M" + " L".join(_point((a * x + c * y + e, b * x + d * y + f)) for x, y in points)


def _contour_path(contour: Contour, closed: bool) -> str:
    words = ["M" + _point(contour.start)]
    here = contour.start
    for segment in contour.segments:
        if segment != (here,):
            words.append(_LETTERS[len(segment) - 1] + " ".join(map(_point, segment)))
        here = segment[-1]
    return " ".join([*words, "Z"] if closed else words)


def _point(point: tuple[float, float]) -> str:
    return f"{format_number(point[0], places=_PLACES)},{format_number(point[1], places=_PLACES)}"
