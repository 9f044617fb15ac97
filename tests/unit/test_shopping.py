"""What each use takes of a fabric, worked out anew; precuts, stock and leftovers at their boundaries."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from applique.design import design_from_mapping
from applique.pattern import Pattern, draft
from applique.quilt.strips import packed_strips
from applique.shopping import FabricBuy, ShelfKind, UseKind
from applique.units import Units
from applique.words.booklet import cut_said
from applique.words.buying import item_said, precut_said, shopping_notices
from applique.words.cloth import use_how, use_said

FABRICS = [{"name": "Ink", "color": "#203040"}, {"name": "Fog", "color": "#e0e0d8", "usable_width": "44in"}]


def _pattern(*borders: dict[str, Any], panel: tuple[int, int] = (32, 24), **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": "HI", "cap_height": "6in"}],
        "panel": {"width": f"{panel[0]}in", "height": f"{panel[1]}in", "fabric": "Fog"},
        "lettering": {"font": "Fredoka", "fabric": "Ink"},
        "fabric": [*FABRICS, {"name": "Rust", "color": "#a05030"}],
        "border": list(borders),
    }
    return draft(design_from_mapping({**data, **tables}))


def _buy(pattern: Pattern, fabric: str) -> FabricBuy:
    return next(buy for buy in pattern.shopping.cloth if buy.fabric.name == fabric)


def test_each_use_takes_the_length_that_its_pieces_are_cut_from() -> None:
    """A panel of 32 by 24 with a border of 2 in: 36 by 28 finished. Strips run across the fabric, 40 in usable.

    Panel 24 1/2 in; backing of 44 by 36 in one length of 44; a sleeve of 35 by 8 1/2; four border strips of 2 1/2,
    each whole; binding of 2 · 64 + 10 = 138 in four strips of 2 1/2.
    """
    pattern = _pattern(
        {"kind": "strip", "width": "2in", "fabrics": ["Ink"]}, hanging={"sleeve": True, "fabric": "Rust"}
    )
    uses = {str(use_said(use)): use.length for buy in pattern.shopping.cloth for use in buy.uses}
    (letters,) = pattern.cloth
    assert uses == {
        "panel": Fraction(49, 2),
        "backing": 44,
        "hanging sleeve": Fraction(17, 2),
        "border 1, border strips": 10,
        "binding": 10,
        "letters": letters.used * Fraction(5, 4),
    }
    ink = _buy(pattern, "Ink")
    assert ink.used == 20 + letters.used * Fraction(5, 4)
    assert ink.buy == math.ceil(ink.used / Fraction(9, 2)) * Fraction(9, 2)


def test_what_to_set_aside_for_letters_is_never_short() -> None:
    """18.65 in is nearer to 18 5/8 than to 18 3/4."""
    use = _buy(_pattern(), "Ink").uses[-1]
    assert use.kind is UseKind.LETTERS
    said = cut_said(replace(use, length=Fraction(1865, 100)), Units.INCHES)
    assert str(said) == "Letters: set aside 18 3/4 in of yardage; see “Lettering”."


def test_a_sleeve_longer_than_its_fabric_is_wide_takes_two_strips() -> None:
    use = _buy(_pattern(panel=(42, 24), hanging={"sleeve": True, "fabric": "Rust"}), "Rust").uses[0]
    assert use.length == 17
    assert "41 in by 8 1/2 in, joined from 2 strips" in str(use_how(use, Units.INCHES))


@pytest.mark.parametrize(
    ("size", "panel", "precut"),
    [(4, (32, 24), "a fat quarter would do"), (5, (25, 15), ""), (3, (21, 18), "a fat quarter would do")],
)
def test_a_fat_quarter_is_named_where_it_holds_all_squares(
    size: int, panel: tuple[int, int], precut: str
) -> None:
    """Of 21 by 18 in it gives 16 squares of 4 1/2, just the 16 of this ring; 9 of 5 1/2, and 10 are needed."""
    squares = {"kind": "squares", "size": f"{size}in", "fabrics": ["Rust", "Fog"]}
    rust = _buy(_pattern(squares, panel=panel), "Rust")
    cut = size + Fraction(1, 2)
    count = (panel[0] + panel[1]) // size + 2
    assert (Fraction(21) // cut * (Fraction(18) // cut) >= count) == bool(precut)
    assert (str(precut_said(rust.precut)) if rust.precut else "") == precut


@pytest.mark.parametrize(("width", "precut"), [("7/4in", "a quarter yard would do"), ("2in", "")])
def test_a_quarter_yard_is_named_up_to_its_nine_inches(width: str, precut: str) -> None:
    """Four strips of 2 1/4 in are a quarter yard, four of 2 1/2 in are more."""
    strip = {"kind": "strip", "width": width, "fabrics": ["Rust"], "joins": "straight"}
    rust = _buy(_pattern(strip), "Rust")
    assert rust.used == 4 * (Fraction(width.removesuffix("in")) + Fraction(1, 2))
    assert (str(precut_said(rust.precut)) if rust.precut else "") == precut


@pytest.mark.parametrize(
    ("have", "width", "enough"),
    [
        ("1 quarter yard", "2in", False),
        ("1 quarter yard", "7/4in", True),
        ("2 quarter yards", "2in", True),
        ("1 half yard", "2in", True),
    ],
)
def test_stock_by_the_length_is_enough_when_its_pieces_add_up(have: str, width: str, enough: bool) -> None:
    """Four strips of 2 1/2 in take 10 in, four of 2 1/4 in just the nine of a quarter yard."""
    rust = {"name": "Rust", "color": "#a05030", "have": have}
    pattern = _pattern({"kind": "strip", "width": width, "fabrics": ["Rust"]}, fabric=[*FABRICS, rust])
    short = [str(notice.what) for notice in shopping_notices(pattern.shopping, Units.INCHES)]
    assert short == [] if enough else "border 1, border strips would have to come from more" in short[0]


def test_stock_of_several_fat_quarters_holds_letters_on_each() -> None:
    """An H and an I of 12 in: one fat quarter of 18 by 21 holds either, not both; two hold both."""
    short = {}
    for have in ("1 fat quarter", "2 fat quarters"):
        ink = {"name": "Ink", "color": "#203040", "have": have}
        pattern = _pattern(
            row=[{"text": "HH", "cap_height": "12in"}], fabric=[ink, FABRICS[1]], binding={"fabric": "Fog"}
        )
        short[have] = [str(notice.what) for notice in shopping_notices(pattern.shopping, Units.INCHES)]
    assert len(short["1 fat quarter"]) == 1
    assert "H would have to come from more" in short["1 fat quarter"][0]
    assert short["2 fat quarters"] == []


def test_only_leftovers_of_two_inches_and_more_are_listed() -> None:
    """Beside the panel, and the end of what was bought, without the inch squared off at each end."""
    found = set()
    for width, height in ((32, 24), (40, 22), (41, 24), (42, 22), (43, 24)):
        pattern = _pattern(panel=(width, height))
        for buy in pattern.shopping.cloth:
            wanted = []
            beside = Fraction(44) - width - Fraction(1, 2)
            if any(use.kind is UseKind.PANEL for use in buy.uses) and beside >= 2:
                wanted.append((height + Fraction(1, 2), beside))
            if (rest := buy.buy - 2 - buy.used) >= 2:
                wanted.append((rest, buy.fabric.usable_width))
            assert [(left.length, left.width) for left in buy.leftovers] == wanted
            found.add(len(wanted))
    assert found >= {0, 1, 2}


def test_spools_are_counted_up() -> None:
    pattern = _pattern(
        stitching={"spool": "5yd", "bobbin": "2yd"},
        quilting=[{"kind": "in the ditch"}, {"kind": "lines", "spacing": "6in"}],
    )
    letters, _, _ = pattern.threads
    assert letters.spools == math.ceil(letters.length / 180)
    thread = sum(plan.thread for plan in pattern.quilting)
    bobbins = math.ceil(thread / 2 / 72)
    shelf = next(shelf for shelf in pattern.shopping.shelves if shelf.kind is ShelfKind.THREAD)
    said = (
        f"for quilting: {round(thread / 36)} yd, {math.ceil(thread / 180)} spools of 5 yd "
        f"(wind {bobbins} bobbins of 2 yd from it)"
    )
    assert said in [str(item_said(item, Units.INCHES)) for item in shelf.items]


def test_lengths_that_fill_a_strip_to_its_end_take_one() -> None:
    assert packed_strips([Fraction(18), Fraction(22)], Fraction(40)) == 1
    assert packed_strips([Fraction(18), Fraction(22), Fraction(1)], Fraction(40)) == 2
