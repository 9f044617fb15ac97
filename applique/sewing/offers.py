"""Stitches to choose from: what the letters take in each one that the design offers.

Lengths are inches, times minutes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from applique.design import Stitch
from applique.pieces import Template
from applique.quilt.whole import QuiltPlan
from applique.sewing.placed import Placed
from applique.sewing.plan import RowPlan, StitchPlan, minutes_of, plan_rows
from applique.sewing.stabilizer import StabilizerNeed, cut_from_roll
from applique.sewing.stitches import offered_stitches
from applique.sewing.threads import ThreadNeed, letter_threads

__all__ = ["StitchOffer", "plan_offers"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StitchOffer:
    """Everything that is laid sewn in one `stitch`: its rows, the thread of each color, and stabilizer off the roll."""

    stitch: Stitch
    rows: tuple[RowPlan, ...]
    threads: tuple[ThreadNeed, ...]
    stabilizers: tuple[StabilizerNeed, ...]

    @property
    def stitches(self) -> int:
        """All stitches."""
        return sum(row.stitches for row in self.rows)

    @property
    def minutes(self) -> tuple[int, int]:
        """The least and the most minutes at the machine."""
        return minutes_of(self.rows)


def plan_offers(
    placed: Placed, templates: Sequence[Template], quilt: QuiltPlan, plan: StitchPlan
) -> tuple[StitchOffer, ...]:
    """The stitches of the design to choose from, in its order; none where it offers none.

    What the pattern is planned with comes first where all of it is one stitch that is not among them.
    """
    design = placed.design
    offered = dict.fromkeys(design.stitching.offers)
    planned = {row.stitch.stitch for row in plan.rows}
    if offered and len(planned) == 1:
        offered = offered if planned <= offered.keys() else dict.fromkeys((*planned, *offered))
    return tuple(_offer(placed, templates, quilt, plan, stitch) for stitch in offered)


def _offer(
    placed: Placed, templates: Sequence[Template], quilt: QuiltPlan, plan: StitchPlan, stitch: Stitch
) -> StitchOffer:
    design, panel = placed.design, placed.panel
    stitches = offered_stitches(design, panel.laid, placed.fabrics, stitch)
    rows = plan_rows(
        design, panel, templates, plan.letters, placed.outlines, stitches, plan.when, plan.left_out
    )
    return StitchOffer(
        stitch=stitch,
        rows=rows,
        threads=tuple(letter_threads(design, panel, quilt, rows)),
        stabilizers=cut_from_roll(
            [(row.where, row.stabilizer) for row in rows],
            roll_width=design.stitching.stabilizer_width,
            units=design.units,
        ),
    )
