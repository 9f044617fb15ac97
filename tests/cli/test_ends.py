"""However a command ends, it is said in words: defects, lost output, closed streams, Ctrl-C, a clock beyond counting.

Each case ended in a traceback once. What has to go wrong inside is brought about by a `sitecustomize` of the child.
"""

from __future__ import annotations

import json
import os
import re
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from applique.language import american
from applique.starter import starter

BROKEN_ROOM = """
import sys, types
class Panic(BaseException):
    "What libraries in Rust raise is no Exception."
def broken(name):
    raise Panic("all is lost")
sys.modules["applique.starter"] = types.ModuleType("applique.starter")
sys.modules["applique.starter"].__getattr__ = broken
"""
BROKEN_WHEN_SAID = """
import json
def broken(*args, **more):
    raise LookupError("nothing can be said")
json.dumps = broken
"""
NO_PLACE = """
import tempfile
def full(*args, **more):
    raise OSError(28, "No space left on device")
tempfile.mkstemp = full
"""
FAR_CLOCK = """
import time
def far():
    raise OverflowError("timestamp too large to convert to C _PyTime_t")
time.time = far
"""
CTRL_C_IN_LOADING = """
import os, signal, sys
class Pressed:
    def find_spec(self, name, path=None, target=None):
        if name == {module!r}:
            os.kill(os.getpid(), signal.SIGINT)
sys.meta_path.insert(0, Pressed())
"""
STOPPED_WHEN_SAID = """
import json, os, signal
json.dumps = lambda *args, **more: os.kill(os.getpid(), signal.{sign}) or "too late"
"""
CTRL_C_TWICE = """
import json, os, signal
def pressed(*args, **more):
    try:
        os.kill(os.getpid(), signal.SIGINT)
    except KeyboardInterrupt:
        os.kill(os.getpid(), signal.SIGINT)
json.dumps = pressed
"""
NO_HOME = """
import os, pwd
def unknown(*args):
    raise KeyError("no entry")
pwd.getpwuid = unknown
for name in ("HOME", "XDG_STATE_HOME"):
    os.environ.pop(name, None)
"""
needs_posix = pytest.mark.skipif(sys.platform == "win32", reason="has no such signals, shells or devices")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    room = tmp_path / "room"
    room.mkdir()
    monkeypatch.chdir(room)
    for name in ("CACHE", "STATE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    return room


def _run(*words: str, change: str = "", redirected: str = "") -> subprocess.CompletedProcess[str]:
    """The command in a process of its own that `change` was run in first, its streams `redirected` by a shell."""
    Path("../path").mkdir(exist_ok=True)
    Path("../path/sitecustomize.py").write_text(change, encoding="utf-8")
    known = [os.environ["PYTHONPATH"]] if "PYTHONPATH" in os.environ else []
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(Path("../path").resolve()), *known])}
    command = [sys.executable, "-m", "applique", *words]
    if redirected:
        command = ["sh", "-c", f'exec "$0" "$@" {redirected}', *command]
    return subprocess.run(command, capture_output=True, text=True, env=environment)


def _report(said: str) -> Path:
    found = re.search(r"The report is kept in (.+)", said)
    assert found is not None, said
    return Path(found[1])


def test_a_defect_is_said_in_words_and_its_report_is_kept_for_its_user_alone(tmp_path: Path) -> None:
    done = _run("new", "start.toml", change=BROKEN_ROOM)
    assert (done.returncode, done.stdout) == (70, "")
    assert "This is a defect of the program" in done.stderr
    assert "Nothing was changed." in done.stderr
    assert "Traceback" not in done.stderr
    report = _report(done.stderr)
    assert report.is_relative_to(tmp_path / "state")
    if sys.platform != "win32":
        assert stat.S_IMODE(report.stat().st_mode) == 0o600
    text = report.read_text("utf-8")
    for words in ("Traceback", "Panic: all is lost", "['new', 'start.toml']", "applique 0.", "Python 3."):
        assert words in text
    assert not Path("start.toml").exists()


def test_a_defect_after_the_work_names_what_stands() -> None:
    done = _run("new", "start.toml", "--json", change=BROKEN_WHEN_SAID)
    assert done.returncode == 70
    assert "What was written before stands: start.toml." in done.stderr
    assert "Nothing was changed" not in done.stderr
    assert Path("start.toml").read_text("utf-8") == starter(american())


@pytest.mark.long
@needs_posix
def test_a_report_goes_where_it_can_and_is_printed_where_it_cannot(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "state").write_text("no folder", encoding="utf-8")
    (tmp_path / "temporary").mkdir()
    monkeypatch.setenv("TMPDIR", str(tmp_path / "temporary"))
    elsewhere = _report(_run("new", "start.toml", change=BROKEN_ROOM).stderr)
    assert elsewhere.parent == tmp_path / "temporary"
    homeless = _report(_run("new", "start.toml", change=BROKEN_ROOM + NO_HOME).stderr)
    assert homeless.parent == tmp_path / "temporary"
    printed = _run("new", "start.toml", change=BROKEN_ROOM + NO_PLACE)
    assert printed.returncode == 70
    assert "could not be kept anywhere" in printed.stderr
    assert "Panic: all is lost" in printed.stderr


def test_a_clock_that_python_cannot_count_is_refused() -> None:
    """Such a clock, simulated for the whole process, stopped `import logging` with an OverflowError (CPython 3.11)."""
    done = _run("fonts", change=FAR_CLOCK)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == (
        "the clock of this machine: it shows a year that this program cannot count\n  try: set it right\n"
    )


@needs_posix
def test_a_current_folder_that_is_gone_is_refused(folder: Path) -> None:
    command = ["sh", "-c", 'mkdir gone && cd gone && rmdir ../gone && exec "$0" "$@"']
    done = subprocess.run(
        [*command, sys.executable, "-m", "applique", "new", "start.toml"], capture_output=True, text=True
    )
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith("the current folder: it was taken away\n  try: ")


@pytest.mark.long
@needs_posix
@pytest.mark.parametrize("closed", ["2>&-", ">&-", "<&- >&- 2>&-"])
def test_closed_streams_do_not_stop_the_work(closed: str) -> None:
    done = _run("make", "--text", "I", "--effort", "quick", "-o", "out", redirected=closed)
    assert (done.returncode, done.stderr) == (0, "")
    assert Path("out/summary.md").is_file()
    assert _run("make", "--nonsense", redirected=closed).returncode == 2


@pytest.mark.long
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no such device")
@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_a_full_device_for_the_output_is_refused(unbuffered: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONUNBUFFERED", unbuffered)
    lost = "standard output cannot be written (No space left on device)\n  try: another place for it\n"
    for words in (("--help",), ("schema",)):
        done = _run(*words, redirected="> /dev/full")
        assert (done.returncode, done.stderr) == (1, f"{lost}Nothing was changed.\n")
    done = _run("new", "start.toml", redirected="> /dev/full")
    assert (done.returncode, done.stderr) == (1, f"{lost}What was written before stands: start.toml.\n")
    done = _run("make", "none.toml", redirected="2> /dev/full")
    assert (done.returncode, done.stdout) == (1, "")


@needs_posix
@pytest.mark.parametrize("words", [("--help",), ("schema",), ("new", "start.toml")])
def test_a_reader_that_is_gone_is_no_matter(words: tuple[str, ...]) -> None:
    """The code is that of a program that SIGPIPE ended, as a shell counts it."""
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [sys.executable, "-m", "applique", *words], stdout=writing, stderr=subprocess.PIPE, text=True
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (141, "")


@needs_posix
@pytest.mark.parametrize("module", ["click", "applique.pattern", "numpy"])
def test_ctrl_c_while_loading_is_quiet(module: str) -> None:
    """It came out of numpy as an ImportError, after a traceback that numpy had printed itself."""
    words = ("make", "--text", "I", "--effort", "quick", "-o", "out")
    done = _run(*words, change=CTRL_C_IN_LOADING.format(module=module))
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "Stopped.\n")
    assert not Path("out").exists()


@pytest.mark.long
@needs_posix
@pytest.mark.parametrize(("sign", "code"), [("SIGINT", 130), ("SIGTERM", 143)])
def test_a_stop_in_the_work_names_what_stands(sign: str, code: int) -> None:
    change = STOPPED_WHEN_SAID.format(sign=sign)
    done = _run("new", "start.toml", "--json", change=change)
    assert (done.returncode, done.stdout) == (code, "")
    assert done.stderr.strip() == "Stopped. What was written before stands: start.toml."
    done = _run("schema", change=change)
    assert done.stderr.strip() == "Stopped. Nothing was changed."


@pytest.mark.long
@needs_posix
def test_ctrl_c_pressed_again_does_not_wait() -> None:
    done = _run("new", "start.toml", "--json", change=CTRL_C_TWICE)
    assert (done.returncode, done.stderr) == (130, "Stopped.\n")


@pytest.mark.long
@needs_posix
@pytest.mark.parametrize("path", [b"\xff.ttf", b"folder\xff/mine.ttf"])
def test_a_font_whose_path_is_no_text_is_refused(path: bytes, dejavu: str) -> None:
    """It was worked with to the end, where the design could not be written."""
    place = Path(os.fsdecode(path))
    try:
        place.parent.mkdir(exist_ok=True)
        place.write_bytes(Path(dejavu).read_bytes())
    except OSError:
        pytest.skip("this file system takes no such names")
    done = _run("make", "--text", "I", "--font", f"./{place}", "--effort", "quick", "-o", "out", "--json")
    assert (done.returncode, done.stderr) == (1, "")
    (problem,) = json.loads(done.stdout)["problems"]
    assert problem["where"] == "[lettering], font"
    assert "it holds a byte FF" in problem["what"]
    assert not Path("out").exists()
