"""The list of names: a CSV file with a header, as spreadsheets save it."""

from __future__ import annotations

import csv
import io
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from applique.errors import Problem, Refusal, Where

__all__ = ["ListRow", "NameList", "read_list"]

_LARGEST_FILE: Final = 5_000_000
_MOST_ROWS: Final = 5_000
_MOST_COLUMNS: Final = 100
_LONGEST_CELL: Final = 5_000
_SEPARATORS: Final = ",;\t"
"""What spreadsheets put between cells: a comma, a semicolon where the comma is in numbers, or a tab."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListRow:
    """One row. `number` is what a spreadsheet shows beside it: the header is row 1. `cells` are in column order."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NameList:
    """A whole list: the names of its columns and its rows, blank ones left out."""

    columns: tuple[str, ...]
    rows: tuple[ListRow, ...]

    def values(self, row: ListRow) -> Mapping[str, str]:
        """The cells of `row` by the name of their column.

        Raises:
            Refusal: more cells than columns, or fewer.
        """
        if len(row.cells) != len(self.columns):
            raise Refusal(
                Problem(
                    what=f"the number of its cells is {len(row.cells)}, that of the columns {len(self.columns)}",
                    where=Where(list_row=row.number),
                    fix="quotes around a cell that holds a comma, and a cell for every column",
                )
            )
        return dict(zip(self.columns, row.cells, strict=True))


def read_list(path: Path) -> NameList:
    """The list in the CSV file at `path`: UTF-8, cells apart by comma, semicolon or tab, quoted as in RFC 4180.

    Raises:
        Refusal: it cannot be read, is no such list, or has no rows.
    """
    text = _text(path)
    header = text.partition("\n")[0]
    separator = max(_SEPARATORS, key=header.count)
    try:
        table = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        raise Refusal(
            Problem(
                what=f"is no CSV file that can be read ({error})",
                where=Where(file=str(path)),
                fix="save it again from the spreadsheet as CSV, UTF-8",
            )
        ) from None
    problems = list(_faults(table))
    if problems:
        raise Refusal(Problem(what=what, where=Where(file=str(path)), fix=fix) for what, fix in problems)
    columns = tuple(cell.strip() for cell in table[0])
    rows = tuple(
        ListRow(number=number, cells=tuple(cell.strip() for cell in cells))
        for number, cells in enumerate(table[1:], 2)
        if any(cell.strip() for cell in cells)
    )
    if not rows:
        raise Refusal(
            Problem(
                what="has no rows under its header", where=Where(file=str(path)), fix="a row for each quilt"
            )
        )
    return NameList(columns=columns, rows=rows)


def _text(path: Path) -> str:
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            raise Refusal(
                Problem(what="is no file", where=Where(file=str(path)), fix="the name of a CSV file")
            )
        if about.st_size > _LARGEST_FILE:
            raise Refusal(
                Problem(
                    what="is too large for a list of names", where=Where(file=str(path)), fix="a shorter list"
                )
            )
        text = path.read_bytes().decode("utf-8-sig")
        if "\0" in text:
            raise Refusal(
                Problem(what="is no text", where=Where(file=str(path)), fix="save it again as CSV, UTF-8")
            )
        return text
    except OSError as error:
        raise Refusal(
            Problem(
                what=f"cannot be read ({error.strerror})",
                where=Where(file=str(path)),
                fix="check the name of the file",
            )
        ) from None
    except UnicodeDecodeError:
        raise Refusal(
            Problem(
                what="is not UTF-8 text",
                where=Where(file=str(path)),
                fix="save it again from the spreadsheet as CSV, UTF-8",
            )
        ) from None


def _faults(table: list[list[str]]) -> Iterator[tuple[str, str]]:
    """What is wrong with the list as a whole, each with what to do."""
    columns = [cell.strip() for cell in table[0]] if table else []
    if not any(columns):
        yield "has no header", "the names of the columns in the first row, such as: name,place"
        return
    if len(columns) > _MOST_COLUMNS:
        yield f"has {len(columns)} columns", f"at most {_MOST_COLUMNS}"
        return
    if not all(columns):
        yield f"column {columns.index('') + 1} has no name", "a name for every column in the first row"
    plain = [column.casefold() for column in columns]
    for column in sorted({column for column in plain if column and plain.count(column) > 1}):
        yield f"two columns are named “{column}”", "a name of its own for each"
    if len(table) > _MOST_ROWS + 1:
        yield f"has {len(table) - 1} rows", f"at most {_MOST_ROWS} at a time"
    for number, cells in enumerate(table, 1):
        if any(len(cell) > _LONGEST_CELL for cell in cells):
            yield f"row {number} has a cell of more than {_LONGEST_CELL} letters", "shorter words"
            return
