"""What the data of a report tell of the quilt: panel, borders, binding, back, batting, sleeve, its class and bed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from applique.pattern import Pattern
from applique.quilt.borders import BorderPlan
from applique.quilt.bunting import TapePlan
from applique.quilt.finishing import BackingWay
from applique.quilt.panel_cut import Crossed, PanelCut
from applique.quilt.pillow import PillowPlan
from applique.quilt.setting import SettingPlan
from applique.quilt.sizes import BedCover, QuiltClass
from applique.quilt.strips import ClothCut
from applique.reports.numbers import exact, size_data
from applique.units import Units
from applique.words.quilt import bed_said, class_label

__all__ = ["quilt_data", "way_data"]


def quilt_data(pattern: Pattern) -> dict[str, Any]:
    """The quilt around the panel."""
    quilt, units = pattern.quilt, pattern.design.units
    if quilt.apart:
        return {"layered": False, "borders": []}
    return {
        "finished": size_data(quilt.finished),
        "class": _class(quilt.size_class),
        "bed": None if quilt.bed is None else _bed(quilt.bed, units),
        "panel_cut": None if quilt.panel_cut is None else _panel_cut(quilt.panel_cut),
        "borders": [_border(border) for border in quilt.borders],
        "layered": quilt.layered,
        "trimmed": None if not quilt.panels else size_data(quilt.trimmed),
        "binding": None
        if quilt.binding is None
        else {
            "run": exact(quilt.binding.needed),
            "quick_strips": quilt.binding.quick_strips,
            "seam": exact(quilt.binding.seam),
            "cut": _cloth_cut(quilt.binding.cut),
        },
        "backing": None
        if not quilt.panels
        else {
            "size": size_data((quilt.backing.width, quilt.backing.height)),
            "ways": [way_data(way) for way in quilt.backing.ways],
        },
        "batting": None
        if not quilt.panels
        else {
            "bought": quilt.batting.bought,
            "size": size_data((quilt.batting.width, quilt.batting.height)),
            "sold_as": quilt.batting.name.value,
        },
        "sleeve": None
        if quilt.sleeve is None
        else size_data((quilt.sleeve.cut_length, quilt.sleeve.cut_depth)),
        "ties": None
        if quilt.ties is None
        else {"count": quilt.ties.count, "cut": size_data((quilt.ties.length, quilt.ties.width))},
        "pillow": None if quilt.pillow is None else _pillow(quilt.pillow),
        **({} if quilt.tape is None else {"tape": _tape(quilt.tape)}),
        **({} if quilt.setting is None else {"setting": _setting(pattern, quilt.setting)}),
    }


def _setting(pattern: Pattern, plan: SettingPlan) -> dict[str, Any]:
    """How blocks are set together: which lies where by its name, None for a plain one, and the top after each row."""
    names = pattern.block_names
    return {
        "places": [[None if number is None else names[number] for number in row] for row in plan.grid],
        "finished": size_data(plan.finished),
        "sashing": exact(plan.sashing),
        "around": plan.around,
        "cuts": [{**_cloth_cut(cut), "for": part.value} for part, cut in plan.cuts],
        "rows": [size_data(size) for size in plan.row_sizes],
        "sashing_rows": {"count": plan.level, "size": size_data(plan.level_size)} if plan.level else None,
        "joined": [size_data(size) for size in plan.joined_sizes],
        "set": size_data(plan.set_size),
    }


def _tape(tape: TapePlan) -> dict[str, Any]:
    return {
        "panels": tape.count,
        "size": size_data((tape.length, tape.width)),
        "spacing": exact(tape.spacing),
        "tail": exact(tape.tail),
    }


def _pillow(plan: PillowPlan) -> dict[str, Any]:
    return {
        "back": plan.back.value,
        "half": size_data((plan.long, plan.deep)),
        "overlap": exact(plan.overlap),
        "zipper": None if plan.zipper is None else exact(plan.zipper),
        "insert": {"size": size_data((plan.insert.width, plan.insert.height)), "sold": plan.insert.sold},
    }


def way_data(way: BackingWay) -> dict[str, Any]:
    """One way to piece a back."""
    return {
        "upright": way.upright,
        "panel_length": exact(way.along),
        "widths": [exact(width) for width in way.widths],
    }


def _class(found: QuiltClass) -> dict[str, Any]:
    return {
        "name": found.name.value,
        "against": found.against.value,
        "usual": found.usual and list(found.usual),
        "words": str(class_label(found)),
    }


def _bed(bed: BedCover, units: Units) -> dict[str, Any]:
    return {
        "name": bed.name.value,
        "mattress": list(bed.mattress),
        "over_each_side": exact(bed.over_each_side),
        "words": str(bed_said(bed, units)),
    }


def _panel_cut(cut: PanelCut) -> dict[str, Any]:
    seam, other = cut.seam, cut.other_way
    return {
        "size": size_data((cut.width, cut.height)),
        "trimmed": size_data(cut.trimmed),
        "widths": [exact(width) for width in cut.widths],
        "seams": [exact(place) for place in seam.places] if seam else [],
        "seams_upright": seam and seam.upright,
        "crossed": _crossed(seam.crossed) if seam else [],
        "other_way": other and {"length": exact(other.length), "crossed": _crossed(other.crossed)},
    }


def _crossed(letters: Iterable[Crossed]) -> list[dict[str, Any]]:
    return [{"text": crossed.letters, "row": crossed.row} for crossed in letters]


def _border(border: BorderPlan) -> dict[str, Any]:
    return {
        "number": border.number,
        "kind": border.kind.value,
        "width": exact(border.width),
        "finished": size_data(border.finished),
        "cuts": [_cloth_cut(cut) for cut in border.cuts],
        "uneven": border.uneven
        and {
            "length": exact(border.uneven.length),
            "pieces": [
                {
                    "side": piece.side.value,
                    "place": piece.place,
                    "count": piece.count,
                    "length": exact(piece.length),
                    "cut_length": exact(piece.cut_length),
                }
                for piece in border.uneven.pieces
            ],
            "offers": [
                {
                    "kind": offer.kind.value,
                    "width": exact(offer.width),
                    "length": exact(offer.length),
                    "across": offer.across,
                    "down": offer.down,
                }
                for offer in border.uneven.offers
            ],
        },
        "alike": [corner.value for corner in border.alike],
        "steps": [
            {
                "finished": size_data(step.finished),
                "strips": [
                    {
                        "side": strip.side.value,
                        "cut_length": exact(strip.cut_length),
                        "cut_width": exact(strip.cut_width),
                        "pieces": [
                            {"fabric": fabric, "finished": str(length)} for fabric, length in strip.pieces
                        ],
                    }
                    for strip in step.strips
                ],
            }
            for step in border.steps
        ],
    }


def _cloth_cut(cut: ClothCut) -> dict[str, Any]:
    return {
        "fabric": cut.fabric,
        "what": cut.kind.value,
        "count": cut.count,
        "strip_width": exact(cut.strip_width),
        "pieces": [
            {"length": exact(pieces.length), "count": pieces.count, "upright": pieces.upright}
            for pieces in cut.pieces
        ],
        "join": cut.join and cut.join.value,
    }
