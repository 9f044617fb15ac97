"""What is too small to cut and sew, by method and stitch, each limit with its reason. Lengths are inches."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import Method, Sewing, Stitch
from applique.sewing.stitches import RowStitch
from applique.units import MM_PER_INCH

__all__ = ["Limit", "Limits", "limits_for", "method_limits", "stitch_width_range"]

_MM: Final = 1 / MM_PER_INCH
_BETWEEN_STITCHES: Final = _MM
"""Clear room between two lines of stitching: gaps of 0.5 to 1 mm: published, docs/sources.md, satin columns."""
_OPEN_COUNTER: Final = Fraction(9, 10) * _MM
"""A counter stays open from 0.9 mm: published, docs/sources.md, satin columns."""
_SATIN: Final = (_MM, 7 * _MM)
"""A satin column is at least 1 mm and at most 7 to 10 mm wide: published, docs/sources.md, satin columns."""
_HAND: Final = "to cut with scissors (common practice)"
_BLADE: Final = "to cut with a machine's blade (common practice)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """The least that passes, and why."""

    least: Fraction
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The limits of one row. `point` is in degrees; holes of an outline layer narrower than `hole` are filled."""

    stroke: Limit
    counter: Limit
    hole: Limit
    slot: Limit
    clear: Limit
    seam: Limit
    point: Limit


def limits_for(sewing: Sewing, stitch: RowStitch) -> Limits:
    """The limits that `sewing` states, and for the rest the greater of what method and stitch ask for.

    Source:
        Scissors want strokes of 1/4 in: common practice. A stroke exceeds twice the inward bite of the stitch:
        geometry. A turned edge needs its turn-under twice, once from each side: geometry; turn-under 3/16 to
        1/4 in: published, docs/sources.md, turn-under. Counters, slots and holes for scissors and blades: common
        practice, no source.
    """
    method = method_limits(sewing)
    bite, outside = 2 * stitch.bite, 2 * stitch.outside
    stitched = f"for the {stitch.stitch} stitch on both sides"
    open_counter = Limit(least=outside + _OPEN_COUNTER, why=stitched)
    counter = _limit(sewing.least_counter, method.counter, open_counter)
    return Limits(
        stroke=_limit(sewing.least_stroke, method.stroke, Limit(least=bite, why=stitched)),
        counter=counter,
        hole=min(counter, _limit(None, method.hole, open_counter), key=lambda limit: limit.least),
        slot=_limit(sewing.least_slot, method.slot, Limit(least=outside + _BETWEEN_STITCHES, why=stitched)),
        clear=_limit(
            sewing.least_clear, method.clear, Limit(least=outside + _BETWEEN_STITCHES, why=stitched)
        ),
        seam=_limit(
            sewing.least_seam, method.seam, Limit(least=stitch.outside + 3 * _MM, why="for the presser foot")
        ),
        point=method.point
        if sewing.least_point is None
        else Limit(least=Fraction(sewing.least_point), why="as the design says"),
    )


def stitch_width_range(stitch: Stitch) -> tuple[Fraction, Fraction] | None:
    """The least and the greatest width of a stitch that holds and does not snag; None where any will do."""
    return _SATIN if stitch is Stitch.SATIN else None


def method_limits(sewing: Sewing) -> Limits:
    """The limits of the method alone, whatever the stitch."""
    half = Limit(least=Fraction(1, 2), why="to keep clear of the seam (common practice)")
    if sewing.method is Method.TURNED_EDGE:
        twice = Limit(least=2 * sewing.turn_under, why="for the turn-under from both sides")
        return Limits(
            stroke=twice,
            counter=twice,
            hole=twice,
            slot=twice,
            clear=Limit(least=Fraction(1, 16), why="between folds (common practice)"),
            seam=half,
            point=Limit(least=Fraction(40), why="to fold the turn-under away (common practice)"),
        )
    hand = sewing.method is Method.RAW_EDGE
    why = _HAND if hand else _BLADE
    counter = Limit(least=Fraction(1, 4) if hand else Fraction(1, 8), why=why)
    return Limits(
        stroke=Limit(least=Fraction(1, 4) if hand else Fraction(1, 8), why=why),
        counter=counter,
        hole=counter,
        slot=Limit(least=Fraction(1, 8) if hand else Fraction(1, 16), why=why),
        clear=Limit(least=Fraction(1, 16), why="between raw edges (common practice)"),
        seam=half,
        point=Limit(
            least=Fraction(20) if hand else Fraction(15), why="before a tip frays away (common practice)"
        ),
    )


def _limit(stated: Fraction | None, method: Limit, stitch: Limit) -> Limit:
    if stated is not None:
        return Limit(least=stated, why="as the design says")
    return max(method, stitch, key=lambda limit: limit.least)
