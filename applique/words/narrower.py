"""What to do with a fabric that is too narrow for its cutting plan, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from applique.cloth import LETTERS, NarrowCloth, NarrowPlan
from applique.design import Fabric
from applique.language import Field, Message, listed, message, messages
from applique.shopping import Shopping
from applique.units import Units, as_available, as_size, as_yardage

__all__ = ["narrow_cuts_said", "narrow_said"]


def narrow_said(shopping: Shopping, units: Units) -> Iterator[Message]:
    """What to buy of each fabric that would be too narrow for its plan if it has no more than the usual width, or is
    washed first, or that there is no plan for it then."""
    for buy in shopping.cloth:
        narrow = buy.cutting.narrow
        if narrow is None:
            continue
        if narrow.usual is None:
            yield _no_plan_said(buy.fabric.name, narrow)
            continue
        said = _to_buy_said(buy.fabric, narrow.usual, narrow, units)
        if narrow.usual.lengths is None:
            yield said
        else:
            yield messages(
                "{to_buy} The backing is sewn of {count} length then.",
                "{to_buy} The backing is sewn of {count} lengths then.",
                narrow.usual.lengths,
                to_buy=said,
            )


def _no_plan_said(fabric: str, narrow: NarrowCloth) -> Message:
    if narrow.is_washed or narrow.washed is not None:
        return message(
            "{fabric}: there is no plan for narrower fabric; take one of that width.", fabric=fabric
        )
    return message(
        "{fabric}: there is no plan for narrower fabric; take one of that width, and if you wash it first, one that "
        "still has it after washing.",
        fabric=fabric,
    )


def _to_buy_said(fabric: Fabric, usual: NarrowPlan, narrow: NarrowCloth, units: Units) -> Message:
    fields: dict[str, Field] = {
        "fabric": fabric.name,
        "width": as_available(usual.width, units),
        "usual": as_yardage(usual.rule.buy, units),
    }
    if narrow.is_washed:
        return message("{fabric}: if yours measures only {width}, buy {usual}.", **fields)
    if narrow.washed is None:
        return message(
            "{fabric}: if yours measures only {width}, buy {usual}; do not wash it first.", **fields
        )
    return message(
        "{fabric}: if yours measures only {width}, buy {usual} and do not wash it first; if it measures {full} and you "
        "do wash it, buy {washed}.",
        washed=as_yardage(narrow.washed.rule.buy, units),
        full=as_available(fabric.usable_width, units),
        **fields,
    )


def narrow_cuts_said(narrow: NarrowCloth, letters: Mapping[str, str], units: Units) -> Message | None:
    """Which bands are cut from fabric of the usual width instead, for the pieces that `letters` names; None where
    there is no such plan, or one of other pieces."""
    plan = narrow.usual
    if plan is None or not plan.is_alike:
        return None
    fields: dict[str, Field] = {
        "width": as_available(plan.width, units),
        "length": as_yardage(plan.rule.buy, units),
        "bands": listed(_bands_said(plan, letters, units)),
    }
    if LETTERS not in letters:
        return message(
            "If yours measures only {width}, cut these bands of {length} instead, and the same pieces from them: "
            "{bands}. The rest of this step, its drawing and its table are for wider fabric.",
            **fields,
        )
    return message(
        "If yours measures only {width}, cut these bands of {length} instead, and the same pieces from them: {bands}. "
        "On {piece} the letters lie otherwise than in their drawing then: lay them all out on it before you fuse any. "
        "The rest of this step, its drawing and its table are for wider fabric.",
        piece=letters[LETTERS],
        **fields,
    )


def _bands_said(plan: NarrowPlan, letters: Mapping[str, str], units: Units) -> Iterator[Message]:
    for count, size, keys in plan.bands:
        yield message(
            "{count} × {size} for {pieces}",
            count=count,
            size=as_size(size, units),
            pieces=listed(letter for key, letter in letters.items() if key in keys),
        )
