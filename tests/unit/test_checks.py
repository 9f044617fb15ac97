"""What goes wrong is found where it is, and every cure that is offered cures it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from shapely.geometry import Point

from applique.design import Design, Sewing, Stitch, design_from_mapping, design_text
from applique.panel import on_panel, place_rows
from applique.pattern import draft
from applique.sewing.checks import can_be_cut
from applique.sewing.cures import CureKind, check_design, cured_design, cures, passing_fonts
from applique.sewing.findings import Finding, FindingKind
from applique.sewing.letters import word_features
from applique.sewing.limits import method_limits
from applique.typeset.fonts import open_typeface
from applique.words.cures import cure_said
from applique.words.findings import finding_said, notice_of


def _design(text: str | list[str], **tables: Any) -> Design:
    rows = [text] if isinstance(text, str) else text
    data: dict[str, Any] = {
        "panel": {"width": "80in", "height": "60in"},
        "row": [{"text": row} for row in rows],
    }
    return design_from_mapping({**data, **tables})


def _kinds(design: Design) -> set[FindingKind]:
    return {finding.kind for finding in check_design(design).findings}


def _only(design: Design, kind: FindingKind) -> Finding:
    return next(finding for finding in check_design(design).findings if finding.kind is kind)


@pytest.mark.parametrize(
    ("font", "text", "height", "method"),
    [
        ("Fraunces", "river", "2in", "raw edge"),
        ("Pacifico", "river", "2in", "raw edge"),
        ("Pacifico", "hello", "3in", "turned edge"),
        ("Alfa Slab One", "same", "2in", "raw edge"),
        ("Montserrat", "edge", "3in", "turned edge"),
    ],
)
def test_what_is_known_to_fail_fails(font: str, text: str, height: str, method: str) -> None:
    """Thin display strokes at 2 in, Pacifico at 3 in for turned edges: common practice, no source."""
    design = _design(text, lettering={"font": font, "cap_height": height}, sewing={"method": method})
    assert _kinds(design) & {FindingKind.STROKE, FindingKind.SLOT, FindingKind.COUNTER}


def test_large_plain_letters_pass() -> None:
    assert not check_design(_design("HOME", lettering={"font": "Fredoka", "cap_height": "7in"})).findings


def test_a_finding_stands_on_the_letter_that_it_names() -> None:
    design = _design("river", lettering={"font": "Fraunces", "cap_height": "2in"})
    finding = _only(design, FindingKind.STROKE)
    row = place_rows(design).rows[0]
    for spot in finding.spots:
        shapes = [on_panel(cut) for cut in row.cuts if cut.text == spot.text]
        assert min(shape.distance(Point(spot.at)) for shape in shapes) < 0.02
    assert finding.measure == min(spot.measure for spot in finding.spots)
    assert finding.measure < finding.limit
    assert f"“{finding.spots[0].text}”" in str(finding_said(finding, design.units))


def test_every_limit_can_be_set() -> None:
    loose = {
        "least_stroke": "0in",
        "least_counter": "0in",
        "least_slot": "0in",
        "least_clear": "0in",
        "least_point": 0,
    }
    design = _design("river", lettering={"font": "Fraunces", "cap_height": "1in"}, sewing=loose)
    assert not _kinds(design)
    strict = _design(
        "HOME", lettering={"font": "Fredoka", "cap_height": "7in"}, sewing={"least_stroke": "2in"}
    )
    assert _kinds(strict) == {FindingKind.STROKE}


def test_a_wide_satin_stitch_must_fit_inside_the_stroke() -> None:
    lettering = {"font": "Fredoka", "cap_height": "2in"}
    narrow = {"method": "machine cut"}
    assert not _kinds(_design("HILL", lettering=lettering, sewing=narrow, stitching={"stitch": "satin"}))
    wide = _design("HILL", lettering=lettering, sewing=narrow, stitching={"stitch": "satin", "width": "7mm"})
    assert FindingKind.STROKE in _kinds(wide)
    assert "satin stitch" in str(finding_said(_only(wide, FindingKind.STROKE), wide.units))


def test_a_column_of_satin_has_a_greatest_width() -> None:
    """At most 7 to 10 mm (graphics-pro.com, mcgraphixinc.com)."""
    design = _design(
        "I",
        lettering={"font": "Fredoka", "cap_height": "9in"},
        stitching={"stitch": "satin", "width": "12mm"},
    )
    finding = _only(design, FindingKind.STITCH)
    cure = cures(check_design(design), finding)[0]
    assert FindingKind.STITCH not in _kinds(cure.design)


def test_letters_moved_together_and_to_the_seam_are_found_and_cured() -> None:
    line = {"text": "HILL", "nudge": [{"letter": 2, "right": "-0.9in"}], "right": "31in"}
    design = _design("x", lettering={"font": "Fredoka", "cap_height": "6in"}, row=[line])
    assert {FindingKind.CLEAR, FindingKind.SEAM} <= _kinds(design)
    mended, taken, given_up = cured_design(design)
    assert not given_up
    assert {finding.kind for finding, _ in taken} >= {FindingKind.CLEAR, FindingKind.SEAM}
    assert not check_design(mended).findings


def test_low_contrast_has_three_offers() -> None:
    fabrics = [
        {"name": "Chalk", "color": "#eeeeea"},
        {"name": "Linen", "color": "#ddd8cc"},
        {"name": "Night", "color": "#1d2838"},
    ]
    design = _design(
        "HOME",
        lettering={"font": "Fredoka", "cap_height": "7in", "fabric": "Linen", "least_gap": "3/4in"},
        fabric=fabrics,
        panel={"width": "60in", "height": "20in", "fabric": "Chalk"},
    )
    finding = _only(design, FindingKind.CONTRAST)
    offered = cures(check_design(design), finding)
    assert len(offered) == 3
    assert [(cure.kind, cure.name) for cure in offered] == [
        (CureKind.DARKER_THREAD, ""),
        (CureKind.OUTLINE, "Night"),
        (CureKind.FABRIC, "Night"),
    ]
    assert offered[0].design.row[0].stitch is Stitch.SATIN
    assert str(cure_said(offered[0])) == "a satin stitch in a darker thread in row 1"
    for cure in offered:
        assert FindingKind.CONTRAST not in _kinds(cure.design)


def test_words_too_small_for_their_distance_are_found() -> None:
    """At the limit 1 in of letter for 25 ft, 300 times its height: Penn State for the USSC, 1998."""
    design = _design(
        "HOME", lettering={"font": "Fredoka", "cap_height": "2in"}, sewing={"viewing_distance": "80ft"}
    )
    finding = _only(design, FindingKind.READING)
    assert finding.limit == pytest.approx(80 * 12 / 300)
    assert FindingKind.READING not in _kinds(cures(check_design(design), finding)[0].design)


def test_the_least_height_is_the_least() -> None:
    design = _design("river", lettering={"font": "Fraunces", "cap_height": "2in"})
    cure = cures(check_design(design), _only(design, FindingKind.STROKE))[0]
    height = cure.design.row[0].cap_height
    assert isinstance(height, Fraction)
    lower = replace(cure.design, row=(replace(cure.design.row[0], cap_height=height - height / 20),))
    assert _kinds(lower)


def test_a_weight_is_offered_at_which_strokes_and_slots_pass() -> None:
    design = _design(
        "same",
        lettering={"font": "Montserrat", "cap_height": "3in", "axes": {"weight": 900}},
        sewing={"least_slot": "0.2in"},
    )
    offered = cures(check_design(design), _only(design, FindingKind.SLOT))
    weights = [cure for cure in offered if cure.kind is CureKind.WEIGHT]
    assert weights
    assert weights[0].design.row[0].axes is not None
    assert weights[0].design.row[0].axes["wght"] < 900


def test_fonts_that_pass_do_pass() -> None:
    design = _design("river", lettering={"font": "Fraunces", "cap_height": "3in"})
    fonts = passing_fonts(design, 1)
    assert "Fraunces" not in fonts
    assert "Baloo 2" in fonts


def test_the_stroke_of_a_plain_i_is_its_width(dejavu_bold: str) -> None:
    """The I of DejaVu Sans Bold is a bar 385 units wide, its H 1493 high: 25.79 %, by fontTools' own bounds."""
    face = open_typeface(dejavu_bold)
    assert word_features("I", face)[0].stroke.width == pytest.approx(0.2579, abs=0.003)


def test_thin_light_fonts_are_told_from_ones_that_can_be_cut() -> None:
    bold, thin = open_typeface("Montserrat"), open_typeface("Montserrat", {"weight": 100})
    limits = method_limits(Sewing())
    assert can_be_cut("HOME", bold, Fraction(6), limits)
    assert not can_be_cut("HOME", thin, Fraction(6), limits)
    assert not can_be_cut("HOME", bold, Fraction(1), limits)


def test_the_pattern_carries_the_findings_as_notices() -> None:
    pattern = draft(_design("river", lettering={"font": "Fraunces", "cap_height": "2in"}))
    assert pattern.findings
    units = pattern.design.units
    risky = [risk for risk in pattern.risks if risk.finding is not None]
    assert tuple(risk.finding for risk in risky) == pattern.findings
    assert [risk.notice for risk in risky] == [notice_of(finding, units) for finding in pattern.findings]
    assert pattern.notices == tuple(risk.notice for risk in pattern.risks)


def test_a_cured_design_is_a_file_like_any_other() -> None:
    import tomllib

    design = _design("river", lettering={"font": "Pacifico", "cap_height": "2in"})
    mended, taken, _ = cured_design(design)
    assert taken
    assert design_from_mapping(tomllib.loads(design_text(mended))) == mended


def test_gaps_between_joined_words_are_measured_on_the_cloth() -> None:
    """In a connected script the boxes of neighbors overlap where the letters do not."""
    design = _design("Follow", lettering={"font": "Pacifico", "cap_height": "7in"})
    gap = check_design(design).readings[0].gap
    assert gap is not None
    assert gap > 0


def test_the_gap_of_a_row_is_the_middle_one_within_its_words() -> None:
    """Of two gaps the wider one was taken; the space between words is none. Measured between the letters' shapes."""
    lettering = {"font": "Fredoka", "cap_height": "4in"}
    design = _design("HLH HI", lettering=lettering)
    (row,) = draft(design).panel.rows
    shapes = [on_panel(cut) for cut in row.cuts]
    gaps = [first.distance(second) for first, second in pairwise(shapes)]
    words = [gaps[0], gaps[1], gaps[3]]
    assert gaps[2] > 2 * max(words)
    gap = check_design(design).readings[0].gap
    assert gap == pytest.approx(sorted(words)[1] / float(row.cap_height))
    two = check_design(_design("HLH", lettering=lettering)).readings[0].gap
    assert two == pytest.approx((words[0] + words[1]) / 2 / float(row.cap_height))
    assert words[0] != pytest.approx(words[1])


@pytest.mark.parametrize(
    ("text", "around", "said"),
    [
        ("AVE", "letters", "the outlines behind “AV” lie over each other; letters are nearer"),
        ("A V E", "words", "the outlines behind “A V” lie over each other; words are nearer"),
    ],
)
def test_outlines_that_meet_are_called_by_what_they_lie_behind(text: str, around: str, said: str) -> None:
    """Two words ran together as “thetide”, and were called letters."""
    lettering = {"font": "Montserrat", "cap_height": "2in", "outline": "1in"}
    design = _design(text, lettering=lettering, outline={"around": around})
    what = str(finding_said(_only(design, FindingKind.OUTLINES), design.units))
    assert what.startswith(said)
    assert what.endswith(("; so do VE", "; so do V E"))
