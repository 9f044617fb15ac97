"""A sentence that compares two numbers prints them so that they differ, in the true order.

Each limit is set a hair beyond what was measured, where both used to round alike: "is 1/4 in, less than the 1/4 in it
needs".
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from shapely.geometry import box

from applique.cutting import Lie, Rectangle, Run, Supply, plan_cutting
from applique.design import design_from_mapping
from applique.design.model import Design
from applique.errors import Refusal
from applique.nesting.grid import lay_strip, nest_bins
from applique.nesting.values import NestPiece
from applique.panel import place_rows
from applique.pattern import draft
from applique.sewing.cures import check_design
from applique.sewing.findings import Finding, FindingKind
from applique.units import Units, parse_length
from applique.words.findings import finding_said

HAIR = Fraction(1, 500)
LENGTH = re.compile(r"−?(?:\d+ )?\d+(?:[./]\d+)? (?:in|mm|cm)\b")


def _design(units: Units = Units.INCHES, **tables: Any) -> Design:
    data: dict[str, Any] = {
        "units": units.value,
        "panel": {"width": "60in", "height": "30in"},
        "lettering": {"font": "Fraunces", "cap_height": "3in"},
        "row": [{"text": "Beg"}, {"text": "oat"}],
    }
    for name, table in tables.items():
        data[name] = {**data[name], **table} if isinstance(data.get(name), dict) else table
    return design_from_mapping(data)


def _inches(length: Fraction | float) -> str:
    return f"{float(length):.6f}in"


def _lengths(words: object) -> list[Fraction]:
    return [parse_length(found.replace("−", "-")) for found in LENGTH.findall(str(words))]


def _said(finding: Finding, units: Units = Units.INCHES) -> str:
    return str(finding_said(finding, units))


def _found(design: Design, kind: FindingKind) -> Finding:
    return next(one for one in check_design(design).findings if one.kind is kind)


@pytest.mark.parametrize("units", list(Units))
@pytest.mark.parametrize(
    ("kind", "key"),
    [
        (FindingKind.STROKE, "least_stroke"),
        (FindingKind.COUNTER, "least_counter"),
        (FindingKind.SLOT, "least_slot"),
        (FindingKind.CLEAR, "least_clear"),
        (FindingKind.ROWS, "least_clear"),
        (FindingKind.SEAM, "least_seam"),
    ],
)
def test_a_finding_prints_its_measure_below_its_limit(kind: FindingKind, key: str, units: Units) -> None:
    large = _found(_design(units, sewing={key: "25in"}), kind)
    limit = Fraction(large.measure).limit_denominator(10**6) + HAIR
    finding = _found(_design(units, sewing={key: _inches(limit)}), kind)
    assert finding.measure < finding.limit < finding.measure + 2 * float(HAIR)
    printed = _lengths(_said(finding, units))[:2]
    assert printed[0] < printed[1]
    assert [float(length) for length in printed] == pytest.approx([finding.measure, finding.limit], abs=2e-3)


def test_holes_of_an_outline_likewise() -> None:
    def tables(limit: str) -> Design:
        return _design(lettering={"outline": "1/8in"}, sewing={"least_counter": limit})

    large = _found(tables("5in"), FindingKind.HOLE)
    finding = _found(tables(_inches(large.measure + float(HAIR))), FindingKind.HOLE)
    printed = _lengths(_said(finding))[:2]
    assert printed[0] < printed[1]


def test_angles_stitches_contrast_and_distances_likewise() -> None:
    def numbers(finding: Finding, unit: str) -> list[float]:
        return [float(found) for found in re.findall(rf"(\d+(?:\.\d+)?)(?: {unit}|{unit})", _said(finding))]

    every = _found(_design(sewing={"least_point": 180}, row=[{"text": "AVWMNKvwyz47"}]), FindingKind.POINT)
    sharp = next(spot for spot in every.spots if 0.5 < spot.measure % 1 < 0.99)
    tables: dict[str, Any] = {
        "sewing": {"least_point": math.ceil(sharp.measure)},
        "row": [{"text": sharp.text}],
    }
    point = _found(_design(**tables), FindingKind.POINT)
    assert numbers(point, "°")[0] < numbers(point, "°")[1]

    satin = {"stitch": "satin", "width": "7.04mm"}
    stitch = numbers(_found(_design(stitching=satin), FindingKind.STITCH), "mm")
    assert stitch == [7.04, 7.0]

    fabrics = [{"name": "Slate", "color": "#939393"}, {"name": "Chalk", "color": "#fbfbfb"}]
    cloth: dict[str, Any] = {
        "panel": {"fabric": "Chalk"},
        "lettering": {"fabric": "Slate"},
        "fabric": fabrics,
    }
    contrast = _found(_design(stitching={"stitch": "blanket"}, **cloth), FindingKind.CONTRAST)
    assert 2.95 < contrast.measure < 3
    assert "2.9" in _said(contrast)
    assert "contrast of 3 " not in _said(contrast)

    far = _found(_design(sewing={"viewing_distance": "901in"}), FindingKind.READING)
    feet = numbers(far, "ft")
    assert feet[0] == 75 < feet[1]
    assert _lengths(_said(far))[0] < _lengths(_said(far))[1]


def test_a_row_too_wide_is_printed_wider_than_its_room() -> None:
    row = place_rows(_design()).rows[0]
    room = Fraction(row.ink[2] - row.ink[0]).limit_denominator(10**6) - HAIR
    with pytest.raises(Refusal) as refused:
        place_rows(_design(panel={"width": _inches(room + 2), "margin": "1in"}))
    wide, between = _lengths(str(refused.value.problems[0].what))
    assert wide > between


@pytest.mark.parametrize("units", list(Units))
def test_notices_of_gaps_and_margins_print_less_below_more(units: Units) -> None:
    """Everything is 1/500 in nearer than it is asked to be."""
    told = place_rows(
        _design(
            units,
            lettering={"row_gap": "2in", "least_gap": "2in", "align": "left"},
            row=[
                {"text": "HI", "baseline": "10in", "right": "-0.002in"},
                {"text": "HI", "baseline": "14.998in", "nudge": [{"letter": 2, "right": "-0.002in"}]},
            ],
        )
    ).notices
    assert len(told) == 3
    for words in ("less than the row gap", "less than the least gap", "inside the margin"):
        (said,) = (str(notice.what) for notice in told if words in str(notice.what))
        less, more = _lengths(said)
        assert less < more, said
        assert float(more - less) == pytest.approx(0.002, abs=2e-3)


def test_pieces_that_do_not_fit_are_printed_larger_than_their_place() -> None:
    large = Rectangle(key="block", length=Fraction(50), width=42 + HAIR, count=1, lies=(Lie.ALONG,))
    bought, held = (
        Supply(key="cloth", width=Fraction(42), length=length, count=1, squaring=Fraction(0))
        for length in (None, Fraction(49))
    )
    with pytest.raises(Refusal) as refused:
        plan_cutting([large], [bought])
    _, piece, fabric = _lengths(str(refused.value.problems[0].what))
    assert piece > fabric
    with pytest.raises(Refusal) as refused:
        plan_cutting([large], [held])
    long, piece, longest, fabric = _lengths(str(refused.value.problems[0].what))
    assert (long > longest, piece > fabric) == (True, True)
    short = Run(
        key="strip",
        width=Fraction(2),
        length=Fraction(60),
        loss=Fraction(1),
        least=42 + HAIR,
        lies=(Lie.ACROSS,),
    )
    for run in (short, replace(short, least=Fraction(1), loss=42 + HAIR)):
        with pytest.raises(Refusal) as refused:
            plan_cutting([run], [bought])
        found = _lengths(str(refused.value.problems[0].what))
        assert {float(length) for length in found} == {42, 42.002}

    square = NestPiece(key="O", shape=box(0, 0, 17 + float(HAIR), 20), count=1)
    with pytest.raises(Refusal) as refused:
        lay_strip([square], width=17.0, spacing=0.0)
    _, high, width = _lengths(
        str(refused.value.problems[0].what).replace(" by ", " in by ").replace("in in", "in")
    )
    assert high > width
    with pytest.raises(Refusal) as refused:
        nest_bins([square], width=17.0, height=20.0, spacing=0.0)
    across, down, wide, high = _lengths(str(refused.value.problems[0].what))
    assert across > wide
    assert down == high


def test_borders_that_miss_by_a_hair_say_so() -> None:
    border = {"kind": "rectangles", "width": "2in", "size": "6.002in", "fabrics": ["A", "B"]}
    fabrics = [{"name": "A", "color": "#203040"}, {"name": "B", "color": "#c0a080"}]
    (told,) = (
        str(one.what)
        for one in draft(_design(fabric=fabrics, border=[border])).notices
        if "do not fill every side" in str(one.what)
    )
    whole, *odd = _lengths(told)
    assert odd
    assert all(length != whole for length in odd)

    squares = {"kind": "squares", "width": "3 1/16in", "fabrics": ["A", "B"]}
    with pytest.raises(Refusal) as refused:
        draft(_design(fabric=fabrics, border=[squares]))
    problem = refused.value.problems[0]
    size = _lengths(str(problem.what))[0]
    below, above = _lengths(str(problem.fix).split(";")[0])
    assert below < size < above


def test_a_bound_that_is_offered_is_taken() -> None:
    """1 mm was offered as 1/32 in, which is less and was refused in turn."""
    with pytest.raises(Refusal) as refused:
        _design(lettering={"cap_height": "0.01in"})
    offered = str(refused.value.problems[0].fix).removeprefix("a length from ").split(" to ")
    assert offered == ["1 mm", "3937 in"]
    for bound in offered:
        assert _design(lettering={"cap_height": bound}).lettering.cap_height == parse_length(bound)
