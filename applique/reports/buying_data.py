"""What the data of a report tell of cloth, web and all else to buy: nests, cutting plans, by which rule."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from applique.buying import BeyondLayout, Extra, Rule, WashAndSquare
from applique.cloth import ClothUse, FabricPlan, PrecutPlan
from applique.cutting import Piece, Region, Split
from applique.design import stash_text
from applique.leftovers import LeftoverBacking, MixedBacking
from applique.letter_blocks import LetterBlock
from applique.mats import Mat
from applique.nesting import Placement
from applique.pattern import Pattern
from applique.quilt.finishing import BattingPlan
from applique.reports.numbers import exact, place_data, size_data
from applique.reports.quilt_data import way_data
from applique.sewing.stabilizer import StabilizerNeed
from applique.sewing.threads import ThreadNeed
from applique.shopping import (
    FabricBuy,
    Notion,
    ShelfItem,
    ShelfKind,
    StashShort,
)
from applique.units import Units
from applique.words.buying import (
    item_said,
    leftovers_said,
    material_said,
    precut_said,
    rule_said,
    shelf_name,
    wide_said,
)
from applique.words.cloth import side_by_side_said, use_how, use_said
from applique.words.instructions.quilting import mixed_said
from applique.yardage import Carried, SideBySide, StripNeed

__all__ = ["need_data", "shopping_data"]


def need_data(pattern: Pattern, need: StripNeed) -> dict[str, Any]:
    """What letters take of web or of one fabric: what is laid on it, and what to buy."""
    plan = pattern.shopping.letters_of(need)
    nest = need.nest if plan is None else None
    return {
        "material": str(material_said(need)),
        "usable_width": exact(need.usable_width),
        **_rule(need.rule, pattern.design.units),
        "joined": [_side_by_side(pieces, pattern.design.units) for pieces in need.joined],
        "nest": [_placement(spot, need.carried) for spot in nest.placements] if nest else [],
        "blocks": [
            {
                "key": one.key,
                "length": exact(one.block.length),
                "width": exact(one.block.width),
                "nest": [_placement(spot, need.carried) for spot in one.nest.placements],
            }
            for one in _blocks(plan)
        ],
    }


def _blocks(plan: FabricPlan | None) -> tuple[LetterBlock, ...]:
    return plan.letters.blocks if plan is not None and plan.letters is not None else ()


def _rule(rule: Rule[Extra], units: Units) -> dict[str, Any]:
    """What is used, what comes on top of it, what is wanted then, and what to buy; and all that in words."""
    return {
        "used": exact(rule.used),
        **_extra(rule.extra),
        "wanted": exact(rule.wanted),
        "step": exact(rule.step),
        "buy": exact(rule.buy),
        "rule": str(rule_said(rule, units)),
    }


def _extra(extra: Extra) -> dict[str, Any]:
    match extra:
        case BeyondLayout(percent=percent):
            return {"extra_percent": percent}
        case WashAndSquare(shrinkage_percent=percent, squaring=squaring, spare=spare):
            return {"shrinkage_percent": percent, "squaring": exact(squaring), "spare": exact(spare)}


def _side_by_side(pieces: SideBySide, units: Units) -> dict[str, Any]:
    return {
        **_carried(pieces.carried),
        "count": pieces.count,
        "widths": pieces.widths,
        "length": exact(pieces.length),
        "each": exact(pieces.each),
        "seam": exact(pieces.seam),
        "words": str(side_by_side_said(pieces, units)),
    }


def shopping_data(pattern: Pattern) -> dict[str, Any]:
    """Everything to buy, by fabric and by shelf, and how each fabric is cut."""
    shopping, units = pattern.shopping, pattern.design.units
    back = shopping.leftover_backing
    return {
        "to_buy": [_buy(buy, units) for buy in shopping.cloth],
        "shelves": [
            {
                "kind": shelf.kind.value,
                "name": str(shelf_name(shelf)),
                "items": [{**_item(item), "words": str(item_said(item, units))} for item in shelf.items],
            }
            for shelf in shopping.shelves
            if shelf.kind not in (ShelfKind.CLOTH, ShelfKind.WEB)
        ],
        "stash_short": [_short(short) for short in shopping.short],
        "leftover_backing": None if back is None else _leftover_backing(back, units),
        "mixed_backing": None
        if shopping.mixed_backing is None
        else _mixed_backing(shopping.mixed_backing, units),
        "pieced_back": [
            {
                "fabric": patch.fabric,
                "x": str(patch.x),
                "y": str(patch.y),
                "width": str(patch.width),
                "height": str(patch.height),
            }
            for patch in shopping.back
        ],
        "wide_backing": None
        if shopping.wide_backing is None
        else {
            "usable_width": exact(shopping.wide_backing.usable_width),
            "upright": shopping.wide_backing.way.upright,
            "lengths": len(shopping.wide_backing.way.widths),
            "panel_length": exact(shopping.wide_backing.way.along),
            **_rule(shopping.wide_backing.rule, units),
            "words": str(wide_said(shopping.wide_backing, units)),
        },
    }


def _buy(buy: FabricBuy, units: Units) -> dict[str, Any]:
    cutting = buy.cutting
    return {
        "fabric": buy.fabric.name,
        "usable_width": exact(buy.fabric.usable_width),
        **_rule(buy.rule, units),
        "precut": None
        if cutting.precut is None
        else {
            "kind": cutting.precut.precut.kind.value,
            "count": cutting.precut.precut.count,
            "words": str(precut_said(cutting.precut.precut)),
            **_cut_from(cutting.precut, units),
        },
        **_cut_from(cutting, units),
        "plain_strips_use": exact(cutting.plan.plain),
        "left_over": [
            size_data((piece.length, piece.width)) for piece in cutting.offcuts_of(cutting.plan.cloths)
        ],
    }


def _cut_from(cutting: FabricPlan | PrecutPlan, units: Units) -> dict[str, Any]:
    """What there is to cut from, what is cut for each use, and every cloth as it is cut."""
    return {
        "supplies": [
            {
                "key": supply.key,
                "length": supply.length and exact(supply.length),
                "width": exact(supply.width),
                "count": supply.count,
                "squaring": exact(supply.squaring),
            }
            for supply in cutting.supplies
        ],
        "uses": [_use(use, units) for use in cutting.uses],
        "cutting": [
            {"supply": cloth.supply, "number": cloth.number, **_region(cloth.root)}
            for cloth in cutting.plan.cloths
        ],
    }


def _use(use: ClothUse, units: Units) -> dict[str, Any]:
    return {
        "kind": use.kind.value,
        "border": use.border,
        "way": use.way and way_data(use.way),
        "what": str(use_said(use)),
        "cut": [
            {
                "key": one.key,
                "length": exact(one.length),
                "width": exact(one.width),
                "count": one.count,
                "lies": one.lie.value,
            }
            for one in use.strips
        ],
        "joined": [
            {
                "key": run.key,
                "join": run.join.value,
                "strips": run.strips,
                "reach": exact(run.reach),
                "needed": exact(run.needed),
            }
            for run in use.joined
        ],
        "how": str(use_how(use, units)),
    }


def _region(region: Region) -> dict[str, Any]:
    """A rectangle of cloth and what becomes of it: a piece, parts side by side, or nothing."""
    found: dict[str, Any] = {
        "x": str(region.x),
        "y": str(region.y),
        "length": str(region.length),
        "width": str(region.width),
    }
    match region.fill:
        case Piece(key=key, lie=lie):
            return {**found, "piece": key, "lies": lie.value}
        case Split(cut=cut, parts=parts):
            return {**found, "cut": cut.value, "parts": [_region(part) for part in parts]}
        case _:
            return found


def _item(item: ShelfItem) -> dict[str, Any]:
    """What a thing on a shelf is, as far as it does not stand elsewhere: `to_buy`, `fusible`, `stitching`, `quilt`."""
    match item:
        case StabilizerNeed():
            return {"kind": item.kind.value}
        case ThreadNeed():
            return {"kind": " and ".join(item.uses), "fabric": item.name}
        case BattingPlan():
            return {"kind": item.name.value}
        case Notion():
            return {"kind": item.value}
        case _:
            return {}


def _short(short: StashShort) -> dict[str, Any]:
    return {
        "fabric": short.fabric.name,
        "have": stash_text(short.fabric.have),
        "more": exact(short.more),
        "letters": [template.number for template in short.letters],
    }


def _leftover_backing(back: LeftoverBacking, units: Units) -> dict[str, Any]:
    return {
        "enough": back.enough,
        "lies": back.lies,
        "reached": exact(back.reached),
        "goal": exact(back.goal),
        "rows": [
            [{"fabric": piece.fabric, "size": size_data((piece.length, piece.width))} for piece in row]
            for row in back.rows
        ],
        "words": str(leftovers_said(back, units)),
    }


def _mixed_backing(mixed: MixedBacking, units: Units) -> dict[str, Any]:
    return {
        "upright": mixed.way.upright,
        "lengths": len(mixed.way.widths),
        "panel_length": exact(mixed.way.along),
        "strip_width": exact(mixed.way.widened),
        "strip": [
            {"fabric": piece.fabric, "size": size_data((piece.length, piece.width))} for piece in mixed.strip
        ],
        "reach": exact(mixed.reach),
        "saved": exact(mixed.saved),
        "words": str(mixed_said(mixed, units)),
    }


def _placement(spot: Placement, carried: Mapping[str, Carried]) -> dict[str, Any]:
    return {**_carried(carried[spot.key]), **place_data(spot.place)}


def _carried(carried: Carried) -> dict[str, int]:
    return {"mat" if isinstance(carried, Mat) else "template": carried.number}
