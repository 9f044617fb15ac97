"""Every key of the design file is set by a control of the page, each used as a maker uses it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from applique.design import design_schema
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

QUILT: dict[str, Any] = {
    "panel": {"width": "30in", "height": "40in", "fabric": "Mist"},
    "lettering": {"font": "Fredoka", "cap_height": "2in"},
    "row": [
        {
            "text": "IL",
            "font": "Fredoka",
            "direction": "down",
            "nudge": [{"letter": 1}],
            "fussy": [{"letter": 2, "along": "1in", "across": "1in"}],
        }
    ],
    "fabric": [
        {"name": "Mist", "color": "#e9e4d6"},
        {"name": "Sea", "color": "#203040"},
        {"name": "Oat", "color": "#c0b090"},
    ],
    "border": [
        {"kind": "strip", "fabrics": ["Mist"]},
        {"kind": "squares", "fabrics": ["Mist", "Sea"], "size": "2in"},
        {"kind": "rectangles", "fabrics": ["Mist", "Sea"], "width": "2in", "size": "2in"},
    ],
    "quilting": [
        {"kind": kind, "offered": True}
        for kind in ("echo", "lines", "crosshatch", "edge to edge", "in the ditch")
    ],
    "stated": [
        {"part": "border", "border": 1, "strips": 9},
        {"part": "letters", "hours": 99.0},
    ],
    "accepted": [{"finding": "thin stroke", "why": "so it is"}],
}
"""A quilt with every kind of table."""
LAST = {"border.kind", "quilting.kind", "row.direction", "stated.part"}
"""What decides which other keys there are is changed after them."""
CONTROLS = """all => all.map((one) =>
  [one.dataset.where.split(" ")[0], one.dataset.focus ?? "", one.tagName + (one.type ?? "")])"""
HAND_OVER = """([place, focus]) => {
  const at = (path) => path.split(".").reduce((inner, key) => inner?.[/^\\d+$/.test(key) ? key - 1 : key],
    JSON.parse(sessionStorage.getItem("design")));
  const before = JSON.stringify(at(place));
  let control = document.querySelector(`[data-focus="${focus}"]`) ?? document.querySelector(`[data-where~="${place}"]`);
  control = control.matches("fieldset") ? control.querySelector("input:not(:checked)") : control;
  const tell = (kind) => control.dispatchEvent(new Event(kind, { bubbles: true }));
  if (control.matches("select")) {
    control.selectedIndex = (control.selectedIndex + 1) % control.options.length;
    tell("change");
  } else if (control.matches("[type=checkbox], [type=radio]")) {
    control.click();
  } else {
    control.value = control.type === "color" ? "#123456" : control.inputMode === "decimal" ? "37" : "3 1/4";
    tell("input");
    tell("change");
  }
  return JSON.stringify(at(place)) !== before;
}"""
"""Uses the control of a place by its own kind; tells whether the design has another value there then."""


def keys_of(schema: dict[str, Any]) -> Iterator[str]:
    """Every key of the design file, by the tables that lead to it."""
    tables = schema["$defs"]

    def inside(table: dict[str, Any], path: str) -> Iterator[str]:
        for key, value in table["properties"].items():
            name = value.get("$ref", value.get("items", {}).get("$ref", "")).rpartition("/")[2]
            if "properties" in tables.get(name, {}):
                yield from inside(tables[name], f"{path}{key}.")
            else:
                yield f"{path}{key}"

    yield from inside(schema, "")


def plain(place: str) -> str:
    """A place without the numbers of rows and tables, nor the names of axes."""
    return re.sub(r"(\.axes)\..*", r"\1", re.sub(r"\.\d+", "", place))


def open_all(page: Any) -> None:
    """Unfold everything that there is to unfold."""
    for kind in (".look", ".fold", "details.more"):
        page.evaluate(
            "kind => document.querySelectorAll(kind).forEach((one) => { one.open = true; })", f"main {kind}"
        )
        page.wait_for_timeout(300)


@pytest.fixture
def sheet(served: Served, browser: Any) -> Iterator[Sheet]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    opened = Sheet(context.new_page(), served.keep(QUILT))
    opened.drawn(1)
    yield opened
    opened.quiet()
    context.close()


@pytest.mark.long
def test_every_key_of_the_design_file_is_set_by_a_control(sheet: Sheet) -> None:
    """A key that the schema has and no control names is a failure here, by its name."""
    page = sheet.page
    open_all(page)
    photo = Path(__file__).parents[2] / "docs" / "boathouse.png"
    for chooser, remove in (("#photo-file-0", "Remove the photo"), ("#mark-file", "Remove the picture")):
        page.locator(chooser).set_input_files(photo)
        page.get_by_role("button", name=remove).wait_for(state="attached")
    assert sheet.design()["fabric"][0]["photo"]
    assert sheet.design()["publisher"]["mark_file"] == "boathouse.png"
    open_all(page)
    page.locator("[data-where~='row.1.axes.weight']").wait_for()
    page.locator("[data-where~='lettering.axes.weight']").wait_for()
    controls = page.locator("[data-where]").evaluate_all(CONTROLS)
    named = {plain(place): (place, focus, kind) for place, focus, kind in controls}
    wanted = {
        key for key in keys_of(design_schema()) if not key.startswith(("block.", "setting."))
    }  # the page opens none
    assert sorted(wanted - named.keys()) == []
    files = {key for key in wanted if named[key][2] == "INPUTfile"}
    fonts = {key for key in wanted if named[key][2].startswith("BUTTON")}
    assert (files, fonts) == ({"fabric.photo", "publisher.mark_file"}, {"row.font", "lettering.font"})
    unchanged = [
        key
        for key in sorted(wanted - files - fonts, key=lambda key: (key in LAST, key))
        if not page.evaluate(HAND_OVER, list(named[key][:2]))
    ]
    assert unchanged == []
    for key in sorted(fonts):
        page.locator(f"[data-focus='{named[key][1]}']").click()
        page.get_by_role("button", name="Use this font: Montserrat").click()
    assert sheet.design()["lettering"]["font"] == "Montserrat"
