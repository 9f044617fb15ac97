"""A banner: its back, what it hangs by, what is bought and sewn for it; recomputed by hand."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest

from applique.cloth import UseKind
from applique.design import Banner, design_from_mapping
from applique.drawings import Shape
from applique.drawings.vocabulary import SECOND_SIDE
from applique.errors import Refusal
from applique.instructions import Edition, instructions_of
from applique.instructions.values import ChapterKind
from applique.pattern import Pattern, draft, sketch
from applique.quilt.banner import plan_ties
from applique.quilt.sizes import QuiltSize
from applique.reports import summary_md
from applique.sewing.threads import ThreadUse
from applique.shopping import ShelfKind
from applique.units import Units
from tests.chapters import chapter_of, said_in, steps_of

BANNER: dict[str, Any] = {
    "finish": "banner",
    "panel": {"width": "32in", "height": "12in"},
    "lettering": {"font": "Fredoka", "fabric": "Ink"},
    "row": [{"text": "eggs"}],
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
    "fabric": [{"name": "Ink", "color": "#23466b"}],
    "quilting": [{"kind": "echo"}],
}
TIES = {**BANNER, "banner": {"hangs_by": "ties", "batting": True}}


@pytest.fixture(scope="module")
def sleeved() -> Pattern:
    return draft(design_from_mapping(BANNER))


@pytest.fixture(scope="module")
def tied() -> Pattern:
    return draft(design_from_mapping(TIES))


def _uses(pattern: Pattern) -> set[UseKind]:
    return {use.kind for buy in pattern.shopping.cloth for use in buy.uses}


def _finishing(pattern: Pattern) -> str:
    return said_in(chapter_of(pattern, ChapterKind.FINISHING))


def test_a_back_of_the_size_of_the_front(sleeved: Pattern, tied: Pattern) -> None:
    """By hand: 32 + 4 + 1/2 in by 12 + 4 + 1/2 in."""
    for pattern in (sleeved, tied):
        use = pattern.shopping.use(UseKind.BACKING)
        assert use is not None
        assert [sorted((one.length, one.width)) for one in use.strips] == [[Fraction(33, 2), Fraction(73, 2)]]
        assert "It measures 36 1/2 in by 16 1/2 in, as the front does." in _finishing(pattern)


def test_it_hangs_by_a_sleeve_that_the_seam_catches(sleeved: Pattern) -> None:
    """By hand: 36 in less 1 in at either side are 34 in, and the raw edge is 1/4 in farther out."""
    assert _uses(sleeved) == {
        UseKind.PANEL, UseKind.BORDER, UseKind.BACKING, UseKind.SLEEVE, UseKind.LETTERS,
    }  # fmt: skip
    told = _finishing(sleeved)
    assert "it is 34 in long now" in told and "about 1 1/4 in from either raw side edge" in told
    assert (
        told.index("the seam around catches it")
        < told.index("Sew all around")
        < told.index("Bend the lower fold")
    )
    assert "tie" not in told.replace("stitches", "")
    assert all(shelf.kind is not ShelfKind.BATTING for shelf in sleeved.shopping.shelves)
    assert "batting" not in told


def test_ties_are_even_along_the_top(tied: Pattern) -> None:
    """By hand: 36 in less 1 in at either side are 34 in, in four gaps of 8 1/2 in, none over 10 in: five ties."""
    ties = tied.quilt.ties
    assert ties is not None
    assert ties.count == 5
    assert [float(side) for side in (ties.length, ties.width, ties.apart)] == [18, 2, 8.5]
    use = tied.shopping.use(UseKind.TIES)
    assert use is not None
    assert [(float(one.length), float(one.width), one.count) for one in use.strips] == [(18, 2, 5)]
    assert tied.quilt.sleeve is None
    told = _finishing(tied)
    assert "5 ties of 2 in by 18 in" in told and "it is 1/2 in wide now" in told
    assert "1 1/4 in from the raw edges of the sides" in told and "about 8 1/2 in" in told
    drawing = next(one.drawing for one in steps_of(chapter_of(tied, ChapterKind.FINISHING)) if one.drawing)
    drawn = [
        mark.outline.bounds()
        for mark in drawing.marks
        if isinstance(mark, Shape) and mark.fill == SECOND_SIDE
    ]
    middles = sorted((left + right) / 2 for left, low, right, top in drawn if top - low > 10)
    assert len(middles) == 5
    assert middles[-1] - middles[0] == pytest.approx(4 * (middles[1] - middles[0]))


def test_light_batting_is_bought_and_cut_where_it_is_asked_for(tied: Pattern) -> None:
    shelves = {shelf.kind: shelf.items for shelf in tied.shopping.shelves}
    assert ShelfKind.BATTING in shelves
    told = _finishing(tied)
    assert "Cut the batting 36 1/2 in by 16 1/2 in" in told
    assert told.index("Sew all around") < told.index("Trim the batting close") < told.index("Turn the banner")


def test_nothing_of_a_quilt_is_told(sleeved: Pattern, tied: Pattern) -> None:
    assert sleeved.quilt.size_class.name is QuiltSize.BANNER and sleeved.quilting == ()
    for pattern in (sleeved, tied):
        kinds = {one.kind for one in instructions_of(pattern).chapters}
        assert not {ChapterKind.LAYERING, ChapterKind.QUILTING} & kinds
        summary = summary_md(pattern).decode()
        assert "Not reckoned: quilting, binding, and label." in summary
        assert "The finished banner is 36 in (91.4 cm) wide and 16 in (40.6 cm) high." in summary
        for edition in Edition:
            chapters = instructions_of(pattern, edition=edition).chapters
            words = " ".join(said_in(one) for one in chapters).lower()
            for allowed in (
                "quilting cotton",
                "reckoned: quilting, binding, and label",
                "loose quilt or a pillow",
            ):
                words = words.replace(allowed, "")
            assert "quilt" not in words and "binding" not in words


def test_thread_for_the_seams_of_a_banner(tied: Pattern) -> None:
    """By hand: borders 2 × 12 1/2 in and 2 × 36 1/2 in; around 36 in by 16 in twice; five ties of 18 in."""
    joins = sum(
        (run.strips - 1) * 2.5 * math.sqrt(2)
        for buy in tied.shopping.cloth
        for use in buy.uses
        if use.kind is UseKind.BORDER
        for run in use.joined
    )
    inches = 2 * 12.5 + 2 * 36.5 + joins + 2 * 104 + 5 * 18
    waste = 1 + tied.design.stitching.waste_percent / 100
    (piecing,) = (need for need in tied.threads if ThreadUse.PIECING in need.uses)
    assert piecing.length == 36 * math.ceil(inches * 2.5 * waste / 36)


def test_a_wide_banner_has_a_pieced_back() -> None:
    wide = draft(design_from_mapping({**BANNER, "panel": {"width": "60in", "height": "50in"}}))
    assert len(wide.shopping.back) == 2
    assert "seam of the drawing" in _finishing(wide)


def test_what_cannot_be_made_is_refused() -> None:
    narrow = {**TIES, "border": [], "panel": {"width": "5in", "height": "12in", "margin": "1/4in"}}
    with pytest.raises(Refusal) as refused:
        sketch(design_from_mapping(narrow))
    assert [one.kind for one in refused.value.problems] == ["banner-too-narrow"]
    with pytest.raises(Refusal) as refused:
        design_from_mapping({**BANNER, "stitching": {"when": "with the quilting"}})
    assert [one.kind for one in refused.value.problems] == ["top-stitched-with-the-quilting"]
    with pytest.raises(Refusal):
        design_from_mapping({**BANNER, "banner": {"fabric": "Nowhere"}})


def test_centimeters_have_ties_of_their_own() -> None:
    unit = Fraction(100, 254)
    ties = plan_ties(Banner(), 90 * unit, Units.CENTIMETERS)
    # 90 - 5 cm in four gaps of 21.25 cm.
    assert ties.count == 5
    assert [float(side / unit) for side in (ties.apart, ties.length, ties.width)] == [21.25, 45, 5]
