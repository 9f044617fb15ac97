"""Offsets of outlines: closed forms, curves that stay curves, and the polygon that proves them."""

from __future__ import annotations

import math

import pytest
import shapely

from applique.geometry.offset import offset_outline, outline_of
from applique.geometry.outline import Contour, Outline
from applique.geometry.polygons import as_shape, polygon_of
from applique.typeset.bundled import BUNDLED
from applique.typeset.fonts import open_typeface


def _square(side: float, *, hole: float = 0.0) -> Outline:
    half, inner = side / 2, hole / 2
    corners = [(-half, -half), (half, -half), (half, half), (-half, half)]
    contours = [Contour(start=corners[0], segments=tuple((corner,) for corner in corners[1:]))]
    if hole:
        back = [(-inner, -inner), (-inner, inner), (inner, inner), (inner, -inner)]
        contours.append(Contour(start=back[0], segments=tuple((corner,) for corner in back[1:])))
    return Outline(contours=tuple(contours))


def _disc(radius: float) -> Contour:
    """Four cubics; within 0.03 % of a circle."""
    k = 0.5522847498 * radius
    r = radius
    return Contour(
        start=(r, 0.0),
        segments=(
            ((r, k), (k, r), (0.0, r)),
            ((-k, r), (-r, k), (-r, 0.0)),
            ((-r, -k), (-k, -r), (0.0, -r)),
            ((k, -r), (r, -k), (r, 0.0)),
        ),
    )


def test_a_square_grows_round_corners() -> None:
    grown = offset_outline(_square(4), 0.5)
    assert grown.area() == pytest.approx(16 + 4 * 4 * 0.5 + math.pi * 0.25, rel=1e-4)
    assert grown.length() == pytest.approx(16 + math.pi, rel=1e-4)
    assert any(len(segment) > 1 for contour in grown.contours for segment in contour.segments)


def test_a_square_grows_mitered_corners() -> None:
    grown = offset_outline(_square(4), 0.5, miter_limit=2.0)
    assert grown.area() == pytest.approx(25, rel=1e-6)
    assert sum(len(contour.segments) for contour in grown.contours) <= 8


def test_a_square_shrinks_and_vanishes() -> None:
    assert offset_outline(_square(4), -0.5).area() == pytest.approx(9, rel=1e-6)
    assert not offset_outline(_square(4), -2.1)


def test_a_ring_grows_outward_and_into_its_counter() -> None:
    ring = Outline(contours=(_disc(3.0), _disc(2.0).reversed()))
    grown = offset_outline(ring, 0.4)
    assert grown.area() == pytest.approx(math.pi * (3.4**2 - 1.6**2), rel=1e-3)
    assert len(grown.contours) == 2
    assert all(len(segment) > 1 for contour in grown.contours for segment in contour.segments)


def test_a_counter_that_closes_is_gone() -> None:
    assert len(offset_outline(_square(4, hole=1), 0.6).contours) == 1


@pytest.mark.parametrize("font", [font.name for font in BUNDLED])
@pytest.mark.parametrize("distance", [0.1875, 0.5, -0.1])
def test_letters_are_offset_as_their_polygons_are(font: str, distance: float) -> None:
    """Shapely's buffer is the outside authority."""
    face = open_typeface(font)
    scale = 5 / face.cap_height_fu
    for character in "RSaeg8w&":
        glyph = face.hb_font.get_nominal_glyph(ord(character))
        outline = face.outline(((glyph, 0.0, 0.0),)).transformed((scale, 0.0, 0.0, scale, 0.0, 0.0))
        truth = polygon_of(outline, chord_error=0.0002).buffer(distance, quad_segs=64)
        found = polygon_of(offset_outline(outline, distance), chord_error=0.0002)
        assert truth.buffer(0.004).covers(found), character
        assert found.buffer(0.004).covers(truth), character
        assert found.area == pytest.approx(truth.area, rel=2e-3)


def test_an_outline_of_a_polygon_has_its_area() -> None:
    shape = as_shape(shapely.Point(0, 0).buffer(2) - shapely.box(-0.5, -0.5, 0.5, 0.5))
    outline = outline_of(shape)
    assert outline.area() == pytest.approx(shape.area)
    assert [contour.signed_area() > 0 for contour in outline.contours] == [True, False]
