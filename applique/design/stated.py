"""Numbers that a maker states herself, for one part of the quilt, to be held against the plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Annotated, Final

from applique.design.entries import STRICT, Count, Number, Size, says

__all__ = ["CAN_STATE", "OF_ONE_FABRIC", "Part", "Stated", "StatedKind"]


class Part(StrEnum):
    """A part of the quilt that numbers are stated of."""

    PANEL = "panel"
    BORDER = "border"
    BINDING = "binding"
    BACKING = "backing"
    SLEEVE = "hanging sleeve"
    LETTERS = "letters"
    FABRIC = "fabric"
    WEB = "fusible web"


class StatedKind(StrEnum):
    """What a stated number counts, by its key in the table."""

    STRIPS = "strips"
    PIECES = "pieces"
    LENGTH = "length"
    BUY = "buy"
    HOURS = "hours"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """A number of your own pattern, to see whether it holds. One table for each part, as many as you like."""

    __pydantic_config__ = STRICT
    part: Annotated[Part, says("what it is a number of; fabric means all that is cut from one")]
    border: Annotated[
        Count | None,
        says("which border, from the panel outward; may be left out if there is one", ge=1, le=40),
    ] = None
    fabric: Annotated[
        str, says("the name of one of the fabrics: which one, or what of the part is cut from it")
    ] = ""
    strips: Annotated[Count | None, says("strips that you cut across the fabric", ge=1, le=10_000)] = None
    pieces: Annotated[
        Count | None, says("pieces that you cut: squares, rectangles, lengths, letters", ge=1, le=10_000)
    ] = None
    length: Annotated[
        Size | None, says("how long its strips are joined, or how much of the fabric's length it takes")
    ] = None
    buy: Annotated[Size | None, says("what you tell others to buy for it")] = None
    hours: Annotated[Number | None, says("how long stitching takes", gt=0, le=10_000)] = None

    @property
    def numbers(self) -> Mapping[StatedKind, Fraction | int | float]:
        """What is stated, in the order of the table; lengths in exact inches."""
        every = {
            StatedKind.STRIPS: self.strips,
            StatedKind.PIECES: self.pieces,
            StatedKind.LENGTH: self.length,
            StatedKind.BUY: self.buy,
            StatedKind.HOURS: self.hours,
        }
        return {kind: number for kind, number in every.items() if number is not None}


_IN_STRIPS: Final = (StatedKind.STRIPS, StatedKind.LENGTH, StatedKind.BUY)
_IN_PIECES: Final = (StatedKind.PIECES, StatedKind.LENGTH, StatedKind.BUY)
CAN_STATE: Final[Mapping[Part, tuple[StatedKind, ...]]] = MappingProxyType(
    {
        Part.PANEL: _IN_PIECES,
        Part.BORDER: (StatedKind.STRIPS, StatedKind.PIECES, StatedKind.LENGTH, StatedKind.BUY),
        Part.BINDING: _IN_STRIPS,
        Part.BACKING: _IN_PIECES,
        Part.SLEEVE: _IN_STRIPS,
        Part.LETTERS: (StatedKind.PIECES, StatedKind.LENGTH, StatedKind.BUY, StatedKind.HOURS),
        Part.FABRIC: (StatedKind.LENGTH, StatedKind.BUY),
        Part.WEB: (StatedKind.LENGTH, StatedKind.BUY),
    }
)
"""The numbers that each part has."""
OF_ONE_FABRIC: Final = frozenset({Part.PANEL, Part.BINDING, Part.BACKING, Part.SLEEVE, Part.WEB})
"""Parts that are of one fabric, or of none: to name it says nothing."""
