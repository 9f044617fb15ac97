"""What the checks have found, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import Around
from applique.errors import Notice
from applique.language import Listing, Measure, Message, Unit, listed, message, messages
from applique.sewing.findings import (
    Faded,
    Finding,
    FindingKind,
    Meeting,
    Nearness,
    OutOfRange,
    Shortfall,
    Spot,
    TooFar,
)
from applique.sewing.holes import FilledHoles
from applique.sewing.limits import Limit
from applique.units import (
    MM_PER_INCH,
    Units,
    as_length,
    distances_apart,
    format_number,
    numbers_apart,
    telling_apart,
)
from applique.words.limits import limit_reason_said

__all__ = ["filled_notice", "finding_said", "measured_in", "notice_of"]

_AT_MOST_NAMED: Final = 8
_SHORT: Final = {
    FindingKind.STROKE: message(
        "the thinnest stroke of “{text}” is {measure}, less than the {limit} it needs"
    ),
    FindingKind.COUNTER: message(
        "the smallest hole in “{text}” is {measure}, less than the {limit} it needs"
    ),
    FindingKind.SLOT: message("the narrowest slot of “{text}” is {measure}, less than the {limit} it needs"),
    FindingKind.POINT: message("the sharpest point of “{text}” is {measure}, less than the {limit} it needs"),
    FindingKind.HOLE: message(
        "the smallest hole in the outline behind “{text}” is {measure}, less than the {limit} it needs"
    ),
    FindingKind.NECK: message(
        "the narrowest neck of a hole in the outline behind “{text}” is {measure}, less than the {limit} it needs"
    ),
    FindingKind.CLEAR: message("“{text}” are {measure} apart, less than the {limit} they need"),
    FindingKind.SEAM: message("“{text}” is {measure} from the panel's seam, less than the {limit} it needs"),
    FindingKind.SLIVER: message(
        "what the panel's edge leaves of “{text}” is {measure} across, less than the {limit} it needs"
    ),
}
_ALSO_SMALL: Final = message("too small also in {letters}")
_ALSO: Final = {
    FindingKind.POINT: message("too sharp also in {letters}"),
    FindingKind.HOLE: message("too small also behind {letters}"),
    FindingKind.NECK: message("too small also behind {letters}"),
    FindingKind.CLEAR: message("too close also: {letters}"),
    FindingKind.SEAM: message("too close also: {letters}"),
    FindingKind.SLIVER: message("too little also of {letters}"),
    FindingKind.OUTLINES: message("so do {letters}"),
}
_MEETING: Final = {
    Around.LETTERS: message(
        "the outlines behind “{text}” lie over each other; letters are nearer than twice the outline of {reach}"
    ),
    Around.WORDS: message(
        "the outlines behind “{text}” lie over each other; words are nearer than twice the outline of {reach}"
    ),
}


def notice_of(finding: Finding, units: Units) -> Notice:
    """The finding as a notice of the pattern."""
    return Notice(kind=finding.kind.value, what=finding_said(finding, units), where=finding.where)


def finding_said(finding: Finding, units: Units) -> Message:
    """What will go wrong, with its measure and its limit, lengths in `units`; a clause with a small letter at its head.

    The two numbers are said so that they differ where they do.
    """
    match finding.detail:
        case Shortfall(limit=limit):
            said = _all_of([_short(finding, limit, units), limit_reason_said(limit)])
        case Nearness(limit=limit, above=above, names=names):
            is_now, needs = _apart(finding.measure, limit.least, units)
            near = _near(above.row, finding.row, names, is_now, needs)
            said = _all_of([near, limit_reason_said(limit)])
        case Meeting() as meeting:
            reach = as_length(meeting.reach, units, denominator=32)
            said = _MEETING[meeting.around].filled(text=finding.spots[0].text, reach=reach)
        case OutOfRange() as stitch:
            said = _out_of_range(stitch)
        case Faded() as faded:
            said = _faded(faded, finding)
        case TooFar() as far:
            said = _too_far(far, units)
    return _all_of([said, *_also(finding.kind, finding.spots)])


def measured_in(finding: Finding, units: Units) -> tuple[str, ...]:
    """What a finding measures against what it needs, as printed, each different one of its letters once.

    No sentences: words of the maker and American measures, for a design file to hold and to be compared with.
    """
    return tuple(dict.fromkeys(_measured(finding, units)))


def _measured(finding: Finding, units: Units) -> Iterator[str]:
    match finding.detail:
        case Shortfall(limit=limit) | Nearness(limit=limit):
            for spot in finding.spots:
                is_now, needs = _against(finding.kind, spot, limit, units)
                yield f"{spot.text} {is_now} < {needs}"
        case Meeting(reach=reach):
            for spot in finding.spots:
                yield f"{spot.text} < {as_length(2 * reach, units, denominator=32)}"
        case OutOfRange() as stitch:
            is_now, needs = _widths_apart(stitch)
            yield f"{stitch.stitch} {is_now} {'<' if stitch.width < stitch.bound else '>'} {needs}"
        case Faded(fabric=fabric, background=background):
            ratio, least = numbers_apart(finding.measure, finding.limit, places=1)
            yield f"{fabric} · {background} {_plain(ratio)} < {_plain(least)}"
        case TooFar(cap_height=cap_height, distance=distance, farthest=farthest, least=least):
            apart = telling_apart([(cap_height, least)], units, denominator=16)
            away = distances_apart(farthest, distance, units)[1]
            yield f"{away}: {apart(cap_height)} < {apart(least)}"


def _near(
    above: int | None, below: int | None, names: tuple[str, str], measure: Measure, limit: Measure
) -> Message:
    if above is not None and below is not None:
        return message(
            "rows {above} and {below} are {measure} apart, less than the {limit} they need",
            above=above,
            below=below,
            measure=measure,
            limit=limit,
        )
    return message(
        "“{first}” and “{second}” are {measure} apart, less than the {limit} they need",
        first=names[0],
        second=names[1],
        measure=measure,
        limit=limit,
    )


def filled_notice(filled: FilledHoles, units: Units) -> Notice:
    """That holes of an outline are closed, and why."""
    closed = messages(
        "{count} small hole in the outline is closed: a hole has to be {limit} across",
        "{count} small holes in the outline are closed: a hole has to be {limit} across",
        filled.count,
        limit=as_length(filled.limit.least, units, denominator=32),
    )
    return Notice(
        kind="holes-closed",
        what=_all_of([closed, limit_reason_said(filled.limit)]),
        where=filled.where,
        fix=message("larger letters or a narrower outline, where they should stay open"),
    )


def _short(finding: Finding, limit: Limit, units: Units) -> Message:
    worst = finding.spots[0]
    is_now, needs = _against(finding.kind, worst, limit, units)
    return _SHORT[finding.kind].filled(text=worst.text, measure=is_now, limit=needs)


def _out_of_range(stitch: OutOfRange) -> Message:
    is_now, needs = _widths_apart(stitch)
    if stitch.width < stitch.bound:
        return message(
            "the stitch is {measure} wide; it takes at least {limit} to hold the edge",
            measure=is_now,
            limit=needs,
        )
    return message("the stitch is {measure} wide; wider than {limit} it snags", measure=is_now, limit=needs)


def _widths_apart(stitch: OutOfRange) -> tuple[Measure, Measure]:
    """The width of a stitch and its bound in millimeters, as they differ."""
    numbers = numbers_apart(stitch.width * MM_PER_INCH, stitch.bound * MM_PER_INCH, places=1)
    is_now, bound = (Measure(number=number, unit=Unit.MILLIMETER, as_fraction=False) for number in numbers)
    return is_now, bound


def _faded(faded: Faded, finding: Finding) -> Message:
    is_now, needs = numbers_apart(finding.measure, finding.limit, places=1)
    return message(
        "“{fabric}” on “{background}” has a contrast of {measure} to 1, less than {limit} to 1 "
        "(color difference {difference}); from across a room the words will fade",
        fabric=faded.fabric,
        background=faded.background,
        measure=is_now,
        limit=needs,
        difference=round(faded.difference),
    )


def _too_far(far: TooFar, units: Units) -> Message:
    apart = telling_apart([(far.cap_height, far.least)], units, denominator=16)
    reach, distance = distances_apart(far.farthest, far.distance, units)
    return message(
        "letters {measure} high are readable to {reach}, not to {distance}; that takes {limit}, and {comfortable} "
        "to read comfortably",
        measure=apart(far.cap_height),
        reach=reach,
        distance=distance,
        limit=apart(far.least),
        comfortable=apart(far.comfortable),
    )


def _also(kind: FindingKind, spots: Sequence[Spot]) -> Iterator[Message]:
    """Which other letters it is true of, if there are any."""
    texts = [spot.text for spot in spots]
    letters = _named([text for text in dict.fromkeys(texts) if text != texts[0]])
    if not letters.items:
        return
    yield _ALSO.get(kind, _ALSO_SMALL).filled(letters=letters)


def _named(texts: Sequence[str]) -> Listing:
    if len(texts) <= _AT_MOST_NAMED:
        return listed(texts)
    return listed([*texts[:_AT_MOST_NAMED], message("others")])


def _all_of(clauses: Sequence[Message]) -> Message:
    """Clauses that can each stand alone, one after the other."""
    first, *others = clauses
    for other in others:
        first = message("{first}; {second}", first=first, second=other)
    return first


def _against(kind: FindingKind, spot: Spot, limit: Limit, units: Units) -> tuple[Measure, Measure]:
    """What was measured at a spot and what its limit asks for, as they differ."""
    if kind is FindingKind.POINT:
        return _degrees_apart(spot.measure, limit.least)
    return _apart(spot.measure, limit.least, units)


def _apart(measure: float, limit: Fraction, units: Units) -> tuple[Measure, Measure]:
    """What was measured and what it needs, as they differ."""
    apart = telling_apart(
        [(measure, limit)], units, denominator=32 if min(Fraction(measure), limit) < 1 else 16
    )
    return apart(measure), apart(limit)


def _plain(number: Fraction) -> str:
    return format_number(float(number), places=6)


def _degrees_apart(measure: float, limit: Fraction) -> tuple[Measure, Measure]:
    numbers = numbers_apart(measure, limit, places=0)
    is_now, needs = (Measure(number=number, unit=Unit.DEGREE, as_fraction=False) for number in numbers)
    return is_now, needs
