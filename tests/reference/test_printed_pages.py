"""What a page really prints: drawn by PDFium and by Poppler, joined as the page map says, and measured.

Sources: ISO 32000-1 §8.3.2.3 (user space unit 1/72 in) and table 150 (PrintScaling).
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
import shapely
from numpy.typing import NDArray
from PIL import Image
from shapely import affinity
from shapely.geometry import Polygon

from applique.design import design_from_mapping
from applique.pack import pack_files
from applique.pattern import Pattern, draft
from applique.sheets import templates_pdf

DPI = 200
Pages = list[NDArray[np.bool_]]
Renderer = Callable[[bytes], Pages]


def _pdfium(pdf: bytes) -> Pages:
    document = pypdfium2.PdfDocument(pdf)
    images = [document[i].render(scale=DPI / 72, grayscale=True).to_pil() for i in range(len(document))]
    return [np.asarray(image.convert("L")) < 128 for image in images]


@pytest.fixture(params=["pdfium", pytest.param("poppler", marks=pytest.mark.poppler)])
def rendered(request: pytest.FixtureRequest, tmp_path: Path) -> Renderer:
    """A function from a PDF to its pages as arrays of ink, by one of two PDF renderers."""
    if request.param == "pdfium":
        return _pdfium
    program = request.getfixturevalue("pdftoppm")

    def by_poppler(pdf: bytes) -> Pages:
        (tmp_path / "in.pdf").write_bytes(pdf)
        subprocess.run(
            [program, "-r", str(DPI), "-gray", str(tmp_path / "in.pdf"), str(tmp_path / "page")], check=True
        )
        return [np.asarray(Image.open(page)) < 128 for page in sorted(tmp_path.glob("page-*.pgm"))]

    return by_poppler


@pytest.mark.poppler
def test_poppler_finds_no_fault_in_any_file(pdftoppm: str, tmp_path: Path) -> None:
    """A form named with spaces was left out by Poppler, which says so on standard error and goes on."""
    pattern = _pattern(
        row=[{"text": "Rq"}],
        lettering={"font": "Fredoka", "cap_height": "12in", "outline": "1/2in"},
        paper={"full_size_guide": True, "full_size_nest": True},
        quilting=[{"kind": "echo"}],
    )
    pdfs = {name: content for name, content in pack_files(pattern).items() if name.endswith(".pdf")}
    assert len(pdfs) == 6
    for name, content in pdfs.items():
        (tmp_path / name).write_bytes(content)
        command = [pdftoppm, "-r", "20", "-gray", str(tmp_path / name), str(tmp_path / "page")]
        assert subprocess.run(command, check=True, capture_output=True).stderr == b"", name


def _pattern(**tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": "ROB"}, {"text": "j&8"}],
        "lettering": {"font": "Fredoka", "cap_height": "4in"},
        "panel": {"width": "40in", "height": "40in"},
    }
    return draft(design_from_mapping({**data, **tables}))


@pytest.fixture(scope="module")
def letters() -> Pattern:
    return _pattern()


@pytest.fixture(scope="module")
def huge() -> Pattern:
    return _pattern(
        row=[{"text": "R"}],
        lettering={"font": "Montserrat", "cap_height": "16in"},
    )


def _inside(ink: NDArray[np.bool_], seeds: list[tuple[float, float]]) -> NDArray[np.bool_]:
    """The area that a flood from `seeds` (pixels from the left, from the top) fills without crossing ink."""
    from scipy.ndimage import label

    regions, _ = label(~ink)
    wanted = {int(regions[round(y), round(x)]) for x, y in seeds} - {0}
    return np.isin(regions, sorted(wanted))


def _drawn(shape: Any, size: tuple[int, int]) -> NDArray[np.bool_]:
    """`shape`, in pixels with y down, as pixels whose centers it contains."""
    height, width = size
    x0, y0, x1, y1 = (round(value) for value in shape.bounds)
    xs, ys = np.arange(max(x0 - 2, 0), min(x1 + 3, width)), np.arange(max(y0 - 2, 0), min(y1 + 3, height))
    grid_x, grid_y = np.meshgrid(xs + 0.5, ys + 0.5)
    filled = np.zeros(size, dtype=bool)
    shapely.prepare(shape)
    filled[ys[0] : ys[-1] + 1, xs[0] : xs[-1] + 1] = shapely.contains_xy(shape, grid_x, grid_y)
    return filled


def _to_pixels(shape: Any, pattern: Pattern, *, mirrored: bool) -> Any:
    """From true inches in the drawing area to pixels of the page, y down; written anew here from the page frame."""
    frame = pattern.sheets.frame
    x0, y0, x1, _ = frame.drawing
    if mirrored:
        shape = affinity.affine_transform(shape, [-1, 0, 0, 1, x1, y0])
    else:
        shape = affinity.affine_transform(shape, [1, 0, 0, 1, x0, y0])
    return affinity.affine_transform(shape, [DPI, 0, 0, -DPI, 0, frame.height * DPI])


def _overlap(page: NDArray[np.bool_], shape: Any) -> float:
    """How much of the letter drawn on a page, line and all, is the outline that it should be."""
    want = _drawn(shape, page.shape)
    reach = 6
    near = _drawn(shape.buffer(reach), page.shape)
    # The letter as printed: what its cut line encloses, and the inner half of that line.
    parts = shape.geoms if hasattr(shape, "geoms") else [shape]
    found = np.zeros_like(page)
    for part in parts:
        band = page & _drawn(part.boundary.buffer(3), page.shape)
        seed = shapely.Point(shapely.maximum_inscribed_circle(Polygon(part)).coords[0])
        flood = _inside(band, [(seed.x, seed.y)])
        assert flood.sum() < page.size / 2, "the cut line does not close"
        found |= flood
    half = page & _drawn(shape.boundary.buffer(1.2), page.shape) & want
    found = (found | half) & near
    return float((found & want).sum() / (found | want).sum())


@pytest.mark.parametrize("mirrored", [False, True])
def test_every_letter_overlaps_its_own_outline(letters: Pattern, rendered: Renderer, mirrored: bool) -> None:
    pages = rendered(templates_pdf(letters, mirrored=mirrored))
    assert len(pages) == letters.sheets.page_count + 1
    seen = 0
    for page, layout in zip(pages[1:], letters.sheets.pages, strict=False):
        for item in layout.items:
            turned = affinity.rotate(
                letters.template(item.template).shape, item.place.turn_deg, origin=(0, 0)
            )
            placed = affinity.translate(turned, item.place.x, item.place.y)
            assert _overlap(page, _to_pixels(placed, letters, mirrored=mirrored)) > 0.995
            seen += 1
    assert seen == len(letters.templates)


def test_the_measure_of_overlap_can_fail(letters: Pattern) -> None:
    """A letter printed at 99 % is caught."""
    pages = _pdfium(templates_pdf(letters, mirrored=False))
    item = letters.sheets.pages[0].items[0]
    shape = letters.template(item.template).shape
    wrong = affinity.translate(
        affinity.rotate(shape, item.place.turn_deg, origin=(0, 0)), item.place.x, item.place.y
    )
    wrong = affinity.scale(wrong, 1.01, 1.01)
    with pytest.raises(AssertionError):
        assert _overlap(pages[1], _to_pixels(wrong, letters, mirrored=False)) > 0.995


def _joined(
    pages: Pages, pattern: Pattern, *, mirrored: bool
) -> tuple[NDArray[np.bool_], tuple[float, float]]:
    """The tiles of the only tiled template laid on one canvas by their windows; its ink and its upper left corner."""
    tiling = pattern.sheets.tiled[0].tiling
    x0, y0, x1, y1 = tiling.area
    canvas = np.zeros((round((y1 - y0) * DPI) + 4, round((x1 - x0) * DPI) + 4), dtype=bool)
    left, low, right, top = pattern.sheets.frame.drawing
    height = pattern.sheets.frame.height
    for page, tile in zip(pages[1:], tiling.tiles, strict=True):
        part = page[
            round((height - top) * DPI) : round((height - low) * DPI), round(left * DPI) : round(right * DPI)
        ]
        if mirrored:
            part = part[:, ::-1]
        row, column = round((y1 - tile.window[3]) * DPI), round((tile.window[0] - x0) * DPI)
        canvas[row : row + part.shape[0], column : column + part.shape[1]] |= part
    return canvas, (x0, y1)


@pytest.mark.parametrize("mirrored", [False, True])
def test_tiles_joined_by_the_page_map_make_the_letter(
    huge: Pattern, rendered: Renderer, mirrored: bool
) -> None:
    pages = rendered(templates_pdf(huge, mirrored=mirrored))
    tiled = huge.sheets.tiled[0]
    canvas, (left, top) = _joined(pages, huge, mirrored=mirrored)
    shape = affinity.rotate(huge.templates[0].shape, tiled.place.turn_deg, origin=(0, 0))
    pixels = affinity.affine_transform(shape, [DPI, 0, 0, -DPI, -left * DPI, top * DPI])
    outline = canvas & _drawn(pixels.boundary.buffer(4), canvas.shape)
    walked = [pixels.boundary.interpolate(d) for d in np.arange(0, pixels.boundary.length, 5)]
    drawn = [outline[int(p.y) - 2 : int(p.y) + 3, int(p.x) - 2 : int(p.x) + 3].any() for p in walked]
    assert np.mean(drawn) > 0.995


def test_ten_inches_measure_ten_inches_across_joined_tiles(dejavu_bold: str, rendered: Renderer) -> None:
    """The stem of a DejaVu Sans Bold H (1493 units high) at 10 in: its top and bottom edges are 10 in apart."""
    pattern = _pattern(row=[{"text": "H"}], lettering={"font": dejavu_bold, "cap_height": "10in"})
    (tiled,) = pattern.sheets.tiled
    canvas, (left, top) = _joined(rendered(templates_pdf(pattern, mirrored=False)), pattern, mirrored=False)
    shape = affinity.rotate(pattern.templates[0].shape, tiled.place.turn_deg, origin=(0, 0))
    x0, y0, x1, y1 = shape.bounds
    sideways = tiled.place.turn_deg % 180 == 90
    if sideways:
        canvas, span, place = canvas.T, (x0 - left, x1 - left), top - (y1 - 0.37)
    else:
        span, place = (top - y1, top - y0), (x0 + 0.37) - left
    line = canvas[:, round(place * DPI)]
    edges = [_edge(line, end * DPI) for end in span]
    assert (edges[1] - edges[0]) / DPI == pytest.approx(10, abs=0.004)


def _edge(line: NDArray[np.bool_], near: float) -> float:
    """The middle of the inked stretch of `line` nearest to `near`, in pixels."""
    inked = np.flatnonzero(line[int(near) - 8 : int(near) + 9]) + int(near) - 8
    assert inked.size, "no line where one should be"
    stretches = np.split(inked, np.flatnonzero(np.diff(inked) > 1) + 1)
    middles = [float(stretch.mean() + 0.5) for stretch in stretches]
    return min(middles, key=lambda middle: abs(middle - near))


def test_the_mirrored_file_is_the_mirror_of_the_other(letters: Pattern, rendered: Renderer) -> None:
    plain = rendered(templates_pdf(letters, mirrored=False))
    mirrored = rendered(templates_pdf(letters, mirrored=True))
    x0, y0, x1, y1 = letters.sheets.frame.drawing
    height = letters.sheets.frame.height
    for first, second, layout in zip(plain[1:], mirrored[1:], letters.sheets.pages, strict=True):
        area = (
            slice(round((height - y1) * DPI), round((height - y0) * DPI)),
            slice(round(x0 * DPI), round(x1 * DPI)),
        )
        one, other = first[area], second[area][:, ::-1]
        words = np.zeros_like(first)
        for item in layout.items:
            x, low, high = item.label.arrow
            spot = (
                shapely.box(*item.label.box)
                .union(shapely.LineString([(x, low), (x, high)]))
                .envelope.buffer(0.12)
            )
            turned = affinity.translate(
                affinity.rotate(spot, item.place.turn_deg, origin=(0, 0)), item.place.x, item.place.y
            )
            words |= _drawn(_to_pixels(turned, letters, mirrored=False), first.shape)
            for word in item.words:
                named = shapely.box(*word.box).buffer(0.02)
                words |= _drawn(_to_pixels(named, letters, mirrored=False), first.shape)
        clear = ~words[area]
        assert _strays(one & clear, other) < 0.002
        assert _strays(other & clear, one) < 0.002


def _strays(ink: NDArray[np.bool_], other: NDArray[np.bool_]) -> float:
    """The share of `ink` that is further than two pixels from any ink of `other`."""
    from scipy.ndimage import binary_dilation

    return float((ink & ~binary_dilation(other, iterations=2)).sum() / ink.sum())


@pytest.mark.parametrize(("measured", "factor"), [("6in", 1.0), ("5.64in", 6 / 5.64)])
def test_the_rules_measure_what_they_say(rendered: Renderer, measured: str, factor: float) -> None:
    """The long ticks of the 6 in rule; a printer at 94 % is sent a rule of 6/0.94 in, and so prints 6 in."""
    pattern = _pattern(print={"scale_x": measured, "scale_y": measured}, paper={"size": "tabloid"})
    frame = pattern.sheets.frame
    page = rendered(templates_pdf(pattern, mirrored=False))[1]
    rule_y = frame.margin + 0.44 * 0.42
    along = page[round((frame.height - rule_y) * DPI) - round(0.1 * DPI), :]
    up = page[:, round((frame.margin + 0.44 * 0.42) * DPI) + round(0.1 * DPI)]
    for ticks, start in ((along, frame.drawing[0] * DPI), (up[::-1], frame.drawing[1] * DPI)):
        first, last = _edge(ticks, start), _edge(ticks, start + 6 * factor * DPI)
        assert (last - first) / DPI == pytest.approx(6 * factor, abs=0.01)


def test_pages_are_as_large_as_their_paper_and_forbid_scaling() -> None:
    """A4 595.2756 × 841.8898 pt (ISO 216); no UserUnit; PrintScaling None (ISO 32000-1 table 150)."""
    pdf = templates_pdf(_pattern(paper={"size": "A4"}), mirrored=True)
    document = pypdfium2.PdfDocument(pdf)
    assert document[0].get_size() == pytest.approx((595.2756, 841.8898), abs=1e-3)
    assert b"/PrintScaling /None" in pdf
    assert b"UserUnit" not in pdf
