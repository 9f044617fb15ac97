"""Quilting: the lines, what they take, and the kinds to choose from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from applique.cautions import NEEDLE
from applique.drawings.quilt import draw_quilting
from applique.instructions.book import Book
from applique.instructions.values import (
    Block,
    Cautions,
    Chapter,
    ChapterKind,
    Choices,
    Option,
    Paragraph,
    Tick,
)
from applique.language import Message
from applique.marks import how_outlined
from applique.sewing.quilting import CLEAR, Echoes, InTheDitch, QuiltingPlan
from applique.sewing.threads import QUILTING_STITCH, ThreadUse
from applique.words.instructions import quilting as said

__all__ = ["quilting"]

_BESIDE: Final = (236.0, 130.0)
_CHOICE: Final = (160.0, 130.0)


def quilting(book: Book) -> Chapter:
    """From the basted quilt to the quilted one, still untrimmed."""
    return Chapter(kind=ChapterKind.QUILTING, title=said.QUILTING, blocks=tuple(_quilted(book)))


def _quilted(book: Book) -> Iterator[Block]:
    """What is sewn in its order; the kinds to choose from side by side, where the first of them stands."""
    plans = book.pattern.quilting
    yield Cautions(items=(NEEDLE,))
    yield book.step(said.START_IN_THE_MIDDLE)
    offered = tuple(plan for plan in plans if plan.offered)
    sewn = tuple(plan for plan in plans if not plan.offered)
    if sewn and len(offered) == 1:
        yield from _added(book, sewn, offered[0])
    else:
        yield from _one_by_one(book, sewn, offered)
    if not plans:
        need = next(one for one in book.pattern.threads if ThreadUse.QUILTING in one.uses)
        tick = Tick(key="quilted", said=said.QUILTED)
        yield book.step(said.as_you_like_said(need, book.units), ticks=(tick,))
    waste = book.pattern.design.stitching.waste_percent
    for stitch in dict.fromkeys(float(plan.stitch_length) for plan in plans if plan.lines) or (
        QUILTING_STITCH,
    ):
        yield Paragraph(said=said.thread_figured_said(stitch, waste), quiet=True)


def _one_by_one(book: Book, sewn: Sequence[QuiltingPlan], offered: Sequence[QuiltingPlan]) -> Iterator[Block]:
    """A step for each kind that is `sewn`, and one for all that are `offered`, where the first of them stands."""
    if len(sewn) > 1:
        yield Paragraph(said=said.in_order_said(sewn))
    for plan in book.pattern.quilting:
        if not plan.offered:
            title, (how, *thread) = said.QUILTS[plan.kind], _words(book, plan)
            drawing = draw_quilting(book.picture, plan, _BESIDE, title)
            yield book.step(said.titled(plan, how), *thread, drawing=drawing, ticks=_ticks([plan]))
        elif plan is offered[0]:
            yield Paragraph(said=said.CHOOSE if len(offered) > 1 else said.OFFERED)
            yield Choices(options=tuple(_option(book, one) for one in offered))
            tick = Tick(key="quilting-chosen", said=said.CHOSEN)
            yield book.step(said.QUILT_CHOSEN, ticks=(tick,))


def _added(book: Book, sewn: Sequence[QuiltingPlan], added: QuiltingPlan) -> Iterator[Block]:
    """All that is `sewn` and the one kind that may be `added`, side by side, and one step for them."""
    plans = (*sewn, added)
    yield Paragraph(said=said.added_said(sewn, added))
    yield Choices(options=tuple(_option(book, plan) for plan in plans))
    yield book.step(said.quilt_added_said(sewn, added), ticks=_ticks(plans))


def _ticks(plans: Sequence[QuiltingPlan]) -> tuple[Tick, ...]:
    return tuple(Tick(key=f"quilting-{plan.number}", said=said.quilted_said(plan)) for plan in plans)


def _words(book: Book, plan: QuiltingPlan) -> tuple[Message, ...]:
    """How the lines run, and what they take if there are any."""
    how = [said.quilting_said(plan, book.units)]
    echoed = any(
        isinstance(one.course, Echoes) and not one.offered for one in book.pattern.quilting if one is not plan
    )
    outlined = how_outlined(book.pattern.marks, book.pattern.design.outline.around)
    how += said.marked_said(plan, CLEAR, book.units, echoed=echoed, outlined=outlined)
    if isinstance(plan.course, Echoes):
        others = [
            one
            for one in book.pattern.quilting
            if not plan.offered and not isinstance(one.course, Echoes | InTheDitch)
        ]
        how += said.echoes_said(plan, plan.course.spacing, book.units, outlined=outlined, others=others)
    others = [one for one in book.pattern.quilting if one is not plan]
    if isinstance(plan.course, InTheDitch) and plan.lines and all(one.offered for one in others):
        how.append(said.far_apart_said(plan.course.widest, book.units))
    if plan.lines:
        how.append(said.thread_said(plan, book.units))
        how += said.figured_without_said(plan)
    return tuple(how)


def _option(book: Book, plan: QuiltingPlan) -> Option:
    title = said.QUILTS[plan.kind]
    drawing = draw_quilting(book.picture, plan, _CHOICE, title)
    return Option(title=title, said=_words(book, plan), drawing=drawing)
