"""The panel with its rows of words in place.

Frame of the panel: inches, origin at the lower left corner of the *finished* panel, y up. A cut stands
by its own origin: on the baseline, at the pen position of its first glyph.
A row that is turned as a whole is set upright first, in the same frame, and then turned with all that is in it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import shapely
from shapely.geometry import GeometryCollection, LineString

from applique.design import Fabric
from applique.errors import Notice
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point, apart, middle_of
from applique.geometry.polygons import Shape
from applique.typeset.typeface import GlyphSpot

__all__ = ["PanelPlan", "PlacedCut", "PlacedRow", "near_cuts", "near_rows", "on_panel"]


_MOST_NEAR: Final = 12
"""Rows of which a turned one is measured against each: a heap of 500 would be measured 125,000 times."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedCut:
    """One piece of cloth to be laid down. `outline` and `shape` stand about the cut's own origin.

    `place` is in the frame of the panel and `ink` the extent there; `upright` and `upright_ink` are the same before
    the whole row is turned. Cuts of equal `key` are the same shape; cuts of equal `drawn` are the same shape at any
    size. `word` counts the words of the row.
    """

    key: str
    drawn: tuple[str, tuple[GlyphSpot, ...]]
    text: str
    word: int
    letters: tuple[int, ...]
    upright: Place
    upright_ink: Bounds
    place: Place
    ink: Bounds
    outline: Outline
    shape: Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedRow:
    """One row of words on the panel; along their baseline `cuts` run from left to right.

    `turned` is how the whole row was turned by hand; `upright_baseline` and `upright_ink` are the y of its baseline
    and its extent before that. `outline` is the whole row in the frame of the panel, letters that were nudged
    together made one.
    """

    number: int
    text: str
    font: str
    fabric: Fabric
    cap_height: Fraction
    upright_baseline: float
    upright_ink: Bounds
    turned: Place
    ink: Bounds
    outline: Outline
    cuts: tuple[PlacedCut, ...]

    @property
    def baseline(self) -> float:
        """The y of its baseline on the panel; of a turned row in the middle of it."""
        return self.turned.point((middle_of(self.upright_ink)[0], self.upright_baseline))[1]

    @property
    def baseline_ends(self) -> tuple[Point, Point]:
        """Where its baseline starts and ends below its ink, on the panel."""
        left, _, right, _ = self.upright_ink
        return (
            self.turned.point((left, self.upright_baseline)),
            self.turned.point((right, self.upright_baseline)),
        )


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


def near_cuts(row: PlacedRow, within: float) -> Iterator[tuple[PlacedCut, PlacedCut]]:
    """The neighbors in `row` whose extents are nearer than `within` inches.

    A letter that is turned by hand may reach past its neighbor, to the next letter but one.
    """
    for index, left in enumerate(row.cuts):
        for step, right in enumerate(row.cuts[index + 1 : index + 3]):
            met = step == 0 or left.upright.turn_deg or right.upright.turn_deg
            if met and apart(left.ink, right.ink) < within:
                yield left, right


def near_rows(rows: Sequence[PlacedRow], within: float) -> Iterator[tuple[PlacedRow, PlacedRow, LineString]]:
    """The rows whose extents are nearer than `within` inches, each with the shortest line from one to the other.

    One below the other, or any two if one is turned; of a heap of rows each with the first `_MOST_NEAR`.
    """
    shapes: dict[int, GeometryCollection] = {}
    for index, above in enumerate(rows):
        near = [
            below
            for step, below in enumerate(rows[index + 1 :])
            if (step == 0 or above.turned.turn_deg or below.turned.turn_deg)
            and apart(above.ink, below.ink) < within
        ]
        for below in near[:_MOST_NEAR]:
            for row in (above, below):
                if row.number not in shapes:
                    shapes[row.number] = _row_on_panel(row)
            yield above, below, shapely.shortest_line(shapes[above.number], shapes[below.number])


def _row_on_panel(row: PlacedRow) -> GeometryCollection:
    """Every shape of `row` where it lies on the panel."""
    return GeometryCollection([on_panel(cut) for cut in row.cuts])
