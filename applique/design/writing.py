"""Writing a design: as plain data, as TOML, and the JSON Schema that describes both."""

from __future__ import annotations

from dataclasses import MISSING, fields, is_dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any, get_type_hints

import tomli_w
from pydantic import TypeAdapter

from applique.design.accepted import Accepted
from applique.design.fonts import beside, from_folder, path_from, with_fonts, with_mark, with_photos
from applique.design.model import Design, tables_of
from applique.design.placeholders import doubled

__all__ = ["accepted_text", "design_adapter", "design_data", "design_schema", "design_text"]


@cache
def design_adapter() -> TypeAdapter[Design]:
    """Pydantic's validator, serializer and schema of a `Design`, made once."""
    return TypeAdapter(Design)


def design_data(design: Design, *, base: Path | None = None) -> dict[str, Any]:
    """`design` as plain data in the shape of the file; what stands at its default is left out.

    With `base`, the folder that the file is for, font files are written as paths that start from there.

    Raises:
        Refusal: a photo of a fabric lies in another folder than `base`.
    """
    if base is not None:
        design = with_fonts(design, lambda font: from_folder(font, base))
        design = with_mark(design, lambda file: path_from(file, base))
        design = with_photos(design, lambda photo: beside(photo, base))
    return _without_defaults(design, design_adapter().dump_python(design, mode="json"))


def design_text(design: Design, *, base: Path | None = None) -> str:
    """`design` as a TOML file that reads back to an equal design; what stands at its default is left out.

    With `base`, the folder that the file is for, font files are written as paths that start from there. Braces are
    doubled in it, since single ones stand for columns of a list.
    """
    return tomli_w.dumps(doubled(design_data(design, base=base)), multiline_strings=False)


def accepted_text(accepted: Accepted) -> str:
    """A table `[[accepted]]` to paste at the end of a design file, with its `why` to fill in where that is empty."""
    data = {
        "finding": accepted.finding.value,
        **({"words": accepted.words} if accepted.words else {}),
        **({"measured": list(accepted.measured)} if accepted.measured else {}),
        "why": accepted.why,
    }
    return tomli_w.dumps(doubled({"accepted": [data]}), multiline_strings=False)


def _without_defaults(value: Any, written: dict[str, Any]) -> dict[str, Any]:
    kept: dict[str, Any] = {}
    blank = _blank(type(value))
    for item in fields(value):
        current = getattr(value, item.name)
        if item.name in blank and current == blank[item.name]:
            continue
        if is_dataclass(current):
            kept[item.name] = _without_defaults(current, written[item.name])
        elif isinstance(current, tuple) and current and isinstance(written[item.name][0], dict):
            kept[item.name] = [
                _without_defaults(part, text) for part, text in zip(current, written[item.name], strict=True)
            ]
        else:
            kept[item.name] = written[item.name]
    return kept


def _blank(kind: type) -> dict[str, Any]:
    """The default of every field of `kind` that has one."""
    blank: dict[str, Any] = {}
    for item in fields(kind):
        if item.default is not MISSING:
            blank[item.name] = item.default
        elif item.default_factory is not MISSING:
            blank[item.name] = item.default_factory()
    return blank


def design_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of the design file, generated from the model."""
    schema = design_adapter().json_schema(mode="validation")
    for kind in {Design, *tables_of(Design).values()}:
        _write_defaults(schema["$defs"].get(kind.__name__, schema)["properties"], kind)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": "applique design file",
    }


def _write_defaults(table: dict[str, Any], kind: type) -> None:
    """Put the defaults of lengths into the properties of a table as the file writes them."""
    hints = get_type_hints(kind, include_extras=True)
    for name, value in _blank(kind).items():
        if isinstance(value, Fraction):
            table[name]["default"] = TypeAdapter(hints[name]).dump_python(value, mode="json")
        elif is_dataclass(value):
            table[name].pop("default", None)
