"""What the planning of every border needs to know, and how many pieces are too many."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import Border, Fabric
from applique.errors import Problem, Refusal, Where
from applique.language import Measure, message
from applique.quilt.edge import Edge
from applique.quilt.strips import Extent
from applique.units import Units, as_size, cut_on_grid, cutting_step, round_near

__all__ = ["BorderWork", "refuse_too_many"]

_MOST_PIECES: Final = 2_000
"""Squares or rectangles of one border; 1 in squares around a king-size quilt are some 450."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderWork:
    """What every border needs to know; `inside` is the edge that it is sewn to."""

    number: int
    border: Border
    inside: Edge
    fabrics: Mapping[str, Fabric]
    seam_allowance: Fraction
    units: Units

    @property
    def before(self) -> Extent:
        """The finished size of the top without it."""
        return self.inside.size

    @property
    def where(self) -> Where:
        """The border, as the design file counts it."""
        return Where.key("border", self.number)

    def usable_width(self, fabric: str) -> Fraction:
        """That of the fabric so named."""
        return self.fabrics[fabric].usable_width

    def sewn(self, finished: Fraction) -> Fraction:
        """The finished size nearest to `finished` that pieces cut to the grid are sewn to."""
        return cut_on_grid(finished, seam_allowance=self.seam_allowance, units=self.units)

    def raw(self, length: Fraction) -> Fraction:
        """A finished length with its two seam allowances."""
        return length + 2 * self.seam_allowance

    def cut(self, length: Fraction) -> Fraction:
        """What a piece of a finished length is cut to: to the nearest step of the grid, where seams lie off it."""
        return round_near(self.raw(length), self.step)

    @property
    def step(self) -> Fraction:
        """What sizes to cut are multiples of."""
        return cutting_step(self.units)

    def said(self, length: Fraction) -> Measure:
        """A length in the units of the design."""
        return as_size(length, self.units)


def refuse_too_many(work: BorderWork, count: Fraction, size: Fraction) -> None:
    """Refuse `count` pieces of the finished `size` where that is more than anybody would sew.

    Raises:
        Refusal: with the number of pieces.
    """
    if count > _MOST_PIECES:
        raise Refusal(
            Problem(
                kind="border-of-too-many-pieces",
                what=message(
                    "pieces of {size} make {count} of them; {most} are the most in one border",
                    size=work.said(size),
                    count=math.ceil(count),
                    most=_MOST_PIECES,
                ),
                where=work.where,
                fix=message("a larger size"),
            )
        )
