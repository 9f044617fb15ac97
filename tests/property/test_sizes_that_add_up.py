"""What is printed, cut and sewn as it is printed, measures what is printed: within 1 mm or 1/16 in whatever the seam,
and to the thread where two seam allowances are a size that can be cut.

The maker at her table (`tests/cutter.py`) gets words alone: the booklet's list of what to cut, the rounds of sewing,
and the seam allowance of the guide. What she knows beside them is which fabric comes where.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any, Final

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from applique.cloth import ClothUse, UseKind, plan_cloth
from applique.design import BorderKind, Corners, Design, design_from_mapping
from applique.errors import Refusal
from applique.fabrics import resolve_fabrics
from applique.panel import PanelPlan, place_rows
from applique.quilt.borders import BorderPlan, BorderStep
from applique.quilt.strips import ClothCut
from applique.quilt.whole import QuiltPlan, plan_quilt
from applique.units import Units, as_available
from applique.words.cloth import use_how
from applique.words.cutting import size_said
from applique.words.guide import scale_said
from applique.words.instructions.borders import rows_said, step_said
from applique.words.instructions.cover import finished_said
from applique.words.instructions.cutting import panel_said
from tests.cutter import (
    Patch,
    Side,
    Strip,
    add_border,
    add_mitered_border,
    join,
    measure,
    read,
    sew_lengths,
    trim,
)

NAMES: Final = ("ant", "bee", "cat", "dog")
MM: Final = Fraction(10, 254)
STEP: Final = {Units.INCHES: Fraction(1, 16), Units.CENTIMETERS: MM}
LENGTH: Final = r"\d[\d ./,]*(?:in|cm|mm)\b"
STRIPS: Final = re.compile(rf"(\d+) × ({LENGTH}) by ({LENGTH})")
CUTS: Final = re.compile(rf"(\d+) × ({LENGTH})")
SQUARES: Final = re.compile(rf"(\d+) squares? of ({LENGTH})")


# Designs


@st.composite
def typed(draw: st.DrawFn, least: int, most: int) -> str:
    """A length of `least` to `most` inches as makers type it, in any unit, seldom one that a ruler has."""
    if draw(st.booleans()):
        parts = draw(st.sampled_from([1, 10]))
        return f"{draw(st.integers(least * 25 * parts, most * 25 * parts))}/{parts}mm"
    parts = draw(st.sampled_from([1, 2, 3, 8, 16, 64]))
    return f"{draw(st.integers(least * parts, most * parts))}/{parts}in"


@st.composite
def border(draw: st.DrawFn) -> dict[str, Any]:
    kind = draw(st.sampled_from(["strip", "rectangles"]))
    made: dict[str, Any] = {
        "kind": kind,
        "first": draw(st.sampled_from(["sides", "top and bottom"])),
        "joins": draw(st.sampled_from(["diagonal", "straight"])),
        "width": draw(typed(1, 6)),
        "fabrics": draw(st.permutations(NAMES))[: 1 if kind == "strip" else draw(st.integers(1, 4))],
    }
    if kind == "strip":
        made["corners"] = draw(st.sampled_from(["butted", "cornerstones", "mitered"]))
        made["corner_fabric"] = draw(st.sampled_from(NAMES))
    else:
        made["size"] = draw(typed(1, 9))
    return made


@st.composite
def quilt(draw: st.DrawFn) -> dict[str, Any]:
    """A quilt of one letter with borders of any kind. Squares come first, around a panel that they fill as typed."""
    units = draw(st.sampled_from(["in", "cm"]))
    seams = ["1/4in", "3/8in", "5mm", "6mm", "6.5mm", "1cm"]
    panel: dict[str, Any] = {key: draw(typed(12, 60)) for key in ("width", "height")}
    borders = draw(st.lists(border(), min_size=1, max_size=3))
    if draw(st.booleans()):
        panel["seam_allowance"] = draw(st.sampled_from(seams))
    if draw(st.integers(0, 3)) == 0:
        on_grid = st.integers(16, 64).map(
            lambda count: f"{count}/16in" if units == "in" else f"{2 * count}mm"
        )
        side = draw(st.one_of(on_grid, typed(1, 4)))
        number, unit = re.fullmatch(r"(.*?)(in|mm)", side).groups()  # type: ignore[union-attr]
        for key in ("width", "height"):
            panel[key] = f"{Fraction(number) * draw(st.integers(12, 27))}{unit}"
        borders.insert(0, {"kind": "squares", "size": side, "fabrics": draw(st.permutations(NAMES))[:3]})
    return {
        "units": units,
        "row": [{"text": "I", "cap_height": "2in"}],
        "panel": {**panel, "fabric": "ant"},
        "fabric": [
            {"name": name, "color": "#888888", "usable_width": draw(typed(22, 46)), "turns": turns}
            for name, turns in zip(NAMES, ("half", "half", "upright", "quarter"), strict=True)
        ],
        "border": borders,
        "hanging": {"sleeve": True},
        "backing": {"overage": draw(typed(1, 4))},
        "binding": {"width": draw(typed(2, 3))},
    }


# What is printed


def lengths(words: str) -> list[Fraction]:
    return [read(one) for one in re.findall(LENGTH, words)]


def cut_out(how: str) -> list[Strip]:
    """What one sentence has her cut, after what it has her join."""
    first, _, then = how.partition("cut ")
    if then:
        (width,) = {read(wide) for _, wide, _ in STRIPS.findall(first)}
        return [
            Strip(length=read(long), width=width)
            for count, long in CUTS.findall(then)
            for _ in range(int(count))
        ]
    found: list[tuple[str, str, str]]
    found = STRIPS.findall(first) or [(count, side, side) for count, side in SQUARES.findall(first)]
    assert found, first
    return [
        Strip(length=read(long), width=read(wide)) for count, wide, long in found for _ in range(int(count))
    ]


def stock(uses: Sequence[ClothUse], one: BorderPlan, units: Units) -> dict[str, list[Strip]]:
    """The pieces that the booklet has her cut for a border, by fabric, turned as it has her join them."""
    pieces: dict[str, list[Strip]] = {name: [] for name in NAMES}
    for use in uses:
        if use.border != one.number or not isinstance(use.cut, ClothCut):
            continue
        for how in str(use_how(use, units)).split("; top and bottom: "):
            pieces[use.cut.fabric] += cut_out(how)
    for width in joined_along(one, units):
        for cut in pieces.values():
            cut[:] = [
                Strip(length=piece.width, width=width) if piece.length == width else piece for piece in cut
            ]
    return pieces


def joined_along(one: BorderPlan, units: Units) -> set[Fraction]:
    """The edges that pieces of rows meet along, where the booklet must say which."""
    step = one.steps[0]
    named = {strip.side: [fabric for fabric, _ in strip.pieces] for strip in step.strips}
    if one.kind is not BorderKind.RECTANGLES:
        return set()
    words = " ".join(map(str, rows_said(one, step, {name: name for name in NAMES}, named, units)))
    return {read(edge) for edge in re.findall(rf"along their edges of ({LENGTH})", words)}


def taken(pieces: list[Strip], wanted: Fraction) -> Strip:
    """The piece nearest in length, which is out of the stock then."""
    found = min(pieces, key=lambda one: abs(one.length - wanted))
    pieces.remove(found)
    return found


# Sewing


def eased(seam: Fraction, units: Units) -> Fraction:
    """How far a printed number may be off: by nothing where two seams are a size that a ruler has, else by a step."""
    step = STEP[units]
    return Fraction(0) if (2 * seam / step).denominator == 1 else step


def sewn_panel(panel: PanelPlan, use: ClothUse, seam: Fraction, units: Units) -> Patch:
    width, height, *finished = lengths(str(panel_said(panel, use, ["A"], units, compared=True)))[:4]
    top = Patch(width=width, height=height)
    if len(use.strips) > 1 or use.strips[0].count > 1:
        sizes = [
            [lengths(str(as_available(side, units)))[0] for side in (one.width, one.length)]
            for one in use.strips
            for _ in range(one.count)
        ]
        upright = abs(sizes[0][1] - height) <= abs(sizes[0][1] - width)
        whole = sew_lengths(
            [Patch(width=wide, height=long) for wide, long in sizes], seam=seam, slack=Fraction(0)
        )
        if not upright:
            whole = Patch(width=whole.height, height=whole.width)
        for told, found in ((width, whole.width), (height, whole.height)):
            measure("the pieced panel", told=told, found=found, slack=eased(seam, units))
        top = trim(whole, width, height)
    for told, side in zip(finished, top.finished(seam), strict=True):
        measure("the panel", told=told, found=side, slack=eased(seam, units))
    return top


def sewn_round(
    top: Patch,
    step: BorderStep,
    pieces: dict[str, list[Strip]],
    seam: Fraction,
    units: Units,
    *,
    mitered: bool,
) -> Patch:
    rows = {
        Side(strip.side.value): join(
            [
                taken(pieces[fabric], strip.cut_length if mitered else long + 2 * seam)
                for fabric, long in strip.pieces
            ],
            2 * seam,
        )
        for strip in step.strips
    }
    if mitered:
        return add_mitered_border(top, rows, seam=seam)
    for side, strip in rows.items():
        top = add_border(top, strip, side, seam=seam, slack=eased(seam, units))
    return top


def sew(design: Design, panel: PanelPlan, whole: QuiltPlan) -> Iterator[Patch]:
    """The top after every round, each measured by the words of its round."""
    units = design.units
    uses = plan_cloth(design, whole, ()).uses
    _on_the_ruler(uses, whole, units)
    seam = lengths(str(scale_said(Fraction(8), panel, units)))[-1]
    top = sewn_panel(panel, next(use for use in uses if use.kind is UseKind.PANEL), seam, units)
    for one in whole.borders:
        pieces = stock(uses, one, units)
        for step in one.steps:
            top = sewn_round(top, step, pieces, seam, units, mitered=one.corners is Corners.MITERED)
            _measured(top, one, step, seam, units)
            yield top
        assert not any(pieces.values()), "pieces are cut and sewn nowhere"
    told = lengths(str(finished_said(whole, units)))
    for side, found in zip((told[0], told[2]), top.finished(seam), strict=True):
        measure("the quilt", told=side, found=found, slack=eased(seam, units))


def _on_the_ruler(uses: Sequence[ClothUse], whole: QuiltPlan, units: Units) -> None:
    """Whatever is cut, back, binding and sleeve too, is as printed; what odd widths of fabric leave counts down."""
    step = STEP[units]
    odd = any((fabric.usable_width / step).denominator > 1 for fabric in whole.fabrics.by_name.values())
    for one in (strips for use in uses for strips in use.strips):
        for cut, printed in zip(
            sorted((one.width, one.length)),
            lengths(str(size_said(one.length, one.width, units))),
            strict=True,
        ):
            assert (printed / step).denominator == 1
            assert printed == cut or (odd and 0 < cut - printed < step)


def _measured(top: Patch, one: BorderPlan, step: BorderStep, seam: Fraction, units: Units) -> None:
    pieces = {strip.side: [fabric for fabric, _ in strip.pieces] for strip in step.strips}
    *_, said = (str(words) for words in step_said(one, step, pieces, seam, units, from_run=False))
    for told, found in zip(lengths(said), (top.width, top.height, *top.finished(seam)), strict=True):
        measure(said, told=told, found=found, slack=eased(seam, units))


@pytest.mark.long
@settings(max_examples=60, deadline=None)
@given(quilt())
def test_pieces_cut_and_sewn_as_printed_measure_what_is_printed(made: dict[str, Any]) -> None:
    design = design_from_mapping(made)
    panel = place_rows(design)
    try:
        whole = plan_quilt(design, panel, resolve_fabrics(design))
    except Refusal as refusal:
        (problem,) = refusal.problems
        assert problem.kind in ("squares-uneven", "cut-squares-uneven")
        event("squares that do not come out even")
        return
    event(f"{made['border'][0]['kind']} in {design.units}")
    event("a panel of one piece" if whole.panel.seam is None else "a pieced panel")
    assert list(sew(design, panel, whole))


def _squares(size: str, **panel: str) -> Design:
    return design_from_mapping(
        {
            "units": "cm",
            "row": [{"text": "I", "cap_height": "2in"}],
            "panel": {"width": "108cm", "height": "80cm", **panel},
            "fabric": [{"name": name, "color": "#888888"} for name in NAMES],
            "border": [{"kind": "squares", "size": size, "fabrics": NAMES[:3]}],
        }
    )


def test_27_squares_of_4_cm_finish_at_108_cm() -> None:
    """Cut 5.3 cm and sewn with 0.6 cm, as they were printed once, they came to 110.7 cm."""
    design = _squares("4cm")
    panel = place_rows(design)
    whole = plan_quilt(design, panel, resolve_fabrics(design))
    assert read("5.5 cm") - 2 * read("0.75 cm") == read("108 cm") / 27
    use = next(use for use in plan_cloth(design, whole, ()).uses if use.border)
    assert str(use_how(use, Units.CENTIMETERS)).endswith("squares of 5.5 cm")
    tops = list(sew(design, panel, whole))
    assert (tops[-1].width, tops[-1].height) == (read("117.5 cm"), read("89.5 cm"))


@pytest.mark.parametrize(
    ("size", "seam", "what", "fix"),
    [
        # 2 in and two seams are 6.58 cm: cut 6.6 they finish at 5.1 cm, and 108 / 5.1 is no whole number.
        ("2in", {}, "squares cut 6.6 cm finish at 5.1 cm", "squares of 4 cm"),
        # 4 cm and two seams of 1/4 in are 5.27 cm: no square cut to the millimeter finishes at 4 cm.
        (
            "4cm",
            {"seam_allowance": "1/4in"},
            "squares cut 5.3 cm finish at 4.03 cm",
            "a seam_allowance of 0.65 cm",
        ),
    ],
)
def test_squares_that_no_ruler_cuts_are_refused_with_what_would_do(
    size: str, seam: dict[str, str], what: str, fix: str
) -> None:
    design = _squares(size, **seam)
    with pytest.raises(Refusal) as refused:
        plan_quilt(design, place_rows(design), resolve_fabrics(design))
    (problem,) = refused.value.problems
    assert what in str(problem.what)
    assert fix in str(problem.fix)
