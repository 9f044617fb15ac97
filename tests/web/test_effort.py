"""How long to look for a shorter layout: chosen on the page, kept in the browser, and what the pattern is made with."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from applique.nesting import can_search
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

DESIGN: dict[str, Any] = {"lettering": {"cap_height": "2in"}, "row": [{"text": "LID"}]}


@pytest.mark.long
def test_a_pattern_is_made_with_the_effort_that_was_asked_for(served: Served) -> None:
    """Nests that were searched for lie in the folder; quick ones are our own placement, and nothing is kept of them."""
    client = served.client()
    names: dict[str, set[str]] = {}
    for effort in ("quick", "normal"):
        told = client.post("/api/make", params={"effort": effort}, json=DESIGN).text
        done = told.strip().rsplit("\n\n", 1)[-1].split("\ndata: ")
        assert done[0] == "event: done", told
        names[effort] = {file["name"] for file in json.loads(done[1])["files"]}
    assert names["normal"] - names["quick"] == ({"nests.json"} if can_search() else set())
    refused = client.post("/api/make", params={"effort": "forever"}, json=DESIGN)
    assert refused.status_code == 422
    assert [one["kind"] for one in refused.json()["problems"]] == ["no-such-effort"]


@pytest.mark.browser
def test_the_effort_is_chosen_on_the_page_and_kept_in_the_browser(served: Served, browser: Any) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    sheet = Sheet(context.new_page(), served.address)
    page = sheet.page
    sheet.words("LID")
    field = page.get_by_label("Find a setting")
    field.fill("shorter layout")
    field.press("Enter")
    assert page.evaluate("() => document.activeElement.dataset.focus") == "effort"
    with page.expect_request("**/api/numbers?effort=quick"):
        page.locator("[data-focus='effort']").select_option("quick")
    page.reload()
    page.locator("body.ready").wait_for()
    sheet.unfold("sheets")
    assert page.locator("[data-focus='effort']").input_value() == "quick"
    sheet.quiet()
    context.close()
