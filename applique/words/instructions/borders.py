"""The borders in words, round by round."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from applique.design import BorderKind, Corners
from applique.language import Field, Message, listed, message, messages
from applique.quilt.borders import BorderPlan, BorderStep, Corner, Side, SideStrip
from applique.quilt.strips import Join
from applique.units import Units, as_seam, as_size, telling_apart
from applique.words.instructions.sizes import by_said
from applique.words.quilt import CORNERS, odd_piece

__all__ = [
    "BORDERS",
    "before_said",
    "border_said",
    "corner_tick",
    "cut_from_run_said",
    "ends_said",
    "fabric_said",
    "fitted_said",
    "join_drawn_said",
    "join_said",
    "join_tick",
    "key_said",
    "miter_drawn_said",
    "miter_said",
    "odd_drawn_said",
    "piece_of_said",
    "round_drawn_said",
    "row_tick",
    "rows_drawn_said",
    "rows_said",
    "seam_tick",
    "step_said",
]

BORDERS: Final = message("Borders")
_SIDES: Final[Mapping[Side, Message]] = MappingProxyType(
    {
        Side.LEFT: message("left"),
        Side.RIGHT: message("right"),
        Side.TOP: message("top"),
        Side.BOTTOM: message("bottom"),
    }
)
_MOST_NAMED: Final = 30
"""Of more pieces in no cycle the drawing alone shows the order."""
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


def fabric_said(letter: str, name: str) -> Message:
    """A fabric by its letter, with its name."""
    return message("{letter} ({name})", letter=letter, name=name)


def piece_of_said(piece: Message, fabric: str) -> Message:
    """A piece by its name, with that of its fabric."""
    return message("{piece} ({fabric})", piece=piece, fabric=fabric)


def key_said(fabric: str, pieces: Sequence[Field]) -> Message:
    """Which pieces of a fabric a drawing shows."""
    return message("{fabric}: {pieces}", fabric=fabric, pieces=listed(pieces))


def before_said(seam_allowance: Fraction, units: Units) -> Message:
    """What holds for all seams of the borders."""
    return message(
        "Sew every seam right sides together with a seam allowance of {seam}. Measure the top through its middle, "
        "across and down, before each border.",
        seam=as_seam(seam_allowance, units),
    )


def fitted_said(border: BorderPlan, seam_allowance: Fraction, units: Units) -> Message | None:
    """What is done where the top is not the size that is said; None for strips that each round fits to it."""
    match border.kind, border.corners:
        case BorderKind.STRIP, Corners.MITERED:
            return _long_said(border, seam_allowance, units)
        case BorderKind.STRIP, Corners.CORNERSTONES:
            return message(
                "If the top is not the size that is said here, trim the strips to what you measured, before you sew "
                "the first of them."
            )
        case BorderKind.STRIP, _:
            return None
        case _:
            return message(
                "If the top is not the size that is said here, fit the rows to it: sew a few of their seams a thread "
                "wider or narrower."
            )


def _long_said(border: BorderPlan, seam_allowance: Fraction, units: Units) -> Message:
    """How much longer than the top mitered strips are cut."""
    (step,) = border.steps
    by_side = {
        strip.side: as_size(2 * border.overhang(strip, seam_allowance), units) for strip in step.strips
    }
    sides, ends = by_side[Side.LEFT], by_side[Side.TOP]
    if sides == ends:
        return message(
            "The strips are {more} longer than the sides of the top, for the corners, and are trimmed there. That is "
            "enough for a top that is a little larger than is said here too.",
            more=sides,
        )
    return message(
        "The strips of the sides are {sides} longer than the top, those of top and bottom {ends}, for the corners, and "
        "are trimmed there. That is enough for a top that is a little larger than is said here too.",
        sides=sides,
        ends=ends,
    )


# Joined strips


def join_said(
    join: Join, pieces: Sequence[Field], width: Fraction, seam_allowance: Fraction, units: Units
) -> Message:
    """How strips, the `pieces` by name, are joined end to end."""
    fields: dict[str, Field] = {
        "pieces": listed(pieces),
        "width": as_size(width, units),
        "seam": as_seam(seam_allowance, units),
    }
    if join is Join.DIAGONAL:
        return message(
            "Join the strips {pieces}, {width} wide, end to end: lay two ends right sides together, crossing at right "
            "angles, stitch from corner to corner, trim to {seam} beside the stitching, and press the seam open.",
            **fields,
        )
    return message(
        "Join the strips {pieces}, {width} wide, end to end: lay two ends right sides together, edges even, stitch "
        "{seam} from the ends, and press the seam open.",
        **fields,
    )


def cut_from_run_said(border: BorderPlan, units: Units) -> Message:
    """What is cut from the joined strips as soon as they are joined: nothing that is fitted round by round."""
    if border.corners is Corners.BUTTED:
        return message("Leave the long strip whole: each pair of strips is cut from it when you sew it on.")
    counted: Counter[Fraction] = Counter()
    for pieces in border.strips_to_cut:
        counted[pieces.length] += pieces.count
    return message(
        "Cut from the long strip: {pieces}.",
        pieces=listed(
            message("{count} of {length}", count=count, length=as_size(length, units))
            for length, count in counted.items()
        ),
    )


def join_tick(border: BorderPlan) -> Message:
    """The strips of a border to tick off."""
    if border.corners is Corners.BUTTED:
        return message("strips of border {number} joined", number=border.number)
    return message("strips of border {number} joined and cut", number=border.number)


def join_drawn_said(join: Join) -> Message:
    """What the drawing of a join shows."""
    if join is Join.DIAGONAL:
        return message(
            "Two strips right sides together, crossing at right angles, stitched from corner to corner; trimmed "
            "beside the stitching; pressed open to one long strip."
        )
    return message(
        "Two strips right sides together, stitched across their ends; pressed open to one long strip."
    )


# Rows


def rows_said(
    border: BorderPlan,
    step: BorderStep,
    fabrics: Mapping[str, Field],
    pieces: Mapping[Side, Sequence[Field]],
    units: Units,
) -> Iterator[Message]:
    """How the rows of one round are pieced: from which `pieces`, named in the order of each side, in which order of
    fabrics, which way they are pressed, how long they are."""
    if border.corners is Corners.CORNERSTONES and border.kind is BorderKind.STRIP:
        yield from _stones_said(border, step, pieces, units)
        return
    taken = Counter(name for strip in step.strips for name in pieces[strip.side])
    yield message(
        "Take {pieces}.",
        pieces=listed(message("{count} of {name}", count=count, name=name) for name, count in taken.items()),
    )
    for strip in step.strips:
        yield _IN_ORDER[strip.side].filled(pieces=_in_order(strip, fabrics))
    broken = [strip.side for strip in step.strips if _breaks(strip)]
    if broken:
        yield message(
            "The order of the {sides} row breaks its cycle once, on purpose: the border closes there, like "
            "fabrics apart.",
            sides=listed(_SIDES[side] for side in broken),
        )
    yield from _odd_said(border, step, units)
    if any(length != border.width for strip in step.strips for _, length in strip.pieces):
        yield message(
            "Pieces meet along their edges of {width}: so wide is a row.",
            width=as_size(step.strips[0].cut_width, units),
        )
    long = listed(dict.fromkeys(as_size(strip.cut_length, units) for strip in step.strips))
    if step.strips[0].side.upright:
        yield message(
            "Sew each row and press its seams toward the bottom. Each is {long} long from raw edge to raw edge.",
            long=long,
        )
    else:
        yield message(
            "Sew each row and press its seams toward the right. Each is {long} long from raw edge to raw edge.",
            long=long,
        )


def _stones_said(
    border: BorderPlan, step: BorderStep, pieces: Mapping[Side, Sequence[Field]], units: Units
) -> Iterator[Message]:
    upright = step.strips[0].side.upright
    long = next(one.length for one in border.strips_to_cut if one.upright is upright)
    stone, strip, *_ = pieces[step.strips[0].side]
    yield message(
        "Sew a square of {stone}, cut {square}, to each end of both strips of {strip}, {long} long. Press toward the "
        "strip. Each is now {whole} long.",
        stone=stone,
        square=as_size(step.strips[0].cut_width, units),
        strip=strip,
        long=as_size(long, units),
        whole=as_size(step.strips[0].cut_length, units),
    )


def rows_drawn_said(step: BorderStep) -> Message:
    """What the drawing of rows shows."""
    return message(
        "The pieces of the {sides} rows side by side in their order, each with the letter of its fabric.",
        sides=listed(_SIDES[strip.side] for strip in step.strips),
    )


def odd_drawn_said(*, shorter: bool) -> Message:
    """What stands in the drawing beside a piece that is not as long as the others."""
    return message("shorter") if shorter else message("longer")


def row_tick(side: Side) -> Message:
    """A row to tick off."""
    return message("{side} row", side=_SIDES[side])


def seam_tick(side: Side) -> Message:
    """A seam to tick off."""
    return _SIDES[side]


def ends_said(side: Side) -> tuple[Message, Message]:
    """What stands at the two ends of a row that is drawn lying."""
    if side.upright:
        return message("top"), message("bottom")
    return message("left"), message("right")


# Rounds


def step_said(
    border: BorderPlan,
    step: BorderStep,
    pieces: Mapping[Side, Sequence[Field]],
    seam_allowance: Fraction,
    units: Units,
    *,
    from_run: bool,
) -> Iterator[Message]:
    """One round of sewing a border on: its strips by name, whole or still to be cut `from_run`, or its rows, how they
    are sewn, and how large the top is then."""
    if border.corners is Corners.MITERED:
        yield from _mitered(border, step, pieces, seam_allowance, units)
    else:
        if border.kind is BorderKind.STRIP and border.corners is Corners.BUTTED:
            yield from _fitted(step, units, from_run=from_run)
        yield _sewn_on(step, pieces, units)
        yield message(
            "Right sides together, pin the middles, then the ends, then between them; sew, and take each pin out "
            "before the needle reaches it. Press toward the border."
        )
    yield message(
        "The top is now {cut}, and {finished} when it is finished.",
        cut=by_said(step.cut, units),
        finished=by_said(step.finished, units),
    )


def _fitted(step: BorderStep, units: Units, *, from_run: bool) -> Iterator[Message]:
    """The top measured for a pair of strips, and the pair fitted to it."""
    length = as_size(step.strips[0].cut_length, units)
    if step.strips[0].side.upright:
        yield message(
            "Measure the top down its middle, raw edge to raw edge: it should be {length}.", length=length
        )
    else:
        yield message(
            "Measure the top across its middle, raw edge to raw edge: it should be {length}.", length=length
        )
    if from_run:
        yield message(
            "Cut from the long strip: {count} of {length}, or of what you measured.",
            count=len(step.strips),
            length=length,
        )
    else:
        yield message(
            "Trim both strips to what you measured; if the top is a little longer than they are, ease it in as you pin."
        )


def _sewn_on(step: BorderStep, pieces: Mapping[Side, Sequence[Field]], units: Units) -> Message:
    fields: dict[str, Field] = {
        "lengths": listed(dict.fromkeys(as_size(strip.cut_length, units) for strip in step.strips)),
        "width": as_size(step.strips[0].cut_width, units),
    }
    upright = step.strips[0].side.upright
    if any(len(strip.pieces) > 1 for strip in step.strips):
        if upright:
            return message("Sew to the left and right: the rows, {lengths} long and {width} wide.", **fields)
        return message("Sew to the top and bottom: the rows, {lengths} long and {width} wide.", **fields)
    fields["fabric"] = listed(dict.fromkeys(name for strip in step.strips for name in pieces[strip.side]))
    if upright:
        return message(
            "Sew to the left and right: a strip of {fabric} each, {lengths} long and {width} wide.", **fields
        )
    return message(
        "Sew to the top and bottom: a strip of {fabric} each, {lengths} long and {width} wide.", **fields
    )


def _mitered(
    border: BorderPlan,
    step: BorderStep,
    pieces: Mapping[Side, Sequence[Field]],
    seam_allowance: Fraction,
    units: Units,
) -> Iterator[Message]:
    by_side = {strip.side: strip for strip in step.strips}
    sides, ends = by_side[Side.LEFT], by_side[Side.TOP]
    fields: dict[str, Field] = {
        "upright": pieces[Side.LEFT][0],
        "lying": pieces[Side.TOP][0],
        "sides": as_size(sides.cut_length, units),
        "ends": as_size(ends.cut_length, units),
        "width": as_size(sides.cut_width, units),
        "side_over": as_size(border.overhang(sides, seam_allowance), units),
        "end_over": as_size(border.overhang(ends, seam_allowance), units),
        "seam": as_seam(seam_allowance, units),
    }
    yield message(
        "Center a strip of {upright}, {sides} long, on the left and on the right, and one of {lying}, {ends} long, at "
        "the top and at the bottom, all {width} wide.",
        **fields,
    )
    if fields["side_over"] == fields["end_over"]:
        yield message("Each strip reaches {side_over} past the top at both ends.", **fields)
    else:
        yield message(
            "The strips of the sides reach {side_over} past the top at both ends, those of top and bottom {end_over}.",
            **fields,
        )
    yield message(
        "On each strip mark its middle and, half of what you measured to either side of it, where the corners of the "
        "top go."
    )
    yield message(
        "Right sides together, pin the middles, the marks at the corners, then between them; start and stop every seam "
        "{seam} from the corner of the top, and backstitch there. Fold the loose ends of strips that are already on "
        "out of the way before each next seam. Press toward the border.",
        **fields,
    )


# Miters


def miter_said(seam_allowance: Fraction, units: Units) -> Iterator[Message]:
    """How the corners of a mitered border are closed."""
    yield message(
        "Miter each corner: fold the top diagonally, right sides together, so that the two strips lie on each other, "
        "edges even, and draw a line at 45° from the end of the seams to the outer edge of the strips. Fold the seam "
        "allowances and the loose ends of the other strips out of the way."
    )
    yield message(
        "Pin, and sew on the line from the end of the seams outward; backstitch at the start. Open the top: when the "
        "corner lies flat and square, trim the strips to {seam} beside the seam and press it open.",
        seam=as_seam(seam_allowance, units),
    )


def corner_tick(corner: Corner) -> Message:
    """A mitered corner to tick off."""
    return CORNERS[corner]


def miter_drawn_said() -> Message:
    """What the drawing of a miter shows."""
    return message(
        "A mitered corner in three pictures: both strips reach past the corner and their seams stop short of it; the "
        "top folded diagonally, the strips on each other, a line at 45° from the end of the seams; opened, trimmed "
        "and pressed."
    )


def round_drawn_said(border: BorderPlan, step: BorderStep, units: Units) -> Message:
    """What the drawing of a round shows."""
    return message(
        "{border}: the top after this round, {size}; what was just sewn on in color.",
        border=border_said(border, units),
        size=by_said(step.cut, units),
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


def _in_order(strip: SideStrip, fabrics: Mapping[str, Field]) -> Message:
    """A sequence of fabrics in words, a cycle that repeats said once."""
    names = [fabric for fabric, _ in strip.pieces]
    for cycle in range(1, len(names) // 2 + 1):
        if all(name == names[index % cycle] for index, name in enumerate(names)):
            return messages(
                "{count} piece, {cycle} and so on, ending with {last}",
                "{count} pieces, {cycle} and so on, ending with {last}",
                len(names),
                cycle=_one_by_one([fabrics[name] for name in names[:cycle]]),
                last=fabrics[names[-1]],
            )
    if len(names) > _MOST_NAMED:
        return messages(
            "{count} piece in the order that is drawn",
            "{count} pieces in the order that is drawn",
            len(names),
        )
    return messages(
        "{count} piece: {names}",
        "{count} pieces: {names}",
        len(names),
        names=listed(fabrics[name] for name in names),
    )


def _breaks(strip: SideStrip) -> bool:
    """Whether its fabrics follow a cycle but for one place: one piece is another, or the cycle starts anew there."""
    names = [fabric for fabric, _ in strip.pieces]
    off = [
        [index for index in range(cycle, len(names)) if names[index] != names[index - cycle]]
        for cycle in range(2, len(names) // 3 + 1)
    ]
    return all(off) and any(found[-1] - found[0] <= cycle for cycle, found in enumerate(off, 2))


def _one_by_one(names: Sequence[Field]) -> Field:
    """`names` one after the other, with more to follow."""
    first, *others = names
    said: Field = first
    for name in others:
        said = message("{names}, {name}", names=said, name=name)
    return said
