"""Answers to a design that has changed since it was asked of, in a real browser: each is held until it has."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

FONT = Path(__file__).parents[2] / "fonts" / "rubik" / "Rubik[wght].ttf"


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    opened = Sheet(context.new_page(), served.address)
    yield opened
    opened.quiet()
    context.close()


def striped() -> bytes:
    """Red above blue, as a PNG."""
    picture = Image.new("RGB", (80, 40), (204, 16, 32))
    picture.paste((16, 32, 204), (0, 20, 80, 40))
    file = io.BytesIO()
    picture.save(file, "PNG")
    return file.getvalue()


def holding(sheet: Sheet, address: str) -> Callable[[], None]:
    """Hold the next question to that address; what is returned waits until it was asked, and lets it go."""
    held: list[Any] = []
    sheet.page.route(f"**/api/{address}", lambda route: route.continue_() if held else held.append(route))

    def let_go() -> None:
        sheet.settled(lambda: len(held), 1)
        held[0].continue_()

    return let_go


def test_a_cure_put_back_what_was_typed_after_it_was_found(sheet: Sheet) -> None:
    """The title is typed while the drawing of it is not there yet; the cure waits, and then keeps the title. What is
    to buy and the size are those of before a letter that cannot be drawn, and are marked as such."""
    page = sheet.page
    sheet.words("OAR")
    size = page.locator("#finished").inner_text()
    page.get_by_label("Words of row 1").fill("OAR ש")
    cure = page.locator("#findings .cure").first
    cure.wait_for()
    assert page.locator("#buy.stale").count() == 1
    assert page.locator("#buy-state").inner_text() == "Out of date"
    assert page.locator("#buy").get_attribute("data-age") == "Out of date"
    assert page.locator("#finished").inner_text() == f"{size}, out of date"

    let_go = holding(sheet, "plan")
    page.get_by_label("Title of the quilt").fill("Kept")
    assert cure.get_attribute("aria-disabled") == "true"
    cure.evaluate("button => button.click()")
    assert sheet.design()["title"] == "Kept"
    assert "font" not in sheet.design()["row"][0]
    let_go()
    page.locator("#findings .cure:not([aria-disabled='true'])").first.click()
    sheet.settled(lambda: sheet.design()["row"][0].get("font"), "Fredoka")
    assert sheet.design()["title"] == "Kept"
    sheet.settled(lambda: page.locator("#finished").inner_text(), size)
    assert page.locator("#buy").get_attribute("data-age") is None


def test_a_cure_took_the_row_away_that_had_no_words_yet(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR", "BOAT")
    page.get_by_role("button", name="Add a row of words").click()
    page.get_by_label("Words of row 2").fill("BOAT ש")
    page.get_by_label("Words of row 1").fill("")
    cure = page.locator("#findings .cure:not([aria-disabled='true'])").first
    cure.wait_for()
    sheet.rested()
    assert [row["text"] for row in sheet.design()["row"]] == ["", "BOAT ש", ""]
    cure.click()
    sheet.settled(lambda: sheet.design()["row"][1].get("font"), "Fredoka")
    assert [row["text"] for row in sheet.design()["row"]] == ["", "BOAT ש", ""]
    assert "font" not in sheet.design()["row"][0]


def test_a_photo_was_lost_whose_fabric_was_given_another_name_meanwhile(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    sheet.unfold("cloth")
    page.get_by_role("button", name="Add a fabric", exact=True).click()
    page.locator("[data-focus='fabric-0-name']").fill("Birds")
    page.locator("[data-focus='fabric-0-name']").press("Tab")
    sheet.settled(lambda: sheet.design()["fabric"][0]["name"], "Birds")
    let_go = holding(sheet, "photos?name=*")
    page.locator("#photo-file-0").set_input_files(
        {"name": "birds.png", "mimeType": "image/png", "buffer": striped()}
    )
    page.locator("[data-focus='fabric-0-name']").fill("Geese")
    page.locator("[data-focus='fabric-0-name']").press("Tab")
    sheet.settled(lambda: sheet.design()["fabric"][0]["name"], "Geese")
    let_go()
    sheet.settled(lambda: sheet.design()["fabric"][0].get("photo"), "birds.png")


def test_two_buttons_were_dead_that_ask_which_window_goes_on(sheet: Sheet, browser: Any) -> None:
    """They are no cures of a finding, which wait for the next drawing when something has been typed."""
    sheet.words("OAR")
    sheet.page.locator("#kept[data-kept='yes']").wait_for()
    other = browser.new_context()
    second = Sheet(other.new_page(), sheet.page.url)
    second.page.get_by_label("Words of row 1").fill("BOAT")
    second.page.locator("#kept[data-kept='yes']").wait_for()
    other.close()
    sheet.page.get_by_label("Words of row 1").fill("SHIP")
    sheet.page.locator("#take-theirs").click()
    sheet.settled(lambda: sheet.design()["row"][0]["text"], "BOAT")


@pytest.mark.long
def test_numbers_of_before_were_not_marked_until_the_new_drawing_had_come(sheet: Sheet) -> None:
    """Undo takes effect on the numbers in the moment of the click."""
    page = sheet.page
    sheet.words("I")
    page.get_by_label("Title of the quilt").fill("One")
    page.locator("#buy:not(.stale) .bill").wait_for(state="attached")
    let_go = holding(sheet, "plan")
    page.get_by_role("button", name="Undo").click()
    assert page.locator("#buy.stale .bill").count() == 1
    let_go()
    page.locator("#buy:not(.stale) .bill").wait_for(state="attached")


def test_a_move_put_back_what_was_typed_while_it_was_asked(sheet: Sheet) -> None:
    """A row is turned by its field while a move of it is on its way: it is both moved and turned."""
    page = sheet.page
    sheet.words("OAR")
    page.get_by_label("To move").select_option("1")
    page.locator("#art .letter[data-row='1']").first.click()
    page.locator("[data-focus='beside-turn']").wait_for()
    let_go = holding(sheet, "move")
    page.locator("#drawing").press("Shift+ArrowRight")
    page.wait_for_function("() => !document.querySelector('#stage').classList.contains('moving')")
    page.locator("[data-focus='beside-turn']").fill("5")
    page.locator("[data-focus='beside-turn']").press("Tab")
    sheet.settled(lambda: sheet.design()["row"][0].get("turn"), 5)
    let_go()
    sheet.settled(lambda: sheet.design()["row"][0], {"text": "OAR", "right": "1in", "turn": 5})
    sheet.rested()


def test_text_that_was_typed_while_the_design_was_taken_from_it_was_lost(sheet: Sheet) -> None:
    """What is typed on stays in the field and can be taken too; words typed elsewhere meanwhile are asked about."""
    page = sheet.page
    sheet.words("OAR")
    sheet.unfold("text")
    text, take = page.locator("textarea.toml"), page.locator("#text-take")
    sheet.settled(lambda: "OAR" in text.input_value(), True)
    rows = text.input_value()
    let_go = holding(sheet, "read")
    text.fill(rows.replace("OAR", "BOAT"))
    take.click()
    text.fill(rows.replace("OAR", "BOATS"))
    let_go()
    sheet.settled(lambda: sheet.design()["row"][0]["text"], "BOAT")
    assert "BOATS" in text.input_value()
    take.click()
    sheet.settled(lambda: sheet.design()["row"][0]["text"], "BOATS")

    page.unroute("**/api/read")
    sheet.settled(lambda: "BOATS" in text.input_value(), True)
    let_go = holding(sheet, "read")
    text.fill(rows.replace("OAR", "SHIP"))
    take.click()
    page.get_by_label("Title of the quilt").fill("Kept")
    let_go()
    page.locator("#text-changed").filter(has_text="changed").wait_for()
    assert sheet.design()["title"] == "Kept"
    assert sheet.design()["row"][0]["text"] == "BOATS"


def some_fonts(route: Any) -> None:
    """The first of the fonts, and those that were added."""
    answer = route.fetch()
    fonts = answer.json()["fonts"]
    route.fulfill(response=answer, json={"fonts": fonts[:2] + [font for font in fonts[2:] if font["own"]]})


@pytest.mark.long
def test_a_font_stood_twice_in_the_list_when_one_was_added_before_it_was_full(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("I")
    sheet.unfold("letters")
    page.route("**/api/fonts", some_fonts)
    let_go = holding(sheet, "sample")
    page.locator("[data-focus='font-all']").click()
    page.locator("#font-file").set_input_files(FONT)
    page.locator(".font[data-kind='own']").wait_for(state="attached")
    with page.expect_response("**/api/sample"):
        let_go()
    sheet.rested()
    names = page.locator(".font strong").all_text_contents()
    assert len(names) == len(set(names))
