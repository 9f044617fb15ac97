"""What to buy, in words: by which rule, which precut would do, each shelf of the shop, and what the stash lacks."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, assert_never

from applique.buying import BeyondLayout, Extra, Rule, WashAndSquare
from applique.cloth import FabricPlan, WideBacking
from applique.design import stash_text
from applique.errors import Notice, Where
from applique.language import Field, Listing, Measure, Message, listed, message, messages
from applique.leftovers import LeftoverBacking
from applique.precuts import Precut, PrecutKind
from applique.quilt.bunting import TapePlan
from applique.quilt.finishing import BATTING_SOLD, BattingPlan, BattingSize
from applique.quilt.pillow import Insert
from applique.sewing.stabilizer import StabilizerKind, StabilizerNeed
from applique.sewing.threads import ThreadNeed, ThreadUse
from applique.shopping import (
    FabricBuy,
    Notion,
    Shelf,
    ShelfItem,
    ShelfKind,
    Shopping,
    StashShort,
    Zipper,
)
from applique.units import (
    Units,
    as_available,
    as_length,
    as_needed,
    as_run,
    as_size,
    as_used,
    as_yardage,
    buying_step,
    round_up,
    telling_apart,
)
from applique.words.cloth import side_by_side_said
from applique.words.cloth import uses_said as listed_uses
from applique.words.colors import color_said
from applique.yardage import SideBySide, StripNeed, WebKind

__all__ = [
    "amount_said",
    "batting_named",
    "figured_said",
    "item_said",
    "joined_said",
    "leftovers_said",
    "material_said",
    "precut_said",
    "rule_said",
    "shelf_name",
    "shopping_notices",
    "to_buy_said",
    "uses_said",
    "wide_said",
    "with_rule_said",
]

_BATTINGS: Final = {
    BattingSize.CRIB: message("crib"),
    BattingSize.THROW: message("throw"),
    BattingSize.TWIN: message("twin"),
    BattingSize.FULL: message("full"),
    BattingSize.QUEEN: message("queen"),
    BattingSize.KING: message("king"),
    BattingSize.BY_THE_LENGTH: message("by the length"),
}
_WEBS: Final = {
    WebKind.FUSIBLE_WEB: message("fusible web"),
    WebKind.FREEZER_PAPER: message("freezer paper"),
}
_SHELVES: Final = {
    ShelfKind.CLOTH: message("Fabric"),
    ShelfKind.WEB: message("Fusible web"),
    ShelfKind.STABILIZER: message("Stabilizer"),
    ShelfKind.BATTING: message("Batting"),
    ShelfKind.THREAD: message("Thread"),
    ShelfKind.FILLING: message("Filling"),
    ShelfKind.ZIPPER: message("Zipper"),
    ShelfKind.TAPE: message("Tape"),
    ShelfKind.NOTIONS: message("Notions"),
}
_NOTIONS: Final = {
    Notion.CHALK_PENCIL: message(
        "chalk pencil in a color that shows on the panel, and one that shows on the letters"
    ),
    Notion.PINS: message("pins"),
    Notion.BASTING: message("safety pins or basting spray"),
    Notion.BASTING_THREAD: message("basting thread in a pale color that stands out from the fabric"),
    Notion.NEEDLES: message(
        "machine needles for woven cotton, size 80/12 unless the maker of the thread says another"
    ),
    Notion.HAND_NEEDLE: message("hand needle"),
    Notion.SLIPS: message("slips of paper"),
    Notion.WHITE_SCRAP: message("white scrap to test fabrics on"),
    Notion.LABEL: message(
        "for the label, light fabric and a pen made for fabric, or fabric made for printing"
    ),
}
_THREADS: Final = {
    (ThreadUse.LETTERS,): message("to match {fabric}, for the letters: {length}, {spools} ({bobbins})"),
    (ThreadUse.OUTLINE,): message("to match {fabric}, for the outlines: {length}, {spools} ({bobbins})"),
    (ThreadUse.LETTERS, ThreadUse.OUTLINE): message(
        "to match {fabric}, for the letters and the outlines: {length}, {spools} ({bobbins})"
    ),
    (ThreadUse.PIECING,): message("for piecing: {length}, {spools} ({bobbins})"),
    (ThreadUse.BINDING,): message("for the binding: {length}, {spools} ({bobbins})"),
    (ThreadUse.SLEEVE,): message("for the binding and the hanging sleeve: {length}, {spools} ({bobbins})"),
    (ThreadUse.QUILTING,): message("for quilting: {length}, {spools} ({bobbins})"),
}
_OWN_COLOR: Final = {
    (ThreadUse.LETTERS,): message(
        "{color} (see the picture), for the letters: {length}, {spools} ({bobbins})"
    ),
    (ThreadUse.OUTLINE,): message(
        "{color} (see the picture), for the outlines: {length}, {spools} ({bobbins})"
    ),
    (ThreadUse.LETTERS, ThreadUse.OUTLINE): message(
        "{color} (see the picture), for the letters and the outlines: {length}, {spools} ({bobbins})"
    ),
}
"""Thread that matches no fabric."""
_OWN_COLORS: Final = {
    (ThreadUse.LETTERS,): message(
        "{color} (see the picture), for the letters of {places}: {length}, {spools} ({bobbins})"
    ),
    (ThreadUse.OUTLINE,): message(
        "{color} (see the picture), for the outlines of {places}: {length}, {spools} ({bobbins})"
    ),
    (ThreadUse.LETTERS, ThreadUse.OUTLINE): message(
        "{color} (see the picture), for the letters and the outlines of {places}: {length}, {spools} "
        "({bobbins})"
    ),
}
"""Several of them."""
_ANY_QUILTING: Final = message(
    "for quilting, if its lines lie about {spacing} apart: {length}, {spools} ({bobbins})"
)
_OFFERED_QUILTING: Final = message(
    "for quilting, the most any of the kinds to choose from takes: {length}, {spools} ({bobbins})"
)


# Web and cloth


def material_said(need: StripNeed) -> str | Message:
    """What a strip is called: the name of the fabric, as the maker writes it, or the web."""
    return need.fabric if need.web is None else _WEBS[need.web]


def rule_said(rule: Rule[Extra], units: Units) -> Message:
    """How what is used becomes what to buy."""
    said = _rounded_up_said(rule, units)
    match rule.extra:
        case WashAndSquare(spare=spare) if rule.has_more:
            return message(
                "{rule}, and one step more so that at least {spare} is to spare",
                rule=said,
                spare=as_length(spare, units),
            )
        case _:
            return said


def _rounded_up_said(rule: Rule[Extra], units: Units) -> Message:
    """How what is used becomes what is wanted, up to what a shop cuts."""
    used, wanted = (as_used(length, units) for length in (rule.used, rule.wanted))
    step = as_yardage(rule.step, units)
    match rule.extra:
        case BeyondLayout(percent=percent):
            return message(
                "{used} used, {extra}% more is {wanted}, up to the next {step}",
                used=used,
                extra=percent,
                wanted=wanted,
                step=step,
            )
        case WashAndSquare(shrinkage_percent=0, squaring=0):
            return message("{used} used, up to the next {step}", used=used, step=step)
        case WashAndSquare(shrinkage_percent=percent, squaring=0):
            return message(
                "{used} used, and {shrinkage}% of what is bought shrinks away: {wanted}, up to the next {step}",
                used=used,
                shrinkage=percent,
                wanted=wanted,
                step=step,
            )
        case WashAndSquare(shrinkage_percent=0, squaring=squaring):
            return message(
                "{used} used, {squaring} squared up at each end: {wanted}, up to the next {step}",
                used=used,
                squaring=as_length(squaring, units),
                wanted=wanted,
                step=step,
            )
        case WashAndSquare(shrinkage_percent=percent, squaring=squaring):
            return message(
                "{used} used, {squaring} squared up at each end, and {shrinkage}% of what is bought shrinks away: "
                "{wanted}, up to the next {step}",
                used=used,
                shrinkage=percent,
                squaring=as_length(squaring, units),
                wanted=wanted,
                step=step,
            )
    assert_never(rule.extra)


def joined_said(need: StripNeed, pieces: SideBySide, units: Units) -> Message:
    """How the web or the fabric of what is wider than it is put together first."""
    return message(
        "{material}, too narrow for some letters: {pieces}",
        material=material_said(need),
        pieces=side_by_side_said(pieces, units),
    )


# A fabric


def uses_said(buy: FabricBuy) -> Listing:
    """What a fabric is for, each use once."""
    return listed_uses(buy.uses)


def amount_said(buy: FabricBuy, units: Units) -> Measure | Message:
    """How much of a fabric to buy, beside what there is of it."""
    if not buy.buy:
        return message("none, you have enough")
    length = as_yardage(buy.buy, units)
    return message("{length}, and what you have", length=length) if buy.fabric.have else length


def to_buy_said(buy: FabricBuy, units: Units) -> Measure:
    """The length of a fabric to buy."""
    return as_yardage(buy.buy, units)


def precut_said(precut: Precut) -> Message:
    """Which precut would do instead of yardage."""
    match precut.kind:
        case PrecutKind.FAT_EIGHTH:
            return message("a fat eighth would do")
        case PrecutKind.FAT_QUARTER:
            if precut.count == 1:
                return message("a fat quarter would do")
            return messages("{count} fat quarter would do", "{count} fat quarters would do", precut.count)
        case PrecutKind.STRIP_ROLL:
            return message("a roll of 40 strips 2 1/2 in wide, all of this fabric, would do")
        case PrecutKind.SMALL_SQUARES:
            return message("a pack of 42 squares of 5 in, all of this fabric, would do")
        case PrecutKind.LARGE_SQUARES:
            return message("a pack of 42 squares of 10 in, all of this fabric, would do")
    assert_never(precut.kind)


def figured_said(buy: FabricBuy, units: Units) -> Message:
    """How the length of a fabric was figured."""
    if not buy.buy:
        return message("all of it is cut from what you have")
    return rule_said(buy.rule, units)


# The shelves


def shelf_name(shelf: Shelf) -> Message:
    """What a shelf is called."""
    match shelf.items:
        case [StripNeed(web=WebKind.FREEZER_PAPER)]:
            return message("Freezer paper")
        case _:
            return _SHELVES[shelf.kind]


def item_said(item: ShelfItem, units: Units, *, figured: bool = True) -> Message:
    """One thing on a shelf, with how its length was `figured` or not."""
    match item:
        case FabricBuy():
            return message(
                "{fabric}: {length}, {width} usable",
                fabric=item.fabric.name,
                length=amount_said(item, units),
                width=as_available(item.fabric.usable_width, units),
            )
        case StripNeed():
            return message(
                "{length}, at least {width} wide",
                length=as_yardage(item.buy, units),
                width=as_available(item.usable_width, units),
            )
        case StabilizerNeed():
            return _stabilizer(item, units) if figured else _stabilizer_alone(item, units)
        case BattingPlan():
            return _batting(item, units)
        case ThreadNeed():
            return _thread(item, units)
        case Insert():
            return _insert(item, units)
        case Zipper():
            return message(
                "{length}, or longer and cut off; a zipper foot for the machine",
                length=as_size(item.length, units),
            )
        case TapePlan():
            return message(
                "{length} of woven tape or ribbon, at least {width} wide, in one piece ({used} used)",
                length=as_yardage(round_up(item.length, buying_step(units)), units),
                width=as_size(item.width, units),
                used=as_size(item.length, units),
            )
        case Notion():
            return _NOTIONS[item]
    assert_never(item)


def _insert(insert: Insert, units: Units) -> Message:
    """What fills a pillow."""
    fields: dict[str, Field] = {
        "width": as_size(insert.width, units),
        "height": as_size(insert.height, units),
    }
    if insert.sold:
        return message("pillow insert, {width} by {height}", **fields)
    return message(
        "pillow insert, {width} by {height}: none is commonly sold in that size; sew one from plain cotton and stuff "
        "it",
        **fields,
    )


def with_rule_said(item: Message, rule: Rule[Extra], units: Units) -> Message:
    """A thing on a shelf with how its length was figured."""
    return message("{item} ({rule})", item=item, rule=rule_said(rule, units))


def _stabilizer(need: StabilizerNeed, units: Units) -> Message:
    fields: dict[str, Field] = {
        "width": as_length(need.roll_width, units),
        "length": as_yardage(need.buy, units),
        "rule": rule_said(need.rule, units),
    }
    if need.kind is StabilizerKind.CUT_AWAY:
        return messages(
            "cut-away, {width} wide: {length} for {count} piece ({rule})",
            "cut-away, {width} wide: {length} for {count} pieces ({rule})",
            need.pieces,
            **fields,
        )
    return messages(
        "tear-away, {width} wide: {length} for {count} piece ({rule})",
        "tear-away, {width} wide: {length} for {count} pieces ({rule})",
        need.pieces,
        **fields,
    )


def _stabilizer_alone(need: StabilizerNeed, units: Units) -> Message:
    fields: dict[str, Field] = {
        "width": as_length(need.roll_width, units),
        "length": as_yardage(need.buy, units),
    }
    if need.kind is StabilizerKind.CUT_AWAY:
        return messages(
            "cut-away, {width} wide: {length} for {count} piece",
            "cut-away, {width} wide: {length} for {count} pieces",
            need.pieces,
            **fields,
        )
    return messages(
        "tear-away, {width} wide: {length} for {count} piece",
        "tear-away, {width} wide: {length} for {count} pieces",
        need.pieces,
        **fields,
    )


def batting_named(size: BattingSize, units: Units) -> Message:
    """A size of batting with how large it is sold; by the length it has none."""
    sold = next((sides for one, *sides in BATTING_SOLD if one is size), None)
    if sold is None:
        return _BATTINGS[size]
    across, down = (as_length(Fraction(side), units) for side in sold)
    return message("{size} ({across} by {down})", size=_BATTINGS[size], across=across, down=down)


def _batting(batting: BattingPlan, units: Units) -> Message:
    width, height = as_needed(batting.width, units), as_needed(batting.height, units)
    if batting.sold is None:
        return message("by the length, to cover {width} by {height}", width=width, height=height)
    said = message(
        "{size}, to cover {width} by {height}",
        size=batting_named(batting.name, units),
        width=width,
        height=height,
    )
    if batting.if_washed is batting.name:
        return said
    return message(
        "{batting}; {size} if you wash it first", batting=said, size=batting_named(batting.if_washed, units)
    )


def _thread(need: ThreadNeed, units: Units) -> Message:
    own = _OWN_COLORS if need.places else _OWN_COLOR
    template = (own if need.matches_nothing else _THREADS)[need.uses]
    if need.spacing is not None:
        template = _ANY_QUILTING
    elif need.at_most:
        template = _OFFERED_QUILTING
    said = template.filled(
        fabric=need.name or "",
        color=color_said(need.color) if need.color else "",
        places=listed(place.as_field() for place in need.places),
        length=as_run(need.length, units),
        spools=messages(
            "{count} spool of {each}",
            "{count} spools of {each}",
            need.spools,
            each=as_run(need.on_spool, units),
        ),
        bobbins=messages(
            "wind {count} bobbin of {each} from it",
            "wind {count} bobbins of {each} from it",
            need.bobbins,
            each=as_run(need.on_bobbin, units),
        ),
        spacing=as_length(need.spacing or 0, units),
    )
    if need.with_piecing is None:
        return said
    return messages(
        "{thread}; if you take one thread for this and what stands before it, {count} spool holds both",
        "{thread}; if you take one thread for this and what stands before it, {count} spools hold both",
        need.with_piecing,
        thread=said,
    )


# Leftovers and the stash


def leftovers_said(back: LeftoverBacking, units: Units) -> Message:
    """Whether the leftovers make the back, and how."""
    if not back.enough:
        said = telling_apart([(back.reached, back.goal)], units)
        return message(
            "the leftovers reach {reached} of {goal}; buy fabric for the backing, or add to them",
            reached=said(back.reached),
            goal=said(back.goal),
        )
    if back.lies:
        return messages(
            "the leftovers make the backing in {count} row, lying across",
            "the leftovers make the backing in {count} rows, lying across",
            len(back.rows),
        )
    return messages(
        "the leftovers make the backing in {count} row, standing upright",
        "the leftovers make the backing in {count} rows, standing upright",
        len(back.rows),
    )


def wide_said(wide: WideBacking, units: Units) -> Message:
    """What wide backing would take instead of lengths with seams, and what is bought then of the fabric of the back."""
    fields: dict[str, Field] = {
        "width": as_available(wide.usable_width, units),
        "length": as_yardage(wide.rule.buy, units),
        "uses": listed_uses(wide.uses),
    }
    seams = len(wide.way.widths) - 1
    if seams:
        instead = messages(
            "Or take wide backing for {uses}: {length}, {width} usable; the backing has {count} seam then.",
            "Or take wide backing for {uses}: {length}, {width} usable; the backing has {count} seams then.",
            seams,
            **fields,
        )
    else:
        instead = message(
            "Or take wide backing for {uses}: {length}, {width} usable; the backing has no seam then.",
            **fields,
        )
    return (
        instead
        if wide.rest is None
        else message("{instead} {rest}", instead=instead, rest=_rest_said(wide.rest, units))
    )


def _rest_said(rest: FabricPlan, units: Units) -> Message:
    fields: dict[str, Field] = {
        "fabric": rest.fabric.name,
        "uses": listed_uses(rest.uses),
    }
    if not rest.rule.buy:
        return message("Of {fabric} you have enough then for the rest: {uses}.", **fields)
    return message(
        "Of {fabric} you then buy {length} for the rest: {uses}.",
        length=as_yardage(rest.rule.buy, units),
        **fields,
    )


def shopping_notices(shopping: Shopping, units: Units) -> tuple[Notice, ...]:
    """What to look at before buying: leftovers too small for the back, and what the stash does not hold."""
    back = shopping.leftover_backing
    small = (
        []
        if back is None or back.enough or shopping.mixed_backing is not None
        else [_leftovers_notice(back, units)]
    )
    return (*small, *(_stash_notice(short, units) for short in shopping.short))


def _leftovers_notice(back: LeftoverBacking, units: Units) -> Notice:
    return Notice(
        kind="leftovers-too-small-for-back",
        what=leftovers_said(back, units),
        where=Where.key("backing"),
        fix=message('kind = "cloth" or "wide"'),
    )


def _stash_notice(short: StashShort, units: Units) -> Notice:
    return Notice(
        kind="stash-not-enough",
        what=_stash_said(short, as_yardage(short.more, units)),
        where=Where.key("fabric"),
        fix=message("more of it, smaller letters, or another fabric for some"),
    )


def _stash_said(short: StashShort, more: Measure) -> Message:
    stock, fabric = stash_text(short.fabric.have), short.fabric.name
    if not short.letters:
        return message(
            "not enough of {fabric} in your stash ({stock}): buy {more} more",
            stock=stock,
            fabric=fabric,
            more=more,
        )
    return message(
        "not enough of {fabric} in your stash ({stock}): {letters} would have to come from more; buy {more} more",
        stock=stock,
        fabric=fabric,
        letters=listed(template.name for template in short.letters),
        more=more,
    )
