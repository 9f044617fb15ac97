"""A pillow: its back, what fills it, what is bought and sewn for it; recomputed by hand."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest

from applique.cloth import UseKind
from applique.design import Pillow, PillowBack, design_from_mapping
from applique.drawings import Shape
from applique.drawings.vocabulary import RIGHT_SIDE
from applique.errors import Refusal
from applique.instructions import Edition, instructions_of
from applique.instructions.values import ChapterKind, Step
from applique.pattern import Pattern, draft, sketch
from applique.picture import Part
from applique.quilt.pillow import plan_pillow
from applique.quilt.sizes import SEAT, QuiltSize
from applique.reports import summary_md
from applique.sewing.threads import ThreadUse
from applique.shopping import Notion, ShelfKind
from applique.units import Units
from tests.chapters import chapter_of, said_in, steps_of

PILLOW: dict[str, Any] = {
    "finish": "pillow",
    "panel": {"width": "14in", "height": "14in"},
    "lettering": {"font": "Fredoka", "fabric": "Ink"},
    "row": [{"text": "hush"}],
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
    "fabric": [{"name": "Ink", "color": "#23466b"}],
    "hanging": {"sleeve": True},
    "quilting": [{"kind": "echo"}],
}


@pytest.fixture(scope="module")
def overlapping() -> Pattern:
    return draft(design_from_mapping(PILLOW))


@pytest.fixture(scope="module")
def zipped() -> Pattern:
    return draft(design_from_mapping({**PILLOW, "pillow": {"back": "zipper"}}))


def _halves(pattern: Pattern) -> list[tuple[Fraction, Fraction, int]]:
    use = pattern.shopping.use(UseKind.PILLOW)
    assert use is not None
    return [(*sorted((one.length, one.width)), one.count) for one in use.strips]  # type: ignore[misc]


def test_two_halves_overlap_in_the_middle(overlapping: Pattern) -> None:
    """By hand: the front is 14 + 4 + 1/2 = 18 1/2 in; half of it and half of 4 in is 11 1/4 in, and a hem of 1/2 in
    turned under twice makes 12 1/4 in."""
    assert _halves(overlapping) == [(Fraction(49, 4), Fraction(37, 2), 2)]
    plan = overlapping.quilt.pillow
    assert plan is not None and plan.zipper is None
    assert 2 * plan.hemmed - plan.overlap == Fraction(37, 2)
    told = said_in(chapter_of(overlapping, ChapterKind.FINISHING))
    assert ", 12 1/4 in by 18 1/2 in. On one long edge of each, the one of 18 1/2 in," in told
    assert "turn 1/2 in to the wrong side" in told
    assert "Each half is now 11 1/4 in by 18 1/2 in." in told
    assert "one at its top and one at its bottom" in told and "over each other by 4 in" in told
    assert "zipper" not in told.lower()


def test_a_zipper_lies_in_a_seam_between_two_halves(zipped: Pattern) -> None:
    """By hand: half of 18 1/2 in and a seam of 1 in are 10 1/4 in; 18 in less 2 in are a zipper of 16 in, and 18 1/2 in
    less 16 in leave 1 1/4 in to be sewn shut at either end."""
    assert _halves(zipped) == [(Fraction(41, 4), Fraction(37, 2), 2)]
    told = said_in(chapter_of(zipped, ChapterKind.FINISHING))
    assert "the 16 in zipper" in told and "1 1/4 in at either end" in told and "sew 1 in from them" in told
    assert told.index("Open the zipper") < told.index("Sew all around") < told.index("Turn the cover")
    shelves = {shelf.kind: shelf.items for shelf in zipped.shopping.shelves}
    assert [item.length for item in shelves[ShelfKind.ZIPPER]] == [16]  # type: ignore[union-attr]
    assert "Zipper: 16 in" in summary_md(zipped).decode()


def test_nothing_of_a_quilt_is_bought_or_sewn(overlapping: Pattern) -> None:
    """A backing and a crib batting were bought for a pillow."""
    uses = {use.kind for buy in overlapping.shopping.cloth for use in buy.uses}
    assert uses == {UseKind.PANEL, UseKind.BORDER, UseKind.PILLOW, UseKind.LETTERS}
    shelves = {shelf.kind: shelf.items for shelf in overlapping.shopping.shelves}
    assert ShelfKind.BATTING not in shelves and ShelfKind.ZIPPER not in shelves
    assert not {Notion.BASTING, Notion.LABEL} & set(shelves[ShelfKind.NOTIONS])
    assert overlapping.quilting == () and overlapping.quilt.sleeve is None
    kinds = {one.kind for one in instructions_of(overlapping).chapters}
    assert not {ChapterKind.LAYERING, ChapterKind.QUILTING} & kinds
    summary = summary_md(overlapping).decode()
    assert "Not reckoned: batting, quilting, and label." in summary
    assert "The finished pillow is 18 in (45.7 cm) wide and 18 in (45.7 cm) high." in summary
    assert "Filling: pillow insert, 18 in by 18 in" in summary
    for edition in Edition:
        words = " ".join(
            said_in(one) for one in instructions_of(overlapping, edition=edition).chapters
        ).lower()
        allowed = words.replace("quilting cotton", "").replace("batting, quilting, and label", "")
        allowed = allowed.replace("loose quilt or a pillow", "")
        assert "quilt" not in allowed
        assert "binding" not in allowed and "backing" not in allowed


def test_thread_for_the_seams_of_a_pillow(overlapping: Pattern) -> None:
    """By hand: two strips of 14 1/2 in and two of 18 1/2 in are sewn on; around 18 in by 18 in there are 72 in of seam,
    overcast for twice that; two hems of 18 1/2 in; 2.5 times all of it, and the waste. What joins strips is what the
    plan of their fabric says."""
    joins = sum(
        (run.strips - 1) * 2.5 * math.sqrt(2)
        for buy in overlapping.shopping.cloth
        for use in buy.uses
        if use.kind is UseKind.BORDER
        for run in use.joined
    )
    inches = 2 * 14.5 + 2 * 18.5 + joins + 3 * 72 + 2 * 18.5
    waste = 1 + overlapping.design.stitching.waste_percent / 100
    (piecing,) = (need for need in overlapping.threads if ThreadUse.PIECING in need.uses)
    assert piecing.length == 36 * math.ceil(inches * 2.5 * waste / 36)


@pytest.mark.parametrize(
    ("finished", "units", "insert"),
    [
        ((18, 18), Units.INCHES, (18, 18)),
        ((17, 17), Units.INCHES, (18, 18)),  # an inch larger fills it better
        ((20, 12), Units.INCHES, (20, 12)),
        ((12, 20), Units.INCHES, (12, 20)),
        ((27, 9), Units.INCHES, None),
    ],
)
def test_an_insert_fills_the_cover_and_is_not_much_larger(
    finished: tuple[int, int], units: Units, insert: tuple[int, int] | None
) -> None:
    size = (Fraction(finished[0]), Fraction(finished[1]))
    front = (size[0] + Fraction(1, 2), size[1] + Fraction(1, 2))
    found = plan_pillow(Pillow(), size, front, units).insert
    assert found.sold is (insert is not None)
    assert [int(found.width), int(found.height)] == list(insert or finished)


def test_centimeters_have_their_own_inserts_and_zippers() -> None:
    """40 cm is a common size of inserts (from memory), and 16 in is none of theirs."""
    unit = Fraction(100, 254)
    size = (40 * unit, 40 * unit)
    front = (size[0] + Fraction(150, 254), size[1] + Fraction(150, 254))
    plan = plan_pillow(Pillow(back=PillowBack.ZIPPER), size, front, Units.CENTIMETERS)
    assert plan.insert.width / unit == 40 and plan.zipper == 35 * unit
    lapped = plan_pillow(Pillow(), size, front, Units.CENTIMETERS)
    # (41.5 + 10) / 2 + 2 cm, up to the next millimeter that can be measured.
    assert float(lapped.deep / unit) == pytest.approx(27.75, abs=0.051) and lapped.overlap >= 10 * unit


def test_the_opening_runs_across_the_longer_side() -> None:
    wide = {**PILLOW, "border": [], "panel": {"width": "20in", "height": "12in"}}
    pattern = draft(design_from_mapping(wide))
    assert pattern.quilt.pillow is not None and pattern.quilt.pillow.upright
    # (20 1/2 + 4) / 2 + 1 in.
    assert _halves(pattern) == [(Fraction(25, 2), Fraction(53, 4), 2)]
    assert "one at its left and one at its right" in said_in(chapter_of(pattern, ChapterKind.FINISHING))


def test_wide_backing_is_no_back_of_a_pillow(overlapping: Pattern) -> None:
    """What is set for a quilt is kept and has no effect."""
    wide = sketch(design_from_mapping({**PILLOW, "backing": {"kind": "wide"}}))
    assert wide.quilt.fabrics.backing == overlapping.quilt.fabrics.backing
    assert wide.quilt.fabrics.backing.name == "Back"


def test_a_one_way_print_stands_upright_on_the_back() -> None:
    fabric = [*PILLOW["fabric"], {"name": "Birds", "color": "#88aacc", "turns": "upright"}]
    wide = {**PILLOW, "border": [], "panel": {"width": "20in", "height": "12in"}}
    for data, along in ((PILLOW, Fraction(49, 4)), (wide, Fraction(25, 2))):
        pattern = draft(design_from_mapping({**data, "fabric": fabric, "backing": {"fabric": "Birds"}}))
        use = pattern.shopping.use(UseKind.PILLOW)
        assert use is not None and {(one.length, one.lie.value) for one in use.strips} == {(along, "along")}


def test_what_is_too_small_for_its_back_is_refused() -> None:
    tiny = {**PILLOW, "border": [], "panel": {"width": "7in", "height": "7in"}, "row": [{"text": "h"}]}
    for pillow in ({"back": "zipper"}, {"overlap": "5in"}):
        with pytest.raises(Refusal) as refused:
            sketch(design_from_mapping({**tiny, "pillow": pillow}))
        assert [one.kind for one in refused.value.problems] == ["pillow-too-small"]
    with pytest.raises(Refusal) as refused:
        design_from_mapping({**PILLOW, "stitching": {"when": "with the quilting"}})
    assert [one.kind for one in refused.value.problems] == ["top-stitched-with-the-quilting"]


def test_it_sits_on_the_sofa_and_has_no_raw_edge(overlapping: Pattern) -> None:
    assert overlapping.quilt.size_class.name is QuiltSize.PILLOW
    assert overlapping.quilt.scene.quilt[1] == SEAT
    assert [thing.kind.value for thing in overlapping.quilt.scene.things] == ["door", "person", "sofa"]
    assert all(item.part is not Part.EDGE for item in overlapping.picture.items)


@pytest.mark.parametrize("wide", [False, True])
def test_halves_are_drawn_in_proportion(overlapping: Pattern, wide: bool) -> None:
    pattern = overlapping
    if wide:
        pattern = draft(
            design_from_mapping({**PILLOW, "border": [], "panel": {"width": "20in", "height": "12in"}})
        )
    (laid,) = [
        block
        for block in steps_of(chapter_of(pattern, ChapterKind.FINISHING))
        if isinstance(block, Step) and "Lay the front" in str(block.said[0])
    ]
    assert laid.drawing is not None
    boxes = [
        mark.outline.bounds()
        for mark in laid.drawing.marks
        if isinstance(mark, Shape) and mark.fill == "#ffffff" and mark.outline.bounds()[2] > 40
    ][:2]
    (x0, y0, x1, y1), (u0, v0, u1, v1) = boxes
    plan, front = pattern.quilt.pillow, pattern.quilt.trimmed
    assert plan is not None
    whole = (max(x1, u1) - min(x0, u0), max(y1, v1) - min(y0, v0))
    assert whole[0] / whole[1] == pytest.approx(float(front[0] / front[1]))
    lap = (x1 - u0) if wide else (y1 - v0)
    assert lap / whole[0 if wide else 1] == pytest.approx(float(plan.overlap / front[0 if wide else 1]))
    turned = next(
        block
        for block in steps_of(chapter_of(pattern, ChapterKind.FINISHING))
        if "Put the insert" in str(block.said)
    )
    assert turned.drawing is not None
    assert any(isinstance(mark, Shape) and mark.fill == RIGHT_SIDE for mark in turned.drawing.marks)
