"""Exact lengths: read them as makers write them, print them as makers read them.

A length is a `Fraction` of inches everywhere; 1 in = 25.4 mm and 1 yd = 36 in exactly
(Federal Register, 1 July 1959), so metric converts without loss.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from enum import StrEnum
from fractions import Fraction
from functools import partial
from typing import Final

from applique.errors import Problem, Refusal
from applique.language import Measure, Message, Unit, message

__all__ = [
    "LONGEST",
    "MM_PER_INCH",
    "SHORTEST",
    "Units",
    "as_both",
    "as_centimeters",
    "as_inches",
    "as_length",
    "as_yardage",
    "distances_apart",
    "format_number",
    "numbers_apart",
    "parse_length",
    "round_up",
    "telling_apart",
]

MM_PER_INCH: Final = Fraction(254, 10)
SHORTEST: Final = 1 / MM_PER_INCH
"""Lengths below 1 mm are no sewing lengths."""
LONGEST: Final = 100_000 / MM_PER_INCH
"""Lengths above 100 m are no quilt lengths."""

_INCHES_PER: Final[dict[str, Fraction]] = {
    "in": Fraction(1),
    "ft": Fraction(12),
    "yd": Fraction(36),
    "mm": 1 / MM_PER_INCH,
    "cm": 10 / MM_PER_INCH,
    "m": 1000 / MM_PER_INCH,
}
_UNIT_NAMES: Final[dict[str, str]] = {
    '"': "in", "″": "in", "”": "in", "“": "in", "''": "in", "in": "in", "inch": "in", "inches": "in",
    "'": "ft", "′": "ft", "’": "ft", "ft": "ft", "foot": "ft", "feet": "ft",
    "yd": "yd", "yds": "yd", "yard": "yd", "yards": "yd",
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
}  # fmt: skip
_SINGLE_FRACTIONS: Final[dict[str, str]] = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅛": "1/8", "⅜": "3/8",
    "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_NUMBER: Final = r"(?:\d+\s+\d+/\d+|\d+-\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+)"
_ONE_LENGTH: Final = re.compile(
    rf"\s*(?P<sign>[-−+]?)\s*(?P<number>{_NUMBER})\s*(?P<unit>[^\d\s.,/+−-]+)\.?\s*"
)
_LONGEST_TEXT: Final = 60


_SHORT: Final = 2
"""Inches; where every length is shorter, a metric design gives millimeters."""
_SAME: Final = 1e-9
"""Inches; lengths no further apart are one length, reckoned in two ways."""
_FINEST: Final = 64
_MOST_PLACES: Final = 9


class Units(StrEnum):
    """What lengths are printed in: inches and yards, or centimeters and millimeters."""

    INCHES = "in"
    CENTIMETERS = "cm"


def parse_length(text: str) -> Fraction:
    """The length that `text` writes, in inches, exact, with its sign.

    Reads `7in`, `7 1/4in`, `7-1/4"`, `7¼ in`, `18.5cm`, `18,5 cm`, `1/2yd`, `5' 6"` and full unit names.

    Raises:
        Refusal: no number, no unit, an unknown unit, a zero denominator or trailing text. `where` is left
            for the caller, who knows it.
    Source:
        1 in = 25.4 mm, 1 yd = 36 in: Federal Register, 1 July 1959.
    """
    plain = _without_single_fractions(text[: _LONGEST_TEXT + 1])
    total, position = Fraction(0), 0
    sign = 1
    while position < len(plain):
        match = _ONE_LENGTH.match(plain, position)
        if match is None or len(text) > _LONGEST_TEXT or (position and match["sign"]):
            raise _no_length(text)
        unit = _UNIT_NAMES.get(match["unit"].lower())
        if unit is None:
            raise _no_length(text, unit=match["unit"])
        if position == 0 and match["sign"] in ("-", "−"):
            sign = -1
        total += _read_number(match["number"], text) * _INCHES_PER[unit]
        position = match.end()
    if position == 0:
        raise _no_length(text)
    return sign * total


def _without_single_fractions(text: str) -> str:
    for single, spelled in _SINGLE_FRACTIONS.items():
        text = text.replace(single, f" {spelled}")
    return text.replace("⁄", "/").replace("\u00a0", " ").strip()


def _read_number(number: str, text: str) -> Fraction:
    parts = re.split(r"\s+|-", number.replace(",", "."))
    try:
        return sum((Fraction(part) for part in parts), Fraction(0))
    except ZeroDivisionError:
        raise _no_length(text) from None


def _no_length(text: str, unit: str | None = None) -> Refusal:
    shown = text if len(text) <= _LONGEST_TEXT else text[:_LONGEST_TEXT] + "…"
    bare = re.fullmatch(rf"\s*{_NUMBER}\s*", _without_single_fractions(text[:_LONGEST_TEXT])) is not None
    if bare:
        return Refusal(
            Problem(
                what=f"“{shown}” has no unit",
                fix=f'a unit with it: "{shown.strip()}in" or "{shown.strip()}cm"',
            )
        )
    what = f"“{shown}” is no length" + (f" (“{unit}” is no unit I know)" if unit else "")
    return Refusal(
        Problem(what=what, fix='a number and a unit, such as "7in", "7 1/4in", "18.5cm" or "1/2yd"')
    )


def round_up(length: Fraction, step: Fraction) -> Fraction:
    """The least whole multiple of `step` that is not below `length`; both in inches, exact."""
    return math.ceil(length / step) * step


def _round_to(value: Fraction, step: Fraction) -> Fraction:
    """`value` to the nearest multiple of `step`, halves away from zero."""
    count = math.floor(abs(value) / step + Fraction(1, 2))
    return count * step if value >= 0 else -count * step


def _exact(value: Fraction | float) -> Fraction:
    if isinstance(value, float) and not math.isfinite(value):
        raise ValueError(f"a length that is not finite cannot be printed: {value}")
    return Fraction(value)


def format_number(value: float, *, places: int) -> str:
    """`value` with at most `places` decimals, no trailing zeros, never `-0`.

    Raises:
        ValueError: NaN or infinity.
    """
    if not math.isfinite(value):
        raise ValueError(f"a number that is not finite cannot be printed: {value}")
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def as_inches(value: Fraction | float, *, denominator: int = 8) -> Measure:
    """`value` (inches) to the nearest 1/`denominator`, to be said as `7 1/4 in`."""
    rounded = _round_to(_exact(value), Fraction(1, denominator))
    return Measure(number=rounded, unit=Unit.INCH, as_fraction=True)


def as_centimeters(value: Fraction | float) -> Measure:
    """`value` (inches) to the nearest millimeter, to be said as `18.5 cm`."""
    return _decimal(value, scale=MM_PER_INCH / 10, unit=Unit.CENTIMETER, places=1)


def as_length(value: Fraction | float, units: Units, *, denominator: int = 8) -> Measure:
    """`value` (inches) in the units of the design: to 1/`denominator` in, or to the millimeter."""
    return as_centimeters(value) if units is Units.CENTIMETERS else as_inches(value, denominator=denominator)


def telling_apart(
    pairs: Iterable[tuple[Fraction | float, Fraction | float]], units: Units, *, denominator: int = 8
) -> Callable[[Fraction | float], Measure]:
    """The coarsest way to print lengths (inches) in which the two of each pair, unless equal, come out different.

    The order on paper is then the true one, and what is more than nothing is not printed as nothing. Tried are
    1/`denominator` in and every halving of it down to 1/64 in, then decimals; in a metric design the millimeter, or a
    tenth of it for a `denominator` above 16, then finer.
    """
    nothing = Fraction(0)
    compared = [(_exact(first), _exact(second)) for first, second in pairs]
    lengths = [length for pair in compared for length in pair]
    compared = [
        pair for pair in (*compared, *((one, nothing) for one in lengths)) if abs(pair[0] - pair[1]) > _SAME
    ]
    ways = tuple(_ways(lengths, units, denominator))
    return next((say for say in ways if all(say(one) != say(other) for one, other in compared)), ways[-1])


def _ways(
    lengths: Sequence[Fraction], units: Units, denominator: int
) -> Iterator[Callable[[Fraction | float], Measure]]:
    if units is Units.CENTIMETERS:
        short = max(map(abs, lengths), default=_SHORT) < _SHORT
        scale, unit = (MM_PER_INCH, Unit.MILLIMETER) if short else (MM_PER_INCH / 10, Unit.CENTIMETER)
        for places in range((not short) + (denominator > 16), _MOST_PLACES + 1):
            yield partial(_decimal, scale=scale, unit=unit, places=places)
        return
    while denominator <= _FINEST:
        yield partial(as_inches, denominator=denominator)
        denominator *= 2
    for places in range(3, _MOST_PLACES + 1):
        yield partial(_decimal, scale=Fraction(1), unit=Unit.INCH, places=places)


def _decimal(length: Fraction | float, *, scale: Fraction, unit: Unit, places: int) -> Measure:
    rounded = _round_to(_exact(length) * scale, Fraction(1, 10**places))
    return Measure(number=rounded, unit=unit, as_fraction=False)


def numbers_apart(
    first: Fraction | float, second: Fraction | float, *, places: int
) -> tuple[Fraction, Fraction]:
    """Two numbers rounded to `places` decimals, or to as many more as it takes to tell different ones apart."""
    exact = (_exact(first), _exact(second))
    for count in range(places, _MOST_PLACES + 1):
        said = (round(exact[0], count), round(exact[1], count))
        if said[0] != said[1]:
            break
    return said


def distances_apart(
    first: Fraction | float, second: Fraction | float, units: Units
) -> tuple[Measure, Measure]:
    """Two distances across a room (inches) in feet, or in meters to a tenth, or finer so that different ones differ."""
    metric = units is Units.CENTIMETERS
    size, unit = (1000 / MM_PER_INCH, Unit.METER) if metric else (Fraction(12), Unit.FOOT)
    said = numbers_apart(_exact(first) / size, _exact(second) / size, places=1 if metric else 0)
    near, far = (Measure(number=number, unit=unit, as_fraction=False) for number in said)
    return near, far


def as_both(value: Fraction | float, units: Units, *, denominator: int = 8) -> Message:
    """`value` (inches) in the units of the design with the other ones behind it in brackets."""
    inches, metric = as_inches(value, denominator=denominator), as_centimeters(value)
    first, second = (metric, inches) if units is Units.CENTIMETERS else (inches, metric)
    return message("{length} ({same})", length=first, same=second)


def as_yardage(length: Fraction, units: Units) -> Measure:
    """A length to buy (inches) as a shop says it: `1 3/8 yd`, or `130 cm` in a metric design."""
    if units is Units.CENTIMETERS:
        return _decimal(length, scale=MM_PER_INCH / 10, unit=Unit.CENTIMETER, places=0)
    return Measure(number=_round_to(length / 36, Fraction(1, 8)), unit=Unit.YARD, as_fraction=True)
