"""Backing, batting, binding, sleeve and label in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from applique.cloth import ClothUse
from applique.cutting import Lie
from applique.language import Message, listed, message, messages
from applique.leftovers import Leftover, LeftoverBacking, MixedBacking
from applique.quilt.finishing import SLEEVE_HEM, BackingPlan, BattingPlan, BindingPlan, SleevePlan
from applique.quilt.strips import CutKind
from applique.units import Units, as_available, as_length, as_needed, as_size
from applique.words.buying import BATTINGS, leftovers_said
from applique.words.cloth import use_how
from applique.words.instructions.sizes import by_said

__all__ = [
    "BINDING",
    "BIND_IT",
    "LABEL",
    "LAYERING",
    "LAYER_IT",
    "SEW_LABEL",
    "SLEEVE",
    "backing_row_said",
    "backing_said",
    "batting_said",
    "binding_said",
    "from_leftovers_said",
    "mixed_said",
    "sleeve_said",
    "why_strips_said",
]

LAYERING: Final = message("Layering and quilting")
LAYER_IT: Final = message(
    "Lay the backing wrong side up, the batting and the top on it, smooth them and baste; quilt as you like."
)
BINDING: Final = message("Binding")
BIND_IT: Final = message(
    "Press it in half lengthwise, sew it to the front with its raw edges on the edge of the quilt, miter the corners, "
    "fold it to the back and stitch it down."
)
SLEEVE: Final = message("Hanging sleeve")
LABEL: Final = message("Label")
SEW_LABEL: Final = message(
    "quilt-label.pdf has the label, to trace or to print on fabric. Sew it to the back before you give the quilt away."
)


def backing_said(backing: BackingPlan, use: ClothUse | None, units: Units) -> Message:
    """The backing: its size, and how it is pieced if cloth is cut for it."""
    size = by_said((backing.width, backing.height), units)
    if use is None:
        return message("Backing {size}.", size=size)
    return message("Backing {size}: {how}.", size=size, how=use_how(use, units))


def from_leftovers_said(back: LeftoverBacking, units: Units) -> Message:
    """Whether what is left over makes the back."""
    return message("From what is left over: {words}.", words=leftovers_said(back, units))


def mixed_said(mixed: MixedBacking, units: Units) -> Message:
    """How the strip that widens bought lengths is pieced from leftovers."""
    return message(
        "From what is left over, piece a strip end to end: {pieces}. Trim it to {width} by {length} and sew it to a "
        "long side; it saves {saved} of fabric.",
        pieces=listed(_leftover(piece, units) for piece in mixed.strip),
        width=as_needed(mixed.way.widened, units),
        length=as_needed(mixed.way.along, units),
        saved=as_length(mixed.saved, units),
    )


def _leftover(piece: Leftover, units: Units) -> Message:
    size = by_said((max(piece.length, piece.width), min(piece.length, piece.width)), units, as_available)
    return message("{fabric} {size}", fabric=piece.fabric, size=size)


def backing_row_said(number: int, row: Sequence[Leftover], units: Units) -> Message:
    """One row of a backing pieced from leftovers, the longer side of each piece first."""
    pieces = (_leftover(piece, units) for piece in row)
    return message("Row {number}: {pieces}.", number=number, pieces=listed(pieces))


def batting_said(batting: BattingPlan, units: Units) -> Message:
    """The batting: how large it has to be, and the size that is sold."""
    return message(
        "Batting at least {size}: {name}.",
        size=by_said((batting.width, batting.height), units, as_needed),
        name=BATTINGS[batting.name],
    )


def binding_said(binding: BindingPlan, use: ClothUse, units: Units) -> Message:
    """What of its fabric the binding is made of; of bias also how wide and how long the strip has to be."""
    if binding.cut.kind is CutKind.BIAS_SQUARE:
        return message(
            "From {fabric}: {how}, {width} wide; {run} are needed.",
            fabric=binding.cut.fabric,
            how=use_how(use, units),
            width=as_size(binding.width, units),
            run=as_needed(binding.needed, units),
        )
    return message("From {fabric}: {how}.", fabric=binding.cut.fabric, how=use_how(use, units))


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


def sleeve_said(sleeve: SleevePlan, units: Units) -> Message:
    """How the hanging sleeve is cut and sewn."""
    return message(
        "Cut {size}, hem the short ends {hem}, fold it in half lengthwise and sew it into the top binding seam.",
        size=by_said((sleeve.cut_length, sleeve.cut_depth), units),
        hem=as_length(SLEEVE_HEM, units),
    )
