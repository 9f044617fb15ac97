"""`check` says whether each number that a maker states holds; summary and JSON too, her customers' sheets never."""

from __future__ import annotations

import json
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner, Result

from applique.cli import main

DESIGN = """
title = "Held"
[panel]
width = "70in"
height = "73in"
fabric = "Oat"
[[row]]
text = "{text}"
cap_height = "4in"
font = "Fredoka"
[[fabric]]
name = "Rose"
color = "#802020"
usable_width = "43in"
[[fabric]]
name = "Oat"
color = "#f2eadb"
usable_width = "108in"
[backing]
fabric = "Oat"
[[border]]
kind = "strip"
width = "3in"
fabrics = ["Rose"]
joins = "straight"
[[stated]]
part = "border"
strips = 7
buy = "1 1/4yd"
"""
SHORT = "border 1: 7 strips hold from 43 3/8 in of usable width on; at 43 in they fall 2 in short"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    (tmp_path / "quilt.toml").write_text(DESIGN.format(text="I"), encoding="utf-8")
    return tmp_path


def _run(*words: str) -> Result:
    result = CliRunner().invoke(main, list(words))
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def test_check_says_what_falls_short_and_what_holds_and_stops_nothing() -> None:
    said = _run("check", "quilt.toml")
    assert said.exit_code == 0
    lines = said.output.splitlines()
    assert "Numbers of your own:" in lines
    assert f"! stated 1, strips: {SHORT}" in lines
    assert any(
        line.startswith("  stated 1, buy: border 1: 1 1/4 yd to buy holds, with 3/8 yd to spare (28 in used")
        for line in lines
    )
    assert lines[-1] == "It can be made; look at the above first."


def test_check_says_no_problems_where_every_number_holds(folder: Path) -> None:
    (folder / "quilt.toml").write_text(DESIGN.format(text="I").replace("= 7\n", "= 8\n"), encoding="utf-8")
    lines = _run("check", "quilt.toml").output.splitlines()
    assert any(
        line.startswith("  stated 1, strips: border 1: 8 strips hold, with 40 1/2 in") for line in lines
    )
    assert lines[-1] == "No problems found."


def test_check_gives_each_number_as_data() -> None:
    strips, buy = json.loads(_run("check", "quilt.toml", "--json").output)["stated"]
    assert strips["kind"] == "stated-number-short"
    assert strips["what"] == SHORT
    assert strips["place"] == {"path": ["stated", 1, "strips"]}
    data = strips["data"]
    assert (data["table"], data["part"], data["border"], data["kind"]) == (1, "border", 1, "strips")
    assert (data["verdict"], data["stated"], data["needed"]) == ("falls short", 7, 8)
    assert data["holds_from"]["exact"] == "303/7"
    assert data["over"]["exact"] == "-2"
    assert buy["kind"] == "stated-number-holds"
    assert buy["data"]["over"]["exact"] == "15"


@pytest.mark.long
def test_each_row_of_a_list_says_what_falls_short(folder: Path) -> None:
    (folder / "quilt.toml").write_text(DESIGN.format(text="{name}"), encoding="utf-8")
    (folder / "names.csv").write_text("name\nI\n", encoding="utf-8")
    output = _run("check", "quilt.toml", "--each", "names.csv").output
    assert SHORT in output
    assert "0 ready, 1 to look at, 0 refused" in output


@pytest.mark.long
def test_summary_and_json_have_them_and_no_sheet_of_a_customer_does(folder: Path) -> None:
    assert _run("make", "quilt.toml", "-o", "out", "--effort", "quick").exit_code == 0
    summary = (folder / "out" / "summary.md").read_text(encoding="utf-8")
    assert "## Numbers of your own" in summary
    assert SHORT in summary
    (strips, _) = json.loads((folder / "out" / "pattern.json").read_text(encoding="utf-8"))["stated"]
    assert strips["what"] == SHORT
    sheets = list((folder / "out").glob("**/*.pdf"))
    assert len(sheets) >= 4
    for sheet in sheets:
        pages = pypdfium2.PdfDocument(sheet.read_bytes())
        text = " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pages)
        assert "43 3/8" not in text
        assert "umbers of your own" not in text
