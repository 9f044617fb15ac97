"""What went wrong when makers typed and moved things on the page, each as it happened, in a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    context = browser.new_context(viewport={"width": 1280, "height": 800}, accept_downloads=True)
    opened = Sheet(context.new_page(), served.address)
    yield opened
    opened.quiet()
    context.close()


def moved(sheet: Sheet) -> list[tuple[str, str | None]]:
    return [(row["text"], row.get("right")) for row in sheet.design()["row"]]


def test_a_move_landed_on_the_row_that_had_come_in_its_place(sheet: Sheet) -> None:
    """B is moved and A removed before the move is asked for, then before it is answered; B stays chosen, and a move
    of a row that is removed is let go."""
    page = sheet.page
    sheet.words("A", "B", "C", "D")
    page.get_by_label("To move").select_option("2")
    page.evaluate(
        """() => {
          const drawing = document.querySelector('#drawing');
          drawing.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', shiftKey: true, bubbles: true }));
          document.querySelector('[aria-label="Remove row 1"]').click();
        }"""
    )
    sheet.settled(lambda: moved(sheet), [("B", "1in"), ("C", None), ("D", None)])
    sheet.rested()
    assert page.get_by_label("To move").input_value() == "1"

    held: list[Any] = []
    page.route("**/api/move", lambda route: route.continue_() if held else held.append(route))
    page.get_by_label("To move").select_option("2")
    page.locator("#drawing").press("Shift+ArrowRight")
    sheet.settled(lambda: len(held), 1)
    page.get_by_role("button", name="Remove row 1").click()
    held[0].continue_()
    sheet.settled(lambda: moved(sheet), [("C", "1in"), ("D", None)])
    sheet.rested()

    page.evaluate(
        """() => {
          const drawing = document.querySelector('#drawing');
          drawing.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', shiftKey: true, bubbles: true }));
          document.querySelector('[aria-label="Remove row 1"]').click();
        }"""
    )
    sheet.rested()
    page.locator("#drawing").press("ArrowUp")
    sheet.settled(lambda: sheet.design()["row"], [{"text": "D", "up": "1/8in"}])
    page.locator("#drawing").press("Shift+ArrowUp")
    page.locator("#drawing").press("Control+z")
    page.locator("#drawing").press("ArrowUp")
    sheet.settled(lambda: sheet.design()["row"], [{"text": "D", "up": "1/4in"}])
