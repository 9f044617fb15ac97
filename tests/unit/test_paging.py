"""Template pages: whole letters, labels that stay with them, tiles for the large ones."""

from __future__ import annotations

import gettext
from typing import Any

import pytest
from babel import Locale
from shapely import affinity
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from applique.design import Paper, PaperSize, PrintCorrection, design_from_mapping
from applique.errors import Refusal
from applique.language import Speech
from applique.language import speech as speaking
from applique.paging import PAPER_INCHES, LabelSpot, packing, sheet_frame
from applique.pattern import Pattern, draft
from applique.typeset.labels import label_width


def _pattern(*texts: str, **tables: Any) -> Pattern:
    lettering = {"font": "Fredoka", **tables.pop("lettering", {})}
    panel = {"width": "60in", "height": "60in", **tables.pop("panel", {})}
    lines = [{"text": text} for text in texts]
    return draft(design_from_mapping({"row": lines, "lettering": lettering, "panel": panel, **tables}))


# Points, 72 an inch: A4 and A3 from ISO 216, letter and tabloid from ANSI/ASME Y14.1, legal from memory.
PAPER_POINTS = {
    PaperSize.A4: (595.2756, 841.8898),
    PaperSize.A3: (841.8898, 1190.5512),
    PaperSize.LETTER: (612, 792),
    PaperSize.TABLOID: (792, 1224),
    PaperSize.LEGAL: (612, 1008),
}


@pytest.mark.parametrize("size", list(PaperSize))
def test_paper_sizes(size: PaperSize) -> None:
    assert [float(side) * 72 for side in PAPER_INCHES[size]] == pytest.approx(PAPER_POINTS[size], abs=1e-3)


def test_rules_measure_six_inches_and_150_mm_on_every_paper() -> None:
    for size in PaperSize:
        frame = sheet_frame(Paper(size=size), PrintCorrection())
        assert frame.rule_inches == (6, 6)
        assert frame.rule_mm == (150, 150)


def test_a_correction_leaves_less_room_on_a_page_that_prints_too_small() -> None:
    frame = sheet_frame(
        Paper(), design_from_mapping({"row": [{"text": "A"}], "print": {"scale_x": "5.64in"}}).print
    )
    true = sheet_frame(Paper(), PrintCorrection())
    assert frame.paper_per_true_x == pytest.approx(6 / 5.64)
    assert frame.room[0] == pytest.approx(true.room[0] * 0.94)
    assert frame.room[1] == true.room[1]


@pytest.mark.parametrize("paper", [{"margin": "3in"}, {"overlap": "6in"}])
def test_paper_without_room_is_refused(paper: dict[str, str]) -> None:
    with pytest.raises(Refusal):
        _pattern("A", paper=paper)


def test_one_template_for_each_shape_or_one_for_each_letter() -> None:
    once = _pattern("OTTO", lettering={"cap_height": "4in"})
    each = _pattern("OTTO", lettering={"cap_height": "4in"}, paper={"copies": "each"})
    assert sum(len(page.items) for page in once.sheets.pages) == 2
    assert sum(len(page.items) for page in each.sheets.pages) == 4
    assert once.templates[0].uses[0].count == 2


def _on_page(pattern: Pattern, item: Any) -> BaseGeometry:
    shape = pattern.template(item.template).shape
    return affinity.translate(
        affinity.rotate(shape, item.place.turn_deg, origin=(0, 0)), item.place.x, item.place.y
    )


@pytest.mark.parametrize("text", ["ROW STEADY HOME", "jingle & quay", "Wi'll"])
def test_whole_letters_lie_inside_the_page_and_apart(text: str) -> None:
    pattern = _pattern(text, lettering={"cap_height": "3in"}, panel={"width": "90in"})
    room = box(0, 0, *pattern.sheets.frame.room).buffer(1e-6)
    placed = [[_on_page(pattern, item) for item in page.items] for page in pattern.sheets.pages]
    assert sum(map(len, placed)) == len(pattern.templates)
    for shapes in placed:
        assert all(room.covers(shape) for shape in shapes)
        for index, shape in enumerate(shapes):
            for other in shapes[index + 1 :]:
                assert shape.distance(other) >= 0.2 - 1e-6


def test_a_label_lies_on_the_letter_or_clear_of_it() -> None:
    pattern = _pattern("ROWing", lettering={"cap_height": "5in"})
    insides = []
    for page in pattern.sheets.pages:
        for item in page.items:
            shape, spot = pattern.template(item.template).shape, box(*item.label.box)
            insides.append(item.label.inside)
            assert shape.covers(spot) if item.label.inside else not shape.intersects(spot)
    assert any(insides)


def test_small_letters_carry_their_label_beside_them() -> None:
    pattern = _pattern("row", lettering={"cap_height": "1in"})
    assert not any(item.label.inside for page in pattern.sheets.pages for item in page.items)


def _labels(pattern: Pattern) -> list[LabelSpot]:
    return [item.label for page in pattern.sheets.pages for item in page.items]


@pytest.mark.long
def test_a_letter_of_many_rows_counts_them_and_stays_a_small_template() -> None:
    """Every row of a long poem named on the label made small letters wider than a page, each a tile of its own."""
    panel = {"width": "40in", "height": "200in"}
    pattern = _pattern(*["oo"] * 67, lettering={"cap_height": "1in"}, panel=panel)
    assert not pattern.sheets.tiled
    (label,) = _labels(pattern)
    assert label.lines[:2] == ("1 · o", "small o")
    assert "cut 134 · " in label.lines[2]
    assert label.lines[-1] == "in 67 rows"
    few = _pattern("ox", "o", "o", lettering={"cap_height": "1in"})
    assert [label.lines[-1] for label in _labels(few)] == ["rows 1, 2, 3", "row 1"]


class _Twice(gettext.NullTranslations):
    """A language made up for this test: everything is said twice."""

    def gettext(self, message: str) -> str:
        return f"{message} {message}"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


def test_labels_and_stand_ins_are_said_in_the_language_of_the_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    """No line of ours stays American, and none is wider than a label may be."""
    twice = Speech(tag="tlh", locale=Locale.parse("de"), texts=_Twice())
    monkeypatch.setattr(speaking, "_spoken", lambda tag: twice if tag == "tlh" else None)
    pattern = _pattern(
        *["oo"] * 6, language="tlh", lettering={"outline": "1/4in", "cap_height": "2in", "row_gap": "1in"}
    )
    letter, outline = sorted(_labels(pattern), key=lambda label: len(label.lines))
    letters, rows = "cut 12 · Letters Letters", "rows 1, 2, 3, 4, 5, 6"
    assert " ".join(letter.lines) == f"1 · o 1 · o small o small o {letters} {letters} {rows} {rows}"
    assert " ".join(outline.lines).startswith(
        "2 · o 2 · o outline outline small o small o cut 12 · Outline Outline"
    )
    assert {buy.fabric.name for buy in pattern.shopping.cloth} >= {"Background Background", "Backing Backing"}
    widest = max(label_width(line, 0.115) for label in (letter, outline) for line in label.lines[1:])
    assert 1 < widest <= 1.8


@pytest.mark.parametrize("outline", ["0in", "1/4in"])
def test_a_label_is_never_wider_than_its_bound_whatever_names_it_carries(outline: str) -> None:
    names = ["Batik with small white stars on it", "Extraordinarilylongnameofafabricinoneword", "Ink"]
    pattern = draft(
        design_from_mapping(
            {
                "row": [{"text": "extraordinary", "fabric": name} for name in names] * 4,
                "lettering": {"font": "Fredoka", "cap_height": "1/2in", "outline": outline, "row_gap": "1in"},
                "panel": {"width": "60in", "height": "60in"},
                "fabric": [{"name": name, "color": "#203040"} for name in names],
                "outline": {"around": "words", "fabric": "Ink"},
            }
        )
    )
    labels = _labels(pattern)
    assert all(label.box[2] - label.box[0] <= 1.8 + 1e-9 for label in labels)
    words = [" ".join(label.lines) for label in labels]
    assert any("cut 4 · Batik with small white stars on it" in text for text in words)
    assert any(" · Extraordinarilylong" in text and "…" in text for text in words)
    assert any(text.split(" · ")[1].startswith("extra") for text in words) is (outline != "0in")


def test_a_label_of_many_fabrics_is_not_taller_than_its_bound() -> None:
    names = [f"Blue {number}" for number in range(1, 21)]
    pattern = draft(
        design_from_mapping(
            {
                "row": [{"text": "o", "fabric": name} for name in names],
                "lettering": {"font": "Fredoka", "cap_height": "1in"},
                "panel": {"width": "20in", "height": "60in"},
                "fabric": [{"name": name, "color": "#203040"} for name in names],
            }
        )
    )
    (label,) = _labels(pattern)
    assert len(label.lines) == 10
    assert label.lines[-2:] == ("the rest: see instructions", "in 20 rows")


def test_a_letter_larger_than_a_page_is_tiled_and_the_others_are_not() -> None:
    pattern = _pattern("Q", "row", lettering={"cap_height": "3in"})
    assert not pattern.sheets.tiled
    large = draft(
        design_from_mapping(
            {
                "row": [{"text": "Q", "cap_height": "30in"}, {"text": "row", "cap_height": "3in"}],
                "panel": {"width": "60in", "height": "60in"},
                "lettering": {"font": "Fredoka"},
            }
        )
    )
    (tiled,) = large.sheets.tiled
    assert large.template(tiled.template).text == "Q"
    assert tiled.tiling.tiles[0].name == "A-1"
    assert large.sheets.page_count == len(large.sheets.pages) + len(tiled.tiling.tiles)


def test_pages_beyond_sense_are_refused() -> None:
    with pytest.raises(Refusal, match="pages"):
        _pattern("I", lettering={"cap_height": "90m"}, panel={"width": "100m", "height": "100m"})


def test_more_pages_than_anybody_prints_are_refused_with_their_number() -> None:
    data = {
        "row": [{"text": "ABCDEFGHIJ" * 20}] * 30,
        "panel": {"width": "90m", "height": "50m"},
        "backing": {"kind": "wide", "wide_width": "90m"},
        "lettering": {"cap_height": "6in"},
        "paper": {"copies": "each"},
    }
    with pytest.raises(Refusal, match=r"the templates take about [2-4],\d\d\d pages; 2,000 are the most"):
        draft(design_from_mapping(data))


def test_the_number_of_pages_that_is_judged_is_near_the_number_laid_out() -> None:
    """Shelves of boxes against nested shapes: what is refused must not be far from what it would have been."""
    data = {
        "row": [{"text": "QUILTING BEE"}] * 4,
        "panel": {"width": "3m", "height": "2m"},
        "lettering": {"cap_height": "5in"},
        "paper": {"copies": "each"},
    }
    design = design_from_mapping(data)
    pages = draft(design).sheets.page_count
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(packing, "MOST_PAGES", 1)
        with pytest.raises(Refusal) as refused:
            draft(design)
    judged = int(str(refused.value.problems[0].what).split("about ")[1].split(" ")[0])
    assert 0.75 * pages <= judged <= 1.3 * pages
