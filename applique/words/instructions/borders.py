"""The borders in words, round by round."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import BorderKind, Corners
from applique.language import Field, Message, listed, message, messages
from applique.quilt.borders import BorderPlan, BorderStep, Side, SideStrip
from applique.units import Units, as_seam, as_size, telling_apart
from applique.words.instructions.sizes import by_said
from applique.words.quilt import odd_piece

__all__ = ["BORDERS", "border_said", "step_said"]

BORDERS: Final = message("Borders")
_IN_ORDER: Final = {
    Side.LEFT: message("Left, top to bottom: {pieces}."),
    Side.RIGHT: message("Right, top to bottom: {pieces}."),
    Side.TOP: message("Top, left to right: {pieces}."),
    Side.BOTTOM: message("Bottom, left to right: {pieces}."),
}


def border_said(border: BorderPlan, units: Units) -> Message:
    """A border's heading: its number and what it is."""
    return _border(border).filled(number=border.number, width=as_size(border.width, units))


def _border(border: BorderPlan) -> Message:
    match border.kind, border.corners:
        case BorderKind.SQUARES, _:
            return message("Border {number}: squares of {width}")
        case BorderKind.RECTANGLES, _:
            return message("Border {number}: rectangles, {width} deep")
        case _, Corners.CORNERSTONES:
            return message("Border {number}: a strip {width} wide with cornerstones")
        case _, Corners.MITERED:
            return message("Border {number}: a strip {width} wide with mitered corners")
        case _:
            return message("Border {number}: a strip {width} wide")


def step_said(
    border: BorderPlan, step: BorderStep, seam_allowance: Fraction, units: Units
) -> Iterator[Message]:
    """One round of sewing a border on: its pieces in order, its strips, and how large the top is then."""
    for strip in step.strips:
        if len(strip.pieces) > 1:
            yield _IN_ORDER[strip.side].filled(pieces=_in_order(strip))
    yield from _odd_said(border, step, units)
    lengths = dict.fromkeys(as_size(strip.cut_length, units) for strip in step.strips)
    if border.corners is Corners.MITERED:
        yield message(
            "Center a strip of {lengths} on each side, stop the seams {seam} from the corners, and miter them.",
            lengths=listed(lengths),
            seam=as_seam(seam_allowance, units),
        )
    elif step.strips[0].side.upright:
        yield message(
            "Sew to the left and right: {lengths} long. Press towards the border.", lengths=listed(lengths)
        )
    else:
        yield message(
            "Sew to the top and bottom: {lengths} long. Press towards the border.", lengths=listed(lengths)
        )
    yield message(
        "The top is now {cut}, and {finished} when it is finished.",
        cut=by_said(step.cut, units),
        finished=by_said(step.finished, units),
    )


def _odd_said(border: BorderPlan, step: BorderStep, units: Units) -> Iterator[Message]:
    """Which pieces of a round are shorter or longer than the others."""
    if border.uneven is None:
        return
    sides = {strip.side for strip in step.strips}
    odd = [piece for piece in border.uneven.pieces if piece.side in sides]
    said = telling_apart([(piece.length, border.uneven.length) for piece in odd], units, denominator=16)
    named = {
        shorter: dict.fromkeys(
            message(
                "{piece} ({length} finished, cut {cut})",
                piece=odd_piece(piece),
                length=said(piece.length),
                cut=said(piece.cut_length),
            )
            for piece in odd
            if (piece.length < border.uneven.length) == shorter
        )
        for shorter in (True, False)
    }
    if named[True]:
        yield message("Shorter than the others: {pieces}.", pieces=listed(named[True]))
    if named[False]:
        yield message("A little longer than the others: {pieces}.", pieces=listed(named[False]))


def _in_order(strip: SideStrip) -> Message:
    """A sequence of fabrics in words, a cycle that repeats said once."""
    names = [fabric for fabric, _ in strip.pieces]
    for cycle in range(1, len(names) // 2 + 1):
        if all(name == names[index % cycle] for index, name in enumerate(names)):
            return messages(
                "{count} piece, {cycle} and so on, ending with {last}",
                "{count} pieces, {cycle} and so on, ending with {last}",
                len(names),
                cycle=_one_by_one(names[:cycle]),
                last=names[-1],
            )
    return messages("{count} piece: {names}", "{count} pieces: {names}", len(names), names=listed(names))


def _one_by_one(names: Sequence[str]) -> Field:
    """`names` one after the other, with more to follow."""
    first, *others = names
    said: Field = first
    for name in others:
        said = message("{names}, {name}", names=said, name=name)
    return said
