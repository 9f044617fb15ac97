"""Lengths as makers write them, exact."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from applique.errors import Refusal
from applique.units import (
    Units,
    as_area,
    as_available,
    as_both,
    as_centimeters,
    as_height,
    as_inches,
    as_length,
    as_run,
    as_seam,
    as_size,
    as_time,
    format_number,
    minutes_counted,
    numbers_apart,
    parse_length,
    round_up,
    telling_apart,
    thread_counted,
)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("7in", Fraction(7)),
        ("7 1/4in", Fraction(29, 4)),
        ('7-1/4"', Fraction(29, 4)),
        ("7¼ in", Fraction(29, 4)),
        ("7 1/4”", Fraction(29, 4)),
        ("18.5cm", Fraction(925, 127)),
        ("18,5 cm", Fraction(925, 127)),
        ("1/2yd", Fraction(18)),
        ("½ yard", Fraction(18)),
        ("5' 6\"", Fraction(66)),
        ("1 yd 3 in", Fraction(39)),
        ("-1/8in", Fraction(-1, 8)),
        ("−2 mm", Fraction(-10, 127)),
        (".5 in", Fraction(1, 2)),
    ],
)
def test_reads_what_makers_write(text: str, inches: Fraction) -> None:
    assert parse_length(text) == inches


@pytest.mark.parametrize(
    "text", ["", "7", "in", "7 furlongs", "1/0in", "7in wide", "7 in -2 in", "x" * 500, "7..5in"]
)
def test_refuses_what_is_no_length(text: str) -> None:
    with pytest.raises(Refusal) as refused:
        parse_length(text)
    assert refused.value.problems[0].fix


def test_a_number_alone_asks_for_its_unit() -> None:
    with pytest.raises(Refusal, match="has no unit"):
        parse_length("18.5")


def test_a_yard_and_an_inch_in_metric() -> None:
    """1 yd = 0.9144 m, 1 in = 25.4 mm exactly: Federal Register, 1 July 1959."""
    assert parse_length("1yd") == parse_length("914.4mm") == parse_length("0.9144 m") == 36
    assert parse_length("1in") == parse_length("25.4mm")


@given(st.fractions(min_value=-500, max_value=500, max_denominator=64))
def test_inches_print_and_read_back(length: Fraction) -> None:
    printed = str(as_inches(length, denominator=16))
    read = parse_length(printed)
    assert abs(read - length) <= Fraction(1, 32)
    assert (read * 16).denominator == 1


@given(
    st.fractions(min_value=0, max_value=2000),
    st.sampled_from([Fraction(9, 2), Fraction(1, 8), Fraction(500, 127)]),
)
def test_rounding_up_is_never_short_and_never_a_step_too_much(length: Fraction, step: Fraction) -> None:
    rounded = round_up(length, step)
    assert length <= rounded < length + step
    assert (rounded / step).denominator == 1


def test_printing() -> None:
    assert str(as_inches(Fraction(29, 4))) == "7 1/4 in"
    assert str(as_inches(-0.0624, denominator=16)) == "−1/16 in"
    assert str(as_inches(0.001)) == "0 in"
    assert str(as_centimeters(Fraction(7))) == "17.8 cm"
    assert str(as_length(Fraction(1, 16), Units.INCHES)) == "1/8 in"
    assert str(as_both(Fraction(36), Units.CENTIMETERS)) == "91.4 cm (36 in)"
    assert format_number(-0.0000001, places=3) == "0"


def test_what_is_cut_is_printed_as_it_is_and_what_there_is_to_cut_from_counts_down() -> None:
    quarter, millimeters = Fraction(1, 4), Fraction(10, 254)
    assert str(as_size(Fraction(33, 32), Units.INCHES)) == "1 1/32 in"
    assert str(as_size(527 * millimeters / 10, Units.CENTIMETERS)) == "5.27 cm"
    assert str(as_available(Fraction(42), Units.CENTIMETERS)) == "106.6 cm"
    assert str(as_available(1100 * millimeters, Units.INCHES)) == "43 1/4 in"
    assert str(as_seam(quarter, Units.CENTIMETERS)) == "1/4 in"
    assert str(as_seam(6 * millimeters, Units.INCHES)) == "0.6 cm"
    assert str(as_seam(Fraction(1, 7), Units.INCHES)) == "9/64 in"


@pytest.mark.parametrize(
    ("inches", "yards", "meters"),
    [
        (0, "0 yd", "0 m"),
        (0.01, "0.1 yd", "0.1 m"),
        (45, "1.3 yd", "1.1 m"),
        (357.8, "9.9 yd", "9.1 m"),
        (358.3, "10 yd", "9.1 m"),
        (399.6, "11 yd", "10 m"),
        (18_000, "500 yd", "457 m"),
    ],
)
def test_long_runs_are_said_to_a_tenth_below_ten_and_whole_from_there(
    inches: float, yards: str, meters: str
) -> None:
    """1 yd = 0.9144 m: Federal Register, 1 July 1959."""
    assert str(as_run(inches, Units.INCHES)) == yards
    assert str(as_run(inches, Units.CENTIMETERS)) == meters


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (5, "5 min"),
        (55, "55 min"),
        (60, "1 h"),
        (65, "1 h 5 min"),
        (725, "12 h 5 min"),
    ],
)
def test_times_are_said_in_hours_and_minutes(minutes: int, said: str) -> None:
    assert str(as_time(minutes)) == said


@pytest.mark.parametrize(
    ("figured", "counted"),
    [
        ((0.2, 0.3), (5, 5)),
        ((7.4, 7.4), (5, 10)),
        ((7.6, 10), (10, 10)),
        ((41, 41), (40, 45)),
        ((61, 60.0000000001), (60, 60)),
    ],
)
def test_times_are_counted_to_five_minutes_and_the_most_up(
    figured: tuple[float, float], counted: tuple[int, int]
) -> None:
    assert minutes_counted(figured) == counted


@pytest.mark.parametrize(
    ("length", "units", "counted"),
    [
        (0, Units.INCHES, 0),
        (1, Units.INCHES, 36),
        (36.0000000001, Units.INCHES, 36),
        (37, Units.INCHES, 72),
        (1000 / 25.4, Units.CENTIMETERS, 1000 / Fraction(254, 10)),
        (40, Units.CENTIMETERS, 2000 / Fraction(254, 10)),
    ],
)
def test_thread_is_counted_up_to_whole_yards_or_meters(
    length: float, units: Units, counted: Fraction
) -> None:
    assert thread_counted(length, units) == counted


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_not_finite_is_never_printed(value: float) -> None:
    with pytest.raises(ValueError, match="not finite"):
        as_inches(value)
    with pytest.raises(ValueError, match="not finite"):
        format_number(value, places=2)


@pytest.mark.parametrize(
    ("first", "second", "units", "denominator", "printed"),
    [
        (0.21, 0.25, Units.INCHES, 8, ("3/16 in", "1/4 in")),
        (0.25, 0.5, Units.INCHES, 8, ("1/4 in", "1/2 in")),
        (0.24, 0.25, Units.INCHES, 32, ("15/64 in", "1/4 in")),
        (0.2488, 0.25, Units.INCHES, 32, ("0.249 in", "0.25 in")),
        (40.2499, 40.25, Units.INCHES, 8, ("40.2499 in", "40.25 in")),
        (0.004, 0.25, Units.INCHES, 32, ("0.004 in", "0.25 in")),
        (-0.01, 0.001, Units.INCHES, 8, ("−0.01 in", "0.001 in")),
        (0.25, 0.25 - 1e-12, Units.INCHES, 8, ("1/4 in", "1/4 in")),
        (Fraction(1, 4) / Fraction(254, 10), Fraction(1, 254), Units.CENTIMETERS, 8, ("0.3 mm", "0.1 mm")),
        (6.36 / 25.4, 6.38 / 25.4, Units.CENTIMETERS, 32, ("6.36 mm", "6.38 mm")),
        (101.6 / 2.54, 101.62 / 2.54, Units.CENTIMETERS, 8, ("101.6 cm", "101.62 cm")),
    ],
)
def test_lengths_that_round_alike_are_printed_finer(
    first: float | Fraction,
    second: float | Fraction,
    units: Units,
    denominator: int,
    printed: tuple[str, str],
) -> None:
    say = telling_apart([(first, second)], units, denominator=denominator)
    assert (str(say(first)), str(say(second))) == printed


@given(
    first=st.fractions(-5000, 5000),
    gap=st.fractions(Fraction(1, 10**8), 1),
    units=st.sampled_from(list(Units)),
    denominator=st.sampled_from([8, 16, 32]),
)
def test_what_is_printed_stands_in_the_true_order(
    first: Fraction, gap: Fraction, units: Units, denominator: int
) -> None:
    say = telling_apart([(first, first + gap)], units, denominator=denominator)
    assert parse_length(str(say(first))) < parse_length(str(say(first + gap)))


@pytest.mark.parametrize(
    ("first", "second", "places", "printed"),
    [
        (2.96, 3.0, 1, ("2.96", "3")),
        (2.5, 3.0, 1, ("2.5", "3")),
        (19.7, 20, 0, ("19.7", "20")),
        (4, 4, 0, ("4", "4")),
    ],
)
def test_numbers_that_round_alike_get_more_places(
    first: float, second: float, places: int, printed: tuple[str, str]
) -> None:
    assert numbers_apart(first, second, places=places) == tuple(map(Fraction, printed))


def test_heights_of_people_and_areas_are_said_in_the_units_of_the_design() -> None:
    """An inch is 2.54 cm, a square inch 6.4516 cm² (the international inch of 1959)."""
    assert str(as_height(Fraction(66), Units.INCHES)) == "5 ft 6 in"
    assert str(as_height(Fraction(66), Units.CENTIMETERS)) == "168 cm"
    assert str(as_area(99.6, Units.INCHES)) == "100 sq in"
    assert str(as_area(100, Units.CENTIMETERS)) == "645 cm²"
