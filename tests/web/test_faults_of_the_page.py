"""What went wrong when makers typed and moved things on the page, each as it happened, in a real browser."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from applique.design import design_from_mapping
from applique.units import parse_length
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Running, Served

pytestmark = pytest.mark.browser


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    context = browser.new_context(viewport={"width": 1280, "height": 800}, accept_downloads=True)
    opened = Sheet(context.new_page(), served.address)
    yield opened
    opened.quiet()
    context.close()


def moved(sheet: Sheet) -> list[tuple[str, str | None]]:
    return [(row["text"], row.get("right")) for row in sheet.design()["row"]]


@pytest.mark.long
def test_a_move_landed_on_the_row_that_had_come_in_its_place(sheet: Sheet) -> None:
    """B is moved and A removed before the move is asked for, then before it is answered; B stays chosen, and a move
    of a row that is removed is let go."""
    page = sheet.page
    sheet.words("A", "B", "C", "D")
    page.get_by_label("To move").select_option("2")
    page.evaluate(
        """() => {
          const drawing = document.querySelector('#drawing');
          drawing.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', shiftKey: true, bubbles: true }));
          document.querySelector('[aria-label="Remove row 1"]').click();
        }"""
    )
    sheet.settled(lambda: moved(sheet), [("B", "1in"), ("C", None), ("D", None)])
    sheet.rested()
    assert page.get_by_label("To move").input_value() == "1"

    held: list[Any] = []
    page.route("**/api/move", lambda route: route.continue_() if held else held.append(route))
    page.get_by_label("To move").select_option("2")
    page.locator("#drawing").press("Shift+ArrowRight")
    sheet.settled(lambda: len(held), 1)
    page.get_by_role("button", name="Remove row 1").click()
    held[0].continue_()
    sheet.settled(lambda: moved(sheet), [("C", "1in"), ("D", None)])
    sheet.rested()

    page.evaluate(
        """() => {
          const drawing = document.querySelector('#drawing');
          drawing.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', shiftKey: true, bubbles: true }));
          document.querySelector('[aria-label="Remove row 1"]').click();
        }"""
    )
    sheet.rested()
    page.locator("#drawing").press("ArrowUp")
    sheet.settled(lambda: sheet.design()["row"], [{"text": "D", "up": "1/8in"}])
    page.locator("#drawing").press("Shift+ArrowUp")
    page.locator("#drawing").press("Control+z")
    page.locator("#drawing").press("ArrowUp")
    sheet.settled(lambda: sheet.design()["row"], [{"text": "D", "up": "1/4in"}])


@pytest.mark.long
def test_a_program_that_had_gone_was_not_missed(
    start_page: type[Running], browser: Any, tmp_path: Path
) -> None:
    """Killed while a pattern is made, then started again under the same address: the page says so each time, saves a
    copy that is the design, throws nothing, and goes on. Started under another key, a reload is answered in words."""
    running = start_page(tmp_path)
    context = browser.new_context(viewport={"width": 1280, "height": 800}, accept_downloads=True)
    with running as served:
        sheet = Sheet(context.new_page(), served.address)
        page, gone = sheet.page, sheet.page.locator("#gone")
        sheet.words("OAR", 'A "B" \\ Ł')
        sheet.rested()
        page.get_by_role("button", name="Make the pattern").click()
        page.locator(".steps .now").wait_for()
        running.process.kill()
    page.get_by_text("The making has stopped: the program ended").wait_for()
    page.get_by_role("button", name="Back to the design").click()
    gone.get_by_text("does not answer").wait_for()
    page.locator("#drawing").press("ArrowRight")
    sheet.unfold("letters")
    page.locator("[data-focus='font-all']").click()
    page.locator("#font-problem").filter(has_text="does not answer").wait_for()
    page.locator("#font-dialog").get_by_role("button", name="Close").click()
    page.get_by_label("Title of the quilt").fill("Boats, kept")
    page.get_by_label("Words of row 1").fill("OARS")
    page.locator("#kept[data-kept='no']").wait_for()
    assert page.locator("#kept").text_content() == "Not saved yet"
    page.locator("#title").press("Control+s")
    with page.expect_download() as waiting:
        page.locator("#save-dialog").get_by_role("button", name="Save").click()
    assert waiting.value.suggested_filename == "Boats kept.toml"
    copy = tomllib.loads(Path(waiting.value.path()).read_text("utf-8"))
    assert copy == sheet.design()
    assert [row.text for row in design_from_mapping(copy).row] == ["OARS", 'A "B" \\ Ł']

    port = served.origin.rsplit(":", 1)[1]
    with start_page(tmp_path, "--port", port):
        gone.wait_for(state="hidden")
        page.locator("#drawing[aria-label*='OARS']").wait_for()
        page.locator("#buy:not(.stale) .bill").wait_for(state="attached")
        page.locator("#kept[data-kept='yes']").wait_for()
    with start_page(tmp_path / "another", "--port", port):
        page.get_by_label("Words of row 1").fill("OARSMEN")
        gone.get_by_text("does not know this page").wait_for()
        assert not [text for text in sheet.said if "Failed to load" not in text and text.startswith("error")]
        page.reload()
        page.get_by_role("heading", name="the key of this page is missing").wait_for()
    context.close()


@pytest.mark.long
def test_an_idle_page_did_not_notice_that_the_program_had_ended(
    start_page: type[Running], browser: Any, tmp_path: Path
) -> None:
    """Nobody touches the page: it says so by itself, and that the program is back."""
    running = start_page(tmp_path)
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    with running as served:
        sheet = Sheet(context.new_page(), served.address)
        sheet.page.locator("#find-setting").wait_for()  # the last that it asks for by itself
        sheet.page.wait_for_load_state("networkidle")
        running.process.kill()
    gone = sheet.page.locator("#gone")
    gone.get_by_text("does not answer").wait_for()
    with start_page(tmp_path, "--port", served.origin.rsplit(":", 1)[1]):
        gone.wait_for(state="hidden")
    context.close()


def test_the_text_of_the_design_put_old_words_back(sheet: Sheet, tmp_path: Path) -> None:
    """It follows the design; taken although the design has changed since it was typed in, it asks. What is wrong in it
    has its line, and what is wrong in a file that was not opened is no fault of the design that is there."""
    page = sheet.page
    sheet.words("OAR")
    sheet.unfold("text")
    text = page.get_by_label("The design as TOML")
    sheet.settled(lambda: "OAR" in text.input_value(), True)
    page.get_by_label("Words of row 1").fill("OARS")
    sheet.settled(lambda: "OARS" in text.input_value(), True)
    text.fill('[[row]]\ntext = "LOCK"\ncap_hight = "7in"\n')
    page.get_by_role("button", name="Take this text").click()
    page.get_by_role("button", name="Line 3").click()
    assert text.evaluate("area => area.value.slice(area.selectionStart, area.selectionEnd)") == (
        'cap_hight = "7in"'
    )
    text.fill('[[row]]\ntext = "LOCK"\ncap_height = "3in"\n')
    page.get_by_label("Title of the quilt").fill("Boats")
    page.get_by_label("Words of row 1").fill("OARSMEN")
    assert page.get_by_text("The design has changed since you began to type here.").is_visible()
    page.get_by_role("button", name="Take this text").click()
    anyway = page.get_by_role("button", name="Take this text all the same")
    anyway.wait_for()
    assert (sheet.design()["title"], sheet.design()["row"]) == ("Boats", [{"text": "OARSMEN"}])
    page.get_by_role("button", name="Show the design as it is now").click()
    sheet.settled(lambda: "OARSMEN" in text.input_value() and "Boats" in text.input_value(), True)
    text.fill('[[row]]\ntext = "LOCK"\n')
    page.get_by_role("button", name="Take this text").click()
    sheet.settled(lambda: sheet.design()["row"], [{"text": "LOCK"}])
    assert page.evaluate("() => document.activeElement.id") == "text-take"

    wrong = tmp_path / "wrong.toml"
    wrong.write_text('[panel]\nwidth = "20in"\n\n[[row]]\ntext = "OAR"\ncap_height = "tall"\n', "utf-8")
    page.locator("#open-file").set_input_files(wrong)
    page.locator("#findings").get_by_text(re.compile("wrong.toml was not opened: Line 6: Row 1")).wait_for()
    assert page.locator("[aria-invalid]").count() == 0
    assert page.get_by_role("button", name="Make the pattern").is_enabled()


@pytest.mark.long
def test_a_design_was_refused_after_its_font_had_been_added(
    sheet: Sheet, dejavu_bold: str, tmp_path: Path
) -> None:
    page = sheet.page
    design = tmp_path / "mine.toml"
    design.write_text('[lettering]\nfont = "../fonts/Mine own.TTF"\n[[row]]\ntext = "OAR"\n', "utf-8")
    page.locator("#open-file").set_input_files(design)
    page.get_by_text("the font file “Mine own.ttf” is not on this page").first.wait_for()
    sheet.unfold("letters")
    page.locator("[data-focus='font-all']").click()
    font = {"name": "Mine own.ttf", "mimeType": "font/ttf", "buffer": Path(dejavu_bold).read_bytes()}
    page.locator("#font-file").set_input_files(font)
    sheet.drawn(1)


PASTE = """([field, text]) => {
  const data = new DataTransfer();
  data.setData('text/plain', text);
  const pasted = new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true });
  return document.querySelector(field).dispatchEvent(pasted);
}"""


@pytest.mark.long
def test_five_typed_words_were_one_and_a_poem_too(sheet: Sheet) -> None:
    """Words are undone one by one, and after a pause; lines that are pasted are rows; what is too long is said."""
    page = sheet.page
    words = page.get_by_label("Words of row 1", exact=True)
    words.press_sequentially("the river has")
    page.wait_for_timeout(1700)
    words.press_sequentially("n't")
    seen = []
    for _ in range(4):
        page.keyboard.press("Control+z")
        seen.append(sheet.design()["row"][0]["text"])
    assert seen == ["the river has", "the river ", "the ", ""]

    words.fill("at dawn, at noon")
    words.evaluate("field => field.setSelectionRange(9, 16)")
    assert not page.evaluate(PASTE, ["[data-focus='text-0']", "the river \r\n\r\nhas time\nand so\n"])
    rows = ["at dawn, the river", "has time", "and so"]
    sheet.settled(lambda: [row["text"] for row in sheet.design()["row"]], rows)
    assert page.evaluate("() => document.activeElement.dataset.focus") == "text-2"
    page.keyboard.press("Control+z")
    sheet.settled(lambda: [row["text"] for row in sheet.design()["row"]], ["at dawn, at noon"])

    words.fill("word " * 2000)
    page.locator("#findings").get_by_text("at most 2,000 letters in a row").wait_for()
    assert len(sheet.design()["row"][0]["text"]) == 10_000
    assert page.evaluate(PASTE, ["#title", "a" * 200])
    assert not page.evaluate(PASTE, ["#title", "a" * 201])
    assert page.locator("#title").evaluate("field => field.validationMessage").startswith("That is 201")


@pytest.mark.long
def test_moves_by_hand_stayed_as_they_were_when_the_letters_became_smaller(sheet: Sheet) -> None:
    """Twice as many letters are half as large where they are as large as fits, and so is the move of each; it is
    undone with the words, and comes back with the size, to the inch."""
    page = sheet.page
    sheet.words("HOHO")
    page.get_by_label("To move").select_option("1 2")
    page.locator("#drawing").press("Shift+ArrowUp")

    def moves() -> list[tuple[int, Fraction]]:
        nudges = sheet.design()["row"][0].get("nudge", [])
        return [(nudge["letter"], parse_length(nudge["up"])) for nudge in nudges]

    sheet.settled(moves, [(2, 1)])
    sheet.rested()
    height = "() => document.querySelector('#art .letter[data-letter=\"1\"] path').getBBox().height"
    before = page.evaluate(height)
    page.get_by_label("Words of row 1").fill("HOHOHOHO")
    sheet.settled(lambda: moves()[0][1] == 1, False)
    sheet.rested()
    times = page.evaluate(height) / before
    assert times < 0.6
    [(_, up)] = moves()
    assert (up * 32).denominator == 1
    assert float(up) == pytest.approx(times, abs=1 / 64 + 0.01)
    page.get_by_role("button", name="Undo").click()
    sheet.settled(lambda: (sheet.design()["row"][0]["text"], moves()), ("HOHO", [(2, 1)]))
    page.get_by_role("button", name="Redo").click()
    sheet.settled(moves, [(2, up)])
    sheet.rested()

    held: list[Any] = []
    page.route("**/api/plan", lambda route: route.continue_() if held else held.append(route))
    page.get_by_role("button", name="Undo").click()
    sheet.settled(lambda: len(held), 1)
    page.get_by_role("button", name="Redo").click()
    held[0].continue_()
    sheet.rested()
    assert moves() == [(2, up)], "they followed a drawing of before the redo"
    page.get_by_label("Words of row 1").fill("HOHO")
    sheet.settled(moves, [(2, 1)])


def test_the_weight_of_the_font_in_use_did_nothing(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    sheet.unfold("letters")
    page.locator("[data-focus='font-all']").click()
    used = page.locator(".font:has(.chosen)")
    used.wait_for()
    before = page.locator("#art .letter path").first.get_attribute("d")
    used.get_by_label("Weight").fill("400")
    sheet.settled(lambda: page.locator("#art .letter path").first.get_attribute("d") == before, False)
    used.get_by_role("button", name="Use this font").click()
    sheet.settled(lambda: sheet.design()["lettering"], {"axes": {"weight": 400}})


@pytest.mark.long
def test_a_border_of_squares_had_one_fabric_and_the_keyboard_went_astray(sheet: Sheet) -> None:
    """Squares get a second fabric, a third is another one; what is added or removed leaves the keyboard in its
    place."""
    page = sheet.page
    sheet.words("OAR")

    def focus() -> str:
        return str(page.evaluate("() => document.activeElement.dataset.focus"))

    sheet.unfold("cloth")
    page.get_by_role("button", name="Add a fabric").press("Enter")
    assert focus() == "add-fabric"
    sheet.unfold("edges")
    page.get_by_role("button", name="Plain strip").press("Enter")
    assert focus() == "add-border"
    page.locator("[data-focus='border.1.kind']").select_option("squares")
    sheet.settled(lambda: sheet.design()["border"][0]["fabrics"], ["Fabric 1", "Fabric 2"])
    page.locator("#art > .patch:nth-child(9)").wait_for(state="attached")
    page.get_by_text("No problems found.").wait_for()
    page.get_by_role("button", name="Add a fabric").first.press("Enter")
    page.locator("[data-focus='border-0-add']").press("Enter")
    sheet.settled(lambda: sheet.design()["border"][0]["fabrics"], ["Fabric 1", "Fabric 2", "Fabric 3"])
    assert focus() == "border-0-add"
    page.locator("[data-focus='border-0-remove']").press("Enter")
    assert focus() == "add-border"
    page.get_by_role("button", name="Remove Fabric 3").press("Enter")
    assert focus() == "add-fabric"

    sheet.unfold("sewing")
    page.get_by_role("button", name="Add quilting").press("Enter")
    page.locator("#art > .quilting").first.wait_for(state="attached")
    page.locator("[data-focus='quilting.1.kind']").select_option("crosshatch")
    sheet.settled(lambda: sheet.design()["quilting"], [{"kind": "crosshatch"}])
    page.get_by_role("button", name="Remove quilting 1").press("Enter")
    sheet.settled(lambda: sheet.design().get("quilting"), None)
    assert focus() == "add-quilting"

    for field, choice in (("stitch", "satin"), ("when", "after the borders")):
        page.locator(f"[data-focus='stitching.{field}']").select_option(choice)
    spool = page.locator("[data-focus='stitching.spool']")
    assert spool.get_attribute("placeholder") == "500 yd"
    spool.fill("1000m")
    sheet.settled(
        lambda: sheet.design()["stitching"],
        {"stitch": "satin", "when": "after the borders", "spool": "1000m"},
    )
    page.get_by_text("No problems found.").wait_for()


CONTRAST = """element => {
  const light = (color) => {
    const parts = color.match(/[\\d.]+/g).slice(0, 3).map((part) => part / 255)
      .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2];
  };
  const style = getComputedStyle(element);
  const on = getComputedStyle(element.closest('#buy, #settings')).backgroundColor;
  const ratio = (one, other) => (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
  return [ratio(light(style.color), light(on)), ratio(light(style.borderTopColor), light(on)), Number(style.opacity)];
}"""


@pytest.mark.long
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_what_stopped_the_work_was_out_of_sight(served: Served, browser: Any, scheme: str) -> None:
    """WCAG 2.2, 1.4.3 and 1.4.11: numbers that are not of now have 4.5 to 1, the border of a field 3 to 1."""
    context = browser.new_context(viewport={"width": 1280, "height": 800}, color_scheme=scheme)
    sheet = Sheet(context.new_page(), served.address)
    page = sheet.page
    sheet.unfold("cloth")
    width = page.get_by_role("textbox", name=re.compile("^Width"))
    width.fill("seven")
    page.get_by_label("Words of row 1").fill("OAR")
    said = page.locator("#empty-said").filter(has_text="isn't a measurement I can read")
    said.wait_for()
    assert page.get_by_text("Your words go here.").is_hidden()
    width.fill("20in")
    sheet.drawn(1)
    assert said.is_hidden()
    assert page.get_by_role("heading", level=1).inner_text() == "OAR"
    page.locator("#buy:not(.stale) .bill").wait_for(state="attached")
    sheet.unfold("sheets")
    length = page.locator("[data-focus='print.scale_x']")
    length.fill("tall")
    stop = page.locator("#behind").filter(has_text="isn't a measurement I can read")
    stop.wait_for()
    box = stop.bounding_box()
    assert box is not None
    assert 0 <= box["y"] <= 800 - box["height"]
    words, _, opacity = page.locator("#buy").evaluate(CONTRAST.replace("style.borderTopColor", "style.color"))
    assert words >= 4.5
    assert opacity == 1
    _, border, _ = page.locator("[data-focus='paper.size']").evaluate(CONTRAST)
    assert border >= 3
    length.fill("")
    page.emulate_media(forced_colors="active")
    pressed, other = (
        page.locator(f".choice label:has([value={value}])").evaluate(
            "one => getComputedStyle(one).backgroundColor"
        )
        for value in ("row", "letter")
    )
    assert pressed != other
    swatch = page.locator(".row .swatch").evaluate("one => getComputedStyle(one).backgroundColor")
    assert swatch == "rgb(35, 64, 95)"
    page.emulate_media(forced_colors="none")
    sheet.rested()

    held: list[Any] = []
    page.route("**/api/make?*", lambda route: held.append(route))
    page.get_by_role("button", name="Make the pattern").click()
    assert page.locator(".steps .now").inner_text() == "Laying the letters out on web and fabric"
    sheet.settled(lambda: len(held), 1)
    held[0].abort()
    context.close()
