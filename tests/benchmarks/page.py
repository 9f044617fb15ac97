"""How the page follows hands: a key, and the frames of a drag. Run `python -m tests.benchmarks.page`.

Measured in Chromium and Firefox, by the browser itself. Gates nothing.

- A key: from the input event to the frame that shows its drawing, the program's share included, beside an earlier
  version (`--before FOLDER`, a checkout of it) in the same run, in turn. In Chromium also script, style and layout.
- A drag: the time between frames while a row is dragged by a letter, beside a bare page that moves that row of the
  same SVG.

`--keys 3 --rounds 1` measures so little, to see that it works. `--write` puts the table into `docs/performance.md`; it
holds ratios, since seconds are those of a machine.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Protocol

from playwright.sync_api import sync_playwright

from tests.web.firefox import Node, Page, running

ROOT = Path(__file__).parents[2]
DOCUMENT = ROOT / "docs" / "performance.md"
START, END = "<!-- table of the page -->\n", "<!-- end of the page -->"
ARGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
WORDS = ("THERIVERHASTIME", "ANDSOHAVEWENOWS", "PULLTOGETHEROAR", "HOMEBEFOREDARKS")
TYPED = "NOWANDTHENAGAIN"
FONTS = ("Montserrat", "Pacifico")
LETTERS = (60, 300)
DRAG_STEPS = 60
FRAME_MS = 16

KEYS = """async (keys) => {
  const drawing = document.querySelector("#drawing");
  const input = [...document.querySelectorAll("[data-focus^='text-']")].at(-1);
  input.focus();
  input.setSelectionRange(input.value.length, input.value.length);
  const shown = (words) => new Promise((resolve) => {
    const look = () => {
      if (!drawing.getAttribute("aria-label").includes(`, ${words}. `)) return;
      observer.disconnect();
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => resolve(performance.now());
        port2.postMessage(0);
      });
    };
    const observer = new MutationObserver(look);
    observer.observe(drawing, { attributes: true, attributeFilter: ["aria-label"] });
    look();
  });
  const times = [];
  for (const key of [...keys, ...Array(keys.length).fill(null)]) {
    const begun = performance.now();
    if (key) document.execCommand("insertText", false, key); else document.execCommand("delete");
    times.push(await shown(input.value) - begun);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  return times;
}"""
"""Types letters at the end of the last row and takes them back; answers milliseconds of each key."""

FRAMES = """() => {
  window.frames = [];
  let isDragged = null;
  const note = (now) => { if (!isDragged) return; frames.push(now); requestAnimationFrame(note); };
  const begin = () => { isDragged = true; requestAnimationFrame(note); };
  const once = { capture: true, once: true };
  addEventListener("pointerdown", () => addEventListener("pointermove", begin, once), once);
  addEventListener("pointerup", () => { isDragged = false; }, once);
}"""
"""Notes the frames from the first move to letting go, and neither what taking hold costs nor the drawing after it."""
RESTED = """() => new Promise((resolve) => {
  let [since, last] = [performance.now(), ""];
  const look = () => {
    const now = document.querySelector("#buy").className + document.querySelector("#buy-state").textContent;
    if (now !== last || now.includes("stale")) [since, last] = [performance.now(), now];
    if (performance.now() - since > 2000) resolve(); else setTimeout(look, 100);
  };
  look();
})"""
"""Waits until the program has its numbers: the bare page is measured while it does nothing."""
GAPS = """() => frames.slice(1).map((now, index) => now - frames[index])"""
SVG = """() => { const { width, height } = document.querySelector("#drawing").getBoundingClientRect();
  return [document.querySelector("#drawing").outerHTML, width, height]; }"""
BARE = """([svg, width, height]) => {
  document.body.innerHTML = svg;
  document.body.style.margin = 0;
  const [drawing] = document.body.children;
  drawing.style.width = `${width}px`;
  drawing.style.height = `${height}px`;
  const { row } = drawing.querySelector(".letter").dataset;
  const letters = [...drawing.querySelectorAll(`.letter[data-row="${row}"]`)]
    .map((letter) => [letter, Number(letter.dataset.x), Number(letter.dataset.y)]);
  let held = null;
  addEventListener("pointerdown", (event) => { held = event; event.preventDefault(); });
  addEventListener("pointerup", () => { held = null; });
  addEventListener("pointermove", (event) => {
    if (!held) return;
    const scale = drawing.getScreenCTM().a;
    const [right, down] = [(event.clientX - held.clientX) / scale, (event.clientY - held.clientY) / scale];
    for (const [letter, x, y] of letters) letter.setAttribute("transform", `translate(${x + right} ${y + down})`);
  });
}"""
"""A page that does nothing but move the first row of that drawing."""
LETTER = "#art > .letter"


class Driven(Protocol):
    """A page in some browser."""

    def go(self, address: str) -> None:
        """Open a page and wait until it is drawn."""

    def ask(self, function: str, *arguments: Any) -> Any:
        """What a JavaScript function says."""

    def drag(self) -> None:
        """Drag the first row by its first letter to and fro, a frame a step."""

    def working(self) -> float | None:
        """Seconds of script, style and layout until now, where the browser tells."""


class Chromium:
    """A page in Chromium."""

    def __init__(self, page: Any) -> None:
        self._page = page
        self._session = page.context.new_cdp_session(page)
        self._session.send("Performance.enable", {"timeDomain": "threadTicks"})

    def go(self, address: str) -> None:
        """Open a page and wait until it is drawn."""
        self._page.goto(address)
        self._page.locator(LETTER).first.wait_for(state="attached")
        self._page.wait_for_timeout(2500)

    def ask(self, function: str, *arguments: Any) -> Any:
        """What a JavaScript function says."""
        return self._page.evaluate(function, *arguments)

    def drag(self) -> None:
        """Drag the first row by its first letter to and fro, a frame a step."""
        box = self._page.locator(LETTER).first.bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        mouse = self._page.mouse
        mouse.move(x, y)
        mouse.down()
        for right in _to_and_fro():
            mouse.move(x + right, y + right / 2)
        mouse.move(x, y)
        mouse.up()

    def working(self) -> float | None:
        """Seconds of script, style and layout until now."""
        told = {one["name"]: one["value"] for one in self._session.send("Performance.getMetrics")["metrics"]}
        return float(told["ScriptDuration"] + told["LayoutDuration"] + told["RecalcStyleDuration"])


class Fox:
    """A page in Firefox."""

    def __init__(self, page: Page) -> None:
        self._page = page

    def go(self, address: str) -> None:
        """Open a page and wait until it is drawn."""
        self._page.go(address)
        self._page.css(LETTER)
        self._page.evaluate("() => new Promise(resolve => setTimeout(resolve, 2500))")

    def ask(self, function: str, *arguments: Any) -> Any:
        """What a JavaScript function says."""
        return self._page.evaluate(function, *arguments)

    def drag(self) -> None:
        """Drag the first row by its first letter to and fro, a frame a step."""
        letter = Node(page=self._page, locator={"type": "css", "value": LETTER})
        way = [(letter, right, round(right / 2)) for right in (0, *_to_and_fro(), 0)]
        self._page.point("mouse", way, step_ms=FRAME_MS)

    def working(self) -> float | None:
        """Firefox does not tell."""
        return None


def _to_and_fro() -> list[int]:
    return [4 + (step if step < DRAG_STEPS / 2 else DRAG_STEPS - step) for step in range(DRAG_STEPS)]


@dataclass(slots=True)
class Measured:
    """What was measured of a version in a browser: milliseconds."""

    keys: list[float] = field(default_factory=list)
    work: list[float] = field(default_factory=list)
    frames: list[float] = field(default_factory=list)
    bare: list[float] = field(default_factory=list)


def main() -> None:
    """Print what was measured, and the table of its ratios."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--keys", type=int, default=10, help="how many letters are typed, and taken back")
    parser.add_argument("--rounds", type=int, default=3, help="how often every version is measured in turn")
    parser.add_argument("--before", type=Path, help="a checkout of an earlier version to measure in turn")
    parser.add_argument("--write", action="store_true", help="put the table into docs/performance.md")
    options = parser.parse_args()
    versions = {"now": ROOT, **({"before": options.before} if options.before else {})}
    rows = []
    with ExitStack() as stack:
        browsers = _browsers(stack)
        for font in FONTS:
            for letters in LETTERS:
                found = _measured(
                    browsers, versions, _design(font, letters), TYPED[: options.keys], options.rounds
                )
                for browser in browsers:
                    of = {version: found[browser, version] for version in versions}
                    for version, measured in of.items():
                        print(
                            f"{browser}, {font}, {letters} letters, {version}: {_told(measured)}", flush=True
                        )
                    rows.append(_row(browser, font, letters, of["now"], of.get("before")))
    table = "\n".join([*HEAD, *rows]) + "\n"
    print(table)
    if options.write:
        before, _, rest = DOCUMENT.read_text("utf-8").partition(START)
        DOCUMENT.write_text(before + START + table + END + rest.partition(END)[2], encoding="utf-8")


def _browsers(stack: ExitStack) -> dict[str, Driven]:
    playwright = stack.enter_context(sync_playwright())
    chromium = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=ARGS)
    stack.callback(chromium.close)
    browsers: dict[str, Driven] = {
        "Chromium": Chromium(chromium.new_page(viewport={"width": 1280, "height": 800}))
    }
    if (program := shutil.which("firefox-esr")) is not None:
        profile = Path(stack.enter_context(tempfile.TemporaryDirectory(ignore_cleanup_errors=True)))
        firefox = stack.enter_context(running(program, profile))
        browsers["Firefox"] = Fox(stack.enter_context(firefox.page("about:blank")))
    return browsers


def _measured(
    browsers: dict[str, Driven], versions: dict[str, Path], design: str, typed: str, rounds: int
) -> dict[tuple[str, str], Measured]:
    """Every version in every browser, in turn."""
    found = {(browser, version): Measured() for browser in browsers for version in versions}
    with ExitStack() as stack:
        addresses = {
            version: stack.enter_context(_serving(code, design)) for version, code in versions.items()
        }
        for browser, page in browsers.items():
            for _ in range(rounds):
                for version, address in addresses.items():
                    _measure(page, address, typed, found[browser, version])
    return found


def _measure(page: Driven, address: str, typed: str, measured: Measured) -> None:
    page.go(address)
    page.ask(KEYS, typed[:2])  # what is done once only is not of a key
    before = page.working()
    measured.keys += page.ask(KEYS, typed)
    after = page.working()
    if before is not None and after is not None:
        measured.work.append(1000 * (after - before) / (2 * len(typed)))
    page.ask(RESTED)
    measured.frames += _drag_frames(page)
    svg = page.ask(SVG)
    page.ask(BARE, svg)
    measured.bare += _drag_frames(page)


def _drag_frames(page: Driven) -> list[float]:
    page.ask(FRAMES)
    page.drag()
    return list(page.ask(GAPS))


@contextmanager
def _serving(code: Path, design: str) -> Iterator[str]:
    """The address of the page of that version with a design."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "quilt.toml"
        file.write_text(design, encoding="utf-8")
        server = subprocess.Popen(
            [sys.executable, "-m", "applique", "serve", str(file), "--no-browser"],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            cwd=code,
            env={**os.environ, "XDG_DATA_HOME": folder, "PYTHONPATH": str(code)},
        )
        try:
            assert server.stdout is not None
            found = re.search(r"http://\S+", server.stdout.readline())
            assert found is not None
            yield found[0]
        finally:
            server.terminate()
            server.wait()


def _design(font: str, letters: int) -> str:
    rows = [WORDS[number % len(WORDS)] for number in range(letters // len(WORDS[0]))]
    texts = "".join(f"[[row]]\ntext = {json.dumps(row)}\n" for row in rows)
    panel = f'panel = {{ width = "60in", height = "{12 + 5 * len(rows)}in" }}'
    return f'lettering = {{ font = "{font}" }}\n{panel}\n{texts}'


def _share(times: Sequence[float], part: float) -> float:
    ordered = sorted(times)
    return ordered[min(len(ordered) - 1, round(part * len(ordered)))]


def _told(of: Measured) -> str:
    work = f", script and layout {statistics.median(of.work):.1f} ms" if of.work else ""
    return (
        f"a key {_share(of.keys, 0.5):.0f} ms, 95 of 100 under {_share(of.keys, 0.95):.0f} ms{work}; "
        f"95 of 100 frames of a drag {_share(of.frames, 0.95):.0f} ms, bare {_share(of.bare, 0.95):.0f} ms"
    )


HEAD = (
    "| browser | font | letters | key, median | key, 95 of 100 | its script and layout | frame of a drag, 95 of 100 |",
    "|---|---|---:|---:|---:|---:|---:|",
)


def _row(browser: str, font: str, letters: int, now: Measured, before: Measured | None) -> str:
    def ratio(ours: float, theirs: float | None) -> str:
        return "" if theirs is None else f"{ours / theirs:.2f}"

    was = [None if before is None else _share(before.keys, part) for part in (0.5, 0.95)]
    keys = [ratio(_share(now.keys, part), old) for part, old in zip((0.5, 0.95), was, strict=True)]
    work = (
        ratio(statistics.median(now.work), statistics.median(before.work)) if before and before.work else ""
    )
    frames = ratio(_share(now.frames, 0.95), _share(now.bare, 0.95))
    return f"| {browser} | {font} | {letters} | {' | '.join(keys)} | {work} | {frames} |"


if __name__ == "__main__":
    main()
