"""What a banner hangs by, from its finished width. Exact inches."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import Banner
from applique.errors import Problem, Refusal, Where
from applique.language import message
from applique.units import Units, cutting_step, round_up

__all__ = ["OPENING", "Ties", "plan_ties"]

_TIE_LENGTH: Final = {Units.INCHES: Fraction(18), Units.CENTIMETERS: Fraction(4500, 254)}
_TIE_WIDTH: Final = {Units.INCHES: Fraction(2), Units.CENTIMETERS: Fraction(500, 254)}
"""A tie is cut that long and wide, folded in four and sewn along its edge: common practice, no source."""
_APART: Final = {Units.INCHES: Fraction(10), Units.CENTIMETERS: Fraction(2500, 254)}
"""Ties farther apart than this let the edge between them sag: common practice, no source."""
_FROM_SIDE: Final = {Units.INCHES: Fraction(1), Units.CENTIMETERS: Fraction(250, 254)}
"""The middle of the outer ties lies this far inside the sides: common practice, no source."""
OPENING: Final = {Units.INCHES: Fraction(8), Units.CENTIMETERS: Fraction(2000, 254)}
"""Left open in the bottom edge to turn a banner, or half of that edge where it is short: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ties:
    """`count` ties cut `length` by `width`, folded in half over the top edge; the middle of the outer ones lies
    `from_side` inside the sides, and all are `apart` from middle to middle."""

    count: int
    length: Fraction
    width: Fraction
    from_side: Fraction
    apart: Fraction

    @property
    def finished_width(self) -> Fraction:
        """How wide a tie is, folded in four."""
        return self.width / 4


def plan_ties(banner: Banner, width: Fraction, units: Units) -> Ties:
    """Ties along the top edge of a banner that is `width` wide.

    Raises:
        Refusal: a banner too narrow for two ties.
    """
    span = width - 2 * _FROM_SIDE[units]
    if span < 2 * _TIE_WIDTH[units]:
        raise Refusal(
            Problem(
                kind="banner-too-narrow",
                what=message("the banner is too narrow for two ties"),
                where=Where.key("banner", "hangs_by"),
                fix=message('hangs_by = "sleeve", or a wider panel'),
            )
        )
    gaps = max(1, math.ceil(span / _APART[units]))
    length = _TIE_LENGTH[units] if banner.tie_length is None else banner.tie_length
    return Ties(
        count=gaps + 1,
        length=round_up(length, cutting_step(units)),
        width=_TIE_WIDTH[units],
        from_side=_FROM_SIDE[units],
        apart=span / gaps,
    )
