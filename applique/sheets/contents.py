"""Many patterns in one file to print: its contents page, and the sheets of all of them joined behind it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from io import BytesIO
from typing import Final

from pypdf import PdfReader, PdfWriter
from pypdf.generic import IndirectObject, NameObject, TextStringObject

from applique.instructions import Table
from applique.pattern import Pattern
from applique.sheets.frame import Drawn, Sheet
from applique.sheets.lined_table import Row, draw_heads, draw_row, lined
from applique.words import to_print as said

__all__ = ["Part", "contents_pdf", "joined_pdf", "page_count"]

_ABOVE: Final = 14.0
"""Points from what is said at the top of a page to the table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A file that goes into another, with the bookmark to its first page, and the one that this stands under."""

    pdf: bytes
    bookmark: str
    under: str


def page_count(pdf: bytes) -> int:
    """How many pages a file has."""
    return len(PdfReader(BytesIO(pdf)).pages)


def contents_pdf(pattern: Pattern, table: Table, *, names: int) -> bytes:
    """The contents: `table` on as many pages as it takes, on the paper and under the title of `pattern`."""
    pages = _pages(_sheet(pattern, table, names, pages=1, trial=True), pattern, table)
    sheet = _sheet(pattern, table, names, pages=len(pages))
    laid, tell = lined(sheet, table, pattern.speech, sheet.right - sheet.left), pattern.speech.tell
    for rows in pages:
        sheet.begin(tell(said.CONTENTS))
        y = sheet.top - sheet.title(tell(said.CONTENTS), tell(said.HOW)) - _ABOVE
        y = draw_heads(sheet, laid, sheet.left, y)
        for row in rows:
            y = draw_row(sheet, row, laid.widths, sheet.left, y)
    return sheet.finish()


def _sheet(pattern: Pattern, table: Table, names: int, *, pages: int, trial: bool = False) -> Sheet:
    tell, field = pattern.speech.tell, pattern.speech.field
    return Sheet(
        pattern,
        subject=tell(said.SUBJECT),
        method=tell(said.count_said(names)),
        page_count=pages,
        texts=[field(cell) for row in table.rows for cell in row if isinstance(cell, str)],
        mirrored=False,
        drawn=Drawn.NOTHING,
        trial=trial,
    )


def _pages(sheet: Sheet, pattern: Pattern, table: Table) -> list[list[Row]]:
    """The rows of each page, by a sheet on which its title is only tried."""
    tell = pattern.speech.tell
    laid = lined(sheet, table, pattern.speech, sheet.right - sheet.left)
    room = sheet.top - sheet.bottom - sheet.title(tell(said.CONTENTS), tell(said.HOW)) - _ABOVE - laid.head
    pages: list[list[Row]] = [[]]
    left = room
    for row in laid.rows:
        if row.height > left and pages[-1]:
            pages.append([])
            left = room
        pages[-1].append(row)
        left -= row.height
    return pages


def joined_pdf(parts: Iterable[Part], *, title: str, language: str) -> bytes:
    """The pages of all `parts` in one file, as they are, bookmarks of a common `under` below one another.

    The same bytes for the same parts.
    """
    writer = PdfWriter()
    above: dict[str, IndirectObject] = {}
    for part in parts:
        first = len(writer.pages)
        writer.append(BytesIO(part.pdf), import_outline=False)
        if part.under and part.under not in above:
            above[part.under] = writer.add_outline_item(title=part.under, page_number=first, is_open=False)
        writer.add_outline_item(title=part.bookmark, page_number=first, parent=above.get(part.under))
    writer.create_viewer_preferences()[NameObject("/PrintScaling")] = NameObject("/None")
    writer.metadata = {"/Title": title}
    writer.root_object[NameObject("/Lang")] = TextStringObject(language)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()
