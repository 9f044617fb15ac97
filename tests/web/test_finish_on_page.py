"""What is made, chosen on the page: whatever it is, it is drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

DESIGN: dict[str, Any] = {
    "panel": {"width": "32in", "height": "16in"},
    "lettering": {"cap_height": "6in"},
    "row": [{"text": "I"}],
    "fabric": [{"name": "Sea", "color": "#203040"}],
}


def test_what_has_no_edge_of_its_own_is_drawn_too(served: Served, browser: Any) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    for finish in ("pillow", "banner", "garment", "letters only"):
        sheet = Sheet(context.new_page(), served.keep({**DESIGN, "finish": finish}))
        sheet.drawn(1)
        sheet.page.locator("#shade > path").first.wait_for(state="attached")
        assert sheet.page.locator("#art > .edge").count() == 0
        sheet.quiet()
        sheet.page.close()
    context.close()
