"""The fonts that a design names: which, under other names, and as paths from a folder."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Final

from applique.design.model import Design

__all__ = ["as_path", "fonts_named", "from_folder", "is_path", "with_fonts"]

_PATH: Final = re.compile(r"[/\\]|\.(ttf|otf|ttc|woff2?)$", re.IGNORECASE)


def is_path(font: str) -> bool:
    """Whether `font` is written as the path of a file, and so is no name of a bundled font."""
    return _PATH.search(font) is not None


def as_path(name: str) -> str:
    """The file name `name`, written so that `is_path` holds for it."""
    return name if is_path(name) else f"./{name}"


def fonts_named(design: Design) -> tuple[str, ...]:
    """Every font that `design` names, each once: that of all rows, then those of single ones."""
    named = (design.lettering.font, *(row.font for row in design.row if row.font is not None))
    return tuple(dict.fromkeys(named))


def with_fonts(design: Design, name: Callable[[str], str]) -> Design:
    """`design` with every font named as `name` says."""
    return replace(
        design,
        lettering=replace(design.lettering, font=name(design.lettering.font)),
        row=tuple(replace(row, font=None if row.font is None else name(row.font)) for row in design.row),
    )


def from_folder(font: str, base: Path) -> str:
    """`font`, if it is a path, as one that starts from the folder `base` and is written with `/`.

    Links are followed in both, since `..` leads up from where a folder really is. A font on another disk of Windows
    has no such path and stays as it is.
    """
    if not is_path(font):
        return font
    place = Path(font).parent.resolve() / Path(font).name
    try:
        return as_path(Path(os.path.relpath(place, base.resolve())).as_posix())
    except ValueError:
        return font
