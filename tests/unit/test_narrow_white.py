"""Where turned edges have no cut line between them: close corners, slits, gaps between parts, narrow holes."""

from __future__ import annotations

import math

import pytest
import shapely

from applique.design import Method
from applique.geometry.narrow_white import NarrowWhite, narrow_white
from applique.instructions import ChapterKind
from applique.pattern import Pattern
from applique.sewing.findings import FindingKind
from tests.chapters import chapter_of, drafted, said_in

TURN = 0.1875


def _found(shape: shapely.Geometry) -> NarrowWhite:
    assert isinstance(shape, shapely.Polygon | shapely.MultiPolygon)
    grown = shape.buffer(TURN, quad_segs=32, join_style="round")
    assert isinstance(grown, shapely.Polygon | shapely.MultiPolygon)
    return narrow_white(shape, grown, TURN)


def _with_vee(degrees: float) -> shapely.Polygon:
    """A block 4 in wide with a corner of that angle cut 2 in deep into its top."""
    half = 2 * math.tan(math.radians(degrees / 2))
    return shapely.Polygon([(-4, 0), (4, 0), (4, 3), (half, 3), (0, 1), (-half, 3), (-4, 3)])


@pytest.mark.parametrize(("degrees", "close"), [(30, True), (58, True), (62, False), (90, False)])
def test_a_corner_is_close_that_lies_two_turn_unders_below_the_cut_line(degrees: float, close: bool) -> None:
    """Cut lines meet turn / sin(a / 2) above a corner of the angle a, two turn-unders at 60 degrees: closed form."""
    assert (1 / math.sin(math.radians(degrees / 2)) > 2) is close
    assert _found(_with_vee(degrees)) == NarrowWhite(corner=close, gap=False, hole=False)


@pytest.mark.parametrize(("wide", "narrow"), [(0.9, True), (1.9, True), (2.1, False)])
def test_white_narrower_than_two_turn_unders_has_no_cut_line(wide: float, narrow: bool) -> None:
    """A slit 1 in deep, two blocks side by side, and a block with a hole, each that many turn-unders wide."""
    white = wide * TURN
    block = shapely.box(0, 0, 4, 3)
    slit = block.difference(shapely.box(2, 2, 2 + white, 4))
    assert _found(slit) == NarrowWhite(corner=narrow, gap=False, hole=False)
    pair = shapely.MultiPolygon([block, shapely.box(4 + white, 0, 8, 3)])
    assert _found(pair) == NarrowWhite(corner=False, gap=narrow, hole=False)
    holed = block.difference(shapely.box(1, 1, 1 + white, 2))
    assert _found(holed) == NarrowWhite(corner=False, gap=False, hole=narrow)


def _turned(text: str, height: str = "3in") -> Pattern:
    return drafted(
        row=[{"text": text, "cap_height": height}],
        lettering={"font": "Rubik"},
        panel={"width": "30in", "height": "12in"},
        sewing={"method": Method.TURNED_EDGE.value},
    )


def test_the_booklet_says_what_to_do_in_the_letters_that_have_it_and_nothing_elsewhere() -> None:
    plain = _turned("LOT", "6in")
    said = said_in(chapter_of(plain, ChapterKind.LETTERS))
    for words in ("close together", "seam sealant", "so near to one another", "a hole is narrower"):
        assert words not in said
    assert "seam sealant" not in said_in(chapter_of(plain, ChapterKind.NEEDED))
    narrow = _turned("LWise")
    said = said_in(chapter_of(narrow, ChapterKind.LETTERS))
    assert "In W, s, and e two edges run close together into a corner, or to the end of a slit" in said
    assert "In i parts lie so near to one another that one cut line goes around them" in said
    assert "In e a hole is narrower than two turn-unders" in said
    assert "seam sealant" in said_in(chapter_of(narrow, ChapterKind.NEEDED))


@pytest.mark.parametrize("height", ["2in", "3in"])
def test_what_has_no_cut_line_of_its_own_is_found(height: str) -> None:
    """What is said in the booklet is said to the maker first: a gap as a slot, a hole as a counter."""
    pattern = _turned("?ije", height)
    found: dict[str, set[FindingKind]] = {}
    for finding in pattern.findings:
        for spot in finding.spots:
            found.setdefault(spot.text, set()).add(finding.kind)
    narrow = {one.text: one.turned.narrow for one in pattern.templates if one.turned}
    assert [text for text, one in narrow.items() if one.gap] == ["?", "i", "j"]
    assert [text for text, one in narrow.items() if one.hole] == ["e"]
    for text, one in narrow.items():
        assert not one.gap or FindingKind.SLOT in found[text]
        assert not one.hole or FindingKind.COUNTER in found[text]
