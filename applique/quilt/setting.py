"""Blocks set together into one top: where each lies, what is cut between them, and how large it is after each step.

Exact inches throughout. Frame of the set top: its finished lower left corner at 0, y up.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import accumulate

from applique.design import Grid, Setting, sides_of
from applique.fabrics import Fabrics
from applique.quilt.strips import ClothCut, CutKind, CutPieces, Extent, Join
from applique.units import Units, cut_on_grid, cutting_step, round_near

__all__ = ["SetPart", "SetPatch", "SetPlace", "SettingPlan", "plan_setting"]


class SetPart(StrEnum):
    """What lies between blocks."""

    PLAIN = "plain blocks"
    SASHING = "sashing"
    CORNERSTONES = "cornerstones"


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPlace:
    """A place of the grid: `row` and `column` from 0, the number of its `block` from 0 or None where a plain one lies,
    its lower left `corner` and its finished `size`."""

    row: int
    column: int
    block: int | None
    corner: Extent
    size: Extent


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPatch:
    """A piece between the blocks as it shows: its lower left `corner` and its finished `size`."""

    part: SetPart
    fabric: str
    corner: Extent
    size: Extent


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingPlan:
    """Blocks set together. `columns` are the finished widths of its columns, `rows` the heights of its rows from the
    top, `sashing` the finished width between them, 0 without; it lies `around` the outside too, or not. Strips between
    the rows are long ones where there are no `cornerstones`. Sizes to cut are multiples of `step`."""

    grid: Grid
    columns: tuple[Fraction, ...]
    rows: tuple[Fraction, ...]
    sashing: Fraction
    around: bool
    cornerstones: bool
    seam_allowance: Fraction
    step: Fraction
    plain_fabric: str
    sashing_fabric: str
    cornerstone_fabric: str

    @property
    def upright(self) -> int:
        """How many upright pieces of sashing each row of blocks has."""
        return self._strips(len(self.columns))

    @property
    def level(self) -> int:
        """How many rows of sashing there are, or long strips."""
        return self._strips(len(self.rows))

    def _strips(self, lines: int) -> int:
        if not self.sashing:
            return 0
        return lines + 1 if self.around else lines - 1

    @property
    def finished(self) -> Extent:
        """Width and height of the set top."""
        return (
            sum(self.columns, Fraction(0)) + self.upright * self.sashing,
            sum(self.rows, Fraction(0)) + self.level * self.sashing,
        )

    @property
    def plain(self) -> int:
        """How many plain blocks there are."""
        return sum(number is None for row in self.grid for number in row)

    @property
    def places(self) -> Iterator[SetPlace]:
        """Every place, row by row from the top, from the left."""
        lefts, bottoms = self._lefts(), self._bottoms()
        for row, blocks in enumerate(self.grid):
            for column, block in enumerate(blocks):
                yield SetPlace(
                    row=row,
                    column=column,
                    block=block,
                    corner=(lefts[column], bottoms[row]),
                    size=(self.columns[column], self.rows[row]),
                )

    def corners_of(self, block: int) -> tuple[Extent, ...]:
        """The lower left corner of each place of a block."""
        return tuple(place.corner for place in self.places if place.block == block)

    def _lefts(self) -> list[Fraction]:
        edge = self.sashing if self.around else Fraction(0)
        return list(accumulate((width + self.sashing for width in self.columns[:-1]), initial=edge))

    def _bottoms(self) -> list[Fraction]:
        edge = self.sashing if self.around else Fraction(0)
        tops = accumulate((height + self.sashing for height in self.rows), initial=edge)
        return [self.finished[1] - top - height for top, height in zip(tops, self.rows, strict=False)]

    @property
    def patches(self) -> Iterator[SetPatch]:
        """Every piece between the blocks as it shows: plain blocks, sashing, cornerstones."""
        for place in self.places:
            if place.block is None:
                yield self._patch(SetPart.PLAIN, place.corner, place.size)
        if not self.sashing:
            return
        wide = self.sashing
        uprights = self._between(self._lefts(), self.columns)
        levels = self._between(self._bottoms()[::-1], self.rows[::-1])
        for bottom, height in zip(self._bottoms(), self.rows, strict=True):
            for x in uprights:
                yield self._patch(SetPart.SASHING, (x, bottom), (wide, height))
        for y in reversed(levels):
            if not self.cornerstones:
                yield self._patch(SetPart.SASHING, (Fraction(0), y), (self.finished[0], wide))
                continue
            for left, width in zip(self._lefts(), self.columns, strict=True):
                yield self._patch(SetPart.SASHING, (left, y), (width, wide))
            for x in uprights:
                yield self._patch(SetPart.CORNERSTONES, (x, y), (wide, wide))

    def _between(self, starts: Sequence[Fraction], sides: Sequence[Fraction]) -> list[Fraction]:
        """Where each sashing between lines begins, and those outside."""
        ends = [start + side for start, side in zip(starts, sides, strict=True)]
        return [Fraction(0), *ends] if self.around else ends[:-1]

    def _patch(self, part: SetPart, corner: Extent, size: Extent) -> SetPatch:
        return SetPatch(part=part, fabric=self._fabric(part), corner=corner, size=size)

    def _fabric(self, part: SetPart) -> str:
        match part:
            case SetPart.PLAIN:
                return self.plain_fabric
            case SetPart.SASHING:
                return self.sashing_fabric
            case SetPart.CORNERSTONES:
                return self.cornerstone_fabric

    @property
    def level_seams(self) -> tuple[Fraction, ...]:
        """The heights of its seams from side to side, from the top; nothing of its edges."""
        sides = [
            side
            for bottom, height in zip(self._bottoms(), self.rows, strict=True)
            for side in (bottom + height, bottom)
        ]
        return tuple(side for side in dict.fromkeys(sides) if 0 < side < self.finished[1])

    @property
    def upright_seams(self) -> tuple[tuple[Fraction, Fraction, Fraction], ...]:
        """Its upright seams, from the left, each with where it begins and ends: from end to end of the top, or where
        long strips of sashing lie between the rows that of each row from the top; nothing of its edges."""
        sides = [
            side
            for left, width in zip(self._lefts(), self.columns, strict=True)
            for side in (left, left + width)
        ]
        inner = [side for side in dict.fromkeys(sides) if 0 < side < self.finished[0]]
        if self.cornerstones or not self.sashing:
            return tuple((side, Fraction(0), self.finished[1]) for side in inner)
        return tuple(
            (side, bottom, bottom + height)
            for side in inner
            for bottom, height in zip(self._bottoms(), self.rows, strict=True)
        )

    def cut(self, side: Fraction) -> Fraction:
        """A finished side as it is cut, or measures from raw edge to raw edge."""
        return side + 2 * self.seam_allowance

    @property
    def row_sizes(self) -> tuple[Extent, ...]:
        """What each row of blocks measures from raw edge to raw edge once it is sewn, from the top."""
        return tuple((self.cut(self.finished[0]), self.cut(height)) for height in self.rows)

    @property
    def level_size(self) -> Extent:
        """What each row of sashing, or long strip, measures from raw edge to raw edge."""
        return self.cut(self.finished[0]), self.cut(self.sashing)

    @property
    def joined_sizes(self) -> tuple[Extent, ...]:
        """What the top measures from raw edge to raw edge once the first rows of blocks are joined, for one row, two,
        and so on, with the sashing above and between them, without that below."""
        above = self.sashing if self.around else Fraction(0)
        heights = accumulate(self.rows, lambda high, row: high + self.sashing + row)
        return tuple((self.cut(self.finished[0]), self.cut(above + high)) for high in heights)

    @property
    def set_size(self) -> Extent:
        """What the whole set top measures from raw edge to raw edge."""
        across, down = self.finished
        return self.cut(across), self.cut(down)

    @property
    def cuts(self) -> Iterator[tuple[SetPart, ClothCut]]:
        """What is cut for each part, equal widths together."""
        plain: dict[Fraction, list[tuple[Fraction, bool]]] = {}
        for place in self.places:
            if place.block is None:
                width, height = map(self.cut, place.size)
                plain.setdefault(width, []).append((height, True))
        for width, lengths in plain.items():
            yield SetPart.PLAIN, self._cloth(SetPart.PLAIN, CutKind.PLAIN_BLOCKS, width, lengths)
        if not self.sashing:
            return
        wide = self.cut(self.sashing)
        short = [(self.cut(height), True) for height in self.rows for _ in range(self.upright)]
        if self.cornerstones:
            short += [(self.cut(width), False) for width in self.columns for _ in range(self.level)]
        if short:
            yield SetPart.SASHING, self._cloth(SetPart.SASHING, CutKind.SASHING, wide, short)
        if self.level and not self.cornerstones:
            long = [(round_near(self.cut(self.finished[0]), self.step), False)] * self.level
            yield (
                SetPart.SASHING,
                self._cloth(SetPart.SASHING, CutKind.SASHING, wide, long, join=Join.DIAGONAL),
            )
        stones = self.level * self.upright if self.cornerstones else 0
        if stones:
            yield (
                SetPart.CORNERSTONES,
                self._cloth(SetPart.CORNERSTONES, CutKind.CORNERSTONES, wide, [(wide, True)] * stones),
            )

    def _cloth(
        self,
        part: SetPart,
        kind: CutKind,
        width: Fraction,
        lengths: Iterable[tuple[Fraction, bool]],
        join: Join | None = None,
    ) -> ClothCut:
        return ClothCut(
            fabric=self._fabric(part),
            kind=kind,
            strip_width=width,
            pieces=tuple(
                CutPieces(length=length, count=count, upright=upright)
                for (length, upright), count in Counter(lengths).items()
            ),
            join=join,
        )

    @property
    def seams(self) -> Fraction:
        """How long all its seams are together: those of each row from top to bottom, those between rows from side to
        side, and those of rows of sashing."""
        pieces = len(self.columns) + self.upright
        lines = len(self.rows) + self.level
        of_rows = (pieces - 1) * sum(map(self.cut, self.rows))
        of_sashing = (pieces - 1) * self.level * self.cut(self.sashing) if self.cornerstones else Fraction(0)
        return of_rows + of_sashing + (lines - 1) * self.cut(self.finished[0])


def plan_setting(
    setting: Setting,
    grid: Grid,
    sizes: Sequence[Extent],
    plain: Extent,
    fabrics: Fabrics,
    *,
    seam_allowance: Fraction,
    units: Units,
) -> SettingPlan:
    """Blocks of those finished sizes set together as `setting` asks, of a design without problems; `plain` is the size
    of a plain block in a column or row that has no other. Sashing is as wide as typed, to the nearest that can be cut
    as printed."""
    columns, rows = sides_of(grid, sizes, plain)
    return SettingPlan(
        grid=grid,
        columns=columns,
        rows=rows,
        sashing=Fraction(0)
        if setting.sashing is None
        else cut_on_grid(setting.sashing, seam_allowance=seam_allowance, units=units),
        around=setting.around,
        cornerstones=bool(setting.cornerstone_fabric),
        seam_allowance=seam_allowance,
        step=cutting_step(units),
        plain_fabric=fabrics.plain.name,
        sashing_fabric=fabrics.sashing.name,
        cornerstone_fabric=setting.cornerstone_fabric,
    )
