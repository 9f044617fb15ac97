"""The page in a language that nobody speaks: its texts all come from the catalogue, and there is room for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from applique.language import Message
from applique.words.page import PAGE, page_texts
from tests.made_up import in_made_up, made_up, plain_words

if TYPE_CHECKING:
    from tests.web.conftest import Running, Served

SERVER = str(Path(__file__).with_name("made_up_server.py"))
SLOW = 240_000
OWN_WORDS = frozenset(
    ["ROW", "STEADY", "HOME", "Deep", "water", "Oar", "red", "Mist", "Fredoka", "Montserrat"]
)
"""What of the page's own parts is the maker's, or is said alike in every language."""
TOO_WIDE = """() => {
  const wide = [], page = document.documentElement, pencil = document.createElement("canvas").getContext("2d");
  if (page.scrollWidth > page.clientWidth) wide.push(`the page: ${page.scrollWidth} in ${page.clientWidth}`);
  for (const one of document.querySelectorAll("button, summary, legend, label, h2, h3, p, small, li, select, input")) {
    if (!one.offsetParent || one.closest(".hidden, [aria-hidden]")) continue;
    const style = getComputedStyle(one), end = (element) => element.getBoundingClientRect().right;
    const holder = one.parentElement.closest("fieldset, li, section, dialog, header");
    if (end(one) > end(holder) + 1) wide.push(`out of its place: ${one.textContent}`);
    if (one.matches("select, input")) {
      const text = one.matches("select") ? one.selectedOptions[0]?.textContent : one.placeholder;
      pencil.font = style.font;
      const [needed, arrow] = [pencil.measureText(text ?? "").width, one.matches("select") ? 16 : 0];
      const room = one.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - arrow;
      if (needed > room + 1) wide.push(`${text}: ${Math.round(needed)} in ${Math.round(room)}`);
    } else if (one.scrollWidth > one.clientWidth + 2 && style.display !== "inline") wide.push(one.textContent);
  }
  return wide;
}"""
"""What is cut off, or makes the page scroll sideways."""
SHOWN = """() => [...document.querySelectorAll(`
    .top button, .column h2, #words :is(button, span, summary), #buy > .note, .tools :is(span, button),
    #settings :is(summary, span, small, h3, legend, option, button, .note), #mover :is(label, p, button),
    dialog[open] :is(h2, button, label, option, footer p)`)]
  .filter((one) => !one.children.length && !one.closest("[aria-hidden], .sample, .font-words"))
  .flatMap((one) => [one.textContent, one.closest(".font") ? "" : one.getAttribute("aria-label") ?? ""])"""
"""The texts of the page's own parts; what the program finds and counts is said elsewhere."""


def _texts(texts: Mapping[str, Any]) -> Iterator[str]:
    for text in texts.values():
        yield from [text] if isinstance(text, str) else _texts(text)


def test_every_text_of_the_page_comes_from_the_catalogue() -> None:
    said = list(_texts(page_texts(made_up())))
    assert len(said) > 300
    assert [plain_words(text) for text in said if plain_words(text)] == []
    skip = PAGE["skip"]
    assert isinstance(skip, Message)
    assert page_texts(made_up())["skip"] == in_made_up(skip.template) != skip.template


@pytest.fixture(scope="module")
def made_up_page(start_page: type[Running], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with start_page(tmp_path_factory.mktemp("cache"), program=(SERVER,)) as page:
        yield page


@pytest.mark.browser
@pytest.mark.long
@pytest.mark.parametrize(("width", "height"), [(1280, 800), (390, 844)])
def test_a_third_more_letters_still_fit(made_up_page: Served, browser: Any, width: int, height: int) -> None:
    """The laptop and the phone that people have; a third longer is what translators plan for (common practice)."""
    context = browser.new_context(viewport={"width": width, "height": height})
    page = context.new_page()
    page.set_default_timeout(SLOW)
    found: dict[str, list[str]] = {}

    def check(what: str) -> None:
        plain = {word for text in page.evaluate(SHOWN) for word in plain_words(text)} - OWN_WORDS
        found[what] = [*page.evaluate(TOO_WIDE), *sorted(plain)]

    page.goto(made_up_page.address)
    page.locator("body.ready").wait_for()
    check("empty")
    page.locator("#example").click()
    page.locator("#art .row[data-row='3']").wait_for(state="attached")
    for fold in page.locator("#settings > details > summary").all():
        fold.click()
    page.locator(".look summary").first.click()
    page.locator("#buy:not(.stale) .bill").wait_for()
    check("drawn")
    page.locator("#save").click()
    check("save")
    page.locator("#save-dialog button.plain").click()
    page.locator("[data-focus='font-all']").click()
    page.locator(".font >> nth=13").wait_for(state="attached")
    check("fonts")
    page.locator("#font-dialog header button").click()
    page.locator("#make").click()
    check("making")
    page.locator("#make-dialog footer button").click()
    context.close()
    assert {what: wrong for what, wrong in found.items() if wrong} == {}
