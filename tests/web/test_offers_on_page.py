"""Stitches to choose from are ticked on the page, and reach the design."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from applique.design import Stitch
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

QUILT = """
panel = { width = "20in", height = "20in" }
lettering = { cap_height = "4in" }
row = [{ text = "I" }]
stitching = { offers = ["blanket"] }
"""


@pytest.fixture
def sheet(served: Served, browser: Any, tmp_path: Path) -> Iterator[Sheet]:
    """The page with a small quilt opened that offers one stitch."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    opened = Sheet(context.new_page(), served.address)
    (tmp_path / "quilt.toml").write_text(QUILT, encoding="utf-8")
    opened.page.locator("#open-file").set_input_files(tmp_path / "quilt.toml")
    opened.drawn(1)
    yield opened
    opened.quiet()
    context.close()


def test_a_maker_ticks_the_stitches_that_she_offers(sheet: Sheet) -> None:
    page = sheet.page
    sheet.unfold("sewing")
    boxes = page.locator("[data-where='stitching.offers'] input")
    boxes.first.wait_for()
    assert [boxes.nth(index).is_checked() for index in range(boxes.count())] == [
        stitch is Stitch.BLANKET for stitch in Stitch
    ]
    page.get_by_role("group", name="Stitches to choose from").get_by_label("satin").check()
    assert sheet.design()["stitching"]["offers"] == ["blanket", "satin"]
    page.locator("[data-focus='stitching.offers-satin']").uncheck()
    page.locator("[data-focus='stitching.offers-blanket']").uncheck()
    assert "offers" not in sheet.design().get("stitching", {})
