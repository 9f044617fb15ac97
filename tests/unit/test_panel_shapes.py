"""Panels that are no rectangles: edges against closed forms, letters inside by exact polygons, templates read back."""

from __future__ import annotations

import ctypes
import math
import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import shapely
from pypdfium2 import raw
from shapely.geometry import Point, box

from applique.cutfiles import cut_files
from applique.design import Design, PanelShape, Stitch, design_from_mapping, design_text, read_design
from applique.errors import Refusal
from applique.instructions import instructions_of
from applique.language import american
from applique.panel import PanelOutline, on_panel
from applique.panel.outline import NOTCH, reach_over, where_it_fits
from applique.pattern import draft, sketch
from applique.picture import Part
from applique.reports import summary_md
from applique.sewing.checks import check_panel
from applique.sewing.findings import FindingKind
from applique.sewing.placed import place
from applique.sheets import pattern_pdf, placement_guide_pdf
from applique.web.views import drawing_view
from applique.words.instructions.trimming import trimmed_from

SAMPLE = Path(__file__).parents[2] / "samples" / "hello-spring.toml"
SEAM = 0.25
NEAR = 2e-3
"""Square inches and inches that arcs of cubic curves and their chords may be off."""
SIZES: dict[PanelShape, tuple[str, str]] = {
    PanelShape.TRIANGLE: ("9in", "11in"),
    PanelShape.SWALLOWTAIL: ("9in", "11in"),
    PanelShape.HALF_ROUND: ("9in", "11in"),
    PanelShape.CIRCLE: ("10in", "10in"),
    PanelShape.HEXAGON: ("12in", "10 3/8in"),
}
SHAPES = pytest.mark.parametrize("shape", SIZES)


def _outline(shape: PanelShape, width: float, height: float) -> PanelOutline:
    return PanelOutline(shape=shape, width=width, height=height)


def _design(shape: str, *words: str, size: tuple[str, str] | None = None, **tables: Any) -> Design:
    width, height = size or SIZES[PanelShape(shape)]
    data: dict[str, Any] = {
        "finish": "top only",
        "panel": {"width": width, "height": height, "margin": "3/4in", "shape": shape},
        "lettering": {"font": "Rubik"},
        "row": [{"text": text} for text in words or ("TIDE",)],
    }
    return design_from_mapping({**data, **tables})


def _kinds(**changed: Any) -> list[str]:
    with pytest.raises(Refusal) as refused:
        place(_design("triangle", **changed))
    return [problem.kind for problem in refused.value.problems]


# Edges against closed forms


@pytest.mark.parametrize("beyond", [0.0, SEAM, 1.0, -0.5])
def test_a_circle_grows_by_its_radius(beyond: float) -> None:
    edge, radius = _outline(PanelShape.CIRCLE, 10.0, 10.0).at(beyond), 5.0 + beyond
    assert edge.area() == pytest.approx(math.pi * radius**2, abs=NEAR)
    assert edge.length() == pytest.approx(2 * math.pi * radius, abs=NEAR)
    assert edge.bounds() == pytest.approx((-beyond, -beyond, 10.0 + beyond, 10.0 + beyond))


@pytest.mark.parametrize(("width", "height"), [(7.0, 9.0), (12.0, 5.0)])
def test_a_triangle_grows_by_its_angles(width: float, height: float) -> None:
    # A point of angle a goes out by s / sin(a/2); along a side that is s cot(a/2).
    edge, side = _outline(PanelShape.TRIANGLE, width, height).at(SEAM), math.hypot(width / 2, height)
    tip, top = 2 * math.atan(width / 2 / height), math.atan(height / (width / 2))
    x0, y0, x1, y1 = edge.bounds()
    assert y0 == pytest.approx(-SEAM / math.sin(tip / 2)) and y1 == pytest.approx(height + SEAM)
    assert -x0 == pytest.approx(SEAM / math.tan(top / 2)) and x1 - width == pytest.approx(-x0)
    grown = sum(1 / math.tan(angle / 2) for angle in (tip, top, top))
    around = width + 2 * side
    assert edge.area() == pytest.approx(width * height / 2 + around * SEAM + grown * SEAM**2)


def test_a_hexagon_of_equal_sides_grows_by_its_apothem() -> None:
    width = 12.0
    apothem = width / 4 * math.sqrt(3)
    outline = _outline(PanelShape.HEXAGON, width, 2 * apothem)
    assert outline.at().length() == pytest.approx(6 * width / 2)
    grown = outline.at(SEAM)
    # A regular hexagon of apothem a has the area 2 √3 a².
    assert grown.area() == pytest.approx(2 * math.sqrt(3) * (apothem + SEAM) ** 2)
    assert grown.bounds()[2] - width == pytest.approx(SEAM * 2 / math.sqrt(3))


def test_a_swallowtail_is_cut_out_by_its_notch() -> None:
    width, height = 9.0, 11.0
    outline, notch = _outline(PanelShape.SWALLOWTAIL, width, height), NOTCH * height
    assert outline.at().area() == pytest.approx(width * height - width * notch / 2)
    # The lines of the notch go down by s over the cosine of their slope, and so does the point where they meet.
    lower = SEAM * math.hypot(1.0, 2 * notch / width)
    assert min(math.dist(point, (width / 2, notch - lower)) for point in _corners(outline, SEAM)) < 1e-9
    # At the tails a side and a line of the notch meet.
    assert outline.at(SEAM).bounds()[1] == pytest.approx(-lower - SEAM * 2 * notch / width)


def test_a_half_round_flag_is_a_half_circle_below_straight_sides() -> None:
    width, height = 9.0, 11.0
    for beyond in (0.0, SEAM, -0.5):
        edge, radius = _outline(PanelShape.HALF_ROUND, width, height).at(beyond), width / 2 + beyond
        straight = height - width / 2 + beyond
        assert edge.area() == pytest.approx(2 * radius * straight + math.pi * radius**2 / 2, abs=NEAR)
        assert edge.length() == pytest.approx(2 * radius + 2 * straight + math.pi * radius, abs=NEAR)


def _corners(outline: PanelOutline, beyond: float) -> list[tuple[float, float]]:
    (contour,) = outline.at(beyond).contours
    return [contour.start, *(segment[-1] for segment in contour.segments)]


@SHAPES
def test_the_rectangle_that_is_cut_first_holds_the_outline_and_is_no_larger_than_a_step(
    shape: PanelShape,
) -> None:
    panel = place(_design(shape.value)).panel
    assert panel.outline is not None
    x0, y0, x1, y1 = panel.outline.at(float(panel.seam_allowance)).bounds()
    left, low, right, top = panel.cut_edge
    for spare in (x0 - left, right - x1, y0 - low, top - y1):
        assert -1e-6 < spare < 1 / 16
    assert panel.cut_width % Fraction(1, 16) == panel.cut_height % Fraction(1, 16) == 0
    assert (right - left, top - low) == (float(panel.cut_width), float(panel.cut_height))


def test_an_edge_that_reaches_no_further_than_its_allowance_needs_no_more() -> None:
    outline = _outline(PanelShape.CIRCLE, 10.0, 10.0)
    assert reach_over(outline, Fraction(1, 4), Fraction(1, 16)) == (Fraction(0), Fraction(0))


# Letters inside


@SHAPES
def test_the_clearance_is_the_distance_to_the_edge(shape: PanelShape) -> None:
    width, height = 9.0, 9.0
    outline = _outline(shape, width, height)
    inside = outline.polygon()
    held = beyond = 0
    for column in range(9):
        for row in range(9):
            ink = box(column, row, column + 0.7, row + 0.4)
            away = outline.clearance(ink)
            if inside.covers(ink):
                held += 1
                assert away == pytest.approx(inside.exterior.distance(ink), abs=NEAR)
                assert outline.nearest(ink)[0] == pytest.approx(away)
                assert inside.exterior.distance(Point(outline.nearest(ink)[1])) == pytest.approx(
                    away, abs=NEAR
                )
            else:
                beyond += 1
                assert away < 0
    assert held > 9 and beyond > 2


@pytest.mark.parametrize(("width", "height"), [(7.0, 9.0), (12.0, 5.0)])
def test_a_dot_in_a_triangle_lies_at_the_middle_of_its_incircle(width: float, height: float) -> None:
    # The point farthest from all sides is the incenter, as far as 2 areas over the length around.
    outline = _outline(PanelShape.TRIANGLE, width, height)
    radius = width * height / (width + 2 * math.hypot(width / 2, height))
    up = where_it_fits(outline, Point(width / 2, 0.0).buffer(0.1))
    assert up == pytest.approx(height - radius, abs=1e-3)


def test_what_fits_alike_at_several_heights_lies_in_the_middle_of_them() -> None:
    outline = _outline(PanelShape.SWALLOWTAIL, 9.0, 30.0)
    ink = box(1.0, 0.0, 8.0, 2.0)
    up = where_it_fits(outline, ink)
    # As near to the sides as 1 in: from 1 in below the top down to where the point of the notch is 1 in away.
    assert up == pytest.approx(((30.0 - 1 - 2) + (10.0 + 1)) / 2, abs=0.05)


@SHAPES
@pytest.mark.parametrize("words", [("TIDE",), ("OAR", "AND", "ROPE")])
def test_letters_as_large_as_fit_keep_the_margin_and_a_step_more_does_not(
    shape: PanelShape, words: tuple[str, ...]
) -> None:
    design = _design(shape.value, *words)
    panel = place(design).panel
    assert panel.outline is not None
    inner = panel.outline.polygon().buffer(-float(panel.margin), quad_segs=64)
    letters = shapely.union_all([on_panel(cut) for cut in panel.cuts])
    assert shapely.difference(letters, inner.buffer(1e-3)).is_empty
    assert not panel.notices
    (height,) = {row.cap_height for row in panel.rows}
    with pytest.raises(Refusal) as refused:
        larger = {"font": "Rubik", "cap_height": f"{height + Fraction(1, 16)}in"}
        place(_design(shape.value, *words, lettering=larger))
    (problem,) = refused.value.problems
    assert problem.kind == "rows-outside-the-outline"
    # The refusal says the height that would fit.
    stated = place(
        _design(shape.value, *words, lettering={"font": "Rubik", "cap_height": f"{height}in"})
    ).panel
    assert [row.baseline for row in stated.rows] == pytest.approx([row.baseline for row in panel.rows])


def test_rows_stand_a_row_gap_apart() -> None:
    design = _design(
        "circle", "OAR", "ROPE", lettering={"font": "Rubik", "row_gap": "1in", "cap_height": "1in"}
    )
    above, below = place(design).panel.rows
    assert above.ink[1] - below.ink[3] == pytest.approx(1.0)
    pitch = {"font": "Rubik", "row_spacing": "2 1/2in", "cap_height": "1in"}
    above, below = place(_design("circle", "OAR", "ROPE", lettering=pitch)).panel.rows
    assert above.baseline - below.baseline == pytest.approx(2.5)


def test_a_row_moved_over_a_slanting_side_is_off_the_panel() -> None:
    row = {"text": "TIDE", "cap_height": "1in", "up": "-5in"}
    assert _kinds(row=[row]) == ["row-off-the-panel"]
    panel = place(_design("triangle", row=[{**row, "up": "-3 1/2in"}])).panel
    assert [notice.kind for notice in panel.notices] == ["row-in-the-margin"]


def test_a_letter_near_a_slanting_side_is_found() -> None:
    def found(shape: str) -> set[FindingKind]:
        row = {"text": "TIDE", "cap_height": "1in", "up": "-2.9in"}
        return {finding.kind for finding in check_panel(place(_design(shape, row=[row]))).findings}

    assert FindingKind.SEAM in found("triangle")
    assert FindingKind.SEAM not in found("half round")


# What cannot be


@pytest.mark.parametrize(
    ("changed", "kind"),
    [
        ({"panel": {"width": "9in", "height": "10in", "shape": "circle"}}, "circle-of-unequal-sides"),
        ({"panel": {"width": "9in", "height": "4in", "shape": "half round"}}, "half-round-too-low"),
        ({"finish": "quilt"}, "shape-of-that-finish"),
        ({"finish": "pillow"}, "shape-of-that-finish"),
        ({"lettering": {"align": "left"}}, "row-beside-the-middle-of-that-shape"),
        ({"row": [{"text": "TIDE", "runs_off": True}]}, "row-off-that-shape"),
        ({"row": [{"text": "TIDE", "direction": "down"}]}, "row-down-that-shape"),
        ({"lettering": {"baseline_step": "1/2in"}}, "not-of-that-shape-yet"),
        (
            {
                "border": [{"kind": "strip", "fabrics": ["Ink"]}],
                "fabric": [{"name": "Ink", "color": "#223355"}],
            },
            "not-of-that-shape-yet",
        ),
    ],
)
def test_what_is_not_worked_out_for_a_shape_is_refused_in_words(changed: dict[str, Any], kind: str) -> None:
    assert _kinds(**changed) == [kind]


def test_a_rectangle_is_what_silence_means() -> None:
    design = _design("rectangle", size=("9in", "11in"))
    assert "shape" not in design_text(design)
    panel = place(design).panel
    assert panel.outline is None and panel.trimmed == (Fraction(19, 2), Fraction(23, 2))


# What is made


def _texts(pdf: bytes) -> str:
    pages = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pages)


def _extent(path: Any) -> tuple[float, float]:
    """Width and height of the points of a path, in points, whatever its line is wide."""
    found = []
    for index in range(raw.FPDFPath_CountSegments(path)):
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(path, index), x, y)
        found.append((x.value, y.value))
    xs, ys = zip(*found, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def test_the_template_is_printed_at_true_size() -> None:
    pattern = draft(_design("triangle", "AT", size=("5in", "6in")))
    pages = pypdfium2.PdfDocument(placement_guide_pdf(pattern))
    (template,) = pattern.panel_templates
    assert len(template.tiling.tiles) == 1
    sizes = [_extent(one) for one in pages[len(pages) - 1].get_objects(filter=[raw.FPDF_PAGEOBJ_PATH])]
    top, tip = math.atan(6 / 2.5), 2 * math.atan(2.5 / 6)
    cut = (5 + 2 * SEAM / math.tan(top / 2), 6 + SEAM + SEAM / math.sin(tip / 2))
    for wide, high in (cut, (5.0, 6.0)):
        assert any(math.dist(size, (72 * wide, 72 * high)) < 0.02 for size in sizes), (wide, high)
    assert "Bold: cut here" in _texts(placement_guide_pdf(pattern))


def test_the_picture_is_cut_along_the_outline() -> None:
    drawn = sketch(_design("circle"))
    (panel,) = drawn.picture.of(Part.PANEL)
    assert panel.laid.area() == pytest.approx(math.pi * 25, abs=NEAR)
    (edge,) = drawn.picture.of(Part.EDGE)
    assert edge.laid.bounds() == pytest.approx((0.0, 0.0, 10.0, 10.0))
    assert float(drawn.quilt.around) == pytest.approx(10 * math.pi, abs=NEAR)


def test_eleven_flags_have_one_shopping_list_and_two_templates() -> None:
    design = read_design(SAMPLE)
    pattern = draft(design)
    assert sum(block.count for block in design.block) == 11
    assert [template.shape for template in pattern.panel_templates] == [
        PanelShape.TRIANGLE,
        PanelShape.SWALLOWTAIL,
    ]
    assert sum(count for one in pattern.panel_templates for _, count in one.blocks) == 11
    side, notch = math.hypot(3.5, 9), math.hypot(3.5, 3)
    around = 5 * (7 + 2 * side) + 6 * (7 + 2 * 9 + 2 * notch)
    assert float(pattern.quilt.around) == pytest.approx(around)
    pdf = _texts(pattern_pdf(pattern, instructions_of(pattern)))
    assert "cut to the template of its outline" in pdf
    assert "At the inside corner of a swallowtail" in pdf and "small notches" not in pdf
    assert not pattern.panel.notices


@pytest.mark.parametrize("stitch", ["blanket", "satin"])
@pytest.mark.parametrize("sample", [False, True])
def test_the_center_line_stays_basted_until_the_panel_is_cut_by_it(sample: bool, stitch: str) -> None:
    design = read_design(SAMPLE) if sample else _design("triangle")
    pattern = draft(replace(design, stitching=replace(design.stitching, stitch=Stitch(stitch))))
    told = _texts(pattern_pdf(pattern, instructions_of(pattern)))
    said = ["baste its two ends now", "Leave the basting", "from its basting at the top", "pull the basting"]
    found = [told.index(one) for one in said]
    assert found == sorted(found)
    panel = pattern.blocks[0].panel
    assert bool(panel.trim) is (stitch == "satin")
    # The top of the template lies as far above the words as it is drawn.
    above = float(panel.height) + SEAM - max(row.ink[3] for row in panel.rows)
    assert trimmed_from(panel).above == pytest.approx(above)
    assert panel.cut_edge[3] - above - max(row.ink[3] for row in panel.rows) == pytest.approx(
        float(panel.trim) / 2
    )


def test_the_summary_says_that_the_panel_is_cut_twice() -> None:
    pattern = draft(_design("half round"))
    assert "Cut it as a rectangle" in summary_md(pattern).decode("utf-8")


def test_the_page_shows_the_margin_along_the_outline() -> None:
    design = _design("circle")
    (line,) = drawing_view(sketch(design), design, american())["panel"]["within"]
    assert shapely.Polygon(line).area == pytest.approx(math.pi * 4.25**2, rel=1e-3)
    design = _design("rectangle", size=("10in", "10in"))
    (line,) = drawing_view(sketch(design), design, american())["panel"]["within"]
    assert shapely.Polygon(line).equals(box(0.75, 0.75, 9.25, 9.25))


def test_a_machine_gets_the_outline_with_and_without_its_seam_allowance() -> None:
    pattern = draft(_design("circle", cutting={"dxf": True}))
    files = cut_files(pattern)
    for name, across in (("panel-01-circle", 10 + 2 * SEAM), ("panel-finished-01-circle", 10.0)):
        for side in ("right-reading", "mirrored"):
            document = files[f"{side}/panels/{name}.svg"].decode("utf-8")
            assert re.search(rf'width="{across:g}in"', document) and re.search(
                rf'height="{across:g}in"', document
            )
            assert f"{side}/panels/{name}.dxf" in files
    rectangle = draft(_design("rectangle", size=("10in", "10in")))
    assert not [name for name in cut_files(rectangle) if "panel" in name]


def test_a_tape_is_as_long_as_its_flags_their_spacing_and_two_tails() -> None:
    pattern = draft(read_design(SAMPLE))
    tape = pattern.quilt.tape
    assert tape is not None
    # Eleven flags 7 in wide, ten times 1 in between them, 18 in free at either end: 123 in, 3.42 yd.
    assert (tape.count, tape.length) == (11, Fraction(11 * 7 + 10 * 1 + 2 * 18))
    told = _texts(pattern_pdf(pattern, instructions_of(pattern)))
    assert (
        "Cut the tape 123 in long: 11 panels, 1 in from each to the next, and 18 in free at either end."
        in told
    )
    assert "below the tape cut it along the finished edge" in told
    assert "a child can be strangled in it" in told
    assert "Leave the top edge as it is" in told and "or hung is not part" not in told
    assert (
        "Tape: 3 1/2 yd of woven tape or ribbon, at least 1 in wide, in one piece (123 in used)"
        in summary_md(pattern).decode("utf-8")
    )
    alone = draft(_design("triangle", bunting={"tape": True})).quilt.tape
    assert alone is not None and alone.length == Fraction(9 + 2 * 20)
    assert draft(_design("triangle")).quilt.tape is None


@pytest.mark.parametrize(
    ("changed", "kind"),
    [
        ({"finish": "quilt", "panel": {"width": "9in", "height": "10in"}}, "tape-without-panels"),
        ({"panel": {"width": "9in", "height": "9in", "shape": "circle"}}, "circle-on-a-tape"),
    ],
)
def test_what_cannot_hang_from_a_tape_is_refused(changed: dict[str, Any], kind: str) -> None:
    assert _kinds(bunting={"tape": True}, **changed) == [kind]
