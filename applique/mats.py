"""Letters laid out on the mats of a cutting machine, fabric by fabric.

Frame of a mat: inches, origin at its lower left corner, y up, laid out right-reading. For fabric that lies on the mat
wrong side up a cut file mirrors the whole mat.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from applique.design import Cutting, Fabric, Turns
from applique.geometry.place import Place
from applique.nesting import NestPiece, Placement, fits, nest_bins
from applique.pieces import Template

__all__ = ["Mat", "MatPlan", "plan_mats"]

_TURNS: Final[dict[Turns, tuple[float, ...]]] = {
    Turns.UPRIGHT: (0.0,),
    Turns.HALF: (0.0, 180.0),
    Turns.QUARTER: (0.0, 90.0, 180.0, 270.0),
}
"""The grain of the cloth runs along the height of the mat."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mat:
    """One mat: the letters of one fabric where they are cut."""

    number: int
    fabric: str
    width: float
    height: float
    placements: tuple[Placement, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MatPlan:
    """All mats, with `room` (width, height) on each, and the templates that are too large for it."""

    mats: tuple[Mat, ...]
    room: tuple[float, float]
    too_large: tuple[Template, ...]


def plan_mats(templates: Sequence[Template], cutting: Cutting) -> MatPlan:
    """The letters of each fabric on as few mats as are found; none without a mat in the design."""
    if cutting.mat_width is None:
        return MatPlan(mats=(), room=(0.0, 0.0), too_large=())
    width, height = float(cutting.mat_width), float(cutting.mat_height or cutting.mat_width)
    margin = float(cutting.mat_margin)
    room = (width - 2 * margin, height - 2 * margin)
    fabrics: dict[str, Fabric] = {use.fabric.name: use.fabric for t in templates for use in t.uses}
    mats: list[Mat] = []
    large: set[str] = set()
    for fabric in fabrics.values():
        pieces = _pieces(templates, fabric)
        whole = [piece for piece in pieces if min(room) > 0 and fits(piece, width=room[0], height=room[1])]
        large |= {piece.key for piece in pieces if piece not in whole}
        if not whole:
            continue
        nest = nest_bins(whole, width=room[0], height=room[1], spacing=float(cutting.mat_spacing))
        for sheet in nest.bins:
            moved = tuple(
                Placement(key=spot.key, place=spot.place.within(Place(x=margin, y=margin))) for spot in sheet
            )
            mats.append(
                Mat(number=len(mats) + 1, fabric=fabric.name, width=width, height=height, placements=moved)
            )
    return MatPlan(
        mats=tuple(mats),
        room=room,
        too_large=tuple(template for template in templates if template.key in large),
    )


def _pieces(templates: Sequence[Template], fabric: Fabric) -> list[NestPiece]:
    counts = [(t, sum(use.count for use in t.uses if use.fabric.name == fabric.name)) for t in templates]
    return [
        NestPiece(key=template.key, shape=template.outermost, count=count, turns_deg=_TURNS[fabric.turns])
        for template, count in counts
        if count
    ]
