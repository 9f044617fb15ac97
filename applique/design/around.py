"""What is made around the panel, as frozen values: the tables of borders and of how it is finished.

Lengths are exact `Fraction` inches.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Annotated

from applique.design.entries import (
    STRICT,
    Allowance,
    Flag,
    Size,
    says,
)

__all__ = [
    "Backing",
    "BackingKind",
    "Banner",
    "Batting",
    "Binding",
    "BindingGrain",
    "Border",
    "BorderKind",
    "Bunting",
    "Corners",
    "First",
    "Garment",
    "Hanging",
    "HangsBy",
    "Joins",
    "Label",
    "Pillow",
    "PillowBack",
]


class HangsBy(StrEnum):
    """What a banner hangs by."""

    SLEEVE = "sleeve"
    TIES = "ties"


class PillowBack(StrEnum):
    """How the back of a pillow opens."""

    OVERLAPPING = "overlapping"
    ZIPPER = "zipper"


class BorderKind(StrEnum):
    """What a border is made of."""

    STRIP = "strip"
    SQUARES = "squares"
    RECTANGLES = "rectangles"


class First(StrEnum):
    """Which two sides of a border are sewn on first."""

    SIDES = "sides"
    ENDS = "top and bottom"


class Corners(StrEnum):
    """How the corners of a plain border are made."""

    BUTTED = "butted"
    CORNERSTONES = "cornerstones"
    MITERED = "mitered"


class Joins(StrEnum):
    """How border strips are joined end to end."""

    DIAGONAL = "diagonal"
    STRAIGHT = "straight"


class BindingGrain(StrEnum):
    """How binding strips lie on the cloth."""

    STRAIGHT = "straight"
    BIAS = "bias"


class BackingKind(StrEnum):
    """What the backing is made of."""

    CLOTH = "cloth"
    WIDE = "wide"
    LEFTOVERS = "leftovers"


@dataclass(frozen=True, slots=True, kw_only=True)
class Border:
    """One border, in order from the panel outward."""

    __pydantic_config__ = STRICT
    kind: Annotated[BorderKind, says("a plain strip, squares that alternate, or rectangles in a sequence")]
    fabrics: Annotated[
        tuple[str, ...], says("its fabrics in order; a strip has one", min_length=1, max_length=60)
    ]
    width: Annotated[Size, says("finished width of a strip, or depth of rectangles")] = Fraction(2)
    size: Annotated[Size | None, says("finished side of a square, or length of a rectangle")] = None
    first: Annotated[First, says("which two sides are sewn on first")] = First.SIDES
    corners: Annotated[Corners, says("corners of a plain strip")] = Corners.BUTTED
    corner_fabric: Annotated[str, says("fabric of cornerstones; that of the strip if left out")] = ""
    joins: Annotated[Joins, says("how strips are joined end to end")] = Joins.DIAGONAL


@dataclass(frozen=True, slots=True, kw_only=True)
class Binding:
    """The double-fold binding."""

    __pydantic_config__ = STRICT
    fabric: Annotated[str, says("its fabric; that of the letters if left out")] = ""
    width: Annotated[Size, says("cut width of the strips")] = Fraction(5, 2)
    allowance: Annotated[Allowance, says("added to the perimeter for corners and the end")] = Fraction(10)
    grain: Annotated[BindingGrain, says("straight strips, or bias from one square")] = BindingGrain.STRAIGHT
    left_out: Annotated[Flag, says("none is cut or bought: the edge is finished another way")] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Backing:
    """The back of the quilt."""

    __pydantic_config__ = STRICT
    kind: Annotated[BackingKind, says("panels of fabric, wide backing, or leftovers")] = BackingKind.CLOTH
    fabric: Annotated[str, says("its fabric; one of its own if left out")] = ""
    overage: Annotated[Allowance, says("how much larger than the quilt on every side")] = Fraction(4)
    wide_width: Annotated[Size, says("usable width of wide backing")] = Fraction(106)
    left_out: Annotated[Flag, says("none is cut or bought: you have one, or another way")] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Batting:
    """The batting."""

    __pydantic_config__ = STRICT
    overage: Annotated[Allowance, says("how much larger than the quilt on every side")] = Fraction(2)
    left_out: Annotated[Flag, says("none is bought: you have it, or another way")] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Pillow:
    """The back of a pillow."""

    __pydantic_config__ = STRICT
    back: Annotated[PillowBack, says("two overlapping halves, or two with a zipper between them")] = (
        PillowBack.OVERLAPPING
    )
    overlap: Annotated[
        Allowance | None,
        says("how far overlapping halves lie over each other; 4in, or 10cm in cm, if left out"),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Banner:
    """What a banner hangs by, and whether anything lies between its front and its back."""

    __pydantic_config__ = STRICT
    hangs_by: Annotated[HangsBy, says("a sleeve along the top of the back, or ties over its top edge")] = (
        HangsBy.SLEEVE
    )
    tie_length: Annotated[Size | None, says("cut length of a tie; 18in, or 45cm in cm, if left out")] = None
    fabric: Annotated[
        str, says("that of the ties: the name of one of the fabrics; that of the letters if left out")
    ] = ""
    batting: Annotated[Flag, says("light batting between front and back")] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bunting:
    """The tape that panels hang from side by side, in their order."""

    __pydantic_config__ = STRICT
    tape: Annotated[Flag, says("hang all panels from one tape, folded over their top edges")] = False
    spacing: Annotated[
        Allowance | None, says("along the tape, from one panel to the next; 2in, or 5cm in cm, if left out")
    ] = None
    tail: Annotated[
        Allowance | None, says("of the tape, free at either end; 20in, or 50cm in cm, if left out")
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Garment:
    """Where the words lie on a ready garment."""

    __pydantic_config__ = STRICT
    drop: Annotated[
        Size | None,
        says("from a point of the garment down to the top of the panel; 3in, or 7.5cm in cm, if left out"),
    ] = None
    point: Annotated[
        str,
        says(
            "what that point is called, such as the shoulder seam; the front neckline if left out",
            max_length=40,
        ),
    ] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """What a wall quilt hangs by."""

    __pydantic_config__ = STRICT
    sleeve: Annotated[Flag, says("a sleeve along the top of the back")] = False
    fabric: Annotated[str, says("its fabric; that of the backing if left out")] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What the label for the back says, beside the title."""

    __pydantic_config__ = STRICT
    maker: Annotated[str, says("who made it; the designer if left out", max_length=120)] = ""
    date: Annotated[str, says("when, as you would write it", max_length=60)] = ""
    place: Annotated[str, says("where", max_length=120)] = ""
    care: Annotated[
        tuple[Annotated[str, says("a care line", max_length=200)], ...], says("care lines", max_length=6)
    ] = (
        "Wash cold and gently, dry flat.",
        "Iron the back only.",
    )
