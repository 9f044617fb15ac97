"""The panel as it is trimmed from its center line.

Frame: points, y up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from applique.drawings.values import (
    BOLD,
    FINE,
    HAIR,
    PAPER,
    QUIET,
    Drawing,
    Mark,
    Shape,
    Words,
    box,
)
from applique.drawings.vocabulary import (
    dimension,
    fold,
    leader,
    seam,
)
from applique.geometry.outline import Outline
from applique.geometry.points import Matrix, Point
from applique.language import Speech
from applique.panel import PanelPlan
from applique.units import Units, as_length, as_size
from applique.words import panel_shapes
from applique.words.instructions import trimming as trimmed

__all__ = ["draw_cut_out", "draw_trim"]

_LEAST: Final = 7.0
_PALE: Final = "#d4d4d4"


_CUT_OFF: Final = "#b9b9b9"
_FINISHED: Final = replace(FINE, color=QUIET, dashes=(2.0, 2.0))
_NUMBERS: Final = 50.0
"""Points beside the panel for its measures."""


def draw_trim(
    panel: PanelPlan, behind: Sequence[Outline], size: Point, units: Units, speech: Speech
) -> Drawing:
    """The panel as it was cut with its words, where it is trimmed from its center line, and what that cuts off."""
    low, top = 28.0, 15.0
    wide, high = float(panel.cut_width), float(panel.cut_height)
    scale = min((size[0] - _NUMBERS) / wide, (size[1] - low - top) / high)
    beyond = float(panel.beyond)
    onto: Matrix = (scale, 0.0, 0.0, scale, beyond * scale, low + beyond * scale)
    width, height = wide * scale, high * scale
    off, seam_in = float(panel.trim) / 2 * scale, beyond * scale
    edge = (off, low + off, width - off, low + height - off)
    marks: list[Mark] = [
        box(0.0, low, width, height, fill=_CUT_OFF, ink=HAIR),
        box(edge[0], edge[1], edge[2] - edge[0], edge[3] - edge[1], fill=PAPER, ink=BOLD),
        seam(
            (
                (seam_in, low + seam_in),
                (width - seam_in, low + seam_in),
                (width - seam_in, low + height - seam_in),
                (seam_in, low + height - seam_in),
                (seam_in, low + seam_in),
            )
        ),
    ]
    for outline in behind:
        marks.append(Shape(outline=outline.transformed(onto), fill=PAPER, ink=HAIR))
    for laid in panel.laid:
        marks.append(Shape(outline=laid.outline.transformed(onto), fill=_PALE))
    middle = width / 2
    marks.append(fold(((middle, low - 3), (middle, low + height + 3))))
    marks += _trim_measures(panel, edge, onto, units, speech)
    marks.append(Words(said=trimmed.CENTER_LINE, at=(middle + 3, low + height + 5), size=_LEAST, color=QUIET))
    marks += leader((2.0, low + height + 9), (off / 2, low + height - off / 2), trimmed.CUT_OFF)
    marks.append(Words(said=trimmed.finished_drawn_said(panel, units), at=(0.0, 3.0), size=_LEAST))
    return Drawing(
        width=width + _NUMBERS, height=low + height + top, marks=tuple(marks), said=trimmed.trim_drawn_said()
    )


def _trim_measures(
    panel: PanelPlan, edge: tuple[float, float, float, float], onto: Matrix, units: Units, speech: Speech
) -> Iterator[Mark]:
    """Half the width to either side of the center line, and how far top and bottom are from the words."""
    left, low, right, top = edge
    found = trimmed.trimmed_from(panel)
    beside, middle = speech.measure(as_size(found.half, units)), (left + right) / 2
    for start, end in ((left, middle), (middle, right)):
        yield from dimension((start, low - 7), (end, low - 7), beside, off=-8.5)
    words = [panel_y * onto[3] + onto[5] for panel_y in _words_reach(panel)]
    x = right + 9
    for start, end, far in ((low, words[0], found.below), (words[1], top, found.above)):
        yield from dimension((x, start), (x, end), "")
        yield Words(
            said=speech.measure(as_length(far, units, denominator=16)),
            at=(x + 5, (start + end) / 2 - 2.5),
            size=_LEAST,
        )


def _words_reach(panel: PanelPlan) -> tuple[float, float]:
    """The lowest and the highest point of the words."""
    return min(laid.ink[1] for laid in panel.laid), max(laid.ink[3] for laid in panel.laid)


def draw_cut_out(panel: PanelPlan, size: Point) -> Drawing:
    """The panel as it was cut with its words, and the outline that it is cut to, its seam allowance and finished edge.

    Raises:
        ValueError: the panel is a rectangle.
    """
    outline = panel.outline
    if outline is None:
        raise ValueError("a rectangle is not cut to an outline")
    above = 15.0
    x0, y0, x1, y1 = panel.cut_edge
    scale = min(size[0] / (x1 - x0), (size[1] - above) / (y1 - y0))
    onto: Matrix = (scale, 0.0, 0.0, scale, -x0 * scale, -y0 * scale)
    width, height = (x1 - x0) * scale, (y1 - y0) * scale
    middle = width / 2
    marks: list[Mark] = [
        box(0.0, 0.0, width, height, fill=_CUT_OFF, ink=HAIR),
        Shape(outline=outline.at(float(panel.seam_allowance)).transformed(onto), fill=PAPER, ink=BOLD),
        Shape(outline=outline.at().transformed(onto), ink=_FINISHED),
        *(Shape(outline=laid.outline.transformed(onto), fill=_PALE) for laid in panel.laid),
        fold(((middle, -3.0), (middle, height + 3.0))),
        Words(said=trimmed.CENTER_LINE, at=(middle + 3.0, height + 5.0), size=_LEAST, color=QUIET),
    ]
    return Drawing(width=width, height=height + above, marks=tuple(marks), said=panel_shapes.cut_drawn_said())
