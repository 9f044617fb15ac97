"""Where a top ends: the outer edge of a quilt, and of each border, as one outline that everybody asks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import shapely
from shapely.geometry import LinearRing

from applique.geometry.outline import Contour, Outline, common
from applique.geometry.place import Place
from applique.geometry.polygons import CHORD_ERROR, Shape, polygon_of
from applique.panel import PanelOutline
from applique.quilt.strips import Extent

__all__ = ["Edge", "outlined_edge", "straight_edge"]

_FINE: Final = 10**6
"""Parts of an inch to which the length of a round or slanting edge is taken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """Where a top ends. `outline` is in inches about the middle of the top, y up, and any outline may stand there.

    `size` is that of the rectangle about the same middle that it just fits, finished; `length` is once around it.
    """

    size: Extent
    outline: Outline
    length: Fraction

    @property
    def shape(self) -> Shape:
        """What lies inside."""
        return polygon_of(self.outline, chord_error=CHORD_ERROR)

    @property
    def bends(self) -> bool:
        """Whether it has curves, around which only bias binding lies flat."""
        return any(len(segment) > 1 for contour in self.outline.contours for segment in contour.segments)

    def trimmed(self, pieces: Iterable[Outline]) -> Iterator[Outline]:
        """What is left of each of the `pieces`, in the frame of the edge, once the top is cut along it.

        Curves are kept; a piece that lies inside is the same one.
        """
        shape = self.shape
        shapely.prepare(shape)
        for piece in pieces:
            rings = [LinearRing(contour.points(CHORD_ERROR)) for contour in piece.contours]
            yield piece if all(map(shape.covers, rings)) else common(piece, self.outline)


def straight_edge(size: Extent) -> Edge:
    """The edge of a rectangle of the finished `size`."""
    x, y = (float(side) / 2 for side in size)
    sides = (((x, -y),), ((x, y),), ((-x, y),))
    outline = Outline(contours=(Contour(start=(-x, -y), segments=sides),))
    return Edge(size=size, outline=outline, length=2 * (size[0] + size[1]))


def outlined_edge(outline: PanelOutline, size: Extent) -> Edge:
    """The edge of a panel that is no rectangle and just fits one of the finished `size`."""
    middle = Place(x=-outline.width / 2, y=-outline.height / 2)
    edge = middle.outline(outline.at())
    return Edge(size=size, outline=edge, length=Fraction(edge.length()).limit_denominator(_FINE))
