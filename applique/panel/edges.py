"""The edges of the panel, and what they leave of a piece that runs off it.

Frame of the panel: inches, origin at the lower left corner of the *finished* panel, y up. A piece stands about its own
origin.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from shapely.geometry import LineString, Polygon, box

from applique.geometry.clipping import clipped
from applique.geometry.outline import Outline, pieces_of
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point
from applique.geometry.polygons import CHORD_ERROR, as_shape, polygon_of
from applique.panel.outline import PanelOutline

__all__ = ["SEEN", "CutOff", "PanelEdges", "Side"]

SEEN: Final = 1e-3
"""Square inches of a piece inside the finished edge from which on it is seen."""
_ROUNDING: Final = 1e-9


class Side(StrEnum):
    """A side of the panel."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOff:
    """What a piece was before it was cut off at the panel's cut edge; all about its own origin, inches.

    `window` is the cut edge of the panel and `inside` its finished edge. `sides` are those of the panel at which it is
    cut off, and `seams` the finished edge there, as far as it runs over what is left.
    """

    whole: Outline
    window: Polygon
    inside: Polygon
    sides: tuple[Side, ...]
    seams: tuple[tuple[Point, Point], ...]

    @property
    def mark(self) -> str:
        """What tells it from the same piece cut off elsewhere: where the sides of the cut edge lie in its own frame."""
        corners = ",".join(
            f"{round(x, 4) + 0.0} {round(y, 4) + 0.0}" for x, y in _lines(self.window, self.sides)
        )
        return f"{'-'.join(self.sides)}-{corners}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelEdges:
    """The finished panel, `width` by `height`, and how far its cut edge lies `beyond` that.

    One that is no rectangle has an `outline` within that, and is cut as a rectangle first.
    """

    width: float
    height: float
    beyond: float
    outline: PanelOutline | None = None

    @property
    def finished(self) -> Polygon:
        """What is seen of the panel."""
        if self.outline is not None:
            return self.outline.polygon()
        return box(0.0, 0.0, self.width, self.height)

    @property
    def cut(self) -> Polygon:
        """What is cut of the panel."""
        return box(-self.beyond, -self.beyond, self.width + self.beyond, self.height + self.beyond)

    def crossed(self, ink: Bounds, beyond: float = 0.0) -> tuple[Side, ...]:
        """The sides that an extent crosses, of the rectangle so far outside the finished edge."""
        x0, y0, x1, y1 = ink
        over = {
            Side.LEFT: -beyond - x0,
            Side.RIGHT: x1 - self.width - beyond,
            Side.TOP: y1 - self.height - beyond,
            Side.BOTTOM: -beyond - y0,
        }
        return tuple(side for side, inches in over.items() if inches > _ROUNDING)

    def seen(self, outline: Outline, place: Place) -> Outline:
        """What of a piece that lies at `place` is inside the finished edge, about its own origin."""
        return clipped(outline, _own(self.finished, place))

    def left_of(self, outline: Outline, place: Place) -> tuple[Outline, CutOff] | None:
        """What the cut edge leaves of a piece that lies at `place`, about its own origin, and what was cut off; None
        where it does not reach the cut edge.

        Parts that lie wholly outside the finished edge are left out: nobody would see them.
        """
        sides = self.crossed(place.outline(outline).bounds(), self.beyond)
        if not sides:
            return None
        window, inside = _own(self.cut, place), _own(self.finished, place)
        parts = [
            part
            for part in pieces_of(clipped(outline, window))
            if polygon_of(part, chord_error=CHORD_ERROR).intersection(inside).area > SEEN
        ]
        left = Outline(contours=tuple(contour for part in parts for contour in part.contours))
        shells_first = sorted(left.contours, key=lambda contour: contour.signed_area() < 0)
        left = Outline(contours=tuple(shells_first))
        return left, CutOff(
            whole=outline, window=window, inside=inside, sides=sides, seams=_seams(left, inside, sides)
        )


def _own(rectangle: Polygon, place: Place) -> Polygon:
    """A rectangle of the panel in the frame of a piece at `place`."""
    return Place(x=0.0, y=0.0).seen_from(place).shape(rectangle)


def _lines(rectangle: Polygon, sides: tuple[Side, ...]) -> list[Point]:
    """For each of the `sides` of a rectangle of the panel the point of its line nearest to the origin."""
    found = []
    for side in sides:
        (x0, y0), (x1, y1) = _side(rectangle, side)
        way = LineString([(x0, y0), (x1, y1)])
        x, y = (x1 - x0) / way.length, (y1 - y0) / way.length
        along = -(x0 * x + y0 * y)
        found.append((x0 + along * x, y0 + along * y))
    return found


def _side(rectangle: Polygon, side: Side) -> tuple[Point, Point]:
    """A side of a rectangle whose corners run as those of `shapely.box`: lower right, upper right, and so on around."""
    corners = [(float(x), float(y)) for x, y in rectangle.exterior.coords]
    first = {Side.RIGHT: 0, Side.TOP: 1, Side.LEFT: 2, Side.BOTTOM: 3}[side]
    return corners[first], corners[first + 1]


def _seams(left: Outline, inside: Polygon, sides: tuple[Side, ...]) -> tuple[tuple[Point, Point], ...]:
    """The finished edge at those `sides` over what is left, each stretch from end to end."""
    if not left:
        return ()
    shape = as_shape(polygon_of(left, chord_error=CHORD_ERROR))
    found = []
    for side in sides:
        over = LineString(_side(inside, side)).intersection(shape)
        for part in getattr(over, "geoms", [over]):
            if isinstance(part, LineString) and part.length:
                (x0, y0), *_, (x1, y1) = part.coords
                found.append(((float(x0), float(y0)), (float(x1), float(y1))))
    return tuple(found)
