"""The words of the summary, and of the notes in the design file beside it: sizes, tables of words and letters, what to
sew and to buy, and what to do next.

Names of files are fields, in the signs that make them code in Markdown; they are the same in every language.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Final

from applique.cloth import ClothUse, UseKind
from applique.design import FreezerPaper, Method, PaperSize, QuiltingKind, WhenStitched
from applique.errors import Notice
from applique.language import Field, Listing, Message, Speech, listed, message, messages
from applique.marks import RowMark, WordsReach
from applique.panel import PanelPlan
from applique.pieces import Layer, TemplateUse
from applique.quilt.setting import SettingPlan
from applique.quilt.whole import QuiltPlan
from applique.sewing.plan import RowPlan, StitchPlan
from applique.sewing.quilting import QuiltingPlan
from applique.shopping import Shelf
from applique.units import MM_PER_INCH, Units, as_available, as_length, as_size, as_size_both, as_yardage
from applique.words import below, garment, loose
from applique.words.blocks import BLOCK_STEPS, made_said
from applique.words.buying import item_said, material_said, rule_said, shelf_name
from applique.words.cloth import use_said
from applique.words.instructions.setting import set_said
from applique.words.panel_shapes import shaped_sizes_said
from applique.words.quilt import class_said, trimmed_said
from applique.words.sewing import course_said, minutes_said, paces_said, when_reason_said
from applique.words.sheets import PAPERS, STITCHES, pieces_said, set_apart
from applique.yardage import StripNeed, WebKind

__all__ = [
    "BUYING",
    "BUYING_HEAD",
    "LETTERS_HEAD",
    "NO_ROW_FILE",
    "OWN_FONTS",
    "PUBLISHING",
    "SEWING",
    "SEWING_HEAD",
    "STEPS",
    "WORDS",
    "baseline_said",
    "cuts_said",
    "extent_said",
    "file_size_said",
    "fitted_said",
    "font_notes",
    "fonts_said",
    "mark_note",
    "next_steps",
    "one_fabric_said",
    "precut_line_said",
    "quilt_said",
    "quilting_said",
    "risk_said",
    "shelf_said",
    "still_cut_said",
    "stitch_said",
    "time_said",
    "to_cut_said",
    "total_time_said",
    "web_said",
    "when_said",
    "words_head",
]

WORDS: Final = message("The words")
_BASELINE: Final = message("baseline below the cut top edge")
WORDS_HEAD: Final = (
    message("row"),
    message("words"),
    message("font"),
    message("cap height"),
    message("fabric"),
    _BASELINE,
    message("width by height"),
    message("cut file, width by height"),
)


def words_head(panel: PanelPlan) -> tuple[Message, ...]:
    """The head of the table of rows: baselines are measured from the cut top edge, or from what else there is."""
    point = below.point_of(panel)
    if point is None:
        return WORDS_HEAD
    return tuple(below.baseline_head(point) if head is _BASELINE else head for head in WORDS_HEAD)


NO_ROW_FILE: Final = message("none: its pieces lie over one another, so cut them one by one")
OWN_FONTS: Final = message("Fonts of your own")
LETTERS_HEAD: Final = (
    message("template"),
    message("letter"),
    message("cut"),
    message("row"),
    message("width by height"),
    message("cut file, width by height"),
)
SEWING: Final = message("To sew")
SEWING_HEAD: Final = (
    message("row"),
    message("stitch"),
    message("edge"),
    message("stitches"),
    message("time"),
)
BUYING: Final = message("To buy")
BUYING_HEAD: Final = (message("fabric"), message("for"), message("buy"), message("how we figured it"))
STEPS: Final = message("What to do next")
PUBLISHING: Final = message("Before you publish")

_WHEN: Final = {
    WhenStitched.PANEL: message("Stitch the letters before the borders: {reason}"),
    WhenStitched.TOP: message("Stitch the letters after the borders: {reason}"),
    WhenStitched.QUILTING: message("Stitch the letters with the quilting: {reason}"),
}
_ON_EACH_BLOCK: Final = message(
    "Stitch the letters on each block, before the blocks are sewn together: {reason}"
)
_BEFORE_LAYERING: Final = message("Stitch the letters before you layer the quilt: {reason}")
_QUILTINGS: Final = {
    QuiltingKind.ECHO: message("Quilting, echo: {lines}"),
    QuiltingKind.LINES: message("Quilting, lines: {lines}"),
    QuiltingKind.CROSSHATCH: message("Quilting, crosshatch: {lines}"),
    QuiltingKind.EDGE_TO_EDGE: message("Quilting, edge to edge: {lines}"),
    QuiltingKind.DITCH: message("Quilting, in the ditch: {lines}"),
}
_WEBS: Final = {
    WebKind.FUSIBLE_WEB: message("Fusible web, {width} wide: {length} ({rule})"),
    WebKind.FREEZER_PAPER: message("Freezer paper, {width} wide: {length} ({rule})"),
}

_LAYERS_CUT: Final = {Layer.OUTLINE: message("outlines"), Layer.SHAPE: message("shapes")}


def quilt_said(
    designer: str, publisher: str, quilt: QuiltPlan, panel: PanelPlan, reach: WordsReach, units: Units
) -> Message:
    """Whose design it is and who publishes it, if that is known, how large the quilt and its panel are, and from what
    to cut the panel."""
    size = loose.sizes_said(reach, units) if panel.loose else _size(quilt, panel, units)
    if publisher and designer and publisher != designer:
        return message(
            "Designed by {designer}, published by {publisher}. {size}",
            designer=designer,
            publisher=publisher,
            size=size,
        )
    if publisher and not designer:
        return message("Published by {publisher}. {size}", publisher=publisher, size=size)
    return message("Designed by {designer}. {size}", designer=designer, size=size) if designer else size


def _size(quilt: QuiltPlan, panel: PanelPlan, units: Units) -> Message:
    if quilt.apart:
        return made_said(quilt, units)
    if panel.outline is not None:
        return shaped_sizes_said(
            quilt.finished, (panel.cut_width, panel.cut_height), panel.fabric.name, units
        )
    if quilt.setting is not None:
        return _set_together(quilt, quilt.setting, units)
    size = _sizes(quilt, panel, units)
    return message("{size} {trim}", size=size, trim=trimmed_said(panel, units)) if panel.trim else size


_SIZES: Final = message(
    "The finished quilt is {width} wide and {height} high, {size}. Its panel finishes at {panel_width} wide and "
    "{panel_height} high; cut it {cut_width} wide and {cut_height} high from {fabric}."
)
_TOP_SIZES: Final = message(
    "The top alone, for a quilt that is {width} wide and {height} high when it is finished, {size}. Its panel finishes "
    "at {panel_width} wide and {panel_height} high; cut it {cut_width} wide and {cut_height} high from {fabric}."
)


_PILLOW_SIZES: Final = message(
    "The finished pillow is {width} wide and {height} high. The panel of its front finishes at {panel_width} wide and "
    "{panel_height} high; cut it {cut_width} wide and {cut_height} high from {fabric}."
)


_BANNER_SIZES: Final = message(
    "The finished banner is {width} wide and {height} high. The panel of its front finishes at {panel_width} wide and "
    "{panel_height} high; cut it {cut_width} wide and {cut_height} high from {fabric}."
)


_SET: Final = message(
    "The finished quilt is {width} wide and {height} high, {size}. Its blocks are set together: {grid}"
)
_SET_TOP: Final = message(
    "The top alone, for a quilt that is {width} wide and {height} high when it is finished, {size}. Its blocks are set "
    "together: {grid}"
)


def _set_together(quilt: QuiltPlan, setting: SettingPlan, units: Units) -> Message:
    return (_SET if quilt.layered else _SET_TOP).filled(
        width=as_size_both(quilt.finished[0], units),
        height=as_size_both(quilt.finished[1], units),
        size=class_said(quilt.size_class, units),
        grid=set_said(setting, units),
    )


def _sizes(quilt: QuiltPlan, panel: PanelPlan, units: Units) -> Message:
    if panel.worn is not None:
        return garment.sizes_said(panel, panel.worn, units)
    whole = _SIZES if quilt.layered else _TOP_SIZES
    template = _PILLOW_SIZES if quilt.pillow else _BANNER_SIZES if quilt.turned else whole
    return template.filled(
        width=as_size_both(quilt.finished[0], units),
        height=as_size_both(quilt.finished[1], units),
        size=class_said(quilt.size_class, units),
        panel_width=as_size_both(panel.width, units),
        panel_height=as_size_both(panel.height, units),
        cut_width=as_size_both(panel.cut_width, units),
        cut_height=as_size_both(panel.cut_height, units),
        fabric=panel.fabric.name,
    )


def baseline_said(mark: RowMark, units: Units) -> Field:
    """How far a baseline is below the cut top edge: one length, or one for either end of a turned row; of a row that
    runs down, from where to where its line reaches."""
    lengths = [as_length(down, units, denominator=16) for down in mark.downs]
    if mark.runs_down:
        return message("runs down, from {start} to {end}", start=lengths[0], end=lengths[1])
    if len(lengths) == 1:
        return lengths[0]
    return message("{start} to {end}", start=lengths[0], end=lengths[1])


def extent_said(size: tuple[float, float], units: Units) -> Message:
    """How wide and high (inches) something is, as a ruler says it."""
    width, height = (as_length(side, units, denominator=16) for side in size)
    return message("{width} by {height}", width=width, height=height)


def fitted_said(rows: Sequence[int], margin: Fraction, units: Units) -> Message:
    """Which rows are as large as fits, and the margin that decides it."""
    return messages(
        "Row {rows} is as large as fits inside the margin of {margin}.",
        "Rows {rows} are as large as fits inside the margin of {margin}.",
        len(rows),
        rows=listed(str(row) for row in rows),
        margin=as_length(margin, units, denominator=16),
    )


def fonts_said() -> Message:
    """What to do with the font files of the maker's own."""
    return message(
        "To make this pattern again from {file}, put these files beside it, under these names:",
        file="`design.toml`",
    )


def font_notes(name: str, digest: str) -> tuple[Message, Message]:
    """What stands in the design file of a font of the maker's own."""
    return (
        message("Put the font file “{name}” beside this file.", name=name),
        message("Its SHA-256 is {digest}", digest=digest),
    )


def mark_note(name: str) -> Message:
    """What stands in the design file of the picture of a publisher's mark."""
    return message("Put the picture “{name}” beside this file.", name=name)


def to_cut_said(count: int, *, pieces: int, joined: bool) -> Message:
    """How many letters there are to cut, and in how many `pieces` where some are in several parts; only pieces if
    letters are `joined`."""
    if joined:
        return messages("{count} piece to cut", "{count} pieces to cut", pieces)
    if pieces > count:
        return messages(
            "{count} letter in {pieces} to cut",
            "{count} letters in {pieces} to cut",
            count,
            pieces=pieces_said(pieces),
        )
    return messages("{count} letter to cut", "{count} letters to cut", count)


def cuts_said(uses: Iterable[TemplateUse]) -> Listing:
    """How many are cut, and from which fabrics."""
    return listed(message("{count} from {fabric}", count=use.count, fabric=use.fabric.name) for use in uses)


def file_size_said(size: tuple[float, float], units: Units, speech: Speech) -> Message:
    """Width and height (inches) as a cutting program shows them: decimals, in the unit that the file is drawn in."""
    if units is Units.CENTIMETERS:
        width, height = (_decimal(side * float(MM_PER_INCH), 2, speech) for side in size)
        return message("{width} by {height} mm", width=width, height=height)
    width, height = (_decimal(side, 3, speech) for side in size)
    return message("{width} by {height} in", width=width, height=height)


def _decimal(number: float, places: int, speech: Speech) -> str:
    return speech.number(round(Fraction(number), places), grouped=False)


def stitch_said(row: RowPlan) -> Message:
    """The stitch of a row."""
    return STITCHES[row.stitch.stitch]


def time_said(row: RowPlan) -> Message:
    """How long a row takes, at the least and at the most."""
    return minutes_said(row.minutes)


def total_time_said(plan: StitchPlan) -> Message:
    """How long the stitching takes in all, and what that rests on."""
    return message(
        "At the machine: {time} in all, at {paces} stitches a minute while guiding",
        time=minutes_said(plan.minutes),
        paces=paces_said(plan),
    )


def when_said(plan: StitchPlan, *, bordered: bool, set_together: bool) -> Message:
    """When the letters are stitched, and why; a top that is not `bordered` is its panel, or blocks `set_together`."""
    template = _WHEN[plan.when] if bordered or plan.when is WhenStitched.QUILTING else _BEFORE_LAYERING
    if set_together and plan.when is WhenStitched.PANEL:
        template = _ON_EACH_BLOCK
    reason = when_reason_said(plan.when_reason, bordered=bordered, set_together=set_together)
    return template.filled(reason=reason)


def quilting_said(plan: QuiltingPlan, units: Units) -> Message:
    """One kind of quilting."""
    kind = _QUILTINGS[plan.kind].filled(lines=course_said(plan.course, units))
    return message("{quilting} (one to choose from)", quilting=kind) if plan.offered else kind


def precut_line_said(fabric: str, cut: Message) -> Message:
    """A precut that would do for a fabric, and what is `cut` from it."""
    return message("{fabric}: {cut}", fabric=fabric, cut=cut)


def still_cut_said(fabric: str, uses: Iterable[ClothUse], layers: Iterable[Layer]) -> Message | None:
    """What else than letters is cut from a fabric, by its `uses` and the `layers` cut from it; None if nothing is."""
    others = [use_said(use) for use in uses if use.kind is not UseKind.LETTERS]
    behind = [_LAYERS_CUT[layer] for layer in dict.fromkeys(layers) if layer is not Layer.LETTER]
    if not others and not behind:
        return None
    return message("{fabric} for {uses}", fabric=fabric, uses=listed(dict.fromkeys([*others, *behind])))


def one_fabric_said(need: StripNeed, others: Sequence[Message], units: Units) -> Message:
    """What the letters would take from one fabric, instead of what each fabric has for them; `others` are those that
    something else is still cut from."""
    if others:
        return message(
            "If all letters came from {fabric}: {length} of it for the letters ({rule}); no letters from the others, "
            "which are still needed: {others}",
            fabric=material_said(need),
            length=as_yardage(need.buy, units),
            rule=rule_said(need.rule, units),
            others=set_apart(others),
        )
    return message(
        "If all letters came from {fabric}: {length} of it for the letters ({rule}), none of the others for letters",
        fabric=material_said(need),
        length=as_yardage(need.buy, units),
        rule=rule_said(need.rule, units),
    )


def web_said(need: StripNeed, web: WebKind, units: Units, speech: Speech) -> Message:
    """What to buy of the web, the length in bold, and by which rule."""
    return _WEBS[web].filled(
        width=as_available(need.usable_width, units),
        length=f"**{speech.measure(as_yardage(need.buy, units))}**",
        rule=rule_said(need.rule, units),
    )


def shelf_said(shelf: Shelf, units: Units) -> Message:
    """What to look for on a shelf of the shop."""
    return message(
        "{shelf}: {items}",
        shelf=shelf_name(shelf),
        items=set_apart(item_said(item, units) for item in shelf.items),
    )


def next_steps(
    pages: int,
    paper: PaperSize,
    panel: PanelPlan,
    units: Units,
    when: WhenStitched,
    *,
    method: Method,
    way: FreezerPaper,
    bordered: bool,
    bound: bool,
    blocks: bool,
    apart: bool,
) -> tuple[Message, ...]:
    """What to do with the files, of which a template file has `pages` pages, and with the quilt, `bordered` or not and
    `bound` or not, or of several `blocks`, each finished `apart` or set together, whose letters are made by `method`,
    with turned edges by that way of freezer paper, and stitched at `when`."""
    return (
        message("Read {file}: the whole pattern, from cutting to binding.", file="`pattern.pdf`")
        if bound
        else message("Read {file}: the whole pattern.", file="`pattern.pdf`"),
        _print_step(pages, paper, method, way),
        message("Measure the rule along the bottom and the one up the side before you cut anything."),
        BLOCK_STEPS[0].filled(file="`placement-guide.pdf`")
        if blocks
        else message(
            "Cut the panel, then mark its center line and baselines from {file}.",
            file="`placement-guide.pdf`",
        )
        if panel.is_cut
        else garment.STEPS
        if panel.worn
        else loose.STEPS,
        _LETTERS[method],
        BLOCK_STEPS[1].filled(file="`pattern.pdf`")
        if apart
        else _set_step(bordered=bordered).filled(file="`pattern.pdf`")
        if blocks
        else _last_step(panel, when, bordered=bordered).filled(
            width=as_size(panel.trimmed[0], units),
            height=as_size(panel.trimmed[1], units),
            file="`pattern.pdf`",
        ),
    )


def _set_step(*, bordered: bool) -> Message:
    """What is done with blocks that are set together."""
    if bordered:
        return message(
            "Fuse or baste, then stitch every block, set the blocks together and add the borders as {file} says."
        )
    return message("Fuse or baste, then stitch every block, and set the blocks together as {file} says.")


_LETTERS: Final = {
    Method.RAW_EDGE: message(
        "Trace, fuse and cut the letters, line them up with your marks, and look at them from across the room."
    ),
    Method.MACHINE_CUT: message(
        "Fuse web to the fabric, let the machine cut the letters, line them up with your marks, and look at them from "
        "across the room."
    ),
    Method.TURNED_EDGE: message(
        "Trace and cut the letters, turn their edges under, line them up with your marks, and look at them from across "
        "the room."
    ),
}


def _print_step(pages: int, paper: PaperSize, method: Method, way: FreezerPaper) -> Message:
    """Which of the two template files to print, and what for."""
    mirrored = method is not Method.TURNED_EDGE or way is FreezerPaper.WRONG_SIDE_DOWN
    fields: dict[str, Field] = {
        "paper": PAPERS[paper],
        "file": "`templates-mirrored.pdf`" if mirrored else "`templates-right-reading.pdf`",
    }
    match method:
        case Method.RAW_EDGE:
            return messages(
                "Print {file} at 100% on {paper}, {count} page, to trace onto fusible web.",
                "Print {file} at 100% on {paper}, {count} pages, to trace onto fusible web.",
                pages,
                **fields,
            )
        case Method.MACHINE_CUT:
            return messages(
                "Print {file} at 100% on {paper}, {count} page, to find the middle of each letter that your machine "
                "cuts.",
                "Print {file} at 100% on {paper}, {count} pages, to find the middle of each letter that your machine "
                "cuts.",
                pages,
                **fields,
            )
        case Method.TURNED_EDGE:
            return messages(
                "Print {file} at 100% on {paper}, {count} page, to trace onto freezer paper.",
                "Print {file} at 100% on {paper}, {count} pages, to trace onto freezer paper.",
                pages,
                **fields,
            )


def _last_step(panel: PanelPlan, when: WhenStitched, *, bordered: bool) -> Message:
    """From the fused letters to the finished quilt; a panel that is trimmed is stitched before its borders."""
    if panel.worn is not None:
        return message("Fuse or baste, then stitch, and finish the garment as {file} says.")
    if panel.loose:
        return loose.LAST
    if when is WhenStitched.QUILTING:
        if bordered:
            return message(
                "Fuse or baste, add the borders, layer the quilt, stitch the letters as you quilt, and finish as "
                "{file} says."
            )
        return message(
            "Fuse or baste, layer the quilt, stitch the letters as you quilt, and finish as {file} says."
        )
    if when is WhenStitched.TOP and bordered:
        return message("Fuse or baste, add the borders, then stitch, and finish the quilt as {file} says.")
    if panel.outline is not None:
        return message(
            "Fuse or baste, then stitch, cut the panel to its template, and finish it as {file} says."
        )
    if bordered and panel.trim:
        return message(
            "Fuse or baste, then stitch, trim the panel to {width} by {height}, and add the borders."
        )
    if bordered:
        return message("Fuse or baste, then stitch, and add the borders.")
    if panel.trim:
        return message(
            "Fuse or baste, then stitch, trim the panel to {width} by {height}, and finish the quilt as {file} says."
        )
    return message("Fuse or baste, then stitch, and finish the quilt as {file} says.")


def risk_said(notice: Notice) -> Message:
    """A notice with its place if it has one, and what to try in brackets where there is something."""
    what, fix = notice.what, notice.fix
    if notice.where and fix:
        return message("{where}: {what} (try: {fix})", where=notice.where.as_field(), what=what, fix=fix)
    if notice.where:
        return message("{where}: {what}", where=notice.where.as_field(), what=what)
    if fix:
        return message("{what} (try: {fix})", what=what, fix=fix)
    return what if isinstance(what, Message) else Message(template="{what}", fields=(("what", what),))
