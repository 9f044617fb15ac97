"""What somebody reads who has nothing but the finished pages: one name for one thing, each act in its order, and each
warning before what it warns of."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import cache
from html import unescape
from typing import Any

import pypdfium2
import pytest
import shapely

from applique.design import Method
from applique.drawings import BOLD, FINE, Shape, Words
from applique.drawings.outline_edges import draw_open_edges
from applique.instructions import Edition, instructions_of
from applique.instructions.values import Cautions, ChapterKind, Instructions, Picture, Step
from applique.outline_layer import EdgeStretches, edge_stretches, lie_over
from applique.panel import on_panel
from applique.pattern import Pattern
from applique.sew_along import sew_along_html
from applique.sheets import whole_pattern_pdf
from applique.words.instructions.outlines import EDGES_DRAWN
from tests.chapters import chapter_of, drafted, said_in

BEHIND: dict[str, Any] = {
    "title": "Gate",
    "panel": {"width": "34in", "height": "24in", "fabric": "Oat"},
    "lettering": {"font": "Baloo 2", "cap_height": "5in", "fabric": "Plum", "outline": "3/8in"},
    "row": [{"text": "Berry"}, {"text": "gate"}],
    "outline": {"fabric": "Sky"},
    "fabric": [
        {"name": "Plum", "color": "#5b2148"},
        {"name": "Sky", "color": "#9fc7dd"},
        {"name": "Oat", "color": "#f2ead8"},
    ],
}
BARE: dict[str, Any] = {**BEHIND, "lettering": {**BEHIND["lettering"], "outline": "0in"}}
METHODS = tuple(method.value for method in Method)


@cache
def made(method: str, *, outlined: bool) -> Pattern:
    stitching = {"stitch": "satin", "when": "before the borders"}
    return drafted(**(BEHIND if outlined else BARE), sewing={"method": method}, stitching=stitching)


@cache
def told(method: str, *, outlined: bool) -> Instructions:
    return instructions_of(made(method, outlined=outlined), edition=Edition.CUSTOMER)


@cache
def printed(method: str, *, outlined: bool) -> str:
    """All text of the finished customer's pattern, on one line."""
    pattern = made(method, outlined=outlined)
    pages = pypdfium2.PdfDocument(whole_pattern_pdf(pattern, told(method, outlined=outlined)))
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in pages)


@cache
def on_the_tablet(method: str, *, outlined: bool) -> str:
    """All text of the finished page to sew by, on one line."""
    pattern = made(method, outlined=outlined)
    page = sew_along_html(pattern, told(method, outlined=outlined))
    body = re.sub(r"<(script|style|svg)\b.*?</\1>", " ", page.decode(), flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).replace("\u00a0", " ").split())


@pytest.mark.long
@pytest.mark.parametrize("outlined", [False, True])
@pytest.mark.parametrize("method", METHODS)
def test_one_pencil_is_named_with_its_reason_and_tried_once_before_its_first_mark(
    method: str, outlined: bool
) -> None:
    """Three things were said of the pen in one step, and the list of what to buy said only that it is removable."""
    for text in (printed(method, outlined=outlined), on_the_tablet(method, outlined=outlined)):
        assert text.count("heat can set the ink of a pen") == 1, "why, among what is needed"
        assert text.count("heat can set a mark for good") == 1, "the caution, where it happens"
        assert re.findall(r"\bpens?\b(?! made for (?:it|fabric)| or make it vanish)", text) == []
        assert re.findall(r"\bchalk\b(?! pencil| stays)", text) == []
        assert (
            text.index("chalk pencil in a color")
            < text.index("Try the chalk pencil")
            < text.index("with the chalk pencil")
        )


IRONED = re.compile(r"\b(iron|[Ff]use|[Pp]ress) ")
CUT = re.compile(r"\bscissors|[Cc]ut the (letters|paper|fabric) out")


@pytest.mark.parametrize("outlined", [False, True])
@pytest.mark.parametrize("method", METHODS)
def test_each_warning_stands_before_what_it_warns_of(method: str, outlined: bool) -> None:
    """The caution of the iron stood after the step in which the letters were fused to their outlines."""
    kinds = (ChapterKind.LETTERS, ChapterKind.PLACING, ChapterKind.STITCHING)
    chapters = [chapter for chapter in told(method, outlined=outlined).chapters if chapter.kind in kinds]
    assert {chapter.kind for chapter in chapters} == set(kinds)
    for chapter in chapters:
        warned = ""
        for block in chapter.blocks:
            if isinstance(block, Cautions):
                warned += " ".join(map(str, block.items))
            elif isinstance(block, Step):
                said = " ".join(map(str, block.said))
                assert (
                    "Rest the iron" in warned or "freezer paper and glue" in warned or not IRONED.search(said)
                ), said
                assert "scissors" in warned or "blades" in warned or not CUT.search(said), said


@pytest.mark.parametrize("method", METHODS)
def test_nothing_with_a_pin_in_it_is_pressed_and_marks_go_once_the_stabilizer_is_off(method: str) -> None:
    """Stabilizer was pinned on before letters were fused over it, and marks were washed off before it was torn away."""
    for text in (printed(method, outlined=True), on_the_tablet(method, outlined=True)):
        stages = (
            "baste it outside of them with thread, not with pins",
            "Try a scrap of it under the iron first",
            "Now lay each letter",
            "Pull out the thread that you basted the stabilizer with",
            "Remove the stabilizer",
            "Brush the marks off",
            "Press the panel from the wrong side, on a soft towel so that the stitches",
        )
        places = [text.rindex(stage) for stage in stages]
        assert places == sorted(places)
    assert "baste it outside of them, pin it from the right side" in printed(method, outlined=False)


def test_pages_are_printed_and_measured_before_anything_is_traced_from_them() -> None:
    """Letters larger than the mat were to be traced from pages that were printed ten steps later."""
    for text in (printed("machine cut", outlined=False), on_the_tablet("machine cut", outlined=False)):
        assert text.count("Measure the rules before you cut.") == 1
        assert text.index("Measure the rules before you cut.") < text.index("A letter larger than your mat")


def length(words: str) -> float:
    """Inches, read from `6 1/4`, `3/16` or `2`."""
    return float(sum(map(Fraction, words.split())))


@pytest.mark.parametrize("outline", ["0in", "1/4in"])
def test_a_turned_letter_is_laid_by_two_points_that_booklet_guide_and_template_all_say(outline: str) -> None:
    """A turn of 6.5 degrees was named and no tool for it: the guide drew it, and nothing on the letter showed it."""
    lettering = {"font": "Baloo 2", "cap_height": "5in", "outline": outline}
    row = {"text": "Rud", "nudge": [{"letter": 1, "turn": 6.5}, {"letter": 3, "turn": -8}]}
    pattern = drafted(title="Rye", panel={"width": "30in", "height": "18in"}, lettering=lettering, row=[row])
    pages = [
        " ".join(page.get_textpage().get_text_bounded().split())
        for page in pypdfium2.PdfDocument(
            whole_pattern_pdf(pattern, instructions_of(pattern, edition=Edition.CUSTOMER))
        )
    ]
    text = " ".join(pages)
    end = r"([\d /]+) in ([LR]), ([\d /]+) in (above|below) the baseline"
    center = float(pattern.panel.width) / 2
    (row_mark,) = pattern.marks
    for cut, letter, turn in zip(pattern.panel.cuts, row_mark.letters, (6.5, 0.0, -8.0), strict=True):
        if not turn:
            assert letter.own is None
            continue
        sense = "left" if turn > 0 else "right"
        number = 1 if turn > 0 else 3
        laid = rf"{letter.template} {letter.text} row 1, letter {number} {abs(turn):g}° to the {sense}"
        in_table = re.search(rf"{laid} {end} {end}", text)
        assert in_table is not None
        points = [
            (length(far) * (-1 if side == "L" else 1), length(off) * (-1 if way == "below" else 1))
            for far, side, off, way in (in_table.groups()[:4], in_table.groups()[4:])
        ]
        (x0, y0), (x1, y1) = points
        # A protractor on the two printed points: each is right to half a sixteenth of an inch.
        wide = cut.outline.bounds()[2] - cut.outline.bounds()[0]
        assert math.dist(*points) == pytest.approx(wide, abs=1 / 12)
        assert math.degrees(math.atan2(y1 - y0, x1 - x0)) == pytest.approx(
            turn, abs=math.degrees(1 / 16 / wide)
        )
        ink = cut.outline.bounds()
        middle_x, middle_y = cut.place.point(((ink[0] + ink[2]) / 2, 0.0))
        assert (x0 + x1) / 2 + center == pytest.approx(middle_x, abs=1 / 16)
        assert (y0 + y1) / 2 + row_mark.height == pytest.approx(middle_y, abs=1 / 16)
        said = " to ".join(
            f"{far} in {side}, {off} in {way} the baseline"
            for far, side, off, way in (in_table.groups()[:4], in_table.groups()[4:])
        )
        assert f"its own baseline from {said}" in text, "the guide"
        (template,) = (
            page for page in pages if re.search(rf"\b{letter.template} · {letter.text} cut 1", page)
        )
        said_off = [(off, way) for _, _, off, way in (in_table.groups()[:4], in_table.groups()[4:])]
        assert all(f"{off} in {way} row" in template for off, way in said_off)
        assert len(re.findall(r"in (?:above|below) row", template)) == len(said_off)
    assert "and so does its outline" in text or outline == "0in"
    assert (
        text.index("Copy the baseline")
        < text.index("turned in their rows and lie by")
        < text.index("Mark both points by the table below")
    )


@pytest.mark.parametrize("method", METHODS)
def test_outlines_are_laid_by_marks_of_their_own_and_letters_by_the_same(method: str) -> None:
    """Outlines hid the ticks that they were to be laid by, and letters had two orders and room that was not there."""
    pattern = made(method, outlined=True)
    for text in (printed(method, outlined=True), on_the_tablet(method, outlined=True)):
        stages = (
            "Mark the baseline of each outline behind too"
            if method == "turned edge"
            else "Carry the baseline of each outline over too",
            "from the baseline down, 7/8 in long",
            "The outlines are laid first",
            "Order of the outlines: from left to right",
            "Order of the letters: from the center line outward",
            "Now lay each letter on its outline by the marks of both",
            "3/8 in of the outline shows all around, except where two outlines overlap",
        )
        places = [text.index(stage) for stage in stages]
        assert places == sorted(places)
    assert {piece.reach for piece in pattern.outlines} == {3 / 8}
    assert lie_over(pattern.outlines)
    apart = drafted(row=[{"text": "LO"}], lettering={"outline": "1/16in", "cap_height": "4in"}, outline={})
    said = said_in(chapter_of(apart, ChapterKind.STITCHING))
    assert "1/16 in of the outline shows all around. " in said and "two outlines overlap" not in said


def test_edges_under_another_outline_or_a_letter_are_drawn_as_left_out_and_the_others_as_stitched() -> None:
    """“Sew once around” was said of edges that lie under the next outline, and no picture told which those are."""
    pattern = made("raw edge", outlined=True)
    text = printed("raw edge", outlined=True)
    assert text.index("leave out the dotted ones") < text.index("Such an edge is not sewn once around")
    assert (
        "bold in the drawing of “Order of work”" in text and "around every edge, their holes too" not in text
    )
    edges = edge_stretches(pattern.outlines, [on_panel(cut) for cut in pattern.panel.cuts])
    shapes = [piece.place.shape(piece.shape) for piece in pattern.outlines]
    letters = shapely.union_all([on_panel(cut) for cut in pattern.panel.cuts])
    for index, (shape, one) in enumerate(zip(shapes, edges, strict=True)):
        sewn = shapely.MultiLineString(one.sewn)
        left = shapely.MultiLineString(one.left_out)
        assert sewn.length + left.length == pytest.approx(shape.boundary.length, abs=0.5)
        over = shapely.union_all([*shapes[index + 1 :], letters])
        # Walked in steps of a tenth of an inch, clear of where one lies just on the other's edge.
        for at in range(int(shape.boundary.length * 10)):
            spot = shape.boundary.interpolate(at / 10)
            if over.boundary.distance(spot) > 0.1:
                hidden = over.contains(spot)
                assert (left if hidden else sewn).distance(spot) < 0.01
                assert one.left_out or not hidden
    drawn = [
        block.drawing
        for block in chapter_of(pattern, ChapterKind.STITCHING).blocks
        if isinstance(block, Picture) and block.drawing.said is EDGES_DRAWN
    ]
    (drawing,) = drawn
    lines = [mark for mark in drawing.marks if isinstance(mark, Shape)]
    framed = next(index for index, mark in enumerate(lines) if mark.ink is FINE)
    bold = [mark for mark in lines[:framed] if mark.open and mark.ink is BOLD]
    assert len(bold) == sum(len(one.sewn) for one in edges)  # before the first place that is drawn enlarged
    named = {pattern.speech.field(mark.said) for mark in drawing.marks if isinstance(mark, Words)}
    assert {one for one in named if not one.isdecimal()} == {"stitch", "leave out", "end of the stitching"}


def test_a_short_stretch_that_is_left_out_is_heavy_and_drawn_enlarged_with_the_ends_of_its_stitching() -> (
    None
):
    """Three hairline dots in the whole picture were all that told where not to stitch."""
    pattern = made("raw edge", outlined=True)
    (x0, y0, _, _) = pattern.outlines[0].place.outline(pattern.outlines[0].outline).bounds()
    short = ((x0 + 1, y0 + 2), (x0 + 1.4, y0 + 2.6))
    edges = [EdgeStretches(sewn=(((x0, y0), short[0]),), left_out=(short,), dips=False)]
    drawing = draw_open_edges(pattern.outlines, [], edges, pattern.speech)
    shapes = [mark for mark in drawing.marks if isinstance(mark, Shape)]
    dotted = [mark for mark in shapes if mark.open and mark.ink and mark.ink.dashes]
    assert {mark.ink.width for mark in dotted if mark.ink} == {BOLD.width}
    lines = [mark.outline.contours[0] for mark in dotted]
    small, large, _ = (
        math.dist(one.start, one.segments[-1][-1]) for one in lines
    )  # and the sample below them
    assert small < 36 < large
    discs = [mark.outline.bounds() for mark in shapes if mark.fill == "#000000"]
    middles = {(round((a + c) / 2), round((b + d) / 2)) for a, b, c, d in discs}
    assert {(round(x), round(y)) for x, y in (lines[1].start, lines[1].segments[-1][-1])} < middles
    assert "end of the stitching" in {
        pattern.speech.field(mark.said) for mark in drawing.marks if isinstance(mark, Words)
    }
