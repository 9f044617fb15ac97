"""A setting is found by a word for it, and its control has the keyboard then, wherever it was folded away."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser


@pytest.mark.long
def test_a_word_leads_to_the_control_of_a_setting(served: Served, browser: Any) -> None:
    """By its name, a choice of it, its table or the help beside it; to what adds a table where there is none."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    sheet = Sheet(context.new_page(), served.address)
    page = sheet.page
    sheet.words("OAR")
    field = page.get_by_label("Find a setting")

    def found(word: str) -> str:
        field.fill(word)
        field.press("Enter")
        assert field.input_value() == ""
        assert page.evaluate("() => document.activeElement.checkVisibility()")
        return str(page.evaluate("() => document.activeElement.dataset.focus"))

    assert page.locator("[data-focus='outline.miter_limit']").count() == 0
    assert found("miter") == "outline.miter_limit"
    assert found("squaring") == "yardage.squaring"
    assert found("SLEEVE hanging") == "hanging.sleeve"
    assert found("a4") == "paper.size"
    assert found("fussy selvage along") == "add-row.1.fussy"
    assert found("crosshatch") == "add-quilting"
    field.fill("baseline")
    names = page.locator(".found-settings button").all_inner_texts()
    assert any(name.startswith("Baselines in whole steps of") for name in names)
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    assert page.evaluate("() => document.activeElement.dataset.where").partition(" ")[0] == "row.1.baseline"
    field.fill("nonesuch")
    page.get_by_text("No setting by that word.").first.wait_for()
    assert page.locator(".found-settings button").count() == 0
    sheet.quiet()
    context.close()
