"""`--replace`: only what the program made and nobody changed goes; files are written over plain files alone."""

from __future__ import annotations

import errno
import json
import os
import shutil
import stat
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from applique.cli import main
from applique.errors import Refusal
from applique.pack import write_text
from applique.typeset.bundled import bundled_folder

DESIGN = '[lettering]\ncap_height = "1in"\nfont = "Mine.ttf"\n[[row]]\ntext = "I"\n'
LILITA = bundled_folder() / "lilita_one" / "LilitaOne-Regular.ttf"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a design, its font, a photo and notes, which is the current one."""
    home = tmp_path / "home"
    home.mkdir()
    monkeypatch.chdir(home)
    (home / "quilt.toml").write_text(DESIGN, encoding="utf-8")
    shutil.copyfile(LILITA, home / "Mine.ttf")
    (home / "photo.jpg").write_bytes(b"photo")
    (home / "notes.txt").write_text("notes", encoding="utf-8")
    return home


def _make(*words: str, design: str = "quilt.toml") -> Result:
    result = CliRunner().invoke(main, ["make", design, "--effort", "quick", *words])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def _tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def _refused(said: str, *words: str, top: Path, design: str = "quilt.toml") -> None:
    before = _tree(top)
    for more in ((), ("--replace",)):
        result = _make(*words, *more, design=design)
        assert result.exit_code == 1
        assert said in result.output
        assert _tree(top) == before


@pytest.mark.parametrize("output", [".", "../home", "..", "../link"])
def test_the_current_folder_with_the_makers_design_font_and_photo_is_never_replaced(
    output: str, folder: Path, tmp_path: Path
) -> None:
    (tmp_path / "link").symlink_to(folder)
    said = "is a link" if output == "../link" else "quilt.toml, which this pattern is made from"
    _refused(said, "-o", output, top=tmp_path)


@pytest.mark.long
@pytest.mark.parametrize(
    ("moved", "design", "said"),
    [
        ("quilt.toml", "out/quilt.toml", "holds quilt.toml"),
        ("Mine.ttf", "quilt.toml", "holds Mine.ttf"),
    ],
)
def test_a_finished_folder_that_holds_what_it_is_made_from_is_never_replaced(
    moved: str, design: str, said: str, folder: Path
) -> None:
    assert _make("-o", "out").exit_code == 0
    if moved == "Mine.ttf":
        (folder / "quilt.toml").write_text(DESIGN.replace("Mine", "out/Mine"), encoding="utf-8")
    else:
        (folder / "quilt.toml").write_text(DESIGN.replace("Mine", "../Mine"), encoding="utf-8")
    (folder / moved).rename(folder / "out" / moved)
    _refused(said, "-o", "out", top=folder, design=design)


def test_the_design_of_a_finished_folder_is_made_into_another(folder: Path) -> None:
    assert _make("-o", "out").exit_code == 0
    (folder / "real.toml").write_text(DESIGN, encoding="utf-8")
    (folder / "out" / "linked.toml").symlink_to(folder / "real.toml")
    assert "Mine.ttf, which this" not in _make("-o", "out", design="out/design.toml").output
    for design in ("out/design.toml", "out/linked.toml"):
        shutil.copyfile(LILITA, folder / "out" / "Mine.ttf")
        _refused(f"holds {Path(design).name}", "-o", "out", top=folder, design=design)


def test_an_empty_folder_that_one_works_in_is_not_swapped_away(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "here").mkdir()
    monkeypatch.chdir(folder / "here")
    _refused("is the folder you work in", "-o", ".", top=folder, design="../quilt.toml")


@pytest.mark.parametrize("mounted", ["out", "out/photos", "out/cut-files/mirrored"])
def test_a_folder_with_a_disk_mounted_in_it_is_never_replaced(
    mounted: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert _make("-o", "out").exit_code == 0
    (folder / "out" / "photos").mkdir()
    (folder / "out" / "photos" / "one.jpg").write_bytes(b"one")
    real = os.path.ismount
    monkeypatch.setattr(os.path, "ismount", lambda path: Path(path) == folder / mounted or real(path))
    before = _tree(folder)
    result = _make("-o", "out", "--replace")
    assert result.exit_code == 1
    assert "another disk is mounted at" in result.output
    assert _tree(folder) == before


@pytest.mark.long
def test_what_was_changed_is_moved_beside_and_what_was_added_stays(folder: Path) -> None:
    assert _make("-o", "out").exit_code == 0
    made = _tree(folder / "out")
    out = folder / "out"
    (out / "summary.md").write_text("my summary", encoding="utf-8")
    (out / "cut-files" / "mirrored" / "letters" / "mine.svg").write_text("mine", encoding="utf-8")
    (out / "diary.txt").write_text("diary", encoding="utf-8")
    (out / "photos" / "empty").mkdir(parents=True)
    (out / "to-home").symlink_to("../notes.txt")
    os.mkfifo(out / "pipe")
    # Where the program writes, or needs a folder, nothing else can stay.
    (out / "preview.png").unlink()
    (out / "preview.png").mkdir()
    (out / "preview.png" / "deep.txt").write_text("deep", encoding="utf-8")
    (folder / "out-kept-1").write_text("somebody's own", encoding="utf-8")
    first = _make("-o", "out")
    assert first.exit_code == 1
    assert "did not write" in first.output
    assert (out / "summary.md").read_text("utf-8") == "my summary"

    said = json.loads(_make("-o", "out", "--replace", "--json").stdout)
    left = ["cut-files/mirrored/letters/mine.svg", "diary.txt", "photos/empty/", "pipe", "to-home"]
    assert sorted(said["left"]) == left
    assert said["kept"] == ["preview.png/deep.txt", "summary.md"]
    assert said["beside"] == [str(folder / "out-kept-2")]
    assert _tree(folder / "out-kept-2") == {"preview.png/deep.txt": b"deep", "summary.md": b"my summary"}
    assert (folder / "out-kept-1").read_text("utf-8") == "somebody's own"
    after = _tree(out)
    assert after.pop("diary.txt") == b"diary"
    assert after.pop("cut-files/mirrored/letters/mine.svg") == b"mine"
    assert after.pop("to-home") == b"notes"
    assert after == made
    assert (out / "to-home").is_symlink()
    assert (out / "photos" / "empty").is_dir()
    assert stat.S_ISFIFO((out / "pipe").lstat().st_mode)
    assert {path.name for path in folder.iterdir()} == {
        "quilt.toml",
        "Mine.ttf",
        "photo.jpg",
        "notes.txt",
        "out",
        "out-kept-1",
        "out-kept-2",
    }

    (out / "summary.md").write_text("again", encoding="utf-8")
    text = _make("-o", "out", "--replace").output
    assert f"kept in {folder / 'out-kept-3'}, since it was changed: summary.md" in text
    assert "left where it was: diary.txt" in text


@pytest.mark.long
def test_rows_of_a_list_are_replaced_the_same_way(folder: Path) -> None:
    (folder / "each.toml").write_text(DESIGN.replace('"I"', '"{name}"'), encoding="utf-8")
    (folder / "names.csv").write_text("name\nI\nL\n", encoding="utf-8")
    words = ("--each", "names.csv", "-o", "rows", "--json")
    one, other = (Path(row["folder"]) for row in json.loads(_make(*words, design="each.toml").stdout)["rows"])
    (one / "summary.md").write_text("mine", encoding="utf-8")
    (one / "diary.txt").write_text("diary", encoding="utf-8")
    (folder / "names.csv").rename(other / "names.csv")
    before = _tree(other)
    again = ("--each", str(other / "names.csv"), *words[2:], "--replace")
    made, refused = json.loads(_make(*again, design="each.toml").stdout)["rows"]
    assert (made["state"], made["kept"], made["left"]) == ("made", ["summary.md"], ["diary.txt"])
    assert _tree(Path(made["beside"][0])) == {"summary.md": b"mine"}
    assert "holds names.csv" in refused["problems"][0]["what"]
    assert _tree(other) == before


def test_a_file_is_written_by_a_name_that_nobody_else_has(folder: Path) -> None:
    """Before, `.start.toml.new` was deleted, whosever it was."""
    (folder / ".start.toml.new").mkdir()
    (folder / ".quilt.toml.new").write_text("mine", encoding="utf-8")
    write_text(Path("start.toml"), "one", replace=False)
    (folder / "quilt.toml").chmod(0o640)
    write_text(Path("quilt.toml"), "two", replace=True)
    write_text(Path("é" * 120 + ".toml"), "three", replace=False)
    assert (folder / ".quilt.toml.new").read_text("utf-8") == "mine"
    assert (folder / ".start.toml.new").is_dir()
    assert (folder / "quilt.toml").read_text("utf-8") == "two"
    assert stat.S_IMODE((folder / "quilt.toml").stat().st_mode) == 0o640
    assert len(list(folder.glob(".*"))) == 2


@pytest.mark.parametrize("replace", [False, True])
@pytest.mark.parametrize("kind", ["pipe", "device", "dangling", "loop", "folder"])
def test_only_plain_files_are_written_over(kind: str, replace: bool, folder: Path) -> None:
    place = folder / "start.toml"
    match kind:
        case "pipe":
            os.mkfifo(place)
        case "device":
            place.symlink_to(os.devnull)
        case "dangling":
            place.symlink_to("none.toml")
        case "loop":
            place.symlink_to("start.toml")
        case "folder":
            place.symlink_to(folder)
    before = sorted((path.name, path.lstat().st_mode) for path in folder.iterdir())
    with pytest.raises(Refusal):
        write_text(place, "x", replace=replace)
    assert sorted((path.name, path.lstat().st_mode) for path in folder.iterdir()) == before


def test_a_link_to_a_plain_file_is_followed(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "kept").mkdir()
    (tmp_path / "kept" / "real.toml").write_text("old", encoding="utf-8")
    (folder / "linked.toml").symlink_to("../kept/real.toml")
    with pytest.raises(Refusal, match="exists"):
        write_text(Path("linked.toml"), "new", replace=False)
    write_text(Path("linked.toml"), "new", replace=True)
    assert (folder / "linked.toml").is_symlink()
    assert _tree(tmp_path / "kept") == {"real.toml": b"new"}


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS])
def test_a_full_disk_keeps_the_old_file_and_nothing_else(
    number: int, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(handle: int) -> None:
        raise OSError(number, os.strerror(number))

    before = _tree(folder)
    monkeypatch.setattr(os, "fsync", failing)
    with pytest.raises(Refusal, match=os.strerror(number)):
        write_text(Path("quilt.toml"), "x", replace=True)
    monkeypatch.undo()
    assert _tree(folder) == before
