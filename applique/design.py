"""The design file: what the maker asks for, read from TOML, validated whole, written back.

Every length is an exact `Fraction` of inches. Reading reports every problem of a file at once. The JSON
Schema of the file comes from these same classes (`design_schema`).
"""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import MISSING, dataclass, field, fields, is_dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Final, Literal

import tomli_w
from pydantic import (
    BeforeValidator,
    ConfigDict,
    PlainSerializer,
    TypeAdapter,
    ValidationError,
    WithJsonSchema,
)
from pydantic_core import ErrorDetails, PydanticCustomError

from applique.errors import Problem, Refusal
from applique.units import LONGEST, SHORTEST, Units, format_length, parse_length

__all__ = [
    "Align",
    "Copies",
    "Design",
    "Fabric",
    "Fusible",
    "Lettering",
    "Line",
    "Nudge",
    "Panel",
    "Paper",
    "PaperSize",
    "PrintCorrection",
    "Rows",
    "Spacing",
    "design_data",
    "design_from_mapping",
    "design_schema",
    "design_text",
    "read_design",
]

FIT: Final = "fit"
_STRICT: Final = ConfigDict(extra="forbid")
_LARGEST_FILE: Final = 1_000_000
_MOST_LETTERS_A_LINE: Final = 2_000


class Align(StrEnum):
    """How a row lies across the panel, judged by its ink."""

    CENTRE = "centre"
    LEFT = "left"
    RIGHT = "right"
    SPREAD = "spread"


class Spacing(StrEnum):
    """How letters follow one another: the font's own kerning, or evened by the white between them."""

    FONT = "font"
    EVEN = "even"


class Rows(StrEnum):
    """How rows follow one another down the panel."""

    EQUAL_WHITE = "equal white"
    EVEN_BASELINES = "even baselines"


class Copies(StrEnum):
    """One template for each distinct shape, or one for each letter to be cut."""

    ONE = "one"
    EACH = "each"


class PaperSize(StrEnum):
    """The papers that home printers take."""

    LETTER = "letter"
    A4 = "A4"
    LEGAL = "legal"
    TABLOID = "tabloid"
    A3 = "A3"


def _refused(what: str, fix: str) -> PydanticCustomError:
    return PydanticCustomError("refused", "{what}", {"what": what, "fix": fix})


def _length(value: object, *, least: Fraction, most: Fraction) -> Fraction:
    if isinstance(value, Fraction):
        length = value
    elif isinstance(value, str):
        try:
            length = parse_length(value)
        except Refusal as refusal:
            problem = refusal.problems[0]
            raise _refused(problem.what, problem.fix) from None
    elif isinstance(value, int | float) and not isinstance(value, bool):
        raise _refused(
            f"{value} has no unit", f'a length in quotes with its unit: "{value}in" or "{value}cm"'
        )
    else:
        raise _refused(f"{value!r} is no length", 'a length in quotes, such as "7in" or "18.5cm"')
    if not least <= length <= most:
        raise _refused(
            f"{value} is outside what can be sewn",
            f"a length from {format_length(least, Units.INCHES, denominator=32)} to "
            f"{format_length(most, Units.INCHES)}",
        )
    return length


def _exactly(length: Fraction) -> str:
    """`length` as text that reads back to the same fraction: in inches, or in millimetres where those end."""
    millimetres = length * Fraction(254, 10)
    if length.denominator not in (1, 2, 4, 8, 16, 32, 64) and (millimetres * 1000).denominator == 1:
        return f"{float(millimetres):.3f}".rstrip("0").rstrip(".") + "mm"
    sign, size = ("-", -length) if length < 0 else ("", length)
    whole, part = divmod(size, 1)
    if not part:
        return f"{sign}{whole}in"
    return f"{sign}{f'{whole} ' if whole else ''}{part}in"


_WRITE_LENGTH = PlainSerializer(_exactly, return_type=str)
_LENGTH_SCHEMA: Final = {"type": "string", "examples": ["7in", "7 1/4in", '7-1/4"', "18.5cm", "1/2yd"]}

Size = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=SHORTEST, most=LONGEST)),
    _WRITE_LENGTH,
    WithJsonSchema(_LENGTH_SCHEMA),
]
"""A length that must be there: 1 mm to 100 m."""
Allowance = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=Fraction(0), most=LONGEST)),
    _WRITE_LENGTH,
    WithJsonSchema(_LENGTH_SCHEMA),
]
"""A length that may be nothing: 0 to 100 m."""
Shift = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=-LONGEST, most=LONGEST)),
    _WRITE_LENGTH,
    WithJsonSchema(_LENGTH_SCHEMA),
]
"""A length with a sign."""


def _cap_height(value: object) -> Fraction | Literal["fit"]:
    if isinstance(value, str) and value.strip().lower() == FIT:
        return FIT
    return _length(value, least=SHORTEST, most=LONGEST)


CapHeight = Annotated[
    Fraction | Literal["fit"],
    BeforeValidator(_cap_height),
    PlainSerializer(lambda value: value if value == FIT else _exactly(value), return_type=str),
    WithJsonSchema(
        {"anyOf": [{"const": FIT, "description": "the largest that fits the panel"}, {**_LENGTH_SCHEMA}]}
    ),
]
"""The height of the H, or `fit` for the largest at which everything fits the panel."""


def _colour(value: object) -> str:
    if isinstance(value, str) and re.fullmatch(r"#[0-9a-fA-F]{6}", value.strip()):
        return value.strip().lower()
    raise _refused(f"{value!r} is no colour", 'six digits as on the web, such as "#1f3a5f"')


Colour = Annotated[
    str, BeforeValidator(_colour), WithJsonSchema({"type": "string", "pattern": "^#[0-9a-fA-F]{6}$"})
]


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise _refused(f"{value!r} is no text", "the words in quotes")
    if not value.strip():
        raise _refused("there are no words", "the words of the row in quotes, or take the row out")
    if any(ch in value for ch in "\n\r\t\v\f\u2028\u2029"):
        raise _refused("a row of words holds a line break or a tab", "one [[line]] for each row of words")
    if len(value) > _MOST_LETTERS_A_LINE:
        raise _refused(f"a row has {len(value)} letters", f"at most {_MOST_LETTERS_A_LINE} letters in a row")
    return value.strip()


Words = Annotated[str, BeforeValidator(_text), WithJsonSchema({"type": "string", "minLength": 1})]


def _measured(value: object) -> Fraction:
    """What the 6 in rule of a sheet measured on paper, as a factor of its true length."""
    if isinstance(value, Fraction):
        factor = value
    elif isinstance(value, str) and (percent := re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*%\s*", value)):
        factor = Fraction(percent[1]) / 100
    else:
        factor = _length(value, least=SHORTEST, most=LONGEST) / 6
    if not Fraction(9, 10) <= factor <= Fraction(11, 10):
        raise _refused(
            f"a rule of 6 in that measures {value} was not printed at 100 %",
            "print again with the size set to 100 % (no fit to page), then measure; "
            'the correction is for small errors only, from "5.4in" to "6.6in"',
        )
    return factor


Measured = Annotated[
    Fraction,
    BeforeValidator(_measured),
    PlainSerializer(lambda factor: _exactly(factor * 6), return_type=str),
    WithJsonSchema(
        {
            "type": "string",
            "description": "what the 6 in rule measured",
            "examples": ["5 15/16in", "152mm", "99%"],
        }
    ),
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabric:
    """A fabric of the design. `usable_width` is the width of fabric without its selvages."""

    __pydantic_config__ = _STRICT
    name: str
    colour: Colour
    usable_width: Size = Fraction(40)


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """The background panel. `width` and `height` are finished sizes.

    `margin` is the least distance from the letters to the finished edge.
    """

    __pydantic_config__ = _STRICT
    width: Size = Fraction(30)
    height: Size = Fraction(40)
    seam_allowance: Allowance = Fraction(1, 4)
    margin: Allowance = Fraction(3, 2)
    fabric: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nudge:
    """One letter of a row moved by hand. `letter` counts the letters as typed, from 1, spaces left out."""

    __pydantic_config__ = _STRICT
    letter: int
    right: Shift = Fraction(0)
    up: Shift = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering:
    """The defaults that every row takes unless it says otherwise.

    `axes` are settings of a variable font (`weight` or the font's own four-letter tags). `letter_spacing`
    is added between letters; `least_gap` is the least clear distance between neighbouring letters, and
    `row_gap` the least white between rows. `line_spacing` fixes the distance between baselines.
    """

    __pydantic_config__ = _STRICT
    font: str = "Montserrat"
    axes: dict[str, float] = field(default_factory=dict)
    cap_height: CapHeight = FIT
    letter_spacing: Shift = Fraction(0)
    least_gap: Allowance = Fraction(1, 4)
    spacing: Spacing = Spacing.FONT
    row_gap: Allowance = Fraction(1)
    rows: Rows = Rows.EQUAL_WHITE
    line_spacing: Size | None = None
    align: Align = Align.CENTRE
    fabric: str = ""
    alternates: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One row of words. What is `None` is taken from the lettering defaults.

    `baseline` is a stated height, measured down from the finished top edge of the panel; `right` and `up`
    nudge the whole row.
    """

    __pydantic_config__ = _STRICT
    text: Words
    font: str | None = None
    axes: dict[str, float] | None = None
    cap_height: CapHeight | None = None
    letter_spacing: Shift | None = None
    least_gap: Allowance | None = None
    spacing: Spacing | None = None
    align: Align | None = None
    fabric: str | None = None
    alternates: bool | None = None
    baseline: Size | None = None
    right: Shift = Fraction(0)
    up: Shift = Fraction(0)
    nudge: tuple[Nudge, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fusible:
    """The fusible web as the maker buys it, and the margin of the rough cut around each letter.

    `extra_percent` is bought beyond what the layout uses.
    """

    __pydantic_config__ = _STRICT
    width: Size = Fraction(17)
    rough_cut: Allowance = Fraction(1, 4)
    spacing: Allowance = Fraction(1, 8)
    extra_percent: int = 25


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintCorrection:
    """What the 6 in rules of a printed sheet measured, held as a factor of 6 in: 1 is a true printer."""

    __pydantic_config__ = _STRICT
    scale_x: Measured = Fraction(1)
    scale_y: Measured = Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """The paper that the sheets are printed on. `overlap` is what neighbouring tiles share."""

    __pydantic_config__ = _STRICT
    size: PaperSize = PaperSize.LETTER
    margin: Allowance = Fraction(3, 8)
    overlap: Size = Fraction(3, 4)
    copies: Copies = Copies.ONE
    full_size_guide: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A whole design, as the file says it and nothing worked out yet."""

    __pydantic_config__ = _STRICT
    title: str = ""
    designer: str = ""
    language: str = "en"
    units: Units = Units.INCHES
    panel: Panel = field(default_factory=Panel)
    lettering: Lettering = field(default_factory=Lettering)
    line: tuple[Line, ...]
    fabric: tuple[Fabric, ...] = ()
    fusible: Fusible = field(default_factory=Fusible)
    paper: Paper = field(default_factory=Paper)
    print: PrintCorrection = field(default_factory=PrintCorrection)


@cache
def _adapter() -> TypeAdapter[Design]:
    return TypeAdapter(Design)


def read_design(path: Path) -> Design:
    """The design that the TOML file at `path` holds, fully validated.

    A font given as a path is taken relative to the folder of the file.

    Raises:
        Refusal: the file cannot be read, is no TOML, or breaks a rule; with every problem of it.
    """
    try:
        if path.stat().st_size > _LARGEST_FILE:
            raise Refusal(
                Problem(what="the file is too large for a design", where=str(path), fix="a design file")
            )
        data = tomllib.loads(path.read_bytes().decode("utf-8-sig"))
    except OSError as error:
        raise Refusal(
            Problem(
                what=f"cannot be read ({error.strerror})", where=str(path), fix="check the name of the file"
            )
        ) from None
    except UnicodeDecodeError:
        raise Refusal(
            Problem(what="is not plain text", where=str(path), fix="save it as UTF-8 text")
        ) from None
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise Refusal(
            Problem(
                what=f"is not valid TOML: {error}",
                where=str(path),
                fix='words and lengths in quotes: text = "HOME"; `applique new` shows a file that works',
            )
        ) from None
    return design_from_mapping(data, base=path.parent)


def design_from_mapping(data: Mapping[str, Any], *, base: Path | None = None) -> Design:
    """The design that `data`, shaped as the TOML file, describes.

    `base` is the folder that relative font paths start from.

    Raises:
        Refusal: with every problem of the data.
    """
    problems: list[Problem] = []
    design: Design | None = None
    try:
        design = _adapter().validate_python(_with_font_paths(data, base))
    except ValidationError as error:
        problems += _readable(error.errors(include_url=False), data)
    if not problems and design is not None:
        problems += _cross_problems(design)
    if problems or design is None:
        raise Refusal(problems)
    return design


def _with_font_paths(data: Mapping[str, Any], base: Path | None) -> dict[str, Any]:
    """`data` with every font that looks like a file made a path from `base`."""
    resolved = dict(data)
    if base is None:
        return resolved

    def settled(table: object) -> object:
        if not isinstance(table, Mapping) or not isinstance(table.get("font"), str):
            return table
        font = table["font"]
        if not re.search(r"[/\\]|\.(ttf|otf|ttc|woff2?)$", font, re.IGNORECASE):
            return table
        return {**table, "font": str(base / Path(font).expanduser())}

    if "lettering" in resolved:
        resolved["lettering"] = settled(resolved["lettering"])
    if isinstance(resolved.get("line"), list):
        resolved["line"] = [settled(line) for line in resolved["line"]]
    return resolved


def _cross_problems(design: Design) -> Iterable[Problem]:
    """Problems between parts of a design that each part alone cannot see."""
    names = [fabric.name for fabric in design.fabric]
    for name in sorted({name for name in names if names.count(name) > 1}):
        yield Problem(
            what=f"two fabrics are named “{name}”", where="[[fabric]]", fix="a name of its own for each"
        )
    uses = [("[panel]", design.panel.fabric), ("[lettering]", design.lettering.fabric)]
    uses += [(f"line {number}", line.fabric or "") for number, line in enumerate(design.line, 1)]
    for where, name in uses:
        if name and name not in names:
            yield Problem(
                what=f"there is no fabric “{name}”",
                where=where,
                fix=_nearest(name, names) or f"add it: [[fabric]] name = “{name}”",
            )
    if not design.line:
        yield Problem(what="there are no words", fix='a row of words: [[line]] then text = "HOME"')
    for number, line in enumerate(design.line, 1):
        if line.cap_height is None and design.lettering.cap_height == FIT and line.baseline is not None:
            yield Problem(
                what="a stated baseline needs a stated cap height",
                where=f"line {number}",
                fix='cap_height = "7in" in the row or in [lettering]',
            )
    if not 0 <= design.fusible.extra_percent <= 200:
        yield Problem(
            what=f"extra_percent is {design.fusible.extra_percent}",
            where="[fusible]",
            fix="a number from 0 to 200",
        )
    if design.fusible.width <= 2 * design.fusible.rough_cut:
        yield Problem(what="the web is narrower than its rough cut", where="[fusible]", fix='width = "17in"')


def _nearest(name: str, known: Sequence[str]) -> str:
    close = difflib.get_close_matches(name.casefold(), [item.casefold() for item in known], n=1, cutoff=0.55)
    match = next((item for item in known if close and item.casefold() == close[0]), None)
    if match is not None:
        return f"did you mean “{match}”?"
    return f"one of {', '.join(known)}" if known else ""


def _readable(errors: Iterable[ErrorDetails], data: Mapping[str, Any]) -> list[Problem]:
    return [_problem(error) for error in errors]


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
                what=f"I do not know “{location[-1]}”",
                where=_where(location[:-1]),
                fix=_nearest(str(location[-1]), known),
            )
        case "missing":
            if location == ["line"]:
                return Problem(what="there are no words", fix='a row of words: [[line]] then text = "HOME"')
            return Problem(
                what=f"{location[-1]} is missing", where=_where(location[:-1]), fix=f"add {location[-1]} = …"
            )
        case "enum" | "literal_error":
            return Problem(
                what=f"{error['input']!r} is not a choice here",
                where=where,
                fix=f"one of {context.get('expected')}",
            )
        case _:
            return Problem(
                what=error["msg"][:1].lower() + error["msg"][1:], where=where, fix="see docs/design-file.md"
            )


def _where(location: Sequence[int | str]) -> str:
    """A place of the file in words: `line 2, cap_height` or `[panel] width`."""
    words: list[str] = []
    for index, part in enumerate(location):
        if isinstance(part, int):
            words[-1] = f"{words[-1].strip('[]')} {part + 1}"
        elif index == 0 and (
            len(location) > 1 or part in {"panel", "lettering", "paper", "print", "fusible"}
        ):
            words.append(f"[{part}]")
        else:
            words.append(str(part))
    return ", ".join(words)


def _known_keys(location: Sequence[int | str]) -> tuple[str, ...]:
    """The keys that the table at `location` may hold."""
    tables: dict[str, type] = {
        "panel": Panel, "lettering": Lettering, "line": Line, "fabric": Fabric, "fusible": Fusible,
        "paper": Paper, "print": PrintCorrection, "nudge": Nudge,
    }  # fmt: skip
    named = [part for part in location if isinstance(part, str)]
    table = tables.get(named[-1], Design) if named else Design
    return tuple(item.name for item in fields(table))


def design_data(design: Design) -> dict[str, Any]:
    """`design` as plain data in the shape of the file; what stands at its default is left out."""
    return _without_defaults(design, _adapter().dump_python(design, mode="json"))


def design_text(design: Design) -> str:
    """`design` as a TOML file that reads back to an equal design; what stands at its default is left out."""
    return tomli_w.dumps(design_data(design), multiline_strings=False)


def _without_defaults(value: Any, written: dict[str, Any]) -> dict[str, Any]:
    kept: dict[str, Any] = {}
    blank = _blank(type(value))
    for item in fields(value):
        current = getattr(value, item.name)
        if item.name in blank and current == blank[item.name]:
            continue
        if is_dataclass(current):
            kept[item.name] = _without_defaults(current, written[item.name])
        elif isinstance(current, tuple):
            kept[item.name] = [
                _without_defaults(part, text) for part, text in zip(current, written[item.name], strict=True)
            ]
        else:
            kept[item.name] = written[item.name]
    return kept


def _blank(kind: type) -> dict[str, Any]:
    """The default of every field of `kind` that has one."""
    blank: dict[str, Any] = {}
    for item in fields(kind):
        if item.default is not MISSING:
            blank[item.name] = item.default
        elif item.default_factory is not MISSING:
            blank[item.name] = item.default_factory()
    return blank


def design_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of the design file, generated from the model."""
    schema = _adapter().json_schema(mode="validation")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": "applique design file",
    }
