"""What was found stands on the quilt at its place, its cure beside it and all of it in sight, in a real browser."""

from __future__ import annotations

import re
from collections.abc import Sequence
from contextlib import contextmanager
from itertools import combinations
from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.web.test_layout import LAPTOP, PHONE, TABLET, opened
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

THIN = {
    "panel": {"width": "24in", "height": "20in"},
    "lettering": {"font": "Fredoka", "cap_height": "1 1/4in"},
    "sewing": {"method": "machine cut", "least_clear": "0in"},
    "stitching": {"stitch": "satin", "width": "6mm"},
    "row": [{"text": "HI"}, {"text": "TIL"}],
}
QUILT = {
    "panel": {"width": "30in", "height": "36in", "fabric": "Mist"},
    "row": [{"text": "OAR"}, {"text": "LOCK"}, {"text": "SEA"}],
    "fabric": [{"name": "Deep", "color": "#1d3f58"}, {"name": "Mist", "color": "#e9e4d6"}],
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Deep"]}],
}
WIDTH, HEIGHT = 34, 40
"""Of the finished quilt, in inches."""
TOUCH = {"has_touch": True, "is_mobile": True}
SIZES = [(LAPTOP, {}), (TABLET, {}), (PHONE, TOUCH)]
LONG = "the thinnest stroke of “O” is 1/32 in, less than the 1/4 in it needs; scissors cut no finer; too small in A"
AXE = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]
Box = dict[str, float]


def finding(
    what: str = LONG, *, stops: bool = False, at: Sequence[float] | None = None, **where: Any
) -> dict[str, Any]:
    """A finding as the program sends it."""
    accept = None if stops else {"finding": "thin stroke", "words": "OAR"}
    cures = [{"words": f"Set row {number} in larger letters", "design": QUILT} for number in (1, 2)]
    return {
        "what": what,
        "where": where,
        "fix": "other words",
        "at": at,
        "stops": stops,
        "cures": cures,
        "accept": accept,
    }


EVERYWHERE = [
    finding(path=["row", 1], letter=2, at=None),
    finding(at=(0.1, 0.1)),
    finding(at=(WIDTH - 0.1, 0.1)),
    finding(at=(0.1, HEIGHT - 0.1)),
    finding("the rows are higher than the panel", stops=True, at=(WIDTH - 0.1, HEIGHT - 0.1)),
    finding("is no color", stops=True, path=["fabric", 1, "color"]),
    finding("does not come out even", path=["border", 1]),
    finding("wider than its fabric", path=["panel"]),
    finding("nothing in particular"),
]


@contextmanager
def shown(
    served: Served, browser: Any, size: tuple[int, int], found: list[dict[str, Any]], **how: Any
) -> Iterator[Sheet]:
    """The page with `found` in place of what the program finds; no numbers come that would change it."""
    with opened(served, browser, size, QUILT, **how) as sheet:
        page = sheet.page

        def plan(route: Any) -> None:
            answer = route.fetch()
            route.fulfill(response=answer, json={**answer.json(), "findings": found})

        page.route("**/api/plan", plan)
        page.route("**/api/numbers*", lambda route: None)
        page.reload()
        page.locator("body.ready").wait_for()
        page.locator(".spot").first.wait_for()
        yield sheet
        page.unroute_all(behavior="ignoreErrors")


def boxes(sheet: Sheet, selector: str = ".spot") -> list[Box]:
    return list(
        sheet.page.locator(selector).evaluate_all(
            "all => all.map(one => one.getBoundingClientRect().toJSON())"
        )
    )


def apart(one: Box, other: Box) -> bool:
    return (
        one["right"] <= other["left"]
        or other["right"] <= one["left"]
        or one["bottom"] <= other["top"]
        or other["bottom"] <= one["top"]
    )


def within(box: Box, outer: Box) -> bool:
    return (
        box["left"] >= outer["left"]
        and box["right"] <= outer["right"]
        and box["top"] >= outer["top"]
        and box["bottom"] <= outer["bottom"]
    )


def letter_of(one: dict[str, Any]) -> str:
    """The letter that a finding is about."""
    return f"#art > .letter[data-row='{one['where']['path'][1]}'][data-letter='{one['where']['letter']}']"


def count(sheet: Sheet) -> int:
    """How many findings the buttons stand for."""
    texts = sheet.page.locator(".spot").all_inner_texts()
    return sum(int(text.split("×")[1]) if "×" in text else 1 for text in texts)


@pytest.mark.long
def test_a_cure_taken_from_a_card_on_the_quilt_cures(served: Served, browser: Any) -> None:
    with opened(served, browser, LAPTOP, THIN) as sheet:
        page = sheet.page
        page.locator("#findings .cure").first.wait_for(state="attached")
        spot = page.get_by_role("button", name="Finding 1: Row 1: the thinnest stroke of “H” is 1/4 in")
        spot.click()
        card = page.get_by_role("dialog", name="Check this: 1 of 2")
        assert card.evaluate("one => one === document.activeElement")
        before = sheet.design()
        cure = card.locator(".cure").first
        words = cure.inner_text()
        cure.click()
        page.locator("#said").filter(has_text=words).wait_for(state="attached")
        assert sheet.design() != before
        assert card.is_hidden()
        page.wait_for_function(
            "() => /No problems|^1 thing/.test(document.querySelector('#findings-open').textContent)"
        )
        sheet.settled(lambda: count(sheet) < 2, True)
        page.get_by_role("button", name="Undo").click()
        sheet.settled(sheet.design, before)
        sheet.settled(lambda: count(sheet), 2)


@pytest.mark.long
def test_a_finding_is_accepted_on_its_card(served: Served, browser: Any) -> None:
    with opened(served, browser, LAPTOP, THIN) as sheet:
        page = sheet.page
        page.get_by_role("button", name="Finding 2: Row 2").click()
        card = page.get_by_role("dialog")
        card.get_by_role("button", name="Meant so: number 2").click()
        why = card.get_by_label("Why it is meant so")
        assert why.evaluate("one => one === document.activeElement")
        why.press("Escape")
        assert why.count() == 0
        assert card.is_visible()
        card.get_by_role("button", name="Meant so: number 2").click()
        why.fill("sewn three times by now")
        why.press("Enter")
        sheet.settled(lambda: [one["words"] for one in sheet.design().get("accepted", [])], ["TIL"])
        card.wait_for(state="hidden")
        sheet.settled(lambda: page.evaluate("() => document.activeElement.id"), "drawing")
        sheet.settled(lambda: count(sheet), 1)


@pytest.mark.long
@pytest.mark.parametrize(("size", "how"), SIZES)
def test_every_card_is_whole_in_the_window_and_beside_its_button(
    served: Served, browser: Any, size: tuple[int, int], how: dict[str, Any]
) -> None:
    with shown(served, browser, size, EVERYWHERE, **how) as sheet:
        page = sheet.page
        window: Box = {"left": 0, "top": 0, "right": size[0], "bottom": size[1]}
        foot = page.locator("#findings-open").bounding_box()["y"]
        seen = 0
        for spot in page.locator(".spot").all():
            if how:
                spot.tap()
            else:
                spot.click()
            card = page.locator("#card")
            card.wait_for()
            chips = card.locator(".chip").count() or 1
            for chip in range(chips):
                if chips > 1:
                    card.locator(".chip").nth(chip).click()
                (box,), (button,) = boxes(sheet, "#card"), boxes(sheet, ".spot[aria-expanded=true]")
                assert within(box, window)
                assert box["bottom"] <= foot
                assert apart(box, button)
                for part in boxes(sheet, "#card button, #card p"):
                    assert part["left"] >= box["left"]
                    assert part["right"] <= box["right"]
                assert card.evaluate("one => one.scrollHeight <= one.clientHeight + 1")
                seen += 1
            page.keyboard.press("Escape")
            assert card.is_hidden()
            assert spot.evaluate("one => one === document.activeElement")
        assert seen == len(EVERYWHERE)


@pytest.mark.long
@pytest.mark.parametrize(("size", "how"), SIZES)
def test_ninety_findings_are_all_in_sight_and_none_lies_on_another(
    served: Served, browser: Any, size: tuple[int, int], how: dict[str, Any]
) -> None:
    """Each is at least 24 px each way: WCAG 2.2, 2.5.8 (target size)."""
    spread = [
        finding(at=((7 * step) % WIDTH + 0.3, (11 * step) % HEIGHT + 0.4), stops=step % 9 == 0)
        for step in range(84)
    ]
    found = [*spread, *(finding(f"number {step} of no place") for step in range(6))]
    with shown(served, browser, size, found, **how) as sheet:
        page = sheet.page
        said = page.locator("#behind").inner_text().splitlines()
        assert said == [LONG, LONG, "and 8 more problems to fix"]

        def check() -> int:
            spots, (stage,) = boxes(sheet), boxes(sheet, "#stage")
            assert count(sheet) == 90
            for box in spots:
                assert within(box, stage)
                assert box["width"] >= 24
                assert box["height"] >= 24
            assert all(apart(one, other) for one, other in combinations(spots, 2))
            return len(spots)

        whole = check()
        assert 8 < whole < 90
        for _ in range(4):
            page.get_by_role("button", name="Larger").click()
            check()
        page.get_by_role("button", name="Whole quilt").click()
        assert check() == whole


@pytest.mark.long
def test_a_button_follows_its_letter_in_its_own_size(served: Served, browser: Any) -> None:
    with shown(served, browser, LAPTOP, [finding(path=["row", 2], letter=3)]) as sheet:
        page = sheet.page
        letter = "#art .letter[data-row='2'][data-letter='3'] path"

        def places() -> tuple[Box, Box]:
            (spot,), (ink,) = boxes(sheet), boxes(sheet, letter)
            return spot, ink

        def middle(box: Box) -> float:
            return (box["left"] + box["right"]) / 2

        before, ink = places()
        assert middle(before) == pytest.approx(middle(ink), abs=1)
        assert 4 < ink["top"] - before["bottom"] < 12
        page.mouse.move(ink["left"] + 5, ink["top"] + 60)
        page.keyboard.down("Control")
        page.mouse.wheel(0, -150)
        page.keyboard.up("Control")
        sheet.settled(lambda: places()[1]["width"] > 1.4 * ink["width"], True)
        after, larger = places()
        assert middle(after) == pytest.approx(middle(larger), abs=1)
        assert 4 < larger["top"] - after["bottom"] < 12
        assert after["width"] == pytest.approx(before["width"], abs=0.5)
        assert (after["left"], after["top"]) != (before["left"], before["top"])
        for _ in range(6):
            page.get_by_role("button", name="Larger").click()
        (stage,) = boxes(sheet, "#stage")
        assert not within(places()[1], stage)
        assert within(places()[0], stage)
        page.locator(".spot").click()
        spot, far = places()
        assert stage["left"] < middle(far) < stage["right"]
        assert middle(spot) == pytest.approx(middle(far), abs=1)


@pytest.mark.long
def test_buttons_are_out_of_the_way_of_what_moves_and_of_the_bar(served: Served, browser: Any) -> None:
    found = [finding(path=["row", row], letter=letter) for row in (1, 2, 3) for letter in (1, 2, 3)]
    with shown(served, browser, LAPTOP, found) as sheet:
        page = sheet.page
        (ink,) = boxes(sheet, "#art .letter[data-row='2'][data-letter='2'] path")
        x, y = ink["left"] + 8, (ink["top"] + ink["bottom"]) / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 40, y + 30, steps=4)
        assert page.locator(".spot").first.is_hidden()
        page.mouse.up()
        page.locator("#beside").wait_for()
        sheet.settled(lambda: "up" in sheet.design()["row"][1], True)
        page.locator(".spot").first.wait_for()
        (bar,) = boxes(sheet, "#beside")
        spots = boxes(sheet)
        assert all(apart(bar, spot) for spot in spots)
        assert all(apart(one, other) for one, other in combinations(spots, 2))
        assert count(sheet) == len(found)
        page.locator(".spot").first.click()
        page.locator("#card").wait_for()
        assert page.locator("#beside").is_hidden()
        page.locator("#art .letter[data-row='3'] path").first.click()
        assert page.locator("#card").is_hidden()
        middles = """all => all.map((one) => {
          const { x, y, width, height } = one.querySelector("path").getBBox();
          return [Number(one.dataset.x) + x + width / 2, Number(one.dataset.y) + y + height / 2];
        })"""
        for one in found:
            (one["at"],) = page.locator(letter_of(one)).evaluate_all(middles)
        page.set_viewport_size({"width": 900, "height": 420})  # letters hardly larger than the buttons
        with page.expect_response("**/api/plan") as answer:
            page.get_by_label("Title of the quilt").fill("Sea")
        answer.value.finished()
        sheet.settled(lambda: page.locator(".spot").first.is_visible(), True)
        sheet.rested()
        names = page.locator(".spot").evaluate_all("all => all.map((one) => one.ariaLabel)")
        for spot, name in zip(boxes(sheet), names, strict=True):
            told = re.search(r"findings? here, ([0-9, ]+)\.", name) or re.search(r"(\d+)", name)
            assert told is not None
            for number in map(int, told[1].split(",")):
                (ink,) = boxes(sheet, f"{letter_of(found[number - 1])} path")
                assert apart(spot, ink), name


@pytest.mark.long
def test_the_keyboard_goes_from_finding_to_finding(served: Served, browser: Any) -> None:
    found = [finding(f"number {row}", path=["row", row]) for row in (1, 2, 3)]
    with shown(served, browser, LAPTOP, found) as sheet:
        page = sheet.page

        def focus() -> str:
            return str(page.evaluate("() => document.activeElement.ariaLabel ?? document.activeElement.id"))

        page.locator("#drawing").focus()
        page.keyboard.press("Tab")
        assert focus() == "Finding 1: Row 1: number 1"
        page.keyboard.press("ArrowRight")
        assert focus() == "Finding 2: Row 2: number 2"
        page.keyboard.press("End")
        assert focus() == "Finding 3: Row 3: number 3"
        page.keyboard.press("Shift+Tab")
        page.keyboard.press("Tab")
        assert focus() == "Finding 3: Row 3: number 3"
        page.keyboard.press("Enter")
        page.get_by_role("dialog", name="Check this: 3 of 3").wait_for()
        page.keyboard.press("n")
        page.get_by_role("dialog", name="Check this: 1 of 3").wait_for()
        page.keyboard.press("Shift+N")
        page.get_by_role("dialog", name="Check this: 3 of 3").wait_for()
        page.get_by_role("button", name="Previous").press("Enter")
        page.get_by_role("dialog", name="Check this: 2 of 3").wait_for()
        assert page.evaluate("() => document.activeElement.textContent") == "Previous"
        page.locator("#said").filter(has_text="Row 2: number 2").wait_for(state="attached")
        page.keyboard.press("Escape")
        assert focus() == "Finding 2: Row 2: number 2"
        page.keyboard.press("Escape")
        page.locator("#drawing").focus()
        page.keyboard.press("n")
        page.get_by_role("dialog", name="Check this: 1 of 3").wait_for()
        page.locator("#title").focus()
        assert page.locator("#card").is_hidden()


def test_what_stops_the_work_differs_without_color(served: Served, browser: Any) -> None:
    """WCAG 2.2, 1.4.1 (use of color): by a sign and by its shape, in a browser's forced colors too."""
    found = [finding(path=["row", 1]), finding("is too wide", stops=True, path=["row", 3])]
    with shown(served, browser, LAPTOP, found, forced_colors="active") as sheet:
        look, stop = sheet.page.locator(".spot").all()
        assert (look.inner_text(), stop.inner_text()) == ("1", "! 2")
        assert stop.get_attribute("aria-label") == "Finding 2, must fix: Row 3: is too wide"
        shape = "one => [getComputedStyle(one).borderTopLeftRadius, getComputedStyle(one).borderTopStyle]"
        assert look.evaluate(shape) != stop.evaluate(shape)
        corner = "one => parseFloat(getComputedStyle(one).borderTopLeftRadius)"
        assert look.evaluate(corner) > 10 > stop.evaluate(corner)


@pytest.mark.long
def test_axe_finds_nothing_on_the_quilt_and_its_cards_on_a_phone(served: Served, browser: Any) -> None:
    with shown(served, browser, PHONE, EVERYWHERE) as sheet:
        page = sheet.page
        for spot in (".spot.stops", ".spot:not(.stops)"):
            page.locator(spot).first.click()
            page.locator("#card").wait_for()
            results = Axe().run(page, options={"runOnly": AXE}).response
            assert [(one["id"], one["nodes"][0]["html"]) for one in results["violations"]] == []
            page.keyboard.press("Escape")


@pytest.mark.long
def test_the_list_is_reached_from_the_bar_as_before(served: Served, browser: Any) -> None:
    with shown(served, browser, LAPTOP, EVERYWHERE) as sheet:
        page = sheet.page
        opener = page.locator("#findings-open")
        assert opener.inner_text() == "2 problems to fix, 7 things to check"
        opener.press("Enter")
        assert page.locator("#findings > .finding").count() == len(EVERYWHERE)
