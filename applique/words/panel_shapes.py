"""Panels that are no rectangles, in words: how they are cut, their templates, and how their edges are turned."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from applique.design import PanelShape
from applique.full_size import PanelTemplate
from applique.language import Field, Measure, Message, Unit, listed, message, messages
from applique.quilt.whole import PanelToCut
from applique.units import Units, as_length, as_seam, as_size
from applique.words.blocks import counted, size_said

__all__ = [
    "CUT_TO_SHAPE",
    "EDGE",
    "blocks_measured_said",
    "cut_drawn_said",
    "cut_out_said",
    "edge_said",
    "for_blocks_said",
    "made_size_said",
    "measured_said",
    "panel_said",
    "panels_said",
    "scale_said",
    "shaped_sizes_said",
    "template_bookmark",
    "template_line_said",
    "template_made_said",
    "template_note",
    "template_said",
    "top_said",
]

CUT_TO_SHAPE: Final = message("Cut the panel to its outline")
EDGE: Final = message("Turning the edge")
_TEMPLATES: Final[Mapping[PanelShape, Message]] = MappingProxyType(
    {
        PanelShape.TRIANGLE: message("panel: triangle flag, {size} finished"),
        PanelShape.SWALLOWTAIL: message("panel: swallowtail flag, {size} finished"),
        PanelShape.HALF_ROUND: message("panel: half-round flag, {size} finished"),
        PanelShape.CIRCLE: message("panel: circle, {size} finished"),
        PanelShape.HEXAGON: message("panel: hexagon, {size} finished"),
    }
)
_ROUND: Final = (PanelShape.HALF_ROUND, PanelShape.CIRCLE)
_POINTED: Final = (PanelShape.TRIANGLE, PanelShape.SWALLOWTAIL, PanelShape.HEXAGON)


def template_said(shape: PanelShape, size: tuple[Fraction, Fraction], units: Units) -> Message:
    """What the template of a panel is."""
    return _TEMPLATES[shape].filled(size=size_said(size, units))


def template_line_said(allowance: Fraction, units: Units) -> Message:
    """What the lines of the template are."""
    return message(
        "Bold: cut here, seam allowance {seam} included. Short dashes: finished edge. Long dashes: center line; fold "
        "the template there.",
        seam=as_seam(allowance, units),
    )


def for_blocks_said(blocks: Sequence[tuple[str, int]]) -> Message:
    """Which blocks are cut by it."""
    return message("for {blocks}", blocks=listed(counted(name, count) for name, count in blocks))


def template_bookmark(tile: str) -> Message:
    """The bookmark of a page of it."""
    return message("Template of the panel, page {tile}", tile=tile)


def template_note(tile: str) -> Message:
    """The header of a page of it."""
    return message("template of the panel, page {tile} · print at 100%", tile=tile)


def _rectangle(
    size: tuple[Fraction, Fraction], finished: tuple[Fraction, Fraction], units: Units
) -> dict[str, Field]:
    return {
        "width": as_size(size[0], units),
        "height": as_size(size[1], units),
        "finished": size_said(finished, units),
    }


def panel_said(
    pieces: Sequence[Field],
    size: tuple[Fraction, Fraction],
    finished: tuple[Fraction, Fraction],
    how: Field,
    units: Units,
) -> Message:
    """The panel as it is cut first: its pieces by name, its size, and how it lies on its fabric."""
    return messages(
        "{pieces} is for the panel, a rectangle {width} wide and {height} high for now: it is cut to the template of "
        "its outline once the letters are stitched (finished {finished}); {how}.",
        "{pieces} make the panel, a rectangle {width} wide and {height} high for now: it is cut to the template of its "
        "outline once the letters are stitched (finished {finished}); {how}.",
        len(pieces),
        pieces=listed(pieces),
        how=how,
        **_rectangle(size, finished, units),
    )


def panels_said(panels: Sequence[PanelToCut], pieces: Sequence[Field], how: Message, units: Units) -> Message:
    """The same for panels of blocks that are cut alike."""
    return message(
        "{pieces} is for {blocks}: each a rectangle {width} wide and {height} high for now, to cut to the template of "
        "its outline once the letters are stitched (finished {finished}); {how}. Write the name of its block on the "
        "wrong side of each.",
        pieces=listed(pieces),
        blocks=listed(counted(panel.name, panel.count) for panel in panels),
        how=how,
        **_rectangle((panels[0].cut.width, panels[0].cut.height), panels[0].finished, units),
    )


def scale_said(
    quilt_per_paper: Fraction, size: tuple[Fraction, Fraction], allowance: Fraction, units: Units
) -> Message:
    """How small the panel is drawn in the guide, how large to cut it, and which of its edges are which."""
    unit = Unit(units.value)
    return message(
        "Drawn small: {one} of paper is {many} of fabric. Cut the panel as a rectangle, {width} wide and {height} "
        "high; once the letters are stitched, cut it to the template on the last pages, seam allowance {allowance}. "
        "The outer line is the cut edge, the long dashes the edge to cut to, the short dashes the finished edge.",
        one=Measure(number=Fraction(1), unit=unit, as_fraction=False),
        many=Measure(number=quilt_per_paper, unit=unit, as_fraction=units is Units.INCHES),
        width=as_size(size[0], units),
        height=as_size(size[1], units),
        allowance=as_seam(allowance, units),
    )


def template_made_said(templates: Sequence[PanelTemplate]) -> tuple[Message, ...]:
    """The step of making the templates of panels from paper."""
    pages = sum(len(template.tiling.tiles) for template in templates)
    return (
        messages(
            "Print the template of the panel, the last page of the placement guide, at 100%, and measure its rules.",
            "Print the template of the panel, the last {count} pages of the placement guide, at 100%, measure their "
            "rules, and join the pages as they say.",
            pages,
        )
        if len(templates) == 1
        else message(
            "Print the templates of the panels, the last {count} pages of the placement guide, at 100%, measure their "
            "rules, and join the pages of each as they say.",
            count=pages,
        ),
        message(
            "Cut it out of the paper on the bold line, fold it along its center line, and open it again: the crease "
            "shows where its middle is, on both sides."
        ),
    )


def cut_out_said(above: float, units: Units) -> tuple[Message, ...]:
    """The step of cutting a panel to its outline, by its template whose top is so far above the highest point of the
    words."""
    return (
        message(
            "Press the panel and lay it flat, right side up. Lay its template on it, the crease on the center line, "
            "from its basting at the top to that at the bottom, and the top edge {above} above the highest point of "
            "the words. Hold it with weights, draw around it, and take it off.",
            above=as_length(above, units, denominator=16),
        ),
        message(
            "See that the words are level and in the middle of the outline; then cut on the line, straight edges along "
            "a ruler, round ones with scissors."
        ),
        message("Now pull the basting of the center line out, before you press the panel again."),
    )


def cut_drawn_said() -> Message:
    """What the drawing of that shows."""
    return message(
        "The panel as it was cut, its center line and its words, and the outline to cut it to; what is cut off is "
        "gray, the finished edge a row of short dashes."
    )


def top_said(off: Fraction, units: Units) -> Message:
    """What is done last to a panel that is cut to its outline."""
    return message(
        "Press each panel, clip the threads on its wrong side, and stitch once around it, {off} from its edge, so that "
        "slanting and round edges do not stretch.",
        off=as_seam(off, units),
    )


def made_size_said(finished: tuple[Fraction, Fraction], units: Units) -> Message:
    """How large it is once its edge is turned."""
    return message(
        "Once its edge is turned it is {width} wide and {height} high where it is widest and highest.",
        width=as_size(finished[0], units),
        height=as_size(finished[1], units),
    )


def measured_said(finished: tuple[Fraction, Fraction], allowance: Fraction, units: Units) -> Message:
    """Where the finished size is measured."""
    return message(
        "The finished size, {finished}, is that of the rectangle that the finished outline just fits. The template has "
        "the seam allowance of {seam} all around it.",
        finished=size_said(finished, units),
        seam=as_seam(allowance, units),
    )


def blocks_measured_said(allowance: Fraction, units: Units) -> Message:
    """The same of several panels."""
    return message(
        "The finished size of a panel is that of the rectangle that its finished outline just fits. Its template has "
        "the seam allowance of {seam} all around it.",
        seam=as_seam(allowance, units),
    )


def shaped_sizes_said(
    finished: tuple[Fraction, Fraction], size: tuple[Fraction, Fraction], fabric: str, units: Units
) -> Message:
    """The sizes of a panel alone, for the summary."""
    return message(
        "The panel is {finished} when it is finished, where it is widest and highest. Cut it as a rectangle {width} "
        "wide and {height} high from {fabric}; once the letters are stitched, cut it to its template in "
        "`placement-guide.pdf`.",
        finished=size_said(finished, units),
        width=as_size(size[0], units),
        height=as_size(size[1], units),
        fabric=fabric,
    )


def edge_said(
    shapes: Collection[PanelShape], allowance: Fraction, units: Units, *, hung: bool
) -> Iterator[Message]:
    """How the edge of panels of such shapes is turned, and their tops where they are `hung` from a tape.

    Source:
        Turn under or face; clip inside corners, notch curves: common practice, no source.
    """
    seam = as_seam(allowance, units)
    yield message(
        "The seam allowance of {seam} follows the outline. Turn it under along the finished edge and stitch it down; "
        "or face the panel: sew it to a second piece cut by the same template, right sides together, leave an opening "
        "in the straightest edge, turn it right side out, and close the opening.",
        seam=seam,
    )
    if hung:
        yield message("Leave the top edge as it is: its seam allowance goes into the tape.")
        yield message(
            "How it is faced or lined is not part of this pattern, and no fabric is reckoned for it."
        )
    else:
        yield message(
            "How it is faced, lined or hung is not part of this pattern, and no fabric is reckoned for it."
        )
    if PanelShape.SWALLOWTAIL in shapes:
        yield message(
            "At the inside corner of a swallowtail clip the seam allowance to a thread or two before the finished "
            "edge, or it will not turn."
        )
    if any(shape in _ROUND for shape in shapes):
        yield message(
            "Along a curve cut small notches out of the seam allowance, so that it lies flat when it is turned."
        )
    if any(shape in _POINTED for shape in shapes):
        yield message("At each point cut the seam allowance off across the tip, outside the finished edge.")
    if hung:
        yield message(
            "Felt does not ravel: below the tape cut it along the finished edge of the template instead, with nothing "
            "to turn, if you like."
        )
    else:
        yield message(
            "Felt does not ravel: cut it along the finished edge of the template instead, with nothing to turn, if you "
            "like."
        )
