"""A page that really runs, and a browser to use it with."""

from __future__ import annotations

import os
import re
import secrets
import subprocess
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx
import pytest

from tests.web import firefox as bidi
from tests.web.patience import PATIENCE

PAGES_OF_ITS_OWN = ("WebUIOmniboxPopup", "WebUIOmniboxAimPopup")
"""What Chromium loads two pages for in each new window, which took longer than our own."""
LEFT_OUT_BY_PLAYWRIGHT = (
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsUpgrades",
    "HttpsFirstBalancedModeAutoEnable",
    "LensOverlay",
    "MediaRouter",
    "PaintHolding",
    "ThirdPartyStoragePartitioning",
    "AvoidCorsURLLoaderRestartOnRedirect",
    "OptimizationHints",
    "NetworkTimeServiceQuerying",
    "AimEnabled",
    "PreconnectToSearch",
)
"""Said again, since Chromium heeds only the last list."""
CHROMIUM_ARGS = [
    "--disable-features=" + ",".join((*PAGES_OF_ITS_OWN, *LEFT_OUT_BY_PLAYWRIGHT)),
    "--no-sandbox",
    "--lang=en-US",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """A running `applique serve`: the address that it printed, with the token in it, as that of a new quilt."""

    start: str
    clients: list[httpx.Client] = field(default_factory=list)

    @property
    def address(self) -> str:
        return f"{self.start}?quilt=new"

    @property
    def origin(self) -> str:
        return self.start.rsplit("/", 2)[0]

    @property
    def token(self) -> str:
        return self.start.rsplit("/", 2)[1]

    def keep(self, design: dict[str, Any]) -> str:
        """The address of a new quilt that is kept with this design."""
        key = secrets.token_hex(8)
        answer = self.client().put(f"/api/quilts/{key}", json={"rests_on": 0, "design": design})
        assert answer.status_code == 200, answer.text
        return f"{self.start}?quilt={key}"

    def client(self) -> httpx.Client:
        """A client that is a page of its own."""
        client = httpx.Client(
            base_url=self.origin, headers={"x-applique-token": self.token}, timeout=PATIENCE
        )
        self.clients.append(client)
        client.headers["x-applique-tab"] = client.post("/api/hello").json()["tab"]
        return client


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    cache = tmp_path_factory.mktemp("cache")
    with Running(cache) as page:
        yield page


@pytest.fixture(scope="session")
def start_page() -> type[Running]:
    """Starts a server of a test's own."""
    return Running


@pytest.fixture(scope="session")
def made_up_page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A server that also speaks the made-up language, to browsers that ask for it."""
    program = (str(Path(__file__).with_name("made_up_server.py")),)
    with Running(tmp_path_factory.mktemp("cache"), program=program) as page:
        yield page


class Running:
    """`applique serve` in a process of its own, as long as the context lasts; `quilts` is where it keeps them."""

    def __init__(self, cache: Path, *arguments: str, program: Sequence[str] = ("-m", "applique")) -> None:
        self._arguments = [sys.executable, *program, "serve", "--no-browser", *arguments]
        self._environment = {
            **os.environ,
            "XDG_CACHE_HOME": str(cache),
            "XDG_DATA_HOME": str(cache / "data"),
            "PYTHONUNBUFFERED": "1",
        }
        self.quilts = cache / "data" / "applique" / "quilts"
        self.process: subprocess.Popen[str]

    def __enter__(self) -> Served:
        self.process = subprocess.Popen(
            self._arguments, stdout=subprocess.PIPE, text=True, env=self._environment
        )
        assert self.process.stdout is not None
        found = re.search(r"http://\S+", self.process.stdout.readline())
        assert found is not None
        self._served = Served(start=found[0])
        return self._served

    def __exit__(self, *_: object) -> None:
        for client in self._served.clients:
            client.close()
        self.process.terminate()
        self.process.wait(PATIENCE)
        if self.process.stdout is not None:
            self.process.stdout.close()


@pytest.fixture(scope="session")
def browser(chromium: str) -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=CHROMIUM_ARGS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def firefox(firefox_program: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[bidi.Firefox]:
    with bidi.running(firefox_program, tmp_path_factory.mktemp("profile")) as browser:
        yield browser
