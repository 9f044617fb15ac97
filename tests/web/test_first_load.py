"""What a browser fetches before the page can be used, and the faces that its words are shown in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from applique.web.lettering import LETTERING
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

MOST = 560_000
MOST_OF_FONTS = 80_000
"""Bytes; it was 1,137,000, of which 720,000 were two whole fonts."""


def shown_in(session: Any, selector: str) -> set[str]:
    """The families that the browser really drew the words of an element with, where they are the page's own."""
    document = session.send("DOM.getDocument")["root"]["nodeId"]
    node = session.send("DOM.querySelector", {"nodeId": document, "selector": selector})["nodeId"]
    fonts = session.send("CSS.getPlatformFontsForNode", {"nodeId": node})["fonts"]
    return {font["familyName"] if font["isCustomFont"] else "of the machine" for font in fonts}


def test_the_first_load_was_for_the_most_part_two_fonts(served: Served, browser: Any) -> None:
    """The whole fonts are fetched once a character needs them, each by itself, and show it in the same face."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    sizes: dict[str, int] = {}
    page.on("requestfinished", lambda one: sizes.update({one.url: one.sizes()["responseBodySize"]}))
    sheet = Sheet(page, served.address)
    page.wait_for_load_state("networkidle")

    def fonts() -> set[str]:
        page.evaluate("() => document.fonts.ready.then(() => undefined)")
        return {url.rsplit("/", 1)[1] for url in sizes if "/lettering/" in url}

    small = {f"{face.name}.woff2" for face in LETTERING}
    assert fonts() == small
    assert 0 < sum(size for url, size in sizes.items() if "/lettering/" in url) < MOST_OF_FONTS
    assert 0 < sum(sizes.values()) < MOST

    session = context.new_cdp_session(page)
    session.send("DOM.enable")
    session.send("CSS.enable")
    put = "(one, words) => { one.textContent = words; }"
    heading, button = page.locator("#words-head"), page.locator("#add-row")
    families = {selector: shown_in(session, selector) for selector in ("#words-head", "#add-row")}
    assert all(len(of) == 1 and "of the machine" not in of for of in families.values())
    button.evaluate(put, "漢")  # neither font has it, and so neither is fetched
    assert shown_in(session, "#add-row") == {"of the machine"}
    assert fonts() == small
    button.evaluate(put, "Добавить ряд")
    sheet.settled(fonts, {*small, "text.ttf"})
    sheet.settled(lambda: shown_in(session, "#add-row"), families["#add-row"])
    heading.evaluate(put, "Ǧ")
    sheet.settled(fonts, {*small, "text.ttf", "display.ttf"})
    sheet.settled(lambda: shown_in(session, "#words-head"), families["#words-head"])
    sheet.quiet()
    context.close()
