"""The quilt around its letters, in words: its class, the bed it covers, what it is drawn beside, what to look at."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, assert_never

from applique.errors import Notice, Where
from applique.language import Message, listed, message, messages
from applique.quilt.borders import Uneven
from applique.quilt.panel_cut import SeamPlan
from applique.quilt.scene import ThingKind
from applique.quilt.sizes import Against, BedCover, Mattress, QuiltClass, QuiltSize
from applique.quilt.whole import QuiltPlan
from applique.units import Units, as_length, as_size, telling_apart

__all__ = ["THINGS", "bed_said", "class_label", "class_said", "quilt_notices"]

THINGS: Final = {
    ThingKind.DOOR: message("door"),
    ThingKind.PERSON: message("person of 5 ft 6 in"),
    ThingKind.SOFA: message("sofa"),
}
_QUILTS: Final = {
    QuiltSize.WALL: message("wall quilt"),
    QuiltSize.THROW: message("throw or wall quilt"),
    QuiltSize.LAP: message("lap"),
    QuiltSize.TWIN: message("twin"),
    QuiltSize.DOUBLE: message("double"),
    QuiltSize.QUEEN: message("queen"),
    QuiltSize.KING: message("king"),
}
_BEDS: Final = {
    Mattress.CRIB: message("crib"),
    Mattress.TWIN: message("twin"),
    Mattress.FULL: message("full"),
    Mattress.QUEEN: message("queen"),
    Mattress.KING: message("king"),
}


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
    seams = [] if quilt.panel.seam is None else [_seam_notice(quilt.panel.seam, units)]
    uneven = [
        _uneven_notice(border.number, border.uneven, units) for border in quilt.borders if border.uneven
    ]
    return (*seams, *uneven)


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
    fix = message("wide cloth (its usable_width in [[fabric]]) has no seam")
    if seam.upright and seam.crossed:
        return Notice(
            kind="panel-seam-upright-through-letters",
            what=messages(
                "the panel is wider than its cloth; it takes {count} length, joined {places} from the "
                "left cut edge, through {letters}",
                "the panel is wider than its cloth; it takes {count} lengths, joined {places} from the "
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
                "the panel is wider than its cloth; it takes {count} length, joined {places} from the "
                "left cut edge, clear of the letters",
                "the panel is wider than its cloth; it takes {count} lengths, joined {places} from the "
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
                "the panel is wider than its cloth; it takes {count} length, joined {places} from the "
                "top cut edge, through {letters}",
                "the panel is wider than its cloth; it takes {count} lengths, joined {places} from the "
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
            "the panel is wider than its cloth; it takes {count} length, joined {places} from the "
            "top cut edge, clear of the letters",
            "the panel is wider than its cloth; it takes {count} lengths, joined {places} from the "
            "top cut edge, clear of the letters",
            count,
            places=places,
        ),
        where=where,
        fix=fix,
    )


def _uneven_notice(border: int, uneven: Uneven, units: Units) -> Notice:
    said = telling_apart([(piece, uneven.length) for piece in uneven.last], units, denominator=16)
    return Notice(
        kind="rectangles-uneven",
        what=message(
            "rectangles of {length} do not fill the sides evenly; the last of a side is shorter "
            "({lengths} finished)",
            length=said(uneven.length),
            lengths=listed(said(piece) for piece in uneven.last),
        ),
        where=Where.key("border", border),
        fix=message("another length"),
    )
