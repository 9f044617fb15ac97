"""The parts of a quilt around its letters: refusals with an offer that works, seams, leftovers, precuts, sizes."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pypdfium2
import pytest

from applique.cloth import ClothUse, UseKind
from applique.cutting import Lie
from applique.design import Stitch, WhenStitched, design_from_mapping
from applique.errors import Refusal
from applique.language import american
from applique.panel import place_rows
from applique.pattern import Pattern, draft
from applique.precuts import Precut, PrecutKind
from applique.quilt.finishing import bias_length
from applique.quilt.panel_cut import cut_panel, trim_after_stitching
from applique.quilt.strips import CutKind
from applique.reports import pattern_json, summary_md
from applique.sheets import label_pdf, pattern_pdf
from applique.units import MM_PER_INCH, Units
from applique.web.views import numbers_view
from applique.words.cloth import use_how, use_said
from tests.there import there

FABRICS = [
    {"name": name, "color": color, "usable_width": "42in"}
    for name, color in (("Ink", "#203040"), ("Rust", "#a05030"), ("Fog", "#e0e0d8"))
]


def _pattern(*borders: dict[str, Any], text: str = "ROW", **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "title": "Row",
        "row": [{"text": text, "cap_height": "6in"}],
        "panel": {"width": "36in", "height": "48in", "fabric": "Fog"},
        "lettering": {"font": "Fredoka"},
        "fabric": FABRICS,
        "border": list(borders),
    }
    return draft(design_from_mapping({**data, **tables}))


@pytest.mark.parametrize(
    ("stated", "stitches", "trim"),
    [
        (None, [Stitch.BLANKET, Stitch.SATIN], Fraction(1)),
        (None, [Stitch.BLANKET, Stitch.STRAIGHT, Stitch.ZIGZAG], Fraction(0)),
        ("0in", [Stitch.SATIN], Fraction(0)),
        ("1 1/2in", [Stitch.STRAIGHT], Fraction(3, 2)),
    ],
)
def test_a_panel_under_satin_stitch_is_cut_an_inch_larger_unless_the_maker_says(
    stated: str | None, stitches: list[Stitch], trim: Fraction
) -> None:
    """1 to 2 in larger, trimmed after stitching: common practice, no source."""
    panel = {} if stated is None else {"trim_after": stated}
    design = design_from_mapping({"row": [{"text": "A"}], "panel": panel})
    assert trim_after_stitching(design.panel, stitches) == trim


def test_a_block_to_be_set_together_is_cut_larger_under_any_stitch() -> None:
    """It draws in less than under satin stitch, and still has to be trimmed to the size of the others: common practice,
    no source."""
    panel = design_from_mapping({"row": [{"text": "A"}]}).panel
    blanket = [Stitch.BLANKET]
    assert trim_after_stitching(panel, blanket, set_together=True) == Fraction(1, 2)
    assert trim_after_stitching(panel, [Stitch.SATIN], set_together=True) == 1
    metric = trim_after_stitching(panel, blanket, units=Units.CENTIMETERS, set_together=True)
    assert metric * MM_PER_INCH == 20
    assert trim_after_stitching(panel, blanket, when=WhenStitched.TOP, set_together=True) == 0
    stated = replace(panel, trim_after=Fraction(0))
    assert trim_after_stitching(stated, blanket, set_together=True) == 0


def test_uneven_squares_are_refused_with_offers_that_come_out_even() -> None:
    panel = {"width": "37in", "height": "49in", "fabric": "Fog"}
    squares = {"kind": "squares", "size": "4in", "fabrics": ["Ink", "Rust"]}
    with pytest.raises(Refusal) as refused:
        _pattern(squares, panel=panel)
    fix = str(refused.value.problems[0].fix)
    assert "a plain border of 1 1/2 in before it" in fix
    spacer = {"kind": "strip", "width": "1 1/2in", "fabrics": ["Ink"]}
    assert _pattern(spacer, squares, panel=panel)
    assert "width 1 in less and height 1 in less" in fix
    assert _pattern(squares, panel={"width": "36in", "height": "48in", "fabric": "Fog"})
    offered = fix.split("squares of ")[1].split(";")[0].split(" or ")
    for size in offered:
        assert _pattern({**squares, "size": size}, panel=panel)


def test_squares_of_one_fabric_are_refused() -> None:
    with pytest.raises(Refusal, match="cannot alternate"):
        _pattern({"kind": "squares", "size": "4in", "fabrics": ["Ink"]})


def test_three_fabrics_that_would_meet_at_the_end_are_rearranged() -> None:
    """9 by 12 squares of 4: a ring of 46, one more than 15 times three fabrics."""
    plan = _pattern({"kind": "squares", "size": "4in", "fabrics": ["Ink", "Rust", "Fog"]}).quilt.borders[0]
    assert sum(cut.count for cut in plan.cuts) == 2 * (9 + 12) + 4


def test_borders_and_uses_of_unknown_fabrics_are_refused_all_at_once() -> None:
    with pytest.raises(Refusal) as refused:
        _pattern(
            {"kind": "strip", "fabrics": ["Inc"]},
            {"kind": "strip", "fabrics": ["Ink", "Rust"]},
            binding={"fabric": "Nile"},
        )
    text = str(refused.value)
    assert "border 1, fabrics: there is no fabric “Inc”" in text
    assert "border 2: a plain strip has one fabric" in text
    assert "[binding], fabric: there is no fabric “Nile”" in text


def test_a_panel_wider_than_its_cloth_is_seamed_clear_of_the_letters() -> None:
    pattern = _pattern(panel={"width": "50in", "height": "60in", "fabric": "Fog"})
    seam = pattern.quilt.panel.seam
    assert seam is not None
    assert seam.crossed == ()
    for place in seam.places:
        for row in pattern.panel.rows:
            for cut in row.cuts:
                low, high = (cut.ink[0] + 0.25, cut.ink[2] + 0.25) if seam.upright else (
                    60.25 - cut.ink[3],
                    60.25 - cut.ink[1],
                )  # fmt: skip
                assert not low < float(place) < high
    assert any("clear of the letters" in str(notice.what) for notice in pattern.notices)
    panel, use = pattern.quilt.panel, pattern.shopping.use(UseKind.PANEL)
    assert use is not None
    assert [(one.length, one.count, one.lie) for one in use.strips] == [(panel.along, 1, Lie.ALONG)] * 2
    assert panel.along == (Fraction(121, 2) if seam.upright else Fraction(101, 2))
    assert sorted(one.width for one in use.strips) == sorted(panel.widths)


@pytest.mark.parametrize(
    ("text", "panel", "lie", "said"),
    [
        ("ROW", ("40in", "20in"), Lie.ALONG, "height along the selvage: 20 1/2 in of fabric"),
        ("I", ("20in", "40in"), Lie.ACROSS, "width along the selvage: 20 1/2 in of fabric"),
    ],
)
def test_the_panel_lies_the_way_that_takes_less_cloth(
    text: str, panel: tuple[str, str], lie: Lie, said: str
) -> None:
    width, height = panel
    pattern = _pattern(text=text, panel={"width": width, "height": height, "fabric": "Fog"})
    use = pattern.shopping.use(UseKind.PANEL)
    assert use is not None
    assert [(one.count, one.lie) for one in use.strips] == [(1, lie)]
    fog = next(buy for buy in pattern.shopping.cloth if buy.fabric.name == "Fog")
    assert fog.used == Fraction(41, 2)
    assert str(use_how(use, Units.INCHES)) == said


@pytest.mark.parametrize(("turns", "whole"), [("half", True), ("upright", False)])
def test_a_panel_that_fits_its_cloth_only_on_its_side_is_pieced_from_a_one_way_print(
    turns: str, whole: bool
) -> None:
    """60 by 30 in on 42 in lies across the cloth, and a print with a way up would then lie on its side."""
    design = design_from_mapping(
        {
            "row": [{"text": "I", "cap_height": "4in"}],
            "panel": {"width": "60in", "height": "30in", "fabric": "Fog"},
            "fabric": [
                {"name": "Fog", "color": "#e0e0d8", "usable_width": "42in", "turns": turns},
                {"name": "Ink", "color": "#203040"},
            ],
            "lettering": {"fabric": "Ink"},
        }
    )
    cut = cut_panel(place_rows(design), Units.INCHES, Fraction(1, 8))
    assert (cut.seam is None) is whole
    assert len(cut.widths) == (0 if whole else 2)


def test_what_is_left_beside_the_panel_is_a_rectangle() -> None:
    pattern = _pattern(panel={"width": "30in", "height": "48in", "fabric": "Fog"})
    fog = next(buy for buy in pattern.shopping.cloth if buy.fabric.name == "Fog")
    left = fog.cutting.leftovers[0]
    assert (left.length, left.width) == (Fraction(97, 2), Fraction(23, 2))


def test_one_fabric_for_several_uses_is_added_up_and_rounded_once() -> None:
    pattern = _pattern({"kind": "strip", "width": "2in", "fabrics": ["Ink"]}, binding={"fabric": "Ink"})
    ink = next(buy for buy in pattern.shopping.cloth if buy.fabric.name == "Ink")
    assert [str(use_said(use)) for use in ink.uses] == ["strips of border 1", "binding", "letters"]
    step = Fraction(9, 2)
    parts = [sum(one.width * one.length * one.count for one in use.strips) / 42 for use in ink.uses]
    assert sum(parts) <= ink.used <= ink.cutting.plan.plain
    assert ink.buy == math.ceil((ink.used + 2) / step) * step
    separately = sum(math.ceil((_alone(use) + 2) / step) * step for use in ink.uses)
    assert ink.buy < separately


def _alone(use: ClothUse) -> Fraction:
    """What a use would take of cloth of 42 in by itself, its strips side by side where they fit and else in bands."""
    bands: list[list[Fraction]] = []
    for one in use.strips:
        length, width = (one.length, one.width) if one.lie is Lie.ALONG else (one.width, one.length)
        for _ in range(one.count):
            fit = next((band for band in bands if sum(band[1:]) + width <= 42 and band[0] == length), None)
            if fit is None:
                bands.append([length, width])
            else:
                fit.append(width)
    return sum((band[0] for band in bands), Fraction(0))


def test_precuts_that_would_do_are_named() -> None:
    """A fat quarter gives 6 squares of 6 1/2 in between its squared ends, and 11 are needed."""
    squares = {"kind": "squares", "size": "6in", "fabrics": ["Ink", "Rust", "Fog"]}
    pattern = _pattern(squares, lettering={"font": "Fredoka", "fabric": "Ink"})
    rust = next(buy for buy in pattern.shopping.cloth if buy.fabric.name == "Rust")
    assert rust.precut == Precut(kind=PrecutKind.FAT_QUARTER, count=2)


def test_a_back_from_leftovers_says_whether_they_reach() -> None:
    short = _pattern(
        backing={"kind": "leftovers"}, panel={"width": "41in", "height": "60in", "fabric": "Fog"}
    )
    assert short.shopping.leftover_backing is not None
    assert not short.shopping.leftover_backing.enough
    assert any(buy.fabric.name == "Backing" for buy in short.shopping.cloth)
    assert any("leftovers reach" in str(notice.what) for notice in short.notices)
    enough = draft(
        design_from_mapping(
            {
                "row": [{"text": "A", "cap_height": "4in"}],
                "panel": {"width": "10in", "height": "20in", "fabric": "Fog"},
                "fabric": [FABRICS[0], {"name": "Fog", "color": "#e0e0d8", "usable_width": "58in"}],
                "backing": {"kind": "leftovers", "overage": "0in"},
            }
        )
    ).shopping
    assert enough.leftover_backing is not None
    assert enough.leftover_backing.enough
    assert "Backing" not in {buy.fabric.name for buy in enough.cloth}


def test_wide_backing_has_no_seam() -> None:
    pattern = _pattern(backing={"kind": "wide"})
    use = pattern.shopping.use(UseKind.BACKING)
    assert use is not None
    assert use.way == pattern.quilt.backing.ways[0]
    assert use.way is not None
    assert (len(use.way.widths), use.way.length) == (1, Fraction(44))
    assert [(one.length, one.width, one.count) for one in use.strips] == [(Fraction(44), Fraction(56), 1)]


def test_bias_binding_comes_from_one_square_that_yields_enough() -> None:
    binding = there(_pattern(binding={"grain": "bias"}).quilt.binding)
    square = binding.cut.strip_width
    assert binding.cut.kind is CutKind.BIAS_SQUARE
    assert bias_length(square, binding.width, seam_allowance=Fraction(1, 4)) >= binding.needed
    assert square < 36


def test_border_strips_are_cut_whole_where_joining_them_takes_as_many() -> None:
    """Four strips of 33 1/2 and 37 1/2 in from fabric 42 in wide: one each whole; joined on the diagonal 142 in need
    (142 − 2 1/2) / (42 − 2 1/2) = 3.5, so four too. Read back from the finished booklet."""
    border = {"kind": "strip", "width": "2in", "fabrics": ["Plum"]}
    fabrics = [FABRICS[0], {"name": "Plum", "color": "#4a2545", "usable_width": "42in"}]
    design = {
        "row": [{"text": "I"}],
        "panel": {"width": "33in", "height": "33in"},
        "border": [border],
        "fabric": fabrics,
    }
    pattern = draft(design_from_mapping(design))
    (cut,) = pattern.quilt.borders[0].cuts
    assert (cut.count, cut.strip_width) == (4, Fraction(5, 2))
    use = pattern.shopping.use(UseKind.BORDER)
    assert use is not None
    assert (sum(one.count for one in use.strips), use.joined) == (4, ())
    words = " ".join(_words(pattern_pdf(pattern)).split())
    assert re.search(r"\b[ab] 2 2 1/2 in by 37 1/2 in strips of border 1", words), words


def test_mitered_and_cornerstone_corners_have_their_pieces() -> None:
    stones = _pattern(
        {
            "kind": "strip",
            "width": "3in",
            "fabrics": ["Ink"],
            "corners": "cornerstones",
            "corner_fabric": "Rust",
        }
    ).quilt.borders[0]
    assert next(cut for cut in stones.cuts if cut.kind is CutKind.CORNERSTONES).count == 4
    assert [fabric for fabric, _ in stones.steps[1].strips[0].pieces] == ["Rust", "Ink", "Rust"]


def _words(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    return "\n".join(page.get_textpage().get_text_bounded() for page in document)


BORDERS = (
    {"kind": "strip", "width": "2in", "fabrics": ["Ink"]},
    {"kind": "squares", "size": "4in", "fabrics": ["Ink", "Rust", "Fog"], "first": "top and bottom"},
    {"kind": "rectangles", "width": "2in", "size": "6in", "fabrics": ["Rust", "Fog"]},
)


def test_the_booklet_says_every_size_of_the_plan() -> None:
    pattern = _pattern(
        *BORDERS,
        hanging={"sleeve": True},
        publisher={
            "name": "The sewing circle",
            "contact": "hello@example.org",
            "license": "For your own use.",
        },
    )
    words = _words(pattern_pdf(pattern)).replace("\r\n", " ")
    for said in (
        "The sewing circle",
        "hello@example.org",
        "For your own use.",
        "What you need",
        "Cutting",
        "Letters",
    ):
        assert said in words
    for border in pattern.quilt.borders:
        assert f"Border {border.number}:" in words
    assert "36 1/2 in wide and 48 1/2 in high" in words
    checked = re.search(
        r"larger than your mat, (.*?half the cut height.*?half the cut width)", words, re.DOTALL
    )
    assert checked is not None
    assert "24 1/4 in from the fold" in checked[1]
    assert "trim" not in checked[1].lower()  # it is cut to size before it is folded
    assert "The top is now 40 1/2 in by 52 1/2 in" in words
    for buy in pattern.shopping.cloth:
        assert buy.fabric.name in words
    assert "Never leave a loose quilt or a pillow in a baby's crib or other sleep space" in words
    assert "no legal advice" in words


def test_a_quilt_larger_than_a_king_is_said_to_be_larger_wherever_its_class_is_said() -> None:
    """95 by 105 in is thequiltermag.com's king; 123 by 100 in is ours."""
    pattern = _pattern(panel={"width": "123in", "height": "100in", "fabric": "Fog"}, text="I")
    said = "larger than a king quilt (95 in by 105 in)"
    assert said in " ".join(_words(pattern_pdf(pattern)).split())
    assert said in summary_md(pattern).decode()
    assert json.loads(pattern_json(pattern))["quilt"]["class"]["words"] == "larger than king"


@pytest.mark.parametrize(
    ("font", "summary", "booklet"),
    [
        ("Pacifico", "1 piece to cut", "There is 1 piece to cut from 1 template."),
        ("Fredoka", "3 letters to cut", "There are 3 letters to cut from 3 templates."),
    ],
)
def test_letters_of_a_script_that_are_cut_as_one_are_counted_as_pieces(
    font: str, summary: str, booklet: str
) -> None:
    pattern = _pattern(text="oar", lettering={"font": font})
    assert f"## {summary}" in summary_md(pattern).decode()
    assert booklet in " ".join(_words(pattern_pdf(pattern)).split())
    shown = numbers_view(pattern, american(), settled=True)
    assert (shown["joined"], f"{shown['letters']} ") == (font == "Pacifico", summary[:2])


@pytest.mark.long
def test_no_heading_stands_alone_at_the_foot_of_a_page() -> None:
    """Whatever the length of what comes before: the words after a heading are on its page."""
    heads = [
        "What you need",
        "Cutting, fabric by fabric",
        "Letters",
        "Placing",
        "Stitching",
        "Borders",
        "Take care",
    ]
    for count in range(1, 14, 3):
        lines = [{"text": "OI"[:2] * 2, "cap_height": "1in"}] * count
        pattern = _pattern(*BORDERS, row=lines)
        for page in pypdfium2.PdfDocument(pattern_pdf(pattern)):
            *_, last, _ = (
                page.get_textpage().get_text_bounded().rstrip().splitlines()
            )  # what runs along the foot
            assert last not in heads


def test_the_label_carries_what_the_design_says() -> None:
    pattern = _pattern(
        label={"maker": "A. Maker", "place": "The boathouse", "date": "Spring", "care": ["Wash cold."]}
    )
    words = _words(label_pdf(pattern))
    for said in ("Row", "A. Maker", "The boathouse · Spring", "Wash cold."):
        assert said in words
    assert label_pdf(pattern) == label_pdf(pattern)
    assert pattern_pdf(pattern) == pattern_pdf(pattern)
