"""Cloth folded, pieced and joined: step pictures in the proportions of the pieces they show.

Frame: points, y up. A panel that is folded lies right side in, so that its wrong side is seen, but for its center line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

from applique.drawings.values import (
    BOLD,
    GONE,
    PAPER,
    QUIET,
    Anchor,
    Drawing,
    Mark,
    Words,
    box,
    line,
    text_width,
)
from applique.drawings.vocabulary import (
    arrow,
    dimension,
    fold,
    leader,
    right_side,
    seam,
    wrong_side,
)
from applique.geometry.points import Point
from applique.language import Message, Speech
from applique.quilt.panel_cut import PanelCut
from applique.quilt.strips import Extent
from applique.units import Units, as_size
from applique.words.instructions.cutting import FOLD, SEAM_LINE, length_said, wide_said

__all__ = ["draw_center_fold", "draw_folded_across", "draw_folded_down", "draw_join", "draw_pieced"]

_SIZE: Final = (86.0, 84.0)
"""Points that the open panel may take, width and height."""
_GAP: Final = 26.0
_ROOM: Final = 18.0
"""Points beside a picture for what is measured there."""
_MEASURED: Final = 40.0
"""Points that a length takes."""
_FOLD_NAMED: Final = 30.0
_STEP: Final = 13.0
"""Points from one distance to the next above a pieced panel."""
_PIECED: Final = (200.0, 140.0)
_SMALL: Final = 7.5
_LETTER: Final = 10.0
_STRIP: Final = 30.0


def draw_folded_down(size: Extent, half: Fraction, units: Units, said: Message) -> Drawing:
    """A panel folded in half from top to bottom: open with its fold, then folded, with what is measured."""
    wide, high, width = _scaled(size)
    low = max(0.0, _MEASURED / 2 - high / 4)
    y, left = low + high / 2, wide + _GAP
    marks: list[Mark] = [
        *right_side(_corners(0, low, wide, high)),
        fold(((0, y), (wide, y))),
        *_named_fold((wide / 2, y), wide),
        *arrow((wide + _GAP * 0.25, low + high * 0.85), (wide + _GAP * 0.25, low + high * 0.15)),
        box(left, y, wide, high / 2, ink=GONE),
        *wrong_side(_corners(left, low, wide, high / 2)),
        fold(((left, y), (left + wide, y))),
        *dimension((left + wide + _ROOM, low), (left + wide + _ROOM, y), length_said(half, units)),
    ]
    top = low + max(high, high / 4 + _MEASURED / 2)
    return Drawing(width=width + _ROOM + 4, height=top + 2, marks=tuple(marks), said=said)


def draw_folded_across(
    size: Extent, half: Fraction, units: Units, said: Message, *, right_side_out: bool = False
) -> Drawing:
    """A panel folded in half from side to side: open with its fold, then folded, with what is measured."""
    seen = right_side if right_side_out else wrong_side
    wide, high, width = _scaled(size)
    x, left, low = wide / 2, wide + _GAP, _ROOM + 3.0
    marks: list[Mark] = [
        *right_side(_corners(0, low, wide, high)),
        fold(((x, low), (x, low + high))),
        *_named_fold((x, low + high / 2), wide),
        *arrow((wide * 0.85, low - 8), (wide * 0.15, low - 8)),
        box(left + x, low, x, high, ink=GONE),
        *seen(_corners(left, low, x, high)),
        fold(((left + x, low), (left + x, low + high))),
        *dimension((left, low - 8), (left + x, low - 8), length_said(half, units), off=-8.0),
    ]
    reach = max(width, left + x / 2 + _MEASURED / 2)
    return Drawing(width=reach, height=high + low + 2, marks=tuple(marks), said=said)


def draw_center_fold(size: Extent, half: Fraction, units: Units, said: Message) -> Drawing:
    """A panel folded from side to side, its center line marked along the fold."""
    drawing = draw_folded_across(size, half, units, said, right_side_out=True)
    wide, high, _ = _scaled(size)
    x = wide + _GAP + wide / 2
    return Drawing(
        width=drawing.width,
        height=drawing.height,
        marks=(*drawing.marks, line(((x - 1, _ROOM - 4), (x - 1, _ROOM + high + 2)), BOLD)),
        said=said,
    )


def _scaled(size: Extent) -> tuple[float, float, float]:
    """Width and height of a panel, and the width of it twice with the gap between, in points."""
    scale = min(_SIZE[0] / float(size[0]), _SIZE[1] / float(size[1]))
    wide, high = float(size[0]) * scale, float(size[1]) * scale
    return wide, high, 2 * wide + _GAP


def _named_fold(at: Point, room: float) -> Iterator[Mark]:
    """What a fold is called, on cloth as wide as the word."""
    if room >= _FOLD_NAMED:
        yield Words(
            said=FOLD, at=(at[0], at[1] - 2.5), size=_SMALL, anchor=Anchor.MIDDLE, color=QUIET, ground=PAPER
        )


def _corners(left: float, low: float, wide: float, high: float) -> tuple[Point, Point, Point, Point]:
    return ((left, low), (left + wide, low), (left + wide, low + high), (left, low + high))


def draw_pieced(
    plan: PanelCut,
    places: Sequence[Fraction],
    letters: Sequence[str],
    units: Units,
    speech: Speech,
    said: Message,
) -> Drawing:
    """A panel of several lengths: each with its letter and its cut width, the seams with their distance from the left
    or the top cut edge, of which there are `places`."""
    upright = plan.seam is None or plan.seam.upright
    scale = min(_PIECED[0] / float(plan.width), _PIECED[1] / float(plan.height))
    wide, high = float(plan.width) * scale, float(plan.height) * scale
    beside = 0.0 if upright else _STEP * len(places) + 6
    marks: list[Mark] = list(right_side(_corners(beside, 0, wide, high)))
    along = wide if upright else high
    edges = [0.0, *(float(place) * scale for place in places), along]
    for number, (start, end) in enumerate(pairwise(edges)):
        middle = (start + end) / 2
        at = (beside + middle, high / 2) if upright else (beside + wide / 2, high - middle)
        turned = upright and end - start < 70
        marks += _piece(at, letters[number], wide_said(plan.widths[number], units), turned=turned)
    for number, place in enumerate(places):
        far, level = float(place) * scale, number * _STEP + 8
        distance = length_said(place, units)
        if upright:
            marks.append(seam(((far, 0), (far, high))))
            marks += dimension((0, high + level), (far, high + level), distance, off=2.5)
        else:
            marks.append(seam(((beside, high - far), (beside + wide, high - far))))
            marks += dimension((beside - level, high - far), (beside - level, high), distance, off=2.5)
    above = _STEP * len(places) + 8 if upright else 2.0
    reach = max((text_width(speech.measure(as_size(place, units)), _SMALL) for place in places), default=0.0)
    return Drawing(width=max(beside + wide, reach), height=high + above, marks=tuple(marks), said=said)


def _piece(at: Point, letter: str, size: Message, *, turned: bool) -> Iterator[Mark]:
    turn = 90.0 if turned else 0.0
    first, second = ((-3.0, 0.0), (8.0, 0.0)) if turned else ((0.0, 2.0), (0.0, -9.0))
    yield Words(
        said=letter,
        at=(at[0] + first[0], at[1] + first[1]),
        size=_LETTER,
        bold=True,
        anchor=Anchor.MIDDLE,
        turn_deg=turn,
    )
    yield Words(
        said=size,
        at=(at[0] + second[0], at[1] + second[1]),
        size=_SMALL,
        anchor=Anchor.MIDDLE,
        turn_deg=turn,
    )


# Joining strips


def draw_join(said: Message) -> Drawing:
    """Two strips joined end to end: laid right sides together with the seam, then pressed open. Not to scale."""
    w, low = _STRIP, 48.0
    marks = (
        *right_side(_corners(0, low, 130, w)),
        *wrong_side(_corners(34, low, 96, w)),
        seam(((122, low), (122, low + w))),
        *leader((140, low + w / 2), (122, low + w / 2), SEAM_LINE),
        *right_side(_corners(0, 0, 90, w)),
        *right_side(_corners(90, 0, 90, w)),
    )
    return Drawing(width=216, height=low + w + 2, marks=marks, said=said)
