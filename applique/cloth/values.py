"""What a cutting plan of cloth holds: what every fabric is used for, what is cut for it, how much of it to buy.

Exact inches after washing; the frame of a plan is that of `cutting`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

from applique.buying import Rule, WashAndSquare
from applique.cloth.least_width import Together, Widths, least_widths
from applique.cutting import CutCloth, CuttingPlan, Demand, Lie, Supply
from applique.cutting.diagram import LEAST_NAMED, Diagram, draw_cloth
from applique.design import Fabric, Held
from applique.leftovers import Leftover, LeftoverBacking, MixedBacking, Patch
from applique.letter_blocks import LetterBlock
from applique.pieces import Template
from applique.precuts import Precut
from applique.quilt.banner import Ties
from applique.quilt.finishing import BackingPlan, BackingWay, SleevePlan
from applique.quilt.panel_cut import PanelCut
from applique.quilt.pillow import PillowPlan
from applique.quilt.strips import ClothCut, Join
from applique.quilt.whole import PanelToCut
from applique.supplies import BOUGHT, held_key
from applique.yardage import StripNeed, templates_in

__all__ = [
    "LETTERS",
    "ClothPlan",
    "ClothUse",
    "FabricPlan",
    "Joined",
    "NarrowCloth",
    "NarrowPlan",
    "PrecutPlan",
    "Strips",
    "UseCut",
    "UseKind",
    "WideBacking",
]

LETTERS: Final = "letters"
"""The key of the one block of letters; others start with it."""
_LEAST_MEASURED: Final = Fraction(1, 2)
"""Inches below which what is left is a shaving."""


class UseKind(StrEnum):
    """What a fabric is used for."""

    PANEL = "panel"
    BACKING = "backing"
    BORDER = "border"
    BINDING = "binding"
    SLEEVE = "hanging sleeve"
    PILLOW = "pillow back"
    TIES = "ties"
    PLAIN_BLOCKS = "plain blocks"
    SASHING = "sashing"
    CORNERSTONES = "cornerstones"
    LETTERS = "letters"


UseCut: TypeAlias = PanelCut | BackingPlan | ClothCut | SleevePlan | PillowPlan | Ties | StripNeed
"""What a use is made of: by its kind, a border and a binding of strips, letters as they are nested."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strips:
    """`count` equal pieces that a plan cuts for one demand: `length` by `width`, the length running as `lie` says."""

    key: str
    length: Fraction
    width: Fraction
    count: int
    lie: Lie


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """Strips of one demand joined end to end: by which seam, how far they reach, and how much of it is `needed`."""

    key: str
    join: Join
    strips: int
    reach: Fraction
    needed: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothUse:
    """What a fabric is used for, and what the plan cuts for it. `border` counts from 1, for borders alone.

    `way` is the way that a backing is pieced, for backings alone; `blocks` are the nests that letters are cut from;
    `panels` those that are cut alike.
    """

    kind: UseKind
    cut: UseCut
    strips: tuple[Strips, ...]
    joined: tuple[Joined, ...]
    border: int | None = None
    way: BackingWay | None = None
    blocks: tuple[LetterBlock, ...] = ()
    panels: tuple[PanelToCut, ...] = ()

    @property
    def keys(self) -> tuple[str, ...]:
        """The demands of the plan that are cut for it, in the order of the plan."""
        return tuple(dict.fromkeys(strips.key for strips in self.strips))


@dataclass(frozen=True, slots=True, kw_only=True)
class PrecutPlan:
    """How all that a fabric is used for is cut from a `precut` alone, which is the only one of its `supplies`."""

    precut: Precut
    uses: tuple[ClothUse, ...]
    demands: tuple[Demand, ...]
    supplies: tuple[Supply, ...]
    plan: CuttingPlan

    @property
    def diagrams(self) -> tuple[Diagram, ...]:
        """Each piece of cloth ready to be drawn."""
        return _drawn(self.plan, self.supplies, Fraction(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class NarrowPlan:
    """How all that a fabric is used for is cut from one of usable `width`, and how much of that to buy.

    `is_alike` says whether the pieces are those of the fabric as planned, letters on a block of another size; `lengths`
    is of how many the back is sewn, if of another number than as planned.
    """

    width: Fraction
    rule: Rule[WashAndSquare]
    plan: CuttingPlan
    is_alike: bool
    lengths: int | None

    @property
    def bands(self) -> tuple[tuple[int, Fraction, frozenset[str]], ...]:
        """How many bands are cut from selvage to selvage for the same demands, how deep each is, and those demands; in
        the order of cutting."""
        (cloth,) = self.plan.cloths
        drawn = draw_cloth(cloth, squaring=self.rule.extra.squaring, end=Fraction(0))
        counts: dict[tuple[Fraction, frozenset[str]], int] = {}
        for band in drawn.bands:
            keys = frozenset(group.key for group in drawn.groups if band.number in drawn.bands_of(group))
            counts[band.course.size, keys] = counts.get((band.course.size, keys), 0) + band.course.count
        return tuple((count, size, keys) for (size, keys), count in counts.items())


@dataclass(frozen=True, slots=True, kw_only=True)
class NarrowCloth:
    """What to do with a fabric that is narrower than its plan needs: `usual` is a plan on the width
    that much of what is sold has, `washed` one on the planned fabric once it has shrunk, for those who wash it although
    the amounts are for unwashed fabric, if they are not for fabric that `is_washed`. Each None where a piece is wider.
    """

    usual: NarrowPlan | None
    is_washed: bool
    washed: NarrowPlan | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricPlan:
    """How one fabric is cut, and how much of it to buy: by which rule, from what is used between squared ends.

    `precut` is the smallest in which a plan for all of it was found, where no yardage is held. `narrow` is there if
    fabric of the usual width is too narrow for the plan.
    """

    fabric: Fabric
    uses: tuple[ClothUse, ...]
    demands: tuple[Demand, ...]
    supplies: tuple[Supply, ...]
    plan: CuttingPlan
    rule: Rule[WashAndSquare]
    precut: PrecutPlan | None
    narrow: NarrowCloth | None = None

    @property
    def letters(self) -> ClothUse | None:
        """The use that letters are; None if none are cut from it."""
        return next((use for use in self.uses if use.kind is UseKind.LETTERS), None)

    def source(self, key: str) -> Held | None:
        """What of the stash the first piece of a demand is cut from; None if it is bought."""
        cloths = (cloth for cloth in self.plan.cloths for _, piece in cloth.root.pieces() if piece.key == key)
        return self.held(next(cloths))

    def has_selvages(self, cloth: CutCloth) -> bool:
        """Whether a piece of cloth reaches from selvage to selvage, as what is bought does."""
        held = self.held(cloth)
        return held is None or held.has_selvages

    def held(self, cloth: CutCloth) -> Held | None:
        """What of the stash a piece of cloth is; None if it is bought."""
        return {held_key(number): one for number, one in enumerate(self.fabric.have, 1)}.get(cloth.supply)

    @property
    def short_letters(self) -> tuple[Template, ...]:
        """The letters that must be bought for although some of the fabric is held, where nothing else must be."""
        if not self.fabric.have:
            return ()
        bought = [cloth.root.pieces() for cloth in self.plan.cloths if cloth.supply == BOUGHT]
        keys = {piece.key for pieces in bought for _, piece in pieces}
        if self.letters is None or not keys <= set(self.letters.keys):
            return ()
        found = {template.number: template for template in _cut_as(self.letters, keys)}
        return tuple(found[number] for number in sorted(found))

    @property
    def diagrams(self) -> tuple[Diagram, ...]:
        """Each piece of cloth ready to be drawn."""
        end = self.rule.extra.left_of(self.rule.buy, self.rule.used)
        return _drawn(self.plan, self.supplies, end)

    def widths_of(self, supply: str) -> Widths:
        """Down to which usable width the plan gives every piece that it cuts from a supply; exact, to be rounded up."""
        runs = [
            Together(keys=frozenset({run.key}), spare=run.reach - run.needed, lengths=False)
            for use in self.uses
            for run in use.joined
        ]
        backs = [
            Together(keys=frozenset(use.keys), spare=Fraction(0), lengths=True)
            for use in self.uses
            if use.way is not None and len(use.way.widths) > 1
        ]
        return least_widths(self.plan.cloths, [*runs, *backs])[supply]

    @property
    def supplies_cut(self) -> tuple[Supply, ...]:
        """The supplies that something is cut from, each once, in their order."""
        cut = {cloth.supply for cloth in self.plan.cloths}
        return tuple(one for one in self.supplies if one.key in cut)

    @property
    def leftovers(self) -> tuple[Leftover, ...]:
        """What is left and worth keeping: slivers are not counted."""
        left = self.offcuts_of(self.plan.cloths)
        return tuple(one for one in left if min(one.length, one.width) >= LEAST_NAMED)

    def offcuts_of(self, cloths: Sequence[CutCloth]) -> tuple[Leftover, ...]:
        """What is left of some of its cloths, as far as it can be measured; with the end of the length that is bought,
        if that is one of them."""
        sizes = [(left.length, left.width) for cloth in cloths for left in cloth.root.leftovers()]
        if any(cloth.supply == BOUGHT for cloth in cloths):
            sizes.append((self.rule.extra.left_of(self.rule.buy, self.rule.used), self.fabric.usable_width))
        return tuple(
            Leftover(fabric=self.fabric.name, length=length, width=width)
            for length, width in sizes
            if min(length, width) >= _LEAST_MEASURED
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class WideBacking:
    """What wide backing of that usable width takes, the way that takes least, and how much of it to buy for its `uses`:
    the back, and a sleeve of the same fabric if nothing else is cut from that. Else `rest` is how what else there is
    to cut from the fabric of the back is cut then."""

    usable_width: Fraction
    way: BackingWay
    rule: Rule[WashAndSquare]
    uses: tuple[ClothUse, ...]
    rest: FabricPlan | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothPlan:
    """How every fabric of a quilt is cut, in the order in which they are first needed: panel first, letters last.

    `leftover_backing` is there if the back should come from what is left of the others, `mixed_backing` if they
    widen bought lengths instead. `back` is the pieced back as it is sewn, `wide_backing` what wide backing would take
    instead of lengths with seams.
    """

    fabrics: tuple[FabricPlan, ...]
    leftover_backing: LeftoverBacking | None
    mixed_backing: MixedBacking | None
    back: tuple[Patch, ...]
    wide_backing: WideBacking | None

    @property
    def uses(self) -> tuple[ClothUse, ...]:
        """Every use, fabric by fabric."""
        return tuple(use for plan in self.fabrics for use in plan.uses)


def _drawn(plan: CuttingPlan, supplies: Sequence[Supply], end: Fraction) -> tuple[Diagram, ...]:
    """Each cloth, that which is bought with the `end` of its length."""
    squaring = {supply.key: supply.squaring for supply in supplies}
    return tuple(
        draw_cloth(cloth, squaring=squaring[cloth.supply], end=end if cloth.supply == BOUGHT else Fraction(0))
        for cloth in plan.cloths
    )


def _cut_as(use: ClothUse, keys: set[str]) -> Iterator[Template]:
    """The templates that the demands `keys` of letters are cut for."""
    if isinstance(use.cut, StripNeed):
        for one in use.blocks:
            if one.key in keys:
                yield from one.templates(use.cut)
        for number, large in enumerate(use.cut.joined, 1):
            if f"{LETTERS}, {number}" in keys:
                yield from templates_in(large.carried)
