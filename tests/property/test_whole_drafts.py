"""Whole quilts made from what is printed: the maker of `tests/cutter.py` has the pattern file and the list of what to
buy, and nothing of ours that figured them.

She buys, washes, squares and cuts each fabric as its plan says, finds every piece that the uses and the steps ask for,
joins, cuts lengths, sews round by round, and measures.
"""

from __future__ import annotations

import json
import math
import os
import random
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

import pytest

from applique.cutting import Lie, Piece, Region, Split
from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.pattern import Pattern, draft
from applique.reports import pattern_json, summary_md
from tests.cutter import (
    SIXTEENTH,
    Cloth,
    CutPiece,
    Patch,
    Side,
    SpoiledError,
    Strip,
    add_border,
    add_mitered_border,
    cut,
    cut_lengths,
    join,
    measure,
    read,
    sew_lengths,
    square,
    trim,
    wash,
)
from tests.whole_designs import whole_design

DRAFTS = int(os.environ.get("APPLIQUE_WHOLE_DRAFTS", "50"))
EXACT = Fraction(0)
Data = Mapping[str, Any]


def inches(printed: Data) -> Fraction:
    return Fraction(printed["exact"])


def told(data: Data) -> Region:
    """A rectangle of the printed plan."""
    fill: Piece | Split | None = None
    if "piece" in data:
        fill = Piece(key=data["piece"], lie=Lie(data["lies"]))
    elif "parts" in data:
        fill = Split(cut=Lie(data["cut"]), parts=tuple(map(told, data["parts"])))
    x, y, length, width = (Fraction(data[side]) for side in ("x", "y", "length", "width"))
    return Region(x=x, y=y, length=length, width=width, fill=fill)


def amounts(summary: str) -> dict[str, Fraction]:
    """What the list of what to buy says, fabric by fabric."""
    rows = [line.strip("| ").split(" | ") for line in summary.splitlines() if line.startswith("| ")]
    bought = {row[0]: row[2].strip("*") for row in rows if len(row) == 4 and row[2].startswith("**")}
    return {
        name: Fraction(0)
        if "none" in said
        else read(said.partition(",")[0].removesuffix(" (no spare: cut straight)"))
        for name, said in bought.items()
    }


class Table:
    """What lies on the cutting table after everything is cut, by fabric and key; each piece is taken once."""

    def __init__(self, pattern: Pattern) -> None:
        self.data: dict[str, Any] = json.loads(pattern_json(pattern))
        self.seam = inches(self.data["panel"]["seam_allowance"])
        self.one_way = {
            one["name"] for one in self.data["design"].get("fabric", ()) if one.get("turns") == "upright"
        }
        self.pieces: dict[tuple[str, str], list[CutPiece]] = {}
        self.left: dict[str, list[Cloth]] = {}
        bought = amounts(summary_md(pattern).decode())
        for buy in self.data["to_buy"]:
            for found in self._cut(buy, bought[buy["fabric"]]):
                if isinstance(found, CutPiece):
                    self.pieces.setdefault((buy["fabric"], found.key), []).append(found)
                else:
                    self.left.setdefault(buy["fabric"], []).append(found)
            self._count(buy)

    def _cut(self, buy: Data, amount: Fraction) -> Iterator[CutPiece | Cloth]:
        """Everything of one fabric: each cloth washed, squared, cut."""
        supplies = {supply["key"]: supply for supply in buy["supplies"]}
        seen = set()
        for cloth in buy["cutting"]:
            supply, name = supplies[cloth["supply"]], (cloth["supply"], cloth["number"])
            if name in seen or not 1 <= cloth["number"] <= supply["count"]:
                raise SpoiledError(f"{buy['fabric']}: there is no other {name}")
            seen.add(name)
            region, width = told(cloth), inches(supply["width"])
            if supply["length"] is None:
                shrinkage = Fraction(buy["shrinkage_percent"], 100)
                whole = wash(buy["fabric"], amount, usable=width, sold=None, shrinkage=shrinkage)
                in_hand = square(whole, inches(buy["squaring"]))
                if in_hand.length < region.length:
                    raise SpoiledError(f"{buy['fabric']}: short by {region.length - in_hand.length} in")
                if in_hand.length > region.length:
                    in_hand, rest = in_hand.halves(Lie.ACROSS, region.length)
                    yield rest
            else:
                whole = Cloth(name=str(name), length=inches(supply["length"]), width=width)
                in_hand = square(whole, inches(supply["squaring"]))
            yield from cut(in_hand, region)

    def _count(self, buy: Data) -> None:
        """The uses ask for what the plan cuts, no more and no less."""
        wanted: dict[str, list[tuple[str, Fraction, Fraction]]] = {}
        for use in buy["uses"]:
            for one in use["cut"]:
                kind = (one["lies"], inches(one["length"]), inches(one["width"]))
                wanted.setdefault(one["key"], []).extend([kind] * one["count"])
        found = {
            key: sorted((piece.lie.value, piece.length, piece.width) for piece in pieces)
            for (fabric, key), pieces in self.pieces.items()
            if fabric == buy["fabric"]
        }
        assert found == {key: sorted(kinds) for key, kinds in wanted.items()}

    def uses(self, kind: str, border: int | None = None) -> Iterator[tuple[str, Data]]:
        for buy in self.data["to_buy"]:
            for use in buy["uses"]:
                if use["kind"] == kind and use["border"] == border:
                    yield buy["fabric"], use

    def use(self, kind: str) -> tuple[str, Data]:
        (found,) = self.uses(kind)
        return found

    def take(self, fabric: str, use: Data) -> dict[str, list[CutPiece]]:
        """All that was cut for a use, off the table."""
        return {
            key: self.pieces.pop((fabric, key)) for key in dict.fromkeys(one["key"] for one in use["cut"])
        }

    def joined(self, pieces: Sequence[CutPiece], use: Data) -> Strip:
        """Strips of one key end to end, by the seam that is printed for them, as far as is printed."""
        strips = [Strip(length=piece.length, width=piece.width) for piece in pieces]
        run = next((one for one in use["joined"] if one["key"] == pieces[0].key), None)
        if run is None:
            (strip,) = strips
            return strip
        made = join(strips, strips[0].width if run["join"] == "diagonal" else 2 * self.seam)
        measure("what was joined", told=inches(run["reach"]), found=made.length, slack=EXACT)
        return made


# Sewing


def sew_panel(table: Table) -> Patch:
    fabric, use = table.use("panel")
    cut_panel, panel = table.data["quilt"]["panel_cut"], table.data["panel"]
    width, height = map(inches, cut_panel["size"])
    pieces = [piece for found in table.take(fabric, use).values() for piece in found]
    if fabric in table.one_way:
        assert all(piece.lie is Lie.ALONG for piece in pieces)
        assert cut_panel["seams_upright"] in (None, True)
    if not cut_panel["widths"]:
        (whole,) = pieces
        patch = Patch(width=whole.width, height=whole.length)
    else:
        sides = []
        for one in map(inches, cut_panel["widths"]):
            piece = next(piece for piece in pieces if piece.width == one)
            pieces.remove(piece)
            sides.append(Patch(width=piece.width, height=piece.length))
        assert not pieces
        patch = sew_lengths(sides, seam=table.seam, slack=EXACT)
        at = EXACT
        for side, seam in zip(sides, map(inches, cut_panel["seams"]), strict=False):
            at += side.width - table.seam - (table.seam if at else 0)
            measure("the seam of the panel", told=seam, found=at, slack=EXACT)
        if not cut_panel["seams_upright"]:
            patch = Patch(width=patch.height, height=patch.width)
    measure("the width of the panel", told=width, found=patch.width, slack=EXACT)
    measure("the height of the panel", told=height, found=patch.height, slack=EXACT)
    finished = [inches(side) + 2 * table.seam for side in panel["finished"]]
    return trim(patch, *finished)


class Basket:
    """What was cut for one border: pieces ready to sew, and strips that lengths are cut from."""

    def __init__(self, table: Table, border: Data) -> None:
        self.table = table
        self.ready: list[tuple[str, Lie, Strip]] = []
        for fabric, use in table.uses("border", border["number"]):
            for pieces in table.take(fabric, use).values():
                runs = {run["key"] for run in use["joined"]}
                if pieces[0].key in runs or (len(pieces) == 1 and pieces[0].length not in self._sewn(border)):
                    self._cut_up(border, fabric, pieces, table.joined(pieces, use))
                else:
                    strips = [Strip(length=piece.length, width=piece.width) for piece in pieces]
                    self.ready += [
                        (fabric, piece.lie, one) for piece, one in zip(pieces, strips, strict=True)
                    ]

    @staticmethod
    def _sewn(border: Data) -> set[Fraction]:
        """How long the pieces of the border are; one strip alone that is longer is cut up without being joined."""
        return {inches(one["length"]) for cut in border["cuts"] for one in cut["pieces"]}

    def _cut_up(self, border: Data, fabric: str, pieces: Sequence[CutPiece], strip: Strip) -> None:
        """The lengths that are printed for these strips; of a one-way print, those that stand as it does."""
        (lie,) = {piece.lie for piece in pieces}
        (told,) = (
            cut for cut in border["cuts"] if cut["fabric"] == fabric and cut["what"] == "border strips"
        )
        wanted = [
            inches(one["length"])
            for one in told["pieces"]
            for _ in range(one["count"])
            if fabric not in self.table.one_way or one["upright"] == (lie is Lie.ALONG)
        ]
        made, _ = cut_lengths(strip, wanted)
        self.ready += [(fabric, lie, one) for one in made]

    def take(self, fabric: str, side: Side, length: Fraction, width: Fraction) -> Strip:
        stands = Lie.ALONG if side in (Side.LEFT, Side.RIGHT) else Lie.ACROSS
        for index, (of, lie, strip) in enumerate(self.ready):
            is_turned = fabric in self.table.one_way and length != width and lie is not stands
            if of == fabric and (strip.length, strip.width) == (length, width) and not is_turned:
                return self.ready.pop(index)[2]
        raise SpoiledError(f"no piece of {fabric}, {length} by {width} in, for the {side}: {self.ready}")


def sew_border(table: Table, border: Data, top: Patch) -> Patch:
    basket = Basket(table, border)
    for step in border["steps"]:
        strips = {}
        for one in step["strips"]:
            side, width, length = Side(one["side"]), inches(one["cut_width"]), inches(one["cut_length"])
            if len(one["pieces"]) == 1:
                strips[side] = basket.take(one["pieces"][0]["fabric"], side, length, width)
                continue
            row = [
                basket.take(piece["fabric"], side, Fraction(piece["finished"]) + 2 * table.seam, width)
                for piece in one["pieces"]
            ]
            strips[side] = join(row, 2 * table.seam)
            measure(f"the {side} side", told=length, found=strips[side].length, slack=EXACT)
        if len(strips) == 4:
            top = add_mitered_border(top, strips, seam=table.seam)
        else:
            for side, strip in strips.items():
                top = add_border(top, strip, side, seam=table.seam, slack=EXACT)
        assert top.finished(table.seam) == tuple(map(inches, step["finished"]))
    assert not basket.ready
    return top


def bind(table: Table) -> None:
    """Once around the quilt and more."""
    fabric, use = table.use("binding")
    binding, (width, height) = table.data["quilt"]["binding"], map(inches, table.data["quilt"]["finished"])
    assert inches(binding["run"]) > 2 * (width + height)
    (pieces,) = table.take(fabric, use).values()
    if binding["cut"]["what"] == "bias square":
        (whole,) = pieces
        assert whole.length == whole.width
        # ⌊(s - 1/2)/(w√2)⌋ parallelograms of (s - 1/2)√2 each: docs/sources.md, bias binding from one square.
        strip, side = 2.5, float(whole.length - 2 * table.seam)
        assert math.floor(side / (strip * math.sqrt(2))) * side * math.sqrt(2) >= inches(binding["run"])
    else:
        assert table.joined(pieces, use).length >= inches(binding["run"])


def back(table: Table) -> None:
    """The back as it is cut, or from what is really left over."""
    width, height = map(inches, table.data["quilt"]["backing"]["size"])
    leftover = table.data["leftover_backing"]
    if leftover is not None and leftover["enough"]:
        _back_from_leftovers(table, leftover, width, height)
        return
    fabric, use = table.use("backing")
    pieces = [piece for found in table.take(fabric, use).values() for piece in found]
    assert sorted(piece.width for piece in pieces) == sorted(map(inches, use["way"]["widths"]))
    if fabric in table.one_way:
        assert use["way"]["upright"] and all(piece.lie is Lie.ALONG for piece in pieces)
    sides = [Patch(width=piece.width, height=piece.length) for piece in pieces]
    if table.data["mixed_backing"] is not None:
        sides.append(_strip_of_leftovers(table, table.data["mixed_backing"]))
    sewn = sew_lengths(sides, seam=table.seam, slack=EXACT)
    if not use["way"]["upright"]:
        sewn = Patch(width=sewn.height, height=sewn.width)
    trim(sewn, width, height)


def _strip_of_leftovers(table: Table, told: Data) -> Patch:
    """The strip that widens bought lengths: cut from what is really left over, joined, cut as long as they are."""
    deep, along = inches(told["strip_width"]), inches(told["panel_length"])
    pieces = []
    for one in told["strip"]:
        size = sorted(map(inches, one["size"]))
        left = table.left[one["fabric"]]
        piece = next((piece for piece in left if sorted((piece.length, piece.width)) == size), None)
        if piece is None:
            raise SpoiledError(f"no {size[0]} by {size[1]} in are left of {one['fabric']}")
        left.remove(piece)
        long = max(side for side, other in (size, size[::-1]) if other >= deep)
        pieces.append(Strip(length=long, width=deep))
    joined = join(pieces, 2 * table.seam)
    measure("the strip of leftovers", told=inches(told["reach"]), found=joined.length, slack=EXACT)
    strip, _ = cut_lengths(joined, [along])
    return Patch(width=deep, height=strip[0].length)


def _back_from_leftovers(table: Table, told: Data, width: Fraction, height: Fraction) -> None:
    left = {fabric: list(pieces) for fabric, pieces in table.left.items()}
    across, down = (width, height) if told["lies"] else (height, width)
    reached = EXACT
    for number, row in enumerate(told["rows"]):
        strips = []
        for one in row:
            length, wide = map(inches, one["size"])
            piece = next(
                (piece for piece in left[one["fabric"]] if piece.length >= length and piece.width >= wide),
                None,
            )
            if piece is None:
                raise SpoiledError(f"no {length} by {wide} in are left of {one['fabric']}")
            left[one["fabric"]].remove(piece)
            strips.append(sorted((length, wide)))
        deep = min(short for short, _ in strips)
        long = join([Strip(length=long, width=deep) for _, long in strips], 2 * table.seam)
        assert long.length >= across
        reached += deep - (2 * table.seam if number else 0)
    assert reached >= down


def hang(table: Table) -> None:
    if table.data["quilt"]["sleeve"] is None:
        return
    fabric, use = table.use("hanging sleeve")
    length, depth = map(inches, table.data["quilt"]["sleeve"])
    (pieces,) = table.take(fabric, use).values()
    strip = table.joined(pieces, use)
    assert strip.length >= length
    assert strip.width == depth


def lay_out_letters(table: Table) -> None:
    """Every block is set aside as large as its nest; the nest itself is told up to the next 1/16 in."""
    for need in table.data["cloth"]:
        ((_, use),) = ((fabric, use) for fabric, use in table.uses("letters") if fabric == need["material"])
        taken = table.take(need["material"], use)
        for block in need["blocks"]:
            (piece,) = taken[block["key"]]
            assert (piece.length, piece.width) == (inches(block["length"]), inches(block["width"]))
        pieces = [piece for found in taken.values() for piece in found]
        assert sum(piece.length for piece in pieces) > inches(need["used"]) - SIXTEENTH


def make_it(pattern: Pattern) -> None:
    """The whole quilt, from the shop to the last stitch."""
    table = Table(pattern)
    top = sew_panel(table)
    for border in table.data["quilt"]["borders"]:
        top = sew_border(table, border, top)
    assert top.finished(table.seam) == tuple(map(inches, table.data["quilt"]["finished"]))
    bind(table)
    back(table)
    hang(table)
    lay_out_letters(table)
    assert not table.pieces, "cut for nothing"


@pytest.mark.long
def test_whole_quilts_are_made_from_what_is_printed() -> None:
    made = 0
    for seed in range(DRAFTS):
        design = whole_design(random.Random(seed))
        try:
            pattern = draft(design_from_mapping(design))
        except Refusal:
            continue
        try:
            make_it(pattern)
        except (AssertionError, SpoiledError, StopIteration, ValueError, KeyError) as fault:
            raise AssertionError(f"design {seed} cannot be made: {fault}\n{json.dumps(design)}") from fault
        made += 1
    assert made > 0.9 * DRAFTS
