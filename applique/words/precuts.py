"""A precut instead of yardage, in words: which one would do, and what is cut from each piece of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from applique.cloth import PrecutPlan
from applique.cutting import CutCloth
from applique.language import Message, listed, message, messages
from applique.quilt.panel_cut import PanelCut
from applique.units import Units
from applique.words.buying import precut_said
from applique.words.cloth import use_said
from applique.words.cutting import size_said
from applique.words.instructions.sizes import by_said
from applique.words.sheets import set_apart

__all__ = ["cut_from_precut_said", "cuts_of_precut_said"]


def cut_from_precut_said(plan: PrecutPlan, units: Units) -> Message:
    """Which precut would do, and what its plan cuts from each of its pieces, across first; lengths in `units`."""
    if len(plan.plan.cloths) == 1:
        return message(
            "{precut}: it gives {pieces}",
            precut=precut_said(plan.precut),
            pieces=listed(_pieces_said(plan.plan.cloths[0], plan, units)),
        )
    return message(
        "{precut}: {cloths}",
        precut=precut_said(plan.precut),
        cloths=set_apart(cuts_of_precut_said(plan, units)),
    )


def cuts_of_precut_said(plan: PrecutPlan, units: Units) -> list[Message]:
    """What is cut from a precut, one after the other: of several pieces what each gives, of a single one each size."""
    if len(plan.plan.cloths) == 1:
        return list(_pieces_said(plan.plan.cloths[0], plan, units))
    alike = [list(cloths) for _, cloths in groupby(plan.plan.cloths, key=lambda cloth: cloth.root)]
    return [_each_said(cloths, plan, units) for cloths in alike]


def _each_said(cloths: Sequence[CutCloth], plan: PrecutPlan, units: Units) -> Message:
    """What is cut from one piece, or from several that are cut alike."""
    return messages(
        "number {first} gives {pieces}",
        "numbers {first} to {last} give {pieces} each",
        len(cloths),
        first=cloths[0].number,
        last=cloths[-1].number,
        pieces=listed(_pieces_said(cloths[0], plan, units)),
    )


def _pieces_said(cloth: CutCloth, plan: PrecutPlan, units: Units) -> Iterator[Message]:
    uses = {key: use_said(use) for use in plan.uses for key in use.keys}
    hung = {
        key: by_said((use.cut.width, use.cut.height), units)
        for use in plan.uses
        if isinstance(use.cut, PanelCut) and use.cut.seam is None
        for key in use.keys
    }
    counts = Counter(
        (uses[piece.key], hung.get(piece.key) or size_said(region.length, region.width, units))
        for region, piece in cloth.root.pieces()
    )
    for (use, size), count in counts.items():
        yield message("{count} of {size} ({use})", count=count, size=size, use=use)
