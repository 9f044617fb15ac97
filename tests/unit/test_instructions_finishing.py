"""Layering, quilting, trimming, sleeve, binding and label: their steps and drawings beside the `Pattern`."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
import shapely
from shapely.geometry import LineString

from applique.cloth import ClothUse, UseKind
from applique.cutting.diagram import letters_of
from applique.design import QuiltingKind, design_from_mapping
from applique.drawings import Drawing, Shape, Words, text_width
from applique.drawings.binding import Bound
from applique.drawings.folding import draw_join
from applique.drawings.vocabulary import RIGHT_SIDE, SECOND_SIDE
from applique.geometry.outline import Contour, Outline
from applique.instructions import (
    Cautions,
    Chapter,
    ChapterKind,
    Choices,
    Edition,
    Instructions,
    Paragraph,
    Step,
    instructions_of,
)
from applique.language import message
from applique.marks import Outlined
from applique.panel import on_panel
from applique.pattern import Pattern, draft
from applique.picture import Part
from applique.quilt.edge import Edge
from applique.quilt.finishing import binding_seam
from applique.sewing.quilting import Ruled
from applique.sewing.threads import ThreadUse
from applique.shopping import ShelfKind
from applique.units import Units, as_length, as_run
from applique.words.buying import item_said
from applique.words.instructions.quilting import marked_said
from applique.words.label import blanks_said
from tests.chapters import chapter_of
from tests.chapters import said_in as words_of
from tests.there import there

DESIGN: dict[str, Any] = {
    "title": "High water",
    "row": [{"text": "HI"}],
    "panel": {"width": "53in", "height": "32in", "fabric": "Oat"},
    "lettering": {"fabric": "Ink", "cap_height": "5in"},
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
    "fabric": [{"name": "Oat", "color": "#e8dfc8"}, {"name": "Ink", "color": "#203040"}],
    "backing": {"fabric": "Oat"},
    "hanging": {"sleeve": True},
    "quilting": [
        {"kind": "in the ditch"},
        {"kind": "echo", "offered": True, "lines": 2},
        {"kind": "crosshatch", "offered": True, "spacing": "3in"},
    ],
    "stitching": {"spool": "60yd"},
}
WORST: dict[str, dict[str, Any]] = {
    "inches": DESIGN,
    "metric": {
        **DESIGN,
        "units": "cm",
        "panel": {"width": "80cm", "height": "70cm"},
        "binding": {"grain": "bias"},
        "backing": {"kind": "leftovers"},
        "quilting": [{"kind": "edge to edge"}],
    },
    "wide binding": {
        **DESIGN,
        "panel": {"width": "9in", "height": "8in"},
        "lettering": {"cap_height": "3in"},
        "border": [],
        "binding": {"width": "6in"},
        "quilting": [],
    },
    "narrow binding": {
        **DESIGN,
        "panel": {"width": "110in", "height": "100in"},
        "lettering": {"cap_height": "15in"},
        "binding": {"width": "1 1/2in"},
        "quilting": [{"kind": "lines", "spacing": "2in", "offered": True}],
    },
}


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return draft(design_from_mapping(DESIGN))


@pytest.fixture(scope="module", params=WORST)
def any_pattern(request: pytest.FixtureRequest) -> Pattern:
    return draft(design_from_mapping(WORST[request.param]))


def chapter(instructions: Instructions, kind: ChapterKind) -> Chapter:
    (found,) = [one for one in instructions.chapters if one.kind is kind]
    return found


def steps(pattern: Pattern, kind: ChapterKind, edition: Edition = Edition.MAKER) -> list[tuple[Step, str]]:
    found = chapter(instructions_of(pattern, edition=edition), kind)
    return [
        (block, " ".join(map(pattern.speech.field, block.said)))
        for block in found.blocks
        if isinstance(block, Step)
    ]


def step(pattern: Pattern, kind: ChapterKind, beginning: str) -> tuple[Step, str]:
    (found,) = [one for one in steps(pattern, kind) if one[1].startswith(beginning)]
    return found


def drawing_of(pattern: Pattern, kind: ChapterKind, beginning: str) -> Drawing:
    found, _ = step(pattern, kind, beginning)
    assert found.drawing is not None
    return found.drawing


def boxes(drawing: Drawing, fill: str | None = None) -> Iterator[tuple[float, float, float, float]]:
    """Left, low, width and height of the shapes of a drawing, all or those with one fill."""
    for mark in drawing.marks:
        if isinstance(mark, Shape) and (fill is None or mark.fill == fill):
            points = [contour.start for contour in mark.outline.contours]
            points += [
                p for contour in mark.outline.contours for segment in contour.segments for p in segment
            ]
            xs, ys = zip(*points, strict=True)
            yield min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)


def said_in(pattern: Pattern, drawing: Drawing) -> list[str]:
    return [pattern.speech.field(mark.said) for mark in drawing.marks if isinstance(mark, Words)]


# Kinds of quilting to choose from


def test_kinds_to_choose_from_stand_side_by_side_and_the_others_are_steps(pattern: Pattern) -> None:
    blocks = chapter(instructions_of(pattern), ChapterKind.QUILTING).blocks
    (choices,) = [block for block in blocks if isinstance(block, Choices)]
    assert [pattern.speech.field(one.title) for one in choices.options] == ["Echo", "Crosshatch"]
    ditch, *offered = pattern.quilting
    field = pattern.speech.field
    for option, plan in zip(choices.options, offered, strict=True):
        assert option.drawing is not None
        how, *_, thread = map(field, option.said)
        assert f"{plan.stitches:,} stitches" in thread
        assert f"{field(as_run(plan.thread, Units.INCHES))} of the thread for quilting" in thread
        assert "spool" not in thread  # the list has said it: twice is one spool too many
        assert ("2 lines" in how) == (plan.kind is QuiltingKind.ECHO)
    _, words = step(pattern, ChapterKind.QUILTING, "In the ditch")
    assert f"{ditch.stitches:,} stitches" in words
    assert "away from the seam allowances" in words
    told = [words for _, words in steps(pattern, ChapterKind.QUILTING)]
    assert not any(words.startswith(("Echo", "Crosshatch")) for words in told)


def test_thread_to_buy_is_for_all_that_is_sewn_and_the_most_of_what_is_offered(pattern: Pattern) -> None:
    ditch, echo, crosshatch = pattern.quilting
    # Echoes by themselves go on until they fill the quilt.
    assert echo.thread > crosshatch.thread
    (need,) = [one for one in pattern.threads if ThreadUse.QUILTING in one.uses]
    assert need.length == pytest.approx(ditch.thread + echo.thread)
    assert "the most any of the kinds to choose from takes" in pattern.speech.tell(
        item_said(need, pattern.design.units)
    )
    shelf = next(one for one in pattern.shopping.shelves if one.kind is ShelfKind.THREAD)
    assert need in shelf.items
    sewn = [{**one, "offered": False} for one in DESIGN["quilting"]]
    sews_all = draft(design_from_mapping({**DESIGN, "quilting": sewn}))
    (all_three,) = [one for one in sews_all.threads if ThreadUse.QUILTING in one.uses]
    assert all_three.length == pytest.approx(sum(plan.thread for plan in sews_all.quilting))
    # Where both are sewn the crosshatch stops at the outermost echo, and fills what the echoes leave.
    _, few, fewer = sews_all.quilting
    assert few.further == 0 < echo.further
    assert fewer.thread < crosshatch.thread
    assert not all_three.at_most


def test_the_quilt_is_pictured_with_one_of_the_kinds_to_choose_from(pattern: Pattern) -> None:
    """The first, beside all that is sewn; each kind has its own lines in its small picture."""
    assert {item.quilting for item in pattern.picture.of(Part.QUILTING)} == {1, 2}
    (choices,) = [
        block
        for block in chapter(instructions_of(pattern), ChapterKind.QUILTING).blocks
        if isinstance(block, Choices)
    ]
    drawn = [
        sum(isinstance(mark, Shape) and mark.open for mark in option.drawing.marks)
        for option in choices.options
        if option.drawing is not None
    ]
    assert drawn == [len(plan.lines) for plan in pattern.quilting[1:]]


def test_the_finished_size_is_said_to_be_the_one_inside_the_binding(pattern: Pattern) -> None:
    """A panel of 53 by 32 in with a border of 2 in; a binding sewn on with 1/4 in wraps the edge and adds nothing."""
    told = words_of(chapter(instructions_of(pattern), ChapterKind.BEFORE))
    assert "The finished size, 57 in by 36 in, is what shows inside the binding." in told
    assert (
        "covers 1/4 in more on every side: once it is bound, the quilt measures about 57 1/2 in by 36 1/2 in"
        in told
    )


def test_a_quilt_without_seams_has_no_ditch_to_stitch_in() -> None:
    bare = draft(design_from_mapping({**DESIGN, "border": []}))
    _, words = step(bare, ChapterKind.QUILTING, "In the ditch")
    assert "no seams to stitch in" in words and "thread" not in words


@pytest.mark.parametrize(
    ("lines", "besides", "runs_off", "goes_on"),
    [
        (2, [], False, True),
        (10, [], True, False),
        (2, [{"kind": "crosshatch", "spacing": "3in"}], False, False),
        (2, [{"kind": "edge to edge"}], False, False),
    ],
)
def test_echoes_say_where_they_begin_and_how_they_end(
    lines: int, besides: list[dict[str, Any]], runs_off: bool, goes_on: bool
) -> None:
    """She goes on where more than 6 in stay open (common practice, no source): a 5 in word on 20 in by 16 in."""
    echo = {"kind": "echo", "lines": lines, "spacing": "1in"}
    design = {
        **DESIGN,
        "panel": {"width": "24in", "height": "20in"},
        "quilting": [echo, *besides],
        "border": [],
    }
    quilt = draft(design_from_mapping(design))
    _, words = step(quilt, ChapterKind.QUILTING, "Echo")
    assert "The first line lies 1 in outside the edges of the letters." in words
    assert "they run together: sew one line around both" in words
    assert (
        "In a hole or an opening of a letter wider than 2 1/4 in they go inward, 1 in from its edge" in words
    )
    assert ("run off" in words) == runs_off
    assert ("until the quilt is filled" in words) == goes_on
    # What she is told to sew is what there is thread for: each line covers 1/2 in to either side (coarea formula).
    plan = quilt.quilting[0]
    drawn = math.fsum(LineString(points).length for points in plan.lines)
    assert plan.length == pytest.approx(drawn + plan.further)
    assert (plan.further > 0) == goes_on
    if goes_on:
        assert f"about {quilt.speech.field(as_run(plan.further, quilt.design.units))} beyond" in words
        before_first = shapely.union_all([on_panel(cut) for cut in quilt.panel.cuts]).buffer(0.5)
        assert plan.length == pytest.approx(24 * 20 - before_first.area, rel=0.02)


@pytest.mark.parametrize(
    ("width", "tables", "said", "lacks"),
    [
        ("30in", {}, "fold two squares of 4 in from corner to corner", "hem the ends"),
        ("50in", {}, "a strip 8 1/2 in by 49 in, 1/2 in at each", "squares of 4 in"),
        ("30in", {"hanging": {"sleeve": True}}, "Lower edge of the hanging sleeve", "has no hanging sleeve"),
        ("100in", {}, "Binding", "has no hanging sleeve"),
    ],
)
def test_whoever_hangs_a_quilt_without_a_sleeve_knows_how_before_it_is_bound(
    width: str, tables: dict[str, Any], said: str, lacks: str
) -> None:
    """Corner pockets for a narrow one, a sleeve of her own for a wide one, nothing for a bed."""
    panel = {"width": width, "height": "90in" if width == "100in" else "20in", "fabric": "Oat"}
    plain = {key: value for key, value in DESIGN.items() if key not in ("hanging", "border", "quilting")}
    quilt = draft(design_from_mapping({**plain, "panel": panel, **tables}))
    told = words_of(chapter_of(quilt, ChapterKind.FINISHING))
    assert said in told and lacks not in told
    (tools,) = (chapter for chapter in instructions_of(quilt).chapters if chapter.kind is ChapterKind.NEEDED)
    rod = re.search(r"flat rod about (\d+) in long if it is to hang by corner pockets", words_of(tools))
    assert (rod is not None) == ("two squares" in said)
    assert rod is None or int(rod[1]) == int(width.removesuffix("in")) - 1
    if "sleeve" in lacks:
        return
    assert told.index(said) < told.index("Press the strip in half lengthwise")


def test_the_middle_is_marked_before_it_is_basted(pattern: Pattern) -> None:
    told = [words for _, words in steps(pattern, ChapterKind.LAYERING)]
    order = [
        next(at for at, words in enumerate(told) if beginning in words)
        for beginning in (
            "Thread-mark the center and the corners",
            "Tape the backing",
            "Baste from the middle",
        )
    ]
    assert order == sorted(order)


def test_without_quilting_of_her_own_she_knows_what_the_thread_is_for() -> None:
    plain = draft(design_from_mapping({**DESIGN, "quilting": []}))
    (need,) = [one for one in plain.threads if ThreadUse.QUILTING in one.uses]
    _, words = step(plain, ChapterKind.QUILTING, "Quilt it as you like")
    assert f"{round(need.length / 36)} yd" in words and "lines about 1 in apart" in words
    assert "the maker of the batting allows" in words and "straight over them" in words


def test_one_kind_offered_alone_is_hers_to_take_or_leave() -> None:
    alone = draft(design_from_mapping({**DESIGN, "quilting": [{"kind": "echo", "offered": True}]}))
    blocks = chapter(instructions_of(alone), ChapterKind.QUILTING).blocks
    told = [alone.speech.field(one.said) for one in blocks if isinstance(one, Paragraph)]
    assert any("or as you like" in words for words in told)
    assert not any("Choose one of these" in words for words in told)


# Layers


@pytest.mark.parametrize("turns", ["quarter", "upright"])
def test_the_back_is_drawn_with_its_seams_where_they_are(turns: str) -> None:
    """Pieces lie one above the other, or side by side where the print stands upright."""
    pattern = draft(
        design_from_mapping(
            {**DESIGN, "fabric": [{**DESIGN["fabric"][0], "turns": turns}, DESIGN["fabric"][1]]}
        )
    )
    drawing = drawing_of(pattern, ChapterKind.LAYERING, "Take A ")
    back, patches = pattern.quilt.backing, pattern.shopping.back
    assert len({patch.x for patch in patches}) == (2 if turns == "upright" else 1)
    assert len(patches) == 2
    drawn = list(boxes(drawing, RIGHT_SIDE))
    left, low = min(one[0] for one in drawn), min(one[1] for one in drawn)
    scale = sum(one[2] * one[3] for one in drawn) ** 0.5 / math.sqrt(back.width * back.height)
    for (x, y, wide, high), patch in zip(drawn, patches, strict=True):
        places = (patch.x, patch.y, patch.width, patch.height)
        assert ((x - left) / scale, (y - low) / scale, wide / scale, high / scale) == pytest.approx(
            tuple(map(float, places))
        )
    assert {f"{back.width} in", f"{back.height} in"} <= set(said_in(pattern, drawing))
    found, words = step(pattern, ChapterKind.LAYERING, "Take A ")
    assert "right sides together" in words and "seam allowance of 1/4 in" in words and "open" in words
    assert "Press the seam open" in words
    assert [tick.key for tick in found.ticks] == ["backing-1"]
    names = [text for text in said_in(pattern, drawing) if re.fullmatch("A [a-z]", text)]
    assert len(names) == len(patches)
    assert set(names) == set(re.findall(r"\bA [a-z]\b", words))


def test_a_back_without_a_seam_is_only_trimmed(pattern: Pattern) -> None:
    small = draft(design_from_mapping({**DESIGN, "panel": {"width": "20in", "height": "12in"}}))
    _, words = step(small, ChapterKind.LAYERING, "Take B ")
    assert "no seam" in words and "selvage" not in words
    assert "right sides together" not in words


# Trimming and binding


@pytest.mark.parametrize(("width", "seam"), [("9/4", "1/4"), ("5/2", "1/4"), ("3", "3/8"), ("3/2", "1/8")])
def test_a_binding_is_sewn_on_as_wide_as_it_can_be_folded_over(width: str, seam: str) -> None:
    """1/4 in for strips of 2 1/4 to 2 1/2 in: common practice, no source."""
    assert binding_seam(Fraction(width), Units.INCHES) == Fraction(seam)


def test_half_of_a_binding_goes_in_and_out_and_around_and_back_to_its_seam() -> None:
    """Geometry: three times the seam, 1/8 in of layers, and 1/8 in past the seam; every width that can be typed."""
    for units in Units:
        widths = [Fraction(sixteenths, 16) for sixteenths in range(20, 120)]
        seams = [binding_seam(width, units) for width in widths]
        assert seams == sorted(seams)
        assert all(width / 2 >= 3 * seam + Fraction(1, 4) for width, seam in zip(widths, seams, strict=True))


def test_where_the_cut_runs_beside_the_edge_of_the_top() -> None:
    """The top reaches its seam allowance beyond its finished size, the cut the seam of the binding."""
    for binding, allowance, said in (
        ("5/2in", "1/4in", "So the cut runs right along the raw edge of the top, and takes nothing off it."),
        ("5/2in", "3/8in", "So the cut runs 1/8 in inside the raw edge of the top."),
        ("3in", "1/4in", "So the cut runs 1/8 in outside the raw edge of the top: that much of the batting"),
    ):
        design = {**DESIGN, "binding": {"width": binding}}
        design["panel"] = {**DESIGN["panel"], "seam_allowance": allowance}
        pattern = draft(design_from_mapping(design))
        _, words = step(pattern, ChapterKind.FINISHING, "It should measure")
        assert said in words, binding
        _, square = step(pattern, ChapterKind.FINISHING, "Quilting draws a quilt in")
        assert ("its raw edge lies more than 1/8 in inside the cut, move the cut in" in square) == (
            binding == "3in"
        )
        assert "Where the top has drawn in" in square


def test_the_sleeve_is_caught_in_the_binding_and_sewn_down_after_it(pattern: Pattern) -> None:
    told = [words for _, words in steps(pattern, ChapterKind.FINISHING)]
    order = [
        next(index for index, words in enumerate(told) if beginning in words)
        for beginning in (
            "Before you trim, measure the quilt",
            "square ruler on a corner",
            "It should measure",
            "joined and cut to",
            "pin the sleeve to the back",
            "lay two right sides together",
            "Press the strip in half",
            "Start on the front of the quilt",
            "Miter the corners",
            "Join the ends",
            "Fold the binding around",
            "along a line 1/2 in above that fold",
            "Sew it to the back before you give",
        )
    ]
    assert order == sorted(order)
    assert "Baste it by machine 1/8 in from the edge and take all its pins out" in told[order[4]]
    # The layer next to the quilt is the shorter one, as the drawing has it: the other keeps the room for the rod.
    assert "Sew this layer to the backing by hand along the line" in told[order[-2]]
    assert "stays loose below the line" in told[order[-2]]
    assert pattern.quilt.sleeve is not None
    long = (pattern.quilt.sleeve.length + pattern.quilt.finished[0]) / 2
    assert f"no more than about 1 in thick, sanded smooth and {long} in long" in told[order[-2]]
    down = told[order[-3]]
    assert "by hand with a blind stitch that catches the back alone" in down
    binding = pattern.quilt.binding
    assert binding is not None
    covered = as_length(
        binding.width / 2 - 2 * binding.seam - Fraction(1, 8), Units.INCHES
    )  # 1/8 in around the layers
    assert f"it covers {covered} of the back" in down
    assert "as far inside the binding as the fold lies beyond the seam" in down
    assert "Along the hanging sleeve stitch by hand in any case" in down
    bare = draft(design_from_mapping({**DESIGN, "hanging": {"sleeve": False}}))
    assert not any("sleeve" in words for _, words in steps(bare, ChapterKind.FINISHING))


def test_a_quilt_drawn_in_by_its_quilting_is_blocked_and_trimmed_smaller(pattern: Pattern) -> None:
    """57 by 36 in finished, 186 in around. Six strips of 42 in joined on the diagonal lose five times 2 1/2 in; the
    sleeve is 55 in long on 57 1/2 in of trimmed quilt."""
    _, words = step(pattern, ChapterKind.FINISHING, "Before you trim")
    (run,) = _binding_use(pattern).joined
    assert run.reach == sum(one.length * one.count for one in _binding_use(pattern).strips) - 5 * Fraction(
        5, 2
    )
    spare = as_length(run.reach - 186, Units.INCHES, denominator=16)
    assert "the top was 57 1/2 in by 36 1/2 in" in words
    assert f"The binding is {spare} longer than the edge" in words
    assert "its ends lie 1 1/4 in from the sides" in words
    bare = draft(design_from_mapping({**DESIGN, "hanging": {"sleeve": False}}))
    assert "sleeve" not in step(bare, ChapterKind.FINISHING, "Before you trim")[1]


def _binding_use(pattern: Pattern) -> ClothUse:
    use = pattern.shopping.use(UseKind.BINDING)
    assert use is not None
    return use


@pytest.mark.parametrize(
    ("panel", "edge", "past", "corners"),
    [
        ((53, 32), "its bottom edge", "6 in", "22 3/4 in"),  # 57 in: 12 in of gap
        ((32, 53), "its left edge", "6 in", "22 3/4 in"),
        ((16, 12), "its bottom edge", "3 3/4 in", "6 1/2 in"),  # 20 in: a quarter hangs free, 7 1/2 in of gap
    ],
)
def test_the_ends_of_the_binding_meet_in_the_middle_of_a_long_side(
    panel: tuple[int, int], edge: str, past: str, corners: str
) -> None:
    """Whatever is 20 in long or longer leaves at least 6 in to both corners: common practice, no source. They are those
    of the trimmed quilt, which reaches a seam further than it measures when it is bound."""
    sizes = {"width": f"{panel[0]}in", "height": f"{panel[1]}in"}
    design = {**DESIGN, "panel": {**DESIGN["panel"], **sizes}, "lettering": {"cap_height": "4in"}}
    _, words = step(draft(design_from_mapping(design)), ChapterKind.FINISHING, "Start on the front")
    assert f"at {edge}, about {past} past the middle" in words
    assert f"{corners} from both corners" in words


@pytest.mark.parametrize(
    ("panel", "binding", "made", "joined"),
    [
        ((53, 32), {}, "Binding joined and pressed in half", True),
        ((5, 5), {"allowance": "2in"}, "Binding pressed in half", False),  # 38 in for a quilt of 9 by 9 in
        ((53, 32), {"grain": "bias"}, "Binding cut into one bias strip and pressed in half", False),
    ],
)
def test_only_strips_that_were_joined_are_spoken_of(
    panel: tuple[int, int], binding: dict[str, str], made: str, joined: bool
) -> None:
    sizes = {"width": f"{panel[0]}in", "height": f"{panel[1]}in"}
    design = {
        **DESIGN,
        "panel": {**DESIGN["panel"], **sizes},
        "lettering": {"cap_height": "1in"},
        "binding": binding,
    }
    pattern = draft(design_from_mapping(design))
    pressed, _ = step(pattern, ChapterKind.FINISHING, "Press the strip in half")
    assert [pattern.speech.field(tick.said) for tick in pressed.ticks] == [made]
    _, ends = step(pattern, ChapterKind.FINISHING, "Join the ends")
    assert ("as you joined the strips" in ends) == joined
    assert ("straight across" in ends) != joined
    told = [words for _, words in steps(pattern, ChapterKind.FINISHING)]
    assert any(words.startswith("Join the ") and "strips end to end" in words for words in told) == joined


def test_a_square_of_bias_says_how_long_a_strip_it_gives() -> None:
    """n = ⌊(s - 1/2) / (w√2)⌋ rounds of √2 (s - 1/2): docs/sources.md, bias binding from one square."""
    pattern = draft(design_from_mapping({**DESIGN, "binding": {"grain": "bias"}}))
    binding = there(pattern.quilt.binding)
    side = float(binding.cut.strip_width) - 0.5
    exact = math.floor(side / (2.5 * math.sqrt(2))) * math.sqrt(2) * side
    assert binding.gives is not None
    assert 0 <= exact - binding.gives < 1 / 16
    blocks = chapter(instructions_of(pattern), ChapterKind.FINISHING).blocks
    told = [pattern.speech.field(one.said) for one in blocks if isinstance(one, Paragraph)]
    length = as_length(binding.gives, Units.INCHES, denominator=16)
    assert any(f"it gives {length}, and 196 in are needed" in words for words in told), told


def test_cautions_stand_where_the_work_is(pattern: Pattern) -> None:
    wanted = {
        ChapterKind.LAYERING: [("Baste from", "spray")],
        ChapterKind.QUILTING: [("Quilt from", "needle")],
        ChapterKind.FINISHING: [
            ("Quilting draws", "blade"),
            ("Take A c", "needle"),
            ("Join the 6", "pins"),
        ],
    }
    for kind, pairs in wanted.items():
        blocks = chapter(instructions_of(pattern), kind).blocks
        for beginning, word in pairs:
            found, _ = step(pattern, kind, beginning)
            (place,) = [
                at for at, one in enumerate(blocks) if isinstance(one, Step) and one.number == found.number
            ]
            before = blocks[place - 1]
            assert isinstance(before, Cautions)
            assert any(word in pattern.speech.field(one) for one in before.items)


def test_a_customer_gets_no_file_and_no_reckoning(pattern: Pattern) -> None:
    for edition, is_makers in ((Edition.MAKER, True), (Edition.CUSTOMER, False)):
        told = " ".join(words for _, words in steps(pattern, ChapterKind.FINISHING, edition))
        assert ("quilt-label.pdf" in told) == is_makers
        blocks = chapter(instructions_of(pattern, edition=edition), ChapterKind.FINISHING).blocks
        asides = [one.said for one in blocks if isinstance(one, Paragraph) and one.quiet]
        assert bool(asides) == is_makers
    assert "a lower corner" in told


def test_a_curved_edge_is_neither_squared_nor_mitered(pattern: Pattern) -> None:
    """The rectangle of the quilt with its right side bowed out: bias is eased around it."""
    width, height = pattern.quilt.finished
    x, y = float(width) / 2, float(height) / 2
    bowed = Outline(
        contours=(Contour(start=(-x, -y), segments=(((x - 4, -y),), ((x + 4, 0.0), (x - 4, y)), ((-x, y),))),)
    )
    edge = Edge(size=(width, height), outline=bowed, length=pattern.quilt.edge.length)
    quilt = replace(pattern.quilt, edge=edge)
    curved = replace(pattern, sketch=replace(pattern.sketch, quilt=quilt))
    told = " ".join(words for _, words in steps(curved, ChapterKind.FINISHING))
    assert "1/4 in outside the mark" in told and "Ease the bias around the curves" in told
    assert "square ruler" not in told and "Miter the corners" not in told and "diagonals" not in told
    assert "mark its edge further in" in told and "largest rectangle" not in told


# Drawings


def test_two_fabrics_and_the_wrong_side_stay_apart_in_gray() -> None:
    """By the luma of ITU-R BT.601: 0.299 R + 0.587 G + 0.114 B (from memory)."""

    def gray(color: str) -> float:
        red, green, blue = (int(color[at : at + 2], 16) / 255 for at in (1, 3, 5))
        return 0.299 * red + 0.587 * green + 0.114 * blue

    assert gray(RIGHT_SIDE) + 0.08 < gray(SECOND_SIDE) < 1 - 0.08


def test_a_binding_starts_past_the_middle_of_a_whole_side_with_its_tail_free(any_pattern: Pattern) -> None:
    """The start once looked like a corner: the side ended where the tail began."""
    binding = there(any_pattern.quilt.binding)
    drawing = drawing_of(any_pattern, ChapterKind.FINISHING, "Start on the front of the quilt")
    (side, *_), (strip, tail, *_) = (
        boxes(drawing, RIGHT_SIDE),
        boxes(drawing, SECOND_SIDE),
    )  # then those of the key
    sewn, middle = (
        one
        for one in drawing.marks
        if isinstance(one, Shape) and one.open and one.ink is not None and one.ink.dashes
    )
    ((x, y),) = [contour.start for contour in sewn.outline.contours]
    ((at, _),) = [contour.start for contour in middle.outline.contours]
    top = strip[1] + strip[3]  # the edge lies above, as in the pictures of the corner that comes next
    assert (top - y) / strip[3] == pytest.approx(float(binding.seam / (binding.width / 2))) and y > side[
        1
    ] + 20
    assert at == pytest.approx(side[0] + side[2] / 2) and strip[0] + strip[2] > side[0] + side[2]
    past, free = x - at, math.hypot(tail[2], tail[3] - strip[3])
    assert free / (2 * past) == pytest.approx(float(binding.tail / binding.gap))
    assert strip[0] == pytest.approx(x) == pytest.approx(tail[0] + tail[2])
    assert min(x - side[0], side[0] + side[2] - x) > side[2] / 5
    told = said_in(any_pattern, drawing)
    assert any("left free" in words for words in told) and any("edge, its middle" in words for words in told)


def test_layers_are_drawn_with_safety_pins_as_the_step_says(any_pattern: Pattern) -> None:
    """They were drawn as straight pins: each now has a coil and a clasp, and an arm that goes below the fabric."""
    drawing = drawing_of(any_pattern, ChapterKind.LAYERING, "Baste from the middle")
    bows = [
        mark
        for mark in drawing.marks
        if isinstance(mark, Shape)
        and mark.open
        and any(len(one) == 3 for one in mark.outline.contours[0].segments)
    ]
    assert len(bows) == 15 + 2  # three rows of five, and one enlarged with both of its arms


def test_the_ends_overlap_by_the_width_of_the_strip(any_pattern: Pattern) -> None:
    binding = there(any_pattern.quilt.binding)
    drawing = drawing_of(any_pattern, ChapterKind.FINISHING, "Join the ends")
    first, second, *_ = boxes(drawing, SECOND_SIDE)
    overlap = first[0] + first[2] - second[0]
    assert overlap / first[3] == pytest.approx(2)  # the strip is folded in half
    assert Bound(any_pattern.design.units, any_pattern.speech).ends(binding, Fraction(1, 4)).width <= 520


def test_a_corner_stops_a_seam_before_the_edge(any_pattern: Pattern) -> None:
    binding = there(any_pattern.quilt.binding)
    drawing = drawing_of(any_pattern, ChapterKind.FINISHING, "Miter the corners")
    cloth, strip = next(boxes(drawing, RIGHT_SIDE)), next(boxes(drawing, SECOND_SIDE))
    sewn = next(
        one for one in drawing.marks if isinstance(one, Shape) and one.open and one.ink and one.ink.dashes
    )
    ((end,),) = sewn.outline.contours[0].segments
    scale = strip[3] / float(binding.width / 2)
    assert (cloth[0] + cloth[2] - end[0]) / scale == pytest.approx(float(binding.seam))
    assert (cloth[1] + cloth[3] - end[1]) / scale == pytest.approx(float(binding.seam))


def test_the_binding_cut_across_is_named_and_measured_to_its_seam(any_pattern: Pattern) -> None:
    """Nothing was named binding or seam, and the bracket of the seam allowance went past the seam to the fold."""
    drawing = Bound(any_pattern.design.units, any_pattern.speech).around(there(any_pattern.quilt.binding))
    assert {"binding", "seam", "batting", "front", "back"} <= set(said_in(any_pattern, drawing))
    lines = [one for one in drawing.marks if isinstance(one, Shape) and one.open and one.ink]
    (sewn,) = (one.outline.bounds() for one in lines if one.ink is not None and one.ink.dashes)
    level = [one.outline.bounds() for one in lines if one.outline.bounds()[1] == one.outline.bounds()[3]]
    assert any(bracket[0] == pytest.approx(sewn[0]) for bracket in level)


def test_strips_alone_are_tinted_as_right_sides_whatever_they_are_for(pattern: Pattern) -> None:
    """Blue was a right side where strips are joined, and the quilt where those of the binding are."""
    binding, draw = there(pattern.quilt.binding), Bound(pattern.design.units, pattern.speech)
    alone = (
        draw.join(binding.width, Fraction(1, 4)),
        draw.pressed(binding.width),
        draw_join(message("joined")),
    )
    for drawing in alone:
        fills = {mark.fill for mark in drawing.marks if isinstance(mark, Shape)}
        assert RIGHT_SIDE in fills and SECOND_SIDE not in fills


def test_the_sleeve_is_drawn_to_scale_on_the_back(pattern: Pattern) -> None:
    drawing = drawing_of(pattern, ChapterKind.FINISHING, "Before you bind the quilt")
    (back, corner), (sleeve, tube, *_) = boxes(drawing, RIGHT_SIDE), boxes(drawing, SECOND_SIDE)
    plan, trimmed = pattern.quilt.sleeve, pattern.quilt.trimmed
    assert plan is not None
    scale = back[2] / float(trimmed[0])
    assert (back[3], sleeve[2], sleeve[3]) == pytest.approx(
        (trimmed[1] * scale, float(plan.cut_length - 1) * scale, float(plan.cut_depth) / 2 * scale)
    )
    assert sleeve[1] + sleeve[3] == pytest.approx(back[1] + back[3])
    assert tube[1] + tube[3] == pytest.approx(corner[1] + corner[3])
    told = said_in(pattern, drawing)
    assert "basted 1/8 in from the edge" in told and "open end: the rod goes in here" in told


def test_layers_are_drawn_to_scale(pattern: Pattern) -> None:
    drawing = drawing_of(pattern, ChapterKind.LAYERING, "Tape the backing")
    backing, batting = pattern.quilt.backing, pattern.quilt.batting
    (top,) = boxes(drawing, RIGHT_SIDE)
    sizes = {round(one[2] / top[2], 6) for one in boxes(drawing)}
    wide = pattern.quilt.finished[0] + Fraction(1, 2)
    assert {round(float(one / wide), 6) for one in (backing.width, batting.width)} <= sizes
    # The batting that is seen around the top, and the backing that is seen around the batting.
    _, words = step(pattern, ChapterKind.LAYERING, "Tape the backing")
    rims = [(batting.width - wide) / 2, (backing.width - batting.width) / 2]
    seen = [pattern.speech.field(as_length(rim, Units.INCHES)) for rim in rims]
    assert f"about {seen[0]} of batting shows all around the top, and about {seen[1]} of backing" in words


def test_drawings_hold_what_they_say_and_fit_beside_or_across(any_pattern: Pattern) -> None:
    for kind in (ChapterKind.LAYERING, ChapterKind.QUILTING, ChapterKind.FINISHING):
        for found, words in steps(any_pattern, kind):
            drawing = found.drawing
            if drawing is None:
                continue
            assert drawing.width <= 520 and drawing.height <= 200, words
            for left, low, wide, high in boxes(drawing):
                assert left >= -1e-6 and low >= -1e-6
                assert left + wide <= drawing.width + 1e-6 and low + high <= drawing.height + 1e-6
            for mark in drawing.marks:
                if isinstance(mark, Words):
                    assert mark.size >= 7
                    text = any_pattern.speech.field(mark.said)
                    reach = text_width(text, mark.size, bold=mark.bold)
                    left = mark.at[0] - {"start": 0.0, "middle": reach / 2, "end": reach}[mark.anchor]
                    assert mark.turn_deg or (left >= 0 and left + reach <= drawing.width), (words, text)


def test_every_tick_has_a_key_of_its_own(any_pattern: Pattern) -> None:
    keys = [tick.key for one in instructions_of(any_pattern).steps() for tick in one.ticks]
    assert len(keys) == len(set(keys))
    assert {"basted", "trimmed", "binding-1", "binding-ends", "sleeve", "sleeve-low", "label"} <= set(keys)


# What readers of finished patterns could not do


def test_batting_is_cut_to_its_size(pattern: Pattern) -> None:
    """A package for a twin bed was to be laid under a wall quilt as it is."""
    _, words = step(pattern, ChapterKind.LAYERING, "Unroll the batting")
    batting = pattern.quilt.batting
    assert f"cut it to {batting.width} in by {batting.height} in" in words


def test_a_quilt_larger_than_a_square_ruler_is_measured_out_from_its_center() -> None:
    for width, reached in (("53in", False), ("20in", True)):
        design = {**DESIGN, "border": [], "panel": {"width": width, "height": "32in"}}
        found, words = step(draft(design_from_mapping(design)), ChapterKind.FINISHING, "Quilting draws")
        assert ("tape measure" in words) != reached
        assert ("Set a large square ruler on a corner" in words) == reached
        assert found.drawing is not None


def test_the_label_that_is_printed_is_the_one_to_take(pattern: Pattern) -> None:
    """The step had her write one by hand, with a line "for whom" that the printed one had not."""
    for edition, told in (
        (Edition.MAKER, "quilt-label.pdf"),
        (Edition.CUSTOMER, "The label, and a spare one, are on"),
    ):
        words = [
            words for _, words in steps(pattern, ChapterKind.FINISHING, edition) if "a spare one" in words
        ]
        assert len(words) == 1 and words[0].startswith(told)
    assert "For" in [str(one) for one in blanks_said(pattern.design)]


def test_what_is_cut_is_not_cut_again_but_taken_by_its_name(pattern: Pattern) -> None:
    told = " ".join(words for _, words in steps(pattern, ChapterKind.FINISHING))
    assert "Cut the sleeve" not in told
    for kind in (UseKind.SLEEVE, UseKind.BINDING):
        (buy, use) = next(
            (buy, use) for buy in pattern.shopping.cloth for use in buy.uses if use.kind is kind
        )
        letter = "ABCD"[list(pattern.shopping.cloth).index(buy)]
        names = letters_of(buy.cutting.diagrams)
        blocks = chapter(instructions_of(pattern), ChapterKind.FINISHING).blocks
        words = told + " ".join(str(one.said) for one in blocks if isinstance(one, Paragraph))
        for key in use.keys:
            assert re.search(rf"Take [^.]*\b{letter} {names[key]}\b", words), (kind, key)


def test_a_kind_that_may_be_added_stands_beside_the_one_that_is_sewn_in_one_step() -> None:
    """It was a step of its own that could be left out, while its thread was counted."""
    quilting = [{"kind": "echo", "lines": 2}, {"kind": "crosshatch", "spacing": "3in", "offered": True}]
    both = draft(design_from_mapping({**DESIGN, "quilting": quilting}))
    blocks = chapter(instructions_of(both), ChapterKind.QUILTING).blocks
    (choices,) = (block for block in blocks if isinstance(block, Choices))
    assert [str(option.title) for option in choices.options] == ["Echo", "Crosshatch"]
    echo, hatch = (" ".join(map(both.speech.field, option.said)) for option in choices.options)
    assert "Sew these lines only: Crosshatch fills the quilt outside them. If you leave that out" in echo
    assert "the thread listed does not count those" in echo
    assert "Mark the first line of each direction through" in hatch
    (crossed,) = (one for one in both.quilting if isinstance(one.course, Ruled))
    assert isinstance(crossed.course, Ruled)
    angle, _ = crossed.course.angles_deg
    one_way = replace(crossed, course=replace(crossed.course, angles_deg=(angle,)))
    assert "Mark the first line through" in " ".join(
        map(str, marked_said(one_way, Fraction(1, 8), Units.INCHES, echoed=True, outlined=Outlined.NONE))
    )
    assert (
        "each ends at the outermost of them" in hatch and "short of the letters" not in hatch.split("Mark")[1]
    )
    told = words_of(chapter(instructions_of(both), ChapterKind.QUILTING))
    # What may be left out is filled with what the other column says: the two contradicted each other.
    assert "You may leave it out, and sew more echo lines instead wherever what stays unquilted" in told
    assert "If you leave that out, sew more echo lines wherever what stays unquilted" in echo
    _, (sewn, words) = steps(both, ChapterKind.QUILTING)
    assert words == "Quilt the top: first Echo, then Crosshatch, unless you leave that out."
    assert [tick.key for tick in sewn.ticks] == ["quilting-1", "quilting-2"]
    (need,) = [one for one in both.threads if ThreadUse.QUILTING in one.uses]
    assert need.length == sum(plan.thread for plan in both.quilting)


@pytest.mark.parametrize(
    ("others", "echo", "hatch"),
    [
        (
            [{}],
            "Sew these lines only: Crosshatch fills the quilt outside them.",
            "outside the echo lines only",
        ),
        (
            [{"letters": "cross"}],
            "Crosshatch runs over the rest of the quilt and over them.",
            "run over the echo",
        ),
        (
            [{"offered": True}, {"offered": True}],
            "the kind that you choose next is for the rest",
            "outside the echo",
        ),
    ],
)
def test_of_two_kinds_on_one_quilt_each_says_where_it_goes(
    others: list[dict[str, Any]], echo: str, hatch: str
) -> None:
    """Echoes were to go on until the quilt was filled, and a crosshatch was to fill the same field."""
    crossed = [{"kind": "crosshatch", "spacing": "7in", **one} for one in others]
    pattern = draft(design_from_mapping({**DESIGN, "quilting": [{"kind": "echo", "lines": 2}, *crossed]}))
    _, words = step(pattern, ChapterKind.QUILTING, "Echo")
    assert echo in words and "until the quilt is filled" not in words
    blocks = chapter(instructions_of(pattern), ChapterKind.QUILTING).blocks
    options = [one for block in blocks if isinstance(block, Choices) for one in block.options]
    told = [" ".join(map(pattern.speech.field, option.said)) for option in options]
    told = told or [step(pattern, ChapterKind.QUILTING, "Crosshatch")[1]]
    assert all(hatch in one for one in told)


def test_basting_thread_is_on_the_list_once_and_pulled_out_after_the_trimming(pattern: Pattern) -> None:
    assert words_of(chapter_of(pattern, ChapterKind.NEEDED)).count("basting thread") == 1
    layering, finishing = (
        [words for _, words in steps(pattern, kind)] for kind in (ChapterKind.LAYERING, ChapterKind.FINISHING)
    )
    told = [*layering, *finishing]
    marked, trimmed, out = (
        next(at for at, words in enumerate(told) if beginning in words)
        for beginning in (
            "stitches of the basting thread",
            "It should measure",
            "Now pull out the basting thread",
        )
    )
    assert marked < trimmed <= out
    assert told[out].index("It should measure") < told[out].index("Now pull out the basting thread")
