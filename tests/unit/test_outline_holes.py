"""Holes of the outline layer that nobody can cut or sew are closed and told; the others are checked like counters."""

from __future__ import annotations

from typing import Any

import pytest
import shapely
from shapely import affinity
from shapely.geometry import Point, Polygon, box

from applique.cutfiles import cut_files
from applique.design import Design, design_from_mapping
from applique.geometry.offset import outline_of
from applique.geometry.polygons import as_shape, parts_of
from applique.outline_layer import PlacedOutline, _filled
from applique.panel import place_rows
from applique.pattern import Pattern, draft, sketch
from applique.pieces import Layer
from applique.reports import summary_md
from applique.sewing.cures import check_design, cures
from applique.sewing.features import narrowest_neck
from applique.sewing.findings import FindingKind
from applique.words.findings import finding_said

REACH = 0.375


def _design(text: str, **tables: Any) -> Design:
    data: dict[str, Any] = {
        "panel": {"width": "60in", "height": "20in"},
        "lettering": {"font": "Bitter", "cap_height": "5in", "outline": "3/8in"},
        "outline": {"around": "words"},
        "row": [{"text": text}],
    }
    for name, table in tables.items():
        data[name] = {**data[name], **table} if isinstance(data.get(name), dict) else table
    return design_from_mapping(data)


def _merged(pattern: Pattern, piece: PlacedOutline) -> Polygon:
    """The letters of one row, grown by polygons alone, with every hole that is there; in the frame of the piece."""
    cuts = pattern.panel.rows[0].cuts
    letters = [
        affinity.translate(cut.shape, cut.place.x - piece.place.x, cut.place.y - piece.place.y)
        for cut in cuts
    ]
    merged = shapely.union_all(letters).buffer(REACH, quad_segs=64)
    assert isinstance(merged, Polygon)
    return merged


def _width(hole: Polygon) -> float:
    return 2 * float(shapely.maximum_inscribed_circle(hole, tolerance=1e-4).length)


def _rings(piece: PlacedOutline) -> list[Polygon]:
    return [Polygon(ring) for part in parts_of(piece.shape) for ring in part.interiors]


def test_holes_down_to_a_hundredth_of_an_inch_were_cut_sewn_and_given_start_dots() -> None:
    """Scissors want 1/4 in: common practice, no source."""
    pattern = draft(_design("boats"))
    (piece,) = pattern.outlines
    every = [Polygon(ring) for ring in _merged(pattern, piece).interiors]
    small = [hole for hole in every if _width(hole) < 0.25]
    assert len(small) >= 3
    assert min(map(_width, small)) < 0.02

    expected = Polygon(
        _merged(pattern, piece).exterior, [hole.exterior for hole in every if hole not in small]
    )
    assert shapely.hausdorff_distance(piece.shape.boundary, expected.boundary) < 0.005
    letters = {cut.text: len(cut.outline.contours) for cut in pattern.panel.rows[0].cuts}
    assert (letters["o"], letters["a"], letters["b"]) == (2, 2, 2), "the letters keep their counters"

    (template,) = (one for one in pattern.templates if one.layer is Layer.OUTLINE)
    assert template.edge == pytest.approx(expected.length, rel=2e-3)
    assert template.area == pytest.approx(expected.area, rel=2e-3)
    assert len(pattern.stitching.letters[template.number - 1].starts) == 1 + len(every) - len(small)
    files = cut_files(pattern)
    drawn = files[
        next(name for name in files if "right-reading/outlines" in name and "boats" in name)
    ].decode()
    assert drawn.count("Z") == 1 + len(every) - len(small)

    said = f"{len(small)} small holes in the outline are closed: a hole has to be 1/4 in across"
    assert sum(said in str(notice.what) for notice in pattern.notices) == 1
    assert sum(said in str(notice.what) for notice in sketch(pattern.design).notices) == 1
    assert said in summary_md(pattern).decode()


def test_counters_that_the_reach_swallows_are_told_too() -> None:
    """The counter of this o is 1.2 in wide; 5/8 in from both sides cover it."""
    pattern = draft(_design("so", lettering={"outline": "5/8in"}, outline={"around": "letters"}))
    piece = pattern.outlines[1]
    assert (piece.text, piece.filled, len(piece.holes)) == ("o", 1, 0)
    assert any("1 small hole in the outline is closed" in str(one.what) for one in pattern.notices)


def test_what_is_closed_follows_method_stitch_and_the_designs_own_limit() -> None:
    def open_holes(**tables: Any) -> list[float]:
        (piece,) = sketch(_design("boats", **tables)).outlines
        widths = [hole.width for hole in piece.holes]
        assert widths == pytest.approx(sorted(map(_width, _rings(piece))), abs=1e-3)
        return widths

    scissors = open_holes()
    blade = open_holes(sewing={"method": "machine cut"})
    assert min(scissors) > 0.25 > min(blade) > 0.125
    assert min(open_holes(sewing={"method": "turned edge", "turn_under": "1/4in"})) > 0.5
    every = open_holes(sewing={"least_counter": "0in"})
    assert min(every) < 0.02
    assert open_holes(sewing={"least_counter": "1/2in"}) == scissors
    assert not open_holes(outline={"counters": "closed"})


def test_holes_closed_on_purpose_need_no_word_and_take_what_stood_in_them_along() -> None:
    """The letter in the ring of a © stands alone in its hole."""
    closed = draft(
        _design("©", outline={"around": "letters", "counters": "closed"}, lettering={"outline": "1/16in"})
    )
    (piece,) = closed.outlines
    assert len(piece.outline.contours) == 1
    assert piece.outline.area() == pytest.approx(piece.shape.area, rel=1e-3)
    assert not [one for one in closed.notices if "closed" in str(one.what)]


def test_open_holes_smaller_than_the_design_asks_are_found_and_cured() -> None:
    design = _design("boats", sewing={"least_counter": "1/2in"})
    finding = next(one for one in check_design(design).findings if one.kind is FindingKind.HOLE)
    (piece,) = sketch(design).outlines
    assert finding.measure == pytest.approx(min(map(_width, _rings(piece))), abs=1e-3)
    assert finding.at is not None
    hole = min(_rings(piece), key=_width)
    assert affinity.translate(hole, piece.place.x, piece.place.y).contains(Point(finding.at))
    assert "behind “boats” is 9/32 in, less than the 1/2 in it needs" in str(
        finding_said(finding, design.units)
    )
    for cure in cures(check_design(design), finding):
        assert FindingKind.HOLE not in {one.kind for one in check_design(cure.design).findings}


def test_two_rows_that_close_different_holes_do_not_share_a_template() -> None:
    """A blade cuts a hole of 0.14 in; a satin stitch on both sides of it wants 0.16 in."""
    (letter,) = parts_of(place_rows(_design("o")).rows[0].cuts[0].shape)
    counter = letter.interiors[0]
    reach = (_width(Polygon(counter)) - 0.14) / 2
    rows = [{"text": "o", "stitch": stitch} for stitch in ("straight", "satin", "straight")]
    pattern = draft(
        _design(
            "o",
            row=rows,
            sewing={"method": "machine cut"},
            outline={"around": "letters"},
            panel={"height": "40in"},
            lettering={"outline": f"{reach:.4f}in"},
        )
    )
    assert [len(piece.holes) for piece in pattern.outlines] == [1, 0, 1]
    behind = [one for one in pattern.templates if one.layer is Layer.OUTLINE]
    assert [one.in_rows for one in behind] == [{1: 1, 3: 1}, {2: 1}]


def test_a_neck_is_measured_between_the_wider_parts_of_a_hole() -> None:
    dumbbell = as_shape(
        shapely.union_all([Point(0, 0).buffer(0.3), Point(1, 0).buffer(0.3), shapely.box(0, -0.04, 1, 0.04)])
    )
    neck = narrowest_neck(dumbbell, under=0.125)
    assert neck is not None
    assert neck.width == pytest.approx(0.08, abs=1e-3)
    assert 0.3 < neck.at[0] < 0.7
    assert narrowest_neck(dumbbell, under=0.07) is None
    assert narrowest_neck(Point(0, 0).buffer(0.3), under=0.125) is None


def test_a_hole_whose_turned_edge_shrinks_to_a_sliver_is_filled() -> None:
    design = _design(
        "G",
        lettering={"font": "Fredoka", "cap_height": "7 1/2in", "outline": "1/2in"},
        outline={"around": "letters"},
        sewing={"method": "turned edge", "turn_under": "1/4in"},
    )
    (piece,) = sketch(design).outlines
    assert piece.holes == ()
    assert piece.filled == 1


@pytest.mark.parametrize(
    ("wide", "long", "is_filled"),
    [(0.05, 2.0, True), (0.2, 2.0, True), (0.2, 0.4, False), (0.4, 2.0, False)],
)
def test_a_long_arm_of_a_large_hole_is_filled_where_it_is_narrower_than_a_turn_under(
    wide: float, long: float, is_filled: bool
) -> None:
    """A hole of 4 in square with an arm: fabric in the arm turns under half as wide as the arm."""
    hole = box(0, 0, 4, 4).union(box(4, 2 - wide / 2, 4 + long, 2 + wide / 2))
    piece = as_shape(box(-3, -3, 9, 7).difference(hole))
    layer = _filled(
        _design("o", sewing={"method": "turned edge", "turn_under": "1/4in"}), outline_of(piece), [], 0.5
    )
    (ring,) = [ring for part in parts_of(layer.shape) for ring in part.interiors]
    kept = Polygon(ring)
    assert layer.filled == is_filled
    if is_filled:
        assert shapely.hausdorff_distance(kept, box(0, 0, 4, 4)) < 0.13, "the room stays, its corners rounded"
    else:
        assert kept.area == pytest.approx(hole.area)


def test_a_sharp_corner_of_a_hole_is_no_arm() -> None:
    corner = Polygon([(0, 0), (6, 1.8), (6, -1.8)])  # 33 degrees
    piece = as_shape(box(-3, -3, 9, 7).difference(corner))
    design = _design("o", sewing={"method": "turned edge", "turn_under": "1/4in"})
    assert _filled(design, outline_of(piece), [], 0.5).filled == 0
