"""Letters laid out on the mats of a cutting machine, fabric by fabric.

Frame of a mat: inches, origin at its lower left corner, y up, laid out right-reading. For fabric that lies on the mat
wrong side up a cut file mirrors the whole mat.

Where the machine is the method, each mat takes one piece of fabric with web on its back, laid into that corner: no
larger than its letters and the rough cut need. It is what fabric and web are bought for.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import shapely
from shapely.geometry import box

from applique.design import Cutting, Fabric, Turns
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Point
from applique.geometry.polygons import Shape, as_shape
from applique.nesting import BinNest, NestPiece, Placement, fits, nest_bins
from applique.pieces import Template
from applique.units import Units, cutting_step, measured_up

__all__ = ["Mat", "MatPlan", "plan_mats"]

_TURNS: Final[dict[Turns, tuple[float, ...]]] = {
    Turns.UPRIGHT: (0.0,),
    Turns.HALF: (0.0, 180.0),
    Turns.QUARTER: (0.0, 90.0, 180.0, 270.0),
}
"""The grain of the cloth runs along the height of the mat."""
_HALVINGS: Final = 6
"""Of the height of a mat, to find how low its letters can lie: to a sixty-fourth of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mat:
    """One mat: the letters of one fabric where they are cut, each of its `templates` once.

    `piece` is the width and height of the fabric that it takes, from the corner of the mat.
    """

    number: int
    fabric: str
    width: float
    height: float
    placements: tuple[Placement, ...]
    templates: tuple[Template, ...]
    piece: tuple[Fraction, Fraction]

    @property
    def key(self) -> str:
        """What its piece of fabric is called in a nest; no template is called so."""
        return f"mat-{self.number}"

    @property
    def outline(self) -> Outline:
        """Everything that is cut on it."""
        by_key = {template.key: template.cut_line for template in self.templates}
        laid = [spot.place.outline(by_key[spot.key]) for spot in self.placements]
        return Outline(contours=tuple(contour for outline in laid for contour in outline.contours))

    @property
    def slits(self) -> tuple[tuple[Point, ...], ...]:
        """The cuts through the mouths of turned edges on it, each a line through points."""
        by_key = {t.key: t.turned.mouths for t in self.templates if t.turned}
        return tuple(
            tuple(spot.place.point(point) for point in line)
            for spot in self.placements
            for line in by_key.get(spot.key, ())
        )

    @property
    def shape(self) -> Shape:
        """The polygons of everything that is cut on it."""
        by_key = {template.key: template.outermost for template in self.templates}
        return as_shape(shapely.union_all([spot.place.shape(by_key[spot.key]) for spot in self.placements]))

    @property
    def cloth(self) -> Shape:
        """Its piece of fabric."""
        return box(0.0, 0.0, float(self.piece[0]), float(self.piece[1]))


@dataclass(frozen=True, slots=True, kw_only=True)
class MatPlan:
    """All mats, with `room` (width, height) on each, and the templates that are too large for it."""

    mats: tuple[Mat, ...]
    room: tuple[float, float]
    too_large: tuple[Template, ...]


def plan_mats(
    templates: Sequence[Template],
    cutting: Cutting,
    *,
    rough_cut: Fraction,
    fussy: Container[str],
    shared: Container[str],
    units: Units,
) -> MatPlan:
    """The letters of each fabric on as few mats as are found; none without a mat in the design.

    No mat asks for a piece wider than its fabric. Fabrics that are `fussy` have no mats: each of their letters is cut
    from a spot of its own. Letters lie as low on their mats as is found, for their pieces are cut side by side across
    the fabric; in fabric that is `shared` with other uses they fill each mat upward, for those lie beside them.
    """
    if cutting.mat_width is None:
        return MatPlan(mats=(), room=(0.0, 0.0), too_large=())
    width, height = float(cutting.mat_width), float(cutting.mat_height or cutting.mat_width)
    margin = float(cutting.mat_margin)
    room = (width - 2 * margin, height - 2 * margin)
    fabrics: dict[str, Fabric] = {use.fabric.name: use.fabric for t in templates for use in t.uses}
    mats: list[Mat] = []
    large: set[str] = set()
    for fabric in fabrics.values():
        if fabric.name in fussy:
            continue
        pieces = _pieces(templates, fabric)
        across = min(room[0], float(fabric.usable_width - rough_cut) - margin)
        whole = [
            piece
            for piece in pieces
            if min(across, room[1]) > 0 and fits(piece, width=across, height=room[1])
        ]
        large |= {piece.key for piece in pieces if piece not in whole}
        if not whole:
            continue
        spacing = float(cutting.mat_spacing)
        nest = nest_bins(whole, width=across, height=room[1], spacing=spacing)
        if fabric.name not in shared:
            nest = _lower(nest, whole)
        for sheet in nest.bins:
            moved = tuple(
                Placement(key=spot.key, place=spot.place.within(Place(x=margin, y=margin))) for spot in sheet
            )
            on_it = {spot.key for spot in moved}
            mats.append(
                Mat(
                    number=len(mats) + 1,
                    fabric=fabric.name,
                    width=width,
                    height=height,
                    placements=moved,
                    templates=tuple(template for template in templates if template.key in on_it),
                    piece=_piece(moved, whole, cutting, rough_cut, units),
                )
            )
    return MatPlan(
        mats=tuple(mats),
        room=room,
        too_large=tuple(template for template in templates if template.key in large),
    )


def _lower(nest: BinNest, pieces: Sequence[NestPiece]) -> BinNest:
    """The same on as many mats, as low as bisection finds."""
    low, high = 0.0, nest.height
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if not all(fits(piece, width=nest.width, height=middle) for piece in pieces):
            low = middle
            continue
        tried = nest_bins(
            pieces, width=nest.width, height=middle, spacing=nest.spacing, enough=len(nest.bins)
        )
        if len(tried.bins) > len(nest.bins):
            low = middle
        else:
            nest, high = tried, middle
    return nest


def _pieces(templates: Sequence[Template], fabric: Fabric) -> list[NestPiece]:
    counts = [(t, sum(use.count for use in t.uses if use.fabric.name == fabric.name)) for t in templates]
    return [
        NestPiece(key=template.key, shape=template.outermost, count=count, turns_deg=_TURNS[fabric.turns])
        for template, count in counts
        if count
    ]


def _piece(
    placements: Sequence[Placement],
    pieces: Sequence[NestPiece],
    cutting: Cutting,
    rough_cut: Fraction,
    units: Units,
) -> tuple[Fraction, Fraction]:
    """The width and height of the fabric from the corner of a mat to the rough cut of its letters, and no further than
    the mat."""
    shapes = {piece.key: piece.shape for piece in pieces}
    bounds = [spot.place.shape(shapes[spot.key]).bounds for spot in placements]
    across, up = (
        measured_up(max(ends[side] for ends in bounds) + float(rough_cut), cutting_step(units))
        for side in (2, 3)
    )
    width = cutting.mat_width or across
    return min(across, width), min(up, cutting.mat_height or width)
