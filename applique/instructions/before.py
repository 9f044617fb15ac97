"""Before you start: printing, washing, the seam allowance, how the pattern speaks."""

from __future__ import annotations

from collections.abc import Iterator

from applique.cautions import BLEEDING, SLEEPWEAR, SMALL_PARTS
from applique.instructions.book import Book
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Led
from applique.language import Message
from applique.words import garment, loose
from applique.words.instructions import before as said

__all__ = ["before"]


def before(book: Book) -> Chapter:
    """What holds for all that follows."""
    return Chapter(kind=ChapterKind.BEFORE, title=said.BEFORE, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    design, units, frame = book.pattern.design, book.units, book.pattern.sheets.frame
    sewing, layered = design.sewing, book.pattern.quilt.layered
    files = (said.FILES, said.files_said(sewing.method, mirrored=sewing.traced_mirrored, labeled=layered))
    makers = said.makers_said(book.method, stabilizer=_has_stabilizer(book), batting=layered)
    worn, panel = book.pattern.panel.worn, book.pattern.panel
    yield Cautions(items=(BLEEDING, SMALL_PARTS, *(() if panel.is_cut else (SLEEPWEAR,)), makers))
    yield Led(
        items=(
            *(() if book.is_customers else (files,)),
            (said.PRINTING, said.printing_said(frame.rule_inches[0], frame.rule_mm[0], units)),
            (said.WASHING, said.washing_said(design.yardage, listed=_has_narrow(book))),
            *(((garment.GARMENT, garment.washing_said()),) if worn else ()),
            *(((loose.ONTO, loose.washing_said()),) if panel.loose else ()),
            *(((said.SEAMS, said.seams_said(panel.seam_allowance, units)),) if book.has_seams else ()),
            _size(book),
            (said.NAMES, said.NAMES_SAID),
            (said.ABBREVIATIONS, said.abbreviations_said(units)),
        )
    )


def _size(book: Book) -> tuple[Message, Message]:
    """How the finished size is measured, or what the panel is where none is cut."""
    panel, units = book.pattern.panel, book.units
    if panel.worn is not None:
        return garment.PANEL, garment.panel_said(panel, panel.worn, units)
    if panel.loose:
        return garment.PANEL, loose.PANEL_SAID
    return said.SIZE, said.size_said(book.pattern.quilt, units)


def _has_narrow(book: Book) -> bool:
    """Whether it is said what to buy of a fabric that would be too narrow for its plan once it is washed."""
    narrow = (buy.cutting.narrow for buy in book.pattern.shopping.cloth)
    return any(one is not None and one.usual is not None and one.washed is not None for one in narrow)


def _has_stabilizer(book: Book) -> bool:
    """Whether a stitch of the pattern, planned or offered, takes stabilizer."""
    offered = any(offer.stabilizers for offer in book.pattern.offers)
    return bool(book.pattern.stitching.stabilizers) or offered
