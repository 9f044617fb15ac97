"""Where each letter goes, row by row: what the table of the placement guide and the page to sew by both show.

Distances are those of `marks`; nothing but the ends of a word is added to them.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from applique.instructions.values import Place, RowPlaces
from applique.language import Message
from applique.marks import LetterMark, OutlineMark, PartMark, RowMark, lists_lowest
from applique.pattern import Pattern
from applique.words import below, downward
from applique.words import guide as said

__all__ = ["lowest_points", "places_of", "says_lowest"]


def says_lowest(pattern: Pattern) -> bool:
    """Whether the table says how far lowest points are from the baseline: of letters off it, of parts of letters, and
    of outlines."""
    return lists_lowest(pattern.marks, pattern.design.units) or bool(pattern.outlines)


def lowest_points(pattern: Pattern) -> tuple[bool, bool] | None:
    """Whether the table has lowest points below their baselines, and above; None where it lists none."""
    if not says_lowest(pattern):
        return None
    found = [
        one.above_baseline
        for mark in pattern.marks
        for pieces in (mark.letters, mark.outlines)
        for piece in pieces
        for one in (piece, *piece.parts)
    ]
    off = [above for above in found if not said.is_on_line(above, pattern.design.units)]
    return any(above < 0 for above in off), any(above > 0 for above in off)


def places_of(pattern: Pattern) -> tuple[RowPlaces, ...]:
    """Of every row what lies behind it, if anything does, and then its letters, or its words where these are small."""
    return tuple(places for mark in pattern.marks for places in _row(pattern, mark))


def _row(pattern: Pattern, mark: RowMark) -> Iterator[RowPlaces]:
    """What lies behind one row, if anything does, and then the row."""
    units = pattern.design.units
    template, *edges = said.columns_said(units, lowest=says_lowest(pattern))
    if mark.outlines:
        yield RowPlaces(
            title=said.outlines_heading(mark),
            behind=True,
            fabric=mark.outline_fabric,
            note=None,
            first=said.LETTER,
            template=template,
            distances=tuple(edges),
            groups=tuple((_place(pattern, one, ticked=mark.runs_down),) for one in mark.outlines),
        )
    yield RowPlaces(
        title=said.row_heading(mark),
        behind=False,
        fabric=mark.fabric,
        note=said.baseline_said(
            mark, units, trimmed=bool(pattern.panel.trim), point=below.point_of(pattern.panel)
        ),
        first=said.WORD if mark.by_word else said.LETTER,
        template="" if mark.by_word else template,
        distances=tuple(edges),
        groups=tuple(
            (_word(pattern, letters),)
            if mark.by_word
            else tuple(
                _place(pattern, one, _notes(pattern, mark, one), ticked=mark.runs_down and one.own is None)
                for one in letters
            )
            for letters in _by_word(pattern, mark)
        ),
    )


def _by_word(pattern: Pattern, mark: RowMark) -> Iterator[list[LetterMark]]:
    """The letters of each word."""
    laid = next(laid for laid in pattern.panel.laid if laid.where == mark.where)
    pairs = zip(laid.cuts, mark.letters, strict=True)
    for _, found in groupby(pairs, key=lambda pair: pair[0].word):
        yield [letter for _, letter in found]


def _word(pattern: Pattern, letters: list[LetterMark]) -> Place:
    """Where a word starts, its middle and where it ends."""
    left, right = min(one.left for one in letters), max(one.right for one in letters)
    lowest = min(one.above_baseline for one in letters)
    return Place(
        text="".join(one.text for one in letters),
        template="",
        distances=_distances(pattern, (left, (left + right) / 2, right), lowest, ticked=False),
    )


def _place(
    pattern: Pattern, piece: LetterMark | OutlineMark, notes: tuple[Message, ...] = (), *, ticked: bool
) -> Place:
    """Where a letter lies, or what lies behind one; `ticked` where its lowest point is measured from its tick."""
    return Place(
        text=piece.text,
        template=str(piece.template),
        distances=_of(pattern, piece, ticked=ticked),
        notes=notes,
        parts=tuple(
            Place(text="", template=part.name, distances=_of(pattern, part, ticked=ticked))
            for part in piece.parts
        ),
    )


def _of(pattern: Pattern, piece: LetterMark | OutlineMark | PartMark, *, ticked: bool) -> tuple[Message, ...]:
    across = (piece.left, piece.middle, piece.right)
    return _distances(pattern, across, piece.above_baseline, ticked=ticked)


def _distances(
    pattern: Pattern, across: tuple[float, float, float], above: float, *, ticked: bool
) -> tuple[Message, ...]:
    """How far it is from the center line, and where the table says so off the baseline, or off its tick."""
    units = pattern.design.units
    found = tuple(said.in_column(place, units) for place in across)
    if not says_lowest(pattern):
        return found
    return (*found, said.lowest_in_column(above, units, ticked=ticked))


def _notes(pattern: Pattern, mark: RowMark, letter: LetterMark) -> tuple[Message, ...]:
    """What else is said of a letter that is turned, or stands in a row that is."""
    units = pattern.design.units
    notes: list[Message] = []
    if mark.runs_down:
        notes.append(downward.letter_note(letter, units))
    elif not mark.level:
        notes.append(said.tick_said(letter, units))
    if not mark.runs_down and letter.turn_deg:
        notes.append(said.turned_letter_said(letter, units, row_deg=mark.turn_deg))
    if letter.own is not None:
        notes.append(said.own_baseline_said(letter.own, units, level=mark.level))
    return tuple(notes)
