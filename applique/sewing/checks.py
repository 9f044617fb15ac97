"""What will go wrong when the letters are cut, sewn and read: every finding with its place on the panel.

Lengths are inches; places are in the frame of the panel. Nothing here changes a design; see `cures`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

import shapely

from applique.colors import color_difference, contrast_ratio
from applique.design import Around, Design
from applique.fabrics import Fabrics, has_outline
from applique.geometry.points import Point
from applique.language import Measure
from applique.outline_layer import PlacedOutline
from applique.panel import PanelPlan, PlacedRow, near_cuts, near_rows, on_panel
from applique.sewing.features import Features, narrowest_neck
from applique.sewing.findings import Checks, Finding, FindingKind, Spot
from applique.sewing.letters import letter_features, word_features
from applique.sewing.limits import Limit, Limits, stitch_width_range
from applique.sewing.placed import Placed
from applique.sewing.reading import COMFORTABLE, FARTHEST, Reading, comfortable_height, least_height
from applique.sewing.stitches import LOW_CONTRAST, RowStitch
from applique.typeset.typeface import Typeface
from applique.units import MM_PER_INCH, Units, as_length, numbers_apart, telling_apart

__all__ = ["can_be_cut", "check_panel"]

_SLACK: Final = 1e-3
_AT_MOST_NAMED: Final = 8
_NAMES: Final = {
    FindingKind.STROKE: "the thinnest stroke",
    FindingKind.COUNTER: "the smallest counter",
    FindingKind.SLOT: "the narrowest slot",
    FindingKind.POINT: "the sharpest point",
    FindingKind.HOLE: "the smallest hole in the outline",
    FindingKind.NECK: "the narrowest neck of a hole in the outline",
}


def check_panel(placed: Placed) -> Checks:
    """Everything that is too small, too close, too far or too pale on the panel."""
    design, panel = placed.design, placed.panel
    findings: list[Finding] = []
    for row, stitch, limit in zip(panel.rows, placed.stitches, placed.limits, strict=True):
        findings += _small_features(design, row, limit)
        findings += _close_letters(design, row, limit.clear)
        findings += _near_seam(design, panel, row, limit.seam)
        findings += _stitch_width(design, row, stitch)
        findings += _contrast(design, panel, placed.fabrics, row, stitch)
        findings += _too_far(design, row)
    findings += _close_rows(design, panel, placed.limits)
    findings += _holes_of_outlines(design, placed.outlines, placed.limits)
    findings += _meeting_outlines(design, placed.outlines)
    return Checks(
        placed=placed,
        findings=tuple(sorted(findings, key=lambda finding: finding.row)),
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


def _small_features(design: Design, row: PlacedRow, limits: Limits) -> Iterator[Finding]:
    found: dict[FindingKind, list[Spot]] = {}
    by_kind: dict[FindingKind, Limit] = {
        FindingKind.STROKE: limits.stroke,
        FindingKind.COUNTER: limits.counter,
        FindingKind.SLOT: limits.slot,
        FindingKind.POINT: limits.point,
    }
    for cut in row.cuts:
        features = letter_features(cut, row.cap_height)
        for kind, measure, at in _measures(features):
            if measure < float(by_kind[kind].least) - _SLACK:
                spot = Spot(text=cut.text, measure=measure, at=cut.place.point(at))
                found.setdefault(kind, []).append(spot)
    for kind, spots in found.items():
        yield _feature_finding(design, row, kind, by_kind[kind], spots)


def _measures(features: Features) -> Iterator[tuple[FindingKind, float, Point]]:
    yield FindingKind.STROKE, features.stroke.width, features.stroke.at
    if features.counter:
        yield FindingKind.COUNTER, features.counter.width, features.counter.at
    if features.slot:
        yield FindingKind.SLOT, features.slot.width, features.slot.at
    if features.tip:
        yield FindingKind.POINT, features.tip.degrees, features.tip.at


def _feature_finding(
    design: Design, row: PlacedRow, kind: FindingKind, limit: Limit, spots: Sequence[Spot]
) -> Finding:
    ordered = sorted(spots, key=lambda spot: spot.measure)
    worst = ordered[0]

    if kind is FindingKind.POINT:
        is_now, needs = (f"{said}°" for said in numbers_apart(worst.measure, float(limit.least), places=0))
    else:
        is_now, needs = (str(said) for said in _apart(design, worst.measure, limit.least))
    return Finding(
        kind=kind,
        row=row.number,
        measure=worst.measure,
        limit=float(limit.least),
        spots=tuple(ordered),
        what=f"{_NAMES[kind]} of “{worst.text}” is {is_now}, less than the {needs} it needs {limit.why}"
        + _also(ordered),
    )


def _holes_of_outlines(
    design: Design, outlines: Sequence[PlacedOutline], limits: Sequence[Limits]
) -> Iterator[Finding]:
    """Holes of the outline layer that are open and yet smaller than the row asks of a counter or a slot."""
    found: dict[tuple[int, FindingKind], list[Spot]] = {}
    for piece in outlines:
        counter, slot = limits[piece.row - 1].counter, limits[piece.row - 1].slot
        for hole in piece.holes:
            narrow = hole.width < float(counter.least) - _SLACK
            neck = narrowest_neck(hole.shape, under=float(slot.least) - _SLACK)
            places = [(FindingKind.HOLE, hole.width, hole.at)] if narrow else []
            places += [(FindingKind.NECK, neck.width, neck.at)] if neck else []
            for kind, measure, at in places:
                spot = Spot(text=piece.text, measure=measure, at=piece.place.point(at))
                found.setdefault((piece.row, kind), []).append(spot)
    for (row, kind), spots in found.items():
        ordered = sorted(spots, key=lambda spot: spot.measure)
        limit = limits[row - 1].counter if kind is FindingKind.HOLE else limits[row - 1].slot
        is_now, needs = _apart(design, ordered[0].measure, limit.least)
        yield Finding(
            kind=kind,
            row=row,
            measure=ordered[0].measure,
            limit=float(limit.least),
            spots=tuple(ordered),
            what=f"{_NAMES[kind]} behind “{ordered[0].text}” is {is_now}, less than the {needs} it needs {limit.why}"
            + _also(ordered),
        )


def _also(ordered: Sequence[Spot], *, said: str = "too small also in") -> str:
    others = [text for text in dict.fromkeys(spot.text for spot in ordered) if text != ordered[0].text]
    if not others:
        return ""
    named = ", ".join(others[:_AT_MOST_NAMED]) + (" and others" if len(others) > _AT_MOST_NAMED else "")
    return f"; {said} {named}"


# What is close


def _close_letters(design: Design, row: PlacedRow, limit: Limit) -> Iterator[Finding]:
    spots: list[Spot] = []
    for left, right in near_cuts(row, float(limit.least)):
        line = shapely.shortest_line(on_panel(left), on_panel(right))
        if line.length < float(limit.least) - _SLACK:
            spots.append(Spot(text=left.text + right.text, measure=float(line.length), at=_middle(line)))
    if spots:
        ordered = sorted(spots, key=lambda spot: spot.measure)
        worst = ordered[0]
        is_now, needs = _apart(design, worst.measure, limit.least)
        yield Finding(
            kind=FindingKind.CLEAR,
            row=row.number,
            measure=worst.measure,
            limit=float(limit.least),
            spots=tuple(ordered),
            what=f"“{worst.text}” are {is_now} apart, less than the {needs} they need {limit.why}"
            + _also(ordered),
        )


def _meeting_outlines(design: Design, outlines: Sequence[PlacedOutline]) -> Iterator[Finding]:
    """Neighbors of the outline layer that lie over each other."""
    between, pieces = (" ", "words") if design.outline.around is Around.WORDS else ("", "letters")
    spots: dict[int, list[Spot]] = {}
    for left, right in pairwise(outlines):
        if left.row != right.row:
            continue
        shapes = [piece.place.shape(piece.shape) for piece in (left, right)]
        if shapes[0].intersection(shapes[1]).area > _SLACK:
            x, y = shapes[0].intersection(shapes[1]).representative_point().coords[0]
            spots.setdefault(left.row, []).append(
                Spot(text=between.join((left.text, right.text)), measure=0.0, at=(float(x), float(y)))
            )
    for row, found in spots.items():
        reach = next(piece.reach for piece in outlines if piece.row == row)
        yield Finding(
            kind=FindingKind.OUTLINES,
            row=row,
            measure=0.0,
            limit=2 * reach,
            spots=tuple(found),
            what=f"the outlines behind “{found[0].text}” lie over each other; {pieces} are nearer than twice "
            f"the outline of {as_length(reach, design.units, denominator=32)}" + _also(found, said="so do"),
        )


def _close_rows(design: Design, panel: PanelPlan, limits: Sequence[Limits]) -> Iterator[Finding]:
    for above, below, line in near_rows(
        panel.rows, max((float(one.clear.least) for one in limits), default=0.0)
    ):
        limit = max(
            (limits[above.number - 1].clear, limits[below.number - 1].clear), key=lambda one: one.least
        )
        if line.length < float(limit.least) - _SLACK:
            spot = Spot(text=f"{above.text} / {below.text}", measure=float(line.length), at=_middle(line))
            is_now, needs = _apart(design, spot.measure, limit.least)
            yield Finding(
                kind=FindingKind.ROWS,
                row=below.number,
                measure=spot.measure,
                limit=float(limit.least),
                spots=(spot,),
                what=f"rows {above.number} and {below.number} are {is_now} apart, less than the {needs} "
                f"they need {limit.why}",
            )


def _near_seam(design: Design, panel: PanelPlan, row: PlacedRow, limit: Limit) -> Iterator[Finding]:
    width, height = float(panel.width), float(panel.height)
    spots: list[Spot] = []
    for cut in row.cuts:
        x0, y0, x1, y1 = cut.ink
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        sides = [(x0, (x0, middle[1])), (y0, (middle[0], y0)),
                 (width - x1, (x1, middle[1])), (height - y1, (middle[0], y1))]  # fmt: skip
        away, at = min(sides)
        if away < float(limit.least) - _SLACK:
            spots.append(Spot(text=cut.text, measure=away, at=at))
    if spots:
        ordered = sorted(spots, key=lambda spot: spot.measure)
        is_now, needs = _apart(design, ordered[0].measure, limit.least)
        yield Finding(
            kind=FindingKind.SEAM,
            row=row.number,
            measure=ordered[0].measure,
            limit=float(limit.least),
            spots=tuple(ordered),
            what=f"“{ordered[0].text}” is {is_now} from the panel's seam, less than the {needs} it needs {limit.why}"
            + _also(ordered),
        )


# Stitch, contrast, reading


def _stitch_width(design: Design, row: PlacedRow, stitch: RowStitch) -> Iterator[Finding]:
    allowed = stitch_width_range(stitch.stitch)
    if allowed is None or allowed[0] <= stitch.width <= allowed[1]:
        return
    limit = allowed[0] if stitch.width < allowed[0] else allowed[1]
    why = "to hold the edge" if stitch.width < allowed[0] else "or it snags"
    is_now, needs = numbers_apart(float(stitch.width * MM_PER_INCH), float(limit * MM_PER_INCH), places=1)
    yield Finding(
        kind=FindingKind.STITCH,
        row=row.number,
        measure=float(stitch.width),
        limit=float(limit),
        spots=(),
        what=f"a {stitch.stitch} stitch {is_now} mm wide; it wants "
        f"{'at least' if limit == allowed[0] else 'at most'} {needs} mm {why}",
    )


def _contrast(
    design: Design, panel: PanelPlan, fabrics: Fabrics, row: PlacedRow, stitch: RowStitch
) -> Iterator[Finding]:
    line = design.row[row.number - 1]
    best = stitch.contrast
    if has_outline(design, line):
        best = max(best, contrast_ratio(fabrics.outline.color, panel.fabric.color))
    if best >= LOW_CONTRAST:
        return
    is_now, needs = numbers_apart(best, LOW_CONTRAST, places=1)
    difference = color_difference(row.fabric.color, panel.fabric.color)
    yield Finding(
        kind=FindingKind.CONTRAST,
        row=row.number,
        measure=best,
        limit=LOW_CONTRAST,
        spots=(),
        what=f"{row.fabric.name} on {panel.fabric.name} has a contrast of {is_now} to 1, less than "
        f"{needs} (color difference {difference:.0f}); from across a room the words will fade",
    )


def _too_far(design: Design, row: PlacedRow) -> Iterator[Finding]:
    distance = design.sewing.viewing_distance
    if distance is None or row.cap_height >= least_height(distance):
        return
    least = least_height(distance)
    say = telling_apart([(row.cap_height, least)], design.units, denominator=16)
    far, wanted = _far(design, row.cap_height * FARTHEST, distance)
    yield Finding(
        kind=FindingKind.READING,
        row=row.number,
        measure=float(row.cap_height),
        limit=float(least),
        spots=(),
        what=f"letters {say(row.cap_height)} high can be read from {far} at most, not from {wanted}; "
        f"that takes {say(least)}, and {say(comfortable_height(distance))} to read with ease",
    )


def _reading(row: PlacedRow) -> Reading:
    """How a row reads; the stroke is that of an I if there is one."""
    upright = next((cut for cut in row.cuts if cut.text == "I"), None)
    height = float(row.cap_height)
    strokes = [letter_features(cut, row.cap_height).stroke.width for cut in row.cuts]
    stroke = letter_features(upright, row.cap_height).stroke.width if upright else min(strokes)
    gaps = sorted(
        float(on_panel(left).distance(on_panel(right)))
        for left, right in pairwise(row.cuts)
        if left.word == right.word
    )
    return Reading(
        row=row.number,
        comfortable=row.cap_height * COMFORTABLE,
        farthest=row.cap_height * FARTHEST,
        stroke=stroke / height,
        gap=gaps[len(gaps) // 2] / height if gaps else None,
    )


def _middle(line: shapely.LineString) -> Point:
    x, y = line.interpolate(0.5, normalized=True).coords[0]
    return (float(x), float(y))


def _apart(design: Design, measure: Fraction | float, limit: Fraction | float) -> tuple[Measure, Measure]:
    """What was measured and what it needs, as they differ."""
    say = telling_apart([(measure, limit)], design.units, denominator=32 if min(measure, limit) < 1 else 16)
    return say(measure), say(limit)


def _far(design: Design, first: Fraction, second: Fraction) -> tuple[str, str]:
    """Two distances across a room, as they differ."""
    metric = design.units is Units.CENTIMETERS
    size, unit, places = (1000 / MM_PER_INCH, "m", 1) if metric else (Fraction(12), "ft", 0)
    said = numbers_apart(float(first / size), float(second / size), places=places)
    return f"{said[0]} {unit}", f"{said[1]} {unit}"
