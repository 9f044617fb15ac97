"""Everything to buy: each fabric's uses added up as lengths cut from one width, then rounded up once.

Lengths are exact inches. A leftover is what a fabric has beside or beyond what is cut from it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import BackingKind, Design, Fabric, read_stock
from applique.errors import Notice, Where
from applique.language import Measure
from applique.nesting import fits, nest_bins
from applique.quilt.strips import ClothCut, squares_from
from applique.quilt.whole import QuiltPlan
from applique.sewing.plan import RowPlan, StabilizerKind, StitchPlan
from applique.sewing.quilting import QuiltingPlan
from applique.units import Units, as_length, as_yardage, round_up, telling_apart
from applique.yardage import EIGHTH_YARD, TEN_CENTIMETERS, StripNeed

__all__ = ["ClothUse", "FabricBuy", "Leftover", "LeftoverBacking", "Shelf", "Shopping", "plan_shopping"]

FAT_QUARTER: Final = (Fraction(21), Fraction(18))
"""Usable width and length of a fat quarter sold as 22 by 18 in."""
_QUARTER_YARD: Final = Fraction(9)
_MOST_FAT_QUARTERS: Final = 4
"""More than this many are dearer than yardage: common practice, no source."""
_LEAST_LEFTOVER: Final = Fraction(2)
"""Leftovers narrower than this are not worth a line."""
_BACKING_SEAM: Final = Fraction(1, 2)
_NOTIONS: Final = (
    "removable marking pen",
    "sharp small scissors",
    "press cloth",
    "basting pins or spray",
    "needles to suit the thread",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothUse:
    """What a fabric is used for, the length it takes, and how it is cut, in words."""

    what: str
    length: Fraction
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover:
    """A rectangle that is left of a fabric: `length` along the selvage, `width` across."""

    fabric: str
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricBuy:
    """One fabric to buy: its uses, their sum, and what to buy with the rule in words and a precut that would do."""

    fabric: Fabric
    uses: tuple[ClothUse, ...]
    used: Fraction
    buy: Fraction
    rule: str
    precut: str
    leftovers: tuple[Leftover, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What to look for on one shelf of the shop."""

    name: str
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftoverBacking:
    """Whether the back can be pieced from what is left: the leftovers row by row, or why not."""

    rows: tuple[tuple[Leftover, ...], ...]
    enough: bool
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopping:
    """All to buy. `one_fabric` is what the letters would take from a single fabric, if they come from several."""

    cloth: tuple[FabricBuy, ...]
    shelves: tuple[Shelf, ...]
    leftover_backing: LeftoverBacking | None
    one_fabric: StripNeed | None
    notices: tuple[Notice, ...]


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
    """Everything the quilt takes, by fabric and by shelf."""

    def bought(*, backing: bool) -> list[FabricBuy]:
        uses = dict(_uses(quilt, letters, backing=backing, units=design.units))
        return [_buy(design, quilt, name, found, letters) for name, found in _by_fabric(uses).items()]

    leftover_backing = None
    notices: list[Notice] = []
    cloth = bought(backing=design.backing.kind is not BackingKind.LEFTOVERS)
    if design.backing.kind is BackingKind.LEFTOVERS:
        leftover_backing = _back_from(
            quilt, [piece for buy in cloth for piece in buy.leftovers], design.units
        )
        if not leftover_backing.enough:
            cloth = bought(backing=True)
            notices.append(
                Notice(
                    what=leftover_backing.words, where=Where.key("backing"), fix='kind = "cloth" or "wide"'
                )
            )
    notices += [notice for buy in cloth if (notice := _stock_notice(buy, letters)) is not None]
    return Shopping(
        cloth=tuple(cloth),
        shelves=tuple(_shelves(design, quilt, stitching, quilting, cloth, fusible)),
        leftover_backing=leftover_backing,
        one_fabric=one_fabric,
        notices=tuple(notices),
    )


def _uses(
    quilt: QuiltPlan, letters: Sequence[StripNeed], *, backing: bool, units: Units
) -> Iterator[tuple[tuple[str, int], ClothUse]]:
    """Each use under (fabric, its place in the order of cutting): large pieces first, letters last."""
    order = 0

    def under(fabric: str, use: ClothUse) -> tuple[tuple[str, int], ClothUse]:
        nonlocal order
        order += 1
        return (fabric, order), use

    fabrics = quilt.fabrics
    yield under(fabrics.panel.name, ClothUse(what="panel", length=quilt.panel.length, how=quilt.panel.how))
    if backing:
        yield under(fabrics.backing.name, _backing_use(quilt))
    for border in quilt.borders:
        for cut in border.cuts:
            yield under(cut.fabric, _cut_use(f"border {border.number}, {cut.what}", cut))
    yield under(quilt.binding.cut.fabric, _cut_use("binding", quilt.binding.cut))
    if quilt.sleeve is not None:
        sleeve = quilt.sleeve
        strips = -(-sleeve.cut_length // fabrics.sleeve.usable_width)
        use = ClothUse(
            what="hanging sleeve",
            length=strips * sleeve.cut_depth,
            how=_sleeve_words(quilt, int(strips), units),
        )
        yield under(fabrics.sleeve.name, use)
    for need in letters:
        length = need.used * (100 + need.extra_percent) / 100
        how = f"nested, and {need.extra_percent} % more"
        yield under(need.material, ClothUse(what="letters", length=length, how=how))


def _sleeve_words(quilt: QuiltPlan, strips: int, units: Units) -> str:
    if quilt.sleeve is None:
        return ""
    size = f"{as_length(quilt.sleeve.cut_length, units)} by {as_length(quilt.sleeve.cut_depth, units)}"
    return f"one of {size}" + (f", joined from {strips} strips across the fabric" if strips > 1 else "")


def _cut_use(what: str, cut: ClothCut) -> ClothUse:
    return ClothUse(what=what, length=cut.length, how=cut.how)


def _backing_use(quilt: QuiltPlan) -> ClothUse:
    return ClothUse(what="backing", length=quilt.backing.length, how=quilt.backing.how)


def _by_fabric(uses: Mapping[tuple[str, int], ClothUse]) -> dict[str, tuple[ClothUse, ...]]:
    found: dict[str, list[ClothUse]] = {}
    for (fabric, _), use in uses.items():
        found.setdefault(fabric, []).append(use)
    return {fabric: tuple(list_) for fabric, list_ in found.items()}


def _buy(
    design: Design, quilt: QuiltPlan, name: str, uses: tuple[ClothUse, ...], letters: Sequence[StripNeed]
) -> FabricBuy:
    units, extra = design.units, design.cloth
    fabric = quilt.fabrics.by_name[name]
    used = sum((use.length for use in uses), Fraction(0))
    wanted = used * (100 + extra.shrinkage_percent) / 100 + extra.cutting_allowance
    buy = round_up(wanted, EIGHTH_YARD if units is Units.INCHES else TEN_CENTIMETERS)
    return FabricBuy(
        fabric=fabric,
        uses=uses,
        used=used,
        buy=buy,
        rule=_rule(design, used, wanted),
        precut=_precut(quilt, fabric, uses, letters, used),
        leftovers=tuple(_leftovers(quilt, fabric, uses, buy - used)),
    )


def _rule(design: Design, used: Fraction, wanted: Fraction) -> str:
    units, extra = design.units, design.cloth
    words = f"{as_length(used, units, denominator=16)} used"
    if extra.shrinkage_percent:
        words += f", {extra.shrinkage_percent} % for shrinkage"
    if extra.cutting_allowance:
        words += f", {as_length(extra.cutting_allowance, units)} to square up"
    if wanted != used:
        words += f": {as_length(wanted, units, denominator=16)}"
    return words + (", up to the next 1/8 yd" if units is Units.INCHES else ", up to the next 10 cm")


def _precut(
    quilt: QuiltPlan, fabric: Fabric, uses: Sequence[ClothUse], letters: Sequence[StripNeed], used: Fraction
) -> str:
    """A precut that would do instead of yardage, in words; empty if none would."""
    cuts = [cut for border in quilt.borders for cut in border.cuts if cut.fabric == fabric.name]
    if len(uses) == 1 and len(cuts) == 1 and cuts[0].across:
        size, count = cuts[0].strip_width, cuts[0].count
        if squares_from(FAT_QUARTER[1], FAT_QUARTER[0], size) >= count:
            return "a fat quarter would do"
    if len(uses) == 1 and not cuts and uses[0].what == "letters":
        quarters = _fat_quarters(fabric.name, letters)
        if quarters:
            return "a fat quarter would do" if quarters == 1 else f"{quarters} fat quarters would do"
    return "a quarter yard would do" if used <= _QUARTER_YARD else ""


def _fat_quarters(fabric: str, letters: Sequence[StripNeed]) -> int:
    """The fewest fat quarters found that hold the letters of `fabric`; 0 where yardage is the better buy."""
    need = next(need for need in letters if need.material == fabric)
    width, length = (float(side) for side in FAT_QUARTER)
    if need.joined or need.nest is None or need.used > _MOST_FAT_QUARTERS * FAT_QUARTER[1]:
        return 0
    if not all(fits(piece, width=length, height=width) for piece in need.pieces):
        return 0
    count = len(nest_bins(need.pieces, width=length, height=width, spacing=need.nest.spacing).bins)
    return count if count <= _MOST_FAT_QUARTERS else 0


def _stock_notice(buy: FabricBuy, letters: Sequence[StripNeed]) -> Notice | None:
    """Whether what the maker has of a fabric is enough, and if not, what does not come out of it."""
    stock = read_stock(buy.fabric.have)
    if stock is None:
        return None
    count, length, width = stock
    others = [use.what for use in buy.uses if use.what != "letters"]
    need = next((need for need in letters if need.material == buy.fabric.name), None)
    if width is None and buy.used <= count * length:
        return None
    if others or need is None or need.nest is None or need.joined:
        return (
            None if width is not None and not others else _short(buy, ", ".join(use.what for use in buy.uses))
        )
    across = float(width or buy.fabric.usable_width)
    held = [piece for piece in need.pieces if fits(piece, width=float(length), height=across)]
    nest = nest_bins(held, width=float(length), height=across, spacing=need.nest.spacing) if held else None
    left = [piece.key for piece in need.pieces if piece not in held for _ in range(piece.count)]
    left += [spot.key for sheet in (nest.bins[count:] if nest else ()) for spot in sheet]
    return _short(buy, need.words_for(left)) if left else None


def _short(buy: FabricBuy, missing: str) -> Notice:
    return Notice(
        what=f"{buy.fabric.have} of {buy.fabric.name} do not hold everything: {missing} would have to come from more",
        where=Where.key("fabric"),
        fix="more of it, smaller letters, or another fabric for some",
    )


def _leftovers(
    quilt: QuiltPlan, fabric: Fabric, uses: Sequence[ClothUse], rest: Fraction
) -> Iterator[Leftover]:
    """What stays beside the panel, and the end of the length that is bought."""
    if quilt.panel.leftover is not None and any(use.what == "panel" for use in uses):
        length, width = quilt.panel.leftover
        if width >= _LEAST_LEFTOVER:
            yield Leftover(fabric=fabric.name, length=length, width=width)
    if rest >= _LEAST_LEFTOVER:
        yield Leftover(fabric=fabric.name, length=rest, width=fabric.usable_width)


def _back_from(quilt: QuiltPlan, pieces: Sequence[Leftover], units: Units) -> LeftoverBacking:
    """The back pieced in rows from leftovers, the rows lying across or standing up, whichever reaches further."""
    width, height = quilt.backing.width, quilt.backing.height
    lying, standing = _rows_from(pieces, width, height), _rows_from(pieces, height, width)
    (rows, reached), goal, way = max(
        ((lying, height, "lying across"), (standing, width, "standing upright")),
        key=lambda tried: tried[0][1] / tried[1],
    )
    enough = reached >= goal
    said = telling_apart([(reached, goal)], units)
    words = (
        f"the leftovers make the back in {len(rows)} row{'s' if len(rows) > 1 else ''}, {way}"
        if enough
        else f"the leftovers reach {said(reached)} of {said(goal)}; buy cloth for the back, or add to them"
    )
    return LeftoverBacking(rows=rows, enough=enough, words=words)


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
    design: Design,
    quilt: QuiltPlan,
    stitching: StitchPlan,
    quilting: Sequence[QuiltingPlan],
    cloth: Sequence[FabricBuy],
    fusible: StripNeed,
) -> Iterator[Shelf]:
    units = design.units

    def said(length: Fraction | float) -> Measure:
        return as_length(length, units)

    yield Shelf(
        name="Cloth",
        items=tuple(
            f"{buy.fabric.name}: {as_yardage(buy.buy, units)}, {said(buy.fabric.usable_width)} usable"
            for buy in cloth
        ),
    )
    yield Shelf(
        name=fusible.material.capitalize(),
        items=(f"{as_yardage(fusible.buy, units)}, {said(fusible.usable_width)} wide",),
    )
    stabilizers = [words for row in stitching.rows if (words := _stabilizer(row, units))]
    if stabilizers:
        yield Shelf(name="Stabilizer", items=tuple(stabilizers))
    batting = quilt.batting
    size = f"{said(batting.width)} by {said(batting.height)}"
    sold = (
        f" ({said(Fraction(batting.sold[0]))} by {said(Fraction(batting.sold[1]))})" if batting.sold else ""
    )
    yield Shelf(name="Batting", items=(f"{batting.name}{sold}, to cover {size}",))
    yield Shelf(name="Thread", items=tuple(_threads(design, stitching, quilting)))
    yield Shelf(name="Notions", items=_NOTIONS)


def _threads(design: Design, stitching: StitchPlan, quilting: Sequence[QuiltingPlan]) -> Iterator[str]:
    for need in stitching.threads:
        yield (
            f"to match {need.name}, for the letters: {_long(need.length, design.units)}, "
            f"{_spools(need.spools, design)}"
        )
    yield "for piecing"
    if not quilting:
        yield "for quilting"
        return
    length = sum(plan.thread for plan in quilting)
    spools = math.ceil(length / float(design.stitching.spool))
    yield f"for quilting: {_long(length, design.units)}, {_spools(spools, design)}"


def _spools(count: int, design: Design) -> str:
    each = _long(float(design.stitching.spool), design.units)
    return f"{count} spool{'s' if count > 1 else ''} of {each}"


def _long(length: float, units: Units) -> str:
    """A length of thread, in whole yards or meters, never rounded down to nothing."""
    if units is Units.CENTIMETERS:
        return f"{max(1, round(length * 0.0254))} m"
    return f"{max(1, round(length / 36))} yd"


def _stabilizer(row: RowPlan, units: Units) -> str:
    stabilizer = row.stabilizer
    if stabilizer.kind is StabilizerKind.NONE:
        return ""
    across, down = (as_length(side, units) for side in (stabilizer.width, stabilizer.height))
    return f"{stabilizer.kind} under row {row.row}: {across} by {down}"
