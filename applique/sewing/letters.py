"""Letters measured: the smallest features of each, once for a font and then scaled.

Lengths are inches at the cap height that is asked for; places are about the letter's own origin.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from typing import Final

from shapely import affinity

from applique.geometry.points import Point
from applique.geometry.polygons import Shape
from applique.panel import PlacedCut
from applique.sewing.features import Corner, Feature, Features, features_of
from applique.typeset.shaping import shape_text
from applique.typeset.typeface import GlyphSpot, Typeface

__all__ = ["forget_features", "letter_features", "word_features"]

_FINE: Final = 4000
"""A letter of a font sample is flattened to within this part of its cap height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """A letter as its font draws it: equal for equal letters, whatever their size."""

    drawn: tuple[str, tuple[GlyphSpot, ...]]
    shape: Shape = field(compare=False)
    cap_height: float = field(compare=False)


@lru_cache(maxsize=8192)
def _at_unit_height(letter: _Drawn) -> Features:
    """The features of a letter at a cap height of 1."""
    scale = 1 / letter.cap_height
    return features_of(affinity.scale(letter.shape, scale, scale, origin=(0.0, 0.0)), cap_height=1.0)


def forget_features() -> None:
    """Measure every letter anew from now on, as a fresh process does; for timing."""
    _at_unit_height.cache_clear()


def letter_features(cut: PlacedCut, size: Fraction) -> Features:
    """The smallest features of `cut` about its own origin, measured once for each letter of a font and then scaled.

    `size` is the cap height of a letter, or the height of another piece.
    """
    height = float(size)
    unit = _at_unit_height(_Drawn(drawn=cut.drawn, shape=cut.shape, cap_height=height))

    def feature(one: Feature) -> Feature:
        return Feature(width=one.width * height, at=_times(one.at, height))

    def corner(one: Corner | None) -> Corner | None:
        return Corner(degrees=one.degrees, at=_times(one.at, height)) if one else None

    return Features(
        stroke=feature(unit.stroke),
        counter=feature(unit.counter) if unit.counter else None,
        slot=feature(unit.slot) if unit.slot else None,
        tip=corner(unit.tip),
    )


def word_features(text: str, typeface: Typeface) -> tuple[Features, ...]:
    """The smallest features of each distinct letter of `text`, which the typeface can spell, at a cap height of 1."""
    glyphs = dict.fromkeys(letter.glyphs for letter in shape_text(text, typeface) if letter.numbers)
    cap = typeface.cap_height_fu
    return tuple(
        _at_unit_height(
            _Drawn(
                drawn=(typeface.key, one),
                shape=typeface.shape(one, chord_error_fu=cap / _FINE),
                cap_height=cap,
            )
        )
        for one in glyphs
    )


def _times(point: Point, factor: float) -> Point:
    return (point[0] * factor, point[1] * factor)
