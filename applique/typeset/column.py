"""The spacing of a row that runs down: how far its letters stand below one another, and how even the white is.

Lengths are font units; the center line of the row is x = 0 and its first place starts at y = 0, y up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import GeometryCollection

from applique.geometry.place import Place
from applique.geometry.points import Bounds, around
from applique.geometry.polygons import Shape, as_shape
from applique.typeset.downward import Stop
from applique.typeset.spacing import (
    Cut,
    RowSetting,
    SetRow,
    deepest_white,
    ink_of,
    set_row,
    white_between,
)
from applique.typeset.typeface import Typeface

__all__ = ["set_column"]

_GAP_REACHED: Final = 1e-7
"""A gap that falls short by less than this part of the em is reached."""
_LOOK_BACK: Final = 2
"""A letter keeps its gap from what stands in so many places before its own."""
_SLICES: Final = 48
_TO_THE_RIGHT: Final = -90.0
_Group = tuple[Cut, ...]
"""What stands in one place, or the letters of a word that is turned."""


def set_column(stops: Sequence[Stop], typeface: Typeface, setting: RowSetting) -> SetRow:
    """The letters as spaced cuts from the top down: tracked, evened if asked, kept clear.

    The letters of a word that is turned are spaced as in a row across, and so are digits that share a place.
    """
    groups: list[_Group] = []
    pen, word, after_space = 0.0, 0, False
    for stop in stops:
        if not stop.letters:
            pen, after_space = pen + stop.advance_fu, True
            continue
        if after_space and groups:
            word += 1
        if stop.turned:
            cuts, long = _turned(stop, pen, typeface, setting)
            pen += long
        else:
            cuts = _upright(stop, pen, typeface, setting)
            pen += stop.advance_fu
        groups.append(tuple(replace(cut, word=cut.word + word) for cut in cuts))
        word, after_space = groups[-1][-1].word, False
        pen += setting.tracking_fu
    if setting.even:
        groups = _evened(groups, typeface, setting)
    groups = _cleared(groups, typeface, setting)
    cuts = [cut for group in groups for cut in group]
    return SetRow(cuts=tuple(cuts), ink_fu=_ink(cuts, typeface))


def _upright(stop: Stop, top: float, typeface: Typeface, setting: RowSetting) -> list[Cut]:
    """What stands in the place that starts `top` below the start of the row."""
    cuts = list(set_row(stop.letters, typeface, replace(setting, even=False)).cuts)
    middle = 0.0
    if len(cuts) > 1:
        left, _, right, _ = ink_of(cuts, typeface)
        middle = (left + right) / 2
    return [replace(cut, x_fu=cut.x_fu - middle, y_fu=-top - stop.drop_fu) for cut in cuts]


def _turned(stop: Stop, top: float, typeface: Typeface, setting: RowSetting) -> tuple[list[Cut], float]:
    """A turned word that starts `top` below the start of the row, its capitals in the middle, and how long it is."""
    row = set_row(stop.letters, typeface, setting)
    plain = max(one.x_fu + typeface.bounds(one.glyphs)[2] for one in stop.letters if one.numbers)
    half = typeface.cap_height_fu / 2
    cuts = [replace(cut, x_fu=-half, y_fu=-top - cut.x_fu, turn_deg=_TO_THE_RIGHT) for cut in row.cuts]
    return cuts, stop.advance_fu + row.ink_fu[2] - plain


def _down(group: _Group, by: float) -> _Group:
    return tuple(replace(cut, y_fu=cut.y_fu - by) for cut in group)


def _shape(group: _Group, typeface: Typeface, setting: RowSetting) -> GeometryCollection:
    """What stands in one place, where it stands."""
    return GeometryCollection(
        [
            cut.place(1.0).shape(typeface.shape(cut.glyphs, chord_error_fu=setting.chord_error_fu))
            for cut in group
        ]
    )


def _cleared(groups: Sequence[_Group], typeface: Typeface, setting: RowSetting) -> list[_Group]:
    """Groups moved down, as little as needed, until each keeps the least gap from those before it."""
    placed: list[_Group] = []
    shapes: list[GeometryCollection] = []
    shift, enough = 0.0, _GAP_REACHED * typeface.units_per_em
    for group in groups:
        shape = _shape(_down(group, shift), typeface, setting)
        for earlier in shapes[-_LOOK_BACK:]:
            # The distance grows no faster than the offset, so moving by what is lacking never overshoots.
            while (lacking := setting.least_gap_fu - shapely.distance(earlier, shape)) > enough:
                shift += lacking
                shape = affinity.translate(shape, 0.0, -lacking)
        placed.append(_down(group, shift))
        shapes.append(shape)
    return placed


def _evened(groups: Sequence[_Group], typeface: Typeface, setting: RowSetting) -> list[_Group]:
    """Groups moved so that the white between neighbors in a word has the same area for its width; its mean stays."""
    pairs = [index for index in range(1, len(groups)) if groups[index][0].word == groups[index - 1][-1].word]
    if len(pairs) < 2:
        return list(groups)
    whites = {index: _white(groups[index - 1], groups[index], typeface, setting) for index in pairs}
    target = math.fsum(whites.values()) / len(pairs)
    shift, evened = 0.0, [groups[0]]
    for index in range(1, len(groups)):
        shift += target - whites[index] if index in whites else 0.0
        evened.append(_down(groups[index], shift))
    return evened


def _white(upper: _Group, lower: _Group, typeface: Typeface, setting: RowSetting) -> float:
    """The area of the white between two groups divided by the width over which the eye compares it, which is that of
    the wider one: both lie on their sides, the upper one on the left, and are measured as in a row across."""
    left, right = (_on_its_side(group, typeface, setting) for group in (upper, lower))
    low, high = min(left.bounds[1], right.bounds[1]), max(left.bounds[3], right.bounds[3])
    slices = low + (np.arange(_SLICES) + 0.5) / _SLICES * (high - low)
    between = float(right.bounds[0] - left.bounds[2])
    return between + white_between(left, right, slices, deepest=deepest_white(typeface))


def _on_its_side(group: _Group, typeface: Typeface, setting: RowSetting) -> Shape:
    """What stands in one place, turned a quarter to the left about the start of the row."""
    upright = as_shape(shapely.union_all(_shape(group, typeface, setting)))
    return as_shape(Place(x=0.0, y=0.0, turn_deg=90.0).shape(upright))


def _ink(cuts: Sequence[Cut], typeface: Typeface) -> Bounds:
    """The exact extent of the ink, from the start of the row."""
    return around([cut.place(1.0).outline(typeface.outline(cut.glyphs)).bounds() for cut in cuts])
