"""How fabric is cut, in words: what a use is called, and how its panel, lengths, strips, squares or letters are cut."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import assert_never

from applique.cloth import ClothUse, Joined, Strips, UseKind
from applique.cutting import Lie
from applique.language import Listing, Message, listed, message, messages
from applique.mats import Mat
from applique.quilt.banner import Ties
from applique.quilt.finishing import BackingPlan, BackingWay, SleevePlan
from applique.quilt.panel_cut import PanelCut
from applique.quilt.pillow import PillowPlan
from applique.quilt.strips import ClothCut, CutKind, CutPieces, Join
from applique.units import Units, as_available, as_needed, as_size
from applique.words.blocks import use_named
from applique.words.cutting import size_said
from applique.yardage import Carried, Lettering, SideBySide, StripNeed

__all__ = [
    "backing_how",
    "carried_said",
    "lettering_of",
    "panel_how",
    "side_by_side_said",
    "strips_how",
    "use_how",
    "use_said",
    "uses_said",
]


def use_said(use: ClothUse) -> Message:
    """A use in few words."""
    match use.kind:
        case UseKind.PANEL:
            return use_named(use.panels) if use.panels and use.panels[0].name else message("panel")
        case UseKind.BACKING:
            return message("backing")
        case UseKind.BORDER:
            return _border_said(use)
        case UseKind.BINDING:
            return message("binding")
        case UseKind.SLEEVE:
            return message("hanging sleeve")
        case UseKind.PILLOW:
            return message("back of the pillow")
        case UseKind.TIES:
            return message("ties")
        case UseKind.PLAIN_BLOCKS:
            return message("plain blocks")
        case UseKind.SASHING:
            return message("sashing")
        case UseKind.CORNERSTONES:
            return message("cornerstones")
        case UseKind.LETTERS:
            return _lettering_said(use)
    assert_never(use.kind)


def _lettering_said(use: ClothUse) -> Message:
    """What is cut of a fabric for the words: letters, the outlines behind them, or both."""
    match lettering_of(use):
        case Lettering.OUTLINES:
            return message("outlines")
        case Lettering.BOTH:
            return message("letters and outlines")
        case Lettering.LETTERS:
            return message("letters")


def lettering_of(use: ClothUse) -> Lettering:
    """What of the words a use holds: letters, outlines, or both."""
    return use.cut.lettering if isinstance(use.cut, StripNeed) else Lettering.LETTERS


def uses_said(uses: Iterable[ClothUse]) -> Listing:
    """Uses in few words, each once; those of borders last, so that nothing after them is taken for a part of them."""
    return listed(
        dict.fromkeys(use_said(use) for use in sorted(uses, key=lambda use: use.kind is UseKind.BORDER))
    )


def _border_said(use: ClothUse) -> Message:
    number = use.border or 0
    match use.cut:
        case ClothCut(kind=CutKind.CORNERSTONES):
            return message("cornerstones of border {number}", number=number)
        case ClothCut(kind=CutKind.SQUARES):
            return message("squares of border {number}", number=number)
        case ClothCut(kind=CutKind.RECTANGLES):
            return message("rectangles of border {number}", number=number)
        case _:
            return message("strips of border {number}", number=number)


def use_how(use: ClothUse, units: Units, *, compared: bool = True) -> Message:
    """How a use is cut from its fabric, and `compared` with what the other way would take, if there is one."""
    match use.cut:
        case PanelCut() as panel:
            return panel_how(panel, use, units, compared=compared)
        case BackingPlan() as backing:
            return backing_how(backing, use, units, compared=compared)
        case ClothCut() as cut:
            return strips_how(cut, use, units)
        case SleevePlan() as sleeve:
            return _sleeve_how(sleeve, use, units)
        case PillowPlan() as pillow:
            return message("two of {size}", size=size_said(pillow.long, pillow.deep, units, as_size))
        case StripNeed() as need:
            return _letters_how(need, use, units)
        case Ties() as ties:
            size = size_said(ties.width, ties.length, units, as_size)
            return message("{count} of {size}", count=ties.count, size=size)
    assert_never(use.cut)


def _letters_how(need: StripNeed, use: ClothUse, units: Units) -> Message:
    """The blocks that letters are nested in, and what is sewn together for those wider than the fabric."""
    blocks = {one.key for one in use.blocks}
    sizes = _strips((one for one in use.strips if one.key in blocks), units)
    pieces = listed(side_by_side_said(one, units) for one in need.joined)
    if not need.joined:
        return message("nested in {sizes}", sizes=sizes)
    if need.nest is None:
        return message("{pieces}", pieces=pieces)
    return message("nested in {sizes}; {pieces}", sizes=sizes, pieces=pieces)


def carried_said(carried: Carried) -> str | Message:
    """What a piece is cut for: a letter by its name, or a mat by its number."""
    return message("mat {number}", number=carried.number) if isinstance(carried, Mat) else carried.name


def side_by_side_said(pieces: SideBySide, units: Units) -> Message:
    """What a template too large for its width is cut from: fabric sewn together first, or web laid edge to edge."""
    if pieces.seam:
        laid = messages(
            "for {letters}, sew {count} piece of {size} side by side into {across} by {length}, and press "
            "the seam open",
            "for {letters}, sew {count} pieces of {size} side by side into {across} by {length}, and press "
            "each seam open",
            pieces.widths,
            letters=carried_said(pieces.carried),
            size=size_said(pieces.each, pieces.length, units),
            length=as_size(pieces.length, units),
            across=as_available(pieces.across, units),
        )
    else:
        laid = messages(
            "for {letters}, {count} width of {length} side by side, edge to edge",
            "for {letters}, {count} widths of {length} side by side, edge to edge",
            pieces.widths,
            letters=carried_said(pieces.carried),
            length=as_size(pieces.length, units),
        )
    if pieces.count == 1:
        return laid
    return messages("{laid}, {count} time", "{laid}, {count} times", pieces.count, laid=laid)


def panel_how(panel: PanelCut, use: ClothUse, units: Units, *, compared: bool = True) -> Message:
    """How the panel lies on its fabric, or what it is pieced from."""
    if panel.seam is not None:
        lengths = messages(
            "{count} length of {length}, joined",
            "{count} lengths of {length}, joined",
            len(panel.widths),
            length=as_size(panel.along, units),
        )
        return lengths if panel.other_way is None or not compared else _the_other_way(lengths, panel, units)
    length = as_size(panel.height if use.strips[0].lie is Lie.ALONG else panel.width, units)
    if use.strips[0].lie is Lie.ALONG:
        return message("height along the selvage: {length} of fabric", length=length)
    return message("width along the selvage: {length} of fabric", length=length)


def _the_other_way(lengths: Message, panel: PanelCut, units: Units) -> Message:
    """What a pieced panel would take in the other direction, and whether its seams would miss the letters there."""
    seam, other = panel.seam, panel.other_way
    if seam is None or other is None:
        return lengths
    length = as_size(other.length, units)
    if seam.crossed and other.crossed:
        return (
            message("{lengths} (crosswise would take {other})", lengths=lengths, other=length)
            if seam.upright
            else message("{lengths} (lengthwise would take {other})", lengths=lengths, other=length)
        )
    match seam.upright, bool(other.crossed):
        case True, True:
            return message(
                "{lengths} (crosswise would take {other}, with seams through letters)",
                lengths=lengths,
                other=length,
            )
        case True, False:
            return message(
                "{lengths} (crosswise would take {other}, with seams clear of the letters)",
                lengths=lengths,
                other=length,
            )
        case False, True:
            return message(
                "{lengths} (lengthwise would take {other}, with seams through letters)",
                lengths=lengths,
                other=length,
            )
        case _:
            return message(
                "{lengths} (lengthwise would take {other}, with seams clear of the letters)",
                lengths=lengths,
                other=length,
            )


def backing_how(backing: BackingPlan, use: ClothUse, units: Units, *, compared: bool = True) -> Message:
    """How the panels of a backing lie, and what fabric it would take the other way."""
    way = use.way or backing.ways[0]
    if way.widened:
        return _widened(way, units)
    panels = len(way.widths)
    seams = messages("{count} seam", "{count} seams", panels - 1) if panels > 1 else message("no seam")
    length = as_size(way.along, units)
    laid = (
        messages(
            "{count} length of {length}, lengthwise, {seams}",
            "{count} lengths of {length}, lengthwise, {seams}",
            panels,
            length=length,
            seams=seams,
        )
        if way.upright
        else messages(
            "{count} length of {length}, crosswise, {seams}",
            "{count} lengths of {length}, crosswise, {seams}",
            panels,
            length=length,
            seams=seams,
        )
    )
    other = next((one for one in backing.ways if one.upright is not way.upright), None)
    if other is None or not compared:
        return laid
    if way.upright:
        return message("{laid} (crosswise would take {other})", laid=laid, other=as_size(other.length, units))
    return message("{laid} (lengthwise would take {other})", laid=laid, other=as_size(other.length, units))


def _widened(way: BackingWay, units: Units) -> Message:
    """Lengths that a strip of leftovers widens."""
    length, width = as_size(way.along, units), as_needed(way.widened, units)
    if way.upright:
        return messages(
            "{count} length of {length}, lengthwise, widened by a strip of leftovers cut {width} wide",
            "{count} lengths of {length}, lengthwise, widened by a strip of leftovers cut {width} wide",
            len(way.widths),
            length=length,
            width=width,
        )
    return messages(
        "{count} length of {length}, crosswise, widened by a strip of leftovers cut {width} wide",
        "{count} lengths of {length}, crosswise, widened by a strip of leftovers cut {width} wide",
        len(way.widths),
        length=length,
        width=width,
    )


def strips_how(cut: ClothCut, use: ClothUse, units: Units) -> Message:
    """What is cut for a border or a binding, and what becomes of it."""
    strips = _strips(use.strips, units)
    match cut, use.joined:
        case ClothCut(kind=CutKind.BIAS_SQUARE), _:
            return message(
                "one square of {side}, cut into a continuous bias strip",
                side=as_size(cut.strip_width, units),
            )
        case ClothCut(kind=CutKind.BINDING_STRIPS), [Joined(reach=reach, needed=needed)]:
            return message(
                "{strips}; join with diagonal seams into {reach}; {run} are needed",
                strips=strips,
                reach=as_available(reach, units),
                run=as_size(needed, units),
            )
        case ClothCut(kind=CutKind.BORDER_STRIPS), _:
            return _border_strips_how(cut, use, units)
        case ClothCut(kind=CutKind.SASHING, join=Join()), _:
            return _long_strips_how(cut.pieces, use.strips, use.joined, units)
        case ClothCut(kind=CutKind.SQUARES | CutKind.CORNERSTONES), _:
            return messages(
                "{count} square of {size}",
                "{count} squares of {size}",
                cut.count,
                size=as_size(cut.strip_width, units),
            )
        case ClothCut(kind=CutKind.RECTANGLES), _ if len({one.lie for one in use.strips}) > 1:
            return message(
                "{upright} for the left and right, {lying} for the top and bottom, so that the print stands upright",
                upright=_strips((one for one in use.strips if one.lie is Lie.ALONG), units),
                lying=_strips((one for one in use.strips if one.lie is Lie.ACROSS), units),
            )
        case _:
            return message("{strips}", strips=strips)


def _border_strips_how(cut: ClothCut, use: ClothUse, units: Units) -> Message:
    """Border strips. Where some are joined or cut up and they lie both ways, the print is a one-way print, and those of
    the sides lie along the selvage."""
    keys = {lie: {one.key for one in use.strips if one.lie is lie} for lie in Lie}
    if not all(keys.values()) or _are_whole(cut.pieces, use.strips):
        return _long_strips_how(cut.pieces, use.strips, use.joined, units)
    sides, ends = (
        _long_strips_how(
            [one for one in cut.pieces if one.upright is (lie is Lie.ALONG)],
            [one for one in use.strips if one.lie is lie],
            [run for run in use.joined if run.key in keys[lie]],
            units,
        )
        for lie in (Lie.ALONG, Lie.ACROSS)
    )
    return message("left and right: {sides}; top and bottom: {ends}", sides=sides, ends=ends)


def _long_strips_how(
    pieces: Sequence[CutPieces], strips: Sequence[Strips], joined: Sequence[Joined], units: Units
) -> Message:
    """Strips that all lie the same way: joined into one and cut to length, or cut up, or whole as they are."""
    said, lengths = _strips(strips, units), _each(pieces, units)
    match joined:
        case [Joined(join=Join.DIAGONAL, reach=reach)]:
            return message(
                "{strips}; join end to end with diagonal seams into {reach}, then cut {lengths}",
                strips=said,
                reach=as_available(reach, units),
                lengths=lengths,
            )
        case [Joined(reach=reach)]:
            return message(
                "{strips}; join end to end with straight seams into {reach}, then cut {lengths}",
                strips=said,
                reach=as_available(reach, units),
                lengths=lengths,
            )
        case _ if _are_whole(pieces, strips):
            return message("{strips}, no joins", strips=said)
        case _:
            return message("{strips}; cut {lengths} from it, no joins", strips=said, lengths=lengths)


def _are_whole(pieces: Iterable[CutPieces], strips: Iterable[Strips]) -> bool:
    """Whether each piece is a strip as it is cut."""
    return {one.length for one in strips} == {one.length for one in pieces}


def _strips(strips: Iterable[Strips], units: Units) -> Listing:
    """Equal pieces as they are cut; what is as long or wide as its cloth counts down."""
    return listed(
        message("{count} × {size}", count=one.count, size=size_said(one.width, one.length, units))
        for one in strips
    )


def _each(pieces: Iterable[CutPieces], units: Units) -> Listing:
    """Lengths with how often they come."""
    counts: dict[Fraction, int] = {}
    for one in pieces:
        counts[one.length] = counts.get(one.length, 0) + one.count
    return listed(
        message("{count} × {length}", count=count, length=as_size(length, units))
        for length, count in counts.items()
    )


def _sleeve_how(sleeve: SleevePlan, use: ClothUse, units: Units) -> Message:
    size = size_said(sleeve.cut_depth, sleeve.cut_length, units, as_size)
    if not use.joined:
        return message("one of {size}", size=size)
    return message(
        "one of {size}: join {strips} with straight seams and cut it to length",
        size=size,
        strips=_strips(use.strips, units),
    )
