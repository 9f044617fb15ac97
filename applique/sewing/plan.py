"""The stitching plan: what is sewn in which order, with thread, stabilizer and hours.

Lengths are inches, times minutes. Places on a letter are about its template's own origin.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from applique.design import Design, Stitch, WhenStitched
from applique.errors import Where
from applique.geometry.points import Point
from applique.outline_layer import PlacedOutline, edge_stretches, hidden_edges
from applique.panel import Laid, PanelPlan, on_panel
from applique.pieces import Layer, Template
from applique.quilt.whole import QuiltPlan
from applique.sewing.quilting import LAYERS
from applique.sewing.stabilizer import Stabilizer, StabilizerNeed, cut_from_roll, row_stabilizer
from applique.sewing.stitches import PACE_RANGE, EdgeStitch, thread_per_length
from applique.units import minutes_counted, thread_counted

__all__ = [
    "BEND_SHARE",
    "TIGHT",
    "EdgeSewing",
    "LetterSewing",
    "RowPlan",
    "StitchPlan",
    "WhenReason",
    "edge_minutes",
    "edge_thread",
    "minutes_of",
    "plan_rows",
    "plan_stitching",
    "roll_width",
    "thickness_sewn",
    "tight_length",
]

_START_MINUTES: Final = 1.0
"""To place the needle, sew on the spot, and pull threads through, for every closed edge: common practice, no source."""
_CORNER_MINUTES: Final = 0.1
"""To stop with the needle down, lift, turn and lower at a corner: common practice, no source."""
TIGHT: Final = Fraction(1)
"""Inches: a curve of this radius or less is tight, one of twice it half as tight: common practice, no source."""
BEND_SHARE: Final = 0.2
"""How much less time straight runs take than an edge half of which is in tight curves, and how much more tight curves
take: common practice, no source."""
_CORNER_DEG: Final = 30.0
_STRAIGHT: Final = 0.01
_LOOSE_ROLL: Final = 1.25
"""A rolled quilt is this much thicker than its cloth wound tight: common practice, no source."""
_SANDWICH: Final = 5 / 25.4
"""Inches of top, low batting and back under the hand: common practice, no source."""


LeftOut: TypeAlias = Mapping[tuple[Where, Layer], float]
"""Inches of edge by what is laid and its layer."""


class WhenReason(StrEnum):
    """Why the letters are stitched when they are."""

    STATED = "the design"
    ONE_STITCH = "a straight stitch holds letters and layers, and the roll passes"
    DENSE = "dense stitching draws the panel in"
    TRIMMED = "the panel is trimmed after stitching"
    LEAST_ROLL = "the panel is the least to turn"


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterSewing:
    """Where to start and stop on each edge of a template, how many corners it turns, and how much of its edge
    (inches) counts as tight curves."""

    template: int
    starts: tuple[Point, ...]
    corners: int
    curved: float


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeSewing:
    """What is sewn along the edges of one layer of a row, the letters or the shapes behind them, in one thread.

    `edge` is all that is sewn, counters too, and nothing of what another piece hides; `curved` is as much of it as
    counts as tight curves. `top` and `bobbin` are thread with waste, each counted up (`units.thread_counted`);
    `minutes` the least and the most as figured, with so many `starts` and `corners`.
    """

    layer: Layer
    thread: str
    edge: float
    curved: float
    stitches: int
    top: Fraction
    bobbin: Fraction
    minutes: tuple[float, float]
    starts: int
    corners: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RowPlan:
    """The sewing of what the table `where` asks for, a row or another piece, and before it of its outline layer."""

    where: Where
    stitch: EdgeStitch
    layers: tuple[EdgeSewing, ...]
    stabilizer: Stabilizer

    @property
    def edge(self) -> float:
        """All that is sewn in the row."""
        return math.fsum(layer.edge for layer in self.layers)

    @property
    def stitches(self) -> int:
        """All stitches of the row."""
        return sum(layer.stitches for layer in self.layers)

    @property
    def top(self) -> Fraction:
        """Needle thread of all colors, with waste."""
        return sum((layer.top for layer in self.layers), Fraction(0))

    @property
    def bobbin(self) -> Fraction:
        """Bobbin thread of all colors, with waste."""
        return sum((layer.bobbin for layer in self.layers), Fraction(0))

    @property
    def minutes(self) -> tuple[int, int]:
        """The least and the most minutes for the row, as they are counted (`units.minutes_counted`)."""
        low, high = (math.fsum(layer.minutes[end] for layer in self.layers) for end in (0, 1))
        return minutes_counted((low, high))


@dataclass(frozen=True, slots=True, kw_only=True)
class StitchPlan:
    """Everything about stitching the letters down. `order` is the one in which they are sewn, `stabilizers`
    how the pieces under them are cut from the roll.

    `rolls` is how thick the half that passes under the arm is when rolled: the panel, the top, the whole quilt.
    `left_out` has by row the inches of edge of its letters and of its outlines that are not sewn, where there are any:
    another piece lies over them.
    """

    rows: tuple[RowPlan, ...]
    letters: tuple[LetterSewing, ...]
    order: tuple[Where, ...]
    stabilizers: tuple[StabilizerNeed, ...]
    minutes: tuple[int, int]
    when: WhenStitched
    when_reason: WhenReason
    rolls: tuple[float, float, float]
    left_out: LeftOut

    @property
    def hidden(self) -> frozenset[Where]:
        """The rows with letters that lie partly under others."""
        return frozenset(where for where, layer in self.left_out if layer is not Layer.OUTLINE)


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
    rolls = _rolls(design, panel, quilt)
    when, reason = _when(design, panel, stitches, rolls, layered=quilt.layered)
    left_out = _left_out(panel, outlines)
    made = panel.made
    rows = plan_rows(design, panel, templates, letters, outlines, stitches, when, left_out)
    return StitchPlan(
        rows=rows,
        letters=letters,
        order=tuple(_order(rows, [own for own, _ in panel.grouped])),
        stabilizers=cut_from_roll(
            [
                (row.where, row.stabilizer)
                for row, count in zip(rows, made, strict=True)
                for _ in range(count)
            ],
            roll_width=design.stitching.stabilizer_width,
            units=design.units,
        ),
        minutes=minutes_of(rows),
        when=when,
        when_reason=reason,
        rolls=rolls,
        left_out=left_out,
    )


def _order(rows: Sequence[RowPlan], groups: Sequence[int]) -> Iterator[Where]:
    """Panel after panel, of each so many rows from its center outward."""
    first = 0
    for own in groups:
        yield from (rows[first + index].where for index in _from_the_center(own))
        first += own


def minutes_of(rows: Sequence[RowPlan]) -> tuple[int, int]:
    """The least and the most minutes of all `rows`: the sums of what each is said to take."""
    return sum(row.minutes[0] for row in rows), sum(row.minutes[1] for row in rows)


def plan_rows(
    design: Design,
    panel: PanelPlan,
    templates: Sequence[Template],
    letters: Sequence[LetterSewing],
    outlines: Sequence[PlacedOutline],
    stitches: Sequence[EdgeStitch],
    when: WhenStitched,
    left_out: LeftOut,
) -> tuple[RowPlan, ...]:
    """The sewing of each row and other piece in its stitch; `letters` go by template, `left_out` as in `StitchPlan`."""
    return tuple(
        _row_plan(
            design,
            row,
            stitch,
            list(_sewn(row.where, templates, letters)),
            outlines,
            when,
            left_out=left_out,
        )
        for row, stitch in zip(panel.laid, stitches, strict=True)
    )


def _left_out(panel: PanelPlan, outlines: Sequence[PlacedOutline]) -> LeftOut:
    """The inches of edge that are not sewn: of outlines those under another outline or a letter, of letters those under
    one that is laid later."""
    shapes = [on_panel(cut) for cut in panel.cuts]
    found: dict[tuple[Where, Layer], float] = {}
    hidden = iter(hidden_edges(shapes))
    times = {laid.where: count for laid, count in zip(panel.laid, panel.made, strict=True)}
    for laid in panel.laid:
        own = times[laid.where] * math.fsum(next(hidden) for _ in laid.cuts)
        if own:
            found[laid.where, Layer.LETTER if laid.letter else Layer.SHAPE] = own
    for piece, edges in zip(outlines, edge_stretches(outlines, shapes), strict=True):
        left_out = times[piece.where] * math.fsum(
            shapely.LineString(stretch).length for stretch in edges.left_out
        )
        if left_out:
            key = (piece.where, Layer.OUTLINE)
            found[key] = found.get(key, 0.0) + left_out
    return found


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
    when: WhenStitched,
    *,
    left_out: LeftOut,
) -> RowPlan:
    x0, y0, x1, y1 = row.upright_ink
    behind = [one for one in sewn if one[0].layer is Layer.OUTLINE]
    others = [one for one in sewn if one[0].layer is not Layer.OUTLINE]
    thread = stitch.outline_thread
    own = Layer.LETTER if row.letter else Layer.SHAPE
    hidden, parted = (left_out.get((row.where, layer), 0.0) for layer in (own, Layer.OUTLINE))
    layers = [_edges(design, stitch, Layer.OUTLINE, thread, behind, when, parted)] if behind else []
    return RowPlan(
        where=row.where,
        stitch=stitch,
        layers=(*layers, _edges(design, stitch, own, stitch.thread, others, when, hidden)),
        stabilizer=row_stabilizer(
            stitch,
            design.sewing.weave,
            (x1 - x0, y1 - y0),
            max((o.reach for o in outlines if o.where == row.where), default=0.0),
            layered=when is WhenStitched.QUILTING,
            roll_width=design.stitching.stabilizer_width,
            units=design.units,
        ),
    )


def edge_thread(stitch: EdgeStitch, thickness: float) -> float:
    """Thread, top and bobbin together and without waste, of each unit of edge, in fabric `thickness` inches thick."""
    return thread_per_length(
        stitch.stitch, pitch=float(stitch.length), width=float(stitch.width), thickness=thickness
    )


def _edges(
    design: Design,
    stitch: EdgeStitch,
    layer: Layer,
    thread: str,
    sewn: Sequence[tuple[Template, LetterSewing, int]],
    when: WhenStitched,
    left_out: float = 0.0,
) -> EdgeSewing:
    """The sewing of all edges of one layer, less the inches that are `left_out`, of which as much is in tight curves as
    of the others."""
    whole = math.fsum(template.edge * count for template, _, count in sewn)
    edge = max(whole - left_out, 0.0)
    share = edge / whole if whole else 0.0
    curved = min(edge, math.fsum(letter.curved * count for _, letter, count in sewn) * share)
    stitches = math.ceil(edge / float(stitch.length)) * stitch.per_repeat
    length = edge * edge_thread(stitch, thickness_sewn(design.stitching.thickness, when))
    starts = sum(len(letter.starts) * count for _, letter, count in sewn)
    corners = sum(letter.corners * count for _, letter, count in sewn)
    half = thread_counted(length * (1 + design.stitching.waste_percent / 100) / 2, design.units)
    return EdgeSewing(
        layer=layer,
        thread=thread,
        edge=edge,
        curved=curved,
        stitches=stitches,
        top=half,
        bobbin=half,
        minutes=edge_minutes(
            stitches,
            pace=stitch.pace,
            curved=curved / edge if edge else 0.0,
            starts=starts,
            corners=corners,
        ),
        starts=starts,
        corners=corners,
    )


def thickness_sewn(panel: Fraction, when: WhenStitched) -> float:
    """Inches of all that lies under the needle: letter and `panel`, or where letters are stitched while quilting the
    batting and the back too, as much as for any line of quilting, or more if the panel alone is thicker."""
    return max(float(panel), LAYERS) if when is WhenStitched.QUILTING else float(panel)


def edge_minutes(
    stitches: int, *, pace: int, curved: float, starts: int, corners: int
) -> tuple[float, float]:
    """The least and the most minutes for so many stitches, `curved` of them (0 to 1) in tight curves.

    `pace` is for an edge half of which is in tight curves; straight runs take `BEND_SHARE` less, tight curves so
    much more. The range is that of the pace, from a quick hand to a careful one.

    Source:
        Stitches by stitches a minute (arithmetic); people sew slower than their machine can (published,
        docs/sources.md, stitches a minute). Paces, starts and corners: common practice, no source.
    """
    bend = 1 + BEND_SHARE * (2 * curved - 1)
    figured = stitches / pace * bend + starts * _START_MINUTES + corners * _CORNER_MINUTES
    slow, quick = map(float, PACE_RANGE)
    return (figured / quick, figured / slow)


# Where to start, and what turns


def _letter_sewing(template: Template) -> LetterSewing:
    edges = template.sewn_edges
    return LetterSewing(
        template=template.number,
        starts=tuple(_start(edge) for edge in edges),
        corners=sum(_corner_count(edge) for edge in edges),
        curved=math.fsum(tight_length(edge) for edge in edges),
    )


def _start(ring: shapely.LineString) -> Point:
    """The middle of the longest stretch that is nearly straight; of an edge that is cut off its end in the seam."""
    if not ring.is_closed:
        x, y = ring.coords[0]
        return (float(x), float(y))
    points = np.asarray(ring.simplify(_STRAIGHT).coords)
    sides = np.hypot(*np.diff(points, axis=0).T)
    index = int(sides.argmax())
    middle = (points[index] + points[index + 1]) / 2
    nearest = shapely.shortest_line(ring, shapely.Point(middle)).coords[0]
    return (float(nearest[0]), float(nearest[1]))


def _corner_count(ring: shapely.LineString) -> int:
    _, turns_deg = _turns(ring.simplify(_STRAIGHT / 4))
    return int((turns_deg > _CORNER_DEG).sum())


def tight_length(ring: shapely.LineString) -> float:
    """How much of an edge (inches) counts as tight curves: all where it bends by `TIGHT` or less, half where it bends
    by twice that, nothing where it is straight. Corners count for themselves.

    Source:
        A circle of any larger radius has 2π · `TIGHT`, for it turns once around: geometry.
    """
    lengths, turns_deg = _turns(ring)
    turns_deg[turns_deg > _CORNER_DEG] = 0.0
    return float(np.minimum(lengths, float(TIGHT) * np.radians(turns_deg)).sum())


def _turns(ring: BaseGeometry) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """For each vertex half the length of its two sides, and by how many degrees the edge turns there; the ends of an
    open edge are no vertices."""
    sides = np.diff(np.asarray(ring.coords), axis=0)
    after = np.roll(sides, -1, axis=0)
    if not ring.is_closed:
        sides, after = sides[:-1], after[:-1]
    turn = np.arctan2(sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0], (sides * after).sum(axis=1))
    lengths = (np.hypot(*sides.T) + np.hypot(*after.T)) / 2
    return lengths, np.abs(np.degrees(turn))


def _from_the_center(count: int) -> tuple[int, ...]:
    middle = (count - 1) / 2
    return tuple(sorted(range(count), key=lambda index: (abs(index - middle), index)))


# The machine's arm


def roll_width(length: float, thickness: float) -> float:
    """How wide a roll of cloth is, `length` of it `thickness` thick, wound loosely.

    Source:
        The area of the roll is the area of the cloth seen from its edge: geometry.
    """
    return _LOOSE_ROLL * math.sqrt(4 * length * thickness / math.pi)


def _rolls(design: Design, panel: PanelPlan, quilt: QuiltPlan) -> tuple[float, float, float]:
    """Half of the panel, the top and the quilt, rolled from the longer side."""
    thin = float(design.stitching.thickness)
    sizes = [side for block in quilt.blocks for side in block.finished] or [panel.width, panel.height]
    half_panel = float(max(sizes)) / 2
    half_quilt = float(max(side for size in quilt.made for side in size)) / 2
    return (
        roll_width(half_panel, thin),
        roll_width(half_quilt, thin),
        roll_width(half_quilt, thin + _SANDWICH),
    )


def _when(
    design: Design,
    panel: PanelPlan,
    stitches: Sequence[EdgeStitch],
    rolls: tuple[float, float, float],
    *,
    layered: bool,
) -> tuple[WhenStitched, WhenReason]:
    if design.stitching.when is not None:
        return design.stitching.when, WhenReason.STATED
    throat = float(design.stitching.throat)
    light = all(stitch.stitch is Stitch.STRAIGHT for stitch in stitches)
    if light and layered and rolls[2] <= throat and not panel.trim:
        return WhenStitched.QUILTING, WhenReason.ONE_STITCH
    dense = any(stitch.stitch in (Stitch.SATIN, Stitch.ZIGZAG) for stitch in stitches)
    if dense:
        return WhenStitched.PANEL, WhenReason.DENSE
    return WhenStitched.PANEL, WhenReason.TRIMMED if panel.trim else WhenReason.LEAST_ROLL
