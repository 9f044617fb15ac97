"""The seams of the quilt that are no letters and no quilting: piecing, binding and sleeve, with their thread.

Inches.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from applique.design import Corners
from applique.panel import PanelPlan
from applique.quilt.borders import BorderPlan
from applique.quilt.finishing import BindingPlan
from applique.quilt.strips import CutKind
from applique.quilt.whole import QuiltPlan

__all__ = ["SEAM_RATIO", "Seam", "SeamKind", "piecing_seams"]

SEAM_RATIO: Final = 2.5
"""Thread, needle and bobbin together, for each unit of a lockstitch seam: stitch type 301, published, docs/sources.md,
thread for a length of seam."""


class SeamKind(StrEnum):
    """Which seams they are."""

    PANEL = "panel"
    BORDERS = "borders"
    BACKING = "backing"
    BINDING = "binding"
    SLEEVE = "hanging sleeve"


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """The seams of one kind, their length together."""

    kind: SeamKind
    length: float


def piecing_seams(panel: PanelPlan, quilt: QuiltPlan) -> tuple[Seam, ...]:
    """Every kind of seam that the quilt has, in the order of sewing.

    Strips that are joined count a diagonal join for each strip after the first, which is never too few. The binding
    is sewn on once around and once down behind; a sleeve has two hems and is sewn down along its fold.
    """
    backing, sleeve, pieced = quilt.backing, quilt.sleeve, quilt.panel.seam
    side = 0.0
    if pieced is not None:
        side = len(pieced.places) * float(panel.cut_height if pieced.upright else panel.cut_width)
    lengths = {
        SeamKind.PANEL: side,
        SeamKind.BORDERS: math.fsum(length for border in quilt.borders for length in _border(border)),
        SeamKind.BACKING: float((backing.panels - 1) * backing.panel_length),
        SeamKind.BINDING: _binding(quilt.binding),
        SeamKind.SLEEVE: float(sleeve.cut_length + 2 * sleeve.cut_depth) if sleeve else 0.0,
    }
    return tuple(Seam(kind=kind, length=length) for kind, length in lengths.items() if length)


def _border(border: BorderPlan) -> Iterator[float]:
    mitered = border.corners is Corners.MITERED
    for step in border.steps:
        for strip in step.strips:
            side = border.before[1 if strip.side.upright else 0]
            yield float(side if mitered else strip.cut_length)
            yield float((len(strip.pieces) - 1) * strip.cut_width)
    for cut in border.cuts:
        if cut.kind is CutKind.BORDER_STRIPS:
            yield _joins(cut.strips, float(cut.strip_width))
    if mitered:
        yield 4 * math.sqrt(2) * float(border.width)


def _binding(binding: BindingPlan) -> float:
    around, cut = 2 * float(binding.needed), binding.cut
    if cut.kind is CutKind.BIAS_SQUARE:
        # Two triangles are sewn into a parallelogram and that into a tube, each time along a side of the square.
        return around + 2 * float(cut.strip_width)
    return around + _joins(cut.strips, float(cut.strip_width))


def _joins(strips: int, strip_width: float) -> float:
    return (strips - 1) * math.sqrt(2) * strip_width
