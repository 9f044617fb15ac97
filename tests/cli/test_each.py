"""`make --each`: a pattern for each row of a list, whole ones kept, bad rows said by number and the rest made."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from applique.batch import read_list
from applique.cli import main
from applique.design import design_from_mapping, design_text, read_design
from applique.design.placeholders import fill, placeholders
from applique.errors import Refusal
from applique.typeset.bundled import bundled_folder

TEMPLATE = """
title = "For {name}"
[lettering]
font = "Fredoka"
cap_height = "2in"
[[row]]
text = "{Name}"
[[fabric]]
name = "Main"
color = "{color}"
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path.parent / f"cache-{tmp_path.name}"))
    (tmp_path / "quilt.toml").write_text(TEMPLATE, encoding="utf-8")
    return tmp_path


def _each(rows: str, *more: str, template: str = "quilt.toml") -> Result:
    Path("names.csv").write_text(rows, encoding="utf-8")
    words = ["make", template, "--each", "names.csv", "--effort", "quick", *more]
    result = CliRunner().invoke(main, words)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def _stamps(folder: Path) -> dict[str, int]:
    return {str(path): path.stat().st_mtime_ns for path in folder.rglob("*") if path.is_file()}


@pytest.mark.long
def test_rows_are_made_bad_ones_are_said_and_nothing_is_made_twice(folder: Path) -> None:
    rows = 'name,color\nIda,#aa3344\nBo😀,#11aa44\nUna,mauve\nJo\n\n"Zoë",#000000\n'
    first = _each(rows)
    assert first.exit_code == 1
    ida, zoe = sorted((folder / "quilt-each").iterdir())
    assert (ida.name[:4], zoe.name[:4]) == ("ida-", "zoe-")
    assert "For Ida" in (ida / "summary.md").read_text("utf-8")
    for said in (
        "list row 3, row 1, letter 3: no letter for “😀”",
        "list row 4, fabric 1, color: “mauve” is no color",
    ):
        assert said in first.output
    assert "list row 5: the number of its cells is 1, that of the columns 2" in first.output
    assert "2 made, 0 kept, 3 refused" in first.output

    before = _stamps(folder / "quilt-each")
    mended = rows.replace("Bo😀", "Bo").replace("mauve", "#aa88cc").replace("Jo\n", "Jo,#123456\n")
    second = _each(mended)
    assert second.exit_code == 0, second.output
    assert "3 made, 2 kept, 0 refused" in second.output
    assert {path: stamp for path, stamp in _stamps(folder / "quilt-each").items() if path in before} == before

    (ida / "summary.md").write_text("mine", encoding="utf-8")
    third = _each(mended)
    assert third.exit_code == 1
    assert "did not write (summary.md)" in third.output
    assert "0 made, 4 kept, 1 refused" in third.output
    assert (ida / "summary.md").read_text("utf-8") == "mine"

    fourth = json.loads(_each(mended, "--replace", "--json").output)
    assert [row["state"] for row in fourth["rows"]] == ["made"] * 5
    assert [row["row"] for row in fourth["rows"]] == [2, 3, 4, 5, 7]


@pytest.mark.long
def test_a_list_that_grows_keeps_its_folders_and_names_those_that_no_row_makes_any_more(folder: Path) -> None:
    """Folders were numbered: a row put in on top, or a tenth row, made all anew and left the old ones unsaid."""
    _each("name,color\nIda,#aa3344\nBo,#11aa44\n")
    before = _stamps(folder / "quilt-each")
    (folder / "quilt-each" / "photos").mkdir()
    (old,) = (folder / "quilt-each").glob("bo-*")

    grown = "name,color\nAda,#000000\nIda,#aa3344\n" + "\n" * 9 + "Ida,#aa3344\nIda,#aa3345\n"
    said = _each(grown).output
    assert "3 made, 1 kept, 0 refused" in said
    assert f"quilt-each/{old.name}: no row of the list makes this any more" in said
    assert said.count("no row of the list") == 1
    names = sorted(path.name for path in (folder / "quilt-each").iterdir())
    assert len(names) == 6
    assert sum(name.endswith("-2") and name.startswith("ida-") for name in names) == 1
    after = _stamps(folder / "quilt-each")
    assert {path: after[path] for path in before} == before
    data = json.loads(_each(grown, "--json").output)
    assert data["left_over"] == [f"quilt-each/{old.name}"]
    assert [row["state"] for row in data["rows"]] == ["kept"] * 4


def _start_each(rows: int, **environment: str) -> subprocess.Popen[str]:
    """The command on a list of so many rows, in a process group of its own."""
    names = "".join(f"Ida {number},#aa3344\n" for number in range(rows))
    Path("names.csv").write_text(f"name,color\n{names}", encoding="utf-8")
    words = ["make", "quilt.toml", "--each", "names.csv", "--effort", "quick"]
    return subprocess.Popen(
        [sys.executable, "-m", "applique", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        env={**os.environ, **environment},
    )


def _said_until_all_have_ended(process: subprocess.Popen[str]) -> tuple[str, str]:
    """Standard output and standard error to their ends, which come when the last process of the group has ended."""
    try:
        return process.communicate()
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="has no such signals")
@pytest.mark.parametrize("sign", ["SIGTERM", "SIGKILL"])
def test_the_processes_at_work_end_with_the_command(sign: str) -> None:
    """They used to live on for ever."""
    process = _start_each(6)
    assert process.stdout is not None
    assert "made" in process.stdout.readline()
    process.send_signal(signal.Signals[sign])
    said, wrong = _said_until_all_have_ended(process)
    assert said.count("made") < 5
    if sign == "SIGTERM":
        assert process.returncode == 143
        assert wrong.strip().startswith("Stopped. What was written before stands: ")
        assert "\n" not in wrong.strip()


@pytest.mark.skipif(sys.platform == "win32", reason="has no such signals")
def test_ctrl_c_while_the_processes_load_is_quiet(folder: Path) -> None:
    """Ctrl-C reaches every process of a terminal; the children, held here while they load, printed tracebacks."""
    (folder / "path").mkdir()
    held = """
import sys, time, pathlib
if "--multiprocessing-fork" in sys.orig_argv:
    pathlib.Path("loading").touch()
    while not pathlib.Path("go on").exists():
        time.sleep(0.01)
"""
    (folder / "path" / "sitecustomize.py").write_text(held, encoding="utf-8")
    known = os.environ.get("PYTHONPATH")
    process = _start_each(2, PYTHONPATH=os.pathsep.join([str(folder / "path"), *([known] if known else [])]))
    while not Path("loading").exists():
        assert process.poll() is None
        time.sleep(0.01)
    os.killpg(process.pid, signal.SIGINT)
    Path("go on").touch()
    said, wrong = _said_until_all_have_ended(process)
    assert "Traceback" not in wrong
    assert "made" not in said
    (place,) = folder.glob("*-each")  # there, though empty: "Nothing was changed" was not true
    assert wrong.strip() == f"Stopped. What was written before stands: {place.name}."


@pytest.mark.long
def test_another_font_file_under_the_same_name_is_made_anew(folder: Path) -> None:
    template = TEMPLATE.replace('"Fredoka"', '"./mine.ttf"')
    (folder / "own.toml").write_text(template, encoding="utf-8")
    fonts = [
        bundled_folder() / name
        for name in ("lilita_one/LilitaOne-Regular.ttf", "titan_one/TitanOne-Regular.ttf")
    ]
    for font in fonts:
        (folder / "mine.ttf").write_bytes(font.read_bytes())
        assert "1 made" in _each("name,color\nIda,#aa3344\n", template="own.toml").output
    assert "1 kept" in _each("name,color\nIda,#aa3344\n", template="own.toml").output
    (design,) = (folder / "own-each").glob("*/design.toml")
    assert 'font = "mine.ttf"' in design.read_text("utf-8")


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("", "has no header"),
        ("\n\n", "has no header"),
        ("name,color\n", "has no rows"),
        ("name,color\n\n , \n", "has no rows"),
        ("name,Name\nA,B\n", "two columns are named “name”"),
        ("name,\nA,B\n", "column 2 has no name"),
        ("first,color\nA,#000000\n", "the list has no column “name”"),
        ('name,color\n"A,#000000\n', "no CSV file that can be read"),
        ("name,color\n" + "A,#000000\n" * 5_001, "has 5,001 rows"),
        ("name,color\n" + "A" * 6_000 + ",#000000\n", "row 2 has a cell of more than"),
        (",".join(f"c{n}" for n in range(200)) + "\nA\n", "has 200 columns"),
        ("name,color\n" + "A" * 200_000 + ",#000000\n", "field larger than field limit"),
    ],
)
def test_a_list_that_cannot_be_used_is_refused_and_nothing_is_made(
    rows: str, said: str, folder: Path
) -> None:
    result = _each(rows)
    assert result.exit_code == 1
    assert said in result.output
    assert not (folder / "quilt-each").exists()


@pytest.mark.parametrize(
    "content", [b"name\n\xff\xfe\n", b"name\nA\x00B\n", b"\x00" * 100, "name\nÉ".encode("utf-16")]
)
def test_a_list_of_something_else_is_refused(content: bytes, tmp_path: Path) -> None:
    (tmp_path / "names.csv").write_bytes(content)
    with pytest.raises(Refusal):
        read_list(tmp_path / "names.csv")


def test_what_is_no_file_is_no_list(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for place in ("pipe", ".", "none.csv"):
        with pytest.raises(Refusal):
            read_list(tmp_path / place)


@pytest.mark.parametrize(
    "text",
    [
        "name,place\nAda,Home\n",
        "name;place\r\nAda;Home\r\n",
        "\ufeffname\tplace\nAda\tHome\n",
        '"name","place"\n"Ada",Home\n',
        " name , place \n Ada , Home \n",
        "name,place\rAda,Home\r",
    ],
)
def test_lists_as_spreadsheets_save_them(text: str, tmp_path: Path) -> None:
    (tmp_path / "names.csv").write_bytes(text.encode("utf-8"))
    listed = read_list(tmp_path / "names.csv")
    assert listed.columns == ("name", "place")
    assert listed.values(listed.rows[0]) == {"name": "Ada", "place": "Home"}
    assert listed.rows[0].number == 2


def test_a_quoted_cell_may_hold_what_parts_cells_and_rows(tmp_path: Path) -> None:
    (tmp_path / "names.csv").write_text('name,place\n"Ada, ""Addie""","a\nb"\nBo,c\n', encoding="utf-8")
    listed = read_list(tmp_path / "names.csv")
    assert listed.rows[0].cells == ('Ada, "Addie"', "a\nb")
    assert listed.rows[1].number == 3


def test_placeholders_are_filled_once_and_braces_can_be_written() -> None:
    data = {"title": "{{{Name}}} of {PLACE}", "row": [{"text": "{name}"}], "number": 3}
    filled = fill(data, {"name": "{place}", "place": "Home"})
    assert filled == {"title": "{{place}} of Home", "row": [{"text": "{place}"}], "number": 3}
    assert placeholders(data) == ("Name", "PLACE", "name")


@pytest.mark.parametrize(
    "words", ["{name}", "{{name}}", "{", "}}}", "}{", "{}", "{{{{a}}", "{{{name}}}", "plain"]
)
def test_a_design_of_any_braces_is_written_and_read_the_same(words: str, folder: Path) -> None:
    """A file makes of one pair a placeholder and of doubled braces one, so what is written has all of them doubled."""
    design = design_from_mapping({"title": words, "row": [{"text": words}], "label": {"care": [words]}})
    (folder / "again.toml").write_text(design_text(design), encoding="utf-8")
    assert read_design(folder / "again.toml") == design


def test_doubled_braces_are_sewn_as_braces_without_a_list_too(folder: Path) -> None:
    (folder / "braces.toml").write_text('[[row]]\ntext = "{{A}} }"\n', encoding="utf-8")
    assert read_design(folder / "braces.toml").row[0].text == "{A} }"


@pytest.mark.parametrize("command", ["make", "check"])
def test_a_template_without_a_list_is_refused_and_told_of_each(command: str, folder: Path) -> None:
    """Its “{name}” was measured, and made, as if it were words."""
    before = sorted(folder.iterdir())
    result = CliRunner().invoke(main, [command, "quilt.toml", "--json"])
    assert result.exit_code == 1
    (problem,) = json.loads(result.stdout)["problems"]
    assert problem["what"] == "is a template, to be filled from a list: {name}, {color}"
    assert problem["where"] == "quilt.toml"
    assert "--each names.csv" in problem["fix"]
    assert "{{name}}" in problem["fix"]
    assert sorted(folder.iterdir()) == before


@pytest.mark.long
def test_check_says_of_each_row_what_check_says_of_its_design(folder: Path) -> None:
    template = '[lettering]\nfont = "{font}"\ncap_height = "2in"\n[[row]]\ntext = "{name}"\n'
    (folder / "fonts.toml").write_text(template, encoding="utf-8")
    rows = "name,font\nIda,Fredoka\nriver,Fraunces\nBo😀,Fredoka\nUna\n"
    (folder / "names.csv").write_text(rows, encoding="utf-8")
    before = sorted(folder.iterdir())

    def check(*words: str) -> Result:
        return CliRunner().invoke(main, ["check", *words])

    said = check("fonts.toml", "--each", "names.csv")
    assert said.exit_code == 1
    assert "list row 2: no problems found" in said.output
    assert "list row 4, row 1, letter 3: no letter for “😀”" in said.output
    assert "list row 5: the number of its cells is 1, that of the columns 2" in said.output
    assert "1 ready, 1 to look at, 2 refused" in said.output
    assert sorted(folder.iterdir()) == before

    filled = template.replace("{font}", "Fraunces").replace("{name}", "river")
    (folder / "one.toml").write_text(filled, encoding="utf-8")
    one = json.loads(check("one.toml", "--json").output)["notices"]
    assert one[0]["cures"]
    (row,) = (
        row
        for row in json.loads(check("fonts.toml", "--each", "names.csv", "--json").output)["rows"]
        if row["row"] == 3
    )
    assert row["problems"] == []
    assert row["notices"] == [
        {
            **notice,
            "where": f"list row 3, {notice['where']}",
            "place": {**notice["place"], "list_row": 3},
        }
        for notice in one
    ]
    for notice in one:
        assert (
            f"! list row 3, {notice['where']}: {notice['what']}\n  try: {notice['cures'][0]['what']}"
            in said.output
        )


def test_fix_does_not_go_with_a_list() -> None:
    assert CliRunner().invoke(main, ["check", "quilt.toml", "--each", "names.csv", "--fix"]).exit_code == 2


def test_a_template_without_placeholders_is_refused(folder: Path) -> None:
    (folder / "plain.toml").write_text('[[row]]\ntext = "A"\n', encoding="utf-8")
    result = _each("name\nA\n", template="plain.toml")
    assert result.exit_code == 1
    assert "no placeholder" in result.output


def test_each_does_not_go_with_words(folder: Path) -> None:
    for words in (["make", "--each", "n.csv"], ["make", "quilt.toml", "--each", "n.csv", "--title", "X"]):
        assert CliRunner().invoke(main, words).exit_code == 2


def test_json_says_what_was_made_or_why_not(folder: Path) -> None:
    Path("one.toml").write_text('[[row]]\ntext = "A"\n', encoding="utf-8")
    made = CliRunner().invoke(main, ["make", "one.toml", "--effort", "quick", "--json"])
    data = json.loads(made.stdout)
    assert data["letters"] == 1
    assert all(Path(file).is_file() for file in data["files"])
    refused = CliRunner().invoke(main, ["make", "none.toml", "--json"])
    assert refused.exit_code == 1
    assert json.loads(refused.stdout)["problems"][0]["what"].startswith("cannot be read")
    assert json.loads(CliRunner().invoke(main, ["new", "start.toml", "--json"]).stdout) == {
        "file": "start.toml"
    }
    again = CliRunner().invoke(main, ["new", "start.toml", "--json"])
    assert json.loads(again.stdout)["problems"][0]["what"] == "exists"
