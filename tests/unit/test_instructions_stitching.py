"""The chapter of stitching: its steps against the pattern, its words by method, its drawings measured."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest

from applique.design import Method, Stitch, WhenStitched, design_from_mapping
from applique.drawings import PAPER, Anchor, Drawing, Shape, Words, text_width
from applique.drawings.corners import draw_corners
from applique.drawings.stabilizer import draw_roll, draw_stabilizer
from applique.drawings.stitch import draw_stitch
from applique.drawings.vocabulary import LEFT_OVER, RIGHT_SIDE, SECOND_SIDE
from applique.geometry.points import Bounds
from applique.instructions import Choices, Edition, Picture, Step, instructions_of
from applique.instructions.values import Chapter, ChapterKind
from applique.language import american
from applique.pattern import Pattern, draft
from applique.pieces import Layer
from applique.units import Units, as_length
from applique.words.instructions.stitching import place_said
from tests.chapters import drawings_of, run_over, said_in, steps_of, words_in

BASE: dict[str, Any] = {
    "panel": {"width": "30in", "height": "26in"},
    "lettering": {"font": "Fredoka", "cap_height": "4in"},
    "row": [{"text": "gAp"}, {"text": "Hi"}, {"text": "to"}],
    "fabric": [{"name": "Ink", "color": "#203040"}, {"name": "Fog", "color": "#e0e0d8"}],
}

BORDER = [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}]


def drafted(**tables: Any) -> Pattern:
    return draft(design_from_mapping(BASE | tables))


def chapter(pattern: Pattern, edition: Edition = Edition.MAKER) -> Chapter:
    return next(
        one for one in instructions_of(pattern, edition=edition).chapters if one.kind is ChapterKind.STITCHING
    )


def text(blocks: object) -> str:
    """All words of a value, whatever holds them."""
    return " ".join(_words(blocks))


def _words(value: object) -> Iterator[str]:
    if isinstance(value, Drawing | Words | Shape):
        return
    if isinstance(value, tuple):
        for one in value:
            yield from _words(one)
    elif hasattr(value, "template"):
        yield str(value)
    elif hasattr(value, "__slots__"):
        for name in value.__slots__:
            yield from _words(getattr(value, name))
    elif isinstance(value, str) and type(value) is str:
        yield value


def bounds(shape: Shape) -> Bounds:
    return shape.outline.bounds()


def middle(shape: Shape) -> tuple[float, float]:
    x0, y0, x1, y1 = bounds(shape)
    return (x0 + x1) / 2, (y0 + y1) / 2


def dots(drawing: Drawing, radius: float) -> list[tuple[float, float]]:
    """The middles of the round spots of a radius."""
    shapes = [mark for mark in drawing.marks if isinstance(mark, Shape) and not mark.open]
    sizes = [(bounds(one)[2] - bounds(one)[0], one) for one in shapes if len(one.outline.contours) == 1]
    return [middle(one) for size, one in sizes if size == pytest.approx(2 * radius, abs=1e-6)]


@pytest.mark.parametrize("stitch", Stitch)
@pytest.mark.parametrize("size", [(232.0, 178.0), (156.0, 128.0)])
def test_a_stitch_is_drawn_as_many_times_as_large_as_it_says(
    stitch: Stitch, size: tuple[float, float]
) -> None:
    """72 points to the inch: where the needle falls across and along the edge, measured in the drawing."""
    (row, *_) = drafted(stitching={"stitch": stitch.value}).stitching.rows
    drawing = draw_stitch(row.stitch, size, american())
    said = [str(mark.said) for mark in drawing.marks if isinstance(mark, Words)]
    times = next(int(words.split()[0]) for words in said if "times as large" in words)
    assert times >= 4
    assert {"letter", "background"} <= set(said)
    falls = dots(drawing, 1.7)
    xs, ys = sorted({round(x, 6) for x, _ in falls}), sorted({round(y, 6) for _, y in falls})
    beside = 1.5 if stitch is Stitch.BLANKET else 0.0
    across = float(row.stitch.width) * 72 * times + beside
    assert xs[-1] - xs[0] == pytest.approx(across)
    assert ys[1] - ys[0] == pytest.approx(float(row.stitch.length) * 72 * times)
    fills = [one for one in drawing.marks if isinstance(one, Shape) and one.fill and not one.open]
    edge = next(bounds(one)[2] for one in fills if bounds(one)[0] == 0)
    assert edge - xs[0] == pytest.approx(float(row.stitch.bite) * 72 * times)
    assert all(0 <= x <= size[0] and 0 <= y <= size[1] for x, y in falls)
    above = [one for one in drawing.marks if isinstance(one, Words) and one.at[1] > bounds(fills[0])[3]]
    reaches = sorted((one for one in above if "mm" in str(one.said)), key=lambda one: one.at[0])
    for left, right in pairwise(reaches):  # "1.5 mm1.5 mm" stood over a satin stitch
        halves = (text_width(str(one.said), one.size) / 2 for one in (left, right))
        assert right.at[0] - left.at[0] > sum(halves) + 4


def test_letter_and_background_stay_apart_in_gray() -> None:
    """By the luma of Rec. 601 (from memory), a tenth of the way from black to white."""

    def luma(color: str) -> float:
        red, green, blue = (int(color[at : at + 2], 16) for at in (1, 3, 5))
        return (0.299 * red + 0.587 * green + 0.114 * blue) / 255

    assert luma(SECOND_SIDE) - luma(RIGHT_SIDE) > 0.1


def test_stabilizer_is_drawn_from_the_wrong_side_and_as_large_as_it_is_cut() -> None:
    pattern = drafted(row=[{"text": "L", "right": "6in"}, {"text": "HiHiHi", "stitch": "satin"}])
    panel, rows = pattern.panel, pattern.stitching.rows
    drawing = draw_stabilizer(panel, (), rows, (256.0, 190.0), Units.INCHES, american())
    scale = drawing.height / float(panel.cut_height)
    assert drawing.width <= 256 + 1e-9
    on_panel, *pieces = [mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill == PAPER]
    assert bounds(on_panel)[3] == pytest.approx(drawing.height)
    for row, laid, piece in zip(rows, panel.laid, pieces, strict=True):
        x0, y0, x1, y1 = bounds(piece)
        assert (x1 - x0) / scale == pytest.approx(float(row.stabilizer.width))
        assert (y1 - y0) / scale == pytest.approx(float(row.stabilizer.height))
        from_right = float(panel.width + panel.beyond) - (laid.ink[0] + laid.ink[2]) / 2
        assert middle(piece)[0] / scale == pytest.approx(from_right)
    words = [mark for mark in drawing.marks if isinstance(mark, Words)]
    assert [re.sub(r"\d+( \d+/\d+)? in", "#", str(mark.said)) for mark in words] == ["1: # by #", "2: # by #"]
    # Beside the panel, one below the other, so that nothing lies on what is drawn.
    assert all(mark.at[0] > float(panel.cut_width) * scale for mark in words)
    assert all(mark.at[0] + text_width(str(mark.said), mark.size) <= drawing.width + 1e-6 for mark in words)
    assert abs(words[0].at[1] - words[1].at[1]) >= 9


def test_stitches_to_choose_from_are_drawn_to_one_scale_and_in_line() -> None:
    """Satin 3 mm wide beside a straight stitch of 2.5 mm: the one that has the least room sets the scale of all."""
    pattern = drafted(stitching={"stitch": "satin", "offers": ["satin", "zigzag", "straight", "blanket"]})
    choices, _ = (block for block in chapter(pattern).blocks if isinstance(block, Choices))
    drawings = [option.drawing for option in choices.options]
    times, tops = set(), set()
    for drawing in drawings:
        assert drawing is not None and drawing.is_to_scale
        times |= {
            str(one.said) for one in drawing.marks if isinstance(one, Words) and "times" in str(one.said)
        }
        fills = [one for one in drawing.marks if isinstance(one, Shape) and one.fill == RIGHT_SIDE]
        tops.add(bounds(fills[0])[1:4:2])
    assert len(drawings) == 4 and len(times) == 1 and len(tops) == 1
    apart = drafted(row=[{"text": "gAp", "stitch": "satin"}, {"text": "Hi", "stitch": "straight"}])
    steps = [one.drawing for one in chapter(apart).blocks if isinstance(one, Step) and one.drawing]
    said = [str(mark.said) for one in steps for mark in one.marks if isinstance(mark, Words)]
    assert len([words for words in said if "times as large" in words]) == 2
    assert len({words for words in said if "times as large" in words}) == 1


def test_the_roll_is_drawn_with_its_pieces_and_the_lengths_to_cut_off() -> None:
    rows = [{"text": "HiHiHi"}, {"text": "to"}, {"text": "gAp"}]
    pattern = drafted(row=rows, stitching={"stitch": "satin", "stabilizer_width": "20in"})
    (need,) = pattern.stitching.stabilizers
    drawing = draw_roll(need, 480.0, Units.INCHES, american())
    assert drawing is not None
    pieces = [mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill == PAPER]
    (waste,) = [mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill == LEFT_OVER]
    assert drawing.marks.index(waste) < drawing.marks.index(pieces[0])
    regions = [region for region, _ in need.plan.cloths[0].root.pieces()]
    scale = (bounds(pieces[0])[2] - bounds(pieces[0])[0]) / float(regions[0].length)
    for piece, region in zip(pieces, regions, strict=True):
        x0, y0, x1, y1 = bounds(piece)
        sides = (x0 / scale, (x1 - x0) / scale, (y1 - y0) / scale)
        assert sides == pytest.approx(tuple(map(float, (region.x, region.length, region.width))))
    said = [str(mark.said) for mark in drawing.marks if isinstance(mark, Words)]
    assert sorted(words[0] for words in said if words[1:2] == ":" or words in "123") == ["1", "2", "3"]
    assert {american().measure(as_length(band.length, Units.INCHES)) for band in need.bands} <= set(said)
    assert drawing.width <= 480
    steps = [block for block in chapter(pattern).blocks if isinstance(block, Step)]
    (off,) = [step for step in steps if "off the roll" in str(step.said[0])]
    assert off.drawing is not None and str(off.said[1]) == "Light gray is left over."
    assert draw_roll(need, 45.0, Units.INCHES, american()) is None


@pytest.mark.parametrize("stitch", Stitch)
def test_every_turn_of_the_edge_shows_where_the_needle_is_down(stitch: Stitch) -> None:
    drawing = draw_corners(stitch)
    fields = 5
    assert len(dots(drawing, 3.0)) == 3 + 3 + 3
    names = [str(mark.said) for mark in drawing.marks if isinstance(mark, Words)]
    assert names == ["outside corner", "inside corner", "outside curve", "inside curve", "sharp point"]
    for mark in drawing.marks:
        if isinstance(mark, Shape):
            x0, y0, x1, y1 = bounds(mark)
            assert -1 <= x0 <= x1 <= drawing.width + 1
            assert 13 <= y0 <= y1 <= drawing.height + 1
            field = drawing.width / fields
            assert int((x0 + 1) / field) == min(fields - 1, int((x1 - 1) / field))


def test_letters_stand_on_their_baseline_in_the_order_of_the_words() -> None:
    """Each letter clear of the next, hanging below the line where it hangs in its font, with a dot for every edge."""
    raised = {"text": "gAp", "nudge": [{"letter": 2, "up": "1/2in"}]}
    pattern = drafted(row=[raised, {"text": "Hi"}, {"text": "to"}])
    pictures = [block.drawing for block in chapter(pattern).blocks if isinstance(block, Picture)]
    assert len(pictures) == 3
    for drawing, laid in zip(pictures, pattern.panel.laid, strict=True):
        letters = [mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill == "#ececec"]
        (baseline,) = (mark for mark in drawing.marks if isinstance(mark, Shape) and mark.open)
        scale = (bounds(letters[0])[2] - bounds(letters[0])[0]) / (laid.cuts[0].ink[2] - laid.cuts[0].ink[0])
        for letter, cut in zip(letters, laid.cuts, strict=True):
            above = (bounds(letter)[1] - bounds(baseline)[1]) / scale
            assert above == pytest.approx(cut.ink[1] - laid.baseline, abs=1e-6)
        for left, right in pairwise(letters):
            assert bounds(right)[0] - bounds(left)[2] > 5
        edges = sum(len(letter.outline.contours) for letter in letters)
        assert len(dots(drawing, 2.0)) == edges


@pytest.mark.long
def test_shapes_behind_and_letters_shown_once_stand_over_the_number_of_their_template() -> None:
    """Outlines of letters stood in a line with dots to start at, and nobody knew which template was which."""
    outlined = drafted(row=[{"text": "lilIg"}], lettering={"font": "Fredoka", "outline": "1/4in"})
    many = drafted(
        row=[{"text": "the tide comes in and out", "cap_height": "1in"} for _ in range(8)],
        panel={"width": "40in", "height": "40in"},
    )
    for pattern, layer in ((outlined, Layer.OUTLINE), (many, Layer.LETTER)):
        wanted = [one for one in pattern.templates if one.layer is layer]
        drawings = [block.drawing for block in chapter(pattern).blocks if isinstance(block, Picture)]
        under: list[tuple[str, Shape]] = []
        for drawing in drawings:
            shapes = [mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill == "#ececec"]
            numbers = [
                mark for mark in drawing.marks if isinstance(mark, Words) and str(mark.said).isdecimal()
            ]
            numbers = [mark for mark in numbers if mark.anchor is Anchor.MIDDLE]
            for number, shape in zip(numbers, shapes, strict=False):
                x0, low, x1, _ = bounds(shape)
                assert number.at[0] == pytest.approx((x0 + x1) / 2, abs=0.01)
                assert number.at[1] + 0.7 * number.size < low, "below its shape"
                under.append((str(number.said), shape))
            for left, right in pairwise(numbers):
                widths = (text_width(str(one.said), one.size) / 2 for one in (left, right))
                assert right.at[0] - left.at[0] > sum(widths) + 2
            for left_shape, right_shape in pairwise(
                shapes
            ):  # as jammed together as they were, they read as words
                assert not numbers or bounds(right_shape)[0] - bounds(left_shape)[2] > 14.9
        lines = [drawing.width for drawing in drawings if str(drawing.said) == str(drawings[-1].said)]
        assert min(lines) > 0.8 * max(lines), "no letter alone in the last line"
        assert [number for number, _ in under] == [str(one.number) for one in wanted]
        for template, (_, shape) in zip(wanted, under, strict=True):
            (x0, y0, x1, y1), (a, b, c, d) = bounds(shape), template.outline.bounds()
            assert (x1 - x0) / (y1 - y0) == pytest.approx((c - a) / (d - b)), "the shape of that template"


def test_many_letters_are_shown_once_each_and_ticked_off_by_rows() -> None:
    rows = [{"text": "the tide comes in and out", "cap_height": "1in"} for _ in range(8)]
    pattern = drafted(row=rows, panel={"width": "40in", "height": "40in"})
    blocks = chapter(pattern).blocks
    drawn = [block.drawing for block in blocks if isinstance(block, Picture)]
    shown = [
        mark for one in drawn for mark in one.marks if isinstance(mark, Shape) and mark.fill == "#ececec"
    ]
    assert len(shown) == len(pattern.templates)
    ticks = [tick.key for block in blocks if isinstance(block, Step) for tick in block.ticks]
    assert ticks == [f"stitched-row-{where.row}" for where in pattern.stitching.order]


def test_every_letter_has_a_tick_of_its_own() -> None:
    pattern = drafted()
    ticks = [tick for block in chapter(pattern).blocks if isinstance(block, Step) for tick in block.ticks]
    assert [str(tick.said) for tick in ticks] == [*"Hi", *"gAp", *"to"]
    assert len({tick.key for tick in ticks}) == 7
    assert ticks[2].key == "stitched-row-1-1"


@pytest.mark.parametrize(
    ("tables", "has", "lacks"),
    [
        (
            {},
            [
                "stick pins straight through",
                "reaches 1 in beyond each of them",
                "Remove the stabilizer",
                "tear",
                "fuse a leftover",
            ],
            ["cut-away", "fold", "Satin:", "basting", "outline"],
        ),
        ({"sewing": {"weave": "loose"}}, ["cut-away", "stays in"], ["Remove the stabilizer", "tear-away"]),
        (
            {"stitching": {"stitch": "straight"}},
            ["inside the edge"],
            ["stabilizer behind", "stick pins", "Remove", "blind"],
        ),
        (
            {"sewing": {"method": "turned edge"}, "stitching": {"when": "before the borders"}},
            [
                "inside the fold",
                "blind stitch by machine",
                "turn under one edge",
                "Pull out the basting stitches",
            ],
            ["fuse", "raw edge", "Remove the stabilizer"],
        ),
        (
            {"sewing": {"method": "turned edge"}, "stitching": {"stitch": "blanket"}},
            ["blanket stitch", "By hand", "Remove the stabilizer"],
            ["fuse", "raw edge"],
        ),
        (
            {"stitching": {"stitch": "blanket", "when": "with the quilting"}},
            ["layered and basted", "under the backing"],
            ["Press the panel", "Turn the panel wrong side up"],
        ),
        (
            {
                "stitching": {"when": "after the borders"},
                "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
            },
            ["The borders are on"],
            ["before the borders are sewn on"],
        ),
    ],
)
def test_the_words_are_those_of_the_method_and_the_stitch(
    tables: dict[str, Any], has: list[str], lacks: list[str]
) -> None:
    said = text(chapter(drafted(**tables), Edition.CUSTOMER).blocks)
    assert [words for words in has if words not in said] == []
    assert [words for words in lacks if words in said] == []


@pytest.mark.parametrize(
    ("when", "chapters"),
    [
        ("before the borders", ["stitching", "trimming", "borders", "layering", "quilting"]),
        ("after the borders", ["trimming", "borders", "stitching", "layering", "quilting"]),
        ("with the quilting", ["trimming", "borders", "layering", "stitching", "quilting"]),
    ],
)
def test_letters_are_stitched_where_the_work_has_come_to_them(when: str, chapters: list[str]) -> None:
    told = instructions_of(drafted(border=BORDER, stitching={"when": when}))
    kinds = [one.kind.value for one in told.chapters]
    assert [one for one in kinds if one in chapters] == chapters
    numbers = [step.number for step in told.steps()]
    assert numbers == list(range(1, len(numbers) + 1))


def test_a_row_read_from_right_to_left_is_drawn_and_ticked_as_it_lies() -> None:
    """The first letters read are in the first line drawn, at its right end."""
    pattern = drafted(
        language="he",
        lettering={"font": "Rubik", "cap_height": "4in"},
        panel={"width": "90in", "height": "26in"},
        row=[{"text": "אב גדה וזחט יכלמנ סעפ"}],
    )
    blocks = chapter(pattern).blocks
    (laid,) = pattern.panel.laid
    (ticks,) = (step.ticks for step in blocks if isinstance(step, Step) and step.ticks)
    assert [tick.said for tick in ticks] == [cut.text for cut in laid.cuts]
    assert ticks[-1].said == "א"
    first, second = (block.drawing for block in blocks if isinstance(block, Picture))
    widths = [cut.ink[2] - cut.ink[0] for cut in laid.cuts]
    drawn = [
        [
            bounds(mark)[2] - bounds(mark)[0]
            for mark in one.marks
            if isinstance(mark, Shape) and mark.fill == "#ececec"
        ]
        for one in (second, first)
    ]
    scale = drawn[1][-1] / widths[-1]
    assert [width / scale for width in [*drawn[0], *drawn[1]]] == pytest.approx(widths)
    assert any(isinstance(mark, Words) for mark in first.marks)


def test_the_order_of_rows_is_drawn_as_first_second_and_third() -> None:
    """A bare 2 on row 1 was read as the number of the row. The 11th to the 13th are exceptions in English."""
    drawing = next(
        block.drawing
        for block in chapter(drafted()).blocks
        if isinstance(block, Step) and block.drawing and "order in which" in str(block.drawing.said)
    )
    words, beside = (
        [mark for mark in drawing.marks if isinstance(mark, Words) and mark.bold == bold]
        for bold in (True, False)
    )
    assert [str(mark.said) for mark in words] == ["1st", "2nd", "3rd"]
    assert [str(mark.said) for mark in beside] == ["row 2", "row 1", "row 3"]
    for place, name in zip(words, beside, strict=True):
        assert place.at[1] + 0.36 * place.size == pytest.approx(name.at[1] + 0.36 * name.size, abs=8.0)
    assert words[1].at[1] > words[0].at[1] > words[2].at[1]  # the middle row first, then the top one
    for mark in words:
        rings = [one for one in drawing.marks if isinstance(one, Shape) and one.fill == PAPER]
        held = min(rings, key=lambda one: math.dist(middle(one), (mark.at[0], mark.at[1] + 2.5)))
        x0, _, x1, _ = bounds(held)
        assert x1 - x0 > text_width(str(mark.said), mark.size, bold=True) + 4
    assert [str(place_said(count)) for count in (4, 11, 12, 13, 21, 22, 23)] == (
        ["4th", "11th", "12th", "13th", "21st", "22nd", "23rd"]
    )


def test_the_order_of_work_is_drawn_on_what_is_there_when_it_is_stitched() -> None:
    for when, wide in (("before the borders", 0.0), ("after the borders", 4.0)):
        pattern = drafted(border=BORDER, stitching={"when": when})
        (step,) = (
            one
            for one in chapter(pattern).blocks
            if isinstance(one, Step) and "center row" in str(one.said[0])
        )
        assert step.drawing is not None
        ratio = (float(pattern.panel.width) + wide) / (float(pattern.panel.height) + wide)
        names = min(mark.at[0] for mark in step.drawing.marks if isinstance(mark, Words) and not mark.bold)
        leader = 10.0
        assert (names - leader) / step.drawing.height == pytest.approx(ratio)


@pytest.mark.parametrize("method", Method)
def test_outlines_are_stitched_before_any_letter_is_laid_on_them(method: Method) -> None:
    pattern = drafted(
        row=[{"text": "gAp", "outline": "1/4in"}, {"text": "Hi"}, {"text": "to", "outline": "1/4in"}],
        outline={"fabric": "Fog"},
        lettering={"font": "Fredoka", "cap_height": "4in", "fabric": "Ink"},
        sewing={"method": method.value},
    )
    placing = next(one for one in instructions_of(pattern).chapters if one.kind is ChapterKind.PLACING)
    (held,) = (block for block in placing.blocks if isinstance(block, Step) and block.ticks)
    assert [str(tick.said) for tick in held.ticks] == [
        "row 1: gAp, outlines",
        "row 2: Hi",
        "row 3: to, outlines",
    ]
    assert "the letters of rows without one" in str(held.said[0])
    assert held.drawing is not None
    shown = [mark for mark in held.drawing.marks if isinstance(mark, Shape) and mark.fill == RIGHT_SIDE]
    assert len(shown) == len(pattern.outlines) + 2  # and the letters of "Hi"
    assert "marks off" not in text(placing.blocks)  # the marks stay for the letters
    steps = [block for block in chapter(pattern).blocks if isinstance(block, Step)]
    (laid,) = (at for at, step in enumerate(steps) if "Now lay each letter" in str(step.said[0]))
    ticked = [
        (at, str(step.said[0]), [str(tick.said) for tick in step.ticks])
        for at, step in enumerate(steps)
        if step.ticks
    ]
    assert [str(tick.said) for tick in steps[laid].ticks] == ["row 1: gAp", "row 3: to"]
    assert ("held the outlines" in text(tuple(steps[laid - 1 : laid]))) == (method is Method.TURNED_EDGE)
    layered = pattern.stitching.when is WhenStitched.QUILTING
    assert ("safety pin" in text(tuple(steps[laid - 1 : laid + 1]))) == layered
    (off,) = (at for at, step in enumerate(steps) if "Brush the marks off" in str(step.said[0]))
    assert laid < off
    behind = [(words, ticks) for at, words, ticks in ticked if at < laid]
    letters = [(words, ticks) for at, words, ticks in ticked if at > laid]
    assert [ticks for _, ticks in behind] == [[*"gAp"], [*"to"]]
    assert all("outlines behind" in words and "match Fog," in words for words, _ in behind)
    assert [ticks for _, ticks in letters] == [[*"Hi"], [*"gAp"], [*"to"]]
    assert all("match Ink," in words for words, _ in letters)
    turned = method is Method.TURNED_EDGE
    assert ("Fuse" in str(steps[laid].said[-1])) != turned
    assert "fuse the shapes" not in text(chapter(pattern).blocks)


def test_nothing_stays_under_a_letter_that_comes_onto_its_outline_through_all_layers() -> None:
    """Basting and safety pins come out first, and no iron comes onto the batting: common practice, no source."""
    pattern = drafted(
        row=[{"text": "to", "outline": "1/2in"}],
        outline={"fabric": "Fog"},
        lettering={"font": "Fredoka", "cap_height": "4in", "fabric": "Ink"},
        sewing={"method": "turned edge"},
        stitching={"when": "with the quilting"},
    )
    steps = [block for block in chapter(pattern).blocks if isinstance(block, Step)]
    (laid,) = (at for at, step in enumerate(steps) if "Now lay each letter" in str(step.said[0]))
    before, onto = text(tuple(steps[laid - 1 : laid])), text(tuple(steps[laid : laid + 1]))
    assert "basting that held the outlines" in before and "every safety pin" in before
    assert "through all layers" in onto and "do not press" in onto


@pytest.mark.parametrize("stitch", ["straight", "satin"])
def test_what_belongs_between_the_layers_is_said_before_they_are_basted(stitch: str) -> None:
    """A straight stitch needs no stabilizer through a batting, a dense one does: common practice, no source."""
    pattern = drafted(
        sewing={"method": "turned edge", "weave": "loose"},
        stitching={"when": "with the quilting", "stitch": stitch},
    )
    layers = next(one for one in instructions_of(pattern).chapters if one.kind is ChapterKind.LAYERING)
    before = text(layers.blocks).partition("Tape the backing")[0]
    dense = stitch == "satin"
    assert (
        ("cut-away" in before)
        == ("baste it there with thread" in before)
        == ("Pull out the thread that you basted the stabilizer" in text(chapter(pattern).blocks))
        == bool(pattern.stitching.stabilizers)
        == dense
    )
    assert "cut-away" not in text(chapter(pattern, Edition.CUSTOMER).blocks)
    assert "by hand" not in text(chapter(pattern).blocks)
    placing = next(one for one in instructions_of(pattern).chapters if one.kind is ChapterKind.PLACING)
    assert ("with a blind stitch through the panel alone" in text(placing.blocks)) == (not dense)


@pytest.mark.parametrize(("when", "layered"), [("before the borders", False), ("with the quilting", True)])
def test_safety_pins_stay_in_a_quilt_that_is_layered(when: str, layered: bool) -> None:
    """The only pins of a layered quilt are those that hold its layers."""
    said = text(chapter(drafted(sewing={"method": "turned edge"}, stitching={"when": when})).blocks)
    assert "ull out the basting stitches that held the letters" in said
    assert "Take out the pins" not in said  # every one came out before the letters were pressed
    assert ("Leave the safety pins of the layers in" in said) is layered
    assert ("scrap with batting and backing" in said) is layered


def test_only_the_maker_is_told_reasons_and_reading_distances() -> None:
    pattern = drafted(stitching={"stitch": "satin"})
    maker, customer = (text(chapter(pattern, edition).blocks) for edition in Edition)
    for words in ("Why", "throat", "Reading distance", "your design", "ADA"):
        assert words in maker
        assert words not in customer
    assert customer.index("fingers clear") < customer.index("set the machine")


def test_stitches_to_choose_from_say_what_each_one_takes() -> None:
    pattern = drafted(stitching={"stitch": "blanket", "offers": ["satin", "blanket", "straight"]})
    choices, corners = (block for block in chapter(pattern).blocks if isinstance(block, Choices))
    titles = [str(option.title) for option in choices.options]
    assert titles == ["Satin stitch", "Blanket stitch", "Straight stitch"]
    for option, offer in zip(choices.options, pattern.offers, strict=True):
        said = [str(words) for words in option.said]
        assert f"{offer.stitches:,} stitches" in said[1]
        yards = math.fsum(need.length for need in offer.threads) / 36
        read = re.search(r"Ink: ([\d.]+) yd", said[2])
        assert read is not None
        assert float(read[1]) == pytest.approx(yards, abs=0.5 if yards >= 9.95 else 0.05)
        assert f"{offer.threads[0].spools} spool" in said[2]
        assert ("No stabilizer" in said) == (not offer.stabilizers)
    assert [str(option.title) for option in corners.options] == [
        "Blanket stitch",
        "Satin stitch",
        "Straight stitch",
    ]
    assert all(str(option.said[0]).startswith("To pivot") for option in corners.options)
    steps = [str(block.said[0]) for block in chapter(pattern).blocks if isinstance(block, Step)]
    assert sum("pivot" in words for words in steps) == 1
    # Who chose another stitch was told to set the machine to the planned one.
    other = "If you chose another stitch"
    assert other in said_in(chapter(pattern))
    assert other not in said_in(chapter(drafted()))
    assert not any(isinstance(block, Choices) for block in chapter(drafted()).blocks)


@pytest.mark.parametrize("method", [None, *Method])
def test_drawings_keep_to_their_sizes_and_say_what_they_show(method: Method | None) -> None:
    pattern = drafted(
        row=[{"text": "gAp", "outline": "1/4in"}, {"text": "Hi", "turn": 20, "stitch": "satin"}]
        + [{"text": "of it", "cap_height": "1/2in"} for _ in range(6)],
        outline={"fabric": "Fog"},
        panel={"width": "30in", "height": "36in"},
    )
    for one in instructions_of(pattern, method=method).chapters:
        if one.kind is not ChapterKind.STITCHING:
            continue
        for block in one.blocks:
            drawing = block.drawing if isinstance(block, Picture | Step) else None
            if drawing is None:
                continue
            assert str(drawing.said)
            assert drawing.width <= 520
            assert drawing.height <= 330
            for mark in drawing.marks:  # words of rows without outlines lay over the next step
                if isinstance(mark, Shape):
                    x0, y0, x1, y1 = bounds(mark)
                    assert x0 >= -2 and y0 >= -2 and x1 <= drawing.width + 2 and y1 <= drawing.height + 2
            assert all(mark.size >= 7 for mark in drawing.marks if isinstance(mark, Words))


def test_the_order_of_rows_is_drawn_with_the_names_that_it_is_said_by() -> None:
    """The step named rows by number, and the drawing beside it had places in the order and no rows."""
    pattern = drafted(
        row=[{"text": "go"}, {"text": "on"}, {"text": "up"}], panel={"width": "20in", "height": "30in"}
    )
    (step,) = [one for one in steps_of(chapter(pattern)) if "From the center row outward" in str(one.said[0])]
    assert step.drawing is not None
    names = {str(mark.said): mark.at[1] for mark in step.drawing.marks if isinstance(mark, Words)}
    for place, where in zip(("1st", "2nd", "3rd"), pattern.stitching.order, strict=True):
        assert names[f"row {where.row}"] == pytest.approx(names[place], abs=1.0)
    assert run_over(step.drawing) == []
    alone = drafted(row=[{"text": "go"}])
    assert not any("row 1" in words_in(drawing) for drawing in drawings_of(chapter(alone)))
