"""The hanging sleeve drawn: on the back of the quilt, at its open end, and hanging on its rod.

Frame of a drawing: points, y up. The sleeve is of the second tint.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from applique.drawings.measured import MARGIN, SMALL, Measured, span, whole_scale
from applique.drawings.values import (
    BOLD,
    CUT,
    FINE,
    HAIR,
    PAPER,
    Anchor,
    Drawing,
    Mark,
    Shape,
    Words,
    box,
    line,
    path,
)
from applique.drawings.vocabulary import (
    BATTING,
    RIGHT_SIDE,
    SECOND_SIDE,
    arrow,
    dimension,
    disc,
    leader,
    pin,
    right_side,
    seam,
    wrong_side,
)
from applique.geometry.outline import Contour, Outline
from applique.geometry.points import Point
from applique.quilt.finishing import SleevePlan
from applique.quilt.strips import Extent
from applique.words.instructions import finishing as said

__all__ = ["Sleeve"]


_CORNER: Final = (150.0, 92.0)
"""Points of the corner of a back with the end of its sleeve."""
_TUBE: Final = 48.0


class Sleeve(Measured):
    """The sleeve of a quilt."""

    # Sleeve

    def pinned(self, trimmed: Extent, sleeve: SleevePlan, off: Fraction) -> Drawing:
        """The back with the sleeve along its top, to scale, and how far it is from either side; beside it a corner of
        that enlarged, with where it is basted."""
        scale = whole_scale(trimmed)
        wide, high = float(trimmed[0]) * scale, float(trimmed[1]) * scale
        long, deep = float(sleeve.length) * scale, float(sleeve.cut_depth) / 2 * scale
        left = MARGIN
        inset = (wide - long) / 2
        marks: list[Mark] = [*right_side(((left, 0), (left + wide, 0), (left + wide, high), (left, high)))]
        marks.append(box(left + inset, high - deep, long, deep, fill=SECOND_SIDE, ink=FINE))
        for index in range(6):
            x = left + inset + long * (index + 0.5) / 6
            marks += pin((x, high - 1.5), (x, high - min(deep, 12.0)))
        y = high + 8
        for start, end in ((left, left + inset), (left + inset + long, left + wide)):
            marks += dimension((start, y), (end, y), "")
        beside = said.beside_sleeve_said(self._about((trimmed[0] - sleeve.length) / 2))
        marks.append(Words(said=beside, at=(left + wide / 2, y - 2.5), size=SMALL, anchor=Anchor.MIDDLE))
        marks.append(
            Words(
                said=said.BACK_SEEN,
                at=(left + wide / 2, (high - deep) / 2 - 3),
                size=SMALL,
                anchor=Anchor.MIDDLE,
            )
        )
        corner = (left + wide + 36, max(high, _CORNER[1]))
        marks += self._corner(corner, off)
        return self._fitted(marks, said.SLEEVE_SEEN)

    def _corner(self, corner: Point, off: Fraction) -> Iterator[Mark]:
        """The upper left `corner` of the back with the open end of its sleeve."""
        x, top = corner
        wide, high = _CORNER
        end, right, low = x + 26, x + wide, top - _TUBE
        torn = [(right + (3 if step % 2 else 0), top - high * step / 6) for step in range(7)]
        torn += [(right - wide * step / 10, top - high - (3 if step % 2 else 0)) for step in range(1, 11)]
        yield Shape(outline=path(((x, top), *torn)), fill=RIGHT_SIDE)
        yield line(((right, top), (x, top), (x, top - high)), CUT)
        # The layer next to the back lies flat; the one above it bows up, so that the end stands open.
        near = ((end, top), (right, top), (right, low), (end, low))
        yield from wrong_side(near)
        bow = (((end + 16, top - 8), (end + 16, low + 8), (end, low)),)
        upper = Outline(
            contours=(Contour(start=(end, top), segments=(*bow, ((right, low),), ((right, top),))),)
        )
        yield Shape(outline=upper, fill=SECOND_SIDE, ink=CUT)
        yield line(((end, top - 1.6), (right, top - 1.6)), HAIR)
        yield seam(((end + 2, top - 6), (right, top - 6)))
        for at in (end + 44, end + 104):
            yield from pin((at, top - 2), (at, top - 17))
        yield from arrow((end - 22, top - _TUBE / 2), (end + 9, top - _TUBE / 2), BOLD)
        beside = right + 14
        yield from leader((beside, top + 4), (right - 6, top - 0.8), said.RAW_EDGES)
        yield from leader((beside, top - 10), (right - 12, top - 6), said.basted_off_said(off, self.units))
        yield from leader((beside, low), (right - 6, low), said.FOLDED_EDGE)
        yield from leader((end + 10, top - high + 12), (end + 4, top - _TUBE / 2 - 6), said.OPEN_END)

    def hanging(self, slack: Fraction, *, bound: bool) -> Drawing:
        """The sleeve from its end, with its rod and its slack: what hangs below where it is sewn down."""
        low, top, x = 34.0, 132.0, 0.0
        marks: list[Mark] = [*self._layers_upright(x, top + 12)]
        # The tube: flat against the back, and in a bow around the rod.
        bow = (
            ((x - 34, top), (x - 50, top - 14), (x - 50, top - 48)),
            ((x - 50, low + 14), (x - 36, low - 16), (x - 16, low - 16)),
            ((x - 6, low - 16), (x - 3, low - 6), (x - 2, low)),
        )
        tube = Outline(contours=(Contour(start=(x - 2, top), segments=bow),))
        marks.append(Shape(outline=tube, ink=CUT, open=True))
        marks.append(line(((x - 2, top), (x - 2, low)), CUT))
        marks.append(disc((x - 24, top - 26), 13, fill=PAPER, ink=CUT))
        for y in (low, top):
            marks.append(disc((x - 1, y), 2.2))
        right = x + 30
        marks += leader((right, top), (x - 1, top), said.CAUGHT if bound else said.CAUGHT_AT_EDGE)
        marks += leader((right, top - 26), (x - 14, top - 26), said.ROD)
        marks += leader((right, low + 36), (x + 6, low + 36), said.QUILT_EDGE)
        marks += leader((right, low), (x - 1, low), said.SEWN_BY_HAND)
        words = Words(said=self._about(slack), at=(x - 66, low - 11), size=SMALL, anchor=Anchor.END)
        marks += (*span((x - 60, low - 16), (x - 60, low)), words)
        marks += (
            line(((x - 63, low), (x - 3, low)), HAIR),
            line(((x - 63, low - 16), (x - 16, low - 16)), HAIR),
        )
        marks += leader((x - 64, top - 48), (x - 50, top - 48), said.SLEEVE_LAYERS, anchor=Anchor.END)
        for side, at, anchor in ((said.BACK, x - 3, Anchor.END), (said.FRONT, x + 16, Anchor.START)):
            marks.append(Words(said=side, at=(at, top + 16), size=SMALL, anchor=anchor))
        return self._fitted(marks, said.SLEEVE_LOW)

    @staticmethod
    def _layers_upright(x: float, top: float) -> Iterator[Mark]:
        """Back, batting and top cut across, hanging, the back to the left."""
        yield box(x, 0, 3, top, fill=RIGHT_SIDE, ink=FINE)
        yield box(x + 3, 0, 7, top, fill=BATTING, ink=HAIR)
        yield box(x + 10, 0, 3, top, fill=RIGHT_SIDE, ink=FINE)
