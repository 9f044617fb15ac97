"""Trimming the quilt, sleeve, binding and label in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum, auto
from fractions import Fraction
from typing import Final

from applique.cloth import ClothUse
from applique.cutting import Lie
from applique.language import Field, Message, PageOf, listed, message, messages
from applique.quilt.finishing import (
    BindingPlan,
    BindingStart,
    SleevePlan,
)
from applique.quilt.strips import CutKind, Extent
from applique.quilt.whole import QuiltPlan
from applique.units import (
    Units,
    as_available,
    as_length,
    as_needed,
    as_run,
    as_seam,
    as_size,
    cutting_step,
    round_up,
)
from applique.words.cloth import use_how
from applique.words.cutting import size_said
from applique.words.instructions.sizes import by_said

__all__ = [
    "ALL_AROUND",
    "BACK",
    "BACK_SEEN",
    "BASTED",
    "BATTING_SEEN",
    "BIAS_CUT",
    "BIAS_SEEN",
    "BIAS_SEWN",
    "BIAS_TUBE",
    "BINDING",
    "BINDING_SEEN",
    "CAUGHT",
    "CORNERS_SEEN",
    "CURVES",
    "DOWN_SEEN",
    "ENDS_JOINED",
    "ENDS_SEEN",
    "FINISHING",
    "FOLD",
    "FOLDED_EDGE",
    "FOLD_DOWN",
    "FOLD_UP",
    "FRONT",
    "HANGING",
    "JOIN_SEEN",
    "LABEL",
    "LABELED",
    "LABEL_FILE",
    "LABEL_PAGE",
    "LABEL_SEEN",
    "LOWER_EDGE",
    "LOW_SEWN",
    "MEASURED_SEEN",
    "MIDDLES",
    "OPEN_END",
    "OUTSIDE",
    "PRESS_SEEN",
    "QUILT_EDGE",
    "RAW_EDGES",
    "ROD",
    "RULER",
    "SEAM_SEEN",
    "SEWN_BY_HAND",
    "SEWN_DOWN",
    "SEW_CURVED_SEEN",
    "SEW_LABEL",
    "SEW_SEEN",
    "SLEEVE",
    "SLEEVE_LAYERS",
    "SLEEVE_LOW",
    "SLEEVE_SEEN",
    "SQUARE_SEEN",
    "SQUARE_UP",
    "START",
    "STITCHED_DOWN",
    "STOP",
    "TRIMMED",
    "UNMARK",
    "Sleeve",
    "Strip",
    "basted_off_said",
    "beside_sleeve_said",
    "bias_said",
    "binding_length_said",
    "binding_said",
    "curved_edge_said",
    "down_said",
    "drawn_in_said",
    "ends_said",
    "free_said",
    "hung_by_pockets_said",
    "hung_by_sleeve_said",
    "join_said",
    "low_said",
    "measures_said",
    "miter_said",
    "press_said",
    "pressed_said",
    "rod_said",
    "sew_on_said",
    "short_of_cut_said",
    "side_sewn_said",
    "sleeve_basted_said",
    "sleeve_pinned_said",
    "sleeve_said",
    "square_said",
    "why_strips_said",
]

FINISHING: Final = message("Finishing")

# A top alone

TOP_DONE: Final = message("The finished top")
TOP_PRESSED: Final = message("Top pressed and measured")
HAND_ON: Final = message("For whoever quilts it")


def top_said(quilt: QuiltPlan, off: Fraction, units: Units) -> tuple[Message, ...]:
    """What is done to a top that somebody else quilts, stitched around `off` its edge, and what it measures."""
    return (
        message(
            "Press the top, clip the threads on its wrong side, and stitch once around it, {off} from its edge, so "
            "that no seam opens before it is quilted.",
            off=as_seam(off, units),
        ),
        message(
            "It measures {raw} from raw edge to raw edge, and {finished} when it is finished.",
            raw=by_said(quilt.trimmed, units),
            finished=by_said(quilt.finished, units),
        ),
    )


def hand_on_said(quilt: QuiltPlan, units: Units) -> Message:
    """What a top still takes, in sizes."""
    return message(
        "No backing, batting, quilting or binding is reckoned in this pattern. As a rule the backing measures at least "
        "{backing}, the batting at least {batting}, and the binding {around} once around; ask whoever quilts it.",
        backing=by_said((quilt.backing.width, quilt.backing.height), units),
        batting=by_said((quilt.batting.width, quilt.batting.height), units, as_needed),
        around=as_run(quilt.edge.length, units),
    )


# An edge without a binding

EDGE: Final = message("The edge")
EDGE_DONE: Final = message("Edge finished")
CAUGHT_AT_EDGE: Final = message("sewn in with the edge")


def own_edge_said(seam: Fraction, units: Units) -> Message:
    """That no binding is cut."""
    return message(
        "No binding is reckoned in this pattern: finish the edge your own way, with a seam allowance of {seam}.",
        seam=as_seam(seam, units),
    )


# Trimming

SQUARE_UP: Final = message("Square up and trim")
MEASURED_SEEN: Final = message(
    "The quilted quilt with the cut measured from its center to all sides, to scale"
)
SQUARE_SEEN: Final = message("A square ruler on a corner of the quilted quilt, and the cut along it")
RULER: Final = message("ruler")
OUTSIDE: Final = message("cut off")
UNMARK: Final = message("Now pull out the basting thread that marks the center and the corners of the top.")
TRIMMED: Final = message("Quilt squared up and trimmed")


def square_said(from_seam: Fraction | None, trimmed: Extent, units: Units, *, reached: bool) -> Message:
    """How the quilt is squared up; `from_seam` is how far the cut runs outside the last seam, if there is one. What it
    is measured from is `reached` by a square ruler that lies on the corner, or it is not."""
    if not reached:
        return message(
            "Quilting draws a quilt in and pulls it out of square. Lay it flat, the top up. With a tape measure mark "
            "{half_width} to the left and to the right of the center that you thread-marked, and {half_height} above "
            "and below it, each in several places; join the marks with a long ruler and the chalk pencil. Check the "
            "corners with a square ruler, and that both diagonals are alike, before you trim top, batting and backing "
            "together along the lines.",
            half_width=as_size(trimmed[0] / 2, units),
            half_height=as_size(trimmed[1] / 2, units),
        )
    if from_seam is None:
        return message(
            "Quilting draws a quilt in and pulls it out of square. Lay it flat, the top up. Set a large square ruler "
            "on a corner, measure {half_width} and {half_height} from the middle of the quilt to the cuts, and trim "
            "top, batting and backing together, corner by corner.",
            half_width=as_size(trimmed[0] / 2, units),
            half_height=as_size(trimmed[1] / 2, units),
        )
    return message(
        "Quilting draws a quilt in and pulls it out of square. Lay it flat, the top up. Set a large square ruler on a "
        "corner, with its lines along the seams of the last border and its edges {from_seam} outside them, and trim "
        "top, batting and backing together, corner by corner.",
        from_seam=as_size(from_seam, units),
    )


def measures_said(
    finished: Extent, trimmed: Extent, seam: Fraction, over: Fraction, units: Units, *, bound: bool
) -> tuple[Message, ...]:
    """What the trimmed quilt measures, and where that is beside the edge of the top, which reaches `over` further (less
    than 0: not so far)."""
    fields: dict[str, Field] = {
        "trimmed": by_said(trimmed, units),
        "finished": by_said(finished, units),
        "seam": as_seam(seam, units),
    }
    measures = (
        message(
            "It should measure {trimmed} now, with square corners and both diagonals alike: the finished {finished} "
            "and {seam} on every side, which the binding takes.",
            **fields,
        )
        if bound
        else message(
            "It should measure {trimmed} now, with square corners and both diagonals alike: the finished {finished} "
            "and {seam} on every side, for the seam of the edge.",
            **fields,
        )
    )
    if over == 0:
        return (
            measures,
            message("So the cut runs right along the raw edge of the top, and takes nothing off it."),
        )
    if over > 0:
        inside = message("So the cut runs {over} inside the raw edge of the top.", over=as_size(over, units))
        return (measures, inside)
    beyond = message(
        "So the cut runs {over} outside the raw edge of the top: that much of the batting and the backing stays, to "
        "fill the binding.",
        over=as_size(-over, units),
    )
    return (measures, beyond)


def short_of_cut_said(over: Fraction, units: Units) -> Message:
    """What to do where the edge of the top has drawn in, so that it does not reach as far as it should beside the cut,
    beyond which it reaches by `over` (less than 0: of which it falls so far short)."""
    if over < 0:
        return message(
            "Where the top has drawn in, and its raw edge lies more than {over} inside the cut, move the cut in, on "
            "that whole side and as far on the opposite one: the seam of the edge has to catch the top everywhere.",
            over=as_size(-over, units),
        )
    return message(
        "Where the top has drawn in, and its raw edge lies inside the cut, move the cut in to it, on that whole side "
        "and as far on the opposite one: the seam of the edge has to catch the top everywhere."
    )


def drawn_in_said(
    top: Extent, spare: Fraction | None, inset: Fraction | None, units: Units, *, bends: bool
) -> tuple[Message, ...]:
    """What to do if the quilt is smaller than its `top` was: `spare` is how much longer than its edge the binding is
    and `inset` how far the ends of a sleeve are from its sides, each if it has one. An edge that `bends` is marked, not
    measured."""
    block = message(
        "Before you trim, measure the quilt through its middle, across and down: the top was {top} before it was "
        "quilted. If it is smaller now, block it: unless its fabrics bleed, dampen it, lay it flat, ease it to size "
        "with its corners square, pin it to a carpet with clean towels under it, and let it dry.",
        top=by_said(top, units),
    )
    trim = _smaller_said(spare, units, bends=bends)
    if inset is None:
        return block, trim
    sleeve = _SLEEVE_KEPT if spare is not None else _SLEEVE_KEPT_UNBOUND
    return block, trim, sleeve.filled(inset=as_length(inset, units))


_SLEEVE_KEPT: Final = message(
    "The hanging sleeve keeps its size too: its ends lie {inset} from the sides, less half of what the quilt lacks "
    "in width. Only if they would reach the binding, cut it shorter."
)
_SLEEVE_KEPT_UNBOUND: Final = message(
    "The hanging sleeve keeps its size too: its ends lie {inset} from the sides, less half of what the quilt lacks "
    "in width. Only if they would reach the seam of the edge, cut it shorter."
)


def _smaller_said(spare: Fraction | None, units: Units, *, bends: bool) -> Message:
    """How a quilt is trimmed that stays too small."""
    if spare is None:
        return (
            message(
                "What it lacks even then does no harm: mark its edge further in, as much on opposite sides, and run "
                "the curves smoothly into one another."
            )
            if bends
            else message(
                "What it lacks even then does no harm: trim it to the largest rectangle with square corners that it "
                "holds, as much off opposite sides, instead of the size that the next steps say."
            )
        )
    return (
        message(
            "What it lacks even then does no harm: mark its edge further in, as much on opposite sides, and run the "
            "curves smoothly into one another. The binding is {spare} longer than the edge of the finished quilt, and "
            "a smaller one takes less of it.",
            spare=as_available(spare, units),
        )
        if bends
        else message(
            "What it lacks even then does no harm: trim it to the largest rectangle with square corners that it "
            "holds, as much off opposite sides, instead of the size that the next steps say. The binding is {spare} "
            "longer than the edge of the finished quilt, and a smaller one takes less of it.",
            spare=as_available(spare, units),
        )
    )


def curved_edge_said(seam: Fraction, units: Units, *, bound: bool) -> Message:
    """How a quilt with a curved edge is trimmed."""
    if not bound:
        return message(
            "Mark the edge of the quilt, and trim top, batting and backing together {seam} outside the mark, for the "
            "seam of the edge.",
            seam=as_seam(seam, units),
        )
    return message(
        "Mark the edge of the quilt, and trim top, batting and backing together {seam} outside the mark, which the "
        "binding takes.",
        seam=as_seam(seam, units),
    )


# Sleeve

SLEEVE: Final = message("Hanging sleeve")
LOWER_EDGE: Final = message("Lower edge of the hanging sleeve")
HANGING: Final = message("If it is to hang on a wall")
SLEEVE_SEEN: Final = message(
    "The back of the quilt to scale with the sleeve pinned along its top edge, and a corner of it enlarged: the sleeve "
    "is a tube, its raw edges lie along the raw edge of the quilt, its ends are open"
)
RAW_EDGES: Final = message("raw edges of both, together")
OPEN_END: Final = message("open end: the rod goes in here")
FOLDED_EDGE: Final = message("fold")


def hung_by_pockets_said(square: Fraction, shorter: Fraction, units: Units) -> Message:
    """How a small quilt without a sleeve is hung: from two pockets folded from squares of `square` inches, that hold a
    rod so many inches `shorter` than it is wide."""
    return message(
        "This quilt has no hanging sleeve. Two pockets in its upper corners hold a flat rod instead: fold two squares "
        "of {square} from corner to corner, wrong sides together, lay one into each upper corner of the back, its raw "
        "edges along those of the quilt, and baste them there now. The binding is sewn over them. Cut the rod "
        "{shorter} shorter than the finished quilt is wide.",
        square=as_length(square, units),
        shorter=as_length(shorter, units),
    )


def hung_by_sleeve_said(sleeve: SleevePlan, slack: Fraction, units: Units) -> Message:
    """How a quilt too wide for pockets is hung, though no fabric was figured for its `sleeve`."""
    return message(
        "This quilt has no hanging sleeve, and its fabric is not in the list. To make one, hem both ends of a strip "
        "{size}, {hem} at each, fold it lengthwise, wrong sides together, and baste its raw edges now "
        "to those of the top edge on the back, in the middle. The binding is sewn over them. At last leave the outer "
        "layer loose, with room for the rod, and sew the one next to the quilt to the backing, {slack} above the "
        "lower fold, by hand.",
        size=size_said(sleeve.cut_depth, sleeve.cut_length, units, as_size),
        hem=as_seam(sleeve.hem, units),
        slack=as_length(slack, units),
    )


def basted_off_said(off: Fraction, units: Units) -> Message:
    """How far from the edge a sleeve is basted."""
    return message("basted {off} from the edge", off=as_seam(off, units))


SLEEVE_LAYERS: Final = message("sleeve, two layers")
SLEEVE_LOW: Final = message(
    "The sleeve from its end: the layer next to the quilt sewn down a little above the fold, the other with slack "
    "around the rod"
)
BASTED: Final = message("Sleeve made and basted on")
LOW_SEWN: Final = message("Lower edge of the sleeve sewn down")
CAUGHT: Final = message("sewn in with the binding")
ROD: Final = message("rod")
SEWN_BY_HAND: Final = message("sewn by hand")
QUILT_EDGE: Final = message("quilt")
BACK_SEEN: Final = message("back of the quilt")


def beside_sleeve_said(size: str) -> Message:
    """Between two short measures in a drawing: how far the sleeve is from either side."""
    return message("{size} at each end", size=size)


class Sleeve(Enum):
    """What a sleeve is made of: strips joined when they were cut, a strip longer than it, or a piece of its size."""

    JOINED = auto()
    LONGER = auto()
    WHOLE = auto()


_MADE: Final = {
    Sleeve.JOINED: message("Take {pieces}, joined and cut to {size} when you cut the fabric."),
    Sleeve.LONGER: message("Take {pieces} and cut it to {size}."),
    Sleeve.WHOLE: message("Take {pieces}, {size}."),
}


def sleeve_said(
    sleeve: SleevePlan, pieces: Sequence[Field], made: Sleeve, units: Units
) -> tuple[Message, ...]:
    """How the hanging sleeve is made of the `pieces` that were cut for it."""
    fields: dict[str, Field] = {
        "pieces": listed(pieces),
        "size": size_said(sleeve.cut_depth, sleeve.cut_length, units, as_size),
    }
    return (
        _MADE[made].filled(**fields),
        message(
            "At both short ends turn {half} under twice and sew the hem: it is {length} long now. Fold it in half "
            "lengthwise, wrong sides together, and press.",
            half=as_size(sleeve.hem / 2, units),
            length=as_size(sleeve.length, units),
        ),
    )


def sleeve_pinned_said(inset: Fraction, units: Units, *, bound: bool) -> Message:
    """How the sleeve is pinned to the back before the quilt is bound."""
    if not bound:
        return message(
            "Before you finish the edge, pin the sleeve to the back, its raw edges along the top edge of the quilt, "
            "centered: about {inset} from either side.",
            inset=as_length(inset, units),
        )
    return message(
        "Before you bind the quilt, pin the sleeve to the back, its raw edges along the top edge of the quilt, "
        "centered: about {inset} from either side.",
        inset=as_length(inset, units),
    )


def sleeve_basted_said(off: Fraction, units: Units, *, bound: bool) -> Message:
    """How the sleeve is basted on: the binding is sewn from the front, where pins behind are not seen."""
    if not bound:
        return message(
            "Baste it by machine {off} from the edge and take all its pins out before you finish the edge, whose seam "
            "catches the sleeve.",
            off=as_seam(off, units),
        )
    return message(
        "Baste it by machine {off} from the edge and take all its pins out before you sew the binding from the front. "
        "The seam of the binding catches the sleeve.",
        off=as_seam(off, units),
    )


def low_said(slack: Fraction, units: Units) -> Message:
    """How the lower edge of the sleeve is sewn once the quilt is bound."""
    return message(
        "Smooth the sleeve down flat. Bend its lower fold up toward you, and pin the layer next to the quilt to the "
        "backing along a line {slack} above that fold. Sew this layer to the backing by hand along the line and at "
        "both ends. The other layer stays loose below the line: that is the room for the rod, so that the front hangs "
        "flat. Leave the ends of the tube open, and let no stitch show on the front.",
        slack=as_length(slack, units),
    )


def rod_said(rod: Fraction, thick: Fraction, units: Units) -> Message:
    """Which `rod` goes into the sleeve, and how it is hung; no thicker than `thick`."""
    return message(
        "For the rod take a round or flat piece of wood no more than about {thick} thick, sanded smooth and {length} "
        "long: longer than the sleeve, shorter than the quilt is wide. Its two ends lie on hooks or nails in the wall "
        "that hold its weight, and stay hidden behind the quilt.",
        thick=as_length(thick, units),
        length=as_length(rod, units),
    )


# Binding

BINDING: Final = message("Binding")
BIAS_SEEN: Final = message(
    "A square cut from corner to corner, sewn into a parallelogram with lines on it, and sewn into a tube"
)
JOIN_SEEN: Final = message(
    "Two strips right sides together at a right angle, sewn from corner to corner, the corner trimmed off"
)
PRESS_SEEN: Final = message("The binding folded in half lengthwise, to scale")
SEW_SEEN: Final = message(
    "The whole side of the quilt on which the binding starts, that side above: the first stitch past the middle of the "
    "side, the tail left free, and the seam toward the next corner"
)
SEW_CURVED_SEEN: Final = message(
    "The folded binding along the edge of the quilt, raw edges together: the tail left free before the first stitch"
)
MIDDLES: Final = {
    BindingStart.BOTTOM: message("bottom edge, its middle"),
    BindingStart.LEFT: message("left edge, its middle"),
}
CORNERS_SEEN: Final = message("A corner in three pictures: stop, fold up, fold down")
ENDS_SEEN: Final = message(
    "The ends overlap by the width of the strip; then they are sewn together at a right angle, from corner to corner"
)
DOWN_SEEN: Final = message("The edge of the quilt cut across: the binding goes around it to the back")
STOP: Final = message("1. Stop")
FOLD_UP: Final = message("2. Fold up")
FOLD_DOWN: Final = message("3. Fold down")
START: Final = message("start to sew here")
FOLD: Final = message("fold")
FRONT: Final = message("front")
BACK: Final = message("back")
SEAM_SEEN: Final = message("seam")
BINDING_SEEN: Final = message("binding")
BATTING_SEEN: Final = message("batting")
SEWN_DOWN: Final = message("stitched down")
BIAS_CUT: Final = message("1. Cut")
BIAS_SEWN: Final = message("2. Sew, draw lines")
BIAS_TUBE: Final = message("3. Sew into a tube")
CURVES: Final = message(
    "Ease the bias around the curves without stretching it; take more pins there and sew slowly."
)


class Strip(Enum):
    """What the strip of a binding is: strips joined, one strip as it was cut, or bias cut around a tube."""

    JOINED = auto()
    ONE = auto()
    BIAS = auto()


def binding_said(binding: BindingPlan, use: ClothUse, pieces: Sequence[Field], units: Units) -> Message:
    """What of its fabric the binding is made of; of bias also how wide and how long the strip has to be."""
    if binding.cut.kind is CutKind.BIAS_SQUARE:
        return message(
            "Take {pieces}, of {fabric}: {how}, {width} wide; it gives {gives}, and {run} are needed.",
            pieces=listed(pieces),
            fabric=binding.cut.fabric,
            how=use_how(use, units),
            width=as_size(binding.width, units),
            gives=as_available(binding.gives or binding.needed, units),
            run=as_needed(binding.needed, units),
        )
    return message(
        "Take {pieces}, of {fabric}: {how}.",
        pieces=listed(pieces),
        fabric=binding.cut.fabric,
        how=use_how(use, units),
    )


def binding_length_said(binding: BindingPlan, units: Units) -> Message:
    """How long the binding has to be: once around the quilt, and what corners and joined ends take."""
    around = round_up(binding.around, cutting_step(units))
    return message(
        "Once around the finished quilt is {around}; corners and joined ends are given {more} more: {run}.",
        around=as_needed(around, units),
        more=as_size(binding.needed - around, units),
        run=as_size(binding.needed, units),
    )


def why_strips_said(binding: BindingPlan, use: ClothUse, units: Units) -> Message | None:
    """Why the binding takes more strips across the whole fabric than the quick rule says; None where it does not."""
    whole = sum(one.count for one in use.strips if one.length == binding.usable_width)
    if len(use.joined) != 1 or use.strips[0].lie is Lie.ALONG or whole < use.joined[0].strips - 1:
        return None
    strips = use.joined[0].strips
    if strips <= binding.quick_strips:
        return None
    why = messages(
        "the quick rule, {run} ÷ {width}, says {simple}; each diagonal join uses up {loss}, "
        "so {count} strip is needed",
        "the quick rule, {run} ÷ {width}, says {simple}; each diagonal join uses up {loss}, "
        "so {count} strips are needed",
        strips,
        run=as_size(binding.needed, units),
        width=as_available(binding.usable_width, units),
        simple=binding.quick_strips,
        loss=as_size(binding.width, units),
    )
    return message("Why {count}: {why}.", count=strips, why=why)


def bias_said(binding: BindingPlan, seam_allowance: Fraction, units: Units) -> tuple[Message, ...]:
    """How a square becomes one strip of bias."""
    return (
        message(
            "Cut the square of {side} once from corner to corner. Lay the triangles right sides together so that two "
            "straight sides meet, sew them with a seam allowance of {seam}, and press the seam open: a parallelogram.",
            side=as_size(binding.cut.strip_width, units),
            seam=as_seam(seam_allowance, units),
        ),
        message(
            "On its wrong side draw lines {width} apart along the slanting bias edges, and trim off what is left "
            "beyond the last.",
            width=as_size(binding.width, units),
        ),
        message(
            "Bring the straight edges right sides together into a tube, one line moved on so that the first line meets "
            "the second; pin line to line a seam allowance inside the edge, sew, and press the seam open. Cut along "
            "the line, around and around, into one strip.",
        ),
    )


def join_said(strips: int, seam_allowance: Fraction, units: Units) -> Message:
    """How the strips of a binding are joined."""
    return messages(
        "Join {count} strip.",
        "Join the {count} strips end to end: lay two right sides together at a right angle, sew from corner to corner, "
        "trim to {seam}, and press the seam open. Every join is a slant, so that the binding stays thin.",
        strips,
        seam=as_seam(seam_allowance, units),
    )


def press_said(binding: BindingPlan, units: Units) -> Message:
    """How the binding is pressed."""
    return message(
        "Press the strip in half lengthwise, wrong sides together: {half} wide.",
        half=as_size(binding.width / 2, units),
    )


def free_said(binding: BindingPlan, units: Units) -> Message:
    """What hangs free of a binding before its first stitch."""
    return message("{tail} left free", tail=as_size(binding.tail, units))


def sew_on_said(binding: BindingPlan, units: Units) -> Message:
    """Where the binding begins, and how it is sewn on."""
    return message(
        "{start} Leave the first {tail} of the binding free. Lay its raw edges along the edge of the quilt and sew "
        "through all layers with a seam allowance of {seam}.",
        start=_START[binding.start].filled(
            past=as_length(binding.gap / 2, units), corners=as_length(binding.to_corners, units)
        ),
        tail=as_size(binding.tail, units),
        seam=as_seam(binding.seam, units),
    )


_START: Final = {
    BindingStart.BOTTOM: message(
        "Start on the front of the quilt at its bottom edge, about {past} past the middle in the direction in which "
        "you sew: the gap for the ends then lies in the middle of a long side, {corners} from both corners."
    ),
    BindingStart.LEFT: message(
        "Start on the front of the quilt at its left edge, about {past} past the middle in the direction in which you "
        "sew: the gap for the ends then lies in the middle of a long side, {corners} from both corners."
    ),
    BindingStart.STRAIGHTEST: message(
        "Start on the front of the quilt, where its edge is straightest, away from corners."
    ),
}


def miter_said(binding: BindingPlan, units: Units) -> Message:
    """How a corner of the binding is mitered."""
    return message(
        "Miter the corners: stop {seam} before the edge, backstitch, and cut the threads. Turn the quilt. Fold the "
        "binding straight up, so that a slanting fold lies at the corner, then straight down, its fold even with the "
        "edge just sewn. Start again at that edge.",
        seam=as_seam(binding.seam, units),
    )


def ends_said(binding: BindingPlan, strip: Strip, seam_allowance: Fraction, units: Units) -> Message:
    """How the ends of the binding are joined."""
    fields: dict[str, Field] = {
        "gap": as_size(binding.gap, units),
        "width": as_size(binding.width, units),
        "seam": as_seam(seam_allowance, units),
    }
    if strip is Strip.JOINED:
        return message(
            "Join the ends: stop {gap} before the first stitch. Lay both ends along the gap and cut them so that they "
            "overlap by {width}, the cut width of the strip. Open them, lay them right sides together at a right "
            "angle, and sew from corner to corner, as you joined the strips. See that it lies flat, trim to {seam}, "
            "press the seam open, fold the binding again, and sew the gap.",
            **fields,
        )
    return message(
        "Join the ends: stop {gap} before the first stitch. Lay both ends along the gap and cut them straight across, "
        "so that they overlap by {width}, the cut width of the strip. Open them, lay them right sides together at a "
        "right angle, and sew from corner to corner: the seam is a slant. See that it lies flat, trim to {seam}, press "
        "the seam open, fold the binding again, and sew the gap.",
        **fields,
    )


def down_said(binding: BindingPlan, units: Units, *, sleeve: bool) -> Iterator[Message]:
    """How the binding is stitched down on the back, which a `sleeve` may lie on, and how far it reaches there.

    Source:
        A fold that covers the seam lies farther in than it, so that a machine line beside the fold comes out inside the
        binding: geometry.
    """
    yield message(
        "Fold the binding around the edge to the back, so that it is full of batting and its fold covers the seam. At "
        "each corner fold a miter on the back too. Stitch it down by hand with a blind stitch that catches the back "
        "alone: nothing shows on the front."
    )
    if binding.past_seam:
        yield message(
            "With low batting it covers {whole} of the back, {past} of that past the seam; thicker batting takes from "
            "that.",
            whole=as_length(binding.past_seam + binding.seam, units, denominator=16),
            past=as_length(binding.past_seam, units, denominator=16),
        )
    yield message(
        "By machine, from the back and close to the fold, it shows: the line runs on the front of the quilt, as far "
        "inside the binding as the fold lies beyond the seam. Stick pins through from the back and look where that is, "
        "before you choose."
    )
    if sleeve:
        yield message(
            "Along the hanging sleeve stitch by hand in any case, to the layer on top: a machine would sew through the "
            "whole sleeve."
        )


_PRESSED: Final = {
    Strip.JOINED: message("Binding joined and pressed in half"),
    Strip.ONE: message("Binding pressed in half"),
    Strip.BIAS: message("Binding cut into one bias strip and pressed in half"),
}
ENDS_JOINED: Final = message("Ends of the binding joined")
STITCHED_DOWN: Final = message("Binding stitched down on the back")
ALL_AROUND: Final = message("Binding sewn on all around")


def pressed_said(strip: Strip) -> Message:
    """The binding made, to be ticked off."""
    return _PRESSED[strip]


def side_sewn_said(number: int) -> Message:
    """One side of the binding, to be ticked off."""
    return message("Binding sewn on, side {number}", number=number)


# Label

LABEL: Final = message("Label")
LABEL_SEEN: Final = message("The back of the quilt with the label in a lower corner, to scale")
LABEL_FILE: Final = message(
    "quilt-label.pdf has the label, and a spare one: trace it onto fabric with a pen made for it, or print it on "
    "fabric made for printing; or write one of your own. Fill in its lines: who made the quilt, for whom, where and "
    "when."
)
LABEL_PAGE: Final = message(
    "The label, and a spare one, are on {page}: trace it onto fabric with a pen made for it, or print it on fabric "
    "made for printing; or write one of your own. Fill in its lines: who made the quilt, for whom, where and when.",
    page=PageOf(title=LABEL),
)
SEW_LABEL: Final = message(
    "Sew it to the back before you give the quilt away: turn its edges under, and stitch it by hand to a lower corner, "
    "through the backing only."
)
LABELED: Final = message("Label sewn on")
