"""How the letters are stitched, in words: stabilizer, stitch, order, corners; and how the words read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from enum import StrEnum
from fractions import Fraction
from functools import reduce
from types import MappingProxyType
from typing import Final

from applique.design import Method, Stitch, WhenStitched
from applique.errors import Where
from applique.language import Field, Message, listed, message, messages
from applique.sewing.offers import StitchOffer
from applique.sewing.plan import BEND_SHARE, RowPlan, StitchPlan
from applique.sewing.reading import SIGN_GAP, SIGN_STROKE
from applique.sewing.stabilizer import BORDER, OVERLAP, TRIMMED_TO, Band, StabilizerKind, StabilizerNeed
from applique.sewing.stitches import EdgeStitch
from applique.sewing.threads import ThreadNeed
from applique.units import Units, as_length, as_run, as_stitch, as_yardage
from applique.words.colors import color_said
from applique.words.instructions.sizes import percent_said
from applique.words.sewing import (
    minutes_said,
    paces_said,
    stabilizer_reason_said,
    stitch_reason_said,
    when_reason_said,
)
from applique.words.sheets import STITCHES, set_apart, table_said

__all__ = [
    "BACKGROUND",
    "CHOOSE",
    "CORNERS",
    "LETTER",
    "ORDER",
    "OTHER_STITCH",
    "PIVOT",
    "PRESS",
    "READING",
    "READING_HEAD",
    "ROLL_LEFT",
    "SET_UP",
    "SHAPES",
    "STABILIZER",
    "STABILIZER_HEAD",
    "START",
    "STITCHING",
    "STITCHING_HEAD",
    "STITCH_THEM",
    "Corner",
    "as_they_lie_said",
    "basting_out_said",
    "behind_drawn_said",
    "behind_named_said",
    "choices_said",
    "corners_drawn_said",
    "corners_said",
    "held_said",
    "hidden_said",
    "lay_said",
    "machine_said",
    "numbered_piece_said",
    "off_the_roll_said",
    "offer_said",
    "onto_tick_said",
    "order_drawn_said",
    "order_said",
    "piece_said",
    "place_said",
    "remove_said",
    "roll_drawn_said",
    "rolled_piece_said",
    "rolls_said",
    "row_cells",
    "shown_once_said",
    "signs_said",
    "stabilizer_cells",
    "stabilizer_drawn_said",
    "starts_drawn_said",
    "starts_said",
    "stitch_drawn_said",
    "stitch_row_said",
    "stitch_rows_said",
    "stitch_title",
    "test_said",
    "thread_said",
    "time_said",
    "times_as_large",
    "when_said",
    "why_stabilizers_said",
    "why_stitches_said",
]

STITCHING: Final = message("Stitching")
STITCHING_HEAD: Final = (
    message("row"),
    message("stitch"),
    message("width, length"),
    message("edge to sew"),
    message("stitches"),
    message("thread top + bobbin"),
    message("time"),
)
CHOOSE: Final = message("Stitches to choose from")
STABILIZER: Final = message("Stabilizer")
STABILIZER_HEAD: Final = (message("row"), message("stabilizer"), message("cut"), message("in pieces"))
SET_UP: Final = message("The stitch")
ORDER: Final = message("Order of work")
START: Final = message("Where to start")
CORNERS: Final = message("Corners and curves")
STITCH_THEM: Final = message("Stitch the letters")
PIVOT: Final = message(
    "At every corner and along every curve, pivot as it is drawn below for the stitch that you sew. A ring shows where "
    "the needle is down while you turn the work."
)
READING: Final = message("Reading distance")
READING_HEAD: Final = (
    message("row"),
    message("comfortable to"),
    message("readable to"),
    message("stroke of the height"),
    message("gaps of the height"),
)
LETTER: Final = message("letter")
BACKGROUND: Final = message("background")
PRESS: Final = message(
    "Press the panel from the wrong side, on a soft towel so that the stitches stay raised, and let it lie flat "
    "until it is cool."
)


class Corner(StrEnum):
    """What the needle goes around, in the order in which it is drawn."""

    OUTSIDE = "outside corner"
    INSIDE = "inside corner"
    OUTSIDE_CURVE = "outside curve"
    INSIDE_CURVE = "inside curve"
    POINT = "sharp point"


SHAPES: Final[Mapping[Corner, Message]] = MappingProxyType(
    {
        Corner.OUTSIDE: message("outside corner"),
        Corner.INSIDE: message("inside corner"),
        Corner.OUTSIDE_CURVE: message("outside curve"),
        Corner.INSIDE_CURVE: message("inside curve"),
        Corner.POINT: message("sharp point"),
    }
)
_WHEN: Final = {
    WhenStitched.PANEL: message("Stitch the letters now, before the borders are sewn on."),
    WhenStitched.TOP: message(
        "The borders are on: stitch the letters now, on the whole top, before you layer it."
    ),
}
_BEFORE_LAYERING: Final = message("Stitch the letters now, before you layer the quilt.")
_THROUGH_ALL: Final = message(
    "The quilt is layered and basted: stitch the letters now, through all layers, before the rest of the quilting."
)
_BLIND_BY_MACHINE: Final = message(
    "Or close the fold with a blind stitch by machine, about 1 mm wide and 1.5 mm long to begin with, so that it runs "
    "in the background and only its swing catches the fold. Try it on a scrap."
)
_THROUGH_BATTING: Final = message(
    "The quilt is layered and basted: stitch the letters now, through all layers, before the rest of the quilting. No "
    "stabilizer is needed: the batting keeps the fabric flat."
)
_SCRAPS: Final = {
    Method.RAW_EDGE: message(
        "Test the stitch on a scrap: fuse a leftover piece of a letter's fabric to a scrap of the background."
    ),
    Method.MACHINE_CUT: message(
        "Test the stitch on a scrap: fuse a leftover piece of a letter's fabric to a scrap of the background."
    ),
    Method.TURNED_EDGE: message(
        "Test the stitch on a scrap: turn under one edge of a leftover piece of a letter's fabric, press it, and lay "
        "it on a scrap of the background."
    ),
}
_PIVOTS: Final = {
    Stitch.SATIN: message(
        "To pivot, stop with the needle down: in the background on outside curves and corners, in the letter on "
        "inside ones. At an outside corner sew one stitch past the edge before you pivot, at an inside corner as far "
        "past it as the stitch reaches into the letter, so that the stitches overlap. Toward a sharp point make the "
        "stitch narrower little by little, pivot at the tip, and widen it again."
    ),
    Stitch.ZIGZAG: message(
        "To pivot, stop with the needle down: in the background on outside curves and corners, in the letter "
        "on inside ones. Toward a sharp point make the stitch narrower little by little, pivot at the tip, and widen "
        "it again."
    ),
    Stitch.BLANKET: message(
        "To pivot, stop with the needle down in the background, right beside the edge, before a bite. Turn "
        "a little at a time so that every bite stands square to the edge; at a corner or a point take one bite "
        "toward the middle of it, and pivot before and after."
    ),
    Stitch.STRAIGHT: message(
        "To pivot, stop with the needle down on the line of stitching. On curves turn a little every few "
        "stitches; at a corner or a point stop as far from the next edge as you sew from this one."
    ),
}


def row_cells(row: RowPlan, units: Units) -> tuple[Field, ...]:
    """One row's stitch, its width and length, edge, stitches, thread and time, as the cells of a table."""
    stitch = row.stitch
    size: Field = as_stitch(stitch.length)
    if stitch.width:
        size = message("{width}, {length}", width=as_stitch(stitch.width), length=size)
    return (
        table_said(row.where),
        STITCHES[stitch.stitch],
        size,
        as_run(row.edge, units),
        row.stitches,
        message("{top} + {bobbin}", top=as_run(row.top, units), bobbin=as_run(row.bobbin, units)),
        minutes_said(row.minutes),
    )


def why_stitches_said(rows: Sequence[RowPlan]) -> Message:
    """Why each stitch was chosen."""
    whys = dict.fromkeys(
        message(
            "{stitch}: {reason}",
            stitch=STITCHES[row.stitch.stitch],
            reason=stitch_reason_said(row.stitch.reason),
        )
        for row in rows
    )
    return message("Why: {reasons}.", reasons=set_apart(whys))


def time_said(plan: StitchPlan) -> Message:
    """How long the stitching takes, and how that was figured."""
    return message(
        "All in all {time} at the machine, figured with {paces} stitches a minute while guiding, {share} less time for "
        "straight runs and {share} more for tight curves, about a minute for every start and stop, and six seconds for "
        "every corner. Time yourself on one letter and set your own pace.",
        time=minutes_said(plan.minutes),
        paces=paces_said(plan),
        share=percent_said(BEND_SHARE),
    )


def when_said(plan: StitchPlan, *, bordered: bool) -> Message:
    """When the letters are stitched. A top that is not `bordered` is its panel: one time before it is quilted."""
    if plan.when is WhenStitched.QUILTING:
        return _THROUGH_ALL if plan.stabilizers else _THROUGH_BATTING
    return _WHEN[plan.when] if bordered else _BEFORE_LAYERING


def rolls_said(plan: StitchPlan, throat: Fraction, units: Units, *, bordered: bool) -> Message:
    """For the maker: why they are stitched then, and how thick the rolled quilt is beside the machine's throat."""
    panel, top, quilt = (as_length(width, units) for width in plan.rolls)
    return message(
        "Why then: {reason}. Rolled up to fit your machine's throat, half the panel makes a roll about {panel} thick, "
        "half the top {top}, half the quilt {quilt}; the throat is {throat}.",
        reason=when_reason_said(plan.when_reason, bordered=bordered),
        panel=panel,
        top=top,
        quilt=quilt,
        throat=as_length(throat, units),
    )


# Stitches to choose from


def choices_said(planned: Sequence[Stitch]) -> Message:
    """What the choices are for, and which one the list of what you need is for."""
    if len(planned) == 1:
        return message(
            "Take the stitch you like best. The thread and the stabilizer in the list of what you need are for the "
            "{stitch} stitch; for another, get what stands below it.",
            stitch=STITCHES[planned[0]],
        )
    return message(
        "Stitch the rows as in the table, or all of them in the stitch you like best. The thread and the stabilizer in "
        "the list of what you need are for the table; for another, get what stands below it."
    )


def stitch_title(stitch: Stitch) -> Message:
    """Which stitch it is, above what is said of it."""
    return {
        Stitch.STRAIGHT: message("Straight stitch"),
        Stitch.ZIGZAG: message("Zigzag"),
        Stitch.BLANKET: message("Blanket stitch"),
        Stitch.SATIN: message("Satin stitch"),
    }[stitch]


def offer_said(offer: StitchOffer, units: Units) -> Iterator[Message]:
    """Its sizes, its stitches and time, the thread of each color, and its stabilizer."""
    yield set_apart(dict.fromkeys(_size_said(row.stitch) for row in offer.rows))
    yield messages(
        "{count} stitch, {time} at the machine",
        "{count} stitches, {time} at the machine",
        offer.stitches,
        time=minutes_said(offer.minutes),
    )
    for need in offer.threads:
        yield _thread_said(need, units)
    for stabilizer in offer.stabilizers:
        yield _stabilizer_bought(stabilizer, units)
    if not offer.stabilizers:
        yield message("No stabilizer")


def _thread_said(need: ThreadNeed, units: Units) -> Message:
    length = as_run(need.length, units)
    if need.name is None:
        return messages(
            "Thread, {color}: {length}, {count} spool",
            "Thread, {color}: {length}, {count} spools",
            need.spools,
            color=color_said(need.color or ""),
            length=length,
        )
    return messages(
        "Thread to match {fabric}: {length}, {count} spool",
        "Thread to match {fabric}: {length}, {count} spools",
        need.spools,
        fabric=need.name,
        length=length,
    )


def _stabilizer_bought(need: StabilizerNeed, units: Units) -> Message:
    fields: dict[str, Field] = {
        "width": as_length(need.roll_width, units),
        "length": as_yardage(need.buy, units),
    }
    if need.kind is StabilizerKind.CUT_AWAY:
        return message("Cut-away stabilizer, {width} wide: {length}", **fields)
    return message("Tear-away stabilizer, {width} wide: {length}", **fields)


# Stabilizer


def off_the_roll_said(need: StabilizerNeed, units: Units) -> Message:
    """How the pieces of one kind are cut from the roll, band by band."""
    fields: dict[str, Field] = {
        "width": as_length(need.roll_width, units),
        "bands": set_apart(_band(band, units) for band in need.bands),
    }
    if need.kind is StabilizerKind.CUT_AWAY:
        return message(
            "Cut these lengths off the roll of cut-away, {width} wide, then cut the pieces from them: {bands}.",
            **fields,
        )
    return message(
        "Cut these lengths off the roll of tear-away, {width} wide, then cut the pieces from them: {bands}.",
        **fields,
    )


ROLL_LEFT: Final = message("Light gray is left over.")


def rolled_piece_said(number: str | Message, length: Fraction, width: Fraction, units: Units) -> Message:
    """A piece on the roll: the number of its row, and its sides."""
    return message(
        "{row}: {length} by {width}",
        row=number,
        length=as_length(length, units),
        width=as_length(width, units),
    )


def roll_drawn_said() -> Message:
    """What the drawing of a roll shows."""
    return message(
        "The roll of stabilizer lying along the line: the lengths to cut off, and in each the pieces with the numbers "
        "of their rows."
    )


def stabilizer_cells(row: RowPlan, units: Units) -> tuple[Field, ...]:
    """What lies under a row: its kind, how large it is, and from how many pieces."""
    under = row.stabilizer
    pieces: Field = "1"
    if under.widths > 1:
        pieces = message(
            "{widths}, each {each} wide, overlapping by {overlap}",
            widths=under.widths,
            each=as_length(under.each, units),
            overlap=as_length(OVERLAP, units),
        )
    kind = message("cut-away") if under.kind is StabilizerKind.CUT_AWAY else message("tear-away")
    return (table_said(row.where), kind, piece_said(row, units), pieces)


def piece_said(row: RowPlan, units: Units) -> Message:
    """How large the stabilizer under a row is cut."""
    return message(
        "{width} by {height}",
        width=as_length(row.stabilizer.width, units),
        height=as_length(row.stabilizer.height, units),
    )


def numbered_piece_said(row: RowPlan, units: Units) -> Message:
    """The number of a row and how large its stabilizer is cut."""
    return message("{row}: {size}", row=table_said(row.where), size=piece_said(row, units))


def why_stabilizers_said(rows: Sequence[RowPlan]) -> Message:
    """For the maker: why each row has the stabilizer that it has."""
    whys = dict.fromkeys(stabilizer_reason_said(row.stabilizer.reason) for row in rows)
    return message("Why: {reasons}.", reasons=set_apart(whys))


def lay_said(plan: StitchPlan, units: Units, *, outlined: bool) -> Iterator[Message]:
    """How the stabilizer is laid, and how far it reaches: beyond the letters, or their outlines. Where letters are
    `outlined` the iron comes over it, when they are laid on their stitched outlines: no pin may be in it then."""
    beyond: dict[str, Field] = {"beyond": as_length(BORDER, units)}
    if plan.when is not WhenStitched.QUILTING:
        if outlined:
            yield message(
                "Turn the panel wrong side up. Center a piece of stabilizer behind each row, so that it reaches "
                "{beyond} beyond the outlines all around, and baste it outside of them with thread, not with pins.",
                **beyond,
            )
        else:
            yield message(
                "Turn the panel wrong side up. Center a piece of stabilizer behind each row, so that it reaches "
                "{beyond} beyond the letters all around, and pin or baste it outside of them, or hold it as its maker "
                "directs.",
                **beyond,
            )
    elif any(need.kind is StabilizerKind.CUT_AWAY for need in plan.stabilizers):
        yield message(
            "Before you layer the quilt, turn the top wrong side up. Center a piece of stabilizer behind each row, so "
            "that it reaches {beyond} beyond {edge} all around, and baste it there with thread, outside of them: it "
            "stays inside the quilt.",
            edge=message("the outlines") if outlined else message("the letters"),
            **beyond,
        )
    elif outlined:
        yield message(
            "Turn the basted quilt over. Center a piece of stabilizer behind each row, under the backing, so that it "
            "reaches {beyond} beyond the outlines all around, and baste it outside of them with thread, not with pins.",
            **beyond,
        )
    else:
        yield message(
            "Turn the basted quilt over. Center a piece of stabilizer behind each row, under the backing, so that it "
            "reaches {beyond} beyond the letters all around, and pin it outside of them.",
            **beyond,
        )
    if outlined:
        yield message(
            "You press over it later, when the letters come onto their outlines. Try a scrap of it under the iron "
            "first: one that shrinks, melts or sticks will not do."
        )


def stabilizer_drawn_said() -> Message:
    """What the drawing of the stabilizer shows."""
    return message(
        "The panel from its wrong side, the letters showing through, a piece of stabilizer behind each row."
    )


def basting_out_said() -> Message:
    """That the thread comes out that the stabilizer was basted with."""
    return message("Pull out the thread that you basted the stabilizer with.")


def remove_said(kinds: Sequence[StabilizerKind], *, layered: bool, units: Units) -> Iterator[Message]:
    """How the stabilizer comes off again, by its kind."""
    if StabilizerKind.TEAR_AWAY in kinds:
        yield message(
            "Remove the stabilizer: tear the tear-away off one side of the stitching and then off the other, gently, "
            "with a thumb on the stitches so that they do not pull. Leave what does not come out of narrow places."
        )
    if StabilizerKind.CUT_AWAY in kinds and not layered:
        yield message(
            "Trim the cut-away stabilizer to about {beyond} outside the stitching, with scissors held flat so that you "
            "do not cut the panel. The rest stays in.",
            beyond=as_length(TRIMMED_TO, units),
        )


# The stitch


def _size_said(stitch: EdgeStitch) -> Message:
    if stitch.width:
        return message(
            "{width} wide, {length} long", width=as_stitch(stitch.width), length=as_stitch(stitch.length)
        )
    return message("{length} long", length=as_stitch(stitch.length))


def machine_said(
    stitch: EdgeStitch, rows: Sequence[RowPlan], method: Method, *, whole: bool
) -> Iterator[Message]:
    """How the machine is set for `rows`, all of which have `stitch`, and where the needle falls.

    `whole` says that these are all the rows there are.
    """
    fields: dict[str, Field] = {
        "rows": message("all rows") if whole else listed(row.where.as_field() for row in rows),
        "length": as_stitch(stitch.length),
        "width": as_stitch(stitch.width),
        "bite": as_stitch(stitch.bite),
        "outside": as_stitch(stitch.outside),
    }
    turned = method is Method.TURNED_EDGE
    match stitch.stitch:
        case Stitch.SATIN:
            yield message(
                "For {rows}, set the machine to a satin stitch: a zigzag {width} wide and {length} long.",
                **fields,
            )
            covered = (
                message(
                    "Sew over the fold: the needle falls {bite} inside the letter and {outside} outside of it, in "
                    "the background.",
                    **fields,
                )
                if turned
                else message(
                    "The stitch covers the raw edge: the needle falls {bite} inside the letter and {outside} "
                    "outside of it, in the background.",
                    **fields,
                )
            )
            yield covered
        case Stitch.ZIGZAG:
            yield message("For {rows}, set the machine to a zigzag {width} wide and {length} long.", **fields)
            yield message(
                "The needle falls {bite} inside the letter and {outside} outside of it, in the background.",
                **fields,
            )
        case Stitch.BLANKET:
            yield message(
                "For {rows}, set the machine to a blanket stitch {width} wide and {length} long.", **fields
            )
            yield message(
                "The needle runs in the background, right beside the edge of the letter, and bites {width} into the "
                "letter.",
                **fields,
            )
            if turned:
                yield message("By hand, sew a blanket stitch of the same size.")
        case Stitch.STRAIGHT:
            yield message("For {rows}, set the machine to a straight stitch {length} long.", **fields)
            if turned:
                yield message("Sew {bite} inside the fold, all around the letter.", **fields)
                yield _BLIND_BY_MACHINE
            else:
                yield message("Sew {bite} inside the edge of the letter, all around.", **fields)


OTHER_STITCH: Final = message(
    "If you chose another stitch, set the machine to its sizes, which stand with the choices, and let the needle fall "
    "as its picture there shows."
)


def stitch_drawn_said(stitch: EdgeStitch) -> Message:
    """What the large drawing of a stitch shows."""
    return message(
        "A {stitch} stitch along the edge of a letter, enlarged, with where the needle falls in the letter and in the "
        "background.",
        stitch=STITCHES[stitch.stitch],
    )


def times_as_large(times: int) -> Message:
    """How much larger than it is sewn a stitch is drawn."""
    return message("{times} times as large", times=times)


def test_said(method: Method, plan: StitchPlan) -> Iterator[Message]:
    """How the stitch is tried: on a scrap made up like what is stitched, batting and stabilizer where that has them."""
    yield _SCRAPS[method]
    if plan.when is WhenStitched.QUILTING:
        yield message("Layer the scrap with batting and backing, as the quilt is.")
    if plan.stabilizers:
        yield message(
            "Use the same thread and needle, and stabilizer where the row has it. The scrap should lie flat and no "
            "bobbin thread should show on top; if it puckers, loosen the top tension or add a layer of stabilizer, and "
            "write down what works."
        )
    else:
        yield message(
            "Use the same thread and needle. The scrap should lie flat and no bobbin thread should show on top; if it "
            "puckers, loosen the top tension, and write down what works."
        )


# Order, starts, corners


def thread_said(color: str, fabric: str | None) -> Message:
    """A thread: by the fabric that it matches, or by its color."""
    if fabric is None:
        return message("{color} thread", color=color_said(color))
    return message("thread to match {fabric}", fabric=fabric)


def onto_tick_said(where: Where, words: str) -> Message:
    """The letters of a row, to tick off once they are on their outlines."""
    return message("{row}: {words}", row=where.as_field(), words=words)


def held_said(method: Method, *, layered: bool) -> Message | None:
    """What comes off again that held the letters until they were stitched; of a quilt that is `layered` the safety pins
    stay in."""
    if method is not Method.TURNED_EDGE:
        return None
    if layered:
        return message(
            "Pull out the basting stitches that held the letters and their folds. Leave the safety pins of the layers "
            "in until you have quilted past them. Wash-away glue comes out in the first wash, or with a damp cloth, as "
            "its maker directs."
        )
    return message(
        "Pull out the basting stitches that held the letters and their folds. Wash-away glue comes out in the first "
        "wash, or with a damp cloth, as its maker directs."
    )


def order_said(plan: StitchPlan) -> Message:
    """In which order the rows are sewn."""
    if len(plan.order) == 1:
        return message("Stitch from the center line outward.")
    if len(plan.order) == 2:
        first, second = (where.as_field() for where in plan.order)
        return message(
            "First {first}, then {second}; in each row from the center line outward.",
            first=first,
            second=second,
        )
    return message(
        "From the center row outward: {order}; in each row from the center line outward.",
        order=reduce(_then, (where.as_field() for where in plan.order)),
    )


def place_said(number: int) -> Message:
    """Which one in an order: a number alone would be taken for that of a row."""
    if number % 100 not in (11, 12, 13):
        match number % 10:
            case 1:
                return message("{number}st", number=number)
            case 2:
                return message("{number}nd", number=number)
            case 3:
                return message("{number}rd", number=number)
            case _:
                pass
    return message("{number}th", number=number)


def order_drawn_said() -> Message:
    """What the drawing of the order shows."""
    return message("The rows with the order in which they are stitched, from the center line outward.")


def _then(said: str | Message, row: str | Message) -> Message:
    return message("{rows}, then {row}", rows=said, row=row)


def starts_said(*, numbered: bool) -> Iterator[Message]:
    """Where to start on a letter, and how; `numbered` is whether the drawing shows whole rows."""
    if numbered:
        yield message(
            "Start and stop at the dot: it is on a straight stretch, or where there is none on the gentlest curve. "
            "Never start at a point or in a tight curve. The number of the row stands before its letters."
        )
    else:
        yield message(
            "Start and stop at the dot: it is on a straight stretch, or where there is none on the gentlest curve. "
            "Never start at a point or in a tight curve."
        )
    yield message(
        "Bring the bobbin thread up, hold both threads behind the needle, and take three or four stitches on the spot, "
        "or pull the ends to the wrong side and knot them. Sew once around, over your first stitches, and end the same "
        "way. Each hole of a letter has its own dot."
    )


def shown_once_said() -> Message:
    """That of many letters each one is drawn once."""
    return message(
        "Each letter is shown once, with the number of its template below it, in the order in which you read them; it "
        "starts at the same place in every row."
    )


def starts_drawn_said(where: Where) -> Message:
    """What one drawing of starts shows."""
    return message(
        "The letters of {row} on their baseline, each with a dot where its stitching starts.",
        row=where.as_field(),
    )


def behind_named_said(numbers: Sequence[int]) -> Message:
    """Which shapes the last drawing of starts shows: the numbers of their templates, all in a row."""
    first, last = min(numbers), max(numbers)
    if first == last:
        return message("The outline, with the number of its template below it: {number}.", number=first)
    return message(
        "The outlines, each with the number of its template below it: {first} to {last}.",
        first=first,
        last=last,
    )


def behind_drawn_said() -> Message:
    """What the drawing of starts on the outline layer shows."""
    return message("The outlines behind the letters, each with a dot where its stitching starts.")


def corners_said(stitch: Stitch) -> Message:
    """How a stitch turns corners and curves."""
    return _PIVOTS[stitch]


def corners_drawn_said(stitch: Stitch) -> Message:
    """What the drawing of corners and curves shows."""
    return message(
        "A {stitch} stitch around an outside corner, an inside corner, an outside curve, an inside curve and a sharp "
        "point; a ring where the needle is down while you pivot.",
        stitch=STITCHES[stitch],
    )


def stitch_rows_said(*, holes: bool) -> Message:
    """What is sewn next, where there are too many letters to tick each of them off."""
    if holes:
        return message("Stitch the rows in this order, around every edge of each letter, its holes too.")
    return message("Stitch the rows in this order, around every edge of each letter.")


def hidden_said() -> Message:
    """What is done where letters lie partly under others."""
    return message("Leave out the edges that lie under another letter: stitches there would show as a ridge.")


def as_they_lie_said() -> Message:
    """In which order the letters of a row that reads from right to left are ticked off."""
    return message("The letters are listed as they lie, from left to right.")


def stitch_row_said(row: RowPlan, threads: Sequence[Message], *, holes: bool) -> Message:
    """What is sewn next: a row, in its `threads`, and the `holes` where a letter has one."""
    fields: dict[str, Field] = {"row": row.where.as_field(), "threads": listed(threads)}
    if holes:
        return message(
            "Stitch {row} with {threads}, around every edge of each letter, its holes too.", **fields
        )
    return message("Stitch {row} with {threads}, around every edge of each letter.", **fields)


def _band(band: Band, units: Units) -> Message:
    return message(
        "{length} for {rows}",
        length=as_length(band.length, units),
        rows=listed(where.as_field() for where in dict.fromkeys(band.tables)),
    )


def signs_said() -> Message:
    """The strokes and gaps of letters on signs, to hold those of the words against."""
    stroke, gap = (
        message("{least} to {most}", least=percent_said(least), most=percent_said(most))
        for least, most in (SIGN_STROKE, SIGN_GAP)
    )
    return message(
        "On a sign strokes are {stroke} of the height and gaps {gap} (ADA Standards 703.5, as a guide).",
        stroke=stroke,
        gap=gap,
    )
