"""A second method that a design offers: a booklet and templates of its own, each consistent with itself."""

from __future__ import annotations

import pickle
import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Any, Final

import pytest

from applique import for_customers, pack
from applique.advice import advise
from applique.design import (
    Design,
    Method,
    PaperSize,
    Stitch,
    design_data,
    design_from_mapping,
    in_second_method,
)
from applique.errors import Refusal
from applique.instructions import ChapterKind, Edition, Instructions, OtherWay, Table, instructions_of
from applique.nesting import Nester
from applique.pattern import Pattern, draft, renest
from applique.words.instructions.either_method import tools_said
from tests.chapters import said_in

LAP: Final[dict[str, Any]] = {
    "title": "Lap",
    "row": [{"text": "LAP"}],
    "panel": {"width": "30in", "height": "16in", "fabric": "Oat"},
    "fabric": [{"name": "Oat", "color": "#e8dfc8"}, {"name": "Ink", "color": "#203040"}],
    "lettering": {"font": "Rubik", "cap_height": "9in", "fabric": "Ink"},
    "fusible": {"width": "12in"},
    "stitching": {"stitch": "satin"},
}


def lap(**sewing: str) -> Design:
    return design_from_mapping({**LAP, "sewing": {"also": "turned edge", **sewing}})


@pytest.fixture(scope="module")
def both() -> Pattern:
    return draft(lap())


def needed(pattern: Pattern, other: Pattern, file: str, edition: Edition) -> tuple[str, list[list[str]]]:
    """What you need, and the table of what differs."""
    book = instructions_of(pattern, edition=edition, other_way=OtherWay(pattern=other, file=file))
    (chapter,) = (one for one in book.chapters if one.kind is ChapterKind.NEEDED)
    tables = [one for one in chapter.blocks if isinstance(one, Table)]
    (table,) = [one for one in tables if str(one.columns[0][0]) == "what differs"]
    rows = [[pattern.speech.field(cell) for cell in row] for row in table.rows]  # type: ignore[arg-type]
    return said_in(chapter), [[str(head) for head, _ in table.columns], *rows]


def test_the_second_is_the_same_quilt_drafted_in_its_own_method(both: Pattern) -> None:
    """Freezer paper is sold 18 in wide: published, docs/sources.md, freezer paper."""
    second = both.second
    assert second is not None and second.second is None
    alone = draft(
        design_from_mapping({**LAP, "fusible": {"width": "18in"}, "sewing": {"method": "turned edge"}})
    )
    assert second.shopping == alone.shopping and second.fusible == alone.fusible
    assert both.fusible.usable_width == Fraction(12) and second.fusible.usable_width == 18
    assert all(template.turned is not None for template in second.templates)
    back = in_second_method(lap(method="turned edge", also="raw edge"))
    assert back is not None and back.fusible.width == 17
    fused = in_second_method(lap(also="machine cut"))
    assert fused is not None and fused.fusible.width == 12  # both take web: hers


def test_a_design_without_one_is_as_it_was(both: Pattern) -> None:
    plain = design_from_mapping(LAP)
    assert in_second_method(plain) is None
    assert "sewing" not in design_data(plain)
    assert design_data(lap())["sewing"] == {"also": "turned edge"}


def test_a_machine_with_a_blanket_stitch_is_a_tool_of_the_method_that_takes_it() -> None:
    blanket = "sewing machine with a blanket stitch"
    for method in Method:
        assert str(tools_said(method, [Stitch.BLANKET])).endswith(blanket)
        assert blanket not in str(tools_said(method, [Stitch.STRAIGHT]))


def test_both_stand_side_by_side_with_the_amounts_of_each(both: Pattern) -> None:
    assert both.second is not None
    for one, two in ((both, both.second), (both.second, both)):
        words, (head, *rows) = needed(one, two, "the-other.pdf", Edition.CUSTOMER)
        assert "the-other.pdf" in words
        fused, turned = "fused letters cut by hand", "letters with turned edges, on freezer paper"
        assert head[1:] == ([fused, turned] if one is both else [turned, fused])
        differ = {name: cells for name, *cells in rows}
        # Both take a hand needle; a machine with a blanket stitch was left out.
        assert "needle" not in " ".join(differ["tools"])
        assert differ["tools"][0 if one is both else 1] == "sewing machine"
        for column, pattern in enumerate((one, two)):
            yards = Fraction(pattern.fusible.buy) / 36
            said = re.match(
                r"(fusible web|freezer paper), (\d+) in wide: (?:(\d+) )?(?:(\d+/\d+) )?yd",
                differ["web or paper"][column],
            )
            assert said is not None
            assert said[1] == ("fusible web" if pattern is both else "freezer paper")
            assert int(said[2]) == pattern.fusible.usable_width
            assert Fraction(said[3] or 0) + Fraction(said[4] or 0) == yards
        assert "wash-away glue" in differ["tools"][0 if two is both else 1]


def test_fabric_is_only_listed_where_it_differs(both: Pattern) -> None:
    """Turned edges take their allowance all around: of a large letter that is another step of the shop."""
    assert both.second is not None
    _, (_, *rows) = needed(both, both.second, "x.pdf", Edition.CUSTOMER)
    listed = {row[0] for row in rows}
    lengths = [{buy.fabric.name: buy.buy for buy in one.shopping.cloth} for one in (both, both.second)]
    for name in lengths[0]:
        assert (name in listed) == (lengths[0][name] != lengths[1][name])


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[tuple[Method, str]]]:
    """For each set of instructions that is written, its method and the file that it names for the other."""
    found: list[tuple[Method, str]] = []

    def told(pattern: Pattern, *, other_way: OtherWay | None = None, **others: Any) -> Instructions:
        assert other_way is not None
        found.append((pattern.design.sewing.method, str(other_way.file)))
        return Instructions(method=pattern.design.sewing.method, edition=Edition.CUSTOMER, chapters=())

    def drawn(*_: Any, **__: Any) -> bytes:
        return b""

    for room in (for_customers, pack):
        monkeypatch.setattr(room, "instructions_of", told)
        for name in dir(room):
            if name.endswith(("_pdf", "_html", "_svg", "_png", "_md")):
                monkeypatch.setattr(room, name, drawn)
        monkeypatch.setattr(room, "cut_files", lambda _: {"ink.svg": b""})
    yield found


def test_a_customer_gets_a_booklet_and_templates_for_each(
    both: Pattern, made: list[tuple[Method, str]]
) -> None:
    files = for_customers.customers_files(dict.fromkeys(for_customers.PAPERS_PRINTED, both))
    for method in ("fused-by-hand", "turned-edges"):
        for ending in (
            "letter.pdf",
            "A4.pdf",
            "templates-letter.pdf",
            "templates-A4.pdf",
            "sew-along.html",
            "cut-files.zip",
        ):
            assert f"lap-{method}-{ending}" in files
    assert len(files) == 14  # one page to color, and the record
    assert {file for method, file in made if method is Method.RAW_EDGE} == {
        "lap-turned-edges-letter.pdf",
        "lap-turned-edges-A4.pdf",
        "lap-turned-edges-sew-along.html",
    }
    assert {file for method, file in made if method is Method.TURNED_EDGE} < set(files)


def test_the_makers_folder_has_the_second_in_a_folder_of_its_own(
    both: Pattern, made: list[tuple[Method, str]]
) -> None:
    files = pack.pack_files(both)
    for name in (
        "pattern.pdf",
        "sew-along.html",
        "templates-right-reading.pdf",
        "nesting.pdf",
        "cut-files/ink.svg",
    ):
        assert name in files and f"turned-edges/{name}" in files
    assert "turned-edges/summary.md" not in files
    assert set(made) == {
        (Method.RAW_EDGE, "turned-edges/pattern.pdf"),
        (Method.TURNED_EDGE, "pattern.pdf in the folder above"),
    }


def test_what_the_second_risks_is_said_of_it_and_stops_what_must_be_fixed() -> None:
    """What is cut in fabric at 2 in is too small to turn."""
    small = {**LAP, "row": [{"text": "RAM"}], "lettering": {**LAP["lettering"], "cap_height": "2in"}}
    pattern = draft(design_from_mapping({**small, "sewing": {"also": "turned edge"}}))
    assert pattern.second is not None
    own = {str(risk.notice) for risk in pattern.risks}
    marked = [
        notice for notice in pattern.notices if str(notice.what).startswith("letters with turned edges")
    ]
    assert len(marked) == len([risk for risk in pattern.second.risks if str(risk.notice) not in own]) > 0
    assert {one.notice for one in advise(pattern)} == set(pattern.notices)
    again = renest(pattern, nester=Nester())
    assert again.second is not None and again.second.shopping == pattern.second.shopping
    assert pickle.loads(pickle.dumps(pattern)).second is not None
    assert set(pattern.second.searched) <= set(pattern.searched)


def test_a_refusal_of_the_second_says_which_method_it_is() -> None:
    """Letters 11 in apart lie on each other only with 3 in of web and fabric around each."""
    spots = [
        {"letter": number, "along": along, "across": "1in"} for number, along in ((1, "1in"), (2, "12in"))
    ]
    design = {
        **LAP,
        "lettering": {**LAP["lettering"], "cap_height": "6in"},
        "row": [{"text": "II", "fussy": spots}],
        "fusible": {"rough_cut": "3in"},
        "sewing": {"method": "turned edge", "also": "raw edge"},
    }
    with pytest.raises(Refusal, match="fused letters cut by hand: the fussy cuts from Ink lie on each other"):
        draft(design_from_mapping(design))


def test_a_second_method_that_is_the_first_is_refused() -> None:
    with pytest.raises(Refusal, match="is the method that the pattern is for already"):
        lap(method="turned edge")


def test_each_paper_has_its_second(both: Pattern) -> None:
    sold = for_customers.customers_design(lap(), PaperSize.A4)
    assert sold.sewing.also is Method.TURNED_EDGE
    second = in_second_method(sold)
    assert second is not None and second.paper.size is PaperSize.A4
