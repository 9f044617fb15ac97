"""Everything to buy: each fabric's uses added up as lengths cut from one width, then rounded up once.

Lengths are exact inches. A leftover is what a fabric has beside or beyond what is cut from it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final, assert_never

from applique.design import BackingKind, Design, Fabric, Stitching, read_stock
from applique.errors import Notice, Where
from applique.language import Field, Listing, Measure, Message, listed, message, messages
from applique.nesting import fits, nest_bins
from applique.quilt.finishing import BattingPlan, BattingSize, SleevePlan
from applique.quilt.strips import ClothCut, CutKind, squares_from
from applique.quilt.whole import QuiltPlan
from applique.sewing.stabilizer import StabilizerKind, StabilizerNeed
from applique.sewing.threads import ThreadNeed, ThreadUse
from applique.units import Units, as_length, as_run, as_yardage, buying_step, telling_apart, to_buy
from applique.yardage import StripNeed, WebKind

__all__ = [
    "ClothUse",
    "FabricBuy",
    "Leftover",
    "LeftoverBacking",
    "Shelf",
    "ShelfKind",
    "Shopping",
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
_NOTIONS: Final = (
    message("removable marking pen"),
    message("sharp small scissors"),
    message("press cloth"),
    message("basting pins or spray"),
    message("needles to suit the thread"),
)


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


_BATTINGS: Final = {
    BattingSize.CRIB: message("crib"),
    BattingSize.THROW: message("throw"),
    BattingSize.TWIN: message("twin"),
    BattingSize.FULL: message("full"),
    BattingSize.QUEEN: message("queen"),
    BattingSize.KING: message("king"),
}

_THREADS: Final = {
    (ThreadUse.LETTERS,): message("to match {fabric}, for the letters: {length}, {spools} ({bobbins})"),
    (ThreadUse.OUTLINE,): message("to match {fabric}, for the outline layer: {length}, {spools} ({bobbins})"),
    (ThreadUse.LETTERS, ThreadUse.OUTLINE): message(
        "to match {fabric}, for the letters and the outline layer: {length}, {spools} ({bobbins})"
    ),
    (ThreadUse.PIECING,): message("for piecing: {length}, {spools} ({bobbins})"),
    (ThreadUse.QUILTING,): message("for quilting: {length}, {spools} ({bobbins})"),
}
_ANY_QUILTING: Final = message(
    "for quilting, if its lines lie about {spacing} apart: {length}, {spools} ({bobbins})"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothUse:
    """What a fabric is used for, the length it takes, and how it is cut.

    `cut` are its strips and pieces; None for a panel, a backing, a sleeve and letters. `border` counts from 1.
    """

    kind: UseKind
    length: Fraction
    how: Message
    cut: ClothCut | None = None
    border: int | None = None

    @property
    def what(self) -> Message:
        """The use in few words."""
        match self.kind:
            case UseKind.PANEL:
                return message("panel")
            case UseKind.BACKING:
                return message("backing")
            case UseKind.BORDER:
                return self._border_words()
            case UseKind.BINDING:
                return message("binding")
            case UseKind.SLEEVE:
                return message("hanging sleeve")
            case UseKind.LETTERS:
                return message("letters")
        assert_never(self.kind)

    def _border_words(self) -> Message:
        number = self.border or 0
        match self.cut.kind if self.cut else None:
            case CutKind.CORNERSTONES:
                return message("border {number}, cornerstones", number=number)
            case CutKind.SQUARES:
                return message("border {number}, squares", number=number)
            case CutKind.RECTANGLES:
                return message("border {number}, rectangles", number=number)
            case _:
                return message("border {number}, border strips", number=number)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover:
    """A rectangle that is left of a fabric: `length` along the selvage, `width` across."""

    fabric: str
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricBuy:
    """One fabric to buy: its uses, their sum, and what to buy by which rule, and a precut that would do."""

    fabric: Fabric
    uses: tuple[ClothUse, ...]
    used: Fraction
    buy: Fraction
    rule: Message
    precut: Message | None
    leftovers: tuple[Leftover, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What to look for on one shelf of the shop."""

    kind: ShelfKind
    name: Message
    items: tuple[Message, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftoverBacking:
    """Whether the back can be pieced from what is left: the leftovers row by row.

    `reached` is how far the rows come, `goal` how far they should; `words` say it.
    """

    rows: tuple[tuple[Leftover, ...], ...]
    reached: Fraction
    goal: Fraction
    enough: bool
    words: Message


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
    stabilizers: Sequence[StabilizerNeed],
    threads: Sequence[ThreadNeed],
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
                    kind="leftovers-too-small-for-back",
                    what=_back_too_small(leftover_backing.reached, leftover_backing.goal, design.units),
                    where=Where.key("backing"),
                    fix=message('kind = "cloth" or "wide"'),
                )
            )
    notices += [notice for buy in cloth if (notice := _stock_notice(buy, letters)) is not None]
    return Shopping(
        cloth=tuple(cloth),
        shelves=tuple(_shelves(design, quilt, stabilizers, threads, cloth, fusible)),
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
    panel, back, binding = quilt.panel, quilt.backing, quilt.binding.cut
    yield under(fabrics.panel.name, ClothUse(kind=UseKind.PANEL, length=panel.length, how=panel.how))
    if backing:
        yield under(fabrics.backing.name, ClothUse(kind=UseKind.BACKING, length=back.length, how=back.how))
    for border in quilt.borders:
        for cut in border.cuts:
            use = ClothUse(kind=UseKind.BORDER, length=cut.length, how=cut.how, cut=cut, border=border.number)
            yield under(cut.fabric, use)
    yield under(
        binding.fabric,
        ClothUse(kind=UseKind.BINDING, length=binding.length, how=binding.how, cut=binding),
    )
    if quilt.sleeve is not None:
        sleeve = quilt.sleeve
        strips = -(-sleeve.cut_length // fabrics.sleeve.usable_width)
        use = ClothUse(
            kind=UseKind.SLEEVE,
            length=strips * sleeve.cut_depth,
            how=_sleeve_words(sleeve, int(strips), units),
        )
        yield under(fabrics.sleeve.name, use)
    for need in letters:
        length = need.used * (100 + need.extra_percent) / 100
        how = message("nested, and {extra} % more", extra=need.extra_percent)
        yield under(need.fabric, ClothUse(kind=UseKind.LETTERS, length=length, how=how))


def _sleeve_words(sleeve: SleevePlan, strips: int, units: Units) -> Message:
    length, depth = as_length(sleeve.cut_length, units), as_length(sleeve.cut_depth, units)
    if strips == 1:
        return message("one of {length} by {depth}", length=length, depth=depth)
    return messages(
        "one of {length} by {depth}, joined from {count} strip across the fabric",
        "one of {length} by {depth}, joined from {count} strips across the fabric",
        strips,
        length=length,
        depth=depth,
    )


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
    buy = to_buy(wanted, units)
    return FabricBuy(
        fabric=fabric,
        uses=uses,
        used=used,
        buy=buy,
        rule=_rule(design, used, wanted),
        precut=_precut(quilt, fabric, uses, letters, used),
        leftovers=tuple(_leftovers(quilt, fabric, uses, buy - used)),
    )


def _rule(design: Design, used: Fraction, wanted: Fraction) -> Message:
    units, extra = design.units, design.cloth
    fields: dict[str, Field] = {
        "used": as_length(used, units, denominator=16),
        "shrinkage": extra.shrinkage_percent,
        "allowance": as_length(extra.cutting_allowance, units),
        "wanted": as_length(wanted, units, denominator=16),
        "step": as_yardage(buying_step(units), units),
    }
    match bool(extra.shrinkage_percent), bool(extra.cutting_allowance):
        case True, True:
            return message(
                "{used} used, {shrinkage} % for shrinkage, {allowance} to square up: {wanted}, "
                "up to the next {step}",
                **fields,
            )
        case True, False:
            return message(
                "{used} used, {shrinkage} % for shrinkage: {wanted}, up to the next {step}", **fields
            )
        case False, True:
            return message("{used} used, {allowance} to square up: {wanted}, up to the next {step}", **fields)
        case _:
            return message("{used} used, up to the next {step}", **fields)


def _precut(
    quilt: QuiltPlan, fabric: Fabric, uses: Sequence[ClothUse], letters: Sequence[StripNeed], used: Fraction
) -> Message | None:
    """A precut that would do instead of yardage; None if none would."""
    cuts = [cut for border in quilt.borders for cut in border.cuts if cut.fabric == fabric.name]
    if len(uses) == 1 and len(cuts) == 1 and cuts[0].across:
        size, count = cuts[0].strip_width, cuts[0].count
        if squares_from(FAT_QUARTER[1], FAT_QUARTER[0], size) >= count:
            return message("a fat quarter would do")
    if len(uses) == 1 and not cuts and uses[0].kind is UseKind.LETTERS:
        quarters = _fat_quarters(fabric.name, letters)
        if quarters == 1:
            return message("a fat quarter would do")
        if quarters:
            return messages("{count} fat quarter would do", "{count} fat quarters would do", quarters)
    return message("a quarter yard would do") if used <= _QUARTER_YARD else None


def _fat_quarters(fabric: str, letters: Sequence[StripNeed]) -> int:
    """The fewest fat quarters found that hold the letters of `fabric`; 0 where yardage is the better buy."""
    need = next(need for need in letters if need.fabric == fabric)
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
    others = [use for use in buy.uses if use.kind is not UseKind.LETTERS]
    need = next((need for need in letters if need.fabric == buy.fabric.name), None)
    if width is None and buy.used <= count * length:
        return None
    if others or need is None or need.nest is None or need.joined:
        return None if width is not None and not others else _short(buy, listed(use.what for use in buy.uses))
    across = float(width or buy.fabric.usable_width)
    held = [piece for piece in need.pieces if fits(piece, width=float(length), height=across)]
    nest = nest_bins(held, width=float(length), height=across, spacing=need.nest.spacing) if held else None
    left = [piece.key for piece in need.pieces if piece not in held for _ in range(piece.count)]
    left += [spot.key for sheet in (nest.bins[count:] if nest else ()) for spot in sheet]
    return _short(buy, need.words_for(left)) if left else None


def _short(buy: FabricBuy, missing: Listing) -> Notice:
    return Notice(
        kind="stash-not-enough",
        what=message(
            "{stock} of {fabric} are not enough: {missing} would have to come from more",
            stock=buy.fabric.have,
            fabric=buy.fabric.name,
            missing=missing,
        ),
        where=Where.key("fabric"),
        fix=message("more of it, smaller letters, or another fabric for some"),
    )


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


def _back_from(quilt: QuiltPlan, pieces: Sequence[Leftover], units: Units) -> LeftoverBacking:
    """The back pieced in rows from leftovers, the rows lying across or standing up, whichever reaches further."""
    width, height = quilt.backing.width, quilt.backing.height
    lying, standing = _rows_from(pieces, width, height), _rows_from(pieces, height, width)
    (rows, reached), goal, lies = max(
        ((lying, height, True), (standing, width, False)), key=lambda tried: tried[0][1] / tried[1]
    )
    enough = reached >= goal
    words = _back_in_rows(len(rows), lies=lies) if enough else _back_too_small(reached, goal, units)
    return LeftoverBacking(rows=rows, reached=reached, goal=goal, enough=enough, words=words)


def _back_in_rows(rows: int, *, lies: bool) -> Message:
    if lies:
        return messages(
            "the leftovers make the back in {count} row, lying across",
            "the leftovers make the back in {count} rows, lying across",
            rows,
        )
    return messages(
        "the leftovers make the back in {count} row, standing upright",
        "the leftovers make the back in {count} rows, standing upright",
        rows,
    )


def _back_too_small(reached: Fraction, goal: Fraction, units: Units) -> Message:
    said = telling_apart([(reached, goal)], units)
    return message(
        "the leftovers reach {reached} of {goal}; buy cloth for the back, or add to them",
        reached=said(reached),
        goal=said(goal),
    )


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
    stabilizers: Sequence[StabilizerNeed],
    threads: Sequence[ThreadNeed],
    cloth: Sequence[FabricBuy],
    fusible: StripNeed,
) -> Iterator[Shelf]:
    units = design.units

    def said(length: Fraction | float) -> Measure:
        return as_length(length, units)

    yield Shelf(
        kind=ShelfKind.CLOTH,
        name=message("Cloth"),
        items=tuple(
            message(
                "{fabric}: {length}, {width} usable",
                fabric=buy.fabric.name,
                length=as_yardage(buy.buy, units),
                width=said(buy.fabric.usable_width),
            )
            for buy in cloth
        ),
    )
    yield Shelf(
        kind=ShelfKind.WEB,
        name=message("Freezer paper") if fusible.web is WebKind.FREEZER_PAPER else message("Fusible web"),
        items=(
            message(
                "{length}, {width} wide",
                length=as_yardage(fusible.buy, units),
                width=said(fusible.usable_width),
            ),
        ),
    )
    if stabilizers:
        yield Shelf(
            kind=ShelfKind.STABILIZER,
            name=message("Stabilizer"),
            items=tuple(_stabilizer(need, units) for need in stabilizers),
        )
    yield Shelf(kind=ShelfKind.BATTING, name=message("Batting"), items=(_batting(quilt.batting, units),))
    items = tuple(_threads(threads, design.stitching, units))
    yield Shelf(kind=ShelfKind.THREAD, name=message("Thread"), items=items)
    yield Shelf(kind=ShelfKind.NOTIONS, name=message("Notions"), items=_NOTIONS)


def _batting(batting: BattingPlan, units: Units) -> Message:
    width, height = as_length(batting.width, units), as_length(batting.height, units)
    if batting.sold is None:
        return message("by the length, to cover {width} by {height}", width=width, height=height)
    across, down = (as_length(Fraction(side), units) for side in batting.sold)
    return message(
        "{size} ({across} by {down}), to cover {width} by {height}",
        size=_BATTINGS[batting.name],
        across=across,
        down=down,
        width=width,
        height=height,
    )


def _threads(threads: Sequence[ThreadNeed], stitching: Stitching, units: Units) -> Iterator[Message]:
    for need in threads:
        template = _THREADS[need.uses] if need.spacing is None else _ANY_QUILTING
        yield template.filled(
            fabric=need.name or "",
            length=as_run(need.length, units),
            spools=messages(
                "{count} spool of {each}",
                "{count} spools of {each}",
                need.spools,
                each=as_run(stitching.spool, units),
            ),
            bobbins=messages(
                "wind {count} bobbin of {each} from it",
                "wind {count} bobbins of {each} from it",
                need.bobbins,
                each=as_run(stitching.bobbin, units),
            ),
            spacing=as_length(need.spacing or 0, units),
        )


def _stabilizer(need: StabilizerNeed, units: Units) -> Message:
    fields: dict[str, Field] = {
        "width": as_length(need.roll_width, units),
        "length": as_yardage(need.buy, units),
        "used": as_length(need.used, units, denominator=16),
        "step": as_yardage(buying_step(units), units),
    }
    if need.kind is StabilizerKind.CUT_AWAY:
        return messages(
            "cut-away, {width} wide: {length} for {count} piece ({used} used, up to the next {step})",
            "cut-away, {width} wide: {length} for {count} pieces ({used} used, up to the next {step})",
            need.pieces,
            **fields,
        )
    return messages(
        "tear-away, {width} wide: {length} for {count} piece ({used} used, up to the next {step})",
        "tear-away, {width} wide: {length} for {count} pieces ({used} used, up to the next {step})",
        need.pieces,
        **fields,
    )
