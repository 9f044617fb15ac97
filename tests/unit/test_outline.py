"""Closed forms first: squares, rings and discs whose measures are known."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from applique.geometry.outline import Contour, Outline, united
from applique.geometry.points import Point
from applique.geometry.polygons import polygon_of


def _square(side: float, x: float = 0.0, y: float = 0.0, *, clockwise: bool = False) -> Contour:
    corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]
    if clockwise:
        corners.reverse()
    return Contour(start=corners[0], segments=tuple((corner,) for corner in corners[1:]))


_KAPPA = 4 / 3 * (math.sqrt(2) - 1)


def _disc(radius: float) -> Contour:
    """A disc of four cubics; its area is 0.0273 % over the true disc's."""
    r, k = radius, radius * _KAPPA
    return Contour(
        start=(r, 0),
        segments=(
            ((r, k), (k, r), (0, r)),
            ((-k, r), (-r, k), (-r, 0)),
            ((-r, -k), (-k, -r), (0, -r)),
            ((k, -r), (r, -k), (r, 0)),
        ),
    )


def test_square_with_a_square_hole() -> None:
    outline = Outline(contours=(_square(4), _square(2, 1, 1, clockwise=True)))
    assert outline.area() == 12
    assert outline.length() == 24
    assert outline.bounds() == (0, 0, 4, 4)
    assert polygon_of(outline, chord_error=0.1).area == 12


def test_disc_area_length_and_extent() -> None:
    outline = Outline(contours=(_disc(3),))
    assert outline.area() == pytest.approx(math.pi * 9, rel=3e-4)
    assert outline.length() == pytest.approx(math.pi * 6, rel=3e-4)
    assert outline.bounds() == pytest.approx((-3, -3, 3, 3))


@given(st.floats(1e-4, 0.5))
def test_no_point_of_the_polygon_strays_further_than_asked(chord_error: float) -> None:
    """For a convex curve the chords lie inside; the deepest sagitta is the error."""
    disc = _disc(3)
    points = disc.points(chord_error)
    deepest = 0.0
    for first, second in zip(points, [*points[1:], points[0]], strict=True):
        middle = ((first[0] + second[0]) / 2, (first[1] + second[1]) / 2)
        deepest = max(deepest, 3 - math.hypot(*middle))
    assert deepest <= chord_error * 1.01 + 1e-3 * 3 * 0.3


def test_quadratic_area_is_two_thirds_of_its_box() -> None:
    """The area under a parabola: Archimedes."""
    parabola = Contour(start=(0, 0), segments=(((1.0, 2.0), (2.0, 0.0)),))
    assert abs(parabola.signed_area()) == pytest.approx(4 / 3)


def test_mirroring_keeps_area_length_and_direction() -> None:
    outline = Outline(contours=(_square(4), _square(2, 1, 1, clockwise=True), _disc(0.4)))
    mirrored = outline.transformed((-1, 0, 0, 1, 10, 0))
    assert mirrored.area() == pytest.approx(outline.area())
    assert mirrored.length() == pytest.approx(outline.length())
    assert [c.signed_area() > 0 for c in mirrored.contours] == [c.signed_area() > 0 for c in outline.contours]
    assert mirrored.transformed((-1, 0, 0, 1, 10, 0)).bounds() == pytest.approx(outline.bounds())


def test_reversing_twice_is_the_same_path() -> None:
    disc = _disc(2)
    assert disc.reversed().signed_area() == pytest.approx(-disc.signed_area())
    assert disc.reversed().reversed() == disc


@pytest.mark.parametrize("second_clockwise", [False, True])
def test_overlapping_contours_are_united_and_opposite_ones_make_holes(second_clockwise: bool) -> None:
    outer, inner = _square(4), _square(2, 1, 1, clockwise=second_clockwise)
    outline = united([lambda pen: _draw(pen, outer), lambda pen: _draw(pen, inner)], least_area=0.01)
    assert outline.area() == pytest.approx(12 if second_clockwise else 16)


def test_specks_are_dropped_and_letters_kept() -> None:
    big, speck = _square(4), _square(0.05, 9, 9)
    outline = united([lambda pen: _draw(pen, big), lambda pen: _draw(pen, speck)], least_area=0.01)
    assert outline.area() == pytest.approx(16)


def test_a_polygon_that_does_not_bound_the_outline_is_an_error() -> None:
    bow_tie: tuple[Point, ...] = ((4.0, 4.0), (4.0, 0.0), (0.0, 6.0))
    crossed = Outline(contours=(Contour(start=(0, 0), segments=tuple((p,) for p in bow_tie)),))
    with pytest.raises(ValueError, match="differ in area"):
        polygon_of(crossed, chord_error=0.001)


def _draw(pen: object, contour: Contour) -> None:
    Outline(contours=(contour,)).draw(pen)
