"""How blocks are set together into one top: the table setting, and which block lies at which place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count
from typing import Annotated, Final, TypeAlias

from applique.design.entries import STRICT, Count, Flag, Size, says
from applique.errors import Problem, Where
from applique.language import message, messages
from applique.units import Units, as_size

__all__ = ["Grid", "Setting", "grid_of", "setting_problems", "sides_of"]

_MOST_PLACES: Final = 400
"""Places in one top, those of plain blocks too."""

Grid: TypeAlias = tuple[tuple[int | None, ...], ...]
"""Rows of places from the top, each from the left: which block of the design lies there, from 0; None for a plain
one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How blocks are set together in rows and columns; without columns or places each is finished by itself."""

    __pydantic_config__ = STRICT
    columns: Annotated[
        Count | None,
        says("how many blocks lie side by side: they are set row by row, in their order", ge=1, le=100),
    ] = None
    places: Annotated[
        tuple[tuple[str, ...], ...],
        says(
            'which block lies where, instead of columns: for each row from the top the names of its blocks; "" is a '
            "plain block",
            max_length=100,
        ),
    ] = ()
    alternate: Annotated[
        Flag, says("a plain block lies between every two blocks, across and down; with columns")
    ] = False
    plain_fabric: Annotated[str, says("fabric of plain blocks; that of the panel if left out")] = ""
    sashing: Annotated[
        Size | None, says("finished width of the sashing between blocks; none if left out")
    ] = None
    sashing_fabric: Annotated[str, says("its fabric; that of the letters if left out")] = ""
    cornerstone_fabric: Annotated[
        str,
        says(
            "fabric of the cornerstones where sashing crosses; without it long strips lie between the rows of blocks"
        ),
    ] = ""
    around: Annotated[Flag, says("sashing lies around the outside of all blocks too")] = False
    align_baselines: Annotated[
        Flag, says("words of blocks beside one another stand on the same baselines")
    ] = False

    @property
    def sets_together(self) -> bool:
        """Whether blocks are sewn into one top."""
        return self.columns is not None or bool(self.places)


def grid_of(setting: Setting, blocks: Sequence[tuple[str, int]]) -> Grid:
    """Which of `blocks`, each a name and how many are made, lies where; of a setting without problems."""
    if setting.places:
        numbers = {name: number for number, (name, _) in enumerate(blocks)}
        return tuple(tuple(numbers[name] if name else None for name in row) for row in setting.places)
    columns = setting.columns or 1
    waiting = iter([number for number, (_, made) in enumerate(blocks) for _ in range(made)])
    return tuple(
        tuple(next(waiting) if is_block else None for is_block in row)
        for row in _filled(setting, columns, sum(made for _, made in blocks))
    )


def _filled(setting: Setting, columns: int, blocks: int) -> list[list[bool]]:
    """Rows until there is room for so many blocks: which places are theirs, the others being plain."""
    rows: list[list[bool]] = []
    for down in count():
        if sum(map(sum, rows)) >= blocks:
            break
        rows.append([not setting.alternate or (down + across) % 2 == 0 for across in range(columns)])
    return rows


def sides_of(
    grid: Grid, sizes: Sequence[tuple[Fraction, Fraction]], plain: tuple[Fraction, Fraction]
) -> tuple[tuple[Fraction, ...], tuple[Fraction, ...]]:
    """The finished width of every column and height of every row: those of its first block, or of a panel that is
    `plain` where it has none."""

    def side(places: Sequence[int | None], which: int) -> Fraction:
        return next((sizes[number][which] for number in places if number is not None), plain[which])

    columns = [[row[across] for row in grid] for across in range(len(grid[0]))]
    return tuple(side(column, 0) for column in columns), tuple(side(row, 1) for row in grid)


def setting_problems(
    setting: Setting,
    blocks: Sequence[tuple[str, int]],
    sizes: Sequence[tuple[Fraction, Fraction]],
    units: Units,
) -> Iterator[Problem]:
    """What keeps `blocks`, each a name and how many are made, of those finished sizes, from being set so."""
    if not setting.sets_together:
        if setting != Setting():
            yield Problem(
                kind="setting-without-columns",
                what=message("the setting does not say how many blocks lie side by side"),
                where=Where.key("setting"),
                fix=message("columns = 3, or places with the names of the blocks row by row"),
            )
        return
    if not blocks:
        yield Problem(
            kind="setting-without-blocks",
            what=message("blocks are set together, and the design has none"),
            where=Where.key("setting"),
            fix=message("a [[block]] for each panel, or leave out [setting]"),
        )
        return
    yield from _of_sashing(setting)
    found = list(_of_places(setting, blocks) if setting.places else _of_columns(setting, blocks))
    yield from found
    if not found:
        yield from _uneven(grid_of(setting, blocks), blocks, sizes, units)


def _of_sashing(setting: Setting) -> Iterator[Problem]:
    for key, there in (
        ("sashing_fabric", setting.sashing_fabric),
        ("cornerstone_fabric", setting.cornerstone_fabric),
        ("around", setting.around),
    ):
        if there and setting.sashing is None:
            yield Problem(
                kind="no-sashing",
                what=message("there is no sashing between the blocks"),
                where=Where.key("setting", key),
                fix=message('sashing = "2in", or leave {key} out', key=key),
            )


def _of_places(setting: Setting, blocks: Sequence[tuple[str, int]]) -> Iterator[Problem]:
    for key, there in (("columns", setting.columns is not None), ("alternate", setting.alternate)):
        if there:
            yield Problem(
                kind="places-and-columns",
                what=message("places say which block lies where, and so does {key}", key=key),
                where=Where.key("setting", key),
                fix=message("leave out one of them"),
            )
    longest = max(map(len, setting.places))
    for number, row in enumerate(setting.places, 1):
        if len(row) != longest or not row:
            yield Problem(
                kind="rows-of-unequal-places",
                what=messages(
                    "row {number} has {count} place, and the longest has {longest}",
                    "row {number} has {count} places, and the longest has {longest}",
                    len(row),
                    number=number,
                    longest=longest,
                ),
                where=Where.key("setting", "places", number),
                fix=message('a name for each place, "" for a plain block'),
            )
    yield from _too_many(longest * len(setting.places))
    known = dict(blocks)
    placed = Counter(name for row in setting.places for name in row if name)
    for name in placed:
        if name not in known:
            yield Problem(
                kind="no-such-block",
                what=message("there is no block “{name}”", name=name),
                where=Where.key("setting", "places"),
                fix=message('the name of a block, or "" for a plain one'),
            )
    for number, (name, made) in enumerate(blocks, 1):
        if placed[name] != made:
            yield Problem(
                kind="placed-otherwise-than-made",
                what=messages(
                    "the block “{name}” has {count} place, and is made {made} times",
                    "the block “{name}” has {count} places, and is made {made} times",
                    placed[name],
                    name=name,
                    made=made,
                ),
                where=Where.key("block", number),
                fix=message("as many places in [setting] as its count says"),
            )


def _of_columns(setting: Setting, blocks: Sequence[tuple[str, int]]) -> Iterator[Problem]:
    columns, made = setting.columns or 1, sum(made for _, made in blocks)
    rows = _filled(setting, columns, made)
    yield from _too_many(columns * len(rows))
    room = sum(map(sum, rows))
    if room != made:
        yield Problem(
            kind="last-row-not-full",
            what=messages(
                "{made} blocks do not fill rows of {columns}: {count} more block would",
                "{made} blocks do not fill rows of {columns}: {count} more blocks would",
                room - made,
                made=made,
                columns=columns,
            ),
            where=Where.key("setting", "columns"),
            fix=message('other columns, more blocks, or places with "" for each plain block'),
        )


def _too_many(places: int) -> Iterator[Problem]:
    if places > _MOST_PLACES:
        yield Problem(
            kind="too-many-places",
            what=message("{count} places are more than {most}", count=places, most=_MOST_PLACES),
            where=Where.key("setting"),
            fix=message("fewer blocks in one top"),
        )


def _uneven(
    grid: Grid, blocks: Sequence[tuple[str, int]], sizes: Sequence[tuple[Fraction, Fraction]], units: Units
) -> Iterator[Problem]:
    """Blocks that are not as wide as the first of their column, or as high as that of their row, each once."""
    for first, other in _unlike(tuple(zip(*grid, strict=True)), [width for width, _ in sizes]):
        width, usual = sizes[other][0], sizes[first][0]
        yield Problem(
            kind="block-of-another-width",
            what=message(
                "the block “{name}” is {width} wide, and “{first}” in the same column {usual}, {by} apart",
                name=blocks[other][0],
                width=as_size(width, units),
                first=blocks[first][0],
                usual=as_size(usual, units),
                by=as_size(abs(width - usual), units),
            ),
            where=Where.key("block", other + 1),
            fix=message("one width for all blocks of a column, or another place for it"),
        )
    for first, other in _unlike(grid, [height for _, height in sizes]):
        height, usual = sizes[other][1], sizes[first][1]
        yield Problem(
            kind="block-of-another-height",
            what=message(
                "the block “{name}” is {height} high, and “{first}” in the same row {usual}, {by} apart",
                name=blocks[other][0],
                height=as_size(height, units),
                first=blocks[first][0],
                usual=as_size(usual, units),
                by=as_size(abs(height - usual), units),
            ),
            where=Where.key("block", other + 1),
            fix=message("one height for all blocks of a row, or another place for it"),
        )


def _unlike(lines: Sequence[Sequence[int | None]], sides: Sequence[Fraction]) -> Iterator[tuple[int, int]]:
    """The first block of each line with those whose side is another, each pair once."""
    found: dict[tuple[int, int], None] = {}
    for line in lines:
        there = [number for number in line if number is not None]
        found |= {(there[0], other): None for other in there[1:] if sides[other] != sides[there[0]]}
    yield from found
