"""Nested pieces keep their distance, stay inside, and none is lost; the same every time."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon

from applique.nesting import NestPiece, forget_nests, lay_strip, nest_bins, nest_faults


@st.composite
def pieces(draw: st.DrawFn) -> list[NestPiece]:
    """A few star-shaped polygons, convex or not, standing anywhere about their origin."""
    made = []
    for index in range(draw(st.integers(1, 5))):
        radii = draw(st.lists(st.floats(0.3, 2.5), min_size=3, max_size=9))
        x, y = draw(st.floats(-5, 5)), draw(st.floats(-5, 5))
        turn = 2 * math.pi / len(radii)
        ring = [(x + r * math.cos(i * turn), y + r * math.sin(i * turn)) for i, r in enumerate(radii)]
        turns = draw(st.sampled_from([(0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0), (90.0, 270.0)]))
        made.append(
            NestPiece(key=f"p{index}", shape=Polygon(ring), count=draw(st.integers(1, 4)), turns_deg=turns)
        )
    return made


@settings(max_examples=60, deadline=None)
@given(pieces(), st.floats(5.1, 20), st.sampled_from([0.0, 0.1, 0.25, 0.5]))
def test_strips_keep_every_rule(made: list[NestPiece], width: float, spacing: float) -> None:
    nest = lay_strip(made, width=width, spacing=spacing)
    assert nest_faults(nest, made) == ()
    forget_nests()
    assert nest == lay_strip(made, width=width, spacing=spacing)


@settings(max_examples=40, deadline=None)
@given(pieces(), st.sampled_from([0.0, 0.2]))
def test_pages_keep_every_rule(made: list[NestPiece], spacing: float) -> None:
    assert nest_faults(nest_bins(made, width=7.5, height=10, spacing=spacing), made) == ()


# The same examples on every run: where a piece falls just beside another the grid may count a whole row more.
@settings(max_examples=25, deadline=None, derandomize=True)
@given(pieces(), st.integers(2, 3))
def test_twice_the_size_takes_about_twice_the_length(made: list[NestPiece], factor: int) -> None:
    """Scaling is linear in length, but for the grid's coarseness."""
    large = [
        NestPiece(
            key=piece.key,
            shape=affinity.scale(piece.shape, factor, factor, origin=(0, 0)),
            count=piece.count,
            turns_deg=piece.turns_deg,
        )
        for piece in made
    ]
    small_nest, large_nest = (lay_strip(p, width=w, spacing=0) for p, w in ((made, 8), (large, 8 * factor)))
    assert large_nest.length < factor * small_nest.length * 1.25 + 1
    assert large_nest.length > factor * small_nest.length * 0.75 - 1
