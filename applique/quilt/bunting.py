"""Panels hung from one tape: how long it is, and where each hangs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from applique.design import Bunting
from applique.units import MM_PER_INCH, Units

__all__ = ["TapePlan", "plan_tape"]

_SPACING: Final = MappingProxyType({Units.INCHES: Fraction(2), Units.CENTIMETERS: 50 / MM_PER_INCH})
_TAIL: Final = MappingProxyType({Units.INCHES: Fraction(20), Units.CENTIMETERS: 500 / MM_PER_INCH})
_WIDE: Final = MappingProxyType({Units.INCHES: Fraction(1), Units.CENTIMETERS: 25 / MM_PER_INCH})


@dataclass(frozen=True, slots=True, kw_only=True)
class TapePlan:
    """The tape that `count` panels hang from: exact inches, `width` before it is folded in half along its length."""

    count: int
    length: Fraction
    width: Fraction
    spacing: Fraction
    tail: Fraction


def plan_tape(
    bunting: Bunting, panels: Sequence[tuple[Fraction, int]], seam_allowance: Fraction, units: Units
) -> TapePlan:
    """The tape for panels of such finished widths, each so many times.

    Folded in half it holds the seam allowance at the top of every panel.

    Source:
        The widths, a spacing less than there are panels, and two tails: added up. 2 in between panels, 20 in at either
        end to tie it up, 1 in wide: common practice, no source.
    """
    count = sum(made for _, made in panels)
    spacing = _SPACING[units] if bunting.spacing is None else bunting.spacing
    tail = _TAIL[units] if bunting.tail is None else bunting.tail
    widths = sum((width * made for width, made in panels), Fraction(0))
    return TapePlan(
        count=count,
        length=widths + (count - 1) * spacing + 2 * tail,
        width=max(_WIDE[units], 2 * seam_allowance),
        spacing=spacing,
        tail=tail,
    )
