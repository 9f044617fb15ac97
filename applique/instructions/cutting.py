"""Cutting: for each fabric its cutting plan, drawn and in words, then what each piece is for, and what is joined."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import accumulate, groupby
from typing import Final

from applique.cautions import BLADE, IRON, SMALL_PARTS
from applique.cloth import ClothUse, UseKind
from applique.cutting import Demand
from applique.cutting.diagram import Band, Diagram, Group, of_several_sizes
from applique.cutting.values import NO_SPARE
from applique.drawings import Drawing, text_width
from applique.drawings.cloth import PieceNames, common_scale, draw_stretches, own_scale
from applique.drawings.folding import draw_folded_across, draw_folded_down, draw_join, draw_pieced
from applique.drawings.key import LABELED
from applique.instructions.book import Book
from applique.instructions.values import (
    Block,
    Cautions,
    Cell,
    Chapter,
    ChapterKind,
    Heading,
    Led,
    Paragraph,
    Picture,
    Table,
    Tick,
)
from applique.language import Message
from applique.leftovers import Leftover
from applique.quilt.finishing import BackingPlan
from applique.quilt.panel_cut import PanelCut
from applique.shopping import FabricBuy
from applique.units import cutting_step, round_up
from applique.words import panel_shapes
from applique.words.blocks import panels_said
from applique.words.cloth import use_how, use_said
from applique.words.cutting import (
    band_cut_said,
    band_said,
    bands_said,
    cloth_said,
    cuts_said,
    diagram_said,
    folds_said,
    is_whole,
    width_needed_said,
)
from applique.words.instructions import cutting as said
from applique.words.instructions.sizes import by_said
from applique.words.narrower import narrow_cuts_said

__all__ = ["cutting"]

_PIECES: Final = tuple(zip(said.PIECES_HEAD, (0.8, 1.1, 2.8, 3.6, 1.3), strict=True))
_BESIDE: Final = 0.5
"""A drawing no wider than this share of the line has the cuts beside it."""
_BODY, _LINE, _AFTER = 9.5, 13.5, 4.0
"""About what words take of a page: their size, a line, and the white after a paragraph."""
_LONGER: Final = 1.5
"""Words that are no longer than so many times their drawing stay in one piece beside it, with what is ticked off."""
_RULER: Final = Fraction(24)
"""Inches that a long ruler reaches: common practice, no source."""
_NUMBERED: Final = 24.0
"""Points that the number of a step takes."""
_AROUND: Final = 40.0
"""Points for the number of a step and between words and drawing."""
_RAGGED: Final = 0.92
"""How full lines are."""
_LEAST: Final = 120.0
"""Points that words may take beside a low drawing."""


def cutting(book: Book) -> Chapter:
    """Every fabric, in the order of the shopping list, then the strips that are joined."""
    return Chapter(kind=ChapterKind.CUTTING, title=said.CUTTING, blocks=tuple(_blocks(book)))


def _blocks(book: Book) -> Iterator[Block]:
    pattern = book.pattern
    yield Paragraph(said=said.WASH_FIRST if pattern.design.yardage.is_washed else said.UNWASHED)
    seams, order = said.cut_sizes_said(pattern.panel.seam_allowance, book.units, panel=pattern.panel.is_cut)
    if book.has_seams:
        yield Paragraph(said=seams)
    yield Paragraph(said=order)
    yield Paragraph(said=said.IN_ORDER)
    if max(side for size in pattern.quilt.made for side in size) + 2 * pattern.quilt.raw > _RULER:
        yield Paragraph(said=said.BEYOND_RULER)
    cloths = [(buy, _names(book, buy)) for buy in pattern.shopping.cloth]
    drawn = [(diagram, names) for buy, names in cloths for diagram in buy.cutting.diagrams]
    scale = common_scale(drawn, book.width - _NUMBERED)
    if scale is not None and len(drawn) > 1:
        yield Paragraph(said=said.one_scale_said(scale, book.units))
    for buy, names in cloths:
        yield from _fabric(book, buy, names, scale)


def _names(book: Book, buy: FabricBuy) -> PieceNames:
    """What is said of the pieces of a fabric in its drawing."""
    uses = {key: use_said(use) for use in buy.cutting.uses for key in use.keys}
    sizes, several = _hung(book, buy), of_several_sizes(buy.cutting.diagrams)
    return PieceNames(book.letters[buy.fabric.name], uses, book.units, book.speech, sizes, several)


def _fabric(book: Book, buy: FabricBuy, names: PieceNames, scale: int | None) -> Iterator[Block]:
    """One fabric, drawn to the `scale` of all of them, or to one of its own, which is said."""
    units, cut = book.units, buy.cutting
    letters = book.letters[buy.fabric.name]
    uses = {key: use for use in cut.uses for key in use.keys}
    yield Heading(said=said.fabric_said(book.chips[buy.fabric.name].letter, buy.fabric.name))
    wide = book.pattern.shopping.wide_backing
    if wide is not None and any(use.kind is UseKind.BACKING for use in cut.uses):
        yield Paragraph(said=said.wide_bought_said(wide, book.units))
    yield Cautions(items=(BLADE, SMALL_PARTS, IRON))
    kept = _for_the_back(book)
    cloths = [
        list(alike) for _, alike in groupby(cut.diagrams, key=lambda one: (one.cloth.supply, one.cloth.root))
    ]
    for diagrams in cloths:
        first = diagrams[0]
        which = cloth_said(cut, first.cloth.supply, [one.cloth.number for one in diagrams], units)
        shown = diagram_said(buy.fabric.name, sum(band.course.count for band in first.bands))
        selvages = cut.has_selvages(first.cloth)
        folds = folds_said(first, units, selvages=selvages)
        widths = book.widths(buy, first.cloth.supply)
        least = width_needed_said(first.width, widths.least, units)
        lengths = [one for use in uses.values() if use.kind is UseKind.BACKING for one in use.strips]
        lengths = list(dict.fromkeys(lengths)) if len(cut.supplies_cut) == 1 else []
        tight = round_up(widths.least, cutting_step(units)) >= first.width
        narrower = () if tight else said.narrower_said(widths, first.width, letters, lengths, units)
        other = None if cut.narrow is None else narrow_cuts_said(cut.narrow, letters, units)
        before = (words for words in (least, *narrower, other, folds) if words is not None)
        cuts = (*before, *_cuts(book, first, letters, selvages=selvages))
        drawn_at = scale or own_scale(first, names, book.width - _NUMBERED)
        pictures = tuple(draw_stretches(first, names, drawn_at, shown, selvages=selvages))
        if scale is None:
            cuts = (*cuts, said.scale_said(drawn_at, units))
        yield from _cloth(book, which, pictures, cuts, tuple(_ticks(buy.fabric.name, first)))
        full = [number for band in first.bands if band.fills(first.width) for number in band.numbers]
        if full and first.width - widths.least < NO_SPARE:
            yield Paragraph(said=said.full_width_said(full))
        rows = [*_rows(first, len(diagrams), names, uses)]
        rows += _left(book, cut.offcuts_of([one.cloth for one in diagrams]), kept)
        yield Table(columns=_PIECES, rows=tuple(rows))
    for use in buy.uses:
        if use.kind is UseKind.PANEL:
            yield from _panel(book, use, buy.fabric.name, cut.demands)
        else:
            yield from _use(book, use, letters)


def _hung(book: Book, buy: FabricBuy) -> dict[str, Message]:
    """The sizes of what is cut whole and has a top, as it hangs: the panel, and a backing without a seam."""
    return {
        one.key: by_said((use.cut.width, use.cut.height), book.units)
        for use in buy.uses
        if isinstance(use.cut, PanelCut | BackingPlan)
        for one in use.strips
        if {one.width, one.length} == {use.cut.width, use.cut.height}
    }


def _cloth(
    book: Book, which: Message, drawings: Sequence[Drawing], cuts: Sequence[Message], ticks: Sequence[Tick]
) -> Iterator[Block]:
    """A cloth drawn, and its cuts: beside it as far as it reaches, the others below."""
    first, *others = drawings
    beside = 0
    if first.width <= _BESIDE * book.width and not others:
        room = book.width - first.width - _AROUND
        heights = [_height(book, words, room) for words in (which, *cuts)]
        high = max(first.height, _LEAST)
        fitting = sum(reach <= high for reach in accumulate(heights))
        beside = len(cuts) if sum(heights) <= _LONGER * high else max(1, fitting - 1)
    below = (said.CUTS_BELOW,) if len(cuts) > beside else ()
    yield book.step(
        which, *cuts[:beside], *below, drawing=None if others else first, tints=LABELED, ticks=ticks
    )
    for drawing in drawings if others else ():
        yield Picture(drawing=drawing)
    for words in cuts[beside:]:
        yield Led(items=(("", words),))


def _ticks(fabric: str, diagram: Diagram) -> Iterator[Tick]:
    """One for each of its bands that differs from the one before."""
    cloth = diagram.cloth
    for band in diagram.bands:
        key = f"cut-{fabric}-{cloth.supply}-{cloth.number}-{band.number}"
        yield Tick(key=key, said=band_cut_said(band))


def _height(book: Book, words: Message, room: float) -> float:
    """About how many points words take on lines of `room`."""
    lines = math.ceil(text_width(book.speech.tell(words), _BODY) / (room * _RAGGED))
    return lines * _LINE + _AFTER


def _cuts(book: Book, diagram: Diagram, letters: Mapping[str, str], *, selvages: bool) -> tuple[Message, ...]:
    """The cuts of all bands, in their order."""

    def cuts(band: Band) -> tuple[Message, ...]:
        whole = is_whole(diagram, band)
        return tuple(
            words for _, words in cuts_said(band, letters, book.units, selvages=selvages, whole=whole)
        )

    return tuple(band_said(band, cuts(band)) for band in diagram.bands)


def _rows(
    diagram: Diagram, cloths: int, names: PieceNames, uses: Mapping[str, ClothUse]
) -> Iterator[tuple[Cell, ...]]:
    """The pieces that so many alike `cloths` give, in the order of their letters: equal ones of equal bands together,
    those of other bands in a row of their own, since they are cut in another place."""
    found: dict[tuple[str, Message, int], list[Group]] = {}
    for group in diagram.groups:
        first = min(diagram.bands_of(group))
        band = next(one.number for one in diagram.bands if first in one.numbers)
        found.setdefault((group.key, names.size_of(group), band), []).append(group)
    order = list(names.letters)
    for (key, size, _), groups in sorted(found.items(), key=lambda one: (order.index(one[0][0]), one[0][2])):
        bands = sorted({number for group in groups for number in diagram.bands_of(group)})
        count = cloths * sum(group.count for group in groups)
        yield names.letters[key], count, size, said.for_said(uses[key]), bands_said(bands)


def _for_the_back(book: Book) -> Counter[Leftover]:
    """What is left over and sewn into the back."""
    shopping = book.pattern.shopping
    if shopping.mixed_backing is not None:
        return Counter(shopping.mixed_backing.strip)
    leftovers = shopping.leftover_backing
    rows = leftovers.rows if leftovers is not None and leftovers.enough else ()
    return Counter(piece for row in rows for piece in row)


def _left(book: Book, left: Sequence[Leftover], kept: Counter[Leftover]) -> Iterator[tuple[Cell, ...]]:
    """What is left over of some cloths: what is to be `kept` for the back, and the rest."""
    back = [*(Counter(left) & kept).elements()]
    rest = [*(Counter(left) - kept).elements()]
    for pieces, what in ((back, said.LEFT_FOR_BACK), (rest, said.LEFT_OVER)):
        if pieces:
            yield "–", "", said.leftovers_of_said(pieces, book.units), what, ""


def _use(book: Book, use: ClothUse, letters: Mapping[str, str]) -> Iterator[Block]:
    """What is done with the pieces of one use before they are sewn."""
    pieces = [letters[key] for key in use.keys]
    how = said.how_said(use, letters, book.units)
    for words in (how, said.sewn_later_said(use, pieces), *said.spare_said(use, letters, book.units)):
        if words is not None:
            yield Paragraph(said=words)
    sleeve = said.sleeve_said(use, pieces, book.units)
    if sleeve is not None:
        seam = said.join_seam_said(book.pattern.panel.seam_allowance, book.units)
        yield book.step(sleeve, seam, drawing=draw_join(said.JOINED))


def _panel(book: Book, use: ClothUse, fabric: str, demands: Sequence[Demand]) -> Iterator[Block]:
    panel, units = book.pattern.panel, book.units
    if not isinstance(use.cut, PanelCut):
        return
    plan = use.cut
    keys = [demand.key for demand in demands if demand.key in use.keys]
    names = [book.piece(fabric, key) for key in keys]
    words = (
        panel_shapes.panels_said(use.panels, names, use_how(use, units), units)
        if use.panels[0].name and use.panels[0].is_shaped
        else panels_said(use.panels, names, use_how(use, units), units)
        if use.panels[0].name
        else said.panel_said(panel, use, names, units, compared=not book.is_customers)
    )
    if plan.seam is None:
        yield book.step(words)
    else:
        pieces = [book.letters[fabric][key] for key in keys]
        under = said.seam_under_said(plan.seam)
        yield book.step(
            words,
            said.piecing_said(panel.seam_allowance, names, units),
            said.seam_said(plan.seam, panel, units),
            *(() if under is None else (under,)),
            drawing=draw_pieced(plan, plan.seam.places, pieces, units, book.speech, said.PIECED),
        )
    if plan.fold is not None:
        down, across = said.fold_said(plan.fold, units)
        size = (plan.width, plan.height)
        yield book.step(*down, drawing=draw_folded_down(size, plan.fold.half_length, units, said.FOLDED[0]))
        yield book.step(
            *across, drawing=draw_folded_across(size, plan.fold.half_width, units, said.FOLDED[1])
        )
