"""Fonts spoilt byte by byte, from a seed: each is drawn or refused in words, within five seconds of work and 500 MB.

The fonts to spoil are our own. Two ways: many in one child process of the limits that a font gets, with the probe
itself; and a few through a whole `draft`, with a child process for each, as a maker has it.
"""

from __future__ import annotations

import random
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.pattern import draft
from applique.typeset.bundled import bundled_folder
from applique.typeset.proving import MOST_BYTES, MOST_SECONDS

FONTS = sorted(bundled_folder().rglob("*.ttf"))
HEAD_OF_FILE = 3_000
_TRIED = """
import runpy, sys, time
from pathlib import Path
from applique.errors import Refusal
from applique.typeset.probe import sound_font
module = runpy.run_path(sys.argv[1])
for seed in range(int(sys.argv[2]), int(sys.argv[3])):
    start = time.process_time()
    try:
        sound_font(module["spoilt"](seed), "spoilt.ttf", {}, ["HOME", "Été 12"])
        said = "drawn"
    except Refusal as refusal:
        assert all(problem.what and problem.fix for problem in refusal.problems)
        said = "refused"
    except Exception as error:
        said = "caught"
    print(seed, said, time.process_time() - start, flush=True)
"""


def spoilt(seed: int) -> bytes:
    """One of our fonts with some bytes changed, in its tables of contents or anywhere, or cut short."""
    chance = random.Random(seed)
    data = bytearray(chance.choice(FONTS).read_bytes())
    for _ in range(chance.choice([1, 3, 10, 100, 1_000])):
        where = chance.randrange(len(data) if chance.random() < 0.6 else HEAD_OF_FILE)
        data[where] = chance.choice([0, 255, 127, 128, chance.randrange(256)])
    return bytes(data[: chance.randrange(len(data))] if chance.random() < 0.1 else data)


@pytest.mark.long
@pytest.mark.parametrize("first", [0, 150])
def test_the_probe_draws_or_refuses_every_spoilt_font(first: int) -> None:
    done = subprocess.run(
        [sys.executable, "-c", _TRIED, __file__, str(first), str(first + 150)],
        capture_output=True,
        text=True,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (2 * MOST_BYTES, 2 * MOST_BYTES)),
    )
    assert done.returncode == 0, done.stderr[-2_000:]
    results = [line.split() for line in done.stdout.splitlines()]
    assert len(results) == 150
    assert max(float(seconds) for _, _, seconds in results) < MOST_SECONDS
    assert {said for _, said, _ in results} >= {"drawn", "refused"}


@pytest.mark.long
@pytest.mark.parametrize("seed", range(1_000, 1_012))
def test_a_design_with_a_spoilt_font_is_drafted_or_refused(seed: int, tmp_path: Path) -> None:
    (tmp_path / "mine.ttf").write_bytes(spoilt(seed))
    try:
        pattern = draft(
            design_from_mapping({"row": [{"text": "HÉ"}], "lettering": {"font": str(tmp_path / "mine.ttf")}})
        )
        assert pattern.letter_count >= 1
    except Refusal as refusal:
        assert "row 1" in str(refusal)
        assert "Traceback" not in str(refusal)
        assert "busy" not in str(refusal)
