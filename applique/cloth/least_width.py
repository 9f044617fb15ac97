"""Down to which usable width a cutting plan gives every piece.

Exact inches; the frame is that of `cutting`. What is joined side by side or end to end need only reach together: a
strip across may be shorter, and another of its run longer, as far as there is room beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, TypeAlias

from applique.cutting import CutCloth, Lie, Piece, Region, Split

__all__ = ["Together", "Widths", "least_widths"]

_LEAST_STRIP: Final = Fraction(12)
"""Strips shorter than this are not worth joining: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Pieces of the demands `keys` that are joined: `spare` is how much further they reach than they must. They are
    measured across, as strips that lie across are and, where they are `lengths`, lengths sewn side by side."""

    keys: frozenset[str]
    spare: Fraction
    lengths: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Widths:
    """The `least` usable width of one supply, 0 where nothing is cut from it. On fabric narrower than it is said to be
    the strips of `longer` are cut as long, and the lengths of `wider` as wide, as the fabric and what lies beside them
    allow."""

    least: Fraction
    longer: tuple[str, ...]
    wider: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Free:
    """A piece whose size across may change: `beside` is what all else needs across where it lies."""

    region: Region
    key: str
    cloth: CutCloth
    beside: Fraction

    @property
    def most(self) -> Fraction:
        """How far it may reach."""
        return self.cloth.root.width - self.beside

    @property
    def spot(self) -> _Spot:
        """Where it lies."""
        return (self.cloth.supply, self.cloth.number, self.region.x, self.region.y)


_Spot: TypeAlias = tuple[str, int, Fraction, Fraction]


def least_widths(cloths: Sequence[CutCloth], together: Sequence[Together]) -> Mapping[str, Widths]:
    """The least width of each supply that something is cut from; those that one run is cut from get narrower by as
    much.

    Source:
        n·width + the others - (n-1)·loss ≥ needed, solved for the width; else where the pieces end.
    """
    keys = {key: one for one in together for key in one.keys}
    free = [one for cloth in cloths for one in _free(cloth.root, Fraction(0), cloth, keys)]
    narrower = {run.keys: _narrower(run, [one for one in free if one.key in run.keys]) for run in together}
    loose = {one.spot for one in free}
    found = {}
    for supply in dict.fromkeys(cloth.supply for cloth in cloths):
        here = [(one, keys[one.key]) for one in free if one.cloth.supply == supply]
        fixed = (_needed(cloth.root, cloth, loose) for cloth in cloths if cloth.supply == supply)
        reached = (one.cloth.root.width - narrower[run.keys] for one, run in here)
        partial = [(one, run) for one, run in here if one.region.width < one.cloth.root.width]
        found[supply] = Widths(
            least=max((*fixed, *reached)),
            longer=tuple(dict.fromkeys(one.key for one, run in partial if not run.lengths)),
            wider=tuple(dict.fromkeys(one.key for one, run in partial if run.lengths)),
        )
    return found


def _narrower(run: Together, free: Sequence[_Free]) -> Fraction:
    """By how much all cloths of a run may be narrower."""
    if not free:
        return Fraction(0)
    room = sum((one.most - one.region.width for one in free), Fraction(0))
    return (room + run.spare) / len(free)


def _free(region: Region, beside: Fraction, cloth: CutCloth, keys: Mapping[str, Together]) -> Iterator[_Free]:
    """Each piece in it whose size across may change, of those side by side the last."""
    match region.fill:
        case Piece(key=key, lie=lie) if key in keys and (lie is Lie.ACROSS or keys[key].lengths):
            yield _Free(region=region, key=key, cloth=cloth, beside=beside)
        case Split(cut=Lie.ACROSS, parts=parts):
            for part in parts:
                yield from _free(part, beside, cloth, keys)
        case Split(parts=parts):
            for part in reversed(parts):
                others = (_needed(one, cloth, frozenset()) for one in parts if one is not part)
                found = list(_free(part, sum(others, beside), cloth, keys))
                if found:
                    yield from found
                    return


def _needed(region: Region, cloth: CutCloth, loose: Set[_Spot]) -> Fraction:
    """What the pieces in a region need across; a `loose` one no more than a strip worth joining."""
    match region.fill:
        case None:
            return Fraction(0)
        case Piece():
            is_loose = (cloth.supply, cloth.number, region.x, region.y) in loose
            return min(region.width, _LEAST_STRIP) if is_loose else region.width
        case Split(cut=Lie.ACROSS, parts=parts):
            return max(_needed(part, cloth, loose) for part in parts)
        case Split(parts=parts):
            return sum((_needed(part, cloth, loose) for part in parts), Fraction(0))
