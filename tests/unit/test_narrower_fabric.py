"""What a fabric takes that is narrower than its cutting plan needs."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from html import unescape
from typing import Any

import pytest

from applique.cloth import FabricPlan, NarrowCloth, UseKind
from applique.cutting import Region, plan_faults
from applique.instructions import ChapterKind
from applique.pattern import Pattern
from applique.reports import summary_md
from applique.sew_along import sew_along_html
from applique.supplies import USUAL_WIDTH, bolt_of
from tests.chapters import chapter_of, drafted, said_in
from tests.cutter import Strip, join

F = Fraction
_FABRICS = [
    {"name": "Ink", "color": "#203040", "usable_width": "42in"},
    {"name": "Fog", "color": "#e0e0d8", "usable_width": "42in"},
    {"name": "Rust", "color": "#a05030", "usable_width": "42in"},
]
_BOUND: Mapping[str, Any] = {
    "row": [{"text": "HI", "cap_height": "3in"}],
    "panel": {"width": "40in", "height": "34in", "fabric": "Fog"},
    "lettering": {"fabric": "Rust"},
    "binding": {"fabric": "Ink"},
    "fabric": _FABRICS,
}
"""Around 40 by 34 in: 148 in and 10 in of binding."""


@pytest.fixture(scope="module")
def bound() -> Pattern:
    return drafted(**_BOUND)


def _plan(pattern: Pattern, fabric: str) -> FabricPlan:
    return next(buy.cutting for buy in pattern.shopping.cloth if buy.fabric.name == fabric)


def _narrow(pattern: Pattern, fabric: str) -> NarrowCloth:
    found = _plan(pattern, fabric).narrow
    assert found is not None
    return found


def test_binding_takes_a_strip_more_of_fabric_of_forty_inches(bound: Pattern) -> None:
    """158 in of 2 1/2 in strips: four of 42 in reach 4 · 42 - 3 · 2 1/2 = 160 1/2, four of 40 in only 152 1/2, five
    190: docs/sources.md, strips joined on the diagonal. Five are 12 1/2 in, with the squaring 14 1/2 in: 1/2 yd.
    Washed 5 % (docs/sources.md, shrinkage) they are 39.9 in, and 14 1/2 / 0.95 = 15.3 in: 1/2 yd too."""
    ink = _plan(bound, "Ink")
    assert (ink.plan.used, ink.rule.buy) == (F(10), F(27, 2))
    narrow = _narrow(bound, "Ink")
    assert ink.widths_of("bought").least == (158 + F(15, 2)) / 4
    assert narrow.usual is not None and narrow.washed is not None
    assert (narrow.usual.width, narrow.usual.rule.used, narrow.usual.rule.buy) == (F(40), F(25, 2), F(18))
    assert (narrow.washed.width, narrow.washed.rule.used) == (F(399, 10), F(25, 2))
    assert narrow.washed.rule.wanted == F(29, 2) / F(95, 100)
    assert narrow.washed.rule.buy == 18
    strips = [piece for _, piece in _pieces(narrow.usual.plan.cloths[0].root)]
    assert join([Strip(length=F(40), width=F(5, 2))] * len(strips), F(5, 2)).length == 190


def _pieces(root: Region) -> list[tuple[Region, Any]]:
    return list(root.pieces())


def test_what_is_said_of_it_stands_in_every_list_that_says_what_to_buy(bound: Pattern) -> None:
    said = (
        "Ink: if yours measures only 40 in, buy 1/2 yd and do not wash it first; if it measures 42 in and you do wash "
        "it, buy 1/2 yd."
    )
    assert said in said_in(chapter_of(bound, ChapterKind.NEEDED))
    assert f"- {said}" in summary_md(bound).decode("utf-8")
    page = re.sub(r"<[^>]+>", "", sew_along_html(bound).decode("utf-8"))
    assert said in unescape(page).replace("\N{NO-BREAK SPACE}", " ")
    cutting = said_in(chapter_of(bound, ChapterKind.CUTTING))
    assert (
        "If yours measures only 40 in, cut these bands of 1/2 yd instead, and the same pieces from them: "
        "5 × 2 1/2 in for a. The rest of this step, its drawing and its table are for wider fabric."
        in cutting
    )
    washing = said_in(chapter_of(bound, ChapterKind.BEFORE))
    assert "buy about 5% more of it, or what “What you need” says of it, and measure" in washing


def test_a_piece_wider_than_that_has_no_plan_on_it(bound: Pattern) -> None:
    """The panel is cut 40 1/2 by 34 1/2 in, so 40 in holds it lying; one of 41 1/2 by 44 1/2 in nothing does."""
    usual = _narrow(bound, "Fog").usual
    assert usual is not None and usual.rule.used == F(81, 2)
    wide = drafted(**{**_BOUND, "panel": {"width": "41in", "height": "44in", "fabric": "Fog"}})
    fog = _narrow(wide, "Fog")
    assert (fog.usual, fog.washed) == (None, None)
    said = said_in(chapter_of(wide, ChapterKind.NEEDED))
    assert "too narrow for Fog (at least 41 1/2 in)" in said
    assert "Fog: if yours" not in said
    assert (
        "Fog: there is no plan for narrower fabric; take one of that width, and if you wash it first, one "
        in said
    )
    assert "only 40 in, cut" not in said_in(chapter_of(wide, ChapterKind.CUTTING)).split("Fabric B")[0]


def test_a_back_of_more_lengths_says_so_and_is_not_cut_alike(bound: Pattern) -> None:
    """48 by 42 in are one length of 42 in fabric, and two of 40 in: 2 · 42 + 2 in of squaring is 86 in, 2 1/2 yd."""
    backing = _narrow(bound, "Backing")
    assert backing.usual is not None
    assert (backing.usual.lengths, backing.usual.is_alike, backing.usual.rule.buy) == (2, False, F(90))
    said = said_in(chapter_of(bound, ChapterKind.NEEDED))
    assert "Backing: if yours measures only 40 in, buy 2 1/2 yd and do not wash it first; " in said
    assert "The backing is sewn of 2 lengths then." in said
    cutting = said_in(chapter_of(bound, ChapterKind.CUTTING))
    assert cutting.count("If yours measures only 40 in, cut these bands") == 2


def test_fabric_that_is_washed_anyway_has_no_second_amount() -> None:
    """Five strips of 40 in, shrunk by 3 %: 14 1/2 / 0.97 = 14.95 in: 1/2 yd."""
    washed = drafted(**_BOUND, yardage={"washed": True})
    narrow = _narrow(washed, "Ink")
    assert narrow.is_washed and narrow.washed is None
    assert narrow.usual is not None and narrow.usual.rule.wanted == F(29, 2) / F(97, 100)
    said = said_in(chapter_of(washed, ChapterKind.NEEDED))
    assert "Ink: if yours measures only 40 in, buy 1/2 yd." in said


@pytest.mark.parametrize(
    "tables",
    [
        {"fabric": [{**one, "usable_width": "40in"} for one in _FABRICS]},
        {"fabric": [{**one, "have": "1/4yd"} for one in _FABRICS]},
        {"backing": {"kind": "leftovers"}},
    ],
    ids=["holds on 40 in", "some is in the stash", "what is left over goes into the back"],
)
def test_nothing_is_said_where_no_plan_of_its_own_can_be(tables: Mapping[str, Any]) -> None:
    pattern = drafted(**{**_BOUND, **tables})
    assert _plan(pattern, "Ink").narrow is None
    assert "Ink: if yours measures only" not in said_in(chapter_of(pattern, ChapterKind.NEEDED))


def test_the_plan_on_narrower_fabric_gives_every_piece_and_letters_have_a_deeper_band() -> None:
    """All from one fabric; what a plan must be is checked apart from how it is found."""
    tables = {
        **_BOUND,
        "row": [{"text": "WOMAN", "cap_height": "4in"}, {"text": "HOOD", "cap_height": "4in"}],
        "lettering": {"fabric": "Ink"},
        "border": [{"kind": "squares", "size": "3in", "fabrics": ["Ink", "Rust"]}],
        "panel": {"width": "39in", "height": "33in", "fabric": "Fog"},
    }
    pattern = drafted(**tables)
    ink = _plan(pattern, "Ink")
    narrow = _narrow(pattern, "Ink")
    assert narrow.usual is not None
    kinds = {use.kind for use in ink.uses}
    assert kinds == {UseKind.BORDER, UseKind.BINDING, UseKind.LETTERS}
    (cloth,) = narrow.usual.plan.cloths
    assert cloth.root.width == USUAL_WIDTH
    bolt = bolt_of(ink.fabric, pattern.design.yardage, pattern.design.units)
    bolt = replace(bolt, width=USUAL_WIDTH)
    others = [one for one in ink.demands if getattr(one, "key", "") != "letters"]
    own = {piece.key for _, piece in cloth.root.pieces()}
    faults = [
        fault
        for fault in plan_faults(narrow.usual.plan, others, [bolt])
        if fault != "nobody asked for letters"
    ]
    assert own >= {one.key for one in others if hasattr(one, "key")}
    assert faults == []
    assert narrow.usual.rule.buy >= ink.rule.buy
    said = said_in(chapter_of(pattern, ChapterKind.CUTTING))
    assert "lay them all out on it before you fuse any" in said
