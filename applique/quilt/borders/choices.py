"""Borders to choose from for a quilt as it stands: each comes out even, whatever the size of its panel."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final

from applique.design import Border, BorderKind, Corners, Design, Fabric
from applique.errors import Refusal
from applique.quilt.borders.offers import even_rectangles
from applique.quilt.borders.planning import plan_borders
from applique.quilt.borders.squares import even_squares
from applique.quilt.borders.values import BorderPlan
from applique.quilt.borders.work import BorderWork
from applique.quilt.edge import straight_edge
from applique.quilt.strips import Extent
from applique.units import MM_PER_INCH, Units, cutting_step, round_near, round_up

__all__ = ["BorderChoice", "BorderLook", "border_choices", "fabrics_lacking"]


class BorderLook(StrEnum):
    """What a border looks like."""

    PLAIN = "plain"
    CORNERSTONES = "cornerstones"
    MITERED = "mitered"
    TWO_IN_TURN = "squares of two"
    THREE_IN_TURN = "squares of three"
    ALL_IN_TURN = "squares of all"
    RECTANGLES = "rectangles"


_CORNERS: Final = {
    BorderLook.PLAIN: Corners.BUTTED,
    BorderLook.CORNERSTONES: Corners.CORNERSTONES,
    BorderLook.MITERED: Corners.MITERED,
}
_FABRICS: Final = {
    BorderLook.PLAIN: 1,
    BorderLook.CORNERSTONES: 2,
    BorderLook.MITERED: 1,
    BorderLook.TWO_IN_TURN: 2,
    BorderLook.RECTANGLES: 2,
}
"""How many fabrics each must have; what is not here is made where she has them."""
_MOST_IN_TURN: Final = 12
_MOST_RECTANGLES: Final = 4
_WIDTHS: Final = {Units.INCHES: Fraction(2), Units.CENTIMETERS: 50 / MM_PER_INCH}
_SQUARES: Final = {Units.INCHES: Fraction(5, 2), Units.CENTIMETERS: 60 / MM_PER_INCH}
"""Finished widths of strips and rectangles, and sides of squares, around a quilt of usual size; docs/decisions/0292."""
_FINER: Final = {Units.INCHES: Fraction(1, 8), Units.CENTIMETERS: 1 / MM_PER_INCH}
"""Sizes of pieces that are tried where none comes out even by itself are multiples of these."""
_COARSER: Final = {Units.INCHES: Fraction(1, 4), Units.CENTIMETERS: 5 / MM_PER_INCH}
"""And so are widths of borders."""
_LEAST: Final = {Units.INCHES: Fraction(1, 2), Units.CENTIMETERS: 10 / MM_PER_INCH}
_NARROW: Final = 4
"""A border takes at most so great a part of the shorter side: around a coaster it is narrower."""
_MOST_ROUND: Final = 1_000
"""Pieces around a top beyond which they become larger."""
_SMALLER, _LARGER = Fraction(3, 5), Fraction(8, 5)
"""How far squares may differ from what they would be, as parts of it."""
_LONG: Final = (Fraction(3, 2), Fraction(11, 4))
"""How long rectangles may be, by their widths."""
_TRIED: Final = 4
"""Sizes with the least change that are tried for one that brings no two alike together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderChoice:
    """A border that can be added as it is. `design` is the quilt with it, `plans` are all of its borders worked out.

    What else changes, inches finished: the panel becomes `wider` and `higher`; a plain strip, the `spacer`, is sewn on
    before it; `seam_allowance` is what all seams become, None where they stay. `added` are fabrics that are new.
    """

    look: BorderLook
    design: Design
    plans: tuple[BorderPlan, ...]
    wider: Fraction = Fraction(0)
    higher: Fraction = Fraction(0)
    spacer: Fraction = Fraction(0)
    seam_allowance: Fraction | None = None
    added: tuple[Fabric, ...] = ()

    @property
    def border(self) -> Border:
        """The border itself, the outermost one."""
        return self.design.border[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fit:
    """Pieces that come out even: their size, and what makes them do so; inches finished."""

    width: Fraction
    length: Fraction
    spacer: Fraction = Fraction(0)
    wider: Fraction = Fraction(0)
    higher: Fraction = Fraction(0)


def fabrics_lacking(design: Design) -> int:
    """How many fabrics `design` has too few to have every choice."""
    return max(0, max(_FABRICS.values()) - len(design.fabric))


def border_choices(
    design: Design, fabrics: Mapping[str, Fabric], spare: Sequence[Fabric]
) -> tuple[BorderChoice, ...]:
    """Every look of a border that `design` can have next, around the borders that it has, sized to come out even.

    Where no size near the usual ones does, the panel grows by as little as can be. Where borders of pieces lie around
    it already it grows by whole pieces of them, or a plain strip is sewn on first, whichever is less. `fabrics` are
    those of the design by their names, as they are cut from; where it has too few, those of `spare` are added, which
    it does not know yet.

    Raises:
        Refusal: the borders that it has do not come out even.
    """
    inner = _plans(design, fabrics)
    evened = _on_grid(design)
    found = []
    for look in BorderLook:
        names = [fabric.name for fabric in design.fabric]
        lacking = max(0, _FABRICS.get(look, 0) - len(names))
        if lacking > len(spare) or len(names) < {BorderLook.THREE_IN_TURN: 3, BorderLook.ALL_IN_TURN: 4}.get(
            look, 0
        ):
            continue
        added = tuple(spare[:lacking])
        known = {**fabrics, **{fabric.name: fabric for fabric in added}}
        order = _in_order(design, (*names, *(fabric.name for fabric in added)))
        if look in _CORNERS:
            choice = _plain(look, replace(design, fabric=(*design.fabric, *added)), order, known, inner)
        else:
            choice = _of_pieces(look, replace(evened, fabric=(*design.fabric, *added)), order, known)
        if choice is not None:
            changed = evened is not design and look not in _CORNERS
            found.append(
                replace(choice, added=added, seam_allowance=evened.seam_allowance if changed else None)
            )
    return tuple(found)


def _plans(design: Design, fabrics: Mapping[str, Fabric]) -> tuple[BorderPlan, ...]:
    return plan_borders(
        design.border, design.panel_size, fabrics, seam_allowance=design.seam_allowance, units=design.units
    )


def _on_grid(design: Design) -> Design:
    """`design` with a seam allowance of which two are a size that can be cut: pieces come out even by no other."""
    step = cutting_step(design.units)
    seams = max(round_near(2 * design.seam_allowance, step), step) if design.seam_allowance else Fraction(0)
    if seams == 2 * design.seam_allowance:
        return design
    return replace(design, panel=replace(design.panel, seam_allowance=seams / 2))


def _in_order(design: Design, names: Sequence[str]) -> tuple[str, ...]:
    """The fabrics to take, those first that do not touch the new border already."""
    touching = design.border[-1].fabrics if design.border else (design.panel.fabric,)
    return tuple(sorted(names, key=lambda name: name in touching))


def _width(before: Extent, units: Units) -> Fraction:
    """How wide a border of strips is around a top of that size."""
    narrow = round_near(min(before) / _NARROW, _FINER[units])
    return max(min(_WIDTHS[units], narrow), _LEAST[units])


def _plain(
    look: BorderLook,
    design: Design,
    order: Sequence[str],
    fabrics: Mapping[str, Fabric],
    inner: Sequence[BorderPlan],
) -> BorderChoice | None:
    before = inner[-1].finished if inner else design.panel_size
    border = Border(
        kind=BorderKind.STRIP,
        fabrics=tuple(order[:1]),
        width=_width(before, design.units),
        corners=_CORNERS[look],
        corner_fabric=order[1] if look is BorderLook.CORNERSTONES else "",
    )
    return _planned(look, design, (border,), fabrics, _Fit(width=border.width, length=border.width))


def _of_pieces(
    look: BorderLook, design: Design, order: Sequence[str], fabrics: Mapping[str, Fabric]
) -> BorderChoice | None:
    """A border of squares or rectangles, at the first size that can be had and has no two alike together."""
    try:
        inner = _plans(design, fabrics)
    except Refusal:
        return None
    before = inner[-1].finished if inner else design.panel_size
    several = {BorderLook.TWO_IN_TURN: 2, BorderLook.THREE_IN_TURN: 3, BorderLook.ALL_IN_TURN: _MOST_IN_TURN}
    taken = tuple(order[: several.get(look, _MOST_RECTANGLES)])
    is_squares = look is not BorderLook.RECTANGLES
    best = None
    fits = (
        _square_fits(design, before, inner)
        if is_squares
        else _rectangle_fits(design, before, inner, fabrics, taken)
    )
    for fit in fits:
        if is_squares:
            border = Border(kind=BorderKind.SQUARES, fabrics=taken, size=fit.length)
        else:
            border = Border(kind=BorderKind.RECTANGLES, fabrics=taken, width=fit.width, size=fit.length)
        spacer = Border(kind=BorderKind.STRIP, fabrics=(order[-1],), width=fit.spacer)
        choice = _planned(look, design, (spacer, border) if fit.spacer else (border,), fabrics, fit)
        if choice is not None and not choice.plans[-1].alike:
            return choice
        best = best or choice
    return best


def _planned(
    look: BorderLook, design: Design, borders: Sequence[Border], fabrics: Mapping[str, Fabric], fit: _Fit
) -> BorderChoice | None:
    """The choice, if its borders can be made and come out even."""
    panel = design.panel
    if fit.wider:
        panel = replace(panel, width=design.panel_size[0] + fit.wider)
    if fit.higher:
        panel = replace(panel, height=design.panel_size[1] + fit.higher)
    design = replace(design, panel=panel, border=(*design.border, *borders))
    try:
        plans = _plans(design, fabrics)
    except Refusal:
        return None
    if plans[-1].uneven is not None:
        return None
    return BorderChoice(
        look=look, design=design, plans=plans, wider=fit.wider, higher=fit.higher, spacer=fit.spacer
    )


# Sizes


def _around(top: Extent) -> Fraction:
    """How far it is around a top of that size."""
    return 2 * (top[0] + top[1])


def _square_fits(design: Design, before: Extent, inner: Sequence[BorderPlan]) -> Iterator[_Fit]:
    units = design.units
    wanted = min(_SQUARES[units], max(round_near(min(before) / _NARROW, _FINER[units]), _LEAST[units]))
    wanted = max(wanted, round_up(_around(before) / _MOST_ROUND, _FINER[units]))
    itself = [wanted] if all((side / wanted).denominator == 1 for side in before) else []
    near = even_squares(before, wanted, step=cutting_step(units))
    for size in sorted((*itself, *near), key=lambda size: abs(size - wanted)):
        if wanted * _SMALLER <= size <= wanted * _LARGER:
            yield _Fit(width=size, length=size)
    sizes = _multiples(wanted * _SMALLER, wanted * _LARGER, _FINER[units])
    yield from _evened(design, before, inner, [(size, size) for size in sizes], wanted, is_crossed=False)


def _rectangle_fits(
    design: Design,
    before: Extent,
    inner: Sequence[BorderPlan],
    fabrics: Mapping[str, Fabric],
    taken: tuple[str, ...],
) -> Iterator[_Fit]:
    units = design.units
    width = max(_width(before, units), round_up(_around(before) / 2 / _MOST_ROUND, _FINER[units]))
    work = BorderWork(
        number=len(design.border) + 1,
        border=Border(kind=BorderKind.RECTANGLES, fabrics=taken, width=width),
        inside=inner[-1].edge if inner else straight_edge(before),
        fabrics=fabrics,
        seam_allowance=design.seam_allowance,
        units=units,
    )
    for offer in even_rectangles(work, width, 2 * width):
        if _LONG[0] <= offer.length / offer.width <= _LONG[1]:
            yield _Fit(width=offer.width, length=offer.length)
    pairs = [
        (wide, length)
        for wide in _multiples(width * 3 / 4, width * 5 / 4, _COARSER[units])
        for length in _multiples(wide * _LONG[0], wide * _LONG[1], _FINER[units])
    ]
    yield from _evened(design, before, inner, pairs, 2 * width, is_crossed=True)


def _multiples(least: Fraction, most: Fraction, step: Fraction) -> list[Fraction]:
    return [count * step for count in range(max(1, math.ceil(least / step)), math.floor(most / step) + 1)]


def _evened(
    design: Design,
    before: Extent,
    inner: Sequence[BorderPlan],
    pairs: Iterable[tuple[Fraction, Fraction]],
    wanted: Fraction,
    *,
    is_crossed: bool,
) -> Iterator[_Fit]:
    """Sizes with what makes them come out even, the least change first; pieces of `pairs` are (width, length).

    The sides of rectangles are sewn on first, so that the others cross them (`is_crossed`). The panel grows by whole
    pieces of the borders around it. Lengths are counted in steps of what can be cut.
    """
    step = cutting_step(design.units)
    across, down = (int(side / step) for side in before)
    grows, usual = _grows_by(inner, step), wanted / step
    coarser = int(_COARSER[design.units] / step)
    first, found = int(1 / step), []
    for width, length in pairs:
        size, crossed = int(length / step), 2 * int(width / step) if is_crossed else 0
        for spacer in range(0, size + 1, coarser) if grows > 1 else (0,):
            wider = _least(across + 2 * spacer + crossed, size, grows)
            higher = _least(down + 2 * spacer, size, grows)
            if wider is not None and higher is not None:
                cost = wider + higher + (spacer + first if spacer else 0)
                found.append((cost, abs(size - usual), width, length, spacer, wider, higher))
    for _, _, width, length, spacer, wider, higher in sorted(found)[:_TRIED]:
        yield _Fit(width=width, length=length, spacer=spacer * step, wider=wider * step, higher=higher * step)


def _grows_by(inner: Sequence[BorderPlan], step: Fraction) -> int:
    """The least that the panel can grow by so that the borders of pieces around it still come out even, in steps."""
    lengths = [
        int(pieces[0][1] / step)
        for plan in inner
        if plan.kind is not BorderKind.STRIP and plan.uneven is None
        for pieces in [plan.steps[0].strips[0].pieces]
    ]
    return math.lcm(*lengths) if lengths else 1


def _least(side: int, size: int, grows: int) -> int | None:
    """The least multiple of `grows` that, with `side`, makes whole pieces of `size`; None where there is none.

    Source:
        side + n·grows ≡ 0 (mod size), solved for n by the inverse of grows modulo size, both over their common measure.
    """
    common, lacking = math.gcd(size, grows), -side % size
    if lacking % common:
        return None
    pieces = size // common
    return lacking // common * pow(grows // common, -1, pieces) % pieces * grows
