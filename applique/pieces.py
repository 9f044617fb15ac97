"""What is cut: the distinct shapes of the rows, how many of each, and from which fabric.

Shapes are inches about their own origin, which stands on the baseline; y up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shapely.geometry import MultiPolygon, Polygon

from applique.design import Fabric
from applique.panel import PlacedRow
from applique.typeset.outline import Bounds, Outline, Shape, parts_of

__all__ = ["Template", "TemplateUse", "cut_templates", "rough_cut"]

_QUADRANT_SEGMENTS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateUse:
    """How many of a template are cut from one fabric, and for which rows (numbers from 1)."""

    fabric: Fabric
    count: int
    rows: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """One distinct shape at true size. `number` counts templates from 1 in reading order.

    `text` is the letter, or the letters of a connected script that are cut as one; `parts` counts the
    separate pieces of cloth in it (an i has two); `area` is exact, `edge` the length to be sewn or cut.
    """

    number: int
    key: str
    text: str
    font: str
    cap_height: Fraction
    outline: Outline
    shape: Shape
    ink: Bounds
    area: float
    edge: float
    parts: int
    uses: tuple[TemplateUse, ...]

    @property
    def count(self) -> int:
        """How many are cut in all."""
        return sum(use.count for use in self.uses)


def cut_templates(rows: Sequence[PlacedRow]) -> tuple[Template, ...]:
    """The distinct shapes of `rows` in reading order, each with its counts by fabric."""
    found: dict[str, list[tuple[PlacedRow, int]]] = {}
    for row in rows:
        for index, cut in enumerate(row.cuts):
            found.setdefault(cut.key, []).append((row, index))
    return tuple(_template(number, key, spots) for number, (key, spots) in enumerate(found.items(), 1))


def _template(number: int, key: str, spots: Sequence[tuple[PlacedRow, int]]) -> Template:
    row, index = spots[0]
    cut = row.cuts[index]
    fabrics = {spot_row.fabric.name: spot_row.fabric for spot_row, _ in spots}
    return Template(
        number=number,
        key=key,
        text=cut.text,
        font=row.font,
        cap_height=row.cap_height,
        outline=cut.outline,
        shape=cut.shape,
        ink=cut.outline.bounds(),
        area=cut.outline.area(),
        edge=cut.outline.length(),
        parts=len(parts_of(cut.shape)),
        uses=tuple(
            TemplateUse(
                fabric=fabric,
                count=sum(spot_row.fabric.name == name for spot_row, _ in spots),
                rows=tuple(
                    sorted({spot_row.number for spot_row, _ in spots if spot_row.fabric.name == name})
                ),
            )
            for name, fabric in fabrics.items()
        ),
    )


def rough_cut(shape: Shape, margin: float) -> Shape:
    """`shape` cut out roughly, `margin` inches outside its line, counters filled.

    Source:
        Fusible shapes are cut about 1/4 in outside the line before fusing (Quilter's World
        reference guide 2017).
    """
    grown = shape.buffer(margin, quad_segs=_QUADRANT_SEGMENTS, join_style="round")
    solid = [Polygon(part.exterior) for part in parts_of(grown)]
    return solid[0] if len(solid) == 1 else MultiPolygon(solid)
