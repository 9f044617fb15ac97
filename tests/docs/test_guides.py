"""The guides: every command and design in them works as it stands, and none is left out."""

from __future__ import annotations

import re
import shlex
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner

from applique.cli import main
from applique.design import design_from_mapping
from applique.typeset.describe import describe_font

ROOT = Path(__file__).parents[2]
GUIDES = sorted(
    [*(ROOT / "docs" / "how-to").glob("*.md")]
    + [ROOT / "docs" / name for name in ("first-quilt.md", "batch.md", "python-api.md", "performance.md")]
)
QUICK = ("--effort", "quick")


def _blocks(guide: Path, language: str) -> list[str]:
    """The fenced blocks in `language`; those within a list, set in by three spaces, too."""
    text = re.sub(r"^ {3}", "", guide.read_text("utf-8"), flags=re.MULTILINE)
    fenced = re.findall(r"^```(\w*)\n(.*?)^```$", text, re.DOTALL | re.MULTILINE)
    return [block for named, block in fenced if named == language]


def _commands() -> list[tuple[str, str]]:
    return [
        (guide.name, line)
        for guide in GUIDES
        for block in _blocks(guide, "")
        for line in block.splitlines()
        if line.startswith("applique ")
    ]


@pytest.fixture
def room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    for folder in ("samples", "fonts"):
        (tmp_path / folder).symlink_to(ROOT / folder)
    return tmp_path


@pytest.mark.long
@pytest.mark.parametrize(("guide", "line"), _commands(), ids=lambda value: value)
def test_the_commands_of_the_guides_run(guide: str, line: str, room: Path) -> None:
    words = shlex.split(line)[1:]
    result = CliRunner().invoke(main, [*words, *(QUICK if words[0] == "make" else ())])
    assert result.exit_code == 0, (guide, result.output, result.exception)


def test_there_are_commands_to_run() -> None:
    assert len(_commands()) > 12


@pytest.mark.parametrize(
    ("guide", "block"),
    [(guide.name, block) for guide in GUIDES for block in _blocks(guide, "toml")],
    ids=lambda value: value if value.endswith(".md") else "",
)
def test_the_designs_of_the_guides_are_designs(guide: str, block: str) -> None:
    data = tomllib.loads(block)
    for fabric in data.get("fabric", ()):
        if "color" in fabric:
            fabric["color"] = fabric["color"].replace("{color}", "#000000")
    assert design_from_mapping(data).rows


def test_the_first_quilt_is_the_sample(room: Path) -> None:
    (block,) = _blocks(ROOT / "docs" / "first-quilt.md", "toml")
    sample = (ROOT / "samples" / "first-quilt.toml").read_text("utf-8")
    assert tomllib.loads(block) == tomllib.loads(sample)


def test_the_python_of_the_guides_runs(room: Path) -> None:
    (block,) = _blocks(ROOT / "docs" / "python-api.md", "python")
    exec(compile(block, "python-api.md", "exec"), {"__name__": "__main__"})
    assert (room / "tide" / "design.toml").is_file()


def test_every_how_to_page_is_in_their_list() -> None:
    listed = (ROOT / "docs" / "how-to" / "README.md").read_text("utf-8")
    for guide in (ROOT / "docs" / "how-to").glob("*.md"):
        assert guide.name == "README.md" or f"({guide.name})" in listed


def test_the_table_of_scripts_says_what_the_fonts_spell() -> None:
    page = (ROOT / "docs" / "how-to" / "other-scripts.md").read_text("utf-8")
    rows = dict(re.findall(r"^\| (\w+) \| ([^|]+) \|$", page, re.MULTILINE))
    for script in ("Hebrew", "Arabic", "Greek", "Cyrillic", "Devanagari"):
        for font in rows[script].split(", "):
            name = "Shantell Sans ExtraBold" if font == "Shantell Sans" else font
            assert script in dict(describe_font(name).scripts), (script, font)
