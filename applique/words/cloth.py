"""How fabric is cut, in words: what a use is called, and how its panel, lengths, strips, squares or letters are cut."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import assert_never

from applique.language import Listing, Message, listed, message, messages
from applique.quilt.finishing import BackingPlan, SleevePlan
from applique.quilt.panel_cut import PanelCut
from applique.quilt.strips import ClothCut, CutKind, Join, Run
from applique.shopping import ClothUse, UseKind
from applique.units import Units, as_length
from applique.yardage import StripNeed

__all__ = [
    "backing_how",
    "panel_how",
    "strips_how",
    "use_how",
    "use_said",
]


def use_said(use: ClothUse) -> Message:
    """A use in few words."""
    match use.kind:
        case UseKind.PANEL:
            return message("panel")
        case UseKind.BACKING:
            return message("backing")
        case UseKind.BORDER:
            return _border_said(use)
        case UseKind.BINDING:
            return message("binding")
        case UseKind.SLEEVE:
            return message("hanging sleeve")
        case UseKind.LETTERS:
            return message("letters")
    assert_never(use.kind)


def _border_said(use: ClothUse) -> Message:
    number = use.border or 0
    match use.cut:
        case ClothCut(kind=CutKind.CORNERSTONES):
            return message("border {number}, cornerstones", number=number)
        case ClothCut(kind=CutKind.SQUARES):
            return message("border {number}, squares", number=number)
        case ClothCut(kind=CutKind.RECTANGLES):
            return message("border {number}, rectangles", number=number)
        case _:
            return message("border {number}, border strips", number=number)


def use_how(use: ClothUse, units: Units) -> Message:
    """How a use is cut from its fabric."""
    match use.cut:
        case PanelCut() as panel:
            return panel_how(panel, units)
        case BackingPlan() as backing:
            return backing_how(backing, units)
        case ClothCut() as cut:
            return strips_how(cut, units)
        case SleevePlan() as sleeve:
            return _sleeve_how(sleeve, units)
        case StripNeed(rule=rule):
            return message("nested, and {extra} % more", extra=rule.extra.percent)
    assert_never(use.cut)


def panel_how(panel: PanelCut, units: Units) -> Message:
    """How the panel lies on its fabric."""
    length = as_length(panel.length / panel.lengths, units)
    if panel.seam is not None:
        return messages(
            "{count} length of {length}, joined",
            "{count} lengths of {length}, joined",
            panel.lengths,
            length=length,
        )
    if panel.upright:
        return message("height along the selvage: {length} of cloth", length=length)
    return message("width along the selvage: {length} of cloth", length=length)


def backing_how(backing: BackingPlan, units: Units) -> Message:
    """How the panels of a backing lie, and what fabric it would take the other way."""
    length, other = as_length(backing.panel_length, units), as_length(backing.other_way, units)
    if backing.panels == 1:
        return (
            message(
                "1 length of {length}, lengthwise, no seam (crosswise would take {other})",
                length=length,
                other=other,
            )
            if backing.upright
            else message(
                "1 length of {length}, crosswise, no seam (lengthwise would take {other})",
                length=length,
                other=other,
            )
        )
    seams = messages("{count} seam", "{count} seams", backing.panels - 1)
    return (
        messages(
            "{count} length of {length}, lengthwise, {seams} (crosswise would take {other})",
            "{count} lengths of {length}, lengthwise, {seams} (crosswise would take {other})",
            backing.panels,
            length=length,
            seams=seams,
            other=other,
        )
        if backing.upright
        else messages(
            "{count} length of {length}, crosswise, {seams} (lengthwise would take {other})",
            "{count} lengths of {length}, crosswise, {seams} (lengthwise would take {other})",
            backing.panels,
            length=length,
            seams=seams,
            other=other,
        )
    )


def strips_how(cut: ClothCut, units: Units) -> Message:
    """What becomes of the strips of a cut, or of its one square."""
    lengths = _each(cut.pieces, units)
    match cut:
        case ClothCut(kind=CutKind.BIAS_SQUARE):
            return message(
                "one square of {side}, cut into a continuous bias strip",
                side=as_length(cut.strip_width, units),
            )
        case ClothCut(kind=CutKind.BINDING_STRIPS, run=Run(reach=reach, needed=needed)):
            return message(
                "join with diagonal seams into {reach}; {run} are needed",
                reach=as_length(reach, units),
                run=as_length(needed, units),
            )
        case ClothCut(run=Run(join=Join.DIAGONAL)):
            return message("join end to end with diagonal seams, then cut {lengths}", lengths=lengths)
        case ClothCut(run=Run()):
            return message("join end to end with straight seams, then cut {lengths}", lengths=lengths)
        case ClothCut(kind=CutKind.BORDER_STRIPS):
            return message("cut {lengths}, no joins", lengths=lengths)
        case ClothCut(kind=CutKind.RECTANGLES):
            return message("cut the strips into {lengths}", lengths=lengths)
        case _:
            return messages(
                "cut the strips into {count} square of {size}, {across} from a strip",
                "cut the strips into {count} squares of {size}, {across} from a strip",
                cut.count,
                size=as_length(cut.strip_width, units, denominator=16),
                across=cut.across,
            )


def _each(pieces: Iterable[tuple[Fraction, int]], units: Units) -> Listing:
    """Lengths with how often they come."""
    return listed(
        message("{count} × {length}", count=count, length=as_length(length, units, denominator=16))
        for length, count in pieces
    )


def _sleeve_how(sleeve: SleevePlan, units: Units) -> Message:
    length, depth = as_length(sleeve.cut_length, units), as_length(sleeve.cut_depth, units)
    if sleeve.strips == 1:
        return message("one of {length} by {depth}", length=length, depth=depth)
    return messages(
        "one of {length} by {depth}, joined from {count} strip across the fabric",
        "one of {length} by {depth}, joined from {count} strips across the fabric",
        sleeve.strips,
        length=length,
        depth=depth,
    )
