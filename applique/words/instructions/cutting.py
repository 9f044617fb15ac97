"""Cutting, fabric by fabric, in words. Lengths are in `units`."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from applique.cloth import ClothUse, Strips, UseKind, WideBacking, Widths
from applique.cutting import Lie
from applique.language import Field, Listing, Message, listed, message, messages
from applique.leftovers import Leftover
from applique.panel import PanelPlan
from applique.quilt.finishing import SleevePlan
from applique.quilt.panel_cut import FoldCut, SeamPlan
from applique.quilt.strips import ClothCut, CutKind
from applique.units import Units, as_available, as_seam, as_size, cutting_step, round_down
from applique.words import panel_shapes
from applique.words.cloth import lettering_of, side_by_side_said, use_how, use_said, uses_said
from applique.words.cutting import bands_said, size_said
from applique.words.instructions.borders import BORDERS
from applique.words.instructions.quilting import LAYERING
from applique.words.instructions.setting import SETTING
from applique.words.instructions.sizes import by_said
from applique.yardage import Lettering, StripNeed

__all__ = [
    "BEYOND_RULER",
    "CUTS_BELOW",
    "CUTTING",
    "FOLD",
    "FOLDED",
    "IN_ORDER",
    "JOINED",
    "LEFT_FOR_BACK",
    "LEFT_OVER",
    "PIECED",
    "PIECES_HEAD",
    "SEAM_LINE",
    "UNWASHED",
    "WASH_FIRST",
    "cut_sizes_said",
    "fabric_said",
    "fold_said",
    "for_said",
    "full_width_said",
    "how_said",
    "join_seam_said",
    "leftovers_of_said",
    "length_said",
    "narrower_said",
    "one_scale_said",
    "panel_said",
    "piecing_said",
    "scale_said",
    "seam_said",
    "seam_under_said",
    "sewn_later_said",
    "sleeve_said",
    "spare_said",
    "wide_bought_said",
    "wide_said",
]

CUTTING: Final = message("Cutting, fabric by fabric")
WASH_FIRST: Final = message("Wash and press the fabric first.")
UNWASHED: Final = message("Press the fabric, unwashed.")
IN_ORDER: Final = message(
    "Each fabric has its drawing: cut its bands in the order of their numbers, across the whole width, then the pieces "
    "from each band, every cut from edge to edge. Leave the selvages on for the cuts across, since you fold by them; "
    "then unfold each band and trim the selvages off its ends before you cut its pieces. Label each piece as you cut "
    "it, with the letter of its fabric and its own, such as “A a”, on a slip of paper or tape."
)
BEYOND_RULER: Final = message(
    "Where a cut lies farther in than your ruler reaches, measure it with the tape measure at three places, mark "
    "them, and lay the ruler along the marks."
)
CUTS_BELOW: Final = message("The lines below go on with the cuts; tick each band off here once it is cut.")
PIECES_HEAD: Final = (
    message("piece"),
    message("how many"),
    message("cut size"),
    message("for"),
    message("band"),
)
LEFT_OVER: Final = message("left over")
LEFT_FOR_BACK: Final = message("left over: keep it for the backing")
_NARROWER: Final = {Units.INCHES: Fraction(1), Units.CENTIMETERS: Fraction(200, 254)}
"""Inches by which the fabric of an example is narrower than that of the plan."""
FOLD: Final = message("fold")
SEAM_LINE: Final = message("seam")
FOLDED: Final = (
    message("The panel open with its fold across the middle, then folded from top to bottom."),
    message("The panel open with its fold down the middle, then folded from side to side."),
)
PIECED: Final = message("The panel with its seams, and the letter of each piece.")
JOINED: Final = message(
    "Two strips right sides together with a seam across their ends; then opened and pressed."
)


def fabric_said(letter: str, name: str) -> Message:
    """A fabric by its letter and its name."""
    return message("Fabric {letter}: {name}", letter=letter, name=name)


def full_width_said(bands: Sequence[int]) -> Message:
    """Which bands give their pieces only if the fabric is as wide as is said."""
    return messages(
        "The pieces of band {bands} take its whole usable width, no spare: cut straight, and measure the width first.",
        "The pieces of bands {bands} take their whole usable width, no spare: cut straight, and measure the width "
        "first.",
        len(bands),
        bands=bands_said(bands),
    )


def narrower_said(
    widths: Widths,
    width: Fraction,
    letters: Mapping[str, str],
    lengths: Sequence[Strips],
    units: Units,
) -> Iterator[Message]:
    """How joined pieces make up on fabric narrower than the usable `width` of the plan for what others lack; `lengths`
    are those of a backing that are all cut from this cloth."""
    if widths.longer:
        yield message(
            "If yours is narrower than {width}, cut every strip of {pieces}, the shortest too, as long as its band "
            "allows: joined, they still reach.",
            width=as_available(width, units),
            pieces=listed(message("piece {piece}", piece=letters[key]) for key in widths.longer),
        )
    if widths.wider:
        yield _wider_said(widths, width, letters, lengths, units)


def _wider_said(
    widths: Widths,
    width: Fraction,
    letters: Mapping[str, str],
    lengths: Sequence[Strips],
    units: Units,
) -> Message:
    """How much wider one length of a backing is cut if the others come out narrower, with an example where there is one
    that is cut so, and fabric by a whole step narrower would do."""
    fields: dict[str, Field] = {
        "width": as_available(width, units),
        "pieces": listed(message("piece {piece}", piece=letters[key]) for key in widths.wider),
    }
    wider = [one for one in lengths if one.key in widths.wider]
    full = sum(one.count for one in lengths if one.width == width)
    others = sum(one.count for one in lengths if one.key not in widths.wider)
    narrower = width - _NARROWER[units]
    match wider:
        case [Strips(count=1) as one] if full and narrower >= widths.least:
            return messages(
                "If yours is narrower than {width}, the other length of the backing comes out narrower: cut {pieces} "
                "wider by what it lacks. Of fabric {narrower} wide, for instance, cut it {wide} wide instead of "
                "{planned}.",
                "If yours is narrower than {width}, the other lengths of the backing come out narrower: cut {pieces} "
                "wider by what they lack together. Of fabric {narrower} wide, for instance, cut it {wide} wide "
                "instead of {planned}.",
                others,
                narrower=as_available(narrower, units),
                wide=as_size(one.width + full * _NARROWER[units], units),
                planned=as_size(one.width, units),
                **fields,
            )
        case _:
            return messages(
                "If yours is narrower than {width}, the other length of the backing comes out narrower: cut {pieces} "
                "wider by what it lacks.",
                "If yours is narrower than {width}, the other lengths of the backing come out narrower: cut {pieces} "
                "wider by what they lack together.",
                others,
                **fields,
            )


def leftovers_of_said(pieces: Iterable[Leftover], units: Units) -> Listing:
    """What is left of a fabric, equal pieces once with their number."""
    sizes = Counter((min(sides), max(sides)) for one in pieces if (sides := (one.width, one.length)))
    return listed(
        messages("{size}", "{count} of {size}", count, size=size_said(*sides, units))
        for sides, count in sizes.items()
    )


def length_said(length: Fraction, units: Units) -> Message:
    """A length alone."""
    return message("{length}", length=as_size(length, units))


def wide_said(width: Fraction, units: Units) -> Message:
    """How wide a piece is cut."""
    return message("{width} wide", width=as_size(width, units))


def wide_bought_said(wide: WideBacking, units: Units) -> Message:
    """What whoever bought wide backing cuts from it, and from the fabric of the back."""
    if wide.rest is not None:
        return message(
            "If you bought wide backing instead, cut from this fabric only the rest, at the sizes listed: {uses}.",
            uses=uses_said(wide.rest.uses),
        )
    if len(wide.uses) > 1:
        return message(
            "If you bought wide backing instead, leave out these cuts: “{chapter}” says how large the backing is cut. "
            "From beside it cut the hanging sleeve: {sleeve}.",
            chapter=LAYERING,
            sleeve=listed(
                messages(
                    "{size}", "{count} of {size}", one.count, size=size_said(one.width, one.length, units)
                )
                for use in wide.uses
                if use.kind is UseKind.SLEEVE
                for one in use.strips
            ),
        )
    return message(
        "If you bought wide backing instead, leave out this fabric: “{chapter}” says how large the backing is cut.",
        chapter=LAYERING,
    )


def one_scale_said(scale: int, units: Units) -> Message:
    """How large all fabrics are drawn: so many inches or centimeters for one of paper."""
    if units is Units.CENTIMETERS:
        return message(
            "All fabrics are drawn to one scale: printed at 100%, 1 cm of a drawing is {number} cm of fabric.",
            number=scale,
        )
    return message(
        "All fabrics are drawn to one scale: printed at 100%, 1 in of a drawing is {number} in of fabric.",
        number=scale,
    )


def scale_said(scale: int, units: Units) -> Message:
    """How large one fabric is drawn where not all are drawn alike."""
    if units is Units.CENTIMETERS:
        return message(
            "Fabrics are drawn to different scales: printed at 100%, 1 cm of this drawing is {number} cm of fabric.",
            number=scale,
        )
    return message(
        "Fabrics are drawn to different scales: printed at 100%, 1 in of this drawing is {number} in of fabric.",
        number=scale,
    )


def cut_sizes_said(seam_allowance: Fraction, units: Units, *, panel: bool) -> tuple[Message, Message]:
    """That sizes to cut have their seams, and which side is said first; of what hangs only where a `panel` is cut."""
    return (
        message(
            "Every cut size includes its seam allowances of {seam}.", seam=as_seam(seam_allowance, units)
        ),
        message(
            "The narrower side of a piece comes first, as in the width of a strip by its length. What hangs as it is "
            "cut, such as the panel, is said width by height."
        )
        if panel
        else message("The narrower side of a piece comes first, as in the width of a strip by its length."),
    )


def for_said(use: ClothUse) -> Message:
    """What pieces are for, as a table has room for it."""
    if use.kind is UseKind.LETTERS:
        match lettering_of(use):
            case Lettering.OUTLINES:
                return message("outlines: set aside at least this for “Letters”")
            case Lettering.BOTH:
                return message("letters and outlines: set aside at least this for “Letters”")
            case Lettering.LETTERS:
                return message("letters: set aside at least this for “Letters”")
    return use_said(use)


def how_said(use: ClothUse, letters: Mapping[str, str], units: Units) -> Message | None:
    """What a use takes beside its table: strips that are joined, prints that stand upright; None where nothing is.

    What is made of the binding and the backing is said where they are sewn.
    """
    pieces = listed(letters[key] for key in use.keys)
    named: dict[str, Field] = {"pieces": pieces, "use": use_said(use)}
    match use.cut:
        case ClothCut(kind=CutKind.RECTANGLES) if len({one.lie for one in use.strips}) > 1:
            return message(
                "{pieces}, {use}, so that the print stands upright: {how}.",
                how=listed(_standing(one, letters[one.key], units) for one in use.strips),
                **named,
            )
        case ClothCut(kind=CutKind.BIAS_SQUARE):
            return message("{pieces}, {use}: {how}.", how=use_how(use, units), **named)
        case StripNeed(joined=[_, *_] as joined):
            how = listed(side_by_side_said(one, units) for one in joined)
            return message("{pieces}, {use}: {how}.", how=how, **named)
        case _:
            return None


def _standing(pieces: Strips, letter: str, units: Units) -> Message:
    """Pieces of a one-way print as they stand in the quilt, with the sides that they are sewn to."""
    upright = pieces.lie is Lie.ALONG
    wide, high = (pieces.width, pieces.length) if upright else (pieces.length, pieces.width)
    fields: dict[str, Field] = {
        "piece": letter,
        "count": pieces.count,
        "width": as_size(wide, units),
        "height": as_size(high, units),
    }
    if upright:
        return message("{count} of {piece}, {width} wide by {height} high, to the left and right", **fields)
    return message("{count} of {piece}, {width} wide by {height} high, to the top and bottom", **fields)


def spare_said(use: ClothUse, letters: Mapping[str, str], units: Units) -> Iterator[Message]:
    """How much further than they must the strips of each run reach once they are joined; of those that reach no
    further, nothing."""
    for run in use.joined:
        spare = round_down(run.reach - run.needed, cutting_step(units))
        if spare:
            yield message(
                "Joined, the strips {piece} are {spare} longer than they must be.",
                piece=letters[run.key],
                spare=as_size(spare, units),
            )


def sewn_later_said(use: ClothUse, pieces: Sequence[str]) -> Message | None:
    """Which strips of a border are joined where it is sewn; None where none are."""
    match use.cut, use.joined:
        case ClothCut(kind=CutKind.BORDER_STRIPS), [_]:
            return message(
                "{pieces}: strips of border {number}, joined in “{chapter}”.",
                pieces=listed(pieces),
                number=use.border or 0,
                chapter=BORDERS,
            )
        case ClothCut(kind=CutKind.SASHING), [_]:
            return message(
                "{pieces}: strips of the sashing, joined in “{chapter}”.",
                pieces=listed(pieces),
                chapter=SETTING,
            )
        case ClothCut(kind=CutKind.BORDER_STRIPS), [_, *_]:
            return message(
                "{pieces}: strips of border {number}; those of one letter are joined in “{chapter}”.",
                pieces=listed(pieces),
                number=use.border or 0,
                chapter=BORDERS,
            )
        case _:
            return None


def sleeve_said(use: ClothUse, pieces: Sequence[str], units: Units) -> Message | None:
    """How the strips of a sleeve are joined and cut to length; None where nothing is joined."""
    if not use.joined or not isinstance(use.cut, SleevePlan):
        return None
    return message(
        "For the hanging sleeve join pieces {pieces} end to end with straight seams and cut them to {length}.",
        pieces=listed(pieces),
        length=as_size(use.cut.cut_length, units),
    )


def join_seam_said(seam_allowance: Fraction, units: Units) -> Message:
    """How two strips are sewn end to end."""
    return message(
        "Lay two strips right sides together, sew across their ends with a seam allowance of {seam}, and press it "
        "open.",
        seam=as_seam(seam_allowance, units),
    )


def panel_said(
    panel: PanelPlan, use: ClothUse, pieces: Sequence[Field], units: Units, *, compared: bool
) -> Message:
    """The panel, which is already cut: its pieces by name, its size, cut and finished, and how it lies on its fabric,
    `compared` with the other way or not."""
    if panel.outline is not None:
        return panel_shapes.panel_said(
            pieces,
            (panel.cut_width, panel.cut_height),
            (panel.width, panel.height),
            use_how(use, units, compared=compared),
            units,
        )
    across, down = (as_size(side, units) for side in (panel.cut_width, panel.cut_height))
    fields: dict[str, Field] = {
        "pieces": listed(pieces),
        "width": across,
        "height": down,
        "trimmed": by_said(panel.trimmed, units),
        "finished": by_said((panel.width, panel.height), units),
        "how": use_how(use, units, compared=compared),
    }
    if panel.trim:
        return messages(
            "{pieces} is the panel, {width} wide and {height} high, to trim to {trimmed} after stitching, {off} off "
            "every edge (finished {finished}); {how}.",
            "{pieces} make the panel, {width} wide and {height} high, to trim to {trimmed} after stitching, {off} off "
            "every edge (finished {finished}); {how}.",
            len(pieces),
            off=as_size(panel.trim / 2, units),
            **fields,
        )
    return messages(
        "{pieces} is the panel, {width} wide and {height} high (finished {finished}); {how}.",
        "{pieces} make the panel, {width} wide and {height} high (finished {finished}); {how}.",
        len(pieces),
        **fields,
    )


def seam_under_said(seam: SeamPlan) -> Message | None:
    """Which rows the seams of a pieced panel run under; None where they miss the letters."""
    rows = sorted({one.row for one in seam.crossed if one.row is not None})
    if rows:
        return messages(
            "It cannot miss every letter: it runs under letters of row {rows}. Press it open and flat there before you "
            "fuse, so that it does not show.",
            "It cannot miss every letter: it runs under letters of rows {rows}. Press it open and flat there before "
            "you fuse, so that it does not show.",
            len(rows),
            rows=listed(message("{number}", number=row) for row in rows),
        )
    if seam.crossed:
        return message(
            "It runs under {pieces}. Press it open and flat there before you fuse, so that it does not show.",
            pieces=listed(dict.fromkeys(one.letters for one in seam.crossed)),
        )
    return None


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


def fold_said(fold: FoldCut, units: Units) -> tuple[tuple[Message, ...], tuple[Message, ...]]:
    """How the panel is checked folded down, then across, once it is cut: nothing is trimmed."""
    high, wide = (as_size(half, units) for half in (fold.half_length, fold.half_width))
    return (
        (
            message(
                "If the panel is larger than your mat, check it folded: fold it in half from top to bottom, right "
                "sides together, edges and fold lying flat and square."
            ),
            message("Its edges lie {length} from the fold, half the cut height.", length=high),
        ),
        (
            message("Open it, turn it, and fold it in half from side to side."),
            message("Its edges lie {length} from the fold, half the cut width.", length=wide),
            message(
                "Where an edge lies farther out, trim what stands over, square to the fold; a thread or two too little "
                "does no harm."
            ),
        ),
    )


def piecing_said(seam_allowance: Fraction, pieces: Sequence[Field], units: Units) -> Message:
    """How the lengths of a panel are sewn together."""
    return message(
        "Lay the pieces side by side in the order {pieces}, right sides up. Sew neighbors right sides together "
        "with a seam allowance of {seam}, and press the seams open.",
        pieces=listed(pieces),
        seam=as_seam(seam_allowance, units),
    )
