"""A list as one height of letters and one file to print: what decides it, where each name begins, true size kept."""

from __future__ import annotations

import json
from fractions import Fraction
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader

from applique.batch import shared_height
from applique.cli import main
from applique.design import design_from_mapping
from applique.geometry.points import extent
from applique.sewing.placed import place
from applique.units import MM_PER_INCH

TEMPLATE = """
title = "A flag for {name}"
units = "cm"
[panel]
width = "40cm"
height = "25cm"
[lettering]
font = "Fredoka"
cap_height = "9cm"
fabric = "Main"
[[row]]
text = "{name}"
[[fabric]]
name = "Main"
color = "#31586b"
[paper]
size = "A4"
"""
NAMES = "name\nIda\nMaximilian\nBo😀\nJo\n"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path.parent / f"cache-{tmp_path.name}"))
    (tmp_path / "flag.toml").write_text(TEMPLATE, encoding="utf-8")
    (tmp_path / "names.csv").write_text(NAMES, encoding="utf-8")
    return tmp_path


def _run(*words: str) -> Result:
    result = CliRunner().invoke(main, words)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def _width(name: str, height: Fraction) -> float:
    """The drawn width of a name at a cap height, in inches, on a panel where it always fits."""
    free = {
        "units": "cm",
        "panel": {"width": "400cm", "height": "100cm"},
        "lettering": {"font": "Fredoka", "cap_height": height},
        "row": [{"text": name}],
    }
    (row,) = place(design_from_mapping(free)).panel.rows
    return extent(row.ink)[0]


def test_the_shared_height_is_the_largest_at_which_the_longest_name_fits(folder: Path) -> None:
    """Recomputed: at this height the longest name is within the margins, a millimeter more and it is not."""
    shared = shared_height(folder / "flag.toml", folder / "names.csv", workers=1)
    assert shared is not None and shared.decided_by == (3,)
    millimeter = 1 / MM_PER_INCH
    assert (shared.height / millimeter).denominator == 1
    room = float(Fraction(400) / MM_PER_INCH - 2 * design_from_mapping(_plain()).panel.margin)
    assert _width("Maximilian", shared.height) <= room < _width("Maximilian", shared.height + millimeter)
    assert _width("Ida", shared.height + millimeter) < room


def _plain() -> dict[str, Any]:
    return {"units": "cm", "row": [{"text": "Ida"}], "panel": {"width": "40cm", "height": "25cm"}}


@pytest.mark.long
def test_check_says_which_names_do_not_fit_and_at_which_height_all_would(folder: Path) -> None:
    said = _run("check", "flag.toml", "--each", "names.csv")
    assert said.exit_code == 1
    assert "list row 3, row 1: “Maximilian” is" in said.output
    shared = shared_height(folder / "flag.toml", folder / "names.csv", workers=1)
    assert shared is not None
    high = f"{float(shared.height * MM_PER_INCH) / 10:g} cm"
    sentence = f"Every name that can be set fits with letters {high} high; list row 3 allows no more."
    assert sentence in said.output
    alike = json.loads(_run("check", "flag.toml", "--each", "names.csv", "--same-height", "--json").output)
    assert alike["same_height"] == float(shared.height)
    assert [bool(row["problems"]) for row in alike["rows"]] == [False, False, True, False]


@pytest.mark.long
def test_rows_with_a_height_of_their_own_have_no_shared_one(folder: Path) -> None:
    (folder / "flag.toml").write_text(
        TEMPLATE.replace('text = "{name}"', 'text = "{name}"\ncap_height = "2cm"')
    )
    assert shared_height(folder / "flag.toml", folder / "names.csv", workers=1) is None
    assert (
        "No common height was found"
        in _run("check", "flag.toml", "--each", "names.csv", "--same-height").output
    )


def test_options_for_lists_are_refused_without_one() -> None:
    for words in (("make", "flag.toml", "--same-height"), ("make", "flag.toml", "--print-together", "names"),
                  ("check", "flag.toml", "--same-height")):  # fmt: skip
        said = _run(*words)
        assert said.exit_code == 2 and f"{words[2]} goes with --each." in said.output


@pytest.mark.long
def test_one_file_to_print_has_every_sheet_where_its_contents_say(folder: Path) -> None:
    words = (
        "make",
        "flag.toml",
        "--each",
        "names.csv",
        "--effort",
        "quick",
        "--same-height",
        "--print-together",
    )
    said = _run(*words, "names")
    assert "3 made, 0 kept, 1 refused" in said.output and "all-names.pdf" in said.output
    file = folder / "flag-each" / "to-print" / "all-names.pdf"
    by_name = file.read_bytes()
    folders = {path.name.split("-")[0]: path for path in (folder / "flag-each").iterdir()}
    heights = {
        json.loads((folders[name] / "pattern.json").read_text("utf-8"))["rows"][0]["cap_height"]["exact"]
        for name in ("ida", "maximilian", "jo")
    }
    assert len(heights) == 1
    _begins_as_said(by_name)
    _pages_are_as_they_were(by_name, folders)

    again = _run(*words, "names")
    assert "0 made, 3 kept, 1 refused" in again.output and "this any more" not in again.output
    assert file.read_bytes() == by_name

    _run(*words, "sheets")
    by_sheet = file.read_bytes()
    assert by_sheet != by_name
    _begins_as_said(by_sheet)
    heads = [page.extract_text() for page in PdfReader(BytesIO(by_sheet)).pages[1:]]
    kinds = ["Mirror image" in head for head in heads]
    assert kinds == sorted(kinds, reverse=True) and any(kinds) and not all(kinds)

    file.write_bytes(b"mine")
    refused = _run(*words, "sheets")
    assert refused.exit_code == 1 and file.read_bytes() == b"mine"
    assert "to-print" in _run("make", "flag.toml", "--each", "names.csv", "--effort", "quick").output


@pytest.mark.long
def test_a_class_of_twenty_names_is_one_bundle_in_letters_of_one_height(folder: Path) -> None:
    """The sample: accents and all, under the title of its file where the template's title is only the name."""
    batch = Path(__file__).parents[2] / "samples" / "batch"
    names = [line.split(",")[0] for line in (batch / "class.csv").read_text("utf-8").splitlines()[1:]]
    assert len(names) == 20
    words = ("make", str(batch / "class.toml"), "--each", str(batch / "class.csv"), "-o", "class")
    said = _run(*words, "--effort", "quick", "--same-height", "--print-together", "names")
    assert "20 made, 0 kept, 0 refused" in said.output
    together = pypdfium2.PdfDocument((folder / "class" / "to-print" / "all-names.pdf").read_bytes())
    contents = together[0].get_textpage().get_text_range()
    head, *_ = contents.split("Where to find each name")
    assert head.split() == ["class", "page", "1", "of", "1", "20", "names"]
    assert contents.count("Where to find each name") == 1
    lines = [line for line in contents.splitlines() if line.split()[0] in names]
    assert [line.split()[0] for line in lines] == names
    assert len({tuple(line.split()[1:4]) for line in lines}) == 1, "one height of letters"
    sheets = ("templates-mirrored.pdf", "placement-guide.pdf", "nesting.pdf")
    made = [
        pypdfium2.PdfDocument((path / sheet).read_bytes())
        for path in (folder / "class").iterdir()
        if path.name != "to-print"
        for sheet in sheets
    ]
    assert len(made) == 20 * len(sheets)
    assert len(together) == 1 + sum(len(one) for one in made)


def _begins_as_said(pdf: bytes) -> None:
    """Each number of the contents is the page where that sheet of that name begins."""
    pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]
    heads = ("Mirror image", "Placement guide", "How the letters lie", "Label:")
    found = 0
    assert pages[0].count("Where to find each name") == 1
    for name in ("Ida", "Maximilian", "Jo"):
        (line,) = (line for line in pages[0].splitlines() if line.startswith(f"A flag for {name} "))
        for number, head in zip(line.split()[-4:], heads, strict=True):
            text = pages[int(number) - 1]
            assert f"A flag for {name}" in text and head in text and "page 1 of " in text
            found += 1
    assert found == 12


def _pages_are_as_they_were(pdf: bytes, folders: dict[str, Path]) -> None:
    """Sheets keep their size and every line at its place: the pictures of both are the same, and no viewer shrinks."""
    reader = PdfReader(BytesIO(pdf))
    assert reader.viewer_preferences is not None
    assert str(reader.viewer_preferences["/PrintScaling"]) == "/None"
    document = pypdfium2.PdfDocument(pdf)
    start = next(
        index for index, page in enumerate(document)
        if "A flag for Jo" in (text := page.get_textpage().get_text_range()) and "Mirror image" in text
    )  # fmt: skip
    alone = pypdfium2.PdfDocument((folders["jo"] / "templates-mirrored.pdf").read_bytes())
    for index, page in enumerate(alone):
        joined = document[start + index]
        assert joined.get_size() == page.get_size()
        assert joined.render(scale=1).to_numpy().tobytes() == page.render(scale=1).to_numpy().tobytes()
