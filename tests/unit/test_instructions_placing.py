"""The chapter of placing: the placement drawing read as a maker reads it, and how letters are held by each method."""

from __future__ import annotations

import re
from itertools import combinations
from typing import Any

import pypdfium2
import pytest
from shapely.geometry import LineString, box

from applique.design import Method
from applique.drawings import Drawing, Shape, Words, text_width
from applique.drawings.placing import draw_placing
from applique.drawings.values import INK
from applique.drawings.vocabulary import DOTTED, RIGHT_SIDE
from applique.geometry.polygons import polygon_of
from applique.instructions import Edition, instructions_of
from applique.instructions.values import ChapterKind, Picture, Table
from applique.language import message
from applique.marks import panel_lines
from applique.pattern import Pattern
from applique.picture import Part
from applique.sheets import placement_guide_pdf
from applique.units import as_length
from applique.words.instructions.placing import TURNED_HEAD
from applique.words.sheets import from_center
from tests.chapters import chapter_of, drafted, run_over, said_in, steps_of, words_in

TWO: dict[str, Any] = {
    "row": [{"text": "ROW"}, {"text": "HI", "align": "left"}],
    "lettering": {"font": "Rubik", "cap_height": "4in"},
    "panel": {"width": "30in", "height": "20in"},
}


def placement(pattern: Pattern) -> Drawing:
    chapter = chapter_of(pattern, ChapterKind.PLACING)
    (drawing,) = [block.drawing for block in chapter.blocks if isinstance(block, Picture)]
    return drawing


def test_the_drawing_says_each_baseline_at_its_height_on_the_panel() -> None:
    pattern = drafted(**TWO)
    drawing = placement(pattern)
    panel = next(mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill)
    left, low, right, top = panel.outline.bounds()
    scale = (right - left) / float(pattern.panel.cut_width)
    assert top - low == pytest.approx(float(pattern.panel.cut_height) * scale)
    at = {str(mark.said): mark.at for mark in drawing.marks if isinstance(mark, Words)}
    for mark in pattern.marks:
        words = str(as_length(mark.baseline_from_top, pattern.design.units, denominator=16))
        assert at[words][0] < left
        assert at[words][1] + 2.5 == pytest.approx(top - mark.baseline_from_top * scale)
        assert at[f"row {mark.where.row}"][0] > right
    assert at["center line"][0] == pytest.approx((left + right) / 2)


def test_the_drawing_of_a_wide_panel_fits_a_tablet_held_upright() -> None:
    """It scrolled sideways: of 820 px, its frame has 742 between its paddings (measured), and words take 13.2 px."""
    wide = drafted(panel={"width": "60in", "height": "20in"}, row=[{"text": "HELLO THERE"}])
    drawing = placement(wide)
    least = min(mark.size for mark in drawing.marks if isinstance(mark, Words))
    assert drawing.width * 13.2 / least <= 742


def test_each_letter_has_a_tick_under_its_middle() -> None:
    pattern = drafted(**TWO)
    drawing = placement(pattern)
    left, _, right, _ = next(
        mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill
    ).outline.bounds()
    edge = panel_lines(pattern.panel).cut_edge
    scale = (right - left) / (edge[2] - edge[0])
    upright = [
        box
        for mark in drawing.marks
        if isinstance(mark, Shape) and (box := mark.outline.bounds())[3] - box[1] == pytest.approx(5.0)
    ]
    wanted = [left + (letter.tick.x - edge[0]) * scale for mark in pattern.marks for letter in mark.letters]
    assert [box[0] for box in upright] == pytest.approx(wanted)


def test_ends_of_rows_are_said_beside_them_clear_of_letters_and_of_each_other() -> None:
    pattern = drafted(**TWO)
    words = words_in(placement(pattern))
    row = pattern.marks[0]
    for place, side in ((row.left, "L"), (row.right, "R")):
        assert f"{as_length(abs(place), pattern.design.units, denominator=16)} {side}" in words
    # Under a baseline, beside the panel, they were taken for something to mark.
    gray = "Those in gray are the ends of a row"
    assert gray in said_in(chapter_of(pattern, ChapterKind.PLACING))
    roomy = drafted(**{**TWO, "row": [{"text": "HI"}]})
    assert gray not in said_in(chapter_of(roomy, ChapterKind.PLACING))


def test_distances_of_many_rows_do_not_stand_on_each_other() -> None:
    rows = [{"text": "I"} for _ in range(30)]
    pattern = drafted(
        row=rows,
        lettering={"font": "Rubik", "cap_height": "1in", "row_spacing": "4in"},
        panel={"width": "30in", "height": "160in"},
    )
    drawing = draw_placing(
        panel_lines(pattern.panel),
        pattern.marks,
        (),
        (),
        (500.0, 260.0),
        pattern.design.units,
        pattern.speech,
        message("placed"),
    )
    named = [
        mark.at[1] for mark in drawing.marks if isinstance(mark, Words) and str(mark.said).startswith("row ")
    ]
    assert len(named) == 30
    assert all(abs(one - other) > 7 for one, other in combinations(named, 2))
    assert min(named) >= 0 and max(named) <= drawing.height


@pytest.mark.parametrize("method", list(Method))
def test_letters_are_fused_or_pinned_to_the_panel_after_a_look(method: Method) -> None:
    chapter = chapter_of(drafted(**TWO), ChapterKind.PLACING, method)
    said = said_in(chapter)
    fused = method is not Method.TURNED_EDGE
    assert ("Fuse the letters to the panel" in said) is fused
    assert ("Pin each letter to the panel" in said) is not fused
    # Loose letters move with a panel that is larger than the ironing board: common practice, no source.
    assert ("Lay the panel flat, right side up, on a table or the floor" in said) is fused
    assert ("Pin every letter to the panel before you move it" in said) is fused
    assert ("web" in said) is fused
    last = said.index("to the panel,") if fused else said.index("Pin each letter")
    assert (
        said.index("Fold the panel in half")
        < said.index("Mark each baseline")
        < said.index("across the room")
    )
    assert said.index("across the room") < said.index("iron", said.index("across the room")) < last
    steps = steps_of(chapter)
    (at,) = (at for at, step in enumerate(steps) if step.ticks)
    hold, marks_off = steps[at : at + 2]
    assert [tick.key for tick in hold.ticks] == ["hold-1", "hold-2"]
    assert ("pins alone will not hold" in str(hold.said[0])) is not fused
    # Water lets wash-away glue go (common practice, no source).
    assert ("before you press again" in str(marks_off.said[0])) is fused
    assert ("without water" in str(marks_off.said[0])) is not fused
    assert ".pdf" not in said
    # Pinned letters are drawn with pins; fused ones under the cloth, with the whole iron, clear of the panel's edge.
    drawing = hold.drawing
    assert drawing is not None
    assert "press cloth" in " ".join(map(str, hold.said))
    assert ("press cloth" in words_in(drawing)) is fused
    panel, *others = (
        mark.outline.bounds() for mark in drawing.marks if isinstance(mark, Shape) and not mark.open
    )
    assert all(
        panel[0] + 2 < x0 and panel[1] + 2 < y0 and x1 < panel[2] - 2 and y1 < panel[3] - 2
        for x0, y0, x1, y1 in others[-3:]
    )


@pytest.mark.parametrize("outline", ["0in", "3/8in"])
def test_what_is_needed_after_the_iron_is_basted_or_a_mark_that_stays(outline: str) -> None:
    """The center line was marked, ironed over twice, and then the panel was to be trimmed by it."""
    basted = (
        "baste its two ends now",
        "Leave the basting at the ends of the center line until the panel is trimmed",
        "ruler along the center line, from its basting",
        "pull the basting of the center line out",
    )
    for trim, is_trimmed in (("1in", True), ("0in", False)):
        pattern = drafted(
            **{**TWO, "panel": {**TWO["panel"], "trim_after": trim}, "lettering": {"outline": outline}}
        )
        steps = list(instructions_of(pattern, edition=Edition.CUSTOMER).steps())
        told = [" ".join(map(str, step.said)) for step in steps]
        order = [number for words in basted for number, said in enumerate(told) if words in said]
        assert len(order) == (len(basted) if is_trimmed else 0)
        assert order == sorted(order)
        assert "basting thread" in said_in(chapter_of(pattern, ChapterKind.NEEDED))
        (marked,) = (number for number, said in enumerate(told) if "Fold the panel in half" in said)
        (off,) = (number for number, said in enumerate(told) if said.startswith("Brush the marks off"))
        pressed = [number for number, said in enumerate(told) if "Fuse the letters to" in said]
        assert marked < pressed[-1] < off
        # With outlines the marks are ironed over before the letters need them.
        outlined = outline != "0in"
        (tried,) = (number for number, said in enumerate(told) if said.startswith("Try the chalk pencil"))
        assert tried < marked
        assert ("is still there" in told[tried]) is outlined
        assert any("draw again what has rubbed off" in said for said in told) is outlined


def test_the_table_gives_every_row() -> None:
    pattern = drafted(**TWO)
    (table,) = [
        block for block in chapter_of(pattern, ChapterKind.PLACING).blocks if isinstance(block, Table)
    ]
    assert [str(row[1]) for row in table.rows] == ["ROW", "HI"]


def test_a_slanting_row_has_two_points_to_join_with_a_ruler() -> None:
    """“14 in to 13 1/8 in” did not say where to measure."""
    pattern = drafted(**{**TWO, "row": [{"text": "ROW", "turn": 3}, {"text": "HI"}]})
    chapter = chapter_of(pattern, ChapterKind.PLACING)
    (table, *_) = [block for block in chapter.blocks if isinstance(block, Table)]
    units = pattern.design.units
    points = [
        f"{from_center(across, units)}, {as_length(down, units, denominator=16)} down"
        for across, down in pattern.marks[0].ends
    ]
    level = str(as_length(pattern.marks[1].baseline_from_top, units, denominator=16))
    assert [str(row[2]) for row in table.rows] == ["; ".join(points), level]
    drawing = placement(pattern)
    said = [mark for mark in drawing.marks if isinstance(mark, Words)]
    (left, low, right, top) = next(
        mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill
    ).outline.bounds()
    inch = (right - left) / float(pattern.panel.cut_width)
    for across, down in pattern.marks[0].ends:
        words = str(from_center(across, units)), f"{as_length(down, units, denominator=16)} down"
        upper, lower = ([mark.at for mark in said if str(mark.said) == line] for line in words)
        assert len(upper) == len(lower) == 1
        assert low < lower[0][1] < upper[0][1] < top - down * inch
        assert abs(lower[0][0] - ((left + right) / 2 + across * inch)) < 80
    assert "join them with a ruler" in said_in(chapter)
    assert "join them with a ruler" not in said_in(chapter_of(drafted(**TWO), ChapterKind.PLACING))


def test_the_points_of_slanting_rows_stand_clear_of_every_line_on_the_panel() -> None:
    """“12 in down” ran through the center line, and through the finished edge of a panel that is trimmed."""
    rows = [
        {"text": "HARBOR", "baseline": "14in", "turn": 20},
        {"text": "HI", "baseline": "31in", "turn": 8},
    ]
    panel = {"width": "30in", "height": "34in", "trim_after": "2in"}
    pattern = drafted(row=rows, panel=panel, lettering={"font": "Rubik", "cap_height": "3in"})
    drawing = placement(pattern)
    words = [mark for mark in drawing.marks if isinstance(mark, Words) and str(mark.said).endswith(" down")]
    assert len(words) == 4
    lines = panel_lines(pattern.panel)
    (left, low, right, _) = next(
        mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill
    ).outline.bounds()
    inch = (right - left) / (lines.cut_edge[2] - lines.cut_edge[0])

    def drawn(x: float, y: float) -> tuple[float, float]:
        return left + (x - lines.cut_edge[0]) * inch, low + (y - lines.cut_edge[1]) * inch

    assert lines.trimmed_edge is not None
    paths = [LineString([drawn(*point) for point in mark.baseline]) for mark in pattern.marks]
    paths.append(LineString([drawn(*point) for point in lines.center_line]))
    for x0, y0, x1, y1 in (lines.cut_edge, lines.trimmed_edge, lines.finished_edge):
        paths.append(LineString([drawn(*at) for at in ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0))]))
    for mark in words:
        x, y = mark.at
        room = box(x, y, x + text_width(str(mark.said), mark.size), y + 2 * mark.size)
        assert not any(room.intersects(path) for path in paths)


BEHIND: dict[str, Any] = {
    "row": [{"text": "HAL"}],
    "lettering": {"font": "Rubik", "cap_height": "4in", "outline": "1/2in"},
    "panel": {"width": "30in", "height": "20in"},
}


@pytest.mark.parametrize(("reach", "over"), [("1/2in", True), ("1/16in", False)])
def test_outlines_that_overlap_are_laid_as_they_are_painted(reach: str, over: bool) -> None:
    """Fusing was told for letters and outlines at once, and nothing said which outline lies on top."""
    pattern = drafted(**{**BEHIND, "lettering": {**BEHIND["lettering"], "outline": reach}})
    steps = steps_of(chapter_of(pattern, ChapterKind.PLACING))
    (laid,) = (step for step in steps if "outlines are laid first" in " ".join(map(str, step.said)))
    said = "\n".join(map(str, laid.said))
    assert ("from left to right" in said and "the one laid later lies on top" in said) is over
    letters = "\n".join(map(str, steps[steps.index(laid) + 1].said))
    assert "Nothing is held yet" in letters
    assert (
        "Lay the letters out" in letters and "Order of the letters: from the center line outward" in letters
    )
    painted = [item.laid.bounds() for item in pattern.picture.on_panel(Part.OUTLINE)]
    assert painted == sorted(painted)  # later ones lie on top, further to the right
    stitched = said_in(chapter_of(pattern, ChapterKind.STITCHING))
    assert ("leave out the dotted ones" in stitched) is over


def test_a_quilt_without_outlines_speaks_of_none() -> None:
    for kind in (ChapterKind.PLACING, ChapterKind.STITCHING):
        assert "outline" not in said_in(chapter_of(drafted(**TWO), kind))


@pytest.mark.parametrize(
    ("text", "off", "how"),
    [
        ("HIT", [], None),
        ("Hg", ["g"], "reach below their baseline;"),
        ("שיןק", ["י", "ן", "ק", "ש"], "reach below their baseline, or stay above it;"),
    ],
)
def test_only_letters_that_stand_on_their_baseline_are_said_to(
    text: str, off: list[str], how: str | None
) -> None:
    """In Hebrew yod floats and final nun hangs: the Unicode charts show both off the line that the others stand on."""
    pattern = drafted(**{**TWO, "row": [{"text": text}], "units": "cm"})
    chapter = chapter_of(pattern, ChapterKind.PLACING)
    tables = [block for block in chapter.blocks if isinstance(block, Table)]
    rows = {str(row[0]): (str(row[1]), str(row[3])) for table in tables[1:] for row in table.rows}
    assert sorted({letter for letter, _ in rows.values()}) == off
    # The table of the guide says the same of each letter and each part.
    guide = " ".join(
        pypdfium2.PdfDocument(placement_guide_pdf(pattern))[0].get_textpage().get_text_range().split()
    )
    for letter in pattern.marks[0].letters:
        pieces = [(part.name, part.above_baseline) for part in letter.parts]
        for name, above in pieces or [(str(letter.template), letter.above_baseline)]:
            side = "above" if above > 0 else "below"
            length = as_length(abs(above), pattern.design.units, denominator=16)
            if length.number:
                assert rows.pop(name)[1] == f"{length} {side} the baseline"
                assert re.search(rf" {name} [^a-z]*? {str(length).removesuffix(' cm')} {side}", guide)
            else:
                assert off == [] or re.search(rf" {name} [^a-z]*? on the line", guide)
    assert rows == {}
    said = said_in(chapter)
    assert ("Each letter stands on its baseline" in said) is (not off)
    assert how is None or f"These letters {how} lay each one" in said
    traced = said_in(chapter_of(pattern, ChapterKind.LETTERS))
    carried = (
        "Carry the baseline" in traced or "Mark the baseline of each letter that hangs below it" in traced
    )
    assert ("Copy the baseline" in traced and carried) is bool(off)
    # Letters are laid with their middles over ticks, so that mark has to come over to the fabric too.
    assert "Copy the mark of its middle" in traced
    assert "Carry the middle over" in traced or "mark the middle behind" in traced


def test_the_center_line_is_marked_on_the_side_that_letters_are_laid_on() -> None:
    """It was drawn on the wrong side of a panel folded right side in."""
    chapter = chapter_of(drafted(), ChapterKind.PLACING)
    step = next(step for step in steps_of(chapter) if "mark the center line" in str(step.said[0]))
    assert "right side out" in str(step.said[0])
    assert step.drawing is not None
    fills = [mark.fill for mark in step.drawing.marks if isinstance(mark, Shape)]
    assert fills.count(RIGHT_SIDE) == 2 and DOTTED not in fills


def test_many_letters_are_picked_laid_and_held_row_by_row() -> None:
    few, many = (
        drafted(
            row=[{"text": "ABBA" * count}] * 4,
            lettering={"font": "Rubik", "cap_height": "1in"},
            panel={"width": "60in", "height": "20in"},
        )
        for count in (2, 8)
    )
    for pattern, picked in ((few, False), (many, True)):
        letters = steps_of(chapter_of(pattern, ChapterKind.LETTERS))
        lists = [step for step in letters if "Pick the letters out" in str(step.said[0])]
        assert [str(tick.said) for step in lists for tick in step.ticks] == (
            [f"row {row}: 1 · A × 16 and 2 · B × 16" for row in range(1, 5)] if picked else []
        )
        placed = said_in(chapter_of(pattern, ChapterKind.PLACING))
        assert ("one row at a time" in placed and "lay out the next one" in placed) is picked
        assert ("Look at the whole" in placed) is not picked


def test_a_letter_that_is_turned_in_its_row_is_said_to_be_where_letters_are_laid() -> None:
    """Only the placement guide said so: whoever read the booklet alone laid it straight, and fusing is not undone."""
    row = {"text": "OAR", "nudge": [{"letter": 2, "turn": 10}]}
    chapter = chapter_of(drafted(row=[row]), ChapterKind.PLACING)
    (rows,) = (
        block.rows
        for block in chapter.blocks
        if isinstance(block, Table) and len(block.rows[0]) == len(TURNED_HEAD)
    )
    assert [(str(cells[1]), str(cells[3])) for cells in rows] == [("A", "10° to the left")]
    assert "lies by its own baseline" in said_in(chapter)
    straight = said_in(chapter_of(drafted(row=[{"text": "OAR"}]), ChapterKind.PLACING))
    assert "turned in" not in straight and "own baseline" not in straight


@pytest.mark.long
def test_ends_are_said_of_all_rows_or_of_none() -> None:
    """One row of three had its ends in the drawing, for only that one had room beside its letters."""
    lettering = {"font": "Fredoka", "cap_height": "7in"}
    panel = {"width": "41in", "height": "47in"}
    texts = ("ROW", "STEADY", "HOME")
    pattern = drafted(row=[{"text": text} for text in texts], lettering=lettering, panel=panel)
    words = words_in(placement(pattern))
    for mark in pattern.marks:
        for place, side in ((mark.left, "L"), (mark.right, "R")):
            number = f"{as_length(abs(place), pattern.design.units, denominator=16)} {side}"
            assert number in words
    assert run_over(placement(pattern)) == []
    close = drafted(
        row=[{"text": text} for text in ("the kettle sings", "on", "the stove") * 5],
        lettering={"font": "Fredoka", "cap_height": "fit", "row_spacing": "2in"},
        panel={"width": "20in", "height": "40in"},
    )
    ends = [said for said in words_in(placement(close)) if re.search(r" [LR]$", said)]
    assert len(ends) in (0, 2 * len(close.marks))


def test_pins_lie_within_their_letters() -> None:
    """One was stamped at the same place on every letter, its head on the next one or on the panel."""
    chapter = chapter_of(drafted(**TWO), ChapterKind.PLACING, Method.TURNED_EDGE)
    (drawing,) = (
        one.drawing for one in steps_of(chapter) if one.drawing and one.ticks and one.ticks[0].key == "hold-1"
    )
    shapes = [mark for mark in drawing.marks if isinstance(mark, Shape)]
    letters = [polygon_of(one.outline, chord_error=0.05) for one in shapes if one.fill == RIGHT_SIDE]
    pins = [one for one in shapes if one.open or one.fill == INK]
    assert len(pins) == 2 * len(letters) > 0
    for pin, head in zip(pins[::2], pins[1::2], strict=True):
        points = [pin.outline.contours[0].start, pin.outline.contours[0].segments[0][0]]
        whole = LineString(points).union(box(*head.outline.bounds()).centroid.buffer(0.4))
        assert any(letter.buffer(0.01).contains(whole) for letter in letters)
