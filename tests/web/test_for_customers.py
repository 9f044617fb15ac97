"""The button for the customer's edition, and what it hands over."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.web.patience import SLOW
from tests.web.test_page import Sheet
from tests.web.test_server import events

if TYPE_CHECKING:
    from tests.web.conftest import Served

QUILT = """
title = "Low tide"
panel = { width = "12in", height = "12in" }
lettering = { cap_height = "4in" }
row = [{ text = "O" }]
"""


@pytest.mark.long
def test_the_zip_holds_the_edition_and_nothing_of_the_makers(served: Served) -> None:
    client = served.client()
    design = {"title": "Low tide", "panel": {"width": "12in", "height": "12in"}, "row": [{"text": "O"}]}
    done = dict(events(client, "/api/make-for-customers", design))["done"]
    assert done["name"] == "low-tide-for-customers"
    content = client.get(f"/api/made/{done['made']}/folder").content
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        names = [name.removeprefix("low-tide-for-customers/") for name in archive.namelist()]
    assert sorted(names) == sorted(file["name"] for file in done["files"])
    assert "low-tide-A4.pdf" in names
    assert not any(name.endswith((".toml", ".json", ".md", ".sha256")) for name in names)


def test_what_must_be_fixed_is_said_instead(served: Served) -> None:
    """A number that she states and that falls short goes to no customer."""
    design = {
        "panel": {"width": "12in", "height": "12in"},
        "row": [{"text": "O"}],
        "stated": [{"part": "binding", "strips": 1}],
    }
    kinds = dict(events(served.client(), "/api/make-for-customers", design))
    assert "done" not in kinds
    assert "binding" in str(kinds["refused"]["findings"][0]["what"])


@pytest.fixture
def sheet(served: Served, browser: Any, tmp_path: Path) -> Iterator[Sheet]:
    """The page with a small quilt opened."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    opened = Sheet(context.new_page(), served.address)
    (tmp_path / "quilt.toml").write_text(QUILT, encoding="utf-8")
    opened.page.locator("#open-file").set_input_files(tmp_path / "quilt.toml")
    opened.drawn(1)
    yield opened
    opened.quiet()
    context.close()


@pytest.mark.browser
@pytest.mark.long
def test_a_maker_makes_both_with_two_presses(sheet: Sheet) -> None:
    page = sheet.page
    page.get_by_role("button", name="Make the pattern").click()
    page.get_by_role("button", name="Make it for customers").click(timeout=SLOW)
    page.get_by_text("The pattern for customers is ready").first.wait_for(timeout=SLOW)
    with page.expect_download() as download:
        page.get_by_role("button", name="Download the folder").click()
    assert download.value.suggested_filename == "low-tide-for-customers.zip"
