"""The quilt has the window: how large it stands on a laptop, a tablet and a phone, measured in Chromium."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import pytest

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

UPRIGHT = {"panel": {"width": "30in", "height": "40in"}, "row": [{"text": "OAR"}, {"text": "LOCK"}]}
WIDE = {"panel": {"width": "40in", "height": "22in"}, "row": [{"text": "OARLOCK"}]}
LAPTOP, TABLET, PHONE = (1440, 900), (1024, 768), (390, 844)


@contextmanager
def opened(
    served: Served, browser: Any, size: tuple[int, int], design: dict[str, Any], **how: Any
) -> Iterator[Sheet]:
    """A page of `size` that shows `design`."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, **how)
    sheet = Sheet(context.new_page(), served.keep(design), listing=False)
    sheet.drawn(len(design["row"]))
    yield sheet
    sheet.quiet()
    context.close()


def quilt(sheet: Sheet) -> dict[str, float]:
    """Where the quilt is in the window."""
    return dict(sheet.page.evaluate("() => document.querySelector('#art').getBoundingClientRect().toJSON()"))


@pytest.mark.long
@pytest.mark.parametrize("size", [LAPTOP, TABLET])
def test_the_quilt_has_most_of_the_window(served: Served, browser: Any, size: tuple[int, int]) -> None:
    """Upright 80 % of its height, wide 65 % of its width; nothing of either is out of sight or under a bar."""
    for design in (UPRIGHT, WIDE):
        with opened(served, browser, size, design) as sheet:
            seen = quilt(sheet)
            share = seen["height"] / size[1] if design is UPRIGHT else seen["width"] / size[0]
            assert share >= (0.8 if design is UPRIGHT else 0.65)
            stage = sheet.page.locator("#stage").bounding_box()
            assert stage["x"] < seen["left"]
            assert seen["right"] < stage["x"] + stage["width"]
            assert stage["y"] < seen["top"]
            assert seen["bottom"] < stage["y"] + stage["height"]
            sheet.page.locator(".look > summary").first.click()  # the forms are longer than the window then
            sheet.page.locator("[data-focus='cap-0']").wait_for()
            assert sheet.page.evaluate("() => document.documentElement.scrollHeight <= innerHeight")


def test_on_a_phone_the_quilt_has_the_whole_width_above_a_sheet_of_tools(
    served: Served, browser: Any
) -> None:
    """The sheet begins below the quilt, is pulled up with a button, and leaves part of the quilt in sight."""
    with opened(served, browser, PHONE, UPRIGHT, has_touch=True, is_mobile=True) as sheet:
        page = sheet.page
        seen = quilt(sheet)
        assert seen["width"] >= 0.85 * PHONE[0]
        page.locator("#more").click()
        page.locator("#lesser").get_by_text("cm", exact=True).click()
        sheet.settled(lambda: sheet.design()["units"], "cm")
        page.locator("#more").click()
        undo, make = (page.locator(one).bounding_box() for one in ("#undo", "#make"))
        assert make["y"] < undo["y"] + undo["height"] / 2 < make["y"] + make["height"]
        seen = quilt(sheet)
        side = page.locator("#side")
        assert seen["bottom"] < side.bounding_box()["y"] < PHONE[1] - 100
        pull = page.get_by_role("button", name="Sheet of tools")
        pull.click()
        page.locator("#pull[aria-expanded='true']").wait_for()
        sheet.settled(lambda: side.bounding_box()["y"] < 0.45 * PHONE[1], True)
        assert side.bounding_box()["y"] > quilt(sheet)["top"] + 100
        pull.click()
        sheet.settled(lambda: page.evaluate("() => scrollY"), 0)


@pytest.mark.parametrize("size", [LAPTOP, (1280, 800), TABLET])
def test_at_twice_the_zoom_the_quilt_stays_in_sight(
    served: Served, browser: Any, size: tuple[int, int]
) -> None:
    """A browser at 200 % gives the page half as many pixels each way."""
    half = (size[0] // 2, size[1] // 2)
    with opened(served, browser, half, UPRIGHT) as sheet:
        seen = quilt(sheet)
        assert seen["top"] >= 0
        assert seen["bottom"] <= half[1]
        assert seen["height"] >= 0.4 * half[1]
        assert sheet.page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")


def test_guides_and_rulers_show_while_something_moves_or_when_asked(served: Served, browser: Any) -> None:
    with opened(served, browser, LAPTOP, UPRIGHT) as sheet:
        page = sheet.page
        ruler, guide = page.locator("#ruler-x"), page.locator("#guide-lines .margin")
        assert not ruler.is_visible()
        assert not guide.is_visible()
        box = page.locator("#art .letter path").first.bounding_box()
        page.mouse.move(box["x"] + 9, box["y"] + box["height"] / 2)
        page.mouse.down()
        page.mouse.move(box["x"] + 60, box["y"] + box["height"] / 2 + 40, steps=4)
        assert ruler.is_visible()
        assert guide.is_visible()
        page.mouse.up()
        assert not ruler.is_visible()
        page.get_by_text("Guides", exact=True).click()
        assert ruler.is_visible()
        assert guide.is_visible()


@pytest.mark.long
def test_what_to_buy_unfolds_from_the_foot(served: Served, browser: Any) -> None:
    with opened(served, browser, LAPTOP, UPRIGHT) as sheet:
        page = sheet.page
        bill = page.locator("#buy .bill")
        bill.wait_for(state="attached")
        assert not bill.is_visible()
        opener = page.get_by_role("button", name="What to buy")
        opener.click()
        assert bill.is_visible()
        page.keyboard.press("Escape")
        assert not bill.is_visible()
        assert opener.evaluate("button => button === document.activeElement")
