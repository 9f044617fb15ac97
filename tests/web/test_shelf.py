"""The shelf of fabrics, in a real browser: a swatch is tapped or dragged onto what it is for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest

from tests.web.test_beside import QUILT, letter
from tests.web.test_layout import LAPTOP, opened
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

SQUARES = {
    **QUILT,
    "fabric": [*QUILT["fabric"], {"name": "Rose", "color": "#b3475d"}],
    "border": [{"kind": "squares", "size": "3in", "fabrics": ["Deep", "Mist"]}],
}


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    with opened(served, browser, LAPTOP, SQUARES) as shown:
        yield shown


def test_a_swatch_is_tapped_then_what_it_is_for(sheet: Sheet) -> None:
    """A fabric that a border of squares has already changes places, or its squares could not alternate."""
    page = sheet.page
    rose = page.get_by_role("button", name="Take Rose")
    rose.click()
    assert rose.get_attribute("aria-pressed") == "true"
    page.locator(letter(2, 2)).click()
    sheet.settled(lambda: sheet.design()["row"][1].get("fabric"), "Rose")
    assert page.locator("#beside").is_hidden()
    rose.click()
    page.locator("#art .panel").click(position={"x": 8, "y": 8})
    sheet.settled(lambda: sheet.design()["panel"]["fabric"], "Rose")
    page.get_by_role("button", name="Take Deep").click()
    page.locator("#art .patch[data-fabric='Mist']").first.click()
    sheet.settled(lambda: sheet.design()["border"][0]["fabrics"], ["Mist", "Deep"])
    rose.click()
    page.keyboard.press("Escape")
    page.locator(letter(1, 1)).click()
    assert "fabric" not in sheet.design()["row"][0]


def test_a_swatch_is_dragged_onto_a_row(sheet: Sheet) -> None:
    sheet.page.get_by_role("button", name="Take Rose").drag_to(sheet.page.locator(letter(3, 2)))
    sheet.settled(lambda: sheet.design()["row"][2].get("fabric"), "Rose")


def test_with_the_keyboard_a_swatch_is_chosen_and_then_its_use(sheet: Sheet) -> None:
    page = sheet.page
    page.get_by_role("button", name="Take Rose").focus()
    page.keyboard.press("Enter")
    page.get_by_label("Use Rose for").select_option(label="Binding")
    sheet.settled(lambda: sheet.design().get("binding"), {"fabric": "Rose"})
    page.locator("#said").filter(has_text="Rose used for Binding").wait_for()
