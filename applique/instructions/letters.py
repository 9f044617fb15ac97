"""Letters: from the templates to letters ready to place, by the method of the book."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from applique.cautions import (
    CARRIAGE,
    FREEZER_PAPER,
    IRON,
    MACHINE_BLADE,
    SCISSORS,
    SMALL_PARTS,
    STEAM,
)
from applique.design import FreezerPaper, Method, Turns
from applique.drawings import fusing as drawn
from applique.drawings import turning
from applique.drawings.key import LABELED
from applique.drawings.model_letter import model_letter
from applique.instructions.book import Book
from applique.instructions.ticks import all_letter_ticks, runs_leftward
from applique.instructions.values import (
    Block,
    Cautions,
    Chapter,
    ChapterKind,
    Listed,
    Paragraph,
    Picture,
    Step,
    Table,
    Tick,
)
from applique.language import Message, PageOf
from applique.marks import high_marks, stands_off
from applique.pieces import Layer, Template, rows_said
from applique.quilt.strips import Extent
from applique.units import Units, cutting_step, measured_up
from applique.words.buying import material_said
from applique.words.cut_files import FOLDER_OF_FILES, ZIP_OF_FILES, files_said
from applique.words.instructions import fused_by_hand as by_hand
from applique.words.instructions import fused_by_machine as by_machine
from applique.words.instructions import letters as said
from applique.words.instructions import marking
from applique.words.instructions import over_freezer_paper as over_paper
from applique.words.nests import lying_said, nest_bookmark, seen_from_back
from applique.words.sew_along import Done
from applique.yardage import StripNeed

__all__ = ["leftward_rows", "letters"]

_TEMPLATES: Final = tuple(zip(said.TEMPLATES_HEAD, (1.2, 1.6, 5.0, 2.0), strict=True))
_WITH_WEB: Final = tuple(zip((*said.TEMPLATES_HEAD, said.WEB_HEAD), (1.2, 1.5, 3.6, 1.4, 2.6), strict=True))
_MATS: Final = tuple(zip(said.MATS_HEAD, (1.0, 3.0, 1.0, 3.0), strict=True))
_AT_ONCE: Final = 65
"""So many templates stand in one picture."""
_MOST_TICKS: Final = 60
"""More templates than these are ticked off row by row."""


def letters(book: Book) -> Chapter:
    """From the printed templates, or from the cut files, to letters ready to place."""
    return Chapter(kind=ChapterKind.LETTERS, title=said.LETTERING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    yield from _which(book)
    match book.method:
        case Method.RAW_EDGE:
            yield from _by_hand(book)
        case Method.MACHINE_CUT:
            yield from _by_machine(book)
        case Method.TURNED_EDGE:
            yield from _turned(book)
    if book.sorts_letters:
        yield _pick(book)


def _pick(book: Book) -> Step:
    """The letters sorted into rows, with what lies behind them."""
    pattern, called = book.pattern, _called(book)
    ticks = []
    for mark in pattern.marks:
        numbers = Counter([*(one.template for one in mark.letters), *(one.template for one in mark.outlines)])
        picked = (
            said.picked_said(pattern.template(number), count, called)
            for number, count in sorted(numbers.items())
        )
        key = "-".join(map(str, mark.where.path))
        ticks.append(Tick(key=f"pick-{key}", said=said.pick_row_said(mark.where.as_field(), picked)))
    return book.step(said.pick_said(), ticks=ticks)


def _which(book: Book) -> Iterator[Block]:
    """Which template is which: drawn, then in a table."""
    pattern = book.pattern
    templates, called = pattern.templates, _called(book)
    yield Paragraph(
        said=said.lettering_said(
            pattern.letter_count,
            len(templates),
            pieces=pattern.piece_count,
            joined=pattern.joins_letters,
            behind=sum(one.count * one.parts for one in templates if one.layer is Layer.OUTLINE),
        )
    )
    yield from leftward_rows(book)
    for start in range(0, len(templates), _AT_ONCE):
        some = templates[start : start + _AT_ONCE]
        yield Picture(drawing=drawn.draw_legend(some, book.width, said.LEGEND))
    rectangles = _rectangles(book)
    if rectangles.keys().isdisjoint(template.key for template in templates):
        rectangles = {}
    yield Table(
        columns=_WITH_WEB if rectangles else _TEMPLATES,
        rows=tuple(
            (
                str(template.number),
                said.letter_said(template, called),
                said.template_uses_said(template),
                rows_said(template),
                *([_web_of(template, rectangles, book.units)] if rectangles else ()),
            )
            for template in templates
        ),
    )


def _rectangles(book: Book) -> dict[str, Extent]:
    """The width and height of each piece of web that a machine takes, by what it is for; nothing of other methods."""
    if book.method is not Method.MACHINE_CUT:
        return {}
    grid = cutting_step(book.units)
    found: dict[str, Extent] = {}
    for piece in book.pattern.fusible.pieces:
        x0, y0, x1, y1 = piece.shape.bounds
        found[piece.key] = (measured_up(x1 - x0, grid), measured_up(y1 - y0, grid))
    return found


def _web_of(template: Template, rectangles: Mapping[str, Extent], units: Units) -> Message:
    size = rectangles.get(template.key)
    return said.ON_MATS if size is None else by_machine.web_size_said(size, units)


def leftward_rows(book: Book) -> Iterator[Paragraph]:
    """Which rows run from right to left, and where they start."""
    rows = book.pattern.panel.rows
    for row in rows:
        lettered = [cut for cut in row.cuts if cut.letters]
        if lettered and runs_leftward(row):
            first = min(lettered, key=lambda cut: cut.letters[0])
            yield Paragraph(said=said.leftward_said(row.number, len(rows), first.text))


def _called(book: Book) -> frozenset[str]:
    """The letters of all templates."""
    return frozenset(template.text for template in book.pattern.templates)


def _ticks(book: Book, work: str) -> tuple[Tick, ...]:
    """A tick for each template, or where there are many for each row."""
    pattern, called = book.pattern, _called(book)
    if len(pattern.templates) > _MOST_TICKS:
        return tuple(
            Tick(key=f"{work}-row-{row.number}", said=said.tick_row_said(row.number, row.text))
            for row in pattern.panel.rows
        )
    return tuple(
        Tick(key=f"{work}-{name}", said=said.tick_said(template, name, called))
        for template in pattern.templates
        for name in template.part_names or (str(template.number),)
    )


def _printed(book: Book, *, mirrored: bool) -> Iterator[Block]:
    """The pages that are printed, and the large letters that are taped together."""
    pattern = book.pattern
    pages = {paper: sheets.page_count + 1 for paper, sheets in book.papers.items()}
    yield book.step(said.print_said(pages, mirrored=mirrored))
    tiled = {paper: sheets.joined for paper, sheets in book.papers.items() if sheets.joined}
    if tiled:
        paper, (first, *_) = next(iter(tiled.items()))
        names = {
            paper: [pattern.template(one.template).name for one in found] for paper, found in tiled.items()
        }
        shown, told = said.TILES, [said.tiles_said(names[paper])]
        if len(book.papers) > 1:
            shown, told = said.tiles_on_said(paper), [*said.tiles_by_paper_said(names)]
        drawing = drawn.draw_tiles(pattern.template(first.template), first, shown, mirrored=mirrored)
        yield book.step(*told, drawing=drawing)


def _is_off(book: Book) -> bool:
    """Whether a letter does not stand on its baseline, so that it is copied."""
    return stands_off(book.pattern.marks, book.units)


def _is_copied(book: Book) -> bool:
    """Whether baselines are copied from every template: a letter stands off its own, or outlines reach below theirs."""
    return _is_off(book) or bool(book.pattern.outlines)


def _high(book: Book) -> list[str]:
    """The letters whose middle meets them only well above the baseline."""
    return list(dict.fromkeys(one.text for one in high_marks(book.pattern.marks, book.pattern.templates)))


def _turned_in_rows(book: Book) -> list[Template]:
    """The letters that are turned in their rows, and are laid by their own baselines."""
    return [template for template in book.pattern.templates if template.leans]


def _has_hole(template: Template) -> bool:
    return len(template.outline.contours) > template.parts


def _holed(templates: Sequence[Template]) -> Template:
    """The letter that shows how holes are cut, where there are any."""
    return model_letter([one for one in templates if _has_hole(one)] or templates)


def _page(book: Book, needs: Sequence[StripNeed]) -> PageOf | None:
    """The page of the printed pattern that shows how letters lie on webs or fabrics; None where that is a file of its
    own."""
    if not book.is_customers:
        return None
    return PageOf(title=lying_said(book.pattern.fusible), parts=tuple(map(nest_bookmark, needs)))


def _on_fabric(book: Book) -> Iterator[Message]:
    """On which pieces of fabric the letters are laid out, and where that is shown."""
    pieces = [said.named_said(piece, fabric) for fabric, names in book.letter_blocks() for piece in names]
    if pieces:
        from_back = seen_from_back(book.pattern.design.sewing)
        laid = {fabric for fabric, _ in book.letter_blocks()}
        page = _page(book, [need for need in book.pattern.cloth if need.fabric in laid])
        yield said.laid_on_fabric_said(
            pieces, page, from_back=from_back, outlined=bool(book.pattern.outlines)
        )
        one_way = [
            buy.fabric.name
            for buy in book.pattern.shopping.cloth
            if buy.fabric.turns is Turns.UPRIGHT and buy.fabric.name in laid
        ]
        if one_way:
            yield said.way_up_said(one_way)


# Fused and cut by hand


def _by_hand(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    fusible, templates = pattern.design.fusible, pattern.templates
    web = pattern.fusible.joined
    model, room = model_letter(templates), float(fusible.rough_cut)
    yield from _printed(book, mirrored=True)
    joined = by_hand.join_web_said(web, units) if web else ()
    yield book.step(
        *by_hand.trace_web_said(),
        said.laid_on_web_said(material_said(book.pattern.fusible), _page(book, [book.pattern.fusible])),
        *marking.copy_middle_said(_high(book)),
        *marking.copy_baseline_said(off=_is_copied(book), turned=_turned_in_rows(book)),
        *joined,
        drawing=drawn.draw_traced(model, said.TRACED[True], mirrored=True),
        ticks=_ticks(book, "trace"),
        on_screen=all_letter_ticks(pattern, Done.TRACED),
    )
    yield Cautions(items=(SCISSORS, SMALL_PARTS))
    yield book.step(
        by_hand.rough_cut_said(fusible.rough_cut, units),
        *said.in_parts_said(pattern.design, templates),
        drawing=drawn.draw_rough_cut(model, room, by_hand.ROUGH_CUT, on_line=not fusible.rough_cut),
    )
    yield from _ring(book)
    yield Cautions(items=(IRON, STEAM, book.makers))
    yield book.step(
        *_on_fabric(book),
        *by_hand.fuse_said(),
        drawing=drawn.draw_fused(model, room, by_hand.FUSED),
        ticks=_ticks(book, "fuse"),
        on_screen=all_letter_ticks(pattern, Done.FUSED),
    )
    holes = (said.counters_said(),) if any(map(_has_hole, templates)) else ()
    yield book.step(
        by_hand.cut_on_line_said(),
        *holes,
        drawing=drawn.draw_cut(_holed(templates), room, by_hand.CUT_OUT),
        ticks=_ticks(book, "cut"),
        on_screen=all_letter_ticks(pattern, Done.CUT),
    )
    yield book.step(
        *_carried(book),
        by_hand.peel_said(picked=book.sorts_letters),
        drawing=drawn.draw_peeled(model, by_hand.PEELED),
    )


def _ring(book: Book) -> Iterator[Block]:
    """The middle of the web taken out, where the design asks for it."""
    ring, templates = book.pattern.design.fusible.ring, book.pattern.templates
    for words in by_hand.ring_said(templates, ring, book.units):
        large = max(templates, key=lambda template: template.ring_saves)
        yield book.step(words, drawing=drawn.draw_ring(large, by_hand.RINGED))


# Fused and cut by a machine


def _by_machine(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    model = model_letter(pattern.templates)
    yield from _printed(book, mirrored=True)
    yield Cautions(items=(SCISSORS, IRON, STEAM, book.makers))
    large = pattern.mat_plan.too_large
    by_hand = (by_machine.too_large_said([template.name for template in large]),) if large else ()
    if not pattern.mats:
        by_hand = (by_machine.larger_said(pattern.templates, units),)
    rectangles = _rectangles(book)
    if pattern.mats:
        yield Table(
            columns=_MATS,
            rows=tuple(
                (
                    str(mat.number),
                    book.chips.get(mat.fabric, mat.fabric),
                    str(len(mat.placements)),
                    by_machine.web_size_said(mat.piece, units),
                )
                for mat in pattern.mats
            ),
        )
    webs = [by_machine.web_for_mats_said(len(pattern.mats))] if pattern.mats else []
    if any(template.key in rectangles for template in pattern.templates):
        margin = pattern.design.fusible.rough_cut
        webs.append(by_machine.web_for_letters_said(margin, units, off_mats=bool(pattern.mats)))
    if pattern.fusible.joined:
        webs.append(by_machine.join_rectangles_said(pattern.fusible.joined, units))
    if webs:
        webs.append(
            said.laid_on_web_said(material_said(book.pattern.fusible), _page(book, [book.pattern.fusible]))
        )
    yield book.step(*webs, *by_hand)
    yield book.step(*_on_fabric(book), by_machine.web_on_fabric_said())
    yield book.step(
        *by_machine.cut_files_said(len(pattern.mats)),
        by_machine.check_cut_said(model, units),
        drawing=drawn.draw_checked(model, units, by_machine.CHECKED),
    )
    yield Paragraph(said=ZIP_OF_FILES if book.is_customers else FOLDER_OF_FILES)
    quilted, mats = bool(pattern.quilting), bool(pattern.mats)
    files = files_said(
        book.method,
        pattern.templates,
        panels=bool(pattern.panel_templates),
        in_mats=mats,
        quilting=quilted,
    )
    yield Listed(items=tuple(files))
    yield Cautions(items=(CARRIAGE, MACHINE_BLADE, SMALL_PARTS))
    yield book.step(
        *by_machine.machine_cut_said(in_mats=bool(pattern.mats)),
        *([by_machine.on_mats_said()] if pattern.mats else ()),
        drawing=drawn.draw_on_mat(model, by_machine.ON_MAT),
        tints=LABELED,
        ticks=_ticks(book, "cut"),
        on_screen=all_letter_ticks(pattern, Done.CUT),
    )
    yield book.step(by_machine.weed_said(), drawing=drawn.draw_weeded(model, by_machine.WEEDED))
    yield book.step(
        *marking.paper_letters_said(_high(book), off=_is_copied(book) or bool(_turned_in_rows(book)))
    )
    yield book.step(
        marking.paper_letter_laid_said(),
        *_carried(book),
        drawing=drawn.draw_middle(model, over_paper.PAPER_LETTER),
        tints=LABELED,
    )


def _carried(book: Book) -> tuple[Message, ...]:
    """That the middle is carried over to the fabric with a pencil tried first, and the baseline where letters stand off
    it."""
    return (
        marking.pencil_tried_said(book.method, outlined=bool(book.pattern.outlines)),
        marking.carry_middle_said(outlined=bool(book.pattern.outlines)),
        *marking.carry_baseline_said(off=_is_off(book), turned=_turned_in_rows(book)),
    )


# Turned over freezer paper


def _marked_behind(book: Book) -> Iterator[Message]:
    """That the middle is marked behind where paper covers the right side, with a pencil tried first."""
    outlined = bool(book.pattern.outlines)
    yield marking.pencil_tried_said(book.method, outlined=outlined)
    yield from marking.mark_behind_said(outlined=outlined, off=_is_off(book), turned=_turned_in_rows(book))


def _turned(book: Book) -> Iterator[Block]:
    pattern, units = book.pattern, book.units
    sewing, templates = pattern.design.sewing, pattern.templates
    way, turn = sewing.freezer_paper, float(sewing.turn_under)
    mirrored = over_paper.is_mirrored(way)
    model = model_letter(templates)
    yield from _printed(book, mirrored=mirrored)
    if pattern.fusible.joined:
        yield Cautions(items=(IRON, FREEZER_PAPER))
        yield book.step(*over_paper.join_paper_said(pattern.fusible.joined, units))
    yield Cautions(items=(SCISSORS, SMALL_PARTS))
    trace, *cut_out = over_paper.trace_paper_said(way, holes=any(map(_has_hole, templates)))
    yield book.step(
        trace,
        *marking.copy_middle_said(_high(book)),
        *marking.copy_baseline_said(off=_is_copied(book), turned=_turned_in_rows(book)),
        said.laid_on_web_said(material_said(book.pattern.fusible), _page(book, [book.pattern.fusible])),
        *said.in_parts_said(pattern.design, templates),
        *cut_out,
        drawing=drawn.draw_traced(model, said.TRACED[mirrored], mirrored=mirrored),
        ticks=_ticks(book, "trace"),
        on_screen=all_letter_ticks(pattern, Done.TRACED, Done.PAPER_CUT),
    )
    yield Cautions(items=(IRON, FREEZER_PAPER))
    letters = sum(template.count for template in templates)
    yield book.step(
        *_on_fabric(book),
        *over_paper.lay_paper_said(way, letters),
        drawing=turning.draw_laid(model, way, over_paper.LAID[way]),
        on_screen=all_letter_ticks(pattern, Done.PRESSED_ON),
    )
    holes = (said.counters_said(),) if any(map(_has_hole, templates)) else ()
    yield book.step(
        over_paper.cut_allowance_said(sewing.turn_under, units),
        *over_paper.meeting_said(templates),
        *holes,
        drawing=turning.draw_allowance(_holed(templates), way, turn, over_paper.ALLOWANCE),
        ticks=_ticks(book, "cut"),
        on_screen=all_letter_ticks(pattern, Done.CUT),
    )
    clipped = turning.draw_clips(model, model.turned, way, turn, over_paper.CLIPPED) if model.turned else None
    yield book.step(*over_paper.clip_said(templates), drawing=clipped)
    yield book.step(
        *over_paper.turning_said(way),
        *over_paper.tucked_said(templates),
        drawing=turning.draw_turned(model, way, turn, over_paper.TURNED),
    )
    yield book.step(over_paper.turn_point_said(), drawing=turning.draw_point(way, over_paper.POINT))
    yield book.step(
        over_paper.turn_vee_said(),
        over_paper.turned_said(way),
        drawing=turning.draw_vee(way, over_paper.VEE),
        ticks=_ticks(book, "turn"),
        on_screen=all_letter_ticks(pattern, Done.TURNED),
    )
    if way is FreezerPaper.RIGHT_SIDE:
        yield book.step(*_marked_behind(book))
        yield book.step(
            over_paper.remove_paper_said(way), marking.bring_round_said(turned=bool(_turned_in_rows(book)))
        )
    else:
        yield book.step(*_carried(book), over_paper.remove_paper_said(way))
