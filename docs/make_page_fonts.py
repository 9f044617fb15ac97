"""Make the small fonts that the page loads first, and the rules that choose them. Run `python docs/make_page_fonts.py`.

The page is set in two bundled fonts. Nearly all of its words need a few hundred characters of them in a few weights, a
tenth of the bytes. Other characters have the browser fetch the whole font, by the ranges that are written here.
"""

from __future__ import annotations

import io
import itertools
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

from applique.typeset.bundled import bundled_folder
from applique.web.lettering import LETTERING, Face

WEB = Path(__file__).parents[1] / "applique" / "web"
RULES = WEB / "static" / "lettering.css"
FIRST = frozenset(
    itertools.chain(
        range(0x20, 0x7F),
        range(0xA0, 0x180),  # letters of Western and Central Europe
        range(0x2010, 0x2027),  # dashes, quotation marks, dots
        (0x2032, 0x2033, 0x2044, 0x20AC, 0x2122, 0x2212),
        range(0x2150, 0x215F),  # fractions of an inch
        range(0x2190, 0x2194),
    )
)
"""The characters of the small fonts: those of the page's own words, and what people write with the same letters."""
FEATURES = ("ccmp", "kern", "liga", "locl", "mark", "mkmk", "rvrn", "tnum")
"""Features of OpenType that the page's style uses, or that browsers use by themselves."""


def main() -> None:
    """Write the small fonts and the rules."""
    for name, data in small_fonts().items():
        (WEB / "lettering" / name).write_bytes(data)
    RULES.write_text(rules(), "utf-8")


def small_fonts() -> dict[str, bytes]:
    """The small font of each face, by the name of its file."""
    return {f"{face.name}.woff2": _small(face) for face in LETTERING}


def rules() -> str:
    """The rules of style that have a browser fetch the small font, the whole one, both or none."""
    said = [f"/* Made by `python docs/{Path(__file__).name}`. */"]
    for face in LETTERING:
        has = frozenset(TTFont(bundled_folder() / face.whole).getBestCmap())
        said += [
            _rule(face, f"{face.name}.ttf", has - FIRST),
            _rule(face, f"{face.name}.woff2", has & FIRST),
        ]
    return "\n".join(said) + "\n"


def _rule(face: Face, file: str, characters: frozenset[int]) -> str:
    lightest, heaviest = face.weights
    return (
        f'@font-face {{ font-family: "{face.family}"; src: url("../lettering/{file}"); '
        f"font-weight: {lightest} {heaviest}; font-display: block; unicode-range: {_ranges(characters)}; }}"
    )


def _ranges(characters: frozenset[int]) -> str:
    """CSS Fonts Level 4, `unicode-range`."""
    runs: list[list[int]] = []
    for character in sorted(characters):
        if runs and runs[-1][1] == character - 1:
            runs[-1][1] = character
        else:
            runs.append([character, character])
    return ", ".join(f"U+{first:X}" + (f"-{last:X}" if last > first else "") for first, last in runs)


def _small(face: Face) -> bytes:
    font = TTFont(bundled_folder() / face.whole, recalcTimestamp=False)
    options = subset.Options(layout_features=list(FEATURES), hinting=False, name_IDs=[0, 1, 2, 13, 14])
    subsetter = subset.Subsetter(options)
    subsetter.populate(unicodes=FIRST)
    subsetter.subset(font)
    between = io.BytesIO()
    font.save(between)
    font = TTFont(between, recalcTimestamp=False)
    if face.limits:
        instantiateVariableFont(font, dict(face.limits), inplace=True)
    font.flavor = "woff2"
    data = io.BytesIO()
    font.save(data)
    return data.getvalue()


if __name__ == "__main__":
    main()
