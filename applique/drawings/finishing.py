"""Backing, layers, trimming, sleeve, binding and label drawn: whatever has a size in the proportions of the pattern.

Frame of a drawing: points, y up. A right side is tinted, a wrong side dotted; the binding is of the second tint.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from applique.drawings.values import (
    CUT,
    FINE,
    HAIR,
    PAPER,
    QUIET,
    Anchor,
    Drawing,
    Mark,
    Raster,
    Shape,
    Words,
    box,
    line,
    text_width,
)
from applique.drawings.vocabulary import (
    RIGHT_SIDE,
    SECOND_SIDE,
    arrow,
    blade,
    dimension,
    disc,
    fold,
    leader,
    needle,
    pin,
    right_side,
    seam,
    wrong_side,
)
from applique.drawings.vocabulary import batting as batted
from applique.geometry.outline import Contour, Outline
from applique.geometry.points import Bounds, Point, around, point_under
from applique.language import Message, Speech
from applique.leftovers import Patch
from applique.quilt.finishing import BindingPlan, SleevePlan
from applique.quilt.strips import Extent
from applique.units import Units, as_length, as_seam, as_size
from applique.words.instructions import finishing as said
from applique.words.instructions import quilting as layered

__all__ = ["Finish"]

_SMALL: Final = 7.5
_NAME: Final = 10.0
_BESIDE: Final = 236.0
"""Points that a drawing beside the words of its step may be wide."""
_MARGIN: Final = 30.0
"""Points beside a drawing for the numbers of its height."""
_WHOLE: Final = (150.0, 120.0)
"""Points for a whole quilt."""
_BATTING: Final = "#cdcbc4"
_EDGE: Final = 1.0
"""Points of white around a drawing, for the width of its lines."""
_LABEL: Final = (5.0, 3.5)
"""Inches of a quilt label."""


class Finish:
    """Draws for one set of instructions: its units, its language."""

    def __init__(self, units: Units, speech: Speech) -> None:
        self.units, self.speech = units, speech

    def _size(self, length: Fraction) -> str:
        return self.speech.measure(as_size(length, self.units))

    def _seam(self, length: Fraction) -> str:
        return self.speech.measure(as_seam(length, self.units))

    def _about(self, length: Fraction) -> str:
        return self.speech.measure(as_length(length, self.units))

    def _fitted(self, marks: Sequence[Mark], words: Message) -> Drawing:
        """A drawing as large as its `marks`, what they say included."""
        left, low, right, top = around([self._bounds(mark) for mark in marks])
        onto = (1.0, 0.0, 0.0, 1.0, _EDGE - left, _EDGE - low)
        moved = tuple(
            replace(mark, outline=mark.outline.transformed(onto))
            if isinstance(mark, Shape)
            else replace(mark, at=point_under(onto, mark.at))
            for mark in marks
        )
        return Drawing(width=right - left + 2 * _EDGE, height=top - low + 2 * _EDGE, marks=moved, said=words)

    def _bounds(self, mark: Mark) -> Bounds:
        if isinstance(mark, Shape):
            xs, ys = zip(*_points(mark.outline), strict=True)
            return (min(xs), min(ys), max(xs), max(ys))
        if isinstance(mark, Raster):
            return (*mark.at, mark.at[0] + mark.width, mark.at[1] + mark.height)
        wide = self._wide(mark.said, mark.size, bold=mark.bold)
        start = {Anchor.START: 0.0, Anchor.MIDDLE: -wide / 2, Anchor.END: -wide}[mark.anchor]
        turn = math.radians(mark.turn_deg)
        onto = (math.cos(turn), math.sin(turn), -math.sin(turn), math.cos(turn), *mark.at)
        low, top = -mark.size / 4, mark.size
        xs, ys = zip(
            *(point_under(onto, (start + x, y)) for x in (0.0, wide) for y in (low, top)), strict=True
        )
        return (min(xs), min(ys), max(xs), max(ys))

    def _wide(self, words: str | Message, size: float, *, bold: bool = False) -> float:
        return text_width(words if isinstance(words, str) else self.speech.tell(words), size, bold=bold)

    # Layers

    def backing(self, patches: Sequence[Patch], names: Sequence[str]) -> Drawing:
        """The backing as it is sewn, its top up, from its right side: its seams, and on each patch its name."""
        across = max(patch.x + patch.width for patch in patches)
        down = max(patch.y + patch.height for patch in patches)
        scale = _scale((across, down))
        tints = {
            fabric: (RIGHT_SIDE, SECOND_SIDE, PAPER)[index % 3]
            for index, fabric in enumerate(dict.fromkeys(patch.fabric for patch in patches))
        }
        marks: list[Mark] = []
        beside: list[tuple[Point, str]] = []
        for patch, name in zip(patches, names, strict=True):
            left, low = _MARGIN + float(patch.x) * scale, 16 + float(patch.y) * scale
            wide, high = float(patch.width) * scale, float(patch.height) * scale
            marks.append(box(left, low, wide, high, fill=tints[patch.fabric], ink=FINE))
            middle = (left + wide / 2, low + high / 2)
            if wide >= text_width(name, _NAME, bold=True) + 4 and high >= _NAME + 2:
                at = (middle[0], middle[1] - _NAME / 3)
                marks.append(Words(said=name, at=at, size=_NAME, bold=True, anchor=Anchor.MIDDLE))
            else:
                beside.append((middle, name))
        wide, high = float(across) * scale, float(down) * scale
        marks.append(box(_MARGIN, 16, wide, high, ink=CUT))
        y = math.inf
        for middle, name in sorted(beside, key=lambda one: -one[0][1]):
            y = min(middle[1], y - _NAME)
            marks += leader((_MARGIN + wide + 12, y), middle, name)
        marks += dimension((_MARGIN, 8), (_MARGIN + wide, 8), self._size(across), off=-8)
        marks += dimension((_MARGIN - 8, 16), (_MARGIN - 8, 16 + high), self._size(down))
        return self._fitted(marks, layered.BACKING_SEWN)

    def layers(self, top: Extent, batting: Extent, backing: Extent) -> Drawing:
        """Backing, batting and top one on the other, in the middle, to scale."""
        scale = _scale(backing)
        middle = (float(backing[0]) * scale / 2, float(backing[1]) * scale / 2)
        marks: list[Mark] = [*wrong_side(_frame(middle, backing, scale))]
        marks += batted(_frame(middle, batting, scale))
        marks += right_side(_frame(middle, top, scale))
        right = float(backing[0]) * scale
        layers = ((backing, layered.BACKING_WRONG), (batting, layered.BATTING_SEEN), (top, layered.TOP_SEEN))
        for index, (size, words) in enumerate(layers):
            y = middle[1] + (1 - index) * min(24.0, float(top[1]) * scale / 3)
            outer = float(size[0]) * scale / 2
            # In the middle of the band that shows, or well inside the top.
            inner = float(layers[index + 1][0][0]) * scale / 2 if size is not top else outer - 24
            marks += leader((right + 10, y), (middle[0] + (outer + inner) / 2, y), words)
        return self._fitted(marks, layered.LAYERS_SEEN)

    def pins(self, spacing: Fraction) -> Drawing:
        """The middle of the top with pins `spacing` apart, and arrows outward."""
        step = 34.0
        wide, high = 5 * step, 3.4 * step
        marks: list[Mark] = [*right_side(((0, 0), (wide, 0), (wide, high), (0, high)))]
        middle = (wide / 2, high / 2)
        for column in range(-2, 3):
            for row in range(-1, 2):
                x, y = middle[0] + column * step, middle[1] + row * step
                marks += pin((x - 5, y + 3), (x + 5, y - 3))
        for x, y in ((-24, 0), (24, 0), (0, -14), (0, 14)):
            start = (middle[0] + x / 2, middle[1] + y)
            marks += arrow(start, (middle[0] + x, middle[1] + y * 1.9))
        low = middle[1] - step - 10
        marks += dimension((middle[0], low), (middle[0] + step, low), self._about(spacing), off=-8)
        return self._fitted(marks, layered.BASTED_SEEN)

    # Trimming

    def squared(self, from_seam: Fraction | None) -> Drawing:
        """A ruler on a corner: the last seam, the cut `from_seam` outside of it, and what is cut off."""
        wide, high, corner = 216.0, 150.0, (166.0, 112.0)
        marks: list[Mark] = [*batted(((0, 0), (wide, 0), (wide, high), (0, high)), HAIR)]
        marks.append(line(((0, high), (wide, high), (wide, 0)), FINE))
        x, y = corner
        marks.append(box(0, 0, x, y, fill=RIGHT_SIDE))
        marks.append(Words(said=said.OUTSIDE, at=(6, y + 14), size=_SMALL, ground=PAPER))
        deep = 0.0 if from_seam is None else 44.0
        if from_seam is not None:
            marks.append(seam(((0, y - deep), (x - deep, y - deep), (x - deep, 0))))
        marks += self._ruler(corner, 96.0)
        marks.append(line(((0, y), (x, y), (x, 0)), CUT))
        marks += blade((x - 60, y))
        if from_seam is not None:
            words = Words(
                said=self._size(from_seam), at=(23, y - deep / 2 - 3), size=_SMALL, ground=RIGHT_SIDE
            )
            marks += (*_span((18, y - deep), (18, y)), words)
        return self._fitted(marks, said.SQUARE_SEEN)

    def measured_out(self, trimmed: Extent) -> Drawing:
        """The quilt to scale: its thread-marked center, and how far the cuts are from it."""
        scale = _scale(trimmed)
        wide, high, over = float(trimmed[0]) * scale, float(trimmed[1]) * scale, 12.0
        marks: list[Mark] = [box(-over, -over, wide + 2 * over, high + 2 * over, fill=_BATTING, ink=FINE)]
        marks.append(box(0, 0, wide, high, fill=RIGHT_SIDE))
        marks.append(box(0, 0, wide, high, ink=CUT))
        x, y = wide / 2, high / 2
        for mark in (((x - 5, y), (x + 5, y)), ((x, y - 5), (x, y + 5))):
            marks.append(seam(mark))
        for end, length in (((wide, y), trimmed[0] / 2), ((0.0, y), trimmed[0] / 2)):
            start = (x + math.copysign(7, end[0] - x), y)
            marks.append(line((start, end), HAIR))
            marks += [line(((at[0], y - 3), (at[0], y + 3)), HAIR) for at in (start, end)]
            words = Words(
                said=self._size(length),
                at=((x + end[0]) / 2, y + 4),
                size=_SMALL,
                anchor=Anchor.MIDDLE,
                ground=RIGHT_SIDE,
            )
            marks.append(words)
        for end in ((x, high), (x, 0.0)):
            marks += _span((x, y + (7 if end[1] > y else -7)), end)
            words = Words(
                said=self._size(trimmed[1] / 2),
                at=(x + 4, (y + end[1]) / 2 - 3),
                size=_SMALL,
                ground=RIGHT_SIDE,
            )
            marks.append(words)
        marks += blade((wide * 0.8, high))
        return self._fitted(marks, said.MEASURED_SEEN)

    @staticmethod
    def _ruler(corner: Point, side: float) -> Iterator[Mark]:
        """A square ruler with its corner at `corner`, lying inside, with lines every eleventh of it."""
        x, y = corner
        yield box(x - side, y - side, side, side, ink=FINE)
        for index in range(1, 9):
            off = index * side / 9
            long = 8 if index % 4 else 14
            yield line(((x - off, y), (x - off, y - long)), HAIR)
            yield line(((x, y - off), (x - long, y - off)), HAIR)
        yield Words(said=said.RULER, at=(x - side + 6, y - side + 6), size=_SMALL, color=QUIET)

    # Sleeve

    def sleeve(self, trimmed: Extent, sleeve: SleevePlan) -> Drawing:
        """The back with the sleeve along its top, to scale, and how far it is from either side."""
        scale = _scale(trimmed)
        wide, high = float(trimmed[0]) * scale, float(trimmed[1]) * scale
        long, deep = float(sleeve.length) * scale, float(sleeve.cut_depth) / 2 * scale
        left = _MARGIN
        inset = (wide - long) / 2
        marks: list[Mark] = [*right_side(((left, 0), (left + wide, 0), (left + wide, high), (left, high)))]
        marks.append(box(left + inset, high - deep, long, deep, fill=SECOND_SIDE, ink=FINE))
        marks.append(fold(((left + inset, high - deep), (left + inset + long, high - deep))))
        for index in range(6):
            x = left + inset + long * (index + 0.5) / 6
            marks += pin((x, high - 1.5), (x, high - min(deep, 12.0)))
        y = high + 8
        for start, end in ((left, left + inset), (left + inset + long, left + wide)):
            marks += dimension((start, y), (end, y), self._about((trimmed[0] - sleeve.length) / 2))
        marks.append(
            Words(
                said=said.BACK_SEEN,
                at=(left + wide / 2, (high - deep) / 2 - 3),
                size=_SMALL,
                anchor=Anchor.MIDDLE,
            )
        )
        return self._fitted(marks, said.SLEEVE_SEEN)

    def sleeve_end(self, slack: Fraction) -> Drawing:
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
        marks += leader((right, top), (x - 1, top), said.CAUGHT)
        marks += leader((right, top - 26), (x - 14, top - 26), said.ROD)
        marks += leader((right, low + 36), (x + 6, low + 36), said.QUILT_EDGE)
        marks += leader((right, low), (x - 1, low), said.SEWN_BY_HAND)
        words = Words(said=self._about(slack), at=(x - 66, low - 11), size=_SMALL, anchor=Anchor.END)
        marks += (*_span((x - 60, low - 16), (x - 60, low)), words)
        return self._fitted(marks, said.SLEEVE_LOW)

    @staticmethod
    def _layers_upright(x: float, top: float) -> Iterator[Mark]:
        """Back, batting and top cut across, hanging, the back to the left."""
        yield box(x, 0, 3, top, fill=RIGHT_SIDE, ink=FINE)
        yield box(x + 3, 0, 7, top, fill=_BATTING, ink=HAIR)
        yield box(x + 10, 0, 3, top, fill=RIGHT_SIDE, ink=FINE)

    # Binding

    def join(self, width: Fraction, allowance: Fraction) -> Drawing:
        """Two strips at a right angle, sewn from corner to corner."""
        return self._fitted(list(self._joined(width, allowance, 0.0)), said.JOIN_SEEN)

    def _joined(self, width: Fraction, allowance: Fraction, left: float) -> Iterator[Mark]:
        deep, reach = 42.0, 92.0
        inner = reach - deep
        trim = float(allowance / width) * deep
        yield from right_side(_box((left, inner), reach, deep), fill=SECOND_SIDE)
        yield from wrong_side(_box((left + inner, 0), deep, reach))
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
        marks: list[Mark] = [*wrong_side(_box((_MARGIN, 44), long, deep))]
        marks.append(fold(((_MARGIN, 44 + half), (_MARGIN + long, 44 + half))))
        marks += dimension((_MARGIN - 8, 44), (_MARGIN - 8, 44 + deep), self._size(width))
        marks += arrow((_MARGIN + long / 2, 40), (_MARGIN + long / 2, half + 5))
        marks += right_side(_box((_MARGIN, 0), long, half), fill=SECOND_SIDE)
        marks += dimension((_MARGIN - 8, 0), (_MARGIN - 8, half), self._size(width / 2))
        marks += leader((_MARGIN + long + 10, 44 + half), (_MARGIN + long - 4, 44 + half), said.FOLD)
        return self._fitted(marks, said.PRESS_SEEN)

    def sewn_on(self, binding: BindingPlan) -> Drawing:
        """The folded binding along the edge of the quilt, with its free end and its seam, to scale."""
        wide = _BESIDE - 36
        scale = min(30.0, wide / (float(binding.tail) + 3.5))
        deep, in_from = float(binding.width) / 2 * scale, float(binding.seam) * scale
        high = deep + 34
        tail = float(binding.tail) * scale
        marks: list[Mark] = [*right_side(_box((0, 0), wide, high))]
        marks.append(box(6, high - deep, wide - 6, deep, fill=SECOND_SIDE, ink=CUT))
        marks.append(seam(((6 + tail, high - in_from), (wide - 18, high - in_from))))
        marks += needle((wide - 18, high - in_from))
        marks += dimension(
            (6, high - deep - 8), (6 + tail, high - deep - 8), self._size(binding.tail), off=-9
        )
        marks += leader((6 + tail - 30, high + 12), (6 + tail, high - in_from), said.START, anchor=Anchor.END)
        words = Words(said=self._seam(binding.seam), at=(wide + 11, high - in_from / 2 - 3), size=_SMALL)
        marks += (*_span((wide + 6, high - in_from), (wide + 6, high)), words)
        return self._fitted(marks, said.SEW_SEEN)

    def mitered(self, binding: BindingPlan) -> Drawing:
        """A corner three times: the stop, the strip folded up, and folded down; in the proportions of the binding."""
        side, apart, out = 78.0, 52.0, 26.0
        deep = 32.0
        stop = deep * float(binding.seam / (binding.width / 2))
        marks: list[Mark] = []
        for index, words in enumerate((said.STOP, said.FOLD_UP, said.FOLD_DOWN)):
            left, low = index * (side + apart), 14.0
            right, top = left + side, low + side
            marks += right_side(_box((left, low), side, side))
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
            marks.append(Words(said=words, at=(left, 2), size=_SMALL, bold=True))
        return self._fitted(marks, said.CORNERS_SEEN)

    def ends(self, binding: BindingPlan, allowance: Fraction) -> Drawing:
        """The two ends overlapping along the gap, and joined; the overlap as wide as the strip is cut."""
        wide, over = 220.0, 44.0
        deep, high, low = over / 2, 44.0, 14.0
        stop = deep * float(binding.seam / (binding.width / 2))
        top, middle = low + high, wide / 2
        marks: list[Mark] = [*right_side(_box((0, low), wide, high))]
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
        marks += self._joined(binding.width, allowance, left)
        return self._fitted(marks, said.ENDS_SEEN)

    def around(self, binding: BindingPlan) -> Drawing:
        """The edge of the quilt cut across, with the binding around it, in the proportions of its seam."""
        scale = 150.0 / float(binding.width)
        edge, in_from = 150.0, float(binding.seam) * scale
        low, thick = 50.0, 15.0
        top = low + thick
        # What is left of the half for the back, once it has gone in, out again, and around the layers.
        reach = max(75.0 - 2 * in_from - thick / 2, in_from + 4)
        marks: list[Mark] = [
            box(0, top - 3, edge, 3, fill=RIGHT_SIDE, ink=FINE),
            box(0, low + 3, edge, thick - 6, fill=_BATTING, ink=HAIR),
            box(0, low, edge, 3, fill=RIGHT_SIDE, ink=FINE),
        ]
        sewn = edge - in_from
        for off in (0.0, 2.5):
            around_it = (
                (edge, top + 3.5 - off / 2),
                (sewn - 1, top + 3.5 - off / 2),
                (sewn - 1, top + 6 + off),
                (edge + 4 + off, top + 6 + off),
                (edge + 4 + off, low - 3 - off),
                (edge - reach, low - 3 - off),
            )
            marks.append(line(around_it, CUT))
        marks.append(line(((edge - reach, low - 3), (edge - reach, low - 5.5)), CUT))
        marks.append(seam(((sewn + 2, top + 7), (sewn + 2, low - 2))))
        marks.append(disc((edge - reach + 1, low - 4), 2.2))
        marks += leader(
            (edge - reach - 34, 20), (edge - reach + 1, low - 4), said.SEWN_DOWN, anchor=Anchor.END
        )
        marks += dimension((sewn, top + 20), (edge, top + 20), self._seam(binding.seam))
        marks.append(Words(said=said.FRONT, at=(2, top + 6), size=_SMALL))
        marks.append(Words(said=said.BACK, at=(2, low - 11), size=_SMALL))
        return self._fitted(marks, said.DOWN_SEEN)

    def bias(self, binding: BindingPlan) -> Drawing:
        """A square cut in two, the parallelogram with its lines, and the tube."""
        side = 70.0
        square = float(binding.cut.strip_width)
        step = side * float(binding.width) * 2**0.5 / square
        low = 14.0
        marks: list[Mark] = [*right_side(_box((0, low), side, side))]
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
        marks += wrong_side(_box((tube, low), 62, side))
        lines = max(2, min(7, count))
        for index in range(lines):
            y = low + side * index / lines
            marks.append(line(((tube, y), (tube + 62, y + side / lines)), HAIR))
        marks.append(seam(((tube + 40, low), (tube + 18, low + side))))
        for words, x in ((said.BIAS_CUT, 0.0), (said.BIAS_SEWN, left), (said.BIAS_TUBE, tube)):
            marks.append(Words(said=words, at=(x, 2), size=_SMALL, bold=True))
        return self._fitted(marks, said.BIAS_SEEN)

    # Label

    def label(self, trimmed: Extent) -> Drawing:
        """The back of the bound quilt with its label in a lower corner, to scale."""
        scale = _scale(trimmed)
        wide, high = float(trimmed[0]) * scale, float(trimmed[1]) * scale
        share = min(1.0, wide / 2 / (_LABEL[0] * scale), high / 2 / (_LABEL[1] * scale))
        across, up = (length * scale * share for length in _LABEL)
        marks: list[Mark] = [*right_side(_box((0, 0), wide, high))]
        marks.append(box(3, 3, wide - 6, high - 6, ink=FINE))
        marks.append(box(wide - 3 - across - 4, 7, across, up, fill=PAPER, ink=CUT))
        marks += leader((wide + 10, 7 + up / 2), (wide - 7 - across / 2, 7 + up / 2), said.LABEL)
        marks.append(
            Words(said=said.BACK_SEEN, at=(wide / 2, high * 0.62), size=_SMALL, anchor=Anchor.MIDDLE)
        )
        return self._fitted(marks, said.LABEL_SEEN)


def _span(start: Point, end: Point) -> Iterator[Mark]:
    """An upright line with a tick at each end, for a number beside it."""
    yield line((start, end), HAIR)
    for x, y in (start, end):
        yield line(((x - 3, y), (x + 3, y)), HAIR)


def _scale(size: Extent) -> float:
    """Points for an inch of a whole quilt."""
    return min(_WHOLE[0] / float(size[0]), _WHOLE[1] / float(size[1]))


def _box(corner: Point, wide: float, high: float) -> tuple[Point, ...]:
    """The corners of a rectangle with its lower left one at `corner`."""
    x, y = corner
    return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


def _frame(middle: Point, size: Extent, scale: float) -> tuple[Point, ...]:
    """The corners of a rectangle of `size` inches around `middle`."""
    wide, high = float(size[0]) * scale, float(size[1]) * scale
    return _box((middle[0] - wide / 2, middle[1] - high / 2), wide, high)


def _points(outline: Outline) -> Iterator[Point]:
    """All points of an outline, those that curves bend toward too."""
    for contour in outline.contours:
        yield contour.start
        for segment in contour.segments:
            yield from segment
