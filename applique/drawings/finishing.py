"""Backing, layers, trimming and label drawn: whatever has a size in the proportions of the pattern.

Frame of a drawing: points, y up. A right side is tinted, a wrong side dotted.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

import shapely

from applique.drawings.measured import MARGIN, SMALL, Measured, corners_at, span, whole_scale
from applique.drawings.values import (
    BOLD,
    CUT,
    FINE,
    HAIR,
    INK,
    PAPER,
    Anchor,
    Drawing,
    Mark,
    Shape,
    Words,
    box,
    line,
    text_width,
)
from applique.drawings.vocabulary import (
    BATTING,
    RIGHT_SIDE,
    SAFETY_PIN,
    SECOND_SIDE,
    arrow,
    blade,
    dimension,
    disc,
    leader,
    right_side,
    safety_pin,
    seam,
    wrong_side,
)
from applique.drawings.vocabulary import batting as batted
from applique.geometry.outline import Contour, Outline
from applique.geometry.points import Point
from applique.leftovers import Patch
from applique.quilt.strips import Extent
from applique.words.instructions import finishing as said
from applique.words.instructions import quilting as layered

__all__ = ["Finish"]

_HATCH: Final = 5.0
"""Points along an edge from one line of what is cut off to the next."""
_NAME: Final = 10.0

_LABEL: Final = (5.0, 3.5)
"""Inches of a quilt label."""


class Finish(Measured):
    """The layers of a quilt, its trimming and its label."""

    # Layers

    def backing(self, patches: Sequence[Patch], names: Sequence[str]) -> Drawing:
        """The backing as it is sewn, its top up, from its right side: its seams, and on each patch its name."""
        across = max(patch.x + patch.width for patch in patches)
        down = max(patch.y + patch.height for patch in patches)
        scale = whole_scale((across, down))
        tints = {
            fabric: (RIGHT_SIDE, SECOND_SIDE, PAPER)[index % 3]
            for index, fabric in enumerate(dict.fromkeys(patch.fabric for patch in patches))
        }
        marks: list[Mark] = []
        beside: list[tuple[Point, str]] = []
        for patch, name in zip(patches, names, strict=True):
            left, low = MARGIN + float(patch.x) * scale, 16 + float(patch.y) * scale
            wide, high = float(patch.width) * scale, float(patch.height) * scale
            marks.append(box(left, low, wide, high, fill=tints[patch.fabric], ink=FINE))
            middle = (left + wide / 2, low + high / 2)
            if wide >= text_width(name, _NAME, bold=True) + 4 and high >= _NAME + 2:
                at = (middle[0], middle[1] - _NAME / 3)
                marks.append(Words(said=name, at=at, size=_NAME, bold=True, anchor=Anchor.MIDDLE))
            else:
                beside.append((middle, name))
        wide, high = float(across) * scale, float(down) * scale
        marks.append(box(MARGIN, 16, wide, high, ink=CUT))
        y = math.inf
        for middle, name in sorted(beside, key=lambda one: -one[0][1]):
            y = min(middle[1], y - _NAME)
            marks += leader((MARGIN + wide + 12, y), middle, name)
        marks += dimension((MARGIN, 8), (MARGIN + wide, 8), self._size(across), off=-8)
        marks += dimension((MARGIN - 8, 16), (MARGIN - 8, 16 + high), self._size(down))
        return self._fitted(marks, layered.BACKING_SEWN)

    def layers(self, top: Extent, batting: Extent, backing: Extent) -> Drawing:
        """Backing, batting and top one on the other, in the middle, to scale."""
        scale = whole_scale(backing)
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
        """The middle of the top with safety pins `spacing` apart, and arrows outward; below it one of them enlarged,
        in the layers cut across."""
        step = 31.0
        wide, high, low = 5.2 * step, 3.15 * step, 36.0
        middle = (wide / 2, low + high / 2)
        marks: list[Mark] = [*right_side(corners_at((0, low), wide, high))]
        for column in range(-2, 3):
            for row in range(-1, 2):
                marks += safety_pin((middle[0] + column * step - SAFETY_PIN / 2, middle[1] + row * step))
        for x, y in ((-1, 0), (1, 0), (0, 1), (0, -1)):
            start = (middle[0] + 10 * x, middle[1] + 8 * y)
            marks += arrow(start, (middle[0] + 21 * x, middle[1] + 22 * y), BOLD)
        level = middle[1] - step - 6
        marks += dimension((middle[0], level), (middle[0] + step, level), self._about(spacing), off=-8)
        marks += _pinned(wide)
        return self._fitted(marks, layered.BASTED_SEEN)

    # Trimming

    def squared(self, from_seam: Fraction | None) -> Drawing:
        """A ruler on a corner: the last seam, the cut `from_seam` outside of it, and what is cut off."""
        wide, high, corner = 216.0, 150.0, (166.0, 112.0)
        x, y = corner
        marks: list[Mark] = [*_cut_off(corner, (wide, high))]
        marks.append(line(((0, high), (wide, high), (wide, 0)), FINE))
        marks.append(box(0, 0, x, y, fill=RIGHT_SIDE))
        marks.append(Words(said=said.OUTSIDE, at=(6, y + 14), size=SMALL, ground=PAPER))
        deep = 0.0 if from_seam is None else 44.0
        if from_seam is not None:
            marks.append(seam(((0, y - deep), (x - deep, y - deep), (x - deep, 0))))
        marks += self._ruler(corner, 96.0)
        marks.append(line(((0, y), (x, y), (x, 0)), CUT))
        marks += blade((x - 60, y))
        if from_seam is not None:
            words = Words(
                said=self._size(from_seam), at=(23, y - deep / 2 - 3), size=SMALL, ground=RIGHT_SIDE
            )
            marks += (*span((18, y - deep), (18, y)), words)
        return self._fitted(marks, said.SQUARE_SEEN)

    def measured_out(self, trimmed: Extent) -> Drawing:
        """The quilt to scale: its thread-marked center, and how far the cuts are from it."""
        scale = whole_scale(trimmed)
        wide, high, over = float(trimmed[0]) * scale, float(trimmed[1]) * scale, 12.0
        marks: list[Mark] = [box(-over, -over, wide + 2 * over, high + 2 * over, fill=BATTING, ink=FINE)]
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
                size=SMALL,
                anchor=Anchor.MIDDLE,
                ground=RIGHT_SIDE,
            )
            marks.append(words)
        for end in ((x, high), (x, 0.0)):
            marks += span((x, y + (7 if end[1] > y else -7)), end)
            words = Words(
                said=self._size(trimmed[1] / 2),
                at=(x + 4, (y + end[1]) / 2 - 3),
                size=SMALL,
                ground=RIGHT_SIDE,
            )
            marks.append(words)
        marks += blade((wide * 0.8, high))
        return self._fitted(marks, said.MEASURED_SEEN)

    @staticmethod
    def _ruler(corner: Point, side: float) -> Iterator[Mark]:
        """A square ruler with its corner at `corner`, lying inside, with lines every eleventh of it."""
        x, y = corner
        yield box(x - side, y - side, side, side, ink=CUT)
        for index in range(1, 9):
            off = index * side / 9
            long = 8 if index % 4 else 14
            yield line(((x - off, y), (x - off, y - long)), HAIR)
            yield line(((x, y - off), (x - long, y - off)), HAIR)
        yield Words(said=said.RULER, at=(x - side + 6, y - side + 6), size=SMALL)

    # Label

    def label(self, trimmed: Extent) -> Drawing:
        """The back of the bound quilt with its label in a lower corner, to scale."""
        scale = whole_scale(trimmed)
        wide, high = float(trimmed[0]) * scale, float(trimmed[1]) * scale
        share = min(1.0, wide / 2 / (_LABEL[0] * scale), high / 2 / (_LABEL[1] * scale))
        across, up = (length * scale * share for length in _LABEL)
        marks: list[Mark] = [*right_side(corners_at((0, 0), wide, high))]
        marks.append(box(3, 3, wide - 6, high - 6, ink=FINE))
        marks.append(box(wide - 3 - across - 4, 7, across, up, fill=PAPER, ink=CUT))
        marks += leader((wide + 10, 7 + up / 2), (wide - 7 - across / 2, 7 + up / 2), said.LABEL)
        marks.append(Words(said=said.BACK_SEEN, at=(wide / 2, high * 0.62), size=SMALL, anchor=Anchor.MIDDLE))
        return self._fitted(marks, said.LABEL_SEEN)


def _cut_off(corner: Point, size: Point) -> Iterator[Mark]:
    """What lies outside of `corner` as far as `size`: white with slanting lines, so that it is the lightest in gray."""
    (x, y), (wide, high) = corner, size
    outside = shapely.box(0, 0, wide, high).difference(shapely.box(0, 0, x, y))
    for step in range(1, math.ceil((wide + high) / _HATCH)):
        slant = shapely.LineString(((step * _HATCH, 0.0), (step * _HATCH - high, high)))
        for part in shapely.get_parts(slant.intersection(outside)):
            if part.length:
                yield line([(float(a), float(b)) for a, b in part.coords], HAIR)


def _frame(middle: Point, size: Extent, scale: float) -> tuple[Point, ...]:
    """The corners of a rectangle of `size` inches around `middle`."""
    wide, high = float(size[0]) * scale, float(size[1]) * scale
    return corners_at((middle[0] - wide / 2, middle[1] - high / 2), wide, high)


def _pinned(wide: float) -> Iterator[Mark]:
    """The three layers cut across at the foot of a drawing, with a curved safety pin through all of them."""
    for low, high, fill, ink in ((0, 3, RIGHT_SIDE, FINE), (3, 9, BATTING, HAIR), (12, 3, RIGHT_SIDE, FINE)):
        yield box(0.0, low, wide, high, fill=fill, ink=ink)
    middle, reach = wide / 2, 30.0
    left, right = (middle - reach, 22.0), (middle + reach, 22.0)
    below = ((middle - 14, -8.0), (middle + 14, -8.0), right)
    yield Shape(outline=Outline(contours=(Contour(start=left, segments=(below,)),)), ink=CUT, open=True)
    above = ((middle - reach / 2, 29.0), (middle + reach / 2, 29.0), right)
    yield Shape(outline=Outline(contours=(Contour(start=left, segments=(above,)),)), ink=CUT, open=True)
    yield disc(left, 3.0, fill=PAPER, ink=CUT)
    yield box(right[0] - 2, right[1] - 4, 7, 8, fill=INK, ink=None)
