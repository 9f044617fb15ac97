"""The quilt around its letters, in words: its class, the bed it covers, what it is drawn beside, what to look at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final, assert_never

from applique.design import Finish
from applique.errors import Notice, Where
from applique.language import Message, any_of, listed, message, messages
from applique.panel import PanelPlan
from applique.quilt.borders import BorderPlan, Corner, EvenOffer, OddPiece, Uneven
from applique.quilt.panel_cut import SeamPlan
from applique.quilt.scene import ThingKind
from applique.quilt.sizes import Against, BedCover, Mattress, QuiltClass, QuiltSize
from applique.quilt.whole import QuiltPlan
from applique.units import Units, as_length, as_size, telling_apart

__all__ = [
    "CORNERS",
    "MADE",
    "THINGS",
    "bed_said",
    "class_label",
    "class_said",
    "not_reckoned",
    "odd_piece",
    "quilt_notices",
    "trimmed_said",
]

THINGS: Final = {
    ThingKind.DOOR: message("door"),
    ThingKind.PERSON: message("person of 5 ft 6 in"),
    ThingKind.SOFA: message("sofa"),
    ThingKind.FRONT: message("plain front"),
}
MADE: Final = {
    Finish.QUILT: message("quilt"),
    Finish.TOP: message("quilt top"),
    Finish.PILLOW: message("pillow"),
    Finish.BANNER: message("banner"),
    Finish.GARMENT: message("place on a garment"),
    Finish.LETTERS: message("words"),
}
"""What the size is of that stands behind it."""
_QUILTS: Final = {
    QuiltSize.WALL: message("wall quilt"),
    QuiltSize.THROW: message("throw or wall quilt"),
    QuiltSize.LAP: message("lap"),
    QuiltSize.TWIN: message("twin"),
    QuiltSize.DOUBLE: message("double"),
    QuiltSize.QUEEN: message("queen"),
    QuiltSize.KING: message("king"),
    QuiltSize.PILLOW: message("pillow"),
    QuiltSize.BANNER: message("banner"),
    QuiltSize.GARMENT: message("garment"),
    QuiltSize.LETTERS: message("letters"),
}
_BEDS: Final = {
    Mattress.CRIB: message("crib"),
    Mattress.TWIN: message("twin"),
    Mattress.FULL: message("full"),
    Mattress.QUEEN: message("queen"),
    Mattress.KING: message("king"),
}
CORNERS: Final = {
    Corner.TOP_LEFT: message("top left"),
    Corner.TOP_RIGHT: message("top right"),
    Corner.BOTTOM_RIGHT: message("bottom right"),
    Corner.BOTTOM_LEFT: message("bottom left"),
}


def not_reckoned(quilt: QuiltPlan) -> Message | None:
    """What of a quilt is neither cut nor bought nor sewn here; None where all of it is."""
    if quilt.pillow is not None:
        return message("Not reckoned: batting, quilting, and label.")
    if quilt.turned:
        return message("Not reckoned: quilting, binding, and label.")
    if quilt.size_class.name is QuiltSize.LETTERS:
        return message(
            "Not reckoned: what the letters are sewn onto, panel, backing, batting, quilting, binding, and label."
        )
    if not quilt.panels:
        return message("Not reckoned: the garment itself, backing, batting, quilting, binding, and label.")
    if not quilt.layered:
        return message("Not reckoned: backing, batting, quilting, binding, and label.")
    parts = [
        *([] if quilt.backing.ways else [message("backing")]),
        *([] if quilt.batting.bought else [message("batting")]),
        *([] if quilt.binding else [message("binding")]),
    ]
    return message("Not reckoned: {parts}.", parts=listed(parts)) if parts else None


def class_label(found: QuiltClass) -> Message:
    """The class in few words, as `lap` or `larger than king`."""
    size = _QUILTS[found.name]
    match found.against:
        case Against.ABOUT:
            return size
        case Against.LONGER:
            return message("longer than {size}", size=size)
        case Against.LARGER:
            return message("larger than {size}", size=size)
    assert_never(found.against)


def class_said(found: QuiltClass, units: Units) -> Message:
    """The class as a maker would say it."""
    size = _QUILTS[found.name]
    if found.name is QuiltSize.LETTERS:
        return size
    if found.usual is None:
        return message("a {size}", size=size)
    across, down = (as_length(Fraction(side), units) for side in found.usual)
    match found.against:
        case Against.ABOUT:
            return message("about a {size} quilt ({width} by {height})", size=size, width=across, height=down)
        case Against.LONGER:
            return message(
                "longer than a {size} quilt ({width} by {height})", size=size, width=across, height=down
            )
        case Against.LARGER:
            return message(
                "larger than a {size} quilt ({width} by {height})", size=size, width=across, height=down
            )
    assert_never(found.against)


def bed_said(bed: BedCover, units: Units) -> Message:
    """The bed that a quilt covers, as a sentence."""
    across, down = (as_length(Fraction(side), units) for side in bed.mattress)
    return message(
        "It covers a {bed} bed ({width} by {height}) with {over} over each side.",
        bed=_BEDS[bed.name],
        width=across,
        height=down,
        over=as_length(bed.over_each_side, units),
    )


def quilt_notices(quilt: QuiltPlan, units: Units) -> tuple[Notice, ...]:
    """What to look at before cutting: the seams of a pieced panel, and borders whose pieces are not all alike."""
    seam = None if quilt.panel_cut is None else quilt.panel_cut.seam
    seams = [] if seam is None else [_seam_notice(seam, units)]
    borders = [notice for border in quilt.borders for notice in _border_notices(border, units)]
    return (*seams, *borders)


def _border_notices(border: BorderPlan, units: Units) -> Iterator[Notice]:
    if border.uneven:
        yield _uneven_notice(border.number, border.uneven, units)
    if border.alike:
        yield _alike_notice(border)


def _seam_notice(seam: SeamPlan, units: Units) -> Notice:
    """Where the seams of a pieced panel lie, and through which letters."""
    count, where = len(seam.places) + 1, Where.key("panel")
    places = listed([as_size(place, units) for place in seam.places])
    letters = listed(
        crossed.letters
        if crossed.row is None
        else message("{letters} of row {row}", letters=crossed.letters, row=crossed.row)
        for crossed in seam.crossed
    )
    fix = message("fabric wide enough for the whole panel, so that it needs no seam")
    if seam.upright and seam.crossed:
        return Notice(
            kind="panel-seam-upright-through-letters",
            what=messages(
                "the panel is wider than its fabric; it takes {count} length, joined {places} from the "
                "left cut edge, through {letters}",
                "the panel is wider than its fabric; it takes {count} lengths, joined {places} from the "
                "left cut edge, through {letters}",
                count,
                places=places,
                letters=letters,
            ),
            where=where,
            fix=fix,
        )
    if seam.upright:
        return Notice(
            kind="panel-seam-upright",
            what=messages(
                "the panel is wider than its fabric; it takes {count} length, joined {places} from the "
                "left cut edge, clear of the letters",
                "the panel is wider than its fabric; it takes {count} lengths, joined {places} from the "
                "left cut edge, clear of the letters",
                count,
                places=places,
            ),
            where=where,
            fix=fix,
        )
    if seam.crossed:
        return Notice(
            kind="panel-seam-across-through-letters",
            what=messages(
                "the panel is wider than its fabric; it takes {count} length, joined {places} from the "
                "top cut edge, through {letters}",
                "the panel is wider than its fabric; it takes {count} lengths, joined {places} from the "
                "top cut edge, through {letters}",
                count,
                places=places,
                letters=letters,
            ),
            where=where,
            fix=fix,
        )
    return Notice(
        kind="panel-seam-across",
        what=messages(
            "the panel is wider than its fabric; it takes {count} length, joined {places} from the "
            "top cut edge, clear of the letters",
            "the panel is wider than its fabric; it takes {count} lengths, joined {places} from the "
            "top cut edge, clear of the letters",
            count,
            places=places,
        ),
        where=where,
        fix=fix,
    )


def _alike_notice(border: BorderPlan) -> Notice:
    where = Where.key("border", border.number)
    strips = [strip for step in border.steps for strip in step.strips]
    if len({fabric for strip in strips for fabric, _ in strip.pieces}) == 1:
        return Notice(
            kind="rectangles-of-one-fabric",
            what=message("all rectangles are of one fabric, so its pieces meet at every seam"),
            where=where,
            fix=message('two fabrics or more, or kind = "strip" for a plain border'),
        )
    return Notice(
        kind="rectangles-alike-together",
        what=messages(
            "two rectangles of one fabric meet at the {corners} corner; no order of two fabrics avoids it",
            "two rectangles of one fabric meet at the {corners} corners; no order of two fabrics avoids it",
            len(border.alike),
            corners=listed(CORNERS[corner] for corner in border.alike),
        ),
        where=where,
        fix=message("a third fabric"),
    )


def _uneven_notice(border: int, uneven: Uneven, units: Units) -> Notice:
    said = telling_apart([(piece.length, uneven.length) for piece in uneven.pieces], units, denominator=16)
    odd = dict.fromkeys(
        message("{piece} ({length})", piece=odd_piece(piece), length=said(piece.length))
        for piece in uneven.pieces
    )
    shorter = all(piece.length < uneven.length for piece in uneven.pieces)
    where = Where.key("border", border)
    if shorter:
        return Notice(
            kind="rectangles-uneven",
            what=message(
                "rectangles of {length} do not fill every side; shorter when finished: {pieces}",
                length=said(uneven.length),
                pieces=listed(odd),
            ),
            where=where,
            fix=_evenly(uneven.offers, units),
        )
    return Notice(
        kind="rectangles-uneven-longer",
        what=message(
            "rectangles of {length} do not fill every side; of another length when finished: {pieces}",
            length=said(uneven.length),
            pieces=listed(odd),
        ),
        where=where,
        fix=_evenly(uneven.offers, units),
    )


def _evenly(offers: Sequence[EvenOffer], units: Units) -> Message:
    if not offers:
        return message("another length")
    return message(
        "sizes that come out even: {offers}",
        offers=any_of(
            message(
                "{length} long and {width} deep ({across} across and {down} down)",
                length=as_length(offer.length, units, denominator=16),
                width=as_length(offer.width, units, denominator=16),
                across=offer.across,
                down=offer.down,
            )
            for offer in offers
        ),
    )


def odd_piece(piece: OddPiece) -> Message:
    """Which piece it is, on its own side and on the one across, which is pieced alike."""
    match piece.side.upright, piece.place:
        case True, _ if piece.count == 1:
            return message("the only piece of the left and right sides")
        case True, 1:
            return message("the first piece, at the top of the left and right sides")
        case True, piece.count:
            return message("the last piece, at the bottom of the left and right sides")
        case True, place:
            return message("piece {number} from the top of the left and right sides", number=place)
        case _ if piece.count == 1:
            return message("the only piece of the top and bottom")
        case _, 1:
            return message("the first piece, at the left end of the top and bottom")
        case _, piece.count:
            return message("the last piece, at the right end of the top and bottom")
        case _, place:
            return message("piece {number} from the left of the top and bottom", number=place)


def trimmed_said(panel: PanelPlan, units: Units) -> Message:
    """That the panel is cut larger than it is sewn in, and what it is trimmed to after stitching."""
    return message(
        "The panel is cut {trim} wider and {trim} higher than it is sewn in, for stitching draws it in. Once the "
        "letters are stitched, trim it to {width} by {height}, the same off every side: {off}, less what the stitching "
        "drew in.",
        trim=as_size(panel.trim, units),
        width=as_size(panel.trimmed[0], units),
        height=as_size(panel.trimmed[1], units),
        off=as_size(panel.trim / 2, units),
    )
