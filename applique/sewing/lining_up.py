"""Words of blocks that are set beside one another, lined up by their baselines."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import Grid
from applique.panel import PanelPlan, PlacedRow

__all__ = ["moves_to_line_up"]

_EXACT: Final = 2_540_000
"""So many parts of an inch hold every eighth and sixteenth of one and every tenth of a millimeter."""


def moves_to_line_up(grid: Grid, panels: Sequence[PanelPlan]) -> dict[int, dict[int, Fraction]]:
    """How far up each row of words moves, in exact inches, by the number of its block and its place in it, both from 0;
    rows that stay are left out.

    Rows of words are lined up with those at the same place in the other blocks of a row of the grid that have as many:
    they all move to the baseline that most of them have, of several the lowest. Rows that are not level, and those
    whose baseline is stated, neither move nor count. Rows of the grid that have a block in common are lined up alike.
    """
    moves: dict[int, dict[int, Fraction]] = {}
    for blocks in _beside_each_other(grid):
        for rows in {len(panels[number].rows) for number in blocks}:
            alike = [number for number in blocks if len(panels[number].rows) == rows]
            for place in range(rows):
                found = [
                    (number, row.baseline) for number in alike if _is_free(row := panels[number].rows[place])
                ]
                for number, up in _to_most(found):
                    moves.setdefault(number, {})[place] = up
    return moves


def _is_free(row: PlacedRow) -> bool:
    return row.level and row.asked.baseline is None


def _to_most(found: Sequence[tuple[int, float]]) -> Iterator[tuple[int, Fraction]]:
    steps = [(number, round(baseline * _EXACT)) for number, baseline in found]
    counts = Counter(step for _, step in steps)
    if not counts:
        return
    most = min(counts, key=lambda step: (-counts[step], step))
    yield from ((number, Fraction(most - step, _EXACT)) for number, step in steps if step != most)


def _beside_each_other(grid: Grid) -> list[list[int]]:
    """The blocks of each row of the grid, rows with a block in common together."""
    groups: list[set[int]] = []
    for row in grid:
        blocks = {number for number in row if number is not None}
        for other in [group for group in groups if group & blocks]:
            blocks |= other
            groups.remove(other)
        if blocks:
            groups.append(blocks)
    return [sorted(group) for group in groups]
