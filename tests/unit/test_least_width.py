"""Down to which usable width a plan gives every piece."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pypdfium2
import pytest

from applique.cloth import FabricPlan, Widths
from applique.cloth.least_width import Together, least_widths
from applique.cutting import CutCloth, Lie, Piece, Rectangle, Region, Run, Split
from applique.design import design_from_mapping
from applique.instructions import ChapterKind
from applique.instructions.values import Table
from applique.language import Message
from applique.pattern import Pattern, draft
from applique.sheets import pattern_pdf
from applique.units import Units
from applique.words.instructions.needed import width_said
from tests.chapters import chapter_of, said_in
from tests.cutter import Strip, join

F = Fraction


def _pattern(**tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": "HI", "cap_height": "3in"}],
        "panel": {"width": "36in", "height": "30in", "fabric": "Fog"},
        "lettering": {"fabric": "Rust"},
        "binding": {"fabric": "Ink"},
        "fabric": [
            {"name": "Ink", "color": "#203040"},
            {"name": "Fog", "color": "#e0e0d8"},
            {"name": "Rust", "color": "#a05030"},
        ],
    }
    return draft(design_from_mapping(data | tables))


def _plans(pattern: Pattern) -> dict[str, FabricPlan]:
    return {buy.fabric.name: buy.cutting for buy in pattern.shopping.cloth}


def test_a_panel_or_a_row_of_squares_needs_what_it_takes() -> None:
    """36 1/2 in of panel; fourteen squares of 2 1/2 in are 35 in."""
    squares = [{"kind": "squares", "size": "2in", "fabrics": ["Rust", "Moss"]}]
    moss = {"name": "Moss", "color": "#506040"}
    pattern = _pattern(border=squares, fabric=[*_colors(), moss])
    assert _plans(pattern)["Fog"].widths_of("bought").least == F(73, 2)
    cloths = _plans(pattern)["Moss"].plan.cloths
    rows = Counter(region.x for cloth in cloths for region, _ in cloth.root.pieces())
    widest = max(rows.values())
    assert _plans(pattern)["Moss"].widths_of("bought").least == widest * F(5, 2)


def _colors() -> list[dict[str, str]]:
    return [
        {"name": "Ink", "color": "#203040"},
        {"name": "Fog", "color": "#e0e0d8"},
        {"name": "Rust", "color": "#a05030"},
    ]


def test_joined_strips_may_be_shorter_as_long_as_they_reach() -> None:
    """Binding around 36 by 30 in: 132 + 10 in from 4 strips of 40 in with three diagonal joins of 2 1/2 in, so
    (142 + 7 1/2) / 4 = 37 3/8 in: docs/sources.md, strips joined on the diagonal."""
    pattern = _pattern(yardage={"plan": "fewest kinds of cuts"})
    ink = _plans(pattern)["Ink"]
    (run,) = (run for use in ink.uses for run in use.joined)
    assert (run.strips, run.needed) == (4, F(142))
    assert ink.widths_of("bought").least == F(299, 8)
    assert (
        join([Strip(length=ink.widths_of("bought").least, width=F(5, 2))] * 4, F(5, 2)).length == run.needed
    )


@pytest.mark.parametrize(
    ("width", "least", "said"),
    [
        (F(40), F(299, 8), "40 in, at least 37 3/8 in"),
        (F(40), F(1199, 30), "40 in, no less"),
        (F(42), F(42), "42 in, no less"),
    ],
)
def test_the_least_width_is_rounded_up_and_never_more_than_there_is(
    width: Fraction, least: Fraction, said: str
) -> None:
    assert str(width_said(width, least, Units.INCHES)) == said


def test_fabric_of_the_stash_says_from_which_width_on_it_holds() -> None:
    """A panel of 36 1/2 in from 2 yd of 40 in."""
    pattern = _pattern(fabric=[{**one, "have": "2yd"} if one["name"] == "Fog" else one for one in _colors()])
    fog = _plans(pattern)["Fog"]
    assert fog.rule.buy == 0
    assert fog.widths_of("have 1").least == F(73, 2)
    chapter = chapter_of(pattern, ChapterKind.CUTTING)
    assert "36 1/2 in is enough for these cuts, and 40 in leaves 3 1/2 in to spare" in said_in(chapter)
    (table,) = (one for one in chapter_of(pattern, ChapterKind.NEEDED).blocks if isinstance(one, Table))
    assert "40 in, at least 36 1/2 in" in [
        pattern.speech.field(cell) for row in table.rows for cell in row if isinstance(cell, Message)
    ]


def test_the_slack_of_a_run_is_shared_by_all_its_strips_from_selvage_to_selvage() -> None:
    """Binding of 142 in: two strips from a piece of the stash, two that are bought, 37 3/8 in each at the least."""
    colors = [{**one, "have": "7in"} if one["name"] == "Ink" else one for one in _colors()]
    ink = _plans(_pattern(fabric=colors, yardage={"plan": "fewest kinds of cuts", "squaring": "1/2in"}))[
        "Ink"
    ]
    strips = Counter(cloth.supply for cloth in ink.plan.cloths for _ in cloth.root.pieces())
    assert strips == {"have 1": 2, "bought": 2}
    assert ink.widths_of("have 1").least == ink.widths_of("bought").least == F(299, 8)


def _printed(pattern: Pattern) -> str:
    pages = pypdfium2.PdfDocument(pattern_pdf(pattern))
    return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pages)


def test_a_back_in_two_lengths_needs_no_more_than_both_give_together() -> None:
    """60 by 36 in and 4 in around are 68 by 44 in: of 42 in a length of that and one of 26 1/2 in. Nothing lies beside
    that one, so both may be 34 1/4 in, for 2 · 34 1/4 - 1/2 = 68. The table said 42 in, no less."""
    pattern = _pattern(panel={"width": "60in", "height": "36in", "fabric": "Fog"})
    back = _plans(pattern)["Backing"]
    (use,) = back.uses
    assert use.way is not None
    assert use.way.widths == (F(42), F(53, 2))
    least = back.widths_of("bought").least
    assert 2 * least - F(1, 2) == 68
    printed = _printed(pattern)
    assert "34 1/4 in is enough for these cuts, and 42 in leaves 7 3/4 in to spare." in printed
    assert (
        "If yours is narrower than 42 in, the other length of the backing comes out narrower: cut piece b wider by "
        "what it lacks. Of fabric 41 in wide, for instance, cut it 27 1/2 in wide instead of 26 1/2 in."
        in printed
    )


def test_a_short_strip_makes_up_for_what_the_long_ones_lack() -> None:
    """Strips of one run: two of 40 in and one that is cut short reach exactly; what is left over beside that one is as
    good for them, so all three need only reach together: (needed + joins) / 3."""
    run = Run(key="run", width=F(2), length=F(100), loss=F(2), least=F(12), lies=(Lie.ACROSS,))
    square = Rectangle(key="square", length=F(2), width=F(2), count=1, lies=(Lie.ACROSS,))
    strips = [_cloth_row(0, "run", F(40)), _cloth_row(2, "run", F(40)), _cloth_row(4, "run", F(24), "square")]
    root = Region(x=F(0), y=F(0), length=F(6), width=F(40), fill=Split(cut=Lie.ACROSS, parts=tuple(strips)))
    cloth = CutCloth(supply="bought", number=1, root=root)
    together = Together(keys=frozenset({"run"}), spare=F(0), lengths=False)
    widths = least_widths([cloth], [together])["bought"]
    assert (run.length + 2 * run.loss + square.width) / 3 == F(106, 3)
    assert widths == Widths(least=F(106, 3), longer=("run",), wider=())
    narrow = [widths.least, widths.least, widths.least - square.width]
    assert join([Strip(length=one, width=F(2)) for one in narrow], F(2)).length == run.length


def _cloth_row(x: int, key: str, size: Fraction, beside: str = "") -> Region:
    """A strip across 40 in of cloth, and beside it a square and what is left over."""
    whole = Region(x=F(x), y=F(0), length=F(2), width=F(40), fill=Piece(key=key, lie=Lie.ACROSS))
    if not beside:
        return whole
    parts = (
        replace(whole, width=size),
        replace(whole, y=size, width=F(2), fill=Piece(key=beside, lie=Lie.ACROSS)),
        replace(whole, y=size + 2, width=38 - size, fill=None),
    )
    return replace(whole, fill=Split(cut=Lie.ALONG, parts=parts))


def test_what_comes_out_of_pieces_of_the_stash_has_a_least_width_in_the_table() -> None:
    """Two pieces of 18 in by 30 in, and nothing bought: the table gave the width of the bolt and no least."""
    moss = {"name": "Moss", "color": "#506040", "have": "2 pieces 18in x 30in"}
    squares = [{"kind": "squares", "size": "3in", "fabrics": ["Rust", "Moss"]}]
    pattern = _pattern(border=squares, fabric=[*_colors(), moss])
    plan = _plans(pattern)["Moss"]
    assert plan.rule.buy == 0
    (supply,) = plan.supplies_cut
    taken = max(region.y + region.width for cloth in plan.plan.cloths for region, _ in cloth.root.pieces())
    assert taken == plan.widths_of(supply.key).least
    (table,) = (one for one in chapter_of(pattern, ChapterKind.NEEDED).blocks if isinstance(one, Table))
    cells = [pattern.speech.field(cell) for row in table.rows for cell in row if isinstance(cell, Message)]
    said = str(width_said(supply.width, taken, Units.INCHES))
    assert supply.width != F(42)
    assert said in cells
    assert said in _printed(pattern)


def test_fabric_folded_for_its_cuts_is_half_of_the_width_that_is_said() -> None:
    """42 in are 106.68 cm, said as 106.6 cm: folded once 53.3 cm, where half of the one was rounded up to 53.4."""
    pattern = _pattern(units="cm")
    printed = _printed(pattern)
    assert "106.6 cm, at least" in printed
    assert "it then has 53.3 cm to reach." in printed
    assert "53.4" not in printed


def test_no_band_takes_the_whole_width_where_narrower_fabric_will_do() -> None:
    """Back, panel, squares and sleeve from one fabric: a strip of 37 1/2 in beside the second length of the back, as
    wide as the fabric leaves, holds pieces of 36 1/2 in. Both sentences were said: no spare, and 1/2 in to spare."""
    moss = {"name": "Moss", "color": "#506040"}
    pattern = _pattern(
        row=[{"text": "HI", "cap_height": "6in", "stitch": "satin"}],
        panel={"width": "44in", "height": "30in", "fabric": "Fog"},
        border=[
            {"kind": "strip", "width": "2in", "fabrics": ["Rust"], "corners": "mitered"},
            {"kind": "squares", "size": "2in", "fabrics": ["Ink", "Fog", "Moss"]},
        ],
        backing={"fabric": "Fog"},
        hanging={"sleeve": True},
        fabric=[*({**one, "usable_width": "42in"} for one in _colors()), moss],
    )
    (buy,) = (one for one in pattern.shopping.cloth if one.fabric.name == "Fog")
    assert any(band.fills(one.width) for one in buy.cutting.diagrams for band in one.bands)
    assert buy.cutting.widths_of("bought").least == F(83, 2)
    said = said_in(chapter_of(pattern, ChapterKind.CUTTING))
    assert "41 1/2 in is enough for these cuts, and 42 in leaves 1/2 in to spare" in said
    assert "usable width, no spare" not in said
