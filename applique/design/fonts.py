"""The files that a design names, its fonts, photos of fabrics and a mark: which, under other names, and as paths from a
folder."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Final

from applique.design.model import Design, Row
from applique.errors import Problem, Refusal
from applique.language import message
from applique.photos import is_plain_name

__all__ = [
    "as_path",
    "fonts_named",
    "from_folder",
    "is_path",
    "path_from",
    "with_fonts",
    "with_mark",
    "with_photos",
]

_PATH: Final = re.compile(r"[/\\]|\.(ttf|otf|ttc|woff2?)$", re.IGNORECASE)


def is_path(font: str) -> bool:
    """Whether `font` is written as the path of a file, and so is no name of a bundled font."""
    return _PATH.search(font) is not None


def as_path(name: str) -> str:
    """The file name `name`, written so that `is_path` holds for it."""
    return name if is_path(name) else f"./{name}"


def fonts_named(design: Design) -> tuple[str, ...]:
    """Every font that `design` names, each once: that of all rows, then those of single ones."""
    named = (design.lettering.font, *(row.font for row in design.rows if row.font is not None))
    return tuple(dict.fromkeys(named))


def with_fonts(design: Design, name: Callable[[str], str]) -> Design:
    """`design` with every font named as `name` says."""

    def named(rows: tuple[Row, ...]) -> tuple[Row, ...]:
        return tuple(replace(row, font=None if row.font is None else name(row.font)) for row in rows)

    return replace(
        design,
        lettering=replace(design.lettering, font=name(design.lettering.font)),
        row=named(design.row),
        block=tuple(replace(block, row=named(block.row)) for block in design.block),
    )


def from_folder(font: str, base: Path) -> str:
    """`font`, if it is a path, as one that starts from the folder `base` and is written with `/`.

    Links are followed in both, since `..` leads up from where a folder really is. A font on another disk of Windows
    has no such path and stays as it is.
    """
    return as_path(path_from(font, base)) if is_path(font) else font


def path_from(file: str, base: Path) -> str:
    """The path `file` as one that starts from the folder `base`, as `from_folder` has it."""
    place = Path(file).parent.resolve() / Path(file).name
    try:
        return Path(os.path.relpath(place, base.resolve())).as_posix()
    except ValueError:
        return file


def beside(photo: str, base: Path) -> str:
    """The name of the file `photo` in the folder `base`.

    Raises:
        Refusal: it lies in another folder, of which a design may not name photos.
    """
    name = path_from(photo, base)
    if not is_plain_name(name):
        raise Refusal(
            Problem(
                kind="photo-in-other-folder",
                what=message(
                    "{name}, the photo of a fabric, is not in the folder to write to", name=Path(photo).name
                ),
                fix=message("a design file beside the photo"),
            )
        )
    return name


def with_mark(design: Design, name: Callable[[str], str]) -> Design:
    """`design` with the picture of its publisher's mark named as `name` says, if it has one."""
    if not design.publisher.mark_file:
        return design
    publisher = replace(design.publisher, mark_file=name(design.publisher.mark_file))
    return replace(design, publisher=publisher)


def with_photos(design: Design, name: Callable[[str], str]) -> Design:
    """`design` with every photo of a fabric named as `name` says."""
    if not any(fabric.photo for fabric in design.fabric):
        return design
    fabrics = (
        replace(fabric, photo=name(fabric.photo)) if fabric.photo else fabric for fabric in design.fabric
    )
    return replace(design, fabric=tuple(fabrics))
