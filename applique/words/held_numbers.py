"""Numbers of the maker's own in words: whether each holds, what is to spare or lacking, and from which width on."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Final

from applique.design import Part
from applique.errors import Notice, Where
from applique.held_numbers import (
    HeldBuy,
    HeldHours,
    HeldLength,
    HeldNumber,
    HeldPieces,
    HeldStrips,
    NothingCut,
    Verdict,
)
from applique.language import Field, Measure, Message, Unit, any_of, message, messages
from applique.units import MM_PER_INCH, Units, as_length, as_needed, as_yardage, buying_step, round_up
from applique.words.buying import rule_said
from applique.words.sewing import minutes_said
from applique.words.sheets import set_apart

__all__ = ["HELD_NUMBERS", "held_notice", "held_said", "short_notices"]

HELD_NUMBERS: Final = message("Numbers of your own")
_PARTS: Final = {
    Part.PANEL: message("panel"),
    Part.BINDING: message("binding"),
    Part.BACKING: message("backing"),
    Part.SLEEVE: message("hanging sleeve"),
    Part.LETTERS: message("letters"),
    Part.WEB: message("fusible web"),
}
_EIGHTH: Final = Fraction(1, 8)


def short_notices(numbers: tuple[HeldNumber, ...], units: Units) -> tuple[Notice, ...]:
    """A notice for each number that does not hold, in their order."""
    return tuple(held_notice(one, units) for one in numbers if one.verdict is not Verdict.HOLDS)


def held_notice(number: HeldNumber, units: Units) -> Notice:
    """A number as a notice that stands where it is stated."""
    kind = {
        Verdict.HOLDS: "stated-number-holds",
        Verdict.SHORT: "stated-number-short",
        Verdict.NOTHING: "stated-number-of-nothing",
    }[number.verdict]
    where = Where.key("stated", number.table, number.kind.value)
    return Notice(kind=kind, what=held_said(number, units), where=where)


def held_said(number: HeldNumber, units: Units) -> Message:
    """Whether a number holds, behind the part that it is of."""
    return message("{part}: {verdict}", part=_part(number), verdict=_verdict(number, units))


def _part(number: HeldNumber) -> Field:
    if number.part is Part.FABRIC:
        return number.fabric
    if number.part is Part.BORDER:
        border = number.border or 0
        if number.fabric:
            return message("border {number}, {fabric}", number=border, fabric=number.fabric)
        return message("border {number}", number=border)
    part = _PARTS[number.part]
    return message("{part}, {fabric}", part=part, fabric=number.fabric) if number.fabric else part


def _verdict(number: HeldNumber, units: Units) -> Message:
    match number.held:
        case HeldStrips() as strips:
            return _strips(strips, units)
        case HeldPieces() as pieces:
            return _pieces(pieces)
        case HeldLength() as length:
            return _length(length, units)
        case HeldBuy() as buy:
            return _buy(buy, units)
        case HeldHours() as hours:
            return _hours(hours)
        case NothingCut():
            return message(
                "this quilt has nothing of the kind, so there is nothing to hold the number against"
            )


def _strips(strips: HeldStrips, units: Units) -> Message:
    fits = any_of(as_length(width, units) for width in strips.usable_widths)
    if strips.holds_from is None or strips.needed is None:
        return _strips_never(strips, fits, units)
    start = as_needed(strips.holds_from, units)
    if strips.over is None:
        if strips.verdict is Verdict.HOLDS:
            return messages(
                "{count} strip holds, from {start} of usable width on; at {usable} it takes {needed}",
                "{count} strips hold, from {start} of usable width on; at {usable} it takes {needed}",
                strips.stated,
                start=start,
                usable=fits,
                needed=strips.needed,
            )
        return messages(
            "{count} strip holds from {start} of usable width on; at {usable} it takes {needed}",
            "{count} strips hold from {start} of usable width on; at {usable} it takes {needed}",
            strips.stated,
            start=start,
            usable=fits,
            needed=strips.needed,
        )
    if strips.verdict is Verdict.HOLDS:
        return messages(
            "{count} strip holds, with {spare} to spare at {usable} of usable width; it holds from {start} on",
            "{count} strips hold, with {spare} to spare at {usable} of usable width; they hold from {start} on",
            strips.stated,
            spare=_down(strips.over, units),
            usable=fits,
            start=start,
        )
    return messages(
        "{count} strip holds from {start} of usable width on; at {usable} it falls {short} short",
        "{count} strips hold from {start} of usable width on; at {usable} they fall {short} short",
        strips.stated,
        start=start,
        usable=fits,
        short=as_needed(-strips.over, units),
    )


def _strips_never(strips: HeldStrips, fits: Field, units: Units) -> Message:
    """Strips that do at no width, or a width at which no strips do."""
    if strips.needed is not None:
        return messages(
            "{count} strip holds at no width; at {usable} it takes {needed}",
            "{count} strips hold at no width; at {usable} it takes {needed}",
            strips.stated,
            usable=fits,
            needed=strips.needed,
        )
    if strips.holds_from is not None:
        return messages(
            "{count} strip holds from {start} of usable width on; at {usable} the pieces are longer than a strip",
            "{count} strips hold from {start} of usable width on; at {usable} the pieces are longer than a strip",
            strips.stated,
            start=as_needed(strips.holds_from, units),
            usable=fits,
        )
    return messages(
        "{count} strip holds at no width; at {usable} the pieces are longer than a strip",
        "{count} strips hold at no width; at {usable} the pieces are longer than a strip",
        strips.stated,
        usable=fits,
    )


def _pieces(pieces: HeldPieces) -> Message:
    if not pieces.over:
        return messages("{count} piece holds, just enough", "{count} pieces hold, just enough", pieces.stated)
    if pieces.verdict is Verdict.HOLDS:
        return messages(
            "{count} piece holds, with {spare} to spare",
            "{count} pieces hold, with {spare} to spare",
            pieces.stated,
            spare=pieces.over,
        )
    return messages(
        "{count} piece falls {short} short; {needed} are cut",
        "{count} pieces fall {short} short; {needed} are cut",
        pieces.stated,
        short=-pieces.over,
        needed=pieces.needed,
    )


def _length(length: HeldLength, units: Units) -> Message:
    stated, needed = as_length(length.stated, units, denominator=16), as_needed(length.needed, units)
    if length.verdict is Verdict.HOLDS:
        return message(
            "a length of {stated} holds, with {spare} to spare; it takes {needed}",
            stated=stated,
            spare=_down(length.over, units),
            needed=needed,
        )
    return message(
        "a length of {stated} falls {short} short; it takes {needed}",
        stated=stated,
        short=as_needed(-length.over, units),
        needed=needed,
    )


def _buy(buy: HeldBuy, units: Units) -> Message:
    rules = [(fabric, rule_said(rule, units)) for fabric, rule in buy.rules]
    figured = (
        rules[0][1]
        if len(rules) == 1
        else set_apart(message("{fabric}: {rule}", fabric=fabric, rule=rule) for fabric, rule in rules)
    )
    if buy.verdict is Verdict.HOLDS:
        return message(
            "{stated} to buy holds, with {spare} to spare ({rule})",
            stated=_bought(buy.stated, units),
            spare=_spare_to_buy(buy.over, units),
            rule=figured,
        )
    return message(
        "{stated} to buy falls {short} short ({rule})",
        stated=_bought(buy.stated, units),
        short=as_yardage(round_up(-buy.over, buying_step(units)), units),
        rule=figured,
    )


def _hours(hours: HeldHours) -> Message:
    stated = Measure(number=round(Fraction(hours.stated), 2), unit=Unit.HOUR, as_fraction=False)
    takes = minutes_said((hours.least * 60, hours.most * 60))
    if hours.verdict is Verdict.HOLDS:
        return message("{stated} at the machine holds: we figure {takes}", stated=stated, takes=takes)
    return message("{stated} at the machine falls short: we figure {takes}", stated=stated, takes=takes)


def _bought(length: Fraction, units: Units) -> Measure:
    """A length as a shop says it, or in inches where a shop would not cut it."""
    whole = not length % (buying_step(units) if units is Units.INCHES else 10 / MM_PER_INCH)
    return as_yardage(length, units) if whole else as_length(length, units, denominator=16)


def _spare_to_buy(length: Fraction, units: Units) -> Measure:
    """What is to spare, down to the next step of a shop, or in inches where it is less than one."""
    step = buying_step(units)
    return as_yardage(math.floor(length / step) * step, units) if length >= step else _down(length, units)


def _down(length: Fraction, units: Units) -> Measure:
    """What is to spare, down to the next 1/8 in or millimeter: nobody counts on too much."""
    step = _EIGHTH if units is Units.INCHES else 1 / MM_PER_INCH
    return as_length(math.floor(length / step) * step, units)
