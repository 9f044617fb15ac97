"""Everything to buy: each fabric's uses added up as lengths cut from one width, then rounded up once.

Lengths are exact inches. A leftover is what a fabric has beside or beyond what is cut from it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

from applique.buying import Rule, WashAndSquare
from applique.design import BackingKind, Design, Fabric, read_stock
from applique.nesting import fits, nest_bins
from applique.pieces import Template
from applique.quilt.finishing import BackingPlan, BattingPlan, SleevePlan
from applique.quilt.panel_cut import PanelCut
from applique.quilt.strips import ClothCut, squares_from
from applique.quilt.whole import QuiltPlan
from applique.sewing.stabilizer import StabilizerNeed
from applique.sewing.threads import ThreadNeed
from applique.units import buying_step
from applique.yardage import StripNeed

__all__ = [
    "ClothUse",
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
    "StashShort",
    "UseKind",
    "plan_shopping",
]

FAT_QUARTER: Final = (Fraction(21), Fraction(18))
"""Usable width and length of a fat quarter sold as 22 by 18 in."""
_QUARTER_YARD: Final = Fraction(9)
_MOST_FAT_QUARTERS: Final = 4
"""More than this many are dearer than yardage: common practice, no source."""
_LEAST_LEFTOVER: Final = Fraction(2)
"""Leftovers narrower than this are not worth a line."""
_BACKING_SEAM: Final = Fraction(1, 2)


class UseKind(StrEnum):
    """What a fabric is used for."""

    PANEL = "panel"
    BACKING = "backing"
    BORDER = "border"
    BINDING = "binding"
    SLEEVE = "hanging sleeve"
    LETTERS = "letters"


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


UseCut: TypeAlias = PanelCut | BackingPlan | ClothCut | SleevePlan | StripNeed
"""How a use is cut from its fabric: by its kind, a border and a binding from strips, letters as they are nested."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothUse:
    """What a fabric is used for, the length it takes, and how it is cut. `border` counts from 1, for borders alone."""

    kind: UseKind
    length: Fraction
    cut: UseCut
    border: int | None = None


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
    """One fabric to buy: its uses, what to buy by which rule, and a precut that would do."""

    fabric: Fabric
    uses: tuple[ClothUse, ...]
    rule: Rule[WashAndSquare]
    precut: Precut | None
    leftovers: tuple[Leftover, ...]

    @property
    def used(self) -> Fraction:
        """Inches of fabric that the uses take."""
        return self.rule.used

    @property
    def buy(self) -> Fraction:
        """Inches of fabric to buy."""
        return self.rule.buy


@dataclass(frozen=True, slots=True, kw_only=True)
class StashShort:
    """A fabric of which the maker has less than it takes: the letters that do not come out of it, with how many of
    each, or the uses where it is not letters alone.
    """

    fabric: Fabric
    letters: tuple[tuple[Template, int], ...]
    uses: tuple[ClothUse, ...]


ShelfItem: TypeAlias = FabricBuy | StripNeed | StabilizerNeed | BattingPlan | ThreadNeed | Notion
"""A thing on a shelf: cloth, web, stabilizer of one kind, batting, thread, a notion."""


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


def plan_shopping(
    design: Design,
    quilt: QuiltPlan,
    stabilizers: Sequence[StabilizerNeed],
    threads: Sequence[ThreadNeed],
    *,
    letters: Sequence[StripNeed],
    fusible: StripNeed,
    one_fabric: StripNeed | None,
) -> Shopping:
    """Everything the quilt takes, by fabric and by shelf."""

    def bought(*, backing: bool) -> list[FabricBuy]:
        uses = dict(_uses(quilt, letters, backing=backing))
        return [_buy(design, quilt, name, found) for name, found in _by_fabric(uses).items()]

    leftover_backing = None
    cloth = bought(backing=design.backing.kind is not BackingKind.LEFTOVERS)
    if design.backing.kind is BackingKind.LEFTOVERS:
        leftover_backing = _back_from(quilt, [piece for buy in cloth for piece in buy.leftovers])
        if not leftover_backing.enough:
            cloth = bought(backing=True)
    return Shopping(
        cloth=tuple(cloth),
        shelves=tuple(_shelves(quilt, stabilizers, threads, cloth, fusible)),
        leftover_backing=leftover_backing,
        one_fabric=one_fabric,
        short=tuple(short for buy in cloth if (short := _short(buy)) is not None),
    )


def _uses(
    quilt: QuiltPlan, letters: Sequence[StripNeed], *, backing: bool
) -> Iterator[tuple[tuple[str, int], ClothUse]]:
    """Each use under (fabric, its place in the order of cutting): large pieces first, letters last."""
    order = 0

    def under(fabric: str, use: ClothUse) -> tuple[tuple[str, int], ClothUse]:
        nonlocal order
        order += 1
        return (fabric, order), use

    fabrics = quilt.fabrics
    panel, back, binding, sleeve = quilt.panel, quilt.backing, quilt.binding.cut, quilt.sleeve
    yield under(fabrics.panel.name, ClothUse(kind=UseKind.PANEL, length=panel.length, cut=panel))
    if backing:
        yield under(fabrics.backing.name, ClothUse(kind=UseKind.BACKING, length=back.length, cut=back))
    for border in quilt.borders:
        for cut in border.cuts:
            use = ClothUse(kind=UseKind.BORDER, length=cut.length, cut=cut, border=border.number)
            yield under(cut.fabric, use)
    yield under(binding.fabric, ClothUse(kind=UseKind.BINDING, length=binding.length, cut=binding))
    if sleeve is not None:
        yield under(fabrics.sleeve.name, ClothUse(kind=UseKind.SLEEVE, length=sleeve.length, cut=sleeve))
    for need in letters:
        yield under(need.fabric, ClothUse(kind=UseKind.LETTERS, length=need.rule.wanted, cut=need))


def _by_fabric(uses: Mapping[tuple[str, int], ClothUse]) -> dict[str, tuple[ClothUse, ...]]:
    found: dict[str, list[ClothUse]] = {}
    for (fabric, _), use in uses.items():
        found.setdefault(fabric, []).append(use)
    return {fabric: tuple(list_) for fabric, list_ in found.items()}


def _buy(design: Design, quilt: QuiltPlan, name: str, uses: tuple[ClothUse, ...]) -> FabricBuy:
    fabric = quilt.fabrics.by_name[name]
    rule = Rule(
        used=sum((use.length for use in uses), Fraction(0)),
        extra=WashAndSquare(
            shrinkage_percent=design.cloth.shrinkage_percent, allowance=design.cloth.cutting_allowance
        ),
        step=buying_step(design.units),
    )
    return FabricBuy(
        fabric=fabric,
        uses=uses,
        rule=rule,
        precut=_precut(uses, rule.used),
        leftovers=tuple(_leftovers(quilt, fabric, uses, rule.buy - rule.used)),
    )


def _precut(uses: Sequence[ClothUse], used: Fraction) -> Precut | None:
    """A precut that would do instead of yardage; None if none would."""
    match uses:
        case [ClothUse(kind=UseKind.BORDER, cut=ClothCut(across=across) as cut)] if across:
            if squares_from(FAT_QUARTER[1], FAT_QUARTER[0], cut.strip_width) >= cut.count:
                return Precut(kind=PrecutKind.FAT_QUARTER, count=1)
        case [ClothUse(cut=StripNeed() as need)]:
            quarters = _fat_quarters(need)
            if quarters:
                return Precut(kind=PrecutKind.FAT_QUARTER, count=quarters)
    return Precut(kind=PrecutKind.QUARTER_YARD, count=1) if used <= _QUARTER_YARD else None


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
    """What does not come out of what the maker has of a fabric; None if everything does, or nobody can tell."""
    stock = read_stock(buy.fabric.have)
    if stock is None:
        return None
    count, length, width = stock
    if width is None and buy.used <= count * length:
        return None
    match buy.uses:
        case [ClothUse(cut=StripNeed(nest=nest, joined=()) as need)] if nest is not None:
            across = float(width or buy.fabric.usable_width)
            left = _not_held(need, count, length=float(length), across=across, spacing=nest.spacing)
            return StashShort(fabric=buy.fabric, letters=left, uses=()) if left else None
        case [ClothUse(kind=UseKind.LETTERS)] if width is not None:
            return None
        case _:
            return StashShort(fabric=buy.fabric, letters=(), uses=buy.uses)


def _not_held(
    need: StripNeed, sheets: int, *, length: float, across: float, spacing: float
) -> tuple[tuple[Template, int], ...]:
    """The letters, with how many of each, that find no room on so many sheets of cloth."""
    held = [piece for piece in need.pieces if fits(piece, width=length, height=across)]
    nest = nest_bins(held, width=length, height=across, spacing=spacing) if held else None
    left = Counter({piece.key: piece.count for piece in need.pieces if piece not in held})
    left.update(spot.key for sheet in (nest.bins[sheets:] if nest else ()) for spot in sheet)
    return tuple((need.templates[key], count) for key, count in left.items())


def _leftovers(
    quilt: QuiltPlan, fabric: Fabric, uses: Sequence[ClothUse], rest: Fraction
) -> Iterator[Leftover]:
    """What stays beside the panel, and the end of the length that is bought."""
    if quilt.panel.leftover is not None and any(use.kind is UseKind.PANEL for use in uses):
        length, width = quilt.panel.leftover
        if width >= _LEAST_LEFTOVER:
            yield Leftover(fabric=fabric.name, length=length, width=width)
    if rest >= _LEAST_LEFTOVER:
        yield Leftover(fabric=fabric.name, length=rest, width=fabric.usable_width)


def _back_from(quilt: QuiltPlan, pieces: Sequence[Leftover]) -> LeftoverBacking:
    """The back pieced in rows from leftovers, the rows lying across or standing up, whichever reaches further."""
    width, height = quilt.backing.width, quilt.backing.height
    lying, standing = _rows_from(pieces, width, height), _rows_from(pieces, height, width)
    (rows, reached), goal, lies = max(
        ((lying, height, True), (standing, width, False)), key=lambda tried: tried[0][1] / tried[1]
    )
    return LeftoverBacking(rows=rows, lies=lies, reached=reached, goal=goal)


def _rows_from(
    pieces: Sequence[Leftover], across: Fraction, down: Fraction
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
            long += max(piece.length, piece.width) - (_BACKING_SEAM if row else 0)
            row.append(piece)
        if long < across:
            break
        rows.append(tuple(row))
        reached += min(min(piece.length, piece.width) for piece in row) - (
            _BACKING_SEAM if len(rows) > 1 else 0
        )
    return tuple(rows), reached


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
