"""Small fonts of rectangles, built for what a test is about."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib.tables._g_l_y_f import Glyph
from fontTools.ttLib.tables.DefaultTable import DefaultTable

FontMaker = Callable[..., str]
BOX = ((50, 0), (50, 700), (450, 700), (450, 0))
ADVANCE = 500


def drawn(*contours: tuple[tuple[int, int], ...]) -> Glyph:
    """A glyph of straight contours."""
    pen = TTGlyphPen(None)
    for contour in contours:
        for index, point in enumerate(contour):
            (pen.lineTo if index else pen.moveTo)(point)
        pen.closePath()
    return pen.glyph()


@pytest.fixture
def font_of(tmp_path: Path) -> FontMaker:
    """The path of a font that has just these characters, 1,000 units to the em, each 500 wide.

    `.notdef` is the usual box. `glyphs` are straight contours, or glyphs, by character or glyph name; `features` is
    OpenType feature code, in which the glyph of a character is called uniXXXX. `pictures` is the name of a table that
    keeps letters as pictures; where it is given, there are no outlines unless `glyphs` has some.
    """

    def make(
        characters: str, glyphs: Mapping[str, Any] | None = None, features: str = "", pictures: str = ""
    ) -> str:
        given = {_name(key): value for key, value in (glyphs or {}).items()}
        shapes = {_name(character): (_bar(index),) for index, character in enumerate(characters)} | given
        names = [".notdef", *shapes]
        builder = FontBuilder(1000, isTTF=True)
        builder.setupGlyphOrder(names)
        mapped = dict.fromkeys([*characters, *(key for key in (glyphs or {}) if len(key) == 1)])
        builder.setupCharacterMap({ord(character): _name(character) for character in mapped})
        builder.setupGlyf({".notdef": drawn(BOX), **{name: _glyph(parts) for name, parts in shapes.items()}})
        builder.setupHorizontalMetrics(dict.fromkeys(names, (ADVANCE, 0)))
        builder.setupHorizontalHeader(ascent=800, descent=-200)
        builder.setupNameTable({"familyName": "Trial", "styleName": "Regular"})
        builder.setupOS2()
        builder.setupPost()
        if features:
            builder.addOpenTypeFeatures(features)
        if pictures:
            builder.font[pictures] = DefaultTable(pictures)
            builder.font[pictures].data = bytes(8)
            if not glyphs:
                del builder.font["glyf"], builder.font["loca"]
        path = tmp_path / "trial.ttf"
        builder.save(path)
        return str(path)

    return make


def _glyph(parts: Any) -> Glyph:
    return parts if isinstance(parts, Glyph) else drawn(*parts)


def _name(key: str) -> str:
    return f"uni{ord(key):04X}" if len(key) == 1 else key


def _bar(index: int) -> tuple[tuple[int, int], ...]:
    """A bar 700 high, each character's of its own width."""
    right = 150 + 2 * index
    return ((50, 0), (50, 700), (right, 700), (right, 0))
