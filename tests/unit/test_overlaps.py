"""That `tests/overlaps.py` finds what is planted, and finds nothing on the template sheets and the nests."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from typing import Any

import pytest
from reportlab.pdfgen.canvas import Canvas

from applique.design import design_from_mapping
from applique.pattern import draft
from applique.sheets import nesting_pdf, templates_pdf
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


@pytest.mark.parametrize(
    ("plant", "what"),
    [
        (lambda canvas: canvas.drawString(80, 104, "over it"), "over “"),
        (lambda canvas: canvas.line(10, 103, 290, 103), "over a line"),
        (_under_a_curve, "over a line"),
        (lambda canvas: _clipped(canvas, left=60), "over a line"),
        (lambda canvas: _gray(canvas, level=0.2), "over a line"),
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
