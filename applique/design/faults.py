"""What is wrong with the values of a design, in our words: what pydantic says never reaches a maker."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import fields
from enum import StrEnum
from typing import Any, Final, get_args, get_type_hints

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from applique.design.entries import as_written, short
from applique.design.model import Design, tables_of
from applique.design.plain import MOST_PROBLEMS, place_at
from applique.errors import Problem, Where
from applique.language import Message, any_of, message, messages
from applique.units import format_number

__all__ = ["nearest", "no_rows", "told"]

_BOUNDS: Final = frozenset(
    [
        "greater_than",
        "greater_than_equal",
        "less_than_equal",
        "string_too_long",
        "string_too_short",
        "too_long",
        "too_short",
    ]
)
"""Pydantic's names for values of the right kind that are too large or too small."""


def told(error: ValidationError) -> list[Problem]:
    """The problems of a validation, as many as anybody reads."""
    problems = [_problem(found) for found in error.errors(include_url=False)[:MOST_PROBLEMS]]
    if error.error_count() > MOST_PROBLEMS:
        problems.append(
            Problem(
                kind="more-problems",
                what=messages(
                    "and {count} more problem",
                    "and {count} more problems",
                    error.error_count() - MOST_PROBLEMS,
                ),
                fix=message("these first, then check again"),
            )
        )
    return problems


def no_rows() -> Problem:
    """That a design has no words."""
    return Problem(
        kind="no-words",
        what=message("there are no words"),
        fix=message('a row of words: [[row]] then text = "HOME"'),
    )


def nearest(name: str, known: Sequence[str]) -> Message:
    """The one of `known` that comes nearest to `name`, or else all of them: there is at least one."""
    close = difflib.get_close_matches(name.casefold(), [item.casefold() for item in known], n=1, cutoff=0.55)
    match = next((item for item in known if close and item.casefold() == close[0]), None)
    if match is not None:
        return message("did you mean “{name}”?", name=match)
    return message("one of {names}", names=any_of(known))


def _problem(error: ErrorDetails) -> Problem:
    """Our words for what pydantic found; its own never reach a maker."""
    location = [part for part in error["loc"] if not (isinstance(part, str) and part.startswith("function-"))]
    where = place_at(location)
    context = error.get("ctx") or {}
    match error["type"]:
        case "refused":
            problem: Problem = context["problem"]
            return problem.within(where)
        case "unexpected_keyword_argument" | "extra_forbidden":
            return Problem(
                kind="no-such-setting",
                what=message("there is no setting called “{name}”", name=short(str(location[-1]))),
                where=place_at(location[:-1]),
                fix=nearest(str(location[-1]), _known_keys(location[:-1])),
            )
        case "missing":
            if location == ["row"]:
                return no_rows()
            return Problem(
                kind="setting-missing",
                what=message("{name} is missing", name=str(location[-1])),
                where=place_at(location[:-1]),
                fix=message("add {name} = …", name=str(location[-1])),
            )
        case "enum" | "literal_error":
            choices, said = _choices(location), error["input"]
            return Problem(
                kind="no-such-choice",
                what=message("“{value}” isn't one of the choices", value=as_written(said)),
                where=where,
                fix=nearest(said, choices)
                if isinstance(said, str)
                else message("one of {names}", names=any_of(choices)),
            )
        case kind if kind in _BOUNDS:
            return _out_of_bounds(kind, context, where)
        case kind:
            return _wrong_kind(kind, as_written(error["input"]), where)


def _out_of_bounds(kind: str, context: Mapping[str, Any], where: Where) -> Problem:
    """What is wrong with a value beyond its bound, in our words for pydantic's `kind` of error."""
    match kind:
        case "string_too_long":
            most = context["max_length"]
            return Problem(
                kind="text-too-long",
                what=messages("is longer than {count} character", "is longer than {count} characters", most),
                where=where,
                fix=message("fewer words"),
            )
        case "string_too_short":
            return Problem(
                kind="text-empty",
                what=message("has no words"),
                where=where,
                fix=message("words in quotes"),
            )
        case "too_long":
            return Problem(
                kind="list-too-long",
                what=message("holds {number} items", number=context["actual_length"]),
                where=where,
                fix=message("at most {most}", most=context["max_length"]),
            )
        case "too_short":
            return Problem(
                kind="list-too-short",
                what=message("holds nothing"),
                where=where,
                fix=message("at least {least}, in square brackets", least=context["min_length"]),
            )
        case "greater_than":
            return Problem(
                kind="number-not-above",
                what=message("is not more than {bound}", bound=_number(context["gt"])),
                where=where,
                fix=message("more than {bound}", bound=_number(context["gt"])),
            )
        case "greater_than_equal":
            return Problem(
                kind="number-too-small",
                what=message("is less than {least}", least=_number(context["ge"])),
                where=where,
                fix=message("{least} or more", least=_number(context["ge"])),
            )
        case _:
            return Problem(
                kind="number-too-large",
                what=message("is more than {most}", most=_number(context["le"])),
                where=where,
                fix=message("{most} or less", most=_number(context["le"])),
            )


def _number(bound: float) -> str:
    return format_number(bound, places=3)


def _wrong_kind(kind: str, value: str, where: Where) -> Problem:
    """What is wrong with a `value` of another kind than is wanted, in our words for pydantic's `kind` of error."""
    match kind:
        case "bool_type":
            return Problem(
                kind="neither-true-nor-false",
                what=message("“{value}” is neither true nor false", value=value),
                where=where,
                fix=message("true or false, without quotes"),
            )
        case "int_type":
            return Problem(
                kind="no-whole-number",
                what=message("“{value}” is no whole number", value=value),
                where=where,
                fix=message("a whole number without quotes, such as 3"),
            )
        case "float_type" | "finite_number":
            return Problem(
                kind="no-number",
                what=message("“{value}” is no number", value=value),
                where=where,
                fix=message("a number without quotes, such as 45"),
            )
        case "string_type" | "string_unicode":
            return Problem(
                kind="no-text",
                what=message("“{value}” is no text", value=value),
                where=where,
                fix=message("words in quotes"),
            )
        case "string_pattern_mismatch":
            return Problem(
                kind="no-language",
                what=message("“{value}” is no name of a language", value=value),
                where=where,
                fix=message('its short name, such as "en", "fr" or "pt-BR"'),
            )
        case "tuple_type":
            return _no_list(value, where)
        case "dataclass_type" | "dict_type":
            return Problem(
                kind="no-table",
                what=message("“{value}” is no table of settings", value=value),
                where=where,
                fix=message("settings of its own, as docs/design-file.md shows"),
            )
        case _:
            return Problem(
                kind="not-understood",
                what=message("“{value}” is nothing that I can read here", value=value),
                where=where,
                fix=message("see docs/design-file.md"),
            )


def _no_list(value: str, where: Where) -> Problem:
    table = where.path[0] if len(where.path) == 1 else ""
    return Problem(
        kind="no-list",
        what=message("“{value}” is not a list", value=value),
        where=where,
        fix=message("[[{table}]] above the settings of each", table=table)
        if table
        else message("square brackets around it, and commas between the parts"),
    )


def _known_keys(location: Sequence[int | str]) -> tuple[str, ...]:
    """The keys that the table at `location` may hold."""
    return tuple(item.name for item in fields(_table_at(location)))


def _choices(location: Sequence[int | str]) -> tuple[str, ...]:
    """What the key at `location` may be set to, where it is a matter of choice."""
    keys = location[:-1] if isinstance(location[-1], int) else location
    hint = get_type_hints(_table_at(keys[:-1]))[str(keys[-1])]
    kinds = [kind for kind in (hint, *get_args(hint)) if isinstance(kind, type) and issubclass(kind, StrEnum)]
    return tuple(choice.value for kind in kinds for choice in kind)


def _table_at(location: Sequence[int | str]) -> type:
    named = [part for part in location if isinstance(part, str)]
    return tables_of(Design).get(named[-1], Design) if named else Design
