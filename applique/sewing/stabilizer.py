"""Stabilizer under the rows: which kind, how large a piece, and how the pieces are cut from the roll.

Inches.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

from applique.buying import Rule, WashAndSquare
from applique.cutting import CuttingPlan, Lie, Preference, Rectangle, Split, Supply, plan_cutting
from applique.design import Stitch, Weave
from applique.errors import Problem, Refusal, Where
from applique.language import message
from applique.sewing.stitches import EdgeStitch
from applique.units import Units, buying_step, cutting_step, round_up

__all__ = [
    "BORDER",
    "OVERLAP",
    "TRIMMED_TO",
    "Band",
    "Stabilizer",
    "StabilizerKind",
    "StabilizerNeed",
    "StabilizerReason",
    "cut_from_roll",
    "row_stabilizer",
]

OVERLAP: Final = Fraction(1)
"""Inches by which widths that lie side by side under one row overlap: common practice, no source."""
BORDER: Final = 1.0
"""Inches of stabilizer around the letters of a row: common practice, no source."""
TRIMMED_TO: Final = Fraction(1, 4)
"""Inches of cut-away that stay outside the stitching: common practice, no source."""
_EIGHTH: Final = Fraction(1, 8)
"""Sides of pieces are cut to the next 1/8 in, in a metric design to the next millimeter: common practice, no source."""
_NOTHING: Final = WashAndSquare(shrinkage_percent=0, squaring=Fraction(0))
"""Stabilizer is not washed first, and a piece reaches beyond the letters anyway."""
_PLACES: Final = 6
"""Decimals of an inch that a side is measured to, so that the same letters said in metric give the same piece."""


class StabilizerKind(StrEnum):
    """What holds the cloth flat under the stitch."""

    NONE = "none"
    TEAR_AWAY = "tear-away"
    CUT_AWAY = "cut-away"


class StabilizerReason(StrEnum):
    """Why a row has the stabilizer that it has."""

    FIRM = "firm weave"
    STRAIGHT = "straight stitch on a firm weave"
    BATTING = "straight stitch through the batting"
    LOOSE = "loose weave"
    SLIPPERY = "slippery weave"
    STRETCHY = "stretchy weave"


_WEAVES: Final = {
    Weave.LOOSE: StabilizerReason.LOOSE,
    Weave.SLIPPERY: StabilizerReason.SLIPPERY,
    Weave.STRETCHY: StabilizerReason.STRETCHY,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stabilizer:
    """Stabilizer under one row: its kind and why, and a piece `width` along the row by `height` as cut.

    `widths` is how many pieces lie side by side under it, 1 where it is cut whole, and `each` how wide each of them is;
    they are as long as the longer side.
    """

    kind: StabilizerKind
    reason: StabilizerReason
    width: Fraction
    height: Fraction
    widths: int
    each: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What is cut off a roll at once: `length` along it, and the tables whose pieces come out of it."""

    length: Fraction
    tables: tuple[Where, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StabilizerNeed:
    """Stabilizer of one kind from a roll of `roll_width`: how it is cut, and by which rule what is used is bought.

    The keys of the plan count `tables`, the rows and other pieces that it lies under, from 0.
    """

    kind: StabilizerKind
    tables: tuple[Where, ...]
    roll_width: Fraction
    plan: CuttingPlan
    rule: Rule[WashAndSquare]

    @property
    def used(self) -> Fraction:
        """The length of the roll that is cut up."""
        return self.rule.used

    @property
    def buy(self) -> Fraction:
        """The length to buy."""
        return self.rule.buy

    @property
    def bands(self) -> tuple[Band, ...]:
        """The lengths to cut off the roll, in their order."""
        (cloth,) = self.plan.cloths
        whole = cloth.root
        parts = (
            whole.fill.parts if isinstance(whole.fill, Split) and whole.fill.cut is Lie.ACROSS else (whole,)
        )
        return tuple(
            Band(length=part.length, tables=tuple(self.tables[int(piece.key)] for _, piece in part.pieces()))
            for part in parts
        )

    @property
    def pieces(self) -> int:
        """How many pieces are cut."""
        return sum(len(band.tables) for band in self.bands)


def row_stabilizer(
    stitch: EdgeStitch,
    weave: Weave,
    size: tuple[float, float],
    reach: float,
    *,
    layered: bool,
    roll_width: Fraction,
    units: Units,
) -> Stabilizer:
    """What suits stitch and cloth under a row whose ink is of `size`, its outline layer reaching `reach` beyond.

    A straight stitch through a `layered` quilt needs none, whatever the weave: common practice, no source.

    Raises:
        Refusal: a roll no wider than the overlap of two widths, under a row that takes several.
    Source:
        Cut-away stays in and suits dense stitching on slippery or loose cloth, tear-away suits firm wovens
        (published, docs/sources.md, stabilizer).
    """
    kind, reason = StabilizerKind.TEAR_AWAY, StabilizerReason.FIRM
    if stitch.stitch is Stitch.STRAIGHT:
        kind, reason = StabilizerKind.NONE, StabilizerReason.STRAIGHT
    if weave in _WEAVES:
        kind, reason = StabilizerKind.CUT_AWAY, _WEAVES[weave]
        if layered and stitch.stitch is Stitch.STRAIGHT:
            kind, reason = StabilizerKind.NONE, StabilizerReason.BATTING
    border = 2 * (BORDER + reach)
    step = _step(units)
    width, height = (round_up(Fraction(round(side + border, _PLACES)), step) for side in size)
    short = min(width, height)
    widths = 1 if kind is StabilizerKind.NONE else _widths(short, roll_width)
    each = short
    if widths > 1:
        each = min(roll_width, round_up((short + (widths - 1) * OVERLAP) / widths, step))
    return Stabilizer(kind=kind, reason=reason, width=width, height=height, widths=widths, each=each)


def _step(units: Units) -> Fraction:
    """What a piece is cut up to: 1/8 in, or 1 mm."""
    return _EIGHTH if units is Units.INCHES else cutting_step(units)


def _widths(short: Fraction, roll_width: Fraction) -> int:
    if short <= roll_width:
        return 1
    if roll_width <= OVERLAP:
        raise Refusal(
            Problem(
                kind="stabilizer-too-narrow",
                what=message("the roll of stabilizer is no wider than its pieces overlap"),
                where=Where.key("stitching"),
                fix=message('stabilizer_width = "20in"'),
            )
        )
    return math.ceil((short - OVERLAP) / (roll_width - OVERLAP))


def cut_from_roll(
    stabilizers: Sequence[tuple[Where, Stabilizer]], *, roll_width: Fraction, units: Units
) -> tuple[StabilizerNeed, ...]:
    """How the stabilizer of every row or other piece is cut from rolls: one need for each kind that is used.

    Each piece lies either way, whichever takes less of the roll; a piece wider than the roll both ways is made from
    equal widths side by side that overlap by `OVERLAP`.
    """
    roll = Supply(key="roll", width=roll_width, length=None, count=1, squaring=Fraction(0))
    needs = []
    for kind in (StabilizerKind.TEAR_AWAY, StabilizerKind.CUT_AWAY):
        tables = tuple(where for where, under in stabilizers if under.kind is kind)
        held = [under for _, under in stabilizers if under.kind is kind]
        pieces = [_pieces(number, under) for number, under in enumerate(held)]
        if pieces:
            plan = plan_cutting(pieces, [roll], preference=Preference.LEAST_FABRIC, step=_step(units))
            rule = Rule(used=plan.used, extra=_NOTHING, step=buying_step(units))
            needs.append(
                StabilizerNeed(kind=kind, tables=tables, roll_width=roll_width, plan=plan, rule=rule)
            )
    return tuple(needs)


def _pieces(number: int, under: Stabilizer) -> Rectangle:
    """The pieces under a row, the longer side of each along the roll rather than across it."""
    return Rectangle(
        key=str(number),
        length=max(under.width, under.height),
        width=under.each,
        count=under.widths,
        lies=(Lie.ALONG, Lie.ACROSS),
    )
