"""What the page draws and says, as plain data from the sketch and the pattern. Nothing is worked out here.

Shapes come as SVG path data in inches with y down: a letter about its own origin, everything else from the upper
left corner of the finished quilt.
"""

from __future__ import annotations

from typing import Any

from applique.cutfiles.paths import flipped, outline_path
from applique.design import Design, design_data
from applique.geometry.place import Place
from applique.geometry.points import Matrix
from applique.pattern import Pattern, Sketch
from applique.quilt.scene import Scene
from applique.units import as_both, as_length, as_yardage

__all__ = ["drawing_view", "numbers_view"]


def drawing_view(sketch: Sketch, design: Design) -> dict[str, Any]:
    """The quilt as it can be seen: panel, letters, borders, sizes, scene, contrast."""
    panel, quilt = sketch.panel, sketch.quilt
    width, height = (float(side) for side in quilt.finished)
    matrix = flipped((0.0, 0.0, width, height), mirrored=False)
    left, bottom = (width - float(panel.width)) / 2, (height - float(panel.height)) / 2
    top = bottom

    def across(x: float) -> float:
        return x + left

    def down(y: float) -> float:
        return top + float(panel.height) - y

    def drawn_at(place: Place) -> Matrix:
        a, b, c, d, x, y = place.matrix
        return (a, -b, c, -d, across(x), down(y))

    by_name = quilt.fabrics.by_name
    cuts = [cut for row in panel.rows for cut in row.cuts]
    return {
        "width": width,
        "height": height,
        "panel": {
            "x": left,
            "y": top,
            "width": float(panel.width),
            "height": float(panel.height),
            "margin": float(panel.margin),
            "color": panel.fabric.color,
            "fabric": panel.fabric.name,
        },
        "borders": [
            {
                "fabric": patch.fabric,
                "color": by_name[patch.fabric].color,
                "path": _polygon(
                    [(float(x) + width / 2, float(y) + height / 2) for x, y in patch.corners], matrix
                ),
            }
            for border in quilt.borders
            for patch in border.patches
        ],
        "outlines": [
            {
                "fabric": piece.fabric.name,
                "color": piece.fabric.color,
                "row": piece.row,
                "path": outline_path(piece.outline.contours, drawn_at(piece.place)),
            }
            for piece in sketch.outlines
        ],
        "shapes": {
            cut.key: outline_path(cut.outline.contours, (1.0, 0.0, 0.0, -1.0, 0.0, 0.0)) for cut in cuts
        },
        "rows": [
            {
                "number": row.number,
                "text": row.text,
                "font": row.font,
                "fabric": row.fabric.name,
                "color": row.fabric.color,
                "cap_height": str(as_length(row.cap_height, design.units, denominator=16)),
                "baseline": down(row.baseline),
                "turn": row.turned.turn_deg,
                "baseline_ends": [[across(x), down(y)] for x, y in row.baseline_ends],
                "ink": [across(row.ink[0]), down(row.ink[3]), across(row.ink[2]), down(row.ink[1])],
                "contrast": round(stitch.contrast, 2),
                "reads": stitch.reads,
                "cuts": [
                    {
                        "key": cut.key,
                        "text": cut.text,
                        "letter": cut.letters[0],
                        "x": across(cut.place.x),
                        "y": down(cut.place.y),
                        "turn": cut.place.turn_deg,
                        "ink": [across(cut.ink[0]), down(cut.ink[3]), across(cut.ink[2]), down(cut.ink[1])],
                    }
                    for cut in row.cuts
                ],
            }
            for row, stitch in zip(panel.rows, sketch.stitches, strict=True)
        ],
        "scene": _scene(quilt.scene),
        "finished": " by ".join(str(as_both(side, design.units)) for side in quilt.finished),
        "size_class": quilt.size_class.label,
        "fabrics": sorted({fabric.name: fabric.color for fabric in by_name.values()}.items()),
        "design": design_data(design),
    }


def _scene(scene: Scene) -> dict[str, Any]:
    matrix = flipped((0.0, 0.0, scene.width, scene.height), mirrored=False)
    x0, _, _, y1 = scene.quilt
    return {
        "width": scene.width,
        "height": scene.height,
        "quilt": [x0, scene.height - y1],
        "things": [
            {
                "name": thing.name,
                "path": " ".join(_polygon(list(part.exterior.coords)[:-1], matrix) for part in thing.parts),
            }
            for thing in scene.things
        ],
    }


def _polygon(corners: list[tuple[float, ...]], matrix: Matrix) -> str:
    a, b, c, d, e, f = matrix
    points = [f"{a * x + c * y + e:.4f},{b * x + d * y + f:.4f}" for x, y in corners]
    return "M" + "L".join(points) + "Z"


def numbers_view(pattern: Pattern, *, settled: bool) -> dict[str, Any]:
    """What to buy and how many sheets to print; `settled` once the search for a shorter layout is over."""
    units = pattern.design.units
    return {
        "settled": settled,
        "letters": pattern.letter_count,
        "shapes": len(pattern.templates),
        "sheets": pattern.sheets.page_count + 1,
        "paper": pattern.design.paper.size.value,
        "cloth": [
            {
                "name": buy.fabric.name,
                "color": buy.fabric.color,
                "amount": str(as_yardage(buy.buy, units)),
                "rule": buy.rule,
                "precut": buy.precut,
                "uses": [f"{use.what}: {use.how}" for use in buy.uses],
            }
            for buy in pattern.shopping.cloth
        ],
        "fusible": {
            "material": pattern.fusible.material,
            "amount": str(as_yardage(pattern.fusible.buy, units)),
            "width": str(as_length(pattern.fusible.usable_width, units)),
            "rule": pattern.fusible.rule,
        },
        "shelves": [
            {"name": shelf.name, "items": list(shelf.items)} for shelf in pattern.shopping.shelves[2:]
        ],
    }
