"""Fabrics in sequence around a border of pieces, so that no two alike lie side by side where that can be had."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise, product
from typing import Final

from applique.quilt.borders.values import Corner, Side

__all__ = ["Around", "fabrics_around"]

_SIDES: Final = (Side.TOP, Side.RIGHT, Side.BOTTOM, Side.LEFT)
"""Clockwise from the top left corner; so are the pieces of each, and so is each `Row` here."""
_CORNERS: Final = (Corner.TOP_LEFT, Corner.TOP_RIGHT, Corner.BOTTOM_RIGHT, Corner.BOTTOM_LEFT)
"""Where each of them starts."""
_TRIED: Final = 4
"""Fabrics tried for one corner piece: with three, or any four of more, there is always a way."""

Row = tuple[str, ...]
"""The fabrics of one side, clockwise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """The fabrics of each side, top to bottom or left to right, and the corners where two alike touch."""

    sides: Mapping[Side, Row]
    alike: tuple[Corner, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ring:
    """How many pieces each side has, and how many at its start and its end meet the side before and after it.

    A side that is sewn on first meets its neighbors with the end of one piece. A side that crosses the corners
    meets them with as many pieces as lie along the depth of the border.
    """

    counts: tuple[int, ...]
    heads: tuple[int, ...]
    tails: tuple[int, ...]
    first: tuple[int, int]

    def touch(self, before: Row, side: int, after: Row) -> bool:
        """Whether two alike touch where `side` (its fabrics are `after`) begins."""
        return bool(set(before[-self.tails[side - 1] :]) & set(after[: self.heads[side]]))

    def alike(self, rows: Sequence[Row]) -> tuple[Corner, ...]:
        """The corners where two alike touch."""
        return tuple(
            corner for side, corner in enumerate(_CORNERS) if self.touch(rows[side - 1], side, rows[side])
        )


def fabrics_around(
    lengths: Mapping[Side, Sequence[Fraction]],
    fabrics: Sequence[str],
    *,
    width: Fraction,
    first: tuple[Side, Side],
) -> Around:
    """The fabrics for pieces of `lengths` (top to bottom or left to right), in the maker's order where that works.

    Two alike never lie side by side, neither along a side nor at a corner, if any way of laying `fabrics` avoids
    it. `first` are the sides that are sewn on first; the others cross the corners of a border `width` deep.

    They go around clockwise from the top left corner. If two alike touched, tried are, in this order: another start
    of the sequence; sides that start anew or go backward; the list with its repeats apart; single pieces
    changed, as few as can be. Two fabrics are the only ones that may still touch at a corner.
    """
    ring = _ring(lengths, width, first)
    rows = _rows(ring, tuple(fabrics))
    return Around(
        sides={
            side: row if side in (Side.TOP, Side.RIGHT) else row[::-1]
            for side, row in zip(_SIDES, rows, strict=True)
        },
        alike=ring.alike(rows),
    )


def _ring(lengths: Mapping[Side, Sequence[Fraction]], width: Fraction, first: tuple[Side, Side]) -> _Ring:
    heads, tails = [], []
    for side in _SIDES:
        ends = lengths[side], lengths[side][::-1]
        start, end = ends if side in (Side.TOP, Side.RIGHT) else ends[::-1]
        heads.append(1 if side in first else _along(start, width))
        tails.append(1 if side in first else _along(end, width))
    return _Ring(
        counts=tuple(len(lengths[side]) for side in _SIDES),
        heads=tuple(heads),
        tails=tuple(tails),
        first=(_SIDES.index(first[0]), _SIDES.index(first[1])),
    )


def _along(pieces: Sequence[Fraction], width: Fraction) -> int:
    """How many of `pieces` lie along the first `width` of them."""
    reached = Fraction(0)
    for number, piece in enumerate(pieces, 1):
        reached += piece
        if reached >= width:
            return number
    return len(pieces)


def _rows(ring: _Ring, fabrics: Row) -> Sequence[Row]:
    for order in _orders(fabrics):
        rows = _going_around(ring, order) or _starting_anew(ring, order)
        if rows:
            return rows
    palette = tuple(dict.fromkeys(fabrics))
    if len(palette) > 2:
        return _piece_by_piece(ring, fabrics, palette)
    ways = product(*(dict.fromkeys(_row(palette, start, 1, n) for start in (0, 1)) for n in ring.counts))
    return min(ways, key=lambda rows: len(ring.alike(rows)))


def _orders(fabrics: Row) -> Iterator[Row]:
    """The maker's list; if it has a fabric several times, also with those apart."""
    yield fabrics
    counts = Counter(fabrics)
    if len(counts) == len(fabrics):
        return
    apart: list[str] = [""] * len(fabrics)
    places = (*range(0, len(fabrics), 2), *range(1, len(fabrics), 2))
    by_count = (fabric for fabric, count in counts.most_common() for _ in range(count))
    for place, fabric in zip(places, by_count, strict=True):
        apart[place] = fabric
    yield tuple(apart)


def _row(order: Row, start: int, step: int, count: int) -> Row:
    """`count` fabrics of a sequence that repeats."""
    return tuple(order[(start + step * index) % len(order)] for index in range(count))


def _mixed(row: Row) -> bool:
    """Whether no two neighbors of a side are alike."""
    return all(one != other for one, other in pairwise(row))


def _going_around(ring: _Ring, order: Row) -> Sequence[Row] | None:
    """The sequence going on from side to side, from the earliest start at which no two alike touch."""
    for start in range(len(order)):
        rows, turn = [], start
        for count in ring.counts:
            rows.append(_row(order, turn, 1, count))
            turn += count
        if all(map(_mixed, rows)) and not ring.alike(rows):
            return rows
    return None


def _starting_anew(ring: _Ring, order: Row) -> Sequence[Row] | None:
    """The sequence begun anew on a side, or backward, with as many sides as can be going on from the one before."""
    hopeless: set[tuple[int, AbstractSet[str], AbstractSet[str]]] = set()

    def further(rows: tuple[Row, ...], turn: int) -> Sequence[Row] | None:
        side = len(rows)
        if side == len(_SIDES):
            return None if ring.touch(rows[-1], 0, rows[0]) else rows
        key = None
        if rows:
            key = (side, frozenset(rows[0][: ring.heads[0]]), frozenset(rows[-1][-ring.tails[side - 1] :]))
            if key in hopeless:
                return None
        for skip, step in product(range(len(order)), (1, -1)):
            row = _row(order, turn + skip, step, ring.counts[side])
            if not _mixed(row) or (rows and ring.touch(rows[-1], side, row)):
                continue
            found = further((*rows, row), turn + skip + step * len(row))
            if found:
                return found
        if key is not None:
            hopeless.add(key)
        return None

    return further((), 0)


def _piece_by_piece(ring: _Ring, fabrics: Row, palette: Row) -> Sequence[Row]:
    """Three fabrics or more, with single pieces changed: what the corner pieces are comes first, then the rest."""
    wanted, turn = [], 0
    for count in ring.counts:
        wanted.append(_row(fabrics, turn, 1, count))
        turn += count
    ends = [(side, place) for side in ring.first for place in dict.fromkeys((0, ring.counts[side] - 1))]
    tried = []
    for side, place in ends:
        own = palette.index(wanted[side][place])
        tried.append((palette[own:] + palette[:own])[:_TRIED])
    ways = (
        _around_corners(ring, dict(zip(ends, chosen, strict=True)), wanted, palette)
        for chosen in product(*tried)
    )
    return next(rows for rows in ways if rows is not None)


def _around_corners(
    ring: _Ring, fixed: Mapping[tuple[int, int], str], wanted: Sequence[Row], palette: Row
) -> Sequence[Row] | None:
    """All four sides with the corner pieces as they are `fixed` by side and place; None if one cannot be filled."""
    rows = [_filled(_allowed(ring, side, fixed, palette), row) for side, row in enumerate(wanted)]
    whole = [row for row in rows if row is not None]
    return whole if len(whole) == len(rows) else None


def _allowed(
    ring: _Ring, side: int, fixed: Mapping[tuple[int, int], str], palette: Row
) -> Sequence[Sequence[str]]:
    """What each piece of `side` may be, beside the corner pieces as they are `fixed`."""
    count = ring.counts[side]
    if side in ring.first:
        return [(fixed[side, place],) if (side, place) in fixed else palette for place in range(count)]
    before, after = (side - 1) % len(_SIDES), (side + 1) % len(_SIDES)
    at_start, at_end = fixed[before, ring.counts[before] - 1], fixed[after, 0]
    return [
        [
            fabric
            for fabric in palette
            if not (place < ring.heads[side] and fabric == at_start)
            and not (place >= count - ring.tails[side] and fabric == at_end)
        ]
        for place in range(count)
    ]


def _filled(allowed: Sequence[Sequence[str]], wanted: Row) -> Row | None:
    """The row of what is allowed, no two neighbors alike, that keeps most of `wanted`; None where there is none.

    Piece by piece, the cheapest row that ends in each fabric: it goes on from the cheapest so far, or from the
    second cheapest where that one ends in the same fabric.
    """
    costs: list[dict[str, tuple[int, str]]] = []
    for place, choices in enumerate(allowed):
        best = sorted(costs[-1].items(), key=lambda item: item[1][0])[:2] if costs else []
        here: dict[str, tuple[int, str]] = {}
        for fabric in choices:
            cost, before = 0, ""
            if place:
                reached = next(((name, so_far[0]) for name, so_far in best if name != fabric), None)
                if reached is None:
                    continue
                before, cost = reached
            here[fabric] = (cost + (fabric != wanted[place]), before)
        if not here:
            return None
        costs.append(here)
    fabric = min(costs[-1], key=lambda name: costs[-1][name][0])
    row = []
    for here in reversed(costs):
        row.append(fabric)
        fabric = here[fabric][1]
    return tuple(reversed(row))
