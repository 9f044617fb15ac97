"""The outlines in their places, and which of their edges are stitched: the others lie under an outline or a letter.

Distances are in the frame of the panel, inches; drawings are points, y up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from applique.drawings.model_letter import area_of
from applique.drawings.values import BOLD, FINE, PAPER, Drawing, Mark, Shape, Words, box, line, text_width
from applique.drawings.vocabulary import disc
from applique.geometry.outline import Outline
from applique.geometry.points import Bounds, Matrix, Point, point_under
from applique.geometry.polygons import as_shape, polygon_of
from applique.language import Speech
from applique.outline_layer import EdgeStretches, PlacedOutline
from applique.words.instructions.outlines import EDGES_DRAWN, LEFT_OUT, SEWN, STOP_HERE

__all__ = ["LEFT_OUT_INK", "draw_open_edges"]

_ROOM: Final = (440.0, 240.0)
_MOST_SCALE: Final = 14.0
"""Points for an inch at the most."""
_LETTER: Final = "#e3e3e3"
LEFT_OUT_INK: Final = replace(BOLD, dashes=(1.6, 2.0))
"""As heavy as what is stitched, so that a short stretch is found, in dots."""
_SMALL: Final = 7.5
_BELOW: Final = 22.0
"""Points below the outlines for the lines and what each is."""
_SAMPLE: Final = 26.0
_SHORT: Final = 36.0
"""Points on the page below which a stretch that is left out is drawn enlarged too."""
_INSET: Final = (99.0, 80.0)
_BETWEEN: Final = 14.0
_ABREAST: Final = 4
_MOST_INSETS: Final = 8
"""So many are drawn enlarged, the shortest; the others of many are left out in the same way."""
_FILLED: Final = 0.5
"""How much of an enlarged picture its stretch takes."""
_MOST_ENLARGED: Final = 5.0
_NUMBER: Final = 11.0
"""Points above an enlarged picture for its number."""
_END: Final = 2.6
_CAPITAL: Final = 0.72
"""Height of a figure, as a share of its size."""
_CHORD_ERROR: Final = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class _Enlarged:
    """What of the panel is drawn enlarged, and how many points an inch has there."""

    window: Bounds
    scale: float


def draw_open_edges(
    outlines: Sequence[PlacedOutline],
    letters: Sequence[Outline],
    edges: Sequence[EdgeStretches],
    speech: Speech,
) -> Drawing:
    """All `outlines` as they lie, the `letters` to come on them in pale gray: bold what is stitched of the `edges` of
    each, dotted what is left out, and below them which line is which. Where what is left out is short, that place is
    drawn enlarged too, with both ends of the stitching."""
    boxes = [piece.place.outline(piece.outline).bounds() for piece in outlines]
    x0, y0 = min(box[0] for box in boxes), min(box[1] for box in boxes)
    x1, y1 = max(box[2] for box in boxes), max(box[3] for box in boxes)
    scale = min(_ROOM[0] / (x1 - x0), _ROOM[1] / (y1 - y0), _MOST_SCALE)
    enlarged = _enlarged(edges, scale)
    rows = -(-len(enlarged) // _ABREAST)
    below = _BELOW + rows * (_INSET[1] + _NUMBER + _BETWEEN)
    onto: Matrix = (scale, 0.0, 0.0, scale, 2 - x0 * scale, 2 + below - y0 * scale)
    marks: list[Mark] = [
        Shape(outline=piece.place.outline(piece.outline).transformed(onto), fill=PAPER) for piece in outlines
    ]
    marks += (Shape(outline=letter.transformed(onto), fill=_LETTER) for letter in letters)
    for stretches, ink in (
        ([stretch for one in edges for stretch in one.left_out], LEFT_OUT_INK),
        ([stretch for one in edges for stretch in one.sewn], BOLD),
    ):
        marks += (line([point_under(onto, point) for point in stretch], ink) for stretch in stretches)
    drawn = affine_transform(
        shapely.MultiLineString([stretch for one in edges for stretch in (*one.sewn, *one.left_out)]),
        (scale, 0.0, 0.0, scale, *onto[4:]),
    )
    for index, one in enumerate(enlarged):
        row, column = divmod(index, _ABREAST)
        low = below - (row + 1) * (_INSET[1] + _NUMBER + _BETWEEN)
        corner = (2.0 + column * (_INSET[0] + _BETWEEN), low)
        number = "" if len(enlarged) == 1 else str(index + 1)
        marks += _place_of(one, onto, number, drawn)
        marks += _inset(one, corner, outlines, letters, edges, number)
    at: Point = (2.0, 5.0)
    for said, ink in ((SEWN, BOLD), (LEFT_OUT, LEFT_OUT_INK)):
        marks.append(line((at, (at[0] + _SAMPLE, at[1])), ink))
        marks.append(Words(said=said, at=(at[0] + _SAMPLE + 5, at[1] - 2.5), size=_SMALL))
        at = (at[0] + _SAMPLE + text_width(speech.tell(said), _SMALL) + 24, at[1])
    if enlarged:
        marks.append(disc((at[0] + _END, at[1]), _END))
        marks.append(Words(said=STOP_HERE, at=(at[0] + 2 * _END + 5, at[1] - 2.5), size=_SMALL))
        at = (at[0] + 2 * _END + text_width(speech.tell(STOP_HERE), _SMALL) + 24, at[1])
    across = min(len(enlarged), _ABREAST) * (_INSET[0] + _BETWEEN)
    return Drawing(
        width=max((x1 - x0) * scale + 4, at[0], across),
        height=(y1 - y0) * scale + below + 4,
        marks=tuple(marks),
        said=EDGES_DRAWN,
    )


def _enlarged(edges: Sequence[EdgeStretches], scale: float) -> list[_Enlarged]:
    """The places whose stretch that is left out is short on the page, in the order of the outlines and from the left;
    several of one place once."""
    stretches = [
        (index, shapely.LineString(one)) for index, edge in enumerate(edges) for one in edge.left_out
    ]
    found: list[tuple[int, _Enlarged]] = []
    for index, stretch in sorted(stretches, key=lambda one: one[1].length):
        if stretch.length * scale >= _SHORT or len(found) == _MOST_INSETS:
            break
        if any(shapely.box(*one.window).contains(stretch) for _, one in found):
            continue
        x0, y0, x1, y1 = stretch.bounds
        sides = zip(_INSET, (x1 - x0, y1 - y0), strict=True)
        large = min(_MOST_ENLARGED * scale, *(_FILLED * room / side for room, side in sides if side))
        (x, y), (wide, high) = ((x0 + x1) / 2, (y0 + y1) / 2), (side / 2 / large for side in _INSET)
        found.append((index, _Enlarged(window=(x - wide, y - high, x + wide, y + high), scale=large)))
    return [one for _, one in sorted(found, key=lambda one: (one[0], one[1].window[0]))]


def _place_of(one: _Enlarged, onto: Matrix, number: str, drawn: BaseGeometry) -> Iterator[Mark]:
    """Around what is drawn enlarged, where it lies; its `number` at the corner that is farthest from all that is
    `drawn`, in the frame of the page."""
    (left, low), (right, top) = point_under(onto, one.window[:2]), point_under(onto, one.window[2:])
    yield box(left, low, right - left, top - low, ink=FINE)
    if number:
        wide, high = text_width(number, _SMALL, bold=True), _CAPITAL * _SMALL
        xs, ys = (left - wide - 2, left, right - wide, right + 2), (low - high - 2, low, top - high, top + 2)
        corners = [(x, y) for x in xs for y in ys if not (left <= x < right and low <= y < top)]
        places = {shapely.box(x, y, x + wide, y + high): (x, y) for x, y in corners}
        at = places[max(places, key=drawn.distance)]
        yield Words(said=number, at=at, size=_SMALL, bold=True)


def _inset(
    one: _Enlarged,
    corner: Point,
    outlines: Sequence[PlacedOutline],
    letters: Sequence[Outline],
    edges: Sequence[EdgeStretches],
    number: str,
) -> Iterator[Mark]:
    """A place enlarged, its lower left at `corner`: its edges, and a dot at each end of what is left out."""
    window = shapely.box(*one.window)
    left, low = (at - edge * one.scale for at, edge in zip(corner, one.window[:2], strict=True))
    moved: Matrix = (one.scale, 0.0, 0.0, one.scale, left, low)
    if number:
        yield Words(said=number, at=(corner[0], corner[1] + _INSET[1] + 3.5), size=_SMALL, bold=True)
    for letter in letters:
        shown = polygon_of(letter, chord_error=_CHORD_ERROR).intersection(window)
        if shown.area:
            larger = affine_transform(shown, (one.scale, 0.0, 0.0, one.scale, *moved[4:]))
            yield from area_of(as_shape(larger), fill=_LETTER, ink=None)
    for stretches, ink in (
        ([stretch for edge in edges for stretch in edge.left_out], LEFT_OUT_INK),
        ([stretch for edge in edges for stretch in edge.sewn], BOLD),
    ):
        for stretch in stretches:
            for part in shapely.get_parts(shapely.LineString(stretch).intersection(window)):
                if part.length:
                    yield line([point_under(moved, (float(x), float(y))) for x, y in part.coords], ink)
    for stretch in (stretch for edge in edges for stretch in edge.left_out):
        for end in (stretch[0], stretch[-1]):
            if window.contains(shapely.Point(end)):
                yield disc(point_under(moved, end), _END)
    yield box(*corner, *_INSET, ink=FINE)
