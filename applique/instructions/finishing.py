"""From the quilted quilt to the labeled one: trimming, sleeve, binding, label."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from applique.cautions import BLADE, CORD, IRON, NEEDLE, PINS, SCISSORS
from applique.cloth import UseKind
from applique.design import Method
from applique.drawings.binding import Bound
from applique.drawings.finishing import Finish
from applique.drawings.key import BINDING, SLEEVE, USUAL
from applique.drawings.sleeve import Sleeve
from applique.instructions.banner import banner
from applique.instructions.book import Book
from applique.instructions.pillow import pillow
from applique.instructions.sleeve import sleeve_made
from applique.instructions.values import Block, Cautions, Chapter, ChapterKind, Heading, Paragraph, Tick
from applique.quilt.finishing import SLEEVE_BASTING, SLEEVE_SLACK, BindingPlan, plan_sleeve
from applique.quilt.sizes import QuiltSize
from applique.quilt.strips import CutKind
from applique.quilt.whole import QuiltPlan
from applique.sewing.stabilizer import StabilizerKind
from applique.units import Units
from applique.words import blocks, bunting, garment, loose, panel_shapes
from applique.words.instructions import finishing as said

__all__ = ["finishing", "pocket_rod"]

_RULER: Final = Fraction(12)
"""Inches that a large square ruler reaches: rulers of 12 1/2 in, common practice, no source."""
_MAY_HANG: Final = frozenset({QuiltSize.WALL, QuiltSize.THROW})
_POCKETS_TO: Final = Fraction(36)
"""Inches of width up to which a rod in two corner pockets does not let the top edge sag: common practice, no source."""
_POCKET: Final = {Units.INCHES: Fraction(4), Units.CENTIMETERS: Fraction(1000, 254)}
"""Inches of the squares that corner pockets are folded from: common practice, no source."""
_THICK: Final = {Units.INCHES: Fraction(1), Units.CENTIMETERS: Fraction(250, 254)}
"""Inches that a rod in a sleeve may be thick, so that it slides in: common practice, no source."""
_SHORTER: Final = {Units.INCHES: Fraction(1), Units.CENTIMETERS: Fraction(250, 254)}
"""Inches that a rod in them is shorter than the quilt is wide: common practice, no source."""


def finishing(book: Book) -> Chapter:
    """The quilt trimmed, its sleeve before its binding, its label last; or a top made ready for somebody else, or a
    pillow, a banner, a garment or letters alone."""
    quilt = book.pattern.quilt
    if quilt.pillow is not None:
        return pillow(book, quilt.pillow)
    if quilt.turned:
        return banner(book)
    if book.pattern.panel.worn is not None:
        return Chapter(kind=ChapterKind.FINISHING, title=garment.FINISHING, blocks=tuple(_worn(book)))
    if quilt.apart:
        return Chapter(
            kind=ChapterKind.FINISHING, title=blocks.BLOCKS_DONE, blocks=(*_each_block(book), *_hung(book))
        )
    if book.pattern.panel.loose:
        return Chapter(kind=ChapterKind.FINISHING, title=loose.FINISHING, blocks=tuple(_loose(book)))
    if not quilt.layered:
        return Chapter(kind=ChapterKind.FINISHING, title=said.TOP_DONE, blocks=(*_top(book), *_hung(book)))
    edge = _edge(book) if quilt.binding is None else _binding(book, quilt.binding)
    return Chapter(
        kind=ChapterKind.FINISHING,
        title=said.FINISHING,
        blocks=(*_trimmed(book), *_sleeve(book), *edge, *_lower_edge(book), *_label(book)),
    )


def _top(book: Book) -> Iterator[Block]:
    """A top alone: what is done to it last, and what whoever quilts it has to know."""
    quilt, units = book.pattern.quilt, book.units
    yield Cautions(items=(NEEDLE, IRON))
    tick = Tick(key="top", said=said.TOP_PRESSED)
    if quilt.shapes:
        off = SLEEVE_BASTING[units]
        words = (panel_shapes.top_said(off, units), panel_shapes.made_size_said(quilt.finished, units))
        yield book.step(*words, ticks=(tick,))
        yield from _turned(book)
        return
    yield book.step(*said.top_said(quilt, SLEEVE_BASTING[units], units), ticks=(tick,))
    yield Heading(said=said.HAND_ON)
    yield Paragraph(said=said.hand_on_said(quilt, units))


def _turned(book: Book) -> Iterator[Block]:
    """How the edge of panels that are no rectangles is turned."""
    quilt, units = book.pattern.quilt, book.units
    yield Heading(said=panel_shapes.EDGE)
    for words in panel_shapes.edge_said(quilt.shapes, quilt.raw, units, hung=quilt.tape is not None):
        yield Paragraph(said=words)


def _hung(book: Book) -> Iterator[Block]:
    """Panels that hang from a tape."""
    tape = book.pattern.quilt.tape
    if tape is None:
        return
    yield Heading(said=bunting.HUNG)
    yield Cautions(items=(NEEDLE, SCISSORS, CORD))
    yield book.step(*bunting.hung_said(tape, book.units), ticks=(Tick(key="tape", said=bunting.TAPE_SEWN),))


def _each_block(book: Book) -> Iterator[Block]:
    """What is done last to every block."""
    units = book.units
    yield Cautions(items=(NEEDLE, IRON))
    tick = Tick(key="blocks", said=blocks.BLOCK_PRESSED)
    if book.pattern.quilt.shapes:
        yield book.step(panel_shapes.top_said(SLEEVE_BASTING[units], units), ticks=(tick,))
        yield from _turned(book)
        return
    yield book.step(*blocks.done_said(book.pattern.quilt, SLEEVE_BASTING[units], units), ticks=(tick,))


def _worn(book: Book) -> Iterator[Block]:
    """What is done last to a garment."""
    yield Cautions(items=(SCISSORS, IRON))
    cut_away = any(need.kind is StabilizerKind.CUT_AWAY for need in book.pattern.stitching.stabilizers)
    yield book.step(
        *garment.finishing_said(book.units, cut_away=cut_away),
        ticks=(Tick(key="garment", said=garment.DONE),),
    )


def _loose(book: Book) -> Iterator[Block]:
    """What is done last to letters alone, and how they are handed on before they are sewn."""
    yield Cautions(items=(SCISSORS, IRON))
    yield book.step(loose.finishing_said(), ticks=(Tick(key="letters", said=loose.DONE),))
    yield Heading(said=loose.KEEPING)
    yield Paragraph(said=loose.keeping_said(fused=book.method is not Method.TURNED_EDGE))


def _edge(book: Book) -> Iterator[Block]:
    """An edge without a binding."""
    yield Heading(said=said.EDGE)
    words = said.own_edge_said(book.pattern.quilt.raw, book.units)
    yield book.step(words, ticks=(Tick(key="edge", said=said.EDGE_DONE),))


def _trimmed(book: Book) -> Iterator[Block]:
    quilt, units = book.pattern.quilt, book.units
    seam, bound = quilt.raw, quilt.binding is not None
    yield Heading(said=said.SQUARE_UP)
    sleeve = quilt.sleeve
    inset = None if sleeve is None else (quilt.trimmed[0] - sleeve.length) / 2
    allowance = book.pattern.panel.seam_allowance
    top = (quilt.finished[0] + 2 * allowance, quilt.finished[1] + 2 * allowance)
    spare = _binding_length(book, quilt.binding) - quilt.binding.around if quilt.binding else None
    yield book.step(*said.drawn_in_said(top, spare, inset, units, bends=quilt.edge.bends))
    yield Cautions(items=(BLADE,))
    tick = Tick(key="trimmed", said=said.TRIMMED)
    if quilt.edge.bends:
        yield book.step(said.curved_edge_said(seam, units, bound=bound), said.UNMARK, ticks=(tick,))
    else:
        from_seam = quilt.borders[-1].width + seam if quilt.borders else None
        reached = (min(quilt.trimmed) / 2 if from_seam is None else from_seam) <= _RULER
        draw = Finish(units, book.speech)
        drawing = draw.squared(from_seam) if reached else draw.measured_out(quilt.trimmed)
        over = allowance - seam
        square = said.square_said(from_seam, quilt.trimmed, units, reached=reached)
        yield book.step(square, said.short_of_cut_said(over, units), drawing=drawing)
        measures = said.measures_said(quilt.finished, quilt.trimmed, seam, over, units, bound=bound)
        yield book.step(*measures, said.UNMARK, ticks=(tick,))


def _binding_length(book: Book, plan: BindingPlan) -> Fraction:
    """How long the binding is that was cut."""
    use = book.pattern.shopping.use(UseKind.BINDING)
    if plan.gives is not None:
        return plan.gives
    if use is None:
        return plan.needed
    return use.joined[0].reach if use.joined else use.strips[0].length


def _sleeve(book: Book) -> Iterator[Block]:
    """The sleeve is made and basted on before the quilt is bound."""
    sleeve, units = book.pattern.quilt.sleeve, book.units
    if sleeve is None:
        yield from _hanging(book)
        return
    yield Heading(said=said.SLEEVE)
    yield Cautions(items=(NEEDLE, IRON))
    yield sleeve_made(book, sleeve)
    trimmed, bound = book.pattern.quilt.trimmed, book.pattern.quilt.binding is not None
    inset = (trimmed[0] - sleeve.length) / 2
    tick = Tick(key="sleeve", said=said.BASTED)
    yield book.step(
        said.sleeve_pinned_said(inset, units, bound=bound),
        said.sleeve_basted_said(SLEEVE_BASTING[units], units, bound=bound),
        drawing=Sleeve(units, book.speech).pinned(trimmed, sleeve, SLEEVE_BASTING[units]),
        tints=SLEEVE,
        ticks=(tick,),
    )


def _hanging(book: Book) -> Iterator[Block]:
    """How a quilt that may hang on a wall is hung without a sleeve: whoever wants that knows it before the binding."""
    quilt, units = book.pattern.quilt, book.units
    if not _may_hang(quilt):
        return
    yield Heading(said=said.HANGING)
    if pocket_rod(book) is not None:
        yield Paragraph(said=said.hung_by_pockets_said(_POCKET[units], _SHORTER[units], units))
    else:
        sleeve = plan_sleeve(quilt.finished, units)
        yield Paragraph(said=said.hung_by_sleeve_said(sleeve, SLEEVE_SLACK[units], units))


def _may_hang(quilt: QuiltPlan) -> bool:
    """Whether a quilt is one that is hung although it has no sleeve."""
    return (
        quilt.layered
        and not quilt.turned
        and quilt.sleeve is None
        and quilt.size_class.name in _MAY_HANG
        and not quilt.edge.bends
        and quilt.binding is not None
    )


def pocket_rod(book: Book) -> Fraction | None:
    """How long the rod is that hangs a quilt without a sleeve from pockets in its corners; None where it has none."""
    quilt = book.pattern.quilt
    if not _may_hang(quilt) or quilt.finished[0] > _POCKETS_TO:
        return None
    return quilt.finished[0] - _SHORTER[book.units]


def _binding(book: Book, plan: BindingPlan) -> Iterator[Block]:
    units, draw = book.units, Bound(book.units, book.speech)
    use, allowance = book.pattern.shopping.use(UseKind.BINDING), book.pattern.panel.seam_allowance
    bends = book.pattern.quilt.edge.bends
    yield Heading(said=said.BINDING)
    if use is not None:
        yield Paragraph(said=said.binding_said(plan, use, book.pieces_of(UseKind.BINDING), units))
        yield Paragraph(said=said.binding_length_said(plan, units))
        why = said.why_strips_said(plan, use, units)
        if why is not None and not book.is_customers:
            yield Paragraph(said=why, quiet=True)
    yield Cautions(items=(NEEDLE, IRON, PINS))
    strips = use.joined[0].strips if use is not None and use.joined else 1
    strip = said.Strip.JOINED if strips > 1 else said.Strip.ONE
    if plan.cut.kind is CutKind.BIAS_SQUARE:
        strip = said.Strip.BIAS
        yield book.step(*said.bias_said(plan, allowance, units), drawing=draw.bias(plan), tints=USUAL)
    if strips > 1:
        yield book.step(said.join_said(strips, allowance, units), drawing=draw.join(plan.width, allowance))
    tick = Tick(key="binding-pressed", said=said.pressed_said(strip))
    yield book.step(said.press_said(plan, units), drawing=draw.pressed(plan.width), ticks=(tick,))
    yield book.step(said.sew_on_said(plan, units), drawing=draw.sewn_on(plan), tints=BINDING)
    if bends:
        yield book.step(said.CURVES, ticks=(Tick(key="binding-1", said=said.ALL_AROUND),))
    else:
        ticks = [Tick(key=f"binding-{side}", said=said.side_sewn_said(side)) for side in range(1, 5)]
        yield book.step(said.miter_said(plan, units), drawing=draw.mitered(plan), tints=BINDING, ticks=ticks)
    tick = Tick(key="binding-ends", said=said.ENDS_JOINED)
    yield book.step(
        said.ends_said(plan, strip, allowance, units),
        drawing=draw.ends(plan, allowance),
        tints=BINDING,
        ticks=(tick,),
    )
    tick = Tick(key="binding-down", said=said.STITCHED_DOWN)
    hung = book.pattern.quilt.sleeve is not None
    yield book.step(*said.down_said(plan, book.units, sleeve=hung), drawing=draw.around(plan), ticks=(tick,))


def _lower_edge(book: Book) -> Iterator[Block]:
    """The lower edge of the sleeve is sewn once the quilt is bound."""
    rod, units = book.pattern.quilt.rod, book.units
    if rod is None:
        return
    yield Heading(said=said.LOWER_EDGE)
    tick = Tick(key="sleeve-low", said=said.LOW_SEWN)
    slack = SLEEVE_SLACK[units]
    drawing = Sleeve(units, book.speech).hanging(slack, bound=book.pattern.quilt.binding is not None)
    words = said.low_said(slack, units), said.rod_said(rod, _THICK[units], units)
    yield book.step(*words, drawing=drawing, ticks=(tick,))


def _label(book: Book) -> Iterator[Block]:
    yield Heading(said=said.LABEL)
    made = said.LABEL_PAGE if book.is_customers else said.LABEL_FILE
    drawing = Finish(book.units, book.speech).label(book.pattern.quilt.trimmed)
    tick = Tick(key="label", said=said.LABELED)
    yield book.step(made, said.SEW_LABEL, drawing=drawing, ticks=(tick,))
