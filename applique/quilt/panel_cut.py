"""Cutting the background panel from yardage: how it lies, how it is checked folded, where a seam falls.

Exact inches from the lower left corner of the *cut* panel for everything a maker measures.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Final

import numpy as np

from applique.design import Panel, Stitch, Turns, WhenStitched
from applique.errors import Problem, Refusal, Where
from applique.language import message
from applique.panel import Laid, PanelPlan
from applique.quilt.strips import Extent
from applique.units import MM_PER_INCH, Units, as_available, as_size, round_down, round_up

__all__ = ["Crossed", "FoldCut", "OtherWay", "PanelCut", "SeamPlan", "cut_panel", "trim_after_stitching"]

_MAT: Final = (Fraction(24), Fraction(36))
"""A large cutting mat: what is larger is checked folded. Common practice, no source."""
_TRIM: Final = MappingProxyType({Units.INCHES: Fraction(1), Units.CENTIMETERS: 30 / MM_PER_INCH})
"""Under dense stitches. Half of it lies at each side, so in a metric design that is whole millimeters."""
_TRIM_SET: Final = MappingProxyType({Units.INCHES: Fraction(1, 2), Units.CENTIMETERS: 20 / MM_PER_INCH})
"""Under others, of a block that has to be as large as those it is set together with."""
_CLEAR: Final = 0.5
"""Inches that a seam should stay away from a letter."""
_LETTER_COST: Final = 1e6
"""Inches that a seam may be moved to miss one letter."""
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
class OtherWay:
    """What a panel pieced in the other direction would take: inches of cloth, and the letters its seams run through."""

    length: Fraction
    crossed: tuple[Crossed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelCut:
    """How the panel is made from cloth: whole, or pieced with a `seam` from lengths that are `widths` wide, in order.

    `width` and `height` are what is cut for stitching, `trimmed` what that is trimmed to before it is sewn in; equal
    where nothing is trimmed off. The lengths of a pieced panel stand up where its seams do; `other_way` are the
    seams that lengths lying the other way would have, with the cloth that they take, if that can be.
    """

    width: Fraction
    height: Fraction
    trimmed: Extent
    fold: FoldCut | None
    seam: SeamPlan | None
    widths: tuple[Fraction, ...]
    other_way: OtherWay | None

    @property
    def along(self) -> Fraction:
        """How long each length of a pieced panel is."""
        return self.height if self.seam is None or self.seam.upright else self.width


def trim_after_stitching(
    panel: Panel,
    stitches: Iterable[Stitch],
    *,
    when: WhenStitched | None = None,
    units: Units = Units.INCHES,
    set_together: bool = False,
) -> Fraction:
    """How much wider and higher the panel is cut than it is sewn in, in all, to be trimmed off after stitching.

    As the design says; otherwise 1 in, or 3 cm in a metric design, where any of `stitches`, those of its rows and
    those to choose from, is dense. Elsewhere nothing, or where it is a block to be `set_together` with others, which
    has to come out exactly as large as they do, 1/2 in or 2 cm. Nothing is trimmed off a panel that is stitched once
    its borders are on, if `when` is so stated.

    Source:
        Panels draw in under dense satin stitch, so they are cut 1 to 2 in larger: common practice, docs/sources.md,
        panels under satin stitch. Blocks that are sewn together are cut larger and trimmed after stitching: common
        practice, no source; by how much is our own.
    """
    if panel.trim_after is not None:
        return panel.trim_after
    if when in (WhenStitched.TOP, WhenStitched.QUILTING):
        return Fraction(0)
    if any(stitch is Stitch.SATIN for stitch in stitches):
        return _TRIM[units]
    return _TRIM_SET[units] if set_together else Fraction(0)


def cut_panel(panel: PanelPlan, units: Units, grid: Fraction) -> PanelCut:
    """How to make the panel: whole where it fits its cloth, either way round, else pieced with seams.

    A one-way print stands upright. Of two ways to piece a panel the one that takes less cloth is taken, and of equal
    ones that whose seams run through fewer letters. Each length is cut a multiple of `grid` (inches) wide.

    Raises:
        Refusal: fabric too narrow to piece the panel from.
    """
    usable = panel.fabric.usable_width
    width, height = panel.cut_width, panel.cut_height
    one_way = panel.fabric.turns is Turns.UPRIGHT
    if width <= usable or (height <= usable and not one_way):
        return PanelCut(
            width=width,
            height=height,
            trimmed=panel.trimmed,
            fold=_fold(width, height),
            seam=None,
            widths=(),
            other_way=None,
        )
    return _pieced(panel, units, grid)


def _fold(width: Fraction, height: Fraction) -> FoldCut | None:
    """Half sizes for a panel larger than a mat.

    Source:
        Fold, measure half from the fold, turn, fold again: common practice, no source.
    """
    short, long = sorted((width, height))
    if short <= _MAT[0] and long <= _MAT[1]:
        return None
    return FoldCut(half_length=height / 2, half_width=width / 2)


def _pieced(panel: PanelPlan, units: Units, grid: Fraction) -> PanelCut:
    """Two or more lengths joined, with seams that miss the letters where they can.

    Raises:
        Refusal: fabric no wider than its own seams, or more lengths than anybody would join.
    """
    directions = (True,) if panel.fabric.turns is Turns.UPRIGHT else (True, False)
    tried = []
    for upright in directions:
        count = _lengths(panel, grid, upright=upright)
        if count is not None:
            seam = _seam(panel, count, grid, upright=upright)
            tried.append(
                (count * (panel.cut_height if upright else panel.cut_width), len(seam.crossed), seam)
            )
    if not tried:
        across = as_size(min(panel.cut_width, panel.cut_height), units)
        raise Refusal(
            Problem(
                kind="panel-of-too-many-lengths",
                what=message(
                    "a panel {across} across takes more than {most} lengths of fabric {width} wide, "
                    "seams taken off",
                    across=across,
                    most=_MOST_LENGTHS,
                    width=as_available(panel.fabric.usable_width, units),
                ),
                where=Where.key("panel"),
                fix=message("wider fabric (its usable_width in [[fabric]]), or a smaller seam_allowance"),
            )
        )
    tried.sort(key=lambda way: way[:2])
    (_, _, seam), *others = tried
    return PanelCut(
        width=panel.cut_width,
        height=panel.cut_height,
        trimmed=panel.trimmed,
        fold=_fold(panel.cut_width, panel.cut_height),
        seam=seam,
        widths=_widths(panel, seam, grid),
        other_way=next((OtherWay(length=length, crossed=way.crossed) for length, _, way in others), None),
    )


def _widths(panel: PanelPlan, seam: SeamPlan, grid: Fraction) -> tuple[Fraction, ...]:
    """How wide each length is cut: from seam to seam, or to the cut edge, with an allowance at every seam.

    Up to the grid: where seams lie off it, the panel is trimmed to size by less than a step.
    """
    edges = (Fraction(0), *seam.places, panel.cut_width if seam.upright else panel.cut_height)
    inner = len(edges) - 2
    return tuple(
        round_up(
            edges[number + 1] - edges[number] + panel.seam_allowance * ((number > 0) + (number < inner)), grid
        )
        for number in range(inner + 1)
    )


def _lengths(panel: PanelPlan, grid: Fraction, *, upright: bool) -> int | None:
    """How many lengths of fabric make the panel side by side; None if that takes too many."""
    across = panel.cut_width if upright else panel.cut_height
    usable, loss = round_down(panel.fabric.usable_width, grid), 2 * panel.seam_allowance
    count = math.ceil((across - loss) / (usable - loss)) if usable > loss else _MOST_LENGTHS + 1
    return count if count <= _MOST_LENGTHS else None


def _seam(panel: PanelPlan, count: int, grid: Fraction, *, upright: bool) -> SeamPlan:
    """The seams between `count` lengths in one direction, none of which is cut wider than the cloth.

    Together they run through as few letters as can be, and of such places lie as near as can be to those of equal
    lengths. They lie where every length but the last is cut a multiple of `grid` wide, and the last one too if two
    seam allowances are one.
    """
    across = panel.cut_width if upright else panel.cut_height
    usable, allowance = round_down(panel.fabric.usable_width, grid), panel.seam_allowance
    spans = _letter_spans(panel, upright)
    choices = _choices(across, usable, allowance, count, grid)
    starts, stops = (np.array([span[side] for span in spans]) for side in (0, 1))
    best = np.zeros(1)
    came: list[Any] = []
    for number, (at, near) in enumerate(_reached(across, usable, allowance, count, grid), 1):
        crossed = ((starts - _CLEAR < at[:, None]) & (at[:, None] < stops + _CLEAR)).sum(axis=1)
        cost = crossed * _LETTER_COST + np.abs(at - float(across * number / count))
        total = np.where(near, best[None, :], np.inf)
        came.append(total.argmin(axis=1))
        best = cost + total.min(axis=1)
    picked = int(best.argmin())
    chosen: list[Fraction] = []
    for places, back in zip(reversed(choices), reversed(came), strict=True):
        chosen.append(places[picked])
        picked = int(back[picked])
    chosen.reverse()
    through = [letters for place in chosen for letters in _crossed(spans, place)]
    return SeamPlan(upright=upright, places=tuple(chosen), crossed=tuple(dict.fromkeys(through)))


@lru_cache(maxsize=64)
def _choices(
    across: Fraction, usable: Fraction, allowance: Fraction, count: int, grid: Fraction
) -> tuple[tuple[Fraction, ...], ...]:
    """Where each seam between `count` lengths may lie, from the left or the top cut edge: what no letter changes."""
    step = usable - 2 * allowance
    ends = [
        (across - (count - number) * step - allowance, number * step + allowance)
        for number in range(1, count)
    ]
    return tuple(
        _on_grid(low, high, grid, off=-(2 * number - 1) * allowance)
        for number, (low, high) in enumerate(ends, 1)
    )


@lru_cache(maxsize=64)
def _reached(
    across: Fraction, usable: Fraction, allowance: Fraction, count: int, grid: Fraction
) -> tuple[tuple[Any, Any], ...]:
    """For each seam the places of `_choices`, and which of them a length reaches from which place of the one before."""
    choices = _choices(across, usable, allowance, count, grid)
    unit = math.lcm(*(place.denominator for places in choices for place in places))
    reached = []
    before: tuple[Fraction, ...] = (Fraction(0),)
    for number, places in enumerate(choices, 1):
        reach = usable - allowance * (2 if number > 1 else 1)
        near = np.subtract.outer(_in(unit, places), _in(unit, before)) <= math.floor(reach * unit)
        reached.append((np.array([float(place) for place in places]), near.astype(bool)))
        before = places
    return tuple(reached)


def _in(unit: int, places: Sequence[Fraction]) -> Any:
    """The same places as whole parts of an inch, `unit` of which make one: exact, and quick to take apart."""
    return np.array([int(place * unit) for place in places], dtype=object)


def _on_grid(low: Fraction, high: Fraction, grid: Fraction, *, off: Fraction) -> tuple[Fraction, ...]:
    """Where a seam may lie between `low` and `high`: multiples of `grid` from `off`, and `high` is one of them."""
    first, last = math.ceil((low - off) / grid), math.floor((high - off) / grid)
    return tuple(off + number * grid for number in range(first, last + 1))


def _letter_spans(panel: PanelPlan, upright: bool) -> list[tuple[float, float, Crossed]]:
    """Each letter's extent across the seam's direction, from the left or the top cut edge."""
    left, above, height = -panel.cut_edge[0], float(panel.beyond), float(panel.height)

    def span(row: Laid, index: int) -> tuple[float, float, Crossed]:
        x0, y0, x1, y1 = row.cuts[index].ink
        letters = Crossed(letters=row.cuts[index].text, row=row.where.row)
        low, high = (x0, x1) if upright else (height - y1, height - y0)
        beyond = left if upright else above
        return (low + beyond, high + beyond, letters)

    return [span(row, index) for row in panel.laid for index in range(len(row.cuts))]


def _crossed(spans: Sequence[tuple[float, float, Crossed]], place: Fraction) -> list[Crossed]:
    at = float(place)
    return [letters for low, high, letters in spans if low - _CLEAR < at < high + _CLEAR]
