"""The picture of the quilt, as SVG and as PNG drawn from that same SVG.

Text is drawn as outlines of the bundled fonts, so that the picture is the same on every machine.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from io import StringIO
from typing import Final

import resvg_py
import svgwrite

from applique.cutfiles.paths import flipped, outline_path
from applique.geometry.outline import Contour
from applique.geometry.points import Bounds, Matrix, Point
from applique.pattern import Pattern
from applique.typeset.labels import label_outline, label_width
from applique.units import as_both, format_number

__all__ = ["preview_png", "preview_svg"]

INK: Final = "#3b3733"
QUIET: Final = "#8c857c"
PAPER: Final = "#ffffff"
_DEFAULT_WIDTH_PX: Final = 900
_SCENE_SHARE: Final = 0.5
"""How high the scene beside the quilt is, as a share of the drawn quilt, at the most."""


def preview_svg(pattern: Pattern) -> bytes:
    """The quilt in its fabrics' colors with its finished size, and beside it the same to scale with a door,
    a person and a sofa.

    The document is as large as the quilt and its surround; one unit of the viewBox is 1 in.
    """
    width, height = (float(side) for side in pattern.quilt.finished)
    unit = max(width, height) / 40
    scene = pattern.quilt.scene
    small = min(_SCENE_SHARE * height / scene.height, _SCENE_SHARE * height / scene.width * 1.4)
    scene_left = width + 5.2 * unit
    window = (-2.5 * unit, -3.6 * unit, scene_left + scene.width * small + 2.5 * unit, height + 4.2 * unit)
    matrix = flipped(window, mirrored=False)
    across, down = (format_number(side, places=4) for side in (window[2] - window[0], window[3] - window[1]))
    drawing = svgwrite.Drawing(size=(f"{across}in", f"{down}in"), viewBox=f"0 0 {across} {down}", debug=False)
    drawing.set_desc(title=pattern.title)
    drawing.add(_box(drawing, window, matrix, fill=PAPER))
    quilt = drawing.g(id="quilt")
    for color, path in _quilt_paths(pattern, matrix, middle=(width / 2, height / 2)):
        quilt.add(drawing.path(d=path, fill=color))
    quilt.add(
        _box(drawing, (0.0, 0.0, width, height), matrix, fill="none", stroke=QUIET, stroke_width=unit * 0.035)
    )
    drawing.add(quilt)
    drawing.add(_scene(drawing, pattern, matrix, (scene_left, 0.0), small))
    for path, color in _words(pattern, width, height, unit, matrix):
        drawing.add(drawing.path(d=path, fill=color))
    text = StringIO()
    drawing.write(text)
    return text.getvalue().encode("utf-8")


def _quilt_paths(pattern: Pattern, matrix: Matrix, *, middle: Point) -> Iterator[tuple[str, str]]:
    """The whole quilt as (color, path data): panel, borders, then letters; its middle at `middle` under `matrix`."""
    panel = pattern.panel
    half_w, half_h = float(panel.width) / 2, float(panel.height) / 2
    corners = ((-half_w, -half_h), (half_w, -half_h), (half_w, half_h), (-half_w, half_h))
    yield panel.fabric.color, _polygon(corners, middle, matrix)
    for border in pattern.quilt.borders:
        for patch in border.patches:
            color = pattern.quilt.fabrics.by_name[patch.fabric].color
            yield color, _polygon([(float(x), float(y)) for x, y in patch.corners], middle, matrix)
    onto = (1.0, 0.0, 0.0, 1.0, middle[0] - half_w, middle[1] - half_h)
    for piece in pattern.outlines:
        outline = piece.place.outline(piece.outline).transformed(onto)
        yield piece.fabric.color, outline_path(outline.contours, matrix)
    for row in panel.rows:
        for placed in row.cuts:
            outline = placed.place.outline(placed.outline).transformed(onto)
            yield row.fabric.color, outline_path(outline.contours, matrix)


def _polygon(corners: Iterable[Point], middle: Point, matrix: Matrix) -> str:
    first, *rest = ((x + middle[0], y + middle[1]) for x, y in corners)
    contour = Contour(start=first, segments=tuple((corner,) for corner in rest))
    return outline_path([contour], matrix)


def _scene(drawing: svgwrite.Drawing, pattern: Pattern, matrix: Matrix, at: Point, small: float) -> object:
    """The quilt on a wall beside a door, a person and a sofa, `small` inches of drawing for an inch."""
    scene = pattern.quilt.scene
    shrunk = _then((small, 0.0, 0.0, small, *at), matrix)
    group = drawing.g(id="to-scale")
    for thing in scene.things:
        shapes = drawing.g(fill="none", stroke=QUIET, stroke_width=0.35 * small)
        for part in thing.parts:
            shapes.add(
                drawing.path(d=_polygon([(x, y) for x, y in part.exterior.coords[:-1]], (0.0, 0.0), shrunk))
            )
        group.add(shapes)
    x0, y0, x1, y1 = scene.quilt
    width, height = (float(side) for side in pattern.quilt.finished)
    start, end = _at(matrix, (width / 2, height / 2)), _at(shrunk, ((x0 + x1) / 2, (y0 + y1) / 2))
    hung = drawing.use("#quilt")
    hung.translate(*end)
    hung.scale(small)
    hung.translate(-start[0], -start[1])
    group.add(hung)
    group.add(_box(drawing, scene.quilt, shrunk, fill="none", stroke=QUIET, stroke_width=0.35 * small))
    floor = Contour(start=(-4.0, 0.0), segments=(((scene.width + 4.0, 0.0),),))
    group.add(
        drawing.path(d=outline_path([floor], shrunk), stroke=QUIET, stroke_width=0.35 * small, fill="none")
    )
    return group


def _at(matrix: Matrix, point: Point) -> Point:
    """`point` under `matrix`, to the decimals that are written."""
    a, b, c, d, e, f = matrix
    x, y = a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f
    return (float(format_number(x, places=4)), float(format_number(y, places=4)))


def _then(first: Matrix, second: Matrix) -> Matrix:
    """The matrix that does `first`, then `second`."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = second
    return (p * a + r * b, q * a + s * b, p * c + r * d, q * c + s * d, p * e + r * f + t, q * e + s * f + u)


def _box(drawing: svgwrite.Drawing, bounds: Bounds, matrix: Matrix, **style: object) -> object:
    a, _, _, d, e, f = matrix
    x0, y0, x1, y1 = bounds
    return drawing.rect(
        insert=(format_number(a * x0 + e, places=4), format_number(d * y1 + f, places=4)),
        size=(format_number(a * (x1 - x0), places=4), format_number(-d * (y1 - y0), places=4)),
        **style,
    )


def _words(
    pattern: Pattern, width: float, height: float, unit: float, matrix: Matrix
) -> Iterable[tuple[str, str]]:
    """The title above, the sizes along two sides, and the class below, as (path data, color)."""
    units, own = pattern.design.units, pattern.own_fonts
    size = unit * 0.95
    yield _set(pattern.title, (0.0, height + 1.4 * unit), unit * 1.5, matrix, own), INK
    across, down = (str(as_both(side, units)) for side in pattern.quilt.finished)
    centered = (width - label_width(across, size, own_fonts=own)) / 2
    yield _set(across, (centered, -1.7 * unit), size, matrix, own), QUIET
    low = (height - label_width(down, size, own_fonts=own)) / 2
    turned = label_outline(down, size, own_fonts=own).transformed(
        (0.0, 1.0, -1.0, 0.0, width + 1.7 * unit, low)
    )
    yield outline_path(turned.contours, matrix), QUIET
    about = f"{pattern.quilt.size_class.words(units)}; beside a door, a person of 5 ft 6 in and a sofa"
    yield _set(about, (width + 5.2 * unit, -1.7 * unit), size * 0.62, matrix, own), QUIET


def _set(text: str, at: tuple[float, float], size: float, matrix: Matrix, own: tuple[str, ...]) -> str:
    moved = label_outline(text, size, own_fonts=own).transformed((1.0, 0.0, 0.0, 1.0, *at))
    return outline_path(moved.contours, matrix)


def preview_png(svg: bytes, *, width_px: int = _DEFAULT_WIDTH_PX) -> bytes:
    """The SVG `svg` as a PNG `width_px` wide, drawn without any font of the machine."""
    return bytes(
        resvg_py.svg_to_bytes(svg_string=svg.decode("utf-8"), width=width_px, dpi=96, skip_system_fonts=True)
    )
