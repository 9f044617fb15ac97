"""The fonts that come with the program, each at the axis setting that cuts and sews best."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

__all__ = ["BUNDLED", "BundledFont", "bundled_folder"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BundledFont:
    """A font that comes with the tool, at the axis setting that cuts and sews best."""

    name: str
    style: str
    file: str
    axes: Mapping[str, float] = field(default_factory=dict)


BUNDLED: Final[tuple[BundledFont, ...]] = (
    BundledFont(
        name="Montserrat", style="geometric", file="montserrat/Montserrat[wght].ttf", axes={"wght": 800}
    ),
    BundledFont(
        name="Fredoka",
        style="rounded",
        file="fredoka/Fredoka[wdth,wght].ttf",
        axes={"wght": 650, "wdth": 100},
    ),
    BundledFont(name="Baloo 2", style="soft and chunky", file="baloo_2/Baloo2[wght].ttf", axes={"wght": 800}),
    BundledFont(name="Rubik", style="soft corners", file="rubik/Rubik[wght].ttf", axes={"wght": 800}),
    BundledFont(
        name="Geologica",
        style="sans",
        file="geologica/Geologica[CRSV,SHRP,slnt,wght].ttf",
        axes={"wght": 800},
    ),
    BundledFont(name="Bitter", style="slab serif", file="bitter/Bitter[wght].ttf", axes={"wght": 850}),
    BundledFont(name="Alfa Slab One", style="heavy slab", file="alfa_slab_one/AlfaSlabOne-Regular.ttf"),
    BundledFont(
        name="Barlow Condensed ExtraBold",
        style="condensed sans",
        file="barlow_condensed/BarlowCondensed-ExtraBold.ttf",
    ),
    BundledFont(name="Lilita One", style="chunky display", file="lilita_one/LilitaOne-Regular.ttf"),
    BundledFont(name="Titan One", style="fattest display", file="titan_one/TitanOne-Regular.ttf"),
    BundledFont(
        name="Shantell Sans ExtraBold",
        style="handwritten",
        file="shantell_sans/ShantellSans_800ExtraBold.ttf",
    ),
    BundledFont(name="Pacifico", style="connected script", file="pacifico/Pacifico-Regular.ttf"),
    BundledFont(
        name="Fraunces",
        style="classic serif",
        file="fraunces/Fraunces[SOFT,WONK,opsz,wght].ttf",
        axes={"wght": 900, "SOFT": 100, "opsz": 9, "WONK": 0},
    ),
    BundledFont(name="Cairo", style="humanist sans", file="cairo/Cairo[slnt,wght].ttf", axes={"wght": 900}),
)


def bundled_folder() -> Path:
    """The folder of the bundled fonts: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "fonts"
    return installed if installed.is_dir() else package.parent / "fonts"
