"""Every fabric cut by its plan: one-way prints, pieced panels, wide backing, sleeves, fussy cuts, stash, washing."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from functools import cache
from typing import Any

import pytest

from applique.buying import Rule
from applique.cloth import ClothUse, FabricPlan, UseKind
from applique.cutting import Lie, Rectangle, Supply
from applique.cutting.scaled import job_of
from applique.design import Turns, Yardage, design_from_mapping
from applique.errors import Refusal, Where
from applique.panel import PanelPlan, place_rows
from applique.pattern import Pattern, draft
from applique.quilt.panel_cut import cut_panel
from applique.quilt.strips import ClothCut, CutKind
from applique.shopping import FabricBuy
from applique.units import Units, cutting_step, spare_in
from applique.words.buying import amount_said, item_said, rule_said, shopping_notices
from applique.words.cloth import use_how
from applique.words.instructions.finishing import why_strips_said
from tests.cutter import Patch, sew_lengths
from tests.there import there

SEAM = Fraction(1, 4)
INK = {"name": "Ink", "color": "#203040"}
FOG = {"name": "Fog", "color": "#e0e0d8", "usable_width": "42in"}
PRINT = {"name": "Print", "color": "#a05030", "usable_width": "42in", "turns": "upright"}


def _pattern(
    *borders: dict[str, Any], panel: tuple[str, str] = ("20in", "30in"), of: str = "Fog", **tables: Any
) -> Pattern:
    width, height = panel
    data: dict[str, Any] = {
        "row": [{"text": "I", "cap_height": "6in"}],
        "lettering": {"font": "Fredoka", "fabric": "Ink"},
        "panel": {"width": width, "height": height, "fabric": of},
        "fabric": [INK, FOG, PRINT],
        "border": list(borders),
    }
    return draft(design_from_mapping({**data, **tables}))


def _use(pattern: Pattern, kind: UseKind) -> ClothUse:
    use = pattern.shopping.use(kind)
    assert use is not None
    return use


def _buy(pattern: Pattern, fabric: str) -> FabricBuy:
    return next(buy for buy in pattern.shopping.cloth if buy.fabric.name == fabric)


# One-way prints


@pytest.mark.parametrize(("of", "lie", "used"), [("Fog", Lie.ACROSS, "41/2"), ("Print", Lie.ALONG, "83/2")])
def test_a_panel_of_a_one_way_print_stands_though_it_would_take_less_lying(
    of: str, lie: Lie, used: str
) -> None:
    """Ink hardly stands out from the print, so it is stitched in satin, and that panel is cut 1 in larger."""
    pattern = _pattern(panel=("20in", "40in"), of=of)
    assert [one.lie for one in _use(pattern, UseKind.PANEL).strips] == [lie]
    assert _buy(pattern, of).used == Fraction(used)


def test_a_wide_panel_of_a_one_way_print_is_pieced_and_not_laid_sideways() -> None:
    """60 by 30 in lies on cloth of 42 in as one piece; where it must stand, it takes two lengths, longer for satin."""
    lying, pieced = (_pattern(panel=("60in", "30in"), of=of).quilt.panel for of in ("Fog", "Print"))
    assert lying.seam is None
    assert pieced.seam is not None
    assert (pieced.seam.upright, len(pieced.widths), pieced.other_way) == (True, 2, None)
    assert (pieced.along, pieced.trimmed) == (Fraction(63, 2), (Fraction(121, 2), Fraction(61, 2)))


def test_a_back_of_a_one_way_print_stands_though_it_would_take_less_lying() -> None:
    """68 by 78 in from 42 in cloth: two lengths of 78 stand, two of 68 lie across. 40 by 68 lies in one."""
    for panel, lying, standing in ((("60in", "70in"), 136, 156), (("60in", "32in"), 68, 80)):
        used = {}
        for fabric in ("Fog", "Print"):
            pattern = _pattern(panel=panel, of="Ink", backing={"kind": "cloth", "fabric": fabric})
            use = _use(pattern, UseKind.BACKING)
            assert use.way is not None
            assert {one.lie for one in use.strips} == {Lie.ALONG}
            used[fabric] = (use.way.upright, use.way.length)
        assert used == {"Fog": (False, Fraction(lying)), "Print": (True, Fraction(standing))}


def test_rectangles_of_a_one_way_print_stand_on_every_side() -> None:
    """Those of the sides have their length along the selvage, those of top and bottom across it."""
    border = {"kind": "rectangles", "width": "2in", "size": "6in", "fabrics": ["Print", "Fog"]}
    pattern = _pattern(border, panel=("30in", "42in"), of="Ink")
    wanted: Counter[tuple[Lie, Fraction]] = Counter()
    for strip in (strip for step in pattern.quilt.borders[0].steps for strip in step.strips):
        for fabric, length in strip.pieces:
            if fabric == "Print":
                lie = Lie.ALONG if strip.side.upright else Lie.ACROSS
                wanted[lie, Fraction(length) + 2 * SEAM] += 1
    (use,) = _buy(pattern, "Print").uses
    cut = Counter({(one.lie, one.length): 0 for one in use.strips})
    for one in use.strips:
        cut[one.lie, one.length] += one.count
    assert cut == wanted
    assert {lie for lie, _ in wanted} == set(Lie)
    sides, ends = str(use_how(use, Units.INCHES)).split(" for the left and right, ")
    assert sum(int(words.split(" × ")[0]) for words in sides.split(" and ")) == sum(
        count for (lie, _), count in wanted.items() if lie is Lie.ALONG
    )
    assert ends.endswith(" for the top and bottom, so that the print stands upright")


@pytest.mark.parametrize("panel", [("30in", "20in"), ("70in", "90in")])
def test_border_strips_of_a_one_way_print_stand_on_every_side(panel: tuple[str, str]) -> None:
    """Short ones whole, long ones joined from strips that all lie the same way: the sides' along the selvage."""
    border = {"kind": "strip", "width": "3in", "fabrics": ["Print"]}
    pattern = _pattern(border, panel=panel, of="Ink", fabric=[{**INK, "usable_width": "100in"}, FOG, PRINT])
    sides: Counter[Lie] = Counter()
    for strip in (strip for step in pattern.quilt.borders[0].steps for strip in step.strips):
        sides[Lie.ALONG if strip.side.upright else Lie.ACROSS] += int(strip.cut_length * 16)
    use = _use(pattern, UseKind.BORDER)
    assert isinstance(use.cut, ClothCut)
    assert use.cut.kind is CutKind.BORDER_STRIPS
    reach: Counter[Lie] = Counter()
    lies = {one.key: one.lie for one in use.strips}
    assert len(lies) == len({(one.key, one.lie) for one in use.strips})
    joined = {run.key: run for run in use.joined}
    for run in joined.values():
        assert run.reach >= run.needed
        reach[lies[run.key]] += int(run.needed * 16)
    for one in use.strips:
        if one.key not in joined:
            reach[one.lie] += int(one.length * one.count * 16)
    assert reach == sides


# Pieced panels


def test_no_length_of_a_pieced_panel_is_wider_than_its_cloth() -> None:
    """100 random panels of three lengths, standing or lying: the pieces, sewn with their seams, give the cut size to a
    thread, and the seams lie where they are said to."""
    chance = random.Random(13)
    found: Counter[bool] = Counter()
    while sum(found.values()) < 100:
        upright = chance.random() < 0.7
        usable = Fraction(chance.randrange(30 * 8, 46 * 8), 8)
        allowance = Fraction(chance.choice([1, 2, 3]), 8)
        step = usable - 2 * allowance
        across = Fraction(chance.randrange(int(2 * step * 16) + 1, int(3 * step * 16) + 1), 16)
        along = Fraction(60) if upright else usable * 3 / 2
        placed = _placed(chance.choice(["OAR", "ROWING", "I I I I"]))
        fabric = replace(placed.fabric, usable_width=usable, turns=Turns.UPRIGHT if upright else Turns.HALF)
        width, height = (across, along) if upright else (along, across)
        panel = replace(placed, width=width, height=height, seam_allowance=allowance, fabric=fabric)
        cut = cut_panel(panel, Units.INCHES, cutting_step(Units.INCHES))
        assert cut.seam is not None
        if len(cut.widths) != 3:
            assert not upright
            continue
        found[cut.seam.upright] += 1
        assert max(cut.widths) <= usable
        sewn = sew_lengths(
            [Patch(width=one, height=cut.along) for one in cut.widths], seam=allowance, slack=Fraction(0)
        )
        size = (cut.width, cut.height) if cut.seam.upright else (cut.height, cut.width)
        assert (sewn.width, sewn.height) == size
        first, second, third = cut.widths
        seams = (first - allowance, first + second - 3 * allowance)
        assert cut.seam.places == seams
        assert third == size[0] - seams[1] + allowance
    assert min(found[True], found[False]) > 10


@cache
def _placed(text: str) -> PanelPlan:
    return place_rows(
        design_from_mapping(
            {
                "row": [{"text": text, "cap_height": "6in"}],
                "lettering": {"font": "Fredoka", "fabric": "Ink"},
                "panel": {"width": "100in", "height": "60in", "fabric": "Fog"},
                "fabric": [INK, FOG],
            }
        )
    )


def test_the_middle_length_of_three_is_no_wider_than_forty_inches() -> None:
    """Each seam for itself is nearest to its third of 118 in, and clear of an I, at 38 15/16 and 78 9/16 in: that asks
    for a middle length of 40 1/8 in."""
    places = (Fraction(38) + Fraction(15, 16), Fraction(78) + Fraction(9, 16))
    rows: list[dict[str, Any]] = [
        {"text": "I", "cap_height": "6in", "baseline": "20in"},
        {"text": "I", "cap_height": "6in", "baseline": "40in"},
    ]
    data: dict[str, Any] = {
        "lettering": {"font": "Fredoka", "fabric": "Ink"},
        "panel": {"width": "235/2in", "height": "130in", "fabric": "Cloth"},
        "fabric": [INK, {"name": "Cloth", "color": "#e0e0d8", "usable_width": "40in"}],
    }
    middle = place_rows(design_from_mapping({**data, "row": rows})).rows
    for table, placed, place in zip(rows, middle, places, strict=True):
        left = place + Fraction(1, 2) - SEAM + Fraction(1, 32)
        shift = Fraction(round((float(left) - placed.ink[0]) * 64), 64)
        table["right"] = f"{shift}in"
    panel = place_rows(design_from_mapping({**data, "row": rows}))
    for row, place in zip(panel.rows, places, strict=True):
        assert 0 < row.ink[0] + 0.25 - 0.5 - float(place) < 1 / 16
    cut = cut_panel(panel, Units.INCHES, cutting_step(Units.INCHES))
    assert cut.seam is not None
    assert cut.seam.upright
    assert cut.seam.crossed == ()
    assert max(cut.widths) == 40
    assert cut.seam.places == (places[0], places[0] + 40 - 2 * SEAM)


CLEAR, THROUGH = "with seams clear of the letters", "with seams through letters"
_OARS = [{"text": "O", "cap_height": "8in"}] * 2


@pytest.mark.parametrize(
    ("panel", "rows", "said"),
    [
        (("60in", "50in"), _OARS, f"2 lengths of 50 1/2 in, joined (crosswise would take 121 in, {CLEAR})"),
        (
            ("60in", "50in"),
            [{"text": "I"}],
            f"2 lengths of 50 1/2 in, joined (crosswise would take 121 in, {THROUGH})",
        ),
        (
            ("50in", "60in"),
            _OARS[:1],
            f"2 lengths of 50 1/2 in, joined (lengthwise would take 121 in, {CLEAR})",
        ),
        (
            ("58in", "70in"),
            [{"text": "MOORING", "cap_height": "8in"}],
            f"2 lengths of 58 1/2 in, joined (lengthwise would take 141 in, {THROUGH})",
        ),
    ],
)
def test_a_pieced_panel_takes_the_direction_of_less_cloth_and_says_what_the_other_would_take(
    panel: tuple[str, str], rows: list[dict[str, Any]], said: str
) -> None:
    pattern = _pattern(panel=panel, row=rows)
    cut, use = pattern.quilt.panel, _use(pattern, UseKind.PANEL)
    assert cut.other_way is not None
    assert str(use_how(use, Units.INCHES)) == said
    taken = len(cut.widths) * cut.along
    assert taken < cut.other_way.length
    assert _buy(pattern, "Fog").used == taken


# Backing and sleeve


def test_wide_backing_of_a_named_fabric_is_bought_at_its_own_width_and_by_its_own_name() -> None:
    """A back of 68 by 78 in: one length of 68 from 106 in cloth; of the same fabric at 42 in it would be two."""
    pattern = _pattern(
        panel=("60in", "70in"), of="Ink", backing={"kind": "wide", "fabric": "Fog"}, binding={"fabric": "Fog"}
    )
    wide, narrow = _buy(pattern, "Fog, wide backing"), _buy(pattern, "Fog")
    assert [use.kind for use in wide.uses] == [UseKind.BACKING]
    assert [use.kind for use in narrow.uses] == [UseKind.BINDING]
    assert (wide.fabric.usable_width, narrow.fabric.usable_width) == (Fraction(106), Fraction(42))
    assert [(one.length, one.width, one.count) for one in wide.uses[0].strips] == [
        (Fraction(68), Fraction(78), 1)
    ]
    assert str(item_said(wide, Units.INCHES)) == "Fog, wide backing: 2 yd, 106 in usable"


def test_a_sleeve_longer_than_its_fabric_counts_its_joins() -> None:
    """84 in from cloth of 42 in: two strips joined are 83 1/2. From wide backing it is one strip."""
    sleeve = {"sleeve": True, "fabric": "Fog"}
    use = _use(_pattern(panel=("85in", "30in"), of="Ink", hanging=sleeve), UseKind.SLEEVE)
    (joined,) = use.joined
    lengths = [one.length for one in use.strips for _ in range(one.count)]
    assert joined.strips == len(lengths) == 3
    assert joined.reach == sum(lengths) - 2 * 2 * SEAM >= joined.needed == 84
    of_wide = _pattern(panel=("85in", "30in"), of="Ink", hanging={"sleeve": True}, backing={"kind": "wide"})
    wide = _use(of_wide, UseKind.SLEEVE)
    assert [(one.length, one.count) for one in wide.strips] == [(Fraction(84), 1)]


@pytest.mark.parametrize(("panel", "last"), [(55, "29/2"), (49, "12"), (70, "59/2"), (72, "42")])
def test_the_second_strip_of_a_sleeve_is_longer_than_it_must_be_for_a_reason_alone(
    panel: int, last: str
) -> None:
    """From cloth of 42 in: 54 in takes 42 and 12 1/2 with the seam, and 2 in to spare. 48 in would do with 6 1/2, which
    is too short to be worth joining; beside 29 1/2 for 69 in, 12 1/2 are worth keeping; beside 31 1/2 for 71 in, 10 1/2
    are a scrap."""
    pattern = _pattern(panel=(f"{panel}in", "30in"), of="Ink", hanging={"sleeve": True, "fabric": "Fog"})
    use = _use(pattern, UseKind.SLEEVE)
    lengths = sorted(one.length for one in use.strips for _ in range(one.count))
    assert lengths == [Fraction(last), 42]


# Letters, preferences, stash, washing


def test_fussy_cuts_are_measured_from_the_first_end_of_the_cloth() -> None:
    """The block of the letters lies at the first squared end and the first selvage, before all else that is cut."""
    fussy = [{"letter": 1, "along": "3in", "across": "10in"}]
    border = {"kind": "strip", "width": "8in", "fabrics": ["Ink"]}
    pattern = _pattern(border, row=[{"text": "I", "cap_height": "6in", "fussy": fussy}], of="Ink")
    ink = _buy(pattern, "Ink")
    assert len(ink.uses) == 4
    (cloth,) = ink.cutting.plan.cloths
    pieces = [(at, piece) for at, piece in cloth.root.pieces()]
    assert pieces[0][1].key == "letters"
    block = pieces[0][0]
    assert (block.x, block.y) == (Fraction(0), Fraction(0))
    assert block.length >= 3 + 6
    assert 10 + 1 < block.width < 40
    reach = block.length
    for at, piece in pieces[1:]:
        assert at.x >= block.length or at.y >= block.width, piece.key
        reach = max(reach, at.x + at.length)
    assert reach == cloth.root.length == ink.used


SIMPLE, FEWEST, LEAST = "simple unless it pays", "fewest kinds of cuts", "least fabric"


@cache
def _preferring(plan: str, own: str | None = None, *, squares: bool = False) -> FabricPlan:
    """Of letters and binding, and squares beside them."""
    fabric = [{**INK, **({} if own is None else {"plan": own})}, FOG]
    borders = [{"kind": "squares", "size": "3in", "fabrics": ["Ink", "Fog"]}] * squares
    return _buy(
        _pattern(*borders, panel=("33in", "36in"), fabric=fabric, yardage={"plan": plan}), "Ink"
    ).cutting


def test_what_a_maker_likes_best_of_a_plan_is_done() -> None:
    """For all fabrics, or for one of them against the rest. An eighth of a yard less does not pay unless she says so,
    and the fewest kinds of cuts may cost more."""
    simple, least = _preferring(SIMPLE), _preferring(LEAST)
    assert simple.plan.used == simple.plan.plain
    assert simple.rule.buy - least.rule.buy == Fraction(9, 2)
    few, little = (_preferring(plan, squares=True) for plan in (FEWEST, LEAST))
    assert few.rule.buy > little.rule.buy
    for plan in (SIMPLE, FEWEST, LEAST):
        assert _preferring(plan, LEAST).plan == least.plan
        assert _preferring(plan, FEWEST, squares=True).plan == few.plan


def test_a_fabric_that_is_all_in_the_stash_is_not_bought() -> None:
    have = [INK, {**FOG, "have": "1 yard and 2 fat quarters"}]
    border = {"kind": "strip", "width": "2in", "fabrics": ["Fog"]}
    pattern = _pattern(border, of="Fog", fabric=have)
    fog = _buy(pattern, "Fog")
    assert fog.used == fog.buy == fog.rule.wanted == 0
    assert fog.precut is None
    assert str(amount_said(fog, Units.INCHES)) == "none, you have enough"
    assert str(item_said(fog, Units.INCHES)) == "Fog: none, you have enough, 42 in usable"
    assert {cloth.supply for cloth in fog.cutting.plan.cloths} <= {"have 1", "have 2"}
    assert [sum(one.count for one in use.strips) for use in fog.uses] == [1, 4]
    assert shopping_notices(pattern.shopping, Units.INCHES) == ()


def test_what_is_bought_comes_on_top_of_the_stash_and_short_strips_need_no_quick_rule() -> None:
    """The quick rule is for strips as wide as the fabric; those of fat quarters are more for another reason."""
    held = [{**INK, "have": "2 fat quarters"}, FOG]
    pattern = _pattern(panel=("60in", "50in"), of="Fog", binding={"fabric": "Ink"}, fabric=held)
    ink = _buy(pattern, "Ink")
    assert " yd, and what you have" in str(amount_said(ink, Units.INCHES))
    use = next(use for use in ink.uses if use.kind is UseKind.BINDING)
    assert {one.length for one in use.strips} != {ink.fabric.usable_width}
    assert why_strips_said(there(pattern.quilt.binding), use, Units.INCHES) is None


def test_a_length_that_would_have_no_spare_is_bought_a_step_longer_and_says_why() -> None:
    """A panel cut 17 3/4 in high would leave 1/4 in of a half yard, one of 17 1/2 in leaves the 1/2 in that a crooked
    cut may cost."""
    for panel, buy, more in (("69/4in", Fraction(45, 2), True), ("17in", Fraction(18), False)):
        size = {"squaring": "0in"}
        pattern = _pattern(panel=("35in", panel), yardage=size, row=[{"text": "I", "cap_height": "3in"}])
        fog = _buy(pattern, "Fog")
        assert fog.buy == buy
        said = "and one step more so that at least 1/2 in is to spare"
        assert str(rule_said(fog.rule, Units.INCHES)).endswith(said) == more


@pytest.mark.parametrize(("used", "steps"), [("35/2", 4), ("71/4", 5)])
def test_a_plan_is_searched_with_what_must_be_to_spare(used: str, steps: int) -> None:
    """Of half a yard 17 1/2 in leave the 1/2 in that must be to spare, 17 3/4 in do not."""
    length, step = Fraction(used), Fraction(9, 2)
    panel = Rectangle(key="panel", length=length, width=Fraction(30), count=1, lies=(Lie.ALONG,))
    bolt = Supply(key="bought", width=Fraction(40), length=None, count=1, squaring=Fraction(0))
    job = job_of([panel], [bolt], step=step, grid=Fraction(1, 16), spare=spare_in(Units.INCHES))
    loss = Yardage(squaring=Fraction(0)).loss(Units.INCHES)
    assert job.bought(int(length * job.unit)) == Rule(used=length, extra=loss, step=step).buy / step == steps


def test_what_washing_takes_is_divided() -> None:
    """100 in between squared ends at 8 %: 100 / 0.92 = 108.70, where 8 % more would be 108 in and come out at 99.36."""
    yardage = {"shrinkage_percent": 8, "squaring": "0in"}
    pattern = _pattern(panel=("39in", "199/2in"), yardage=yardage, row=[{"text": "I", "cap_height": "6in"}])
    fog = _buy(pattern, "Fog")
    assert fog.used == 100
    assert round(float(fog.rule.wanted), 2) == 108.70
    assert fog.buy * Fraction(92, 100) >= 100 > (fog.buy - Fraction(9, 2)) * Fraction(92, 100)
    assert str(rule_said(fog.rule, Units.INCHES)) == (
        "100 in used, and 8% of what is bought shrinks away: 108 3/4 in, up to the next 1/8 yd"
    )
    assert [supply.width for supply in fog.cutting.supplies] == [Fraction(42)]


def test_what_no_cloth_holds_is_refused_by_its_name_at_its_place_in_its_units() -> None:
    narrow = {"name": "Plum", "color": "#550055", "usable_width": "10cm"}
    squares = {"kind": "squares", "size": "10cm", "fabrics": ["Fog", "Plum"]}
    design = {
        "units": "cm",
        "row": [{"text": "I", "cap_height": "5cm"}],
        "panel": {"width": "60cm", "height": "50cm"},
        "fabric": [FOG, narrow],
        "border": [squares],
    }
    with pytest.raises(Refusal) as refused:
        draft(design_from_mapping(design))
    (problem,) = refused.value.problems
    assert problem.where == Where.key("border", 1)
    assert str(problem.what) == "a piece of border 1 is 11.5 cm by 11.5 cm and does not fit fabric 10 cm wide"
