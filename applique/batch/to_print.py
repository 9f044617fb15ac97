"""The sheets of every name of a list in one file, with a page that says where each begins."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

from applique.batch.filling import check_placeholders
from applique.batch.heights import at_height
from applique.batch.making import TO_PRINT, Outcome, State
from applique.batch.rows import ListRow, read_list
from applique.design import Design, design_from_mapping
from applique.design.placeholders import fill
from applique.design.reading import read_design_data
from applique.errors import Problem, Refusal, Where
from applique.instructions import Table
from applique.language import Field, listed, message
from applique.pack import Written, write_files
from applique.pattern import Pattern, draft
from applique.record import with_record
from applique.sheets import Part, contents_pdf, joined_pdf, page_count
from applique.units import as_length
from applique.words import to_print as said
from applique.words.instructions.sizes import by_said
from applique.words.sheets import file_title
from applique.words.to_print import SheetKind

__all__ = ["Together", "write_to_print"]

_FILE: Final = "all-names.pdf"
_BLANK: Final = "…"
"""What stands for the name itself in the title of all of them."""


class Together(StrEnum):
    """Which sheets lie together: those of one name, or those of one kind."""

    NAMES = "names"
    SHEETS = "sheets"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheets:
    """One pattern of the list as it was made: what is said of it, and its sheets."""

    title: str
    height: Field
    size: Field
    sheets: dict[SheetKind, bytes]


def write_to_print(
    template: Path,
    names: Path,
    outcomes: Sequence[Outcome],
    folder: Path,
    *,
    together: Together,
    height: Fraction | None = None,
    replace: bool = False,
) -> Written | None:
    """Write one file with the sheets of all `outcomes` that are there into the folder `to-print` below `folder`.

    `outcomes` are those of `make_each` for the same `template`, list and `height`, one for each row. Booklets
    are not in it. None where nothing was made.

    Raises:
        Refusal: the folder holds what must not be replaced, a pattern cannot be read any more, or nothing can be
            written; what was there is as it was then.
    """
    rows = read_list(names)
    data = read_design_data(template)
    check_placeholders(data, rows.columns)
    if height is not None:
        data = at_height(data, height)
    base = template.parent.resolve()
    found: list[_Sheets] = []
    first: Design | None = None
    for row, outcome in zip(rows.rows, outcomes, strict=True):
        if outcome.state is State.REFUSED:
            continue
        design = design_from_mapping(fill(data, rows.values(row)), base=base)
        first = first or design
        found.append(_read(row, design, outcome.folder))
    if first is None:
        return None
    blank = str(fill(data, dict.fromkeys(rows.columns, _BLANK)).get("title", ""))
    title = blank if any(sign.isalnum() for sign in blank) else template.stem
    pattern = dataclasses.replace(draft(first), title=title)
    pdf = _all_in_one(pattern, found, together)
    return write_files(
        lambda: with_record({_FILE: pdf}),
        folder / TO_PRINT,
        replace=replace,
        sources=(template, names),
    )


_FILES: Final = {
    SheetKind.GUIDE: "placement-guide.pdf",
    SheetKind.LAYOUT: "nesting.pdf",
    SheetKind.LABEL: "quilt-label.pdf",
}


def _read(row: ListRow, design: Design, folder: Path) -> _Sheets:
    """The sheets of one pattern out of its folder.

    Raises:
        Refusal: they are not there any more, or not as they were made.
    """
    way = "mirrored" if design.sewing.traced_mirrored else "right-reading"
    files = {SheetKind.TEMPLATES: f"templates-{way}.pdf", **_FILES}
    try:
        sheets = {
            kind: (folder / files[kind]).read_bytes() for kind in SheetKind if (folder / files[kind]).exists()
        }
        data: dict[str, Any] = json.loads((folder / "pattern.json").read_bytes())
        width, height = (Fraction(side["exact"]) for side in data["quilt"]["finished"])
        heights = sorted({Fraction(one["cap_height"]["exact"]) for one in data["rows"]}, reverse=True)
        title = str(data["title"])
    except (OSError, ValueError, KeyError, TypeError):
        raise Refusal(
            Problem(
                kind="pattern-not-there",
                what=message("the folder does not hold the pattern as it was made"),
                where=Where(list_row=row.number, file=str(folder)),
                fix=message("the same again with --replace"),
            )
        ) from None
    units = design.units
    return _Sheets(
        title=title,
        height=listed(as_length(one, units, denominator=16) for one in heights),
        size=by_said((width, height), units),
        sheets=sheets,
    )


def _all_in_one(pattern: Pattern, found: Sequence[_Sheets], together: Together) -> bytes:
    """The contents and, behind it, the sheets of all patterns."""
    order = [(index, kind) for index, one in enumerate(found) for kind in SheetKind if kind in one.sheets]
    if together is Together.SHEETS:
        order.sort(key=lambda place: list(SheetKind).index(place[1]))
    lengths = {place: page_count(found[place[0]].sheets[place[1]]) for place in order}

    def contents(before: int) -> bytes:
        starts: dict[tuple[int, SheetKind], int] = {}
        for place in order:
            starts[place] = before + 1
            before += lengths[place]
        return contents_pdf(pattern, _table(found, starts), names=len(found))

    # How many pages the contents take changes no row of them: the numbers stand in columns of their own.
    before = page_count(contents(0))
    speech = pattern.speech
    parts = [Part(pdf=contents(before), bookmark=speech.tell(said.CONTENTS), under="")]
    for index, kind in order:
        name, sheet = found[index].title, speech.tell(said.SHEETS[kind])
        under, bookmark = (name, sheet) if together is Together.NAMES else (sheet, name)
        parts.append(Part(pdf=found[index].sheets[kind], bookmark=bookmark, under=under))
    title = speech.tell(file_title(pattern.title, speech.tell(said.SUBJECT)))
    return joined_pdf(parts, title=title, language=speech.tag)


def _table(found: Sequence[_Sheets], starts: dict[tuple[int, SheetKind], int]) -> Table:
    def pages(index: int) -> Iterator[str]:
        for kind in SheetKind:
            start = starts.get((index, kind))
            yield "" if start is None else str(start)

    columns = (
        (said.NAME, 3.0), (said.HEIGHT, 1.2), (said.SIZE, 1.7), *((said.SHEETS[kind], 1.0) for kind in SheetKind),
    )  # fmt: skip
    rows = tuple((one.title, one.height, one.size, *pages(index)) for index, one in enumerate(found))
    return Table(columns=columns, rows=rows)
