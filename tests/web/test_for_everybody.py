"""The page without sight of it, without motion, in the machine's own colors: what is said, where the keyboard is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest

from applique.units import parse_length
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

WHERE = """() => {
  const { activeElement } = document;
  return activeElement === document.body || !activeElement?.isConnected ? "nowhere"
    : activeElement.id || activeElement.tagName;
}"""
"""Where the keyboard is."""
SAID = """() => {
  window.heard = [];
  for (const spoken of document.querySelectorAll("[aria-live]:not([aria-live=off]), [role=alert]")) {
    new MutationObserver(() => heard.push(spoken.textContent))
      .observe(spoken, { childList: true, characterData: true, subtree: true });
  }
}"""
"""Notes what a screen reader says by itself."""


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    opened = Sheet(context.new_page(), served.address)
    yield opened
    opened.quiet()
    context.close()


@pytest.mark.long
def test_a_move_is_heard_and_how_far_it_is_to_the_letter_before(sheet: Sheet) -> None:
    """WCAG 2.2, 4.1.3 (status messages): by key and by button, of a letter and a row; the distance is that in sight."""
    page = sheet.page
    sheet.words("OAR")
    page.evaluate(SAID)
    page.locator("#piece").select_option("1 3")
    page.locator("#drawing").press("ArrowLeft")
    page.wait_for_function("() => heard.length > 0")
    said = re.fullmatch(
        r"R, letter 3 of row 1 moved 1/8 in left; (.+) from A", page.evaluate("() => heard[0]")
    )
    assert said is not None
    sheet.settled(lambda: bool(sheet.design()["row"][0].get("nudge")), True)
    sheet.rested()
    between = page.evaluate(
        """() => {
          const [before, after] = [2, 3].map(letter =>
            document.querySelector(`#art > .letter[data-letter="${letter}"] path`).getBoundingClientRect());
          return (after.left - before.right) / document.querySelector("#drawing").getScreenCTM().a;
        }"""
    )
    assert float(parse_length(said[1])) == pytest.approx(between, abs=1 / 32)
    for keys, words in (
        ("ArrowUp", "R, letter 3 of row 1 moved 1/8 in up"),
        ("Shift+ArrowRight", "R, letter 3 of row 1 moved 1 in right"),
    ):
        page.locator("#drawing").press(keys)
        page.wait_for_function("words => heard.at(-1) === words", arg=words)
        sheet.rested()
    page.locator("#piece").select_option("1")
    page.get_by_role("group", name="What to do with Row 1: OAR").get_by_role(
        "button", name="Up: more"
    ).click()
    page.wait_for_function("words => heard.includes(words)", arg="Row 1: OAR moved 1/8 in up")


@pytest.mark.long
def test_the_keyboard_was_nowhere_after_a_deed(sheet: Sheet) -> None:
    """WCAG 2.2, 2.4.3 (focus order): after each deed something of the page has the keyboard."""
    page = sheet.page
    sheet.words("OAR", "LOCK")
    lost: list[str] = []

    def stays(deed: str) -> None:
        sheet.rested()
        if page.evaluate(WHERE) == "nowhere":
            lost.append(deed)

    def press(name: str) -> None:
        page.get_by_role("button", name=name).first.press("Enter")
        stays(name)

    press("Add a row of words")
    page.keyboard.type("STEADY")
    stays("typing")
    press("Remove row 3")
    press("Remove row 1")
    page.keyboard.press("Enter")
    stays("a row by Enter")
    press("Remove row 2")
    for group, adds, removes in (
        ("Size and fabrics", "Add a fabric", "Remove Fabric 1"),
        ("Sewing and quilting", "Add quilting", "Remove quilting 1"),
    ):
        page.locator("summary").filter(has_text=group).first.press("Enter")
        press(adds)
        press(removes)
    press("Add a fabric")
    page.locator("summary").filter(has_text="Borders").first.press("Enter")
    press("Plain strip")
    page.locator("[data-focus='border.1.kind']").select_option("squares")
    stays("squares")
    press("Remove border 1")
    for opens, closes in (("Save", "Cancel"), ("Save", "Escape")):
        press(opens)
        if closes == "Escape":
            page.keyboard.press("Escape")
        else:
            page.locator("dialog[open]").get_by_role("button", name=closes).press("Enter")
        stays(f"{opens}, {closes}")
    page.locator(".look summary").first.press("Enter")
    page.locator("[data-focus='font-0']").press("Enter")
    page.get_by_role("button", name="Use this font: Lilita One").press("Enter")
    stays("a font")
    page.get_by_label("Letter height (capital H)").first.fill("40in")
    press("Let row 1 be as large as fits")
    page.locator("#piece").select_option("1 1")
    page.locator("#drawing").press("ArrowUp")
    sheet.settled(lambda: bool(sheet.design()["row"][0].get("nudge")), True)
    press("Put back")
    undo = page.get_by_role("button", name="Undo")
    while undo.is_enabled():
        undo.press("Enter")
        sheet.rested()
    stays("Undo, to the end")
    redo = page.get_by_role("button", name="Redo")
    while redo.is_enabled():
        redo.press("Enter")
        sheet.rested()
    stays("Redo, to the end")
    assert lost == []


MOVING = """() => [...document.querySelectorAll("*")].filter(element => {
  const { transitionDuration, animationName, scrollBehavior } = getComputedStyle(element);
  const changes = transitionDuration.split(", ").some(time => parseFloat(time) > 0);
  return changes || animationName !== "none" || scrollBehavior === "smooth";
}).map(element => element.id || element.className || element.tagName)"""


def test_nothing_moves_by_itself_where_less_motion_is_wished_for(sheet: Sheet) -> None:
    """Media Queries Level 5, prefers-reduced-motion; and otherwise something does, or this could not fail."""
    page = sheet.page
    sheet.words("OAR")
    assert page.evaluate(MOVING)
    page.emulate_media(reduced_motion="reduce")
    assert page.evaluate(MOVING) == []
    page.emulate_media(reduced_motion="no-preference")


def test_in_forced_colors_the_quilt_keeps_its_own_and_what_is_chosen_can_be_told(sheet: Sheet) -> None:
    """CSS Color Adjustment Level 1, forced colors: letters and panel as they are sewn; frame and keyboard in sight."""
    page = sheet.page
    sheet.words("OAR")
    fill = """() => [...document.querySelectorAll("#art > .panel path, #art > .letter path")]
      .map(one => getComputedStyle(one).fill)"""
    before = page.evaluate(fill)
    page.emulate_media(forced_colors="active")
    assert page.evaluate(fill) == before
    assert len(set(before)) == 2
    frame = page.locator("#choice").evaluate("one => getComputedStyle(one).borderTopColor")
    assert frame not in ("none", *before)
    page.locator("#piece").focus()
    page.keyboard.press("Tab")
    outline = """() => { const { outlineStyle, outlineWidth } = getComputedStyle(document.activeElement);
      return [outlineStyle, parseFloat(outlineWidth)]; }"""
    style, width = page.evaluate(outline)
    assert style != "none"
    assert width >= 2
    page.emulate_media(forced_colors="none")
