"""Letters drawn small: where the stitching of each one starts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from applique.drawings.values import FINE, INK, Drawing, Mark, Shape
from applique.geometry.outline import Contour, Outline
from applique.geometry.points import Point
from applique.language import Message
from applique.pieces import Template

__all__ = ["draw_starts"]

_DOT: Final = 2.2


def draw_starts(
    templates: Sequence[Template], starts: Sequence[Sequence[Point]], size: Point, said: Message
) -> Drawing:
    """Every template small, side by side, with a dot where its stitching starts and stops; `starts` go by template."""
    rows, scale, gap = _fitted(templates, size)
    high = sum(max(one.ink[3] - one.ink[1] for one in row) * scale + gap for row in rows) - gap
    y = high
    marks: list[Mark] = []
    for row in rows:
        y -= max(template.ink[3] - template.ink[1] for template in row) * scale
        x = 0.0
        for template in row:
            at = (x - template.ink[0] * scale, y - template.ink[1] * scale)
            marks.append(Shape(outline=template.outline.transformed((scale, 0.0, 0.0, scale, *at)), ink=FINE))
            for start in starts[template.number - 1]:
                marks.append(_dot(at[0] + start[0] * scale, at[1] + start[1] * scale))
            x += (template.ink[2] - template.ink[0]) * scale + gap
        y -= gap
    return Drawing(width=size[0], height=high, marks=tuple(marks), said=said)


def _dot(x: float, y: float) -> Shape:
    r, k = _DOT, 0.5523 * _DOT
    start = (x + r, y)
    segments = (
        ((x + r, y + k), (x + k, y + r), (x, y + r)),
        ((x - k, y + r), (x - r, y + k), (x - r, y)),
        ((x - r, y - k), (x - k, y - r), (x, y - r)),
        ((x + k, y - r), (x + r, y - k), start),
    )
    return Shape(outline=Outline(contours=(Contour(start=start, segments=segments),)), fill=INK)


def _fitted(templates: Sequence[Template], size: Point) -> tuple[list[list[Template]], float, float]:
    """The templates in rows, at the largest scale at which all of them fit; points for an inch."""
    gap, scale = 12.0, 40.0
    while True:
        rows: list[list[Template]] = [[]]
        x = 0.0
        for template in templates:
            width = (template.ink[2] - template.ink[0]) * scale
            if x and x + width > size[0]:
                rows.append([])
                x = 0.0
            rows[-1].append(template)
            x += width + gap
        high = sum(max(t.ink[3] - t.ink[1] for t in row) * scale + gap for row in rows)
        widest = max((t.ink[2] - t.ink[0]) * scale for t in templates)
        if (high <= size[1] and widest <= size[0]) or scale < 0.5:
            return rows, scale, gap
        scale *= 0.93
        gap = max(3.0, gap * 0.96)
