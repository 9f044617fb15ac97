"""Borders of rectangles: which pieces touch, what is shorter and where, and which sizes come out even."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from shapely.strtree import STRtree

from applique.design import Design, design_from_mapping
from applique.fabrics import resolve_fabrics
from applique.language import american
from applique.pattern import Sketch, draft, sketch
from applique.quilt.borders import BorderPlan, Corner, OddPiece, Side, plan_borders
from applique.reports import pattern_json
from applique.units import Units
from applique.words.instructions.borders import rows_said
from applique.words.quilt import quilt_notices

SEAM = Fraction(1, 4)
HALF = Fraction(1, 2)
NAMES = ("Ink", "Rust", "Moss", "Fog", "Rose")


def planned(
    across: Fraction,
    down: Fraction,
    *,
    width: Fraction,
    size: Fraction,
    fabrics: tuple[str, ...],
    first: str = "sides",
    units: Units = Units.INCHES,
) -> BorderPlan:
    """One border of rectangles around a panel, in inches."""
    made = {
        "kind": "rectangles",
        "width": f"{width}in",
        "size": f"{size}in",
        "fabrics": fabrics,
        "first": first,
    }
    named = [{"name": name, "color": "#888888", "usable_width": "42in"} for name in NAMES]
    design = design_from_mapping({"row": [{"text": "A"}], "border": [made], "fabric": named})
    (plan,) = plan_borders(
        design.border,
        (across, down),
        resolve_fabrics(design).by_name,
        seam_allowance=SEAM,
        units=units,
    )
    return plan


def touching(plan: BorderPlan) -> list[tuple[int, int]]:
    """The pairs of patches that share a seam, by their outlines alone (shapely): more than a point in common."""
    shapes = [Polygon([(float(x), float(y)) for x, y in patch.corners]) for patch in plan.patches]
    tree = STRtree(shapes)
    return [
        (one, int(other))
        for one, shape in enumerate(shapes)
        for other in tree.query(shape)
        if one < other and shape.intersection(shapes[other]).length > 1e-9
    ]


def alike(plan: BorderPlan) -> list[tuple[int, int]]:
    """The pairs of patches of one fabric that share a seam."""
    return [pair for pair in touching(plan) if len({plan.patches[one].fabric for one in pair}) == 1]


def can_differ(count: int, seams: list[tuple[int, int]], colors: int) -> bool:
    """Whether any way of coloring `count` pieces leaves no seam between two alike: every way is tried, piece by
    piece, and given up as soon as it fails."""
    neighbors = [[one for one, two in seams if two == place] for place in range(count)]

    def further(so_far: list[int]) -> bool:
        place = len(so_far)
        if place == count:
            return True
        taken = {so_far[one] for one in neighbors[place]}
        return any(further([*so_far, color]) for color in range(colors) if color not in taken)

    return further([])


eighths = st.integers(4, 24).map(lambda count: Fraction(count, 8))
panels = st.integers(16, 160).map(lambda count: Fraction(count, 8))
some = (
    st.lists(st.sampled_from(NAMES), min_size=2, max_size=5)
    .map(tuple)
    .filter(lambda names: len(set(names)) > 1)
)


@pytest.mark.long
@settings(max_examples=250, deadline=None)
@given(panels, panels, eighths, eighths, some, st.sampled_from(["sides", "top and bottom"]))
@example(Fraction(20), Fraction(16), Fraction(2), Fraction(4), NAMES[:3], "sides")
@example(Fraction(9), Fraction(7), Fraction(3), Fraction(1), NAMES[:3], "sides")
@example(Fraction(2), Fraction(2), Fraction(3), Fraction(1), NAMES[:3], "top and bottom")
@example(Fraction(12), Fraction(9), Fraction(1), Fraction(3), ("Ink", "Ink", "Rust", "Moss"), "sides")
@example(Fraction(2), Fraction(9), Fraction(3), Fraction(3), NAMES[:4], "sides")
@example(Fraction(9), Fraction(2), Fraction(3), Fraction(1), ("Ink", "Ink", "Rust", "Moss", "Rust"), "sides")
@example(Fraction(1), Fraction(9), Fraction(2), Fraction(4), NAMES[:2], "sides")
@example(Fraction(1), Fraction(9), Fraction(2), Fraction(4), NAMES[:3], "sides")
def test_two_alike_lie_side_by_side_only_where_no_way_of_laying_them_avoids_it(
    across: Fraction, down: Fraction, width: Fraction, size: Fraction, fabrics: tuple[str, ...], first: str
) -> None:
    plan = planned(across, down, width=width, size=size, fabrics=fabrics, first=first)
    found = alike(plan)
    assert bool(found) == bool(plan.alike)
    if found:
        assert not can_differ(len(plan.patches), touching(plan), len(set(fabrics)))
        assert {corner_of(plan, pair) for pair in found} == set(plan.alike)
    assert {patch.fabric for patch in plan.patches} <= set(fabrics)


def corner_of(plan: BorderPlan, pair: tuple[int, int]) -> Corner | None:
    """The corner where two pieces of neighboring sides touch."""
    sides = {plan.patches[one].side for one in pair}
    upright = [side for side in sides if side.upright]
    lying = [side for side in sides if not side.upright]
    return Corner(f"{lying[0]} {upright[0]}") if upright and lying else None


@settings(max_examples=250, deadline=None)
@given(
    panels,
    panels,
    eighths,
    st.integers(4, 48).map(lambda count: Fraction(count, 8)),
    st.sampled_from(["sides", "top and bottom"]),
)
@example(Fraction(20), Fraction(18), Fraction(2), Fraction(49, 8), "sides")
def test_pieces_give_their_side_and_none_is_a_sliver(
    across: Fraction, down: Fraction, width: Fraction, size: Fraction, first: str
) -> None:
    plan = planned(across, down, width=width, size=size, fabrics=NAMES[:2], first=first)
    strips = {strip.side: strip for step in plan.steps for strip in step.strips}
    odd = []
    for side, strip in strips.items():
        pieces = [length for _, length in strip.pieces]
        crossing = side.upright == (first != "sides")
        run = (down if side.upright else across) + (2 * width if crossing else 0)
        assert sum(pieces) == run
        assert min(pieces) >= min(HALF, run)
        assert max(pieces) < size + HALF
        assert sum(piece < size for piece in pieces) <= 1
        odd += [(side, place, len(pieces), piece) for place, piece in enumerate(pieces, 1) if piece != size]
    told = plan.uneven.pieces if plan.uneven else ()
    assert sorted((one.side, one.place, one.count, one.length) for one in told) == sorted(odd)
    cut = sorted(piece + 2 * SEAM for strip in strips.values() for _, piece in strip.pieces)
    assert cut == sorted(
        pieces.length for one in plan.cuts for pieces in one.pieces for _ in range(pieces.count)
    )
    offers = plan.uneven.offers if plan.uneven else ()
    changes = [abs(offer.width - width) / width + abs(offer.length - size) / size for offer in offers]
    assert changes == sorted(changes)
    for offer in offers:
        assert ((offer.length * 8).denominator, ((offer.width - width) * 8).denominator) == (1, 1)
        other = planned(across, down, width=offer.width, size=offer.length, fabrics=NAMES[:2], first=first)
        counts = {strip.side: len(strip.pieces) for step in other.steps for strip in step.strips}
        assert other.uneven is None
        assert (counts[Side.TOP], counts[Side.LEFT]) == (offer.across, offer.down)


def clockwise(plan: BorderPlan) -> list[str]:
    """The fabrics around the border, from the top left corner."""
    sides = {strip.side: [name for name, _ in strip.pieces] for step in plan.steps for strip in step.strips}
    return [
        *sides[Side.TOP],
        *sides[Side.RIGHT],
        *reversed(sides[Side.BOTTOM]),
        *reversed(sides[Side.LEFT]),
    ]


def around(*fabrics: str) -> list[str]:
    """9 and 5 pieces to a side, 28 around."""
    plan = planned(Fraction(32), Fraction(20), width=Fraction(2), size=Fraction(4), fabrics=fabrics)
    assert not alike(plan)
    return clockwise(plan)


def test_the_makers_order_is_kept_clockwise_where_it_works() -> None:
    """28 is four times seven, but one more than nine times three and three more than five times five."""
    four = NAMES[:4]
    assert around(*four) == [four[index % 4] for index in range(28)]
    assert around(*NAMES[:3])[:23] == [NAMES[index % 3] for index in range(23)]
    five = ("Ink", "Rust", "Ink", "Moss", "Fog")
    assert around(*five) == [five[(index + 1) % 5] for index in range(28)]


def test_a_fabric_that_is_in_the_list_twice_is_in_the_border_twice_as_often() -> None:
    assert around("Ink", "Ink", "Rust", "Moss").count("Ink") == 14


def test_narrow_pieces_change_only_near_the_corners() -> None:
    """On 15 pieces along the top, 3 at each end lie along one corner piece; the others stay as the maker has them."""
    plan = planned(Fraction(9), Fraction(7), width=Fraction(3), size=Fraction(1), fabrics=NAMES[:3])
    assert not alike(plan)
    assert clockwise(plan)[4:11] == [NAMES[index % 3] for index in range(4, 11)]


@pytest.mark.parametrize(
    ("count", "fabrics", "corners"),
    [(2, ("Ink", "Rust"), set(Corner)), (3, ("Ink", "Rust", "Moss"), set())],
)
def test_narrow_pieces_of_two_fabrics_meet_their_like_at_the_corners(
    count: int, fabrics: tuple[str, ...], corners: set[Corner]
) -> None:
    """A corner piece 3 in wide lies along three pieces of 1 in: two of them are alike, and two fabrics are too few."""
    plan = planned(Fraction(9), Fraction(7), width=Fraction(3), size=Fraction(1), fabrics=fabrics)
    assert len(set(fabrics)) == count
    assert set(plan.alike) == corners


@pytest.mark.parametrize(
    ("size", "lengths"),
    [
        ("4", ["4", "4", "4", "2"]),
        ("15/4", ["15/4", "15/4", "15/4", "11/4"]),
        ("13/4", ["13/4", "13/4", "13/4", "13/4", "1"]),
        ("55/16", ["57/16", "55/16", "55/16", "57/16"]),
        ("73/16", ["75/16", "73/16", "76/16"]),
        ("27/2", ["27/2", "1/2"]),
        ("55/4", ["14"]),
        ("15", ["14"]),
        ("28/8", ["7/2"] * 4),
    ],
)
def test_what_is_left_of_a_side_is_one_piece_or_shared_by_its_ends(size: str, lengths: list[str]) -> None:
    """14 in, 1/2 in and more left: a piece; less: to the two ends, in sixteenths."""
    plan = planned(
        Fraction(20), Fraction(14), width=Fraction(2), size=Fraction(size), fabrics=NAMES[:2], first="sides"
    )
    (left,) = (strip for step in plan.steps for strip in step.strips if strip.side is Side.LEFT)
    assert [length for _, length in left.pieces] == [Fraction(length) for length in lengths]


def test_a_piece_narrower_than_the_border_lies_in_the_middle_of_a_side_that_crosses_the_corners() -> None:
    """25 = 6 × 4 + 1: at the end, 1 in and its neighbor would both lie along the corner piece below, 2 in wide."""
    plan = planned(Fraction(21), Fraction(13), width=Fraction(2), size=Fraction(4), fabrics=NAMES[:2])
    assert plan.uneven is not None
    assert plan.uneven.pieces == (
        OddPiece(side=Side.LEFT, place=4, count=4, length=Fraction(1), cut_length=Fraction(3, 2)),
        OddPiece(side=Side.RIGHT, place=4, count=4, length=Fraction(1), cut_length=Fraction(3, 2)),
        OddPiece(side=Side.TOP, place=4, count=7, length=Fraction(1), cut_length=Fraction(3, 2)),
        OddPiece(side=Side.BOTTOM, place=4, count=7, length=Fraction(1), cut_length=Fraction(3, 2)),
    )
    assert plan.alike == ()


def designed(**border: Any) -> Design:
    """A small quilt with one border."""
    return design_from_mapping(
        {
            "row": [{"text": "I", "cap_height": "4in"}],
            "lettering": {"font": "Fredoka"},
            "panel": {"width": "21in", "height": "13in"},
            "fabric": [{"name": name, "color": "#888888"} for name in NAMES],
            "border": [{"kind": "rectangles", "fabrics": list(NAMES[:2]), **border}],
        }
    )


def drawn(**border: Any) -> Sketch:
    """The same, worked out."""
    return sketch(designed(**border))


def test_the_short_piece_is_named_in_the_step_and_in_the_notice_with_what_would_come_out_even() -> None:
    pattern = drawn(width="2in", size="4in")
    (border,) = pattern.quilt.borders
    (notice,) = quilt_notices(pattern.quilt, Units.INCHES)
    assert notice.kind == "rectangles-uneven"
    assert "the last piece, at the bottom of the left and right sides (1 in)" in str(notice.what)
    assert "piece 4 from the left of the top and bottom (1 in)" in str(notice.what)
    assert border.uneven is not None
    offer = border.uneven.offers[0]
    assert f"({offer.across} across and {offer.down} down)" in str(notice.fix)
    said = [
        [
            american().tell(one)
            for one in rows_said(
                border,
                step,
                {name: name for name in NAMES},
                {strip.side: [fabric for fabric, _ in strip.pieces] for strip in step.strips},
                Units.INCHES,
            )
        ]
        for step in border.steps
    ]
    assert (
        "Shorter than the others: the last piece, at the bottom of the left and right sides "
        "(1 in finished, cut 1 1/2 in)."
    ) in said[0]
    assert not any("the last piece, at the bottom" in one for one in said[1])


def test_where_like_meets_like_is_said() -> None:
    (notice,) = quilt_notices(drawn(width="3in", size="1in").quilt, Units.INCHES)
    assert notice.kind == "rectangles-alike-together"
    assert "at the top left, top right, bottom right, and bottom left corners" in str(notice.what)
    (notice,) = quilt_notices(drawn(width="3in", size="1in", fabrics=["Ink"]).quilt, Units.INCHES)
    assert notice.kind == "rectangles-of-one-fabric"
    assert not quilt_notices(drawn(width="3in", size="1in", fabrics=list(NAMES[:3])).quilt, Units.INCHES)


def test_a_program_reads_what_is_odd_and_what_would_come_out_even() -> None:
    pattern = draft(designed(width="2in", size="4in"))
    (border,) = json.loads(pattern_json(pattern))["quilt"]["borders"]
    uneven = pattern.quilt.borders[0].uneven
    assert uneven is not None
    assert [
        (one["side"], one["place"], one["count"], one["length"]["inches"])
        for one in border["uneven"]["pieces"]
    ] == [(one.side, one.place, one.count, float(one.length)) for one in uneven.pieces]
    assert [(one["kind"], one["across"], one["down"]) for one in border["uneven"]["offers"]] == [
        ("rectangles", one.across, one.down) for one in uneven.offers
    ]
    assert border["alike"] == []


@pytest.mark.parametrize("kind", ["rectangles", "squares"])
def test_corners_of_a_plain_strip_mean_nothing_to_pieces(kind: str) -> None:
    """A maker who made a mitered strip into pieces got pieces that lay over one another."""
    plain, mitered = (
        drawn(kind=kind, width="1in", size="1in", fabrics=list(NAMES[:3]), corners=corners).quilt.borders
        for corners in ("butted", "mitered")
    )
    assert plain == mitered
