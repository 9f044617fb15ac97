"""What you need: fabric and everything else to buy."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.instructions.book import Book
from applique.instructions.values import Block, Chapter, ChapterKind, Heading, Led, Listed, Paragraph, Table
from applique.shopping import ShelfKind
from applique.units import as_available
from applique.words.buying import amount_said, figured_said, item_said, shelf_name, uses_said
from applique.words.instructions import needed as said
from applique.words.sheets import CHECK_FIRST, notice_said, set_apart

__all__ = ["needed"]

_FABRICS: Final = tuple(zip(said.FABRICS_HEAD, (2.2, 2.6, 1.3, 1.1, 4.2), strict=True))


def needed(book: Book) -> Chapter:
    """What to buy, by shelf, and to the maker what she should look at first."""
    return Chapter(kind=ChapterKind.NEEDED, title=said.BUYING, blocks=tuple(_blocks(book)), apart=True)


def _blocks(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    shopping = pattern.shopping
    yield Table(
        columns=_FABRICS,
        rows=tuple(
            (
                book.chips[buy.fabric.name],
                uses_said(buy),
                as_available(buy.fabric.usable_width, units),
                amount_said(buy, units),
                figured_said(buy, units),
            )
            for buy in shopping.cloth
        ),
    )
    washed = pattern.design.yardage.is_washed
    yield Paragraph(said=said.MEASURE_WASHED if washed else said.MEASURE_UNWASHED, quiet=True)
    if shopping.one_fabric is not None:
        yield Paragraph(said=said.one_fabric_said(shopping.one_fabric, units), quiet=True)
    yield Led(
        items=tuple(
            (shelf_name(shelf), set_apart(item_said(item, units) for item in shelf.items))
            for shelf in shopping.shelves
            if shelf.kind is not ShelfKind.CLOTH
        )
    )
    if pattern.notices and not book.is_customers:
        yield Heading(said=CHECK_FIRST)
        yield Listed(items=tuple(notice_said(notice) for notice in pattern.notices))
