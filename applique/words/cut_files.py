"""What a cut file says of itself, for the cutting program that opens it: a title, a line about the drawing; and what
fits no mat."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Final

from applique.design import Method, QuiltingKind
from applique.errors import Notice, Where
from applique.language import Message, listed, message, messages
from applique.mats import Mat, MatPlan
from applique.panel import PlacedRow
from applique.pieces import Layer, Template
from applique.sewing.quilting import QuiltingPlan
from applique.units import Units, as_both, as_length, as_seam
from applique.words.sewing import course_said
from applique.words.sheets import set_apart

__all__ = [
    "FOLDER_OF_FILES",
    "FOR_A_MACHINE",
    "ZIP_OF_FILES",
    "files_said",
    "mat_notices",
    "mat_said",
    "mat_title",
    "outline_title",
    "panel_cut_said",
    "panel_finished_said",
    "quilting_said",
    "quilting_title",
    "row_outline_said",
    "row_said",
    "seen_from",
    "template_said",
]

ZIP_OF_FILES: Final = message("The cut files are in the zip that came with this pattern:")
FOLDER_OF_FILES: Final = message("The cut files are in the folder “{folder}”:", folder="cut-files")
FOR_A_MACHINE: Final = message("Files for a cutting machine. Import them at 100% and do not resize.")
_FOLDERS: Final = ((Layer.LETTER, "letters"), (Layer.OUTLINE, "outlines"), (Layer.SHAPE, "shapes"))
_QUILTINGS: Final = {
    QuiltingKind.ECHO: message("Quilting: echo"),
    QuiltingKind.LINES: message("Quilting: lines"),
    QuiltingKind.CROSSHATCH: message("Quilting: crosshatch"),
    QuiltingKind.EDGE_TO_EDGE: message("Quilting: edge to edge"),
    QuiltingKind.DITCH: message("Quilting: in the ditch"),
}


def files_said(
    method: Method, templates: Iterable[Template], *, panels: bool, in_mats: bool, quilting: bool
) -> Iterator[Message]:
    """What is in the cut files, folder by folder: pieces, rows, panels that are no rectangles, mats, quilting."""
    yield message(
        "“{mirrored}” is for fabric that lies wrong side up on the mat, “{right}” for right side up. Both hold the "
        "same pieces.",
        mirrored="mirrored",
        right="right-reading",
    )
    layers = {template.layer for template in templates}
    folders = listed(f"“{name}”" for layer, name in _FOLDERS if layer in layers)
    if method is Method.TURNED_EDGE:
        yield message(
            "{folders}: one file for each template, with its turn-under, the number of the template first.",
            folders=folders,
        )
        yield message(
            "Files whose names begin with “row”: a whole row as it lies on the panel, without turn-under."
        )
    else:
        yield message("{folders}: one file for each template, its number first.", folders=folders)
        yield message("Files whose names begin with “row”: a whole row as it lies on the panel.")
    if panels:
        yield message(
            "“{panels}”: the outline of each panel, once with its seam allowance and once at its finished edge.",
            panels="panels",
        )
    if in_mats:
        yield message("“{mats}”: all pieces, laid out on mats.", mats="mats")
    if quilting:
        yield message(
            "“{quilting}”: lines of quilting for a pen or a quilting machine. Nothing in it is cut.",
            quilting="quilting",
        )


def outline_title(words: str) -> Message:
    """What lies behind a row."""
    return message("{letters} outline", letters=words)


def mat_title(mat: Mat) -> Message:
    """A mat by its number."""
    return message("Mat {number}", number=str(mat.number))


def quilting_title(kind: QuiltingKind) -> Message:
    """One kind of quilting."""
    return _QUILTINGS[kind]


def quilting_said(plan: QuiltingPlan, units: Units) -> Message:
    """How the lines of one kind of quilting run, and that they stop at the echoes where they do."""
    course = course_said(plan.course, units)
    return message("{lines}, outside the echo lines", lines=course) if plan.outside_echoes else course


def seen_from(drawing: Message, *, mirrored: bool) -> Message:
    """What a drawing is, and which way round it is drawn."""
    if mirrored:
        return message("mirrored; {drawing}", drawing=drawing)
    return message("right-reading; {drawing}", drawing=drawing)


def template_said(template: Template, units: Units) -> Message:
    """What the drawing of a template is."""
    return set_apart(_facts(template, units))


def _facts(template: Template, units: Units) -> Iterator[Message]:
    if template.layer is Layer.OUTLINE:
        yield message("outline behind the letter")
    if template.turned:
        yield message("the cut line, with its turn-under")
        if template.turned.mouths:
            yield message("the cut through a narrow mouth")
    if template.letter is not None:
        yield message(
            "{font}, cap height {height}",
            font=template.letter.font,
            height=as_both(template.letter.cap_height, units, denominator=16),
        )
    uses = [
        message("{count} from {fabric}", count=use.count, fabric=use.fabric.name) for use in template.uses
    ]
    yield message("cut {uses}", uses=listed(uses))


def row_said(row: PlacedRow, units: Units) -> Message:
    """What the drawing of a row is."""
    return message(
        "row {number}: {font}, cap height {height}; {fabric}",
        number=str(row.number),
        font=row.font,
        height=as_both(row.cap_height, units, denominator=16),
        fabric=row.fabric.name,
    )


def row_outline_said(row: PlacedRow) -> Message:
    """What the drawing of the outlines behind a row is."""
    return message("the outlines behind row {number}", number=str(row.number))


def panel_cut_said(allowance: Fraction, units: Units) -> Message:
    """What the drawing of a panel is that is cut out with its seam allowance."""
    return message("the edge to cut, seam allowance {seam} included", seam=as_seam(allowance, units))


def panel_finished_said() -> Message:
    """What the drawing of a panel is that is cut out without."""
    return message("the finished edge, for felt and whatever else needs no seam allowance")


def mat_said(mat: Mat) -> Message:
    """What lies on a mat."""
    return messages(
        "{count} piece from {fabric}", "{count} pieces from {fabric}", len(mat.placements), fabric=mat.fabric
    )


def mat_notices(plan: MatPlan, units: Units) -> tuple[Notice, ...]:
    """Which templates are too large for the mat of a cutting machine; nothing where all fit."""
    if not plan.too_large:
        return ()
    width, height = plan.room
    return (
        Notice(
            kind="too-large-for-the-mat",
            what=message(
                "too large for the {width} by {height} that the mat offers: {names}",
                width=as_length(width, units),
                height=as_length(height, units),
                names=listed(template.name for template in plan.too_large),
            ),
            where=Where.key("cutting"),
            fix=message("cut by hand from the templates, a larger mat, or smaller letters"),
        ),
    )
