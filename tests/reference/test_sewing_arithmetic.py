"""Contrast, reading distance and thread against the tables and formulas they are published with."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
import shapely
from coloraide import Color

from applique.colors import color_difference, contrast_ratio
from applique.design import Method, Sewing, Stitch, design_from_mapping
from applique.pattern import sketch
from applique.sewing.plan import edge_minutes, roll_width, tight_length
from applique.sewing.quilting import rows_needed
from applique.sewing.reading import Mounting, comfortable_height, least_height, sign_height
from applique.sewing.stitches import thread_per_length


@pytest.mark.parametrize(
    ("first", "second", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#777777", "#ffffff", 4.478),
        ("#767676", "#ffffff", 4.542),
        ("#ff0000", "#ffffff", 3.998),
    ],
)
def test_contrast_ratios(first: str, second: str, ratio: float) -> None:
    """W3C, Web Content Accessibility Guidelines 2; the values follow from its formula."""
    assert contrast_ratio(first, second) == pytest.approx(ratio, abs=5e-4)
    assert contrast_ratio(second, first) == contrast_ratio(first, second)


CIEDE2000_PAIRS = """\
50 2.6772 -79.7751 50 0 -82.7485 2.0425
50 3.1571 -77.2803 50 0 -82.7485 2.8615
50 2.8361 -74.02 50 0 -82.7485 3.4412
50 -1.3802 -84.2814 50 0 -82.7485 1.0
50 -1.1848 -84.8006 50 0 -82.7485 1.0
50 -0.9009 -85.5211 50 0 -82.7485 1.0
50 0 0 50 -1 2 2.3669
50 -1 2 50 0 0 2.3669
50 2.49 -0.001 50 -2.49 0.0009 7.1792
50 2.49 -0.001 50 -2.49 0.001 7.1792
50 2.49 -0.001 50 -2.49 0.0011 7.2195
50 2.49 -0.001 50 -2.49 0.0012 7.2195
50 -0.001 2.49 50 0.0009 -2.49 4.8045
50 -0.001 2.49 50 0.001 -2.49 4.8045
50 -0.001 2.49 50 0.0011 -2.49 4.7461
50 2.5 0 50 0 -2.5 4.3065
50 2.5 0 73 25 -18 27.1492
50 2.5 0 61 -5 29 22.8977
50 2.5 0 56 -27 -3 31.903
50 2.5 0 58 24 15 19.4535
50 2.5 0 50 3.1736 0.5854 1.0
50 2.5 0 50 3.2972 0 1.0
50 2.5 0 50 1.8634 0.5757 1.0
50 2.5 0 50 3.2592 0.335 1.0
60.2574 -34.0099 36.2677 60.4626 -34.1751 39.4387 1.2644
63.0109 -31.0961 -5.8663 62.8187 -29.7946 -4.0864 1.263
61.2901 3.7196 -5.3901 61.4292 2.248 -4.962 1.8731
35.0831 -44.1164 3.7933 35.0232 -40.0716 1.5901 1.8645
22.7233 20.0904 -46.694 23.0331 14.973 -42.5619 2.0373
36.4612 47.858 18.3852 36.2715 50.5065 21.2231 1.4146
90.8027 -2.0831 1.441 91.1528 -1.6435 0.0447 1.4441
90.9257 -0.5406 -0.9208 88.6381 -0.8985 -0.7239 1.5381
6.7747 -0.2908 -2.4247 5.8714 -0.0985 -2.2286 0.6377
2.0776 0.0795 -1.135 0.9033 -0.0636 -0.5514 0.9082
"""


def test_the_library_computes_ciede2000() -> None:
    """The 34 pairs of Sharma, Wu, Dalal 2005: L, a, b twice, then the difference. Differences of pairs 1, 17 and 34
    published; the rest of the table from memory, and it agrees to its last digit."""
    for line in CIEDE2000_PAIRS.splitlines():
        *coordinates, difference = map(float, line.split())
        first, second = (Color("lab-d65", coordinates[start : start + 3]) for start in (0, 3))
        assert first.delta_e(second, method="2000") == pytest.approx(difference, abs=6e-5), line


def test_color_difference_uses_it() -> None:
    assert color_difference("#1d3f58", "#1d3f58") == 0
    red, green = Color("#a8402f"), Color("#6d8a72")
    assert color_difference("#a8402f", "#6d8a72") == pytest.approx(red.delta_e(green, method="2000"))


@pytest.mark.parametrize(
    ("feet", "mounting", "inches"),
    [
        (10, Mounting.LOW, "1.125"),
        (20, Mounting.LOW, "2.375"),
        (30, Mounting.HIGH, "4.125"),
        (21, Mounting.HIGH, "3"),
    ],
)
def test_sign_heights(feet: int, mounting: Mounting, inches: str) -> None:
    """ADA Standards for Accessible Design, table 703.5.5."""
    assert sign_height(Fraction(12 * feet), mounting) == Fraction(inches)


def test_an_inch_of_letter_for_ten_feet_and_for_twenty_five() -> None:
    """10 ft in comfort: common practice; 25 ft at the limit: Penn State for the USSC, 1998."""
    assert comfortable_height(Fraction(120)) == 1
    assert least_height(Fraction(300)) == 1


def test_thread_of_a_zigzag() -> None:
    """2(√(p² + w²) + t)/p with p 0.4, w 3, t 1 mm is 20.13: worked out from the geometry."""
    assert thread_per_length(Stitch.SATIN, pitch=0.4, width=3.0, thickness=1.0) == pytest.approx(
        20.13, abs=5e-3
    )


@pytest.mark.parametrize(("per_cm", "thickness_cm"), [(4, 0.0625), (5, 0.05), (3, 0.1)])
def test_thread_of_a_straight_stitch_is_the_formula_of_type_301(per_cm: float, thickness_cm: float) -> None:
    """The published formula of stitch type 301, 2 + 2ts; at 4 a cm through 0.0625 cm it is the guide's 2.5
    (Coats thread-consumption guide: 220 cm of 301 take 550 cm)."""
    found = thread_per_length(Stitch.STRAIGHT, pitch=1 / per_cm, width=0.0, thickness=thickness_cm)
    assert found == pytest.approx(2 + 2 * thickness_cm * per_cm)
    if per_cm * thickness_cm == 0.25:
        assert 220 * found == pytest.approx(550)


def test_a_narrow_zigzag_comes_down_to_a_straight_stitch() -> None:
    straight = thread_per_length(Stitch.STRAIGHT, pitch=2.0, width=0.0, thickness=1.0)
    assert thread_per_length(Stitch.ZIGZAG, pitch=2.0, width=1e-9, thickness=1.0) == pytest.approx(straight)


def test_a_meter_of_satin_around_letters_takes_12_to_21_minutes() -> None:
    """1 m at 0.4 mm is 2500 stitches (arithmetic): 12.5 to 20.8 min at the 200 to 120 a minute at which satin is guided
    around letters (common practice, no source), and no quicker than a machine at 600 (bdtextilemates 2022)."""
    stitches = round(1000 / 0.4)
    pattern = sketch(
        design_from_mapping(
            {"row": [{"text": "O", "stitch": "satin", "cap_height": "4in"}], "panel": {"width": "9in"}}
        )
    )
    (row,) = pattern.stitches
    assert row.paces == (120, 200)
    low, high = edge_minutes(stitches, pace=row.pace, curved=0.5, starts=0, corners=0)
    assert (low, high) == pytest.approx((stitches / 200, stitches / 120))
    assert (low, high) == pytest.approx((12.5, 20.8), abs=0.04)
    assert edge_minutes(stitches, pace=row.pace, curved=0.0, starts=0, corners=0)[0] > stitches / 600


def test_the_minutes_of_an_edge_are_its_stitches_starts_and_corners() -> None:
    """3600 stitches at 360 a minute are 10 min, computed. A fifth less on straight runs and a fifth more in tight
    curves, a minute for each start, a tenth for each corner, and 4/5 to 4/3 of the whole, as 3/4 and 5/4 of the pace
    take: common practice, no source."""
    assert edge_minutes(3600, pace=360, curved=0.5, starts=0, corners=0) == pytest.approx((8, 40 / 3))
    assert edge_minutes(3600, pace=360, curved=0.5, starts=4, corners=10) == pytest.approx((12, 20))
    assert edge_minutes(3600, pace=360, curved=0.0, starts=0, corners=0)[0] == pytest.approx(8 * 0.8)
    assert edge_minutes(3600, pace=360, curved=1.0, starts=0, corners=0)[0] == pytest.approx(8 * 1.2)


@pytest.mark.parametrize(("radius", "tight"), [(0.5, math.pi), (1.0, 2 * math.pi), (3.0, 2 * math.pi)])
def test_an_edge_is_tight_as_far_as_it_turns(radius: float, tight: float) -> None:
    """A whole circle of 1 in or less is tight; a larger one turns once around too, 2π in at 1 in: geometry."""
    circle = shapely.Point(0, 0).buffer(radius, quad_segs=64).exterior
    assert tight_length(circle) == pytest.approx(tight, rel=1e-3)
    assert tight_length(shapely.box(0, 0, radius, 3).exterior) == 0


def test_a_stroke_exceeds_twice_the_turn_under() -> None:
    """Turn-under 3/16 to 1/4 in (Quiltmaker); from both sides: geometry."""
    assert 2 * Sewing(method=Method.TURNED_EDGE).turn_under == Fraction(3, 8)


def test_a_roll_has_the_area_of_its_cloth() -> None:
    """A circle as large as the cloth seen from its edge: geometry; 1.25 for how loosely it is rolled: common practice,
    no source."""
    wide = roll_width(30.0, 0.2) / 1.25
    assert math.pi * wide**2 / 4 == pytest.approx(30 * 0.2)


@pytest.mark.parametrize(
    ("height", "row", "overlap", "rows"), [(60, 10, "1/2", 7), (60, 10, 0, 6), (9, 10, 1, 1), (19, 10, 1, 2)]
)
def test_rows_cover_the_top(height: int, row: int, overlap: str | int, rows: int) -> None:
    """n rows reach n·h − (n − 1)·o: geometry."""
    count = rows_needed(Fraction(height), Fraction(row), Fraction(overlap))
    assert count == rows
    assert count * row - (count - 1) * Fraction(overlap) >= height
