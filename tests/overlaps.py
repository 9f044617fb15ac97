"""What lies over what on a finished page, read back from the PDF by PDFium: text over text, text over a line, text off
the page, text too small to read.

For any sheet of the project:

    assert not overlaps(pdf)                            # every page
    assert not overlaps(pdf, pages=[0], least=6.5)      # the first page, text of 6.5 points and more

Each string that was drawn is one box: that of its ink, not of its line. Lines are the strokes of paths, curves and
all, as far as their clipping lets them be seen, and fills as dark as ink; a light fill under text is no fault, and
neither is what such a fill hides, nor light text within a dark fill. Words drawn as outlines are read by the invisible
text that lies over them.
"""

from __future__ import annotations

import ctypes
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import shapely
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

__all__ = ["Overlap", "overlaps"]

_TOUCH = 0.4
"""Points by which boxes are shrunk: neighbors may touch."""
_DARK = 120
"""Of 255: fills darker than this are ink."""
_STEPS = 12
"""Straight pieces that stand for a curve."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlap:
    """Something wrong on a page (from 0): what, the text it happened to, and where, in points from the lower left."""

    page: int
    what: str
    text: str
    at: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Word:
    text: str
    ink: Polygon
    size: float
    unseen: bool
    light: bool


def overlaps(pdf: bytes, *, pages: Iterable[int] | None = None, least: float = 7.0) -> list[Overlap]:
    """Everything wrong on the `pages` (from 0, all if not given) of a PDF: empty where nothing is.

    Text smaller than `least` points is wrong too.
    """
    document = pypdfium2.PdfDocument(pdf)
    return [
        fault
        for number in (range(len(document)) if pages is None else pages)
        for fault in _faults(document[number], number, least)
    ]


def _faults(page: Any, number: int, least: float) -> Iterator[Overlap]:
    words = _words(page)
    boxes = [word.ink for word in words]
    paper = box(0, 0, *page.get_size())

    def fault(what: str, word: _Word) -> Overlap:
        return Overlap(page=number, what=what, text=word.text, at=(word.ink.centroid.x, word.ink.centroid.y))

    for word in words:
        if word.size < least - 0.01:
            yield fault(f"{word.size:.1f} points", word)
        if not paper.covers(word.ink):
            yield fault("off the page", word)
    tree = shapely.STRtree(boxes)
    for first, second in tree.query(boxes, predicate="intersects").T:
        if first < second:
            yield fault(f"over “{words[second].text}”", words[first])
    ink = _ink(page)
    lines = shapely.STRtree([seen for seen, _ in ink])
    over = {
        int(index)
        for index, line in lines.query(boxes, predicate="intersects").T
        if not (words[index].unseen and ink[line][1])  # its own letters, drawn as outlines
        and not (words[index].light and ink[line][1] and ink[line][0].covers(boxes[index]))
    }
    for index in sorted(over):
        yield fault("over a line", words[index])


def _words(page: Any) -> list[_Word]:
    """Every string of the page as it was drawn, the box of its ink shrunk by `_TOUCH` each way."""
    text = page.get_textpage()
    found: dict[int, list[int]] = {}
    for index in range(text.count_chars()):
        drawn = pdfium.FPDFText_GetTextObject(text.raw, index)
        if drawn and not chr(pdfium.FPDFText_GetUnicode(text.raw, index)).isspace():
            found.setdefault(ctypes.addressof(drawn.contents), []).append(index)
    words = []
    for indices in found.values():
        sides = [text.get_charbox(index) for index in indices]
        x0, y0 = min(side[0] for side in sides), min(side[1] for side in sides)
        x1, y1 = max(side[2] for side in sides), max(side[3] for side in sides)
        mode = pdfium.FPDFTextObj_GetTextRenderMode(pdfium.FPDFText_GetTextObject(text.raw, indices[0]))
        if min(x1 - x0, y1 - y0) > 2 * _TOUCH:
            words.append(
                _Word(
                    text="".join(chr(pdfium.FPDFText_GetUnicode(text.raw, index)) for index in indices),
                    ink=box(x0 + _TOUCH, y0 + _TOUCH, x1 - _TOUCH, y1 - _TOUCH),
                    size=pdfium.FPDFText_GetFontSize(text.raw, indices[0]),
                    light=not _dark(pdfium.FPDFText_GetTextObject(text.raw, indices[0])),
                    unseen=mode == pdfium.FPDF_TEXTRENDERMODE_INVISIBLE,
                )
            )
    return words


def _ink(page: Any) -> list[tuple[BaseGeometry, bool]]:
    """Every stroke, and every fill as dark as ink, as far as it is not clipped away nor hidden by a light fill of one
    contour that is painted later; and whether it is a fill."""
    found: list[tuple[BaseGeometry, bool]] = []
    for path in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=5):
        mode, stroked = ctypes.c_int(), ctypes.c_int()
        pdfium.FPDFPath_GetDrawMode(path, mode, stroked)
        painted = mode.value != pdfium.FPDF_FILLMODE_NONE
        filled = painted and _dark(path)
        lines = [line for line in _lines(path) if len(line) > 1]
        if painted and not filled and len(lines) == 1 and len(lines[0]) > 3 and _opaque(path):
            found = _hidden(found, shapely.make_valid(Polygon(lines[0])), _window(path))
        if not stroked.value and not filled:
            continue
        drawn: list[BaseGeometry] = [LineString(line) for line in lines] if stroked.value else []
        if filled:
            drawn += [Polygon(line) for line in lines if len(line) > 3]
        window = _window(path)
        for one in drawn:
            seen = one if window is None else shapely.make_valid(one).intersection(window)
            if not seen.is_empty:
                found.append((seen, isinstance(one, Polygon)))
    return found


def _hidden(
    ink: list[tuple[BaseGeometry, bool]], patch: BaseGeometry, window: BaseGeometry | None
) -> list[tuple[BaseGeometry, bool]]:
    """`ink` without what a patch lies over."""
    patch = patch if window is None else patch.intersection(window)
    shapely.prepare(patch)
    left = [
        (shapely.make_valid(seen).difference(patch) if patch.intersects(seen) else seen, is_fill)
        for seen, is_fill in ink
    ]
    return [(seen, is_fill) for seen, is_fill in left if not seen.is_empty]


def _opaque(path: Any) -> bool:
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    pdfium.FPDFPageObj_GetFillColor(path, red, green, blue, alpha)
    return alpha.value == 255


def _dark(drawn: Any) -> bool:
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    pdfium.FPDFPageObj_GetFillColor(drawn, red, green, blue, alpha)
    return max(red.value, green.value, blue.value) < _DARK


def _lines(path: Any) -> Iterator[list[tuple[float, float]]]:
    """The contours of a path in points of the page, curves as straight pieces."""
    matrix = pdfium.FS_MATRIX()
    pdfium.FPDFPageObj_GetMatrix(path, matrix)

    def placed(segment: Any) -> tuple[float, float]:
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        return (
            matrix.a * x.value + matrix.c * y.value + matrix.e,
            matrix.b * x.value + matrix.d * y.value + matrix.f,
        )

    line: list[tuple[float, float]] = []
    curve: list[tuple[float, float]] = []
    for index in range(pdfium.FPDFPath_CountSegments(path)):
        segment = pdfium.FPDFPath_GetPathSegment(path, index)
        kind, point = pdfium.FPDFPathSegment_GetType(segment), placed(segment)
        if kind == pdfium.FPDF_SEGMENT_MOVETO:
            yield line
            line = [point]
        elif kind == pdfium.FPDF_SEGMENT_LINETO:
            line.append(point)
        else:
            curve.append(point)
            if len(curve) == 3:
                line += _bent(line[-1], *curve)
                curve = []
        if pdfium.FPDFPathSegment_GetClose(segment):
            line.append(line[0])
    yield line


def _bent(*points: tuple[float, float]) -> list[tuple[float, float]]:
    """A cubic curve in straight pieces, its start left out."""
    bent = []
    for step in range(1, _STEPS + 1):
        t = step / _STEPS
        shares = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        bent.append(
            tuple(sum(share * point[i] for share, point in zip(shares, points, strict=True)) for i in (0, 1))
        )
    return bent  # type: ignore[return-value]  # pairs


def _window(path: Any) -> BaseGeometry | None:
    """What clipping lets be seen of a path: windows here are rectangles. None where nothing clips it."""
    clip = pdfium.FPDFPageObj_GetClipPath(path)
    window: BaseGeometry | None = None
    for index in range(max(0, pdfium.FPDFClipPath_CountPaths(clip)) if clip else 0):
        points = []
        for number in range(pdfium.FPDFClipPath_CountPathSegments(clip, index)):
            x, y = ctypes.c_float(), ctypes.c_float()
            pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFClipPath_GetPathSegment(clip, index, number), x, y)
            points.append((x.value, y.value))
        if points:
            one = box(*shapely.MultiPoint(points).bounds)
            window = one if window is None else window.intersection(one)
    return window
