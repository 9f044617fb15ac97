"""Fonts and weights tried on the quilt itself, in a real browser: taken as one step, or put back whole."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.web.test_layout import LAPTOP, PHONE, TABLET, opened
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

QUILT: dict[str, Any] = {
    "panel": {"width": "24in", "height": "20in", "fabric": "Mist"},
    "row": [{"text": "OAR"}, {"text": "LOCK"}],
    "fabric": [{"name": "Deep", "color": "#1d3f58"}, {"name": "Mist", "color": "#e9e4d6"}],
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Deep"]}],
    "quilting": [{"kind": "in the ditch"}],
}
TOUCH = {"has_touch": True, "is_mobile": True}
SIZES = [(LAPTOP, {}), (TABLET, {}), (PHONE, TOUCH)]
AXE = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]
SEEN = """() => ({
  drawing: document.querySelector("#drawing").outerHTML,
  wall: document.querySelector("#scene").innerHTML,
  stage: document.querySelector("#stage").className,
  piece: document.querySelector("#piece").innerHTML + document.querySelector("#piece").value,
  forms: document.querySelector("#forms").innerText,
  undo: document.querySelector("#undo").disabled,
  design: sessionStorage.getItem("design"),
})"""
"""All that a look at the quilt could have changed."""
ROW_2 = "#art .letter[data-row='2'] path"


def shape(sheet: Sheet) -> str:
    """The first letter of row 2, as it is drawn."""
    return str(sheet.page.locator(ROW_2).first.get_attribute("d"))


def kept(served: Served, sheet: Sheet) -> Any:
    """What the program keeps of the quilt on disk: the design, its steps and their revision."""
    answer = served.client().get(f"/api/quilts/{sheet.page.url.split('quilt=')[1]}")
    return {key: answer.json()[key] for key in ("revision", "design", "done", "undone")}


def fonts(sheet: Sheet) -> None:
    """Open the fonts for row 2, with every one of them listed and that in use chosen."""
    look = sheet.page.locator(".look > summary").nth(1)
    if not sheet.page.locator("[data-focus='font-1']").is_visible():
        look.click()
    sheet.page.locator("[data-focus='font-1']").click()
    sheet.page.locator(".font >> nth=13").wait_for(state="attached")
    sheet.page.wait_for_function("() => document.activeElement.type === 'radio'")


def card(sheet: Sheet, font: str) -> Any:
    return sheet.page.locator(".font").filter(
        has=sheet.page.get_by_role("button", name=f"Use this font: {font}")
    )


@pytest.mark.long
def test_each_font_shows_on_the_quilt_and_escape_puts_everything_back(served: Served, browser: Any) -> None:
    """The lines of quilting, which come later than the drawing, the view and the chosen letter too."""
    with opened(served, browser, LAPTOP, QUILT) as sheet:
        page = sheet.page
        page.locator("#art > .quilting").first.wait_for(state="attached")
        page.locator("#piece").select_option("2 3")
        page.keyboard.press("Escape")
        page.get_by_role("button", name="Larger").click()
        page.locator(".look > summary").nth(1).click()
        page.locator("[data-focus='font-1']").wait_for()  # what has unfolded is filled a moment later
        sheet.settled(lambda: page.locator("#kept").get_attribute("data-kept"), "yes")
        before, first, on_disk = page.evaluate(SEEN), shape(sheet), kept(served, sheet)
        fonts(sheet)
        shapes = {first}
        for _ in range(3):
            page.keyboard.press("ArrowDown")
            sheet.settled(lambda: shape(sheet) in shapes, False)
            shapes.add(shape(sheet))
        card(sheet, "Pacifico").locator("input[type=radio]").focus()
        page.keyboard.press("Space")
        sheet.settled(lambda: shape(sheet) in shapes, False)
        assert page.evaluate(SEEN)["design"] == before["design"]
        page.keyboard.press("Escape")
        assert page.locator("#font-dialog").is_hidden()
        sheet.settled(lambda: page.evaluate(SEEN), before)
        assert page.evaluate("() => document.activeElement.dataset.focus") == "font-1"
        assert kept(served, sheet) == on_disk
        assert page.get_by_role("button", name="Undo").is_disabled()


@pytest.mark.long
def test_enter_takes_the_font_that_is_shown_as_one_step(served: Served, browser: Any) -> None:
    with opened(served, browser, LAPTOP, QUILT) as sheet:
        page = sheet.page
        before = sheet.design()
        fonts(sheet)
        page.keyboard.press("ArrowDown")
        page.keyboard.press("ArrowDown")
        page.locator("#stage.trying").wait_for()
        name = page.locator(".font.shown strong").inner_text()
        page.keyboard.press("Enter")
        sheet.settled(lambda: sheet.design()["row"][1].get("font"), name)
        sheet.rested()
        assert page.locator("#stage.trying").count() == 0
        page.get_by_role("button", name="Undo").click()
        sheet.settled(sheet.design, before)
        assert page.get_by_role("button", name="Undo").is_disabled()


def test_a_mouse_shows_what_it_is_over_and_a_click_takes_it(served: Served, browser: Any) -> None:
    with opened(served, browser, LAPTOP, QUILT) as sheet:
        page = sheet.page
        first = shape(sheet)
        fonts(sheet)
        fredoka = card(sheet, "Fredoka")
        fredoka.locator(".sample").hover()
        sheet.settled(lambda: shape(sheet) == first, False)
        hovered = shape(sheet)
        page.mouse.move(LAPTOP[0] - 5, 300)
        sheet.settled(lambda: shape(sheet), first)
        assert page.locator("#font-dialog").is_visible()
        fredoka.locator(".sample").click()
        assert page.locator("#font-dialog").is_hidden()
        sheet.settled(lambda: sheet.design()["row"][1].get("font"), "Fredoka")
        sheet.settled(lambda: shape(sheet), hovered)


@pytest.mark.long
def test_a_finger_looks_first_and_a_button_takes(served: Served, browser: Any) -> None:
    with opened(served, browser, PHONE, QUILT, **TOUCH) as sheet:
        page = sheet.page
        first = shape(sheet)
        page.get_by_role("button", name="Sheet of tools").tap()
        page.locator("#pull[aria-expanded='true']").wait_for()
        fonts(sheet)
        scrolled = page.evaluate("() => scrollY")
        bitter = card(sheet, "Bitter")
        bitter.locator(".sample").tap()
        sheet.settled(lambda: shape(sheet) == first, False)
        assert page.locator("#font-dialog").is_visible()
        assert "font" not in sheet.design()["row"][1]
        page.get_by_role("button", name="Close").tap()
        sheet.settled(lambda: shape(sheet), first)
        assert page.evaluate("() => scrollY") == scrolled
        fonts(sheet)
        bitter.get_by_role("button").tap()
        sheet.settled(lambda: sheet.design()["row"][1].get("font"), "Bitter")


@pytest.mark.long
@pytest.mark.parametrize(("size", "how"), SIZES)
def test_the_fonts_stand_beside_the_quilt_never_over_it(
    served: Served, browser: Any, size: tuple[int, int], how: dict[str, Any]
) -> None:
    with opened(served, browser, size, QUILT, **how) as sheet:
        page = sheet.page
        if how:
            page.get_by_role("button", name="Sheet of tools").tap()
            page.locator("#pull[aria-expanded='true']").wait_for()
        fonts(sheet)
        page.keyboard.press("ArrowDown")
        page.locator("#stage.trying").wait_for()

        def beside() -> bool:
            quilt = page.evaluate("() => document.querySelector('#art').getBoundingClientRect().toJSON()")
            sheet_box = page.locator("#font-dialog").bounding_box()
            assert sheet_box["x"] >= 0
            assert sheet_box["x"] + sheet_box["width"] <= size[0]
            assert sheet_box["y"] + sheet_box["height"] <= size[1]
            in_sight = quilt["left"] >= 0 and quilt["top"] >= 0 and quilt["right"] <= size[0]
            aside = quilt["left"] >= sheet_box["x"] + sheet_box["width"] or quilt["bottom"] <= sheet_box["y"]
            return bool(in_sight and aside)

        sheet.settled(beside, True)


def test_the_newest_font_wins_over_an_answer_that_comes_late(served: Served, browser: Any) -> None:
    with opened(served, browser, LAPTOP, QUILT) as sheet:
        page = sheet.page
        first = shape(sheet)
        fonts(sheet)
        held: list[Any] = []
        page.route("**/api/plan", lambda route: held.append(route))
        page.keyboard.press("ArrowDown")
        sheet.settled(lambda: len(held), 1)
        page.keyboard.press("ArrowDown")
        page.evaluate("() => new Promise(done => { setTimeout(done, 300); })")
        assert len(held) == 1  # one question at a time
        held[0].continue_()
        sheet.settled(lambda: len(held), 2)
        assert shape(sheet) == first
        fonts_asked = [route.request.post_data_json["row"][1]["font"] for route in held]
        held[1].continue_()
        sheet.settled(lambda: shape(sheet) == first, False)
        assert page.locator(".font.shown strong").inner_text() == fonts_asked[1] != fonts_asked[0]


@pytest.mark.long
def test_a_weight_shows_on_the_quilt_and_goes_back_or_is_taken_as_one_step(
    served: Served, browser: Any
) -> None:
    with opened(served, browser, LAPTOP, QUILT) as sheet:
        page = sheet.page
        before, first = sheet.design(), shape(sheet)
        for take in (False, True):
            fonts(sheet)
            slider = card(sheet, "Montserrat").get_by_label("Weight")
            for weight in ("700", "500", "300"):
                slider.fill(weight)
            sheet.settled(lambda: shape(sheet) == first, False)
            assert sheet.design() == before
            slider.press("Enter" if take else "Escape")
            if not take:
                sheet.settled(lambda: shape(sheet), first)
        sheet.settled(lambda: sheet.design()["row"][1].get("axes"), {"weight": 300})
        page.get_by_role("button", name="Undo").click()
        sheet.settled(sheet.design, before)
        assert page.get_by_role("button", name="Undo").is_disabled()


def test_a_slider_of_the_settings_shows_while_it_is_dragged(served: Served, browser: Any) -> None:
    with opened(served, browser, LAPTOP, QUILT) as sheet:
        page = sheet.page
        before, first = sheet.design(), shape(sheet)
        sheet.unfold("letters")
        slider = page.get_by_role("slider", name="Weight, to slide")
        slider.scroll_into_view_if_needed()
        box = slider.bounding_box()
        x, y = box["x"] + box["width"] * 0.3, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 20, y, steps=4)
        page.locator("#stage.trying").wait_for()
        sheet.settled(lambda: shape(sheet) == first, False)
        assert sheet.design() == before
        page.keyboard.press("Escape")
        sheet.settled(lambda: shape(sheet), first)
        page.mouse.up()
        assert sheet.design() == before
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 30, y, steps=4)
        page.mouse.up()
        sheet.settled(lambda: "axes" in sheet.design().get("lettering", {}), True)
        typed = page.locator("[data-focus='lettering.axes.weight']")
        assert (
            typed.input_value() == str(sheet.design()["lettering"]["axes"]["weight"]) == slider.input_value()
        )
        page.get_by_role("button", name="Undo").click()
        sheet.settled(sheet.design, before)


@pytest.mark.long
def test_a_font_that_lacks_a_letter_says_so_and_the_quilt_stays(served: Served, browser: Any) -> None:
    russian = {**QUILT, "row": [{"text": "OAR"}, {"text": "РЯД"}]}
    with opened(served, browser, LAPTOP, russian) as sheet:
        page = sheet.page
        first = shape(sheet)
        fonts(sheet)
        page.get_by_label("Only fonts that have all my letters").uncheck()
        card(sheet, "Titan One").locator("input[type=radio]").focus()
        page.keyboard.press("Space")
        page.locator("#font-problem").filter(has_text="no letter for").wait_for()
        assert shape(sheet) == first
        page.keyboard.press("Escape")
        assert sheet.design() == russian


@pytest.mark.long
def test_axe_finds_nothing_while_a_font_is_tried_on_a_phone(served: Served, browser: Any) -> None:
    with opened(served, browser, PHONE, QUILT) as sheet:
        fonts(sheet)
        sheet.page.keyboard.press("ArrowDown")
        sheet.page.locator("#stage.trying").wait_for()
        results = Axe().run(sheet.page, options={"runOnly": AXE}).response
        assert [(one["id"], one["nodes"][0]["html"]) for one in results["violations"]] == []
