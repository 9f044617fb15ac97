"""What is too small to cut and sew, by method and stitch, each limit with its reason. Lengths are inches."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

from applique.design import Method, Sewing, Stitch
from applique.sewing.stitches import EdgeStitch
from applique.units import MM_PER_INCH

__all__ = ["Limit", "LimitReason", "Limits", "limits_for", "method_limits", "stitch_width_range"]

_MM: Final = 1 / MM_PER_INCH
_BETWEEN_STITCHES: Final = _MM
"""Clear room between two lines of stitching: gaps of 0.5 to 1 mm: published, docs/sources.md, satin columns."""
_OPEN_COUNTER: Final = Fraction(9, 10) * _MM
"""A counter stays open from 0.9 mm: published, docs/sources.md, satin columns."""
_SATIN: Final = (_MM, 7 * _MM)
"""A satin column is at least 1 mm and at most 7 to 10 mm wide: published, docs/sources.md, satin columns."""


class LimitReason(StrEnum):
    """What asks for a limit; all but the design, the stitch, the turn-under and the foot are common practice."""

    STATED = "the design"
    SCISSORS = "scissors"
    BLADE = "blade"
    STITCH = "stitch on both sides"
    FOOT = "presser foot"
    SEAM = "clear of the seam"
    TURN_UNDER = "turn-under from both sides"
    FOLDS = "between folds"
    FOLDING = "to fold a point"
    RAW_EDGES = "between raw edges"
    FRAYING = "a tip that frays"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """The least that passes, and why; `stitch` is the one that asks for it, where a stitch does."""

    least: Fraction
    reason: LimitReason
    stitch: Stitch | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The limits of one row, or other piece.

    `point` is in degrees; holes of an outline layer narrower than `hole` are filled.
    """

    stroke: Limit
    counter: Limit
    hole: Limit
    slot: Limit
    clear: Limit
    seam: Limit
    point: Limit


def limits_for(sewing: Sewing, stitch: EdgeStitch) -> Limits:
    """The limits that `sewing` states, and for the rest the greater of what method and stitch ask for.

    Source:
        Scissors want strokes of 1/4 in: common practice. A stroke exceeds twice the inward bite of the stitch:
        geometry. A turned edge needs its turn-under twice, once from each side: geometry; turn-under 3/16 to
        1/4 in: published, docs/sources.md, turn-under. Counters, slots and holes for scissors and blades: common
        practice, no source.
    """
    method = method_limits(sewing)
    bite, outside = 2 * stitch.bite, 2 * stitch.outside

    def stitched(least: Fraction) -> Limit:
        return Limit(least=least, reason=LimitReason.STITCH, stitch=stitch.stitch)

    open_counter = stitched(outside + _OPEN_COUNTER)
    counter = _limit(sewing.least_counter, method.counter, open_counter)
    return Limits(
        stroke=_limit(sewing.least_stroke, method.stroke, stitched(bite)),
        counter=counter,
        hole=min(counter, _limit(None, method.hole, open_counter), key=lambda limit: limit.least),
        slot=_limit(sewing.least_slot, method.slot, stitched(outside + _BETWEEN_STITCHES)),
        clear=_limit(sewing.least_clear, method.clear, stitched(outside + _BETWEEN_STITCHES)),
        seam=_limit(
            sewing.least_seam,
            method.seam,
            Limit(least=stitch.outside + 3 * _MM, reason=LimitReason.FOOT),
        ),
        point=method.point
        if sewing.least_point is None
        else Limit(least=Fraction(sewing.least_point), reason=LimitReason.STATED),
    )


def stitch_width_range(stitch: Stitch) -> tuple[Fraction, Fraction] | None:
    """The least and the greatest width of a stitch that holds and does not snag; None where any will do."""
    return _SATIN if stitch is Stitch.SATIN else None


def method_limits(sewing: Sewing) -> Limits:
    """The limits of the method alone, whatever the stitch."""
    half = Limit(least=Fraction(1, 2), reason=LimitReason.SEAM)
    if sewing.method is Method.TURNED_EDGE:
        twice = Limit(least=2 * sewing.turn_under, reason=LimitReason.TURN_UNDER)
        return Limits(
            stroke=twice,
            counter=twice,
            hole=twice,
            slot=twice,
            clear=Limit(least=Fraction(1, 16), reason=LimitReason.FOLDS),
            seam=half,
            point=Limit(least=Fraction(40), reason=LimitReason.FOLDING),
        )
    hand = sewing.method is Method.RAW_EDGE
    reason = LimitReason.SCISSORS if hand else LimitReason.BLADE
    counter = Limit(least=Fraction(1, 4) if hand else Fraction(1, 8), reason=reason)
    return Limits(
        stroke=Limit(least=Fraction(1, 4) if hand else Fraction(1, 8), reason=reason),
        counter=counter,
        hole=counter,
        slot=Limit(least=Fraction(1, 8) if hand else Fraction(1, 16), reason=reason),
        clear=Limit(least=Fraction(1, 16), reason=LimitReason.RAW_EDGES),
        seam=half,
        point=Limit(least=Fraction(20) if hand else Fraction(15), reason=LimitReason.FRAYING),
    )


def _limit(stated: Fraction | None, method: Limit, stitch: Limit) -> Limit:
    if stated is not None:
        return Limit(least=stated, reason=LimitReason.STATED)
    return max(method, stitch, key=lambda limit: limit.least)
