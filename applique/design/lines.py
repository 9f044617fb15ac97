"""Where in the text of a design file a place of the design is written."""

from __future__ import annotations

import re
from typing import Final

__all__ = ["line_of"]

_HEADER: Final = re.compile(r"^\s*(\[\[?)([^\[\]]+)\]\]?\s*(?:#.*)?$")
_ENTRY: Final = re.compile(r"""^\s*((?:[\w-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[\w-]+|"[^"]*"|'[^']*'))*)\s*=""")
_LONG_STRING: Final = re.compile(r'"""|\'\'\'')


def line_of(text: str, path: tuple[str | int, ...]) -> int | None:
    """The line of a TOML `text`, from 1, that is nearest to the place `path` (keys, with numbers from 1): the key
    itself, the head of its table where it is left out, or None where not even that is written.

    Tables and keys that are written on lines of their own are found; what lies inside an inline table is found by the
    line of the key that holds it.
    """
    table: tuple[str | int, ...] = ()
    counts: dict[tuple[str | int, ...], int] = {}
    nearest, depth, inside = None, 0, False
    for number, line in enumerate(text.splitlines(), 1):
        was_inside, inside = inside, inside ^ (len(_LONG_STRING.findall(line)) % 2 == 1)
        if was_inside:
            continue
        if header := _HEADER.match(line):
            keys = _keys(header[2])
            table = (*_numbered(keys[:-1], counts), keys[-1])
            if header[1] == "[[":
                counts[table] = counts.get(table, 0) + 1
            place = table = table + ((counts[table],) if table in counts else ())
        elif entry := _ENTRY.match(line):
            place = table + _keys(entry[1])
        else:
            continue
        if len(place) > depth and path[: len(place)] == place:
            nearest, depth = number, len(place)
    return nearest


def _keys(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip().strip("\"'") for part in dotted.split("."))


def _numbered(keys: tuple[str, ...], counts: dict[tuple[str | int, ...], int]) -> tuple[str | int, ...]:
    """`keys` with the number of the newest entry behind each table that is there several times."""
    place: tuple[str | int, ...] = ()
    for key in keys:
        place += (key,)
        if place in counts:
            place += (counts[place],)
    return place
