"""How the letters are stitched, in words: when, with which stitch, in which order; and how the words read."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import reduce
from typing import Final

from applique.design import Method, Stitch, WhenStitched
from applique.errors import Where
from applique.language import Field, Message, any_of, listed, message
from applique.marks import Outlined
from applique.pieces import Layer
from applique.sewing.plan import BEND_SHARE, EdgeSewing, RowPlan, StitchPlan, edge_thread, thickness_sewn
from applique.sewing.reading import SIGN_GAP, SIGN_STROKE
from applique.sewing.stitches import PACE_RANGE, EdgeStitch
from applique.units import Units, as_length, as_run, as_stitch
from applique.words.colors import color_said
from applique.words.instructions.sizes import near_said, percent_said
from applique.words.sewing import (
    minutes_said,
    stitch_reason_said,
    when_reason_said,
)
from applique.words.sheets import STITCHES, set_apart, table_said

__all__ = [
    "ORDER",
    "OTHER_STITCH",
    "PRESS",
    "PRESS_BLOCKS",
    "READING",
    "READING_HEAD",
    "SET_UP",
    "STITCHING",
    "STITCHING_HEAD",
    "STITCH_THEM",
    "as_they_lie_said",
    "background_said",
    "held_said",
    "hidden_said",
    "machine_said",
    "onto_tick_said",
    "order_drawn_said",
    "order_said",
    "place_said",
    "rolls_said",
    "row_cells",
    "signs_said",
    "stitch_drawn_said",
    "stitch_row_said",
    "stitch_rows_said",
    "stitch_size_said",
    "test_said",
    "thread_figured_said",
    "thread_said",
    "time_said",
    "times_as_large",
    "when_said",
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
SET_UP: Final = message("The stitch")
ORDER: Final = message("Order of work")
STITCH_THEM: Final = message("Stitch the letters")
READING: Final = message("Reading distance")
READING_HEAD: Final = (
    message("row"),
    message("comfortable to"),
    message("readable to"),
    message("stroke of the height"),
    message("gaps of the height"),
)
PRESS: Final = message(
    "Press the panel from the wrong side, on a soft towel so that the stitches stay raised, and let it lie flat "
    "until it is cool."
)
PRESS_BLOCKS: Final = message(
    "Press each block from the wrong side, on a soft towel so that the stitches stay raised, and let it lie flat until "
    "it is cool."
)
_WHEN: Final = {
    WhenStitched.PANEL: message("Stitch the letters now, before the borders are sewn on."),
    WhenStitched.TOP: message(
        "The borders are on: stitch the letters now, on the whole top, before you layer it."
    ),
}
_TOP_ALONE: Final = {
    WhenStitched.PANEL: message("Stitch the letters now, before the borders are sewn on."),
    WhenStitched.TOP: message("The borders are on: stitch the letters now, on the whole top."),
}
"""Where somebody else layers the quilt."""
_BEFORE_LAYERING: Final = message("Stitch the letters now, before you layer the quilt.")
_ON_EACH_BLOCK: Final = message(
    "Stitch the letters now, on each block by itself, before the blocks are sewn together."
)
_PLAIN_TOP_ALONE: Final = message("Stitch the letters now.")
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
        _threads_said(row, units),
        minutes_said(row.minutes),
    )


def _threads_said(row: RowPlan, units: Units) -> Message:
    """The thread of a row, top and bobbin; that of its outlines and that of its letters apart."""

    def both(layer: EdgeSewing) -> Message:
        return message("{top} + {bobbin}", top=as_run(layer.top, units), bobbin=as_run(layer.bobbin, units))

    if len(row.layers) == 1:
        return both(row.layers[0])
    return set_apart(
        message("outlines: {thread}", thread=both(layer))
        if layer.layer is Layer.OUTLINE
        else message("letters: {thread}", thread=both(layer))
        for layer in row.layers
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
    """How long the stitching takes, and how that was figured, so that it can be figured again."""
    quick, careful = (1 - 1 / PACE_RANGE[1], 1 / PACE_RANGE[0] - 1)
    figured = message(
        "{paces} stitches a minute while guiding, a minute for each of {starts} starts, and six seconds for each of "
        "{corners} corners",
        paces=any_of(sorted({row.stitch.pace for row in plan.rows})),
        starts=sum(layer.starts for row in plan.rows for layer in row.layers),
        corners=sum(layer.corners for row in plan.rows for layer in row.layers),
    )
    repeat = max(row.stitch.per_repeat for row in plan.rows)
    if repeat > 1:
        figured = message(
            "{figured}; a blanket stitch goes on, in and back, and counts as {repeat}",
            figured=figured,
            repeat=repeat,
        )
    return message(
        "All in all {time} at the machine, figured with {figured}. Straight runs take {share} less time, tight curves, "
        "{curved} of all edges, {share} more. The shorter time is {quick} less than figured, for a quick hand, the "
        "longer {careful} more, for a careful one; time yourself on one letter.",
        time=minutes_said(plan.minutes),
        figured=figured,
        share=percent_said(BEND_SHARE),
        curved=percent_said(_curved(plan)),
        quick=percent_said(float(quick)),
        careful=percent_said(float(careful)),
    )


def _curved(plan: StitchPlan) -> float:
    """How much of all that is sewn is in tight curves, 0 to 1."""
    sewn = math.fsum(row.edge for row in plan.rows)
    return math.fsum(layer.curved for row in plan.rows for layer in row.layers) / sewn if sewn else 0.0


def thread_figured_said(
    plan: StitchPlan, thickness: Fraction, waste_percent: int, units: Units
) -> tuple[Message, Message]:
    """How much thread each stitch takes along an edge through fabric `thickness` inches thick, so that the table can be
    figured again."""
    sewn = thickness_sewn(thickness, plan.when)
    alike = {(row.stitch.stitch, row.stitch.width, row.stitch.length): row.stitch for row in plan.rows}
    taken = set_apart(
        message(
            "{stitch}, {size}: {times} times the edge",
            stitch=STITCHES[stitch.stitch],
            size=stitch_size_said(stitch),
            times=round(Fraction(edge_thread(stitch, sewn)), 1),
        )
        for stitch in alike.values()
    )
    counted = (
        message(
            "Another {waste}% is for ends and for what you unpick; half of it all is top thread, half bobbin, each up "
            "to the next whole meter.",
            waste=waste_percent,
        )
        if units is Units.CENTIMETERS
        else message(
            "Another {waste}% is for ends and for what you unpick; half of it all is top thread, half bobbin, each up "
            "to the next whole yard.",
            waste=waste_percent,
        )
    )
    return (
        message(
            "How we figured the thread, top and bobbin together: {taken}; through fabric that is taken as {thickness} "
            "thick.",
            taken=taken,
            thickness=as_stitch(sewn),
        ),
        counted,
    )


def when_said(plan: StitchPlan, *, bordered: bool, layered: bool, set_together: bool) -> Message:
    """When the letters are stitched. A top that is not `bordered` is its panel: one time before it is quilted, and
    where blocks are `set_together` each of them. One that is not `layered` is quilted by somebody else."""
    if set_together and plan.when is WhenStitched.PANEL:
        return _ON_EACH_BLOCK
    if plan.when is WhenStitched.QUILTING:
        return _THROUGH_ALL if plan.stabilizers else _THROUGH_BATTING
    if not layered:
        return _TOP_ALONE[plan.when] if bordered else _PLAIN_TOP_ALONE
    return _WHEN[plan.when] if bordered else _BEFORE_LAYERING


def rolls_said(
    plan: StitchPlan, throat: Fraction, units: Units, *, bordered: bool, layered: bool, set_together: bool
) -> Message:
    """For the maker: why they are stitched then, and how thick the rolled quilt is beside the machine's throat; of one
    that is not `layered` how thick the top is, and where blocks are `set_together` how thick the largest of them."""
    panel, top, quilt = (as_length(width, units) for width in plan.rolls)
    reason = when_reason_said(plan.when_reason, bordered=bordered, set_together=set_together)
    if set_together and not layered:
        return message(
            "Why then: {reason}. Rolled up to fit your machine's throat, half a block makes a roll about {panel} "
            "thick, half the top {top}; the throat is {throat}.",
            reason=reason,
            panel=panel,
            top=top,
            throat=as_length(throat, units),
        )
    if set_together:
        return message(
            "Why then: {reason}. Rolled up to fit your machine's throat, half a block makes a roll about {panel} "
            "thick, half the top {top}, half the quilt {quilt}; the throat is {throat}.",
            reason=reason,
            panel=panel,
            top=top,
            quilt=quilt,
            throat=as_length(throat, units),
        )
    if not layered:
        return message(
            "Why then: {reason}. Rolled up to fit your machine's throat, half the panel makes a roll about {panel} "
            "thick, half the top {top}; the throat is {throat}.",
            reason=reason,
            panel=panel,
            top=top,
            throat=as_length(throat, units),
        )
    return message(
        "Why then: {reason}. Rolled up to fit your machine's throat, half the panel makes a roll about {panel} thick, "
        "half the top {top}, half the quilt {quilt}; the throat is {throat}.",
        reason=reason,
        panel=panel,
        top=top,
        quilt=quilt,
        throat=as_length(throat, units),
    )


# The stitch


def stitch_size_said(stitch: EdgeStitch) -> Message:
    """How wide and how long a stitch is set."""
    if stitch.width:
        return message(
            "{width} wide, {length} long", width=as_stitch(stitch.width), length=as_stitch(stitch.length)
        )
    return message("{length} long", length=as_stitch(stitch.length))


def machine_said(
    stitch: EdgeStitch, rows: Sequence[RowPlan], method: Method, units: Units, *, whole: bool
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
        "near": near_said(stitch.bite, units),
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
                yield message("Sew {near} inside the fold, all around the letter.", **fields)
                yield _BLIND_BY_MACHINE
            else:
                yield message("Sew {near} inside the edge of the letter, all around.", **fields)


def background_said(outlined: Outlined, *, worn: bool, loose: bool) -> Message:
    """What is called the background of a stitch: of letters that are `outlined`, on a panel, on what is `worn`, or on
    what `loose` ones are sewn onto."""
    cloth = message("the garment") if worn else message("the panel")
    if loose:
        cloth = message("what you sew the letters onto")
    match outlined:
        case Outlined.NONE:
            return message("The background is what a letter lies on: {cloth}.", cloth=cloth)
        case Outlined.SOME:
            return message(
                "The background is what an edge lies on: {cloth}, or for a letter on an outline the outline.",
                cloth=cloth,
            )
        case Outlined.ALL:
            return message(
                "The background is what an edge lies on: {cloth} for an outline, the outline for a letter.",
                cloth=cloth,
            )


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
        yield message(
            "Layer the scrap with batting and backing, as the quilt is, and sew with the walking foot, which feeds all "
            "layers alike."
        )
    else:
        yield message(
            "Put on the open-toe foot: it lets you see the needle at the edge, in curves above all."
        )
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


# Order


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
        return message("Stitch from the middle of the row outward.")
    if len(plan.order) == 2:
        first, second = (where.as_field() for where in plan.order)
        return message(
            "First {first}, then {second}; in each row from its middle outward.",
            first=first,
            second=second,
        )
    return message(
        "From the center row outward: {order}; in each row from its middle outward.",
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
