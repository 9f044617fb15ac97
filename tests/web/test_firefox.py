"""The page in Firefox as it is installed: what a maker does in an evening, without an error in its console."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest

from applique.units import parse_length

if TYPE_CHECKING:
    from tests.web.conftest import Served
    from tests.web.firefox import Firefox, Page

pytestmark = pytest.mark.browser

DESIGN = "() => JSON.parse(sessionStorage.getItem('design'))"
NOTE = """() => {
  window.seen = [];
  const shown = document.querySelector("#distance");
  new MutationObserver(() => seen.push(shown.textContent)).observe(shown, { childList: true });
}"""
"""Notes every number that a piece shows while it is being moved."""


@pytest.fixture
def page(served: Served, firefox: Firefox) -> Iterator[Page]:
    with firefox.page(served.address) as page:
        page.css("body.ready")
        yield page
        assert page.errors() == []


def type_words(page: Page, *rows: str) -> None:
    """Type rows of words into an empty page."""
    for number, words in enumerate(rows, 1):
        if number > 1:
            page.named("button", "Add a row of words").click()
        page.named("textbox", f"Words of row {number}").fill(words)
    page.until(
        "words => document.querySelector('#drawing').getAttribute('aria-label')?.includes(words)", rows[-1]
    )


def row(page: Page) -> dict[str, Any]:
    """The first row of the design as the page holds it."""
    return dict(page.evaluate(DESIGN)["row"][0])


def is_kept(page: Page) -> None:
    page.css("#kept[data-kept='yes']")


def unfold(page: Page, group: str) -> None:
    """Open a fold of the settings."""
    page.css(f"[data-group={group}] > summary").click()


@pytest.mark.long
def test_the_console_of_firefox_is_heard(firefox: Firefox, served: Served) -> None:
    """Or no other test here could fail for an error in it."""
    with firefox.page(served.start) as page:
        page.evaluate("() => { console.error('said so'); setTimeout(() => { missing(); }); }")
        page.evaluate("() => new Promise(resolve => setTimeout(resolve, 50))")
        said, missed = page.errors()
    assert said == "error: said so"
    assert "missing is not defined" in missed


@pytest.mark.long
def test_words_are_drawn_undone_and_there_again_after_a_reload(page: Page) -> None:
    type_words(page, "OAR", "LOCK")
    assert page.evaluate("() => document.querySelectorAll('#art > .letter').length") == 7
    page.named("button", "Remove row 2").click()
    page.until("() => document.querySelectorAll('#art > .letter').length === 3")
    page.keys("Control", "z")
    page.until("() => document.querySelectorAll('#art > .letter').length === 7")
    is_kept(page)
    page.reload()
    page.css("#art > .letter[data-row='2']")
    assert [line["text"] for line in page.evaluate(DESIGN)["row"]] == ["OAR", "LOCK"]
    page.named("button", "Redo").click()
    page.until("() => document.querySelectorAll('#art > .letter').length === 3")


@pytest.mark.long
@pytest.mark.parametrize("pointer", ["mouse", "touch"])
def test_a_letter_is_dragged_and_the_number_goes_along(page: Page, pointer: str) -> None:
    """What is stored is the last number that was shown, and that is where the letter stands."""
    type_words(page, "OAR")
    page.css("[name=grip][value=letter]").ask("radio => radio.click()")
    page.evaluate(NOTE)
    place = (
        "() => document.querySelector('#art > .letter[data-letter=\"3\"] path').getBoundingClientRect().left"
    )
    scale = page.evaluate("() => document.querySelector('#drawing').getScreenCTM().a")
    before = page.evaluate(place)
    page.css("#art > .letter[data-letter='3'] path").drag(33, 47, by=pointer)
    page.until(f"() => ({DESIGN})().row[0].nudge")
    [nudge] = row(page)["nudge"]
    assert nudge["letter"] == 3
    seen = page.evaluate("() => seen")
    assert len(set(seen)) > 2
    shown = re.fullmatch(r"(.+) right, ([^·]+) down( · .*)?", seen[-1])
    assert shown is not None
    assert (parse_length(shown[1]), -parse_length(shown[2])) == (
        parse_length(nudge["right"]),
        parse_length(nudge["up"]),
    )
    moved = (page.evaluate(place) - before) / scale
    assert moved == pytest.approx(float(parse_length(nudge["right"])), abs=1 / 32)
    page.named("button", "Put back").click()
    page.until(f"() => !({DESIGN})().row[0].nudge")


@pytest.mark.long
def test_a_fabric_is_added_and_a_border_made_of_it(page: Page) -> None:
    type_words(page, "OAR")
    unfold(page, "cloth")
    page.named("button", "Add a fabric").click()
    unfold(page, "edges")
    page.css(".border-picture").click()
    page.css("#art > .patch")
    page.until("() => document.querySelector('#finished').textContent.includes('34 in')")
    assert page.evaluate(DESIGN)["border"][0]["fabrics"] == [page.evaluate(DESIGN)["fabric"][0]["name"]]


@pytest.mark.long
def test_letters_that_are_too_large_are_said_and_cured(page: Page) -> None:
    type_words(page, "STEADY")
    page.css(".look summary").click()
    page.named("textbox", "Letter height (capital H)").fill("12in")
    page.css("#findings-open").click()
    cure = page.named("button", "Let row 1 be as large as fits")
    assert page.named("button", "Make the pattern").ask("button => button.disabled")
    cure.press("Enter")
    page.until("() => document.querySelector('#findings-open').textContent === 'No problems found.'")
    assert page.evaluate("() => document.querySelector('#findings').childElementCount") == 0
    assert row(page)["cap_height"] == "fit"


@pytest.mark.long
def test_a_pattern_is_made_to_the_end(page: Page) -> None:
    type_words(page, "OAR")
    page.named("button", "Make the pattern").click()
    page.until("() => document.querySelector(\"img.sheet[src^='blob']\")?.naturalWidth === 440")
    names = page.evaluate("() => [...document.querySelectorAll('.files button')].map(one => one.textContent)")
    assert "placement-guide.pdf" in names


@pytest.mark.long
@pytest.mark.parametrize("light", ["light", "dark"])
def test_axe_finds_no_serious_problem(page: Page, light: str) -> None:
    """axe-core, the rules of WCAG 2.x A and AA, over the drawn page with a refusal, and the fonts."""
    assert page.evaluate("() => matchMedia('(prefers-color-scheme: light)').matches")
    if light == "dark":
        page.named("button", "Change to dark colors").click()
    page.named("button", "Begin with an example").click()
    page.css("#art > .letter[data-row='3']")
    page.evaluate("() => document.querySelectorAll('details').forEach(fold => { fold.open = true; })")
    page.named("textbox", "Letter height (capital H)").fill("40in")
    page.css("#findings .stops")
    assert page.axe() == []
    page.css("[data-focus='font-all']").click()
    page.until("() => document.querySelectorAll('.font').length > 13")
    assert page.axe() == []
