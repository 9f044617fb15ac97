"""The smallest features of closed-form shapes and of the bundled fonts."""

from __future__ import annotations

import math
import string

import pytest
import shapely
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from applique.geometry.polygons import as_shape
from applique.sewing.features import ERROR_OF_CAP, Features, features_of
from applique.typeset.fonts import open_typeface

CAP = 4.0
WITHIN = ERROR_OF_CAP * CAP


def _features(shape: BaseGeometry) -> Features:
    return features_of(as_shape(shape), cap_height=CAP)


def test_a_bar_is_as_thin_as_it_is() -> None:
    features = _features(box(0, 0, 0.5, 4))
    assert features.stroke.width == pytest.approx(0.5, abs=WITHIN)
    assert features.counter is None
    assert features.slot is None
    assert features.tip is not None
    assert features.tip.degrees == pytest.approx(90, abs=0.5)


def test_a_ring_has_a_stroke_and_a_counter() -> None:
    ring = Point(0, 0).buffer(2, quad_segs=90) - Point(0, 0).buffer(1.4, quad_segs=90)
    features = _features(ring)
    assert features.stroke.width == pytest.approx(0.6, abs=WITHIN)
    assert features.counter is not None
    assert features.counter.width == pytest.approx(2.8, abs=WITHIN)
    assert math.hypot(*features.counter.at) < WITHIN


def test_the_arms_of_a_cross_count_though_its_middle_is_wider() -> None:
    cross = shapely.union(box(-2, -0.25, 2, 0.25), box(-0.25, -2, 0.25, 2))
    assert _features(cross).stroke.width == pytest.approx(0.5, abs=WITHIN)


def test_two_discs_joined_are_as_thin_as_their_neck() -> None:
    """Discs of radius 1 whose centers are d apart meet in a chord of 2√(1 − d²/4)."""
    apart = 1.8
    discs = shapely.union(
        Point(-apart / 2, 0).buffer(1, quad_segs=180), Point(apart / 2, 0).buffer(1, quad_segs=180)
    )
    features = _features(discs)
    assert features.stroke.width == pytest.approx(2 * math.sqrt(1 - apart**2 / 4), abs=WITHIN)
    assert math.hypot(*features.stroke.at) < 0.1


def test_the_slot_of_two_discs_is_their_gap() -> None:
    discs = shapely.MultiPolygon(
        [Point(-1.15, 0).buffer(1, quad_segs=90), Point(1.15, 0).buffer(1, quad_segs=90)]
    )
    slot = _features(discs).slot
    assert slot is not None
    assert slot.width == pytest.approx(0.3, abs=1e-3)
    assert slot.at == pytest.approx((0, 0), abs=1e-3)


def test_the_mouth_of_a_c_is_a_slot_where_it_is() -> None:
    letter = (
        Point(0, 0).buffer(2, quad_segs=60) - Point(0, 0).buffer(1.2, quad_segs=60) - box(0, -0.2, 3, 0.2)
    )
    slot = _features(letter).slot
    assert slot is not None
    assert slot.width == pytest.approx(0.4, abs=WITHIN)
    assert 1.0 < slot.at[0] < 2.2
    assert abs(slot.at[1]) < 0.1


def test_points_are_measured_by_their_angle() -> None:
    sharp = Polygon([(0, 0), (1, 0), (0.5, 0.5 / math.tan(math.radians(15)))])
    tip = _features(sharp).tip
    assert tip is not None
    assert tip.degrees == pytest.approx(30, abs=0.5)
    assert tip.at[0] == pytest.approx(0.5, abs=1e-6)


def test_features_grow_with_the_letter() -> None:
    shape = shapely.union(LineString([(0, 0), (1, 3)]).buffer(0.2), box(0.2, 0, 2, 0.7))
    small, large = (
        _features(shape),
        features_of(as_shape(affinity.scale(shape, 3, 3, origin=(0, 0))), cap_height=3 * CAP),
    )
    assert large.stroke.width == pytest.approx(3 * small.stroke.width, rel=1e-6)
    assert large.stroke.at == pytest.approx([3 * value for value in small.stroke.at], rel=0.05)


# Stroke, hole and slot of every bundled font over A-Z a-z 0-9 as shares of the cap height, ± 0.005. From memory: they
# were measured when the fonts were chosen, by opening and closing outlines that skia-pathops had united; the script is
# not kept, nor which library opened and closed them. Measured again since, on rasters of FreeType (freetype-py 2.5.1,
# 200 pixels to the cap height) with the distance transform of scipy 1.17.1: holes agree within 0.01 in all 29 rows;
# strokes, by a cruder rule for what is the end of a stroke, in 20 of them. Slots were not measured again.
MEASURED = (
    ("Montserrat", None, 0.145, 0.133, 0.06),
    ("Fredoka", None, 0.17, 0.107, 0.06),
    ("Baloo 2", None, 0.195, 0.118, 0.07),
    ("Rubik", None, 0.14, 0.123, 0.055),
    ("Geologica", None, 0.15, 0.103, 0.055),
    ("Bitter", None, 0.125, 0.12, 0.06),
    ("Alfa Slab One", None, 0.115, 0.096, 0.04),
    ("Barlow Condensed ExtraBold", None, 0.14, 0.092, 0.04),
    ("Lilita One", None, 0.12, 0.108, 0.07),
    ("Titan One", None, 0.085, 0.07, 0.055),
    ("Shantell Sans ExtraBold", None, 0.15, 0.111, 0.06),
    ("Pacifico", None, 0.065, 0.075, 0.025),
    ("Fraunces", None, 0.065, 0.102, 0.04),
    ("Cairo", None, 0.155, 0.121, 0.09),
    ("Fredoka", 500, 0.105, 0.158, 0.11),
    ("Fredoka", 600, 0.145, 0.124, 0.08),
    ("Fredoka", 700, 0.195, 0.085, 0.04),
    ("Baloo 2", 500, 0.095, 0.205, 0.13),
    ("Baloo 2", 700, 0.175, 0.146, 0.09),
    ("Montserrat", 600, 0.12, 0.185, 0.105),
    ("Montserrat", 900, 0.16, 0.104, 0.03),
    ("Rubik", 600, 0.115, 0.173, 0.07),
    ("Rubik", 900, 0.165, 0.091, 0.04),
    ("Geologica", 600, 0.12, 0.137, 0.10),
    ("Geologica", 900, 0.165, 0.087, 0.035),
    ("Bitter", 700, 0.10, 0.172, 0.095),
    ("Bitter", 900, 0.13, 0.10, 0.04),
    ("Cairo", 700, 0.13, 0.174, 0.12),
    ("Cairo", 1000, 0.17, 0.047, 0.04),
)


@pytest.mark.parametrize(("font", "weight", "stroke", "hole", "slot"), MEASURED)
def test_the_bundled_fonts_measure_as_they_were_measured(
    font: str, weight: int | None, stroke: float, hole: float, slot: float
) -> None:
    face = open_typeface(font, {"wght": weight} if weight else None)
    scale = 6 / face.cap_height_fu
    found: list[Features] = []
    for character in string.ascii_letters + string.digits:
        glyph = face.hb_font.get_nominal_glyph(ord(character))
        shape = face.shape(((glyph, 0.0, 0.0),), chord_error_fu=0.0005 / scale)
        found.append(features_of(affinity.scale(shape, scale, scale, origin=(0, 0)), cap_height=6.0))
    assert min(one.stroke.width for one in found) / 6 == pytest.approx(stroke, abs=0.01)
    assert min(one.counter.width for one in found if one.counter) / 6 == pytest.approx(hole, abs=0.01)
    assert min(one.slot.width for one in found if one.slot) / 6 == pytest.approx(slot, abs=0.01)
