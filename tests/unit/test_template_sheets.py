"""The template sheets as somebody reads them who has nothing else: numbers, labels, pages to join, the method."""

from __future__ import annotations

import re
from ctypes import c_float
from itertools import combinations
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import shapely
from shapely import affinity
from shapely.geometry import LineString, box

from applique.cutfiles import cut_files
from applique.cutting.diagram import letters_of
from applique.design import design_from_mapping
from applique.geometry.place import Place
from applique.geometry.polygons import parts_in_order
from applique.paging import TiledTemplate, middle_tick
from applique.paging.labels import box_with_arrows
from applique.pattern import Pattern, draft
from applique.sheets import nesting_pdf, pattern_pdf, placement_guide_pdf, templates_pdf
from applique.typeset.labels import label_outline
from applique.units import Units, as_length
from tests.overlaps import overlaps


def _pattern(*texts: str, **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": text} for text in texts],
        "lettering": {"font": "Rubik", "cap_height": "3in"},
        "panel": {"width": "60in", "height": "60in"},
    }
    return draft(design_from_mapping({**data, **tables}))


def _texts(pdf: bytes) -> list[str]:
    return [" ".join(page.get_textpage().get_text_range().split()) for page in pypdfium2.PdfDocument(pdf)]


def test_a_template_has_the_same_number_on_sheets_nests_and_cut_files() -> None:
    pattern = _pattern("RIM", "MAR", lettering={"font": "Rubik", "cap_height": "4in"})
    names = [template.text for template in pattern.templates]
    assert names == ["R", "I", "M", "A"]
    sheets = " ".join(_texts(templates_pdf(pattern, mirrored=True))[1:])
    nests = " ".join(_texts(nesting_pdf(pattern)))
    files = cut_files(pattern)
    for number, name in enumerate(names, 1):
        assert f"{number} · {name}" in sheets
        assert nests.count(f"{number} {name}") == 2 * pattern.templates[number - 1].count  # web and fabric
        svg = files[f"right-reading/letters/{number:02d}-{name}.svg"].decode()
        assert f"<title>{number} · {name}</title>" in svg


def test_sheets_come_in_the_order_of_the_numbers() -> None:
    """A large letter came after all others, and small ones as they had been packed."""
    pattern = _pattern("HW", "OE", lettering={"font": "Rubik", "cap_height": "8in"})
    assert pattern.sheets.tiled and pattern.sheets.pages
    numbers = [
        number for text in _texts(templates_pdf(pattern, mirrored=False))[1:] for number in _numbers(text)
    ]
    assert numbers == sorted(numbers)
    small = _pattern("HOWETIN", lettering={"font": "Rubik", "cap_height": "3in"})
    firsts = [page.first for page in small.sheets.pages]
    assert firsts == sorted(firsts)
    for page in small.sheets.pages:
        assert [item.template for item in page.items] == sorted(item.template for item in page.items)


# Letters that run to the left


def _contours(page: pypdfium2.PdfPage) -> list[list[tuple[float, float]]]:
    """The sizes of the contours of every shape that is drawn on a page, from left to right, in points."""
    found = []
    for shape in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
        boxes: list[list[tuple[float, float]]] = []
        for index in range(pdfium.FPDFPath_CountSegments(shape)):
            segment, x, y = pdfium.FPDFPath_GetPathSegment(shape, index), c_float(), c_float()
            pdfium.FPDFPathSegment_GetPoint(segment, x, y)
            if pdfium.FPDFPathSegment_GetType(segment) == pdfium.FPDF_SEGMENT_MOVETO:
                boxes.append([])
            boxes[-1].append((x.value, y.value))
        found.append(_sizes(boxes))
    return found


def _sizes(contours: list[list[tuple[float, float]]]) -> list[tuple[float, float]]:
    ordered = sorted(contours, key=lambda points: min(x for x, _ in points))
    sides = [tuple(zip(*points, strict=True)) for points in ordered]
    return [(max(xs) - min(xs), max(ys) - min(ys)) for xs, ys in sides]


def _drawn(sign: str, size: float, *, bold: bool = False) -> list[tuple[float, float]]:
    """The sizes of the contours of one sign of a label, control points and all, as the sheet draws them."""
    contours = [
        [contour.start, *(point for segment in contour.segments for point in segment)]
        for contour in label_outline(sign, size, bold=bold).contours
    ]
    return _sizes([[(x, y) for x, y in points] for points in contours])


def _holds(drawn: list[tuple[float, float]], wanted: list[tuple[float, float]]) -> bool:
    return any(
        drawn[at : at + len(wanted)] == [pytest.approx(size, abs=0.02) for size in wanted]
        for at in range(len(drawn) - len(wanted) + 1)
    )


def test_a_number_stands_left_of_its_letter_whichever_way_the_letter_runs() -> None:
    """“1 · ן, 2 · ק” came out as “1 · ק · 2 ,ן”, so that 1 seemed to be the letter of 2."""
    pattern = _pattern("קטן", lettering={"font": "Rubik", "cap_height": "2in"})
    first = _contours(pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=True))[0])
    names = [f"{template.number}·{template.text}" for template in pattern.templates]
    assert len(names) == 3
    caption = [size for sign in f"Page2:{','.join(names)}" for size in _drawn(sign, 7)]
    assert any(_holds(drawn, caption) for drawn in first), "the caption of the page"
    sample = [size for sign in names[0] for size in _drawn(sign, 8.5, bold=True)]
    assert any(_holds(drawn, sample) for drawn in first), "the key of the lines"


# Letters in several parts


def _places(page: pypdfium2.PdfPage, words: str) -> list[shapely.Polygon]:
    """Where `words` stand on a page, in inches."""
    text = page.get_textpage()
    search, found = text.search(words), []
    while (at := search.get_next()) is not None:
        boxes = [text.get_charbox(index) for index in range(at[0], at[0] + at[1])]
        x0, y0, x1, y1 = zip(*boxes, strict=True)
        found.append(box(min(x0) / 72, min(y0) / 72, max(x1) / 72, max(y1) / 72))
    return found


def test_every_part_of_a_letter_says_which_letter_it_is_of() -> None:
    """The leg of ק had no number and no arrow, and nothing said that it belongs to the letter beside it."""
    pattern = _pattern("ק", lettering={"font": "Rubik", "cap_height": "10cm"})
    first, page = pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=False))
    (item,) = pattern.sheets.pages[0].items
    x, y, _, _ = pattern.sheets.frame.drawing
    placed = affinity.translate(item.place.shape(pattern.template(1).shape), x, y)
    parts = sorted(shapely.get_parts(placed), key=lambda part: -part.area)
    assert len(parts) == 2
    for number, part in enumerate(parts, 1):
        (words,) = _places(page, f"part {number} of 2")
        assert part.contains(words)
    (leg,) = item.label.parts
    assert (item.label.lines[0], leg.lines[0]) == ("1a · \u200eק\u200e", "1b · \u200eק\u200e")
    for arrow, low, high in (leg.arrow, leg.up):
        across = affinity.translate(item.place.shape(box(arrow - 0.01, low, arrow + 0.01, high)), x, y)
        assert parts[1].contains(across)
    told = " ".join(first.get_textpage().get_text_range().split())
    assert "1a, 1b: parts of one letter: cut out roughly in one piece, cut apart last" in told


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("cap_height", ["1in", "2in", "5in"])
def test_every_part_has_its_name_on_it_or_nearer_than_to_any_other(cap_height: str, mirrored: bool) -> None:
    """A dot that was too small for a label had no number at all."""
    pattern = _pattern("ijÅö”", lettering={"font": "Fredoka", "cap_height": cap_height})
    assert not any(one.parts == 1 for one in pattern.templates)
    tagged = 0
    for page in pattern.sheets.pages:
        for item in page.items:
            template = pattern.template(item.template)
            parts = parts_in_order(template.shape)
            names = {label.lines[0].split()[0]: box(*label.box) for label in (item.label, *item.label.parts)}
            names |= {tag.name: box(*tag.box) for tag in item.label.tags}
            whole = [box(*box_with_arrows(item.label)), *(box(*tag.box) for tag in item.label.tags)]
            assert not any(one.intersects(other) for one, other in combinations(whole, 2))
            for part, name in zip(parts, template.part_names, strict=True):
                others = [other for other in parts if other is not part]
                assert all(names[name].distance(part) < names[name].distance(other) for other in others)
                assert not names[name].intersects(template.shape.boundary)
            tagged += len(item.label.tags)
    assert tagged
    first, *pages = _texts(templates_pdf(pattern, mirrored=mirrored))
    assert "1a, 1b: parts of one letter" in first
    for template in pattern.templates:
        assert all(re.search(rf"\b{name}\b", "".join(pages)) for name in template.part_names)
    assert "parts of one letter" not in _texts(templates_pdf(_pattern("oH"), mirrored=True))[0]


def test_a_tile_names_the_parts_on_it() -> None:
    """Of a large i the dot came on one page and the stem on another, and neither said so."""
    pattern = _pattern("i", lettering={"font": "Fredoka", "cap_height": "11in"})
    (tiled,) = pattern.sheets.tiled
    pages = _texts(templates_pdf(pattern, mirrored=True))[1:]
    parts = parts_in_order(pattern.template(1).shape)
    both = 0
    for tile, label, text in zip(tiled.tiling.tiles, tiled.labels, pages, strict=True):
        kept = Place(x=0, y=0, turn_deg=-tiled.place.turn_deg).shape(box(*tile.kept))
        here = {name for name, part in zip(("1a", "1b"), parts, strict=True) if part.intersects(kept)}
        assert ({"parts 1a, 1b"} if len(here) == 2 else {f"part {name}" for name in here}) <= set(label.lines)
        for tag in label.tags:
            assert parts[("1a", "1b").index(tag.name)].contains(box(*tag.box))
        if len(here) == 2:
            both += 1
            assert {tag.name for tag in label.tags} == here
            assert all(text.count(name) == 2 for name in here)
    assert both


def test_the_middle_of_a_letter_is_marked_at_its_baseline_clear_of_lines_and_labels() -> None:
    """The guide has a tick below the middle of each letter; nothing on the letter said where its middle is."""
    for cap_height, inside in (("5in", True), ("1/2in", False)):
        pattern = _pattern("ROIWÅ,", "קי", lettering={"font": "Rubik", "cap_height": cap_height})
        drawings = {
            mirrored: pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=mirrored))
            for mirrored in (False, True)
        }
        x, y, right, _ = pattern.sheets.frame.drawing
        on_letter = 0
        for number, page in enumerate(pattern.sheets.pages, 1):
            lines = {mirrored: _two_points(pages[number]) for mirrored, pages in drawings.items()}
            for item in page.items:
                template = pattern.template(item.template)
                low, high = middle_tick(template)
                assert low[0] == high[0] == pytest.approx((template.ink[0] + template.ink[2]) / 2)
                tick = LineString([low, high])
                clear = tick.buffer(0.05)
                assert not clear.intersects(template.outermost.boundary)
                labeled = [
                    *(one.box for one in (item.label, *item.label.parts)),
                    *(tag.box for tag in item.label.tags),
                ]
                assert not any(clear.intersects(box(*one)) for one in labeled)
                on_letter += clear.within(template.shape)
                for mirrored, found in lines.items():
                    ends = [item.place.point(end) for end in (low, high)]
                    wanted = LineString([((right - a) if mirrored else x + a, y + b) for a, b in ends])
                    assert any(one.hausdorff_distance(wanted) < 0.01 for one in found)
        assert on_letter > 2 if inside else on_letter < 2


def _two_points(page: pypdfium2.PdfPage) -> list[LineString]:
    """The straight lines of a page, each from one point to another, in inches."""
    found = []
    for shape in page.get_objects([pdfium.FPDF_PAGEOBJ_PATH]):
        if pdfium.FPDFPath_CountSegments(shape) == 2:
            found.append(LineString([[value / 72 for value in _end(shape, index)] for index in (0, 1)]))
    return found


def _numbers(text: str) -> list[int]:
    return [int(number) for number in re.findall(r"(\d+) · [A-Z]\b", text)]


def test_a_label_is_nearer_to_its_letter_than_to_any_other_and_level_on_the_sheet() -> None:
    pattern = _pattern("Il1'", "bdpq", "o,”-", lettering={"font": "Rubik", "cap_height": "2in"})
    beside = 0
    for page in pattern.sheets.pages:
        shapes = [
            affinity.translate(
                affinity.rotate(pattern.template(item.template).shape, item.place.turn_deg, origin=(0, 0)),
                item.place.x,
                item.place.y,
            )
            for item in page.items
        ]
        for index, item in enumerate(page.items):
            assert round(item.place.turn_deg + item.label.turn_deg) % 180 == 0
            label = item.place.shape(box(*item.label.box))
            if item.label.inside:
                continue
            beside += 1
            assert item.label.leader is not None
            own = label.distance(shapes[index])
            assert own > 0.05
            assert all(own < label.distance(other) for i, other in enumerate(shapes) if i != index)
            tip = shapely.Point(item.place.point(item.label.leader[1]))
            assert shapes[index].contains(tip) and shapes[index].boundary.distance(tip) > 0.025
    assert beside


def test_every_letter_has_an_arrow_to_its_top() -> None:
    """Only those that read as another had one: N and Z on their sides, and letters of other scripts, had none."""
    pattern = _pattern("bON", "6H")
    for page in pattern.sheets.pages:
        for item in page.items:
            x, low, high = item.label.up
            assert low < high and x > item.label.box[2]
    assert "to the top of the letter" in _texts(templates_pdf(pattern, mirrored=True))[0]


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_each_scale_of_the_rule_ends_at_the_mark_that_its_length_stands_at(unit: str) -> None:
    """“150 mm” stood at the end of the line, which ended at 6 in: 152.4 mm, and a true print was made smaller."""
    pattern = _pattern("R", units=unit)
    page = pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=True))[0]
    left = 72 * pattern.sheets.frame.drawing[0]
    for said, length in (("6 in", 6.0), ("150 mm", 150 / 25.4)):
        end = left + 72 * length
        marks = [place for place in _places(page, said) if abs(place.bounds[2] * 72 + 2.5 - end) < 1.5]
        assert len(marks) == 1, f"{said} before its tick, on the rule along the bottom"
    ends = sorted(
        {
            round((max(x for x, _ in line) - left) / 72 * 25.4, 1)
            for line in _level_lines(page)
            if abs(min(x for x, _ in line) - left) < 0.1
        }
    )
    assert {150.0, 152.4} <= set(ends)


def _level_lines(page: pypdfium2.PdfPage) -> list[list[tuple[float, float]]]:
    """The long level lines of a page and of the rules that all pages share, in points."""
    found = []
    for shape in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=3):
        points = [_end(shape, index) for index in range(pdfium.FPDFPath_CountSegments(shape))]
        if len(points) == 2 and points[0][1] == points[1][1] and abs(points[0][0] - points[1][0]) > 72:
            found.append(points)
    return found


def _end(shape: pypdfium2.PdfObject, index: int) -> tuple[float, float]:
    """Where a segment of a shape ends, on the page: a rule is drawn from its own start."""
    x, y, matrix = c_float(), c_float(), pdfium.FS_MATRIX()
    pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFPath_GetPathSegment(shape, index), x, y)
    pdfium.FPDFPageObj_GetMatrix(shape, matrix)
    a, b, c, d, e, f = (getattr(matrix, name) for name in "abcdef")
    return a * x.value + c * y.value + e, b * x.value + d * y.value + f


def test_the_ticks_of_a_baseline_have_the_number_of_their_letter() -> None:
    """A letter that floats above its baseline had two short dashes, nearer to the letter below it."""
    pattern = _pattern("יRקy", lettering={"font": "Rubik", "cap_height": "2in"})
    pages = list(pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=False)))[1:]
    left, low, _, _ = pattern.sheets.frame.drawing
    for page, laid in zip(pages, pattern.sheets.pages, strict=True):
        for item in laid.items:
            x0, _, x1, _ = pattern.template(item.template).shape.bounds
            places = _places(page, str(item.template))
            for x in (x0 - 0.17, x1 + 0.17):  # the middle of a tick of 0.22 in, 0.06 in from the letter
                tick = affinity.translate(item.place.shape(shapely.Point(x, 0.0)), left, low)
                near = [place for place in places if place.centroid.distance(tick) < 0.12]
                assert len(near) == 1


# Pages to join


def test_every_tile_has_a_name_of_its_own_and_says_what_to_trim_and_what_to_tape() -> None:
    """Two large O of two fabrics, or two copies of one, were all called “O A-1”."""
    pattern = _pattern(
        "O", lettering={"font": "Rubik", "cap_height": "14in"}, paper={"copies": "each"},
        row=[{"text": "O"}, {"text": "O"}, {"text": "O", "font": "Fredoka"}],
    )  # fmt: skip
    first, *pages = _texts(templates_pdf(pattern, mirrored=True))
    titles = [
        item.get_title() for item in pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=True)).get_toc()
    ]
    assert len(set(titles)) == len(titles) == len(pages) + 1
    assert "How to join the pages of a large letter" in first
    tiles = [tile for large in pattern.sheets.tiled for tile in large.tiling.tiles]
    assert len(tiles) == len(pages)
    for tile, text in zip(tiles, pages, strict=True):
        trims = [join for join in tile.joins if join.joining.value == "trim"]
        tapes = [join.other for join in tile.joins if join.joining.value == "tape"]
        assert text.count("trim here") == len(trims)
        assert all(f"tape page {other} here" in text for other in tapes)
    assert any("copy 2 of 2" in text for text in pages)
    assert sum("O A-1" in text for text in pages) == 3


def test_each_seam_is_trimmed_on_one_side_and_taped_on_the_other() -> None:
    (large,) = _pattern("R", lettering={"font": "Rubik", "cap_height": "22in"}).sheets.tiled
    sides = {
        (tile.name, join.other): (join.joining.value, join.seam)
        for tile in large.tiling.tiles
        for join in tile.joins
    }
    assert len(sides) > 8
    for (name, other), (joining, seam) in sides.items():
        opposite, same_seam = sides[other, name]
        assert {joining, opposite} == {"trim", "tape"}
        axis = 0 if seam[0][0] == seam[1][0] else 1
        assert seam[0][axis] == pytest.approx(same_seam[0][axis])


def test_labels_of_tiles_lie_on_what_stays_when_the_strips_are_off() -> None:
    pattern = _pattern(
        "&gW", lettering={"font": "Montserrat", "axes": {"wght": 100}, "cap_height": "17in"},
        sewing={"method": "turned edge"}, panel={"width": "64in", "height": "40in"},
    )  # fmt: skip
    tiles = 0
    for large in pattern.sheets.tiled:
        template = pattern.template(large.template)
        x0, _, x1, _ = template.outermost.bounds
        baseline = shapely.LineString([(x0, 0), (x1, 0)])
        drawn = shapely.union_all([template.shape.boundary, template.outermost.boundary, baseline])
        lines = large.place.shape(drawn)
        for tile, label in zip(large.tiling.tiles, large.labels, strict=True):
            at = large.place.shape(box(*label.box))
            assert box(*tile.kept).covers(at)
            assert not lines.intersects(at)
            assert label.up[1] < label.up[2]
            tiles += 1
    assert tiles > 15


@pytest.mark.parametrize("mirrored", [False, True])
def test_the_middle_and_the_baseline_of_a_large_letter_are_found_at_its_seams(mirrored: bool) -> None:
    """The mark of the middle of an O lay on the dashed line of the seam, and its baseline had no number."""
    pattern = _pattern("OW", lettering={"font": "Rubik", "cap_height": "10in"})
    pages = iter(list(pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=mirrored)))[1:])
    left, low, right, _ = pattern.sheets.frame.drawing
    named = 0
    for large in pattern.sheets.tiled:
        template = pattern.template(large.template)
        middle = large.place.point(((template.ink[0] + template.ink[2]) / 2, 0.0))
        x0, _, x1, _ = template.shape.bounds
        baseline = large.place.shape(LineString([(x0 - 0.28, 0.0), (x1 + 0.28, 0.0)]))
        for tile, label in zip(large.tiling.tiles, large.labels, strict=True):
            page = next(pages)

            def onto(shape: Any, tile: Any = tile) -> Any:
                flat = affinity.translate(shape, -tile.window[0], -tile.window[1])
                if mirrored:
                    return affinity.translate(affinity.scale(flat, -1, 1, origin=(0, 0)), right, low)
                return affinity.translate(flat, left, low)

            if baseline.intersection(box(*tile.kept)).length > 1:
                numbers = _places(page, str(large.template))
                assert any(0.03 < one.distance(onto(baseline)) < 0.08 for one in numbers)
            seams = [LineString(join.seam) for join in tile.joins]
            if not any(seam.distance(shapely.Point(middle)) < 0.25 for seam in seams):
                continue
            (word,) = _places(page, "middle")
            bold = [
                line
                for line, width in zip(_two_points(page), _widths(page), strict=True)
                if width > 1.5 and line.distance(word) < 0.1
            ]
            assert len(bold) == 1 and bold[0].length >= 0.2
            assert bold[0].distance(onto(shapely.Point(middle))) < 0.8
            assert onto(box(*tile.kept)).contains(word)
            assert not onto(large.place.shape(template.outermost.boundary)).intersects(word.union(bold[0]))
            assert not onto(large.place.shape(box(*label.box))).intersects(word.union(bold[0]))
            named += 1
    assert named >= 4
    assert next(pages, None) is None


def _widths(page: pypdfium2.PdfPage) -> list[float]:
    """The widths in points of the straight lines of a page, as `_two_points` lists them."""
    found = []
    for shape in page.get_objects([pdfium.FPDF_PAGEOBJ_PATH]):
        if pdfium.FPDFPath_CountSegments(shape) == 2:
            width = c_float()
            pdfium.FPDFPageObj_GetStrokeWidth(shape, width)
            found.append(width.value)
    return found


def test_a_page_whose_strips_alone_touch_the_letter_is_left_out() -> None:
    """A 60 in R went over 66 pages, two of them blank once they were trimmed."""
    size = {"width": "64in", "height": "76in"}
    pattern = _pattern("R", lettering={"font": "Montserrat", "cap_height": "60in"}, panel=size)
    (large,) = pattern.sheets.tiled
    shape = large.place.shape(pattern.templates[0].shape)
    tiling, (width, height) = large.tiling, pattern.sheets.frame.room
    overlap = float(pattern.design.paper.overlap)
    windows = [
        box(x, y - height, x + width, y)
        for row in range(tiling.rows)
        for column in range(tiling.columns)
        for x in [tiling.area[0] + column * (width - overlap)]
        for y in [tiling.area[3] - row * (height - overlap)]
    ]
    touched = sum(shape.intersects(window) for window in windows)
    assert len(tiling.tiles) < touched
    kept = shapely.union_all([box(*tile.kept) for tile in tiling.tiles])
    assert kept.buffer(1e-6).covers(shape)


_TALL = {"width": "80in", "height": "90in"}


def test_tiles_that_keep_nothing_of_the_letter_are_left_out_and_blank_ones_say_so() -> None:
    pattern = _pattern(
        "I",
        lettering={"font": "Alfa Slab One", "cap_height": "70in"},
        panel=_TALL,
    )
    (large,) = pattern.sheets.tiled
    shape = large.place.shape(pattern.templates[0].shape)
    assert all(shape.intersects(box(*tile.kept)) for tile in large.tiling.tiles)
    blank = [
        label
        for tile, label in zip(large.tiling.tiles, large.labels, strict=True)
        if shape.contains(box(*tile.kept))
    ]
    assert blank
    said = [label for label in large.labels if "no line here: all letter" in label.lines]
    assert said == blank


def test_a_letter_that_fills_one_page_is_no_tile() -> None:
    """It said “tile A1 of 1 by 1”, and how to join it."""
    x0, _, x1, _ = _pattern("w").templates[0].ink
    room = max(_pattern("w").sheets.frame.room)
    height = 3 * (room - 0.4) / (x1 - x0)  # on its side it fits, and its baseline ticks do not
    pattern = _pattern("w", lettering={"font": "Rubik", "cap_height": f"{height:.3f}in"})
    assert [len(large.tiling.tiles) for large in pattern.sheets.tiled] == [1]
    first, page = _texts(templates_pdf(pattern, mirrored=True))
    assert "tile" not in page and "A-1" not in page and "1 · w" in page
    assert "How to join" not in first and "trim" not in first


# Page 1, by method

RIGHT, DOWN, UP = "right side", "wrong side, shiny side down", "wrong side, shiny side up"


@pytest.mark.parametrize(
    ("asked", "mirrored", "line", "instead"),
    [
        (RIGHT, False, "Right way round: freezer paper on the right side of the fabric, shiny side down", ""),
        (RIGHT, True, "Mirror image: freezer paper on the wrong side", "templates-right-reading.pdf"),
        (DOWN, True, "Mirror image: freezer paper on the wrong side of the fabric, shiny side down", ""),
        (DOWN, False, "Right way round: freezer paper on the right side", "templates-mirrored.pdf"),
        (UP, False, "Right way round: freezer paper on the wrong side of the fabric, shiny side up", ""),
        (UP, True, "Mirror image: freezer paper on the wrong side", "templates-right-reading.pdf"),
    ],
)
def test_freezer_paper_is_said_one_way_throughout(
    asked: str, mirrored: bool, line: str, instead: str
) -> None:
    """Right side, shiny down: right-reading. Wrong side, shiny down: mirrored. Wrong side, shiny up: right-reading.

    Source:
        Geometry, computed in the test below; both conventions are published (docs/sources.md).
    """
    pattern = _pattern("R", sewing={"method": "turned edge", "freezer_paper": asked})
    first, *rest = _texts(templates_pdf(pattern, mirrored=mirrored))
    assert all(line in text for text in (first, *rest))
    assert (f"otherwise: print {instead}" in first) is bool(instead)
    assert "Cut the fabric 3/16 in outside the paper" in first
    assert "cut the fabric here, 3/16 in outside" in first
    assert "ut on the line" not in first and "ut on this line" not in first
    assert "web" not in first
    assert ("onto the shiny side" in first) is (asked == UP and not mirrored)


@pytest.mark.parametrize("asked", [RIGHT, DOWN, UP])
def test_what_is_traced_comes_out_right_reading(asked: str) -> None:
    """The paper as a plane: drawn on its dull side, laid with that side up or down on one side of the fabric.

    A drawing is seen as it was drawn from its own side of a sheet, and mirrored from the other side.
    """
    design = design_from_mapping(
        {"row": [{"text": "R"}], "sewing": {"method": "turned edge", "freezer_paper": asked}}
    )
    on_wrong_side, shiny_up = asked != RIGHT, asked == UP
    # From above the paper, its drawing shows as drawn if the dull side is up; the finished letter is seen from the
    # right side of the fabric, which is that side for paper on it, the other for paper on the wrong side.
    seen_from_drawn_side = (not shiny_up) != on_wrong_side
    reads_right = design.sewing.traced_mirrored != seen_from_drawn_side
    assert reads_right


@pytest.mark.parametrize("asked", [RIGHT, DOWN, UP])
def test_paper_comes_out_before_a_letter_is_placed_and_sewn(asked: str) -> None:
    """The sheets sewed first and peeled then, the booklet the other way round."""
    pattern = _pattern("L", sewing={"method": "turned edge", "freezer_paper": asked})
    first = _texts(templates_pdf(pattern, mirrored=asked == DOWN))[0]
    out = first.index("Peel the paper off the front" if asked == RIGHT else "ease the paper out")
    assert out < first.index("sew it down") and "slit" not in first


def test_the_name_of_a_letter_in_a_nest_lies_over_no_hole_and_no_edge() -> None:
    """“2 a” filled the hole of its letter, and could be taken for what is cut out of it."""
    pattern = draft(design_from_mapping({"row": [{"text": "oe"}], "lettering": {"cap_height": "5in"}}))
    page = pypdfium2.PdfDocument(nesting_pdf(pattern))[0]
    gray = page.render(scale=4, grayscale=True).to_numpy().squeeze()
    text, high = page.get_textpage(), page.get_height()
    named = 0
    for index in range(text.count_rects()):
        left, low, right, top = text.get_rect(index)
        if text.get_text_bounded(left, low, right, top).strip() in ("1", "o", "2", "e"):
            named += 1
            around = gray[
                int((high - top) * 4) - 1 : int((high - low) * 4) + 2, int(left * 4) - 1 : int(right * 4) + 2
            ]
            assert around.max() == round(0.88 * 255)
    assert named >= 4


def test_nests_of_freezer_paper_are_drawn_as_it_is_traced() -> None:
    """They were always in mirror image."""
    tables = {"lettering": {"font": "Rubik", "cap_height": "9in"}, "paper": {"full_size_nest": True}}
    for asked, mirrored in ((RIGHT, False), (DOWN, True), (UP, False)):
        pattern = _pattern("L", sewing={"method": "turned edge", "freezer_paper": asked}, **tables)
        first, *rest = _texts(nesting_pdf(pattern))
        first = first.split("Lay these letters")[0]  # what follows is said of the fabric
        way = "mirror image" if mirrored else "right way round"
        other = "right way round" if mirrored else "mirror image"
        traced = [text for text in (first, *rest) if "dull side" in text or "trace page" in text]
        assert len(traced) == 1 + len(pattern.trace.tiles if pattern.trace else ())
        assert all(way in text and other not in text for text in traced)
        assert _reads_right(nesting_pdf(pattern)) is (not mirrored)


@pytest.mark.long
@pytest.mark.parametrize(
    ("sewing", "said", "unsaid"),
    [
        ({"method": "raw edge"}, ["as you trace it", "its rough cut"], ["machine", "turn-under"]),
        ({"method": "machine cut"}, ["Cut these rectangles of web", "Fuse each rectangle of web as it lies here"],
         ["trace", "rough cut", "shift"]),
        ({"method": "turned edge"}, ["its turn-under", "where the freezer paper goes"], ["web", "rough cut"]),
        ({"method": "turned edge", "freezer_paper": UP}, ["its turn-under"], ["web", "rough cut"]),
    ],
)  # fmt: skip
def test_nests_are_told_by_method_and_say_which_side_is_seen(
    sewing: dict[str, str], said: list[str], unsaid: list[str]
) -> None:
    """A nest for a machine said how it is traced, and fabric was seen from its right side though web goes on the other:
    it is seen as it lies while the maker works, and says so, as does the step of the booklet."""
    pattern = _pattern("ROSE", sewing=sewing, paper={"full_size_nest": True})
    text = " ".join(_texts(nesting_pdf(pattern)))
    from_right = sewing == {"method": "turned edge"}
    right, wrong = "Seen from the right side of the fabric", "Seen from the wrong side of the fabric"
    assert (right in text, wrong in text) == (from_right, not from_right)
    booklet = " ".join(_texts(pattern_pdf(pattern)))
    assert "all as in the picture of this fabric in nesting.pdf: a small one, no template" in booklet
    assert ("letters, right side up. Before" in booklet, "letters, wrong side up. Before" in booklet) == (
        from_right,
        not from_right,
    )
    assert all(words in text for words in said)
    assert not any(words in text for words in unsaid)


def test_a_nest_that_goes_on_says_that_it_is_one_length_and_names_each_letter_once() -> None:
    """Web was drawn in two stretches to fit the page, letters sawn in two, and both halves had the number."""
    pattern = _pattern("THETIDE", "COMESIN", lettering={"font": "Rubik", "cap_height": "7in"})
    assert pattern.fusible.nest is not None
    nests = " ".join(_texts(nesting_pdf(pattern))).split("not a template", 1)[1]
    bands = nests.count("goes on below: one length, not cut here") + 1
    assert bands > 1
    for template in pattern.templates:
        assert nests.count(f"{template.number} {template.text}") == 2 * template.count  # web and fabric


def _reads_right(pdf: bytes) -> bool:
    """Whether the one L on the left of the first page, however it is turned, is an L and not its mirror image."""
    gray = pypdfium2.PdfDocument(pdf)[0].render(scale=1, grayscale=True).to_numpy()
    return _is_read(gray[:, : gray.shape[1] * 2 // 5])  # fabric lies to the right of it


_DOTS = 12


def _is_read(gray: Any) -> bool:
    """Whether the one L in a part of a page is an L and not its mirror image."""
    letter = gray == 224  # the fill of a letter, 0.88
    # A few dots of the edges of words have the same gray.
    rows, columns = ((letter.sum(axis=axis) > _DOTS).nonzero()[0] for axis in (1, 0))
    cut = letter[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    if cut.shape[1] > cut.shape[0]:
        cut = cut.T[:, ::-1]
    y, x = cut.shape[0] // 2, cut.shape[1] // 2
    quarters = {
        "upper left": cut[:y, :x].sum(),
        "upper right": cut[:y, x:].sum(),
        "lower left": cut[y:, :x].sum(),
        "lower right": cut[y:, x:].sum(),
    }
    return min(quarters, key=lambda name: quarters[name]) in ("upper right", "lower left")


def test_machine_cutting_names_its_files_and_keeps_fingers_from_the_blade() -> None:
    pattern = _pattern("R", sewing={"method": "machine cut"})
    for mirrored in (False, True):
        first = _texts(templates_pdf(pattern, mirrored=mirrored))[0]
        assert "“mirrored”" in first and "“right-reading”" in first
        assert "Keep fingers clear of the blade and the carriage" in first
        assert "rotary" not in first and "the machine cuts here" in first


def test_web_is_shifted_where_letters_lie_closer_than_their_rough_cuts() -> None:
    for rough, said in (("1/4in", "1/2 in stays between"), ("1/16in", "")):
        pattern = _pattern("RO", fusible={"rough_cut": rough})
        first = _texts(templates_pdf(pattern, mirrored=True))[0]
        assert ("shift the web" in first) is bool(said)
        assert said in first
    closer = "pages have letters closer than that"
    together, alone = (_texts(nesting_pdf(_pattern(text)))[0] for text in ("RO", "R"))
    assert "at least 1/2 in apart" in together and closer in together
    assert "at least 1/2 in apart" in alone and closer not in alone
    assert "shift the web" not in _texts(templates_pdf(_pattern("R"), mirrored=True))[0]


def test_what_is_drawn_small_asks_for_no_measuring_and_says_what_it_is() -> None:
    """Guide and nests carried a rule of 6 in and "print at 100%" though they are small; what is at true size keeps
    them."""
    pattern = _pattern("RO", paper={"full_size_nest": True, "full_size_guide": True})
    assert pattern.trace is not None and pattern.guide is not None
    for pdf, large in (
        (nesting_pdf(pattern), len(pattern.trace.tiles)),
        (placement_guide_pdf(pattern), len(pattern.guide.tiles)),
    ):
        texts = _texts(pdf)
        small = texts[: len(texts) - large]
        assert small and all("100%" not in one and "Measure this rule" not in one for one in small)
        assert "Small picture, not a template" in small[0]
        assert all("Measure this rule" in one for one in texts[len(small) :])
        assert not any("Small picture" in one for one in texts[len(small) :])


@pytest.mark.parametrize("sewing", [{"method": "raw edge"}, {"method": "turned edge"}])
def test_fabric_is_drawn_as_it_lies_while_letters_are_fixed_to_it(sewing: dict[str, str]) -> None:
    """On its wrong side an L is in mirror image, on its right side it reads as an L."""
    pattern = _pattern("L", sewing=sewing)
    pages = pypdfium2.PdfDocument(nesting_pdf(pattern))
    gray = pages[0].render(scale=1, grayscale=True).to_numpy()
    assert len(pages) == 1
    assert _is_read(gray[:, gray.shape[1] // 2 :]) is (sewing["method"] == "turned edge")


def test_a_page_of_fabric_calls_its_piece_as_the_cutting_list_and_the_steps_do() -> None:
    """It was drawn over the whole width of the fabric and had no name."""
    pattern = _pattern("RO")
    (need,) = pattern.cloth
    plan = pattern.shopping.letters_of(need)
    assert plan is not None and plan.letters is not None
    (block,) = plan.letters.blocks
    name = f"{pattern.shopping.fabric_letters[need.fabric]} {letters_of(plan.diagrams)[block.key]}"
    sides = (block.block.width, block.block.length)
    size = [str(as_length(side, Units.INCHES)) for side in sorted(sides)]
    text = " ".join(_texts(nesting_pdf(pattern)))
    assert f"{name}: {' by '.join(size)}" in text
    assert f"{as_length(block.block.length, Units.INCHES)} along the selvage" in text
    assert f"Take {name} ({need.fabric}), which you cut for letters" in " ".join(_texts(pattern_pdf(pattern)))


def test_nests_say_what_letters_take_and_leave_buying_to_the_shopping_list() -> None:
    for method in ("raw edge", "turned edge"):
        text = " ".join(_texts(nesting_pdf(_pattern("RO", sewing={"method": method}))))
        assert "The letters take" in text
        assert ("lie on freezer paper and fabric" in text) is (method == "turned edge")
        assert "What to buy is in “What you need”" in text
        assert "Buy " not in text and "yd" not in text


def test_the_pictures_of_pages_say_page_number_and_letter_in_full() -> None:
    """The caption of a long name was cut short, and left which pages were meant unsaid."""
    lettering = {"font": "Rubik", "cap_height": "9in", "outline": "1/2in"}
    pattern = _pattern("WAM", lettering=lettering, panel={"width": "90in", "height": "60in"})
    text = _texts(templates_pdf(pattern, mirrored=True))[0].split("What's on each page", 1)[1]
    page = 2
    for one in pattern.sheets.in_order:
        assert isinstance(one, TiledTemplate)
        last = page + len(one.tiling.tiles) - 1
        name = pattern.template(one.template).name
        assert f"Pages {page} to {last}: {one.template} · {name}" in text
        page = last + 1
    assert "…" not in text


def test_the_map_of_the_pages_shows_the_letter_on_the_page_in_hand() -> None:
    pattern = _pattern("W", lettering={"font": "Rubik", "cap_height": "14in"})
    pdf = pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=False))
    first = pdf[1].render(scale=4, grayscale=True).to_numpy()
    header = first[: 4 * 60]
    tint, letter = ((header == round(255 * gray)).sum() for gray in (0.93, 0.78))
    assert tint > 100 and letter > 100


@pytest.mark.long
def test_findings_are_grouped_and_end_above_the_map_with_how_many_more_there_are() -> None:
    """47 findings ran off the paper on the one page that must be measured."""
    rows = [{"text": f"thin {letter}"} for letter in "abcdefghijkl"]
    pattern = _pattern(
        row=rows, lettering={"font": "Fraunces", "cap_height": "1in"}, sewing={"least_stroke": "1/2in"}
    )
    assert len(pattern.notices) > 20
    page = pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=True))[0]
    text = page.get_textpage()
    words = " ".join(text.get_text_range().split())
    kinds = {notice.kind for notice in pattern.notices}
    assert words.count("more like it") == sum(
        sum(notice.kind == kind for notice in pattern.notices) > 1 for kind in kinds
    )
    assert "11 more like it, listed in summary.md" in words
    found = text.search("What's on each page").get_next()
    assert found is not None
    assert text.get_charbox(found[0])[1] > 0.9 * 72


def test_a_list_of_findings_that_is_cut_says_how_many_more() -> None:
    rows = [{"text": f"thin {letter}"} for letter in "abcd"]
    pattern = _pattern(
        row=rows, lettering={"font": "Fraunces", "cap_height": "1in"}, sewing={"least_stroke": "1/2in"},
        paper={"margin": "1 3/4in"},
    )  # fmt: skip
    pdf = templates_pdf(pattern, mirrored=True)
    first = _texts(pdf)[0]
    (more,) = re.findall(r"(\d+) more to check, listed in summary.md", first)
    said = sum(first.count(f"{count} more like it") * count for count in range(1, 9))
    shown = len(re.findall(r"row 1: the|\[panel\]: ", first))
    assert int(more) + said + shown == len(pattern.notices)
    assert "What's on each page" in first
    assert not overlaps(pdf, pages=[0])


def _dashes(page: pypdfium2.PdfPage) -> set[tuple[float, ...]]:
    """The kinds of dashes that lines of a page are drawn with."""
    found = set()
    for one in page.get_objects():
        count = pdfium.FPDFPageObj_GetDashCount(one.raw)
        if count > 0:
            array = (c_float * count)()
            pdfium.FPDFPageObj_GetDashArray(one.raw, array, count)
            found.add(tuple(round(dash, 1) for dash in array))
    return found


def test_each_kind_of_dashes_is_in_the_key_and_none_else() -> None:
    """Seams, baselines and the line where web comes away were dashed alike."""
    large = {"font": "Rubik", "cap_height": "9in"}
    pattern = _pattern("W", lettering=large, fusible={"ring": "1/2in"})
    first, *others = pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=True))
    drawn = set().union(*map(_dashes, others))
    assert len(drawn) == 3
    assert _dashes(first) == drawn
    small = {"font": "Rubik", "cap_height": "8in"}
    key, page = pypdfium2.PdfDocument(templates_pdf(_pattern("I", lettering=small), mirrored=True))
    assert len(_dashes(key)) == 1
    assert _dashes(key) == _dashes(page)
    assert "leads from label to letter" not in key.get_textpage().get_text_bounded()
