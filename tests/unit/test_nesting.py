"""Nests: closed forms first, then what is refused, then proof that the checker can find a fault."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import combinations

import pytest
import shapely
from shapely import affinity
from shapely.geometry import Polygon, box

from applique.errors import Refusal
from applique.geometry.polygons import Shape, as_shape
from applique.nesting import NestPiece, Placement, fits, lay_strip, nest_bins, nest_faults


def _piece(shape: Shape, count: int = 1, key: str = "a", turns: tuple[float, ...] = (0.0,)) -> NestPiece:
    return NestPiece(key=key, shape=shape, count=count, turns_deg=turns)


def test_squares_stand_in_rows_across_the_strip() -> None:
    """Twelve unit squares, no spacing, on a strip 4 wide: 3 long."""
    nest = lay_strip([_piece(box(0, 0, 1, 1), 12)], width=4, spacing=0)
    assert nest.length == pytest.approx(3)


def test_pages_are_filled_out_of_order_only_where_that_takes_fewer() -> None:
    """Two of 3 by 10 in and two of 6 1/2 by 10 on pages 10 in wide: as they come 3 pages, large with small 2.

    Where the order takes as few, it is kept: a small and a large one lie first on the first page.
    """
    small, large = box(0, 0, 3, 10), box(0, 0, 6.5, 10)
    for keys, pages in (("aabb", [["b", "a"], ["b", "a"]]), ("abab", [["a", "b"], ["a", "b"]])):
        pieces = [
            _piece(small if key == "a" else large, key=f"{key}{index}") for index, key in enumerate(keys)
        ]
        nest = nest_bins(pieces, width=10, height=10, spacing=0.125, in_order=True)
        assert [[one.key[0] for one in page] for page in nest.bins] == pages


def test_spacing_lies_between_pieces_and_not_at_the_edges() -> None:
    """Four squares of 1 with 1/4 between on a width of 4.75: one row, and 12 of them 3.5 long."""
    nest = lay_strip([_piece(box(0, 0, 1, 1), 12)], width=4.75, spacing=0.25)
    assert nest.length == pytest.approx(3.5, abs=0.13)
    assert nest_faults(nest, [_piece(box(0, 0, 1, 1), 12)]) == ()


def test_round_corners_of_straight_segments_brought_pieces_nearer_than_the_spacing() -> None:
    """A corner rounded in segments of 90°/8 is short of its arc by 1 − cos(90°/16), 0.5 %; half of 40 in makes that
    0.1 in, more than a cell of the grid hides. Distances by GEOS."""
    chance = random.Random(0)
    corners = [
        (chance.uniform(0.3, 1.2), chance.uniform(0, math.pi), chance.choice([3, 4, 5])) for _ in range(12)
    ]
    pieces = [
        _piece(
            shapely.Polygon([_at(r, start + 2 * math.pi * i / count) for i in range(count)]), key=str(number)
        )
        for number, (r, start, count) in enumerate(corners)
    ]
    nest = lay_strip(pieces, width=130.0, spacing=40.0)
    shapes = {piece.key: piece.shape for piece in pieces}
    laid = [affinity.translate(shapes[spot.key], spot.place.x, spot.place.y) for spot in nest.placements]
    nearest = min(one.distance(other) for one, other in combinations(laid, 2))
    assert 40.0 <= nearest < 40.2


def _at(radius: float, angle: float) -> tuple[float, float]:
    return radius * math.cos(angle), radius * math.sin(angle)


def test_a_piece_exactly_as_wide_as_the_strip_fits() -> None:
    piece = _piece(box(-3, 5, 2, 22), 2)
    assert fits(piece, width=17)
    nest = lay_strip([piece], width=17, spacing=0.3)
    assert nest.length == pytest.approx(10.3, abs=0.07)


def test_a_piece_fits_by_its_turn() -> None:
    lying = _piece(box(0, 0, 2, 20), turns=(0.0, 90.0))
    assert fits(lying, width=17)
    assert lay_strip([lying], width=17, spacing=0).placements[0].place.turn_deg == 90


def test_two_angles_interlock_on_their_true_shape() -> None:
    """Two Ls of arms 4 and thickness 1, one turned by 180°: 5 wide and 4 long together, not 8."""
    angle = Polygon([(0, 0), (4, 0), (4, 1), (1, 1), (1, 4), (0, 4)])
    nest = lay_strip([_piece(angle, 2, turns=(0.0, 180.0))], width=5, spacing=0)
    assert nest.length == pytest.approx(4, abs=0.07)


def test_pages_take_no_more_than_they_hold() -> None:
    """Squares of 3 in with nothing between on 7 × 10 pages: 2 × 3 a page."""
    pieces = [_piece(box(0, 0, 3, 3), 13)]
    nest = nest_bins(pieces, width=7, height=10, spacing=0)
    assert sorted(map(len, nest.bins)) == [1, 6, 6]
    assert nest_faults(nest, pieces) == ()


def test_true_shapes_lie_closer_than_boxes() -> None:
    """Right triangles pair up to squares."""
    triangle = Polygon([(0, 0), (4, 0), (0, 4)])
    nest = lay_strip([_piece(triangle, 8, turns=(0.0, 180.0))], width=4.5, spacing=0.05)
    assert nest.length < 8 * 4 * 0.65


def test_too_large_pieces_are_refused_by_name() -> None:
    with pytest.raises(Refusal, match="big is 20 in by 20 in"):
        lay_strip([_piece(box(0, 0, 20, 20), key="big")], width=17, spacing=0)
    with pytest.raises(Refusal, match="does not fit a page"):
        nest_bins([_piece(box(0, 0, 8, 12))], width=7, height=10, spacing=0)


@pytest.mark.parametrize(
    "pieces",
    [
        [_piece(box(0, 0, 1, 1)), _piece(box(0, 0, 1, 1))],
        [_piece(box(0, 0, 1, 1), 0)],
        [_piece(Polygon())],
        [_piece(Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]))],
    ],
)
def test_senseless_pieces_are_errors(pieces: list[NestPiece]) -> None:
    with pytest.raises(ValueError, match=r"key|count|area"):
        lay_strip(pieces, width=10, spacing=0)


@pytest.mark.parametrize("size", [0, -1, float("nan"), float("inf")])
def test_senseless_sizes_are_errors(size: float) -> None:
    with pytest.raises(ValueError, match="positive size"):
        lay_strip([_piece(box(0, 0, 1, 1))], width=size, spacing=0)


def test_the_checker_finds_every_kind_of_fault() -> None:
    pieces = [_piece(box(0, 0, 1, 1), 2)]
    nest = lay_strip(pieces, width=4, spacing=0.5)
    first, second = nest.placements

    def faults(*placements: Placement) -> str:
        return " ".join(nest_faults(replace(nest, placements=placements), pieces))

    def at(spot: Placement, **place: float) -> Placement:
        return replace(spot, place=replace(spot.place, **place))

    assert faults(first, second) == ""
    assert "closer than the spacing" in faults(first, at(first, y=first.place.y + 1.2))
    assert "closer" in faults(first, first)
    assert "outside" in faults(first, at(second, y=9.0))
    assert "1 times instead of 2" in faults(first)
    assert "3 times instead of 2" in faults(first, second, at(second, y=3.0))
    assert "turned by 45" in faults(first, at(second, turn_deg=45.0))
    assert "0 times" not in faults(first, replace(second, key="other"))
    assert "other is laid 1 times instead of 0" in faults(first, replace(second, key="other"))
    touching = replace(nest, spacing=0.0, placements=(first, at(first, x=first.place.x + 0.5)))
    assert "overlap" in " ".join(nest_faults(touching, pieces))


def test_counters_are_left_alone() -> None:
    """A small square is not laid into the hole of a ring."""
    ring = shapely.Point(0, 0).buffer(3).difference(shapely.Point(0, 0).buffer(2.5))
    pieces = [_piece(as_shape(ring), 1, "ring"), _piece(box(0, 0, 1, 1), 1, "square")]
    assert nest_faults(lay_strip(pieces, width=6.5, spacing=0.1), pieces) == ()
