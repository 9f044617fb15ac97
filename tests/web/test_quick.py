"""The page follows somebody who types or drags, in a real browser: counted, never timed."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest

from tests.web.test_beside import QUILT
from tests.web.test_layout import LAPTOP, opened
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

KEYS = "NOW"
COUNTED = """() => { window.drawnAnew = [];
  new MutationObserver((changes) => drawnAnew.push(...changes.map((one) => one.target.id)))
    .observe(document.querySelector("#marks"), { subtree: true, childList: true, attributes: true }); }"""
MARKED = """() => {
  const all = "#art > *, #piece > *, #rows *, #shelf *, #guide-lines > *";
  for (const one of document.querySelectorAll(all)) one.wasThere = true;
}"""
NEW = """selector => [...document.querySelectorAll(selector)].filter((one) => !one.wasThere)
  .map((one) => one.dataset.row ?? one.value ?? one.className.baseVal ?? one.localName)"""


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    design = {**QUILT, "lettering": {"cap_height": "2in"}}
    with opened(served, browser, LAPTOP, design) as shown:
        yield shown


def typed(sheet: Sheet, letters: str) -> None:
    """Type behind the words of the last row, each letter once the one before is drawn."""
    page = sheet.page
    row = len(sheet.design()["row"])
    words = page.get_by_label(f"Words of row {row}", exact=True)
    words.focus()
    page.keyboard.press("End")
    for letter in letters:
        before = page.locator(f"#art > .letter[data-row='{row}']").count()
        page.keyboard.press(letter)
        page.locator(f"#art > .letter[data-row='{row}']").nth(before).wait_for(state="attached")
    sheet.rested()


def forced(trace: bytes) -> list[str]:
    """Where scripts asked for a size that the browser had to lay the page out for, as its trace says."""
    layouts = [event for event in json.loads(trace)["traceEvents"] if event["name"] == "Layout"]
    assert layouts
    stacks = [event.get("args", {}).get("beginData", {}).get("stackTrace", []) for event in layouts]
    asking = [stack[0] for stack in stacks if stack and "/static/" in stack[0]["url"]]
    return [f"{frame['url']}:{frame['lineNumber']}" for frame in asking]


def traced(browser: Any, sheet: Sheet) -> None:
    browser.start_tracing(
        page=sheet.page,
        categories=["devtools.timeline", "disabled-by-default-devtools.timeline.stack"],
    )


def test_a_key_has_no_script_wait_for_a_layout(sheet: Sheet, browser: Any) -> None:
    """A size that is read after something was written makes the browser lay out the whole page at once."""
    typed(sheet, "A")
    traced(browser, sheet)
    try:
        typed(sheet, KEYS)
    finally:
        trace = browser.stop_tracing()
    assert forced(trace) == []


def test_a_drag_has_no_script_wait_for_a_layout(sheet: Sheet, browser: Any) -> None:
    page = sheet.page
    box = page.locator("#art > .letter[data-row='1'][data-letter='2']").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 12, y + 12, steps=3)
    page.evaluate(COUNTED)
    traced(browser, sheet)
    try:
        page.mouse.move(x + 40, y + 40, steps=8)
    finally:
        trace = browser.stop_tracing()
    assert page.locator("#distance").is_visible()
    page.mouse.up()
    assert forced(trace) == []
    assert page.evaluate("() => drawnAnew") == []  # a browser would paint all guides with every frame


def test_a_key_leaves_what_it_does_not_change(sheet: Sheet) -> None:
    """Letters of other rows, their entries in the list of pieces, rows of words, swatches: the same elements."""
    page = sheet.page
    typed(sheet, "A")
    page.evaluate(MARKED)
    last = str(len(sheet.design()["row"]))
    typed(sheet, "N")
    assert page.evaluate(NEW, "#art > *") == [last]
    letters = page.locator(f"#art > .letter[data-row='{last}']").count()
    assert page.evaluate(NEW, "#piece > *") == [last, f"{last} {letters}"]
    assert page.evaluate(NEW, "#rows *") == []
    assert page.evaluate(NEW, "#shelf *") == []


def test_nothing_is_blurred_or_drawn_twice_while_one_works(sheet: Sheet) -> None:
    """A filter on the drawing is worked out again with every frame of a drag, and a second quilt with every key."""
    page = sheet.page
    blurred = """() => [...document.querySelectorAll("#stage, #stage *")]
      .filter((one) => getComputedStyle(one).filter !== "none").map((one) => one.id)"""
    assert page.evaluate(blurred) == []
    assert page.locator("use").count() == 0
    page.locator("#buy-open").click()
    assert page.locator("#scene use").count() == 1
    page.locator("#buy-open").click()
    assert page.locator("use").count() == 0
