"""The panel with its rows of words in place.

Frame of the panel: inches, origin at the lower left corner of the *finished* panel, y up. A cut stands
by its own origin: on the baseline, at the pen position of its first glyph.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shapely.geometry import GeometryCollection

from applique.design import Fabric
from applique.errors import Notice
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds
from applique.geometry.polygons import Shape
from applique.typeset.typeface import GlyphSpot

__all__ = ["PanelPlan", "PlacedCut", "PlacedRow", "on_panel", "row_on_panel"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedCut:
    """One piece of cloth to be laid down. `outline` and `shape` stand about the cut's own origin.

    `place` is in the frame of the panel; `ink` is the extent on the panel. Cuts of equal `key` are the
    same shape; cuts of equal `drawn` are the same shape at any size. `word` counts the words of the row.
    """

    key: str
    drawn: tuple[str, tuple[GlyphSpot, ...]]
    text: str
    word: int
    letters: tuple[int, ...]
    place: Place
    ink: Bounds
    outline: Outline
    shape: Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedRow:
    """One row of words on the panel; `baseline` is its y. `cuts` run from left to right.

    `outline` is the whole row in the frame of the panel, letters that were nudged together made one.
    """

    number: int
    text: str
    font: str
    fabric: Fabric
    cap_height: Fraction
    baseline: float
    ink: Bounds
    outline: Outline
    cuts: tuple[PlacedCut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelPlan:
    """The panel with its rows. Sizes are exact; `width` and `height` are finished sizes."""

    width: Fraction
    height: Fraction
    seam_allowance: Fraction
    margin: Fraction
    fabric: Fabric
    rows: tuple[PlacedRow, ...]
    notices: tuple[Notice, ...]

    @property
    def cut_width(self) -> Fraction:
        """The width to cut: finished and two seam allowances."""
        return self.width + 2 * self.seam_allowance

    @property
    def center_from_edge(self) -> Fraction:
        """How far the vertical center line is from either side's cut edge."""
        return self.cut_width / 2

    @property
    def cut_height(self) -> Fraction:
        """The height to cut: finished and two seam allowances."""
        return self.height + 2 * self.seam_allowance


def on_panel(cut: PlacedCut) -> Shape:
    """The shape of `cut` where it lies on the panel."""
    return cut.place.shape(cut.shape)


def row_on_panel(row: PlacedRow) -> GeometryCollection:
    """Every shape of `row` where it lies on the panel."""
    return GeometryCollection([on_panel(cut) for cut in row.cuts])
