"""Everything to buy: each fabric by its cutting plan, and each shelf of the shop.

Lengths are exact inches.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

from applique.buying import Rule, WashAndSquare
from applique.cloth import ClothPlan, ClothUse, FabricPlan, UseKind, WideBacking
from applique.cutting.diagram import letter_at
from applique.design import Fabric
from applique.leftovers import LeftoverBacking, MixedBacking, Patch
from applique.pieces import Template
from applique.precuts import Precut
from applique.quilt.bunting import TapePlan
from applique.quilt.finishing import BattingPlan
from applique.quilt.pillow import Insert
from applique.quilt.whole import QuiltPlan
from applique.sewing.stabilizer import StabilizerNeed
from applique.sewing.threads import ThreadNeed
from applique.yardage import StripNeed

__all__ = [
    "FabricBuy",
    "Notion",
    "Shelf",
    "ShelfItem",
    "ShelfKind",
    "Shopping",
    "StashShort",
    "Zipper",
    "plan_shopping",
]


class ShelfKind(StrEnum):
    """A shelf of the shop."""

    CLOTH = "cloth"
    WEB = "web"
    STABILIZER = "stabilizer"
    BATTING = "batting"
    THREAD = "thread"
    FILLING = "filling"
    ZIPPER = "zipper"
    TAPE = "tape"
    NOTIONS = "notions"


class Notion(StrEnum):
    """The small things that the work takes, whatever the quilt."""

    CHALK_PENCIL = "chalk pencil"
    PINS = "pins"
    BASTING = "basting"
    BASTING_THREAD = "basting thread"
    NEEDLES = "needles"
    HAND_NEEDLE = "hand needle"
    SLIPS = "slips of paper"
    WHITE_SCRAP = "white scrap"
    LABEL = "label"


_OF_LAYERS: Final = frozenset({Notion.BASTING, Notion.LABEL})
"""What a top alone does not take."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricBuy:
    """One fabric to buy: how it is cut."""

    cutting: FabricPlan

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
    def precut(self) -> Precut | None:
        """A precut that would do instead of yardage; None if no plan in one was found."""
        return self.cutting.precut.precut if self.cutting.precut is not None else None

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
    """A fabric of which the maker has less than it takes, and how much `more` of it to buy, in inches.

    `letters` are those that do not come out of what she has, where they alone are short.
    """

    fabric: Fabric
    more: Fraction
    letters: tuple[Template, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Zipper:
    """A zipper of that length, in inches."""

    length: Fraction


ShelfItem: TypeAlias = (
    FabricBuy | StripNeed | StabilizerNeed | BattingPlan | ThreadNeed | Insert | Zipper | TapePlan | Notion
)
"""A thing on a shelf: cloth, web, stabilizer of one kind, batting, thread, what fills a pillow, its zipper, the
tape of bunting, a notion."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What to look for on one shelf of the shop, things of one kind."""

    kind: ShelfKind
    items: tuple[ShelfItem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopping:
    """All to buy. `leftover_backing` is there if the back should come from leftovers, `mixed_backing` if they widen
    bought lengths; `back` is the pieced back, `wide_backing` what could be bought instead. `one_fabric` is what the
    letters would take from a single fabric, if they come from several; `short` are the fabrics with too little in the
    stash.
    """

    cloth: tuple[FabricBuy, ...]
    shelves: tuple[Shelf, ...]
    leftover_backing: LeftoverBacking | None
    mixed_backing: MixedBacking | None
    back: tuple[Patch, ...]
    wide_backing: WideBacking | None
    one_fabric: StripNeed | None
    short: tuple[StashShort, ...]

    def use(self, kind: UseKind) -> ClothUse | None:
        """The first use of that kind, if cloth is cut for one."""
        return next((use for buy in self.cloth for use in buy.uses if use.kind is kind), None)

    def letters_of(self, need: StripNeed) -> FabricPlan | None:
        """How the fabric is cut that letters lie on; None for web, and where all letters are wider than the fabric."""
        plans = (buy.cutting for buy in self.cloth if need.web is None and buy.fabric.name == need.fabric)
        return next((plan for plan in plans if plan.letters is not None and plan.letters.blocks), None)

    @property
    def fabric_letters(self) -> Mapping[str, str]:
        """The capital letter by which each fabric is called, in the order of the list."""
        return {buy.fabric.name: letter_at(index).upper() for index, buy in enumerate(self.cloth)}


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
    buys = tuple(FabricBuy(cutting=plan) for plan in cloth.fabrics)
    return Shopping(
        cloth=buys,
        shelves=tuple(_shelves(quilt, stabilizers, threads, buys, fusible)),
        leftover_backing=cloth.leftover_backing,
        mixed_backing=cloth.mixed_backing,
        back=cloth.back,
        wide_backing=cloth.wide_backing,
        one_fabric=one_fabric,
        short=tuple(short for buy in buys if (short := _short(buy)) is not None),
    )


def _short(buy: FabricBuy) -> StashShort | None:
    """A fabric of which the maker has some, and must buy more; None if all of it comes out of what she has."""
    if not buy.fabric.have or not buy.buy:
        return None
    return StashShort(fabric=buy.fabric, more=buy.buy, letters=buy.cutting.short_letters)


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
    if quilt.batting.bought:
        yield Shelf(kind=ShelfKind.BATTING, items=(quilt.batting,))
    yield Shelf(kind=ShelfKind.THREAD, items=tuple(threads))
    if quilt.pillow is not None:
        yield Shelf(kind=ShelfKind.FILLING, items=(quilt.pillow.insert,))
        if quilt.pillow.zipper is not None:
            yield Shelf(kind=ShelfKind.ZIPPER, items=(Zipper(length=quilt.pillow.zipper),))
    if quilt.tape is not None:
        yield Shelf(kind=ShelfKind.TAPE, items=(quilt.tape,))
    notions = (notion for notion in Notion if quilt.layered or notion not in _OF_LAYERS)
    yield Shelf(kind=ShelfKind.NOTIONS, items=tuple(notions))
