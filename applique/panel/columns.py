"""Rows that run down beside one another, with the rows across in one block among them.

Inches; a row's ink is its extent about its own origin at a given cap height. Along the panel from left to right stand
the columns, one for each row that runs down, and the block: rows that run across, one below the other as ever.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from applique.design import Align, Columns, Design
from applique.geometry.points import Bounds, extent
from applique.panel.requests import RowRequest
from applique.typeset.downward import is_set_down

__all__ = ["Beside", "across_alone", "beside", "down_start", "of_rows", "run_down", "slack_beside"]

Anything = TypeVar("Anything")


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Where rows lie beside one another: the left and right of the ink of each; rows across share theirs."""

    spans: tuple[tuple[float, float], ...]


def run_down(design: Design) -> bool:
    """Whether any row runs down."""
    return any(row.runs_down for row in design.row)


def across_alone(design: Design) -> Design:
    """The design with its rows across alone."""
    return replace(design, row=tuple(row for row in design.row if not row.runs_down))


def of_rows(items: Iterable[Anything], design: Design, *, down: bool) -> list[Anything]:
    """What belongs to the rows that run that way."""
    return [one for one, row in zip(items, design.row, strict=True) if row.runs_down is down]


def beside(design: Design, inks: Sequence[Bounds]) -> Beside:
    """Where columns and block lie: with equal white at the sides and between, no less than the margin at the sides and
    the row gap between."""
    order = _order(design)
    wide = _widths(design, inks)
    panel, margin, gap = (
        float(design.panel_size[0]),
        float(design.panel.margin),
        float(design.lettering.row_gap),
    )
    taken, between = math.fsum(wide[one] for one in order), len(order) - 1
    white = (panel - taken) / (len(order) + 1)
    outside = max(white, margin)
    inside = (panel - taken - 2 * outside) / between if between else 0.0
    if between and inside < gap:
        inside, outside = gap, (panel - taken - between * gap) / 2
    found: dict[int, tuple[float, float]] = {}
    x = outside
    for one in order:
        found[one] = (x, x + wide[one])
        x += wide[one] + inside
    block = next((index for index, row in enumerate(design.row) if not row.runs_down), -1)
    return Beside(
        spans=tuple(found[index if row.runs_down else block] for index, row in enumerate(design.row))
    )


def _order(design: Design) -> list[int]:
    """The rows that run down, and of the others the first, from left to right, by their index."""
    first = next((index for index, row in enumerate(design.row) if not row.runs_down), None)
    order = [index for index, row in enumerate(design.row) if row.runs_down or index == first]
    return order[::-1] if _from_right(design) else order


def _from_right(design: Design) -> bool:
    """From which side rows follow one another.

    Source:
        W3C, Requirements for Japanese Text Layout: in vertical writing mode lines follow one another from right to
        left.
    """
    if design.lettering.columns is not None:
        return design.lettering.columns is Columns.FROM_RIGHT
    return is_set_down(next(row.text for row in design.row if row.runs_down))


def _widths(design: Design, inks: Sequence[Bounds]) -> dict[int, float]:
    """How wide each column is, and under the index of each row across, how wide the block."""
    wide = [extent(ink)[0] for ink in inks]
    block = max(of_rows(wide, design, down=False), default=0.0)
    return {index: wide[index] if row.runs_down else block for index, row in enumerate(design.row)}


def slack_beside(design: Design, inks: Sequence[Bounds]) -> tuple[float, float]:
    """What is left, in inches, between the margins: across of all rows with the gaps between them, and down of the
    longest row that runs down; negative: too large."""
    order, wide = _order(design), _widths(design, inks)
    margins = 2 * design.panel.margin
    across = float(design.panel_size[0] - margins - (len(order) - 1) * design.lettering.row_gap)
    long = max(extent(ink)[1] for ink in of_rows(inks, design, down=True))
    return across - math.fsum(wide[one] for one in order), float(design.panel_size[1] - margins) - long


def down_start(design: Design, request: RowRequest, ink: Bounds, count: int) -> tuple[float, float]:
    """The y of the origin of a row that runs down, and what is put between its `count` letters."""
    _, low, _, top = ink
    height, margin = float(design.panel_size[1]), float(design.panel.margin)
    between = 0.0
    match request.align:
        case Align.LEFT:
            start = height - margin - top
        case Align.RIGHT:
            start = margin - low
        case Align.SPREAD if count > 1:
            start = height - margin - top
            between = (height - 2 * margin - (top - low)) / (count - 1)
        case _:
            start = (height - low - top) / 2
    return start, between
