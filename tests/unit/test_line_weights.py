"""One system of line weights: what the finished booklet and page are drawn with, read back."""

from __future__ import annotations

import ctypes
from collections import Counter
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from applique.design import design_from_mapping
from applique.drawings import values
from applique.instructions import instructions_of
from applique.pattern import draft
from applique.sheets import pattern_pdf

NAMED = {ink.width for ink in (values.BOLD, values.CUT, values.FINE, values.HAIR, values.GONE)}
DESIGN: dict[str, Any] = {
    "row": [{"text": "Bo", "thread": "#803020"}],
    "panel": {"width": "30in", "height": "20in", "trim_after": "1in"},
    "lettering": {"cap_height": "9in", "fabric": "Ink"},
    "fabric": [{"name": "Ink", "color": "#1d3f58"}, {"name": "Fog", "color": "#e9e4d6"}],
    "border": [
        {"kind": "strip", "width": "2in", "fabrics": ["Ink"], "corners": "mitered"},
        {"kind": "squares", "size": "2in", "fabrics": ["Ink", "Fog"]},
    ],
    "stitching": {"stitch": "satin", "offers": ["satin", "blanket", "zigzag", "straight"]},
    "quilting": [{"kind": "crosshatch"}, {"kind": "echo", "offered": True}],
    "hanging": {"sleeve": True},
}


def test_there_are_four_weights() -> None:
    assert sorted(NAMED) == [0.3, 0.5, 1.0, 1.6]


@pytest.mark.long
@pytest.mark.parametrize("method", ["raw edge", "turned edge", "machine cut"])
def test_every_gray_line_of_the_booklet_is_of_a_named_weight(method: str) -> None:
    """Threads and seams of the quilt itself are as wide as they are, in colors of their own."""
    pattern = draft(design_from_mapping({**DESIGN, "sewing": {"method": method}}))
    found: Counter[float] = Counter()
    for page in pypdfium2.PdfDocument(pattern_pdf(pattern, instructions_of(pattern))):
        found += _weights(page)
    assert set(found) <= NAMED, found
    assert min(found[weight] for weight in NAMED) > 10


def _weights(page: Any) -> Counter[float]:
    """How many lines in a gray, black and white among them, are of each width in points."""
    found: Counter[float] = Counter()
    for drawn in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=5):
        mode, stroked = ctypes.c_int(), ctypes.c_int()
        pdfium.FPDFPath_GetDrawMode(drawn, mode, stroked)
        if not stroked.value:
            continue
        parts = [ctypes.c_uint() for _ in range(4)]
        pdfium.FPDFPageObj_GetStrokeColor(drawn, *parts)
        red, green, blue, alpha = (part.value for part in parts)
        if red == green == blue and alpha == 255:
            width = ctypes.c_float()
            pdfium.FPDFPageObj_GetStrokeWidth(drawn, width)
            found[round(width.value, 2)] += 1
    return found
