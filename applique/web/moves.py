"""Letters and rows moved by hand: a move is added to those that the design holds."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Final

from applique.design import Design, Line, Nudge
from applique.errors import Problem, Refusal
from applique.units import MM_PER_INCH, Units, parse_length

__all__ = ["moved", "put_back"]

_STEPS: Final = {Units.INCHES: Fraction(1, 32), Units.CENTIMETRES: 1 / (2 * MM_PER_INCH)}
"""The finest move by hand, in inches: what the page shows, and what a maker can measure."""


def moved(design: Design, *, line: int, letter: int | None, right: str, up: str) -> Design:
    """`design` with row `line` (from 1), or one `letter` of it, moved by lengths such as `-0.125in` more than it was.

    Where it comes to lie is a whole number of 1/32 in, or of 0.5 mm in a metric design, from where the words put it;
    a direction in which it was not moved stays as it was.

    Raises:
        Refusal: no such row, or no length.
    """
    row = _row(design, line)
    across, rise = parse_length(right), parse_length(up)
    if letter is None:
        row = replace(
            row, right=_added(row.right, across, design.units), up=_added(row.up, rise, design.units)
        )
    else:
        before = [nudge for nudge in row.nudge if nudge.letter == letter]
        across = _added(sum((nudge.right for nudge in before), Fraction(0)), across, design.units)
        rise = _added(sum((nudge.up for nudge in before), Fraction(0)), rise, design.units)
        others = [nudge for nudge in row.nudge if nudge.letter != letter]
        if across or rise:
            others.append(Nudge(letter=letter, right=across, up=rise))
        row = replace(row, nudge=tuple(sorted(others, key=lambda nudge: nudge.letter)))
    return replace(design, line=(*design.line[: line - 1], row, *design.line[line:]))


def _added(before: Fraction, move: Fraction, units: Units) -> Fraction:
    step = _STEPS[units]
    return round((before + move) / step) * step if move else before


def put_back(design: Design, *, line: int, letter: int | None) -> Design:
    """`design` with that row and all its letters, or one letter, back where the words put it.

    Raises:
        Refusal: no such row.
    """
    row = _row(design, line)
    if letter is None:
        row = replace(row, right=row.right * 0, up=row.up * 0, nudge=())
    else:
        row = replace(row, nudge=tuple(nudge for nudge in row.nudge if nudge.letter != letter))
    return replace(design, line=(*design.line[: line - 1], row, *design.line[line:]))


def _row(design: Design, line: int) -> Line:
    if not 1 <= line <= len(design.line):
        raise Refusal(Problem(what=f"there is no row {line}", fix=f"a row from 1 to {len(design.line)}"))
    return design.line[line - 1]
