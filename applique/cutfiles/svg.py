"""SVG cut files: the drawings for a cutting machine, and the lines of quilting for a pen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from io import StringIO
from typing import Final

import svgwrite

from applique.cutfiles.drawings import SIDES, CutDrawing, cut_drawings, quilting_name
from applique.cutfiles.paths import flipped, line_path, outline_path
from applique.geometry.outline import Outline, pieces_of
from applique.geometry.points import Bounds
from applique.pattern import Pattern
from applique.sewing.quilting import QuiltingPlan
from applique.units import Units, format_number
from applique.words.cut_files import quilting_said, quilting_title, seen_from

__all__ = ["svg_files"]

_HAIRLINE: Final = 0.01


def svg_files(pattern: Pattern) -> dict[str, bytes]:
    """Every cut file as SVG by its name, such as `right-reading/letters/01-R.svg`."""
    return dict(_files(pattern))


def _files(pattern: Pattern) -> Iterator[tuple[str, bytes]]:
    for drawing in cut_drawings(pattern):
        pieces = pieces_of(drawing.outline)
        for mirrored, side in SIDES:
            yield f"{side}/{drawing.name}.svg", _drawn(pattern, drawing, pieces, mirrored=mirrored)
    for plan in pattern.quilting:
        yield f"{quilting_name(plan)}.svg", _quilting_document(pattern, plan)


def _drawn(pattern: Pattern, drawing: CutDrawing, pieces: Sequence[Outline], *, mirrored: bool) -> bytes:
    """An SVG of the connected `pieces` of a drawing at true size, a path for each, its shell first: in inches or
    millimeters, with one unit of the viewBox for each."""
    speech, about = pattern.speech, seen_from(drawing.said, mirrored=mirrored)
    svg, scale = _canvas(
        drawing.window, pattern.design.units, title=speech.field(drawing.title), said=speech.tell(about)
    )
    hairline = format_number(_HAIRLINE * scale, places=4)
    cut = svg.g(id="cut", fill="none", stroke="#000000", stroke_width=hairline)
    onto = flipped(drawing.window, mirrored=mirrored, scale=scale)
    for piece in pieces:
        cut.add(svg.path(d=outline_path(piece.contours, onto)))
    for slit in drawing.slits:
        cut.add(svg.path(d=line_path(slit, onto)))
    svg.add(cut)
    return _written(svg)


def _quilting_document(pattern: Pattern, plan: QuiltingPlan) -> bytes:
    """An SVG of the whole top at true size with the lines of one kind of quilting, for a pen or a quilting machine."""
    width, height = (float(side) for side in pattern.quilt.finished)
    window = (-width / 2, -height / 2, width / 2, height / 2)
    units = pattern.design.units
    title, said = map(pattern.speech.tell, (quilting_title(plan.kind), quilting_said(plan, units)))
    drawing, scale = _canvas(window, units, title=title, said=said)
    lines = drawing.g(
        id="pen", fill="none", stroke="#000000", stroke_width=format_number(_HAIRLINE * scale, places=4)
    )
    onto = flipped(window, mirrored=False, scale=scale)
    for line in plan.lines:
        lines.add(drawing.path(d=line_path(line, onto)))
    drawing.add(lines)
    return _written(drawing)


def _canvas(window: Bounds, units: Units, *, title: str, said: str) -> tuple[svgwrite.Drawing, float]:
    """An empty SVG of `window`, and how many of its units are an inch."""
    unit, scale = ("mm", 25.4) if units is Units.CENTIMETERS else ("in", 1.0)
    across, down = ((high - low) * scale for low, high in ((window[0], window[2]), (window[1], window[3])))
    width, height = format_number(across, places=4), format_number(down, places=4)
    drawing = svgwrite.Drawing(
        size=(f"{width}{unit}", f"{height}{unit}"), viewBox=f"0 0 {width} {height}", debug=False
    )
    drawing.set_desc(title=title, desc=said)
    return drawing, scale


def _written(drawing: svgwrite.Drawing) -> bytes:
    text = StringIO()
    drawing.write(text, pretty=True, indent=1)
    return text.getvalue().encode("utf-8")
