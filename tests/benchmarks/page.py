"""From a keystroke to the new drawing, and from the start to a page in use. Run `python -m tests.benchmarks.page`.

Measured in Chromium and Firefox, by the browser itself: from the input event to the first frame after the drawing that
shows it. Gates nothing. `--keys 3` types so few letters, to see that it works.
"""

from __future__ import annotations

import argparse
import itertools
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from tests.web.firefox import Page, running

ARGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
ROWS = ("THE RIVER HAS TIME", "AND SO HAVE WE", "PULL TOGETHER", "HOME BEFORE DARK")
TYPED = "NOW AND THEN "
FONTS = ("Montserrat", "Fredoka", "Lilita One", "Bitter", "Pacifico")
BETWEEN_MS = 140
"""A quick typist: some 85 words a minute."""
WATCH = """(row) => {
  window.typed = []; window.shown = [];
  const input = document.querySelector(`[data-focus="text-${row}"]`);
  input.addEventListener("input", () => typed.push([performance.now(), input.value.trim()]));
  new MutationObserver(() => {
    const label = document.querySelector("#drawing").getAttribute("aria-label");
    requestAnimationFrame(() => shown.push([performance.now(), label]));
  }).observe(document.querySelector("#drawing"), { attributes: true, attributeFilter: ["aria-label"] });
}"""

KEEP = """async design => {
  const token = location.pathname.split("/")[1];
  const headers = { "x-applique-token": token, "x-applique-tab": sessionStorage.getItem("tab") };
  const key = [...crypto.getRandomValues(new Uint8Array(8))].map(byte => byte.toString(16).padStart(2, "0")).join("");
  await fetch(`/api/quilts/${key}`, { method: "PUT", headers, body: JSON.stringify({ rests_on: 0, design }) });
  return `${location.origin}${location.pathname}?quilt=${key}`;
}"""
"""Keeps a design as a new quilt and returns its address."""


def main() -> None:
    """Print both times for a few fonts, in either browser."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--keys", type=int, default=3 * len(TYPED), help="how many letters are typed")
    typed = "".join(itertools.islice(itertools.cycle(TYPED), parser.parse_args().keys))
    chromium = shutil.which("chromium")
    start = time.perf_counter()
    server = subprocess.Popen(
        [sys.executable, "-m", "applique", "serve", "--no-browser"],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "XDG_DATA_HOME": tempfile.mkdtemp()},
    )
    assert server.stdout is not None
    found = re.search(r"http://\S+", server.stdout.readline())
    assert found is not None
    listening = time.perf_counter() - start
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=chromium, args=ARGS)
            page = browser.new_page()
            opened = time.perf_counter()
            page.goto(f"{found[0]}?quilt=new")
            page.locator("body.ready").wait_for()
            usable = time.perf_counter() - opened
            print(f"listening {listening:.2f} s after the start, page usable {usable:.2f} s later")
            for font in FONTS:
                print(_line(f"Chromium, {font}", _in_chromium(page, font, typed)))
            browser.close()
        with _firefox(f"{found[0]}?quilt=new") as other:
            other.css("body.ready")
            for font in FONTS:
                print(_line(f"Firefox, {font}", _in_firefox(other, font, typed)))
    finally:
        server.terminate()
        server.wait()


@contextmanager
def _firefox(address: str) -> Iterator[Page]:
    program = shutil.which("firefox-esr")
    assert program is not None
    with (
        tempfile.TemporaryDirectory() as profile,
        running(program, Path(profile)) as firefox,
        firefox.page(address) as page,
    ):
        yield page


def _design(font: str) -> dict[str, Any]:
    return {
        "row": [{"text": row} for row in ROWS],
        "lettering": {"font": font},
        "panel": {"width": "90in", "height": "60in"},
    }


def _in_firefox(page: Page, font: str, letters: str) -> list[float]:
    """Milliseconds from each keystroke to the frame that shows it."""
    page.go(page.evaluate(KEEP, _design(font)))
    page.css("#art .letter[data-row='4']")
    page.evaluate(WATCH, 3)
    words = page.named("textbox", "Words of row 4")
    words.press("End")
    for key in [*letters, *["Backspace"] * len(letters)]:
        page.keys(key)
        time.sleep(BETWEEN_MS / 1000)
    time.sleep(1.5)
    return _times(*page.evaluate("() => [typed, shown]"))


def _in_chromium(page: Any, font: str, letters: str) -> list[float]:
    """Milliseconds from each keystroke to the frame that shows it."""
    page.goto(page.evaluate(KEEP, _design(font)))
    page.locator("#art .letter[data-row='4']").first.wait_for(state="attached")
    page.evaluate(WATCH, 3)
    words = page.get_by_label("Words of row 4")
    words.press("End")
    for letter in letters:
        words.press(letter if letter != " " else "Space")
        page.wait_for_timeout(BETWEEN_MS)
    for _ in letters:
        words.press("Backspace")
        page.wait_for_timeout(BETWEEN_MS)
    page.wait_for_timeout(1500)
    return _times(*page.evaluate("() => [typed, shown]"))


def _times(typed: list[list[Any]], shown: list[list[Any]]) -> list[float]:
    """Milliseconds from each keystroke to the first drawing that shows it or a later one."""
    times: list[float] = []
    place = 0
    for index, (at, _) in enumerate(typed):
        while place < len(shown) and not _shows(shown[place], typed[index:], at):
            place += 1
        if place < len(shown):
            times.append(shown[place][0] - at)
    return times


def _shows(drawing: list[Any], typed: list[list[Any]], at: float) -> bool:
    """Whether a drawing shows that keystroke or a later one."""
    return drawing[0] >= at and any(f", {value}. " in drawing[1] for _, value in typed)


def _line(name: str, times: list[float]) -> str:
    ordered = sorted(times)

    def share(part: float) -> float:
        return ordered[min(len(ordered) - 1, round(part * len(ordered)))]

    return (
        f"{name:22} {len(ordered)} keystrokes: half under {share(0.5):.0f} ms, "
        f"95 of 100 under {share(0.95):.0f} ms, longest {ordered[-1]:.0f} ms"
    )


if __name__ == "__main__":
    main()
