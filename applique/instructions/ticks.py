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
from applique.marks import LetterMark, OutlineMark, RowMark
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
    everything_marked = zip(pattern.panel.laid, pattern.marks, strict=True)
    later = tuple(_row(laid, mark, done) for laid, mark in everything_marked if laid.where in outlined)
    yield LetterTicks(chapter=ChapterKind.STITCHING, done=done, rows=later)


def _rows(pattern: Pattern, done: Done, lettered: Container[Where]) -> Iterator[RowTicks]:
    """What lies behind each row, and the letters of each that is `lettered`."""
    for laid, mark in zip(pattern.panel.laid, pattern.marks, strict=True):
        if mark.outlines:
            yield RowTicks(
                said=said.behind_said(laid.where.row, laid.text),
                words=(
                    tuple(
                        tick
                        for count, piece in enumerate(mark.outlines, 1)
                        for tick in _pieces(piece, "behind", laid, count, done)
                    ),
                ),
                leftward=runs_leftward(laid),
            )
        if laid.where in lettered:
            yield _row(laid, mark, done)


def _row(laid: Laid, mark: RowMark, done: Done) -> RowTicks:
    leftward = runs_leftward(laid)
    words: dict[int, list[Tick]] = {}
    cuts = enumerate(zip(laid.cuts, mark.letters, strict=True), 1)
    for count, (cut, letter) in sorted(cuts, key=lambda one: one[0], reverse=leftward):
        words.setdefault(cut.word, []).extend(_pieces(letter, "piece", laid, count, done))
    return RowTicks(
        said=said.row_said(laid), words=tuple(tuple(ticks) for ticks in words.values()), leftward=leftward
    )


def _pieces(
    piece: LetterMark | OutlineMark, layer: str, laid: Laid, count: int, done: Done
) -> Iterator[Tick]:
    """The tick of a letter, or of what lies behind one; of one in several parts a tick for each of them."""
    if not piece.parts:
        yield Tick(key=_key(layer, laid, str(count), done), said=piece.text)
    for part in piece.parts:
        key = f"{count}{part.name.removeprefix(str(piece.template))}"
        yield Tick(key=_key(layer, laid, key, done), said=said.part_said(piece.text, part.name))


def runs_leftward(laid: Laid) -> bool:
    """Whether it is read from right to left: most of its letters stand left of the one before."""
    places = [cut.letters[0] for cut in laid.cuts if cut.letters]
    back = sum(after < before for before, after in pairwise(places))
    return 2 * back >= max(len(places), 1)


def _key(layer: str, laid: Laid, count: str, done: Done) -> str:
    return ".".join((layer, *map(str, laid.where.path), count, done))
