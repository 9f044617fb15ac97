"""Binding drawn: joined, pressed, sewn on, mitered, its ends, and around the edge, in the proportions of the pattern.

Frame of a drawing: points, y up. A right side is tinted, a wrong side dotted; beside a quilt the binding is
of the second tint.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from typing import Final

import shapely

from applique.drawings.measured import MARGIN, SMALL, Measured, corners_at, span
from applique.drawings.model_letter import area_of
from applique.drawings.values import (
    CUT,
    FINE,
    HAIR,
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
    fold,
    leader,
    needle,
    right_side,
    seam,
    wrong_side,
)
from applique.geometry.polygons import as_shape
from applique.quilt.finishing import BindingPlan, BindingStart
from applique.words.instructions import finishing as said

__all__ = ["Bound"]
_SIDE: Final = 208.0
"""Points along the side of the quilt on which a binding starts."""
_DEEP: Final = 60.0
_FOLDED: Final = 16.0
_GAP: Final = 72.0
"""Points of the gap that is left for the ends of the binding."""
_ON: Final = 14.0
"""Points that a strip goes on beyond the side that it is sewn to."""
_LEAN: Final = math.radians(24.0)
"""How far a free tail leans away from the edge."""
_WAVE: Final = 3.0
_APART: Final = 1.0
"""Points of white between the two layers of a strip that lie on each other, cut across."""


class Bound(Measured):
    """The binding of a quilt."""

    # Binding

    def join(self, width: Fraction, allowance: Fraction) -> Drawing:
        """Two strips at a right angle, sewn from corner to corner."""
        return self._fitted(list(self._joined(width, allowance, 0.0, RIGHT_SIDE)), said.JOIN_SEEN)

    def _joined(self, width: Fraction, allowance: Fraction, left: float, fill: str) -> Iterator[Mark]:
        deep, reach = 42.0, 92.0
        inner = reach - deep
        trim = float(allowance / width) * deep
        yield from right_side(corners_at((left, inner), reach, deep), fill=fill)
        yield from wrong_side(corners_at((left + inner, 0), deep, reach))
        yield seam(((left + inner, reach), (left + reach, inner)))
        over = trim * 2**0.5
        yield line(((left + inner + over, reach), (left + reach, inner + over)), FINE)
        yield from dimension((left - 8, inner), (left - 8, reach), self._size(width))
        yield from leader(
            (left + reach + 8, inner - 16),
            (left + reach - (deep - over) / 2, inner + (deep + over) / 2),
            self._seam(allowance),
        )

    def pressed(self, width: Fraction) -> Drawing:
        """The strip open, and folded in half, to scale."""
        long, deep = 150.0, 44.0
        half = deep / 2
        marks: list[Mark] = [*wrong_side(corners_at((MARGIN, 44), long, deep))]
        marks.append(fold(((MARGIN, 44 + half), (MARGIN + long, 44 + half))))
        marks += dimension((MARGIN - 8, 44), (MARGIN - 8, 44 + deep), self._size(width))
        marks += arrow((MARGIN + long / 2, 40), (MARGIN + long / 2, half + 5))
        marks += right_side(corners_at((MARGIN, 0), long, half))
        marks += dimension((MARGIN - 8, 0), (MARGIN - 8, half), self._size(width / 2))
        marks += leader((MARGIN + long + 10, 44 + half), (MARGIN + long - 4, 44 + half), said.FOLD)
        return self._fitted(marks, said.PRESS_SEEN)

    def sewn_on(self, binding: BindingPlan) -> Drawing:
        """The edge on which the binding starts lying above, as in the pictures of its corners, with both of its corners
        where it has any: the start past its middle, the tail that hangs free, and the seam from the start toward the
        next corner.

        The seam is in proportion to the folded strip, the tail to the gap that is left for the ends.
        """
        bends = binding.start is BindingStart.STRAIGHTEST
        stop = _FOLDED * float(binding.seam / (binding.width / 2))
        tail = _GAP * float(binding.tail / binding.gap)
        middle = _SIDE / 2
        start, needle_at, out = middle + _GAP / 2, _SIDE - 30.0, _SIDE + _ON
        lean = (-tail * math.cos(_LEAN), tail * math.sin(_LEAN))
        marks: list[Mark] = [*_side_of_quilt(has_corners=not bends)]
        marks += right_side(corners_at((start, -_FOLDED), out - start, _FOLDED), fill=SECOND_SIDE)
        free = (
            (start, 0.0),
            (start, -_FOLDED),
            (start + lean[0], lean[1] - _FOLDED),
            (start + lean[0], lean[1]),
        )
        marks += right_side(free, fill=SECOND_SIDE)
        marks.append(seam(((start, -stop), (needle_at, -stop))))
        marks += needle((needle_at, -stop))
        marks += arrow((start + 14, -_FOLDED - 9), (needle_at + 14, -_FOLDED - 9))
        marks += leader((start + 5, -44), (start, -stop), said.START, anchor=Anchor.MIDDLE)
        held = (start + 0.7 * lean[0], 0.7 * lean[1] - _FOLDED / 2)
        marks += leader(
            (held[0] - 20, held[1] + 14), held, said.free_said(binding, self.units), anchor=Anchor.END
        )
        marks += span((out + 8, -stop), (out + 8, 0))
        marks.append(Words(said=self._seam(binding.seam), at=(out + 13, -stop / 2 - 3), size=SMALL))
        if not bends:
            marks.append(fold(((middle, 0.0), (middle, 6 - _DEEP))))
            level = -_FOLDED - 8
            marks += [line(((middle, level), (start, level)), HAIR)]
            marks += [line(((x, level - 3), (x, level + 3)), HAIR) for x in (middle, start)]
            past = Words(
                said=self._about(binding.gap / 2),
                at=((start + middle) / 2, level - 10),
                size=SMALL,
                anchor=Anchor.MIDDLE,
            )
            name = Words(
                said=said.MIDDLES[binding.start], at=(middle - 4, 8 - _DEEP), size=SMALL, anchor=Anchor.END
            )
            marks += [past, name]
        return self._fitted(marks, said.SEW_CURVED_SEEN if bends else said.SEW_SEEN)

    def mitered(self, binding: BindingPlan) -> Drawing:
        """A corner three times: the stop, the strip folded up, and folded down; in the proportions of the binding."""
        side, apart, out = 78.0, 52.0, 26.0
        deep = 32.0
        stop = deep * float(binding.seam / (binding.width / 2))
        marks: list[Mark] = []
        for index, words in enumerate((said.STOP, said.FOLD_UP, said.FOLD_DOWN)):
            left, low = index * (side + apart), 14.0
            right, top = left + side, low + side
            marks += right_side(corners_at((left, low), side, side))
            sewn = seam(((left, top - stop), (right - stop, top - stop)))
            if index == 0:
                marks.append(box(left, top - deep, side + out, deep, fill=SECOND_SIDE, ink=CUT))
                marks.append(sewn)
                marks.append(line(((right, top), (right, top - deep)), HAIR))
                marks += dimension((right - stop, top + 6), (right, top + 6), self._seam(binding.seam), off=4)
            elif index == 1:
                flat = ((left, top - deep), (right - deep, top - deep), (right, top), (left, top))
                up = ((right - deep, top - deep), (right, top), (right, top + out), (right - deep, top + out))
                marks += right_side(flat, fill=SECOND_SIDE)
                marks += right_side(up, fill=SECOND_SIDE)
                marks.append(sewn)
                marks += arrow((right + 8, top - 8), (right + 8, top + 18))
            else:
                marks.append(box(left, top - deep, side, deep, fill=SECOND_SIDE, ink=CUT))
                marks.append(sewn)
                marks.append(box(right - deep, low, deep, side, fill=SECOND_SIDE, ink=CUT))
                marks.append(seam(((right - stop, top), (right - stop, low))))
                marks += arrow((right + 8, top), (right + 8, top - 26))
            marks.append(Words(said=words, at=(left, 2), size=SMALL, bold=True))
        return self._fitted(marks, said.CORNERS_SEEN)

    def ends(self, binding: BindingPlan, allowance: Fraction) -> Drawing:
        """The two ends overlapping along the gap, and joined; the overlap as wide as the strip is cut."""
        wide, over = 220.0, 44.0
        deep, high, low = over / 2, 44.0, 14.0
        stop = deep * float(binding.seam / (binding.width / 2))
        top, middle = low + high, wide / 2
        marks: list[Mark] = [*right_side(corners_at((0, low), wide, high))]
        marks.append(box(0, top - deep, middle + over / 2, deep, fill=SECOND_SIDE, ink=CUT))
        marks.append(
            box(middle - over / 2, top - deep + 3, wide - middle + over / 2, deep, fill=SECOND_SIDE, ink=CUT)
        )
        marks.append(line(((middle + over / 2, top - deep), (middle + over / 2, top + 3)), HAIR))
        marks.append(seam(((0, top - stop), (30, top - stop))))
        marks.append(seam(((wide - 30, top - stop), (wide, top - stop))))
        marks += dimension(
            (middle - over / 2, top + 10), (middle + over / 2, top + 10), self._size(binding.width)
        )
        marks += dimension((30, low + 8), (wide - 30, low + 8), self._size(binding.gap))
        left = wide + 46
        marks += self._joined(binding.width, allowance, left, SECOND_SIDE)
        return self._fitted(marks, said.ENDS_SEEN)

    def around(self, binding: BindingPlan) -> Drawing:
        """The edge of the quilt cut across, with the binding around it, in the proportions of its seam."""
        scale = 260.0 / float(binding.width)
        edge, in_from = 170.0, float(binding.seam) * scale
        low, thick, layer = 60.0, 22.0, 3.0
        top = low + thick
        # What is left of the half for the back, once it has gone in, out again, and around the layers.
        reach = max(130.0 - 2 * in_from - thick / 2, in_from + 4)
        marks: list[Mark] = [
            box(0, top - layer, edge, layer, fill=RIGHT_SIDE, ink=FINE),
            box(0, low + layer, edge, thick - 2 * layer, fill=BATTING, ink=HAIR),
            box(0, low, edge, layer, fill=RIGHT_SIDE, ink=FINE),
        ]
        sewn, above = edge - in_from, top + 2 * layer + _APART
        # From its raw edges in to the seam, there back over itself, and around the layers to the back.
        middle = shapely.LineString(
            (
                (edge, top + layer / 2),
                (sewn - layer, top + layer / 2),
                (sewn - layer, above - layer / 2),
                (edge + layer / 2, above - layer / 2),
                (edge + layer / 2, low - layer / 2),
                (edge - reach, low - layer / 2),
            )
        )
        strip = middle.buffer(layer / 2, cap_style="flat", join_style="mitre")
        marks += area_of(as_shape(strip), fill=SECOND_SIDE, ink=FINE)
        marks.append(seam(((sewn, above + 5), (sewn, low - 8))))
        marks.append(disc((edge - reach + 1, low - layer), 2.2))
        marks += leader(
            (edge - reach - 34, 20), (edge - reach + 1, low - layer), said.SEWN_DOWN, anchor=Anchor.END
        )
        marks += dimension((sewn, above + 14), (edge, above + 14), self._seam(binding.seam))
        beside = edge + 22
        marks += leader((beside, above - 1), (edge + layer / 2, above - layer / 2), said.BINDING_SEEN)
        marks += leader((beside, low - 14), (sewn, low - 5), said.SEAM_SEEN)
        marks.append(Words(said=said.BATTING_SEEN, at=(12, low + thick / 2 - 2.7), size=SMALL))
        marks.append(Words(said=said.FRONT, at=(2, top + 6), size=SMALL))
        marks.append(Words(said=said.BACK, at=(2, low - 11), size=SMALL))
        return self._fitted(marks, said.DOWN_SEEN)

    def bias(self, binding: BindingPlan) -> Drawing:
        """A square cut in two, the parallelogram with its lines, and the tube."""
        side = 70.0
        square = float(binding.cut.strip_width)
        step = side * float(binding.width) * 2**0.5 / square
        low = 14.0
        marks: list[Mark] = [*right_side(corners_at((0, low), side, side))]
        marks.append(line(((0, low), (side, low + side)), CUT))
        left = side + 26
        # The triangle above the cut, moved so that its upright side lies along that of the other one.
        marks += wrong_side(
            ((left, low), (left + side, low), (left + 2 * side, low + side), (left + side, low + side))
        )
        marks.append(seam(((left + side, low), (left + side, low + side))))
        count = max(1, int(side / step))
        for index in range(1, count + 1):
            x = left + index * step
            if x < left + side - 1:
                marks.append(line(((x, low), (x + side, low + side)), HAIR))
        tube = left + 2 * side + 34
        marks += wrong_side(corners_at((tube, low), 62, side))
        lines = max(2, min(7, count))
        for index in range(lines):
            y = low + side * index / lines
            marks.append(line(((tube, y), (tube + 62, y + side / lines)), HAIR))
        marks.append(seam(((tube + 40, low), (tube + 18, low + side))))
        for words, x in ((said.BIAS_CUT, 0.0), (said.BIAS_SEWN, left), (said.BIAS_TUBE, tube)):
            marks.append(Words(said=words, at=(x, 2), size=SMALL))
        return self._fitted(marks, said.BIAS_SEEN)


def _side_of_quilt(*, has_corners: bool) -> Iterator[Mark]:
    """The side of a quilt that lies above, broken off below, and at both ends too where it has no corners there."""
    torn = [(_SIDE * step / 12, -_DEEP - (_WAVE if step % 2 else 0.0)) for step in range(12, -1, -1)]
    left, right = [(0.0, 0.0)], [(_SIDE, 0.0)]
    if not has_corners:
        left = [(-_WAVE if step % 2 else 0.0, -_DEEP * step / 4) for step in (3, 2, 1, 0)]
        right = [(_SIDE + (_WAVE if step % 2 else 0.0), -_DEEP * step / 4) for step in (0, 1, 2, 3)]
    yield Shape(outline=path((*left, *right, *torn)), fill=RIGHT_SIDE)
    ends = (
        ((0.0, -_DEEP), (0.0, 0.0), (_SIDE, 0.0), (_SIDE, -_DEEP))
        if has_corners
        else ((0.0, 0.0), (_SIDE, 0.0))
    )
    yield line(ends, CUT)
