"""Cures for findings: changes of the design that have been tried, each with the design it leads to, as values.

A cure is offered only when the design that it makes can be placed on its panel, the finding is gone, and no other
row or check is worse for it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from itertools import islice
from typing import Final

from applique.colors import contrast_ratio
from applique.design import Around, Design, Fabric, OutlineCounters, Row, Stitch
from applique.errors import Refusal
from applique.panel import PlacedRow, place_rows
from applique.sewing.checks import check_panel
from applique.sewing.findings import Checks, Finding, FindingKind
from applique.sewing.limits import stitch_width_range
from applique.sewing.placed import place
from applique.sewing.stitches import LOW_CONTRAST
from applique.typeset.bundled import BUNDLED
from applique.typeset.fonts import open_typeface
from applique.units import MM_PER_INCH, Units, round_up

__all__ = ["Cure", "CureKind", "check_design", "cured_design", "cures", "passing_fonts"]

_INCH_STEP: Final = Fraction(1, 16)
_METRIC_STEP: Final = 1 / MM_PER_INCH
_WEIGHT_STEPS: Final = 12
_BUMPS: Final = 3
_SIZE_KINDS: Final = (
    FindingKind.STROKE,
    FindingKind.COUNTER,
    FindingKind.SLOT,
    FindingKind.HOLE,
    FindingKind.NECK,
    FindingKind.READING,
)
_SMALL: Final = (FindingKind.STROKE, FindingKind.COUNTER, FindingKind.SLOT, FindingKind.POINT)
_BETTER: Final = 1.02
"""A finding that was there before may not be worse by more than this factor after a cure."""
_MOST_FONTS: Final = 4
_OUTLINE: Final = Fraction(1, 4)
_INK_THREADS: Final = ("#1b1b1b", "#fbf8f0")


class CureKind(StrEnum):
    """What a cure changes. The last ones are for what is refused, and for borders (see `web.findings`)."""

    HEIGHT = "letter height"
    EVERY_HEIGHT = "letter height of every row"
    HEIGHT_AND_PANEL = "letter height and panel"
    WEIGHT = "weight of the font"
    FONT = "font"
    GAP = "least gap"
    GAP_AND_NUDGES = "least gap, no nudges"
    GAP_AND_HEIGHT = "least gap and letter height"
    WORDS_AS_ONE = "one outline behind each word"
    HOLES_CLOSED = "holes closed"
    ROW_GAP = "row gap"
    ROW_GAP_AND_PANEL = "row gap and panel"
    NUDGES = "no nudges"
    MARGIN = "margin"
    MARGIN_AND_PANEL = "margin and panel"
    MARGIN_AND_BASELINES = "margin, rows where they fall"
    MOVED_SIDEWAYS = "row moved to the left or right"
    MOVED_UPRIGHT = "row moved up or down"
    STITCH_WIDTH = "stitch width"
    DARKER_THREAD = "satin stitch in a darker thread"
    LIGHTER_THREAD = "satin stitch in a lighter thread"
    OUTLINE = "outline"
    FABRIC = "fabric of the letters"

    LARGEST = "as large as fits"
    STAYS = "stays as it is"
    PUT_BACK = "put back"
    RUNS_OFF = "run off the panel"
    CENTERED = "centered"
    OTHER_FONT = "another font"
    EVEN_SQUARES = "squares that come out even"
    EVEN_PANEL = "panel around which squares come out even"
    EVEN_PANEL_AND_SQUARES = "panel, and squares that come out even around it"
    EVEN_RECTANGLES = "rectangles that come out even"
    EVERY_LARGEST = "every row as large as fits"
    EVERY_LARGEST_PUT_BACK = "every row as large as fits, put back"


_SAME: Final = {
    CureKind.HEIGHT_AND_PANEL: CureKind.HEIGHT,
    CureKind.GAP_AND_NUDGES: CureKind.GAP,
    CureKind.GAP_AND_HEIGHT: CureKind.GAP,
    CureKind.ROW_GAP_AND_PANEL: CureKind.ROW_GAP,
    CureKind.MARGIN_AND_PANEL: CureKind.MARGIN,
    CureKind.MARGIN_AND_BASELINES: CureKind.MARGIN,
}
"""Cures that are another way to do the same, should the plain one not pass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """One thing to do, and the design with it done.

    `row` or `border` is what it is done to (from 1), None for the whole design. `length` is the height, gap, margin or
    width that it sets, in inches, and `name` the font, fabric or thread that it takes, where it does and that has a
    name.
    """

    kind: CureKind
    row: int | None = None
    border: int | None = None
    length: Fraction | None = None
    name: str = ""
    design: Design

    @property
    def choice(self) -> tuple[CureKind, str]:
        """Only one cure of each choice is offered."""
        return _SAME.get(self.kind, self.kind), self.name


def check_design(design: Design) -> Checks:
    """The checks of a design whose words fit.

    Raises:
        Refusal: what cannot be placed, with every problem.
    """
    return check_panel(place(design))


def cures(checks: Checks, finding: Finding, *, most: int = 6) -> tuple[Cure, ...]:
    """Up to `most` cures for one of the findings of `checks`, each of them tried on the design that was checked; none
    in a design of blocks so far."""
    return tuple(islice(_cures(checks, finding), most))


def cured_design(
    design: Design, *, accepted: Callable[[Finding, Design], bool] = lambda finding, design: False
) -> tuple[Design, tuple[tuple[Finding, Cure], ...], tuple[Finding, ...]]:
    """`design` with the first cure of each finding taken, one after the other, but for those that are `accepted`.

    Returns the new design, each finding with the cure that was taken, and the findings that no cure was found for.
    """
    taken: list[tuple[Finding, Cure]] = []
    given_up: list[Finding] = []
    for _ in range(4 * len(design.rows) + 8):
        checks = check_design(design)
        left = [
            one
            for one in checks.findings
            if not accepted(one, design)
            and (one.kind, one.where) not in {(g.kind, g.where) for g in given_up}
        ]
        if not left:
            break
        cure = next(_cures(checks, left[0]), None)
        if cure is None:
            given_up.append(left[0])
        else:
            taken.append((left[0], cure))
            design = cure.design
    return design, tuple(taken), tuple(given_up)


def passing_fonts(design: Design, row: int) -> tuple[str, ...]:
    """The bundled fonts that can spell row `row` (from 1) and in which it can be cut and sewn at its size."""
    heights = {row.number: row.cap_height for row in place_rows(design).rows}
    return tuple(
        font.name for font in BUNDLED if _passes(_in_font(design, row, font.name, height=heights[row]), row)
    )


def _passes(design: Design, row: int) -> bool:
    checks = _tried(design)
    return checks is not None and not any(f.row == row and f.kind in _SMALL for f in checks.findings)


def _cures(before: Checks, finding: Finding) -> Iterator[Cure]:
    if before.placed.several:
        return
    makers: dict[FindingKind, Sequence[Callable[[Checks, Finding, int], Iterator[Cure]]]] = {
        FindingKind.STROKE: (_higher, _weights, _fonts),
        FindingKind.COUNTER: (_higher, _weights, _fonts),
        FindingKind.SLOT: (_higher, _weights, _fonts),
        FindingKind.HOLE: (_closed_holes, _higher),
        FindingKind.NECK: (_closed_holes, _higher),
        FindingKind.POINT: (_fonts,),
        FindingKind.CLEAR: (_open_gaps,),
        FindingKind.OUTLINES: (_words_as_one, _open_gaps),
        FindingKind.ROWS: (_open_rows,),
        FindingKind.SEAM: (_clear_seam,),
        FindingKind.SLIVER: (_moved_in, _clear_seam),
        FindingKind.STITCH: (_stitch_width,),
        FindingKind.READING: (_higher,),
        FindingKind.CONTRAST: (_thread, _outline, _fabrics),
    }
    if finding.row is None:
        return
    offered: set[tuple[CureKind, str]] = set()
    for maker in makers[finding.kind]:
        for cure in maker(before, finding, finding.row):
            if cure.choice not in offered and _solves(cure.design, before, finding):
                offered.add(cure.choice)
                yield cure


def _tried(design: Design) -> Checks | None:
    try:
        return check_design(design)
    except Refusal:
        return None


def _solves(design: Design, before: Checks, finding: Finding) -> bool:
    after = _tried(design)
    if after is None:
        return False
    known = {(one.kind, one.where): one for one in before.findings}
    for one in after.findings:
        if (one.kind, one.where) == (finding.kind, finding.where):
            return False
        former = known.get((one.kind, one.where))
        if former is None or one.measure * _BETTER < former.measure:
            return False
    return True


# Size, weight, font


def _higher(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    """The least cap height at which all of the row passes, alone and, where the panel allows it, for every row."""
    design = before.placed.design
    row = _row(before, number)
    wanted = [one for one in before.findings if one.row == number and one.kind in _SIZE_KINDS]
    factor = max(one.limit / max(one.measure, 1e-6) for one in (*wanted, finding))
    step = _step(design)
    least = round_up(Fraction(row.cap_height * Fraction(factor)).limit_denominator(10**6), step)
    for bump in range(_BUMPS):
        height = least + bump * step
        yield Cure(
            kind=CureKind.HEIGHT,
            row=number,
            length=height,
            design=_with_row(design, number, cap_height=height, width=None),
        )
        if len(design.row) > 1:
            yield Cure(kind=CureKind.EVERY_HEIGHT, length=height, design=_every_height(design, height))
    panel = _larger_panel(design, row, least)
    if panel is not None:
        yield panel


def _every_height(design: Design, height: Fraction) -> Design:
    lines = tuple(row.sized(None) for row in design.row)
    return replace(design, row=lines, lettering=replace(design.lettering, cap_height=height))


def _larger_panel(design: Design, row: PlacedRow, height: Fraction) -> Cure | None:
    """The row at `height`, on a panel that grows with it where it has to."""
    growth = height / row.cap_height
    wide = _up_to_inch(
        max(design.panel.width, Fraction(row.ink[2] - row.ink[0]) * growth + 2 * design.panel.margin)
    )
    high = _up_to_inch(design.panel.height + (height - row.cap_height) * 2)
    if row.asked.runs_down:
        long = Fraction(row.ink[3] - row.ink[1]) * growth
        high = _up_to_inch(max(design.panel.height, long + 2 * design.panel.margin))
        wide = _up_to_inch(design.panel.width + Fraction(row.ink[2] - row.ink[0]) * (growth - 1))
    grown = replace(design.panel, width=wide, height=high)
    if (grown.width, grown.height) == (design.panel.width, design.panel.height):
        return None
    return Cure(
        kind=CureKind.HEIGHT_AND_PANEL,
        row=row.number,
        length=height,
        design=_with_row(replace(design, panel=grown), row.number, cap_height=height, width=None),
    )


def _up_to_inch(length: Fraction) -> Fraction:
    return Fraction(math.ceil(length))


def _weights(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    """For a variable font the weight nearest to the present one at which strokes and slots both pass."""
    design = before.placed.design
    wanted = design.row[number - 1]
    font, axes = _font_of(design, wanted)
    face = open_typeface(font, axes)
    axis = next((axis for axis in face.facts.axes if axis.tag == "wght"), None)
    if axis is None:
        return
    now = face.axes.get("wght", axis.default)
    step = (axis.most - axis.least) / _WEIGHT_STEPS
    tried = sorted(
        (axis.least + index * step for index in range(_WEIGHT_STEPS + 1)), key=lambda w: abs(w - now)
    )
    height = _row(before, number).cap_height
    for weight in (round(weight) for weight in tried if abs(weight - now) >= 1):
        others = {tag: value for tag, value in axes.items() if tag not in ("weight", "wght")}
        weighed = {**others, "wght": float(weight)}
        changed = _with_row(_kept_high(design, number, height), number, axes=weighed, font=font)
        if _passes(changed, number):
            yield Cure(kind=CureKind.WEIGHT, row=number, name=face.name, design=changed)
            return


def _fonts(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    """Bundled fonts that pass at this size, the row kept at its height."""
    design = before.placed.design
    wanted = design.row[number - 1]
    font, _ = _font_of(design, wanted)
    height = _row(before, number).cap_height
    offered = 0
    for bundled in BUNDLED:
        if bundled.name == font or offered >= _MOST_FONTS:
            continue
        changed = _in_font(design, number, bundled.name, height=height)
        if _passes(changed, number):
            offered += 1
            yield Cure(kind=CureKind.FONT, row=number, name=bundled.name, design=changed)


def _in_font(design: Design, number: int, font: str, *, height: Fraction) -> Design:
    """The row in another font at its present size."""
    return _with_row(_kept_high(design, number, height), number, font=font, axes={})


def _kept_high(design: Design, number: int, height: Fraction) -> Design:
    """The row at its present `height` whatever is changed of it; one that states its width keeps that instead."""
    if design.row[number - 1].width is not None:
        return design
    return _with_row(design, number, cap_height=height)


def _font_of(design: Design, row: Row) -> tuple[str, dict[str, float]]:
    own = row.font is not None and row.font != design.lettering.font
    axes = row.axes if row.axes is not None else ({} if own else design.lettering.axes)
    return row.font or design.lettering.font, dict(axes)


# Room


def _open_gaps(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    """The spacing that opens the gaps, and with it a smaller height where the row grows too wide."""
    design = before.placed.design
    gap = round_up(Fraction(finding.limit).limit_denominator(10**6), _INCH_STEP)
    opened = _with_row(design, number, least_gap=gap)
    yield Cure(kind=CureKind.GAP, row=number, length=gap, design=opened)
    still = _with_row(opened, number, nudge=())
    yield Cure(kind=CureKind.GAP_AND_NUDGES, row=number, length=gap, design=still)
    height = _row(before, number).cap_height
    for percent in (97, 94, 90, 85):
        lower = Fraction(math.floor(height * percent / 100 / _step(design))) * _step(design)
        yield Cure(
            kind=CureKind.GAP_AND_HEIGHT,
            row=number,
            length=gap,
            design=_with_row(still, number, cap_height=lower, width=None),
        )


def _words_as_one(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    design = before.placed.design
    if any(row.runs_down for row in design.row):
        return
    yield Cure(
        kind=CureKind.WORDS_AS_ONE,
        design=replace(design, outline=replace(design.outline, around=Around.WORDS)),
    )


def _closed_holes(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    design = before.placed.design
    yield Cure(
        kind=CureKind.HOLES_CLOSED,
        design=replace(design, outline=replace(design.outline, counters=OutlineCounters.CLOSED)),
    )


def _open_rows(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    design = before.placed.design
    gap = round_up(
        max(Fraction(finding.limit).limit_denominator(10**6), design.lettering.row_gap), _INCH_STEP
    )
    free = replace(
        design,
        lettering=replace(design.lettering, row_gap=gap, row_spacing=None),
        row=tuple(replace(row, baseline=None, up=Fraction(0), turn=0.0) for row in design.row),
    )
    yield Cure(kind=CureKind.ROW_GAP, length=gap, design=free)
    missing = Fraction(finding.limit - finding.measure).limit_denominator(64)
    high = _up_to_inch(design.panel.height + len(design.row) * (missing + 1))
    yield Cure(
        kind=CureKind.ROW_GAP_AND_PANEL,
        length=gap,
        design=replace(free, panel=replace(design.panel, height=high)),
    )


def _clear_seam(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    design = before.placed.design
    margin = round_up(Fraction(finding.limit).limit_denominator(10**6), _INCH_STEP)
    margin = max(margin, design.panel.margin)
    wanted = design.row[number - 1]
    if wanted.right or wanted.up or wanted.turn or wanted.nudge:
        yield Cure(
            kind=CureKind.NUDGES,
            row=number,
            design=_with_row(design, number, right=Fraction(0), up=Fraction(0), turn=0.0, nudge=()),
        )
    kept = replace(design, panel=replace(design.panel, margin=margin))
    yield Cure(kind=CureKind.MARGIN, length=margin, design=kept)
    missing = 2 * Fraction(max(finding.limit - finding.measure, 0.0)).limit_denominator(64)
    grown = replace(
        kept.panel,
        width=_up_to_inch(design.panel.width + missing),
        height=_up_to_inch(design.panel.height + missing),
    )
    yield Cure(kind=CureKind.MARGIN_AND_PANEL, length=margin, design=replace(kept, panel=grown))
    free = tuple(replace(row, baseline=None) for row in design.row)
    yield Cure(kind=CureKind.MARGIN_AND_BASELINES, length=margin, design=replace(kept, row=free))


def _moved_in(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    """The row moved in from the side that it runs off, so that enough is left of the letter there."""
    design, panel, spot = before.placed.design, before.placed.panel, finding.spots[0]
    row, (x, y) = design.row[number - 1], spot.at
    width, height = float(panel.width), float(panel.height)
    near = {(1, 0): x, (-1, 0): width - x, (0, 1): y, (0, -1): height - y}
    right, up = min(near, key=lambda way: near[way])
    missing = Fraction(finding.limit - spot.measure).limit_denominator(10**6)
    for times in (1, 2, 4):
        far = round_up(missing * times, _step(design))
        moved = _with_row(design, number, right=row.right + right * far, up=row.up + up * far)
        kind = CureKind.MOVED_SIDEWAYS if right else CureKind.MOVED_UPRIGHT
        yield Cure(kind=kind, row=number, length=far, design=moved)


# Stitch and contrast


def _stitch_width(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    design = before.placed.design
    allowed = stitch_width_range(Stitch.SATIN)
    if allowed is None:
        return
    width = allowed[0] if finding.measure < float(allowed[0]) else allowed[1]
    yield Cure(
        kind=CureKind.STITCH_WIDTH,
        row=number,
        length=width,
        design=_with_row(design, number, stitch_width=width),
    )


def _thread(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    """A satin line in the thread of the design's colors, or black or cream, that stands out most."""
    design = before.placed.design
    background = before.placed.fabrics.panel.color
    fabrics = _own_fabrics(before)
    choice = [*(fabric.color for fabric in fabrics), *_INK_THREADS]
    strong = [color for color in choice if contrast_ratio(color, background) >= LOW_CONTRAST]
    for color in sorted(strong, key=lambda one: -contrast_ratio(one, background))[:1]:
        named = next((fabric.name for fabric in fabrics if fabric.color == color), "")
        darker = contrast_ratio(color, "#ffffff") > contrast_ratio(background, "#ffffff")
        yield Cure(
            kind=CureKind.DARKER_THREAD if darker else CureKind.LIGHTER_THREAD,
            row=number,
            name=named,
            design=_with_row(design, number, stitch=Stitch.SATIN, thread=color),
        )


def _outline(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    design, fabrics = before.placed.design, before.placed.fabrics
    yield Cure(
        kind=CureKind.OUTLINE,
        row=number,
        length=_OUTLINE,
        name=fabrics.outline.name,
        design=_with_row(design, number, outline=_OUTLINE),
    )


def _fabrics(before: Checks, finding: Finding, number: int) -> Iterator[Cure]:
    design = before.placed.design
    background = before.placed.fabrics.panel
    for fabric in sorted(_own_fabrics(before), key=lambda one: -contrast_ratio(one.color, background.color)):
        if fabric.name != background.name:
            yield Cure(
                kind=CureKind.FABRIC,
                row=number,
                name=fabric.name,
                design=_with_row(design, number, fabric=fabric.name),
            )


# The design


def _own_fabrics(before: Checks) -> tuple[Fabric, ...]:
    """The fabrics of the design, each with its color."""
    return tuple(before.placed.fabrics.by_name[fabric.name] for fabric in before.placed.design.fabric)


def _row(before: Checks, number: int) -> PlacedRow:
    return before.placed.panel.rows[number - 1]


def _step(design: Design) -> Fraction:
    return _INCH_STEP if design.units is Units.INCHES else _METRIC_STEP


def _with_row(design: Design, number: int, **changes: object) -> Design:
    lines = list(design.row)
    lines[number - 1] = replace(lines[number - 1], **changes)  # type: ignore[arg-type]
    return replace(design, row=tuple(lines))
