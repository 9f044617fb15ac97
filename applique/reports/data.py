"""The pattern in numbers, for programs: `pattern.json`, what of it a check tells, and `design.toml`."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from importlib.metadata import version
from pathlib import Path
from typing import Any, Final

from applique.buying import BeyondLayout, Extra, Rule, WashAndSquare
from applique.cloth import ClothUse, FabricPlan, PrecutPlan
from applique.cutting import Piece, Region, Split
from applique.design import Accepted, Design, design_data, design_text, stash_text
from applique.errors import Where
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.held_numbers import (
    Held,
    HeldBuy,
    HeldHours,
    HeldLength,
    HeldNumber,
    HeldPieces,
    HeldStrips,
    NothingCut,
)
from applique.language import nearest_speech
from applique.leftovers import LeftoverBacking, MixedBacking
from applique.letter_blocks import LetterBlock
from applique.marks import RowMark
from applique.mats import Mat
from applique.nesting import Placement
from applique.outline_layer import PlacedOutline
from applique.panel import Laid, PlacedCut, PlacedRow
from applique.pattern import Pattern
from applique.photos import Photo
from applique.pieces import Template
from applique.publishing import Mark
from applique.quilt.borders import BorderPlan
from applique.quilt.finishing import BackingWay, BattingPlan
from applique.quilt.panel_cut import Crossed, PanelCut
from applique.quilt.sizes import BedCover, QuiltClass
from applique.quilt.strips import ClothCut
from applique.reports.file_names import one_line
from applique.scan_code import LEVEL, ScanCode
from applique.sewing.findings import (
    Detail,
    Faded,
    Finding,
    Meeting,
    Nearness,
    OutOfRange,
    Shortfall,
    TooFar,
)
from applique.sewing.limits import Limit
from applique.sewing.quilting import QuiltingPlan
from applique.sewing.stabilizer import StabilizerNeed
from applique.sewing.threads import ThreadNeed
from applique.shopping import (
    FabricBuy,
    Notion,
    ShelfItem,
    ShelfKind,
    StashShort,
)
from applique.typeset.own import OwnFont, font_digests, shared_design
from applique.units import Units, format_number
from applique.words import summary as said
from applique.words.accepted import Acceptance, acceptance_said
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
from applique.words.findings import finding_said
from applique.words.held_numbers import held_said
from applique.words.instructions.quilting import mixed_said
from applique.words.quilt import bed_said, class_label
from applique.words.sewing import course_said
from applique.yardage import Carried, SideBySide, StripNeed

__all__ = [
    "FORMAT",
    "accepted_data",
    "design_toml",
    "entry_data",
    "finding_data",
    "held_data",
    "made_by",
    "mark_data",
    "pattern_json",
    "photo_digests",
]

FORMAT: Final = "applique-pattern/1"
_PLACES: Final = 5


def pattern_json(pattern: Pattern) -> bytes:
    """Every number of the pattern as JSON, lengths in inches.

    Exact lengths stand as decimal inches and as the fraction they are. Keys are sorted, so equal patterns give
    equal bytes.
    """
    marks = {mark.where: mark for mark in pattern.marks}
    data = {
        "format": FORMAT,
        "made_by": made_by(),
        "title": pattern.title,
        "design": design_data(pattern.shared_design),
        "fonts": font_digests(pattern.fonts),
        "photos": photo_digests(pattern.photos),
        "mark": mark_data(pattern.mark),
        "contact_code": _contact_code(pattern.contact_code),
        "panel": _panel(pattern),
        "rows": [_row(pattern, row, marks[row.where]) for row in pattern.panel.rows],
        "shapes": [_shape(one, marks[one.where]) for one in pattern.panel.laid if one.letter is None],
        "templates": [_template(template) for template in pattern.templates],
        "sheets": _sheets(pattern),
        "fusible": _need(pattern, pattern.fusible),
        "cloth": [_need(pattern, need) for need in pattern.cloth],
        "quilt": _quilt(pattern),
        **_shopping(pattern),
        "too_large_for_mat": [template.number for template in pattern.mat_plan.too_large],
        "outlines": [_outline_piece(pattern, piece) for piece in pattern.outlines],
        "findings": [_finding(finding, pattern.design.units) for finding in pattern.findings],
        "accepted": [accepted_data(acceptance) for acceptance in pattern.accepted],
        "stitching": _stitching(pattern),
        "quilting": [_quilting(plan, pattern.design.units) for plan in pattern.quilting],
        "stated": [
            {**held_data(number), "what": str(held_said(number, pattern.design.units))}
            for number in pattern.stated
        ],
        "notices": [
            {
                "kind": n.kind,
                "what": str(n.what),
                "where": str(n.where),
                "place": n.where.as_data(),
                "fix": str(n.fix),
            }
            for n in pattern.notices
        ],
    }
    text = json.dumps(data, ensure_ascii=False, indent=1, sort_keys=True, allow_nan=False)
    return (text + "\n").encode("utf-8")


def design_toml(design: Design, fonts: Sequence[OwnFont], photos: Mapping[str, str]) -> bytes:
    """`design` as the file that others get: its own `fonts` by name, each told at the top with its SHA-256,
    the picture of its mark, and its photos as `photos` names them."""
    speech = nearest_speech(design.language)
    head = [
        f"# {speech.tell(note)}\n"
        for name, digest in font_digests(fonts).items()
        for note in said.font_notes(one_line(name), digest)
    ]
    if design.publisher.mark_file:
        head.append(f"# {speech.tell(said.mark_note(one_line(Path(design.publisher.mark_file).name)))}\n")
    return "".join([*head, "\n" if head else "", design_text(shared_design(design, fonts, photos))]).encode(
        "utf-8"
    )


def made_by() -> str:
    """The program and its version, as `pattern.json` carries them."""
    return f"applique {version('applique')}"


def mark_data(mark: Mark | None) -> dict[str, Any] | None:
    """The picture of a publisher's mark, as others are told of it: by name and digest."""
    return None if mark is None else {"name": mark.name, "sha256": mark.sha256}


def photo_digests(photos: Iterable[tuple[str, Photo]]) -> dict[str, str]:
    """The SHA-256 of each photo of a fabric by its name beside the design."""
    return {name: photo.sha256 for name, photo in photos}


def _contact_code(code: ScanCode | None) -> dict[str, Any] | None:
    """A code to scan: a row of figures for each row of its modules, 1 for a dark one, the quiet zone in it."""
    if code is None:
        return None
    rows = ["".join("1" if dark else "0" for dark in row) for row in code.modules]
    return {"text": code.text, "error_correction": LEVEL, "modules": rows, "side": _rounded(code.side)}


def _table_of(where: Where) -> int | dict[str, object]:
    """The number of a row, from 1, or the place of what is no row."""
    return where.as_data() if where.row is None else where.row


def _exact(length: Fraction) -> dict[str, Any]:
    return {"inches": _rounded(float(length)), "exact": str(length)}


def _rounded(value: Fraction | float) -> float:
    return float(format_number(float(value), places=_PLACES))


def _panel(pattern: Pattern) -> dict[str, Any]:
    panel = pattern.panel
    return {
        "fabric": panel.fabric.name,
        "finished": [_exact(panel.width), _exact(panel.height)],
        "cut": [_exact(panel.cut_width), _exact(panel.cut_height)],
        "trimmed": _size(panel.trimmed),
        "trim_after": _exact(panel.trim),
        "seam_allowance": _exact(panel.seam_allowance),
        "margin": _exact(panel.margin),
    }


def _row(pattern: Pattern, row: PlacedRow, mark: RowMark) -> dict[str, Any]:
    return {
        "number": row.number,
        "text": row.text,
        "font": row.font,
        "fabric": row.fabric.name,
        "cap_height": _exact(row.cap_height),
        "baseline": _rounded(row.baseline),
        "baseline_below_cut_top": _rounded(mark.baseline_from_top),
        "baseline_below_finished_top": _rounded(mark.baseline_from_finished),
        "turn_deg": _rounded(mark.turn_deg),
        "baseline_ends": [
            [_rounded(x), _rounded(y)] for x, y in (row.baseline_path[0], row.baseline_path[-1])
        ],
        "ink": [_rounded(value) for value in row.ink],
        "cuts": _cuts(row, mark),
    }


def _shape(laid: Laid, mark: RowMark) -> dict[str, Any]:
    """What lies on the panel and is no row of letters."""
    return {
        "place": laid.where.as_data(),
        "text": laid.text,
        "fabric": laid.fabric.name,
        "ink": [_rounded(value) for value in laid.ink],
        "lowest_below_cut_top": _rounded(mark.baseline_from_top),
        "cuts": _cuts(laid, mark),
    }


def _cuts(laid: Laid, mark: RowMark) -> list[dict[str, Any]]:
    return [
        {
            **_cut(cut),
            "template": letter.template,
            "from_center": _ends(letter.left, letter.middle, letter.right),
            "turn_in_row_deg": _rounded(letter.turn_deg),
            "above_baseline": _rounded(letter.above_baseline),
            "tick": [_rounded(letter.tick.x), _rounded(letter.tick.y)],
        }
        for cut, letter in zip(laid.cuts, mark.letters, strict=True)
    ]


def _ends(left: float, middle: float, right: float) -> dict[str, float]:
    return {"left": _rounded(left), "middle": _rounded(middle), "right": _rounded(right)}


def _cut(cut: PlacedCut) -> dict[str, Any]:
    return {
        "text": cut.text,
        "letters": list(cut.letters),
        "origin": [_rounded(cut.place.x), _rounded(cut.place.y)],
        "turn_deg": _rounded(cut.place.turn_deg),
        "ink": [_rounded(value) for value in cut.ink],
    }


def _template(template: Template) -> dict[str, Any]:
    return {
        "number": template.number,
        "layer": template.layer.value,
        "text": template.text,
        "font": template.letter.font if template.letter else None,
        "cap_height": _exact(template.letter.cap_height) if template.letter else None,
        "ink": [_rounded(value) for value in template.ink],
        "area": _rounded(template.area),
        "edge": _rounded(template.edge),
        "parts": template.parts,
        "uses": [{"fabric": u.fabric.name, "count": u.count, "rows": list(u.rows)} for u in template.uses],
        "outline": _outline(template.outline),
        "cut_line": _outline(template.turned.outline) if template.turned else None,
        "ring": _outline(template.ring) if template.ring else None,
    }


def _outline(outline: Outline) -> list[dict[str, Any]]:
    """Contours from `start`, each segment its control points and its end: one, two or three points."""
    return [
        {
            "start": [_rounded(value) for value in contour.start],
            "segments": [
                [_rounded(value) for point in segment for value in point] for segment in contour.segments
            ],
        }
        for contour in outline.contours
    ]


def _sheets(pattern: Pattern) -> dict[str, Any]:
    sheets = pattern.sheets
    return {
        "paper": pattern.design.paper.size.value,
        "pages": sheets.page_count + 1,
        "whole": [
            [{"template": item.template, **_place(item.place)} for item in page.items]
            for page in sheets.pages
        ],
        "tiled": [
            {
                "template": tiled.template,
                "turn_deg": tiled.place.turn_deg,
                "tiles": {
                    tile.name: [_rounded(value) for value in tile.window] for tile in tiled.tiling.tiles
                },
            }
            for tiled in sheets.tiled
        ],
    }


def _need(pattern: Pattern, need: StripNeed) -> dict[str, Any]:
    plan = pattern.shopping.letters_of(need)
    nest = need.nest if plan is None else None
    return {
        "material": str(material_said(need)),
        "usable_width": _exact(need.usable_width),
        **_rule(need.rule, pattern.design.units),
        "joined": [_side_by_side(pieces, pattern.design.units) for pieces in need.joined],
        "nest": [_placement(spot, need.carried) for spot in nest.placements] if nest else [],
        "blocks": [
            {
                "key": one.key,
                "length": _exact(one.block.length),
                "width": _exact(one.block.width),
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
        "used": _exact(rule.used),
        **_extra(rule.extra),
        "wanted": _exact(rule.wanted),
        "step": _exact(rule.step),
        "buy": _exact(rule.buy),
        "rule": str(rule_said(rule, units)),
    }


def _extra(extra: Extra) -> dict[str, Any]:
    match extra:
        case BeyondLayout(percent=percent):
            return {"extra_percent": percent}
        case WashAndSquare(shrinkage_percent=percent, squaring=squaring, spare=spare):
            return {"shrinkage_percent": percent, "squaring": _exact(squaring), "spare": _exact(spare)}


def _side_by_side(pieces: SideBySide, units: Units) -> dict[str, Any]:
    return {
        **_carried(pieces.carried),
        "count": pieces.count,
        "widths": pieces.widths,
        "length": _exact(pieces.length),
        "each": _exact(pieces.each),
        "seam": _exact(pieces.seam),
        "words": str(side_by_side_said(pieces, units)),
    }


def _size(size: tuple[Fraction, Fraction]) -> list[dict[str, Any]]:
    return [_exact(side) for side in size]


def _quilt(pattern: Pattern) -> dict[str, Any]:
    quilt, units = pattern.quilt, pattern.design.units
    return {
        "finished": _size(quilt.finished),
        "class": _class(quilt.size_class),
        "bed": None if quilt.bed is None else _bed(quilt.bed, units),
        "panel_cut": _panel_cut(quilt.panel),
        "borders": [_border(border) for border in quilt.borders],
        "binding": {
            "run": _exact(quilt.binding.needed),
            "quick_strips": quilt.binding.quick_strips,
            "seam": _exact(quilt.binding.seam),
            "cut": _cloth_cut(quilt.binding.cut),
        },
        "backing": {
            "size": _size((quilt.backing.width, quilt.backing.height)),
            "ways": [_way(way) for way in quilt.backing.ways],
        },
        "batting": {
            "size": _size((quilt.batting.width, quilt.batting.height)),
            "sold_as": quilt.batting.name.value,
        },
        "sleeve": None if quilt.sleeve is None else _size((quilt.sleeve.cut_length, quilt.sleeve.cut_depth)),
    }


def _way(way: BackingWay) -> dict[str, Any]:
    return {
        "upright": way.upright,
        "panel_length": _exact(way.along),
        "widths": [_exact(width) for width in way.widths],
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
        "over_each_side": _exact(bed.over_each_side),
        "words": str(bed_said(bed, units)),
    }


def _panel_cut(cut: PanelCut) -> dict[str, Any]:
    seam, other = cut.seam, cut.other_way
    return {
        "size": _size((cut.width, cut.height)),
        "trimmed": _size(cut.trimmed),
        "widths": [_exact(width) for width in cut.widths],
        "seams": [_exact(place) for place in seam.places] if seam else [],
        "seams_upright": seam and seam.upright,
        "crossed": _crossed(seam.crossed) if seam else [],
        "other_way": other and {"length": _exact(other.length), "crossed": _crossed(other.crossed)},
    }


def _crossed(letters: Iterable[Crossed]) -> list[dict[str, Any]]:
    return [{"text": crossed.letters, "row": crossed.row} for crossed in letters]


def _border(border: BorderPlan) -> dict[str, Any]:
    return {
        "number": border.number,
        "kind": border.kind.value,
        "width": _exact(border.width),
        "finished": _size(border.finished),
        "cuts": [_cloth_cut(cut) for cut in border.cuts],
        "uneven": border.uneven
        and {
            "length": _exact(border.uneven.length),
            "pieces": [
                {
                    "side": piece.side.value,
                    "place": piece.place,
                    "count": piece.count,
                    "length": _exact(piece.length),
                    "cut_length": _exact(piece.cut_length),
                }
                for piece in border.uneven.pieces
            ],
            "offers": [
                {
                    "kind": offer.kind.value,
                    "width": _exact(offer.width),
                    "length": _exact(offer.length),
                    "across": offer.across,
                    "down": offer.down,
                }
                for offer in border.uneven.offers
            ],
        },
        "alike": [corner.value for corner in border.alike],
        "steps": [
            {
                "finished": _size(step.finished),
                "strips": [
                    {
                        "side": strip.side.value,
                        "cut_length": _exact(strip.cut_length),
                        "cut_width": _exact(strip.cut_width),
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
        "strip_width": _exact(cut.strip_width),
        "pieces": [
            {"length": _exact(pieces.length), "count": pieces.count, "upright": pieces.upright}
            for pieces in cut.pieces
        ],
        "join": cut.join and cut.join.value,
    }


def _shopping(pattern: Pattern) -> dict[str, Any]:
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
            "usable_width": _exact(shopping.wide_backing.usable_width),
            "upright": shopping.wide_backing.way.upright,
            "lengths": len(shopping.wide_backing.way.widths),
            "panel_length": _exact(shopping.wide_backing.way.along),
            **_rule(shopping.wide_backing.rule, units),
            "words": str(wide_said(shopping.wide_backing, units)),
        },
    }


def _buy(buy: FabricBuy, units: Units) -> dict[str, Any]:
    cutting = buy.cutting
    return {
        "fabric": buy.fabric.name,
        "usable_width": _exact(buy.fabric.usable_width),
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
        "plain_strips_use": _exact(cutting.plan.plain),
        "left_over": [_size((piece.length, piece.width)) for piece in cutting.leftovers],
    }


def _cut_from(cutting: FabricPlan | PrecutPlan, units: Units) -> dict[str, Any]:
    """What there is to cut from, what is cut for each use, and every cloth as it is cut."""
    return {
        "supplies": [
            {
                "key": supply.key,
                "length": supply.length and _exact(supply.length),
                "width": _exact(supply.width),
                "count": supply.count,
                "squaring": _exact(supply.squaring),
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
        "way": use.way and _way(use.way),
        "what": str(use_said(use)),
        "cut": [
            {
                "key": one.key,
                "length": _exact(one.length),
                "width": _exact(one.width),
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
                "reach": _exact(run.reach),
                "needed": _exact(run.needed),
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
        "more": _exact(short.more),
        "letters": [template.number for template in short.letters],
    }


def _leftover_backing(back: LeftoverBacking, units: Units) -> dict[str, Any]:
    return {
        "enough": back.enough,
        "lies": back.lies,
        "reached": _exact(back.reached),
        "goal": _exact(back.goal),
        "rows": [
            [{"fabric": piece.fabric, "size": _size((piece.length, piece.width))} for piece in row]
            for row in back.rows
        ],
        "words": str(leftovers_said(back, units)),
    }


def _mixed_backing(mixed: MixedBacking, units: Units) -> dict[str, Any]:
    return {
        "upright": mixed.way.upright,
        "lengths": len(mixed.way.widths),
        "panel_length": _exact(mixed.way.along),
        "strip_width": _exact(mixed.way.widened),
        "strip": [
            {"fabric": piece.fabric, "size": _size((piece.length, piece.width))} for piece in mixed.strip
        ],
        "reach": _exact(mixed.reach),
        "saved": _exact(mixed.saved),
        "words": str(mixed_said(mixed, units)),
    }


def _outline_piece(pattern: Pattern, piece: PlacedOutline) -> dict[str, Any]:
    numbers = {template.key: template.number for template in pattern.templates}
    return {
        "row": _table_of(piece.where),
        "text": piece.text,
        "fabric": piece.fabric.name,
        "template": numbers[piece.key],
        "origin": [_rounded(piece.place.x), _rounded(piece.place.y)],
        "turn_deg": _rounded(piece.place.turn_deg),
    }


def _finding(finding: Finding, units: Units) -> dict[str, Any]:
    return {
        "kind": finding.kind.value,
        "row": _table_of(finding.where),
        "what": str(finding_said(finding, units)),
        **finding_data(finding),
    }


def entry_data(entry: Accepted) -> dict[str, Any]:
    """An entry `[[accepted]]` in the shape of the design file, whole."""
    return {
        "finding": entry.finding.value,
        "words": entry.words,
        "measured": list(entry.measured),
        "why": entry.why,
    }


def accepted_data(acceptance: Acceptance) -> dict[str, Any]:
    """What a maker has accepted, whether that still holds, and the findings that it is of."""
    return {
        **entry_data(acceptance.entry),
        "number": acceptance.number,
        "standing": acceptance.standing.value,
        "said": [str(said) for said in acceptance_said(acceptance)],
        "findings": [
            {
                "kind": risk.notice.kind,
                "what": str(risk.notice.what),
                "where": str(risk.notice.where),
                "place": risk.notice.where.as_data(),
            }
            for risk in acceptance.risks
        ],
    }


def finding_data(finding: Finding) -> dict[str, Any]:
    """What was measured, what it was judged by, and where, as JSON holds it; lengths in inches."""
    return {
        "measure": _rounded(finding.measure),
        "limit": _rounded(finding.limit),
        "spots": [
            {"text": s.text, "measure": _rounded(s.measure), "at": [_rounded(s.at[0]), _rounded(s.at[1])]}
            for s in finding.spots
        ],
        "detail": _detail(finding.detail),
    }


def _detail(detail: Detail) -> dict[str, Any]:
    """What a finding was judged by, by its kind."""
    match detail:
        case Shortfall(limit=limit):
            return _limit(limit)
        case Nearness(limit=limit, above=above):
            return {**_limit(limit), "above": _table_of(above)}
        case Meeting(around=around, reach=reach):
            return {"around": around.value, "reach": _rounded(reach)}
        case OutOfRange(stitch=stitch, width=width, bound=bound):
            return {"stitch": stitch.value, "width": _exact(width), "bound": _exact(bound)}
        case Faded(fabric=fabric, background=background, difference=difference):
            return {"fabric": fabric, "background": background, "difference": _rounded(difference)}
        case TooFar() as far:
            return {
                "cap_height": _exact(far.cap_height),
                "distance": _exact(far.distance),
                "farthest": _exact(far.farthest),
                "least": _exact(far.least),
                "comfortable": _exact(far.comfortable),
            }


def held_data(number: HeldNumber) -> dict[str, Any]:
    """A number of the maker's own, and what it was held against, as JSON holds it; lengths in inches."""
    return {
        "table": number.table,
        "part": number.part.value,
        "border": number.border,
        "fabric": number.fabric,
        "kind": number.kind.value,
        "verdict": number.verdict.value,
        **_held(number.held),
    }


def _held(held: Held) -> dict[str, Any]:
    """What a number was held against, by its kind; `over` is what is to spare, less than nothing where it is short."""
    match held:
        case HeldStrips() as strips:
            return {
                "stated": strips.stated,
                "needed": strips.needed,
                "usable_widths": [_exact(width) for width in strips.usable_widths],
                "holds_from": None if strips.holds_from is None else _exact(strips.holds_from),
                "over": None if strips.over is None else _exact(strips.over),
            }
        case HeldPieces(stated=stated, needed=needed, over=over):
            return {"stated": stated, "needed": needed, "over": over}
        case HeldLength(stated=length, needed=least, over=spare):
            return {"stated": _exact(length), "needed": _exact(least), "over": _exact(spare)}
        case HeldBuy() as buy:
            return {"stated": _exact(buy.stated), "needed": _exact(buy.needed), "over": _exact(buy.over)}
        case HeldHours() as hours:
            least_most = [_rounded(hours.least), _rounded(hours.most)]
            return {"stated": _rounded(hours.stated), "needed": least_most}
        case NothingCut(stated=number):
            return {"stated": _exact(number) if isinstance(number, Fraction) else number}


def _limit(limit: Limit) -> dict[str, Any]:
    return {"reason": limit.reason.value, "stitch": limit.stitch and limit.stitch.value}


def _stitching(pattern: Pattern) -> dict[str, Any]:
    plan = pattern.stitching
    return {
        "rows": [
            {
                "row": _table_of(row.where),
                "stitch": row.stitch.stitch.value,
                "stitch_reason": row.stitch.reason.value,
                "width": _exact(row.stitch.width),
                "length": _exact(row.stitch.length),
                "thread": row.stitch.thread,
                "contrast": _rounded(row.stitch.contrast),
                "edge": _rounded(row.edge),
                "stitches": row.stitches,
                "top": _rounded(row.top),
                "bobbin": _rounded(row.bobbin),
                "minutes": [_rounded(minutes) for minutes in row.minutes],
                "pace": list(row.stitch.paces),
                "layers": [
                    {
                        "layer": layer.layer.value,
                        "thread": layer.thread,
                        "edge": _rounded(layer.edge),
                        "curved": _rounded(layer.curved),
                        "stitches": layer.stitches,
                        "top": _rounded(layer.top),
                        "bobbin": _rounded(layer.bobbin),
                        "minutes": [_rounded(minutes) for minutes in layer.minutes],
                    }
                    for layer in row.layers
                ],
                "stabilizer": row.stabilizer.kind.value,
                "stabilizer_reason": row.stabilizer.reason.value,
                "stabilizer_size": [_exact(row.stabilizer.width), _exact(row.stabilizer.height)],
                "stabilizer_widths": row.stabilizer.widths,
                "stabilizer_each": _exact(row.stabilizer.each),
            }
            for row in plan.rows
        ],
        "order": [_table_of(where) for where in plan.order],
        "stabilizers": [_stabilizer(need) for need in plan.stabilizers],
        "threads": [_thread(need) for need in pattern.threads],
        "minutes": [_rounded(minutes) for minutes in plan.minutes],
        "when": plan.when.value,
        "when_reason": plan.when_reason.value,
        "starts": {
            str(letter.template): [[_rounded(x), _rounded(y)] for x, y in letter.starts]
            for letter in plan.letters
        },
        "offers": [
            {
                "stitch": offer.stitch.value,
                "stitches": offer.stitches,
                "minutes": [_rounded(minutes) for minutes in offer.minutes],
                "threads": [_thread(need) for need in offer.threads],
                "stabilizers": [_stabilizer(need) for need in offer.stabilizers],
            }
            for offer in pattern.offers
        ],
    }


def _stabilizer(need: StabilizerNeed) -> dict[str, Any]:
    return {
        "kind": need.kind.value,
        "roll_width": _exact(need.roll_width),
        "bands": [
            {"length": _exact(band.length), "under": [_table_of(where) for where in band.tables]}
            for band in need.bands
        ],
        "pieces": [
            {
                "under": _table_of(need.tables[int(piece.key)]),
                "at": _size((region.x, region.y)),
                "size": _size((region.length, region.width)),
            }
            for cloth in need.plan.cloths
            for region, piece in cloth.root.pieces()
        ],
        "used": _exact(need.used),
        "buy": _exact(need.buy),
    }


def _thread(need: ThreadNeed) -> dict[str, Any]:
    return {
        "name": need.name,
        "color": need.color,
        "places": [str(place) for place in need.places],
        "parts": [
            {"use": part.use.value, "top": _rounded(part.top), "bobbin": _rounded(part.bobbin)}
            for part in need.parts
        ],
        "length": _rounded(need.length),
        "spools": need.spools,
        "bobbins": need.bobbins,
        "figured_spacing": None if need.spacing is None else _exact(need.spacing),
        "at_most": need.at_most,
        "spools_with_piecing": need.with_piecing,
    }


def _quilting(plan: QuiltingPlan, units: Units) -> dict[str, Any]:
    return {
        "kind": plan.kind.value,
        "words": str(course_said(plan.course, units)),
        "lines": len(plan.lines),
        "length": _rounded(plan.length),
        "stitches": plan.stitches,
        "thread": _rounded(plan.thread),
        "spools": plan.spools,
        "offered": plan.offered,
    }


def _placement(spot: Placement, carried: Mapping[str, Carried]) -> dict[str, Any]:
    return {**_carried(carried[spot.key]), **_place(spot.place)}


def _carried(carried: Carried) -> dict[str, int]:
    return {"mat" if isinstance(carried, Mat) else "template": carried.number}


def _place(place: Place) -> dict[str, float]:
    return {"turn_deg": place.turn_deg, "x": _rounded(place.x), "y": _rounded(place.y)}
