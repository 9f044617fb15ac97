"""The picture of the panel, as SVG and as PNG drawn from that same SVG.

Text is drawn as outlines of the bundled fonts, so that the picture is the same on every machine.
"""

from __future__ import annotations

from collections.abc import Iterable
from io import StringIO
from typing import Final

import resvg_py
import svgwrite

from applique.cutfiles.paths import flipped, outline_path
from applique.pattern import Pattern
from applique.typeset.labels import label_outline, label_width
from applique.typeset.outline import Bounds, Matrix
from applique.units import format_both, format_number

__all__ = ["preview_png", "preview_svg"]

INK: Final = "#3b3733"
QUIET: Final = "#8c857c"
PAPER: Final = "#ffffff"
_DEFAULT_WIDTH_PX: Final = 900


def preview_svg(pattern: Pattern) -> bytes:
    """The panel with its letters in their fabrics' colours and its finished size along two sides.

    The document is as large as the panel and its surround; one unit of the viewBox is 1 in.
    """
    panel = pattern.panel
    width, height = float(panel.width), float(panel.height)
    unit = max(width, height) / 40
    window = (-2.5 * unit, -3.2 * unit, width + 3.4 * unit, height + 4.2 * unit)
    matrix = flipped(window, mirrored=False)
    across, down = window[2] - window[0], window[3] - window[1]
    drawing = svgwrite.Drawing(
        size=(f"{format_number(across, places=4)}in", f"{format_number(down, places=4)}in"),
        viewBox=f"0 0 {format_number(across, places=4)} {format_number(down, places=4)}",
        debug=False,
    )
    drawing.set_desc(title=pattern.title)
    drawing.add(_box(drawing, window, matrix, fill=PAPER))
    allowance = float(panel.seam_allowance)
    cut = (-allowance, -allowance, width + allowance, height + allowance)
    hair = unit * 0.035
    drawing.add(
        _box(
            drawing,
            cut,
            matrix,
            fill="none",
            stroke=QUIET,
            stroke_width=hair,
            stroke_dasharray=f"{unit / 4:.4f}",
        )
    )
    drawing.add(
        _box(
            drawing,
            (0.0, 0.0, width, height),
            matrix,
            fill=panel.fabric.colour,
            stroke=QUIET,
            stroke_width=hair,
        )
    )
    for row in panel.rows:
        letters = drawing.g(id=f"line-{row.number}", fill=row.fabric.colour)
        for placed in row.cuts:
            outline = placed.outline.transformed((1.0, 0.0, 0.0, 1.0, placed.x, placed.y))
            letters.add(drawing.path(d=outline_path(outline.contours, matrix)))
        drawing.add(letters)
    for path in _words(pattern, width, height, unit, matrix):
        drawing.add(drawing.path(d=path[0], fill=path[1]))
    text = StringIO()
    drawing.write(text, pretty=True, indent=1)
    return text.getvalue().encode("utf-8")


def _box(drawing: svgwrite.Drawing, bounds: Bounds, matrix: Matrix, **style: object) -> object:
    a, _, _, d, e, f = matrix
    x0, y0, x1, y1 = bounds
    return drawing.rect(
        insert=(format_number(a * x0 + e, places=4), format_number(d * y1 + f, places=4)),
        size=(format_number(x1 - x0, places=4), format_number(y1 - y0, places=4)),
        **style,
    )


def _words(
    pattern: Pattern, width: float, height: float, unit: float, matrix: Matrix
) -> Iterable[tuple[str, str]]:
    """The title above, the width below and the height up the right side, as (path data, colour)."""
    units, own = pattern.design.units, pattern.own_fonts
    size = unit * 0.95
    yield _set(pattern.title, (0.0, height + 1.4 * unit), unit * 1.5, matrix, own), INK
    across = format_both(pattern.panel.width, units)
    centred = (width - label_width(across, size, own_fonts=own)) / 2
    yield _set(across, (centred, -1.9 * unit), size, matrix, own), QUIET
    up = format_both(pattern.panel.height, units)
    low = (height - label_width(up, size, own_fonts=own)) / 2
    turned = label_outline(up, size, own_fonts=own).transformed(
        (0.0, 1.0, -1.0, 0.0, width + 1.9 * unit, low)
    )
    yield outline_path(turned.contours, matrix), QUIET


def _set(text: str, at: tuple[float, float], size: float, matrix: Matrix, own: tuple[str, ...]) -> str:
    moved = label_outline(text, size, own_fonts=own).transformed((1.0, 0.0, 0.0, 1.0, *at))
    return outline_path(moved.contours, matrix)


def preview_png(svg: bytes, *, width_px: int = _DEFAULT_WIDTH_PX) -> bytes:
    """The SVG `svg` as a PNG `width_px` wide, drawn without any font of the machine."""
    return bytes(
        resvg_py.svg_to_bytes(svg_string=svg.decode("utf-8"), width=width_px, dpi=96, skip_system_fonts=True)
    )
