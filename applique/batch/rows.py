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
from applique.language import message, messages
from applique.naming import refuse_no_name

__all__ = ["ListRow", "NameList", "list_in", "read_list"]

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
                    kind="cells-and-columns-differ",
                    what=message(
                        "the number of its cells is {cells}, that of the columns {columns}",
                        cells=len(row.cells),
                        columns=len(self.columns),
                    ),
                    where=Where(list_row=row.number),
                    fix=message("quotes around a cell that holds a comma, and a cell for every column"),
                )
            )
        return dict(zip(self.columns, row.cells, strict=True))


def read_list(path: Path) -> NameList:
    """The list in the CSV file at `path`: UTF-8, cells apart by comma, semicolon or tab, quoted as in RFC 4180.

    Raises:
        Refusal: it cannot be read, is no such list, or has no rows.
    """
    text = _text(path)
    try:
        return list_in(text, has_header=True)
    except Refusal as refusal:
        raise Refusal(problem.within(Where(file=str(path))) for problem in refusal.problems) from None


def list_in(text: str, *, has_header: bool) -> NameList:
    """The list that a text holds, as a file has it; without a header its columns are called 1, 2 and so on.

    Raises:
        Refusal: it is no such list, or has no rows.
    """
    text = text.removeprefix("\ufeff")
    if "\0" in text:
        raise Refusal(
            Problem(
                kind="list-holds-nul",
                what=message("is no text"),
                fix=message("save it again as CSV, UTF-8"),
            )
        )
    header = text.partition("\n")[0]
    separator = max(_SEPARATORS, key=header.count)
    try:
        table = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        raise Refusal(
            Problem(
                kind="no-csv",
                what=message("is no CSV file that can be read ({reason})", reason=str(error)),
                fix=message("save it again from the spreadsheet as CSV, UTF-8"),
            )
        ) from None
    if not has_header:
        first = next((len(cells) for cells in table if any(cell.strip() for cell in cells)), 1)
        table = [[str(number) for number in range(1, first + 1)], *table]
    problems = list(_faults(table))
    if problems:
        raise Refusal(problems)
    columns = tuple(cell.strip() for cell in table[0])
    rows = tuple(
        ListRow(number=number, cells=tuple(cell.strip() for cell in cells))
        for number, cells in enumerate(table[1:], 2 if has_header else 1)
        if any(cell.strip() for cell in cells)
    )
    if not rows:
        raise Refusal(
            Problem(
                kind="list-without-rows",
                what=message("has no rows under its header"),
                fix=message("a row for each quilt"),
            )
        )
    return NameList(columns=columns, rows=rows)


def _text(path: Path) -> str:
    refuse_no_name(path)
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            raise Refusal(
                Problem(
                    kind="no-list-file",
                    what=message("is no file"),
                    where=Where(file=str(path)),
                    fix=message("the name of a CSV file"),
                )
            )
        if about.st_size > _LARGEST_FILE:
            raise Refusal(
                Problem(
                    kind="list-file-too-large",
                    what=message("is too large for a list of names"),
                    where=Where(file=str(path)),
                    fix=message("a shorter list"),
                )
            )
        return path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise Refusal(
            Problem(
                kind="list-file-unreadable",
                what=message("cannot be read ({reason})", reason=error.strerror or type(error).__name__),
                where=Where(file=str(path)),
                fix=message("check the name of the file"),
            )
        ) from None
    except UnicodeDecodeError:
        raise Refusal(
            Problem(
                kind="list-not-utf-8",
                what=message("is not UTF-8 text"),
                where=Where(file=str(path)),
                fix=message("save it again from the spreadsheet as CSV, UTF-8"),
            )
        ) from None


def _faults(table: list[list[str]]) -> Iterator[Problem]:
    """What is wrong with the list as a whole."""
    columns = [cell.strip() for cell in table[0]] if table else []
    if not any(columns):
        yield Problem(
            kind="list-without-header",
            what=message("has no header"),
            fix=message("the names of the columns in the first row, such as: name,place"),
        )
        return
    if len(columns) > _MOST_COLUMNS:
        yield Problem(
            kind="too-many-columns",
            what=message("has {number} columns", number=len(columns)),
            fix=message("at most {most}", most=_MOST_COLUMNS),
        )
        return
    if not all(columns):
        yield Problem(
            kind="column-without-name",
            what=message("column {number} has no name", number=columns.index("") + 1),
            fix=message("a name for every column in the first row"),
        )
    plain = [column.casefold() for column in columns]
    for column in sorted({column for column in plain if column and plain.count(column) > 1}):
        yield Problem(
            kind="two-columns-of-one-name",
            what=message("two columns are named “{name}”", name=column),
            fix=message("a name of its own for each"),
        )
    if len(table) > _MOST_ROWS + 1:
        yield Problem(
            kind="too-many-list-rows",
            what=message("has {number} rows", number=len(table) - 1),
            fix=message("at most {most} at a time", most=_MOST_ROWS),
        )
    for number, cells in enumerate(table, 1):
        if any(len(cell) > _LONGEST_CELL for cell in cells):
            yield Problem(
                kind="cell-too-long",
                what=messages(
                    "row {number} has a cell of more than {count} letter",
                    "row {number} has a cell of more than {count} letters",
                    _LONGEST_CELL,
                    number=str(number),
                ),
                fix=message("shorter words"),
            )
            return
