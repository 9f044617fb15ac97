"""Sizes near the maker's at which a border of pieces comes out even."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from applique.design import BorderKind, First
from applique.quilt.borders.values import EvenOffer
from applique.quilt.borders.work import BorderWork
from applique.units import MM_PER_INCH, Units

__all__ = ["common_measure", "even_rectangles"]

_STEPS: Final = {Units.INCHES: Fraction(1, 8), Units.CENTIMETERS: 1 / Fraction(MM_PER_INCH)}
"""Offered lengths are multiples of 1/8 in or 1 mm, and offered widths differ from the maker's by such."""
_WIDER: Final = Fraction(1)
"""The most that an offered width differs, and no more than half of the maker's."""
_LONGER: Final = Fraction(1, 4)
"""The most that an offered length differs, as a part of the maker's."""
_MOST: Final = 3


def common_measure(one: Fraction, other: Fraction) -> Fraction:
    """The longest length that divides both whole."""
    return Fraction(
        math.gcd(one.numerator * other.denominator, other.numerator * one.denominator),
        one.denominator * other.denominator,
    )


def even_rectangles(work: BorderWork, width: Fraction, length: Fraction) -> tuple[EvenOffer, ...]:
    """Up to three finished sizes near `width` by `length` that fill all four sides whole, the nearest first.

    Near is the sum of how much each side of a rectangle changes, as a part of what it was.
    """
    step = _STEPS[work.units]
    reach = math.floor(min(_WIDER, width / 2) / step)
    nearest: list[tuple[Fraction, EvenOffer]] = []
    for steps in range(-reach, reach + 1):
        other = width + steps * step
        ways = [
            (abs(other - width) / width + abs(offer.length - length) / length, offer)
            for offer in _of_width(work, other, length)
        ]
        nearest += sorted(ways, key=lambda way: way[0])[:1]
    nearest.sort(key=lambda way: way[0])
    return tuple(offer for _, offer in nearest[:_MOST])


def _of_width(work: BorderWork, width: Fraction, length: Fraction) -> Iterator[EvenOffer]:
    across, down = work.before
    if work.border.first is First.SIDES:
        across += 2 * width
    else:
        down += 2 * width
    common, step = common_measure(across, down), _STEPS[work.units]
    fewest = math.ceil(common / (length * (1 + _LONGER)))
    most = math.floor(common / (length * (1 - _LONGER)))
    for parts in range(max(1, fewest), most + 1):
        size = common / parts
        if (size / step).denominator == 1:
            yield EvenOffer(
                kind=BorderKind.RECTANGLES,
                width=width,
                length=size,
                across=int(across / size),
                down=int(down / size),
            )
