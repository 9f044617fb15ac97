"""What every fabric is cut into, and the cutting plan that has it all: the only source of how much cloth to buy.

Exact inches after washing; the frame of a plan is that of `cutting`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
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
    Rectangle,
    Region,
    Run,
    Split,
    Supply,
    plan_cutting,
)
from applique.cutting.diagram import Diagram, draw_cloth
from applique.design import BackingKind, Design, Fabric, Turns
from applique.leftovers import Leftover, LeftoverBacking, back_from
from applique.quilt.finishing import BackingPlan, BackingWay, SleevePlan
from applique.quilt.panel_cut import PanelCut
from applique.quilt.strips import ClothCut, CutKind, CutPieces, Join, join_loss
from applique.quilt.whole import QuiltPlan
from applique.supplies import bolt_of, plan_of, supplies_of
from applique.units import buying_step, cutting_step, round_up
from applique.yardage import StripNeed

__all__ = [
    "ClothPlan",
    "ClothUse",
    "FabricPlan",
    "Joined",
    "Strips",
    "UseKind",
    "cloth_extra",
    "plan_cloth",
]

_LEAST_STRIP: Final = Fraction(12)
"""Strips shorter than this are not worth joining: common practice, no source."""
_LEAST_LEFTOVER: Final = Fraction(2)
"""Leftovers narrower than this are not worth a line."""
_QUARTER_YARD: Final = Fraction(9)


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

    `way` is the way that a backing is pieced, for backings alone.
    """

    kind: UseKind
    cut: UseCut
    strips: tuple[Strips, ...]
    joined: tuple[Joined, ...]
    border: int | None = None
    way: BackingWay | None = None

    @property
    def keys(self) -> tuple[str, ...]:
        """The demands of the plan that are cut for it, in the order of the plan."""
        return tuple(dict.fromkeys(strips.key for strips in self.strips))


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricPlan:
    """How one fabric is cut, and how much of it to buy: by which rule, from what is used between squared ends."""

    fabric: Fabric
    uses: tuple[ClothUse, ...]
    supplies: tuple[Supply, ...]
    plan: CuttingPlan
    rule: Rule[WashAndSquare]

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
class ClothPlan:
    """How every fabric of a quilt is cut, in the order in which they are first needed: panel first, letters last.

    `leftover_backing` is there if the back should come from what is left of the others.
    """

    fabrics: tuple[FabricPlan, ...]
    leftover_backing: LeftoverBacking | None

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


def cloth_extra(design: Design) -> WashAndSquare:
    """What every fabric of a design loses before it is cut."""
    return WashAndSquare(
        shrinkage_percent=int(design.yardage.shrinkage * 100), squaring=design.yardage.squaring
    )


def plan_cloth(design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed]) -> ClothPlan:
    """How every fabric of the quilt is cut, and whether the back comes from leftovers where it should.

    Cloth is cut for the back where the leftovers are not enough.

    Raises:
        Refusal: what is larger than any cloth it should come from, strips that their joins eat up, every one at once.
    """
    if design.backing.kind is not BackingKind.LEFTOVERS:
        return ClothPlan(fabrics=_fabrics(design, quilt, letters, backing=True), leftover_backing=None)
    fabrics = _fabrics(design, quilt, letters, backing=False)
    left = [piece for plan in fabrics for piece in plan.leftovers]
    back = back_from(quilt.backing, left, 2 * design.seam_allowance)
    if not back.enough:
        fabrics = _fabrics(design, quilt, letters, backing=True)
    return ClothPlan(fabrics=fabrics, leftover_backing=back)


def _fabrics(
    design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed], *, backing: bool
) -> tuple[FabricPlan, ...]:
    wanted: dict[str, list[_Wanted]] = {}
    for fabric, use in _wanted(design, quilt, letters, backing=backing):
        wanted.setdefault(fabric.name, []).append(use)
    return tuple(_planned(design, quilt.fabrics.by_name[name], uses) for name, uses in wanted.items())


# What is wanted


def _wanted(
    design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed], *, backing: bool
) -> Iterator[tuple[Fabric, _Wanted]]:
    fabrics, allowance = quilt.fabrics, design.seam_allowance
    yield fabrics.panel, _panel(quilt.panel, fabrics.panel)
    if backing:
        yield fabrics.backing, _backing(quilt.backing)
    for border in quilt.borders:
        for number, cut in enumerate(border.cuts, 1):
            fabric = fabrics.by_name[cut.fabric]
            key = f"border {border.number}, {number}"
            yield fabric, _of_border(cut, fabric, key, border.number, allowance)
    yield fabrics.binding, _binding(quilt.binding.cut, allowance)
    if quilt.sleeve is not None:
        yield fabrics.sleeve, _sleeve(quilt.sleeve, allowance)
    for need in letters:
        yield fabrics.by_name[need.fabric], _letters(need, cutting_step(design.units))


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
    group: Sequence[CutPieces], width: Fraction, key: str, lies: tuple[Lie, ...], loss: Fraction
) -> Choice:
    """Long strips, each whole, or joined into one run and then cut, whichever takes less cloth."""
    whole = tuple(_piece(pieces, width, f"{key}.{number}", lies) for number, pieces in enumerate(group, 1))
    needed = sum((pieces.length * pieces.count for pieces in group), Fraction(0))
    run = Run(
        key=f"{key} joined", width=width, length=needed, loss=loss, least=min(_LEAST_STRIP, needed), lies=lies
    )
    return Choice(key=key, ways=(whole, (run,)))


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


def _letters(need: StripNeed, step: Fraction) -> _Wanted:
    """The nest as one block, and for each letter wider than the cloth the widths that are laid side by side."""
    demands: list[Demand] = []
    if need.nest is not None:
        shapes = {piece.key: piece.shape for piece in need.pieces}
        reach = max(spot.place.shape(shapes[spot.key]).bounds[3] for spot in need.nest.placements)
        width = need.usable_width if need.fixed else min(_up(reach, step), need.usable_width)
        demands.append(Block(key="letters", length=_up(need.nest.length, step), width=width))
    for number, large in enumerate(need.joined, 1):
        demands.append(
            Rectangle(
                key=f"letters, {number}",
                length=round_up(large.length, step),
                width=need.usable_width,
                count=large.count * large.widths,
                lies=(Lie.ALONG,),
            )
        )
    return _Wanted(kind=UseKind.LETTERS, cut=need, demands=tuple(demands))


def _up(length: float, step: Fraction) -> Fraction:
    """A measured length up to the next `step`; float noise below 1e-9 does not count."""
    return round_up(Fraction(length - 1e-9), step)


# What is planned


def _planned(design: Design, fabric: Fabric, wanted: Sequence[_Wanted]) -> FabricPlan:
    supplies = (*supplies_of(fabric, design.yardage), bolt_of(fabric, design.yardage))
    demands = [demand for use in wanted for demand in use.demands]
    step = buying_step(design.units)
    plan = plan_cutting(
        demands,
        supplies,
        preference=plan_of(fabric, design.yardage),
        worth=_QUARTER_YARD,
        step=step,
        grid=cutting_step(design.units),
    )
    if any(isinstance(use.cut, StripNeed) and use.cut.fixed for use in wanted):
        plan = replace(plan, cloths=tuple(_letters_first(cloth) for cloth in plan.cloths))
    return FabricPlan(
        fabric=fabric,
        uses=tuple(_use(use, plan) for use in wanted),
        supplies=supplies,
        plan=plan,
        rule=Rule(used=plan.used, extra=cloth_extra(design), step=step),
    )


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


def _letters_first(cloth: CutCloth) -> CutCloth:
    """The same cuts, with the band of the letters at the first end: fussy cuts are measured from there."""
    root = cloth.root
    if not isinstance(root.fill, Split) or root.fill.cut is Lie.ALONG:
        return cloth
    parts = sorted(
        root.fill.parts, key=lambda part: not any(piece.key == "letters" for _, piece in part.pieces())
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
