"""Cover, what you need, before you start, care: what a stranger reads first and last."""

from __future__ import annotations

from typing import Any

import pytest

from applique.design import Method, design_from_mapping
from applique.drawings import Drawing, Shape
from applique.errors import Notice, Where
from applique.instructions import (
    Cautions,
    Chapter,
    ChapterKind,
    Chip,
    Edition,
    Instructions,
    Led,
    Listed,
    Paragraph,
    Picture,
    Table,
    instructions_of,
)
from applique.language import message
from applique.pattern import Pattern, draft
from applique.words.sheets import alike_said

DESIGN: dict[str, Any] = {
    "title": "High water",
    "row": [{"text": "HI"}],
    "panel": {"width": "24in", "height": "12in", "fabric": "Oat"},
    "lettering": {"fabric": "Ink", "cap_height": "5in"},
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"], "corners": "mitered"}],
    "fabric": [
        {"name": "Oat", "color": "#e8dfc8"},
        {"name": "Ink", "color": "#203040", "have": ["1 fat quarter"]},
    ],
    "publisher": {
        "name": "The rowing club's sewing circle",
        "license": "Sew it, sell it.",
        "contact": "a@b.example",
    },
}


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return draft(design_from_mapping(DESIGN))


def chapter(instructions: Instructions, kind: ChapterKind) -> Chapter:
    (found,) = [one for one in instructions.chapters if one.kind is kind]
    return found


def words(pattern: Pattern, chapter: Chapter) -> str:
    """All that a chapter says, cells of its tables included."""
    field = pattern.speech.field
    said: list[str] = []
    for block in chapter.blocks:
        match block:
            case Paragraph(said=one):
                said.append(field(one))
            case Picture(beside=beside):
                said += map(field, beside)
            case Listed(items=items) | Cautions(items=items):
                said += map(field, items)
            case Led(items=items):
                said += [f"{field(lead)}: {field(one)}" for lead, one in items]
            case Table(rows=rows):
                cells = [cell for row in rows for cell in row]
                said += [cell.name if isinstance(cell, Chip) else field(cell) for cell in cells]
            case _:
                pass
    return "\n".join(said)


def test_chapters_come_in_the_order_of_the_work(pattern: Pattern) -> None:
    kinds = [one.kind for one in instructions_of(pattern).chapters]
    assert kinds == [kind for kind in ChapterKind if kind in kinds]
    assert {ChapterKind.COVER, ChapterKind.SCALE, ChapterKind.BEFORE, ChapterKind.COLORING} <= set(kinds)


def test_steps_are_numbered_through_all_chapters(pattern: Pattern) -> None:
    numbers = [step.number for step in instructions_of(pattern).steps()]
    assert numbers == list(range(1, len(numbers) + 1))
    assert len(numbers) > 8


def test_the_cover_names_its_size_in_both_units_and_its_techniques(pattern: Pattern) -> None:
    cover = words(pattern, chapter(instructions_of(pattern), ChapterKind.COVER))
    assert "28 in (71.1 cm) wide and 16 in (40.6 cm) high" in cover
    assert "fused letters cut by hand" in cover and "mitered corners" in cover
    by_machine = words(
        pattern, chapter(instructions_of(pattern, method=Method.MACHINE_CUT), ChapterKind.COVER)
    )
    assert "cut by machine" in by_machine and "by hand" not in by_machine


def test_the_quilt_on_the_cover_keeps_its_proportions(pattern: Pattern) -> None:
    (drawing,) = [
        block.drawing
        for block in chapter(instructions_of(pattern), ChapterKind.COVER).blocks
        if isinstance(block, Picture)
    ]
    assert drawing.width / drawing.height == pytest.approx(28 / 16)


def test_a_customer_buys_what_is_not_in_the_makers_stash_without_her_reckoning(pattern: Pattern) -> None:
    makers = words(pattern, chapter(instructions_of(pattern), ChapterKind.NEEDED))
    customers = words(
        pattern, chapter(instructions_of(pattern, edition=Edition.CUSTOMER), ChapterKind.NEEDED)
    )
    assert "squared up at each end" in makers
    assert "squared up" not in customers.split("Stabilizer")[0]
    assert "what you have" not in customers and "stash" not in customers


def test_no_precut_is_offered_where_the_cutting_tables_do_not_fit_it(pattern: Pattern) -> None:
    fabrics = [{"name": one["name"], "color": one["color"]} for one in DESIGN["fabric"]]
    lettering = {**DESIGN["lettering"], "cap_height": "4in"}
    plain = draft(design_from_mapping({**DESIGN, "fabric": fabrics, "lettering": lettering}))
    assert any(buy.precut for buy in plain.shopping.cloth)
    for edition in Edition:
        said = words(plain, chapter(instructions_of(plain, edition=edition), ChapterKind.NEEDED))
        assert "would do" not in said


@pytest.mark.parametrize("method", list(Method))
def test_tools_are_those_of_the_method(pattern: Pattern, method: Method) -> None:
    said = words(pattern, chapter(instructions_of(pattern, method=method), ChapterKind.NEEDED))
    for tool in (
        "scissors",
        "pencil",
        "printer",
        "walking foot",
        "large square ruler",
        "hand needle",
        "chalk",
    ):
        assert tool in said
    assert ("made to be sewn through" in said) is (method is not Method.TURNED_EDGE)
    assert ("est piece is template" in said) is (method is Method.MACHINE_CUT)
    assert "large letters" not in said
    large = draft(design_from_mapping({"row": [{"text": "O"}], "lettering": {"cap_height": "15in"}}))
    assert "tape for the backing and for the pages of large letters" in words(
        large, chapter(instructions_of(large, method=method), ChapterKind.NEEDED)
    )


def test_before_the_work_starts_it_says_the_seam_allowance_and_what_units_mean(pattern: Pattern) -> None:
    said = words(pattern, chapter(instructions_of(pattern), ChapterKind.BEFORE))
    assert "seam allowance of 1/4 in, right sides together" in said
    assert "inch scale must be 6 in long, its millimeter scale 150 mm" in said
    assert "do not wash it first" in said
    washed = draft(design_from_mapping({**DESIGN, "yardage": {"washed": True}}))
    assert "Wash all fabrics before you cut" in words(
        washed, chapter(instructions_of(washed), ChapterKind.BEFORE)
    )
    metric = draft(design_from_mapping({**DESIGN, "units": "cm"}))
    assert "seam allowance of 0.75 cm" in words(metric, chapter(instructions_of(metric), ChapterKind.BEFORE))


def test_the_page_to_color_has_lines_and_no_color(pattern: Pattern) -> None:
    (drawing,) = [
        block.drawing
        for block in chapter(instructions_of(pattern), ChapterKind.COLORING).blocks
        if isinstance(block, Picture)
    ]
    assert isinstance(drawing, Drawing)
    fills = {mark.fill for mark in drawing.marks if isinstance(mark, Shape)}
    assert fills == {"#ffffff", None}


def test_rights_are_for_her_who_publishes(pattern: Pattern) -> None:
    makers = words(pattern, chapter(instructions_of(pattern), ChapterKind.CARE))
    customers = words(pattern, chapter(instructions_of(pattern, edition=Edition.CUSTOMER), ChapterKind.CARE))
    assert "Check before you publish" in makers and "publish" not in customers
    for said in (makers, customers):
        assert "a baby's crib" in said and "Sew it, sell it." in said and "a@b.example" in said


def test_the_same_finding_of_several_places_is_said_once() -> None:
    """Behind all of its places, in the words of a maker, not in those of the design file."""
    what, fix = message("it is small"), message("larger letters")
    said = alike_said(
        [
            *(Notice(kind="small", what=what, where=Where.in_row(row), fix=fix) for row in (2, 3, 5)),
            Notice(kind="seam", what=message("it has a seam"), where=Where.key("panel")),
            Notice(kind="bare", what=message("it is bare")),
        ]
    )
    assert list(map(str, said)) == [
        "row 2, row 3, and row 5: it is small. Try: larger letters.",
        "Panel: it has a seam.",
        "it is bare.",
    ]
