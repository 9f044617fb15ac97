"""SVG cut files: each distinct letter, and each row with its letters in place; right-reading and mirrored."""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO
from typing import Final

import svgwrite

from applique.cutfiles.paths import flipped, line_path, piece_paths
from applique.mats import Mat
from applique.panel import PlacedRow
from applique.pattern import Pattern
from applique.pieces import Layer, Template
from applique.sewing.quilting import QuiltingPlan
from applique.typeset.outline import Bounds, Contour, Outline
from applique.units import Units, format_both, format_number

__all__ = ["cut_line", "mat_outline", "safe_name", "svg_files"]

_BORDER: Final = 0.125
"""Inches of room around the ink."""
_HAIRLINE: Final = 0.01
_LONGEST_NAME: Final = 24
_FOLDERS: Final = {Layer.LETTER: "letters", Layer.OUTLINE: "outlines"}


def svg_files(pattern: Pattern) -> dict[str, bytes]:
    """Every cut file as SVG by its name, such as `right-reading/letters/01-R.svg`."""
    return dict(_files(pattern))


def _files(pattern: Pattern) -> Iterator[tuple[str, bytes]]:
    units = pattern.design.units
    width = max(2, len(str(len(pattern.templates))))
    for mirrored, folder in ((False, "right-reading"), (True, "mirrored")):
        for template in pattern.templates:
            name = f"{folder}/{_FOLDERS[template.layer]}/{template.number:0{width}d}-{safe_name(template.text)}.svg"
            yield (
                name,
                _document(cut_line(template), units, mirrored, template.text, _said_of(template, units)),
            )
        for row in pattern.panel.rows:
            name = f"{folder}/lines/line-{row.number:0{width}d}-{safe_name(row.text)}.svg"
            yield name, _document(row.outline, units, mirrored, row.text, _said_of_row(row, units))
            behind = _behind(pattern, row)
            if behind:
                said = f"the outline layer behind row {row.number}"
                yield (
                    name.replace("/lines/", "/outlines/"),
                    _document(behind, units, mirrored, row.text, said),
                )
    for plan in pattern.quilting:
        yield f"quilting/{plan.number:02d}-{safe_name(plan.kind)}.svg", _quilting_document(pattern, plan)
    for mat in pattern.mats:
        yield f"mats/mat-{mat.number:0{width}d}-{safe_name(mat.fabric)}.svg", _mat_document(pattern, mat)


def _behind(pattern: Pattern, row: PlacedRow) -> Outline:
    """The outline layer of a row in the frame of the panel."""
    placed = [
        piece.outline.transformed((1.0, 0.0, 0.0, 1.0, piece.x, piece.y))
        for piece in pattern.outlines
        if piece.row == row.number
    ]
    return Outline(contours=tuple(contour for outline in placed for contour in outline.contours))


def cut_line(template: Template) -> Outline:
    """What a machine cuts: the finished edge, or outside it the cut line of a turned edge."""
    return template.turned.outline if template.turned else template.outline


def safe_name(text: str) -> str:
    """`text` as part of a file name every system takes; what is no ASCII letter or digit as code point."""
    words = ("".join(_safe(character) for character in word) for word in text.split())
    return "-".join(words)[:_LONGEST_NAME].rstrip("-") or "blank"


def _safe(character: str) -> str:
    return character if character.isascii() and character.isalnum() else f"u{ord(character):04x}"


def _said_of(template: Template, units: Units) -> str:
    cuts = ", ".join(f"cut {use.count} from {use.fabric.name}" for use in template.uses)
    turned = "the cut line, with its turn-under; " if template.turned else ""
    layer = "outline behind the letter; " if template.layer is Layer.OUTLINE else ""
    height = format_both(template.cap_height, units, denominator=16)
    return f"{layer}{turned}{template.font}, cap height {height}; {cuts}"


def _said_of_row(row: PlacedRow, units: Units) -> str:
    height = format_both(row.cap_height, units, denominator=16)
    return f"row {row.number}: {row.font}, cap height {height}; {row.fabric.name}"


def _document(outline: Outline, units: Units, mirrored: bool, title: str, said: str) -> bytes:
    """An SVG of `outline` at true size, with a little room around it."""
    side = "mirrored" if mirrored else "right-reading"
    return _drawn(
        outline, _window(outline.bounds()), units, mirrored=mirrored, title=title, said=f"{side}; {said}"
    )


def _mat_document(pattern: Pattern, mat: Mat) -> bytes:
    """An SVG of a whole mat, mirrored as fused cloth lies on it."""
    outline = mat_outline(pattern, mat)
    count = len(mat.placements)
    said = f"mirrored, as cloth with web on its back lies on the mat; {count} letters from {mat.fabric}"
    window = (0.0, 0.0, mat.width, mat.height)
    return _drawn(outline, window, pattern.design.units, mirrored=True, title=f"Mat {mat.number}", said=said)


def _quilting_document(pattern: Pattern, plan: QuiltingPlan) -> bytes:
    """An SVG of the whole top at true size with the lines of one kind of quilting, for a pen or a quilting machine."""
    width, height = (float(side) for side in pattern.quilt.finished)
    window = (-width / 2, -height / 2, width / 2, height / 2)
    drawing, scale = _canvas(window, pattern.design.units, title=f"Quilting: {plan.kind}", said=plan.words)
    lines = drawing.g(
        id="pen", fill="none", stroke="#000000", stroke_width=format_number(_HAIRLINE * scale, places=4)
    )
    onto = flipped(window, mirrored=False, scale=scale)
    for line in plan.lines:
        lines.add(drawing.path(d=line_path(line, onto)))
    drawing.add(lines)
    return _written(drawing)


def mat_outline(pattern: Pattern, mat: Mat) -> Outline:
    """Every letter of a mat where it lies, right-reading."""
    by_key = {template.key: cut_line(template) for template in pattern.templates}
    quarters = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}
    contours: list[Contour] = []
    for spot in mat.placements:
        cos, sin = quarters[round(spot.turn_deg) % 360]
        contours += by_key[spot.key].transformed((cos, sin, -sin, cos, spot.x, spot.y)).contours
    return Outline(contours=tuple(contours))


def _drawn(outline: Outline, window: Bounds, units: Units, *, mirrored: bool, title: str, said: str) -> bytes:
    """An SVG of `window`: in inches or millimetres, with one unit of the viewBox for each."""
    drawing, scale = _canvas(window, units, title=title, said=said)
    hairline = format_number(_HAIRLINE * scale, places=4)
    cut = drawing.g(id="cut", fill="none", stroke="#000000", stroke_width=hairline)
    for path in piece_paths(outline, flipped(window, mirrored=mirrored, scale=scale)):
        cut.add(drawing.path(d=path))
    drawing.add(cut)
    return _written(drawing)


def _canvas(window: Bounds, units: Units, *, title: str, said: str) -> tuple[svgwrite.Drawing, float]:
    """An empty SVG of `window`, and how many of its units are an inch."""
    unit, scale = ("mm", 25.4) if units is Units.CENTIMETRES else ("in", 1.0)
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


def _window(ink: Bounds) -> Bounds:
    return (ink[0] - _BORDER, ink[1] - _BORDER, ink[2] + _BORDER, ink[3] + _BORDER)
