"""Pictures of the pages of a PDF, as PDFium draws them."""

from __future__ import annotations

import threading
from io import BytesIO
from typing import Final

__all__ = ["page_count", "page_png"]

_ONE_AT_A_TIME: Final = threading.Lock()
"""PDFium may not be called by two threads at once (its own documentation)."""


def page_count(pdf: bytes) -> int:
    """How many pages `pdf` has."""
    import pypdfium2

    with _ONE_AT_A_TIME:
        document = pypdfium2.PdfDocument(pdf)
        try:
            return len(document)
        finally:
            document.close()


def page_png(pdf: bytes, page: int, *, width_px: int) -> bytes:
    """Page `page` (from 1) of `pdf` as PNG, `width_px` wide.

    Raises:
        IndexError: it has no such page.
    """
    import pypdfium2

    with _ONE_AT_A_TIME:
        document = pypdfium2.PdfDocument(pdf)
        try:
            if not 1 <= page <= len(document):
                raise IndexError(page)
            drawn = document[page - 1]
            bitmap = drawn.render(scale=width_px / drawn.get_width())
            picture = BytesIO()
            bitmap.to_pil().save(picture, "PNG")
            return picture.getvalue()
        finally:
            document.close()
