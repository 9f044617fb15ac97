"""A quilt for each name of a list: how a list is read for the page, and what each name makes of the design."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from applique.batch import ListRow, NameList, folders_of, list_in
from applique.design import Design
from applique.design.placeholders import doubled, fill
from applique.errors import Problem, Refusal, Where
from applique.language import Speech, message, messages
from applique.web.findings import refusal_views
from applique.web.tabs import Tab

__all__ = ["Fills", "NamedQuilts", "named_quilts", "names_view"]

_MOST_NAMES: Final = 200
"""Patterns that a page makes at a time; `applique make --each` makes more."""
_SHOWN_ROWS: Final = 5
_KNOWN: Final = re.compile(r"\{\{([^{}]{1,80})\}\}")
_HEADINGS: Final = frozenset({"name", "names", "word", "words", "text", "title", "first name", "surname"})
"""What the first line of a list of one column says where it is no name itself; the maker may say otherwise."""
_OF_ONE_WORD: Final = ("nudge", "fussy")
"""What belongs to single letters of a row, and to no other word."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fills:
    """Which column fills what, each counted from 0: rows of words by their index, and the title."""

    rows: Mapping[int, int] = field(default_factory=dict)
    title: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedQuilts:
    """The quilts of a list: for each row its line, what it is called, its folder, and its design or what is wrong."""

    lines: tuple[int, ...]
    names: tuple[str, ...]
    folders: tuple[str, ...]
    quilts: tuple[Design | Refusal, ...]


def names_view(
    data: Mapping[str, Any], text: str, *, has_header: bool | None, speech: Speech
) -> dict[str, Any]:
    """How a list was read: its columns, its first rows, what is wrong by line, and which column may fill what.

    Raises:
        Refusal: it is no list that can be read.
    """
    read, is_headed = _read(text, data, has_header)
    wrong = [(row.number, problem) for row in read.rows for problem in _problems(read, row)]
    fills = _guessed(data, read)
    return {
        "headed": is_headed,
        "columns": list(read.columns),
        "count": len(read.rows),
        "rows": [{"line": row.number, "cells": list(row.cells)} for row in read.rows[:_SHOWN_ROWS]],
        "problems": [
            {"line": line, **view} for line, problem in wrong for view in refusal_views([problem], speech)
        ],
        "fills": {"rows": {str(row): column for row, column in fills.rows.items()}, "title": fills.title},
        "placed": _asked(data, read.columns),
    }


def named_quilts(
    tab: Tab, data: Mapping[str, Any], text: str, *, has_header: bool | None, fills: Fills
) -> NamedQuilts:
    """The design of each row of a list, checked.

    Raises:
        Refusal: the list cannot be read, or nothing of the design is filled from it.
    """
    read, _ = _read(text, data, has_header)
    columns = range(len(read.columns))
    rows = data.get("row")
    count = len(rows) if isinstance(rows, list) else 0
    kept = {row: column for row, column in fills.rows.items() if row in range(count) and column in columns}
    title = fills.title if fills.title in columns else None
    if not kept and title is None and not _asked(data, read.columns):
        raise Refusal(
            Problem(
                kind="names-fill-nothing",
                what=message("nothing of the quilt is filled from the list, so all would be the same"),
                fix=message("choose which words come from which column"),
            )
        )
    template = _template(data, read.columns)
    quilts = tuple(_quilt(tab, template, read, row, Fills(rows=kept, title=title)) for row in read.rows)
    return NamedQuilts(
        lines=tuple(row.number for row in read.rows),
        names=tuple(_name(row, Fills(rows=kept, title=title)) for row in read.rows),
        folders=tuple(folders_of(read.rows)),
        quilts=quilts,
    )


def _read(text: str, data: Mapping[str, Any], has_header: bool | None) -> tuple[NameList, bool]:
    headed = _is_headed(text, data) if has_header is None else has_header
    read = list_in(text, has_header=headed)
    if len(read.rows) > _MOST_NAMES:
        raise Refusal(
            Problem(
                kind="too-many-names",
                what=messages("the list has {count} name", "the list has {count} names", len(read.rows)),
                fix=message(
                    "at most {most} at a time here; `applique make --each` makes more", most=_MOST_NAMES
                ),
            )
        )
    return read, headed


def _is_headed(text: str, data: Mapping[str, Any]) -> bool:
    """Whether the first line says what the columns are: where there are several, or where one word of it is known."""
    first = list_in(text, has_header=False).rows[0].cells
    asked = {name.casefold() for name in _braced(data)}
    plain = {cell.casefold() for cell in first}
    return bool(plain & (_HEADINGS | asked)) or (len(first) > 1 and all(first) and len(plain) == len(first))


def _braced(data: Mapping[str, Any]) -> list[str]:
    """What stands in braces in the words of a design."""
    return [match[1].strip() for match in _KNOWN.finditer("\n".join(_texts(doubled(data))))]


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping | list):
        for part in value.values() if isinstance(value, Mapping) else value:
            yield from _texts(part)


def _asked(data: Mapping[str, Any], columns: Sequence[str]) -> list[str]:
    """The columns that the words of the design name in braces."""
    known = {column.casefold() for column in columns}
    return list(dict.fromkeys(name for name in _braced(data) if name.casefold() in known))


def _template(data: Mapping[str, Any], columns: Sequence[str]) -> dict[str, Any]:
    """The design of the page with placeholders for the columns it names; every other brace is one."""
    known = {column.casefold() for column in columns}

    def single(match: re.Match[str]) -> str:
        return f"{{{match[1]}}}" if match[1].strip().casefold() in known else match[0]

    def changed(value: Any) -> Any:
        if isinstance(value, str):
            return _KNOWN.sub(single, value)
        if isinstance(value, Mapping):
            return {key: changed(part) for key, part in value.items()}
        return [changed(part) for part in value] if isinstance(value, list) else value

    return dict(changed(doubled(data)))


def _quilt(
    tab: Tab, template: Mapping[str, Any], read: NameList, row: ListRow, fills: Fills
) -> Design | Refusal:
    problems = list(_problems(read, row))
    if problems:
        return Refusal(problems)
    data = fill(template, read.values(row))
    rows = [dict(words) for words in data["row"]]
    for index, column in fills.rows.items():
        if not row.cells[column]:
            return Refusal(
                Problem(
                    kind="name-is-empty",
                    what=message("its cell under “{column}” is empty", column=read.columns[column]),
                    where=Where(list_row=row.number),
                    fix=message("a name in it, or the line left out"),
                )
            )
        rows[index] = {key: part for key, part in rows[index].items() if key not in _OF_ONE_WORD}
        rows[index]["text"] = row.cells[column]
    data["row"] = rows
    if fills.title is not None:
        data["title"] = row.cells[fills.title]
    try:
        return tab.checked(data)
    except Refusal as refusal:
        return refusal


def _problems(read: NameList, row: ListRow) -> Iterator[Problem]:
    try:
        read.values(row)
    except Refusal as refusal:
        yield from refusal.problems


def _name(row: ListRow, fills: Fills) -> str:
    """What a row is called while it is made: the words that it gives, or its first cell."""
    columns = [*fills.rows.values(), *([] if fills.title is None else [fills.title]), 0]
    return next(
        (row.cells[column] for column in columns if column < len(row.cells) and row.cells[column]), ""
    )


def _guessed(data: Mapping[str, Any], read: NameList) -> Fills:
    """Which column fills what: where words or the title are what a cell says, and where there is one row only."""
    rows, title = data.get("row"), data.get("title")
    texts = (
        [words.get("text", "") for words in rows if isinstance(words, dict)] if isinstance(rows, list) else []
    )
    if _asked(data, read.columns):
        return Fills()
    columns = {
        cell.casefold(): column
        for row in reversed(read.rows)
        for column, cell in enumerate(row.cells)
        if cell
    }
    found = {
        index: columns[text.strip().casefold()]
        for index, text in enumerate(texts)
        if isinstance(text, str) and text.strip().casefold() in columns
    }
    if not found and len(texts) == 1:
        found = {0: 0}
    own = columns.get(title.strip().casefold()) if isinstance(title, str) else None
    within = range(len(read.columns))
    return Fills(
        rows={row: column for row, column in found.items() if column in within},
        title=own if own in within else None,
    )
