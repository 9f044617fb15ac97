"""Beside each finding a way to say that it is meant so, and why; and a way to take that back."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

THIN = """
panel = { width = "24in", height = "20in" }
lettering = { font = "Fredoka", cap_height = "1 1/4in" }
sewing = { method = "machine cut", least_clear = "0in" }
stitching = { stitch = "satin", width = "6mm" }
row = [{ text = "HI" }, { text = "TIL" }]
"""
WHY = "sewn three times by now"


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    opened = Sheet(context.new_page(), served.address)
    page = opened.page
    opened.words("OAR")
    page.get_by_text("The design as text").click()
    text = page.get_by_label("The design as TOML")
    opened.settled(lambda: "OAR" in text.input_value(), True)
    text.fill(THIN)
    page.get_by_role("button", name="Take this text").click()
    opened.drawn(2)
    page.locator("#findings .cure").first.wait_for()
    yield opened
    opened.quiet()
    context.close()


@pytest.mark.long
def test_a_finding_is_accepted_in_its_row_taken_back_and_undone(sheet: Sheet) -> None:
    page, accepted = sheet.page, sheet.page.locator("#accepted")
    page.get_by_role("button", name="Meant so: number 1").click()
    page.get_by_label("Why it is meant so").press("Enter")
    assert "accepted" not in sheet.design()
    page.get_by_label("Why it is meant so").fill(WHY)
    page.get_by_label("Why it is meant so").press("Enter")
    accepted.get_by_text("Meant so: 1").click()
    accepted.get_by_text("row 1: the thinnest stroke of “H” is 1/4 in").wait_for()
    assert accepted.get_by_text(f"meant so: {WHY}").count() == 1
    (entry,) = sheet.design()["accepted"]
    assert (entry["finding"], entry["words"], entry["why"]) == ("thin stroke", "HI", WHY)
    page.locator("#findings .what").get_by_text("Row 2: the thinnest stroke").wait_for()
    assert page.locator("#findings .finding").count() == 1
    accepted.get_by_role("button", name="Take back number 1").click()
    page.locator("#findings .what").get_by_text("Row 1: the thinnest stroke").wait_for()
    assert (accepted.inner_text(), "accepted" in sheet.design()) == ("", False)
    page.get_by_role("button", name="Undo").click()
    accepted.get_by_text("Meant so: 1").wait_for()


@pytest.mark.long
def test_all_places_of_a_kind_are_accepted_at_once_and_come_back_when_they_change(sheet: Sheet) -> None:
    page, accepted = sheet.page, sheet.page.locator("#accepted")
    page.get_by_role("button", name="Meant so: number 2").click()
    page.get_by_label("Why it is meant so").fill(WHY)
    page.get_by_label("In all 2 places of this kind").check()
    page.get_by_role("button", name="Accept it").click()
    page.get_by_text("No problems found.").wait_for()
    (entry,) = sheet.design()["accepted"]
    assert "words" not in entry
    accepted.get_by_text("Meant so: 1").click()
    page.get_by_label("Words of row 2").fill("TILE")
    page.locator("#findings .what").get_by_text("Row 2: the thinnest stroke").wait_for()
    assert page.locator("#findings .finding").count() == 1
    page.get_by_label("Words of row 1").fill("")
    page.get_by_label("Words of row 2").fill("OO")
    accepted.get_by_text("number 1, thin stroke: it is back").wait_for()


@pytest.mark.long
def test_a_reason_that_is_being_typed_stays_when_more_is_found(sheet: Sheet) -> None:
    """The list is drawn anew when numbers come: what was typed and the caret stay."""
    page, why = sheet.page, sheet.page.get_by_label("Why it is meant so")
    page.get_by_label("Words of row 2").fill("TILL")
    sheet.rested()
    page.locator("#findings .what").get_by_text("Row 2: the thinnest stroke").wait_for()
    page.get_by_role("button", name="Meant so: number 1").click()
    why.fill(WHY)
    page.get_by_text("Figured out.").wait_for()
    assert why.input_value() == WHY
    assert why.evaluate("(field) => field === document.activeElement")
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]}).response
    assert [one["id"] for one in found["violations"] if one["impact"] in ("serious", "critical")] == []
    why.press("Escape")
    assert why.count() == 0
