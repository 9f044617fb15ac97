"""Rows that run off the panel: what is left of their letters, and what all that follows makes of it.

Areas and lengths are those of shapely, from polylines within 0.00002 in of the curves.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pypdfium2
import pytest
import shapely

from applique.cutfiles import cut_drawings
from applique.design import Design, design_from_mapping
from applique.errors import Refusal
from applique.geometry.polygons import Shape, polygon_of
from applique.instructions.values import ChapterKind
from applique.marks import off_fabric, row_marks
from applique.panel import PlacedCut, Side, place_rows
from applique.pattern import Pattern, draft
from applique.picture import Part
from applique.pieces import Layer, Template, cut_templates
from applique.reports.words_data import template_data
from applique.sewing.checks import check_panel
from applique.sewing.cures import CureKind, cures
from applique.sewing.findings import FindingKind
from applique.sewing.placed import Placed, place
from applique.sheets import placement_guide_pdf, templates_pdf
from tests.chapters import chapter_of, said_in

FINE = 0.00002
OCEAN: Mapping[str, Any] = {"text": "OCEAN", "width": "22in", "baseline": "9in", "runs_off": True}


def _design(*rows: Mapping[str, Any], **tables: Any) -> Design:
    panel = {"width": "20in", "height": "16in", **tables.pop("panel", {})}
    return design_from_mapping({"row": rows, "panel": panel, **tables})


def _cut_edge(placed: Placed) -> shapely.Polygon:
    width, height, beyond = (float(x) for x in (placed.panel.width, placed.panel.height, placed.panel.beyond))
    return shapely.box(-beyond, -beyond, width + beyond, height + beyond)


def _fine(cut: PlacedCut) -> Shape:
    """The letter where it lies, from its curves."""
    return polygon_of(cut.place.outline(cut.outline), chord_error=FINE)


@pytest.fixture(scope="module")
def made() -> Pattern:
    return draft(_design(OCEAN, quilting=[{"kind": "echo", "lines": 2, "spacing": "1/2in"}]))


def test_a_row_beyond_the_panel_is_refused_and_told_how_it_may_run_off() -> None:
    for row, kind in (
        ({"text": "OCEAN", "width": "22in"}, "row-too-wide"),
        ({"text": "OCEAN", "width": "12in", "right": "6in"}, "row-off-the-panel"),
    ):
        with pytest.raises(Refusal) as refused:
            place_rows(_design(row))
        (problem,) = refused.value.problems
        assert problem.kind == kind
        assert str(problem.fix).endswith("or runs_off = true, if it should run off the edge")
        assert place(_design({**row, "runs_off": True})).panel.rows


@pytest.mark.parametrize(
    ("row", "sides"),
    [
        (OCEAN, {Side.LEFT, Side.RIGHT}),
        ({**OCEAN, "turn": 10}, {Side.LEFT, Side.RIGHT}),
        ({**OCEAN, "baseline": "2in", "width": "18in"}, {Side.TOP}),
        ({**OCEAN, "baseline": "17in", "right": "2in"}, {Side.RIGHT, Side.BOTTOM}),
    ],
)
def test_letters_are_cut_off_at_the_cut_edge_and_else_are_what_they_were(
    row: Mapping[str, Any], sides: set[Side]
) -> None:
    design = _design(row)
    placed = place(design)
    whole = place_rows(design).cuts
    edge = _cut_edge(placed)
    found = set()
    for before, cut in zip(whole, placed.panel.cuts, strict=True):
        left = _fine(before).intersection(edge)
        assert cut.outline.area() == pytest.approx(left.area, abs=2e-4)
        assert edge.buffer(1e-4).covers(_fine(cut))
        assert _fine(cut).symmetric_difference(left).area < 5e-4
        assert cut.ink == pytest.approx(left.bounds, abs=1e-4)
        found |= set(cut.off.sides if cut.off else ())
        assert (cut.off is None) == edge.covers(_fine(before))
        if cut.off is None:
            assert cut == before
    assert found == sides


def test_curves_stay_curves(made: Pattern) -> None:
    o = made.panel.cuts[0]
    assert o.off and o.text == "O"
    curved = [part for contour in o.outline.contours for part in contour.segments if len(part) > 1]
    assert 8 <= len(curved) < 40


def test_the_edge_to_be_sewn_leaves_out_where_a_letter_is_cut_off(made: Pattern) -> None:
    whole = place_rows(made.design).cuts
    edge = _cut_edge(made.sketch.placed)
    for before, template in zip(whole, made.templates, strict=True):
        assert template.edge == pytest.approx(_fine(before).boundary.intersection(edge).length, abs=2e-3)
    (row,) = made.stitching.rows
    assert row.edge == pytest.approx(math.fsum(template.edge for template in made.templates))


def test_an_edge_that_is_cut_off_is_started_in_the_seam(made: Pattern) -> None:
    first, *_ = made.stitching.letters
    o = made.panel.cuts[0]
    finished = shapely.box(0, 0, 20, 16)
    starts = [o.place.point(start) for start in first.starts]
    # Its outer edge in the seam, its counter wherever that is straightest.
    assert [finished.covers(shapely.Point(start)) for start in starts] == [False, True]


def test_each_way_to_be_cut_off_is_a_template_with_a_name_of_its_own() -> None:
    row = {"text": "OOOO", "width": "24in", "runs_off": True}
    design = _design(row)
    templates = cut_templates(design, place(design).panel.laid, ())
    assert [(str(one.name), one.count) for one in templates] == [
        ("O, cut off at the left", 1),
        ("O", 2),
        ("O, cut off at the right", 1),
    ]
    corner = _design({"text": "O", "cap_height": "20in", "right": "8in", "up": "6in", "runs_off": True})
    (template,) = cut_templates(corner, place(corner).panel.laid, ())
    assert str(template.name) == "O, cut off at the right and the top"
    assert [template_data(one)["cut_off_at"] for one in templates] == [["left"], [], ["right"]]
    assert template_data(template)["cut_off_at"] == ["right", "top"]


def test_a_row_inside_the_panel_is_the_same_whether_it_may_run_off_or_not() -> None:
    row = {"text": "Hi", "cap_height": "4in", "nudge": [{"letter": 1, "turn": 8}]}
    plain, free = (draft(_design({**row, "runs_off": off})) for off in (False, True))
    assert plain.templates == free.templates
    assert templates_pdf(plain, mirrored=True) == templates_pdf(free, mirrored=True)
    assert plain.picture.items == free.picture.items


def test_a_letter_of_which_nothing_is_seen_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        place_rows(_design({"text": "OCEAN", "width": "40in", "runs_off": True}))
    said = [str(problem.what) for problem in refused.value.problems]
    assert said == [f"nothing of “{letter}” in “OCEAN” is on the panel" for letter in "ON"]


def test_a_part_of_which_nothing_is_seen_is_left_out() -> None:
    """The dot of an i that starts an eighth of an inch above the finished edge, within the seam allowance."""
    row = {"text": "i", "cap_height": "10in", "runs_off": True}
    dot = max(contour.bounds()[1] for contour in place_rows(_design(row)).cuts[0].outline.contours)
    design = _design({**row, "baseline": f"{dot - 0.125:.4f}in"})
    (cut,) = place(design).panel.cuts
    assert len(place_rows(design).cuts[0].outline.contours) == 2
    assert len(cut.outline.contours) == 1


def test_a_row_as_large_as_fits_keeps_its_margins_until_it_is_moved() -> None:
    plain, free, moved = (
        place(_design({"text": "OCEAN", **more})).panel.rows[0]
        for more in ({}, {"runs_off": True}, {"runs_off": True, "right": "3in"})
    )
    assert plain.cap_height == free.cap_height == moved.cap_height
    assert plain.ink == free.ink
    assert moved.cuts[-1].off


def test_a_turned_edge_is_not_turned_where_it_lies_in_the_seam() -> None:
    design = _design(OCEAN, sewing={"method": "turned edge", "turn_under": "1/4in"})
    placed = place(design)
    templates = cut_templates(design, placed.panel.laid, ())
    edge = _cut_edge(placed)
    for before, cut, template in zip(place_rows(design).cuts, placed.panel.cuts, templates, strict=True):
        assert template.turned
        grown = _fine(before).buffer(0.25, quad_segs=64).intersection(edge)
        line = polygon_of(cut.place.outline(template.cut_line), chord_error=FINE)
        assert edge.buffer(1e-4).covers(line)
        assert line.symmetric_difference(grown).area < 0.03
        for mark in template.turned.marks:
            assert edge.buffer(2e-3).covers(cut.place.shape(shapely.LineString(mark)))


@pytest.mark.parametrize("around", ["letters", "words"])
def test_outlines_are_cut_off_with_their_letters(around: str) -> None:
    """What is left of each is what lies around the whole letter, and no corner is rounded at the edge."""
    design = _design(OCEAN, lettering={"outline": "1/4in"}, outline={"around": around})
    placed = place(design)
    edge = _cut_edge(placed)
    whole = shapely.union_all([_fine(cut) for cut in place_rows(design).cuts])
    grown = whole.buffer(0.25, quad_segs=64).intersection(edge)
    left = shapely.union_all([piece.place.shape(piece.shape) for piece in placed.outlines])
    assert left.symmetric_difference(grown).area < 0.1
    assert sum(piece.off is not None for piece in placed.outlines) == (2 if around == "letters" else 1)
    templates = cut_templates(design, placed.panel.laid, placed.outlines)
    behind = [one for one in templates if one.layer is Layer.OUTLINE]
    said = (
        " outline, cut off at the left"
        if around == "letters"
        else " outline, cut off at the left and the right"
    )
    assert str(behind[0].name).endswith(said)


def test_a_sliver_that_the_edge_leaves_is_found_and_cured() -> None:
    """The N starts with an upright stroke; an eighth of an inch of it is inside."""
    row = {"text": "IN", "cap_height": "4in", "letter_spacing": "4in", "runs_off": True, "align": "left"}
    ink = place_rows(_design(row)).cuts[1].ink
    inside = Fraction(1, 8)
    away = Fraction(20) - inside - Fraction(ink[0])
    placed = place(_design({**row, "right": str(float(away)) + "in"}))
    checks = check_panel(placed)
    (found,) = [one for one in checks.findings if one.kind is FindingKind.SLIVER]
    assert found.measure == pytest.approx(float(inside), abs=2e-3)
    assert found.spots[0].text == "N"
    assert all(one.kind is not FindingKind.SEAM for one in checks.findings)
    cure = next(iter(cures(checks, found)))
    assert cure.kind is CureKind.MOVED_SIDEWAYS
    assert not [one for one in check_panel(place(cure.design)).findings if one.kind is FindingKind.SLIVER]


def test_what_only_reaches_into_the_seam_is_still_too_close() -> None:
    row = {"text": "I", "cap_height": "4in", "runs_off": True, "align": "right"}
    # The margin of 1 1/2 in, and an eighth of an inch of the seam allowance.
    checks = check_panel(place(_design({**row, "right": "1 5/8in"})))
    (found,) = [one for one in checks.findings if one.kind is FindingKind.SEAM]
    assert found.measure == 0.0


@pytest.mark.parametrize("finish", ["garment", "letters only"])
def test_where_no_panel_is_cut_there_is_no_edge_to_run_off(finish: str) -> None:
    with pytest.raises(Refusal) as refused:
        _design(OCEAN, finish=finish)
    (problem,) = refused.value.problems
    assert (problem.kind, problem.where.path) == ("no-edge-to-run-off", ("row", 1, "runs_off"))
    with pytest.raises(Refusal) as refused:
        place_rows(_design({"text": "OCEAN", "width": "12in", "right": "6in"}, finish="garment"))
    assert "runs_off" not in str(refused.value.problems[0].fix)


def test_a_panel_that_is_trimmed_later_has_its_letters_cut_as_large_as_it_is() -> None:
    placed = place(_design(OCEAN, stitching={"stitch": "satin"}))
    assert placed.panel.trim == 1
    assert placed.panel.cuts[-1].ink[2] == pytest.approx(20 + 0.25 + 0.5, abs=1e-4)


def test_nothing_is_painted_beyond_the_finished_edge(made: Pattern) -> None:
    seen = shapely.box(0, 0, 20, 16).buffer(1e-3)
    items = list(made.picture.on_panel(Part.LETTER, Part.OUTLINE, Part.STITCH, Part.QUILTING))
    for item in items:
        for contour in item.laid.contours:
            assert seen.covers(shapely.LineString(contour.points(FINE)))
    whole = [item for item in items if item.caught is not None]
    assert len(whole) == 2
    assert min(item.laid_whole.bounds()[0] for item in whole) == pytest.approx(-0.25, abs=1e-4)


def test_cut_files_hold_what_is_left(made: Pattern) -> None:
    by_template = {one.template: one for one in cut_drawings(made) if one.template}
    for template, cut in zip(made.templates, made.panel.cuts, strict=True):
        assert by_template[template.number].size[0] == pytest.approx(cut.ink[2] - cut.ink[0], abs=1e-4)
    (row,) = (one for one in cut_drawings(made) if one.row)
    assert row.size[0] == pytest.approx(20.5, abs=2e-4)


def test_template_and_guide_say_where_a_letter_is_cut_off(made: Pattern) -> None:
    templates = _text(templates_pdf(made, mirrored=False))
    assert "cut off at the left" in templates
    assert "cut off at the right" in templates
    assert "finished edge of the panel: the letter runs off it, into the seam" in templates
    # Half of the panel and the seam allowance: 10 + 1/4 in, to the left of the center and to the right.
    guide = _text(placement_guide_pdf(made))
    assert "101/4L" in guide.replace(" ", "").replace("⁄", "/")
    assert "101/4R" in guide.replace(" ", "").replace("⁄", "/")


def test_the_booklet_says_how_they_are_laid(made: Pattern) -> None:
    said = said_in(chapter_of(made, ChapterKind.PLACING))
    assert "These run off the panel: O, cut off at the left and N, cut off at the right. Lay the side" in said
    assert "lie beyond the panel and cannot be marked" not in said


def test_a_baseline_that_leaves_the_panel_is_marked_where_there_is_fabric() -> None:
    """Up a slope of 30 degrees the last letter is cut off at the right, and its tick lies beyond it."""
    design = _design(
        {"text": "Sage", "cap_height": "7in", "turn": 30, "runs_off": True},
        panel={"width": "14in", "height": "14in"},
    )
    panel = place(design).panel
    (mark,) = row_marks(panel, cut_templates(design, panel.laid, ()), ())
    fabric = shapely.box(-0.2500001, -0.2500001, 14.2500001, 14.2500001)
    assert fabric.covers(shapely.LineString(mark.baseline))
    assert not fabric.covers(shapely.LineString(panel.rows[0].baseline_path))
    assert [letter.text for letter in mark.letters if off_fabric(letter, panel)] == ["e"]


def test_the_line_of_the_finished_edge_on_a_template_is_an_allowance_inside_its_cut(made: Pattern) -> None:
    for template in (made.templates[0], made.templates[-1]):
        assert template.off
        for (x0, _), (x1, _) in template.off.seams:
            side = template.ink[0] if template.off.sides == (Side.LEFT,) else template.ink[2]
            assert x0 == pytest.approx(x1)
            assert abs(x0 - side) == pytest.approx(0.25, abs=1e-4)
    assert _gaps(made.templates[0])


def _gaps(template: Template) -> bool:
    """Whether the seams of a template do not overlap one another."""
    assert template.off
    ends = sorted(sorted((start[1], end[1])) for start, end in template.off.seams)
    return all(before[1] <= after[0] for before, after in pairwise(ends))


def _text(pdf: bytes) -> str:
    pages = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in pages)
