"""`pattern.json`: every number in it is that of the `Pattern`, exact lengths as decimals and as fractions."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from applique.buying import BeyondLayout, Extra, Rule, WashAndSquare
from applique.cutting import Piece, Region, Split
from applique.design import design_from_mapping
from applique.pattern import Pattern, draft
from applique.reports import pattern_json, summary_md
from applique.shopping import Notion
from applique.units import Units
from applique.words.buying import item_said, material_said, precut_said, rule_said
from applique.words.cloth import use_how, use_said
from applique.words.findings import finding_said
from applique.words.sewing import course_said
from tests.there import there


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return draft(
        design_from_mapping(
            {
                "panel": {"width": "36in", "height": "34in", "fabric": "Fog", "seam_allowance": "3/8in"},
                "lettering": {"font": "Fredoka", "fabric": "Ink"},
                "row": [
                    {"text": "QI", "cap_height": "17in", "right": "1in", "stitch": "satin"},
                    {
                        "text": "Ebb",
                        "cap_height": "9/2in",
                        "align": "left",
                        "fabric": "Rust",
                        "outline": "3/8in",
                    },
                ],
                "fabric": [
                    {"name": "Ink", "color": "#203040"},
                    {"name": "Rust", "color": "#a05030", "usable_width": "42in"},
                    {"name": "Fog", "color": "#e0e0d8", "usable_width": "52in"},
                ],
                "outline": {"fabric": "Fog"},
                "border": [
                    {"kind": "strip", "width": "2in", "fabrics": ["Ink"], "corners": "cornerstones"},
                    {"kind": "squares", "size": "2in", "fabrics": ["Rust", "Fog"]},
                ],
                "hanging": {"sleeve": True},
                "quilting": [{"kind": "echo", "lines": 1}],
                "sewing": {"method": "turned edge"},
                "stitching": {"spool": "20yd"},
                "fusible": {"extra_percent": 20},
                "paper": {"copies": "each"},
            }
        )
    )


@pytest.fixture(scope="module")
def data(pattern: Pattern) -> dict[str, Any]:
    return dict(json.loads(pattern_json(pattern)))


def exact(value: Any) -> Any:
    """Lengths as they are written, each as the one fraction that both of its forms mean."""
    if isinstance(value, list):
        return tuple(exact(one) for one in value)
    length = Fraction(value["exact"])
    assert value["inches"] == pytest.approx(float(length), abs=1e-5)
    return length


def close(*numbers: float | Fraction) -> Any:
    return pytest.approx([float(number) for number in numbers], abs=1e-5)


def test_the_panel_and_its_rows(pattern: Pattern, data: dict[str, Any]) -> None:
    panel = pattern.panel
    said = data["panel"]
    assert exact(said["finished"]) == (panel.width, panel.height)
    assert exact(said["cut"]) == (panel.cut_width, panel.cut_height)
    assert (exact(said["seam_allowance"]), exact(said["margin"])) == (panel.seam_allowance, panel.margin)
    assert said["fabric"] == panel.fabric.name
    center = float(panel.width) / 2
    for row, placed in zip(data["rows"], panel.rows, strict=True):
        assert (row["number"], row["text"], row["fabric"]) == (placed.number, placed.text, placed.fabric.name)
        assert exact(row["cap_height"]) == placed.cap_height
        below = float(panel.height + panel.beyond) - placed.baseline
        assert [row["baseline"], row["baseline_below_cut_top"]] == close(placed.baseline, below)
        assert row["ink"] == close(*placed.ink)
        for cut, one in zip(row["cuts"], placed.cuts, strict=True):
            assert (cut["text"], cut["letters"]) == (one.text, list(one.letters))
            assert cut["origin"] == close(one.place.x, one.place.y)
            assert cut["ink"] == close(*one.ink)
            ends = [cut["from_center"][end] + center for end in ("left", "middle", "right")]
            assert ends == close(one.ink[0], (one.ink[0] + one.ink[2]) / 2, one.ink[2])
            template = data["templates"][cut["template"] - 1]
            assert (template["number"], template["text"]) == (cut["template"], one.text)
            wide = template["ink"][2] - template["ink"][0]
            assert wide == pytest.approx(one.ink[2] - one.ink[0], abs=1e-4)
    for said, piece in zip(data["outlines"], pattern.outlines, strict=True):
        assert (said["row"], said["text"], said["fabric"]) == (piece.where.row, piece.text, piece.fabric.name)
        assert said["origin"] == close(piece.place.x, piece.place.y)
        assert data["templates"][said["template"] - 1]["layer"] == "outline"


def test_templates_and_their_sheets(pattern: Pattern, data: dict[str, Any]) -> None:
    for said, template in zip(data["templates"], pattern.templates, strict=True):
        assert (said["number"], said["text"], said["parts"]) == (
            template.number,
            template.text,
            template.parts,
        )
        assert template.letter is not None
        assert (said["font"], exact(said["cap_height"])) == (template.letter.font, template.letter.cap_height)
        assert [said["area"], said["edge"]] == close(template.area, template.edge)
        assert said["ink"] == close(*template.ink)
        assert [(use["fabric"], use["count"], use["rows"]) for use in said["uses"]] == [
            (use.fabric.name, use.count, list(use.rows)) for use in template.uses
        ]
        x0, y0, x1, y1 = template.ink
        for contours, out in ((said["outline"], 0.0), (said["cut_line"], 3 / 16)):
            ends = [c["start"] for c in contours] + [s[-2:] for c in contours for s in c["segments"]]
            sides = [
                min(x for x, _ in ends),
                min(y for _, y in ends),
                max(x for x, _ in ends),
                max(y for _, y in ends),
            ]
            assert sides == pytest.approx([x0 - out, y0 - out, x1 + out, y1 + out], abs=0.1)
        assert (said["ring"] is None) == (not template.ring)
    sheets = data["sheets"]
    tiles = [len(large["tiles"]) for large in sheets["tiled"]]
    assert sheets["pages"] == 1 + len(sheets["whole"]) + sum(tiles)
    assert tiles
    for large, tiled in zip(sheets["tiled"], pattern.sheets.tiled, strict=True):
        assert (large["template"], large["turn_deg"]) == (tiled.template, tiled.place.turn_deg)
        assert large["tiles"] == {tile.name: close(*tile.window) for tile in tiled.tiling.tiles}
    for page, laid in zip(sheets["whole"], pattern.sheets.pages, strict=True):
        assert [(i["template"], i["turn_deg"], i["x"], i["y"]) for i in page] == [
            (
                i.template,
                i.place.turn_deg,
                pytest.approx(i.place.x, abs=1e-5),
                pytest.approx(i.place.y, abs=1e-5),
            )
            for i in laid.items
        ]


def _pieces(cut: dict[str, Any]) -> list[str]:
    """The pieces of a rectangle of the plan, in the order of cutting."""
    return (
        [cut["piece"]] if "piece" in cut else [key for part in cut.get("parts", ()) for key in _pieces(part)]
    )


def test_what_is_bought(pattern: Pattern, data: dict[str, Any]) -> None:
    for said, need in zip((data["fusible"], *data["cloth"]), (pattern.fusible, *pattern.cloth), strict=True):
        assert said["material"] == str(material_said(need))
        assert (exact(said["usable_width"]), exact(said["used"]), exact(said["buy"])) == (
            need.usable_width,
            need.used,
            need.buy,
        )
        _same_extra(said, need.rule.extra)
        _same_rule(said, need.rule)
        assert [
            (
                one["template"],
                one["count"],
                one["widths"],
                *(exact(one[s]) for s in ("length", "each", "seam")),
            )
            for one in said["joined"]
        ] == [
            (one.carried.number, one.count, one.widths, one.length, one.each, one.seam) for one in need.joined
        ]
        # Web is nested on its roll, fabric on the block that is cut from it.
        cut_by = pattern.shopping.letters_of(need)
        blocks = cut_by.letters.blocks if cut_by is not None and cut_by.letters is not None else ()
        nests = [need.nest] if cut_by is None and need.nest else [block.nest for block in blocks]
        written = [said["nest"]] if cut_by is None else [block["nest"] for block in said["blocks"]]
        assert [[(spot["turn_deg"], spot["x"], spot["y"]) for spot in one] for one in written] == [
            [
                (
                    spot.place.turn_deg,
                    pytest.approx(spot.place.x, abs=1e-5),
                    pytest.approx(spot.place.y, abs=1e-5),
                )
                for spot in nest.placements
            ]
            for nest in nests
        ]
        assert any(written)
        assert [(exact(block["length"]), exact(block["width"])) for block in said["blocks"]] == [
            (block.block.length, block.block.width) for block in blocks
        ]
    assert data["fusible"]["extra_percent"] == 20
    assert any(buy.precut for buy in pattern.shopping.cloth)
    for said, buy in zip(data["to_buy"], pattern.shopping.cloth, strict=True):
        precut = buy.precut
        assert (said["fabric"], exact(said["usable_width"])) == (buy.fabric.name, buy.fabric.usable_width)
        _same_extra(said, buy.rule.extra)
        _same_rule(said, buy.rule)
        offered = said["precut"] or {}
        told = (offered.get("kind"), offered.get("count"), offered.get("words"))
        assert told == (
            (precut.kind.value, precut.count, str(precut_said(precut))) if precut else (None,) * 3
        )
        if buy.cutting.precut is not None:
            cloths = buy.cutting.precut.plan.cloths
            assert [one["supply"] for one in offered["cutting"]] == [cloth.supply for cloth in cloths]
            assert [_pieces(one) for one in offered["cutting"]] == [
                [piece.key for _, piece in cloth.root.pieces()] for cloth in cloths
            ]
            assert {cut["key"] for use in offered["uses"] for cut in use["cut"]} == {
                key for use in buy.cutting.precut.uses for key in use.keys
            }
        for use, u in zip(said["uses"], buy.uses, strict=True):
            assert (use["kind"], use["border"]) == (u.kind.value, u.border)
            assert [
                (one["key"], exact(one["length"]), exact(one["width"]), one["count"], one["lies"])
                for one in use["cut"]
            ] == [(one.key, one.length, one.width, one.count, one.lie.value) for one in u.strips]
            assert [
                (one["key"], one["join"], one["strips"], exact(one["reach"]), exact(one["needed"]))
                for one in use["joined"]
            ] == [(one.key, one.join.value, one.strips, one.reach, one.needed) for one in u.joined]
        assert [(use["what"], use["how"]) for use in said["uses"]] == [
            (str(use_said(u)), str(use_how(u, pattern.design.units))) for u in buy.uses
        ]
        plan = buy.cutting.plan
        assert exact(said["plain_strips_use"]) == plan.plain
        assert [(one["supply"], one["number"]) for one in said["cutting"]] == [
            (cloth.supply, cloth.number) for cloth in plan.cloths
        ]
        for one, cloth in zip(said["cutting"], plan.cloths, strict=True):
            _same_region(one, cloth.root)
        # All that is printed as left over, narrow strips too.
        left_over = buy.cutting.offcuts_of(plan.cloths)
        assert exact(said["left_over"]) == tuple((left.length, left.width) for left in left_over)
    assert any(run["strips"] > 1 for buy in data["to_buy"] for use in buy["uses"] for run in use["joined"])


def _same_extra(said: dict[str, Any], extra: Extra) -> None:
    match extra:
        case BeyondLayout(percent=percent):
            assert said["extra_percent"] == percent
        case WashAndSquare(shrinkage_percent=percent, squaring=squaring):
            assert (said["shrinkage_percent"], exact(said["squaring"])) == (percent, squaring)


def _same_region(said: dict[str, Any], region: Region) -> None:
    """A rectangle of the plan, and all that is cut from it, part by part."""
    sides = tuple(Fraction(said[name]) for name in ("x", "y", "length", "width"))
    assert sides == (region.x, region.y, region.length, region.width)
    match region.fill:
        case Piece(key=key, lie=lie):
            assert (said["piece"], said["lies"]) == (key, lie.value)
        case Split(cut=cut, parts=parts):
            assert said["cut"] == cut.value
            for one, part in zip(said["parts"], parts, strict=True):
                _same_region(one, part)
        case None:
            assert not {"piece", "cut", "parts"} & said.keys()


def _same_rule(said: dict[str, Any], rule: Rule[Extra]) -> None:
    lengths = tuple(exact(said[name]) for name in ("used", "wanted", "step", "buy"))
    assert lengths == (rule.used, rule.wanted, rule.step, rule.buy)
    assert said["rule"] == str(rule_said(rule, Units.INCHES))


def test_the_shelves_of_the_shop(pattern: Pattern, data: dict[str, Any]) -> None:
    """What is on them stands elsewhere too: each thing has its kind, and points there by its row or its fabric."""
    said = {shelf["kind"]: shelf["items"] for shelf in data["shelves"]}
    shelves = {shelf.kind.value: shelf.items for shelf in pattern.shopping.shelves}
    assert list(said) == ["stabilizer", "batting", "thread", "notions"]
    for kind, items in said.items():
        words = [str(item_said(item, pattern.design.units)) for item in shelves[kind]]
        assert [item["words"] for item in items] == words
    assert [item["kind"] for item in said["stabilizer"]] == [
        need.kind for need in pattern.stitching.stabilizers
    ]
    assert [item["kind"] for item in said["batting"]] == [pattern.quilt.batting.name]
    *letters, piecing, quilting = said["thread"]
    assert [item["fabric"] for item in letters] == [need.name for need in pattern.threads if need.color]
    assert (piecing["kind"], quilting["kind"]) == ("piecing", "quilting")
    assert [item["kind"] for item in said["notions"]] == list(Notion)


def test_the_quilt_around_the_panel(pattern: Pattern, data: dict[str, Any]) -> None:
    said, quilt = data["quilt"], pattern.quilt
    assert exact(said["finished"]) == quilt.finished
    for border, plan in zip(said["borders"], quilt.borders, strict=True):
        assert (border["number"], border["kind"], exact(border["width"])) == (
            plan.number,
            plan.kind.value,
            plan.width,
        )
        assert exact(border["finished"]) == plan.finished
        for step, sewn in zip(border["steps"], plan.steps, strict=True):
            assert exact(step["finished"]) == sewn.finished
            for strip, side in zip(step["strips"], sewn.strips, strict=True):
                assert (strip["side"], exact(strip["cut_length"])) == (side.side, side.cut_length)
                assert exact(strip["cut_width"]) == side.cut_width
                pieces = [(piece["fabric"], Fraction(piece["finished"])) for piece in strip["pieces"]]
                assert pieces == list(side.pieces)
    cuts = [cut for border in said["borders"] for cut in border["cuts"]]
    plans = [cut for border in quilt.borders for cut in border.cuts]
    for cut, plan_ in zip((*cuts, said["binding"]["cut"]), (*plans, there(quilt.binding).cut), strict=True):
        assert (cut["fabric"], cut["what"], cut["join"]) == (plan_.fabric, plan_.kind.value, plan_.join)
        assert [(exact(piece["length"]), piece["count"], piece["upright"]) for piece in cut["pieces"]] == [
            (piece.length, piece.count, piece.upright) for piece in plan_.pieces
        ]
        assert (cut["count"], exact(cut["strip_width"])) == (plan_.count, plan_.strip_width)
    assert exact(said["binding"]["run"]) == there(quilt.binding).needed
    assert said["binding"]["quick_strips"] == there(quilt.binding).quick_strips
    assert exact(said["binding"]["seam"]) == there(quilt.binding).seam
    backing = said["backing"]
    assert exact(backing["size"]) == (quilt.backing.width, quilt.backing.height)
    assert [
        (way["upright"], exact(way["panel_length"]), exact(way["widths"])) for way in backing["ways"]
    ] == [(way.upright, way.along, way.widths) for way in quilt.backing.ways]
    assert len(backing["ways"]) == 2
    size, panel = quilt.size_class, said["panel_cut"]
    assert (said["class"]["name"], said["class"]["against"]) == (size.name, size.against)
    assert exact(panel["size"]) == (quilt.panel.width, quilt.panel.height)
    assert (panel["widths"], panel["seams"], panel["seams_upright"], panel["other_way"]) == (
        [],
        [],
        None,
        None,
    )
    assert exact(said["batting"]["size"]) == (quilt.batting.width, quilt.batting.height)
    assert quilt.sleeve is not None
    assert exact(said["sleeve"]) == (quilt.sleeve.cut_length, quilt.sleeve.cut_depth)


def test_the_sewing(pattern: Pattern, data: dict[str, Any]) -> None:
    said, plan = data["stitching"], pattern.stitching
    for row, one in zip(said["rows"], plan.rows, strict=True):
        stitch = one.stitch
        assert (row["row"], row["stitch"], row["thread"]) == (
            one.where.row,
            stitch.stitch.value,
            stitch.thread,
        )
        assert (exact(row["width"]), exact(row["length"])) == (stitch.width, stitch.length)
        assert [row["edge"], row["top"], row["bobbin"], *row["minutes"]] == close(
            one.edge, one.top, one.bobbin, *one.minutes
        )
        assert (row["stabilizer_widths"], exact(row["stabilizer_each"])) == (
            one.stabilizer.widths,
            one.stabilizer.each,
        )
        assert exact(row["stabilizer_size"]) == (one.stabilizer.width, one.stabilizer.height)
        assert (row["stitches"], row["stabilizer"]) == (one.stitches, one.stabilizer.kind.value)
        assert row["pace"] == list(stitch.paces)
        for layer, sewn in zip(row["layers"], one.layers, strict=True):
            assert (layer["layer"], layer["thread"], layer["stitches"]) == (
                sewn.layer.value,
                sewn.thread,
                sewn.stitches,
            )
            assert [
                layer["edge"],
                layer["curved"],
                layer["top"],
                layer["bobbin"],
                *layer["minutes"],
            ] == close(sewn.edge, sewn.curved, sewn.top, sewn.bobbin, *sewn.minutes)
        assert (row["stitch_reason"], row["stabilizer_reason"]) == (
            stitch.reason.value,
            one.stabilizer.reason.value,
        )
        assert row["contrast"] == pytest.approx(stitch.contrast, abs=1e-5)
    assert (said["order"], said["when"]) == ([where.row for where in plan.order], plan.when.value)
    assert said["when_reason"] == plan.when_reason.value
    threads = pattern.threads
    assert [(t["name"], t["color"], t["spools"], t["bobbins"]) for t in said["threads"]] == [
        (t.name, t.color, t.spools, t.bobbins) for t in threads
    ]
    assert [t["length"] for t in said["threads"]] == close(*(t.length for t in threads))
    for thread, need in zip(said["threads"], threads, strict=True):
        assert [part["use"] for part in thread["parts"]] == [use.value for use in need.uses]
        assert sum(part["top"] for part in thread["parts"]) == pytest.approx(need.top, abs=1e-4)
        assert sum(part["bobbin"] for part in thread["parts"]) == pytest.approx(need.bobbin, abs=1e-4)
    for roll, stabilizer in zip(said["stabilizers"], plan.stabilizers, strict=True):
        assert (roll["kind"], exact(roll["used"]), exact(roll["buy"])) == (
            stabilizer.kind.value,
            stabilizer.used,
            stabilizer.buy,
        )
        assert [band["under"] for band in roll["bands"]] == [
            [where.row for where in band.tables] for band in stabilizer.bands
        ]
        regions = [found for cloth in stabilizer.plan.cloths for found in cloth.root.pieces()]
        assert [(one["under"], exact(one["at"]), exact(one["size"])) for one in roll["pieces"]] == [
            (stabilizer.tables[int(piece.key)].row, (at.x, at.y), (at.length, at.width))
            for at, piece in regions
        ]
    assert said["minutes"] == close(*plan.minutes)
    assert list(said["starts"].values()) == [
        [close(*at) for at in one.starts] for one in _by_name(plan.letters)
    ]
    assert data["findings"]
    for finding, found in zip(data["findings"], pattern.findings, strict=True):
        what = str(finding_said(found, pattern.design.units))
        assert (finding["kind"], finding["row"], finding["what"]) == (found.kind.value, found.row, what)
        assert [finding["measure"], finding["limit"]] == close(found.measure, found.limit)
        for spot, real in zip(finding["spots"], found.spots, strict=True):
            assert spot["text"] == real.text
            assert [spot["measure"], *spot["at"]] == close(real.measure, *real.at)
    for quilting, drawn in zip(data["quilting"], pattern.quilting, strict=True):
        run = str(course_said(drawn.course, pattern.design.units))
        assert (quilting["kind"], quilting["words"]) == (drawn.kind.value, run)
        assert (quilting["lines"], quilting["stitches"]) == (len(drawn.lines), drawn.stitches)
        assert [quilting["length"], quilting["thread"]] == close(drawn.length, drawn.thread)


def _by_name(letters: Any) -> list[Any]:
    """In the order of sorted keys, as text sorts numbers."""
    return sorted(letters, key=lambda letter: str(letter.template))


def test_what_a_finding_was_judged_by() -> None:
    """A design with one finding of every payload: programs need not read the sentence."""
    plan = draft(
        design_from_mapping(
            {
                "panel": {"width": "30in", "height": "10in", "fabric": "Chalk"},
                "lettering": {"font": "Fredoka", "cap_height": "2in", "fabric": "Linen", "outline": "1in"},
                "outline": {"fabric": "Linen"},
                "sewing": {"viewing_distance": "80ft", "least_clear": "3in"},
                "stitching": {"stitch": "satin", "width": "12mm", "thread": "#ddd8cc"},
                "fabric": [
                    {"name": "Chalk", "color": "#eeeeea"},
                    {"name": "Linen", "color": "#ddd8cc"},
                ],
                "row": [{"text": "HI"}, {"text": "HI"}],
            }
        )
    )
    data = json.loads(pattern_json(plan))
    details = {finding["kind"]: finding["detail"] for finding in data["findings"] if finding["row"] == 2}
    assert details.pop("low contrast").items() >= {"fabric": "Linen", "background": "Chalk"}.items()
    stitch = details.pop("stitch width")
    assert (stitch["stitch"], exact(stitch["bound"]), exact(stitch["width"])) == (
        "satin",
        Fraction(70, 254),
        Fraction(120, 254),
    )
    far = {name: exact(length) for name, length in details.pop("hard to read").items()}
    assert far == {
        "cap_height": 2,
        "distance": 960,
        "farthest": 600,
        "least": Fraction(16, 5),
        "comfortable": 8,
    }
    assert details == {
        "thin stroke": {"reason": "stitch on both sides", "stitch": "satin"},
        "letters close together": {"reason": "the design", "stitch": None},
        "rows close together": {"reason": "the design", "stitch": None, "above": 1},
        "outlines that meet": {"around": "letters", "reach": 1},
    }
    kinds = [notice["kind"] for notice in data["notices"] if notice["place"].get("path") == ["row", 2]]
    assert sorted(kinds) == sorted(finding["kind"] for finding in data["findings"] if finding["row"] == 2)


def test_what_only_some_quilts_have() -> None:
    """A bed under it, a pieced panel, uneven pieces, a back of leftovers, too little in the stash, a small mat."""
    pattern = draft(
        design_from_mapping(
            {
                "panel": {"width": "60in", "height": "80in", "fabric": "Fog"},
                "row": [{"text": "HI", "cap_height": "9in"}],
                "lettering": {"font": "Fredoka", "fabric": "Ink"},
                "fabric": [
                    {"name": "Ink", "color": "#203040", "have": "1 fat eighth"},
                    {"name": "Rust", "color": "#a05030"},
                    {"name": "Fog", "color": "#e0e0d8", "usable_width": "42in"},
                ],
                "border": [{"kind": "rectangles", "width": "2in", "size": "7in", "fabrics": ["Rust", "Fog"]}],
                "binding": {"fabric": "Fog"},
                "backing": {"kind": "leftovers"},
                "cutting": {"mat_width": "4in"},
            }
        )
    )
    said, quilt, shopping = json.loads(pattern_json(pattern)), pattern.quilt, pattern.shopping
    bed, seam, uneven, back = quilt.bed, quilt.panel.seam, quilt.borders[0].uneven, shopping.leftover_backing
    assert bed is not None
    assert seam is not None
    assert uneven is not None
    assert back is not None
    assert (said["quilt"]["bed"]["name"], exact(said["quilt"]["bed"]["over_each_side"])) == (
        bed.name,
        bed.over_each_side,
    )
    panel = said["quilt"]["panel_cut"]
    assert (exact(panel["seams"]), panel["seams_upright"]) == (seam.places, seam.upright)
    assert exact(panel["widths"]) == quilt.panel.widths
    assert len(panel["widths"]) == 2
    other = quilt.panel.other_way
    assert other is not None
    assert exact(panel["other_way"]["length"]) == other.length
    assert [(letter["text"], letter["row"]) for letter in panel["other_way"]["crossed"]] == [
        (letter.letters, letter.row) for letter in other.crossed
    ]
    assert [(letter["text"], letter["row"]) for letter in panel["crossed"]] == [
        (letter.letters, letter.row) for letter in seam.crossed
    ]
    (border,) = said["quilt"]["borders"]
    assert exact(border["uneven"]["length"]) == uneven.length == 7
    assert [(one["side"], exact(one["length"])) for one in border["uneven"]["pieces"]] == [
        (one.side, one.length) for one in uneven.pieces
    ]
    leftovers = said["leftover_backing"]
    assert (leftovers["enough"], leftovers["lies"]) == (back.enough, back.lies)
    assert (exact(leftovers["reached"]), exact(leftovers["goal"])) == (back.reached, back.goal)
    rows = [[(piece["fabric"], exact(piece["size"])) for piece in row] for row in leftovers["rows"]]
    assert rows == [[(piece.fabric, (piece.length, piece.width)) for piece in row] for row in back.rows]
    (short,) = shopping.short
    (said_short,) = said["stash_short"]
    assert (said_short["fabric"], said_short["have"]) == ("Ink", "1 fat eighth")
    assert exact(said_short["more"]) == short.more > 0
    assert said["too_large_for_mat"] == [template.number for template in pattern.mat_plan.too_large] != []


@pytest.mark.parametrize(
    ("sewing", "file", "other", "made"),
    [
        ({}, "mirrored", "right-reading", "Trace, fuse and cut"),
        ({"method": "machine cut"}, "mirrored", "right-reading", "let the machine cut"),
        (
            {"method": "turned edge", "freezer_paper": "right side"},
            "right-reading",
            "mirrored",
            "turn their edges",
        ),
        (
            {"method": "turned edge", "freezer_paper": "wrong side, shiny side down"},
            "mirrored",
            "right-reading",
            "turn their edges",
        ),
        (
            {"method": "turned edge", "freezer_paper": "wrong side, shiny side up"},
            "right-reading",
            "mirrored",
            "turn their edges",
        ),
    ],
)
def test_the_summary_names_the_template_file_of_its_method(
    sewing: dict[str, Any], file: str, other: str, made: str
) -> None:
    """Which way letters read on freezer paper: geometry, as in the table of the three ways (common practice)."""
    summary = summary_md(draft(design_from_mapping({"row": [{"text": "LO"}], "sewing": sewing}))).decode()
    _, _, steps = summary.partition("## What to do next")
    assert f"Print `templates-{file}.pdf`" in steps
    assert other not in steps.partition("## ")[0]
    assert made in steps


def test_what_else_is_cut_from_the_others_is_said_where_one_fabric_would_do_for_the_letters() -> None:
    """Outlines and borders of the other fabrics do not go away with their letters."""
    design = {
        "row": [{"text": "LO"}, {"text": "TI", "fabric": "Rust"}, {"text": "H", "fabric": "Moss"}],
        "lettering": {"fabric": "Lamp", "cap_height": "4in", "outline": "1/4in"},
        "outline": {"fabric": "Rust"},
        "panel": {"width": "30in", "height": "24in", "fabric": "Fog"},
        "border": [{"kind": "strip", "width": "2in", "fabrics": ["Rust"]}],
        "binding": {"fabric": "Fog"},
        "fabric": [
            {"name": name, "color": color}
            for name, color in zip(
                ("Lamp", "Rust", "Moss", "Fog"), ("#e0a526", "#a05030", "#506040", "#e0e0d8"), strict=True
            )
        ],
    }
    (said,) = (
        line
        for line in summary_md(draft(design_from_mapping(design))).decode().splitlines()
        if "If all letters came from" in line
    )
    assert said.startswith("- If all letters came from Lamp: ")
    assert said.endswith(
        "; no letters from the others, which are still needed: Rust for strips of border 1 and outlines"
    )
