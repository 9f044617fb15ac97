"""Turned edges whose cut lines meet in a narrow mouth: the cut through it, on template and in cut files."""

from __future__ import annotations

import ctypes
import math
import re
from io import BytesIO, StringIO
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import shapely
from ezdxf.filemanagement import read
from shapely.geometry import LineString, Point, box

from applique.cutfiles import cut_files
from applique.design import design_from_mapping
from applique.drawings import values
from applique.geometry.mouths import lines_through_mouths
from applique.geometry.polygons import Shape, as_shape, parts_of
from applique.pattern import Pattern, draft
from applique.pieces import TurnedEdge
from applique.sheets import templates_pdf

TURN = 0.25


def _ring(mouth: float) -> Shape:
    """A ring from 2 to 3 in around the origin, open to the right as wide as its `mouth`."""
    disk, hole = (Point(0, 0).buffer(radius, quad_segs=64) for radius in (3, 2))
    return as_shape(disk.difference(hole).difference(box(0, -mouth / 2, 4, mouth / 2)))


def _grown(shape: Shape) -> Shape:
    return as_shape(shape.buffer(TURN, quad_segs=64))


def _parts_left(shape: Shape, lines: tuple[tuple[tuple[float, float], ...], ...]) -> int:
    """How many parts the white around `shape` is in, once it is cut along `lines`."""
    cut = [LineString(line).buffer(1e-3) for line in lines]
    white = box(-9, -9, 9, 9).difference(_grown(shape))
    return len(shapely.get_parts(shapely.union_all([white, *cut])))


@pytest.fixture(scope="module")
def drafted() -> Pattern:
    """An e whose mouth is 0.42 in wide, and an O that has none."""
    data: dict[str, Any] = {
        "row": [{"text": "eO"}],
        "lettering": {"font": "Fredoka", "cap_height": "7 1/2in"},
        "panel": {"width": "30in", "height": "20in"},
        "sewing": {"method": "turned edge", "turn_under": "1/4in"},
        "cutting": {"dxf": True},
    }
    return draft(design_from_mapping(data))


def _turned(pattern: Pattern, text: str) -> TurnedEdge:
    (template,) = (one for one in pattern.templates if one.text == text)
    assert template.turned is not None
    return template.turned


def test_a_closed_mouth_is_cut_along_its_middle_from_white_to_white() -> None:
    """A mouth of 0.3 in lies along y = 0; both edges are 1/4 in away where a circle of that radius around a corner of
    it crosses y = 0, closed form."""
    ring = _ring(0.3)
    (line,) = lines_through_mouths(ring, _grown(ring), TURN)
    ends = sorted(x for x, _ in line)
    beyond = math.sqrt(TURN**2 - 0.15**2)
    corners = math.sqrt(2**2 - 0.15**2), math.sqrt(3**2 - 0.15**2)
    assert (ends[0], ends[-1]) == pytest.approx((corners[0] - beyond, corners[1] + beyond), abs=0.002)
    assert all(abs(y) < 0.002 for _, y in line)
    assert _grown(ring).buffer(1e-6).covers(LineString(line)), "it lies in the allowance"
    assert ring.distance(LineString(line)) == pytest.approx(0.15, abs=0.002)
    assert (_parts_left(ring, ()), _parts_left(ring, (line,))) == (2, 1)


@pytest.mark.parametrize("shape", [_ring(0.6), _ring(-1), as_shape(box(0, 0, 4, 4))])
def test_what_is_wide_enough_or_closed_anyway_is_not_cut(shape: Shape) -> None:
    """A mouth wider than two allowances, a counter, and a shape without any."""
    assert lines_through_mouths(shape, _grown(shape), TURN) == ()


def test_a_hole_that_the_allowances_part_is_joined_and_not_opened() -> None:
    """A counter of two squares with a passage of 0.3 in between; and two rooms one behind the other."""
    rooms = shapely.union_all([box(1, 1, 3, 3), box(3, 1.85, 4, 2.15), box(4, 1, 6, 3)])
    counter = as_shape(box(0, 0, 7, 4).difference(rooms))
    (line,) = lines_through_mouths(counter, _grown(counter), TURN)
    assert (_parts_left(counter, ()), _parts_left(counter, (line,))) == (3, 2)
    opened = as_shape(counter.difference(box(6, 1.9, 9, 2.1)))
    lines = lines_through_mouths(opened, _grown(opened), TURN)
    assert len(lines) == 2
    assert (_parts_left(opened, ()), _parts_left(opened, lines)) == (3, 1)


def test_the_mouth_of_an_e_is_cut_and_an_o_has_none(drafted: Pattern) -> None:
    turned = _turned(drafted, "e")
    (line,) = turned.mouths
    assert turned.shape.buffer(1e-6).covers(LineString(line))
    cut = turned.shape.difference(LineString(line).buffer(1e-3))
    holes = [sum(len(part.interiors) for part in parts_of(as_shape(one))) for one in (turned.shape, cut)]
    assert holes == [2, 1], "the pocket opens to the outside, the counter stays"
    assert _turned(drafted, "O").mouths == ()


def test_cut_files_cut_the_mouth_open(drafted: Pattern) -> None:
    """Read back: one open line in the drawing of the e and none in that of the O, in SVG and DXF, where it is."""
    turned = _turned(drafted, "e")
    x0, y0, _, y1 = turned.outline.bounds()
    files = cut_files(drafted)
    svg = files["right-reading/letters/01-e.svg"].decode()
    opened = [path for path in re.findall(r' d="([^"]+)"', svg) if "Z" not in path]
    assert len(opened) == 1
    ends = [tuple(map(float, pair.split(","))) for pair in re.findall(r"[-\d.]+,[-\d.]+", opened[0])]
    assert [(x + x0, y1 - y) for x, y in ends] == [
        pytest.approx(point, abs=1e-4) for point in turned.mouths[0]
    ]
    assert "through a narrow mouth" in svg
    other = files["right-reading/letters/02-O.svg"].decode()
    assert all("Z" in path for path in re.findall(r' d="([^"]+)"', other))
    assert "through a narrow mouth" not in other
    lines = list(read(StringIO(files["right-reading/letters/01-e.dxf"].decode())).modelspace())
    (slit,) = (line for line in lines if not line.closed)  # type: ignore[attr-defined]
    points = [(x + x0, y + y0) for x, y in slit.get_points("xy")]  # type: ignore[attr-defined]
    assert points == [pytest.approx(point, abs=1e-4) for point in turned.mouths[0]]


def test_the_template_and_its_legend_show_the_cut(drafted: Pattern) -> None:
    """A gray line of its own weight, once in the legend and once on the e, as long there as the cut is."""
    document = pypdfium2.PdfDocument(BytesIO(templates_pdf(drafted, mirrored=False)))
    found = [
        (number, drawn)
        for number, page in enumerate(document)
        for drawn in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=5)
        if _is_mouth(drawn)
    ]
    assert [number == 0 for number, _ in found] == [True, False]
    left, bottom, right, top = found[1][1].get_bounds()
    x, y = zip(*_turned(drafted, "e").mouths[0], strict=True)
    sides = sorted([(right - left) / 72, (top - bottom) / 72])
    assert sides == pytest.approx(sorted([max(x) - min(x), max(y) - min(y)]), abs=0.05)


def _is_mouth(drawn: Any) -> bool:
    """Whether a path is a gray line as heavy as that of a mouth."""
    width, parts = ctypes.c_float(), [ctypes.c_uint() for _ in range(4)]
    pdfium.FPDFPageObj_GetStrokeWidth(drawn, width)
    pdfium.FPDFPageObj_GetStrokeColor(drawn, *parts)
    return round(width.value, 2) == values.MOUTH.width and parts[0].value > 0
