"""The page in a real browser, from its first empty row to a folder whose pages print at true size."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pypdfium2
import pytest

from applique.units import parse_length
from tests.web.patience import SLOW

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

POINTS_PER_INCH = 72.0
RULE_TICKS = 0.6
"""Inches from the lower edge of the paper to where every eighth of the rule reaches, and no figure does."""


class Sheet:
    """A page under test, and everything its console said; `listing` unfolds the list of what was found."""

    def __init__(self, page: Any, address: str, *, listing: bool = True) -> None:
        self.page = page
        page.set_default_timeout(SLOW)
        self.said: list[str] = []
        self.asked: list[str] = []
        page.on("console", lambda message: self.said.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: self.said.append(f"error: {error}"))
        page.on("request", lambda request: self.asked.append(request.url))
        self.drawings = 0
        page.on("request", lambda request: self._drawing(request.url, 1))
        page.on("requestfinished", lambda request: self._drawing(request.url, -1))
        page.on("requestfailed", lambda request: self._drawing(request.url, -1))
        page.goto(address)
        page.locator("body.ready").wait_for()
        if listing and not page.locator("body.starting").count():
            page.locator("#findings-open").click()

    def words(self, *rows: str) -> None:
        """Type rows of words into an empty page."""
        for index, row in enumerate(rows):
            if index:
                self.page.get_by_role("button", name="Add a row of words").click()
            self.page.get_by_label(f"Words of row {index + 1}", exact=True).fill(row)
        self.drawn(len(rows))

    def unfold(self, *places: str) -> None:
        """Open places of the settings, and what is folded away in them."""
        for name in places:
            place = self.page.locator(f"[data-group='{name}']")
            place.locator("> summary").click()
            place.locator("> :nth-child(2)").wait_for(
                state="attached"
            )  # a place is filled when it has unfolded
            self.unfold_more(name)

    def unfold_more(self, name: str) -> None:
        """Open what is still folded away in an open place of the settings."""
        for folded in self.page.locator(f"[data-group='{name}'] .more:not([open]) > summary").all()[::-1]:
            folded.click()

    def drawn(self, rows: int) -> None:
        """Wait until the drawing shows so many rows."""
        self.page.locator(f"#art .letter[data-row='{rows}']").first.wait_for(state="attached")

    def design(self) -> dict[str, Any]:
        """The design as the page holds it."""
        return dict(self.page.evaluate("() => JSON.parse(sessionStorage.getItem('design'))"))

    def settled(self, ask: Callable[[], object], wanted: object) -> None:
        """Wait until `ask` answers what is wanted."""
        for _ in range(SLOW // 50):
            if ask() == wanted:
                return
            self.page.wait_for_timeout(50)
        assert ask() == wanted

    def _drawing(self, url: str, more: int) -> None:
        if url.endswith("/api/plan"):
            self.drawings += more

    def rested(self) -> None:
        """Wait until the drawing is that of the design: nothing is asked, and nothing is asked anew a while later."""
        calm = 0
        while calm < 4:
            self.page.wait_for_timeout(75)
            calm = 0 if self.drawings else calm + 1

    def quiet(self) -> None:
        """No error in the console, and nothing asked of any other machine."""
        errors = [text for text in self.said if text.startswith("error") and "status of 4" not in text]
        assert not errors
        origin = self.page.url.split("/", 3)[2]
        assert all(url.split("/", 3)[2] == origin for url in self.asked if url.startswith("http"))


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    context = browser.new_context(viewport={"width": 1280, "height": 800}, accept_downloads=True)
    opened = Sheet(context.new_page(), served.address)
    yield opened
    opened.quiet()
    context.close()


def saved(download: Any) -> bytes:
    return Path(download.path()).read_bytes()


def printed_ticks(pdf: bytes, page: int, dpi: int = 300) -> list[float]:
    """Where the eighths of the rule along the bottom of a letter page stand, in inches, as PDFium paints them."""
    document = pypdfium2.PdfDocument(pdf)
    dark = document[page].render(scale=dpi / POINTS_PER_INCH, grayscale=True).to_numpy().squeeze() < 128
    document.close()
    row = dark[round((11 - RULE_TICKS) * dpi)]
    ends = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
    return [float(x) for x in (ends[::2] + ends[1::2]) / 2 / dpi]


@pytest.mark.long
def test_from_an_empty_page_to_a_folder_that_prints_at_true_size(sheet: Sheet) -> None:
    """The rule of 6 in along the bottom of a template page is measured as PDFium paints it."""
    page = sheet.page
    sheet.words("RIVER", "HOUSE")
    page.get_by_role("button", name="Make the pattern").click()
    whole = page.get_by_role("button", name=re.compile("Download the folder"))
    whole.wait_for(timeout=SLOW)
    first = page.locator("img.sheet").first
    page.locator("img.sheet[src^='blob']").first.wait_for()
    first.evaluate("picture => picture.decode()")
    assert first.evaluate("picture => picture.naturalWidth") == 440
    with page.expect_download() as waiting:
        whole.click()
    archive = zipfile.ZipFile(io.BytesIO(saved(waiting.value)))
    names = {name.split("/", 1)[1] for name in archive.namelist()}
    assert {
        "pattern.pdf",
        "templates-mirrored.pdf",
        "placement-guide.pdf",
        "design.toml",
        "pattern.json",
    } <= names
    templates = archive.read(
        next(name for name in archive.namelist() if name.endswith("templates-mirrored.pdf"))
    )
    ticks = printed_ticks(templates, 1)
    assert [tick - ticks[0] for tick in ticks] == pytest.approx(
        [eighth / 8 for eighth in range(49)], abs=0.01
    )
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Download templates-mirrored.pdf").click()
    assert saved(waiting.value) == templates


def ink(sheet: Sheet, letter: str) -> tuple[float, float]:
    """The middle of a letter of the drawing on the screen."""
    box = sheet.page.locator(letter).bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_a_letter_is_dragged_and_the_drag_undone_and_redone(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    page.get_by_text("Move letters").click()
    x, y = ink(sheet, "[data-letter='3'] path")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 20, y + 30, steps=6)
    page.locator("#distance").filter(has_text="down").wait_for()
    page.mouse.up()
    sheet.settled(lambda: [nudge["letter"] for nudge in sheet.design()["row"][0].get("nudge", [])], [3])
    page.keyboard.press("Control+z")
    sheet.settled(lambda: sheet.design()["row"][0].get("nudge"), None)
    page.keyboard.press("Control+Shift+z")
    sheet.settled(lambda: bool(sheet.design()["row"][0].get("nudge")), True)
    page.get_by_role("button", name="Put back").click()
    sheet.settled(lambda: sheet.design()["row"][0].get("nudge"), None)


SATIN = """
[panel]
width = "20in"
height = "12in"

[[row]]
text = "OAR"
stitch = "satin"
thread = "#a05030"
outline = "1/4in"

[[fabric]]
name = "Sea"
color = "#203040"

[[border]]
kind = "strip"
width = "2in"
fabrics = ["Sea"]

[[quilting]]
kind = "in the ditch"
"""


@pytest.mark.long
def test_stitches_move_with_their_letter_and_quilting_comes_with_the_numbers(
    sheet: Sheet, tmp_path: Path
) -> None:
    """A letter is taken hold of through the stitch that lies on its edge; a row takes its outline layer along."""
    page = sheet.page
    design = tmp_path / "satin.toml"
    design.write_text(SATIN, encoding="utf-8")
    page.locator("#open-file").set_input_files(design)
    page.locator("#art > .quilting >> nth=3").wait_for(state="attached")
    parts = page.locator("#art > *").evaluate_all("all => all.map((one) => one.classList[0])")
    pieces = ["outline", "stitch"] * 3 + ["letter", "stitch"] * 3
    assert parts == ["patch"] * 4 + ["panel", *pieces, *["quilting"] * 4, "edge"]
    pen = page.locator("#art > .stitch[data-letter='3'] path")
    assert (pen.get_attribute("stroke"), pen.get_attribute("fill")) == ("#a05030", "none")
    assert float(pen.get_attribute("stroke-width")) == pytest.approx(3 / 25.4)
    moved = """rows => [...document.querySelectorAll('#art > *')].filter((one) => one.style.translate)
      .map((one) => `${one.classList[0]} ${one.dataset.letter ?? ''}`.trim())"""
    page.get_by_text("Move letters").click()
    box = page.locator("#art > .letter[data-letter='3'] path").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 1, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + 41, box["y"] + box["height"] / 2, steps=4)
    assert page.evaluate(moved) == ["letter 3", "stitch 3"]
    page.keyboard.press("Escape")
    assert page.evaluate(moved) == []
    page.mouse.up()
    page.get_by_text("Move rows").click()
    page.locator("#drawing").focus()
    page.keyboard.press("Shift+ArrowUp")
    row = [f"{part} {letter}" for letter in (1, 2, 3) for part in ("letter", "stitch")]
    assert page.evaluate(moved) == ["outline", "stitch"] * 3 + row
    sheet.settled(lambda: sheet.design()["row"][0].get("up"), "1in")


def test_a_row_dragged_near_the_middle_snaps_to_the_center_line(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR", "LOCKS")
    page.get_by_label("To move").select_option("1")
    page.locator("#drawing").focus()
    for _ in range(4):
        page.keyboard.press("Shift+ArrowRight")
    sheet.settled(lambda: sheet.design()["row"][0].get("right"), "4in")
    sheet.rested()
    x, y = ink(sheet, "[data-row='1'][data-letter='2'] path")
    scale = page.locator("#drawing").evaluate("svg => svg.getScreenCTM().a")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 4 * scale + 3, y, steps=8)
    page.locator("#distance").filter(has_text="center line").wait_for()
    box = page.locator("#snap-x").bounding_box()
    panel = page.locator("#art .panel").bounding_box()
    assert box is not None
    assert panel is not None
    assert box["x"] + box["width"] / 2 == pytest.approx(panel["x"] + panel["width"] / 2, abs=1)
    assert (box["y"], box["height"]) == pytest.approx((panel["y"], panel["height"]), abs=1)
    page.mouse.up()
    sheet.settled(lambda: sheet.design()["row"][0].get("right"), None)


@pytest.mark.parametrize(
    ("locale", "chosen", "said"),
    [
        ("en-US", None, (None, None, None, "41in")),
        ("en-US", "cm", (None, "cm", None, "104cm")),
        ("en-GB", None, ("en-GB", "cm", {"size": "A4"}, "104cm")),
        ("en-GB", "in", ("en-GB", None, {"size": "A4"}, "41in")),
    ],
)
def test_a_new_quilt_has_the_sizes_of_whoever_is_at_the_page(
    served: Served, browser: Any, locale: str, chosen: str | None, said: tuple[Any, ...]
) -> None:
    context = browser.new_context(locale=locale)
    sheet = Sheet(context.new_page(), served.address)
    if chosen is not None:
        sheet.page.locator(f"[name=units][value={chosen}]").check()
    sheet.page.get_by_role("button", name="Begin with an example").click()
    sheet.drawn(3)
    design = sheet.design()
    assert (*(design.get(key) for key in ("language", "units", "paper")), design["panel"]["width"]) == said
    assert sheet.page.locator("html").get_attribute("lang") == locale
    margin = "3.81 cm" if design.get("units") == "cm" else "1 1/2 in"
    sheet.page.locator(".look > summary").first.filter(has_text=f"margin {margin}").wait_for()
    sheet.quiet()
    context.close()


@pytest.mark.parametrize("units", ["in", "cm"])
def test_a_row_that_snaps_is_stored_where_it_is_shown(sheet: Sheet, units: str) -> None:
    page = sheet.page
    sheet.words("OAR", "LOCKS")
    page.locator(f"[name=units][value={units}]").check()
    page.locator("#finished").filter(has_text=re.compile(rf"^\d+(\.\d)? {units}")).wait_for()
    sheet.rested()
    edges = "one => document.querySelector(one).getBoundingClientRect().left"
    still, other = (page.evaluate(edges, f"#art [data-row='{row}'][data-letter='1'] path") for row in (2, 1))
    x, y = ink(sheet, "[data-row='1'][data-letter='1'] path")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + still - other + 2, y, steps=8)
    page.locator("#distance").filter(has_text="left").wait_for()
    page.mouse.up()
    shown = page.locator("#distance").text_content()
    assert "in line" in shown
    sheet.settled(lambda: "right" in sheet.design()["row"][0], True)
    stored = parse_length(sheet.design()["row"][0]["right"])
    step = Fraction(1, 32) if units == "in" else Fraction(5, 254)
    assert stored < 0
    assert (stored / step).denominator == 1
    assert -parse_length(shown.split(" left")[0]) == stored


def test_arrow_keys_move_by_eighths_inches_and_finer(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    drawing = page.locator("#drawing")
    drawing.focus()
    for keys in ("ArrowRight", "ArrowRight", "Alt+ArrowRight", "Shift+ArrowDown"):
        page.keyboard.press(keys)
    sheet.settled(
        lambda: (sheet.design()["row"][0].get("right"), sheet.design()["row"][0].get("up")),
        ("9/32in", "-1in"),
    )
    page.keyboard.press("PageDown")
    page.keyboard.press("ArrowLeft")
    sheet.settled(lambda: sheet.design()["row"][0].get("nudge"), [{"letter": 1, "right": "-1/8in"}])


def test_everything_is_undone_step_by_step(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    before = sheet.design()
    page.get_by_role("button", name="Add a row of words").click()
    page.get_by_label("Words of row 2").fill("LOCK")
    sheet.unfold("cloth")
    page.get_by_role("button", name="Add a fabric").click()
    page.get_by_label("Title of the quilt").fill("Boats")
    undo = page.get_by_role("button", name="Undo")
    for _ in range(4):
        undo.click()
    assert sheet.design() == before
    for _ in range(4):
        page.get_by_role("button", name="Redo").click()
    design = sheet.design()
    assert (design["title"], design["row"][1]["text"], len(design["fabric"])) == ("Boats", "LOCK", 1)


def test_a_wrong_length_is_said_at_its_field_and_the_last_drawing_stays(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    sheet.unfold("cloth")
    width = page.get_by_role("textbox", name=re.compile("^Width"))
    width.fill("seven")
    page.locator("#findings").get_by_text("isn't a measurement I can read").wait_for()
    assert width.get_attribute("aria-invalid") == "true"
    assert (
        "isn't a measurement I can read"
        in page.locator(".field:has(:invalid, [aria-invalid]) + .said-here").inner_text()
    )
    assert page.get_by_text("This drawing is out of date").is_visible()
    assert page.locator("#art .letter").count() == 3
    assert page.get_by_role("button", name="Make the pattern").is_disabled()
    width.fill("20")
    page.locator("#finished").filter(has_text="20 in").wait_for()
    assert page.get_by_text("This drawing is out of date").is_hidden()


@pytest.mark.long
def test_an_unknown_letter_is_cured_by_a_button(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("HI")
    sheet.unfold("letters")
    page.locator("[data-focus='font-all']").click()
    page.get_by_role("button", name="Use this font: Lilita One").click()
    page.get_by_label("Words of row 1").fill("Любовь")
    page.get_by_text("no letter for").first.wait_for()
    page.get_by_role("button", name=re.compile("Set row 1 in")).first.click()
    page.locator("#art .letter >> nth=5").wait_for(state="attached")
    page.get_by_text("No problems found.").wait_for()


@pytest.mark.long
def test_fonts_that_lack_a_letter_are_left_out_unless_asked_for(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("Любовь")
    sheet.unfold("letters")
    page.locator("[data-focus='font-all']").click()
    page.locator(".font >> nth=13").wait_for(state="attached")
    lacking = page.get_by_role("button", name="Use this font: Titan One")
    assert lacking.is_hidden()
    page.get_by_label("Only fonts that have all my letters").uncheck()
    assert lacking.is_visible()
    page.get_by_label("Kind").select_option("serif")
    assert page.get_by_role("button", name="Use this font: Bitter").is_visible()
    assert lacking.is_hidden()


@pytest.mark.long
def test_fonts_too_fine_at_this_size_can_be_left_out(sheet: Sheet) -> None:
    """At 2 in the slots of Pacifico are narrower than scissors can cut, those of Lilita One are not."""
    page = sheet.page
    sheet.words("Row")
    page.locator(".look summary").click()
    page.get_by_label("Letter height (capital H)").fill("2in")
    page.locator(".look summary", has_text="· 2 in").wait_for()
    page.locator("#finished").filter(has_text="30 in").wait_for()
    sheet.rested()
    page.locator("[data-focus='font-0']").click()
    pacifico = page.get_by_role("button", name="Use this font: Pacifico")
    pacifico.wait_for()
    page.get_by_role("button", name="Use this font: Cairo").wait_for()
    page.get_by_label("Only what can be cut and sewn at this size").check()
    assert pacifico.is_hidden()
    assert page.get_by_role("button", name="Use this font: Lilita One").is_visible()


def test_a_long_row_that_makes_all_others_small_is_kept_small_alone_by_a_button(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OARS", "and the long river goes on and on")
    page.get_by_role(
        "button", name=re.compile("Keep row 2 at .* and let the others be as large as fits")
    ).click()
    sheet.settled(lambda: "cap_height" in sheet.design()["row"][1], True)
    sheet.rested()
    assert page.locator("#findings").get_by_text("all rows are set").count() == 0


@pytest.mark.long
def test_letters_too_large_are_cured_by_a_button(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("STEADY")
    page.locator(".look summary").click()
    page.get_by_label("Letter height (capital H)").fill("12in")
    page.get_by_role("button", name="Let row 1 be as large as fits").click()
    page.get_by_text("No problems found.").wait_for()


def test_a_row_wider_than_the_panel_is_let_run_off_it_by_a_button(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("STEADY")
    page.locator(".look summary").click()
    page.get_by_label("Letter height (capital H)").fill("6in")
    page.get_by_role("button", name="Let row 1 run off the panel's edge").click()
    sheet.settled(lambda: sheet.design()["row"], [{"text": "STEADY", "cap_height": "6in", "runs_off": True}])
    sheet.rested()
    assert not page.locator("#findings .stops").count()


@pytest.mark.long
def test_a_damaged_font_is_refused_and_a_good_one_used(
    sheet: Sheet, dejavu_bold: str, tmp_path: Path
) -> None:
    page = sheet.page
    sheet.words("OAR")
    damaged = tmp_path / "broken.ttf"
    damaged.write_bytes(Path(dejavu_bold).read_bytes()[:5000])
    sheet.unfold("letters")
    page.locator("[data-focus='font-all']").click()
    page.locator("#font-file").set_input_files(damaged)
    page.locator("#font-problem").filter(has_text="font").wait_for()
    page.locator("#font-file").set_input_files(dejavu_bold)
    page.get_by_role("button", name="Use this font: DejaVuSans-Bold.ttf").click()
    sheet.settled(lambda: sheet.design()["lettering"]["font"], "DejaVuSans-Bold.ttf")
    page.get_by_text("No problems found.").wait_for()


@pytest.mark.long
def test_making_is_stopped_and_the_page_goes_on(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("THE RIVER", "HAS TIME", "AND SO", "HAVE WE")
    page.get_by_role("button", name="Make the pattern").click()
    page.get_by_text("Making the pattern").wait_for()
    page.get_by_role("button", name="Stop").click()
    assert page.locator("#make-dialog").is_hidden()
    page.get_by_label("Words of row 4").fill("WE HAVE")
    page.locator("#drawing[aria-label*='WE HAVE']").wait_for()


@pytest.mark.long
def test_two_tabs_do_not_mix(served: Served, browser: Any) -> None:
    context = browser.new_context()
    first, second = Sheet(context.new_page(), served.address), Sheet(context.new_page(), served.address)
    first.words("ONE")
    second.words("TWO", "MORE")
    first.page.get_by_label("Words of row 1").fill("OTHER")
    first.page.locator("#drawing[aria-label*='OTHER']").wait_for()
    assert [line["text"] for line in first.design()["row"]] == ["OTHER"]
    assert [line["text"] for line in second.design()["row"]] == ["TWO", "MORE"]
    assert second.page.locator("#art .letter").count() == 7
    keys = [one.page.evaluate("() => sessionStorage.getItem('tab')") for one in (first, second)]
    assert keys[0] != keys[1]
    for one in (first, second):
        one.quiet()
    context.close()


def test_in_centimeters_a_step_is_two_millimeters(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    page.get_by_text("cm", exact=True).click()
    page.locator("#finished").filter(has_text="76.2 cm (30 in)").wait_for()
    page.locator("#drawing").focus()
    page.keyboard.press("ArrowRight")
    sheet.settled(lambda: sheet.design()["row"][0].get("right"), "2mm")


def test_the_design_as_text_is_checked_before_it_is_taken(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    page.get_by_text("The design as text").click()
    text = page.get_by_label("The design as TOML")
    sheet.settled(lambda: "OAR" in text.input_value(), True)
    text.fill('[[row]]\ntext = "LOCK"\ncap_hight = "7in"\n')
    page.get_by_role("button", name="Take this text").click()
    page.get_by_text("cap_hight").last.wait_for()
    assert sheet.design()["row"][0]["text"] == "OAR"
    text.fill('[[row]]\ntext = "LOCK"\ncap_height = "3in"\n')
    page.get_by_role("button", name="Take this text").click()
    sheet.settled(lambda: sheet.design()["row"], [{"text": "LOCK", "cap_height": "3in"}])


@pytest.mark.long
def test_a_border_of_a_new_fabric_is_drawn_and_a_fabric_renamed_everywhere(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    sheet.unfold("cloth")
    page.get_by_role("button", name="Add a fabric").click()
    sheet.unfold("edges")
    page.get_by_role("button", name="Plain strip").click()
    page.locator("#art .patch").first.wait_for(state="attached")
    page.locator("#finished").filter(has_text="34 in").wait_for()
    name = page.get_by_label("Name", exact=True)
    name.fill("Weed")
    name.press("Tab")
    sheet.settled(lambda: sheet.design()["border"][0]["fabrics"], ["Weed"])
    page.get_by_text("No problems found.").wait_for()


@pytest.mark.long
def test_a_risk_stands_at_its_place_with_a_button_that_takes_it_back(sheet: Sheet) -> None:
    """Two letters pushed together by hand: the notice names the row, a mark stands on it, one button undoes it."""
    page = sheet.page
    sheet.words("OAR")
    page.get_by_label("To move").select_option("1 2")
    page.locator("#drawing").focus()
    page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    page.get_by_text("less than the least gap").wait_for()
    assert page.locator("#spots > button").count() == 1
    page.get_by_role("button", name="Put row 1 back where it was").click()
    page.get_by_text("No problems found.").wait_for()
    assert page.locator("#spots > button").count() == 0


NAMES = """
panel = { width = "60in", height = "20in", fabric = "midnight_blue" }
lettering = { font = "Lilita One", cap_height = "2in", fabric = "line 9 [x] of row 1" }
row = [{ text = "OAR" }, { text = "row 1, line 9 [x] a_b" }]
fabric = [
  { name = "midnight_blue", color = "#202040" },
  { name = "line 9 [x] of row 1", color = "#202048" },
]
"""


@pytest.mark.long
def test_the_findings_leave_the_words_of_the_maker_alone(sheet: Sheet) -> None:
    """An underscore, a "line 9" and brackets in a name stay; the row alone is counted as the page counts it."""
    page = sheet.page
    sheet.words("OAR")
    page.get_by_text("The design as text").click()
    text = page.get_by_label("The design as TOML")
    sheet.settled(
        lambda: "OAR" in text.input_value(), True
    )  # the program's answer, which would take the place of what is typed
    text.fill(NAMES)
    page.get_by_role("button", name="Take this text").click()
    sheet.drawn(2)
    page.get_by_label("Words of row 1").fill("")
    said = page.locator("#findings .what")
    said.filter(has_text="Row 2: “line 9 [x] of row 1” on “midnight_blue” has a contrast of 1").wait_for()
    page.locator(".look summary").last.click()
    page.get_by_label("Letter height (capital H)").last.fill("9in")
    said.filter(has_text="Row 2: “row 1, line 9 [x] a_b” is ").wait_for()


def test_a_refused_move_was_said_of_row_null(sheet: Sheet) -> None:
    """Row 1 has no words yet, so what the program counts as row 1 is row 2 of the page."""
    page = sheet.page
    sheet.words("OAR", "LOCK")
    page.get_by_label("Words of row 1").fill("")
    page.locator("#drawing:not([aria-label*='OAR'])").wait_for()
    problem = {"what": "too far for row 7", "where": {"path": ["row", 1, "right"]}, "fix": "less"}
    page.route("**/api/move", lambda route: route.fulfill(status=422, json={"problems": [problem]}))
    page.locator("#drawing").focus()
    page.keyboard.press("ArrowRight")
    page.locator("#findings .what").filter(has_text="Row 2, Moved right: too far for row 7").wait_for()


@pytest.mark.long
def test_a_refused_move_vanished_when_the_numbers_came(sheet: Sheet) -> None:
    """A refusal stays above what is found, whenever the numbers come, and goes when the design changes."""
    page = sheet.page
    problem = {"what": "too far", "where": {"path": ["row", 1, "right"]}, "fix": "less"}
    page.route("**/api/move", lambda route: route.fulfill(status=422, json={"problems": [problem]}))
    sheet.words("OAR")
    page.locator("#drawing").focus()
    page.keyboard.press("ArrowRight")
    refused = page.locator("#findings .what").filter(has_text="Row 1, Moved right: too far")
    refused.wait_for()
    page.get_by_text(re.compile("^(Figured out|Still looking)")).wait_for()
    assert refused.is_visible()
    page.get_by_label("Words of row 1").fill("OARS")
    refused.wait_for(state="detached")


def test_a_design_is_saved_to_a_named_file_and_opened_again(sheet: Sheet, tmp_path: Path) -> None:
    page = sheet.page
    sheet.words("OAR", "LOCK")
    page.get_by_role("button", name="Save").click()
    page.get_by_label("Name of the file").fill("boats")
    with page.expect_download() as waiting:
        page.locator("#save-dialog").get_by_role("button", name="Save").click()
    assert waiting.value.suggested_filename == "boats.toml"
    kept = tmp_path / "boats.toml"
    kept.write_bytes(saved(waiting.value))
    page.get_by_label("Words of row 1").fill("CHANGED")
    page.locator("#open-file").set_input_files(kept)
    sheet.settled(lambda: [line["text"] for line in sheet.design()["row"]], ["OAR", "LOCK"])


def test_the_page_comes_back_as_it_was_when_loaded_anew(sheet: Sheet) -> None:
    sheet.words("OAR", "LOCK")
    sheet.page.reload()
    sheet.drawn(2)
    assert sheet.page.get_by_label("Words of row 2").input_value() == "LOCK"


def test_the_light_follows_the_machine_and_the_switch(served: Served, browser: Any) -> None:
    context = browser.new_context(color_scheme="dark")
    sheet = Sheet(context.new_page(), served.address)

    def background() -> str:
        return str(
            sheet.page.evaluate("() => getComputedStyle(document.querySelector('.top')).backgroundColor")
        )

    dark = background()
    sheet.page.get_by_role("button", name="Change to light colors").click()
    light = background()
    assert dark != light
    sheet.page.reload()
    assert background() == light
    context.close()


def test_text_of_twice_the_size_is_all_within_the_page(served: Served, browser: Any) -> None:
    """WCAG 2.2, 1.4.4 and 1.4.10: at 200 % nothing is cut off and nothing scrolls sideways."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    sheet = Sheet(context.new_page(), served.address)
    sheet.words("ROW", "STEADY")
    fonts = {"fontSizes": {"standard": 32, "fixed": 26}}
    context.new_cdp_session(sheet.page).send("Page.setFontSizes", fonts)
    wide, window = sheet.page.evaluate("() => [document.documentElement.scrollWidth, innerWidth]")
    assert wide <= window
    cut = sheet.page.evaluate(
        """() => [...document.querySelectorAll('button, summary, h2:not(.hidden), .bill > li')]
        .filter(element => element.offsetParent && element.scrollWidth > element.clientWidth + 2)
        .map(element => element.textContent)"""
    )
    assert cut == []
    context.close()


ON_WALL = """() => addEventListener("beforeprint", () => {
  window.onWall = document.querySelectorAll("#scene use").length;
})"""


def test_it_prints_without_its_tools_and_with_the_quilt_on_the_wall(sheet: Sheet) -> None:
    """How big it turns out stands on paper though what to buy is folded; there was an empty place."""
    sheet.words("OAR")
    assert sheet.page.locator("#scene use").count() == 0
    sheet.page.evaluate(ON_WALL)
    sheet.page.pdf()
    assert sheet.page.evaluate("() => window.onWall") == 1
    assert sheet.page.locator("#scene use").count() == 0
    sheet.page.emulate_media(media="print")
    assert sheet.page.get_by_role("button", name="Make the pattern").is_hidden()
    assert sheet.page.locator("#art").is_visible()
    sheet.page.emulate_media(media="screen")
