"""The cuts that a shop has ready, as cloth to plan with: which are worth a look instead of yardage. Exact inches."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final

from applique.cutting import Supply
from applique.design import Fabric, Held, HeldKind, Turns, Yardage
from applique.supplies import supplies_of
from applique.units import Units

__all__ = ["Precut", "PrecutKind", "precuts_near"]

_DEARER: Final = Fraction(5, 4)
"""A precut of more than this much of the area that yardage would take is no saving: common practice, no source."""


class PrecutKind(StrEnum):
    """A cut that a shop has ready."""

    FAT_EIGHTH = "fat eighth"
    FAT_QUARTER = "fat quarter"
    STRIP_ROLL = "strip roll"
    SMALL_SQUARES = "pack of 5 in squares"
    LARGE_SQUARES = "pack of 10 in squares"


@dataclass(frozen=True, slots=True, kw_only=True)
class Precut:
    """So many cuts of one kind that a shop has ready."""

    kind: PrecutKind
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sold:
    """One cut as it is sold: so many pieces of `length` along the selvage by a usable `width`, up to `most` of it."""

    kind: PrecutKind
    held: HeldKind
    pieces: int
    length: Fraction
    width: Fraction | None
    most: int


_CM: Final = Fraction(50, 127)
_INCHES: Final = (
    _Sold(
        kind=PrecutKind.FAT_EIGHTH,
        held=HeldKind.PIECE,
        pieces=1,
        length=Fraction(9),
        width=Fraction(21),
        most=1,
    ),
    _Sold(
        kind=PrecutKind.FAT_QUARTER,
        held=HeldKind.PIECE,
        pieces=1,
        length=Fraction(18),
        width=Fraction(21),
        most=4,
    ),
    _Sold(
        kind=PrecutKind.SMALL_SQUARES,
        held=HeldKind.SQUARES,
        pieces=42,
        length=Fraction(5),
        width=Fraction(5),
        most=1,
    ),
    _Sold(
        kind=PrecutKind.STRIP_ROLL,
        held=HeldKind.STRIPS,
        pieces=40,
        length=Fraction(5, 2),
        width=None,
        most=1,
    ),
    _Sold(
        kind=PrecutKind.LARGE_SQUARES,
        held=HeldKind.SQUARES,
        pieces=42,
        length=Fraction(10),
        width=Fraction(10),
        most=1,
    ),
)
"""Sizes and counts: common practice, docs/sources.md, precuts; no more than four fat quarters: common practice, no
source."""
_METRIC: Final = (
    _Sold(
        kind=PrecutKind.FAT_QUARTER,
        held=HeldKind.PIECE,
        pieces=1,
        length=50 * _CM,
        width=53 * _CM,
        most=4,
    ),
)
"""Sold as 50 by 55 cm: common practice, no source."""
_ASSORTED: Final = (HeldKind.STRIPS, HeldKind.SQUARES)
"""What is in a roll or a pack lies every way in it."""


def precuts_near(
    fabric: Fabric, yardage: Yardage, units: Units, *, needed: float, bought: Fraction
) -> Iterator[tuple[Precut, Supply]]:
    """Precuts with room for `needed` square inches that are not dearer than the `bought` ones, smallest first.

    Each with the cloth that is in it, whose key says what it is. A one-way print is offered in no roll or pack.
    """
    found = []
    for sold in _INCHES if units is Units.INCHES else _METRIC:
        if fabric.turns is Turns.UPRIGHT and sold.held in _ASSORTED:
            continue
        for count in range(1, sold.most + 1):
            precut = Precut(kind=sold.kind, count=count)
            held = Held(
                words="",
                kind=sold.held,
                count=count * sold.pieces,
                length=sold.length,
                width=sold.width,
                washed=False,
            )
            (supply,) = supplies_of(replace(fabric, have=(held,)), yardage, units)
            room = count * sold.pieces * sold.length * supply.width
            if needed <= room <= _DEARER * bought:
                found.append((room, precut, replace(supply, key=sold.kind.value)))
    yield from ((precut, supply) for _, precut, supply in sorted(found, key=lambda one: one[0]))
