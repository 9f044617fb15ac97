"""Everything to buy: each fabric by its cutting plan, and each shelf of the shop.

Lengths are exact inches.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

from applique.buying import Rule, WashAndSquare
from applique.cloth import ClothPlan, ClothUse, FabricPlan, UseKind
from applique.cutting import Demand, Supply, plan_cutting
from applique.design import Fabric
from applique.errors import Refusal
from applique.leftovers import LeftoverBacking
from applique.nesting import fits, nest_bins
from applique.quilt.finishing import BattingPlan
from applique.quilt.strips import ClothCut, CutKind
from applique.quilt.whole import QuiltPlan
from applique.sewing.stabilizer import StabilizerNeed
from applique.sewing.threads import ThreadNeed
from applique.units import Units, buying_step
from applique.yardage import StripNeed

__all__ = [
    "FabricBuy",
    "Notion",
    "Precut",
    "PrecutKind",
    "Shelf",
    "ShelfItem",
    "ShelfKind",
    "Shopping",
    "StashShort",
    "plan_shopping",
]

FAT_QUARTER: Final = (Fraction(21), Fraction(18))
"""Usable width and length of a fat quarter sold as 22 by 18 in."""
_QUARTER_YARD: Final = Fraction(9)
_MOST_FAT_QUARTERS: Final = 4
"""More than this many are dearer than yardage: common practice, no source."""
_SMALL: Final = (CutKind.SQUARES, CutKind.CORNERSTONES, CutKind.RECTANGLES)
"""What is cut piece by piece, so that small cloth may hold it."""


class ShelfKind(StrEnum):
    """A shelf of the shop."""

    CLOTH = "cloth"
    WEB = "web"
    STABILIZER = "stabilizer"
    BATTING = "batting"
    THREAD = "thread"
    NOTIONS = "notions"


class PrecutKind(StrEnum):
    """A cut that a shop has ready."""

    FAT_QUARTER = "fat quarter"
    QUARTER_YARD = "quarter yard"


class Notion(StrEnum):
    """The small things that the work takes, whatever the quilt."""

    MARKING_PEN = "marking pen"
    SCISSORS = "scissors"
    PRESS_CLOTH = "press cloth"
    BASTING = "basting"
    NEEDLES = "needles"


@dataclass(frozen=True, slots=True, kw_only=True)
class Precut:
    """So many cuts of one kind that a shop has ready."""

    kind: PrecutKind
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricBuy:
    """One fabric to buy: how it is cut, and a precut that would do."""

    cutting: FabricPlan
    precut: Precut | None

    @property
    def fabric(self) -> Fabric:
        """The fabric."""
        return self.cutting.fabric

    @property
    def uses(self) -> tuple[ClothUse, ...]:
        """What it is for, in the order of need."""
        return self.cutting.uses

    @property
    def rule(self) -> Rule[WashAndSquare]:
        """By which rule what is used becomes what to buy."""
        return self.cutting.rule

    @property
    def used(self) -> Fraction:
        """Inches of what is bought that are cut, between squared ends."""
        return self.rule.used

    @property
    def buy(self) -> Fraction:
        """Inches of fabric to buy."""
        return self.rule.buy


@dataclass(frozen=True, slots=True, kw_only=True)
class StashShort:
    """A fabric of which the maker has less than it takes, and how much `more` of it to buy, in inches."""

    fabric: Fabric
    more: Fraction


ShelfItem: TypeAlias = FabricBuy | StripNeed | StabilizerNeed | BattingPlan | ThreadNeed | Notion
"""A thing on a shelf: cloth, web, stabilizer of one kind, batting, thread, a notion."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What to look for on one shelf of the shop, things of one kind."""

    kind: ShelfKind
    items: tuple[ShelfItem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopping:
    """All to buy. `leftover_backing` is there if the back should come from leftovers, `one_fabric` is what the letters
    would take from a single fabric, if they come from several; `short` are the fabrics with too little in the stash.
    """

    cloth: tuple[FabricBuy, ...]
    shelves: tuple[Shelf, ...]
    leftover_backing: LeftoverBacking | None
    one_fabric: StripNeed | None
    short: tuple[StashShort, ...]

    def use(self, kind: UseKind) -> ClothUse | None:
        """The first use of that kind, if cloth is cut for one."""
        return next((use for buy in self.cloth for use in buy.uses if use.kind is kind), None)


def plan_shopping(
    quilt: QuiltPlan,
    cloth: ClothPlan,
    stabilizers: Sequence[StabilizerNeed],
    threads: Sequence[ThreadNeed],
    *,
    fusible: StripNeed,
    one_fabric: StripNeed | None,
) -> Shopping:
    """Everything the quilt takes, by fabric and by shelf."""
    buys = tuple(FabricBuy(cutting=plan, precut=_precut(plan)) for plan in cloth.fabrics)
    return Shopping(
        cloth=buys,
        shelves=tuple(_shelves(quilt, stabilizers, threads, buys, fusible)),
        leftover_backing=cloth.leftover_backing,
        one_fabric=one_fabric,
        short=tuple(short for buy in buys if (short := _short(buy)) is not None),
    )


def _precut(cutting: FabricPlan) -> Precut | None:
    """A precut that would do instead of yardage, washed and squared up like it; None if no plan in it exists.

    A metric shop has no quarter yards.
    """
    if not cutting.rule.used:
        return None
    if quarters := _fat_quarters(cutting):
        return Precut(kind=PrecutKind.FAT_QUARTER, count=quarters)
    by_the_yard = cutting.rule.step == buying_step(Units.INCHES)
    would_do = by_the_yard and cutting.rule.wanted <= _QUARTER_YARD
    return Precut(kind=PrecutKind.QUARTER_YARD, count=1) if would_do else None


def _fat_quarters(cutting: FabricPlan) -> int:
    """The fewest fat quarters found that hold what a fabric is for; 0 where yardage is the better buy."""
    extra = cutting.rule.extra
    kept = 1 - Fraction(extra.shrinkage_percent, 100)
    width, length = (side * kept for side in FAT_QUARTER)
    match cutting.uses:
        case [ClothUse(cut=StripNeed() as need)]:
            return _holding_letters(need, width, length - 2 * extra.squaring)
        case [*uses] if all(isinstance(use.cut, ClothCut) and use.cut.kind in _SMALL for use in uses):
            quarters = Supply(
                key=PrecutKind.FAT_QUARTER, width=width, length=length, count=1, squaring=extra.squaring
            )
            return _holding_pieces(cutting.demands, quarters)
        case _:
            return 0


def _holding_pieces(demands: Sequence[Demand], quarters: Supply) -> int:
    for count in range(1, _MOST_FAT_QUARTERS + 1):
        try:
            plan = plan_cutting(demands, [replace(quarters, count=count)])
        except Refusal:
            return 0
        if not plan.missing:
            return count
    return 0


def _holding_letters(need: StripNeed, across: Fraction, along: Fraction) -> int:
    if need.joined or need.nest is None or need.used > _MOST_FAT_QUARTERS * FAT_QUARTER[1] or along <= 0:
        return 0
    width, length = float(across), float(along)
    if not all(fits(piece, width=length, height=width) for piece in need.pieces):
        return 0
    count = len(nest_bins(need.pieces, width=length, height=width, spacing=need.nest.spacing).bins)
    return count if count <= _MOST_FAT_QUARTERS else 0


def _short(buy: FabricBuy) -> StashShort | None:
    """A fabric of which the maker has some, and must buy more; None if all of it comes out of what she has."""
    return StashShort(fabric=buy.fabric, more=buy.buy) if buy.fabric.have and buy.buy else None


def _shelves(
    quilt: QuiltPlan,
    stabilizers: Sequence[StabilizerNeed],
    threads: Sequence[ThreadNeed],
    cloth: Sequence[FabricBuy],
    fusible: StripNeed,
) -> Iterator[Shelf]:
    yield Shelf(kind=ShelfKind.CLOTH, items=tuple(cloth))
    yield Shelf(kind=ShelfKind.WEB, items=(fusible,))
    if stabilizers:
        yield Shelf(kind=ShelfKind.STABILIZER, items=tuple(stabilizers))
    yield Shelf(kind=ShelfKind.BATTING, items=(quilt.batting,))
    yield Shelf(kind=ShelfKind.THREAD, items=tuple(threads))
    yield Shelf(kind=ShelfKind.NOTIONS, items=tuple(Notion))
