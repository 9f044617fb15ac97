"""That `tests/overlaps.py` finds what is planted, and finds nothing on the template sheets and the nests."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from typing import Any

import pytest
from reportlab.pdfgen.canvas import Canvas

from applique.design import design_from_mapping
from applique.for_customers import drafted_for_customers
from applique.instructions import Edition, instructions_of
from applique.pattern import draft
from applique.sheets import (
    label_pdf,
    nesting_pdf,
    pattern_pdf,
    placement_guide_pdf,
    templates_pdf,
    whole_pattern_pdf,
)
from tests.overlaps import overlaps


def _page(draw: Callable[[Canvas], None]) -> bytes:
    file = BytesIO()
    canvas = Canvas(file, pagesize=(300, 200))
    canvas.setFont("Helvetica", 10)
    canvas.drawString(50, 100, "seven letters")
    draw(canvas)
    canvas.save()
    return file.getvalue()


def _under_a_curve(canvas: Canvas) -> None:
    """The box of the curve's control points lies over the words, and so does the curve."""
    path = canvas.beginPath()
    path.moveTo(40, 60)
    path.curveTo(60, 150, 90, 150, 110, 60)
    canvas.drawPath(path, stroke=1, fill=0)


def _clipped(canvas: Canvas, *, left: float) -> None:
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(left, 0, 300, 200)
    canvas.clipPath(window, stroke=0, fill=0)
    canvas.line(10, 103, 290, 103)
    canvas.restoreState()


def _gray(canvas: Canvas, *, level: float) -> None:
    canvas.setFillGray(level)
    canvas.rect(40, 90, 100, 30, fill=1, stroke=0)


def _form(canvas: Canvas) -> None:
    canvas.beginForm("rule")
    canvas.line(10, 103, 290, 103)
    canvas.endForm()
    canvas.doForm("rule")


def _small(canvas: Canvas) -> None:
    canvas.setFont("Helvetica", 6)
    canvas.drawString(50, 20, "small")


def _patched(canvas: Canvas, width: float) -> None:
    """A line under a white patch under the words."""
    canvas.line(10, 103, 290, 103)
    canvas.setFillGray(1)
    canvas.rect(40, 95, width, 20, fill=1, stroke=0)
    canvas.setFillGray(0)


def _on_a_chip(canvas: Canvas) -> None:
    """White words on a dark ground."""
    canvas.rect(150, 10, 60, 20, fill=1, stroke=0)
    canvas.setFillGray(1)
    canvas.drawString(155, 15, "chip")
    canvas.setFillGray(0)


@pytest.mark.parametrize(
    ("plant", "what"),
    [
        (lambda canvas: canvas.drawString(80, 104, "over it"), "over “"),
        (lambda canvas: canvas.line(10, 103, 290, 103), "over a line"),
        (_under_a_curve, "over a line"),
        (lambda canvas: _clipped(canvas, left=60), "over a line"),
        (lambda canvas: _gray(canvas, level=0.2), "over a line"),
        (lambda canvas: _patched(canvas, width=60), "over a line"),
        (_form, "over a line"),
        (_small, "6.0 points"),
        (lambda canvas: canvas.drawString(280, 20, "leaves"), "off the page"),
    ],
)
def test_a_planted_overlap_is_found(plant: Callable[[Canvas], None], what: str) -> None:
    (fault,) = overlaps(_page(plant))
    assert fault.what.startswith(what)


@pytest.mark.parametrize(
    "draw",
    [
        lambda canvas: canvas.line(10, 96, 290, 96),
        lambda canvas: canvas.drawString(120, 100, "beside"),
        lambda canvas: canvas.rect(45, 92, 100, 20, fill=0, stroke=1),
        lambda canvas: _clipped(canvas, left=200),
        lambda canvas: _gray(canvas, level=0.9),
        lambda canvas: _patched(canvas, width=200),
        _on_a_chip,
    ],
)
def test_what_lies_clear_is_no_fault(draw: Callable[[Canvas], None]) -> None:
    assert not overlaps(_page(draw))


_DESIGNS: dict[str, dict[str, Any]] = {
    "look-alikes": {"row": [{"text": "Il1-—’"}, {"text": "bq69"}]},
    "turned": {
        "row": [{"text": "Oa"}],
        "lettering": {"cap_height": "9in", "font": "Fredoka"},
        "sewing": {"method": "turned edge"},
    },
    "ring": {
        "row": [{"text": "bI"}],
        "lettering": {"cap_height": "5in", "outline": "1/2in"},
        "fusible": {"ring": "3/8in"},
        "paper": {"full_size_nest": True},
    },
    "right to left": {"row": [{"text": "שלום"}], "units": "cm", "paper": {"size": "A4"}},
    "joined": {"row": [{"text": "سا"}], "lettering": {"cap_height": "11in", "font": "Cairo"}},
    "each": {"row": [{"text": "nu"}] * 2, "paper": {"copies": "each"}, "sewing": {"method": "machine cut"}},
    "many findings": {
        "row": [{"text": f"thin {c}"} for c in "abcdefghij"],
        "sewing": {"least_stroke": "1/2in"},
    },
}


@pytest.mark.parametrize("name", list(_DESIGNS))
def test_nothing_lies_over_anything_on_templates_and_nests(name: str) -> None:
    """Labels lay over lines and in strips to be trimmed, captions were of 6 points, findings ran over the rule."""
    data: dict[str, Any] = {
        "lettering": {"font": "Rubik", "cap_height": "2in"},
        "panel": {"width": "60in", "height": "60in"},
    }
    pattern = draft(design_from_mapping({**data, **_DESIGNS[name]}))
    files = [templates_pdf(pattern, mirrored=mirrored) for mirrored in (False, True)]
    for pdf in (*files, nesting_pdf(pattern)):
        assert not overlaps(pdf)


_WHOLE: dict[str, dict[str, Any]] = {
    "by hand, inches": {
        "row": [{"text": "Il1"}, {"text": "bq"}],
        "lettering": {"outline": "3/8in"},
        "fusible": {"ring": "3/8in"},
        "border": [
            {"kind": "strip", "width": "2in", "fabrics": ["Rust"]},
            {"kind": "squares", "size": "2in", "fabrics": ["Ink", "Rust"]},
        ],
        "quilting": [{"kind": "echo"}],
        "label": {"maker": "A. Maker"},
    },
    "by a machine, metric, large letters": {
        "units": "cm",
        "row": [{"text": "OW"}],
        "lettering": {"cap_height": "24cm"},
        "paper": {"size": "A4"},
        "sewing": {"method": "machine cut"},
        "cutting": {"mat_width": "30cm", "mat_height": "60cm"},
        "border": [{"kind": "rectangles", "width": "6cm", "size": "12cm", "fabrics": ["Ink", "Rust"]}],
    },
    "turned edges, mitered": {
        "row": [{"text": "Sea"}],
        "sewing": {"method": "turned edge", "freezer_paper": "wrong side, shiny side up"},
        "border": [{"kind": "strip", "width": "3in", "fabrics": ["Rust"], "corners": "mitered"}],
        "backing": {"kind": "wide"},
    },
    "right to left": {
        "language": "he",
        "row": [{"text": "שלום"}, {"text": "לים"}],
        "units": "cm",
        "publisher": {"name": "A. Maker", "edition": "2", "year": 2026, "contact": "a@b.example"},
    },
    "over a hundred letters": {
        "row": [{"text": "the quick brown fox jumps over it"}] * 4,
        "lettering": {"cap_height": "3/4in"},
        "sewing": {"method": "machine cut"},
    },
    "a stash, and a pieced back": {
        "row": [{"text": "HOME"}],
        "lettering": {"cap_height": "7in", "fabric": "Rust"},
        "panel": {"width": "50in", "height": "46in"},
        "fabric": [
            {"name": "Ink", "color": "#203040"},
            {"name": "Rust", "color": "#a05030", "have": ["2 fat quarters"]},
        ],
        "publisher": {"name": "The rowing club's sewing circle", "license": "Sew it, sell it."},
    },
}


@pytest.mark.long
@pytest.mark.parametrize("name", list(_WHOLE))
def test_nothing_lies_over_anything_on_any_sheet_of_either_edition(name: str) -> None:
    data: dict[str, Any] = {
        "lettering": {"font": "Rubik", "cap_height": "4in"},
        "panel": {"width": "40in", "height": "24in"},
        "fabric": [{"name": "Ink", "color": "#203040"}, {"name": "Rust", "color": "#a05030"}],
    }
    told = _WHOLE[name]
    lettering = {**data["lettering"], **told.get("lettering", {})}
    design = design_from_mapping({**data, **told, "lettering": lettering})
    pattern = draft(design)
    sheets = {
        "booklet": pattern_pdf(pattern, instructions_of(pattern)),
        "templates, mirrored": templates_pdf(pattern, mirrored=True),
        "templates, right-reading": templates_pdf(pattern, mirrored=False),
        "guide": placement_guide_pdf(pattern),
        "nests": nesting_pdf(pattern),
        "label": label_pdf(pattern),
    }
    for paper, sold in drafted_for_customers(design).items():
        sheets[f"customer's, {paper}"] = whole_pattern_pdf(
            sold, instructions_of(sold, edition=Edition.CUSTOMER)
        )
    assert {sheet: faults for sheet, pdf in sheets.items() if (faults := overlaps(pdf))} == {}
