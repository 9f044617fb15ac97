"""Places: closed forms, and the laws of turning and moving."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from applique.geometry.outline import Contour, Outline
from applique.geometry.place import Place

CORNER = Polygon([(0, 0), (2, 0), (0, 1)])
lengths = st.floats(-100, 100)
turns = st.floats(-720, 720)
places = st.builds(lambda x, y, turn: Place(x=x, y=y, turn_deg=turn), lengths, lengths, turns)


@pytest.mark.parametrize(
    ("turn", "end"),
    [(0, (12, 5)), (90, (10, 7)), (180, (8, 5)), (270, (10, 3)), (-90, (10, 3)), (450, (10, 7))],
)
def test_quarter_turns_are_exact_and_run_counter_clockwise(turn: float, end: tuple[float, float]) -> None:
    assert Place(x=10, y=5, turn_deg=turn).point((2, 0)) == end


@given(places, places, st.tuples(lengths, lengths))
def test_a_place_within_a_place_is_both_one_after_the_other(
    inner: Place, outer: Place, point: tuple[float, float]
) -> None:
    assert inner.within(outer).point(point) == pytest.approx(outer.point(inner.point(point)), abs=1e-6)
    back = inner.within(outer).seen_from(outer)
    assert back.point(point) == pytest.approx(inner.point(point), abs=1e-6)


@given(places)
def test_outline_and_shape_go_to_the_same_place(place: Place) -> None:
    laid = place.shape(CORNER)
    assert list(laid.exterior.coords)[:3] == [
        pytest.approx(place.point(corner), abs=1e-9) for corner in [(0, 0), (2, 0), (0, 1)]
    ]
    assert laid.area == pytest.approx(1)
    outline = Outline(contours=(Contour(start=(0.0, 0.0), segments=(((2.0, 0.0),), ((0.0, 1.0),))),))
    (contour,) = place.outline(outline).contours
    assert contour.start == pytest.approx(place.point((0, 0)))
    assert contour.segments[0][0] == pytest.approx(place.point((2, 0)))
