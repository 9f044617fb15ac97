"""From a keystroke to the new drawing, and from the start to a page in use. Run `python tests/benchmarks/page.py`.

Measured in the browser: from the input event to the first frame after the drawing that shows it. Gates nothing.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from typing import Any

from playwright.sync_api import sync_playwright

ARGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
ROWS = ("THE RIVER HAS TIME", "AND SO HAVE WE", "PULL TOGETHER", "HOME BEFORE DARK")
TYPED = "NOW AND THEN "
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
    """Print both times for a few fonts."""
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
            for font in ("Montserrat", "Fredoka", "Lilita One", "Bitter", "Pacifico"):
                print(_line(font, _keystrokes(page, font)))
            browser.close()
    finally:
        server.terminate()
        server.wait()


def _keystrokes(page: Any, font: str) -> list[float]:
    """Milliseconds from each keystroke to the frame that shows it."""
    design = {
        "row": [{"text": row} for row in ROWS],
        "lettering": {"font": font},
        "panel": {"width": "90in", "height": "60in"},
    }
    page.goto(page.evaluate(KEEP, design))
    page.locator("#art .letter[data-row='4']").first.wait_for(state="attached")
    page.evaluate(WATCH, 3)
    words = page.get_by_label("Words of row 4")
    words.press("End")
    for letter in TYPED * 3:
        words.press(letter if letter != " " else "Space")
        page.wait_for_timeout(BETWEEN_MS)
    for _ in TYPED * 3:
        words.press("Backspace")
        page.wait_for_timeout(BETWEEN_MS)
    page.wait_for_timeout(1500)
    typed, shown = page.evaluate("() => [typed, shown]")
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


def _line(font: str, times: list[float]) -> str:
    ordered = sorted(times)

    def share(part: float) -> float:
        return ordered[min(len(ordered) - 1, round(part * len(ordered)))]

    return (
        f"{font:12} {len(ordered)} keystrokes: half under {share(0.5):.0f} ms, "
        f"95 of 100 under {share(0.95):.0f} ms, longest {ordered[-1]:.0f} ms"
    )


if __name__ == "__main__":
    main()
