"""The rule by which what is used becomes what to buy."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from applique.buying import BeyondLayout, Extra, Rule, WashAndSquare
from applique.units import Units, buying_step
from applique.words.buying import rule_said

EXTRAS = st.one_of(
    st.builds(BeyondLayout, percent=st.integers(0, 100)),
    st.builds(
        WashAndSquare,
        shrinkage_percent=st.integers(0, 20),
        squaring=st.fractions(0, 5, max_denominator=8),
    ),
)


def _plain(used: Fraction, units: Units) -> Rule[BeyondLayout]:
    return Rule(used=used, extra=BeyondLayout(percent=0), step=buying_step(units))


@given(st.fractions(0, 500, max_denominator=16), EXTRAS)
def test_what_is_bought_covers_what_is_used_with_its_extra(used: Fraction, extra: Extra) -> None:
    match extra:
        case BeyondLayout():
            wanted = used * (100 + extra.percent) / 100
        case WashAndSquare():
            kept = 1 - Fraction(extra.shrinkage_percent, 100)
            wanted = (used + 2 * extra.squaring) / kept if used else Fraction(0)
    for units, step in ((Units.INCHES, Fraction(9, 2)), (Units.CENTIMETERS, Fraction(500, 127))):
        rule = Rule(used=used, extra=extra, step=buying_step(units))
        assert rule.wanted == wanted
        assert wanted <= rule.buy < wanted + step
        assert (rule.buy / step).denominator == 1


def test_what_is_left_of_a_length_has_lost_both_ends_and_the_wash() -> None:
    """40 in that shrink by 10 % are 36, 34 between ends squared up by 1 in each; 20 in of it used leave 14."""
    extra = WashAndSquare(shrinkage_percent=10, squaring=Fraction(1))
    assert extra.left_of(Fraction(40)) == 34
    assert extra.left_of(Fraction(40), Fraction(20)) == 14
    assert extra.left_of(Fraction(0)) == 0


def test_an_eighth_of_a_yard_is_four_and_a_half_inches() -> None:
    """Published: scissortailquilting.com; catbirdquilts 2014."""
    assert _plain(Fraction(4), Units.INCHES).buy == Fraction(9, 2)


def test_lengths_to_buy_are_what_a_shop_cuts() -> None:
    """An eighth of a yard, or 10 cm (common practice, no source); what is whole already stays."""
    assert [_plain(Fraction(used), Units.INCHES).buy for used in ("9/2", "73/16", "36")] == [4.5, 9, 36]
    tens = [_plain(Fraction(used) * 10 / 254, Units.CENTIMETERS).buy for used in ("100", "101", "1")]
    assert tens == [Fraction(100) * 10 / 254, Fraction(200) * 10 / 254, Fraction(100) * 10 / 254]


@pytest.mark.parametrize(
    ("used", "units", "said"),
    [
        ("239/16", Units.INCHES, "14 15/16 in used, 25% more is 18 11/16 in"),
        ("1491/100", Units.INCHES, "14 15/16 in used, 25% more is 18 11/16 in"),
        ("15", Units.INCHES, "15 in used, 25% more is 18 3/4 in"),
        ("1001/254", Units.CENTIMETERS, "10.1 cm used, 25% more is 12.6 cm"),
    ],
)
def test_what_is_needed_is_said_to_the_next_sixteenth_and_never_short(
    used: str, units: Units, said: str
) -> None:
    rule = Rule(used=Fraction(used), extra=BeyondLayout(percent=25), step=buying_step(units))
    assert str(rule_said(rule, units)).startswith(said)


@pytest.mark.parametrize(
    ("extra", "said"),
    [
        (BeyondLayout(percent=25), "20 in used, 25% more is 25 in, up to the next 1/8 yd"),
        (WashAndSquare(shrinkage_percent=0, squaring=Fraction(0)), "20 in used, up to the next 1/8 yd"),
        (
            WashAndSquare(shrinkage_percent=20, squaring=Fraction(0)),
            "20 in used, and 20% of what is bought shrinks away: 25 in, up to the next 1/8 yd",
        ),
        (
            WashAndSquare(shrinkage_percent=0, squaring=Fraction(1)),
            "20 in used, 1 in squared up at each end: 22 in, up to the next 1/8 yd",
        ),
        (
            WashAndSquare(shrinkage_percent=20, squaring=Fraction(1)),
            "20 in used, 1 in squared up at each end, and 20% of what is bought shrinks away: 27 1/2 in, "
            "up to the next 1/8 yd",
        ),
    ],
)
def test_a_rule_says_all_that_it_adds(extra: Extra, said: str) -> None:
    rule = Rule(used=Fraction(20), extra=extra, step=buying_step(Units.INCHES))
    assert str(rule_said(rule, Units.INCHES)) == said
