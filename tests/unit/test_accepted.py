"""What a maker means so is hers to know, stays out of what she prints, and is back once it measures something else."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from applique.advice import advise, standing
from applique.design import Accepted, Design, RiskKind, accepted_text, design_from_mapping, risk_kind
from applique.design.reading import words_of_design
from applique.errors import Refusal
from applique.pattern import Pattern, draft
from applique.reports import summary_md
from applique.sewing.cures import cured_design
from applique.sewing.findings import FindingKind
from applique.sheets import pattern_pdf, placement_guide_pdf, templates_pdf
from applique.words.accepted import Risk, Standing, acceptable, acceptance_said, is_accepted, together
from applique.words.findings import notice_of

PACKAGE = Path(__file__).parents[2] / "applique"
THIN: dict[str, Any] = {
    "panel": {"width": "24in", "height": "24in"},
    "lettering": {"font": "Fredoka", "cap_height": "1 1/4in"},
    "stitching": {"stitch": "satin", "width": "6mm"},
    "row": [{"text": "HI"}, {"text": "TIL"}],
    "sewing": {"method": "machine cut", "least_clear": "0in", "least_point": 0},
}
"""Strokes too thin for the stitch in two rows, and nothing else."""
WHY = "sewn three times by now"


def _accepting(data: dict[str, Any], *entries: Accepted) -> Design:
    tables = "".join(accepted_text(replace(entry, why=WHY)) for entry in entries)
    return design_from_mapping({**data, **words_of_design(tomllib.loads(tables))})


def _entries(pattern: Pattern) -> list[Accepted]:
    found = [acceptable(risk, pattern.design) for risk in pattern.risks]
    return [entry for entry in found if entry is not None]


@pytest.fixture(scope="module")
def thin() -> Pattern:
    pattern = draft(design_from_mapping(THIN))
    assert {risk.notice.kind for risk in pattern.risks} == {"thin stroke"}
    return pattern


@pytest.fixture(scope="module")
def accepted(thin: Pattern) -> Pattern:
    return draft(_accepting(THIN, *_entries(thin)))


def test_what_is_accepted_is_listed_with_its_reason_and_counts_no_more(
    thin: Pattern, accepted: Pattern
) -> None:
    assert accepted.notices == ()
    assert advise(accepted) == ()
    assert [one.standing for one in accepted.accepted] == [Standing.HOLDS, Standing.HOLDS]
    said = [str(words) for one in accepted.accepted for words in acceptance_said(one)]
    assert said == [
        f"row {risk.notice.where.row}: {risk.notice.what}; meant so: {WHY}" for risk in thin.risks
    ]
    summary = summary_md(accepted).decode("utf-8")
    assert all(f"- {words}" in summary for words in said)


def test_no_sheet_has_what_is_accepted(thin: Pattern, accepted: Pattern) -> None:
    def printed(pattern: Pattern) -> str:
        files = pattern_pdf(pattern), placement_guide_pdf(pattern), templates_pdf(pattern, mirrored=False)
        pages = [page for file in files for page in pypdfium2.PdfDocument(file)]
        return " ".join(page.get_textpage().get_text_bounded() for page in pages)

    assert "thinnest stroke" in printed(thin)
    assert not {"thinnest stroke", WHY} & set(re.findall(f"thinnest stroke|{WHY}", printed(accepted)))


@pytest.mark.parametrize(
    ("changed", "back"),
    [
        ({"row": [{"text": "HIM"}, {"text": "TIL"}]}, 1),
        ({"row": [{"text": "HI", "cap_height": "1 5/8in"}, {"text": "TIL"}]}, 1),
        ({"row": [{"text": "HI"}, {"text": "TIL", "font": "Montserrat"}]}, 2),
        ({"row": [{"text": "HI"}, {"text": "TIL", "stitch_width": "7mm"}]}, 2),
    ],
    ids=["letter", "size", "font", "stitch"],
)
def test_it_is_back_once_it_measures_something_else(
    thin: Pattern, changed: dict[str, Any], back: int
) -> None:
    """In its row alone; the other stays accepted."""
    pattern = draft(_accepting({**THIN, **changed}, *_entries(thin)))
    assert {risk.notice.where.row for risk in pattern.risks} == {back}
    other = pattern.accepted[2 - back]
    assert other.standing is Standing.HOLDS
    assert {risk.notice.where.row for risk in other.risks} == {3 - back}


def test_one_entry_accepts_every_place_and_no_other(thin: Pattern) -> None:
    (entry,) = together(_entries(thin))
    assert entry.words == ""
    assert draft(_accepting(THIN, entry)).risks == ()
    more = {**THIN, "row": [*THIN["row"], {"text": "E", "cap_height": "1in"}]}
    pattern = draft(_accepting(more, entry))
    assert [risk.notice.where.row for risk in pattern.risks] == [3]
    assert [len(one.risks) for one in pattern.accepted] == [2]


def test_an_entry_of_one_row_is_of_no_other(thin: Pattern) -> None:
    """Even where the other has nothing but the same letter of the same size."""
    first, _ = _entries(thin)
    pattern = draft(_accepting({**THIN, "row": [{"text": "HI"}, {"text": "I"}]}, first))
    assert [risk.notice.where.row for risk in pattern.risks] == [2]


def test_another_letter_that_measures_the_same_is_another_finding(thin: Pattern) -> None:
    (entry,) = together(_entries(thin))
    other = draft(_accepting({**THIN, "row": [{"text": "HI"}, {"text": "TILE"}]}, entry))
    (risk,) = other.risks
    found = acceptable(risk, other.design)
    assert found is not None
    assert "L 1/4 in < 11/32 in" in entry.measured
    assert set(found.measured) - set(entry.measured) == {"E 1/4 in < 11/32 in"}


def test_an_entry_of_nothing_is_said_and_not_refused(thin: Pattern) -> None:
    entries = _entries(thin)
    large = {**THIN, "lettering": {"font": "Fredoka", "cap_height": "4in"}}
    gone, other = draft(_accepting(large, *entries)).accepted
    assert (gone.standing, other.standing) == (Standing.GONE, Standing.GONE)
    (said,) = acceptance_said(gone)
    assert str(said) == "number 1, thin stroke in “HI”: no longer needed"
    changed = draft(_accepting(THIN, replace(entries[0], measured=("H 1/2 in < 1 in",)))).accepted[0]
    assert changed.standing is Standing.CHANGED
    assert "measures something else now" in str(acceptance_said(changed)[0])


def test_a_notice_that_is_no_finding_is_accepted_with_its_numbers() -> None:
    data = {
        "panel": {"width": "24in", "height": "16in"},
        "row": [{"text": "OO", "cap_height": "4in", "nudge": [{"letter": 2, "right": "-1/4in"}]}],
        "lettering": {"font": "Fredoka", "least_gap": "1/2in"},
    }
    pattern = draft(design_from_mapping(data))
    assert [risk.notice.kind for risk in pattern.risks] == ["letters-close"]
    entries = _entries(pattern)
    assert "1/4 in" in entries[0].measured[0]
    again = draft(_accepting(data, *entries))
    assert again.risks == () == again.sketch.notices
    nearer = {**data["row"][0], "nudge": [{"letter": 2, "right": "-3/8in"}]}  # type: ignore[index]
    assert draft(_accepting({**data, "row": [nearer]}, *entries)).risks != ()


def test_braces_and_quotes_of_her_words_survive_the_file() -> None:
    entry = Accepted(
        finding=RiskKind.STROKE, words='{I} "so"', measured=("{ 1/8 in < 1/4 in", "…"), why="a {b} “c”"
    )
    (read,) = words_of_design(tomllib.loads(accepted_text(entry)))["accepted"]
    assert Accepted(**{**read, "finding": entry.finding, "measured": tuple(read["measured"])}) == entry


@pytest.mark.parametrize("kind", ["leftovers-too-small-for-back", "stated-number-short"])
def test_what_must_be_fixed_cannot_be_accepted(kind: str) -> None:
    with pytest.raises(Refusal) as refused:
        design_from_mapping({"row": [{"text": "I"}], "accepted": [{"finding": kind, "why": "so"}]})
    (problem,) = refused.value.problems
    assert str(problem).startswith(f"accepted 1, finding: “{kind}” must be fixed and cannot be accepted")


def test_a_reason_is_asked_for() -> None:
    with pytest.raises(Refusal, match="accepted 1, why: has no words"):
        design_from_mapping({"row": [{"text": "I"}], "accepted": [{"finding": "thin stroke", "why": ""}]})


def test_what_stands_in_the_way_of_a_customer_is_what_must_be_fixed() -> None:
    """And never what she may mean so: of this design a back that its leftovers do not fill and a stated number, and no
    stroke."""
    pattern = draft(
        design_from_mapping(
            {
                **THIN,
                "fabric": [{"name": "Rose", "color": "#802020", "usable_width": "40in"}],
                "backing": {"kind": "leftovers"},
                "stated": [{"part": "binding", "strips": 1}],
            }
        )
    )
    assert {risk.notice.kind for risk in pattern.risks} >= {"thin stroke"}
    assert [notice.kind for notice in standing(pattern)] == [
        "leftovers-too-small-for-back",
        "stated-number-short",
    ]
    held_back = {"leftovers-too-small-for-back"}
    assert {one.notice.kind for one in advise(pattern) if one.accept is None} == held_back


def test_a_mended_design_leaves_alone_what_is_meant_so(thin: Pattern) -> None:
    first, _ = _entries(thin)

    def meant(finding: Any, design: Design) -> bool:
        return is_accepted(Risk(notice=notice_of(finding, design.units), finding=finding), design)

    design = _accepting(THIN, first)
    mended, taken, _ = cured_design(design, accepted=meant)
    assert {finding.row for finding, _ in taken} == {2}
    assert mended.row[0] == design.row[0]


def test_every_kind_of_notice_has_a_name_to_accept_it_by() -> None:
    """Read from the sources, so that a new notice is not forgotten."""
    kinds = {kind.value for kind in FindingKind}
    for path in PACKAGE.rglob("*.py"):
        source = path.read_text("utf-8")
        kinds |= set(re.findall(r"\bNotice\(\s*kind=\"([\w-]+)\"", source))
        kinds |= set(re.findall(r"Verdict\.(?:SHORT|NOTHING): \"([\w-]+)\"", source))
    assert len(kinds) > 30
    assert {kind for kind in kinds if risk_kind(kind) is None} == set()
    assert {kind.value for kind in RiskKind} == kinds
