"""What can be ticked off beside the steps: every letter once for each thing that is done to it. Seams have their steps.

Keys name the same thing as long as the pattern is the same, whoever it is for and whatever language it speaks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from applique.errors import Where
from applique.instructions.values import LetterTicks, OnScreen, RowTicks, Tick
from applique.marks import LetterMark, OutlineMark, RowMark
from applique.panel import Laid
from applique.pattern import Pattern
from applique.words import sew_along as said
from applique.words.sew_along import Done

__all__ = ["all_letter_ticks", "letter_ticks", "runs_leftward"]


def letter_ticks(
    pattern: Pattern, *works: Done, behind: Sequence[Where], letters: Sequence[Where]
) -> OnScreen:
    """A tick for each of the `works` on all that lies behind the rows `behind`, and after that on the letters of the
    rows `letters`, row by row in the order given."""
    marked = {mark.where: (laid, mark) for laid, mark in zip(pattern.panel.laid, pattern.marks, strict=True)}
    return OnScreen(
        letters=tuple(
            LetterTicks(
                done=done,
                rows=(
                    *(_behind(*marked[where], done) for where in behind if marked[where][1].outlines),
                    *(_row(*marked[where], done) for where in letters),
                ),
            )
            for done in works
        )
    )


def all_letter_ticks(pattern: Pattern, *works: Done) -> OnScreen:
    """A tick for each of the `works` on every outline, and after that on every letter."""
    rows = [mark.where for mark in pattern.marks]
    return letter_ticks(pattern, *works, behind=rows, letters=rows)


def _behind(laid: Laid, mark: RowMark, done: Done) -> RowTicks:
    ticks = (
        tick
        for count, piece in enumerate(mark.outlines, 1)
        for tick in _pieces(piece, "behind", laid, count, done)
    )
    return RowTicks(
        said=said.behind_said(laid.where.row, laid.text),
        words=(tuple(ticks),),
        leftward=runs_leftward(laid),
    )


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
    if laid.line.runs_down:
        return False
    places = [cut.letters[0] for cut in laid.cuts if cut.letters]
    back = sum(after < before for before, after in pairwise(places))
    return 2 * back >= max(len(places), 1)


def _key(layer: str, laid: Laid, count: str, done: Done) -> str:
    return ".".join((layer, *map(str, laid.where.path), count, done))
