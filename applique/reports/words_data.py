"""What the data of a report tell of the words: panel, rows and shapes, templates, the pages these are on."""

from __future__ import annotations

from typing import Any

from applique.marks import RowMark
from applique.outline_layer import PlacedOutline
from applique.panel import Laid, PanelPlan, PlacedCut, PlacedRow
from applique.pattern import Pattern
from applique.pieces import Template
from applique.reports.numbers import exact, outline_path, place_data, rounded, size_data, table_of

__all__ = ["outline_data", "panel_data", "row_data", "shape_data", "sheets_data", "template_data"]


def panel_data(pattern: Pattern) -> dict[str, Any]:
    """The background panel."""
    panel = pattern.panel
    return {
        "fabric": panel.fabric.name,
        "finished": [exact(panel.width), exact(panel.height)],
        **({} if panel.outline is None else {"shape": panel.shape.value}),
        "cut": size_data((panel.cut_width, panel.cut_height)) if panel.is_cut else None,
        "trimmed": size_data(panel.trimmed) if panel.is_cut else None,
        "trim_after": exact(panel.trim),
        "drop": None if panel.worn is None else exact(panel.worn.drop),
        "seam_allowance": exact(panel.seam_allowance),
        "margin": exact(panel.margin),
    }


def row_data(pattern: Pattern, row: PlacedRow, mark: RowMark) -> dict[str, Any]:
    """One row of words."""
    return {
        "number": row.number,
        "text": row.text,
        "font": row.font,
        "fabric": row.fabric.name,
        "cap_height": exact(row.cap_height),
        "baseline": rounded(row.baseline),
        f"baseline_below_{_measured_from(pattern.panel)}": rounded(mark.baseline_from_top),
        "baseline_below_finished_top": rounded(mark.baseline_from_finished),
        "turn_deg": rounded(mark.turn_deg),
        **({"direction": row.asked.direction.value} if mark.runs_down else {}),
        "baseline_ends": [[rounded(x), rounded(y)] for x, y in (row.baseline_path[0], row.baseline_path[-1])],
        "ink": [rounded(value) for value in row.ink],
        "cuts": _cuts(row, mark),
    }


def shape_data(pattern: Pattern, laid: Laid, mark: RowMark) -> dict[str, Any]:
    """What lies on the panel and is no row of letters."""
    return {
        "place": laid.where.as_data(),
        "text": laid.text,
        "fabric": laid.fabric.name,
        "ink": [rounded(value) for value in laid.ink],
        f"lowest_below_{_measured_from(pattern.panel)}": rounded(mark.baseline_from_top),
        "cuts": _cuts(laid, mark),
    }


def _measured_from(panel: PanelPlan) -> str:
    """What baselines are measured down from, as a part of a key."""
    return "cut_top" if panel.is_cut else "first_line" if panel.loose else "point"


def _cuts(laid: Laid, mark: RowMark) -> list[dict[str, Any]]:
    return [
        {
            **_cut(cut),
            "template": letter.template,
            "from_center": _ends(letter.left, letter.middle, letter.right),
            "turn_in_row_deg": rounded(letter.turn_deg),
            "above_baseline": rounded(letter.above_baseline),
            "tick": [rounded(letter.tick.x), rounded(letter.tick.y)],
        }
        for cut, letter in zip(laid.cuts, mark.letters, strict=True)
    ]


def _ends(left: float, middle: float, right: float) -> dict[str, float]:
    return {"left": rounded(left), "middle": rounded(middle), "right": rounded(right)}


def _cut(cut: PlacedCut) -> dict[str, Any]:
    return {
        "text": cut.text,
        "letters": list(cut.letters),
        "origin": [rounded(cut.place.x), rounded(cut.place.y)],
        "turn_deg": rounded(cut.place.turn_deg),
        "ink": [rounded(value) for value in cut.ink],
    }


def template_data(template: Template) -> dict[str, Any]:
    """One template, with the curves of its shape."""
    return {
        "number": template.number,
        "layer": template.layer.value,
        "text": template.text,
        "font": template.letter.font if template.letter else None,
        "cap_height": exact(template.letter.cap_height) if template.letter else None,
        "ink": [rounded(value) for value in template.ink],
        "area": rounded(template.area),
        "edge": rounded(template.edge),
        "parts": template.parts,
        "cut_off_at": [side.value for side in template.off.sides] if template.off else [],
        "uses": [{"fabric": u.fabric.name, "count": u.count, "rows": list(u.rows)} for u in template.uses],
        "outline": outline_path(template.outline),
        "cut_line": outline_path(template.turned.outline) if template.turned else None,
        "ring": outline_path(template.ring) if template.ring else None,
    }


def sheets_data(pattern: Pattern) -> dict[str, Any]:
    """The pages that templates are printed on."""
    sheets = pattern.sheets
    return {
        "paper": pattern.design.paper.size.value,
        "pages": sheets.page_count + 1,
        "whole": [
            [{"template": item.template, **place_data(item.place)} for item in page.items]
            for page in sheets.pages
        ],
        "tiled": [
            {
                "template": tiled.template,
                "turn_deg": tiled.place.turn_deg,
                "tiles": {
                    tile.name: [rounded(value) for value in tile.window] for tile in tiled.tiling.tiles
                },
            }
            for tiled in sheets.tiled
        ],
    }


def outline_data(pattern: Pattern, piece: PlacedOutline) -> dict[str, Any]:
    """One piece of the outline layer."""
    numbers = {template.key: template.number for template in pattern.templates}
    return {
        "row": table_of(piece.where),
        "text": piece.text,
        "fabric": piece.fabric.name,
        "template": numbers[piece.key],
        "origin": [rounded(piece.place.x), rounded(piece.place.y)],
        "turn_deg": rounded(piece.place.turn_deg),
    }
