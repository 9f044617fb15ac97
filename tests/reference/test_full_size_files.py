"""What a copy shop prints and a projector shows, read back at true scale from the PDF by PDFium and by Poppler."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import label
from shapely import affinity
from shapely.geometry import Point, box

from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.geometry.points import Bounds
from applique.pack import pack_files
from applique.panel import on_panel
from applique.pattern import Pattern, draft
from applique.sheets import copy_shop_guide_pdf, copy_shop_templates_pdf, projector_pdf

DPI = 50
DARK = 215
"""Grays below this are ink: a thin line spreads over two pixels."""
NEAR = 0.05
"""Inches: half a line on either side of it, and a pixel."""
Ink = NDArray[np.bool_]
Render = Callable[[bytes], list[Ink]]


@pytest.fixture(params=["pdfium", pytest.param("poppler", marks=pytest.mark.poppler)])
def render(request: pytest.FixtureRequest, tmp_path: Path) -> Render:
    """A function from a PDF to its pages as arrays of ink, from the upper left corner."""
    if request.param == "pdfium":
        return lambda pdf: [
            np.asarray(page.render(scale=DPI / 72, grayscale=True).to_pil().convert("L")) < DARK
            for page in pypdfium2.PdfDocument(pdf)
        ]
    program = request.getfixturevalue("pdftoppm")

    def by_poppler(pdf: bytes) -> list[Ink]:
        (tmp_path / "in.pdf").write_bytes(pdf)
        command = [program, "-r", str(DPI), "-gray", str(tmp_path / "in.pdf"), str(tmp_path / "page")]
        subprocess.run(command, check=True)
        return [np.asarray(Image.open(page)) < DARK for page in sorted(tmp_path.glob("page-*.pgm"))]

    return by_poppler


def _pattern(*rows: str, **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": text} for text in rows],
        "lettering": {"font": "Rubik", "cap_height": "4in"},
        "panel": {"width": "20in", "height": "30in"},
        "paper": {"copy_shop": "24in", "projector": True},
    }
    return draft(design_from_mapping({**data, **tables}))


def _white_at(ink: Ink, seed: tuple[float, float]) -> Bounds:
    """The extent in inches, y up from the lower left corner, of the white that holds the point `seed`."""
    height = ink.shape[0]
    regions, _ = label(~ink)
    found = regions[round(height - 1 - seed[1] * DPI), round(seed[0] * DPI)]
    assert found, seed
    rows, columns = np.where(regions == found)
    return (
        columns.min() / DPI,
        (height - 1 - rows.max()) / DPI,
        (columns.max() + 1) / DPI,
        (height - rows.min()) / DPI,
    )


def _runs(ink: Ink) -> tuple[float, float]:
    """The longest level line in the lowest inch of a page, and the longest upright one in its leftmost, in inches."""

    def longest(lines: Ink) -> float:
        best = 0
        for line in lines:
            edges = np.flatnonzero(np.diff(np.concatenate([[0], line.astype(int), [0]])))
            best = max([best, *(end - start for start, end in zip(edges[::2], edges[1::2], strict=True))])
        return best / DPI

    return longest(ink[-DPI:]), longest(ink[:, : int(0.8 * DPI)].T)


def _size(pdf: bytes, page: int = 0) -> tuple[float, float]:
    width, height = pypdfium2.PdfDocument(pdf)[page].get_size()
    return width / 72, height / 72


@pytest.mark.parametrize(
    ("units", "roll", "wide", "panel"),
    [("in", "24in", 24, (20, 30)), ("cm", "A1", 59.4 / 2.54, (20, 30)), ("in", "24in", 24, (30, 20))],
)
def test_the_guide_of_a_copy_shop_is_one_long_page_at_true_scale(
    render: Render, units: str, roll: str, wide: float, panel: tuple[int, int]
) -> None:
    """A panel wider than the roll lies on its side. Width of A1: ISO 216, 594 mm (from memory)."""
    pattern = _pattern(
        "HI",
        "IH",
        units=units,
        paper={"copy_shop": roll},
        panel={"width": f"{panel[0]}in", "height": f"{panel[1]}in"},
    )
    shop = pattern.copy_shop
    assert shop is not None
    pdf = copy_shop_guide_pdf(pattern, shop)
    (ink,) = render(pdf)
    width, height = _size(pdf)
    assert width == pytest.approx(wide, abs=0.001)
    assert 30 < height < 36
    assert ink.shape == (pytest.approx(height * DPI, abs=1), pytest.approx(width * DPI, abs=1))
    (tile,), (left, low, _, _) = shop.guide.tiling.tiles, shop.guide.frame.drawing
    for cut in pattern.panel.cuts:
        shape = on_panel(cut)
        if panel[0] > wide:  # a quarter to the left about the lower left corner of the finished panel
            shape = affinity.rotate(shape, 90, origin=(0, 0))
        point = shape.representative_point()
        seen = _white_at(ink, (left + point.x - tile.window[0], low + point.y - tile.window[1]))
        wanted = [shape.bounds[i] + (left, low)[i % 2] - tile.window[i % 2] for i in range(4)]
        assert seen == pytest.approx(wanted, abs=NEAR)
    inches = [int(length) for length in re.findall(r"rule before you cut: inch scale (\d+) in", _text(pdf))]
    assert sorted(inches) == sorted(int(run) for run in _runs(ink))
    assert "Ask the shop to print at 100%, and measure both rules before you pay" in _text(pdf)


def _text(pdf: bytes) -> str:
    pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]
    return " ".join(" ".join(pages).split())


@pytest.mark.parametrize("method", ["raw edge", "turned edge"])
def test_the_templates_of_a_copy_shop_are_at_true_scale_and_mirrored_as_the_method_needs(
    render: Render, method: str
) -> None:
    pattern = _pattern("LR", "FJE", sewing={"method": method})
    shop = pattern.copy_shop
    assert shop is not None
    pdf = copy_shop_templates_pdf(pattern, shop)
    (ink,), (page,) = render(pdf), shop.templates.pages
    left, low, right, _ = shop.templates.frame.drawing
    assert sorted(item.template for item in page.items) == [1, 2, 3, 4, 5]
    mirrored = method == "raw edge"
    assert ("Mirror image" in _text(pdf)) == mirrored
    for item in page.items:
        template = pattern.template(item.template)
        shape = item.place.shape(template.shape)
        # Away from the label: the point of the shape that lies furthest from it.
        label_at = Point(item.place.point(((item.label.box[0] + item.label.box[2]) / 2, item.label.box[1])))
        inner = shape.buffer(-0.15)
        points = [
            inner.representative_point(),
            *(geometry.representative_point() for geometry in _cells(inner)),
        ]
        point = max(points, key=label_at.distance)
        x0, y0, x1, y1 = shape.bounds
        assert -1e-9 <= x0 < x1 <= right - left + 1e-9
        assert -1e-9 <= y0 < y1 <= shop.templates.frame.drawing[3] - low + 1e-9
        if mirrored:
            seen = _white_at(ink, (right - point.x, low + point.y))
            wanted = (right - x1, low + y0, right - x0, low + y1)
        else:
            seen = _white_at(ink, (left + point.x, low + point.y))
            wanted = (left + x0, low + y0, left + x1, low + y1)
        assert seen == pytest.approx(wanted, abs=NEAR)


def _cells(shape: Any) -> list[Any]:
    """`shape` cut into inch squares."""
    x0, y0, x1, y1 = shape.bounds
    squares = [
        shape.intersection(box(x, y, x + 1, y + 1)) for x in np.arange(x0, x1) for y in np.arange(y0, y1)
    ]
    return [square for square in squares if square.area > 0.05]


@pytest.mark.parametrize(("units", "side"), [("in", 1.0), ("cm", 5 / 2.54)])
def test_the_page_of_a_projector_has_a_true_grid_and_true_letters(
    render: Render, units: str, side: float
) -> None:
    pattern = _pattern("HI", units=units)
    frame = pattern.projector
    assert frame is not None
    pdf = projector_pdf(pattern, frame)
    (ink,) = render(pdf)
    assert _size(pdf) == pytest.approx((frame.width, frame.height), abs=0.001)
    assert ("1 in: move" in _text(pdf)) == (units == "in")
    left, low, right, top = frame.drawing
    beyond = float(pattern.panel.beyond)
    high = ink.shape[0]
    band = ink[high - round((low + 4) * DPI) : high - round((low + 2) * DPI)]
    inner = slice(round((left + beyond + 0.3) * DPI), round((right - beyond - 0.3) * DPI))
    lines = _middles(band.mean(axis=0)[inner] > 0.95)
    middle = round((left + right) / 2 * DPI) - inner.start
    steps = [b - a for a, b in pairwise(lines)]
    assert len(lines) > 5
    assert steps == pytest.approx([side * DPI] * len(steps), abs=1.1)
    assert min(abs(line - middle) for line in lines) < 1.5
    side_band = ink[:, round((left + beyond + 0.5) * DPI) : round((left + beyond + 0.9) * DPI)]
    levels = _middles(side_band.mean(axis=1) > 0.95)
    top_edge = high - top * DPI
    downs = [(level - top_edge) / DPI for level in levels]
    for count in range(int((top - low) / side) + 1):
        assert min(abs(down - count * side) for down in downs) < NEAR
    for cut in pattern.panel.cuts:
        x, y = left + beyond, low + beyond
        point = on_panel(cut).representative_point()
        seen = _white_at(ink, (x + point.x, y + point.y))
        wanted = [cut.ink[i] + (x, y)[i % 2] for i in range(4)]
        assert seen == pytest.approx(wanted, abs=NEAR + 0.02)


def _middles(taken: Ink) -> list[float]:
    """The middles of the runs of a line of pixels."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], taken.astype(int), [0]])))
    return [(start + end) / 2 for start, end in zip(edges[::2], edges[1::2], strict=True)]


def test_a_panel_wider_than_the_roll_lies_on_its_side_or_goes_over_pages_that_join() -> None:
    lying = _pattern("HI", panel={"width": "40in", "height": "20in"}).copy_shop
    split = _pattern("HI", panel={"width": "40in", "height": "40in"})
    assert lying is not None and split.copy_shop is not None
    assert (lying.guide.place.turn_deg, len(lying.guide.tiling.tiles)) == (90.0, 1)
    tiling = split.copy_shop.guide.tiling
    assert (tiling.columns, tiling.rows) == (2, 1)
    assert all(tile.window[2] - tile.window[0] < 24 for tile in tiling.tiles)
    assert "lay that edge on the line that says “tape”, mark on mark" in _text(
        copy_shop_guide_pdf(split, split.copy_shop)
    )


def test_no_page_is_longer_than_readers_of_pdf_show() -> None:
    """ISO 32000-1, annex C.2 (from memory): 14,400 units of 1/72 in."""
    pattern = _pattern("HI", panel={"width": "230in", "height": "20in"}, paper={"copy_shop": "36in"})
    assert pattern.copy_shop is not None
    pdf = copy_shop_guide_pdf(pattern, pattern.copy_shop)
    sizes = [_size(pdf, page) for page in range(len(pypdfium2.PdfDocument(pdf)))]
    assert len(sizes) == 2
    assert all(side <= 200 for size in sizes for side in size)


def test_a_letter_larger_than_the_roll_is_tiled_and_the_printer_at_home_corrects_nothing() -> None:
    tables: dict[str, Any] = {
        "lettering": {"font": "Rubik", "cap_height": "30in"},
        "panel": {"width": "60in", "height": "60in"},
        "print": {"scale_x": "5 15/16in"},
    }
    shop = _pattern("O", **tables).copy_shop
    assert shop is not None
    (tiled,) = shop.templates.tiled
    assert len(tiled.tiling.tiles) == 2
    assert (shop.templates.frame.paper_per_true_x, shop.guide.frame.paper_per_true_x) == (1.0, 1.0)


def test_a_panel_that_no_page_holds_is_refused_for_a_projector() -> None:
    with pytest.raises(Refusal) as refused:
        _pattern("HI", panel={"width": "230in", "height": "20in"}, paper={"projector": True})
    (problem,) = refused.value.problems
    assert (problem.kind, str(problem.where)) == ("panel-larger-than-a-page", "[paper], projector")
    assert "full_size_guide" in str(problem.fix)


def test_the_folder_has_these_files_only_if_they_are_asked_for() -> None:
    names = {"copy-shop-guide.pdf", "copy-shop-templates.pdf", "projector.pdf"}
    assert names <= pack_files(_pattern("I")).keys()
    assert not names & pack_files(_pattern("I", paper={})).keys()
