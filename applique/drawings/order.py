"""The order in which rows are stitched, drawn on the panel or the quilt.

Frame: points, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

from applique.drawings.stabilizer import middle_of
from applique.drawings.values import (
    BOLD,
    CUT,
    HAIR,
    PAPER,
    Anchor,
    Drawing,
    Mark,
    Shape,
    Words,
    line,
    text_width,
)
from applique.drawings.vocabulary import (
    arrow,
    disc,
    spread,
)
from applique.errors import Where
from applique.geometry.points import Matrix, Point, extent, point_under
from applique.language import Speech
from applique.panel import Laid
from applique.picture import Part, Picture
from applique.words.instructions import stitching as said

__all__ = ["draw_order"]

_LEAST: Final = 7.0
_TO_WORDS: Final = 10.0
"""Points from the panel to the words that name what lies on it."""
_PALE: Final = "#d4d4d4"
_NUMBERED: Final = 7.0


def draw_order(
    picture: Picture,
    laid: Sequence[Laid],
    order: Sequence[Where],
    size: Point,
    speech: Speech,
    *,
    bordered: bool,
) -> Drawing:
    """The panel, `bordered` the whole quilt, in pale gray, its rows marked 1st, 2nd and so on as they are sewn, with
    arrows outward; beside it the names of several rows."""
    (panel,) = picture.of(Part.PANEL)
    x0, y0, x1, y1 = (0.0, 0.0, picture.width, picture.height) if bordered else panel.laid.bounds()
    named = [] if len(order) == 1 else [(where, where.as_field()) for where in order]
    room = max((_TO_WORDS + text_width(speech.field(name), _LEAST) for _, name in named), default=0.0)
    scale = min((size[0] - room) / (x1 - x0), size[1] / (y1 - y0))
    onto: Matrix = (scale, 0.0, 0.0, scale, -x0 * scale, -y0 * scale)
    marks: list[Mark] = []
    around = (Part.PATCH, Part.EDGE) if bordered else ()
    for item in picture.of(*around, Part.PANEL, Part.OUTLINE, Part.LETTER, Part.SHAPE):
        cut = item.part in (Part.LETTER, Part.SHAPE)
        ink = CUT if item.part is Part.EDGE else HAIR
        fill = _PALE if cut else PAPER if item.part is Part.OUTLINE else None
        edge = None if cut or not item.is_edged else ink
        marks.append(Shape(outline=item.laid.transformed(onto), fill=fill, ink=edge))
    by_table = {one.where: one for one in laid}
    middles = {where: point_under(onto, picture.panel.point(_on_panel(by_table[where]))) for where in order}
    aside = _aside(middles)
    for number, where in enumerate(order, 1):
        x, y = middles[where]
        if any(aside.values()):
            x = (x1 - x0) * scale / 2
        else:
            marks += _outward(by_table[where], (x, y), scale)
        place = said.place_said(number)
        radius = max(_NUMBERED, text_width(speech.tell(place), _NUMBERED) / 2 + 3.5)
        marks.append(disc((x + aside[where], y), radius, fill=PAPER, ink=CUT))
        marks.append(
            Words(
                said=place,
                at=(x + aside[where], y - 0.36 * _NUMBERED),
                size=_NUMBERED,
                bold=True,
                anchor=Anchor.MIDDLE,
            )
        )
    far, high = (x1 - x0) * scale, (y1 - y0) * scale
    levels = [middles[where][1] for where, _ in named]
    for (_, name), y, at in zip(named, levels, spread(levels, (4.0, high - 4.0)), strict=True):
        marks.append(line(((far + 1, y), (far + _TO_WORDS - 2, at)), HAIR))
        marks.append(Words(said=name, at=(far + _TO_WORDS, at - 0.36 * _LEAST), size=_LEAST))
    return Drawing(
        width=far + room,
        height=high,
        marks=tuple(marks),
        said=said.order_drawn_said(),
    )


def _on_panel(laid: Laid) -> Point:
    return laid.turned.point(middle_of(laid))


def _aside(middles: Mapping[Where, Point]) -> Mapping[Where, float]:
    """How far the number of each row stands to the side, so that those of rows close together lie clear."""
    level = sorted(middles, key=lambda where: -middles[where][1])
    apart = [middles[a][1] - middles[b][1] for a, b in pairwise(level)]
    room = 2 * _NUMBERED + 1.5
    columns = math.ceil(room / max(1.0, min(apart, default=room)))
    return {where: (index % columns - (columns - 1) / 2) * room for index, where in enumerate(level)}


def _outward(laid: Laid, at: Point, scale: float) -> Iterator[Mark]:
    """An arrow to either side of the number of a row, or up and down of one that runs down."""
    down = laid.line.runs_down
    reach = extent(laid.upright_ink)[down] / 2 * scale
    turn = math.radians(laid.turned.turn_deg + 90 * down)
    along = (math.cos(turn), math.sin(turn))
    if reach > _NUMBERED + 9:
        for way in (-1, 1):
            start, end = (
                (at[0] + way * far * along[0], at[1] + way * far * along[1]) for far in (_NUMBERED + 1, reach)
            )
            yield from arrow(start, end, BOLD)
