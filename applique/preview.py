"""The picture of the quilt, as SVG and as PNG drawn from that same SVG.

Text is drawn as outlines of the bundled fonts, so that the picture is the same on every machine.
"""

from __future__ import annotations

import base64
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from io import StringIO
from typing import Final

import resvg_py
import svgwrite

from applique.colors import contrast_ratio
from applique.cutfiles.paths import flipped, outline_path
from applique.geometry.points import Bounds, Matrix, Point
from applique.pattern import Pattern
from applique.picture import Item, Pen, Picture
from applique.typeset.labels import label_outline, label_width
from applique.units import as_size_both, format_number
from applique.words.blocks import counted, size_said
from applique.words.picture import beside_said, scene_said

__all__ = ["corner_svg", "preview_png", "preview_svg", "quilt_svg"]

INK: Final = "#3b3733"
QUIET: Final = "#8c857c"
PAPER: Final = "#ffffff"
_DOWN: Final = (1.0, 0.0, 0.0, -1.0, 0.0, 0.0)
_DEFAULT_WIDTH_PX: Final = 900
_SEAMS: Final = (INK, PAPER)
_SEAM_SHARE: Final = 1 / 90
_SEAM_SEEN: Final = 0.7
"""Of a corner shown small: seams on dark and on light fabric, how wide and how plain."""
_SCENE_SHARE: Final = 0.5
"""How high the scene beside the quilt is, as a share of the drawn quilt, at the most."""


def preview_svg(pattern: Pattern) -> bytes:
    """The quilt in its fabrics' colors with its finished size, and beside it the same to scale with a door,
    a person and a sofa.

    The document is as large as the quilt and its surround; one unit of the viewBox is 1 in.
    """
    picture = pattern.picture
    width, height = picture.width, picture.height
    unit = max(width, height) / 40
    scene = picture.wall
    small = min(_SCENE_SHARE * height / scene.height, _SCENE_SHARE * height / scene.width * 1.4)
    scene_left = width + 5.2 * unit
    window = (-2.5 * unit, -3.6 * unit, scene_left + scene.width * small + 2.5 * unit, height + 4.2 * unit)
    matrix = flipped(window, mirrored=False)
    across, down = (format_number(side, places=4) for side in (window[2] - window[0], window[3] - window[1]))
    drawing = svgwrite.Drawing(size=(f"{across}in", f"{down}in"), viewBox=f"0 0 {across} {down}", debug=False)
    drawing.set_desc(title=pattern.title)
    drawing.add(_box(drawing, window, matrix, fill=PAPER))
    shapes = _kept(drawing, picture.items)
    photos = _photos(drawing, picture)
    quilt = drawing.g(id="quilt", stroke_linejoin="round")
    for laid in _painted(drawing, picture.items, shapes, matrix, photos):
        quilt.add(laid)
    drawing.add(quilt)
    drawing.add(_scene(drawing, picture, matrix, (scene_left, 0.0), small))
    for path, color in _words(pattern, width, height, unit, matrix):
        drawing.add(drawing.path(d=path, fill=color))
    text = StringIO()
    drawing.write(text)
    return text.getvalue().encode("utf-8")


def quilt_svg(picture: Picture) -> bytes:
    """The finished quilt alone, to be shown small; one unit of the viewBox is 1 in."""
    across, down = (format_number(side, places=4) for side in (picture.width, picture.height))
    drawing = svgwrite.Drawing(size=(f"{across}in", f"{down}in"), viewBox=f"0 0 {across} {down}", debug=False)
    matrix = flipped((0.0, 0.0, picture.width, picture.height), mirrored=False)
    shapes, photos = _kept(drawing, picture.items), _photos(drawing, picture)
    quilt = drawing.g(stroke_linejoin="round")
    for laid in _painted(drawing, picture.items, shapes, matrix, photos):
        quilt.add(laid)
    drawing.add(quilt)
    text = StringIO()
    drawing.write(text)
    return text.getvalue().encode("utf-8")


def corner_svg(items: Sequence[Item], height: float, reach: float) -> bytes:
    """The upper left corner of what is `height` inches high, as far as `reach` right and down; one unit is 1 in.

    Fabrics are shown in their colors, with seams that can be seen on each of them, however small.
    """
    side = format_number(reach, places=4)
    drawing = svgwrite.Drawing(size=(f"{side}in", f"{side}in"), viewBox=f"0 0 {side} {side}", debug=False)
    matrix = flipped((0.0, 0.0, reach, height), mirrored=False)
    corner = drawing.g(stroke_linejoin="round")
    for item in items:
        left, _, _, high = item.laid.bounds()
        if left < reach and high > height - reach:
            seam = max(_SEAMS, key=lambda color: contrast_ratio(color, item.fill or PAPER))
            shown = replace(item, pen=Pen(color=seam, width=reach * _SEAM_SHARE, opacity=_SEAM_SEEN))
            for laid in _painted(drawing, (shown,), {}, matrix, {}):
                corner.add(laid)
    drawing.add(corner)
    text = StringIO()
    drawing.write(text)
    return text.getvalue().encode("utf-8")


def _kept(drawing: svgwrite.Drawing, items: Sequence[Item]) -> dict[str, str]:
    """The names of the shapes of `items` that lie in several places, each defined once about its own origin."""
    count = Counter(item.key for item in items)
    several = {item.key: item for item in items if count[item.key] > 1}
    names = {key: f"shape-{number}" for number, key in enumerate(several, 1)}
    for key, item in several.items():
        drawing.defs.add(drawing.path(d=outline_path(item.outline.contours, _DOWN), id=names[key]))
    return names


def _photos(drawing: svgwrite.Drawing, picture: Picture) -> dict[str, str]:
    """The names of the patterns that photos of fabrics are, by their fabrics; each is as large as it shows cloth."""
    names: dict[str, str] = {}
    for number, (fabric, shown) in enumerate(picture.photos.items(), 1):
        names[fabric] = f"fabric-{number}"
        size = tuple(format_number(side, places=4) for side in shown.size)
        pattern = drawing.pattern(id=names[fabric], size=size, patternUnits="userSpaceOnUse")
        data = base64.b64encode(shown.photo.data).decode("ascii")
        href = f"data:{shown.photo.media_type};base64,{data}"
        pattern.add(drawing.image(href, size=size, preserveAspectRatio="none"))
        drawing.defs.add(pattern)
    return names


def _painted(
    drawing: svgwrite.Drawing,
    items: Sequence[Item],
    shapes: Mapping[str, str],
    matrix: Matrix,
    photos: Mapping[str, str],
) -> Iterator[object]:
    """The items of a picture, whose frame comes under `matrix`; a shape that lies in several places is kept once.

    What is filled with one of `photos` is drawn in its own frame, for the photo to turn with it.
    """
    for item in items:
        style = _style(item)
        photo = photos.get(item.fabric) if item.fill is not None else None
        if photo is not None:
            style["fill"] = f"url(#{photo})"
        if item.key in shapes or photo is not None:
            laid = (
                drawing.use(f"#{shapes[item.key]}", **style)
                if item.key in shapes
                else drawing.path(d=outline_path(item.outline.contours, _DOWN, closed=not item.open), **style)
            )
            laid.translate(*_at(matrix, (item.place.x, item.place.y)))
            if item.place.turn_deg:
                laid.rotate(-item.place.turn_deg)
            yield laid
        else:
            path = outline_path(item.laid.contours, matrix, closed=not item.open)
            yield drawing.path(d=path, **style)


def _style(item: Item) -> dict[str, object]:
    style: dict[str, object] = {"fill": item.fill or "none"}
    if item.pen is not None:
        style |= {"stroke": item.pen.color, "stroke_width": format_number(item.pen.width, places=4)}
        if item.pen.opacity < 1:
            style["stroke_opacity"] = item.pen.opacity
    return style


def _scene(drawing: svgwrite.Drawing, picture: Picture, matrix: Matrix, at: Point, small: float) -> object:
    """The quilt on a wall beside a door, a person and a sofa, `small` inches of drawing for an inch."""
    wall = picture.wall
    left, low = _at(matrix, at)
    group = drawing.g(id="to-scale")
    group.translate(left, low)
    group.scale(small)
    for thing in _painted(drawing, wall.items, {}, _DOWN, {}):
        group.add(thing)
    hung = drawing.use("#quilt")
    start = _at(matrix, (0.0, 0.0))
    hung.translate(wall.quilt[0] - start[0], -wall.quilt[1] - start[1])
    group.add(hung)
    return group


def _at(matrix: Matrix, point: Point) -> Point:
    """`point` under `matrix`, to the decimals that are written."""
    a, b, c, d, e, f = matrix
    x, y = a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f
    return (float(format_number(x, places=4)), float(format_number(y, places=4)))


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
    units, own, tell = pattern.design.units, pattern.own_fonts, pattern.speech.tell
    size = unit * 0.95
    yield _set(pattern.title, (0.0, height + 1.4 * unit), unit * 1.5, matrix, own), INK
    if pattern.quilt.apart:
        yield from _block_words(pattern, unit, matrix)
        about = tell(beside_said(pattern.quilt.scene, units))
        yield _set(about, (width + 5.2 * unit, -1.7 * unit), size * 0.62, matrix, own), QUIET
        return
    across, down = (tell(as_size_both(side, units)) for side in pattern.quilt.finished)
    centered = (width - label_width(across, size, own_fonts=own)) / 2
    yield _set(across, (centered, -1.7 * unit), size, matrix, own), QUIET
    low = (height - label_width(down, size, own_fonts=own)) / 2
    turned = label_outline(down, size, own_fonts=own).transformed(
        (0.0, 1.0, -1.0, 0.0, width + 1.7 * unit, low)
    )
    yield outline_path(turned.contours, matrix), QUIET
    about = tell(scene_said(pattern.quilt.size_class, pattern.quilt.scene, units))
    yield _set(about, (width + 5.2 * unit, -1.7 * unit), size * 0.62, matrix, own), QUIET


def _block_words(pattern: Pattern, unit: float, matrix: Matrix) -> Iterator[tuple[str, str]]:
    """The name of each block below it, with how many of it are made, and its size."""
    own, speech, units = pattern.own_fonts, pattern.speech, pattern.design.units
    for block, placed in zip(pattern.quilt.blocks, pattern.sketch.placed.blocks, strict=True):
        lines = (
            (speech.field(counted(block.name, block.count)), INK),
            (speech.tell(size_said(block.finished, units)), QUIET),
        )
        for number, (text, color) in enumerate(lines, 1):
            size = min(unit * 0.95, 1.0)
            room = float(block.finished[0])
            size *= min(1.0, room / max(label_width(text, size, own_fonts=own), 1e-9))
            left = placed.at.x + (room - label_width(text, size, own_fonts=own)) / 2
            yield _set(text, (left, placed.at.y - 1.45 * number), size, matrix, own), color


def _set(text: str, at: tuple[float, float], size: float, matrix: Matrix, own: tuple[str, ...]) -> str:
    moved = label_outline(text, size, own_fonts=own).transformed((1.0, 0.0, 0.0, 1.0, *at))
    return outline_path(moved.contours, matrix)


def preview_png(svg: bytes, *, width_px: int = _DEFAULT_WIDTH_PX) -> bytes:
    """The SVG `svg` as a PNG `width_px` wide, drawn without any font of the machine."""
    return bytes(
        resvg_py.svg_to_bytes(svg_string=svg.decode("utf-8"), width=width_px, dpi=96, skip_system_fonts=True)
    )
