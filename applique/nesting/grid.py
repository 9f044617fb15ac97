"""Our own placement: bottom-left on the true shapes, deterministic on every machine.

Each shape, grown by half the
spacing, is laid on a grid of small cells, and every cell it touches counts as taken; a column of the strip is
one integer whose bits are its cells, so that all heights of a column are tried at once. What is laid down so
can only keep more than the spacing, never less.
"""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final, NamedTuple

import shapely
from shapely import GeometryType, affinity
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from applique.geometry.place import Place
from applique.geometry.polygons import solid
from applique.nesting.values import (
    BinNest,
    NestPiece,
    Placement,
    StripNest,
    check_pieces,
    fits,
    nest_length,
    too_large,
)

__all__ = ["forget_nests", "lay_strip", "nest_bins"]

_CELL: Final = 1 / 16
_COARSE_CELL: Final = 1 / 8
_MANY: Final = 300
"""With more pieces than this the cells are coarser and one order is tried instead of all."""
_LEAST_SHUFFLES: Final = 4
_MOST_SHUFFLES: Final = 16
_SHUFFLED_COPIES: Final = 1200
_TOUCH: Final = 1e-9
"""A shape that reaches into a cell by less than this does not take it."""
_QUADRANT_SEGMENTS: Final = 8

Run = tuple[int, int]
"""First and last taken cell of a column."""
Span = tuple[float, float]
"""From where to where a shape reaches in a column, in inches."""
Cell = tuple[float, float]
"""Width and height of a cell in inches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Mask:
    """A turned piece on the grid: for each of its columns the runs it takes, and its height in cells.

    `checks` are its runs with the longest first, as those meet something soonest. `offset` moves the turned shape so
    that the grown one starts at the grid's corner.
    """

    key: str
    turn_deg: float
    columns: tuple[tuple[Run, ...], ...]
    checks: tuple[_Check, ...]
    rows: int
    offset: tuple[float, float]


class _Check(NamedTuple):
    """A run that must be free in a column of a mask, and how it is looked up: of `length` cells from `low` on, the last
    `rest` are what is left after 2 ** `level`."""

    column: int
    low: int
    level: int
    rest: int


def _check(column: int, run: Run) -> _Check:
    low, high = run
    level = (high - low + 1).bit_length() - 1
    return _Check(column=column, low=low, level=level, rest=high - low + 1 - (1 << level))


class _Board:
    """A grid being filled: one integer a column, a set bit for a taken cell.

    With each column are kept, as far as they were asked for, its cells smeared over 2, 4, 8 ... rows: a bit is set
    where a run so long would meet something.
    """

    def __init__(self, *, rows: int, columns: int | None) -> None:
        self.rows, self.columns = rows, columns
        self._taken: list[list[int]] = []
        self._start: dict[int, int] = {}

    def spot(self, mask: _Mask) -> tuple[int, int] | None:
        """The leftmost and there lowest free (column, row) for `mask`; as cells only fill, it moves right."""
        if mask.rows > self.rows:
            return None
        everywhere = (1 << (self.rows - mask.rows + 1)) - 1
        last = None if self.columns is None else self.columns - len(mask.columns)
        column = self._start.get(id(mask), 0)
        while last is None or column <= last:
            free = self._free(mask, column, everywhere)
            if free:
                self._start[id(mask)] = column
                return column, (free & -free).bit_length() - 1
            column += 1
        self._start[id(mask)] = column
        return None

    def _free(self, mask: _Mask, column: int, free: int) -> int:
        taken, filled = self._taken, len(self._taken)
        for across, low, level, rest in mask.checks:
            if column + across >= filled:
                continue
            smeared = taken[column + across]
            if not smeared[0]:
                continue
            while len(smeared) <= level:
                smeared.append(smeared[-1] | smeared[-1] >> (1 << (len(smeared) - 1)))
            cells = smeared[level]
            free &= ~((cells | cells >> rest) >> low)
            if not free:
                return 0
        return free

    def copy(self) -> _Board:
        """A board with the same cells taken."""
        board = _Board(rows=self.rows, columns=self.columns)
        board._taken = list(self._taken)
        return board

    def block(self, column: int, columns: Sequence[Sequence[Run]], row: int = 0) -> None:
        """Take the cells of `columns`, the first of which is `column`, `row` cells further up."""
        self._taken += ([0] for _ in range(column + len(columns) - len(self._taken)))
        for across, runs in enumerate(columns, column):
            cells = self._taken[across][0]
            for low, high in runs:
                cells |= ((1 << (high - low + 1)) - 1) << (low + row)
            self._taken[across] = [cells]

    def lay(self, mask: _Mask, spot: tuple[int, int]) -> None:
        """Take the cells of `mask` at `spot`."""
        column, row = spot
        self.block(column, mask.columns, row)


def lay_strip(
    pieces: Sequence[NestPiece], *, width: float, spacing: float, fixed: Sequence[Placement] = ()
) -> StripNest:
    """All `pieces` on a strip `width` inches wide, at least `spacing` apart, on as little length as is found.

    Pieces in `fixed` stay where they are put; the counts of `pieces` include them.

    Raises:
        Refusal: a piece wider than the strip in all its turns.
        ValueError: shapes, counts or keys that make no sense.
    """
    check_pieces(pieces, spacing, width)
    large = [piece for piece in pieces if not fits(piece, width=width)]
    if large:
        raise too_large(large, width)
    return _on_strip(tuple(pieces), width, spacing, tuple(fixed))


def nest_bins(
    pieces: Sequence[NestPiece],
    *,
    width: float,
    height: float,
    spacing: float,
    enough: int = 1,
    in_order: bool = False,
) -> BinNest:
    """All `pieces` on as few equal pages as are found, or on no more than are `enough`, at least `spacing` apart.

    With `in_order` they lie on their pages in the order they come, where that takes no more pages.

    Raises:
        Refusal: a piece that fits no page in any of its turns.
        ValueError: shapes, counts or keys that make no sense.
    """
    check_pieces(pieces, spacing, width, height)
    large = [piece for piece in pieces if not fits(piece, width=width, height=height)]
    if large:
        raise too_large(large, width, height)
    return _on_pages(tuple(pieces), (width, height), spacing, enough, in_order)


def forget_nests() -> None:
    """Every nest is sought afresh: for who measures how long that takes."""
    for kept in (_on_strip, _on_pages, _spans):
        kept.cache_clear()


@lru_cache(maxsize=256)
def _on_strip(
    pieces: tuple[NestPiece, ...], width: float, spacing: float, fixed: tuple[Placement, ...]
) -> StripNest:
    """Remembered: most that a maker changes leaves the letters of most fabrics as they are."""
    fine = _fineness(pieces)
    rows = math.ceil((width + spacing) / fine)
    cell = (fine, (width + spacing) / rows)
    masks = {piece.key: _masks(piece, spacing, cell, rows) for piece in pieces}
    shapes = {piece.key: piece.shape for piece in pieces}
    taken = _Board(rows=rows, columns=None)
    for spot in fixed:
        taken.block(*_absolute(spot.place.shape(solid(shapes[spot.key])), spacing, cell, rows))
    free = _without(pieces, fixed)
    orders = list(_orders(free, masks)) or [()]
    tried = [(*fixed, *_filled_strip(order, masks, taken.copy(), cell, spacing)) for order in orders]
    measured = [(nest_length(placements, shapes), placements) for placements in tried]
    length, placements = min(measured, key=lambda found: found[0])
    return StripNest(width=width, length=length, spacing=spacing, placements=placements)


@lru_cache(maxsize=256)
def _on_pages(
    pieces: tuple[NestPiece, ...], size: tuple[float, float], spacing: float, enough: int, in_order: bool
) -> BinNest:
    width, height = size
    fine = _fineness(pieces)
    columns, rows = math.ceil((width + spacing) / fine), math.ceil((height + spacing) / fine)
    cell = ((width + spacing) / columns, (height + spacing) / rows)
    masks = {piece.key: _masks(piece, spacing, cell, rows) for piece in pieces}
    fewest = math.ceil(sum(solid(p.shape).area * p.count for p in pieces) / (width * height) - _TOUCH)
    bins: tuple[tuple[Placement, ...], ...] = ()
    better_than: tuple[int, int] | None = None
    if in_order:
        order = tuple(piece.key for piece in pieces for _ in range(piece.count))
        bins = _filled_bins(order, masks, (rows, columns), cell, spacing)
        if len(bins) <= max(fewest, enough):
            return BinNest(width=width, height=height, spacing=spacing, bins=bins)
        better_than = len(bins), 0
    for order in (*_orders(pieces, masks), *_shuffled(pieces)):
        found = _filled_bins(order, masks, (rows, columns), cell, spacing, better_than)
        if found:
            bins, better_than = found, (len(found), len(found[-1]))
        if len(bins) <= max(fewest, enough):
            break
    return BinNest(width=width, height=height, spacing=spacing, bins=bins)


def _fineness(pieces: Sequence[NestPiece]) -> float:
    """The largest side of a cell; cells are made to fill the width exactly, so that what fits has a place."""
    return _COARSE_CELL if sum(piece.count for piece in pieces) > _MANY else _CELL


def _orders(pieces: Sequence[NestPiece], masks: dict[str, tuple[_Mask, ...]]) -> Iterator[tuple[str, ...]]:
    """Orders to lay the pieces down in, largest first by several measures; equal ones as they came."""
    place = {piece.key: index for index, piece in enumerate(pieces)}
    measures: tuple[Callable[[NestPiece], float], ...] = (
        lambda piece: min(len(mask.columns) for mask in masks[piece.key]),
        lambda piece: piece.shape.area,
        lambda piece: piece.shape.convex_hull.area,
        lambda piece: max(mask.rows for mask in masks[piece.key]),
    )
    many = sum(piece.count for piece in pieces) > _MANY
    seen: set[tuple[str, ...]] = set()
    for measure in measures[:1] if many else measures:
        ordered = sorted(pieces, key=lambda piece: (-measure(piece), place[piece.key]))
        order = tuple(piece.key for piece in ordered for _ in range(piece.count))
        if order not in seen:
            seen.add(order)
            yield order


def _shuffled(pieces: Sequence[NestPiece]) -> Iterator[tuple[str, ...]]:
    """More orders, largest first but for chance; chance that is the same on every run and machine.

    On pages they save about one in twenty, measured with 24 to 200 capitals.
    """
    copies = [(piece.key, piece.shape.convex_hull.area) for piece in pieces for _ in range(piece.count)]
    chance = random.Random(0)
    for _ in range(max(_LEAST_SHUFFLES, min(_MOST_SHUFFLES, _SHUFFLED_COPIES // len(copies)))):
        weighed = [(-area * (0.5 + chance.random()), index) for index, (_, area) in enumerate(copies)]
        yield tuple(copies[index][0] for _, index in sorted(weighed))


def _filled_strip(
    order: Sequence[str], masks: dict[str, tuple[_Mask, ...]], board: _Board, cell: Cell, spacing: float
) -> tuple[Placement, ...]:
    placements: list[Placement] = []
    for key in order:
        found = _best_spot(board, masks[key])
        if found is None:
            raise ValueError(f"{key} fits the strip and found no place on its grid")
        placements.append(_laid(board, *found, cell, spacing))
    return tuple(placements)


def _best_spot(board: _Board, masks: Sequence[_Mask]) -> tuple[_Mask, tuple[int, int]] | None:
    """Of all turns the one whose far side comes to lie furthest left."""
    spots = [(mask, spot) for mask in masks if (spot := board.spot(mask)) is not None]
    return min(spots, key=lambda found: found[1][0] + len(found[0].columns), default=None)


def _laid(board: _Board, mask: _Mask, spot: tuple[int, int], cell: Cell, spacing: float) -> Placement:
    board.lay(mask, spot)
    return Placement(
        key=mask.key,
        place=Place(
            x=spot[0] * cell[0] + mask.offset[0] - spacing / 2,
            y=spot[1] * cell[1] + mask.offset[1] - spacing / 2,
            turn_deg=mask.turn_deg,
        ),
    )


def _filled_bins(
    order: Sequence[str],
    masks: dict[str, tuple[_Mask, ...]],
    size: tuple[int, int],
    cell: Cell,
    spacing: float,
    better_than: tuple[int, int] | None = None,
) -> tuple[tuple[Placement, ...], ...]:
    """First fit: each piece onto the first page that takes it, a new page when none does.

    Nothing once it takes no fewer pages than `better_than` says, nor as many with fewer pieces on the last one.
    """
    rows, columns = size
    boards: list[_Board] = []
    bins: list[list[Placement]] = []
    roomy: dict[str, int] = {}  # pages only fill: those before this one have no room for the piece any more
    for key in order:
        for page in range(roomy.get(key, 0), len(boards)):
            found = _best_spot(boards[page], masks[key])
            if found is not None:
                bins[page].append(_laid(boards[page], *found, cell, spacing))
                roomy[key] = page
                break
        else:
            roomy[key] = len(boards)
            boards.append(_Board(rows=rows, columns=columns))
            found = _best_spot(boards[-1], masks[key])
            if found is None:
                raise ValueError(f"{key} fits a page and found no place on its grid")
            bins.append([_laid(boards[-1], *found, cell, spacing)])
        if better_than is not None and (len(bins), len(bins[-1])) >= better_than:
            return ()
    return tuple(tuple(placements) for placements in bins)


def _masks(piece: NestPiece, spacing: float, cell: Cell, rows: int) -> tuple[_Mask, ...]:
    masks = (_mask(piece, turn_deg, spacing, cell) for turn_deg in piece.turns_deg)
    return tuple(mask for mask in masks if mask.rows <= rows)


def _without(pieces: Sequence[NestPiece], fixed: Sequence[Placement]) -> list[NestPiece]:
    """The pieces that are still to be laid, each with its count."""
    laid = Counter(spot.key for spot in fixed)
    return [replace(p, count=p.count - laid[p.key]) for p in pieces if p.count > laid[p.key]]


def _absolute(
    shape: BaseGeometry, spacing: float, cell: Cell, rows: int
) -> tuple[int, tuple[tuple[Run, ...], ...]]:
    """The first column and the runs that a shape takes where it lies on the strip, its half spacing included."""
    grown = affinity.translate(_grown(shape, spacing), spacing / 2, spacing / 2)
    across, up = cell
    x0, _, x1, y1 = grown.bounds
    first, last = max(0, math.floor(x0 / across)), math.ceil(x1 / across)
    columns = (
        shapely.clip_by_rect(grown, i * across, -1, (i + 1) * across, y1 + 1) for i in range(first, last)
    )
    return first, tuple(
        tuple((low, min(high, rows - 1)) for low, high in runs if low < rows)
        for runs in (_joined(spans, 0.0, up) for spans in _reached(tuple(columns)))
    )


def _grown(shape: BaseGeometry, spacing: float) -> BaseGeometry:
    """`shape` with half the spacing around it, square to its bounds where it touches them."""
    x0, y0, x1, y1 = shape.bounds
    # Segments cut the corners of a round join short, so what they lack is added to the distance.
    reach = spacing / 2 / math.cos(math.pi / 4 / _QUADRANT_SEGMENTS)
    grown: BaseGeometry = shape.buffer(reach, quad_segs=_QUADRANT_SEGMENTS, join_style="round")
    square = box(x0 - spacing / 2, y0 - spacing / 2, x1 + spacing / 2, y1 + spacing / 2)
    clipped: BaseGeometry = grown.intersection(square)
    return clipped


def _mask(piece: NestPiece, turn_deg: float, spacing: float, cell: Cell) -> _Mask:
    across, up = cell
    (left, low, top), spans = _spans(piece.shape, turn_deg, spacing, across)
    columns = tuple(_joined(one, low, up) for one in spans)
    checks = (_check(column, run) for column, runs in enumerate(columns) for run in runs)
    return _Mask(
        key=piece.key,
        turn_deg=turn_deg,
        columns=columns,
        checks=tuple(sorted(checks, key=lambda check: -(check.rest + (1 << check.level)))),
        rows=max(1, math.ceil((top - low) / up - _TOUCH)),
        offset=(-left, -low),
    )


@lru_cache(maxsize=2048)
def _spans(
    shape: Polygon | MultiPolygon, turn_deg: float, spacing: float, across: float
) -> tuple[tuple[float, float, float], tuple[tuple[Span, ...], ...]]:
    """The left, lower and upper edge of a turned shape with half the spacing around it, and from where to where it
    reaches in each column `across` wide; remembered, for letters are nested on many widths."""
    turned = affinity.rotate(solid(shape), turn_deg, origin=(0.0, 0.0))
    x0, y0, x1, y1 = turned.bounds
    grown = _grown(turned, spacing)
    left, low = x0 - spacing / 2, y0 - spacing / 2
    count = max(1, math.ceil((x1 + spacing / 2 - left) / across - _TOUCH))
    top = y1 + spacing / 2 + 1
    clipped = tuple(
        shapely.clip_by_rect(grown, left + i * across, low - 1, left + (i + 1) * across, top)
        for i in range(count)
    )
    return (left, low, y1 + spacing / 2), _reached(clipped)


def _reached(clipped: Sequence[BaseGeometry]) -> tuple[tuple[Span, ...], ...]:
    """For each column from where to where the parts of its clipping reach, lowest first."""
    parts, columns = shapely.get_parts(clipped, return_index=True)
    is_area = (shapely.get_type_id(parts) == GeometryType.POLYGON) & ~shapely.is_empty(parts)
    bounds = shapely.bounds(parts[is_area])[:, 1::2].tolist()
    spans: list[list[Span]] = [[] for _ in clipped]
    for column, (y0, y1) in zip(columns[is_area].tolist(), bounds, strict=True):
        spans[column].append((y0, y1))
    return tuple(tuple(sorted(one)) for one in spans)


def _joined(spans: Sequence[Span], low: float, cell: float) -> tuple[Run, ...]:
    """The cells that spans of a column touch, as runs that neither touch nor overlap."""
    runs: list[list[int]] = []
    for y0, y1 in spans:
        first = max(0, math.floor((y0 - low) / cell + _TOUCH))
        last = max(first, math.ceil((y1 - low) / cell - _TOUCH) - 1)
        if runs and first <= runs[-1][1] + 1:
            runs[-1][1] = max(runs[-1][1], last)
        else:
            runs.append([first, last])
    return tuple((first, last) for first, last in runs)
