"""The stitches to choose from, in words: what each takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from applique.design import Stitch
from applique.language import Field, Message, message, messages
from applique.sewing.offers import StitchOffer
from applique.sewing.stabilizer import StabilizerKind, StabilizerNeed
from applique.sewing.threads import ThreadNeed
from applique.units import Units, as_length, as_run, as_yardage
from applique.words.colors import color_said
from applique.words.instructions.stitching import stitch_size_said
from applique.words.sewing import (
    minutes_said,
)
from applique.words.sheets import STITCHES, set_apart

__all__ = [
    "CHOOSE",
    "choices_said",
    "offer_said",
    "stitch_title",
]

CHOOSE: Final = message("Stitches to choose from")


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
    yield set_apart(dict.fromkeys(stitch_size_said(row.stitch) for row in offer.rows))
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
