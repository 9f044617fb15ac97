"""What you need: fabric and everything else to buy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import chain, repeat
from typing import Final, TypeAlias

from applique.design import Method, WhenStitched
from applique.instructions.book import Book
from applique.instructions.finishing import pocket_rod
from applique.instructions.stitching import stitch_kinds
from applique.instructions.values import (
    Block,
    Cell,
    Chapter,
    ChapterKind,
    Chip,
    Heading,
    Led,
    Listed,
    Paragraph,
    Said,
    Table,
)
from applique.language import Message
from applique.pattern import Pattern
from applique.sewing.piecing import SEAM_RATIO
from applique.sewing.quilting import Echoes, Ruled
from applique.sewing.threads import ThreadNeed, ThreadUse
from applique.shopping import FabricBuy, ShelfKind
from applique.supplies import SOLD_WIDE, USUAL_WIDTH
from applique.words import garment, loose
from applique.words.buying import (
    amount_said,
    figured_said,
    item_said,
    joined_said,
    shelf_name,
    to_buy_said,
    uses_said,
    wide_said,
    with_rule_said,
)
from applique.words.instructions import either_method as ways
from applique.words.instructions import needed as said
from applique.words.instructions.over_freezer_paper import with_close_corners
from applique.words.methods import METHODS
from applique.words.narrower import narrow_said
from applique.words.nests import motifs_said
from applique.words.quilt import not_reckoned
from applique.words.sewing import minutes_said
from applique.words.sheets import CHECK_FIRST, alike_said, set_apart
from applique.yardage import StripNeed

__all__ = ["needed"]

_Thing: TypeAlias = tuple[Said, Said, Chip | None]
"""What leads it, what it is, and its chip."""
_MAKERS: Final = tuple(zip(said.FABRICS_HEAD, (2.0, 2.4, 1.9, 1.0, 4.1), strict=True))
_OF_LETTERS: Final = frozenset({ThreadUse.LETTERS, ThreadUse.OUTLINE})
_EITHER: Final = (1.4, 4.0, 4.0)
_CUSTOMERS: Final = tuple(zip(said.FABRICS_TO_BUY_HEAD, (2.6, 4.2, 2.2, 1.4), strict=True))


def needed(book: Book) -> Chapter:
    """What to buy, by shelf, and to the maker what she should look at first."""
    return Chapter(kind=ChapterKind.NEEDED, title=said.BUYING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    shopping = pattern.shopping
    row = _customers_row if book.is_customers else _makers_row
    other = book.other_way
    if other is not None:
        method, chosen = (one.design.sewing.method for one in (pattern, other.pattern))
        yield Paragraph(said=ways.either_said(method, chosen, other.file))
    yield Table(
        columns=_CUSTOMERS if book.is_customers else _MAKERS,
        rows=tuple(row(book, buy) for buy in shopping.cloth),
    )
    wide = {buy.fabric.name: least for buy in shopping.cloth if (least := _wider_than_usual(book, buy))}
    if wide:
        yield Paragraph(said=said.wider_said(wide, USUAL_WIDTH, units))
    if narrow := tuple(narrow_said(shopping, units)):
        yield Listed(items=narrow)
    if shopping.wide_backing is not None:
        yield Paragraph(said=wide_said(shopping.wide_backing, units))
    for need in pattern.cloth if book.is_customers else ():
        if need.fixed:
            yield Paragraph(said=motifs_said(need))
    yield Paragraph(said=said.FIRM_COTTON)
    washed = pattern.design.yardage.is_washed
    yield Paragraph(said=said.MEASURE_WASHED if washed else said.MEASURE_UNWASHED, quiet=True)
    yield _led((*_shelves(book), *_tools(book)))
    quilt = pattern.quilt
    stabilizers, fused = pattern.stitching.stabilizers, book.method is not Method.TURNED_EDGE
    if pattern.panel.worn is not None:
        for words in garment.needed_said(pattern.panel, stabilizers, units, fused=fused):
            yield Paragraph(said=words)
    elif pattern.panel.loose:
        for words in loose.needed_said(pattern.reach, stabilizers, units, fused=fused):
            yield Paragraph(said=words)
    bound, seamed = quilt.binding is not None, any(need.seams is not None for need in pattern.threads)
    for kinds in said.thread_kinds_said(layered=quilt.layered, bound=bound, seamed=seamed):
        yield Paragraph(said=kinds, quiet=True)
    for thread in pattern.threads:
        if thread.seams is not None:
            waste = pattern.design.stitching.waste_percent
            yield Paragraph(
                said=said.seams_figured_said(thread.seams, SEAM_RATIO, waste, units),
                quiet=True,
            )
    if (left_out := not_reckoned(pattern.quilt)) is not None:
        yield Paragraph(said=left_out)
    joined = [(need, one) for need in (pattern.fusible, *pattern.cloth) for one in need.joined]
    if joined:
        yield Listed(items=tuple(joined_said(need, one, units) for need, one in joined))
    if other is not None:
        yield Heading(said=ways.EITHER)
        both = (pattern, other.pattern)
        head = (ways.DIFFERS, *(METHODS[one.design.sewing.method] for one in both))
        yield Table(columns=tuple(zip(head, _EITHER, strict=True)), rows=tuple(_differing(*both)))
    if pattern.notices and not book.is_customers:
        yield Heading(said=CHECK_FIRST)
        yield Listed(items=tuple(alike_said(pattern.notices)))


def _differing(one: Pattern, two: Pattern) -> Iterator[tuple[Cell, ...]]:
    """What one method takes that the other does not, or takes as much of."""
    units = one.design.units
    yield ways.WEB, *(ways.web_said(pattern.fusible, units) for pattern in (one, two))
    for name in dict.fromkeys(buy.fabric.name for pattern in (one, two) for buy in pattern.shopping.cloth):
        lengths = [
            {buy.fabric.name: buy.buy for buy in pattern.shopping.cloth}.get(name, Fraction(0))
            for pattern in (one, two)
        ]
        if len(set(lengths)) > 1:
            yield name, *(ways.length_said(length, units) for length in lengths)
    stabilizers = [pattern.stitching.stabilizers for pattern in (one, two)]
    if stabilizers[0] != stabilizers[1]:
        yield ways.STABILIZER, *(ways.shelf_said(needs, units) for needs in stabilizers)
    threads = [
        [need for need in pattern.threads if not _OF_LETTERS.isdisjoint(need.uses)] for pattern in (one, two)
    ]
    if threads[0] != threads[1]:
        yield ways.THREAD, *(ways.shelf_said(needs, units) for needs in threads)
    yield (
        ways.TOOLS,
        *(ways.tools_said(pattern.design.sewing.method, stitch_kinds(pattern)) for pattern in (one, two)),
    )
    yield ways.TIME, *(minutes_said(pattern.stitching.minutes) for pattern in (one, two))


def _led(things: Sequence[_Thing]) -> Led:
    return Led(
        items=tuple((lead, words) for lead, words, _ in things),
        chips={index: chip for index, (*_, chip) in enumerate(things) if chip is not None},
    )


def _shelves(book: Book) -> Iterator[_Thing]:
    """Everything else by shelf, a line for each thing."""
    for shelf in book.pattern.shopping.shelves:
        if shelf.kind is not ShelfKind.CLOTH:
            items = [item_said(item, book.units, figured=not book.is_customers) for item in shelf.items]
            chips = [
                _thread_chip(book, item) if isinstance(item, ThreadNeed) else None for item in shelf.items
            ]
            if shelf.kind is ShelfKind.WEB:
                items = [
                    with_rule_said(words, item.rule, book.units)
                    for words, item in zip(items, shelf.items, strict=True)
                    if isinstance(item, StripNeed)
                ]
            if shelf.kind is ShelfKind.NOTIONS:
                items = [set_apart((*items, *_small_things(book)))]
            if shelf.kind is ShelfKind.WEB and book.method is not Method.TURNED_EDGE:
                items.append(said.LIGHT_WEB)
            yield from zip(
                chain((shelf_name(shelf),), repeat("")), items, chain(chips, repeat(None)), strict=False
            )


def _thread_chip(book: Book, need: ThreadNeed) -> Chip | None:
    """The chip of the fabric that a thread matches, or one of the thread's own color; None where any color serves."""
    if need.color is None:
        return None
    own = Chip(letter="", color=need.color, name="")
    return own if need.name is None else book.chips.get(need.name, own)


def _small_things(book: Book) -> Iterator[Message]:
    quilt = book.pattern.quilt
    return said.small_things_said(
        book.method,
        sealed=bool(with_close_corners(book.pattern.templates)),
        taped=any(sheets.joined for sheets in book.papers.values()),
        layered=quilt.layered,
        sorted_out=book.sorts_letters,
        rod=quilt.rod,
        pocket_rod=pocket_rod(book),
        units=book.units,
    )


def _tools(book: Book) -> Iterator[_Thing]:
    pattern = book.pattern
    tools = said.tools_said(
        book.method,
        stitch_kinds(book.pattern),
        through_all=pattern.stitching.when is WhenStitched.QUILTING,
        guided=any(isinstance(plan.course, Echoes | Ruled) for plan in pattern.quilting),
        layered=pattern.quilt.layered,
    )
    yield said.TOOLS, set_apart(tools), None
    yield said.MARKING, said.MARKING_SAID, None
    if book.method is Method.MACHINE_CUT:
        yield said.MAT, said.mat_said(pattern.templates, pattern.design.cutting.mat_margin, book.units), None


def _width(book: Book, buy: FabricBuy) -> Message:
    """How wide a fabric is between its selvages, and how narrow it may be: what is bought, and what comes out of the
    stash, each width once."""
    least: dict[Fraction, Fraction] = {}
    for supply in buy.cutting.supplies_cut:
        found = book.widths(buy, supply.key).least
        least[supply.width] = max(found, least.get(supply.width, found))
    return set_apart(said.width_said(width, narrowest, book.units) for width, narrowest in least.items())


def _wider_than_usual(book: Book, buy: FabricBuy) -> Fraction:
    """How wide a fabric that is bought has to be, if that is more than much of what is sold; 0 of any other, and of
    fabric that is sold much wider."""
    if not buy.buy or buy.fabric.usable_width > SOLD_WIDE:
        return Fraction(0)
    least = max(book.widths(buy, supply.key).least for supply in buy.cutting.supplies_cut)
    return least if least > USUAL_WIDTH else Fraction(0)


def _makers_row(book: Book, buy: FabricBuy) -> tuple[Cell, ...]:
    return (
        book.chips[buy.fabric.name],
        uses_said(buy),
        _width(book, buy),
        amount_said(buy, book.units),
        figured_said(buy, book.units),
    )


def _customers_row(book: Book, buy: FabricBuy) -> tuple[Cell, ...]:
    """What whoever has nothing of it yet needs: the stash of the maker of the pattern is hers alone.

    Precuts are not offered: the cutting chapter cuts lengths, and pieces longer than a precut.
    """
    return (
        book.chips[buy.fabric.name],
        uses_said(buy),
        _width(book, buy),
        to_buy_said(buy, book.units),
    )
