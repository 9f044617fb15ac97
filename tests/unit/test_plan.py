"""The sewing plan in closed form: a font of straight lines, whose edges, corners and closed curves can be counted."""

from __future__ import annotations

import math
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

from applique.design import design_from_mapping
from applique.instructions import ChapterKind
from applique.pattern import Pattern, draft
from applique.reports import summary_md
from applique.words.nests import nest_facts
from tests.chapters import chapter_of, said_in

MM = 1 / 25.4
SIDE, CUT = 1000, 300
"""The O is a square of 1000 units whose corners are cut off at 300, with a square hole of 300: turns of 45 and 90°."""


def _glyph(*contours: list[tuple[int, int]]) -> Any:
    pen = TTGlyphPen(None)
    for first, *rest in contours:
        pen.moveTo(first)
        for point in rest:
            pen.lineTo(point)
        pen.closePath()
    return pen.glyph()


@pytest.fixture(scope="module")
def straight(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A font with an H of one bar, 1000 by 300, and the O."""
    low, high = CUT, SIDE - CUT
    octagon = [(low, 0), (0, low), (0, high), (low, SIDE), (high, SIDE), (SIDE, high), (SIDE, low), (high, 0)]
    hole = [(350, 350), (650, 350), (650, 650), (350, 650)]
    bar = [(0, 0), (0, SIDE), (300, SIDE), (300, 0)]
    font = FontBuilder(unitsPerEm=1000, isTTF=True)
    font.setupGlyphOrder([".notdef", "H", "O", "space"])
    font.setupCharacterMap({ord("H"): "H", ord("O"): "O", ord(" "): "space"})
    font.setupGlyf({".notdef": _glyph(bar), "H": _glyph(bar), "O": _glyph(octagon, hole), "space": _glyph()})
    font.setupHorizontalMetrics({".notdef": (400, 0), "H": (600, 0), "O": (1300, 0), "space": (300, 0)})
    font.setupHorizontalHeader(ascent=1000, descent=-200)
    font.setupNameTable({"familyName": "Straight", "styleName": "Regular"})
    font.setupOS2(sTypoAscender=1000, usWinAscent=1000, usWinDescent=200, sCapHeight=1000)
    font.setupPost()
    path: Path = tmp_path_factory.mktemp("fonts") / "straight.ttf"
    font.save(path)
    return str(path)


def _pattern(font: str, **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": "OH O", "cap_height": "10in"}],
        "lettering": {"font": font},
        "panel": {"width": "60in", "height": "30in"},
        "stitching": {
            "stitch": "straight",
            "length": "2mm",
            "waste_percent": 20,
            "pace": 300,
            "thickness": "1mm",
        },
    }
    return draft(design_from_mapping({**data, **tables}))


def test_edge_stitches_thread_and_minutes_of_a_row_in_closed_form(straight: str) -> None:
    """Two O and an H of 10 in: edges of 8 sides and a hole, 24 + 4 corners, 5 closed edges to start on.

    Thread of a straight stitch of 2 mm through the 3 mm of all layers, for such letters are stitched with the
    quilting: 2 + 2 * 3/2 times the edge (Coats, type 301). Straight runs take a
    fifth less than 300 stitches a minute; a minute for a start, six seconds for a corner; a quick hand does 5/4 and a
    careful one 3/4 of that pace (common practice, no source).
    """
    pattern = _pattern(straight)
    (row,) = pattern.stitching.rows
    edge = 2 * (4 * 4 + 4 * 3 * math.sqrt(2) + 4 * 3) + 26
    assert row.edge == pytest.approx(edge, rel=1e-4)
    assert row.stitches == math.ceil(row.edge / (2 * MM))
    assert row.top == row.bobbin == 36 * math.ceil(1.2 * 5 * row.edge / 2 / 36)
    sewing = {pattern.template(one.template).text: one for one in pattern.stitching.letters}
    assert {text: (len(one.starts), one.corners) for text, one in sewing.items()} == {
        "O": (2, 12),
        "H": (1, 4),
    }
    (letters,) = row.layers
    assert letters.curved == pytest.approx(0, abs=1e-3)
    figured = row.stitches / 300 * 0.8 + 5 + 28 / 10
    assert letters.minutes == pytest.approx((figured * 4 / 5, figured * 4 / 3), rel=1e-4)
    assert row.minutes == (5 * round(figured * 4 / 5 / 5), 5 * math.ceil(figured * 4 / 3 / 5))
    assert pattern.stitching.minutes == row.minutes


def test_edges_under_the_next_letter_take_no_thread_and_no_time_and_are_said_to_be_left_out(
    straight: str,
) -> None:
    """Two bars of 3 by 10 in, the second 1 in over the first: it hides a side of 10 in and twice 1 in of its ends."""
    row = {"text": "HH", "cap_height": "10in", "nudge": [{"letter": 2, "right": "-4in"}]}
    pattern, apart = _pattern(straight, row=[row]), _pattern(straight, row=[{**row, "nudge": []}])
    (hiding,), (whole,) = pattern.stitching.rows, apart.stitching.rows
    assert whole.edge == pytest.approx(52, rel=1e-4)
    assert hiding.edge == pytest.approx(40, rel=1e-4)
    assert hiding.stitches == math.ceil(hiding.edge / (2 * MM))
    assert hiding.top < whole.top
    assert hiding.layers[0].minutes[0] < whole.layers[0].minutes[0]
    for one, hides in ((pattern, True), (apart, False)):
        stitching, placing = (
            said_in(chapter_of(one, kind)) for kind in (ChapterKind.STITCHING, ChapterKind.PLACING)
        )
        assert ("Leave out the edges that lie under another letter" in stitching) is hides
        assert ("each lies on top of its neighbor on the left" in placing) is hides


@pytest.mark.parametrize("units", ["in", "cm"])
def test_rows_add_up_to_the_time_and_the_thread_of_all(straight: str, units: str) -> None:
    """As they are printed: whole yards or meters for each half of a row, and five minutes; the most counted up."""
    pattern = _pattern(
        straight, units=units, row=[{"text": "O", "cap_height": "7in"}, {"text": "HHO"}, {"text": "H"}]
    )
    rows, whole = pattern.stitching.rows, Fraction(36) if units == "in" else 1000 / Fraction(254, 10)
    assert len({row.minutes for row in rows}) == 3
    for end in (0, 1):
        assert all(row.minutes[end] % 5 == 0 < row.minutes[end] for row in rows)
        assert pattern.stitching.minutes[end] == sum(row.minutes[end] for row in rows)
    for row in rows:
        (layer,) = row.layers
        assert abs(row.minutes[0] - layer.minutes[0]) <= 2.5 or row.minutes[0] == 5 > layer.minutes[0]
        assert 0 <= row.minutes[1] - layer.minutes[1] < 5
        assert all(half % whole == 0 < half for half in (row.top, row.bobbin))
    (need,) = (one for one in pattern.threads if one.color is not None)
    assert need.length == sum(row.top + row.bobbin for row in rows)


def test_a_letter_is_begun_in_the_middle_of_its_longest_straight_stretch(straight: str) -> None:
    """The cut corners of the O are 4.24 in, its sides 4, those of its hole 3; the bar of the H is 10 long."""
    pattern = _pattern(straight)
    sewing = {pattern.template(one.template).text: one for one in pattern.stitching.letters}
    outer, inner = sewing["O"].starts
    assert min(outer) == pytest.approx(1.5, abs=0.01) or max(outer) == pytest.approx(8.5, abs=0.01)
    assert sorted(inner)[0] == pytest.approx(3.5, abs=0.01) or sorted(inner)[1] == pytest.approx(
        6.5, abs=0.01
    )
    (bar,) = sewing["H"].starts
    assert bar[1] == pytest.approx(5, abs=0.01)
    assert bar[0] in (pytest.approx(0, abs=0.01), pytest.approx(3, abs=0.01))


def test_rolls_have_the_area_of_the_cloth_seen_from_its_edge(straight: str) -> None:
    """Half of the longer side, wound a quarter looser; 5 mm more with batting and back (common practice, no source)."""
    border = {"kind": "strip", "width": "4in", "fabrics": ["Rust"]}
    fabrics = [{"name": "Ink", "color": "#203040"}, {"name": "Rust", "color": "#a05030"}]
    for panel, longer in (
        ({"width": "60in", "height": "30in"}, 60),
        ({"width": "60in", "height": "80in"}, 80),
    ):
        pattern = _pattern(straight, panel=panel, border=[border], fabric=fabrics)
        around = [(roll / 1.25) ** 2 * math.pi / 4 for roll in pattern.stitching.rolls]
        assert around == pytest.approx([longer / 2 * MM, (longer + 8) / 2 * MM, (longer + 8) / 2 * 6 * MM])


@pytest.mark.parametrize(("throat", "when"), [("5in", "with the quilting"), ("2in", "before the borders")])
def test_straight_stitching_waits_for_the_quilting_if_the_quilt_passes_the_arm(
    straight: str, throat: str, when: str
) -> None:
    """The quilt's roll is 3.7 in, that of the panel alone 1.5."""
    pattern = _pattern(straight, stitching={"stitch": "straight", "throat": throat})
    assert pattern.stitching.rolls == pytest.approx((1.53, 1.53, 3.75), abs=0.01)
    assert pattern.stitching.when.value == when


def test_stitching_in_the_ditch_goes_along_every_seam_of_the_borders(straight: str) -> None:
    """Sides first: around the panel 180 in, and twice 2 in more at top and bottom; around the next 188 in and 4 in
    more, the outermost edge none. Thread at 2.5 mm through 3 mm: 2 + 2 · 3/2.5, and waste."""
    fabrics = [{"name": "Ink", "color": "#203040"}, {"name": "Rust", "color": "#a05030"}]
    strip = {"kind": "strip", "width": "1in", "fabrics": ["Rust"]}
    pattern = _pattern(straight, border=[strip, strip], fabric=fabrics, quilting=[{"kind": "in the ditch"}])
    (plan,) = pattern.quilting
    assert plan.length == pytest.approx(184 + 192)
    assert plan.stitches == math.ceil(376 / (2.5 * MM))
    assert plan.thread == 36 * math.ceil(376 * 4.4 * 1.2 / 36)


def test_rows_of_quilting_are_centered_on_the_quilt(straight: str) -> None:
    """Three rows of 10 in on 30: a wave around each third, as high as its row."""
    rows = {"kind": "edge to edge", "row_height": "10in", "overlap": "0in", "letters": "cross"}
    (plan,) = _pattern(straight, quilting=[rows]).quilting
    ends = [(min(y for _, y in line), max(y for _, y in line)) for line in plan.lines]
    assert pytest.approx((-5, 5), abs=0.05) in ends
    assert (min(low for low, _ in ends), max(high for _, high in ends)) == pytest.approx((-15, 15))


def test_letters_wider_than_their_fabric_are_named_in_the_summary(straight: str) -> None:
    """An H of 20 1/2 by 6 1/2 in rough cut, its height along the selvage, from fabric of 6 in: two of 20 1/2, sewn
    together with seams of 1/4 in, so each half of 6 1/2 and 1/2 in wide."""
    pattern = _pattern(
        straight,
        fabric=[
            {"name": "Ink", "color": "#203040", "usable_width": "6in"},
            {"name": "Fog", "color": "#e0e0d8"},
        ],
        binding={"fabric": "Fog"},
        row=[{"text": "H", "cap_height": "20in"}],
    )
    (need,) = pattern.cloth
    (letter,) = need.joined
    assert (letter.count, letter.widths) == (1, 2)
    assert letter.each == 3.5
    assert need.used == 2 * letter.length == 41
    said = (
        "for H, sew 2 pieces of 3 1/2 in by 20 1/2 in side by side into 6 1/2 in by 20 1/2 in, and press each seam "
        "open"
    )
    assert f"Ink, too narrow for some letters: {said}" in summary_md(pattern).decode("utf-8")
    told = [
        str(fact)
        for fact in nest_facts(
            need,
            pattern.design.units,
            sewing=pattern.design.sewing,
            blocks=(),
            mirrored=True,
            rough_cut=pattern.design.fusible.rough_cut,
            neighbors=True,
            for_customers=False,
        )
    ]
    assert not [fact for fact in told if "is drawn" in fact], "and nothing is drawn"
    assert told[-1] == f"Too narrow for some letters: {said}."
