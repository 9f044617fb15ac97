"""Blocks set together, drawn: the grid with its names, what lies between the blocks, and how large it is.

Frame: points, y up.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from applique.colors import reads_on
from applique.drawings.values import FINE, INK, NARROW, PAPER, Anchor, Drawing, Mark, Words, box, text_width
from applique.drawings.vocabulary import dimension
from applique.geometry.points import Point
from applique.language import Message
from applique.quilt.setting import SetPatch, SettingPlan
from applique.quilt.strips import Extent

__all__ = ["SetNames", "draw_setting"]

_NAME: Final = 8.0
_SMALL: Final = 7.0
_ROOM: Final = 0.86
"""Of the width of a block for its name."""
_TWO_LINES: Final = 20.0
"""Points that a row is high in whose label there is room for its height."""
_BELOW: Final = 20.0
_BESIDE: Final = 20.0
_ABOVE: Final = 18.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SetNames:
    """What stands in the drawing: the names of `blocks`, that of the piece of each patch, the `colors` of fabrics by
    name; for each row which it is and how high, for each column how wide, and both measures of the whole."""

    blocks: Sequence[str]
    piece: Callable[[SetPatch], str]
    colors: Mapping[str, str]
    rows: Sequence[tuple[str, str]]
    columns: Sequence[str]
    measures: tuple[str, str]


def draw_setting(setting: SettingPlan, names: SetNames, size: Point, said: Message) -> Drawing:
    """The set top as large as `size` points allow: its blocks by name, plain blocks and sashing in their colors with
    the name of each piece where it has room, and its sizes; on a narrow page without names of pieces."""
    narrow = _drawn(setting, names, (NARROW, size[1]), said, pieces=False)
    return replace(_drawn(setting, names, size, said, pieces=True), narrow=narrow)


def _drawn(setting: SettingPlan, names: SetNames, size: Point, said: Message, *, pieces: bool) -> Drawing:
    left = max(text_width(words, _SMALL) for row in names.rows for words in row) + 8
    wide, high = (float(side) for side in setting.finished)
    scale = min((size[0] - left - _BESIDE) / wide, (size[1] - _BELOW - _ABOVE) / high)

    def laid(corner: Extent, sides: Extent) -> tuple[Point, Point]:
        x, y = left + float(corner[0]) * scale, _BELOW + float(corner[1]) * scale
        return (x, y), (float(sides[0]) * scale, float(sides[1]) * scale)

    marks: list[Mark] = []
    for patch in setting.patches:
        corner, sides = laid(patch.corner, patch.size)
        color = names.colors[patch.fabric]
        marks.append(box(*corner, *sides, fill=color, ink=FINE))
        marks += _named(names.piece(patch), corner, sides, _SMALL, reads_on(color)) if pieces else []
    for place in setting.places:
        (x, y), (across, up) = laid(place.corner, place.size)
        if place.block is not None:
            marks.append(box(x, y, across, up, fill=PAPER, ink=FINE))
            marks += _named(names.blocks[place.block], (x, y), (across, up), _NAME, shrinks=True)
        if place.column == 0:
            label = names.rows[place.row]
            lines = zip(label, (-1.5, 7.5), strict=True) if up >= _TWO_LINES else ((label[0], 2.5),)
            for words, lower in lines:
                at = (left - 5, y + up / 2 - lower)
                marks.append(Words(said=words, at=at, size=_SMALL, anchor=Anchor.END))
        column = names.columns[place.column]
        if place.row == 0 and text_width(column, _SMALL) < across:
            top = _BELOW + high * scale + 5
            marks += dimension((x, top), (x + across, top), column)
    right, top = left + wide * scale, _BELOW + high * scale
    marks += dimension((left, _BELOW - 8), (right, _BELOW - 8), names.measures[0], off=-10.0)
    marks += dimension((right + 8, _BELOW), (right + 8, top), names.measures[1], off=-10.0)
    return Drawing(width=right + _BESIDE, height=top + _ABOVE, marks=tuple(marks), said=said)


def _named(
    name: str,
    corner: Point,
    sides: Point,
    size: float,
    color: str = INK,
    *,
    shrinks: bool = False,
) -> list[Mark]:
    """A name in the middle of a piece, along it; smaller where it has to, or left out."""
    across, up = sides
    upright = up > 1.5 * across
    along, thick = (up, across) if upright else (across, up)
    takes = text_width(name, size)
    if shrinks:
        size *= min(1.0, along * _ROOM / max(takes, 1e-9))
    elif takes > along * _ROOM or thick < size:
        return []
    low = 0.36 * size
    x, y = corner[0] + across / 2, corner[1] + up / 2
    at = (x + low, y) if upright else (x, y - low)
    return [
        Words(
            said=name,
            at=at,
            size=size,
            color=color,
            anchor=Anchor.MIDDLE,
            turn_deg=90.0 if upright else 0.0,
        )
    ]
