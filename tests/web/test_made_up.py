"""The page in a language that nobody speaks: its texts all come from the catalogue, and there is room for them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import httpx
import pytest

from applique.language import Message
from applique.typeset.bundled import BUNDLED
from applique.words.page import PAGE, page_texts
from tests.made_up import in_made_up, made_up, plain_words
from tests.web.patience import SLOW

if TYPE_CHECKING:
    from tests.web.conftest import Served

OWN_WORDS = frozenset(
    ["ROW", "STEADY", "HOME", "Deep", "water", "Oar", "red", "Mist", "Fredoka", "Montserrat"]
)
"""What of the page's own parts is the maker's, or is said alike in every language."""
NUMBERED: dict[str, Any] = {
    "row": [{"text": "101", "up": "1/4in"}],
    "fabric": [{"name": "1", "color": "#e9e4d6"}, {"name": "2", "color": "#1f3a5f", "stitch": "satin"}],
    "panel": {"width": "20in", "height": "16in", "fabric": "1"},
    "lettering": {"font": "Pacifico", "cap_height": "1 1/2in", "fabric": "2"},
    "border": [{"kind": "squares", "size": "2in", "fabrics": ["1", "2"]}],
    "binding": {"fabric": "2"},
    "backing": {"fabric": "1"},
    "quilting": [{"kind": "in the ditch"}],
}
"""A quilt in which a maker's own words are numbers. The strokes are thin: there are findings, and cures are tried."""
FOR_SCRIPTS = frozenset(
    [
        "design",
        "cap_height",
        "picture",
        "quilting",
        "kind",
        "where",
        "paper",
        "color",
        "font",
        "fabrics",
        "reads",
        "accept",
    ]
)
SAID_ALIKE = frozenset(["and", "or", "TTLibError", *(word for font in BUNDLED for word in font.name.split())])
"""Between the items of a list, by CLDR for the locale; names, of fonts and of errors of their reader."""
TOO_WIDE = """() => {
  const wide = [], page = document.documentElement, pencil = document.createElement("canvas").getContext("2d");
  if (page.scrollWidth > page.clientWidth) wide.push(`the page: ${page.scrollWidth} in ${page.clientWidth}`);
  for (const one of document.querySelectorAll("button, summary, legend, label, h2, h3, p, small, li, select, input")) {
    if (!one.offsetParent || one.closest(".hidden, [aria-hidden]")) continue;
    const style = getComputedStyle(one), end = (element) => element.getBoundingClientRect().right;
    const holder = one.parentElement.closest("fieldset, li, section, dialog, header, body");
    if (end(one) > end(holder) + 1) wide.push(`out of its place: ${one.textContent}`);
    if (one.matches("select, input")) {
      const text = one.matches("select") ? one.selectedOptions[0]?.textContent : one.placeholder;
      pencil.font = (one.matches("select") ? style : getComputedStyle(one, "::placeholder")).font;
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
    #settings :is(summary, span, small, h3, legend, option, button, .note), #beside :is(p, span, button), .unfolds > *,
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


def _shown(answer: Any) -> Iterator[str]:
    """Every text of an answer that the page shows as it comes; what scripts read, and a list's last "and", aside."""
    match answer:
        case str():
            yield answer
        case list():
            for part in answer:
                yield from _shown(part)
        case dict():
            for key, part in answer.items():
                yield from () if key in FOR_SCRIPTS else _shown(part)


def _plain(answer: Any) -> set[str]:
    """The words of an answer that are in no made-up language; what is to be typed (`"8 in"`) is in none."""
    typed = re.compile('"[^"]*"')
    return {word for text in _shown(answer) for word in plain_words(typed.sub("", text))} - SAID_ALIKE


@pytest.fixture(scope="module")
def client(made_up_page: Served) -> httpx.Client:
    """A page whose browser asks for the made-up language."""
    client = made_up_page.client()
    client.headers["accept-language"] = made_up().tag
    return client


def test_a_drawing_and_its_findings_are_said_in_the_language_of_the_browser(client: httpx.Client) -> None:
    plan = client.post("/api/plan", json=NUMBERED).json()
    assert len(plan["drawing"]["scene"]["things"]) > 1
    assert _plain(plan) == set()
    asked = {"font": "Rubik", "words": "101", "cap_height": plan["drawing"]["rows"][0]["cap_height"]}
    assert client.post("/api/sample", json=asked).json()["sewable"] in (True, False)
    stopped = client.post("/api/plan", json={**NUMBERED, "lettering": {"cap_height": "90in"}}).json()
    assert stopped["drawing"] is None
    assert stopped["findings"][0]["cures"]
    assert _plain(stopped) == set()
    fonts = client.get("/api/fonts").json()["fonts"]
    assert {word for font in fonts for word in plain_words(font["style"])} == set()
    american = client.post("/api/plan", json=NUMBERED, headers={"accept-language": "en-US"}).json()
    assert " by " in american["drawing"]["finished"]


@pytest.mark.long
def test_numbers_from_another_process_are_said_in_the_language_of_the_browser(client: httpx.Client) -> None:
    blocks = [
        block.split("\n") for block in client.post("/api/numbers", json=NUMBERED).text.strip().split("\n\n")
    ]
    told = [(head, json.loads(data.removeprefix("data: "))) for head, data in blocks]
    assert [head.removeprefix("event: ") for head, _ in told] == ["numbers", "findings", "numbers", "done"]
    numbers, cured = told[0][1], told[1][1]["findings"]
    assert len(numbers["shelves"]) > 2
    assert any(bought["uses"] for bought in numbers["cloth"])
    assert any(finding["at"] and finding["cures"] for finding in cured)
    assert _plain([data for _, data in told]) == set()


def test_refusals_are_said_in_the_language_of_the_browser(client: httpx.Client, dejavu_bold: str) -> None:
    """By the rooms, by the page, by the guard, and by the process that reads a font."""
    damaged = Path(dejavu_bold).read_bytes()[:4000]
    move = {"design": NUMBERED, "row": 9}
    answers = [
        (422, client.post("/api/move", json=move)),
        (422, client.post("/api/move", json={**move, "row": 1, "right": "9"})),
        (422, client.post("/api/numbers", json={**NUMBERED, "row": []})),
        (422, client.post("/api/read", json={"text": ""})),
        (422, client.post("/api/fonts", params={"name": "1.ttf"}, content=damaged)),
        (404, client.get("/api/made/1/folder")),
        (403, client.post("/api/plan", json=NUMBERED, headers={"x-applique-token": "1"})),
    ]
    for status, answer in answers:
        assert answer.status_code == status, answer.text
        assert answer.json()["problems"][0]["what"]
        assert _plain(answer.json()) == set()


@pytest.mark.browser
@pytest.mark.long
@pytest.mark.parametrize(("width", "height"), [(1280, 800), (390, 844)])
def test_a_third_more_letters_still_fit(made_up_page: Served, browser: Any, width: int, height: int) -> None:
    """The laptop and the phone that people have; a third longer is what translators plan for (common practice)."""
    context = browser.new_context(
        viewport={"width": width, "height": height}, extra_http_headers={"accept-language": made_up().tag}
    )
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
    page.locator("#art .letter[data-row='3']").first.wait_for(state="attached")
    for fold in page.locator("#settings > details > summary").all():
        fold.click()
    page.locator(".look summary").first.click()
    page.locator("#buy:not(.stale) .bill").wait_for(state="attached")
    check("drawn")
    if page.locator("#more").is_visible():
        page.locator("#more").click()
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
