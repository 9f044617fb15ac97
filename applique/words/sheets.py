"""What more than one sheet says."""

from __future__ import annotations

from typing import Final

from applique.errors import Notice
from applique.language import Message, message
from applique.units import Units, as_length

__all__ = ["PEN_CAUTION", "from_center", "notice_said"]

PEN_CAUTION: Final = message(
    "Heat-erasable ink can come back in the cold: test it on a scrap of this fabric, and follow the pen "
    "maker's instructions."
)


def notice_said(notice: Notice) -> Message:
    """A notice in one line, with its place if it has one and what to try where there is something."""
    what, fix = notice.what, notice.fix
    if notice.where and fix:
        return message("{where}: {what}. Try: {fix}.", where=notice.where.as_field(), what=what, fix=fix)
    if notice.where:
        return message("{where}: {what}.", where=notice.where.as_field(), what=what)
    if fix:
        return message("{what}. Try: {fix}.", what=what, fix=fix)
    return message("{what}.", what=what)


def from_center(place: float, units: Units) -> Message:
    """How far `place`, inches from the center line, is from it, and on which side of it."""
    length = as_length(abs(place), units, denominator=16)
    if length.number == 0:
        return message("on the line")
    if place < 0:
        return message("{length} left", length=length)
    return message("{length} right", length=length)
