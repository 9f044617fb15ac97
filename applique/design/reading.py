"""Reading a design: from TOML or plain data to a `Design`, with every problem at once and in the maker's words."""

from __future__ import annotations

import difflib
import itertools
import os
import re
import stat
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, Final, get_args, get_type_hints

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from applique.design.entries import FIT, as_written, short
from applique.design.fonts import is_path
from applique.design.model import Border, BorderKind, Design, Fabric, FussyCut, Nudge, Row
from applique.design.placeholders import fill, placeholders
from applique.design.sewn import Quilting
from applique.design.writing import design_adapter
from applique.errors import NOWHERE, Problem, Refusal, Where
from applique.language import Message, any_of, message, messages
from applique.naming import file_place, refuse_no_name
from applique.units import format_number

__all__ = ["design_from_mapping", "read_design", "read_design_data", "words_of_design"]

_LARGEST_FILE: Final = 1_000_000
_MOST_LETTERS: Final = 10_000
_MOST_DOTS: Final = 100
_MOST_PROBLEMS: Final = 50
_MOST_NAMED: Final = 5
_MOST_BITS: Final = 14_000
"""Of a whole number that is read: some 4,200 figures, which Python still prints."""
_DEEPEST: Final = 16
"""Tables and lists within one another; a design has five."""
_CONTROL: Final = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x9f]")
_NO_TEXT: Final = re.compile("[\ud800-\udfff]")
"""What stands for a byte of a name or of words that is not UTF-8 (PEP 383), or for half a sign."""
_QUOTED: Final = re.compile(r"\"[^\"]*\"|'[^']*'")


def read_design(path: str | os.PathLike[str]) -> Design:
    """The design that the TOML file at `path` holds, fully validated.

    A font given as a path is taken relative to the folder of the file.

    Raises:
        Refusal: the file cannot be read, is no TOML, is a template for a list of names, or breaks a rule; with every
            problem of it.
    """
    file = Path(path)
    data = read_design_data(file)
    return design_from_mapping(words_of_design(data, where=file_place(file)), base=file.parent)


def words_of_design(data: Mapping[str, Any], *, where: Where = NOWHERE) -> dict[str, Any]:
    """`data`, as a design file holds it, with the words as they will be sewn: doubled braces are single.

    Raises:
        Refusal: words in braces stand for columns of a list, or it is no plain data.
    """
    _refuse_no_plain(data)
    asked: dict[str, str] = {}
    for name in placeholders(data):
        asked.setdefault(name.casefold(), short(f"{{{name}}}"))
    if asked:
        shown = [*asked.values()][:_MOST_NAMED] + ["…"] * (len(asked) > _MOST_NAMED)
        raise Refusal(
            Problem(
                kind="is-template",
                what=message("is a template, to be filled from a list: {columns}", columns=", ".join(shown)),
                where=where,
                fix=message(
                    "--each names.csv, with `make` or `check`; {doubled} where braces are to be sewn",
                    doubled=f"{{{shown[0]}}}",
                ),
            )
        )
    return fill(data, {})


def read_design_data(path: Path) -> dict[str, Any]:
    """The tables of the TOML file at `path`, not yet looked into.

    Raises:
        Refusal: the file cannot be read, is no TOML, or no plain data.
    """
    data = _tables(path)
    _refuse_no_plain(data)
    return data


def _tables(path: Path) -> dict[str, Any]:
    refuse_no_name(path)
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            raise Refusal(
                Problem(
                    kind="no-design-file",
                    what=message("is no file"),
                    where=file_place(path),
                    fix=message("the name of a design file"),
                )
            )
        if about.st_size > _LARGEST_FILE:
            raise Refusal(
                Problem(
                    kind="design-file-too-large",
                    what=message("the file is too large for a design"),
                    where=file_place(path),
                    fix=message("a design file"),
                )
            )
        text = path.read_bytes().decode("utf-8-sig")
        _refuse_chains(text, path)
        return tomllib.loads(text)
    except OSError as error:
        raise Refusal(
            Problem(
                kind="design-file-unreadable",
                what=message("cannot be read ({reason})", reason=error.strerror or type(error).__name__),
                where=file_place(path),
                fix=message("check the name of the file"),
            )
        ) from None
    except UnicodeDecodeError:
        raise Refusal(
            Problem(
                kind="design-file-not-text",
                what=message("is not plain text"),
                where=file_place(path),
                fix=message("save it as UTF-8 text"),
            )
        ) from None
    except (
        ValueError,
        RecursionError,
    ) as error:  # besides its own error, tomllib lets int() and datetime() speak
        raise Refusal(
            Problem(
                kind="no-toml",
                what=message("is not valid TOML: {reason}", reason=str(error)),
                where=file_place(path),
                fix=message(
                    'words and lengths in quotes: text = "HOME"; `applique new` shows a file that works'
                ),
            )
        ) from None


def _refuse_chains(text: str, path: Path) -> None:
    """Refuse keys of hundreds of parts (a.b.c…), over which the parser takes time that grows with their square."""
    for number, line in enumerate(text.splitlines(), 1):
        if line.count(".") > _MOST_DOTS and _QUOTED.sub("", line).partition("#")[0].count(".") > _MOST_DOTS:
            raise Refusal(
                Problem(
                    kind="key-of-too-many-parts",
                    what=message(
                        "line {number} is not valid TOML for a design: a key of hundreds of parts",
                        number=number,
                    ),
                    where=file_place(path),
                    fix=message('words and lengths in quotes: text = "HOME"'),
                )
            )


def design_from_mapping(data: Mapping[str, Any], *, base: Path | None = None) -> Design:
    """The design that `data`, shaped as the TOML file, describes.

    `base` is the folder that relative font paths start from.

    Raises:
        Refusal: with every problem of the data.
    """
    if not isinstance(data, Mapping):
        raise Refusal(
            Problem(
                kind="design-no-table",
                what=message("a design is a table of settings, and this is {value}", value=as_written(data)),
                fix=message('such as {"row": [{"text": "HOME"}]}'),
            )
        )
    resolved = _with_font_paths(data, base)
    _refuse_no_plain(resolved)
    problems = list(_control_signs(data))
    design: Design | None = None
    try:
        design = design_adapter().validate_python(resolved)
    except ValidationError as error:
        problems += _told(error)
    if not problems and design is not None:
        problems += _cross_problems(design)
    if problems or design is None:
        raise Refusal(problems)
    return design


def _told(error: ValidationError) -> list[Problem]:
    """The problems of a validation, as many as anybody reads."""
    problems = [_problem(found) for found in error.errors(include_url=False)[:_MOST_PROBLEMS]]
    if error.error_count() > _MOST_PROBLEMS:
        problems.append(
            Problem(
                kind="more-problems",
                what=messages(
                    "and {count} more problem",
                    "and {count} more problems",
                    error.error_count() - _MOST_PROBLEMS,
                ),
                fix=message("these first, then check again"),
            )
        )
    return problems


def _refuse_no_plain(data: Mapping[str, Any]) -> None:
    problems = list(itertools.islice(_no_plain_data(data), _MOST_PROBLEMS))
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
                where=_where(location),
                fix=message("a shorter number"),
            )
        if not isinstance(value, Mapping | list | tuple) or id(value) in done:
            return
        if id(value) in above:
            yield Problem(
                kind="holds-itself",
                what=message("holds itself"),
                where=_where(location),
                fix=message("see docs/design-file.md"),
            )
            return
        if len(above) == _DEEPEST:
            yield Problem(
                kind="too-deep",
                what=message("stands in too many tables and lists"),
                where=_where(location),
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
            where=_where(location),
            fix=message("the name of a setting"),
        )
    return Problem(
        kind="key-no-text",
        what=message("the key {key} is no text", key=short(ascii(key))),
        where=_where(location),
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
            where=_where(location),
            fix=fix,
        )
    return Problem(
        kind="text-holds-half-sign",
        what=message("“{text}” is no text: it holds {sign} alone", text=shown, sign=f"U+{sign:04X}"),
        where=_where(location),
        fix=fix,
    )


def _control_signs(data: Mapping[str, Any]) -> Iterable[Problem]:
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
                where=_where(location),
                fix=message("take it out, or type the words anew"),
            )


def _with_font_paths(data: Mapping[str, Any], base: Path | None) -> dict[str, Any]:
    """`data` with every font that looks like a file made a path from `base`."""
    resolved = dict(data)
    if base is None:
        return resolved

    def settled(table: object) -> object:
        if not isinstance(table, Mapping) or not isinstance(table.get("font"), str):
            return table
        font = table["font"]
        if not is_path(font):
            return table
        try:
            return {**table, "font": str((base / Path(font).expanduser()).absolute())}
        except RuntimeError:  # ~ of somebody this machine does not know
            return table

    if "lettering" in resolved:
        resolved["lettering"] = settled(resolved["lettering"])
    if isinstance(resolved.get("row"), list):
        resolved["row"] = [settled(line) for line in resolved["row"]]
    return resolved


def _cross_problems(design: Design) -> Iterable[Problem]:
    """Problems between parts of a design that each part alone cannot see."""
    names = [fabric.name for fabric in design.fabric]
    for name in sorted({name for name in names if names.count(name) > 1}):
        yield Problem(
            kind="two-fabrics-of-one-name",
            what=message("two fabrics are named “{name}”", name=name),
            where=Where.key("fabric"),
            fix=message("a name of its own for each"),
        )
    named = {
        "panel": design.panel.fabric,
        "lettering": design.lettering.fabric,
        "binding": design.binding.fabric,
        "backing": design.backing.fabric,
        "hanging": design.hanging.fabric,
        "outline": design.outline.fabric,
    }
    uses = [(Where.key(table, "fabric"), name) for table, name in named.items()]
    uses += [(Where.in_row(number, "fabric"), line.fabric or "") for number, line in enumerate(design.row, 1)]
    for number, border in enumerate(design.border, 1):
        uses += [
            (Where.key("border", number, "fabrics"), name) for name in (*border.fabrics, border.corner_fabric)
        ]
        if "" in border.fabrics:
            yield Problem(
                kind="fabric-without-name",
                what=message("one of its fabrics has no name"),
                where=Where.key("border", number),
                fix=message("the names of fabrics"),
            )
    for where, name in uses:
        if name and name not in names:
            yield Problem(
                kind="no-such-fabric",
                what=message("there is no fabric “{name}”", name=name),
                where=where,
                fix=_nearest(name, names)
                if names
                else message("add it: [[fabric]] name = “{name}”", name=name),
            )
    for number, border in enumerate(design.border, 1):
        if border.kind is BorderKind.STRIP and len(border.fabrics) > 1:
            yield Problem(
                kind="strip-of-several-fabrics",
                what=message("a plain strip has one fabric"),
                where=Where.key("border", number),
                fix=message('kind = "rectangles" or "squares" for several'),
            )
    letters = sum(not sign.isspace() for line in design.row for sign in line.text)
    if letters > _MOST_LETTERS:
        yield Problem(
            kind="too-many-letters",
            what=message(
                "there are {letters} letters; {most} are the most in one quilt",
                letters=letters,
                most=_MOST_LETTERS,
            ),
            fix=message("several quilts, or fewer words"),
        )
    if not design.row:
        yield _no_rows()
    for number, line in enumerate(design.row, 1):
        if line.cap_height is None and design.lettering.cap_height == FIT and line.baseline is not None:
            yield Problem(
                kind="baseline-without-cap-height",
                what=message("a stated baseline needs a stated cap height"),
                where=Where.in_row(number),
                fix=message('cap_height = "7in" in the row or in [lettering]'),
            )
    if design.fusible.width <= 2 * design.fusible.rough_cut:
        yield Problem(
            kind="web-narrower-than-rough-cut",
            what=message("the web is narrower than its rough cut"),
            where=Where.key("fusible"),
            fix=message('width = "17in"'),
        )


def _no_rows() -> Problem:
    return Problem(
        kind="no-words",
        what=message("there are no words"),
        fix=message('a row of words: [[row]] then text = "HOME"'),
    )


def _nearest(name: str, known: Sequence[str]) -> Message:
    """The one of `known` that comes nearest to `name`, or else all of them: there is at least one."""
    close = difflib.get_close_matches(name.casefold(), [item.casefold() for item in known], n=1, cutoff=0.55)
    match = next((item for item in known if close and item.casefold() == close[0]), None)
    if match is not None:
        return message("did you mean “{name}”?", name=match)
    return message("one of {names}", names=any_of(known))


def _problem(error: ErrorDetails) -> Problem:
    """Our words for what pydantic found; its own never reach a maker."""
    location = [part for part in error["loc"] if not (isinstance(part, str) and part.startswith("function-"))]
    where = _where(location)
    context = error.get("ctx") or {}
    match error["type"]:
        case "refused":
            problem: Problem = context["problem"]
            return problem.within(where)
        case "unexpected_keyword_argument" | "extra_forbidden":
            return Problem(
                kind="no-such-setting",
                what=message("there is no setting called “{name}”", name=short(str(location[-1]))),
                where=_where(location[:-1]),
                fix=_nearest(str(location[-1]), _known_keys(location[:-1])),
            )
        case "missing":
            if location == ["row"]:
                return _no_rows()
            return Problem(
                kind="setting-missing",
                what=message("{name} is missing", name=str(location[-1])),
                where=_where(location[:-1]),
                fix=message("add {name} = …", name=str(location[-1])),
            )
        case "enum" | "literal_error":
            choices, said = _choices(location), error["input"]
            return Problem(
                kind="no-such-choice",
                what=message("“{value}” isn't one of the choices", value=as_written(said)),
                where=where,
                fix=_nearest(said, choices)
                if isinstance(said, str)
                else message("one of {names}", names=any_of(choices)),
            )
        case kind if kind in _BOUNDS:
            return _out_of_bounds(kind, context, where)
        case kind:
            return _wrong_kind(kind, as_written(error["input"]), where)


_BOUNDS: Final = frozenset(
    [
        "greater_than_equal",
        "less_than_equal",
        "string_too_long",
        "string_too_short",
        "too_long",
        "too_short",
    ]
)
"""Pydantic's names for values of the right kind that are too large or too small."""


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


def _where(location: Sequence[int | str]) -> Where:
    """A place of the file, its lists counted from 1."""
    return Where.key(*(part + 1 if isinstance(part, int) else short(part) for part in location))


def _known_keys(location: Sequence[int | str]) -> tuple[str, ...]:
    """The keys that the table at `location` may hold."""
    return tuple(item.name for item in fields(_table_at(location)))


def _choices(location: Sequence[int | str]) -> tuple[str, ...]:
    """What the key at `location` may be set to, where it is a matter of choice."""
    hint = get_type_hints(_table_at(location[:-1]))[str(location[-1])]
    kinds = [kind for kind in (hint, *get_args(hint)) if isinstance(kind, type) and issubclass(kind, StrEnum)]
    return tuple(choice.value for kind in kinds for choice in kind)


def _table_at(location: Sequence[int | str]) -> type:
    tables: dict[str, type] = {
        "row": Row,
        "fabric": Fabric,
        "border": Border,
        "quilting": Quilting,
        "nudge": Nudge,
        "fussy": FussyCut,
    }
    tables |= {
        item.name: item.default_factory  # type: ignore[misc]
        for item in fields(Design)
        if is_dataclass(item.default_factory)
    }
    named = [part for part in location if isinstance(part, str)]
    return tables.get(named[-1], Design) if named else Design
