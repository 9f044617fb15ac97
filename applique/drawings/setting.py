"""Blocks set together, drawn: the grid with its names, what lies between the blocks, and how large it is.

Frame: points, y up.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import Final

from applique.colors import reads_on
from applique.drawings.values import FINE, PAPER, Anchor, Drawing, Mark, Words, box, text_width
from applique.drawings.vocabulary import dimension
from applique.geometry.points import Point
from applique.language import Message, Speech
from applique.quilt.setting import SetPatch, SettingPlan

__all__ = ["draw_setting"]

_NAME: Final = 8.0
_SMALL: Final = 7.0
_ROOM: Final = 0.86
"""Of the width of a block for its name."""
_BELOW: Final = 20.0
_BESIDE: Final = 14.0


def draw_setting(
    setting: SettingPlan,
    blocks: Sequence[str],
    piece_of: Callable[[SetPatch], str],
    colors: Mapping[str, str],
    rows: Sequence[Message],
    measures: tuple[Message, Message],
    size: Point,
    said: Message,
    speech: Speech,
) -> Drawing:
    """The set top as large as `size` points allow: its blocks by name, plain blocks and sashing in their `colors` with
    the name of each piece where it has room, `rows` said on the left, and the two `measures` of the whole."""
    numbered = [speech.tell(row) for row in rows]
    left = max(text_width(row, _SMALL) for row in numbered) + 6
    wide, high = (float(side) for side in setting.finished)
    down = speech.tell(measures[1])
    right = _BESIDE + text_width(down, _SMALL) + 4
    scale = min((size[0] - left - right) / wide, (size[1] - _BELOW) / high)

    def at(corner: tuple[Fraction, Fraction]) -> Point:
        return left + float(corner[0]) * scale, _BELOW + float(corner[1]) * scale

    marks: list[Mark] = []
    for patch in setting.patches:
        (x, y), (across, up) = at(patch.corner), (float(side) * scale for side in patch.size)
        color = colors[patch.fabric]
        marks.append(box(x, y, across, up, fill=color, ink=FINE))
        marks += _named(piece_of(patch), (x, y), (across, up), _SMALL, reads_on(color))
    for place in setting.places:
        (x, y), (across, up) = at(place.corner), (float(side) * scale for side in place.size)
        if place.block is not None:
            marks.append(box(x, y, across, up, fill=PAPER, ink=FINE))
            marks += _named(blocks[place.block], (x, y), (across, up), _NAME, shrinks=True)
        if place.column == 0:
            words = numbered[place.row]
            marks.append(Words(said=words, at=(left - 4, y + up / 2 - 2.5), size=_SMALL, anchor=Anchor.END))
    (x0, y0), (x1, y1) = at((Fraction(0), Fraction(0))), at(setting.finished)
    marks += dimension((x0, y0 - 8), (x1, y0 - 8), measures[0], off=-10.0)
    marks += dimension((x1 + 8, y0), (x1 + 8, y1), "")
    marks.append(Words(said=down, at=(x1 + _BESIDE, (y0 + y1) / 2 - 2.5), size=_SMALL))
    return Drawing(width=x1 + right, height=y1 + 2, marks=tuple(marks), said=said)


def _named(
    name: str,
    corner: Point,
    sides: tuple[float, float] | Sequence[float],
    size: float,
    color: str = "#000000",
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
