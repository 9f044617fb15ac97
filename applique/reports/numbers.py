"""How the data of a report say a number: lengths exactly and in millimeters, places, curves, tables by their number."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final

from applique.errors import Where
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.units import format_number

__all__ = ["exact", "outline_path", "place_data", "rounded", "size_data", "table_of"]


_PLACES: Final = 5


def table_of(where: Where) -> int | dict[str, object]:
    """The number of a row, from 1, or the place of what is no row."""
    return where.as_data() if where.row is None else where.row


def exact(length: Fraction) -> dict[str, Any]:
    """A length as decimal inches and as the fraction that it is."""
    return {"inches": rounded(float(length)), "exact": str(length)}


def rounded(value: Fraction | float) -> float:
    """A number to five decimal places."""
    return float(format_number(float(value), places=_PLACES))


def outline_path(outline: Outline) -> list[dict[str, Any]]:
    """Contours from `start`, each segment its control points and its end: one, two or three points."""
    return [
        {
            "start": [rounded(value) for value in contour.start],
            "segments": [
                [rounded(value) for point in segment for value in point] for segment in contour.segments
            ],
        }
        for contour in outline.contours
    ]


def size_data(size: tuple[Fraction, Fraction]) -> list[dict[str, Any]]:
    """A width and a height."""
    return [exact(side) for side in size]


def place_data(place: Place) -> dict[str, float]:
    """Where a piece lies, and how it is turned."""
    return {"turn_deg": place.turn_deg, "x": rounded(place.x), "y": rounded(place.y)}
