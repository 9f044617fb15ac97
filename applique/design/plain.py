"""What no design file could hold, in data that a program gives: found before anything else looks at it."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Final

from applique.design.entries import short
from applique.errors import Problem, Refusal, Where
from applique.language import message

__all__ = ["MOST_PROBLEMS", "control_signs", "place_at", "refuse_no_plain"]

MOST_PROBLEMS: Final = 50
"""As many as anybody reads."""
_MOST_BITS: Final = 14_000
"""Of a whole number that is read: some 4,200 figures, which Python still prints."""
_DEEPEST: Final = 16
"""Tables and lists within one another; a design has five."""
_CONTROL: Final = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x9f]")
_NO_TEXT: Final = re.compile("[\ud800-\udfff]")
"""What stands for a byte of a name or of words that is not UTF-8 (PEP 383), or for half a sign."""


def place_at(location: Sequence[int | str]) -> Where:
    """A place of the file, its lists counted from 1."""
    return Where.key(*(part + 1 if isinstance(part, int) else short(part) for part in location))


def refuse_no_plain(data: Mapping[str, Any]) -> None:
    """Refuse what no file could hold, or nobody read.

    Raises:
        Refusal: keys and words that are no text, tables and lists that hold themselves, whole numbers without end.
    """
    problems = list(itertools.islice(_no_plain_data(data), MOST_PROBLEMS))
    if problems:
        raise Refusal(problems)


def _no_plain_data(data: Mapping[str, Any]) -> Iterator[Problem]:
    """What no file could hold, or nobody read: keys and words that are no text, tables and lists that hold themselves,
    and whole numbers without end."""
    done: set[int] = set()

    def look(value: object, location: tuple[int | str, ...], above: tuple[int, ...]) -> Iterator[Problem]:
        if isinstance(value, str) and (found := _NO_TEXT.search(value)):
            yield _no_text(value, ord(found[0]), location)
        if _is_endless(value):
            yield Problem(
                kind="endless-number",
                what=message("is a number of more figures than anybody reads"),
                where=place_at(location),
                fix=message("a shorter number"),
            )
        if not isinstance(value, Mapping | list | tuple) or id(value) in done:
            return
        if id(value) in above:
            yield Problem(
                kind="holds-itself",
                what=message("holds itself"),
                where=place_at(location),
                fix=message("see docs/design-file.md"),
            )
            return
        if len(above) == _DEEPEST:
            yield Problem(
                kind="too-deep",
                what=message("stands in too many tables and lists"),
                where=place_at(location),
                fix=message("see docs/design-file.md"),
            )
            return
        for key, part in value.items() if isinstance(value, Mapping) else enumerate(value):
            if isinstance(value, Mapping) and (not isinstance(key, str) or _NO_TEXT.search(key)):
                yield _no_key(key, location)
                continue
            yield from look(part, (*location, key), (*above, id(value)))
        done.add(id(value))

    yield from look(data, (), ())


def _is_endless(value: object) -> bool:
    """Whether `value` is a whole number that Python may refuse to print: it prints no more than 4300 figures."""
    return isinstance(value, int) and value.bit_length() > _MOST_BITS


def _no_key(key: object, location: tuple[int | str, ...]) -> Problem:
    if _is_endless(key):
        return Problem(
            kind="endless-key",
            what=message("a key of many figures is no text"),
            where=place_at(location),
            fix=message("the name of a setting"),
        )
    return Problem(
        kind="key-no-text",
        what=message("the key {key} is no text", key=short(ascii(key))),
        where=place_at(location),
        fix=message("the name of a setting"),
    )


def _no_text(value: str, sign: int, location: tuple[int | str, ...]) -> Problem:
    is_font = location[-1] == "font"
    fix = (
        message("another name for the font file or its folder") if is_font else message("type the words anew")
    )
    shown = short(ascii(value)[1:-1])
    if 0xDC80 <= sign <= 0xDCFF:
        return Problem(
            kind="text-holds-byte",
            what=message(
                "“{text}” is no text: it holds a byte {byte}", text=shown, byte=f"{sign - 0xDC00:02X}"
            ),
            where=place_at(location),
            fix=fix,
        )
    return Problem(
        kind="text-holds-half-sign",
        what=message("“{text}” is no text: it holds {sign} alone", text=shown, sign=f"U+{sign:04X}"),
        where=place_at(location),
        fix=fix,
    )


def control_signs(data: Mapping[str, Any]) -> Iterable[Problem]:
    """Texts with signs that steer a terminal or a printer instead of being printed; line breaks are left alone."""
    waiting: list[tuple[tuple[int | str, ...], object]] = [((), data)]
    while waiting:
        location, value = waiting.pop()
        if isinstance(value, Mapping):
            waiting += [((*location, str(key)), part) for key, part in value.items()]
        elif isinstance(value, list | tuple):
            waiting += [((*location, index), part) for index, part in enumerate(value)]
        elif isinstance(value, str) and (found := _CONTROL.search(value)):
            yield Problem(
                kind="unprintable-sign",
                what=message(
                    "the text holds a sign that cannot be printed ({sign})", sign=f"U+{ord(found[0]):04X}"
                ),
                where=place_at(location),
                fix=message("take it out, or type the words anew"),
            )
