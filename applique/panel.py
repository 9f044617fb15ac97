"""Rows of words placed on the background panel: across by their ink, down by their baselines.

Frame of the panel: inches, origin at the lower left corner of the *finished* panel, y up. A cut stands
by its own origin: on the baseline, at the pen position of its first glyph.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

import shapely
from shapely import affinity

from applique.design import Align, Design, Fabric, Line, Nudge, Rows, Spacing
from applique.errors import Notice, Problem, Refusal
from applique.fabrics import Fabrics, resolve_fabrics
from applique.typeset.fonts import GlyphSpot, Typeface, open_typeface
from applique.typeset.outline import CHORD_ERROR, Bounds, Outline, Shape, united
from applique.typeset.shaping import Letter, shape_text
from applique.typeset.spacing import RowSetting, SetRow, set_row
from applique.units import Units, format_length

__all__ = ["PanelPlan", "PlacedCut", "PlacedRow", "place_rows"]

_GAP_SLACK: Final = 1e-3
"""Inches by which a gap may fall short before it is worth a word."""
_INCH_STEP: Final = Fraction(1, 16)
_METRIC_STEP: Final = 1 / Fraction(254, 10)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedCut:
    """One piece of cloth to be laid down. `outline` and `shape` stand about the cut's own origin.

    `x`, `y` place that origin on the panel; `ink` is the extent on the panel. Cuts of equal `key` are the
    same shape.
    """

    key: str
    text: str
    letters: tuple[int, ...]
    x: float
    y: float
    ink: Bounds
    outline: Outline
    shape: Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedRow:
    """One row of words on the panel; `baseline` is its y. `cuts` run from left to right.

    `outline` is the whole row in the frame of the panel, letters that were nudged together made one.
    """

    number: int
    text: str
    font: str
    fabric: Fabric
    cap_height: Fraction
    baseline: float
    ink: Bounds
    outline: Outline
    cuts: tuple[PlacedCut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelPlan:
    """The panel with its rows. Sizes are exact; `width` and `height` are finished sizes."""

    width: Fraction
    height: Fraction
    seam_allowance: Fraction
    margin: Fraction
    fabric: Fabric
    rows: tuple[PlacedRow, ...]
    notices: tuple[Notice, ...]

    @property
    def cut_width(self) -> Fraction:
        """The width to cut: finished and two seam allowances."""
        return self.width + 2 * self.seam_allowance

    @property
    def centre_from_edge(self) -> Fraction:
        """How far the vertical centre line is from either side's cut edge."""
        return self.cut_width / 2

    @property
    def cut_height(self) -> Fraction:
        """The height to cut: finished and two seam allowances."""
        return self.height + 2 * self.seam_allowance


@dataclass(frozen=True, slots=True, kw_only=True)
class _Request:
    """A line with every default filled in, its font opened and its words shaped."""

    number: int
    line: Line
    typeface: Typeface
    letters: tuple[Letter, ...]
    fabric: Fabric
    cap_height: Fraction | None
    tracking: Fraction
    least_gap: Fraction
    even: bool
    align: Align

    def set_at(self, cap_height: float) -> tuple[float, SetRow]:
        """Inches per font unit at `cap_height`, and the row spaced at that size."""
        scale = cap_height / self.typeface.cap_height_fu
        setting = RowSetting(
            tracking_fu=float(self.tracking) / scale,
            least_gap_fu=float(self.least_gap) / scale,
            even=self.even,
            chord_error_fu=CHORD_ERROR / scale,
        )
        return scale, set_row(self.letters, self.typeface, setting)


def place_rows(design: Design) -> PanelPlan:
    """Every row of the design on its panel.

    Raises:
        Refusal: letters a font lacks, fonts that cannot be opened, rows that do not fit (with the cap height
            that would), nudges of letters that are not there or that leave the panel.
    """
    fabrics = resolve_fabrics(design)
    requests = _requests(design, fabrics)
    heights = _cap_heights(requests, design)
    inks = _scaled_inks(requests, heights)
    _refuse_what_does_not_fit(design, requests, heights, inks)
    memo: dict[tuple[str, Fraction, tuple[GlyphSpot, ...]], tuple[str, Outline, Shape]] = {}
    rows = tuple(
        _placed_row(design, request, height, baseline, memo)
        for request, height, baseline in zip(requests, heights, _baselines(design, inks), strict=True)
    )
    problems = tuple(_off_the_panel(design, rows))
    if problems:
        raise Refusal(problems)
    return PanelPlan(
        width=design.panel.width,
        height=design.panel.height,
        seam_allowance=design.panel.seam_allowance,
        margin=design.panel.margin,
        fabric=fabrics.panel,
        rows=rows,
        notices=(*_font_notices(requests), *_gap_notices(design, requests, rows)),
    )


def _requests(design: Design, fabrics: Fabrics) -> tuple[_Request, ...]:
    problems: list[Problem] = []
    requests: list[_Request] = []
    for number, line in enumerate(design.line, 1):
        try:
            requests.append(_request(design, fabrics, number, line))
        except Refusal as refusal:
            problems += [
                replace(problem, where=f"line {number}" + (f", {problem.where}" if problem.where else ""))
                for problem in refusal.problems
            ]
    if problems:
        raise Refusal(problems)
    return tuple(requests)


def _request(design: Design, fabrics: Fabrics, number: int, line: Line) -> _Request:
    defaults = design.lettering
    own_font = line.font is not None and line.font != defaults.font
    axes = line.axes if line.axes is not None else ({} if own_font else defaults.axes)
    typeface = open_typeface(line.font or defaults.font, axes)
    alternates = defaults.alternates if line.alternates is None else line.alternates
    letters = shape_text(line.text, typeface, alternates=alternates)
    last = max((letter.number for letter in letters), default=0)
    if not last:
        raise Refusal(Problem(what=f"“{line.text}” leaves nothing to cut", fix="words with letters"))
    missing = [nudge for nudge in line.nudge if not 1 <= nudge.letter <= last]
    if missing:
        raise Refusal(
            Problem(
                what=f"there is no letter {nudge.letter} to nudge",
                where="nudge",
                fix=f"a letter from 1 to {last}",
            )
            for nudge in missing
        )
    cap_height = defaults.cap_height if line.cap_height is None else line.cap_height
    spacing = defaults.spacing if line.spacing is None else line.spacing
    return _Request(
        number=number,
        line=line,
        typeface=typeface,
        letters=letters,
        fabric=fabrics.by_name[line.fabric] if line.fabric else fabrics.letters,
        cap_height=cap_height if isinstance(cap_height, Fraction) else None,
        tracking=defaults.letter_spacing if line.letter_spacing is None else line.letter_spacing,
        least_gap=defaults.least_gap if line.least_gap is None else line.least_gap,
        even=spacing is Spacing.EVEN,
        align=defaults.align if line.align is None else line.align,
    )


def _scaled_inks(requests: Sequence[_Request], heights: Sequence[Fraction | float]) -> list[Bounds]:
    inks: list[Bounds] = []
    for request, height in zip(requests, heights, strict=True):
        scale, row = request.set_at(float(height))
        x0, y0, x1, y1 = row.ink_fu
        inks.append((x0 * scale, y0 * scale, x1 * scale, y1 * scale))
    return inks


# How high the letters can be


def _cap_heights(requests: Sequence[_Request], design: Design) -> list[Fraction]:
    """The stated cap heights, and for rows that say `fit` the largest common one at which all fits."""
    if all(request.cap_height is not None for request in requests):
        return [request.cap_height or Fraction(0) for request in requests]

    def heights(common: Fraction | float) -> list[Fraction | float]:
        return [common if request.cap_height is None else request.cap_height for request in requests]

    step = _INCH_STEP if design.units is Units.INCHES else _METRIC_STEP
    best = _largest(lambda common: _slack(design, requests, heights(common)), step, design.panel.height)
    if best is None:
        raise Refusal(_nothing_fits(design, requests))
    return [Fraction(height) for height in heights(best)]


def _largest(slack: Callable[[Fraction | float], float], step: Fraction, most: Fraction) -> Fraction | None:
    """The largest multiple of `step`, no larger than `most`, at which `slack` is not negative.

    `slack` falls as its argument grows, nearly along a line, so a few steps of false position find the place
    and whole steps settle it.
    """
    low, high = float(step), float(most)
    slack_low, slack_high = slack(low), slack(high)
    if slack_low < 0:
        return None
    if slack_high >= 0:
        return math.floor(most / step) * step
    for _ in range(40):
        if high - low <= float(step) / 4:
            break
        middle = low + (high - low) * min(max(slack_low / (slack_low - slack_high), 0.02), 0.98)
        slack_middle = slack(middle)
        if slack_middle >= 0:
            if middle - low < float(step) / 4 and slack(middle + float(step) / 4) < 0:
                low = middle
                break
            low, slack_low = middle, slack_middle
        else:
            high, slack_high = middle, slack_middle
    count = math.floor(Fraction(low) / step) + 1
    while count > 0 and slack(count * step) < 0:
        count -= 1
    return count * step if count else None


def _slack(design: Design, requests: Sequence[_Request], heights: Sequence[Fraction | float]) -> float:
    """What is left, in inches, of the tightest of all the room that the rows need; negative: too large."""
    inks = _scaled_inks(requests, heights)
    return min(_slack_across(design, inks), _slack_down(design, inks))


def _slack_across(design: Design, inks: Sequence[Bounds]) -> float:
    room = float(design.panel.width - 2 * design.panel.margin)
    return min(room - (x1 - x0) for x0, _, x1, _ in inks)


def _slack_down(design: Design, inks: Sequence[Bounds]) -> float:
    tops_and_bottoms = [
        (baseline + ink[3], baseline + ink[1])
        for baseline, ink in zip(_baselines(design, inks), inks, strict=True)
    ]
    margin, gap = float(design.panel.margin), float(design.lettering.row_gap)
    slacks = [float(design.panel.height) - margin - max(top for top, _ in tops_and_bottoms)]
    slacks.append(min(bottom for _, bottom in tops_and_bottoms) - margin)
    ordered = sorted(tops_and_bottoms, reverse=True)
    slacks += [above[1] - below[0] - gap for above, below in pairwise(ordered)]
    return min(slacks)


def _baselines(design: Design, inks: Sequence[Bounds]) -> list[float]:
    """The y of each baseline, the first row on top."""
    height, count = float(design.panel.height), len(inks)
    stated = [line.baseline for line in design.line]
    if any(baseline is not None for baseline in stated):
        return [height - float(baseline or 0) for baseline in stated]
    if design.lettering.line_spacing is not None or design.lettering.rows is Rows.EVEN_BASELINES:
        return _even_baselines(design, inks)
    white = (height - math.fsum(top - bottom for _, bottom, _, top in inks)) / (count + 1)
    baselines, y = [], height
    for _, bottom, _, top in inks:
        baselines.append(y - white - top)
        y -= white + top - bottom
    return baselines


def _even_baselines(design: Design, inks: Sequence[Bounds]) -> list[float]:
    """Baselines at one distance: the stated one with the rows in the middle, or one that fills the panel."""
    height, count = float(design.panel.height), len(inks)
    top, bottom = inks[0][3], inks[-1][1]
    if design.lettering.line_spacing is not None:
        pitch = float(design.lettering.line_spacing)
        first = (height + (count - 1) * pitch - top - bottom) / 2
    else:
        white = (height - math.fsum(ink[3] for ink in inks)) / (count + 1)
        pitch = (height - 2 * white - top) / (count - 1) if count > 1 else 0.0
        first = height - white - top if count > 1 else (height - top - bottom) / 2
    return [first - index * pitch for index in range(count)]


def _refuse_what_does_not_fit(
    design: Design, requests: Sequence[_Request], heights: Sequence[Fraction], inks: Sequence[Bounds]
) -> None:
    if 0 < sum(line.baseline is not None for line in design.line) < len(design.line):
        raise Refusal(
            Problem(
                what="some rows state a baseline and some do not",
                where="[[line]]",
                fix="a baseline for every row, or for none",
            )
        )
    room = design.panel.width - 2 * design.panel.margin
    problems = [
        Problem(
            what=f"“{request.line.text}” is {_said(design, ink[2] - ink[0])} wide; "
            f"the panel has {_said(design, room)} between its margins",
            where=f"line {request.number}",
            fix=_height_that_would(design, [request], across_only=True),
        )
        for request, ink in zip(requests, inks, strict=True)
        if ink[2] - ink[0] > float(room) + 1e-9
    ]
    if not problems and _slack_down(design, inks) < -1e-9 and not _stated(design):
        problems.append(
            Problem(
                what="the rows, their gaps and margins are higher than the panel of "
                f"{_said(design, design.panel.height)}",
                where="[panel]",
                fix=_height_that_would(design, requests, across_only=False),
            )
        )
    if problems:
        raise Refusal(problems)


def _stated(design: Design) -> bool:
    return any(line.baseline is not None for line in design.line)


def _height_that_would(design: Design, requests: Sequence[_Request], *, across_only: bool) -> str:
    """The cap height at which `requests` fit, their sizes kept in proportion, as words of advice."""
    tallest = max(request.cap_height or Fraction(0) for request in requests)

    def slack(height: Fraction | float) -> float:
        scaled = [
            float(request.cap_height or tallest) / float(tallest) * float(height) for request in requests
        ]
        inks = _scaled_inks(requests, scaled)
        return _slack_across(design, inks) if across_only else _slack_down(design, inks)

    step = _INCH_STEP if design.units is Units.INCHES else _METRIC_STEP
    best = _largest(slack, step, tallest)
    if best is None:
        return "a larger panel, smaller margins or gaps, or fewer words"
    said = format_length(best, design.units, denominator=16)
    return f'cap_height = "{said}" (the largest that fits), or a larger panel'


def _nothing_fits(design: Design, requests: Sequence[_Request]) -> Problem:
    return Problem(
        what=f"a panel of {_said(design, design.panel.width)} by {_said(design, design.panel.height)} "
        f"is too small for {len(requests)} row{'s' if len(requests) > 1 else ''} with its margins and gaps",
        where="[panel]",
        fix="a larger panel, smaller margins or row_gap, or fewer words",
    )


def _said(design: Design, length: Fraction | float) -> str:
    return format_length(length, design.units)


# Where each cut stands


def _placed_row(
    design: Design,
    request: _Request,
    cap_height: Fraction,
    baseline: float,
    memo: dict[tuple[str, Fraction, tuple[GlyphSpot, ...]], tuple[str, Outline, Shape]],
) -> PlacedRow:
    scale, row = request.set_at(float(cap_height))
    xs = _across(design, request, row, scale)
    y = baseline + float(request.line.up)
    cuts: list[PlacedCut] = []
    for cut, x in zip(row.cuts, xs, strict=True):
        key, outline, shape = _sized(request.typeface, cut.glyphs, cap_height, scale, memo)
        right, up = _nudged(request.line.nudge, cut.letters)
        at = (x + right, y + up)
        x0, y0, x1, y1 = outline.bounds()
        cuts.append(
            PlacedCut(
                key=key,
                text=cut.text,
                letters=cut.letters,
                x=at[0],
                y=at[1],
                ink=(at[0] + x0, at[1] + y0, at[0] + x1, at[1] + y1),
                outline=outline,
                shape=shape,
            )
        )
    return PlacedRow(
        number=request.number,
        text=request.line.text,
        font=request.typeface.name,
        fabric=request.fabric,
        cap_height=cap_height,
        baseline=y,
        ink=_extent([cut.ink for cut in cuts]),
        outline=_row_outline(cuts),
        cuts=tuple(cuts),
    )


def _row_outline(cuts: Sequence[PlacedCut]) -> Outline:
    """The row as one outline in the frame of the panel; only cuts that touch are united."""
    placed = [cut.outline.transformed((1.0, 0.0, 0.0, 1.0, cut.x, cut.y)) for cut in cuts]
    shapes = [_on_panel(cut) for cut in cuts]
    touching: set[int] = set()
    by_left = sorted(range(len(cuts)), key=lambda index: cuts[index].ink[0])
    for place, left in enumerate(by_left):
        for right in by_left[place + 1 :]:
            if cuts[right].ink[0] > cuts[left].ink[2]:
                break
            if shapes[left].intersects(shapes[right]):
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


def _extent(boxes: Sequence[Bounds]) -> Bounds:
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def _across(design: Design, request: _Request, row: SetRow, scale: float) -> list[float]:
    """The x of each cut's origin on the panel, aligned by the ink of the whole row."""
    left, _, right, _ = (value * scale for value in row.ink_fu)
    width, margin = float(design.panel.width), float(design.panel.margin)
    between = 0.0
    match request.align:
        case Align.LEFT:
            start = margin - left
        case Align.RIGHT:
            start = width - margin - right
        case Align.SPREAD if len(row.cuts) > 1:
            start = margin - left
            between = (width - 2 * margin - (right - left)) / (len(row.cuts) - 1)
        case _:
            start = (width - left - right) / 2
    start += float(request.line.right)
    return [start + cut.x_fu * scale + index * between for index, cut in enumerate(row.cuts)]


def _nudged(nudges: Sequence[Nudge], letters: Sequence[int]) -> tuple[float, float]:
    mine = [nudge for nudge in nudges if nudge.letter in letters]
    return float(sum(nudge.right for nudge in mine)), float(sum(nudge.up for nudge in mine))


def _sized(
    typeface: Typeface,
    glyphs: tuple[GlyphSpot, ...],
    cap_height: Fraction,
    scale: float,
    memo: dict[tuple[str, Fraction, tuple[GlyphSpot, ...]], tuple[str, Outline, Shape]],
) -> tuple[str, Outline, Shape]:
    """The cut at true size, the same object for the same shape."""
    wanted = (typeface.key, cap_height, glyphs)
    if wanted not in memo:
        outline = typeface.outline(glyphs).transformed((scale, 0.0, 0.0, scale, 0.0, 0.0))
        in_units = typeface.shape(glyphs, chord_error_fu=CHORD_ERROR / scale)
        shape = affinity.scale(in_units, scale, scale, origin=(0.0, 0.0))
        memo[wanted] = (f"shape-{len(memo) + 1}", outline, shape)
    return memo[wanted]


# What is off, and what is worth a word


def _off_the_panel(design: Design, rows: Sequence[PlacedRow]) -> Iterator[Problem]:
    width, height = float(design.panel.width), float(design.panel.height)
    for row in rows:
        x0, y0, x1, y1 = row.ink
        if min(x0, y0) < -1e-9 or x1 > width + 1e-9 or y1 > height + 1e-9:
            yield Problem(
                what=f"“{row.text}” reaches beyond the finished panel",
                where=f"line {row.number}",
                fix="a smaller nudge, another baseline or a larger panel",
            )


def _font_notices(requests: Sequence[_Request]) -> Iterator[Notice]:
    told: set[str] = set()
    for request in requests:
        typeface = request.typeface
        if typeface.name in told:
            continue
        told.add(typeface.name)
        if typeface.facts.embedding & 0x2:
            yield Notice(
                what=f"the font {typeface.name} says it may not be embedded (restricted licence)",
                where=f"line {request.number}",
                fix="read its licence before you sell or share the pattern",
            )
        if typeface.cap_letter != "H":
            yield Notice(
                what=f"{typeface.name} has no H; its cap height is measured on “{typeface.cap_letter}”",
                where=f"line {request.number}",
                fix="measure the first template before you cut cloth",
            )


def _gap_notices(design: Design, requests: Sequence[_Request], rows: Sequence[PlacedRow]) -> Iterator[Notice]:
    for request, row in zip(requests, rows, strict=True):
        yield from _tight_letters(design, request, row)
    for above, below in pairwise(rows):
        gap = float(shapely.distance(_whole(above), _whole(below)))
        if gap < float(design.lettering.row_gap) - _GAP_SLACK:
            yield Notice(
                what=f"rows {above.number} and {below.number} "
                + (f"are {_fine(design, gap)} apart" if gap > 0 else "overlap")
                + f", less than the row gap of {_fine(design, design.lettering.row_gap)}",
                where=f"line {below.number}",
                fix="baselines further apart, or a smaller row_gap",
            )
    for row in rows:
        yield from _beyond_margin(design, row)


def _tight_letters(design: Design, request: _Request, row: PlacedRow) -> Iterator[Notice]:
    for left, right in pairwise(row.cuts):
        gap = float(shapely.distance(_on_panel(left), _on_panel(right)))
        if gap < float(request.least_gap) - _GAP_SLACK:
            yield Notice(
                what=f"“{left.text}” and “{right.text}” "
                + (f"are {_fine(design, gap)} apart" if gap > 0 else "overlap")
                + f", less than the least gap of {_fine(design, request.least_gap)}",
                where=f"line {row.number}",
                fix="a smaller nudge",
            )


def _beyond_margin(design: Design, row: PlacedRow) -> Iterator[Notice]:
    width, height, margin = float(design.panel.width), float(design.panel.height), float(design.panel.margin)
    x0, y0, x1, y1 = row.ink
    edge = min(x0, y0, width - x1, height - y1)
    if edge < margin - _GAP_SLACK:
        yield Notice(
            what=f"“{row.text}” comes to {_fine(design, edge)} from the finished edge, "
            f"inside the margin of {_fine(design, margin)}",
            where=f"line {row.number}",
            fix="a smaller nudge, another baseline or a smaller margin",
        )


def _fine(design: Design, length: Fraction | float) -> str:
    return format_length(length, design.units, denominator=16)


def _on_panel(cut: PlacedCut) -> Shape:
    return affinity.translate(cut.shape, cut.x, cut.y)


def _whole(row: PlacedRow) -> shapely.Geometry:
    return shapely.GeometryCollection([_on_panel(cut) for cut in row.cuts])
