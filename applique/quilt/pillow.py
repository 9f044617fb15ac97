"""The back of a pillow and what fills it, from the size of its front. Exact inches."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import Pillow, PillowBack
from applique.errors import Problem, Refusal, Where
from applique.language import message
from applique.quilt.strips import Extent
from applique.units import Units, as_size, cutting_step, round_down, round_up

__all__ = ["INSERTS", "Insert", "PillowPlan", "plan_pillow"]

_OVERLAP: Final = {Units.INCHES: Fraction(4), Units.CENTIMETERS: Fraction(1000, 254)}
"""Two halves lie over each other by this much, so that the insert does not show: common practice, no source."""
_HEM: Final = {Units.INCHES: Fraction(1, 2), Units.CENTIMETERS: Fraction(100, 254)}
"""Turned under twice along the opening: common practice, no source."""
_ZIPPER_SEAM: Final = {Units.INCHES: Fraction(1), Units.CENTIMETERS: Fraction(250, 254)}
"""The seam in which a zipper lies: common practice, no source."""
_ZIPPER_STEP: Final = {Units.INCHES: Fraction(1), Units.CENTIMETERS: Fraction(500, 254)}
"""Zippers are sold in whole inches, and by 5 cm: common practice, no source."""
_ZIPPER_SHORTER: Final = {Units.INCHES: Fraction(2), Units.CENTIMETERS: Fraction(500, 254)}
"""A zipper is at least so much shorter than the side that it lies along: common practice, no source."""
_SHORTEST_ZIPPER: Final = {Units.INCHES: Fraction(7), Units.CENTIMETERS: Fraction(1500, 254)}
"""The shortest that is common: common practice, no source."""
_FULLER: Final = {Units.INCHES: Fraction(2), Units.CENTIMETERS: Fraction(500, 254)}
"""An insert may be so much larger than its cover, which is the fuller for it: common practice, no source."""

INSERTS: Final[dict[Units, tuple[tuple[int, int], ...]]] = {
    Units.INCHES: (
        *((side, side) for side in (10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30)),
        *((16, 12), (18, 12), (20, 12), (20, 14), (22, 14), (24, 14), (24, 16), (36, 14)),
        *((26, 20), (30, 20), (36, 20)),
    ),
    Units.CENTIMETERS: (
        *((side, side) for side in (30, 35, 40, 45, 50, 55, 60, 65, 70, 80)),
        *((40, 30), (45, 30), (50, 30), (60, 30), (60, 40), (70, 50), (80, 40), (90, 40)),
    ),
}
"""Sizes that inserts and bed pillows are sold in, long side first, inches and centimeters: from memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Insert:
    """What fills a pillow; one that is not `sold` in a size that suits is sewn to the size of the cover."""

    width: Fraction
    height: Fraction
    sold: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PillowPlan:
    """The two halves of a back, each cut `long` along the opening and `deep` across it.

    The opening runs across the longer side, or across the height of a square; it is `upright` where it runs from top to
    bottom. Halves that overlap are hemmed: `hem` is turned under twice, and they then lie over each other by `overlap`.
    A `zipper` lies in a seam of `hem` on either half, closed by stitching at both of its ends.
    """

    back: PillowBack
    upright: bool
    long: Fraction
    deep: Fraction
    hem: Fraction
    overlap: Fraction
    zipper: Fraction | None
    insert: Insert

    @property
    def hemmed(self) -> Fraction:
        """How deep a half is with its hem sewn, or from its outer edge to the seam with the zipper."""
        return self.deep - (2 * self.hem if self.zipper is None else self.hem)

    @property
    def zipper_end(self) -> Fraction:
        """What is stitched shut at either end of the zipper, raw edge included; 0 without one."""
        return Fraction(0) if self.zipper is None else (self.long - self.zipper) / 2


def plan_pillow(pillow: Pillow, finished: Extent, front: Extent, units: Units) -> PillowPlan:
    """The back of a pillow whose `front` is cut that large and `finished` so.

    Raises:
        Refusal: a front too small for its overlap or for a zipper.
    Source:
        Two halves of half the front each, and half the overlap and the hem more: geometry.
    """
    upright = front[0] > front[1]
    across, long = (front[0], front[1]) if upright else (front[1], front[0])
    step = cutting_step(units)
    insert = _insert(finished, units)
    if pillow.back is PillowBack.ZIPPER:
        seam = _ZIPPER_SEAM[units]
        room = (finished[1] if upright else finished[0]) - _ZIPPER_SHORTER[units]
        zipper = round_down(room, _ZIPPER_STEP[units])
        if zipper < _SHORTEST_ZIPPER[units]:
            raise _too_small(finished, units)
        return PillowPlan(
            back=pillow.back,
            upright=upright,
            long=long,
            deep=round_up(across / 2 + seam, step),
            hem=seam,
            overlap=Fraction(0),
            zipper=zipper,
            insert=insert,
        )
    asked = _OVERLAP[units] if pillow.overlap is None else pillow.overlap
    if asked > across / 2:
        raise _too_small(finished, units)
    hem = _HEM[units]
    deep = round_up((across + asked) / 2 + 2 * hem, step)
    return PillowPlan(
        back=pillow.back,
        upright=upright,
        long=long,
        deep=deep,
        hem=hem,
        overlap=2 * (deep - 2 * hem) - across,
        zipper=None,
        insert=insert,
    )


def _too_small(finished: Extent, units: Units) -> Refusal:
    return Refusal(
        Problem(
            kind="pillow-too-small",
            what=message(
                "a pillow {width} by {height} is too small for this back",
                width=as_size(finished[0], units),
                height=as_size(finished[1], units),
            ),
            where=Where.key("pillow"),
            fix=message('a smaller overlap, back = "overlapping", or a larger panel'),
        )
    )


def _insert(finished: Extent, units: Units) -> Insert:
    """The smallest that is sold which fills the cover and is not much larger than it; else one of its own size."""
    unit = Fraction(1) if units is Units.INCHES else Fraction(100, 254)
    sizes = [(a * unit, b * unit) for one in INSERTS[units] for a, b in {one, one[::-1]}]
    suits = [
        size
        for size in sizes
        if all(0 <= side - cover <= _FULLER[units] for side, cover in zip(size, finished, strict=True))
    ]
    if not suits:
        return Insert(width=finished[0], height=finished[1], sold=False)
    width, height = min(suits, key=lambda size: (size[0] * size[1], size))
    return Insert(width=width, height=height, sold=True)
