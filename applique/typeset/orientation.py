"""How a character stands in a row that runs down: upright, or turned a quarter to the right.

Source:
    Unicode Standard Annex 50, Unicode Vertical Text Layout: the property Vertical_Orientation of Unicode 14.
"""

from __future__ import annotations

from bisect import bisect_right
from enum import Enum, auto
from typing import Final

__all__ = ["Orientation", "orientation"]


class Orientation(Enum):
    """How a character stands: as in a row across (the values U and Tu of the property), by a form of its own or else
    turned (Tr), or turned a quarter to the right (R)."""

    UPRIGHT = auto()
    FORM_OR_TURNED = auto()
    TURNED = auto()


_UPRIGHT: Final = (
    "A7 A9 AE B1 BC-BE D7 F7 2EA-2EB 1100-11FF 1401-167F 18B0-18FF 2016 2020-2021 2030-2031 203B-203C "
    "2042 2047-2049 2051 2065 20DD-20E0 20E2-20E4 2100-2101 2103-2109 210F 2113-2114 2116-2117 211E-2123 "
    "2125 2127 2129 212E 2135-213F 2145-214A 214C-214D 214F-2189 218C-218F 221E 2234-2235 2300-2307 "
    "230C-231F 2324-2328 232B 237D-239A 23BE-23CD 23CF 23D1-23DB 23E2-2422 2424-24FF 25A0-2619 2620-2767 "
    "2776-2793 2B12-2B2F 2B50-2B59 2B97 2BB8-2BD1 2BD3-2BEB 2BF0-2BFF 2E50-2E51 2E80-3007 3012-3013 "
    "3020-302F 3031-309F 30A1-30FB 30FD-A4CF A960-A97F AC00-D7FF E000-FAFF FE10-FE1F FE30-FE48 FE50-FE57 "
    "FE5F-FE62 FE67-FE6F FF01-FF07 FF0A-FF0C FF0E-FF19 FF1F-FF3A FF3C FF3E FF40-FF5A FFE0-FFE2 FFE4-FFE7 "
    "FFF0-FFF8 FFFC-FFFD 10980-1099F 11580-115FF 11A00-11ABF 13000-1343F 14400-1467F 16FE0-18D7F "
    "1AFF0-1B2FF 1CF00-1CFCF 1D000-1D1FF 1D2E0-1D37F 1D800-1DAAF 1F000-1F7FF 1F900-1FAFF 20000-2FFFD "
    "30000-3FFFD F0000-FFFFD 100000-10FFFD "
)
_FORM_OR_TURNED: Final = (
    "2329-232A 3008-3011 3014-301F 3030 30A0 30FC FE59-FE5E FF08-FF09 FF1A-FF1B FF3B FF3D FF3F FF5B-FF60 "
    "FFE3 "
)
"""Ranges of code points, first and last."""


def _bounds(ranges: str) -> list[int]:
    """The first code point of each range and the one after its last, in order."""
    found: list[int] = []
    for one in ranges.split():
        first, _, last = one.partition("-")
        found += [int(first, 16), int(last or first, 16) + 1]
    return found


_BOUNDS: Final = {
    Orientation.UPRIGHT: _bounds(_UPRIGHT),
    Orientation.FORM_OR_TURNED: _bounds(_FORM_OR_TURNED),
}


def orientation(character: str) -> Orientation:
    """How `character` stands in a row that runs down."""
    for value, bounds in _BOUNDS.items():
        if bisect_right(bounds, ord(character)) % 2:
            return value
    return Orientation.TURNED
