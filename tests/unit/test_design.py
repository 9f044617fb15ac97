"""The design file: defaults, every problem at once, and the way back to text."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from applique.design import Align, Design, PaperSize, Rows, design_from_mapping, design_text, read_design
from applique.errors import Refusal
from applique.units import Units


def _problems(data: dict[str, Any]) -> list[str]:
    with pytest.raises(Refusal) as refused:
        design_from_mapping(data)
    return [str(problem) for problem in refused.value.problems]


def test_three_lines_make_a_design(tmp_path: Path) -> None:
    file = tmp_path / "home.toml"
    file.write_text('title = "Home"\n[[line]]\ntext = "HOME"\n', encoding="utf-8")
    design = read_design(file)
    assert design.line[0].text == "HOME"
    assert (design.units, design.paper.size) == (Units.INCHES, PaperSize.LETTER)


def test_every_problem_is_said_at_once_with_its_place() -> None:
    problems = _problems(
        {
            "titel": "x",
            "line": [{"text": " "}, {"text": "A", "align": "middle", "cap_height": 7}],
            "panel": {"hieght": "30in", "width": "-3in"},
        }
    )
    text = "\n".join(problems)
    assert len(problems) == 6
    assert "did you mean “title”?" in text
    assert "[panel]: I do not know “hieght”\n  try: did you mean “height”?" in text
    assert "row 1, text: there are no words" in text
    assert "row 2, align" in text
    assert "row 2, cap_height: 7 has no unit" in text


@pytest.mark.parametrize("length", ["0.5mm", "101m", "-2in", "0in", "7", "seven", 7, True, None, ["7in"]])
def test_absurd_cap_heights_are_refused(length: object) -> None:
    (problem,) = _problems({"line": [{"text": "A"}], "lettering": {"cap_height": length}})
    assert "cap_height" in problem
    assert "try:" in problem


@pytest.mark.parametrize("text", ["", "  ", "A\nB", "A\tB", "x" * 2001, 5])
def test_rows_that_are_no_words_are_refused(text: object) -> None:
    assert "row 1" in _problems({"line": [{"text": text}]})[0]


def test_unknown_and_doubled_fabrics_are_refused() -> None:
    problems = _problems(
        {
            "line": [{"text": "A", "fabric": "Navi"}],
            "fabric": [{"name": "Navy", "colour": "#000080"}, {"name": "Navy", "colour": "#000081"}],
        }
    )
    assert any("two fabrics are named “Navy”" in problem for problem in problems)
    assert any("did you mean “Navy”?" in problem for problem in problems)


@pytest.mark.parametrize("colour", ["navy", "#12345", "#gggggg", 3])
def test_colours_are_six_digits(colour: object) -> None:
    assert (
        "fabric 1, colour"
        in _problems({"line": [{"text": "A"}], "fabric": [{"name": "N", "colour": colour}]})[0]
    )


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"text = HOME", "not valid TOML"),
        (b"\xff\xfe", "not plain text"),
        (b"x=" + b"[" * 5000, "not valid TOML"),
    ],
)
def test_files_that_are_no_design_are_refused(tmp_path: Path, content: bytes, said: str) -> None:
    file = tmp_path / "bad.toml"
    file.write_bytes(content)
    with pytest.raises(Refusal, match=said):
        read_design(file)


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="cannot be read"):
        read_design(tmp_path / "none.toml")


def test_a_font_path_starts_from_the_folder_of_the_file(tmp_path: Path) -> None:
    file = tmp_path / "own.toml"
    file.write_text('[[line]]\ntext = "A"\n[lettering]\nfont = "fonts/Mine.ttf"\n', encoding="utf-8")
    assert read_design(file).lettering.font == str(tmp_path / "fonts" / "Mine.ttf")


@pytest.mark.parametrize(
    ("measured", "factor"),
    [("5 15/16in", Fraction(95, 96)), ("94%", Fraction(94, 100)), ("152.4mm", 1), ("6in", 1)],
)
def test_the_measured_rule_becomes_a_factor(measured: str, factor: Fraction) -> None:
    design = design_from_mapping({"line": [{"text": "A"}], "print": {"scale_x": measured}})
    assert design.print.scale_x == factor


def test_a_page_printed_to_fit_is_not_corrected_but_refused() -> None:
    (problem,) = _problems({"line": [{"text": "A"}], "print": {"scale_y": "4in"}})
    assert "100 %" in problem


def test_design_text_reads_back_equal() -> None:
    data = {
        "title": "Round “trip”",
        "units": "cm",
        "panel": {"width": "101.3cm", "height": "7-1/3yd", "margin": "0in"},
        "lettering": {
            "font": "Rubik",
            "axes": {"weight": 700},
            "rows": "even baselines",
            "cap_height": "1/3yd",
        },
        "line": [
            {"text": "שלום", "align": "left", "nudge": [{"letter": 1, "up": "-3mm"}]},
            {"text": "A", "up": "1/8in"},
        ],
        "fabric": [{"name": "Sea", "colour": "#0A5566", "usable_width": "107cm"}],
        "print": {"scale_x": "5 15/16in"},
        "paper": {"size": "A3", "copies": "each"},
    }
    design = design_from_mapping(data)
    assert design.lettering.rows is Rows.EVEN_BASELINES
    assert design.line[0].align is Align.LEFT
    again = design_from_mapping(tomllib.loads(design_text(design)))
    assert again == design


def test_designs_are_values() -> None:
    first, second = (design_from_mapping({"line": [{"text": "A"}]}) for _ in range(2))
    assert isinstance(first, Design)
    assert first == second
    with pytest.raises(AttributeError):
        first.title = "x"  # type: ignore[misc]
