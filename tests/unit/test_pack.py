"""The folder: written whole or not at all, and never over what is not the tool's."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from applique import swapping
from applique.design import design_from_mapping, read_design
from applique.errors import Refusal
from applique.pack import pack_files, write_pack
from applique.pattern import Pattern, draft


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return _pattern("HI")


@pytest.fixture(scope="module")
def written_once(pattern: Pattern, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A pack that no test changes."""
    folder = tmp_path_factory.mktemp("packs") / "out"
    write_pack(pattern, folder)
    return folder


@pytest.fixture
def out(written_once: Path, tmp_path: Path) -> Path:
    """A pack of a test's own, as `write_pack` has left it."""
    return Path(shutil.copytree(written_once, tmp_path / "out", symlinks=True))


def _pattern(text: str) -> Pattern:
    return draft(design_from_mapping({"row": [{"text": text}], "lettering": {"cap_height": "2in"}}))


def _tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_a_pack_has_every_file(pattern: Pattern, tmp_path: Path) -> None:
    written = write_pack(pattern, tmp_path / "out")
    names = set(_tree(tmp_path / "out"))
    assert {path.relative_to(tmp_path / "out").as_posix() for path in written.files} == names
    assert {
        "pattern.pdf",
        "sew-along.html",
        "quilt-label.pdf",
        "templates-mirrored.pdf",
        "templates-right-reading.pdf",
        "placement-guide.pdf",
        "preview.svg",
        "preview.png",
        "pattern.json",
        ".made-files.sha256",
        "summary.md",
        "design.toml",
        "cut-files/mirrored/letters/01-H.svg",
        "cut-files/right-reading/rows/row-01-HI.svg",
    } <= names
    assert "nests.json" not in names  # at quick effort there is nothing to keep
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.long
def test_the_design_in_the_pack_makes_the_pack_again(written_once: Path) -> None:
    again = draft(read_design(written_once / "design.toml"))
    assert pack_files(again) == _tree(written_once)


@pytest.mark.long
def test_an_untouched_pack_is_replaced(out: Path) -> None:
    write_pack(_pattern("NO"), out)
    assert "cut-files/mirrored/letters/01-N.svg" in _tree(out)
    assert "cut-files/mirrored/letters/01-H.svg" not in _tree(out)


@pytest.mark.parametrize("change", ["notes.txt", "summary.md", "pattern.json", "cut-files", "photos/"])
def test_what_was_added_or_changed_is_not_replaced_unasked(
    pattern: Pattern, out: Path, tmp_path: Path, change: str
) -> None:
    if change.endswith("/"):
        (out / change).mkdir()
    elif change == "cut-files":
        shutil.rmtree(out / change)
        (out / change).symlink_to(tmp_path)
    else:
        (out / change).write_text("mine", encoding="utf-8")
    before = _tree(out)
    with pytest.raises(Refusal, match=f"did not write .{change}"):
        write_pack(pattern, out)
    assert _tree(out) == before


@pytest.mark.long
@pytest.mark.parametrize("spoilt", ["none", "gone", "changed", "link", "other files"])
@pytest.mark.parametrize("replace", [False, True])
def test_a_folder_without_a_sound_record_is_never_replaced(
    pattern: Pattern, out: Path, tmp_path: Path, spoilt: str, replace: bool
) -> None:
    if spoilt == "none":
        shutil.rmtree(out)
        out.mkdir()
    record = out / ".made-files.sha256"
    match spoilt:
        case "gone":
            record.unlink()
        case "changed":
            record.write_bytes(record.read_bytes().replace(b"  summary.md", b"  letter.txt"))
        case "link":
            record.rename(tmp_path / "record")
            record.symlink_to(tmp_path / "record")
        case "other files":
            record.write_text("0" * 64 + "  letter.txt\n", encoding="utf-8")
    (out / "letter.txt").write_text("mine", encoding="utf-8")
    before = _tree(out)
    with pytest.raises(Refusal, match="no record"):
        write_pack(pattern, out, replace=replace)
    assert _tree(out) == before
    assert {path.name for path in tmp_path.iterdir()} <= {"out", "record"}


def test_the_record_can_be_checked_by_a_program_outside(out: Path) -> None:
    """By `sha256sum`, of GNU coreutils."""
    command = ["sha256sum", "--check", "--strict", "--quiet", ".made-files.sha256"]
    assert subprocess.run(command, cwd=out).returncode == 0
    names = set(_tree(out)) - {".made-files.sha256"}
    record = (out / ".made-files.sha256").read_text("utf-8").splitlines()
    assert [line[66:] for line in record[1:-1]] == sorted(names)
    (out / "summary.md").write_text("mine", encoding="utf-8")
    assert subprocess.run(command, cwd=out, capture_output=True).returncode == 1


def test_an_empty_folder_is_filled(pattern: Pattern, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    assert write_pack(pattern, tmp_path / "out")


def test_a_file_a_link_or_a_missing_parent_is_refused(pattern: Pattern, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    (tmp_path / "link").symlink_to(tmp_path)
    for place in ("file", "link", "none/out"):
        with pytest.raises(Refusal):
            write_pack(pattern, tmp_path / place)


@pytest.mark.long
@pytest.mark.parametrize("fail_at", [1, 5, 12])
def test_a_failure_in_the_middle_leaves_the_old_folder_and_nothing_else(
    pattern: Pattern, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fail_at: int
) -> None:
    write_pack(_pattern("NO"), tmp_path / "out")
    before = _tree(tmp_path / "out")
    real, count = swapping.write_file, 0

    def failing(path: Path, content: bytes) -> None:
        nonlocal count
        count += 1
        if count == fail_at:
            raise OSError(28, "No space left on device")
        real(path, content)

    monkeypatch.setattr(swapping, "write_file", failing)
    with pytest.raises(Refusal, match="No space left"):
        write_pack(pattern, tmp_path / "out")
    assert _tree(tmp_path / "out") == before
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.long
def test_a_swap_that_fails_puts_the_old_folder_back(
    pattern: Pattern, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_pack(_pattern("NO"), tmp_path / "out")
    before = _tree(tmp_path / "out")
    real = Path.rename
    monkeypatch.setattr(swapping, "_exchange", lambda one, other: False)

    def failing(self: Path, target: Path) -> Path:
        if Path(target).name == "out" and "-new-" in self.name:
            raise OSError(13, "Permission denied")
        return real(self, target)

    monkeypatch.setattr(Path, "rename", failing)
    with pytest.raises(Refusal, match="Permission denied"):
        write_pack(pattern, tmp_path / "out")
    monkeypatch.undo()
    assert _tree(tmp_path / "out") == before
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.long
def test_two_processes_write_the_same_bytes(tmp_path: Path) -> None:
    code = (
        "from pathlib import Path; from applique import *; import sys; "
        "write_pack(draft(design_from_mapping({'row': [{'text': 'Été שלום'}], 'lettering': {'font': 'Rubik'}})),"
        " Path(sys.argv[1]))"
    )
    for seed in ("1", "2"):
        subprocess.run(
            [sys.executable, "-c", code, str(tmp_path / seed)],
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
    assert _tree(tmp_path / "1") == _tree(tmp_path / "2")


def test_pattern_json_holds_the_numbers_of_the_pattern(pattern: Pattern, written_once: Path) -> None:
    data: dict[str, Any] = json.loads((written_once / "pattern.json").read_bytes())
    assert data["panel"]["cut"][0] == {"inches": 30.5, "exact": "61/2"}
    assert data["rows"][0]["cap_height"]["inches"] == 2
    assert data["rows"][0]["baseline_below_cut_top"] == pytest.approx(
        pattern.marks[0].baseline_from_top, abs=1e-5
    )
    assert [t["text"] for t in data["templates"]] == ["H", "I"]
    assert data["templates"][0]["area"] == pytest.approx(pattern.templates[0].area, abs=1e-5)
    assert sum(len(page) for page in data["sheets"]["whole"]) == 2
    assert len(data["fusible"]["nest"]) == 2
    assert data["made_by"].startswith("applique ")


def test_the_summary_says_what_to_buy_print_and_do(pattern: Pattern, written_once: Path) -> None:
    text = (written_once / "summary.md").read_text("utf-8")
    assert "cut it 30 1/2 in (77.5 cm) wide" in text
    assert "Fusible web, 17 in wide: **1/8 yd**" in text
    assert "| Background | panel |" in text
    assert f"{pattern.sheets.page_count + 1} pages" in text
    assert "no legal advice" in text


def test_bars_in_the_words_do_not_break_the_tables() -> None:
    pattern = _pattern("A|B")
    row = next(
        line
        for line in pack_files(pattern)["summary.md"].decode("utf-8").splitlines()
        if line.startswith("| 1 | A")
    )
    assert row.replace("\\|", "").count("|") == 9
