"""What can be ticked off beside the steps: every letter once for each thing that is done to it. Seams have their steps.

Keys name the same thing as long as the pattern is the same, whoever it is for and whatever language it speaks.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from applique.design import Method
from applique.errors import Where
from applique.instructions.values import ChapterKind, Said, Tick
from applique.panel import Laid
from applique.pattern import Pattern
from applique.words import sew_along as said
from applique.words.sew_along import Done

__all__ = ["LetterTicks", "RowTicks", "letter_ticks", "runs_leftward"]

_WORK: Final = {
    Method.RAW_EDGE: (
        (Done.TRACED, ChapterKind.LETTERS),
        (Done.FUSED, ChapterKind.LETTERS),
        (Done.CUT, ChapterKind.LETTERS),
        (Done.FUSED_DOWN, ChapterKind.PLACING),
        (Done.STITCHED, ChapterKind.STITCHING),
    ),
    Method.MACHINE_CUT: (
        (Done.CUT, ChapterKind.LETTERS),
        (Done.FUSED_DOWN, ChapterKind.PLACING),
        (Done.STITCHED, ChapterKind.STITCHING),
    ),
    Method.TURNED_EDGE: (
        (Done.TRACED, ChapterKind.LETTERS),
        (Done.PAPER_CUT, ChapterKind.LETTERS),
        (Done.PRESSED_ON, ChapterKind.LETTERS),
        (Done.CUT, ChapterKind.LETTERS),
        (Done.TURNED, ChapterKind.LETTERS),
        (Done.PLACED, ChapterKind.PLACING),
        (Done.STITCHED, ChapterKind.STITCHING),
    ),
}
"""What is done to each letter, in its order, and the chapter that tells how."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowTicks:
    """A tick for every piece of one row, in reading order; each stretch of `words` holds the ticks of one word."""

    said: Said
    words: tuple[tuple[Tick, ...], ...]
    leftward: bool

    @property
    def ticks(self) -> tuple[Tick, ...]:
        """All of them."""
        return tuple(tick for word in self.words for tick in word)


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterTicks:
    """One thing that is done to every letter, and to what lies behind it, in the `chapter` that tells how."""

    chapter: ChapterKind
    done: Done
    rows: tuple[RowTicks, ...]


def letter_ticks(pattern: Pattern, method: Method) -> tuple[LetterTicks, ...]:
    """Every letter, and what lies behind it, for each thing that `method` does to it.

    Letters come onto an outline once that is stitched, so they are ticked off in the chapter that says so.
    """
    return tuple(board for done, chapter in _WORK[method] for board in _boards(pattern, done, chapter))


def _boards(pattern: Pattern, done: Done, chapter: ChapterKind) -> Iterator[LetterTicks]:
    everything = {laid.where for laid in pattern.panel.laid}
    outlined = {piece.where for piece in pattern.outlines}
    if chapter is not ChapterKind.PLACING or not outlined:
        yield LetterTicks(chapter=chapter, done=done, rows=tuple(_rows(pattern, done, everything)))
        return
    yield LetterTicks(chapter=chapter, done=done, rows=tuple(_rows(pattern, done, everything - outlined)))
    later = tuple(_row(laid, done) for laid in pattern.panel.laid if laid.where in outlined)
    yield LetterTicks(chapter=ChapterKind.STITCHING, done=done, rows=later)


def _rows(pattern: Pattern, done: Done, lettered: Container[Where]) -> Iterator[RowTicks]:
    """What lies behind each row, and the letters of each that is `lettered`."""
    for laid in pattern.panel.laid:
        behind = [piece for piece in pattern.outlines if piece.where == laid.where]
        if behind:
            yield RowTicks(
                said=said.behind_said(laid.where.row, laid.text),
                words=(
                    tuple(
                        Tick(key=_key("behind", laid, count, done), said=piece.text)
                        for count, piece in enumerate(behind, 1)
                    ),
                ),
                leftward=runs_leftward(laid),
            )
        if laid.where in lettered:
            yield _row(laid, done)


def _row(laid: Laid, done: Done) -> RowTicks:
    leftward = runs_leftward(laid)
    words: dict[int, list[Tick]] = {}
    for count, cut in sorted(enumerate(laid.cuts, 1), reverse=leftward):
        words.setdefault(cut.word, []).append(Tick(key=_key("piece", laid, count, done), said=cut.text))
    return RowTicks(
        said=said.row_said(laid), words=tuple(tuple(ticks) for ticks in words.values()), leftward=leftward
    )


def runs_leftward(laid: Laid) -> bool:
    """Whether it is read from right to left: most of its letters stand left of the one before."""
    places = [cut.letters[0] for cut in laid.cuts if cut.letters]
    back = sum(after < before for before, after in pairwise(places))
    return 2 * back >= max(len(places), 1)


def _key(layer: str, laid: Laid, count: int, done: Done) -> str:
    return ".".join((layer, *map(str, laid.where.path), str(count), done))
