"""Placing: center line, baselines, every letter's place, and how they are held there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.cautions import IRON, PINS, STEAM
from applique.design import Around, Method, Stitch
from applique.drawings.folding import draw_center_fold
from applique.drawings.placing import draw_fused_down, draw_placing, has_ends_beside, has_ends_within
from applique.errors import Where
from applique.instructions.book import MANY_LETTERS, Book
from applique.instructions.letters import leftward_rows
from applique.instructions.places import places_of
from applique.instructions.stitching import stitch_kinds
from applique.instructions.ticks import letter_ticks
from applique.instructions.values import (
    Block,
    Cautions,
    Cell,
    Chapter,
    ChapterKind,
    Heading,
    OnScreen,
    Paragraph,
    Picture,
    Step,
    Table,
    Tick,
)
from applique.language import Field, Message, listed
from applique.marks import RowMark, high_marks, lists_lowest, off_fabric, panel_lines, stands_off
from applique.outline_layer import lie_over
from applique.panel import PanelPlan
from applique.picture import Part
from applique.units import as_length
from applique.words import below, downward, garment, loose
from applique.words.blocks import BLOCK_IS_PANEL, on_each_said
from applique.words.instructions import outlines
from applique.words.instructions import placing as said
from applique.words.instructions.marking import marks_off_said
from applique.words.sew_along import Done
from applique.words.sheets import from_center, table_said

__all__ = ["placing"]

_ROWS: Final = tuple(zip(said.ROWS_HEAD, (0.7, 3.6, 2.4, 2.2, 2.2), strict=True))
_WIDE: Final = 505.0
"""Points across the drawing of the panel at the most: so wide it fits a tablet held upright, its words readable."""
_HIGH: Final = 290.0
"""Points that the placement drawing may be high, and that of many rows."""
_HIGHER: Final = 520.0
_HIGH_OF_MANY: Final = 205.0
"""Points that the drawing of one panel of several may be high, so that two have room on a page."""
_MANY_ROWS: Final = 12
_TURNED: Final = tuple(zip(said.TURNED_HEAD, (0.8, 0.6, 1.4, 1.5, 2.7, 2.7), strict=True))
_LOWEST: Final = tuple(zip(said.LOWEST_HEAD, (1.0, 1.0, 3.0, 3.0), strict=True))


def placing(book: Book) -> Chapter:
    """How the letters come onto the panel."""
    return Chapter(kind=ChapterKind.PLACING, title=said.PLACING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    """The marks of every panel, and then how letters are laid on them. The center line of panels that are cut alike is
    told once."""
    seen = list(book.panels())
    if book.pattern.quilt.blocks:
        yield Paragraph(said=BLOCK_IS_PANEL)
    alike = len(seen) > 1 and len({_folded(panel.pattern.panel) for _, panel in seen}) == 1
    if alike:
        yield Heading(said=said.CENTER_OF_EACH)
        yield _center_step(seen[0][1], of_blocks=True)
    for heading, panel in seen:
        if heading is not None:
            yield Heading(said=heading)
        yield from _marked(panel, centered=alike, high=_HIGH_OF_MANY if len(seen) > 1 else None)
    if book.pattern.quilt.blocks:
        yield Heading(said=said.ON_EACH_BLOCK)
        yield Paragraph(said=on_each_said(book.pattern.quilt))
    yield from _laid(book)


def _folded(panel: PanelPlan) -> tuple[Fraction, Fraction, Fraction, bool]:
    """What the step of the center line says of a panel, in inches: panels of which that is equal share the step."""
    return panel.cut_width, panel.cut_height, panel.trim, panel.outline is None


def _center_step(book: Book, *, of_blocks: bool = False) -> Step:
    """How the center line is marked, or that of each block."""
    panel, units = book.pattern.panel, book.units
    if panel.worn is not None:
        return book.step(*garment.center_line_said(panel.worn))
    if not panel.is_cut:
        return book.step(*loose.center_line_said(book.pattern.reach, units))
    size = (panel.cut_width, panel.cut_height)
    return book.step(
        *said.center_said(panel, units, of_blocks=of_blocks),
        drawing=draw_center_fold(size, panel.center_from_edge, units, said.CENTERED),
    )


def _marked(book: Book, *, centered: bool, high: float | None) -> Iterator[Block]:
    """The lines and marks of one panel, whose center line is marked already if it is `centered`; drawn at most `high`
    points high, where that is given."""
    pattern, units = book.pattern, book.units
    panel, marks, lines = pattern.panel, pattern.marks, panel_lines(pattern.panel)
    items = tuple(book.picture.on_panel(Part.OUTLINE, Part.LETTER, Part.SHAPE))
    inked = [
        *(cut.ink for cut in panel.cuts),
        *(item.laid.bounds() for item in items if item.part is Part.OUTLINE),
    ]
    point = below.point_of(panel)
    if not centered:
        yield _center_step(book)
    around = pattern.design.outline.around
    slanting = any(mark.slants and not mark.runs_down for mark in marks)
    down = any(mark.runs_down for mark in marks)
    across = [mark for mark in marks if not mark.runs_down]
    ticked, by_word = (any(mark.by_word is way for mark in across if mark.letters) for way in (False, True))
    turned = [(mark, letter, letter.own) for mark in marks for letter in mark.letters if letter.own]
    placed = draw_placing(
        lines,
        marks,
        items,
        inked,
        (min(book.width, _WIDE), high or (_HIGH if len(marks) <= _MANY_ROWS else _HIGHER)),
        units,
        book.speech,
        _drawn_said(book, slanting=slanting, ticked=ticked) if across else downward.drawn_said(),
        edge=said.CUT_TOP_EDGE if panel.is_cut else loose.FROM_LINE if panel.loose else garment.FROM_POINT,
        framed=not panel.loose,
        finished=panel.is_cut,
    )
    marked = (
        *((downward.ACROSS_MARKED,) if down and across else ()),
        *(_rows_marked(book, slanting=slanting, ticked=ticked) if across else said.beyond_said(panel, units)),
        *(
            outlines.long_ticks_said(pattern.outlines, across, around, units)
            if _outlined(marks, down=False)
            else ()
        ),
    )
    own = (said.turned_marked_said(),) if turned else ()
    ends: tuple[Message, ...] = ()
    if ticked and has_ends_beside(placed, marks, units):
        ends = (said.ends_said(),)
    elif ticked and not by_word and has_ends_within(placed, marks, units, book.speech):
        ends = (said.ends_within_said(),)
    printed, shown = (
        (
            *marked,
            *(said.middles_said(where, ticked=ticked, by_word=by_word) if across else ()),
            *ends,
            *(downward.marked_said(point, where) if down else ()),
            *((downward.outlines_marked_said(),) if _outlined(marks, down=True) else ()),
            *own,
        )
        for where in (said.guide_table_where(one_file=book.is_customers), said.TABLE_BELOW)
    )
    yield book.step(*printed, on_screen=OnScreen(said=shown, places=places_of(pattern)))
    yield Picture(drawing=placed)
    if down and across:
        yield Paragraph(
            said=downward.lines_drawn_said(ticked=any(mark.ticked for mark in marks if mark.runs_down))
        )
    yield from leftward_rows(book)
    yield Table(
        columns=_columns(point, across=bool(across), down=down),
        rows=tuple(
            (
                table_said(mark.where),
                mark.text,
                downward.ends_said(mark, units)
                if mark.runs_down and not mark.turn_deg
                else said.baseline_said(mark, units),
                from_center(mark.left, units),
                from_center(mark.right, units),
            )
            for mark in marks
        ),
    )
    if turned:
        yield Paragraph(said=said.TURNED)
        rows = tuple(said.turned_cells(mark, letter, own, units) for mark, letter, own in turned)
        yield Table(columns=_TURNED, rows=rows)
    lowest, off = _off_line(book)
    if off:
        yield Paragraph(said=said.off_line_said(below=min(lowest) < 0, above=max(lowest) > 0))
        yield Table(columns=_LOWEST, rows=off)


def _laid(book: Book) -> Iterator[Block]:
    """How letters come onto the marks, and are held there."""
    pattern, units = book.pattern, book.units
    panel, marks = pattern.panel, pattern.marks
    around = pattern.design.outline.around
    across = [mark for mark in marks if not mark.runs_down]
    ticked, by_word = (any(mark.by_word is way for mark in across if mark.letters) for way in (False, True))
    turned = any(letter.own for mark in marks for letter in mark.letters)
    _, off = _off_line(book)
    of_blocks = bool(pattern.quilt.blocks)
    by_row = len(panel.cuts) > MANY_LETTERS and len(marks) > 1 and not of_blocks
    fused = book.method is not Method.TURNED_EDGE
    flat = (said.flat_said(of_blocks=of_blocks),) if fused and not pattern.outlines and panel.is_cut else ()
    if not panel.is_cut:
        yield book.step(loose.SHIELD if panel.loose else garment.SHIELD)
    laid: tuple[Message, ...] = (*flat, said.laid_out_said(book.method, by_row=by_row, of_blocks=of_blocks))
    if across and len(across) < len(marks):
        laid = (*laid, downward.ACROSS_FIRST)
    if ticked:
        laid = (*laid, said.stand_said(off=stands_off(marks, units) or bool(off), listed=bool(off)))
        if high := high_marks(across, pattern.templates):
            laid = (*laid, said.high_marks_said(list(dict.fromkeys(one.text for one in high))))
    if any(mark.runs_down for mark in marks):
        beside = any(mark.off_line(letter) for mark in marks if mark.runs_down for letter in mark.ticked)
        laid = (*laid, downward.laid_said(beside=beside))
    if by_word:
        laid = (*laid, said.words_stand_said(listed=bool(off)))
    parts = [part.name for mark in marks for letter in mark.letters for part in letter.parts]
    if pattern.stitching.hidden:
        laid = (*laid, said.overlapping_said())
        if any(mark.runs_down for mark in marks):
            laid = (*laid, downward.order_said())
    if turned:
        laid = (*laid, said.turned_laid_said(outlined=bool(pattern.outlines) and around is Around.LETTERS))
    if off_panel := [one.name for one in pattern.templates if one.off is not None]:
        laid = (*laid, *said.cut_off_laid_said(off_panel, turned=not fused, trimmed=bool(panel.trim)))
    beyond = [
        letter.template
        for mark, row in zip(marks, panel.laid, strict=True)
        for letter in mark.letters
        if row.runs_off and not mark.by_word and off_fabric(letter, panel)
    ]
    if beyond:
        named = [pattern.template(number).name for number in dict.fromkeys(beyond)]
        laid = (*laid, said.off_fabric_said(named))
    if parts:
        laid = (*laid, said.parts_laid_said(parts))
    if pattern.outlines:
        yield book.step(
            *((said.flat_said(of_blocks=of_blocks),) if fused and panel.is_cut else ()),
            *outlines.laid_said(
                pattern.outlines,
                around,
                units,
                over=lie_over(pattern.outlines),
                across=_outlined(marks, down=False),
            ),
            *((downward.outlines_laid_said(),) if _outlined(marks, down=True) else ()),
        )
        laid = (*laid, outlines.letters_laid_said(around), outlines.only_looked_at_said())
    yield book.step(*laid)
    down = len(across) < len(marks)
    yield book.step(_look(by_row=by_row, of_blocks=of_blocks, across=bool(across), down=down))
    yield Cautions(items=(PINS, IRON, STEAM, book.makers) if fused else (PINS, IRON))
    yield _held(book, by_row=by_row)
    if not pattern.outlines:
        yield book.step(*marks_off_said(glued=not fused, trimmed=pattern.quilt.is_cut_again(panel)))
    if book.method is Method.TURNED_EDGE and Stitch.STRAIGHT in stitch_kinds(book.pattern):
        yield Heading(said=said.BY_HAND)
        yield book.step(*said.by_hand_said(units, outlined=bool(pattern.outlines)))


def _look(*, by_row: bool, of_blocks: bool, across: bool, down: bool) -> Message:
    """What to look at before anything is fixed, where rows run `across`, `down` or both ways."""
    if down:
        return downward.look_said(by_row=by_row, across=across)
    return said.look_said(by_row=by_row, of_blocks=of_blocks)


def _outlined(marks: Sequence[RowMark], *, down: bool) -> bool:
    """Whether any row that runs `down`, or across, has outlines behind its letters."""
    return any(mark.outlines for mark in marks if mark.runs_down is down)


def _rows_marked(book: Book, *, slanting: bool, ticked: bool) -> Iterator[Message]:
    """How the baselines of rows across are marked."""
    panel = book.pattern.panel
    point = below.point_of(panel)
    if point is None:
        return said.mark_rows_said(panel, book.units, slanting=slanting, ticked=ticked)
    return below.rows_marked_said(point, slanting=slanting, ticked=ticked)


def _drawn_said(book: Book, *, slanting: bool, ticked: bool) -> Message:
    """What the placement drawing shows."""
    panel = book.pattern.panel
    if panel.worn is not None:
        return garment.drawn_said(panel.worn)
    return loose.drawn_said() if panel.loose else said.placed_said(slanting=slanting, ticked=ticked)


def _columns(point: Field | None, *, across: bool, down: bool) -> tuple[tuple[Message, float], ...]:
    """The columns of the table of rows, whose baselines are measured down from `point`, or else from the cut top edge,
    and so are the lines of those that run `down`, alone or beside rows `across`."""
    lines = said.ROWS_HEAD[2]
    if down:
        lines = downward.BASELINE_OR_LINE_HEAD if across else downward.LINE_HEAD
    if point is not None:
        lines = below.baseline_head(point)
    return tuple((lines if head is said.ROWS_HEAD[2] else head, width) for head, width in _ROWS)


def _off_line(book: Book) -> tuple[list[float], tuple[tuple[Cell, ...], ...]]:
    """How far the lowest points of letters, or of parts of them, lie above their baselines that the table of the guide
    does not put on them, and a line for each: its template, its rows, and how far."""
    units, marks = book.units, book.pattern.marks
    if not lists_lowest(marks, units):
        return [], ()
    found: list[float] = []
    rows: dict[tuple[int, str, str, Message], list[Where]] = {}
    for mark in marks:
        for letter in mark.letters:
            for name, above in [(part.name, part.above_baseline) for part in letter.parts] or [
                (str(letter.template), letter.above_baseline)
            ]:
                if as_length(abs(above), units, denominator=16).number:
                    found.append(above)
                    ticked = mark.runs_down and letter.own is None
                    lowest = (downward if ticked else said).lowest_said(above, units)
                    rows.setdefault((letter.template, name, letter.text, lowest), []).append(mark.where)
    return found, tuple(
        (name, text, listed(table_said(where) for where in dict.fromkeys(wheres)), lowest)
        for (_, name, text, lowest), wheres in sorted(rows.items(), key=lambda item: item[0][:2])
    )


def _held(book: Book, *, by_row: bool) -> Step:
    """What is fused or pinned now: all letters, or where there are outlines those, and the letters of other rows.

    Of several panels the first is drawn.
    """
    pattern, fused = book.pattern, book.method is not Method.TURNED_EDGE
    drawn = pattern.blocks[0]
    items = tuple(drawn.picture.on_panel(Part.OUTLINE, Part.LETTER, Part.SHAPE))
    outlined = {piece.where for piece in pattern.outlines}
    rows = {where.row for where in outlined}
    now = [item for item in items if item.part is Part.OUTLINE or item.row not in rows]
    words = said.hold_said(book.method, by_row=by_row, of_blocks=bool(pattern.quilt.blocks))
    if outlined:
        plain = any(mark.where not in outlined for mark in pattern.marks)
        words = said.hold_outlines_said(book.method, plain=plain, by_row=by_row)
    return book.step(
        *words,
        drawing=draw_fused_down(
            panel_lines(drawn.panel),
            now,
            [item.laid.bounds() for item in now],
            (said.HELD_OUTLINES if outlined else said.HELD)[fused],
            book.speech,
            fused=fused,
            framed=not drawn.panel.loose,
        ),
        ticks=tuple(
            Tick(
                key=f"hold-{number}",
                said=said.outlines_tick_said(mark) if mark.where in outlined else said.row_tick_said(mark),
            )
            for number, mark in enumerate(pattern.marks, 1)
        ),
        on_screen=letter_ticks(
            pattern,
            Done.FUSED_DOWN if fused else Done.PLACED,
            behind=[mark.where for mark in pattern.marks],
            letters=[mark.where for mark in pattern.marks if mark.where not in outlined],
        ),
    )
