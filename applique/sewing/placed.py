"""Everything that is laid on the panel: rows and other pieces, the stitch of each, and the outline layer behind."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from applique.design import Design
from applique.fabrics import Fabrics, resolve_fabrics
from applique.outline_layer import PlacedOutline, cut_off_outlines
from applique.panel import PanelPlan, cut_off_at_edge, place_rows
from applique.quilt.panel_cut import trim_after_stitching
from applique.sewing.holes import FilledHoles, filled_holes, lay_sewn_outlines
from applique.sewing.limits import Limits, limits_for
from applique.sewing.stitches import EdgeStitch, edge_stitches

__all__ = ["Placed", "place", "sewn"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """The first stage of a pattern: a design with its panel laid, shapes in the frame of the panel.

    `stitches` and `limits` are one for each that is laid; `filled` says which holes of the outline layer were closed.
    """

    design: Design
    fabrics: Fabrics
    panel: PanelPlan
    stitches: tuple[EdgeStitch, ...]
    limits: tuple[Limits, ...]
    outlines: tuple[PlacedOutline, ...]
    filled: tuple[FilledHoles, ...]

    @property
    def fitted(self) -> Fraction | None:
        """The cap height of the rows that are as large as fits; None where every row states its own."""
        heights = (row.cap_height for row in self.panel.rows if self.design.fits(row.asked))
        return next(heights, None)


def place(design: Design, *, after: Placed | None = None) -> Placed:
    """The panel of `design` with all that lies on it.

    `after` is what was placed for a design much like it, such as that before the last key. It saves time and has no
    part in what comes back.

    Raises:
        Refusal: rows that cannot be set or do not fit, with every problem.
    """
    near = after.fitted if after is not None else None
    placed, step = sewn(design, place_rows(design, near=near)), design.lettering.baseline_step
    if step is None or (trim := placed.panel.trim) / 2 % step == 0:
        return placed
    # How much larger the panel is cut hangs on its stitches, and those on what is laid on it.
    return sewn(design, place_rows(design, trim=trim, near=placed.fitted))


def sewn(design: Design, panel: PanelPlan) -> Placed:
    """The panel of `design` with the stitch of all that is laid on it, the outline layer behind, and what those
    stitches want it cut larger by; what may run off the panel is cut off at its cut edge."""
    fabrics = resolve_fabrics(design)
    stitches = edge_stitches(design, panel.laid, fabrics)
    limits = tuple(limits_for(design.sewing, stitch) for stitch in stitches)
    whole = lay_sewn_outlines(design, panel.laid, fabrics, limits)
    trim = Fraction(0)
    if panel.is_cut:
        trim = trim_after_stitching(
            design.panel,
            [*(stitch.stitch for stitch in stitches), *design.stitching.offers],
            when=design.stitching.when,
            units=design.units,
        )
    panel = replace(panel, trim=trim)
    may_run_off = {one.where for one in panel.laid if one.runs_off}
    outlines = cut_off_outlines(whole, panel.edges, may_run_off)
    panel = cut_off_at_edge(panel)
    return Placed(
        design=design,
        fabrics=fabrics,
        panel=panel,
        stitches=stitches,
        limits=limits,
        outlines=outlines,
        filled=tuple(filled_holes(panel.laid, outlines, limits)),
    )
