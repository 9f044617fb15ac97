"""The template files and the placement guide: pages, words, marks, the same bytes every time."""

from __future__ import annotations

import re
from collections.abc import Callable
from ctypes import c_float
from fractions import Fraction
from io import BytesIO
from itertools import pairwise
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from reportlab.pdfgen.canvas import Canvas
from shapely import affinity
from shapely.geometry import box

from applique.design import design_from_mapping
from applique.language import Listing, message
from applique.pattern import Pattern, draft
from applique.sheets import label_pdf, nesting_pdf, pattern_pdf, placement_guide_pdf, templates_pdf
from applique.sheets.frame import Sheet
from applique.sheets.lettering import Lettering
from applique.typeset.labels import label_typeface
from applique.typeset.shaping import shape_text
from applique.units import Units
from applique.words.guide import scale_said


def _pattern(*texts: str, **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "title": "Boats",
        "designer": "A. Maker",
        "row": [{"text": text} for text in texts],
        "lettering": {"font": "Rubik", "cap_height": "3in"},
        "panel": {"width": "60in", "height": "60in"},
    }
    return draft(design_from_mapping({**data, **tables}))


def _texts(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    return [page.get_textpage().get_text_bounded() for page in document]


@pytest.mark.parametrize("mirrored", [False, True])
def test_every_page_says_what_it_is(mirrored: bool) -> None:
    pattern = _pattern("ROW", "STEADY")
    texts = _texts(templates_pdf(pattern, mirrored=mirrored))
    assert len(texts) == pattern.sheets.page_count + 1
    for number, text in enumerate(texts, 1):
        assert "Boats" in text
        assert f"page {number} of {len(texts)}" in text
        assert "print at 100%" in text
        assert "Measure this rule before you cut: inch scale 6 in, millimeter scale 150 mm" in text
        assert ("Mirror image" if mirrored else "Right way round") in text
        assert ("fusible web" if mirrored else "right side of the fabric") in text


@pytest.mark.parametrize(
    ("write", "title", "told"),
    [
        (nesting_pdf, "How the letters lie on web and fabric", "Small pictures, no templates"),
        (label_pdf, "Label", "Trace the label onto fabric"),
        (placement_guide_pdf, "Placement guide", ""),
    ],
)
def test_pages_beside_the_booklet_have_a_title_as_large_as_its_chapters(
    write: Callable[[Pattern], bytes], title: str, told: str
) -> None:
    document = pypdfium2.PdfDocument(write(_pattern("ROW")))
    pages = document if write is nesting_pdf else [document[0]]
    for page in pages:
        text = page.get_textpage()
        words = text.get_text_range()
        sizes = {pdfium.FPDFText_GetFontSize(text.raw, found.start()) for found in re.finditer(title, words)}
        assert 15 in sizes
        assert told in words


def test_templates_say_their_letter_count_fabric_and_line_in_readable_words() -> None:
    pattern = _pattern("OTTO", fabric=[{"name": "Sea glass", "color": "#88aabb"}])
    for mirrored in (False, True):
        (page,) = _texts(templates_pdf(pattern, mirrored=mirrored))[1:]
        assert page.count("cut 2 · Sea glass") == 2
        assert "row 1" in page


def test_every_copy_has_its_own_template_for_printable_web() -> None:
    pattern = _pattern("OTTO", paper={"copies": "each"})
    words = "\n".join(_texts(templates_pdf(pattern, mirrored=True))[1:])
    assert words.count("row 1") == 4
    assert "cut 2" not in words


def test_titles_authors_languages_and_bookmarks_are_set() -> None:
    pattern = _pattern("ROW")
    pdf = templates_pdf(pattern, mirrored=True)
    document = pypdfium2.PdfDocument(pdf)
    assert document.get_metadata_value("Title") == "Boats: templates, mirror image"
    assert document.get_metadata_value("Author") == "A. Maker"
    assert document.get_metadata_value("Creator") == document.get_metadata_value("Producer") == ""
    assert b"/Lang (en-US)" in pdf
    assert len(list(document.get_toc())) == len(document)


@pytest.mark.parametrize(
    ("language", "tag", "notices"),
    [
        ("en", "en-US", 0),
        ("en-GB", "en-GB", 0),
        ("en-NZ", "en-US", 0),
        ("fr", "en-US", 1),
        ("ar-EG", "en-US", 1),
    ],
)
def test_sheets_are_tagged_with_the_language_that_they_speak(language: str, tag: str, notices: int) -> None:
    pattern = _pattern("ROW", language=language)
    assert pattern.speech.tag == tag
    assert f"/Lang ({tag})".encode() in label_pdf(pattern)
    told = [notice for notice in pattern.notices if notice.kind == "no-catalogue"]
    assert [str(notice.where) for notice in told] == ["language"] * notices
    assert all(f"“{language}”" in str(notice.what) for notice in told)


def _drawn_fonts(pdf: bytes) -> dict[str, bool]:
    """The fonts that text of the file is set in, and whether each is embedded, as PDFium reads them."""
    found: dict[str, bool] = {}
    for page in pypdfium2.PdfDocument(pdf):
        for text in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=5):
            font = pdfium.FPDFTextObj_GetFont(text)
            room = pdfium.FPDFFont_GetBaseFontName(font, None, 0)
            name = pdfium.create_string_buffer(room)
            pdfium.FPDFFont_GetBaseFontName(font, name, room)
            found[name.value.decode()] = bool(pdfium.FPDFFont_GetIsEmbedded(font))
    return found


@pytest.mark.long
def test_every_font_of_every_file_is_embedded_and_used() -> None:
    """Print shops refuse a file that names a font which is not in it, even one that nothing is set in."""
    pattern = _pattern(
        "RÓW", "שלום", "अ", paper={"full_size_guide": True}, lettering={"font": "Baloo 2", "cap_height": "3in"},
        row=[{"text": "RÓW"}, {"text": "שלום", "font": "Rubik"}, {"text": "अ"}],
    )  # fmt: skip
    files = [pattern_pdf(pattern), label_pdf(pattern), placement_guide_pdf(pattern), nesting_pdf(pattern)]
    files += [templates_pdf(pattern, mirrored=mirrored) for mirrored in (False, True)]
    for pdf in files:
        # The objects of our files are not packed, so every font that the file names can be found as text.
        named = {name.decode() for name in re.findall(rb"/BaseFont\s*/(?:[A-Z]{6}\+)?([^\s/<>]+)", pdf)}
        drawn = _drawn_fonts(pdf)
        assert named == set(drawn)
        assert all(drawn.values())
        assert len(named) > 1


@pytest.mark.parametrize(
    ("text", "font"), [("שלום", "Rubik"), ("Αγάπη", "Geologica"), ("Любовь", "Rubik"), ("Señor’s", "Rubik")]
)
def test_labels_spell_the_words_of_the_maker(text: str, font: str) -> None:
    """Found and copied as typed, whatever the script."""
    pattern = _pattern(text, title=text, lettering={"font": font, "cap_height": "3in"})
    first, *_ = _texts(templates_pdf(pattern, mirrored=True))
    assert text in first or text[::-1] in first


def test_joining_scripts_are_laid_out_and_kept_findable() -> None:
    pattern = _pattern("سلام", lettering={"font": "Cairo", "cap_height": "3in"})
    pages = _texts(templates_pdf(pattern, mirrored=False))
    assert any("cut 1" in page for page in pages[1:])


def test_a_title_with_odd_characters_and_great_length_stays_on_its_page() -> None:
    pattern = _pattern("A", title="“Zoë” <b>& (x) \\ " + "very long " * 17)
    assert "“Zoë” <b>& (x)" in _texts(templates_pdf(pattern, mirrored=False))[0]


def test_what_is_too_long_is_shortened_to_its_room() -> None:
    pattern = _pattern("A")
    sheet = Sheet(pattern, subject="", method="", page_count=1, texts=(), mirrored=False)
    for text in ("short", "a rather long line " * 9, "x" * 5000):
        shown = sheet.letters.shortened(text, 10, 200)
        assert sheet.letters.width(shown, 10) <= 200
        assert shown == text or (shown.endswith("…") and text.startswith(shown[:-1]))
        if shown != text:
            assert sheet.letters.width(text[: len(shown) + 2] + "…", 10) > 200


def test_notices_stand_on_the_first_page_of_both_files() -> None:
    pattern = _pattern("ROW", row=[{"text": "ROW", "nudge": [{"letter": 2, "right": "-1in"}]}])
    assert pattern.notices
    for pdf in (templates_pdf(pattern, mirrored=True), placement_guide_pdf(pattern)):
        assert "overlap" in _texts(pdf)[0]


def test_tiles_carry_their_names() -> None:
    pattern = _pattern("Q", lettering={"font": "Rubik", "cap_height": "16in"})
    words = _texts(templates_pdf(pattern, mirrored=False))
    for text, tile in zip(words[1:], pattern.sheets.tiled[0].tiling.tiles, strict=True):
        number = pattern.sheets.tiled[0].tiling.tiles.index(tile) + 1
        assert f"Q {tile.name}, page {number} of {len(words) - 1}" in text


def test_the_fabrics_of_a_large_letter_stay_clear_of_the_map_in_its_header() -> None:
    """All fabrics with their whole names stood in one line of the header, over the map and the title."""
    names = [f"Batik with small white stars on it, dyed in the year {year}" for year in (1998, 2004, 2011)]
    pattern = _pattern(
        row=[{"text": "Q", "fabric": name} for name in names],
        fabric=[{"name": name, "color": "#203040"} for name in names],
        lettering={"font": "Rubik", "cap_height": "14in"},
    )
    page = pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=False))[1]
    text = page.get_textpage()
    found = text.search("cut 1 · Batik").get_next()
    assert found is not None
    boxes = [text.get_charbox(index) for index in range(text.count_chars())]
    right = (8.5 - 0.375) * 72
    assert max(box[2] for box in boxes) <= right + 0.5
    note = text.search("Q A-1, page 1 of").get_next()
    assert note is not None
    assert boxes[note[0]][0] >= right - 190


def test_the_guide_says_where_every_letter_goes() -> None:
    pattern = _pattern("ROW", "STEADY")
    words = "\n".join(_texts(placement_guide_pdf(pattern)))
    assert "center line" in words
    for mark in pattern.marks:
        assert f"Row {mark.where.row} · {mark.text}" in words
    assert words.count("left edge") == 2


@pytest.mark.parametrize("letters", [1, 60, 400])
def test_the_table_has_a_line_for_every_letter(letters: int) -> None:
    rows = ["OI" * (min(letters, 40) // 2) or "O"] * max(1, letters // 40)
    pattern = _pattern(
        *rows, lettering={"font": "Rubik", "cap_height": "1in", "rows": "equal white", "row_gap": "0in"}
    )
    words = "\n".join(_texts(placement_guide_pdf(pattern)))
    assert len(re.findall(r"\d [LR]\s+[^RL]+\d [LR]|on center", words)) >= sum(map(len, rows))


def test_a_full_size_guide_has_a_page_for_each_tile() -> None:
    plain = _pattern("ROW", panel={"width": "20in", "height": "20in"})
    full = _pattern("ROW", panel={"width": "20in", "height": "20in"}, paper={"full_size_guide": True})
    pages = len(_texts(placement_guide_pdf(full))) - len(_texts(placement_guide_pdf(plain)))
    assert full.guide is not None
    assert pages == len(full.guide.tiles)


def _drawn_boxes(pdf: bytes, page: int) -> list[tuple[tuple[float, ...], float]]:
    """Each path of the page as PDFium reads it: its box in inches, and its line width in points."""
    found = []
    for path in pypdfium2.PdfDocument(pdf)[page].get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
        width = c_float()
        pdfium.FPDFPageObj_GetStrokeWidth(path, width)
        found.append((tuple(value / 72 for value in path.get_bounds()), width.value))
    return found


def test_the_full_size_guide_draws_the_outlines_before_and_below_their_letters() -> None:
    """Cloth of an outline hides the letter that it lies under on the page, so both edges must be there to place by."""
    pattern = _pattern(
        "A", panel={"width": "5in", "height": "5in", "margin": "1in"}, paper={"full_size_guide": True},
        lettering={"font": "Rubik", "cap_height": "2in", "outline": "1/2in"},
    )  # fmt: skip
    assert pattern.guide is not None
    pdf = placement_guide_pdf(pattern)
    boxes = _drawn_boxes(pdf, len(pypdfium2.PdfDocument(pdf)) - 1)
    (cut,), (piece,) = pattern.panel.rows[0].cuts, pattern.outlines
    size = {
        "outline": [piece.outline.bounds()[i + 2] - piece.outline.bounds()[i] for i in (0, 1)],
        "letter": [cut.ink[i + 2] - cut.ink[i] for i in (0, 1)],
    }
    found = {
        name: [
            (index, width)
            for index, ((x0, y0, x1, y1), width) in enumerate(boxes)
            if [x1 - x0 - width / 72, y1 - y0 - width / 72] == pytest.approx(wanted, abs=0.03)
        ]
        for name, wanted in size.items()
    }
    (outline,), (letter,) = found["outline"], found["letter"]
    assert outline < letter
    assert outline[1] > letter[1]
    words = _texts(pdf)
    assert "Thin: the letter on it" in words[-1]
    assert "put each letter on its outline first" in words[0]
    plain = _texts(placement_guide_pdf(_pattern("A", paper={"full_size_guide": True})))
    assert not any("outline" in page for page in plain)


def test_the_full_size_guide_has_every_page_that_an_outline_reaches() -> None:
    only_outline = 0
    for right in ("-1in", "0in", "1in", "2in"):
        pattern = _pattern(
            "I", panel={"width": "40in", "height": "40in"}, paper={"full_size_guide": True},
            row=[{"text": "I", "right": right}], lettering={"font": "Rubik", "cap_height": "3in", "outline": "1in"},
        )  # fmt: skip
        assert pattern.guide is not None
        tiling, (piece,), (cut,) = pattern.guide, pattern.outlines, pattern.panel.rows[0].cuts
        width, height = pattern.sheets.frame.room
        printed = {(tile.row, tile.column) for tile in tiling.tiles}
        overlap = float(pattern.design.paper.overlap)
        for row in range(tiling.rows):
            for column in range(tiling.columns):
                left = tiling.area[0] + column * (width - overlap)
                low = tiling.area[3] - row * (height - overlap) - height
                window = box(left, low, left + width, low + height)
                if window.intersects(affinity.translate(piece.shape, piece.place.x, piece.place.y)):
                    assert (row, column) in printed
                    only_outline += not window.intersects(
                        affinity.translate(cut.shape, cut.place.x, cut.place.y)
                    )
    assert only_outline


def test_pages_of_a_full_size_drawing_carry_only_what_they_show() -> None:
    """Each page of a poem's guide carried the whole poem, unseen: 72 MB."""
    pattern = _pattern(
        "AX AX AX", panel={"width": "40in", "height": "20in"}, paper={"full_size_guide": True, "full_size_nest": True},
        lettering={"font": "Rubik", "cap_height": "4in", "outline": "1/4in"},
        quilting=[{"kind": "echo", "spacing": "1/2in"}],
    )  # fmt: skip
    assert pattern.guide is not None and pattern.trace is not None
    for pdf, tiles in (
        (placement_guide_pdf(pattern), len(pattern.guide.tiles)),
        (nesting_pdf(pattern), len(pattern.trace.tiles)),
    ):
        pages = len(pypdfium2.PdfDocument(pdf))
        assert tiles > 2
        for page in range(pages - tiles, pages):
            boxes = [
                box
                for box, width in _drawn_boxes(pdf, page)
                if min(box[2] - box[0], box[3] - box[1]) > width / 30
            ]
            assert boxes  # the shapes; a straight line crosses the whole panel on every page
            assert all(x1 > 0 and y1 > 0 and x0 < 8.5 and y0 < 11 for x0, y0, x1, y1 in boxes)


def test_trace_sheets_tell_an_outline_from_its_letter() -> None:
    """Both were called by the letter alone."""
    pattern = _pattern(
        "AX",
        lettering={"font": "Rubik", "cap_height": "3in", "outline": "1/4in"},
        paper={"full_size_nest": True},
    )
    assert pattern.trace is not None
    pages = _texts(nesting_pdf(pattern))
    traced = "".join(pages[-len(pattern.trace.tiles) :])
    assert traced.count("outline") >= 2
    assert len(re.findall(r"\boutline\b", pages[0])) == 2
    assert "letters and outlines" in pages[0]
    assert "outline" not in "".join(_texts(nesting_pdf(_pattern("AX"))))


def test_pages_of_a_large_outline_are_not_called_by_its_letter_alone() -> None:
    pattern = _pattern("I", lettering={"font": "Rubik", "cap_height": "16in", "outline": "1/2in"})
    words = _texts(templates_pdf(pattern, mirrored=True))
    assert sum("I outline A-1, page 1 of" in page for page in words[1:]) == 1
    tiles = [tile.name for tile in pattern.sheets.tiled[1].tiling.tiles]
    for name in tiles:
        # In the head of its page, and on its label.
        found = [len(re.findall(rf"2 · I\s+outline {name}\b", page)) for page in words[1:]]
        assert sorted(found)[-2:] == [0, 2]


def test_the_same_pattern_gives_the_same_bytes() -> None:
    first, second = _pattern("ROW", "שלום"), _pattern("ROW", "שלום")
    assert templates_pdf(first, mirrored=True) == templates_pdf(second, mirrored=True)
    assert placement_guide_pdf(first) == placement_guide_pdf(second)


def test_signs_that_nobody_announced_are_drawn_all_the_same() -> None:
    """A sign that is not in the embedded subset of the font would come out as an empty box."""

    def ink(text: str) -> int:
        page = BytesIO()
        canvas = Canvas(page, pagesize=(200, 40), pageCompression=0)
        Lettering(canvas, (), own_fonts=()).draw(text, 10, 10, 20)
        canvas.save()
        bitmap = pypdfium2.PdfDocument(page.getvalue())[0].render(scale=2).to_numpy()
        return int((bitmap < 128).any(axis=2).sum())

    assert ink("÷") > 20
    assert ink("Æ") > ink("E") > 50


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("size", [7.0, 9.5])
def test_a_mixed_number_stands_close_and_is_copied_as_it_is(size: float, bold: bool) -> None:
    """In the font's own space 1 1/2 reads as eleven halves, and in a wider one as two numbers: the figures of its
    fraction are small and raised, what is drawn is as wide as what is measured, and its own words are copied."""
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=(300, 100), pageCompression=0)
    letters = Lettering(canvas, (), own_fonts=())
    text = "cut 1 1/2 yd, 12 squares, 3/16 in, 24/7, 1/2/2026"
    letters.draw(text, 10, 40, size, bold=bold)
    wide = letters.width(text, size, bold=bold)
    canvas.save()
    document = pypdfium2.PdfDocument(stream.getvalue())
    page = document[0].get_textpage()
    boxes = [page.get_charbox(index, loose=True) for index in range(page.count_chars())]
    words = page.get_text_range()
    whole, half, yards = words.index("1"), words.index("1/2"), words.index("yd")
    assert words == text
    assert boxes[half][0] - boxes[whole][2] < 0.3 * size
    assert boxes[-1][2] == pytest.approx(10 + wide, abs=0.2)
    drawn = document[0].render(scale=20).to_numpy().min(axis=2) < 128

    def ink(left: float, right: float, low: float, top: float) -> bool:
        rows = slice(int(20 * (60 - top)), int(20 * (60 - low)))
        return bool(drawn[rows, int(20 * left) : int(20 * right)].any())

    start, end = boxes[whole][2] + 0.22 * size, boxes[yards][0] - 0.25 * size
    assert not ink(start, start + 0.25 * size, -0.01 * size, 0.06 * size)  # the upper figure is raised
    assert ink(start, start + 0.4 * size, 0.4 * size, 0.6 * size)  # its stem stands on its right
    assert not ink(end - 0.25 * size, end, 0.6 * size, 0.8 * size)  # and the lower one is not
    assert ink(end - 0.25 * size, end, 0.1 * size, 0.3 * size)


def test_a_fraction_stands_off_its_whole_number_and_further_off_a_one() -> None:
    """“1 1/8 yd” read as eleven eighths: a slim 1 before the small one above the line seemed to be one number."""
    size, scale = 8.0, 20
    texts = ["3 1/8", "20 15/16", "1 1/8", "21 1/4", "11 15/16"]
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=(300, 100), pageCompression=0)
    for count, text in enumerate(texts):
        for bold in (False, True):
            Lettering(canvas, (), own_fonts=()).draw(text, 10 + 60 * bold, 10 + 16 * count, size, bold=bold)
    canvas.save()
    page = pypdfium2.PdfDocument(stream.getvalue())[0]
    drawn = page.render(scale=scale).to_numpy().min(axis=2) < 128
    for count, text in enumerate(texts):
        for left in (10, 70):
            y = 100 - 10 - 16 * count
            inked = drawn[scale * (y - 8) : scale * (y + 2), scale * left : scale * (left + 50)].any(axis=0)
            at = inked.nonzero()[0]
            gaps = [(after - before) / scale / size for before, after in pairwise(at) if after - before > 1]
            figures = text.index(" ")  # gaps between the figures of the whole number come first
            assert max(gaps) == gaps[figures - 1]
            assert gaps[figures - 1] > (0.36 if text[figures - 1] == "1" else 0.2)
    words = page.get_textpage().get_text_range().split("\r\n")
    assert sorted(words) == sorted(f"{text} {text}" for text in texts)


def test_a_short_binding_says_why_with_its_division_sign() -> None:
    design = design_from_mapping({"row": [{"text": "on"}], "panel": {"width": "44in", "height": "30in"}})
    pdf = pypdfium2.PdfDocument(pattern_pdf(draft(design)))
    words = "".join(page.get_textpage().get_text_range() for page in pdf)
    assert "÷ 40 in" in words


@pytest.mark.parametrize(
    ("fusible", "units", "said"),
    [
        ({"rough_cut": "1/8in"}, "in", "roughly, no more than about 1/8 in outside the line"),
        ({}, "cm", "roughly, no more than about 0.6 cm outside the line"),
        ({"rough_cut": "0in"}, "in", "cut the traced letters out on the line"),
    ],
)
def test_the_rough_cut_of_the_sheets_is_the_one_the_web_is_nested_for(
    fusible: dict[str, str], units: str, said: str
) -> None:
    """Templates and booklet always said 1/4 in."""
    pattern = _pattern("I", fusible=fusible, units=units)
    for pdf in (templates_pdf(pattern, mirrored=True), pattern_pdf(pattern)):
        words = " ".join(" ".join(_texts(pdf)).lower().split())
        assert said.removeprefix("cut the traced letters ") in words


def test_titles_in_hebrew_are_bold_where_others_are() -> None:
    """Outlined text was set in one weight: the title of a Hebrew pattern was lighter than the page numbers."""
    pattern = _pattern("שלום", title="שלום", lettering={"font": "Rubik", "cap_height": "3in"})
    page = pypdfium2.PdfDocument(pattern_pdf(pattern))[0]
    sheet = Sheet(pattern, subject="", method="", page_count=1, texts=("שלום",), mirrored=False)
    bold = [sheet.letters.width("שלום", 26.0, bold=way) for way in (False, True)]
    assert bold[1] > 1.02 * bold[0]
    titles = [one for one in _boxes(page) if one[3] - one[1] > 12 and one[1] > 650 and one[2] - one[0] < 100]
    assert max(x1 - x0 for x0, _, x1, _ in titles) == pytest.approx(bold[1], rel=0.06)


def _boxes(page: Any) -> list[tuple[float, float, float, float]]:
    return [one.get_bounds() for one in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=5)]


def test_a_number_after_hebrew_words_stays_behind_them() -> None:
    """“8 ם × 2” was printed as “2 × ם 8” reads, and “5 × 6.4 cm” as 6.4 × 5."""
    pattern = _pattern("שלום", lettering={"font": "Rubik", "cap_height": "3in"})
    sheet = Sheet(pattern, subject="", method="", page_count=1, texts=(), mirrored=False)
    text = sheet.tell(message("{number} · {letter} × {count}", number=8, letter="ם", count=2))
    order = [
        one.text for one in shape_text(text, label_typeface("Rubik"), rightward=True) if one.text.strip()
    ]
    assert order == ["8", "·", "ם", "×", "2"]
    listed = sheet.speech.listing(Listing(items=("ל", "ם")))
    order = [one.text for one in shape_text(listed, label_typeface("Rubik"), rightward=True)]
    assert order.index("ל") < order.index("ם")
    assert sheet.tell(message("{number} · {letter} × {count}", number=8, letter="B", count=2)) == "8 · B × 2"


def test_the_scale_of_the_guide_is_a_fraction_among_fractions() -> None:
    """“1 in of paper is 12.25 in of fabric” stood beside a panel 44 1/2 in wide."""
    pattern = _pattern("Go")
    said = {units: scale_said(Fraction(49, 4), pattern.panel, units) for units in Units}
    told = {units: pattern.speech.tell(one) for units, one in said.items()}
    assert "1 in of paper is 12 1/4 in of fabric" in told[Units.INCHES]
    assert "1 cm of paper is 12.25 cm of fabric" in told[Units.CENTIMETERS]


def test_nests_of_different_widths_share_a_page() -> None:
    """A page each left half of the second one white."""
    pattern = _pattern("hello", lettering={"font": "Rubik", "cap_height": "8in"})
    document = pypdfium2.PdfDocument(nesting_pdf(pattern))
    assert len(document) == 1
    page = document[0]
    width, height = page.get_size()
    frames = []
    for one in page.get_objects():
        if one.type == pdfium.FPDF_PAGEOBJ_PATH:
            left, low, right, top = one.get_bounds()
            if right - left > 60 and top - low > height / 3:
                frames.append(box(left, low, right, top))
    first, second = frames
    assert first.bounds[2] < second.bounds[0] < second.bounds[2] < width
    assert first.bounds[2] - first.bounds[0] > 1.5 * (second.bounds[2] - second.bounds[0])


def test_a_nest_of_joined_letters_takes_no_page_of_its_own() -> None:
    """All letters joined from widths of web left a page with three lines and no picture."""
    fabrics = [
        {"name": "Ink", "color": "#203040", "usable_width": "60in"},
        {"name": "Oat", "color": "#e8dfc8"},
    ]
    pattern = _pattern(
        "O",
        lettering={"font": "Rubik", "cap_height": "26in", "fabric": "Ink"},
        panel={"width": "44in", "height": "40in", "fabric": "Oat"},
        fabric=fabrics,
    )
    assert pattern.fusible.nest is None and pattern.fusible.joined
    assert [need.nest is not None for need in pattern.cloth] == [True]
    (page,) = pypdfium2.PdfDocument(nesting_pdf(pattern))
    text = page.get_textpage().get_text_range()
    assert text.index("Fusible web") < text.index("side by side") < text.index("\nInk")
    drawn = [one.get_bounds() for one in page.get_objects() if one.type == pdfium.FPDF_PAGEOBJ_PATH]
    assert max(top - low for _, low, _, top in drawn) > page.get_size()[1] / 3
