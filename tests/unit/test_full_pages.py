"""How much of each page is left white at its foot, seen on the finished pages of six patterns of different kinds."""

from __future__ import annotations

from typing import Any

import numpy as np
import pypdfium2
import pytest

from applique.design import design_from_mapping
from applique.drawings import Shape
from applique.for_customers import customers_design
from applique.instructions import ChapterKind, Edition, instructions_of
from applique.pattern import Pattern, draft
from applique.sheets import pattern_pdf, whole_pattern_pdf
from applique.sheets.breaking import KEPT, Piece, fill_pages
from applique.sheets.frame import POINTS
from tests.chapters import chapter_of, drawings_of

FABRICS = [
    {"name": "Oat", "color": "#eeead8"},
    {"name": "Plum", "color": "#5a2350"},
    {"name": "Moss", "color": "#5d7a52"},
]
VERSES = """the boats come in at evening
with nets of silver light
and every lamp along the quay
is lit against the night
the gulls are quiet on the wall
the ropes are coiled and dry
the harbor keeps its sleepers all
beneath a quilted sky
so fold the day and put it by
and let the morning find
a door a kettle and a chair
and one who had a mind""".splitlines()
THIRD = 1 / 3
STRIP = {"kind": "strip", "width": "2in", "fabrics": ["Moss"]}
SQUARES = {"kind": "squares", "size": "2in", "fabrics": ["Plum", "Oat"]}
MITERED = {"kind": "strip", "width": "6cm", "fabrics": ["Moss"], "corners": "mitered"}
RECTANGLES = {"kind": "rectangles", "width": "5cm", "fabrics": ["Moss", "Plum"]}
METRIC = {"units": "cm", "paper": {"size": "A4"}}
SIX: dict[str, dict[str, Any]] = {
    "by hand": {
        "row": [{"text": "ROW"}, {"text": "HOME"}],
        "panel": {"width": "30in", "height": "24in"},
        "border": [STRIP, SQUARES],
        "hanging": {"sleeve": True},
        "quilting": [{"kind": "echo"}],
    },
    "by machine, 300 letters": {
        "row": [{"text": verse} for verse in VERSES],
        "lettering": {"font": "Rubik", "cap_height": "1 3/4in"},
        "panel": {"width": "46in", "height": "50in"},
        "sewing": {"method": "machine cut"},
        "stitching": {"stitch": "straight"},
    },
    "turned edges": {
        **METRIC,
        "row": [{"text": "BREAD"}, {"text": "SALT"}],
        "lettering": {"font": "Fredoka", "cap_height": "12cm"},
        "panel": {"width": "90cm", "height": "60cm"},
        "sewing": {"method": "turned edge"},
        "border": [MITERED],
        "quilting": [{"kind": "crosshatch"}],
    },
    "Hebrew": {
        **METRIC,
        "row": [{"text": "שלום"}, {"text": "בית"}],
        "lettering": {"font": "Rubik", "cap_height": "14cm"},
        "panel": {"width": "80cm", "height": "60cm"},
        "border": [RECTANGLES],
    },
    "long words": {
        "row": [{"text": "Grandmother's"}, {"text": "strawberry"}, {"text": "kitchen"}],
        "lettering": {"font": "Pacifico", "cap_height": "5in"},
        "panel": {"width": "60in", "height": "40in"},
        "stitching": {"offers": ["satin", "blanket"]},
        "hanging": {"sleeve": True},
    },
    "a wide panel": {
        **METRIC,
        "row": [{"text": "WELCOME IN"}],
        "lettering": {"font": "Montserrat", "cap_height": "16cm"},
        "panel": {"width": "180cm", "height": "35cm"},
        "border": [{**STRIP, "width": "4cm"}],
        "quilting": [{"kind": "edge to edge"}],
    },
}


def _pattern(kind: str) -> Pattern:
    data = {"lettering": {"cap_height": "4in"}, "fabric": FABRICS, **SIX[kind]}
    design = design_from_mapping(data)
    return draft(customers_design(design, design.paper.size))


def _whites(pattern: Pattern, pdf: bytes) -> list[tuple[str, float]]:
    """Each page in its words, with the share of its room that is white below its last ink; no page with rules to
    measure, which begins where its letters do."""
    frame = pattern.sheets.frame
    low, top = frame.margin * POINTS, (frame.drawing[3]) * POINTS - 6
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        words = page.get_textpage().get_text_range()
        gray = np.asarray(page.render(scale=1, grayscale=True).to_pil())
        height = gray.shape[0]
        inked = np.flatnonzero((gray[: round(height - low)] < 250).any(axis=1))
        if "Measure this rule" not in words:
            found.append((words, (height - low - inked[-1]) / (top - low)))
    return found


@pytest.mark.long
@pytest.mark.parametrize("kind", SIX)
def test_no_page_of_a_pattern_ends_a_third_white(kind: str) -> None:
    """Not in the customer's file, nor in the maker's booklet."""
    pattern = _pattern(kind)
    customers = whole_pattern_pdf(pattern, instructions_of(pattern, edition=Edition.CUSTOMER))
    pages = _whites(pattern, customers) + _whites(pattern, pattern_pdf(pattern))
    assert len(pages) > 30
    assert [(words[:120], share) for words, share in pages if share > THIRD] == []


def test_a_wide_quilt_stands_on_its_page_to_color_several_times_on_paper_alone() -> None:
    """Half of that page was white. The page for the tablet shows it once."""
    pattern = _pattern("a wide panel")
    chapter = chapter_of(pattern, ChapterKind.COLORING)
    (printed,) = drawings_of(chapter)
    book = instructions_of(pattern)
    (shown,) = (one for one in book.drawings() if one.said == printed.said)
    times = len(printed.marks) / len(shown.marks)
    assert times == 3
    assert printed.width >= 0.7 * shown.width
    boxes = [mark.outline.bounds() for mark in printed.marks if isinstance(mark, Shape)]
    first, last = boxes[: len(shown.marks)], boxes[-len(shown.marks) :]
    assert max(top for _, _, _, top in first) < min(low for _, low, _, _ in last)


def test_what_is_better_together_is_parted_rather_than_leave_a_third_white() -> None:
    """But not what makes no sense apart, nor for the last page."""

    def pages(price: float, *heights: float) -> list[tuple[int, int]]:
        pieces = [
            Piece(heights=(high,), price=price if index == 2 else 0.0) for index, high in enumerate(heights)
        ]
        return [(page.start, page.end) for page in fill_pages(pieces, 100, [0.0])]

    assert pages(0.8, 64, 30, 30, 30) == [(0, 2), (2, 4)]
    assert pages(0.8, 70, 25, 25, 25) == [(0, 1), (1, 4)]
    assert pages(KEPT, 64, 30, 30, 30) == [(0, 1), (1, 4)]
    assert pages(0.0, 64, 34, 36) == [(0, 2), (2, 3)]
