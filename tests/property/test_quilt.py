"""Pieces sewn together give the finished size exactly, and nothing is ever bought short."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from applique.cloth import ClothUse, FabricPlan, UseKind, plan_cloth
from applique.cutting import Lie
from applique.design import BorderKind, design_from_mapping
from applique.errors import Refusal
from applique.fabrics import resolve_fabrics
from applique.pattern import Pattern, draft, sketch
from applique.quilt.borders import BorderPlan, plan_borders
from applique.quilt.finishing import BackingPlan, SleevePlan
from applique.quilt.panel_cut import PanelCut
from applique.quilt.strips import ClothCut, CutKind, Join
from applique.quilt.whole import QuiltPlan
from applique.shopping import FabricBuy
from applique.units import Units
from tests.cutter import (
    SIXTEENTH,
    CutPiece,
    Patch,
    Strip,
    cut,
    cut_lengths,
    join,
    sew_lengths,
    square,
    trim,
    wash,
)

QUARTER = Fraction(1, 4)
NAMES = ("a", "b", "c", "d", "e")

eighths = st.integers(8, 48).map(lambda count: Fraction(count, 8))

ROOM = Fraction(1, 4)
"""Around letters lie 1/4 in or 0.5 cm on each side, up to the next 1/8 in or 1 mm: so much they differ at the most."""


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


@pytest.mark.long
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


@pytest.mark.long
@settings(max_examples=25, deadline=None)
@given(
    st.lists(border(), min_size=1, max_size=3),
    st.integers(2, 10),
    st.integers(2, 10),
    st.sampled_from(["any", "upright"]),
    st.sampled_from([{}, {"washed": True}, {"shrinkage_percent": 8, "squaring": "0in"}]),
)
def test_everything_that_is_sewn_comes_out_of_what_is_bought(
    borders: list[dict[str, Any]], across: int, down: int, turns: str, yardage: dict[str, Any]
) -> None:
    """A maker who knows the plans alone washes, squares and cuts every fabric; then she joins, and sews to size."""
    data: dict[str, Any] = {
        "row": [{"text": "I", "cap_height": "3in"}],
        "panel": {"width": f"{across * 12}in", "height": f"{down * 12}in", "fabric": "panel"},
        "fabric": [
            {"name": name, "color": "#888888", "usable_width": "42in", "turns": turns}
            for name in (*NAMES, "panel", "back")
        ],
        "binding": {"fabric": "a"},
        "backing": {"fabric": "back"},
        "hanging": {"sleeve": True},
        "border": borders,
        "yardage": yardage,
    }
    try:
        drawn = sketch(design_from_mapping(data))
        cloth = plan_cloth(drawn.design, drawn.quilt, ())
    except Refusal:
        assume(False)
        raise
    quilt, sewn = drawn.quilt, _sewn_pieces(drawn.quilt)
    for plan in cloth.fabrics:
        pieces = _cut_out(plan)
        for use in plan.uses:
            found = [piece for piece in pieces if piece.key in use.keys]
            match use.cut:
                case ClothCut(kind=CutKind.BINDING_STRIPS):
                    (binding,) = _joined(use, found)
                    assert (
                        binding.length >= 2 * sum(quilt.finished) + 10
                    )  # 10 in: a guild's page, docs/sources.md
                case ClothCut():
                    assert use.border is not None
                    _cuts(use, found, sewn.pop((use.border, use.cut.fabric, use.cut.kind)), turns)
                case PanelCut() as panel:
                    upright = panel.seam is None or panel.seam.upright
                    _sew(found, (panel.width, panel.height), upright=upright)
                case BackingPlan() as backing:
                    assert use.way is not None
                    _sew(found, (backing.width, backing.height), upright=use.way.upright)
                case SleevePlan():
                    (sleeve,) = _joined(use, found)
                    cut_lengths(sleeve, [quilt.finished[0] - 1])
                    assert sleeve.width == Fraction(17, 2)
            pieces = [piece for piece in pieces if piece.key not in use.keys]
        assert not pieces, "cut for nothing"
    assert not sewn


Sewn = dict[tuple[int, str, CutKind], Counter[tuple[Fraction, Fraction, bool]]]
"""By border, fabric and kind: how often a length and a width is sewn in, and whether it stands up."""


def _sewn_pieces(quilt: QuiltPlan) -> Sewn:
    """The pieces of every side of every border, out of the order of sewing."""
    sewn: Sewn = {}
    for plan in quilt.borders:
        own = {
            BorderKind.STRIP: CutKind.BORDER_STRIPS,
            BorderKind.SQUARES: CutKind.SQUARES,
            BorderKind.RECTANGLES: CutKind.RECTANGLES,
        }[plan.kind]
        for strip in (strip for step in plan.steps for strip in step.strips):
            upright = strip.side.value in ("left", "right")
            for place, (fabric, finished) in enumerate(strip.pieces):
                long = strip.cut_length if len(strip.pieces) == 1 else finished + 2 * QUARTER
                stone = plan.kind is BorderKind.STRIP and len(strip.pieces) > 1 and place != 1
                kind = CutKind.CORNERSTONES if stone else own
                counted = sewn.setdefault((plan.number, fabric, kind), Counter())
                counted[long, strip.cut_width, upright] += 1
    return sewn


def _cut_out(plan: FabricPlan) -> list[CutPiece]:
    """Every piece that comes out of the length that is bought, once it is washed and squared up."""
    extra = plan.rule.extra
    washed = wash(
        plan.fabric.name,
        plan.rule.buy,
        usable=plan.fabric.usable_width,
        sold=None,
        shrinkage=Fraction(extra.shrinkage_percent, 100),
    )
    (told,) = plan.plan.cloths
    in_hand = square(washed, extra.squaring)
    if in_hand.length > told.root.length:
        in_hand, _ = in_hand.halves(Lie.ACROSS, told.root.length)
    return [piece for piece in cut(in_hand, told.root) if isinstance(piece, CutPiece)]


def _joined(use: ClothUse, found: Sequence[CutPiece]) -> list[Strip]:
    """Strips as they are after joining: what is said to be joined as one, all others as they are cut."""
    runs = {run.key: run for run in use.joined}
    made = [Strip(length=p.length, width=p.width) for p in found if p.key not in runs]
    for key, run in runs.items():
        strips = [Strip(length=p.length, width=p.width) for p in found if p.key == key]
        long = join(strips, strips[0].width if run.join is Join.DIAGONAL else 2 * QUARTER)
        assert (run.strips, run.reach) == (len(strips), long.length)
        made.append(long)
    return made


def _cuts(
    use: ClothUse, found: Sequence[CutPiece], wanted: Counter[tuple[Fraction, Fraction, bool]], turns: str
) -> None:
    """Each piece that is sewn in is cut off what was joined, in the direction of the print where it has one."""
    square_ones = all(length == width for length, width, _ in wanted)
    for lie in (Lie.ALONG, Lie.ACROSS) if turns == "upright" and not square_ones else (None,):
        strips = _joined(use, found) if lie is None else _joined_lying(use, found, lie)
        lengths = [
            (length, width)
            for (length, width, upright), count in wanted.items()
            for _ in range(count)
            if lie is None or upright is (lie is Lie.ALONG)
        ]
        for length, width in sorted(lengths, reverse=True):
            strip = next((strip for strip in strips if strip.length >= length and strip.width == width), None)
            assert strip is not None, f"{length} by {width} in is bought short"
            strips.remove(strip)
            _, left = cut_lengths(strip, [length])
            strips += [Strip(length=left, width=width)] if left else []


def _joined_lying(use: ClothUse, found: Sequence[CutPiece], lie: Lie) -> list[Strip]:
    """Of strips that keep the direction of a print, those that lie as `lie` says."""
    keys = {piece.key for piece in found if piece.lie is lie}
    part = replace(use, joined=tuple(run for run in use.joined if run.key in keys))
    return _joined(part, [piece for piece in found if piece.lie is lie])


def _sew(found: Sequence[CutPiece], size: tuple[Fraction, Fraction], *, upright: bool) -> None:
    """Lengths sewn side by side, trimmed to a width and a height."""
    sewn = sew_lengths(
        [Patch(width=p.width, height=p.length) for p in found], seam=QUARTER, slack=Fraction(0)
    )
    trim(sewn, *(size if upright else size[::-1]))


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
                "panel": {
                    "width": lengths["width"],
                    "height": lengths["height"],
                    "fabric": "a",
                    "seam_allowance": lengths["seam"],
                    "trim_after": lengths["trim"],
                },
                "border": borders,
                "fabric": [
                    {"name": name, "color": "#888888", "usable_width": lengths["usable"]}
                    for name in NAMES[:3]
                ],
                "backing": {"overage": lengths["over"]},
                "binding": {"width": lengths["binding"]},
            }
        )
    )


def test_metric_and_inch_files_of_the_same_quilt_agree() -> None:
    """Panel, strips, squares and binding are cut 40, 10 and 5 in, which both rulers have; letters and back are not."""
    inch = {
        "cap": "5in",
        "width": "39.5in",
        "height": "39.5in",
        "usable": "45in",
        "over": "4in",
        "seam": "1/4in",
        "trim": "0in",
        "binding": "5in",
    }
    metric = {
        "cap": "127mm",
        "width": "100.33cm",
        "height": "1003.3mm",
        "usable": "1143mm",
        "over": "10.16cm",
        "seam": "6.35mm",
        "trim": "0mm",
        "binding": "12.7cm",
    }
    pair = []
    for units, lengths, width, size in (("in", inch, "9.5in", "4.5in"), ("cm", metric, "241.3mm", "11.43cm")):
        borders = [
            {"kind": "strip", "width": width, "fabrics": ["b"]},
            {"kind": "squares", "size": size, "fabrics": ["a", "c"]},
        ]
        pair.append(_whole(units, lengths, borders))
    first, second = pair
    assert first.quilt.finished == second.quilt.finished == (Fraction(135, 2), Fraction(135, 2))
    assert [b.finished for b in first.quilt.borders] == [b.finished for b in second.quilt.borders]
    assert [buy.fabric for buy in first.shopping.cloth] == [buy.fabric for buy in second.shopping.cloth]
    for one, other in zip(first.shopping.cloth, second.shopping.cloth, strict=True):
        (names, sizes), (same_names, same_sizes) = _what_is_cut(one), _what_is_cut(other)
        assert names == same_names
        for (kind, *_), inch_size, metric_size in zip(names, sizes, same_sizes, strict=True):
            assert abs(inch_size - metric_size) <= (ROOM if kind is UseKind.LETTERS else SIXTEENTH)
        assert abs(one.used - other.used) <= ROOM


def _what_is_cut(buy: FabricBuy) -> tuple[list[tuple[UseKind, str, int, Lie]], list[Fraction]]:
    """Strips by their number and direction, and their widths; how long the last of them is hangs on the ruler."""
    cut = [(use.kind, strips) for use in buy.uses for strips in use.strips]
    return [(kind, one.key, one.count, one.lie) for kind, one in cut], [one.width for _, one in cut]


@pytest.mark.long
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
        "yardage": {"shrinkage_percent": shrinkage, "squaring": "3/4in"},
    }
    try:
        pattern = draft(design_from_mapping(data))
    except Refusal:
        return
    step = Fraction(9, 2) if units == "in" else Fraction(500, 127)
    for buy in pattern.shopping.cloth:
        left = buy.buy * (100 - shrinkage) / 100 - 2 * Fraction(3, 4)
        spare = Fraction(1, 2) if units == "in" else Fraction(75, 127)
        assert left >= buy.used + spare > left - step * (100 - shrinkage) / 100
        area = sum(s.count * s.length * s.width for use in buy.uses for s in use.strips)
        assert area <= buy.used * 42
        assert {use.kind for use in buy.uses if not use.strips} == set()
