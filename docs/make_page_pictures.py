"""Take the pictures of the page with Chromium. Run `python docs/make_page_pictures.py`."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent
SAMPLE = HERE.parent / "samples" / "boathouse.toml"
SIZES = {"laptop": (1440, 900), "tablet": (1024, 1366), "phone": (430, 932)}
ARGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]


def main() -> None:
    """The page with the sample at three sizes, light and dark."""
    server = subprocess.Popen(
        [sys.executable, "-m", "applique", "serve", str(SAMPLE), "--no-browser"],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "XDG_DATA_HOME": tempfile.mkdtemp()},
    )
    assert server.stdout is not None
    found = re.search(r"http://\S+", server.stdout.readline())
    assert found is not None
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=ARGS)
            page = browser.new_page()
            page.goto(found[0])
            page.get_by_text("Figured out.").wait_for(timeout=60_000)
            for size, (width, height) in SIZES.items():
                page.set_viewport_size({"width": width, "height": height})
                for scheme in ("light", "dark"):
                    page.emulate_media(color_scheme=scheme)
                    page.wait_for_timeout(400)
                    page.screenshot(path=HERE / f"page-{size}-{scheme}.png")
            browser.close()
    finally:
        server.terminate()
        server.wait()


if __name__ == "__main__":
    main()
