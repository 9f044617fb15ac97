"""The outer edge of a quilt is one outline: whatever stands there, everybody who asks keeps to it."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
import shapely
from shapely.geometry import LineString, Polygon

from applique.design import Binding, BindingGrain, design_from_mapping
from applique.errors import Refusal
from applique.geometry.outline import Contour, Outline, common
from applique.geometry.polygons import polygon_of
from applique.pattern import Pattern, draft
from applique.picture import Part
from applique.quilt.edge import Edge, straight_edge
from applique.quilt.finishing import plan_binding
from applique.sewing.quilting import plan_quilting
from applique.units import Units

DATA: dict[str, Any] = {
    "row": [{"text": "I"}],
    "panel": {"width": "12in", "height": "8in", "fabric": "Fog"},
    "lettering": {"font": "Rubik", "cap_height": "2in", "fabric": "Ink"},
    "fabric": [{"name": "Ink", "color": "#203040"}, {"name": "Fog", "color": "#e0e0d8"}],
    "border": [
        {
            "kind": "strip",
            "width": "1in",
            "fabrics": ["Ink"],
            "corners": "cornerstones",
            "corner_fabric": "Fog",
        },
    ],
    "quilting": [
        {"kind": "lines", "spacing": "2in", "angle": 0},
        {"kind": "edge to edge", "row_height": "3in"},
        {"kind": "echo", "spacing": "3in", "lines": 6},
    ],
}


def _leaf(width: float, height: float) -> Outline:
    """Two arcs from the left to the right, each a quadratic: as wide and as high as it says, 2/3 of its rectangle."""
    x, y = width / 2, height
    return Outline(
        contours=(Contour(start=(-x, 0.0), segments=(((0.0, -y), (x, 0.0)), ((0.0, y), (-x, 0.0)))),)
    )


@pytest.fixture(scope="module")
def leaf() -> Pattern:
    """A quilt cut along two curves, its quilting planned with them."""
    made = draft(design_from_mapping(DATA))
    width, height = made.quilt.finished
    outline = _leaf(float(width), float(height))
    quilt = replace(made.quilt, edge=Edge(size=(width, height), outline=outline, length=Fraction(70)))
    return replace(
        made,
        sketch=replace(made.sketch, quilt=quilt),
        quilting=plan_quilting(made.design, made.panel, made.outlines, quilt),
    )


def test_a_straight_edge_is_its_rectangle() -> None:
    edge = straight_edge((Fraction(81, 2), Fraction(60)))
    assert edge.length == 201
    assert edge.outline.bounds() == (-20.25, -30, 20.25, 30)
    assert (edge.outline.length(), edge.outline.area()) == (201, 2430)


def test_what_two_outlines_have_in_common_keeps_its_curves() -> None:
    """Half of a leaf: two thirds of the rectangle around it, as the area under a parabola is (Archimedes)."""
    right = straight_edge((Fraction(6), Fraction(10))).outline.transformed((1.0, 0.0, 0.0, 1.0, 3.0, 0.0))
    for one in (right, right.transformed((1.0, 0.0, 0.0, -1.0, 0.0, 0.0))):
        half = common(_leaf(12, 6), one)
        assert half.area() == pytest.approx(2 / 3 * 6 * 6, abs=2e-3)
        assert len([segment for segment in half.contours[0].segments if len(segment) == 2]) == 2
    assert not common(_leaf(12, 6), right.transformed((1.0, 0.0, 0.0, 1.0, 9.0, 0.0)))


def test_only_bias_binding_goes_around_curves(leaf: Pattern) -> None:
    """Common practice, no source. 70 in around and 10 more are 80."""
    fabric, edge = leaf.quilt.fabrics.binding, leaf.quilt.edge
    bias = Binding(grain=BindingGrain.BIAS)
    plan = plan_binding(bias, edge, fabric, seam_allowance=Fraction(1, 4), units=Units.INCHES)
    assert plan.needed == 80
    with pytest.raises(Refusal, match="curves"):
        plan_binding(Binding(), edge, fabric, seam_allowance=Fraction(1, 4), units=Units.INCHES)


def test_the_picture_ends_at_the_edge_and_the_top_before_it_is_cut_does_not(leaf: Pattern) -> None:
    picture, (width, height) = leaf.picture, map(float, leaf.quilt.finished)
    whole = shapely.affinity.translate(leaf.quilt.edge.shape, width / 2, height / 2)
    (edge,) = picture.of(Part.EDGE)
    assert polygon_of(edge.laid, chord_error=0.001).symmetric_difference(whole).area < 0.1
    shown = [Polygon(c.points(0.001)) for i in picture.of(Part.PATCH, Part.PANEL) for c in i.laid.contours]
    assert shapely.union_all(shown).symmetric_difference(whole).area < 0.1
    assert [item.part for item in picture.items].count(Part.PATCH) == 4, "the cornerstones are cut away"
    assert sum(piece.area for piece in shown) == pytest.approx(2 / 3 * width * height, rel=1e-3)
    sewn = [Polygon(c.points(0.001)) for item in picture.top for c in item.laid.contours]
    assert sum(piece.area for piece in sewn) == pytest.approx(width * height)
    (letter,) = picture.of(Part.LETTER)
    assert letter == next(draft(design_from_mapping(DATA)).picture.of(Part.LETTER))


def test_quilting_runs_to_the_edge_and_no_further(leaf: Pattern) -> None:
    shape = leaf.quilt.edge.shape
    for plan in leaf.quilting:
        assert all(LineString(line).difference(shape.buffer(1e-6)).length < 1e-6 for line in plan.lines)
    ruled, *_ = leaf.quilting
    half = float(leaf.quilt.finished[0]) / 2
    level = [x for line in ruled.lines for x, y in line if abs(y) < 1e-9]
    assert (min(level), max(level)) == pytest.approx((-half, half))
    above = [x for line in ruled.lines for x, y in line if abs(y - 2) < 1e-9]
    assert max(above) == pytest.approx(half * math.sqrt(1 - 2 / 5), abs=2e-3)
