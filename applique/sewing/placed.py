"""Everything that is laid on the panel: rows and other pieces, the stitch of each, and the outline layer behind."""

from __future__ import annotations

from dataclasses import dataclass, replace

from applique.design import Design
from applique.fabrics import Fabrics, resolve_fabrics
from applique.outline_layer import PlacedOutline
from applique.panel import PanelPlan, place_rows
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


def place(design: Design) -> Placed:
    """The panel of `design` with all that lies on it.

    Raises:
        Refusal: rows that cannot be set or do not fit, with every problem.
    """
    placed, step = sewn(design, place_rows(design)), design.lettering.baseline_step
    if step is None or (trim := placed.panel.trim) / 2 % step == 0:
        return placed
    # How much larger the panel is cut hangs on its stitches, and those on what is laid on it.
    return sewn(design, place_rows(design, trim=trim))


def sewn(design: Design, panel: PanelPlan) -> Placed:
    """The panel of `design` with the stitch of all that is laid on it, the outline layer behind, and what those
    stitches want it cut larger by."""
    fabrics = resolve_fabrics(design)
    stitches = edge_stitches(design, panel.laid, fabrics)
    limits = tuple(limits_for(design.sewing, stitch) for stitch in stitches)
    outlines = lay_sewn_outlines(design, panel.laid, fabrics, limits)
    trim = trim_after_stitching(
        design.panel,
        [*(stitch.stitch for stitch in stitches), *design.stitching.offers],
        when=design.stitching.when,
        units=design.units,
    )
    return Placed(
        design=design,
        fabrics=fabrics,
        panel=replace(panel, trim=trim),
        stitches=stitches,
        limits=limits,
        outlines=outlines,
        filled=tuple(filled_holes(panel.laid, outlines, limits)),
    )
