"""The outline layer, turned edges, the ring of fusible, the stitching plan and the lines of quilting."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from itertools import pairwise
from typing import Any

import pytest
import shapely
from shapely import affinity
from shapely.geometry import LineString, Point, box

from applique.cutfiles import cut_files
from applique.design import QuiltingKind, Stitch, Weave, WhenStitched, design_from_mapping
from applique.errors import Refusal, Where
from applique.geometry.polygons import CHORD_ERROR, as_shape, polygon_of
from applique.instructions import ChapterKind
from applique.pattern import Pattern, draft, sketch
from applique.pieces import Layer, cut_templates
from applique.sewing.quilting import echo_lines, even_lines
from applique.sewing.stabilizer import StabilizerKind, StabilizerReason
from applique.sewing.stitches import StitchReason
from applique.turned_edges import turn_marks
from applique.words.sewing import course_said
from applique.yardage import WebKind
from tests.chapters import chapter_of
from tests.chapters import said_in as words_of

FABRICS = [
    {"name": "Sun", "color": "#e0a526"},
    {"name": "Cream", "color": "#f6efe0"},
    {"name": "Plum", "color": "#4a2545"},
]


def _pattern(rows: list[str], **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "panel": {"width": "60in", "height": "40in", "fabric": "Cream"},
        "lettering": {"font": "Baloo 2", "cap_height": "6in", "fabric": "Sun"},
        "row": [{"text": row} for row in rows],
        "fabric": FABRICS,
    }
    for name, table in tables.items():
        data[name] = {**data[name], **table} if isinstance(data.get(name), dict) else table
    return draft(design_from_mapping(data))


# Outline layer


def test_an_outline_lies_behind_each_letter_with_templates_files_and_cloth_of_its_own() -> None:
    pattern = _pattern(
        ["Rose"],
        lettering={"outline": "1/4in"},
        outline={"fabric": "Plum"},
        sewing={"least_counter": "1/8in"},
    )
    behind = [template for template in pattern.templates if template.layer is Layer.OUTLINE]
    letters = [template for template in pattern.templates if template.layer is Layer.LETTER]
    assert len(behind) == len(letters) == 4
    assert pattern.letter_count == 4
    for letter, outline in zip(letters, behind, strict=True):
        truth = letter.shape.buffer(0.25, quad_segs=64)
        assert truth.buffer(0.004).covers(outline.shape)
        assert outline.shape.buffer(0.004).covers(truth)
    assert {need.fabric for need in pattern.cloth} == {"Sun", "Plum"}
    names = cut_files(pattern)
    assert "right-reading/outlines/05-R.svg" in names
    assert "mirrored/outlines/08-e.svg" in names


def test_outlines_stay_smooth_curves() -> None:
    pattern = _pattern(["S"], lettering={"outline": "1/4in"})
    behind = pattern.templates[1].outline
    curved = [segment for contour in behind.contours for segment in contour.segments if len(segment) > 1]
    assert len(curved) > 10
    assert sum(len(contour.segments) for contour in behind.contours) < 300


def test_an_outline_behind_words_is_one_piece_for_each_word() -> None:
    table = {"fabric": "Plum", "around": "words"}
    pattern = _pattern(["so it is"], lettering={"outline": "3/4in"}, outline=table)
    pieces = [piece.text for piece in pattern.outlines]
    assert pieces == ["so", "it", "is"]
    for piece in pattern.outlines:
        cuts = [cut for cut in pattern.panel.rows[0].cuts if cut.text in piece.text]
        placed = affinity.translate(piece.shape, piece.place.x, piece.place.y).buffer(1e-6)
        assert any(placed.covers(affinity.translate(cut.shape, cut.place.x, cut.place.y)) for cut in cuts)


def test_the_text_behind_a_hebrew_word_reads_as_typed() -> None:
    pattern = _pattern(
        ["שלום"],
        lettering={"outline": "1in", "font": "Fredoka"},
        outline={"fabric": "Plum", "around": "words"},
    )
    assert {piece.text for piece in pattern.outlines} == {"שלום"}


def test_contrast_is_judged_against_what_the_letters_lie_on() -> None:
    """Large letters and graphics want a contrast of 3: W3C, WCAG 2.1, 1.4.3 and 1.4.11."""
    bare = _pattern(["on"], panel={"fabric": "Cream"})
    outlined = _pattern(["on"], lettering={"outline": "1/8in"}, outline={"fabric": "Plum"})
    assert bare.sketch.stitches[0].stitch is Stitch.SATIN
    assert outlined.sketch.stitches[0].stitch is Stitch.BLANKET
    assert outlined.sketch.stitches[0].contrast > 3 > bare.sketch.stitches[0].contrast


def test_counters_of_the_outline_can_be_closed() -> None:
    opened = _pattern(["O"], lettering={"outline": "1/8in"})
    closed = _pattern(["O"], lettering={"outline": "1/8in"}, outline={"counters": "closed"})
    assert len(opened.templates[1].outline.contours) == 2
    assert len(closed.templates[1].outline.contours) == 1


def test_mitered_corners_keep_their_points() -> None:
    pattern = _pattern(
        ["I"], lettering={"outline": "1/4in", "font": "Montserrat"}, outline={"corners": "mitered"}
    )
    letter, behind = pattern.templates
    width, height = (letter.ink[2] - letter.ink[0], letter.ink[3] - letter.ink[1])
    assert behind.area == pytest.approx((width + 0.5) * (height + 0.5), rel=1e-3)


def test_one_row_can_have_an_outline_alone() -> None:
    pattern = _pattern(
        ["on", "off"],
        lettering={"outline": "1/4in"},
        row=[{"text": "on"}, {"text": "off", "outline": "0in"}],
    )
    assert {piece.where.row for piece in pattern.outlines} == {1}
    # What lies under the row without outlines was told to reach beyond outlines.
    told = words_of(chapter_of(pattern, ChapterKind.STITCHING))
    assert "beyond the outlines, or beyond the letters of a row without outlines, all around" in told


# Turned edges


def test_the_cut_line_lies_the_turn_under_outside_the_edge() -> None:
    pattern = _pattern(["Rose"], sewing={"method": "turned edge", "turn_under": "1/4in"})
    for template in pattern.templates:
        assert template.turned is not None
        truth = template.shape.buffer(0.25, quad_segs=64)
        assert truth.buffer(0.004).covers(template.turned.shape)
        assert template.turned.shape.buffer(0.004).covers(truth)
    assert pattern.fusible.web is WebKind.FREEZER_PAPER
    assert "cut line" in cut_files(pattern)["right-reading/letters/01-R.svg"].decode()


def test_inner_corners_are_clipped_and_outer_curves_notched() -> None:
    corner = as_shape(shapely.union(box(0, 0, 4, 1), box(0, 0, 1, 4)))
    (clip,) = turn_marks(corner, as_shape(corner.buffer(0.25, join_style="mitre")), 0.25)
    start, end = clip
    assert math.dist(start, (1.25, 1.25)) < 1e-6, "it starts in the corner of the cut line"
    assert math.dist(end, (1, 1)) == pytest.approx(0.05)
    disk = Point(0, 0).buffer(0.5, quad_segs=32)
    marks = turn_marks(disk, as_shape(disk.buffer(0.25, quad_segs=32)), 0.25)
    notches = [mark for mark in marks if len(mark) == 3]
    assert len(notches) >= 8
    for mark in notches:
        assert math.hypot(*mark[1]) == pytest.approx(0.5 + 0.05, abs=0.02)
        assert math.hypot(*mark[0]) == pytest.approx(0.75, abs=0.01)
        assert math.hypot(*mark[2]) == pytest.approx(0.75, abs=0.01)


@pytest.mark.parametrize(("cap_height", "turn_under"), [("5 1/2in", 3 / 16), ("2 1/2in", 1 / 4)])
def test_clips_run_from_the_cut_line_to_just_short_of_the_finished_edge_and_cross_nothing(
    cap_height: str, turn_under: float
) -> None:
    """Letters with sharp corners, flat-ended corners that lie near one another, and small holes with corners."""
    drawn = sketch(
        design_from_mapping(
            {
                "panel": {"width": "60in", "height": "40in"},
                "lettering": {"font": "Baloo 2", "cap_height": cap_height},
                "row": [{"text": "swøBa"}],
                "sewing": {"method": "turned edge", "turn_under": f"{turn_under}in"},
            }
        )
    )
    clips = Counter[str]()
    for template in cut_templates(drawn.design, drawn.panel.laid, drawn.outlines):
        assert template.turned is not None
        edge = template.turned.shape.boundary
        band = template.turned.shape.difference(template.shape).buffer(1e-6)
        marks = [LineString(mark) for mark in template.turned.marks]
        assert marks
        for mark, line in zip(template.turned.marks, marks, strict=True):
            is_clip = len(mark) == 2
            clips[template.text] += is_clip
            assert Point(mark[1]).distance(template.shape) < 0.21 * turn_under
            for start in mark[:1] if is_clip else (mark[0], mark[-1]):
                assert Point(start).distance(edge) < 1e-6, "it starts on the cut line"
            assert line.difference(band).length < 1e-6, "it stays in the turn-under"
            assert template.shape.distance(line) > 0, "it ends short of the finished edge"
        for one, other in itertools.combinations(marks, 2):
            assert not one.intersects(other)
    assert clips["w"] == 3, "one in each corner, those with a flat end too"


def test_an_edge_that_tucks_under_the_next_letter_is_not_turned() -> None:
    rows = [{"text": "HH", "nudge": [{"letter": 2, "right": "-2in"}]}]
    pattern = _pattern(["x"], row=rows, sewing={"method": "turned edge"}, lettering={"font": "Montserrat"})
    first, second = pattern.templates
    assert first.turned is not None
    assert second.turned is not None
    assert first.turned.tucked
    assert not second.turned.tucked
    left, right = pattern.panel.rows[0].cuts
    cover = affinity.translate(right.shape, right.place.x - left.place.x, right.place.y - left.place.y)
    turned_under = first.turned.shape.difference(first.shape)
    assert turned_under.intersection(cover).area < 1e-3
    assert first.turned.shape.buffer(1e-6).covers(first.shape)


# The ring


def test_a_ring_of_fusible_saves_the_middle() -> None:
    pattern = _pattern(["I"], fusible={"ring": "3/8in"})
    letter = pattern.templates[0]
    inside = letter.shape.buffer(-0.375)
    assert letter.ring_saves == pytest.approx(inside.area, rel=5e-3)
    assert polygon_of(letter.ring, chord_error=CHORD_ERROR).within(letter.shape)


def test_a_slender_letter_has_no_ring() -> None:
    assert not _pattern(["I"], fusible={"ring": "1in"}).templates[0].ring


# Stitching


def test_edges_of_an_outline_under_the_next_one_take_no_thread_and_no_time() -> None:
    """Two I's of Montserrat are rectangles 4 in high; their outlines 1/2 in wide have round corners. The second hides
    the right side of the first, and of two of its corners the arcs up to where both outlines cross, halfway."""
    near, far = (
        _pattern(
            ["II"],
            lettering={
                "font": "Montserrat",
                "cap_height": "4in",
                "outline": "1/2in",
                "letter_spacing": apart,
            },
            outline={"fabric": "Plum"},
            stitching={"waste_percent": 0},
        )
        for apart in ("0in", "1in")
    )
    (one, other) = near.panel.rows[0].cuts
    gap, reach = other.ink[0] - one.ink[2], 0.5
    assert gap < 2 * reach
    hidden = 4 + 2 * reach * math.acos(gap / 2 / reach)
    behind, apart = (pattern.stitching.rows[0].layers[0] for pattern in (near, far))
    around = 2 * (one.ink[2] - one.ink[0] + 4) + 2 * math.pi * reach
    assert apart.edge == pytest.approx(2 * around, abs=0.001)
    assert behind.edge == pytest.approx(2 * around - hidden, abs=0.001)
    per_inch = apart.stitches / apart.edge
    assert behind.stitches == pytest.approx(behind.edge * per_inch, abs=2)
    assert behind.minutes[0] < apart.minutes[0]


def test_all_edges_are_sewn_counters_too() -> None:
    pattern = _pattern(["OO", "OI"], stitching={"stitch": "satin"})
    by_text = {template.text: template for template in pattern.templates}
    rows = pattern.stitching.rows
    assert rows[0].edge == pytest.approx(2 * by_text["O"].edge)
    assert rows[1].edge == pytest.approx(by_text["O"].edge + by_text["I"].edge)
    assert rows[0].stitches == math.ceil(rows[0].edge * 25.4 / 0.4)
    assert len(pattern.stitching.letters[by_text["O"].number - 1].starts) == 2


def test_letters_start_on_a_straight_and_never_at_a_point() -> None:
    pattern = _pattern(["KIVAR"], lettering={"font": "Montserrat"})
    for template, letter in zip(pattern.templates, pattern.stitching.letters, strict=True):
        rings = [
            LineString(ring.coords)
            for part in shapely.get_parts(template.shape)
            for ring in (part.exterior, *part.interiors)
        ]
        corners = [point for ring in rings for point in ring.simplify(0.01).coords]
        for start in letter.starts:
            assert min(ring.distance(Point(start)) for ring in rings) < 1e-6
            assert min(math.dist(start, corner) for corner in corners) > 0.2


def test_rows_are_sewn_from_the_center_outward() -> None:
    assert _pattern(["a", "b", "c"], panel={"height": "60in"}).stitching.order == tuple(
        map(Where.in_row, (2, 1, 3))
    )


@pytest.mark.parametrize(
    ("sewing", "stitch", "stabilizer", "reasons"),
    [
        (
            {"method": "turned edge"},
            Stitch.STRAIGHT,
            StabilizerKind.NONE,
            (StitchReason.TURNED_EDGE, StabilizerReason.STRAIGHT),
        ),
        (
            {"weave": Weave.SLIPPERY.value},
            Stitch.SATIN,
            StabilizerKind.CUT_AWAY,
            (StitchReason.SLIPPERY, StabilizerReason.SLIPPERY),
        ),
        (
            {},
            Stitch.BLANKET,
            StabilizerKind.TEAR_AWAY,
            (StitchReason.CLEAR_CONTRAST, StabilizerReason.FIRM),
        ),
    ],
)
def test_the_stitch_suits_method_and_cloth(
    sewing: dict[str, str],
    stitch: Stitch,
    stabilizer: StabilizerKind,
    reasons: tuple[StitchReason, StabilizerReason],
) -> None:
    """Cut-away for dense stitching on slippery cloth, tear-away on firm wovens (blackmoreandroy.com.au)."""
    row = _pattern(["HI"], sewing=sewing, lettering={"fabric": "Plum"}).stitching.rows[0]
    assert row.stitch.stitch is stitch
    assert row.stabilizer.kind is stabilizer
    assert (row.stitch.reason, row.stabilizer.reason) == reasons


def test_a_row_says_its_stitch_before_its_fabric_and_the_table() -> None:
    fabrics = [{**FABRICS[0], "stitch": "zigzag"}, *FABRICS[1:]]
    rows = [
        {"text": "a"},
        {"text": "b", "stitch": "satin", "stitch_width": "4mm"},
        {"text": "c", "fabric": "Plum"},
    ]
    pattern = _pattern(
        ["x"], row=rows, fabric=fabrics, stitching={"stitch": "blanket"}, panel={"height": "60in"}
    )
    stitches = [row.stitch for row in pattern.stitching.rows]
    assert [one.stitch for one in stitches] == [Stitch.ZIGZAG, Stitch.SATIN, Stitch.BLANKET]
    assert float(stitches[1].width * 254 / 10) == 4


@pytest.mark.parametrize(("width", "outside"), [("1mm", 0.5), ("2mm", 1.0), ("3mm", 1.5), ("4mm", 1.5875)])
def test_a_satin_stitch_lies_no_more_than_half_outside_its_letter(width: str, outside: float) -> None:
    """At most 1/16 in (1.5875 mm) overlaps onto the background (D. Hawks 2003), and never more than half: common
    practice, no source. Letters keep clear of both stitches and 1 mm between them."""
    pattern = _pattern(
        ["IN"], stitching={"stitch": "satin", "width": width}, sewing={"method": "machine cut"}
    )
    stitch, limits = pattern.sketch.stitches[0], pattern.sketch.placed.limits[0]
    assert float(stitch.outside) * 25.4 == pytest.approx(outside)
    assert float(stitch.bite) * 25.4 == pytest.approx(float(width.removesuffix("mm")) - outside)
    assert float(limits.clear.least) * 25.4 == pytest.approx(max(2 * outside + 1, 25.4 / 16))


def test_thread_and_spools_add_up() -> None:
    pattern = _pattern(["ON", "IT"], stitching={"stitch": "satin", "spool": "100yd", "waste_percent": 10})
    need = pattern.threads[0]
    per_inch = 2 * (math.hypot(0.4, 3.0) + 1.0) / 0.4
    halves = [math.ceil(row.edge * per_inch * 1.1 / 2 / 36) for row in pattern.stitching.rows]
    assert need.length == 2 * 36 * sum(halves)
    assert need.spools == math.ceil(need.length / 3600)


def test_dense_stitching_comes_before_the_borders() -> None:
    assert _pattern(["ON"], stitching={"stitch": "satin"}).stitching.when is WhenStitched.PANEL
    straight = {"stitch": "straight", "throat": "12in"}
    assert _pattern(["ON"], stitching=straight).stitching.when is WhenStitched.QUILTING
    assert _pattern(["ON"], stitching={**straight, "throat": "2in"}).stitching.when is WhenStitched.PANEL


# Quilting


def test_echo_lines_keep_their_distance() -> None:
    square = box(0, 0, 4, 4)
    rings = echo_lines(square, spacing=0.5, count=40)
    around = [16 + index * math.pi for index in range(1, 41)]
    assert [ring.length for ring in rings] == pytest.approx(around, rel=1e-3)
    for index, ring in enumerate(rings, 1):
        distances = shapely.distance(square, shapely.points(ring.coords))
        assert distances == pytest.approx(0.5 * index, abs=0.004)


def test_an_echo_of_a_ring_goes_into_its_counter() -> None:
    ring = Point(0, 0).buffer(3, quad_segs=64) - Point(0, 0).buffer(1, quad_segs=64)
    lines = echo_lines(ring, spacing=0.5, count=1)
    assert sorted(line.length for line in lines) == pytest.approx([math.pi, 7 * math.pi], rel=1e-3)


@pytest.mark.parametrize(("gap", "between"), [(1.2, 0), (1.3, 2)])
def test_echoes_that_would_face_one_another_too_near_run_together(gap: float, between: int) -> None:
    """Two bars, echoes 1/2 in off: less than 1/4 in would be left between the lines, so there are none."""
    bars = shapely.union_all([box(0, 0, 2, 8), box(2 + gap, 0, 4 + gap, 8)])
    lines = echo_lines(bars, spacing=0.5, count=1)
    across = LineString([(2, 4), (2 + gap, 4)])
    assert sum(
        shapely.get_num_geometries(line.intersection(across)) for line in lines if line.intersects(across)
    ) == (between)


def test_even_lines_are_even() -> None:
    lines = even_lines(box(-5, -5, 5, 5), spacing=2.0, angle_deg=30)
    gaps = [first.distance(second) for first, second in pairwise(lines)]
    assert gaps == pytest.approx([2.0] * len(gaps))


def test_lines_miss_the_letters_or_cross_them() -> None:
    def length(letters: str) -> float:
        plan = _pattern(["HI"], quilting=[{"kind": "lines", "spacing": "1in", "letters": letters}]).quilting[
            0
        ]
        return plan.length

    assert length("miss") < length("cross")
    pattern = _pattern(["HI"], quilting=[{"kind": "crosshatch", "spacing": "2in"}])
    words = shapely.union_all(
        [affinity.translate(c.shape, c.place.x - 30, c.place.y - 20) for c in pattern.panel.rows[0].cuts]
    )
    lines = shapely.union_all([LineString(line) for line in pattern.quilting[0].lines])
    assert lines.distance(words) == pytest.approx(0.125, abs=2e-3)


@pytest.mark.parametrize("stitch_length", ["2.5mm", "1/4in"])
def test_no_line_of_quilting_is_shorter_than_an_inch(stitch_length: str) -> None:
    """What the letters leave of a line in a corner was sewn, drawn and counted though it is not worth its two ends."""
    pattern = _pattern(
        ["Rose"],
        panel={"width": "24in", "height": "12in"},
        quilting=[{"kind": "crosshatch", "spacing": "1/4in", "stitch_length": stitch_length}],
    )
    pitch = {"2.5mm": 2.5 / 25.4, "1/4in": 0.25}[stitch_length]
    words = shapely.union_all(
        [affinity.translate(c.shape, c.place.x - 12, c.place.y - 6) for c in pattern.panel.rows[0].cuts]
    )
    room = box(-12, -6, 12, 6).difference(words.buffer(0.125, quad_segs=24))
    left = [
        part.length
        for angle in (45, 135)
        for line in even_lines(box(-12, -6, 12, 6), spacing=0.25, angle_deg=angle)
        for part in shapely.get_parts(line.intersection(room))
    ]
    sewn = [length for length in left if length >= 1]
    assert len(left) > len(sewn)
    (plan,) = pattern.quilting
    assert min(LineString(line).length for line in plan.lines) >= 1
    assert len(plan.lines) == len(sewn)
    assert plan.length == pytest.approx(math.fsum(sewn))
    assert plan.stitches == math.ceil(plan.length / pitch)
    assert cut_files(pattern)["quilting/quilting-1-crosshatch.svg"].count(b"<path") == len(sewn)


def test_in_the_ditch_follows_every_seam_between_borders() -> None:
    borders = [
        {"kind": "strip", "width": "2in", "fabrics": ["Plum"]},
        {"kind": "strip", "width": "3in", "fabrics": ["Sun"]},
    ]
    pattern = _pattern(["HI"], border=borders, quilting=[{"kind": "in the ditch"}])
    # Strips of the sides first; those of top and bottom reach across them.
    assert pattern.quilting[0].length == pytest.approx(2 * (60 + 44) + 2 * (64 + 50))


def test_quilting_has_pen_files_at_true_size() -> None:
    pattern = _pattern(["HI"], quilting=[{"kind": "echo"}, {"kind": "edge to edge", "row_height": "10in"}])
    files = cut_files(pattern)
    assert 'width="60in"' in files["quilting/quilting-1-echo.svg"].decode()
    assert pattern.quilting[1].kind is QuiltingKind.EDGE_TO_EDGE
    assert str(course_said(pattern.quilting[1].course, pattern.design.units)).startswith("5 rows")


def test_lines_without_end_are_refused() -> None:
    with pytest.raises(Refusal, match="quilting 1"):
        _pattern(["HI"], panel={"width": "100in"}, quilting=[{"kind": "crosshatch", "spacing": "1mm"}])
    with pytest.raises(Refusal, match="whole height"):
        _pattern(["HI"], quilting=[{"kind": "edge to edge", "row_height": "1in", "overlap": "1in"}])


def test_echo_lines_are_on_the_full_size_guide() -> None:
    def tiles(**tables: Any) -> int:
        paper = {"full_size_guide": True, "size": "letter"}
        guide = _pattern(["I"], panel={"width": "40in"}, paper=paper, **tables).guide
        assert guide is not None
        return len(guide.tiles)

    assert tiles(quilting=[{"kind": "echo", "spacing": "2in", "lines": 4}]) > tiles()
