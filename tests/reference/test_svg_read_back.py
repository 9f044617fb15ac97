"""Cut files read back by a library other than the one that wrote them.

Sources: SVG 2, Coordinate Systems, Units (1 in = 96 px); DejaVu figures computed with fontTools, uharfbuzz and
FreeType, which agree within 0.01 %.
"""

from __future__ import annotations

import math
from io import BytesIO
from itertools import combinations
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from svgelements import SVG, Arc, Close, CubicBezier, Line, Move, Path, QuadraticBezier

from applique.cutfiles import cut_files
from applique.design import design_from_mapping
from applique.pattern import Pattern, draft
from applique.reports import summary_md

SVG_NAME = "{http://www.w3.org/2000/svg}"


def _pattern(*texts: str, **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": text} for text in texts],
        "lettering": {"font": "Fredoka", "cap_height": "4in"},
        "panel": {"width": "60in", "height": "40in"},
    }
    return draft(design_from_mapping({**data, **tables}))


def _paths(content: bytes) -> list[Path]:
    return [element for element in SVG.parse(BytesIO(content)).elements() if isinstance(element, Path)]


def _area(path: Path) -> float:
    """The area by Green's theorem with Gauss-Legendre quadrature, exact for cubics."""
    nodes, weights = np.polynomial.legendre.leggauss(6)
    total = 0.0
    for segment in path.segments():
        if isinstance(segment, Move | Arc):
            assert isinstance(segment, Move)
            continue
        points = [segment.start, *_controls(segment), segment.end]
        xs, ys = np.array([p.x for p in points]), np.array([p.y for p in points])
        t = (nodes + 1) / 2
        n = len(points) - 1
        basis = [math.comb(n, k) * (1 - t) ** (n - k) * t**k for k in range(n + 1)]
        slope = [math.comb(n - 1, k) * (1 - t) ** (n - 1 - k) * t**k * n for k in range(n)]
        x, y = xs @ basis, ys @ basis
        dx, dy = np.diff(xs) @ slope, np.diff(ys) @ slope
        total += float((weights / 2 * (x * dy - y * dx) / 2).sum())
    return total


def _controls(segment: Any) -> list[Any]:
    if isinstance(segment, CubicBezier):
        return [segment.control1, segment.control2]
    return [segment.control] if isinstance(segment, QuadraticBezier) else []


@pytest.mark.parametrize(("units", "unit_inches"), [("in", 1.0), ("cm", 1 / 25.4)])
@pytest.mark.parametrize("side", ["right-reading", "mirrored"])
def test_sizes_and_areas_agree_within_a_hundredth_of_a_percent(
    units: str, unit_inches: float, side: str
) -> None:
    pattern = _pattern("ROB8", "jig&", "Pé", units=units)
    files = cut_files(pattern)
    for template in pattern.templates:
        name = next(n for n in files if n.startswith(f"{side}/letters/{template.number:02d}-"))
        paths = _paths(files[name])
        assert len(paths) == template.parts
        pixels = sum(abs(_area(path)) for path in paths)
        assert pixels / 96**2 == pytest.approx(template.area, rel=1e-4)
        boxes = [path.bbox() for path in paths]
        width = (max(b[2] for b in boxes) - min(b[0] for b in boxes)) / 96
        height = (max(b[3] for b in boxes) - min(b[1] for b in boxes)) / 96
        x0, y0, x1, y1 = template.ink
        assert (width, height) == pytest.approx((x1 - x0, y1 - y0), rel=1e-4)


def test_one_unit_of_the_viewbox_is_one_unit_of_the_size() -> None:
    """A drawing without units is misread: 10 in at the 90 dpi of SVG 1.1's illustration is 10.667 in."""
    for units, unit in (("in", "in"), ("cm", "mm")):
        for content in cut_files(_pattern("Ro", units=units)).values():
            root = ElementTree.fromstring(content)
            x, y, width, height = root.get("viewBox", "").split()
            assert (x, y) == ("0", "0")
            assert root.get("width") == width + unit
            assert root.get("height") == height + unit


def test_the_cut_layer_holds_closed_paths_and_nothing_else() -> None:
    for content in cut_files(_pattern("jiB&")).values():
        root = ElementTree.fromstring(content)
        (layer,) = root.findall(f"{SVG_NAME}g")
        assert layer.get("id") == "cut"
        assert {child.tag for child in layer} == {f"{SVG_NAME}path"}
        for path in layer:
            data = path.get("d", "")
            assert data.count("M") == data.count("Z")


def test_curves_are_kept_as_curves() -> None:
    kinds = {
        type(segment)
        for content in cut_files(_pattern("O")).values()
        for path in _paths(content)
        for segment in path
    }
    assert kinds & {QuadraticBezier, CubicBezier}
    assert kinds <= {Move, Line, QuadraticBezier, CubicBezier, Close}


def test_dejavu_bold_home_at_six_inches(dejavu_bold: str) -> None:
    """Ink 26.3389 × 6.2251 in, area 88.1764 in² at a cap height of 6.000 in."""
    pattern = _pattern("HOME", lettering={"font": dejavu_bold, "cap_height": "6in", "least_gap": "0in"})
    content = next(v for name, v in cut_files(pattern).items() if name.startswith("right-reading/rows/"))
    paths = _paths(content)
    assert len(paths) == 4
    assert sum(abs(_area(path)) for path in paths) / 96**2 == pytest.approx(88.1764, rel=1e-4)
    boxes = [path.bbox() for path in paths]
    assert (max(b[2] for b in boxes) - min(b[0] for b in boxes)) / 96 == pytest.approx(26.3389, abs=5e-4)
    assert (max(b[3] for b in boxes) - min(b[1] for b in boxes)) / 96 == pytest.approx(6.2251, abs=5e-4)


def test_dejavu_bold_joy_reaches_below_and_left_of_its_origin(dejavu_bold: str) -> None:
    """The J drops 1.6477 in below the baseline and starts at x = −0.4622; ink 16.2679 × 7.7562 in."""
    pattern = _pattern("JOY", lettering={"font": dejavu_bold, "cap_height": "6in", "least_gap": "0in"})
    (row,) = pattern.panel.rows
    assert row.baseline - row.ink[1] == pytest.approx(1.6477, abs=5e-4)
    assert row.cuts[0].ink[0] - row.cuts[0].place.x == pytest.approx(-0.4622, abs=5e-4)
    assert (row.ink[2] - row.ink[0], row.ink[3] - row.ink[1]) == pytest.approx((16.2679, 7.7562), abs=5e-4)
    assert sum(template.area for template in pattern.templates) == pytest.approx(48.4894, rel=1e-5)
    assert sum(template.edge for template in pattern.templates) == pytest.approx(74.078, rel=1e-4)


def test_letters_nudged_into_each_other_are_cut_as_one() -> None:
    pattern = draft(
        design_from_mapping(
            {
                "row": [{"text": "HI", "nudge": [{"letter": 2, "right": "-1in"}]}],
                "lettering": {"font": "Montserrat", "cap_height": "4in"},
            }
        )
    )
    content = next(v for name, v in cut_files(pattern).items() if "/rows/" in name)
    assert len(_paths(content)) == 1


def _shapes(content: bytes) -> list[Any]:
    """Every closed piece of a file, in inches, its corners and points along its curves joined."""
    pieces = []
    for path in _paths(content):
        shell, *counters = (
            [
                (point.x / 96, point.y / 96)
                for segment in part
                if not isinstance(segment, Move)
                for point in (segment.point(share / 16) for share in range(16))
            ]
            for part in map(Path, path.as_subpaths())
        )
        pieces.append(shapely.Polygon(shell, counters))
    return [shapely.make_valid(piece) for piece in pieces]


@pytest.mark.parametrize("around", ["letters", "words"])
def test_no_two_shapes_of_a_cut_file_lie_over_one_another(around: str) -> None:
    """The outlines of a whole row did: a machine would have cut through both."""
    pattern = _pattern(
        "Lan", "W", lettering={"font": "Lilita One", "cap_height": "5in", "outline": "3/8in"},
        outline={"around": around}, cutting={"mat_width": "24in", "mat_height": "24in"},
    )  # fmt: skip
    files = cut_files(pattern)
    for name, content in files.items():
        shapes = _shapes(content)
        assert shapes
        for one, other in combinations(shapes, 2):
            assert one.intersection(other).area < 1e-3, name
    assert "mirrored/rows/row-01-Lan.svg" in files and "mirrored/outlines/row-02-W.svg" in files
    together = "mirrored/outlines/row-01-Lan.svg" in files
    assert together is (around == "words")
    summary = summary_md(pattern).decode("utf-8")
    assert ("lie over one another, so cut them one by one" in summary) is not together


def test_mirrored_files_are_the_mirror_of_the_others() -> None:
    files = cut_files(_pattern("RF"))
    for name in [name for name in files if name.startswith("right-reading/")]:
        plain, mirrored = files[name], files[name.replace("right-reading/", "mirrored/")]
        width = float(ElementTree.fromstring(plain).get("viewBox", "").split()[2]) * 96
        for first, second in zip(_paths(plain), _paths(mirrored), strict=True):
            x0, y0, x1, y1 = first.bbox()
            assert second.bbox() == pytest.approx((width - x1, y0, width - x0, y1), abs=1e-2)
