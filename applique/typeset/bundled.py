"""The fonts that come with the program, each at the axis setting that cuts and sews best."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import Final

from applique.language import Message, message

__all__ = ["BUNDLED", "BundledFont", "FontStyle", "bundled_folder"]


class FontStyle(StrEnum):
    """What a bundled font looks like."""

    GEOMETRIC = "geometric"
    SANS = "sans"
    CONDENSED_SANS = "condensed sans"
    HUMANIST_SANS = "humanist sans"
    ROUNDED = "rounded"
    SOFT_AND_CHUNKY = "soft and chunky"
    SOFT_CORNERS = "soft corners"
    SLAB_SERIF = "slab serif"
    CLASSIC_SERIF = "classic serif"
    HEAVY_SLAB = "heavy slab"
    CHUNKY_DISPLAY = "chunky display"
    EXTRA_BOLD_DISPLAY = "extra-bold display"
    HANDWRITTEN = "handwritten"
    CONNECTED_SCRIPT = "connected script"

    @property
    def words(self) -> Message:
        """The style as a maker reads it."""
        return _STYLES[self]


_STYLES: Final = {
    FontStyle.GEOMETRIC: message("geometric"),
    FontStyle.SANS: message("sans"),
    FontStyle.CONDENSED_SANS: message("condensed sans"),
    FontStyle.HUMANIST_SANS: message("humanist sans"),
    FontStyle.ROUNDED: message("rounded"),
    FontStyle.SOFT_AND_CHUNKY: message("soft and chunky"),
    FontStyle.SOFT_CORNERS: message("soft corners"),
    FontStyle.SLAB_SERIF: message("slab serif"),
    FontStyle.CLASSIC_SERIF: message("classic serif"),
    FontStyle.HEAVY_SLAB: message("heavy slab"),
    FontStyle.CHUNKY_DISPLAY: message("chunky display"),
    FontStyle.EXTRA_BOLD_DISPLAY: message("extra-bold display"),
    FontStyle.HANDWRITTEN: message("handwritten"),
    FontStyle.CONNECTED_SCRIPT: message("connected script"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BundledFont:
    """A font that comes with the tool, at the axis setting that cuts and sews best."""

    name: str
    style: FontStyle
    file: str
    axes: Mapping[str, float] = field(default_factory=dict)


BUNDLED: Final[tuple[BundledFont, ...]] = (
    BundledFont(
        name="Montserrat",
        style=FontStyle.GEOMETRIC,
        file="montserrat/Montserrat[wght].ttf",
        axes={"wght": 800},
    ),
    BundledFont(
        name="Fredoka",
        style=FontStyle.ROUNDED,
        file="fredoka/Fredoka[wdth,wght].ttf",
        axes={"wght": 650, "wdth": 100},
    ),
    BundledFont(
        name="Baloo 2", style=FontStyle.SOFT_AND_CHUNKY, file="baloo_2/Baloo2[wght].ttf", axes={"wght": 800}
    ),
    BundledFont(name="Rubik", style=FontStyle.SOFT_CORNERS, file="rubik/Rubik[wght].ttf", axes={"wght": 800}),
    BundledFont(
        name="Geologica",
        style=FontStyle.SANS,
        file="geologica/Geologica[CRSV,SHRP,slnt,wght].ttf",
        axes={"wght": 800},
    ),
    BundledFont(
        name="Bitter", style=FontStyle.SLAB_SERIF, file="bitter/Bitter[wght].ttf", axes={"wght": 850}
    ),
    BundledFont(
        name="Alfa Slab One", style=FontStyle.HEAVY_SLAB, file="alfa_slab_one/AlfaSlabOne-Regular.ttf"
    ),
    BundledFont(
        name="Barlow Condensed ExtraBold",
        style=FontStyle.CONDENSED_SANS,
        file="barlow_condensed/BarlowCondensed-ExtraBold.ttf",
    ),
    BundledFont(name="Lilita One", style=FontStyle.CHUNKY_DISPLAY, file="lilita_one/LilitaOne-Regular.ttf"),
    BundledFont(name="Titan One", style=FontStyle.EXTRA_BOLD_DISPLAY, file="titan_one/TitanOne-Regular.ttf"),
    BundledFont(
        name="Shantell Sans ExtraBold",
        style=FontStyle.HANDWRITTEN,
        file="shantell_sans/ShantellSans_800ExtraBold.ttf",
    ),
    BundledFont(name="Pacifico", style=FontStyle.CONNECTED_SCRIPT, file="pacifico/Pacifico-Regular.ttf"),
    BundledFont(
        name="Fraunces",
        style=FontStyle.CLASSIC_SERIF,
        file="fraunces/Fraunces[SOFT,WONK,opsz,wght].ttf",
        axes={"wght": 900, "SOFT": 100, "opsz": 9, "WONK": 0},
    ),
    BundledFont(
        name="Cairo", style=FontStyle.HUMANIST_SANS, file="cairo/Cairo[slnt,wght].ttf", axes={"wght": 900}
    ),
)


def bundled_folder() -> Path:
    """The folder of the bundled fonts: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "fonts"
    return installed if installed.is_dir() else package.parent / "fonts"
