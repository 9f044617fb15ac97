"""Pieces sewn together give the finished size exactly, and nothing is ever bought short."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.fabrics import resolve_fabrics
from applique.pattern import Pattern, draft
from applique.quilt.borders import BorderPlan, plan_borders
from applique.quilt.strips import ClothCut, Join, join_loss
from applique.units import Units

QUARTER = Fraction(1, 4)
NAMES = ("a", "b", "c", "d", "e")

eighths = st.integers(8, 48).map(lambda count: Fraction(count, 8))


@st.composite
def border(draw: st.DrawFn) -> dict[str, Any]:
    kind = draw(st.sampled_from(["strip", "squares", "rectangles"]))
    made: dict[str, Any] = {
        "kind": kind,
        "first": draw(st.sampled_from(["sides", "top and bottom"])),
        "joins": draw(st.sampled_from(["diagonal", "straight"])),
        "width": f"{draw(eighths)}in",
    }
    count = 1 if kind == "strip" else draw(st.integers(2, 5))
    made["fabrics"] = draw(st.permutations(NAMES))[:count]
    if kind == "strip":
        made["corners"] = draw(st.sampled_from(["butted", "cornerstones", "mitered"]))
        made["corner_fabric"] = draw(st.sampled_from(NAMES))
    else:
        made["size"] = f"{draw(st.sampled_from([1, 2, 3, 4, 6]))}in"
    return made


def _planned(borders: list[dict[str, Any]], panel: tuple[Fraction, Fraction]) -> tuple[BorderPlan, ...]:
    fabrics = [{"name": name, "color": "#888888", "usable_width": "42in"} for name in NAMES]
    design = design_from_mapping({"row": [{"text": "A"}], "border": borders, "fabric": fabrics})
    try:
        return plan_borders(
            design.border, panel, resolve_fabrics(design).by_name, seam_allowance=QUARTER, units=Units.INCHES
        )
    except Refusal:
        assume(False)
        raise


@settings(max_examples=150, deadline=None)
@given(st.lists(border(), min_size=1, max_size=4), st.integers(2, 14), st.integers(2, 14))
def test_cut_pieces_sewn_together_give_the_finished_size(
    borders: list[dict[str, Any]], across: int, down: int
) -> None:
    before = (Fraction(across * 12), Fraction(down * 12))
    for plan in _planned(borders, before):
        assert plan.before == before
        size = before
        for step in plan.steps:
            size = _sewn(plan, step.strips, size)
            assert step.finished == size
            assert step.cut == (size[0] + 2 * QUARTER, size[1] + 2 * QUARTER)
        assert plan.finished == size == (before[0] + 2 * plan.width, before[1] + 2 * plan.width)
        _fills_the_ring(plan)
        before = size


def _sewn(plan: BorderPlan, strips: Any, size: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
    """Sew each strip on: it must be as long as the edge it meets, and its pieces must make it up with their seams."""
    width, height = size
    for strip in strips:
        edge = height if strip.side in ("left", "right") else width
        if plan.corners.value == "mitered":
            assert strip.cut_length >= edge + 2 * plan.width
        else:
            assert strip.cut_length == edge + 2 * QUARTER
            cut = sum(length + 2 * QUARTER for _, length in strip.pieces)
            assert cut - (len(strip.pieces) - 1) * 2 * QUARTER == strip.cut_length
        assert strip.cut_width == plan.width + 2 * QUARTER
    across = sum(plan.width for strip in strips if strip.side in ("left", "right"))
    down = sum(plan.width for strip in strips if strip.side in ("top", "bottom"))
    return width + across, height + down


def _fills_the_ring(plan: BorderPlan) -> None:
    """The patches cover the ring once: their areas sum to it (shapely), none reaches beyond the finished size."""
    ring = plan.finished[0] * plan.finished[1] - plan.before[0] * plan.before[1]
    shapes = [Polygon([(float(x), float(y)) for x, y in patch.corners]) for patch in plan.patches]
    assert abs(sum(shape.area for shape in shapes) - float(ring)) < 1e-6
    assert max(abs(x) for patch in plan.patches for x, _ in patch.corners) == plan.finished[0] / 2
    assert max(abs(y) for patch in plan.patches for _, y in patch.corners) == plan.finished[1] / 2


@settings(max_examples=100, deadline=None)
@given(st.lists(border(), min_size=1, max_size=3), st.integers(2, 14), st.integers(2, 14))
def test_the_whole_cutting_list_comes_out_of_the_strips(
    borders: list[dict[str, Any]], across: int, down: int
) -> None:
    for plan in _planned(borders, (Fraction(across * 12), Fraction(down * 12))):
        wanted: dict[str, list[Fraction]] = {}
        for step in plan.steps:
            for strip in step.strips:
                pieces = strip.pieces
                if len(pieces) == 1:
                    wanted.setdefault(pieces[0][0], []).append(strip.cut_length)
                else:
                    for fabric, length in pieces:
                        wanted.setdefault(fabric, []).append(length + 2 * QUARTER)
        for fabric, lengths in wanted.items():
            cuts = [cut for cut in plan.cuts if cut.fabric == fabric]
            assert cuts
            _cut_out(cuts, sorted(lengths, reverse=True), Join(borders[plan.number - 1]["joins"]))


def _cut_out(cuts: list[ClothCut], lengths: list[Fraction], join: Join) -> None:
    """Cut `lengths` from real strips 42 in long, one after another; joined ones from one long run."""
    rooms: list[Fraction] = []
    for cut in cuts:
        if cut.run is not None:
            loss = join_loss(join, cut.strip_width, seam_allowance=QUARTER)
            rooms.append(cut.strips * 42 - (cut.strips - 1) * loss)
            assert (cut.run.join, cut.run.reach) == (join, rooms[-1])
        else:
            rooms += [Fraction(42)] * cut.strips
    for length in lengths:
        place = next((index for index, room in enumerate(rooms) if room >= length), None)
        assert place is not None, f"{length} is bought short"
        rooms[place] -= length


@settings(max_examples=60, deadline=None)
@given(border(), st.integers(2, 14), st.integers(2, 14))
def test_no_two_neighboring_squares_are_alike(one: dict[str, Any], across: int, down: int) -> None:
    assume(one["kind"] == "squares")
    (plan,) = _planned([one], (Fraction(across * 12), Fraction(down * 12)))
    sides = {
        strip.side.value: [fabric for fabric, _ in strip.pieces]
        for step in plan.steps
        for strip in step.strips
    }
    if plan.steps[0].strips[0].side.value in ("top", "bottom"):
        ring = sides["left"][::-1] + sides["top"] + sides["right"] + sides["bottom"][::-1]
    else:
        ring = sides["top"] + sides["right"] + sides["bottom"][::-1] + sides["left"][::-1]
    assert all(ring[index] != ring[index - 1] for index in range(len(ring)))


def _whole(units: str, lengths: dict[str, str], borders: list[dict[str, Any]]) -> Pattern:
    return draft(
        design_from_mapping(
            {
                "units": units,
                "row": [{"text": "HI", "cap_height": lengths["cap"]}],
                "panel": {"width": lengths["width"], "height": lengths["height"], "fabric": "a"},
                "border": borders,
                "fabric": [
                    {"name": name, "color": "#888888", "usable_width": lengths["usable"]}
                    for name in NAMES[:3]
                ],
                "backing": {"overage": lengths["over"]},
            }
        )
    )


def test_metric_and_inch_files_of_the_same_quilt_agree() -> None:
    inch = {"cap": "5in", "width": "30in", "height": "40in", "usable": "42in", "over": "4in"}
    metric = {"cap": "127mm", "width": "76.2cm", "height": "1016mm", "usable": "1066.8mm", "over": "10.16cm"}
    pair = []
    for units, lengths, width, size in (("in", inch, "2in", "2in"), ("cm", metric, "50.8mm", "5.08cm")):
        borders = [
            {"kind": "strip", "width": width, "fabrics": ["b"]},
            {"kind": "squares", "size": size, "fabrics": ["a", "c"]},
        ]
        pair.append(_whole(units, lengths, borders))
    first, second = pair
    assert first.quilt.finished == second.quilt.finished
    assert [b.finished for b in first.quilt.borders] == [b.finished for b in second.quilt.borders]
    assert [buy.used for buy in first.shopping.cloth] == [buy.used for buy in second.shopping.cloth]
    assert first.quilt.backing.length == second.quilt.backing.length
    assert first.quilt.binding.cut.strips == second.quilt.binding.cut.strips


@settings(max_examples=25, deadline=None)
@given(st.lists(border(), max_size=2), st.integers(0, 10), st.sampled_from(["in", "cm"]))
def test_what_is_bought_covers_every_use(borders: list[dict[str, Any]], shrinkage: int, units: str) -> None:
    names = [{"name": name, "color": "#888888", "usable_width": "42in"} for name in NAMES]
    data: dict[str, Any] = {
        "units": units,
        "row": [{"text": "HI", "cap_height": "5in"}],
        "panel": {"width": "36in", "height": "48in", "fabric": "a"},
        "fabric": names,
        "border": borders,
        "cloth": {"shrinkage_percent": shrinkage, "cutting_allowance": "1in"},
    }
    try:
        pattern = draft(design_from_mapping(data))
    except Refusal:
        return
    step = Fraction(9, 2) if units == "in" else Fraction(500, 127)
    for buy in pattern.shopping.cloth:
        wanted = sum(use.length for use in buy.uses) * (100 + shrinkage) / 100 + 1
        assert wanted <= buy.buy < wanted + step
        assert buy.used == sum(use.length for use in buy.uses)
