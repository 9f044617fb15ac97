"""Words typed on the quilt itself, in a real browser."""

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


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    with opened(served, browser, LAPTOP, QUILT) as shown:
        yield shown


def texts(sheet: Sheet) -> list[str]:
    return [row["text"] for row in sheet.design()["row"]]


@pytest.mark.long
def test_a_double_click_opens_a_field_over_its_row_and_escape_puts_the_words_back(sheet: Sheet) -> None:
    page = sheet.page
    row = page.locator(letter(2, 2))
    before = row.bounding_box()
    row.dblclick()
    field = page.get_by_label("Words of row 2, on the quilt")
    assert field.input_value() == "LOCK"
    box = field.bounding_box()
    assert box["x"] < before["x"]
    assert before["x"] + before["width"] < box["x"] + box["width"]
    assert abs(box["y"] + box["height"] / 2 - before["y"] - before["height"] / 2) < 6
    page.keyboard.type("ROPE")
    page.locator("#drawing[aria-label*='ROPE']").wait_for()
    assert page.get_by_label("Words of row 2", exact=True).input_value() == "ROPE"
    page.keyboard.press("Escape")
    sheet.settled(lambda: texts(sheet), ["OAR", "LOCK", "SEA"])
    assert field.is_hidden()
    assert page.evaluate("() => document.activeElement.id") == "drawing"


@pytest.mark.long
def test_enter_on_a_chosen_row_opens_the_field_and_enter_ends_it(sheet: Sheet) -> None:
    page = sheet.page
    page.get_by_label("To move").select_option("3")
    page.locator("#drawing").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("TIDE")
    page.keyboard.press("Enter")
    assert page.get_by_label("Words of row 3, on the quilt").is_hidden()
    assert texts(sheet) == ["OAR", "LOCK", "TIDE"]
    page.keyboard.press("Control+z")
    sheet.settled(lambda: texts(sheet), ["OAR", "LOCK", "SEA"])


@pytest.mark.long
def test_lines_pasted_over_a_row_are_rows(sheet: Sheet) -> None:
    page = sheet.page
    page.locator(letter(1, 1)).dblclick()
    field = page.get_by_label("Words of row 1, on the quilt")
    field.evaluate(
        """input => { const clipboardData = new DataTransfer(); clipboardData.setData('text', 'WIND\\nAND\\nTIDE');
        input.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true })); }"""
    )
    sheet.settled(lambda: texts(sheet), ["WIND", "AND", "TIDE", "LOCK", "SEA"])
    assert field.is_hidden()


@pytest.mark.long
def test_the_field_over_a_row_that_runs_down_lies_across_and_shows_all_its_words(
    served: Served, browser: Any
) -> None:
    written: Any = QUILT["row"]
    rows = [{**row, "direction": "down"} if row["text"] == "LOCK" else row for row in written]
    with opened(served, browser, LAPTOP, {**QUILT, "row": rows}) as sheet:
        page = sheet.page
        page.locator(letter(2, 2)).dblclick()
        field = page.get_by_label("Words of row 2, on the quilt")
        box = field.bounding_box()
        assert box["width"] > 2 * box["height"]
        assert field.evaluate("one => one.scrollWidth <= one.clientWidth")
        page.keyboard.type("ROPE")
        page.locator("#drawing[aria-label*='ROPE']").wait_for()
        page.keyboard.press("Escape")
        sheet.settled(lambda: texts(sheet), ["OAR", "LOCK", "SEA"])
