"""What the page draws and says, as plain data from the sketch and the pattern, in the language of the page.

Nothing is worked out here.

Shapes come as SVG path data in inches with y down, about their own origin; places, in the same frame, from the upper
left corner of the finished quilt.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from functools import lru_cache
from typing import Any, Final

from applique.cutfiles.paths import outline_path
from applique.design import Design, design_data
from applique.geometry.outline import Outline
from applique.geometry.points import Point
from applique.geometry.polygons import as_shape, parts_of
from applique.language import Message, Speech, message
from applique.panel import PanelPlan, PlacedRow
from applique.pattern import Pattern, Sketch
from applique.picture import Item, Part, Picture
from applique.quilt.scene import Scene
from applique.shopping import ShelfKind
from applique.units import Units, as_available, as_size_both, as_yardage, format_number
from applique.words.accepted import acceptance_said
from applique.words.buying import (
    amount_said,
    item_said,
    material_said,
    precut_said,
    rule_said,
    shelf_name,
)
from applique.words.cloth import use_how, use_said
from applique.words.held_numbers import held_said
from applique.words.precuts import cuts_of_precut_said
from applique.words.quilt import THINGS, class_label, trimmed_said
from applique.words.sewing import minutes_said

__all__ = ["drawing_view", "numbers_view"]

_QUARTER: Final = 16
"""Pieces of a quarter circle around the point of a notch."""
_DOWN: Final = (1.0, 0.0, 0.0, -1.0, 0.0, 0.0)


def drawing_view(sketch: Sketch, design: Design, speech: Speech) -> dict[str, Any]:
    """The quilt as it can be seen: its picture, panel, rows, sizes, scene, contrast.

    The cap height of a row is written as in a design file, for the page asks with it.
    """
    panel, quilt, picture = sketch.panel, sketch.quilt, sketch.picture
    left, bottom = (picture.width - float(panel.width)) / 2, (picture.height - float(panel.height)) / 2
    top = bottom

    def across(x: float) -> float:
        return x + left

    def down(y: float) -> float:
        return top + float(panel.height) - y

    by_name = quilt.fabrics.by_name
    stitches = {stitch.where: stitch for stitch in sketch.stitches}
    return {
        "width": picture.width,
        "height": picture.height,
        "picture": _items(picture.items, picture.height),
        "panel": {
            "x": left,
            "y": top,
            "width": float(panel.width),
            "height": float(panel.height),
            "margin": float(panel.margin),
            "color": panel.fabric.color,
            "within": _within(panel, across, down),
        },
        "rows": [
            {
                "number": row.number,
                "text": row.text,
                "font": row.font,
                "fabric": row.fabric.name,
                "color": row.fabric.color,
                "cap_height": f"{format_number(float(row.cap_height), places=6)}in",
                "baseline": down(row.baseline),
                "line": [[across(x), down(y)] for x, y in _drawn_line(row, panel)],
                "level": row.level,
                "ink": [across(row.ink[0]), down(row.ink[3]), across(row.ink[2]), down(row.ink[1])],
                "contrast": round(stitch.contrast, 2),
                "reads": stitch.reads,
                "cuts": [
                    {
                        "text": cut.text,
                        "letter": cut.letters[0],
                        "y": down(cut.place.y),
                        "turn": cut.place.turn_deg,
                        "ink": [across(cut.ink[0]), down(cut.ink[3]), across(cut.ink[2]), down(cut.ink[1])],
                    }
                    for cut in row.cuts
                ],
            }
            for row, stitch in ((row, stitches[row.where]) for row in panel.rows)
        ],
        "scene": _scene(picture, quilt.scene, speech),
        "photos": [
            {"fabric": name, "photo": shown.photo.name, "width": shown.size[0], "height": shown.size[1]}
            for name, shown in picture.photos.items()
        ],
        "finished": speech.tell(_finished(sketch.made_size, design.units)),
        "size_class": speech.tell(class_label(quilt.size_class)),
        "fabrics": sorted({fabric.name: fabric.color for fabric in by_name.values()}.items()),
        "design": design_data(design),
    }


def _within(
    panel: PanelPlan, across: Callable[[float], float], down: Callable[[float], float]
) -> list[list[list[float]]]:
    """Closed lines at the margin of the panel; none where the margin leaves nothing."""
    inner = as_shape(panel.edges.finished.buffer(-float(panel.margin), quad_segs=_QUARTER))
    rings = [part.exterior.coords for part in parts_of(inner) if part.area]
    return [[[round(across(x), 6), round(down(y), 6)] for x, y in ring] for ring in rings]


def _drawn_line(row: PlacedRow, panel: PanelPlan) -> tuple[Point, ...]:
    """The baseline of a row: across the whole panel, or below its letters only where it is not level."""
    across = ((0.0, row.baseline), (float(panel.width), row.baseline))
    return across if row.level else row.baseline_path


def _finished(size: tuple[Fraction, Fraction], units: Units) -> Message:
    width, height = (as_size_both(side, units) for side in size)
    return message("{width} by {height}", width=width, height=height)


def _scene(picture: Picture, scene: Scene, speech: Speech) -> dict[str, Any]:
    wall = picture.wall
    x, y = wall.quilt
    return {
        "width": wall.width,
        "height": wall.height,
        "quilt": [x, wall.height - y - picture.height],
        "things": [speech.tell(THINGS[thing.kind]) for thing in scene.things],
        "picture": _items(wall.items, wall.height),
    }


def _items(items: Iterable[Item], height: float) -> dict[str, Any]:
    """What to paint in its order, from the upper left corner of what is `height` inches high; each shape once."""
    shapes: dict[str, str] = {}
    painted = []
    for item in items:
        if item.key not in shapes:
            shapes[item.key] = _path(item.outline, closed=not item.open)
        painted.append({name: value for name, value in _item(item, height) if value not in (None, "")})
    return {"shapes": shapes, "items": painted}


@lru_cache(maxsize=2048)
def _path(outline: Outline, *, closed: bool) -> str:
    """The path data of an outline: a key leaves most letters as they are."""
    return outline_path(outline.contours, _DOWN, closed=closed)


def _item(item: Item, height: float) -> Iterator[tuple[str, Any]]:
    yield from (("part", item.part.value), ("shape", item.key))
    yield from (("x", round(item.place.x, 6)), ("y", round(height - item.place.y, 6)))
    if item.place.turn_deg:
        yield "turn", -item.place.turn_deg
    yield from (("fabric", item.fabric), ("fill", item.fill), ("row", item.row), ("letter", item.letter))
    yield "border", item.border
    if item.pen is not None:
        yield from (("stroke", item.pen.color), ("width", item.pen.width), ("opacity", item.pen.opacity))


def numbers_view(pattern: Pattern, speech: Speech, *, settled: bool) -> dict[str, Any]:
    """What to buy, how many sheets to print, the lines of quilting; `settled` once the layout is no longer searched."""
    units = pattern.design.units
    return {
        "settled": settled,
        "quilting": _items(pattern.picture.of(Part.QUILTING), pattern.picture.height),
        "letters": pattern.letter_count,
        "joined": pattern.joins_letters,
        "shapes": len(pattern.templates),
        "sheets": pattern.sheets.page_count + 1,
        "paper": pattern.design.paper.size.value,
        "cloth": [
            {
                "name": buy.fabric.name,
                "color": buy.fabric.color,
                "amount": speech.field(amount_said(buy, units)),
                "rule": speech.tell(rule_said(buy.rule, units)),
                "precut": speech.tell(precut_said(buy.cutting.precut.precut)) if buy.cutting.precut else "",
                "precut_cuts": [speech.tell(cut) for cut in cuts_of_precut_said(buy.cutting.precut, units)]
                if buy.cutting.precut
                else [],
                "uses": [
                    speech.say("{use}: {cut}", use=use_said(use), cut=use_how(use, units)) for use in buy.uses
                ],
            }
            for buy in pattern.shopping.cloth
        ],
        "fusible": {
            "material": speech.field(material_said(pattern.fusible)),
            "kind": str(pattern.fusible.web),
            "amount": speech.measure(as_yardage(pattern.fusible.buy, units)),
            "width": speech.measure(as_available(pattern.fusible.usable_width, units)),
            "rule": speech.tell(rule_said(pattern.fusible.rule, units)),
        },
        "trim": speech.tell(trimmed_said(pattern.panel, units))
        if pattern.panel.trim and pattern.panel.outline is None
        else "",
        "stated": [speech.tell(held_said(number, units)) for number in pattern.stated],
        "accepted": [
            {
                "finding": one.entry.finding.value,
                "words": one.entry.words,
                "why": one.entry.why,
                "standing": one.standing.value,
                "said": [speech.tell(words) for words in acceptance_said(one)],
            }
            for one in pattern.accepted
        ],
        "machine_time": speech.tell(minutes_said(pattern.stitching.minutes)),
        "shelves": [
            {
                "name": speech.tell(shelf_name(shelf)),
                "items": [speech.tell(item_said(item, units)) for item in shelf.items],
            }
            for shelf in pattern.shopping.shelves
            if shelf.kind not in (ShelfKind.CLOTH, ShelfKind.WEB)
        ],
    }
