"""A small font for rows that run down: squares with a vert feature, vertical advances and origins of its own.

Its letters are made here; what a real font for Japanese has is there in small. One em is 1000.
"""

from __future__ import annotations

from pathlib import Path

from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.ttLib import newTable

# name: left, low, right, top of its square, advance across, advance down, origin above the baseline
GLYPHS = {
    ".notdef": (0, 0, 500, 700, 600, 1000, 880),
    "space": (0, 0, 0, 0, 300, 500, 880),
    "H": (80, 0, 620, 700, 700, 1000, 850),
    "a": (40, -10, 460, 500, 500, 1000, 850),
    "one": (100, 0, 300, 700, 500, 1000, 850),
    "two": (60, 0, 440, 700, 500, 1000, 850),
    "hand": (60, -60, 940, 820, 1000, 1000, 880),
    "flower": (100, -100, 900, 800, 1000, 1040, 900),
    "small": (200, -60, 800, 500, 1000, 960, 880),
    "small.vert": (300, 100, 900, 660, 1000, 960, 870),
    "stop": (80, -60, 300, 160, 1000, 1000, 880),
    "stop.vert": (700, 600, 920, 820, 1000, 1000, 880),
    "long": (80, 320, 920, 420, 1000, 1000, 880),
    "long.vert": (450, -50, 550, 790, 1000, 1000, 880),
    "bracket": (600, -60, 900, 820, 1000, 1000, 880),
}
CHARACTERS = {
    " ": "space",
    "H": "H",
    "a": "a",
    "1": "one",
    "2": "two",
    "手": "hand",
    "花": "flower",
    "っ": "small",
    "。": "stop",
    "ー": "long",
    "「": "bracket",
}
_VERT = """
languagesystem DFLT dflt;
languagesystem kana dflt;
languagesystem hani dflt;
feature vert { sub small by small.vert; sub stop by stop.vert; sub long by long.vert; } vert;
"""


VRT2 = """
languagesystem DFLT dflt;
languagesystem kana dflt;
languagesystem latn dflt;
feature vrt2 { sub small by small.vert; sub stop by stop.vert; sub long by long.vert; sub H by one; } vrt2;
"""


def build(path: Path, *, own_advances: bool = True, features: str = _VERT) -> Path:
    """The font as a file at `path`; without `own_advances` it has no tables for rows that run down."""
    builder = FontBuilder(1000, isTTF=False)
    builder.setupGlyphOrder(list(GLYPHS))
    builder.setupCharacterMap({ord(sign): name for sign, name in CHARACTERS.items()})
    drawn = {}
    for name, (left, low, right, top, across, _, _) in GLYPHS.items():
        pen = T2CharStringPen(across, None)
        if right > left:
            pen.moveTo((left, low))
            for corner in ((right, low), (right, top), (left, top)):
                pen.lineTo(corner)
            pen.closePath()
        drawn[name] = pen.getCharString()
    builder.setupCFF("Tategumi-Test", {"FullName": "Tategumi Test"}, drawn, {})
    builder.setupHorizontalMetrics({name: (one[4], one[0]) for name, one in GLYPHS.items()})
    builder.setupHorizontalHeader(ascent=880, descent=-120)
    builder.setupNameTable({"familyName": "Tategumi Test", "styleName": "Regular", "psName": "Tategumi-Test"})
    builder.setupOS2(sTypoAscender=880, sTypoDescender=-120, usWinAscent=900, usWinDescent=120)
    builder.setupPost()
    if own_advances:
        builder.setupVerticalMetrics({name: (one[5], one[6] - one[3]) for name, one in GLYPHS.items()})
        builder.setupVerticalHeader(ascent=500, descent=-500)
        origins = newTable("VORG")
        origins.majorVersion, origins.minorVersion = 1, 0
        origins.defaultVertOriginY = 880
        origins.VOriginRecords = {name: one[6] for name, one in GLYPHS.items() if one[6] != 880}
        origins.numVertOriginYMetrics = len(origins.VOriginRecords)
        builder.font["VORG"] = origins
    addOpenTypeFeaturesFromString(builder.font, features)
    builder.save(path)
    return path
