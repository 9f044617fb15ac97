"""The samples that a new quilt can begin with."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, Final

from applique.design import Design, design_data, design_from_mapping, read_design
from applique.pattern import sketch
from applique.preview import quilt_svg

__all__ = ["drawn_small", "sample_design", "sample_names", "sample_picture"]

_OFFERED: Final = ("first-quilt", "boathouse", "kitchen", "lantern")
"""One word, a wall quilt with borders, three alphabets, a joined script; none needs a file of its own."""


def sample_names() -> tuple[str, ...]:
    """What the samples are called, in the order they are offered."""
    return _OFFERED


@cache
def sample_design(name: str) -> dict[str, Any] | None:
    """The design of a sample as plain data; None where none is called so."""
    return design_data(read_design(_folder() / f"{name}.toml")) if name in _OFFERED else None


@cache
def sample_picture(name: str) -> bytes | None:
    """A small picture of a sample (SVG); None where none is called so."""
    design = sample_design(name)
    return None if design is None else drawn_small(design_from_mapping(design))


def drawn_small(design: Design) -> bytes:
    """A small picture (SVG) of a design.

    Raises:
        Refusal: it cannot be drawn.
    """
    return quilt_svg(sketch(design).picture)


def _folder() -> Path:
    """The samples: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "samples"
    return installed if installed.is_dir() else package.parent / "samples"
