"""Which nests share a page, and how large they are drawn. Lengths are points."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import takewhile
from typing import Final

from applique.cutting.diagram import letters_of
from applique.design import Turns
from applique.geometry.points import Bounds, Point
from applique.letter_blocks import LetterBlock
from applique.nesting import StripNest
from applique.pattern import Pattern
from applique.sheets.frame import POINTS
from applique.yardage import StripNeed

__all__ = [
    "ARROW_LINE",
    "BAND_GAP",
    "BELOW_TITLE",
    "CAPTION",
    "COLUMN_GAP",
    "LEAST_BLOCK",
    "MOST_BANDS",
    "MOST_SPOTS",
    "SIDE",
    "SPOT",
    "NestPage",
    "band_scale",
    "blocks_of",
    "has_way_up",
    "pages_of",
    "rows_of",
    "without_sliver",
]

BAND_GAP: Final = 24.0
COLUMN_GAP: Final = 24.0
_FACTS: Final = 130.0
"""Points that the title of a page and the heading of a nest take at the most, in half of a page."""
_TITLE: Final = 50.0
"""Of these, what only the first nest of a page takes."""
_LEAST_STACKED: Final = 48.0
"""Points of blocks that stand with others: more than the lines by which what is said of one may be longer than that."""
BELOW_TITLE: Final = 14.0
MOST_BANDS: Final = 40
_LEAST_BAND: Final = 80.0
"""Points of a band that its two numbers take side by side."""
_MOST_SCALE: Final = 36.0
"""Points for an inch, half size."""
_SMALLER: Final = 0.97
MOST_SPOTS: Final = 6
"""So many letters with spots of their own are listed above their nest."""
SPOT: Final = 12.0
"""Points from one of their lines to the next."""
LEAST_BLOCK: Final = 90.0
"""Points of the page that a block takes with its words."""
_BLOCK_GAP: Final = 14.0
SIDE: Final = 12.0
"""Points on the right of a block for its width."""
CAPTION: Final = 46.0
ARROW_LINE: Final = 9.5
"""Points that the arrow to the top of a print takes below the words of a block."""
_AS_GOOD: Final = 0.9
"""Blocks that half a page shows so large, of their size on a whole one, stand beside others."""
_SHARES: Final = 50
"""Parts in which the width of a page is shared by two nests."""
_STILL_GOOD: Final = 0.65
"""Two nests share a page that shows each at least so large, of its size on a page of its own."""


@dataclass(frozen=True, slots=True)
class NestPage:
    """What goes on one page, side by side or `stacked` one below the other, and the points that are then `left`.

    Where two share the width of the page as they need it, `parted` is what the first of them takes of it, below all
    that is said of both. What is said of the `undrawn`, all of whose letters are joined from widths, stands above.
    """

    needs: tuple[StripNeed, ...]
    stacked: bool
    left: float
    parted: float = 0.0
    undrawn: tuple[StripNeed, ...] = ()


def pages_of(pattern: Pattern, needs: Sequence[StripNeed]) -> tuple[NestPage, ...]:
    """What goes on each page: two that leave half of their page empty stand side by side, and what is low stands below
    what leaves it room; so do two of different widths that are drawn nearly as large on one page as on two, unless the
    second of them has another to stand with. What has nothing to draw is told on the first page.
    """
    undrawn = tuple(need for need in needs if need.nest is None)
    needs = [need for need in needs if need.nest is not None]
    if not needs:
        return (NestPage((), stacked=True, left=0.0, undrawn=undrawn),) if undrawn else ()
    pages: list[NestPage] = []
    x0, y0, x1, y1 = (side * POINTS for side in pattern.sheets.frame.drawing)
    found = [_room_of(pattern, need) for need in needs]
    waiting = False
    for index, (need, (slim, high)) in enumerate(zip(needs, found, strict=True)):
        left = -1.0 if slim else y1 - y0 - high
        left -= len(undrawn) * _FACTS if not index else 0.0
        before = pages[-1] if pages else None
        even = len(list(takewhile(lambda one: one[0], found[index:]))) % 2 == 0
        if slim and waiting and before:
            pages[-1] = NestPage((*before.needs, need), stacked=False, left=left)
            waiting = False
        elif not slim and before and before.left >= high - _TITLE:
            pages[-1] = NestPage((*before.needs, need), stacked=True, left=before.left - high + _TITLE)
            waiting = False
        elif (
            before
            and len(before.needs) == 1
            and not (slim and even)
            and (parted := _parted(pattern, (before.needs[0], need), (x1 - x0, y1 - y0)))
        ):
            pages[-1] = NestPage((*before.needs, need), stacked=False, left=-1.0, parted=parted)
            waiting = False
        else:
            pages.append(NestPage((need,), stacked=False, left=left))
            waiting = slim
    pages[0] = replace(pages[0], undrawn=undrawn)
    return tuple(pages)


def _room_of(pattern: Pattern, need: StripNeed) -> tuple[bool, float]:
    """Whether a nest leaves half of its page empty beside it, and how many points high one is that may stand with
    others one below the other; infinitely many where it may not."""
    x0, y0, x1, y1 = (side * POINTS for side in pattern.sheets.frame.drawing)
    half = (x1 - x0 - COLUMN_GAP) / 2
    blocks = blocks_of(pattern, need)
    if not blocks:
        nest = need.nest
        return nest is None or nest.length * band_scale(nest, x1 - x0, y1 - y0 - _FACTS, 1) <= half, math.inf
    whole, spots = rows_of(blocks, (0.0, y0, x1 - x0, y1 - _FACTS), CAPTION)
    part, _ = rows_of(blocks, (0.0, y0, half, y1 - _FACTS), CAPTION)
    drawn = y1 - _FACTS - min(low for _, low in spots)
    plain = not need.fixed and drawn >= _LEAST_STACKED and not has_way_up(pattern, need)
    return part >= _AS_GOOD * whole, _FACTS + drawn + CAPTION if plain else math.inf


def _parted(pattern: Pattern, needs: tuple[StripNeed, StripNeed], room: Point) -> float:
    """What the first of two nests takes of the width of a page that shows both nearly as large as a page each would;
    nothing where none does."""
    told = 2 * _FACTS - _TITLE + BELOW_TITLE + SPOT * sum(min(len(need.fixed), MOST_SPOTS) for need in needs)
    wide, high = room[0] - COLUMN_GAP, room[1] - told
    alone = [_drawn_at(pattern, need, room[0], room[1] - _FACTS) for need in needs]

    def kept(share: float) -> float:
        """Of the size that each would have alone, what both keep."""
        parts = zip(needs, (share, 1 - share), alone, strict=True)
        return min(_drawn_at(pattern, need, part * wide, high) / own for need, part, own in parts)

    best = max((step / _SHARES for step in range(1, _SHARES)), key=kept)
    return best if kept(best) >= _STILL_GOOD else 0.0


def _drawn_at(pattern: Pattern, need: StripNeed, wide: float, high: float) -> float:
    """Points for an inch at which a nest is drawn in a column so `wide` and so `high`."""
    blocks = blocks_of(pattern, need)
    if blocks:
        below = CAPTION + ARROW_LINE * has_way_up(pattern, need)
        return rows_of(blocks, (0.0, 0.0, wide, high), below)[0] if wide >= LEAST_BLOCK else 0.0
    nest = need.nest
    if nest is None or wide < _LEAST_BAND:
        return 0.0
    return max(band_scale(nest, wide, high, bands) for bands in range(1, MOST_BANDS))


def blocks_of(pattern: Pattern, need: StripNeed) -> tuple[LetterBlock, ...]:
    """The blocks that letters on fabric are cut from, in the order of the cutting plan."""
    plan = pattern.shopping.letters_of(need)
    if plan is None or plan.letters is None:
        return ()
    order = {key: place for place, key in enumerate(letters_of(plan.diagrams))}
    return tuple(sorted(plan.letters.blocks, key=lambda one: order[one.key]))


def has_way_up(pattern: Pattern, need: StripNeed) -> bool:
    """Whether the print of a fabric that letters are cut from has a top."""
    plan = pattern.shopping.letters_of(need)
    return plan is not None and plan.fabric.turns is Turns.UPRIGHT


def rows_of(blocks: Sequence[LetterBlock], room: Bounds, below: float) -> tuple[float, tuple[Point, ...]]:
    """The largest scale at which `room` on the page holds the blocks, each with its words `below` it, and the lower
    left corner of each; points."""
    scale = _MOST_SCALE
    while (spots := _in_rows(blocks, scale, room, below)) is None:
        scale *= _SMALLER
    return scale, spots


def _in_rows(
    blocks: Sequence[LetterBlock], scale: float, room: Bounds, below: float
) -> tuple[Point, ...] | None:
    """The lower left corner of each block in `room`, in points; None where it does not hold them."""
    left, bottom, right, top = room
    spots: list[Point] = []
    x, low, deep = left, top, 0.0
    row: list[Point] = []
    for one in blocks:
        length, height = (float(side) * scale for side in (one.block.length, one.block.width))
        wide = max(length + SIDE, LEAST_BLOCK)
        if row and x + wide > right:
            spots += [(at, low - tall) for at, tall in row]
            x, low, deep, row = left, low - deep - below, 0.0, []
        if x + wide > right:
            return None
        row.append((x, height))
        x, deep = x + wide + _BLOCK_GAP, max(deep, height)
    spots += [(at, low - tall) for at, tall in row]
    return tuple(spots) if low - deep - below >= bottom else None


def band_scale(nest: StripNest, across: float, room: float, bands: int) -> float:
    """Points for an inch at which `bands` bands hold the nest within the page."""
    return min(across * bands / nest.length, (room - bands * BAND_GAP) / bands / nest.width, _MOST_SCALE)


def without_sliver(scale: float, nest: StripNest, across: float) -> float:
    """`scale`, or the next smaller one at which no last band is too short for the two numbers below it."""
    whole, last = divmod(nest.length * scale, across)
    return across * whole / nest.length if whole and last < _LEAST_BAND else scale
