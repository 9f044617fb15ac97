"""Filling the placeholders of a template, such as `{name}`, from the cells of a row."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from applique.errors import Problem, Refusal

__all__ = ["check_placeholders", "fill", "placeholders"]

_PLACEHOLDER: Final = re.compile(r"\{\{|\}\}|\{([^{}]{1,80})\}")
"""A doubled brace stands for a brace; one pair of braces holds the name of a column."""


def fill(data: Mapping[str, Any], values: Mapping[str, str]) -> dict[str, Any]:
    """`data`, shaped as a design file, with every placeholder in its texts filled from `values`.

    Names of columns are compared without case; a placeholder that has no column stays as it is (see
    `check_placeholders`).
    """
    plain = {column.casefold(): value for column, value in values.items()}

    def put(match: re.Match[str]) -> str:
        if match[1] is None:
            return match[0][0]
        return plain.get(match[1].strip().casefold(), match[0])

    def filled(value: Any) -> Any:
        if isinstance(value, str):
            return _PLACEHOLDER.sub(put, value)
        if isinstance(value, Mapping):
            return {key: filled(part) for key, part in value.items()}
        if isinstance(value, list):
            return [filled(part) for part in value]
        return value

    return {key: filled(part) for key, part in data.items()}


def placeholders(data: Any) -> tuple[str, ...]:
    """The names of all placeholders in the texts of `data`, each once, in the order they stand there."""
    return tuple(dict.fromkeys(_names(data)))


def _names(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield from (match[1].strip() for match in _PLACEHOLDER.finditer(value) if match[1])
    elif isinstance(value, Mapping | list):
        for part in value.values() if isinstance(value, Mapping) else value:
            yield from _names(part)


def check_placeholders(data: Mapping[str, Any], columns: Sequence[str]) -> None:
    """Refuse a template that asks for a column the list lacks, or for none at all.

    Raises:
        Refusal: with each such placeholder.
    """
    asked = placeholders(data)
    known = {column.casefold() for column in columns}
    there = ", ".join(f"{{{column}}}" for column in columns)
    problems = [
        Problem(what=f"the list has no column “{name}”", where=f"{{{name}}}", fix=f"one of {there}")
        for name in asked
        if name.casefold() not in known
    ]
    if not asked:
        problems.append(
            Problem(
                what="the template has no placeholder, so all rows would be the same quilt",
                fix=f'one of {there} in its words, such as text = "{{{columns[0]}}}"',
            )
        )
    if problems:
        raise Refusal(problems)
