"""The outlines in their places, and which of their edges are stitched: the others lie under an outline or a letter.

Distances are in the frame of the panel, inches; drawings are points, y up.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from applique.drawings.values import BOLD, PAPER, Drawing, Ink, Mark, Shape, Words, line, text_width
from applique.geometry.outline import Outline
from applique.geometry.points import Matrix, Point, point_under
from applique.language import Speech
from applique.outline_layer import EdgeStretches, PlacedOutline
from applique.words.instructions.outlines import EDGES_DRAWN, LEFT_OUT, SEWN

__all__ = ["draw_open_edges"]

_ROOM: Final = (440.0, 240.0)
_MOST_SCALE: Final = 14.0
"""Points for an inch at the most."""
_LETTER: Final = "#e3e3e3"
_LEFT_OUT: Final = Ink(width=0.7, dashes=(0.8, 2.2))
_SMALL: Final = 7.5
_BELOW: Final = 22.0
"""Points below the outlines for the two lines and what each is."""
_SAMPLE: Final = 26.0


def draw_open_edges(
    outlines: Sequence[PlacedOutline],
    letters: Sequence[Outline],
    edges: Sequence[EdgeStretches],
    speech: Speech,
) -> Drawing:
    """All `outlines` as they lie, the `letters` to come on them in pale gray: bold what is stitched of the `edges` of
    each, dotted what is left out, and below them which line is which."""
    boxes = [piece.place.outline(piece.outline).bounds() for piece in outlines]
    x0, y0 = min(box[0] for box in boxes), min(box[1] for box in boxes)
    x1, y1 = max(box[2] for box in boxes), max(box[3] for box in boxes)
    scale = min(_ROOM[0] / (x1 - x0), _ROOM[1] / (y1 - y0), _MOST_SCALE)
    onto: Matrix = (scale, 0.0, 0.0, scale, 2 - x0 * scale, 2 + _BELOW - y0 * scale)
    marks: list[Mark] = [
        Shape(outline=piece.place.outline(piece.outline).transformed(onto), fill=PAPER) for piece in outlines
    ]
    marks += (Shape(outline=letter.transformed(onto), fill=_LETTER) for letter in letters)
    for stretches, ink in (
        ([stretch for one in edges for stretch in one.left_out], _LEFT_OUT),
        ([stretch for one in edges for stretch in one.sewn], BOLD),
    ):
        marks += (line([point_under(onto, point) for point in stretch], ink) for stretch in stretches)
    at: Point = (2.0, 5.0)
    for said, ink in ((SEWN, BOLD), (LEFT_OUT, _LEFT_OUT)):
        marks.append(line((at, (at[0] + _SAMPLE, at[1])), ink))
        marks.append(Words(said=said, at=(at[0] + _SAMPLE + 5, at[1] - 2.5), size=_SMALL))
        at = (at[0] + _SAMPLE + text_width(speech.tell(said), _SMALL) + 24, at[1])
    return Drawing(
        width=max((x1 - x0) * scale + 4, at[0]),
        height=(y1 - y0) * scale + _BELOW + 4,
        marks=tuple(marks),
        said=EDGES_DRAWN,
    )
