"""Tables of the instructions, set in lines: heads, rows, and the letters of fabrics on their colors.

Sizes and places are points; whoever draws says where the top of a part is and gets its foot.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from reportlab.lib.colors import HexColor

from applique.colors import reads_on
from applique.instructions import Chip, Table
from applique.instructions.values import Cell
from applique.language import Speech
from applique.sheets.frame import Sheet
from applique.sheets.strokes import HAIR, INK, THIN, line_on

__all__ = ["CAPITALS", "CHIP", "LinedTable", "Row", "draw_chip", "draw_heads", "draw_row", "lined"]

CHIP: Final = 11.0
"""Side of the square with the letter of a fabric."""
CAPITALS: Final = 0.7
"""Height of capitals in ems."""
_CELL: Final = 8.5
_LEADING: Final = 11.5
_APART: Final = 4.0
"""White between the heads of two columns."""
_SMALL: Final = 8.0


@dataclass(frozen=True, slots=True)
class Row:
    """The lines of each cell of a table's row, the chips before some, and how high it is."""

    cells: tuple[tuple[str, ...], ...]
    chips: tuple[Chip | None, ...]
    height: float


@dataclass(frozen=True, slots=True)
class LinedTable:
    """A table in lines: its heads, the width of each column, its rows, and how high its head is."""

    heads: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    rows: tuple[Row, ...]
    head: float


def lined(sheet: Sheet, table: Table, speech: Speech, width: float) -> LinedTable:
    """The table in lines on `width`, without the columns in which no row has anything."""

    def told(cell: Cell) -> str:
        return cell.name if isinstance(cell, Chip) else speech.field(cell)

    kept = [index for index in range(len(table.columns)) if any(told(row[index]) for row in table.rows)]
    heads = [speech.tell(table.columns[index][0]) for index in kept]
    shares = [table.columns[index][1] for index in kept]
    widths = tuple(share / sum(shares) * width for share in shares)
    lines = tuple(
        tuple(sheet.letters.wrapped(head, _CELL, wide - _APART, bold=True))
        for head, wide in zip(heads, widths, strict=True)
    )
    rows = tuple(
        _row(sheet, [(told(cells[index]), cells[index]) for index in kept], widths) for cells in table.rows
    )
    high = max((len(head) for head in lines), default=0) * _LEADING + 3
    return LinedTable(lines, widths, rows, high)


def _row(sheet: Sheet, cells: Sequence[tuple[str, Cell]], widths: Sequence[float]) -> Row:
    lines, chips = [], []
    for (text, cell), width in zip(cells, widths, strict=True):
        chip = cell if isinstance(cell, Chip) else None
        room = width - 8 - (CHIP + 4 if chip else 0)
        lines.append(tuple(sheet.letters.wrapped(text, _CELL, room)))
        chips.append(chip)
    most = max((len(cell) for cell in lines), default=1) or 1
    return Row(tuple(lines), tuple(chips), most * _LEADING + 5)


def draw_heads(sheet: Sheet, table: LinedTable, left: float, top: float) -> float:
    """The heads of the columns from `top` down, with a line below them."""
    most = max((len(head) for head in table.heads), default=0)
    foot = top - table.head
    x = left
    sheet.canvas.setFillGray(INK)
    for head, width in zip(table.heads, table.widths, strict=True):
        for index, text in enumerate(head, 1):
            y = foot + 4 + (most - index) * _LEADING
            sheet.letters.draw(text, x, y, _CELL, bold=True)
        x += width
    line_on(sheet.canvas, (left, foot), (sheet.right, foot), width=THIN)
    return foot


def draw_row(sheet: Sheet, row: Row, widths: Sequence[float], left: float, top: float) -> float:
    """A row with as much white above the capitals of its first line as below the foot of its last."""
    x = left
    capitals = CAPITALS * _CELL
    most = max((len(cell) for cell in row.cells), default=1) or 1
    baseline = top - (row.height - (most - 1) * _LEADING + capitals) / 2
    for cell, chip, width in zip(row.cells, row.chips, widths, strict=True):
        at = x
        if chip is not None:
            draw_chip(sheet, chip, x, baseline + (capitals - CHIP) / 2)
            at += CHIP + 4
        for index, text in enumerate(cell):
            sheet.letters.draw(text, at, baseline - index * _LEADING, _CELL)
        x += width
    foot = top - row.height
    line_on(sheet.canvas, (left, foot), (sheet.right, foot), width=HAIR, gray=0.75)
    return foot


def draw_chip(sheet: Sheet, chip: Chip, x: float, y: float) -> None:
    """The letter of a fabric on its color; the letter tells it from others in gray."""
    canvas = sheet.canvas
    canvas.setFillColor(HexColor(chip.color))
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(HAIR)
    canvas.rect(x, y, CHIP, CHIP, stroke=1, fill=1)
    canvas.setFillColor(HexColor(reads_on(chip.color)))
    sheet.letters.draw(chip.letter, x + CHIP / 2, y + 2.8, _SMALL, bold=True, anchor="middle")
    canvas.setFillGray(INK)
