"""A piece of cloth drawn with every cut, to scale: full-width cuts first and heaviest, then what is cut next.

Places are points from the lower left corner of the page.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from applique.cutting.diagram import Diagram, DrawnCut, Group, Stretch
from applique.cutting.values import Region
from applique.language import Message
from applique.sheets.flow import Flow
from applique.sheets.strokes import CUT, HAIR, INK, QUIET, THIN, line_on
from applique.units import Units, as_available
from applique.words.cutting import (
    SELVAGE,
    cuts_said,
    group_said,
    left_said,
    numbers_said,
    size_said,
)

__all__ = ["diagram_height", "draw_diagram", "write_cuts"]

_WEIGHTS: Final = (1.6, CUT, THIN)
"""Of cuts from selvage to selvage, of what is cut next, and of all below."""
_SQUARED: Final = 0.82
_LEFT: Final = 0.93
_SMALL: Final = 7.0
_LETTER: Final = 9.0
_ABOVE: Final = 30.0
"""Points above the cloth for the numbers of bands and how long they are."""
_BELOW: Final = 14.0
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
    """Points that the first stretch of a cloth takes on the page."""
    return _ABOVE + float(diagram.width) * _points(flow, diagram) + _BELOW


def _points(flow: Flow, diagram: Diagram) -> float:
    """Points for an inch of a cloth, so that its longest stretch fits the line."""
    longest = max(stretch.end - stretch.start for stretch in diagram.stretches) + 2 * diagram.squaring
    return min(_MOST_POINTS, flow.width / float(longest))


def draw_diagram(flow: Flow, diagram: Diagram, letters: Mapping[str, str], units: Units) -> None:
    """The cloth in its stretches, one below the other, all to one scale."""
    scale = _points(flow, diagram)
    high = float(diagram.width) * scale
    for stretch in diagram.stretches:
        flow.room(_ABOVE + high + _BELOW)
        start = flow.left + float(diagram.squaring) * scale
        _stretch(flow, _Scale(diagram, stretch, start, flow.y - _ABOVE - high, scale), letters, units)
        flow.y -= _ABOVE + high + _BELOW


def write_cuts(flow: Flow, diagram: Diagram, letters: Mapping[str, str], units: Units) -> None:
    """Every cut in its order, in words, behind the numbers of its bands."""
    for band in diagram.bands:
        for depth, said in cuts_said(band, letters, units):
            flow.paragraph(said, indent=34 + 12 * depth, lead="" if depth else numbers_said(band))


def _stretch(flow: Flow, at: _Scale, letters: Mapping[str, str], units: Units) -> None:
    diagram, canvas = at.diagram, flow.sheet.canvas
    _ends(flow, at)
    for region in at.stretch.leftovers:
        _left(flow, at, region, units)
    for cut in sorted(diagram.cuts, key=lambda cut: -cut.depth):
        if at.holds(cut.x0, cut.x1):
            _cut(flow, at, cut)
    left, right = at.x(at.stretch.start), at.x(at.stretch.end)
    for y in (at.y(Fraction(0)), at.y(diagram.width)):
        line_on(canvas, (left, y), (right, y), width=THIN)
        line_on(canvas, (left, y + 1.6), (right, y + 1.6), width=HAIR)
    for group in at.stretch.groups:
        _name(flow, at, group, letters)
    _bands(flow, at, units)
    flow.sheet.canvas.setFillGray(QUIET)
    _said(flow, SELVAGE, left + 4, at.low - 9, _SMALL)
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
    _fit(
        flow,
        (left_said(region.length, region.width, units), size_said(region.length, region.width, units)),
        box,
        _SMALL,
    )
    canvas.setFillGray(INK)


def _cut(flow: Flow, at: _Scale, cut: DrawnCut) -> None:
    beyond = _BEYOND if cut.depth == 1 and cut.x0 == cut.x1 else 0.0
    line_on(
        flow.sheet.canvas,
        (at.x(cut.x0), at.y(cut.y0) + beyond),
        (at.x(cut.x1), at.y(cut.y1) - beyond),
        width=_WEIGHTS[min(cut.depth, len(_WEIGHTS)) - 1],
    )


def _name(flow: Flow, at: _Scale, group: Group, letters: Mapping[str, str]) -> None:
    letter = letters[group.key]
    said: tuple[Message | str, ...] = (group_said(group, letter), letter) if group.count > 1 else (letter,)
    box = at.box(group.region)
    if group.count > 1:  # a white field, so that no line runs through the words
        wide = flow.sheet.letters.width(flow.sheet.tell(group_said(group, letter)), _LETTER, bold=True) + 6
        if wide <= box[2] and box[3] >= _LETTER + 4:
            flow.sheet.canvas.setFillGray(1)
            middle = (box[0] + box[2] / 2, box[1] + box[3] / 2)
            flow.sheet.canvas.rect(middle[0] - wide / 2, middle[1] - 6.5, wide, 13, stroke=0, fill=1)
            flow.sheet.canvas.setFillGray(INK)
    _fit(flow, said, box, _LETTER, bold=True)


def _fit(
    flow: Flow,
    said: tuple[Message | str, ...],
    box: tuple[float, float, float, float],
    size: float,
    *,
    bold: bool = False,
) -> None:
    """The first of `said` that fits into the middle of a box, upright or along it; nothing if none does."""
    letters, canvas = flow.sheet.letters, flow.sheet.canvas
    middle = (box[0] + box[2] / 2, box[1] + box[3] / 2)
    for one in said:
        text = one if isinstance(one, str) else flow.sheet.tell(one)
        wide = letters.width(text, size, bold=bold) + 4
        if wide <= box[2] and size + 2 <= box[3]:
            letters.draw(text, middle[0], middle[1] - size * 0.35, size, bold=bold, anchor="middle")
            return
        if wide <= box[3] and size + 2 <= box[2]:
            canvas.saveState()
            canvas.translate(middle[0] + size * 0.35, middle[1])
            canvas.rotate(90)
            letters.draw(text, 0, 0, size, bold=bold, anchor="middle")
            canvas.restoreState()
            return


def _bands(flow: Flow, at: _Scale, units: Units) -> None:
    """Above the cloth, the number of each band and how long it is."""
    top = at.low + float(at.diagram.width) * at.points + _BEYOND
    free = at.left - 20
    for band in at.stretch.bands:
        end = band.x + band.course.count * band.course.size
        middle = (at.x(band.x) + at.x(end)) / 2
        number = flow.sheet.tell(numbers_said(band))
        flow.sheet.letters.draw(number, middle, top + 12, _LETTER, bold=True, anchor="middle")
        each = flow.sheet.speech.measure(as_available(band.course.size, units))
        reach = flow.sheet.letters.width(each, _SMALL) / 2
        if middle - reach >= free and reach * 2 <= max(at.x(end) - at.x(band.x), 40.0):
            flow.sheet.canvas.setFillGray(QUIET)
            flow.sheet.letters.draw(each, middle, top + 3, _SMALL, anchor="middle")
            flow.sheet.canvas.setFillGray(INK)
            free = middle + reach + 3


def _said(flow: Flow, said: Message, x: float, y: float, size: float) -> None:
    flow.sheet.letters.draw(flow.sheet.tell(said), x, y, size)
