"""The stitch of each row, or other piece: which one, how wide and long, how far it bites in, and its thread.

Lengths are inches. Stitches are the trade's; 301 lockstitch and 304 zigzag in ISO 4915.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final

from applique.colors import contrast_ratio
from applique.design import Design, Method, Sewing, Stitch, Weave
from applique.errors import Where
from applique.fabrics import Fabrics, has_outline
from applique.panel import Laid
from applique.units import MM_PER_INCH

__all__ = [
    "LOW_CONTRAST",
    "PACE_RANGE",
    "EdgeStitch",
    "StitchReason",
    "edge_stitches",
    "offered_stitches",
    "thread_per_length",
]

LOW_CONTRAST: Final = 3.0
"""Least contrast of graphics and large letters (W3C, Web Content Accessibility Guidelines 2.1, 1.4.11 and 1.4.3)."""
_GOOD_CONTRAST: Final = 4.5
"""Least contrast of text of any size (W3C, Web Content Accessibility Guidelines 2.1, 1.4.3)."""
_LARGE_LETTER: Final = 3
"""Cap heights from here on are larger shapes: blanket stitch of 3 mm instead of 2 (common practice, no source)."""
_OUTSIDE: Final = Fraction(1, 16)
"""A satin stitch overlaps about this far onto the background: published, docs/sources.md, satin stitch."""
_MM: Final = 1 / MM_PER_INCH
_WIDTHS: Final = {
    Stitch.STRAIGHT: Fraction(0),
    Stitch.ZIGZAG: Fraction(5, 2) * _MM,
    Stitch.SATIN: 3 * _MM,
}
"""Satin 2 to 4 mm (common practice); zigzag common practice, no source."""
_LENGTHS: Final = {
    Stitch.STRAIGHT: Fraction(5, 2) * _MM,
    Stitch.ZIGZAG: Fraction(3, 2) * _MM,
    Stitch.SATIN: Fraction(2, 5) * _MM,
}
"""Satin 0.3 to 0.5 mm apart (common practice); the others common practice, no source."""
_PACES: Final = {Stitch.STRAIGHT: 360, Stitch.ZIGZAG: 360, Stitch.BLANKET: 240, Stitch.SATIN: 160}
"""Stitches a minute while guiding the edge of a letter, midway between a careful hand and a quick one (`PACE_RANGE`):
common practice, no source; satin goes at 120 to 200. Home machines do 600 to 1000 at most."""
PACE_RANGE: Final = (Fraction(3, 4), Fraction(5, 4))
"""A careful hand and a quick one, as parts of the pace: common practice, no source, as for satin."""


class StitchReason(StrEnum):
    """Why something has the stitch that it has."""

    STATED = "the design"
    TURNED_EDGE = "turned edge"
    LOOSE = "loose weave"
    SLIPPERY = "slippery weave"
    STRETCHY = "stretchy weave"
    CLOSE_IN_VALUE = "letters and background close in value"
    CLEAR_CONTRAST = "firm weave and a clear contrast"


_WEAVES: Final = {
    Weave.LOOSE: StitchReason.LOOSE,
    Weave.SLIPPERY: StitchReason.SLIPPERY,
    Weave.STRETCHY: StitchReason.STRETCHY,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeStitch:
    """The stitch along the edges of what the table `where` of the design asks for: a row of letters, or another piece.

    `bite` is how far it reaches into the letter from its edge, `outside` how far onto the background. `thread` is
    the color of the thread, `outline_thread` that along the shapes behind the letters (that of the letters where none
    are), `contrast` the better of letter and thread against what they lie on, the panel or an
    outline layer. `reason` says why this stitch.
    """

    where: Where
    stitch: Stitch
    width: Fraction
    length: Fraction
    bite: Fraction
    outside: Fraction
    pace: int
    thread: str
    outline_thread: str
    contrast: float
    reason: StitchReason

    @property
    def reads(self) -> str:
        """How it reads from across a room: `low`, `fair` or `good`."""
        if self.contrast < LOW_CONTRAST:
            return "low"
        return "fair" if self.contrast < _GOOD_CONTRAST else "good"

    @property
    def paces(self) -> tuple[int, int]:
        """Stitches a minute of a careful hand and of a quick one."""
        slow, quick = (round(self.pace * part) for part in PACE_RANGE)
        return slow, quick

    @property
    def per_repeat(self) -> int:
        """Needle strokes for each `length` along the edge: a blanket stitch goes on, in and back."""
        return 3 if self.stitch is Stitch.BLANKET else 1


def edge_stitches(design: Design, laid: Sequence[Laid], fabrics: Fabrics) -> tuple[EdgeStitch, ...]:
    """The stitch of all that is laid: as its table says, or its fabric, or the stitching table, or chosen here."""
    return tuple(_edge_stitch(design, row, fabrics) for row in laid)


def offered_stitches(
    design: Design, laid: Sequence[Laid], fabrics: Fabrics, stitch: Stitch
) -> tuple[EdgeStitch, ...]:
    """All that is laid in one `stitch`: as the design has it where it has that stitch, elsewhere in its usual size."""
    own = edge_stitches(design, laid, fabrics)
    return tuple(
        one if one.stitch is stitch else _in_usual_size(one, row, stitch)
        for one, row in zip(own, laid, strict=True)
    )


def _in_usual_size(own: EdgeStitch, row: Laid, stitch: Stitch) -> EdgeStitch:
    width = _WIDTHS.get(stitch, _blanket(row))
    bite, outside = _reach(stitch, width)
    return replace(
        own,
        stitch=stitch,
        width=width,
        length=_LENGTHS.get(stitch, _blanket(row)),
        bite=bite,
        outside=outside,
        pace=_PACES[stitch],
        reason=StitchReason.STATED,
    )


def _blanket(row: Laid) -> Fraction:
    """The usual width and length of its blanket stitch."""
    return (3 if row.size >= _LARGE_LETTER else 2) * _MM


def _edge_stitch(design: Design, row: Laid, fabrics: Fabrics) -> EdgeStitch:
    table, wanted = design.stitching, row.asked
    behind = has_outline(design, wanted)
    background = (fabrics.outline if behind else fabrics.panel).color
    plain = contrast_ratio(row.fabric.color, background)
    said = wanted.stitch or row.fabric.stitch or table.stitch
    chosen, reason = (said, StitchReason.STATED) if said else _chosen(design.sewing, plain)
    width = wanted.stitch_width or table.width or _WIDTHS.get(chosen, _blanket(row))
    length = wanted.stitch_length or table.length or _LENGTHS.get(chosen, _blanket(row))
    thread = wanted.thread or table.thread or row.fabric.color
    bite, outside = _reach(chosen, width)
    dense = chosen is Stitch.SATIN
    return EdgeStitch(
        where=row.where,
        stitch=chosen,
        width=width if chosen is not Stitch.STRAIGHT else Fraction(0),
        length=length,
        bite=bite,
        outside=outside,
        pace=table.pace or _PACES[chosen],
        thread=thread,
        outline_thread=(design.outline.thread or background) if behind else thread,
        contrast=max(plain, contrast_ratio(thread, background)) if dense else plain,
        reason=reason,
    )


def _chosen(sewing: Sewing, contrast: float) -> tuple[Stitch, StitchReason]:
    if sewing.method is Method.TURNED_EDGE:
        return Stitch.STRAIGHT, StitchReason.TURNED_EDGE
    if sewing.weave in _WEAVES:
        return Stitch.SATIN, _WEAVES[sewing.weave]
    if contrast < LOW_CONTRAST:
        return Stitch.SATIN, StitchReason.CLOSE_IN_VALUE
    return Stitch.BLANKET, StitchReason.CLEAR_CONTRAST


def _reach(stitch: Stitch, width: Fraction) -> tuple[Fraction, Fraction]:
    """How far the stitch reaches into the letter and out of it."""
    if stitch is Stitch.STRAIGHT:
        return _OUTSIDE, Fraction(0)
    if stitch is Stitch.BLANKET:
        return width, Fraction(0)
    outside = min(_OUTSIDE, width / 2)
    return width - outside, outside


def thread_per_length(stitch: Stitch, *, pitch: float, width: float, thickness: float) -> float:
    """Thread, top and bobbin together, for each unit of seam; the three lengths in one unit.

    Each needle stroke takes the way along the cloth and once through it, on top and below: 2(√(p² + w²) + t) for
    a zigzag of pitch p and width w through cloth of thickness t. A blanket stitch goes on by p, in by w and back.

    Source:
        Geometry; at w = 0 it is the published formula of stitch type 301, 2 + 2ts with s = 1/p stitches a unit
        (docs/sources.md, thread for a length of seam: 301 takes 2.5 times the seam).
    """
    if stitch is Stitch.BLANKET:
        return 2 * (pitch + 2 * width + 3 * thickness) / pitch
    return 2 * (math.hypot(pitch, width) + thickness) / pitch
