"""SVG cut files: each distinct letter, and each row with its letters in place; right-reading and mirrored."""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO
from typing import Final

import svgwrite

from applique.cutfiles.paths import flipped, piece_paths
from applique.mats import Mat
from applique.panel import PlacedRow
from applique.pattern import Pattern
from applique.pieces import Template
from applique.typeset.outline import Bounds, Contour, Outline
from applique.units import Units, format_both, format_number

__all__ = ["mat_outline", "safe_name", "svg_files"]

_BORDER: Final = 0.125
"""Inches of room around the ink."""
_HAIRLINE: Final = 0.01
_LONGEST_NAME: Final = 24


def svg_files(pattern: Pattern) -> dict[str, bytes]:
    """Every cut file as SVG by its name, such as `right-reading/letters/01-R.svg`."""
    return dict(_files(pattern))


def _files(pattern: Pattern) -> Iterator[tuple[str, bytes]]:
    units = pattern.design.units
    width = max(2, len(str(len(pattern.templates))))
    for mirrored, folder in ((False, "right-reading"), (True, "mirrored")):
        for template in pattern.templates:
            name = f"{folder}/letters/{template.number:0{width}d}-{safe_name(template.text)}.svg"
            yield name, _document(template.outline, units, mirrored, template.text, _said_of(template, units))
        for row in pattern.panel.rows:
            name = f"{folder}/lines/line-{row.number:0{width}d}-{safe_name(row.text)}.svg"
            yield name, _document(row.outline, units, mirrored, row.text, _said_of_row(row, units))
    for mat in pattern.mats:
        yield f"mats/mat-{mat.number:0{width}d}-{safe_name(mat.fabric)}.svg", _mat_document(pattern, mat)


def safe_name(text: str) -> str:
    """`text` as part of a file name every system takes; what is no ASCII letter or digit as code point."""
    words = ("".join(_safe(character) for character in word) for word in text.split())
    return "-".join(words)[:_LONGEST_NAME].rstrip("-") or "blank"


def _safe(character: str) -> str:
    return character if character.isascii() and character.isalnum() else f"u{ord(character):04x}"


def _said_of(template: Template, units: Units) -> str:
    cuts = ", ".join(f"cut {use.count} from {use.fabric.name}" for use in template.uses)
    return f"{template.font}, cap height {format_both(template.cap_height, units, denominator=16)}; {cuts}"


def _said_of_row(row: PlacedRow, units: Units) -> str:
    height = format_both(row.cap_height, units, denominator=16)
    return f"line {row.number}: {row.font}, cap height {height}; {row.fabric.name}"


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


def mat_outline(pattern: Pattern, mat: Mat) -> Outline:
    """Every letter of a mat where it lies, right-reading."""
    by_key = {template.key: template.outline for template in pattern.templates}
    quarters = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}
    contours: list[Contour] = []
    for spot in mat.placements:
        cos, sin = quarters[round(spot.turn_deg) % 360]
        contours += by_key[spot.key].transformed((cos, sin, -sin, cos, spot.x, spot.y)).contours
    return Outline(contours=tuple(contours))


def _drawn(outline: Outline, window: Bounds, units: Units, *, mirrored: bool, title: str, said: str) -> bytes:
    """An SVG of `window`: in inches or millimetres, with one unit of the viewBox for each."""
    unit, scale = ("mm", 25.4) if units is Units.CENTIMETRES else ("in", 1.0)
    across, down = ((high - low) * scale for low, high in ((window[0], window[2]), (window[1], window[3])))
    width, height = format_number(across, places=4), format_number(down, places=4)
    drawing = svgwrite.Drawing(
        size=(f"{width}{unit}", f"{height}{unit}"), viewBox=f"0 0 {width} {height}", debug=False
    )
    drawing.set_desc(title=title, desc=said)
    hairline = format_number(_HAIRLINE * scale, places=4)
    cut = drawing.g(id="cut", fill="none", stroke="#000000", stroke_width=hairline)
    for path in piece_paths(outline, flipped(window, mirrored=mirrored, scale=scale)):
        cut.add(drawing.path(d=path))
    drawing.add(cut)
    text = StringIO()
    drawing.write(text, pretty=True, indent=1)
    return text.getvalue().encode("utf-8")


def _window(ink: Bounds) -> Bounds:
    return (ink[0] - _BORDER, ink[1] - _BORDER, ink[2] + _BORDER, ink[3] + _BORDER)
