"""Where a border ends."""

from __future__ import annotations

from fractions import Fraction

from applique.quilt.borders.work import BorderWork
from applique.quilt.edge import Edge, straight_edge
from applique.quilt.strips import Extent

__all__ = ["grown", "outer_edge"]


def grown(size: Extent, width: Fraction) -> Extent:
    """`size` with a border of `width` on all four sides."""
    return (size[0] + 2 * width, size[1] + 2 * width)


def outer_edge(work: BorderWork, width: Fraction) -> Edge:
    """The outer edge of a border of the finished `width`."""
    return straight_edge(grown(work.before, width))
