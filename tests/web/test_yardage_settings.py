"""What a maker sets about buying and cutting, done on the page: it reaches the design and the bill."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from applique.design import design_schema
from applique.design.stated import CAN_STATE
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

QUILT = """
panel = { width = "30in", height = "36in", fabric = "Mist" }
lettering = { cap_height = "2in", fabric = "Sea" }
row = [{ text = "I" }]
fabric = [{ name = "Mist", color = "#e9e4d6" }, { name = "Sea", color = "#203040" }]
border = [{ kind = "strip", width = "2in", fabrics = ["Mist"] }]
"""
WORDS = ":is(label, .fabric-head):has(> [data-focus='{}']) + .said-here"


@pytest.fixture
def sheet(served: Served, browser: Any, tmp_path: Path) -> Iterator[Sheet]:
    """The page with a small quilt opened."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    opened = Sheet(context.new_page(), served.address)
    (tmp_path / "quilt.toml").write_text(QUILT, encoding="utf-8")
    opened.page.locator("#open-file").set_input_files(tmp_path / "quilt.toml")
    opened.drawn(1)
    yield opened
    opened.quiet()
    context.close()


def bill(sheet: Sheet) -> str:
    """What the page says to buy, once that is final."""
    sheet.rested()
    sheet.page.locator("#buy:not(.stale) .bill").wait_for(state="attached")
    sheet.page.locator("#buy-state").filter(has_text="Figured out.").wait_for()
    return str(sheet.page.locator("#buy").text_content())


def amounts(said: str) -> list[str]:
    return re.findall(r"[\d /]+yd", said.split("Fusible web")[0])


def put(sheet: Sheet, focus: str, entry: str | bool) -> None:
    """Do as a maker does at a field: choose, tick, or type one key after the other."""
    field = sheet.page.locator(f"[data-focus='{focus}']")
    if isinstance(entry, bool):
        field.set_checked(entry)
    elif field.evaluate("one => one.tagName") == "SELECT":
        field.select_option(entry)
    else:
        field.press("Control+a")
        field.press_sequentially(entry)


def refused(sheet: Sheet, focus: str, entry: str, words: str) -> None:
    """`entry` is refused in words under its field, which names them; the drawing stays, undo takes it back."""
    page, before = sheet.page, sheet.design()
    put(sheet, focus, entry)
    said = page.locator(WORDS.format(focus))
    said.filter(has_text=words).wait_for()
    field = page.locator(f"[data-focus='{focus}']")
    assert field.get_attribute("aria-describedby") == said.get_attribute("id")
    assert field.input_value() == entry
    assert page.locator("#art .letter").count() == 1
    page.keyboard.press("Control+z")
    sheet.settled(sheet.design, before)
    said.wait_for(state="detached")


FIELDS: list[tuple[str, tuple[str, str] | None, str | bool, list[Any], Any]] = [
    (
        "fabric.1.sold_width",
        ("wide", "isn't a measurement I can read"),
        "60",
        ["fabric", 0, "sold_width"],
        "60in",
    ),
    ("fabric.1.have", ("some", "isn't fabric I can read"), "1 1/2yd", ["fabric", 0, "have"], "1 1/2yd"),
    ("fabric.1.plan", None, "fewest kinds of cuts", ["fabric", 0, "plan"], "fewest kinds of cuts"),
    ("yardage.plan", None, "fewest kinds of cuts", ["yardage", "plan"], "fewest kinds of cuts"),
    ("yardage.washed", None, True, ["yardage", "washed"], True),
    ("yardage.shrinkage_percent", ("ten", "is no whole number"), "20", ["yardage", "shrinkage_percent"], 20),
    ("yardage.squaring", ("-1", "is outside"), "4", ["yardage", "squaring"], "4in"),
    ("panel.trim_after", ("9", "is outside what can be sewn"), "4", ["panel", "trim_after"], "4in"),
]
"""A field; what it refuses, and how; what it takes, where that comes to stand in the design, and as what."""


@pytest.mark.long
def test_what_to_buy_follows_each_setting_and_undo_takes_it_back(sheet: Sheet) -> None:
    sheet.unfold("cloth")
    plain, design = bill(sheet), sheet.design()
    for focus, wrong, entry, path, stored in FIELDS:
        if wrong:
            refused(sheet, focus, *wrong)
        put(sheet, focus, entry)
        found: Any = sheet.design()
        for key in path:
            found = found[key]
        assert found == stored
        assert amounts(bill(sheet)) != amounts(plain), focus
        sheet.page.keyboard.press("Control+z")
        assert sheet.design() == design
        assert bill(sheet) == plain
    put(sheet, "fabric.1.usable_width", "40")
    refused(sheet, "fabric.1.sold_width", "44", "say how wide it is")


@pytest.mark.long
def test_her_own_edge_to_edge_design_gives_the_thread_to_buy(sheet: Sheet) -> None:
    """Rows of 8 in that overlap 1/2 in over 44 in: 6; 4 repeats of 10 in across 34 in: 24 of them.

    By hand: 24 times 10 yd, as much again in the bobbin, and 15 % lost, are 552 yd.
    """
    page = sheet.page
    sheet.unfold("sewing")
    page.get_by_role("button", name="Add quilting").click()
    put(sheet, "quilting.1.kind", "edge to edge")
    sheet.unfold_more("sewing")
    assert sheet.design()["quilting"] == [{"kind": "edge to edge"}]
    put(sheet, "quilting.1.row_height", "8")
    put(sheet, "quilting.1.repeat_width", "10")
    page.locator(WORDS.format("quilting.1.kind")).filter(has_text="its width and its thread").wait_for()
    refused(sheet, "quilting.1.repeat_thread", "much", "isn't a measurement I can read")
    put(sheet, "quilting.1.repeat_thread", "10yd")
    first = bill(sheet)
    put(sheet, "quilting.1.repeat_thread", "20yd")
    second = bill(sheet)
    (one,), (two,) = (re.findall(r"quilting[^;]*?([\d,]+) yd", said) for said in (first, second))
    assert (one, two) == ("552", "1104")
    put(sheet, "quilting.1.kind", "in the ditch")
    assert sheet.design()["quilting"] == [{"kind": "in the ditch"}]
    page.get_by_role("button", name="Remove quilting 1").click()
    assert "quilting" not in sheet.design()


@pytest.mark.long
def test_kinds_of_quilting_to_choose_from_are_ticked_and_bought_for_once(sheet: Sheet) -> None:
    """Thread for both of two kinds that are sewn; for the one that takes more where she offers them."""
    page = sheet.page
    sheet.unfold("sewing")
    for number, kind in ((1, "crosshatch"), (2, "edge to edge")):
        page.get_by_role("button", name="Add quilting").click()
        put(sheet, f"quilting.{number}.kind", kind)
    both = bill(sheet)
    sheet.unfold_more("sewing")
    boxes = page.get_by_label("One to choose from")
    for index in (0, 1):
        boxes.nth(index).check()
    assert [one.get("offered") for one in sheet.design()["quilting"]] == [True, True]
    offered = bill(sheet)
    (all_of, most) = (
        re.findall(r"quilting[^;]*?([\d,]+) yd", said)[0].replace(",", "") for said in (both, offered)
    )
    assert 0 < int(most) < int(all_of)
    assert "the most any of the kinds to choose from takes" in offered


@pytest.mark.long
def test_numbers_of_her_own_are_held_against_the_plan(sheet: Sheet) -> None:
    """An empty one stops nothing, and does not shift where another is refused; each part is asked for what it has."""
    page = sheet.page
    sheet.unfold("pattern")
    for _ in range(2):
        page.get_by_role("button", name="Add a number of your own").click()
    fields = page.locator("fieldset:has([data-focus='stated.2.part']) [data-where]")
    for part, kinds in CAN_STATE.items():
        put(sheet, "stated.2.part", part.value)
        asked = {
            one.rpartition(".")[2]
            for one in fields.evaluate_all("all => all.map((one) => one.dataset.focus)")
        }
        assert asked - {"part", "border", "fabric"} == {kind.value for kind in kinds}
    put(sheet, "stated.2.part", "border")
    bill(sheet)
    assert page.locator("#findings .stops").count() == 0
    refused(sheet, "stated.2.strips", "3.5", "is no whole number")
    put(sheet, "stated.2.strips", "4")
    assert "border 1: 4 strips hold" in bill(sheet)
    assert sheet.design()["stated"] == [{"part": "panel"}, {"part": "border", "strips": 4}]
    put(sheet, "stated.2.part", "panel")
    assert sheet.design()["stated"] == [{"part": "panel"}, {"part": "panel"}]


def named(schema: Mapping[str, Any]) -> dict[str, Any]:
    """A design that names the fabric Sea under every key of the model that names fabrics."""
    tables = schema["$defs"]
    design = tomllib.loads(QUILT)
    for table, property_ in schema["properties"].items():
        model = property_.get("$ref", property_.get("items", {}).get("$ref", "")).rpartition("/")[2]
        keys = {"fabric", "corner_fabric"} & tables.get(model, {}).get("properties", {}).keys()
        values = dict.fromkeys(keys, "Sea")
        if values and property_.get("type") == "array":
            design.setdefault(table, [{}])[0] |= values
        elif values:
            design[table] = design.get(table, {}) | values
    design["border"][0] |= {"fabrics": ["Sea"], "corners": "cornerstones"}
    design["stated"][0] |= {"part": "fabric", "buy": "1yd"}
    return design


def test_a_fabric_is_renamed_wherever_the_design_names_it(
    sheet: Sheet, served: Served, tmp_path: Path
) -> None:
    """`[outline] fabric` kept the old name; a name that another fabric has would have mixed the two up."""
    page, design = sheet.page, named(design_schema())
    design["stitching"] = {"stitch": "satin"}
    design["row"][0]["outline"] = "1/4in"
    uses = json.dumps(design).count('"Sea"')
    assert uses >= 11
    page.goto(served.keep(design))
    sheet.drawn(1)
    sheet.unfold("cloth")
    name = page.locator("[data-focus='fabric-1-name']")
    name.fill("Mist")
    name.press("Tab")
    assert page.evaluate(
        "() => document.querySelector('[data-focus=fabric-1-name]').validationMessage"
    ).startswith("Another fabric is called “Mist” already.")
    assert sheet.design() == design
    name.fill("Deep water")
    name.press("Tab")
    assert json.dumps(sheet.design()) == json.dumps(design).replace('"Sea"', '"Deep water"')
    page.locator("[data-focus='fabric-1-name']").wait_for()
    sheet.rested()
    assert page.locator("#findings .stops").count() == 0
    page.keyboard.press("Control+z")
    assert sheet.design() == design
    page.get_by_role("button", name="Remove Sea").click()
    assert "Sea" not in json.dumps(sheet.design())


def test_what_is_being_typed_outlives_whatever_comes_in_between(sheet: Sheet) -> None:
    """Forms drawn anew by a photo or a rename, and a text of the design that comes late, took away half a word."""
    page = sheet.page
    page.locator("#title").wait_for()
    sheet.unfold("cloth", "pattern")
    name = page.locator("[data-focus='fabric-0-name']")
    name.press("Control+a")
    name.press_sequentially("Mor")
    photo = Path(__file__).parents[2] / "docs" / "boathouse.png"
    page.locator("#photo-file-1").set_input_files(photo)
    page.get_by_role("button", name="Remove the photo").wait_for()
    page.keyboard.type("ning")
    assert name.input_value() == "Morning"
    page.keyboard.press("Tab")
    sheet.settled(lambda: sheet.design()["panel"]["fabric"], "Morning")
    care = page.locator("[data-focus='label.care']")
    name = page.locator("[data-focus='fabric-1-name']")
    name.fill("Water")
    care.click()
    page.keyboard.press("Control+a")
    page.keyboard.type("wash ")
    page.get_by_role("button", name="Remove Water").wait_for()
    page.keyboard.type("cold")
    page.keyboard.press("Tab")
    sheet.settled(lambda: sheet.design().get("label"), {"care": ["wash cold"]})
    late: list[Any] = []
    page.route("**/api/write", lambda route: late.append(route))
    sheet.unfold("text")
    text = page.locator("[data-focus='toml']")
    text.press_sequentially("[[row]]")
    sheet.settled(lambda: len(late), 1)
    late[0].continue_()
    page.wait_for_timeout(300)
    assert text.input_value() == "[[row]]"
