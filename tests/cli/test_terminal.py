"""What is shown where: progress and patience on a terminal only, plain text in pipes, completion in shells."""

from __future__ import annotations

import contextlib
import os
import pty
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

POEM = "\n".join(f'[[row]]\ntext = "{"LET US SEW " * 4}"' for _ in range(40))
DESIGN = f"""
{POEM}
[panel]
width = "90in"
height = "110in"
[lettering]
cap_height = "3/4in"
row_gap = "0in"
[backing]
kind = "wide"
"""


def _run(
    *words: str, environment: dict[str, str] | None = None, terminal: bool = False
) -> tuple[str, str, int]:
    """Standard output, standard error (a terminal if asked) and exit code of the command."""
    main, side = pty.openpty() if terminal else (-1, subprocess.PIPE)
    process = subprocess.Popen(
        [sys.executable, "-m", "applique", *words],
        stdout=subprocess.PIPE,
        stderr=side,
        env={**os.environ, **(environment or {})},
    )
    if not terminal:
        out, err = process.communicate()
        return out.decode("utf-8", "replace"), err.decode("utf-8"), process.returncode
    os.close(side)
    said = bytearray()
    while True:
        try:
            said += os.read(main, 10_000) or b""
        except OSError:  # Linux says so when the other side is closed
            break
    os.close(main)
    out = process.communicate()[0]
    return out.decode("utf-8"), said.decode("utf-8"), process.returncode


@pytest.mark.long
def test_a_terminal_is_told_the_steps_and_how_long(tmp_path: Path) -> None:
    (tmp_path / "poem.toml").write_text(DESIGN, encoding="utf-8")
    words = ("make", str(tmp_path / "poem.toml"), "-o", str(tmp_path / "out"), "--effort", "quick")
    out, err, code = _run(*words, terminal=True)
    assert code == 0
    assert "1,280 letters: about 15 seconds" in err
    assert "placement-guide.pdf" in err
    assert "placement-guide.pdf" not in out
    out, err, code = _run(*words)
    assert (err, code) == ("", 0)
    assert "1,280 letters" in out


@pytest.mark.parametrize(
    "environment",
    [
        pytest.param({"NO_COLOR": "1"}, marks=pytest.mark.long),
        {"FORCE_COLOR": "1"},
        pytest.param({"TERM": "dumb"}, marks=pytest.mark.long),
    ],
)
def test_nothing_is_colored_anywhere(environment: dict[str, str], tmp_path: Path) -> None:
    """https://no-color.org asks for no color by default where NO_COLOR is set; we use none at all."""
    words = ("make", "--text", "HI", "--effort", "quick", "-o", str(tmp_path / "out"))
    assert "\x1b" not in "".join(_run(*words, environment=environment, terminal=True)[:2])


def test_a_pipe_of_few_letters_does_not_stop_the_work() -> None:
    out, err, code = _run("fonts", environment={"PYTHONIOENCODING": "cp1252"})
    assert (err, code) == ("", 0)
    assert "\\u05e9" in out


def test_a_reader_that_goes_away_leaves_no_traceback() -> None:
    done = subprocess.run(
        ["sh", "-c", f'"{sys.executable}" -m applique schema | head -n 1'], capture_output=True, text=True
    )
    assert done.stdout == "{\n"
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_shells_can_complete_commands(shell: str) -> None:
    program = str(Path(sys.executable).with_name("applique"))
    source = subprocess.run(
        [program], env={**os.environ, "_APPLIQUE_COMPLETE": f"{shell}_source"}, capture_output=True, text=True
    )
    assert "_APPLIQUE_COMPLETE" in source.stdout


def test_bash_completes_make() -> None:
    program = str(Path(sys.executable).with_name("applique"))
    asked = {"_APPLIQUE_COMPLETE": "bash_complete", "COMP_WORDS": "applique ma", "COMP_CWORD": "1"}
    done = subprocess.run([program], env={**os.environ, **asked}, capture_output=True, text=True)
    assert "make" in done.stdout


@pytest.mark.long
def test_ctrl_c_in_a_long_search_takes_what_there_is_and_leaves_quietly(tmp_path: Path) -> None:
    """It used to end in a panic of the nesting library, whose search went on while the interpreter was taken down."""
    words = ["make", "--text", "ROW STEADY HOME", "--effort", "long", "-o", str(tmp_path / "out")]
    process = subprocess.Popen(
        [sys.executable, "-m", "applique", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "XDG_CACHE_HOME": str(tmp_path / "cache")},
    )
    searching = Path(f"/proc/{process.pid}/task/{process.pid}/children")
    while process.poll() is None and not searching.read_text("utf-8"):
        time.sleep(0.2)
    with contextlib.suppress(subprocess.TimeoutExpired):
        process.wait(2)
    process.send_signal(signal.SIGINT)
    out, err = process.communicate()
    assert (process.returncode, err) == (0, "")
    assert "13 letters" in out
    assert (tmp_path / "out" / "pattern.pdf").is_file()
