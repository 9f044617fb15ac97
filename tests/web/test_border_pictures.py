"""Borders from small pictures: one click adds one that is drawn and comes out even, one undo takes it away."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    import httpx

    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

FABRICS = [
    {"name": "Mist", "color": "#e9e4d6"},
    {"name": "Sea", "color": "#203040"},
    {"name": "Oar", "color": "#a8402f"},
    {"name": "Sun", "color": "#e0b04c"},
]
QUILT: dict[str, Any] = {
    "lettering": {"cap_height": "1in", "fabric": "Sea"},
    "row": [{"text": "I"}],
    "fabric": FABRICS,
}
UNDER_FOOT = """() => document.querySelector("#beside").getBoundingClientRect().bottom
  > document.querySelector("#foot").getBoundingClientRect().top"""
"""Whether the bar has grown out of the window with its pictures."""
NAMES = (
    "Plain strip",
    "Strip with cornerstones",
    "Strip with mitered corners",
    "Squares of 2 fabrics",
    "Squares of 3 fabrics",
    "Squares of 4 fabrics",
    "Rectangles",
)
PANELS = (
    ("in", "30in", "40in"),
    ("in", "41in", "47in"),
    ("in", "63 7/8in", "31 1/16in"),
    ("cm", "77.7cm", "101.3cm"),
    ("cm", "1m", "29cm"),
    ("in", "6in", "5in"),
)
FRESH = "[data-group='edges'] .border-pictures[aria-busy='false']"
"""The pictures, once they are those of the design as it is."""
AXE = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}


@pytest.fixture
def opened(served: Served, browser: Any) -> Iterator[Any]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    sheets: list[Sheet] = []

    def open_quilt(**more: object) -> Sheet:
        sheets.append(Sheet(context.new_page(), served.keep({**QUILT, **more})))
        sheets[-1].unfold("edges")
        return sheets[-1]

    yield open_quilt
    for sheet in sheets:
        sheet.quiet()
    context.close()


@pytest.mark.long
@pytest.mark.parametrize(("units", "width", "height"), PANELS)
def test_every_picture_gives_a_drawing_and_nothing_that_stops_the_work(
    opened: Any, units: str, width: str, height: str
) -> None:
    sheet = opened(units=units, panel={"width": width, "height": height, "fabric": "Mist"})
    page, before = sheet.page, sheet.design()
    pictures = page.locator("[data-group='edges'] .border-picture")
    page.locator(FRESH).wait_for()
    assert [name.split("\n")[0] for name in pictures.all_inner_texts()] == list(NAMES)
    for name in NAMES:
        said = pictures.filter(has_text=name)
        grows = "becomes" in said.inner_text()
        said.click()
        sheet.settled(lambda: len(sheet.design().get("border", ())) > 0, True)
        sheet.rested()
        assert page.locator("#findings .stops").count() == 0, name
        assert page.locator("#art > .patch").count() >= 4
        design = sheet.design()
        assert (design["panel"] != before["panel"]) == grows
        assert "come out even" not in page.locator("#findings").inner_text()
        page.keyboard.press("Control+z")
        sheet.settled(lambda: sheet.design() == before, True)
        page.locator(FRESH).wait_for()


def test_a_picture_adds_a_fabric_where_there_is_one_only(opened: Any) -> None:
    sheet = opened(
        fabric=FABRICS[:1], lettering={"cap_height": "1in"}, panel={"width": "30in", "height": "40in"}
    )
    squares = sheet.page.get_by_role("button", name="Squares of 2 fabrics")
    squares.filter(has_text="1 fabric is added.").click()
    sheet.settled(lambda: [one["name"] for one in sheet.design()["fabric"]], ["Mist", "Fabric 2"])
    assert sheet.design()["border"] == [
        {"kind": "squares", "fabrics": ["Mist", "Fabric 2"], "size": "2 1/2in"}
    ]
    assert sheet.page.locator("#said").filter(has_text="Added: Squares of 2 fabrics, 2 1/2 in square").count()


def test_a_border_is_added_from_the_bar_at_the_panel(opened: Any) -> None:
    """WCAG 2.2 A and AA hold with the pictures in sight, in the bar and in the settings."""
    sheet = opened(panel={"width": "30in", "height": "40in", "fabric": "Mist"})
    page = sheet.page
    page.locator("#drawing .panel path").click(position={"x": 20, "y": 20})
    page.locator(".beside-borders summary").click()
    picture = page.locator("#beside .border-picture").filter(has_text="Rectangles")
    picture.wait_for()
    sheet.settled(lambda: page.evaluate(UNDER_FOOT), False)
    assert Axe().run(page, options=AXE).response["violations"] == []
    picture.click()
    sheet.settled(lambda: [border["kind"] for border in sheet.design().get("border", ())], ["rectangles"])
    page.keyboard.press("Control+z")
    sheet.settled(lambda: sheet.design().get("border"), None)


def test_the_pictures_follow_the_design(opened: Any) -> None:
    """They are the corner of this very quilt: a color that changes changes them, and a panel that does their sizes."""
    sheet = opened(panel={"width": "30in", "height": "40in", "fabric": "Mist"})
    page = sheet.page
    plain = page.locator("[data-group='edges'] .border-picture img").first
    assert "203040" in plain.get_attribute("src")
    squares = page.get_by_role("button", name="Squares of 2 fabrics")
    squares.filter(has_text="2 1/2 in square").wait_for()
    page.locator("#drawing .panel path").click(position={"x": 20, "y": 20})
    page.locator("[data-focus='beside-width']").fill("27")
    page.locator("[data-focus='beside-width']").press("Tab")
    page.get_by_role(
        "button", name=re.compile("Squares of 2 fabrics.*wider|Squares of 2 fabrics.*higher")
    ).wait_for()


@pytest.fixture
def client(served: Served) -> httpx.Client:
    return served.client()


def test_what_is_asked_of_borders_is_checked_like_any_design(client: httpx.Client) -> None:
    good = {"design": {**QUILT, "panel": {"width": "30in", "height": "40in"}}}
    assert len(client.post("/api/borders", json=good).json()["borders"]) == len(NAMES)
    for bad in (
        {},
        {"design": {**QUILT, "panel": {"width": "x"}}},
        {"design": good["design"], "spare": [{"color": "#111111"}]},
    ):
        answer = client.post("/api/borders", json=bad)
        assert answer.status_code == 422
        assert answer.json()["problems"]
    uneven = {**good["design"], "border": [{"kind": "squares", "fabrics": ["Sea", "Oar"], "size": "7in"}]}
    assert client.post("/api/borders", json={"design": uneven}).json() == {"borders": []}
    strange = client.post("/api/borders", json=good, headers={"origin": "http://elsewhere.example"})
    assert strange.status_code == 403
