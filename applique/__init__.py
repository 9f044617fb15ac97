"""Quilts of words: letters at true size, templates, placement guide, cut files and yardage.

`read_design` reads a design file, `draft` works out the pattern, `write_pack` writes the folder.
"""

from __future__ import annotations

TYPE_CHECKING = False  # so spelled, since `typing` takes a while to load; see `__main__`

if TYPE_CHECKING:
    from typing import Any

    from applique.design import Design, design_from_mapping, read_design
    from applique.errors import Notice, Problem, Refusal
    from applique.pack import write_pack
    from applique.pattern import Pattern, Placed, Sketch, draft, place, renest, sketch

__all__ = [
    "Design",
    "Notice",
    "Pattern",
    "Placed",
    "Problem",
    "Refusal",
    "Sketch",
    "design_from_mapping",
    "draft",
    "place",
    "read_design",
    "renest",
    "sketch",
    "write_pack",
]

_HOMES = {
    "Design": "design",
    "design_from_mapping": "design",
    "read_design": "design",
    "Notice": "errors",
    "Problem": "errors",
    "Refusal": "errors",
    "Pattern": "pattern",
    "Placed": "pattern",
    "Sketch": "pattern",
    "draft": "pattern",
    "place": "pattern",
    "renest": "pattern",
    "sketch": "pattern",
    "write_pack": "pack",
}


def __getattr__(name: str) -> Any:
    """Load a public name from its room when it is first asked for, so that `applique --help` stays quick."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"applique.{_HOMES[name]}"), name)
