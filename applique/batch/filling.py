"""Whether a template and a list go together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from applique.design.placeholders import placeholders
from applique.errors import Problem, Refusal, Where
from applique.language import any_of, message

__all__ = ["check_placeholders"]


def check_placeholders(data: Mapping[str, Any], columns: Sequence[str]) -> None:
    """Refuse a template that asks for a column the list lacks, or for none at all, or is of several blocks.

    Raises:
        Refusal: with each such placeholder.
    """
    asked = placeholders(data)
    known = {column.casefold() for column in columns}
    there = any_of(f"{{{column}}}" for column in columns)
    problems = [
        Problem(
            kind="no-such-column",
            what=message("the list has no column “{name}”", name=name),
            where=Where(file=f"{{{name}}}"),
            fix=message("one of {columns}", columns=there),
        )
        for name in asked
        if name.casefold() not in known
    ]
    if not asked:
        problems.append(
            Problem(
                kind="no-placeholder",
                what=message("the template has no placeholder, so all rows would be the same quilt"),
                fix=message(
                    'one of {columns} in its words, such as text = "{first}"',
                    columns=there,
                    first=f"{{{columns[0]}}}",
                ),
            )
        )
    if data.get("block"):
        problems.append(
            Problem(
                kind="list-beside-blocks",
                what=message("a list does not yet go with a design of several blocks"),
                where=Where.key("block"),
                fix=message("a template of one panel, with its words in [[row]]"),
            )
        )
    if problems:
        raise Refusal(problems)
