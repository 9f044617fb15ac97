"""What can be done with a piece of the quilt stands in a bar beside it, in a real browser."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest

from tests.web.test_layout import LAPTOP, PHONE, TABLET, opened
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

QUILT = {
    "panel": {"width": "30in", "height": "36in", "fabric": "Mist"},
    "row": [{"text": "OAR"}, {"text": "LOCK"}, {"text": "SEA"}],
    "fabric": [{"name": "Deep", "color": "#1d3f58"}, {"name": "Mist", "color": "#e9e4d6"}],
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Deep"]}],
}


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    with opened(served, browser, LAPTOP, QUILT) as shown:
        yield shown


def letter(row: int, number: int = 1) -> str:
    return f"#art .letter[data-row='{row}'][data-letter='{number}']"


def boxes(sheet: Sheet) -> tuple[dict[str, float], dict[str, float]]:
    """The bar and the frame around what is chosen, in the window."""
    bar, frame = (sheet.page.locator(one).bounding_box() for one in ("#beside", "#choice"))
    assert bar is not None
    assert frame is not None
    return bar, frame


@pytest.mark.parametrize(
    ("size", "how"), [(LAPTOP, {}), (TABLET, {}), (PHONE, {"has_touch": True, "is_mobile": True})]
)
def test_the_bar_is_in_the_window_and_never_over_its_piece(
    served: Served, browser: Any, size: tuple[int, int], how: dict[str, Any]
) -> None:
    with opened(served, browser, size, QUILT, **how) as sheet:
        for row in (1, 2, 3):
            piece = sheet.page.locator(letter(row, 2))
            if how:
                piece.tap()
            else:
                piece.click()
            sheet.page.get_by_role("group", name=f"What to do with Row {row}").wait_for()
            bar, frame = boxes(sheet)
            assert bar["x"] >= 0
            assert bar["x"] + bar["width"] <= size[0]
            assert bar["y"] >= 0
            assert bar["y"] + bar["height"] <= size[1]
            beyond = (
                bar["y"] >= frame["y"] + frame["height"]
                or bar["y"] + bar["height"] <= frame["y"]
                or bar["x"] >= frame["x"] + frame["width"]
                or bar["x"] + bar["width"] <= frame["x"]
            )
            assert beyond, (row, bar, frame)
            sheet.page.get_by_role("button", name="Close").click()


def test_a_row_gets_fabric_height_place_and_turn_and_is_put_back(sheet: Sheet) -> None:
    page = sheet.page
    page.locator(letter(2, 2)).click()
    bar = page.get_by_role("group", name="What to do with Row 2: LOCK")
    bar.get_by_label("Fabric").select_option("Deep")
    sheet.settled(lambda: sheet.design()["row"][1].get("fabric"), "Deep")
    height = bar.get_by_label("Letter height")
    height.fill("5")
    height.press("Tab")
    sheet.settled(lambda: sheet.design()["row"][1].get("cap_height"), "5in")
    bar.get_by_role("button", name="Right: more").click()
    sheet.settled(lambda: sheet.design()["row"][1].get("right"), "1/8in")
    up = bar.get_by_label("Up", exact=True)
    up.fill("-1 1/4")
    up.press("Tab")
    sheet.settled(lambda: sheet.design()["row"][1].get("up"), "-1 1/4in")
    for _ in range(3):
        bar.get_by_role("button", name="Turn: less").click()
    sheet.settled(lambda: sheet.design()["row"][1].get("turn"), -3)
    bar.get_by_role("button", name="Put back").click()
    sheet.settled(lambda: {"right", "up", "turn"} & set(sheet.design()["row"][1]), set())
    assert sheet.design()["row"][1]["fabric"] == "Deep"


def test_a_row_takes_a_width_instead_of_a_height_and_the_other_way_round(sheet: Sheet) -> None:
    """The ink of the row is drawn as wide as was typed; of width and height only the last said one holds."""
    page = sheet.page
    page.locator("[data-focus='look-1']").click()
    width = page.locator("[data-where='row.2.width']")
    width.fill("20 1/2")
    width.press("Tab")
    page.wait_for_function(
        "async () => JSON.parse(sessionStorage.getItem('design')).row[1].width === '20 1/2in'"
    )
    page.wait_for_function(
        """() => {
          const box = (one) => one.getBoundingClientRect();
          const letters = [...document.querySelectorAll("#art .letter[data-row='2'] path")].map(box);
          const left = Math.min(...letters.map((one) => one.left));
          const right = Math.max(...letters.map((one) => one.right));
          const panel = box(document.querySelector("#art .panel path")).width;
          return Math.abs((right - left) / panel * 30 - 20.5) < 0.1; }"""
    )
    page.locator(letter(2)).click()
    height = page.get_by_role("group", name="What to do with Row 2").get_by_label("Letter height")
    height.fill("4")
    height.press("Tab")
    page.wait_for_function("() => JSON.parse(sessionStorage.getItem('design')).row[1].cap_height === '4in'")
    assert "width" not in sheet.design()["row"][1]


def test_one_letter_is_moved_and_turned_by_exact_numbers(sheet: Sheet) -> None:
    page = sheet.page
    page.locator(letter(1)).click()
    page.get_by_role("button", name="One letter of it").click()
    bar = page.get_by_role("group", name="What to do with O, letter 1 of row 1")
    for label, text in (("Right", "3/8"), ("Turn", "12")):
        field = bar.get_by_label(label, exact=True)
        field.fill(text)
        field.press("Tab")
    sheet.settled(
        lambda: sheet.design()["row"][0].get("nudge"), [{"letter": 1, "right": "3/8in", "turn": 12}]
    )
    sheet.rested()
    bar.get_by_label("Turn", exact=True).fill("round")
    bar.get_by_label("Turn", exact=True).press("Tab")
    page.locator("#behind").filter(has_text="out of date").wait_for()
    page.keyboard.press("Control+z")
    page.locator("#behind").wait_for(state="hidden")
    bar.get_by_role("button", name="Put back").click()
    sheet.settled(lambda: "nudge" in sheet.design()["row"][0], False)


def test_panel_and_border_have_their_bars_by_mouse_and_by_keyboard(sheet: Sheet) -> None:
    page = sheet.page
    page.locator("#art .panel path").click(position={"x": 6, "y": 6})
    page.get_by_role("group", name="What to do with Panel").get_by_label("Fabric").select_option("Deep")
    sheet.settled(lambda: sheet.design()["panel"]["fabric"], "Deep")
    page.keyboard.press("Escape")
    assert page.locator("#beside").is_hidden()
    assert page.evaluate("() => document.activeElement.id") == "drawing"
    chooser = page.get_by_label("To move")
    chooser.focus()
    chooser.select_option(label="Border 1")
    chooser.press("Enter")
    bar = page.get_by_role("group", name="What to do with Border 1")
    assert page.evaluate("() => document.querySelector('#beside').contains(document.activeElement)")
    width = bar.get_by_label("Width")
    width.fill("3")
    width.press("Tab")
    sheet.settled(lambda: sheet.design()["border"][0]["width"], "3in")
    bar.get_by_role("button", name="Remove border 1").click()
    sheet.settled(lambda: "border" in sheet.design(), False)
    page.locator("#drawing").focus()
    page.keyboard.press("PageDown")
    page.get_by_role("group", name=re.compile("letter 1 of row 1")).wait_for()
    page.keyboard.press("Escape")
    assert page.locator("#beside").is_hidden()


@pytest.mark.long
def test_one_finger_scrolls_until_something_is_chosen_and_two_zoom(served: Served, browser: Any) -> None:
    with opened(served, browser, PHONE, QUILT, has_touch=True, is_mobile=True) as sheet:
        page = sheet.page
        touch = page.context.new_cdp_session(page)

        def finger(kind: str, *points: tuple[float, float]) -> None:
            spots = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(points)]
            touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": spots})

        def swipe(x: float, y: float, up: float) -> None:
            finger("touchStart", (x, y))
            for tenth in range(1, 11):
                finger("touchMove", (x, y - up * tenth / 10))
                page.wait_for_timeout(50)
            finger("touchEnd")

        box = page.locator(letter(2, 2)).bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        swipe(x, y, 150)
        sheet.settled(lambda: page.evaluate("() => scrollY") > 60, True)
        assert "up" not in sheet.design()["row"][1]
        page.wait_for_timeout(1000)  # a swipe rolls on for a while
        page.evaluate("() => scrollTo(0, 0)")
        page.locator(letter(2, 2)).tap()
        page.locator("#beside").wait_for()
        box = page.locator(letter(2, 2)).bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.wait_for_timeout(
            1000
        )  # as a hand takes; only then does the browser know that a finger scrolls no more
        swipe(x, y, 60)
        sheet.settled(lambda: "up" in sheet.design()["row"][1], True)
        assert page.evaluate("() => scrollY") == 0
        before = page.locator("#art .panel").bounding_box()["width"]
        finger("touchStart", (150, 250))
        finger("touchStart", (150, 250), (230, 250))
        for step in range(1, 9):
            finger("touchMove", (150 - 5 * step, 250), (230 + 5 * step, 250))
        finger("touchEnd")
        sheet.settled(lambda: page.locator("#art .panel").bounding_box()["width"] > before * 1.2, True)
        assert page.evaluate("() => visualViewport.scale") == 1
