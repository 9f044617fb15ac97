"""Stabilizer in words: how it is cut off the roll, laid, and removed once the letters are stitched."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum, auto
from fractions import Fraction
from typing import Final

from applique.design import WhenStitched
from applique.language import Field, Message, listed, message, messages
from applique.sewing.plan import RowPlan, StitchPlan
from applique.sewing.stabilizer import BORDER, OVERLAP, TRIMMED_TO, Band, StabilizerKind, StabilizerNeed
from applique.units import Units, as_length
from applique.words.sewing import (
    stabilizer_reason_said,
)
from applique.words.sheets import set_apart, table_said

__all__ = [
    "ROLL_LEFT",
    "STABILIZER",
    "STABILIZER_HEAD",
    "Outlined",
    "basting_out_said",
    "lay_said",
    "numbered_piece_said",
    "off_the_roll_said",
    "piece_said",
    "remove_said",
    "roll_drawn_said",
    "rolled_piece_said",
    "shown_said",
    "stabilizer_cells",
    "stabilizer_drawn_said",
    "why_stabilizers_said",
]

STABILIZER: Final = message("Stabilizer")
STABILIZER_HEAD: Final = (message("row"), message("stabilizer"), message("cut"), message("in pieces"))


def off_the_roll_said(need: StabilizerNeed, units: Units) -> Message:
    """How the pieces of one kind are cut from the roll, band by band."""
    fields: dict[str, Field] = {
        "width": as_length(need.roll_width, units),
        "bands": set_apart(_band(band, units) for band in need.bands),
    }
    if need.kind is StabilizerKind.CUT_AWAY:
        return messages(
            "Cut this length off the roll of cut-away, {width} wide, then cut the pieces from it: {bands}.",
            "Cut these lengths off the roll of cut-away, {width} wide, then cut the pieces from them: {bands}.",
            len(need.bands),
            **fields,
        )
    return messages(
        "Cut this length off the roll of tear-away, {width} wide, then cut the pieces from it: {bands}.",
        "Cut these lengths off the roll of tear-away, {width} wide, then cut the pieces from them: {bands}.",
        len(need.bands),
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


class Outlined(Enum):
    """How many of the rows have outlines behind their letters."""

    NONE = auto()
    SOME = auto()
    ALL = auto()


_EDGES: Final = {
    Outlined.NONE: message("the letters"),
    Outlined.SOME: message("the outlines, or beyond the letters of a row without outlines,"),
    Outlined.ALL: message("the outlines"),
}


def shown_said(block: str) -> Message:
    """Which block is in the picture, and that the others are held the same way."""
    return message(
        "The picture shows “{block}”; lay the pieces of the other blocks the same way, by the rows in the table.",
        block=block,
    )


def lay_said(plan: StitchPlan, units: Units, *, outlined: Outlined, of_blocks: bool) -> Iterator[Message]:
    """How the stabilizer is laid, and how far it reaches: beyond the letters, or their outlines. Where letters are
    `outlined`, if only in some rows, the iron comes over it, when they are laid on their stitched outlines: no pin may
    be in it then."""
    beyond: dict[str, Field] = {"beyond": as_length(BORDER, units)}
    if plan.when is not WhenStitched.QUILTING:
        if outlined is not Outlined.NONE:
            yield message(
                "Turn the panel wrong side up. Center a piece of stabilizer behind each row, so that it reaches "
                "{beyond} beyond {edge} all around, and baste it outside of them with thread, not with pins.",
                edge=_EDGES[outlined],
                **beyond,
            )
        elif of_blocks:
            yield message(
                "Turn each block wrong side up. Center a piece of stabilizer behind each row, so that it reaches "
                "{beyond} beyond the letters all around, and baste it outside of them, pin it from the right side, or "
                "hold it as its maker directs. Take pins out as you come to them, and the thread once the row is sewn.",
                **beyond,
            )
        else:
            yield message(
                "Turn the panel wrong side up. Center a piece of stabilizer behind each row, so that it reaches "
                "{beyond} beyond the letters all around, and baste it outside of them, pin it from the right side, or "
                "hold it as its maker directs. Take pins out as you come to them, and the thread once the row is sewn.",
                **beyond,
            )
    elif any(need.kind is StabilizerKind.CUT_AWAY for need in plan.stabilizers):
        yield message(
            "Before you layer the quilt, turn the top wrong side up. Center a piece of stabilizer behind each row, so "
            "that it reaches {beyond} beyond {edge} all around, and baste it there with thread, outside of them: it "
            "stays inside the quilt.",
            edge=_EDGES[outlined],
            **beyond,
        )
    elif outlined is not Outlined.NONE:
        yield message(
            "Turn the basted quilt over. Center a piece of stabilizer behind each row, under the backing, so that it "
            "reaches {beyond} beyond {edge} all around, and baste it outside of them with thread, not with pins.",
            edge=_EDGES[outlined],
            **beyond,
        )
    else:
        yield message(
            "Turn the basted quilt over. Center a piece of stabilizer behind each row, under the backing, so that it "
            "reaches {beyond} beyond the letters all around, and pin it outside of them.",
            **beyond,
        )
    yield _pinned_through_said(outlined is not Outlined.NONE, beyond)
    if outlined is not Outlined.NONE:
        yield message(
            "You press over it later, when the letters come onto their outlines. Try a scrap of it under the iron "
            "first: one that shrinks, melts or sticks will not do."
        )


def _pinned_through_said(outlined: bool, beyond: dict[str, Field]) -> Message:
    """How its place is found where the panel is too dark or too thick for the row to show through."""
    if outlined:
        return message(
            "Where the outlines do not show through, stick pins straight through from the right side, one each at the "
            "outermost point of the row on the left, on the right, above and below. On the wrong side they show where "
            "the row ends: lay the piece so that it reaches {beyond} beyond each of them, then take them out.",
            **beyond,
        )
    return message(
        "Where the letters do not show through, stick pins straight through from the right side, one each at the "
        "outermost point of the row on the left, on the right, above and below. On the wrong side they show where the "
        "row ends: lay the piece so that it reaches {beyond} beyond each of them, then take them out.",
        **beyond,
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


def _band(band: Band, units: Units) -> Message:
    return message(
        "{length} for {rows}",
        length=as_length(band.length, units),
        rows=listed(where.as_field() for where in dict.fromkeys(band.tables)),
    )
