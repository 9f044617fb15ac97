"""The seams of the quilt that are no letters and no quilting: piecing, binding and sleeve, with their thread.

Inches.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from applique.cloth import ClothPlan, ClothUse, UseKind
from applique.design import Corners
from applique.panel import PanelPlan
from applique.quilt.banner import Ties
from applique.quilt.borders import BorderPlan
from applique.quilt.finishing import BackingPlan, BindingPlan
from applique.quilt.pillow import PillowPlan
from applique.quilt.strips import CutKind, Join
from applique.quilt.whole import QuiltPlan

__all__ = ["SEAM_RATIO", "Seam", "SeamKind", "piecing_seams"]

SEAM_RATIO: Final = 2.5
"""Thread, needle and bobbin together, for each unit of a lockstitch seam: stitch type 301, published, docs/sources.md,
thread for a length of seam."""


class SeamKind(StrEnum):
    """Which seams they are."""

    PANEL = "panel"
    SETTING = "setting"
    BORDERS = "borders"
    BACKING = "backing"
    BINDING = "binding"
    SLEEVE = "hanging sleeve"
    TOP = "around the top"
    PILLOW = "pillow"
    BANNER = "banner"


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """The seams of one kind, their length together; `layered` as much of it as a machine sews through all layers of the
    quilt, batting and backing too."""

    kind: SeamKind
    length: float
    layered: float = 0.0


def piecing_seams(panel: PanelPlan, quilt: QuiltPlan, cloth: ClothPlan) -> tuple[Seam, ...]:
    """Every kind of seam that the quilt has, in the order of sewing.

    Strips are joined as the plan of their fabric says. The binding is sewn on once around through all layers, and once
    down behind by hand; a sleeve has two hems and is sewn down along its fold. A top alone is stitched around once; a
    pillow is closed by a seam all around whose edges are overcast, and its opening is hemmed on both halves or holds a
    zipper. A banner is sewn around twice. On a garment there are none, and none around letters alone.
    """
    sleeve, pieced = quilt.sleeve, None if quilt.panel_cut is None else quilt.panel_cut.seam
    joins = {
        kind: math.fsum(_joins(use) for use in cloth.uses if use.kind is kind)
        for kind in (UseKind.SASHING, UseKind.BORDER, UseKind.BINDING, UseKind.SLEEVE)
    }
    side = 0.0
    if pieced is not None:
        side = len(pieced.places) * float(panel.cut_height if pieced.upright else panel.cut_width)
    lengths = {
        SeamKind.PANEL: side,
        SeamKind.SETTING: 0.0
        if quilt.setting is None
        else float(quilt.setting.seams) + joins[UseKind.SASHING],
        SeamKind.BORDERS: math.fsum(length for border in quilt.borders for length in _border(border))
        + joins[UseKind.BORDER],
        SeamKind.BACKING: _backing(quilt.backing, cloth),
        SeamKind.BINDING: _binding(quilt.binding) + joins[UseKind.BINDING] if quilt.binding else 0.0,
        SeamKind.SLEEVE: float(sleeve.cut_length + 2 * sleeve.cut_depth) + joins[UseKind.SLEEVE]
        if sleeve
        else 0.0,
        SeamKind.TOP: 0.0
        if quilt.layered or quilt.pillow or quilt.turned or not panel.is_cut
        else float(quilt.around),
        SeamKind.BANNER: _turned(quilt.ties, float(quilt.edge.length)) if quilt.turned else 0.0,
        SeamKind.PILLOW: _pillow(quilt.pillow, float(quilt.edge.length)) if quilt.pillow else 0.0,
    }
    layered = {SeamKind.BINDING: float(quilt.binding.needed) if quilt.binding else 0.0}
    return tuple(
        Seam(kind=kind, length=length, layered=layered.get(kind, 0.0))
        for kind, length in lengths.items()
        if length
    )


def _border(border: BorderPlan) -> Iterator[float]:
    mitered = border.corners is Corners.MITERED
    for step in border.steps:
        for strip in step.strips:
            side = border.before[1 if strip.side.upright else 0]
            yield float(side if mitered else strip.cut_length)
            yield float((len(strip.pieces) - 1) * strip.cut_width)
    if mitered:
        yield 4 * math.sqrt(2) * float(border.width)


def _backing(backing: BackingPlan, cloth: ClothPlan) -> float:
    """The seams of a back pieced from lengths, with the strip that widens them, or from leftovers: within each row,
    and from row to row."""
    way = next((use.way for use in cloth.uses if use.way is not None), None)
    if way is not None:
        strip = cloth.mixed_backing.strip if cloth.mixed_backing is not None else ()
        widened = way.along + (len(strip) - 1) * way.widened if strip else 0
        return float((len(way.widths) - 1) * way.along + widened)
    rows = cloth.leftover_backing.rows if cloth.leftover_backing is not None else ()
    lies = cloth.leftover_backing is not None and cloth.leftover_backing.lies
    across = backing.width if lies else backing.height
    within = sum(min(min(piece.length, piece.width) for piece in row) * (len(row) - 1) for row in rows)
    return float(max(len(rows) - 1, 0) * across + within)


def _binding(binding: BindingPlan) -> float:
    around, cut = 2 * float(binding.needed), binding.cut
    if cut.kind is CutKind.BIAS_SQUARE:
        # Two triangles are sewn into a parallelogram and that into a tube, each time along a side of the square.
        return around + 2 * float(cut.strip_width)
    return around


def _turned(ties: Ties | None, around: float) -> float:
    """The seam around a banner, its edge sewn once more from outside, and its ties along their length."""
    return 2 * around + (float(ties.count * ties.length) if ties else 0.0)


def _pillow(pillow: PillowPlan, around: float) -> float:
    """The seam around, its edges overcast for twice that, and two hems; or the seam of a zipper and both its sides."""
    opening = float(pillow.long) * (2 if pillow.zipper is None else 3)
    return 3 * around + opening


def _joins(use: ClothUse) -> float:
    """The seams that join strips end to end: straight across, or on the diagonal."""
    widths = {strips.key: float(strips.width) for strips in use.strips}
    return math.fsum(
        (run.strips - 1) * widths[run.key] * (math.sqrt(2) if run.join is Join.DIAGONAL else 1.0)
        for run in use.joined
    )
