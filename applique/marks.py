"""The numbers of the placement guide: where each row and each letter stands, measured as a maker measures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from applique.errors import Where
from applique.geometry.place import Place
from applique.geometry.points import Point, middle_of
from applique.panel import Laid, PanelPlan, PlacedCut
from applique.pieces import Template, template_key

__all__ = ["LetterMark", "RowMark", "row_marks"]

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
    """Where a row, or another piece, stands: its baseline in inches down from the cut top edge, and its letters.

    `left` and `right` are the row's ink from the center line. `turn_deg` is how far the whole row is turned, to the
    left; `ends` are the ends of its baseline then, each from the center line and down from the cut top edge.
    """

    where: Where
    text: str
    fabric: str
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


def row_marks(panel: PanelPlan, templates: Sequence[Template]) -> tuple[RowMark, ...]:
    """The marks of every row and every other piece, each letter with the number of its template."""
    center = float(panel.width) / 2
    cut_top = float(panel.height + panel.seam_allowance)
    numbers = {template.key: template.number for template in templates}
    turned = any(template.turned for template in templates)

    def mark(row: Laid) -> RowMark:
        ends = [(x - center, cut_top - y) for x, y in row.baseline_ends]
        ticks = [_tick(row, cut) for cut in row.cuts]
        return RowMark(
            where=row.where,
            text=row.text,
            fabric=row.fabric.name,
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

    return tuple(mark(row) for row in panel.laid)


def _tick(row: Laid, cut: PlacedCut) -> Point:
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
