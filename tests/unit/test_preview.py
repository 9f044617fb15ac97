"""The picture of the panel: true proportions and colors, the same on every machine."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from applique.design import design_from_mapping
from applique.pattern import draft
from applique.preview import preview_png, preview_svg

DATA = {
    "row": [{"text": "I", "cap_height": "10in"}],
    "panel": {"width": "20in", "height": "20in", "fabric": "Snow"},
    "lettering": {"font": "Montserrat", "fabric": "Ink"},
    "binding": {"fabric": "Rust"},
    "fabric": [
        {"name": "Ink", "color": "#102030"},
        {"name": "Snow", "color": "#f0e0d0"},
        {"name": "Rust", "color": "#a05030"},
    ],
}


def test_letters_and_panel_have_their_colors_and_proportions() -> None:
    pattern = draft(design_from_mapping(DATA))
    image = np.asarray(
        Image.open(BytesIO(preview_png(preview_svg(pattern), width_px=1000))).convert("RGB")
    ).astype(int)
    letter = (np.abs(image - (0x10, 0x20, 0x30)).sum(axis=2) < 8).sum()
    panel = (np.abs(image - (0xF0, 0xE0, 0xD0)).sum(axis=2) < 8).sum()
    assert letter / (letter + panel) == pytest.approx(pattern.templates[0].area / 400, rel=0.03)


def test_it_holds_no_text_that_a_machines_font_would_draw() -> None:
    svg = preview_svg(draft(design_from_mapping(DATA)))
    assert b"<text" not in svg
    assert svg == preview_svg(draft(design_from_mapping(DATA)))
    assert preview_png(svg, width_px=300) == preview_png(svg, width_px=300)
