"""What several tests share: outside tools that must be there in CI, and fonts to compare with."""

from __future__ import annotations

import os
import shutil
import signal
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("unhurried", deadline=None)  # a busy machine is no failure
settings.load_profile("unhurried")

# A shell that runs the tests in the background has them ignore Ctrl-C, and so would every command that they start.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

# Hundreds of commands are started, and compiling every room anew in each took longer than what most of them do.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# Whatever language the terminal of whoever runs the tests has: what is said is in American English.
os.environ["LC_ALL"] = "C.UTF-8"


def need_tool(name: str) -> str:
    """The path of an outside program; without it the test is skipped, or fails where tools are required."""
    found = shutil.which(name)
    if found is None:
        if os.environ.get("APPLIQUE_REQUIRE_TOOLS") == "1":
            pytest.fail(f"{name} is required here and is not installed")
        pytest.skip(f"{name} is not installed")
    return found


@pytest.fixture(scope="session")
def pdftoppm() -> str:
    return need_tool("pdftoppm")


@pytest.fixture(scope="session")
def chromium() -> str:
    return need_tool("chromium")


@pytest.fixture(scope="session")
def firefox_program() -> str:
    return need_tool("firefox-esr")


@pytest.fixture(scope="session")
def dejavu_bold() -> str:
    """DejaVu Sans Bold as matplotlib ships it."""
    return _of_matplotlib("DejaVuSans-Bold.ttf")


@pytest.fixture(scope="session")
def dejavu() -> str:
    """DejaVu Sans as matplotlib ships it."""
    return _of_matplotlib("DejaVuSans.ttf")


def _of_matplotlib(font: str) -> str:
    import matplotlib  # so late, since few tests need it and every process would load it

    return str(Path(matplotlib.get_data_path()) / "fonts" / "ttf" / font)


def pytest_xdist_auto_num_workers() -> int:
    """One more than there are processors: some tests always wait, for a browser or another process."""
    return (os.cpu_count() or 1) + 1


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The files with the most long tests first, so that none of them is left over for one worker at the end."""
    longs = Counter(item.path for item in items if item.get_closest_marker("long"))
    items.sort(key=lambda item: -longs[item.path])


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-golden", action="store_true", help="write the golden files anew")


@pytest.fixture
def update_golden(request: pytest.FixtureRequest) -> bool:
    return bool(request.config.getoption("--update-golden"))
