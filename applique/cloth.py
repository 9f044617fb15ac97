"""What every fabric is cut into, and the cutting plan that has it all: the only source of how much cloth to buy.

Exact inches after washing; the frame of a plan is that of `cutting`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias, assert_never

from applique.buying import Rule, WashAndSquare
from applique.cutting import (
    Block,
    Choice,
    CutCloth,
    CuttingPlan,
    Demand,
    Lie,
    Preference,
    Rectangle,
    Region,
    Run,
    Split,
    Supply,
    plan_cutting,
)
from applique.cutting.diagram import Diagram, draw_cloth
from applique.design import BackingKind, Design, Fabric, Held, Turns
from applique.errors import Refusal, Where
from applique.language import Message, message
from applique.leftovers import (
    Leftover,
    LeftoverBacking,
    MixedBacking,
    Patch,
    back_from,
    mixed_ways,
    patches_from_cloth,
    patches_from_rows,
    widened_by,
)
from applique.letter_blocks import LetterBlock, blocks_on, one_block
from applique.nesting import fits
from applique.pieces import Template
from applique.precuts import Precut, precuts_near
from applique.quilt.finishing import BackingPlan, BackingWay, SleevePlan, plan_backing
from applique.quilt.panel_cut import PanelCut
from applique.quilt.strips import ClothCut, CutKind, CutPieces, Join, join_loss
from applique.quilt.whole import QuiltPlan
from applique.supplies import BOUGHT, bolt_of, held_key, plan_of, supplies_of
from applique.units import buying_step, cutting_step, round_up
from applique.yardage import StripNeed

__all__ = [
    "ClothPlan",
    "ClothUse",
    "FabricPlan",
    "Joined",
    "Strips",
    "UseKind",
    "WideBacking",
    "cloth_extra",
    "plan_cloth",
    "plan_part",
]

_LEAST_STRIP: Final = Fraction(12)
"""Strips shorter than this are not worth joining: common practice, no source."""
_LEAST_LEFTOVER: Final = Fraction(2)
"""Leftovers narrower than this are not worth a line."""
_QUARTER_YARD: Final = Fraction(9)
_LETTERS: Final = "letters"
"""The key of the one block of letters; others start with it."""
_NESTED: Final = "letters-nested"
"""The key of the choice between one block of letters and several."""


class UseKind(StrEnum):
    """What a fabric is used for."""

    PANEL = "panel"
    BACKING = "backing"
    BORDER = "border"
    BINDING = "binding"
    SLEEVE = "hanging sleeve"
    LETTERS = "letters"


UseCut: TypeAlias = PanelCut | BackingPlan | ClothCut | SleevePlan | StripNeed
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

    `way` is the way that a backing is pieced, for backings alone; `blocks` are the nests that letters are cut from.
    """

    kind: UseKind
    cut: UseCut
    strips: tuple[Strips, ...]
    joined: tuple[Joined, ...]
    border: int | None = None
    way: BackingWay | None = None
    blocks: tuple[LetterBlock, ...] = ()

    @property
    def keys(self) -> tuple[str, ...]:
        """The demands of the plan that are cut for it, in the order of the plan."""
        return tuple(dict.fromkeys(strips.key for strips in self.strips))


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricPlan:
    """How one fabric is cut, and how much of it to buy: by which rule, from what is used between squared ends.

    `precut` is the smallest in which a plan for all of it was found, where no yardage is held.
    """

    fabric: Fabric
    uses: tuple[ClothUse, ...]
    demands: tuple[Demand, ...]
    supplies: tuple[Supply, ...]
    plan: CuttingPlan
    rule: Rule[WashAndSquare]
    precut: Precut | None

    @property
    def letters(self) -> ClothUse | None:
        """The use that letters are; None if none are cut from it."""
        return next((use for use in self.uses if use.kind is UseKind.LETTERS), None)

    @property
    def in_blocks(self) -> bool:
        """Whether letters are cut block by block: from several pieces of fabric, or out of the stash."""
        blocks = self.letters.blocks if self.letters is not None else ()
        return len(blocks) > 1 or any(self.source(one.key) is not None for one in blocks)

    def source(self, key: str) -> Held | None:
        """What of the stash the first piece of a demand is cut from; None if it is bought."""
        cloths = (cloth for cloth in self.plan.cloths for _, piece in cloth.root.pieces() if piece.key == key)
        return self.held(next(cloths))

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
        squaring = {supply.key: supply.squaring for supply in self.supplies}
        return tuple(draw_cloth(cloth, squaring=squaring[cloth.supply]) for cloth in self.plan.cloths)

    @property
    def leftovers(self) -> tuple[Leftover, ...]:
        """What is left where it is cut, and the end of the length that is bought; slivers are not counted."""
        sizes = [(left.length, left.width) for cloth in self.plan.cloths for left in cloth.root.leftovers()]
        sizes.append((self.rule.extra.left_of(self.rule.buy, self.rule.used), self.fabric.usable_width))
        return tuple(
            Leftover(fabric=self.fabric.name, length=length, width=width)
            for length, width in sizes
            if min(length, width) >= _LEAST_LEFTOVER
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class WideBacking:
    """What wide backing of that usable width takes, the way that takes least, and how much of it to buy."""

    usable_width: Fraction
    way: BackingWay
    rule: Rule[WashAndSquare]


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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wanted:
    """A use with what is to be cut for it, before anything is planned."""

    kind: UseKind
    cut: UseCut
    demands: tuple[Demand, ...]
    join: Join | None = None
    border: int | None = None
    blocks: tuple[LetterBlock, ...] = ()


def cloth_extra(design: Design) -> WashAndSquare:
    """What every fabric of a design loses before it is cut."""
    return WashAndSquare(
        shrinkage_percent=int(design.yardage.shrinkage * 100),
        squaring=design.yardage.squared_off(design.units),
    )


def plan_cloth(design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed]) -> ClothPlan:
    """How every fabric of the quilt is cut, and whether the back comes from leftovers where it should.

    Where the leftovers are not enough, they widen bought lengths if that saves one, else all of the back is bought.

    Raises:
        Refusal: what is larger than any cloth it should come from, strips that their joins eat up, every one at once.
    """
    backing, seam = quilt.backing, 2 * design.seam_allowance
    if design.backing.kind is not BackingKind.LEFTOVERS:
        return _cloth_plan(design, quilt, _fabrics(design, quilt, letters, backing), None, None)
    fabrics = _fabrics(design, quilt, letters, None)
    back = back_from(backing, _left_of(fabrics), seam)
    if back.enough:
        return _cloth_plan(design, quilt, fabrics, back, None)
    for way in mixed_ways(backing):
        fabrics = _fabrics(design, quilt, letters, replace(backing, ways=(way,)))
        mixed = widened_by(way, backing, _left_of(fabrics), seam)
        if mixed is not None:
            return _cloth_plan(design, quilt, fabrics, back, mixed)
    return _cloth_plan(design, quilt, _fabrics(design, quilt, letters, backing), back, None)


def _left_of(fabrics: Sequence[FabricPlan]) -> tuple[Leftover, ...]:
    return tuple(piece for plan in fabrics for piece in plan.leftovers)


def _cloth_plan(
    design: Design,
    quilt: QuiltPlan,
    fabrics: tuple[FabricPlan, ...],
    back: LeftoverBacking | None,
    mixed: MixedBacking | None,
) -> ClothPlan:
    seam = 2 * design.seam_allowance
    way = next((use.way for plan in fabrics for use in plan.uses if use.way is not None), None)
    if way is not None:
        patches = patches_from_cloth(quilt.backing, way, quilt.fabrics.backing.name, mixed, seam)
    else:
        patches = patches_from_rows(quilt.backing, back, seam) if back is not None else ()
    return ClothPlan(
        fabrics=fabrics,
        leftover_backing=back,
        mixed_backing=mixed,
        back=patches,
        wide_backing=_wide_instead(design, quilt, way),
    )


def _wide_instead(design: Design, quilt: QuiltPlan, way: BackingWay | None) -> WideBacking | None:
    """What wide backing would take instead of lengths; None where it spares no seam."""
    if way is None or design.backing.kind is BackingKind.WIDE:
        return None
    width = design.backing.wide_width
    wide = plan_backing(
        design.backing,
        quilt.finished,
        replace(quilt.fabrics.backing, usable_width=width, sold_width=None),
        seam_allowance=design.seam_allowance,
        units=design.units,
    ).ways[0]
    if len(wide.widths) >= len(way.widths) + (1 if way.widened else 0):
        return None
    rule = Rule(used=wide.length, extra=cloth_extra(design), step=buying_step(design.units))
    return WideBacking(usable_width=width, way=wide, rule=rule)


def plan_part(
    design: Design,
    quilt: QuiltPlan,
    letters: Sequence[StripNeed],
    *,
    kind: UseKind | None,
    border: int | None,
    fabric: str,
    backing: bool,
) -> tuple[FabricPlan, ...]:
    """How one part alone is cut from new fabric, nothing of a stash: what is of that `kind`, of that `border` and from
    that `fabric`, each if it is named; `backing` says whether cloth is cut for the back.

    Raises:
        Refusal: what is larger than new fabric, strips that their joins eat up.
    """
    wanted: dict[str, tuple[Fabric, list[_Wanted]]] = {}
    back = quilt.backing if backing else None
    for cloth, use in _wanted(design, quilt, letters, back):
        if kind in (None, use.kind) and border in (None, use.border) and fabric in ("", cloth.name):
            wanted.setdefault(cloth.name, (replace(cloth, have=()), []))[1].append(use)
    return tuple(_planned(design, cloth, uses) for cloth, uses in wanted.values())


def _fabrics(
    design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed], backing: BackingPlan | None
) -> tuple[FabricPlan, ...]:
    """How every fabric is cut, with that of the back unless there is no `backing`."""
    wanted: dict[str, list[_Wanted]] = {}
    for fabric, use in _wanted(design, quilt, letters, backing):
        wanted.setdefault(fabric.name, []).append(use)
    return tuple(_planned(design, quilt.fabrics.by_name[name], uses) for name, uses in wanted.items())


# What is wanted


def _wanted(
    design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed], backing: BackingPlan | None
) -> Iterator[tuple[Fabric, _Wanted]]:
    fabrics, allowance = quilt.fabrics, design.seam_allowance
    yield fabrics.panel, _panel(quilt.panel, fabrics.panel)
    if backing is not None:
        yield fabrics.backing, _backing(backing)
    for border in quilt.borders:
        for number, cut in enumerate(border.cuts, 1):
            fabric = fabrics.by_name[cut.fabric]
            key = f"border {border.number}, {number}"
            yield fabric, _of_border(cut, fabric, key, border.number, allowance)
    yield fabrics.binding, _binding(quilt.binding.cut, allowance)
    if quilt.sleeve is not None:
        yield fabrics.sleeve, _sleeve(quilt.sleeve, allowance)
    for need in letters:
        fabric = fabrics.by_name[need.fabric]
        yield (
            fabric,
            _letters(need, supplies_of(fabric, design.yardage, design.units), cutting_step(design.units)),
        )


def _panel(panel: PanelCut, fabric: Fabric) -> _Wanted:
    one_way = fabric.turns is Turns.UPRIGHT
    demands: tuple[Demand, ...]
    if panel.seam is None:
        lies = (Lie.ALONG,) if one_way else (Lie.ALONG, Lie.ACROSS)
        demands = (Rectangle(key="panel", length=panel.height, width=panel.width, count=1, lies=lies),)
    else:
        demands = tuple(
            Rectangle(key=f"panel, {number}", length=panel.along, width=width, count=1, lies=(Lie.ALONG,))
            for number, width in enumerate(panel.widths, 1)
        )
    return _Wanted(kind=UseKind.PANEL, cut=panel, demands=demands)


def _backing(backing: BackingPlan) -> _Wanted:
    ways = tuple(
        tuple(
            Rectangle(
                key=f"backing {number}, {index}",
                length=way.along,
                width=width,
                count=count,
                lies=(Lie.ALONG,),
            )
            for index, (width, count) in enumerate(Counter(way.widths).items(), 1)
        )
        for number, way in enumerate(backing.ways, 1)
    )
    return _Wanted(kind=UseKind.BACKING, cut=backing, demands=(Choice(key="backing", ways=ways),))


def _of_border(cut: ClothCut, fabric: Fabric, key: str, border: int, allowance: Fraction) -> _Wanted:
    one_way = fabric.turns is Turns.UPRIGHT
    demands: tuple[Demand, ...]
    if cut.join is None:
        demands = tuple(
            _piece(
                pieces, cut.strip_width, f"{key}, {number}", (_upright(pieces) if one_way else Lie.ACROSS,)
            )
            if cut.kind is CutKind.RECTANGLES
            else _piece(pieces, cut.strip_width, f"{key}, {number}", (Lie.ALONG,))
            for number, pieces in enumerate(cut.pieces, 1)
        )
    else:
        sides = [[pieces for pieces in cut.pieces if pieces.upright is upright] for upright in (True, False)]
        groups = [side for side in sides if side] if one_way else [list(cut.pieces)]
        demands = tuple(
            _long_strips(
                group,
                cut.strip_width,
                f"{key}, {number}",
                (_upright(group[0]),) if one_way else (Lie.ACROSS, Lie.ALONG),
                join_loss(cut.join, cut.strip_width, seam_allowance=allowance),
                fabric.usable_width,
            )
            for number, group in enumerate(groups, 1)
        )
    return _Wanted(kind=UseKind.BORDER, cut=cut, demands=demands, join=cut.join, border=border)


def _upright(pieces: CutPieces) -> Lie:
    """How a piece of a one-way print lies, so that the print stands in the quilt."""
    return Lie.ALONG if pieces.upright else Lie.ACROSS


def _piece(pieces: CutPieces, width: Fraction, key: str, lies: tuple[Lie, ...]) -> Rectangle:
    return Rectangle(key=key, length=pieces.length, width=width, count=pieces.count, lies=lies)


def _long_strips(
    group: Sequence[CutPieces],
    width: Fraction,
    key: str,
    lies: tuple[Lie, ...],
    loss: Fraction,
    usable_width: Fraction,
) -> Choice:
    """Long strips, each whole, or joined into one run and then cut, whichever takes less cloth.

    The plain way comes first: strips across that are joined where one is not long enough.
    """
    whole = tuple(_piece(pieces, width, f"{key}.{number}", lies) for number, pieces in enumerate(group, 1))
    needed = sum((pieces.length * pieces.count for pieces in group), Fraction(0))
    run = Run(
        key=f"{key} joined", width=width, length=needed, loss=loss, least=min(_LEAST_STRIP, needed), lies=lies
    )
    is_short = max(pieces.length for pieces in group) <= usable_width
    return Choice(key=key, ways=(whole, (run,)) if is_short or Lie.ACROSS not in lies else ((run,), whole))


def _binding(cut: ClothCut, allowance: Fraction) -> _Wanted:
    demand: Demand
    if cut.join is None or cut.needed is None:
        (square,) = cut.pieces
        demand = _piece(square, cut.strip_width, "binding", (Lie.ALONG,))
    else:
        demand = Run(
            key="binding",
            width=cut.strip_width,
            length=cut.needed,
            loss=join_loss(cut.join, cut.strip_width, seam_allowance=allowance),
            least=min(_LEAST_STRIP, cut.needed),
            lies=(Lie.ACROSS, Lie.ALONG),
        )
    return _Wanted(kind=UseKind.BINDING, cut=cut, demands=(demand,), join=cut.join)


def _sleeve(sleeve: SleevePlan, allowance: Fraction) -> _Wanted:
    run = Run(
        key="sleeve",
        width=sleeve.cut_depth,
        length=sleeve.cut_length,
        loss=join_loss(Join.STRAIGHT, sleeve.cut_depth, seam_allowance=allowance),
        least=min(_LEAST_STRIP, sleeve.cut_length),
        lies=(Lie.ACROSS, Lie.ALONG),
    )
    return _Wanted(kind=UseKind.SLEEVE, cut=sleeve, demands=(run,), join=Join.STRAIGHT)


def _letters(need: StripNeed, held: Sequence[Supply], grid: Fraction) -> _Wanted:
    """The nest as one block, or in blocks on what is held, whichever suits the cloth; and for each letter wider than
    the cloth the widths that are laid side by side.

    Blocks are as large as the next multiple of `grid`.
    """
    demands: list[Demand] = []
    one, several = one_block(need, _LETTERS, grid), blocks_on(need, held, _LETTERS, grid)
    if one is not None and several:
        ways = ((one.block,), tuple(each.block for each in several))
        demands.append(Choice(key=_NESTED, ways=ways))
    elif one is not None:
        demands.append(one.block)
    for number, large in enumerate(need.joined, 1):
        demands.append(
            Rectangle(
                key=f"{_LETTERS}, {number}",
                length=round_up(large.length, grid),
                width=need.usable_width,
                count=large.count * large.widths,
                lies=(Lie.ALONG,),
            )
        )
    blocks = several if one is None else (one, *several)
    return _Wanted(kind=UseKind.LETTERS, cut=need, demands=tuple(demands), blocks=blocks)


# What is planned


def _planned(design: Design, fabric: Fabric, wanted: Sequence[_Wanted]) -> FabricPlan:
    supplies = (
        *supplies_of(fabric, design.yardage, design.units),
        bolt_of(fabric, design.yardage, design.units),
    )
    demands = tuple(demand for use in wanted for demand in use.demands)
    step = buying_step(design.units)
    names = {key: (_name(use), _where(use)) for use in wanted for key in _all_keys(use.demands)}
    plan = _plan(demands, supplies, design, plan_of(fabric, design.yardage), names)
    if plan.used and len(supplies) > 1:
        # What would save her the whole purchase is worth its extra cuts, however short the length is.
        least = _plan(demands, supplies, design, Preference.LEAST_FABRIC, names)
        plan = plan if least.used else least
    if any(isinstance(use.cut, StripNeed) and use.cut.fixed for use in wanted):
        plan = replace(plan, cloths=tuple(_letters_first(cloth) for cloth in plan.cloths))
    rule = Rule(used=plan.used, extra=cloth_extra(design), step=step)
    return FabricPlan(
        fabric=fabric,
        uses=tuple(_use(use, plan) for use in wanted),
        demands=demands,
        supplies=supplies,
        plan=plan,
        rule=rule,
        precut=None if fabric.have else _precut(design, fabric, wanted, rule.buy),
    )


def _precut(design: Design, fabric: Fabric, wanted: Sequence[_Wanted], buy: Fraction) -> Precut | None:
    """The smallest precut that is not dearer than the yardage and that holds everything by a plan of its own."""
    near = precuts_near(
        fabric,
        design.yardage,
        design.units,
        needed=math.fsum(_area(use) for use in wanted),
        bought=buy * fabric.usable_width,
    )
    for precut, supply in near:
        if all(_has_room(use, supply) for use in wanted):
            grid = cutting_step(design.units)
            demands = [demand for use in wanted for demand in _demands_on(use, supply, grid)]
            with suppress(Refusal):  # a piece has no room in any of it
                if not _plan(demands, [supply], design, plan_of(fabric, design.yardage), {}).missing:
                    return precut
    return None


def _has_room(wanted: _Wanted, supply: Supply) -> bool:
    """Whether each piece alone has room in a piece of `supply`."""
    room = (supply.length or Fraction(0)) - 2 * supply.squaring
    if isinstance(wanted.cut, StripNeed):
        return all(fits(piece, width=float(room), height=float(supply.width)) for piece in wanted.cut.pieces)
    return all(
        min(one.length, one.width) <= min(room, supply.width)
        and max(one.length, one.width) <= max(room, supply.width)
        for one in wanted.demands
        if isinstance(one, Rectangle | Block)
    )


def _area(wanted: _Wanted) -> float:
    """The square inches of cloth below which no plan is worth a look: what is cut, and nine tenths of a nest, for
    several small nests hardly ever take less than one."""
    if isinstance(wanted.cut, StripNeed):
        return 0.9 * math.fsum(_covered(one.block) for one in wanted.blocks[:1])
    return math.fsum(
        min(math.fsum(_covered(one) for one in way) for way in demand.ways)
        if isinstance(demand, Choice)
        else _covered(demand)
        for demand in wanted.demands
    )


def _covered(one: Rectangle | Run | Block) -> float:
    return float(one.length * one.width * (one.count if isinstance(one, Rectangle) else 1))


def _demands_on(wanted: _Wanted, supply: Supply, grid: Fraction) -> tuple[Demand, ...]:
    """What is to be cut, letters nested on the pieces of `supply`."""
    return (
        _letters(wanted.cut, [supply], grid).demands if isinstance(wanted.cut, StripNeed) else wanted.demands
    )


def _plan(
    demands: Sequence[Demand],
    supplies: Sequence[Supply],
    design: Design,
    preference: Preference,
    names: Mapping[str, tuple[Message, Where]],
) -> CuttingPlan:
    return plan_cutting(
        demands,
        supplies,
        preference=preference,
        worth=_QUARTER_YARD,
        step=buying_step(design.units),
        grid=cutting_step(design.units),
        names=names,
        units=design.units,
    )


def _name(use: _Wanted) -> Message:
    """What a refusal calls the pieces of a use."""
    match use.kind:
        case UseKind.PANEL:
            return message("the panel")
        case UseKind.BACKING:
            return message("a length of the backing")
        case UseKind.BORDER:
            return message("a piece of border {number}", number=use.border or 0)
        case UseKind.BINDING:
            return message("the binding")
        case UseKind.SLEEVE:
            return message("the hanging sleeve")
        case UseKind.LETTERS:
            return message("the layout of the letters")
    assert_never(use.kind)


def _where(use: _Wanted) -> Where:
    match use.kind:
        case UseKind.BORDER:
            return Where.key("border", use.border or 0)
        case UseKind.SLEEVE:
            return Where.key("hanging")
        case UseKind.LETTERS:
            return Where.key("lettering")
        case _:
            return Where.key(use.kind.value)


def _all_keys(demands: Sequence[Demand]) -> Iterator[str]:
    for demand in demands:
        match demand:
            case Choice(ways=ways):
                yield from (one.key for way in ways for one in way)
            case Rectangle() | Run() | Block():
                yield demand.key
            case _:
                assert_never(demand)


def _use(wanted: _Wanted, plan: CuttingPlan) -> ClothUse:
    keys = set(_keys(wanted.demands, plan))
    found = Counter(
        (piece.key, piece.lie, *_sides(at, piece.lie))
        for cloth in plan.cloths
        for at, piece in cloth.root.pieces()
        if piece.key in keys
    )
    strips = tuple(
        Strips(key=key, length=length, width=width, count=count, lie=lie)
        for (key, lie, length, width), count in found.items()
    )
    runs = [demand for demand in _chosen(wanted.demands, plan) if isinstance(demand, Run)]
    joined = tuple(_joined(run, [one for one in strips if one.key == run.key], wanted.join) for run in runs)
    way = wanted.cut.ways[plan.ways["backing"]] if isinstance(wanted.cut, BackingPlan) else None
    return ClothUse(
        kind=wanted.kind,
        cut=wanted.cut,
        strips=strips,
        joined=tuple(run for run in joined if run is not None),
        border=wanted.border,
        way=way,
        blocks=tuple(one for one in wanted.blocks if one.key in keys),
    )


def _sides(at: Region, lie: Lie) -> tuple[Fraction, Fraction]:
    """Length and width of a piece where it lies."""
    return (at.length, at.width) if lie is Lie.ALONG else (at.width, at.length)


def _chosen(demands: Sequence[Demand], plan: CuttingPlan) -> Iterator[Rectangle | Run | Block]:
    """What is cut, of each choice the way that the plan takes."""
    for demand in demands:
        match demand:
            case Choice(key=key, ways=ways):
                yield from ways[plan.ways[key]]
            case Rectangle() | Run() | Block():
                yield demand
            case _:
                assert_never(demand)


def _keys(demands: Sequence[Demand], plan: CuttingPlan) -> Iterator[str]:
    return (demand.key for demand in _chosen(demands, plan))


def _joined(run: Run, strips: Sequence[Strips], join: Join | None) -> Joined | None:
    """How far the strips of a run reach; None where one strip is enough."""
    count = sum(one.count for one in strips)
    if count < 2 or join is None:
        return None
    reach = sum((one.length * one.count for one in strips), Fraction(0)) - (count - 1) * run.loss
    return Joined(key=run.key, join=join, strips=count, reach=reach, needed=run.length)


def _cut_as(use: ClothUse, keys: set[str]) -> Iterator[Template]:
    """The templates that the demands `keys` of letters are cut for."""
    if isinstance(use.cut, StripNeed):
        for one in use.blocks:
            if one.key in keys:
                yield from one.templates(use.cut)
        for number, large in enumerate(use.cut.joined, 1):
            if f"{_LETTERS}, {number}" in keys:
                yield large.template


def _letters_first(cloth: CutCloth) -> CutCloth:
    """The same cuts, with the band of the letters at the first end: fussy cuts are measured from there."""
    root = cloth.root
    if not isinstance(root.fill, Split) or root.fill.cut is Lie.ALONG:
        return cloth
    parts = sorted(
        root.fill.parts, key=lambda part: not any(piece.key == _LETTERS for _, piece in part.pieces())
    )
    moved, x = [], root.x
    for part in parts:
        moved.append(_moved(part, x - part.x))
        x += part.length
    return replace(cloth, root=replace(root, fill=replace(root.fill, parts=tuple(moved))))


def _moved(region: Region, by: Fraction) -> Region:
    fill = region.fill
    if isinstance(fill, Split):
        fill = replace(fill, parts=tuple(_moved(part, by) for part in fill.parts))
    return replace(region, x=region.x + by, fill=fill)
