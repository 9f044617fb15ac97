"""The stitching plan: what is sewn in which order, with thread, stabilizer and hours.

Lengths are inches, times minutes. Places on a letter are about its template's own origin.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np
import shapely

from applique.design import Design, Stitch, Weave, WhenStitched
from applique.errors import Where
from applique.geometry.points import Point
from applique.geometry.polygons import parts_of
from applique.outline_layer import PlacedOutline
from applique.panel import Laid, PanelPlan
from applique.pieces import Template
from applique.quilt.whole import QuiltPlan
from applique.sewing.stitches import EdgeStitch, thread_per_length

__all__ = [
    "RANGE",
    "LetterSewing",
    "RowPlan",
    "Stabilizer",
    "StabilizerKind",
    "StabilizerReason",
    "StitchPlan",
    "ThreadNeed",
    "WhenReason",
    "plan_stitching",
    "roll_width",
    "row_minutes",
]

_STABILIZER_BORDER: Final = 1.0
"""Inches of stabilizer around the letters of a row: common practice, no source."""
_START_MINUTES: Final = 1.0
"""To place the needle, sew on the spot, and pull threads through, for every closed edge: common practice, no source."""
_CORNER_MINUTES: Final = 0.1
"""To stop with the needle down, lift, turn and lower at a corner: common practice, no source."""
RANGE: Final = (0.8, 1.4)
"""An experienced sewist and a beginner, as parts of the time figured: common practice, no source."""
_CORNER_DEG: Final = 30.0
_STRAIGHT: Final = 0.01
_LOOSE_ROLL: Final = 1.25
"""A rolled quilt is this much thicker than its cloth wound tight: common practice, no source."""
_SANDWICH: Final = 5 / 25.4
"""Inches of top, low batting and back under the hand: common practice, no source."""


class StabilizerKind(StrEnum):
    """What holds the cloth flat under the stitch."""

    NONE = "none"
    TEAR_AWAY = "tear-away"
    CUT_AWAY = "cut-away"


class StabilizerReason(StrEnum):
    """Why something has the stabilizer that it has."""

    FIRM = "firm weave"
    STRAIGHT = "straight stitch on a firm weave"
    LOOSE = "loose weave"
    SLIPPERY = "slippery weave"
    STRETCHY = "stretchy weave"


_WEAVES: Final = {
    Weave.LOOSE: StabilizerReason.LOOSE,
    Weave.SLIPPERY: StabilizerReason.SLIPPERY,
    Weave.STRETCHY: StabilizerReason.STRETCHY,
}


class WhenReason(StrEnum):
    """Why the letters are stitched when they are."""

    STATED = "the design"
    ONE_STITCH = "a straight stitch holds letters and layers, and the roll passes"
    DENSE = "dense stitching draws the panel in"
    LEAST_ROLL = "the panel is the least to turn"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stabilizer:
    """Stabilizer under a row, or another piece: its kind and why, `width` along the row by `height` of it."""

    kind: StabilizerKind
    reason: StabilizerReason
    width: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterSewing:
    """Where to start and stop on each closed edge of a template, and how many corners it turns."""

    template: int
    starts: tuple[Point, ...]
    corners: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RowPlan:
    """The sewing of what the table `where` asks for, a row or another piece, its outline layer included.

    `edge` is all that is sewn, counters too; `top` and `bobbin` are thread with waste; `minutes` a range.
    """

    where: Where
    stitch: EdgeStitch
    edge: float
    stitches: int
    top: float
    bobbin: float
    minutes: tuple[float, float]
    stabilizer: Stabilizer


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadNeed:
    """Thread of one color, top and bobbin, and the spools that hold it."""

    name: str
    color: str
    length: float
    spools: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StitchPlan:
    """Everything about stitching the letters down. `order` is the one in which they are sewn.

    `rolls` is how thick the half that passes under the arm is when rolled: the panel, the top, the whole quilt.
    """

    rows: tuple[RowPlan, ...]
    letters: tuple[LetterSewing, ...]
    order: tuple[Where, ...]
    threads: tuple[ThreadNeed, ...]
    minutes: tuple[float, float]
    when: WhenStitched
    when_reason: WhenReason
    rolls: tuple[float, float, float]


def plan_stitching(
    design: Design,
    panel: PanelPlan,
    templates: Sequence[Template],
    outlines: Sequence[PlacedOutline],
    quilt: QuiltPlan,
    stitches: Sequence[EdgeStitch],
) -> StitchPlan:
    """The stitching of all that is laid, worked out from the true edges."""
    letters = tuple(_letter_sewing(template) for template in templates)
    rows = tuple(
        _row_plan(design, row, stitch, list(_sewn(row.where, templates, letters)), outlines)
        for row, stitch in zip(panel.laid, stitches, strict=True)
    )
    rolls = _rolls(design, panel, quilt)
    when, reason = _when(design, stitches, rolls)
    return StitchPlan(
        rows=rows,
        letters=letters,
        order=tuple(rows[index].where for index in _from_the_center(len(rows))),
        threads=tuple(_threads(design, rows, panel.laid)),
        minutes=(math.fsum(row.minutes[0] for row in rows), math.fsum(row.minutes[1] for row in rows)),
        when=when,
        when_reason=reason,
        rolls=rolls,
    )


def _sewn(
    where: Where, templates: Sequence[Template], letters: Sequence[LetterSewing]
) -> Iterator[tuple[Template, LetterSewing, int]]:
    """The templates sewn in a row, or another piece, with how often; one that several use is shared evenly by count."""
    for template, letter in zip(templates, letters, strict=True):
        count = template.in_tables.get(where, 0)
        if count:
            yield template, letter, count


def _row_plan(
    design: Design,
    row: Laid,
    stitch: EdgeStitch,
    sewn: Sequence[tuple[Template, LetterSewing, int]],
    outlines: Sequence[PlacedOutline],
) -> RowPlan:
    edge = math.fsum(template.edge * count for template, _, count in sewn)
    count = math.ceil(edge / float(stitch.length)) * stitch.per_repeat
    thread = edge * thread_per_length(
        stitch.stitch,
        pitch=float(stitch.length),
        width=float(stitch.width),
        thickness=float(design.stitching.thickness),
    )
    thread *= 1 + design.stitching.waste_percent / 100
    starts = sum(len(letter.starts) * times for _, letter, times in sewn)
    corners = sum(letter.corners * times for _, letter, times in sewn)
    return RowPlan(
        where=row.where,
        stitch=stitch,
        edge=edge,
        stitches=count,
        top=thread / 2,
        bobbin=thread / 2,
        minutes=row_minutes(count, pace=stitch.pace, starts=starts, corners=corners),
        stabilizer=_stabilizer(
            design, row, stitch, max((o.reach for o in outlines if o.where == row.where), default=0.0)
        ),
    )


def row_minutes(stitches: int, *, pace: int, starts: int, corners: int) -> tuple[float, float]:
    """The least and the most minutes for so many stitches, closed edges and corners.

    Source:
        At 600 stitches a minute 2,500 take 4.17 minutes (arithmetic); people sew slower than their machine can
        (published, docs/sources.md, stitches a minute). Paces, starts and corners: common practice, no source.
    """
    reckoned = stitches / pace + starts * _START_MINUTES + corners * _CORNER_MINUTES
    return (RANGE[0] * reckoned, RANGE[1] * reckoned)


def _stabilizer(design: Design, row: Laid, stitch: EdgeStitch, reach: float) -> Stabilizer:
    """What suits stitch and cloth.

    Source:
        Cut-away stays in and suits dense stitching on slippery or loose cloth, tear-away suits firm wovens
        (published, docs/sources.md, stabilizer).
    """
    kind, reason = StabilizerKind.TEAR_AWAY, StabilizerReason.FIRM
    if stitch.stitch is Stitch.STRAIGHT:
        kind, reason = StabilizerKind.NONE, StabilizerReason.STRAIGHT
    if design.sewing.weave in _WEAVES:
        kind, reason = StabilizerKind.CUT_AWAY, _WEAVES[design.sewing.weave]
    x0, y0, x1, y1 = row.upright_ink
    border = 2 * (_STABILIZER_BORDER + reach)
    return Stabilizer(kind=kind, reason=reason, width=x1 - x0 + border, height=y1 - y0 + border)


# Where to start, and what turns


def _letter_sewing(template: Template) -> LetterSewing:
    rings = [ring for part in parts_of(template.shape) for ring in (part.exterior, *part.interiors)]
    return LetterSewing(
        template=template.number,
        starts=tuple(_start(ring) for ring in rings),
        corners=sum(_corner_count(ring) for ring in rings),
    )


def _start(ring: shapely.LinearRing) -> Point:
    """The middle of the longest stretch that is nearly straight."""
    points = np.asarray(ring.simplify(_STRAIGHT).coords)
    sides = np.hypot(*np.diff(points, axis=0).T)
    index = int(sides.argmax())
    middle = (points[index] + points[index + 1]) / 2
    nearest = shapely.shortest_line(ring, shapely.Point(middle)).coords[0]
    return (float(nearest[0]), float(nearest[1]))


def _corner_count(ring: shapely.LinearRing) -> int:
    sides = np.diff(np.asarray(ring.simplify(_STRAIGHT / 4).coords), axis=0)
    after = np.roll(sides, -1, axis=0)
    turn = np.arctan2(sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0], (sides * after).sum(axis=1))
    return int((np.abs(np.degrees(turn)) > _CORNER_DEG).sum())


def _from_the_center(count: int) -> tuple[int, ...]:
    middle = (count - 1) / 2
    return tuple(sorted(range(count), key=lambda index: (abs(index - middle), index)))


# Thread, and the machine's arm


def _threads(design: Design, plans: Sequence[RowPlan], laid: Sequence[Laid]) -> Iterable[ThreadNeed]:
    names = {fabric.color: fabric.name for fabric in reversed(design.fabric)}
    names |= {row.fabric.color: row.fabric.name for row in laid}
    lengths: dict[str, float] = {}
    for plan in plans:
        lengths[plan.stitch.thread] = lengths.get(plan.stitch.thread, 0.0) + plan.top + plan.bobbin
    for color, length in lengths.items():
        yield ThreadNeed(
            name=names.get(color, color),
            color=color,
            length=length,
            spools=math.ceil(length / float(design.stitching.spool)),
        )


def roll_width(length: float, thickness: float) -> float:
    """How wide a roll of cloth is, `length` of it `thickness` thick, wound loosely.

    Source:
        The area of the roll is the area of the cloth seen from its edge: geometry.
    """
    return _LOOSE_ROLL * math.sqrt(4 * length * thickness / math.pi)


def _rolls(design: Design, panel: PanelPlan, quilt: QuiltPlan) -> tuple[float, float, float]:
    """Half of the panel, the top and the quilt, rolled from the longer side."""
    thin = float(design.stitching.thickness)
    half_panel = float(max(panel.width, panel.height)) / 2
    half_quilt = float(max(quilt.finished)) / 2
    return (
        roll_width(half_panel, thin),
        roll_width(half_quilt, thin),
        roll_width(half_quilt, thin + _SANDWICH),
    )


def _when(
    design: Design, stitches: Sequence[EdgeStitch], rolls: tuple[float, float, float]
) -> tuple[WhenStitched, WhenReason]:
    if design.stitching.when is not None:
        return design.stitching.when, WhenReason.STATED
    throat = float(design.stitching.throat)
    light = all(stitch.stitch is Stitch.STRAIGHT for stitch in stitches)
    if light and rolls[2] <= throat:
        return WhenStitched.QUILTING, WhenReason.ONE_STITCH
    dense = any(stitch.stitch in (Stitch.SATIN, Stitch.ZIGZAG) for stitch in stitches)
    return WhenStitched.PANEL, WhenReason.DENSE if dense else WhenReason.LEAST_ROLL
