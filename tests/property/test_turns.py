"""Letters and rows turned by hand: what turns with them, what stays, and that what is drawn is what was measured."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from io import BytesIO
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from svgelements import SVG, Close, Group, Line, Move, Path

from applique.cutfiles import cut_files
from applique.design import Design, design_from_mapping
from applique.geometry.polygons import CHORD_ERROR, polygon_of
from applique.panel import on_panel
from applique.pattern import Pattern, draft
from applique.preview import preview_svg
from applique.reports import pattern_json
from applique.sewing.findings import FindingKind

FONTS = st.sampled_from(["Montserrat", "Fredoka", "Pacifico"])
WORDS = st.sampled_from(["Oar", "Mill", "Ae iv"])
TURNS = st.floats(-179, 179).map(lambda turn: round(turn, 2)).filter(lambda turn: abs(turn) > 0.5)
SETTINGS = settings(max_examples=6, deadline=None)
LAYERS = st.sampled_from(
    [
        {"sewing": {"method": "turned edge"}},
        {"lettering": {"outline": "1/4in"}},
        {"lettering": {"outline": "1/4in"}, "outline": {"around": "words"}},
    ]
)


def _design(font: str, *rows: dict[str, Any], **tables: Any) -> Design:
    lettering = {"font": font, "cap_height": "3in", **tables.pop("lettering", {})}
    data = {"row": list(rows), "lettering": lettering, "panel": {"width": "36in", "height": "36in"}}
    return design_from_mapping({**data, **tables})


def _on_panel(pattern: Pattern) -> list[BaseGeometry]:
    """Every piece where it lies: letters, then the shapes behind them."""
    letters: list[BaseGeometry] = [on_panel(cut) for row in pattern.panel.rows for cut in row.cuts]
    return letters + [piece.place.shape(piece.shape) for piece in pattern.outlines]


def _same(first: BaseGeometry, second: BaseGeometry, tolerance: float) -> bool:
    return bool(shapely.hausdorff_distance(first.boundary, second.boundary) < tolerance)


@pytest.mark.long
@SETTINGS
@given(FONTS, WORDS, TURNS, LAYERS)
def test_turning_a_whole_row_turns_all_of_it_and_changes_nothing_that_is_cut_or_bought(
    font: str, word: str, turn: float, layer: dict[str, Any]
) -> None:
    """The second letter lies over the first and is tilted itself; shapely turns the row that was not turned."""
    row = {"text": word, "nudge": [{"letter": 1, "right": "1in"}, {"letter": 2, "up": "1/4in", "turn": 20}]}
    plain, turned = (draft(_design(font, {**row, "turn": angle}, **layer)) for angle in (0, turn))
    for part in ("templates", "fusible", "cloth", "sheets", "stitching", "mats"):
        assert _but_leans(getattr(turned, part)) == _but_leans(getattr(plain, part)), part
    assert _but_leans(turned.shopping.cloth) == _but_leans(plain.shopping.cloth)
    upright = draft(_design(font, {"text": word}, **layer)).panel.rows[0].ink
    middle = ((upright[0] + upright[2]) / 2, (upright[1] + upright[3]) / 2)
    for before, after in zip(_on_panel(plain), _on_panel(turned), strict=True):
        assert _same(affinity.rotate(before, turn, origin=middle), after, 1e-6)
    whole = [
        polygon_of(pattern.panel.rows[0].outline, chord_error=CHORD_ERROR) for pattern in (plain, turned)
    ]
    assert _same(affinity.rotate(whole[0], turn, origin=middle), whole[1], 4e-3)


@SETTINGS
@given(FONTS, WORDS, TURNS)
def test_a_turned_letter_keeps_its_template_and_the_middle_of_its_ink(
    font: str, word: str, turn: float
) -> None:
    plain = draft(_design(font, {"text": word}))
    turned = draft(_design(font, {"text": word, "nudge": [{"letter": 1, "turn": turn}]}))
    assert _but_leans(turned.templates) == _but_leans(plain.templates)
    assert _but_leans(turned.cloth) == _but_leans(plain.cloth)
    for before, after in zip(plain.panel.rows[0].cuts, turned.panel.rows[0].cuts, strict=True):
        angle = turn if 1 in before.letters else 0.0
        x0, y0, x1, y1 = before.ink
        spun = affinity.rotate(on_panel(before), angle, origin=((x0 + x1) / 2, (y0 + y1) / 2))
        assert _same(spun, on_panel(after), 1e-6)
        assert after.ink == pytest.approx(spun.bounds, abs=1e-3)


@SETTINGS
@given(FONTS, WORDS, st.sampled_from([90.0, -90.0]))
def test_four_quarter_turns_are_nothing(font: str, word: str, quarter: float) -> None:
    still = {"text": word, "nudge": [{"letter": 1, "up": "1/8in"}]}
    round_about = {"text": word, "turn": quarter * 4}
    round_about["nudge"] = [{"letter": 1, "up": "1/8in"}, *[{"letter": 1, "turn": quarter}] * 4]
    (first, second) = (json.loads(pattern_json(draft(_design(font, row)))) for row in (still, round_about))
    del first["design"], second["design"]
    assert first == second


@pytest.mark.long
@SETTINGS
@given(FONTS, st.just("Far"), TURNS)
def test_a_turned_row_in_the_mirror_is_the_mirrored_row_turned_the_other_way(
    font: str, word: str, turn: float
) -> None:
    """The cut files of the row, read back by another library; y runs down in both."""
    plain, turned = (draft(_design(font, {"text": word, "turn": angle})) for angle in (0, turn))

    def row_of(pattern: Pattern, side: str) -> BaseGeometry:
        content = next(text for name, text in cut_files(pattern).items() if name.startswith(f"{side}/rows/"))
        return _centered(shapely.union_all(list(_shapes(content))))

    for side, way in (("right-reading", -turn), ("mirrored", turn)):
        spun = _centered(affinity.rotate(row_of(plain, side), way, origin=(0, 0)))
        assert _same(spun, row_of(turned, side), 4e-3)
    mirror = affinity.scale(row_of(turned, "right-reading"), -1, 1, origin=(0, 0))
    assert _same(_centered(mirror), row_of(turned, "mirrored"), 4e-3)


@SETTINGS
@given(st.sampled_from(["Montserrat", "Fredoka"]), TURNS, st.sampled_from([0, 0, 35, -90]))
def test_gaps_and_seams_that_are_told_are_those_of_the_drawn_quilt(
    font: str, turn: float, whole: int
) -> None:
    """Measured by shapely on the preview, read back by another library."""
    rows = (
        {"text": "LI", "baseline": "6in", "nudge": [{"letter": 2, "right": "-1/2in", "turn": turn}]},
        {"text": "AV", "baseline": "10in", "turn": whole, "right": "-10in"},
    )
    design = _design(font, *rows, panel={"width": "30in", "height": "24in"}, sewing={"least_seam": "4in"})
    pattern = draft(design)
    drawn = _quilt(pattern)[1:]
    first, second = drawn[:2], drawn[2:]
    told = {(finding.kind, finding.row): finding for finding in pattern.findings}
    limit = float(pattern.checks.placed.limits[0].clear.least)

    def agree(kind: FindingKind, row: int, gap: float, least: float) -> None:
        if (kind, row) in told:
            assert told[kind, row].measure == pytest.approx(gap, abs=3e-3)
        else:
            assert gap > least - 3e-3

    agree(FindingKind.CLEAR, 1, first[0].distance(first[1]), limit)
    agree(FindingKind.CLEAR, 2, second[0].distance(second[1]), limit)
    agree(FindingKind.ROWS, 2, shapely.union_all(first).distance(shapely.union_all(second)), limit)
    edge = box(0, 0, 30, 24).exterior
    for row, letters in ((1, first), (2, second)):
        agree(FindingKind.SEAM, row, min(letter.distance(edge) for letter in letters), 4.0)


def _but_leans(value: Any) -> Any:
    """All that a value holds, lengths to a millionth of an inch, but how templates lean where they lie: nothing is cut
    by that."""
    match value:
        case tuple() | list():
            return [_but_leans(one) for one in value]
        case float():
            return round(value, 6)
        case Mapping():
            return {key: _but_leans(one) for key, one in value.items()}
        case _ if is_dataclass(value):
            return [
                (one.name, _but_leans(getattr(value, one.name)))
                for one in fields(value)
                if one.name != "leans"
            ]
        case _:
            return value


def _centered(shape: BaseGeometry) -> BaseGeometry:
    x0, y0, x1, y1 = shape.bounds
    return affinity.translate(shape, -(x0 + x1) / 2, -(y0 + y1) / 2)


def _quilt(pattern: Pattern) -> list[BaseGeometry]:
    """What is filled on the quilt of the preview, the panel first, in inches from its upper left corner, y down."""
    drawn = SVG.parse(BytesIO(preview_svg(pattern)))
    quilt = next(part for part in drawn.elements() if isinstance(part, Group) and part.id == "quilt")
    shapes = [
        _area(path, 96.0)
        for path in quilt.select()
        if isinstance(path, Path) and path.values.get("fill") != "none"
    ]
    x0, y0, _, _ = shapes[0].bounds
    return [affinity.translate(shape, -x0, -y0) for shape in shapes]


def _shapes(content: bytes, *, unit: float = 96.0) -> Iterator[BaseGeometry]:
    """Each path of an SVG file as a polygon in inches of `unit` px (96 by SVG 2); holes by the even-odd rule."""
    return (_area(path, unit) for path in SVG.parse(BytesIO(content)).elements() if isinstance(path, Path))


def _area(path: Path, unit: float) -> BaseGeometry:
    shape: BaseGeometry = Polygon()
    for ring in path.as_subpaths():
        around = Polygon([point / unit for point in _points(Path(ring))])
        shape = shape.symmetric_difference(shapely.make_valid(around))
    return shape


def _points(path: Path) -> Iterator[Any]:
    for segment in path:
        if isinstance(segment, Move):
            yield np.array([segment.end.x, segment.end.y])
        elif isinstance(segment, Line | Close):
            if segment.end is not None:
                yield np.array([segment.end.x, segment.end.y])
        else:
            for at in np.linspace(0, 1, 33)[1:]:
                point = segment.point(at)
                yield np.array([point.x, point.y])


def test_the_reader_reads_a_square_with_a_hole() -> None:
    square = b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M0,0 L9,0 L9,9 L0,9 Z M3,3 L3,6 L6,6 L6,3 Z"/></svg>'
    (shape,) = _shapes(square, unit=1.0)
    assert shape.area == 72
    assert shape.distance(LineString([(4.5, 4.5), (4.5, 4.6)])) == pytest.approx(1.4)
