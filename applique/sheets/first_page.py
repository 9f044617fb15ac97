"""The first page of a template file: how to use it, what the lines mean, and what is on each page."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from applique.cautions import SHORT_CAUTIONS
from applique.geometry.outline import Outline
from applique.geometry.points import Matrix
from applique.language import Message
from applique.paging import TiledTemplate, Tiling
from applique.pattern import Pattern
from applique.pieces import Template
from applique.sheets.frame import Sheet
from applique.sheets.strokes import CUT, HAIR, INK, QUIET, THIN, arrow_on, dashed_line, line_on, outline_on
from applique.words import templates as said
from applique.words.sheets import CHECK_FIRST, TAKE_CARE, notice_said

__all__ = ["draw_tile_map", "first_page", "heading", "join_mark", "paragraphs", "tile_map"]

_HEAD: Final = 9.5
_BODY: Final = 8.5
_LEADING: Final = 12.0
_GAP: Final = 14.0
_THUMB_GAP: Final = 9.0
_LARGEST_THUMB: Final = 120.0
_SMALLEST_THUMB: Final = 30.0


def first_page(sheet: Sheet, pattern: Pattern, file: said.TemplateFile) -> None:
    """Draw the first page on `sheet`."""
    sheet.begin(sheet.tell(said.HOW_TO_USE))
    left, right = sheet.left, sheet.right
    y = sheet.top - 8
    column = (right - left) * 0.60
    below = _steps(sheet, [sheet.tell(step) for step in file.steps], left, y, column)
    key_below = _line_key(sheet, pattern.templates, left + column + 26, y)
    y = min(below, key_below) - _GAP
    cautions = (sheet.speech.field(SHORT_CAUTIONS),)
    y = paragraphs(sheet, sheet.tell(TAKE_CARE), cautions, left, y, right - left) - _GAP
    if pattern.notices:
        notices = [sheet.tell(notice_said(notice)) for notice in pattern.notices]
        y = paragraphs(sheet, sheet.tell(CHECK_FIRST), notices, left, y, right - left) - _GAP
    _page_map(sheet, pattern, y)


def heading(sheet: Sheet, words: str, x: float, y: float) -> float:
    """A heading whose top is at `y` points; returns where what follows it starts."""
    sheet.canvas.setFillGray(INK)
    sheet.letters.draw(words, x, y - _HEAD, _HEAD, bold=True)
    return y - _HEAD - 8


def paragraphs(sheet: Sheet, title: str, texts: Sequence[str], x: float, y: float, width: float) -> float:
    """A heading and paragraphs under it, `width` points wide; returns where they end."""
    y = heading(sheet, title, x, y)
    for text in texts:
        for line in sheet.letters.wrapped(text, _BODY, width):
            y -= _LEADING
            sheet.letters.draw(line, x, y + 3, _BODY)
    return y


def _steps(sheet: Sheet, steps: Sequence[str], x: float, y: float, width: float) -> float:
    y = heading(sheet, sheet.tell(said.HOW_TO_USE), x, y)
    for number, step in enumerate(steps, 1):
        sheet.letters.draw(str(number), x, y - _LEADING + 3, _BODY, bold=True)
        for line in sheet.letters.wrapped(step, _BODY, width - 16):
            y -= _LEADING
            sheet.letters.draw(line, x + 16, y + 3, _BODY)
        y -= 4
    return y


def _line_key(sheet: Sheet, templates: Sequence[Template], x: float, y: float) -> float:
    canvas = sheet.canvas
    y = heading(sheet, sheet.tell(said.LINES), x, y)
    rows: tuple[tuple[Message, Callable[[float], None]], ...] = (
        (said.CUT_HERE, lambda at: line_on(canvas, (x, at), (x + 34, at), width=CUT)),
        (said.BASELINE, lambda at: dashed_line(canvas, (x, at), (x + 34, at))),
        (said.GRAIN, lambda at: arrow_on(canvas, (x, at), (x + 34, at))),
        (said.JOIN, lambda at: join_mark(sheet, x + 17, at)),
    )
    if any(template.turned for template in templates):
        rows += (
            (
                said.CUT_OF_FABRIC,
                lambda at: line_on(canvas, (x, at), (x + 34, at), width=THIN, gray=QUIET),
            ),
        )
    if any(template.ring for template in templates):
        rows += ((said.WEB_OFF, lambda at: dashed_line(canvas, (x, at), (x + 34, at), gray=QUIET)),)
    for words, draw in rows:
        y -= 17
        draw(y + 6)
        first, *more = sheet.letters.wrapped(sheet.tell(words), _BODY, sheet.right - x - 44)
        sheet.letters.draw(first, x + 44, y + 3, _BODY)
        for line in more:
            y -= _LEADING
            sheet.letters.draw(line, x + 44, y + 3, _BODY)
    return y


def join_mark(sheet: Sheet, x: float, y: float) -> None:
    """A diamond with its center at (x, y), points."""
    canvas = sheet.canvas
    canvas.setLineWidth(0.5)
    canvas.setStrokeGray(INK)
    path = canvas.beginPath()
    path.moveTo(x - 5, y)
    path.lineTo(x, y + 5)
    path.lineTo(x + 5, y)
    path.lineTo(x, y - 5)
    path.close()
    canvas.drawPath(path, fill=0, stroke=1)
    line_on(canvas, (x - 8, y), (x + 8, y), width=HAIR)
    line_on(canvas, (x, y - 8), (x, y + 8), width=HAIR)


# The page map


def _page_map(sheet: Sheet, pattern: Pattern, y: float) -> None:
    y = heading(sheet, sheet.tell(said.PAGES), sheet.left, y)
    room_x, room_y = pattern.sheets.frame.room
    maps = len(pattern.sheets.pages) + len(pattern.sheets.tiled)
    width, per_row, fitting = _thumb_size(sheet.right - sheet.left, y - sheet.bottom, room_y / room_x, maps)
    height = width * room_y / room_x
    for index in range(min(maps, fitting)):
        x = sheet.left + (index % per_row) * (width + _THUMB_GAP)
        low = y - (index // per_row) * (height + 20) - height
        if index < len(pattern.sheets.pages):
            _thumbnail(sheet, pattern, index, x, low, width)
        else:
            tiled = pattern.sheets.tiled[index - len(pattern.sheets.pages)]
            draw_tile_map(
                sheet, pattern, tiled, (x, low), (width, height), first_page=_first_tile_page(pattern, tiled)
            )
    if maps > fitting:
        rows = -(-fitting // per_row)
        words = sheet.tell(said.and_so_on(sheet.page_count))
        sheet.letters.draw(words, sheet.left, y - rows * (height + 20) - 6, _BODY)


def _thumb_size(width: float, height: float, aspect: float, count: int) -> tuple[float, int, int]:
    """The widest thumbnails at which all fit: their width, how many a row, and how many fit at all."""
    size = _LARGEST_THUMB
    while True:
        per_row = max(1, int((width + _THUMB_GAP) // (size + _THUMB_GAP)))
        rows = max(0, int(height // (size * aspect + 20)))
        if per_row * rows >= count or size <= _SMALLEST_THUMB:
            return size, per_row, per_row * rows
        size -= 2


def _thumbnail(sheet: Sheet, pattern: Pattern, index: int, x: float, y: float, width: float) -> None:
    canvas = sheet.canvas
    room_x, room_y = pattern.sheets.frame.room
    scale = width / room_x
    canvas.setStrokeGray(QUIET)
    canvas.setLineWidth(HAIR)
    canvas.rect(x, y, width, room_y * scale, fill=0, stroke=1)
    to_thumb: Matrix = (
        (-scale, 0.0, 0.0, scale, x + width, y) if sheet.mirrored else (scale, 0.0, 0.0, scale, x, y)
    )
    canvas.setFillGray(0.78)
    for item in pattern.sheets.pages[index].items:
        outline = item.place.outline(pattern.template(item.template).outline)
        outline_on(canvas, outline.transformed(to_thumb), fill=True)
    canvas.setFillGray(INK)
    sheet.letters.draw(f"{index + 2}", x + width / 2, y - 10, 7.5, bold=True, anchor="middle")


def _first_tile_page(pattern: Pattern, tiled: TiledTemplate) -> int:
    before = pattern.sheets.tiled[: pattern.sheets.tiled.index(tiled)]
    return 2 + len(pattern.sheets.pages) + sum(len(other.tiling.tiles) for other in before)


def draw_tile_map(
    sheet: Sheet,
    pattern: Pattern,
    tiled: TiledTemplate,
    at: tuple[float, float],
    size: tuple[float, float],
    *,
    first_page: int | None = None,
    shaded: str = "",
) -> None:
    """How the pages of a large letter join, in a box of `size` points whose lower left corner is `at`.

    Each tile carries its page number if `first_page` is given; the tile named `shaded` is gray. Tiles that
    are not printed have no number.
    """
    outline = tiled.place.outline(pattern.template(tiled.template).outline)
    stamp = f"map-of-template-{tiled.template}" if shaded else ""
    tile_map(sheet, tiled.tiling, outline, at, size, first_page=first_page, shaded=shaded, stamp=stamp)
    if first_page is not None:
        last = first_page + len(tiled.tiling.tiles) - 1
        words = sheet.tell(said.tile_pages(pattern.template(tiled.template).name, first_page, last))
        sheet.letters.draw(words, at[0] + size[0] / 2, at[1] - 10, 7.5, bold=True, anchor="middle")


def tile_map(
    sheet: Sheet,
    tiling: Tiling,
    outline: Outline,
    at: tuple[float, float],
    size: tuple[float, float],
    *,
    first_page: int | None,
    shaded: str,
    stamp: str = "",
) -> None:
    """`outline` with the grid of its tiles, as large as the box allows.

    With `stamp`, a name for it in the file, the outline is kept once for all pages that show it at this place.
    """
    canvas = sheet.canvas
    x0, y0, x1, y1 = tiling.area
    scale = min(size[0] / (x1 - x0), size[1] / (y1 - y0))
    left = at[0] + (size[0] - scale * (x1 - x0)) / 2
    low = at[1] + (size[1] - scale * (y1 - y0)) / 2
    onto: Matrix = (scale, 0.0, 0.0, scale, left - x0 * scale, low - y0 * scale)
    if sheet.mirrored:
        onto = (-scale, 0.0, 0.0, scale, left + x1 * scale, low - y0 * scale)
    printed = {tile.name: index for index, tile in enumerate(tiling.tiles)}
    xs, ys = (x0, *tiling.seams_x, x1), (y1, *tiling.seams_y, y0)
    for tile in tiling.tiles:
        if tile.name == shaded:
            a, b = onto[0] * xs[tile.column] + onto[4], onto[0] * xs[tile.column + 1] + onto[4]
            c, d = onto[3] * ys[tile.row + 1] + onto[5], onto[3] * ys[tile.row] + onto[5]
            canvas.setFillGray(0.82)
            canvas.rect(min(a, b), c, abs(b - a), d - c, fill=1, stroke=0)

    def drawn() -> None:
        canvas.setStrokeGray(INK)
        canvas.setLineWidth(HAIR)
        outline_on(canvas, outline.transformed(onto), stroke=True)

    if stamp:
        sheet.stamp(stamp, drawn)
    else:
        drawn()
    canvas.setLineWidth(HAIR)
    canvas.setStrokeGray(QUIET)
    for x in xs:
        canvas.line(onto[0] * x + onto[4], low, onto[0] * x + onto[4], low + scale * (y1 - y0))
    for y in ys:
        canvas.line(left, onto[3] * y + onto[5], left + scale * (x1 - x0), onto[3] * y + onto[5])
    if first_page is not None:
        canvas.setFillGray(INK)
        cell = min(scale * (x1 - x0) / tiling.columns, scale * (y1 - y0) / tiling.rows)
        for tile in tiling.tiles:
            x = onto[0] * (xs[tile.column] + xs[tile.column + 1]) / 2 + onto[4]
            y = onto[3] * (ys[tile.row] + ys[tile.row + 1]) / 2 + onto[5]
            size_here = min(7.0, cell * 0.6)
            number = str(first_page + printed[tile.name])
            sheet.letters.draw(number, x, y - size_here * 0.36, size_here, anchor="middle")
