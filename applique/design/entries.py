"""What a maker may write for one value of the design file, and how it is written back.

Lengths are exact `Fraction` inches. What is wrong is raised as pydantic's own error, carrying our `Problem`.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any, Final, Literal

from pydantic import AllowInfNan, BeforeValidator, ConfigDict, Field, PlainSerializer, Strict, WithJsonSchema
from pydantic_core import PydanticCustomError

from applique.errors import Problem, Refusal
from applique.language import Measure, Unit, message
from applique.units import (
    LONGEST,
    MM_PER_INCH,
    SHORTEST,
    as_inches,
    parse_length,
    round_up,
)

__all__ = [
    "FIT",
    "STRICT",
    "WIDEST_ROLL",
    "Allowance",
    "CapHeight",
    "Color",
    "Count",
    "Degrees",
    "Fine",
    "Flag",
    "Measured",
    "Near",
    "Number",
    "PhotoWidth",
    "Roll",
    "Shift",
    "Size",
    "Step",
    "ThreadLength",
    "Turned",
    "Words",
    "as_written",
    "refused",
    "says",
    "short",
]

STRICT: Final = ConfigDict(extra="forbid")
"""For every table of the design: a key that is not known is refused."""


def says(description: str, **limits: Any) -> Any:
    """What a key means, for the schema and the reference, with limits on its value.

    `description` is marked for the catalogue by standing here in full; the schema has it as it is.
    """
    return Field(description=description, **limits)


FIT: Final = "fit"
_MOST_LETTERS_IN_A_ROW: Final = 2_000
_LONGEST_SHOWN: Final = 60
_FURTHEST_NEAR: Final = Fraction(4)
WIDEST_ROLL: Final = 10_000 / MM_PER_INCH


def short(text: str) -> str:
    """`text` as a message can show it: what nobody would read to its end is cut off."""
    return text if len(text) <= _LONGEST_SHOWN else text[:_LONGEST_SHOWN] + "…"


def as_written(value: object) -> str:
    """`value` as a message can show it: a text without its quotes, anything else much as a file has it."""
    if isinstance(value, str):
        return short(value)
    return short(str(value).lower() if isinstance(value, bool) else repr(value))


def refused(problem: Problem) -> PydanticCustomError:
    """`problem` as an error of pydantic, for validators to raise."""
    return PydanticCustomError("refused", "refused", {"problem": problem})


Flag = Annotated[bool, Strict()]
"""True or false, and nothing that somebody might mean by it."""
Count = Annotated[int, Strict()]
"""A whole number, not a text that looks like one."""
Number = Annotated[float, Strict(), AllowInfNan(allow_inf_nan=False)]
"""A finite number."""
Degrees = Annotated[float, Strict(), AllowInfNan(allow_inf_nan=False), Field(ge=-360, le=360)]
"""Degrees counter-clockwise; negative is clockwise. Once round at the most."""


def _length(value: object, *, least: Fraction, most: Fraction) -> Fraction:
    if isinstance(value, Fraction):
        length = value
    elif isinstance(value, str):
        try:
            length = parse_length(value)
        except Refusal as refusal:
            raise refused(refusal.problems[0]) from None
    elif isinstance(value, int | float) and not isinstance(value, bool):
        number = as_written(value)
        raise refused(
            Problem(
                kind="length-without-unit",
                what=message("“{length}” has no unit", length=number),
                fix=message(
                    'a length in quotes with its unit: "{number}in" or "{number}cm"',
                    number=number,
                ),
            )
        )
    else:
        raise refused(
            Problem(
                kind="unreadable-length",
                what=message("“{length}” isn't a measurement I can read", length=as_written(value)),
                fix=message('a length in quotes, such as "7in" or "18.5cm"'),
            )
        )
    if not least <= length <= most:
        raise refused(
            Problem(
                kind="length-out-of-bounds",
                what=message("“{length}” is outside what can be sewn", length=as_written(value)),
                fix=message(
                    "a length from {least} to {most}",
                    least=_bound(least),
                    most=as_inches(-round_up(-most, Fraction(1, 8))),
                ),
            )
        )
    return length


def _bound(least: Fraction) -> Measure:
    """A least length as it is offered, never below the true one: what is offered is taken."""
    if 0 < least < 1:
        number = round_up(least * MM_PER_INCH, Fraction(1, 10))
        return Measure(number=number, unit=Unit.MILLIMETER, as_fraction=False)
    return as_inches(round_up(least, Fraction(1, 8)))


def _exactly(length: Fraction) -> str:
    """`length` as text that reads back to the same fraction: in inches, or where millimeters end in those, from 1 cm up
    in centimeters, as a tape measure has them."""
    millimeters = length * MM_PER_INCH
    if length.denominator not in (1, 2, 4, 8, 16, 32, 64) and (millimeters * 1000).denominator == 1:
        number, unit = (millimeters / 10, "cm") if abs(millimeters) >= 10 else (millimeters, "mm")
        return f"{float(number):.4f}".rstrip("0").rstrip(".") + unit
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
Near = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=Fraction(0), most=_FURTHEST_NEAR)),
    _WRITE_LENGTH,
    WithJsonSchema(_LENGTH_SCHEMA),
]
"""What is left around or between letters: 0 to 4 in. A grid of small cells is filled with it."""
Turned = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=SHORTEST, most=Fraction(1))),
    _WRITE_LENGTH,
    WithJsonSchema(_LENGTH_SCHEMA),
]
"""What is turned under at an edge: 1 mm to 1 in."""
Step = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=SHORTEST, most=_FURTHEST_NEAR)),
    _WRITE_LENGTH,
    WithJsonSchema(_LENGTH_SCHEMA),
]
"""What lengths are a whole number of: 1 mm to 4 in."""
Roll = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=SHORTEST, most=WIDEST_ROLL)),
    _WRITE_LENGTH,
    WithJsonSchema(_LENGTH_SCHEMA),
]
"""The width of fabric or web as it is bought, or a side of a mat: 1 mm to 10 m."""
PhotoWidth = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=Fraction(1), most=WIDEST_ROLL)),
    _WRITE_LENGTH,
    WithJsonSchema(_LENGTH_SCHEMA),
]
"""The width of fabric that a photo shows: 1 in to 10 m."""
Shift = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=-LONGEST, most=LONGEST)),
    _WRITE_LENGTH,
    WithJsonSchema(_LENGTH_SCHEMA),
]
"""A length with a sign."""
Fine = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=SHORTEST / 10, most=Fraction(1))),
    _WRITE_LENGTH,
    WithJsonSchema({"type": "string", "examples": ["0.4mm", "3mm", "1/8in"]}),
]
"""A length of a stitch: a tenth of a millimeter to an inch."""
ThreadLength = Annotated[
    Fraction,
    BeforeValidator(lambda value: _length(value, least=Fraction(36), most=100 * LONGEST)),
    _WRITE_LENGTH,
    WithJsonSchema({"type": "string", "examples": ["500yd", "200m"]}),
]
"""A length of thread: a yard to 10 km."""


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


def _color(value: object) -> str:
    if isinstance(value, str) and re.fullmatch(r"#[0-9a-fA-F]{6}", value.strip()):
        return value.strip().lower()
    raise refused(
        Problem(
            kind="no-color",
            what=message("“{value}” is no color", value=as_written(value)),
            fix=message('six digits as on the web, such as "#1f3a5f"'),
        )
    )


Color = Annotated[
    str, BeforeValidator(_color), WithJsonSchema({"type": "string", "pattern": "^#[0-9a-fA-F]{6}$"})
]


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise refused(
            Problem(
                kind="no-text",
                what=message("“{value}” is no text", value=as_written(value)),
                fix=message("the words in quotes"),
            )
        )
    if not value.strip():
        raise refused(
            Problem(
                kind="no-words",
                what=message("there are no words"),
                fix=message("the words of the row in quotes, or take the row out"),
            )
        )
    if any(ch in value for ch in "\n\r\t\v\f\u2028\u2029"):
        raise refused(
            Problem(
                kind="line-break-in-row",
                what=message("a row of words holds a line break or a tab"),
                fix=message("one [[row]] for each row of words"),
            )
        )
    if len(value) > _MOST_LETTERS_IN_A_ROW:
        raise refused(
            Problem(
                kind="row-too-long",
                what=message("a row has {count} letters", count=len(value)),
                fix=message("at most {most} letters in a row", most=_MOST_LETTERS_IN_A_ROW),
            )
        )
    return value.strip()


Words = Annotated[str, BeforeValidator(_text), WithJsonSchema({"type": "string", "minLength": 1})]


def _measured(value: object) -> Fraction:
    """What the 6 in rule of a sheet measured on paper, as a factor of its true length."""
    if isinstance(value, Fraction):
        factor = value
    elif isinstance(value, str) and (percent := re.fullmatch(r"\s*(\d{1,3}(?:\.\d{1,9})?)\s*%\s*", value)):
        factor = Fraction(percent[1]) / 100
    else:
        factor = _length(value, least=SHORTEST, most=LONGEST) / 6
    if not Fraction(9, 10) <= factor <= Fraction(11, 10):
        raise refused(
            Problem(
                kind="not-printed-at-full-size",
                what=message(
                    "a rule of 6 in that measures {length} was not printed at 100%", length=as_written(value)
                ),
                fix=message(
                    "print again with the size set to 100 % (no fit to page), then measure; "
                    'the correction is for small errors only, from "5.4in" to "6.6in"'
                ),
            )
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
