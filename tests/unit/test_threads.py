"""Thread by what is sewn, spools and bobbins, in closed form."""

from __future__ import annotations

import json
import math
import re
from fractions import Fraction
from typing import Any

import pypdfium2
import pytest

from applique.cloth import ClothPlan, UseKind
from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.instructions import ChapterKind, Led
from applique.pattern import Pattern, draft
from applique.pieces import Layer
from applique.quilt.strips import CutKind
from applique.reports import pattern_json, summary_md
from applique.sew_along import sew_along_html
from applique.sewing.piecing import SeamKind, piecing_seams
from applique.sewing.threads import ThreadNeed, ThreadUse
from applique.sheets import pattern_pdf
from applique.shopping import ShelfKind
from applique.units import Units
from applique.words.buying import item_said
from tests.chapters import chapter_of
from tests.there import there

FABRICS = [
    {"name": "Ink", "color": "#203040", "usable_width": "100in"},
    {"name": "Fog", "color": "#e0e0d8", "usable_width": "100in"},
    {"name": "Moss", "color": "#506040", "usable_width": "40in"},
]


def _pattern(**tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": "I", "cap_height": "4in", "stitch": "satin"}],
        "lettering": {"font": "Fredoka", "fabric": "Ink"},
        "panel": {"width": "60in", "height": "30in", "fabric": "Fog"},
        "fabric": FABRICS,
    }
    return draft(design_from_mapping({**data, **tables}))


def _words(pdf: bytes) -> str:
    pages = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pages)


def _whole(length: float) -> int:
    """Up to whole yards, in inches."""
    return 36 * math.ceil(length / 36 - 1e-9)


def _need(pattern: Pattern, use: ThreadUse) -> ThreadNeed:
    (need,) = (need for need in pattern.threads if use in need.uses)
    return need


def _cloth(pattern: Pattern) -> ClothPlan:
    plans = tuple(buy.cutting for buy in pattern.shopping.cloth)
    return ClothPlan(
        fabrics=plans,
        leftover_backing=pattern.shopping.leftover_backing,
        mixed_backing=None,
        back=(),
        wide_backing=None,
    )


def _joins(pattern: Pattern, kind: UseKind) -> int:
    """How often strips of a use are joined end to end: once less than there are, run by run."""
    use = pattern.shopping.use(kind)
    assert use is not None
    return sum(run.strips - 1 for run in use.joined)


def test_an_outline_layer_is_sewn_in_its_own_thread() -> None:
    """That of its fabric; the letters keep theirs, and each edge is counted once."""
    pattern = _pattern(
        row=[{"text": "I", "cap_height": "4in", "stitch": "satin", "outline": "1/2in"}],
        outline={"fabric": "Moss"},
    )
    (row,) = pattern.stitching.rows
    assert [(layer.layer, layer.thread) for layer in row.layers] == [
        (Layer.OUTLINE, "#506040"),
        (Layer.LETTER, "#203040"),
    ]
    for layer, template in zip(row.layers, reversed(pattern.templates), strict=True):
        assert layer.edge == pytest.approx(template.edge)
    needs = {need.name: need for need in pattern.threads if need.color}
    assert {name: need.uses for name, need in needs.items()} == {
        "Moss": (ThreadUse.OUTLINE,),
        "Ink": (ThreadUse.LETTERS,),
    }
    assert needs["Moss"].length == pytest.approx(row.layers[0].top * 2)


def test_one_color_for_letters_and_outline_is_one_thread() -> None:
    row = {"text": "I", "cap_height": "4in", "stitch": "satin", "outline": "1/2in"}
    pattern = _pattern(
        row=[row], outline={"fabric": "Moss", "thread": "#203040"}, stitching={"spool": "60yd"}
    )
    need = _need(pattern, ThreadUse.OUTLINE)
    assert need.uses == (ThreadUse.LETTERS, ThreadUse.OUTLINE)
    letters, outline = (layer.top + layer.bobbin for layer in reversed(pattern.stitching.rows[0].layers))
    assert need.length == pytest.approx(letters + outline)
    apart = sum(math.ceil(length / (60 * 36)) for length in (letters, outline))
    assert need.spools == math.ceil(need.length / (60 * 36)) < apart


@pytest.mark.long
@pytest.mark.parametrize(
    ("outline", "told"),
    [
        ("#506040", ["dark teal (see the picture), for the letters", "to match Moss, for the outlines"]),
        ("#31586b", ["dark teal (see the picture), for the letters and the outlines"]),
        (
            "#993311",
            ["dark teal (see the picture), for the letters", "rust (see the picture), for the outlines"],
        ),
    ],
)
def test_thread_of_a_color_of_its_own_is_said_by_name_and_not_by_code(outline: str, told: list[str]) -> None:
    """Of #31586b is no fabric; the data keep the code. The steps name the thread too."""
    pattern = _pattern(
        row=[{"text": "I", "cap_height": "4in", "stitch": "satin", "outline": "1/2in"}],
        stitching={"thread": "#31586b"},
        outline={"fabric": "Moss", "thread": outline},
    )
    colors = {need.color: need.name for need in pattern.threads}
    assert colors["#31586b"] is None
    heads = [str(item_said(need, Units.INCHES)).split(": ")[0] for need in pattern.threads if need.color]
    assert sorted(heads) == sorted(told)
    for words in (summary_md(pattern).decode(), _words(pattern_pdf(pattern))):
        assert re.search(r"#[0-9a-f]{6}", words) is None
        assert told[0] in words
    (led,) = (block for block in chapter_of(pattern, ChapterKind.NEEDED).blocks if isinstance(block, Led))
    assert {chip.color for chip in led.chips.values()} == {
        need.color for need in pattern.threads if need.color
    }
    for index, chip in led.chips.items():
        said = str(led.items[index][1])
        assert said.startswith(f"to match {chip.name}" if chip.letter else ("dark teal (", "rust ("))
    classes = dict(re.findall(r"\.(p\w+)\{background:(#\w+);", html := sew_along_html(pattern).decode()))
    beside = re.search(r'<dd><b class="chip (\w+)" aria-hidden="true"></b> dark teal', html)
    assert beside is not None and classes[beside[1]] == "#31586b"
    sewn = (
        "the outlines behind row 1 with {}, around every edge" if len(told) > 1 else "row 1 with {}, around"
    )
    thread = {"#506040": "thread to match Moss", "#31586b": "dark teal thread", "#993311": "rust thread"}[
        outline
    ]
    assert sewn.format(thread) in _words(pattern_pdf(pattern))
    assert {need["color"] for need in json.loads(pattern_json(pattern))["stitching"]["threads"]} >= {
        "#31586b",
        outline,
    }


def test_threads_of_their_own_colors_are_told_apart_by_the_rows_that_they_sew() -> None:
    """Two for letters, each of its rows; one for an outline layer alone, and one that matches a fabric, need no row."""
    texts = (("A", "#31586b"), ("B", "#993311"), ("C", "#31586b"), ("D", "#203040"))
    rows = [{"text": text, "cap_height": "2in", "stitch": "satin", "thread": c} for text, c in texts]
    pattern = _pattern(
        row=[*rows[:3], {**rows[3], "outline": "1/2in"}], outline={"fabric": "Moss", "thread": "#777777"}
    )
    heads = [str(item_said(need, Units.INCHES)).split(": ")[0] for need in pattern.threads if need.color]
    own = "(see the picture), for the"
    assert sorted(heads) == sorted(
        [
            f"dark teal {own} letters of row 1 and row 3",
            f"rust {own} letters of row 2",
            f"gray {own} outlines",
            "to match Ink, for the letters",
        ]
    )
    told = [need["places"] for need in json.loads(pattern_json(pattern))["stitching"]["threads"]]
    assert [places for places in told if places] == [["row 1", "row 3"], ["row 2"]]


def test_half_of_the_thread_is_wound_on_bobbins() -> None:
    """The threads of a lockstitch meet in the middle of the layers: geometry."""
    pattern = _pattern(stitching={"bobbin": "2yd"})
    for need in pattern.threads:
        assert need.bobbin == pytest.approx(need.length / 2)
        assert need.bobbins == math.ceil(need.length / 2 / 72)


def test_piecing_takes_two_and_a_half_times_its_seams_and_a_binding_what_all_layers_take() -> None:
    """A panel of 60 by 30 with a 4 in border, sides first: two seams of 30 1/2 in and two of 68 1/2, and joins.
    220 cm of type 301 take 550 cm (Coats thread-consumption guide); 20 % waste. The binding is sewn on once through
    3 mm of layers with stitches of 2.5 mm: 2 + 2 · 3 / 2.5 times its length (geometry)."""
    pattern = _pattern(
        border=[{"kind": "strip", "width": "4in", "fabrics": ["Ink"]}],
        stitching={"waste_percent": 20},
        binding={"fabric": "Ink", "width": "5/2in"},
        backing={"kind": "cloth", "fabric": "Moss", "overage": "4in"},
        hanging={"sleeve": True},
        fabric=[{**FABRICS[0], "usable_width": "60in"}, *FABRICS[1:]],
    )
    quilt = pattern.quilt
    seams = {seam.kind: seam.length for seam in piecing_seams(pattern.panel, quilt, _cloth(pattern))}
    across = math.sqrt(2)
    joins = _joins(pattern, UseKind.BORDER)
    assert joins > 0
    assert seams[SeamKind.BORDERS] == pytest.approx(2 * 30.5 + 2 * 68.5 + joins * 4.5 * across)
    # Around 68 by 38 in and the binding's allowance, sewn on and sewn down.
    joins = _joins(pattern, UseKind.BINDING)
    assert joins > 0
    assert seams[SeamKind.BINDING] == pytest.approx(
        2 * float(there(quilt.binding).needed) + joins * 2.5 * across
    )
    assert there(quilt.binding).needed >= 2 * (68 + 38)
    # 76 by 46 in from 40 in: two lengths of 76 in, or of 46.
    use = pattern.shopping.use(UseKind.BACKING)
    assert use is not None
    assert use.way is not None
    assert seams[SeamKind.BACKING] == use.way.along == {True: 46, False: 76}[use.way.upright]
    # 67 in from 40 in: its two strips are joined straight across.
    assert quilt.sleeve is not None
    assert _joins(pattern, UseKind.SLEEVE) == 1
    assert seams[SeamKind.SLEEVE] == quilt.sleeve.cut_length + 3 * quilt.sleeve.cut_depth
    assert SeamKind.PANEL not in seams
    need = _need(pattern, ThreadUse.PIECING)
    once = float(there(quilt.binding).needed)
    plain, through = (3.6 * math.ceil(length / 3.6 - 1e-9) for length in (sum(seams.values()) - once, once))
    assert need.length == _whole(
        (plain * 550 / 220 + through * 4.4) * 1.2
    )  # of tenths of a yard, as is printed


def test_the_seams_of_a_pieced_panel_and_of_rectangles_are_counted() -> None:
    """Moss is 40 in wide: a panel of 60 by 50 has one seam along 51 1/2 in or 61 1/2, before the
    inch for its satin stitch is trimmed off."""
    rectangles = {"kind": "rectangles", "width": "4in", "size": "10in", "fabrics": ["Ink", "Fog"]}
    pattern = _pattern(panel={"width": "60in", "height": "50in", "fabric": "Moss"}, border=[rectangles])
    seams = {seam.kind: seam.length for seam in piecing_seams(pattern.panel, pattern.quilt, _cloth(pattern))}
    seam = pattern.quilt.panel.seam
    assert seam is not None
    assert seams[SeamKind.PANEL] == len(seam.places) * (51.5 if seam.upright else 61.5)
    strips = [strip for step in pattern.quilt.borders[0].steps for strip in step.strips]
    between = sum(len(strip.pieces) - 1 for strip in strips)
    assert between > 15
    assert seams[SeamKind.BORDERS] == pytest.approx(2 * 50.5 + 2 * 68.5 + between * 4.5)


def test_mitered_borders_are_sewn_to_the_sides_and_along_four_diagonals() -> None:
    """Ink of 60 in is too narrow for the strips of 69 in."""
    border = {"kind": "strip", "width": "4in", "fabrics": ["Ink"], "corners": "mitered"}
    pattern = _pattern(border=[border], fabric=[{**FABRICS[0], "usable_width": "60in"}, *FABRICS[1:]])
    (cut,) = pattern.quilt.borders[0].cuts
    seams = {seam.kind: seam.length for seam in piecing_seams(pattern.panel, pattern.quilt, _cloth(pattern))}
    joins = _joins(pattern, UseKind.BORDER) * float(cut.strip_width) * math.sqrt(2)
    assert joins > 0
    assert seams[SeamKind.BORDERS] == pytest.approx(2 * (60 + 30) + 4 * 4 * math.sqrt(2) + joins)


@pytest.mark.parametrize(
    ("tables", "said"),
    [
        ({}, "for the binding: "),
        ({"hanging": {"sleeve": True}}, "for the binding and the hanging sleeve: "),
        ({"border": [{"kind": "strip", "fabrics": ["Ink"]}]}, "for piecing: "),
    ],
)
def test_thread_is_for_piecing_only_where_something_is_pieced(tables: dict[str, Any], said: str) -> None:
    """The backing is one width of 108 in, so a panel with its binding has no other seam."""
    pattern = _pattern(backing={"kind": "wide"}, **tables)
    (shelf,) = (shelf for shelf in pattern.shopping.shelves if shelf.kind is ShelfKind.THREAD)
    words = [str(item_said(item, pattern.design.units)) for item in shelf.items]
    assert [one.startswith(said) for one in words] == [False, True, False]


def test_a_quilt_without_any_seam_takes_no_thread_for_seams() -> None:
    """It was to buy 0 spools for piecing."""
    pattern = _pattern(backing={"left_out": True}, binding={"left_out": True})
    assert [need.uses for need in pattern.threads] == [(ThreadUse.LETTERS,), (ThreadUse.QUILTING,)]


def test_the_thread_of_the_letters_can_be_figured_again_from_what_is_printed() -> None:
    """By her who holds the sheet: the edge of the row, so many times, and the waste."""
    pattern = _pattern()
    (row,) = pattern.stitching.rows
    printed = re.search(
        r"How we figured the thread, top and bobbin together: satin, .*? long: ([\d.]+) times the edge; through fabric "
        r"that is taken as 1 mm thick\. Another (\d+)% is for ends .*? whole yard\.",
        _words(pattern_pdf(pattern)),
    )
    assert printed is not None
    times, waste = map(float, printed.groups())
    assert row.top == row.bobbin == _whole(row.edge * times * (1 + waste / 100) / 2)
    # A zigzag of pitch 0.4 and width 3 mm through fabric 1 mm thick: geometry, docs/sources.md.
    assert times == round(2 * (math.hypot(0.4, 3) + 1) / 0.4, 1)


def test_lines_of_quilting_nobody_planned_are_as_far_apart_as_is_said() -> None:
    """It was said as 2.5 cm and figured at 2.54."""
    need = _need(_pattern(units="cm", panel={"width": "100cm", "height": "50cm"}), ThreadUse.QUILTING)
    assert need.spacing is not None
    assert need.spacing * Fraction(254, 100) == Fraction(5, 2)
    assert need.line * 2.54 == pytest.approx(100 * 50 / 2.5)


def test_bias_binding_has_two_seams_as_long_as_its_square() -> None:
    """A square cut in two from corner to corner, joined along one side, then into a tube along another: geometry."""
    pattern = _pattern(binding={"fabric": "Ink", "grain": "bias"})
    binding = there(pattern.quilt.binding)
    assert binding.cut.kind is CutKind.BIAS_SQUARE
    seams = {seam.kind: seam.length for seam in piecing_seams(pattern.panel, pattern.quilt, _cloth(pattern))}
    assert seams[SeamKind.BINDING] == 2 * binding.needed + 2 * binding.cut.strip_width


def test_an_edge_to_edge_design_of_her_own_is_rows_and_repeats() -> None:
    """60 by 30 in: three rows of 12 in, for 2 1/2 will not do; eight repeats of 8 in, for 7 1/2 will not do; 4 yd in
    each through the needle, as much from the bobbin, 15 % waste: arithmetic."""
    quilting = {
        "kind": "edge to edge",
        "row_height": "12in",
        "overlap": "0in",
        "repeat_width": "8in",
        "repeat_thread": "4yd",
    }
    pattern = _pattern(quilting=[quilting])
    need = _need(pattern, ThreadUse.QUILTING)
    assert need.length == 2 * need.top == _whole(2 * 3 * 8 * 4 * 36 * 1.15)
    said = str(item_said(need, pattern.design.units))
    assert need in next(shelf.items for shelf in pattern.shopping.shelves if shelf.kind is ShelfKind.THREAD)
    assert said == (
        "for quilting: 221 yd, 1 spool of 500 yd (wind 2 bobbins of 60 yd from it); if you take one thread for "
        "this and what stands before it, 1 spool holds both"
    )


@pytest.mark.parametrize(
    "quilting", [[], [{"kind": "edge to edge", "letters": "cross", "row_height": "5in"}]]
)
def test_edge_to_edge_without_a_repeat_is_figured_by_the_area(quilting: list[dict[str, Any]]) -> None:
    """Lines 1 in apart (common practice, no source) over 60 by 30 in are 1800 in, thread 2 + 2 · 3/2.5 times as long
    (Coats, type 301); twice the quilt takes twice as much."""
    small = _need(_pattern(quilting=quilting), ThreadUse.QUILTING)
    large = _need(
        _pattern(quilting=quilting, panel={"width": "60in", "height": "60in", "fabric": "Fog"}),
        ThreadUse.QUILTING,
    )
    assert small.length == _whole(1800 * 4.4 * 1.15)
    assert large.length == _whole(3600 * 4.4 * 1.15)


def test_what_misses_the_letters_is_not_figured() -> None:
    """The words and 1/8 in around them: area, an eighth of the edge, and a circle for the turns: geometry."""
    cross, miss = (
        _need(_pattern(quilting=[{"kind": "edge to edge", "letters": letters}]), ThreadUse.QUILTING).length
        for letters in ("cross", "miss")
    )
    pattern = _pattern()
    (template,) = pattern.templates
    around = template.area + template.edge / 8 + math.pi / 64
    assert float(cross - miss) / (4.4 * 1.15) == pytest.approx(around, abs=36 / (4.4 * 1.15))


@pytest.mark.parametrize("half", [{"repeat_width": "8in"}, {"repeat_thread": "4yd"}])
def test_half_a_repeat_is_refused(half: dict[str, str]) -> None:
    with pytest.raises(Refusal, match="a repeat needs its width and its thread"):
        _pattern(quilting=[{"kind": "edge to edge", **half}])


def test_more_repeats_than_anybody_sews_are_refused() -> None:
    tiny = {
        "kind": "edge to edge",
        "row_height": "1in",
        "overlap": "0in",
        "repeat_width": "1mm",
        "repeat_thread": "1in",
    }
    with pytest.raises(Refusal, match="the rows make 45,720 repeats"):
        _pattern(quilting=[tiny])


@pytest.mark.long
def test_letters_sewn_through_all_layers_take_thread_through_all_of_them() -> None:
    """2 + 2 t/p of thread for each unit of a straight stitch (type 301, Coats thread-consumption guide; t and p in
    docs/sources.md): 1 mm of panel and letter, or 3 mm of top, batting and back."""
    row = [{"text": "IIIIIIIIIIII", "cap_height": "8in", "stitch": "straight"}]

    def read(when: str, thickness: str) -> tuple[float, Fraction]:
        stitching = {"when": when, "thickness": thickness, "length": "2.5mm", "waste_percent": 0}
        pattern = _pattern(row=row, stitching=stitching)
        said = re.search(r"to match Ink, for the letters: (\d+) yd, 1 spool", _words(pattern_pdf(pattern)))
        assert said is not None
        (layer,) = pattern.stitching.rows[0].layers
        return layer.edge, Fraction(said[1]) * 36

    told = set()
    for when, thickness, through in (
        ("before the borders", "1mm", 1),
        ("with the quilting", "1mm", 3),
        ("with the quilting", "4mm", 4),
    ):
        edge, thread = read(when, thickness)
        needle = edge * (2 + 2 * through / 2.5) / 2
        assert thread == 2 * _whole(needle), (when, thickness)
        told.add(thread)
    assert len(told) == 3


def test_one_spool_that_holds_piecing_and_quilting_is_not_sold_twice() -> None:
    """Lines 1 in apart over 60 by 30 in and all seams: of 500 yd one spool, of 60 yd as many as both take together."""
    one = "if you take one thread for this and what stands before it,"
    booklet = _words(pattern_pdf(_pattern()))
    assert booklet.count(f"{one} 1 spool holds both") == 1
    short = _pattern(stitching={"spool": "300yd"})
    pieced, quilted = _need(short, ThreadUse.BINDING), _need(short, ThreadUse.QUILTING)
    both = math.ceil((pieced.length + quilted.length) / (300 * 36))
    said = f"{one} {both} spool"
    assert (said in _words(pattern_pdf(short))) is (both < pieced.spools + quilted.spools)


def test_piecing_that_fills_its_spool_leaves_none_of_it_for_quilting() -> None:
    """A spool of just what piecing takes: one for it and those for quilting, together as many as apart."""
    pieced = _need(_pattern(), ThreadUse.BINDING)
    pattern = _pattern(stitching={"spool": f"{pieced.length / 36}yd"})
    full, quilted = (_need(pattern, use) for use in (ThreadUse.BINDING, ThreadUse.QUILTING))
    assert (full.spools, full.length) == (1, full.on_spool)
    assert quilted.spools == math.ceil(quilted.length / pieced.length)
    assert quilted.with_piecing is None
    assert "holds both" not in str(item_said(quilted, pattern.design.units))


def test_a_kind_of_quilting_says_its_thread_and_the_list_alone_says_the_spool() -> None:
    pattern = _pattern(quilting=[{"kind": "crosshatch", "spacing": "2in"}])
    words = _words(pattern_pdf(pattern))
    quilted = words[words.index("Pull the bobbin thread up before you start") :]
    assert "of the thread for quilting, top and bobbin together." in quilted
    assert "spool" not in quilted
