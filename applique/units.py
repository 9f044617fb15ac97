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
    "as_area",
    "as_available",
    "as_both",
    "as_centimeters",
    "as_counted",
    "as_distance",
    "as_height",
    "as_inches",
    "as_length",
    "as_needed",
    "as_run",
    "as_seam",
    "as_size",
    "as_size_both",
    "as_stitch",
    "as_time",
    "as_used",
    "as_yardage",
    "buying_step",
    "cloth_step",
    "cut_on_grid",
    "cutting_step",
    "distances_apart",
    "format_number",
    "measured_up",
    "minutes_counted",
    "numbers_apart",
    "parse_length",
    "round_down",
    "round_near",
    "round_up",
    "run_counted",
    "seam_allowance_in",
    "spare_in",
    "squaring_in",
    "telling_apart",
    "thread_counted",
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
_COARSE: Final = 16
"""Above this denominator, what is finer than a millimeter is said in a metric design."""
_EIGHTH: Final = Fraction(1, 8)
_SIXTEENTH: Final = Fraction(1, 16)
_EIGHTH_YARD: Final = Fraction(36, 8)
_TEN_CENTIMETERS: Final = 100 / MM_PER_INCH
_MOST_PLACES: Final = 9
_PER_YARD: Final = Fraction(1, 36)
_TENTH: Final = Fraction(1, 10)
_INCH_SEAM: Final = Fraction(1, 4)
"""Published, docs/sources.md, seam allowance 1/4 in."""
_METRIC_SEAM: Final = Fraction(15, 2) / MM_PER_INCH
"""7.5 mm, of which two are whole millimeters: common practice, docs/sources.md, metric seam allowance."""


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
    fix = message('a number and a unit, such as "7in", "7 1/4in", "18.5cm" or "1/2yd"')
    if bare:
        number = shown.strip()
        problem = Problem(
            kind="length-without-unit",
            what=message("“{length}” has no unit", length=shown),
            fix=message('a unit with it: "{number}in" or "{number}cm"', number=number),
        )
    elif unit:
        problem = Problem(
            kind="unknown-unit",
            what=message(
                "“{length}” isn't a measurement I can read (I don't know the unit “{unit}”)",
                length=shown,
                unit=unit,
            ),
            fix=fix,
        )
    else:
        problem = Problem(
            kind="unreadable-length",
            what=message("“{length}” isn't a measurement I can read", length=shown),
            fix=fix,
        )
    return Refusal(problem)


def round_up(length: Fraction, step: Fraction) -> Fraction:
    """The least whole multiple of `step` that is not below `length`; both in inches, exact."""
    return math.ceil(length / step) * step


def measured_up(length: float, step: Fraction) -> Fraction:
    """A measured length (inches) as an exact one, up to the next multiple of `step`; float noise below 1e-9 does not
    count."""
    return round_up(Fraction(length - 1e-9), step) if length > 0 else Fraction(0)


def cutting_step(units: Units) -> Fraction:
    """What sizes to cut are multiples of, in inches: a sixteenth of an inch, or a millimeter in a metric design."""
    return _SIXTEENTH if units is Units.INCHES else 1 / MM_PER_INCH


def cloth_step(units: Units) -> Fraction:
    """What a block of fabric for letters is a multiple of, in inches: an eighth of an inch, or a millimeter in a metric
    design.

    Source:
        Rulers for rotary cutting are marked in eighths: common practice, no source.
    """
    return 2 * _SIXTEENTH if units is Units.INCHES else 1 / MM_PER_INCH


def round_down(length: Fraction, step: Fraction) -> Fraction:
    """The largest whole multiple of `step` that is not above `length`; both in inches, exact."""
    return math.floor(length / step) * step


def round_near(length: Fraction, step: Fraction) -> Fraction:
    """The whole multiple of `step` nearest to `length`, halves up; both in inches, exact."""
    return math.floor(length / step + Fraction(1, 2)) * step


def seam_allowance_in(units: Units) -> Fraction:
    """The seam allowance where none is stated, in inches: 1/4 in, or 7.5 mm in a metric design."""
    return _INCH_SEAM if units is Units.INCHES else _METRIC_SEAM


def squaring_in(units: Units) -> Fraction:
    """What squaring up takes off a cut end where nothing is stated, in inches: 1 in, or 2.5 cm in a metric design."""
    return Fraction(1) if units is Units.INCHES else 25 / MM_PER_INCH


def spare_in(units: Units) -> Fraction:
    """What of a length of fabric must be to spare, in inches, so that a crooked cut does not make it too short: 1/2 in,
    or 1.5 cm in a metric design.

    Source:
        Common practice, no source; docs/decisions/0251.
    """
    return Fraction(1, 2) if units is Units.INCHES else 15 / MM_PER_INCH


def cut_on_grid(finished: Fraction, *, seam_allowance: Fraction, units: Units) -> Fraction:
    """The finished size nearest to `finished` whose cut size can be cut as printed: a multiple of `cutting_step`.

    Inches, exact; the cut size has a seam allowance on both sides.
    """
    seams = 2 * seam_allowance
    return round_near(finished + seams, cutting_step(units)) - seams


def buying_step(units: Units) -> Fraction:
    """What a shop cuts a length of fabric to, in inches: an eighth of a yard, or 10 cm in a metric design."""
    return _EIGHTH_YARD if units is Units.INCHES else _TEN_CENTIMETERS


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
    """`value` (inches) in the units of the design: to 1/`denominator` in, or to the millimeter, and to a tenth of it
    for a `denominator` above 16."""
    if units is Units.INCHES:
        return as_inches(value, denominator=denominator)
    places = 2 if denominator > _COARSE else 1
    return _decimal(value, scale=MM_PER_INCH / 10, unit=Unit.CENTIMETER, places=places)


def as_size(value: Fraction | float, units: Units) -> Measure:
    """A size to cut or to sew (`value` in inches) as it is: to 1/16 in or the millimeter, and finer where that is not
    exact, to 1/64 in or a tenth of a millimeter."""
    if units is Units.CENTIMETERS:
        return as_length(value, units, denominator=_FINEST)
    exact = _exact(value)
    finer = (denominator for denominator in (16, 32) if (exact * denominator).denominator == 1)
    return as_inches(exact, denominator=next(finer, _FINEST))


def as_seam(value: Fraction, units: Units) -> Measure:
    """A seam allowance (`value` in inches), which every seam repeats, in units that say it exactly: those of the
    design, or the others, as it was typed then. Where neither can, it is said as any size is."""
    others = Units.CENTIMETERS if units is Units.INCHES else Units.INCHES
    exact = (as_size(value, one) for one in (units, others) if (value / _finest_step(one)).denominator == 1)
    return next(exact, as_size(value, units))


def _finest_step(units: Units) -> Fraction:
    return Fraction(1, _FINEST) if units is Units.INCHES else _TENTH / MM_PER_INCH


def as_available(length: Fraction, units: Units) -> Measure:
    """What there is to cut from (inches), down to 1/16 in or the millimeter: nobody counts on more than there is."""
    return as_size(round_down(length, cutting_step(units)), units)


def as_needed(length: Fraction, units: Units) -> Measure:
    """A length of fabric that is needed (inches), up to the next 1/8 in or millimeter: nobody sets aside too little."""
    return as_length(round_up(length, _EIGHTH if units is Units.INCHES else 1 / MM_PER_INCH), units)


def as_used(length: Fraction, units: Units) -> Measure:
    """A length that is used (inches), from which what to buy is figured: up to the next 1/16 in or millimeter, and the
    same wherever it is printed."""
    return as_size(round_up(length, cutting_step(units)), units)


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
    return next((way for way in ways if all(way(one) != way(other) for one, other in compared)), ways[-1])


def _ways(
    lengths: Sequence[Fraction], units: Units, denominator: int
) -> Iterator[Callable[[Fraction | float], Measure]]:
    if units is Units.CENTIMETERS:
        short = max(map(abs, lengths), default=_SHORT) < _SHORT
        scale, unit = (MM_PER_INCH, Unit.MILLIMETER) if short else (MM_PER_INCH / 10, Unit.CENTIMETER)
        for places in range((not short) + (denominator > _COARSE), _MOST_PLACES + 1):
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
    return _with_other(as_length(value, units, denominator=denominator), value, units, denominator)


def as_size_both(value: Fraction, units: Units) -> Message:
    """A size to cut or to sew (`value` in inches) as it is, and about how much that is in other units."""
    return _with_other(as_size(value, units), value, units, 8)


def _with_other(said: Measure, value: Fraction | float, units: Units, denominator: int) -> Message:
    metric = units is Units.CENTIMETERS
    other = as_inches(value, denominator=denominator) if metric else as_centimeters(value)
    return message("{length} ({same})", length=said, same=other)


def as_height(value: Fraction, units: Units) -> Message | Measure:
    """How tall somebody is (`value` in inches): `5 ft 6 in`, or `168 cm` in a metric design."""
    if units is Units.CENTIMETERS:
        return _decimal(value, scale=MM_PER_INCH / 10, unit=Unit.CENTIMETER, places=0)
    feet, inches = divmod(value, 12)
    return message(
        "{feet} {inches}",
        feet=Measure(number=Fraction(feet), unit=Unit.FOOT, as_fraction=True),
        inches=as_inches(inches),
    )


def as_area(area: float, units: Units) -> Measure:
    """An area (square inches) in whole square inches, or whole square centimeters in a metric design."""
    if units is Units.CENTIMETERS:
        scale = (MM_PER_INCH / 10) ** 2
        return Measure(
            number=Fraction(round(_exact(area) * scale)), unit=Unit.SQUARE_CENTIMETER, as_fraction=False
        )
    return Measure(number=Fraction(round(area)), unit=Unit.SQUARE_INCH, as_fraction=False)


def as_yardage(length: Fraction, units: Units) -> Measure:
    """A length to buy (inches) as a shop says it: `1 3/8 yd`, or `130 cm` in a metric design."""
    if units is Units.CENTIMETERS:
        return _decimal(length, scale=MM_PER_INCH / 10, unit=Unit.CENTIMETER, places=0)
    return Measure(number=_round_to(length / 36, Fraction(1, 8)), unit=Unit.YARD, as_fraction=True)


def as_run(length: Fraction | float, units: Units) -> Measure:
    """A long run of edge or thread (inches), in yards or meters: to a tenth below ten, whole from there on.

    What is more than nothing is never said as nothing.
    """
    scale, unit = (MM_PER_INCH / 1000, Unit.METER) if units is Units.CENTIMETERS else (_PER_YARD, Unit.YARD)
    tenths = _decimal(length, scale=scale, unit=unit, places=1)
    if tenths.number >= 10:
        return _decimal(length, scale=scale, unit=unit, places=0)
    if length > 0 and not tenths.number:
        return Measure(number=_TENTH, unit=unit, as_fraction=False)
    return tenths


def run_counted(length: float, units: Units) -> Fraction:
    """A long run (inches) as it is counted, in inches: up to a tenth of a yard, or of a meter in a metric design."""
    return measured_up(length, 100 / MM_PER_INCH if units is Units.CENTIMETERS else 1 / _PER_YARD / 10)


def as_counted(length: Fraction, units: Units) -> Measure:
    """A run that is counted (inches), in yards or meters to a tenth."""
    scale, unit = (MM_PER_INCH / 1000, Unit.METER) if units is Units.CENTIMETERS else (_PER_YARD, Unit.YARD)
    return _decimal(length, scale=scale, unit=unit, places=1)


def thread_counted(length: float, units: Units) -> Fraction:
    """A length of thread (inches) as it is counted, in inches: up to whole yards, or whole meters in a metric design.
    Sums are of these, so that what is printed adds up."""
    return measured_up(length, 1000 / MM_PER_INCH if units is Units.CENTIMETERS else 1 / _PER_YARD)


def as_distance(length: Fraction | float, units: Units) -> Measure:
    """How far away something is (inches), in whole feet or meters."""
    if units is Units.CENTIMETERS:
        return _decimal(length, scale=MM_PER_INCH / 1000, unit=Unit.METER, places=0)
    return _decimal(length, scale=Fraction(1, 12), unit=Unit.FOOT, places=0)


def as_stitch(length: Fraction | float) -> Measure:
    """The length or width of a stitch (inches) as machines say it everywhere: millimeters, to a tenth."""
    return _decimal(length, scale=MM_PER_INCH, unit=Unit.MILLIMETER, places=1)


def minutes_counted(minutes: tuple[float, float]) -> tuple[int, int]:
    """The least and the most minutes that work takes as they are counted: to five minutes, five at the least, the most
    counted up. Sums are of these, so that what is printed adds up."""
    least, most = (_exact(round(one, 6)) for one in minutes)
    five = Fraction(5)
    return int(max(five, _round_to(least, five))), int(max(five, round_up(most, five)))


def as_time(minutes: float) -> Measure | Message:
    """How long work takes, to the minute: `50 min`, `2 h`, `1 h 35 min`."""
    hours, rest = divmod(round(minutes), 60)
    told_hours = Measure(number=Fraction(hours), unit=Unit.HOUR, as_fraction=False)
    told_minutes = Measure(number=Fraction(rest), unit=Unit.MINUTE, as_fraction=False)
    if not hours:
        return told_minutes
    return message("{hours} {minutes}", hours=told_hours, minutes=told_minutes) if rest else told_hours
