"""Letters cut from what is held: blocks on its pieces, what is drawn, and what is said to be short."""

from __future__ import annotations

import json
import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from applique.cloth import FabricPlan, UseKind
from applique.design import Fabric, PaperSize, Turns, Yardage, design_from_mapping
from applique.for_customers import customers_design
from applique.instructions import Edition, instructions_of
from applique.instructions.values import ChapterKind
from applique.letter_blocks import LetterBlock, one_block
from applique.pattern import Pattern, draft
from applique.precuts import PrecutKind, precuts_near
from applique.reports import pattern_json
from applique.sheets import nesting_pdf, whole_pattern_pdf
from applique.units import Units
from applique.words.buying import shopping_notices
from tests.chapters import chapter_of, drawings_of, words_in
from tests.cutter import cut_plan


def _pattern(have: Any, rows: tuple[str, ...] = ("HH",), cap: str = "12in", **row: Any) -> Pattern:
    return draft(
        design_from_mapping(
            {
                "row": [{"text": text, "cap_height": cap, **row} for text in rows],
                "panel": {"width": "40in", "height": "34in", "fabric": "Fog"},
                "lettering": {"font": "Fredoka", "fabric": "Ink"},
                "binding": {"fabric": "Fog"},
                "fabric": [
                    {"name": "Ink", "color": "#203040", "have": have},
                    {"name": "Fog", "color": "#e0e0d8", "usable_width": "44in"},
                ],
            }
        )
    )


def _ink(pattern: Pattern) -> FabricPlan:
    return next(buy.cutting for buy in pattern.shopping.cloth if buy.fabric.name == "Ink")


def _blocks(plan: FabricPlan) -> tuple[LetterBlock, ...]:
    assert plan.letters is not None
    return plan.letters.blocks


def _texts(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    return [page.get_textpage().get_text_range() for page in document]


def _short(pattern: Pattern) -> list[str]:
    return [str(notice.what) for notice in shopping_notices(pattern.shopping, Units.INCHES)]


def test_each_of_two_fat_quarters_holds_a_letter_that_both_cannot_share() -> None:
    """An H of 12 in is some 10 in wide: one piece of 16 by 21 in holds one, two hold two."""
    one, two = _pattern("1 fat quarter"), _pattern("2 fat quarters")
    assert _short(one) == [
        "not enough of Ink in your stash (1 fat quarter): H would have to come from more; buy 1/2 yd more"
    ]
    assert _short(two) == []
    plan = _ink(two)
    assert [len(block.nest.placements) for block in _blocks(plan)] == [1, 1]
    assert [cloth.number for cloth in plan.plan.cloths] == [1, 2]
    assert plan.rule.buy == 0


def test_what_is_drawn_is_what_is_cut() -> None:
    """Every letter once, whole, within its block, each block cut once from a piece of that size at least."""
    rows = ("HELLO", "QUILTS", "LETTER")
    pattern = _pattern(["2 fat quarters", "1 quarter yard, washed"], rows, "6in")
    plan, (need,) = _ink(pattern), pattern.cloth
    blocks = _blocks(plan)
    assert len(blocks) == 3
    shapes = {piece.key: piece.shape for piece in need.pieces}
    laid = Counter(spot.key for block in blocks for spot in block.nest.placements)
    assert laid == {piece.key: piece.count for piece in need.pieces}
    for block in blocks:
        for spot in block.nest.placements:
            x0, y0, x1, y1 = spot.place.shape(shapes[spot.key]).bounds
            assert x0 >= -1e-6
            assert y0 >= -1e-6
            assert x1 <= float(block.block.length) + 1e-6
            assert y1 <= float(block.block.width) + 1e-6
    cut = {piece.key: at for cloth in plan.plan.cloths for at, piece in cloth.root.pieces()}
    assert {key: (at.length, at.width) for key, at in cut.items()} == {
        block.key: (block.block.length, block.block.width) for block in blocks
    }
    assert {(cloth.root.length, cloth.root.width) for cloth in plan.plan.cloths} == {
        (Fraction(16), Fraction(21)),
        (Fraction(7), Fraction(40)),
    }
    (said,) = json.loads(pattern_json(pattern))["cloth"]
    assert said["nest"] == []
    assert [len(block["nest"]) for block in said["blocks"]] == [
        len(block.nest.placements) for block in blocks
    ]


def test_a_scrap_that_holds_all_is_cut_although_the_shop_would_sell_little() -> None:
    """Letters of 7/8 in take 1/8 yd, less than extra cuts are worth where fabric is bought anyway."""
    assert _ink(_pattern("", ("HELLO",), "7/8in")).rule.buy == Fraction(9, 2)
    plan = _ink(_pattern("2 pieces 4in x 5in", ("HELLO",), "7/8in"))
    assert plan.rule.buy == 0
    assert len(_blocks(plan)) == 2


def test_a_block_out_of_the_stash_takes_as_little_of_it_as_will_do() -> None:
    """Eight letters of 6 in, nested for the least length, took the whole width of a half yard for one more than a row
    holds; and one with a spot of its own took it in any case."""
    for words, cap, row in (
        (("HHHH", "HHHH"), "6in", {}),
        (("LTL",), "4in", {"fussy": [{"letter": 1, "along": "5in", "across": "9in"}]}),
    ):
        pattern = _pattern("1 half yard", words, cap, **row)
        (block,), plan = _blocks(_ink(pattern)), _ink(pattern)
        (need,) = pattern.cloth
        wide = one_block(need, "wide", Units.INCHES)
        assert wide is not None
        assert plan.rule.buy == 0
        assert block.area < Fraction(17, 20) * (wide.block.length * (40 if row else wide.block.width))
        assert len(block.nest.placements) == sum(map(len, words))
        at, _ = next((at, piece) for at, piece in plan.plan.cloths[0].root.pieces() if piece.key == block.key)
        assert not row or at.x == at.y == 0


def test_letters_beyond_the_stash_are_bought_in_a_last_block_and_named() -> None:
    """Half a yard holds some of the letters; the rest are bought, less than without the half yard."""
    rows = ("HELLO", "QUILTS", "MWMW", "HELLO")
    pattern, bare = _pattern("1 half yard", rows, "6in"), _pattern("", rows, "6in")
    plan = _ink(pattern)
    held, bought = _blocks(plan)
    assert (plan.source(held.key), plan.source(bought.key)) == (plan.fabric.have[0], None)
    assert 0 < plan.rule.buy < _ink(bare).rule.buy
    (short,) = pattern.shopping.short
    assert {template.key for template in short.letters} == {spot.key for spot in bought.nest.placements}
    assert "would have to come from more" in _short(pattern)[0]
    laid = Counter(spot.key for block in (held, bought) for spot in block.nest.placements)
    assert laid == {piece.key: piece.count for need in pattern.cloth for piece in need.pieces}
    page = " ".join(_texts(nesting_pdf(pattern))[-1].split())
    assert "from “1 half yard”" in page
    assert ", bought" in page


@pytest.mark.parametrize("have", ["2 fat quarters", ""])
def test_fussy_cuts_keep_the_one_nest(have: str) -> None:
    """Their spots are counted from the selvage and the cut end of one cloth."""
    pattern = _pattern(have, fussy=[{"letter": 1, "along": "1in", "across": "1in"}])
    plan, (need,) = _ink(pattern), pattern.cloth
    assert need.nest is not None
    (block,) = _blocks(plan)
    assert block.nest.placements == need.nest.placements
    assert plan.rule.buy == 18


def _rust(size: str, panel: tuple[int, int], **more: Any) -> FabricPlan:
    """A ring of squares around a panel, every other one of Rust."""
    pattern = draft(
        design_from_mapping(
            {
                "row": [{"text": "HI", "cap_height": "3in"}],
                "panel": {"width": f"{panel[0]}in", "height": f"{panel[1]}in", "fabric": "Fog"},
                "lettering": {"font": "Fredoka", "fabric": "Fog"},
                "border": [{"kind": "squares", "size": size, "fabrics": ["Rust", "Fog"]}],
                "fabric": [
                    {"name": "Fog", "color": "#e0e0d8", "usable_width": "44in"},
                    {"name": "Rust", "color": "#a05030", **more.pop("rust", {})},
                ],
                **more,
            }
        )
    )
    return next(buy.cutting for buy in pattern.shopping.cloth if buy.fabric.name == "Rust")


def _offered(plan: FabricPlan) -> tuple[PrecutKind, int] | None:
    return (plan.precut.precut.kind, plan.precut.precut.count) if plan.precut else None


def test_a_precut_is_offered_only_where_all_can_be_cut_from_it() -> None:
    """Of the 16 by 21 in between the squared ends of a fat quarter come 12 squares of 4 1/2 (3 by 4).

    A ring of 4 in squares around 20 by 20 has (5 + 5) · 2 + 4, half of them Rust: 12; around 24 by 24 there are 14.
    """
    assert _offered(_rust("4in", (20, 20))) == (PrecutKind.FAT_QUARTER, 1)
    assert _offered(_rust("4in", (24, 24))) != (PrecutKind.FAT_QUARTER, 1)
    assert _offered(_rust("4in", (20, 20), rust={"have": "1 fat eighth"})) is None


def test_a_precut_has_a_plan_that_all_is_cut_by() -> None:
    """The squares come from one fat quarter; four letters and a binding from three, the letters nested anew."""
    squares = _rust("4in", (20, 20)).precut
    assert squares is not None
    assert [(one.key, one.length, one.width, one.count) for one in squares.supplies] == [
        ("fat quarter", Fraction(18), Fraction(21), 1)
    ]
    assert len(cut_plan(squares.plan, squares.demands, squares.supplies).pieces) == 12
    (drawn,) = squares.diagrams
    assert [drawn.length, drawn.width, drawn.squaring] == [16, 21, 1]
    strip = {"kind": "strip", "width": "2in", "fabrics": ["Fog"]}
    rows = [{"text": "HHHH", "cap_height": "15/2in"}]
    letters = _rust("4in", (64, 32), lettering={"fabric": "Rust"}, border=[strip], row=rows).precut
    assert letters is not None
    use = next(use for use in letters.uses if use.kind is UseKind.LETTERS)
    cut = cut_plan(letters.plan, letters.demands, letters.supplies)
    assert [len(one.nest.placements) for one in use.blocks] == [2, 2]
    assert {one.key for one in use.blocks} == {piece.key for piece in cut.pieces if piece.key != "binding"}


def test_a_fat_quarter_that_shrinks_holds_less() -> None:
    """Three squares of 4 1/2 in are 13 1/2 along: 18 in less a fifth, and 2 in of squaring, are 12 2/5."""
    washed = {"washed": True, "shrinkage_percent": 20}
    assert _offered(_rust("4in", (20, 20), yardage=washed)) != (PrecutKind.FAT_QUARTER, 1)


def test_precuts_are_tried_from_the_smallest_and_none_is_dearer_than_yardage() -> None:
    """By area: a fat eighth 189 in², a fat quarter 378, a pack of 42 squares of 5 in 1050, a roll 40 · 2 1/2 · 42."""
    fabric = Fabric(name="Rust", color="#a05030", usable_width=Fraction(42))

    def kinds(fabric: Fabric, units: Units, bought: int) -> list[tuple[PrecutKind, int]]:
        near = precuts_near(fabric, Yardage(), units, needed=0.0, bought=Fraction(bought))
        return [(precut.kind, precut.count) for precut, _ in near]

    eighth, quarter = (PrecutKind.FAT_EIGHTH, 1), (PrecutKind.FAT_QUARTER, 1)
    assert kinds(fabric, Units.INCHES, 302) == [eighth]
    assert kinds(fabric, Units.INCHES, 303) == [eighth, quarter]
    assert (PrecutKind.SMALL_SQUARES, 1) in kinds(fabric, Units.INCHES, 840)
    assert (PrecutKind.STRIP_ROLL, 1) not in kinds(fabric, Units.INCHES, 3359)
    assert {PrecutKind.STRIP_ROLL, PrecutKind.LARGE_SQUARES} <= {
        kind for kind, _ in kinds(fabric, Units.INCHES, 3360)
    }
    assert {kind for kind, _ in kinds(replace(fabric, turns=Turns.UPRIGHT), Units.INCHES, 9999)} == {
        PrecutKind.FAT_EIGHTH,
        PrecutKind.FAT_QUARTER,
    }
    assert {kind for kind, _ in kinds(fabric, Units.CENTIMETERS, 9999)} == {PrecutKind.FAT_QUARTER}


def test_a_roll_of_strips_is_offered_for_a_quilt_of_strips() -> None:
    """All of 2 1/2 in strips: borders of 2 in and a binding, more than 1 7/8 yd of one fabric."""
    borders = [{"kind": "strip", "width": "2in", "fabrics": ["Rust"], "joins": "straight"}] * 4
    plan = _rust("2in", (60, 60), border=borders, binding={"fabric": "Rust", "width": "5/2in"})
    assert _offered(plan) == (PrecutKind.STRIP_ROLL, 1)


def test_a_piece_without_a_selvage_is_not_said_to_have_one() -> None:
    """A fat quarter may be the half of its yard that has none; off the bolt there is one on either side."""
    for have, edge, other in (
        ("2 fat quarters", "with the grain", "along the selvage"),
        ("1 yard", "along the selvage", "with the grain"),
    ):
        pattern = _pattern(have)
        text = " ".join(" ".join(_texts(nesting_pdf(pattern))).split())
        drawn = text[text.index("Lay these letters out") :]
        assert edge in drawn
        assert other not in drawn
        assert ("The selvage runs" in drawn) is (edge == "along the selvage")
        cutting = chapter_of(pattern, ChapterKind.CUTTING)
        swatches = sum("selvage" in words_in(drawing) for drawing in drawings_of(cutting))
        assert swatches == (3 if edge == "along the selvage" else 2)  # panel and backing are bought


def test_a_print_with_a_way_up_shows_its_top_on_the_page_of_its_letters() -> None:
    """Letters lie on the fabric with their heads to its cut end, which is at the left of the picture."""
    data: dict[str, Any] = {"row": [{"text": "LT"}], "lettering": {"font": "Rubik", "cap_height": "3in"}}
    one_way, either = (
        draft(
            design_from_mapping({**data, "fabric": [{"name": "Letters", "color": "#203040", "turns": turns}]})
        )
        for turns in ("upright", "half")
    )
    assert "top of the print" not in " ".join(_texts(nesting_pdf(either)))
    (need,) = one_way.cloth
    assert need.nest is not None
    for spot in need.nest.placements:
        assert spot.place.point((0.0, 1.0))[0] - spot.place.x == pytest.approx(-1.0)
    page = pypdfium2.PdfDocument(nesting_pdf(one_way))[0]
    text = page.get_textpage()
    found = text.search("top of the print").get_next()
    assert found is not None
    left, low, _, high = text.get_charbox(found[0])
    beside = [
        bounds
        for shape in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH])
        for bounds in [shape.get_bounds()]
        if left - 30 < bounds[0] and bounds[2] < left and bounds[1] > low - 5 and bounds[3] < high + 5
    ]
    shaft, head = sorted(beside, key=lambda bounds: bounds[3] - bounds[1])
    assert head[0] < shaft[0]


@pytest.mark.parametrize("count", [2, 9])
def test_letters_with_spots_of_their_own_say_how_far_those_are(count: int) -> None:
    """The page said that they are measured from the cut end and the selvage, and not how far."""
    fussy = [
        {"letter": number, "along": f"{4 * number - 3}in", "across": f"{number + 1}/2in"}
        for number in range(1, count + 1)
    ]
    panel = {"width": "40in", "height": "12in"}
    row = {"text": "LIN" * 3, "cap_height": "3in", "fussy": fussy}
    pattern = draft(design_from_mapping({"row": [row], "lettering": {"font": "Rubik"}, "panel": panel}))
    pdf = nesting_pdf(pattern)
    texts = [" ".join(text.split()) for text in _texts(pdf)]
    found = re.findall(
        r"\d · ([LIN]): (\d+) in from the cut end, ([\d/ ]+) in from the selvage", " ".join(texts)
    )
    halves = [Fraction(number + 1, 2) for number in range(1, count + 1)]
    assert [(letter, int(along)) for letter, along, _ in found] == [
        (("LIN" * 3)[number], 4 * number + 1) for number in range(count)
    ]
    assert [sum(map(Fraction, across.split())) for *_, across in found] == halves
    assert ("The next page has the distances" in " ".join(texts)) is (count > 6)
    assert all(f"of {len(texts)}" in text for text in texts)


def test_a_customer_is_told_which_letters_are_fussy_cut_and_not_where_on_the_makers_print() -> None:
    """Her fabric has its motifs elsewhere: the distances were those of the maker's own piece."""
    fussy = [{"letter": letter, "along": f"{5 * letter}in", "across": "3in"} for letter in (1, 3)]
    row = {"text": "LIN", "cap_height": "3in", "fussy": fussy}
    data = {"row": [row], "lettering": {"font": "Rubik"}, "panel": {"width": "40in", "height": "12in"}}
    pattern = draft(customers_design(design_from_mapping(data), PaperSize.LETTER))
    told = instructions_of(pattern, edition=Edition.CUSTOMER)
    text = " ".join(" ".join(_texts(whole_pattern_pdf(pattern, told))).split())
    assert "Fussy cut: 1 · L and 3 · N. These letters show motifs of the print" in text
    assert "2 letters are fussy cut, each with a motif of the print in it: 1 · L and 3 · N." in text
    assert "buy up to one repeat of the print more for each" in text
    assert "from the cut end" not in text
    assert "spots of their own" not in text
    assert "summary.md" not in text
