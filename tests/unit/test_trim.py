"""A panel under dense stitching: cut larger, its lines measured from both edges, trimmed before the borders."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pypdfium2
import pytest

from applique.cloth import UseKind
from applique.design import WhenStitched, design_from_mapping
from applique.errors import Refusal
from applique.language import american
from applique.marks import panel_lines
from applique.pattern import Pattern, draft, sketch
from applique.reports import pattern_json, summary_md
from applique.sewing.plan import WhenReason
from applique.sheets.booklet import pattern_pdf
from applique.sheets.guide import placement_guide_pdf
from applique.units import Units
from applique.web.views import numbers_view


def _data(*, stitch: str = "satin", text: str = "Hi", **panel: Any) -> dict[str, Any]:
    return {
        "panel": {"width": "20in", "height": "14in", "fabric": "Oat", **panel},
        "row": [{"text": text, "cap_height": "5in", "font": "Fredoka", "stitch": stitch}],
        "fabric": [{"name": "Oat", "color": "#f2eadb"}, {"name": "Rose", "color": "#802020"}],
        "border": [{"kind": "strip", "width": "3in", "fabrics": ["Rose"]}],
    }


def _pattern(*, units: str = "in", stitching: dict[str, Any] | None = None, **more: Any) -> Pattern:
    data = {**_data(**more), "units": units}
    return draft(design_from_mapping({**data, "stitching": stitching} if stitching else data))


def _pages(pdf: bytes) -> list[str]:
    """The words of each page, white space made one."""
    return [" ".join(page.get_textpage().get_text_range().split()) for page in pypdfium2.PdfDocument(pdf)]


def _inches(text: str) -> Fraction:
    """A printed length: `19 1/2 in`, `5/8 in` or `3.8 cm`."""
    if text.endswith(" cm"):
        return Fraction(text[:-3]) / Fraction("2.54")
    return sum((Fraction(part) for part in text[:-3].split()), Fraction(0))


LENGTH = r"((?:\d+ )?\d+(?:/\d+)? in|[\d.]+ cm)"


def _read(pattern: str, text: str) -> list[Fraction]:
    found = re.search(pattern.replace("{}", LENGTH), text)
    assert found is not None, (pattern, text)
    return [_inches(one) for one in found.groups()]


def test_what_is_dense_is_cut_larger_and_no_letter_moves() -> None:
    """1 in larger under satin, in all: common practice, docs/sources.md, panels under satin stitch."""
    dense, exact = _pattern(), _pattern(trim_after="0in")
    assert [cut.place for cut in dense.panel.cuts] == [cut.place for cut in exact.panel.cuts]
    assert dense.quilt.borders == exact.quilt.borders
    for pattern, width, height in ((dense, "43/2", "31/2"), (exact, "41/2", "29/2")):
        cut = pattern.quilt.panel
        assert (cut.width, cut.height) == (Fraction(width), Fraction(height))
        assert cut.trimmed == (Fraction(41, 2), Fraction(29, 2))
        use = pattern.shopping.use(UseKind.PANEL)
        assert use is not None
        assert {use.strips[0].length, use.strips[0].width} == {cut.width, cut.height}
    assert panel_lines(dense.panel).cut_edge == (-0.75, -0.75, 20.75, 14.75)
    assert panel_lines(dense.panel).trimmed_edge == (-0.25, -0.25, 20.25, 14.25)
    assert panel_lines(exact.panel).trimmed_edge is None


@pytest.mark.parametrize("units", ["in", "cm"])
def test_guide_and_booklet_print_both_edges_and_the_numbers_agree(
    units: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each number is read from the finished sheets. It is 3 cm in a metric design: half of it is whole millimeters."""
    pattern = _pattern(units=units, seam_allowance="1/4in" if units == "in" else "0.7cm")
    panel, near = pattern.panel, Fraction(1, 31) if units == "in" else Fraction(1, 50)
    assert panel.trim == (1 if units == "in" else 30 / Fraction("25.4"))
    half = panel.trim / 2
    baseline = Fraction(float(panel.height) - panel.rows[0].baseline)
    monkeypatch.setattr("applique.sheets.guide._LEAST_SHARE", 2)  # the table has a page of its own
    mark, table, *_ = _pages(placement_guide_pdf(pattern))

    def agree(found: list[Fraction], *true: Fraction) -> None:
        assert len(found) == len(true)
        assert all(abs(one - other) <= near for one, other in zip(found, true, strict=True)), (found, true)

    agree(
        _read(
            r"Cut the panel {} wide and {} high; once the letters are stitched, trim it to {} by {}, "
            r"seam allowance {}\.",
            mark,
        ),
        panel.width + 2 * panel.seam_allowance + panel.trim,
        panel.height + 2 * panel.seam_allowance + panel.trim,
        panel.width + 2 * panel.seam_allowance,
        panel.height + 2 * panel.seam_allowance,
        panel.seam_allowance,
    )
    agree(_read(r"the finished edge, {} inside the cut edge", mark), panel.seam_allowance + half)
    agree(
        _read(r"center line, {} from either cut side edge \({} from either finished edge\)", mark),
        panel.width / 2 + panel.seam_allowance + half,
        panel.width / 2,
    )
    agree(
        _read(r"baseline {} below the cut top edge \({} below the finished edge\)", table),
        baseline + panel.seam_allowance + half,
        baseline,
    )
    booklet = _pages(pattern_pdf(pattern))
    words = " ".join(booklet)
    agree(
        _read(r"is the panel, {} wide and {} high, to trim to {} by {} after stitching", words),
        panel.cut_width,
        panel.cut_height,
        *panel.trimmed,
    )
    half_wide, top, bottom = _read(
        r"side edges {} to the left and to the right of it, the top edge {} above the highest point of "
        r"the words, and the bottom edge {} below their lowest point",
        words,
    )
    ink = panel.rows[0].ink
    agree([2 * half_wide], panel.trimmed[0])
    agree([top], panel.height + panel.seam_allowance - Fraction(ink[3]))
    agree([bottom], Fraction(ink[1]) + panel.seam_allowance)
    width, height, off = _read(
        r"Trim the panel to {} by {} on these lines, seam allowance included: the same off every side, {}, less",
        words,
    )
    agree([width, height, off], *panel.trimmed, half)
    # From the cut edge to the trimmed edge, as the guide has them.
    cut_wide, _, trimmed_wide, _ = _read(
        r"Cut the panel {} wide and {} high; once the letters are stitched, trim it to {} by {},", mark
    )
    agree([off], (cut_wide - trimmed_wide) / 2)
    # Stitch, trim, then sew the borders on: each comes after the one before, the contents in front left out.
    at = 0
    for heading in (
        "Start and stop at the dot",
        "Trim the panel to size",
        "Border 1: a strip",
        "Backing Backing",
    ):
        at = words.index(heading, at)


def test_without_trimming_no_sheet_speaks_of_it() -> None:
    pattern = _pattern(stitch="zigzag")
    assert pattern.panel.trim == 0
    words = " ".join([*_pages(placement_guide_pdf(pattern)), *_pages(pattern_pdf(pattern))])
    assert "Trim the panel" not in words
    assert "finished edge)" not in words
    assert "trim the panel" not in summary_md(pattern).decode()
    assert numbers_view(pattern, american(), settled=False)["trim"] == ""


def test_seams_of_a_larger_panel_miss_the_letters_and_are_said_from_both_edges() -> None:
    """A seam is measured from the cut edge; in the frame of the finished panel it lies further left."""
    pattern = _pattern(width="60in", height="50in", trim_after="4in", text="HIM")
    panel, seam = pattern.panel, pattern.quilt.panel.seam
    assert seam is not None
    assert not seam.crossed
    at = float(seam.places[0]) - float(panel.seam_allowance) - 2.0
    side = 0 if seam.upright else 1
    for cut in panel.cuts:
        low, high = cut.ink[side], cut.ink[side + 2]
        if not seam.upright:
            low, high = float(panel.height) - high, float(panel.height) - low
        assert not low - 0.5 < at < high + 0.5
    cut_edge, finished = _read(
        r"the seam lies {} from the (?:left|top) cut edge, {} from the finished edge",
        " ".join(_pages(pattern_pdf(pattern))),
    )
    assert cut_edge == seam.places[0]
    assert cut_edge - finished == panel.seam_allowance + 2
    across = panel.cut_width if seam.upright else panel.cut_height
    assert sum(pattern.quilt.panel.widths) == across + 2 * panel.seam_allowance


def test_a_panel_is_not_trimmed_once_its_borders_are_on() -> None:
    for when in (WhenStitched.TOP, WhenStitched.QUILTING):
        assert _pattern(stitching={"when": when.value}).panel.trim == 0
        with pytest.raises(Refusal) as refused:
            _pattern(stitching={"when": when.value}, trim_after="1in")
        (problem,) = refused.value.problems
        assert (problem.kind, str(problem.where)) == ("trim-under-borders", "[panel], trim_after")


def test_letters_that_could_be_quilted_in_are_stitched_first_where_the_panel_is_trimmed() -> None:
    plain = _pattern(stitch="straight").stitching
    assert (plain.when, plain.when_reason) == (WhenStitched.QUILTING, WhenReason.ONE_STITCH)
    trimmed = _pattern(stitch="straight", trim_after="1in").stitching
    assert (trimmed.when, trimmed.when_reason) == (WhenStitched.PANEL, WhenReason.TRIMMED)


@pytest.mark.parametrize("when", [None, *WhenStitched])
@pytest.mark.parametrize("stitch", ["satin", "zigzag"])
def test_a_quilt_without_borders_hears_nothing_of_them(stitch: str, when: WhenStitched | None) -> None:
    stated = {} if when is None else {"stitching": {"when": when.value}}
    pattern = draft(design_from_mapping({**_data(stitch=stitch), "border": [], **stated}))
    words = " ".join([*_pages(pattern_pdf(pattern)), summary_md(pattern).decode()])
    assert re.findall(r"(?i)[^.]*border[^.]*", words) == []
    told = "with the quilting" if when is WhenStitched.QUILTING else "before you layer the quilt"
    assert f"Stitch the letters {told}: " in words
    finish = "and finish as" if when is WhenStitched.QUILTING else "and finish the quilt as"
    assert f"{finish} `pattern.pdf` says" in words
    assert ("then stitch, trim the panel to 20 1/2 in by 14 1/2 in" in words) == bool(pattern.panel.trim)


def test_summary_json_and_page_say_what_to_trim_to() -> None:
    pattern = _pattern()
    said = (
        "Once the letters are stitched, trim it to 20 1/2 in by 14 1/2 in, the same off every side: 1/2 in, less what "
        "the stitching drew in."
    )
    summary = summary_md(pattern).decode()
    assert said in summary
    assert "cut it 21 1/2 in (54.6 cm) wide and 15 1/2 in (39.4 cm) high" in summary
    assert "stitch, trim the panel to 20 1/2 in by 14 1/2 in, and add the borders" in summary
    assert numbers_view(pattern, american(), settled=False)["trim"].endswith(said)
    data = json.loads(pattern_json(pattern))
    assert [side["exact"] for side in data["panel"]["cut"]] == ["43/2", "31/2"]
    assert [side["exact"] for side in data["panel"]["trimmed"]] == ["41/2", "29/2"]
    assert [side["exact"] for side in data["quilt"]["panel_cut"]["trimmed"]] == ["41/2", "29/2"]
    (row,) = data["rows"]
    assert row["baseline_below_cut_top"] - row["baseline_below_finished_top"] == pytest.approx(0.75)


def test_the_full_size_guide_shows_the_larger_edge() -> None:
    data = _data()
    pattern = draft(design_from_mapping({**data, "paper": {"full_size_guide": True}}))
    assert pattern.guide is not None
    windows = [tile.window for tile in pattern.guide.tiles]
    assert min(window[0] for window in windows) <= -0.75
    assert max(window[2] for window in windows) >= 20.75


@pytest.mark.parametrize("yardage", [{}, {"washed": True}, {"shrinkage_percent": 4}])
def test_wash_first_is_said_only_where_fabric_is_washed(yardage: dict[str, Any]) -> None:
    pattern = draft(design_from_mapping({**_data(), "yardage": yardage}))
    sheets: list[Callable[[Pattern], bytes]] = [pattern_pdf, placement_guide_pdf]
    words = " ".join(page for sheet in sheets for page in _pages(sheet(pattern)))
    words += summary_md(pattern).decode() + json.dumps(numbers_view(pattern, american(), settled=False))
    assert ("Wash and press" in words) is bool(yardage)
    assert ("shrinks away" in words) is bool(yardage)
    assert "re-wash" not in words


def test_a_trim_that_is_stated_is_that_of_the_sketch_too() -> None:
    design = design_from_mapping(_data(trim_after="2in"))
    assert sketch(design).panel.trim == 2
    assert sketch(replace(design, units=Units.CENTIMETERS)).panel.trim == 2


def test_a_turned_row_says_how_much_less_it_is_from_the_finished_edge(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Seam allowance and half of what is trimmed off: 1/4 + 1/2 in."""
    data = _data()
    data["row"][0]["turn"] = 4
    monkeypatch.setattr("applique.sheets.guide._LEAST_SHARE", 2)  # the table has a page of its own
    _, table, *_ = _pages(placement_guide_pdf(draft(design_from_mapping(data))))
    assert _read(r"down \(from the finished edge {} less\)", table) == [Fraction(3, 4)]
