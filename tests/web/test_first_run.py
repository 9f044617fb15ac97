"""Somebody who has never seen the page: from its first address to a finished pattern, and the clicks it takes."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Running

pytestmark = pytest.mark.browser

MOST_CLICKS = 12


class Visitor:
    """Somebody who clicks: on a button, a link, a fold or a choice, each of which counts once."""

    def __init__(self, page: Any) -> None:
        self._page = page
        self.clicks = 0

    def click(self, role: str, name: str) -> None:
        self._page.get_by_role(role, name=name).first.click()
        self.clicks += 1

    def unfold(self, name: str) -> None:
        self._page.locator("summary").filter(has_text=name).first.click()
        self.clicks += 1

    def choose(self, label: str, choice: str) -> None:
        """A list is opened and something of it taken: two clicks."""
        self._page.get_by_label(label).first.select_option(label=choice)
        self.clicks += 2


def begin(visitor: Visitor) -> None:
    """A new quilt, empty."""
    visitor.click("link", "A new quilt")


def two_fabrics(visitor: Visitor) -> None:
    visitor.unfold("Size and fabrics")
    visitor.click("button", "Add a fabric")
    visitor.click("button", "Add a fabric")


def border_of_squares(visitor: Visitor) -> None:
    visitor.unfold("Borders and finishing")
    visitor.click("button", "Squares of 2 fabrics")


@pytest.mark.long
def test_a_first_run_to_a_pattern_takes_few_clicks(
    start_page: type[Running], tmp_path: Path, browser: Any
) -> None:
    """Four words, two fabrics and a border of squares in at most twelve clicks; what is typed does not count."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    with start_page(tmp_path) as served:
        sheet = Sheet(context.new_page(), served.start)
        page = sheet.page
        visitor = Visitor(page)
        begin(visitor)
        page.locator("body.ready [data-focus='text-0']:focus").wait_for()
        for number, word in enumerate(("ROW", "AND", "ROW", "HOME")):
            if number:
                page.keyboard.press("Enter")
                page.locator(f"[data-focus='text-{number}']:focus").wait_for()
            page.keyboard.type(word)
        two_fabrics(visitor)
        border_of_squares(visitor)
        visitor.click("button", "Make the pattern")
        page.locator("img.sheet[src^='blob']").first.wait_for()
        design = sheet.design()
        sheet.quiet()
    context.close()
    names = [fabric["name"] for fabric in design["fabric"]]
    assert [row["text"] for row in design["row"]] == ["ROW", "AND", "ROW", "HOME"]
    assert len(names) == 2
    assert [(border["kind"], border["fabrics"]) for border in design["border"]] == [("squares", names)]
    assert visitor.clicks <= MOST_CLICKS


MOST_PILLOW_CLICKS = 15


@pytest.mark.long
def test_a_pillow_comes_from_the_page_alone_in_few_clicks(
    start_page: type[Running], tmp_path: Path, browser: Any
) -> None:
    """What is made is a choice beside the size; its sheets speak of a pillow, and nothing of a quilt is bought."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    with start_page(tmp_path) as served:
        sheet = Sheet(context.new_page(), served.start)
        page = sheet.page
        visitor = Visitor(page)
        begin(visitor)
        page.locator("body.ready [data-focus='text-0']:focus").wait_for()
        page.keyboard.type("Nap")
        visitor.unfold("Size and fabrics")
        visitor.choose("What is made", "a pillow")
        for side in ("width", "height"):
            page.locator(f"[data-where='panel.{side}']").first.fill("16in")
            page.keyboard.press("Tab")
        visitor.click("button", "Add a fabric")
        visitor.click("button", "Add a fabric")
        sheet.settled(lambda: sheet.design().get("finish"), "pillow")
        sheet.rested()
        page.locator("#buy-open").click()
        page.locator("#buy:not(.stale) .bill").wait_for()
        bought = page.locator("#buy").inner_text()
        page.locator("#buy-open").click()
        high, wide = (page.locator("#shade path").first.bounding_box()[side] for side in ("height", "width"))
        visitor.click("button", "Make the pattern")
        page.locator("img.sheet[src^='blob']").first.wait_for()
        design = sheet.design()
        sheet.quiet()
    context.close()
    assert high == pytest.approx(wide)
    assert {key: design["panel"][key] for key in ("width", "height")} == {"width": "16in", "height": "16in"}
    assert "Back" in bought and not re.search("batting|binding|backing", bought, re.IGNORECASE)
    assert visitor.clicks <= MOST_PILLOW_CLICKS
