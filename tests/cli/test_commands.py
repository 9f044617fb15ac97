"""Every command as a maker types it: what it makes, what it refuses, and that a refusal touches nothing."""

from __future__ import annotations

import errno
import json
import os
import pwd
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from fontTools.ttLib import TTFont

from applique.cli import main
from applique.design import design_from_mapping
from applique.language import american
from applique.nesting import Effort, strips
from applique.starter import starter
from applique.typeset.bundled import bundled_folder

SAMPLES = Path(__file__).parents[2] / "samples"
LILITA = bundled_folder() / "lilita_one" / "LilitaOne-Regular.ttf"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path.parent / f"cache-{tmp_path.name}"))
    return tmp_path


def _run(*words: str | Path) -> Result:
    quick = ("--effort", "quick") if words[0] == "make" and "--effort" not in words else ()
    result = CliRunner().invoke(main, [str(word) for word in (*words, *quick)])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def _design(folder: Path, text: str) -> Path:
    path = folder / "design.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.long
@pytest.mark.parametrize("name", ["bakery", "boathouse", "shalom"])
def test_a_sample_is_made(name: str, folder: Path) -> None:
    """The rest of the samples are made in test_samples.py, without the command around them."""
    sample = SAMPLES / f"{name}.toml"
    result = _run("make", sample)
    assert result.exit_code == 0, result.output
    assert (folder / name / "templates-mirrored.pdf").read_bytes().startswith(b"%PDF")
    assert _run("check", sample).exit_code == 0


@pytest.mark.long
def test_words_alone_make_a_pattern(folder: Path) -> None:
    words = (
        "--text",
        "ROW",
        "--text",
        "STEADY",
        "--font",
        "Fredoka",
        "--cap-height",
        "7in",
        "--panel",
        "48x40in",
    )
    result = _run("make", *words, "-o", "out")
    assert result.exit_code == 0, result.output
    assert "quilt 48 in" in result.output
    assert (folder / "out" / "summary.md").is_file()


@pytest.mark.long
@pytest.mark.parametrize(
    ("panel", "said"),
    [
        ("30x40in", "30 in (76.2 cm) by 40 in"),
        ("30 x 40 in", "30 in (76.2 cm) by 40 in"),
        ("30in x 40in", "30 in (76.2 cm) by 40 in"),
        ("76×102cm", "29 15/16 in (76 cm) by 40 3/16 in"),
        ('30 1/2"x40"', "30 1/2 in"),
        ("1yd by 1yd", "36 in"),
    ],
)
def test_panel_sizes_are_read_as_they_are_typed(panel: str, said: str) -> None:
    result = _run("make", "--text", "HI", "--panel", panel, "-o", "out")
    assert said in result.output, result.output


@pytest.mark.parametrize("panel", ["30", "30x", "x40in", "30in", "30x40", "30x40x50in", "axbin"])
def test_panel_sizes_that_are_none_are_refused(panel: str, folder: Path) -> None:
    result = _run("make", "--text", "HI", "--panel", panel, "-o", "out")
    assert result.exit_code == 1
    assert "try:" in result.output
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize(
    "words",
    [
        ("make",),
        ("make", "a.toml", "--text", "A"),
        ("make", "a.toml", "--font", "Rubik"),
        ("make", "--text"),
        ("fly",),
        ("check",),
    ],
)
def test_wrong_usage_leaves_with_two(words: tuple[str, ...], folder: Path) -> None:
    assert _run(*words).exit_code == 2
    assert list(folder.iterdir()) == []


REFUSED = {
    "letters the font lacks": (
        '[lettering]\nfont = "Lilita One"\n[[row]]\ntext = "Ж日"',
        ["“Ж” (U+0416)", "“日” (U+65E5)", "another font that has it", "no bundled font"],
    ),
    "an emoji": ('[[row]]\ntext = "I ❤ 😀"', ["U+2764", "U+1F600"]),
    "empty words": ('[[row]]\ntext = ""', ["row 1, text: there are no words"]),
    "no words": ('title = "x"', ["there are no words"]),
    "no length": (
        '[panel]\nwidth = "wide"\n[[row]]\ntext = "A"',
        ["[panel], width: “wide” isn't a measurement I can read"],
    ),
    "a negative size": ('[panel]\nwidth = "-3in"\n[[row]]\ntext = "A"', ["outside what can be sewn"]),
    "over 100 m": ('[panel]\nwidth = "101m"\n[[row]]\ntext = "A"', ["outside what can be sewn"]),
    "under 1 mm": ('[lettering]\ncap_height = "0.5mm"\n[[row]]\ntext = "A"', ["outside what can be sewn"]),
    "a panel too small": ('[panel]\nwidth = "3in"\n[[row]]\ntext = "HELLO"', ["is too small"]),
    "an unknown key": ('[panel]\nwidht = "3in"\n[[row]]\ntext = "A"', ["“widht”", "did you mean “width”?"]),
    "an unknown font": ('[lettering]\nfont = "Fredoca"\n[[row]]\ntext = "A"', ["did you mean “Fredoka”?"]),
    "no TOML": ("[[line]\ntext = A", ["not valid TOML", "line 1"]),
}


@pytest.mark.parametrize("case", REFUSED)
@pytest.mark.parametrize("command", ["make", "check"])
def test_what_cannot_be_made_is_refused_whole(case: str, command: str, folder: Path) -> None:
    text, said = REFUSED[case]
    file = _design(folder, text)
    result = _run(command, file)
    assert result.exit_code == 1
    for words in said:
        assert words in result.output
    assert "try:" in result.output
    assert [path.name for path in folder.iterdir()] == ["design.toml"]


@pytest.mark.parametrize("damage", ["cut short", "garbage", "empty", "missing"])
def test_a_damaged_font_is_refused(damage: str, folder: Path) -> None:
    data = LILITA.read_bytes()
    content = {
        "cut short": data[: len(data) // 3],
        "garbage": b"\x00\x01\x00\x00" + b"\xff" * 5000,
        "empty": b"",
    }
    if damage in content:
        (folder / "mine.ttf").write_bytes(content[damage])
    result = _run("make", "--text", "A", "--font", "./mine.ttf", "-o", "out")
    assert result.exit_code == 1
    assert "try:" in result.output
    assert not (folder / "out").exists()


@pytest.mark.long
def test_a_restricted_license_is_said_and_does_not_stop_the_work(folder: Path) -> None:
    font = TTFont(LILITA)
    font["OS/2"].fsType = 2
    font.save(folder / "mine.ttf")
    result = _run("make", "--text", "A", "--font", "mine.ttf", "-o", "out")
    assert result.exit_code == 0, result.output
    assert "restricted license" in result.output
    assert "restricted license" in (folder / "out" / "summary.md").read_text("utf-8")


def test_a_folder_of_the_makers_own_is_kept(folder: Path) -> None:
    (folder / "out").mkdir()
    (folder / "out" / "diary.txt").write_text("mine", encoding="utf-8")
    result = _run("make", "--text", "A", "-o", "out")
    assert result.exit_code == 1
    assert "diary.txt" in result.output
    assert _run("make", "--text", "A", "-o", "out", "--replace").exit_code == 1
    assert [path.name for path in (folder / "out").iterdir()] == ["diary.txt"]


@pytest.mark.long
@pytest.mark.parametrize(
    ("text", "more"),
    [
        ("steady as she goes", ()),
        ("Crème brûlée", ()),
        ("“It’s ours”", ()),
        ("שלום אבא", ("--font", "Rubik")),
        ("مرحبا", ("--font", "Cairo")),
        ("Home Sweet Home", ("--font", "Pacifico")),
        ("abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyzabcdefgh", ("--panel", "3x1m")),
        ("cm", ("--cap-height", "12,5 cm", "--panel", "60x40cm")),
    ],
)
def test_what_people_really_type(text: str, more: tuple[str, ...]) -> None:
    result = _run("make", "--text", text, *more, "-o", "out")
    assert result.exit_code == 0, result.output


OUTLINED = """
[lettering]
cap_height = "2in"
outline = "1/4in"
[[row]]
text = "ROW HOME"
[[fabric]]
name = "Oat"
color = "#c9a36a"
"""
"""An outline behind letters of one fabric: that fabric, and all letters from one, are nests of the same shapes."""


def _files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


@pytest.mark.long
def test_a_searched_nest_is_kept_and_made_again_the_same(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With an outline behind letters of one fabric, making again moved the letters."""
    monkeypatch.setitem(strips._SECONDS, Effort.NORMAL, 1.0)
    design = _design(folder, OUTLINED)
    assert _run("make", design, "--effort", "normal", "-o", "first").exit_code == 0
    monkeypatch.setattr(strips, "search_strips", _never)
    assert _run("make", design, "--effort", "normal", "-o", "second").exit_code == 0
    assert _files(folder / "first") == _files(folder / "second")
    # Whoever has the folder, and no nests of their own, makes the same again.
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder / "empty"))
    assert _run("make", "first/design.toml", "--effort", "normal", "-o", "third").exit_code == 0
    assert _files(folder / "third") == _files(folder / "first")
    assert not (folder / "empty").exists()


def _never(*_: object, **__: object) -> None:
    raise AssertionError("searched again")


@pytest.mark.long
@pytest.mark.parametrize("damage", [b"", b"[" * 100_000, None])
def test_nests_beside_a_design_that_are_damaged_are_as_if_there_were_none(
    damage: bytes | None, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(strips._SECONDS, Effort.NORMAL, 0.1)
    design = _design(folder, '[lettering]\ncap_height = "2in"\n[[row]]\ntext = "O"\n')
    if damage is None:
        os.mkfifo(folder / "nests.json")
    else:
        (folder / "nests.json").write_bytes(damage)
    assert _run("make", design, "--effort", "normal", "-o", "out").exit_code == 0
    assert '"effort": 1' in (folder / "out" / "nests.json").read_text("ascii")


@pytest.mark.long
def test_new_writes_a_design_that_can_be_made_and_keeps_what_is_there(folder: Path) -> None:
    assert _run("new", "mine.toml").exit_code == 0
    assert _run("check", "mine.toml").exit_code == 0
    (folder / "mine.toml").write_text("mine", encoding="utf-8")
    assert _run("new", "mine.toml").exit_code == 1
    assert (folder / "mine.toml").read_text("utf-8") == "mine"
    assert _run("new", "mine.toml", "--replace").exit_code == 0
    assert _run("new", "none/mine.toml").exit_code == 1


@pytest.mark.parametrize(
    ("environment", "said"),
    [
        ({"LC_ALL": "en_GB.UTF-8", "LANG": "en_US.UTF-8"}, ("en-GB", "cm", "A4")),
        ({"LC_ALL": "", "LC_MESSAGES": "en_GB", "LANG": "C"}, ("en-GB", "cm", "A4")),
        ({"LC_ALL": "", "LC_MESSAGES": "", "LANG": "en_GB.ISO-8859-1@euro"}, ("en-GB", "cm", "A4")),
        ({"LC_ALL": "C", "LANG": "en_GB.UTF-8"}, ("en", "in", "letter")),
        ({"LC_ALL": "fr_FR.UTF-8"}, ("en", "in", "letter")),
        ({"LC_ALL": "", "LC_MESSAGES": "", "LANG": ""}, ("en", "in", "letter")),
    ],
)
def test_new_has_the_sizes_of_whoever_sits_at_the_terminal(
    folder: Path, environment: dict[str, str], said: tuple[str, str, str]
) -> None:
    """The order of the variables: POSIX, 8.2."""
    result = CliRunner().invoke(main, ["new", "mine.toml"], env=environment)
    assert result.exit_code == 0, result.output
    design = design_from_mapping(tomllib.loads((folder / "mine.toml").read_text("utf-8")))
    assert (design.language, design.units, design.paper.size) == said
    assert float(design.panel.width) == pytest.approx(36 if said[1] == "in" else 90 / 2.54)


def test_new_on_a_disk_that_cannot_be_written_is_refused(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Clearing up after the first error met the same error again, and that came out as a traceback."""

    def refused(path: object, *args: object, **more: object) -> int:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(path))

    for name in ("mkdir", "open", "unlink"):
        monkeypatch.setattr(os, name, refused)
    result = _run("new", "mine.toml")
    monkeypatch.undo()
    assert result.exit_code == 1
    assert "mine.toml: cannot be written (Read-only file system)" in result.output
    assert list(folder.iterdir()) == []


def test_new_takes_the_longest_name_and_minds_no_neighbor(folder: Path) -> None:
    """Its temporary file had a longer name of its own, and one that a folder could have."""
    longest = "n" * 250 + ".toml"
    (folder / ".mine.toml.new").mkdir()
    for name in (longest, "mine.toml"):
        assert _run("new", name).exit_code == 0
        assert (folder / name).read_text("utf-8") == starter(american())
    assert sorted(path.name for path in folder.iterdir()) == [".mine.toml.new", "mine.toml", longest]
    assert _run("new", f"n{longest}").exit_code == 1


@pytest.mark.long
def test_without_a_home_nothing_is_kept_and_the_work_goes_on(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A process whose user has no entry and that was given no HOME, as in some containers."""

    def unknown(user: object) -> None:
        raise KeyError(user)

    for name in ("HOME", "XDG_CACHE_HOME"):
        monkeypatch.delenv(name, raising=False)
    for name in ("getpwuid", "getpwnam"):
        monkeypatch.setattr(pwd, name, unknown)
    result = _run("make", "--text", "I", "--effort", "normal", "-o", "out")
    assert result.exit_code == 0, result.output
    assert _run("fonts", "~/mine.ttf").exit_code == 1
    assert [path.name for path in folder.iterdir()] == ["out"]


def test_fonts_lists_every_bundled_font_and_what_it_spells() -> None:
    result = _run("fonts")
    for name in ("Montserrat", "Pacifico", "Cairo"):
        assert name in result.output
    assert "Hebrew" in result.output
    assert "connected script" in result.output


def test_fonts_says_which_can_spell_the_words() -> None:
    fonts = json.loads(_run("fonts", "--sample", "Ёлка", "--json").output)
    spelling = {font["name"] for font in fonts if not font["missing"]}
    assert "Montserrat" in spelling
    assert "Lilita One" not in spelling


def test_fonts_describes_a_file_of_the_makers_own(folder: Path) -> None:
    (folder / "My Font.ttf").write_bytes(LILITA.read_bytes())
    result = _run("fonts", "My Font.ttf")
    assert result.exit_code == 0
    assert "may be embedded and installed" in result.output
    assert _run("fonts", "none.ttf").exit_code == 1


def test_check_as_json() -> None:
    data = json.loads(_run("check", SAMPLES / "boathouse.toml", "--json").output)
    assert data == {"problems": [], "notices": [], "accepted": [], "stated": []}


def test_schema_is_json() -> None:
    assert json.loads(_run("schema").output)["title"] == "applique design file"


@pytest.mark.long
def test_as_a_module_and_in_a_pipe() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "applique", "--version"], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip()
    refused = subprocess.run(
        [sys.executable, "-m", "applique", "make", "none.toml"], capture_output=True, text=True
    )
    assert refused.returncode == 1
    assert refused.stdout == ""
    assert "Traceback" not in refused.stderr


@pytest.mark.long
def test_check_tries_cures_and_fix_writes_them(folder: Path) -> None:
    design = _design(
        folder,
        '[panel]\nwidth = "36in"\n[lettering]\nfont = "Fraunces"\ncap_height = "2in"\n[[row]]\ntext = "river"\n',
    )
    said = _run("check", design)
    assert "thinnest stroke" in said.output
    assert "try: cap height" in said.output
    fixed = _run("check", design, "--fix")
    assert fixed.exit_code == 0, fixed.output
    assert "+cap_height" in fixed.output or "+    { text" in fixed.output
    mended = folder / "design-mended.toml"
    assert "No problems found" in _run("check", mended).output
    assert _run("check", design, "--fix").exit_code == 1
    assert _run("check", design, "--fix", "--replace").exit_code == 0
    assert _run("check", design, "--output", "x.toml").exit_code == 2


def test_check_as_json_has_the_cures(folder: Path) -> None:
    design = _design(
        folder,
        '[panel]\nwidth = "36in"\n[lettering]\nfont = "Fraunces"\ncap_height = "2in"\n[[row]]\ntext = "river"\n',
    )
    said = json.loads(_run("check", design, "--json").output)
    assert said["notices"][0]["cures"]
    assert said["notices"][0]["kind"] == "thin stroke"
    data = said["notices"][0]["data"]
    assert data["measure"] == min(spot["measure"] for spot in data["spots"]) < data["limit"] == 0.25
    assert data["detail"] == {"reason": "scissors", "stitch": None}
    assert said["notices"][0]["fix"] == said["notices"][0]["cures"][0]["what"]
    assert {"kind": "letter height", "row": 1}.items() <= said["notices"][0]["cures"][0].items()
    mended = json.loads(_run("check", design, "--json", "--fix").output)["mended"]
    assert Path(mended["file"]).name == "design-mended.toml"
    assert Path(mended["file"]).is_file()
    assert any("row 1: " in words for words in mended["done"])


def test_a_font_of_ones_own_is_found_again_from_a_mended_design(folder: Path) -> None:
    (folder / "own").mkdir()
    (folder / "own" / "Mine.ttf").write_bytes(LILITA.read_bytes())
    design = folder / "own" / "d.toml"
    design.write_text(
        '[lettering]\nfont = "Mine.ttf"\ncap_height = "1in"\n[[row]]\ntext = "river"\n', encoding="utf-8"
    )
    assert _run("check", design, "--fix").exit_code == 0
    assert _run("check", folder / "own" / "d-mended.toml").exit_code == 0
