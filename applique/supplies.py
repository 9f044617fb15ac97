"""What a fabric is cut from: how wide it is, what of it is in the stash, and what may be bought. Exact inches."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from applique.cutting import Preference, Supply
from applique.design import Fabric, Yardage
from applique.units import Units

__all__ = [
    "BOUGHT",
    "SOLD_WIDE",
    "USUAL_WIDTH",
    "bolt_of",
    "held_key",
    "plan_of",
    "supplies_of",
    "usable_width",
]

BOUGHT: Final = "bought"
"""The key of the supply that is bought by the length."""
USUAL_WIDTH: Final = Fraction(40)
"""Inches between the selvages that much quilting cotton has, and no more: common practice, no source."""
SOLD_WIDE: Final = Fraction(48)
"""Inches beyond which a fabric is one that is sold wide, such as for backs."""


def usable_width(fabric: Fabric, yardage: Yardage) -> Fraction:
    """The width to cut from after washing, between the selvages.

    A stated usable width is that already; a sold width loses what washing takes.

    Source:
        Fabric shrinks in both directions: common practice, docs/sources.md, shrinkage.
    """
    if fabric.sold_width is None:
        return fabric.usable_width
    return fabric.sold_width * (1 - yardage.shrinkage)


def plan_of(fabric: Fabric, yardage: Yardage) -> Preference:
    """What the maker wants of the plan of this fabric: its own wish, or that for all."""
    return fabric.plan or yardage.plan


def held_key(number: int) -> str:
    """The key of what stands at place `number`, from 1, of what the maker has of a fabric."""
    return f"have {number}"


def supplies_of(fabric: Fabric, yardage: Yardage, units: Units) -> tuple[Supply, ...]:
    """What the maker has of `fabric`, one supply for each thing she named, in her order, after washing.

    Lengths and pieces are squared up at both cut ends as the table says; strips and squares that were sold cut are
    neither washed nor squared up, and as they are strips across, their `length` is what makers call the strip's width.
    What she says was washed before loses nothing more.
    """
    width = usable_width(fabric, yardage)
    supplies = []
    for number, held in enumerate(fabric.have, 1):
        kept = 1 if held.washed or held.is_cut_ready else 1 - yardage.shrinkage
        supplies.append(
            Supply(
                key=held_key(number),
                width=width if held.width is None else held.width * kept,
                length=held.length * kept,
                count=held.count,
                squaring=Fraction(0) if held.is_cut_ready else yardage.squared_off(units),
            )
        )
    return tuple(supplies)


def bolt_of(fabric: Fabric, yardage: Yardage, units: Units) -> Supply:
    """What may be bought of `fabric`, by the length."""
    return Supply(
        key=BOUGHT,
        width=usable_width(fabric, yardage),
        length=None,
        count=1,
        squaring=yardage.squared_off(units),
    )
