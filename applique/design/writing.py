"""Writing a design: as plain data, as TOML, and the JSON Schema that describes both."""

from __future__ import annotations

from dataclasses import MISSING, fields, is_dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import tomli_w
from pydantic import TypeAdapter

from applique.design.fonts import from_folder, with_fonts
from applique.design.model import Border, BorderKind, Design, Fabric, FussyCut, Nudge, Row
from applique.design.placeholders import doubled
from applique.design.sewn import Quilting, QuiltingKind
from applique.design.stated import Part, Stated

__all__ = ["design_adapter", "design_data", "design_schema", "design_text"]


@cache
def design_adapter() -> TypeAdapter[Design]:
    """Pydantic's validator, serializer and schema of a `Design`, made once."""
    return TypeAdapter(Design)


def design_data(design: Design, *, base: Path | None = None) -> dict[str, Any]:
    """`design` as plain data in the shape of the file; what stands at its default is left out.

    With `base`, the folder that the file is for, font files are written as paths that start from there.
    """
    if base is not None:
        design = with_fonts(design, lambda font: from_folder(font, base))
    return _without_defaults(design, design_adapter().dump_python(design, mode="json"))


def design_text(design: Design, *, base: Path | None = None) -> str:
    """`design` as a TOML file that reads back to an equal design; what stands at its default is left out.

    With `base`, the folder that the file is for, font files are written as paths that start from there. Braces are
    doubled in it, since single ones stand for columns of a list.
    """
    return tomli_w.dumps(doubled(design_data(design, base=base)), multiline_strings=False)


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
    sample = Design(
        row=(
            Row(
                text="A",
                nudge=(Nudge(letter=1),),
                fussy=(FussyCut(letter=1, along=Fraction(0), across=Fraction(0)),),
            ),
        ),
        fabric=(Fabric(name="A", color="#000000"),),
        border=(Border(kind=BorderKind.STRIP, fabrics=("A",)),),
        quilting=(Quilting(kind=QuiltingKind.ECHO),),
        stated=(Stated(part=Part.BINDING),),
    )
    _write_defaults(schema, sample, design_adapter().dump_python(sample, mode="json"))
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": "applique design file",
    }


def _write_defaults(schema: dict[str, Any], value: Any, written: dict[str, Any]) -> None:
    """Put the defaults of lengths into `schema` as the file writes them, from a design that leaves them out."""
    table = schema["$defs"].get(type(value).__name__, schema)["properties"]
    for item in fields(value):
        current, text = getattr(value, item.name), written[item.name]
        if isinstance(current, Fraction):
            table[item.name]["default"] = text
        elif is_dataclass(current):
            table[item.name].pop("default", None)
            _write_defaults(schema, current, text)
        elif isinstance(current, tuple) and current and isinstance(text[0], dict):
            _write_defaults(schema, current[0], text[0])
