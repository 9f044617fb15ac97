"""Everything to buy: each fabric by its cutting plan, and each shelf of the shop.

Lengths are exact inches. A leftover is what a fabric has beside or beyond what is cut from it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

from applique.buying import Rule, WashAndSquare
from applique.cloth import ClothUse, FabricPlan, UseKind, plan_cloth
from applique.design import BackingKind, Design, Fabric
from applique.nesting import fits, nest_bins
from applique.quilt.finishing import BattingPlan
from applique.quilt.whole import QuiltPlan
from applique.sewing.plan import RowPlan, StabilizerKind, StitchPlan
from applique.sewing.quilting import QuiltingPlan
from applique.yardage import StripNeed

__all__ = [
    "FabricBuy",
    "Leftover",
    "LeftoverBacking",
    "Notion",
    "Precut",
    "PrecutKind",
    "Shelf",
    "ShelfItem",
    "ShelfKind",
    "Shopping",
    "Spools",
    "StashShort",
    "ThreadBuy",
    "ThreadKind",
    "plan_shopping",
]

FAT_QUARTER: Final = (Fraction(21), Fraction(18))
"""Usable width and length of a fat quarter sold as 22 by 18 in."""
_QUARTER_YARD: Final = Fraction(9)
_MOST_FAT_QUARTERS: Final = 4
"""More than this many are dearer than yardage: common practice, no source."""
_LEAST_LEFTOVER: Final = Fraction(2)
"""Leftovers narrower than this are not worth a line."""


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


class ThreadKind(StrEnum):
    """What thread is for."""

    LETTERS = "letters"
    PIECING = "piecing"
    QUILTING = "quilting"


class Notion(StrEnum):
    """The small things that the work takes, whatever the quilt."""

    MARKING_PEN = "marking pen"
    SCISSORS = "scissors"
    PRESS_CLOTH = "press cloth"
    BASTING = "basting"
    NEEDLES = "needles"


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover:
    """A rectangle that is left of a fabric: `length` along the selvage, `width` across."""

    fabric: str
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Precut:
    """So many cuts of one kind that a shop has ready."""

    kind: PrecutKind
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricBuy:
    """One fabric to buy: how it is cut, a precut that would do, and what is left of it."""

    cutting: FabricPlan
    precut: Precut | None
    leftovers: tuple[Leftover, ...]

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Spools:
    """So many spools of thread for `length`, each with `each` on it; inches."""

    length: float
    count: int
    each: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadBuy:
    """Thread to buy. What is for letters matches a fabric; `spools` are there where its length is known."""

    kind: ThreadKind
    matching: str = ""
    spools: Spools | None = None


ShelfItem: TypeAlias = FabricBuy | StripNeed | RowPlan | BattingPlan | ThreadBuy | Notion
"""A thing on a shelf: cloth, web, stabilizer under a row, batting, thread, a notion."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What to look for on one shelf of the shop, things of one kind."""

    kind: ShelfKind
    items: tuple[ShelfItem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftoverBacking:
    """Whether the back can be pieced from what is left: the leftovers row by row.

    The rows lie across the quilt where it `lies`, else they stand upright. `reached` is how far they come, `goal` how
    far they should.
    """

    rows: tuple[tuple[Leftover, ...], ...]
    lies: bool
    reached: Fraction
    goal: Fraction

    @property
    def enough(self) -> bool:
        """Whether the rows come far enough."""
        return self.reached >= self.goal


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
    design: Design,
    quilt: QuiltPlan,
    stitching: StitchPlan,
    quilting: Sequence[QuiltingPlan],
    *,
    letters: Sequence[StripNeed],
    fusible: StripNeed,
    one_fabric: StripNeed | None,
) -> Shopping:
    """Everything the quilt takes, by fabric and by shelf.

    Raises:
        Refusal: what is larger than any cloth it should come from.
    """

    def bought(*, backing: bool) -> list[FabricBuy]:
        return [_buy(plan) for plan in plan_cloth(design, quilt, letters, backing=backing)]

    leftover_backing = None
    cloth = bought(backing=design.backing.kind is not BackingKind.LEFTOVERS)
    if design.backing.kind is BackingKind.LEFTOVERS:
        leftover_backing = _back_from(
            quilt, [piece for buy in cloth for piece in buy.leftovers], 2 * design.panel.seam_allowance
        )
        if not leftover_backing.enough:
            cloth = bought(backing=True)
    return Shopping(
        cloth=tuple(cloth),
        shelves=tuple(_shelves(design, quilt, stitching, quilting, cloth, fusible)),
        leftover_backing=leftover_backing,
        one_fabric=one_fabric,
        short=tuple(short for buy in cloth if (short := _short(buy)) is not None),
    )


def _buy(cutting: FabricPlan) -> FabricBuy:
    return FabricBuy(cutting=cutting, precut=_precut(cutting), leftovers=tuple(_leftovers(cutting)))


def _precut(cutting: FabricPlan) -> Precut | None:
    """A precut that would do instead of yardage; None if no plan in it exists."""
    match cutting.uses:
        case [ClothUse(cut=StripNeed() as need)]:
            quarters = _fat_quarters(need)
            if quarters:
                return Precut(kind=PrecutKind.FAT_QUARTER, count=quarters)
    return Precut(kind=PrecutKind.QUARTER_YARD, count=1) if cutting.rule.wanted <= _QUARTER_YARD else None


def _fat_quarters(need: StripNeed) -> int:
    """The fewest fat quarters found that hold the letters; 0 where yardage is the better buy."""
    width, length = (float(side) for side in FAT_QUARTER)
    if need.joined or need.nest is None or need.used > _MOST_FAT_QUARTERS * FAT_QUARTER[1]:
        return 0
    if not all(fits(piece, width=length, height=width) for piece in need.pieces):
        return 0
    count = len(nest_bins(need.pieces, width=length, height=width, spacing=need.nest.spacing).bins)
    return count if count <= _MOST_FAT_QUARTERS else 0


def _short(buy: FabricBuy) -> StashShort | None:
    """A fabric of which the maker has some, and must buy more; None if all of it comes out of what she has."""
    return StashShort(fabric=buy.fabric, more=buy.buy) if buy.fabric.have and buy.buy else None


def _leftovers(cutting: FabricPlan) -> Iterator[Leftover]:
    """What is left over where it is cut, and the end of the length that is bought."""
    for cloth in cutting.plan.cloths:
        for left in cloth.root.leftovers():
            if min(left.length, left.width) >= _LEAST_LEFTOVER:
                yield Leftover(fabric=cutting.fabric.name, length=left.length, width=left.width)
    rest = cutting.rule.extra.left_of(cutting.rule.buy, cutting.rule.used)
    if rest >= _LEAST_LEFTOVER:
        yield Leftover(fabric=cutting.fabric.name, length=rest, width=cutting.fabric.usable_width)


def _back_from(quilt: QuiltPlan, pieces: Sequence[Leftover], seam: Fraction) -> LeftoverBacking:
    """The back pieced in rows from leftovers, the rows lying across or standing up, whichever reaches further."""
    width, height = quilt.backing.width, quilt.backing.height
    lying, standing = (
        _rows_from(pieces, width, height, seam),
        _rows_from(pieces, height, width, seam),
    )
    (rows, reached), goal, lies = max(
        ((lying, height, True), (standing, width, False)), key=lambda tried: tried[0][1] / tried[1]
    )
    return LeftoverBacking(rows=rows, lies=lies, reached=reached, goal=goal)


def _rows_from(
    pieces: Sequence[Leftover], across: Fraction, down: Fraction, seam: Fraction
) -> tuple[tuple[tuple[Leftover, ...], ...], Fraction]:
    """Rows at least `across` long, until they are `down` high, and how high they come; seams are taken off.

    A simple layout, not the best one: the deepest pieces first, their long sides along the row, each row as high
    as its lowest piece.
    """
    left = sorted(pieces, key=lambda piece: (-min(piece.length, piece.width), -piece.length * piece.width))
    rows: list[tuple[Leftover, ...]] = []
    reached = Fraction(0)
    while left and reached < down:
        row: list[Leftover] = []
        long = Fraction(0)
        while left and long < across:
            piece = left.pop(0)
            long += max(piece.length, piece.width) - (seam if row else 0)
            row.append(piece)
        if long < across:
            break
        rows.append(tuple(row))
        reached += min(min(piece.length, piece.width) for piece in row) - (seam if len(rows) > 1 else 0)
    return tuple(rows), reached


def _shelves(
    design: Design,
    quilt: QuiltPlan,
    stitching: StitchPlan,
    quilting: Sequence[QuiltingPlan],
    cloth: Sequence[FabricBuy],
    fusible: StripNeed,
) -> Iterator[Shelf]:
    yield Shelf(kind=ShelfKind.CLOTH, items=tuple(cloth))
    yield Shelf(kind=ShelfKind.WEB, items=(fusible,))
    under = tuple(row for row in stitching.rows if row.stabilizer.kind is not StabilizerKind.NONE)
    if under:
        yield Shelf(kind=ShelfKind.STABILIZER, items=under)
    yield Shelf(kind=ShelfKind.BATTING, items=(quilt.batting,))
    threads = tuple(_threads(stitching, quilting, design.stitching.spool))
    yield Shelf(kind=ShelfKind.THREAD, items=threads)
    yield Shelf(kind=ShelfKind.NOTIONS, items=tuple(Notion))


def _threads(stitching: StitchPlan, quilting: Sequence[QuiltingPlan], spool: Fraction) -> Iterator[ThreadBuy]:
    for need in stitching.threads:
        spools = Spools(length=need.length, count=need.spools, each=spool)
        yield ThreadBuy(kind=ThreadKind.LETTERS, matching=need.name, spools=spools)
    yield ThreadBuy(kind=ThreadKind.PIECING)
    if not quilting:
        yield ThreadBuy(kind=ThreadKind.QUILTING)
        return
    length = sum(plan.thread for plan in quilting)
    spools = Spools(length=length, count=math.ceil(length / float(spool)), each=spool)
    yield ThreadBuy(kind=ThreadKind.QUILTING, spools=spools)
