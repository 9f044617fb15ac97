"""Strips of a run kept as long as their cloth is, where what lies beside them would only be thrown away.

Strips that are joined end to end are cut to length after, so one that is longer only reaches further.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from applique.cutting.values import Choice, CuttingPlan, Demand, Lie, Piece, Region, Run, Split

__all__ = ["keep_strips_whole"]

_KEPT_LENGTH: Final = Fraction(12)
_KEPT_WIDTH: Final = Fraction(4)
"""What is left over and at least so long and so wide is worth keeping: common practice, no source."""
_TO_SPARE: Final = Fraction(2)
"""Inches that joined strips reach further than they must where what lies beside one of them leaves room: our own."""


def keep_strips_whole(plan: CuttingPlan, demands: Sequence[Demand]) -> CuttingPlan:
    """The same plan, with strips of joined runs grown into what is left over beside them along their own length.

    Nothing else is cut from there, and the cut between the two is spared, so there is no kind of cut more. A strip
    grows no further than its run needs to have 2 in to spare where what is left over is then worth keeping, at least
    12 in by 4 in; it stays as it is where another strip of its run would then be too many, and where its run is one
    strip alone, or is missing.
    """
    lengths: dict[str, list[Fraction]] = {}
    for cloth in plan.cloths:
        for region, piece in cloth.root.pieces():
            lengths.setdefault(piece.key, []).append(_long(region, piece.lie))
    runs = {
        run.key: run
        for run in _runs(demands)
        if len(lengths.get(run.key, ())) > 1 and run.key not in plan.missing
    }
    cloths = tuple(replace(cloth, root=_grown(cloth.root, runs, lengths)) for cloth in plan.cloths)
    return replace(plan, cloths=cloths)


def _runs(demands: Sequence[Demand]) -> Iterator[Run]:
    for demand in demands:
        ways = demand.ways if isinstance(demand, Choice) else ((demand,),)
        yield from (one for way in ways for one in way if isinstance(one, Run))


def _grown(region: Region, runs: dict[str, Run], lengths: dict[str, list[Fraction]]) -> Region:
    """`region` with the strips in it grown; `lengths` of the strips of each run go with them."""
    match region.fill:
        case Split(parts=[Region(fill=Piece() as strip) as short, Region(fill=None) as rest]) as split if (
            split.cut is not strip.lie and strip.key in runs
        ):
            run, now = runs[strip.key], list(lengths[strip.key])
            more = max(_TO_SPARE - (_reach(run, now) - run.length), Fraction(0))
            less = _cut_off(rest, more, strip.lie)
            longer = replace(region, fill=strip) if less is None else _longer(short, more, strip.lie)
            now[now.index(_long(short, strip.lie))] = _long(longer, strip.lie)
            if _is_all_needed(run, now):
                lengths[strip.key] = now
                return longer if less is None else replace(region, fill=replace(split, parts=(longer, less)))
        case Split(parts=parts) as split:
            return replace(
                region, fill=replace(split, parts=tuple(_grown(part, runs, lengths) for part in parts))
            )
    return region


def _is_all_needed(run: Run, lengths: Sequence[Fraction]) -> bool:
    """Whether strips of these lengths would not reach if the shortest were left out."""
    shortest = lengths.index(min(lengths))
    return _reach(run, [*lengths[:shortest], *lengths[shortest + 1 :]]) < run.length


def _reach(run: Run, lengths: Sequence[Fraction]) -> Fraction:
    """How far strips of these lengths reach once they are joined."""
    return sum(lengths, Fraction(0)) - (len(lengths) - 1) * run.loss


def _longer(strip: Region, more: Fraction, lie: Lie) -> Region:
    if lie is Lie.ALONG:
        return replace(strip, length=strip.length + more)
    return replace(strip, width=strip.width + more)


def _cut_off(rest: Region, more: Fraction, lie: Lie) -> Region | None:
    """What is left over once a strip that lies so is longer; None where that is not worth keeping."""
    if _long(rest, lie) <= more:
        return None
    less = _longer(rest.moved(more) if lie is Lie.ALONG else rest.moved(Fraction(0), more), -more, lie)
    return less if _is_kept(less) else None


def _is_kept(rest: Region) -> bool:
    short, long = sorted((rest.length, rest.width))
    return short >= _KEPT_WIDTH and long >= _KEPT_LENGTH


def _long(region: Region, lie: Lie) -> Fraction:
    """How long a piece is that lies so."""
    return region.length if lie is Lie.ALONG else region.width
