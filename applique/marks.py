"""The placement guide: what it shows of the quilt, the lines to draw on the panel, and where each letter stands.

Lines and places are in the frame of the panel; distances are measured as a maker measures.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from applique.design import QuiltingKind
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point, middle_of
from applique.panel import PanelPlan, PlacedCut, PlacedRow
from applique.picture import Item, Part, Picture
from applique.pieces import Template, template_key
from applique.sewing.quilting import QuiltingPlan

__all__ = ["LetterMark", "PanelLines", "RowMark", "drawing_scale", "guide_items", "panel_lines", "row_marks"]

_STEP: Final = Fraction(1, 4)
"""The scale of the small drawing is a whole multiple of this: inches of quilt for an inch of paper."""
_STEEP_DEG: Final = 60
"""From here on a row is turned too far for a line straight down from a letter to meet its baseline near it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterMark:
    """Where one cut stands on the panel, in inches from the center line; negative is left of it.

    `turn_deg` is how far it is turned in its row, to the left; `above_baseline` how far its lowest point is above the
    baseline then. `tick` is the mark on the baseline below its middle, in the frame of the panel, `tick_down` how far
    that is below the cut top edge.
    """

    text: str
    template: int
    left: float
    middle: float
    right: float
    turn_deg: float
    above_baseline: float
    tick: Point
    tick_down: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RowMark:
    """Where one row stands: its baseline in inches down from the cut top edge, and its letters.

    `left` and `right` are the row's ink from the center line. `turn_deg` is how far the whole row is turned, to the
    left; `ends` are the ends of its baseline then, each from the center line and down from the cut top edge.
    `baseline` is that line in the frame of the panel, from one cut edge to the other, or of a turned row from end to
    end; `level` is its height there, of a turned row in its middle.
    """

    row: int
    text: str
    fabric: str
    baseline: tuple[Point, Point]
    level: float
    baseline_from_top: float
    left: float
    right: float
    turn_deg: float
    ends: tuple[Point, Point]
    letters: tuple[LetterMark, ...]

    @property
    def downs(self) -> tuple[float, ...]:
        """How far its baseline is below the cut top edge: one number, or one for either end of a turned row."""
        return tuple(down for _, down in self.ends) if self.turn_deg else (self.baseline_from_top,)

    @property
    def is_turned(self) -> bool:
        """Whether the row or a letter of it is turned by hand."""
        return bool(self.turn_deg) or any(letter.turn_deg for letter in self.letters)

    @property
    def reaches_over(self) -> bool:
        """Whether a letter that is turned by hand makes one of its letters reach over the next."""
        over = any(before.right > after.left for before, after in pairwise(self.letters))
        return over and any(letter.turn_deg for letter in self.letters)


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelLines:
    """The edges of the panel, and the center line from one cut edge to the other."""

    cut_edge: Bounds
    finished_edge: Bounds
    center_line: tuple[Point, Point]


def guide_items(picture: Picture, quilting: Sequence[QuiltingPlan]) -> tuple[Item, ...]:
    """What the guide shows of the picture of a quilt: outline layer, letters, and lines of quilting that echo them."""
    echoes = {plan.number for plan in quilting if plan.kind is QuiltingKind.ECHO}
    return tuple(
        item
        for item in picture.on_panel(Part.OUTLINE, Part.LETTER, Part.QUILTING)
        if item.quilting is None or item.quilting in echoes
    )


def panel_lines(panel: PanelPlan) -> PanelLines:
    """The lines of the panel on the guide."""
    width, height, allowance = float(panel.width), float(panel.height), float(panel.seam_allowance)
    return PanelLines(
        cut_edge=(-allowance, -allowance, width + allowance, height + allowance),
        finished_edge=(0.0, 0.0, width, height),
        center_line=((width / 2, -allowance), (width / 2, height + allowance)),
    )


def drawing_scale(panel: PanelPlan, room: Point) -> Fraction:
    """Inches of quilt for an inch of paper at which the cut panel fits into `room`, inches of paper each way."""
    fits = max(float(panel.cut_width) / room[0], float(panel.cut_height) / room[1])
    return math.ceil(fits / float(_STEP)) * _STEP


def row_marks(panel: PanelPlan, templates: Sequence[Template]) -> tuple[RowMark, ...]:
    """The marks of every row, each letter with the number of its template."""
    center = float(panel.width) / 2
    edges = panel_lines(panel).cut_edge
    cut_top = edges[3]
    numbers = {template.key: template.number for template in templates}
    turned = any(template.turned for template in templates)

    def mark(row: PlacedRow) -> RowMark:
        ends = [(x - center, cut_top - y) for x, y in row.baseline_ends]
        ticks = [_tick(row, cut) for cut in row.cuts]
        across = ((edges[0], row.baseline), (edges[2], row.baseline))
        return RowMark(
            row=row.number,
            text=row.text,
            fabric=row.fabric.name,
            baseline=row.baseline_ends if row.turned.turn_deg else across,
            level=row.baseline,
            baseline_from_top=cut_top - row.baseline,
            left=row.ink[0] - center,
            right=row.ink[2] - center,
            turn_deg=row.turned.turn_deg,
            ends=(ends[0], ends[1]),
            letters=tuple(
                LetterMark(
                    text=cut.text,
                    template=numbers[template_key(row, index) if turned else cut.key],
                    left=cut.ink[0] - center,
                    middle=(cut.ink[0] + cut.ink[2]) / 2 - center,
                    right=cut.ink[2] - center,
                    turn_deg=cut.upright.turn_deg,
                    above_baseline=cut.upright_ink[1] - row.upright_baseline,
                    tick=tick,
                    tick_down=cut_top - tick[1],
                )
                for index, (cut, tick) in enumerate(zip(row.cuts, ticks, strict=True))
            ),
        )

    return tuple(mark(row) for row in panel.rows)


def _tick(row: PlacedRow, cut: PlacedCut) -> Point:
    """Where a straight line down from the middle of `cut` meets the baseline of its row.

    Of a row that is turned by 60 degrees or more, the point of its baseline nearest to the middle.
    """
    middle = middle_of(cut.ink)
    if not row.turned.turn_deg:
        return (middle[0], row.upright_baseline)
    (x, y), upright = row.baseline_ends[0], Place(x=0.0, y=0.0, turn_deg=-row.turned.turn_deg)
    along, up = upright.point((middle[0] - x, middle[1] - y))
    slope = math.tan(math.radians(row.turned.turn_deg))
    if abs(math.remainder(row.turned.turn_deg, 180)) < _STEEP_DEG:
        along -= up * slope
    return Place(x=x, y=y, turn_deg=row.turned.turn_deg).point((along, 0.0))
