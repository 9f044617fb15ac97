"""A hanging sleeve made of what was cut for it, for a quilt and for a banner."""

from __future__ import annotations

from applique.cloth import UseKind
from applique.instructions.book import Book
from applique.instructions.values import Step
from applique.quilt.finishing import SleevePlan
from applique.words.instructions import finishing as said

__all__ = ["sleeve_made"]


def sleeve_made(book: Book, sleeve: SleevePlan) -> Step:
    """The tube, its ends hemmed, from one piece or from strips that were joined or are longer."""
    use = book.pattern.shopping.use(UseKind.SLEEVE)
    made = said.Sleeve.WHOLE
    if use is not None and use.joined:
        made = said.Sleeve.JOINED
    elif use is not None and use.strips[0].length > sleeve.cut_length:
        made = said.Sleeve.LONGER
    return book.step(*said.sleeve_said(sleeve, book.pieces_of(UseKind.SLEEVE), made, book.units))
