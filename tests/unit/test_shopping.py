"""What each use takes of a fabric, worked out anew; precuts, stock and leftovers at their boundaries."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest

from applique.cloth import ClothUse, UseKind
from applique.design import design_from_mapping
from applique.pattern import Pattern, draft
from applique.shopping import FabricBuy, ShelfKind
from applique.units import Units, as_length
from applique.words.buying import amount_said, item_said, precut_said, shopping_notices
from applique.words.cloth import use_how, use_said
from applique.words.cutting import size_said
from applique.words.instructions.cutting import for_said
from tests.cutter import read

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


def _cut(use: ClothUse) -> dict[tuple[Fraction, Fraction], int]:
    """What a plan cuts for a use: how many of which length and width."""
    return {(one.length, one.width): one.count for one in use.strips}


def test_each_use_is_cut_the_pieces_that_it_takes() -> None:
    """A panel of 32 by 24 with a border of 2 in: 36 by 28 finished. Strips run across the fabric, 40 in usable.

    Panel 32 1/2 by 24 1/2; backing of 44 by 36 in one length of 44; a sleeve of 35 by 8 1/2; four border strips of
    2 1/2, each whole; binding of 2 · 64 + 10 = 138 in. The letters, 8 1/4 wide and 7 1/8 along, with 1/4 in to
    spare around them, lie beside three strips of 31 3/4 that are 7 1/2 along it. With the 15 1/2 that two border strips
    of 24 1/2 leave of 40 that is 95 1/4 + 31 = 126 1/4, less five joins of 2 1/2: 113 3/4, and 24 1/4 are wanting. So
    Ink takes eight strips of 2 1/2 and nothing more for letters.
    """
    pattern = _pattern(
        {"kind": "strip", "width": "2in", "fabrics": ["Ink"]}, hanging={"sleeve": True, "fabric": "Rust"}
    )
    uses = {str(use_said(use)): _cut(use) for buy in pattern.shopping.cloth for use in buy.uses}
    strip, (need,) = Fraction(5, 2), pattern.cloth
    ((block, letters),) = uses.pop("letters").items()
    assert uses == {
        "panel": {(Fraction(49, 2), Fraction(65, 2)): 1},
        "backing": {(Fraction(44), Fraction(36)): 1},
        "hanging sleeve": {(Fraction(35), Fraction(17, 2)): 1},
        "strips of border 1": {(Fraction(73, 2), strip): 2, (Fraction(49, 2), strip): 2},
        "binding": {(Fraction(127, 4), strip): 3, (Fraction(97, 4), strip): 1, (Fraction(31, 2), strip): 2},
    }
    assert letters == 1
    assert block == (need.used, 40 - Fraction(127, 4))
    assert need.used < 3 * strip
    ink = _buy(pattern, "Ink")
    assert ink.used == 4 * strip + 4 * strip
    assert ink.buy == math.ceil((ink.used + 2 + Fraction(1, 2)) / Fraction(9, 2)) * Fraction(9, 2)


@pytest.mark.parametrize(
    ("units", "step", "room"),
    [("in", Fraction(1, 8), Fraction(1, 4)), ("cm", Fraction(10, 254), Fraction(50, 254))],
)
def test_what_to_set_aside_for_letters_has_room_around_them(
    units: str, step: Fraction, room: Fraction
) -> None:
    """1/4 in or 5 mm on each side, up to the next eighth of an inch or millimeter, and said as it is cut."""
    pattern = _pattern(units=units)
    use, (need,) = _buy(pattern, "Ink").uses[-1], pattern.cloth
    assert use.kind is UseKind.LETTERS
    ((length, width),) = _cut(use)
    assert need.nest is not None
    shapes = {piece.key: piece.shape for piece in need.pieces}
    reach = max(spot.place.shape(shapes[spot.key]).bounds[3] for spot in need.nest.placements)
    for said, least in ((length, need.nest.length), (width, reach)):
        assert (said / step).denominator == 1
        assert 0 <= said - 2 * room - Fraction(least) + Fraction(1, 10**8) < step
    (block,) = use.blocks
    laid = [spot.place.shape(shapes[spot.key]).bounds for spot in block.nest.placements]
    around = (
        min(box[0] for box in laid), min(box[1] for box in laid),
        float(length) - max(box[2] for box in laid), float(width) - max(box[3] for box in laid),
    )  # fmt: skip
    assert min(around) >= float(room) - 1e-6
    printed = [as_length(side, pattern.design.units, denominator=16) for side in sorted((width, length))]
    (group,) = [
        one for drawn in _buy(pattern, "Ink").cutting.diagrams for one in drawn.groups if one.key == "letters"
    ]
    assert str(size_said(group.length, group.width, pattern.design.units)) == "{} by {}".format(*printed)
    assert str(for_said(use)) == "letters: set aside at least this for “Letters”"
    assert [read(str(one)) for one in printed] == sorted([width, length])


def test_a_sleeve_longer_than_its_fabric_is_wide_takes_two_strips() -> None:
    """41 in from 40: the second strip is no shorter than is worth joining, and the join takes 1/2 in."""
    use = _buy(_pattern(panel=(42, 24), hanging={"sleeve": True, "fabric": "Rust"}), "Rust").uses[0]
    said = (
        "one of 8 1/2 in by 41 in: join 1 × 8 1/2 in by 40 in and 1 × 8 1/2 in by 12 in with straight seams and cut it "
        "to length"
    )
    assert str(use_how(use, Units.INCHES)) == said
    (joined,) = use.joined
    assert (joined.strips, joined.reach, joined.needed) == (
        2,
        Fraction(40 + 12) - Fraction(1, 2),
        Fraction(41),
    )


@pytest.mark.parametrize(
    ("size", "panel", "squaring", "precut"),
    [
        (4, (32, 24), "0in", "a fat quarter would do"),
        (4, (32, 24), "1in", ""),
        (6, (36, 24), "1in", "2 fat quarters would do"),
        (3, (21, 18), "0in", "a fat quarter would do"),
        (3, (21, 18), "1in", "a fat quarter would do"),
        (18, (18, 18), "0in", ""),
    ],
)
def test_fat_quarters_are_named_where_they_hold_all_squares(
    size: int, panel: tuple[int, int], squaring: str, precut: str
) -> None:
    """Of 21 by 18 in it gives 16 squares of 4 1/2, just the 16 of this ring, but 12 of 16 in between squared ends,
    and two are more than a quarter dearer than 3/8 yd of 40 in; 6 of 6 1/2, and 12 are needed; 30 or 24 of 3 1/2, and
    15 are needed; none of 18 1/2."""
    squares = {"kind": "squares", "size": f"{size}in", "fabrics": ["Rust", "Fog"]}
    rust = _buy(_pattern(squares, panel=panel, yardage={"squaring": squaring}), "Rust")
    cut = size + Fraction(1, 2)
    high = 18 - 2 * Fraction(squaring.removesuffix("in"))
    one = Fraction(21) // cut * (high // cut)
    assert len(rust.uses) == 1
    count = sum(strips.count for strips in rust.uses[0].strips)
    fit = math.ceil(count / one) if one else 0
    dearer = fit * 18 * 21 > Fraction(5, 4) * rust.buy * rust.fabric.usable_width
    assert (0 if dearer else fit) == (2 if "2" in precut else bool(precut))
    assert (str(precut_said(rust.precut)) if rust.precut else "") == precut


@pytest.mark.parametrize(
    ("have", "more"),
    [
        ("1 quarter yard", "1/4 yd"),
        ("11 1/2in", "1/4 yd"),
        ("2 quarter yards", None),
        ("1/3 yard", None),
        ("1 half yard", None),
    ],
)
def test_what_is_held_by_the_length_is_cut_first_and_only_the_rest_is_bought(
    have: str, more: str | None
) -> None:
    """Four strips of 2 1/2 in take 10 in between squared ends. A quarter yard gives 7, two strips, so 5 in and the
    squaring are bought; 11 1/2 in give three, and the strip that lacks and the squaring are 4 1/2 in, just 1/8 yd, so
    that a step more is bought; a third of a yard, 12 in, is just enough. No strip so long comes from a fat quarter, so
    none is offered."""
    rust = {"name": "Rust", "color": "#a05030", "have": have}
    pattern = _pattern({"kind": "strip", "width": "2in", "fabrics": ["Rust"]}, fabric=[*FABRICS, rust])
    short = [str(notice.what) for notice in shopping_notices(pattern.shopping, Units.INCHES)]
    assert short == ([] if more is None else [f"not enough of Rust in your stash ({have}): buy {more} more"])
    buy = _buy(pattern, "Rust")
    assert str(amount_said(buy, Units.INCHES)) == (
        f"{more}, and what you have" if more else "none, you have enough"
    )
    assert buy.precut is None


def test_only_leftovers_of_two_inches_and_more_are_listed() -> None:
    """What lies beside the pieces, and the end of what was bought, without the inch squared off at each end."""
    found = set()
    for width, height in ((32, 24), (40, 22), (41, 24), (42, 22), (43, 24)):
        pattern = _pattern(panel=(width, height))
        fog = _buy(pattern, "Fog")
        beside, rest = Fraction(44) - width - Fraction(1, 2), fog.buy - 2 - fog.used
        wanted = [(height + Fraction(1, 2), beside)] * (beside >= 2) + [(rest, Fraction(44))] * (rest >= 2)
        assert [(left.length, left.width) for left in fog.cutting.leftovers] == wanted
        found.add(len(wanted))
        for buy in pattern.shopping.cloth:
            assert all(min(left.length, left.width) >= 2 for left in buy.cutting.leftovers)
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
    assert any(str(item_said(item, Units.INCHES)).startswith(said) for item in shelf.items)
