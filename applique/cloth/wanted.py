"""What is to be cut from every fabric, use by use, before anything is planned. Exact inches after washing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.cloth.values import LETTERS, UseCut, UseKind
from applique.cutting import Choice, Demand, Lie, Rectangle, Run, Supply
from applique.design import Design, Fabric, Turns
from applique.letter_blocks import LetterBlock, blocks_on, narrow_blocks, one_block
from applique.quilt.banner import Ties
from applique.quilt.finishing import BackingPlan, SleevePlan
from applique.quilt.panel_cut import PanelCut
from applique.quilt.pillow import PillowPlan
from applique.quilt.setting import SetPart
from applique.quilt.strips import ClothCut, CutKind, CutPieces, Extent, Join, join_loss
from applique.quilt.whole import PanelToCut, QuiltPlan
from applique.supplies import supplies_of
from applique.units import Units, cutting_step, round_up
from applique.yardage import StripNeed

__all__ = ["NESTED", "Wanted", "fabrics_beside_letters", "wanted_on", "wanted_uses"]

_LEAST_STRIP: Final = Fraction(12)
"""Strips shorter than this are not worth joining: common practice, no source."""
NESTED: Final = "letters-nested"
"""The key of the choice between blocks of letters: one, a narrower one, several."""


_SET_AS: Final = {
    SetPart.PLAIN: UseKind.PLAIN_BLOCKS,
    SetPart.SASHING: UseKind.SASHING,
    SetPart.CORNERSTONES: UseKind.CORNERSTONES,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A use with what is to be cut for it, before anything is planned."""

    kind: UseKind
    cut: UseCut
    demands: tuple[Demand, ...]
    join: Join | None = None
    border: int | None = None
    blocks: tuple[LetterBlock, ...] = ()
    panels: tuple[PanelToCut, ...] = ()


def wanted_uses(
    design: Design, quilt: QuiltPlan, letters: Sequence[StripNeed], backing: BackingPlan | None
) -> Iterator[tuple[Fabric, Wanted]]:
    """Every use with its fabric, panel first, letters last; that of the back if `backing` is bought."""
    fabrics, allowance = quilt.fabrics, design.seam_allowance
    for number, alike in enumerate(_of_one_size(quilt.panels), 1):
        key = "panel"
        yield fabrics.panel, _panel(alike, fabrics.panel, key if number == 1 else f"{key}, {number}")
    for number, (part, cut) in enumerate(quilt.setting.cuts if quilt.setting is not None else (), 1):
        fabric = fabrics.by_name[cut.fabric]
        yield fabric, _of_setting(_SET_AS[part], cut, fabric, f"{part.value} {number}", allowance)
    if backing is not None and backing.ways:
        yield fabrics.backing, _backing(backing)
    for border in quilt.borders:
        for number, cut in enumerate(border.cuts, 1):
            fabric = fabrics.by_name[cut.fabric]
            key = f"border {border.number}, {number}"
            yield fabric, _of_border(cut, fabric, key, border.number, allowance)
    if quilt.binding is not None:
        yield fabrics.binding, _binding(quilt.binding.cut, allowance)
    if quilt.sleeve is not None:
        yield fabrics.sleeve, _sleeve(quilt.sleeve, allowance)
    if quilt.pillow is not None:
        yield fabrics.backing, _pillow(quilt.pillow, fabrics.backing)
    if quilt.ties is not None:
        yield fabrics.ties, _ties(quilt.ties)
    for need in letters:
        fabric = fabrics.by_name[need.fabric]
        held = supplies_of(fabric, design.yardage, design.units)
        yield fabric, _letters(need, held, design.units)


def fabrics_beside_letters(design: Design, quilt: QuiltPlan) -> frozenset[str]:
    """The names of the fabrics of which something other than letters is cut."""
    return frozenset(fabric.name for fabric, _ in wanted_uses(design, quilt, (), quilt.backing))


def _of_one_size(panels: Sequence[PanelToCut]) -> Iterator[tuple[PanelToCut, ...]]:
    """The panels that are cut alike, together."""
    found: dict[tuple[PanelCut, Extent, bool], list[PanelToCut]] = {}
    for panel in panels:
        found.setdefault((panel.cut, panel.finished, panel.is_shaped), []).append(panel)
    yield from map(tuple, found.values())


def _panel(panels: tuple[PanelToCut, ...], fabric: Fabric, key: str) -> Wanted:
    """Panels that are cut alike."""
    one_way, panel = fabric.turns is Turns.UPRIGHT, panels[0].cut
    demands: tuple[Demand, ...]
    if panel.seam is None:
        lies = (Lie.ALONG,) if one_way else (Lie.ALONG, Lie.ACROSS)
        count = sum(one.count for one in panels)
        demands = (Rectangle(key=key, length=panel.height, width=panel.width, count=count, lies=lies),)
    else:
        demands = tuple(
            Rectangle(key=f"panel, {number}", length=panel.along, width=width, count=1, lies=(Lie.ALONG,))
            for number, width in enumerate(panel.widths, 1)
        )
    return Wanted(kind=UseKind.PANEL, cut=panel, demands=demands, panels=panels)


def _backing(backing: BackingPlan) -> Wanted:
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
    return Wanted(kind=UseKind.BACKING, cut=backing, demands=(Choice(key="backing", ways=ways),))


def _of_border(cut: ClothCut, fabric: Fabric, key: str, border: int, allowance: Fraction) -> Wanted:
    one_way = fabric.turns is Turns.UPRIGHT
    demands: tuple[Demand, ...]
    if cut.join is None:
        demands = tuple(
            Rectangle(key=f"{key}, {number}", length=length, width=cut.strip_width, count=count, lies=(lie,))
            for number, ((length, lie), count) in enumerate(_alike(cut, one_way=one_way), 1)
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
    return Wanted(kind=UseKind.BORDER, cut=cut, demands=demands, join=cut.join, border=border)


def _of_setting(kind: UseKind, cut: ClothCut, fabric: Fabric, key: str, allowance: Fraction) -> Wanted:
    """Pieces between blocks; long strips may be joined. A one-way print stands upright in all of them."""
    one_way = fabric.turns is Turns.UPRIGHT
    either = (Lie.ACROSS, Lie.ALONG)
    if cut.join is not None:
        lies = (_upright(cut.pieces[0]),) if one_way else either
        loss = join_loss(cut.join, cut.strip_width, seam_allowance=allowance)
        long = _long_strips(cut.pieces, cut.strip_width, key, lies, loss, fabric.usable_width)
        return Wanted(kind=kind, cut=cut, demands=(long,), join=cut.join)
    counts: Counter[tuple[Fraction, tuple[Lie, ...]]] = Counter()
    for pieces in cut.pieces:
        counts[pieces.length, (_upright(pieces),) if one_way else either] += pieces.count
    demands = tuple(
        Rectangle(key=f"{key}, {number}", length=length, width=cut.strip_width, count=count, lies=lies)
        for number, ((length, lies), count) in enumerate(counts.items(), 1)
    )
    return Wanted(kind=kind, cut=cut, demands=demands)


def _alike(cut: ClothCut, *, one_way: bool) -> Iterator[tuple[tuple[Fraction, Lie], int]]:
    """The pieces of a cut by length and how they lie, with how many there are: on which side they are sewn tells
    nothing apart, except that a one-way print stands upright."""
    counts: Counter[tuple[Fraction, Lie]] = Counter()
    for pieces in cut.pieces:
        lie = Lie.ALONG
        if cut.kind is CutKind.RECTANGLES:
            lie = _upright(pieces) if one_way else Lie.ACROSS
        counts[pieces.length, lie] += pieces.count
    yield from counts.items()


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


def _binding(cut: ClothCut, allowance: Fraction) -> Wanted:
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
    return Wanted(kind=UseKind.BINDING, cut=cut, demands=(demand,), join=cut.join)


def _sleeve(sleeve: SleevePlan, allowance: Fraction) -> Wanted:
    run = Run(
        key="sleeve",
        width=sleeve.cut_depth,
        length=sleeve.cut_length,
        loss=join_loss(Join.STRAIGHT, sleeve.cut_depth, seam_allowance=allowance),
        least=min(_LEAST_STRIP, sleeve.cut_length),
        lies=(Lie.ACROSS, Lie.ALONG),
    )
    return Wanted(kind=UseKind.SLEEVE, cut=sleeve, demands=(run,), join=Join.STRAIGHT)


def _pillow(pillow: PillowPlan, fabric: Fabric) -> Wanted:
    """The two halves of the back; a one-way print stands upright in both."""
    long, deep = pillow.long, pillow.deep
    length, width = (long, deep) if pillow.upright else (deep, long)
    lies = (Lie.ALONG,) if fabric.turns is Turns.UPRIGHT else (Lie.ALONG, Lie.ACROSS)
    halves = Rectangle(key="pillow", length=length, width=width, count=2, lies=lies)
    return Wanted(kind=UseKind.PILLOW, cut=pillow, demands=(halves,))


def _ties(ties: Ties) -> Wanted:
    strips = Rectangle(
        key="ties", length=ties.length, width=ties.width, count=ties.count, lies=(Lie.ACROSS, Lie.ALONG)
    )
    return Wanted(kind=UseKind.TIES, cut=ties, demands=(strips,))


def _letters(need: StripNeed, held: Sequence[Supply], units: Units) -> Wanted:
    """The nest as one block, or where some is held as a narrower one or in blocks on it, whichever suits the cloth; and
    for each letter wider than the cloth the pieces that are sewn side by side.
    """
    demands: list[Demand] = []
    one, several = one_block(need, LETTERS, units), blocks_on(need, held, LETTERS, units)
    narrow = narrow_blocks(need, f"{LETTERS} narrow", units) if held else ()
    nested = [*([(one,)] if one else []), *((each,) for each in narrow), *([several] if several else [])]
    if len(nested) > 1:
        ways = tuple(tuple(each.block for each in blocks) for blocks in nested)
        demands.append(Choice(key=NESTED, ways=ways))
    elif one is not None:
        demands.append(one.block)
    for number, large in enumerate(need.joined, 1):
        demands.append(
            Rectangle(
                key=f"{LETTERS}, {number}",
                length=round_up(large.length, cutting_step(units)),
                width=large.each,
                count=large.count * large.widths,
                lies=(Lie.ALONG,),
            )
        )
    blocks = tuple(each for together in nested for each in together)
    return Wanted(kind=UseKind.LETTERS, cut=need, demands=tuple(demands), blocks=blocks)


def wanted_on(wanted: Wanted, supply: Supply, units: Units) -> Wanted:
    """The same, letters nested on the pieces of `supply`."""
    return _letters(wanted.cut, [supply], units) if isinstance(wanted.cut, StripNeed) else wanted
