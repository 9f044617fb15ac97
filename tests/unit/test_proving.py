"""A maker's own font is tried out in a process of its own, within limits, and that only once."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from applique import children
from applique.design import design_from_mapping
from applique.errors import Refusal, Where
from applique.language import Message, message
from applique.pattern import draft
from applique.typeset import proving
from applique.typeset.bundled import BUNDLED, bundled_folder
from applique.typeset.fonts import open_typeface
from applique.typeset.probe import sound_font

LILITA = (bundled_folder() / "lilita_one" / "LilitaOne-Regular.ttf").read_bytes()
LIMITED = (
    "from applique.children import keep_within; from applique.typeset.proving import MOST_BYTES; "
    "keep_within(seconds=1, memory=MOST_BYTES)"
)
HARM = {
    "counts for ever": ("while True: pass", "takes more than"),
    "eats memory": ("_ = [bytearray(50_000_000) for _ in range(100)]", "500 MB"),
    "crashes": ("import os, signal; os.kill(os.getpid(), signal.SIGSEGV)", "damaged font"),
    "leaves": ("import sys; sys.exit(0)", "damaged font"),
    "talks nonsense": ("print('[1, 2')", "damaged font"),
    "says half a message": (
        """print('{"problems": [{"kind": "", "file": "", "what": {"template": "is {odd}", "fields": {}},'
        ' "fix": {"template": "another", "fields": {}}}]}')""",
        "damaged font",
    ),
}


@pytest.fixture(autouse=True)
def nothing_known(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(proving, "_PROOFS", {})


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The words that each child process was asked for, as they are asked."""
    real, asked = subprocess.run, []

    def counting(*args: Any, **kwargs: Any) -> Any:
        asked.append(kwargs["input"].split(b"\n", 1)[0].decode())
        return real(*args, **kwargs)

    monkeypatch.setattr(subprocess, "run", counting)
    return asked


def _probe_with(code: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let `code` stand for the probe."""
    (folder / "other_probe.py").write_text(code, encoding="utf-8")
    monkeypatch.setenv("PYTHONPATH", f"{folder}{os.pathsep}{os.environ.get('PYTHONPATH', '')}")
    monkeypatch.setattr(proving, "_PROBE", "other_probe")


@pytest.mark.parametrize("harm", HARM)
def test_a_font_that_harms_its_reader_is_refused(
    harm: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    code, said = HARM[harm]
    _probe_with(
        f"{LIMITED}\n{code}",
        tmp_path,
        monkeypatch,
    )
    for _ in range(2):
        with pytest.raises(Refusal, match=said) as refused:
            proving.prove_font(LILITA, "mine.ttf", axes={}, words=("A",))
        assert refused.value.problems[0].where == Where(file="mine.ttf")
        monkeypatch.setattr(proving, "_PROBE", "no_module: the second time is remembered")


def test_what_the_probe_found_comes_back_as_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The probe refuses every letter of more than ten points; no letter of this font has so few."""
    few = "from applique.typeset import probe; probe._MOST_POINTS = 10; probe.main()"
    _probe_with(few, tmp_path, monkeypatch)
    with pytest.raises(Refusal) as refused:
        proving.prove_font(LILITA, "mine.ttf", axes={}, words=("S",))
    (problem,) = refused.value.problems
    assert isinstance(problem.what, Message)
    assert problem.kind == "letter-of-too-many-points"
    assert problem.what.template == "has a letter of {points} points, too many to cut"
    points = dict(problem.what.fields)["points"]
    assert isinstance(points, int)
    assert 10 < points < 100
    assert problem.fix == message("the file again from where it came, or another font")


def test_a_font_that_waits_for_a_busy_machine_is_not_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It sleeps longer than a font may work; sleeping takes no processor time."""
    sleepy = f"{LIMITED}\nimport time; time.sleep(1.5); print('{{\"problems\": []}}')"
    _probe_with(sleepy, tmp_path, monkeypatch)
    monkeypatch.setattr(proving, "MOST_SECONDS", 1)
    proving.prove_font(LILITA, "mine.ttf", axes={}, words=("A",))


@pytest.mark.parametrize(
    "trouble",
    [
        "import time; time.sleep(300)",
        "import os, signal; os.kill(os.getpid(), signal.SIGKILL)",
        "import os, signal; os.kill(os.getpid(), signal.SIGTERM)",
        None,
    ],
)
def test_that_the_machine_was_busy_is_said_and_remembered_by_nobody(
    trouble: str | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A child that never gets its turn, one that the system ends for want of memory, and one that cannot start."""
    with monkeypatch.context() as busy:
        _probe_with(trouble or "", tmp_path, busy)
        busy.setattr(children, "_LONGEST_WAIT", 1)
        if trouble is None:
            busy.setattr(sys, "executable", str(tmp_path))
        with pytest.raises(
            Refusal, match=r"mine.ttf: could not be tried out, because this machine is busy\n  try: again"
        ):
            proving.prove_font(LILITA, "mine.ttf", axes={}, words=("A",))
    proving.prove_font(LILITA, "mine.ttf", axes={}, words=("A",))


def test_bundled_fonts_are_never_tried_out(calls: list[str]) -> None:
    for font in BUNDLED:
        open_typeface(font.name, words=("ABC",))
    assert calls == []


def test_a_font_is_tried_once_for_all_the_words_of_a_design(tmp_path: Path, calls: list[str]) -> None:
    (tmp_path / "mine.ttf").write_bytes(LILITA)
    data = {
        "row": [{"text": "HOME"}, {"text": "AGAIN"}, {"text": "HOME"}],
        "lettering": {"font": str(tmp_path / "mine.ttf")},
    }
    design = design_from_mapping(data)
    draft(design)
    draft(design)
    assert len(calls) == 1
    assert "AGAIN" in calls[0]


def test_new_characters_are_tried_and_known_ones_are_not(calls: list[str]) -> None:
    for words in (("AB",), ("BA",), ("ABC",), ("C",)):
        proving.prove_font(LILITA, "mine.ttf", axes={}, words=words)
    assert len(calls) == 2


def test_characters_that_the_font_lacks_are_left_to_whoever_shapes_the_words(tmp_path: Path) -> None:
    (tmp_path / "mine.ttf").write_bytes(LILITA)
    with pytest.raises(Refusal, match="row 1, letter 2: no letter for “Ж”"):
        draft(
            design_from_mapping({"row": [{"text": "AЖ"}], "lettering": {"font": str(tmp_path / "mine.ttf")}})
        )


def test_a_module_in_the_makers_folder_does_not_stand_for_ours(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "shapely.py").write_text("raise SystemExit(3)", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    proving.prove_font(LILITA, "mine.ttf", axes={}, words=("A",))


def test_a_letter_that_leaves_its_place_is_refused(tmp_path: Path) -> None:
    from fontTools.pens.ttGlyphPen import TTGlyphPen
    from fontTools.ttLib import TTFont

    font = TTFont(bundled_folder() / "lilita_one" / "LilitaOne-Regular.ttf")
    pen = TTGlyphPen(None)
    for index, point in enumerate([(0, 0), (32000, 32000), (32000, 0)]):
        (pen.lineTo if index else pen.moveTo)(point)
    pen.closePath()
    name = font.getBestCmap()[ord("A")]
    font["glyf"][name] = pen.glyph()
    font["head"].unitsPerEm = 64
    font.save(tmp_path / "far.ttf")
    with pytest.raises(Refusal, match="reaches far out"):
        sound_font((tmp_path / "far.ttf").read_bytes(), "far.ttf", {}, ["A"])
