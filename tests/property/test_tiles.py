"""Tiles cover a drawing once outside their overlaps, and share what they say they share."""

from __future__ import annotations

import itertools

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box

from applique.design import Paper, PaperSize, PrintCorrection
from applique.paging import sheet_frame, tile_area


@settings(max_examples=60, deadline=None)
@given(
    st.floats(1, 60),
    st.floats(1, 60),
    st.floats(0.25, 2.5),
    st.sampled_from(list(PaperSize)),
    st.floats(-20, 20),
)
def test_tiles_cover_the_drawing_and_overlap_by_what_was_asked(
    width: float, height: float, overlap: float, size: PaperSize, shift: float
) -> None:
    frame = sheet_frame(Paper(size=size), PrintCorrection())
    shape = box(shift, shift, shift + width, shift + height)
    tiling = tile_area(shape, frame=frame, overlap=overlap, border=0.1)
    windows = {(tile.row, tile.column): box(*tile.window) for tile in tiling.tiles}
    assert shapely.union_all(list(windows.values())).buffer(1e-6).covers(shape)
    room_x, room_y = frame.room
    for (row, column), window in windows.items():
        x0, y0, x1, y1 = window.bounds
        assert (x1 - x0, y1 - y0) == pytest.approx((room_x, room_y))
        beside = windows.get((row, column + 1))
        if beside is not None:
            assert window.intersection(beside).area == pytest.approx(overlap * room_y)
            assert tiling.seams_x[column] == pytest.approx((x1 + beside.bounds[0]) / 2)
        below = windows.get((row + 1, column))
        if below is not None:
            assert tiling.seams_y[row] == pytest.approx((y0 + below.bounds[3]) / 2)


@settings(max_examples=30, deadline=None)
@given(st.floats(10, 40), st.floats(10, 40))
def test_trimmed_on_the_seams_every_spot_is_on_one_page(width: float, height: float) -> None:
    frame = sheet_frame(Paper(), PrintCorrection())
    shape = box(0, 0, width, height)
    tiling = tile_area(shape, frame=frame, overlap=0.75, border=0.1)
    xs = [tiling.area[0], *tiling.seams_x, tiling.area[2]]
    ys = [tiling.area[3], *tiling.seams_y, tiling.area[1]]
    trimmed = [
        box(xs[tile.column], ys[tile.row + 1], xs[tile.column + 1], ys[tile.row]) for tile in tiling.tiles
    ]
    assert shapely.union_all(trimmed).buffer(1e-6).covers(shape)
    for first, second in itertools.combinations(trimmed, 2):
        assert first.intersection(second).area == pytest.approx(0, abs=1e-9)


def test_tiles_without_ink_are_left_out() -> None:
    ring = shapely.Point(0, 0).buffer(30).difference(shapely.Point(0, 0).buffer(29))
    tiling = tile_area(ring, frame=sheet_frame(Paper(), PrintCorrection()), overlap=0.75, border=0.1)
    assert len(tiling.tiles) < tiling.rows * tiling.columns
