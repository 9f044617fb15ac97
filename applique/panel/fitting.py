"""How high the letters can be, where the baselines lie, and what does not fit.

Inches; a row's ink is its extent about its own origin at a given cap height.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

from applique.design import Design, Rows
from applique.errors import Notice, Problem, Refusal, Where
from applique.geometry.points import Bounds, extent
from applique.language import Measure, Message, message, messages
from applique.panel.columns import across_alone, of_rows, run_down, slack_beside
from applique.panel.in_outline import is_too_large_inside, outline_of_panel, room_inside
from applique.panel.notices import or_run_off
from applique.panel.requests import RowRequest, rows_set, scaled_inks
from applique.units import LONGEST, MM_PER_INCH, SHORTEST, Units, as_length, telling_apart

__all__ = [
    "baselines",
    "cap_heights",
    "held_down_notices",
    "on_steps",
    "refuse_what_does_not_fit",
    "step_notices",
]

_INCH_STEP: Final = Fraction(1, 16)
_METRIC_STEP: Final = 1 / MM_PER_INCH
_ROUNDING: Final = 1e-9
_WIDTH_ERROR: Final = 1e-6
"""How far from the width that it states a row may end, in inches: a fortieth of a micron."""
_MOST_TRIES: Final = 60
_FINEST_HEIGHT: Final = 10**8
_MUCH: Final = 2
"""How many times as wide as any other a row of several words is that is said to hold them down, and how many times as
high they could be; our own."""


def cap_heights(
    requests: Sequence[RowRequest], design: Design, *, near: Fraction | None = None
) -> list[Fraction]:
    """The cap height of each row: the stated one, that at which a row is as wide as it says, and for rows that say
    `fit` the largest common one at which all fits.

    `near` is where to look first; it has no part in what comes back.

    Raises:
        Refusal: a row cannot be as narrow as it says, or no common height is small enough.
    """
    stated = [_stated_height(request, design.units) for request in requests]
    if all(height is not None for height in stated):
        return [height or Fraction(0) for height in stated]

    def heights(common: Fraction | float) -> list[Fraction | float]:
        return [common if height is None else height for height in stated]

    step = _INCH_STEP if design.units is Units.INCHES else _METRIC_STEP
    moved = float(design.lettering.baseline_step or 0)
    best = _largest(
        lambda common: _slack(design, requests, heights(common), moved),
        step,
        design.panel_size[1],
        near=near,
    )
    if best is None:
        raise Refusal(_wide_ones(design, requests, stated) or _nothing_fits(design, requests))
    return [Fraction(height) for height in heights(best)]


def held_down_notices(
    design: Design, requests: Sequence[RowRequest], heights: Sequence[Fraction], inks: Sequence[Bounds]
) -> Iterator[Notice]:
    """That one long row decides how large the others are, which could be `_MUCH` higher were it alone to stay so."""
    wide = _widest(requests, inks)
    larger = None if wide is None else _height_beside(requests, design, heights, wide=wide)
    if wide is None or larger is None or larger < _MUCH * heights[wide]:
        return
    yield Notice(
        kind="row-holds-all-down",
        what=message(
            "“{words}” is long, so all rows are set {height} high; with a letter height of its own for it, the others "
            "could be {larger} high",
            words=requests[wide].row.text,
            height=as_length(heights[wide], design.units, denominator=16),
            larger=as_length(larger, design.units, denominator=16),
        ),
        where=Where.in_row(requests[wide].number),
        fix=message("break it over two rows, or give it a letter height of its own"),
    )


def _height_beside(
    requests: Sequence[RowRequest], design: Design, heights: Sequence[Fraction], *, wide: int
) -> Fraction | None:
    """The largest common cap height of the rows that say `fit`, were that at index `wide` to stay as high as it is."""
    fitted = [_is_fitted(request) and index != wide for index, request in enumerate(requests)]
    step = _INCH_STEP if design.units is Units.INCHES else _METRIC_STEP
    moved = float(design.lettering.baseline_step or 0)

    def slack(common: Fraction | float) -> float:
        sizes = [common if fits else height for fits, height in zip(fitted, heights, strict=True)]
        return _slack(design, requests, sizes, moved)

    return _largest(slack, step, design.panel_size[1], near=heights[wide])


def _widest(requests: Sequence[RowRequest], inks: Sequence[Bounds]) -> int | None:
    """The index of the row of several words that says `fit` and is `_MUCH` wider than any other that does, if any."""
    widths = {
        index: extent(ink)[0]
        for index, (request, ink) in enumerate(zip(requests, inks, strict=True))
        if _is_fitted(request)
    }
    if len(widths) < 2:
        return None
    widest, *others = sorted(widths, key=lambda index: -widths[index])
    could_be_broken = len(requests[widest].row.text.split()) > 1
    return widest if could_be_broken and widths[widest] >= _MUCH * widths[others[0]] else None


def _is_fitted(request: RowRequest) -> bool:
    return request.cap_height is None and request.width is None


def _stated_height(request: RowRequest, units: Units) -> Fraction | None:
    """The cap height that a row asks for, by itself or by its width; None for the largest that fits."""
    if request.width is None:
        return request.cap_height
    width = float(request.width)

    def over(height: float) -> float:
        return extent(request.set_at(height).ink)[0] - width

    low, high = float(SHORTEST), float(LONGEST)
    if over(low) > _WIDTH_ERROR:
        raise Refusal(
            Problem(
                kind="row-cannot-be-so-narrow",
                what=message(
                    "“{words}” cannot be {width} wide: the gaps between its letters alone take as much",
                    words=request.row.text,
                    width=as_length(request.width, units),
                ),
                where=Where.in_row(request.number),
                fix=message("a larger width, or less space between the letters"),
            )
        )
    # The width grows with the height, nearly along a line: from one height its own proportion leads to the next.
    height = min(width, high)
    for _ in range(_MOST_TRIES):
        beyond = over(height)
        if abs(beyond) <= _WIDTH_ERROR:
            break
        low, high = (height, high) if beyond < 0 else (low, height)
        next_one = height * width / (beyond + width)
        height = next_one if low < next_one < high else (low + high) / 2
    return Fraction(height).limit_denominator(_FINEST_HEIGHT)


def _largest(
    slack: Callable[[Fraction | float], float],
    step: Fraction,
    most: Fraction,
    *,
    near: Fraction | None = None,
) -> Fraction | None:
    """The largest multiple of `step`, no larger than `most`, at which `slack` is not negative.

    `slack` falls as its argument grows, nearly along a line, so a few steps of false position find the place. Only
    whole steps are tried: with the next key most of them are asked again. An answer that is `near` is found at once.
    """
    known: dict[int, float] = {}

    def left(count: int) -> float:
        if count not in known:
            known[count] = slack(count * step)
        return known[count]

    low, high = 1, math.floor(most / step)
    guess = math.floor(near / step) if near is not None else 0
    if low <= guess <= high:
        if left(guess) < 0:
            high = guess
        elif guess == high or left(guess + 1) < 0:
            return guess * step
        else:
            low = guess + 1
    if high < low or left(low) < 0:
        return None
    if left(high) >= 0:
        return high * step
    tried = 0
    while high - low > 1:
        tried += 1
        share = left(low) / (left(low) - left(high)) if tried % 3 else 0.5
        middle = min(max(low + math.floor((high - low) * share), low + 1), high - 1)
        if left(middle) >= 0:
            low = middle
        else:
            high = middle
    return low * step


def _slack(
    design: Design, requests: Sequence[RowRequest], heights: Sequence[Fraction | float], moved: float
) -> float:
    """What is left, in inches, of the tightest of all the room that the rows need; negative: too large.

    Rows may move by half of `moved` up or down afterwards.
    """
    if (outline := outline_of_panel(design)) is not None:
        return room_inside(outline, design, requests, rows_set(requests, heights))
    inks = scaled_inks(requests, heights)
    if not run_down(design):
        return min(_slack_across(design, requests, inks), _slack_down(design, requests, inks, moved))
    across = of_rows(zip(requests, inks, strict=True), design, down=False)
    down = _slack_down(across_alone(design), [one for one, _ in across], [ink for _, ink in across], moved)
    return min(*slack_beside(design, inks), down)


def _slack_across(design: Design, requests: Sequence[RowRequest], inks: Sequence[Bounds]) -> float:
    room = float(design.panel_size[0] - 2 * design.panel.margin)
    held = [ink for request, ink in zip(requests, inks, strict=True) if not request.is_free]
    return min((room - (x1 - x0) for x0, _, x1, _ in held), default=math.inf)


def _slack_down(
    design: Design, requests: Sequence[RowRequest], inks: Sequence[Bounds], moved: float = 0.0
) -> float:
    """What is left of the tightest room above, below and between the rows; those that run off keep no margin."""
    if not requests:
        return math.inf
    tops_and_bottoms = [
        (baseline + ink[3], baseline + ink[1])
        for baseline, ink in zip(baselines(design, inks), inks, strict=True)
    ]
    margin, gap = float(design.panel.margin) + moved / 2, float(design.lettering.row_gap) + moved
    held = [reach for request, reach in zip(requests, tops_and_bottoms, strict=True) if not request.is_free]
    slacks = [float(design.panel_size[1]) - margin - top for top, _ in held]
    slacks += [bottom - margin for _, bottom in held]
    ordered = sorted(tops_and_bottoms, reverse=True)
    slacks += [above[1] - below[0] - gap for above, below in pairwise(ordered)]
    return min(slacks, default=math.inf)


def baselines(design: Design, inks: Sequence[Bounds]) -> list[float]:
    """The y of each baseline, the first row on top."""
    height, count = float(design.panel_size[1]), len(inks)
    stated = [row.baseline for row in design.row]
    if any(baseline is not None for baseline in stated):
        return [height - float(baseline or 0) for baseline in stated]
    if design.lettering.row_spacing is not None or design.lettering.rows is Rows.EVEN_BASELINES:
        return _even_baselines(design, inks)
    white = (height - math.fsum(top - bottom for _, bottom, _, top in inks)) / (count + 1)
    baselines, y = [], height
    for _, bottom, _, top in inks:
        baselines.append(y - white - top)
        y -= white + top - bottom
    return baselines


def _even_baselines(design: Design, inks: Sequence[Bounds]) -> list[float]:
    """Baselines at one distance: the stated one with the rows in the middle, or one that fills the panel."""
    height, count = float(design.panel_size[1]), len(inks)
    top, bottom = inks[0][3], inks[-1][1]
    if design.lettering.row_spacing is not None:
        pitch = float(design.lettering.row_spacing)
        first = (height + (count - 1) * pitch - top - bottom) / 2
    else:
        white = (height - math.fsum(ink[3] for ink in inks)) / (count + 1)
        pitch = (height - 2 * white - top) / (count - 1) if count > 1 else 0.0
        first = height - white - top if count > 1 else (height - top - bottom) / 2
    return [first - index * pitch for index in range(count)]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spot:
    """Where a row may lie: its baseline, and how far down and up it reaches with all that is moved by hand."""

    baseline: float
    low: float
    high: float
    stays: bool


def on_steps(
    design: Design,
    requests: Sequence[RowRequest],
    inks: Sequence[Bounds],
    baselines: Sequence[float],
    *,
    measured_from: Fraction,
) -> tuple[list[float], tuple[int, ...]]:
    """The `baselines` with those of level rows moved by at most half the `baseline_step` of the design, so that each is
    a whole number of steps below `measured_from`; and the indices of rows that had to stay where they were.

    A row stays where it would come nearer to another than the row gap, or nearer to the edge than the margin, and
    nearer than it was; as few rows as can be. Baselines that the design states stay as stated, and so do turned rows.
    """
    step = design.lettering.baseline_step
    if step is None or _stated(design):
        return list(baselines), ()
    spots = [
        _spots(design, request, ink, baseline, measured_from=measured_from)
        for request, ink, baseline in zip(requests, inks, baselines, strict=True)
    ]
    down = sorted(range(len(spots)), key=lambda row: -spots[row][0].baseline)
    gap = float(design.lettering.row_gap)
    # For each spot of a row, the fewest rows that stay if it lies there, and where those above it lie then.
    best: list[tuple[int, tuple[_Spot, ...]]] = [(spot.stays, (spot,)) for spot in spots[down[0]]]
    for above, row in pairwise(down):
        least = min(gap, spots[above][0].low - spots[row][0].high)
        reached = [
            (count + spot.stays, (*lie, spot))
            for spot in spots[row]
            for count, lie in best
            if lie[-1].low - spot.high >= least - _ROUNDING
        ]
        best = [
            min((one for one in reached if one[1][-1] is spot), key=lambda one: one[0])
            for spot in {id(lie[-1]): lie[-1] for _, lie in reached}.values()
        ]
    lie = dict(zip(down, min(best, key=lambda one: one[0])[1], strict=True))
    moved = [baseline + lie[row].baseline - spots[row][0].baseline for row, baseline in enumerate(baselines)]
    return moved, tuple(row for row in range(len(spots)) if lie[row].stays)


def _spots(
    design: Design, request: RowRequest, ink: Bounds, baseline: float, *, measured_from: Fraction
) -> list[_Spot]:
    """Where a row may lie: first where it is, then on the nearest step if the margin lets it."""
    step = design.lettering.baseline_step or Fraction(0)
    row, y = request.row, baseline + float(request.row.up)
    low, high = _reach(request, ink)
    stays = _Spot(baseline=y, low=y + low, high=y + high, stays=not row.turn)
    if row.turn:
        return [stays]
    at = float(measured_from - round((measured_from - Fraction(y)) / step) * step)
    if abs(at - y) <= _ROUNDING:
        return [replace(stays, stays=False)]
    margin, top = float(design.panel.margin), float(design.panel_size[1])
    on_step = _Spot(baseline=at, low=at + low, high=at + high, stays=False)
    if on_step.low < min(margin, stays.low) - _ROUNDING:
        return [stays]
    if top - on_step.high < min(margin, top - stays.high) - _ROUNDING:
        return [stays]
    return [stays, on_step]


def _reach(request: RowRequest, ink: Bounds) -> tuple[float, float]:
    """How far below and above its baseline a row reaches, with letters nudged up and down and all of it turned."""
    nudged = [float(nudge.up) for nudge in request.row.nudge]
    low, high = ink[1] + min([0.0, *nudged]), ink[3] + max([0.0, *nudged])
    if not request.row.turn:
        return low, high
    angle = math.radians(request.row.turn)
    half = (abs(math.sin(angle)) * (ink[2] - ink[0]) + abs(math.cos(angle)) * (high - low)) / 2
    return (low + high) / 2 - half, (low + high) / 2 + half


def step_notices(design: Design, requests: Sequence[RowRequest], stayed: Sequence[int]) -> Iterator[Notice]:
    """That a row could not be moved onto a step."""
    if design.lettering.baseline_step is None:
        return
    for row in stayed:
        yield Notice(
            kind="baseline-off-the-step",
            what=message(
                "the baseline of “{words}” is not on a whole number of {step}: there it would be nearer to another "
                "row than the row gap, or to the edge than the margin",
                words=requests[row].row.text,
                step=as_length(design.lettering.baseline_step, design.units, denominator=16),
            ),
            where=Where.in_row(requests[row].number),
            fix=message("smaller letters, or a smaller row gap"),
        )


def refuse_what_does_not_fit(
    design: Design, requests: Sequence[RowRequest], heights: Sequence[Fraction], inks: Sequence[Bounds]
) -> None:
    """Raise a `Refusal` for rows wider than the panel or too many for it, with the cap height that would fit."""
    if 0 < sum(row.baseline is not None for row in design.row) < sum(not row.runs_down for row in design.row):
        raise Refusal(
            Problem(
                kind="baselines-for-some",
                what=message("some rows state a baseline and some do not"),
                where=Where.key("row"),
                fix=message("a baseline for every row, or for none"),
            )
        )
    if (outline := outline_of_panel(design)) is not None:
        if is_too_large_inside(outline, design, requests, rows_set(requests, heights)):
            raise Refusal(
                Problem(
                    kind="rows-outside-the-outline",
                    what=message(
                        "the letters do not fit inside the outline of the panel with a margin of {margin}",
                        margin=as_length(design.panel.margin, design.units),
                    ),
                    where=Where.key("panel"),
                    fix=_size_that_would(design, requests, heights),
                )
            )
        return
    problems = _wide_ones(design, requests, heights)
    level = of_rows(zip(requests, inks, strict=True), design, down=False)
    if not problems and run_down(design):
        problems = list(_beside_problems(design, requests, heights, inks))
    if (
        not problems
        and _slack_down(across_alone(design), [one for one, _ in level], [ink for _, ink in level]) < -1e-9
        and not _stated(design)
    ):
        problems.append(
            Problem(
                kind="rows-too-high",
                what=message(
                    "the rows, their gaps and margins are higher than the panel of {height}",
                    height=_said(design, design.panel_size[1]),
                ),
                where=Where.key("panel"),
                fix=_size_that_would(design, requests, heights),
            )
        )
    if problems:
        raise Refusal(problems)


def _wide_ones(
    design: Design, requests: Sequence[RowRequest], heights: Sequence[Fraction | None]
) -> list[Problem]:
    """A problem for each row that is wider than the panel between its margins, of those whose height is known."""
    room = design.panel_size[0] - 2 * design.panel.margin
    problems: list[Problem] = []
    for request, height in zip(requests, heights, strict=True):
        # A turned row is judged where it lies: words up the side may be longer than the panel is wide.
        if height is None or request.row.turn or request.is_free or request.row.runs_down:
            continue
        width = extent(request.set_at(float(height)).ink)[0]
        if width > float(room) + _WIDTH_ERROR:
            problems.append(_too_wide(design, request, height, width, room))
    return problems


def _beside_problems(
    design: Design, requests: Sequence[RowRequest], heights: Sequence[Fraction], inks: Sequence[Bounds]
) -> Iterator[Problem]:
    """What does not fit of rows that run down: one that is too long, and all of them beside the others."""
    across, _ = slack_beside(design, inks)
    room = design.panel_size[1] - 2 * design.panel.margin
    for request, ink in zip(requests, inks, strict=True):
        # A turned row is judged where it lies.
        if request.row.runs_down and not request.row.turn and extent(ink)[1] > float(room) + _WIDTH_ERROR:
            said = telling_apart([(extent(ink)[1], room)], design.units)
            yield Problem(
                kind="row-too-long-down",
                what=message(
                    "“{words}” is {height} high; the panel has {room} between its margins",
                    words=request.row.text,
                    height=said(extent(ink)[1]),
                    room=said(room),
                ),
                where=Where.in_row(request.number),
                fix=_height_that_would(design, requests, heights, across_only=False),
            )
    if across < -_WIDTH_ERROR and len(requests) > 1:
        yield Problem(
            kind="rows-too-wide-beside",
            what=message(
                "the rows beside one another, their gaps and margins are wider than the panel of {width}",
                width=_said(design, design.panel_size[0]),
            ),
            where=Where.key("panel"),
            fix=_size_that_would(design, requests, heights),
        )


def _too_wide(design: Design, request: RowRequest, height: Fraction, width: float, room: Fraction) -> Problem:
    said = telling_apart([(width, room)], design.units)
    return Problem(
        kind="row-too-wide",
        what=message(
            "“{words}” is {width} wide; the panel has {room} between its margins",
            words=request.row.text,
            width=said(width),
            room=said(room),
        ),
        where=Where.in_row(request.number),
        fix=or_run_off(
            design,
            message("a width of “{width}” at the most, or a larger panel", width=_said(design, room))
            if request.width is not None
            else _height_that_would(design, [request], [height], across_only=True),
        ),
    )


def _stated(design: Design) -> bool:
    return any(row.baseline is not None for row in design.row)


def _size_that_would(design: Design, requests: Sequence[RowRequest], heights: Sequence[Fraction]) -> Message:
    """What would make rows fit down the panel, as words of advice."""
    if any(request.width is not None for request in requests):
        return message("narrower rows, less space between them, or a larger panel")
    return _height_that_would(design, requests, heights, across_only=False)


def _height_that_would(
    design: Design, requests: Sequence[RowRequest], heights: Sequence[Fraction], *, across_only: bool
) -> Message:
    """The cap height at which `requests` fit, their sizes kept in proportion, as words of advice."""
    tallest = max(heights)

    def slack(height: Fraction | float) -> float:
        tried = [float(one) / float(tallest) * float(height) for one in heights]
        if (run_down(design) or outline_of_panel(design) is not None) and not across_only:
            return _slack(design, requests, tried, 0.0)
        inks = scaled_inks(requests, tried)
        return _slack_across(design, requests, inks) if across_only else _slack_down(design, requests, inks)

    step = _INCH_STEP if design.units is Units.INCHES else _METRIC_STEP
    best = _largest(slack, step, tallest)
    if best is None:
        return message("a larger panel, smaller margins or gaps, or fewer words")
    return message(
        "a letter height of “{height}” (the largest that fits), or a larger panel",
        height=as_length(best, design.units, denominator=16),
    )


def _nothing_fits(design: Design, requests: Sequence[RowRequest]) -> Problem:
    return Problem(
        kind="panel-too-small",
        what=messages(
            "a panel of {width} by {height} is too small for {count} row with its margins and gaps",
            "a panel of {width} by {height} is too small for {count} rows with its margins and gaps",
            len(requests),
            width=_said(design, design.panel_size[0]),
            height=_said(design, design.panel_size[1]),
        ),
        where=Where.key("panel"),
        fix=message("a larger panel, smaller margins, narrower rows, less space between them, or fewer words")
        if any(request.width is not None for request in requests)
        else message("a larger panel, smaller margins, less space between rows, or fewer words"),
    )


def _said(design: Design, length: Fraction | float) -> Measure:
    return as_length(length, design.units)
