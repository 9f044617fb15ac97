"""Letters and rows moved by hand: a move is added to those that the design holds."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from typing import Final

from applique.design import Design, Nudge, Row
from applique.errors import Problem, Refusal
from applique.geometry.place import Place
from applique.language import message
from applique.units import MM_PER_INCH, Units, parse_length

__all__ = ["followed", "moved", "put_back"]

_STEPS: Final = {Units.INCHES: Fraction(1, 32), Units.CENTIMETERS: 1 / (2 * MM_PER_INCH)}
"""The finest move by hand, in inches: what the page shows, and what a maker can measure."""


def moved(design: Design, *, row: int, letter: int | None, right: str, up: str) -> Design:
    """`design` with row `row` (from 1), or one `letter` of it, moved by lengths such as `-0.125in` more than it was.

    Where it comes to lie is a whole number of 1/32 in, or of 0.5 mm in a metric design, from where the words put it;
    a direction in which it was not moved stays as it was. `right` and `up` are those of the panel; in a row that is
    turned the letter's move is stored along the row. Turns stay as they are.

    Raises:
        Refusal: no such row, or no length.
    """
    changed = _row(design, row)
    across, rise = parse_length(right), parse_length(up)
    if letter is None:
        changed = replace(
            changed,
            right=_added(changed.right, across, design.units),
            up=_added(changed.up, rise, design.units),
        )
    else:
        if changed.turn % 360:
            upright = Place(x=0.0, y=0.0, turn_deg=-changed.turn)
            across, rise = (Fraction(side) for side in upright.point((float(across), float(rise))))
        before = [nudge for nudge in changed.nudge if nudge.letter == letter]
        turn = math.fsum(nudge.turn for nudge in before)
        across = _added(sum((nudge.right for nudge in before), Fraction(0)), across, design.units)
        rise = _added(sum((nudge.up for nudge in before), Fraction(0)), rise, design.units)
        others = [nudge for nudge in changed.nudge if nudge.letter != letter]
        if across or rise or turn:
            others.append(Nudge(letter=letter, right=across, up=rise, turn=math.remainder(turn, 360)))
        changed = replace(changed, nudge=tuple(sorted(others, key=lambda nudge: nudge.letter)))
    return replace(design, row=(*design.row[: row - 1], changed, *design.row[row:]))


def _added(before: Fraction, move: Fraction, units: Units) -> Fraction:
    step = _STEPS[units]
    return round((before + move) / step) * step if move else before


def followed(design: Design, *, row: int, before: str, now: str) -> Design:
    """`design` with the moves of row `row` (from 1) and of its letters as many times as large as its letters are now:
    capitals `before` high, such as `7in`, are `now` so high. Each is again a whole number of the finest moves by hand.

    Raises:
        Refusal: no such row, no length, or no height to come from.
    """
    changed = _row(design, row)
    height = parse_length(before)
    if height <= 0:
        raise Refusal(
            Problem(
                kind="no-height-to-follow",
                what=message("moves follow a height above nothing"),
                fix=message("see /api/openapi.json"),
            )
        )
    step, times = _STEPS[design.units], parse_length(now) / height

    def scaled(move: Fraction) -> Fraction:
        return round(move * times / step) * step

    nudges = (replace(nudge, right=scaled(nudge.right), up=scaled(nudge.up)) for nudge in changed.nudge)
    kept = tuple(nudge for nudge in nudges if nudge.right or nudge.up or nudge.turn)
    changed = replace(changed, right=scaled(changed.right), up=scaled(changed.up), nudge=kept)
    return replace(design, row=(*design.row[: row - 1], changed, *design.row[row:]))


def put_back(design: Design, *, row: int, letter: int | None) -> Design:
    """`design` with that row and all its letters, or one letter, back where the words put it, and upright.

    Raises:
        Refusal: no such row.
    """
    changed = _row(design, row)
    if letter is None:
        changed = replace(changed, right=changed.right * 0, up=changed.up * 0, turn=0.0, nudge=())
    else:
        changed = replace(changed, nudge=tuple(nudge for nudge in changed.nudge if nudge.letter != letter))
    return replace(design, row=(*design.row[: row - 1], changed, *design.row[row:]))


def _row(design: Design, row: int) -> Row:
    if not 1 <= row <= len(design.row):
        raise Refusal(
            Problem(
                kind="no-such-row",
                what=message("there is no row {number}", number=str(row)),
                fix=message("a row from 1 to {most}", most=len(design.row)),
            )
        )
    return design.row[row - 1]
