"""Backing, batting, basting and the lines of quilting in words."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.cloth import ClothUse, WideBacking
from applique.design import OverLetters, QuiltingKind
from applique.language import Field, Measure, Message, Unit, listed, message, messages
from applique.leftovers import Leftover, LeftoverBacking, MixedBacking
from applique.marks import Outlined
from applique.quilt.finishing import BackingPlan, BattingPlan
from applique.quilt.strips import Extent
from applique.sewing.quilting import (
    LAYERS,
    SHORTEST,
    Between,
    Course,
    Echoes,
    EvenlySpread,
    InTheDitch,
    QuiltingPlan,
    Repeats,
    Ruled,
    Waves,
    closest_echoes,
    quilting_thread,
)
from applique.sewing.threads import ThreadNeed
from applique.units import Units, as_length, as_needed, as_run, as_seam, as_size, as_stitch
from applique.words.buying import batting_named, leftovers_said
from applique.words.cloth import use_how
from applique.words.cutting import size_said
from applique.words.instructions.sizes import by_said
from applique.words.sewing import course_said

__all__ = [
    "BACKING",
    "BACKING_SEWN",
    "BACKING_WRONG",
    "BACK_STRIP",
    "BASTED",
    "BASTED_SEEN",
    "BASTING",
    "BATTING",
    "BATTING_SEEN",
    "CHOOSE",
    "CHOSEN",
    "LAYERING",
    "LAYERS_SEEN",
    "OFFERED",
    "PRESS_TOP",
    "QUILTED",
    "QUILTING",
    "QUILTS",
    "QUILT_CHOSEN",
    "START_IN_THE_MIDDLE",
    "TOP_SEEN",
    "added_said",
    "as_you_like_said",
    "backing_row_said",
    "backing_said",
    "backing_seam_said",
    "baste_said",
    "batting_said",
    "cut_back_said",
    "echoes_said",
    "far_apart_said",
    "figured_without_said",
    "from_leftovers_said",
    "in_order_said",
    "layer_said",
    "mark_middle_said",
    "marked_said",
    "mixed_said",
    "overhang_said",
    "plain_back_said",
    "quilt_added_said",
    "quilted_said",
    "quilting_said",
    "rest_batting_said",
    "seams_open_said",
    "sew_back_said",
    "thread_figured_said",
    "thread_said",
    "titled",
    "wide_back_said",
]

LAYERING: Final = message("Layering")

# Backing and batting

BACKING: Final = message("Backing")
BACKING_SEWN: Final = message("The backing with its seams, seen from its right side")
BATTING: Final = message("Batting")


def plain_back_said(pieces: Sequence[Field]) -> Message:
    """What is done to a back of one piece."""
    return message(
        "Take {pieces} and press it; it has no seam. Leave it larger than the top all around.",
        pieces=listed(pieces),
    )


def rest_batting_said(batting: BattingPlan, units: Units) -> tuple[Message, ...]:
    """How batting is made ready, and what size it is cut to."""
    return (
        message(
            "Unroll the batting the evening before, so that its folds relax. Wash, shrink or tumble it only as its "
            "maker says."
        ),
        message(
            "Then cut it to {size}, with scissors or rotary cutter.",
            size=by_said((batting.width, batting.height), units, as_needed),
        ),
    )


def backing_said(backing: BackingPlan, use: ClothUse | None, units: Units, *, compared: bool) -> Message:
    """The backing: its size, and how it is pieced if cloth is cut for it, `compared` with the other way or not."""
    size = by_said((backing.width, backing.height), units)
    if use is None:
        return message("Backing {size}.", size=size)
    return message("Backing {size}: {how}.", size=size, how=use_how(use, units, compared=compared))


BACK_STRIP: Final = message("the strip of leftovers")


def own_back_said(backing: BackingPlan, units: Units) -> Message:
    """That no backing is cut, and how large it has to be."""
    return message(
        "No backing is reckoned in this pattern: press one of your own that measures at least {size}.",
        size=by_said((backing.width, backing.height), units),
    )


def own_batting_said(batting: BattingPlan, units: Units) -> Message:
    """That no batting is bought, and how large it has to be."""
    return message(
        "No batting is reckoned in this pattern: take your own, at least {size}.",
        size=by_said((batting.width, batting.height), units, as_needed),
    )


def sew_back_said(
    seam_allowance: Fraction, pieces: Sequence[Field], count: int, along: Fraction | None, units: Units
) -> Message:
    """How the `count` seams of a back are sewn that is pieced from the `pieces` that were cut for it, if any were. They
    run `along` edges of that length, where all of them are lengths side by side."""
    seam = as_seam(seam_allowance, units)
    if along is None:
        sewn = messages(
            "Lay the pieces right sides together, edge to edge, and sew the seam of the drawing with a seam allowance "
            "of {seam}.",
            "Lay the pieces right sides together, edge to edge, and sew the {count} seams of the drawing with a seam "
            "allowance of {seam}, shorter seams first.",
            count,
            seam=seam,
        )
    else:
        sewn = messages(
            "Lay the pieces right sides together, their edges of {along} even, and sew the seam of the drawing along "
            "them with a seam allowance of {seam}.",
            "Lay the pieces right sides together, two at a time, their edges of {along} even, and sew the {count} "
            "seams of the drawing along them with a seam allowance of {seam}.",
            count,
            along=as_size(along, units),
            seam=seam,
        )
    if not pieces:
        return sewn
    return message("Take {pieces}. {sewn}", pieces=listed(pieces), sewn=sewn)


def seams_open_said(count: int) -> Message:
    """How the `count` seams of a pieced back are pressed."""
    return messages(
        "Press the seam open, so that the backing lies flat.",
        "Press the seams open, so that the backing lies flat.",
        count,
    )


def backing_seam_said(number: int) -> Message:
    """One seam of the backing, to be ticked off."""
    return message("Backing, seam {number} sewn and pressed open", number=number)


def cut_back_said(backing: BackingPlan, units: Units) -> Message:
    """Where nothing is cut for the backing yet: how large it has to be."""
    return message(
        "Piece the backing until it measures {size}, right sides together, and press its seams open.",
        size=by_said((backing.width, backing.height), units),
    )


def wide_back_said(backing: BackingPlan, wide: WideBacking, units: Units) -> Message:
    """What whoever bought wide backing does in place of the step that joins the lengths."""
    size = by_said((backing.width, backing.height), units)
    lengths = len(wide.way.widths)
    if lengths == 1:
        return message(
            "If you bought wide backing instead, cut it to {size}, {along} of it along the selvage. It has no seam: "
            "leave out the next step.",
            size=size,
            along=as_needed(wide.way.along, units),
        )
    return message(
        "If you bought wide backing instead, sew {count} lengths of it side by side in the next step, and cut them to "
        "{size}.",
        count=lengths,
        size=size,
    )


def from_leftovers_said(back: LeftoverBacking, units: Units) -> Message:
    """Whether what is left over makes the back."""
    return message("From what is left over: {words}.", words=leftovers_said(back, units))


def mixed_said(mixed: MixedBacking, units: Units) -> Message:
    """How the strip that widens bought lengths is pieced from leftovers."""
    return message(
        "From what is left over, piece a strip end to end: {pieces}. Trim it to {size} and sew it to a "
        "long side; it saves {saved} of fabric.",
        pieces=listed(_leftover(piece, units) for piece in mixed.strip),
        size=size_said(mixed.way.widened, mixed.way.along, units, as_needed),
        saved=as_length(mixed.saved, units),
    )


def _leftover(piece: Leftover, units: Units) -> Message:
    return message("{fabric} {size}", fabric=piece.fabric, size=size_said(piece.length, piece.width, units))


def backing_row_said(number: int, row: Sequence[Leftover], units: Units) -> Message:
    """One row of a backing pieced from leftovers."""
    pieces = (_leftover(piece, units) for piece in row)
    return message("Row {number}: {pieces}.", number=number, pieces=listed(pieces))


def batting_said(batting: BattingPlan, finished: Extent, units: Units) -> Message:
    """The batting: how large it has to be, how much of that is beyond the `finished` quilt, and the size that is
    sold."""
    return message(
        "Batting at least {size}: {name}. That is {beyond} more than the finished quilt on every side; batting that "
        "shrinks has to measure that after it is washed.",
        size=by_said((batting.width, batting.height), units, as_needed),
        name=batting_named(batting.name, units),
        beyond=as_length((batting.width - finished[0]) / 2, units),
    )


# Basting

BASTING: Final = message("Basting")
PRESS_TOP: Final = message(
    "Press the top, and clip the threads on its wrong side: dark ones show through a light fabric."
)
LAYERS_SEEN: Final = message(
    "The three layers to scale: backing wrong side up, batting, and the top right side up"
)
BACKING_WRONG: Final = message("backing, wrong side up")
BATTING_SEEN: Final = message("batting")
TOP_SEEN: Final = message("top, right side up")
BASTED_SEEN: Final = message(
    "The top basted with safety pins in rows from the middle outward, and one safety pin enlarged: it goes down "
    "through all layers and comes up again"
)
BASTED: Final = message("Basted")


def layer_said(over: tuple[Fraction, Fraction], units: Units) -> Message:
    """How the layers are laid; `over` is how far batting and backing stand out beyond the top on every side."""
    batting, backing = as_length(over[0], units), as_length(over[1] - over[0], units)
    return message(
        "Tape the backing to a table or the floor, wrong side up, taut but not stretched. Smooth the batting over it, "
        "then the top, right side up, in the middle: about {batting} of batting shows all around the top, and about "
        "{backing} of backing all around the batting.",
        batting=batting,
        backing=backing,
    )


def overhang_said(over: Fraction, units: Units) -> Message:
    """How far a layer stands out beyond the top."""
    return message("about {over}", over=as_length(over, units))


def baste_said(spacing: Fraction, plans: Sequence[QuiltingPlan], units: Units) -> Iterator[Message]:
    """How the layers are held together for quilting, clear of lines that nothing marks yet too."""
    courses = {type(plan.course) for plan in plans if plan.lines}
    apart = as_length(spacing, units)
    if Ruled in courses:
        yield message(
            "Baste from the middle outward: with safety pins about {spacing} apart, clear of the letters' edges, or "
            "with basting spray between the layers. The backing must stay smooth; turn it over and look.",
            spacing=apart,
        )
        yield message(
            "Straight lines are marked only when the layers are basted: a pin that lies under the ruler then, or on a "
            "line, is moved aside."
        )
    else:
        yield message(
            "Baste from the middle outward: with safety pins about {spacing} apart, clear of the lines that you will "
            "quilt and of the letters' edges, or with basting spray between the layers. The backing must stay smooth; "
            "turn it over and look.",
            spacing=apart,
        )
    if InTheDitch in courses:
        yield message(
            "Nothing marks the lines in the ditch: leave the width of the foot free along those seams."
        )
    if Echoes in courses:
        yield message(
            "Nothing marks the echo lines around the letters: take each pin out there before the foot comes to it."
        )
    if Waves in courses:
        yield message(
            "Nothing marks the lines from edge to edge, and they go everywhere: take each pin out before the foot "
            "comes to it."
        )


# Quilting

QUILTING: Final = message("Quilting")
QUILTS: Final = {
    QuiltingKind.ECHO: message("Echo"),
    QuiltingKind.LINES: message("Straight lines"),
    QuiltingKind.CROSSHATCH: message("Crosshatch"),
    QuiltingKind.EDGE_TO_EDGE: message("Edge to edge"),
    QuiltingKind.DITCH: message("In the ditch"),
}
START_IN_THE_MIDDLE: Final = message(
    "Quilt from the marked middle of the quilt outward, so that fullness can move to the edges. Use a walking foot: "
    "on straight lines sew on, in tight curves stop often with the needle down, lift the foot, and turn the quilt a "
    "little. Pull the bobbin thread up before you start, take pins out before the needle reaches them, and "
    "bury the thread ends between the layers."
)
CHOOSE: Final = message(
    "Choose one of these. The thread to buy is the most that any of them takes; each says what it takes itself."
)
OFFERED: Final = message("Quilt it like this, or as you like. The thread to buy is for this.")
CHOSEN: Final = message("Quilted in the way chosen")
QUILTED: Final = message("Quilted")
QUILT_CHOSEN: Final = message("Quilt the top in the way that you chose.")


def _course(course: Course, units: Units, *, outside_echoes: bool) -> Message:
    """How the lines run, as somebody needs it who has only the quilt before her."""
    match course:
        case InTheDitch(seams=0):
            return message("This quilt has no borders, so it has no seams to stitch in.")
        case InTheDitch(between=Between.CORNERSTONES):
            return message(
                "Stitch in the seams of the blocks and of what lies between them, the longest first, and in those of "
                "the borders, on the side away from the seam allowances. Along the upright seams that side changes at "
                "every cornerstone: it is on the blocks, and there on the cornerstone. Cross over where the seams meet."
            )
        case InTheDitch(between=Between.NOTHING):
            return message(
                "Stitch in the seams of the blocks, the longest first, and in those of the borders, on the side away "
                "from the seam allowances. Along the upright seams that side changes from one block row to the next: "
                "cross over where the seams meet."
            )
        case InTheDitch(between=Between.STRIPS):
            return message(
                "Stitch in the seams of the blocks and of what lies between them, the longest first, and in those of "
                "the borders, on the side away from the seam allowances."
            )
        case InTheDitch():
            return message(
                "Stitch in the seam around the panel and in those between the borders, on the side away from the seam "
                "allowances."
            )
        case Waves(basis=basis) as waves:
            rows = _rows(waves, units)
            match basis:
                case Repeats() as repeats:
                    each = messages(
                        "{count} repeat {width} wide",
                        "{count} repeats {width} wide",
                        repeats.across,
                        width=as_length(repeats.width, units),
                    )
                    return message(
                        "{rows}, each of {repeats} of one design, with {thread} of needle thread in a repeat; the "
                        "drawing shows plain waves.",
                        rows=rows,
                        repeats=each,
                        thread=as_run(repeats.thread, units),
                    )
                case EvenlySpread(spacing=spacing):
                    return message(
                        "{rows}, in any design: waves with the walking foot, anything tighter with a foot for "
                        "free-motion quilting. Mark where the rows begin and end with chalk pencil and ruler. The "
                        "drawing shows plain waves; the thread is for lines about {spacing} apart.",
                        rows=rows,
                        spacing=as_length(spacing, units),
                    )
        case Ruled() as ruled:
            return _ruled(ruled, units, outside_echoes=outside_echoes)
        case Echoes():
            return message("{course}.", course=course_said(course, units))


def _ruled(ruled: Ruled, units: Units, *, outside_echoes: bool) -> Message:
    """How straight lines run, and what they do at the letters."""
    first, *others = map(_slant_said, ruled.angles_deg)
    slants = message("{first}, and across them {second}", first=first, second=others[0]) if others else first
    fields: dict[str, Field] = {"spacing": as_length(ruled.spacing, units), "slants": slants}
    if outside_echoes:
        return message("Lines {spacing} apart, {slants}, but only outside the echo lines.", **fields)
    if ruled.letters is OverLetters.MISS:
        return message("Lines {spacing} apart, {slants}. They stop at the letters.", **fields)
    return message("Lines {spacing} apart, {slants}. They run straight over the letters.", **fields)


def _slant_said(angle_deg: float) -> Message:
    """How lines lie: whatever their angle, a half turn is the same line."""
    angle = Fraction(angle_deg).limit_denominator(10_000) % 180
    if angle == 0:
        return message("from side to side")
    if angle == 90:
        return message("up and down")
    if angle < 90:
        return message("at {angle} to the bottom edge, rising to the right", angle=_degrees(angle))
    return message("at {angle} to the bottom edge, rising to the left", angle=_degrees(180 - angle))


_SPAN: Final = {Units.INCHES: 20.0, Units.CENTIMETERS: 50 / 2.54}
"""Inches between two points by which a slanting line is marked."""


def _slants_laid_said(angles_deg: Sequence[float], units: Units) -> Iterator[Message]:
    """How slanting lines are laid by the ruler, each slant once, whichever way it rises.

    Source:
        Long rulers for quilting have a line for 45°, many for 30° and 60° too: common practice, no source; so points
        are said that need none.
    """
    halves = (Fraction(angle).limit_denominator(10_000) % 180 for angle in angles_deg)
    for angle in dict.fromkeys(min(half, 180 - half) for half in halves):
        if angle == 45:
            yield message(
                "For {angle} lay the line of that angle, which most long rulers have, along the bottom edge or a seam "
                "that runs with it; or mark points as far up as across, and join them.",
                angle=_degrees(angle),
            )
        elif angle not in (0, 90):
            turn = math.radians(angle)
            yield message(
                "For {angle} mark points {across} across and {up} up from one another, and join them.",
                angle=_degrees(angle),
                across=as_length(_SPAN[units] * math.cos(turn), units, denominator=16),
                up=as_length(_SPAN[units] * math.sin(turn), units, denominator=16),
            )


def _degrees(angle: Fraction) -> Measure:
    return Measure(number=angle, unit=Unit.DEGREE, as_fraction=False)


def _rows(waves: Waves, units: Units) -> Message:
    return messages(
        "{count} row {height} high from edge to edge",
        "{count} rows {height} high from edge to edge that overlap by {overlap}",
        waves.rows,
        height=as_length(waves.row_height, units),
        overlap=as_length(waves.overlap, units),
    )


def figured_without_said(plan: QuiltingPlan) -> Iterator[Message]:
    """That a figure of rows from edge to edge leaves the letters out, where they do and it is figured by area."""
    match plan.course:
        case Waves(basis=EvenlySpread(), letters=OverLetters.MISS) if plan.outside_echoes:
            yield message("Letters and echo lines are left out of what it takes: no line is figured there.")
        case Waves(basis=EvenlySpread(), letters=OverLetters.MISS):
            yield message("The letters are left out of what it takes: no line is figured over them.")
        case Waves(basis=Repeats(), letters=OverLetters.MISS):
            yield message("The thread is that of whole rows: what you leave out at the letters is to spare.")
        case _:
            return


def quilting_said(plan: QuiltingPlan, units: Units) -> Message:
    """How the lines of one kind of quilting run."""
    return _course(plan.course, units, outside_echoes=plan.outside_echoes)


def titled(plan: QuiltingPlan, how: Message) -> Message:
    """How the lines of one kind of quilting run, behind its name."""
    return message("{kind}. {how}", kind=QUILTS[plan.kind], how=how)


def thread_said(plan: QuiltingPlan, units: Units) -> Message:
    """What the lines of one kind of quilting take of the thread on the list, which says how many spools that is."""
    return message(
        "{length} to sew, {stitches} stitches of {each}, {thread} of the thread for quilting, top and bobbin together.",
        length=as_run(plan.length, units),
        stitches=plan.stitches,
        each=as_stitch(plan.stitch_length),
        thread=as_run(plan.thread, units),
    )


def quilted_said(plan: QuiltingPlan) -> Message:
    """One kind of quilting, to be ticked off."""
    return message("Quilted: {kind}", kind=QUILTS[plan.kind])


def as_you_like_said(need: ThreadNeed, units: Units) -> Message:
    """What there is thread for where the design says nothing of quilting."""
    return message(
        "Quilt it as you like, around the letters or straight over them; lines over letters show. The thread listed, "
        "{thread}, is for lines about {spacing} apart all over the quilt, {line} of them in all. Leave no field "
        "between lines larger than the maker of the batting allows: its label gives the distance.",
        thread=as_run(need.length, units),
        line=as_run(need.line, units),
        spacing=as_length(need.spacing or 0, units),
    )


def far_apart_said(widest: Extent, units: Units) -> Message:
    """How far apart lines in the ditch lie, if nothing else is quilted, and who says whether that will do: how far they
    may be depends on the batting."""
    return message(
        "The largest part that these lines leave free is {size}: they lie {apart} apart there. Look up how far apart "
        "the maker of your batting allows them, and quilt more lines in it if that is less.",
        size=by_said(widest, units),
        apart=as_size(min(widest), units),
    )


def thread_figured_said(stitch_length: float, waste_percent: int) -> Message:
    """How much thread a line of quilting takes, and why."""
    return message(
        "How we figured the thread: in stitches of {stitch}, a line of machine quilting takes about {times} times its "
        "length, top and bobbin together, for at every stitch the thread goes down into the layers and up again; they "
        "are taken as {layers} thick under the foot. Another {waste}% is for ends and for what you unpick. Thinner "
        "batting and longer stitches take less.",
        stitch=as_stitch(stitch_length),
        times=Fraction(round(quilting_thread(stitch_length), 1)).limit_denominator(10),
        layers=as_stitch(LAYERS),
        waste=waste_percent,
    )


def in_order_said(plans: Sequence[QuiltingPlan]) -> Message:
    """Which kinds are sewn all of them, and in which order."""
    return message("All of these belong to this quilt: {order}.", order=_order_said(plans))


def _order_said(plans: Sequence[QuiltingPlan]) -> Message:
    first, *others = plans
    order: Message = message("first {kind}", kind=QUILTS[first.kind])
    for plan in others:
        order = message("{before}, then {kind}", before=order, kind=QUILTS[plan.kind])
    return order


def added_said(sewn: Sequence[QuiltingPlan], added: QuiltingPlan) -> Message:
    """The kinds that are `sewn`, and the one that may be `added` to them, which stand side by side; more echo lines may
    take its place."""
    fields: dict[str, Field] = {
        "sewn": listed(QUILTS[plan.kind] for plan in sewn),
        "added": QUILTS[added.kind],
    }
    if any(isinstance(plan.course, Echoes) for plan in sewn):
        return message(
            "Sew {sewn}. Then add {added}. You may leave it out, and sew more echo lines instead wherever what stays "
            "unquilted would be wider than the maker of the batting allows: its label gives the distance. The thread "
            "to buy is for all that is drawn.",
            **fields,
        )
    return message(
        "Sew {sewn}. Then add {added}. You may leave it out if what stays unquilted then is nowhere wider than the "
        "maker of the batting allows: its label gives the distance. The thread to buy is for all of it.",
        **fields,
    )


def quilt_added_said(sewn: Sequence[QuiltingPlan], added: QuiltingPlan) -> Message:
    """The step in which they are sewn."""
    return message("Quilt the top: {order}, unless you leave that out.", order=_order_said((*sewn, added)))


def marked_said(
    plan: QuiltingPlan, clear: Fraction, units: Units, *, echoed: bool, outlined: Outlined
) -> Iterator[Message]:
    """How lines are marked, and where they go: how far they stop short of the letters, or of what they are `outlined`
    with, where they miss them, and what they do where echoes are sewn too."""
    match plan.course:
        case Echoes():
            yield message(
                "Nothing to mark: set the guide bar of the walking foot to the distance, or use its edge."
            )
        case Ruled(spacing=spacing, letters=letters) as ruled:
            fields: dict[str, Field] = {"spacing": as_length(spacing, units)}
            if plan.outside_echoes or letters is OverLetters.MISS:
                yield messages(
                    "Mark the first line through the middle of the quilt, from edge to edge and over the letters too, "
                    "with the chalk pencil and a long ruler, and the others {spacing} from the one before. You measure "
                    "by what is marked over letters; you do not sew there. On long pieces the guide bar of the walking "
                    "foot keeps the distance too.",
                    "Mark the first line of each direction through the middle of the quilt, from edge to edge and over "
                    "the letters too, with the chalk pencil and a long ruler, and the others {spacing} from the one "
                    "before. You measure by what is marked over letters; you do not sew there. On long pieces the "
                    "guide bar of the walking foot keeps the distance too.",
                    len(ruled.angles_deg),
                    **fields,
                )
            else:
                yield messages(
                    "Mark the first line through the middle of the quilt, with the chalk pencil and a long ruler; sew "
                    "the others {spacing} from the one before, by the guide bar of the walking foot or by lines that "
                    "you mark.",
                    "Mark the first line of each direction through the middle of the quilt, with the chalk pencil and "
                    "a long ruler; sew the others {spacing} from the one before, by the guide bar of the walking foot "
                    "or by lines that you mark.",
                    len(ruled.angles_deg),
                    **fields,
                )
            yield from _slants_laid_said(ruled.angles_deg, units)
            yield _CHALK_OFF
            if plan.outside_echoes:
                yield _outside_said(units)
                return
            if letters is OverLetters.MISS:
                yield _short_of_said(clear, outlined, units)
            if echoed:
                yield message("They run over the echo lines.")
        case Waves() if plan.outside_echoes:
            yield _outside_said(units)
        case Waves(letters=OverLetters.MISS):
            yield _short_of_said(clear, outlined, units)
        case _:
            return


def _short_of_said(clear: Fraction, outlined: Outlined, units: Units) -> Message:
    """Where lines that miss the letters stop."""
    fields: dict[str, Field] = {"clear": as_length(clear, units), "least": as_length(SHORTEST, units)}
    match outlined:
        case Outlined.ALL:
            return message(
                "Stop {clear} short of the outlines of the letters, and go on behind them. A piece of line shorter "
                "than about {least} may be left out.",
                **fields,
            )
        case Outlined.SOME:
            return message(
                "Stop {clear} short of the letters, or of the outline of one that has it, and go on behind them. A "
                "piece of line shorter than about {least} may be left out.",
                **fields,
            )
        case Outlined.NONE:
            return message(
                "Stop {clear} short of the letters, and go on behind them. A piece of line shorter than about {least} "
                "may be left out.",
                **fields,
            )


_CHALK_OFF: Final = message(
    "Brush each line off as soon as it is sewn, and before the quilt is pressed: heat can set it. What stays comes "
    "out in the first wash."
)


def _outside_said(units: Units) -> Message:
    return message(
        "Sew these lines outside the echo lines only: each ends at the outermost of them. Mark them when the echo "
        "lines are sewn, for chalk rubs off. A piece of line shorter than about {least} may be left out.",
        least=as_length(SHORTEST, units),
    )


def echoes_said(
    plan: QuiltingPlan, spacing: Fraction, units: Units, *, outlined: Outlined, others: Sequence[QuiltingPlan]
) -> Iterator[Message]:
    """Where echoes `spacing` apart begin, and where they end: where the `others` go on that are sewn with them."""
    off, close = as_length(spacing, units), Fraction(closest_echoes(float(spacing)))
    match outlined:
        case Outlined.ALL:
            yield message("The first line lies {off} outside the outlines of the letters.", off=off)
        case Outlined.SOME:
            yield message(
                "The first line lies {off} outside the edges of the letters, or outside the outline of one that has "
                "it.",
                off=off,
            )
        case Outlined.NONE:
            yield message("The first line lies {off} outside the edges of the letters.", off=off)
    yield message(
        "Where the lines of two letters or rows would cross or come nearer than {close} to one another, they run "
        "together: sew one line around both, and turn in the notch between them. In a hole or an opening of a letter "
        "wider than {twice} they go inward, {off} from its "
        "edge and from one another, as long as there is room; leave out one that would be shorter than about {least}.",
        off=off,
        close=as_length(close, units, denominator=16),
        twice=as_length(2 * spacing + close, units, denominator=16),
        least=as_length(SHORTEST, units),
    )
    if plan.runs_off:
        yield message(
            "Where a line meets the edge of the quilt, let it run off, and start again where it comes back."
        )
    if others:
        yield _beyond_echoes_said(others)
    elif plan.further:
        yield message(
            "Go on with more lines until the quilt is filled, out to its edges, no farther apart than the maker "
            "of the batting allows. What it takes is figured with them: lines {off} apart, about {further} beyond "
            "those drawn.",
            off=off,
            further=as_run(plan.further, units),
        )


def _beyond_echoes_said(others: Sequence[QuiltingPlan]) -> Message:
    sewn = [one for one in others if not one.offered]
    first = (sewn or others)[0]
    kind = QUILTS[first.kind]
    if not sewn and len(others) > 1:
        return message("Sew these lines only: the kind that you choose next is for the rest of the quilt.")
    if not first.outside_echoes:
        return message(
            "Sew these lines only: {kind} runs over the rest of the quilt and over them.", kind=kind
        )
    if sewn:
        return message("Sew these lines only: {kind} fills the quilt outside them.", kind=kind)
    return message(
        "Sew these lines only: {kind} fills the quilt outside them. If you leave that out, sew more echo lines "
        "wherever what stays unquilted would be wider than the maker of the batting allows; the thread listed does not "
        "count those.",
        kind=kind,
    )


def mark_middle_said() -> Message:
    """How the middle is marked, so that it is found while quilting."""
    return message(
        "Thread-mark the center and the corners of the top before you baste: a few long stitches of the basting "
        "thread, to be pulled out once the quilt is trimmed."
    )
