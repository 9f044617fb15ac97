"""What shows of a quilt: its pieces on their sides and in their order, its class, and the scene to scale."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest

from applique.design import design_from_mapping
from applique.pattern import sketch
from applique.quilt.scene import scale_scene
from applique.quilt.sizes import quilt_class

NAMES = ("Ink", "Rust", "Moss")
COLORS = ("#203040", "#a05030", "#506040")


def test_rectangles_follow_one_another_around_the_panel_and_lie_on_their_sides() -> None:
    """Clockwise from the top left corner, each fabric after the one before it."""
    design = design_from_mapping(
        {
            "row": [{"text": "A", "cap_height": "4in"}],
            "panel": {"width": "20in", "height": "16in"},
            "fabric": [{"name": n, "color": c} for n, c in zip(NAMES, COLORS, strict=True)],
            "border": [{"kind": "rectangles", "width": "2in", "size": "4in", "fabrics": list(NAMES)}],
        }
    )
    (border,) = sketch(design).quilt.borders
    strips = {strip.side.value: strip for step in border.steps for strip in step.strips}
    around = [
        fabric
        for side, way in (("top", 1), ("right", 1), ("bottom", -1), ("left", -1))
        for fabric, _ in strips[side].pieces[::way]
    ]
    assert around == [NAMES[index % 3] for index in range(len(around))]
    for side, axis, way in (("left", 1, -1), ("right", 1, -1), ("top", 0, 1), ("bottom", 0, 1)):
        laid = [patch for patch in border.patches if patch.side == side]
        laid.sort(key=lambda patch: way * sum(corner[axis] for corner in patch.corners))
        assert [patch.fabric for patch in laid] == [fabric for fabric, _ in strips[side].pieces]
    for patch in border.patches:
        x, y = (sum(corner[axis] for corner in patch.corners) / 4 for axis in (0, 1))
        place = {"left": x == -11, "right": x == 11, "top": y == 9, "bottom": y == -9}
        assert [side for side, there in place.items() if there] == [patch.side]


@pytest.mark.parametrize(("width", "height", "fold"), [(23, 35, False), (23, 36, True), (30, 30, True)])
def test_a_panel_is_folded_to_be_cut_when_a_side_is_larger_than_a_mat(
    width: int, height: int, fold: bool
) -> None:
    """A mat of 24 by 36 in (common practice, no source); the panel is cut 1/2 in larger."""
    panel = {"width": f"{width}in", "height": f"{height}in"}
    design = design_from_mapping({"row": [{"text": "A", "cap_height": "4in"}], "panel": panel})
    assert (sketch(design).quilt.panel.fold is not None) == fold


def test_both_sides_of_a_quilt_say_its_class() -> None:
    """60 by 100 in is 8 and 14 from a twin of 68 by 86, 6 and 28 from a lap quilt of 54 by 72 (docs/sources.md)."""
    assert quilt_class(Fraction(60), Fraction(100)).name == "twin"


def test_a_small_quilt_is_a_wall_quilt() -> None:
    """Less than two thirds of 36 by 54 in (common practice, no source)."""
    assert quilt_class(Fraction(36), Fraction(35)).name == "wall quilt"
    assert quilt_class(Fraction(36), Fraction(37)).name != "wall quilt"


@pytest.mark.parametrize("size", [(50, 40), (40, 90), (110, 30)])
def test_the_scene_is_to_one_scale(size: tuple[int, int]) -> None:
    """The quilt has its finished size, a person 66 in, a door 80, a sofa 84 by 34 (common practice, no source)."""
    scene = scale_scene((Fraction(size[0]), Fraction(size[1])))
    x0, y0, x1, y1 = scene.quilt
    assert (x1 - x0, y1 - y0) == size
    assert 0 <= x0 < x1 <= scene.width
    assert 0 < y0 < y1 <= scene.height
    bounds = {thing.kind.value: [part.bounds for part in thing.parts] for thing in scene.things}
    parts = [part for thing in scene.things for part in thing.parts]
    door, panel, window, knob, *others = parts
    assert all(door.contains(one) for one in (panel, window, knob))
    for one, other in combinations((door, *others), 2):
        assert one.intersection(other).area < 1e-6, "nothing shows through what stands before it"
    assert all(min(low for _, low, *_ in of) == pytest.approx(0, abs=1e-6) for of in bounds.values())
    tall = {name: max(top for *_, top in parts) for name, parts in bounds.items()}
    assert tall["door"] == 80
    assert tall["person"] == pytest.approx(66, abs=0.1)
    if "sofa" in bounds:
        sides = [min(p[0] for p in bounds["sofa"]), max(p[2] for p in bounds["sofa"])]
        assert (tall["sofa"], sides[1] - sides[0]) == pytest.approx((34, 84), abs=0.1)
        assert sum(sides) == pytest.approx(x0 + x1)
        assert y0 > 34
