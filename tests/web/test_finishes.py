"""Whatever is made around the words: the page draws it, and says what to buy for it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from applique.design import Finish
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser


def test_every_finish_is_drawn_and_its_shopping_said(served: Served, browser: Any) -> None:
    """A pillow has no edge of its own in the picture: the page fell over it and drew the quilt before."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    for finish in Finish:
        design = {
            "finish": finish.value,
            "row": [{"text": "I"}],
            "panel": {"width": "16in", "height": "18in"},
        }
        sheet = Sheet(page, served.keep(design))
        page.locator("#buy:not(.stale) .bill").wait_for(state="attached")
        assert page.locator("#findings .stops").count() == 0, finish
        assert page.locator("#art > [data-row='0']").count() or page.locator("#art path").count(), finish
        assert page.locator("#shade path").count() > 0, finish
        sheet.quiet()
    context.close()
