"""One picture: preview, booklet, guide and page paint the same items, at their places, at scale, in their colors."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as raw
import pytest
import shapely
import svgelements
from numpy.typing import NDArray
from PIL import Image
from shapely.geometry import LineString, MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from applique.design import design_from_mapping
from applique.language import american
from applique.panel import PlacedRow
from applique.pattern import Pattern, draft, sketch
from applique.picture import Item, Part, Picture
from applique.preview import preview_png, preview_svg
from applique.sheets.booklet import pattern_pdf
from applique.sheets.guide import placement_guide_pdf
from applique.web.views import drawing_view, numbers_view

DATA: dict[str, Any] = {
    "row": [
        {"text": "Ro", "thread": "#701010", "stitch": "straight"},
        {"text": "oar", "outline": "3/8in", "thread": "#107010", "stitch": "satin", "stitch_width": "5mm"},
    ],
    "panel": {"width": "22in", "height": "16in", "fabric": "Fog"},
    "lettering": {"font": "Bitter", "cap_height": "3in", "fabric": "Ink"},
    "fabric": [
        {"name": "Ink", "color": "#203040"},
        {"name": "Fog", "color": "#e0e0d8"},
        {"name": "Rust", "color": "#a05030"},
    ],
    "border": [
        {"kind": "strip", "width": "1in", "fabrics": ["Rust"], "corners": "mitered"},
        {"kind": "squares", "size": "3in", "fabrics": ["Fog", "Ink"]},
    ],
    "outline": {"fabric": "Rust"},
    "quilting": [{"kind": "echo", "spacing": "1/2in", "lines": 1}, {"kind": "crosshatch", "spacing": "5in"}],
    "binding": {"fabric": "Rust"},
    "paper": {"full_size_guide": True},
}
ONTO_PATCH = 0.02
"""Square inches, of the 12 in² that a large letter has here, by which curves read back at few points may differ."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One painted thing as an output shows it, in its own frame and unit."""

    rings: tuple[tuple[tuple[float, float], ...], ...]
    fill: str | None
    stroke: str | None
    width: float
    closed: bool


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    """A quilt with everything that a picture can hold, some of its letters turned, one of a shape that others have."""
    made = draft(design_from_mapping(DATA))
    first, *rows = made.panel.rows
    turned = [replace(cut, place=replace(cut.place, turn_deg=20.0)) for cut in first.cuts]
    assert first.cuts[1].key == rows[0].cuts[0].key
    row = replace(first, cuts=tuple(turned))
    return _with_rows(made, row, *rows)


def _with_rows(pattern: Pattern, *rows: PlacedRow) -> Pattern:
    placed = pattern.sketch.placed
    panel = replace(placed.panel, laid=rows)
    return replace(pattern, sketch=replace(pattern.sketch, placed=replace(placed, panel=panel)))


def _expected(items: Sequence[Item]) -> list[tuple[Item, BaseGeometry]]:
    return [(item, _shape([c.points(0.001) for c in item.laid.contours], not item.open)) for item in items]


def _shape(rings: Sequence[Sequence[tuple[float, float]]], closed: bool) -> BaseGeometry:
    if not closed:
        return MultiLineString([LineString(ring) for ring in rings])
    area: BaseGeometry = Polygon()
    for ring in rings:
        area = area.symmetric_difference(shapely.make_valid(Polygon(ring)))
    return area


def _same(seen: Sequence[Seen], items: Sequence[Item], onto: Sequence[float], scale: float) -> None:
    """Each thing seen is the item of its turn: outline, colors and width, once `onto` has taken it to inches, y up."""
    _lie_alike(seen, items, onto)
    for one, item in zip(seen, items, strict=True):
        assert one.fill == item.fill
        assert one.stroke == (item.pen.color if item.pen else None)
        if item.pen:
            assert one.width * scale == pytest.approx(item.pen.width, rel=2e-2)


def _lie_alike(seen: Sequence[Seen], items: Sequence[Item], onto: Sequence[float]) -> None:
    """Each thing seen has the outline of the item of its turn and lies where it lies."""
    assert len(seen) == len(items)
    for one, (item, shape) in zip(seen, _expected(items), strict=True):
        found = shapely.affinity.affine_transform(_shape(one.rings, one.closed), onto)
        assert found.bounds == pytest.approx(shape.bounds, abs=5e-3), item
        assert one.closed is not item.open
        if one.closed:
            assert found.symmetric_difference(shape).area < ONTO_PATCH, item
        else:
            assert found.hausdorff_distance(shape) < 5e-3, item


# How each output is read back


def _rings(path: svgelements.Path) -> tuple[tuple[tuple[float, float], ...], ...]:
    def walked(part: svgelements.Path) -> Iterator[tuple[float, float]]:
        for segment in part:
            if isinstance(segment, svgelements.Move | svgelements.Close):
                continue
            straight = isinstance(segment, svgelements.Line)
            for index in range(0 if straight else 12):
                point = segment.point(index / 12)
                yield point.x, point.y
            yield (segment.start.x, segment.start.y) if straight else (segment.end.x, segment.end.y)
            if straight:
                yield segment.end.x, segment.end.y

    return tuple(tuple(walked(svgelements.Path(part))) for part in path.as_subpaths())


def _seen_in_svg(svg: bytes) -> list[Seen]:
    """The paths of a preview in its own unit, 1/96 in; what is used elsewhere is there too."""
    return [
        Seen(
            rings=_rings(path),
            fill=_said(path, "fill"),
            stroke=_said(path, "stroke"),
            width=float(path.values.get("stroke-width", 0)),
            closed=any(isinstance(segment, svgelements.Close) for segment in path),
        )
        for path in svgelements.SVG.parse(BytesIO(svg), reify=True).elements()
        if isinstance(path, svgelements.Path)
    ]


def _said(path: svgelements.Path, name: str) -> str | None:
    value = path.values.get(name, "none")
    return None if value == "none" else str(value)


def _seen_in_pdf(pdf: bytes, page_index: int = 0) -> list[Seen]:
    """The paths of a page in points, as PDFium reads them."""
    page = pypdfium2.PdfDocument(pdf)[page_index]
    return [_of_pdf(path.raw) for path in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=1)]


def _of_pdf(path: Any) -> Seen:
    rings: list[list[tuple[float, float]]] = []
    controls: list[tuple[float, float]] = []
    closed = False
    for index in range(raw.FPDFPath_CountSegments(path)):
        segment = raw.FPDFPath_GetPathSegment(path, index)
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        point = (x.value, y.value)
        closed = closed or bool(raw.FPDFPathSegment_GetClose(segment))
        kind = raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_MOVETO:
            rings.append([point])
        elif kind == raw.FPDF_SEGMENT_LINETO:
            rings[-1].append(point)
        else:
            controls.append(point)
            if len(controls) == 3:
                curve = svgelements.CubicBezier(rings[-1][-1], *controls)
                rings[-1] += [(p.x, p.y) for p in (curve.point(t / 12) for t in range(1, 13))]
                controls = []
    mode, stroked = ctypes.c_int(), ctypes.c_int()
    raw.FPDFPath_GetDrawMode(path, mode, stroked)
    width = ctypes.c_float()
    raw.FPDFPageObj_GetStrokeWidth(path, width)
    return Seen(
        rings=tuple(tuple(ring) for ring in rings),
        fill=_color(path, raw.FPDFPageObj_GetFillColor) if mode.value else None,
        stroke=_color(path, raw.FPDFPageObj_GetStrokeColor) if stroked.value else None,
        width=width.value,
        closed=closed,
    )


def _color(path: Any, ask: Any) -> str:
    parts = [ctypes.c_uint() for _ in range(4)]
    ask(path, *parts)
    return "#" + "".join(f"{part.value:02x}" for part in parts[:3])


def _seen_by_page(picture: dict[str, Any]) -> list[Seen]:
    """What the page is told to paint: each shape turned, then moved, y down."""
    return [
        Seen(
            rings=_rings(
                svgelements.Path(
                    picture["shapes"][item["shape"]],
                    transform=f"translate({item['x']},{item['y']}) rotate({item.get('turn', 0)})",
                ).reify()
            ),
            fill=item.get("fill"),
            stroke=item.get("stroke"),
            width=item.get("width", 0.0),
            closed=picture["shapes"][item["shape"]].endswith("Z"),
        )
        for item in picture["items"]
    ]


# The same picture everywhere


def test_the_picture_holds_all_that_the_maker_will_see(pattern: Pattern) -> None:
    parts = [item.part for item in pattern.picture.items]
    count = {part: parts.count(part) for part in Part}
    assert count[Part.PATCH] == sum(len(border.patches) for border in pattern.quilt.borders)
    assert (count[Part.LETTER], count[Part.OUTLINE], count[Part.STITCH]) == (5, 3, 8)
    assert count[Part.QUILTING] == sum(len(plan.lines) for plan in pattern.quilting) > 0


def test_the_preview_paints_the_picture_and_hangs_it_on_the_wall(pattern: Pattern) -> None:
    picture = pattern.picture
    seen = _seen_in_svg(preview_svg(pattern))
    count, wall = len(picture.items), len(picture.wall.items)
    _same(seen[:count], picture.items, _upright(seen[:count], picture.items), 1.0)
    things = seen[count : count + wall]
    onto = _upright(things, picture.wall.items)
    _same(things, picture.wall.items, onto, 1.0)
    hung = seen[count + wall : 2 * count + wall]
    x, y = picture.wall.quilt
    _same(hung, picture.items, (*onto[:4], onto[4] - x, onto[5] - y), 1.0)


def test_the_cover_paints_the_picture_and_the_next_page_hangs_it_on_the_wall(pattern: Pattern) -> None:
    picture = pattern.picture
    pdf = pattern_pdf(pattern)
    cover, room = _seen_in_pdf(pdf), _seen_in_pdf(pdf, 1)
    count, wall = len(picture.items), len(picture.wall.items)
    start = next(index for index, one in enumerate(cover) if one.fill == picture.items[0].fill)
    seen = cover[start : start + count]
    start = next(
        index for index, one in enumerate(room) if one.stroke == "#8c857c"
    )  # what stands at the wall
    things, hung = room[start : start + wall], room[start + wall : start + wall + count]
    onto = _upright(seen, picture.items, up=1)
    _same(seen, picture.items, onto, onto[0])
    onto = _upright(things, picture.wall.items, up=1)
    _same(things, picture.wall.items, onto, onto[0])
    x, y = picture.wall.quilt
    _same(hung, picture.items, (*onto[:4], onto[4] - x, onto[5] - y), onto[0])


def test_the_guide_draws_the_pieces_of_the_picture_small(pattern: Pattern) -> None:
    pieces = list(pattern.picture.of(Part.OUTLINE, Part.LETTER))
    seen = _seen_in_pdf(placement_guide_pdf(pattern))[1 : 1 + len(pieces)]  # after the line below the head
    _lie_alike(seen, pieces, _upright(seen, pieces, up=1))


def test_the_full_size_guide_draws_the_pieces_and_echo_lines_of_the_picture_where_they_lie(
    pattern: Pattern,
) -> None:
    assert pattern.guide is not None
    picture, pdf = pattern.picture, placement_guide_pdf(pattern)
    echo = [item for item in picture.of(Part.QUILTING) if item.quilting == 1]
    items = [*picture.of(Part.OUTLINE, Part.LETTER), *echo]
    left, low = pattern.sheets.frame.drawing[:2]
    shown = set()
    for count, tile in enumerate(reversed(pattern.guide.tiles), 1):
        x, y = picture.panel.point((tile.window[0] - left, tile.window[1] - low))
        width, height = (tile.window[2] - tile.window[0], tile.window[3] - tile.window[1])
        window = shapely.box(x + left, y + low, x + left + width, y + low + height)
        here = [i for i in items if shapely.box(*i.laid.bounds()).intersects(window)]
        pages = len(pypdfium2.PdfDocument(pdf))
        _, *seen = _seen_in_pdf(pdf, pages - count)
        _lie_alike(seen[: len(here)], here, (1 / 72, 0.0, 0.0, 1 / 72, x, y))
        assert seen[len(here)].closed  # the cut edge, and no other quilting
        shown |= {(item.key, item.place) for item in here}
    assert shown == {(item.key, item.place) for item in items}


def test_the_page_is_told_the_picture_and_its_quilting_with_the_numbers(pattern: Pattern) -> None:
    picture = pattern.picture
    drawing = drawing_view(pattern.sketch, pattern.design, american())
    onto = (1.0, 0.0, 0.0, -1.0, 0.0, picture.height)
    _same(
        _seen_by_page(drawing["picture"]),
        [i for i in picture.items if i.part is not Part.QUILTING],
        onto,
        1.0,
    )
    quilting = numbers_view(pattern, american(), settled=True)["quilting"]
    _same(_seen_by_page(quilting), list(picture.of(Part.QUILTING)), onto, 1.0)
    wall = drawing["scene"]
    _same(
        _seen_by_page(wall["picture"]),
        picture.wall.items,
        (1.0, 0.0, 0.0, -1.0, 0.0, picture.wall.height),
        1.0,
    )
    x, y = picture.wall.quilt
    assert wall["quilt"] == pytest.approx([x, picture.wall.height - y - picture.height])


def _upright(seen: Sequence[Seen], items: Sequence[Item], *, up: int = -1) -> tuple[float, ...]:
    """The matrix from an output to inches, y up, that the extents of all that it shows tell; one scale both ways."""
    there = shapely.GeometryCollection([_shape(one.rings, one.closed) for one in seen]).bounds
    here = shapely.GeometryCollection([shape for _, shape in _expected(items)]).bounds
    scale = (here[2] - here[0]) / (there[2] - there[0])
    assert (here[3] - here[1]) / (there[3] - there[1]) == pytest.approx(scale, rel=1e-3)
    low = there[1] if up > 0 else there[3]
    return (scale, 0.0, 0.0, up * scale, here[0] - scale * there[0], here[1] - up * scale * low)


# Stitches


def _stitch(picture: Picture, row: int, letter: int | None) -> tuple[BaseGeometry, BaseGeometry, Item]:
    """A piece, the band of thread along its edge, and the item of that."""
    (stitch,) = (i for i in picture.of(Part.STITCH) if (i.row, i.letter) == (row, letter))
    (piece,) = (i for i in picture.of(Part.LETTER, Part.OUTLINE) if (i.row, i.letter) == (row, letter))
    assert stitch.pen is not None
    ((_, solid), (_, seam)) = _expected([piece, stitch])
    return solid, seam.boundary.buffer(stitch.pen.width / 2, quad_segs=32), stitch


@pytest.mark.parametrize("width", ["2mm", "4mm"])
@pytest.mark.parametrize("kind", ["satin", "zigzag"])
def test_a_covering_stitch_reaches_from_its_bite_to_its_outside(kind: str, width: str) -> None:
    """A satin stitch overlaps onto the background by 1/16 in at the most: published, docs/sources.md, satin stitch."""
    drawn = sketch(
        design_from_mapping(
            {"row": [{"text": "O", "cap_height": "4in", "stitch": kind, "stitch_width": width}]}
        )
    )
    solid, band, stitch = _stitch(drawn.picture, 1, 1)
    wide = float(width[0]) / 25.4
    outside = min(1 / 16, wide / 2)
    assert stitch.pen is not None
    assert stitch.pen.width == pytest.approx(wide)
    assert band.difference(solid).hausdorff_distance(solid.boundary) == pytest.approx(outside, abs=4e-3)
    reached = solid.difference(solid.buffer(-(wide - outside), quad_segs=32))
    assert band.intersection(solid).area == pytest.approx(reached.area, rel=0.02)


def test_a_straight_stitch_runs_inside_the_edge_and_a_blanket_stitch_along_it() -> None:
    """A straight stitch 1/16 in from the fold: as `sewing.stitches` has it."""
    for kind, inside in (("straight", 1 / 16), ("blanket", 0.0)):
        row = {"text": "O", "cap_height": "4in", "stitch": kind, "thread": "#ff0000"}
        picture = sketch(design_from_mapping({"row": [row]})).picture
        solid, _, stitch = _stitch(picture, 1, 1)
        ((_, seam),) = _expected([stitch])
        assert seam.boundary.hausdorff_distance(solid.boundary) == pytest.approx(inside, abs=4e-3)
        assert seam.difference(solid).area == pytest.approx(0, abs=1e-3)


def test_a_thread_that_cannot_be_seen_is_not_drawn() -> None:
    for kind, seen in (("straight", 0), ("blanket", 0), ("satin", 1)):
        row = {"text": "I", "stitch": kind}
        picture = sketch(design_from_mapping({"row": [row]})).picture
        assert len(list(picture.of(Part.STITCH))) == seen


PALE: dict[str, Any] = {
    "row": [{"text": "OH", "thread": "#203080", "stitch": "satin"}],
    "panel": {"width": "16in", "height": "10in", "fabric": "Snow"},
    "lettering": {"font": "Fredoka", "cap_height": "5in", "fabric": "Milk"},
    "fabric": [{"name": "Milk", "color": "#efe9dc"}, {"name": "Snow", "color": "#f6f2ea"}],
}


HALF = 242
"""Half of the way from the color of the thread to that of the letters, red, green and blue added up."""


def test_a_satin_edge_makes_a_pale_word_readable() -> None:
    """As much of the preview and of the cover has the color of the thread as the stitch covers."""
    pattern = draft(design_from_mapping(PALE))
    picture = pattern.picture
    covered = sum(i.laid.length() * i.pen.width for i in picture.of(Part.STITCH) if i.pen)
    svg = preview_svg(pattern)
    image = np.asarray(Image.open(BytesIO(preview_png(svg, width_px=1600))).convert("RGB")).astype(int)
    unit = picture.width / 40
    inch = 1600 / float(svgelements.SVG.parse(BytesIO(svg)).viewbox.width)
    left, top = (round(around * unit * inch) for around in (2.5, 4.2))
    quilt = image[top : top + round(picture.height * inch), left : left + round(picture.width * inch)]
    assert _count(quilt, PALE["row"][0]["thread"]) / inch**2 == pytest.approx(covered, rel=0.05)
    pdf = pattern_pdf(pattern)
    cover = pypdfium2.PdfDocument(pdf)[0]
    edge = next(one for one in _seen_in_pdf(pdf) if one.stroke == pattern.quilt.fabrics.binding.color)
    x0, y0, x1, y1 = shapely.GeometryCollection([_shape(edge.rings, True)]).bounds
    sharp = 4
    whole = np.asarray(cover.render(scale=sharp).to_pil().convert("RGB")).astype(int)
    high = cover.get_height()
    quilt = whole[
        round((high - y1) * sharp) : round((high - y0) * sharp), round(x0 * sharp) : round(x1 * sharp)
    ]
    inch = (x1 - x0) * sharp / picture.width
    assert _count(quilt, PALE["row"][0]["thread"]) / inch**2 == pytest.approx(covered, rel=0.05)


def _count(image: NDArray[np.int_], color: str) -> int:
    wanted = tuple(int(color[index : index + 2], 16) for index in (1, 3, 5))
    return int((np.abs(image - wanted).sum(axis=2) < HALF).sum())


@pytest.mark.long
def test_the_preview_of_a_poem_stays_small() -> None:
    """Less than the outlines of its letters alone would take, were each written out where it lies."""
    words = "the tide comes in and lays its letters on the ground again"
    rows = [{"text": words, "stitch": "satin", "thread": "#a05030"} for _ in range(10)]
    pattern = draft(
        design_from_mapping(
            {
                "row": rows,
                "lettering": {"font": "Fredoka", "cap_height": "3/4in"},
                "panel": {"width": "40in", "height": "30in"},
            }
        )
    )
    empty = _with_rows(pattern)
    letters = sum(1 for _ in pattern.picture.of(Part.LETTER))
    assert letters > 400
    grown = len(preview_svg(pattern)) - len(preview_svg(empty))
    assert grown / letters < 320


def test_a_patch_knows_its_border_and_side(pattern: Pattern) -> None:
    """The finished corners, from the middle of the quilt: as `quilt.borders` has them."""
    middle = (pattern.quilt.finished[0] / 2, pattern.quilt.finished[1] / 2)
    patches = [(border.number, patch) for border in pattern.quilt.borders for patch in border.patches]
    for item, (number, patch) in zip(pattern.picture.of(Part.PATCH), patches, strict=True):
        assert (item.border, item.side, item.fabric) == (number, patch.side, patch.fabric)
        (contour,) = item.laid.contours
        corners = [contour.start, *(segment[-1] for segment in contour.segments)]
        assert corners == [(float(x + middle[0]), float(y + middle[1])) for x, y in patch.corners]


def test_a_letter_that_is_turned_keeps_its_stitch_on_its_edge(pattern: Pattern) -> None:
    letter, stitch = (item for item in pattern.picture.items if (item.row, item.letter) == (1, 1))
    assert letter.place == stitch.place
    assert letter.place.turn_deg == 20.0
    ((_, solid), (_, seam)) = _expected([letter, stitch])
    assert seam.within(solid)
