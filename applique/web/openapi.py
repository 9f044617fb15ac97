"""What the server answers, described as OpenAPI 3.1; the design comes from the model of the file itself."""

from __future__ import annotations

from functools import cache
from importlib.metadata import version
from typing import Any, Final

from applique.design import design_schema
from applique.web.guard import TOKEN_HEADER

__all__ = ["openapi"]

_DESIGN: Final = {"$ref": "#/components/schemas/Design"}
_TEXT: Final = {"type": "string"}
_NUMBER: Final = {"type": ["integer", "null"]}
_COLUMN: Final = {"type": ["integer", "null"], "minimum": 0}
_NAMES: Final = {
    "type": "object",
    "properties": {
        "design": _DESIGN,
        "text": _TEXT,
        "header": {"type": ["boolean", "null"]},
        "fills": {
            "type": "object",
            "properties": {
                "rows": {"type": "object", "additionalProperties": _COLUMN},
                "title": _COLUMN,
            },
        },
        "edition": {"enum": ["maker", "customers"]},
    },
    "required": ["design", "text"],
}
_CALLS: Final[tuple[tuple[str, str, str, dict[str, Any] | None, str], ...]] = (
    ("/api/hello", "post", "A page opens: its key, and the design to begin with", None, "application/json"),
    ("/api/goodbye", "post", "A page closes", None, ""),
    ("/api/there", "get", "Whether the program is there", None, ""),
    ("/api/plan", "post", "The drawing of a design, and what stands in its way", _DESIGN, "application/json"),
    ("/api/numbers", "post", "What to buy and to print: quick, then searched", _DESIGN, "text/event-stream"),
    (
        "/api/make",
        "post",
        "The whole pattern, step by step; hang up to stop it",
        _DESIGN,
        "text/event-stream",
    ),
    (
        "/api/make-for-customers",
        "post",
        "The customer's edition, step by step; hang up to stop it",
        _DESIGN,
        "text/event-stream",
    ),
    (
        "/api/move",
        "post",
        "A row, or one letter of it, moved by hand or put back",
        {
            "type": "object",
            "properties": {
                "design": _DESIGN,
                "row": {"type": "integer", "minimum": 1},
                "letter": _NUMBER,
                "right": _TEXT,
                "up": _TEXT,
                "back": {"type": "boolean"},
            },
            "required": ["design", "row"],
        },
        "application/json",
    ),
    (
        "/api/follow",
        "post",
        "The moves by hand of a row at another height of its letters",
        {
            "type": "object",
            "properties": {
                "design": _DESIGN,
                "row": {"type": "integer", "minimum": 1},
                "before": _TEXT,
                "now": _TEXT,
            },
            "required": ["design", "row", "before", "now"],
        },
        "application/json",
    ),
    (
        "/api/borders",
        "post",
        "The borders that a design can have next, each with its picture; `spare` are fabrics that may be added",
        {
            "type": "object",
            "properties": {"design": _DESIGN, "spare": {"type": "array", "items": {"type": "object"}}},
            "required": ["design"],
        },
        "application/json",
    ),
    (
        "/api/names",
        "post",
        "How a list of names is read: its columns and first rows, what is wrong by line, which column may fill what",
        _NAMES,
        "application/json",
    ),
    (
        "/api/names/make",
        "post",
        "A pattern for each name of a list, one by one; hang up to stop it",
        _NAMES,
        "text/event-stream",
    ),
    (
        "/api/names/{made}/folder",
        "get",
        "All that was made of a list of names, as a zip",
        None,
        "application/zip",
    ),
    (
        "/api/read",
        "post",
        "The design that a TOML text holds",
        {
            "type": "object",
            "properties": {"text": _TEXT, "photos": {"type": "object", "additionalProperties": _TEXT}},
            "required": ["text"],
        },
        "application/json",
    ),
    ("/api/write", "post", "A design as the text of its file", _DESIGN, "application/json"),
    ("/api/fonts", "get", "The fonts that this page may use", None, "application/json"),
    (
        "/api/fonts",
        "post",
        "Add a font file; its name is the query `name`",
        {"type": "string"},
        "application/json",
    ),
    (
        "/api/marks",
        "post",
        "Add the picture of a publisher's mark; its name is the query `name`",
        {"type": "string"},
        "application/json",
    ),
    (
        "/api/photos",
        "post",
        "Add the photo of a fabric; its name is the query `name`",
        {"type": "string"},
        "application/json",
    ),
    ("/api/photos/{name}", "get", "The photo of a fabric, made ready", None, "image/jpeg"),
    ("/api/save", "post", "A design with its photos, fonts and mark as a zip", _DESIGN, "application/zip"),
    (
        "/api/open",
        "post",
        "The design of a zip that `save` gave; its photos, fonts and mark are added to the page",
        {"type": "string"},
        "application/json",
    ),
    (
        "/api/sample",
        "post",
        "Words set in one font, as path data",
        {
            "type": "object",
            "properties": {"font": _TEXT, "words": _TEXT, "axes": {"type": "object"}, "cap_height": _TEXT},
            "required": ["font", "words"],
        },
        "application/json",
    ),
    ("/api/quilts", "get", "The quilts kept on this machine, the newest first", None, "application/json"),
    ("/api/quilts/{quilt}", "get", "A kept quilt, with its undo and redo", None, "application/json"),
    (
        "/api/quilts/{quilt}",
        "put",
        "Keep a quilt; `rests_on` is the revision that it was made from, 0 for a new one; "
        "the query `aside` says that the page shows another",
        {
            "type": "object",
            "properties": {
                "rests_on": {"type": "integer", "minimum": 0},
                "design": {"type": "object", "properties": {"row": {"type": "array"}}, "required": ["row"]},
                "done": {"type": "array", "items": _TEXT},
                "undone": {"type": "array", "items": _TEXT},
                "by": {"type": "string", "maxLength": 64},
            },
            "required": ["rests_on", "design"],
        },
        "application/json",
    ),
    ("/api/quilts/{quilt}", "delete", "Put a quilt into the trash of the chest", None, "application/json"),
    ("/api/quilts/{quilt}/picture", "get", "A small picture of a kept quilt", None, "image/svg+xml"),
    (
        "/api/quilts/{quilt}/files/{name}",
        "get",
        "A font, mark or photo that is kept beside a quilt",
        None,
        "application/octet-stream",
    ),
    (
        "/api/quilts/{quilt}/files/{name}",
        "put",
        "Keep a font, mark or photo beside a quilt",
        {"type": "string"},
        "application/json",
    ),
    ("/api/removed", "get", "The removed quilts, the last changed first", None, "application/json"),
    ("/api/removed/{quilt}/picture", "get", "A small picture of a removed quilt", None, "image/svg+xml"),
    ("/api/removed/{quilt}/back", "post", "Bring a removed quilt back: its key", None, "application/json"),
    ("/api/samples", "get", "The samples that a new quilt can begin with", None, "application/json"),
    ("/api/samples/{sample}", "get", "The design of a sample", None, "application/json"),
    ("/api/samples/{sample}/picture", "get", "A small picture of a sample", None, "image/svg+xml"),
    ("/api/made/{made}/folder", "get", "A finished folder as a zip", None, "application/zip"),
    ("/api/made/{made}/file/{name}", "get", "One file of it", None, "application/octet-stream"),
    ("/api/made/{made}/page/{page}/{name}", "get", "One page of one of its PDFs", None, "image/png"),
)


@cache
def openapi() -> dict[str, Any]:
    """The description of every address, with the JSON Schema of the design as the file has it."""
    schema = design_schema()
    named = {name: _pointing(table) for name, table in {**schema.pop("$defs"), "Design": schema}.items()}
    paths: dict[str, dict[str, Any]] = {}
    for address, method, summary, body, answer in _CALLS:
        call: dict[str, Any] = {"summary": summary, "responses": _responses(answer)}
        names = [part.strip("{}") for part in address.split("/") if part.startswith("{")]
        if names:
            call["parameters"] = [
                {"name": name, "in": "path", "required": True, "schema": _TEXT} for name in names
            ]
        if body is not None:
            kind = "application/octet-stream" if body == {"type": "string"} else "application/json"
            call["requestBody"] = {"required": True, "content": {kind: {"schema": body}}}
        paths.setdefault(address, {})[method] = call
    return {
        "openapi": "3.1.0",
        "info": {"title": "applique serve", "version": version("applique")},
        "paths": paths,
        "components": {
            "schemas": named,
            "securitySchemes": {"key": {"type": "apiKey", "in": "header", "name": TOKEN_HEADER}},
        },
        "security": [{"key": []}],
    }


def _responses(answer: str) -> dict[str, Any]:
    made = (
        {"200": {"description": "done", "content": {answer: {}}}}
        if answer
        else {"204": {"description": "done"}}
    )
    return {
        **made,
        "403": {"description": "not the page's own request"},
        "412": {"description": "a kept quilt was changed elsewhere since the revision that this rests on"},
        "413": {"description": "too large"},
        "422": {
            "description": "refused: a list of problems, each with kind, what, where (keys, letter, file) and fix"
        },
    }


def _pointing(value: Any) -> Any:
    """`value` with references into the schema of the file made references into this document."""
    if isinstance(value, dict):
        return {
            key: part.replace("#/$defs/", "#/components/schemas/") if key == "$ref" else _pointing(part)
            for key, part in value.items()
            if key != "$schema"
        }
    return [_pointing(part) for part in value] if isinstance(value, list) else value
