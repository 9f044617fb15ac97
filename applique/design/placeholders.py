"""Braces in the words of a design file: `{name}` stands for a column of a list, `{{` and `}}` for braces."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

__all__ = ["doubled", "fill", "placeholders"]

_PLACEHOLDER: Final = re.compile(r"\{\{|\}\}|\{([^{}]{1,80})\}")
"""A doubled brace stands for a brace; one pair of braces holds the name of a column."""
_BRACE: Final = re.compile(r"[{}]")


def fill(data: Mapping[str, Any], values: Mapping[str, str]) -> dict[str, Any]:
    """`data`, shaped as a design file, with every placeholder in its texts filled from `values`.

    Names of columns are compared without case; a placeholder that has no column stays as it is (see
    `batch.check_placeholders`). Doubled braces are single then.
    """
    plain = {column.casefold(): value for column, value in values.items()}

    def put(match: re.Match[str]) -> str:
        if match[1] is None:
            return match[0][0]
        return plain.get(match[1].strip().casefold(), match[0])

    return _each_text(data, lambda text: _PLACEHOLDER.sub(put, text))


def doubled(data: Mapping[str, Any]) -> dict[str, Any]:
    """`data` with every brace in its texts doubled, so that `fill` gives the texts back, whatever it is told."""
    return _each_text(data, lambda text: _BRACE.sub(lambda match: match[0] * 2, text))


def _each_text(data: Mapping[str, Any], change: Callable[[str], str]) -> dict[str, Any]:
    def changed(value: Any) -> Any:
        if isinstance(value, str):
            return change(value)
        if isinstance(value, Mapping):
            return {key: changed(part) for key, part in value.items()}
        if isinstance(value, list):
            return [changed(part) for part in value]
        return value

    return {key: changed(part) for key, part in data.items()}


def placeholders(data: Any) -> tuple[str, ...]:
    """The names of all placeholders in the texts of `data`, each once, in the order they stand there."""
    return tuple(dict.fromkeys(_names(data)))


def _names(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield from (match[1].strip() for match in _PLACEHOLDER.finditer(value) if match[1])
    elif isinstance(value, Mapping | list):
        for part in value.values() if isinstance(value, Mapping) else value:
            yield from _names(part)
