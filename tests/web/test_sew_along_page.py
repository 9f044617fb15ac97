"""The page to sew by in a browser: opened from the disk, as whoever sews from it does."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from applique.design import design_from_mapping
from applique.drawings import Drawing, box
from applique.instructions import (
    Cautions,
    Chapter,
    ChapterKind,
    Choices,
    Heading,
    Instructions,
    Option,
    Step,
    Tick,
    instructions_of,
)
from applique.pattern import Pattern, draft
from applique.sew_along import sew_along_html
from tests.web.patience import SLOW

pytestmark = pytest.mark.browser

WIDTHS = (360, 768, 1280)
HOSTILE = "</script><script>alert(1)</script> Waaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaave \"'"
QUILT: dict[str, Any] = {
    "title": "Boats",
    "fabric": [{"name": "Oat", "color": "#eeeeee"}, {"name": "Plum", "color": "#550055"}],
    "row": [{"text": "OAR OAR"}, {"text": "ROE"}],
    "lettering": {"font": "Rubik", "cap_height": "3in"},
    "panel": {"width": "26in", "height": "18in", "fabric": "Plum"},
    "border": [{"kind": "squares", "size": "2in", "fabrics": ["Plum", "Oat"]}],
    "hanging": {"sleeve": True},
}
CHOICE = Option(
    title="Echo", said=("Follow the letters.",), drawing=Drawing(width=90, height=40, marks=(), said="Echo")
)
EXTRA = Chapter(
    kind=ChapterKind.SCALE,
    title="More",
    blocks=(
        Choices(options=(CHOICE,)),
        Heading(said="Ways"),
        Choices(options=(CHOICE, CHOICE)),
        Cautions(items=("Close the blade.",)),
        Step(
            number=99,
            said=("Sew it.",),
            drawing=Drawing(
                width=400, height=90, marks=(box(0, 0, 400, 90, fill="#cccccc"),), said="A strip"
            ),
            ticks=(Tick(key="own.1", said="This one"), Tick(key="own.2", said="That one")),
        ),
    ),
)
"""Blocks that the chapters may come to have."""


@cache
def _pattern(title: str = "Boats") -> Pattern:
    return draft(design_from_mapping({**QUILT, "title": title}))


def _page(title: str = "Boats") -> bytes:
    pattern = _pattern(title)
    whole = instructions_of(pattern)
    others = [chapter for chapter in whole.chapters if chapter.kind is not EXTRA.kind]
    more = Instructions(method=whole.method, edition=whole.edition, chapters=(*others, EXTRA))
    return sew_along_html(pattern, more)


@cache
def _long_words() -> str:
    rows = [{"text": "INSTEADLY OAR", "cap_height": "1in"}, {"text": "ROE", "cap_height": "2in"}]
    return sew_along_html(draft(design_from_mapping({**QUILT, "row": rows}))).decode("utf-8")


@pytest.fixture
def write(tmp_path: Path) -> Callable[..., str]:
    def written(title: str = "Boats", name: str = "sew-along.html") -> str:
        (tmp_path / name).write_bytes(_page(title))
        return (tmp_path / name).as_uri()

    return written


@pytest.fixture
def page(browser: Any) -> Iterator[Any]:
    """A page in a browser of its own, that must stay without an error and ask for nothing."""
    context = browser.new_context(viewport={"width": 820, "height": 1180}, color_scheme="light")
    page = context.new_page()
    page.set_default_timeout(SLOW)
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda said: wrong.append(said.text))
    page.on("dialog", lambda dialog: wrong.append(dialog.message))
    page.on("request", lambda asked: wrong.extend([asked.url] if not asked.url.startswith("file:") else []))
    yield page
    assert not wrong
    context.close()


def _check(page: Any, what: str) -> None:
    rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = Axe().run(page, options={"runOnly": rules}).response["violations"]
    assert not found, (
        what,
        [(one["id"], [node["html"][:200] for node in one["nodes"]][:3]) for one in found],
    )


@pytest.mark.long
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(page: Any, write: Callable[..., str], scheme: str) -> None:
    """axe-core, the rules of WCAG 2.x A and AA and its best practices, at the width of a phone, a tablet, a laptop."""
    page.emulate_media(color_scheme=scheme)
    page.goto(write())
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        _check(page, f"{width}")
    page.get_by_role("checkbox", name="Step 1", exact=True).check()
    page.get_by_role("button", name="Whole row").first.click()
    _check(page, "ticked")
    page.get_by_role("button", name="Clear all ticks").click()
    _check(page, "asked")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Enlarge").first.click()
    _check(page, "enlarged")


@pytest.mark.long
@pytest.mark.parametrize("width", [320, *WIDTHS])
def test_nothing_scrolls_sideways(page: Any, write: Callable[..., str], width: int) -> None:
    """WCAG 2.2, 1.4.10: at 320 px all is there without scrolling in two directions, whatever she called it."""
    page.set_viewport_size({"width": width, "height": 800})
    page.goto(write(HOSTILE))
    wide = page.evaluate("() => document.documentElement.scrollWidth")
    assert wide <= width
    outside = page.evaluate(
        """() => [...document.querySelectorAll('main *, header *')]
        .filter(one => !one.closest('svg, .unseen, thead') && one.getBoundingClientRect().right > innerWidth + 1)
        .map(one => one.outerHTML.slice(0, 120))"""
    )
    assert outside == []


@pytest.mark.long
@pytest.mark.parametrize("width", [390, 820, 1280])
def test_the_contents_stand_in_line(page: Any, write: Callable[..., str], width: int) -> None:
    """Titles under their heading, and the tallies of all chapters under one another."""
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(write())
    titles, tallies = page.evaluate(
        """() => ["nav h2, nav a span", "nav .part"].map(what => [...document.querySelectorAll(what)]
        .filter(one => one.textContent && (!one.matches(".part") || one.previousElementSibling.matches("small")))
        .map(one => one.getBoundingClientRect()).map(box => what.includes("h2") ? box.left : box))"""
    )
    assert len(titles) > 10 and len({round(left) for left in titles}) == 1
    assert len(tallies) > 6
    assert len({round(box["left" if width < 600 else "right"]) for box in tallies}) == 1


def test_it_is_large_enough_to_read_and_to_touch(page: Any, write: Callable[..., str]) -> None:
    """WCAG 2.2, 2.5.5: what is touched is 44 px wide and high."""
    page.set_viewport_size({"width": 360, "height": 780})
    page.goto(write())
    assert float(page.evaluate("() => parseFloat(getComputedStyle(document.body).fontSize)")) >= 20
    small = page.evaluate(
        """() => [...document.querySelectorAll('main label, main button, header a, header button, nav a')]
        .filter(one => one.offsetParent)
        .filter(one => one.getBoundingClientRect().height < 44 || one.getBoundingClientRect().width < 44)
        .map(one => one.outerHTML.slice(0, 120))"""
    )
    assert small == []


@pytest.mark.parametrize("width", [390, 820])
def test_a_line_of_tiles_ends_between_words(page: Any, width: int) -> None:
    """WCAG 2.2, 2.5.8: a tile is no smaller than 24 px."""
    page.set_viewport_size({"width": width, "height": 1100})
    page.set_content(_long_words())
    words = page.evaluate(
        """() => [...document.querySelectorAll('.word')].map(one =>
        [...one.querySelectorAll('.t')].map(tile => tile.getBoundingClientRect()).map(box => [box.top, box.width]))"""
    )
    assert max(len(word) for word in words) == len("INSTEADLY")
    for word in words:
        assert len({round(top) for top, _ in word}) == 1
        assert min(wide for _, wide in word) >= 24
    columns = page.evaluate(
        "() => [...document.querySelectorAll('.ticks')]"
        ".map(one => getComputedStyle(one).gridTemplateColumns.split(' ').length)"
    )
    assert columns and set(columns) == ({2} if width == 390 else {3})


def test_what_she_called_it_is_shown_and_runs_nothing(page: Any, write: Callable[..., str]) -> None:
    page.goto(write(HOSTILE))
    assert page.locator("h1").text_content() == HOSTILE
    assert page.locator("script").count() == 1
    page.get_by_role("checkbox", name="Step 1", exact=True).check()
    assert re.search(r"\b1 of \d+ done", page.locator("header").inner_text())


@pytest.mark.long
def test_ticks_are_kept_and_two_patterns_never_mix(page: Any, write: Callable[..., str]) -> None:
    first, second = write(), write("Other boats", "other.html")
    page.goto(first)
    board = page.get_by_role("group", name="Traced", exact=True)
    board.get_by_role("checkbox", name="R 3 of 6").check()
    page.get_by_role("checkbox", name="Step 2", exact=True).check()
    assert "1 of 9 done" in board.inner_text()
    page.reload()
    ticked = page.evaluate("() => [...document.querySelectorAll(':checked')].map(one => one.name)")
    assert len(ticked) == 2 and "piece.row.1.3.traced" in ticked
    assert page.get_by_role("checkbox", name="Step 2", exact=True).is_checked()
    assert "2 of " in page.locator("header").inner_text()
    page.goto(second)
    assert page.evaluate("() => document.querySelectorAll(':checked').length") == 0
    page.goto(first)
    page.get_by_role("button", name="Clear all ticks").click()
    page.get_by_role("button", name="No, keep them").click()
    assert page.evaluate("() => document.querySelectorAll(':checked').length") == 2
    page.get_by_role("button", name="Clear all ticks").click()
    page.get_by_role("button", name="Yes, clear them").click()
    assert page.evaluate("() => document.querySelectorAll(':checked').length") == 0
    page.reload()
    assert page.evaluate("() => document.querySelectorAll(':checked').length") == 0


def test_a_browser_that_keeps_nothing_is_told_of_once(page: Any, write: Callable[..., str]) -> None:
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } })"
    )
    page.goto(write())
    page.get_by_role("checkbox", name="Step 1", exact=True).check()
    page.get_by_role("checkbox", name="Step 2", exact=True).check()
    assert page.get_by_text("This browser won't keep your ticks").count() == 1
    assert page.get_by_text("This browser won't keep your ticks").is_visible()
    assert page.get_by_text("Your ticks stay in this browser").is_hidden()
    assert "2 of " in page.locator("header").inner_text()


@pytest.mark.long
def test_the_keyboard_reaches_everything_and_what_it_reaches_is_in_sight(
    page: Any, write: Callable[..., str]
) -> None:
    """WCAG 2.2, 2.4.11: what has the focus does not lie under the line at the top."""
    page.set_viewport_size({"width": 820, "height": 500})
    page.goto(write())
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")  # past the top, to the contents
    assert page.evaluate("() => document.activeElement.id") == "contents"
    wanted = page.evaluate(
        "() => [...document.querySelectorAll('main a, main button, main input, main [tabindex=\"0\"]')]"
        ".filter(e => e.offsetParent).length"
    )
    wanted -= page.locator(".cover button").count()  # it stands before the contents, and was passed over
    for _ in range(wanted):
        page.keyboard.press("Tab")
        inside, below = page.evaluate(
            """() => {
                const one = document.activeElement;
                one.dataset.met = "yes";
                const top = document.querySelector(".bar").getBoundingClientRect().bottom;
                return [!!one.closest("main"), one.getBoundingClientRect().bottom > top];
            }"""
        )
        assert inside and below
    assert page.evaluate("() => document.querySelectorAll('[data-met]').length") == wanted
    page.get_by_role("link", name="Go to the next tick").focus()
    page.keyboard.press("Enter")
    first = page.locator("main input").first
    assert page.evaluate("() => document.activeElement.name") == first.get_attribute("name")
    page.keyboard.press("Space")
    assert first.is_checked()


def test_a_question_asked_by_keyboard_begins_at_its_safe_answer(page: Any, write: Callable[..., str]) -> None:
    """`autofocus` would take the focus as the page opens, from whoever was quicker: Chromium complains of it."""
    page.goto(write())
    assert page.locator("[autofocus]").count() == 0
    for opened, safe in (("Clear all ticks", "No, keep them"), ("Enlarge", "Close")):
        opener = page.get_by_role("button", name=opened).first
        opener.focus()
        page.keyboard.press("Enter")
        assert page.evaluate("() => document.activeElement.textContent") == safe
        page.keyboard.press("Enter")
        assert page.locator("dialog[open]").count() == 0
        assert page.evaluate("() => document.activeElement.textContent") == opened


def test_the_line_at_the_top_says_where_one_is(page: Any, write: Callable[..., str]) -> None:
    page.goto(write())
    assert page.locator("#where").inner_text() == "Boats"
    page.get_by_role("navigation").get_by_role("link", name="Borders").click()
    page.wait_for_function("() => document.querySelector('#where').textContent === 'Borders'")
    bar = page.locator(".bar").bounding_box()
    assert bar["y"] == 0
    assert page.get_by_role("heading", name="Borders", exact=True).bounding_box()["y"] > bar["height"]


@pytest.mark.long
def test_dark_for_the_evening_by_the_machine_and_by_the_switch(page: Any, write: Callable[..., str]) -> None:
    def ground(selector: str) -> str:
        return str(
            page.evaluate(f"() => getComputedStyle(document.querySelector('{selector}')).backgroundColor")
        )

    page.goto(write())
    light = ground("body")
    assert ground("figure .ground") == "rgb(255, 255, 255)"
    switch = page.get_by_role("switch", name="Dark colors for the evening")
    assert switch.get_attribute("aria-checked") == "false"
    switch.click()
    dark = ground("body")
    assert dark != light and switch.get_attribute("aria-checked") == "true"
    assert ground("figure .ground") == "rgb(234, 223, 202)"
    page.reload()
    assert ground("body") == dark
    page.evaluate("() => localStorage.clear()")
    page.emulate_media(color_scheme="dark")
    page.reload()
    assert ground("body") == dark
    switch.click()
    assert ground("body") == light


def test_it_prints_without_its_controls_and_splits_no_step(page: Any, write: Callable[..., str]) -> None:
    page.emulate_media(color_scheme="dark", media="print")
    page.goto(write())
    for control in (".bar", "nav", "#clear", ".enlarge", ".whole", ".step-tick input"):
        assert page.locator(control).first.is_hidden(), control
    ground, breaks, whole = page.evaluate(
        """() => [getComputedStyle(document.body).backgroundColor,
        [...document.querySelectorAll('main > section:not(.cover)')].map(one => getComputedStyle(one).breakBefore),
        [...document.querySelectorAll('.step, figure, tr')].map(one => getComputedStyle(one).breakInside)]"""
    )
    assert ground == "rgb(255, 255, 255)"
    assert set(breaks) == {"page"}
    assert set(whole) == {"avoid"}


def test_the_words_of_pictures_can_be_read_and_no_picture_is_cut_off(
    page: Any, write: Callable[..., str]
) -> None:
    """38 drawings were moved sideways on a telephone, some on a tablet. Words are 11 px at the least, 13 where there is
    room, and as large as the small print around them at the most."""
    page.goto(write())
    for width, least in ((360, 11), (390, 11), (820, 11), (1280, 13)):
        page.set_viewport_size({"width": width, "height": 900})
        words, beyond, frames, narrow = page.evaluate(
            """() => {
                const words = [], beyond = [], frames = [];
                let narrow = 0;
                for (const svg of document.querySelectorAll("figure .ground svg")) {
                    if (!svg.getClientRects().length) continue;
                    const box = svg.getBoundingClientRect(), frame = svg.closest(".ground");
                    if (svg.closest(".small")) narrow += 1;
                    for (const mark of svg.querySelectorAll("text, path, use")) {
                        const own = mark.getBoundingClientRect();
                        const across = Math.max(own.right - box.right, box.left - own.left);
                        const out = Math.max(across, own.bottom - box.bottom, box.top - own.top);
                        if (own.width && out > 1) beyond.push([svg.textContent, mark.outerHTML.slice(0, 150), out]);
                    }
                    for (const text of svg.querySelectorAll("text")) {
                        const onto = text.getScreenCTM();
                        words.push(parseFloat(getComputedStyle(text).fontSize) * Math.hypot(onto.a, onto.b));
                    }
                    const room = frame.getBoundingClientRect();
                    const inside = room.left >= 0 && room.right <= innerWidth;
                    frames.push([frame.scrollWidth <= frame.clientWidth, inside && box.left >= room.left]);
                }
                return [words, beyond, frames, narrow];
            }"""
        )
        assert len(words) > 100 and min(words) >= least - 0.05 and max(words) <= 20.1
        assert beyond == []
        assert len(frames) == page.locator("figure").count()
        assert all(whole and inside for whole, inside in frames)
        assert narrow == 0 if width == 1280 else narrow > 0
        assert page.evaluate("() => document.documentElement.scrollWidth") <= width


_SHOWN = """() => {
    const frame = document.querySelector("#large .ground");
    const box = frame.querySelector("svg").getBoundingClientRect();
    const room = frame.getBoundingClientRect();
    const scale = box.width / frame.querySelector("svg").viewBox.baseVal.width;
    const sizes = [...frame.querySelectorAll("text")].map(one => scale * parseFloat(getComputedStyle(one).fontSize));
    const whole = box.left >= room.left && box.right <= room.right && box.top >= room.top && box.bottom <= room.bottom;
    const fills = box.width > 0.9 * frame.clientWidth || box.height > 0.9 * frame.clientHeight;
    return [box.width, whole && fills, Math.min(...sizes)];
}"""
"""Of an enlarged picture: pixels that it is wide, whether all of it is seen and fills its frame, its smallest words."""


@pytest.mark.long
def test_a_picture_can_be_enlarged(page: Any, write: Callable[..., str]) -> None:
    """All of it is seen first; pressed, it is so large that its smallest numbers can be read."""
    page.set_viewport_size({"width": 360, "height": 780})
    page.goto(write())
    figure = page.locator("#cutting figure").first
    small = figure.locator("svg:visible").first.bounding_box()["width"]
    figure.get_by_role("button", name="Enlarge").click()
    picture = page.locator("dialog .ground svg")
    wide, is_whole, _ = page.evaluate(_SHOWN)
    assert is_whole
    picture.click()
    large, is_whole, least = page.evaluate(_SHOWN)
    assert large > 1.75 * small and large >= 2 * wide and not is_whole and least >= 16
    page.locator("dialog .ground").click(position={"x": 40, "y": 200})
    assert page.evaluate(_SHOWN)[:2] == [pytest.approx(wide), True]
    names = page.evaluate("() => [...document.querySelectorAll('[id]')].map(one => one.id)")
    assert len(names) == len(set(names))
    page.keyboard.press("Escape")
    page.wait_for_function("() => !document.querySelector('dialog .ground svg')")


@pytest.mark.long
def test_an_enlarged_picture_grows_by_buttons_keys_and_two_fingers(
    page: Any, write: Callable[..., str]
) -> None:
    page.set_viewport_size({"width": 390, "height": 780})
    page.goto(write())
    page.locator("#cutting figure").first.get_by_role("button", name="Enlarge").click()
    larger, smaller = (page.get_by_role("button", name=name) for name in ("Zoom in", "Zoom out"))
    wide, _, _ = page.evaluate(_SHOWN)
    assert smaller.get_attribute("aria-disabled") == "true"
    larger.click()
    assert page.evaluate(_SHOWN)[0] == pytest.approx(1.5 * wide)
    assert smaller.get_attribute("aria-disabled") == "false"
    page.keyboard.press("+")
    assert page.evaluate(_SHOWN)[0] == pytest.approx(2.25 * wide)
    page.keyboard.press("-")
    smaller.click()
    assert page.evaluate(_SHOWN)[:2] == [pytest.approx(wide), True]
    for _ in range(9):
        page.keyboard.press("+")
    assert larger.get_attribute("aria-disabled") == "true"
    page.keyboard.press("0")
    assert page.evaluate(_SHOWN)[1]
    fingers = page.context.new_cdp_session(page)
    for kind, apart in (("touchStart", 50), ("touchMove", 75), ("touchMove", 100), ("touchEnd", None)):
        points = [] if apart is None else [{"x": 190 + side * apart, "y": 400, "id": side} for side in (0, 1)]
        fingers.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    assert page.evaluate(_SHOWN)[0] == pytest.approx(2 * wide)
    page.set_viewport_size({"width": 780, "height": 390})
    page.wait_for_function(f"() => ({_SHOWN})()[1]")
