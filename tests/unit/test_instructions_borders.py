"""The chapter of borders: strips, rows and rounds against the pattern, and its drawings measured and counted."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import Any

import pytest

from applique.cloth import FabricPlan
from applique.cutting import Lie
from applique.cutting.diagram import letters_of
from applique.design import design_from_mapping
from applique.drawings import PAPER, Drawing, Shape, Words
from applique.drawings.borders import draw_join, draw_miter
from applique.instructions import Paragraph, Step, instructions_of
from applique.instructions.values import Chapter, ChapterKind
from applique.language import american
from applique.pattern import Pattern, draft
from applique.quilt.borders import Side
from applique.quilt.strips import Join
from applique.units import Units

COLORS = {"Ink": "#203040", "Rust": "#a05030", "Moss": "#506040", "Fog": "#e0e0d8"}
QUARTER = Fraction(1, 4)


def drafted(*borders: dict[str, Any], **tables: Any) -> Pattern:
    return draft(
        design_from_mapping(
            {
                "lettering": {"font": "Fredoka", "cap_height": "4in"},
                "panel": {"width": "24in", "height": "12in", "fabric": "Fog"},
                "row": [{"text": "Hi"}],
                "fabric": [{"name": name, "color": color} for name, color in COLORS.items()],
                "border": list(borders),
                **tables,
            }
        )
    )


def strip(**more: Any) -> dict[str, Any]:
    return {"kind": "strip", "width": "2in", "fabrics": ["Rust"], **more}


SQUARES = {"kind": "squares", "size": "2in", "fabrics": ["Ink", "Rust", "Moss"]}


def chapter(pattern: Pattern) -> Chapter:
    return next(one for one in instructions_of(pattern).chapters if one.kind is ChapterKind.BORDERS)


def steps(pattern: Pattern) -> list[Step]:
    return [block for block in chapter(pattern).blocks if isinstance(block, Step)]


def said(step: Step) -> str:
    """Its words, without the letters of fabrics and pieces before the names of fabrics."""
    return re.sub(r"\b[A-F](?: [a-z])? \((\w+)\)", r"\1", " ".join(map(str, step.said)))


def keys(step: Step) -> list[str]:
    return [tick.key for tick in step.ticks]


def filled(drawing: Drawing, color: str) -> list[tuple[float, float, float, float]]:
    return [mark.outline.bounds() for mark in drawing.marks if isinstance(mark, Shape) and mark.fill == color]


def letters(drawing: Drawing) -> list[str]:
    words = [mark.said for mark in drawing.marks if isinstance(mark, Words)]
    return [word for word in words if isinstance(word, str) and re.fullmatch("[A-Z]( [a-z])?", word)]


def test_each_round_shows_its_strips_by_letter_and_how_large_the_top_is() -> None:
    pattern = drafted(strip())
    sides, ends = steps(pattern)
    letter = "ABCD"[_bought(pattern).index("Rust")]
    piece = letters_of(_cut(pattern, "Rust").diagrams)["border 1, 1, 1.1"]
    assert f"a strip of {letter} {piece} (Rust) each" in str(sides.said[2])
    assert "a strip of Rust each, 12 1/2 in long and 2 1/2 in wide" in said(sides)
    assert said(sides).startswith(
        "Measure the top down its middle, raw edge to raw edge: it should be 12 1/2 in. Trim"
    )
    assert said(ends).startswith(
        "Measure the top across its middle, raw edge to raw edge: it should be 28 1/2 in. Trim"
    )
    assert "Right sides together, pin" in said(sides)
    assert "Press toward the border" in said(sides)
    assert (keys(sides), keys(ends)) == (
        ["border-1-left", "border-1-right"],
        ["border-1-top", "border-1-bottom"],
    )
    for step, (wide, high), new in ((sides, (28, 12), (2, 12)), (ends, (28, 16), (28, 2))):
        drawing = step.drawing
        assert drawing is not None
        found = filled(drawing, COLORS["Rust"])
        assert len(found) == 2
        scale = (found[0][2] - found[0][0]) / new[0]
        assert (found[0][3] - found[0][1]) / scale == pytest.approx(new[1])
        assert (max(one[2] for one in found) - min(one[0] for one in found)) / scale == pytest.approx(wide)
        assert (max(one[3] for one in found) - min(one[1] for one in found)) / scale == pytest.approx(high)
        first, second = letters(drawing)
        assert first == second and first[0] == letter
        assert f"a strip of {first} (Rust) each" in " ".join(map(str, step.said))
        measures = {str(mark.said) for mark in drawing.marks if isinstance(mark, Words)}
        assert {f"{wide} 1/2 in", f"{high} 1/2 in"} <= measures
        assert all(mark.size >= 7 for mark in drawing.marks if isinstance(mark, Words))


def test_a_strip_too_narrow_for_its_letter_has_it_outside() -> None:
    sides, _ = steps(drafted(strip(width="1/2in")))
    drawing = sides.drawing
    assert drawing is not None
    (left, _), words = filled(drawing, COLORS["Rust"]), [w for w in drawing.marks if isinstance(w, Words)]
    named = [word for word in words if word.said in letters(drawing)]
    assert len(named) == 2
    assert 0 < named[0].at[0] < left[0]


def test_rows_of_squares_are_drawn_with_the_letters_of_their_fabrics_in_order() -> None:
    pattern = drafted(SQUARES)
    (border,) = pattern.quilt.borders
    rows, sewn, *_ = steps(pattern)
    chips = {name: chip for chip, name in zip("ABCDE", _bought(pattern), strict=False)}
    drawing = rows.drawing
    assert drawing is not None
    wanted = [chips[fabric] for one in border.steps[0].strips for fabric, _ in one.pieces]
    key = list(dict.fromkeys(wanted))
    assert letters(drawing) == wanted + key
    squares = [one for color in COLORS.values() for one in filled(drawing, color) if one[2] - one[0] > 14]
    assert len(squares) == len(wanted) == 12
    assert all(one[2] - one[0] == pytest.approx(one[3] - one[1]) for one in squares)
    assert "Sew each row and press its seams toward the" in said(rows)
    assert "12 1/2 in long" in said(rows)
    assert keys(rows) == ["border-1-left-row", "border-1-right-row"]
    round_drawn = sewn.drawing
    assert round_drawn is not None
    assert sorted(letters(round_drawn)) == sorted(wanted)
    assert "the rows, 12 1/2 in long and 2 1/2 in wide" in said(sewn)


def _cut(pattern: Pattern, name: str) -> FabricPlan:
    return next(buy.cutting for buy in pattern.shopping.cloth if buy.fabric.name == name)


def _bought(pattern: Pattern) -> list[str]:
    return [buy.fabric.name for buy in pattern.shopping.cloth]


def test_a_long_row_goes_on_in_lines_so_that_every_letter_has_room() -> None:
    pattern = drafted({**SQUARES, "size": "1in"}, panel={"width": "60in", "height": "12in", "fabric": "Fog"})
    *_, rows, _ = steps(pattern)
    drawing = rows.drawing
    assert drawing is not None
    pieces = [one for color in COLORS.values() for one in filled(drawing, color) if one[3] - one[1] > 12.5]
    assert len(pieces) == 2 * 62
    assert all(one[2] - one[0] >= 12.99 for one in pieces)
    assert max(one[2] for one in pieces) <= drawing.width + 1e-6
    assert drawing.height < 330


def test_a_long_row_in_no_cycle_is_shown_by_its_drawing_alone() -> None:
    """A ring of 112 squares closes with one out of turn: the row that has it is not said name by name."""
    panel = {"width": "42in", "height": "12in", "fabric": "Fog"}
    found = [said(step) for step in steps(drafted({**SQUARES, "size": "1in"}, panel=panel))]
    (odd,) = [words for words in found if "in the order that is drawn" in words]
    assert "44 pieces in the order that is drawn" in odd
    assert all(len(words) < 400 for words in found)


def test_the_short_rectangle_is_named_in_words_and_in_the_row() -> None:
    pattern = drafted({"kind": "rectangles", "width": "2in", "size": "5in", "fabrics": ["Ink", "Moss"]})
    rows, *_ = steps(pattern)
    assert "Shorter than the others: the last piece, at the bottom of the left and right sides (2 in" in said(
        rows
    )
    drawing = rows.drawing
    assert drawing is not None
    assert [str(mark.said) for mark in drawing.marks if isinstance(mark, Words)].count("shorter") == 2
    row = [mark for mark in drawing.marks if isinstance(mark, Shape)][:3]
    wide = [one.outline.bounds()[2] - one.outline.bounds()[0] for one in row]
    assert wide[0] == pytest.approx(wide[1])
    assert wide[0] / wide[2] == pytest.approx(5 / 2)


def test_cornerstones_are_sewn_to_the_ends_of_the_second_strips() -> None:
    pattern = drafted(strip(corners="cornerstones", corner_fabric="Ink"))
    sides, stones, ends = steps(pattern)
    assert "a strip of Rust each, 12 1/2 in long" in said(sides)
    assert "a square of Ink, cut 2 1/2 in, to each end of both strips of Rust, 24 1/2 in long" in said(stones)
    assert "Each is now 28 1/2 in long" in said(stones)
    assert stones.drawing is not None
    assert len(letters(stones.drawing)) == 2 * 3 + 2
    assert "28 1/2 in" in said(ends)
    assert ends.drawing is not None
    assert len(letters(ends.drawing)) == 2 * 3


def test_a_mitered_border_says_which_strip_goes_where_and_closes_four_corners() -> None:
    """Side + 2 borders + 4 in (common practice, no source): 12 + 4 + 4 and 24 + 4 + 4 in."""
    pattern = drafted(strip(corners="mitered"))
    (border,) = pattern.quilt.borders
    sewn, miter = steps(pattern)
    words = said(sewn)
    assert (
        "a strip of Rust, 20 in long, on the left and on the right, and one of Rust, 32 in long, at" in words
    )
    assert "Each strip reaches 3 3/4 in past the top at both ends" in words
    assert (
        (20 - Fraction(25, 2)) / 2 == Fraction(15, 4) == border.overhang(border.steps[0].strips[0], QUARTER)
    )
    assert "stop every seam 1/4 in from the corner" in words
    assert "mark its middle and, half of what you measured to either side of it" in words
    assert "Fold the loose ends of strips that are already on out of the way" in words
    assert "loose ends of the other strips out of the way" in said(miter)
    assert "trim the strips to 1/4 in beside the seam and press it open" in said(miter)
    assert "45°" in said(miter)
    assert keys(miter) == [
        "border-1-top-left",
        "border-1-top-right",
        "border-1-bottom-right",
        "border-1-bottom-left",
    ]
    assert len(keys(sewn)) == len(Side)


def test_strips_of_a_mitered_border_are_cut_longer_than_what_was_measured() -> None:
    """Cut to the measure itself they cannot be mitered; only rows of pieces are fitted by their seams, and butted
    strips round by round."""
    told = {
        name: " ".join(
            str(block.said) for block in chapter(drafted(border)).blocks if isinstance(block, Paragraph)
        )
        for name, border in (
            ("mitered", strip(corners="mitered")),
            ("strip", strip()),
            ("stones", strip(corners="cornerstones", corner_fabric="Ink")),
            ("squares", {**SQUARES}),
        )
    }
    assert "The strips are 7 1/2 in longer than the sides of the top" in told["mitered"]
    for name, words in told.items():
        assert ("trim the strips to what you measured" in words) == (name == "stones")
        assert ("a thread wider or narrower" in words) == (name == "squares")


def test_every_piece_of_a_border_is_named_as_it_was_cut() -> None:
    """The slips on the pieces were never read again; pieces of one size had two names, by the side they were for."""
    rectangles = {"kind": "rectangles", "width": "2in", "size": "4in", "fabrics": ["Ink", "Rust", "Moss"]}
    for turns in ("quarter", "upright"):
        fabrics = [{"name": name, "color": color, "turns": turns} for name, color in COLORS.items()]
        pattern = drafted(rectangles, fabric=fabrics)
        (rows, sewn, *_), bought = steps(pattern), _bought(pattern)
        taken = str(rows.said[0])
        assert taken.startswith("Take ") and "row" in str(sewn.said[0])
        assert rows.drawing is not None
        key = {str(mark.said) for mark in rows.drawing.marks if isinstance(mark, Words)}
        for name in ("Ink", "Rust", "Moss"):
            cut, fabric = _cut(pattern, name), "ABCDEF"[bought.index(name)]
            names = letters_of(cut.diagrams)
            (use,) = [use for use in cut.uses if use.border == 1]
            sizes = {(one.length, one.width, one.lie if turns == "upright" else None) for one in use.strips}
            assert len(use.keys) == len(sizes)
            upright = [one for one in use.strips if one.lie is Lie.ALONG or turns == "quarter"]
            assert any(f" of {fabric} {names[one.key]} ({name})" in taken for one in upright)
            in_key = next(words for words in key if words.startswith(f"{name}: "))
            assert set(re.findall(r"[A-F] [a-z]\b", in_key)) == set(re.findall(rf"{fabric} [a-z]\b", taken))
            counts = [int(one) for one in re.findall(rf"(\d+) of {fabric} \w+ \({name}\)", taken)]
            assert sum(counts) == sum(
                fabric_of == name
                for strip in pattern.quilt.borders[0].steps[0].strips
                for fabric_of, _ in strip.pieces
            )


def test_a_row_that_breaks_its_cycle_once_says_that_it_is_meant() -> None:
    """Three fabrics around 15 by 17 squares: one corner takes another piece, so that two alike do not meet."""
    squares = {**SQUARES, "size": "3in", "first": "top and bottom"}
    pattern = drafted(squares, panel={"width": "45in", "height": "51in", "fabric": "Fog"})
    names = {
        strip.side: "".join(fabric[0] for fabric, _ in strip.pieces)
        for step in pattern.quilt.borders[0].steps
        for strip in step.strips
    }
    told = " ".join(said(step) for step in steps(pattern))
    broken = [side for side, row in names.items() if any(row[i] != row[i - 3] for i in range(3, len(row)))]
    assert len(broken) == 1
    assert f"The order of the {broken[0].value} row breaks its cycle once, on purpose" in told
    assert told.count("on purpose") == 1


def test_mitered_strips_of_two_lengths_are_told_apart_by_their_names() -> None:
    pattern = drafted(strip(corners="mitered"))
    sewn, mitered = steps(pattern)[:2]
    assert sewn.drawing is not None and mitered.drawing is not None
    names = {frozenset(letters(drawing)) for drawing in (sewn.drawing, mitered.drawing)}
    (both,) = names
    assert len(both) == 2
    upright = [m for m in sewn.drawing.marks if isinstance(m, Words) and m.said in both and m.turn_deg]
    assert len({m.said for m in upright}) == 1
    assert f"strip of {upright[0].said} (Rust), " in " ".join(map(str, sewn.said))


def test_a_miter_is_drawn_at_45_degrees_from_the_end_of_the_seams() -> None:
    pattern = drafted(strip(corners="mitered"))
    (border,) = pattern.quilt.borders
    names = {Side.TOP: "B a", Side.RIGHT: "B b"}
    drawing = draw_miter(border, border.steps[0], QUARTER, names, Units.INCHES, american())
    assert letters(drawing) == ["B a", "B b", "B b", "B a", "B a", "B b"]
    sewn = [mark for mark in drawing.marks if isinstance(mark, Shape) and mark.open and mark.ink]
    slanted = []
    for one in sewn:
        (contour,) = one.outline.contours
        (x0, y0), (x1, y1) = contour.start, contour.segments[-1][-1]
        if one.ink is not None and one.ink.width > 1 and x0 != x1 and y0 != y1:
            slanted.append(math.degrees(math.atan2(y1 - y0, x1 - x0)))
    assert slanted == [pytest.approx(45)]
    folds = [one.outline.bounds() for one in sewn if one.ink is not None and one.ink.dashes == (5.0, 2.5)]
    assert [(x1 - x0) / (y1 - y0) for x0, y0, x1, y1 in folds] == pytest.approx([1.0, 1.0])
    assert [str(mark.said) for mark in drawing.marks if isinstance(mark, Words)].count("fold") == 1
    texts = [str(mark.said) for mark in drawing.marks if isinstance(mark, Words)]
    assert texts.count("1/4 in") == 1
    strips = [
        mark.outline.bounds() for mark in drawing.marks if isinstance(mark, Shape) and mark.fill == PAPER
    ]
    (line,) = (
        one.outline.bounds()
        for one in sewn
        if one.ink is not None
        and one.ink.width > 1
        and one.outline.bounds()[0] != one.outline.bounds()[2]
        and one.outline.bounds()[1] != one.outline.bounds()[3]
    )
    assert line[2] < max(one[2] for one in strips)
    assert drawing.width <= 520


def test_strips_too_short_for_their_sides_are_joined_and_cut_from_the_run() -> None:
    wide = {"width": "60in", "height": "50in", "fabric": "Fog"}
    for joins, words in (
        ("diagonal", "crossing at right angles"),
        ("straight", "stitch 1/4 in from the ends"),
    ):
        join, sides, ends = steps(drafted(strip(joins=joins), panel=wide))
        assert words in said(join)
        assert "press the seam open" in said(join)
        assert "Leave the long strip whole" in said(join) and "Cut" not in said(join)
        for pair, long in ((sides, "50 1/2 in"), (ends, "64 1/2 in")):
            assert (
                f"it should be {long}. Cut from the long strip: 2 of {long}, or of what you measured."
                in said(pair)
            )
            assert "Trim" not in said(pair)
        assert keys(join) == ["border-1-join"]
        assert join.drawing is not None
    assert "Join the strips" not in said(steps(drafted(strip()))[0])


@pytest.mark.parametrize("join", Join)
def test_a_join_is_drawn_with_its_width_and_its_seam(join: Join) -> None:
    drawing = draw_join(join, Fraction(5, 2), QUARTER, Units.INCHES, american())
    texts = [str(mark.said) for mark in drawing.marks if isinstance(mark, Words)]
    assert {"2 1/2 in", "1/4 in", "1", "2"} <= set(texts)
    assert ("3" in texts) == (join is Join.DIAGONAL)
    assert drawing.width <= 240


def test_every_seam_of_all_borders_has_a_tick_of_its_own() -> None:
    pattern = drafted(strip(corners="mitered"), SQUARES, strip(width="1in"))
    found = [key for step in steps(pattern) for key in keys(step)]
    assert len(found) == len(set(found))
    for border in pattern.quilt.borders:
        for side in Side:
            assert f"border-{border.number}-{side}" in found
    for step in steps(pattern):
        assert step.drawing is not None
        assert step.drawing.height < 330


def test_strips_to_be_mitered_are_drawn_with_the_tails_that_they_are_cut_with() -> None:
    """They were drawn as trapezoids that end at the corners, as if they were mitered already."""
    pattern = drafted(strip(corners="mitered"))
    (border,) = pattern.quilt.borders
    sewn = steps(pattern)[0].drawing
    assert sewn is not None
    rust = [m.outline.bounds() for m in sewn.marks if isinstance(m, Shape) and m.fill == COLORS["Rust"]]
    top = [
        m.outline.bounds()
        for m in sewn.marks
        if isinstance(m, Shape) and m.fill not in (None, COLORS["Rust"])
    ]
    scale = (max(b[2] for b in top) - min(b[0] for b in top)) / 24
    cut = {strip.side: float(strip.cut_length) for strip in border.steps[0].strips}
    across = sorted(round((x1 - x0) / scale, 2) for x0, _, x1, _ in rust)
    down = sorted(round((y1 - y0) / scale, 2) for _, y0, _, y1 in rust)
    assert across == [2.0, 2.0, round(cut[Side.TOP], 2), round(cut[Side.BOTTOM], 2)]
    assert down == [2.0, 2.0, round(cut[Side.LEFT], 2), round(cut[Side.RIGHT], 2)]
    assert min(b[0] for b in rust) >= 0.0 and max(b[2] for b in rust) <= sewn.width
