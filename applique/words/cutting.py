"""The cutting plan in words: each cut in its order, what it gives, and what is left."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from enum import Enum, auto
from fractions import Fraction
from functools import reduce
from typing import Final

from applique.cloth import FabricPlan
from applique.cutting import Lie
from applique.cutting.diagram import Band, Course, Diagram, Group
from applique.language import Field, Listing, Measure, Message, listed, message, messages
from applique.supplies import BOUGHT
from applique.units import (
    Units,
    as_available,
    as_length,
    as_needed,
    as_size,
    as_yardage,
    cutting_step,
    round_down,
    round_up,
)

__all__ = [
    "LEFT",
    "SELVAGE",
    "SQUARED_OFF",
    "band_cut_said",
    "band_said",
    "bands_said",
    "cloth_said",
    "cuts_said",
    "diagram_said",
    "folds_said",
    "group_said",
    "is_whole",
    "left_said",
    "long_said",
    "numbers_said",
    "piece_said",
    "size_said",
    "width_needed_said",
]

SELVAGE: Final = message("selvage")
SQUARED_OFF: Final = message("squared up")
LEFT: Final = message("left over")
_MAT_LONG: Final = Fraction(36)
"""The long side of a large cutting mat: common practice, no source."""
_RULER: Final = Fraction(24)
"""The length of a long ruler: common practice, no source."""


def cloth_said(cutting: FabricPlan, supply: str, numbers: Sequence[int], units: Units) -> Message:
    """Which cloth is drawn: the length that is bought, or one or several that are cut alike of what the maker has."""
    if supply == BOUGHT:
        bought = as_yardage(cutting.rule.buy, units)
        if not cutting.rule.extra.squaring:
            return message(
                "Cut the {length} that you buy band by band; what is gray is left over.", length=bought
            )
        return message(
            "Square up both ends of the {length} that you buy: the stripes, {squaring} at each end, are there for "
            "that. Then cut band by band; what is gray is left over.",
            length=bought,
            squaring=as_length(cutting.rule.extra.squaring, units),
        )
    keys = [one.key for one in cutting.supplies]
    held = cutting.fabric.have[keys.index(supply)]
    squaring = cutting.supplies[keys.index(supply)].squaring
    if held.count == 1:
        which = message("From your stash: {cloth}.", cloth=held.words)
    else:
        which = messages(
            "From your stash, {cloth}: number {first}.",
            "From your stash, {cloth}: numbers {first} to {last}, {count} cut alike.",
            len(numbers),
            cloth=held.words,
            first=numbers[0],
            last=numbers[-1],
        )
    if not squaring:
        return message("{which} Cut it band by band; what is gray is left over.", which=which)
    return messages(
        "{which} Square up both of its ends: the stripes, {squaring} at each end, are there for that. Then cut band by "
        "band; what is gray is left over.",
        "{which} Square up both ends of each: the stripes, {squaring} at each end, are there for that. Then cut band "
        "by band; what is gray is left over.",
        len(numbers),
        which=which,
        squaring=as_length(squaring, units),
    )


def folds_said(diagram: Diagram, units: Units, *, selvages: bool) -> Message | None:
    """How a cloth is folded for its cuts across the whole width; None where a ruler reaches, or all of it is taken
    whole. Its long edges are `selvages`, or not."""
    if diagram.width <= _RULER or all(is_whole(diagram, band) for band in diagram.bands):
        return None
    folds = math.ceil(math.log2(diagram.width / _RULER))
    width = round_down(diagram.width, cutting_step(units))  # as it is said
    if not selvages:
        return messages(
            "For the cuts across fold it once, its lower edge in the drawing to its upper edge, and lay the ruler "
            "square to the fold: it then has {length} to reach.",
            "For the cuts across fold it {count} times, its lower edge in the drawing to its upper edge, and lay the "
            "ruler square to the fold: it then has {length} to reach.",
            folds,
            length=as_needed(width / 2**folds, units),
        )
    return messages(
        "For the cuts across fold it once, selvage edge to selvage edge, and lay the ruler square to the fold: it then "
        "has {length} to reach.",
        "For the cuts across fold it {count} times, selvage edge to selvage edge, and lay the ruler square to the "
        "fold: it then has {length} to reach.",
        folds,
        length=as_needed(width / 2**folds, units),
    )


def width_needed_said(width: Fraction, least: Fraction, units: Units) -> Message:
    """How much of the usable `width` the cuts of a cloth need at the `least`."""
    narrowest = round_up(least, cutting_step(units))
    if narrowest >= width:
        return message(
            "Measure its usable width before you cut: these cuts take all of {width}.",
            width=as_available(width, units),
        )
    return message(
        "Measure its usable width: {least} is enough for these cuts, and {width} leaves {spare} to spare.",
        least=as_size(narrowest, units),
        width=as_available(width, units),
        spare=as_available(round_down(width, cutting_step(units)) - narrowest, units),
    )


def is_whole(diagram: Diagram, band: Band) -> bool:
    """Whether a band is all of a cloth that is not bought, so that nothing is cut across."""
    return diagram.cloth.supply != BOUGHT and band.course.size == diagram.length


def size_said(
    one: Fraction,
    other: Fraction,
    units: Units,
    said: Callable[[Fraction, Units], Measure] = as_available,
) -> Message:
    """The size of a piece as it is cut, its two sides in any order: the narrower side by the longer, as the trade says
    a strip, whichever way it lies on its fabric and wherever it is named again.

    What has a top, such as the panel, is said width by height as it hangs (`instructions.sizes.by_said`), in tables,
    drawings and steps alike.
    """
    width, length = sorted((one, other))
    return message("{width} by {length}", width=said(width, units), length=said(length, units))


def piece_said(fabric: str, piece: str) -> Message:
    """The name of a piece: the letter of its fabric, and its own."""
    return message("{fabric} {piece}", fabric=fabric, piece=piece)


def group_said(group: Group, letter: str) -> Message:
    """What stands in a group: its letter, and how many."""
    return message("{piece} × {count}", piece=letter, count=group.count)


def long_said(group: Group, name: Message | str, units: Units) -> Message:
    """What stands in a group whose piece has others of the same letter beside it: its name, and which length it is."""
    return message(
        "{piece}, {length} long", piece=name, length=as_size(max(group.length, group.width), units)
    )


def left_said(length: Fraction, width: Fraction, units: Units) -> Message:
    """What stands in what is left over."""
    return message("left: {size}", size=size_said(length, width, units))


def numbers_said(band: Band) -> Message:
    """The numbers of equal bands."""
    if band.last == band.number:
        return message("{number}", number=band.number)
    return message("{first}–{last}", first=band.number, last=band.last)


def band_said(band: Band, cuts: Sequence[Message]) -> Message:
    """The cuts of equal bands, behind their numbers."""
    said = reduce(lambda first, after: message("{first} {after}", first=first, after=after), cuts)
    if band.last == band.number:
        return message("Band {number}: {said}", number=band.number, said=said)
    return message("Bands {first}–{last}: {said}", first=band.number, last=band.last, said=said)


def band_cut_said(band: Band) -> Message:
    """Equal bands with all of their pieces, to be ticked off."""
    if band.last == band.number:
        return message("Band {number} cut", number=band.number)
    return message("Bands {first}–{last} cut", first=band.number, last=band.last)


def bands_said(numbers: Sequence[int]) -> Listing:
    """The numbers of bands, those that follow one another from the first to the last of them."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return listed(
        message("{first}–{last}", first=run[0], last=run[-1])
        if len(run) > 1
        else message("{number}", number=run[0])
        for run in runs
    )


def diagram_said(fabric: str, bands: int) -> Message:
    """What the drawing of a cutting plan shows."""
    return messages(
        "Cutting plan of {fabric}: {count} band across its whole width.",
        "Cutting plan of {fabric}: {count} bands across its whole width.",
        bands,
        fabric=fabric,
    )


def cuts_said(
    band: Band, letters: Mapping[str, str], units: Units, *, selvages: bool, whole: bool = False
) -> Iterator[tuple[int, Message]]:
    """How equal bands are cut, one sentence for each kind of cut, with how deep it stands below the first.

    A band that is the `whole` of a cloth between its squared ends has nothing cut across. Cuts along run by its
    `selvages`, or by the grain of a piece that has none.
    """
    course = band.course
    yield 0, _whole_said(course, letters) if whole else _first_said(course, letters, units)
    folded: list[Course] = []
    for depth, below, above, held, of in _below(course, letters):
        if above.size > _MAT_LONG and all(one is not above for one in folded):
            folded.append(above)
            yield depth, _folded_said(below, above, units)
        yield depth, _next_said(below, above, letters, units, held, of, selvages=selvages)


def _below(course: Course, letters: Mapping[str, str]) -> Iterator[_Below]:
    """Everything that is cut of a course: how deep it stands, itself, what it is cut of, and what it holds if it is cut
    on, and that; None where there is nothing of the kind."""

    def below_of(above: Course, depth: int, times: int, of: Listing | None) -> Iterator[_Below]:
        for below in above.then:
            if below.key is not None:
                yield depth, below, above, None, of
            elif below.then:
                held = _held(below, letters, times)
                yield depth, below, above, held, of
                yield from below_of(below, depth + 1, times * below.count, held)

    yield from below_of(course, 1, course.count, None)


_Below = tuple[int, Course, Course, Listing | None, Listing | None]


def _held(course: Course, letters: Mapping[str, str], times: int) -> Listing:
    """The pieces that come of a course which is cut so many `times`, as the drawing names them."""
    found: Counter[str] = Counter()

    def add(part: Course, times: int) -> None:
        if part.key is not None:
            found[letters[part.key]] += times * part.count
        for below in part.then:
            add(below, times * part.count)

    add(course, times)
    return listed(_named(letter, number) for letter, number in found.items())


def _named(letter: str, count: int) -> Field:
    """So many pieces of a letter."""
    return message("{piece} × {count}", piece=letter, count=count) if count > 1 else letter


def _folded_said(course: Course, above: Course, units: Units) -> Message:
    """How cloth is folded for cuts that run across all of what `above` left, which is longer than a mat."""
    folds = math.ceil(math.log2(above.size / _MAT_LONG))
    length = as_size(above.size / 2**folds, units)
    if course.cut is Lie.ALONG:
        return messages(
            "Fold it once end to end, so that the next cuts, longer than a mat, are {length} long.",
            "Fold it {count} times end to end, so that the next cuts, longer than a mat, are {length} long.",
            folds,
            length=length,
        )
    return messages(
        "Fold it once side to side, so that the next cuts, longer than a mat, are {length} long.",
        "Fold it {count} times side to side, so that the next cuts, longer than a mat, are {length} long.",
        folds,
        length=length,
    )


def _whole_said(course: Course, letters: Mapping[str, str]) -> Message:
    if course.key is not None:
        return message("Take all of it: piece {piece}.", piece=letters[course.key])
    return message("Take all of it.")


def _first_said(course: Course, letters: Mapping[str, str], units: Units) -> Message:
    size = as_available(course.size, units)
    if course.key is not None:
        return messages(
            "Cut across at {size}: piece {piece}.",
            "Cut {count} strips across, each {size}: piece {piece}.",
            course.count,
            size=size,
            piece=letters[course.key],
        )
    return messages(
        "Cut across at {size}.",
        "Cut {count} strips across, each {size}.",
        course.count,
        size=size,
    )


def _next_said(
    course: Course,
    above: Course,
    letters: Mapping[str, str],
    units: Units,
    held: Listing | None,
    of: Listing | None,
    *,
    selvages: bool,
) -> Message:
    """A cut of what `above` left, from each where that left several. What is cut along is a strip, what is cut across a
    strip is a section; what is cut on is called by the pieces that it holds, as they stand in the drawing: `of` is what
    that cut holds, `held` what its own does."""
    fields: dict[str, Field] = {"count": course.count, "size": as_available(course.size, units)}
    if course.key is not None:
        fields["piece"] = letters[course.key]
    if held is not None:
        fields["held"] = held
    if of is not None:
        fields["of"] = of
    along = _Way.SELVAGE if selvages else _Way.GRAIN
    way = along if course.cut is Lie.ALONG else _Way.ACROSS
    return _NEXT[way, of is None, above.count > 1, course.key is not None].filled(**fields)


class _Way(Enum):
    """Which way a cut runs: along the fabric, which has selvages or only its grain, or across it."""

    SELVAGE = auto()
    GRAIN = auto()
    ACROSS = auto()


_NEXT: Final = {
    (_Way.SELVAGE, True, True, True): message(
        "Then, parallel to the selvage: {count} at {size} from each, piece {piece}."
    ),
    (_Way.SELVAGE, True, True, False): message(
        "Then, parallel to the selvage: {count} at {size} from each, strip for {held}."
    ),
    (_Way.SELVAGE, True, False, True): message(
        "Then, parallel to the selvage: {count} at {size}, piece {piece}."
    ),
    (_Way.SELVAGE, True, False, False): message(
        "Then, parallel to the selvage: {count} at {size}, strip for {held}."
    ),
    (_Way.SELVAGE, False, True, True): message(
        "From each section for {of}, parallel to the selvage: {count} at {size}, piece {piece}."
    ),
    (_Way.SELVAGE, False, True, False): message(
        "From each section for {of}, parallel to the selvage: {count} at {size}, strip for {held}."
    ),
    (_Way.SELVAGE, False, False, True): message(
        "From the section for {of}, parallel to the selvage: {count} at {size}, piece {piece}."
    ),
    (_Way.SELVAGE, False, False, False): message(
        "From the section for {of}, parallel to the selvage: {count} at {size}, strip for {held}."
    ),
    (_Way.ACROSS, True, True, True): message("Then, across: {count} at {size} from each, piece {piece}."),
    (_Way.ACROSS, True, True, False): message(
        "Then, across: {count} at {size} from each, section for {held}."
    ),
    (_Way.ACROSS, True, False, True): message("Then, across: {count} at {size}, piece {piece}."),
    (_Way.ACROSS, True, False, False): message("Then, across: {count} at {size}, section for {held}."),
    (_Way.ACROSS, False, True, True): message(
        "From each strip for {of}, across: {count} at {size}, piece {piece}."
    ),
    (_Way.ACROSS, False, True, False): message(
        "From each strip for {of}, across: {count} at {size}, section for {held}."
    ),
    (_Way.ACROSS, False, False, True): message(
        "From the strip for {of}, across: {count} at {size}, piece {piece}."
    ),
    (_Way.ACROSS, False, False, False): message(
        "From the strip for {of}, across: {count} at {size}, section for {held}."
    ),
    (_Way.GRAIN, True, True, True): message(
        "Then, along the grain: {count} at {size} from each, piece {piece}."
    ),
    (_Way.GRAIN, True, True, False): message(
        "Then, along the grain: {count} at {size} from each, strip for {held}."
    ),
    (_Way.GRAIN, True, False, True): message("Then, along the grain: {count} at {size}, piece {piece}."),
    (_Way.GRAIN, True, False, False): message("Then, along the grain: {count} at {size}, strip for {held}."),
    (_Way.GRAIN, False, True, True): message(
        "From each section for {of}, along the grain: {count} at {size}, piece {piece}."
    ),
    (_Way.GRAIN, False, True, False): message(
        "From each section for {of}, along the grain: {count} at {size}, strip for {held}."
    ),
    (_Way.GRAIN, False, False, True): message(
        "From the section for {of}, along the grain: {count} at {size}, piece {piece}."
    ),
    (_Way.GRAIN, False, False, False): message(
        "From the section for {of}, along the grain: {count} at {size}, strip for {held}."
    ),
}
"""By which way the cut runs, and whether it is made of a whole band, is made of each of several, and gives a piece."""
