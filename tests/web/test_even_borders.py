"""Borders of pieces that do not come out even: a button beside what is said puts a size near hers that does."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from applique.units import parse_length
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

QUILT: dict[str, Any] = {
    "panel": {"width": "30in", "height": "40in", "fabric": "Mist"},
    "lettering": {"cap_height": "2in", "fabric": "Sea"},
    "row": [{"text": "I"}],
    "fabric": [{"name": "Mist", "color": "#e9e4d6"}, {"name": "Sea", "color": "#203040"}],
    "border": [{"kind": "squares", "fabrics": ["Mist", "Sea"], "size": "3in"}],
}


@pytest.fixture
def opened(served: Served, browser: Any) -> Iterator[Any]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    sheets: list[Sheet] = []

    def open_quilt(border: dict[str, Any]) -> Sheet:
        sheets.append(Sheet(context.new_page(), served.keep({**QUILT, "border": [border]})))
        return sheets[-1]

    yield open_quilt
    for sheet in sheets:
        sheet.quiet()
    context.close()


def test_squares_that_do_not_come_out_even_have_their_cure_beside_them(opened: Any) -> None:
    """3 in goes into 30 in and not into 40. By hand: what goes into both divides 10 in, so 2 1/2 in and 5 in."""
    sheet = opened({**QUILT["border"][0]})
    page = sheet.page
    said = page.locator("#findings .stops").filter(has_text="do not come out even")
    said.get_by_role("button", name="Make the squares of border 1 5 in").wait_for()
    sheet.unfold("edges")
    beside = page.locator("[data-group='edges'] .cures").get_by_role("button")
    assert [one for one in beside.all_inner_texts() if "squares" in one] == [
        "Make the squares of border 1 2 1/2 in",
        "Make the squares of border 1 5 in",
    ]
    beside.first.click()
    assert sheet.design()["border"][0]["size"] == "2 1/2in"
    sheet.drawn(1)
    assert page.locator("#findings .stops").count() == 0
    page.keyboard.press("Control+z")
    said.wait_for()


@pytest.mark.long
def test_rectangles_that_do_not_fill_a_side_have_sizes_that_do(opened: Any) -> None:
    """Sides first: the ends are as long as the panel and both sides together; a length fills both whole."""
    sheet = opened({"kind": "rectangles", "fabrics": ["Mist", "Sea"], "width": "3in", "size": "4 1/2in"})
    cure = sheet.page.locator("#findings .cure").filter(has_text="rectangles of border 1").first
    cure.click()
    border = sheet.design()["border"][0]
    width, size = parse_length(border["width"]), parse_length(border["size"])
    assert all(((side / size).denominator == 1) for side in (Fraction(40), 30 + 2 * width))
    sheet.rested()
    sheet.page.locator("#buy:not(.stale) .bill").wait_for(state="attached")
    sheet.page.locator("#buy-state").filter(has_text="Figured out.").wait_for()
    assert sheet.page.locator("#findings").get_by_text("rectangles").count() == 0


def test_an_inch_quilt_in_centimeters_has_one_click_to_come_out_even(opened: Any) -> None:
    """2 1/2 in are 63.5 mm and are sewn at 64, cut to whole millimeters: 762 mm by 1016 take 12 and 16 of them."""
    sheet = opened({"kind": "squares", "fabrics": ["Mist", "Sea"], "size": "2 1/2in"})
    page = sheet.page
    sheet.drawn(1)
    page.get_by_text("cm", exact=True).click()
    beside = page.locator("#findings .stops").filter(has_text="does not come out even")
    beside.get_by_role(
        "button", name="Make the panel 76.8 cm by 102.4 cm, and the squares of border 1 6.4 cm"
    ).click()
    sheet.settled(lambda: page.locator("#findings .stops").count(), 0)
    design = sheet.design()
    assert (design["panel"]["width"], design["panel"]["height"]) == ("76.8cm", "102.4cm")
    assert design["border"][0]["size"] == "6.4cm"
    sheet.unfold("letters", "cloth", "edges", "sewing", "sheets")
    hints = page.locator("#settings input").evaluate_all("all => all.map(one => one.placeholder)")
    assert "3.81 cm" in hints  # 1 1/2 in of margin
    assert [hint for hint in hints if re.search(r"\d ?(in|yd)\b", hint)] == []
