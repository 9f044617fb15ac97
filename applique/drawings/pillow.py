"""The back of a pillow drawn: its halves hemmed or with a zipper, laid on the front, and turned.

Frame of a drawing: points, y up, in the proportions of the pillow. An upright opening is drawn upright.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.drawings.measured import MARGIN, Measured, corners_at, whole_scale
from applique.drawings.values import BOLD, CUT, FINE, Drawing, Mark, Shape, line, path
from applique.drawings.vocabulary import LEFT_OVER, dimension, fold, leader, right_side, seam, wrong_side
from applique.geometry.points import Point
from applique.quilt.pillow import PillowPlan
from applique.quilt.strips import Extent
from applique.words.instructions import pillow as said

__all__ = ["PillowBacks"]

_APART: Final = 34.0
_TAPE: Final = 7.0
"""Points across the tape of a zipper."""


class PillowBacks(Measured):
    """The back of a pillow, for one set of instructions."""

    def hemmed(self, plan: PillowPlan) -> Drawing:
        """A half from its wrong side with the two folds of its hem, and beside it that hem sewn."""
        scale = whole_scale((plan.long, plan.long))
        long, deep, hem = (float(side) * scale for side in (plan.long, plan.deep, plan.hem))
        done = float(plan.hemmed) * scale
        hem = max(hem, 5.0)
        low = 14.0
        marks: list[Mark] = [*wrong_side(self._laid(plan, (MARGIN, low), (0, 0, long, deep)))]
        marks += (
            fold(self._line(plan, (MARGIN, low), ((0, deep - off), (long, deep - off))))
            for off in (hem, 2 * hem)
        )
        width, height = self._turn(plan, (long, deep))
        marks += dimension((MARGIN - 8, low), (MARGIN - 8, low + height), self._size_of(plan, down=True))
        marks += dimension(
            (MARGIN, low - 6), (MARGIN + width, low - 6), self._size_of(plan, down=False), off=-9
        )
        corner = (MARGIN + width + _APART, low)
        marks += wrong_side(self._laid(plan, corner, (0, 0, long, done)))
        marks += right_side(self._laid(plan, corner, (0, done - hem, long, hem)))
        marks.append(seam(self._line(plan, corner, ((0, done - hem + 1.5), (long, done - hem + 1.5)))))
        x, y = self._point(plan, corner, (long * 0.8, done - hem / 2))
        right = corner[0] + self._turn(plan, (long, done))[0]
        marks += leader((right + 10, y), (x, y), said.HEM)
        return self._fitted(marks, said.HALVES_SEEN)

    def zipped(self, plan: PillowPlan, zipper: Fraction) -> Drawing:
        """The back from its wrong side, the zipper over its seam and what is sewn shut beside it."""
        across = 2 * plan.hemmed
        scale = whole_scale((plan.long, plan.long))
        long, deep, zip_long = (float(side) * scale for side in (plan.long, across, zipper))
        end = (long - zip_long) / 2
        corner = (MARGIN, 0.0)
        marks: list[Mark] = [*wrong_side(self._laid(plan, corner, (0, 0, long, deep)))]
        marks.append(line(self._line(plan, corner, ((0, deep / 2), (long, deep / 2))), CUT))
        marks += self._zipper(plan, corner, (end, deep / 2, zip_long))
        for off in (-_TAPE / 2, _TAPE / 2):
            marks.append(
                seam(
                    self._line(
                        plan, corner, ((end, deep / 2 + off * 0.7), (end + zip_long, deep / 2 + off * 0.7))
                    )
                )
            )
        right = MARGIN + self._turn(plan, (long, deep))[0]
        x, y = self._point(plan, corner, (long - end / 2, deep / 2))
        marks += leader((right + 10, y + 12), (x, y), said.closed_said(plan, self.units))
        return self._fitted(marks, said.ZIPPER_SEEN)

    def laid(self, plan: PillowPlan, front: Extent, allowance: Fraction) -> Drawing:
        """The back on the front, wrong side up, with the seam around them."""
        scale = whole_scale(front)
        long = float(plan.long) * scale
        across = float(front[0] if plan.upright else front[1]) * scale
        corner = (MARGIN, 0.0)
        marks: list[Mark] = []
        width, height = self._turn(plan, (long, across))
        if plan.zipper is None:
            done, hem = float(plan.hemmed) * scale, max(float(plan.hem) * scale, 3.0)
            for low in (0.0, across - done):
                marks += wrong_side(self._laid(plan, corner, (0, low, long, done)))
                inner = done - hem if not low else low + hem
                marks.append(seam(self._line(plan, corner, ((0, inner), (long, inner)))))
            lap = float(plan.overlap) * scale
            middle = across / 2
            start, stop = ((long + 8, middle - lap / 2), (long + 8, middle + lap / 2))
            ends = self._line(plan, corner, (start, stop))
            foot, head = ends if plan.upright else ends[::-1]
            marks += dimension(foot, head, self._size(plan.overlap))
        else:
            marks += wrong_side(self._laid(plan, corner, (0, 0, long, across)))
            marks.append(line(self._line(plan, corner, ((0, across / 2), (long, across / 2))), CUT))
            zipper = float(plan.zipper) * scale
            marks += self._zipper(plan, corner, ((long - zipper) / 2, across / 2, zipper))
        off = max(float(allowance) * scale, 3.0)
        around = corners_at((MARGIN + off, off), width - 2 * off, height - 2 * off)
        marks.append(line((*around, around[0]), BOLD))
        return self._fitted(marks, said.LAID_SEEN if plan.zipper is None else said.ZIPPER_LAID)

    def turned(self, plan: PillowPlan, finished: Extent) -> Drawing:
        """The cover from its back, its opening across it."""
        scale = whole_scale(finished)
        width, height = (float(side) * scale for side in finished)
        long, across = (height, width) if plan.upright else (width, height)
        corner = (MARGIN, 0.0)
        marks: list[Mark] = [*right_side(corners_at(corner, width, height))]
        lap = 0.0 if plan.zipper is not None else float(plan.overlap) * scale / 2
        marks.append(line(self._line(plan, corner, ((0, across / 2 - lap), (long, across / 2 - lap))), CUT))
        if plan.zipper is not None:
            zipper = float(plan.zipper) * scale
            around = self._laid(plan, corner, ((long - zipper) / 2, across / 2 - 1.5, zipper, 3.0))
            marks.append(Shape(outline=path(around), fill=LEFT_OVER, ink=FINE))
        x, y = self._point(plan, corner, (long * 0.75, across / 2 - lap))
        marks += leader((MARGIN + width + 10, y), (x, y), said.OPENING)
        return self._fitted(marks, said.TURNED_SEEN)

    def _zipper(self, plan: PillowPlan, corner: Point, at: tuple[float, float, float]) -> Iterator[Mark]:
        """A zipper from `at`, so long, on its tape."""
        x, y, long = at
        yield Shape(
            outline=path(self._laid(plan, corner, (x, y - _TAPE / 2, long, _TAPE))), fill=LEFT_OVER, ink=FINE
        )
        yield line(self._line(plan, corner, ((x, y), (x + long, y))), BOLD)

    def _size_of(self, plan: PillowPlan, *, down: bool) -> str:
        """What a cut half measures down or across the drawing."""
        return self._size(plan.deep if down is not plan.upright else plan.long)

    @staticmethod
    def _turn(plan: PillowPlan, size: Point) -> Point:
        """A length along the opening and one across it, as width and height of the drawing."""
        return (size[1], size[0]) if plan.upright else size

    def _point(self, plan: PillowPlan, corner: Point, at: Point) -> Point:
        x, y = self._turn(plan, at)
        return corner[0] + x, corner[1] + y

    def _line(self, plan: PillowPlan, corner: Point, ends: Sequence[Point]) -> tuple[Point, ...]:
        return tuple(self._point(plan, corner, end) for end in ends)

    def _laid(
        self, plan: PillowPlan, corner: Point, room: tuple[float, float, float, float]
    ) -> tuple[Point, ...]:
        """The corners of a rectangle that begins so far along the opening and across it, and is so long and so deep."""
        x, y, long, deep = room
        left, low = self._point(plan, corner, (x, y))
        return corners_at((left, low), *self._turn(plan, (long, deep)))
