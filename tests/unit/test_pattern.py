"""The pattern: the numbers of the placement guide, and the same value on every run."""

from __future__ import annotations

import json
import pickle
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from applique import pattern as pattern_room
from applique.design import Fusible, design_from_mapping
from applique.errors import Refusal
from applique.nesting import Effort, Nester
from applique.panel import on_panel
from applique.panel.placing import CutShapes
from applique.pattern import Pattern, draft, renest, sketch
from applique.pieces import Layer
from applique.reports import pattern_json
from applique.sewing import checks, holes, placed
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import shape_text
from applique.typeset.spacing import Cut
from applique.yardage import LetterNeeds, letter_needs

DATA = {
    "title": "Row",
    "row": [{"text": "ROW"}, {"text": "HOME"}],
    "lettering": {"font": "Fredoka", "cap_height": "5in"},
    "panel": {"width": "30in", "height": "40in"},
}


def _pattern(**tables: Any) -> Pattern:
    return draft(design_from_mapping({**DATA, **tables}))


def test_marks_are_measured_from_the_cut_top_edge_and_the_center_line() -> None:
    pattern = draft(design_from_mapping(DATA))
    for mark, row in zip(pattern.marks, pattern.panel.rows, strict=True):
        assert mark.baseline_from_top == pytest.approx(40.25 - row.baseline)
        assert mark.left == pytest.approx(-mark.right)
        assert mark.left == mark.letters[0].left
        assert [letter.text for letter in mark.letters] == list(row.text)
        for letter, cut in zip(mark.letters, row.cuts, strict=True):
            assert letter.left + 15 == pytest.approx(cut.ink[0])


def test_repeated_letters_are_counted_not_repeated() -> None:
    pattern = draft(design_from_mapping(DATA))
    assert "".join(template.text for template in pattern.templates) == "ROWHME"
    assert {template.text: template.count for template in pattern.templates}["O"] == 2
    assert pattern.letter_count == 7


def test_the_same_design_gives_the_same_pattern() -> None:
    first, second = (draft(design_from_mapping(DATA)) for _ in range(2))
    assert first.fusible == second.fusible
    assert first.sheets == second.sheets
    assert first.marks == second.marks


def test_a_poem_without_a_title_gets_a_short_one() -> None:
    """Its whole text as a title made the headers of its pages slower than all the rest."""
    lines = [{"text": "the river has time and so have we", "cap_height": "1/2in"}] * 20
    tables = {"row": lines, "lettering": {"row_gap": "0in"}, "panel": {"width": "40in", "height": "60in"}}
    title = draft(design_from_mapping(tables)).title
    assert title == "the river has time and so have we the river has time and so …"


def test_a_title_is_made_of_the_words_where_none_is_given() -> None:
    assert draft(design_from_mapping({**DATA, "title": ""})).title == "ROW HOME"


def test_a_notebook_shows_the_drawing() -> None:
    pattern = draft(design_from_mapping({"row": [{"text": "A"}]}))
    assert pattern._repr_svg_().startswith("<?xml")
    assert "<svg" in pattern._repr_svg_()


def test_a_million_letters_are_refused_before_any_work() -> None:
    with pytest.raises(Refusal, match="1,000,000 letters; 10,000 are the most"):
        design_from_mapping({"row": [{"text": "A" * 2_000}] * 500})


def test_a_letter_is_one_template_whatever_stands_beside_it() -> None:
    """Kerning of a font written from right to left moves the glyph too; every neighbor made a template of its own."""
    lines = [{"text": "שלום לאור עולם"}, {"text": "אל כל גל"}]
    pattern = _pattern(row=lines, lettering={"font": "Rubik", "cap_height": "2in"}, panel={"width": "60in"})
    texts = [template.text for template in pattern.templates]
    assert sorted(texts) == sorted({sign for line in lines for sign in line["text"] if sign != " "})
    assert {t.text: t.count for t in pattern.templates}["ל"] == 6
    for row in pattern.panel.rows:
        for cut in row.cuts:
            assert on_panel(cut).bounds == pytest.approx(cut.ink, abs=1e-3)


def test_two_glyphs_of_one_name_and_drawing_are_one_shape(dejavu_bold: str) -> None:
    """DejaVu draws Latin A and Greek Alpha alike: alternates of one letter, as some fonts have, come out like this."""
    typeface = open_typeface(dejavu_bold)
    shapes = CutShapes()

    def key(text: str, drawn: str) -> str:
        (letter,) = shape_text(drawn, typeface)
        cut = Cut(text=text, letters=(1,), glyphs=letter.glyphs, x_fu=0.0, word=0)
        return shapes.sized(typeface, cut, 0.002)[0]

    assert key("A", "A") == key("A", "Α")
    assert key("A", "A") != key("A", "B")
    assert key("A", "A") != key("Α", "Α")


def test_a_word_that_comes_again_has_one_outline_behind_it() -> None:
    pattern = _pattern(
        row=[{"text": "row on"}, {"text": "on row row"}], panel={"width": "60in"},
        lettering={"font": "Fredoka", "cap_height": "2in", "outline": "1/4in"}, outline={"around": "words"},
    )  # fmt: skip
    behind = {t.text: t.count for t in pattern.templates if t.layer is Layer.OUTLINE}
    assert behind == {"row": 3, "on": 2}
    assert sum(t.layer is Layer.OUTLINE for t in pattern.templates) == 2


def test_nests_name_the_templates_that_they_lay() -> None:
    pattern = _pattern()
    data = json.loads(pattern_json(pattern))
    counts = {t["number"]: sum(use["count"] for use in t["uses"]) for t in data["templates"]}
    assert Counter(spot["template"] for spot in data["fusible"]["nest"]) == counts


OUTLINED: dict[str, Any] = {
    **DATA,
    "lettering": {"font": "Fredoka", "cap_height": "5in", "outline": "1/4in"},
    "fabric": [{"name": "Oat", "color": "#e0d6c0"}],
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Oat"]}],
    "paper": {"full_size_nest": True, "full_size_guide": True},
}


def _watched(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often each of the works that a sketch is made of gets done from now on."""
    done: Counter[str] = Counter()
    for room, work in ((placed, "place_rows"), (placed, "edge_stitches"), (holes, "lay_outlines"),
                       (pattern_room, "plan_quilt"), (checks, "_close_letters")):  # fmt: skip
        real = getattr(room, work)

        def counted(*given: Any, work: str = work, real: Any = real, **named: Any) -> Any:
            done[work] += 1
            return real(*given, **named)

        monkeypatch.setattr(room, work, counted)
    return done


def test_nothing_of_a_sketch_is_worked_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    design = design_from_mapping(OUTLINED)
    whole = pattern_json(draft(design))
    done = _watched(monkeypatch)
    drawn = sketch(design)
    assert done == {"place_rows": 1, "edge_stitches": 1, "lay_outlines": 1, "plan_quilt": 1}
    pattern = draft(drawn)
    assert done == {**dict.fromkeys(done, 1), "_close_letters": len(design.row)}
    assert pattern.sketch is drawn
    assert pattern_json(pattern) == whole


def test_a_sketch_that_comes_from_another_process_goes_on_alike() -> None:
    drawn = sketch(design_from_mapping(OUTLINED))
    assert pattern_json(draft(pickle.loads(pickle.dumps(drawn)))) == pattern_json(draft(drawn))


def test_a_pattern_that_is_nested_anew_is_the_one_drafted_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only what hangs on the nests is worked out again. For a nester that finds others, one that lays far apart."""
    real = letter_needs

    def needs(*given: Any, fusible: Fusible, nester: Nester, **named: Any) -> LetterNeeds:
        wide = replace(fusible, spacing=Fraction(4)) if nester.effort is Effort.NORMAL else fusible
        return real(*given, fusible=wide, nester=Nester(), **named)

    monkeypatch.setattr(pattern_room, "letter_needs", needs)
    quick = draft(design_from_mapping(OUTLINED))
    other = draft(quick.sketch, nester=Nester(effort=Effort.NORMAL))
    done = _watched(monkeypatch)
    again = renest(quick, nester=Nester(effort=Effort.NORMAL))
    assert not done
    assert again.needs == other.needs != quick.needs
    assert again.shopping == other.shopping != quick.shopping
    assert again.trace == other.trace != quick.trace
    assert pattern_json(again) == pattern_json(other)


def test_what_is_wrong_around_the_panel_and_on_the_pages_is_said_together() -> None:
    design = design_from_mapping(
        {
            "row": [{"text": "O"}],
            "lettering": {"cap_height": "400in"},
            "panel": {"width": "600in", "height": "600in"},
            "border": [{"kind": "squares", "size": "7in", "fabrics": ["A", "B"]}],
            "fabric": [{"name": "A", "color": "#000000"}, {"name": "B", "color": "#ffffff"}],
        }
    )
    with pytest.raises(Refusal) as refused:
        draft(design)
    assert [str(problem.where) for problem in refused.value.problems] == ["border 1", "[paper]"]
