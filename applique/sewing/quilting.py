"""Lines of quilting over the finished top: echo, straight, crossing, rows from edge to edge, in the ditch.

Frame of the quilt: inches from its middle, y up. A line is the points of an open or closed path, no further than
0.004 in from the true curve.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from applique.design import Design, OverLetters, Quilting, QuiltingKind, Stitch
from applique.errors import NOWHERE, Problem, Refusal, Where
from applique.geometry.points import Point
from applique.language import message, messages
from applique.outline_layer import PlacedOutline
from applique.panel import Laid, PanelPlan, on_panel
from applique.quilt.borders import BorderPlan, Side
from applique.quilt.setting import SetPlace, SettingPlan
from applique.quilt.strips import Extent
from applique.quilt.whole import QuiltPlan
from applique.sewing.stitches import thread_per_length
from applique.units import MM_PER_INCH, Units, thread_counted

__all__ = [
    "CLEAR",
    "CLOSEST",
    "LAYERS",
    "MEDIUM_SPACING",
    "SHORTEST",
    "Between",
    "Course",
    "Echoes",
    "EvenlySpread",
    "InTheDitch",
    "QuiltingPlan",
    "Repeats",
    "Ruled",
    "Waves",
    "closest_echoes",
    "echo_lines",
    "even_lines",
    "plan_quilting",
    "quilting_thread",
    "rows_needed",
    "sewn_quilting",
]

CLEAR: Final = Fraction(1, 8)
"""Inches that lines which miss the letters keep from them: common practice, no source."""
_MISSING: Final = frozenset({QuiltingKind.LINES, QuiltingKind.CROSSHATCH, QuiltingKind.EDGE_TO_EDGE})
"""Kinds whose lines can miss the letters."""
SHORTEST: Final = 1.0
"""Inches of the shortest piece of a line that is worth its start and its end: common practice, no source."""
MEDIUM_SPACING: Final = {Units.INCHES: Fraction(1), Units.CENTIMETERS: 25 / MM_PER_INCH}
"""Inches between lines of edge-to-edge quilting of medium density: 1 in, or 2.5 cm in a metric design; common practice,
no source."""
LAYERS: Final = 3 / 25.4
"""Inches of top, batting and back pressed under the foot: common practice, no source."""
_ARC_SEGMENTS: Final = 24
_MOST_LINES: Final = 2_000
"""Lines of quilting in a design; straight ones 1/4 in apart both ways over a queen-size quilt are some 1,200."""
_MOST_REPEATS: Final = 20_000
"""Repeats of an edge-to-edge design; repeats of 1 in in rows of 1 in on a queen-size quilt make some 9,000."""
_MOST_WAVES: Final = 20_000
"""Half waves of all rows of an edge-to-edge design; rows of 1 in on a queen-size quilt make some 9,000."""
_MOST_ECHOES: Final = 20_000
"""Echo lines around single letters, before those of neighbors run together."""
_MERGED: Final = Fraction(1)
"""Inches from the letters at which the echoes of neighbors have run together."""
_WAVE_STEPS: Final = 24
_DRIFT: Final = 0.00005
"""Inches that one echo may lose against the true curve before the next is drawn from it; 40 of them lose 0.002."""
CLOSEST: Final = Fraction(1, 4)
"""Inches between two echoes that face one another, half the spacing where that is less: nearer ones run together, for
nobody sews between two lines that a foot covers at once; common practice, no source."""
_SHOWN: Final = 0.002
"""Inches that an echo as it is drawn may lose once more, for the sake of few points."""


OPEN: Final = 6.0
"""Inches that echoes may leave unquilted before she is told to go on: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Echoes:
    """So many lines around the words, `spacing` apart."""

    count: int
    spacing: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruled:
    """Straight lines `spacing` apart, at one angle or two (degrees from level)."""

    spacing: Fraction
    angles_deg: tuple[float, ...]
    letters: OverLetters


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeats:
    """An edge-to-edge design of the maker's own: so many repeats in each row, each `width` wide and taking `thread` of
    the needle's."""

    across: int
    width: Fraction
    thread: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenlySpread:
    """Any edge-to-edge design, figured as lines `spacing` apart over all that is quilted."""

    spacing: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Waves:
    """Rows of an edge-to-edge design that overlap, drawn as plain waves; `basis` is what length and thread rest on."""

    rows: int
    row_height: Fraction
    overlap: Fraction
    basis: Repeats | EvenlySpread
    letters: OverLetters


class Between(StrEnum):
    """What lies between blocks that are set together, and so on which side of a seam its allowances lie."""

    CORNERSTONES = "sashing and cornerstones"
    STRIPS = "sashing with long strips between the rows"
    NOTHING = "nothing: blocks are sewn to one another"


@dataclass(frozen=True, slots=True, kw_only=True)
class InTheDitch:
    """Along the seams around the panel and between the borders, and where blocks are set together those between them;
    `seams` is how many lines that takes, and `widest` the finished size of the largest part that they leave free."""

    seams: int
    widest: Extent
    between: Between | None = None


Course: TypeAlias = Echoes | Ruled | Waves | InTheDitch
"""How the lines of one kind of quilting run."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuiltingPlan:
    """One kind of quilting: how its lines run, the lines as drawn, their length, stitches and thread (top and bobbin,
    with waste), and the spools that hold it. Of rows from edge to edge only the waves are drawn; length, stitches and
    thread are figured. Of the kinds that are `offered` only one is sewn. Echoes may be so few that a circle `OPEN` wide
    still fits outside them, clear of all that is sewn with them: where nothing else fills that, she goes on with
    `further` inches of them, counted in length, stitches and thread but not drawn. Lines that miss the letters stop at
    the outermost echo that is sewn with them, `outside_echoes`, unless that leaves nothing of them."""

    number: int
    kind: QuiltingKind
    lines: tuple[tuple[Point, ...], ...]
    length: float
    stitches: int
    stitch_length: Fraction
    thread: Fraction
    spools: int
    course: Course
    offered: bool = False
    outside_echoes: bool = False
    further: float = 0.0

    @property
    def runs_off(self) -> bool:
        """Whether echoes are cut off by the edge of the quilt rather than closed."""
        return isinstance(self.course, Echoes) and any(points[0] != points[-1] for points in self.lines)


def sewn_quilting(quilting: Sequence[QuiltingPlan]) -> tuple[QuiltingPlan, ...]:
    """What is sewn together on one quilt: all that is not offered, and the first of what is, in their order."""
    first = next((plan for plan in quilting if plan.offered), None)
    return tuple(plan for plan in quilting if not plan.offered or plan is first)


def plan_quilting(
    design: Design, panel: PanelPlan, outlines: Sequence[PlacedOutline], quilt: QuiltPlan
) -> tuple[QuiltingPlan, ...]:
    """Every kind of quilting that the design asks for, in its order, but none for a top alone.

    Lines shorter than `SHORTEST` are left out.

    Raises:
        Refusal: more lines than anybody would sew, rows that overlap by their whole height.
    """
    if not design.quilting or not quilt.layered:
        return ()
    top = quilt.edge.shape
    letters = sum(len(one.cuts) * made for one, made in zip(panel.laid, panel.made, strict=True))
    count = 0.0
    for number, quilting in enumerate(design.quilting, 1):
        if quilting.kind is QuiltingKind.ECHO:
            _refuse_too_many_echoes(number, quilting, letters)
        count += _lines_asked(number, quilting, quilt)
        _refuse_too_many(number, count)
    words = _words_on_quilt(panel, outlines, quilt.setting)
    plans = [
        _plan(design, number, quilting, panel, quilt, top, words)
        for number, quilting in enumerate(design.quilting, 1)
    ]
    return tuple(_gone_on(plan, _further(plan, plans, top, words), design) for plan in plans)


def _gone_on(plan: QuiltingPlan, further: float, design: Design) -> QuiltingPlan:
    """The plan with so many inches of lines more than are drawn."""
    length = plan.length + further
    stitches, thread, spools = _taken(length, plan.stitch_length, design)
    return replace(plan, length=length, stitches=stitches, thread=thread, spools=spools, further=further)


def _taken(length: float, stitch_length: Fraction, design: Design) -> tuple[int, Fraction, int]:
    """The stitches, thread and spools of so many inches of line."""
    pitch, waste = float(stitch_length), 1 + design.stitching.waste_percent / 100
    thread = thread_counted(length * quilting_thread(pitch) * waste, design.units)
    return math.ceil(length / pitch), thread, math.ceil(thread / design.stitching.spool)


def _further(
    plan: QuiltingPlan, plans: Sequence[QuiltingPlan], top: BaseGeometry, words: BaseGeometry
) -> float:
    """Inches of echoes that fill what the last one leaves open, where nothing sewn or offered with them does.

    Source:
        The lengths of all lines at even distances, times that distance, are the area that they cover: coarea formula.
    """
    others = [one for one in plans if not isinstance(one.course, Echoes | InTheDitch)]
    if not isinstance(plan.course, Echoes) or (others and not plan.offered):
        return 0.0
    if not _leaves_open(plan, plans, top, words):
        return 0.0
    spacing = float(plan.course.spacing)
    covered = words.buffer((plan.course.count + 0.5) * spacing, quad_segs=_ARC_SEGMENTS)
    return float(top.difference(covered).area) / spacing


def _leaves_open(
    plan: QuiltingPlan, plans: Sequence[QuiltingPlan], top: BaseGeometry, words: BaseGeometry
) -> bool:
    """Whether a circle `OPEN` wide fits beside the words, clear of the echoes and of all that is sewn with them.

    The edge of the quilt holds its layers as a line does: its binding is sewn there.
    """
    if not isinstance(plan.course, Echoes):
        return False
    sewn = [plan, *(one for one in plans if one is not plan and not one.offered)]
    if any(isinstance(one.course, Waves) for one in sewn):
        return False
    lines = shapely.MultiLineString([points for one in sewn for points in one.lines]).simplify(_SHOWN)
    inner = words.buffer(float(plan.course.spacing), quad_segs=_ARC_SEGMENTS)
    middles = top.buffer(-OPEN / 2).difference(lines.buffer(OPEN / 2)).difference(inner)
    return not middles.is_empty


def _lines_asked(number: int, quilting: Quilting, quilt: QuiltPlan) -> float:
    """About how many lines one kind of quilting takes."""
    match quilting.kind:
        case QuiltingKind.ECHO:
            return quilting.lines
        case QuiltingKind.LINES | QuiltingKind.CROSSHATCH:
            ways = 2 if quilting.kind is QuiltingKind.CROSSHATCH else 1
            return float(max(quilt.finished) * 3 / 2 / quilting.spacing) * ways
        case QuiltingKind.EDGE_TO_EDGE:
            return rows_needed(
                quilt.finished[1], quilting.row_height, quilting.overlap, where=Where.key("quilting", number)
            )
        case QuiltingKind.DITCH:
            return 0


def _words_on_quilt(
    panel: PanelPlan, outlines: Sequence[PlacedOutline], setting: SettingPlan | None
) -> BaseGeometry:
    """All letters and the shapes behind them as one area, in the frame of the quilt, at every place of their block; of
    those that run off their panel what is seen of them."""
    off = {one.where for one in panel.laid if one.runs_off}
    shapes: list[BaseGeometry] = []
    for laid, seen, moves in _by_panel(panel, setting):
        own = {one.where for one in laid}
        found = [
            on_panel(cut).intersection(seen) if one.runs_off else on_panel(cut)
            for one in laid
            for cut in one.cuts
        ]
        for piece in outlines:
            if piece.where in own:
                shape = piece.place.shape(piece.shape)
                found.append(shape.intersection(seen) if piece.where in off else shape)
        shapes += [affinity.translate(shape, *move) for move in moves for shape in found]
    return affinity.translate(shapely.union_all(shapes), -float(panel.width) / 2, -float(panel.height) / 2)


def _by_panel(
    panel: PanelPlan, setting: SettingPlan | None
) -> Iterator[tuple[Sequence[Laid], BaseGeometry, Sequence[Point]]]:
    """What is laid on each panel, where it is seen, and how far that place is from each that the panel is set at."""
    if setting is None:
        yield panel.laid, panel.edges.finished, ((0.0, 0.0),)
        return
    places: dict[int, list[SetPlace]] = {}
    for place in setting.places:
        if place.block is not None:
            places.setdefault(place.block, []).append(place)
    start = 0
    for block, (own, _) in enumerate(panel.grouped):
        first = places[block][0]
        (x, y), (wide, high) = ((float(one) for one in pair) for pair in (first.corner, first.size))
        moves = [(float(one.corner[0]) - x, float(one.corner[1]) - y) for one in places[block]]
        yield panel.laid[start : start + own], shapely.box(x, y, x + wide, y + high), moves
        start += own


def _plan(
    design: Design,
    number: int,
    quilting: Quilting,
    panel: PanelPlan,
    quilt: QuiltPlan,
    top: BaseGeometry,
    words: BaseGeometry,
) -> QuiltingPlan:
    area, outside = top, False
    misses = quilting.letters is OverLetters.MISS and quilting.kind in _MISSING
    if misses:
        area = top.difference(words.buffer(float(CLEAR), quad_segs=_ARC_SEGMENTS))
    reach = _echoed(design)
    drawn, course = _drawn(number, quilting, panel, quilt, top, area, words, design.units)
    pitch = float(quilting.stitch_length)
    lines = _worth_sewing(drawn)
    if misses and reach:
        beyond = top.difference(words.buffer(reach, quad_segs=_ARC_SEGMENTS))
        left, course_beyond = _drawn(number, quilting, panel, quilt, top, beyond, words, design.units)
        # Echoes that fill the quilt leave no room beyond them: then the lines cross them, as she asked for both.
        if _worth_sewing(left):
            lines, course, area, outside = _worth_sewing(left), course_beyond, beyond, True
    if isinstance(course, Waves):
        length = _figured(course, float(area.area), pitch)
    else:
        length = math.fsum(line.length for line in lines)
    stitches, thread, spools = _taken(length, quilting.stitch_length, design)
    return QuiltingPlan(
        number=number,
        kind=quilting.kind,
        lines=tuple(tuple((float(x), float(y)) for x, y in line.coords) for line in lines),
        length=length,
        stitches=stitches,
        stitch_length=quilting.stitch_length,
        thread=thread,
        spools=spools,
        course=course,
        offered=quilting.offered,
        outside_echoes=outside,
    )


def _echoed(design: Design) -> float:
    """How far from the words the outermost echo runs that is sewn with all other lines; 0 without one."""
    echoes = (one for one in design.quilting if one.kind is QuiltingKind.ECHO and not one.offered)
    return max((float(one.spacing) * one.lines for one in echoes), default=0.0)


def _worth_sewing(lines: Sequence[LineString]) -> list[LineString]:
    return [line for line in lines if line.length >= SHORTEST]


def _drawn(
    number: int,
    quilting: Quilting,
    panel: PanelPlan,
    quilt: QuiltPlan,
    top: BaseGeometry,
    area: BaseGeometry,
    words: BaseGeometry,
    units: Units,
) -> tuple[list[LineString], Course]:
    """The lines over `area`, the top or what is left of it beside the words; echoes go around the words."""
    spacing = float(quilting.spacing)
    x0, _, x1, _ = top.bounds
    match quilting.kind:
        case QuiltingKind.ECHO:
            rings = echo_lines(words, spacing=spacing, count=quilting.lines)
            lines = [part for ring in rings for part in _inside(ring, top)]
            return lines, Echoes(count=quilting.lines, spacing=quilting.spacing)
        case QuiltingKind.LINES | QuiltingKind.CROSSHATCH:
            angles = [quilting.angle]
            if quilting.kind is QuiltingKind.CROSSHATCH:
                angles.append(quilting.angle + 90)
            ruled = [line for angle in angles for line in even_lines(top, spacing=spacing, angle_deg=angle)]
            lines = [part for line in ruled for part in _inside(line, area)]
            ruling = Ruled(spacing=quilting.spacing, angles_deg=tuple(angles), letters=quilting.letters)
            return lines, ruling
        case QuiltingKind.EDGE_TO_EDGE:
            rows = rows_needed(
                quilt.finished[1], quilting.row_height, quilting.overlap, where=Where.key("quilting", number)
            )
            _refuse_too_many_waves(number, rows * (x1 - x0) / float(quilting.row_height))
            basis = _basis(number, quilting, rows, quilt.finished[0], units)
            waves = _waves(top, rows, quilting)
            lines = [part for wave in waves for part in _inside(wave, area)]
            return lines, Waves(
                rows=rows,
                row_height=quilting.row_height,
                overlap=quilting.overlap,
                basis=basis,
                letters=quilting.letters,
            )
        case QuiltingKind.DITCH:
            seams = [seam for border in quilt.borders for seam in _border_seams(border)]
            if quilt.setting is not None:
                seams += _between_blocks(quilt.setting)
            between = None if quilt.setting is None else _between(quilt.setting)
            return seams, InTheDitch(seams=len(seams), widest=_widest(panel, quilt), between=between)


def quilting_thread(pitch: float) -> float:
    """Thread, top and bobbin together, for each unit of a line of quilting of stitches `pitch` inches long."""
    return thread_per_length(Stitch.STRAIGHT, pitch=pitch, width=0.0, thickness=LAYERS)


def _basis(
    number: int, quilting: Quilting, rows: int, width: Fraction, units: Units
) -> Repeats | EvenlySpread:
    """The repeats of a design of the maker's own, or else what any design is figured by."""
    if quilting.repeat_width is None or quilting.repeat_thread is None:
        return EvenlySpread(spacing=MEDIUM_SPACING[units])
    across = math.ceil(width / quilting.repeat_width)
    _refuse_too_many_repeats(number, rows * across)
    return Repeats(across=across, width=quilting.repeat_width, thread=quilting.repeat_thread)


def _figured(waves: Waves, area: float, pitch: float) -> float:
    """The length of all rows: by the thread of every repeat, or by `area` square inches of evenly spread lines."""
    match waves.basis:
        case Repeats(across=across, thread=thread):
            return 2 * waves.rows * across * float(thread) / quilting_thread(pitch)
        case EvenlySpread(spacing=spacing):
            return area / float(spacing)


def echo_lines(words: BaseGeometry, *, spacing: float, count: int) -> tuple[LineString, ...]:
    """`count` closed lines around `words`, each a true offset `spacing` further out; counters are echoed too.

    Lines that would face one another nearer than `CLOSEST`, or half the spacing, run together.
    """
    rings: list[LineString] = []
    grown = words
    close = closest_echoes(spacing) / 2
    for _ in range(count):
        # From the line before: an offset of an offset is the same line, and letters far behind cost minutes.
        grown = grown.buffer(spacing + close, quad_segs=_ARC_SEGMENTS, join_style="round")
        grown = grown.buffer(-close, quad_segs=_ARC_SEGMENTS, join_style="round").simplify(_DRIFT)
        for part in shapely.get_parts(grown.simplify(_SHOWN)):
            rings += [LineString(ring.coords) for ring in (part.exterior, *part.interiors)]
    return tuple(rings)


def closest_echoes(spacing: float) -> float:
    """How near to one another two echoes may lie that face one another, in inches."""
    return min(float(CLOSEST), spacing / 2)


def even_lines(area: BaseGeometry, *, spacing: float, angle_deg: float) -> tuple[LineString, ...]:
    """Straight lines `spacing` apart at an angle from level, one through the middle of `area`, across all of it."""
    x0, y0, x1, y1 = area.bounds
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    reach = math.hypot(x1 - x0, y1 - y0) / 2
    count = math.floor(reach / spacing)
    level = [
        LineString(
            [
                (middle[0] - reach, middle[1] + index * spacing),
                (middle[0] + reach, middle[1] + index * spacing),
            ]
        )
        for index in range(-count, count + 1)
    ]
    return tuple(affinity.rotate(line, angle_deg, origin=middle) for line in level)


def rows_needed(height: Fraction, row_height: Fraction, overlap: Fraction, *, where: Where = NOWHERE) -> int:
    """Rows of `row_height` that cover `height` when each overlaps the next; exact.

    Raises:
        Refusal: rows that overlap by their whole height never get there.
    """
    if overlap >= row_height:
        raise Refusal(
            Problem(
                kind="rows-overlap-wholly",
                what=message("rows overlap by their whole height"),
                where=where,
                fix=message("an overlap that is less than the height of a pass"),
            )
        )
    return max(1, math.ceil((height - overlap) / (row_height - overlap)))


def _waves(top: BaseGeometry, rows: int, quilting: Quilting) -> Iterator[LineString]:
    """A wave for each row, as high as the row and twice as long, the rows centered on the quilt."""
    x0, _, x1, _ = top.bounds
    high, step = float(quilting.row_height), float(quilting.row_height - quilting.overlap)
    count = math.ceil((x1 - x0) / high * _WAVE_STEPS / 2)
    x = np.linspace(x0, x1, count + 1)
    for index in range(rows):
        middle = (index - (rows - 1) / 2) * step
        y = middle + high / 2 * np.sin((x - x0) * math.pi / high)
        yield LineString(np.column_stack([x, y]))


def _between_blocks(setting: SettingPlan) -> Iterator[LineString]:
    """The seams of blocks that are set together: those from side to side, then the upright ones, from end to end where
    they go on."""
    wide, high = (float(side) for side in setting.finished)
    for height in setting.level_seams:
        y = float(height) - high / 2
        yield LineString([(-wide / 2, y), (wide / 2, y)])
    for left, low, top in setting.upright_seams:
        x = float(left) - wide / 2
        yield LineString([(x, float(low) - high / 2), (x, float(top) - high / 2)])


def _between(setting: SettingPlan) -> Between:
    if not setting.sashing:
        return Between.NOTHING
    return Between.CORNERSTONES if setting.cornerstones else Between.STRIPS


def _border_seams(border: BorderPlan) -> Iterator[LineString]:
    """The seams that sew its strips on, each as long as the top is when that is done."""
    width, height = border.before
    for step in border.steps:
        half_w, half_h = float(width) / 2, float(height) / 2
        for strip in step.strips:
            match strip.side:
                case Side.LEFT:
                    yield LineString([(-half_w, -half_h), (-half_w, half_h)])
                case Side.RIGHT:
                    yield LineString([(half_w, -half_h), (half_w, half_h)])
                case Side.TOP:
                    yield LineString([(-half_w, half_h), (half_w, half_h)])
                case Side.BOTTOM:
                    yield LineString([(-half_w, -half_h), (half_w, -half_h)])
        width, height = step.finished


def _widest(panel: PanelPlan, quilt: QuiltPlan) -> Extent:
    """The finished size of the part between seams whose narrower side is the longest."""
    parts = [(border.width, max(border.finished)) for border in quilt.borders]
    if quilt.setting is None:
        parts.append((panel.width, panel.height))
    else:
        parts += [place.size for place in quilt.setting.places]
        parts += [patch.size for patch in quilt.setting.patches]
    return max(parts, key=lambda size: (min(size), max(size)))


def _inside(line: LineString, area: BaseGeometry) -> list[LineString]:
    kept = shapely.intersection(line, area)
    return [part for part in shapely.get_parts(kept) if isinstance(part, LineString)]


def _refuse_too_many(number: int, count: float) -> None:
    if count > _MOST_LINES:
        raise Refusal(
            Problem(
                kind="too-many-quilting-lines",
                what=messages(
                    "about {count} line of quilting", "about {count} lines of quilting", round(count)
                ),
                where=Where.key("quilting", number),
                fix=message("a wider spacing"),
            )
        )


def _refuse_too_many_repeats(number: int, count: int) -> None:
    if count > _MOST_REPEATS:
        raise Refusal(
            Problem(
                kind="too-many-repeats",
                what=messages("the rows make {count} repeat", "the rows make {count} repeats", count),
                where=Where.key("quilting", number),
                fix=message("a greater repeat_width or row_height"),
            )
        )


def _refuse_too_many_waves(number: int, count: float) -> None:
    if count > _MOST_WAVES:
        raise Refusal(
            Problem(
                kind="too-many-waves",
                what=messages(
                    "the rows make about {count} wave", "the rows make about {count} waves", round(count)
                ),
                where=Where.key("quilting", number),
                fix=message("higher passes, or less overlap"),
            )
        )


def _refuse_too_many_echoes(number: int, quilting: Quilting, letters: int) -> None:
    count = letters * min(quilting.lines, math.ceil(_MERGED / quilting.spacing))
    if count > _MOST_ECHOES:
        raise Refusal(
            Problem(
                kind="too-many-echoes",
                what=messages(
                    "{count} line so near around each of {letters} letters",
                    "{count} lines so near around each of {letters} letters",
                    quilting.lines,
                    letters=letters,
                ),
                where=Where.key("quilting", number),
                fix=message("a wider spacing, or fewer lines"),
            )
        )
