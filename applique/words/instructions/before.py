"""Before you start, in words."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from applique.design import Method, Yardage
from applique.language import Field, Message, listed, message
from applique.quilt.finishing import MOST_SHRUNK
from applique.quilt.whole import QuiltPlan
from applique.units import Units, as_seam
from applique.words import panel_shapes
from applique.words.blocks import measured_said
from applique.words.instructions.sizes import by_said, percent_said
from applique.words.sheets import inch_mark, millimeter_mark

__all__ = [
    "ABBREVIATIONS",
    "BEFORE",
    "FILES",
    "NAMES",
    "NAMES_SAID",
    "PRINTING",
    "SEAMS",
    "SIZE",
    "WASHING",
    "abbreviations_said",
    "files_said",
    "makers_said",
    "printing_said",
    "seams_said",
    "size_said",
    "washing_said",
]

BEFORE: Final = message("Before you start")
PRINTING: Final = message("Printing")
WASHING: Final = message("Washing")
SEAMS: Final = message("Seam allowance")
SIZE: Final = message("Finished size")
NAMES: Final = message("Names")
NAMES_SAID: Final = message(
    "Fabrics have capital letters, A, B, C; the pieces cut from each have small ones, a, b, c. Pin a slip with its "
    "letter to every piece as you cut it. Steps are numbered from the first to the last; tick the boxes off as you go."
)
FILES: Final = message("Files")
ABBREVIATIONS: Final = message("Short for")


def files_said(method: Method, *, mirrored: bool, labeled: bool) -> Message:
    """Which files lie beside the booklet in the folder of the maker of the pattern, and what each is for; that of a
    label if the quilt is `labeled`."""
    if mirrored:
        templates = message("templates-mirrored.pdf: the letters in mirror image, to trace")
    else:
        templates = message("templates-right-reading.pdf: the letters as they read, to trace")
    others = (
        message(
            "placement-guide.pdf: where each letter goes; nesting.pdf: how letters lie on web or freezer paper and "
            "fabric; quilt-label.pdf: the label for the back"
        )
        if labeled
        else message(
            "placement-guide.pdf: where each letter goes; nesting.pdf: how letters lie on web or freezer paper and "
            "fabric"
        )
    )
    if method is Method.MACHINE_CUT:
        return message(
            "{templates}; {others}; cut-files: what the machine cuts.", templates=templates, others=others
        )
    return message("{templates}; {others}.", templates=templates, others=others)


def printing_said(inches: int, millimeters: int, units: Units) -> Message:
    """How to print, and how to see that it is right; the rule on a sheet measures `inches` and `millimeters`, that of
    the pattern's own `units` first.
    """
    lengths = {"inches": inch_mark(inches), "millimeters": millimeter_mark(millimeters)}
    if units is Units.CENTIMETERS:
        return message(
            "Print at 100%, never “fit to page”. Measure the rule on the first template page before you cut: its "
            "millimeter scale must be {millimeters} long, its inch scale {inches}; each ends at a mark of its own. If "
            "they are not, change the setting and print again.",
            **lengths,
        )
    return message(
        "Print at 100%, never “fit to page”. Measure the rule on the first template page before you cut: its inch "
        "scale must be {inches} long, its millimeter scale {millimeters}; each ends at a mark of its own. If they are "
        "not, change the setting and print again.",
        **lengths,
    )


def washing_said(yardage: Yardage, *, listed: bool) -> Message:
    """Whether fabric is washed before it is cut; `listed` are amounts of fabrics that would be too narrow then."""
    if yardage.is_washed:
        return message(
            "Wash all fabrics before you cut, and press them. The amounts allow for {percent} of shrinkage.",
            percent=percent_said(float(yardage.shrinkage)),
        )
    if listed:
        return message(
            "The amounts are for unwashed fabric: do not wash it first. If one has to be washed, buy about {percent} "
            "more of it, or what “What you need” says of it, and measure its usable width again. Wash the finished "
            "piece with care; it may shrink a little.",
            percent=percent_said(float(MOST_SHRUNK)),
        )
    return message(
        "The amounts are for unwashed fabric: do not wash it first. If one has to be washed, buy about {percent} more "
        "of it, and measure its usable width again. Wash the finished piece with care; it may shrink a little.",
        percent=percent_said(float(MOST_SHRUNK)),
    )


def seams_said(seam_allowance: Fraction, units: Units) -> Message:
    """How wide the seams are, and how pieces lie when they are sewn."""
    return message(
        "Sew with a seam allowance of {seam}, right sides together, unless a step says otherwise. Every size to cut "
        "has its seam allowances in it. Press each seam before you sew across it.",
        seam=as_seam(seam_allowance, units),
    )


def size_said(quilt: QuiltPlan, units: Units) -> Message:
    """Where the finished size is measured, and what the quilt measures bound: the binding wraps its trimmed edge. One
    without a binding, and a top alone, measures a seam allowance more."""
    if quilt.apart:
        return (
            panel_shapes.blocks_measured_said(quilt.raw, units)
            if quilt.shapes
            else measured_said(quilt, units)
        )
    fields: dict[str, Field] = {"finished": by_said(quilt.finished, units), "seam": as_seam(quilt.raw, units)}
    if quilt.pillow is not None:
        return message(
            "The finished size, {finished}, is that of the cover. Its front is {seam} larger on every side: it "
            "measures {raw} from raw edge to raw edge.",
            raw=by_said(quilt.trimmed, units),
            **fields,
        )
    if quilt.turned:
        return message(
            "The finished size, {finished}, is that of the banner. Its front is {seam} larger on every side: it "
            "measures {raw} from raw edge to raw edge.",
            raw=by_said(quilt.trimmed, units),
            **fields,
        )
    if quilt.shapes:
        return panel_shapes.measured_said(quilt.finished, quilt.raw, units)
    if not quilt.layered:
        return message(
            "The finished size, {finished}, is what the quilt will show. The top is {seam} larger on every side: it "
            "measures {raw} from raw edge to raw edge.",
            raw=by_said(quilt.trimmed, units),
            **fields,
        )
    if quilt.binding is None:
        return message(
            "The finished size, {finished}, is what shows once the edge is finished. The trimmed quilt is {seam} "
            "larger on every side: {raw} from raw edge to raw edge.",
            raw=by_said(quilt.trimmed, units),
            **fields,
        )
    return message(
        "The finished size, {finished}, is what shows inside the binding. The binding covers {seam} more on every "
        "side: once it is bound, the quilt measures about {bound}.",
        bound=by_said(quilt.trimmed, units),
        **fields,
    )


def abbreviations_said(units: Units) -> Message:
    """The units that the pattern prints, and the sides in its table and drawing of places."""
    if units is Units.CENTIMETERS:
        return message(
            "cm: centimeter; m: meter, 100 cm; mm: millimeter; in: inch, 2.54 cm; min: minute; h: hour; L, R: left and "
            "right of the center line"
        )
    return message(
        "in: inch; ft: foot, 12 in; yd: yard, 36 in; mm: millimeter, for stitches; cm: centimeter; min: minute; "
        "h: hour; L, R: left and right of the center line"
    )


def makers_said(method: Method, *, stabilizer: bool, batting: bool) -> Message:
    """Whose instructions come first: those of the makers of what this pattern is made with."""
    first = message("freezer paper") if method is Method.TURNED_EDGE else message("fusible web")
    held = (message("stabilizer"),) if stabilizer else ()
    return message(
        "Follow the instructions of the makers of {supplies}; they come first.",
        supplies=listed((first, *held, *([message("batting")] if batting else []))),
    )
