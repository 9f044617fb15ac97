"""The first page of a template file: how to use it, what the lines mean, and what is on each page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import Final

from applique.errors import Notice
from applique.geometry.outline import Outline
from applique.geometry.points import Matrix
from applique.language import Message
from applique.paging import TemplatePage, TiledTemplate, Tiling
from applique.pattern import Pattern
from applique.pieces import Template
from applique.sheets.frame import Sheet
from applique.sheets.strokes import (
    BASELINE,
    CUT,
    FINISHED,
    HAIR,
    HEAVY,
    HOLLOW,
    INK,
    MOUTH,
    QUIET,
    SEAM,
    THIN,
    arrow_on,
    arrow_up,
    dashed_line,
    dotted_to,
    line_on,
    outline_on,
)
from applique.typeset.breaks import UNBROKEN
from applique.words import templates as said
from applique.words.sheets import CHECK_FIRST, TAKE_CARE, grouped_said, more_notices_said

__all__ = ["first_page", "heading", "join_mark", "paragraphs", "tile_map"]

_HEAD: Final = 9.5
_BODY: Final = 8.5
_LEADING: Final = 12.0
_GAP: Final = 14.0
_KEY_ROW: Final = 15.0
"""Points from a line of the key to the next."""
_THUMB_GAP: Final = 9.0
_LARGEST_THUMB: Final = 180.0
_SMALLEST_THUMB: Final = 30.0
_LEAST_MAP: Final = 90.0
"""Points that the map of the pages keeps, with its heading."""
_LETTER: Final = 0.78
_THIS_TILE: Final = 0.93
"""Grays of a map of pages."""
_CAPTION: Final = 7.0
_CAPTION_LEADING: Final = 7.8
_BELOW_PICTURE: Final = 6.0
"""Points from a picture to its caption."""
_CAPTIONED: Final = 26.0
"""Points from a picture to the one below it, with two lines of caption."""
_CAPTION_LINES: Final = 2
_CELL_TEXT: Final = 7.0
_LEAST_CELL: Final = 9.0
"""A map whose tiles are smaller, in points, carries no numbers in them."""


def first_page(sheet: Sheet, pattern: Pattern, file: said.TemplateFile, notices: Sequence[Notice]) -> None:
    """Draw the first page of the templates, next on `sheet`, with `notices` of what to look at."""
    sheet.begin(sheet.tell(said.HOW_TO_USE))
    left, right, tell = sheet.left, sheet.right, sheet.tell
    y = sheet.top - 8
    column = (right - left) * 0.57
    below = _steps(sheet, said.HOW_TO_USE, file.steps, left, y, column)
    joined = bool(pattern.sheets.joined)
    if joined:
        below = _steps(sheet, said.HOW_TO_JOIN, said.JOINING_STEPS, left, below - 6, column)
    key_below = _line_key(sheet, pattern, file, left + column + 26, y, joined=joined)
    y = min(below, key_below) - _GAP
    y = paragraphs(sheet, tell(TAKE_CARE), [tell(file.cautions)], left, y, right - left) - _GAP
    if notices:
        y = _notices(sheet, notices, y) - _GAP
    _page_map(sheet, pattern, y)


def _notices(sheet: Sheet, notices: Sequence[Notice], y: float) -> float:
    """What to check before cutting, as much of it as leaves the map its room; returns where it ends."""
    groups = Counter(notice.kind for notice in notices)
    left, width = sheet.left, sheet.right - sheet.left
    lowest = sheet.bottom + _LEAST_MAP + _LEADING
    y = heading(sheet, sheet.tell(CHECK_FIRST), left, y)
    unsaid = len(notices)
    for count, text in zip(groups.values(), grouped_said(notices), strict=True):
        lines = sheet.letters.wrapped(sheet.tell(text), _BODY, width)
        if y - len(lines) * _LEADING < lowest:
            break
        unsaid -= count
        for line in lines:
            y -= _LEADING
            sheet.letters.draw(line, left, y + 3, _BODY)
    if unsaid:
        y -= _LEADING
        sheet.letters.draw(sheet.tell(more_notices_said(unsaid)), left, y + 3, _BODY)
    return y


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


def _steps(sheet: Sheet, title: Message, steps: Sequence[Message], x: float, y: float, width: float) -> float:
    y = heading(sheet, sheet.tell(title), x, y)
    for number, step in enumerate(steps, 1):
        sheet.letters.draw(str(number), x, y - _LEADING + 3, _BODY, bold=True)
        for line in sheet.letters.wrapped(sheet.tell(step), _BODY, width - 16):
            y -= _LEADING
            sheet.letters.draw(line, x + 16, y + 3, _BODY)
        y -= 4
    return y


def _line_key(
    sheet: Sheet, pattern: Pattern, file: said.TemplateFile, x: float, y: float, *, joined: bool
) -> float:
    """What each line and mark of these sheets is; those that none of them has are left out."""
    canvas, templates, sewing = sheet.canvas, pattern.templates, pattern.design.sewing
    y = heading(sheet, sheet.tell(said.LINES), x, y)
    rows: list[tuple[Message, Callable[[float], None]]] = [
        (file.bold_line, lambda at: line_on(canvas, (x, at), (x + 34, at), width=CUT))
    ]
    if any(template.turned for template in templates):
        fabric_cut = said.fabric_cut_said(sewing.turn_under, pattern.design.units)
        rows.append((fabric_cut, lambda at: line_on(canvas, (x, at), (x + 34, at), width=THIN, gray=QUIET)))
    if any(template.turned and template.turned.marks for template in templates):
        rows.append((said.CLIPS, lambda at: _clips(sheet, x, at)))
    if any(template.turned and template.turned.mouths for template in templates):
        rows.append((said.MOUTH, lambda at: line_on(canvas, (x, at), (x + 34, at), width=MOUTH, gray=QUIET)))
    if any(template.ring for template in templates):
        rows.append((said.WEB_OFF, lambda at: _gray_dashes(sheet, x, at, HOLLOW)))
    if any(template.off for template in templates):
        rows.append((said.SEAM_OF_PANEL, lambda at: _gray_dashes(sheet, x, at, FINISHED, width=THIN)))
    if any(template.letter for template in templates):
        rows.append((said.BASELINE, lambda at: _baseline(sheet, x, at)))
    leaning = [template for template in templates if template.leans and template.count == 1]
    if leaning:
        rows.append((said.LEAN, lambda at: _sample_lean(sheet, pattern, leaning[0], x, at)))
    lettered = [template for template in templates if template.parts > 1]
    if lettered:
        rows.append((said.parts_said(pattern.design, lettered), lambda at: _parts(sheet, x, at)))
    rows.append((said.GRAIN, lambda at: arrow_on(canvas, (x, at), (x + 34, at))))
    rows.append((said.UP, lambda at: arrow_up(canvas, (x + 17, at - 5), (x + 17, at + 8))))
    if joined:
        rows.append((said.TRIM, lambda at: _gray_dashes(sheet, x, at, SEAM)))
        rows.append((said.JOIN, lambda at: join_mark(sheet, x + 17, at)))
    if _has_leaders(pattern):
        rows.append((said.LEADER, lambda at: dotted_to(canvas, (x, at), (x + 34, at))))
    rows.append((said.NUMBERS, lambda at: _sample_number(sheet, pattern.templates[0], x, at)))
    for words, draw in rows:
        y -= _KEY_ROW
        draw(y + 6)
        first, *more = sheet.letters.wrapped(sheet.tell(words), _BODY, sheet.right - x - 44)
        sheet.letters.draw(first, x + 44, y + 3, _BODY)
        for line in more:
            y -= _LEADING
            sheet.letters.draw(line, x + 44, y + 3, _BODY)
    return y


def _gray_dashes(
    sheet: Sheet, x: float, y: float, dashes: tuple[float, ...], *, width: float = HEAVY
) -> None:
    dashed_line(sheet.canvas, (x, y), (x + 34, y), width=width, gray=QUIET, dashes=dashes)


def _has_leaders(pattern: Pattern) -> bool:
    """Whether a label on these pages has a dotted line to its letter."""
    whole = (item.label for page in pattern.sheets.pages for item in page.items)
    tiled = (label for one in pattern.sheets.tiled for label in one.labels)
    return any(label.leader is not None for label in (*whole, *tiled))


def _sample_lean(sheet: Sheet, pattern: Pattern, template: Template, x: float, y: float) -> None:
    """What stands below an end of a baseline that leans, as it stands there."""
    words = said.end_off_said(template.leans[0].above[0], pattern.design.units)
    for count, line in enumerate(words):
        level = y + _CAPTION * (len(words) / 2 - count - 0.84)
        sheet.letters.draw(sheet.tell(line), x + 17, level, _CAPTION, anchor="middle")


def _baseline(sheet: Sheet, x: float, y: float) -> None:
    """A baseline with the mark of a middle on it."""
    dashed_line(sheet.canvas, (x, y), (x + 34, y), dashes=BASELINE)
    line_on(sheet.canvas, (x + 17, y), (x + 17, y + 8), width=THIN)


def _parts(sheet: Sheet, x: float, y: float) -> None:
    """A letter in two parts, as small as a line of the key."""
    sheet.canvas.setStrokeGray(INK)
    sheet.canvas.setLineWidth(THIN)
    for left, wide in ((x + 7, 6), (x + 16, 13)):
        sheet.canvas.rect(left, y - 3, wide, 6, fill=0, stroke=1)


def _clips(sheet: Sheet, x: float, y: float) -> None:
    """A clip and a notch, as they stand across a turn-under."""
    for start, end in (
        ((x + 8, y - 4), (x + 8, y + 4)),
        ((x + 20, y + 4), (x + 24, y - 4)),
        ((x + 28, y + 4), (x + 24, y - 4)),
    ):
        line_on(sheet.canvas, start, end, width=THIN, gray=QUIET)


def _sample_number(sheet: Sheet, template: Template, x: float, y: float) -> None:
    words = sheet.letters.shortened(sheet.tell(said.numbered(template)), _BODY, 38, bold=True)
    sheet.letters.draw(words, x, y - 3, _BODY, bold=True)


def join_mark(sheet: Sheet, x: float, y: float) -> None:
    """A diamond with its center at (x, y), points."""
    canvas = sheet.canvas
    canvas.setLineWidth(THIN)
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
    shown = pattern.sheets.in_order
    maps, aspect = len(shown), room_y / room_x
    width, per_row, fitting = _thumb_size(sheet.right - sheet.left, y - sheet.bottom - 10, aspect, maps)
    height, page = width * aspect, sheet.page + 1
    for index, one in enumerate(shown[:fitting]):
        x = sheet.left + (index % per_row) * (width + _THUMB_GAP)
        low = y - (index // per_row) * (height + _CAPTIONED) - height
        if isinstance(one, TiledTemplate):
            _tiled_map(sheet, pattern, one, (x, low), (width, height), page)
            page += len(one.tiling.tiles)
        else:
            _thumbnail(sheet, pattern, one, page, x, low, width)
            page += 1
    if maps > fitting:
        rows = -(-fitting // per_row)
        words = sheet.tell(said.and_so_on(sheet.page + pattern.sheets.page_count))
        sheet.letters.draw(words, sheet.left, y - rows * (height + _CAPTIONED) - 6, _BODY)


def _thumb_size(width: float, height: float, aspect: float, count: int) -> tuple[float, int, int]:
    """The widest thumbnails at which all fit: their width, how many a row, and how many fit at all."""
    size = _LARGEST_THUMB
    while True:
        per_row = max(1, int((width + _THUMB_GAP) // (size + _THUMB_GAP)))
        rows = max(0, int(height // (size * aspect + _CAPTIONED)))
        if per_row * rows >= count or size <= _SMALLEST_THUMB:
            return size, per_row, per_row * rows
        size -= 2


def _thumbnail(
    sheet: Sheet, pattern: Pattern, page: TemplatePage, number: int, x: float, y: float, width: float
) -> None:
    canvas = sheet.canvas
    room_x, room_y = pattern.sheets.frame.room
    scale = width / room_x
    canvas.setStrokeGray(QUIET)
    canvas.setLineWidth(HAIR)
    canvas.rect(x, y, width, room_y * scale, fill=0, stroke=1)
    to_thumb: Matrix = (
        (-scale, 0.0, 0.0, scale, x + width, y) if sheet.mirrored else (scale, 0.0, 0.0, scale, x, y)
    )
    canvas.setFillGray(_LETTER)
    for item in page.items:
        outline = item.place.outline(pattern.template(item.template).outline)
        outline_on(canvas, outline.transformed(to_thumb), fill=True)
    shown = dict.fromkeys(item.template for item in page.items)
    named = [_unbroken(sheet, pattern.template(template)) for template in shown]
    _caption(sheet, (said.page_bookmark(number, named), str(number)), (x, y), width)


def _unbroken(sheet: Sheet, template: Template) -> str:
    """A template by its number and its name, which no end of a line parts."""
    return sheet.tell(said.numbered(template)).replace(" ", UNBROKEN, 2)


def _tiled_map(
    sheet: Sheet,
    pattern: Pattern,
    tiled: TiledTemplate,
    at: tuple[float, float],
    size: tuple[float, float],
    first_page: int,
) -> None:
    """How the pages of a large letter join, each with its number, in a box of `size` points from its corner `at`."""
    template = pattern.template(tiled.template)
    outline = tiled.place.outline(template.outline)
    x0, y0, x1, y1 = tiled.tiling.area
    high = min(size[1], size[0] * (y1 - y0) / (x1 - x0))
    at, size = (at[0], at[1] + size[1] - high), (size[0], high)
    tile_map(sheet, tiled.tiling, outline, at, size, first_page=first_page, shaded="")
    last = first_page + len(tiled.tiling.tiles) - 1
    named = (_unbroken(sheet, template), str(template.number))
    _caption(sheet, [said.tile_pages(one, first_page, last) for one in named], at, size[0])


def _caption(sheet: Sheet, ways: Sequence[Message | str], at: tuple[float, float], width: float) -> None:
    """The first of the `ways` to say it that has room in two lines below a picture, whose corner is `at`; else the
    last, in as many as it takes.
    """
    letters, room = sheet.letters, width + _THUMB_GAP - 2
    told = [letters.wrapped(sheet.speech.field(words), _CAPTION, room) for words in ways]
    lines = next((found for found in told if len(found) <= _CAPTION_LINES), told[-1])
    sheet.canvas.setFillGray(INK)
    for count, line in enumerate(lines):
        y = at[1] - _BELOW_PICTURE - _CAPTION * 0.72 - count * _CAPTION_LEADING
        letters.draw(line, at[0] + width / 2, y, _CAPTION, anchor="middle")


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

    Each tile carries its page number if `first_page` is given; the tile named `shaded` is tinted and has a thick
    frame. Tiles that are not printed have no number. With `stamp`, a name for it in the file, the outline is kept
    once for all pages that show it at this place.
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

    def drawn() -> None:
        canvas.setFillGray(_LETTER)
        outline_on(canvas, outline.transformed(onto), fill=True)

    in_hand = []
    for tile in tiling.tiles:
        if tile.name == shaded:
            a, b = onto[0] * xs[tile.column] + onto[4], onto[0] * xs[tile.column + 1] + onto[4]
            c, d = onto[3] * ys[tile.row + 1] + onto[5], onto[3] * ys[tile.row] + onto[5]
            in_hand.append((min(a, b), c, abs(b - a), d - c))
    canvas.setFillGray(_THIS_TILE)
    for box in in_hand:
        canvas.rect(*box, fill=1, stroke=0)
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
    canvas.setLineWidth(CUT)
    canvas.setStrokeGray(INK)
    for box in in_hand:
        canvas.rect(*box, fill=0, stroke=1)
    if first_page is not None:
        canvas.setFillGray(INK)
        cell = min(scale * (x1 - x0) / tiling.columns, scale * (y1 - y0) / tiling.rows)
        for tile in tiling.tiles:
            x = onto[0] * (xs[tile.column] + xs[tile.column + 1]) / 2 + onto[4]
            y = onto[3] * (ys[tile.row] + ys[tile.row + 1]) / 2 + onto[5]
            if cell < _LEAST_CELL:
                continue
            number = str(first_page + printed[tile.name])
            sheet.letters.draw(number, x, y - _CELL_TEXT * 0.36, _CELL_TEXT, anchor="middle")
