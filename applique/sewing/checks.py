"""What will go wrong when the letters are cut, sewn and read: every finding with its place on the panel.

Lengths are inches; places are in the frame of the panel. Nothing here changes a design; see `cures`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import Final

import shapely
from shapely import affinity

from applique.colours import colour_difference, contrast_ratio
from applique.design import Design
from applique.errors import Notice
from applique.fabrics import Fabrics
from applique.outline_layer import PlacedOutline
from applique.panel import PanelPlan, PlacedCut, PlacedRow, on_panel, row_on_panel
from applique.sewing.features import Corner, Feature, Features, features_of
from applique.sewing.limits import Limit, Limits, limits_for, stitch_width_range
from applique.sewing.reading import COMFORTABLE, FARTHEST, Reading, comfortable_height, least_height
from applique.sewing.stitches import LOW_CONTRAST, RowStitch, has_outline, row_stitches
from applique.typeset.fonts import GlyphSpot, Typeface
from applique.typeset.outline import Point, Shape
from applique.typeset.shaping import shape_text
from applique.units import Units, format_length

__all__ = [
    "Checks",
    "Finding",
    "FindingKind",
    "Spot",
    "can_be_cut",
    "check_panel",
    "forget_features",
    "letter_features",
    "word_features",
]

_SLACK: Final = 1e-3
_FINE: Final = 4000
"""A letter of a font sample is flattened to within this part of its cap height."""
_AT_MOST_NAMED: Final = 8


class FindingKind(StrEnum):
    """What a finding is about."""

    STROKE = "thin stroke"
    COUNTER = "small counter"
    SLOT = "narrow slot"
    POINT = "sharp point"
    CLEAR = "letters close together"
    OUTLINES = "outlines that meet"
    ROWS = "rows close together"
    SEAM = "close to the seam"
    STITCH = "stitch width"
    READING = "hard to read"
    CONTRAST = "low contrast"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One letter of a finding: its text, what it measures, and where on the panel."""

    text: str
    measure: float
    at: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that will go wrong in one row, at its worst place first.

    `measure` and `limit` are inches, degrees for a sharp point, and a ratio for contrast. `spots` are all the
    letters it is true of.
    """

    kind: FindingKind
    line: int
    measure: float
    limit: float
    spots: tuple[Spot, ...]
    what: str

    @property
    def where(self) -> str:
        """The row, as the design file counts it."""
        return f"row {self.line}"

    @property
    def at(self) -> Point | None:
        """The worst place on the panel; None where the whole row is meant."""
        return self.spots[0].at if self.spots else None

    def notice(self) -> Notice:
        """The finding as a notice of the pattern."""
        return Notice(what=self.what, where=self.where)


@dataclass(frozen=True, slots=True, kw_only=True)
class Checks:
    """The findings, and what they were judged by: one stitch, one set of limits and one reading for each row."""

    findings: tuple[Finding, ...]
    stitches: tuple[RowStitch, ...]
    limits: tuple[Limits, ...]
    readings: tuple[Reading, ...]


def check_panel(
    design: Design, panel: PanelPlan, fabrics: Fabrics, outlines: Sequence[PlacedOutline]
) -> Checks:
    """Everything that is too small, too close, too far or too pale on the panel."""
    stitches = row_stitches(design, panel.rows, fabrics)
    limits = tuple(limits_for(design.sewing, stitch) for stitch in stitches)
    findings: list[Finding] = []
    for row, stitch, limit in zip(panel.rows, stitches, limits, strict=True):
        findings += _small_features(design, row, limit)
        findings += _close_letters(design, row, limit.clear)
        findings += _near_seam(design, panel, row, limit.seam)
        findings += _stitch_width(design, row, stitch)
        findings += _contrast(design, panel, fabrics, row, stitch)
        findings += _too_far(design, row)
    findings += _close_rows(design, panel, limits)
    findings += _meeting_outlines(design, outlines)
    return Checks(
        findings=tuple(sorted(findings, key=lambda finding: finding.line)),
        stitches=stitches,
        limits=limits,
        readings=tuple(_reading(row) for row in panel.rows),
    )


# What is small


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """A letter as its font draws it: equal for equal letters, whatever their size."""

    drawn: tuple[str, tuple[GlyphSpot, ...]]
    shape: Shape = field(compare=False)
    cap_height: float = field(compare=False)


@lru_cache(maxsize=8192)
def _at_unit_height(letter: _Drawn) -> Features:
    """The features of a letter at a cap height of 1."""
    scale = 1 / letter.cap_height
    return features_of(affinity.scale(letter.shape, scale, scale, origin=(0.0, 0.0)), cap_height=1.0)


def forget_features() -> None:
    """Measure every letter anew from now on, as a fresh process does; for timing."""
    _at_unit_height.cache_clear()


def letter_features(cut: PlacedCut, cap_height: Fraction) -> Features:
    """The smallest features of `cut` about its own origin, measured once for each letter of a font and then scaled."""
    height = float(cap_height)
    unit = _at_unit_height(_Drawn(drawn=cut.drawn, shape=cut.shape, cap_height=height))

    def feature(one: Feature) -> Feature:
        return Feature(width=one.width * height, at=_times(one.at, height))

    def corner(one: Corner | None) -> Corner | None:
        return Corner(degrees=one.degrees, at=_times(one.at, height)) if one else None

    return Features(
        stroke=feature(unit.stroke),
        counter=feature(unit.counter) if unit.counter else None,
        slot=feature(unit.slot) if unit.slot else None,
        tip=corner(unit.tip),
        notch=corner(unit.notch),
    )


def word_features(text: str, typeface: Typeface) -> tuple[Features, ...]:
    """The smallest features of each distinct letter of `text`, which the typeface can spell, at a cap height of 1."""
    glyphs = dict.fromkeys(letter.glyphs for letter in shape_text(text, typeface) if letter.numbers)
    cap = typeface.cap_height_fu
    return tuple(
        _at_unit_height(
            _Drawn(
                drawn=(typeface.key, one),
                shape=typeface.shape(one, chord_error_fu=cap / _FINE),
                cap_height=cap,
            )
        )
        for one in glyphs
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


def _times(point: Point, factor: float) -> Point:
    return (point[0] * factor, point[1] * factor)


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
                spot = Spot(text=cut.text, measure=measure, at=(cut.x + at[0], cut.y + at[1]))
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


_NAMES: Final = {
    FindingKind.STROKE: "the thinnest stroke",
    FindingKind.COUNTER: "the smallest counter",
    FindingKind.SLOT: "the narrowest slot",
    FindingKind.POINT: "the sharpest point",
}


def _feature_finding(
    design: Design, row: PlacedRow, kind: FindingKind, limit: Limit, spots: Sequence[Spot]
) -> Finding:
    ordered = sorted(spots, key=lambda spot: spot.measure)
    worst = ordered[0]

    def said(value: float) -> str:
        return f"{value:.0f}°" if kind is FindingKind.POINT else _fine(design, value)

    return Finding(
        kind=kind,
        line=row.number,
        measure=worst.measure,
        limit=float(limit.least),
        spots=tuple(ordered),
        what=f"{_NAMES[kind]} of “{worst.text}” is {said(worst.measure)}, less than the {said(float(limit.least))} "
        f"it needs {limit.why}" + _also(ordered),
    )


def _also(ordered: Sequence[Spot]) -> str:
    others = [text for text in dict.fromkeys(spot.text for spot in ordered) if text != ordered[0].text]
    if not others:
        return ""
    named = ", ".join(others[:_AT_MOST_NAMED]) + (" and others" if len(others) > _AT_MOST_NAMED else "")
    return f"; too small also in {named}"


# What is close


def _close_letters(design: Design, row: PlacedRow, limit: Limit) -> Iterator[Finding]:
    spots: list[Spot] = []
    for left, right in pairwise(row.cuts):
        if right.ink[0] - left.ink[2] >= float(limit.least):
            continue
        line = shapely.shortest_line(on_panel(left), on_panel(right))
        if line.length < float(limit.least) - _SLACK:
            spots.append(Spot(text=left.text + right.text, measure=float(line.length), at=_middle(line)))
    if spots:
        ordered = sorted(spots, key=lambda spot: spot.measure)
        worst = ordered[0]
        yield Finding(
            kind=FindingKind.CLEAR,
            line=row.number,
            measure=worst.measure,
            limit=float(limit.least),
            spots=tuple(ordered),
            what=f"“{worst.text}” are {_fine(design, worst.measure)} apart, less than the "
            f"{_fine(design, limit.least)} they need {limit.why}" + _also(ordered),
        )


def _meeting_outlines(design: Design, outlines: Sequence[PlacedOutline]) -> Iterator[Finding]:
    """Neighbours of the outline layer that lie over each other."""
    spots: dict[int, list[Spot]] = {}
    for left, right in pairwise(outlines):
        if left.row != right.row:
            continue
        shapes = [affinity.translate(piece.shape, piece.x, piece.y) for piece in (left, right)]
        if shapes[0].intersection(shapes[1]).area > _SLACK:
            x, y = shapes[0].intersection(shapes[1]).representative_point().coords[0]
            spots.setdefault(left.row, []).append(
                Spot(text=left.text + right.text, measure=0.0, at=(float(x), float(y)))
            )
    for row, found in spots.items():
        reach = next(piece.reach for piece in outlines if piece.row == row)
        yield Finding(
            kind=FindingKind.OUTLINES,
            line=row,
            measure=0.0,
            limit=2 * reach,
            spots=tuple(found),
            what=f"the outlines behind “{found[0].text}” lie over each other; letters are nearer than twice "
            f"the outline of {_fine(design, reach)}" + _also(found),
        )


def _close_rows(design: Design, panel: PanelPlan, limits: Sequence[Limits]) -> Iterator[Finding]:
    for above, below in pairwise(panel.rows):
        limit = max(
            (limits[above.number - 1].clear, limits[below.number - 1].clear), key=lambda one: one.least
        )
        if above.ink[1] - below.ink[3] >= float(limit.least):
            continue
        line = shapely.shortest_line(row_on_panel(above), row_on_panel(below))
        if line.length < float(limit.least) - _SLACK:
            spot = Spot(text=f"{above.text} / {below.text}", measure=float(line.length), at=_middle(line))
            yield Finding(
                kind=FindingKind.ROWS,
                line=below.number,
                measure=spot.measure,
                limit=float(limit.least),
                spots=(spot,),
                what=f"rows {above.number} and {below.number} are {_fine(design, spot.measure)} apart, less than the "
                f"{_fine(design, limit.least)} they need {limit.why}",
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
        yield Finding(
            kind=FindingKind.SEAM,
            line=row.number,
            measure=ordered[0].measure,
            limit=float(limit.least),
            spots=tuple(ordered),
            what=f"“{ordered[0].text}” is {_fine(design, ordered[0].measure)} from the panel's seam, less than the "
            f"{_fine(design, limit.least)} it needs {limit.why}" + _also(ordered),
        )


# Stitch, contrast, reading


def _stitch_width(design: Design, row: PlacedRow, stitch: RowStitch) -> Iterator[Finding]:
    allowed = stitch_width_range(stitch.stitch)
    if allowed is None or allowed[0] <= stitch.width <= allowed[1]:
        return
    limit = allowed[0] if stitch.width < allowed[0] else allowed[1]
    why = "to hold the edge" if stitch.width < allowed[0] else "or it snags"
    yield Finding(
        kind=FindingKind.STITCH,
        line=row.number,
        measure=float(stitch.width),
        limit=float(limit),
        spots=(),
        what=f"a {stitch.stitch} stitch {_mm(stitch.width)} wide; it wants "
        f"{'at least' if limit == allowed[0] else 'at most'} {_mm(limit)} {why}",
    )


def _contrast(
    design: Design, panel: PanelPlan, fabrics: Fabrics, row: PlacedRow, stitch: RowStitch
) -> Iterator[Finding]:
    line = design.line[row.number - 1]
    best = stitch.contrast
    if has_outline(design, line):
        best = max(best, contrast_ratio(fabrics.outline.colour, panel.fabric.colour))
    if best >= LOW_CONTRAST:
        return
    difference = colour_difference(row.fabric.colour, panel.fabric.colour)
    yield Finding(
        kind=FindingKind.CONTRAST,
        line=row.number,
        measure=best,
        limit=LOW_CONTRAST,
        spots=(),
        what=f"{row.fabric.name} on {panel.fabric.name} has a contrast of {best:.1f} to 1, less than "
        f"{LOW_CONTRAST:g} (colour difference {difference:.0f}); from across a room the words will fade",
    )


def _too_far(design: Design, row: PlacedRow) -> Iterator[Finding]:
    distance = design.sewing.viewing_distance
    if distance is None or row.cap_height >= least_height(distance):
        return
    yield Finding(
        kind=FindingKind.READING,
        line=row.number,
        measure=float(row.cap_height),
        limit=float(least_height(distance)),
        spots=(),
        what=f"letters {_fine(design, row.cap_height)} high can be read from {_feet(design, row.cap_height * FARTHEST)}"
        f" at most, not from {_feet(design, distance)}; that takes {_fine(design, least_height(distance))}, and "
        f"{_fine(design, comfortable_height(distance))} to read with ease",
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


def _fine(design: Design, length: Fraction | float) -> str:
    if design.units is Units.CENTIMETRES:
        return f"{float(length) * 25.4:.1f} mm" if length < 2 else format_length(length, design.units)
    return format_length(length, design.units, denominator=32 if length < 1 else 16)


def _mm(length: Fraction) -> str:
    return f"{float(length * 254 / 10):.2g} mm"


def _feet(design: Design, distance: Fraction) -> str:
    if design.units is Units.CENTIMETRES:
        return f"{float(distance) * 0.0254:.1f} m"
    return f"{float(distance) / 12:.0f} ft"
