"""Where pages end: what may be parted at a price, and what fills pages best. Heights are points."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Final

__all__ = ["KEPT", "Filled", "Piece", "fill_pages"]

KEPT: Final = 5.0
"""Price of parting what belongs together: more than any white, so that it is paid only by what no page could hold."""
_PAGE: Final = 0.3
"""Price of another page, and that of one left white."""
_WHITE: Final = 2.0
_MOST_WHITE: Final = 0.31
"""The share of a page, but for the last one, that may be left at its foot (a third, with what is white below the last
line), and the price of more: all but what makes no sense apart is parted rather than pay it."""
_EMPTY: Final = 1.0
_OVERFULL: Final = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What stands on one page: how high it is in each setting, of that what falls away at the top of a page, what
    comes again above it there, and the price of a page that begins with it.
    """

    heights: tuple[float, ...]
    above: float = 0.0
    again: float = 0.0
    price: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """A page: its first piece, the one after its last, its setting, and the points left at its foot."""

    start: int
    end: int
    setting: int
    left: float


def fill_pages(pieces: Sequence[Piece], room: float, prices: Sequence[float]) -> tuple[Filled, ...]:
    """Pages of `room` points, the cheapest ones: few, with little white, most of it never on one of them.

    `prices` are those of a page in each setting. A piece higher than a page has one to itself.

    Source:
        Optimum-fit paging by dynamic programming from the end; the price of white is the square of its share.
    """
    reaches = [
        [0.0, *accumulate(piece.heights[setting] for piece in pieces)] for setting in range(len(prices))
    ]
    best: list[tuple[float, Filled | None]] = [(0.0, None)] * (len(pieces) + 1)
    for start in range(len(pieces) - 1, -1, -1):
        options = [
            (*_page_from(start, pieces[start], reach, room, best), setting)
            for setting, reach in enumerate(reaches)
        ]
        price, end, left, setting = min(options, key=lambda one: one[0] + prices[one[3]])
        begun = pieces[start].price if start else 0.0
        page = Filled(start=start, end=end, setting=setting, left=left)
        best[start] = (price + prices[setting] + begun, page)
    pages: list[Filled] = []
    page_after = best[0][1]
    while page_after is not None:
        pages.append(page_after)
        page_after = best[page_after.end][1]
    return tuple(pages)


def _page_from(
    start: int, first: Piece, reach: Sequence[float], room: float, best: Sequence[tuple[float, Filled | None]]
) -> tuple[float, int, float]:
    """The cheapest page that begins with piece `start`: its price and that of all that follows, the piece after its
    last, and the points left at its foot."""
    begin, above, again = reach[start], first.above, first.again
    cheapest = (math.inf, start + 1, 0.0)
    for end in range(start + 1, len(reach)):
        left = room - (reach[end] - begin - above + again)
        over = left < -0.01
        if over and end > start + 1:
            break
        left = max(left, 0.0)
        white = left / room
        price = _PAGE + _WHITE * white * white + (_OVERFULL if over else 0.0) + best[end][0]
        if white > _MOST_WHITE and end < len(reach) - 1:
            price += _EMPTY
        if price < cheapest[0]:
            cheapest = (price, end, left)
    return cheapest
