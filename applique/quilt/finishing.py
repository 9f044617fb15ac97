"""Binding, backing, batting and hanging sleeve, from the finished size of the top. Exact inches."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

from applique.design import Backing, Batting, Binding, BindingGrain, Fabric, Turns
from applique.errors import Problem, Refusal, Where
from applique.language import message, messages
from applique.quilt.edge import Edge
from applique.quilt.strips import ClothCut, CutKind, CutPieces, Extent, Join
from applique.units import Units, as_size, cutting_step, round_down, round_near, round_up

__all__ = [
    "BATTING_SOLD",
    "BINDING_REACH",
    "MOST_SHRUNK",
    "SLEEVE_BASTING",
    "SLEEVE_HEM",
    "SLEEVE_SLACK",
    "BackingPlan",
    "BackingWay",
    "BattingPlan",
    "BattingSize",
    "BindingPlan",
    "BindingStart",
    "SleevePlan",
    "bias_length",
    "binding_seam",
    "plan_backing",
    "plan_batting",
    "plan_binding",
    "plan_sleeve",
]


class BattingSize(StrEnum):
    """A size that batting is sold in, or off the roll."""

    CRIB = "crib"
    THROW = "throw"
    TWIN = "twin"
    FULL = "full"
    QUEEN = "queen"
    KING = "king"
    BY_THE_LENGTH = "by the length"


MOST_SHRUNK: Final = Fraction(5, 100)
"""What quilting cotton loses in the first wash, 3 to 5 %, at the most: common practice, docs/sources.md, shrinkage."""
BATTING_SOLD: Final = (
    (BattingSize.CRIB, 45, 60),
    (BattingSize.THROW, 60, 60),
    (BattingSize.TWIN, 72, 90),
    (BattingSize.FULL, 81, 96),
    (BattingSize.QUEEN, 90, 108),
    (BattingSize.KING, 120, 120),
)
"""Batting as sold, in inches: published, docs/sources.md, batting sizes; throw is common practice, no source."""
_SLEEVE_CUT: Final = Fraction(17, 2)
"""Cut depth of a sleeve that lies 4 in deep when folded in half and sewn: common practice, no source."""
_SLEEVE_IN: Final = {Units.INCHES: Fraction(1), Units.CENTIMETERS: Fraction(250, 254)}
SLEEVE_HEM: Final = {Units.INCHES: Fraction(1, 2), Units.CENTIMETERS: Fraction(120, 254)}
"""The sleeve ends this far inside each side of the quilt: common practice, no source."""
SLEEVE_BASTING: Final = {Units.INCHES: Fraction(1, 8), Units.CENTIMETERS: Fraction(30, 254)}
"""A sleeve is basted on this far from the edge of the quilt, inside the seam of its binding: common practice, no
source."""
SLEEVE_SLACK: Final = {Units.INCHES: Fraction(1, 2), Units.CENTIMETERS: Fraction(150, 254)}
"""The lower edge of a sleeve is pinned this much higher than the tube hangs, so that the rod has room and the front of
the quilt stays flat: common practice, no source."""
BINDING_REACH: Final = Fraction(1, 8)
"""A binding folded over reaches this far past the seam on the back, or further: common practice, no source."""
_LAYERS: Final = Fraction(1, 8)
"""What a binding takes to go around the edge of top, low batting and back: common practice, no source."""
_SEAMS: Final = {
    Units.INCHES: tuple(Fraction(part, 16) for part in (2, 3, 4, 6, 8, 10, 12, 16)),
    Units.CENTIMETERS: tuple(Fraction(tenths, 254) for tenths in (30, 50, 60, 75, 100, 125, 150, 200, 250)),
}
"""Widths of a seam that a foot or a needle plate has a mark for: common practice, no source."""
_TAIL: Final = Fraction(8)
"""Of a binding that hangs free where it starts, unless the quilt is small: common practice, no source."""
_MOST_PANELS: Final = 8
_LEAST_BIAS_SQUARE: Final = 6
_LARGEST_BIAS_SQUARE: Final = 60


class BindingStart(StrEnum):
    """The edge of the quilt on which its binding begins: a long one, and none that a sleeve hangs from."""

    BOTTOM = "bottom"
    LEFT = "left"
    STRAIGHTEST = "straightest part"


@dataclass(frozen=True, slots=True, kw_only=True)
class BindingPlan:
    """Double-fold binding. `around` is once around the finished quilt, `needed` that with its allowance, `cut` the
    strips or the square it comes from; `gives` is how long a strip the square gives, None where strips are joined.

    It is sewn on with the seam allowance `seam`, so that the trimmed quilt is that much larger on every side than what
    shows inside its binding. `tail` hangs free before the first stitch, and `gap` is left open between the last and it,
    in the middle of the edge `start`, which is `side` long when it is finished.

    `quick_strips` are those of the quick rule, `needed` ÷ `usable_width`, which forgets the joins; a bias square has
    none.
    """

    width: Fraction
    around: Fraction
    needed: Fraction
    cut: ClothCut
    gives: Fraction | None
    usable_width: Fraction
    quick_strips: int
    seam: Fraction
    tail: Fraction
    start: BindingStart
    side: Fraction

    @property
    def gap(self) -> Fraction:
        """What is left open between the last stitch and the first, to join the ends in."""
        return self.tail * 3 / 2

    @property
    def past_seam(self) -> Fraction:
        """How far past its seam the fold lies on the back of a quilt with low batting.

        Source:
            What half the width has left: see `binding_seam`.
        """
        return max(self.width / 2 - 3 * self.seam - _LAYERS, Fraction(0))

    @property
    def to_corners(self) -> Fraction:
        """How far the gap in the middle of its `side` is from both corners of the trimmed quilt."""
        return (self.side + 2 * self.seam - self.gap) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class BackingWay:
    """One way to piece a backing: panels `widths` wide, side by side, each as long as `along`.

    Panels that are `upright` run the height of the quilt. `widened` is the cut width of a strip of leftovers that is
    sewn on beside the last panel; 0 where there is none.
    """

    upright: bool
    along: Fraction
    widths: tuple[Fraction, ...]
    widened: Fraction = Fraction(0)

    @property
    def length(self) -> Fraction:
        """Inches of cloth that the panels take one after the other."""
        return len(self.widths) * self.along


@dataclass(frozen=True, slots=True, kw_only=True)
class BackingPlan:
    """The backing: its size, and the ways to piece it from cloth of `usable_width`, that with the least cloth first;
    none where it is not bought here."""

    width: Fraction
    height: Fraction
    usable_width: Fraction
    ways: tuple[BackingWay, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BattingPlan:
    """The smallest batting sold that covers, or by the length where none does; `bought` here, or had by the maker."""

    width: Fraction
    height: Fraction
    name: BattingSize
    sold: tuple[int, int] | None
    bought: bool = True

    @property
    def if_washed(self) -> BattingSize:
        """The smallest sold that still covers when it has lost as much in a wash as quilting cotton may."""
        name, _ = _smallest_sold((self.width / (1 - MOST_SHRUNK), self.height / (1 - MOST_SHRUNK)))
        return name


@dataclass(frozen=True, slots=True, kw_only=True)
class SleevePlan:
    """A hanging sleeve: one rectangle, joined from strips where the fabric is too narrow, each end hemmed by `hem` in
    all, folded lengthwise into a tube.
    """

    cut_length: Fraction
    cut_depth: Fraction
    hem: Fraction

    @property
    def length(self) -> Fraction:
        """How long it is once its ends are hemmed."""
        return self.cut_length - 2 * self.hem


def plan_binding(
    binding: Binding, edge: Edge, fabric: Fabric, *, seam_allowance: Fraction, units: Units
) -> BindingPlan:
    """Strips for a double-fold binding along the `edge` of a quilt.

    Raises:
        Refusal: straight strips along an edge that bends (common practice, no source); bias that no sensible square
            yields.
    Source:
        Perimeter and an allowance: published, docs/sources.md, binding.
    """
    if edge.bends and binding.grain is BindingGrain.STRAIGHT:
        raise Refusal(
            Problem(
                kind="straight-binding-around-curves",
                what=message("strips cut straight do not lie flat around the curves of the edge"),
                where=Where.key("binding", "grain"),
                fix=message('grain = "bias"'),
            )
        )
    step = cutting_step(units)
    width = round_near(binding.width, step)
    needed = round_up(edge.length + binding.allowance, step)
    usable_width = fabric.usable_width
    gives = None
    if binding.grain is BindingGrain.BIAS:
        cut = _bias_square(width, needed, fabric, seam_allowance, units)
        length = bias_length(cut.strip_width, width, seam_allowance=seam_allowance)
        gives = round_down(Fraction(length), step)
    else:
        cut = ClothCut(
            fabric=fabric.name,
            kind=CutKind.BINDING_STRIPS,
            strip_width=width,
            join=Join.DIAGONAL,
            needed=needed,
        )
    start = BindingStart.BOTTOM if edge.size[0] >= edge.size[1] else BindingStart.LEFT
    return BindingPlan(
        width=width,
        around=edge.length,
        needed=needed,
        cut=cut,
        gives=gives,
        usable_width=usable_width,
        quick_strips=math.ceil(needed / usable_width),
        seam=binding_seam(width, units),
        tail=_tail(edge.size, units),
        start=BindingStart.STRAIGHTEST if edge.bends else start,
        side=max(edge.size),
    )


def binding_seam(width: Fraction, units: Units) -> Fraction:
    """The seam allowance with which a double-fold binding cut `width` wide is sewn on: the widest there is a mark for.

    Source:
        Folded once, half the width has to lie in the seam, reach out over it to the edge, go around the layers, and
        reach back to the seam and a little past it: w / 2 ≥ 3 s + layers + reach (geometry). That is the 1/4 in of
        common practice, no source, for strips of 2 1/4 to 2 1/2 in.
    """
    most = (width / 2 - _LAYERS - BINDING_REACH) / 3
    return max((seam for seam in _SEAMS[units] if seam <= most), default=_SEAMS[units][0])


def _tail(size: Extent, units: Units) -> Fraction:
    """In whole inches or centimeters, at most a quarter of the longer side."""
    step = Fraction(1) if units is Units.INCHES else 10 * cutting_step(units)
    return max(step, round_down(min(_TAIL, max(size) / 4), step))


def _bias_square(
    width: Fraction, needed: Fraction, fabric: Fabric, seam_allowance: Fraction, units: Units
) -> ClothCut:
    """The least square that yields `needed`, in whole inches or centimeters."""
    step = Fraction(1) if units is Units.INCHES else 10 * cutting_step(units)
    sides = range(math.ceil(_LEAST_BIAS_SQUARE / step), math.floor(_LARGEST_BIAS_SQUARE / step) + 1)
    square = next(
        (
            side * step
            for side in sides
            if bias_length(side * step, width, seam_allowance=seam_allowance) >= needed
        ),
        None,
    )
    if square is None or square > fabric.usable_width:
        raise Refusal(
            Problem(
                kind="no-square-for-bias",
                what=message(
                    "no square of this fabric yields {run} of bias binding", run=as_size(needed, units)
                ),
                where=Where.key("binding"),
                fix=message('grain = "straight", or wider fabric'),
            )
        )
    return ClothCut(
        fabric=fabric.name,
        kind=CutKind.BIAS_SQUARE,
        strip_width=square,
        pieces=(CutPieces(length=square, count=1, upright=True),),
    )


def bias_length(square: Fraction, width: Fraction, *, seam_allowance: Fraction) -> float:
    """The length of continuous bias binding `width` wide that a square yields, in inches.

    Source:
        n = ⌊(s−½)/(w√2)⌋, L = n√2(s−½), where ½ is two seam allowances: re-derived from what is published,
        docs/sources.md, bias binding from one square.
    """
    side = float(square - 2 * seam_allowance)
    rounds = math.floor(side / (float(width) * math.sqrt(2)) + 1e-12)
    return rounds * math.sqrt(2) * side


def plan_backing(
    backing: Backing,
    finished: Extent,
    fabric: Fabric,
    *,
    seam_allowance: Fraction,
    units: Units,
    bought: bool = True,
) -> BackingPlan:
    """Panels for a backing larger than the quilt by the overage on every side: upright, or lying.

    All panels but the last are as wide as the fabric, which is counted down to what can be measured; the size of the
    backing and the last panel are cut up to it. A one-way print stands upright.

    Raises:
        Refusal: more panels than anybody joins.
    Source:
        4 to 8 in larger each way, and the panels: published, docs/sources.md, the two rows of backing.
    """
    step = cutting_step(units)
    width, height = (round_up(side + 2 * backing.overage, step) for side in finished)
    usable_width, loss = round_down(fabric.usable_width, step), 2 * seam_allowance
    if not bought:
        return BackingPlan(width=width, height=height, usable_width=usable_width, ways=())

    def laid(across: Fraction, along: Fraction, *, upright: bool) -> BackingWay:
        panels = max(1, math.ceil((across - loss) / (usable_width - loss)))
        last = round_up(across - (panels - 1) * (usable_width - loss), step)
        return BackingWay(upright=upright, along=along, widths=(usable_width,) * (panels - 1) + (last,))

    ways = [laid(width, height, upright=True)]
    if fabric.turns is not Turns.UPRIGHT:
        ways.append(laid(height, width, upright=False))
    ways.sort(key=lambda way: way.length)
    panels = len(ways[0].widths)
    if panels > _MOST_PANELS:
        raise Refusal(
            Problem(
                kind="backing-of-too-many-panels",
                what=messages("the backing takes {count} panel", "the backing takes {count} panels", panels),
                where=Where.key("backing"),
                fix=message('kind = "wide", or wider fabric'),
            )
        )
    return BackingPlan(width=width, height=height, usable_width=usable_width, ways=tuple(ways))


def plan_batting(batting: Batting, finished: Extent, *, bought: bool = True) -> BattingPlan:
    """The smallest size sold that covers the quilt and its overage, either way round."""
    width, height = (side + 2 * batting.overage for side in finished)
    name, sold = _smallest_sold((width, height))
    return BattingPlan(width=width, height=height, name=name, sold=sold, bought=bought)


def _smallest_sold(wanted: Extent) -> tuple[BattingSize, tuple[int, int] | None]:
    """The smallest size sold that covers `wanted`, either way round, with its sides; off the roll if none does."""
    short, long = sorted(wanted)
    for name, across, down in BATTING_SOLD:
        if short <= min(across, down) and long <= max(across, down):
            return name, (across, down)
    return BattingSize.BY_THE_LENGTH, None


def plan_sleeve(finished: Extent, units: Units) -> SleevePlan:
    """A sleeve along the top edge, ending inside both sides; its depth is cut up to what can be measured."""
    step = cutting_step(units)
    return SleevePlan(
        cut_length=round_near(finished[0] - 2 * _SLEEVE_IN[units] + 2 * SLEEVE_HEM[units], step),
        cut_depth=round_up(_SLEEVE_CUT, step),
        hem=SLEEVE_HEM[units],
    )
