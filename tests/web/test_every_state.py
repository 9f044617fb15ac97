"""axe-core over every state of the page, in its two lights and in a browser's forced colors, walked in one page."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.base import AXE_SCRIPT

from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Running

pytestmark = pytest.mark.browser

RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
LOOKS: list[tuple[dict[str, str], list[str]]] = [
    ({"color_scheme": "light", "forced_colors": "none"}, RULES),
    ({"color_scheme": "dark", "forced_colors": "none"}, ["color-contrast"]),
    ({"color_scheme": "light", "forced_colors": "active"}, ["color-contrast"]),
]
"""Only colors differ between them, so the other rules are asked once."""
FOUND = """async ([part, rules]) => (await axe.run(part, { runOnly: rules, resultTypes: ["violations"] })).violations
  .map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(" ")}`)"""
QUILT = {
    "title": "Boat house",
    "panel": {"width": "30in", "height": "36in", "fabric": "Mist"},
    "lettering": {"cap_height": "1in", "font": "Montserrat", "fabric": "Deep"},
    "row": [{"text": "OAR"}, {"text": "LOCK"}],
    "fabric": [{"name": "Deep", "color": "#1d3f58"}, {"name": "Mist", "color": "#e9e4d6"}],
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Deep"]}],
    "quilting": [{"kind": "echo"}],
    "stated": [{"part": "binding", "strips": 9}],
}
MADE = {
    "made": "0" * 16,
    "name": "boat-house",
    "files": [
        {"name": "pattern.pdf", "size": 90_000, "pages": 2},
        {"name": "design.toml", "size": 900, "pages": 0},
    ],
}


class Walk:
    """A page that axe looks at again and again, and what it found in which state."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.found: list[str] = []
        self.states: list[str] = []

    def look(self, state: str, part: str = "html") -> None:
        """Ask axe in every look of the page, about the part of it that only this state has."""
        page = self.sheet.page
        self.states.append(state)
        if not page.evaluate("() => 'axe' in window"):
            page.evaluate(AXE_SCRIPT)
        for media, rules in LOOKS:
            page.emulate_media(**media)
            said = page.evaluate(FOUND, [part, rules])
            self.found += [f"{state}, {', '.join(media.values())}: {one}" for one in said]
        page.emulate_media(color_scheme="light", forced_colors="none")


def told(route: Any, *events: tuple[str, Any]) -> None:
    """Answer a making with these events."""
    body = "".join(f"event: {name}\ndata: {json.dumps(data)}\n\n" for name, data in events)
    route.fulfill(body=body, content_type="text/event-stream")


@pytest.mark.long
def test_axe_finds_nothing_in_any_state(start_page: type[Running], tmp_path: Path, browser: Any) -> None:
    """WCAG 2.x, A and AA."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, reduced_motion="reduce")
    with start_page(tmp_path) as served:
        gone = served.keep({**QUILT, "title": "Removed"}).rpartition("=")[2]
        served.client().delete(f"/api/quilts/{gone}")
        torn = served.keep({**QUILT, "title": "Torn"}).rpartition("=")[2]
        (tmp_path / "data" / "applique" / "quilts" / torn / "history.json").write_text("{", encoding="utf-8")
        address = served.keep(QUILT)
        sheet = Sheet(context.new_page(), f"{served.start}?quilt=all")
        walk, page = Walk(sheet), sheet.page
        page.get_by_text("A damaged quilt").first.wait_for()
        page.locator("#removed summary").click()
        page.locator("#removed img").wait_for()
        walk.look("start")
        page.goto(f"{served.start}?quilt=new")
        page.locator("body.ready #rows input").wait_for()
        walk.look("no words")

        page.goto(address)
        sheet.drawn(2)
        page.locator(".spot").first.wait_for()
        page.locator("#buy .bill").wait_for(state="attached")
        walk.look("quilt")
        walk_settings(walk)
        walk_quilt(walk)
        walk_dialogs(walk)

        page.route("**/api/**", lambda route: route.abort())
        page.get_by_label("Words of row 1", exact=True).fill("OARS")
        page.locator("#gone").wait_for()
        walk.look("program gone")
        page.unroute_all(behavior="ignoreErrors")
    context.close()
    assert walk.found == []
    assert len(walk.states) == len(set(walk.states)) > 20


def walk_settings(walk: Walk) -> None:
    """Every place unfolded with all that is folded away in it, and the text with an error."""
    sheet, page = walk.sheet, walk.sheet.page
    for fold in page.locator("#settings > details").all():
        name = fold.get_attribute("data-group")
        sheet.unfold(str(name))
        if name == "text":
            page.get_by_label("The design as TOML").fill('[[row]]\ntext = "LOCK"\ncap_hight = "7in"\n')
            page.get_by_role("button", name="Take this text").click()
            page.get_by_text("cap_hight").last.wait_for()
        walk.look(f"place {name}", f"[data-group='{name}']")
        page.locator(f"[data-group='{name}'] > summary").click()
    page.locator(".look > summary").first.click()
    walk.look("a row unfolded", "#words")


def walk_quilt(walk: Walk) -> None:
    """What stands on the quilt and at its foot."""
    page = walk.sheet.page
    page.locator("#findings-open").click()
    page.get_by_role("button", name="Meant so").first.click()
    walk.look("list of findings, a reason asked", "#findings-sheet")
    page.locator("#findings-open").click()
    page.locator("#buy-open").click()
    page.locator("#scene svg").wait_for()
    walk.look("what to buy", "#foot")
    page.locator("#buy-open").click()
    page.locator(".spot").first.click()
    page.locator("#card").wait_for()
    walk.look("card of a finding", "#card")
    page.keyboard.press("Escape")
    for spot, where in (("letter", "1 1"), ("row", "1")):
        page.locator("#piece").select_option(where)
        page.locator("#beside").wait_for()
        walk.look(f"bar at a {spot}", "#beside")
    page.keyboard.press("Escape")
    page.locator("#piece").select_option(label="Border 1")
    page.locator("#beside").wait_for()
    walk.look("bar at a border", "#beside")
    page.locator("#piece").select_option(label="Panel")
    page.locator(".beside-borders summary").click()
    page.locator("#beside .border-picture").first.wait_for()
    walk.look("pictures of borders", "#beside")
    page.keyboard.press("Escape")
    page.locator("[data-focus='font-0']").click()
    page.locator(".font >> nth=13").wait_for(state="attached")
    page.keyboard.press("ArrowDown")
    page.locator("#stage.trying").wait_for()
    walk.look("a font tried")
    page.keyboard.press("Escape")
    page.locator("[data-focus='cap-0']").fill("40in")
    page.get_by_text("This drawing is out of date").wait_for()
    page.locator(".spot.stops").first.wait_for()
    walk.look("must be fixed", "#stage")
    page.locator("[data-focus='cap-0']").fill("")
    page.locator("#behind").wait_for(state="hidden")


def walk_dialogs(walk: Walk) -> None:
    """Saving, a list of names, and making for her and for customers: asked, ready, refused."""
    sheet, page = walk.sheet, walk.sheet.page
    page.get_by_role("button", name="Save", exact=True).click()
    page.locator("#save-dialog[open]").wait_for()
    walk.look("save", "#save-dialog")
    page.keyboard.press("Escape")
    held: list[Any] = []
    page.route("**/api/make?*", lambda route: held.append(route))
    page.route("**/api/make-for-customers?*", lambda route: held.append(route))
    page.get_by_role("button", name="Make the pattern").click()
    sheet.settled(lambda: len(held), 1)
    walk.look("making", "#make-dialog")
    told(held[0], ("done", MADE))
    customers = page.get_by_role("button", name="Make it for customers")
    customers.wait_for()
    page.locator("#make-dialog details summary").click()
    walk.look("pattern made", "#make-dialog")
    customers.click()
    sheet.settled(lambda: len(held), 2)
    walk.look("customer's edition asked", "#make-dialog")
    problem = {"what": "the binding is too short", "where": {}, "fix": "another number"}
    told(held[1], ("refused", {"findings": [problem]}))
    page.locator("#make-dialog .finding").wait_for()
    walk.look("customer's edition refused", "#make-dialog")
    page.keyboard.press("Escape")
    page.unroute_all(behavior="ignoreErrors")
    sheet.unfold("pattern")
    page.get_by_role("button", name="Make one for each name of a list").click()
    page.get_by_label("The names", exact=True).fill("place,name\nBath,Ada\nYork\nDover,Zoë")
    page.locator("#names-read .finding").wait_for()
    walk.look("list of names", "#names-dialog")
    page.keyboard.press("Escape")
