"""Stabilizer on its roll: pieces, bands and what to buy. Tear-away sold 20 in wide by the yard: common practice."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import union_all
from shapely.geometry import box

from applique.cutting import Region
from applique.design import Stitch, Weave, design_from_mapping
from applique.errors import Refusal, Where
from applique.pattern import draft
from applique.sewing.stabilizer import (
    OVERLAP,
    Band,
    Stabilizer,
    StabilizerKind,
    StabilizerNeed,
    StabilizerReason,
    cut_from_roll,
    row_stabilizer,
)
from applique.sewing.stitches import EdgeStitch, StitchReason
from applique.units import Units, as_inches, round_up
from applique.words.buying import rule_said
from applique.words.instructions.stabilizing import piece_said, stabilizer_cells

ROLL = Fraction(20)
STEP = Fraction(36, 8)
"""An eighth of a yard: what a shop cuts."""


def _under(width: float, height: float, *, cut_away: bool = False) -> Stabilizer:
    return Stabilizer(
        kind=StabilizerKind.CUT_AWAY if cut_away else StabilizerKind.TEAR_AWAY,
        reason=StabilizerReason.LOOSE if cut_away else StabilizerReason.FIRM,
        width=Fraction(width),
        height=Fraction(height),
        widths=1,
        each=Fraction(min(width, height)),
    )


def _need(*rows: Stabilizer, roll: Fraction = ROLL, units: Units = Units.INCHES) -> StabilizerNeed:
    (need,) = cut_from_roll(_placed(rows), roll_width=roll, units=units)
    return need


def _placed(stabilizers: Sequence[Stabilizer]) -> list[tuple[Where, Stabilizer]]:
    return [(Where.in_row(number), under) for number, under in enumerate(stabilizers, 1)]


def _rows(band: Band) -> list[int]:
    return [where.row or 0 for where in band.tables]


def _regions(need: StabilizerNeed) -> list[Region]:
    return [region for cloth in need.plan.cloths for region, _ in cloth.root.pieces()]


def test_two_rows_side_by_side_are_as_long_as_the_longer_one() -> None:
    """9 in and 9 in of 20; 30 in is 7/8 yd by the eighth (31 1/2 in), or 80 cm by 10 cm (31.496 in)."""
    need = _need(_under(28, 9), _under(30, 9))
    assert [(band.length, sorted(_rows(band))) for band in need.bands] == [(Fraction(30), [1, 2])]
    assert (need.used, need.buy) == (Fraction(30), Fraction(63, 2))
    metric = _need(_under(28, 9), _under(30, 9), units=Units.CENTIMETERS)
    assert (metric.used, metric.buy) == (Fraction(30), 800 / Fraction(254, 10))


def test_the_length_of_a_roll_is_one_number_wherever_it_is_printed() -> None:
    """A piece of 53.34 cm was cut at 53.3 cm, and 53.4 cm of the roll were used."""
    design = {"row": [{"text": "HARBOR"}], "units": "cm", "lettering": {"cap_height": "9.7cm"}}
    pattern = draft(design_from_mapping(design))
    (need,) = pattern.stitching.stabilizers
    (band,) = need.bands
    (row,) = pattern.stitching.rows
    cut = pattern.speech.tell(piece_said(row, Units.CENTIMETERS))
    figured = pattern.speech.tell(rule_said(need.rule, Units.CENTIMETERS))
    length = figured.split(" used")[0]
    assert band.length == need.used == max(row.stabilizer.width, row.stabilizer.height)
    assert length in cut.split(" by ")
    assert (need.used * Fraction(254, 10)).denominator == 1


def test_a_piece_lies_across_the_roll_where_that_takes_less() -> None:
    need = _need(_under(18, 10))
    assert [(region.length, region.width) for region in _regions(need)] == [(Fraction(10), Fraction(18))]
    assert need.used == 10


def test_each_kind_has_a_roll_of_its_own_and_none_takes_none() -> None:
    none = Stabilizer(
        kind=StabilizerKind.NONE,
        reason=StabilizerReason.STRAIGHT,
        width=Fraction(9),
        height=Fraction(9),
        widths=1,
        each=Fraction(9),
    )
    tear, cut = cut_from_roll(
        _placed([_under(9, 9), none, _under(9, 8, cut_away=True)]), roll_width=ROLL, units=Units.INCHES
    )
    assert (tear.kind, tear.used) == (StabilizerKind.TEAR_AWAY, Fraction(9))
    assert (cut.kind, cut.used) == (StabilizerKind.CUT_AWAY, Fraction(8))
    assert [[_rows(band) for band in need.bands] for need in (tear, cut)] == [[[1]], [[3]]]
    assert cut_from_roll(_placed([none]), roll_width=ROLL, units=Units.INCHES) == ()


def test_a_row_wider_than_the_roll_both_ways_takes_widths_that_overlap() -> None:
    """Letters of 24 in on 20: two widths side by side cover the row's height and 1 in twice."""
    pattern = draft(
        design_from_mapping(
            {
                "row": [{"text": "OO", "cap_height": "24in", "stitch": "satin"}],
                "lettering": {"font": "Fredoka"},
                "panel": {"width": "60in", "height": "40in"},
            }
        )
    )
    (row,) = pattern.stitching.rows
    (need,) = pattern.stitching.stabilizers
    under = row.stabilizer
    assert (under.widths, need.pieces) == (2, 2)
    pieces = _regions(need)
    assert 0 <= sum(piece.width for piece in pieces) - OVERLAP - under.height <= Fraction(1, 4)
    assert all(piece.length == under.width for piece in pieces)
    assert all(piece.width == under.each <= ROLL for piece in pieces)
    _, kind, size, pieces_of = (str(cell) for cell in stabilizer_cells(row, Units.INCHES))
    length, height, each = (as_inches(side) for side in (under.width, under.height, under.each))
    assert (kind, size) == ("tear-away", f"{length} by {height}")
    assert pieces_of == f"2, each {each} wide, overlapping by 1 in"


def test_a_roll_no_wider_than_an_overlap_is_refused() -> None:
    with pytest.raises(Refusal, match="no wider than its pieces overlap"):
        draft(
            design_from_mapping(
                {
                    "row": [{"text": "I", "cap_height": "4in", "stitch": "satin"}],
                    "panel": {"width": "20in"},
                    "stitching": {"stabilizer_width": "1in"},
                }
            )
        )


sizes = st.integers(min_value=16, max_value=320).map(lambda eighths: eighths / 8)
short = st.integers(min_value=16, max_value=160).map(lambda eighths: eighths / 8)
rectangles = st.tuples(sizes, short)


@pytest.mark.long
@given(st.lists(rectangles, min_size=1, max_size=8))
@settings(max_examples=30)
def test_every_piece_is_whole_on_the_roll_and_none_lies_on_another(rows: list[tuple[float, float]]) -> None:
    need = _need(*(_under(*size) for size in rows))
    (cloth,) = need.plan.cloths
    assert need.used == sum(band.length for band in need.bands) == cloth.root.length
    boxes = {}
    for region, piece in cloth.root.pieces():
        assert sorted((region.length, region.width)) == sorted(map(Fraction, rows[int(piece.key)]))
        x, y, length, width = map(float, (region.x, region.y, region.length, region.width))
        boxes[int(piece.key)] = box(x, y, x + length, y + width)
    assert (
        sorted(boxes)
        == sorted(row - 1 for band in need.bands for row in _rows(band))
        == list(range(len(rows)))
    )
    assert box(0, 0, float(need.used), float(ROLL)).covers(union_all(list(boxes.values())))
    assert union_all(list(boxes.values())).area == pytest.approx(
        sum(width * height for width, height in rows)
    )
    alone = sum(min(side for side, other in (size, size[::-1]) if other <= ROLL) for size in rows)
    assert sum(width * height for width, height in rows) / ROLL <= need.used
    assert need.buy <= round_up(Fraction(alone), STEP)
    assert need.used <= need.buy < need.used + STEP


@given(st.lists(rectangles, min_size=1, max_size=3))
@settings(max_examples=40)
def test_up_to_three_pieces_buy_no_more_than_the_best_bands(rows: list[tuple[float, float]]) -> None:
    """All ways tried: each piece either way, side by side in any of the bands."""
    ways = [[(along, across) for along, across in (size, size[::-1]) if across <= ROLL] for size in rows]
    best = min(
        sum(max((laid[i][0] for i in range(len(rows)) if bands[i] == band), default=0.0) for band in range(3))
        for laid in product(*ways)
        for bands in product(range(3), repeat=len(rows))
        if all(sum(laid[i][1] for i in range(len(rows)) if bands[i] == band) <= ROLL for band in range(3))
    )
    assert _need(*(_under(*size) for size in rows)).buy <= round_up(Fraction(best), STEP)


# Under one row, from its ink


def _stitched(stitch: Stitch) -> EdgeStitch:
    return EdgeStitch(
        where=Where.in_row(1),
        stitch=stitch,
        width=Fraction(1, 8),
        length=Fraction(1, 64),
        bite=Fraction(1, 16),
        outside=Fraction(1, 16),
        pace=160,
        thread="#203040",
        outline_thread="#203040",
        contrast=5.0,
        reason=StitchReason.STATED,
    )


@pytest.mark.parametrize(
    ("size", "reach", "sides", "widths", "each"),
    [
        ((10.0, 4.0), 0.0, ("12", "6"), 1, "6"),
        ((10.0, 4.0), 0.5, ("13", "7"), 1, "7"),
        ((10.01, 4.0), 0.0, ("97/8", "6"), 1, "6"),
        ((30.0, 18.0), 0.0, ("32", "20"), 1, "20"),
        ((50.0, 30.0), 0.0, ("52", "32"), 2, "33/2"),
        ((50.0, 37.0), 0.0, ("52", "39"), 2, "20"),
        ((50.0, 38.0), 0.0, ("52", "40"), 3, "14"),
    ],
)
def test_a_piece_reaches_an_inch_beyond_the_row_in_as_many_widths_as_overlap_by_an_inch(
    size: tuple[float, float], reach: float, sides: tuple[str, str], widths: int, each: str
) -> None:
    """Worked out by hand from a roll of 20 in: two widths that overlap by 1 in give 39 in, three 58 in."""
    under = row_stabilizer(
        _stitched(Stitch.SATIN), Weave.FIRM, size, reach, layered=False, roll_width=ROLL, units=Units.INCHES
    )
    assert (under.width, under.height) == tuple(map(Fraction, sides))
    assert (under.widths, under.each) == (widths, Fraction(each))


@pytest.mark.parametrize(
    ("stitch", "weave", "layered", "kind"),
    [
        (Stitch.SATIN, Weave.FIRM, False, StabilizerKind.TEAR_AWAY),
        (Stitch.SATIN, Weave.FIRM, True, StabilizerKind.TEAR_AWAY),
        (Stitch.SATIN, Weave.LOOSE, False, StabilizerKind.CUT_AWAY),
        (Stitch.SATIN, Weave.LOOSE, True, StabilizerKind.CUT_AWAY),
        (Stitch.STRAIGHT, Weave.FIRM, False, StabilizerKind.NONE),
        (Stitch.STRAIGHT, Weave.LOOSE, False, StabilizerKind.CUT_AWAY),
        (Stitch.STRAIGHT, Weave.LOOSE, True, StabilizerKind.NONE),
    ],
)
def test_only_a_straight_stitch_goes_without_and_on_loose_cloth_only_through_the_batting(
    stitch: Stitch, weave: Weave, layered: bool, kind: StabilizerKind
) -> None:
    under = row_stabilizer(
        _stitched(stitch), weave, (10.0, 4.0), 0.0, layered=layered, roll_width=ROLL, units=Units.INCHES
    )
    assert under.kind is kind
