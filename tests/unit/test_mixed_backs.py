"""A back of bought lengths widened by a strip of leftovers, every pieced back as it is drawn, and wide backing beside.

Sewn again here: a seam takes 1/2 in off two pieces together.
"""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from click.testing import CliRunner

from applique.cli import main
from applique.cloth import UseKind, plan_cloth
from applique.design import design_from_mapping, design_text
from applique.instructions import instructions_of
from applique.instructions.values import ChapterKind, Table
from applique.leftovers import Leftover, Patch, mixed_ways, patches_from_cloth, widened_by
from applique.pattern import Pattern, draft
from applique.quilt.finishing import BackingPlan, BackingWay
from applique.reports import pattern_json, summary_md
from applique.sewing.piecing import SeamKind, piecing_seams
from applique.sheets import pattern_pdf
from applique.units import Units
from applique.words.instructions.cutting import leftovers_of_said

SEAM = Fraction(1, 2)


def _data(width: int, height: int, kind: str, have: str = "2yd") -> dict[str, Any]:
    return {
        "row": [{"text": "HI", "cap_height": "6in"}],
        "panel": {"width": f"{width}in", "height": f"{height}in", "fabric": "Fog"},
        "lettering": {"font": "Fredoka", "fabric": "Ink"},
        "backing": {"kind": kind},
        "binding": {"fabric": "Ink"},
        "border": [{"kind": "strip", "width": "2in", "fabrics": ["Oat"]}],
        "fabric": [
            {"name": "Ink", "color": "#203040"},
            {"name": "Fog", "color": "#e0e0d8", "usable_width": "44in"},
            {"name": "Oat", "color": "#e8e0c8", "have": have},
        ],
    }


def _pattern(width: int, height: int, kind: str = "leftovers", have: str = "2yd") -> Pattern:
    return draft(design_from_mapping(_data(width, height, kind, have)))


def _covers(patches: tuple[Patch, ...], width: Fraction, height: Fraction) -> bool:
    """Whether patches fill a back whole and lie nowhere on each other: all within, and their areas add up."""
    within = all(
        patch.x >= 0
        and patch.y >= 0
        and patch.x + patch.width <= width
        and patch.y + patch.height <= height
        and min(patch.width, patch.height) > 0
        for patch in patches
    )
    apart = all(
        one.x + one.width <= two.x
        or two.x + two.width <= one.x
        or one.y + one.height <= two.y
        or two.y + two.height <= one.y
        for index, one in enumerate(patches)
        for two in patches[:index]
    )
    return within and apart and sum(patch.width * patch.height for patch in patches) == width * height


@pytest.mark.parametrize(
    ("width", "height", "have", "upright"),
    [(40, 54, "2yd", False), (40, 60, "2yd", False), (36, 48, "5/8yd", True)],
)
def test_a_length_and_a_strip_of_leftovers_make_the_back(
    width: int, height: int, have: str, upright: bool
) -> None:
    """The lengths and the strip, sewn, are as wide as the back; the strip's pieces are wide and long enough.

    Every piece of the strip is a leftover of the plan that is cut, each used once.
    """
    pattern = _pattern(width, height, have=have)
    shopping, backing = pattern.shopping, pattern.quilt.backing
    mixed, use = shopping.mixed_backing, shopping.use(UseKind.BACKING)
    assert mixed is not None
    assert use is not None
    assert use.way == mixed.way
    assert mixed.way.upright is upright
    across, along = (backing.width, backing.height) if upright else (backing.height, backing.width)
    assert sum(mixed.way.widths) + mixed.way.widened - len(mixed.way.widths) * SEAM == across
    assert sum(one.count for one in use.strips) == len(mixed.way.widths)
    long = []
    for piece in mixed.strip:
        sides = [
            one
            for one, other in ((piece.length, piece.width), (piece.width, piece.length))
            if other >= mixed.way.widened
        ]
        long.append(max(sides))
    assert mixed.reach == sum(long) - (len(long) - 1) * SEAM >= along
    left = [piece for buy in shopping.cloth for piece in buy.cutting.leftovers]
    for piece in mixed.strip:
        left.remove(piece)
    assert _covers(shopping.back, backing.width, backing.height)
    assert len(shopping.back) == len(mixed.way.widths) + len(mixed.strip)
    bought = _pattern(width, height, "cloth", have).shopping.use(UseKind.BACKING)
    assert bought is not None
    assert bought.way is not None
    assert mixed.saved == bought.way.length - mixed.way.length > 0
    assert not [notice for notice in pattern.notices if notice.kind == "leftovers-too-small-for-back"]


def test_the_seams_of_a_mixed_back_are_sewn_too() -> None:
    """One seam the whole length, and one across the strip between each two of its pieces."""
    pattern = _pattern(36, 48, have="1yd")
    mixed = pattern.shopping.mixed_backing
    assert mixed is not None
    cloth = plan_cloth(pattern.design, pattern.quilt, pattern.cloth)
    (seam,) = (
        one for one in piecing_seams(pattern.panel, pattern.quilt, cloth) if one.kind is SeamKind.BACKING
    )
    assert len(mixed.strip) == 3
    assert seam.length == 48 + 2 * 18.5


def test_a_strip_ends_where_it_is_long_enough_and_skips_what_is_too_narrow() -> None:
    """10 in wide and 60 long: of 30, 31 and 20 in, two reach 60 1/2 and the third is left; 9 in wide is no use."""
    way = BackingWay(upright=True, along=Fraction(60), widths=(Fraction(42),), widened=Fraction(10))
    full = BackingWay(upright=True, along=Fraction(60), widths=(Fraction(42), Fraction(10)))
    backing = BackingPlan(
        width=Fraction(103, 2), height=Fraction(60), usable_width=Fraction(42), ways=(full,)
    )
    assert mixed_ways(backing) == (way,)

    def left(length: int, width: int) -> Leftover:
        return Leftover(fabric="Oat", length=Fraction(length), width=Fraction(width))

    pieces = [left(20, 12), left(10, 30), left(31, 10), left(99, 9)]
    mixed = widened_by(way, backing, pieces, SEAM)
    assert mixed is not None
    assert mixed.strip == (pieces[2], pieces[1])
    assert (mixed.reach, mixed.saved) == (Fraction(121, 2), Fraction(60))
    assert widened_by(way, backing, [pieces[0], pieces[2], pieces[3]], SEAM) is None
    lengths, *strip = patches_from_cloth(backing, way, "Fog", mixed, SEAM)
    assert (lengths.width, lengths.height) == (Fraction(167, 4), Fraction(60))
    assert [(one.x, one.y, one.width, one.height) for one in strip] == [
        (Fraction(167, 4), 0, Fraction(39, 4), Fraction(123, 4)),
        (Fraction(167, 4), Fraction(123, 4), Fraction(39, 4), Fraction(117, 4)),
    ]


@pytest.mark.parametrize(
    ("width", "height", "kind"), [(34, 30, "leftovers"), (50, 60, "cloth"), (60, 50, "cloth")]
)
def test_every_pieced_back_is_drawn_whole(width: int, height: int, kind: str) -> None:
    pattern = _pattern(width, height, kind)
    backing, back = pattern.quilt.backing, pattern.shopping.back
    assert len(back) > 1
    assert _covers(back, backing.width, backing.height)
    leftovers = pattern.shopping.leftover_backing
    assert (leftovers is not None and leftovers.enough) == (kind == "leftovers")


def test_a_mixed_back_and_wide_backing_are_told_everywhere() -> None:
    pattern = _pattern(40, 60)
    said = json.loads(pattern_json(pattern))
    mixed, wide = pattern.shopping.mixed_backing, pattern.shopping.wide_backing
    assert mixed is not None
    assert wide is not None
    assert said["mixed_backing"]["saved"]["inches"] == float(mixed.saved)
    assert len(said["pieced_back"]) == len(pattern.shopping.back)
    words = said["wide_backing"]["words"]
    assert words in summary_md(pattern).decode()
    text = " ".join(
        " ".join(page.get_textpage().get_text_range().split())
        for page in pypdfium2.PdfDocument(pattern_pdf(pattern))
    )
    assert words in text
    assert said["mixed_backing"]["words"] in text
    assert re.search(r"Take B a and the strip of leftovers\. Lay the pieces right sides together", text)


def test_what_is_left_over_for_the_back_is_told_apart_from_what_is_left() -> None:
    """The table of its fabric called it left over, and she gave it away before she came to the back."""
    for pattern, kept in (
        (_pattern(40, 60), True),
        (_pattern(34, 30), True),
        (_pattern(50, 60, "cloth"), False),
    ):
        (cutting,) = (one for one in instructions_of(pattern).chapters if one.kind is ChapterKind.CUTTING)
        rows = [row for block in cutting.blocks if isinstance(block, Table) for row in block.rows]
        said = {
            str(row[3]): str(row[2]) for row in rows if str(row[0]) == "–" and "for the back" in str(row[3])
        }
        assert (list(said) == ["left over: keep it for the backing"]) is kept
    mixed = _pattern(40, 60).shopping.mixed_backing
    assert mixed is not None
    (cutting,) = (
        one for one in instructions_of(_pattern(40, 60)).chapters if one.kind is ChapterKind.CUTTING
    )
    rows = [row for block in cutting.blocks if isinstance(block, Table) for row in block.rows]
    (back,) = [str(row[2]) for row in rows if "for the back" in str(row[3])]
    assert back == str(leftovers_of_said(mixed.strip, Units.INCHES))


def test_wide_backing_is_told_where_it_spares_a_seam() -> None:
    """A back of 62 by 72 lies in 62 in of wide backing of 106: with 2 in of squaring 64 in, 1 7/8 yd (67 1/2 in)."""
    wide = _pattern(50, 60, "cloth").shopping.wide_backing
    assert wide is not None
    assert (wide.way.upright, wide.rule.used, wide.rule.buy) == (False, Fraction(62), Fraction(135, 2))
    assert _pattern(20, 20, "cloth").shopping.wide_backing is None
    assert _pattern(50, 60, "wide").shopping.wide_backing is None


@pytest.mark.long
def test_check_and_make_say_the_same_of_leftovers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both start from the nests that `make` cuts by; on a machine at rest the quick ones are longer and leave less."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    data = _data(60, 70, "leftovers")
    data["row"] = [{"text": text, "cap_height": "7in"} for text in ("LETTERS", "FROM THE", "STASH")]
    data["fabric"][2].pop("have")
    file = tmp_path / "design.toml"
    design = design_from_mapping(data)
    file.write_text(design_text(design, base=tmp_path))
    checked = json.loads(CliRunner().invoke(main, ["check", str(file), "--json"]).stdout)["notices"]
    made = CliRunner().invoke(main, ["make", str(file), "-o", str(tmp_path / "out"), "--json"])
    pack = json.loads((tmp_path / "out" / "pattern.json").read_text())
    assert made.exit_code == 0
    said = [
        [one["what"] for one in notices if one["kind"] == "leftovers-too-small-for-back"]
        for notices in (checked, pack["notices"])
    ]
    assert said[0] == said[1] != []
