"""Bands of equal depth joined into one, where all that is cut from the one fits beside what is cut from the other.

A cut across the whole width is spared, and the length of a band; nothing is cut that was not.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import replace
from fractions import Fraction

from applique.cutting.values import NO_SPARE, CuttingPlan, Lie, Region, Split

__all__ = ["join_equal_bands"]


def join_equal_bands(plan: CuttingPlan, *, held: Set[str], spare: Fraction = Fraction(0)) -> CuttingPlan:
    """The same plan with fewer bands: one goes into what is left over at the end of an earlier one as deep, if `spare`,
    at least `NO_SPARE`, is left beside both. That much less is used of what is bought, and left at the end of what is
    `held`, by its supplies."""
    found = []
    used = plan.used
    for cloth in plan.cloths:
        root = _joined(cloth.root, max(spare, NO_SPARE), keeps_length=cloth.supply in held)
        used += root.length - cloth.root.length
        found.append(replace(cloth, root=root))
    return replace(plan, cloths=tuple(found), used=used)


def _joined(root: Region, spare: Fraction, *, keeps_length: bool) -> Region:
    if not isinstance(root.fill, Split) or root.fill.cut is not Lie.ACROSS:
        return root
    *bands, last = root.fill.parts
    if last.fill is not None:
        bands.append(last)
    kept: list[Region] = []
    for band in bands:
        joined = ((place, _beside(one, band, spare)) for place, one in enumerate(kept))
        place, both = next(((place, both) for place, both in joined if both is not None), (None, None))
        if place is None or both is None:
            kept.append(band)
        else:
            kept[place] = both
    if len(kept) == len(bands):
        return root
    x, parts = root.x, []
    for band in kept:
        parts.append(band.moved(x - band.x))
        x += band.length
    left = root.x + root.length - x
    if last.fill is None or keeps_length:
        parts.append(Region(x=x, y=root.y, length=left, width=root.width, fill=None))
        left = Fraction(0)
    if len(parts) == 1:
        return parts[0]
    return replace(root, length=root.length - left, fill=Split(cut=Lie.ACROSS, parts=tuple(parts)))


def _beside(one: Region, other: Region, spare: Fraction) -> Region | None:
    """Two bands as one; None where they are not equally deep, or there is no room."""
    if one.length != other.length:
        return None
    (cut, rest), (more, _) = _cut_and_left(one), _cut_and_left(other)
    taken = sum((part.width for part in more), Fraction(0))
    if not cut or not more or rest - taken < spare:
        return None
    y = sum((part.width for part in cut), one.y)
    parts = [*cut, *(part.moved(one.x - other.x, y - other.y) for part in more)]
    end = Region(x=one.x, y=y + taken, length=one.length, width=rest - taken, fill=None)
    return replace(one, fill=Split(cut=Lie.ALONG, parts=(*parts, end)))


def _cut_and_left(band: Region) -> tuple[Sequence[Region], Fraction]:
    """What is cut from a band side by side, and how much of the width is left at its end; nothing where all of it is
    taken."""
    if (
        not isinstance(band.fill, Split)
        or band.fill.cut is not Lie.ALONG
        or band.fill.parts[-1].fill is not None
    ):
        return (), Fraction(0)
    *cut, rest = band.fill.parts
    return cut, rest.width
