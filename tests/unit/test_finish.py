"""What is made around the words: a whole quilt, its top alone, and a quilt without some of its parts."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest

from applique.cloth import UseKind
from applique.design import WhenStitched, design_from_mapping
from applique.errors import Refusal
from applique.instructions import Edition, instructions_of
from applique.instructions.values import ChapterKind
from applique.pack import pack_files
from applique.pattern import Pattern, draft, sketch
from applique.reports import summary_md
from applique.sewing.threads import ThreadUse
from applique.shopping import Notion, ShelfKind
from tests.chapters import chapter_of, said_in

QUILT: dict[str, Any] = {
    "panel": {"width": "20in", "height": "16in", "margin": "2in"},
    "lettering": {"font": "Fredoka", "fabric": "Sea"},
    "row": [{"text": "PIE"}],
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Sea"]}],
    "fabric": [{"name": "Sea", "color": "#335577"}],
    "hanging": {"sleeve": True},
    "quilting": [{"kind": "echo"}],
}
LEFT_OUT = {"binding": {"left_out": True}, "backing": {"left_out": True}, "batting": {"left_out": True}}


@pytest.fixture(scope="module")
def whole() -> Pattern:
    return draft(design_from_mapping(QUILT))


@pytest.fixture(scope="module")
def top() -> Pattern:
    return draft(design_from_mapping({**QUILT, "finish": "top only"}))


@pytest.fixture(scope="module")
def bare() -> Pattern:
    return draft(design_from_mapping({**QUILT, **LEFT_OUT}))


def _uses(pattern: Pattern) -> set[UseKind]:
    return {use.kind for buy in pattern.shopping.cloth for use in buy.uses}


def _bought(pattern: Pattern, fabric: str) -> Fraction:
    return next((buy.buy for buy in pattern.shopping.cloth if buy.fabric.name == fabric), Fraction(0))


def _words(pattern: Pattern, kind: ChapterKind, edition: Edition = Edition.MAKER) -> str:
    return said_in(chapter_of(pattern, kind, edition=edition))


def test_silence_means_a_whole_quilt(whole: Pattern) -> None:
    said = draft(design_from_mapping({**QUILT, "finish": "quilt"}))
    assert said == whole
    assert {UseKind.BINDING, UseKind.BACKING, UseKind.SLEEVE} <= _uses(whole)
    assert "Not reckoned" not in summary_md(whole).decode()


def test_a_top_alone_buys_and_sews_nothing_of_the_layers(whole: Pattern, top: Pattern) -> None:
    """By hand: a panel 20 1/2 by 16 1/2 in, two strips of 16 1/2 and two of 24 1/2 in, each 2 1/2 in wide, letters."""
    assert _uses(top) == {UseKind.PANEL, UseKind.BORDER, UseKind.LETTERS}
    strips = {
        (strip.cut_length, strip.cut_width)
        for border in top.quilt.borders
        for step in border.steps
        for strip in step.strips
    }
    assert strips == {(Fraction(33, 2), Fraction(5, 2)), (Fraction(49, 2), Fraction(5, 2))}
    assert _bought(top, "Sea") < _bought(whole, "Sea")
    shelves = {shelf.kind: shelf.items for shelf in top.shopping.shelves}
    assert ShelfKind.BATTING not in shelves
    assert Notion.BASTING not in shelves[ShelfKind.NOTIONS]
    assert all(ThreadUse.QUILTING not in need.uses for need in top.threads)
    assert top.quilting == ()
    # Two seams of 16 1/2 in and two of 24 1/2 in, whose 82 in come from three strips of 40 in with two joins on the
    # diagonal, and once around 24 in by 20 in; at two and a half times their length and the waste.
    waste = 1 + top.design.stitching.waste_percent / 100
    (piecing,) = (need for need in top.threads if ThreadUse.PIECING in need.uses)
    assert piecing.length == 36 * math.ceil((82 + 2 * 2.5 * math.sqrt(2) + 88) * 2.5 * waste / 36)


def test_the_booklet_of_a_top_ends_with_the_top(top: Pattern) -> None:
    kinds = [one.kind for one in instructions_of(top).chapters]
    assert not {ChapterKind.LAYERING, ChapterKind.QUILTING} & set(kinds)
    words = _words(top, ChapterKind.FINISHING)
    # 20 + 2 * 2 in by 16 + 2 * 2 in, and 1/4 in all around.
    assert "24 1/2 in by 20 1/2 in from raw edge to raw edge" in words
    assert "24 in by 20 in when it is finished" in words
    # The overages of the design file: 4 in of backing and 2 in of batting on every side.
    assert "the backing measures at least 32 in by 28 in" in words
    assert "the batting at least 28 in by 24 in" in words
    assert "Label" not in words
    every = " ".join(said_in(one) for one in instructions_of(top).chapters).lower()
    assert "quilt-label" not in every
    assert "makers of fusible web, stabilizer, and batting" not in every
    assert "Not reckoned: backing, batting, quilting, binding, and label." in summary_md(top).decode()


@pytest.mark.long
def test_a_top_has_no_label_among_its_files(top: Pattern, whole: Pattern) -> None:
    assert "quilt-label.pdf" in pack_files(whole)
    assert "quilt-label.pdf" not in pack_files(top)


def test_a_quilt_without_binding_backing_and_batting_says_what_they_have_to_be(bare: Pattern) -> None:
    assert _uses(bare) == {UseKind.PANEL, UseKind.BORDER, UseKind.LETTERS, UseKind.SLEEVE}
    assert all(shelf.kind is not ShelfKind.BATTING for shelf in bare.shopping.shelves)
    layering = _words(bare, ChapterKind.LAYERING)
    assert "at least 32 in by 28 in" in layering
    assert "at least 28 in by 24 in" in layering
    for edition in Edition:
        finishing = _words(bare, ChapterKind.FINISHING, edition)
        assert "finish the edge your own way, with a seam allowance of 1/4 in" in finishing
        assert "It should measure 24 1/2 in by 20 1/2 in now" in finishing
        assert finishing.count("binding") == 1, "only that none is reckoned"
    assert "Not reckoned: backing, batting, and binding." in summary_md(bare).decode()


@pytest.mark.parametrize("part", ["binding", "backing", "batting"])
def test_each_is_left_out_alone(whole: Pattern, part: str) -> None:
    pattern = draft(design_from_mapping({**QUILT, part: {"left_out": True}}))
    gone = {"binding": {UseKind.BINDING}, "backing": {UseKind.BACKING}, "batting": set()}[part]
    assert _uses(whole) - _uses(pattern) == gone
    kinds = {shelf.kind for shelf in pattern.shopping.shelves}
    assert (ShelfKind.BATTING in kinds) == (part != "batting")
    assert f"Not reckoned: {part}." in summary_md(pattern).decode()


def test_what_is_left_out_is_never_refused() -> None:
    """A back of nine widths is more than anybody joins; one that is not made here is nobody's concern."""
    wide = {"panel": {"width": "400in", "height": "400in"}, "row": [{"text": "PIE", "cap_height": "5in"}]}
    with pytest.raises(Refusal) as refused:
        sketch(design_from_mapping(wide))
    assert [one.kind for one in refused.value.problems] == ["backing-of-too-many-panels"]
    assert sketch(design_from_mapping({**wide, "backing": {"left_out": True}})).quilt.backing.ways == ()


def test_letters_of_a_top_are_not_stitched_with_its_quilting() -> None:
    turned = {**QUILT, "sewing": {"method": "turned edge"}, "stitching": {"throat": "30in"}}
    assert draft(design_from_mapping(turned)).stitching.when is WhenStitched.QUILTING
    assert draft(design_from_mapping({**turned, "finish": "top only"})).stitching.when is WhenStitched.PANEL
    with pytest.raises(Refusal) as refused:
        design_from_mapping({**QUILT, "finish": "top only", "stitching": {"when": "with the quilting"}})
    assert [one.kind for one in refused.value.problems] == ["top-stitched-with-the-quilting"]
