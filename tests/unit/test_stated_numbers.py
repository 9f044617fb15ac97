"""The numbers that a maker states, held against what was worked out: which hold, and from which width strips do."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from applique.design import design_from_mapping
from applique.held_numbers import HeldBuy, HeldLength, HeldNumber, HeldPieces, HeldStrips, Verdict
from applique.language import american
from applique.pattern import Pattern, draft
from applique.units import Units
from applique.web.findings import finding_views
from applique.web.views import numbers_view
from applique.words.held_numbers import held_said

Stated = dict[str, Any]


def _pattern(*stated: Stated, usable: str = "43in", joins: str = "straight", **more: Any) -> Pattern:
    """A panel of 70 by 73 in with a border that finishes 3 in wide: its four strips are 300 in together."""
    return draft(
        design_from_mapping(
            {
                "row": [{"text": "I", "cap_height": "3in"}],
                "panel": {"width": "70in", "height": "73in", "fabric": "Oat"},
                "fabric": [
                    {"name": "Rose", "color": "#802020", "usable_width": usable},
                    {"name": "Oat", "color": "#f2eadb", "usable_width": "108in"},
                ],
                "border": [{"kind": "strip", "width": "3in", "fabrics": ["Rose"], "joins": joins}],
                "backing": {"fabric": "Oat"},
                "stated": list(stated),
                **more,
            }
        )
    )


def _said(number: HeldNumber, units: Units = Units.INCHES) -> str:
    return american().tell(held_said(number, units))


def test_seven_strips_for_300_inches_hold_from_43_3_8() -> None:
    """300 in from 7 strips 3 1/2 in wide, joined straight with seams of 1/4 in: (300 + 6 · 1/2) / 7 = 43 2/7.

    At 43 in they reach 7 · 43 - 6 · 1/2 = 298 in: by arithmetic.
    """
    (number,) = _pattern({"part": "border", "strips": 7}).stated
    strips = number.held
    assert isinstance(strips, HeldStrips)
    assert (strips.holds_from, strips.over, strips.needed) == (Fraction(303, 7), Fraction(-2), 8)
    assert number.verdict is Verdict.SHORT
    assert _said(number) == (
        "border 1: 7 strips hold from 43 3/8 in of usable width on; at 43 in they fall 2 in short"
    )
    (number,) = _pattern({"part": "border", "strips": 7}, usable="43 3/8in").stated
    assert number.verdict is Verdict.HOLDS
    assert _said(number) == (
        "border 1: 7 strips hold, with 5/8 in to spare at 43 3/8 in of usable width; they hold from 43 3/8 in on"
    )


def test_strips_hold_where_pieces_come_whole_though_joined_they_fall_short() -> None:
    """Sides of 73 1/2 and 76 1/2 in from four strips of 76 1/2 in, which three diagonal joins would make
    4 · 76 1/2 - 3 · 3 1/2 = 295 1/2 in; 300 in would take (300 + 3 · 3 1/2) / 4 = 77 5/8 in."""
    (number,) = _pattern({"part": "border", "strips": 4}, usable="76 1/2in", joins="diagonal").stated
    strips = number.held
    assert isinstance(strips, HeldStrips)
    assert (strips.needed, strips.over, number.verdict) == (4, None, Verdict.HOLDS)
    assert strips.holds_from == Fraction(153, 2)


def _squares(*stated: Stated, usable: str = "43in") -> Pattern:
    """A border of squares that finish 2 in wide, two fabrics in turn."""
    return draft(
        design_from_mapping(
            {
                "row": [{"text": "I", "cap_height": "3in"}],
                "panel": {"width": "12in", "height": "16in"},
                "fabric": [
                    {"name": name, "color": "#802020", "usable_width": usable} for name in ("Rose", "Moss")
                ],
                "border": [{"kind": "squares", "size": "2in", "fabrics": ["Rose", "Moss"]}],
                "stated": list(stated),
            }
        )
    )


def test_squares_are_counted_strip_by_strip_and_fabric_by_fabric() -> None:
    """6 and 8 squares on the sides and 4 corners: 2 · 6 + 2 · 8 + 4 = 32, half of each fabric, cut 2 1/2 in.

    At 20 in a strip gives 8, so two strips for 16 and four for both; one strip for 16 takes 40 in.
    """
    pattern = _squares(
        {"part": "border", "pieces": 33, "strips": 4},
        {"part": "border", "fabric": "Rose", "pieces": 15, "strips": 1},
        usable="20in",
    )
    every, all_strips, some, strip = sorted(pattern.stated, key=lambda one: (one.table, one.kind.value))
    assert _said(every) == "border 1: 33 pieces hold, with 1 to spare"
    assert isinstance(all_strips.held, HeldStrips)
    assert (all_strips.held.needed, all_strips.verdict) == (4, Verdict.HOLDS)
    assert _said(some) == "border 1, Rose: 15 pieces fall 1 short; 16 are cut"
    assert _said(strip) == (
        "border 1, Rose: 1 strip holds from 40 in of usable width on; at 20 in it takes 2"
    )


@given(
    lengths=st.lists(st.integers(8, 200), min_size=1, max_size=3, unique=True),
    counts=st.lists(st.integers(1, 4), min_size=3, max_size=3),
    strips=st.integers(1, 12),
    eighths=st.integers(80, 480),
    straight=st.booleans(),
)
def test_strips_that_hold_give_their_pieces_and_one_step_less_does_not(
    lengths: list[int], counts: list[int], strips: int, eighths: int, straight: bool
) -> None:
    """Cut by hand: whole pieces out of each strip, or all strips sewn into one and cut off it."""
    from applique.held_numbers import _Cut, _strips
    from applique.quilt.strips import Join

    pieces = tuple(
        (Fraction(length), count)
        for length, count in zip(sorted(lengths, reverse=True), counts, strict=False)
    )
    usable, wide, seam = Fraction(eighths, 8), Fraction(5, 2), Fraction(1, 4)
    run = sum(length * count for length, count in pieces)
    join = Join.STRAIGHT if straight else Join.DIAGONAL
    cut = _Cut(usable=usable, strip_width=wide, pieces=pieces, run=Fraction(run), join=join, allowance=seam)
    held = _strips(strips, [cut], Units.INCHES)

    def by_hand(width: Fraction) -> bool:
        sewn = width
        for _ in range(strips - 1):
            sewn += width - (2 * seam if straight else wide)
        if sewn >= run:
            return True
        tape = [width] * strips
        for length, count in pieces:
            for _ in range(count):
                at = next((index for index, left in enumerate(tape) if left >= length), None)
                if at is None:
                    return False
                tape[at] -= length
        return True

    assert (held.verdict is Verdict.HOLDS) is by_hand(usable)
    assert held.holds_from is not None
    assert by_hand(held.holds_from)
    assert not by_hand(held.holds_from - Fraction(1, 8))


def test_what_to_buy_is_held_against_new_fabric_washed_and_squared() -> None:
    """The whole of Rose is in the stash, and nobody else's: the border alone of new fabric, and binding with it.

    What shrinks by s needs length / (1 - s): algebra.
    """
    stated: list[Stated] = [
        {"part": "border", "buy": "32in", "length": "299 15/16in"},
        {"part": "fabric", "fabric": "Rose", "buy": "3yd", "length": "3yd"},
    ]
    more: Any = {"yardage": {"washed": True}, "binding": {"fabric": "Rose"}}
    pattern = _pattern(*stated, **more)
    rose = next(buy for buy in pattern.shopping.cloth if buy.fabric.name == "Rose")
    held = {(one.table, one.kind.value): one.held for one in pattern.stated}
    length, border = held[1, "length"], held[1, "buy"]
    assert isinstance(length, HeldLength)
    assert (length.needed, length.over) == (Fraction(300), Fraction(-1, 16))
    # Eight strips 3 1/2 in wide are 28 in; an inch off either end, and 3% of what is bought.
    assert isinstance(border, HeldBuy)
    assert border.needed == Fraction(30) / Fraction(97, 100)
    all_of_it = held[2, "buy"]
    assert isinstance(all_of_it, HeldBuy)
    assert all_of_it.needed == rose.rule.wanted > border.needed
    owner = _pattern(
        *stated,
        **more,
        fabric=[
            {"name": "Rose", "color": "#802020", "usable_width": "43in", "have": "9yd"},
            {"name": "Oat", "color": "#f2eadb", "usable_width": "108in"},
        ],
    )
    assert owner.stated == pattern.stated
    assert not next(buy for buy in owner.shopping.cloth if buy.fabric.name == "Rose").buy


@pytest.mark.parametrize(
    ("units", "buy", "said"),
    [
        ("in", "1 1/4yd", "border 1: 1 1/4 yd to buy holds, with 3/8 yd to spare ("),
        ("in", "31in", "border 1: 31 in to buy holds, with 1 in to spare ("),
        ("in", "7/8yd", "border 1: 7/8 yd to buy holds, with 1 1/2 in to spare ("),
        ("in", "30 1/16in", "border 1: 30 1/16 in to buy holds, with 0 in to spare ("),
        ("in", "29in", "border 1: 29 in to buy falls 1/8 yd short ("),
        ("cm", "1m", "border 1: 100 cm to buy holds, with 20 cm to spare ("),
        ("cm", "69cm", "border 1: 69 cm to buy falls 10 cm short ("),
    ],
)
def test_what_is_to_spare_is_never_rounded_up_nor_what_is_lacking_down(
    units: str, buy: str, said: str
) -> None:
    """Eight strips 3 1/2 in wide and an inch at either end are 30 in; 9.1 cm wide and 2.5 cm, 77.8 cm."""
    pattern = _pattern({"part": "border", "buy": buy}, units=units)
    held = pattern.stated[0].held
    assert isinstance(held, HeldBuy)
    assert held.needed == 30 if units == "in" else abs(float(held.needed) * 2.54 - 77.8) < 1e-9
    assert _said(pattern.stated[0], pattern.design.units).startswith(said)


def test_pieces_letters_and_hours_are_those_of_the_plan() -> None:
    pattern = _pattern(
        {"part": "panel", "pieces": 1},
        {"part": "backing", "pieces": 1},
        {"part": "letters", "pieces": 1, "hours": 0.01},
        {"part": "fusible web", "buy": "10in"},
    )
    panel, backing, letters, hours, web = pattern.stated
    assert all(one.verdict is Verdict.HOLDS for one in (panel, backing, letters, web))
    assert isinstance(letters.held, HeldPieces)
    assert letters.held.needed == pattern.letter_count == 1
    assert hours.verdict is Verdict.SHORT
    assert _said(hours).startswith("letters: 0.01 h at the machine falls short: we figure ")
    slow = _pattern({"part": "letters", "hours": pattern.stitching.minutes[0] / 60})
    assert slow.stated[0].verdict is Verdict.HOLDS


def test_strips_of_a_binding_cut_from_a_square_are_held_against_nothing() -> None:
    pattern = _squares({"part": "binding", "strips": 3})
    assert pattern.stated[0].verdict is not Verdict.NOTHING
    bias = draft(
        design_from_mapping(
            {
                "row": [{"text": "I", "cap_height": "3in"}],
                "panel": {"width": "12in", "height": "16in"},
                "binding": {"grain": "bias"},
                "stated": [{"part": "binding", "strips": 3}],
            }
        )
    )
    assert bias.stated[0].verdict is Verdict.NOTHING
    assert _said(bias.stated[0]).startswith("binding: this quilt has nothing of the kind")


def test_the_page_lists_every_number_and_finds_those_that_fall_short() -> None:
    pattern = _pattern({"part": "border", "strips": 7, "pieces": 4})
    numbers = numbers_view(pattern, american(), settled=False)
    assert numbers["stated"] == [_said(number) for number in pattern.stated]
    (found,) = [
        view
        for view in finding_views(pattern, american(), cured=False)
        if view["kind"].startswith("stated-number")
    ]
    assert (found["what"], found["where"]) == (numbers["stated"][0], {"path": ["stated", 1, "strips"]})
    assert found["stops"] is False
