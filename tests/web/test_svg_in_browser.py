"""A cut file in a real browser measures what it says: 1 in is 96 CSS px (SVG 2, Units)."""

from __future__ import annotations

from typing import Any

import pytest

from applique.cutfiles import cut_files
from applique.design import design_from_mapping
from applique.pattern import draft
from tests.web.patience import SLOW

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("units", ["in", "cm"])
def test_chromium_measures_the_letter_at_true_size(browser: Any, units: str) -> None:
    data: dict[str, Any] = {"units": units, "row": [{"text": "R8"}], "lettering": {"cap_height": "3in"}}
    pattern = draft(design_from_mapping(data))
    files = cut_files(pattern)
    page = browser.new_page()
    page.set_default_timeout(SLOW)
    for template in pattern.templates:
        name = next(n for n in files if n.startswith(f"right-reading/letters/{template.number:02d}-"))
        page.set_content(files[name].decode("utf-8"))
        box = page.eval_on_selector(
            "#cut path", "path => JSON.parse(JSON.stringify(path.getBoundingClientRect()))"
        )
        x0, y0, x1, y1 = template.ink
        assert box["width"] == pytest.approx((x1 - x0) * 96, abs=0.5)
        assert box["height"] == pytest.approx((y1 - y0) * 96, abs=0.5)
    page.close()
