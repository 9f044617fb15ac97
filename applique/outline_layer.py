"""The outline layer: a larger shape of another fabric behind letters or words.

Shapes are inches about their own origin; `x`, `y` place it in the frame of the panel.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from applique.design import Around, Design, Fabric, OutlineCorners, OutlineCounters
from applique.fabrics import Fabrics
from applique.panel import PlacedCut, PlacedRow
from applique.typeset.offset import offset_outline
from applique.typeset.outline import CHORD_ERROR, Outline, Shape, pieces_of, polygon_of, united

__all__ = ["PlacedOutline", "lay_outlines"]

_OWN: Final = "outline"
_ALIKE: Final = 10_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedOutline:
    """One piece of the outline layer. Pieces of equal `key` are the same shape; `row` counts from 1."""

    key: str
    text: str
    row: int
    font: str
    fabric: Fabric
    reach: float
    x: float
    y: float
    outline: Outline
    shape: Shape


def lay_outlines(design: Design, rows: Sequence[PlacedRow], fabrics: Fabrics) -> tuple[PlacedOutline, ...]:
    """The outline layer of every row that has one, in reading order; none where no row asks for one.

    Where shapes behind letters would touch each other, as they do with a wide outline, they stay a piece each and
    lie over one another; behind words they are one piece. Counters that an outline closes are gone, those that stay
    open are kept unless the design closes them.
    """
    placed: list[PlacedOutline] = []
    known: dict[tuple[str, float], tuple[Outline, Shape]] = {}
    words: dict[tuple[str, Outline], tuple[str, Outline, Shape]] = {}
    for row, line in zip(rows, design.line, strict=True):
        reach = float(design.lettering.outline if line.outline is None else line.outline)
        if not reach:
            continue
        if design.outline.around is Around.WORDS:
            placed += _behind_words(design, row, reach, fabrics.outline, words)
            continue
        for cut in row.cuts:
            if (cut.key, reach) not in known:
                grown = _grown(design, cut.outline, reach)
                known[cut.key, reach] = (grown, polygon_of(grown, chord_error=CHORD_ERROR))
            outline, shape = known[cut.key, reach]
            placed.append(
                _piece(row, cut, f"{_OWN}-{reach:g}-{cut.key}", outline, shape, reach, fabrics.outline)
            )
    return tuple(placed)


def _piece(
    row: PlacedRow, cut: PlacedCut, key: str, outline: Outline, shape: Shape, reach: float, fabric: Fabric
) -> PlacedOutline:
    return PlacedOutline(
        key=key,
        text=cut.text,
        row=row.number,
        font=row.font,
        fabric=fabric,
        reach=reach,
        x=cut.x,
        y=cut.y,
        outline=outline,
        shape=shape,
    )


def _behind_words(
    design: Design,
    row: PlacedRow,
    reach: float,
    fabric: Fabric,
    known: dict[tuple[str, Outline], tuple[str, Outline, Shape]],
) -> Iterator[PlacedOutline]:
    """One piece behind each word, or several where a word's letters stand so far apart that theirs do not meet.

    `known` holds the pieces so far by their word and outline, so that a word that comes again is the same shape.
    """
    for word, found in groupby(row.cuts, key=lambda cut: cut.word):
        cuts = list(found)
        x, y = cuts[0].x, cuts[0].y
        moved = [cut.outline.transformed((1.0, 0.0, 0.0, 1.0, cut.x - x, cut.y - y)) for cut in cuts]
        whole = united([outline.draw for outline in moved], least_area=0.0)
        text = "".join(cut.text for cut in sorted(cuts, key=lambda cut: cut.letters))
        for index, found_outline in enumerate(pieces_of(_grown(design, whole, reach))):
            alike = (text, _nearly(found_outline))
            if alike not in known:
                key = f"{_OWN}-row{row.number}-word{word}-{index}"
                known[alike] = (key, found_outline, polygon_of(found_outline, chord_error=CHORD_ERROR))
            key, outline, shape = known[alike]
            yield PlacedOutline(
                key=key,
                text=text,
                row=row.number,
                font=row.font,
                fabric=fabric,
                reach=reach,
                x=x,
                y=y,
                outline=outline,
                shape=shape,
            )


def _nearly(outline: Outline) -> Outline:
    """`outline` to whole 0.0001 in, at which the same word set twice is the same."""
    return outline.transformed((_ALIKE, 0.0, 0.0, _ALIKE, 0.0, 0.0)).rounded()


def _grown(design: Design, outline: Outline, reach: float) -> Outline:
    mitred = design.outline.corners is OutlineCorners.MITRED
    grown = offset_outline(outline, reach, mitre_limit=design.outline.mitre_limit if mitred else None)
    if design.outline.counters is OutlineCounters.OPEN:
        return grown
    return Outline(contours=tuple(c for c in grown.contours if c.signed_area() > 0))
