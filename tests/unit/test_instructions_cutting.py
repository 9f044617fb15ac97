"""The chapter of cutting: its diagrams to scale with every number, its steps, and the pictures of folds and seams."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest

from applique.cloth import UseKind
from applique.cutting import CutCloth, Lie, Piece, Region, Split
from applique.cutting.diagram import Diagram, draw_cloth, letters_of
from applique.design import Method
from applique.drawings import Drawing, Shape, Words
from applique.drawings.cloth import PieceNames, common_scale, draw_stretches, own_scale
from applique.drawings.folding import draw_folded_across, draw_folded_down, draw_pieced
from applique.instructions import Edition
from applique.instructions.values import Cautions, ChapterKind, Heading, Step, Table
from applique.language import american, message
from applique.quilt.panel_cut import Crossed, SeamPlan
from applique.units import Units
from applique.words.instructions.cutting import seam_under_said
from tests.chapters import chapter_of, drafted, drawings_of, run_over, said_in, steps_of, words_in

FABRICS = [
    {"name": "Fog", "color": "#e0e0d8", "usable_width": "42in"},
    {"name": "Rust", "color": "#a05030", "usable_width": "42in"},
]
PIECED: dict[str, Any] = {
    "panel": {"width": "60in", "height": "50in", "fabric": "Fog"},
    "lettering": {"font": "Rubik", "cap_height": "5in"},
    "row": [{"text": "EBB"}],
    "fabric": FABRICS,
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Rust"]}],
}


def lines_of(drawing: Drawing) -> list[tuple[float, float, float, float]]:
    """The extent of every line and shape of a drawing."""
    return [mark.outline.bounds() for mark in drawing.marks if isinstance(mark, Shape)]


def banded(*sizes: float) -> Drawing:
    """A cloth of bands from selvage to selvage, each a piece of its own, drawn alone."""
    diagram, names = in_bands(*sizes)
    scale = own_scale(diagram, names, 520.0)
    (drawing,) = draw_stretches(diagram, names, scale, message("cuts"), selvages=True)
    return drawing


def in_bands(*sizes: float) -> tuple[Diagram, PieceNames]:
    """The same before it is drawn."""
    x, parts = Fraction(0), []
    for number, size in enumerate(sizes):
        piece = Piece(key=str(number), lie=Lie.ACROSS)
        parts.append(Region(x=x, y=Fraction(0), length=Fraction(size), width=Fraction(42), fill=piece))
        x += Fraction(size)
    split = Split(cut=Lie.ACROSS, parts=tuple(parts))
    root = Region(x=Fraction(0), y=Fraction(0), length=x, width=Fraction(42), fill=split)
    diagram = draw_cloth(CutCloth(supply="bought", number=1, root=root), squaring=Fraction(1))
    uses = {str(number): message("binding") for number in range(len(sizes))}
    return diagram, PieceNames(letters_of([diagram]), uses, Units.INCHES, american())


@pytest.mark.parametrize(
    "sizes", [(1.5, 1.25, 20, 1), tuple(1 + n / 32 for n in range(14)), (47.5, 3.5, 3.25, 2)]
)
def test_the_width_of_every_band_stands_above_it_however_narrow(sizes: tuple[float, ...]) -> None:
    """Those of narrow strips were left out."""
    drawing = banded(*sizes)
    words = words_in(drawing)
    for size in sizes:
        assert str(american().measure(_inches(size))) in words
    assert [word for word in words if word.isdigit()] == [str(number) for number in range(1, len(sizes) + 1)]
    assert run_over(drawing) == []
    # Every piece has its letter, the narrowest too.
    assert {chr(97 + number) for number in range(len(sizes))} <= set(words)


def _inches(size: float) -> Any:
    from applique.units import as_size

    return as_size(Fraction(size), Units.INCHES)


def test_a_cloth_is_drawn_to_one_scale_and_no_larger_than_it_must_be() -> None:
    drawing = banded(30, 12)
    cuts = [box for box in lines_of(drawing) if box[2] - box[0] < 1e-6 and box[3] - box[1] > 100]
    first, middle, last = sorted({round(box[0], 6) for box in cuts})
    assert (middle - first) / (last - middle) == pytest.approx(30 / 12)
    selvages = sorted(
        {
            round(box[1], 6)
            for box in lines_of(drawing)
            if box[3] - box[1] < 1e-6 and box[2] - box[0] > 100  # and no sample of the key
        }
    )
    assert (selvages[-2] - selvages[0]) / (last - first) == pytest.approx(42 / 42)
    assert drawing.height < 42 * 5.4


@pytest.mark.parametrize("units", ["in", "cm"])
def test_all_fabrics_are_drawn_to_the_one_scale_that_is_said(units: str) -> None:
    """Each had one of its own, so that a quarter of a yard looked like a yard."""
    pattern = drafted(**PIECED, units=units)
    chapter = chapter_of(pattern, ChapterKind.CUTTING)
    unit = "in" if units == "in" else "cm"
    (scale,) = re.findall(
        rf"to one scale: printed at 100%, 1 {unit} of a drawing is (\d+) {unit}", said_in(chapter)
    )
    diagrams = [one for buy in pattern.shopping.cloth for one in buy.cutting.diagrams]
    lengths = [float(one.end - one.start) for diagram in diagrams for one in diagram.stretches]
    drawings = [drawing for drawing in drawings_of(chapter) if "Cutting plan" in str(drawing.said)]
    assert len(diagrams) > 2
    for drawing, length in zip(drawings, lengths, strict=True):
        assert drawing.is_to_scale
        ends = [box[0] for box in lines_of(drawing) if box[2] - box[0] < 1e-6 and box[3] - box[1] > 72]
        assert (max(ends) - min(ends)) * int(scale) / 72 == pytest.approx(length, rel=1e-4)
    assert "different scales" not in said_in(chapter)


def test_fabrics_keep_scales_of_their_own_where_one_would_lose_what_is_written(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Letters of bands 1 5/8 in wide have no room where 118 in of cloth are as wide as the page."""
    narrow, long = in_bands(*(1.625 + n / 64 for n in range(8))), in_bands(60, 57.5)
    assert common_scale([narrow], 520.0) != common_scale([long], 520.0)
    assert common_scale([narrow, long], 520.0) is None
    assert common_scale([in_bands(30, 12), in_bands(20, 36)], 520.0) is not None
    monkeypatch.setattr("applique.instructions.cutting.common_scale", lambda cloths, width: None)
    pattern = drafted(**PIECED)
    chapter = said_in(chapter_of(pattern, ChapterKind.CUTTING))
    found = re.findall(r"printed at 100%, 1 in of this drawing is \d+ in of fabric", chapter)
    assert len(found) == sum(len(buy.cutting.diagrams) for buy in pattern.shopping.cloth)
    assert "to one scale" not in chapter


def test_each_fabric_has_its_drawing_then_its_table_and_the_blade_comes_first() -> None:
    chapter = chapter_of(drafted(**PIECED), ChapterKind.CUTTING)
    heads = [index for index, block in enumerate(chapter.blocks) if isinstance(block, Heading)]
    caution = chapter.blocks[heads[0] + 1]
    assert isinstance(caution, Cautions) and "rotary blade" in str(caution.items[0])
    for start, end in zip(heads, [*heads[1:], len(chapter.blocks)], strict=True):
        kinds = [type(block) for block in chapter.blocks[start:end]]
        assert kinds.index(Step) < kinds.index(Table)
    assert str(chapter.blocks[heads[0]].said) == "Fabric A: Fog"  # type: ignore[union-attr]
    assert said_in(chapter).count("includes its seam allowances of 1/4 in") == 1
    assert "Left over" not in said_in(chapter)


def test_how_strips_of_a_border_are_joined_is_said_once_where_it_is_sewn() -> None:
    """Both chapters told it, each with other numbers."""
    pattern = drafted(**PIECED)
    assert any(use.border and use.joined for buy in pattern.shopping.cloth for use in buy.uses)
    cut = said_in(chapter_of(pattern, ChapterKind.CUTTING))
    assert "strips of border 1, joined in “Borders”" in cut
    assert "diagonal" not in cut and "right sides together, sew across" not in cut
    assert "stitch from corner to corner" in said_in(chapter_of(pattern, ChapterKind.BORDERS))


def test_a_sleeve_of_several_strips_is_joined_when_it_is_cut() -> None:
    panel = {"width": "50in", "height": "20in"}
    pattern = drafted(panel=panel, row=[{"text": "I"}], hanging={"sleeve": True})
    chapter = chapter_of(pattern, ChapterKind.CUTTING)
    (step,) = [step for step in steps_of(chapter) if "hanging sleeve" in said_in_step(step)]
    assert "sew across their ends with a seam allowance of 1/4 in" in said_in_step(step)
    assert step.drawing is not None


def test_a_panel_of_two_lengths_is_drawn_with_its_seam_where_it_lies() -> None:
    pattern = drafted(**PIECED)
    plan = pattern.quilt.panel
    assert plan.seam is not None and plan.seam.upright and len(plan.seam.places) == 1
    chapter = chapter_of(pattern, ChapterKind.CUTTING)
    (step,) = [step for step in steps_of(chapter) if "side by side" in said_in_step(step)]
    assert "seam allowance of 1/4 in" in said_in_step(step) and "press the seams open" in said_in_step(step)
    letters = letters_of(pattern.shopping.cloth[0].cutting.diagrams)
    in_order = [letters[f"panel, {number}"] for number in (1, 2)]
    assert f"in the order A {in_order[0]} and A {in_order[1]}" in said_in_step(step)
    drawing = draw_pieced(plan, plan.seam.places, in_order, Units.INCHES, american(), message("pieced"))
    x = next(
        mark.outline.bounds()[0]
        for mark in drawing.marks
        if isinstance(mark, Shape) and mark.ink is not None and mark.ink.dashes
    )
    scale = max(box[2] for box in lines_of(drawing)) / float(plan.width)
    assert x == pytest.approx(float(plan.seam.places[0]) * scale)
    named = {str(mark.said): mark.at[0] for mark in drawing.marks if isinstance(mark, Words)}
    assert named[in_order[0]] < x < named[in_order[1]]


def said_in_step(step: Step) -> str:
    return " ".join(map(str, step.said))


def test_a_panel_is_folded_in_two_pictures_with_half_of_it_measured() -> None:
    size = (Fraction(41), Fraction(47))
    for draw, half, part in (
        (draw_folded_down, size[1] / 2, (1.0, 0.5)),
        (draw_folded_across, size[0] / 2, (0.5, 1.0)),
    ):
        drawing = draw(size, half, Units.INCHES, message("folded"))
        filled = [mark.outline.bounds() for mark in drawing.marks if isinstance(mark, Shape) and mark.fill]
        large = sorted(filled, key=lambda box: (box[2] - box[0]) * (box[3] - box[1]))[-2:]
        (folded, opened) = [(box[2] - box[0], box[3] - box[1]) for box in large]
        assert folded == pytest.approx((opened[0] * part[0], opened[1] * part[1]))
        assert opened[0] / opened[1] == pytest.approx(41 / 47)
        assert str(american().measure(_inches(float(half)))) in words_in(drawing)
        assert drawing.width <= 240
    steps = steps_of(chapter_of(drafted(**PIECED), ChapterKind.CUTTING))
    folds = [step for step in steps if "fold it in half" in said_in_step(step)]
    assert len(folds) == 2 and all(step.drawing is not None for step in folds)


LOW = {"row": [{"text": "I"}], "panel": {"width": "100in", "height": "12in"}}
HIGH = {"row": [{"text": "I"}], "panel": {"width": "10in", "height": "100in"}}


@pytest.mark.parametrize("method", list(Method))
@pytest.mark.parametrize("data", [PIECED, LOW, HIGH], ids=["pieced", "low", "high"])
def test_drawings_fit_their_page_and_their_words_stand_clear(data: dict[str, Any], method: Method) -> None:
    """No wider than the line, no higher than half a page, no words under 7 pt, out of the drawing or on others."""
    pattern = drafted(**data)
    frame = pattern.sheets.frame
    wide = frame.width - 2 * frame.margin  # the booklet has no rules to keep clear of
    _, y0, _, y1 = frame.drawing
    for kind in (ChapterKind.CUTTING, ChapterKind.LETTERS, ChapterKind.PLACING):
        for drawing in drawings_of(chapter_of(pattern, kind, method)):
            assert drawing.width <= wide * 72 + 0.01
            assert drawing.height <= (y1 - y0) * 36
            assert all(mark.size >= 7 for mark in drawing.marks if isinstance(mark, Words))
            assert run_over(drawing) == []
            assert str(drawing.said)


def test_a_piece_of_the_stash_is_squared_up_too_and_says_what_is_left_of_it() -> None:
    """Its gray ends were drawn and counted, and no step told to cut them; what was left stood with the last piece."""
    fabric = [{**FABRICS[0]}, {**FABRICS[1], "have": ["1/2yd", "a fat quarter"]}]
    pattern = drafted(**{**PIECED, "fabric": fabric})
    chapter = chapter_of(pattern, ChapterKind.CUTTING, edition=Edition.MAKER)
    held = [str(step.said[0]) for step in steps_of(chapter) if "From your stash" in str(step.said[0])]
    assert held
    for words in held:
        assert (
            "Square up both of its ends: the stripes, 1 in at each end, are there for that. Then cut band by band"
            in words
        )
    (cut,) = [buy.cutting for buy in pattern.shopping.cloth if buy.fabric.name == "Rust"]
    parts = [cut.offcuts_of([cloth]) for cloth in cut.plan.cloths]
    assert sum(map(len, parts)) == len(cut.offcuts_of(cut.plan.cloths))
    start = next(
        i for i, block in enumerate(chapter.blocks) if str(getattr(block, "said", "")).endswith("Rust")
    )
    tables = [block for block in chapter.blocks[start:] if isinstance(block, Table)][: len(parts)]
    for table, left in zip(tables, parts, strict=True):
        assert any("left over" in map(str, row) for row in table.rows) == bool(left)


def test_customers_read_no_way_that_was_not_taken_and_makers_do() -> None:
    """ "Crosswise would take 101 in, with seams clear of the letters" read as if this seam were clear."""
    wide = {
        **PIECED,
        "row": [{"text": "EBBING", "cap_height": "7in"}, {"text": "EBBING", "cap_height": "7in"}],
    }
    wide["panel"] = {"width": "80in", "height": "60in", "fabric": "Fog"}
    pattern = drafted(**wide)
    for kind in (ChapterKind.CUTTING, ChapterKind.LAYERING):
        maker, customer = (
            said_in(chapter_of(pattern, kind, edition=Edition.MAKER)),
            said_in(chapter_of(pattern, kind)),
        )
        assert re.search("(cross|length)wise would take", maker), kind
        assert not re.search("(cross|length)wise would take", customer), kind


@pytest.mark.parametrize("crossed", [True, False])
def test_a_seam_of_the_panel_says_which_rows_it_runs_under(crossed: bool) -> None:
    letters = tuple(Crossed(letters="e", row=row) for row in (3, 1, 3) if crossed)
    said = seam_under_said(SeamPlan(upright=True, places=(Fraction(18),), crossed=letters))
    assert (said is not None) == crossed
    if said is not None:
        assert "it runs under letters of rows 1 and 3" in str(said)


def test_pieces_that_fill_the_width_say_that_they_have_no_spare() -> None:
    """Six squares of 7 in are 42 in, the whole width, and twelve take two such rows, 14 of the 18 in that are bought;
    24 of 3 1/2 in are laid 8, 8 and 8, for which the 13 1/2 in have room; sixteen of 2 1/2 in leave 2 in."""
    for size, side, full in (("6 1/2in", "32 1/2in", True), ("3in", "33in", False), ("2in", "30in", False)):
        border = {"kind": "squares", "size": size, "fabrics": ["Rust", "Fog"]}
        panel = {"width": side, "height": side, "fabric": "Fog"}
        chapter = chapter_of(drafted(**{**PIECED, "panel": panel, "border": [border]}), ChapterKind.CUTTING)
        (rust,) = re.findall(r"Fabric \w: Rust\n(.*?)(?:\nFabric |$)", said_in(chapter), re.DOTALL)
        assert ("whole usable width, no spare" in rust) == full


def test_joined_strips_have_something_to_spare_and_the_booklet_says_how_much() -> None:
    """Five strips of 42 in and 23 in of a sixth, joined with five diagonal seams of 5 in, reached just the 208 in that
    a border takes; 19 in lay beside the last."""
    pattern = drafted(
        row=[{"text": "Hi"}],
        panel={"width": "44in", "height": "30in"},
        lettering={"fabric": "Fog"},
        fabric=[*FABRICS, {"name": "Pine", "color": "#234a3c", "usable_width": "42in"}],
        binding={"fabric": "Rust"},
        border=[
            {"kind": "strip", "width": "1in", "fabrics": ["Rust"], "corners": "mitered"},
            {"kind": "strip", "width": "4 1/2in", "fabrics": ["Pine"], "corners": "mitered"},
        ],
    )
    uses = [
        use
        for buy in pattern.shopping.cloth
        for use in buy.uses
        if use.kind is UseKind.BORDER and use.border == 2
    ]
    ((run,),) = (use.joined for use in uses)
    strips = [strip for use in uses for strip in use.strips]
    cut = [strip.length for strip in strips for _ in range(strip.count)]
    assert sum(cut) - (len(cut) - 1) * 5 == run.needed + 2
    words = said_in(chapter_of(pattern, ChapterKind.CUTTING))
    assert "are 2 in longer than they must be" in words
