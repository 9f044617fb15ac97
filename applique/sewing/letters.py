"""Letters measured: the smallest features of each, once for a font and then scaled.

Lengths are inches at the cap height that is asked for; places are about the letter's own origin.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from typing import Final

import shapely
from shapely import MultiPolygon, affinity

from applique.geometry.points import Point
from applique.geometry.polygons import CHORD_ERROR, Shape, as_shape, parts_of, polygon_of
from applique.panel import SEEN, CutOff, PlacedCut
from applique.sewing.features import Corner, Feature, Features, features_of
from applique.typeset.shaping import shape_text
from applique.typeset.typeface import GlyphSpot, Typeface

__all__ = ["forget_features", "letter_features", "seen_of", "word_features"]

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

    `size` is the cap height of a letter, or the height of another piece. Of one that runs off the panel and is cut off,
    only what is seen counts.
    """
    height = float(size)
    if cut.off is not None:
        return _of_what_is_seen(cut.off, _of_whole(cut, cut.off, height), height)
    return _measured(cut, cut.shape, height)


def seen_of(off: CutOff) -> Shape:
    """What of a letter that is cut off lies inside the finished edge of the panel, about its own origin."""
    whole = polygon_of(off.whole, chord_error=CHORD_ERROR)
    parts = parts_of(as_shape(whole.intersection(off.inside)))
    seen = [part for part in parts if part.area > SEEN]
    return seen[0] if len(seen) == 1 else MultiPolygon(seen)


def _of_whole(cut: PlacedCut, off: CutOff, height: float) -> Features:
    return _measured(cut, polygon_of(off.whole, chord_error=CHORD_ERROR), height)


def _of_what_is_seen(off: CutOff, whole: Features, height: float) -> Features:
    """Of a letter that is cut off: what is smallest in the whole of it where that is seen, else what is smallest in
    what is seen. Points and slots count where the letter itself has them: those that the edge makes lie in the seam."""

    def is_seen(one: Feature | Corner | None) -> bool:
        return one is not None and off.inside.covers(shapely.Point(one.at))

    rest = None
    if not is_seen(whole.stroke) or (whole.counter and not is_seen(whole.counter)):
        rest = features_of(seen_of(off), cap_height=height)
    return Features(
        stroke=whole.stroke if rest is None or is_seen(whole.stroke) else rest.stroke,
        counter=whole.counter if rest is None or is_seen(whole.counter) else rest.counter,
        slot=whole.slot if is_seen(whole.slot) else None,
        tip=whole.tip if is_seen(whole.tip) else None,
    )


def _measured(cut: PlacedCut, shape: Shape, height: float) -> Features:
    """The features of a letter as its font draws it, which `shape` is at that height."""
    unit = _at_unit_height(_Drawn(drawn=cut.drawn, shape=shape, cap_height=height))

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
