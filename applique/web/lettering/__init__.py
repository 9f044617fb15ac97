"""The fonts that the page itself is set in: small ones made from bundled fonts, and those as they are."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from applique.typeset.bundled import bundled_folder

__all__ = ["LETTERING", "Face", "lettering_files"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A face of the page: the name of its files, its family in the style, and the bundled font it is made from.

    `weights` are those that the style may ask for; `limits` are what the small font keeps of the axes of the whole one.
    """

    name: str
    family: str
    whole: str
    weights: tuple[int, int]
    limits: tuple[tuple[str, float | tuple[float, float]], ...] = field(default=())


LETTERING: Final = (
    Face(
        name="display",
        family="Page display",
        whole="fraunces/Fraunces[SOFT,WONK,opsz,wght].ttf",
        weights=(560, 560),
        limits=(("wght", 560), ("SOFT", 100), ("WONK", 0), ("opsz", (40, 60))),
    ),
    Face(
        name="text",
        family="Page text",
        whole="rubik/Rubik[wght].ttf",
        weights=(400, 700),
        limits=(("wght", (400, 700)),),
    ),
)


def lettering_files() -> dict[str, Path]:
    """The files of every face by name: `.woff2` is the small font, `.ttf` the whole one."""
    small = {f"{face.name}.woff2": Path(__file__).with_name(f"{face.name}.woff2") for face in LETTERING}
    return {**small, **{f"{face.name}.ttf": bundled_folder() / face.whole for face in LETTERING}}
