"""The samples: between them they use every key of the design file, and each is made whole."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from applique.design import design_schema, read_design
from applique.pack import pack_files
from applique.pattern import Pattern, draft

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))
SLOW = {"tide-poem"}


@pytest.fixture(
    scope="module",
    params=[
        pytest.param(path, id=path.stem, marks=[pytest.mark.long] if path.stem in SLOW else [])
        for path in SAMPLES
    ],
)
def pattern(request: pytest.FixtureRequest) -> Pattern:
    return draft(read_design(request.param))


@pytest.mark.long
def test_a_sample_is_made_whole(pattern: Pattern) -> None:
    files = pack_files(pattern)
    assert all(content.startswith(b"%PDF") for name, content in files.items() if name.endswith(".pdf"))
    assert {"pattern.pdf", "placement-guide.pdf", "preview.svg", "pattern.json"} <= files.keys()


def _letters(name: str) -> str:
    path = next(path for path in SAMPLES if path.stem == name)
    return "".join("".join(line.text.split()) for line in read_design(path).row)


def test_there_is_a_poem_of_a_thousand_letters() -> None:
    assert len(_letters("tide-poem")) >= 1_000


def test_one_huge_letter_goes_over_many_pages() -> None:
    path = next(path for path in SAMPLES if path.stem == "ampersand")
    pattern = draft(read_design(path))
    assert len(_letters("ampersand")) == 1
    assert len(pattern.sheets.tiled) == 1
    assert len(pattern.sheets.tiled[0].tiling.tiles) > 6
    assert pattern.guide is not None


def test_leftovers_make_a_back_wide_enough() -> None:
    path = next(path for path in SAMPLES if path.stem == "harbour")
    shopping = draft(read_design(path)).shopping
    assert shopping.mixed_backing is not None
    assert {patch.fabric for patch in shopping.back} == {"Backing", "Sail"}


def _unused(
    table: Mapping[str, Any], where: str, used: Sequence[Mapping[str, Any]], schema: Any
) -> Iterator[str]:
    """Every key of `table`, a part of the schema, that none of the tables `used` holds."""
    for key, value in table["properties"].items():
        path = f"{where}.{key}".lstrip(".")
        found = [tables[key] for tables in used if key in tables]
        if not found:
            yield path
            continue
        for part in (value, *value.get("anyOf", ()), value.get("items", {})):
            kind = schema["$defs"].get(part.get("$ref", "").rpartition("/")[2], {})
            if path == "block.row":  # the same table as `row`, whose keys are looked for there
                continue
            if "properties" in kind:
                below = [one for item in found for one in (item if isinstance(item, list) else [item])]
                yield from _unused(kind, path, below, schema)


def test_the_samples_use_every_key_of_the_design_file() -> None:
    schema = design_schema()
    used = [tomllib.loads(path.read_text("utf-8")) for path in SAMPLES]
    assert list(_unused(schema, "", used, schema)) == []


def test_an_unused_key_would_be_found() -> None:
    schema = design_schema()
    used = [{"row": [{"text": "A"}], "panel": {"width": "3in"}}]
    unused = set(_unused(schema, "", used, schema))
    assert {"title", "panel.height", "row.nudge"} <= unused
    assert "panel.width" not in unused
