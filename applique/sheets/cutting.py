"""A piece of cloth drawn with every cut, to scale: full-width cuts first and heaviest, then what is cut next.

Places are points from the lower left corner of the page.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import groupby
from typing import Final

from applique.cloth import FabricPlan
from applique.cutting.diagram import Diagram, DrawnCut, Group, Stretch
from applique.cutting.values import Region, Split
from applique.language import Message
from applique.sheets.flow import Flow
from applique.sheets.strokes import CUT, HAIR, INK, QUIET, THIN, line_on
from applique.supplies import BOUGHT
from applique.units import Units, as_size
from applique.words.cloth import use_said
from applique.words.cutting import (
    SELVAGE,
    cloth_said,
    cuts_said,
    group_said,
    left_said,
    numbers_said,
    size_said,
)

__all__ = ["diagram_height", "draw_cutting"]

_WEIGHTS: Final = (1.6, CUT, THIN)
"""Of cuts from selvage to selvage, of what is cut next, and of all below."""
_SQUARED: Final = 0.82
_LEFT: Final = 0.93
_SMALL: Final = 7.0
_LETTER: Final = 9.0
_ABOVE: Final = 39.0
"""Points above the cloth for how long bands are, and their numbers, in two rows where they stand close."""
_BELOW: Final = 21.0
"""Points below the cloth for its selvage, clear of the ends of cuts."""
_LINE: Final = 17.5
"""Points that a short paragraph takes."""
_CLOTH: Final = 20.0
"""Points for what a cloth is called."""
_MOST_POINTS: Final = 5.4
"""Points for an inch at the most, so that a small piece of cloth looks small."""
_BEYOND: Final = 6.0
"""Points that a cut from selvage to selvage stands out over the cloth."""


class _Scale:
    """One stretch of the cloth on the page."""

    def __init__(self, diagram: Diagram, stretch: Stretch, left: float, low: float, scale: float) -> None:
        self.diagram, self.stretch = diagram, stretch
        self.left, self.low, self.points = left, low, scale

    def x(self, at: Fraction) -> float:
        return self.left + float(at - self.stretch.start) * self.points

    def y(self, at: Fraction) -> float:
        return self.low + float(self.diagram.width - at) * self.points

    def box(self, region: Region) -> tuple[float, float, float, float]:
        """Left, bottom, width and height of a region."""
        low = self.y(region.y + region.width)
        return (
            self.x(region.x),
            low,
            float(region.length) * self.points,
            float(region.width) * self.points,
        )

    def holds(self, x0: Fraction, x1: Fraction) -> bool:
        return self.stretch.start <= x0 and x1 <= self.stretch.end


def diagram_height(flow: Flow, diagram: Diagram) -> float:
    """Points that a cloth takes on the page with its name, as far as its first stretch."""
    return _CLOTH + _ABOVE + float(diagram.width) * _points(flow, diagram) + _BELOW


def _points(flow: Flow, diagram: Diagram) -> float:
    """Points for an inch of a cloth, so that its longest stretch fits the line."""
    longest = max(stretch.end - stretch.start for stretch in diagram.stretches) + 2 * diagram.squaring
    return min(_MOST_POINTS, flow.width / float(longest))


def draw_cutting(flow: Flow, cutting: FabricPlan, letters: Mapping[str, str], units: Units) -> None:
    """Every cloth of a fabric with its cuts, drawn and in words; those that are cut alike once."""
    uses = {key: use_said(use) for use in cutting.uses for key in use.keys}
    for _, alike in groupby(cutting.diagrams, key=lambda one: (one.cloth.supply, one.cloth.root)):
        diagrams = list(alike)
        first = diagrams[0]
        flow.room(diagram_height(flow, first))
        said = cloth_said(cutting, first.cloth.supply, [one.cloth.number for one in diagrams], units)
        flow.paragraph(said)
        _draw(flow, first, _Names(letters, uses, units))
        _write_cuts(flow, first, letters, units)


class _Names:
    """What is said of a piece in the drawing: its letter, its size, what it is for."""

    def __init__(self, letters: Mapping[str, str], uses: Mapping[str, Message], units: Units) -> None:
        self.letters, self.uses, self.units = letters, uses, units

    def of(self, group: Group) -> tuple[Message | str, ...]:
        letter = self.letters[group.key]
        name = group_said(group, letter) if group.count > 1 else letter
        return (name, size_said(group.length, group.width, self.units), self.uses[group.key])


def _draw(flow: Flow, diagram: Diagram, names: _Names) -> None:
    """The cloth in its stretches, one below the other, all to one scale."""
    scale = _points(flow, diagram)
    high = float(diagram.width) * scale
    for stretch in diagram.stretches:
        flow.room(_ABOVE + high + _BELOW)
        start = flow.left + float(diagram.squaring) * scale
        _stretch(flow, _Scale(diagram, stretch, start, flow.y - _ABOVE - high, scale), names)
        flow.y -= _ABOVE + high + _BELOW


def _write_cuts(flow: Flow, diagram: Diagram, letters: Mapping[str, str], units: Units) -> None:
    """Every cut in its order, in words, behind the numbers of its bands."""
    for band in diagram.bands:
        is_whole = diagram.cloth.supply != BOUGHT and band.course.size == diagram.length
        cuts = list(cuts_said(band, letters, units, is_whole=is_whole))
        flow.room(_LINE * min(len(cuts), 4))
        for depth, said in cuts:
            flow.paragraph(said, indent=34 + 12 * depth, lead="" if depth else numbers_said(band))


def _stretch(flow: Flow, at: _Scale, names: _Names) -> None:
    diagram, canvas = at.diagram, flow.sheet.canvas
    _ends(flow, at)
    for region in at.stretch.leftovers:
        _left(flow, at, region, names.units)
    for cut in sorted(diagram.cuts, key=lambda cut: -cut.depth):
        if at.holds(cut.x0, cut.x1):
            _cut(flow, at, cut)
    left, right = at.x(at.stretch.start), at.x(at.stretch.end)
    for y in (at.y(Fraction(0)), at.y(diagram.width)):
        line_on(canvas, (left, y), (right, y), width=THIN)
        line_on(canvas, (left, y + 1.6), (right, y + 1.6), width=HAIR)
    for group in at.stretch.groups:
        _name(flow, at.box(_named(group)), names.of(group), is_over_cuts=group.count > 1)
    _bands(flow, at, names.units)
    flow.sheet.canvas.setFillGray(QUIET)
    _said(flow, SELVAGE, left, at.low - _BEYOND - _SMALL - 2, _SMALL)
    flow.sheet.canvas.setFillGray(INK)


def _ends(flow: Flow, at: _Scale) -> None:
    """What is cut off to square the ends, gray; a straight edge where the drawing goes on elsewhere."""
    diagram, canvas = at.diagram, flow.sheet.canvas
    wide, high = float(diagram.squaring) * at.points, float(diagram.width) * at.points
    root = diagram.cloth.root
    for here, there, x in (
        (at.stretch.start, root.x, at.x(at.stretch.start) - wide),
        (at.stretch.end, root.x + root.length, at.x(at.stretch.end)),
    ):
        if here == there and wide:
            canvas.setFillGray(_SQUARED)
            canvas.rect(x, at.low, wide, high, stroke=0, fill=1)
            canvas.setFillGray(INK)
        edge = at.x(here)
        line_on(canvas, (edge, at.low - _BEYOND), (edge, at.low + high + _BEYOND), width=_WEIGHTS[0])


def _left(flow: Flow, at: _Scale, region: Region, units: Units) -> None:
    canvas, box = flow.sheet.canvas, at.box(region)
    canvas.setFillGray(_LEFT)
    canvas.rect(*box, stroke=0, fill=1)
    canvas.setFillGray(QUIET)
    for said in (
        left_said(region.length, region.width, units),
        size_said(region.length, region.width, units),
    ):
        if _fit(flow, (said,), box, _SMALL):
            break
    canvas.setFillGray(INK)


def _cut(flow: Flow, at: _Scale, cut: DrawnCut) -> None:
    beyond = _BEYOND if cut.depth == 1 and cut.x0 == cut.x1 else 0.0
    line_on(
        flow.sheet.canvas,
        (at.x(cut.x0), at.y(cut.y0) + beyond),
        (at.x(cut.x1), at.y(cut.y1) - beyond),
        width=_WEIGHTS[min(cut.depth, len(_WEIGHTS)) - 1],
    )


def _named(group: Group) -> Region:
    """Where the name of a group stands: over all of its pieces, or over its first row where the last is shorter."""
    region, split = group.region, group.region.fill
    if isinstance(split, Split) and group.count * group.length * group.width < region.length * region.width:
        return split.parts[0]
    return region


def _name(
    flow: Flow,
    box: tuple[float, float, float, float],
    lines: Sequence[Message | str],
    *,
    is_over_cuts: bool,
) -> None:
    """As many of `lines` as fit into a box, the most important first."""
    for count in range(len(lines), 0, -1):
        if _fit(flow, lines[:count], box, _LETTER, bold=True, is_over_cuts=is_over_cuts):
            return


def _fit(
    flow: Flow,
    lines: Sequence[Message | str],
    box: tuple[float, float, float, float],
    size: float,
    *,
    bold: bool = False,
    is_over_cuts: bool = False,
) -> bool:
    """`lines` in the middle of a box, upright or along it, if they fit; the first of `size`, the others small.

    Over cuts they stand on white, so that no line runs through the words.
    """
    letters, canvas = flow.sheet.letters, flow.sheet.canvas
    texts = [one if isinstance(one, str) else flow.sheet.tell(one) for one in lines]
    sizes = [size] + [_SMALL] * (len(texts) - 1)
    bolds = [bold] + [False] * (len(texts) - 1)
    wide = 4 + max(
        letters.width(text, size, bold=bold) for text, size, bold in zip(texts, sizes, bolds, strict=True)
    )
    high = sum(sizes) + 2 * len(sizes)
    upright = wide <= box[2] and high <= box[3]
    if not upright and not (wide <= box[3] and high <= box[2]):
        return False
    canvas.saveState()
    canvas.translate(box[0] + box[2] / 2, box[1] + box[3] / 2)
    if not upright:
        canvas.rotate(90)
    if is_over_cuts:
        canvas.saveState()
        canvas.setFillGray(1)
        canvas.rect(-wide / 2, -high / 2, wide, high, stroke=0, fill=1)
        canvas.restoreState()
    y = high / 2
    for text, size_of, bold_of in zip(texts, sizes, bolds, strict=True):
        y -= size_of + 2
        letters.draw(text, 0, y + 1 + size_of * 0.15, size_of, bold=bold_of, anchor="middle")
    canvas.restoreState()
    return True


def _bands(flow: Flow, at: _Scale, units: Units) -> None:
    """Above the cloth, the number of each band and how long it is."""
    top = at.low + float(at.diagram.width) * at.points + _BEYOND
    free = numbered = at.left - 20
    for band in at.stretch.bands:
        end = band.x + band.course.count * band.course.size
        middle = (at.x(band.x) + at.x(end)) / 2
        number = flow.sheet.tell(numbers_said(band))
        half = flow.sheet.letters.width(number, _LETTER, bold=True) / 2
        low = top + (12 if middle - half >= numbered else 22)
        flow.sheet.letters.draw(number, middle, low, _LETTER, bold=True, anchor="middle")
        numbered = middle + half + 2 if low == top + 12 else numbered
        each = flow.sheet.speech.measure(as_size(band.course.size, units))
        reach = flow.sheet.letters.width(each, _SMALL) / 2
        if middle - reach >= free and reach * 2 <= max(at.x(end) - at.x(band.x), 40.0):
            flow.sheet.canvas.setFillGray(QUIET)
            flow.sheet.letters.draw(each, middle, top + 3, _SMALL, anchor="middle")
            flow.sheet.canvas.setFillGray(INK)
            free = middle + reach + 3


def _said(flow: Flow, said: Message, x: float, y: float, size: float) -> None:
    flow.sheet.letters.draw(flow.sheet.tell(said), x, y, size)
