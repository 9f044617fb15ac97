"""What will go wrong when the letters are cut, sewn and read: every finding with its place on the panel.

Lengths are inches; places are in the frame of the panel. Nothing here changes a design; see `cures`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from statistics import median
from typing import Final

import shapely

from applique.colors import color_difference, contrast_ratio
from applique.design import Around, Design
from applique.errors import Where
from applique.fabrics import Fabrics, has_outline
from applique.geometry.points import Point
from applique.geometry.polygons import parts_of
from applique.outline_layer import PlacedOutline
from applique.panel import Laid, PanelPlan, PlacedRow, Side, near_cuts, near_laid, on_panel
from applique.sewing.features import Features, narrowest_neck
from applique.sewing.findings import (
    Checks,
    Faded,
    Finding,
    FindingKind,
    Meeting,
    Nearness,
    OutOfRange,
    Shortfall,
    Spot,
    TooFar,
)
from applique.sewing.letters import letter_features, seen_of, word_features
from applique.sewing.limits import Limit, Limits, stitch_width_range
from applique.sewing.placed import Placed
from applique.sewing.reading import COMFORTABLE, FARTHEST, Reading, comfortable_height, least_height
from applique.sewing.stitches import LOW_CONTRAST, EdgeStitch
from applique.typeset.typeface import Typeface

__all__ = ["can_be_cut", "check_panel"]

_SLACK: Final = 1e-3


def check_panel(placed: Placed) -> Checks:
    """Everything that is too small, too close, too far or too pale on the panel, or on any of several."""
    if not placed.several:
        return _check_one(placed)
    checks = [(block, _check_one(block.placed)) for block in placed.several]
    return Checks(
        placed=placed,
        findings=tuple(
            replace(
                finding,
                spots=tuple(replace(spot, at=block.at.point(spot.at)) for spot in finding.spots),
            )
            for block, one in checks
            for finding in one.findings
        ),
        readings=tuple(reading for _, one in checks for reading in one.readings),
    )


def _check_one(placed: Placed) -> Checks:
    """The findings of one panel, in its frame."""
    design, panel = placed.design, placed.panel
    findings: list[Finding] = []
    by_where = {one.where: limit for one, limit in zip(panel.laid, placed.limits, strict=True)}
    for row, stitch, limit in zip(panel.laid, placed.stitches, placed.limits, strict=True):
        findings += _small_features(row, limit)
        findings += _close_letters(row, limit.clear)
        findings += _near_seam(panel, row, limit.seam)
        findings += _slivers(row, limit.stroke)
        findings += _stitch_width(row, stitch)
        findings += _contrast(design, panel, placed.fabrics, row, stitch)
        findings += _too_far(design.sewing.viewing_distance, row)
    findings += _close_laid(panel, by_where)
    findings += _holes_of_outlines(placed.outlines, by_where)
    findings += _meeting_outlines(design.outline.around, placed.outlines)
    order = [*by_where]
    return Checks(
        placed=placed,
        findings=tuple(sorted(findings, key=lambda finding: order.index(finding.where))),
        readings=tuple(_reading(row) for row in panel.rows),
    )


def can_be_cut(text: str, typeface: Typeface, cap_height: Fraction, limits: Limits) -> bool:
    """Whether every stroke, counter and slot of `text` passes at that height; to choose a font by."""
    height = float(cap_height)
    least = {
        FindingKind.STROKE: limits.stroke,
        FindingKind.COUNTER: limits.counter,
        FindingKind.SLOT: limits.slot,
    }
    return all(
        width * height >= float(least[kind].least) - _SLACK
        for features in word_features(text, typeface)
        for kind, width, _ in _measures(features)
        if kind in least
    )


# What is small


def _small_features(row: Laid, limits: Limits) -> Iterator[Finding]:
    found: dict[FindingKind, list[Spot]] = {}
    by_kind: dict[FindingKind, Limit] = {
        FindingKind.STROKE: limits.stroke,
        FindingKind.COUNTER: limits.counter,
        FindingKind.SLOT: limits.slot,
        FindingKind.POINT: limits.point,
    }
    for cut in row.cuts:
        features = letter_features(cut, row.size)
        for kind, measure, at in _measures(features):
            if measure < float(by_kind[kind].least) - _SLACK:
                spot = Spot(text=cut.text, measure=measure, at=cut.place.point(at))
                found.setdefault(kind, []).append(spot)
    for kind, spots in found.items():
        yield _shortfall(kind, row.where, by_kind[kind], spots)


def _measures(features: Features) -> Iterator[tuple[FindingKind, float, Point]]:
    yield FindingKind.STROKE, features.stroke.width, features.stroke.at
    if features.counter:
        yield FindingKind.COUNTER, features.counter.width, features.counter.at
    if features.slot:
        yield FindingKind.SLOT, features.slot.width, features.slot.at
    if features.tip:
        yield FindingKind.POINT, features.tip.degrees, features.tip.at


def _shortfall(kind: FindingKind, where: Where, limit: Limit, spots: Sequence[Spot]) -> Finding:
    ordered = sorted(spots, key=lambda spot: spot.measure)
    return Finding(
        kind=kind,
        where=where,
        measure=ordered[0].measure,
        limit=float(limit.least),
        spots=tuple(ordered),
        detail=Shortfall(limit=limit),
    )


def _holes_of_outlines(
    outlines: Sequence[PlacedOutline], limits: Mapping[Where, Limits]
) -> Iterator[Finding]:
    """Holes of the outline layer that are open and yet smaller than the row asks of a counter or a slot."""
    found: dict[tuple[Where, FindingKind], list[Spot]] = {}
    for piece in outlines:
        counter, slot = limits[piece.where].counter, limits[piece.where].slot
        for hole in piece.holes:
            narrow = hole.width < float(counter.least) - _SLACK
            neck = narrowest_neck(hole.shape, under=float(slot.least) - _SLACK)
            places = [(FindingKind.HOLE, hole.width, hole.at)] if narrow else []
            places += [(FindingKind.NECK, neck.width, neck.at)] if neck else []
            for kind, measure, at in places:
                spot = Spot(text=piece.text, measure=measure, at=piece.place.point(at))
                found.setdefault((piece.where, kind), []).append(spot)
    for (where, kind), spots in found.items():
        limit = limits[where].counter if kind is FindingKind.HOLE else limits[where].slot
        yield _shortfall(kind, where, limit, spots)


# What is close


def _close_letters(row: Laid, limit: Limit) -> Iterator[Finding]:
    spots: list[Spot] = []
    for left, right in near_cuts(row, float(limit.least)):
        line = shapely.shortest_line(on_panel(left), on_panel(right))
        if line.length < float(limit.least) - _SLACK:
            spots.append(Spot(text=left.text + right.text, measure=float(line.length), at=_middle(line)))
    if spots:
        yield _shortfall(FindingKind.CLEAR, row.where, limit, spots)


def _meeting_outlines(around: Around, outlines: Sequence[PlacedOutline]) -> Iterator[Finding]:
    """Neighbors of the outline layer that lie over each other."""
    between = " " if around is Around.WORDS else ""
    spots: dict[Where, list[Spot]] = {}
    for left, right in pairwise(outlines):
        if left.where != right.where:
            continue
        shapes = [piece.place.shape(piece.shape) for piece in (left, right)]
        if shapes[0].intersection(shapes[1]).area > _SLACK:
            x, y = shapes[0].intersection(shapes[1]).representative_point().coords[0]
            spots.setdefault(left.where, []).append(
                Spot(text=between.join((left.text, right.text)), measure=0.0, at=(float(x), float(y)))
            )
    for where, found in spots.items():
        reach = next(piece.reach for piece in outlines if piece.where == where)
        yield Finding(
            kind=FindingKind.OUTLINES,
            where=where,
            measure=0.0,
            limit=2 * reach,
            spots=tuple(found),
            detail=Meeting(around=around, reach=reach),
        )


def _close_laid(panel: PanelPlan, limits: Mapping[Where, Limits]) -> Iterator[Finding]:
    for above, below, line in near_laid(
        panel.laid, max((float(one.clear.least) for one in limits.values()), default=0.0)
    ):
        limit = max((limits[above.where].clear, limits[below.where].clear), key=lambda one: one.least)
        if line.length < float(limit.least) - _SLACK:
            spot = Spot(text=f"{above.text} / {below.text}", measure=float(line.length), at=_middle(line))
            yield Finding(
                kind=FindingKind.ROWS,
                where=below.where,
                measure=spot.measure,
                limit=float(limit.least),
                spots=(spot,),
                detail=Nearness(limit=limit, above=above.where, names=(above.text, below.text)),
            )


def _near_seam(panel: PanelPlan, row: Laid, limit: Limit) -> Iterator[Finding]:
    if not panel.is_cut:
        return
    width, height, outline = float(panel.width), float(panel.height), panel.outline
    spots: list[Spot] = []
    for cut in row.cuts:
        x0, y0, x1, y1 = cut.ink
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        sides = {
            Side.LEFT: (x0, (x0, middle[1])),
            Side.BOTTOM: (y0, (middle[0], y0)),
            Side.RIGHT: (width - x1, (x1, middle[1])),
            Side.TOP: (height - y1, (middle[0], y1)),
        }
        cut_off = cut.off.sides if cut.off else ()
        away, at = min(
            (near for side, near in sides.items() if side not in cut_off), default=(math.inf, middle)
        )
        if outline is not None:
            away, at = outline.nearest(on_panel(cut))
        if away < float(limit.least) - _SLACK:
            spots.append(Spot(text=cut.text, measure=max(away, 0.0), at=at))
    if spots:
        yield _shortfall(FindingKind.SEAM, row.where, limit, spots)


def _slivers(row: Laid, limit: Limit) -> Iterator[Finding]:
    """Parts that the finished edge leaves of letters that run off, narrower than a stroke may be."""
    spots: list[Spot] = []
    for cut in row.cuts:
        off = cut.off
        if off is None:
            continue
        edge = off.inside.boundary.buffer(_SLACK)
        for part in parts_of(seen_of(off)):
            middle = shapely.maximum_inscribed_circle(part, tolerance=_SLACK / 2)
            across = 2 * float(middle.length)
            if part.intersects(edge) and across < float(limit.least) - _SLACK:
                x, y = middle.coords[0]
                spots.append(Spot(text=cut.text, measure=across, at=cut.place.point((float(x), float(y)))))
    if spots:
        yield _shortfall(FindingKind.SLIVER, row.where, limit, spots)


# Stitch, contrast, reading


def _stitch_width(row: Laid, stitch: EdgeStitch) -> Iterator[Finding]:
    allowed = stitch_width_range(stitch.stitch)
    if allowed is None or allowed[0] <= stitch.width <= allowed[1]:
        return
    bound = allowed[0] if stitch.width < allowed[0] else allowed[1]
    yield Finding(
        kind=FindingKind.STITCH,
        where=row.where,
        measure=float(stitch.width),
        limit=float(bound),
        spots=(),
        detail=OutOfRange(stitch=stitch.stitch, width=stitch.width, bound=bound),
    )


def _contrast(
    design: Design, panel: PanelPlan, fabrics: Fabrics, row: Laid, stitch: EdgeStitch
) -> Iterator[Finding]:
    if panel.loose and not design.panel.fabric:
        return
    best = stitch.contrast
    if has_outline(design, row.asked):
        best = max(best, contrast_ratio(fabrics.outline.color, panel.fabric.color))
    if best >= LOW_CONTRAST:
        return
    yield Finding(
        kind=FindingKind.CONTRAST,
        where=row.where,
        measure=best,
        limit=LOW_CONTRAST,
        spots=(),
        detail=Faded(
            fabric=row.fabric.name,
            background=panel.fabric.name,
            difference=color_difference(row.fabric.color, panel.fabric.color),
        ),
    )


def _too_far(distance: Fraction | None, row: Laid) -> Iterator[Finding]:
    if distance is None or row.letter is None or row.letter.cap_height >= least_height(distance):
        return
    cap_height = row.letter.cap_height
    least = least_height(distance)
    yield Finding(
        kind=FindingKind.READING,
        where=row.where,
        measure=float(cap_height),
        limit=float(least),
        spots=(),
        detail=TooFar(
            cap_height=cap_height,
            distance=distance,
            farthest=cap_height * FARTHEST,
            least=least,
            comfortable=comfortable_height(distance),
        ),
    )


def _reading(row: PlacedRow) -> Reading:
    """How a row reads; the stroke is that of an I if there is one."""
    upright = next((cut for cut in row.cuts if cut.text == "I"), None)
    height = float(row.cap_height)
    strokes = [letter_features(cut, row.cap_height).stroke.width for cut in row.cuts]
    stroke = letter_features(upright, row.cap_height).stroke.width if upright else min(strokes)
    gaps = [
        float(on_panel(left).distance(on_panel(right)))
        for left, right in pairwise(row.cuts)
        if left.word == right.word
    ]
    return Reading(
        row=row.number,
        comfortable=row.cap_height * COMFORTABLE,
        farthest=row.cap_height * FARTHEST,
        stroke=stroke / height,
        gap=median(gaps) / height if gaps else None,
    )


def _middle(line: shapely.LineString) -> Point:
    x, y = line.interpolate(0.5, normalized=True).coords[0]
    return (float(x), float(y))
