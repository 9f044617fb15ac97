"""Reading a design: from TOML or plain data to a `Design`, with every problem at once and in the maker's words."""

from __future__ import annotations

import difflib
import itertools
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

from applique.design.entries import FIT, short
from applique.design.fonts import is_path
from applique.design.model import Border, BorderKind, Design, Fabric, FussyCut, Nudge, Row
from applique.design.placeholders import fill, placeholders
from applique.design.sewn import Quilting
from applique.design.writing import design_adapter
from applique.errors import NOWHERE, Problem, Refusal, Where

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
_WANTED: Final = {
    "bool_type": ("neither true nor false", "true or false, without quotes"),
    "int_type": ("no whole number", "a whole number without quotes, such as 3"),
    "float_type": ("no number", "a number without quotes, such as 45"),
    "finite_number": ("no number", "a number without quotes, such as 45"),
    "string_type": ("no text", "words in quotes"),
}
"""Values of the wrong kind, by pydantic's name for the error: what they are not, and what to write."""
_NO_TEXT: Final = re.compile("[\ud800-\udfff]")
"""What stands for a byte of a name or of words that is not UTF-8 (PEP 383), or for half a sign."""
_QUOTED: Final = re.compile(r"\"[^\"]*\"|'[^']*'")


def read_design(path: Path) -> Design:
    """The design that the TOML file at `path` holds, fully validated.

    A font given as a path is taken relative to the folder of the file.

    Raises:
        Refusal: the file cannot be read, is no TOML, is a template for a list of names, or breaks a rule; with every
            problem of it.
    """
    return design_from_mapping(
        words_of_design(read_design_data(path), where=Where(file=str(path))), base=path.parent
    )


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
        doubled = f"{{{shown[0]}}}"
        raise Refusal(
            Problem(
                what=f"is a template, to be filled from a list: {', '.join(shown)}",
                where=where,
                fix=f"--each names.csv, with `make` or `check`; {doubled} where braces are to be sewn",
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
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise Refusal(
                Problem(what="is no file", where=Where(file=str(path)), fix="the name of a design file")
            )
        if path.stat().st_size > _LARGEST_FILE:
            raise Refusal(
                Problem(
                    what="the file is too large for a design",
                    where=Where(file=str(path)),
                    fix="a design file",
                )
            )
        text = path.read_bytes().decode("utf-8-sig")
        _refuse_chains(text, path)
        return tomllib.loads(text)
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
            Problem(what="is not plain text", where=Where(file=str(path)), fix="save it as UTF-8 text")
        ) from None
    except (
        ValueError,
        RecursionError,
    ) as error:  # besides its own error, tomllib lets int() and datetime() speak
        raise Refusal(
            Problem(
                what=f"is not valid TOML: {error}",
                where=Where(file=str(path)),
                fix='words and lengths in quotes: text = "HOME"; `applique new` shows a file that works',
            )
        ) from None


def _refuse_chains(text: str, path: Path) -> None:
    """Refuse keys of hundreds of parts (a.b.c…), over which the parser takes time that grows with their square."""
    for number, line in enumerate(text.splitlines(), 1):
        if line.count(".") > _MOST_DOTS and _QUOTED.sub("", line).partition("#")[0].count(".") > _MOST_DOTS:
            raise Refusal(
                Problem(
                    what=f"line {number} is not valid TOML for a design: a key of hundreds of parts",
                    where=Where(file=str(path)),
                    fix='words and lengths in quotes: text = "HOME"',
                )
            )


def design_from_mapping(data: Mapping[str, Any], *, base: Path | None = None) -> Design:
    """The design that `data`, shaped as the TOML file, describes.

    `base` is the folder that relative font paths start from.

    Raises:
        Refusal: with every problem of the data.
    """
    if not isinstance(data, Mapping):
        what = f"a design is a table of settings, and this is {short(repr(data))}"
        raise Refusal(Problem(what=what, fix='such as {"row": [{"text": "HOME"}]}'))
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
        more = error.error_count() - _MOST_PROBLEMS
        problems.append(Problem(what=f"and {more} more problems", fix="these first, then check again"))
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
            what = "is a number of more figures than anybody reads"
            yield Problem(what=what, where=_where(location), fix="a shorter number")
        if not isinstance(value, Mapping | list | tuple) or id(value) in done:
            return
        if id(value) in above or len(above) == _DEEPEST:
            what = "holds itself" if id(value) in above else "stands in too many tables and lists"
            yield Problem(what=what, where=_where(location), fix="see docs/design-file.md")
            return
        for key, part in value.items() if isinstance(value, Mapping) else enumerate(value):
            if isinstance(value, Mapping) and (not isinstance(key, str) or _NO_TEXT.search(key)):
                shown = "of many figures" if _is_endless(key) else short(ascii(key))
                what = f"the key {shown} is no text"
                yield Problem(what=what, where=_where(location), fix="the name of a setting")
                continue
            yield from look(part, (*location, key), (*above, id(value)))
        done.add(id(value))

    yield from look(data, (), ())


def _is_endless(value: object) -> bool:
    """Whether `value` is a whole number that Python may refuse to print: it prints no more than 4300 figures."""
    return isinstance(value, int) and value.bit_length() > _MOST_BITS


def _no_text(value: str, sign: int, location: tuple[int | str, ...]) -> Problem:
    is_font = location[-1] == "font"
    said = f"a byte {sign - 0xDC00:02X}" if 0xDC80 <= sign <= 0xDCFF else f"U+{sign:04X} alone"
    return Problem(
        what=f"{short(ascii(value))} is no text: it holds {said}",
        where=_where(location),
        fix="another name for the font file or its folder" if is_font else "type the words anew",
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
                what=f"the text holds a sign that cannot be printed (U+{ord(found[0]):04X})",
                where=_where(location),
                fix="take it out, or type the words anew",
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
            what=f"two fabrics are named “{name}”",
            where=Where.key("fabric"),
            fix="a name of its own for each",
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
                what="one of its fabrics has no name",
                where=Where.key("border", number),
                fix="the names of fabrics",
            )
    for where, name in uses:
        if name and name not in names:
            yield Problem(
                what=f"there is no fabric “{name}”",
                where=where,
                fix=_nearest(name, names) or f"add it: [[fabric]] name = “{name}”",
            )
    for number, border in enumerate(design.border, 1):
        if border.kind is BorderKind.STRIP and len(border.fabrics) > 1:
            yield Problem(
                what="a plain strip has one fabric",
                where=Where.key("border", number),
                fix='kind = "rectangles" or "squares" for several',
            )
    letters = sum(not sign.isspace() for line in design.row for sign in line.text)
    if letters > _MOST_LETTERS:
        yield Problem(
            what=f"there are {letters:,} letters; {_MOST_LETTERS:,} are the most in one quilt",
            fix="several quilts, or fewer words",
        )
    if not design.row:
        yield Problem(what="there are no words", fix='a row of words: [[row]] then text = "HOME"')
    for number, line in enumerate(design.row, 1):
        if line.cap_height is None and design.lettering.cap_height == FIT and line.baseline is not None:
            yield Problem(
                what="a stated baseline needs a stated cap height",
                where=Where.in_row(number),
                fix='cap_height = "7in" in the row or in [lettering]',
            )
    if design.fusible.width <= 2 * design.fusible.rough_cut:
        yield Problem(
            what="the web is narrower than its rough cut", where=Where.key("fusible"), fix='width = "17in"'
        )


def _nearest(name: str, known: Sequence[str]) -> str:
    close = difflib.get_close_matches(name.casefold(), [item.casefold() for item in known], n=1, cutoff=0.55)
    match = next((item for item in known if close and item.casefold() == close[0]), None)
    if match is not None:
        return f"did you mean “{match}”?"
    return f"one of {', '.join(known)}" if known else ""


def _problem(error: ErrorDetails) -> Problem:
    location = [part for part in error["loc"] if not (isinstance(part, str) and part.startswith("function-"))]
    where = _where(location)
    context = error.get("ctx") or {}
    match error["type"]:
        case "refused":
            return Problem(what=str(context["what"]), where=where, fix=str(context["fix"]))
        case "unexpected_keyword_argument" | "extra_forbidden":
            known = _known_keys(location[:-1])
            return Problem(
                what=f"there is no setting called “{short(str(location[-1]))}”",
                where=_where(location[:-1]),
                fix=_nearest(str(location[-1]), known),
            )
        case "missing":
            if location == ["row"]:
                return Problem(what="there are no words", fix='a row of words: [[row]] then text = "HOME"')
            return Problem(
                what=f"{location[-1]} is missing", where=_where(location[:-1]), fix=f"add {location[-1]} = …"
            )
        case "enum" | "literal_error":
            choices = _choices(location)
            said = error["input"]
            return Problem(
                what=f"{short(repr(said))} isn't one of the choices",
                where=where,
                fix=_nearest(said, choices) if isinstance(said, str) else f"one of {', '.join(choices)}",
            )
        case kind if kind in _WANTED:
            named, fix = _WANTED[kind]
            return Problem(what=f"{short(repr(error['input']))} is {named}", where=where, fix=fix)
        case _:
            return Problem(
                what=error["msg"][:1].lower() + error["msg"][1:], where=where, fix="see docs/design-file.md"
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
