"""The design file: defaults, every problem at once, and the way back to text."""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from applique.batch import read_list
from applique.design import (
    Align,
    Design,
    PaperSize,
    Rows,
    design_from_mapping,
    design_schema,
    design_text,
    read_design,
)
from applique.errors import Refusal, Where
from applique.pack import check_folder
from applique.units import Units


def _problems(data: dict[str, Any]) -> list[str]:
    with pytest.raises(Refusal) as refused:
        design_from_mapping(data)
    return [str(problem) for problem in refused.value.problems]


def test_three_lines_make_a_design(tmp_path: Path) -> None:
    file = tmp_path / "home.toml"
    file.write_text('title = "Home"\n[[row]]\ntext = "HOME"\n', encoding="utf-8")
    design = read_design(file)
    assert design.row[0].text == "HOME"
    assert (design.units, design.paper.size) == (Units.INCHES, PaperSize.LETTER)


def test_every_problem_is_said_at_once_with_its_place() -> None:
    problems = _problems(
        {
            "titel": "x",
            "row": [{"text": " "}, {"text": "A", "align": "middle", "cap_height": 7}],
            "panel": {"hieght": "30in", "width": "-3in"},
        }
    )
    text = "\n".join(problems)
    assert len(problems) == 6
    assert "did you mean “title”?" in text
    assert "[panel]: there is no setting called “hieght”\n  try: did you mean “height”?" in text
    assert "row 1, text: there are no words" in text
    assert "row 2, align" in text
    assert "row 2, cap_height: “7” has no unit" in text


@pytest.mark.parametrize("length", ["0.5mm", "101m", "-2in", "0in", "7", "seven", 7, True, None, ["7in"]])
def test_absurd_cap_heights_are_refused(length: object) -> None:
    (problem,) = _problems({"row": [{"text": "A"}], "lettering": {"cap_height": length}})
    assert "cap_height" in problem
    assert "try:" in problem


@pytest.mark.parametrize("text", ["", "  ", "A\nB", "A\tB", "x" * 2001, 5])
def test_rows_that_are_no_words_are_refused(text: object) -> None:
    assert "row 1" in _problems({"row": [{"text": text}]})[0]


def test_unknown_and_doubled_fabrics_are_refused() -> None:
    problems = _problems(
        {
            "row": [{"text": "A", "fabric": "Navi"}],
            "fabric": [{"name": "Navy", "color": "#000080"}, {"name": "Navy", "color": "#000081"}],
        }
    )
    assert any("two fabrics are named “Navy”" in problem for problem in problems)
    assert any("did you mean “Navy”?" in problem for problem in problems)


@pytest.mark.parametrize("color", ["navy", "#12345", "#gggggg", 3])
def test_colors_are_six_digits(color: object) -> None:
    assert (
        "fabric 1, color" in _problems({"row": [{"text": "A"}], "fabric": [{"name": "N", "color": color}]})[0]
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
    file.write_text('[[row]]\ntext = "A"\n[lettering]\nfont = "fonts/Mine.ttf"\n', encoding="utf-8")
    assert read_design(file).lettering.font == str(tmp_path / "fonts" / "Mine.ttf")


@pytest.mark.parametrize(
    ("measured", "factor"),
    [("5 15/16in", Fraction(95, 96)), ("94%", Fraction(94, 100)), ("152.4mm", 1), ("6in", 1)],
)
def test_the_measured_rule_becomes_a_factor(measured: str, factor: Fraction) -> None:
    design = design_from_mapping({"row": [{"text": "A"}], "print": {"scale_x": measured}})
    assert design.print.scale_x == factor


@pytest.mark.parametrize("measured", ["9" * 5000 + "%", "100." + "0" * 5000 + "%"])
def test_a_percentage_of_thousands_of_digits_is_refused_in_words(measured: str) -> None:
    with pytest.raises(Refusal) as refused:
        design_from_mapping({"row": [{"text": "A"}], "print": {"scale_x": measured}})
    (problem,) = refused.value.problems
    assert problem.where == Where.key("print", "scale_x")
    assert "integer string conversion" not in str(
        problem.what
    )  # the words of Python itself, about its own limit
    assert len(str(problem)) < 500


def test_a_page_printed_to_fit_is_not_corrected_but_refused() -> None:
    (problem,) = _problems({"row": [{"text": "A"}], "print": {"scale_y": "4in"}})
    assert "100%" in problem


@pytest.mark.parametrize(
    ("typed", "written"),
    [("768mm", "76.8cm"), ("10mm", "1cm"), ("25.5mm", "2.55cm"), ("7.5mm", "7.5mm"), ("63.5mm", "2 1/2in")],
)
def test_a_metric_length_is_written_as_a_tape_measure_has_it(typed: str, written: str) -> None:
    design = design_from_mapping({"row": [{"text": "A"}], "panel": {"margin": typed}})
    assert tomllib.loads(design_text(design))["panel"]["margin"] == written


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
        "row": [
            {"text": "שלום", "align": "left", "nudge": [{"letter": 1, "up": "-3mm"}]},
            {"text": "A", "up": "1/8in"},
        ],
        "fabric": [{"name": "Sea", "color": "#0A5566", "usable_width": "107cm"}],
        "print": {"scale_x": "5 15/16in"},
        "paper": {"size": "A3", "copies": "each"},
    }
    design = design_from_mapping(data)
    assert design.lettering.rows is Rows.EVEN_BASELINES
    assert design.row[0].align is Align.LEFT
    again = design_from_mapping(tomllib.loads(design_text(design)))
    assert again == design


def _kind(value: dict[str, Any]) -> str:
    """The JSON type of a key of the schema, null left aside; nothing for lengths, colors and choices."""
    parts = [part for part in value.get("anyOf", [value]) if part.get("type") != "null"]
    return (
        str(parts[0].get("type", ""))
        if len(parts) == 1 and not {"examples", "pattern"} & parts[0].keys()
        else ""
    )


def _keys(schema: dict[str, Any]) -> list[tuple[tuple[str, ...], str, dict[str, Any]]]:
    """Every key of every table of the schema: the names that lead to its table, its own name, and what it may hold."""
    found: list[tuple[tuple[str, ...], str, dict[str, Any]]] = []
    waiting: list[tuple[tuple[str, ...], dict[str, Any]]] = [((), schema)]
    while waiting:
        way, table = waiting.pop()
        for key, value in table["properties"].items():
            target = value.get("$ref") or value.get("items", {}).get("$ref") or ""
            inner = schema["$defs"].get(target.rsplit("/", 1)[-1], {})
            if "properties" in inner:
                waiting.append(((*way, key), inner))
            else:
                found.append((way, key, value))
    return found


_NEEDED: dict[str, dict[str, Any]] = {
    "row": {"text": "ROW"}, "nudge": {"letter": 1}, "fussy": {"letter": 1, "along": "1in", "across": "1in"},
    "fabric": {"name": "Ink", "color": "#203040"}, "border": {"kind": "strip", "fabrics": ["Ink"]},
    "quilting": {"kind": "echo"}, "stated": {"part": "binding", "strips": 7},
    "accepted": {"finding": "thin stroke", "why": "so"}, "block": {"name": "One"},
}  # fmt: skip
_LOOSE: dict[str, tuple[object, ...]] = {
    "boolean": ("yes", "true", "on", 1, 0, 1.0, None, []),
    "integer": ("3", "25", True, 3.0, 2.5, [3]),
    "number": ("3", True, False, float("nan"), float("inf"), [3]),
    "string": (3, True, 2.5, ["x"]),
}
_SAID = {"boolean": "true or false", "integer": "whole number", "number": "number", "string": "in quotes"}
_KEYS = [(way, key, _kind(value)) for way, key, value in _keys(design_schema()) if _kind(value) in _LOOSE]


@pytest.mark.parametrize(("way", "key", "kind"), _KEYS, ids=[".".join((*way, key)) for way, key, _ in _KEYS])
def test_what_only_looks_like_a_value_is_refused(way: tuple[str, ...], key: str, kind: str) -> None:
    """`dxf = "yes"` was true, `extra_percent = true` one percent, and a percentage in quotes a number."""
    for value in _LOOSE[kind]:
        if value is None and "row" in way:
            continue  # not to be written in TOML; as in [lettering]
        data: dict[str, Any] = {"row": [{"text": "ROW"}], "fabric": [dict(_NEEDED["fabric"])]}
        table = data
        for name in way:
            many = name in _NEEDED
            inner = dict(_NEEDED.get(name, {}))
            if many and isinstance(table.get(name), list):
                inner = table[name][0]
            table[name] = [inner] if many else inner
            table = inner
        table[key] = value
        problems = _problems(data)
        assert any(f"{key}: " in problem and _SAID[kind] in problem for problem in problems), (
            value,
            problems,
        )


_WRONG: tuple[Any, ...] = (
    3, 10**9, -(10**9), "", "words", "x" * 400, [], [3], [[]], ["x"] * 3000, {}, {"x": "y"}, {3: 4}, True, None,
    b"\xff",
)  # fmt: skip


@pytest.mark.long
@pytest.mark.parametrize("value", _WRONG, ids=range(len(_WRONG)))
def test_whatever_is_wrong_is_said_in_our_words(value: Any) -> None:
    """“Input should be a valid tuple” told nobody what to write."""
    met = set()
    keys = [(way, key) for way, key, _ in _keys(design_schema())]
    tables = dict.fromkeys((way[:-1], way[-1]) for way, _ in keys if way)
    for way, key in (*keys, *tables):
        data: dict[str, Any] = {"row": [{"text": "ROW"}], "fabric": [dict(_NEEDED["fabric"])]}
        table = data
        for name in way:
            inner = {**_NEEDED.get(name, {})}
            table[name] = [inner] if name in _NEEDED else inner
            table = inner
        table[key] = value
        try:
            design_from_mapping(data)
        except Refusal as refusal:
            for problem in refusal.problems:
                met.add(problem.kind)
                said = str(problem)
                assert problem.kind not in ("", "not-understood"), (way, key, said)
                assert str(problem.fix), (way, key, said)
                assert not re.search("input|valid (?!TOML)|tuple|dictionary|string", said.lower()), (way, key)
    assert met


@pytest.mark.parametrize(
    ("tables", "kind", "said"),
    [
        ({"row": 3}, "no-list", "[[row]]: “3” is not a list\n  try: [[row]] above the settings of each"),
        ({"row": ["A"]}, "no-table", "row 1: “A” is no table of settings"),
        ({"lettering": {"axes": 3}}, "no-table", "[lettering], axes: “3” is no table of settings"),
        (
            {"label": {"care": "cold"}},
            "no-list",
            "[label], care: “cold” is not a list\n  try: square brackets",
        ),
        ({"label": {"care": ["x"] * 7}}, "list-too-long", "[label], care: holds 7 items\n  try: at most 6"),
        ({"row": [{"text": "A"}] * 501}, "list-too-long", "row]]: holds 501 items\n  try: at most 500"),
        (
            {"border": [{"kind": "strip", "fabrics": []}]},
            "list-too-short",
            "border 1, fabrics: holds nothing\n  try: at least 1",
        ),
        ({"title": "x" * 201}, "text-too-long", "title: is longer than 200 characters\n  try: fewer words"),
        ({"fabric": [{"name": "", "color": "#000000"}]}, "text-empty", "fabric 1, name: has no words"),
        ({"sewing": {"least_point": 181}}, "number-too-large", "least_point: is more than 180"),
        ({"outline": {"miter_limit": 0.5}}, "number-too-small", "miter_limit: is less than 1"),
        ({"language": "English!"}, "no-language", "language: “English!” is no name of a language"),
        ({"title": b"\xff"}, "no-text", "is no text\n  try: words in quotes"),
        ({"title": None}, "no-text", "title: “None” is no text"),
    ],
)
def test_a_value_out_of_bounds_is_told_its_bound(tables: dict[str, Any], kind: str, said: str) -> None:
    with pytest.raises(Refusal) as refused:
        design_from_mapping({"row": [{"text": "HI"}], **tables})
    assert [problem.kind for problem in refused.value.problems] == [kind]
    assert said in str(refused.value)


def test_a_path_given_as_text_is_read(tmp_path: Path) -> None:
    file = tmp_path / "home.toml"
    file.write_text('[[row]]\ntext = "HOME"\n', encoding="utf-8")
    assert read_design(str(file)) == read_design(file)


@pytest.mark.parametrize(("name", "sign"), [("a\0b.toml", "U+0000"), ("a\ud800.toml", "U+D800")])
def test_a_name_that_no_file_can_have_is_refused_for_that(tmp_path: Path, name: str, sign: str) -> None:
    """It was said to be no valid TOML, in the words of whoever tried to open it."""
    with pytest.raises(Refusal) as refused:
        read_design(str(tmp_path / name))
    (problem,) = refused.value.problems
    assert str(problem.what) == f"is no name of a file: it holds {sign}"
    str(problem).encode("utf-8")
    for ask in (read_list, lambda path: check_folder(path, replace=False)):
        with pytest.raises(Refusal) as again:
            ask(tmp_path / name)
        assert again.value.problems == (problem,)


def test_the_walk_over_the_design_file_meets_every_kind_of_value() -> None:
    assert {kind for _, _, kind in _KEYS} == set(_LOOSE)
    assert {
        ("cutting", "dxf"),
        ("row", "nudge", "letter"),
        ("outline", "miter_limit"),
        ("paper", "full_size_guide"),
    } <= {(*way, key) for way, key, _ in _KEYS}


@pytest.mark.parametrize("weight", ["700", True, float("nan"), 10**400])
def test_a_setting_of_a_font_is_a_number(weight: object) -> None:
    problems = _problems({"row": [{"text": "ROW"}], "lettering": {"axes": {"wght": weight}}})
    assert len(problems) == 1
    assert "is no number" in problems[0]
    assert problems[0].startswith("[lettering], axes, wght: ")


def test_whole_numbers_serve_where_a_number_may_have_decimals() -> None:
    design = design_from_mapping(
        {
            "row": [{"text": "ROW"}],
            "quilting": [{"kind": "lines", "angle": 30}],
            "lettering": {"axes": {"wght": 700}},
        }
    )
    assert design.quilting[0].angle == 30.0
    assert design.lettering.axes == {"wght": 700.0}


def test_designs_are_values() -> None:
    first, second = (design_from_mapping({"row": [{"text": "A"}]}) for _ in range(2))
    assert isinstance(first, Design)
    assert first == second
    with pytest.raises(AttributeError):
        first.title = "x"  # type: ignore[misc]


@pytest.mark.parametrize(
    ("tables", "said"),
    [
        ({"fabric": [{"name": "Sky", "colour": "#88aacc"}]}, "did you mean “color”?"),
        ({"lettering": {"align": "centre"}}, "did you mean “center”?"),
        ({"outline": {"corners": "mitred"}}, "did you mean “mitered”?"),
        ({"publisher": {"licence": "yours to sew"}}, "did you mean “license”?"),
        ({"lettering": {"align": "sideways"}}, "one of center, left, right, or spread"),
        ({"lettering": {"align": 3}}, "one of center, left, right, or spread"),
        ({"row": [{"text": "HI", "stitch": "blankets"}]}, "did you mean “blanket”?"),
    ],
)
def test_one_spelling_is_taken_and_another_is_answered(tables: dict[str, Any], said: str) -> None:
    with pytest.raises(Refusal, match=re.escape(said)):
        design_from_mapping({"row": [{"text": "HI"}], **tables})


def test_a_fabric_that_is_not_there_is_told_with_its_place() -> None:
    """Wherever a table of the design names one, however deep and whichever of a list."""
    data = {
        "row": [{"text": "A", "fabric": "Oat"}, {"text": "B", "fabric": "Oak"}],
        "fabric": [{"name": "Oat", "color": "#e9e4d6"}],
        "binding": {"fabric": "Ash"},
        "border": [
            {"kind": "strip", "fabrics": ["Oat"]},
            {"kind": "squares", "fabrics": ["Oat", "Elm"], "corner_fabric": "Fir"},
        ],
    }
    with pytest.raises(Refusal) as refused:
        design_from_mapping(data)
    assert {problem.where.path for problem in refused.value.problems} == {
        ("row", 2, "fabric"),
        ("binding", "fabric"),
        ("border", 2, "fabrics"),
        ("border", 2, "corner_fabric"),
    }
