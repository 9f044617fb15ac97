"""`make --each`: a pattern for each row of a list, whole ones kept, bad rows said by number and the rest made."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from applique.batch import fill, placeholders, read_list
from applique.cli import main
from applique.errors import Refusal
from applique.typeset.fonts import bundled_folder

TEMPLATE = """
title = "For {name}"
[lettering]
font = "Fredoka"
cap_height = "2in"
[[line]]
text = "{Name}"
[[fabric]]
name = "Main"
colour = "{colour}"
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
    rows = 'name,colour\nIda,#aa3344\nBo😀,#11aa44\nUna,mauve\nJo\n\n"Zoë",#000000\n'
    first = _each(rows)
    assert first.exit_code == 1
    assert sorted(path.name for path in (folder / "quilt-each").iterdir()) == ["2-ida", "7-zoe"]
    assert "For Ida" in (folder / "quilt-each" / "2-ida" / "summary.md").read_text("utf-8")
    for said in (
        "list row 3, row 1, letter 3: no letter for “😀”",
        "list row 4, fabric 1, colour: 'mauve' is no colour",
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

    (folder / "quilt-each" / "2-ida" / "summary.md").write_text("mine", encoding="utf-8")
    third = _each(mended.replace("#000000", "#101010"))
    assert third.exit_code == 1
    assert "did not write (summary.md)" in third.output
    assert "1 made, 3 kept, 1 refused" in third.output
    assert (folder / "quilt-each" / "2-ida" / "summary.md").read_text("utf-8") == "mine"

    fourth = json.loads(_each(mended, "--replace", "--json").output)
    assert [row["state"] for row in fourth["rows"]] == ["made"] * 5
    assert [row["row"] for row in fourth["rows"]] == [2, 3, 4, 5, 7]


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
        assert "1 made" in _each("name,colour\nIda,#aa3344\n", template="own.toml").output
    assert "1 kept" in _each("name,colour\nIda,#aa3344\n", template="own.toml").output
    (design,) = (folder / "own-each").glob("*/design.toml")
    assert 'font = "mine.ttf"' in design.read_text("utf-8")


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("", "has no header"),
        ("\n\n", "has no header"),
        ("name,colour\n", "has no rows"),
        ("name,colour\n\n , \n", "has no rows"),
        ("name,Name\nA,B\n", "two columns are named “name”"),
        ("name,\nA,B\n", "column 2 has no name"),
        ("first,colour\nA,#000000\n", "the list has no column “name”"),
        ('name,colour\n"A,#000000\n', "no CSV file that can be read"),
        ("name,colour\n" + "A,#000000\n" * 5_001, "has 5001 rows"),
        ("name,colour\n" + "A" * 6_000 + ",#000000\n", "row 2 has a cell of more than"),
        (",".join(f"c{n}" for n in range(200)) + "\nA\n", "has 200 columns"),
        ("name,colour\n" + "A" * 200_000 + ",#000000\n", "field larger than field limit"),
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
    data = {"title": "{{{Name}}} of {PLACE}", "line": [{"text": "{name}"}], "number": 3}
    filled = fill(data, {"name": "{place}", "place": "Home"})
    assert filled == {"title": "{{place}} of Home", "line": [{"text": "{place}"}], "number": 3}
    assert placeholders(data) == ("Name", "PLACE", "name")


def test_a_template_without_placeholders_is_refused(folder: Path) -> None:
    (folder / "plain.toml").write_text('[[line]]\ntext = "A"\n', encoding="utf-8")
    result = _each("name\nA\n", template="plain.toml")
    assert result.exit_code == 1
    assert "no placeholder" in result.output


def test_each_does_not_go_with_words(folder: Path) -> None:
    for words in (["make", "--each", "n.csv"], ["make", "quilt.toml", "--each", "n.csv", "--title", "X"]):
        assert CliRunner().invoke(main, words).exit_code == 2


def test_json_says_what_was_made_or_why_not(folder: Path) -> None:
    Path("one.toml").write_text('[[line]]\ntext = "A"\n', encoding="utf-8")
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
