"""Findings that a maker has looked at and means so: which, of which row, what was measured, and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Final

from applique.design.entries import STRICT, says
from applique.errors import Problem, Where
from applique.language import message

__all__ = ["MUST_FIX", "Accepted", "RiskKind", "accepted_problems", "risk_kind"]


class RiskKind(StrEnum):
    """What can be found in a pattern that can be made all the same, by the name of its kind."""

    STROKE = "thin stroke"
    COUNTER = "small counter"
    SLOT = "narrow slot"
    HOLE = "small hole in the outline"
    NECK = "narrow neck in the outline"
    POINT = "sharp point"
    CLEAR = "letters close together"
    OUTLINES = "outlines that meet"
    ROWS = "rows close together"
    SEAM = "close to the seam"
    SLIVER = "sliver at the edge"
    STITCH = "stitch width"
    READING = "hard to read"
    CONTRAST = "low contrast"
    LETTER_GAP = "letters-close"
    LETTERS_OVERLAP = "letters-overlap"
    ROW_GAP = "rows-close"
    ROWS_OVERLAP = "rows-overlap"
    IN_THE_MARGIN = "row-in-the-margin"
    HOLDS_ALL_DOWN = "row-holds-all-down"
    FONT_RESTRICTED = "font-restricted"
    HEIGHT_ON_LETTER = "height-measured-on-letter"
    HEIGHT_ON_FIGURE = "height-measured-on-figure"
    HEIGHT_ON_SIGN = "height-measured-on-sign"
    HOLES_CLOSED = "holes-closed"
    OFF_THE_STEP = "baseline-off-the-step"
    SEAM_UPRIGHT = "panel-seam-upright"
    SEAM_UPRIGHT_THROUGH_LETTERS = "panel-seam-upright-through-letters"
    SEAM_ACROSS = "panel-seam-across"
    SEAM_ACROSS_THROUGH_LETTERS = "panel-seam-across-through-letters"
    RECTANGLES_OF_ONE_FABRIC = "rectangles-of-one-fabric"
    RECTANGLES_ALIKE = "rectangles-alike-together"
    RECTANGLES_UNEVEN = "rectangles-uneven"
    RECTANGLES_UNEVEN_LONGER = "rectangles-uneven-longer"
    STASH_NOT_ENOUGH = "stash-not-enough"
    TOO_LARGE_FOR_MAT = "too-large-for-the-mat"
    NO_CATALOGUE = "no-catalogue"
    LEFTOVERS_TOO_SMALL = "leftovers-too-small-for-back"
    STATED_SHORT = "stated-number-short"
    STATED_OF_NOTHING = "stated-number-of-nothing"


MUST_FIX: Final = frozenset({RiskKind.LEFTOVERS_TOO_SMALL, RiskKind.STATED_SHORT, RiskKind.STATED_OF_NOTHING})
"""What makes a pattern wrong for whoever sews from it: a back that cannot be made, a number that does not hold."""
_BY_NAME: Final = {kind.value: kind for kind in RiskKind}


def risk_kind(name: str) -> RiskKind | None:
    """The kind of that name; None for what only ever stops the work."""
    return _BY_NAME.get(name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """Something to check that you have looked at and mean so. It comes back once what was measured has changed."""

    __pydantic_config__ = STRICT
    finding: Annotated[RiskKind, says("which finding, by its kind; `applique check` prints the whole table")]
    words: Annotated[
        str, says("the words of the row that it is about; the whole design if left out", max_length=2000)
    ] = ""
    measured: Annotated[
        tuple[Annotated[str, says("a letter and what it measures", max_length=5000)], ...],
        says("what was measured, as `applique check` prints it", max_length=2000),
    ] = ()
    why: Annotated[str, says("why it is meant so, in your own words", min_length=1, max_length=500)]


def accepted_problems(accepted: Sequence[Accepted]) -> Iterator[Problem]:
    """What is accepted and must be fixed instead."""
    for number, one in enumerate(accepted, 1):
        if one.finding in MUST_FIX:
            yield Problem(
                kind="accepted-must-be-fixed",
                what=message("“{finding}” must be fixed and cannot be accepted", finding=one.finding),
                where=Where.key("accepted", number, "finding"),
                fix=message("fix what `applique check` says of it, and take this table out"),
            )
