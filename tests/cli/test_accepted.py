"""`check` prints what to paste, and says of what was pasted that it is meant so, with her reason."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from applique.cli import main

DESIGN = """# By hand, and kept so.
title = "Thin"
[panel]
width = "24in"
height = "20in"
[lettering]
font = "Fredoka"
cap_height = "1 1/4in"
[sewing]
method = "machine cut"
least_clear = "0in"
[stitching]
stitch = "satin"
width = "6mm"
[[row]]
text = "HI"
[[row]]
text = "TIL"
"""
REASON = "sewn three times by now"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "quilt.toml").write_text(DESIGN, encoding="utf-8")
    return tmp_path


def _run(*words: str) -> Result:
    result = CliRunner().invoke(main, list(words))
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def _paste(folder: Path) -> str:
    """What `check` prints to paste, with a reason, at the end of the design; returns what it printed."""
    said = _run("check", "quilt.toml").output
    tables = said[said.index("\n# ") : said.rindex("It can be made")]
    pasted = DESIGN + tables.replace('why = ""', f'why = "{REASON}"')
    (folder / "quilt.toml").write_text(pasted, encoding="utf-8")
    return said


def test_what_is_pasted_is_accepted(folder: Path) -> None:
    said = _paste(folder)
    assert said.count("[[accepted]]") == 1
    assert "# 2 places; for one row alone add its words" in said
    after = _run("check", "quilt.toml").output
    assert after.startswith("Meant so:\n  row 1: the thinnest stroke of “H” is ")
    assert after.count(f"meant so: {REASON}") == 2
    assert after.endswith("No problems found.\n")


def test_programs_get_both(folder: Path) -> None:
    notices = json.loads(_run("check", "quilt.toml", "--json").output)["notices"]
    assert [(one["accept"]["finding"], one["accept"]["words"]) for one in notices] == [
        ("thin stroke", "HI"),
        ("thin stroke", "TIL"),
    ]
    _paste(folder)
    data = json.loads(_run("check", "quilt.toml", "--json").output)
    assert data["notices"] == []
    (entry,) = data["accepted"]
    assert (entry["standing"], entry["why"]) == ("holds", REASON)
    assert [found["place"]["path"] for found in entry["findings"]] == [["row", 1], ["row", 2]]
    assert set(entry["measured"]) == {text for one in notices for text in one["accept"]["measured"]}


def test_fix_finds_nothing_to_cure_in_what_is_meant_so(folder: Path) -> None:
    _paste(folder)
    assert "there is nothing to cure" in _run("check", "quilt.toml", "--fix").output
    assert not (folder / "quilt-mended.toml").exists()


def test_the_folder_has_it_for_her_alone(folder: Path) -> None:
    _paste(folder)
    made = _run("make", "quilt.toml", "-o", "made", "--effort", "quick")
    assert (made.exit_code, "thinnest stroke" in made.output) == (0, False)
    assert REASON in (folder / "made" / "summary.md").read_text("utf-8")
    pattern = json.loads((folder / "made" / "pattern.json").read_bytes())
    assert [one["standing"] for one in pattern["accepted"]] == ["holds"]
    assert pattern["notices"] == []
