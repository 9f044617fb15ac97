"""Take the pictures of the page with Chromium. Run `python docs/make_page_pictures.py`.

`--all FOLDER` takes every state of the page at every size in both lights into a folder of one's own, to be looked at;
the documents have the few that help. Pictures that the folder has already are not taken again, so that a run that was
broken off goes on; a state that is not reached is told at the end, and the others are taken all the same.
"""

from __future__ import annotations

import argparse
import io
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

from PIL import Image
from playwright.sync_api import TimeoutError, sync_playwright

HERE = Path(__file__).parent
SAMPLE = HERE.parent / "samples" / "boathouse.toml"
SIZES: Final = {"laptop": (1440, 900), "tablet": (1024, 1366), "phone": (430, 932)}
LIGHTS: Final = ("light", "dark")
ARGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
QUALITY = 80
"""Of WebP, at which letters show no blocks."""


def main() -> None:
    """Pictures for the documents, or of every state."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--all", type=Path, help="a folder for pictures of every state")
    folder: Path | None = parser.parse_args().all
    missed = []
    if folder is not None:
        folder.mkdir(parents=True, exist_ok=True)
    with _served() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=ARGS)
        for size in SIZES:
            for state, go in STATES.items():
                lights = LIGHTS if folder else SHOWN.get((state, size), ())
                files = {light: (folder or HERE) / f"page-{state}-{size}-{light}.webp" for light in lights}
                if not files or (folder and all(file.exists() for file in files.values())):
                    continue
                page = _page(browser, address, size)
                try:
                    go(page)
                    for light, file in files.items():
                        page.emulate_media(color_scheme=light, reduced_motion="reduce")
                        page.wait_for_timeout(400)
                        _save(page, file)
                except TimeoutError as error:
                    missed.append(f"{state}, {size}: {error}")
                page.context.close()
        browser.close()
    if missed:
        sys.exit("\n".join(missed))


@contextmanager
def _served() -> Iterator[str]:
    """The address of a page with the sample."""
    with tempfile.TemporaryDirectory() as data:
        server = subprocess.Popen(
            [sys.executable, "-m", "applique", "serve", str(SAMPLE), "--no-browser"],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "XDG_DATA_HOME": data},
        )
        assert server.stdout is not None
        found = re.search(r"http://\S+", server.stdout.readline())
        assert found is not None
        try:
            yield found[0]
        finally:
            server.terminate()
            server.wait()


def _page(browser: Any, address: str, size: str) -> Any:
    """A page of that size with the sample, once it is drawn."""
    width, height = SIZES[size]
    touch = {"has_touch": True, "is_mobile": True} if size == "phone" else {}
    page = browser.new_context(viewport={"width": width, "height": height}, **touch).new_page()
    page.set_default_timeout(240_000)
    page.add_init_script("localStorage.setItem('effort', 'quick')")
    page.goto(address)
    page.locator("#art .letter").first.wait_for(state="attached")
    return page


def _save(page: Any, file: Path) -> None:
    Image.open(io.BytesIO(page.screenshot())).convert("RGB").save(file, quality=QUALITY, method=6)


# States


def _quilt(page: Any) -> None:
    """As it is once its numbers are there."""
    page.get_by_text("Figured out.").wait_for(state="attached")


def _start(page: Any) -> None:
    page.goto(page.url.split("?")[0] + "?quilt=all")
    page.locator("a.quilt img").first.wait_for()
    page.wait_for_load_state("networkidle")


def _metric(page: Any) -> None:
    _no_words(page)
    if page.locator("#more").is_visible():
        page.locator("#more").click()
    page.get_by_text("cm", exact=True).first.click()
    if page.locator("#more").is_visible():
        page.locator("#more").click()
    page.locator("#example").click()
    page.locator("#finished").filter(has_text=re.compile(r"^\d+(\.\d)? cm")).wait_for()
    _quilt(page)


def _no_words(page: Any) -> None:
    page.goto(page.url.split("?")[0] + "?quilt=new")
    page.locator("body.ready #rows input").wait_for()


def _letter(page: Any) -> None:
    page.locator("#art .letter").nth(2).click()
    page.locator("#beside").wait_for()


def _borders(page: Any) -> None:
    page.locator("[data-group='edges'] > summary").click()
    page.locator("[data-group='edges'] .border-picture img").first.wait_for()
    page.locator("[data-group='edges'] .border-pictures").first.scroll_into_view_if_needed()


def _fonts(page: Any) -> None:
    page.locator(".look > summary").first.click()
    page.locator("[data-focus='font-0']").click()
    page.locator(".font >> nth=8").wait_for(state="attached")
    page.keyboard.press("ArrowDown")
    page.locator("#stage.trying").wait_for()


def _findings(page: Any) -> None:
    _small(page)
    page.locator("#findings-open").click()
    page.locator("#findings li").first.wait_for()


def _card(page: Any) -> None:
    _small(page)
    page.locator(".spot").first.click()
    page.locator("#card").wait_for()


def _small(page: Any) -> None:
    """Letters that are too small for scissors."""
    page.locator(".look > summary").first.click()
    page.locator("[data-focus='cap-0']").fill("1/2in")
    page.locator(".spot").first.wait_for()


def _buying(page: Any) -> None:
    page.locator("#buy-open").click()
    page.locator("#scene svg").wait_for()
    page.locator("#buy .bill").wait_for()


def _text(page: Any) -> None:
    page.locator("[data-group='text'] > summary").click()
    page.locator(".toml").first.fill('[[row]]\ntext = "ROW"\ncap_hight = "7in"\n')
    page.locator("#text-take").click()
    page.locator("#text-said button").first.wait_for()
    page.locator("#text-said").scroll_into_view_if_needed()


def _names(page: Any) -> None:
    page.locator("[data-group='pattern'] > summary").click()
    page.locator("[data-focus='names']").click()
    page.locator("#names-dialog textarea").first.fill("name\nAda\nZoë")
    page.locator("#names-read table").wait_for()


def _must_fix(page: Any) -> None:
    page.locator(".look > summary").first.click()
    page.locator("[data-focus='cap-0']").fill("40in")
    page.locator("#behind").wait_for()


def _gone(page: Any) -> None:
    page.route("**/api/**", lambda route: route.abort())
    page.locator("[data-focus='text-0']").fill("ROWED")
    page.locator("#gone").wait_for()


def _made(page: Any) -> None:
    page.locator("#make").click()
    page.locator("img.sheet[src^='blob']").first.wait_for()
    page.wait_for_timeout(1500)


STATES: Final[dict[str, Callable[[Any], None]]] = {
    "quilt": _quilt,
    "metric": _metric,
    "start": _start,
    "no-words": _no_words,
    "letter": _letter,
    "borders": _borders,
    "fonts": _fonts,
    "findings": _findings,
    "card": _card,
    "buying": _buying,
    "text": _text,
    "names": _names,
    "must-fix": _must_fix,
    "gone": _gone,
    "made": _made,
}
SHOWN: Final = {
    ("quilt", "laptop"): LIGHTS,
    ("quilt", "phone"): ("light",),
    ("start", "laptop"): ("light",),
    ("fonts", "laptop"): ("light",),
    ("card", "laptop"): ("light",),
}
"""The pictures of the documents, and in which light."""


if __name__ == "__main__":
    main()
