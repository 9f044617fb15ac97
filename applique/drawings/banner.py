"""The front of a banner drawn: what it hangs by along its top, and the seam around, to scale.

Frame of a drawing: points, y up.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from applique.drawings.measured import MARGIN, Measured, corners_at, whole_scale
from applique.drawings.values import BOLD, FINE, Drawing, Mark, box, line
from applique.drawings.vocabulary import SECOND_SIDE, dimension, leader, right_side
from applique.quilt.whole import QuiltPlan
from applique.words.instructions import banner as said

__all__ = ["BannerFront"]

_LEAST: Final = 2.4
"""Points that a tie is drawn wide at the least, and a seam from its edge."""


class BannerFront(Measured):
    """The front of a banner, for one set of instructions."""

    def around(self, quilt: QuiltPlan, opening: Fraction) -> Drawing:
        """Ties or the sleeve along the top, and the seam around with its opening at the bottom."""
        scale = whole_scale(quilt.trimmed)
        width, height = (float(side) * scale for side in quilt.trimmed)
        seam = max(float(quilt.raw) * scale, _LEAST)
        marks: list[Mark] = [*right_side(corners_at((MARGIN, 0.0), width, height))]
        if quilt.ties is not None:
            wide = max(float(quilt.ties.finished_width) * scale, _LEAST)
            down = min(float(quilt.ties.length) / 2 * scale, height * 0.8)
            start = MARGIN + float(quilt.ties.from_side + quilt.raw) * scale
            places = [start + index * float(quilt.ties.apart) * scale for index in range(quilt.ties.count)]
            for x in places:
                marks.append(box(x - wide / 2, height - down, wide, down, fill=SECOND_SIDE, ink=FINE))
            marks += dimension(
                (places[0], height + 8), (places[1], height + 8), self._about(quilt.ties.apart)
            )
        elif quilt.sleeve is not None:
            long, deep = float(quilt.sleeve.length) * scale, float(quilt.sleeve.cut_depth) / 2 * scale
            left = MARGIN + (width - long) / 2
            marks.append(box(left, height - deep, long, deep, fill=SECOND_SIDE, ink=FINE))
        gap = float(opening) * scale
        middle, right, top = MARGIN + width / 2, MARGIN + width - seam, height - seam
        sewn = (
            (middle - gap / 2, seam),
            (MARGIN + seam, seam),
            (MARGIN + seam, top),
            (right, top),
            (right, seam),
            (middle + gap / 2, seam),
        )
        marks.append(line(sewn, BOLD))
        marks += leader((MARGIN + width + 10, seam + 14), (middle, seam), said.OPENING)
        return self._fitted(marks, said.AROUND_SEEN)
