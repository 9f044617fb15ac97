"""Cutting the background panel from yardage: how it lies, how it is folded and trimmed, where a seam falls.

Exact inches from the lower left corner of the *cut* panel for everything a maker measures.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import numpy as np

from applique.errors import Problem, Refusal, Where
from applique.language import message
from applique.panel import Laid, PanelPlan
from applique.quilt.strips import Extent
from applique.units import Units, as_length

__all__ = ["Crossed", "FoldCut", "PanelCut", "SeamPlan", "cut_panel"]

_MAT: Final = (Fraction(24), Fraction(36))
"""A large cutting mat: what is larger is folded to be cut. Common practice, no source."""
_SIXTEENTH: Final = Fraction(1, 16)
_CLEAR: Final = 0.5
"""Inches that a seam should stay away from a letter."""
_MOST_LENGTHS: Final = 20
"""Lengths of fabric joined into one panel; a king-size one takes three."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldCut:
    """Half the cut length and half the cut width, each measured from a fold."""

    half_length: Fraction
    half_width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossed:
    """What a seam runs through: the letters of a row (from 1) that are cut as one, or a piece that is in no row."""

    letters: str
    row: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamPlan:
    """Seams that piece a panel wider than its cloth.

    `upright` seams run from top to bottom; `places` are their distances from the left cut edge, or from the top
    one for seams that lie across. `crossed` are the letters they run through, none if it can be helped.
    """

    upright: bool
    places: tuple[Fraction, ...]
    crossed: tuple[Crossed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelCut:
    """How the panel is cut. `length` is the cloth it takes; `leftover` is (length, width) of what stays beside it.

    Its height runs along the selvage where it is `upright`, else its width; `seam` is there where it is pieced.
    """

    length: Fraction
    upright: bool
    leftover: Extent | None
    fold: FoldCut | None
    seam: SeamPlan | None

    @property
    def lengths(self) -> int:
        """How many lengths of cloth are joined into it; 1 where it is whole."""
        return 1 if self.seam is None else len(self.seam.places) + 1


def cut_panel(panel: PanelPlan, units: Units) -> PanelCut:
    """How to cut the panel: along the selvage or across, whichever takes less cloth, or pieced with a seam.

    Raises:
        Refusal: fabric too narrow to piece the panel from.
    """
    usable = panel.fabric.usable_width
    width, height = panel.cut_width, panel.cut_height
    ways = [(along, across) for along, across in ((height, width), (width, height)) if across <= usable]
    if not ways:
        return _pieced(panel, units)
    length, across = min(ways)
    upright = (length, across) == (height, width)
    leftover = (length, usable - across) if usable - across >= 1 else None
    return PanelCut(
        length=length,
        upright=upright,
        leftover=leftover,
        fold=_fold(width, height),
        seam=None,
    )


def _fold(width: Fraction, height: Fraction) -> FoldCut | None:
    """Half sizes for a panel larger than a mat.

    Source:
        Fold, measure half from the fold, trim, turn, fold again: common practice, no source.
    """
    short, long = sorted((width, height))
    if short <= _MAT[0] and long <= _MAT[1]:
        return None
    return FoldCut(half_length=height / 2, half_width=width / 2)


def _pieced(panel: PanelPlan, units: Units) -> PanelCut:
    """Two or more lengths joined, with seams that miss the letters where they can.

    Raises:
        Refusal: fabric no wider than its own seams, or more lengths than anybody would join.
    """
    ways = [
        (upright, count)
        for upright in (True, False)
        if (count := _lengths(panel, upright=upright)) is not None
    ]
    if not ways:
        across = as_length(min(panel.cut_width, panel.cut_height), units)
        raise Refusal(
            Problem(
                kind="panel-of-too-many-lengths",
                what=message(
                    "a panel {across} across takes more than {most} lengths of fabric {width} wide, "
                    "seams taken off",
                    across=across,
                    most=_MOST_LENGTHS,
                    width=as_length(panel.fabric.usable_width, units),
                ),
                where=Where.key("panel"),
                fix=message("wider fabric (its usable_width in [[fabric]]), or a smaller seam_allowance"),
            )
        )
    tried = [(_seam(panel, count, upright=upright), upright) for upright, count in ways]
    (seam, length), upright = min(tried, key=lambda found: (len(found[0][0].crossed), found[0][1]))
    return PanelCut(
        length=length,
        upright=upright,
        leftover=None,
        fold=_fold(panel.cut_width, panel.cut_height),
        seam=seam,
    )


def _lengths(panel: PanelPlan, *, upright: bool) -> int | None:
    """How many lengths of fabric make the panel side by side; None if that takes too many."""
    across = panel.cut_width if upright else panel.cut_height
    usable, loss = panel.fabric.usable_width, 2 * panel.seam_allowance
    count = math.ceil((across - loss) / (usable - loss)) if usable > loss else _MOST_LENGTHS + 1
    return count if count <= _MOST_LENGTHS else None


def _seam(panel: PanelPlan, count: int, *, upright: bool) -> tuple[SeamPlan, Fraction]:
    """The seams between `count` lengths in one direction, and the cloth that they take.

    Each of the lengths may be as wide as the cloth; what they have to spare moves a seam off the letters.
    """
    across = panel.cut_width if upright else panel.cut_height
    along = panel.cut_height if upright else panel.cut_width
    usable, loss = panel.fabric.usable_width, 2 * panel.seam_allowance
    spare = (count * usable - across - (count - 1) * loss) / count
    places: list[Fraction] = []
    crossed: list[Crossed] = []
    for number in range(1, count):
        nominal = across * number / count
        place, letters = _clear_place(panel, upright, nominal - spare / 2, nominal + spare / 2)
        places.append(place)
        crossed += letters
    return SeamPlan(
        upright=upright, places=tuple(places), crossed=tuple(dict.fromkeys(crossed))
    ), count * along


def _clear_place(
    panel: PanelPlan, upright: bool, low: Fraction, high: Fraction
) -> tuple[Fraction, Sequence[Crossed]]:
    """Where between `low` and `high` a seam crosses the fewest letters, nearest the middle of that stretch."""
    first, last = math.ceil(low / _SIXTEENTH), math.floor(high / _SIXTEENTH)
    middle = (low + high) / 2
    spans = _letter_spans(panel, upright)
    if last < first:
        return middle, _crossed(spans, middle)
    counts = np.arange(first, last + 1)
    at = counts * float(_SIXTEENTH)
    starts, ends = (np.array([span[side] for span in spans]) for side in (0, 1))
    crossed = ((starts - _CLEAR < at[:, None]) & (at[:, None] < ends + _CLEAR)).sum(axis=1)
    order = np.lexsort((np.abs(at - float(middle)), crossed))
    best = int(counts[order[0]]) * _SIXTEENTH
    return best, _crossed(spans, best)


def _letter_spans(panel: PanelPlan, upright: bool) -> list[tuple[float, float, Crossed]]:
    """Each letter's extent across the seam's direction, from the left or the top cut edge."""
    allowance, height = float(panel.seam_allowance), float(panel.height)

    def span(row: Laid, index: int) -> tuple[float, float, Crossed]:
        x0, y0, x1, y1 = row.cuts[index].ink
        letters = Crossed(letters=row.cuts[index].text, row=row.where.row)
        low, high = (x0, x1) if upright else (height - y1, height - y0)
        return (low + allowance, high + allowance, letters)

    return [span(row, index) for row in panel.laid for index in range(len(row.cuts))]


def _crossed(spans: Sequence[tuple[float, float, Crossed]], place: Fraction) -> list[Crossed]:
    at = float(place)
    return [letters for low, high, letters in spans if low - _CLEAR < at < high + _CLEAR]
