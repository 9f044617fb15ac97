"""How narrow the strokes of a font are in given words, to choose a font by."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from applique.typeset.fonts import GlyphSpot, Typeface
from applique.typeset.shaping import shape_text

__all__ = ["narrowest_stroke"]

_LOST: Final = 0.03
"""Share of a letter that may lie in thinner parts, such as the tip of a curve: our choice."""
_WIDEST: Final = 0.5
_HALVINGS: Final = 7
_FINE: Final = 1 / 400
_MITRE_LIMIT: Final = 5.0


def narrowest_stroke(typeface: Typeface, text: str) -> float:
    """The narrowest stroke of the letters of `text`, as a share of the cap height, to within half a hundredth.

    A stroke is as wide as the widest pen that can paint all but a few hundredths of the letter from inside.
    The typeface can spell `text`.
    """
    glyphs = {letter.glyphs for letter in shape_text(text, typeface) if letter.number}
    return min(_stroke(typeface, one) for one in glyphs)


@lru_cache(maxsize=4096)
def _stroke(typeface: Typeface, glyphs: tuple[GlyphSpot, ...]) -> float:
    cap = typeface.cap_height_fu
    shape = typeface.shape(glyphs, chord_error_fu=cap * _FINE)
    low, high = 0.0, _WIDEST
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        radius = middle * cap / 2
        eroded = shape.buffer(-radius, quad_segs=2, join_style="mitre", mitre_limit=_MITRE_LIMIT)
        opened = eroded.buffer(radius, quad_segs=2, join_style="mitre", mitre_limit=_MITRE_LIMIT)
        if shape.difference(opened).area <= _LOST * shape.area:
            low = middle
        else:
            high = middle
    return low
