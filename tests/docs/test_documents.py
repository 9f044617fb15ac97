"""Documents that stay true: generated pages are current, commands run, links lead somewhere."""

from __future__ import annotations

import importlib.util
import json
import re
import shlex
import tomllib
from gettext import NullTranslations
from pathlib import Path
from types import ModuleType

import jsonschema
import pytest
from babel import Locale
from click.testing import CliRunner
from fontTools.pens.recordingPen import RecordingPen
from fontTools.ttLib import TTFont

from applique.cli import main
from applique.design import design_from_mapping, design_schema
from applique.language import Speech, american
from applique.starter import starter
from applique.typeset.bundled import bundled_folder
from applique.units import parse_length
from applique.web.lettering import LETTERING, lettering_files

ROOT = Path(__file__).parents[2]
BRITISH = Speech(tag="en-GB", locale=Locale.parse("en_GB"), texts=NullTranslations())
STARTER = starter(american())
DOCUMENTS = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])


def _maker(name: str) -> ModuleType:
    """A program of docs/ that makes pages."""
    spec = importlib.util.spec_from_file_location(name, ROOT / "docs" / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("name", ["command-line.md", "design-file.md", "design.schema.json"])
def test_generated_pages_are_current(name: str) -> None:
    assert (ROOT / "docs" / name).read_text("utf-8") == _maker("make_reference").pages()[name]


def test_the_small_fonts_of_the_page_are_made_from_the_bundled_ones() -> None:
    """Their outlines and the rules that choose them, not their bytes, which change with the compressor."""
    maker = _maker("make_page_fonts")
    assert maker.RULES.read_text("utf-8") == maker.rules()
    for face in LETTERING:
        whole = TTFont(bundled_folder() / face.whole)
        small = TTFont(lettering_files()[f"{face.name}.woff2"])
        characters = small.getBestCmap()
        assert set(characters) == set(whole.getBestCmap()) & maker.FIRST
        assert set(map(ord, "AZaz09½“”…×Éčő")) <= set(characters)
        heaviest = {axis.axisTag: axis.maxValue for axis in small["fvar"].axes}
        pinned = {name: value for name, value in face.limits if not isinstance(value, tuple)}
        drawn = [
            _outline(font, font.getBestCmap()[ord("g")], {**place, **heaviest})
            for font, place in ((whole, pinned), (small, {}))
        ]
        assert drawn[0] == pytest.approx(drawn[1], abs=2)  # points and what moves them are each rounded


def _outline(font: TTFont, glyph: str, place: dict[str, float]) -> list[float]:
    """Every coordinate of a glyph, in units of the font, at a place on its axes."""
    pen = RecordingPen()
    font.getGlyphSet(location=place)[glyph].draw(pen)
    return [value for _, points in pen.value for point in points if point for value in point]


def test_the_licenses_of_all_dependencies_are_listed() -> None:
    """Their names and not their words, which change with versions."""
    page = (ROOT / "docs" / "licenses.md").read_text("utf-8")
    for name in _maker("make_licenses").needed():
        assert f"\n| {name} | " in page, "run python docs/make_licenses.py"
    for font in (ROOT / "fonts").glob("*/OFL.txt"):
        assert f"fonts/{font.parent.name}/OFL.txt" in page


def test_every_command_and_option_is_documented() -> None:
    page = (ROOT / "docs" / "command-line.md").read_text("utf-8")
    for name, command in main.commands.items():
        assert f"## applique {name}" in page
        for parameter in command.params:
            for option in parameter.opts:
                assert not option.startswith("--") or option in page


def _blocks(document: Path, language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", document.read_text("utf-8"), re.DOTALL)


@pytest.mark.long
def test_the_first_command_of_the_readme_leaves_nothing_that_git_would_add(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is given in the checkout: what it makes there, its environment too, stands in .gitignore."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / ".cache"))
    (tmp_path / "samples").symlink_to(ROOT / "samples")
    first = _blocks(ROOT / "README.md", "")[0].splitlines()[0]
    environment = re.search(r"-m venv (\S+)", first)
    assert environment is not None
    command = shlex.split(first.rpartition("/bin/applique ")[2])
    result = CliRunner().invoke(main, [*command, "--effort", "quick"])
    assert result.exit_code == 0, result.output
    made = {path.name for path in tmp_path.iterdir()} - {"samples", ".cache"} | {environment[1]}
    ignored = (ROOT / ".gitignore").read_text("utf-8").splitlines()
    assert len(made) > 1
    assert {f"{name}/" for name in made} <= set(ignored)


@pytest.mark.long
def test_the_readme_commands_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Those of applique, without a search; the two of the set-up are run by CI in an environment of their own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    (tmp_path / "samples").symlink_to(ROOT / "samples")
    lines = [line for block in _blocks(ROOT / "README.md", "") for line in block.splitlines()]
    words = [re.sub(r".*/bin/applique ", "applique ", line) for line in lines]
    commands = [shlex.split(line)[1:] for line in words if line.startswith("applique ")]
    assert len(commands) == 6
    for command in commands:
        quick = ("--effort", "quick") if command[0] == "make" else ()
        result = CliRunner().invoke(main, [*command, *quick])
        assert result.exit_code == 0, (command, result.output)


@pytest.mark.long
def test_the_readme_python_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "samples").symlink_to(ROOT / "samples")
    (block,) = _blocks(ROOT / "README.md", "python")
    exec(compile(block, "README.md", "exec"), {})
    assert (tmp_path / "out" / "summary.md").is_file()


def test_ci_runs_the_test_command_of_the_readme_and_what_it_leaves_out() -> None:
    line = next(line for line in (ROOT / "README.md").read_text("utf-8").splitlines() if "-m pytest" in line)
    command = line.rsplit("&& ", 1)[1].replace(".venv/bin/python", '"$python"')
    lines = (ROOT / ".ci" / "run").read_text("utf-8").splitlines()
    assert command in lines
    assert command.replace('-m "not long"', "-m long") in lines


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_links_lead_somewhere(document: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", document.read_text("utf-8")):
        if "://" not in target:
            assert (document.parent / target).exists(), target


def test_schema_takes_the_samples_and_the_starter_and_refuses_an_unknown_key() -> None:
    """Checked by jsonschema, a reader of the standard that is not ours."""
    schema = json.loads((ROOT / "docs" / "design.schema.json").read_text("utf-8"))
    assert schema == json.loads(json.dumps(design_schema()))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    for text in (
        STARTER,
        starter(BRITISH),
        *(path.read_text("utf-8") for path in (ROOT / "samples").glob("*.toml")),
    ):
        validator.validate(tomllib.loads(text))
    with pytest.raises(jsonschema.ValidationError):
        validator.validate({"row": [{"text": "A"}], "color": "red"})


def test_every_setting_shown_in_the_starter_is_real_and_at_its_default() -> None:
    """With the note signs taken away it is a design still, and equal to the one without."""
    shown = re.sub(r"^# (?=[a-z_]+ = |\[)", "", STARTER, flags=re.MULTILINE)
    for line in (
        'seam_allowance = "1/4in"',
        'squaring = "1in"',
        'fabric = "Fog"',
        'fabric = "Navy"',
        'row_spacing = "9in"',
        'baseline_step = "1/4in"',
        'copy_shop = "24in"',
        'baseline = "12in"',
        'width = "24in"',
        "axes = {",
    ):
        shown = re.sub(rf"^{re.escape(line)}.*$", "", shown, flags=re.MULTILINE)
    shown = re.sub(r"^nudge = .*$", "", shown, flags=re.MULTILINE)
    full = design_from_mapping(tomllib.loads(shown))
    plain = design_from_mapping(tomllib.loads(STARTER))
    assert full.fabric[0].usable_width == 40
    for default, speech in (("1/4in", american()), ("0.75cm", BRITISH)):
        assert f'# seam_allowance = "{default}"' in starter(speech)
        design = design_from_mapping(tomllib.loads(starter(speech)))
        assert design.panel.seam_allowance is None
        assert design.seam_allowance == parse_length(default)
    for default, speech in (("1in", american()), ("2.5cm", BRITISH)):
        assert f'# squaring = "{default}"' in starter(speech)
        design = design_from_mapping(tomllib.loads(starter(speech)))
        assert design.yardage.squaring is None
        assert design.yardage.squared_off(design.units) == parse_length(default)
    for part in (
        "panel",
        "lettering",
        "row",
        "binding",
        "backing",
        "batting",
        "hanging",
        "yardage",
        "fusible",
        "paper",
        "print",
    ):
        assert getattr(full, part) == getattr(plain, part)
