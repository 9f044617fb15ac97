"""Binding, backing, batting and hanging sleeve, from the finished size of the top. Exact inches."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

from applique.design import Backing, Batting, Binding, BindingGrain, Fabric
from applique.errors import Problem, Refusal, Where
from applique.language import Measure, Message, message, messages
from applique.quilt.strips import ClothCut, CutKind, Extent, Join, strips_needed
from applique.units import Units, as_length

__all__ = [
    "BATTING_SOLD",
    "SLEEVE_HEM",
    "BackingPlan",
    "BattingPlan",
    "BattingSize",
    "BindingPlan",
    "SleevePlan",
    "bias_length",
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
_SLEEVE_IN: Final = Fraction(1)
SLEEVE_HEM: Final = Fraction(1, 2)
"""The sleeve ends this far inside each side of the quilt: common practice, no source."""
_MOST_PANELS: Final = 8
_LARGEST_BIAS_SQUARE: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class BindingPlan:
    """Double-fold binding. `run` is the perimeter with its allowance; `simple_strips` the quick rule's answer,
    `why` what is to be said where that is another.

    `square` is the side of the square that bias binding is cut from, `square_yields` its true length.
    """

    width: Fraction
    run: Fraction
    cut: ClothCut
    simple_strips: int
    why: Message | None
    square: Fraction | None
    square_yields: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BackingPlan:
    """The backing: its size, and the panels it is pieced from. `upright` panels run the height of the quilt."""

    width: Fraction
    height: Fraction
    panels: int
    panel_length: Fraction
    usable_width: Fraction
    upright: bool
    how: Message

    @property
    def length(self) -> Fraction:
        """Inches of cloth that the panels take."""
        return self.panels * self.panel_length


@dataclass(frozen=True, slots=True, kw_only=True)
class BattingPlan:
    """The smallest batting sold that covers, or by the length where none does."""

    width: Fraction
    height: Fraction
    name: BattingSize
    sold: tuple[int, int] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SleevePlan:
    """A hanging sleeve: one rectangle, its short ends hemmed, folded lengthwise into a tube."""

    cut_length: Fraction
    cut_depth: Fraction


def plan_binding(
    binding: Binding, finished: Extent, fabric: Fabric, *, seam_allowance: Fraction, units: Units
) -> BindingPlan:
    """Strips for a double-fold binding around a quilt of `finished` size.

    Raises:
        Refusal: fabric too narrow for its own joins; bias that no sensible square yields.
    Source:
        Perimeter and an allowance, divided into strips: published, docs/sources.md, binding; joins counted by geometry.
    """
    run = 2 * (finished[0] + finished[1]) + binding.allowance
    usable_width = fabric.usable_width
    simple = math.ceil(run / usable_width)
    if binding.grain is BindingGrain.BIAS:
        return _bias_binding(binding, run, fabric, simple, seam_allowance, units)
    strips = strips_needed(
        run,
        usable_width=usable_width,
        strip_width=binding.width,
        join=Join.DIAGONAL,
        seam_allowance=seam_allowance,
    )
    reach = strips * usable_width - (strips - 1) * binding.width
    why = None
    if strips != simple:
        why = messages(
            "the quick rule, {run} ÷ {width}, says {simple}; each diagonal join uses up {loss}, "
            "so {count} strip is needed",
            "the quick rule, {run} ÷ {width}, says {simple}; each diagonal join uses up {loss}, "
            "so {count} strips are needed",
            strips,
            run=as_length(run, units),
            width=as_length(usable_width, units),
            simple=simple,
            loss=as_length(binding.width, units),
        )
    cut = ClothCut(
        fabric=fabric.name,
        kind=CutKind.BINDING_STRIPS,
        count=strips,
        strips=strips,
        strip_width=binding.width,
        across=0,
        how=message(
            "join with diagonal seams into {reach}; {run} are needed",
            reach=as_length(reach, units),
            run=as_length(run, units),
        ),
    )
    return BindingPlan(
        width=binding.width, run=run, cut=cut, simple_strips=simple, why=why, square=None, square_yields=0.0
    )


def _bias_binding(
    binding: Binding,
    run: Fraction,
    fabric: Fabric,
    simple: int,
    seam_allowance: Fraction,
    units: Units,
) -> BindingPlan:
    square = next(
        (
            Fraction(side)
            for side in range(6, _LARGEST_BIAS_SQUARE + 1)
            if bias_length(Fraction(side), binding.width, seam_allowance=seam_allowance) >= run
        ),
        None,
    )
    if square is None or square > fabric.usable_width:
        raise Refusal(
            Problem(
                kind="no-square-for-bias",
                what=message(
                    "no square of this fabric yields {run} of bias binding", run=as_length(run, units)
                ),
                where=Where.key("binding"),
                fix=message('grain = "straight", or wider fabric'),
            )
        )
    cut = ClothCut(
        fabric=fabric.name,
        kind=CutKind.BIAS_SQUARE,
        count=1,
        strips=1,
        strip_width=square,
        across=1,
        how=message("one square of {side}, cut into a continuous bias strip", side=as_length(square, units)),
    )
    yields = bias_length(square, binding.width, seam_allowance=seam_allowance)
    return BindingPlan(
        width=binding.width,
        run=run,
        cut=cut,
        simple_strips=simple,
        why=None,
        square=square,
        square_yields=yields,
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
    backing: Backing, finished: Extent, usable_width: Fraction, *, seam_allowance: Fraction, units: Units
) -> BackingPlan:
    """Panels for a backing larger than the quilt by the overage on every side; upright or lying, the cheaper.

    Raises:
        Refusal: more panels than anybody joins.
    Source:
        4 to 8 in larger each way, and the panels: published, docs/sources.md, the two rows of backing.
    """
    width, height = (side + 2 * backing.overage for side in finished)
    loss = 2 * seam_allowance

    def laid(across: Fraction, along: Fraction) -> tuple[Fraction, int]:
        panels = max(1, math.ceil((across - loss) / (usable_width - loss)))
        return panels * along, panels

    upright, lying = laid(width, height), laid(height, width)
    is_upright = upright[0] <= lying[0]
    _, panels = upright if is_upright else lying
    if panels > _MOST_PANELS:
        raise Refusal(
            Problem(
                kind="backing-of-too-many-panels",
                what=messages("the backing takes {count} panel", "the backing takes {count} panels", panels),
                where=Where.key("backing"),
                fix=message('kind = "wide", or wider fabric'),
            )
        )
    along = height if is_upright else width
    other = lying if is_upright else upright
    return BackingPlan(
        width=width,
        height=height,
        panels=panels,
        panel_length=along,
        usable_width=usable_width,
        upright=is_upright,
        how=_backing_how(panels, as_length(along, units), as_length(other[0], units), is_upright=is_upright),
    )


def _backing_how(panels: int, length: Measure, other: Measure, *, is_upright: bool) -> Message:
    """How the panels of a backing lie, and what fabric it would take the other way."""
    if panels == 1:
        return (
            message(
                "1 length of {length}, lengthwise, no seam (crosswise would take {other})",
                length=length,
                other=other,
            )
            if is_upright
            else message(
                "1 length of {length}, crosswise, no seam (lengthwise would take {other})",
                length=length,
                other=other,
            )
        )
    seams = messages("{count} seam", "{count} seams", panels - 1)
    return (
        messages(
            "{count} length of {length}, lengthwise, {seams} (crosswise would take {other})",
            "{count} lengths of {length}, lengthwise, {seams} (crosswise would take {other})",
            panels,
            length=length,
            seams=seams,
            other=other,
        )
        if is_upright
        else messages(
            "{count} length of {length}, crosswise, {seams} (lengthwise would take {other})",
            "{count} lengths of {length}, crosswise, {seams} (lengthwise would take {other})",
            panels,
            length=length,
            seams=seams,
            other=other,
        )
    )


def plan_batting(batting: Batting, finished: Extent) -> BattingPlan:
    """The smallest size sold that covers the quilt and its overage, either way round."""
    width, height = (side + 2 * batting.overage for side in finished)
    short, long = sorted((width, height))
    for name, across, down in BATTING_SOLD:
        if short <= min(across, down) and long <= max(across, down):
            return BattingPlan(width=width, height=height, name=name, sold=(across, down))
    return BattingPlan(width=width, height=height, name=BattingSize.BY_THE_LENGTH, sold=None)


def plan_sleeve(finished: Extent) -> SleevePlan:
    """A sleeve along the top edge, ending inside both sides."""
    return SleevePlan(cut_length=finished[0] - 2 * _SLEEVE_IN + 2 * SLEEVE_HEM, cut_depth=_SLEEVE_CUT)
