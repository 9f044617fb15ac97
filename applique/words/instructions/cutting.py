"""Cutting, fabric by fabric, in words. Lengths are in `units`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Final

from applique.cloth import ClothUse, UseKind
from applique.language import Listing, Message, listed, message, messages
from applique.leftovers import Leftover
from applique.panel import PanelPlan
from applique.quilt.panel_cut import FoldCut, SeamPlan
from applique.quilt.strips import ClothCut, CutKind
from applique.units import Units, as_available, as_seam, as_size
from applique.words.cloth import side_by_side_said, use_how
from applique.words.instructions.sizes import by_said
from applique.yardage import StripNeed

__all__ = [
    "CHECK_FOLDED",
    "CUTTING",
    "UNWASHED",
    "WASH_FIRST",
    "cut_said",
    "fold_said",
    "leftovers_of_said",
    "panel_said",
    "seam_allowance_said",
    "seam_said",
]

CUTTING: Final = message("Cutting, fabric by fabric")
WASH_FIRST: Final = message(
    "Wash and press the fabric first. Cut in the order of the numbers, each cut from edge to edge."
)
UNWASHED: Final = message(
    "Press the fabric, unwashed. Cut in the order of the numbers, each cut from edge to edge."
)
CHECK_FOLDED: Final = message("If the panel is larger than your mat, cut it as drawn, then check it folded:")
_CUT_FOR: Final = {
    UseKind.BACKING: message("Backing: {how}."),
    UseKind.BINDING: message("Binding: {how}."),
    UseKind.SLEEVE: message("Hanging sleeve: {how}."),
}


def leftovers_of_said(pieces: Iterable[Leftover], units: Units) -> Message:
    """What is left of a fabric."""
    return message(
        "Left over: {sizes}.",
        sizes=listed(by_said((piece.width, piece.length), units, as_available) for piece in pieces),
    )


def seam_allowance_said(seam_allowance: Fraction, units: Units) -> Message:
    """How wide the seams are, and that sizes to cut have them."""
    return message(
        "Sew with a seam allowance of {seam}; every size to cut has it on all sides.",
        seam=as_seam(seam_allowance, units),
    )


def cut_said(use: ClothUse, letters: Mapping[str, str], units: Units) -> Message:
    """How one use is cut, behind the letters that its pieces have in the drawing of its fabric."""
    pieces = listed([letters[key] for key in use.keys])
    return message("{pieces}: {said}", pieces=pieces, said=_cut(use, units))


def _cut(use: ClothUse, units: Units) -> Message:
    if isinstance(use.cut, StripNeed):
        sizes = listed(
            message(
                "{count} × {size}",
                count=one.count,
                size=by_said((one.width, one.length), units, as_available),
            )
            for one in use.strips
        )
        if not use.cut.joined:
            return message("Letters: set aside {sizes}; see “Lettering”.", sizes=sizes)
        pieces = listed(side_by_side_said(one, units) for one in use.cut.joined)
        return message(
            "Letters: set aside {sizes}; see “Lettering”. First {pieces}.", sizes=sizes, pieces=pieces
        )
    how = use_how(use, units)
    if use.kind is UseKind.BORDER:
        return _border_cut(use, how)
    return _CUT_FOR[use.kind].filled(how=how)


def _border_cut(use: ClothUse, how: Message) -> Message:
    number = use.border or 0
    match use.cut:
        case ClothCut(kind=CutKind.CORNERSTONES):
            return message("Border {number}, cornerstones: {how}.", number=number, how=how)
        case ClothCut(kind=CutKind.SQUARES):
            return message("Border {number}, squares: {how}.", number=number, how=how)
        case ClothCut(kind=CutKind.RECTANGLES):
            return message("Border {number}, rectangles: {how}.", number=number, how=how)
        case _:
            return message("Border {number}, border strips: {how}.", number=number, how=how)


def panel_said(panel: PanelPlan, use: ClothUse, letters: Mapping[str, str], units: Units) -> Message:
    """The size of the panel, cut and finished, and how it lies on its fabric."""
    across, down = (as_size(side, units) for side in (panel.cut_width, panel.cut_height))
    if panel.trim:
        return message(
            "{pieces}: Panel: cut one, {width} wide and {height} high, to trim to {trimmed} after stitching "
            "(finished {finished}); {how}.",
            pieces=listed([letters[key] for key in use.keys]),
            width=across,
            height=down,
            trimmed=by_said(panel.trimmed, units),
            finished=by_said((panel.width, panel.height), units),
            how=use_how(use, units),
        )
    return message(
        "{pieces}: Panel: cut one, {width} wide and {height} high (finished {finished}); {how}.",
        pieces=listed([letters[key] for key in use.keys]),
        width=across,
        height=down,
        finished=by_said((panel.width, panel.height), units),
        how=use_how(use, units),
    )


def seam_said(seam: SeamPlan, panel: PanelPlan, units: Units) -> Message:
    """Where the seams of a pieced panel lie: from its cut edge, and of one to trim later from the finished edge."""
    places = listed(as_size(place, units) for place in seam.places)
    if panel.trim:
        return _seam_to_trim(seam, places, panel, units)
    if seam.upright:
        return messages(
            "Join the lengths so that the seam lies {places} from the left cut edge.",
            "Join the lengths so that the seams lie {places} from the left cut edge.",
            len(seam.places),
            places=places,
        )
    return messages(
        "Join the lengths so that the seam lies {places} from the top cut edge.",
        "Join the lengths so that the seams lie {places} from the top cut edge.",
        len(seam.places),
        places=places,
    )


def _seam_to_trim(seam: SeamPlan, places: Listing, panel: PanelPlan, units: Units) -> Message:
    finished = listed(as_size(place - panel.beyond, units) for place in seam.places)
    if seam.upright:
        return messages(
            "Join the lengths so that the seam lies {places} from the left cut edge, {finished} from the finished "
            "edge.",
            "Join the lengths so that the seams lie {places} from the left cut edge, {finished} from the finished "
            "edge.",
            len(seam.places),
            places=places,
            finished=finished,
        )
    return messages(
        "Join the lengths so that the seam lies {places} from the top cut edge, {finished} from the finished edge.",
        "Join the lengths so that the seams lie {places} from the top cut edge, {finished} from the finished edge.",
        len(seam.places),
        places=places,
        finished=finished,
    )


def fold_said(fold: FoldCut, units: Units) -> tuple[Message, ...]:
    """The steps of checking the panel folded, once it is cut: nothing is trimmed."""
    high, wide = (as_size(half, units) for half in (fold.half_length, fold.half_width))
    return (
        message("Fold it in half from top to bottom, edges and fold lying flat and square."),
        message("Its edges lie {length} from the fold, half the cut height.", length=high),
        message("Open it, turn it, and fold it in half from side to side."),
        message("Its edges lie {length} from the fold, half the cut width.", length=wide),
    )
