"""Rows of words placed on the background panel: across by their ink, down by their baselines.

Frame of the panel: inches, origin at the lower left corner of the *finished* panel, y up. A cut stands
by its own origin: on the baseline, at the pen position of its first glyph.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from shapely import affinity

from applique.design import Align, Design, Finish, Nudge
from applique.errors import Refusal
from applique.fabrics import resolve_fabrics
from applique.geometry.outline import Outline, united
from applique.geometry.place import Place, turn_about
from applique.geometry.points import Bounds, Point, around, middle_of
from applique.geometry.polygons import CHORD_ERROR, Shape
from applique.panel.columns import across_alone, beside, down_start, run_down
from applique.panel.fitting import (
    baselines,
    cap_heights,
    held_down_notices,
    on_steps,
    refuse_what_does_not_fit,
    step_notices,
)
from applique.panel.in_outline import baselines_inside, outline_of_panel
from applique.panel.notices import font_notices, gap_notices, off_the_panel
from applique.panel.outline import reach_over
from applique.panel.requests import RowRequest, RowSet, box_at, laid, outline_at, row_requests, rows_set
from applique.panel.values import PanelPlan, PlacedCut, PlacedRow, Worn, on_panel
from applique.typeset.remembered import Remembered
from applique.typeset.spacing import Cut
from applique.typeset.typeface import GlyphSpot, Typeface
from applique.units import cutting_step

__all__ = ["CutShapes", "place_rows"]


def place_rows(
    design: Design,
    *,
    trim: Fraction = Fraction(0),
    near: Fraction | None = None,
    shapes: CutShapes | None = None,
    first: int = 1,
) -> PanelPlan:
    """Every row of the design on its panel.

    `trim` is what the panel will be cut wider and higher by, in all, than it is sewn in, for baselines on whole steps
    below its cut edge; the plan has none yet. `near` is the cap height at which to look first for the largest that
    fits; it has no part in what comes back. `shapes` are those of
    panels before it in the same pattern, so that the same shape has the same key in all; its rows are numbered from
    `first`.

    Raises:
        Refusal: letters a font lacks, fonts that cannot be opened, rows that do not fit (with the cap height
            that would), nudges of letters that are not there or that leave the panel.
    """
    fabrics = resolve_fabrics(design)
    requests = row_requests(design, fabrics, first)
    heights = cap_heights(requests, design, near=near)
    rows_as_set = rows_set(requests, heights)
    inks = [row.ink for row in rows_as_set]
    refuse_what_does_not_fit(design, requests, heights, inks)
    drop, loose = design.drop, design.finish is Finish.LETTERS
    measured_from = design.panel_size[1] + (design.seam_allowance + trim / 2 if drop is None else drop)
    outline = outline_of_panel(design)
    baselines_at, stayed = (
        _baselines(design, requests, inks, measured_from)
        if outline is None
        else (dict(enumerate(baselines_inside(outline, design, requests, rows_as_set))), ())
    )
    origins = _origins(design, requests, rows_as_set, baselines_at)
    shapes = CutShapes() if shapes is None else shapes
    rows = tuple(
        _placed_row(request, row, height, origin, shapes)
        for request, row, height, origin in zip(requests, rows_as_set, heights, origins, strict=True)
    )
    problems = tuple(off_the_panel(design, rows))
    if problems:
        raise Refusal(problems)
    return PanelPlan(
        width=design.panel_size[0],
        height=design.panel_size[1],
        trim=Fraction(0),
        seam_allowance=design.seam_allowance,
        margin=design.panel.margin,
        fabric=fabrics.panel,
        laid=rows,
        worn=None if drop is None else Worn(drop=drop, point=design.garment.point),
        loose=loose,
        shape=design.panel.shape,
        over=(Fraction(0), Fraction(0))
        if outline is None
        else reach_over(outline, design.seam_allowance, cutting_step(design.units)),
        notices=(
            *font_notices(requests),
            *step_notices(design, requests, stayed),
            *held_down_notices(design, requests, heights, inks),
            *gap_notices(design, requests, rows),
        ),
    )


def _baselines(
    design: Design, requests: Sequence[RowRequest], inks: Sequence[Bounds], measured_from: Fraction
) -> tuple[dict[int, float], tuple[int, ...]]:
    """The baseline of each row across, by its index, and the indices of those that had to stay off the steps."""
    indices = [index for index, request in enumerate(requests) if not request.row.runs_down]
    if not indices:
        return {}, ()
    alone = across_alone(design) if len(indices) < len(requests) else design
    asked, inked = [requests[index] for index in indices], [inks[index] for index in indices]
    level = baselines(alone, inked)
    if design.finish is Finish.LETTERS:
        measured_from = Fraction(max(level))
    down, stayed = on_steps(alone, asked, inked, level, measured_from=measured_from)
    return dict(zip(indices, down, strict=True)), tuple(indices[index] for index in stayed)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Origin:
    """Where the origin of a row comes to lie, and how much its letters are spread, to the right and up for each."""

    x: float
    y: float
    spread: Point = (0.0, 0.0)


def _origins(
    design: Design, requests: Sequence[RowRequest], rows: Sequence[RowSet], baselines_at: Mapping[int, float]
) -> Iterator[_Origin]:
    """Where each row lies."""
    width, margin = float(design.panel_size[0]), float(design.panel.margin)
    spans = beside(design, [row.ink for row in rows]).spans if run_down(design) else None
    for index, (request, row) in enumerate(zip(requests, rows, strict=True)):
        if request.row.runs_down and spans is not None:
            start, between = down_start(design, request, row.ink, len(row.row.cuts))
            x = spans[index][0] - row.ink[0] + float(request.row.right)
            yield _Origin(x=x, y=start + float(request.row.up), spread=(0.0, -between))
            continue
        room = (margin, width - margin, width) if spans is None else (*spans[index], sum(spans[index]))
        x, between = _across(request, row, room)
        yield _Origin(x=x, y=baselines_at[index] + float(request.row.up), spread=(between, 0.0))


def _placed_row(
    request: RowRequest, row: RowSet, cap_height: Fraction, origin: _Origin, shapes: CutShapes
) -> PlacedRow:
    line = row.line.moved(origin.x, origin.y)
    boxes = [box_at(request.typeface, cut, row.scale) for cut in row.row.cuts]
    outlines = [shapes.sized(request.typeface, cut, row.scale) for cut in row.row.cuts]
    flats = [_flat(cut, row.scale, origin, index) for index, cut in enumerate(row.row.cuts)]
    middles = [flat.x + middle_of(box)[0] for flat, box in zip(flats, boxes, strict=True)]
    as_set = [
        _ink(sized[1], box, line.carried(flat, middle))
        for flat, middle, box, sized in zip(flats, middles, boxes, outlines, strict=True)
    ]
    turned = turn_about(middle_of(around(as_set)), math.remainder(request.row.turn, 360))
    cuts: list[PlacedCut] = []
    for cut, flat, at, box, (key, outline, shape) in zip(
        row.row.cuts, flats, middles, boxes, outlines, strict=True
    ):
        upright = line.carried(_nudged(request.row.nudge, cut.letters, flat, middle_of(box)), at)
        place = upright.within(turned)
        cuts.append(
            PlacedCut(
                key=key,
                drawn=(request.typeface.key, cut.glyphs),
                text=cut.text,
                word=cut.word,
                letters=cut.letters,
                upright=upright,
                upright_ink=_ink(outline, box, upright),
                place=place,
                ink=_ink(outline, box, place),
                outline=outline,
                shape=shape,
            )
        )
    return PlacedRow(
        number=request.number,
        asked=request.row,
        text=request.row.text,
        font=request.typeface.name,
        fabric=request.fabric,
        cap_height=cap_height,
        line=line,
        upright_ink=around([cut.upright_ink for cut in cuts]),
        turned=turned,
        ink=around([cut.ink for cut in cuts]),
        outline=_row_outline(cuts),
        cuts=tuple(cuts),
    )


def _flat(cut: Cut, scale: float, origin: _Origin, index: int) -> Place:
    """Where a cut lies before its row is carried onto its line."""
    at, (right, up) = cut.place(scale), origin.spread
    return replace(at, x=origin.x + at.x + index * right, y=origin.y + at.y + index * up)


def _row_outline(cuts: Sequence[PlacedCut]) -> Outline:
    """The row as one outline in the frame of the panel; only cuts that touch are united."""
    placed = [cut.place.outline(cut.outline) for cut in cuts]
    touching: set[int] = set()
    by_left = sorted(range(len(cuts)), key=lambda index: cuts[index].ink[0])
    for place, left in enumerate(by_left):
        for right in by_left[place + 1 :]:
            if cuts[right].ink[0] > cuts[left].ink[2]:
                break
            if on_panel(cuts[left]).intersects(on_panel(cuts[right])):
                touching |= {left, right}
    apart = [
        contour
        for index, outline in enumerate(placed)
        if index not in touching
        for contour in outline.contours
    ]
    if touching:
        joined = united([placed[index].draw for index in sorted(touching)], least_area=0.0)
        apart += joined.contours
    return Outline(contours=tuple(apart))


def _across(request: RowRequest, row: RowSet, room: tuple[float, float, float]) -> tuple[float, float]:
    """The x of the row's origin on the panel, aligned by the ink of the whole row, and what is put between its cuts.

    `room` is where the ink may lie: from, to, and twice its middle.
    """
    left, _, right, _ = row.ink
    low, high, both = room
    between = 0.0
    match request.align:
        case Align.LEFT:
            start = low - left
        case Align.RIGHT:
            start = high - right
        case Align.SPREAD if len(row.row.cuts) > 1:
            start = low - left
            between = (both - 2 * low - (right - left)) / (len(row.row.cuts) - 1)
        case _:
            start = (both - left - right) / 2
    return start + float(request.row.right), between


def _nudged(nudges: Sequence[Nudge], letters: Sequence[int], at: Place, middle: Point) -> Place:
    """Where a cut set at `at` lies once it is moved by hand, and turned about the middle of its ink."""
    mine = [nudge for nudge in nudges if nudge.letter in letters]
    right, up = float(sum(nudge.right for nudge in mine)), float(sum(nudge.up for nudge in mine))
    turn_deg = math.remainder(math.fsum(nudge.turn for nudge in mine), 360)
    return turn_about(middle, turn_deg).within(replace(at, x=at.x + right, y=at.y + up))


def _ink(outline: Outline, box: Bounds, place: Place) -> Bounds:
    """The exact extent of `outline` laid down; `box` is its own."""
    return laid(box, place) if place.turn_deg % 90 == 0 else place.outline(outline).bounds()


_SIZED: Final[Remembered[tuple[float, tuple[GlyphSpot, ...]], tuple[Outline, Shape]]] = Remembered()


def _sized(typeface: Typeface, cut: Cut, scale: float) -> tuple[Outline, Shape]:
    in_units = typeface.shape(cut.glyphs, chord_error_fu=CHORD_ERROR / scale)
    shape = affinity.scale(in_units, scale, scale, origin=(0.0, 0.0))
    return outline_at(typeface, cut, scale), shape


class CutShapes:
    """The cuts at true size; those of one name and one outline share a key.

    A font may have one letter several times, under several names for several places in a word.
    """

    def __init__(self) -> None:
        self._keys: dict[tuple[str, Outline], str] = {}

    def sized(self, typeface: Typeface, cut: Cut, scale: float) -> tuple[str, Outline, Shape]:
        """The key, outline and polygon of `cut` in inches about its own origin."""
        outline, shape = _SIZED.of(typeface, (scale, cut.glyphs), lambda: _sized(typeface, cut, scale))
        key = self._keys.setdefault((cut.text, outline), f"shape-{len(self._keys) + 1}")
        return key, outline, shape
