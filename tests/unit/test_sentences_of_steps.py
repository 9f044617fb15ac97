"""Sentences of the steps that somebody who knows nothing else could not follow, and numbers to figure again."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from fractions import Fraction
from typing import Any, Final

import pytest
from shapely.geometry import box

from applique.cloth import UseKind
from applique.design import Around
from applique.instructions import ChapterKind, Edition
from applique.marks import Outlined, how_outlined
from applique.outline_layer import edge_stretches, hidden_edges
from applique.pattern import Pattern
from applique.pieces import Layer
from applique.quilt.finishing import BattingPlan, BattingSize
from applique.sewing.quilting import Echoes
from applique.units import Units
from applique.words.buying import item_said
from applique.words.cloth import use_said, uses_said
from applique.words.instructions.cutting import for_said
from applique.words.instructions.outlines import long_ticks_said
from applique.words.instructions.quilting import echoes_said
from applique.words.instructions.stitching import background_said
from applique.yardage import Carried, Lettering, templates_in
from tests.chapters import chapter_of, drafted, said_in

PIE: Final[dict[str, Any]] = {
    "row": [{"text": "LAP"}],
    "panel": {"width": "34in", "height": "30in"},
    "fabric": [{"name": "Ink", "color": "#203040"}],
    "lettering": {"font": "Rubik", "cap_height": "6in", "fabric": "Ink"},
    "border": [{"kind": "strip", "width": "3in", "fabrics": ["Ink"]}],
    "stitching": {"stitch": "blanket"},
    "quilting": [{"kind": "echo"}, {"kind": "crosshatch", "offered": True, "spacing": "3in"}],
}
OUTLINED: Final[dict[str, Any]] = {
    **PIE,
    "lettering": {**PIE["lettering"], "outline": "1/4in"},
    "outline": {"fabric": "Ink"},
    "stitching": {"stitch": "satin"},
    "quilting": [{"kind": "in the ditch"}, {"kind": "edge to edge"}],
}


@pytest.fixture(scope="module")
def pie() -> Pattern:
    return drafted(**PIE)


@pytest.fixture(scope="module")
def outlined() -> Pattern:
    return drafted(**OUTLINED)


def told(pattern: Pattern, kind: ChapterKind, edition: Edition = Edition.CUSTOMER) -> str:
    return said_in(chapter_of(pattern, kind, edition=edition)).replace("\u00a0", " ")


def test_chalk_of_marked_lines_is_brushed_off_and_marks_are_washed_out(
    pie: Pattern, outlined: Pattern
) -> None:
    """It was pressed, and no step told to take it off."""
    assert "Brush each line off as soon as it is sewn, and before the quilt is pressed" in told(
        pie, ChapterKind.QUILTING
    )
    assert "Brush each line" not in told(outlined, ChapterKind.QUILTING)  # nothing is marked
    assert "If none of the fabrics bleeds, dab off what stays with a damp cloth and let it dry" in told(
        pie, ChapterKind.PLACING
    )


def test_a_mark_far_above_its_tick_is_brought_down_with_a_ruler(pie: Pattern) -> None:
    """The middle of an A is under its bar, that of a P under its bowl; an L stands on its own."""
    words = told(pie, ChapterKind.PLACING)
    assert "stands well above its tick on A and P: hold a ruler square to the baseline" in words
    low = drafted(**{**PIE, "row": [{"text": "LOB"}]})
    assert "stands well above" not in told(low, ChapterKind.PLACING)
    # Where it is drawn on the tracing: beside the foot of an A or a P it was drawn on that.
    line = (
        "On A and P that edge is well above the baseline: draw the line where the ruler runs into the letter"
    )
    assert line in told(pie, ChapterKind.LETTERS)
    assert "that edge is well above" not in told(low, ChapterKind.LETTERS)
    # Of a small K less than half an inch, and still far from the foot beside it.
    small = drafted(row=[{"text": "LOK"}], lettering={"font": "Fredoka", "cap_height": "2 1/2in"})
    assert "On K that edge is well above the baseline" in told(small, ChapterKind.LETTERS)


def test_crossing_lines_say_how_they_slant_and_what_they_do_at_the_letters(pie: Pattern) -> None:
    assert (
        "Lines 3 in apart, at 45° to the bottom edge, rising to the right, and across them at 45° to the bottom edge, "
        "rising to the left, but only outside the echo lines."
    ) in told(pie, ChapterKind.QUILTING)
    for letters, said in (
        ("miss", "They stop at the letters."),
        ("cross", "They run straight over the letters."),
    ):
        for angle, slant in (
            (0, "from side to side"),
            (90, "up and down"),
            (-30, "at 30° to the bottom edge, rising to the left"),
        ):
            lines = [{"kind": "lines", "spacing": "2in", "angle": angle, "letters": letters}]
            words = told(drafted(**{**PIE, "quilting": lines}), ChapterKind.QUILTING)
            assert f"Lines 2 in apart, {slant}. {said}" in words
            # A line that letters break up cannot be followed by the guide bar: all are marked, over them too.
            assert ("from edge to edge and over the letters too" in words) is (letters == "miss")
            # 20 in along a slant of 30 degrees: 17.32 across and 10 up, to the next sixteenth.
            assert ("For 30° mark points 17 5/16 in across and 10 in up" in words) is (angle == -30)
            assert "the line of that angle" not in words


def test_crossing_lines_say_how_their_slant_is_laid_and_where_the_marks_go(pie: Pattern) -> None:
    words = told(pie, ChapterKind.QUILTING)
    assert (
        words.count("For 45° lay the line of that angle, which most long rulers have") == 1
    )  # once for both
    assert "or mark points as far up as across" in words
    assert "You measure by what is marked over letters; you do not sew there." in words
    assert "in tight curves stop often with the needle down" in words


def test_pins_keep_clear_of_lines_that_nothing_marks(pie: Pattern, outlined: Pattern) -> None:
    echoed, ditch = told(pie, ChapterKind.LAYERING), told(outlined, ChapterKind.LAYERING)
    assert "Nothing marks the echo lines around the letters" in echoed
    # Lines that are marked once the layers are basted: no pin can keep clear of them before.
    later = "Straight lines are marked only when the layers are basted"
    assert later in echoed and "clear of the lines that you will quilt" not in echoed
    assert later not in ditch and "clear of the lines that you will quilt" in ditch
    assert "in the ditch" not in echoed and "from edge to edge" not in echoed
    assert (
        "Nothing marks the lines in the ditch" in ditch
        and "Nothing marks the lines from edge to edge" in ditch
    )
    assert "echo" not in ditch


def test_figures_of_rows_from_edge_to_edge_say_that_letters_are_left_out(outlined: Pattern) -> None:
    words = told(outlined, ChapterKind.QUILTING)
    assert "Stop 1/8 in short of the outlines of the letters, and go on behind them." in words
    assert "The letters are left out of what it takes" in words
    over = {"kind": "edge to edge", "letters": "cross"}
    words = told(drafted(**{**PIE, "quilting": [over]}), ChapterKind.QUILTING)
    assert "left out of what it takes" not in words and "short of the letters" not in words


def test_selvages_stay_on_for_the_cuts_that_are_folded_by_them(pie: Pattern) -> None:
    """They were trimmed first, and then the fabric was folded selvage to selvage."""
    words = told(pie, ChapterKind.CUTTING)
    assert "selvage edge to selvage edge" in words
    assert "Trim the selvages off first" not in words
    assert "then unfold each band and trim the selvages off its ends before you cut its pieces" in words
    assert re.search(
        r"Square up both ends of the [\d /]+yd that you buy: the stripes, 1 in at each end", words
    )


def test_nothing_is_squared_up_where_nothing_is_reckoned_for_it() -> None:
    words = told(drafted(**PIE, yardage={"squaring": "0in"}), ChapterKind.CUTTING)
    assert "stripes" not in words
    assert re.search(r"Cut the [\d /]+yd that you buy band by band", words)


def test_a_stitch_that_swings_says_how_it_is_sewn_on_the_spot(pie: Pattern, outlined: Pattern) -> None:
    blanket, satin = told(pie, ChapterKind.STITCHING), told(outlined, ChapterKind.STITCHING)
    side = "Keep the letter on the same side of the needle all the way around"
    assert side in blanket and side in satin
    bite = "The bite of a blanket stitch has to fall into the letter."
    assert bite in blanket and bite not in satin
    straight = "set the machine to a straight stitch for those stitches"
    assert straight in blanket and straight not in satin
    assert "set a satin stitch to a width of 0" in satin and "width of 0" not in blanket


def test_a_pieced_back_names_the_edges_that_are_sewn(pie: Pattern) -> None:
    """“B a” and “B b” told nobody which edges belong together."""
    (use,) = [use for buy in pie.shopping.cloth for use in buy.uses if use.way is not None]
    assert use.way is not None and len(use.way.widths) == 2
    words = told(pie, ChapterKind.LAYERING)
    edge = re.search(r"right sides together, their edges of (\d+) in even", words)
    assert edge is not None and int(edge[1]) == use.way.along


def test_batting_says_how_far_it_stands_out(pie: Pattern) -> None:
    words = told(pie, ChapterKind.LAYERING)
    found = re.search(
        r"Batting at least (\d+) in by (\d+) in: \w+ \(\d+ in by \d+ in\)\. That is (\d+) in more than the "
        r"finished quilt on every side",
        words,
    )
    assert found is not None
    width, height, beyond = map(int, found.groups())
    assert [width - 2 * beyond, height - 2 * beyond] == list(pie.quilt.finished)


def test_binding_web_and_seams_can_be_figured_again(pie: Pattern) -> None:
    """Thread for each length of seam: stitch type 301, published, docs/sources.md, thread for a length of seam."""
    binding = re.search(
        r"Once around the finished quilt is (\d+) in; corners and joined ends are given (\d+) in more: (\d+) in",
        told(pie, ChapterKind.FINISHING),
    )
    assert binding is not None
    around, more, run = map(int, binding.groups())
    assert around == 2 * sum(pie.quilt.finished) and around + more == run
    words = told(pie, ChapterKind.NEEDED)
    assert re.search(r"wide \([\d /]+ in used, 25% more is [\d /]+ in, up to the next 1/8 yd\)", words)
    thread = re.search(r"for piecing: (\d+) yd", words)
    figured = re.search(
        r"thread for seams, top and bobbin together: ([\d.]+) yd of them, what is sewn down by hand too, 2.5 times "
        r"their length, and the binding, ([\d.]+) yd with what its corners and ends take, through all layers, ([\d.]+) "
        r"times its length; another (\d+)% is for ends and for what you unpick, up to the next whole yard",
        words,
    )
    assert thread is not None and figured is not None
    plain, layered, times, waste = map(float, figured.groups())
    assert math.ceil((plain * 2.5 + layered * times) * (1 + waste / 100) - 1e-9) == int(thread[1])


def test_the_time_can_be_figured_again(outlined: Pattern) -> None:
    """20 to 40 min came of nothing that was said."""
    found = re.search(
        r"All in all (\d+) min to (?:(\d+) h )?(\d+) min at the machine, figured with (\d+) stitches a minute while "
        r"guiding, a minute for each of (\d+) starts, and six seconds for each of (\d+) corners\. Straight runs take "
        r"(\d+)% less time, tight curves, (\d+)% of all edges, (\d+)% more\. The shorter time is (\d+)% less than "
        r"figured, for a quick hand, the longer (\d+)% more",
        told(outlined, ChapterKind.STITCHING),
    )
    assert found is not None
    least, hours, minutes, pace, starts, corners, straight, curved, tight, less, more = (
        int(one or 0) for one in found.groups()
    )
    stitches = sum(row.stitches for row in outlined.stitching.rows)
    bend = (1 - curved / 100) * (1 - straight / 100) + curved / 100 * (1 + tight / 100)
    figured = stitches / pace * bend + starts + corners / 10
    assert figured * (1 - less / 100) == pytest.approx(least, abs=5)
    assert figured * (1 + more / 100) == pytest.approx(60 * hours + minutes, abs=5)


def test_thread_of_outlines_and_letters_stands_apart(pie: Pattern, outlined: Pattern) -> None:
    """24 + 24 looked like one thread twice."""
    words = told(outlined, ChapterKind.STITCHING)
    (row,) = outlined.stitching.rows
    for name, layer in zip(("outlines", "letters"), row.layers, strict=True):
        yards = layer.top / 36
        assert f"{name}: {yards} yd + {yards} yd" in words
    assert not re.search(r"letters: \d+ yd \+", told(pie, ChapterKind.STITCHING))


def test_what_is_bought_says_where_the_usual_would_not_do(pie: Pattern) -> None:
    """A fabric of 40 in was of no use for one that took 41 1/4; the rod had no length, the washing no share."""
    words = told(pie, ChapterKind.NEEDED)
    narrow = "Much quilting cotton is only 40 in wide between its selvages, too narrow for"
    assert narrow not in words
    oat = {"name": "Oat", "color": "#e8dfc8", "usable_width": "42in"}
    panel = {"width": "41in", "height": "44in", "fabric": "Oat"}
    wide = drafted(**{**PIE, "fabric": [*PIE["fabric"], oat], "panel": panel})
    assert f"{narrow} Oat (at least 41 1/2 in): measure it" in told(wide, ChapterKind.NEEDED)
    assert "buy about 5% more of it, and measure its usable width again" in told(pie, ChapterKind.BEFORE)
    assert "For seams take a neutral color, for quilting one that you like to see on the quilt." in words
    assert "stitched down by hand on the back takes a thread that matches the binding" in words
    cutting = told(pie, ChapterKind.CUTTING)
    assert "Where a cut lies farther in than your ruler reaches, measure it with the tape measure" in cutting
    assert "no more than about 1/4 in outside the line" in told(pie, ChapterKind.LETTERS)
    assert "pin it to a carpet with clean towels under it" in told(pie, ChapterKind.FINISHING)


def test_of_a_top_alone_nothing_is_halved_that_is_not_there() -> None:
    top = drafted(**{**PIE, "quilting": [], "finish": "top only"})
    listed = told(top, ChapterKind.NEEDED)
    assert "For seams take a neutral color." in listed and "matches the binding" not in listed
    words = told(top, ChapterKind.STITCHING, Edition.MAKER)
    assert "half the top" in words and "half the quilt" not in words and "layer it" not in words


def test_an_edge_is_left_out_only_where_that_is_worth_a_stop_and_a_start(outlined: Pattern) -> None:
    """A touch of 1/4 in was drawn dotted and named, and asked to be stopped for: from 1/2 in on, our own."""
    square = box(0, 0, 4, 4)
    for deep, hidden in ((0.24, 0.0), (0.26, 0.52)):  # a corner of the one below, both of its sides
        assert hidden_edges([square, box(4 - deep, 4 - deep, 8, 8)])[0] == pytest.approx(hidden)
    (piece, *_) = outlined.outlines
    x0, y0, _, _ = piece.place.shape(piece.shape).bounds  # the foot of an L: its lower edge is straight
    for long, count in ((0.4, 0), (0.6, 1)):
        over = box(x0 + 1, y0 - 1, x0 + 1 + long, y0 + 0.1)
        (stretches, *_) = edge_stretches(outlined.outlines, [over])
        bare = edge_stretches(outlined.outlines, [])[0]
        assert len(stretches.left_out) - len(bare.left_out) == count


HANGING: Final[dict[str, Any]] = {
    **OUTLINED,
    "row": [{"text": "Bjørg"}],
    "lettering": {"font": "Montserrat", "axes": {"weight": 800}, "cap_height": "14cm", "outline": "6mm"},
    "panel": {"width": "90cm", "height": "70cm"},
    "units": "cm",
    "border": [],
    "fabric": [{"name": "Ink", "color": "#203040"}],
    "stitching": {"stitch": "blanket"},
    "quilting": [],
}


@pytest.fixture(scope="module")
def hanging() -> Pattern:
    return drafted(**HANGING)


def test_a_tick_shows_below_an_outline_that_hangs_lower_than_the_others(hanging: Pattern) -> None:
    """The outlines of j and g hang 4.7 cm down and hid a tick of 1.9 cm, 6 mm and half an inch; that of ø hangs
    2.1 cm down and hid it too."""
    low = {one.text: -one.above_baseline * 2.54 for mark in hanging.marks for one in mark.outlines}
    assert low["j"] > 4 and low["g"] > 4 and low["B"] < 1
    words = told(hanging, ChapterKind.PLACING)
    assert "from the baseline down, 1.9 cm long" in words
    said = re.search(r"Below j, ø, and g it hangs lower: draw that tick ([\d.]+) cm long\.", words)
    assert said is not None
    assert float(said[1]) == pytest.approx(max(low.values()) + 1.27, abs=0.11)
    assert "hangs lower" not in told(drafted(**{**HANGING, "row": [{"text": "HI"}]}), ChapterKind.PLACING)


def test_an_edge_that_dips_under_its_neighbor_is_sewn_across(hanging: Pattern, outlined: Pattern) -> None:
    """The edge of the r runs under the g for 1.1 cm, and “around every edge” could not be followed there."""
    (dip,) = [one for one in edge_stretches(hanging.outlines, ()) if one.dips]
    assert not dip.left_out
    words = told(hanging, ChapterKind.STITCHING)
    assert "Where an edge dips under its neighbor for less than 1.3 cm (r), sew on across that one" in words
    assert "dips under" not in told(outlined, ChapterKind.STITCHING)


def test_a_blanket_stitch_counts_as_three(pie: Pattern, outlined: Pattern) -> None:
    """6.3 m in stitches of 3 mm are 2,100, and the table said 6,300."""
    assert "a blanket stitch goes on, in and back, and counts as 3" in told(pie, ChapterKind.STITCHING)
    assert "counts as" not in told(outlined, ChapterKind.STITCHING)


def test_ticks_are_all_long_where_every_letter_has_an_outline(outlined: Pattern) -> None:
    """“where a letter has one” was said where all had one, and “down” could be a tick that stands lower."""
    assert how_outlined(outlined.marks, Around.LETTERS) is Outlined.ALL
    words = told(outlined, ChapterKind.PLACING)
    assert re.search(r"hide a short tick: draw each tick from the baseline down, [\d /]+ in long\.", words)
    assert "where a letter has one" not in words
    row = outlined.marks[0]
    some = (replace(row, outlines=row.outlines[:1]),)
    assert how_outlined(some, Around.LETTERS) is Outlined.SOME
    said = map(str, long_ticks_said(outlined.outlines, some, Around.LETTERS, Units.INCHES))
    assert "where a letter has one, draw its tick from the baseline down" in next(said)
    assert how_outlined((replace(row, outlines=()),), Around.LETTERS) is Outlined.NONE
    assert how_outlined(some, Around.WORDS) is Outlined.ALL


def _is_outline(carried: Carried) -> bool:
    return all(one.layer is Layer.OUTLINE for one in templates_in(carried))


def test_fabric_of_outlines_alone_is_said_to_hold_outlines(outlined: Pattern) -> None:
    """The fabric of the outlines was bought, cut and laid out for “letters”, of which it holds none."""
    need = next(one for one in outlined.cloth if one.lettering is Lettering.BOTH)
    behind = [one for one in need.pieces if _is_outline(need.carried[one.key])]
    letters = [one for one in need.pieces if not _is_outline(need.carried[one.key])]
    use = next(one for buy in outlined.shopping.cloth for one in buy.uses if one.kind is UseKind.LETTERS)
    for held_in_it, name in (
        (behind, "outlines"),
        (letters, "letters"),
        ([*behind, *letters], "letters and outlines"),
    ):
        assert held_in_it
        held = replace(use, cut=replace(need, pieces=tuple(held_in_it), joined=()))
        assert str(use_said(held)) == name
        assert str(for_said(held)) == f"{name}: set aside at least this for “Letters”"
    assert re.search(
        r"There are \d+ letters to cut, with \d+ outlines, from", told(outlined, ChapterKind.LETTERS)
    )
    assert "which you cut for letters and outlines" in told(outlined, ChapterKind.LETTERS)


def test_lines_of_quilting_keep_clear_of_what_is_there(outlined: Pattern, pie: Pattern) -> None:
    """The outermost edge is that of the outlines, and the steps spoke of letters."""
    words = told(outlined, ChapterKind.QUILTING)
    assert "Stop 1/8 in short of the outlines of the letters" in words
    (plan,) = [one for one in pie.quilting if isinstance(one.course, Echoes)][:1]
    first = {
        how: str(next(iter(echoes_said(plan, Fraction(1, 2), Units.INCHES, outlined=how, others=()))))
        for how in Outlined
    }
    assert "outside the outlines of the letters." in first[Outlined.ALL]
    assert "or outside the outline of one that has it." in first[Outlined.SOME]
    assert "outside the edges of the letters." in first[Outlined.NONE]


def test_the_background_is_explained_where_it_is_first_spoken_of(outlined: Pattern, pie: Pattern) -> None:
    """Nothing else in the pattern is called so."""
    said = "The background is what a letter lies on: the panel."
    assert told(pie, ChapterKind.STITCHING).count(said) == 1
    both = "The background is what an edge lies on: the panel for an outline, the outline for a letter."
    assert told(outlined, ChapterKind.STITCHING).count(both) == 1
    alone = str(background_said(Outlined.NONE, worn=False, loose=True))
    assert alone == "The background is what a letter lies on: what you sew the letters onto."


def test_batting_that_washes_too_small_is_bought_larger() -> None:
    """A crib batting of 45 in that loses 5 % is 42 3/4 in; one to cover 42 in stays large enough."""
    close, roomy, largest = (
        BattingPlan(width=Fraction(side), height=Fraction(high), name=name, sold=sold)
        for side, high, name, sold in (
            (59, 45, BattingSize.CRIB, (45, 60)),
            (42, 50, BattingSize.CRIB, (45, 60)),
            (118, 118, BattingSize.KING, (120, 120)),
        )
    )
    assert str(item_said(close, Units.INCHES)).endswith(
        "crib (45 in by 60 in), to cover 59 in by 45 in; twin (72 in by 90 in) if you wash it first"
    )
    assert str(item_said(roomy, Units.INCHES)).endswith("to cover 42 in by 50 in")
    assert "twin (182.9 cm by 228.6 cm) if you wash" in str(item_said(close, Units.CENTIMETERS))
    assert str(item_said(largest, Units.INCHES)).endswith("; by the length if you wash it first")


def test_uses_of_a_border_come_last_and_name_it_last(pie: Pattern) -> None:
    """“border 1, border strips and letters” read as two uses of three."""
    uses = next(
        buy.uses for buy in pie.shopping.cloth if len(buy.uses) > 1 and any(one.border for one in buy.uses)
    )
    assert re.search(r"(and|,) (strips|squares) of border \d$", pie.speech.field(uses_said(uses)))


def test_percent_signs_stand_at_their_number(pie: Pattern, outlined: Pattern) -> None:
    """100 % and 5% stood in one booklet."""
    texts = [told(one, kind) for one in (pie, outlined) for kind in _CHAPTERS]
    assert sum(text.count("%") for text in texts) > 10
    assert not any(re.search(r"\s%", text) for text in texts)


_CHAPTERS: Final = (
    ChapterKind.NEEDED,
    ChapterKind.BEFORE,
    ChapterKind.LETTERS,
    ChapterKind.STITCHING,
    ChapterKind.QUILTING,
)
