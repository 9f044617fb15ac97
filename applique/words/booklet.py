"""The booklet in words: what to buy, how to cut, place and border it, and how to finish. Lengths are in `units`."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from applique.cloth import ClothUse, UseKind
from applique.cutting import Lie
from applique.design import BorderKind, Corners, PaperSize
from applique.language import Field, Listing, Measure, Message, listed, message, messages
from applique.leftovers import Leftover, LeftoverBacking, MixedBacking
from applique.panel import PanelPlan
from applique.pieces import Layer, Template
from applique.quilt.borders import BorderPlan, BorderStep, Side, SideStrip
from applique.quilt.finishing import SLEEVE_HEM, BackingPlan, BattingPlan, BindingPlan, SleevePlan
from applique.quilt.panel_cut import FoldCut, SeamPlan
from applique.quilt.strips import ClothCut, CutKind, Extent
from applique.quilt.whole import QuiltPlan
from applique.units import (
    Units,
    as_area,
    as_available,
    as_length,
    as_needed,
    as_seam,
    as_size,
    as_size_both,
    as_yardage,
    telling_apart,
)
from applique.words.buying import BATTINGS, leftovers_said, material_said, rule_said
from applique.words.cloth import side_by_side_said, use_how
from applique.words.quilt import class_said, odd_piece
from applique.words.sheets import PAPERS, PEN_CAUTION
from applique.yardage import StripNeed

__all__ = [
    "BINDING",
    "BIND_IT",
    "BORDERS",
    "BUYING",
    "CHECK_FOLDED",
    "COVER",
    "CUTTING",
    "FABRICS_HEAD",
    "LABEL",
    "LAYERING",
    "LAYER_IT",
    "LETTERING",
    "MEASURE_UNWASHED",
    "MEASURE_WASHED",
    "METHOD",
    "PLACING",
    "ROWS_HEAD",
    "SEW_LABEL",
    "SLEEVE",
    "SUBJECT",
    "TEMPLATES_HEAD",
    "TRIMMING",
    "WASH_FIRST",
    "backing_row_said",
    "backing_said",
    "baseline_said",
    "batting_said",
    "binding_said",
    "border_said",
    "byline_said",
    "cut_said",
    "files_said",
    "finished_said",
    "fold_said",
    "from_leftovers_said",
    "leftovers_of_said",
    "lettering_said",
    "mixed_said",
    "one_fabric_said",
    "panel_said",
    "percent_said",
    "placing_said",
    "ring_said",
    "seam_allowance_said",
    "seam_said",
    "sleeve_said",
    "step_said",
    "template_said",
    "template_uses_said",
    "trim_said",
    "turned_said",
    "why_strips_said",
]

SUBJECT: Final = message("pattern")
METHOD: Final = message("Pattern")
COVER: Final = message("Cover")
BUYING: Final = message("What to buy")
FABRICS_HEAD: Final = (
    message("fabric"),
    message("for"),
    message("usable width"),
    message("buy"),
    message("how we figured it"),
)
MEASURE_WASHED: Final = message(
    "Usable width is measured between the selvages, after washing. Measure yours first: if it is narrower, the plan "
    "does not hold, and you need more fabric."
)
MEASURE_UNWASHED: Final = message(
    "Usable width is measured between the selvages. Measure yours first: if it is narrower, the plan does not hold, "
    "and you need more fabric."
)
CUTTING: Final = message("Cutting, fabric by fabric")
WASH_FIRST: Final = message(
    "Wash and press the fabric first. Cut in the order of the numbers, each cut from edge to edge."
)
UNWASHED: Final = message(
    "Press the fabric, unwashed. Cut in the order of the numbers, each cut from edge to edge."
)
CHECK_FOLDED: Final = message("If the panel is larger than your mat, cut it as drawn, then check it folded:")
LETTERING: Final = message("Lettering")
TEMPLATES_HEAD: Final = (message("template"), message("letter"), message("cut"), message("row"))
PLACING: Final = message("Placing")
ROWS_HEAD: Final = (
    message("row"),
    message("words"),
    message("baseline below cut top"),
    message("left end from center"),
    message("right end from center"),
)
BORDERS: Final = message("Borders")
LAYERING: Final = message("Layering and quilting")
LAYER_IT: Final = message(
    "Lay the backing wrong side up, the batting and the top on it, smooth them and baste; quilt as you like."
)
BINDING: Final = message("Binding")
BIND_IT: Final = message(
    "Press it in half lengthwise, sew it to the front with its raw edges on the edge of the quilt, miter the corners, "
    "fold it to the back and stitch it down."
)
TRIMMING: Final = message("Trim the panel to size")
SLEEVE: Final = message("Hanging sleeve")
LABEL: Final = message("Label")
SEW_LABEL: Final = message(
    "quilt-label.pdf has the label, to trace or to print on fabric. Sew it to the back before you give the quilt away."
)
_CUT_FOR: Final = {
    UseKind.BACKING: message("Backing: {how}."),
    UseKind.BINDING: message("Binding: {how}."),
    UseKind.SLEEVE: message("Hanging sleeve: {how}."),
}
_IN_ORDER: Final = {
    Side.LEFT: message("Left, top to bottom: {pieces}."),
    Side.RIGHT: message("Right, top to bottom: {pieces}."),
    Side.TOP: message("Top, left to right: {pieces}."),
    Side.BOTTOM: message("Bottom, left to right: {pieces}."),
}


def percent_said(part: float) -> Message:
    """A part of 1 in whole percent."""
    return message("{percent}%", percent=round(part * 100))


def _by(size: Extent, units: Units, said: Callable[[Fraction, Units], Measure] = as_size) -> Message:
    across, down = (said(side, units) for side in size)
    return message("{width} by {height}", width=across, height=down)


# Cover


def byline_said(name: str, skill: str) -> str | Message:
    """Who the pattern is by and for whom; empty where neither is known."""
    if name and skill:
        return message("by {name} · {skill}", name=name, skill=skill)
    return message("by {name}", name=name) if name else skill


def finished_said(quilt: QuiltPlan, units: Units) -> Message:
    """How large the quilt is."""
    across, down = (as_size_both(side, units) for side in quilt.finished)
    return message(
        "Finished size {width} wide and {height} high, {size}.",
        width=across,
        height=down,
        size=class_said(quilt.size_class, units),
    )


# What to buy


def one_fabric_said(need: StripNeed, units: Units) -> Message:
    """What the letters would take from one fabric."""
    return message(
        "If all letters came from {fabric}: {length} for the letters ({rule}).",
        fabric=material_said(need),
        length=as_yardage(need.buy, units),
        rule=rule_said(need.rule, units),
    )


def leftovers_of_said(pieces: Iterable[Leftover], units: Units) -> Message:
    """What is left of a fabric."""
    return message(
        "Left over: {sizes}.",
        sizes=listed(_by((piece.width, piece.length), units, as_available) for piece in pieces),
    )


# Cutting


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
                "{count} × {size}", count=one.count, size=_by((one.width, one.length), units, as_available)
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
            trimmed=_by(panel.trimmed, units),
            finished=_by((panel.width, panel.height), units),
            how=use_how(use, units),
        )
    return message(
        "{pieces}: Panel: cut one, {width} wide and {height} high (finished {finished}); {how}.",
        pieces=listed([letters[key] for key in use.keys]),
        width=across,
        height=down,
        finished=_by((panel.width, panel.height), units),
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


# Lettering and placing


def lettering_said(
    letters: int, templates: int, pages: int, paper: PaperSize, *, joined: bool
) -> tuple[Message, Message]:
    """How many letters (pieces, if they are `joined`) and templates there are, and what to print: `pages` of
    `paper`."""
    return (
        _to_cut(letters, messages("{count} template", "{count} templates", templates), joined=joined),
        message(
            "Print one of the two template files at 100 %, {pages}, and measure the rules before you cut.",
            pages=messages("{count} page of {paper}", "{count} pages of {paper}", pages, paper=PAPERS[paper]),
        ),
    )


def _to_cut(letters: int, templates: Message, *, joined: bool) -> Message:
    if joined:
        return messages(
            "There is {count} piece to cut from {templates}.",
            "There are {count} pieces to cut from {templates}.",
            letters,
            templates=templates,
        )
    return messages(
        "There is {count} letter to cut from {templates}.",
        "There are {count} letters to cut from {templates}.",
        letters,
        templates=templates,
    )


def files_said(rough_cut: Fraction, units: Units) -> tuple[Message, Message]:
    """What each of the two template files is for."""
    freezer = message(
        "templates-right-reading.pdf for freezer paper on the right side of the fabric, shiny side down."
    )
    if not rough_cut:
        return (
            message(
                "templates-mirrored.pdf for fusible web: trace on the paper side, cut out on the line, fuse to the "
                "wrong side of the fabric, then cut on the line."
            ),
            freezer,
        )
    return (
        message(
            "templates-mirrored.pdf for fusible web: trace on the paper side, cut out roughly, about {room} outside "
            "the line, fuse to the wrong side of the fabric, then cut on the line.",
            room=as_length(rough_cut, units, denominator=16),
        ),
        freezer,
    )


def turned_said(templates: Sequence[Template], turn_under: Fraction, units: Units) -> Iterator[Message]:
    """How the lines of a turned edge are used; nothing for raw edges."""
    if not any(template.turned for template in templates):
        return
    yield message(
        "Turned edges: the bold line is the finished edge, cut the freezer paper on it. The thin line {turn} outside "
        "it is the cut line of the fabric. Short lines across the turn-under are clips, little wedges are notches: "
        "clip to within two or three threads of the finished edge, then turn the fabric over the paper.",
        turn=as_length(turn_under, units, denominator=16),
    )
    tucked = [template.text for template in templates if template.turned and template.turned.tucked]
    if tucked:
        yield messages(
            "Where {letters} tucks under the next letter, the edge lies flat and is not turned.",
            "Where {letters} tuck under the next letter, the edge lies flat and is not turned.",
            len(tucked),
            letters=listed(tucked),
        )


def ring_said(templates: Sequence[Template], ring: Fraction | None, units: Units) -> Iterator[Message]:
    """What a ring of fusible is and what it saves; nothing without one."""
    saved = sum(template.ring_saves * template.count for template in templates)
    if ring is None or not saved:
        return
    whole = sum(template.area * template.count for template in templates)
    yield message(
        "Large letters stay soft with the middle of the web cut away: before you fuse, cut along the dashed line "
        "{wide} inside the edge and take the middle out. Of the web under the letters {share} comes away ({saved}); "
        "it can serve small letters, and is not taken off what to buy.",
        wide=as_length(ring, units, denominator=16),
        share=percent_said(saved / whole),
        saved=as_area(saved, units),
    )


def template_said(template: Template) -> str | Message:
    """What a template is of."""
    return (
        message("behind {letters}", letters=template.text)
        if template.layer is Layer.OUTLINE
        else template.text
    )


def template_uses_said(template: Template) -> Listing:
    """How many to cut of a template, and from which fabrics."""
    return listed(
        message("{count} from {fabric}", count=use.count, fabric=use.fabric.name) for use in template.uses
    )


def placing_said(panel: PanelPlan, units: Units) -> tuple[Message, ...]:
    """The steps of placing the letters."""
    return (
        message(
            "Fold the panel in half from side to side and mark the center line along the fold with a removable pen; it "
            "is {distance} from either cut side edge. {caution}",
            distance=as_size(panel.center_from_edge, units),
            caution=PEN_CAUTION,
        ),
        message(
            "Mark each baseline, measured down from the cut top edge. The finished edge lies {beyond} inside the cut "
            "edge; do not trim the panel before the letters are stitched.",
            beyond=as_size(panel.beyond, units),
        )
        if panel.trim
        else message("Mark each baseline, measured down from the cut top edge."),
        message(
            "Lay the letters on their baselines from the center line outward; placement-guide.pdf has the distance of "
            "each one."
        ),
        message("Look at the whole from across the room before you fuse or baste."),
    )


def trim_said(panel: PanelPlan, units: Units) -> tuple[Message, ...]:
    """The steps of trimming the panel to size once its letters are stitched, by the center line and by the words."""
    width, height = panel.trimmed
    allowance = float(panel.seam_allowance)
    top = float(panel.height) + allowance - max(laid.ink[3] for laid in panel.laid)
    bottom = min(laid.ink[1] for laid in panel.laid) + allowance
    return (
        message("Press the panel from the wrong side, and let it cool."),
        message(
            "Mark the side edges {half} to the left and to the right of the center line, the top edge {top} above the "
            "highest point of the words, and the bottom edge {bottom} below their lowest point.",
            half=as_size(width / 2, units),
            top=as_length(top, units, denominator=16),
            bottom=as_length(bottom, units, denominator=16),
        ),
        message(
            "Trim the panel to {width} by {height} on these lines, seam allowance included: the same off every side, "
            "{off}, less what the stitching drew in.",
            width=as_size(width, units),
            height=as_size(height, units),
            off=as_size(panel.trim / 2, units),
        ),
    )


def baseline_said(downs: Sequence[float], units: Units) -> Field:
    """How far down a baseline is: one distance, or those of its two ends."""
    first, *others = (as_length(down, units, denominator=16) for down in downs)
    return message("{first} to {last}", first=first, last=others[0]) if others else first


# Borders


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


def step_said(
    border: BorderPlan, step: BorderStep, seam_allowance: Fraction, units: Units
) -> Iterator[Message]:
    """One round of sewing a border on: its pieces in order, its strips, and how large the top is then."""
    for strip in step.strips:
        if len(strip.pieces) > 1:
            yield _IN_ORDER[strip.side].filled(pieces=_in_order(strip))
    yield from _odd_said(border, step, units)
    lengths = dict.fromkeys(as_size(strip.cut_length, units) for strip in step.strips)
    if border.corners is Corners.MITERED:
        yield message(
            "Center a strip of {lengths} on each side, stop the seams {seam} from the corners, and miter them.",
            lengths=listed(lengths),
            seam=as_seam(seam_allowance, units),
        )
    elif step.strips[0].side.upright:
        yield message(
            "Sew to the left and right: {lengths} long. Press towards the border.", lengths=listed(lengths)
        )
    else:
        yield message(
            "Sew to the top and bottom: {lengths} long. Press towards the border.", lengths=listed(lengths)
        )
    yield message(
        "The top is now {cut}, and {finished} when it is finished.",
        cut=_by(step.cut, units),
        finished=_by(step.finished, units),
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


def _in_order(strip: SideStrip) -> Message:
    """A sequence of fabrics in words, a cycle that repeats said once."""
    names = [fabric for fabric, _ in strip.pieces]
    for cycle in range(1, len(names) // 2 + 1):
        if all(name == names[index % cycle] for index, name in enumerate(names)):
            return messages(
                "{count} piece, {cycle} and so on, ending with {last}",
                "{count} pieces, {cycle} and so on, ending with {last}",
                len(names),
                cycle=_one_by_one(names[:cycle]),
                last=names[-1],
            )
    return messages("{count} piece: {names}", "{count} pieces: {names}", len(names), names=listed(names))


def _one_by_one(names: Sequence[str]) -> Field:
    """`names` one after the other, with more to follow."""
    first, *others = names
    said: Field = first
    for name in others:
        said = message("{names}, {name}", names=said, name=name)
    return said


# Finishing


def backing_said(backing: BackingPlan, use: ClothUse | None, units: Units) -> Message:
    """The backing: its size, and how it is pieced if cloth is cut for it."""
    size = _by((backing.width, backing.height), units)
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
    size = _by((max(piece.length, piece.width), min(piece.length, piece.width)), units, as_available)
    return message("{fabric} {size}", fabric=piece.fabric, size=size)


def backing_row_said(number: int, row: Sequence[Leftover], units: Units) -> Message:
    """One row of a backing pieced from leftovers, the longer side of each piece first."""
    pieces = (_leftover(piece, units) for piece in row)
    return message("Row {number}: {pieces}.", number=number, pieces=listed(pieces))


def batting_said(batting: BattingPlan, units: Units) -> Message:
    """The batting: how large it has to be, and the size that is sold."""
    return message(
        "Batting at least {size}: {name}.",
        size=_by((batting.width, batting.height), units, as_needed),
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
        size=_by((sleeve.cut_length, sleeve.cut_depth), units),
        hem=as_length(SLEEVE_HEM, units),
    )
