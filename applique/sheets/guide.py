"""The placement guide: where each letter goes, first in a small drawing, then in a table.

The small drawing is to scale and says its scale; the optional last pages are the panel at full size.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from applique.geometry.points import Bounds, Matrix, point_under
from applique.instructions.places import lowest_points
from applique.language import Message
from applique.marks import PanelLines, RowMark, drawing_scale, how_outlined, panel_lines
from applique.paging import Tile, Tiling
from applique.pattern import Pattern
from applique.picture import Part
from applique.sheets.first_page import heading, tile_map
from applique.sheets.frame import CHAPTER, POINTS, Drawn, Sheet
from applique.sheets.guide_lines import PAST, TICK, baseline_path, cross_on, crossed, lean_lines, tick_under
from applique.sheets.guide_numbers import SMALL, draw_numbers
from applique.sheets.guide_table import Table, guide_table, listed_parts
from applique.sheets.panel_drawing import (
    LaidItem,
    draw_panel,
    draw_panel_lines,
    draw_tile_name,
    laid_items,
    outline_of_all,
    taken_on_panel,
)
from applique.sheets.panel_template import draw_panel_templates, panel_template_pages
from applique.sheets.spots import spread
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, dashed_path, line_on, outline_on
from applique.sheets.templates import draw_seams
from applique.units import as_length
from applique.words import guide as said
from applique.words import loose
from applique.words.blocks import block_named
from applique.words.instructions.outlines import long_ticks_said
from applique.words.instructions.placing import CUT_EDGE, EDGE_TO_TRIM_TO, FINISHED_EDGE
from applique.words.sheets import CHECK_FIRST

__all__ = ["draw_guide", "guide_texts", "placement_guide_pdf"]

_BODY: Final = 8.5
_LEADING: Final = 12.0
_HALF_LINE: Final = 6.0
_HEAD: Final = 24.0
"""Points that the heading of the notes takes, and the white above it."""
_MOST_NOTICE_LINES: Final = 8
"""Lines of notices that stand below the drawing; more follow the table."""
_BELOW_HEAD: Final = 35.0
"""Points from the head of the page to the small drawing, with the title between them."""
_BELOW_PANEL: Final = 20.0
_ABOVE_TABLE: Final = 10.0
_MOST_BELOW: Final = 0.7
"""Of the page, what may stand below the drawing."""
_LEAST_SHARE: Final = 0.45
"""Of the size that the drawing would have alone, what it keeps beside a table on its page."""
_LEAST_FULL: Final = 0.6
"""Of the page, down to where a table ends that leaves notices to the page of the drawing."""
_LEAST_ALONE: Final = 0.6
"""Of the page, what a drawing takes that leaves the words below it to the page of the table."""
_BESIDE: Final = 8.0
"""Points between the cut edge and the numbers beside it."""
_PITCH: Final = 20.0
"""Points that the two numbers of a baseline take, one below the other."""
_TIGHT: Final = 10.5
"""Points that they take side by side."""
_DOT: Final = 1.2
_SHORT_TICK: Final = 3.0
_TICK_SHARE: Final = 0.25
"""How much of the way to the next row a tick takes at the most."""


def placement_guide_pdf(pattern: Pattern) -> bytes:
    """The placement guide as PDF: the panel to scale, the table, the full-size guide."""
    notices = tuple(said.grouped(pattern.notices))
    sheet = Sheet(
        pattern,
        subject=pattern.speech.tell(said.SUBJECT),
        method=pattern.speech.tell(said.METHOD),
        page_count=0,
        texts=guide_texts(pattern, notices),
        mirrored=False,
    )
    sheet.page_count = guide_pages(sheet, pattern, notices)
    draw_guide(sheet, pattern, notices)
    return sheet.finish()


def guide_pages(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> int:
    """How many pages `draw_guide` draws."""
    panels = sum(
        _panel_pages(sheet, block, notices if number == 0 else ())
        for number, block in enumerate(pattern.blocks)
    )
    return panels + panel_template_pages(pattern)


def _panel_pages(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> int:
    first = _first_page(sheet, pattern, notices)
    pages = 0 if first.has_table else first.table.page_count
    return 1 + pages + (len(pattern.guide.tiles) if pattern.guide else 0)


def draw_guide(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> None:
    """Every page of the guide, panel by panel, next on `sheet`, with `notices` of what to look at on the first; the
    templates of panels that are no rectangles are last."""
    for number, (block, placed) in enumerate(zip(pattern.blocks, pattern.sketch.placed.blocks, strict=True)):
        sheet.block = sheet.tell(block_named(placed.name, placed.count)) if placed.name else ""
        _draw_panel(sheet, block, notices if number == 0 else ())
    sheet.block = ""
    draw_panel_templates(sheet, pattern)


def _draw_panel(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> None:
    guide = pattern.guide
    first = _first_page(sheet, pattern, notices)
    words = _drawing_page(sheet, pattern, first)
    if first.above_table:
        sheet.begin(sheet.tell(said.TABLE), drawn=Drawn.NOTHING)
        first.table.draw_below(sheet, _below_drawing(sheet, first, words, sheet.top - 8) - _ABOVE_TABLE)
    elif not first.has_table:
        first.table.draw(sheet)
    if guide is not None:
        items = laid_items(pattern)
        taken = taken_on_panel(pattern, items)
        for tile in guide.tiles:
            _full_size_page(sheet, pattern, guide, items, tile, taken)


def guide_texts(pattern: Pattern, notices: Sequence[Message]) -> tuple[str, ...]:
    """What the guide spells of a maker's own words."""
    speech = pattern.speech
    names = [need.fabric for need in pattern.cloth]
    return (
        *(row.text for row in pattern.marks),
        *names,
        *map(speech.tell, notices),
    )


def _wrapped(sheet: Sheet, texts: Sequence[Message]) -> list[str]:
    width = sheet.right - sheet.left
    return [line for text in texts for line in sheet.letters.wrapped(sheet.tell(text), _BODY, width)]


# The small drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class _Beside:
    """What stands beside the small drawing on the level of a row: its numbers on the left, its name on the right."""

    height: float
    down: str
    finished: str
    name: str

    def width(self, sheet: Sheet, *, tight: bool) -> float:
        """Points that its numbers take."""
        down = sheet.letters.width(self.down, _BODY, bold=True)
        finished = sheet.letters.width(self.finished, SMALL)
        return down + finished + 4 if tight and self.finished else max(down, finished)


@dataclass(frozen=True, slots=True, kw_only=True)
class _First:
    """The first page as it is laid out: notices below the drawing, its scale, and whether the table is there too.

    What to mark stands below the drawing, or `above_table` of a drawing that needs its page. `tight` is whether the
    numbers beside the drawing stand side by side.
    """

    notices: Sequence[str]
    beside: Sequence[_Beside]
    table: Table
    has_table: bool
    above_table: bool
    quilt_per_paper: Fraction
    tight: bool


def _first_page(sheet: Sheet, pattern: Pattern, notices: Sequence[Message]) -> _First:
    """The first page, with the table on it where that leaves the drawing most of its size."""
    lines = _wrapped(sheet, notices)
    below = len(lines) <= _MOST_NOTICE_LINES
    table = guide_table(sheet, pattern, () if below else notices)
    if not below:
        lines = _wrapped(sheet, [said.notices_after_table(len(pattern.notices))])
    texts = _marks_said(sheet, pattern, _drawable(pattern))
    beside = _beside(sheet, pattern)
    # The scale is said in at most three lines more; it is known once the room is. Of what could be drawn all is said
    # here, of what has no room then nothing is.
    notes = _HEAD + _LEADING * (len(texts) + len(lines) + 3) + (_HEAD if lines else 0.0)
    scale, tight = _fitted(sheet, pattern, beside, notes)
    has_table = False
    taken = table.height_below
    if taken is not None and notes + taken < _MOST_BELOW * (sheet.top - sheet.bottom):
        small, close = _fitted(sheet, pattern, beside, notes + taken + _ABOVE_TABLE)
        if small * _LEAST_SHARE <= scale and close <= tight:
            has_table, scale, tight = True, small, close
    above_table = False
    if taken is not None and not has_table and notes + taken + _ABOVE_TABLE < sheet.top - sheet.bottom:
        alone, wider = _fitted(sheet, pattern, beside, 3 * _LEADING)
        drawn = float(pattern.panel.cut_height) * POINTS / float(alone)
        if drawn > _LEAST_ALONE * (sheet.top - sheet.bottom):
            above_table, scale, tight = True, alone, wider
    if lines and below and not (has_table or above_table) and table.ends(sheet) < _LEAST_FULL:
        lines = _wrapped(sheet, [said.notices_after_table(len(pattern.notices))])
        table = guide_table(sheet, pattern, notices)
    return _First(
        notices=lines,
        beside=beside,
        table=table,
        has_table=has_table,
        above_table=above_table,
        quilt_per_paper=scale,
        tight=tight,
    )


def _marks_said(sheet: Sheet, pattern: Pattern, drawn: said.Drawn) -> list[str]:
    """What to mark, in lines, for a drawing that shows what is `drawn`."""
    outlines, design = pattern.outlines, pattern.design
    longer = (
        tuple(long_ticks_said(outlines, pattern.marks, design.outline.around, design.units))
        if outlines
        else ()
    )
    told = said.what_to_mark(
        pattern.panel,
        pattern.design.units,
        drawn,
        full_size=pattern.guide is not None and len(pattern.guide.tiles) > 1,
        on_outlines=pattern.guide is not None and bool(pattern.outlines),
        turned=any(mark.is_turned for mark in pattern.marks),
        by_word=any(mark.by_word for mark in pattern.marks),
        ticked=any(mark.ticked and not mark.runs_down for mark in pattern.marks),
        longer=longer,
        outlined=how_outlined(pattern.marks, design.outline.around),
        lowest=lowest_points(pattern),
        parts=[part.name for part in listed_parts(pattern)],
    )
    return _wrapped(sheet, list(told))


def _drawable(pattern: Pattern) -> said.Drawn:
    """All that a drawing with room for everything would show."""
    level = any(mark.level for mark in pattern.marks)
    downward = [mark for mark in pattern.marks if mark.runs_down]
    slanting = any(mark.slants and not mark.runs_down for mark in pattern.marks)
    leaning = any(letter.lean for mark in pattern.marks for letter in mark.letters)
    return said.Drawn(
        level=level,
        slanting=slanting,
        downward=bool(downward),
        beside=any(mark.off_line(letter) for mark in downward for letter in mark.ticked),
        points=slanting or bool(downward),
        middles=level,
        ends=level,
        short=level,
        bare=len(pattern.marks) > 1,
        lean=leaning,
        outlined_down=any(mark.outlines for mark in downward),
        owned=any(letter.own for mark in downward for letter in mark.letters),
    )


def _fitted(sheet: Sheet, pattern: Pattern, beside: Sequence[_Beside], notes: float) -> tuple[Fraction, bool]:
    """The scale at which the drawing leaves `notes` points below it, and whether the numbers beside it are tight."""
    for tight in (False, True):
        numbers = (max(one.width(sheet, tight=tight), sheet.letters.width(one.name, _BODY)) for one in beside)
        side = _BESIDE + PAST + max(numbers, default=0.0)
        room = (
            sheet.right - sheet.left - 2 * side,
            sheet.top - sheet.bottom - _BELOW_HEAD - _BELOW_PANEL - notes,
        )
        quilt_per_paper = drawing_scale(pattern.panel, (room[0] / POINTS, room[1] / POINTS))
        scale = POINTS / float(quilt_per_paper)
        if all(scale * (above.height - below.height) >= _PITCH for above, below in pairwise(beside)):
            break
    return quilt_per_paper, tight


def _drawing_page(sheet: Sheet, pattern: Pattern, first: _First) -> Sequence[str]:
    """The page of the small drawing; returns in lines what is to be said of it above the table."""
    sheet.begin(sheet.tell(said.PANEL), drawn=Drawn.SMALL)
    sheet.title(sheet.tell(said.TITLE))
    panel, lines, beside = pattern.panel, panel_lines(pattern.panel), first.beside
    scale = POINTS / float(first.quilt_per_paper)
    x0, y0, x1, y1 = lines.cut_edge
    onto: Matrix = (
        *(scale, 0.0, 0.0, scale),
        (sheet.left + sheet.right - scale * (x0 + x1)) / 2,
        sheet.top - _BELOW_HEAD - scale * y1,
    )
    _letters(sheet, pattern, onto)
    draw_panel_lines(sheet.canvas, pattern, onto, beyond=PAST)
    x, top = point_under(onto, lines.center_line[1])
    sheet.letters.draw(sheet.tell(said.CENTER_LINE), x, top + PAST + 3, SMALL, anchor="middle")
    if panel.is_cut:
        _edges_named(sheet, onto, lines, x)
    tick = _tick_length(beside, scale)
    for mark in pattern.marks:
        _baseline(sheet, mark, onto, tick)
    shown = draw_numbers(sheet, pattern, onto, lines, tick, _drawable(pattern))
    unsaid = _draw_beside(sheet, beside, onto, lines, tight=first.tight)
    drawn = _wrapped(sheet, [_drawn_small(pattern, first.quilt_per_paper)])
    last = _wrapped(sheet, [said.only_in_table(unsaid)]) if unsaid else []
    marked = (*_marks_said(sheet, pattern, shown), *last)
    y = point_under(onto, (x0, y0))[1] - _BELOW_PANEL
    if first.above_table:
        _lines(sheet, drawn, y + _HALF_LINE)
        return marked
    y = _below_drawing(sheet, first, (*drawn, *marked), y)
    if first.has_table:
        first.table.draw_below(sheet, y - _ABOVE_TABLE)
    return ()


def _drawn_small(pattern: Pattern, quilt_per_paper: Fraction) -> Message:
    """How small the first drawing is, and what its edges are, or how far letters alone reach."""
    panel, units = pattern.panel, pattern.design.units
    if panel.loose:
        return loose.guide_scale_said(quilt_per_paper, pattern.reach, units)
    return said.scale_said(quilt_per_paper, panel, units)


def _below_drawing(sheet: Sheet, first: _First, words: Sequence[str], y: float) -> float:
    """What to mark and what to check, from `y` down; returns where they end."""
    y = _lines(sheet, words, heading(sheet, sheet.tell(said.WHAT_TO_MARK), sheet.left, y))
    if first.notices:
        y = heading(sheet, sheet.tell(CHECK_FIRST), sheet.left, y - _ABOVE_TABLE)
    return _lines(sheet, first.notices, y)


def _lines(sheet: Sheet, lines: Sequence[str], y: float) -> float:
    for line in lines:
        y -= _LEADING
        sheet.letters.draw(line, sheet.left, y + 3, _BODY)
    return y


def _edges_named(sheet: Sheet, onto: Matrix, lines: PanelLines, center: float) -> None:
    """What each edge of the panel is, above it on either side of the center line, where there is room for that beside
    the title."""
    (left, _), (_, top) = point_under(onto, lines.cut_edge[:2]), point_under(onto, lines.cut_edge[2:])
    half = sheet.letters.width(sheet.tell(said.CENTER_LINE), SMALL) / 2 + _BESIDE
    titled = sheet.left + sheet.letters.width(sheet.tell(said.TITLE), CHAPTER, bold=True) + _BESIDE
    on_left = [(lines.cut_edge, CUT_EDGE), (lines.trimmed_edge, EDGE_TO_TRIM_TO)]
    for way, edges in ((-1, on_left), (1, [(lines.finished_edge, FINISHED_EDGE)])):
        shown = [(edge, sheet.tell(words)) for edge, words in edges if edge is not None]
        wide = [sheet.letters.width(words, SMALL) + 2 * _BESIDE for _, words in shown]
        room = center - (left if way > 0 else max(left, titled)) - half
        while shown and sum(wide) > room:
            del shown[0], wide[0]
        x = center + half if way > 0 else center - half - sum(wide)
        for (edge, words), across in zip(shown, wide, strict=True):
            at = x + across / 2
            reached = point_under(onto, (0.0, lines.top_at((at - onto[4]) / onto[0], edge)))[1]
            sheet.canvas.setFillGray(QUIET)
            sheet.letters.draw(words, at, top + PAST + 3, SMALL, anchor="middle")
            line_on(sheet.canvas, (at, top + PAST + 1), (at, reached), width=HAIR, gray=QUIET)
            sheet.canvas.circle(at, reached, _DOT, stroke=0, fill=1)
            x += across
    sheet.canvas.setFillGray(INK)


def _letters(sheet: Sheet, pattern: Pattern, onto: Matrix) -> None:
    """The outline layer dashed, each shape over those before it as it is laid, and on it the letters and other pieces
    in gray."""
    canvas = sheet.canvas
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(HAIR)
    for item in pattern.picture.on_panel(Part.OUTLINE, Part.LETTER):
        letter = item.part is Part.LETTER
        canvas.setDash(*(() if letter else (1.5, 1.5)))
        canvas.setFillGray(0.86 if letter else 1.0)
        outline_on(canvas, item.laid_whole.transformed(onto), fill=True, stroke=True)
    canvas.setDash()
    canvas.setFillGray(INK)


def _baseline(sheet: Sheet, mark: RowMark, onto: Matrix, tick: float) -> None:
    """A row's baseline, of a level one from edge to edge, and the ticks under its letters unless those are laid word by
    word."""
    dashed_path(sheet.canvas, baseline_path(mark, onto), gray=QUIET)
    for letter in mark.ticked:
        line_on(sheet.canvas, *tick_under(letter, onto, tick, across=mark.runs_down), width=THIN)
    for letter in () if mark.by_word else mark.letters:
        if letter.lean:
            own, square = lean_lines(letter.lean, onto)
            line_on(sheet.canvas, *own, width=THIN)
            dashed_path(sheet.canvas, square, gray=INK)
        if letter.own:
            first, last = (point_under(onto, point) for point in letter.own.ends)
            line_on(sheet.canvas, first, last, width=THIN)
    for point in crossed(mark):
        for start, end in cross_on(point, onto):
            line_on(sheet.canvas, start, end, width=THIN)


def _tick_length(beside: Sequence[_Beside], scale: float) -> float:
    """How far below its baseline a tick reaches, so that ticks stay clear of the next row."""
    apart = [scale * (above.height - below.height) for above, below in pairwise(beside)]
    nearest = min((gap for gap in apart if gap > 1), default=TICK / _TICK_SHARE)
    return min(TICK, max(_SHORT_TICK, _TICK_SHARE * nearest))


# The numbers beside it


def _beside(sheet: Sheet, pattern: Pattern) -> list[_Beside]:
    """The numbers and names beside the drawing, from the top down.

    A level row has the distance of its baseline from the cut top edge, and of a panel that is trimmed later from the
    finished one. Of a row that does not stand level the numbers are in the table.
    """
    units = pattern.design.units
    return [
        _Beside(
            height=mark.height,
            down=_said(pattern, mark.baseline_from_top) if mark.level else "",
            finished=sheet.tell(said.from_finished_said(mark, units))
            if mark.level and pattern.panel.trim
            else "",
            name=sheet.speech.field(said.row_number(mark)),
        )
        for mark in sorted(pattern.marks, key=lambda mark: -mark.height)
    ]


def _draw_beside(
    sheet: Sheet, beside: Sequence[_Beside], onto: Matrix, lines: PanelLines, *, tight: bool
) -> int:
    """Draw them level with their rows, or where rows are too near as close to that as they have room, with a thin line
    to the row; returns how many there is no room for.
    """
    (left, low), (right, top) = point_under(onto, lines.cut_edge[:2]), point_under(onto, lines.cut_edge[2:])
    wanted = [point_under(onto, (0.0, one.height))[1] for one in beside]
    found = spread(wanted, pitch=_TIGHT if tight else _PITCH, low=low + 2, high=top - 2)
    if found is None:
        chosen = _apart(wanted, _TIGHT)
        beside, found = [beside[index] for index in chosen], [wanted[index] for index in chosen]
        unsaid, wanted = len(wanted) - len(chosen), found
    else:
        unsaid = 0
    for one, level, y in zip(beside, wanted, found, strict=True):
        at = left - _BESIDE
        name_at = right + _BESIDE
        if abs(y - level) > 0.5:
            if one.down:
                line_on(sheet.canvas, (left - PAST + 1, level), (at + 0.5, y), width=HAIR)
            line_on(sheet.canvas, (right + PAST - 1, level), (name_at - 0.5, y), width=HAIR)
        sheet.letters.draw(one.name, name_at, y - 2.5, _BODY)
        if not one.down:
            continue
        if one.finished and tight:
            sheet.letters.draw(one.finished, at, y - 2.5, SMALL, anchor="end")
            at -= sheet.letters.width(one.finished, SMALL) + 4
        elif one.finished:
            sheet.letters.draw(one.finished, at, y - _BODY - 4.0, SMALL, anchor="end")
        sheet.letters.draw(one.down, at, y - 2.5, _BODY, bold=True, anchor="end")
    return unsaid


def _apart(heights: Sequence[float], pitch: float) -> list[int]:
    """Which of `heights`, highest first, are at least `pitch` below the one chosen before."""
    chosen: list[int] = []
    for index, height in enumerate(heights):
        if not chosen or heights[chosen[-1]] - height >= pitch:
            chosen.append(index)
    return chosen


def _said(pattern: Pattern, length: float) -> str:
    return pattern.speech.measure(as_length(length, pattern.design.units, denominator=16))


# The panel at full size


def _full_size_page(
    sheet: Sheet,
    pattern: Pattern,
    guide: Tiling,
    items: Sequence[LaidItem],
    tile: Tile,
    taken: Sequence[Bounds],
) -> None:
    name = tile.name
    sheet.begin(sheet.tell(said.full_size_bookmark(name)), note=sheet.tell(said.full_size_note(name)))
    a, _, _, d, e, f = sheet.to_paper()
    onto: Matrix = (a, 0.0, 0.0, d, e - a * tile.window[0], f - d * tile.window[1])
    canvas = sheet.canvas
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(sheet.left, sheet.bottom, sheet.right - sheet.left, sheet.top - sheet.bottom)
    canvas.clipPath(window, stroke=0, fill=0)
    draw_panel(canvas, pattern, items, onto, window=tile.window)
    canvas.restoreState()
    draw_seams(sheet, guide, name, onto)
    at, size = sheet.map_box(guide)
    tile_map(
        sheet, guide, outline_of_all(items), at, size, first_page=None, shaded=name, stamp="map-of-panel"
    )
    draw_tile_name(sheet, guide, tile, taken, onto)
    if pattern.outlines:
        sheet.remark(sheet.tell(said.LETTER_ON_OUTLINE))
