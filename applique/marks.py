"""The numbers of the placement guide: where each row and each letter stands, measured as a maker measures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from applique.panel import PanelPlan, PlacedRow
from applique.pieces import Template, template_key

__all__ = ["LetterMark", "RowMark", "row_marks"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterMark:
    """Where one cut stands on the panel, in inches from the center line; negative is left of it."""

    text: str
    template: int
    left: float
    middle: float
    right: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RowMark:
    """Where one row stands: its baseline in inches down from the cut top edge, and its letters.

    `left` and `right` are the row's ink from the center line.
    """

    row: int
    text: str
    fabric: str
    baseline_from_top: float
    left: float
    right: float
    letters: tuple[LetterMark, ...]


def row_marks(panel: PanelPlan, templates: Sequence[Template]) -> tuple[RowMark, ...]:
    """The marks of every row, each letter with the number of its template."""
    center = float(panel.width) / 2
    cut_top = float(panel.height + panel.seam_allowance)
    numbers = {template.key: template.number for template in templates}
    turned = any(template.turned for template in templates)

    def mark(row: PlacedRow) -> RowMark:
        return RowMark(
            row=row.number,
            text=row.text,
            fabric=row.fabric.name,
            baseline_from_top=cut_top - row.baseline,
            left=row.ink[0] - center,
            right=row.ink[2] - center,
            letters=tuple(
                LetterMark(
                    text=cut.text,
                    template=numbers[template_key(row, index) if turned else cut.key],
                    left=cut.ink[0] - center,
                    middle=(cut.ink[0] + cut.ink[2]) / 2 - center,
                    right=cut.ink[2] - center,
                )
                for index, cut in enumerate(row.cuts)
            ),
        )

    return tuple(mark(row) for row in panel.rows)
