"""The page's scripts: data flows one way among them, and what they are checked against is what the program has."""

from __future__ import annotations

import re
from dataclasses import replace
from graphlib import TopologicalSorter
from pathlib import Path
from typing import Any

from applique.design import design_from_mapping, design_schema
from applique.errors import Problem, Where
from applique.language import american, message
from applique.pattern import draft, sketch
from applique.web.findings import problem_views, refusal_views
from applique.web.samples import font_list, font_sample
from applique.web.views import drawing_view, numbers_view

STATIC = Path(__file__).parents[2] / "applique" / "web" / "static"
TYPES = STATIC / "types.js"
IMPORTS = {
    path.name: set(re.findall(r'^import [^;]*? from "\./(.+?)";$', path.read_text("utf-8"), re.MULTILINE))
    for path in STATIC.glob("*.js")
}
FIELDS = {
    name: set(re.findall(r"@property \{.+\} \[?([$\w]+)", fields))
    for name, fields in re.findall(
        r"@typedef \{object\} (\w+)\n(.*?)\*/", TYPES.read_text("utf-8"), re.DOTALL
    )
}


def test_no_script_imports_itself_by_way_of_others() -> None:
    assert IMPORTS["app.js"] >= {"design.js", "table.js"}
    TopologicalSorter(IMPORTS).prepare()


def test_every_script_is_reached_from_the_page() -> None:
    reached = {"app.js"}
    for _ in IMPORTS:
        reached |= {name for one in reached for name in IMPORTS[one]}
    assert reached == set(IMPORTS) - {TYPES.name}


def test_every_id_that_scripts_may_ask_for_is_that_of_an_element() -> None:
    asked = re.findall(r"@property \{(?:HTML|SVG)\w+\} ([\w-]+)", (STATIC / "elements.js").read_text("utf-8"))
    files = "".join(path.read_text("utf-8") for path in STATIC.iterdir())
    assert len(asked) > 30
    assert set(asked) <= set(re.findall(r"\bid(?:=|: )\"([\w-]+)\"", files))


def test_the_design_of_the_scripts_has_the_keys_of_the_design_file() -> None:
    schema = design_schema()
    tables = {"Design": schema, **schema["$defs"]}
    for name in [
        "Design",
        "Row",
        "Nudge",
        "Lettering",
        "Fabric",
        "Border",
        "Panel",
        "Binding",
        "Backing",
        "Hanging",
    ]:
        assert FIELDS[name] <= set(tables[name]["properties"]), name


def test_a_border_is_asked_for_all_that_means_something_to_its_kind() -> None:
    """`width` of squares, for one, does nothing: they are as wide as their `size`."""
    source = (STATIC / "settings.js").read_text("utf-8").split("const NOT_OF_KIND = {", 1)[1].split("}", 1)[0]
    left_out = {
        kind: set(re.findall(r'"(\w+)"', keys)) for kind, keys in re.findall(r"(\w+): \[(.*)\]", source)
    }
    asked = {
        kind: set(design_schema()["$defs"]["Border"]["properties"]) - keys for kind, keys in left_out.items()
    }
    assert asked["strip"] >= {"kind", "width", "first", "corners", "corner_fabric", "joins"}
    assert asked["squares"] >= {"kind", "size", "first"}
    assert asked["rectangles"] >= {"kind", "width", "size", "first"}
    known = set().union(*left_out.values())
    assert known == {"fabrics", "width", "size", "corners", "corner_fabric", "joins"}


def test_the_answers_of_the_scripts_are_those_of_the_program() -> None:
    design = design_from_mapping(
        {
            "row": [{"text": "I"}],
            "fabric": [{"name": "Oat", "color": "#e9e4d6"}],
            "lettering": {"outline": "1/2in"},
            "border": [{"kind": "strip", "fabrics": ["Oat"]}],
        }
    )
    drawn = sketch(design)
    (row,) = drawn.panel.rows
    turned = tuple(replace(cut, place=replace(cut.place, turn_deg=20.0)) for cut in row.cuts)
    panel = replace(drawn.panel, laid=(replace(row, cuts=turned),))
    drawn = replace(drawn, placed=replace(drawn.placed, panel=panel))
    drawing = drawing_view(drawn, design, american())
    numbers = numbers_view(draft(design), american(), settled=True)
    problem = Problem(
        kind="too-wide", what=message("is too wide"), where=Where.in_row(1), fix=message("less")
    )
    [finding] = problem_views([problem], design, american())
    sample = font_sample("Fredoka", "I", {}, None)
    answers: dict[str, dict[str, Any]] = {
        "Drawing": drawing,
        "DrawnPanel": drawing["panel"],
        "Picture": drawing["picture"],
        "Painted": {key: value for item in drawing["picture"]["items"] for key, value in item.items()},
        "DrawnRow": drawing["rows"][0],
        "DrawnCut": drawing["rows"][0]["cuts"][0],
        "Scene": drawing["scene"],
        "Finding": finding,
        "Cure": finding["cures"][0],
        "Problem": refusal_views([problem], american())[0],
        "Where": Where(path=("row", 1), letter=1, file="mine.ttf").as_data(),
        "Numbers": numbers,
        "Bought": numbers["cloth"][0],
        "Web": numbers["fusible"],
        "Shelf": numbers["shelves"][0],
        "Font": font_list({}, american())[0],
        "Sample": sample,
        "Axis": sample["axes"][0],
    }
    for name, answer in answers.items():
        assert FIELDS[name] <= set(answer), name
