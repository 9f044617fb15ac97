"""Nothing is ever lost: reloads, other windows, another browser, and a program that is stopped or killed."""

from __future__ import annotations

import contextlib
import itertools
import json
import os
import random
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from applique.kept import Chest
from tests.web.patience import SLOW
from tests.web.test_page import Sheet

if TYPE_CHECKING:
    from tests.web.conftest import Running, Served

pytestmark = pytest.mark.browser

KEPT_MS = 500
"""The program has a change at most so long after it."""


@pytest.fixture
def context(browser: Any) -> Iterator[Any]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    yield context
    context.close()


def is_kept(sheet: Sheet) -> None:
    """Wait until the page says that the program has everything."""
    sheet.page.locator("#kept[data-kept='yes']").wait_for()
    assert sheet.page.locator("#kept").text_content() == "Saved on this machine"


def words(sheet: Sheet, row: int = 1) -> str:
    return str(sheet.page.get_by_label(f"Words of row {row}", exact=True).input_value())


def type_words(sheet: Sheet, text: str, row: int = 1) -> None:
    sheet.page.get_by_label(f"Words of row {row}", exact=True).fill(text)


@pytest.mark.long
def test_a_reload_keeps_words_and_undo_and_redo(served: Served, context: Any) -> None:
    sheet = Sheet(context.new_page(), served.address)
    page = sheet.page
    sheet.words("OAR", "LOCK")
    page.get_by_role("button", name="Remove row 2").click()
    page.get_by_role("button", name="Remove row 1").wait_for()
    page.get_by_label("Title of the quilt").fill("Boats")
    page.get_by_role("button", name="Undo").click()
    is_kept(sheet)
    assert re.search(r"\?quilt=[a-z0-9]{16}$", page.url)
    page.reload()
    sheet.drawn(1)
    assert page.get_by_label("Words of row 2").count() == 0
    page.get_by_role("button", name="Redo").click()
    assert page.get_by_label("Title of the quilt").input_value() == "Boats"
    for _ in range(2):
        page.get_by_role("button", name="Undo").click()
    sheet.drawn(2)
    assert (words(sheet, 1), words(sheet, 2)) == ("OAR", "LOCK")
    sheet.rested()
    page.locator("#piece").select_option("2")
    page.locator("#drawing").press("ArrowUp")
    sheet.settled(lambda: sheet.design()["row"], [{"text": "OAR"}, {"text": "LOCK", "up": "1/8in"}])
    is_kept(sheet)
    sheet.quiet()


@pytest.mark.long
def test_another_browser_finds_the_quilt_on_the_start_screen(served: Served, browser: Any) -> None:
    """With its picture, as the program keeps it; and what is removed there lies in the trash."""
    first, second = browser.new_context(), browser.new_context()
    sheet = Sheet(first.new_page(), served.address)
    sheet.words("WILLOWS")
    is_kept(sheet)
    first.close()
    sheet = Sheet(second.new_page(), served.start)
    page = sheet.page
    card = page.locator("a.quilt", has_text="WILLOWS")
    picture = card.locator("img")
    picture.wait_for()
    picture.evaluate("picture => picture.decode()")
    assert picture.evaluate("picture => picture.naturalHeight") > 0
    card.click()
    sheet.drawn(1)
    assert words(sheet) == "WILLOWS"
    page.get_by_role("link", name="Your quilts").click()
    page.get_by_role("button", name="Remove WILLOWS").click()
    page.locator("#quilts-note", has_text="is in the trash now").wait_for()
    assert page.locator("a.quilt", has_text="WILLOWS").count() == 0
    sheet.quiet()
    second.close()


@pytest.mark.long
def test_a_quilt_begins_with_a_sample_or_a_file_beside_those_there_are(
    served: Served, context: Any, tmp_path: Path
) -> None:
    sheet = Sheet(context.new_page(), served.start)
    page = sheet.page
    page.get_by_role("link", name="Row Steady Home From a sample").click()
    sheet.drawn(3)
    is_kept(sheet)
    sample = page.url
    file = tmp_path / "reeds.toml"
    file.write_text('title = "Reeds"\n[[row]]\ntext = "REEDS"\n', encoding="utf-8")
    page.locator("#open-file").set_input_files(file)
    sheet.settled(lambda: words(sheet), "REEDS")
    is_kept(sheet)
    assert page.url != sample
    page.goto(sample)
    sheet.drawn(3)
    assert page.get_by_label("Title of the quilt").input_value() == "Row Steady Home"
    page.get_by_role("link", name="Your quilts").click()
    page.locator("a.quilt", has_text="Reeds").wait_for()
    page.locator("#open-file").set_input_files(file)
    sheet.settled(lambda: words(sheet), "REEDS")
    assert page.locator("main").is_visible()
    sheet.quiet()


@pytest.mark.long
def test_two_windows_of_one_quilt_know_of_each_other(served: Served, browser: Any) -> None:
    """In one browser at once; in another one when it writes. Whatever is chosen, undo has the other one."""
    ours, other = browser.new_context(), browser.new_context()
    first = Sheet(ours.new_page(), served.address)
    first.words("OAR")
    is_kept(first)
    second, third = (Sheet(one.new_page(), first.page.url) for one in (ours, other))
    type_words(first, "OARS")
    is_kept(first)
    take = second.page.get_by_role("button", name="Show that one here")
    take.click()
    second.settled(lambda: words(second), "OARS")
    assert take.is_hidden()
    type_words(third, "MINE")
    keep = third.page.get_by_role("button", name="Keep this one")
    keep.wait_for()
    assert third.page.locator("#kept").text_content() == "Not saved"
    type_words(third, "MINE TOO")
    keep.click()
    is_kept(third)
    assert words(third) == "MINE TOO"
    third.page.get_by_role("button", name="Undo").click()
    assert words(third) == "OARS"
    is_kept(third)
    type_words(first, "FIRST")
    first.page.get_by_role("button", name="Show that one here").click()
    first.settled(lambda: words(first), "OARS")
    first.page.get_by_role("button", name="Undo").click()
    assert words(first) == "FIRST"
    is_kept(first)
    for one in (first, second, third):
        one.quiet()
    ours.close()
    other.close()


def in_program(sheet: Sheet, served: Served, text: str) -> None:
    """Wait until the program has these words in row 1 of the quilt in sight."""
    client, key = served.client(), sheet.page.url.rsplit("=", 1)[1]
    sheet.settled(lambda: client.get(f"/api/quilts/{key}").json()["design"]["row"][0]["text"], text)


@pytest.mark.long
def test_a_program_that_comes_back_gets_what_the_browser_has(
    start_page: type[Running], tmp_path: Path, context: Any, dejavu_bold: str
) -> None:
    """At the same address; in between the page says that it is not saved. A font of one's own is there again."""
    server = start_page(tmp_path)
    with server as served:
        client = served.client()
        client.post("/api/fonts", params={"name": "mine.ttf"}, content=Path(dejavu_bold).read_bytes())
        design = {"row": [{"text": "OAR"}], "lettering": {"font": "mine.ttf"}}
        key = "program22came2ba"
        assert client.put(f"/api/quilts/{key}", json={"rests_on": 0, "design": design}).status_code == 200
        sheet = Sheet(context.new_page(), f"{served.start}?quilt={key}")
        sheet.drawn(1)
        server.process.kill()
        server.process.wait(SLOW / 1000)
    type_words(sheet, "OARS")
    sheet.page.locator("#kept", has_text="Not saved yet").wait_for()
    with start_page(tmp_path) as again:
        assert again.start == served.start
        is_kept(sheet)
        in_program(sheet, again, "OARS")
        type_words(sheet, "OARS AWAY")
        sheet.page.locator("#drawing[aria-label*='OARS AWAY']").wait_for()
        is_kept(sheet)
    # The window is closed while the program is gone: another one brings what it had.
    type_words(sheet, "OARS AT REST")
    sheet.page.locator("#kept", has_text="Not saved yet").wait_for()
    sheet.page.close()
    with start_page(tmp_path) as last:
        other = Sheet(context.new_page(), last.start)
        card = other.page.locator("a.quilt").first
        card.wait_for()
        other.settled(
            lambda: last.client().get(f"/api/quilts/{key}").json()["design"]["row"][0]["text"], "OARS AT REST"
        )
        card.click()
        other.drawn(1)
        assert words(other) == "OARS AT REST"
        other.quiet()


@pytest.mark.long
def test_without_a_folder_to_keep_it_the_page_says_so_and_the_browser_has_it(
    start_page: type[Running], tmp_path: Path, context: Any
) -> None:
    (tmp_path / "data").write_text("a file where the folder would be", encoding="utf-8")
    with start_page(tmp_path) as served:
        sheet = Sheet(context.new_page(), served.address)
        sheet.words("OAR")
        sheet.page.locator("#kept", has_text="Not saved: ").wait_for()
        sheet.page.reload()
        sheet.drawn(1)
        assert words(sheet) == "OAR"
        (tmp_path / "data").unlink()
        is_kept(sheet)
        in_program(sheet, served, "OAR")


NOTE = """() => {
  window.changes = [];
  performance.setResourceTimingBufferSize(100_000);
  const set = Storage.prototype.setItem;
  Storage.prototype.setItem = function (name, text) {
    set.call(this, name, text);
    if (name === "design") changes.push([performance.timeOrigin + performance.now(), text]);
  };
}"""
"""Notes every design that the page comes to, with the moment."""
SLOWEST = """() => Math.max(0, ...performance.getEntriesByType("resource")
  .filter(({ name }) => name.includes("/api/quilts/")).map(({ duration }) => duration))"""
KILLS = 50


class Mortal:
    """`applique serve` that is killed and started again at the same address, over the same folder."""

    def __init__(self, folder: Path) -> None:
        self.quilts = folder / "data" / "applique" / "quilts"
        places = {"XDG_CACHE_HOME": str(folder), "XDG_DATA_HOME": str(folder / "data")}
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.web.mortal_server", "serve", "--no-browser"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
            env={**os.environ, **places, "PYTHONUNBUFFERED": "1"},
        )

    def live(self) -> str:
        """Start it; its address."""
        assert self._process.stdin is not None
        self._process.stdin.write("\n")
        self._process.stdin.flush()
        self._living = int(self._said(r"process (\d+)"))
        return self._said(r"(http://\S+)")

    def _said(self, pattern: str) -> str:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            if found := re.search(pattern, line):
                return found[1]
        raise AssertionError("it has ended")

    def die(self) -> float:
        """Kill it; the moment, in milliseconds since 1970, as a page counts them."""
        moment = time.time() * 1000
        os.kill(self._living, signal.SIGKILL)
        return moment

    def end(self) -> None:
        assert self._process.stdin is not None and self._process.stdout is not None
        with contextlib.suppress(ProcessLookupError):
            os.kill(self._living, signal.SIGKILL)
        self._process.stdin.close()
        self._process.wait(SLOW / 1000)
        self._process.stdout.close()


@pytest.fixture
def mortal(tmp_path: Path) -> Iterator[Mortal]:
    program = Mortal(tmp_path)
    yield program
    program.end()


class Evening:
    """Somebody who types and drags without end, and remembers every word."""

    def __init__(self, sheet: Sheet, chance: random.Random) -> None:
        self._page, self._chance = sheet.page, chance
        self._field = sheet.page.get_by_label("Words of row 1", exact=True)
        self._letters = itertools.cycle("THE RIVER HAS TIME ")
        self.typed = words(sheet)

    def go_on(self) -> None:
        if len(self.typed) > 11:
            self._field.fill("")
            self.typed = ""
        if self.typed.strip() and self._chance.random() < 0.3:
            self._drag()
        else:
            self.type()

    def type(self) -> None:
        letter = next(self._letters)
        self._field.press(letter if letter != " " else "Space")
        self.typed += letter

    def _drag(self) -> None:
        letters = self._page.locator("#art > .letter")
        box = letters.first.bounding_box() if letters.count() else None
        if box is None:
            return
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        mouse = self._page.mouse
        mouse.move(x, y)
        mouse.down()
        mouse.move(x + self._chance.randint(-40, 40), y + self._chance.randint(-40, 40), steps=3)
        mouse.up()
        self._field.press("End")


def lost(changes: list[list[Any]], kept: Mapping[str, Any], killed: float) -> float:
    """For how many milliseconds before the kill the oldest change was there that is not in what is kept."""
    has = [number for number, (_, text) in enumerate(changes, 1) if json.loads(text)["row"] == kept["row"]]
    assert has, "what is kept was never on the page"
    return max((killed - at for at, _ in changes[has[-1] :] if at < killed), default=0)


def keeps_it(chest: Chest, key: str, sheet: Sheet) -> bool:
    """Whether what is kept is what the page shows."""
    return bool(chest.read(key)[1].design == sheet.design())


@pytest.mark.long
def test_a_program_killed_at_fifty_moments_lacks_the_last_half_second_at_most(
    mortal: Mortal, context: Any
) -> None:
    """While somebody types and drags; the page says at once that it is gone, and nothing is lacking once it is back.

    A busy machine that answers late is given what its answers took.
    """
    chance = random.Random(15)
    start = mortal.live()
    sheet = Sheet(context.new_page(), f"{start}?quilt=new")
    page = sheet.page
    sheet.words("A")
    page.evaluate(NOTE)
    maker = Evening(sheet, chance)
    drags = 0
    for _ in range(KILLS):
        is_kept(sheet)
        page.evaluate(
            """() => {
              changes.splice(0, Math.max(0, changes.length - 20)); // a move may still be on its way to what is kept
              if (!changes.length) changes.push([0, sessionStorage.getItem("design")]);
              performance.clearResourceTimings();
            }"""
        )
        killed: list[float] = []
        timer = threading.Timer(chance.uniform(0.05, 1.5), lambda at=killed: at.append(mortal.die()))
        timer.start()
        while not killed:
            maker.go_on()
        timer.join()
        maker.type()
        page.locator("#gone").wait_for()
        key = page.url.rsplit("=", 1)[1]
        kept = Chest(mortal.quilts).read(key)[1].design
        changes = page.evaluate("() => changes")
        drags += sum("right" in text for _, text in changes)
        allowed = max(KEPT_MS, KEPT_MS / 2 + 2 * page.evaluate(SLOWEST))
        assert lost(changes, kept, killed[0]) <= allowed
        assert words(sheet) == maker.typed
        assert mortal.live() == start
        page.locator("#gone").wait_for(state="hidden")
        # A move may still be on its way, or follow the size that fits.
        sheet.settled(partial(keeps_it, Chest(mortal.quilts), key, sheet), True)
    assert drags > KILLS
    said = [text for text in sheet.said if text.startswith("error") and "Failed to load resource" not in text]
    assert said == []


@pytest.mark.parametrize("width", [390, 1280])
def test_cards_side_by_side_on_the_start_screen_are_of_one_height(
    served: Served, browser: Any, width: int
) -> None:
    """The card of a new quilt has one line of words, that of a sample two, and three where its title is long."""
    context = browser.new_context(viewport={"width": width, "height": 844})
    page = Sheet(context.new_page(), served.start).page
    page.locator("a.quilt", has_text="Lantern Walk").wait_for()
    cards = page.evaluate(
        """() => [...document.querySelectorAll(".start-new + .quilts .quilt")].map(one => one.getBoundingClientRect())
        .map(box => [Math.round(box.top), Math.round(box.height)])"""
    )
    assert len(cards) >= 5
    assert len({height for _, height in cards}) > 1 or width > 400
    for top in {top for top, _ in cards}:
        assert len({height for at, height in cards if at == top}) == 1
    context.close()


def test_axe_finds_no_serious_problem_on_the_start_screen_of_a_phone(served: Served, browser: Any) -> None:
    """axe-core, the rules of WCAG 2.x A and AA, with a quilt that is damaged among the others."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    address = served.keep({"row": [{"text": "TORN"}]})
    folder = Path(served.client().get("/api/quilts").json()["folder"])
    (folder / address.rsplit("=", 1)[1] / "history.json").write_text("{", encoding="utf-8")
    sheet = Sheet(context.new_page(), served.start)
    sheet.page.get_by_text("A damaged quilt").first.wait_for()
    results = (
        Axe().run(sheet.page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]}).response
    )
    serious = [one["id"] for one in results["violations"] if one["impact"] in ("serious", "critical")]
    assert not serious
    assert sheet.page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
    sheet.quiet()
    context.close()
