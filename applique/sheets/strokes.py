"""Outlines and lines on a PDF canvas, in points. Curves stay curves: quadratics become exact cubics."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from applique.drawings import values
from applique.geometry.outline import Outline
from applique.geometry.points import Matrix, Point, point_under

__all__ = [
    "BASELINE",
    "BOLD",
    "CUT",
    "DASHES",
    "FINISHED",
    "HAIR",
    "HEAVY",
    "HOLLOW",
    "INK",
    "MOUTH",
    "QUIET",
    "SEAM",
    "THIN",
    "arrow_on",
    "arrow_up",
    "dashed_line",
    "dashed_path",
    "dotted_to",
    "line_on",
    "outline_on",
    "path_on",
    "polyline_on",
]

BOLD: Final = values.BOLD.width
CUT: Final = values.CUT.width
"""Points of a cut line; everything else is `THIN`, and ticks of rules and tables `HAIR`: weights of all drawings."""
THIN: Final = values.FINE.width
HAIR: Final = values.HAIR.width
DASHES: Final = (3.0, 2.0)
BASELINE: Final = (7.0, 3.0)
"""Dashes of the baseline of a template; those of a seam are each followed by two dots, those of where web comes away
are short: in gray too nobody takes one for another."""
SEAM: Final = values.PAGES_MEET.dashes
HOLLOW: Final = values.HOLLOW.dashes
FINISHED: Final = (2.0, 2.0)
"""Dashes of the finished edge of the panel: on the guide, and on a template that is cut off there."""
MOUTH: Final = values.MOUTH.width
HEAVY: Final = values.HOLLOW.width
"""Points of a line of dashes in gray."""
INK: Final = 0.0
"""Gray of text and cut lines, 0 black to 1 white, so that every sheet reads in black and white."""
QUIET: Final = 0.42
_HEAD: Final = 4.0
_SOLID_HEAD: Final = 7.0


_DOTTED: Final = 2.4
"""Points from one dot to the next, and half of the dot at the end."""
_END: Final = 1.5


def outline_on(
    canvas: Canvas, outline: Outline, *, fill: bool = False, stroke: bool = False, closed: bool = True
) -> None:
    """Draw `outline`, already in points, with the canvas's colors and line width."""
    path = path_on(canvas, outline, closed=closed)
    canvas.drawPath(path, fill=int(fill), stroke=int(stroke), fillMode=1)


def path_on(canvas: Canvas, outline: Outline, *, closed: bool = True) -> PDFPathObject:
    """`outline`, already in points, as a path to draw or to clip by."""
    path = canvas.beginPath()
    for contour in outline.contours:
        here = contour.start
        path.moveTo(*here)
        for segment in contour.segments:
            if len(segment) == 1:
                path.lineTo(*segment[0])
            else:
                first, second, end = segment if len(segment) == 3 else _raised(here, *segment)
                path.curveTo(*first, *second, *end)
            here = segment[-1]
        if closed:
            path.close()
    return path


def _raised(start: Point, control: Point, end: Point) -> tuple[Point, Point, Point]:
    """The cubic that is the same curve as a quadratic."""
    third = 2 / 3
    return (
        (start[0] + third * (control[0] - start[0]), start[1] + third * (control[1] - start[1])),
        (end[0] + third * (control[0] - end[0]), end[1] + third * (control[1] - end[1])),
        end,
    )


def line_on(canvas: Canvas, start: Point, end: Point, *, width: float = THIN, gray: float = INK) -> None:
    """A solid line."""
    canvas.setStrokeGray(gray)
    canvas.setLineWidth(width)
    canvas.line(*start, *end)


def dashed_line(
    canvas: Canvas,
    start: Point,
    end: Point,
    *,
    width: float = THIN,
    gray: float = INK,
    dashes: tuple[float, ...] = DASHES,
) -> None:
    """A dashed line: what is not cut."""
    canvas.setDash(list(dashes))
    line_on(canvas, start, end, width=width, gray=gray)
    canvas.setDash()


def dotted_to(canvas: Canvas, start: Point, end: Point) -> None:
    """A dotted line that ends in a dot: it leads to what it names, and is no edge to trace."""
    canvas.setLineCap(1)
    canvas.setDash(0, _DOTTED)
    line_on(canvas, start, end, width=THIN)
    canvas.setDash()
    canvas.setLineCap(0)
    canvas.setFillGray(INK)
    canvas.circle(*end, _END, stroke=0, fill=1)


def dashed_path(canvas: Canvas, points: Sequence[Point], *, width: float = THIN, gray: float = INK) -> None:
    """Dashes along a line through `points`."""
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    canvas.setDash(*DASHES)
    canvas.setLineWidth(width)
    canvas.setStrokeGray(gray)
    canvas.drawPath(path, stroke=1, fill=0)
    canvas.setDash()
    canvas.setStrokeGray(INK)


def arrow_on(canvas: Canvas, start: Point, end: Point) -> None:
    """A line with a head at each end: the grain."""
    line_on(canvas, start, end)
    length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    for tip, sign in ((end, -1.0), (start, 1.0)):
        for side in (-0.5, 0.5):
            x = tip[0] + _HEAD * (sign * along[0] - side * along[1])
            y = tip[1] + _HEAD * (sign * along[1] + side * along[0])
            canvas.line(*tip, x, y)


def arrow_up(canvas: Canvas, start: Point, end: Point) -> None:
    """A line with one solid head, at `end`: which way is up."""
    length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    x, y = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    neck = (end[0] - _SOLID_HEAD * x, end[1] - _SOLID_HEAD * y)
    line_on(canvas, start, neck, width=CUT)
    half = _SOLID_HEAD / 2
    path = canvas.beginPath()
    path.moveTo(*end)
    path.lineTo(neck[0] - half * y, neck[1] + half * x)
    path.lineTo(neck[0] + half * y, neck[1] - half * x)
    path.close()
    canvas.setFillGray(INK)
    canvas.drawPath(path, fill=1, stroke=0)


def polyline_on(canvas: Canvas, points: Sequence[Point], onto: Matrix, *, closed: bool = False) -> None:
    """A line through `points` under `onto`, with the canvas's color and line width."""
    path = canvas.beginPath()
    for index, point in enumerate(points):
        move = path.lineTo if index else path.moveTo
        move(*point_under(onto, point))
    if closed:
        path.close()
    canvas.drawPath(path, fill=0, stroke=1)
